//! Numbers as agencies print them: halves away from zero.

/// A number with a fixed count of decimals, halves rounded away from zero and a true minus sign.
///
/// Agencies print 106 of 160 sites as 66.3 %, not the 66.2 of round-half-even: USGS Upper Midwest
/// Environmental Sciences Center, long term vegetation table 3 (1998–2002).
///
/// # Examples
/// ```
/// assert_eq!(units::decimals(66.25, 1), "66.3");
/// assert_eq!(units::decimals(-0.04, 1), "0.0");
/// assert_eq!(units::decimals(-2.5, 0), "−3");
/// ```
pub fn decimals(value: f64, places: usize) -> String {
    let rounded = round_half_away(value, places);
    let text = format!("{:.places$}", rounded.abs());
    if rounded < 0.0 { format!("−{text}") } else { text }
}

fn round_half_away(value: f64, places: usize) -> f64 {
    let factor = 10f64.powi(places as i32);
    let scaled = value * factor;
    // 66.25 may come in as 66.249999999999986: a relative nudge of a few ulps settles it
    let nudged = scaled + scaled.signum() * scaled.abs() * 4.0 * f64::EPSILON;
    (nudged.round() / factor) + 0.0
}

/// A proportion as a percentage with one decimal, without the sign.
///
/// # Examples
/// ```
/// assert_eq!(units::percent(106.0 / 160.0), "66.3");
/// ```
pub fn percent(proportion: f64) -> String {
    decimals(100.0 * proportion, 1)
}

/// A proportion as a whole percentage, without the sign.
pub fn percent_whole(proportion: f64) -> String {
    decimals(100.0 * proportion, 0)
}

/// A number with thousands set apart by commas.
///
/// # Examples
/// ```
/// assert_eq!(units::with_thousands(1_234_567.8, 0), "1,234,568");
/// ```
pub fn with_thousands(value: f64, places: usize) -> String {
    let plain = decimals(value, places);
    let (sign, digits) = plain.strip_prefix('−').map_or(("", plain.as_str()), |rest| ("−", rest));
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    let mut grouped = String::with_capacity(whole.len() + whole.len() / 3);
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    if fraction.is_empty() {
        format!("{sign}{grouped}")
    } else {
        format!("{sign}{grouped}.{fraction}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: USGS UMESC vegetation table 3: 106/160 and 26/32 are printed 66.3 and 81.3.
    #[test]
    fn umesc_table_3_rounds_half_away_from_zero() {
        assert_eq!(percent(106.0 / 160.0), "66.3");
        assert_eq!(percent(26.0 / 32.0), "81.3");
    }

    #[test]
    fn thousands_are_grouped_on_both_sides_of_zero() {
        for (value, places, want) in [
            (999.0, 0, "999"),
            (1_000.0, 0, "1,000"),
            (-12_345.6, 1, "−12,345.6"),
            (0.0, 2, "0.00"),
        ] {
            assert_eq!(with_thousands(value, places), want);
        }
    }
}
