use std::fmt;

/// Whose doing an error is; decides the status.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DeskErrorKind {
    /// What was asked for is not in the book.
    NotFound,
    /// The question cannot be answered as put.
    BadRequest,
    /// The change no longer fits what the book holds: someone else changed it, or it is sealed.
    Conflict,
    /// Our fault, or the disk's: the message goes to the log and not to the browser.
    Internal,
}

/// Why a question was not answered.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct DeskError {
    /// Whose doing.
    pub kind: DeskErrorKind,
    /// What happened, in words for a person; lower case, no final period.
    pub message: String,
    /// What to do; empty when there is nothing.
    pub hint: String,
}

impl fmt::Display for DeskError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl DeskError {
    /// Not in the book.
    pub fn not_found(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { kind: DeskErrorKind::NotFound, message: message.into(), hint: hint.into() }
    }

    /// Cannot be answered as put.
    pub fn bad_request(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { kind: DeskErrorKind::BadRequest, message: message.into(), hint: hint.into() }
    }

    /// The change no longer fits what the book holds.
    pub fn conflict(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { kind: DeskErrorKind::Conflict, message: message.into(), hint: hint.into() }
    }

    /// This desk has no answer to that at all.
    pub fn unanswered() -> Self {
        Self::not_found("this desk does not answer that", "")
    }

    /// Our fault; the message is for the log.
    pub fn internal(message: impl Into<String>) -> Self {
        Self { kind: DeskErrorKind::Internal, message: message.into(), hint: String::new() }
    }
}
