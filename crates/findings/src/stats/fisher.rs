//! Fisher's exact test for two proportions when counts are small.

use super::distribution::Masses;
use super::{Alternative, Proportion};

/// Fisher's exact test that two independent proportions are equal.
///
/// # Formula
/// Given the margins, the count found in the first group is hypergeometric. Two-sided: the sum of
/// the probabilities of all tables no more likely than the one seen (relative tolerance 1e-7).
/// One-sided: the tail from the table seen.
/// # Units
/// A probability. The probabilities are built from exact ratios of neighbours, not from factorials,
/// so tables of thousands of sites keep about twelve digits.
/// # Assumptions
/// Different, independently placed sites.
/// # References
/// Fisher (1935), The Design of Experiments, ch. 2; Agresti (1990), Categorical Data Analysis, 3.5.
pub fn fisher_exact(first: Proportion, second: Proportion, alternative: Alternative) -> f64 {
    let total = first.trials() + second.trials();
    let found = first.successes() + second.successes();
    let masses = Masses::hypergeometric(total, found, first.trials());
    match alternative {
        Alternative::TwoSided => masses.as_unlikely_as(first.successes()),
        Alternative::Less => masses.at_most(first.successes()),
        Alternative::Greater => masses.at_least(first.successes()),
    }
}

#[cfg(test)]
mod tests {
    use super::Alternative::{Greater, Less, TwoSided};
    use super::*;
    use crate::stats::assert_close;
    use statrs::function::factorial::ln_binomial;

    fn test(table: [[u64; 2]; 2], alternative: Alternative) -> f64 {
        let [first, second] = table.map(|[k, rest]| Proportion::new(k, k + rest).unwrap());
        fisher_exact(first, second, alternative)
    }

    #[test]
    fn fisher_1935_tea_tasting_and_1970_twins() {
        // Fisher (1935; tea), Fisher (1970; twins), scipy manual (the middle one); recomputed
        let rows = [
            ([[3, 1], [1, 3]], Greater, 0.242_857_142_857, 1e-12),
            ([[3, 1], [1, 3]], TwoSided, 0.485_714_285_714, 1e-12),
            ([[8, 2], [1, 5]], TwoSided, 0.034_965_034_965, 1e-12),
            ([[2, 15], [10, 3]], TwoSided, 0.000_536_724, 5e-10),
            ([[2, 15], [10, 3]], Less, 0.000_465_181, 5e-10),
        ];
        for (table, alternative, expected, tolerance) in rows {
            assert_close(test(table, alternative), expected, tolerance, &format!("{table:?}"));
        }
    }

    #[test]
    fn usgs_2002_pool_12_coontail_in_two_strata() {
        // UMESC 2002 table 6: 31 of 120 and 12 of 81; recomputed with scipy
        assert_close(test([[31, 89], [12, 69]], TwoSided), 0.079_227, 5e-7, "p");
    }

    /// The two-sided rule again, from logarithms of factorials.
    fn by_logarithms([[a, b], [c, d]]: [[u64; 2]; 2]) -> f64 {
        let (row, found, total) = (a + b, a + c, a + b + c + d);
        let ln_mass = |k: u64| {
            ln_binomial(found, k) + ln_binomial(total - found, row - k) - ln_binomial(total, row)
        };
        let seen = ln_mass(a);
        let lowest = (row + found).saturating_sub(total);
        (lowest..=row.min(found)).map(ln_mass).filter(|m| *m <= seen + 1e-7).map(f64::exp).sum()
    }

    #[test]
    fn large_tables_agree_with_logarithms_and_with_scipy() {
        // scipy 1.17 `fisher_exact`; tables on which a test by plain factorials breaks down
        let rows = [
            ([[1_000, 1_200], [900, 1_300]], 0.002_581_641_036_791_8, 1e-13),
            ([[300, 360], [270, 390]], 0.107_043_661_736_016_6, 1e-12),
        ];
        for (table, expected, tolerance) in rows {
            let got = test(table, TwoSided);
            assert_close(got, expected, tolerance, &format!("{table:?}"));
            assert_close(
                got / by_logarithms(table),
                1.0,
                1e-9,
                &format!("{table:?} by logarithms"),
            );
        }
    }

    #[test]
    fn nothing_found_twice_is_no_evidence() {
        assert_close(test([[0, 12], [0, 30]], TwoSided), 1.0, 0.0, "p");
        assert_close(test([[12, 0], [30, 0]], TwoSided), 1.0, 0.0, "p");
    }
}
