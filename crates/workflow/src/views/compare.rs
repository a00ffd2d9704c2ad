use super::EstimateView;
use serde::Serialize;
use std::collections::BTreeMap;
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
    /// How alike the surveys are as communities.
    pub community: CommunityView,
    /// Species on equal effort; none when a survey has fewer than two sites, no named plants, or did
    /// not look for everything.
    pub richness: Option<RichnessChangeView>,
    /// What ratings did, by taxon; empty when the surveys used different scales or one of one step.
    pub ratings: Vec<RatingChangeView>,
    /// Changes beside what season and sampling do anyway; context, no test.
    pub noise: Vec<NoiseBandView>,
    /// Where the bands come from.
    pub noise_source: String,
    /// What each site gained and lost, for a map; empty when the sites are different ones.
    pub places: Vec<SiteGainView>,
    /// Sites compared where nothing was found either time, which are not in `places`; none when the
    /// sites are different ones.
    pub places_bare: Option<usize>,
    /// Zone by zone, for zones both plans have.
    pub by_zone: Vec<ZoneChangeView>,
    /// Where `docs/methods.md` explains a figure: its key here, the anchor there.
    pub methods: BTreeMap<String, String>,
}

/// How alike two surveys are as communities of plants on the rake.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CommunityView {
    /// Bray–Curtis dissimilarity of frequencies, 0 alike to 1; none without plants on either side.
    pub bray_curtis: Option<f64>,
    /// Jaccard dissimilarity of the species lists.
    pub jaccard: Option<f64>,
    /// ANOSIM's R over sites, near 0 when alike.
    pub r: Option<f64>,
    /// Its permutation p.
    pub p: Option<f64>,
    /// Permutations.
    pub permutations: u32,
    /// Their seed.
    pub seed: u64,
    /// True when the two visits of a site change places, false when any sites do.
    pub within_pairs: bool,
    /// True when ratings entered the test, false for presence alone.
    pub rated: bool,
    /// Sites compared, earlier and later.
    pub sites: [usize; 2],
    /// Why there is no test; empty when there is.
    pub why_not: String,
}

/// Species of two surveys brought to the same number of sites.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RichnessChangeView {
    /// Sites both are brought to.
    pub sites: usize,
    /// Found at the compared sites: earlier, later.
    pub found: [usize; 2],
    /// Expected earlier.
    pub from: EstimateView,
    /// Expected later.
    pub to: EstimateView,
    /// Later minus earlier.
    pub difference: EstimateView,
    /// Codes found later only.
    pub gained: Vec<String>,
    /// Codes found earlier only.
    pub lost: Vec<String>,
}

/// Change of a taxon's rating, sites without it rated zero.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RatingChangeView {
    /// Code.
    pub code: String,
    /// Pairs rated both times; zero when the sites are different ones.
    pub pairs: usize,
    /// Mean earlier.
    pub mean_from: f64,
    /// Mean later.
    pub mean_to: f64,
    /// Wilcoxon's signed-rank test, unchanged sites by Pratt's rule; none when none changed or the
    /// sites are different ones.
    pub wilcoxon: Option<WilcoxonView>,
    /// Effect between −1 and 1.
    pub effect: Option<f64>,
    /// Its lower limit; none for the rank-biserial correlation.
    pub effect_low: Option<f64>,
    /// Its upper limit.
    pub effect_high: Option<f64>,
    /// `matched-pairs rank-biserial` or `Cliff's delta`; empty without an effect.
    pub effect_method: String,
    /// Sites by step, zero first.
    pub steps: Vec<RatingShiftView>,
}

/// Wilcoxon's signed-rank test.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WilcoxonView {
    /// Sum of the ranks of rises.
    pub v: f64,
    /// Sum of the ranks of falls.
    pub falls: f64,
    /// Sites that changed.
    pub changed: usize,
    /// Sites that did not.
    pub unchanged: usize,
    /// What was done with those: `pratt` or `wilcoxon`.
    pub zero_rule: String,
    /// Whether all assignments of signs were counted.
    pub exact: bool,
    /// Two-sided p value.
    pub p: f64,
}

/// Sites with one rating in both surveys.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RatingShiftView {
    /// Code of the step; empty for sites without the plant where the scale has no zero.
    pub code: String,
    /// Earlier.
    pub from: usize,
    /// Later.
    pub to: usize,
}

/// A change beside what ordinary noise does.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct NoiseBandView {
    /// Stable key, e.g. `max-plant-depth`.
    pub measure: String,
    /// What is measured.
    pub words: String,
    /// Earlier; none for a similarity.
    pub from: Option<f64>,
    /// Later.
    pub to: Option<f64>,
    /// Later less earlier, or the similarity.
    pub change: Option<f64>,
    /// The band: a change beyond ± this, or a similarity below it, is more than ordinary noise.
    pub band: f64,
    /// Whether it is.
    pub beyond: Option<bool>,
}

/// What one site gained and lost.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SiteGainView {
    /// Code of the site.
    pub code: String,
    /// Longitude; none for a place known only by name.
    pub lon: Option<f64>,
    /// Latitude.
    pub lat: Option<f64>,
    /// East in metres of the working system.
    pub x: Option<f64>,
    /// North.
    pub y: Option<f64>,
    /// Codes of taxa found the second time only; `any` when there was no plant before.
    pub gained: Vec<String>,
    /// Codes found the first time only; `any` when no plant is left.
    pub lost: Vec<String>,
    /// Codes found both times.
    pub kept: Vec<String>,
}

/// The comparison within one zone.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ZoneChangeView {
    /// Code of the zone.
    pub zone: String,
    /// `paired` or `independent`.
    pub design: String,
    /// Any plant.
    pub any: TaxonChangeView,
    /// Taxa; p values adjusted within the zone.
    pub taxa: Vec<TaxonChangeView>,
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
    /// What its name leaves open; none when no other name could mean it.
    pub names: Option<OtherNamesView>,
}

/// Names of other detail that may mean one plant: a species and its genus.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct OtherNamesView {
    /// Codes of the other names.
    pub with: Vec<String>,
    /// Compared sites with one of them and not this one: earlier, later.
    pub sites: [usize; 2],
    /// This taxon and the others together, earlier.
    pub together_from: CountView,
    /// Later.
    pub together_to: CountView,
    /// What may be said of them together.
    pub together: String,
    /// A change was not said because another reading of the names does not bear it out.
    pub withheld: bool,
}
