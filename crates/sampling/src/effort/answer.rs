use super::reach::reached;
use super::sentence::sentence;
use super::{
    EffortError, chance_by_throws, chance_grid_hits_bed, sites_for_bed_area, sites_for_change,
    sites_for_contrast, sites_for_margin, sites_to_find, sites_to_find_all, sites_to_find_finite,
};
use crate::effort::error::{above_zero, open, positive, whole_sites};
use std::fmt;
use std::str::FromStr;
use units::{Metres, SQUARE_METRES_PER_ACRE, SquareMetres, UnitSystem};

/// What a survey is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// Know the plants: find all species down to a rarity.
    Richness,
    /// Find an invader early.
    Detect,
    /// Estimate a frequency.
    Estimate,
    /// Show a change between two surveys.
    Change,
    /// Draw and measure a bed.
    Delineate,
    /// Judge a treatment.
    Treatment,
}

impl Purpose {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Richness,
        Self::Detect,
        Self::Estimate,
        Self::Change,
        Self::Delineate,
        Self::Treatment,
    ];

    /// Word used in commands and files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Richness => "richness",
            Self::Detect => "detect",
            Self::Estimate => "estimate",
            Self::Change => "change",
            Self::Delineate => "delineate",
            Self::Treatment => "treatment",
        }
    }

    /// What the crew wants, to follow "to".
    pub const fn words(self) -> &'static str {
        match self {
            Self::Richness => "know the plants",
            Self::Detect => "find an invader early",
            Self::Estimate => "estimate a frequency",
            Self::Change => "show a change between surveys",
            Self::Delineate => "measure a bed",
            Self::Treatment => "judge a treatment",
        }
    }
}

impl fmt::Display for Purpose {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.key())
    }
}

impl FromStr for Purpose {
    type Err = EffortError;
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let found = text.trim().to_ascii_lowercase();
        Self::ALL.into_iter().find(|purpose| purpose.key() == found).ok_or_else(|| {
            EffortError::OutOfReach {
                what: format!("`{text}` is not a purpose of a survey"),
                hint: "choose richness, detect, estimate, change, delineate or treatment",
            }
        })
    }
}

/// A question about effort: the purpose and what is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// What for.
    pub purpose: Purpose,
    /// Water where sites may lie, or the treated water.
    pub area: SquareMetres,
    /// Number of possible sites when it is finite (sub-areas, sections); none for points anywhere.
    pub population: Option<usize>,
    /// Share of sites where the species grows: the rarest to be found, or the expected frequency.
    pub occupancy: f64,
    /// Species as rare as that.
    pub species: usize,
    /// Chance of one throw to bring the plant up where it grows.
    pub detection: f64,
    /// Throws a site.
    pub throws: u32,
    /// Confidence, 0.95 usual.
    pub confidence: f64,
    /// Margin of the frequency, or relative margin of the acreage of a bed.
    pub margin: f64,
    /// Share of sites with the species before.
    pub from: f64,
    /// Share of sites with the species after.
    pub to: f64,
    /// The same before and after in untreated water, when such is surveyed too.
    pub untreated: Option<(f64, f64)>,
    /// Chance to show the change if it is there, 0.8 usual.
    pub power: f64,
    /// Area of the bed to be found or measured.
    pub patch_area: Option<SquareMetres>,
    /// A number of sites to judge.
    pub sites: Option<usize>,
    /// Units of the sentence.
    pub units: UnitSystem,
}

impl Question {
    /// The usual values for a purpose: 95 % confidence, 80 % power, two throws, a chance of 0.63 a throw
    /// (starry stonewort at mean cover of other plants, Bajcz et al. 2024), ± 10 points.
    pub fn new(purpose: Purpose, area: SquareMetres) -> Self {
        let occupancy = match purpose {
            Purpose::Richness => 0.05,
            Purpose::Detect => 0.02,
            _ => 0.5,
        };
        Self {
            purpose,
            area,
            population: None,
            occupancy,
            species: if purpose == Purpose::Richness { 10 } else { 1 },
            detection: 0.63,
            throws: 2,
            confidence: 0.95,
            margin: if purpose == Purpose::Delineate { 0.2 } else { 0.1 },
            from: 0.5,
            to: 0.3,
            untreated: None,
            power: 0.8,
            patch_area: None,
            sites: None,
            units: UnitSystem::Us,
        }
    }
}

/// The number by formula.
#[derive(Debug, Clone, PartialEq)]
pub struct FormulaAnswer {
    /// Sites; for change and treatment in each survey (of each water).
    pub sites: usize,
    /// The formula, with its symbols.
    pub formula: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// On a square grid instead, where that makes a difference.
    pub grid_sites: Option<usize>,
}

/// The number by the trade's rule.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleAnswer {
    /// Sites.
    pub sites: usize,
    /// The rule.
    pub rule: &'static str,
}

/// An answer to a [`Question`].
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The question.
    pub question: Question,
    /// By formula.
    pub formula: FormulaAnswer,
    /// By rule of thumb.
    pub rule_of_thumb: RuleAnswer,
    /// Spacing of a grid with the number by formula.
    pub spacing: Metres,
    /// What the rule of thumb's number reaches: chance, power, or margin.
    pub rule_reaches: f64,
    /// What the number to judge reaches, when one was given.
    pub reached: Option<f64>,
    /// The answer in plain words.
    pub sentence: String,
}

/// One site an acre of the water, at least one. Common practice; it knows nothing of the purpose.
pub fn rule_of_thumb(area: SquareMetres) -> RuleAnswer {
    let sites = (area.square_metres() / SQUARE_METRES_PER_ACRE).round().max(1.0) as usize;
    RuleAnswer { sites, rule: "one site an acre (common practice)" }
}

/// Answers a question by formula, with the rule of thumb beside it.
///
/// Imperfect detection enters everywhere: what counts is the chance that the species comes up,
/// `share of sites × (1 − (1 − p)^K)`.
///
/// # Errors
/// Chances outside their limits, a change of nothing, a bed without area, a target out of reach.
pub fn answer(question: &Question) -> Result<Answer, EffortError> {
    above_zero("area of the water", question.area.square_metres())?;
    if question.throws == 0 {
        return Err(EffortError::NothingToSimulate {
            what: "throws",
            hint: "ask for 1 to 3 throws a site",
        });
    }
    positive("chance of one throw", question.detection)?;
    if matches!(question.purpose, Purpose::Change | Purpose::Treatment) {
        // what was typed is named, not what the rake makes of it
        open("share of sites before", question.from)?;
        open("share of sites after", question.to)?;
        if (question.from - question.to).abs() < 1e-9 {
            return Err(EffortError::NoChange { from: question.from, to: question.to });
        }
    }
    let formula = by_formula(question)?;
    let mut rule_of_thumb = rule_of_thumb(question.area);
    if let Some(places) = question.population {
        rule_of_thumb.sites = rule_of_thumb.sites.min(places);
    }
    let rule_reaches = reached(question, rule_of_thumb.sites)?;
    let judged = question.sites.map(|sites| reached(question, sites)).transpose()?;
    let spacing = Metres::new(match question.purpose {
        // a grid over a bed is as wide as the bed's own points are apart
        Purpose::Delineate => (bed(question)?.square_metres() / points_wanted(question)?).sqrt(),
        _ => (question.area.square_metres() / formula.sites as f64).sqrt(),
    });
    let sentence = sentence(question, &formula, &rule_of_thumb, rule_reaches, judged)?;
    Ok(Answer {
        question: question.clone(),
        formula,
        rule_of_thumb,
        spacing,
        rule_reaches,
        reached: judged,
        sentence,
    })
}

pub(super) fn seen(question: &Question) -> Result<f64, EffortError> {
    chance_by_throws(question.detection, question.throws)
}

/// Share of sites where the species grows: of the bed in the water, where a bed is given.
pub(super) fn occupancy(question: &Question) -> Result<f64, EffortError> {
    match (question.purpose, question.patch_area) {
        (Purpose::Detect, Some(bed)) => {
            let share =
                above_zero("area of the bed", bed.square_metres())? / question.area.square_metres();
            if share > 1.0 {
                return Err(bed_too_large(question, bed));
            }
            Ok(share)
        }
        _ => positive("share of sites with the species", question.occupancy),
    }
}

fn bed_too_large(question: &Question, bed: SquareMetres) -> EffortError {
    let units = question.units;
    EffortError::OutOfReach {
        what: format!(
            "a bed of {} is larger than the water, {}",
            units.area(bed),
            units.area(question.area)
        ),
        hint: "check the unit of the bed's area",
    }
}

/// Shape of a bed twice as long as wide: perimeter over root of area.
pub(super) const BED_SHAPE: f64 = 4.243;

/// Grid points that must fall on the bed.
pub(super) fn points_wanted(question: &Question) -> Result<f64, EffortError> {
    sites_for_bed_area(question.margin, question.confidence, BED_SHAPE, seen(question)?)
}

pub(super) fn bed(question: &Question) -> Result<SquareMetres, EffortError> {
    let bed = question.patch_area.ok_or(EffortError::Missing {
        purpose: "measure a bed",
        word: "about its area",
        hint: "give it with --patch-area, e.g. `0.5ac`; a rough guess will do",
    })?;
    above_zero("area of the bed", bed.square_metres())?;
    if bed > question.area {
        return Err(bed_too_large(question, bed));
    }
    Ok(bed)
}

fn by_formula(question: &Question) -> Result<FormulaAnswer, EffortError> {
    let seen = seen(question)?;
    let confidence = question.confidence;
    let plain = |sites, formula, source| FormulaAnswer { sites, formula, source, grid_sites: None };
    match question.purpose {
        Purpose::Richness => {
            let p = occupancy(question)? * seen;
            Ok(plain(
                sites_to_find_all(p, question.species, confidence)?,
                "n = ln(1 − c^(1/S)) / ln(1 − ψp*), S species as rare as ψ",
                "binomial; each of S species found with confidence c^(1/S)",
            ))
        }
        Purpose::Detect => {
            let psi = occupancy(question)?;
            if let (Some(places), None) = (question.population, question.patch_area) {
                let held = ((psi * places as f64).round() as usize).max(1);
                return Ok(plain(
                    sites_to_find_finite(places, held, seen, confidence)?,
                    "least n with 1 − Σ H(k)(1 − p*)^k ≥ c, H hypergeometric",
                    "hypergeometric (finite frame)",
                ));
            }
            let sites = sites_to_find(psi * seen, confidence)?;
            let grid_sites = match question.patch_area {
                Some(bed) => grid_to_hit(question, bed, seen)?,
                None => None,
            };
            Ok(FormulaAnswer {
                sites,
                formula: "n = ln(1 − c) / ln(1 − ψp*)",
                source: "binomial; e.g. Green & Young 1993",
                grid_sites,
            })
        }
        Purpose::Estimate => Ok(plain(
            sites_for_margin(
                occupancy(question)? * seen,
                question.margin,
                confidence,
                question.population,
            )?,
            "n = z²p(1 − p)/m², in a finite frame n/(1 + (n − 1)/N)",
            "Cochran 1977",
        )),
        Purpose::Change => Ok(plain(
            whole_sites(sites_for_change(
                question.from * seen,
                question.to * seen,
                confidence,
                question.power,
            )?)?,
            "n = (z√(2p̄q̄) + z′√(p₁q₁ + p₂q₂))²/(p₁ − p₂)²",
            "Fleiss 1981",
        )),
        Purpose::Delineate => {
            let bed = bed(question)?.square_metres();
            let on_bed = points_wanted(question)?;
            let spacing = (bed / on_bed).sqrt();
            // the grid covers the bed and one spacing around it
            let width = (bed / 2.0).sqrt();
            let around = (width + 2.0 * spacing) * (2.0 * width + 2.0 * spacing);
            Ok(plain(
                whole_sites(around / (spacing * spacing))?,
                "points on the bed n with 0.0724·shape·n^(−3/2) + (1 − p*)/(p*n) = m²/z², and one spacing around it",
                "Gundersen & Jensen 1987",
            ))
        }
        Purpose::Treatment => match question.untreated {
            None => Ok(plain(
                whole_sites(sites_for_change(
                    question.from * seen,
                    question.to * seen,
                    confidence,
                    question.power,
                )?)?,
                "n = (z√(2p̄q̄) + z′√(p₁q₁ + p₂q₂))²/(p₁ − p₂)² inside the treated water",
                "Fleiss 1981",
            )),
            Some((before, after)) => Ok(plain(
                whole_sites(sites_for_contrast(
                    (question.from * seen, question.to * seen),
                    (before * seen, after * seen),
                    confidence,
                    question.power,
                )?)?,
                "n = (z + z′)²·Σpq/δ², δ the contrast of the two changes",
                "before-after-control-impact: Stewart-Oaten, Murdoch & Parker 1986",
            )),
        },
    }
}

/// Grid points over the water so that one falls on the bed and the plant comes up there.
fn grid_to_hit(
    question: &Question,
    bed: SquareMetres,
    seen: f64,
) -> Result<Option<usize>, EffortError> {
    // with one point on the bed at most, detection caps the chance
    if seen < question.confidence {
        return Ok(None);
    }
    let r = (bed.square_metres() / std::f64::consts::PI).sqrt();
    let (mut near, mut far) = (r, 1e3 * r);
    let enough = |spacing: f64| -> Result<bool, EffortError> {
        let hit = chance_grid_hits_bed(bed, Metres::new(spacing))?;
        Ok(hit * seen >= question.confidence)
    };
    for _ in 0..60 {
        let middle = f64::midpoint(near, far);
        if enough(middle)? {
            near = middle;
        } else {
            far = middle;
        }
    }
    whole_sites(question.area.square_metres() / (near * near)).map(Some)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn question(purpose: Purpose) -> Question {
        Question {
            patch_area: (purpose == Purpose::Delineate).then(|| SquareMetres::from_acres(2.0)),
            ..Question::new(purpose, SquareMetres::from_acres(60.0))
        }
    }

    #[test]
    fn all_six_purposes_are_answered_in_a_sentence() {
        for purpose in Purpose::ALL {
            let given = Question { sites: Some(120), ..question(purpose) };
            let answer = answer(&given).unwrap();
            assert!(answer.formula.sites > 0 && !answer.formula.source.is_empty());
            assert_eq!(answer.rule_of_thumb.sites, 60);
            let text = &answer.sentence;
            assert!(text.starts_with(&answer.formula.sites.to_string()), "{text}");
            assert!(text.ends_with('.') && text.contains("120 sites"), "{text}");
            assert_eq!(purpose.key().parse::<Purpose>().unwrap(), purpose);
        }
        assert!("fishing".parse::<Purpose>().is_err());
    }

    /// With perfect detection the answers are those of the single formulas (values: Fleiss 1981; Cochran
    /// 1977; binomial and hypergeometric, recomputed).
    #[test]
    fn perfect_detection_gives_the_textbook_numbers() {
        let perfect = |purpose| Question { detection: 1.0, throws: 1, ..question(purpose) };
        let sites = |question: &Question| answer(question).unwrap().formula.sites;
        assert_eq!(sites(&perfect(Purpose::Change)), 93);
        assert_eq!(sites(&perfect(Purpose::Estimate)), 97);
        let rare = Question { occupancy: 0.05, species: 1, ..perfect(Purpose::Richness) };
        assert_eq!(sites(&rare), 59);
        let sub_areas =
            Question { population: Some(200), occupancy: 0.01, ..perfect(Purpose::Detect) };
        assert_eq!(sites(&sub_areas), 155);
        let bed = Question {
            patch_area: Some(SquareMetres::from_acres(0.6)),
            ..perfect(Purpose::Detect)
        };
        assert_eq!(sites(&bed), 299);
        // a grid cannot miss a bed as random sites can: one point on 0.6 of 60 acres at 95 %
        let on_grid = answer(&bed).unwrap().formula.grid_sites.unwrap();
        assert!((95..130).contains(&on_grid), "{on_grid}");
    }

    #[test]
    fn the_number_by_formula_reaches_what_was_asked() {
        for purpose in Purpose::ALL {
            let given = question(purpose);
            let n = answer(&given).unwrap().formula.sites;
            let value = reached(&given, n).unwrap();
            let less = reached(&given, n - 1).unwrap();
            match purpose {
                Purpose::Richness | Purpose::Detect => assert!(value >= 0.95 && less < 0.95),
                Purpose::Change | Purpose::Treatment => assert!(value >= 0.8 && less < 0.8),
                Purpose::Estimate => assert!(value <= 0.1 && less > 0.1),
                Purpose::Delineate => assert!(value <= 0.2 && less > 0.2, "{value} {less}"),
            }
        }
    }

    #[test]
    fn impossible_questions_say_what_to_do() {
        let none = Question { to: 0.5, ..question(Purpose::Change) };
        let huge = Question {
            patch_area: Some(SquareMetres::from_acres(900.0)),
            ..question(Purpose::Detect)
        };
        let unknown = Question { patch_area: None, ..question(Purpose::Delineate) };
        let percent = Question { occupancy: 5.0, ..question(Purpose::Estimate) };
        let idle = Question { throws: 0, ..question(Purpose::Richness) };
        for bad in [none, huge, unknown, percent, idle] {
            let error = answer(&bad).unwrap_err().to_string();
            assert!(error.contains("hint: "), "{error}");
        }
    }
}
