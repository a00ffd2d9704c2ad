//! The site map: one page to take along.

use crate::draw::MapData;

/// A one-page map of the sites.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteMap {
    /// The lake's name.
    pub lake: String,
    /// The survey's name; may be empty for a map without a survey.
    pub survey: String,
    /// The lake, with its sites marked [`crate::draw::Mark::Planned`] or as they were found.
    pub map: MapData,
    /// What depths are measured from, as in "full pool, 812.4 ft".
    pub depth_reference: String,
    /// Notes on sources and accuracy, one sentence each.
    pub notes: Vec<String>,
}
