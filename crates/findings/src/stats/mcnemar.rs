//! McNemar's test: the same sites twice, judged by those that changed.

use super::distribution::{Masses, chi_squared_upper_tail};
use super::{ChiSquared, Continuity};

/// Which form of the test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum McNemar {
    /// Chi-squared, uncorrected.
    Asymptotic,
    /// Chi-squared with the continuity correction: needlessly cautious.
    Corrected,
    /// Exact binomial on the sites that changed: cautious.
    Exact,
    /// Exact less half the probability of what was seen: the one the program uses.
    MidP,
}

/// The chi-squared form.
///
/// # Formula
/// `χ² = (|gained − lost| − c)² / (gained + lost)`, `c` 1 with the correction and 0 without (never
/// more than `|gained − lost|`). One degree of freedom.
/// # Units
/// Dimensionless. No site changed: statistic 0, p 1.
/// # Assumptions
/// The same sites both times; sites independent of one another.
/// # References
/// McNemar (1947), Psychometrika 12: 153–157; Edwards (1948) for the correction.
pub fn chi_squared(gained: u64, lost: u64, continuity: Continuity) -> ChiSquared {
    let changed = (gained + lost) as f64;
    let excess = gained.abs_diff(lost) as f64;
    let shift = match continuity {
        Continuity::Corrected => excess.min(1.0),
        Continuity::Uncorrected => 0.0,
    };
    let statistic = if changed > 0.0 { (excess - shift) * (excess - shift) / changed } else { 0.0 };
    ChiSquared { statistic, degrees_of_freedom: 1, p: chi_squared_upper_tail(statistic, 1) }
}

/// The two-sided p value of a form of the test.
///
/// # Formula
/// With `X ~ Binomial(gained + lost, ½)` and `m` the smaller count: exact `2·P(X ≤ m)`, at most 1;
/// mid-P `2·P(X ≤ m) − P(X = m)`.
/// # Units
/// A probability. No site changed: 1.
/// # Assumptions
/// The same sites both times; sites independent of one another.
/// # References
/// Fagerland, Lydersen & Laake (2013), BMC Medical Research Methodology 13: 91, who prefer the
/// mid-P or the uncorrected form.
pub fn p_value(gained: u64, lost: u64, form: McNemar) -> f64 {
    let exact = || {
        let masses = Masses::binomial(gained + lost, 0.5);
        let fewer = gained.min(lost);
        (2.0 * masses.at_most(fewer), masses.at(fewer))
    };
    match form {
        McNemar::Asymptotic => chi_squared(gained, lost, Continuity::Uncorrected).p,
        McNemar::Corrected => chi_squared(gained, lost, Continuity::Corrected).p,
        McNemar::Exact => exact().0.min(1.0),
        McNemar::MidP => {
            let (both_tails, seen) = exact();
            (both_tails - seen).min(1.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    struct Row {
        source: &'static str,
        counts: (u64, u64),
        corrected: (f64, f64),
        uncorrected: (f64, f64),
        exact: f64,
        mid_p: f64,
        tolerance: f64,
    }

    /// Four published tables. Published figures agree to their printed digits; the further digits
    /// are recomputed with scipy 1.17.
    const ROWS: [Row; 4] = [
        Row {
            source: "Armitage & Berry (1994), p. 127: culture media",
            counts: (12, 2),
            corrected: (5.785_714_3, 0.016_156_9),
            uncorrected: (7.142_857_1, 0.007_526_3),
            exact: 0.012_939_45,
            mid_p: 0.007_385_25,
            tolerance: 5e-8,
        },
        Row {
            source: "McNemar's test, second example of the encyclopaedia entry: 6 and 16",
            counts: (6, 16),
            corrected: (3.681_82, 0.055_009),
            uncorrected: (4.545_45, 0.033_006),
            exact: 0.052_479,
            mid_p: 0.034_690,
            tolerance: 5e-6,
        },
        Row {
            source: "stat-tools.xyz, McNemar page: 12 and 5",
            counts: (12, 5),
            corrected: (2.117_647, 0.145_610),
            uncorrected: (2.882_353, 0.089_555),
            exact: 0.143_463,
            mid_p: 0.096_252,
            tolerance: 5e-7,
        },
        Row {
            source: "Agresti (1990), pp. 350–354: approval of a prime minister",
            counts: (86, 150),
            corrected: (16.817_80, 4.114_56e-5),
            uncorrected: (17.355_93, 3.0993e-5),
            exact: 3.7159e-5,
            mid_p: f64::NAN,
            tolerance: 5e-6,
        },
    ];

    #[test]
    fn armitage_1994_agresti_1990_and_two_more_in_four_variants() {
        for row in &ROWS {
            let (gained, lost) = row.counts;
            let corrected = chi_squared(gained, lost, Continuity::Corrected);
            let plain = chi_squared(gained, lost, Continuity::Uncorrected);
            // a p value of some 1e-5 is printed to four or five digits
            let tight = row.tolerance.min(5e-4 * row.uncorrected.1);
            assert_close(corrected.statistic, row.corrected.0, row.tolerance, row.source);
            assert_close(corrected.p, row.corrected.1, tight, row.source);
            assert_close(plain.statistic, row.uncorrected.0, row.tolerance, row.source);
            assert_close(plain.p, row.uncorrected.1, tight, row.source);
            assert_close(p_value(gained, lost, McNemar::Exact), row.exact, tight, row.source);
            if !row.mid_p.is_nan() {
                assert_close(p_value(gained, lost, McNemar::MidP), row.mid_p, tight, row.source);
            }
        }
    }

    #[test]
    fn mcnemar_encyclopaedia_first_example() {
        // printed 21.35, which is the uncorrected statistic
        let got = chi_squared(121, 59, Continuity::Uncorrected);
        assert_close(got.statistic, 21.355_56, 5e-6, "chi-squared");
        assert_close(got.p, 3.8151e-6, 5e-11, "p");
    }

    #[test]
    fn no_change_and_even_change_are_no_evidence() {
        for form in [McNemar::Asymptotic, McNemar::Corrected, McNemar::Exact, McNemar::MidP] {
            assert_close(p_value(0, 0, form), 1.0, 0.0, "no site changed");
            assert_close(p_value(7, 7, form), 1.0, 1e-12, "as many gained as lost");
        }
    }

    #[test]
    fn mid_p_lies_between_the_exact_test_and_half_of_it() {
        for (gained, lost) in [(1, 9), (3, 8), (0, 5), (40, 61)] {
            let exact = p_value(gained, lost, McNemar::Exact);
            let mid = p_value(gained, lost, McNemar::MidP);
            assert!(mid < exact && mid >= exact / 2.0, "{gained} {lost}");
        }
    }
}
