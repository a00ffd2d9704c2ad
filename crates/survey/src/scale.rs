//! Rating scales as data: ordered steps, each with code, name, field measure and number.
//!
//! A survey has exactly one scale. Codes are ordinal: a `2` on one scale says nothing about a `2`
//! on another, and the number of a step is a rank for means *within* a scale, never a cover. Start
//! with [`RatingScale::by_key`] for a built-in scale, [`RatingScale::user_defined`] for a lake's own one and
//! [`RatingScale::numbers`] for the plain numbers found in somebody's file.

mod builtin;
mod error;

pub use error::{AboveTotal, ScaleError, UnknownRating};

use crate::Rating;
use std::collections::BTreeSet;

/// Cover of the bottom a step stands for, as proportions from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoverBounds {
    /// From.
    pub low: f64,
    /// To.
    pub high: f64,
}

impl CoverBounds {
    /// Middle of the class, the figure used when a mean cover is worked out from classes.
    ///
    /// # References
    /// Daubenmire (1959), Northwest Science 33:43–64: class midpoints.
    pub fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

/// One step of a scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is written on the sheet.
    pub code: String,
    /// What it is called.
    pub name: String,
    /// How to tell in the boat.
    pub measure: String,
    /// The number used in statistics; 0 means looked for and not there, none means seen only.
    pub value: Option<u8>,
    /// Cover, only where the source of the scale gives it.
    pub cover: Option<CoverBounds>,
    /// False for a step that says a plant was seen beside the rake.
    pub on_rake: bool,
}

impl Step {
    /// A step for plants on the rake, without cover bounds.
    pub fn new(code: &str, name: &str, measure: &str, value: u8) -> Self {
        Self {
            code: code.to_owned(),
            name: name.to_owned(),
            measure: measure.to_owned(),
            value: Some(value),
            cover: None,
            on_rake: true,
        }
    }

    /// A step for plants seen beside the rake: it has no number and enters no frequency.
    pub fn seen_only(code: &str, name: &str, measure: &str) -> Self {
        Self { value: None, on_rake: false, ..Self::new(code, name, measure, 0) }
    }

    /// The same step with cover bounds, as proportions.
    pub fn with_cover(self, low: f64, high: f64) -> Self {
        Self { cover: Some(CoverBounds { low, high }), ..self }
    }

    /// True for the step that says a plant was looked for and was not there.
    pub fn is_zero(&self) -> bool {
        self.value == Some(0)
    }
}

/// A rating scale.
#[derive(Debug, Clone, PartialEq)]
pub struct RatingScale {
    /// Stable key, kept in files.
    pub key: String,
    /// What it is called.
    pub name: String,
    /// Where it was published, and how sure that is.
    pub source: String,
    /// Steps from the least to the most; a step for plants seen only stands last.
    pub steps: Vec<Step>,
}

/// Most steps a scale may have: more is a measurement, not a rating.
const MOST_STEPS: usize = 101;

/// What people write for "there" where a scale has only that one step.
const PRESENT_WORDS: [&str; 8] = ["x", "1", "y", "yes", "+", "true", "present", "✓"];

impl RatingScale {
    /// A scale, checked.
    ///
    /// # Errors
    /// Every fault of it: an empty key or code, a code or name given twice whatever the case, numbers that
    /// do not rise from step to step, cover bounds that are no proportions or overlap, no step for
    /// plants on the rake. Two neighbouring steps may share a number, as a trace and a one may.
    pub fn new(
        key: &str,
        name: &str,
        source: &str,
        steps: Vec<Step>,
    ) -> Result<Self, Vec<ScaleError>> {
        let scale = Self {
            key: key.trim().to_owned(),
            name: name.trim().to_owned(),
            source: source.trim().to_owned(),
            steps,
        };
        let faults = scale.faults();
        if faults.is_empty() { Ok(scale) } else { Err(faults) }
    }

    /// A lake's own scale.
    ///
    /// # Errors
    /// As [`RatingScale::new`], and when the key is that of a built-in scale.
    pub fn user_defined(key: &str, name: &str, steps: Vec<Step>) -> Result<Self, Vec<ScaleError>> {
        let taken =
            Self::by_key(key).map(|_| ScaleError::BuiltInKey { key: key.trim().to_owned() });
        match (Self::new(key, name, "defined for this lake by its survey team", steps), taken) {
            (scale, None) => scale,
            (Ok(_), Some(fault)) => Err(vec![fault]),
            (Err(mut faults), Some(fault)) => {
                faults.insert(0, fault);
                Err(faults)
            }
        }
    }

    /// A scale of plain whole numbers, as found in a file that does not say what they mean.
    ///
    /// # Errors
    /// [`ScaleError::NumbersOutOfOrder`] when there is no number above zero between `least` and
    /// `most`, [`ScaleError::TooManySteps`] beyond 101 numbers; else as [`RatingScale::new`].
    pub fn numbers(key: &str, least: u8, most: u8) -> Result<Self, Vec<ScaleError>> {
        if most < least.max(1) {
            return Err(vec![ScaleError::NumbersOutOfOrder { least, most }]);
        }
        let steps = (least..=most)
            .map(|number| {
                let code = number.to_string();
                match number {
                    0 => Step::new(&code, "none", "looked for and not there", 0),
                    _ => Step::new(&code, &code, "as the file had it; not explained there", number),
                }
            })
            .collect();
        Self::new(
            key,
            &format!("whole numbers {least} to {most}"),
            "read in an imported file that did not name its scale",
            steps,
        )
    }

    /// A scale of the codes a file uses, whatever they are: words for a trace first, then numbers as
    /// they rise; the number of a step is its rank. `order` says the order where codes do not.
    ///
    /// # Errors
    /// [`ScaleError::OrderUnknown`] for codes that are neither and are not in `order`; else as
    /// [`RatingScale::new`].
    pub fn of_codes<'a>(
        key: &str,
        codes: impl IntoIterator<Item = &'a str>,
        order: &[String],
    ) -> Result<Self, Vec<ScaleError>> {
        const TRACE: [&str; 6] = ["t", "tr", "trace", "r", "+", "<1"];
        let mut placed: Vec<((usize, f64), String)> = Vec::new();
        let mut unplaced = Vec::new();
        for code in codes {
            let word = folded(code);
            let said = order.iter().position(|one| folded(one) == word);
            let number = word.trim_end_matches('%').trim_end().replace(',', ".").parse::<f64>();
            let rank = match (order.is_empty(), said, number) {
                (false, Some(place), _) => Some((0, place as f64)),
                (true, _, _) if TRACE.contains(&word.as_str()) => Some((0, 0.0)),
                (true, _, Ok(number)) if number.is_finite() && number > 0.0 => Some((1, number)),
                _ => None,
            };
            match rank {
                Some(_) if placed.iter().any(|(_, other)| folded(other) == word) => {}
                Some(rank) => placed.push((rank, code.trim().to_owned())),
                None => unplaced.push(code.trim().to_owned()),
            }
        }
        if !unplaced.is_empty() {
            return Err(vec![ScaleError::OrderUnknown { codes: unplaced }]);
        }
        placed.sort_by(|(one, _), (other, _)| one.0.cmp(&other.0).then(one.1.total_cmp(&other.1)));
        let unexplained = "as the file had it; not explained there";
        let steps = std::iter::once(Step::new("0", "none", "looked for and not there", 0))
            .chain(placed.iter().enumerate().map(|(place, (_, code))| {
                let rank = u8::try_from(place + 1).unwrap_or(u8::MAX);
                Step::new(code, code, unexplained, rank)
            }))
            .collect();
        Self::new(
            key,
            &format!("{} codes of a file, by rank", placed.len()),
            "read in an imported file that did not name its scale",
            steps,
        )
    }

    /// Whether two scales measure alike: the same steps, whatever the scales and steps are called.
    /// Ratings on one can then be laid beside ratings on the other.
    pub fn same_steps(&self, other: &Self) -> bool {
        self.steps.len() == other.steps.len()
            && self.steps.iter().zip(&other.steps).all(|(a, b)| {
                (&a.code, a.value, a.cover, a.on_rake) == (&b.code, b.value, b.cover, b.on_rake)
            })
    }

    fn faults(&self) -> Vec<ScaleError> {
        let mut faults = Vec::new();
        let scale = || self.key.clone();
        if self.key.is_empty() {
            faults.push(ScaleError::NoKey);
        }
        if !self.steps.iter().any(|step| step.on_rake && !step.is_zero()) {
            faults.push(ScaleError::NoSteps { scale: scale() });
        }
        if self.steps.len() > MOST_STEPS {
            faults.push(ScaleError::TooManySteps { scale: scale(), found: self.steps.len() });
        }
        let mut seen = BTreeSet::new();
        for (index, step) in self.steps.iter().enumerate() {
            if step.code.trim().is_empty() {
                faults.push(ScaleError::NoCode { scale: scale(), place: index + 1 });
            }
            let (code, name) = (folded(&step.code), folded(&step.name));
            let mut words = vec![(code.clone(), &step.code)];
            if name != code && !name.is_empty() {
                words.push((name, &step.name));
            }
            for (word, written) in words {
                if !word.is_empty() && !seen.insert(word) {
                    faults.push(ScaleError::Repeated { scale: scale(), word: written.clone() });
                }
            }
            if step.on_rake == step.value.is_none() {
                faults.push(ScaleError::ValueMissing { scale: scale(), code: step.code.clone() });
            }
            if step.cover.is_some_and(|cover| !is_proportion_range(cover)) {
                faults
                    .push(ScaleError::CoverOutOfOrder { scale: scale(), code: step.code.clone() });
            }
        }
        let rated: Vec<&Step> = self.steps.iter().filter(|step| step.value.is_some()).collect();
        for pair in rated.windows(2) {
            let falls = pair[1].value < pair[0].value;
            // only the zero step is zero, so that nothing present ever counts as absent
            let second_zero = pair[1].is_zero();
            if falls || second_zero {
                faults.push(ScaleError::ValuesFall { scale: scale(), code: pair[1].code.clone() });
            }
            if let (Some(lower), Some(upper)) = (pair[0].cover, pair[1].cover)
                && upper.low < lower.high
            {
                faults.push(ScaleError::CoverOutOfOrder {
                    scale: scale(),
                    code: pair[1].code.clone(),
                });
            }
        }
        if let Some(first_seen) = self.steps.iter().position(|step| !step.on_rake)
            && let Some(late) = self.steps[first_seen..].iter().find(|step| step.on_rake)
        {
            faults.push(ScaleError::SeenNotLast { scale: scale(), code: late.code.clone() });
        }
        faults
    }

    /// The step a text stands for: its code or its full name, whatever the case and the blanks;
    /// `3.0` and `3,00` are `3`. Where a scale knows only "there", the usual ways to write that
    /// (`x`, `1`, `yes`, `+`) are understood.
    pub fn step(&self, text: &str) -> Option<&Step> {
        self.place(text).map(|place| &self.steps[place])
    }

    /// The rating a text stands for, as [`RatingScale::step`] reads it.
    ///
    /// # Errors
    /// [`UnknownRating`] with the legal codes.
    pub fn read(&self, text: &str) -> Result<Rating, UnknownRating> {
        self.place(text).map(|place| Rating(place as u8)).ok_or_else(|| UnknownRating {
            scale: self.name.clone(),
            found: text.trim().to_owned(),
            legal: self.codes().map(str::to_owned).collect(),
        })
    }

    /// The rating that says "looked for and not there".
    pub fn zero(&self) -> Option<Rating> {
        self.steps.iter().position(Step::is_zero).map(|place| Rating(place as u8))
    }

    /// All codes, in order.
    pub fn codes(&self) -> impl Iterator<Item = &str> {
        self.steps.iter().map(|step| step.code.as_str())
    }

    /// Whether one taxon's rating may stand beside the rating of the whole rake: the part is never
    /// more than the whole. A plant seen beside the rake is no part of it and always may.
    ///
    /// Source: common practice.
    ///
    /// # Errors
    /// [`AboveTotal`] when the taxon's step is above the total's, or the total is a step for plants
    /// seen only.
    pub fn within_total(&self, taxon: Rating, total: Rating) -> Result<(), AboveTotal> {
        let on_rake = |rating| self.step_of(rating).is_none_or(|step| step.on_rake);
        if !on_rake(taxon) || (on_rake(total) && taxon <= total) {
            return Ok(());
        }
        let code =
            |rating: Rating| self.step_of(rating).map_or_else(String::new, |one| one.code.clone());
        Err(AboveTotal { taxon: code(taxon), total: code(total) })
    }

    fn place(&self, text: &str) -> Option<usize> {
        let wanted = folded(text);
        if wanted.is_empty() {
            return None;
        }
        let by = |part: fn(&Step) -> &String| {
            self.steps.iter().position(|step| folded(part(step)) == wanted)
        };
        by(|step| &step.code).or_else(|| by(|step| &step.name)).or_else(|| {
            let mut present = self.steps.iter().enumerate().filter(|(_, step)| !step.is_zero());
            match (present.next(), present.next()) {
                (Some((place, _)), None) if PRESENT_WORDS.contains(&wanted.as_str()) => Some(place),
                _ => None,
            }
        })
    }
}

/// Lower case, blanks joined, `3.0` as `3`.
fn folded(text: &str) -> String {
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let whole = words.split_once(['.', ',']).filter(|(whole, rest)| {
        let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
        !whole.is_empty() && digits(whole) && rest.bytes().all(|byte| byte == b'0')
    });
    whole.map_or(words.clone(), |(whole, _)| whole.to_owned())
}

fn is_proportion_range(cover: CoverBounds) -> bool {
    (0.0..=1.0).contains(&cover.low) && (0.0..=1.0).contains(&cover.high) && cover.low < cover.high
}

#[cfg(test)]
mod tests;
