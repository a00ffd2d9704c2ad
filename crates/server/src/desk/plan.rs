use super::DeskError;
use workflow::effort::{DesignsAsk, EffortAsk};
use workflow::plan::{PlanAsk, SiteAsk};
use workflow::route::RouteWords;
use workflow::views::{DesignsView, EffortView, PlanView, RouteView, TrackView};

/// A track as it is sent.
#[derive(Debug, Clone, PartialEq)]
pub struct TrackFile {
    /// Name of the file.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// A boat this near was at the site, metres; the usual reach when not given.
    pub within_m: Option<f64>,
    /// Write nothing.
    pub preview: bool,
    /// Who sends it.
    pub by: String,
}

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

    /// How many sites a purpose needs.
    ///
    /// # Errors
    /// When the question has no answer: an impossible target, a chance outside 0 to 1.
    fn effort(&self, ask: &EffortAsk) -> Result<EffortView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// Ways to lay the same number of sites, side by side.
    ///
    /// # Errors
    /// When they cannot be compared.
    fn designs(&self, ask: &DesignsAsk) -> Result<DesignsView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// A plan as it would be laid; nothing is kept.
    ///
    /// # Errors
    /// When the sites cannot be laid so.
    fn preview_plan(&self, ask: &PlanAsk) -> Result<PlanView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// The plan of a survey as it stands.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn planned(&self, survey: &str) -> Result<PlanView, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// Moves, drops, restores or adds a site; the plan as it then stands.
    ///
    /// # Errors
    /// When the survey is sealed, the site visited or unknown, or the place on land.
    fn change_site(&self, survey: &str, code: &str, ask: &SiteAsk) -> Result<PlanView, DeskError> {
        let _ = (survey, code, ask);
        Err(DeskError::unanswered())
    }

    /// Lays the sites of a survey and keeps them.
    ///
    /// # Errors
    /// When the sites cannot be laid so, or the survey has sites that stay.
    fn plan(&self, ask: &PlanAsk) -> Result<PlanView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// The route a survey keeps.
    ///
    /// # Errors
    /// When there is no survey of that name, or no route of it.
    fn kept_route(&self, survey: &str) -> Result<RouteView, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// Plans a day and keeps it: sheets and GPS files follow it.
    ///
    /// # Errors
    /// As [`PlanDesk::route`], and when the book cannot be written.
    fn keep_route(&self, words: &RouteWords) -> Result<RouteView, DeskError> {
        let _ = words;
        Err(DeskError::unanswered())
    }

    /// Reads the track of a day against the plan, and writes the boat's positions unless it is a preview.
    ///
    /// # Errors
    /// When the file is no track, or of another year, or there is no survey of that name.
    fn track(&self, survey: &str, file: &TrackFile) -> Result<TrackView, DeskError> {
        let _ = (survey, file);
        Err(DeskError::unanswered())
    }

    /// Forgets the route a survey keeps.
    ///
    /// # Errors
    /// As [`PlanDesk::kept_route`].
    fn forget_route(&self, survey: &str) -> Result<(), DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }
}
