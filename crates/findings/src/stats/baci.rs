//! Before and after, treated and untreated: what the treatment did beyond what happened anyway.

use super::distribution::student_two_sided;
use super::paired::PairedSites;
use super::percent_control::{BeforeAfter, abbott, henderson_tilton};
use super::power::Goal;
use super::quantile::middle_95;
use super::{Confidence, Estimate, Interval, Proportion, paired, two_proportions};
use crate::random::Draw;
use thiserror::Error;

/// Values at the sites of one part of the lake: 0 or 1 for presence, numbers for ratings.
#[derive(Debug, Clone, PartialEq)]
pub enum Arm {
    /// The same sites both times: before, after.
    Paired(Vec<(f64, f64)>),
    /// Different sites.
    Independent {
        /// Before.
        before: Vec<f64>,
        /// After.
        after: Vec<f64>,
    },
}

/// Why there is no contrast.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum BaciError {
    /// A part has no site at one of the times.
    #[error(
        "a part of the lake has no sampled site before or after\nhint: sample treated and untreated sites both times"
    )]
    NoSites,
    /// Too few to tell how much sites differ.
    #[error("`{sites}` sites in a part do not show how much sites differ\nhint: sample at least 2")]
    TooFewSites {
        /// Sites in the smallest part.
        sites: usize,
    },
    /// A value that is neither 0 nor 1 where presence was expected.
    #[error("presence is `0` or `1` at every site\nhint: give ratings to the contrast of means")]
    NotPresence,
}

impl Arm {
    /// Sites before and after.
    pub fn sites(&self) -> (usize, usize) {
        match self {
            Self::Paired(pairs) => (pairs.len(), pairs.len()),
            Self::Independent { before, after } => (before.len(), after.len()),
        }
    }

    /// Mean before and after; none without sites.
    pub fn means(&self) -> Option<(f64, f64)> {
        let (before, after) = self.columns();
        Some((mean(&before)?, mean(&after)?))
    }

    fn columns(&self) -> (Vec<f64>, Vec<f64>) {
        match self {
            Self::Paired(pairs) => pairs.iter().copied().unzip(),
            Self::Independent { before, after } => (before.clone(), after.clone()),
        }
    }

    /// Variances of the mean change, each with its degrees of freedom.
    fn variances(&self) -> Option<Vec<(f64, f64)>> {
        let of = |values: &[f64]| {
            Some((variance(values)? / values.len() as f64, values.len() as f64 - 1.0))
        };
        match self {
            Self::Paired(pairs) => {
                let changes: Vec<f64> = pairs.iter().map(|(b, a)| a - b).collect();
                Some(vec![of(&changes)?])
            }
            Self::Independent { before, after } => Some(vec![of(before)?, of(after)?]),
        }
    }

    /// Change of a frequency with its interval: Newcombe's for pairs or for two surveys.
    fn frequency_change(&self) -> Result<(f64, Interval), BaciError> {
        let no_sites = |_| BaciError::NoSites;
        match self {
            Self::Paired(pairs) => {
                let sites = paired_sites(pairs)?;
                let limits = paired::difference_interval(sites, Confidence::NINETY_FIVE)
                    .map_err(no_sites)?;
                let n = sites.total() as f64;
                Ok(((sites.gained as f64 - sites.lost as f64) / n, limits))
            }
            Self::Independent { before, after } => {
                let (first, second) = (proportion(before)?, proportion(after)?);
                let limits =
                    two_proportions::difference_interval(first, second, Confidence::NINETY_FIVE);
                Ok((second.value() - first.value(), limits))
            }
        }
    }

    /// Log odds ratio after to before, and its variance, ½ added to every count.
    fn log_odds_change(&self) -> Result<(f64, f64), BaciError> {
        let logit = |k: f64, n: f64| ((k + 0.5) / (n - k + 0.5)).ln();
        let spread = |k: f64, n: f64| 1.0 / (k + 0.5) + 1.0 / (n - k + 0.5);
        match self {
            Self::Paired(pairs) => {
                let sites = paired_sites(pairs)?;
                let n = sites.total() as f64;
                if n < 1.0 {
                    return Err(BaciError::NoSites);
                }
                let first = (sites.both + sites.lost) as f64;
                let second = (sites.both + sites.gained) as f64;
                // covariance of the two frequencies, carried to logits by the delta method
                let shrunk = |k: f64| (k + 0.5) / (n + 1.0);
                let (p1, p2) = (shrunk(first), shrunk(second));
                let together = sites.both as f64 / n - first * second / (n * n);
                let covariance = together / n / (p1 * (1.0 - p1) * p2 * (1.0 - p2));
                let variance = (spread(first, n) + spread(second, n) - 2.0 * covariance)
                    .max(0.05 * (spread(first, n) + spread(second, n)));
                Ok((logit(second, n) - logit(first, n), variance))
            }
            Self::Independent { before, after } => {
                let (a, b) = (proportion(before)?, proportion(after)?);
                let of = |p: Proportion| (p.successes() as f64, p.trials() as f64);
                let ((k1, n1), (k2, n2)) = (of(a), of(b));
                Ok((logit(k2, n2) - logit(k1, n1), spread(k1, n1) + spread(k2, n2)))
            }
        }
    }

    fn resample(&self, draw: &mut Draw) -> (f64, f64) {
        match self {
            Self::Paired(pairs) => {
                let n = pairs.len();
                let (b, a) = (0..n).fold((0.0, 0.0), |(b, a), _| {
                    let pair = pairs[draw.below(n)];
                    (b + pair.0, a + pair.1)
                });
                (b / n as f64, a / n as f64)
            }
            Self::Independent { before, after } => {
                let mut one = |values: &[f64]| {
                    let n = values.len();
                    (0..n).map(|_| values[draw.below(n)]).sum::<f64>() / n as f64
                };
                (one(before), one(after))
            }
        }
    }
}

fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

fn variance(values: &[f64]) -> Option<f64> {
    let middle = mean(values)?;
    (values.len() > 1).then(|| {
        values.iter().map(|v| (v - middle).powi(2)).sum::<f64>() / (values.len() - 1) as f64
    })
}

fn there(value: f64) -> Result<bool, BaciError> {
    if value.to_bits() == 0.0_f64.to_bits() {
        Ok(false)
    } else if value.to_bits() == 1.0_f64.to_bits() {
        Ok(true)
    } else {
        Err(BaciError::NotPresence)
    }
}

fn paired_sites(pairs: &[(f64, f64)]) -> Result<PairedSites, BaciError> {
    let mut sites = PairedSites::default();
    for (before, after) in pairs {
        sites.count(there(*before)?, there(*after)?);
    }
    Ok(sites)
}

fn proportion(values: &[f64]) -> Result<Proportion, BaciError> {
    let mut found = 0;
    for value in values {
        found += u64::from(there(*value)?);
    }
    Proportion::new(found, values.len() as u64).map_err(|_no_trials| BaciError::NoSites)
}

/// Change of frequency in the treated part beyond that in the untreated.
///
/// # Formula
/// `d = (Tₐ − T_b) − (Cₐ − C_b)`. Each change has Newcombe's interval `l..u`; the two are put together
/// by the method of variance estimates recovery: low `d − √((d_T − l_T)² + (u_C − d_C)²)`, high
/// `d + √((u_T − d_T)² + (d_C − l_C)²)`.
/// # Units
/// A difference of proportions, −2 to 2.
/// # Assumptions
/// Sites independent of one another; without the treatment both parts would have changed alike.
/// # Errors
/// [`BaciError`] without sites or when a value is not 0 or 1.
/// # References
/// Stewart-Oaten, Murdoch & Parker (1986), Ecology 67: 929–940 (design; from memory); Zou & Donner
/// (2008), Statistics in Medicine 27: 1693–1702 (interval; from memory); Newcombe (1998).
pub fn frequency_contrast(treated: &Arm, untreated: &Arm) -> Result<Estimate, BaciError> {
    let (t, t_limits) = treated.frequency_change()?;
    let (c, c_limits) = untreated.frequency_change()?;
    let value = t - c;
    Ok(Estimate {
        value,
        low: value - (t - t_limits.low).hypot(c_limits.high - c),
        high: value + (t_limits.high - t).hypot(c - c_limits.low),
    })
}

/// The same contrast on the logit scale: the log of a ratio of odds ratios.
///
/// # Formula
/// `logit Tₐ − logit T_b − (logit Cₐ − logit C_b)`, ½ added to every count; variance the sum of
/// `1/(k+½) + 1/(n−k+½)`, less twice the covariance of the two visits where sites are the same;
/// interval `± z·SE`.
/// # Units
/// Logits; below zero the treated part lost more.
/// # Errors
/// As [`frequency_contrast`].
/// # References
/// Agresti (2002), Categorical Data Analysis, ch. 3 and 10 (from memory).
pub fn log_odds_contrast(treated: &Arm, untreated: &Arm) -> Result<Estimate, BaciError> {
    let (t, t_variance) = treated.log_odds_change()?;
    let (c, c_variance) = untreated.log_odds_change()?;
    let reach = Confidence::NINETY_FIVE.z() * (t_variance + c_variance).sqrt();
    let value = t - c;
    Ok(Estimate { value, low: value - reach, high: value + reach })
}

/// Change of a mean in the treated part beyond that in the untreated.
///
/// # Formula
/// `d = (Tₐ − T_b) − (Cₐ − C_b)`, standard error from the changes (same sites) or from both times
/// (different sites), Student's t with Satterthwaite's degrees of freedom.
/// # Units
/// That of the values: steps of one rating scale, say.
/// # Assumptions
/// As [`frequency_contrast`]; the numbers of the steps are taken as amounts.
/// # Errors
/// [`BaciError`] below two sites in a part.
/// # References
/// Satterthwaite (1946), Biometrics Bulletin 2: 110–114 (from memory).
pub fn mean_contrast(treated: &Arm, untreated: &Arm) -> Result<Estimate, BaciError> {
    let (value, se, degrees) = contrast_with_error(treated, untreated)?;
    let reach = if se > 0.0 {
        student_two_sided(Confidence::NINETY_FIVE.alpha(), degrees) * se
    } else {
        0.0
    };
    Ok(Estimate { value, low: value - reach, high: value + reach })
}

fn contrast_with_error(treated: &Arm, untreated: &Arm) -> Result<(f64, f64, f64), BaciError> {
    let change = |arm: &Arm| arm.means().map(|(b, a)| a - b).ok_or(BaciError::NoSites);
    let value = change(treated)? - change(untreated)?;
    let sites = [treated.sites(), untreated.sites()].iter().map(|(b, a)| *b.min(a)).min();
    let few = BaciError::TooFewSites { sites: sites.unwrap_or(0) };
    let mut parts = treated.variances().ok_or(few)?;
    parts.extend(untreated.variances().ok_or(few)?);
    let total: f64 = parts.iter().map(|(v, _)| v).sum();
    let below: f64 = parts.iter().map(|(v, df)| v * v / df).sum();
    Ok((value, total.sqrt(), if below > 0.0 { total * total / below } else { f64::INFINITY }))
}

/// The smallest effect, as a difference, this many sites show 8 times in 10 at two-sided 5 %.
///
/// # Formula
/// `(z_α + z_β)·SE` of the contrast of means.
/// # Units
/// That of the values; positive. None when nothing varied or sites are too few.
/// # References
/// Underwood (1994), Ecological Applications 4: 3–15 (the question; from memory).
pub fn detectable_contrast(treated: &Arm, untreated: &Arm, goal: Goal) -> Option<f64> {
    let (_, se, _) = contrast_with_error(treated, untreated).ok()?;
    (se > 0.0).then(|| (goal.z_alpha() + goal.z_power()) * se)
}

/// The permutation test that both parts changed alike.
///
/// # Formula
/// Statistic `|d|/SE(d)`. Same sites: the changes are dealt out anew to treated and untreated.
/// Different sites: what is left after part and time are taken out additively is dealt out anew
/// (Freedman–Lane). `p = (1 + #{statistic* ≥ statistic}) / (1 + permutations)`.
/// # Units
/// A probability.
/// # Assumptions
/// Approximate when sites differ; the statistic with its own error keeps it right in the long run
/// when the parts vary unequally.
/// # Errors
/// As [`mean_contrast`].
/// # References
/// Freedman & Lane (1983), Journal of Business & Economic Statistics 1: 292–298; Janssen (1997),
/// Statistics & Probability Letters 36: 9–21 (both from memory).
pub fn permutation_p(
    treated: &Arm,
    untreated: &Arm,
    permutations: u32,
    seed: u64,
) -> Result<f64, BaciError> {
    let (value, se, _) = contrast_with_error(treated, untreated)?;
    let seen = size(value, se);
    let mut draw = Draw::new(seed);
    let mut as_large = 0_u32;
    if let (Arm::Paired(t), Arm::Paired(c)) = (treated, untreated) {
        let mut changes: Vec<f64> =
            t.iter().chain(c).map(|(before, after)| after - before).collect();
        for _ in 0..permutations {
            draw.shuffle(&mut changes);
            let (one, other) = changes.split_at(t.len());
            as_large += u32::from(studentised(&[(one, 1.0), (other, -1.0)]) >= seen);
        }
    } else {
        let (tb, ta) = treated.columns();
        let (cb, ca) = untreated.columns();
        let cells = [&tb, &ta, &cb, &ca];
        let mut rest = additive_residuals(cells);
        for _ in 0..permutations {
            draw.shuffle(&mut rest);
            let (one, after) = rest.split_at(tb.len());
            let (two, after) = after.split_at(ta.len());
            let (three, four) = after.split_at(cb.len());
            let cells = [(one, -1.0), (two, 1.0), (three, 1.0), (four, -1.0)];
            as_large += u32::from(studentised(&cells) >= seen);
        }
    }
    Ok(f64::from(1 + as_large) / f64::from(1 + permutations))
}

/// `|value|/error` less a little for rounding; without error anything but zero is beyond measure.
fn size(value: f64, error: f64) -> f64 {
    if value.abs() < 1e-12 {
        0.0
    } else if error > 0.0 {
        value.abs() / error * (1.0 - 1e-9)
    } else {
        f64::MAX
    }
}

fn studentised(groups: &[(&[f64], f64)]) -> f64 {
    let (mut value, mut squares) = (0.0, 0.0);
    for (values, sign) in groups {
        let n = values.len() as f64;
        let (sum, square) = values.iter().fold((0.0, 0.0), |(s, q), v| (s + v, q + v * v));
        value += sign * sum / n;
        squares += (square - sum * sum / n).max(0.0) / (n * (n - 1.0));
    }
    if value.abs() < 1e-12 {
        0.0
    } else if squares > 1e-14 {
        value.abs() / squares.sqrt()
    } else {
        f64::MAX
    }
}

/// What is left of treated before, treated after, untreated before, untreated after when part and
/// time are taken out by least squares.
///
/// With cell means `m` and numbers `n` the fitted contrast is zero and the fit misses each cell by
/// `± λ/n` with one `λ`, so `λ = (m₂ − m₁ − m₄ + m₃)/Σ(1/n)`.
fn additive_residuals(cells: [&Vec<f64>; 4]) -> Vec<f64> {
    let signs = [-1.0, 1.0, 1.0, -1.0];
    let means = cells.map(|cell| mean(cell).unwrap_or(0.0));
    let counts = cells.map(|cell| cell.len() as f64);
    let contrast: f64 = signs.iter().zip(means).map(|(sign, mean)| sign * mean).sum();
    let lambda = contrast / counts.iter().map(|n| 1.0 / n).sum::<f64>();
    let mut rest = Vec::new();
    for (((cell, sign), mean), n) in cells.into_iter().zip(signs).zip(means).zip(counts) {
        let fitted = mean - sign * lambda / n;
        rest.extend(cell.iter().map(|value| value - fitted));
    }
    rest
}

/// Percentages of control with intervals from resampled sites.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PercentControl {
    /// Abbott's figure from the amounts after treatment; none when undefined.
    pub abbott: Option<ResampledShare>,
    /// Henderson and Tilton's; none when undefined.
    pub henderson_tilton: Option<ResampledShare>,
    /// Resamples drawn.
    pub resamples: u32,
    /// Their seed.
    pub seed: u64,
}

/// A share taken away, and the middle 95 % of its resampled values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ResampledShare {
    /// The share; negative for an increase.
    pub value: f64,
    /// Limits; none when more than 1 in 40 resamples had nothing to divide by, or when every resample
    /// was the same, so that resampling cannot say how sure the figure is.
    pub interval: Option<Interval>,
    /// Resamples in which the share was undefined.
    pub undefined: u32,
}

/// Abbott's and Henderson–Tilton's percentages with bootstrap intervals.
///
/// # Formula
/// [`abbott`] and [`henderson_tilton`] on the means; sites drawn anew with replacement within each
/// part and time, pairs together; the interval is the middle 95 % of the resampled figures.
/// # Units
/// Proportions.
/// # References
/// Efron & Tibshirani (1993), An Introduction to the Bootstrap, ch. 13 (from memory).
pub fn percent_control(
    treated: &Arm,
    untreated: &Arm,
    resamples: u32,
    seed: u64,
) -> PercentControl {
    let nothing = PercentControl { abbott: None, henderson_tilton: None, resamples, seed };
    let (Some(t), Some(c)) = (treated.means(), untreated.means()) else { return nothing };
    let amounts = |t: (f64, f64), c: (f64, f64)| BeforeAfter {
        treated_before: t.0,
        treated_after: t.1,
        untreated_before: c.0,
        untreated_after: c.1,
    };
    let mut draw = Draw::new(seed);
    let drawn: Vec<BeforeAfter> = (0..resamples)
        .map(|_| amounts(treated.resample(&mut draw), untreated.resample(&mut draw)))
        .collect();
    let resampled = |of: &dyn Fn(BeforeAfter) -> Option<f64>| {
        let value = of(amounts(t, c))?;
        let mut values: Vec<f64> = drawn.iter().filter_map(|amounts| of(*amounts)).collect();
        let undefined = resamples - values.len() as u32;
        let limits = middle_95(&mut values);
        let varied = values.first().zip(values.last()).is_some_and(|(a, b)| b - a > 1e-12);
        let interval = limits
            .filter(|_| undefined * 40 <= resamples && varied)
            .map(|(low, high)| Interval { low, high });
        Some(ResampledShare { value, interval, undefined })
    };
    PercentControl {
        abbott: resampled(&|a| abbott(a.treated_after, a.untreated_after).ok()),
        henderson_tilton: resampled(&|a| henderson_tilton(a).ok()),
        ..nothing
    }
}

#[cfg(test)]
mod tests;
