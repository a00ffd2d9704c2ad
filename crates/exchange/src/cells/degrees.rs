//! Latitudes and longitudes as receivers show them.

use crate::columns::{Meaning, normal_header};
use crate::text::{Row, parse_number};

/// Which of the two a cell holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Axis {
    /// Degrees north, `N` or `S`.
    Latitude,
    /// Degrees east, `E` or `W`.
    Longitude,
}

/// Words for the marks, the longer before what it contains.
const WORDS: [(&str, &str); 11] = [
    ("NORTH", "N"),
    ("SOUTH", "S"),
    ("EAST", "E"),
    ("WEST", "W"),
    ("DEGREES", "°"),
    ("DEG", "°"),
    ("MINUTES", "'"),
    ("MIN", "'"),
    ("SECONDS", "\""),
    ("SEC", "\""),
    ("''", "\""),
];

/// Puts degrees, minutes, seconds and the letter of the hemisphere that stand in columns of their
/// own (`lat_deg`, `lat_min`, `N/S`) together in the first of them, for both axes.
pub(crate) fn join_columns(headers: &[String], rows: &mut [Row]) {
    for names in [&["lat", "latitude"][..], &["lon", "long", "lng", "longitude"]] {
        let column = |parts: &[&str]| {
            headers.iter().position(|header| {
                let lower = header.to_lowercase();
                let words: Vec<&str> =
                    lower.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()).collect();
                let named = words.first().is_some_and(|first| names.contains(first));
                named
                    && match words.get(1) {
                        Some(second) => parts.contains(second),
                        None => parts.contains(&""),
                    }
            })
        };
        let degrees = column(&["deg", "degs", "degree", "degrees", "d", ""]);
        let minutes = column(&["min", "mins", "minute", "minutes", "m"]);
        let seconds = column(&["sec", "secs", "second", "seconds", "s"]);
        let (Some(degrees), Some(minutes)) = (degrees, minutes) else { continue };
        for row in rows.iter_mut() {
            let mut whole = row.cell(degrees).to_owned();
            for part in [Some(minutes), seconds].into_iter().flatten() {
                if let Some(cell) = row.cells.get_mut(part).filter(|cell| !cell.is_empty()) {
                    whole = format!("{whole} {}", std::mem::take(cell));
                }
            }
            if let Some(cell) = row.cells.get_mut(degrees) {
                whole.trim().clone_into(cell);
            }
        }
    }
    join_letters(headers, rows);
}

/// Headers of a column that holds nothing but letters: behind `lat` or `lon`, and for themselves.
const LETTERS: [&str; 7] = ["dir", "direction", "hem", "hemi", "hemisphere", "ref", "letter"];

/// How the letters of an axis are written.
struct Hemispheres {
    degrees: Meaning,
    names: &'static [&'static str],
    /// Headers of the letters' column alone.
    headers: &'static [&'static str],
    letters: &'static [&'static str],
}

/// Puts the letter of the hemisphere that stands in a column of its own (`Lat`, `N/S`) behind the
/// degrees, for both axes.
///
/// Such a column is known by its header, or by an empty header right behind the degrees, and by
/// holding nothing but letters of its axis: an `S` is also sand, and a wind.
fn join_letters(headers: &[String], rows: &mut [Row]) {
    const NORTH: Hemispheres = Hemispheres {
        degrees: Meaning::Latitude,
        names: &["lat", "latitude"],
        headers: &["ns", "n s"],
        letters: &["N", "S", "NORTH", "SOUTH"],
    };
    const EAST: Hemispheres = Hemispheres {
        degrees: Meaning::Longitude,
        names: &["lon", "long", "lng", "longitude"],
        headers: &["ew", "e w", "we", "w e"],
        letters: &["E", "W", "EAST", "WEST"],
    };
    let normal: Vec<String> = headers.iter().map(|header| normal_header(header).0).collect();
    for Hemispheres { degrees: meaning, names, headers: own, letters } in [NORTH, EAST] {
        let means = |words: &String| Meaning::of_header(words).is_some_and(|of| of.0 == meaning);
        let Some(degrees) = normal.iter().position(means) else { continue };
        let named = |index: usize| {
            let words = normal[index].as_str();
            let mut behind =
                names.iter().filter_map(|name| words.strip_prefix(name)).map(str::trim);
            own.contains(&words)
                || matches!(words, "hem" | "hemi" | "hemisphere")
                || (words.is_empty() && index == degrees + 1)
                || behind.any(|rest| own.contains(&rest) || LETTERS.contains(&rest))
        };
        let lettered = |index: usize| {
            let cells = || rows.iter().map(|row| row.cell(index)).filter(|cell| !cell.is_empty());
            cells().count() > 0
                && cells().all(|cell| letters.contains(&cell.to_uppercase().trim_end_matches('.')))
        };
        let Some(letter) = (0..normal.len()).find(|&index| named(index) && lettered(index)) else {
            continue;
        };
        for row in rows.iter_mut() {
            let word = row.cells.get_mut(letter).map(std::mem::take).unwrap_or_default();
            if let Some(cell) = row.cells.get_mut(degrees).filter(|cell| !cell.is_empty()) {
                cell.push(' ');
                cell.push_str(&word);
                cell.truncate(cell.trim_end().len());
            }
        }
    }
}

/// `43D03M03.2S N` and `43-03-03.2 N` with the marks they stand for.
fn plain_marks(text: &str) -> String {
    let mut written: Vec<char> = text.chars().collect();
    for index in 1..written.len() {
        if written[index] == '-' && written[index - 1].is_ascii_digit() {
            written[index] = ' ';
        }
    }
    let after_digit = |written: &[char], mark: char| {
        (1..written.len()).find(|&at| written[at] == mark && written[at - 1].is_ascii_digit())
    };
    let Some(degrees) = after_digit(&written, 'D') else { return written.into_iter().collect() };
    written[degrees] = '°';
    if let Some(minutes) = after_digit(&written, 'M') {
        written[minutes] = '\'';
        // behind digits an S is the seconds' own; south, where meant, follows it
        if let Some(seconds) = after_digit(&written, 'S').filter(|&at| minutes < at) {
            written[seconds] = '"';
        }
    }
    written.into_iter().collect()
}

/// Understands `43.05089`, `43.05089 N`, `43° 03.053'`, `43°03'03.2"N`, `W 89 25 53.4`.
///
/// A letter that belongs to the other axis is no position.
pub(crate) fn parse_degrees(text: &str, axis: Axis, decimal_comma: bool) -> Option<f64> {
    if let Some(value) = parse_number(text, decimal_comma) {
        return Some(value);
    }
    let mut upper = text.trim().to_uppercase().replace('\u{2212}', "-");
    for (word, mark) in WORDS {
        upper = upper.replace(word, mark);
    }
    let upper = plain_marks(upper.trim());
    let upper = upper.trim();
    let hemisphere = |c: char| matches!(c, 'N' | 'S' | 'E' | 'W');
    let letter = upper
        .chars()
        .next()
        .filter(|c| hemisphere(*c))
        .or_else(|| upper.chars().last().filter(|c| hemisphere(*c)));
    let body = upper.trim_start_matches(hemisphere).trim_end_matches(hemisphere).trim();
    let (below, body) = match body.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, body),
    };
    let sign = match (letter, axis, below) {
        (None, _, false)
        | (Some('N'), Axis::Latitude, false)
        | (Some('E'), Axis::Longitude, false) => 1.0,
        // -89 W is west once, not twice
        (None, _, true) | (Some('S'), Axis::Latitude, _) | (Some('W'), Axis::Longitude, _) => -1.0,
        _ => return None,
    };
    let parts: Vec<f64> = body
        .split(['°', 'º', '˚', '\'', '’', '′', '"', '”', '″', ':', ' '])
        .filter(|part| !part.is_empty())
        .map(|part| parse_number(part, decimal_comma).filter(|value| *value >= 0.0))
        .collect::<Option<_>>()?;
    let whole = |value: f64| value.fract() <= 0.0;
    match parts[..] {
        [degrees] => Some(sign * degrees),
        [degrees, minutes] if whole(degrees) && minutes < 60.0 => {
            Some(sign * (degrees + minutes / 60.0))
        }
        [degrees, minutes, seconds]
            if whole(degrees) && whole(minutes) && minutes < 60.0 && seconds < 60.0 =>
        {
            Some(sign * (degrees + minutes / 60.0 + seconds / 3_600.0))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The place, and its spellings with what their last digit is worth.
    type Place = (Axis, f64, [(&'static str, f64); 3]);

    /// Three places, each in degrees, in degrees and minutes, and in degrees, minutes and seconds:
    /// help page of MyTopo, blog.xplorer.co.za, specialstage.com.
    #[test]
    fn letters_and_hyphens_between_the_parts() {
        for (axis, text, want) in [
            (Axis::Latitude, "N45-00-10.8", Some(45.003)),
            (Axis::Longitude, "89-59-06 W", Some(-89.985)),
            (Axis::Longitude, "-89-59-06", Some(-89.985)),
            (Axis::Latitude, "45d00m10.8sN", Some(45.003)),
            (Axis::Latitude, "45d00m10.8s", Some(45.003)),
            (Axis::Latitude, "45d00m10.8s S", Some(-45.003)),
            (Axis::Longitude, "89d59.1' W", Some(-89.985)),
            (Axis::Longitude, "89d59.1' N", None),
        ] {
            let found = parse_degrees(text, axis, false);
            let same = match (found, want) {
                (Some(found), Some(want)) => f64::abs(found - want) < 1e-9,
                (found, want) => found == want,
            };
            assert!(same, "{text}: {found:?}");
        }
    }

    #[test]
    fn nine_spellings_of_three_places() {
        use Axis::{Latitude, Longitude};
        let cases: [Place; 3] = [
            (
                Longitude,
                -39.689_1,
                [("-39.6891°", 1e-9), ("39° 41.346′ W", 1e-9), ("39° 41′ 20.76″ W", 1e-9)],
            ),
            (
                Latitude,
                -(33.0 + 45.25 / 60.0),
                [("S33 45 15", 1e-9), ("S33 45.25", 1e-9), ("S33.75417", 5e-6)],
            ),
            (
                Latitude,
                42.360_05,
                [("42.36005", 1e-9), ("42° 21.603′", 1e-9), ("42° 21′ 36.18″", 1e-9)],
            ),
        ];
        for (axis, want, spellings) in cases {
            for (text, within) in spellings {
                let got = parse_degrees(text, axis, false).unwrap();
                assert!((got - want).abs() < within, "{text}: {got}");
            }
        }
    }

    #[test]
    fn minutes_in_columns_of_their_own_are_put_with_their_degrees() {
        let headers = ["site", "Lat (deg)", "Lat_min", "lat sec", "lon", "Longitude minutes"];
        let headers = headers.map(str::to_owned);
        let cells = ["1", "42", "21", "36.18", "-89", "30.5"].map(str::to_owned).to_vec();
        let mut rows = [Row { number: 2, cells }];
        join_columns(&headers, &mut rows);
        assert_eq!(rows[0].cells, ["1", "42 21 36.18", "", "", "-89 30.5", ""]);
        let place = |column: usize, axis| parse_degrees(rows[0].cell(column), axis, false).unwrap();
        assert!((place(1, Axis::Latitude) - 42.360_05).abs() < 1e-9);
        assert!((place(4, Axis::Longitude) + 89.0 + 30.5 / 60.0).abs() < 1e-9);
    }

    #[test]
    fn letters_in_columns_of_their_own_are_put_behind_their_degrees() {
        let table = |headers: &[&str], cells: &[&str]| {
            let headers: Vec<String> = headers.iter().map(|&header| header.to_owned()).collect();
            let cells = cells.iter().map(|&cell| cell.to_owned()).collect();
            let mut rows = vec![Row { number: 2, cells }];
            join_columns(&headers, &mut rows);
            rows.remove(0).cells
        };
        for (headers, cells, want) in [
            (
                ["Lat", "N/S", "Lon", "E/W"],
                ["45.1", "N", "89.5", "W"],
                ["45.1 N", "", "89.5 W", ""],
            ),
            (
                ["lat_dir", "lat", "LonDir", "lon"],
                ["N", "45.1", "W", "89.5"],
                ["", "45.1 N", "", "89.5 W"],
            ),
            (
                ["Latitude N/S", "Latitude", "E-W", "Longitude"],
                ["S", "45.1", "E", "89.5"],
                ["", "45.1 S", "", "89.5 E"],
            ),
            (
                ["Latitude", "", "Longitude", ""],
                ["45 6", "n", "89 30", "w"],
                ["45 6 n", "", "89 30 w", ""],
            ),
            // sand and a wind are no hemispheres
            (
                ["lat", "sediment", "lon", "wind"],
                ["45.1", "S", "-89.5", "W"],
                ["45.1", "S", "-89.5", "W"],
            ),
            // a column that holds something else besides is left alone
            (
                ["lat", "N/S", "lon", "E/W"],
                ["45.1", "3", "-89.5", "x"],
                ["45.1", "3", "-89.5", "x"],
            ),
        ] {
            assert_eq!(table(&headers, &cells), want, "{headers:?}");
        }
    }

    #[test]
    fn positions_as_receivers_show_them() {
        use Axis::{Latitude, Longitude};
        let cases = [
            ("43.05089", Latitude, Some(43.050_89)),
            ("43.05089 N", Latitude, Some(43.050_89)),
            ("43.05089°", Latitude, Some(43.050_89)),
            ("43° 03.053'", Latitude, Some(43.0 + 3.053 / 60.0)),
            ("43°03'03.2\"N", Latitude, Some(43.0 + 3.0 / 60.0 + 3.2 / 3_600.0)),
            ("W 89 25 53.4", Longitude, Some(-(89.0 + 25.0 / 60.0 + 53.4 / 3_600.0))),
            ("-89 25.89", Longitude, Some(-(89.0 + 25.89 / 60.0))),
            ("-89.4 W", Longitude, Some(-89.4)),
            ("43 deg 3.5 min North", Latitude, Some(43.0 + 3.5 / 60.0)),
            ("43° 3' 3.2'' N", Latitude, Some(43.0 + 3.0 / 60.0 + 3.2 / 3_600.0)),
            ("89:25:53 w", Longitude, Some(-(89.0 + 25.0 / 60.0 + 53.0 / 3_600.0))),
            ("89.4 W", Latitude, None),
            ("-43 N", Latitude, None),
            ("43 75.0 N", Latitude, None),
            ("43 1 2 3", Latitude, None),
            ("N", Latitude, None),
            ("north", Latitude, None),
        ];
        for (text, axis, want) in cases {
            let got = parse_degrees(text, axis, false);
            let close = match (got, want) {
                (Some(got), Some(want)) => (got - want).abs() < 1e-12,
                (got, want) => got == want,
            };
            assert!(close, "{text}: {got:?}, want {want:?}");
        }
        assert_eq!(parse_degrees("43° 3,5' N", Latitude, true), Some(43.0 + 3.5 / 60.0));
    }
}
