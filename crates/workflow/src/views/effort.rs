use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// How many sites a question needs.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct EffortView {
    /// Purpose, as a key such as `detect`.
    pub purpose: String,
    /// What was assumed, by name.
    pub inputs: BTreeMap<String, f64>,
    /// By formula.
    pub formula: FormulaView,
    /// By the trade's rule.
    pub rule_of_thumb: RuleOfThumbView,
    /// The number asked about, by formula; none when none was given.
    pub judged: Option<JudgedView>,
    /// By virtual surveys on this lake.
    pub simulation: Option<SimulationView>,
    /// By formula over many numbers of sites, for a drawing.
    pub curve: CurveView,
    /// The answer in plain words.
    pub sentence: String,
    /// What the user should know.
    pub warnings: Vec<String>,
}

/// A number of sites by formula.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FormulaView {
    /// Sites; for change and treatment in each survey.
    pub sites: usize,
    /// The formula with its symbols.
    pub formula: String,
    /// Where it comes from.
    pub source: String,
    /// On a square grid instead, where that makes a difference.
    pub grid_sites: Option<usize>,
    /// Spacing of a grid with that many sites.
    pub spacing_m: f64,
    /// Hours on the water; for change and treatment of each survey.
    pub hours: f64,
}

/// A number of sites by the trade's rule.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RuleOfThumbView {
    /// Sites.
    pub sites: usize,
    /// The rule.
    pub rule: String,
    /// What that number reaches: a chance, a power, or a margin.
    pub reaches: f64,
    /// Hours on the water.
    pub hours: f64,
}

/// A number of sites to judge.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct JudgedView {
    /// Sites.
    pub sites: usize,
    /// What it reaches: a chance, a power, or a margin.
    pub reaches: f64,
    /// Chance to reach what was asked, by formula.
    pub chance: f64,
    /// Hours on the water.
    pub hours: f64,
}

/// What many numbers of sites reach by formula; one entry a number in each list.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CurveView {
    /// Numbers of sites, rising.
    pub sites: Vec<usize>,
    /// Chance to reach what was asked: to find, to come within the margin, to show the change.
    pub chance: Vec<f64>,
    /// Margin at the confidence asked for, for a frequency or an acreage; empty for other purposes.
    pub margin: Vec<f64>,
    /// Hours on the water; for change and treatment of each survey.
    pub hours: Vec<f64>,
}

/// Virtual surveys on this lake, one entry a number of sites.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SimulationView {
    /// Virtual surveys for each number.
    pub runs: usize,
    /// Draws them.
    pub seed: u64,
    /// How the sites lay.
    pub design: String,
    /// Where the virtual plants grew, in words.
    pub plants: String,
    /// Numbers of sites.
    pub sites: Vec<usize>,
    /// Share of surveys that reached the aim.
    pub chance: Vec<f64>,
    /// Monte Carlo standard error of that share.
    pub chance_error: Vec<f64>,
    /// What counts as reaching the aim, in words.
    pub aim: String,
    /// Hours on the water.
    pub hours: Vec<f64>,
    /// How far the edge of a bed as drawn lies from the true one on average, where a bed is measured.
    pub edge_m: Vec<Option<f64>>,
    /// 95 of 100 estimates lay above (frequency; number of species; acreage over the true one); none where nothing is
    /// estimated.
    pub low: Vec<Option<f64>>,
    /// 95 of 100 estimates lay below.
    pub high: Vec<Option<f64>>,
}

/// Ways to lay the same number of sites, side by side.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DesignsView {
    /// Sites asked for.
    pub sites: usize,
    /// Throws a site.
    pub throws: u32,
    /// Virtual surveys of each design.
    pub runs: usize,
    /// Draws them.
    pub seed: u64,
    /// The plant whose frequency is estimated, and where it grows.
    pub plant: String,
    /// Area of the bed to be found.
    pub patch_area_m2: f64,
    /// The designs in the order asked for.
    pub designs: Vec<DesignView>,
    /// Designs that cannot be laid on this lake, and why.
    pub warnings: Vec<String>,
    /// The comparison in a sentence.
    pub sentence: String,
}

/// One way to lay the sites.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DesignView {
    /// Layout, as a key such as `point-grid`.
    pub layout: String,
    /// Layout in words.
    pub words: String,
    /// Sites it lays, on average.
    pub sites: f64,
    /// Root mean square error of the frequency, as a share of sites: 0.05 is five points.
    pub error: f64,
    /// 95 of 100 estimates lie within ± this.
    pub margin: f64,
    /// Chance to find the bed.
    pub chance: f64,
    /// Monte Carlo standard error of that chance.
    pub chance_error: f64,
    /// Mean spatial balance, 0 is perfect.
    pub balance: f64,
    /// Hours on the water: launching, sites, throws, and a good way between the sites in straight lines.
    pub hours: f64,
}

/// A day on the water.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RouteView {
    /// Survey.
    pub survey: String,
    /// Where the boats leave.
    pub launch: String,
    /// Boats with their sites in order, one a boat and day.
    pub boats: Vec<BoatView>,
    /// Way of all boats together.
    pub length_m: f64,
    /// True when every site is in some boat's order.
    pub fits: bool,
    /// Sunrise and sunset.
    pub daylight: DaylightView,
    /// Sites that do not fit the day, or that no boat reaches.
    pub over: Vec<String>,
    /// The plan in a sentence.
    pub sentence: String,
    /// Draws the search.
    pub seed: u64,
    /// What the user should know.
    pub warnings: Vec<String>,
}

/// One boat's day.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BoatView {
    /// Number of the boat on its day, from 1.
    pub boat: usize,
    /// The day, ISO.
    pub date: String,
    /// When it leaves, local time.
    pub start: String,
    /// Codes of its sites in order.
    pub order: Vec<String>,
    /// Its way by water.
    pub length_m: f64,
    /// Minutes out, breaks included.
    pub minutes: f64,
    /// When it is back, local time.
    pub finish: String,
    /// When it comes to each site and leaves it.
    pub stops: Vec<StopView>,
    /// Its way leg by leg: one to each site, and one home.
    pub legs: Vec<LegView>,
    /// Its way, longitude and latitude.
    pub way: Vec<[f64; 2]>,
}

/// A site on a boat's day.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StopView {
    /// Code of the site.
    pub code: String,
    /// When the boat comes, local time.
    pub arrive: String,
    /// When it leaves.
    pub leave: String,
}

/// The way by water from one place to the next.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct LegView {
    /// Code of a site, or name of a landing.
    pub from: String,
    /// Code of a site, or name of a landing.
    pub to: String,
    /// Length by water.
    pub length_m: f64,
    /// Minutes at the boat's speed.
    pub minutes: f64,
    /// The line, east and north in the working system as on the map.
    pub line: Vec<[f64; 2]>,
}

/// When it is light.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DaylightView {
    /// Sunrise, local time; none in polar summer or winter.
    pub rise: Option<String>,
    /// Sunset, local time.
    pub set: Option<String>,
}
