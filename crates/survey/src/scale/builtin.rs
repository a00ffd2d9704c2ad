//! The scales every lake book knows. Measures are in our own words; each scale names its source
//! and whether it was read or is remembered.

use super::{RatingScale, Step};
use std::sync::OnceLock;

impl RatingScale {
    /// The built-in scales: `dominance`, `handful`, `words`, `fullness`, `cover`, `presence`.
    pub fn builtin() -> &'static [Self] {
        static SCALES: OnceLock<Vec<RatingScale>> = OnceLock::new();
        SCALES.get_or_init(|| {
            vec![dominance(), handful(), words(), fullness(), cover_classes(), presence()]
        })
    }

    /// The built-in scale with this key, whatever the case.
    pub fn by_key(key: &str) -> Option<&'static Self> {
        Self::builtin().iter().find(|scale| scale.key.eq_ignore_ascii_case(key.trim()))
    }
}

/// A scale whose steps the tests check; written out here, it needs no error path.
fn scale(key: &str, name: &str, source: &str, steps: Vec<Step>) -> RatingScale {
    RatingScale { key: key.to_owned(), name: name.to_owned(), source: source.to_owned(), steps }
}

fn none() -> Step {
    Step::new("0", "none", "the rake came up without it", 0)
}

/// The quarters are those of a published four-class scale; a trace below them counts as a 1 in
/// means, so that a mean reads in the numbers on the sheet.
fn dominance() -> RatingScale {
    scale(
        "dominance",
        "dominance, trace to 4",
        "quarters of the rake: Dudley Pond survey report (2021), classes 1 to 4; trace: common practice, counted as 1 in means",
        vec![
            none(),
            Step::new("T", "trace", "a single piece or a few leaves", 1),
            Step::new("1", "sparse", "on up to a quarter of the rake", 1),
            Step::new("2", "moderate", "on a quarter to half of the rake", 2),
            Step::new("3", "abundant", "on half to three quarters of the rake", 3),
            Step::new("4", "dominant", "on more than three quarters of the rake", 4),
        ],
    )
}

fn handful() -> RatingScale {
    scale(
        "handful",
        "handful measure",
        "Lord & Johnson (2006), rake toss abundance; steps from memory",
        vec![
            Step::new("0", "none", "the rake came up empty", 0),
            Step::new("T", "trace", "as much as two or three fingers hold", 1),
            Step::new("S", "sparse", "as much as one hand holds", 2),
            Step::new("M", "medium", "as much as the rake holds", 3),
            Step::new("D", "dense", "more than can be lifted into the boat", 4),
        ],
    )
}

fn words() -> RatingScale {
    scale(
        "words",
        "four words, found to dense",
        "Michigan procedure for aquatic vegetation surveys; words and cover bounds from memory",
        vec![
            none(),
            Step::new("F", "found", "a plant or two, under 2 % of the bottom", 1)
                .with_cover(0.0, 0.02),
            Step::new("S", "sparse", "scattered, 2 to 20 % of the bottom", 2).with_cover(0.02, 0.2),
            Step::new("C", "common", "easily found, 20 to 60 % of the bottom", 3)
                .with_cover(0.2, 0.6),
            Step::new("D", "dense", "over 60 % of the bottom", 4).with_cover(0.6, 1.0),
        ],
    )
}

fn fullness() -> RatingScale {
    scale(
        "fullness",
        "rake fullness 1 to 3, with visual",
        "Hauxwell et al. (2010), WDNR PUB-SS-1068; steps from memory",
        vec![
            none(),
            Step::new("1", "few", "a few plants, the head of the rake not covered in one layer", 1),
            Step::new("2", "covered", "the head of the rake covered, the tines still showing", 2),
            Step::new("3", "full", "the tines hidden by plants", 3),
            Step::seen_only("V", "visual", "seen within 6 ft of the boat, not on the rake"),
        ],
    )
}

fn cover_classes() -> RatingScale {
    scale(
        "cover",
        "cover classes 1 to 6",
        "Daubenmire (1959), Northwest Science 33:43-64; bounds as read in the Rangelands Gateway's page on the method",
        vec![
            Step::new("0", "none", "nothing in the plot", 0),
            Step::new("1", "up to 5 %", "covers up to a twentieth", 1).with_cover(0.0, 0.05),
            Step::new("2", "5 to 25 %", "covers a twentieth to a quarter", 2)
                .with_cover(0.05, 0.25),
            Step::new("3", "25 to 50 %", "covers a quarter to half", 3).with_cover(0.25, 0.5),
            Step::new("4", "50 to 75 %", "covers half to three quarters", 4).with_cover(0.5, 0.75),
            Step::new("5", "75 to 95 %", "covers three quarters to nearly all", 5)
                .with_cover(0.75, 0.95),
            Step::new("6", "95 to 100 %", "covers all or nearly all", 6).with_cover(0.95, 1.0),
        ],
    )
}

fn presence() -> RatingScale {
    scale(
        "presence",
        "presence only",
        "common practice",
        vec![
            Step::new("0", "absent", "the rake came up without it", 0),
            Step::new("P", "present", "on the rake, however little", 1),
        ],
    )
}
