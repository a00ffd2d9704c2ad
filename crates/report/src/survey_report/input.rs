//! What a survey report is written from: figures already computed, each with its n and interval.

use crate::draw::MapData;
use jiff::civil::Date;
use units::{Celsius, Metres, SquareMetres};

/// Everything the report says.
#[derive(Debug, Clone, PartialEq)]
pub struct SurveyReport {
    /// The lake.
    pub lake: LakeFacts,
    /// The survey's name, as in "summer survey 2026".
    pub survey: String,
    /// A lasting key of the survey, for the file's identity.
    pub survey_key: String,
    /// First and last day in the field.
    pub dates: (Date, Date),
    /// The question on the cover; when empty, "What lives in …?".
    pub question: String,
    /// How it was done.
    pub method: Method,
    /// How many sites, and what became of them.
    pub counts: SiteCounts,
    /// Frequency of any plant.
    pub any_plant: AnyPlant,
    /// The deepest place with a plant.
    pub max_plant_depth: Option<Metres>,
    /// Sites at or above the maximum plant depth.
    pub littoral_sites: u64,
    /// Species per site, four kinds.
    pub species_per_site: SpeciesPerSite,
    /// Number of species.
    pub richness: Richness,
    /// Simpson's diversity 1 − Σp², none when nothing was found.
    pub simpson: Option<f64>,
    /// Floristic quality, none when no native species has a C value.
    pub floristic: Option<FloristicQuality>,
    /// The rating scale.
    pub scale: Scale,
    /// Species, the commonest first.
    pub taxa: Vec<TaxonFinding>,
    /// Sites in the order of their codes.
    pub sites: Vec<ReportSite>,
    /// Zones with their figures; may be empty.
    pub zones: Vec<ZoneFacts>,
    /// The lake, without sites: the report marks them itself.
    pub map: MapData,
    /// The days in the field.
    pub conditions: Vec<Conditions>,
    /// Who did what.
    pub crew: Vec<CrewMember>,
    /// Who named the plants and how sure that is, one or two sentences; may be empty.
    pub identification: String,
    /// What differs from the plan or limits the figures: one sentence each.
    pub cautions: Vec<String>,
    /// The seal, none for a draft.
    pub seal: Option<Seal>,
    /// Changes after the seal.
    pub amendments: Vec<Amendment>,
    /// How the species are mapped.
    pub species_maps: SpeciesMaps,
}

/// The lake in figures.
#[derive(Debug, Clone, PartialEq)]
pub struct LakeFacts {
    /// Its name.
    pub name: String,
    /// County and state, or the like; may be empty.
    pub place: String,
    /// Its area.
    pub area: SquareMetres,
    /// Its greatest depth.
    pub max_depth: Option<Metres>,
    /// Its mean depth.
    pub mean_depth: Option<Metres>,
    /// Area of the littoral zone used for planning, with its lower limit.
    pub littoral: Option<(SquareMetres, Metres)>,
    /// Area at or below each depth, from 0 down; may be empty.
    pub hypsography: Vec<(Metres, SquareMetres)>,
    /// What depths are measured from, as in "full pool, 812.4 ft"; may be empty.
    pub depth_reference: String,
    /// The coordinate system of the map, as in "NAD83 / UTM zone 16N".
    pub coordinates: String,
}

/// How the survey was done.
#[derive(Debug, Clone, PartialEq)]
pub struct Method {
    /// How sites were laid, as in "an even grid, 209 ft apart, from the shore down to 15 ft".
    pub layout: String,
    /// What was thrown, as in "a double-sided rake head on a rope"; may be empty.
    pub gear: String,
    /// Rake throws at a site.
    pub throws: u8,
    /// How several throws become one rating of the site, as in "the largest counts"; may be empty.
    pub combined: String,
    /// Further sentences.
    pub notes: Vec<String>,
}

/// What became of the sites. Visited is sampled and all not sampled together.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteCounts {
    /// In the plan.
    pub planned: u64,
    /// Visited.
    pub visited: u64,
    /// Sampled.
    pub sampled: u64,
    /// Sampled with plants.
    pub vegetated: u64,
    /// Visited but not sampled, by reason in words.
    pub not_sampled: Vec<(String, u64)>,
}

/// A proportion with everything it needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frequency {
    /// Sites with it.
    pub k: u64,
    /// Sites it is divided by.
    pub n: u64,
    /// k / n.
    pub p: f64,
    /// Standard error of p.
    pub se: f64,
    /// Lower end of the 95 % interval.
    pub low: f64,
    /// Upper end of the 95 % interval.
    pub high: f64,
}

/// A mean with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mean {
    /// The mean.
    pub mean: f64,
    /// Standard error; none for fewer than two.
    pub se: Option<f64>,
    /// Over how many.
    pub n: u64,
}

/// Frequency of any plant.
#[derive(Debug, Clone, PartialEq)]
pub struct AnyPlant {
    /// Of all sites sampled.
    pub all: Option<Frequency>,
    /// Of littoral sites.
    pub littoral: Option<Frequency>,
}

/// Species per site, four kinds.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeciesPerSite {
    /// All species, littoral sites.
    pub littoral: Option<Mean>,
    /// All species, sites with plants.
    pub vegetated: Option<Mean>,
    /// Native species, littoral sites.
    pub native_littoral: Option<Mean>,
    /// Native species, sites with native plants.
    pub native_where_native: Option<Mean>,
}

/// Number of species.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Richness {
    /// On the rake.
    pub rake: u64,
    /// With those only seen.
    pub with_visuals: u64,
    /// With those from the shore as well.
    pub with_shoreline: u64,
}

/// Floristic quality and the list it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct FloristicQuality {
    /// Native species with a C value.
    pub n: u64,
    /// Their mean C.
    pub mean_c: f64,
    /// Mean C × √n.
    pub fqi: f64,
    /// The table C comes from: name, region, version.
    pub c_table: String,
    /// Species by species.
    pub rows: Vec<FloristicRow>,
}

/// One species of the floristic list.
#[derive(Debug, Clone, PartialEq)]
pub struct FloristicRow {
    /// Latin name.
    pub scientific_name: String,
    /// Common name.
    pub common_name: String,
    /// Coefficient of conservatism; none when the table has none.
    pub c: Option<f64>,
    /// Why it is left out, or where the value comes from; may be empty.
    pub note: String,
}

/// The rating scale of the survey.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scale {
    /// Its name.
    pub name: String,
    /// Steps above none, least first. For presence only, one step.
    pub steps: Vec<ScaleStep>,
}

/// A step of a rating scale.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ScaleStep {
    /// Its code, as `M`.
    pub code: String,
    /// Its name, as `medium`.
    pub name: String,
    /// Its measure in the field, as "both hands full"; may be empty.
    pub measure: String,
}

/// Where a species comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Native here.
    Native,
    /// Introduced here.
    Introduced,
    /// Not settled, such as a genus with both.
    Unsettled,
}

/// What was found of one species.
#[derive(Debug, Clone, PartialEq)]
pub struct TaxonFinding {
    /// Its code.
    pub code: String,
    /// Latin name.
    pub scientific_name: String,
    /// Common name; may be empty.
    pub common_name: String,
    /// Where it comes from.
    pub origin: Origin,
    /// True when the law lists it as noxious here.
    pub listed_noxious: bool,
    /// Submersed, floating-leaf and so on.
    pub growth_form: String,
    /// Sites on the rake.
    pub sites: u64,
    /// Sites where it was only seen.
    pub visuals: u64,
    /// Of all sites sampled.
    pub all: Option<Frequency>,
    /// Of littoral sites.
    pub littoral: Option<Frequency>,
    /// Of sites with plants.
    pub vegetated: Option<Frequency>,
    /// Its share of all occurrences.
    pub relative: Option<f64>,
    /// Mean rating where found; none for scales without numbers.
    pub mean_rating: Option<f64>,
    /// Sites at each step of the scale.
    pub ratings: Vec<u64>,
    /// Its deepest site.
    pub max_depth: Option<Metres>,
    /// Sentences about its name, vouchers, hybrids; may be empty.
    pub notes: Vec<String>,
}

/// What was recorded at one site.
#[derive(Debug, Clone, PartialEq)]
pub struct ReportSite {
    /// Its code.
    pub code: String,
    /// Its zone's code; may be empty.
    pub zone: String,
    /// East, projected metres.
    pub x: f64,
    /// North, projected metres.
    pub y: f64,
    /// Depth measured there.
    pub depth: Option<Metres>,
    /// The bottom in a word; may be empty.
    pub bottom: String,
    /// What became of it.
    pub outcome: SiteOutcome,
    /// The plants: index into `taxa`.
    pub found: Vec<Occurrence>,
    /// What the crew noted; may be empty.
    pub note: String,
}

/// What became of a site.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SiteOutcome {
    /// Sampled.
    Sampled {
        /// True when plants were on the rake, named or not.
        with_plants: bool,
    },
    /// Visited, not sampled: the reason in words.
    NotSampled(String),
    /// Nobody went.
    NotVisited,
}

/// One species at one site.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Occurrence {
    /// Index into `taxa`.
    pub taxon: usize,
    /// How it was seen.
    pub how: HowSeen,
}

/// How a plant was seen at a site.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HowSeen {
    /// On the rake, at a step of the scale (from 1).
    Rake {
        /// The step.
        step: u8,
    },
    /// Only seen near the boat.
    Visual,
}

/// A zone in figures.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneFacts {
    /// Its code.
    pub code: String,
    /// Its name.
    pub name: String,
    /// Its area.
    pub area: SquareMetres,
}

/// A day in the field.
#[derive(Debug, Clone, PartialEq)]
pub struct Conditions {
    /// The day.
    pub date: Date,
    /// Air temperature.
    pub air: Option<Celsius>,
    /// Water temperature.
    pub water: Option<Celsius>,
    /// Secchi depth.
    pub secchi: Option<Metres>,
    /// Wind and sky in words; may be empty.
    pub weather: String,
    /// Water level in words; may be empty.
    pub water_level: String,
}

/// One of the crew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CrewMember {
    /// Name or initials.
    pub name: String,
    /// What they did, as in "rake", "pencil", "named the plants".
    pub role: String,
}

/// The seal of the record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seal {
    /// The day of the seal.
    pub date: Date,
    /// By whom.
    pub by: String,
    /// The SHA-256 in hexadecimal.
    pub checksum: String,
}

/// A change after the seal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Amendment {
    /// The day.
    pub date: Date,
    /// By whom.
    pub by: String,
    /// Why.
    pub reason: String,
}

/// How the species are mapped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SpeciesMaps {
    /// A page each for up to six species and for each introduced one, six to a page for the others.
    #[default]
    Automatic,
    /// A page each.
    OnePage,
    /// Six to a page.
    SixToAPage,
}
