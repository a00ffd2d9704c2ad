//! What one survey says.

mod chance;
mod community;
mod group;
mod note;
mod rating;
mod taxa;

pub use chance::{DesignFindings, TaxonDetection, design_weighted, detection};
pub use community::{Diversity, EstimatedRichness, FloristicFindings, RichnessCounts};
pub use group::{GroupFindings, GroupKey, GroupTaxon, by_depth, by_stratum, by_zone};
pub use note::Note;
pub use rating::{RatingCount, RatingSummary};
pub use taxa::{DepthCount, DepthQuartiles, TaxonFindings, TaxonFrequency};

use crate::Frequency;
use crate::sampled::{Sampled, SampledSite};
use crate::stats::Confidence;
use crate::stats::detection::upper_bound_after_blanks;
use std::collections::BTreeMap;
use survey::{NotSampled, SurveyId, SurveyRecord};
use units::Metres;

/// Choices a reader of the findings may make.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Width of a step in the depth tables; must be above zero.
    pub depth_step: Metres,
}

impl Default for Options {
    /// Half a metre.
    fn default() -> Self {
        Self { depth_step: Metres::new(0.5) }
    }
}

/// Everything one survey says, each figure with its denominator.
#[derive(Debug, Clone, PartialEq)]
pub struct SurveyFindings {
    /// The survey.
    pub survey: SurveyId,
    /// Its name.
    pub name: String,
    /// Key of its rating scale.
    pub scale: String,
    /// Sites by what came of them.
    pub sites: SiteCounts,
    /// Greatest measured depth at which a plant came up on the rake; none when none did.
    pub max_plant_depth: Option<Metres>,
    /// Sampled sites no deeper than that. A site at exactly that depth counts in.
    pub littoral_sites: usize,
    /// Sampled sites without a measured depth: in no littoral figure.
    pub sites_without_depth: usize,
    /// Sites with any plant.
    pub frequency_any: AnyFrequency,
    /// Rating of the whole rake.
    pub total_rating: RatingSummary,
    /// Mean species a site, four kinds.
    pub species_per_site: SpeciesPerSite,
    /// Species found.
    pub richness: RichnessCounts,
    /// Species estimated, unseen ones included; none without names or with fewer than two sites.
    pub estimated_richness: Option<EstimatedRichness>,
    /// Diversity from relative frequencies; none without named plants on the rake.
    pub diversity: Option<Diversity>,
    /// Share of all occurrences of plants that belong to the 1, 2, 3 … commonest: how far a few
    /// plants dominate.
    pub dominance: Vec<f64>,
    /// Floristic quality; none without a native species that has a coefficient.
    pub floristic_quality: Option<FloristicFindings>,
    /// Taxa found in any way, commonest first.
    pub taxa: Vec<TaxonFindings>,
    /// A taxon found nowhere may still stand at this share of sites (one-sided 95 %), perfect
    /// detection assumed; none when no site was sampled.
    pub missed_at_most: Option<f64>,
    /// The same by zone, zones by code; sites in no zone come last.
    pub by_zone: Vec<GroupFindings>,
    /// The same by step of depth; sites without a depth come last.
    pub by_depth: Vec<GroupFindings>,
    /// Occupancy and detection from repeated throws, for every taxon on the rake.
    pub detection: Vec<TaxonDetection>,
    /// Frequencies with the weights of the layout; none unless the plan has inclusion probabilities.
    pub design: Option<DesignFindings>,
    /// What a reader must know first.
    pub notes: Vec<Note>,
}

/// Sites by what came of them. Visited is sampled plus all of `not_sampled`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SiteCounts {
    /// In the plan, spares left out.
    pub planned: usize,
    /// Gone to.
    pub visited: usize,
    /// Sampled: the rake was thrown.
    pub sampled: usize,
    /// Sampled, with plants on the rake.
    pub vegetated: usize,
    /// Not sampled, by reason.
    pub not_sampled: BTreeMap<NotSampled, usize>,
}

/// Share of sites with any plant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AnyFrequency {
    /// Of all sampled sites.
    pub all: Frequency,
    /// Of littoral sites.
    pub littoral: Frequency,
}

/// A mean over sites.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SiteMean {
    /// The mean.
    pub mean: f64,
    /// Sites it is taken over.
    pub sites: usize,
}

/// Mean species a site; each none when there is no such site or nothing was counted there.
///
/// # References
/// The four denominators are those of Wisconsin's summary sheet: Hauxwell et al. (2010),
/// PUB-SS-1068 (from memory); they reproduce the published figures of Lake Wingra 2022.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeciesPerSite {
    /// Over littoral sites.
    pub littoral: Option<SiteMean>,
    /// Over sites where a species was found.
    pub vegetated: Option<SiteMean>,
    /// Native species over littoral sites.
    pub native_littoral: Option<SiteMean>,
    /// Native species over sites with a native species.
    pub native_where_native: Option<SiteMean>,
}

impl SurveyFindings {
    /// Works out everything a record says.
    ///
    /// # Assumptions
    /// Only sampled sites enter a denominator. Frequencies, relative frequencies, diversity and
    /// ratings are of plants on the rake; plants seen, beds and shoreline finds enter lists only.
    /// With several throws a site, a taxon is there when any throw has it, with its largest rating.
    /// # References
    /// Denominators: Hauxwell et al. (2010), PUB-SS-1068, Wisconsin DNR, data analysis (from memory).
    pub fn of(record: &SurveyRecord, options: &Options) -> Self {
        let sampled = Sampled::of(record);
        let sites = &sampled.sites;
        let count = |test: &dyn Fn(&SampledSite<'_>) -> bool| {
            sites.iter().filter(|site| test(site)).count()
        };
        let max_plant_depth = sites
            .iter()
            .filter(|site| site.plants)
            .filter_map(|site| site.depth)
            .reduce(Metres::max);
        let is_littoral = |site: &SampledSite<'_>| {
            max_plant_depth.is_some_and(|most| site.depth.is_some_and(|d| d <= most))
        };
        let vegetated = count(&|site| site.plants);
        let littoral_sites = count(&is_littoral);
        let without_names = sites.iter().any(|site| site.counted_only || site.species.is_none());
        let taxa = taxa::taxa(record, &sampled, &is_littoral, options.depth_step);
        let floristic = community::floristic(&taxa);
        let mut findings = Self {
            survey: record.survey.id,
            name: record.survey.name.clone(),
            scale: record.scale.key.clone(),
            sites: SiteCounts {
                planned: record.sites.iter().filter(|site| site.stands()).count(),
                visited: record.visits.len(),
                sampled: sites.len(),
                vegetated,
                not_sampled: sampled.passed_over.clone(),
            },
            max_plant_depth,
            littoral_sites,
            sites_without_depth: count(&|site| site.depth.is_none()),
            frequency_any: AnyFrequency {
                all: Frequency::of(vegetated, sites.len()),
                littoral: Frequency::of(
                    count(&|site| site.plants && is_littoral(site)),
                    littoral_sites,
                ),
            },
            total_rating: RatingSummary::of(
                record,
                sites.iter().filter_map(|site| site.total.map(Some)),
            ),
            species_per_site: species_per_site(sites, &is_littoral),
            richness: community::richness_counts(&taxa),
            estimated_richness: if without_names {
                None
            } else {
                community::estimated_richness(record, sites)
            },
            diversity: community::diversity(&taxa),
            dominance: community::dominance(&taxa),
            floristic_quality: floristic.as_ref().ok().cloned(),
            taxa,
            missed_at_most: (!sites.is_empty())
                .then(|| upper_bound_after_blanks(sites.len() as u64, Confidence::NINETY_FIVE)),
            by_zone: by_zone(record, &[]),
            by_depth: by_depth(record, options.depth_step),
            detection: detection(record),
            design: design_weighted(record).ok(),
            notes: Vec::new(),
        };
        findings.notes = note::notes(record, &sampled, &findings, floristic.err());
        findings
    }
}

fn species_per_site(
    sites: &[SampledSite<'_>],
    is_littoral: &dyn Fn(&SampledSite<'_>) -> bool,
) -> SpeciesPerSite {
    let all = |site: &SampledSite<'_>| site.species;
    let native = |site: &SampledSite<'_>| site.natives;
    let above_zero = |count: Option<usize>| count.filter(|count| *count > 0);
    SpeciesPerSite {
        littoral: mean(sites.iter().filter(|site| is_littoral(site)).filter_map(all)),
        vegetated: mean(sites.iter().filter_map(|site| above_zero(site.species))),
        native_littoral: mean(sites.iter().filter(|site| is_littoral(site)).filter_map(native)),
        native_where_native: mean(sites.iter().filter_map(|site| above_zero(site.natives))),
    }
}

fn mean(counts: impl Iterator<Item = usize>) -> Option<SiteMean> {
    let (sum, sites) = counts.fold((0, 0), |(sum, sites), count| (sum + count, sites + 1));
    (sites > 0).then(|| SiteMean { mean: sum as f64 / sites as f64, sites })
}

#[cfg(test)]
mod group_tests;
#[cfg(test)]
mod tests;
