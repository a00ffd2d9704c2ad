//! Many species tested at once: p values adjusted for their number.

use units::{OutOfRange, bounds};

/// How p values are adjusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Adjustment {
    /// `m·p`: chance of any false find, bluntly.
    Bonferroni,
    /// Holm (1979): the same promise, sharper.
    Holm,
    /// Hochberg (1988): sharper still, for tests that are not negatively related.
    Hochberg,
    /// Benjamini and Hochberg (1995): share of false finds among the finds. The one the program
    /// prints beside the raw p value.
    BenjaminiHochberg,
}

/// Adjusted p values, in the order given.
///
/// # Formula
/// With `p₍₁₎ ≤ … ≤ p₍ₘ₎`: Bonferroni `m·p`; Holm running maximum of `(m − i + 1)·p₍ᵢ₎`; Hochberg
/// running minimum from above of the same; Benjamini–Hochberg running minimum from above of
/// `m·p₍ᵢ₎/i`. All at most 1.
/// # Units
/// Probabilities.
/// # Assumptions
/// All tests of the family are in the list: leaving out the dull ones spoils the promise.
/// # Errors
/// [`OutOfRange`] naming the first value that is not between 0 and 1.
/// # References
/// Benjamini & Hochberg (1995), Journal of the Royal Statistical Society B 57: 289–300.
pub fn adjust(p_values: &[f64], method: Adjustment) -> Result<Vec<f64>, OutOfRange> {
    for p in p_values {
        bounds::PROPORTION.check(*p)?;
    }
    let m = p_values.len();
    let mut order: Vec<usize> = (0..m).collect();
    order.sort_by(|a, b| p_values[*a].total_cmp(&p_values[*b]));
    let mut adjusted = vec![0.0; m];
    let scaled = |rank: usize| {
        let factor = match method {
            Adjustment::Bonferroni => m as f64,
            Adjustment::Holm | Adjustment::Hochberg => (m - rank) as f64,
            Adjustment::BenjaminiHochberg => m as f64 / (rank + 1) as f64,
        };
        (p_values[order[rank]] * factor).min(1.0)
    };
    match method {
        Adjustment::Bonferroni => {
            for rank in 0..m {
                adjusted[order[rank]] = scaled(rank);
            }
        }
        Adjustment::Holm => {
            let mut largest = 0.0_f64;
            for rank in 0..m {
                largest = largest.max(scaled(rank));
                adjusted[order[rank]] = largest;
            }
        }
        Adjustment::Hochberg | Adjustment::BenjaminiHochberg => {
            let mut smallest = 1.0_f64;
            for rank in (0..m).rev() {
                smallest = smallest.min(scaled(rank));
                adjusted[order[rank]] = smallest;
            }
        }
    }
    Ok(adjusted)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    /// Benjamini & Hochberg (1995), the worked example of 15 comparisons; adjusted values
    /// recomputed with statsmodels 0.15 to four decimals.
    const P: [f64; 15] = [
        0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262,
        0.5719, 0.6528, 0.7590, 1.0,
    ];

    #[test]
    fn benjamini_hochberg_1995_fifteen_p_values() {
        let rows: [(Adjustment, usize, &[f64]); 4] = [
            (Adjustment::Bonferroni, 3, &[0.0015, 0.0060, 0.0285, 0.1425]),
            (
                Adjustment::Holm,
                3,
                &[0.0015, 0.0056, 0.0247, 0.1140, 0.2211, 0.2780, 0.2780, 0.2780, 0.3213, 1.0],
            ),
            (
                Adjustment::Hochberg,
                3,
                &[0.0015, 0.0056, 0.0247, 0.1140, 0.2211, 0.2682, 0.2682, 0.2752, 0.3213, 1.0],
            ),
            (
                Adjustment::BenjaminiHochberg,
                4,
                &[
                    0.0015, 0.0030, 0.0095, 0.0356, 0.0603, 0.0639, 0.0639, 0.0645, 0.0765, 0.4860,
                    0.5812, 0.7149, 0.7532, 0.8132, 1.0,
                ],
            ),
        ];
        for (method, rejected, expected) in rows {
            let got = adjust(&P, method).unwrap();
            assert_eq!(got.iter().filter(|p| **p <= 0.05).count(), rejected, "{method:?}");
            for (i, (got, want)) in got.iter().zip(expected).enumerate() {
                assert_close(*got, *want, 5.1e-5, &format!("{method:?} {i}"));
            }
        }
    }

    #[test]
    fn the_order_of_the_species_does_not_matter() {
        let turned: Vec<f64> = P.iter().rev().copied().collect();
        for method in [Adjustment::Holm, Adjustment::Hochberg, Adjustment::BenjaminiHochberg] {
            let mut back = adjust(&turned, method).unwrap();
            back.reverse();
            assert_eq!(back, adjust(&P, method).unwrap(), "{method:?}");
        }
    }

    #[test]
    fn an_empty_family_and_a_value_that_is_no_probability() {
        assert_eq!(adjust(&[], Adjustment::Holm), Ok(vec![]));
        assert!(adjust(&[0.2, f64::NAN], Adjustment::Holm).is_err());
        assert!(adjust(&[0.2, 1.2], Adjustment::Holm).is_err());
    }
}
