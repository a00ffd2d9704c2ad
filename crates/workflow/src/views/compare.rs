use serde::Serialize;
use utoipa::ToSchema;

/// Two surveys side by side.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CompareView {
    /// The earlier.
    pub from: SurveyBriefRef,
    /// The later.
    pub to: SurveyBriefRef,
    /// What differs between them, first of all.
    pub warnings: Vec<WarningView>,
    /// `paired` or `independent`.
    pub design: String,
    /// Sites compared: pairs, or none when independent.
    pub pairs: Option<usize>,
    /// Depth both surveys reached, when one of them stopped by rule.
    pub shared_depth_m: Option<f64>,
    /// Sites with any plant.
    pub any: TaxonChangeView,
    /// Taxa.
    pub taxa: Vec<TaxonChangeView>,
    /// What is said of it, in words.
    pub sentences: Vec<String>,
}

/// Which survey.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SurveyBriefRef {
    /// Name.
    pub survey: String,
    /// First day, ISO.
    pub start: Option<String>,
    /// Scale.
    pub scale: String,
    /// Sites sampled.
    pub sampled: usize,
}

/// Something that restricts the comparison.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WarningView {
    /// Stable kind, e.g. `scale`, `season`, `observers`, `depth-cap`.
    pub kind: String,
    /// In words.
    pub message: String,
}

/// A count and its share.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CountView {
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
}

/// A difference with its 95 % interval.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DifferenceView {
    /// Later minus earlier.
    pub value: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
}

/// What one taxon did.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TaxonChangeView {
    /// Code; `any` for all plants together.
    pub code: String,
    /// Scientific name.
    pub scientific_name: String,
    /// Common name.
    pub common_name: String,
    /// Origin.
    pub origin: String,
    /// Earlier.
    pub from: CountView,
    /// Later.
    pub to: CountView,
    /// Difference.
    pub difference: Option<DifferenceView>,
    /// Pairs that lost it; none when independent.
    pub lost: Option<u64>,
    /// Pairs that gained it; none when independent.
    pub gained: Option<u64>,
    /// Name of the test.
    pub test: String,
    /// Its p value.
    pub p: Option<f64>,
    /// Adjusted for the number of taxa, Benjamini–Hochberg.
    pub p_adjusted: Option<f64>,
    /// Smallest change this design finds 8 times in 10.
    pub detectable: Option<f64>,
    /// `rose`, `fell`, `cannot tell` or `not compared`.
    pub verdict: String,
}
