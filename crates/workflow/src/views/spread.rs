use super::SurveyBriefRef;
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// Where a plant moved between two surveys.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SpreadView {
    /// Code of the plant.
    pub code: String,
    /// Scientific name.
    pub scientific_name: String,
    /// What it is called.
    pub name: String,
    /// Earlier survey.
    pub from: SurveyBriefRef,
    /// Later survey.
    pub to: SurveyBriefRef,
    /// Shift of its middle by water; none when there are too few finds.
    pub shift_m: Option<ShiftView>,
    /// Direction in degrees clockwise from the north of the grid.
    pub bearing_deg: Option<f64>,
    /// The same in words.
    pub direction: String,
    /// The same along the lake's own shore; none without an outline or a shift.
    pub along_shore: Option<AlongShoreView>,
    /// Middle earlier, `[x, y]` in metres of the working system.
    pub middle_from: Option<[f64; 2]>,
    /// Middle later.
    pub middle_to: Option<[f64; 2]>,
    /// Why there is no shift; empty when there is.
    pub why_not: String,
    /// Sites that gained it; empty when the sites are different ones.
    pub gained: Vec<SpreadSiteView>,
    /// Sites that lost it.
    pub lost: Vec<SpreadSiteView>,
    /// Sites that kept it.
    pub kept: Vec<SpreadSiteView>,
    /// Water nearest to the sites that gained it; none without an outline or without pairs.
    pub gained_m2: Option<f64>,
    /// Water nearest to the sites that lost it.
    pub lost_m2: Option<f64>,
    /// Zones where it was found later only.
    pub zones_gained: Vec<String>,
    /// Zones where it was found earlier only.
    pub zones_lost: Vec<String>,
    /// Where and when it was found first, by zone, over all surveys of the book.
    pub first_found: Vec<FirstFoundView>,
    /// Every survey with its finds, for small multiples of the years.
    pub years: Vec<SpreadYearView>,
    /// What differs between the two surveys.
    pub warnings: Vec<super::WarningView>,
    /// The answer in a sentence.
    pub sentence: String,
    /// Resamples and permutations.
    pub resamples: u32,
    /// Their seed.
    pub seed: u64,
    /// Where `docs/methods.md` explains a figure: its key here, the anchor there.
    pub methods: BTreeMap<String, String>,
}

/// Shift of a middle.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ShiftView {
    /// Metres by water.
    pub value: f64,
    /// Lower limit; below zero where resampled shifts point the other way.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
    /// Permutation p of no shift.
    pub p: f64,
}

/// A shift along the shore, between the points of it nearest to the two middles.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AlongShoreView {
    /// Metres of shore, the shorter way round.
    pub shore_m: f64,
    /// `clockwise` or `counter-clockwise` round the lake.
    pub way: String,
    /// From the earlier middle to the shore.
    pub from_off_m: f64,
    /// From the later middle to the shore.
    pub to_off_m: f64,
}

/// A site that gained or lost a plant.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SpreadSiteView {
    /// Code.
    pub code: String,
    /// Longitude.
    pub lon: Option<f64>,
    /// Latitude.
    pub lat: Option<f64>,
    /// East.
    pub x: Option<f64>,
    /// North.
    pub y: Option<f64>,
    /// Launch nearest by water, for sites gained.
    pub nearest_launch: Option<String>,
    /// Way to it by water.
    pub launch_m: Option<f64>,
}

/// Where and when a plant was found first.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FirstFoundView {
    /// Code of the zone; none for sites in no zone.
    pub zone: Option<String>,
    /// Survey.
    pub survey: String,
    /// The day halfway through it.
    pub date: Option<String>,
    /// Sites there with it.
    pub sites: usize,
    /// Earlier surveys that looked there and did not find it; with none it may always have been there.
    pub blanks_before: usize,
}

/// One survey's finds of a plant.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SpreadYearView {
    /// Survey.
    pub survey: String,
    /// First day.
    pub date: Option<String>,
    /// Whether it was looked for.
    pub looked_for: bool,
    /// Places `[x, y]` where it came up.
    pub found: Vec<[f64; 2]>,
    /// Places where it was looked for and did not come up.
    pub blank: Vec<[f64; 2]>,
}
