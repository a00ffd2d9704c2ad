use super::EffortError;
use super::error::{open, positive, whole_sites};

/// Chance to find a species at one or more of `sites` sites.
///
/// # Formula
/// `1 − (1 − p)^n`, p the chance to find it at a site: share of sites where it grows × chance to see
/// it there.
/// # Errors
/// A chance that is not above 0 and at most 1.
pub fn chance_to_find(at_a_site: f64, sites: usize) -> Result<f64, EffortError> {
    let p = positive("chance to find it at a site", at_a_site)?;
    Ok(-(sites as f64 * (-p).ln_1p()).exp_m1())
}

/// Fewest sites at which a species is found with a confidence.
///
/// # Formula
/// `n = ⌈ln(1 − c) / ln(1 − p)⌉`.
/// # Assumptions
/// Sites are drawn at random from many; a spread-out sample does no worse.
/// # Errors
/// A chance outside 0..1.
/// # References
/// Green & Young 1993, Ecological Applications 3: 351–356 (for the Poisson form; from memory).
pub fn sites_to_find(at_a_site: f64, confidence: f64) -> Result<usize, EffortError> {
    let p = positive("chance to find it at a site", at_a_site)?;
    let confidence = open("confidence", confidence)?;
    if p >= 1.0 {
        return Ok(1);
    }
    whole_sites((-confidence).ln_1p() / (-p).ln_1p())
}

/// Fewest sites at which every one of several species, each as rare as given, is found.
///
/// # Formula
/// `(1 − (1 − p)^n)^S ≥ c`: each species with confidence `c^(1/S)`.
/// # Assumptions
/// The species grow independently of each other.
/// # Errors
/// A chance outside 0..1, no species.
pub fn sites_to_find_all(
    at_a_site: f64,
    species: usize,
    confidence: f64,
) -> Result<usize, EffortError> {
    let confidence = open("confidence", confidence)?;
    if species == 0 {
        return Err(EffortError::Missing {
            purpose: "know the plants",
            word: "a number of species",
            hint: "give at least 1: how many species as rare as that may be in the lake",
        });
    }
    // 1 − c^(1/S) without losing digits when S is large
    let missed = -(confidence.ln() / species as f64).exp_m1();
    let p = positive("chance to find it at a site", at_a_site)?;
    if p >= 1.0 {
        return Ok(1);
    }
    whole_sites(missed.ln() / (-p).ln_1p())
}

/// Chance to find a species that grows at `occupied` of `population` places when `sites` of them are looked at.
///
/// # Formula
/// `1 − Σₖ H(k) (1 − p*)ᵏ`, H the hypergeometric chance that k occupied places are among the sites, p* the
/// chance to see it at one.
/// # Errors
/// A chance outside 0..=1, more occupied places than places.
pub fn chance_to_find_finite(
    population: usize,
    occupied: usize,
    seen: f64,
    sites: usize,
) -> Result<f64, EffortError> {
    let seen = positive("chance to see it where it grows", seen)?;
    if occupied == 0 || occupied > population {
        return Err(EffortError::Input {
            word: "number of places with the species",
            found: occupied as f64,
            expected: "at least 1 and at most the number of places",
            hint: "give how many of the places would hold it, e.g. 2 of 200",
        });
    }
    let sites = sites.min(population);
    // H(0) = Π (N − D − i)/(N − i) over the sites, by logarithms; then up by the ratio of neighbours
    let (big, held, drawn) = (population as f64, occupied as f64, sites as f64);
    let least = (sites + occupied).saturating_sub(population);
    let mut ln_h = ln_choose(occupied, least) + ln_choose(population - occupied, sites - least)
        - ln_choose(population, sites);
    let mut missed = 0.0;
    for k in least..=occupied.min(sites) {
        missed += ln_h.exp() * (1.0 - seen).powi(k as i32);
        let k = k as f64;
        let ratio = (held - k) * (drawn - k) / ((k + 1.0) * (big - held - drawn + k + 1.0));
        ln_h += ratio.ln();
    }
    Ok((1.0 - missed).clamp(0.0, 1.0))
}

/// Fewest of `population` places to look at so that a species at `occupied` of them is found.
///
/// # Formula
/// The least n with [`chance_to_find_finite`] ≥ c.
/// # Errors
/// As there; [`EffortError::OutOfReach`] when looking at every place is not enough.
pub fn sites_to_find_finite(
    population: usize,
    occupied: usize,
    seen: f64,
    confidence: f64,
) -> Result<usize, EffortError> {
    let confidence = open("confidence", confidence)?;
    let all = chance_to_find_finite(population, occupied, seen, population)?;
    if all < confidence - 1e-12 {
        return Err(EffortError::OutOfReach {
            what: format!(
                "all `{population}` places together give a chance of {:.0} %, {:.0} % are asked for",
                all * 100.0,
                confidence * 100.0
            ),
            hint: "throw more often at each place",
        });
    }
    let (mut low, mut high) = (0, population);
    while high - low > 1 {
        let middle = usize::midpoint(low, high);
        if chance_to_find_finite(population, occupied, seen, middle)? >= confidence - 1e-12 {
            high = middle;
        } else {
            low = middle;
        }
    }
    Ok(high)
}

/// Largest share of sites a species may still have when none of `sites` had it.
///
/// # Formula
/// `1 − (1 − c)^(1/n)`, exact and one-sided; near 3/n for 95 %.
/// # Errors
/// A confidence outside 0..1, no sites.
/// # References
/// Hanley & Lippman-Hand 1983, JAMA 249: 1743–1745 (rule of three; from memory).
pub fn most_missed(sites: usize, confidence: f64) -> Result<f64, EffortError> {
    let confidence = open("confidence", confidence)?;
    if sites == 0 {
        return Err(EffortError::Missing {
            purpose: "say what may have been missed",
            word: "a number of sites",
            hint: "give at least 1",
        });
    }
    Ok(-((-confidence).ln_1p() / sites as f64).exp_m1())
}

/// Logarithm of n over k, by the log-gamma function.
fn ln_choose(n: usize, k: usize) -> f64 {
    statrs::function::factorial::ln_binomial(n as u64, k as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Arithmetic of the formula, recomputed; 95 % and 99 %.
    #[test]
    fn sites_needed_to_find_a_species() {
        let table = [
            (0.01, 299, 459),
            (0.02, 149, 228),
            (0.05, 59, 90),
            (0.10, 29, 44),
            (0.20, 14, 21),
            (0.30, 9, 13),
            (0.50, 5, 7),
        ];
        for (p, at_95, at_99) in table {
            assert_eq!(sites_to_find(p, 0.95).unwrap(), at_95, "{p}");
            assert_eq!(sites_to_find(p, 0.99).unwrap(), at_99, "{p}");
            assert!(chance_to_find(p, at_95).unwrap() >= 0.95);
            assert!(chance_to_find(p, at_95 - 1).unwrap() < 0.95);
        }
        // a whole quotient is not rounded up: (1 − 0.5)^2 = 0.25
        assert_eq!(sites_to_find(0.5, 0.75).unwrap(), 2);
        assert_eq!(sites_to_find_all(0.05, 1, 0.95).unwrap(), 59);
        // ten such species: each with 0.95^(1/10)
        assert_eq!(sites_to_find_all(0.05, 10, 0.95).unwrap(), 103);
    }

    /// Hanley & Lippman-Hand 1983: 3/n against the exact bound, 0.0295 for 0 of 100.
    #[test]
    fn rule_of_three() {
        assert!((most_missed(100, 0.95).unwrap() - 0.0295).abs() < 5e-5);
        assert!((most_missed(1_000, 0.95).unwrap() * 1_000.0 / 3.0 - 1.0).abs() < 0.004);
    }

    /// Hypergeometric, recomputed; the approximation (1 − 0.05^(1/D))(N − (D − 1)/2) beside it.
    #[test]
    fn finite_frame() {
        for (places, held, want, near) in
            [(100, 1, 95, 95.0), (100, 5, 45, 44.17), (200, 2, 155, 154.89), (200, 10, 51, 50.61)]
        {
            assert_eq!(sites_to_find_finite(places, held, 1.0, 0.95).unwrap(), want);
            let d = held as f64;
            let about = (1.0 - 0.05_f64.powf(1.0 / d)) * (places as f64 - (d - 1.0) / 2.0);
            assert!((about - near).abs() < 0.02, "{about}");
        }
    }

    /// Sampling every one of many places with imperfect detection is the infinite formula at its end:
    /// D occupied places each missed with 1 − p*.
    #[test]
    fn all_places_looked_at() {
        let chance = chance_to_find_finite(40, 3, 0.4, 40).unwrap();
        assert!((chance - (1.0 - 0.6_f64.powi(3))).abs() < 1e-12);
        let error = sites_to_find_finite(40, 3, 0.4, 0.95).unwrap_err().to_string();
        assert!(error.contains("all `40` places") && error.contains("throw more often"), "{error}");
        // a large frame agrees with the infinite one
        let many = chance_to_find_finite(1_000_000, 50_000, 0.7, 80).unwrap();
        assert!((many - chance_to_find(0.05 * 0.7, 80).unwrap()).abs() < 1e-4);
    }
}
