use super::DeskError;
use workflow::views::{CompareView, FindingsView};

/// What surveys say.
pub trait FindingsDesk: Send + Sync + 'static {
    /// What a survey says.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn findings(&self, survey: &str) -> Result<FindingsView, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// Two surveys side by side.
    ///
    /// # Errors
    /// When one of them is not there, or both are the same.
    fn compare(&self, from: &str, to: &str) -> Result<CompareView, DeskError> {
        let _ = (from, to);
        Err(DeskError::unanswered())
    }
}
