use crate::{Code, SiteId, SurveyId};
use units::{LonLat, Metres};

/// A place where one survey means to throw the rake.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Key.
    pub id: SiteId,
    /// The survey that planned it.
    pub survey: SurveyId,
    /// Label on sheet, map and GPS; unique in the survey. Surveys that share a code share a place.
    pub code: Code,
    /// Where it was planned; none for a place known only by name.
    pub planned: Option<LonLat>,
    /// Depth the map gives there.
    pub map_depth: Option<Metres>,
    /// Code of the zone it lies in.
    pub zone: Option<Code>,
    /// Code of the sub-area it lies in.
    pub sub_area: Option<Code>,
    /// Nearest landmark, when it stands for the position.
    pub landmark: String,
    /// Rank in the order of the plan, from 0.
    pub rank: u32,
    /// Chance of being chosen, when the layout was a probability sample.
    pub inclusion_probability: Option<f64>,
    /// Kept in reserve for a site that cannot be reached.
    pub spare: bool,
    /// Taken out of the plan: why and by whom. It stays on record, and its code is never given to another site.
    pub dropped: Option<String>,
}

impl Site {
    /// True for a site the crew is to visit: neither in reserve nor dropped.
    pub const fn stands(&self) -> bool {
        !self.spare && self.dropped.is_none()
    }
}
