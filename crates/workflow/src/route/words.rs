//! A route as it is asked for in words: on the command line, in an address, in the book.

use super::{RouteRequest, clock};
use crate::error::{Error, Result};
use geo_types::{Coord, coord};
use jiff::civil::{Date, Time};
use serde::{Deserialize, Serialize};
use units::{LonLat, Metres, MetresPerSecond, UnitSystem};
use utoipa::{IntoParams, ToSchema};

/// What the user asks of a route, as typed. What is not said has its usual value; lengths and speeds
/// carry their unit, a bare number is in the book's.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema, IntoParams)]
#[into_params(parameter_in = Query)]
#[serde(deny_unknown_fields, default)]
pub struct RouteWords {
    /// Name of the survey.
    pub survey: String,
    /// Launch, by name; the lake's only one when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Where the boats end, by name; back at the launch when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Boats; one when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub boats: Option<usize>,
    /// Days; one when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days: Option<usize>,
    /// Speed between sites, such as `5mph` or `8km/h`; `4mph` when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed: Option<String>,
    /// Minutes a site; from depth and throws when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub minutes_per_site: Option<f64>,
    /// Water the boat needs, such as `1ft`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub draft: Option<String>,
    /// The first day, ISO; today when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// When the boats leave, such as `08:30`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start: Option<String>,
    /// When they have to be back; sunset when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back_by: Option<String>,
    /// A rest: when, and for how many minutes, such as `12:00/30`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest: Option<String>,
    /// Hours local time is ahead of UTC; from the lake's state, else this machine's, when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub utc_offset: Option<f64>,
    /// Site to visit first, by code.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first: Option<String>,
    /// Site to visit last, by code.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last: Option<String>,
    /// Sites to visit early, and to leave out last: codes with commas between them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub early: Option<String>,
    /// Sites in order from the least infested to the most, by the last survey with a record.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cleanest_first: Option<bool>,
    /// One site tried at another place, for a look: its code, and east and north on the map, such as
    /// `14/380963/4939616`. A route that is kept takes the sites as they stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub try_at: Option<String>,
    /// Seconds to search for a better order; two when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub budget: Option<f64>,
    /// Draws the search.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seed: Option<u64>,
}

/// What the machine knows of the day and its clock.
#[derive(Debug, Clone, Copy)]
pub struct Local {
    /// Today.
    pub today: Date,
    /// Minutes this machine's clock is ahead of UTC on a day.
    pub utc_offset_minutes: fn(Date) -> i32,
}

/// A small boat between sites close together (common practice).
const USUAL_SPEED: &str = "4mph";
/// Longest search, seconds.
const MOST_SECONDS: f64 = 120.0;
/// Most boats, and most days, of one plan.
const MOST_PARTS: usize = 30;

impl RouteWords {
    /// The same words with what was not said filled in, the date above all, so that they mean the
    /// same on another day.
    #[must_use]
    pub fn filled(&self, today: Date) -> Self {
        Self {
            boats: self.boats.or(Some(1)),
            days: self.days.or(Some(1)),
            speed: self.speed.clone().or_else(|| Some(USUAL_SPEED.to_owned())),
            date: self.date.clone().or_else(|| Some(today.to_string())),
            start: self.start.clone().or_else(|| Some("08:30".to_owned())),
            budget: self.budget.or(Some(2.0)),
            seed: self.seed.or(Some(1)),
            ..self.clone()
        }
    }

    /// The speed, the usual one when none is said.
    pub(super) fn speed_or_usual(&self, units: UnitSystem) -> Result<MetresPerSecond> {
        speed(self.speed.as_deref().unwrap_or(USUAL_SPEED).trim(), units)
    }

    /// Reads the words.
    ///
    /// # Errors
    /// Naming the word that is none, and how to write it.
    pub fn read(&self, units: UnitSystem, local: &Local) -> Result<RouteRequest> {
        let words = self.filled(local.today);
        let number = |name: &str, found: usize| {
            if (1..=MOST_PARTS).contains(&found) {
                return Ok(found);
            }
            Err(Error::input(format!("`{found}` {name}, expected 1 to {MOST_PARTS}"))
                .hint(format!("give `--{name}` from 1 to {MOST_PARTS}")))
        };
        let text = |one: &Option<String>| one.as_deref().unwrap_or_default().trim().to_owned();
        let said = |one: &Option<String>| Some(text(one)).filter(|text| !text.is_empty());
        let date = text(&words.date);
        let budget = words.budget.unwrap_or(2.0);
        if !(budget.is_finite() && (0.0..=MOST_SECONDS).contains(&budget)) {
            return Err(Error::input(format!("a search of `{budget}` seconds"))
                .hint(format!("give `--budget` from 0 to {MOST_SECONDS}")));
        }
        if let Some(hours) = words.utc_offset
            && !(-14.0..=14.0).contains(&hours)
        {
            return Err(Error::input(format!("`{hours}` hours from UTC are on no clock"))
                .hint("give `--utc-offset` from -14 to 14, such as -5"));
        }
        let start = time(&text(&words.start))?;
        let date: Date = date.parse().ok().ok_or_else(|| {
            Error::input(format!("date `{date}` is not year-month-day")).hint("write `2026-07-14`")
        })?;
        Ok(RouteRequest {
            survey: words.survey.trim().to_owned(),
            from: said(&words.from),
            to: said(&words.to),
            boats: number("boats", words.boats.unwrap_or(1))?,
            days: number("days", words.days.unwrap_or(1))?,
            speed: speed(&text(&words.speed), units)?,
            minutes_per_site: words.minutes_per_site.map(minutes).transpose()?,
            draft: said(&words.draft).map(|text| draft(&text, units)).transpose()?,
            date,
            start,
            back_by: said(&words.back_by).map(|text| time(&text)).transpose()?,
            rest: said(&words.rest).map(|text| rest(&text, start)).transpose()?,
            utc_offset_minutes: words.utc_offset.map(|hours| (hours * 60.0).round() as i32),
            machine_offset_minutes: (local.utc_offset_minutes)(date),
            first: said(&words.first),
            last: said(&words.last),
            early: text(&words.early)
                .split([',', ' '])
                .map(str::trim)
                .filter(|code| !code.is_empty())
                .map(str::to_owned)
                .collect(),
            cleanest_first: words.cleanest_first.unwrap_or(false),
            tried: said(&words.try_at).map(|text| tried(&text)).transpose()?,
            budget_seconds: budget,
            seed: words.seed.unwrap_or(1),
        })
    }
}

/// `14/380963/4939616`: a site and where it is tried. A code may hold a stroke itself.
fn tried(text: &str) -> Result<(String, Coord<f64>)> {
    let wrong = || {
        Error::input(format!("`{text}` is no site with a place")).hint(
            "write its code, east and north with strokes between them, such as `14/380963/4939616`",
        )
    };
    let mut parts = text.rsplitn(3, '/');
    let mut metres = || {
        parts.next().and_then(|part| part.trim().parse::<f64>().ok()).filter(|one| one.is_finite())
    };
    let (y, x) = (metres(), metres());
    match (parts.next(), x, y) {
        (Some(code), Some(x), Some(y)) if !code.trim().is_empty() => {
            Ok((code.trim().to_owned(), coord! {x: x, y: y}))
        }
        _ => Err(wrong()),
    }
}

/// Minutes at a site: a number a day holds.
fn minutes(found: f64) -> Result<f64> {
    if (0.0..=600.0).contains(&found) {
        return Ok(found);
    }
    Err(Error::input(format!("`{found}` minutes at a site, expected 0 to 600"))
        .hint("leave it out to have it told from depth and throws"))
}

/// `1ft`, `0.3m`; feet or metres when bare.
fn draft(text: &str, units: UnitSystem) -> Result<Metres> {
    let hint = "write the draft with its unit, such as `1ft` or `0.3m`";
    let draft = units::parse_length(text, units.length_unit())
        .map_err(|error| Error::input(error.to_string()).hint(hint))?;
    if draft < Metres::new(0.0) {
        return Err(
            Error::input(format!("a boat does not draw `{text}`, expected 0 or more")).hint(hint)
        );
    }
    Ok(draft)
}

/// `5mph`, `8km/h`, `2m/s`, `4kn`; miles or kilometres an hour when bare.
fn speed(text: &str, units: UnitSystem) -> Result<MetresPerSecond> {
    let end =
        text.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let wrong = || {
        Error::input(format!("`{text}` is no speed"))
            .hint("write it with its unit, such as `5mph` or `8km/h`")
    };
    let number: f64 = number.parse().ok().ok_or_else(wrong)?;
    let kilometres = |value: f64| MetresPerSecond::new(value / 3.6);
    let speed = match (unit.trim().to_ascii_lowercase().as_str(), units) {
        ("mph", _) | ("", UnitSystem::Us) => MetresPerSecond::from_miles_per_hour(number),
        ("km/h" | "kmh" | "kph", _) | ("", UnitSystem::Metric) => kilometres(number),
        ("m/s", _) => MetresPerSecond::new(number),
        ("kn" | "kt" | "knots", _) => kilometres(1.852 * number),
        _ => return Err(wrong()),
    };
    Ok(speed)
}

fn time(text: &str) -> Result<Time> {
    let padded = if text.len() == 4 { format!("0{text}") } else { text.to_owned() };
    padded
        .parse()
        .ok()
        .ok_or_else(|| Error::input(format!("`{text}` is no time")).hint("write it as `08:30`"))
}

/// `12:00/30`: minutes after the start, and minutes long.
fn rest(text: &str, start: Time) -> Result<(f64, f64)> {
    let wrong = || {
        Error::input(format!("`{text}` is no rest"))
            .hint("write when it begins and its minutes, such as `12:00/30`")
    };
    let (at, minutes) = text.split_once('/').ok_or_else(wrong)?;
    let at = time(at.trim())?;
    let minutes: f64 = minutes.trim().parse().ok().ok_or_else(wrong)?;
    let after = start.until(at).ok().and_then(|span| span.total(jiff::Unit::Minute).ok());
    match after {
        Some(after) if after >= 0.0 && (0.0..=600.0).contains(&minutes) => Ok((after, minutes)),
        Some(after) if after < 0.0 => Err(Error::input(format!(
            "the rest at {} begins before the boats leave at {}",
            clock(at),
            clock(start)
        ))
        .hint("give `--rest` a time after `--start`")),
        _ => Err(wrong()),
    }
}

/// Where the minutes of a plan's clock come from.
pub(super) enum Clock {
    /// The lake's state.
    State,
    /// This machine.
    Machine,
    /// The lake's longitude.
    Longitude,
}

/// Zone most of a state keeps: states that keep two are told by the larger part.
/// Source: 49 CFR part 71 (standard time zone boundaries), from memory.
const ZONES: &[(&str, &[&str])] = &[
    (
        "America/New_York",
        &[
            "CT", "DC", "DE", "FL", "GA", "IN", "KY", "MA", "MD", "ME", "MI", "NC", "NH", "NJ",
            "NY", "OH", "PA", "RI", "SC", "VA", "VT", "WV",
        ],
    ),
    (
        "America/Chicago",
        &[
            "AL", "AR", "IA", "IL", "KS", "LA", "MN", "MO", "MS", "ND", "NE", "OK", "SD", "TN",
            "TX", "WI",
        ],
    ),
    ("America/Denver", &["CO", "ID", "MT", "NM", "UT", "WY"]),
    ("America/Phoenix", &["AZ"]),
    ("America/Los_Angeles", &["CA", "NV", "OR", "WA"]),
    ("America/Anchorage", &["AK"]),
    ("Pacific/Honolulu", &["HI"]),
];

/// Minutes the lake's clock is ahead of UTC at noon of a day: by its state, else this machine's where
/// that can be, else by its longitude.
pub(super) fn utc_offset(region: &str, place: LonLat, date: Date, here: i32) -> (i32, Clock) {
    let region = region.trim().trim_start_matches("US-").to_ascii_uppercase();
    let zone = ZONES.iter().find(|(_, states)| states.contains(&region.as_str()));
    if let Some((name, _)) = zone
        && let Ok(zone) = jiff::tz::TimeZone::get(name)
        && let Ok(noon) = zone.to_zoned_datetime(date.at(12, 0, 0, 0))
    {
        return (noon.offset().seconds() / 60, Clock::State);
    }
    let by_sun = place.longitude() * 4.0;
    // no civil clock lies more than three hours from the sun's
    if (f64::from(here) - by_sun).abs() <= 180.0 {
        return (here, Clock::Machine);
    }
    ((by_sun / 60.0).round() as i32 * 60, Clock::Longitude)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> RouteWords {
        serde_json::from_str(text).unwrap()
    }

    fn local() -> Local {
        Local { today: Date::constant(2026, 7, 14), utc_offset_minutes: |_| 0 }
    }

    #[test]
    fn a_lake_keeps_the_clock_of_its_state() {
        let place = LonLat::new(-94.0, 45.0).unwrap();
        let july = Date::constant(2026, 7, 14);
        let december = Date::constant(2026, 12, 14);
        for (region, date, want) in
            [("MN", july, -300), ("MN", december, -360), ("AZ", july, -420), ("", july, -360)]
        {
            assert_eq!(utc_offset(region, place, date, 0).0, want, "{region} {date}");
        }
        assert_eq!(utc_offset("", place, july, -300).0, -300);
    }

    #[test]
    fn what_is_no_word_of_a_route_is_named() {
        let local = local();
        for (text, want) in [
            (r#"{"speed":"fast"}"#, "`fast` is no speed"),
            (r#"{"start":"half past"}"#, "`half past` is no time"),
            (r#"{"date":"14.7."}"#, "date `14.7.`"),
            (r#"{"rest":"noon"}"#, "`noon` is no rest"),
            (r#"{"rest":"07:00/30"}"#, "begins before the boats leave"),
            (r#"{"boats":0}"#, "`0` boats"),
            (r#"{"budget":-1}"#, "`-1` seconds"),
            (r#"{"draft":"deep"}"#, "deep"),
            (r#"{"draft":"-1ft"}"#, "does not draw `-1ft`"),
            (r#"{"minutes_per_site":-3}"#, "`-3` minutes"),
            (r#"{"utc_offset":99}"#, "`99` hours"),
            (r#"{"try_at":"14/380963"}"#, "`14/380963` is no site with a place"),
            (r#"{"try_at":"/1/2"}"#, "is no site with a place"),
        ] {
            let error = words(text).read(UnitSystem::Us, &local).unwrap_err();
            assert!(error.message.contains(want), "{text}: {error}");
            assert!(error.hint.is_some(), "{text}");
        }
    }

    #[test]
    fn a_site_is_tried_at_a_place_of_the_map() {
        let local = local();
        for (text, code) in [("14/380963/4939616.5", "14"), ("W1/3/380963/4939616.5", "W1/3")] {
            let asked = RouteWords { try_at: Some(text.to_owned()), ..RouteWords::default() };
            let (found, at) = asked.read(UnitSystem::Us, &local).unwrap().tried.unwrap();
            assert_eq!((found.as_str(), at.x, at.y), (code, 380_963.0, 4_939_616.5), "{text}");
        }
    }

    #[test]
    fn a_rest_is_counted_from_the_start() {
        let local = local();
        let request = words(r#"{"rest":"12:00/30"}"#).read(UnitSystem::Us, &local).unwrap();
        assert_eq!(request.rest, Some((210.0, 30.0)));
    }
}
