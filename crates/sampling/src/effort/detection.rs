use super::EffortError;
use super::error::{closed, open, positive};

/// Chance to see a species at a site where it grows, with a number of throws.
///
/// # Formula
/// `p* = 1 − (1 − p)^K`, p the chance of one throw, K throws.
/// # Assumptions
/// Throws are independent: thrown to different sides of the boat.
/// # Errors
/// A chance outside 0..=1.
/// # References
/// Published chances of one rake throw: starry stonewort 0.63 at mean cover of other plants, 0.38 where cover
/// is abundant (Bajcz et al. 2024, Scientific Reports, doi 10.1038/s41598-024-52608-0).
pub fn chance_by_throws(one_throw: f64, throws: u32) -> Result<f64, EffortError> {
    let p = closed("chance of one throw", one_throw)?;
    Ok(1.0 - (1.0 - p).powi(throws as i32))
}

/// Fewest throws a site that give a chance of at least `wanted`.
///
/// # Formula
/// `K = ⌈ln(1 − wanted) / ln(1 − p)⌉`.
/// # Errors
/// A chance that is not strictly inside 0..1.
pub fn throws_for_chance(one_throw: f64, wanted: f64) -> Result<u32, EffortError> {
    let p = positive("chance of one throw", one_throw)?;
    let wanted = open("chance wanted", wanted)?;
    if p >= 1.0 {
        return Ok(1);
    }
    let throws = (1.0 - wanted).ln() / (1.0 - p).ln();
    Ok((throws - 1e-9).ceil().max(1.0) as u32)
}

/// Chance that a species is at a site after all though no throw brought it up.
///
/// # Formula
/// `ψ(1 − p)^K / (ψ(1 − p)^K + 1 − ψ)`, ψ the chance that it grows there.
/// # Errors
/// A chance outside 0..=1.
/// # References
/// Bayes' rule; MacKenzie et al. 2002, Ecology 83: 2248–2255 (from memory).
pub fn still_there(occupancy: f64, one_throw: f64, throws: u32) -> Result<f64, EffortError> {
    let psi = closed("share of sites with the species", occupancy)?;
    let missed = psi * (1.0 - chance_by_throws(one_throw, throws)?);
    if missed + 1.0 - psi <= 0.0 {
        // grows everywhere and is never missed: a blank cannot happen
        return Ok(0.0);
    }
    Ok(missed / (missed + 1.0 - psi))
}

/// Number of visits (or throws) a site at which the share of sites with a species is estimated best
/// for a given total, every site visited alike.
///
/// # Formula
/// The K ≥ 2 with least `K·[(1 − ψ) + (1 − p*) / (p* − K·p·(1 − p)^{K−1})]`, `p* = 1 − (1 − p)^K`.
/// # Errors
/// A chance that is not strictly inside 0..1.
/// # References
/// MacKenzie & Royle 2005, Journal of Applied Ecology 42: 1105–1114, Table 1.
pub fn best_visits(occupancy: f64, one_visit: f64) -> Result<u32, EffortError> {
    let psi = open("share of sites with the species", occupancy)?;
    let p = open("chance of one visit", one_visit)?;
    let cost = |visits: u32| {
        let k = f64::from(visits);
        let found = 1.0 - (1.0 - p).powi(visits as i32);
        let once = k * p * (1.0 - p).powi(visits as i32 - 1);
        k * ((1.0 - psi) + (1.0 - found) / (found - once))
    };
    let most = (20.0 / p).ceil().min(100_000.0) as u32;
    let best = (2..=most.max(3)).min_by(|a, b| cost(*a).total_cmp(&cost(*b)));
    Ok(best.unwrap_or(2))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Arithmetic of the formula, recomputed.
    #[test]
    fn repeat_throws() {
        let table: &[(f64, [f64; 5])] = &[
            (0.30, [0.3000, 0.5100, 0.6570, 0.7599, 0.8824]),
            (0.38, [0.3800, 0.6156, 0.7617, 0.8522, 0.9432]),
            (0.50, [0.5000, 0.7500, 0.8750, 0.9375, 0.9844]),
            (0.63, [0.6300, 0.8631, 0.9493, 0.9813, 0.9974]),
        ];
        for (p, want) in table {
            for (throws, want) in [1, 2, 3, 4, 6].into_iter().zip(want) {
                let got = chance_by_throws(*p, throws).unwrap();
                assert!((got - want).abs() < 5e-5, "p {p}, {throws} throws: {got}");
            }
        }
        assert_eq!(throws_for_chance(0.5, 0.875).unwrap(), 3);
        assert_eq!(throws_for_chance(0.63, 0.95).unwrap(), 4);
    }

    /// Arithmetic of the formula, recomputed.
    #[test]
    fn still_there_after_a_blank() {
        let table = [
            (0.2, 0.5, 1, 0.1111),
            (0.2, 0.5, 2, 0.0588),
            (0.5, 0.63, 1, 0.2701),
            (0.5, 0.38, 1, 0.3827),
        ];
        for (psi, p, throws, want) in table {
            let got = still_there(psi, p, throws).unwrap();
            assert!((got - want).abs() < 5e-5, "{psi}, {p}, {throws}: {got}");
        }
        assert!((still_there(1.0, 0.5, 3).unwrap() - 1.0).abs() < 1e-12);
    }

    /// MacKenzie & Royle 2005, Table 1 (standard design; from memory, recomputed from the formula). Rows by chance of one
    /// visit, columns by ψ = 0.1 … 0.9.
    #[test]
    fn mackenzie_royle_2005_table_1() {
        let table: &[(f64, [u32; 9])] = &[
            (0.1, [14, 15, 16, 17, 18, 20, 23, 26, 34]),
            (0.2, [7, 7, 8, 8, 9, 10, 11, 13, 16]),
            (0.3, [5, 5, 5, 5, 6, 6, 7, 8, 10]),
            (0.4, [3, 4, 4, 4, 4, 5, 5, 6, 7]),
            (0.5, [3, 3, 3, 3, 3, 3, 4, 4, 5]),
            (0.6, [2, 2, 2, 2, 3, 3, 3, 3, 4]),
            (0.7, [2, 2, 2, 2, 2, 2, 2, 3, 3]),
            (0.8, [2; 9]),
            (0.9, [2; 9]),
        ];
        for (p, want) in table {
            for (column, want) in want.iter().enumerate() {
                let psi = (column + 1) as f64 / 10.0;
                assert_eq!(best_visits(psi, *p).unwrap(), *want, "p {p}, ψ {psi}");
            }
        }
    }

    #[test]
    fn chances_outside_their_limits_are_refused() {
        assert!(chance_by_throws(1.2, 1).unwrap_err().to_string().contains("`1.2`"));
        assert!(throws_for_chance(0.0, 0.9).is_err());
        assert!(best_visits(0.0, 0.5).is_err());
        assert!(still_there(f64::NAN, 0.5, 1).is_err());
    }
}
