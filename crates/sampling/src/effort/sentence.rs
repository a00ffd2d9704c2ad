//! The answer in plain words.

use super::answer::{FormulaAnswer, Purpose, Question, RuleAnswer, bed, points_wanted, seen};
use super::simulate::percent;
use super::{EffortError, detectable_change};
use units::Metres;

/// How a value that a number of sites reaches is said.
#[derive(Debug, Clone, Copy)]
enum Scale {
    Chance,
    Power,
    Points,
    Relative,
}

impl Scale {
    const fn of(purpose: Purpose) -> Self {
        match purpose {
            Purpose::Richness | Purpose::Detect => Self::Chance,
            Purpose::Change | Purpose::Treatment => Self::Power,
            Purpose::Estimate => Self::Points,
            Purpose::Delineate => Self::Relative,
        }
    }

    fn words(self, value: f64) -> String {
        match self {
            Self::Chance => format!("a chance of {}", percent(value)),
            Self::Power => format!("which show it in {} of cases", percent(value)),
            Self::Points => format!("± {:.0} points", value * 100.0),
            Self::Relative => format!("± {:.0} %", value * 100.0),
        }
    }
}

pub(super) fn sentence(
    question: &Question,
    formula: &FormulaAnswer,
    rule: &RuleAnswer,
    rule_reaches: f64,
    judged: Option<f64>,
) -> Result<String, EffortError> {
    let scale = Scale::of(question.purpose);
    let mut clauses = vec![main_clause(question, formula)?];
    // one site an acre says nothing of a bed: the grid lies on the bed alone
    if question.purpose != Purpose::Delineate {
        let reaches = scale.words(rule_reaches);
        clauses.push(format!("one site an acre would be {}, {reaches}", rule.sites));
    }
    if let (Some(sites), Some(value)) = (question.sites, judged) {
        let smallest = smallest_change(question, sites)?;
        clauses.push(format!("{sites} sites: {}{smallest}", scale.words(value)));
    }
    Ok(clauses.join("; ") + ".")
}

fn main_clause(question: &Question, formula: &FormulaAnswer) -> Result<String, EffortError> {
    let units = question.units;
    let throws = match question.throws {
        1 => "1 throw".to_owned(),
        n => format!("{n} throws"),
    };
    let n = formula.sites;
    let sure = percent(question.confidence);
    let (from, to, cases) = (percent(question.from), percent(question.to), percent(question.power));
    let occupancy = percent(question.occupancy);
    Ok(match question.purpose {
        Purpose::Richness => format!(
            "{n} sites with {throws} each find all of {} species that grow at {occupancy} of sites, with \
             {sure} confidence",
            question.species
        ),
        Purpose::Detect => {
            let what = match question.patch_area {
                Some(bed) => format!("a bed of {}", units.area(bed)),
                None => format!("a species that grows at {occupancy} of sites"),
            };
            let grid = formula
                .grid_sites
                .map_or(String::new(), |grid| format!(" ({grid} on a square grid)"));
            format!("{n} sites with {throws} each find {what} with {sure} confidence{grid}")
        }
        Purpose::Estimate => format!(
            "{n} sites with {throws} each give the frequency within ± {:.0} points, with {sure} confidence",
            question.margin * 100.0
        ),
        Purpose::Change => format!(
            "{n} sites in each survey with {throws} each show a change from {from} to {to} of sites in \
             {cases} of cases"
        ),
        Purpose::Delineate => {
            let on_bed = points_wanted(question)?;
            let apart = Metres::new((bed(question)?.square_metres() / on_bed).sqrt());
            format!(
                "{n} grid points on and around the bed, {} apart, with {throws} each, give its acreage within ± {:.0} %, with \
                 {sure} confidence",
                units.depth(apart),
                question.margin * 100.0
            )
        }
        Purpose::Treatment => {
            let place = if question.untreated.is_some() {
                "in the treated and as many in the untreated water"
            } else {
                "in the treated water"
            };
            format!(
                "{n} sites {place}, before and after, with {throws} each, show a change from {from} to {to} \
                 in {cases} of cases"
            )
        }
    })
}

/// What so many sites can show at least, for purposes that compare two surveys.
fn smallest_change(question: &Question, sites: usize) -> Result<String, EffortError> {
    if !matches!(Scale::of(question.purpose), Scale::Power) || question.untreated.is_some() {
        return Ok(String::new());
    }
    let seen = seen(question)?;
    let down = question.to < question.from;
    let smallest =
        detectable_change(question.from * seen, down, question.confidence, question.power, sites);
    Ok(match smallest {
        Ok(to) if to / seen <= 1.0 => {
            format!(", the smallest change they show is to {} of sites", percent(to / seen))
        }
        _ => ", they cannot show any change".to_owned(),
    })
}
