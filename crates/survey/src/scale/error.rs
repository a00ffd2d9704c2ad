use std::fmt;

/// One fault of a scale somebody defines.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum ScaleError {
    /// The key is empty.
    NoKey,
    /// The key is that of a built-in scale.
    BuiltInKey {
        /// The key.
        key: String,
    },
    /// No step for plants on the rake.
    NoSteps {
        /// The scale.
        scale: String,
    },
    /// More than 101 steps.
    TooManySteps {
        /// The scale.
        scale: String,
        /// How many.
        found: usize,
    },
    /// No whole number above zero in the range asked for.
    NumbersOutOfOrder {
        /// From.
        least: u8,
        /// To.
        most: u8,
    },
    /// A step without a code.
    NoCode {
        /// The scale.
        scale: String,
        /// The step, from 1.
        place: usize,
    },
    /// A code or name twice, whatever the case.
    Repeated {
        /// The scale.
        scale: String,
        /// The word.
        word: String,
    },
    /// A step on the rake without a number, or a step for plants seen only with one.
    ValueMissing {
        /// The scale.
        scale: String,
        /// The step.
        code: String,
    },
    /// The number of a step is below that of the step before it.
    ValuesFall {
        /// The scale.
        scale: String,
        /// The step.
        code: String,
    },
    /// Codes that do not say themselves which is the lesser.
    OrderUnknown {
        /// The codes.
        codes: Vec<String>,
    },
    /// Cover bounds that are no proportions, fall or overlap the step before.
    CoverOutOfOrder {
        /// The scale.
        scale: String,
        /// The step.
        code: String,
    },
    /// A step for plants on the rake after one for plants only seen.
    SeenNotLast {
        /// The scale.
        scale: String,
        /// The step.
        code: String,
    },
}

impl fmt::Display for ScaleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoKey => {
                write!(f, "the scale has no key: give it a short word such as `our-five-steps`")
            }
            Self::BuiltInKey { key } => {
                write!(f, "the key `{key}` belongs to a built-in scale: choose another word")
            }
            Self::NoSteps { scale } => write!(
                f,
                "scale `{scale}` needs at least one step above zero for plants on the rake"
            ),
            Self::TooManySteps { scale, found } => {
                write!(f, "scale `{scale}` has `{found}` steps, at most 101 make a rating scale")
            }
            Self::NumbersOutOfOrder { least, most } => write!(
                f,
                "numbers from `{least}` to `{most}` make no scale: the second must be the larger and at least 1"
            ),
            Self::NoCode { scale, place } => {
                write!(f, "step `{place}` of scale `{scale}` has no code")
            }
            Self::Repeated { scale, word } => write!(
                f,
                "`{word}` stands for two steps of scale `{scale}`: every code and name must differ"
            ),
            Self::ValueMissing { scale, code } => write!(
                f,
                "step `{code}` of scale `{scale}`: a step on the rake needs a number, one for plants only seen has none"
            ),
            Self::OrderUnknown { codes } => write!(
                f,
                "the ratings `{}` do not say which is more: name all codes, the least first",
                codes.join("`, `")
            ),
            Self::ValuesFall { scale, code } => write!(
                f,
                "step `{code}` of scale `{scale}`: numbers rise from the least to the most"
            ),
            Self::CoverOutOfOrder { scale, code } => write!(
                f,
                "cover of step `{code}` of scale `{scale}`: bounds go from low to high between 0 and 1 and do not overlap"
            ),
            Self::SeenNotLast { scale, code } => write!(
                f,
                "step `{code}` of scale `{scale}` stands after a step for plants only seen: put those last"
            ),
        }
    }
}

impl std::error::Error for ScaleError {}

/// A rating that is not on the survey's scale.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownRating {
    /// Name of the scale.
    pub scale: String,
    /// What was found.
    pub found: String,
    /// The legal codes.
    pub legal: Vec<String>,
}

impl fmt::Display for UnknownRating {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "rating `{}` is not on the scale `{}`, expected ", self.found, self.scale)?;
        // long runs of numbers are named by their ends
        if self.legal.len() > 12 {
            let (first, last) = (&self.legal[0], &self.legal[self.legal.len() - 1]);
            return write!(f, "`{first}` to `{last}`");
        }
        for (index, code) in self.legal.iter().enumerate() {
            let before = match index {
                0 => "",
                _ if index + 1 == self.legal.len() => " or ",
                _ => ", ",
            };
            write!(f, "{before}`{code}`")?;
        }
        Ok(())
    }
}

impl std::error::Error for UnknownRating {}

/// A taxon rated above the whole rake it came up on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AboveTotal {
    /// Code of the taxon's rating.
    pub taxon: String,
    /// Code of the total.
    pub total: String,
}

impl fmt::Display for AboveTotal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { taxon, total } = self;
        write!(
            f,
            "rated `{taxon}`, more than the whole rake with `{total}`: the part is never above the whole"
        )
    }
}

impl std::error::Error for AboveTotal {}
