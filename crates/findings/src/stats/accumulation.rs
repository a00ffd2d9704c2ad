//! How the number of species grows with the number of sites, and how much of the community was met.

use super::richness::{ChaoForm, IncidenceFrequencies, RichnessError, SampleFactor, chao_2};
use super::{Confidence, Interval};

/// Expected species at a number of sites.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accumulation {
    /// Sites.
    pub sites: u64,
    /// Species expected there.
    pub value: f64,
    /// Interval.
    pub interval: Interval,
}

/// The species accumulation curve from one site to all, exact and without shuffling.
///
/// # Formula
/// `S(t) = Σ (1 − C(T − f, t)/C(T, t))` over species at `f` of `T` sites. Variance
/// `Σ (1 − αₜ)² − S(t)²/Ŝ` with `αₜ = C(T − f, t)/C(T, t)` and `Ŝ` the classic Chao2 bound;
/// interval `S(t) ± z·√variance`.
/// # Units
/// Species.
/// # Assumptions
/// Sites exchangeable. The interval speaks of the community, not of these sites, so it does not
/// close at `t = T`.
/// # Errors
/// [`RichnessError`] below two sites or without plants.
/// # References
/// Colwell, Mao & Chang (2004), Ecology 85: 2717–2727; Colwell et al. (2012), Journal of Plant
/// Ecology 5: 3–21 (both from memory).
pub fn accumulation_curve(
    incidence: &IncidenceFrequencies,
    level: Confidence,
) -> Result<Vec<Accumulation>, RichnessError> {
    let bound = chao_2(incidence, ChaoForm::Classic, SampleFactor::Applied, level)?.value;
    let (sites, z) = (incidence.sites(), level.z());
    let mut missed = vec![1.0_f64; incidence.counts().len()];
    Ok((1..=sites)
        .map(|t| {
            for (missed, found) in missed.iter_mut().zip(incidence.counts()) {
                let blank = (sites - found) as f64 - (t - 1) as f64;
                *missed *= blank.max(0.0) / (sites - (t - 1)) as f64;
            }
            let value: f64 = missed.iter().map(|missed| 1.0 - missed).sum();
            let squares: f64 = missed.iter().map(|missed| (1.0 - missed).powi(2)).sum();
            let reach = z * (squares - value * value / bound).max(0.0).sqrt();
            let interval = Interval { low: (value - reach).max(0.0), high: value + reach };
            Accumulation { sites: t, value, interval }
        })
        .collect())
}

/// Species expected after `more` further sites.
///
/// # Formula
/// `S + Q₀·(1 − (1 − Q₁/(T·Q₀ + Q₁))^m)`, `Q₀` the unseen species of the classic Chao2 bound.
/// # Units
/// Species.
/// # Assumptions
/// Trustworthy up to about twice the sites sampled.
/// # Errors
/// [`RichnessError`] below two sites or without plants.
/// # References
/// Colwell et al. (2012), Journal of Plant Ecology 5: 3–21 (from memory).
pub fn extrapolate(incidence: &IncidenceFrequencies, more: u64) -> Result<f64, RichnessError> {
    let level = Confidence::NINETY_FIVE;
    let bound = chao_2(incidence, ChaoForm::Classic, SampleFactor::Applied, level)?;
    let seen = incidence.observed() as f64;
    let (unseen, once) = (bound.value - seen, incidence.found_at_exactly(1) as f64);
    if unseen <= 0.0 {
        return Ok(seen);
    }
    let found_next = once / (incidence.sites() as f64 * unseen + once);
    Ok(seen + unseen * (1.0 - (1.0 - found_next).powf(more as f64)))
}

/// Share of all occurrences in the lake that belong to species already found.
///
/// # Formula
/// `1 − (Q₁/U)·((T − 1)Q₁ / ((T − 1)Q₁ + 2Q₂))`; without a species at exactly two sites, with
/// `(T − 1)(Q₁ − 1)` and 2 in place of `(T − 1)Q₁` and `2Q₂`.
/// # Units
/// A proportion.
/// # Errors
/// [`RichnessError`] below two sites or without plants.
/// # References
/// Chao & Jost (2012), Ecology 93: 2533–2547 (from memory).
pub fn coverage(incidence: &IncidenceFrequencies) -> Result<f64, RichnessError> {
    incidence.need(2)?;
    let (once, twice) =
        (incidence.found_at_exactly(1) as f64, incidence.found_at_exactly(2) as f64);
    if once < 1.0 {
        return Ok(1.0);
    }
    let others = (incidence.sites() - 1) as f64;
    let (rare, rest) =
        if twice > 0.0 { (others * once, 2.0 * twice) } else { (others * (once - 1.0), 2.0) };
    Ok(1.0 - once / incidence.occurrences() as f64 * rare / (rare + rest))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;
    use crate::stats::richness::tests::barro_colorado;

    #[test]
    fn colwell_2004_curve_of_the_barro_colorado_plots() {
        // data of the vegan vignette (Oksanen); values recomputed from binomial coefficients
        let curve = accumulation_curve(&barro_colorado(), Confidence::NINETY_FIVE).unwrap();
        let rows = [
            (1, 90.78, 1e-9),
            (5, 159.236_344, 5e-7),
            (10, 182.560_44, 5e-6),
            (25, 208.169_59, 5e-6),
            (49, 224.58, 1e-9),
            (50, 225.0, 1e-9),
        ];
        for (sites, expected, tolerance) in rows {
            let point = curve[sites - 1];
            assert_eq!(point.sites, sites as u64);
            assert_close(point.value, expected, tolerance, &format!("{sites} plots"));
            assert!(point.interval.low < point.value && point.value < point.interval.high);
        }
    }

    #[test]
    fn chao_jost_2012_coverage_of_the_barro_colorado_plots() {
        assert_close(coverage(&barro_colorado()).unwrap(), 0.995_538_2, 5e-8, "coverage");
    }

    #[test]
    fn the_curve_goes_on_smoothly_and_never_beyond_the_bound() {
        let plots = barro_colorado();
        let next = extrapolate(&plots, 1).unwrap();
        assert!(next > 225.0 && next - 225.0 < 0.43, "last step of the curve is 0.42, got {next}");
        let far = extrapolate(&plots, 1_000_000).unwrap();
        assert_close(far, 236.373_158, 5e-7, "the Chao2 bound");
    }

    #[test]
    fn everything_found_often_is_full_coverage() {
        let incidence = IncidenceFrequencies::new(12, &[4, 6, 12]).unwrap();
        assert_close(coverage(&incidence).unwrap(), 1.0, 0.0, "coverage");
        assert_close(extrapolate(&incidence, 50).unwrap(), 3.0, 0.0, "no more species");
        let one = IncidenceFrequencies::new(1, &[1]).unwrap();
        assert!(accumulation_curve(&one, Confidence::NINETY_FIVE).is_err());
    }

    #[test]
    fn without_a_species_at_two_sites_the_other_form_is_used() {
        // no species at two sites, one at one of T: rare is 0, so coverage is one by the formula
        let incidence = IncidenceFrequencies::new(12, &[1, 9]).unwrap();
        assert_close(coverage(&incidence).unwrap(), 1.0, 0.0, "formula of the paper");
        let two = IncidenceFrequencies::new(12, &[1, 1, 9]).unwrap();
        assert_close(coverage(&two).unwrap(), 1.0 - 2.0 / 11.0 * 11.0 / 13.0, 1e-12, "by hand");
    }
}
