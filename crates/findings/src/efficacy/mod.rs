//! Did the treatment work? Before and after, treated and untreated, target and natives.

mod effect;
mod part;
mod warning;

pub use effect::{DensityEffect, Effect, PartChange, TaxonEffect};
pub use warning::EfficacyWarning;

use crate::compare::Warning;
use crate::compare::change::{Verdict, found_anywhere};
use crate::compare::names::may_be_one;
use crate::sampled::Sampled;
use crate::stats::Estimate;
use crate::stats::adjust::{Adjustment, adjust};
use crate::stats::baci::frequency_contrast;
use effect::reading;
use part::{Parts, PlantSet};
use std::collections::BTreeMap;
use survey::{Origin, Site, SurveyRecord, Taxon, TaxonId};
use thiserror::Error;

/// Where a site lies in respect of the treatment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Part {
    /// In what was treated.
    pub treated: bool,
    /// In what stands for the untreated lake. A site that is both is left out, with a warning.
    pub untreated: bool,
}

/// What is asked.
pub struct Question<'a> {
    /// Survey before the treatment; without one nothing can be told of its effect.
    pub before: Option<&'a SurveyRecord>,
    /// First survey after it.
    pub after: &'a SurveyRecord,
    /// A survey a year on, to see whether the effect lasted.
    pub later: Option<&'a SurveyRecord>,
    /// Plants the treatment was meant for.
    pub targets: &'a [TaxonId],
    /// Where each site lies; sites of all surveys are asked for.
    pub part: &'a dyn Fn(&Site) -> Part,
}

/// How the answer is worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Permutations for p values.
    pub permutations: u32,
    /// Resamples for intervals of percentages.
    pub resamples: u32,
    /// Seed of both; stored with the result.
    pub seed: u64,
    /// Smallest fall of frequency beyond the untreated part that the lake board would call a
    /// success, as a positive difference of proportions. Without it the answer "no" is given only
    /// when the target rose.
    pub worthwhile_fall: Option<f64>,
}

impl Options {
    /// 1,999 permutations and resamples of a seed, no threshold.
    pub const fn with_seed(seed: u64) -> Self {
        Self { permutations: 1_999, resamples: 1_999, seed, worthwhile_fall: None }
    }
}

/// What a treatment did.
#[derive(Debug, Clone, PartialEq)]
pub struct Efficacy {
    /// How it was worked out, seed included.
    pub options: Options,
    /// What restricts the answer, first of all.
    pub warnings: Vec<EfficacyWarning>,
    /// What differs between the two surveys.
    pub survey_warnings: Vec<Warning>,
    /// Any of the targets together.
    pub target: Effect,
    /// Each target.
    pub targets: Vec<TaxonEffect>,
    /// Each native plant found in a part before or after, commonest before first; p adjusted for
    /// their number by Benjamini–Hochberg.
    pub natives: Vec<TaxonEffect>,
    /// Any of the targets, from before to the later survey.
    pub persistence: Option<Effect>,
    /// The answer.
    pub verdict: EfficacyVerdict,
}

/// Did it work?
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EfficacyVerdict {
    /// The targets fell beyond the untreated part: interval below zero and p at most 0.05.
    Yes,
    /// They did not.
    No(NoEffect),
    /// The surveys do not show it either way.
    CannotTell(Untold),
}

/// Why the answer is no.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoEffect {
    /// The targets rose beyond the untreated part.
    Rose,
    /// The interval rules out a fall as large as the one asked for.
    LessThanWorthwhile,
}

/// Why the surveys cannot tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Untold {
    /// No survey before the treatment.
    NoBefore,
    /// No treated site sampled, before or after.
    NoTreatedSites,
    /// No untreated site sampled, before or after: the season or the year may have done it.
    NoUntreatedSites,
    /// The targets were not in the treated part before.
    NothingBefore,
    /// Fewer than five sites in a part.
    TooFewSites,
    /// The target may have been written down under another name, and with it the answer is another.
    Names,
    /// The change is within what chance does.
    WithinChance,
}

impl EfficacyVerdict {
    /// `yes`, `no` or `cannot tell`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Yes => "yes",
            Self::No(_) => "no",
            Self::CannotTell(_) => "cannot tell",
        }
    }

    /// Why, in a sentence.
    pub const fn reason(self) -> &'static str {
        match self {
            Self::Yes => "The target fell in the treated part beyond the untreated part.",
            Self::No(NoEffect::Rose) => {
                "The target rose in the treated part beyond the untreated part."
            }
            Self::No(NoEffect::LessThanWorthwhile) => {
                "The surveys rule out a fall as large as the one asked for."
            }
            Self::CannotTell(why) => match why {
                Untold::NoBefore => "There is no survey from before the treatment.",
                Untold::NoTreatedSites => {
                    "No site in the treated part was sampled before and after."
                }
                Untold::NoUntreatedSites => {
                    "No untreated site was sampled before and after: a change may have come with the \
                     season or the year."
                }
                Untold::NothingBefore => {
                    "The target was not found in the treated part before the treatment."
                }
                Untold::TooFewSites => "A part has fewer than five sites.",
                Untold::Names => {
                    "The target may have been written down under another name as well, its genus or one \
                     of its species."
                }
                Untold::WithinChance => "The change is no larger than chance makes it.",
            },
        }
    }
}

/// Why the question cannot be asked.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum EfficacyError {
    /// No target named.
    #[error("no target plant is named\nhint: name the plants the treatment was meant for")]
    NoTarget,
    /// A target that is on no list.
    #[error(
        "target `{taxon}` is on the list of none of the surveys\nhint: add it to the lake's list"
    )]
    UnknownTarget {
        /// Its key.
        taxon: String,
    },
    /// A survey after that comes before the one before.
    #[error(
        "survey `{after}` does not come after survey `{before}`\nhint: give the survey before the treatment first"
    )]
    WrongOrder {
        /// Name of the survey given as before.
        before: String,
        /// Name of the survey given as after.
        after: String,
    },
}

impl Efficacy {
    /// Answers a question.
    ///
    /// # Assumptions
    /// Without the treatment the treated part would have changed as the untreated one did. Presence
    /// on the rake counts at every sampled site; ratings only where both surveys used one scale.
    /// # Errors
    /// [`EfficacyError`] when no target is named or known, or the surveys stand in the wrong order.
    /// # References
    /// Design: Stewart-Oaten, Murdoch & Parker (1986), Ecology 67: 929–940 (from memory).
    pub fn of(question: &Question<'_>, options: Options) -> Result<Self, EfficacyError> {
        question.check()?;
        let listed = question.listed();
        let parts = Parts::of(question.before, question.after, question.part);
        let targets: PlantSet = question.targets.iter().copied().collect();
        let found: PlantSet = question
            .records()
            .flat_map(|record| found_anywhere(record, &Sampled::of(record)))
            .collect();
        let others = |plants: &PlantSet| -> PlantSet {
            let own: Vec<&Taxon> = plants.iter().filter_map(|id| listed.get(id).copied()).collect();
            let other = |one: &&Taxon| {
                found.contains(&one.id)
                    && !plants.contains(&one.id)
                    && own.iter().any(|own| may_be_one(own, one))
            };
            listed.values().copied().filter(other).map(|taxon| taxon.id).collect()
        };
        let other_names = others(&targets);
        let mut target = Effect::of(&parts, &targets, options);
        target.settle(&parts, &targets, &other_names, options);
        let each = |taxa: &mut dyn Iterator<Item = TaxonId>| {
            let mut effects: Vec<TaxonEffect> = taxa
                .filter_map(|id| {
                    let effect = Effect::of(&parts, &PlantSet::from([id]), options);
                    Some(TaxonEffect { taxon: (*listed.get(&id)?).clone(), effect })
                })
                .collect();
            adjust_for_number(&mut effects);
            for one in &mut effects {
                let plant = PlantSet::from([one.taxon.id]);
                one.effect.settle(&parts, &plant, &others(&plant), options);
            }
            effects
        };
        let native = |taxon: &&Taxon| taxon.is_plant() && taxon.origin == Origin::Native;
        let mut natives = each(
            &mut listed
                .values()
                .copied()
                .filter(native)
                .map(|taxon| taxon.id)
                .filter(|id| found.contains(id) && !targets.contains(id)),
        );
        natives.retain(|one| one.effect.sites_found() > 0);
        natives.sort_by(|a, b| {
            (b.effect.sites_found(), &a.taxon.scientific_name)
                .cmp(&(a.effect.sites_found(), &b.taxon.scientific_name))
        });
        let persistence = question.later.map(|later| {
            let parts = Parts::of(question.before, later, question.part);
            let mut effect = Effect::of(&parts, &targets, options);
            effect.settle(&parts, &targets, &other_names, options);
            effect
        });
        let survey_warnings = question.before.map_or_else(Vec::new, |before| {
            let (first, second) = (Sampled::of(before), Sampled::of(question.after));
            let sites =
                crate::compare::pairing::compared_sites(before, question.after, &first, &second);
            crate::compare::warning::warnings(before, question.after, &first, &second, &sites)
        });
        let verdict = verdict(&parts, (&target, &targets, &other_names), options);
        let mut warnings = warning::warnings(&parts, &target, &survey_warnings);
        let other_names = other_names.iter().filter_map(|id| listed.get(id).copied());
        warnings.extend(warning::of_names(other_names, verdict));
        Ok(Self {
            options,
            warnings,
            survey_warnings,
            targets: each(&mut question.targets.iter().copied()),
            target,
            natives,
            persistence,
            verdict,
        })
    }
}

impl<'a> Question<'a> {
    fn records(&self) -> impl Iterator<Item = &'a SurveyRecord> {
        self.before.into_iter().chain([self.after]).chain(self.later)
    }

    /// Every listed taxon, the latest list first.
    fn listed(&self) -> BTreeMap<TaxonId, &'a Taxon> {
        self.records().flat_map(|record| &record.taxa).map(|taxon| (taxon.id, taxon)).collect()
    }

    fn check(&self) -> Result<(), EfficacyError> {
        if self.targets.is_empty() {
            return Err(EfficacyError::NoTarget);
        }
        let listed = self.listed();
        if let Some(unknown) = self.targets.iter().find(|id| !listed.contains_key(id)) {
            return Err(EfficacyError::UnknownTarget { taxon: unknown.to_string() });
        }
        let records: Vec<&SurveyRecord> = self.records().collect();
        for pair in records.windows(2) {
            if let (Some(first), Some(second)) = (pair[0].survey.start, pair[1].survey.start)
                && second < first
            {
                return Err(EfficacyError::WrongOrder {
                    before: pair[0].survey.name.clone(),
                    after: pair[1].survey.name.clone(),
                });
            }
        }
        Ok(())
    }
}

impl std::fmt::Debug for Question<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Question")
            .field("before", &self.before.map(|record| &record.survey.name))
            .field("after", &self.after.survey.name)
            .field("later", &self.later.map(|record| &record.survey.name))
            .field("targets", &self.targets)
            .finish_non_exhaustive()
    }
}

/// Fewest sites in a part for an answer either way; a rule of ours.
const LEAST_SITES: usize = 5;

fn verdict(
    parts: &Parts<'_>,
    (target, plants, others): (&Effect, &PlantSet, &PlantSet),
    options: Options,
) -> EfficacyVerdict {
    use EfficacyVerdict::{CannotTell, No, Yes};
    if parts.before.is_none() {
        return CannotTell(Untold::NoBefore);
    }
    let sites = |part: &PartChange| part.before.n.min(part.after.n);
    match (sites(&target.treated), sites(&target.untreated)) {
        (0, _) => return CannotTell(Untold::NoTreatedSites),
        (_, 0) => return CannotTell(Untold::NoUntreatedSites),
        (one, other) if one.min(other) < LEAST_SITES => return CannotTell(Untold::TooFewSites),
        _ => {}
    }
    if target.treated.before.k == 0 && target.treated.after.k == 0 {
        return CannotTell(Untold::NothingBefore);
    }
    if !target.may_be.is_empty() {
        return CannotTell(Untold::Names);
    }
    let too_small = |difference: Option<Estimate>| {
        options.worthwhile_fall.is_some_and(|fall| difference.is_some_and(|one| one.low > -fall))
    };
    match target.verdict {
        Verdict::Fell => Yes,
        Verdict::Rose => No(NoEffect::Rose),
        _ if target.treated.before.k == 0 => CannotTell(Untold::NothingBefore),
        _ if too_small(target.difference) => {
            let (treated, untreated) = reading(parts, plants, others, true);
            if too_small(frequency_contrast(&treated, &untreated).ok()) {
                No(NoEffect::LessThanWorthwhile)
            } else {
                CannotTell(Untold::Names)
            }
        }
        _ => CannotTell(Untold::WithinChance),
    }
}

fn adjust_for_number(effects: &mut [TaxonEffect]) {
    let tested: Vec<usize> =
        (0..effects.len()).filter(|place| effects[*place].effect.p.is_some()).collect();
    let p_values: Vec<f64> = tested.iter().filter_map(|place| effects[*place].effect.p).collect();
    if let Ok(adjusted) = adjust(&p_values, Adjustment::BenjaminiHochberg) {
        for (place, p) in tested.into_iter().zip(adjusted) {
            effects[place].effect.p_adjusted = Some(p);
        }
    }
}

#[cfg(test)]
mod tests;
