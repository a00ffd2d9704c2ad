use super::Options;
use super::part::{Parts, PlantSet};
use crate::Frequency;
use crate::stats::Estimate;
use crate::stats::baci::{
    Arm, PercentControl, detectable_contrast, frequency_contrast, log_odds_contrast, mean_contrast,
    percent_control, permutation_p,
};
use crate::stats::power::Goal;
use survey::Taxon;

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
        let (treated, untreated) = (parts.presence(plants, true), parts.presence(plants, false));
        Self {
            treated: PartChange::of(&treated),
            untreated: PartChange::of(&untreated),
            difference: frequency_contrast(&treated, &untreated).ok(),
            log_odds: log_odds_contrast(&treated, &untreated).ok(),
            p: permutation_p(&treated, &untreated, options.permutations, options.seed).ok(),
            p_adjusted: None,
            control: percent_control(&treated, &untreated, options.resamples, options.seed),
            density: DensityEffect::of(parts, plants, options),
            detectable: detectable_contrast(&treated, &untreated, Goal::USUAL),
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
