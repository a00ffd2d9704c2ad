use super::DeskError;
use workflow::views::{
    RecordResultView, SaveScale, ScaleStandView, ScalesView, SealView, VerifyView,
};

/// A file of records, and what was said of it.
#[derive(Debug, Clone, Default)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch a person sets")]
pub struct RecordFile {
    /// Its name, without a folder.
    pub name: String,
    /// Its content.
    pub bytes: Vec<u8>,
    /// What its columns mean, as TOML.
    pub columns: String,
    /// Guess what its columns mean, though the book remembers a file of the same kind.
    pub guess_columns: bool,
    /// Sheet of a workbook.
    pub sheet: Option<String>,
    /// Store nothing.
    pub preview: bool,
    /// Key of the rating scale.
    pub scale: Option<String>,
    /// Why it is another scale than the surveys before were rated on.
    pub scale_reason: String,
    /// Make a scale of the ratings found.
    pub new_scale: bool,
    /// Take unseen names as new plants of the lake.
    pub new_taxa: bool,
    /// Unit of depths when the column does not say: `ft` or `m`.
    pub unit: Option<String>,
    /// The day, ISO, when the file has none.
    pub date: Option<String>,
    /// Who is writing.
    pub by: String,
}

/// What became of a file of records.
#[derive(Debug, Clone)]
pub struct RecordedFile {
    /// What was understood, or stored.
    pub result: RecordResultView,
    /// What its columns were taken for, as TOML, for next year.
    pub columns: String,
}

/// Files of records, sites as they come, and the closing of a record.
pub trait PapersDesk: Send + Sync + 'static {
    /// Begins a survey whose sites are written as they come.
    ///
    /// # Errors
    /// When the name is taken, nobody knows the scale, or it is another than the lake's surveys are
    /// rated on and nobody says why.
    fn begin_survey(&self, name: &str, save: &SaveScale, throws: u8) -> Result<(), DeskError> {
        let _ = (name, save, throws);
        Err(DeskError::unanswered())
    }

    /// What a survey that begins now can be rated on.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn scales(&self) -> Result<ScalesView, DeskError> {
        Err(DeskError::unanswered())
    }

    /// How a survey is rated, and what it could be rated on.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn scale(&self, survey: &str) -> Result<ScaleStandView, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// Rates a survey on another scale, or says why it has its own.
    ///
    /// # Errors
    /// When the survey is sealed, no reason is given, or the scale has not all codes written.
    fn change_scale(&self, survey: &str, save: &SaveScale) -> Result<ScaleStandView, DeskError> {
        let _ = (survey, save);
        Err(DeskError::unanswered())
    }

    /// Adds a site known by its code alone.
    ///
    /// # Errors
    /// When the survey is sealed or the code is taken.
    fn add_site(&self, survey: &str, code: &str, by: &str) -> Result<(), DeskError> {
        let _ = (survey, code, by);
        Err(DeskError::unanswered())
    }

    /// Reads a file of records, and stores it unless it is a preview.
    ///
    /// # Errors
    /// All that is wrong with the file, in one message of several lines; then nothing is stored.
    fn record_file(&self, survey: &str, file: &RecordFile) -> Result<RecordedFile, DeskError> {
        let _ = (survey, file);
        Err(DeskError::unanswered())
    }

    /// Closes a record.
    ///
    /// # Errors
    /// When faults are open and no reason is given, or it is closed already.
    fn seal(&self, survey: &str, by: &str, despite: Option<&str>) -> Result<SealView, DeskError> {
        let _ = (survey, by, despite);
        Err(DeskError::unanswered())
    }

    /// Recomputes every seal and the chain of the log.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn verify(&self) -> Result<VerifyView, DeskError> {
        Err(DeskError::unanswered())
    }
}
