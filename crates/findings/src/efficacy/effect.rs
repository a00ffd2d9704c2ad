use super::Options;
use super::part::{Parts, PlantSet};
use crate::Frequency;
use crate::compare::change::{LEVEL, Verdict, Withheld};
use crate::stats::Estimate;
use crate::stats::baci::{
    Arm, PercentControl, detectable_contrast, frequency_contrast, log_odds_contrast, mean_contrast,
    percent_control, permutation_p,
};
use crate::stats::power::Goal;
use survey::{Taxon, TaxonId};

/// What happened to one plant, or several together, in both parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// In the treated part.
    pub treated: PartChange,
    /// In the untreated part.
    pub untreated: PartChange,
    /// Change of frequency in the treated part beyond the untreated, a difference of proportions.
    pub difference: Option<Estimate>,
    /// The same as the log of a ratio of odds ratios.
    pub log_odds: Option<Estimate>,
    /// Permutation p of no effect, two-sided.
    pub p: Option<f64>,
    /// Adjusted for the number of plants in the same list; none for targets taken together.
    pub p_adjusted: Option<f64>,
    /// Abbott and Henderson–Tilton percentages from frequencies.
    pub control: PercentControl,
    /// The same from ratings; none when the surveys used different scales or a scale of one step.
    pub density: Option<DensityEffect>,
    /// Smallest effect on frequency these sites show 8 times in 10 at two-sided 5 %; none when
    /// nothing varied or sites are too few.
    pub detectable: Option<f64>,
    /// What may be said, by the interval and the adjusted p, where the names bear it out.
    pub verdict: Verdict,
    /// Other names it may have been written down under, which left nothing to say; empty when the verdict
    /// stands.
    pub may_be: Vec<TaxonId>,
}

/// One part before and after.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartChange {
    /// Before.
    pub before: Frequency,
    /// After.
    pub after: Frequency,
    /// Whether the same sites were sampled both times.
    pub same_sites: bool,
}

/// An effect on ratings, absent plants rated zero.
#[derive(Debug, Clone, PartialEq)]
pub struct DensityEffect {
    /// Mean before and after in the treated part.
    pub treated: (f64, f64),
    /// In the untreated part.
    pub untreated: (f64, f64),
    /// Sites compared, smaller of before and after: treated, untreated.
    pub sites: (usize, usize),
    /// Change of the mean in the treated part beyond the untreated, in steps of the scale.
    pub difference: Option<Estimate>,
    /// Permutation p.
    pub p: Option<f64>,
    /// Abbott and Henderson–Tilton percentages from mean ratings. Steps of a scale are ranks, so this
    /// percentage is one of ranks, not of plants.
    pub control: PercentControl,
}

/// One plant's effect.
#[derive(Debug, Clone, PartialEq)]
pub struct TaxonEffect {
    /// The plant.
    pub taxon: Taxon,
    /// What happened to it.
    pub effect: Effect,
}

impl Effect {
    pub(super) fn of(parts: &Parts<'_>, plants: &PlantSet, options: Options) -> Self {
        let named = (plants, plants);
        let (treated, untreated) = (parts.presence(named, true), parts.presence(named, false));
        let difference = frequency_contrast(&treated, &untreated).ok();
        let p = permutation_p(&treated, &untreated, options.permutations, options.seed).ok();
        Self {
            treated: PartChange::of(&treated),
            untreated: PartChange::of(&untreated),
            difference,
            log_odds: log_odds_contrast(&treated, &untreated).ok(),
            p,
            p_adjusted: None,
            control: percent_control(&treated, &untreated, options.resamples, options.seed),
            density: DensityEffect::of(parts, plants, options),
            detectable: detectable_contrast(&treated, &untreated, Goal::USUAL),
            verdict: said(difference, p),
            may_be: Vec::new(),
        }
    }

    /// Settles what may be said once p is adjusted: a fall or a rise must also hold where the sites with
    /// only another name speak against it.
    pub(super) fn settle(
        &mut self,
        parts: &Parts<'_>,
        plants: &PlantSet,
        others: &PlantSet,
        options: Options,
    ) {
        let Some(p) = self.p_adjusted.or(self.p) else { return };
        self.verdict = said(self.difference, Some(p));
        let fell = match self.verdict {
            Verdict::Fell => true,
            Verdict::Rose => false,
            Verdict::CannotTell | Verdict::NotCompared(_) => return,
        };
        if others.is_empty() {
            return;
        }
        let adjusted = self.p.filter(|raw| *raw > 0.0).map_or(1.0, |raw| p / raw);
        let (treated, untreated) = reading(parts, plants, others, !fell);
        let against = permutation_p(&treated, &untreated, options.permutations, options.seed)
            .ok()
            .map(|p| (p * adjusted).min(1.0));
        if said(frequency_contrast(&treated, &untreated).ok(), against) != self.verdict {
            self.verdict = Verdict::CannotTell;
            self.may_be = others.iter().copied().collect();
        }
    }

    /// Sites with it, over both parts and times.
    pub(super) const fn sites_found(&self) -> usize {
        self.treated.before.k
            + self.treated.after.k
            + self.untreated.before.k
            + self.untreated.after.k
    }
}

/// By the interval and p alone.
fn said(difference: Option<Estimate>, p: Option<f64>) -> Verdict {
    match difference {
        None => Verdict::NotCompared(Withheld::NoSites),
        Some(_) if p.is_none_or(|p| p > LEVEL) => Verdict::CannotTell,
        Some(difference) if difference.high < 0.0 => Verdict::Fell,
        Some(difference) if difference.low > 0.0 => Verdict::Rose,
        Some(_) => Verdict::CannotTell,
    }
}

/// Presence in the treated and the untreated part, the sites with only another name counted where they make
/// for a fall beyond the untreated part, or against it.
pub(super) fn reading(
    parts: &Parts<'_>,
    plants: &PlantSet,
    others: &PlantSet,
    for_a_fall: bool,
) -> (Arm, Arm) {
    let all: PlantSet = plants.union(others).copied().collect();
    let (falls, rises) = ((&all, plants), (plants, &all));
    let (treated, untreated) = if for_a_fall { (falls, rises) } else { (rises, falls) };
    (parts.presence(treated, true), parts.presence(untreated, false))
}

impl PartChange {
    fn of(arm: &Arm) -> Self {
        let found =
            |values: &mut dyn Iterator<Item = f64>| values.filter(|value| *value > 0.0).count();
        let (before, after) = arm.sites();
        let (k_before, k_after) = match arm {
            Arm::Paired(pairs) => (
                found(&mut pairs.iter().map(|(before, _)| *before)),
                found(&mut pairs.iter().map(|(_, after)| *after)),
            ),
            Arm::Independent { before, after } => {
                (found(&mut before.iter().copied()), found(&mut after.iter().copied()))
            }
        };
        Self {
            before: Frequency::of(k_before, before),
            after: Frequency::of(k_after, after),
            same_sites: matches!(arm, Arm::Paired(_)),
        }
    }
}

impl DensityEffect {
    fn of(parts: &Parts<'_>, plants: &PlantSet, options: Options) -> Option<Self> {
        let treated = parts.density(plants, true)?;
        let untreated = parts.density(plants, false)?;
        let fewer = |(before, after): (usize, usize)| before.min(after);
        Some(Self {
            treated: treated.means()?,
            untreated: untreated.means()?,
            sites: (fewer(treated.sites()), fewer(untreated.sites())),
            difference: mean_contrast(&treated, &untreated).ok(),
            p: permutation_p(&treated, &untreated, options.permutations, options.seed).ok(),
            control: percent_control(&treated, &untreated, options.resamples, options.seed),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_is_said_when_its_interval_and_its_p_both_say_so() {
        let contrast = |value, low, high| Some(Estimate { value, low, high });
        let none = Verdict::NotCompared(Withheld::NoSites);
        let table = [
            (contrast(-0.56, -0.8, -0.31), Some(0.002), Verdict::Fell),
            (contrast(-0.56, -0.8, 0.01), Some(0.002), Verdict::CannotTell),
            (contrast(-0.56, -0.8, -0.31), Some(0.06), Verdict::CannotTell),
            (contrast(-0.56, -0.8, -0.31), None, Verdict::CannotTell),
            (contrast(0.3, 0.1, 0.5), Some(0.01), Verdict::Rose),
            (None, None, none),
        ];
        for (difference, p, verdict) in table {
            assert_eq!(said(difference, p), verdict, "{difference:?}, p {p:?}");
        }
    }
}
