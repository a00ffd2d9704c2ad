//! Days and times as people and spreadsheets write them.

use jiff::ToSpan as _;
use jiff::civil::{Date, DateTime, Time};

/// Order of day and month in a date such as `3/4/2022`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DateOrder {
    /// Month first, as in the United States.
    MonthFirst,
    /// Day first.
    DayFirst,
}

impl DateOrder {
    /// `mdy` or `dmy`.
    pub const fn key(self) -> &'static str {
        match self {
            Self::MonthFirst => "mdy",
            Self::DayFirst => "dmy",
        }
    }

    /// The order with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        match key {
            "mdy" => Some(Self::MonthFirst),
            "dmy" => Some(Self::DayFirst),
            _ => None,
        }
    }
}

/// What a cell of dates can mean.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum DateReading {
    /// One day, and a time where the cell has one.
    Day(Date, Option<Time>),
    /// Two days: month first, day first.
    Either(Date, Date),
    /// Nothing that is a date.
    No,
}

/// Which order a cell forces, if any.
pub(crate) fn forced_order(text: &str) -> Option<DateOrder> {
    let (date, _) = split_time(text.trim());
    let (a, b, _) = short_date(date)?;
    match (a > 12, b > 12) {
        (true, false) => Some(DateOrder::DayFirst),
        (false, true) => Some(DateOrder::MonthFirst),
        _ => None,
    }
}

/// Understands ISO dates with or without a time, `m/d/y` and `d/m/y`, months in words, and the
/// serial numbers of spreadsheets (days since 30 December 1899).
pub(crate) fn read_date(text: &str, order: Option<DateOrder>) -> DateReading {
    let text = text.trim();
    if let Some(at) = serial(text) {
        let time = at.time();
        return DateReading::Day(at.date(), (time != Time::midnight()).then_some(time));
    }
    let (day, clock) = split_time(text);
    let time = match clock {
        Some(clock) => match read_time(clock) {
            Some(time) => Some(time).filter(|time| *time != Time::midnight()),
            None => return DateReading::No,
        },
        None => None,
    };
    if let Some(date) = iso_date(day).or_else(|| worded_date(day)) {
        return DateReading::Day(date, time);
    }
    let Some((a, b, year)) = short_date(day) else { return DateReading::No };
    let month_first = Date::new(year, a, b).ok();
    let day_first = Date::new(year, b, a).ok();
    match (order, month_first, day_first) {
        (Some(DateOrder::MonthFirst), Some(date), _)
        | (Some(DateOrder::DayFirst), _, Some(date))
        | (None, Some(date), None)
        | (None, None, Some(date)) => DateReading::Day(date, time),
        (Some(_), _, _) | (None, None, None) => DateReading::No,
        (None, Some(one), Some(other)) if one == other => DateReading::Day(one, time),
        (None, Some(_), Some(other)) if day.contains('.') => DateReading::Day(other, time),
        (None, Some(one), Some(other)) => DateReading::Either(one, other),
    }
}

/// `2022-08-14T10:30`, `8/14/2022 10:30 AM`.
fn split_time(text: &str) -> (&str, Option<&str>) {
    if let Some((day, clock)) = text.split_once('T')
        && day.len() == 10
    {
        return (day, Some(clock.trim_end_matches('Z')));
    }
    match text.find(':') {
        Some(colon) => match text[..colon].rfind(' ') {
            Some(space) => (text[..space].trim_end(), Some(text[space + 1..].trim())),
            None => (text, None),
        },
        None => (text, None),
    }
}

/// Spreadsheet serials from 1954 to 2064; plain years and codes stay out.
fn serial(text: &str) -> Option<DateTime> {
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let value = text.parse::<f64>().ok().filter(|_| plain)?;
    if !(20_000.0..60_000.0).contains(&value) {
        return None;
    }
    let seconds = (value.fract() * 86_400.0).round() as i64;
    let day = jiff::civil::date(1899, 12, 30).checked_add((value.trunc() as i64).days()).ok()?;
    day.at(0, 0, 0, 0).checked_add(seconds.seconds()).ok()
}

/// `2022-08-14`, `2022/8/14`, `20220814`.
fn iso_date(text: &str) -> Option<Date> {
    if text.len() == 8 && text.bytes().all(|b| b.is_ascii_digit()) {
        return Date::new(
            text[..4].parse().ok()?,
            text[4..6].parse().ok()?,
            text[6..].parse().ok()?,
        )
        .ok();
    }
    let mut parts = text.split(['-', '/', '.']);
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    if year.len() != 4 || parts.next().is_some() {
        return None;
    }
    Date::new(whole(year)?, whole(month)?, whole(day)?).ok()
}

fn whole<T: std::str::FromStr>(text: &str) -> Option<T> {
    let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    digits.then(|| text.parse().ok()).flatten()
}

/// Two small numbers and a year.
fn short_date(text: &str) -> Option<(i8, i8, i16)> {
    let mut parts = text.split(['/', '-', '.']);
    let (a, b, year) = (parts.next()?, parts.next()?, parts.next()?);
    if parts.next().is_some() || a.len() > 2 || b.len() > 2 {
        return None;
    }
    Some((whole(a)?, whole(b)?, full_year(year)?))
}

/// Two digits are 1969 to 2068, as POSIX `strptime` has it.
fn full_year(text: &str) -> Option<i16> {
    let year: i16 = whole(text)?;
    match (text.len(), year) {
        (4, _) => Some(year),
        (2, 0..=68) => Some(2_000 + year),
        (2, _) => Some(1_900 + year),
        _ => None,
    }
}

/// `14 Aug 2022`, `14-Aug-22`, `August 14, 2022`.
fn worded_date(text: &str) -> Option<Date> {
    let parts: Vec<&str> =
        text.split([' ', '-', ',', '/', '.']).filter(|p| !p.is_empty()).collect();
    let [one, two, year] = parts[..] else { return None };
    let (day, month) = match (month(one), month(two)) {
        (Some(month), None) => (two, month),
        (None, Some(month)) => (one, month),
        _ => return None,
    };
    let day = day.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    Date::new(full_year(year)?, month, whole(day)?).ok()
}

pub(super) fn month(word: &str) -> Option<i8> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let word = word.to_ascii_lowercase();
    let found = MONTHS.iter().position(|name| {
        word.len() >= 3 && name.starts_with(&word) || (*name == "september" && word == "sept")
    })?;
    Some(found as i8 + 1)
}

/// `9:16`, `09:16:59am`, `9:16 PM`, `0916`, or a spreadsheet's fraction of a day.
pub(crate) fn read_time(text: &str) -> Option<Time> {
    let lower = text.trim().to_ascii_lowercase();
    if let Ok(fraction) = lower.parse::<f64>()
        && lower.contains('.')
        && (0.0..1.0).contains(&fraction)
    {
        let seconds = (fraction * 86_400.0).round().min(86_399.0) as i64;
        return Time::midnight().checked_add(seconds.seconds()).ok();
    }
    let (clock, half) = ["am", "a.m.", "pm", "p.m."]
        .iter()
        .find_map(|mark| lower.strip_suffix(mark).map(|rest| (rest.trim_end(), mark.as_bytes()[0])))
        .map_or((lower.as_str(), None), |(rest, half)| (rest, Some(half)));
    let (hour, minute, second): (i8, i8, i8) = if clock.len() == 4 && !clock.contains(':') {
        (whole(clock.get(..2)?)?, whole(clock.get(2..)?)?, 0)
    } else {
        let mut parts = clock.split(':');
        let hour = whole(parts.next()?)?;
        let minute = match (parts.next(), half) {
            (Some(minute), _) => whole(minute)?,
            (None, Some(_)) => 0,
            (None, None) => return None,
        };
        let second = parts.next().map_or(Some(0), |s| whole(s.split('.').next()?))?;
        if parts.next().is_some() {
            return None;
        }
        (hour, minute, second)
    };
    let hour = match half {
        None => hour,
        Some(_) if !(1..=12).contains(&hour) => return None,
        Some(b'a') => hour % 12,
        Some(_) => hour % 12 + 12,
    };
    Time::new(hour, minute, second, 0).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::{date, time};

    #[test]
    fn dates_in_every_dress_are_the_same_day() {
        let day = date(2022, 8, 14);
        for text in [
            "2022-08-14",
            "2022/8/14",
            "20220814",
            "8/14/2022",
            "14/8/2022",
            "14.8.2022",
            "8/14/22",
            "14 Aug 2022",
            "14-Aug-22",
            "August 14, 2022",
            "Aug. 14th 2022",
            "44787",
            "44787.0",
        ] {
            assert_eq!(read_date(text, None), DateReading::Day(day, None), "{text}");
        }
        for text in ["2022-08-14T10:30", "8/14/2022 10:30", "8/14/2022 10:30 AM", "44787.4375"] {
            assert_eq!(
                read_date(text, None),
                DateReading::Day(day, Some(time(10, 30, 0, 0))),
                "{text}"
            );
        }
        for text in ["", "soon", "2022", "2022-13-01", "31/31/2022", "1/2", "8/14/2022 25:99"] {
            assert_eq!(read_date(text, None), DateReading::No, "{text}");
        }
    }

    #[test]
    fn a_date_with_two_readings_says_both_until_the_order_is_known() {
        let (march, april) = (date(2022, 3, 4), date(2022, 4, 3));
        assert_eq!(read_date("3/4/2022", None), DateReading::Either(march, april));
        assert_eq!(
            read_date("3/4/2022", Some(DateOrder::MonthFirst)),
            DateReading::Day(march, None)
        );
        assert_eq!(read_date("3/4/2022", Some(DateOrder::DayFirst)), DateReading::Day(april, None));
        assert_eq!(read_date("13/4/2022", Some(DateOrder::MonthFirst)), DateReading::No);
        assert_eq!(forced_order("13/4/2022"), Some(DateOrder::DayFirst));
        assert_eq!(forced_order("4/13/2022 9:00"), Some(DateOrder::MonthFirst));
        assert_eq!(forced_order("3/4/2022"), None);
    }

    #[test]
    fn times_of_day() {
        let cases = [
            ("9:16", Some(time(9, 16, 0, 0))),
            ("09:16:59am", Some(time(9, 16, 59, 0))),
            ("9:16 PM", Some(time(21, 16, 0, 0))),
            ("12:05 am", Some(time(0, 5, 0, 0))),
            ("0916", Some(time(9, 16, 0, 0))),
            ("0.4375", Some(time(10, 30, 0, 0))),
            ("9 a.m.", Some(time(9, 0, 0, 0))),
            ("25:00", None),
            ("13:00 pm", None),
            ("noon", None),
        ];
        for (text, want) in cases {
            assert_eq!(read_time(text), want, "{text}");
        }
    }
}
