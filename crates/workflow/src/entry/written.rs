//! One site written up in words, and specimens kept: what the command line offers beside the screen.

use super::notation::{ThrowLine, throw_line};
use super::visit::{VisitSave, save_visit};
use super::{Codes, body, lists, open_survey};
use crate::error::{Error, Result};
use crate::views::{SaveSpecimen, SaveVisit, SpecimenView, VisitBody, VisitEntry};
use lakebook::{Entity, LakeBook, Standing};
use std::collections::BTreeMap;
use survey::check::LakeMap;
use survey::{SiteId, SurveyRecord, Voucher, VoucherId};

/// What is said of one site; what is not said stays as it is written.
#[derive(Debug, Clone, Default)]
pub struct SaidOfSite {
    /// Who is writing.
    pub by: String,
    /// Local time.
    pub time: Option<String>,
    /// Depth measured, in metres.
    pub depth_m: Option<f64>,
    /// Bottom, as a key.
    pub bottom: Option<String>,
    /// Throws as the sheet writes them; each replaces the one of its number.
    pub throws: Vec<String>,
    /// Why it was not sampled, as a key; takes the place of all throws.
    pub not_sampled: Option<String>,
    /// Who wrote the sheet.
    pub observer: Option<String>,
    /// Remark.
    pub note: Option<String>,
}

/// What is written of one site; none when nothing is.
///
/// # Errors
/// When there is no such survey or site.
pub fn visit_of(book: &LakeBook, survey: &str, site: &str) -> Result<Option<VisitEntry>> {
    let survey = book.survey_by_name(survey)?;
    let site = book.site_by_code(survey.id, site)?;
    let record = book.record(survey.id)?;
    let Some(visit) = record.visits.iter().find(|visit| visit.site == site.id) else {
        return Ok(None);
    };
    let Some(event) = book.current(Entity::Visit, &visit.id.to_string())? else {
        return Ok(None);
    };
    let standing: Standing = event.into();
    let outcome = record.outcome(visit, &record.plants());
    let codes = Codes::of(&record.taxa);
    Ok(Some(body::visit_entry(&site, visit, &standing, outcome, &record.scale, &codes)))
}

/// Writes up one site, or changes what is written of it.
///
/// # Errors
/// When the survey is sealed, the site unknown, or a field holds what it cannot hold.
pub fn write_visit(
    book: &mut LakeBook,
    survey: &str,
    site: &str,
    said: &SaidOfSite,
    map: &dyn LakeMap,
) -> Result<VisitSave> {
    let (header, scale) = open_survey(book, survey)?;
    let before = visit_of(book, &header.name, site)?;
    let base_version = before.as_ref().map(|entry| entry.version.clone());
    let mut visit = before.map_or_else(VisitBody::default, |entry| entry.visit);
    let taxa = book.taxa()?;
    let codes = Codes::of(&taxa);
    if said.time.is_some() {
        visit.time.clone_from(&said.time);
    }
    visit.depth_m = said.depth_m.or(visit.depth_m);
    if said.bottom.is_some() {
        visit.sediment.clone_from(&said.bottom);
    }
    if let Some(observer) = &said.observer {
        visit.observer.clone_from(observer);
    }
    if let Some(note) = &said.note {
        visit.note.clone_from(note);
    }
    if said.not_sampled.is_some() {
        visit.throws.clear();
        visit.not_sampled.clone_from(&said.not_sampled);
    }
    for text in &said.throws {
        let line = throw_line(text, &scale, &codes)?;
        let number = match &line {
            ThrowLine::Thrown(throw) => throw.number,
            ThrowLine::NotMade(number) => *number,
        };
        let mark = not_made(number);
        visit.throws.retain(|throw| throw.number != number);
        let mut note = visit.note.replace(&mark, "");
        match line {
            ThrowLine::Thrown(throw) => {
                if said.not_sampled.is_none() {
                    visit.not_sampled = None;
                }
                visit.throws.push(throw);
            }
            ThrowLine::NotMade(_) => note = format!("{} {mark}", note.trim()),
        }
        note.trim().clone_into(&mut visit.note);
    }
    visit.throws.sort_by_key(|throw| throw.number);
    let save = SaveVisit { by: said.by.clone(), base_version, visit, why: None };
    save_visit(book, survey, site, &save, map)
}

/// How the remark of a visit says that a throw was not made; the screens write the same.
fn not_made(number: u8) -> String {
    format!("[throw {number} not made]")
}

fn specimen_view(voucher: &Voucher, record: &SurveyRecord) -> SpecimenView {
    let sites: BTreeMap<SiteId, String> =
        record.sites.iter().map(|site| (site.id, site.code.to_string())).collect();
    SpecimenView {
        number: voucher.number.clone(),
        taxon: Codes::of(&record.taxa).code(voucher.taxon),
        site: voucher.site.and_then(|site| sites.get(&site).cloned()),
        collector: voucher.collector.clone(),
        date: voucher.date.map(|date| date.to_string()),
        kept_at: voucher.kept_at.clone(),
        confirmed_by: voucher.confirmed_by.clone(),
    }
}

/// The specimens of a survey, by number.
///
/// # Errors
/// When there is no such survey.
pub fn specimens(book: &LakeBook, survey: &str) -> Result<Vec<SpecimenView>> {
    let record = book.record(book.survey_by_name(survey)?.id)?;
    let mut all: Vec<SpecimenView> =
        record.vouchers.iter().map(|voucher| specimen_view(voucher, &record)).collect();
    all.sort_by(|a, b| a.number.cmp(&b.number));
    Ok(all)
}

/// Keeps a specimen, or changes what is written of the one with this number.
///
/// # Errors
/// When the survey is sealed, the number is empty, no plant is named for a new one, or a field holds
/// what it cannot hold.
pub fn save_specimen(
    book: &mut LakeBook,
    survey: &str,
    save: &SaveSpecimen,
) -> Result<SpecimenView> {
    let (header, _) = open_survey(book, survey)?;
    let number = save.number.trim();
    if number.is_empty() {
        return Err(body::field_fault("number", "a specimen needs the number on its label"));
    }
    let record = book.record(header.id)?;
    let before = record.vouchers.iter().find(|one| one.number.eq_ignore_ascii_case(number));
    let codes = Codes::of(&record.taxa);
    let taxon = match (&save.taxon, before) {
        (Some(code), _) => codes.read(code)?,
        (None, Some(before)) => before.taxon,
        (None, None) => {
            return Err(body::field_fault("taxon", "nothing says which plant it is")
                .hint("name the plant by its code; an unknown has one too, such as `UN-1`"));
        }
    };
    let site = match save.site.as_deref().filter(|site| !site.trim().is_empty()) {
        Some(site) => Some(book.site_by_code(header.id, site)?.id),
        None => before.and_then(|before| before.site),
    };
    let said = |said: &Option<String>, was: Option<&String>| {
        said.as_deref().map(str::trim).map(str::to_owned).or(was.cloned()).unwrap_or_default()
    };
    let visited = site.and_then(|site| record.visits.iter().find(|visit| visit.site == site));
    let date = body::date("date", save.date.as_deref())?
        .or(before.and_then(|before| before.date))
        .or(visited.and_then(|visit| visit.time).map(jiff::civil::DateTime::date));
    let voucher = Voucher {
        id: before.map_or_else(|| VoucherId(book.new_id()), |before| before.id),
        survey: header.id,
        number: number.to_owned(),
        taxon,
        site,
        collector: said(&save.collector, before.map(|one| &one.collector)),
        date,
        kept_at: said(&save.kept_at, before.map(|one| &one.kept_at)),
        confirmed_by: said(&save.confirmed_by, before.map(|one| &one.confirmed_by)),
    };
    let note = format!("specimen {number} of {}", header.name);
    book.transact(&note, |writer| writer.put_voucher(&voucher))?;
    Ok(specimen_view(&voucher, &record))
}

/// Takes a specimen out of the record.
///
/// # Errors
/// When the survey is sealed or has no specimen of this number.
pub fn delete_specimen(book: &mut LakeBook, survey: &str, number: &str) -> Result<()> {
    let (header, _) = open_survey(book, survey)?;
    let record = book.record(header.id)?;
    let same = |one: &&Voucher| one.number.eq_ignore_ascii_case(number.trim());
    let voucher = record.vouchers.iter().find(same).ok_or_else(|| {
        Error::not_found(format!("survey `{}` has no specimen `{}`", header.name, number.trim()))
            .hint("`quillwort specimen BOOK --survey S` lists them")
    })?;
    let note = format!("specimen {} of {} deleted", voucher.number, header.name);
    Ok(book.transact(&note, |writer| writer.delete_voucher(voucher.id))?)
}

/// The shoreline finds of a survey.
///
/// # Errors
/// When there is no such survey.
pub fn shoreline(book: &LakeBook, survey: &str) -> Result<Vec<crate::views::ShorelineEntry>> {
    let record = book.record(book.survey_by_name(survey)?.id)?;
    let codes = Codes::of(&record.taxa);
    Ok(record.shoreline.iter().map(|find| lists::shoreline_entry(find, &codes)).collect())
}

/// The surface beds of a survey.
///
/// # Errors
/// When there is no such survey.
pub fn beds(book: &LakeBook, survey: &str) -> Result<Vec<crate::views::BedEntry>> {
    let record = book.record(book.survey_by_name(survey)?.id)?;
    let codes = Codes::of(&record.taxa);
    Ok(record.beds.iter().map(|bed| lists::bed_entry(bed, &record, &codes)).collect())
}
