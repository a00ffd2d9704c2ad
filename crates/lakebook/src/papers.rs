//! What the papers need to agree with each other: the route, the lake's own words, sheets read back.

use serde::{Deserialize, Serialize};
use survey::{Id, SurveyId};

/// The route a survey's sheets, GPS files and plan follow.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptRoute {
    /// The survey.
    pub survey: SurveyId,
    /// What was asked, as JSON, so that it can be asked again.
    pub asked: String,
    /// The days, one a boat and day.
    pub boats: Vec<KeptBoat>,
    /// The plan in a sentence.
    pub sentence: String,
}

/// One boat's day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct KeptBoat {
    /// Number of the boat on its day, from 1.
    pub boat: usize,
    /// The day, ISO.
    pub date: String,
    /// Where it leaves.
    pub launch: String,
    /// When it leaves, local time.
    pub start: String,
    /// When it is back.
    pub finish: String,
    /// Its way by water, metres.
    pub length_m: f64,
    /// Minutes out, breaks included.
    pub minutes: f64,
    /// Its sites in order.
    pub stops: Vec<KeptStop>,
    /// Where it ends.
    pub end: String,
    /// The way from the last site to the end, longitude and latitude.
    pub home: Vec<[f64; 2]>,
}

/// A site on a boat's day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct KeptStop {
    /// Code of the site.
    pub code: String,
    /// When the boat comes, local time.
    pub arrive: String,
    /// When it leaves.
    pub leave: String,
    /// The way by water from the place before, longitude and latitude.
    pub way: Vec<[f64; 2]>,
}

/// A field sheet that came back as a picture: evidence for what was typed from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetScan {
    /// Key.
    pub id: Id,
    /// The survey whose sheet it is.
    pub survey: SurveyId,
    /// Number of the sheet.
    pub sheet: u32,
    /// Number of sheets it was printed with.
    pub sheets: u32,
    /// Codes of its rows.
    pub sites: Vec<String>,
    /// Name of the picture's file.
    pub file_name: String,
    /// SHA-256 of the picture's file, its name as a data set of the book.
    pub sha256: String,
    /// Remark.
    pub note: String,
}
