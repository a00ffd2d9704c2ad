//! Who changed what, and taking it back.

use crate::error::Result;
use crate::views::{SaveLogView, UndoneView};
use lakebook::{Entity, Event, LakeBook, Operation};
use serde_json::Value;
use std::collections::BTreeMap;
use survey::Survey;

/// How far back the log is read for one survey.
const SAVES_READ: usize = 5_000;

/// The newest saves that touched a survey, newest first.
///
/// # Errors
/// When there is no such survey.
pub fn survey_log(book: &LakeBook, name: &str, limit: usize) -> Result<Vec<SaveLogView>> {
    let survey = book.survey_by_name(name)?;
    let names = Names::of(book, &survey)?;
    let mut log = Vec::new();
    for save in book.saves(SAVES_READ)? {
        if log.len() == limit {
            break;
        }
        if save.iter().any(|event| names.concerns(event)) {
            log.extend(save_view(&save, &names));
        }
    }
    Ok(log)
}

/// Everything that happened to one site's visit, newest first.
///
/// # Errors
/// When there is no such survey or site.
pub fn visit_log(book: &LakeBook, name: &str, site: &str) -> Result<Vec<SaveLogView>> {
    let survey = book.survey_by_name(name)?;
    let site = book.site_by_code(survey.id, site)?;
    let id =
        book.visit_of(site.id)?.map_or_else(|| survey::VisitId::of_site(site.id), |visit| visit.id);
    let names = Names::of(book, &survey)?;
    let mut log: Vec<SaveLogView> = book
        .history(Entity::Visit, &id.to_string())?
        .into_iter()
        .filter_map(|event| save_view(&[event], &names))
        .collect();
    log.reverse();
    Ok(log)
}

/// Takes back the last save that was not taken back yet.
///
/// # Errors
/// When it was a seal or an amendment, or the record was changed since.
pub fn undo(book: &mut LakeBook) -> Result<UndoneView> {
    Ok(UndoneView { undone: book.undo_last()? })
}

/// Words for the records of one survey.
struct Names {
    survey: String,
    survey_name: String,
    /// Site codes by key.
    sites: BTreeMap<String, String>,
    /// Keys of visits that were known by their site once.
    visits: BTreeMap<String, String>,
}

impl Names {
    fn of(book: &LakeBook, survey: &Survey) -> Result<Self> {
        let record = book.record(survey.id)?;
        let sites: BTreeMap<String, String> =
            record.sites.iter().map(|site| (site.id.to_string(), site.code.to_string())).collect();
        let mut visits: BTreeMap<String, String> = record
            .sites
            .iter()
            .map(|site| (survey::VisitId::of_site(site.id).to_string(), site.code.to_string()))
            .collect();
        for visit in &record.visits {
            if let Some(code) = sites.get(&visit.site.to_string()) {
                visits.insert(visit.id.to_string(), code.clone());
            }
        }
        Ok(Self { survey: survey.id.to_string(), survey_name: survey.name.clone(), sites, visits })
    }

    fn concerns(&self, event: &Event) -> bool {
        (event.entity == Entity::Survey && event.entity_id == self.survey)
            || self.visits.contains_key(&event.entity_id)
            || self.sites.contains_key(&event.entity_id)
            || event.body.contains(&format!("\"survey_id\":\"{}\"", self.survey))
    }

    fn label(&self, event: &Event) -> String {
        let body: Value = serde_json::from_str(&event.body).unwrap_or(Value::Null);
        let text = |key: &str| body.get(key).and_then(Value::as_str).map(str::to_owned);
        let what = match event.entity {
            Entity::Visit => {
                let code = self
                    .visits
                    .get(&event.entity_id)
                    .or_else(|| self.sites.get(&text("site_id")?))
                    .map_or("of another survey", String::as_str);
                format!("visit of site {code}")
            }
            Entity::Survey if event.entity_id == self.survey => {
                format!("header of {}", self.survey_name)
            }
            entity => {
                let name = text("code").or_else(|| text("name")).or_else(|| text("number"));
                match name {
                    Some(name) => format!("{} {name}", entity.words()),
                    None => entity.words().to_owned(),
                }
            }
        };
        match event.operation {
            Operation::Put => what,
            Operation::Delete => format!("{what} deleted"),
            Operation::Seal => format!("{} sealed", self.survey_name),
            Operation::Amend => format!("{} amended", self.survey_name),
            Operation::Settle => "a conflict settled".to_owned(),
            _ => "taken back".to_owned(),
        }
    }
}

fn save_view(save: &[Event], names: &Names) -> Option<SaveLogView> {
    let first = save.first()?;
    let mut changed: Vec<String> = Vec::new();
    for event in save {
        let label = names.label(event);
        if !changed.contains(&label) {
            changed.push(label);
        }
    }
    Some(SaveLogView {
        id: first.id.to_string(),
        at: first.at().to_owned(),
        by: first.actor.clone(),
        device: first.device.clone(),
        note: first.note.clone(),
        changed,
    })
}
