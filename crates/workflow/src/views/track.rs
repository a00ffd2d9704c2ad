use serde::Serialize;
use utoipa::ToSchema;

/// A track against the plan.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrackView {
    /// Survey.
    pub survey: String,
    /// Name of the file.
    pub file: String,
    /// Points of the track.
    pub points: usize,
    /// Waypoints.
    pub waypoints: usize,
    /// First hour, local time, ISO.
    pub start: Option<String>,
    /// Last hour.
    pub end: Option<String>,
    /// A boat this near was at the site.
    pub within_m: f64,
    /// Each planned site, in the order of the plan.
    pub sites: Vec<TrackSiteView>,
    /// Codes of the sites the boat did not come to; spares are not missed.
    pub missed: Vec<String>,
    /// Visits that got their position from the track.
    pub stored: usize,
    /// Visits that have no position of their own and would get the boat's.
    pub without_position: usize,
    /// The boat's way on the map, metres east and north, a line for each stretch the receiver was on.
    pub ways: Vec<Vec<[f64; 2]>>,
    /// What the user should know.
    pub warnings: Vec<String>,
}

/// What a track says of a site.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrackSiteView {
    /// Code.
    pub code: String,
    /// Nearest the boat came.
    pub nearest_m: Option<f64>,
    /// How far from the plan the boat worked.
    pub off_m: Option<f64>,
    /// Where the boat was.
    pub lon: Option<f64>,
    /// Where the boat was.
    pub lat: Option<f64>,
    /// Where the boat was on the map, metres east.
    pub x: Option<f64>,
    /// Where the boat was on the map, metres north.
    pub y: Option<f64>,
    /// When it came, local time, ISO.
    pub arrive: Option<String>,
    /// Minutes it stayed.
    pub minutes: Option<f64>,
    /// True when the crew marked a waypoint of that name.
    pub marked: bool,
    /// True when it did not come.
    pub missed: bool,
}

/// Field sheets read back.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SheetScanView {
    /// Survey.
    pub survey: String,
    /// Sheet as printed: a number, `S1` for a spare.
    pub sheet: String,
    /// Number of sheets it was printed with.
    pub sheets: u32,
    /// Codes of its rows.
    pub sites: Vec<String>,
    /// Name of the picture's file.
    pub file: String,
    /// SHA-256 of the picture's file.
    pub sha256: String,
    /// True when the book had it before.
    pub known: bool,
    /// What the user should know.
    pub warnings: Vec<String>,
}
