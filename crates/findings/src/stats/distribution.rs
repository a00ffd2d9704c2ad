//! Tails and quantiles the tests share. Continuous ones come from `statrs`; the discrete ones are
//! ours, built from exact ratios of neighbouring probabilities, so that large tables stay right.

use statrs::function::beta::{beta_reg, inv_beta_reg};
use statrs::function::erf::erfc_inv;
use statrs::function::gamma::gamma_ur;
use std::f64::consts::{FRAC_2_SQRT_PI, SQRT_2};

/// Relative slack when "as unlikely as what was seen" is decided, against rounding of equal
/// probabilities. The value is the one R uses in `fisher.test` and `binom.test` (from memory).
pub(crate) const TIE_SLACK: f64 = 1.0 + 1e-7;

/// The complementary error function, to about 1e-14 relative.
///
/// Below 2 the series of `erf` with positive terms, above it the continued fraction (Abramowitz &
/// Stegun 1964, 7.1.6 and 7.1.14). The one in `statrs` is good to 1e-11 only.
fn erfc(x: f64) -> f64 {
    if x < 0.0 {
        return 2.0 - erfc(-x);
    }
    let square = x * x;
    if x < 2.0 {
        let (mut term, mut sum, mut odd) = (x, x, 1.0);
        while term > sum * 1e-17 {
            odd += 2.0;
            term *= 2.0 * square / odd;
            sum += term;
        }
        1.0 - FRAC_2_SQRT_PI * (-square).exp() * sum
    } else {
        // evaluated from the inside out; 120 levels are plenty at 2 and more so beyond
        let fraction = (1..=120).rev().fold(x, |inner, k| x + f64::from(k) / 2.0 / inner);
        FRAC_2_SQRT_PI / 2.0 * (-square).exp() / fraction
    }
}

/// `P(Z ≤ z)` of the standard normal distribution.
pub(crate) fn normal_lower_tail(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}

/// `P(Z ≥ z)` of the standard normal distribution.
pub(crate) fn normal_upper_tail(z: f64) -> f64 {
    0.5 * erfc(z / SQRT_2)
}

/// The `z` with `P(Z ≤ z) = p`.
pub(crate) fn normal_quantile(p: f64) -> f64 {
    -SQRT_2 * erfc_inv(2.0 * p)
}

/// `P(X ≥ x)` of the chi-squared distribution.
pub(crate) fn chi_squared_upper_tail(x: f64, degrees_of_freedom: u32) -> f64 {
    if x <= 0.0 {
        1.0
    } else if degrees_of_freedom == 1 {
        erfc((x / 2.0).sqrt())
    } else {
        gamma_ur(f64::from(degrees_of_freedom) / 2.0, x / 2.0)
    }
}

/// `P(|T| ≥ |t|)` of Student's distribution; of the normal one for infinite degrees of freedom.
pub(crate) fn student_two_tails(t: f64, degrees_of_freedom: f64) -> f64 {
    if degrees_of_freedom.is_infinite() {
        return (2.0 * normal_upper_tail(t.abs())).min(1.0);
    }
    let x = degrees_of_freedom / (degrees_of_freedom + t * t);
    beta_reg(degrees_of_freedom / 2.0, 0.5, x)
}

/// The `t` with `P(|T| ≥ t) = alpha` of Student's distribution.
pub(crate) fn student_two_sided(alpha: f64, degrees_of_freedom: f64) -> f64 {
    if degrees_of_freedom.is_infinite() {
        return normal_quantile(1.0 - alpha / 2.0);
    }
    let (mut low, mut high) = (0.0, 2.0);
    while student_two_tails(high, degrees_of_freedom) > alpha {
        high *= 2.0;
    }
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if student_two_tails(middle, degrees_of_freedom) > alpha {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// The `x` with `P(X ≤ x) = p` of the beta distribution.
pub(crate) fn beta_quantile(a: f64, b: f64, p: f64) -> f64 {
    inv_beta_reg(a, b, p)
}

/// Probabilities of a unimodal distribution on consecutive whole numbers.
#[derive(Debug, Clone)]
pub(crate) struct Masses {
    lowest: u64,
    masses: Vec<f64>,
}

impl Masses {
    /// Builds the masses from `mass(k + 1) / mass(k)`, starting at `mode` so that nothing that
    /// matters is lost to underflow.
    fn from_ratios(lowest: u64, highest: u64, mode: u64, ratio: impl Fn(u64) -> f64) -> Self {
        let mut masses = vec![0.0; (highest - lowest + 1) as usize];
        let start = (mode.clamp(lowest, highest) - lowest) as usize;
        masses[start] = 1.0;
        for i in start..masses.len() - 1 {
            masses[i + 1] = masses[i] * ratio(lowest + i as u64);
        }
        for i in (0..start).rev() {
            masses[i] = masses[i + 1] / ratio(lowest + i as u64);
        }
        // from the smallest to the largest, so that the tails are not swallowed
        let mut sorted = masses.clone();
        sorted.sort_by(f64::total_cmp);
        let total: f64 = sorted.iter().sum();
        for mass in &mut masses {
            *mass /= total;
        }
        Self { lowest, masses }
    }

    /// The binomial distribution with success probability strictly between 0 and 1.
    pub(crate) fn binomial(trials: u64, probability: f64) -> Self {
        let odds = probability / (1.0 - probability);
        let mode = ((trials + 1) as f64 * probability) as u64;
        Self::from_ratios(0, trials, mode, |k| (trials - k) as f64 / (k + 1) as f64 * odds)
    }

    /// The number of marked items among `drawn` when `marked` of `total` are marked.
    pub(crate) fn hypergeometric(total: u64, marked: u64, drawn: u64) -> Self {
        let lowest = (marked + drawn).saturating_sub(total);
        let highest = marked.min(drawn);
        let mode = ((drawn + 1) as f64 * (marked + 1) as f64 / (total + 2) as f64) as u64;
        Self::from_ratios(lowest, highest, mode, |k| {
            // k never reaches `highest` here, so both factors above are positive
            (marked - k) as f64 / (k + 1) as f64 * ((drawn - k) as f64)
                / ((total + k + 1) - marked - drawn) as f64
        })
    }

    /// Probability of exactly `k`.
    pub(crate) fn at(&self, k: u64) -> f64 {
        k.checked_sub(self.lowest).and_then(|i| self.masses.get(i as usize)).copied().unwrap_or(0.0)
    }

    /// Probability of `k` or fewer.
    pub(crate) fn at_most(&self, k: u64) -> f64 {
        let take = (k + 1).saturating_sub(self.lowest) as usize;
        let sum: f64 = self.masses.iter().take(take).sum();
        sum.min(1.0)
    }

    /// Probability of `k` or more.
    pub(crate) fn at_least(&self, k: u64) -> f64 {
        let skip = k.saturating_sub(self.lowest) as usize;
        let sum: f64 = self.masses.iter().skip(skip).rev().sum();
        sum.min(1.0)
    }

    /// Probability of everything no more likely than `k`: the two-sided exact p value.
    pub(crate) fn as_unlikely_as(&self, k: u64) -> f64 {
        let limit = self.at(k) * TIE_SLACK;
        let mut kept: Vec<f64> =
            self.masses.iter().copied().filter(|mass| *mass <= limit).collect();
        kept.sort_by(f64::total_cmp);
        kept.iter().sum::<f64>().min(1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;
    use statrs::function::factorial::ln_binomial;

    #[test]
    fn normal_quantiles_are_the_printed_ones() {
        // Wichura (1988), Applied Statistics 37: 477–484, test values; the first is common knowledge
        for (p, z) in [
            (0.975, 1.959_963_984_540_054),
            (0.25, -0.674_489_750_196_081_7),
            (0.001, -3.090_232_306_167_814),
            (1e-20, -9.262_340_089_798_408),
        ] {
            assert_close(normal_quantile(p), z, 1e-13, "quantile");
            assert_close(normal_lower_tail(z) / p, 1.0, 1e-13, "tail");
        }
    }

    #[test]
    fn the_two_ways_to_the_error_function_meet() {
        // scipy 1.17 `special.erfc`
        for (x, expected) in [
            (0.1, 0.887_537_083_981_715),
            (1.0, 0.157_299_207_050_285_13),
            (1.999_999, 0.004_677_755_648_073_952),
            (2.0, 0.004_677_734_981_047_265),
            (5.0, 1.537_459_794_428_035e-12),
            (-1.5, 1.966_105_146_475_310_8),
        ] {
            assert_close(erfc(x) / expected, 1.0, 2e-14, &format!("erfc {x}"));
        }
    }

    #[test]
    fn student_quantiles_are_the_printed_ones() {
        // NIST/SEMATECH e-Handbook 1.3.6.7.2, critical values of Student's t, two-sided 0.05
        for (degrees, t) in [(1.0, 12.706), (5.0, 2.571), (20.0, 2.086), (100.0, 1.984)] {
            assert_close(student_two_sided(0.05, degrees), t, 5e-4, "t");
            assert_close(student_two_tails(t, degrees), 0.05, 5e-5, "tails");
        }
        assert_close(student_two_sided(0.05, f64::INFINITY), 1.959_964, 5e-7, "normal");
    }

    #[test]
    fn masses_agree_with_logarithms_of_factorials() {
        let (total, marked, drawn) = (4_400, 2_200, 1_900);
        let masses = Masses::hypergeometric(total, marked, drawn);
        for k in [800, 950, 1_000, 1_100] {
            let expected = (ln_binomial(marked, k) + ln_binomial(total - marked, drawn - k)
                - ln_binomial(total, drawn))
            .exp();
            assert!((masses.at(k) / expected - 1.0).abs() < 1e-9, "k {k}");
        }
        let masses = Masses::binomial(925, 0.75);
        let expected =
            (ln_binomial(925, 682) + 682.0 * 0.75_f64.ln() + 243.0 * 0.25_f64.ln()).exp();
        assert!((masses.at(682) / expected - 1.0).abs() < 1e-10);
    }

    #[test]
    fn both_tails_and_their_overlap_close() {
        let masses = Masses::hypergeometric(20, 8, 7);
        for k in 0..=7 {
            assert_close(
                masses.at_most(k) + masses.at_least(k) - masses.at(k),
                1.0,
                1e-14,
                "tails",
            );
        }
    }
}
