use std::fmt;

/// A label people write on paper: site `14`, zone `W3`, species `CEDE`. Stable, never reused.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Code(Box<str>);

impl Code {
    /// Longest code that still fits a sheet.
    pub const LONGEST: usize = 40;

    /// A code from text, trimmed.
    ///
    /// # Errors
    /// [`CodeError`] when empty, longer than [`Code::LONGEST`] or holding control characters.
    pub fn new(text: &str) -> Result<Self, CodeError> {
        let text = text.trim();
        let error = |expected| CodeError { found: text.to_owned(), expected };
        if text.is_empty() {
            return Err(error("at least one letter or digit"));
        }
        if text.chars().count() > Self::LONGEST {
            return Err(error("at most 40 characters"));
        }
        if text.chars().any(char::is_control) {
            return Err(error("no tabs, line ends or control characters"));
        }
        Ok(Self(text.into()))
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

/// A text that cannot be a code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CodeError {
    /// The text found.
    pub found: String,
    /// What a code must be.
    pub expected: &'static str,
}

impl fmt::Display for CodeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "code `{}` is not usable: {}", self.found, self.expected)
    }
}

impl std::error::Error for CodeError {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_trimmed_and_never_empty() {
        assert_eq!(Code::new(" W3 ").unwrap().as_str(), "W3");
        assert!(Code::new("   ").is_err());
        assert!(Code::new("a\tb").is_err());
        assert!(Code::new(&"x".repeat(41)).is_err());
    }
}
