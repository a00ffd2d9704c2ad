//! What is wrong with a file, in words that tell a volunteer what to do.

use std::fmt;
use std::path::Path;

/// How many faults are printed before the rest are only counted.
const PRINTED: usize = 20;
/// How much of a found value is printed.
const FOUND_CHARACTERS: usize = 60;

/// One thing wrong in one place of one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The file's name as a person knows it.
    pub file: String,
    /// Row as a spreadsheet numbers it, from 1; for a map layer the number of the feature; for
    /// text that is not a table the line.
    pub row: Option<usize>,
    /// Name of the column or member.
    pub field: Option<String>,
    /// What stood there.
    pub found: Option<String>,
    /// What should have stood there; completes "expected …".
    pub expected: String,
    /// What to do.
    pub hint: Option<String>,
}

impl Fault {
    /// A fault of the whole file.
    pub fn file(file: &str, expected: impl Into<String>) -> Self {
        Self {
            file: file.to_owned(),
            row: None,
            field: None,
            found: None,
            expected: expected.into(),
            hint: None,
        }
    }

    /// At this row.
    pub fn at(mut self, row: usize) -> Self {
        self.row = Some(row);
        self
    }

    /// In this field.
    pub fn field(mut self, field: impl Into<String>) -> Self {
        self.field = Some(field.into());
        self
    }

    /// With this found there.
    pub fn found(mut self, found: impl Into<String>) -> Self {
        self.found = Some(found.into());
        self
    }

    /// And this to do.
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

impl fmt::Display for Fault {
    /// One line, without the hint.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}`", one_line(&self.file))?;
        if let Some(row) = self.row {
            write!(f, " row {row}")?;
        }
        if let Some(field) = &self.field {
            write!(f, ", field `{}`", one_line(field))?;
        }
        match &self.found {
            Some(found) if found.trim().is_empty() => {
                write!(f, ": found nothing, expected {}", self.expected)
            }
            Some(found) => write!(f, ": found `{}`, expected {}", one_line(found), self.expected),
            None => write!(f, ": expected {}", self.expected),
        }
    }
}

/// Text fit for one line of a message: no control characters, not too long.
fn one_line(text: &str) -> String {
    let mut short: String =
        text.chars().take(FOUND_CHARACTERS).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(FOUND_CHARACTERS).is_some() {
        short.push('…');
    }
    short
}

/// All faults of one file. A file with any is refused whole.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Faults(pub Vec<Fault>);

impl Faults {
    /// A single fault.
    pub fn one(fault: Fault) -> Self {
        Self(vec![fault])
    }

    /// `value` when nothing was wrong, all faults otherwise.
    ///
    /// # Errors
    /// The faults themselves.
    pub fn or<T>(self, value: T) -> Result<T, Self> {
        if self.0.is_empty() { Ok(value) } else { Err(self) }
    }

    /// Adds one.
    pub fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }
}

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Self {
        Self::one(fault)
    }
}

impl fmt::Display for Faults {
    /// A line a fault, the first twenty, then how many more; after them each different hint once.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.0.iter().take(PRINTED).enumerate() {
            if index > 0 {
                writeln!(f)?;
            }
            write!(f, "{fault}")?;
        }
        if self.0.len() > PRINTED {
            write!(f, "\nand {} more", self.0.len() - PRINTED)?;
        }
        let mut told: Vec<&str> = Vec::new();
        for hint in self.0.iter().take(PRINTED).filter_map(|fault| fault.hint.as_deref()) {
            if !told.contains(&hint) {
                write!(f, "\nhint: {hint}")?;
                told.push(hint);
            }
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}

/// The name a person knows a file by: its last part.
pub(crate) fn file_name(path: &Path) -> String {
    path.file_name()
        .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_names_file_row_field_value_and_what_was_expected() {
        let fault = Fault::file("points.csv", "a depth such as `6.5`")
            .at(14)
            .field("Depth_ft")
            .found("deep\n")
            .hint("write the number alone");
        assert_eq!(
            Faults::one(fault).to_string(),
            "`points.csv` row 14, field `Depth_ft`: found `deep `, expected a depth such as `6.5`\n\
             hint: write the number alone"
        );
    }

    #[test]
    fn many_faults_are_counted_after_the_twentieth_and_hints_are_told_once() {
        let all = Faults(
            (1..=23).map(|row| Fault::file("a.csv", "a date").at(row).hint("use ISO")).collect(),
        );
        let text = all.to_string();
        assert_eq!(text.lines().count(), 22);
        assert!(text.contains("row 20:") && !text.contains("row 21:"), "{text}");
        assert!(text.ends_with("and 3 more\nhint: use ISO"), "{text}");
    }
}
