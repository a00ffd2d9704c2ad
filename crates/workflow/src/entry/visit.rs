//! One site's visit kept, changed or deleted.

use super::{Codes, body, open_survey, sealed_survey};
use crate::alerts;
use crate::checking::check_view;
use crate::error::{Error, Result};
use crate::views::{
    CheckView, SaveDeletion, SaveVisit, SavedVisit, VisitBody, VisitConflictView, VisitEntry,
};
use lakebook::{Entity, Event, LakeBook, Standing, Writer};
use survey::check::{History, LakeMap, Settlement, check_sites};
use survey::scale::RatingScale;
use survey::{EventId, Site, Survey, SurveyRecord, Taxon, Visit, VisitId};

/// What became of a save.
#[derive(Debug, Clone)]
pub enum VisitSave {
    /// It is kept.
    Saved(Box<SavedVisit>),
    /// Someone else changed the visit meanwhile; nothing was written.
    Conflict(Box<VisitConflictView>),
}

/// The version an editor saw, from its text.
pub(super) fn seen(base_version: Option<&str>) -> Result<Option<EventId>> {
    base_version
        .map(str::trim)
        .filter(|text| !text.is_empty())
        .map(|text| {
            text.parse().map_err(|error| {
                body::field_fault("base_version", error)
                    .hint("send back the version you were given")
            })
        })
        .transpose()
}

/// What stands when it is not what the editor saw; nothing may stand, when it was taken out.
#[expect(clippy::option_option, reason = "unmoved, moved to nothing, moved to something")]
pub(super) fn moved_on(
    writer: &Writer<'_>,
    entity: Entity,
    key: &str,
    seen: Option<EventId>,
) -> Result<Option<Option<Event>>, lakebook::BookError> {
    let standing = writer.standing(entity, key)?;
    Ok((standing.as_ref().map(|event| event.id) != seen).then_some(standing))
}

/// Keeps a visit; in a sealed survey as an amendment, signed and with a reason.
///
/// # Errors
/// When the survey is sealed and no reason is given, the site unknown, or a field holds what it cannot
/// hold.
pub fn save_visit(
    book: &mut LakeBook,
    survey: &str,
    site: &str,
    save: &SaveVisit,
    map: &dyn LakeMap,
) -> Result<VisitSave> {
    let rated = match save.why {
        Some(_) => sealed_survey(book, survey)?,
        None => open_survey(book, survey)?,
    };
    let form = Form::of(book, rated, site)?;
    let seen = seen(save.base_version.as_deref())?;
    let codes = Codes::of(&form.taxa);
    let visit = body::visit(&save.visit, form.id, &form.survey, &form.site, &form.scale, &codes)?;
    let note = format!("site {} of {}", form.site.code, form.survey.name);
    let key = form.id.to_string();
    let moved = match &save.why {
        Some(why) => amend(book, &form, &visit, seen, (&save.by, why))?,
        None => book.transact(&note, |writer| {
            if let Some(standing) = moved_on(writer, Entity::Visit, &key, seen)? {
                return Ok(Some(standing));
            }
            writer.put_visit(&visit)?;
            Ok(None)
        })?,
    };
    if let Some(standing) = moved {
        return form.conflict(book, standing, Some(save.visit.clone())).map(VisitSave::Conflict);
    }
    let found = alerts::found_at([&visit], &form.scale);
    let alerts = alerts::plant_alerts(book, form.survey.id, &found, &form.taxa)?;
    let saved =
        SavedVisit { finds: form.finds(Some(&visit), map), saved: form.entry(book)?, alerts };
    Ok(VisitSave::Saved(Box::new(saved)))
}

/// Amends a visit of a sealed survey, unless somebody else did meanwhile.
#[expect(clippy::option_option, reason = "as what moved on")]
fn amend(
    book: &mut LakeBook,
    form: &Form,
    visit: &Visit,
    seen: Option<EventId>,
    (by, why): (&str, &str),
) -> Result<Option<Option<Event>>> {
    let standing = book.current(Entity::Visit, &form.id.to_string())?;
    if standing.as_ref().map(|event| event.id) != seen {
        return Ok(Some(standing));
    }
    book.amend(form.survey.id, by, why, |writer| writer.put_visit(visit))?;
    Ok(None)
}

/// Deletes a visit.
///
/// # Errors
/// When the survey is sealed, or there is no visit.
pub fn delete_visit(
    book: &mut LakeBook,
    survey: &str,
    site: &str,
    deletion: &SaveDeletion,
    map: &dyn LakeMap,
) -> Result<VisitSave> {
    let form = Form::of(book, open_survey(book, survey)?, site)?;
    if book.visit_of(form.site.id)?.is_none() {
        return Err(Error::not_found(format!("nothing is written for site `{}`", form.site.code)));
    }
    let seen = seen(deletion.base_version.as_deref())?;
    let note = format!("site {} of {} deleted", form.site.code, form.survey.name);
    let key = form.id.to_string();
    let moved = book.transact(&note, |writer| {
        if let Some(standing) = moved_on(writer, Entity::Visit, &key, seen)? {
            return Ok(Some(standing));
        }
        writer.delete_visit(form.id)?;
        Ok(None)
    })?;
    if let Some(standing) = moved {
        return form.conflict(book, standing, None).map(VisitSave::Conflict);
    }
    let saved = SavedVisit { saved: None, finds: form.finds(None, map), alerts: Vec::new() };
    Ok(VisitSave::Saved(Box::new(saved)))
}

/// What a form of one site rests on.
struct Form {
    survey: Survey,
    scale: RatingScale,
    site: Site,
    /// Key of the visit, whether it is there or not.
    id: VisitId,
    taxa: Vec<Taxon>,
    settled: Vec<Settlement>,
}

impl Form {
    fn of(book: &LakeBook, (survey, scale): (Survey, RatingScale), site: &str) -> Result<Self> {
        let site = book.site_by_code(survey.id, site).map_err(|error| {
            Error::from(error).hint("only planned sites are written up; lay the site with the plan")
        })?;
        let id = book.visit_of(site.id)?.map_or_else(|| VisitId::of_site(site.id), |one| one.id);
        let settled = book.settlements(survey.id)?;
        Ok(Self { survey, scale, site, id, taxa: book.taxa()?, settled })
    }

    fn entry(&self, book: &LakeBook) -> Result<Option<VisitEntry>> {
        let Some(visit) = book.visit_of(self.site.id)? else { return Ok(None) };
        let Some(event) = book.current(Entity::Visit, &visit.id.to_string())? else {
            return Ok(None);
        };
        Ok(Some(self.entry_of(&visit, &event.into())))
    }

    fn entry_of(&self, visit: &Visit, standing: &Standing) -> VisitEntry {
        let record = self.record(Some(visit));
        let outcome = record.outcome(visit, &record.plants());
        let codes = Codes::of(&self.taxa);
        body::visit_entry(&self.site, visit, standing, outcome, &self.scale, &codes)
    }

    /// A record of this site alone.
    fn record(&self, visit: Option<&Visit>) -> SurveyRecord {
        let mut record = SurveyRecord::empty(self.survey.clone(), self.scale.clone());
        record.sites.push(self.site.clone());
        record.visits.extend(visit.cloned());
        record.taxa.clone_from(&self.taxa);
        record
    }

    /// What the check says of this site.
    fn finds(&self, visit: Option<&Visit>, map: &dyn LakeMap) -> Vec<CheckView> {
        check_sites(&self.record(visit), map, &History::default())
            .iter()
            .map(|find| check_view(find, &self.settled))
            .collect()
    }

    fn conflict(
        &self,
        book: &LakeBook,
        standing: Option<Event>,
        yours: Option<VisitBody>,
    ) -> Result<Box<VisitConflictView>> {
        let code = &self.site.code;
        let message = match &standing {
            Some(event) => {
                format!("site `{code}` was changed by {} at {}", event.actor, event.at())
            }
            None => format!("site `{code}` was deleted meanwhile"),
        };
        Ok(Box::new(VisitConflictView {
            message,
            hint: "nothing was written: choose between the two and save again".to_owned(),
            current: self.entry(book)?,
            yours,
        }))
    }
}
