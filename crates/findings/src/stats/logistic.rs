//! Logistic regression of counts by iteratively reweighted least squares.

use thiserror::Error;

/// `found` of `sites`, and what is known of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Sites with it.
    pub found: f64,
    /// Sites.
    pub sites: f64,
    /// Values of the columns of the model.
    pub columns: Vec<f64>,
}

/// A fitted model.
#[derive(Debug, Clone, PartialEq)]
pub struct Logistic {
    /// Coefficients in the order of the columns, logits.
    pub coefficients: Vec<f64>,
    /// Their standard errors when counts vary as a binomial.
    pub standard_errors: Vec<f64>,
    /// Pearson's `X² = Σ (k − np)²/(np(1 − p))`.
    pub pearson: f64,
    /// Groups less coefficients.
    pub degrees_of_freedom: usize,
}

/// Why no model was fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum LogisticError {
    /// Fewer groups than coefficients.
    #[error("`{groups}` groups do not fit `{columns}` coefficients")]
    TooFewGroups {
        /// Groups.
        groups: usize,
        /// Coefficients.
        columns: usize,
    },
    /// Columns that say the same thing.
    #[error("the columns of the model say the same thing twice")]
    Collinear,
    /// The likelihood has no top: a column parts found from not found.
    #[error("a column parts what was found from what was not: no slope fits")]
    Separated,
}

/// Fits `logit p = Σ βⱼxⱼ`.
///
/// # Formula
/// Newton's steps `β += (XᵀWX)⁻¹Xᵀ(k − np)`, `W = np(1 − p)`, halved while the likelihood falls.
/// # Units
/// Logits per unit of the column.
/// # Assumptions
/// Sites independent given the columns; see [`Logistic::overdispersion`] when they are not.
/// # Errors
/// [`LogisticError`] when there are too few groups, columns coincide or no maximum exists.
/// # References
/// McCullagh & Nelder (1989), Generalized Linear Models, ch. 4 (from memory).
pub fn fit(groups: &[Group]) -> Result<Logistic, LogisticError> {
    let columns = groups.first().map_or(0, |group| group.columns.len());
    if groups.len() < columns || columns == 0 {
        return Err(LogisticError::TooFewGroups { groups: groups.len(), columns });
    }
    let mut beta = vec![0.0; columns];
    let mut likelihood = log_likelihood(groups, &beta);
    for _ in 0..100 {
        let (score, information) = derivatives(groups, &beta);
        let inverse = inverse(&information).ok_or(LogisticError::Collinear)?;
        let step: Vec<f64> = inverse
            .iter()
            .map(|row| row.iter().zip(&score).map(|(a, b)| a * b).sum::<f64>())
            .collect();
        let mut length = 1.0;
        let next = loop {
            let next: Vec<f64> = beta.iter().zip(&step).map(|(b, s)| b + length * s).collect();
            if log_likelihood(groups, &next) >= likelihood - 1e-10 || length < 1e-6 {
                break next;
            }
            length /= 2.0;
        };
        let moved = next.iter().zip(&beta).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        likelihood = log_likelihood(groups, &next);
        beta = next;
        let farthest = groups.iter().map(|group| logit(group, &beta).abs()).fold(0.0, f64::max);
        if farthest > 25.0 {
            return Err(LogisticError::Separated);
        }
        if moved < 1e-10 {
            return Ok(finish(groups, beta, &inverse));
        }
    }
    Err(LogisticError::Separated)
}

fn finish(groups: &[Group], coefficients: Vec<f64>, inverse: &[Vec<f64>]) -> Logistic {
    let pearson = groups
        .iter()
        .map(|group| {
            let p = chance(group, &coefficients);
            (group.found - group.sites * p).powi(2) / (group.sites * p * (1.0 - p))
        })
        .sum();
    Logistic {
        standard_errors: (0..coefficients.len()).map(|j| inverse[j][j].sqrt()).collect(),
        degrees_of_freedom: groups.len() - coefficients.len(),
        coefficients,
        pearson,
    }
}

impl Logistic {
    /// How much more (or, at sites visited every time, less) than a binomial the groups vary; none
    /// without a spare group.
    ///
    /// # Formula
    /// `φ = X²/(groups − coefficients)`, not below 0.05, so that a fit that happens to be perfect does
    /// not claim certainty; standard errors are to be multiplied by `√φ`.
    /// # References
    /// McCullagh & Nelder (1989), section 4.5 (quasi-binomial; from memory).
    pub fn overdispersion(&self) -> Option<f64> {
        (self.degrees_of_freedom > 0)
            .then(|| (self.pearson / self.degrees_of_freedom as f64).max(0.05))
    }
}

fn logit(group: &Group, beta: &[f64]) -> f64 {
    group.columns.iter().zip(beta).map(|(x, b)| x * b).sum()
}

fn chance(group: &Group, beta: &[f64]) -> f64 {
    1.0 / (1.0 + (-logit(group, beta)).exp())
}

fn log_likelihood(groups: &[Group], beta: &[f64]) -> f64 {
    groups
        .iter()
        .map(|group| {
            let eta = logit(group, beta);
            // ln(1 + e^η) without overflow
            group.found * eta - group.sites * (eta.max(0.0) + (-eta.abs()).exp().ln_1p())
        })
        .sum()
}

fn derivatives(groups: &[Group], beta: &[f64]) -> (Vec<f64>, Vec<Vec<f64>>) {
    let columns = beta.len();
    let mut score = vec![0.0; columns];
    let mut information = vec![vec![0.0; columns]; columns];
    for group in groups {
        let p = chance(group, beta);
        let weight = group.sites * p * (1.0 - p);
        for (i, x) in group.columns.iter().enumerate() {
            score[i] += x * (group.found - group.sites * p);
            for (j, y) in group.columns.iter().enumerate() {
                information[i][j] += x * y * weight;
            }
        }
    }
    (score, information)
}

/// Gauss–Jordan with pivots; none for a singular matrix.
fn inverse(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let n = matrix.len();
    let scale: f64 = matrix.iter().flatten().fold(0.0, |most, v| most.max(v.abs()));
    let mut left = matrix.to_vec();
    let mut right: Vec<Vec<f64>> =
        (0..n).map(|i| (0..n).map(|j| f64::from(i == j)).collect()).collect();
    for column in 0..n {
        let pivot =
            (column..n).max_by(|a, b| left[*a][column].abs().total_cmp(&left[*b][column].abs()))?;
        if left[pivot][column].abs() <= scale * 1e-13 {
            return None;
        }
        left.swap(column, pivot);
        right.swap(column, pivot);
        let head = left[column][column];
        for j in 0..n {
            left[column][j] /= head;
            right[column][j] /= head;
        }
        for row in (0..n).filter(|row| *row != column) {
            let factor = left[row][column];
            for j in 0..n {
                left[row][j] -= factor * left[column][j];
                right[row][j] -= factor * right[column][j];
            }
        }
    }
    Some(right)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    fn group(found: f64, sites: f64, columns: &[f64]) -> Group {
        Group { found, sites, columns: columns.to_vec() }
    }

    #[test]
    fn six_surveys_agree_with_a_reference_library() {
        // statsmodels 0.15 `GLM(Binomial)`, Pearson's X² beside it
        let table = [
            (12.0, 100.0, 0.0),
            (15.0, 98.0, 1.0),
            (11.0, 102.0, 2.0),
            (22.0, 110.0, 4.0),
            (19.0, 95.0, 5.0),
            (33.0, 104.0, 7.0),
        ];
        let groups: Vec<Group> = table.iter().map(|(k, n, t)| group(*k, *n, &[1.0, *t])).collect();
        let got = fit(&groups).unwrap();
        assert_close(got.coefficients[0], REFERENCE[0], 1e-9, "intercept");
        assert_close(got.coefficients[1], REFERENCE[1], 1e-9, "slope");
        assert_close(got.standard_errors[0], REFERENCE[2], 1e-8, "SE");
        assert_close(got.standard_errors[1], REFERENCE[3], 1e-8, "SE of the slope");
        assert_close(got.pearson, REFERENCE[4], 1e-8, "Pearson");
        assert_eq!(got.degrees_of_freedom, 4);
        assert_close(got.overdispersion().unwrap(), REFERENCE[4] / 4.0, 1e-8, "phi");
    }

    const REFERENCE: [f64; 5] = [
        -2.110_863_764_632_398,
        0.176_621_263_828_81,
        0.199_854_899_126_258,
        0.044_230_100_812_366,
        2.690_820_388_958_888,
    ];

    #[test]
    fn two_groups_give_the_log_odds_ratio() {
        let got = fit(&[group(10.0, 40.0, &[1.0, 0.0]), group(24.0, 36.0, &[1.0, 1.0])]).unwrap();
        assert_close(got.coefficients[1], (2.0_f64 / (1.0 / 3.0)).ln(), 1e-10, "ln 6");
        let se = (0.1 + 1.0 / 30.0 + 1.0 / 24.0 + 1.0 / 12.0_f64).sqrt();
        assert_close(got.standard_errors[1], se, 1e-9, "Woolf's");
        assert_eq!(got.overdispersion(), None);
    }

    #[test]
    fn what_cannot_be_fitted_is_refused() {
        let apart = [group(0.0, 9.0, &[1.0, 0.0]), group(9.0, 9.0, &[1.0, 1.0])];
        assert_eq!(fit(&apart), Err(LogisticError::Separated));
        let twice = [group(1.0, 9.0, &[1.0, 1.0]), group(2.0, 9.0, &[1.0, 1.0])];
        assert_eq!(fit(&twice), Err(LogisticError::Collinear));
        let few = LogisticError::TooFewGroups { groups: 1, columns: 2 };
        assert_eq!(fit(&[group(1.0, 9.0, &[1.0, 0.0])]), Err(few));
    }
}
