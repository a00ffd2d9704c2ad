//! Two or more surveys on different sites: did a frequency change?

use super::distribution::chi_squared_upper_tail;
use super::interval::{IntervalMethod, interval};
use super::{ChiSquared, Confidence, Continuity, Interval, Proportion};

/// Pearson's chi-squared test that two independent proportions are equal.
///
/// # Formula
/// `χ² = N·(|ad − bc| − ½N·c)² / ((a+b)(c+d)(a+c)(b+d))`, `c` 1 with the Yates correction and 0
/// without (the correction never exceeds `|ad − bc|`). One degree of freedom.
/// # Units
/// Dimensionless.
/// # Assumptions
/// Different, independently placed sites; expected counts of five or more, else
/// [`fisher_exact`](super::fisher::fisher_exact). Two proportions that are both 0 or both 1 are
/// equal: statistic 0, p 1.
/// # References
/// Pearson (1900); Yates (1934). Checked against scipy on the cases of the tests.
pub fn pearson_chi_squared(
    first: Proportion,
    second: Proportion,
    continuity: Continuity,
) -> ChiSquared {
    let (a, b) = (first.successes() as f64, first.failures() as f64);
    let (c, d) = (second.successes() as f64, second.failures() as f64);
    let total = a + b + c + d;
    let cross = (a * d - b * c).abs();
    let shift = match continuity {
        Continuity::Corrected => (total / 2.0).min(cross),
        Continuity::Uncorrected => 0.0,
    };
    let margins = (a + b) * (c + d) * (a + c) * (b + d);
    let statistic =
        if margins > 0.0 { total * (cross - shift) * (cross - shift) / margins } else { 0.0 };
    ChiSquared { statistic, degrees_of_freedom: 1, p: chi_squared_upper_tail(statistic, 1) }
}

/// The smallest count expected in the two-by-two table if the proportions were equal.
///
/// Below five the chi-squared test is replaced by Fisher's (Cochran 1954, Biometrics 10: 417–451,
/// from memory).
pub fn smallest_expected_count(first: Proportion, second: Proportion) -> f64 {
    let (n1, n2) = (first.trials() as f64, second.trials() as f64);
    let found = (first.successes() + second.successes()) as f64;
    let missed = (first.failures() + second.failures()) as f64;
    n1.min(n2) * found.min(missed) / (n1 + n2)
}

/// The interval for the difference `second − first` of two independent proportions.
///
/// # Formula
/// With Wilson limits `l, u` of each: `d − √((p₂ − l₂)² + (u₁ − p₁)²)` to
/// `d + √((u₂ − p₂)² + (p₁ − l₁)²)`, `d = p₂ − p₁`.
/// # Units
/// A difference of proportions, −1 to 1.
/// # Assumptions
/// Different, independently placed sites.
/// # References
/// Newcombe (1998), Statistics in Medicine 17: 873–890, method 10.
pub fn difference_interval(first: Proportion, second: Proportion, level: Confidence) -> Interval {
    let (p1, p2) = (first.value(), second.value());
    let one = interval(first, IntervalMethod::Wilson, level);
    let two = interval(second, IntervalMethod::Wilson, level);
    let difference = p2 - p1;
    Interval {
        low: difference - (p2 - two.low).hypot(one.high - p1),
        high: difference + (two.high - p2).hypot(p1 - one.low),
    }
}

/// The chi-squared test that several independent proportions are equal.
///
/// # Formula
/// `χ² = Σ nᵢ(pᵢ − p̄)² / (p̄(1 − p̄))`, `p̄` the pooled proportion, `k − 1` degrees of freedom.
/// # Units
/// Dimensionless. Fewer than two groups, or a pooled proportion of 0 or 1: statistic 0, p 1.
/// # Assumptions
/// Independent groups, expected counts of five or more.
/// # References
/// Fleiss (1981), Statistical Methods for Rates and Proportions, 2nd ed., p. 139.
pub fn equal_proportions(groups: &[Proportion]) -> ChiSquared {
    let trials: u64 = groups.iter().map(|group| group.trials()).sum();
    let found: u64 = groups.iter().map(|group| group.successes()).sum();
    let degrees_of_freedom = groups.len().saturating_sub(1) as u32;
    if degrees_of_freedom == 0 || found == 0 || found == trials {
        return ChiSquared { statistic: 0.0, degrees_of_freedom, p: 1.0 };
    }
    let pooled = found as f64 / trials as f64;
    let spread: f64 =
        groups.iter().map(|group| group.trials() as f64 * (group.value() - pooled).powi(2)).sum();
    let statistic = spread / (pooled * (1.0 - pooled));
    ChiSquared {
        statistic,
        degrees_of_freedom,
        p: chi_squared_upper_tail(statistic, degrees_of_freedom),
    }
}

#[cfg(test)]
mod tests {
    use super::Continuity::{Corrected, Uncorrected};
    use super::*;
    use crate::stats::assert_close;

    fn of(k: u64, n: u64) -> Proportion {
        Proportion::new(k, n).unwrap()
    }

    #[test]
    fn newcombe_1998_difference_of_independent_proportions() {
        // Statistics in Medicine 17: 873–890, method 10; figures from memory, recomputed
        let rows = [
            (of(48, 80), of(56, 70), 0.2, 0.0524, 0.3339),
            (of(3, 10), of(9, 10), 0.6, 0.1705, 0.8090),
        ];
        for (first, second, difference, low, high) in rows {
            let got = difference_interval(first, second, Confidence::NINETY_FIVE);
            assert_close(second.value() - first.value(), difference, 1e-12, "difference");
            assert_close(got.low, low, 5e-5, "low");
            assert_close(got.high, high, 5e-5, "high");
            let turned = difference_interval(second, first, Confidence::NINETY_FIVE);
            assert_close(turned.low, -got.high, 1e-15, "turned round");
        }
    }

    #[test]
    fn vardeman_1994_two_independent_proportions() {
        // engineering data, example 14 p. 112: 38 of 100 and 66 of 100; tests recomputed with scipy
        let (first, second) = (of(38, 100), of(66, 100));
        let plain = pearson_chi_squared(first, second, Uncorrected);
        assert_close(plain.statistic, 15.705_13, 5e-6, "chi-squared");
        assert_close(plain.p, 7.4023e-5, 5e-10, "p");
        let yates = pearson_chi_squared(first, second, Corrected);
        assert_close(yates.statistic, 14.603_37, 5e-6, "Yates");
        assert_close(yates.p, 1.3268e-4, 5e-9, "p");
    }

    #[test]
    fn usgs_2002_pool_12_coontail_in_two_strata() {
        // UMESC 2002 table 6: 31 of 120 and 12 of 81; tests recomputed with scipy
        let (first, second) = (of(31, 120), of(12, 81));
        let plain = pearson_chi_squared(first, second, Uncorrected);
        assert_close(plain.statistic, 3.491_27, 5e-6, "chi-squared");
        assert_close(plain.p, 0.061_693, 5e-7, "p");
        let yates = pearson_chi_squared(first, second, Corrected);
        assert_close(yates.statistic, 2.866_79, 5e-6, "Yates");
        assert_close(yates.p, 0.090_425, 5e-7, "p");
        assert_close(
            smallest_expected_count(first, second),
            81.0 * 43.0 / 201.0,
            1e-12,
            "expected",
        );
    }

    #[test]
    fn fleiss_1981_four_groups() {
        // p. 139: smokers among lung cancer patients in four studies
        let groups = [of(83, 86), of(90, 93), of(129, 136), of(70, 82)];
        let got = equal_proportions(&groups);
        assert_eq!(got.degrees_of_freedom, 3);
        assert_close(got.statistic, 12.600_41, 5e-6, "chi-squared");
        assert_close(got.p, 0.005_585_48, 5e-9, "p");
    }

    #[test]
    fn two_groups_are_pearsons_test() {
        let (first, second) = (of(31, 120), of(12, 81));
        let many = equal_proportions(&[first, second]);
        let two = pearson_chi_squared(first, second, Uncorrected);
        assert_close(many.statistic, two.statistic, 1e-12, "same statistic");
    }

    #[test]
    fn nothing_found_twice_is_no_change() {
        let got = pearson_chi_squared(of(0, 40), of(0, 55), Corrected);
        assert_close(got.p, 1.0, 0.0, "p");
        assert_close(equal_proportions(&[of(0, 40), of(0, 55)]).p, 1.0, 0.0, "p");
    }
}
