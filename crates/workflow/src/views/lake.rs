use serde::Serialize;
use utoipa::ToSchema;

/// The book as the first page needs it.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BookView {
    /// Name of the lake.
    pub name: String,
    /// `us` or `metric`.
    pub units: String,
    /// State or region code; empty when none.
    pub region: String,
    /// County; empty when none.
    pub county: String,
    /// The state's number of the water body; empty when none.
    pub water_body_number: String,
    /// File name of the book.
    pub file: String,
    /// What the depths count from.
    pub depth_datum: String,
    /// Last write, RFC 3339 in UTC; none in a new book.
    pub last_write: Option<String>,
    /// Surveys, newest first.
    pub surveys: Vec<super::SurveyView>,
    /// The program's version.
    pub version: String,
}

/// Measures of the whole lake.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct LakeView {
    /// Name of the lake.
    pub name: String,
    /// Area on the ellipsoid, islands left out.
    pub area_m2: f64,
    /// Length of all shores, islands' included.
    pub perimeter_m: f64,
    /// Length of the outer shore alone.
    pub perimeter_outer_m: f64,
    /// Number of islands.
    pub island_count: usize,
    /// Each island.
    pub islands: Vec<IslandView>,
    /// Shoreline development, all shores.
    pub shoreline_development: f64,
    /// Longest straight line over water.
    pub max_length_m: Option<f64>,
    /// Longest straight line over water in four directions.
    pub fetch_m: Option<FetchView>,
    /// Greatest depth; none without depths.
    pub max_depth_m: Option<f64>,
    /// Volume by area.
    pub mean_depth_m: Option<f64>,
    /// Volume.
    pub volume_m3: Option<f64>,
    /// Greatest depth as a share of the mean diameter, percent.
    pub relative_depth: Option<f64>,
    /// How the volume was computed: `grid`, `frustum`, `trapezoid`.
    pub rule: Option<String>,
    /// Interpolation between the depths.
    pub interpolation: Option<String>,
    /// Number of depths the model rests on.
    pub soundings: usize,
    /// Where the depths come from, in words.
    pub depth_source: Option<String>,
    /// How far the model is off, by leaving depths out.
    pub error: Option<DepthErrorView>,
    /// Area and volume by depth.
    pub hypsography: Vec<HypsographyRow>,
    /// The littoral zone.
    pub littoral: Option<LittoralView>,
    /// Zones.
    pub zones: Vec<ZoneView>,
    /// System the computation was done in, `EPSG:n`.
    pub crs: String,
}

/// An island.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct IslandView {
    /// Area on the ellipsoid.
    pub area_m2: f64,
    /// Length of its shore.
    pub perimeter_m: f64,
}

/// Fetch by direction.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FetchView {
    /// South to north.
    pub n: f64,
    /// South-west to north-east.
    pub ne: f64,
    /// West to east.
    pub e: f64,
    /// North-west to south-east.
    pub se: f64,
}

/// Error of the depth model.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DepthErrorView {
    /// How it was found.
    pub method: String,
    /// Mean absolute error.
    pub mean_m: f64,
    /// 95 of 100 are closer than this.
    pub p95_m: f64,
}

/// A row of the hypsographic table.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct HypsographyRow {
    /// Depth.
    pub depth_m: f64,
    /// Area at least this deep.
    pub area_m2: f64,
    /// Volume below this depth.
    pub volume_below_m3: f64,
}

/// The littoral zone.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct LittoralView {
    /// Shallow limit.
    pub min_depth_m: f64,
    /// Deep limit.
    pub max_depth_m: f64,
    /// Area between the limits.
    pub area_m2: f64,
}

/// A zone with its measures.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ZoneView {
    /// Code.
    pub code: String,
    /// Name.
    pub name: String,
    /// Area.
    pub area_m2: f64,
    /// Area within the littoral limits.
    pub littoral_area_m2: Option<f64>,
    /// Length of the lake's shore in the zone.
    pub shore_m: Option<f64>,
    /// Mean depth.
    pub mean_depth_m: Option<f64>,
    /// Volume.
    pub volume_m3: Option<f64>,
    /// Sub-areas in it.
    pub sub_areas: usize,
    /// `none` or `conservation`.
    pub protection: String,
}

/// The lake as a drawing, in metres of the working system.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct MapView {
    /// Working system, `EPSG:n`.
    pub crs: String,
    /// West, south, east, north.
    pub extent: [f64; 4],
    /// GeoJSON geometry of the lake, islands as holes.
    #[schema(value_type = Object)]
    pub outline: serde_json::Value,
    /// Depth bands, shallow first.
    pub bands: Vec<BandView>,
    /// Contours.
    pub contours: Vec<ContourView>,
    /// Zones.
    pub zones: Vec<ShapeView>,
    /// Sub-areas.
    pub sub_areas: Vec<ShapeView>,
    /// Treatments.
    pub treatments: Vec<ShapeView>,
    /// Landmarks, launches and hazards.
    pub landmarks: Vec<LandmarkView>,
    /// Greatest depth, `[x, y, depth_m]`.
    pub deepest: Option<[f64; 3]>,
}

/// Water between two depths.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BandView {
    /// Shallow side.
    pub from_m: f64,
    /// Deep side; none for the deepest band.
    pub to_m: Option<f64>,
    /// GeoJSON geometry.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
}

/// A line of equal depth.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ContourView {
    /// Depth.
    pub depth_m: f64,
    /// GeoJSON geometry.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
}

/// A zone, sub-area or treatment as a shape.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ShapeView {
    /// Code.
    pub code: String,
    /// Name; empty when none.
    pub name: String,
    /// Code of the zone a sub-area belongs to.
    pub zone: Option<String>,
    /// `none` or `conservation`.
    pub protection: String,
    /// Where a label stands, `[x, y]`.
    pub label: [f64; 2],
    /// GeoJSON geometry.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
}

/// A named place.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct LandmarkView {
    /// Name.
    pub name: String,
    /// `landmark`, `launch` or `hazard`.
    pub kind: String,
    /// East.
    pub x: f64,
    /// North.
    pub y: f64,
}
