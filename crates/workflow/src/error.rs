//! What can go wrong in a step, as a person should read it.

use std::fmt;

/// Whose move it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ErrorKind {
    /// A file, an option or a name has to be put right by the user.
    Input,
    /// The thing asked for is not in the book.
    NotFound,
    /// The change does not fit what the book holds: it is sealed, or someone else changed it.
    Conflict,
    /// The program or the machine failed.
    Fault,
}

/// A step that did not happen. Nothing was changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Error {
    /// Whose move it is.
    pub kind: ErrorKind,
    /// What happened, to which record; may have several lines.
    pub message: String,
    /// A step to take, or a command to run.
    pub hint: Option<String>,
}

/// The result of a step.
pub type Result<T, E = Error> = std::result::Result<T, E>;

impl Error {
    /// Something the user puts right.
    pub fn input(message: impl Into<String>) -> Self {
        Self { kind: ErrorKind::Input, message: message.into(), hint: None }
    }

    /// Something that is not there.
    pub fn not_found(message: impl Into<String>) -> Self {
        Self { kind: ErrorKind::NotFound, message: message.into(), hint: None }
    }

    /// Something that does not fit what the book holds.
    pub fn conflict(message: impl Into<String>) -> Self {
        Self { kind: ErrorKind::Conflict, message: message.into(), hint: None }
    }

    /// Something the program has to answer for.
    pub fn fault(message: impl Into<String>) -> Self {
        Self { kind: ErrorKind::Fault, message: message.into(), hint: None }
    }

    /// Adds the step to take.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)?;
        if let Some(hint) = &self.hint {
            write!(f, "\nhint: {hint}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Error {}

impl From<exchange::Faults> for Error {
    fn from(faults: exchange::Faults) -> Self {
        let text = faults.to_string();
        // the faults print their own hints, where they have any
        match text.split_once("\nhint: ") {
            Some((message, hint)) => Self::input(message).hint(hint),
            None => {
                Self::input(text).hint("correct the file and try again; nothing of it was stored")
            }
        }
    }
}

impl From<lakebook::BookError> for Error {
    fn from(error: lakebook::BookError) -> Self {
        use lakebook::BookError as B;
        let text = error.to_string();
        let (message, hint) = match text.split_once("\nhint: ") {
            Some((message, hint)) => (message.to_owned(), Some(hint.to_owned())),
            None => (text, None),
        };
        let kind = match error {
            B::UnknownSurvey { .. } | B::Unknown { .. } => ErrorKind::NotFound,
            B::Sealed { .. } => ErrorKind::Conflict,
            B::Database { .. } | B::Body { .. } | B::Abandoned { .. } => ErrorKind::Fault,
            _ => ErrorKind::Input,
        };
        Self { kind, message, hint }
    }
}

impl From<sampling::FrameError> for Error {
    fn from(error: sampling::FrameError) -> Self {
        with_hint(&error)
    }
}

impl From<sampling::layouts::LayoutError> for Error {
    fn from(error: sampling::layouts::LayoutError) -> Self {
        let text = error.to_string();
        match text.split_once("\nhint: ") {
            Some((message, hint)) => Self::input(message).hint(hint),
            None => Self::input(text),
        }
    }
}

/// An error whose text carries its own hint after the message.
pub(crate) fn with_hint(error: &impl fmt::Display) -> Error {
    let text = error.to_string();
    match text.split_once("\nhint: ") {
        Some((message, hint)) => Error::input(message).hint(hint),
        None => Error::input(text),
    }
}

#[cfg(test)]
mod tests {
    use super::Error;
    use exchange::{Fault, Faults};

    #[test]
    fn what_is_wrong_with_a_file_and_what_to_do_are_told_apart() {
        let one = |hint: Option<&str>| {
            let fault = Fault::file("a.csv", "a date");
            Error::from(Faults(vec![hint.map_or(fault.clone(), |hint| fault.hint(hint))]))
        };
        let told = one(Some("write the year first"));
        assert_eq!(told.hint.as_deref(), Some("write the year first"));
        assert!(!told.message.contains("hint"), "{}", told.message);
        assert!(told.to_string().ends_with("\nhint: write the year first"));
        assert!(one(None).hint.is_some_and(|hint| hint.contains("nothing of it was stored")));
    }
}
