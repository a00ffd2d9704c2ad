//! The headers each meaning is known by.

use super::Meaning;

/// Meaning, its key in files, and the headers it is known by, separated by commas, most telling
/// first. Headers stand in the normal form of [`super::normal_header`].
pub(super) const SYNONYMS: [(Meaning, &str, &str); 21] = [
    (
        Meaning::Site,
        "site",
        "site, site id, siteid, site code, site no, site number, site num, sampling point, \
         sample point, sampling site, sample site, sampling point id, point, point id, \
         pointid, point no, point number, point num, pt, pt id, ptid, pt no, pt num, point \
         code, point name, gps point, waypoint, way point, waypoint no, wpt, wypt, station, station id, station no, sites, \
         points, site name, sample id, sampleid, plot, plot id, plot no, plot number, quadrat, \
         quadrat id, quadrat no, sample, sample no, sample number",
    ),
    (
        Meaning::Date,
        "date",
        "date, survey date, sample date, sampledate, sampling date, visit date, date sampled, \
         date of survey",
    ),
    (Meaning::Time, "time", "time, time of day, visit time, sample time, start time, clock"),
    (
        Meaning::Latitude,
        "latitude",
        "latitude, lat, gps latitude, gps lat, point latitude, actual latitude",
    ),
    (
        Meaning::Longitude,
        "longitude",
        "longitude, lon, long, lng, gps longitude, gps lon, gps long, point longitude, actual \
         longitude",
    ),
    (
        Meaning::X,
        "x",
        "x, easting, east, utm x, utm easting, utm e, x coord, x coordinate, xcoord, point x, \
         x utm",
    ),
    (
        Meaning::Y,
        "y",
        "y, northing, north, utm y, utm northing, utm n, y coord, y coordinate, ycoord, point \
         y, y utm",
    ),
    (
        Meaning::Depth,
        "depth",
        "depth, water depth, depth of water, site depth, sample depth, depth at site, \
         sounding, sounding depth, total depth",
    ),
    (
        Meaning::Sediment,
        "sediment",
        "sediment, sediment type, dominant sediment type, dominant sediment, substrate, \
         substrate type, dominant substrate, bottom, bottom type, bottom substrate, bottom \
         sediment",
    ),
    (
        Meaning::Outcome,
        "outcome",
        "outcome, visit outcome, site outcome, reason, not sampled, reason not sampled, not \
         sampled reason, non sampled reason, why not sampled, site status, status",
    ),
    (
        Meaning::TotalRating,
        "total_rating",
        "total rating, total rake rating, total rake fullness, total rake, overall rating, \
         overall rake fullness, total rake fullness rating, total density, total abundance, \
         rake fullness total, rake fullness, rake fullness rating, rake total, rake",
    ),
    (
        Meaning::Throw,
        "throw",
        "throw, throw no, throw number, rake throw, toss, toss no, rake toss, rep, replicate",
    ),
    (
        Meaning::Taxon,
        "taxon",
        "taxon, species, scientific name, taxon name, species name, plant species, taxon \
         code, species code, common name, plant, plant name, taxa, code",
    ),
    (
        Meaning::Rating,
        "rating",
        "rating, species rating, taxon rating, rake rating, density, density rating, rake \
         density, abundance, abundance rating, score, dominance, cover class, cover, rake \
         score",
    ),
    (Meaning::HowSeen, "how_seen", "how seen, how found, seen, visual, found by, observed by eye"),
    (Meaning::Comment, "comment", "comment, comments, note, notes, remark, remarks"),
    (Meaning::Landmark, "landmark", "landmark, landmarks, nearest landmark"),
    (Meaning::Zone, "zone", "zone, zone id, zone code, zone name, sub area, subarea, section"),
    (
        Meaning::Crew,
        "crew",
        "crew, observer, observers, surveyor, surveyors, recorder, sampled by, sampler, \
         samplers, recorded by, identified by",
    ),
    (
        Meaning::SpeciesTotal,
        "species_total",
        "total species, species total, species count, number of species, species richness, \
         richness, total number of species, n species, no of species, num species",
    ),
    (
        Meaning::SpeciesNative,
        "species_native",
        "native species, total native species, total natives, number of native species, \
         natives, native species count, total species no exotics, total species vegetated \
         sites no exotics, species no exotics",
    ),
];

/// Words in English names of water plants.
pub(super) const PLANT_WORDS: &str = "algae alga arrowhead bladderwort bulrush burreed buttercup cattail celery chara \
    coontail crowfoot duckweed eelgrass elodea fanwort frogbit hornwort hydrilla lily \
    lotus milfoil moss muskgrass naiad nitella pickerelweed pondweed quillwort rush \
    spatterdock spikerush starwort stargrass stonewort waterlily watermeal watermilfoil \
    watershield waterweed weed wort mannagrass cress";

/// A header with one of these is a measurement of plants, not the name of one.
pub(super) const MEASURE_WORDS: &str =
    "wt weight mass biomass count total height health percent pct wet dry";
