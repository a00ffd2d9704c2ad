//! How far apart two sets of ratings are, for ratings that only say more or less.

use super::wilcoxon::SignedRank;
use super::{Confidence, Estimate};

/// Share of pairs of sites, one of each survey, in which the second is rated higher, less the share in
/// which it is rated lower, with its 95 % interval.
///
/// # Formula
/// `δ = (#{y > x} − #{y < x})/(n·m)`; variance from the rows and columns of the table of signs; the
/// interval keeps within −1..1:
/// `(δ − δ³ ± z·s·√((1 − δ²)² + z²s²)) / (1 − δ² + z²s²)`.
/// # Units
/// −1 to 1; 0 when neither survey is rated higher. None without a rating on either side.
/// # Assumptions
/// Sites of the two surveys are different ones and independent.
/// # References
/// Cliff (1993), Psychological Bulletin 114: 494–509; interval: Feng & Cliff (2004), Journal of Modern
/// Applied Statistical Methods 3: 322–332 (both from memory).
pub fn cliff_delta(first: &[f64], second: &[f64]) -> Option<Estimate> {
    let (n, m) = (first.len() as f64, second.len() as f64);
    if first.is_empty() || second.is_empty() {
        return None;
    }
    let sign = |x: f64, y: f64| f64::from(i8::from(y > x) - i8::from(y < x));
    let rows: Vec<f64> =
        first.iter().map(|x| second.iter().map(|y| sign(*x, *y)).sum::<f64>() / m).collect();
    let columns: Vec<f64> =
        second.iter().map(|y| first.iter().map(|x| sign(*x, *y)).sum::<f64>() / n).collect();
    let delta = rows.iter().sum::<f64>() / n;
    let edge = 1.0 - delta * delta;
    if edge < 1e-12 {
        return Some(Estimate { value: delta, low: delta, high: delta });
    }
    let spread = |values: &[f64]| values.iter().map(|v| (v - delta).powi(2)).sum::<f64>();
    let untied = first.iter().flat_map(|x| second.iter().map(|y| sign(*x, *y).abs())).sum::<f64>();
    let whole = untied - n * m * delta * delta;
    let variance = if n > 1.0 && m > 1.0 {
        let (a, b) = (m * m * spread(&rows), n * n * spread(&columns));
        ((a + b - whole) / (n * m * (n - 1.0) * (m - 1.0))).max(edge / (n * m - 1.0))
    } else {
        edge
    };
    let z = Confidence::NINETY_FIVE.z();
    let reach = z * (variance * (edge * edge + z * z * variance)).sqrt();
    let below = edge + z * z * variance;
    let centre = delta - delta.powi(3);
    Some(Estimate {
        value: delta,
        low: ((centre - reach) / below).max(-1.0),
        high: ((centre + reach) / below).min(1.0),
    })
}

/// Share of the ranks that rose less the share that fell, at the same sites.
///
/// # Formula
/// `(V₊ − V₋)/(V₊ + V₋)` of the signed ranks.
/// # Units
/// −1 to 1; 0 when rises and falls balance.
/// # References
/// Kerby (2014), Comprehensive Psychology 3: 11.IT.3.1 (from memory).
pub fn rank_biserial(test: &SignedRank) -> f64 {
    (test.positive - test.negative) / (test.positive + test.negative)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::Alternative;
    use crate::stats::assert_close;
    use crate::stats::wilcoxon::{NullDistribution, ZeroRule, signed_rank};

    #[test]
    fn cliff_1993_delta_by_hand() {
        // 4 × 3 pairs: second higher 8 times, lower 2, tied 2
        let got = cliff_delta(&[0.0, 1.0, 1.0, 3.0], &[1.0, 2.0, 3.0]).unwrap();
        // x = 0: 3 higher; x = 1 twice: 2 higher, 1 tie each; x = 3: 2 lower, 1 tie
        assert_close(got.value, (3.0 + 2.0 + 2.0 - 2.0) / 12.0, 1e-12, "delta");
        assert!(got.low < got.value && got.value < got.high && got.high <= 1.0 && got.low >= -1.0);
    }

    #[test]
    fn the_interval_narrows_with_sites_and_turns_with_the_sides() {
        let of = |times: usize, shift: f64| -> Vec<f64> {
            (0..times).map(|i| (i % 4) as f64 + if i % 3 == 0 { shift } else { 0.0 }).collect()
        };
        let few = cliff_delta(&of(12, 0.0), &of(12, 2.0)).unwrap();
        let many = cliff_delta(&of(240, 0.0), &of(240, 2.0)).unwrap();
        assert!(many.high - many.low < 0.35 * (few.high - few.low));
        let turned = cliff_delta(&of(12, 2.0), &of(12, 0.0)).unwrap();
        assert_close(turned.value, -few.value, 1e-12, "turned");
        assert_close(turned.low, -few.high, 1e-12, "turned interval");
    }

    #[test]
    fn all_above_and_nothing_at_all() {
        let got = cliff_delta(&[1.0, 1.0], &[2.0, 3.0]).unwrap();
        assert_close(got.value, 1.0, 0.0, "delta");
        assert_eq!(cliff_delta(&[], &[1.0]), None);
    }

    #[test]
    fn kerby_2014_nine_patients() {
        // Hollander & Wolfe (1973), p. 29: V 40 of 45, so (40 − 5)/45
        let fall = [0.952, -0.147, 1.022, 0.43, 0.62, 0.59, 0.49, -0.08, 0.01];
        let how = NullDistribution::Exact;
        let test = signed_rank(&fall, ZeroRule::Drop, Alternative::TwoSided, how).unwrap();
        assert_close(rank_biserial(&test), 35.0 / 45.0, 1e-12, "r");
    }
}
