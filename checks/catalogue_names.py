"""What catalogue.py adds to the plant list by hand: all of it from memory, and marked so.

Old names, taxa the list lacks, common names of genera, origins that differ by region, and notes
for the person who holds the plant.
"""

# Old names, and other spellings and ranks of one plant. A name that has meant two plants of the
# list (Nuphar lutea, Scirpus americanus) is left out: a wrong match is worse than none.
OLD_NAMES = {
    "Alternanthera philoxeroides": ["Achyranthes philoxeroides"],
    "Azolla cristata": ["Azolla caroliniana", "Azolla mexicana"],
    "Bidens beckii": ["Megalodonta beckii"],
    "Bolboschoenus fluviatilis": ["Scirpus fluviatilis", "Schoenoplectus fluviatilis"],
    "Callitriche hermaphroditica": ["Callitriche autumnalis"],
    "Callitriche palustris": ["Callitriche verna"],
    "Ceratophyllum echinatum": ["Ceratophyllum demersum var. echinatum"],
    "Cladium mariscoides": ["Mariscus mariscoides"],
    "Comarum palustre": ["Potentilla palustris"],
    "Egeria densa": ["Elodea densa", "Anacharis densa"],
    "Eichhornia crassipes": ["Pontederia crassipes"],
    "Eleocharis palustris": ["Eleocharis smallii"],
    "Elodea canadensis": ["Anacharis canadensis"],
    "Elodea nuttallii": ["Anacharis nuttallii"],
    "Equisetum fluviatile": ["Equisetum limosum"],
    "Eriocaulon aquaticum": ["Eriocaulon septangulare"],
    "Gratiola aurea": ["Gratiola lutea"],
    "Heteranthera dubia": ["Zosterella dubia"],
    "Isoetes echinospora": ["Isoetes muricata", "Isoetes braunii"],
    "Isoetes lacustris": ["Isoetes macrospora"],
    "Landoltia punctata": ["Spirodela punctata", "Spirodela oligorrhiza"],
    "Limnobium laevigatum": ["Hydrocharis laevigata"],
    "Limnobium spongia": ["Hydrocharis spongia"],
    "Littorella uniflora": ["Littorella americana"],
    "Ludwigia hexapetala": ["Ludwigia grandiflora subsp. hexapetala"],
    "Ludwigia peploides": ["Jussiaea peploides"],
    "Myosotis scorpioides": ["Myosotis palustris"],
    "Myriophyllum aquaticum": ["Myriophyllum brasiliense", "Myriophyllum proserpinacoides"],
    "Myriophyllum sibiricum": [
        "Myriophyllum exalbescens",
        "Myriophyllum spicatum var. exalbescens",
    ],
    "Myriophyllum spicatum × sibiricum": [
        "Myriophyllum spicatum × Myriophyllum sibiricum",
        "Myriophyllum sibiricum × spicatum",
        "Myriophyllum sibiricum × Myriophyllum spicatum",
    ],
    "Najas flexilis": ["Caulinia flexilis"],
    "Najas minor": ["Caulinia minor"],
    "Nasturtium officinale": ["Rorippa nasturtium-aquaticum"],
    "Nelumbo lutea": ["Nelumbo pentapetala"],
    "Nuphar advena": ["Nuphar lutea subsp. advena"],
    "Nuphar microphylla": ["Nuphar lutea subsp. pumila"],
    "Nuphar polysepala": ["Nuphar lutea subsp. polysepala"],
    "Nuphar variegata": ["Nuphar lutea subsp. variegata"],
    "Nymphaea odorata": ["Nymphaea tuberosa"],
    "Persicaria amphibia": [
        "Polygonum amphibium",
        "Polygonum natans",
        "Polygonum coccineum",
    ],
    "Phalaris arundinacea": ["Phalaroides arundinacea"],
    "Phragmites australis": ["Phragmites communis"],
    "Phragmites australis subsp. americanus": ["Phragmites americanus"],
    "Potamogeton alpinus": ["Potamogeton tenuifolius"],
    "Potamogeton bicupulatus": ["Potamogeton diversifolius var. trichophyllus"],
    "Potamogeton nodosus": ["Potamogeton americanus"],
    "Potamogeton pusillus": ["Potamogeton panormitanus"],
    "Potamogeton richardsonii": [
        "Potamogeton perfoliatus var. richardsonii",
        "Potamogeton perfoliatus subsp. richardsonii",
    ],
    "Ranunculus aquatilis": ["Ranunculus aquatilis var. diffusus", "Ranunculus trichophyllus"],
    "Ranunculus flammula": ["Ranunculus reptans", "Ranunculus flammula var. reptans"],
    "Ricciocarpos natans": ["Ricciocarpus natans"],
    "Ruppia cirrhosa": ["Ruppia occidentalis"],
    "Sagittaria cristata": ["Sagittaria graminea var. cristata"],
    "Salvinia minima": ["Salvinia rotundifolia"],
    "Schoenoplectus acutus": ["Scirpus acutus"],
    "Schoenoplectus pungens": ["Scirpus pungens"],
    "Schoenoplectus subterminalis": ["Scirpus subterminalis"],
    "Schoenoplectus tabernaemontani": [
        "Scirpus validus",
        "Scirpus tabernaemontani",
        "Schoenoplectus validus",
    ],
    "Schoenoplectus torreyi": ["Scirpus torreyi"],
    "Sparganium emersum": ["Sparganium chlorocarpum"],
    "Sparganium natans": ["Sparganium minimum"],
    "Spirodela polyrhiza": ["Spirodela polyrrhiza", "Lemna polyrhiza"],
    "Stuckenia filiformis": ["Potamogeton filiformis", "Coleogeton filiformis"],
    "Stuckenia pectinata": ["Potamogeton pectinatus", "Coleogeton pectinatus"],
    "Stuckenia vaginata": ["Potamogeton vaginatus", "Coleogeton vaginatus"],
    "Typha × glauca": ["Typha glauca", "Typha angustifolia × latifolia"],
    "Utricularia gibba": ["Utricularia biflora"],
    "Utricularia vulgaris": [
        "Utricularia macrorhiza",
        "Utricularia vulgaris subsp. macrorhiza",
    ],
    "Wolffia borealis": ["Wolffia punctata"],
    "Zizania palustris": ["Zizania aquatica var. angustifolia"],
}

# Taxa the plant list lacks: scientific name, common names, family, forms, rank, origin.
ADDED = [
    ("Bolboschoenus fluviatilis", ["river bulrush"], "Cyperaceae", "emergent", "species", "native"),
    ("Hydrocotyle ranunculoides", ["floating pennywort"], "Araliaceae", "floating-leaf/emergent",
     "species", "native"),
    ("Lagarosiphon major", ["African oxygen-weed"], "Hydrocharitaceae", "submersed", "species",
     "introduced (federal noxious weed)"),
    ("Limnobium laevigatum", ["South American spongeplant"], "Hydrocharitaceae", "free-floating",
     "species", "introduced"),
    ("Ludwigia palustris", ["marsh purslane"], "Onagraceae", "submersed/emergent", "species",
     "native"),
    ("Myriophyllum humile", ["low watermilfoil"], "Haloragaceae", "submersed", "species", "native"),
    ("Nuphar polysepala", ["Rocky Mountain pond-lily"], "Nymphaeaceae", "floating-leaf", "species",
     "native"),
    ("Phragmites australis", ["common reed"], "Poaceae", "emergent", "aggregate",
     "differs between the subspecies"),
    ("Potamogeton hillii", ["Hill's pondweed"], "Potamogetonaceae", "submersed", "species",
     "native"),
    ("Potamogeton pulcher", ["spotted pondweed"], "Potamogetonaceae", "submersed/floating-leaf",
     "species", "native"),
    ("Ruppia maritima", ["widgeon-grass"], "Ruppiaceae", "submersed", "species", "native"),
    ("Sagittaria cuneata", ["arum-leaved arrowhead"], "Alismataceae", "emergent/submersed",
     "species", "native"),
    ("Schoenoplectus torreyi", ["Torrey's bulrush"], "Cyperaceae", "emergent", "species", "native"),
    ("Sparganium americanum", ["American bur-reed"], "Typhaceae", "emergent", "species", "native"),
    ("Sparganium natans", ["small bur-reed"], "Typhaceae", "floating-leaf", "species", "native"),
    ("Typha × glauca", ["hybrid cattail"], "Typhaceae", "emergent", "hybrid", "introduced"),
    ("Utricularia cornuta", ["horned bladderwort"], "Lentibulariaceae", "emergent", "species",
     "native"),
    ("Utricularia radiata", ["little floating bladderwort"], "Lentibulariaceae",
     "free-floating/submersed", "species", "native"),
    ("Vallisneria australis", ["ribbonweed"], "Hydrocharitaceae", "submersed", "species",
     "introduced"),
    ("Wolffia brasiliensis", ["spotted watermeal"], "Araceae", "free-floating", "species",
     "native"),
]

# Common names that need more than splitting; the first is the one printed and is unique.
COMMON_NAMES = {
    "Myriophyllum spicatum": ["Eurasian watermilfoil", "Eurasian milfoil"],
    "Potamogeton crispus": ["curly-leaf pondweed", "curly pondweed"],
    "Potamogeton perfoliatus": ["perfoliate pondweed", "clasping-leaf pondweed"],
    "Potamogeton richardsonii": ["Richardson's pondweed", "clasping-leaf pondweed"],
    "Filamentous algae": ["filamentous algae", "Spirogyra", "Cladophora", "Pithophora"],
    "Aquatic moss": ["aquatic moss", "water moss", "Fontinalis", "Drepanocladus"],
}

# Common names of genera, for plants told no further.
GENERA = {
    "Bidens": "beggarticks",
    "Callitriche": "water-starwort",
    "Carex": "sedge",
    "Ceratophyllum": "hornwort",
    "Eleocharis": "spikerush",
    "Elodea": "waterweed",
    "Equisetum": "horsetail",
    "Iris": "iris",
    "Isoetes": "quillwort",
    "Juncus": "rush",
    "Lemna": "duckweed",
    "Ludwigia": "primrose-willow",
    "Myriophyllum": "watermilfoil",
    "Najas": "naiad",
    "Nuphar": "pond-lily",
    "Nymphaea": "water-lily",
    "Nymphoides": "floating-heart",
    "Phragmites": "reed",
    "Potamogeton": "pondweed",
    "Ranunculus": "water crowfoot",
    "Sagittaria": "arrowhead",
    "Salvinia": "salvinia",
    "Schoenoplectus": "bulrush",
    "Sparganium": "bur-reed",
    "Stuckenia": "narrow-leaved pondweed",
    "Typha": "cattail",
    "Utricularia": "bladderwort",
    "Wolffia": "watermeal",
    "Zizania": "wild rice",
}

# Genera that reach far beyond the water plants of the list.
GENUS_FORMS = {
    "Bidens": ["emergent"],
    "Equisetum": ["emergent"],
    "Gratiola": ["emergent", "submersed"],
    "Juncus": ["emergent", "submersed"],
    "Lobelia": ["emergent", "submersed"],
    "Ranunculus": ["submersed", "emergent"],
}

_NEW_ENGLAND = "CT MA ME NH RI VT"
_NORTHEAST = "CT MA ME NH NJ NY PA RI VT"
_UPPER_MIDWEST = "IA IL IN MI MN OH WI"
_NORTHWEST = "OR WA"
_SOUTHEAST = "AL AR FL GA LA MS NC SC TN TX VA"
_SOUTH = "AL AR AZ CA FL GA LA MS NC NM OK SC TN TX VA"

# Origin that depends on the place: what holds where no state says otherwise, then the states.
DIFFERS = {
    "Cabomba caroliniana": ("introduced", {"native": _SOUTHEAST}),
    "Limnobium spongia": ("unknown", {"native": _SOUTHEAST + " DE IL IN KY MD MO NJ NY"}),
    "Ludwigia peploides": ("introduced", {"native": _SOUTH}),
    "Myriophyllum heterophyllum": (
        "native", {"introduced": _NEW_ENGLAND + " " + _NORTHWEST}),
    "Najas marina": (
        "unknown", {"introduced": _UPPER_MIDWEST + " " + _NORTHEAST, "native": "AZ CA FL NM NV TX"}),
    "Nuphar polysepala": (
        "unknown", {"native": "AK CA CO ID MT NV OR UT WA WY"}),
    "Nymphaea odorata": ("native", {"introduced": "CA ID OR WA"}),
    "Nymphoides cordata": (
        "unknown", {"native": _NORTHEAST + " AL DE FL GA LA MD MS NC SC TN VA"}),
    "Phragmites australis": ("unknown", {}),
    "Pistia stratiotes": ("introduced", {}),
    "Potamogeton perfoliatus": (
        "unknown", {"native": _NORTHEAST + " DE FL LA MD MI NC OH VA WI"}),
    "Typha angustifolia": ("unknown", {"introduced": _UPPER_MIDWEST}),
    "Utricularia inflata": (
        "unknown", {"native": _SOUTHEAST, "introduced": _NEW_ENGLAND + " NY " + _NORTHWEST}),
}

# Notes for the person with the plant in hand.
NOTES = {
    "Brasenia schreberi": "underside of the leaf slimy",
    "Ceratophyllum demersum": "rootless; can form dense beds",
    "Chara": "record the genus; smell and grit help",
    "Elodea nuttallii": "hard to tell from Elodea canadensis",
    "Filamentous algae": "rate apart; not counted among the plants",
    "Hydrilla verticillata": "look for tubers; whorls of 4 to 8 toothed leaves",
    "Juncus pelocarpus": "a submersed form grows in soft-water lakes",
    "Limnobium spongia": "easily taken for European frogbit",
    "Myriophyllum sibiricum": "5 to 10 pairs of leaflets",
    "Myriophyllum spicatum": "commonly 12 or more pairs of leaflets; crosses with the northern watermilfoil",
    "Myriophyllum spicatum × sibiricum": "certain only by a genetic test",
    "Najas flexilis": "annual; early surveys miss it",
    "Nelumbo lutea": "protected in some states",
    "Nitellopsis obtusa": "star-shaped bulbils",
    "Nuphar microphylla": "hybrids with Nuphar variegata occur",
    "Phragmites australis subsp. americanus": "tell from the introduced subspecies before any control",
    "Potamogeton crispus": "dies back in mid-summer; survey in May or June",
    "Potamogeton foliosus": "often lumped with Potamogeton pusillus",
    "Potamogeton vaseyi": "listed as rare in places; keep its location out of public output",
    "Ranunculus longirostris": "often included in Ranunculus aquatilis",
    "Schoenoplectus subterminalis": "grass-like beds deep in marl lakes",
    "Stratiotes aloides": "leaves stiff with sharp saw teeth",
    "Trapa natans": "nuts with sharp spines",
    "Typha angustifolia": "crosses with Typha latifolia; the hybrid is common",
    "Zizania palustris": "of cultural importance; keep clear of the harvest season",
}
