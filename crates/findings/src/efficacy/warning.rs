use super::part::Parts;
use super::{Effect, EfficacyVerdict, Untold};
use crate::compare::Warning;
use crate::stats::{Alternative, fisher};
use survey::Taxon;

/// Fewer sites in a part than this are called few: below it the intervals of the contrast are wide and,
/// in our simulations, no longer quite 95 %.
const FEW: usize = 20;
/// Level at which the parts are said to differ from the start.
const DIFFER: f64 = 0.05;

/// Something that restricts what can be said of a treatment.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum EfficacyWarning {
    /// No survey from before.
    NoBefore,
    /// No untreated site.
    NoUntreated,
    /// Sites in both parts, left out.
    Overlap {
        /// Such sites.
        sites: usize,
    },
    /// A part with few sites.
    FewSites {
        /// True for the treated part.
        treated: bool,
        /// Sites in it, the smaller of before and after.
        sites: usize,
    },
    /// The surveys lie in different parts of the season, or the target dies back by itself.
    Season,
    /// Nothing of the target in the untreated part: it cannot show what happens without treatment.
    NotInUntreated,
    /// The parts differed before.
    DifferentFromTheStart {
        /// Fisher's exact p.
        p: f64,
    },
    /// Ratings are not compared, because the scales differ.
    DensityNotCompared,
    /// Names the target may have been written down under too, which left nothing to say.
    Names {
        /// What they are called.
        taxa: Vec<String>,
    },
}

impl EfficacyWarning {
    /// A stable word for the kind.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::NoBefore => "no-before",
            Self::NoUntreated => "no-untreated",
            Self::Overlap { .. } => "overlap",
            Self::FewSites { .. } => "few-sites",
            Self::Season => "season",
            Self::NotInUntreated => "not-in-untreated",
            Self::DifferentFromTheStart { .. } => "different-from-the-start",
            Self::DensityNotCompared => "density-not-compared",
            Self::Names { .. } => "names",
        }
    }

    /// The warning in a sentence.
    pub fn message(&self) -> String {
        match self {
            Self::NoBefore => {
                "There is no survey from before the treatment: what the treated part \
                 held then is not known."
                    .to_owned()
            }
            Self::NoUntreated => "No untreated site was sampled: what would have happened without \
                 the treatment is not known."
                .to_owned(),
            Self::Overlap { sites } => format!(
                "Sites that lie both in the treated and in the untreated part: {sites}. They are \
                 left out."
            ),
            Self::FewSites { treated, sites } => format!(
                "The {} part has few sites ({sites}): only a large effect can show.",
                if *treated { "treated" } else { "untreated" }
            ),
            Self::Season => "The surveys lie in different parts of the season, or the target dies \
                 back by itself: read the change in the treated part only beside the untreated one."
                .to_owned(),
            Self::NotInUntreated => "The target was not found in the untreated part before: it \
                 cannot show what the target does without treatment."
                .to_owned(),
            Self::DifferentFromTheStart { p } => format!(
                "The treated and the untreated part differed before the treatment (Fisher exact p \
                 {p:.3}): they may also change differently."
            ),
            Self::DensityNotCompared => "Ratings are not compared: the surveys used different \
                 scales, or one with a single step."
                .to_owned(),
            Self::Names { taxa } => format!(
                "The target may have been written down as {} too. If that name stands for natives only, \
                 set its origin on the list of plants and ask again.",
                taxa.join(" or ")
            ),
        }
    }
}

pub(super) fn warnings(
    parts: &Parts<'_>,
    target: &Effect,
    survey_warnings: &[Warning],
) -> Vec<EfficacyWarning> {
    let mut found = Vec::new();
    let mut say = |applies: bool, warning: EfficacyWarning| {
        if applies {
            found.push(warning);
        }
    };
    let (treated, untreated) = (target.treated, target.untreated);
    let no_before = parts.before.is_none();
    say(no_before, EfficacyWarning::NoBefore);
    say(untreated.after.n == 0, EfficacyWarning::NoUntreated);
    say(parts.overlap > 0, EfficacyWarning::Overlap { sites: parts.overlap });
    for (part, is_treated) in [(treated, true), (untreated, false)] {
        let sites = if no_before { part.after.n } else { part.before.n.min(part.after.n) };
        let few = sites < FEW && part.after.n > 0;
        say(few, EfficacyWarning::FewSites { treated: is_treated, sites });
    }
    let season = |one: &Warning| matches!(one, Warning::Season { .. } | Warning::DieBack { .. });
    say(survey_warnings.iter().any(season), EfficacyWarning::Season);
    say(untreated.before.n > 0 && untreated.before.k == 0, EfficacyWarning::NotInUntreated);
    if let (Some(one), Some(other)) = (treated.before.proportion(), untreated.before.proportion()) {
        let p = fisher::fisher_exact(one, other, Alternative::TwoSided);
        say(p <= DIFFER, EfficacyWarning::DifferentFromTheStart { p });
    }
    say(!no_before && target.density.is_none(), EfficacyWarning::DensityNotCompared);
    found
}

pub(super) fn of_names<'t>(
    others: impl Iterator<Item = &'t Taxon>,
    verdict: EfficacyVerdict,
) -> Option<EfficacyWarning> {
    (verdict == EfficacyVerdict::CannotTell(Untold::Names)).then(|| EfficacyWarning::Names {
        taxa: others.map(|taxon| taxon.spoken_name().to_owned()).collect(),
    })
}
