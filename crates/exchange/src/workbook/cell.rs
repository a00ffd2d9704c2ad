//! A cell's value as the text a person would type.

use calamine::{Data, ExcelDateTime};
use jiff::ToSpan as _;
use jiff::civil::{Date, Time};

pub(super) fn text(value: &Data) -> String {
    match value {
        Data::Empty => String::new(),
        Data::String(text) | Data::DateTimeIso(text) => text.clone(),
        Data::DurationIso(text) => clock(text).unwrap_or_else(|| text.clone()),
        Data::Int(value) => value.to_string(),
        Data::Float(value) => number(*value),
        Data::Bool(value) => boolean(*value).to_owned(),
        Data::Error(error) => error.to_string(),
        Data::DateTime(at) => moment(at),
    }
}

pub(super) const fn boolean(value: bool) -> &'static str {
    if value { "TRUE" } else { "FALSE" }
}

/// Fifteen significant digits, as a spreadsheet keeps and shows them: `0.1 + 0.2` is `0.3`.
pub(super) fn number(value: f64) -> String {
    let rounded: f64 = format!("{value:.14e}").parse().unwrap_or(value);
    if rounded.abs() >= 1e21 { format!("{rounded:e}") } else { rounded.to_string() }
}

/// A serial with the format of a date: a day, a day with its time, or below one a time alone.
fn moment(at: &ExcelDateTime) -> String {
    let value = at.as_f64();
    if !(0.0..2_958_466.0).contains(&value) {
        return number(value);
    }
    if value < 1.0 || at.is_duration() && value < 2.0 {
        let seconds = (value.fract() * 86_400.0).round() as i64;
        return Time::midnight().wrapping_add(seconds.seconds()).to_string();
    }
    let (year, month, day, hour, minute, second, milli) = at.to_ymd_hms_milli();
    let date = Date::new(year as i16, month as i8, day as i8);
    let time = Time::new(hour as i8, minute as i8, second as i8, 0);
    let (Ok(date), Ok(time)) = (date, time) else { return number(value) };
    // a serial is a binary fraction of a day, so 10:30 may come as 10:29:59.999
    let up = i64::from(milli >= 500);
    let Ok(rounded) = date.to_datetime(time).checked_add(up.seconds()) else {
        return number(value);
    };
    if rounded.time() == Time::midnight() {
        rounded.date().to_string()
    } else {
        rounded.to_string()
    }
}

/// `PT10H30M00S` as `10:30:00`.
pub(super) fn clock(duration: &str) -> Option<String> {
    let rest = duration.strip_prefix("PT")?;
    let (hours, rest) = rest.split_once('H')?;
    let (minutes, rest) = rest.split_once('M')?;
    let seconds = rest.trim_end_matches('S').split(['.', ',']).next().unwrap_or_default();
    let part = |text: &str, most: u32| {
        if text.is_empty() { Some(0) } else { text.parse().ok().filter(|n: &u32| *n < most) }
    };
    let (hours, minutes, seconds) = (part(hours, 24)?, part(minutes, 60)?, part(seconds, 60)?);
    Some(format!("{hours:02}:{minutes:02}:{seconds:02}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use calamine::ExcelDateTimeType;

    #[test]
    fn numbers_have_the_digits_a_spreadsheet_shows() {
        let cases = [
            (0.1 + 0.2, "0.3"),
            (6.4, "6.4"),
            (3.0, "3"),
            (-0.5, "-0.5"),
            (1e22, "1e22"),
            (123_456_789.012_345, "123456789.012345"),
        ];
        for (value, want) in cases {
            assert_eq!(number(value), want);
        }
    }

    /// 42739 is 2017-01-04 counted from 30 December 1899 (ECMA-376-1:2016, 18.17.4.1).
    #[test]
    fn serials_become_days_and_times() {
        let day = |value| {
            text(&Data::DateTime(ExcelDateTime::new(value, ExcelDateTimeType::DateTime, false)))
        };
        assert_eq!(day(42_739.0), "2017-01-04");
        assert_eq!(day(42_739.437_5), "2017-01-04T10:30:00");
        assert_eq!(day(42_739.437_499_999), "2017-01-04T10:30:00");
        assert_eq!(day(0.437_5), "10:30:00");
        assert_eq!(day(-3.0), "-3");
        let old_mac = ExcelDateTime::new(41_277.0, ExcelDateTimeType::DateTime, true);
        assert_eq!(text(&Data::DateTime(old_mac)), "2017-01-04");
    }
}
