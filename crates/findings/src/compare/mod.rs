//! Two surveys side by side: what restricts the comparison, then what changed.

pub(crate) mod change;
mod community;
pub(crate) mod names;
mod noise;
pub(crate) mod pairing;
pub(crate) mod rating;
mod richness;
pub(crate) mod warning;

pub use change::{Change, Difference, SiteLists, TaxonChange, Test, Verdict, Withheld};
pub use community::{Community, CommunityOptions, community};
pub use names::OtherNames;
pub use noise::{NOISE_SOURCE, NoiseBand, NoiseMeasure};
pub use rating::{OrdinalEffect, RatingChange, RatingShift};
pub use richness::{RichnessChange, RichnessSide};
pub use warning::Warning;

use crate::sampled::Sampled;
use crate::stats::adjust::{Adjustment, adjust};
use jiff::civil::Date;
use names::Readings;
use std::collections::{BTreeSet, HashSet};
use survey::{Code, SiteId, SurveyId, SurveyRecord};
use units::Metres;

/// What two surveys say about change.
///
/// Only presence on the rake at sampled sites is compared, over all compared sites, so the scales
/// need not be the same. Ratings are compared beside it where both surveys used one scale at the
/// same sites.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The earlier.
    pub from: ComparedSurvey,
    /// The later.
    pub to: ComparedSurvey,
    /// What differs between them, first of all.
    pub warnings: Vec<Warning>,
    /// Same sites or different ones.
    pub design: Design,
    /// Depth both surveys reached, when one of them stopped by rule: deeper sites are left out.
    pub shared_depth: Option<Metres>,
    /// Sites with any plant.
    pub any: Change,
    /// Sites that gained, lost and kept plants, for a map; none when the sites are different ones.
    pub any_places: Option<SiteLists>,
    /// Taxa found on the rake in either survey, commonest first.
    pub taxa: Vec<TaxonChange>,
    /// Richness on equal effort; none when a survey has fewer than two sites or no named plants.
    pub richness: Option<RichnessChange>,
    /// Changes beside what season and sampling do anyway.
    pub noise: Vec<NoiseBand>,
}

/// One side of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedSurvey {
    /// Key.
    pub survey: SurveyId,
    /// Name.
    pub name: String,
    /// First day.
    pub start: Option<Date>,
    /// Key of the scale.
    pub scale: String,
    /// Sites sampled.
    pub sampled: usize,
    /// Of these, compared.
    pub compared: usize,
}

/// How the sites of two surveys belong together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Design {
    /// The same sites both times; only sites sampled in both are compared.
    Paired {
        /// Such sites.
        pairs: usize,
    },
    /// Different sites.
    Independent,
}

impl Design {
    /// `paired` or `independent`.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Paired { .. } => "paired",
            Self::Independent => "independent",
        }
    }
}

impl Comparison {
    /// Compares an earlier record with a later one.
    ///
    /// # Assumptions
    /// A site code stands for one place; where both plans give a position more than 20 m apart, it
    /// does not. The design is paired when at least half the sites of the smaller survey pair up.
    /// Both records come from one lake book, so that taxa have one key.
    pub fn of(from: &SurveyRecord, to: &SurveyRecord) -> Self {
        let (first, second) = (Sampled::of(from), Sampled::of(to));
        let sites = pairing::compared_sites(from, to, &first, &second);
        let mut warnings = warning::warnings(from, to, &first, &second, &sites);
        let any = change::any_plant(&sites.compared);
        let mut taxa =
            adjust_for_number(change::taxa(from, to, (&first, &second), &sites.compared));
        warnings.extend(warning::of_names(&taxa));
        taxa.sort_by(|a, b| {
            let found = |one: &TaxonChange| one.change.from.k + one.change.to.k;
            found(b)
                .cmp(&found(a))
                .then_with(|| a.taxon.scientific_name.cmp(&b.taxon.scientific_name))
        });
        let side = |record: &SurveyRecord, sampled: &Sampled<'_>, compared| ComparedSurvey {
            survey: record.survey.id,
            name: record.survey.name.clone(),
            start: record.survey.start,
            scale: record.scale.key.clone(),
            sampled: sampled.sites.len(),
            compared,
        };
        let (compared_from, compared_to) = sites.compared.counts();
        Self {
            from: side(from, &first, compared_from),
            to: side(to, &second, compared_to),
            warnings,
            design: sites.compared.design(),
            shared_depth: sites.shared_depth,
            any,
            any_places: change::site_lists(&sites.compared, |site| site.plants, |site| site.plants),
            taxa,
            richness: RichnessChange::of(from, to, &sites.compared),
            noise: noise::bands(from, to, &sites.compared),
        }
    }

    /// The same zone by zone, for zones that both plans have, in the order of their codes. Each
    /// adjusts its own p values.
    pub fn by_zone(from: &SurveyRecord, to: &SurveyRecord) -> Vec<(Code, Self)> {
        let zones = |record: &SurveyRecord| -> BTreeSet<Code> {
            record.sites.iter().filter_map(|site| site.zone.clone()).collect()
        };
        zones(from)
            .intersection(&zones(to))
            .map(|zone| (zone.clone(), Self::of(&within(from, zone), &within(to, zone))))
            .collect()
    }
}

/// A record with the sites of one zone only.
fn within(record: &SurveyRecord, zone: &Code) -> SurveyRecord {
    let inside: HashSet<SiteId> = record
        .sites
        .iter()
        .filter(|site| site.zone.as_ref() == Some(zone))
        .map(|site| site.id)
        .collect();
    let mut part = record.clone();
    part.sites.retain(|site| inside.contains(&site.id));
    part.visits.retain(|visit| inside.contains(&visit.site));
    part
}

/// Benjamini–Hochberg over all taxa that were tested; the verdict follows the adjusted value, where the
/// names bear it out.
fn adjust_for_number(taxa: Vec<(TaxonChange, Option<Readings>)>) -> Vec<TaxonChange> {
    let (mut taxa, open): (Vec<TaxonChange>, Vec<Option<Readings>>) = taxa.into_iter().unzip();
    let tested: Vec<usize> =
        (0..taxa.len()).filter(|place| taxa[*place].change.p.is_some()).collect();
    let p_values: Vec<f64> = tested.iter().filter_map(|place| taxa[*place].change.p).collect();
    if let Ok(adjusted) = adjust(&p_values, Adjustment::BenjaminiHochberg) {
        for (place, p) in tested.into_iter().zip(adjusted) {
            taxa[place].change.settle(p);
            taxa[place].change.p_adjusted = Some(p);
        }
    }
    for (taxon, readings) in taxa.iter_mut().zip(open) {
        let change = &mut taxon.change;
        let adjusted = change
            .p_adjusted
            .zip(change.p)
            .map_or(1.0, |(to, from)| if from > 0.0 { to / from } else { 1.0 });
        taxon.names = readings.map(|one| one.settle(change, adjusted));
    }
    taxa
}

#[cfg(test)]
mod community_tests;
#[cfg(test)]
mod tests;
