//! What is still missing from a survey's record, and what looks like a slip.
//!
//! A check never stops at its first find and never changes anything. Each find says what, where,
//! why it matters and how to settle it.

use crate::record::SurveyRecord;
use crate::{NotSampled, SiteResult, Visit};
use std::collections::{BTreeMap, BTreeSet};
use units::{LonLat, Metres};

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
    /// What was found.
    pub message: String,
    /// What to do.
    pub remedy: String,
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

/// Boat farther than this from its planned site is asked about (common practice: a GPS fix is good
/// to 5–10 m, so 30 m is not the instrument).
const FAR_FROM_PLAN: Metres = Metres::new(30.0);
/// Depth off the map by more than this is asked about (common practice).
const DEPTH_OFF: Metres = Metres::from_feet(5.0);

/// Every find, faults first, then in the order of the plan.
pub fn check(record: &SurveyRecord, map: &dyn LakeMap) -> Vec<CheckFinding> {
    let mut finds = Vec::new();
    header(record, &mut finds);
    sites(record, map, &mut finds);
    names(record, &mut finds);
    finds.sort_by_key(|find| find.severity);
    finds
}

fn fault(kind: &'static str, place: &str, message: String, remedy: &str) -> CheckFinding {
    CheckFinding {
        kind,
        severity: Severity::Fault,
        place: place.to_owned(),
        message,
        remedy: remedy.to_owned(),
    }
}

fn doubt(kind: &'static str, place: &str, message: String, remedy: &str) -> CheckFinding {
    CheckFinding { severity: Severity::Doubt, ..fault(kind, place, message, remedy) }
}

fn header(record: &SurveyRecord, finds: &mut Vec<CheckFinding>) {
    let survey = &record.survey;
    let place = "header";
    if survey.start.is_none() {
        finds.push(fault(
            "missing-date",
            place,
            "the survey has no date".into(),
            "write the first and last day on the water",
        ));
    }
    if survey.crew.is_empty() {
        finds.push(doubt(
            "missing-crew",
            place,
            "nobody is named as crew".into(),
            "write who was in the boat and who named the plants",
        ));
    }
    if record.sites.is_empty() {
        finds.push(fault(
            "no-sites",
            place,
            "no site is planned".into(),
            "lay the sites with `plan`, or record a file that holds them",
        ));
    }
}

fn sites(record: &SurveyRecord, map: &dyn LakeMap, finds: &mut Vec<CheckFinding>) {
    let visits = record.visits_by_site();
    let deepest = map.deepest();
    for site in &record.sites {
        let code = site.code.as_str();
        let Some(visit) = visits.get(&site.id) else {
            if site.stands() {
                finds.push(doubt(
                    "no-visit",
                    code,
                    "planned, and nothing is written for it".into(),
                    "record the visit, or record why it was not sampled",
                ));
            }
            continue;
        };
        if visit.result == SiteResult::NotSampled(NotSampled::NoInformation) {
            finds.push(doubt(
                "no-reason",
                code,
                "not sampled, and no reason is written".into(),
                "ask the crew; leave it when nobody knows",
            ));
        }
        sampled(record, visit, code, finds);
        depth_against_map(visit, site.planned, code, deepest, map, finds);
        if let (Some(fix), Some(planned)) = (visit.actual, site.planned) {
            let off = map.distance(fix.position, planned);
            if off > FAR_FROM_PLAN {
                finds.push(doubt(
                    "far-from-plan",
                    code,
                    format!("the boat was {:.0} m from the planned place", off.metres()),
                    "check the site number and the position; confirm when the site was moved",
                ));
            }
        }
        date_within(record, visit, code, finds);
    }
}

fn sampled(record: &SurveyRecord, visit: &Visit, code: &str, finds: &mut Vec<CheckFinding>) {
    let SiteResult::Sampled(sampling) = &visit.result else { return };
    if visit.depth.is_none() {
        finds.push(fault(
            "missing-depth",
            code,
            "sampled, and no depth is written".into(),
            "write the depth from the sheet; without it the site is left out of the littoral share",
        ));
    }
    for throw in sampling.throws() {
        let Some(total) = record.value_of(throw.total) else { continue };
        let named: Vec<_> = throw.observations.iter().filter(|one| record.on_rake(one)).collect();
        let largest =
            named.iter().filter_map(|one| record.value_of(one.rating)).fold(0.0, f64::max);
        if largest > total {
            finds.push(fault(
                "rating-above-total",
                code,
                format!(
                    "throw {}: a species is rated `{largest}`, more than the whole rake `{total}`",
                    throw.number
                ),
                "correct one of the two from the sheet",
            ));
        }
        if total == 0.0 && !named.is_empty() {
            finds.push(fault(
                "bare-rake-with-plants",
                code,
                format!("throw {}: the rake is rated bare, yet species are named", throw.number),
                "correct the total or the species from the sheet",
            ));
        }
    }
}

fn depth_against_map(
    visit: &Visit,
    planned: Option<LonLat>,
    code: &str,
    deepest: Option<Metres>,
    map: &dyn LakeMap,
    finds: &mut Vec<CheckFinding>,
) {
    let Some(depth) = visit.depth else { return };
    if let Some(deepest) = deepest
        && depth.metres() > deepest.metres() * 1.1 + 0.3
    {
        finds.push(fault(
            "deeper-than-lake",
            code,
            format!(
                "depth {:.1} ft ({:.1} m) is deeper than the lake, {:.1} ft",
                depth.feet(),
                depth.metres(),
                deepest.feet()
            ),
            "check the unit (feet or metres) and the decimal point",
        ));
        return;
    }
    let Some(place) = visit.actual.map(|fix| fix.position).or(planned) else { return };
    if let Some(on_map) = map.depth_at(place) {
        let off = (depth.metres() - on_map.metres()).abs();
        if off > DEPTH_OFF.metres().max(0.4 * on_map.metres()) {
            finds.push(doubt(
                "depth-off-map",
                code,
                format!("depth {:.1} ft where the map says {:.1} ft", depth.feet(), on_map.feet()),
                "check the sheet and the site number; confirm when it was measured so",
            ));
        }
    }
}

fn date_within(record: &SurveyRecord, visit: &Visit, code: &str, finds: &mut Vec<CheckFinding>) {
    let (Some(time), Some(start)) = (visit.time, record.survey.start) else { return };
    let end = record.survey.end.unwrap_or(start);
    if time.date() < start || time.date() > end {
        finds.push(fault(
            "date-outside-survey",
            code,
            format!("visited on {}, outside the survey's {start} to {end}", time.date()),
            "correct the date, or the survey's days",
        ));
    }
}

/// One person, one name: the same letters in another case or with stray spaces are two names.
fn names(record: &SurveyRecord, finds: &mut Vec<CheckFinding>) {
    let mut spellings: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
    let people = record
        .survey
        .crew
        .iter()
        .map(|member| member.name.as_str())
        .chain(record.visits.iter().map(|visit| visit.observer.as_str()));
    for name in people.filter(|name| !name.trim().is_empty()) {
        let plain: String =
            name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect();
        spellings.entry(plain).or_default().insert(name);
    }
    for names in spellings.values().filter(|names| names.len() > 1) {
        let list: Vec<&str> = names.iter().copied().collect();
        finds.push(doubt(
            "one-person-two-names",
            "crew",
            format!("`{}` look like one person", list.join("`, `")),
            "choose one spelling and keep it",
        ));
    }
}
