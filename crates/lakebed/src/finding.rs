//! What was noticed about good data: repaired, left out, or worth a look.

use std::fmt;
use units::LonLat;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Good to know, nothing to do.
    Note,
    /// Worth a look: the result stands, but a person should see this.
    Warning,
}

/// Something noticed on the way to a result that stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// How much it weighs.
    pub severity: Severity,
    /// What happened, in words a volunteer reads; lower case, no final period.
    pub message: String,
    /// What to do about it.
    pub hint: Option<String>,
    /// Where, when it is one place.
    pub place: Option<LonLat>,
    /// How many times.
    pub count: usize,
}

impl Finding {
    pub(crate) fn note(message: impl Into<String>) -> Self {
        Self {
            severity: Severity::Note,
            message: message.into(),
            hint: None,
            place: None,
            count: 1,
        }
    }

    pub(crate) fn warning(message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::note(message) }
    }

    pub(crate) fn hint(self, hint: impl Into<String>) -> Self {
        Self { hint: Some(hint.into()), ..self }
    }

    pub(crate) fn at(self, place: Option<LonLat>) -> Self {
        Self { place, ..self }
    }

    pub(crate) fn times(self, count: usize) -> Self {
        Self { count, ..self }
    }
}

impl fmt::Display for Finding {
    /// The message, then the hint in a line of its own.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)?;
        if let Some(place) = self.place {
            write!(f, " (at {place})")?;
        }
        if let Some(hint) = &self.hint {
            write!(f, "\nhint: {hint}")?;
        }
        Ok(())
    }
}
