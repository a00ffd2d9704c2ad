use super::EstimateView;
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// What several surveys say of one plant over the years.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrendView {
    /// Code of the plant; `any` for all plants together.
    pub code: String,
    /// Scientific name; empty for `any`.
    pub scientific_name: String,
    /// What it is called.
    pub name: String,
    /// Origin; empty for `any`.
    pub origin: String,
    /// Every survey, the earliest first.
    pub surveys: Vec<TrendPointView>,
    /// Name of the model.
    pub model: String,
    /// Change of the log odds a year; none when nothing was fitted.
    pub per_year: Option<PerYearView>,
    /// What the odds are multiplied by each year.
    pub odds_ratio: Option<EstimateView>,
    /// How much more than a binomial the surveys vary, 1 for alike.
    pub overdispersion: Option<f64>,
    /// Surveys less coefficients.
    pub degrees_of_freedom: Option<usize>,
    /// Surveys in the fit.
    pub surveys_used: usize,
    /// Smallest change of the log odds a year that would have shown 8 times in 10.
    pub detectable: Option<f64>,
    /// Test of the order of the years; none with too few surveys or all equal.
    pub mann_kendall: Option<MannKendallView>,
    /// Why there is none; empty when there is.
    pub mann_kendall_why_not: String,
    /// Where scale or method changed: surveys on both sides are not compared with each other.
    pub breaks: Vec<BreakView>,
    /// Depth all surveys reached, when some stopped by rule.
    pub shared_depth_m: Option<f64>,
    /// `rising`, `falling` or `cannot tell`.
    pub verdict: String,
    /// Why nothing was fitted; empty when it was.
    pub why_not: String,
    /// The answer in a sentence.
    pub sentence: String,
    /// Where `docs/methods.md` explains a figure: its key here, the anchor there.
    pub methods: BTreeMap<String, String>,
}

/// One survey in a trend.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrendPointView {
    /// Survey.
    pub survey: String,
    /// The day halfway through it, ISO.
    pub date: Option<String>,
    /// The same as a year with decimals.
    pub year: Option<f64>,
    /// Sites where found.
    pub k: usize,
    /// Sites looked at.
    pub n: usize,
    /// Share.
    pub p: Option<f64>,
    /// Lower limit, Wilson 95 %.
    pub low: Option<f64>,
    /// Upper limit.
    pub high: Option<f64>,
    /// Number of the stretch between breaks, from 0.
    pub stretch: usize,
    /// Share the model gives on that day; none when nothing was fitted or it takes no part.
    pub fitted: Option<f64>,
    /// Sites more where it may have been written down under another name: its genus, or one of its
    /// species.
    pub named_otherwise: usize,
    /// Why it takes no part; empty when it does.
    pub left_out: String,
}

/// A change a year.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PerYearView {
    /// Change of the log odds a year.
    pub value: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
    /// Two-sided p value.
    pub p: f64,
}

/// Mann–Kendall test.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct MannKendallView {
    /// Rises less falls over all pairs of years.
    pub s: f64,
    /// Its variance when there is no trend.
    pub variance: f64,
    /// Standard normal score.
    pub z: f64,
    /// Two-sided p value.
    pub p: f64,
    /// True when all orders were counted.
    pub exact: bool,
    /// Sen's slope, a proportion a year.
    pub sens_slope: f64,
    /// Its lower limit.
    pub sens_slope_low: f64,
    /// Its upper limit.
    pub sens_slope_high: f64,
    /// Values.
    pub values: usize,
}

/// A change of scale or method.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BreakView {
    /// The survey from which on it holds.
    pub survey: String,
    /// `scale`, `method` or `throws`.
    pub kind: String,
    /// In words.
    pub message: String,
    /// Why the scale was changed; empty when nobody said, and for other breaks.
    pub reason: String,
}

/// All taxa in brief.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrendsView {
    /// Any plant first, then every taxon found in any survey.
    pub taxa: Vec<TrendView>,
    /// What one survey gave as a note; empty when nothing.
    pub notes: Vec<String>,
}
