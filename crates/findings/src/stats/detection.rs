//! "Not found" is not "absent": how much looking a blank is worth.

use super::Confidence;
use thiserror::Error;
use units::{OutOfRange, bounds};

/// Why there is no answer.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum DetectionError {
    /// A chance is outside 0..1.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The chance is zero: no effort finds it.
    #[error("a chance of `0` finds nothing at any number of sites")]
    NeverFound,
    /// Fewer sites than sites with the species, or none at all.
    #[error("`{occupied}` of `{sites}` sites: expected at least one and at most all")]
    NoSuchFrame {
        /// Sites with the species.
        occupied: u64,
        /// Sites in the frame.
        sites: u64,
    },
}

fn positive(chance: f64) -> Result<f64, DetectionError> {
    let chance = bounds::PROPORTION.check(chance)?;
    if chance > 0.0 { Ok(chance) } else { Err(DetectionError::NeverFound) }
}

/// Sites to look at so that a species at a share `frequency` of sites is met at least once.
///
/// # Formula
/// `n = ⌈ln(1 − c)/ln(1 − p)⌉`.
/// # Units
/// Sites.
/// # Assumptions
/// Very many sites to choose from, placed at random; the rake finds it where it stands.
/// # Errors
/// [`DetectionError`] when `frequency` is 0 or no proportion.
/// # References
/// Green & Young (1993), Ecological Applications 3: 351–356 (from memory).
pub fn sites_to_meet(frequency: f64, confidence: Confidence) -> Result<u64, DetectionError> {
    let p = positive(frequency)?;
    if p >= 1.0 {
        return Ok(1);
    }
    Ok(((1.0 - confidence.level()).ln() / (-p).ln_1p()).ceil() as u64)
}

/// The largest share of sites that `blanks` blank sites still allow, at one-sided confidence.
///
/// # Formula
/// `1 − (1 − c)^(1/n)`, near `3/n` at 95 %.
/// # Units
/// A proportion; 1 when nothing was looked at.
/// # References
/// Hanley & Lippman-Hand (1983), JAMA 249: 1743–1745 (from memory).
pub fn upper_bound_after_blanks(blanks: u64, confidence: Confidence) -> f64 {
    if blanks == 0 { 1.0 } else { 1.0 - (1.0 - confidence.level()).powf(1.0 / blanks as f64) }
}

/// Sites to look at, out of `sites`, so that one of `occupied` is among them.
///
/// # Formula
/// The smallest `n` with `C(N − D, n)/C(N, n) ≤ 1 − c`.
/// # Units
/// Sites.
/// # Assumptions
/// A random draw without replacement; the rake finds it where it stands.
/// # Errors
/// [`DetectionError::NoSuchFrame`].
/// # References
/// Hypergeometric distribution; Cannon & Roe (1982), Livestock Disease Surveys (from memory).
pub fn sites_to_meet_in_frame(
    sites: u64,
    occupied: u64,
    confidence: Confidence,
) -> Result<u64, DetectionError> {
    if occupied == 0 || occupied > sites {
        return Err(DetectionError::NoSuchFrame { occupied, sites });
    }
    // slack of a few rounding errors, so that a miss of exactly 1 − c is enough
    let allowed = (1.0 - confidence.level()) * (1.0 + 1e-12);
    let mut missed = 1.0;
    let mut drawn = 0;
    while missed > allowed && drawn < sites - occupied {
        missed *= (sites - occupied - drawn) as f64 / (sites - drawn) as f64;
        drawn += 1;
    }
    Ok(if missed > allowed { drawn + 1 } else { drawn })
}

/// Chance that at least one of `throws` throws finds the species where it stands.
///
/// # Formula
/// `1 − (1 − p)ᴷ`.
/// # Units
/// A probability.
/// # Assumptions
/// Throws at one site find independently of one another.
/// # Errors
/// [`OutOfRange`] when `detection` is no proportion.
pub fn found_at_least_once(detection: f64, throws: u32) -> Result<f64, OutOfRange> {
    let p = bounds::PROPORTION.check(detection)?;
    Ok(1.0 - (1.0 - p).powf(f64::from(throws)))
}

/// Chance that the species stands at a site after `throws` blank throws.
///
/// # Formula
/// `ψ(1 − p)ᴷ / (ψ(1 − p)ᴷ + 1 − ψ)`, `ψ` the chance before looking.
/// # Units
/// A probability.
/// # Errors
/// [`OutOfRange`] when a chance is no proportion.
/// # References
/// Bayes' rule; MacKenzie et al. (2006), Occupancy Estimation and Modeling, ch. 4 (from memory).
pub fn there_despite_blanks(
    occupancy: f64,
    detection: f64,
    throws: u32,
) -> Result<f64, OutOfRange> {
    let psi = bounds::PROPORTION.check(occupancy)?;
    let missed = psi * (1.0 - found_at_least_once(detection, throws)?);
    // certain to stand there, certain to be found, not found: the assumptions cannot all hold
    Ok(if missed + 1.0 - psi > 0.0 { missed / (missed + 1.0 - psi) } else { 0.0 })
}

/// The number of visits (or throws) a site that estimates occupancy best for a given effort.
///
/// # Formula
/// The `K ≥ 2` that minimises `K·((1 − ψ) + (1 − p*)/(p* − K·p·(1 − p)^(K−1)))`,
/// `p* = 1 − (1 − p)ᴷ`.
/// # Units
/// Visits.
/// # Assumptions
/// Every site gets the same number of visits (standard design).
/// # Errors
/// [`DetectionError`] when a chance is no proportion or detection is zero.
/// # References
/// MacKenzie & Royle (2005), Journal of Applied Ecology 42: 1105–1114, table 1.
pub fn best_number_of_visits(occupancy: f64, detection: f64) -> Result<u32, DetectionError> {
    const MOST: u32 = 10_000;
    let psi = bounds::PROPORTION.check(occupancy)?;
    let p = positive(detection)?;
    let mut best = (f64::INFINITY, 2);
    for visits in 2..=MOST {
        let k = f64::from(visits);
        if k * (1.0 - psi) > best.0 {
            break;
        }
        let once = 1.0 - (1.0 - p).powf(k);
        let information = once - k * p * (1.0 - p).powf(k - 1.0);
        let variance = k * ((1.0 - psi) + (1.0 - once) / information);
        if variance < best.0 {
            best = (variance, visits);
        }
    }
    Ok(best.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    const NINETY_NINE: f64 = 0.99;

    #[test]
    fn green_young_1993_sites_to_meet_a_species() {
        let rows = [
            (0.01, 299, 459),
            (0.02, 149, 228),
            (0.05, 59, 90),
            (0.10, 29, 44),
            (0.20, 14, 21),
            (0.30, 9, 13),
            (0.50, 5, 7),
        ];
        let high = Confidence::new(NINETY_NINE).unwrap();
        for (p, at_95, at_99) in rows {
            assert_eq!(sites_to_meet(p, Confidence::NINETY_FIVE), Ok(at_95), "{p}");
            assert_eq!(sites_to_meet(p, high), Ok(at_99), "{p}");
        }
        assert_eq!(sites_to_meet(1.0, high), Ok(1));
        assert_eq!(sites_to_meet(0.0, high), Err(DetectionError::NeverFound));
    }

    #[test]
    fn hanley_1983_rule_of_three() {
        assert_close(upper_bound_after_blanks(100, Confidence::NINETY_FIVE), 0.0295, 5e-5, "bound");
        assert_close(upper_bound_after_blanks(0, Confidence::NINETY_FIVE), 1.0, 0.0, "no look");
    }

    #[test]
    fn cannon_roe_1982_finite_frame() {
        for (sites, occupied, expected) in
            [(100, 1, 95), (100, 5, 45), (200, 2, 155), (200, 10, 51), (3, 3, 1)]
        {
            let got = sites_to_meet_in_frame(sites, occupied, Confidence::NINETY_FIVE);
            assert_eq!(got, Ok(expected), "{occupied} of {sites}");
        }
        assert!(sites_to_meet_in_frame(10, 11, Confidence::NINETY_FIVE).is_err());
        assert!(sites_to_meet_in_frame(10, 0, Confidence::NINETY_FIVE).is_err());
    }

    #[test]
    fn repeated_throws_by_arithmetic() {
        let rows = [
            (0.30, [0.3000, 0.5100, 0.6570, 0.7599, 0.8824]),
            (0.38, [0.3800, 0.6156, 0.7617, 0.8522, 0.9432]),
            (0.50, [0.5000, 0.7500, 0.8750, 0.9375, 0.9844]),
            (0.63, [0.6300, 0.8631, 0.9493, 0.9813, 0.9974]),
        ];
        for (p, chances) in rows {
            for (throws, chance) in [1, 2, 3, 4, 6].into_iter().zip(chances) {
                let got = found_at_least_once(p, throws).unwrap();
                assert_close(got, chance, 5.1e-5, &format!("{p} {throws}"));
            }
        }
    }

    #[test]
    fn still_there_after_a_blank_by_arithmetic() {
        let rows = [
            (0.2, 0.5, 1, 0.1111),
            (0.2, 0.5, 2, 0.0588),
            (0.5, 0.63, 1, 0.2701),
            (0.5, 0.38, 1, 0.3827),
        ];
        for (psi, p, throws, chance) in rows {
            assert_close(there_despite_blanks(psi, p, throws).unwrap(), chance, 5e-5, "chance");
        }
        assert_close(there_despite_blanks(1.0, 1.0, 1).unwrap(), 0.0, 0.0, "contradiction");
    }

    #[test]
    fn mackenzie_royle_2005_table_1() {
        // standard design; figures recomputed from the formula of the paper
        let rows: [(f64, [u32; 9]); 9] = [
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
        for (p, visits) in rows {
            for (tenths, expected) in (1_u8..).zip(visits) {
                let psi = f64::from(tenths) / 10.0;
                assert_eq!(best_number_of_visits(psi, p), Ok(expected), "psi {psi} p {p}");
            }
        }
    }
}
