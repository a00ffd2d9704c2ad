//! The same sheet written up by a second person, kept apart until the two are compared.

use super::{Codes, body, open_survey};
use crate::error::{Error, Result};
use crate::views::{
    ConflictFieldView, EntryDifferenceView, SaveVisit, SecondEntriesView, VisitBody, VisitEntry,
};
use lakebook::{Entity, LakeBook};
use serde_json::Value;
use survey::{SecondEntry, VisitId};

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
    let first = record.visits_by_site();
    let mut view =
        SecondEntriesView { entered: 0, same: 0, different: Vec::new(), entries: Vec::new() };
    for second in book.second_entries(survey.id)? {
        let Some(site) = record.sites.iter().find(|site| site.id == second.visit.site) else {
            continue;
        };
        view.entered += 1;
        let theirs = body::visit_body(&second.visit, &record.scale, &codes);
        let ours = first.get(&site.id).map(|visit| body::visit_body(visit, &record.scale, &codes));
        let fields = differences(ours.as_ref(), &theirs);
        if fields.is_empty() {
            view.same += 1;
        } else {
            view.different.push(EntryDifferenceView {
                site: site.code.to_string(),
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

/// Chooses one of two entries; the second goes, kept in the log.
///
/// # Errors
/// When there is no second entry, the word is unknown or the survey is sealed.
pub fn choose_entry(book: &mut LakeBook, survey: &str, site: &str, keep: &str) -> Result<()> {
    let (survey, _) = open_survey(book, survey)?;
    let site = book.site_by_code(survey.id, site)?;
    let second = book
        .second_entries(survey.id)?
        .into_iter()
        .find(|one| one.visit.site == site.id)
        .ok_or_else(|| {
            Error::not_found(format!("site `{}` was not entered a second time", site.code))
        })?;
    let take = match keep.trim() {
        "first" => false,
        "second" => true,
        word => return Err(Error::input(format!("`{word}` is neither `first` nor `second`"))),
    };
    let note = format!("site {} of {}: the {keep} entry is right", site.code, survey.name);
    Ok(book.transact(&note, |writer| {
        if take {
            writer.put_visit(&second.visit)?;
        }
        writer.delete_second_entry(second.id)
    })?)
}

/// Fields that differ; who wrote it is expected to.
fn differences(first: Option<&VisitBody>, second: &VisitBody) -> Vec<ConflictFieldView> {
    let value = |body: Option<&VisitBody>| serde_json::to_value(body).unwrap_or(Value::Null);
    let (first, second) = (value(first), value(Some(second)));
    let Value::Object(fields) = &second else { return Vec::new() };
    let shown = |value: &Value| match value {
        Value::Null => "nothing".to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    fields
        .iter()
        .filter(|(field, value)| {
            field.as_str() != "observer" && first.get(*field).unwrap_or(&Value::Null) != *value
        })
        .map(|(field, value)| ConflictFieldView {
            field: field.clone(),
            current: shown(first.get(field).unwrap_or(&Value::Null)),
            other: shown(value),
        })
        .collect()
}
