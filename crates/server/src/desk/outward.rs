use super::DeskError;

pub use workflow::print::{Look, PrintKind};

/// What leaves the book: papers and files.
pub trait OutwardDesk: Send + Sync + 'static {
    /// A print: of a survey, or of the lake alone.
    ///
    /// # Errors
    /// When there is no survey of that name or nothing to print.
    fn print(
        &self,
        survey: Option<&str>,
        kind: PrintKind,
        look: Look,
    ) -> Result<Download, DeskError> {
        let _ = (survey, kind, look);
        Err(DeskError::unanswered())
    }

    /// All papers of a survey's day and the files for GPS units, as one archive.
    ///
    /// # Errors
    /// As [`OutwardDesk::print`].
    fn packet(&self, survey: &str, look: Look) -> Result<Download, DeskError> {
        let _ = (survey, look);
        Err(DeskError::unanswered())
    }

    /// The kit list, one thing a line.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn kit(&self) -> Result<String, DeskError> {
        Err(DeskError::unanswered())
    }

    /// Makes the kit list the lake's own; an empty text goes back to the usual one.
    ///
    /// # Errors
    /// When the text has no thing in it, or the book cannot be written.
    fn keep_kit(&self, text: &str) -> Result<String, DeskError> {
        let _ = text;
        Err(DeskError::unanswered())
    }

    /// A survey in an open format.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn export(&self, survey: &str, format: ExportFormat) -> Result<Download, DeskError> {
        let _ = (survey, format);
        Err(DeskError::unanswered())
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
