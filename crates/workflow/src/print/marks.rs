//! Marks to know plants by, for cards. All from memory, in our own words: cards say so, and a flora or an
//! expert has the last word. The user's own text for a plant takes their place.

/// What a card says of a plant.
pub(super) struct Marks {
    /// Scientific name, or the genus for whatever is named to the genus.
    name: &'static str,
    /// Marks to know it by.
    pub(super) known_by: &'static [&'static str],
    /// What it is taken for, and how to tell.
    pub(super) lookalikes: &'static [&'static str],
    /// What it is good for; empty for the introduced.
    pub(super) good: &'static str,
}

const fn plant(
    name: &'static str,
    known_by: &'static [&'static str],
    lookalikes: &'static [&'static str],
    good: &'static str,
) -> Marks {
    Marks { name, known_by, lookalikes, good }
}

/// The marks of a plant: by its name, else by its genus where the table has one for the genus.
pub(super) fn marks_of(scientific: &str) -> Option<&'static Marks> {
    let name = scientific.trim().trim_end_matches(" spp.").trim_end_matches(" sp.").trim();
    let exact = MARKS.iter().find(|one| one.name.eq_ignore_ascii_case(name));
    exact.or_else(|| {
        let genus = name.split_whitespace().next()?;
        MARKS.iter().find(|one| one.name.eq_ignore_ascii_case(genus))
    })
}

const MARKS: &[Marks] = &[
    plant(
        "Ceratophyllum demersum",
        &[
            "Whorls of stiff leaves that fork once or twice, toothed on one edge: rough to the fingers.",
            "No roots. Leaves crowd toward the tip like the tail of a raccoon.",
        ],
        &[
            "Watermilfoils: their leaves are feathers, not forks.",
            "Muskgrass: smells of garlic or skunk, gritty.",
        ],
        "Shelter for young fish; takes up nutrients all year.",
    ),
    plant(
        "Elodea canadensis",
        &[
            "Leaves in threes on the stem, smooth to the fingers, thumbnail-long or less.",
            "Stems branch and break easily.",
        ],
        &[
            "Hydrilla: four to eight leaves a whorl, teeth to be felt, a rough midrib, tubers in the mud.",
            "Brazilian waterweed: larger, four or five leaves a whorl.",
        ],
        "Oxygen and cover, also under the ice.",
    ),
    plant(
        "Elodea nuttallii",
        &["Leaves in threes, narrower and paler than common waterweed, often curled."],
        &[
            "Common waterweed: leaves broader and blunter. Hydrilla: four to eight toothed leaves a whorl.",
        ],
        "Cover for small animals.",
    ),
    plant(
        "Vallisneria americana",
        &[
            "Ribbons from one rosette at the bottom, with a paler stripe down the middle.",
            "Flowers at the end of a coiled thread.",
        ],
        &["Bur-reeds and ribbon-leaf plants: no pale stripe, leaf keeled or flat throughout."],
        "First food of canvasback ducks; holds the bottom.",
    ),
    plant(
        "Hydrilla verticillata",
        &[
            "Whorls of four to eight leaves with teeth that can be seen and felt.",
            "Often a rough midrib; small white-to-brown tubers in the mud.",
        ],
        &[
            "Common waterweed: three smooth leaves a whorl.",
            "Brazilian waterweed: larger leaves, no tubers.",
        ],
        "",
    ),
    plant(
        "Egeria densa",
        &["Whorls of four or five leaves, an inch long, finely toothed; stems thick and leafy."],
        &["Common waterweed: threes, smaller. Hydrilla: rough midrib, tubers."],
        "",
    ),
    plant(
        "Najas flexilis",
        &[
            "Slender leaves in pairs or bunches, broad at the base and tapering to a long point.",
            "Teeth too fine to feel. An annual: late to show.",
        ],
        &[
            "Brittle naiad: leaves curve back, teeth to be seen with the bare eye, bases cut square and fringed.",
        ],
        "Seeds, leaves and stems are eaten by waterfowl.",
    ),
    plant(
        "Najas guadalupensis",
        &["Like slender naiad, with blunter, more even leaves and a bushier stem."],
        &["Slender naiad: long tapering tips. Brittle naiad: curved, toothed leaves."],
        "Food and cover.",
    ),
    plant(
        "Najas minor",
        &[
            "Stiff leaves that curve back, with teeth to be seen.",
            "Stems snap; tips look like small brushes.",
        ],
        &["Slender naiad: soft, straight leaves without teeth to be seen."],
        "",
    ),
    plant(
        "Najas marina",
        &["Coarse teeth like a saw on leaf and often on stem: prickly."],
        &["Other naiads: teeth fine or not to be seen."],
        "",
    ),
    plant(
        "Myriophyllum spicatum",
        &[
            "Feather leaves in whorls of four, commonly twelve or more pairs of leaflets.",
            "Goes limp out of water; tip often square as if cut; stem reddish near the top.",
        ],
        &[
            "Northern watermilfoil: five to ten pairs, stays stiff out of water.",
            "Coontail: forked leaves. The hybrid cannot be told without a laboratory.",
        ],
        "",
    ),
    plant(
        "Myriophyllum sibiricum",
        &[
            "Feather leaves in whorls of four, five to ten pairs of leaflets, the lower ones longest.",
            "Stays stiff out of water; winter buds dark and tight.",
        ],
        &["Eurasian watermilfoil: twelve pairs or more, limp out of water; hybrids lie between."],
        "Cover for invertebrates and fish.",
    ),
    plant(
        "Myriophyllum heterophyllum",
        &[
            "Thick red-brown stem packed with fine feather leaves, four to six a whorl.",
            "Spike above the water has whole, toothed bracts.",
        ],
        &["Other watermilfoils: thinner stems, whorls farther apart."],
        "",
    ),
    plant(
        "Myriophyllum",
        &[
            "Feather leaves in whorls: count the pairs of leaflets on a leaf from the middle of the stem.",
        ],
        &["Coontail: leaves fork. Bladderworts: bladders on the leaves."],
        "",
    ),
    plant(
        "Potamogeton crispus",
        &[
            "Leaves wavy like lasagne, finely toothed, with a rounded tip.",
            "Stem flattened. Comes early, dies back by midsummer; hard, cone-like turions.",
        ],
        &[
            "Clasping-leaf pondweed: base wraps the stem, no teeth. White-stem pondweed: tip like the bow of a boat.",
        ],
        "",
    ),
    plant(
        "Potamogeton amplifolius",
        &[
            "Large, broad, folded leaves, arched like a banana, many veins.",
            "Often oval floating leaves on long stalks.",
        ],
        &["Illinois pondweed: smaller leaves, not folded and arched."],
        "Known to anglers as cabbage: cover for large fish.",
    ),
    plant(
        "Potamogeton praelongus",
        &[
            "Long leaves with a tip like the bow of a boat that splits when pressed.",
            "Stem pale, zigzag; bases wrap the stem half way.",
        ],
        &["Clasping-leaf pondweed: wavy leaves, flat tip, wraps more of the stem."],
        "A sign of clear, cool water.",
    ),
    plant(
        "Potamogeton richardsonii",
        &["Wavy, oval to lance leaves whose base wraps the stem; fibres left of the stipules."],
        &["Curly-leaf pondweed: teeth on the edge, does not wrap the stem."],
        "Food for waterfowl, home of insects.",
    ),
    plant(
        "Potamogeton robbinsii",
        &[
            "Stiff leaves in two rows, like a fern or a palm frond, finely toothed.",
            "Lies low on the bottom, dark.",
        ],
        &["Flat-stem pondweed: flat stem, leaves not in a stiff fan."],
        "Low cover that seldom troubles boats.",
    ),
    plant(
        "Potamogeton zosteriformis",
        &["Stem as flat as the leaves; ribbon leaves with many fine veins and a stiff tip."],
        &["Water stargrass: round stem, no midrib in the leaf."],
        "Food and cover.",
    ),
    plant(
        "Potamogeton illinoensis",
        &["Lance leaves with a short stalk or none, a sharp tip, many veins."],
        &["Large-leaf pondweed: much larger, folded. Variable pondweed: small, many side shoots."],
        "Food and cover.",
    ),
    plant(
        "Potamogeton gramineus",
        &[
            "Many small lance leaves on branched side shoots; oval floating leaves, not always there.",
        ],
        &["Illinois pondweed: larger, less branched."],
        "Food for waterfowl.",
    ),
    plant(
        "Potamogeton natans",
        &[
            "Oval floating leaves, heart-shaped at the base, bent at the stalk.",
            "Under water only stiff bare stalks.",
        ],
        &["Long-leaf pondweed: floating leaves taper into the stalk."],
        "Shade for fish, seeds for ducks.",
    ),
    plant(
        "Potamogeton nodosus",
        &[
            "Long elliptic floating leaves tapering at both ends on long stalks; thin long leaves under water.",
        ],
        &["Floating-leaf pondweed: heart-shaped base."],
        "Shade and seeds.",
    ),
    plant(
        "Potamogeton foliosus",
        &[
            "Threads of leaves with three to five veins, no glands; fruits with a wavy keel, few on a short stalk.",
        ],
        &[
            "Small pondweed: a pair of glands where leaf meets stem. Name narrow ones to the genus if unsure.",
        ],
        "Fruits are eaten by ducks.",
    ),
    plant(
        "Potamogeton pusillus",
        &["Thread-like leaves, often a pair of tiny glands at the base; fruits on a longer stalk."],
        &["Leafy pondweed: no glands. Name narrow ones to the genus if unsure."],
        "Food and cover.",
    ),
    plant(
        "Potamogeton epihydrus",
        &[
            "Ribbon leaves under water with a pale band along the midrib; small oval floating leaves.",
        ],
        &["Wild celery: leaves from a rosette at the bottom."],
        "Food and cover.",
    ),
    plant(
        "Stuckenia pectinata",
        &[
            "Thread leaves in fans that spread like a brush; fruits like beads on a string.",
            "Leaf comes out of a sheath along the stem.",
        ],
        &["Narrow pondweeds: no sheath joined to the leaf."],
        "Tubers and fruits: among the best of duck foods.",
    ),
    plant(
        "Heteranthera dubia",
        &["Ribbon leaves without a midrib; a yellow star of a flower at the surface."],
        &["Flat-stem pondweed: flat stem and a midrib."],
        "Cover for fish.",
    ),
    plant(
        "Chara",
        &[
            "Gritty, smells of garlic or skunk; whorls of branchlets without true leaves.",
            "An alga: no roots, no flowers.",
        ],
        &[
            "Coontail: no smell, toothed forks. Starry stonewort: long smooth branchlets, white stars in the mud.",
        ],
        "Clears the water and holds the bottom.",
    ),
    plant(
        "Nitella",
        &["Soft, clear green, without smell or grit; branchlets fork at the tip. An alga."],
        &["Muskgrass: gritty, smells. Starry stonewort: coarser, star-shaped bulbils."],
        "Clears the water.",
    ),
    plant(
        "Nitellopsis obtusa",
        &[
            "Long, uneven branchlets; slumps to a heap out of water; smooth.",
            "White star-shaped bulbils on the clear threads in the mud.",
        ],
        &["Muskgrass: gritty, smells, even whorls."],
        "",
    ),
    plant(
        "Utricularia",
        &[
            "Fine forked leaves with small bladders, green or black; floats free; yellow flowers above water.",
        ],
        &["Watermilfoils and coontail: no bladders."],
        "Catches small animals in its bladders.",
    ),
    plant(
        "Nymphaea",
        &[
            "Round floating leaves, slit to the middle, often purple beneath; stalk round with four large holes.",
            "White, many-petalled flower.",
        ],
        &[
            "Spatterdock: leaf heart-shaped, stalk ribbed or flattened. Watershield: no slit, slimy beneath.",
        ],
        "Shade for fish; keep a channel rather than clear a bed.",
    ),
    plant(
        "Nuphar",
        &[
            "Heart-shaped leaves with rounded lobes; stalk with a flat side or ribs; yellow ball of a flower.",
        ],
        &["White water-lily: round leaf with pointed lobes, white flower."],
        "Shade for fish, food for wildlife.",
    ),
    plant(
        "Brasenia schreberi",
        &["Oval floating leaves without a slit, stalk in the middle; jelly on stem and underside."],
        &["Water-lilies: slit to the stalk."],
        "Shade, food for waterfowl.",
    ),
    plant(
        "Lemna trisulca",
        &["Small forked fronds in chains under the surface, like tiny oars."],
        &["Other duckweeds: float, round."],
        "Food for ducks.",
    ),
    plant(
        "Lemna",
        &["Floating fronds the size of a match head, one root each."],
        &["Greater duckweed: larger, several roots, red beneath. Watermeal: grains without roots."],
        "Food for ducks.",
    ),
    plant(
        "Ranunculus",
        &[
            "Fine, thread-like leaves fanned from one point; stiff or limp out of water; white flowers.",
        ],
        &["Watermarigold: leaves in whorls, yellow flowers. Watermilfoils: feathers."],
        "Cover for invertebrates.",
    ),
    plant(
        "Bidens beckii",
        &["Bushy whorls of much-forked leaves without teeth; yellow daisy above water."],
        &["Coontail: toothed forks. Water crowfoot: alternate leaves."],
        "A sign of clear water.",
    ),
    plant(
        "Trapa natans",
        &[
            "Floating rosettes of toothed, three-cornered leaves with swollen stalks; nuts with four hard spines.",
        ],
        &["Water-lilies: round leaves with a slit."],
        "",
    ),
    plant(
        "Nymphoides peltata",
        &[
            "Small heart-shaped floating leaves with a wavy edge; yellow, fringed five-petalled flowers.",
        ],
        &["Spatterdock: larger leaf, ball of a flower."],
        "",
    ),
    plant(
        "Hydrocharis morsus-ranae",
        &[
            "Small heart-shaped floating leaves in rosettes, free on the water; white three-petalled flowers.",
        ],
        &["American frogbit: spongy cells under the leaf. Young water-lilies: rooted."],
        "",
    ),
    plant(
        "Cabomba caroliniana",
        &["Fans of fine forked leaves in opposite pairs, each on a short stalk."],
        &["Coontail: no stalk. Water crowfoot: alternate leaves."],
        "",
    ),
    plant(
        "Lythrum salicaria",
        &[
            "On wet shores: square stem, paired leaves, tall spikes of purple flowers in late summer.",
        ],
        &["Native loosestrifes, fireweed and blazing star: round stem or other flowers."],
        "",
    ),
    plant(
        "Butomus umbellatus",
        &["Leaves three-cornered in cut, twisted; pink umbel of three-petalled flowers."],
        &[
            "Bur-reeds and bulrushes: other flowers. In leaf it is hard to tell: wait for the flower or ask.",
        ],
        "",
    ),
    plant(
        "Zannichellia palustris",
        &["Thread leaves in pairs; fruits like small horned bananas in the leaf axils."],
        &["Narrow pondweeds: leaves alternate."],
        "Food for ducks.",
    ),
    plant(
        "Isoetes",
        &[
            "A tuft of stiff quills from the bottom, swollen at the base, where spores lie. Not a flowering plant.",
        ],
        &["Pipewort: white ringed roots. Other rosettes: flat leaves."],
        "A sign of clear, soft water.",
    ),
    plant(
        "Sagittaria",
        &[
            "Arrow-shaped leaves above water, ribbons or spoon-shaped rosettes below; white three-petalled flowers.",
        ],
        &["Pickerelweed: heart-shaped leaf, blue spike. Arrow arum: other veins."],
        "Tubers for waterfowl; guards the shore.",
    ),
    plant(
        "Pontederia cordata",
        &["Heart-shaped leaves on stout stalks at the shore; blue spike of flowers."],
        &["Arrowheads: arrow-shaped leaves, white flowers."],
        "Guards the shore; nectar for bees.",
    ),
    plant(
        "Schoenoplectus",
        &["Tall round or three-cornered stems without leaves, flowers in a cluster near the top."],
        &["Cattails: flat leaves, brown club."],
        "Breaks waves; nests and shelter.",
    ),
    plant(
        "Typha",
        &[
            "Flat, tall leaves and a brown club. Narrow-leaf and hybrid kinds have a gap between the two parts of the club.",
        ],
        &["Bur-reeds: round spiny heads."],
        "Shelter; guards the shore.",
    ),
    plant(
        "Potamogeton",
        &[
            "Alternate leaves with a midrib and a stipule at the base. Note width, tip and whether it wraps the stem.",
        ],
        &["Naiads: leaves in pairs. Stargrass: no midrib."],
        "Food and cover.",
    ),
    plant(
        "Najas",
        &["Narrow leaves in pairs or bunches, wider at the base. Look at the teeth with a lens."],
        &["Narrow pondweeds: leaves alternate."],
        "Food for waterfowl.",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_species_is_found_before_its_genus_and_a_genus_stands_for_its_species() {
        assert_eq!(marks_of("Lemna trisulca").unwrap().name, "Lemna trisulca");
        assert_eq!(marks_of("Lemna minor").unwrap().name, "Lemna");
        assert_eq!(marks_of("Chara spp.").unwrap().name, "Chara");
        assert_eq!(marks_of("Utricularia vulgaris").unwrap().name, "Utricularia");
        assert!(marks_of("Acer rubrum").is_none());
    }

    #[test]
    fn every_name_stands_once() {
        for (index, one) in MARKS.iter().enumerate() {
            assert!(MARKS[..index].iter().all(|other| other.name != one.name), "{}", one.name);
            assert!(!one.known_by.is_empty(), "{}", one.name);
        }
    }
}
