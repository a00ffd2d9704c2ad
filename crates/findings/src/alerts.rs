//! What the lake board should hear of at once: a new invader, a new zone, a limit passed.

use crate::Frequency;
use crate::compare::change::has;
use crate::compare::warning::middle_day;
use crate::sampled::Sampled;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};
use survey::{Code, HowSeen, Origin, SiteResult, SurveyId, SurveyRecord, Taxon, TaxonId};
use thiserror::Error;

/// A limit the lake board wrote down. There is no limit of ours: without one nothing is said.
#[derive(Debug, Clone, PartialEq)]
pub struct Policy {
    /// The board's own words.
    pub text: String,
    /// Day it was adopted; surveys before it are not held against it.
    pub adopted: Date,
    /// The plant; none for every introduced plant, one by one.
    pub taxon: Option<TaxonId>,
    /// The zone; none for the whole lake.
    pub zone: Option<Code>,
    /// What it limits.
    pub limit: Limit,
}

/// What is said to be too much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// A frequency over sampled sites above this proportion.
    FrequencyAbove(f64),
    /// More sites than this.
    SitesAbove(usize),
    /// A rating at any site at or above this number of the scale's steps.
    RatingAtLeast(u8),
}

/// A policy that cannot be applied.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum PolicyError {
    /// No words.
    #[error(
        "a limit needs the text of the policy it comes from\nhint: copy the sentence the board adopted"
    )]
    NoText,
    /// A frequency that is none.
    #[error("limit `{value}` is no proportion\nhint: write 10 % as `0.10`")]
    NotAProportion {
        /// What was given.
        value: f64,
    },
}

impl Policy {
    /// Checks a policy before it is kept.
    ///
    /// # Errors
    /// [`PolicyError`] without text or with a limit that is no proportion.
    pub fn check(&self) -> Result<(), PolicyError> {
        if self.text.trim().is_empty() {
            return Err(PolicyError::NoText);
        }
        match self.limit {
            Limit::FrequencyAbove(value) if !(0.0..=1.0).contains(&value) => {
                Err(PolicyError::NotAProportion { value })
            }
            _ => Ok(()),
        }
    }
}

/// Something to be heard of.
#[derive(Debug, Clone, PartialEq)]
pub struct Alert {
    /// The survey it comes from.
    pub survey: SurveyId,
    /// The plant.
    pub taxon: Taxon,
    /// What happened.
    pub kind: AlertKind,
}

/// What happened.
#[derive(Debug, Clone, PartialEq)]
pub enum AlertKind {
    /// An introduced or listed plant nobody had recorded in this lake before.
    FirstInLake {
        /// Earlier surveys that looked for it and did not find it. With none, it may always have been
        /// there.
        blanks_before: usize,
        /// Sites with it, on the rake or seen.
        sites: Vec<Code>,
        /// Also or only on the shore or in a surface bed.
        beside_sites: bool,
    },
    /// An introduced or listed plant in a zone where nobody had recorded it.
    FirstInZone {
        /// The zone.
        zone: Code,
        /// Earlier surveys that sampled the zone, looked for it and did not find it.
        blanks_before: usize,
        /// Sites with it.
        sites: Vec<Code>,
    },
    /// A limit of the board is passed.
    AboveLimit {
        /// The policy.
        policy: Policy,
        /// Of the sampled sites it speaks of.
        frequency: Frequency,
        /// True when the lower end of the 95 % interval also passes a limit of frequency, so that it is
        /// not for chance alone; none for other limits.
        certain: Option<bool>,
    },
}

impl Alert {
    /// The alert in a sentence with its figures.
    pub fn sentence(&self) -> String {
        let name = self.taxon.spoken_name();
        let codes =
            |sites: &[Code]| sites.iter().map(Code::to_string).collect::<Vec<_>>().join(", ");
        let blanks = |blanks: usize| match blanks {
            0 => "no earlier survey had looked for it".to_owned(),
            1 => "1 earlier survey did not find it".to_owned(),
            many => format!("{many} earlier surveys did not find it"),
        };
        match &self.kind {
            AlertKind::FirstInLake { blanks_before, sites, beside_sites } => {
                let place = match (sites.is_empty(), beside_sites) {
                    (true, _) => "on the shore or in a surface bed".to_owned(),
                    (false, true) => {
                        format!("at sites {}, and on the shore or in a surface bed", codes(sites))
                    }
                    (false, false) => format!("at sites {}", codes(sites)),
                };
                format!("First record of {name} in the lake: {place} ({}).", blanks(*blanks_before))
            }
            AlertKind::FirstInZone { zone, blanks_before, sites } => format!(
                "First record of {name} in zone {zone}: at sites {} ({}).",
                codes(sites),
                blanks(*blanks_before)
            ),
            AlertKind::AboveLimit { policy, frequency, certain } => {
                let doubt = if *certain == Some(false) {
                    " The interval reaches below the limit, so chance alone may have passed it."
                } else {
                    ""
                };
                format!(
                    "{name} passed the board's limit: {} of {} sampled sites. The policy of {}: \
                     “{}”{doubt}",
                    frequency.k,
                    frequency.n,
                    policy.adopted,
                    policy.text.trim()
                )
            }
        }
    }
}

/// What one survey knew of each plant: zones sampled, sites with it by zone, finds beside sites.
struct Known<'r> {
    record: &'r SurveyRecord,
    sampled: Sampled<'r>,
    sites: BTreeMap<TaxonId, Vec<(Code, Option<Code>)>>,
    beside: BTreeSet<TaxonId>,
}

impl<'r> Known<'r> {
    fn of(record: &'r SurveyRecord) -> Self {
        let sampled = Sampled::of(record);
        let mut sites: BTreeMap<TaxonId, Vec<(Code, Option<Code>)>> = BTreeMap::new();
        for site in &sampled.sites {
            let Some(planned) = site.site else { continue };
            let places = site.on_rake.iter().map(|(place, _)| place).chain(&site.seen);
            for place in places {
                let at = (planned.code.clone(), planned.zone.clone());
                sites.entry(record.taxa[*place].id).or_default().push(at);
            }
        }
        let on_shore = record.visits.iter().filter_map(|visit| match &visit.result {
            SiteResult::Sampled(sampling) => Some(sampling),
            SiteResult::NotSampled(_) => None,
        });
        let beside = on_shore
            .flat_map(survey::Sampling::observations)
            .filter(|one| one.seen == HowSeen::Shoreline && record.says_present(one.rating))
            .map(|one| one.taxon)
            .chain(record.shoreline.iter().map(|find| find.taxon))
            .chain(record.beds.iter().flat_map(|bed| bed.taxa.iter().copied()))
            .collect();
        Self { record, sampled, sites, beside }
    }

    fn looked_for(&self, taxon: TaxonId) -> bool {
        self.record.survey.scope.covers(taxon) && !self.sampled.sites.is_empty()
    }

    fn knows(&self, taxon: TaxonId) -> bool {
        self.sites.contains_key(&taxon) || self.beside.contains(&taxon)
    }

    fn in_zone(&self, taxon: TaxonId, zone: &Code) -> Vec<Code> {
        let all = self.sites.get(&taxon).into_iter().flatten();
        all.filter(|(_, at)| at.as_ref() == Some(zone)).map(|(code, _)| code.clone()).collect()
    }

    fn sampled_zone(&self, zone: &Code) -> bool {
        self.sampled
            .sites
            .iter()
            .any(|site| site.site.is_some_and(|site| site.zone.as_ref() == Some(zone)))
    }
}

/// Alerts of the latest survey against all earlier ones, in the order of the lake's list: first in the
/// lake, first in a zone, above a limit. First records are of plants that are introduced or listed
/// noxious, and need an earlier survey: the first survey of a lake finds everything for the first time.
///
/// # Errors
/// [`PolicyError`] when a policy cannot be applied.
pub fn alerts(
    earlier: &[&SurveyRecord],
    latest: &SurveyRecord,
    policies: &[Policy],
) -> Result<Vec<Alert>, PolicyError> {
    policies.iter().try_for_each(Policy::check)?;
    let before: Vec<Known<'_>> = earlier.iter().map(|record| Known::of(record)).collect();
    let now = Known::of(latest);
    let mut found = Vec::new();
    for taxon in &latest.taxa {
        let mut say = |kind: AlertKind| {
            found.push(Alert { survey: latest.survey.id, taxon: taxon.clone(), kind });
        };
        let watched = taxon.origin == Origin::Introduced || taxon.listed_noxious;
        if watched && !before.is_empty() && now.knows(taxon.id) {
            first_records(&before, &now, taxon.id).into_iter().for_each(&mut say);
        }
        for policy in policies {
            let meant =
                policy.taxon.map_or(taxon.origin == Origin::Introduced, |id| id == taxon.id);
            if meant && let Some(kind) = above_limit(&now, taxon.id, policy) {
                say(kind);
            }
        }
    }
    Ok(found)
}

fn first_records(before: &[Known<'_>], now: &Known<'_>, taxon: TaxonId) -> Vec<AlertKind> {
    if !before.iter().any(|one| one.knows(taxon)) {
        let sites = now.sites.get(&taxon).into_iter().flatten();
        return vec![AlertKind::FirstInLake {
            blanks_before: before.iter().filter(|one| one.looked_for(taxon)).count(),
            sites: sites.map(|(code, _)| code.clone()).collect(),
            beside_sites: now.beside.contains(&taxon),
        }];
    }
    let zones: BTreeSet<&Code> =
        now.sites.get(&taxon).into_iter().flatten().filter_map(|(_, zone)| zone.as_ref()).collect();
    zones
        .into_iter()
        .filter(|zone| before.iter().all(|one| one.in_zone(taxon, zone).is_empty()))
        .map(|zone| AlertKind::FirstInZone {
            zone: zone.clone(),
            blanks_before: before
                .iter()
                .filter(|one| one.looked_for(taxon) && one.sampled_zone(zone))
                .count(),
            sites: now.in_zone(taxon, zone),
        })
        .collect()
}

fn above_limit(now: &Known<'_>, taxon: TaxonId, policy: &Policy) -> Option<AlertKind> {
    let day = middle_day(&now.record.survey);
    if day.is_some_and(|day| day < policy.adopted) || !now.record.survey.scope.covers(taxon) {
        return None;
    }
    let place = now.record.taxa.iter().position(|one| one.id == taxon);
    let within = |site: &&crate::sampled::SampledSite<'_>| {
        policy.zone.is_none() || site.site.is_some_and(|site| site.zone == policy.zone)
    };
    let sites: Vec<_> = now.sampled.sites.iter().filter(within).collect();
    let with: Vec<_> = sites.iter().filter(|site| has(site, place)).collect();
    let frequency = Frequency::of(with.len(), sites.len());
    let (passed, certain) = match policy.limit {
        Limit::FrequencyAbove(limit) => (
            frequency.p.is_some_and(|p| p > limit),
            Some(frequency.low.is_some_and(|low| low > limit)),
        ),
        Limit::SitesAbove(limit) => (frequency.k > limit, None),
        Limit::RatingAtLeast(limit) => (
            with.iter().any(|site| {
                crate::compare::rating::rating_at(now.record, site, place)
                    .is_some_and(|value| value >= f64::from(limit))
            }),
            None,
        ),
    };
    (passed && frequency.k > 0).then(|| AlertKind::AboveLimit {
        policy: policy.clone(),
        frequency,
        certain,
    })
}

#[cfg(test)]
mod tests;
