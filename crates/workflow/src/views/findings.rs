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
    /// Floristic quality; none without a native taxon that has a C value.
    pub floristic_quality: Option<FloristicView>,
    /// Taxa, commonest first.
    pub taxa: Vec<TaxonFindingView>,
    /// What a reader must know first.
    pub notes: Vec<String>,
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

/// Number of taxa.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RichnessView {
    /// On the rake.
    pub rake: usize,
    /// And seen.
    pub with_visuals: usize,
    /// And on the shore.
    pub with_shoreline: usize,
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
    /// Sites by depth of the water.
    pub depths: Vec<DepthCountView>,
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
