use super::{RatingSummary, SiteMean, mean};
use crate::Frequency;
use crate::one::taxa::DepthLadder;
use crate::sampled::{Sampled, SampledSite};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use survey::{Code, NotSampled, Site, SiteId, SiteResult, SurveyRecord, TaxonId};
use units::Metres;

/// What sites are taken together by.
#[derive(Debug, Clone, PartialEq)]
pub enum GroupKey {
    /// A zone of the lake.
    Zone(Code),
    /// In no zone, or the plan does not say.
    NoZone,
    /// A step of measured depth.
    Depth {
        /// From, itself in.
        from: Metres,
        /// To, itself out.
        to: Metres,
    },
    /// Depth not measured.
    NoDepth,
    /// A stratum of the layout, or any other grouping of the caller.
    Stratum(String),
}

/// What a survey says of a part of its sites.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupFindings {
    /// The part.
    pub key: GroupKey,
    /// Sites planned there, spares left out; none for depths, which are not planned.
    pub planned: Option<usize>,
    /// Sites sampled. Zero when nobody sampled there: every figure is then unknown, not zero.
    pub sampled: usize,
    /// Not sampled, by reason.
    pub not_sampled: BTreeMap<NotSampled, usize>,
    /// Sites with any plant.
    pub frequency_any: Frequency,
    /// Mean species a sampled site; none where nothing was counted.
    pub species_per_site: Option<SiteMean>,
    /// Taxa of plants on the rake.
    pub richness: usize,
    /// Taxa on the rake, commonest first.
    pub taxa: Vec<GroupTaxon>,
}

/// One taxon in a part of the sites.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupTaxon {
    /// The taxon.
    pub taxon: TaxonId,
    /// Its code.
    pub code: Code,
    /// Of the sampled sites of the part.
    pub frequency: Frequency,
    /// Ratings where found.
    pub rating: RatingSummary,
}

/// Findings by zone, in the order of their codes. `zones` are zones of the lake that shall be listed
/// even when the plan has no site in them. Sites in no zone come last.
pub fn by_zone(record: &SurveyRecord, zones: &[Code]) -> Vec<GroupFindings> {
    let mut names: BTreeSet<Option<&Code>> = zones.iter().map(Some).collect();
    names.extend(record.sites.iter().map(|site| site.zone.as_ref()));
    let mut keys: Vec<Option<&Code>> = names.into_iter().collect();
    let none_first = keys.first() == Some(&None);
    keys.rotate_left(usize::from(none_first));
    let places: HashMap<Option<&Code>, usize> =
        keys.iter().enumerate().map(|(place, key)| (*key, place)).collect();
    let place = |site: &Site| places.get(&site.zone.as_ref()).copied();
    let named = keys.iter().map(|key| key.map_or(GroupKey::NoZone, |c| GroupKey::Zone(c.clone())));
    planned_groups(record, named.collect(), &place)
}

/// Findings by stratum, in the order of the names; `stratum` says which one a site belongs to. Sites
/// without a stratum are left out.
pub fn by_stratum(
    record: &SurveyRecord,
    stratum: &dyn Fn(&Site) -> Option<String>,
) -> Vec<GroupFindings> {
    let names: BTreeSet<String> = record.sites.iter().filter_map(stratum).collect();
    let names: Vec<String> = names.into_iter().collect();
    let place = |site: &Site| names.binary_search(&stratum(site)?).ok();
    planned_groups(record, names.iter().cloned().map(GroupKey::Stratum).collect(), &place)
}

/// Findings by step of measured depth, from the surface to the deepest sampled site; sites without a
/// depth come last, when there are any.
pub fn by_depth(record: &SurveyRecord, step: Metres) -> Vec<GroupFindings> {
    let sampled = Sampled::of(record);
    let ladder = DepthLadder::over(&sampled.sites, step);
    let mut keys: Vec<GroupKey> =
        ladder.steps().map(|(from, to)| GroupKey::Depth { from, to }).collect();
    let without = keys.len();
    if sampled.sites.iter().any(|site| site.depth.is_none()) {
        keys.push(GroupKey::NoDepth);
    }
    let of = |site: &SampledSite<'_>| Some(site.depth.map_or(without, |depth| ladder.rung(depth)));
    groups(record, &sampled, keys, &of)
}

fn planned_groups(
    record: &SurveyRecord,
    keys: Vec<GroupKey>,
    place: &dyn Fn(&Site) -> Option<usize>,
) -> Vec<GroupFindings> {
    let sampled = Sampled::of(record);
    let mut found = groups(record, &sampled, keys, &|site| place(site.site?));
    for group in &mut found {
        group.planned = Some(0);
    }
    let planned: HashMap<SiteId, &Site> = record.sites.iter().map(|site| (site.id, site)).collect();
    for site in record.sites.iter().filter(|site| site.stands()) {
        if let Some(count) = place(site).and_then(|place| found[place].planned.as_mut()) {
            *count += 1;
        }
    }
    for visit in &record.visits {
        if let SiteResult::NotSampled(reason) = visit.result
            && let Some(place) = planned.get(&visit.site).and_then(|site| place(site))
        {
            *found[place].not_sampled.entry(reason).or_default() += 1;
        }
    }
    found
}

fn groups(
    record: &SurveyRecord,
    sampled: &Sampled<'_>,
    keys: Vec<GroupKey>,
    place: &dyn Fn(&SampledSite<'_>) -> Option<usize>,
) -> Vec<GroupFindings> {
    let mut members: Vec<Vec<&SampledSite<'_>>> = keys.iter().map(|_| Vec::new()).collect();
    for site in &sampled.sites {
        if let Some(place) = place(site) {
            members[place].push(site);
        }
    }
    keys.into_iter().zip(members).map(|(key, sites)| group(record, key, &sites)).collect()
}

fn group(record: &SurveyRecord, key: GroupKey, sites: &[&SampledSite<'_>]) -> GroupFindings {
    let mut ratings = vec![Vec::new(); record.taxa.len()];
    for site in sites {
        for (taxon, rating) in &site.on_rake {
            ratings[*taxon].push(*rating);
        }
    }
    let mut taxa: Vec<GroupTaxon> = record
        .taxa
        .iter()
        .zip(&ratings)
        .filter(|(_, ratings)| !ratings.is_empty())
        .map(|(taxon, ratings)| GroupTaxon {
            taxon: taxon.id,
            code: taxon.code.clone(),
            frequency: Frequency::of(ratings.len(), sites.len()),
            rating: RatingSummary::of(record, ratings.iter().copied()),
        })
        .collect();
    taxa.sort_by(|a, b| b.frequency.k.cmp(&a.frequency.k).then_with(|| a.code.cmp(&b.code)));
    let plants = record.taxa.iter().zip(&ratings);
    GroupFindings {
        key,
        planned: None,
        sampled: sites.len(),
        not_sampled: BTreeMap::new(),
        frequency_any: Frequency::of(sites.iter().filter(|site| site.plants).count(), sites.len()),
        species_per_site: mean(sites.iter().filter_map(|site| site.species)),
        richness: plants.filter(|(taxon, found)| taxon.is_plant() && !found.is_empty()).count(),
        taxa,
    }
}
