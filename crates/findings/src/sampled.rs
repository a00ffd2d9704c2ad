//! A record boiled down to what the statistics ask of each sampled site.

use std::collections::{BTreeMap, HashMap};
use survey::{
    HowSeen, NotSampled, Origin, Rating, Sampling, Site, SiteId, SiteResult, SurveyRecord, TaxonId,
};
use units::Metres;

/// One sampled site. Taxa are places in the record's list.
#[derive(Debug)]
pub(crate) struct SampledSite<'r> {
    /// The planned site, when the plan has it.
    pub(crate) site: Option<&'r Site>,
    /// Measured depth.
    pub(crate) depth: Option<Metres>,
    /// A plant came up on the rake.
    pub(crate) plants: bool,
    /// Species of plants on the rake; none when a rake with plants was rated but not named.
    pub(crate) species: Option<usize>,
    /// Of these native; none when not known.
    pub(crate) natives: Option<usize>,
    /// Taxa on the rake with the largest rating over the throws, in order.
    pub(crate) on_rake: Vec<(usize, Option<Rating>)>,
    /// Taxa seen but not on the rake, in order.
    pub(crate) seen: Vec<usize>,
    /// Largest rating of a whole rake.
    pub(crate) total: Option<Rating>,
    /// A count was published for this site and no names.
    pub(crate) counted_only: bool,
    /// The rake was rated above zero though no plant is on record for it.
    pub(crate) rated_without_plants: bool,
}

/// All sampled sites of a record, and what became of the others.
#[derive(Debug)]
pub(crate) struct Sampled<'r> {
    pub(crate) sites: Vec<SampledSite<'r>>,
    pub(crate) passed_over: BTreeMap<NotSampled, usize>,
    /// Observations of a taxon that is not on the lake's list.
    pub(crate) unlisted: usize,
}

impl<'r> Sampled<'r> {
    /// Of no survey at all.
    pub(crate) fn none() -> Self {
        Self { sites: Vec::new(), passed_over: BTreeMap::new(), unlisted: 0 }
    }

    pub(crate) fn of(record: &'r SurveyRecord) -> Self {
        let places: HashMap<TaxonId, usize> =
            record.taxa.iter().enumerate().map(|(place, taxon)| (taxon.id, place)).collect();
        let planned: HashMap<SiteId, &Site> =
            record.sites.iter().map(|site| (site.id, site)).collect();
        let mut all = Self { sites: Vec::new(), passed_over: BTreeMap::new(), unlisted: 0 };
        for visit in &record.visits {
            match &visit.result {
                SiteResult::NotSampled(reason) => {
                    *all.passed_over.entry(*reason).or_default() += 1;
                }
                SiteResult::Sampled(sampling) => {
                    let mut site = boil_down(record, sampling, &places, &mut all.unlisted);
                    site.site = planned.get(&visit.site).copied();
                    site.depth = visit.depth;
                    all.sites.push(site);
                }
            }
        }
        all
    }
}

fn boil_down<'r>(
    record: &'r SurveyRecord,
    sampling: &'r Sampling,
    places: &HashMap<TaxonId, usize>,
    unlisted: &mut usize,
) -> SampledSite<'r> {
    let mut on_rake: Vec<(usize, Option<Rating>)> = Vec::new();
    let mut seen: Vec<usize> = Vec::new();
    let mut unknown_on_rake = false;
    for one in sampling.observations() {
        let raked = record.on_rake(one);
        let Some(&place) = places.get(&one.taxon) else {
            *unlisted += 1;
            unknown_on_rake |= raked;
            continue;
        };
        if raked {
            match on_rake.iter_mut().find(|(taxon, _)| *taxon == place) {
                Some((_, rating)) => *rating = (*rating).max(one.rating),
                None => on_rake.push((place, one.rating)),
            }
        } else if record.says_present(one.rating) && one.seen != HowSeen::Shoreline {
            seen.push(place);
        }
    }
    on_rake.sort_unstable_by_key(|(taxon, _)| *taxon);
    seen.sort_unstable();
    seen.dedup();
    seen.retain(|taxon| on_rake.binary_search_by_key(taxon, |(on, _)| *on).is_err());

    let plants_named = on_rake.iter().filter(|(taxon, _)| record.taxa[*taxon].is_plant()).count();
    let natives_named = on_rake
        .iter()
        .filter(|(taxon, _)| {
            record.taxa[*taxon].is_plant() && record.taxa[*taxon].origin == Origin::Native
        })
        .count();
    let total = sampling.throws().iter().filter_map(|throw| throw.total).max();
    let rated = record.value_of(total).is_some_and(|value| value > 0.0);
    let named = !on_rake.is_empty() || unknown_on_rake;
    let (plants, species, natives) = match sampling.reported() {
        _ if unknown_on_rake => (true, None, None),
        _ if plants_named > 0 => (true, Some(plants_named), Some(natives_named)),
        // a published count speaks for itself, also when it is zero
        Some(counts) => {
            (counts.species > 0, Some(usize::from(counts.species)), counts.native.map(usize::from))
        }
        // algae alone are no plant, whatever the rake was rated
        None if named || !rated => (false, Some(0), Some(0)),
        // the rake had plants that nobody named
        None => (true, None, None),
    };
    SampledSite {
        site: None,
        depth: None,
        plants,
        species,
        natives,
        on_rake,
        seen,
        total,
        counted_only: sampling.reported().is_some() && !named,
        rated_without_plants: rated && !plants,
    }
}
