use std::fmt;
use workflow::views::{
    BookView, CheckView, CompareView, FindingsView, LakeView, MapView, SurveySitesView, SurveyView,
};

/// Whoever answers: one lake book, one method a question.
///
/// Methods may block; they run on threads of their own.
pub trait Desk: Send + Sync + 'static {
    /// The book as the first page needs it.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn book(&self) -> Result<BookView, DeskError>;

    /// Measures of the lake.
    ///
    /// # Errors
    /// When the book has no outline yet or cannot be read.
    fn lake(&self) -> Result<LakeView, DeskError>;

    /// The lake as a drawing.
    ///
    /// # Errors
    /// When the book has no outline yet or cannot be read.
    fn map(&self) -> Result<MapView, DeskError>;

    /// The surveys, newest first.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn surveys(&self) -> Result<Vec<SurveyView>, DeskError>;

    /// The sites of a survey with what came of them.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn sites(&self, survey: &str) -> Result<SurveySitesView, DeskError>;

    /// What a survey says.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn findings(&self, survey: &str) -> Result<FindingsView, DeskError>;

    /// What the check of a survey finds.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn check(&self, survey: &str) -> Result<Vec<CheckView>, DeskError>;

    /// Two surveys side by side.
    ///
    /// # Errors
    /// When one of them is not there, or both are the same.
    fn compare(&self, from: &str, to: &str) -> Result<CompareView, DeskError>;

    /// A print of a survey.
    ///
    /// # Errors
    /// When there is no survey of that name or nothing to print.
    fn print(&self, survey: &str, kind: PrintKind) -> Result<Download, DeskError>;

    /// A survey in an open format.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn export(&self, survey: &str, format: ExportFormat) -> Result<Download, DeskError>;
}

/// What can be printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PrintKind {
    /// Field sheets.
    Sheets,
    /// Map of the sites.
    Map,
    /// The report.
    Report,
}

impl PrintKind {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Sheets, Self::Map, Self::Report];

    /// The word in the address.
    pub fn key(self) -> &'static str {
        match self {
            Self::Sheets => "sheets",
            Self::Map => "map",
            Self::Report => "report",
        }
    }
}

/// What a survey can be exported as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ExportFormat {
    /// Comma-separated table.
    Csv,
    /// GeoJSON, RFC 7946.
    GeoJson,
    /// GPX 1.1 waypoints.
    Gpx,
}

impl ExportFormat {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Csv, Self::GeoJson, Self::Gpx];

    /// The word in the address.
    pub fn key(self) -> &'static str {
        match self {
            Self::Csv => "csv",
            Self::GeoJson => "geojson",
            Self::Gpx => "gpx",
        }
    }
}

/// A file to hand out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Download {
    /// Name it is kept under, without a folder.
    pub file_name: String,
    /// Media type.
    pub content_type: String,
    /// Content.
    pub bytes: Vec<u8>,
}

/// Whose doing an error is; decides the status.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DeskErrorKind {
    /// What was asked for is not in the book.
    NotFound,
    /// The question cannot be answered as put.
    BadRequest,
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

    /// Our fault; the message is for the log.
    pub fn internal(message: impl Into<String>) -> Self {
        Self { kind: DeskErrorKind::Internal, message: message.into(), hint: String::new() }
    }
}
