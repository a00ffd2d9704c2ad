//! The survey as a whole: header, clock, names, plants.

use super::{CheckFinding, History, LakeMap, doubt, fault};
use crate::record::SurveyRecord;
use crate::{Origin, Purpose, Rank, Scope, SiteResult, Taxon, TaxonId};
use jiff::civil::{Date, DateTime, Time};
use std::collections::{BTreeMap, BTreeSet};
use units::LonLat;

/// A boat that throws rakes does not travel faster than this on average between two sites, 15 m/s
/// (34 mph); common practice.
const FASTEST_BOAT_M_S: f64 = 15.0;
/// Two sites farther apart than this are not visited in one and the same minute.
const SAME_MINUTE_M: f64 = 150.0;

const HEADER: &str = "header";

pub(super) fn header(record: &SurveyRecord, finds: &mut Vec<CheckFinding>) {
    let survey = &record.survey;
    if survey.start.is_none() {
        finds.push(fault(
            "missing-date",
            HEADER,
            "the survey has no date".into(),
            "write the first and last day on the water",
        ));
    }
    if survey.crew.is_empty() {
        finds.push(doubt(
            "missing-crew",
            HEADER,
            "nobody is named as crew".into(),
            "write who was in the boat and who named the plants",
        ));
    } else if !survey.crew.iter().any(|one| one.identified) {
        finds.push(doubt(
            "missing-identifier",
            HEADER,
            "nobody is marked as having named the plants".into(),
            "mark who did, in the crew",
        ));
    }
    if record.sites.is_empty() {
        finds.push(fault(
            "no-sites",
            HEADER,
            "no site is planned".into(),
            "lay the sites with `plan`, or record a file that holds them",
        ));
    }
    if survey.conditions.is_empty() {
        finds.push(doubt(
            "missing-conditions",
            HEADER,
            "nothing is written of the day: weather, clarity, gear".into(),
            "write it from the head of the sheet",
        ));
    }
    for (number, day) in survey.conditions.iter().enumerate() {
        let name = day.date.map_or_else(|| format!("day {}", number + 1), |date| date.to_string());
        if day.secchi.is_none() {
            finds.push(
                doubt(
                    "missing-secchi",
                    HEADER,
                    format!("{name}: no Secchi depth is written"),
                    "write it from the head of the sheet; leave it when it was not measured",
                )
                .of(&name),
            );
        }
        if let (Some(start), Some(end)) = (day.start, day.end)
            && end <= start
        {
            finds.push(
                fault(
                    "hours-backwards",
                    HEADER,
                    format!("{name}: on the water until {end}, which is not after {start}"),
                    "correct one of the two hours",
                )
                .of(&name),
            );
        }
    }
}

/// One scale for as long as surveys are to be compared; another one needs a reason.
pub(super) fn scale(record: &SurveyRecord, history: &History, finds: &mut Vec<CheckFinding>) {
    let survey = &record.survey;
    let Some(before) = survey.start.and_then(|start| history.rated_before(start)) else { return };
    if !before.scale.same_steps(&record.scale) && survey.scale_reason.is_empty() {
        finds.push(doubt(
            "scale-changed",
            HEADER,
            format!(
                "rated on the scale `{}`; the survey before, {}, was rated on `{}`",
                record.scale.key, before.survey, before.scale.key
            ),
            "say why with `quillwort scale`; ratings are not compared across the change",
        ));
    }
}

/// Hours of the day, and how fast the boat would have had to be.
pub(super) fn clock(record: &SurveyRecord, map: &dyn LakeMap, finds: &mut Vec<CheckFinding>) {
    let sites: BTreeMap<_, _> = record.sites.iter().map(|site| (site.id, site)).collect();
    // a visit at midnight has a day and no hour
    let mut by_boat: BTreeMap<&str, Vec<(DateTime, &str, LonLat)>> = BTreeMap::new();
    for visit in &record.visits {
        let (Some(time), Some(site)) = (visit.time, sites.get(&visit.site)) else { continue };
        if time.time() == Time::midnight() {
            continue;
        }
        let day = record.survey.conditions.iter().find(|day| day.date == Some(time.date()));
        if let Some((start, end)) = day.and_then(|day| day.start.zip(day.end))
            && start < end
            && (time.time() < start || time.time() > end)
        {
            finds.push(doubt(
                "outside-hours",
                site.code.as_str(),
                format!("visited at {}, on the water from {start} to {end}", time.time()),
                "check the hour; a one for a seven is common",
            ));
        }
        if let Some(place) = visit.actual.map(|fix| fix.position).or(site.planned) {
            let boat = by_boat.entry(visit.observer.as_str()).or_default();
            boat.push((time, site.code.as_str(), place));
        }
    }
    for visits in by_boat.values_mut() {
        visits.sort_by_key(|(time, code, _)| (*time, *code));
        for pair in visits.windows(2) {
            let ((from_time, from_code, from), (to_time, to_code, to)) = (pair[0], pair[1]);
            let way = map.distance(from, to).metres();
            let seconds = from_time.duration_until(to_time).as_secs_f64();
            // hours are written to the minute: the true gap may be a minute longer
            if seconds == 0.0 && way > SAME_MINUTE_M {
                finds.push(
                    doubt(
                        "same-time",
                        to_code,
                        format!("at the same minute as site {from_code}, {way:.0} m away"),
                        "check the hour of both",
                    )
                    .of(from_code),
                );
            } else if seconds > 0.0 && way / (seconds + 60.0) > FASTEST_BOAT_M_S {
                finds.push(
                    doubt(
                        "too-fast",
                        to_code,
                        format!(
                            "{way:.0} m from site {from_code} in {:.0} min: more than {FASTEST_BOAT_M_S:.0} m/s",
                            seconds / 60.0
                        ),
                        "check the hour, the position and the site number of both",
                    )
                    .of(from_code),
                );
            }
        }
    }
}

/// One person, one name: the same letters in another case or with stray spaces are two names.
pub(super) fn names(record: &SurveyRecord, finds: &mut Vec<CheckFinding>) {
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
    for (plain, names) in spellings.iter().filter(|(_, names)| names.len() > 1) {
        let list: Vec<&str> = names.iter().copied().collect();
        finds.push(
            doubt(
                "one-person-two-names",
                "crew",
                format!("`{}` look like one person", list.join("`, `")),
                "choose one spelling and keep it",
            )
            .of(plain),
        );
    }
}

/// Plants nobody has found here before, and plants nobody has named yet.
pub(super) fn plants(record: &SurveyRecord, history: &History, finds: &mut Vec<CheckFinding>) {
    let mut found: BTreeMap<TaxonId, usize> = BTreeMap::new();
    for visit in &record.visits {
        let SiteResult::Sampled(sampling) = &visit.result else { continue };
        let here: BTreeSet<TaxonId> = sampling
            .observations()
            .filter(|one| record.says_present(one.rating))
            .map(|one| one.taxon)
            .collect();
        for taxon in here {
            *found.entry(taxon).or_default() += 1;
        }
    }
    for find in &record.shoreline {
        *found.entry(find.taxon).or_default() += 1;
    }
    for taxon in &record.taxa {
        let Some(sites) = found.get(&taxon.id) else { continue };
        if taxon.rank == Rank::Unidentified {
            finds.push(doubt(
                "not-yet-named",
                taxon.code.as_str(),
                format!("{} is written {sites} times and has no name yet", taxon.scientific_name),
                "look at specimen and photo, then name it everywhere at once with `quillwort resolve`",
            ));
        } else if history.surveys > 0 && !history.taxa.contains_key(&taxon.id) {
            finds.push(first_record(taxon, *sites, history.surveys));
        }
    }
}

fn first_record(taxon: &Taxon, sites: usize, surveys: usize) -> CheckFinding {
    let invader = taxon.listed_noxious || taxon.origin == Origin::Introduced;
    let what = if invader { "an introduced plant " } else { "" };
    let remedy = if invader {
        "keep a specimen, photograph it with a ruler, and tell the agency before anything is pulled or treated; then confirm"
    } else {
        "keep a specimen and have the name checked; then confirm"
    };
    doubt(
        "first-record",
        taxon.code.as_str(),
        format!(
            "{what}{} ({}) at {sites} places is in none of the {surveys} other surveys",
            taxon.spoken_name(),
            taxon.scientific_name
        ),
        remedy,
    )
}

/// Lakes north of this have the season the rules below speak of.
const NORTHERN: f64 = 40.0;

/// Plants against the season. Common practice for lakes of the northern states and Canada, from
/// memory: a survey of the whole community is made when the late kinds are up and none has died
/// back, mid-June to the end of September; curly-leaf pondweed (*Potamogeton crispus*) dies back by
/// mid-July and sprouts again in autumn, so that on a rake in August another pondweed is likelier.
/// Both are doubts, never faults.
pub(super) fn season(record: &SurveyRecord, finds: &mut Vec<CheckFinding>) {
    let survey = &record.survey;
    let place = record.sites.iter().find_map(|site| site.planned);
    let fix = || record.visits.iter().find_map(|visit| visit.actual).map(|fix| fix.position);
    if place.or_else(fix).is_none_or(|place| place.latitude() < NORTHERN) {
        return;
    }
    let of_year = |day: Date| (day.month(), day.day());
    if let Some(start) = survey.start
        && survey.purpose == Purpose::Baseline
        && survey.scope == Scope::WholeCommunity
        && !((6, 15)..=(9, 30)).contains(&of_year(start))
    {
        finds.push(doubt(
            "outside-season",
            HEADER,
            format!("a survey of every plant on {start}: in the north many are up from mid-June to the end of September only"),
            "check the day; confirm when an early or late survey was meant",
        ));
    }
    for taxon in record.taxa.iter().filter(|taxon| taxon.scientific_name == "Potamogeton crispus") {
        let late = record.visits.iter().filter(|visit| {
            let day = visit.time.map(DateTime::date).or(survey.start);
            day.is_some_and(|day| ((8, 1)..=(8, 31)).contains(&of_year(day)))
                && record.largest_on_rake(visit, taxon.id).is_some()
        });
        let sites = late.count();
        if sites > 0 {
            finds.push(doubt(
                "late-for-its-kind",
                taxon.code.as_str(),
                format!(
                    "{} on the rake in August at {sites} places; in the north it has died back by then",
                    taxon.spoken_name()
                ),
                "look at specimen and photo: another pondweed is likelier; confirm when it was so",
            ));
        }
    }
}
