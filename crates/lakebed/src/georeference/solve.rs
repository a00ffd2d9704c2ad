//! Small systems of equations.

/// Solves a square system by elimination with partial pivoting; `rows` hold the matrix, `right` one
/// or more right-hand sides. None where the matrix is singular to working precision.
pub(super) fn solve<const N: usize>(
    mut rows: Vec<Vec<f64>>,
    mut right: Vec<[f64; N]>,
) -> Option<Vec<[f64; N]>> {
    let size = rows.len();
    let scale = rows.iter().flatten().fold(0.0f64, |most, value| most.max(value.abs()));
    for column in 0..size {
        let pivot = (column..size)
            .max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
        if rows[pivot][column].abs() <= 1e-11 * scale {
            return None;
        }
        rows.swap(column, pivot);
        right.swap(column, pivot);
        for row in column + 1..size {
            let factor = rows[row][column] / rows[column][column];
            if factor.abs() <= 0.0 {
                continue;
            }
            let (above, below) = rows.split_at_mut(row);
            for (value, over) in below[0][column..].iter_mut().zip(&above[column][column..]) {
                *value -= factor * over;
            }
            let over = right[column];
            for (value, over) in right[row].iter_mut().zip(over) {
                *value -= factor * over;
            }
        }
    }
    for row in (0..size).rev() {
        let solved: [f64; N] = std::array::from_fn(|side| {
            let known: f64 = (row + 1..size).map(|at| rows[row][at] * right[at][side]).sum();
            (right[row][side] - known) / rows[row][row]
        });
        right[row] = solved;
    }
    right.iter().flatten().all(|value| value.is_finite()).then_some(right)
}

/// Least squares by the normal equations, which suit columns of like size.
pub(super) fn least_squares<const N: usize>(
    rows: &[Vec<f64>],
    right: &[[f64; N]],
) -> Option<Vec<[f64; N]>> {
    let size = rows.first()?.len();
    let mut normal = vec![vec![0.0; size]; size];
    let mut sums = vec![[0.0; N]; size];
    for (row, sides) in rows.iter().zip(right) {
        for i in 0..size {
            for j in 0..size {
                normal[i][j] += row[i] * row[j];
            }
            for side in 0..N {
                sums[i][side] += row[i] * sides[side];
            }
        }
    }
    solve(normal, sums)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_system_worked_by_hand() {
        let rows = vec![vec![0.0, 2.0, 1.0], vec![1.0, 1.0, 1.0], vec![2.0, 1.0, -1.0]];
        // x = 1, y = 2, z = 3
        let found = solve(rows, vec![[7.0], [6.0], [1.0]]).unwrap();
        for (value, want) in found.iter().zip([1.0, 2.0, 3.0]) {
            assert!((value[0] - want).abs() < 1e-12);
        }
        assert!(solve(vec![vec![1.0, 2.0], vec![2.0, 4.0]], vec![[1.0], [2.0]]).is_none());
    }

    /// The line through (0, 1), (1, 3), (2, 4) by least squares is 7/6 + 3/2 x.
    #[test]
    fn a_line_by_least_squares() {
        let rows = [vec![1.0, 0.0], vec![1.0, 1.0], vec![1.0, 2.0]];
        let found = least_squares(&rows, &[[1.0], [3.0], [4.0]]).unwrap();
        assert!((found[0][0] - 7.0 / 6.0).abs() < 1e-12 && (found[1][0] - 1.5).abs() < 1e-12);
    }
}
