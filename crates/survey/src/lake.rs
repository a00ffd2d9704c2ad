use crate::short_code::CodeStyle;
use crate::taxon::words;
use crate::{BoardLimitId, Code, LandmarkId, SubAreaId, SurveyId, TaxonId, TreatmentId, ZoneId};
use geo_types::MultiPolygon;
use jiff::civil::Date;
use std::fmt;
use std::str::FromStr;
use units::{LonLat, Metres, SquareMetres, UnitSystem};

/// The lake a book is about.
#[derive(Debug, Clone, PartialEq)]
pub struct Lake {
    /// Its name.
    pub name: String,
    /// The state's or county's number for the water body; empty when none.
    pub water_body_number: String,
    /// County; may be empty.
    pub county: String,
    /// Two-letter state or region code that origins and C values are looked up under; may be empty.
    pub region: String,
    /// Units people read.
    pub units: UnitSystem,
    /// EPSG code of the projected system computation happens in.
    pub working_epsg: u32,
    /// Where plants are looked for: shallow and deep limit. 1–8 ft unless set (common practice).
    pub littoral: (Metres, Metres),
    /// What the depths count from, in plain words, e.g. `full pool`.
    pub depth_datum: String,
    /// How short codes of species are made.
    pub code_style: CodeStyle,
}

words! {
    /// What may be done in a zone.
    Protection {
        /// No rule beyond the usual.
        None = "none", "no special rule";
        /// A conservation area: treatment of invasive non-native plants only.
        Conservation = "conservation", "conservation area";
    }
}

/// A named part of the lake with its acreage.
#[derive(Debug, Clone, PartialEq)]
pub struct Zone {
    /// Key.
    pub id: ZoneId,
    /// Short code, e.g. `W3`.
    pub code: Code,
    /// Name, e.g. `West bay`.
    pub name: String,
    /// Outline in longitude and latitude.
    pub area: MultiPolygon<f64>,
    /// What may be done there.
    pub protection: Protection,
    /// Year the zone was first used; none for one that was always there.
    pub since: Option<i16>,
    /// Year the zone was last used; none for one in use.
    pub until: Option<i16>,
    /// What may be done there, in words, as the plan of the lake has it; empty when nothing is said.
    pub rule: String,
}

impl Zone {
    /// Whether the zone was in use in a year: a survey of that year keeps it.
    pub fn in_use(&self, year: i16) -> bool {
        self.since.is_none_or(|since| since <= year) && self.until.is_none_or(|until| year <= until)
    }
}

/// A part of a zone, about an acre.
#[derive(Debug, Clone, PartialEq)]
pub struct SubArea {
    /// Key.
    pub id: SubAreaId,
    /// The zone it is cut from.
    pub zone: Option<ZoneId>,
    /// Code, unique in the lake, e.g. `W3-4`.
    pub code: Code,
    /// Outline in longitude and latitude.
    pub area: MultiPolygon<f64>,
}

words! {
    /// What a named place is.
    LandmarkKind {
        /// Something seen from the water.
        Landmark = "landmark", "landmark";
        /// A boat launch.
        Launch = "launch", "launch";
        /// Something to keep clear of.
        Hazard = "hazard", "hazard";
    }
}

/// A named place on or by the lake.
#[derive(Debug, Clone, PartialEq)]
pub struct Landmark {
    /// Key.
    pub id: LandmarkId,
    /// Name as the crew says it.
    pub name: String,
    /// What it is.
    pub kind: LandmarkKind,
    /// Where it is.
    pub position: LonLat,
}

words! {
    /// What was done.
    TreatmentMethod {
        /// By hand or rake.
        HandRemoval = "hand-removal", "hand removal";
        /// Cut and taken away.
        Harvest = "harvest", "harvest";
        /// Herbicide, by a licensed applicator under permit.
        Herbicide = "herbicide", "herbicide by a licensed applicator";
        /// Bottom mats.
        Barrier = "barrier", "bottom barrier";
        /// Water level lowered.
        Drawdown = "drawdown", "drawdown";
        /// Insects or other organisms.
        Biological = "biological", "biological control";
        /// Something else.
        Other = "other", "other";
    }
}

/// What was done to plants, where and when.
#[derive(Debug, Clone, PartialEq)]
pub struct Treatment {
    /// Key.
    pub id: TreatmentId,
    /// Label, e.g. `West bay, May 2025`.
    pub name: String,
    /// How.
    pub method: TreatmentMethod,
    /// First and last day.
    pub dates: (Date, Date),
    /// Where, in longitude and latitude.
    pub area: MultiPolygon<f64>,
    /// Area as reported by who did it.
    pub reported_area: Option<SquareMetres>,
    /// Who did it, under which permit.
    pub by: String,
    /// The survey that came before, when known.
    pub before: Option<SurveyId>,
    /// Anything else.
    pub note: String,
}

/// A limit the lake board wrote down: what it calls too much. The program has none of its own.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardLimit {
    /// Key.
    pub id: BoardLimitId,
    /// The board's own words.
    pub text: String,
    /// Day it was adopted; surveys before it are not held against it.
    pub adopted: Date,
    /// The plant; none for every introduced plant, one by one.
    pub taxon: Option<TaxonId>,
    /// Code of the zone; none for the whole lake.
    pub zone: Option<Code>,
    /// What is too much.
    pub limit: LimitKind,
}

/// What is said to be too much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LimitKind {
    /// A share of the sampled sites above this proportion.
    FrequencyAbove(f64),
    /// More sites than this.
    SitesAbove(u32),
    /// A rating at any site at or above this number of the scale's steps.
    RatingAtLeast(u8),
}

impl LimitKind {
    /// The word and the number kept in files.
    pub const fn parts(self) -> (&'static str, f64) {
        match self {
            Self::FrequencyAbove(share) => ("frequency-above", share),
            Self::SitesAbove(sites) => ("sites-above", sites as f64),
            Self::RatingAtLeast(step) => ("rating-at-least", step as f64),
        }
    }

    /// From the word and the number kept in a file; none when they do not go together.
    pub fn from_parts(kind: &str, value: f64) -> Option<Self> {
        let whole = |most: f64| value.fract().abs() < 1e-9 && (0.0..=most).contains(&value);
        match kind {
            "frequency-above" if (0.0..=1.0).contains(&value) => Some(Self::FrequencyAbove(value)),
            "sites-above" if whole(1e9) => Some(Self::SitesAbove(value as u32)),
            "rating-at-least" if whole(255.0) => Some(Self::RatingAtLeast(value as u8)),
            _ => None,
        }
    }
}
