use super::DeskError;
use workflow::route::RouteWords;
use workflow::views::RouteView;

/// Effort, layouts and routes.
pub trait PlanDesk: Send + Sync + 'static {
    /// A day on the water.
    ///
    /// # Errors
    /// When there is no survey or launch of that name, or a word of the request is none.
    fn route(&self, words: &RouteWords) -> Result<RouteView, DeskError> {
        let _ = words;
        Err(DeskError::unanswered())
    }
}
