//! One scale a survey, and one for as long as surveys are to be compared.

use crate::error::{Error, Result};
use crate::record::scale_of;
use crate::surveys::scale_view;
use crate::views::{
    NewScaleView, ProgrammeScaleView, ScaleBreakView, ScaleChoiceView, ScaleStandView, ScalesView,
};
use jiff::civil::Date;
use lakebook::LakeBook;
use std::collections::BTreeSet;
use survey::scale::RatingScale;
use survey::{Rating, Sampling, SiteResult, Survey, SurveyId, SurveyRecord, Visit};

/// What the last other survey with a record was rated on; of those before this one, where it has a
/// date.
fn programme(book: &LakeBook, survey: &Survey) -> Result<Option<(String, RatingScale)>> {
    rated_before(book, Some(survey.id), survey.start)
}

fn rated_before(
    book: &LakeBook,
    except: Option<SurveyId>,
    day: Option<Date>,
) -> Result<Option<(String, RatingScale)>> {
    let mut others: Vec<Survey> = book
        .surveys()?
        .into_iter()
        .filter(|one| Some(one.id) != except && one.start.is_some())
        .filter(|one| day.is_none_or(|day| one.start < Some(day)))
        .collect();
    others.sort_by_key(|one| one.start);
    for other in others.into_iter().rev() {
        let record = book.record(other.id)?;
        if !record.visits.is_empty() {
            return Ok(Some((other.name, record.scale)));
        }
    }
    Ok(None)
}

/// A scale other than that of the survey before needs a reason.
pub(crate) fn refuse_silent_change(
    book: &LakeBook,
    survey: &Survey,
    scale: &RatingScale,
) -> Result<()> {
    let Some((before, rated_on)) = programme(book, survey)? else { return Ok(()) };
    if rated_on.same_steps(scale) || !survey.scale_reason.is_empty() {
        return Ok(());
    }
    Err(Error::input(format!(
        "the survey before, {before}, was rated on the scale `{}`, and nobody says why {} is to be \
         rated on `{}`",
        rated_on.key, survey.name, scale.key
    ))
    .hint("keep the scale, so that ratings can be compared, or write the reason for the change"))
}

/// What a survey that begins now is rated on when nobody says: the programme's scale, `handful` in a
/// book without one.
pub(crate) fn usual(book: &LakeBook) -> Result<RatingScale> {
    match rated_before(book, None, None)? {
        Some((_, scale)) => Ok(scale),
        None => scale_of(book, "handful"),
    }
}

/// The scales a survey that begins now can be rated on, and which of them break with the last.
///
/// # Errors
/// When the book cannot be read.
pub fn scales(book: &LakeBook) -> Result<ScalesView> {
    let last = rated_before(book, None, None)?;
    let other =
        |scale: &RatingScale| last.as_ref().is_some_and(|(_, rated)| !rated.same_steps(scale));
    let choices = known(book)?
        .into_iter()
        .map(|scale| NewScaleView { breaks: other(&scale), key: scale.key, name: scale.name })
        .collect();
    let usual = usual(book)?.key;
    Ok(ScalesView { programme: last.map(programme_view), usual, choices })
}

/// Scales built in and the book's own.
fn known(book: &LakeBook) -> Result<Vec<RatingScale>> {
    let mut all: Vec<RatingScale> = RatingScale::builtin().to_vec();
    for own in book.scales()? {
        if !all.iter().any(|one| one.key == own.key) {
            all.push(own);
        }
    }
    Ok(all)
}

fn programme_view((survey, scale): (String, RatingScale)) -> ProgrammeScaleView {
    ProgrammeScaleView { survey, scale: scale.key, name: scale.name }
}

/// The break with the scale of the survey before, and the reason where one is given.
pub(crate) fn scale_break(
    book: &LakeBook,
    survey: &Survey,
    scale: &RatingScale,
) -> Result<Option<ScaleBreakView>> {
    let before = programme(book, survey)?.filter(|(_, rated_on)| !rated_on.same_steps(scale));
    Ok(before.map(|before| ScaleBreakView {
        before: programme_view(before),
        scale: scale.key.clone(),
        reason: survey.scale_reason.clone(),
    }))
}

impl ScaleBreakView {
    /// What is to be said of it, where nobody gave a reason.
    pub fn told(&self) -> Option<String> {
        let Self { before, scale, reason } = self;
        reason.is_empty().then(|| {
            format!(
                "the survey before, {}, was rated on the scale `{}`, this one on `{scale}`: ratings \
                 are not compared across the change; say why with `--scale-reason`",
                before.survey, before.scale
            )
        })
    }
}

/// How a survey is rated, and what it could be rated on.
///
/// # Errors
/// When there is no such survey.
pub fn stand(book: &LakeBook, name: &str) -> Result<ScaleStandView> {
    let survey = book.survey_by_name(name)?;
    let record = book.record(survey.id)?;
    let programme = programme(book, &survey)?;
    let differs = programme.as_ref().is_some_and(|(_, scale)| !scale.same_steps(&record.scale));
    let used = codes_used(&record);
    let choices = known(book)?;
    Ok(ScaleStandView {
        survey: survey.name.clone(),
        scale: scale_view(&record.scale),
        reason: survey.scale_reason.clone(),
        programme: programme.map(programme_view),
        differs,
        sealed: survey.seal.is_some(),
        ratings: ratings(&record).count(),
        choices: choices
            .iter()
            .map(|scale| ScaleChoiceView {
                key: scale.key.clone(),
                name: scale.name.clone(),
                lacks: used.iter().filter(|code| !has(scale, code)).cloned().collect(),
            })
            .collect(),
    })
}

/// Rates a survey on another scale, or says why it is rated on its own. Ratings already written stay
/// as they are written and are read on the new scale.
///
/// # Errors
/// When the survey is sealed, no reason is given, nobody knows the scale, or it has not all codes
/// that are written.
pub fn change(book: &mut LakeBook, name: &str, to: &str, reason: &str) -> Result<ScaleStandView> {
    let mut survey = book.survey_by_name(name)?;
    if let Some(seal) = &survey.seal {
        return Err(Error::input(format!("survey `{}` is sealed, by {}", survey.name, seal.by))
            .hint("the scale of a sealed survey stands; begin the next survey on another"));
    }
    let reason = reason.trim();
    if reason.is_empty() {
        return Err(Error::input("no reason is given for the scale")
            .hint("say why in a few words: it stands beside every later comparison"));
    }
    let to = scale_of(book, to)?;
    let record = book.record(survey.id)?;
    let lacks: Vec<String> = codes_used(&record)
        .into_iter()
        .filter(|code| !has(&to, code))
        .map(|code| format!("`{code}`"))
        .collect();
    if !lacks.is_empty() {
        return Err(Error::input(format!(
            "the scale `{}` has no {}, which survey `{}` is written with",
            to.key,
            lacks.join(", "),
            survey.name
        ))
        .hint(format!("its codes are {}", to.codes().collect::<Vec<_>>().join(", "))));
    }
    if to.key != survey.scale && !book.second_entries(survey.id)?.is_empty() {
        return Err(Error::input(format!(
            "survey `{}` has second entries that are not compared yet",
            survey.name
        ))
        .hint("choose between the entries first, with `quillwort second-entry`"));
    }
    let again = |rating: Rating| {
        let step = record.scale.step_of(rating);
        step.and_then(|step| to.read(&step.code).ok()).unwrap_or(rating)
    };
    let visits = if to.same_steps(&record.scale) {
        Vec::new()
    } else {
        record.visits.iter().map(|visit| rated_again(visit, &again)).collect::<Result<_>>()?
    };
    let beds: Vec<_> = record
        .beds
        .iter()
        .filter(|bed| bed.rating.is_some())
        .map(|bed| survey::SurfaceBed { rating: bed.rating.map(again), ..bed.clone() })
        .collect();
    let note = if to.key == survey.scale {
        format!("why {} is rated on {}: {reason}", survey.name, to.key)
    } else {
        format!("{} rated on {} instead of {}: {reason}", survey.name, to.key, survey.scale)
    };
    survey.scale.clone_from(&to.key);
    reason.clone_into(&mut survey.scale_reason);
    let stored = book.scales()?.iter().any(|one| one.key == to.key);
    book.transact(&note, |writer| {
        if !stored {
            writer.put_scale(&to)?;
        }
        writer.put_survey(&survey)?;
        writer.put_visits(&visits)?;
        beds.iter().try_for_each(|bed| writer.put_bed(bed))
    })?;
    stand(book, name)
}

fn has(scale: &RatingScale, code: &str) -> bool {
    scale.step(code).is_some()
}

fn ratings(record: &SurveyRecord) -> impl Iterator<Item = Rating> {
    let thrown = record.visits.iter().filter_map(|visit| match &visit.result {
        SiteResult::Sampled(sampling) => Some(sampling),
        SiteResult::NotSampled(_) => None,
    });
    let on_throws = thrown.flat_map(|sampling| {
        let totals = sampling.throws().iter().filter_map(|throw| throw.total);
        sampling.observations().filter_map(|one| one.rating).chain(totals)
    });
    on_throws.chain(record.beds.iter().filter_map(|bed| bed.rating))
}

/// Codes the record is written with.
fn codes_used(record: &SurveyRecord) -> BTreeSet<String> {
    let step = |rating| record.scale.step_of(rating).map(|step| step.code.clone());
    ratings(record).filter_map(step).collect()
}

fn rated_again(visit: &Visit, again: &impl Fn(Rating) -> Rating) -> Result<Visit> {
    let mut visit = visit.clone();
    if let SiteResult::Sampled(sampling) = &visit.result {
        let mut throws = sampling.throws().to_vec();
        for throw in &mut throws {
            throw.total = throw.total.map(again);
            for one in &mut throw.observations {
                one.rating = one.rating.map(again);
            }
        }
        let rated = Sampling::new(throws, sampling.reported())
            .map_err(|error| Error::fault(error.to_string()))?;
        visit.result = SiteResult::Sampled(rated);
    }
    Ok(visit)
}
