//! Whether values go up or down over time, whatever the shape of the way.

use super::distribution::normal_upper_tail;
use super::quantile::quantile;
use super::{Confidence, Estimate};
use thiserror::Error;

/// Result of the test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MannKendall {
    /// Rises less falls over all pairs of times, `S`.
    pub s: f64,
    /// Its variance when there is no trend, ties taken in.
    pub variance: f64,
    /// `(S ∓ 1)/√variance`.
    pub z: f64,
    /// Two-sided p value.
    pub p: f64,
    /// True when all orders were counted, else the normal distribution.
    pub exact: bool,
    /// Sen's slope, the middle of the slopes of all pairs, with its interval, per unit of time.
    pub slope: Estimate,
    /// Values.
    pub values: usize,
}

/// Why there is no test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum MannKendallError {
    /// Too few.
    #[error("`{values}` values show no trend: expected at least 4")]
    TooFew {
        /// Values.
        values: usize,
    },
    /// All equal.
    #[error("all values are equal: there is nothing to order")]
    AllTied,
    /// Two values at one time within a stretch, or times out of order.
    #[error("times must rise from value to value")]
    TimesDoNotRise,
}

/// Most values without ties for which all orders are counted.
const MOST_EXACT: usize = 10;

/// Mann–Kendall test with Sen's slope over one or more stretches.
///
/// # Formula
/// `S = Σ sign(yⱼ − yᵢ)` over `i < j` within each stretch; variance
/// `(n(n − 1)(2n + 5) − Σ t(t − 1)(2t + 5))/18`, summed; `z` with a continuity correction of 1. Up to
/// ten untied values in one stretch all orders are counted. Slope: the median of
/// `(yⱼ − yᵢ)/(tⱼ − tᵢ)`; limits at the ranks `(N ∓ z·√variance)/2` of the `N` slopes.
/// # Units
/// Slope in units of value per unit of time.
/// # Assumptions
/// Values independent when there is no trend. Stretches (between changes of method) are compared only
/// within themselves.
/// # Errors
/// [`MannKendallError`] below four values or when all are equal.
/// # References
/// Mann (1945), Econometrica 13: 245–259; Kendall (1975), Rank Correlation Methods; Sen (1968), JASA
/// 63: 1379–1389; limits: Gilbert (1987), Statistical Methods for Environmental Pollution Monitoring,
/// pp. 218–219; summing over stretches as over seasons: Hirsch, Slack & Smith (1982), Water Resources
/// Research 18: 107–121 (all from memory).
pub fn mann_kendall(stretches: &[Vec<(f64, f64)>]) -> Result<MannKendall, MannKendallError> {
    let values = stretches.iter().map(Vec::len).sum();
    if values < 4 {
        return Err(MannKendallError::TooFew { values });
    }
    if stretches.iter().any(|one| one.windows(2).any(|pair| pair[1].0 <= pair[0].0)) {
        return Err(MannKendallError::TimesDoNotRise);
    }
    let (mut s, mut variance, mut tied) = (0.0, 0.0, false);
    let mut slopes = Vec::new();
    for stretch in stretches {
        for (later, (time, value)) in stretch.iter().enumerate() {
            for (earlier_time, earlier) in &stretch[..later] {
                let rise = value - earlier;
                if rise.abs() > 1e-12 {
                    s += rise.signum();
                }
                slopes.push(rise / (time - earlier_time));
            }
        }
        let n = stretch.len() as f64;
        let mut sorted: Vec<f64> = stretch.iter().map(|(_, value)| *value).collect();
        sorted.sort_by(f64::total_cmp);
        let term = |t: f64| t * (t - 1.0) * (2.0 * t + 5.0);
        let ties = sorted.chunk_by(|a, b| b - a <= 1e-12).map(|tie| tie.len() as f64);
        let lost: f64 = ties.map(term).sum();
        tied |= lost > 0.0;
        variance += (term(n) - lost) / 18.0;
    }
    if variance <= 0.0 {
        return Err(MannKendallError::AllTied);
    }
    let exact = stretches.iter().filter(|one| !one.is_empty()).count() == 1
        && !tied
        && values <= MOST_EXACT;
    let z = if s.abs() < 0.5 { 0.0 } else { (s - s.signum()) / variance.sqrt() };
    let p =
        if exact { exact_p(values, s.abs()) } else { (2.0 * normal_upper_tail(z.abs())).min(1.0) };
    slopes.sort_by(f64::total_cmp);
    let count = slopes.len() as f64;
    let reach = Confidence::NINETY_FIVE.z() * variance.sqrt();
    // ranks count from 1; the upper one is the next above
    let rank = |rank: f64| slopes[(rank - 1.0).clamp(0.0, count - 1.0).round() as usize];
    let value = quantile(&slopes, 0.5).unwrap_or(0.0);
    let slope = Estimate {
        value,
        low: rank(((count - reach) / 2.0).round()).min(value),
        high: rank(f64::midpoint(count, reach).round() + 1.0).max(value),
    };
    Ok(MannKendall { s, variance, z, p, exact, slope, values })
}

/// `P(|S| ≥ s)` over all orders of `n` values, by the numbers of inversions.
fn exact_p(n: usize, s: f64) -> f64 {
    let pairs = n * (n - 1) / 2;
    let mut counts = vec![0.0; pairs + 1];
    counts[0] = 1.0;
    for size in 2..=n {
        let before = counts.clone();
        for (inversions, count) in counts.iter_mut().enumerate() {
            *count = (0..size).filter_map(|k| before.get(inversions.checked_sub(k)?)).sum();
        }
    }
    let all: f64 = counts.iter().sum();
    let as_large = |inversions: usize| (pairs as f64 - 2.0 * inversions as f64).abs() >= s - 0.5;
    (0..=pairs).filter(|inversions| as_large(*inversions)).map(|i| counts[i]).sum::<f64>() / all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    #[test]
    fn eight_surveys_with_a_tie_agree_with_a_reference_library() {
        // scipy 1.17 `theilslopes`; S and the variance by hand
        let series = vec![
            (2012.0, 0.12),
            (2013.0, 0.15),
            (2014.0, 0.11),
            (2016.0, 0.22),
            (2017.0, 0.19),
            (2019.0, 0.30),
            (2020.0, 0.30),
            (2023.0, 0.27),
        ];
        let got = mann_kendall(&[series]).unwrap();
        assert_close(got.s, 17.0, 0.0, "22 rises, 5 falls, 1 tie");
        assert_close(got.variance, (8.0 * 7.0 * 21.0 - 2.0 * 9.0) / 18.0, 1e-12, "variance");
        assert_close(got.z, 16.0 / got.variance.sqrt(), 1e-12, "z");
        assert_close(got.slope.value, 0.020_714_285_714_285_713, 1e-12, "slope");
        assert_close(got.slope.low, 0.0, 1e-12, "low");
        assert_close(got.slope.high, 0.03, 1e-12, "high");
        assert!(!got.exact && got.p < 0.05);
    }

    #[test]
    fn kendall_1975_all_orders_of_six() {
        // scipy 1.17 `kendalltau(method='exact')`: 5 4 6 8 7 9 over six years
        let series = [5.0, 4.0, 6.0, 8.0, 7.0, 9.0];
        let series = series.iter().enumerate().map(|(t, y)| (t as f64, *y)).collect();
        let got = mann_kendall(&[series]).unwrap();
        assert_close(got.s, 11.0, 0.0, "S");
        assert_close(got.p, 0.055_555_555_555_555_55, 1e-12, "p");
        assert!(got.exact);
    }

    #[test]
    fn stretches_are_not_compared_with_each_other() {
        // up within each stretch, down from one to the next
        let one = vec![(1.0, 0.5), (2.0, 0.6), (3.0, 0.7)];
        let other = vec![(4.0, 0.1), (5.0, 0.2), (6.0, 0.3)];
        let got = mann_kendall(&[one.clone(), other.clone()]).unwrap();
        assert_close(got.s, 6.0, 0.0, "S");
        assert_close(got.slope.value, 0.1, 1e-12, "slope");
        let joined: Vec<(f64, f64)> = one.into_iter().chain(other).collect();
        assert!(mann_kendall(&[joined]).unwrap().s < 0.0);
    }

    #[test]
    fn too_few_all_equal_or_out_of_order_is_refused() {
        let flat = vec![(1.0, 0.5), (2.0, 0.5), (3.0, 0.5), (4.0, 0.5)];
        assert_eq!(mann_kendall(&[flat]), Err(MannKendallError::AllTied));
        let few = vec![(1.0, 0.5), (2.0, 0.6)];
        assert_eq!(mann_kendall(&[few]), Err(MannKendallError::TooFew { values: 2 }));
        let twice = vec![(1.0, 0.5), (1.0, 0.6), (3.0, 0.7), (4.0, 0.8)];
        assert_eq!(mann_kendall(&[twice]), Err(MannKendallError::TimesDoNotRise));
    }
}
