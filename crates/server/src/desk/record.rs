use super::DeskError;
use workflow::views::{CheckView, SurveySitesView, SurveyView};

/// Surveys and what came up in them.
pub trait RecordDesk: Send + Sync + 'static {
    /// The surveys, newest first.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn surveys(&self) -> Result<Vec<SurveyView>, DeskError> {
        Err(DeskError::unanswered())
    }

    /// The sites of a survey with what came of them.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn sites(&self, survey: &str) -> Result<SurveySitesView, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// What the check of a survey finds.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn check(&self, survey: &str) -> Result<Vec<CheckView>, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }
}
