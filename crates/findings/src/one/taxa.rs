use super::RatingSummary;
use crate::Frequency;
use crate::sampled::{Sampled, SampledSite};
use crate::stats::quantile::quantile;
use std::collections::HashSet;
use survey::{HowSeen, Rating, SiteResult, SurveyRecord, Taxon, TaxonId};
use units::Metres;

/// What a survey says of one taxon.
#[derive(Debug, Clone, PartialEq)]
pub struct TaxonFindings {
    /// The taxon as on the lake's list.
    pub taxon: Taxon,
    /// False for a taxon outside the survey's scope that turned up all the same.
    pub looked_for: bool,
    /// Sites where it came up on the rake.
    pub sites: usize,
    /// Sites where it was only seen.
    pub visuals: usize,
    /// Noted in a surface bed.
    pub in_beds: bool,
    /// Found on the shore.
    pub on_shore: bool,
    /// Frequencies.
    pub frequency: TaxonFrequency,
    /// Its occurrences over those of all plants; none for algae and without any.
    pub relative_frequency: Option<f64>,
    /// Ratings where found, the largest throw of each site.
    pub rating: RatingSummary,
    /// Greatest measured depth on the rake.
    pub max_depth: Option<Metres>,
    /// Depths on the rake in quarters; none without a measured depth.
    pub depth_quartiles: Option<DepthQuartiles>,
    /// Sites by depth, from the shore to the deepest sampled site.
    pub depths: Vec<DepthCount>,
}

/// Depths in quarters of the sites, those without a depth left out.
///
/// # Formula
/// Linear interpolation between the depths in order: type 7 of Hyndman & Fan (1996), The American
/// Statistician 50: 361–365.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DepthQuartiles {
    /// Shallowest.
    pub least: Metres,
    /// A quarter of the sites is no deeper.
    pub lower: Metres,
    /// Half of them.
    pub median: Metres,
    /// Three quarters.
    pub upper: Metres,
    /// Deepest.
    pub greatest: Metres,
    /// Sites with a measured depth.
    pub sites: usize,
}

impl DepthQuartiles {
    fn of(depths: impl Iterator<Item = Metres>) -> Option<Self> {
        let mut depths: Vec<f64> = depths.map(Metres::metres).collect();
        depths.sort_by(f64::total_cmp);
        let at = |q: f64| quantile(&depths, q).map(Metres::new);
        Some(Self {
            least: at(0.0)?,
            lower: at(0.25)?,
            median: at(0.5)?,
            upper: at(0.75)?,
            greatest: at(1.0)?,
            sites: depths.len(),
        })
    }
}

/// Frequency over three denominators.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TaxonFrequency {
    /// Of all sampled sites.
    pub all: Frequency,
    /// Of littoral sites.
    pub littoral: Frequency,
    /// Of sites with any plant.
    pub vegetated: Frequency,
}

/// Sites within a step of depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DepthCount {
    /// From, itself in.
    pub from: Metres,
    /// To, itself out.
    pub to: Metres,
    /// Sampled sites.
    pub sampled: usize,
    /// Of these, with the taxon on the rake.
    pub found: usize,
}

/// Most steps of a depth table; a finer step is widened by doubling.
const MOST_STEPS: usize = 200;

pub(super) fn taxa(
    record: &SurveyRecord,
    sampled: &Sampled<'_>,
    is_littoral: &dyn Fn(&SampledSite<'_>) -> bool,
    depth_step: Metres,
) -> Vec<TaxonFindings> {
    let sites = &sampled.sites;
    let mut tallies = vec![Tally::default(); record.taxa.len()];
    let littoral: Vec<bool> = sites.iter().map(is_littoral).collect();
    for (number, site) in sites.iter().enumerate() {
        for (taxon, rating) in &site.on_rake {
            let tally = &mut tallies[*taxon];
            tally.found_at.push(number);
            tally.littoral += usize::from(littoral[number]);
            tally.vegetated += usize::from(site.plants);
            tally.ratings.push(*rating);
        }
        for taxon in &site.seen {
            tallies[*taxon].visuals += 1;
        }
    }
    let in_beds: HashSet<TaxonId> = record.beds.iter().flat_map(|bed| &bed.taxa).copied().collect();
    let on_shore = on_shore(record);
    let occurrences: usize = record
        .taxa
        .iter()
        .zip(&tallies)
        .filter(|(taxon, _)| taxon.is_plant())
        .map(|(_, tally)| tally.found_at.len())
        .sum();
    let ladder = DepthLadder::over(sites, depth_step);
    let littoral_sites = littoral.iter().filter(|inside| **inside).count();
    let vegetated_sites = sites.iter().filter(|site| site.plants).count();

    let mut findings: Vec<TaxonFindings> = record
        .taxa
        .iter()
        .zip(tallies)
        .map(|(taxon, tally)| {
            let found = tally.found_at.len();
            let depths = || tally.found_at.iter().filter_map(|number| sites[*number].depth);
            TaxonFindings {
                looked_for: record.survey.scope.covers(taxon.id),
                sites: found,
                visuals: tally.visuals,
                in_beds: in_beds.contains(&taxon.id),
                on_shore: on_shore.contains(&taxon.id),
                frequency: TaxonFrequency {
                    all: Frequency::of(found, sites.len()),
                    littoral: Frequency::of(tally.littoral, littoral_sites),
                    vegetated: Frequency::of(tally.vegetated, vegetated_sites),
                },
                relative_frequency: (taxon.is_plant() && occurrences > 0)
                    .then(|| found as f64 / occurrences as f64),
                max_depth: depths().reduce(Metres::max),
                depth_quartiles: DepthQuartiles::of(depths()),
                depths: ladder.count(depths()),
                rating: RatingSummary::of(record, tally.ratings.into_iter()),
                taxon: taxon.clone(),
            }
        })
        .filter(|one| one.sites + one.visuals > 0 || one.in_beds || one.on_shore)
        .collect();
    findings.sort_by(|a, b| {
        (b.sites, b.visuals)
            .cmp(&(a.sites, a.visuals))
            .then_with(|| a.taxon.scientific_name.cmp(&b.taxon.scientific_name))
    });
    findings
}

#[derive(Debug, Clone, Default)]
struct Tally {
    found_at: Vec<usize>,
    littoral: usize,
    vegetated: usize,
    visuals: usize,
    ratings: Vec<Option<Rating>>,
}

fn on_shore(record: &SurveyRecord) -> HashSet<TaxonId> {
    let noted_at_sites = record.visits.iter().filter_map(|visit| match &visit.result {
        SiteResult::Sampled(sampling) => Some(sampling),
        SiteResult::NotSampled(_) => None,
    });
    noted_at_sites
        .flat_map(survey::Sampling::observations)
        .filter(|one| one.seen == HowSeen::Shoreline && record.says_present(one.rating))
        .map(|one| one.taxon)
        .chain(record.shoreline.iter().map(|find| find.taxon))
        .collect()
}

/// Equal steps of depth from the surface to the deepest sampled site.
pub(super) struct DepthLadder {
    step: f64,
    sampled: Vec<usize>,
}

impl DepthLadder {
    pub(super) fn over(sites: &[SampledSite<'_>], step: Metres) -> Self {
        let deepest = sites.iter().filter_map(|site| site.depth).reduce(Metres::max);
        let mut ladder = Self { step: step.metres(), sampled: Vec::new() };
        let Some(deepest) = deepest else { return ladder };
        if ladder.step <= 0.0 {
            ladder.step = Self::fallback();
        }
        while ladder.rung(deepest) >= MOST_STEPS {
            ladder.step *= 2.0;
        }
        ladder.sampled = vec![0; ladder.rung(deepest) + 1];
        for depth in sites.iter().filter_map(|site| site.depth) {
            let rung = ladder.rung(depth);
            ladder.sampled[rung] += 1;
        }
        ladder
    }

    fn fallback() -> f64 {
        super::Options::default().depth_step.metres()
    }

    /// A depth that is a whole number of steps but for rounding belongs to the deeper step.
    pub(super) fn rung(&self, depth: Metres) -> usize {
        (depth.metres() / self.step + 1e-9).floor().max(0.0) as usize
    }

    /// Both ends of every step.
    pub(super) fn steps(&self) -> impl Iterator<Item = (Metres, Metres)> {
        let end = |rung: usize| Metres::new(rung as f64 * self.step);
        (0..self.sampled.len()).map(move |rung| (end(rung), end(rung + 1)))
    }

    fn count(&self, found: impl Iterator<Item = Metres>) -> Vec<DepthCount> {
        let mut counts: Vec<DepthCount> = self
            .sampled
            .iter()
            .zip(self.steps())
            .map(|(sampled, (from, to))| DepthCount { from, to, sampled: *sampled, found: 0 })
            .collect();
        for depth in found {
            counts[self.rung(depth)].found += 1;
        }
        counts
    }
}
