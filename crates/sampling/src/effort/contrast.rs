use super::EffortError;
use super::error::{open, whole_sites};
use super::normal::{below, quantile, two_sided};

fn variance(treated: (f64, f64), untreated: (f64, f64)) -> f64 {
    [treated.0, treated.1, untreated.0, untreated.1].iter().map(|p| p * (1.0 - p)).sum()
}

fn checked(treated: (f64, f64), untreated: (f64, f64)) -> Result<f64, EffortError> {
    for p in [treated.0, treated.1, untreated.0, untreated.1] {
        open("frequency", p)?;
    }
    let contrast = (treated.1 - treated.0) - (untreated.1 - untreated.0);
    if contrast.abs() < 1e-9 {
        return Err(EffortError::OutOfReach {
            what: "the treated and the untreated water change alike, no number of sites can tell them apart"
                .to_owned(),
            hint: "give the change expected without treatment and a different one with it",
        });
    }
    Ok(contrast)
}

/// Sites in each of four sets (treated and untreated water, before and after) that show that the
/// treated water changed otherwise than the untreated, before rounding up.
///
/// # Formula
/// With `δ = (p_T2 − p_T1) − (p_C2 − p_C1)`: `n = (z₁₋α/₂ + z₁₋β)²·Σ pq / δ²`, the sum over the four sets.
/// # Assumptions
/// Independent sites. With the same sites before and after it is on the safe side. One treated and one
/// untreated water: what else happened to one of them only cannot be told from the treatment.
/// # Errors
/// A frequency, confidence or power outside 0..1; no contrast.
/// # References
/// Design: Stewart-Oaten, Murdoch & Parker 1986, Ecology 67: 929–940 (from memory); variance of a sum of
/// independent proportions.
pub fn sites_for_contrast(
    treated: (f64, f64),
    untreated: (f64, f64),
    confidence: f64,
    power: f64,
) -> Result<f64, EffortError> {
    let contrast = checked(treated, untreated)?;
    let z = two_sided(open("confidence", confidence)?) + quantile(open("power", power)?);
    let number = z * z * variance(treated, untreated) / (contrast * contrast);
    whole_sites(number)?;
    Ok(number)
}

/// Chance to show the contrast with so many sites in each set.
///
/// # Formula
/// `Φ(|δ|·√(n / Σ pq) − z₁₋α/₂)`.
/// # Errors
/// As [`sites_for_contrast`].
pub fn power_for_contrast(
    treated: (f64, f64),
    untreated: (f64, f64),
    confidence: f64,
    sites: f64,
) -> Result<f64, EffortError> {
    let contrast = checked(treated, untreated)?;
    let z = two_sided(open("confidence", confidence)?);
    Ok(below(contrast.abs() * (sites.max(0.0) / variance(treated, untreated)).sqrt() - z))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Draw;

    /// Frequencies of a constructed case (impact 50 → 10, control 40 → 30, δ = −30 points): the power by
    /// formula against 20,000 simulated fourfold surveys with the Wald test it describes.
    #[test]
    fn power_of_a_contrast_agrees_with_simulation() {
        let (treated, untreated) = ((0.5, 0.1), (0.4, 0.3));
        let sites = sites_for_contrast(treated, untreated, 0.95, 0.8).unwrap().ceil();
        let formula = power_for_contrast(treated, untreated, 0.95, sites).unwrap();
        assert!((0.8..0.81).contains(&formula), "{formula}");
        let mut draw = Draw::new(17);
        let runs = 20_000;
        let mut shown = 0;
        for _ in 0..runs {
            let mut count =
                |p: f64| (0..sites as usize).filter(|_| draw.chance(p)).count() as f64 / sites;
            let seen = [count(treated.0), count(treated.1), count(untreated.0), count(untreated.1)];
            let delta = (seen[1] - seen[0]) - (seen[3] - seen[2]);
            let error = (seen.iter().map(|p| p * (1.0 - p)).sum::<f64>() / sites).sqrt();
            shown += u32::from(delta.abs() > 1.959_964 * error);
        }
        let share = f64::from(shown) / f64::from(runs);
        // the Wald test with estimated variance is a little liberal in small samples
        assert!((share - formula).abs() < 0.015, "simulated {share}, formula {formula}");
    }

    #[test]
    fn equal_changes_are_no_contrast() {
        let error = sites_for_contrast((0.5, 0.3), (0.4, 0.2), 0.95, 0.8).unwrap_err();
        assert!(error.to_string().contains("change alike"));
    }
}
