//! Numbers and dates in sentences.

use jiff::civil::Date;
use units::{Metres, UnitSystem};

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

fn month(date: Date) -> &'static str {
    MONTHS[usize::from(date.month().unsigned_abs()).saturating_sub(1) % 12]
}

/// `14 July 2026`.
pub(crate) fn date(date: Date) -> String {
    format!("{} {} {}", date.day(), month(date), date.year())
}

/// `14 and 15 July 2026`, `14 to 18 July 2026`, `30 June to 2 July 2026`.
pub(crate) fn dates((first, last): (Date, Date)) -> String {
    if first == last {
        return date(first);
    }
    let same_month = (first.year(), first.month()) == (last.year(), last.month());
    let joint = if same_month && last.day() - first.day() == 1 { "and" } else { "to" };
    let start = if same_month {
        first.day().to_string()
    } else if first.year() == last.year() {
        format!("{} {}", first.day(), month(first))
    } else {
        date(first)
    };
    format!("{start} {joint} {}", date(last))
}

/// A depth with its unit, one decimal unless it is whole: `15 ft`, `14.5 ft`.
pub(crate) fn depth(depth: Metres, units: UnitSystem) -> String {
    let text = units::decimals(units.depth_value(depth), 1);
    format!("{} {}", text.strip_suffix(".0").unwrap_or(&text), units.depth_unit())
}

/// `1 site`, `89 sites`, `1,204 sites`.
pub(crate) fn count(n: u64, one: &str, many: &str) -> String {
    let number = units::with_thousands(n as f64, 0);
    format!("{number} {}", if n == 1 { one } else { many })
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The text with a full stop, unless it ends with one.
pub(crate) fn stop(text: &str) -> String {
    let text = text.trim_end();
    if text.ends_with(['.', '!', '?']) { text.to_owned() } else { format!("{text}.") }
}

/// First letter large.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_read_as_people_say_them() {
        let day = |year, month, day| Date::new(year, month, day).unwrap();
        for (first, last, want) in [
            (day(2026, 7, 14), day(2026, 7, 14), "14 July 2026"),
            (day(2026, 7, 14), day(2026, 7, 15), "14 and 15 July 2026"),
            (day(2026, 7, 14), day(2026, 7, 18), "14 to 18 July 2026"),
            (day(2026, 6, 30), day(2026, 7, 2), "30 June to 2 July 2026"),
            (day(2025, 12, 31), day(2026, 1, 1), "31 December 2025 to 1 January 2026"),
        ] {
            assert_eq!(dates((first, last)), want);
        }
    }

    #[test]
    fn lists_and_counts_read_as_people_say_them() {
        let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(list(&words("a b c")), "a, b and c");
        assert_eq!(list(&words("a b")), "a and b");
        assert_eq!(count(1, "site", "sites"), "1 site");
        assert_eq!(count(1_204, "site", "sites"), "1,204 sites");
        assert_eq!(sentence("élan"), "Élan");
        assert_eq!([stop("T.K., A.M."), stop("a day")], ["T.K., A.M.", "a day."]);
    }
}
