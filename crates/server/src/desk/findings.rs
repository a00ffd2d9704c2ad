use super::DeskError;
use workflow::findings::EfficacyRequest;
use workflow::views::{
    CompareView, EfficacyView, ExtentView, FindingsView, SpreadView, TreatmentView, TrendView,
    TrendsView,
};

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

    /// A map of the chance of a taxon over the water.
    ///
    /// # Errors
    /// When there is no survey or taxon of that name, or no outline.
    fn extent(&self, survey: &str, taxon: &str) -> Result<ExtentView, DeskError> {
        let _ = (survey, taxon);
        Err(DeskError::unanswered())
    }

    /// The treatments of the lake.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn treatments(&self) -> Result<Vec<TreatmentView>, DeskError> {
        Err(DeskError::unanswered())
    }

    /// Whether a treatment worked.
    ///
    /// # Errors
    /// When something named is not there, or surveys stand in the wrong order.
    fn efficacy(&self, request: &EfficacyRequest) -> Result<EfficacyView, DeskError> {
        let _ = request;
        Err(DeskError::unanswered())
    }

    /// A plant over the years; `any` for all plants together.
    ///
    /// # Errors
    /// When there is no such plant on the list.
    fn trend(&self, taxon: &str) -> Result<TrendView, DeskError> {
        let _ = taxon;
        Err(DeskError::unanswered())
    }

    /// Every plant over the years.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn trends(&self) -> Result<TrendsView, DeskError> {
        Err(DeskError::unanswered())
    }

    /// Where a plant moved between two surveys.
    ///
    /// # Errors
    /// When a survey or the plant is not there.
    fn spread(&self, taxon: &str, from: &str, to: &str) -> Result<SpreadView, DeskError> {
        let _ = (taxon, from, to);
        Err(DeskError::unanswered())
    }
}
