//! Depths, days and times as people write them into cells.

mod dates;
mod degrees;

pub use dates::DateOrder;
pub(crate) use dates::{DateReading, forced_order, read_date, read_time};
pub(crate) use degrees::{Axis, join_columns, parse_degrees};

use crate::text::parse_number;
use dates::month;
use units::LengthUnit;

/// A depth as it stood in a cell and as it was understood.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthCell {
    /// The cell.
    pub raw: String,
    /// The number, in `unit`; nothing when the cell says there is none or is not understood.
    pub value: Option<f64>,
    /// The unit the cell states, else the one of the column, else none.
    pub unit: Option<LengthUnit>,
    /// What the number leaves unsaid: a range, "about", "deeper than", or why there is none.
    pub note: Option<String>,
}

/// Words for "no value here".
pub(crate) fn is_blank_word(text: &str) -> bool {
    matches!(
        text.trim().to_ascii_lowercase().as_str(),
        "" | "-"
            | "--"
            | "–"
            | "—"
            | "na"
            | "n/a"
            | "n.a."
            | "nd"
            | "?"
            | "."
            | "none"
            | "null"
            | "nan"
            | "#n/a"
            | "#value!"
            | "#ref!"
            | "#div/0!"
    )
}

/// Understands `6.5`, `~5 ft`, `5'`, `5' 6"`, `5 1/2`, `2-6`, `>12`, `12+`.
///
/// A range gives its middle; the note says so. `NA`, `-` and blanks give neither value nor note.
pub fn parse_depth(raw: &str, decimal_comma: bool) -> DepthCell {
    let mut cell = DepthCell { raw: raw.to_owned(), value: None, unit: None, note: None };
    if let Some(value) = parse_number(raw, decimal_comma) {
        cell.value = Some(value);
        return cell;
    }
    if is_blank_word(raw) {
        return cell;
    }
    let lower =
        raw.trim().to_lowercase().replace(['’', '′', '`'], "'").replace(['”', '″', '“'], "\"");
    let mut text = lower.as_str();
    let mut notes: Vec<String> = Vec::new();
    for (mark, note) in [
        ("~", "about"),
        ("≈", "about"),
        ("approx.", "about"),
        ("approx", "about"),
        ("about", "about"),
        ("ca.", "about"),
        ("ca ", "about"),
        ("c.", "about"),
        ("±", "about"),
        ("+/-", "about"),
        (">=", "at least"),
        ("≥", "at least"),
        (">", "deeper than"),
        ("<=", "at most"),
        ("≤", "at most"),
        ("<", "shallower than"),
    ] {
        if let Some(rest) = text.strip_prefix(mark) {
            notes.push(note.to_owned());
            text = rest.trim_start();
            break;
        }
    }
    if let Some(rest) = text.strip_suffix('?') {
        notes.push("uncertain".to_owned());
        text = rest.trim_end();
    }
    if let Some(rest) = text.strip_suffix('+') {
        notes.push("at least".to_owned());
        text = rest.trim_end();
    }
    match measure(text, decimal_comma) {
        Some((value, unit, note)) => {
            notes.extend(note);
            (cell.value, cell.unit) = (Some(value), unit);
        }
        None => notes = vec![why_not(text)],
    }
    if !notes.is_empty() {
        cell.note = Some(notes.join(", "));
    }
    cell
}

fn why_not(text: &str) -> String {
    let mangled = text.split(['-', ' ', '/']).any(|part| month(part).is_some())
        || text.len() >= 10
            && text.get(..10).is_some_and(|day| day.contains(['-', '/']))
            && matches!(read_date(text, None), DateReading::Day(..) | DateReading::Either(..));
    if mangled {
        "not a depth: a spreadsheet may have turned a range such as `2-6` into a date".to_owned()
    } else {
        "not a depth".to_owned()
    }
}

type Measure = (f64, Option<LengthUnit>, Option<String>);

fn measure(text: &str, decimal_comma: bool) -> Option<Measure> {
    let (low, rest) = leading_number(text, decimal_comma)?;
    let (unit, rest) = leading_unit(rest);
    if rest.is_empty() {
        return Some((low, unit, None));
    }
    let between = rest.strip_prefix("to ").or_else(|| rest.strip_prefix(['-', '–', '—']));
    if let Some(rest) = between {
        let (high, rest) = leading_number(rest.trim_start(), decimal_comma)?;
        let (last_unit, rest) = leading_unit(rest);
        let unit = last_unit.or(unit);
        let note = format!("middle of the range {low} to {high}");
        return (rest.is_empty() && high >= 0.0).then_some((
            f64::midpoint(low, high),
            unit,
            Some(note),
        ));
    }
    let (part, rest) = leading_number(rest, decimal_comma)?;
    if let Some(below) = rest.strip_prefix('/') {
        // 5 1/2
        let (below, rest) = leading_number(below, decimal_comma)?;
        let (unit, rest) = leading_unit(rest);
        return (rest.is_empty() && below > part && unit_free(text)).then_some((
            low + part / below,
            unit,
            None,
        ));
    }
    let inches = matches!(rest, "" | "\"" | "''" | "in" | "in." | "inch" | "inches");
    (unit == Some(LengthUnit::Foot) && inches && part < 12.0).then_some((
        low + part / 12.0,
        unit,
        None,
    ))
}

/// Between whole number and fraction stands only space.
fn unit_free(text: &str) -> bool {
    let after = text.trim_start_matches(|c: char| c.is_ascii_digit());
    after.starts_with(' ')
}

fn leading_number(text: &str, decimal_comma: bool) -> Option<(f64, &str)> {
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || (decimal_comma && c == ',')))
        .unwrap_or(text.len());
    let value = parse_number(&text[..end], decimal_comma)?;
    Some((value, text[end..].trim_start()))
}

fn leading_unit(text: &str) -> (Option<LengthUnit>, &str) {
    if text.starts_with("''") {
        return (None, text);
    }
    let end =
        text.find(|c: char| !(c.is_alphabetic() || c == '\'' || c == '.')).unwrap_or(text.len());
    let end = if text.starts_with('\'') { 1 } else { end };
    match text[..end].parse() {
        Ok(unit) => (Some(unit), text[end..].trim_start()),
        Err(_) => (None, text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    type Case = (&'static str, Option<f64>, Option<LengthUnit>, Option<&'static str>);

    #[test]
    fn depths_as_crews_write_them() {
        let foot = Some(LengthUnit::Foot);
        let cases: [Case; 22] = [
            ("6.5", Some(6.5), None, None),
            ("5'", Some(5.0), foot, None),
            ("5' 6\"", Some(5.5), foot, None),
            ("5’6”", Some(5.5), foot, None),
            ("5 ft 6 in", Some(5.5), foot, None),
            ("5 1/2", Some(5.5), None, None),
            ("5 1/2 ft", Some(5.5), foot, None),
            ("~5 ft", Some(5.0), foot, Some("about")),
            ("ca. 5", Some(5.0), None, Some("about")),
            ("2-6", Some(4.0), None, Some("middle of the range 2 to 6")),
            ("2 to 6 ft", Some(4.0), foot, Some("middle of the range 2 to 6")),
            ("2.5–3m", Some(2.75), Some(LengthUnit::Metre), Some("middle of the range 2.5 to 3")),
            (">12", Some(12.0), None, Some("deeper than")),
            ("12+", Some(12.0), None, Some("at least")),
            ("12?", Some(12.0), None, Some("uncertain")),
            ("-3", Some(-3.0), None, None),
            ("NA", None, None, None),
            ("-", None, None, None),
            ("", None, None, None),
            ("deep", None, None, Some("not a depth")),
            (
                "2-Jun",
                None,
                None,
                Some(
                    "not a depth: a spreadsheet may have turned a range such as `2-6` into a date",
                ),
            ),
            ("5 cars", None, None, Some("not a depth")),
        ];
        for (raw, value, unit, note) in cases {
            let want =
                DepthCell { raw: raw.to_owned(), value, unit, note: note.map(str::to_owned) };
            assert_eq!(parse_depth(raw, false), want, "{raw}");
        }
        assert_eq!(parse_depth("2,5 m", true).value, Some(2.5));
    }
}
