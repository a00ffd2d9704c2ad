use super::BackgroundView;
use serde::Serialize;
use utoipa::ToSchema;

/// All that can be drawn, in metres of the working system, with every corner.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DrawView {
    /// Working system, `EPSG:n`.
    pub crs: String,
    /// West, south, east, north of the lake, or of the first scanned map when there is no shore.
    pub extent: Option<[f64; 4]>,
    /// GeoJSON geometry of the water, islands as holes.
    #[schema(value_type = Option<Object>)]
    pub outline: Option<serde_json::Value>,
    /// Zones and sub-areas.
    pub areas: Vec<DrawnAreaView>,
    /// Landmarks, launches and hazards.
    pub landmarks: Vec<DrawnLandmarkView>,
    /// What looks wrong between the zones.
    pub flags: Vec<FlagView>,
    /// Scanned maps.
    pub backgrounds: Vec<BackgroundView>,
    /// Contours the depths rest on.
    pub contours: Vec<DrawnContourView>,
    /// Note of the save that is taken back next.
    pub last_change: Option<String>,
    /// Note of the save that was taken back and can be made again.
    pub next_redo: Option<String>,
    /// Version of the drawing, to be sent back with a change as `if-match`.
    pub version: String,
    /// Year of the last survey that was made.
    pub surveyed: Option<i16>,
}

/// A zone or a sub-area.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DrawnAreaView {
    /// Key.
    pub id: String,
    /// `zone` or `sub-area`.
    pub kind: String,
    /// Code.
    pub code: String,
    /// Name; empty when none.
    pub name: String,
    /// `none` or `conservation`.
    pub protection: String,
    /// What may be done there, in words.
    pub rule: String,
    /// Year it was first used.
    pub since: Option<i16>,
    /// Code of the zone a sub-area belongs to.
    pub zone: Option<String>,
    /// Area on the ground.
    pub area_m2: f64,
    /// Version, to be sent back with a change.
    pub version: String,
    /// GeoJSON geometry.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
}

/// A contour among the depths.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DrawnContourView {
    /// SHA-256 of the depths it came with.
    pub data_set: String,
    /// Name of the file or tracing it came with.
    pub source: String,
    /// How many contours came with it, this one counted.
    pub of: usize,
    /// Depth.
    pub depth_m: f64,
    /// GeoJSON geometry.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
}

/// A place on Earth.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PlaceView {
    /// Degrees east, WGS 84.
    pub longitude: f64,
    /// Degrees north, WGS 84.
    pub latitude: f64,
    /// East, metres of the working system.
    pub x: f64,
    /// North, metres of the working system.
    pub y: f64,
}

/// A named place.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DrawnLandmarkView {
    /// Key.
    pub id: String,
    /// Name.
    pub name: String,
    /// `landmark`, `launch` or `hazard`.
    pub kind: String,
    /// `[x, y]`.
    pub at: [f64; 2],
}

/// Something between areas that is seldom meant.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FlagView {
    /// `overlap`, `gap` or `out-of-lake`.
    pub kind: String,
    /// The areas concerned.
    pub codes: Vec<String>,
    /// How much.
    pub area_m2: f64,
    /// Where, `[x, y]`.
    pub at: [f64; 2],
}

/// What a shape would measure.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct MeasureView {
    /// Area of its water.
    pub area_m2: f64,
    /// Area within the littoral limits; none without depths.
    pub littoral_area_m2: Option<f64>,
    /// Length of the lake's shore in it.
    pub shore_m: Option<f64>,
    /// Mean depth.
    pub mean_depth_m: Option<f64>,
    /// Volume.
    pub volume_m3: Option<f64>,
    /// What would be wrong with it.
    pub flags: Vec<FlagView>,
}
