//! What is still missing from a survey's record, and what looks like a slip.
//!
//! A check never stops at its first find and never changes anything. Each find says what, where,
//! why it matters and how to settle it: put it right, confirm it with a reason, or leave it open.

mod site;
mod whole;
mod why;

use crate::record::SurveyRecord;
use crate::scale::RatingScale;
use crate::{Id, SurveyId, TaxonId};
use jiff::civil::Date;
use std::collections::BTreeMap;
use units::{LonLat, Metres};
pub use why::why;

/// How much a find matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The record cannot be sealed like this.
    Fault,
    /// Probably a slip; may be right.
    Doubt,
}

impl Severity {
    /// The word kept in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Fault => "fault",
            Self::Doubt => "doubt",
        }
    }
}

/// One find of the check.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckFinding {
    /// Stable kind, e.g. `missing-depth`.
    pub kind: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// Where: a site code, or the survey's header.
    pub place: String,
    /// What tells it from others of its kind at one place: a throw, a plant; may be empty.
    pub part: String,
    /// What was found.
    pub message: String,
    /// What to do.
    pub remedy: String,
}

impl CheckFinding {
    /// Its name, the same as long as what it is about is there.
    pub fn id(&self) -> String {
        if self.part.is_empty() {
            format!("{}:{}", self.kind, self.place)
        } else {
            format!("{}:{}:{}", self.kind, self.place, self.part)
        }
    }
}

/// A find a person confirmed: it is so, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settlement {
    /// Key.
    pub id: Id,
    /// The survey.
    pub survey: SurveyId,
    /// Name of the find.
    pub find: String,
    /// What it said then; a find that now says something else is open again.
    pub said: String,
    /// Why it is right as it is.
    pub reason: String,
    /// Who says so.
    pub by: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
}

impl Settlement {
    /// True when it settles this find as it now stands.
    pub fn settles(&self, find: &CheckFinding) -> bool {
        self.find == find.id() && self.said == find.message
    }
}

/// What the check may ask of the lake's map.
pub trait LakeMap {
    /// Depth by the map; none where the map has no depth.
    fn depth_at(&self, position: LonLat) -> Option<Metres>;
    /// Largest depth the map knows.
    fn deepest(&self) -> Option<Metres>;
    /// Distance over the ground.
    fn distance(&self, from: LonLat, to: LonLat) -> Metres;
}

/// A map that knows nothing: the checks that need one are left out.
#[derive(Debug, Clone, Copy)]
pub struct NoMap;

impl LakeMap for NoMap {
    fn depth_at(&self, _position: LonLat) -> Option<Metres> {
        None
    }
    fn deepest(&self) -> Option<Metres> {
        None
    }
    fn distance(&self, _from: LonLat, _to: LonLat) -> Metres {
        Metres::new(0.0)
    }
}

/// What other surveys of the lake know of a taxon.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Known {
    /// Sites it was found at.
    pub sites: usize,
    /// The deepest of them.
    pub deepest: Option<Metres>,
}

/// What other surveys of the lake hold.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct History {
    /// How many surveys.
    pub surveys: usize,
    /// By taxon.
    pub taxa: BTreeMap<TaxonId, Known>,
    /// What each was rated on.
    pub scales: Vec<RatedOn>,
}

/// The scale of another survey.
#[derive(Debug, Clone, PartialEq)]
pub struct RatedOn {
    /// Its first day.
    pub start: Date,
    /// Its name.
    pub survey: String,
    /// What it was rated on.
    pub scale: RatingScale,
}

impl History {
    /// Takes in another survey's record.
    pub fn add(&mut self, record: &SurveyRecord) {
        if record.visits.is_empty() {
            return;
        }
        self.surveys += 1;
        if let Some(start) = record.survey.start {
            let survey = record.survey.name.clone();
            self.scales.push(RatedOn { start, survey, scale: record.scale.clone() });
        }
        for visit in &record.visits {
            let crate::SiteResult::Sampled(sampling) = &visit.result else { continue };
            let mut here: Vec<TaxonId> = sampling
                .observations()
                .filter(|one| record.says_present(one.rating))
                .map(|one| one.taxon)
                .collect();
            here.sort_unstable();
            here.dedup();
            for taxon in here {
                let known = self.taxa.entry(taxon).or_default();
                known.sites += 1;
                known.deepest = match (known.deepest, visit.depth) {
                    (Some(a), Some(b)) => Some(a.max(b)),
                    (a, b) => a.or(b),
                };
            }
        }
        for find in &record.shoreline {
            self.taxa.entry(find.taxon).or_default().sites += 1;
        }
    }
}

impl History {
    /// What the last survey before a day was rated on.
    pub fn rated_before(&self, day: Date) -> Option<&RatedOn> {
        self.scales.iter().filter(|one| one.start < day).max_by_key(|one| one.start)
    }
}

/// Every find, faults first, then in the order of the plan.
pub fn check(record: &SurveyRecord, map: &dyn LakeMap, history: &History) -> Vec<CheckFinding> {
    let mut finds = Vec::new();
    whole::header(record, &mut finds);
    whole::scale(record, history, &mut finds);
    site::sites(record, map, history, &mut finds);
    whole::clock(record, map, &mut finds);
    whole::names(record, &mut finds);
    whole::plants(record, history, &mut finds);
    whole::season(record, &mut finds);
    finds.sort_by_key(|find| find.severity);
    finds
}

/// What the check says of the sites alone, for a form of one site.
pub fn check_sites(
    record: &SurveyRecord,
    map: &dyn LakeMap,
    history: &History,
) -> Vec<CheckFinding> {
    let mut finds = Vec::new();
    site::sites(record, map, history, &mut finds);
    finds.sort_by_key(|find| find.severity);
    finds
}

fn fault(kind: &'static str, place: &str, message: String, remedy: &str) -> CheckFinding {
    CheckFinding {
        kind,
        severity: Severity::Fault,
        place: place.to_owned(),
        part: String::new(),
        message,
        remedy: remedy.to_owned(),
    }
}

fn doubt(kind: &'static str, place: &str, message: String, remedy: &str) -> CheckFinding {
    CheckFinding { severity: Severity::Doubt, ..fault(kind, place, message, remedy) }
}

impl CheckFinding {
    fn of(self, part: impl std::fmt::Display) -> Self {
        Self { part: part.to_string(), ..self }
    }
}

#[cfg(test)]
mod tests;
