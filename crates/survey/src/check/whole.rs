//! The survey as a whole: header, clock, names, plants.

use super::{CheckFinding, History, LakeMap, doubt, fault};
use crate::record::SurveyRecord;
use crate::{Origin, Rank, SiteResult, Taxon, TaxonId};
use jiff::civil::{DateTime, Time};
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
