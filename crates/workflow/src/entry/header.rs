//! A survey's header, its days and its crew.

use super::body::{clock, date, field_fault, metres};
use super::open_survey;
use super::visit::{moved_on, seen};
use crate::error::{Error, Result};
use crate::views::{CrewView, DayBody, HeaderBody, HeaderConflictView, HeaderEntry, SaveHeader};
use jiff::civil::Time;
use lakebook::{Entity, LakeBook};
use survey::{Conditions, CrewMember, Survey};
use units::{Celsius, Metres, MetresPerSecond};

/// What became of a save.
#[derive(Debug, Clone)]
pub enum HeaderSave {
    /// It is kept.
    Saved(Box<HeaderEntry>),
    /// Someone else changed it meanwhile; nothing was written.
    Conflict(Box<HeaderConflictView>),
}

pub(super) fn header_entry(book: &LakeBook, survey: &Survey) -> Result<HeaderEntry> {
    let event = book
        .current(Entity::Survey, &survey.id.to_string())?
        .ok_or_else(|| Error::fault(format!("survey `{}` has no event", survey.name)))?;
    Ok(HeaderEntry {
        version: event.id.to_string(),
        changed_at: event.at().to_owned(),
        changed_by: event.actor,
        header: header_body(survey),
    })
}

fn header_body(survey: &Survey) -> HeaderBody {
    HeaderBody {
        protocol: survey.protocol.clone(),
        start: survey.start.map(|date| date.to_string()),
        end: survey.end.map(|date| date.to_string()),
        throws_per_site: survey.throws_per_site,
        depth_cap_m: survey.depth_cap.map(Metres::metres),
        crew: survey
            .crew
            .iter()
            .map(|one| CrewView {
                name: one.name.clone(),
                role: one.role.key().to_owned(),
                identified: one.identified,
            })
            .collect(),
        days: survey.conditions.iter().map(day_body).collect(),
        note: survey.note.clone(),
    }
}

fn day_body(day: &Conditions) -> DayBody {
    let minutes = |time: Time| time.strftime("%H:%M").to_string();
    DayBody {
        date: day.date.map(|date| date.to_string()),
        start: day.start.map(minutes),
        end: day.end.map(minutes),
        air_c: day.air.map(Celsius::celsius),
        water_c: day.water.map(Celsius::celsius),
        weather: day.weather.clone(),
        wind_m_s: day.wind.map(MetresPerSecond::metres_per_second),
        wind_words: day.wind_words.clone(),
        secchi_m: day.secchi.map(Metres::metres),
        water_level_m: day.water_level.map(Metres::metres),
        gear: day.gear.clone(),
    }
}

/// Keeps a header, with its days and its crew.
///
/// # Errors
/// When the survey is sealed or a field holds what it cannot hold.
pub fn save_header(book: &mut LakeBook, name: &str, save: &SaveHeader) -> Result<HeaderSave> {
    let (mut survey, _) = open_survey(book, name)?;
    let seen = seen(save.base_version.as_deref())?;
    write_into(&mut survey, &save.header)?;
    let key = survey.id.to_string();
    let moved = book.transact(&format!("header of {}", survey.name), |writer| {
        if let Some(standing) = moved_on(writer, Entity::Survey, &key, seen)? {
            return Ok(Some(standing));
        }
        writer.put_survey(&survey)?;
        Ok(None)
    })?;
    let current = header_entry(book, &book.survey_by_name(name)?)?;
    Ok(match moved {
        None => HeaderSave::Saved(Box::new(current)),
        Some(_) => HeaderSave::Conflict(Box::new(HeaderConflictView {
            message: format!(
                "the header of `{name}` was changed by {} at {}",
                current.changed_by, current.changed_at
            ),
            hint: "nothing was written: choose between the two and save again".to_owned(),
            current,
            yours: save.header.clone(),
        })),
    })
}

fn write_into(survey: &mut Survey, body: &HeaderBody) -> Result<()> {
    body.protocol.trim().clone_into(&mut survey.protocol);
    survey.start = date("start", body.start.as_deref())?;
    survey.end = date("end", body.end.as_deref())?;
    if let (Some(start), Some(end)) = (survey.start, survey.end) {
        survey.set_dates(start, end).map_err(|error| field_fault("end", error))?;
    }
    if body.throws_per_site == 0 {
        return Err(field_fault("throws_per_site", "at least one throw"));
    }
    survey.throws_per_site = body.throws_per_site;
    survey.depth_cap = metres("depth_cap_m", body.depth_cap_m)?;
    survey.crew = body
        .crew
        .iter()
        .filter(|one| !one.name.trim().is_empty())
        .map(|one| {
            Ok(CrewMember {
                name: one.name.trim().to_owned(),
                role: one.role.parse().map_err(|error| field_fault("role", error))?,
                identified: one.identified,
            })
        })
        .collect::<Result<_>>()?;
    survey.conditions = body.days.iter().map(conditions).collect::<Result<_>>()?;
    body.note.trim().clone_into(&mut survey.note);
    Ok(())
}

fn conditions(day: &DayBody) -> Result<Conditions> {
    let finite = |field: &str, value: Option<f64>| match value {
        Some(value) if !value.is_finite() => Err(field_fault(field, "not a number")),
        value => Ok(value),
    };
    Ok(Conditions {
        date: date("date", day.date.as_deref())?,
        start: clock("start", day.start.as_deref())?,
        end: clock("end", day.end.as_deref())?,
        air: finite("air_c", day.air_c)?.map(Celsius::new),
        water: finite("water_c", day.water_c)?.map(Celsius::new),
        weather: day.weather.trim().to_owned(),
        wind: finite("wind_m_s", day.wind_m_s)?.map(MetresPerSecond::new),
        wind_words: day.wind_words.trim().to_owned(),
        secchi: metres("secchi_m", day.secchi_m)?,
        water_level: metres("water_level_m", day.water_level_m)?,
        gear: day.gear.trim().to_owned(),
    })
}
