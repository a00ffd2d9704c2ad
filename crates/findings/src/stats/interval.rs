//! Intervals and exact tests for one proportion.

use super::distribution::{Masses, beta_quantile};
use super::{Alternative, Confidence, Interval, Proportion};
use units::{OutOfRange, bounds};

/// How an interval for a proportion is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum IntervalMethod {
    /// Score interval of Wilson (1927): the one printed everywhere unless another is named.
    Wilson,
    /// Exact interval of Clopper and Pearson (1934): never too short, usually too long.
    ClopperPearson,
    /// `p ± z·√(p(1−p)/n)`, clipped to 0..1; collapses at 0 and n. For comparison with old reports.
    Wald,
}

/// The sample standard error of a frequency of occurrence.
///
/// # Formula
/// `SE = √(p(1 − p)/(n − 1))`, with `p = k/n`.
/// # Units
/// A proportion, like `p`. `None` for a single site: one value has no spread.
/// # Assumptions
/// Sites are a simple random or systematic sample.
/// # References
/// The divisor `n − 1` is the one that reproduces all 39 standard errors checked in the U.S.
/// Geological Survey's Long Term Resource Monitoring vegetation tables (2001, 2002, table 3 and
/// table 6).
pub fn standard_error(proportion: Proportion) -> Option<f64> {
    let (p, n) = (proportion.value(), proportion.trials());
    (n > 1).then(|| (p * (1.0 - p) / (n - 1) as f64).sqrt())
}

/// An interval for a proportion.
///
/// # Formula
/// Wilson: `(k + z²/2 ± z·√(n)·√(p(1−p) + z²/(4n))) / (n + z²)`. Clopper–Pearson: the
/// `α/2` quantile of `Beta(k, n−k+1)` and the `1−α/2` quantile of `Beta(k+1, n−k)`.
/// # Units
/// Proportions between 0 and 1.
/// # Assumptions
/// Independent sites. Points of a grid in a patchy lake are not quite independent.
/// # References
/// Newcombe (1998), Statistics in Medicine 17: 857–872, methods 1, 3 and 5.
///
/// # Examples
/// ```
/// use findings::stats::{Confidence, Proportion, interval::{IntervalMethod, interval}};
/// let found = Proportion::new(81, 263)?;
/// let wilson = interval(found, IntervalMethod::Wilson, Confidence::NINETY_FIVE);
/// assert!((wilson.low - 0.2553).abs() < 5e-5 && (wilson.high - 0.3662).abs() < 5e-5);
/// # Ok::<(), findings::stats::ProportionError>(())
/// ```
pub fn interval(proportion: Proportion, method: IntervalMethod, level: Confidence) -> Interval {
    let (k, n) = (proportion.successes(), proportion.trials());
    let p = proportion.value();
    let (low, high) = match method {
        IntervalMethod::Wilson => {
            let z = level.z();
            let n = n as f64;
            let centre = (k as f64 + z * z / 2.0) / (n + z * z);
            let reach = z * n.sqrt() / (n + z * z) * (p * (1.0 - p) + z * z / (4.0 * n)).sqrt();
            (centre - reach, centre + reach)
        }
        IntervalMethod::ClopperPearson => {
            let tail = level.alpha() / 2.0;
            let rest = proportion.failures() as f64;
            let k = k as f64;
            (
                if k > 0.0 { beta_quantile(k, rest + 1.0, tail) } else { 0.0 },
                if rest > 0.0 { beta_quantile(k + 1.0, rest, 1.0 - tail) } else { 1.0 },
            )
        }
        IntervalMethod::Wald => {
            let reach = level.z() * (p * (1.0 - p) / n as f64).sqrt();
            return Interval { low: (p - reach).max(0.0), high: (p + reach).min(1.0) };
        }
    };
    Interval {
        low: if k == 0 { 0.0 } else { low.max(0.0) },
        high: if k == n { 1.0 } else { high.min(1.0) },
    }
}

/// The exact binomial test of one proportion against a stated value.
///
/// # Formula
/// Two-sided: the sum of the probabilities of all outcomes no more likely than the one seen
/// (relative tolerance 1e-7). One-sided: `P(X ≤ k)` or `P(X ≥ k)`.
/// # Units
/// A probability.
/// # Errors
/// [`OutOfRange`] when `null` is not a proportion.
/// # References
/// Conover (1971), Practical Nonparametric Statistics, pp. 97–104.
pub fn exact_binomial_test(
    proportion: Proportion,
    null: f64,
    alternative: Alternative,
) -> Result<f64, OutOfRange> {
    let null = bounds::PROPORTION.check(null)?;
    let (k, n) = (proportion.successes(), proportion.trials());
    if null <= 0.0 || null >= 1.0 {
        // a certain outcome: either it came, or the null value is impossible
        let certain = if null <= 0.0 { 0 } else { n };
        let possible = match alternative {
            Alternative::TwoSided => k == certain,
            Alternative::Less => k >= certain,
            Alternative::Greater => k <= certain,
        };
        return Ok(if possible { 1.0 } else { 0.0 });
    }
    let masses = Masses::binomial(n, null);
    Ok(match alternative {
        Alternative::TwoSided => masses.as_unlikely_as(k),
        Alternative::Less => masses.at_most(k),
        Alternative::Greater => masses.at_least(k),
    })
}

#[cfg(test)]
mod tests {
    use super::IntervalMethod::{ClopperPearson, Wald, Wilson};
    use super::*;
    use crate::stats::assert_close;
    use units::decimals;

    fn of(k: u64, n: u64) -> Proportion {
        Proportion::new(k, n).unwrap()
    }

    /// U.S. Geological Survey, Upper Midwest Environmental Sciences Center, Long Term Resource
    /// Monitoring vegetation tables: table 3 (submersed aquatic vegetation by year, reach, stratum),
    /// 2002 table 6 (Pool 12), 2001 table 3 (Pool 8). n, k, printed frequency %, printed SE.
    const USGS_2002: [(u64, u64, &str, &str); 39] = [
        (74, 24, "32.4", "5.5"),
        (157, 108, "68.8", "3.7"),
        (31, 27, "87.1", "6.1"),
        (75, 22, "29.3", "5.3"),
        (160, 106, "66.3", "3.8"),
        (34, 26, "76.5", "7.4"),
        (100, 18, "18.0", "3.9"),
        (179, 115, "64.2", "3.6"),
        (32, 26, "81.3", "7.0"),
        (100, 14, "14.0", "3.5"),
        (176, 125, "71.0", "3.4"),
        (50, 38, "76.0", "6.1"),
        (30, 25, "83.3", "6.9"),
        (180, 121, "67.2", "3.5"),
        (92, 12, "13.0", "3.5"),
        (165, 110, "66.7", "3.7"),
        (102, 9, "8.8", "2.8"),
        (181, 115, "63.5", "3.6"),
        (32, 22, "68.8", "8.3"),
        (90, 13, "14.4", "3.7"),
        (108, 88, "81.5", "3.8"),
        (20, 10, "50.0", "11.5"),
        (90, 10, "11.1", "3.3"),
        (110, 94, "85.5", "3.4"),
        (11, 9, "81.8", "12.2"),
        (57, 12, "21.1", "5.4"),
        (29, 2, "6.9", "4.8"),
        (65, 11, "16.9", "4.7"),
        (35, 3, "8.6", "4.8"),
        (12, 2, "16.7", "11.2"),
        (75, 11, "14.7", "4.1"),
        (75, 35, "46.7", "5.8"),
        (30, 1, "3.3", "3.3"),
        (120, 31, "25.8", "4.0"),
        (81, 12, "14.8", "4.0"),
        (120, 40, "33.3", "4.3"),
        (175, 111, "63.4", "3.7"),
        (50, 46, "92.0", "3.9"),
        (225, 25, "11.1", "2.1"),
    ];

    #[test]
    fn usgs_2002_frequency_and_standard_error_print_as_the_agency_printed_them() {
        for (n, k, frequency, error) in USGS_2002 {
            let found = of(k, n);
            assert_eq!(decimals(found.value() * 100.0, 1), frequency, "{found}");
            assert_eq!(decimals(standard_error(found).unwrap() * 100.0, 1), error, "{found}");
        }
    }

    #[test]
    fn usgs_2002_nothing_found_at_nine_sites_has_no_standard_error_but_an_interval() {
        let none = of(0, 9);
        assert_close(standard_error(none).unwrap(), 0.0, 0.0, "SE");
        assert!(interval(none, Wilson, Confidence::NINETY_FIVE).high > 0.25);
    }

    #[test]
    fn one_site_has_no_standard_error() {
        assert_eq!(standard_error(of(1, 1)), None);
    }

    #[test]
    fn newcombe_1998_table_i_one_proportion() {
        // Statistics in Medicine 17: 857–872, table I; attribution from memory, figures recomputed
        let rows = [
            (81, 263, (0.25529, 0.36621), (0.25274, 0.36762), (0.25219, 0.36378)),
            (15, 148, (0.06239, 0.16049), (0.05784, 0.16165), (0.05273, 0.14997)),
            (0, 20, (0.0, 0.16113), (0.0, 0.16843), (0.0, 0.0)),
            (1, 29, (0.00611, 0.17176), (0.00087, 0.17764), (0.0, 0.10089)),
        ];
        for (k, n, wilson, exact, wald) in rows {
            for (method, (low, high)) in [(Wilson, wilson), (ClopperPearson, exact), (Wald, wald)] {
                let got = interval(of(k, n), method, Confidence::NINETY_FIVE);
                assert_close(got.low, low, 5e-6, &format!("{k}/{n} {method:?} low"));
                assert_close(got.high, high, 5e-6, &format!("{k}/{n} {method:?} high"));
            }
        }
    }

    #[test]
    fn survey_sized_cases_agree_with_a_reference_library() {
        // recomputed with statsmodels 0.15 `proportion_confint`
        let rows = [
            (0, 50, (0.0, 0.0713), (0.0, 0.0711)),
            (0, 100, (0.0, 0.0370), (0.0, 0.0362)),
            (3, 100, (0.0103, 0.0845), (0.0062, 0.0852)),
            (50, 200, (0.1951, 0.3143), (0.1916, 0.3160)),
            (100, 200, (0.4314, 0.5686), (0.4287, 0.5713)),
        ];
        for (k, n, wilson, exact) in rows {
            for (method, (low, high)) in [(Wilson, wilson), (ClopperPearson, exact)] {
                let got = interval(of(k, n), method, Confidence::NINETY_FIVE);
                assert_close(got.low, low, 5e-5, &format!("{k}/{n} {method:?} low"));
                assert_close(got.high, high, 5e-5, &format!("{k}/{n} {method:?} high"));
            }
        }
    }

    #[test]
    fn conover_1971_exact_binomial() {
        // pp. 97–104: 682 of 925 against 3/4; figures from memory, recomputed with scipy 1.17
        let found = of(682, 925);
        let p = exact_binomial_test(found, 0.75, Alternative::TwoSided).unwrap();
        assert_close(p, 0.382_492, 5e-7, "p");
        let got = interval(found, ClopperPearson, Confidence::NINETY_FIVE);
        assert_close(got.low, 0.707_668_3, 5e-8, "low");
        assert_close(got.high, 0.765_406_6, 5e-8, "high");
    }

    #[test]
    fn a_certain_null_value_is_either_kept_or_impossible() {
        let test = |k, null, alternative| exact_binomial_test(of(k, 9), null, alternative).unwrap();
        assert_close(test(0, 0.0, Alternative::TwoSided), 1.0, 0.0, "kept");
        assert_close(test(1, 0.0, Alternative::TwoSided), 0.0, 0.0, "impossible");
        assert_close(test(1, 0.0, Alternative::Less), 1.0, 0.0, "not less");
        assert_close(test(8, 1.0, Alternative::Less), 0.0, 0.0, "less");
        assert!(exact_binomial_test(of(1, 9), 1.2, Alternative::TwoSided).is_err());
    }
}
