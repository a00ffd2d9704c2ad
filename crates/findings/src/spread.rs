//! Where did a plant move: its middle, the sites it gained and lost, where it was found first.

use crate::compare::change::{SiteLists, has, site_lists};
use crate::compare::pairing::{Compared, compared_sites};
use crate::compare::warning::middle_day;
use crate::random::Draw;
use crate::sampled::{Sampled, SampledSite};
use crate::stats::Estimate;
use crate::stats::quantile::middle_95;
use jiff::civil::Date;
use std::collections::BTreeMap;
use survey::{Code, Site, SurveyId, SurveyRecord, TaxonId};
use thiserror::Error;

/// East and north in metres of one projected system.
pub type Place = [f64; 2];

/// What is asked.
pub struct Question<'a> {
    /// Earlier survey.
    pub from: &'a SurveyRecord,
    /// Later survey.
    pub to: &'a SurveyRecord,
    /// The plant.
    pub taxon: TaxonId,
    /// Where a site is; none leaves it out.
    pub place: &'a dyn Fn(&Site) -> Option<Place>,
    /// How far apart two places are, by water say; [`straight`] unless there is better.
    pub distance: &'a dyn Fn(Place, Place) -> f64,
    /// Launches by name, to say which is nearest to the sites gained.
    pub launches: &'a [(String, Place)],
    /// Resamples and permutations.
    pub resamples: u32,
    /// Their seed, stored with the result.
    pub seed: u64,
}

/// Distance in a straight line.
pub fn straight(one: Place, other: Place) -> f64 {
    (one[0] - other[0]).hypot(one[1] - other[1])
}

/// Where a plant moved between two surveys.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// The plant.
    pub taxon: TaxonId,
    /// Shift of its middle, or why there is none.
    pub shift: Result<Shift, NoShift>,
    /// Sites compared that have a place: earlier, later.
    pub sites: (usize, usize),
    /// Of these, with the plant.
    pub found: (usize, usize),
    /// Sites gained, lost, kept; none when the sites are different ones.
    pub places: Option<SiteLists>,
    /// Zones where it was found later only, and zones sampled both times where it was found earlier
    /// only.
    pub zones: ZoneLists,
    /// The launch nearest to each site gained, with the distance in metres, in the order of `places`.
    pub nearest_launch: Vec<(Code, String, f64)>,
}

/// Zones by what became of a plant there. A zone not sampled both times is in neither.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ZoneLists {
    /// Found the second time only.
    pub gained: Vec<Code>,
    /// Found the first time only.
    pub lost: Vec<Code>,
}

/// Shift of the middle of the sites with a plant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shift {
    /// Middle earlier.
    pub from: Place,
    /// Middle later.
    pub to: Place,
    /// Metres, by the distance asked for. The limits are of the resampled shift, negative where it
    /// points away from the one observed: an interval that reaches below zero shows no direction.
    pub metres: Estimate,
    /// Direction in degrees clockwise from the north of the grid.
    pub bearing: f64,
    /// Permutation p of no shift.
    pub p: f64,
    /// Resamples and permutations.
    pub resamples: u32,
    /// Their seed.
    pub seed: u64,
}

/// Why there is no shift.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum NoShift {
    /// Too few finds in one of the surveys.
    #[error(
        "found at `{from}` and `{to}` sites with a position: a middle needs at least 3 both times"
    )]
    TooFewFinds {
        /// Earlier.
        from: usize,
        /// Later.
        to: usize,
    },
    /// The plant was not looked for in one of the surveys.
    #[error("the plant was not looked for in both surveys")]
    NotLookedFor,
}

/// A sampled site with its place and whether the plant is there.
type Seen = (Place, bool);

impl Spread {
    /// Answers a question.
    ///
    /// # Formula
    /// Middle: mean east and north of the sites with the plant. Interval: sites drawn anew with
    /// replacement (pairs together), the middle 95 % of the distances, each with the sign of its
    /// component along the shift observed. p: the two visits of a site (same sites), or all sites
    /// between the surveys (different sites), change places; share of shifts as long.
    /// # Units
    /// Metres, degrees.
    /// # Assumptions
    /// Both surveys sampled the same water alike: a middle also moves when the sites do. The middle
    /// may lie on land; the distance function has to bear with it.
    /// # References
    /// Bootstrap: Efron & Tibshirani (1993), ch. 13; centroids of distributions: Syrjala (1996),
    /// Ecology 77: 75–80, for the permutation of surveys (both from memory).
    pub fn of(question: &Question<'_>) -> Self {
        let (first, second) = (Sampled::of(question.from), Sampled::of(question.to));
        let compared = compared_sites(question.from, question.to, &first, &second).compared;
        let listed =
            |record: &SurveyRecord| record.taxa.iter().position(|taxon| taxon.id == question.taxon);
        let (here, there) = (listed(question.from), listed(question.to));
        let seen = |site: &SampledSite<'_>, taxon: Option<usize>| -> Option<Seen> {
            Some(((question.place)(site.site?)?, has(site, taxon)))
        };
        let (one, other, paired): (Vec<Seen>, Vec<Seen>, bool) = match &compared {
            Compared::Paired(pairs) => {
                let both = pairs
                    .iter()
                    .filter_map(|(one, other)| Some((seen(one, here)?, seen(other, there)?)));
                let (one, other) = both.unzip();
                (one, other, true)
            }
            Compared::Independent(one, other) => (
                one.iter().filter_map(|site| seen(site, here)).collect(),
                other.iter().filter_map(|site| seen(site, there)).collect(),
                false,
            ),
        };
        let count = |sites: &[Seen]| sites.iter().filter(|(_, found)| *found).count();
        let found = (count(&one), count(&other));
        let looked_for = question.from.survey.scope.covers(question.taxon)
            && question.to.survey.scope.covers(question.taxon);
        let shift = if !looked_for {
            Err(NoShift::NotLookedFor)
        } else if found.0 < 3 || found.1 < 3 {
            Err(NoShift::TooFewFinds { from: found.0, to: found.1 })
        } else {
            shift(question, &one, &other, paired)
                .ok_or(NoShift::TooFewFinds { from: found.0, to: found.1 })
        };
        let places = site_lists(&compared, |site| has(site, here), |site| has(site, there));
        let nearest_launch = places
            .iter()
            .flat_map(|lists| &lists.gained)
            .filter_map(|code| {
                let site = question.to.sites.iter().find(|site| site.code == *code)?;
                let at = (question.place)(site)?;
                let (name, way) = question
                    .launches
                    .iter()
                    .map(|(name, launch)| (name, (question.distance)(at, *launch)))
                    .min_by(|a, b| a.1.total_cmp(&b.1))?;
                Some((code.clone(), name.clone(), way))
            })
            .collect();
        Self {
            taxon: question.taxon,
            shift,
            sites: (one.len(), other.len()),
            found,
            zones: zone_lists((&first, here), (&second, there)),
            places,
            nearest_launch,
        }
    }
}

fn middle(sites: impl Iterator<Item = Seen>) -> Option<Place> {
    let (mut east, mut north, mut count) = (0.0, 0.0, 0.0);
    for (place, _) in sites.filter(|(_, found)| *found) {
        east += place[0];
        north += place[1];
        count += 1.0;
    }
    (count > 0.0).then(|| [east / count, north / count])
}

fn shift(question: &Question<'_>, one: &[Seen], other: &[Seen], paired: bool) -> Option<Shift> {
    let (from, to) = (middle(one.iter().copied())?, middle(other.iter().copied())?);
    let along = [to[0] - from[0], to[1] - from[1]];
    let metres = (question.distance)(from, to);
    let mut draw = Draw::new(question.seed);
    let mut resampled: Vec<f64> = (0..question.resamples)
        .filter_map(|_| {
            let (a, b) = if paired {
                let picks: Vec<usize> = (0..one.len()).map(|_| draw.below(one.len())).collect();
                (
                    middle(picks.iter().map(|pick| one[*pick]))?,
                    middle(picks.iter().map(|pick| other[*pick]))?,
                )
            } else {
                (
                    middle((0..one.len()).map(|_| one[draw.below(one.len())]))?,
                    middle((0..other.len()).map(|_| other[draw.below(other.len())]))?,
                )
            };
            let component = (b[0] - a[0]) * along[0] + (b[1] - a[1]) * along[1];
            Some((question.distance)(a, b) * if component < 0.0 { -1.0 } else { 1.0 })
        })
        .collect();
    let (low, high) = middle_95(&mut resampled)?;
    let mut as_far = 0;
    let mut mixed: Vec<Seen> = one.iter().chain(other).copied().collect();
    for _ in 0..question.resamples {
        if paired {
            for place in 0..one.len() {
                if draw.coin() {
                    mixed.swap(place, place + one.len());
                }
            }
        } else {
            draw.shuffle(&mut mixed);
        }
        let (a, b) = mixed.split_at(one.len());
        // a survey left without finds has moved beyond measure
        let way = middle(a.iter().copied())
            .zip(middle(b.iter().copied()))
            .map_or(f64::INFINITY, |(a, b)| (question.distance)(a, b));
        as_far += u32::from(way >= metres * (1.0 - 1e-9));
    }
    Some(Shift {
        from,
        to,
        metres: Estimate { value: metres, low: low.min(metres), high: high.max(metres) },
        bearing: (along[0].atan2(along[1]).to_degrees() + 360.0) % 360.0,
        p: f64::from(1 + as_far) / f64::from(1 + question.resamples),
        resamples: question.resamples,
        seed: question.seed,
    })
}

fn zone_lists(
    first: (&Sampled<'_>, Option<usize>),
    second: (&Sampled<'_>, Option<usize>),
) -> ZoneLists {
    let zones = |(sampled, taxon): (&Sampled<'_>, Option<usize>)| {
        let mut zones: BTreeMap<Code, bool> = BTreeMap::new();
        for site in &sampled.sites {
            if let Some(zone) = site.site.and_then(|site| site.zone.clone()) {
                *zones.entry(zone).or_default() |= has(site, taxon);
            }
        }
        zones
    };
    let (had, has) = (zones(first), zones(second));
    let mut lists = ZoneLists::default();
    for (zone, found) in has {
        match (had.get(&zone), found) {
            (Some(false), true) => lists.gained.push(zone),
            (Some(true), false) => lists.lost.push(zone),
            _ => {}
        }
    }
    lists
}

/// Where and when a plant was found first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FirstFound {
    /// The zone; none for sites in no zone.
    pub zone: Option<Code>,
    /// The survey that found it first.
    pub survey: SurveyId,
    /// Its name.
    pub name: String,
    /// The day halfway through it.
    pub date: Option<Date>,
    /// Sites there with it.
    pub sites: usize,
    /// Earlier surveys that sampled the zone, looked for it and did not find it: zero means it may
    /// always have been there.
    pub blanks_before: usize,
}

/// First finds on the rake by zone, the earliest first, over records in any order.
pub fn first_found(records: &[&SurveyRecord], taxon: TaxonId) -> Vec<FirstFound> {
    let mut ordered: Vec<&SurveyRecord> = records.to_vec();
    ordered.sort_by_key(|record| {
        let day = middle_day(&record.survey);
        (day.is_none(), day, record.survey.name.clone())
    });
    let mut found: Vec<FirstFound> = Vec::new();
    let mut blanks: BTreeMap<Option<Code>, usize> = BTreeMap::new();
    for record in ordered {
        if !record.survey.scope.covers(taxon) {
            continue;
        }
        let place = record.taxa.iter().position(|one| one.id == taxon);
        let mut zones: BTreeMap<Option<Code>, usize> = BTreeMap::new();
        for site in Sampled::of(record).sites {
            let zone = site.site.and_then(|site| site.zone.clone());
            *zones.entry(zone).or_default() += usize::from(has(&site, place));
        }
        for (zone, sites) in zones {
            if found.iter().any(|one| one.zone == zone) {
                continue;
            }
            if sites == 0 {
                *blanks.entry(zone).or_default() += 1;
                continue;
            }
            found.push(FirstFound {
                survey: record.survey.id,
                name: record.survey.name.clone(),
                date: middle_day(&record.survey),
                sites,
                blanks_before: blanks.get(&zone).copied().unwrap_or(0),
                zone,
            });
        }
    }
    found
}

impl std::fmt::Debug for Question<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Question")
            .field("from", &self.from.survey.name)
            .field("to", &self.to.survey.name)
            .field("taxon", &self.taxon)
            .field("seed", &self.seed)
            .finish_non_exhaustive()
    }
}

#[cfg(test)]
mod tests;
