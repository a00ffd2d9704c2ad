//! Quantiles of a list of values.

/// The quantile of values in order, by linear interpolation between them.
///
/// # Formula
/// At place `q·(n − 1)`, counted from 0: type 7 of Hyndman & Fan (1996), The American Statistician
/// 50: 361–365, the one most software uses.
pub(crate) fn quantile(sorted: &[f64], q: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = q * last as f64;
    let below = (place.floor() as usize).min(last);
    let above = (below + 1).min(last);
    Some(sorted[below] + (place - below as f64) * (sorted[above] - sorted[below]))
}

/// The middle 95 % of simulated values: the percentile interval. Sorts them.
pub(crate) fn middle_95(values: &mut [f64]) -> Option<(f64, f64)> {
    values.sort_by(f64::total_cmp);
    Some((quantile(values, 0.025)?, quantile(values, 0.975)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    #[test]
    fn hyndman_1996_type_7() {
        // numpy 2.4 `quantile`, default method
        let values = [1.0, 2.0, 4.0, 7.0, 11.0, 16.0];
        for (q, expected) in [(0.0, 1.0), (0.25, 2.5), (0.5, 5.5), (0.75, 10.0), (1.0, 16.0)] {
            assert_close(quantile(&values, q).unwrap(), expected, 1e-12, "quantile");
        }
        assert_eq!(quantile(&[], 0.5), None);
        assert_eq!(quantile(&[3.0], 0.9), Some(3.0));
    }
}
