/// Chances of being chosen that are in proportion to weights and sum to `number`.
///
/// # Formula
/// `πₖ = n·wₖ / Σw`; a place whose chance would pass 1 is taken for certain and the rest shares what
/// is left, again until none passes 1.
/// # References
/// Tillé 2006, Sampling Algorithms, Springer, section 2.10 (from memory).
pub fn inclusion_probabilities(weights: &[f64], number: usize) -> Vec<f64> {
    let weight = |w: &f64| if w.is_finite() && *w > 0.0 { *w } else { 0.0 };
    let n_positive = weights.iter().filter(|w| weight(w) > 0.0).count();
    if number >= n_positive {
        return weights.iter().map(|w| f64::from(u8::from(weight(w) > 0.0))).collect();
    }
    let mut certain = vec![false; weights.len()];
    loop {
        let n_certain = certain.iter().filter(|sure| **sure).count();
        let rest: f64 =
            weights.iter().zip(&certain).filter(|(_, sure)| !**sure).map(|(w, _)| weight(w)).sum();
        let scale = (number - n_certain) as f64 / rest;
        let mut grown = false;
        for (w, sure) in weights.iter().zip(&mut certain) {
            if !*sure && weight(w) * scale >= 1.0 {
                *sure = true;
                grown = true;
            }
        }
        if !grown {
            return weights
                .iter()
                .zip(&certain)
                .map(|(w, sure)| if *sure { 1.0 } else { weight(w) * scale })
                .collect();
        }
    }
}

/// Shares whole things out in proportion to sizes, largest remainder first, none above its limit.
pub(crate) fn share_out(sizes: &[f64], limits: &[usize], number: usize) -> Vec<usize> {
    let mut shares = vec![0; sizes.len()];
    let mut left = number.min(limits.iter().sum());
    // those that reach their limit drop out and the rest shares again
    while left > 0 {
        let open: Vec<usize> =
            (0..sizes.len()).filter(|&i| shares[i] < limits[i] && sizes[i] > 0.0).collect();
        let total: f64 = open.iter().map(|&i| sizes[i]).sum();
        if open.is_empty() || total <= 0.0 {
            break;
        }
        let quotas: Vec<f64> = open.iter().map(|&i| left as f64 * sizes[i] / total).collect();
        let mut given = 0;
        for (&i, quota) in open.iter().zip(&quotas) {
            let whole = (quota.floor() as usize).min(limits[i] - shares[i]);
            shares[i] += whole;
            given += whole;
        }
        left -= given;
        let mut by_remainder: Vec<usize> = (0..open.len()).collect();
        by_remainder.sort_by(|&a, &b| {
            let remainder = |k: usize| quotas[k] - quotas[k].floor();
            remainder(b).total_cmp(&remainder(a)).then(a.cmp(&b))
        });
        let rounds = left.min(open.len());
        let mut topped = 0;
        for &k in by_remainder.iter().take(rounds) {
            if shares[open[k]] < limits[open[k]] {
                shares[open[k]] += 1;
                topped += 1;
            }
        }
        left -= topped;
        if given + topped == 0 {
            break;
        }
    }
    shares
}
