//! Did two people rate the same rakes alike, beyond chance?

use thiserror::Error;

/// How far apart two ratings count as being.
#[derive(Debug, Clone, PartialEq)]
pub enum Weighting {
    /// Any disagreement counts the same.
    Unweighted,
    /// By steps apart.
    Linear,
    /// By steps apart, squared.
    Quadratic,
    /// A table of disagreement weights, 0 on the diagonal.
    Disagreement(Vec<Vec<f64>>),
}

/// Why there is no kappa.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum KappaError {
    /// Rows and columns are not the same steps, or fewer than two.
    #[error(
        "row `{row}` has `{found}` columns: expected `{expected}`, one for each step of the scale"
    )]
    NotSquare {
        /// Row, from 0.
        row: usize,
        /// Columns found.
        found: usize,
        /// Columns expected.
        expected: usize,
    },
    /// Fewer than two steps.
    #[error("a scale of `{steps}` steps cannot show disagreement: expected two or more")]
    TooFewSteps {
        /// Steps given.
        steps: usize,
    },
    /// A count is negative or not a number, or all are zero.
    #[error("the table has no ratings, or a count below zero")]
    NoCounts,
    /// Chance alone would agree completely.
    #[error("both people gave one and the same rating throughout: agreement by chance is complete")]
    NoSpread,
}

/// Agreement of two people, chance taken out.
///
/// # Formula
/// `κ = 1 − Σ wᵢⱼ·oᵢⱼ / Σ wᵢⱼ·eᵢⱼ`: `o` the observed shares, `e` the products of the margins, `w`
/// the disagreement weights (0 or 1; `|i − j|`; `(i − j)²`; or as given).
/// # Units
/// Dimensionless, 1 for full agreement, 0 for chance.
/// # Assumptions
/// Rows are one person's steps in order, columns the other's. Kappas with different weights do not
/// compare (Warrens 2013, Journal of Probability and Statistics, 325831): print the weighting.
/// # Errors
/// [`KappaError`] when the table is not square, is empty or has a single rating in it.
/// # References
/// Cohen (1960), Educational and Psychological Measurement 20: 37–46; Cohen (1968), Psychological
/// Bulletin 70: 213–220.
pub fn kappa(table: &[Vec<f64>], weighting: &Weighting) -> Result<f64, KappaError> {
    let steps = table.len();
    if steps < 2 {
        return Err(KappaError::TooFewSteps { steps });
    }
    square(table, steps)?;
    if let Weighting::Disagreement(weights) = weighting {
        square(weights, steps)?;
        if weights.len() != steps {
            return Err(KappaError::NotSquare { row: 0, found: weights.len(), expected: steps });
        }
    }
    let total: f64 = table.iter().flatten().sum();
    if !(total > 0.0 && table.iter().flatten().all(|count| *count >= 0.0)) {
        return Err(KappaError::NoCounts);
    }
    let weight = |i: usize, j: usize| match weighting {
        Weighting::Unweighted => f64::from(u8::from(i != j)),
        Weighting::Linear => i.abs_diff(j) as f64,
        Weighting::Quadratic => (i.abs_diff(j) * i.abs_diff(j)) as f64,
        Weighting::Disagreement(weights) => weights[i][j],
    };
    let rows: Vec<f64> = table.iter().map(|row| row.iter().sum()).collect();
    let columns: Vec<f64> = (0..steps).map(|j| table.iter().map(|row| row[j]).sum()).collect();
    let (mut observed, mut by_chance) = (0.0, 0.0);
    for i in 0..steps {
        for j in 0..steps {
            observed += weight(i, j) * table[i][j];
            by_chance += weight(i, j) * rows[i] * columns[j] / total;
        }
    }
    if by_chance > 0.0 { Ok(1.0 - observed / by_chance) } else { Err(KappaError::NoSpread) }
}

fn square(table: &[Vec<f64>], expected: usize) -> Result<(), KappaError> {
    match table.iter().position(|row| row.len() != expected) {
        Some(row) => Err(KappaError::NotSquare { row, found: table[row].len(), expected }),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    fn table(rows: &[&[f64]]) -> Vec<Vec<f64>> {
        rows.iter().map(|row| row.to_vec()).collect()
    }

    #[test]
    fn cohen_1960_1968_and_hout_1987_tables() {
        // figures from memory, recomputed with the formula in Python
        let two = table(&[&[20.0, 5.0], &[10.0, 15.0]]);
        let three = table(&[&[0.44, 0.07, 0.09], &[0.05, 0.20, 0.05], &[0.01, 0.03, 0.06]]);
        let four = table(&[
            &[7.0, 7.0, 2.0, 3.0],
            &[2.0, 8.0, 3.0, 7.0],
            &[1.0, 5.0, 4.0, 9.0],
            &[2.0, 8.0, 9.0, 14.0],
        ]);
        let weights = table(&[&[0.0, 1.0, 3.0], &[1.0, 0.0, 6.0], &[3.0, 6.0, 0.0]]);
        let rows = [
            ("two raters, two steps", &two, Weighting::Unweighted, 0.40, 1e-12),
            ("Cohen (1968)", &three, Weighting::Unweighted, 0.4915, 5e-5),
            ("Cohen (1968), weighted", &three, Weighting::Disagreement(weights), 0.3478, 5e-5),
            ("Hout et al. (1987)", &four, Weighting::Unweighted, 0.129_33, 5e-6),
            ("Hout et al. (1987), linear", &four, Weighting::Linear, 0.237_38, 5e-6),
            ("Hout et al. (1987), quadratic", &four, Weighting::Quadratic, 0.332_05, 5e-6),
        ];
        for (source, counts, weighting, expected, tolerance) in rows {
            assert_close(kappa(counts, &weighting).unwrap(), expected, tolerance, source);
        }
    }

    #[test]
    fn tables_that_cannot_show_agreement_are_refused() {
        let refused = |rows: &[&[f64]]| kappa(&table(rows), &Weighting::Linear).unwrap_err();
        assert_eq!(refused(&[&[3.0]]), KappaError::TooFewSteps { steps: 1 });
        assert_eq!(
            refused(&[&[3.0, 1.0], &[2.0]]),
            KappaError::NotSquare { row: 1, found: 1, expected: 2 }
        );
        assert_eq!(refused(&[&[0.0, 0.0], &[0.0, 0.0]]), KappaError::NoCounts);
        assert_eq!(refused(&[&[9.0, 0.0], &[0.0, 0.0]]), KappaError::NoSpread);
    }
}
