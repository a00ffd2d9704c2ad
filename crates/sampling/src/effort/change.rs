use super::EffortError;
use super::error::{open, whole_sites};
use super::normal::{below, quantile, two_sided};

/// Sites in each of two surveys that show a change of frequency, before rounding up.
///
/// # Formula
/// `n = (z₁₋α/₂·√(2p̄q̄) + z₁₋β·√(p₁q₁ + p₂q₂))² / (p₁ − p₂)²`, `p̄ = (p₁ + p₂)/2`, two-sided.
/// # Assumptions
/// Two independent sets of sites. Going back to the same sites needs fewer where plants stay put: the number
/// is on the safe side.
/// # Errors
/// A frequency, confidence or power outside 0..1; no change.
/// # References
/// Fleiss 1981, Statistical Methods for Rates and Proportions, 2nd ed., chapter 3 (from memory).
pub fn sites_for_change(
    from: f64,
    to: f64,
    confidence: f64,
    power: f64,
) -> Result<f64, EffortError> {
    let (from, to) = frequencies(from, to)?;
    let (alpha, beta) =
        (two_sided(open("confidence", confidence)?), quantile(open("power", power)?));
    let mean = f64::midpoint(from, to);
    let spread = alpha * (2.0 * mean * (1.0 - mean)).sqrt()
        + beta * (from * (1.0 - from) + to * (1.0 - to)).sqrt();
    let number = (spread / (from - to)).powi(2);
    whole_sites(number)?;
    Ok(number)
}

/// The same with the continuity correction, for the corrected chi-square or Fisher's exact test.
///
/// # Formula
/// `n′ = n/4 · (1 + √(1 + 4/(n·|p₁ − p₂|)))²`.
/// # Errors
/// As [`sites_for_change`].
/// # References
/// Fleiss, Tytun & Ury 1980, Biometrics 36: 343–346 (from memory).
pub fn sites_for_change_corrected(
    from: f64,
    to: f64,
    confidence: f64,
    power: f64,
) -> Result<f64, EffortError> {
    let plain = sites_for_change(from, to, confidence, power)?;
    let root = (1.0 + 4.0 / (plain * (from - to).abs())).sqrt();
    Ok(plain / 4.0 * (1.0 + root).powi(2))
}

/// Chance to show a change with so many sites in each of two surveys.
///
/// # Formula
/// `Φ((√n·|p₁ − p₂| − z₁₋α/₂·√(2p̄q̄)) / √(p₁q₁ + p₂q₂))`; the chance to show a change the wrong way
/// round is left out.
/// # Errors
/// As [`sites_for_change`].
pub fn power_for_change(
    from: f64,
    to: f64,
    confidence: f64,
    sites: f64,
) -> Result<f64, EffortError> {
    let (from, to) = frequencies(from, to)?;
    let alpha = two_sided(open("confidence", confidence)?);
    let mean = f64::midpoint(from, to);
    let spread = (from * (1.0 - from) + to * (1.0 - to)).sqrt();
    let shift = sites.max(0.0).sqrt() * (from - to).abs();
    Ok(below((shift - alpha * (2.0 * mean * (1.0 - mean)).sqrt()) / spread))
}

/// The frequency nearest to `from`, on the side wished, that so many sites tell from it.
///
/// # Errors
/// As [`sites_for_change`]; [`EffortError::OutOfReach`] when even total loss (or growth) is not shown.
pub fn detectable_change(
    from: f64,
    downwards: bool,
    confidence: f64,
    power: f64,
    sites: usize,
) -> Result<f64, EffortError> {
    let from = open("frequency before", from)?;
    open("confidence", confidence)?;
    open("power", power)?;
    let end = if downwards { 1e-9 } else { 1.0 - 1e-9 };
    let enough = |to: f64| Ok(power_for_change(from, to, confidence, sites as f64)? >= power);
    if !enough(end)? {
        return Err(EffortError::OutOfReach {
            what: format!("`{sites}` sites cannot show any change from a frequency of {from}"),
            hint: "survey more sites",
        });
    }
    let (mut near, mut far) = (from, end);
    for _ in 0..80 {
        let middle = f64::midpoint(near, far);
        if (middle - from).abs() > 0.0 && enough(middle)? {
            far = middle;
        } else {
            near = middle;
        }
    }
    Ok(far)
}

/// Sites of one survey that tell a frequency from a fixed one, e.g. a target of the permit; one-sided, before rounding up.
///
/// # Formula
/// `n = ((z₁₋α·√(p₀q₀) + z₁₋β·√(p₁q₁)) / (p₁ − p₀))²`; corrected `n + 1/|p₁ − p₀|`.
/// # Errors
/// As [`sites_for_change`].
/// # References
/// NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.4.2 (from memory).
pub fn sites_against_target(
    target: f64,
    truth: f64,
    confidence: f64,
    power: f64,
) -> Result<f64, EffortError> {
    let (target, truth) = frequencies(target, truth)?;
    let alpha = quantile(open("confidence", confidence)?);
    let beta = quantile(open("power", power)?);
    let spread = alpha * (target * (1.0 - target)).sqrt() + beta * (truth * (1.0 - truth)).sqrt();
    let number = (spread / (target - truth)).powi(2);
    whole_sites(number)?;
    Ok(number)
}

pub(crate) fn frequencies(from: f64, to: f64) -> Result<(f64, f64), EffortError> {
    let (from, to) = (open("frequency before", from)?, open("frequency after", to)?);
    if (from - to).abs() < 1e-9 {
        return Err(EffortError::NoChange { from, to });
    }
    Ok((from, to))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two-sided 0.05, power 0.80, per survey; in brackets the continuity-corrected number of Fleiss
    /// (recomputed with statsmodels and scipy).
    #[test]
    fn fleiss_1981_two_frequencies() {
        let table = [
            (0.50, 0.40, 388.0, 408.0),
            (0.50, 0.30, 93.0, 103.0),
            (0.40, 0.20, 82.0, 91.0),
            (0.30, 0.20, 294.0, 313.0),
            (0.30, 0.10, 62.0, 72.0),
            (0.20, 0.10, 199.0, 219.0),
            (0.10, 0.05, 435.0, 474.0),
            (0.10, 0.02, 138.0, 162.0),
        ];
        for (from, to, plain, corrected) in table {
            let got = sites_for_change(from, to, 0.95, 0.8).unwrap().ceil();
            assert_eq!(got as u32, plain as u32, "{from} to {to}");
            let got = sites_for_change_corrected(from, to, 0.95, 0.8).unwrap().ceil();
            assert_eq!(got as u32, corrected as u32, "{from} to {to}, corrected");
        }
    }

    /// Examples of the help page of R's `power.prop.test`: power 0.740 for n = 50, n = 76.7 for power
    /// 0.90 (printed values from memory, digits recomputed).
    #[test]
    fn r_power_prop_test_examples() {
        let power = power_for_change(0.50, 0.75, 0.95, 50.0).unwrap();
        assert!((power - 0.740_165_9).abs() < 5e-8, "{power}");
        let sites = sites_for_change(0.50, 0.75, 0.95, 0.90).unwrap();
        assert!((sites - 76.7069).abs() < 5e-5, "{sites}");
    }

    /// NIST/SEMATECH e-Handbook 7.2.4.2: 0.10 against 0.20, one-sided 0.05, β 0.10: 102, corrected
    /// 112 (from memory, recomputed).
    #[test]
    fn nist_handbook_7_2_4_2() {
        let plain = sites_against_target(0.10, 0.20, 0.95, 0.90).unwrap();
        assert!((plain - 101.2).abs() < 0.05, "{plain}");
        assert_eq!(plain.ceil() as u32, 102);
        assert_eq!((plain + 1.0 / 0.1).ceil() as u32, 112);
    }

    #[test]
    fn the_detectable_change_needs_just_these_sites() {
        for (from, sites, downwards) in [(0.5, 93, true), (0.3, 200, true), (0.1, 150, false)] {
            let to = detectable_change(from, downwards, 0.95, 0.8, sites).unwrap();
            let needed = sites_for_change(from, to, 0.95, 0.8).unwrap();
            assert!((needed - sites as f64).abs() < 1e-6, "{from}: {to}, {needed}");
            assert_eq!(to < from, downwards);
        }
        let to = detectable_change(0.5, true, 0.95, 0.8, 93).unwrap();
        assert!((to - 0.3).abs() < 0.001, "{to}");
        assert!(detectable_change(0.02, true, 0.95, 0.8, 20).is_err());
    }

    #[test]
    fn no_change_and_impossible_frequencies_are_refused() {
        let error = sites_for_change(0.4, 0.4, 0.95, 0.8).unwrap_err().to_string();
        assert!(error.contains("is no change") && error.contains("hint: "));
        assert!(sites_for_change(1.4, 0.4, 0.95, 0.8).is_err());
        assert!(sites_for_change(0.5, 0.4, 95.0, 0.8).is_err());
        let error = sites_for_change(0.5, 0.500_01, 0.95, 0.8).unwrap_err().to_string();
        assert!(error.contains("more than any lake can hold"), "{error}");
    }
}
