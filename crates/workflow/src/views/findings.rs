use super::{
    AcresView, AlertView, BedsView, BoardLimitView, DetectionView, DiversityView, GroupView,
    RichnessView, SentenceView, ShoreView, WeightedView,
};
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// What one survey says.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FindingsView {
    /// Survey.
    pub survey: String,
    /// Key of the rating scale.
    pub scale: String,
    /// Sites by what came of them.
    pub sites: SitesCountView,
    /// Greatest depth at which a plant came up on the rake; none when none did.
    pub max_plant_depth_m: Option<f64>,
    /// Sampled sites no deeper than that.
    pub littoral_sites: usize,
    /// Sampled sites without a depth, in no littoral figure.
    pub sites_without_depth: usize,
    /// Share of sites with any plant.
    pub frequency_any: AllLittoral,
    /// Mean species a site, four kinds.
    pub species_per_site: SpeciesPerSiteView,
    /// Number of taxa.
    pub richness: RichnessView,
    /// Simpson 1 − Σp² on relative frequencies; none without plants.
    pub simpson: Option<f64>,
    /// Diversity from relative frequencies; none without plants.
    pub diversity: Option<DiversityView>,
    /// Share of all finds that belong to the 1, 2, 3 … commonest plants.
    pub dominance: Vec<f64>,
    /// Floristic quality; none without a native taxon that has a C value.
    pub floristic_quality: Option<FloristicView>,
    /// Taxa, commonest first.
    pub taxa: Vec<TaxonFindingView>,
    /// A plant found nowhere may still stand at this share of places (95 %), if the rake never
    /// misses; none when no site was sampled.
    pub missed_at_most: Option<f64>,
    /// Occupancy and detection from repeated throws, for every taxon on the rake.
    pub detection: Vec<DetectionView>,
    /// Water each taxon stands in, whole lake first, then by zone; empty without an outline or
    /// without places. `any` stands for all plants together.
    pub acres: Vec<AcresView>,
    /// Which water that is: all of it, or to the depth sites were laid to; empty without an outline.
    pub acres_water: String,
    /// Surface beds as drawn, over all and by zone; in no other figure.
    pub beds: Vec<BedsView>,
    /// Finds on the shore by taxon: code and number of places; in no other figure.
    pub shoreline: BTreeMap<String, usize>,
    /// The same with lengths of shore, over all and by zone; in no other figure.
    pub shore: Vec<ShoreView>,
    /// By zone.
    pub by_zone: Vec<GroupView>,
    /// By step of measured depth.
    pub by_depth: Vec<GroupView>,
    /// By stratum of the layout; empty when it had none.
    pub by_stratum: Vec<GroupView>,
    /// Frequencies with the weights of the layout; none unless sites have inclusion probabilities.
    pub design_weighted: Option<WeightedView>,
    /// What should be heard of at once.
    pub alerts: Vec<AlertView>,
    /// The lake board's own written limits.
    pub board_limits: Vec<BoardLimitView>,
    /// What all of it says, in sentences made by rules.
    pub summary: Vec<SentenceView>,
    /// What a reader must know first.
    pub notes: Vec<String>,
    /// Where `docs/methods.md` explains a figure: its key here, the anchor there.
    pub methods: BTreeMap<String, String>,
}

/// Counts of sites. Visited = sampled + all of `not_sampled`; sites nobody went to are in neither.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SitesCountView {
    /// Planned, spares left out.
    pub planned: usize,
    /// Visited.
    pub visited: usize,
    /// Sampled.
    pub sampled: usize,
    /// Sampled, with plants on the rake.
    pub vegetated: usize,
    /// Not sampled, by reason.
    pub not_sampled: BTreeMap<String, usize>,
}

/// A share with its 95 % Wilson interval.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FrequencyView {
    /// Sites where found.
    pub k: usize,
    /// Sites looked at.
    pub n: usize,
    /// Share; none when n is 0.
    pub p: Option<f64>,
    /// Standard error with n − 1.
    pub se: Option<f64>,
    /// Lower limit.
    pub low: Option<f64>,
    /// Upper limit.
    pub high: Option<f64>,
}

/// A share over two denominators.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AllLittoral {
    /// Of all sampled sites.
    pub all: FrequencyView,
    /// Of sampled sites no deeper than the deepest plant.
    pub littoral: FrequencyView,
}

/// A share over three denominators.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AllLittoralVegetated {
    /// Of all sampled sites.
    pub all: FrequencyView,
    /// Of sampled sites no deeper than the deepest plant.
    pub littoral: FrequencyView,
    /// Of sites with any plant.
    pub vegetated: FrequencyView,
}

/// Mean species a site.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SpeciesPerSiteView {
    /// Over littoral sites.
    pub littoral_mean: Option<f64>,
    /// Over sites with plants.
    pub vegetated_mean: Option<f64>,
    /// Native species over littoral sites.
    pub native_littoral_mean: Option<f64>,
    /// Native species over sites with a native species.
    pub native_where_native_mean: Option<f64>,
}

/// Floristic quality of the native taxa.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FloristicView {
    /// Native taxa with a C value.
    pub n: usize,
    /// Their mean C.
    pub mean_c: f64,
    /// Mean C times the root of n.
    pub fqi: f64,
    /// The table the C values were read in.
    pub c_table: String,
    /// Native taxa without a C value in the table.
    pub without_c: Vec<String>,
}

/// One taxon.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TaxonFindingView {
    /// Code.
    pub code: String,
    /// Scientific name.
    pub scientific_name: String,
    /// Common name.
    pub common_name: String,
    /// `native`, `introduced` or `unknown`.
    pub origin: String,
    /// Growth form, as a key.
    pub growth_form: String,
    /// Counts in statistics of plants.
    pub is_plant: bool,
    /// Sites where it came up on the rake.
    pub sites: usize,
    /// Sites where it was only seen.
    pub visuals: usize,
    /// Shares.
    pub frequency: AllLittoralVegetated,
    /// Share of all finds.
    pub relative_frequency: Option<f64>,
    /// Mean rating over sites where found and rated, largest throw of each.
    pub mean_rating: Option<f64>,
    /// Sites by rating.
    pub ratings: Vec<RatingCountView>,
    /// Greatest depth on the rake.
    pub max_depth_m: Option<f64>,
    /// Depths on the rake in quarters of the sites; none without a measured depth.
    pub depth_quartiles: Option<DepthQuartilesView>,
    /// Sites by depth of the water.
    pub depths: Vec<DepthCountView>,
    /// Listed noxious where the lake lies.
    pub listed_noxious: bool,
    /// False for a taxon outside the survey's scope that turned up all the same.
    pub looked_for: bool,
    /// Coefficient of conservatism.
    pub c: Option<f64>,
}

/// Sites with one rating.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RatingCountView {
    /// Code of the step.
    pub code: String,
    /// Sites.
    pub sites: usize,
}

/// Sites within a step of depth.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DepthCountView {
    /// From.
    pub from_m: f64,
    /// To, itself left out.
    pub to_m: f64,
    /// Sampled sites.
    pub sampled: usize,
    /// Of these, with the taxon.
    pub found: usize,
}

/// Depths in quarters of the sites.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DepthQuartilesView {
    /// Shallowest.
    pub least_m: f64,
    /// A quarter of the sites is no deeper.
    pub lower_m: f64,
    /// Half of them.
    pub median_m: f64,
    /// Three quarters.
    pub upper_m: f64,
    /// Deepest.
    pub greatest_m: f64,
    /// Sites with a measured depth.
    pub sites: usize,
}
