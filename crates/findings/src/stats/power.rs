//! How many sites are enough, and what a survey of a given size could have shown.

use super::distribution::{normal_lower_tail, normal_quantile};
use super::{Continuity, Proportion};
use thiserror::Error;
use units::{OutOfRange, bounds};

/// Whether a change either way counts, or one way only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// One way, named beforehand.
    One,
    /// Either way.
    Two,
}

/// What a comparison has to achieve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Goal {
    /// Chance of calling ordinary noise a change.
    alpha: f64,
    /// Chance of seeing a change that is there.
    power: f64,
    sides: Sides,
}

/// Why there is no answer.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum PowerError {
    /// A frequency, alpha or power is outside 0..1.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Alpha or power is 0 or 1.
    #[error("alpha `{alpha}` and power `{power}` have to lie strictly between 0 and 1")]
    NoGoal {
        /// Alpha as given.
        alpha: f64,
        /// Power as given.
        power: f64,
    },
    /// Both frequencies are the same.
    #[error(
        "both frequencies are `{frequency}`: no number of sites shows a change that is not there\nhint: give the smallest change that would matter"
    )]
    NoChange {
        /// The frequency given twice.
        frequency: f64,
    },
}

impl Goal {
    /// Two-sided 5 %, power 80 %: what "detectable" means wherever it is printed.
    pub const USUAL: Self = Self { alpha: 0.05, power: 0.8, sides: Sides::Two };

    /// A goal of one's own.
    ///
    /// # Errors
    /// [`PowerError::NoGoal`] unless both lie strictly between 0 and 1.
    pub fn new(alpha: f64, power: f64, sides: Sides) -> Result<Self, PowerError> {
        let inside = |p: f64| p > 0.0 && p < 1.0;
        if inside(alpha) && inside(power) {
            Ok(Self { alpha, power, sides })
        } else {
            Err(PowerError::NoGoal { alpha, power })
        }
    }

    /// The power asked for.
    pub const fn power(self) -> f64 {
        self.power
    }

    pub(crate) fn z_alpha(self) -> f64 {
        let tail = match self.sides {
            Sides::One => self.alpha,
            Sides::Two => self.alpha / 2.0,
        };
        normal_quantile(1.0 - tail)
    }

    pub(crate) fn z_power(self) -> f64 {
        normal_quantile(self.power)
    }
}

fn two_frequencies(first: f64, second: f64) -> Result<(f64, f64), PowerError> {
    let (first, second) = (bounds::PROPORTION.check(first)?, bounds::PROPORTION.check(second)?);
    if (first - second).abs() > 0.0 {
        Ok((first, second))
    } else {
        Err(PowerError::NoChange { frequency: first })
    }
}

/// Sites each of two surveys needs to show a change of frequency on different sites; round up.
///
/// # Formula
/// `n = (z_α·√(2p̄q̄) + z_β·√(p₁q₁ + p₂q₂))² / (p₁ − p₂)²`, `p̄ = (p₁ + p₂)/2`.
/// # Units
/// Sites, not rounded.
/// # Assumptions
/// Independent sites, equal numbers in both surveys.
/// # Errors
/// [`PowerError`] when a frequency is outside 0..1 or both are the same.
/// # References
/// Fleiss (1981), Statistical Methods for Rates and Proportions, 2nd ed., ch. 3.
pub fn sites_per_survey(first: f64, second: f64, goal: Goal) -> Result<f64, PowerError> {
    let (p1, p2) = two_frequencies(first, second)?;
    let mean = f64::midpoint(p1, p2);
    let noise = goal.z_alpha() * (2.0 * mean * (1.0 - mean)).sqrt()
        + goal.z_power() * (p1 * (1.0 - p1) + p2 * (1.0 - p2)).sqrt();
    Ok((noise / (p1 - p2)).powi(2))
}

/// The same, enlarged for the continuity correction or for Fisher's test; round up.
///
/// # Formula
/// `n′ = (n/4)·(1 + √(1 + 4/(n·|p₁ − p₂|)))²`.
/// # Units
/// Sites, not rounded.
/// # Errors
/// As [`sites_per_survey`].
/// # References
/// Casagrande, Pike & Smith (1978), Biometrics 34: 483–486; Fleiss (1981), formula 3.15 (both from
/// memory).
pub fn sites_per_survey_corrected(first: f64, second: f64, goal: Goal) -> Result<f64, PowerError> {
    let n = sites_per_survey(first, second, goal)?;
    Ok(n / 4.0 * (1.0 + (1.0 + 4.0 / (n * (first - second).abs())).sqrt()).powi(2))
}

/// Chance that two surveys on different sites show a change from `first` to `second`.
///
/// # Formula
/// `Φ((√n₁·|p₁ − p₂| − z_α·√(p̄q̄(1 + 1/r))) / √(p₁q₁ + p₂q₂/r))`, `r = n₂/n₁`,
/// `p̄ = (p₁ + r·p₂)/(1 + r)`. With the correction `√n₁` loses `(r + 1)/(2r·|p₁ − p₂|·√n₁)`.
/// # Units
/// A probability. Significance in the wrong direction is not counted.
/// # Errors
/// As [`sites_per_survey`].
/// # References
/// Fleiss (1981), ch. 3; R `power.prop.test` for equal numbers.
pub fn power_of_two_surveys(
    sites: (u64, u64),
    first: f64,
    second: f64,
    goal: Goal,
    continuity: Continuity,
) -> Result<f64, PowerError> {
    let (p1, p2) = two_frequencies(first, second)?;
    let change = (p1 - p2).abs();
    let ratio = sites.1 as f64 / sites.0 as f64;
    let mut root = (sites.0 as f64).sqrt();
    if continuity == Continuity::Corrected {
        root = (root - (ratio + 1.0) / (2.0 * ratio * change * root)).max(0.0);
    }
    let mean = (p1 + ratio * p2) / (1.0 + ratio);
    let threshold = goal.z_alpha() * (mean * (1.0 - mean) * (1.0 + 1.0 / ratio)).sqrt();
    let spread = (p1 * (1.0 - p1) + p2 * (1.0 - p2) / ratio).sqrt();
    Ok(exceed(root * change - threshold, spread))
}

/// Chance that two surveys of the same sites show a change.
///
/// # Formula
/// `Φ((√n·|δ| − z_α·√ψ) / √(ψ − δ²))`, `δ` gained less lost share, `ψ` their sum.
/// # Units
/// A probability.
/// # Assumptions
/// McNemar's test; sites independent of one another.
/// # References
/// Connor (1987), Biometrics 43: 207–211, p. 209.
pub fn power_of_paired_surveys(sites: u64, gained: f64, lost: f64, goal: Goal) -> f64 {
    let (change, turnover) = ((gained - lost).abs(), gained + lost);
    let excess = (sites as f64).sqrt() * change - goal.z_alpha() * turnover.sqrt();
    exceed(excess, (turnover - change * change).max(0.0).sqrt())
}

fn exceed(excess: f64, spread: f64) -> f64 {
    if spread > 0.0 {
        normal_lower_tail(excess / spread)
    } else if excess > 0.0 {
        1.0
    } else {
        0.0
    }
}

/// Sites one survey needs to tell its frequency from a stated one; round up.
///
/// # Formula
/// `n = ((z_α·√(p₀q₀) + z_β·√(p₁q₁)) / |p₁ − p₀|)²`; add `1/|p₁ − p₀|` for the correction.
/// # Units
/// Sites, not rounded.
/// # Errors
/// As [`sites_per_survey`].
/// # References
/// NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.2.
pub fn sites_for_one_survey(
    stated: f64,
    actual: f64,
    goal: Goal,
    continuity: Continuity,
) -> Result<f64, PowerError> {
    let (p0, p1) = two_frequencies(stated, actual)?;
    let change = (p1 - p0).abs();
    let noise =
        goal.z_alpha() * (p0 * (1.0 - p0)).sqrt() + goal.z_power() * (p1 * (1.0 - p1)).sqrt();
    let plain = (noise / change).powi(2);
    Ok(match continuity {
        Continuity::Corrected => plain + 1.0 / change,
        Continuity::Uncorrected => plain,
    })
}

/// The smallest changes a comparison could have shown, each as a positive difference of
/// proportions. A direction that no change could have reached, however large, is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Detectable {
    /// Smallest rise.
    pub rise: Option<f64>,
    /// Smallest fall.
    pub fall: Option<f64>,
}

impl Detectable {
    /// The smaller of the two, or `None` when neither could have been shown.
    pub fn smallest(self) -> Option<f64> {
        match (self.rise, self.fall) {
            (Some(rise), Some(fall)) => Some(rise.min(fall)),
            (one, other) => one.or(other),
        }
    }
}

/// The smallest change of frequency two surveys on different sites could have shown.
///
/// # Formula
/// The smallest `|p₂ − p₁|` for which [`power_of_two_surveys`] reaches the goal, `p₁` as observed.
/// # Units
/// A difference of proportions, to 1e-6.
/// # Assumptions
/// The first frequency is taken as if it were known. Use the correction where Fisher's test is used.
pub fn detectable_on_different_sites(
    first: Proportion,
    second_sites: u64,
    goal: Goal,
    continuity: Continuity,
) -> Detectable {
    let p1 = first.value();
    let sites = (first.trials(), second_sites);
    let reaches = |p2: f64| {
        second_sites > 0
            && power_of_two_surveys(sites, p1, p2.clamp(0.0, 1.0), goal, continuity)
                .is_ok_and(|power| power >= goal.power)
    };
    Detectable {
        rise: smallest_that(1.0 - p1, |change| reaches(p1 + change)),
        fall: smallest_that(p1, |change| reaches(p1 - change)),
    }
}

/// The smallest change of frequency two surveys of the same sites could have shown.
///
/// # Formula
/// The smallest `δ` for which [`power_of_paired_surveys`] reaches the goal with shares `t + δ` and
/// `t` of sites changing one way and the other. `t`, the turnover that is not change, is the smaller
/// of the observed shares of sites gained and lost.
/// # Units
/// A difference of proportions, to 1e-6.
/// # Assumptions
/// Turnover as observed; the first frequency is taken as if it were known.
/// # References
/// Power: Connor (1987), Biometrics 43: 207–211. Holding the turnover is our choice.
pub fn detectable_on_same_sites(sites: super::paired::PairedSites, goal: Goal) -> Detectable {
    let total = sites.total();
    let Ok(first) = sites.first() else { return Detectable { rise: None, fall: None } };
    let p1 = first.value();
    let turnover = sites.gained.min(sites.lost) as f64 / total as f64;
    let reaches = |change: f64| {
        power_of_paired_surveys(total, turnover + change, turnover, goal) >= goal.power
    };
    Detectable {
        rise: smallest_that(1.0 - p1 - turnover, reaches),
        fall: smallest_that(p1 - turnover, reaches),
    }
}

/// The smallest value in `0..=most` that satisfies `test`: a walk in 50 steps, then halving.
fn smallest_that(most: f64, test: impl Fn(f64) -> bool) -> Option<f64> {
    const STEPS: u32 = 50;
    if most <= 0.0 {
        return None;
    }
    let at = |step: u32| most * f64::from(step) / f64::from(STEPS);
    let step = (1..=STEPS).find(|step| test(at(*step)))?;
    let (mut below, mut above) = (at(step - 1), at(step));
    while above - below > 1e-7 {
        let middle = f64::midpoint(below, above);
        if test(middle) { above = middle } else { below = middle }
    }
    Some(above)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::{Continuity::*, assert_close, mcnemar, paired::PairedSites};

    #[test]
    fn fleiss_1981_sites_per_survey_with_and_without_correction() {
        // two-sided 0.05, power 0.80; recomputed with the formulas in Python, attribution from memory
        let rows = [
            (0.50, 0.40, 388.0, 408.0),
            (0.50, 0.30, 93.0, 103.0),
            (0.40, 0.20, 82.0, 91.0),
            (0.30, 0.20, 294.0, 313.0),
            (0.30, 0.10, 62.0, 72.0),
            (0.20, 0.10, 199.0, 219.0),
            (0.10, 0.05, 435.0, 474.0),
            (0.10, 0.02, 138.0, 162.0),
        ];
        for (p1, p2, plain, corrected) in rows {
            let what = format!("{p1} to {p2}");
            assert_close(sites_per_survey(p1, p2, Goal::USUAL).unwrap().ceil(), plain, 0.0, &what);
            let got = sites_per_survey_corrected(p1, p2, Goal::USUAL).unwrap().ceil();
            assert_close(got, corrected, 0.0, &what);
        }
    }

    #[test]
    fn r_power_prop_test_examples() {
        // R `power.prop.test` manual examples: power 0.740 and n 76.7 (printed values from memory)
        let power = power_of_two_surveys((50, 50), 0.5, 0.75, Goal::USUAL, Uncorrected).unwrap();
        assert_close(power, 0.740_165_9, 5e-8, "power");
        let goal = Goal::new(0.05, 0.9, Sides::Two).unwrap();
        assert_close(sites_per_survey(0.5, 0.75, goal).unwrap(), 76.7069, 5e-5, "n");
    }

    #[test]
    fn nist_7_2_4_2_one_survey_against_a_stated_frequency() {
        let goal = Goal::new(0.05, 0.9, Sides::One).unwrap();
        let plain = sites_for_one_survey(0.1, 0.2, goal, Uncorrected).unwrap();
        assert_close(plain, 101.2, 0.05, "n");
        let corrected = sites_for_one_survey(0.1, 0.2, goal, Corrected).unwrap();
        assert_close(corrected.ceil(), 112.0, 0.0, "corrected");
    }

    #[test]
    fn connor_1987_paired_power() {
        // discordant shares 0.05 and 0.45: 22 pairs for power 0.80 (formula of p. 209)
        let reaches = |n| power_of_paired_surveys(n, 0.05, 0.45, Goal::USUAL);
        assert!(reaches(22) > 0.799 && reaches(21) < 0.8 && reaches(23) > 0.8);
    }

    /// Chance that the mid-P test of `n` pairs comes out below 0.05, counted outcome by outcome.
    fn exact_mid_p_power(n: u64, gained: f64, lost: f64) -> f64 {
        use statrs::function::factorial::ln_binomial;
        let mut power = 0.0;
        for g in 0..=n {
            for l in 0..=n - g {
                if mcnemar::p_value(g, l, mcnemar::McNemar::MidP) < 0.05 {
                    let rest = (n - g - l) as f64 * (1.0 - gained - lost).ln();
                    let ways = ln_binomial(n, g) + ln_binomial(n - g, l);
                    power += (ways + g as f64 * gained.ln() + l as f64 * lost.ln() + rest).exp();
                }
            }
        }
        power
    }

    #[test]
    fn the_paired_change_called_detectable_is_found_four_times_in_five() {
        let sites = PairedSites { both: 20, lost: 5, gained: 6, neither: 69 };
        let detectable = detectable_on_same_sites(sites, Goal::USUAL);
        let rise = detectable.rise.unwrap();
        let power = exact_mid_p_power(100, 0.05 + rise, 0.05);
        assert!((power - 0.8).abs() < 0.03, "{rise} {power}");
    }

    #[test]
    fn detectable_turns_the_sample_size_round() {
        for (continuity, n) in [
            (Uncorrected, sites_per_survey(0.3, 0.2, Goal::USUAL).unwrap()),
            (Corrected, sites_per_survey_corrected(0.3, 0.2, Goal::USUAL).unwrap()),
        ] {
            let n = n.round() as u64;
            let first = Proportion::new((0.3 * n as f64).round() as u64, n).unwrap();
            let got = detectable_on_different_sites(first, n, Goal::USUAL, continuity);
            assert_close(got.fall.unwrap(), 0.1, 6e-4, &format!("{continuity:?}"));
        }
    }

    #[test]
    fn a_rare_plant_on_few_sites_cannot_be_seen_to_fall() {
        let first = Proportion::new(2, 40).unwrap();
        let got = detectable_on_different_sites(first, 40, Goal::USUAL, Corrected);
        assert_eq!(got.fall, None);
        assert_eq!(got.smallest(), got.rise);
        assert!(got.rise.unwrap() > 0.2);
        let nothing = detectable_on_same_sites(PairedSites::default(), Goal::USUAL);
        assert_eq!(nothing.smallest(), None);
    }

    #[test]
    fn more_sites_see_smaller_changes() {
        let mut last = 1.0;
        for n in [30, 60, 120, 400] {
            let first = Proportion::new(n / 3, n).unwrap();
            let got = detectable_on_different_sites(first, n, Goal::USUAL, Uncorrected);
            assert!(got.smallest().unwrap() < last, "n {n}");
            last = got.smallest().unwrap();
        }
    }

    #[test]
    fn a_change_that_is_none_and_a_frequency_in_percent_are_refused() {
        assert!(matches!(
            sites_per_survey(0.4, 0.4, Goal::USUAL),
            Err(PowerError::NoChange { .. })
        ));
        assert!(matches!(sites_per_survey(40.0, 0.4, Goal::USUAL), Err(PowerError::OutOfRange(_))));
        assert!(Goal::new(0.0, 0.8, Sides::Two).is_err());
    }
}
