//! Between the form's words and the trade's types.

use super::Codes;
use crate::error::{Error, Result};
use crate::views::{ObservationBody, ThrowBody, VisitBody, VisitEntry};
use jiff::civil::{Date, DateTime, Time};
use lakebook::Standing;
use survey::scale::RatingScale;
use survey::{
    Fix, HowSeen, NotSampled, Observation, Outcome, Rating, ReportedCounts, Sampling, Site,
    SiteResult, Survey, Throw, Visit, VisitId,
};
use units::{LonLat, Metres};

pub(super) fn field_fault(field: &str, error: impl std::fmt::Display) -> Error {
    Error::input(format!("field `{field}`: {error}"))
}

pub(super) fn rating(
    scale: &RatingScale,
    field: &str,
    code: Option<&str>,
) -> Result<Option<Rating>> {
    code.map(str::trim)
        .filter(|code| !code.is_empty())
        .map(|code| {
            scale.read(code).map_err(|_unknown| {
                let codes: Vec<&str> = scale.codes().collect();
                field_fault(field, format!("the scale `{}` has no step `{code}`", scale.key))
                    .hint(format!("write one of `{}`", codes.join("`, `")))
            })
        })
        .transpose()
}

pub(super) fn rating_code(scale: &RatingScale, rating: Option<Rating>) -> Option<String> {
    rating.and_then(|rating| scale.step_of(rating)).map(|step| step.code.clone())
}

pub(super) fn date(field: &str, text: Option<&str>) -> Result<Option<Date>> {
    text.map(str::trim)
        .filter(|text| !text.is_empty())
        .map(|text| {
            text.parse().map_err(|_error| {
                field_fault(field, format!("`{text}` is no day")).hint("write `2026-07-14`")
            })
        })
        .transpose()
}

pub(super) fn clock(field: &str, text: Option<&str>) -> Result<Option<Time>> {
    text.map(str::trim)
        .filter(|text| !text.is_empty())
        .map(|text| {
            text.parse().map_err(|_error| {
                field_fault(field, format!("`{text}` is no time of day")).hint("write `09:15`")
            })
        })
        .transpose()
}

/// A local time: with its day, or within a survey of one day.
fn time(survey: &Survey, text: Option<&str>) -> Result<Option<DateTime>> {
    let Some(text) = text.map(str::trim).filter(|text| !text.is_empty()) else { return Ok(None) };
    // a time with its day would also be taken for a time alone
    if let Ok(at) = text.parse::<DateTime>() {
        return Ok(Some(at));
    }
    let clock: Time = text.parse().map_err(|_error| {
        field_fault("time", format!("`{text}` is no time")).hint("write `2026-07-14T09:15`")
    })?;
    match (survey.start, survey.end) {
        (Some(start), end) if end.is_none_or(|end| end == start) => {
            Ok(Some(start.to_datetime(clock)))
        }
        _ => Err(field_fault("time", format!("`{text}` has no day"))
            .hint("write it as `2026-07-14T09:15`: the survey has no day yet, or several")),
    }
}

pub(super) fn metres(field: &str, value: Option<f64>) -> Result<Option<Metres>> {
    value
        .map(|value| {
            if value.is_finite() {
                Ok(Metres::new(value))
            } else {
                Err(field_fault(field, "not a number"))
            }
        })
        .transpose()
}

pub(super) fn place(lon: Option<f64>, lat: Option<f64>) -> Result<Option<LonLat>> {
    match (lon, lat) {
        (Some(lon), Some(lat)) => {
            LonLat::new(lon, lat).map(Some).map_err(|error| field_fault("lon, lat", error))
        }
        (None, None) => Ok(None),
        _ => Err(field_fault("lon, lat", "a position needs both")),
    }
}

/// What the form says of a visit, as a visit of the site.
pub(super) fn visit(
    body: &VisitBody,
    id: VisitId,
    survey: &Survey,
    site: &Site,
    scale: &RatingScale,
    codes: &Codes<'_>,
) -> Result<Visit> {
    let depth = body
        .depth_m
        .map(|depth| Metres::depth(depth).map_err(|error| field_fault("depth_m", error)))
        .transpose()?;
    let sediment = body
        .sediment
        .as_deref()
        .filter(|text| !text.trim().is_empty())
        .map(|text| text.parse().map_err(|error| field_fault("sediment", error)))
        .transpose()?;
    let actual = place(body.lon, body.lat)?
        .map(|position| {
            metres("accuracy_m", body.accuracy_m).map(|accuracy| Fix { position, accuracy })
        })
        .transpose()?;
    Ok(Visit {
        id,
        survey: survey.id,
        site: site.id,
        actual,
        time: time(survey, body.time.as_deref())?,
        depth,
        sediment,
        result: result(body, scale, codes)?,
        observer: body.observer.trim().to_owned(),
        note: body.note.trim().to_owned(),
    })
}

/// Sampled, not sampled and why, or not yet known.
fn result(body: &VisitBody, scale: &RatingScale, codes: &Codes<'_>) -> Result<SiteResult> {
    let reason = body
        .not_sampled
        .as_deref()
        .filter(|text| !text.trim().is_empty())
        .map(|text| text.parse().map_err(|error| field_fault("not_sampled", error)))
        .transpose()?;
    let reported = body
        .reported_species
        .map(|species| ReportedCounts { species, native: body.reported_native_species });
    let thrown = !body.throws.is_empty() || reported.is_some();
    match reason {
        Some(NotSampled::NoInformation) if thrown => {}
        Some(reason) if thrown => {
            return Err(field_fault(
                "not_sampled",
                format!("`{}`, yet rake throws are written", reason.key()),
            )
            .hint("take out the reason, or the throws: a site is sampled or it is not"));
        }
        Some(reason) => return Ok(SiteResult::NotSampled(reason)),
        None if !thrown => return Ok(SiteResult::NotSampled(NotSampled::NoInformation)),
        None => {}
    }
    let throws: Vec<Throw> =
        body.throws.iter().map(|one| throw(one, scale, codes)).collect::<Result<_>>()?;
    Sampling::new(throws, reported).map(SiteResult::Sampled).map_err(|error| {
        let twice = match &error {
            survey::SamplingError::TaxonTwice { taxon, .. } => {
                format!(": `{}`", codes.code(*taxon))
            }
            _ => String::new(),
        };
        field_fault("throws", format!("{error}{twice}"))
    })
}

fn throw(body: &ThrowBody, scale: &RatingScale, codes: &Codes<'_>) -> Result<Throw> {
    if body.number == 0 {
        return Err(field_fault("throws", "throws count from 1"));
    }
    Ok(Throw {
        number: body.number,
        total: rating(scale, "total", body.total.as_deref())?,
        observations: body
            .observations
            .iter()
            .map(|one| {
                let seen = match one.seen.as_deref().filter(|text| !text.trim().is_empty()) {
                    Some(text) => text.parse().map_err(|error| field_fault("seen", error))?,
                    None => HowSeen::Rake,
                };
                Ok(Observation {
                    taxon: codes.read(&one.taxon)?,
                    rating: rating(scale, "rating", one.rating.as_deref())?,
                    seen,
                })
            })
            .collect::<Result<_>>()?,
    })
}

/// A visit in the form's words.
pub(super) fn visit_body(visit: &Visit, scale: &RatingScale, codes: &Codes<'_>) -> VisitBody {
    let (not_sampled, throws, reported) = match &visit.result {
        SiteResult::NotSampled(NotSampled::NoInformation) => (None, Vec::new(), None),
        SiteResult::NotSampled(reason) => (Some(reason.key().to_owned()), Vec::new(), None),
        SiteResult::Sampled(sampling) => {
            let throws = sampling
                .throws()
                .iter()
                .map(|throw| ThrowBody {
                    number: throw.number,
                    total: rating_code(scale, throw.total),
                    observations: throw
                        .observations
                        .iter()
                        .map(|one| ObservationBody {
                            taxon: codes.code(one.taxon),
                            rating: rating_code(scale, one.rating),
                            seen: Some(one.seen.key().to_owned()),
                        })
                        .collect(),
                })
                .collect();
            (None, throws, sampling.reported())
        }
    };
    VisitBody {
        time: visit.time.map(|time| time.to_string()),
        depth_m: visit.depth.map(Metres::metres),
        sediment: visit.sediment.map(|one| one.key().to_owned()),
        not_sampled,
        throws,
        reported_species: reported.map(|counts| counts.species),
        reported_native_species: reported.and_then(|counts| counts.native),
        lon: visit.actual.map(|fix| fix.position.longitude()),
        lat: visit.actual.map(|fix| fix.position.latitude()),
        accuracy_m: visit.actual.and_then(|fix| fix.accuracy).map(Metres::metres),
        observer: visit.observer.clone(),
        note: visit.note.clone(),
    }
}

pub(super) fn visit_entry(
    site: &Site,
    visit: &Visit,
    standing: &Standing,
    outcome: Outcome,
    scale: &RatingScale,
    codes: &Codes<'_>,
) -> VisitEntry {
    VisitEntry {
        site: site.code.to_string(),
        version: standing.version.to_string(),
        changed_by: standing.actor.clone(),
        changed_at: standing.at.clone(),
        outcome: outcome.key().to_owned(),
        visit: visit_body(visit, scale, codes),
    }
}
