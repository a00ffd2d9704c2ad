//! The check of a survey, and what people say of its finds.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::surveys::record_of;
use crate::views::CheckView;
use lakebook::LakeBook;
use survey::SurveyRecord;
use survey::check::{CheckFinding, History, Settlement, check as check_record, why};

/// What is missing from a survey, and what looks like a slip; what is still open first.
///
/// # Errors
/// When there is no such survey.
pub fn check(book: &LakeBook, name: &str) -> Result<Vec<CheckView>> {
    check_on(book, name, &Ground::of(book)?)
}

/// The same on a ground that was read before.
///
/// # Errors
/// When there is no such survey.
pub fn check_on(book: &LakeBook, name: &str, ground: &Ground) -> Result<Vec<CheckView>> {
    let record = record_of(book, name)?;
    let settled = book.settlements(record.survey.id)?;
    let mut views: Vec<CheckView> =
        finds(book, &record, ground)?.iter().map(|find| check_view(find, &settled)).collect();
    views.sort_by_key(|view| view.settled);
    Ok(views)
}

fn finds(book: &LakeBook, record: &SurveyRecord, ground: &Ground) -> Result<Vec<CheckFinding>> {
    Ok(check_record(record, ground, &history(book, record)?))
}

/// What the lake's other surveys hold.
fn history(book: &LakeBook, record: &SurveyRecord) -> Result<History> {
    let mut history = History::default();
    for survey in book.surveys()? {
        if survey.id != record.survey.id {
            history.add(&book.record(survey.id)?);
        }
    }
    Ok(history)
}

/// Faults nobody put right or confirmed.
pub(crate) fn open_faults(book: &LakeBook, record: &SurveyRecord) -> Result<usize> {
    let settled = book.settlements(record.survey.id)?;
    let ground = Ground::of(book)?;
    Ok(finds(book, record, &ground)?
        .iter()
        .filter(|find| find.severity == survey::check::Severity::Fault)
        .filter(|find| !settled.iter().any(|one| one.settles(find)))
        .count())
}

pub(crate) fn check_view(find: &CheckFinding, settled: &[Settlement]) -> CheckView {
    let settled = settled.iter().find(|one| one.settles(find));
    CheckView {
        id: find.id(),
        severity: find.severity.key().to_owned(),
        kind: find.kind.to_owned(),
        place: find.place.clone(),
        message: find.message.clone(),
        why: why(find.kind).to_owned(),
        remedy: find.remedy.clone(),
        settled: settled.is_some(),
        reason: settled.map(|one| one.reason.clone()),
        settled_by: settled.map(|one| one.by.clone()),
    }
}

/// Confirms a find as it is, with a reason; without one it is opened again.
///
/// # Errors
/// When there is no such find, or the survey is sealed.
pub fn settle(
    book: &mut LakeBook,
    name: &str,
    id: &str,
    reason: &str,
    by: &str,
) -> Result<CheckView> {
    let record = record_of(book, name)?;
    let ground = Ground::of(book)?;
    let find = finds(book, &record, &ground)?
        .into_iter()
        .find(|find| find.id() == id.trim())
        .ok_or_else(|| {
            Error::not_found(format!("the check of `{name}` has no find `{}`", id.trim()))
                .hint("it may have been put right meanwhile: run `quillwort check` again")
        })?;
    let survey = record.survey.id;
    let before: Vec<Settlement> =
        book.settlements(survey)?.into_iter().filter(|one| one.find == find.id()).collect();
    let (reason, by) = (reason.trim(), by.trim());
    let key = book.new_id();
    let note = if reason.is_empty() {
        format!("{} of {name} opened again", find.id())
    } else {
        format!("{} of {name} confirmed: {reason}", find.id())
    };
    if reason.is_empty() && before.is_empty() {
        return Err(Error::input("a find is confirmed with a reason")
            .hint("say why it is right as it is, with `--reason`; or leave it open"));
    }
    book.transact(&note, |writer| {
        before.iter().try_for_each(|one| writer.delete_settlement(one.id))?;
        if reason.is_empty() {
            return Ok(());
        }
        writer.put_settlement(&Settlement {
            id: key,
            survey,
            find: find.id(),
            said: find.message.clone(),
            reason: reason.to_owned(),
            by: if by.is_empty() { writer.actor() } else { by.to_owned() },
            at: writer.now(),
        })
    })?;
    Ok(check_view(&find, &book.settlements(survey)?))
}
