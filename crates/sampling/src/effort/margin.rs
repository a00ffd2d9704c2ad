use super::EffortError;
use super::error::{open, whole_sites};
use super::normal::two_sided;

/// Sites for a frequency within ± a margin.
///
/// # Formula
/// `n₀ = z²·p(1 − p)/m²`; in a frame of N places `n = n₀ / (1 + (n₀ − 1)/N)`.
/// # Assumptions
/// Sites drawn at random; a spread-out sample does no worse. With p unknown 0.5 is the safe choice.
/// # Errors
/// A chance or margin outside 0..1.
/// # References
/// Cochran 1977, Sampling Techniques, 3rd ed., section 4.4 (from memory).
/// # Examples
/// ```
/// let sites = sampling::effort::sites_for_margin(0.5, 0.05, 0.95, None);
/// assert_eq!(sites, Ok(385));
/// ```
pub fn sites_for_margin(
    frequency: f64,
    margin: f64,
    confidence: f64,
    population: Option<usize>,
) -> Result<usize, EffortError> {
    let p = open("frequency", frequency)?;
    let margin = open("margin", margin)?;
    let z = two_sided(open("confidence", confidence)?);
    let endless = z * z * p * (1.0 - p) / (margin * margin);
    let number = match population {
        None => endless,
        Some(places) => endless / (1.0 + (endless - 1.0).max(0.0) / places.max(1) as f64),
    };
    whole_sites(number)
}

/// Margin that a number of sites gives.
///
/// # Formula
/// `m = z·√(p(1 − p)/n · (N − n)/(N − 1))`, the last factor in a frame of N places only.
/// # Errors
/// A chance outside 0..1, no sites.
pub fn margin_of(
    frequency: f64,
    sites: usize,
    confidence: f64,
    population: Option<usize>,
) -> Result<f64, EffortError> {
    let p = open("frequency", frequency)?;
    let z = two_sided(open("confidence", confidence)?);
    if sites == 0 {
        return Err(EffortError::Missing {
            purpose: "give a margin",
            word: "a number of sites",
            hint: "give at least 1",
        });
    }
    let finite = population.map_or(1.0, |places| {
        if places > 1 { (places.saturating_sub(sites)) as f64 / (places - 1) as f64 } else { 0.0 }
    });
    Ok(z * (p * (1.0 - p) / sites as f64 * finite).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The usual table of a margin of 5 points at 95 % (Cochran 1977, from memory; recomputed).
    #[test]
    fn cochran_1977_sample_sizes() {
        assert_eq!(sites_for_margin(0.5, 0.05, 0.95, None).unwrap(), 385);
        assert_eq!(sites_for_margin(0.5, 0.05, 0.95, Some(1_000)).unwrap(), 278);
        assert_eq!(sites_for_margin(0.5, 0.10, 0.95, None).unwrap(), 97);
        assert_eq!(sites_for_margin(0.2, 0.10, 0.95, None).unwrap(), 62);
    }

    #[test]
    fn the_margin_of_the_number_is_the_margin_asked_for() {
        for (p, margin, places) in
            [(0.3, 0.08, None), (0.5, 0.1, Some(300)), (0.1, 0.03, Some(900))]
        {
            let sites = sites_for_margin(p, margin, 0.9, places).unwrap();
            assert!(margin_of(p, sites, 0.9, places).unwrap() <= margin * 1.000_001);
            assert!(margin_of(p, sites - 1, 0.9, places).unwrap() > margin);
        }
        assert!(margin_of(0.5, 100, 0.95, Some(100)).unwrap().abs() < 1e-12);
        assert!(sites_for_margin(0.5, 0.0, 0.95, None).unwrap_err().to_string().contains("margin"));
    }
}
