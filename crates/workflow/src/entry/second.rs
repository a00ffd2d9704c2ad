//! The same sheet written up by a second person, kept apart until the two are compared.

use super::{Codes, body, open_survey};
use crate::error::{Error, Result};
use crate::views::{
    ConflictFieldView, EntryDifferenceView, SaveVisit, SecondEntriesView, VisitBody, VisitEntry,
};
use lakebook::{Entity, LakeBook};
use std::collections::{BTreeMap, BTreeSet};
use survey::scale::RatingScale;
use survey::{SecondEntry, Site, Survey, Visit, VisitId};
use units::{Metres, UnitSystem};

/// Keeps a second person's entry of one site.
///
/// # Errors
/// When the survey is sealed, the site unknown, nobody signs, or a field cannot be read.
pub fn save_second(
    book: &mut LakeBook,
    survey: &str,
    site: &str,
    save: &SaveVisit,
) -> Result<VisitEntry> {
    let (survey, scale) = open_survey(book, survey)?;
    let site = book.site_by_code(survey.id, site)?;
    if save.by.trim().is_empty() {
        return Err(Error::input("a second entry needs the name of the person who makes it"));
    }
    let taxa = book.taxa()?;
    let codes = Codes::of(&taxa);
    let first = book.visit_of(site.id)?.map_or_else(|| VisitId::of_site(site.id), |one| one.id);
    let visit = body::visit(&save.visit, first, &survey, &site, &scale, &codes)?;
    let before = book.second_entries(survey.id)?.into_iter().find(|one| one.visit.site == site.id);
    let entry = SecondEntry {
        id: before.map_or_else(|| book.new_id(), |one| one.id),
        by: save.by.trim().to_owned(),
        visit,
    };
    let note = format!("site {} of {}, entered a second time", site.code, survey.name);
    book.transact(&note, |writer| writer.put_second_entry(&entry))?;
    let event = book
        .current(Entity::SecondEntry, &entry.id.to_string())?
        .ok_or_else(|| Error::fault("the second entry was not kept"))?;
    let mut record = survey::SurveyRecord::empty(survey, scale);
    record.taxa.clone_from(&taxa);
    let outcome = record.outcome(&entry.visit, &record.plants());
    Ok(body::visit_entry(&site, &entry.visit, &event.into(), outcome, &record.scale, &codes))
}

/// Where two people's entries of one survey differ.
///
/// # Errors
/// When there is no such survey.
pub fn second_entries(book: &LakeBook, survey: &str) -> Result<SecondEntriesView> {
    let survey = book.survey_by_name(survey)?;
    let record = book.record(survey.id)?;
    let codes = Codes::of(&record.taxa);
    let plants = record.plants();
    let units = book.lake()?.units;
    let zero = record.scale.steps.iter().find(|step| step.is_zero());
    let zero = zero.map(|step| step.code.as_str());
    let first = record.visits_by_site();
    let standing = book.standing_of(survey.id, Entity::Visit)?;
    let mut view =
        SecondEntriesView { entered: 0, same: 0, different: Vec::new(), entries: Vec::new() };
    for second in book.second_entries(survey.id)? {
        let Some(site) = record.sites.iter().find(|site| site.id == second.visit.site) else {
            continue;
        };
        view.entered += 1;
        let theirs = body::visit_body(&second.visit, &record.scale, &codes);
        let ours = first.get(&site.id).map(|visit| body::visit_body(visit, &record.scale, &codes));
        let fields = differences(ours.as_ref(), &theirs, units, zero);
        if fields.is_empty() {
            view.same += 1;
        } else {
            let stands = first.get(&site.id).and_then(|one| standing.get(&one.id.to_string()));
            view.different.push(EntryDifferenceView {
                site: site.code.to_string(),
                first_by: stands.map(|stands| stands.actor.clone()).unwrap_or_default(),
                second_by: second.by.clone(),
                fields,
                first: ours,
                second: theirs,
            });
        }
        if let Some(event) = book.current(Entity::SecondEntry, &second.id.to_string())? {
            let outcome = record.outcome(&second.visit, &plants);
            view.entries.push(body::visit_entry(
                site,
                &second.visit,
                &event.into(),
                outcome,
                &record.scale,
                &codes,
            ));
        }
    }
    Ok(view)
}

/// Deletes a second entry: nothing was typed after all.
///
/// # Errors
/// When there is none, or the survey is sealed.
pub fn delete_second(book: &mut LakeBook, survey: &str, site: &str) -> Result<()> {
    let twice = Twice::open(book, survey, site)?;
    let note = format!("site {} of {}, second entry deleted", twice.site.code, twice.survey.name);
    Ok(book.transact(&note, |writer| writer.delete_second_entry(twice.second.id))?)
}

/// Chooses one of two entries; the second goes, kept in the log. With boxes named, only those are
/// brought into line: what was chosen is written into the entry that said something else, and both
/// stay.
///
/// # Errors
/// When there is no second entry, a word is unknown, the survey is sealed, or what the choice makes
/// is no visit: sampled and not sampled at once.
pub fn choose_entry(
    book: &mut LakeBook,
    survey: &str,
    site: &str,
    keep: &str,
    boxes: &[String],
) -> Result<()> {
    let twice = Twice::open(book, survey, site)?;
    let take = match keep.trim() {
        "first" => false,
        "second" => true,
        word => return Err(Error::input(format!("`{word}` is neither `first` nor `second`"))),
    };
    let first = book.visit_of(twice.site.id)?;
    let place = format!("site {} of {}", twice.site.code, twice.survey.name);
    if boxes.is_empty() {
        let note = format!("{place}: the {keep} entry is right");
        return Ok(book.transact(&note, |writer| {
            if take {
                let second = with_what_only_the_first_has(twice.second.visit, first.as_ref());
                writer.put_visit(&second)?;
            }
            writer.delete_second_entry(twice.second.id)
        })?);
    }
    let taxa = book.taxa()?;
    let codes = Codes::of(&taxa);
    let body_of = |visit: &Visit| body::visit_body(visit, &twice.scale, &codes);
    let ours = first.as_ref().map(body_of).unwrap_or_default();
    let theirs = body_of(&twice.second.visit);
    let (from, into) = if take { (&theirs, &ours) } else { (&ours, &theirs) };
    let chosen = with_boxes(into, from, boxes)?;
    let id = twice.second.visit.id;
    let visit = body::visit(&chosen, id, &twice.survey, &twice.site, &twice.scale, &codes)?;
    let note = format!("{place}: {} as in the {keep} entry", boxes.join(", "));
    Ok(book.transact(&note, |writer| {
        if take {
            writer.put_visit(&visit)
        } else {
            writer.put_second_entry(&SecondEntry { visit, ..twice.second })
        }
    })?)
}

/// A site written up twice, in a survey that may be written.
struct Twice {
    survey: Survey,
    scale: RatingScale,
    site: Site,
    second: SecondEntry,
}

impl Twice {
    fn open(book: &LakeBook, survey: &str, site: &str) -> Result<Self> {
        let (survey, scale) = open_survey(book, survey)?;
        let site = book.site_by_code(survey.id, site)?;
        let second = book
            .second_entries(survey.id)?
            .into_iter()
            .find(|one| one.visit.site == site.id)
            .ok_or_else(|| {
                Error::not_found(format!("site `{}` was not entered a second time", site.code))
            })?;
        Ok(Self { survey, scale, site, second })
    }
}

/// A visit with some boxes as another has them.
fn with_boxes(into: &VisitBody, from: &VisitBody, boxes: &[String]) -> Result<VisitBody> {
    let mut made = into.clone();
    for one in boxes {
        match one.trim() {
            "depth" => made.depth_m = from.depth_m,
            "bottom" => made.sediment.clone_from(&from.sediment),
            "outcome" => made.not_sampled.clone_from(&from.not_sampled),
            "note" => made.note.clone_from(&from.note),
            "time" => made.time.clone_from(&from.time),
            "position" => {
                (made.lon, made.lat, made.accuracy_m) = (from.lon, from.lat, from.accuracy_m);
            }
            "species counted" => made.reported_species = from.reported_species,
            "native species counted" => {
                made.reported_native_species = from.reported_native_species;
            }
            word => {
                let number = word
                    .strip_prefix("throw ")
                    .and_then(|number| number.parse::<u8>().ok())
                    .ok_or_else(|| {
                        Error::input(format!("the sheet has no box `{word}`")).hint(
                            "one of `depth`, `bottom`, `throw 1`, `throw 2` …, `outcome`, `note`",
                        )
                    })?;
                made.throws.retain(|throw| throw.number != number);
                made.throws
                    .extend(from.throws.iter().filter(|throw| throw.number == number).cloned());
                made.throws.sort_by_key(|throw| throw.number);
            }
        }
    }
    Ok(made)
}

/// The second visit with what the sheet has no box for, where the first has it.
fn with_what_only_the_first_has(second: Visit, first: Option<&Visit>) -> Visit {
    let Some(first) = first else { return second };
    Visit {
        time: second.time.or(first.time),
        actual: second.actual.or(first.actual),
        observer: if second.observer.is_empty() { first.observer.clone() } else { second.observer },
        ..second
    }
}

/// Words of a visit, box by box as on the sheet.
fn boxes(visit: &VisitBody, system: UnitSystem, zero: Option<&str>) -> BTreeMap<String, String> {
    let mut boxes = BTreeMap::new();
    let mut put = |field: String, words: Option<String>| {
        if let Some(words) = words.filter(|words| !words.is_empty()) {
            boxes.insert(field, words);
        }
    };
    let depth = visit.depth_m.and_then(|metres| Metres::depth(metres).ok());
    put(
        "depth".to_owned(),
        depth.map(|depth| {
            format!("{} {}", units::decimals(system.depth_value(depth), 2), system.depth_unit())
        }),
    );
    put("bottom".to_owned(), visit.sediment.clone());
    put("outcome".to_owned(), visit.not_sampled.clone());
    put("note".to_owned(), Some(visit.note.clone()));
    put("time".to_owned(), visit.time.clone());
    let place = visit.lon.zip(visit.lat);
    put("position".to_owned(), place.map(|(lon, lat)| format!("{lat:.6} {lon:.6}")));
    let count = |count: Option<u16>| count.map(|count| count.to_string());
    put("species counted".to_owned(), count(visit.reported_species));
    put("native species counted".to_owned(), count(visit.reported_native_species));
    for throw in &visit.throws {
        let number = throw.number;
        let made = if throw.observations.is_empty() { "bare" } else { "plants" };
        put(format!("throw {number}"), Some(made.to_owned()));
        // a bare rake is bare with its zero written or not
        let bare = throw.observations.is_empty() && throw.total.as_deref() == zero;
        put(format!("throw {number}, whole rake"), throw.total.clone().filter(|_| !bare));
        for one in &throw.observations {
            let rating = one.rating.as_deref().unwrap_or("found");
            let beside = one.seen.as_deref().is_some_and(|seen| seen != "rake");
            let words =
                if beside { format!("{rating}, beside the rake") } else { rating.to_owned() };
            put(format!("throw {number}, {}", one.taxon), Some(words));
        }
    }
    boxes
}

/// What a form of the sheet has no box for: it differs only where both wrote it.
const BESIDE: [&str; 4] = ["time", "position", "species counted", "native species counted"];

/// Boxes that differ; who wrote it is expected to.
fn differences(
    first: Option<&VisitBody>,
    second: &VisitBody,
    units: UnitSystem,
    zero: Option<&str>,
) -> Vec<ConflictFieldView> {
    let ours = first.map(|first| boxes(first, units, zero)).unwrap_or_default();
    let theirs = boxes(second, units, zero);
    let names: BTreeSet<&String> = ours.keys().chain(theirs.keys()).collect();
    let shown = |boxes: &BTreeMap<String, String>, field: &String| {
        boxes.get(field).cloned().unwrap_or_else(|| "nothing".to_owned())
    };
    names
        .into_iter()
        .filter(|field| ours.get(*field) != theirs.get(*field))
        .filter(|field| theirs.contains_key(*field) || !BESIDE.contains(&field.as_str()))
        .map(|field| ConflictFieldView {
            field: field.clone(),
            current: shown(&ours, field),
            other: shown(&theirs, field),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::views::{ObservationBody, ThrowBody};

    fn visit(depth_m: f64, plants: &[(&str, &str)]) -> VisitBody {
        let observations = plants
            .iter()
            .map(|(taxon, rating)| ObservationBody {
                taxon: (*taxon).to_owned(),
                rating: Some((*rating).to_owned()),
                seen: Some("rake".to_owned()),
            })
            .collect();
        VisitBody {
            depth_m: Some(depth_m),
            throws: vec![ThrowBody { number: 1, total: None, observations }],
            ..VisitBody::default()
        }
    }

    #[test]
    fn each_box_that_differs_is_told_by_itself_with_both_values() {
        let first = visit(1.9812, &[("CEDE", "M"), ("NAFL", "S")]);
        let second = visit(1.6764, &[("CEDE", "D"), ("VAAM", "S")]);
        let told: Vec<(String, String, String)> =
            differences(Some(&first), &second, UnitSystem::Us, Some("0"))
                .into_iter()
                .map(|one| (one.field, one.current, one.other))
                .collect();
        let line = |a: &str, b: &str, c: &str| (a.to_owned(), b.to_owned(), c.to_owned());
        // 1.9812 m and 1.6764 m are 6.5 ft and 5.5 ft of 0.3048 m
        assert_eq!(
            told,
            [
                line("depth", "6.50 ft", "5.50 ft"),
                line("throw 1, CEDE", "M", "D"),
                line("throw 1, NAFL", "S", "nothing"),
                line("throw 1, VAAM", "nothing", "S"),
            ]
        );
    }

    #[test]
    fn a_bare_rake_is_the_same_with_its_zero_written_or_not() {
        let written = |total: Option<&str>| {
            let mut visit = visit(2.0, &[]);
            visit.throws[0].total = total.map(str::to_owned);
            visit
        };
        let told = |total: &str| {
            let (first, second) = (written(None), written(Some(total)));
            differences(Some(&first), &second, UnitSystem::Metric, Some("0")).len()
        };
        assert_eq!((told("0"), told("D")), (0, 1));
    }

    #[test]
    fn a_box_is_taken_from_the_other_entry_and_the_rest_stays() {
        let first = visit(1.9812, &[("CEDE", "M"), ("NAFL", "S")]);
        let second = visit(1.6764, &[("CEDE", "D")]);
        let depth = with_boxes(&first, &second, &["depth".to_owned()]).unwrap();
        assert_eq!(depth, VisitBody { depth_m: Some(1.6764), ..first.clone() });
        let throw = with_boxes(&first, &second, &["throw 1".to_owned()]).unwrap();
        assert_eq!(throw, VisitBody { depth_m: Some(1.9812), ..second.clone() });
        // a throw the other does not have goes
        let none = with_boxes(&first, &VisitBody::default(), &["throw 1".to_owned()]).unwrap();
        assert!(none.throws.is_empty());
        assert!(with_boxes(&first, &second, &["colour".to_owned()]).is_err());
    }

    #[test]
    fn what_the_sheet_has_no_box_for_differs_only_where_both_wrote_it() {
        let first = VisitBody { time: Some("2026-07-14T09:15".to_owned()), ..visit(2.0, &[]) };
        assert!(differences(Some(&first), &visit(2.0, &[]), UnitSystem::Metric, None).is_empty());
        let later = VisitBody { time: Some("2026-07-14T09:51".to_owned()), ..visit(2.0, &[]) };
        assert_eq!(differences(Some(&first), &later, UnitSystem::Metric, None).len(), 1);
    }
}
