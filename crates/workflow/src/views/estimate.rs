use super::{CountView, FrequencyView};
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// A figure with its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToSchema)]
pub struct EstimateView {
    /// The figure.
    pub value: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
}

/// Number of taxa, found and estimated. Estimates are none where only counts were published, without
/// plants, or with fewer than two sites.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RichnessView {
    /// On the rake.
    pub rake: usize,
    /// And seen.
    pub with_visuals: usize,
    /// And on the shore.
    pub with_shoreline: usize,
    /// Lower bound of all species, Chao2.
    pub chao2: Option<ChaoView>,
    /// First-order jackknife.
    pub jackknife1: Option<RichnessEstimateView>,
    /// Second-order jackknife; none below three sites.
    pub jackknife2: Option<RichnessEstimateView>,
    /// Bootstrap.
    pub bootstrap: Option<RichnessEstimateView>,
    /// Share of all occurrences in the lake that are of species already found.
    pub coverage: Option<f64>,
    /// Species expected at 1, 2, … sites.
    pub accumulation: Vec<AccumulationView>,
    /// Species expected at more sites than were sampled, up to twice as many.
    pub extrapolation: Vec<ExtrapolationView>,
}

/// Chao's lower bound.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ChaoView {
    /// Lower bound of all species.
    pub value: f64,
    /// Standard error.
    pub se: f64,
    /// Lower limit, never below the number found.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
    /// Form used: `classic`, or `bias-corrected` when no species was found exactly twice.
    pub method: String,
}

/// A jackknife or bootstrap estimate of the number of species.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RichnessEstimateView {
    /// Species.
    pub value: f64,
    /// Standard error.
    pub se: f64,
    /// Whose standard error it is.
    pub method: String,
}

/// Species expected at a number of sites.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AccumulationView {
    /// Sites.
    pub sites: u64,
    /// Species expected.
    pub value: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
}

/// Species expected beyond the sites sampled; it has no interval.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ExtrapolationView {
    /// Sites.
    pub sites: u64,
    /// Species expected.
    pub value: f64,
}

/// Diversity from relative frequencies.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DiversityView {
    /// `−Σ p·ln p`.
    pub shannon: f64,
    /// `1/Σp²`.
    pub inverse_simpson: f64,
    /// `1 − Σp²`.
    pub simpson: f64,
    /// Shannon over the logarithm of the number of species; none for a single species.
    pub evenness: Option<f64>,
}

/// How well repeated throws find one taxon.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DetectionView {
    /// Code of the taxon.
    pub code: String,
    /// Share of sites it stands at; none when the throws cannot tell.
    pub occupancy: Option<f64>,
    /// Lower limit.
    pub occupancy_low: Option<f64>,
    /// Upper limit.
    pub occupancy_high: Option<f64>,
    /// Chance that one throw finds it where it stands.
    pub detection: Option<f64>,
    /// Lower limit.
    pub detection_low: Option<f64>,
    /// Upper limit.
    pub detection_high: Option<f64>,
    /// Chance that all throws at a site which has it came up without it.
    pub missed_chance: Option<f64>,
    /// Throws that chance speaks of.
    pub throws: u32,
    /// Share of sites where it was found.
    pub naive: Option<f64>,
    /// Sites.
    pub sites: usize,
    /// Why the throws cannot tell; empty when they can.
    pub why_not: String,
}

/// What a survey says of a part of its sites.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct GroupView {
    /// Name of the part: code of a zone, name of a stratum, range of depth; empty for sites in none.
    pub key: String,
    /// From this depth, itself in; for steps of depth only.
    pub from_m: Option<f64>,
    /// To this depth, itself out.
    pub to_m: Option<f64>,
    /// Sites planned there; none for depths.
    pub planned: Option<usize>,
    /// Sites sampled. With zero nothing is known of the part.
    pub sampled: usize,
    /// Not sampled, by reason.
    pub not_sampled: BTreeMap<String, usize>,
    /// Sites with any plant.
    pub frequency_any: FrequencyView,
    /// Mean species a sampled site; none where nothing was counted.
    pub species_per_site: Option<f64>,
    /// Taxa of plants on the rake.
    pub richness: usize,
    /// Taxa on the rake, commonest first.
    pub taxa: Vec<GroupTaxonView>,
}

/// One taxon in a part of the sites.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct GroupTaxonView {
    /// Code.
    pub code: String,
    /// Of the sampled sites of the part.
    pub frequency: CountView,
    /// Mean rating where found and rated.
    pub mean_rating: Option<f64>,
}

/// Frequencies with the weights of the layout.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WeightedView {
    /// Any plant.
    pub any: WeightedEstimateView,
    /// Taxa found on the rake, by code in the order of the lake's list.
    pub taxa: Vec<WeightedTaxonView>,
    /// Sampled sites without an inclusion probability, left out.
    pub left_out: usize,
}

/// One taxon with the weights of the layout.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WeightedTaxonView {
    /// Code.
    pub code: String,
    /// Its frequency.
    pub estimate: WeightedEstimateView,
}

/// A share of all places that could have been chosen.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WeightedEstimateView {
    /// Share (Hájek).
    pub value: f64,
    /// Standard error.
    pub se: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
    /// Places with it (Horvitz–Thompson).
    pub total: f64,
    /// Standard error of the total.
    pub total_se: f64,
    /// Places there are, the sum of `1/π`.
    pub places: f64,
    /// Sites it rests on.
    pub sites: usize,
    /// `local mean` or `with replacement`.
    pub variance: String,
}
