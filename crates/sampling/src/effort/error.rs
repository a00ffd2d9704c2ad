/// A question about effort that has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum EffortError {
    /// A probability, margin or number outside its limits.
    #[error("{word} `{found}` is not {expected}\nhint: {hint}")]
    Input {
        /// What it is.
        word: &'static str,
        /// What was given.
        found: f64,
        /// What is expected.
        expected: &'static str,
        /// What to do.
        hint: &'static str,
    },
    /// A change of nothing.
    #[error(
        "a change from `{from}` to `{to}` is no change, no number of sites can show it\n\
         hint: give two different frequencies, e.g. from 0.5 to 0.3"
    )]
    NoChange {
        /// Before.
        from: f64,
        /// After.
        to: f64,
    },
    /// The purpose needs something that was not given.
    #[error("to {purpose} {word} is needed\nhint: {hint}")]
    Missing {
        /// What is asked.
        purpose: &'static str,
        /// What is missing.
        word: &'static str,
        /// What to do.
        hint: &'static str,
    },
    /// The target cannot be reached with any number of sites.
    #[error("{what}\nhint: {hint}")]
    OutOfReach {
        /// Why.
        what: String,
        /// What to do.
        hint: &'static str,
    },
    /// A simulation without places, species, sites or runs.
    #[error("nothing to simulate: no {what}\nhint: {hint}")]
    NothingToSimulate {
        /// What is missing.
        what: &'static str,
        /// What to do.
        hint: &'static str,
    },
    /// The person stopped it.
    #[error(
        "stopped after {done} of {total} virtual surveys; nothing was kept\nhint: ask for fewer runs"
    )]
    Cancelled {
        /// Runs done.
        done: usize,
        /// Runs asked for.
        total: usize,
    },
}

/// A chance strictly between 0 and 1.
pub(crate) fn open(word: &'static str, value: f64) -> Result<f64, EffortError> {
    if value > 0.0 && value < 1.0 {
        return Ok(value);
    }
    Err(EffortError::Input {
        word,
        found: value,
        expected: "between 0 and 1, both excluded",
        hint: "give it as a share, e.g. 0.05 for five in a hundred",
    })
}

/// A chance from 0 to 1, both included.
pub(crate) fn closed(word: &'static str, value: f64) -> Result<f64, EffortError> {
    if (0.0..=1.0).contains(&value) {
        return Ok(value);
    }
    Err(EffortError::Input {
        word,
        found: value,
        expected: "between 0 and 1",
        hint: "give it as a share, e.g. 0.63 for 63 in a hundred",
    })
}

/// A chance above 0, 1 included.
pub(crate) fn positive(word: &'static str, value: f64) -> Result<f64, EffortError> {
    if value > 0.0 && value <= 1.0 {
        return Ok(value);
    }
    Err(EffortError::Input {
        word,
        found: value,
        expected: "above 0 and at most 1",
        hint: "give it as a share; what has no chance cannot be found by any effort",
    })
}

/// A length, area or ratio above 0.
pub(crate) fn above_zero(word: &'static str, value: f64) -> Result<f64, EffortError> {
    if value.is_finite() && value > 0.0 {
        return Ok(value);
    }
    Err(EffortError::Input {
        word,
        found: value,
        expected: "above 0",
        hint: "check the value and its unit",
    })
}

/// A number of sites as a whole number, rounding of the last digits forgiven.
pub(crate) fn whole_sites(number: f64) -> Result<usize, EffortError> {
    let whole = (number - number.abs() * 1e-12).ceil();
    if whole.is_finite() && whole <= 1e9 {
        return Ok(whole.max(1.0) as usize);
    }
    Err(EffortError::OutOfReach {
        what: format!("this takes `{number:.3e}` sites, more than any lake can hold"),
        hint: "ask for less: a wider margin, a larger change or a less rare species",
    })
}
