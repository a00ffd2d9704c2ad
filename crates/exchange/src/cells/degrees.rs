//! Latitudes and longitudes as receivers show them.

use crate::text::parse_number;

/// Which of the two a cell holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Axis {
    /// Degrees north, `N` or `S`.
    Latitude,
    /// Degrees east, `E` or `W`.
    Longitude,
}

/// Understands `43.05089`, `43.05089 N`, `43° 03.053'`, `43°03'03.2"N`, `W 89 25 53.4`.
///
/// A letter that belongs to the other axis is no position.
pub(crate) fn parse_degrees(text: &str, axis: Axis, decimal_comma: bool) -> Option<f64> {
    if let Some(value) = parse_number(text, decimal_comma) {
        return Some(value);
    }
    let upper = text.trim().to_uppercase().replace('\u{2212}', "-");
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
