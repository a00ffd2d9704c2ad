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
    /// Level of the water above the reference the depths count from.
    pub level_m: f64,
    /// How area and volume were computed: `grid`, `frustum`, `trapezoid`, `raster-cells`.
    pub rule: Option<String>,
    /// The rules these depths allow.
    pub rules: Vec<String>,
    /// Side of a cell of the depth model.
    pub cell_m: Option<f64>,
    /// Interpolation between the depths.
    pub interpolation: Option<String>,
    /// The interpolation that was tried and not taken, with its mean error left out.
    pub interpolation_not_taken: Option<NotTakenView>,
    /// How steep the bed is.
    pub slope: Option<SlopeView>,
    /// The same between the depths at which the map changes colour.
    pub slope_by_depth: Vec<SlopeBandView>,
    /// How far the water lies from the nearest sounding or contour.
    pub datum_distance: Option<DatumDistanceView>,
    /// What was noticed about the depths.
    pub remarks: Vec<String>,
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
    /// The limits the book keeps, shallow and deep.
    pub own_m: [f64; 2],
    /// How steep the bed is there.
    pub slope: Option<SlopeView>,
    /// Where the deep limit comes from: `depth-range`, `chosen` or `secchi`.
    pub limit: String,
    /// Secchi depth the limit was reckoned from.
    pub secchi_m: Option<f64>,
    /// The regression, and who found it.
    pub regression: Option<RegressionView>,
    /// The upper limit of what was observed, where the source gives one.
    pub upper_limit_m: Option<f64>,
    /// What the other regressions give.
    pub other_regressions: Vec<OtherRegressionView>,
}

/// An interpolation that was tried and not taken.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct NotTakenView {
    /// Its name.
    pub method: String,
    /// Its mean error at depths left out.
    pub mean_m: f64,
}

/// A regression of plants' greatest depth on Secchi depth.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RegressionView {
    /// Its key, e.g. `caffrey-2007`.
    pub key: String,
    /// Who found it, from what.
    pub source: String,
}

/// What another regression gives.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct OtherRegressionView {
    /// Its key.
    pub key: String,
    /// The limit by it.
    pub limit_m: f64,
}

/// The slope of the bed, per cent.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SlopeView {
    /// Mean.
    pub mean_percent: f64,
    /// Half is flatter.
    pub median_percent: f64,
    /// 95 of 100 are flatter.
    pub p95_percent: f64,
    /// Cells of the depth model it was found on.
    pub cells: usize,
}

/// How steep the bed is between two depths.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SlopeBandView {
    /// Shallow side.
    pub from_m: f64,
    /// Deep side; none for the deepest band.
    pub to_m: Option<f64>,
    /// None where no cell has all its neighbours in the water.
    pub slope: Option<SlopeView>,
}

/// Distance to the nearest sounding or contour.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DatumDistanceView {
    /// Mean over the water.
    pub mean_m: f64,
    /// Half of the water is nearer.
    pub median_m: f64,
    /// 95 of 100 parts of the water are nearer.
    pub p95_m: f64,
    /// The farthest place.
    pub most_m: f64,
    /// Where that is, in metres of the working system.
    pub farthest: [f64; 2],
    /// The same in degrees east and north.
    pub farthest_lon_lat: [f64; 2],
    /// How much water lies how far, near first.
    pub bands: Vec<DistanceAreaView>,
}

/// Water between two distances to the nearest sounding or contour.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DistanceAreaView {
    /// Distance it begins at.
    pub from_m: f64,
    /// Distance of the next; none for the farthest.
    pub to_m: Option<f64>,
    /// Area between the two.
    pub area_m2: f64,
}

/// The lake by its distance to the nearest sounding or contour.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DistanceView {
    /// Where it begins to be far: the first step beyond which not more than 5 in 100 parts of the
    /// water lie.
    pub beyond_m: f64,
    /// Near first; the shapes lie on one another.
    pub bands: Vec<DistanceBandView>,
}

/// Water by its distance to the nearest sounding or contour.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DistanceBandView {
    /// Distance it begins at.
    pub from_m: f64,
    /// Distance of the next; none for the farthest.
    pub to_m: Option<f64>,
    /// GeoJSON geometry of all water at least `from_m` away.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
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
    /// What may be done there, in words; empty when nothing is said.
    pub rule: String,
    /// Year it was first used; none for one that was always there.
    pub since: Option<i16>,
    /// Year it was last used; none for one in use.
    pub until: Option<i16>,
}

/// The lake as a drawing, in metres of the working system.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct MapView {
    /// Working system, `EPSG:n`.
    pub crs: String,
    /// Level of the water above the reference the depths count from.
    pub level_m: f64,
    /// West, south, east, north.
    pub extent: [f64; 4],
    /// GeoJSON geometry of the lake, islands as holes.
    #[schema(value_type = Object)]
    pub outline: serde_json::Value,
    /// Depth bands, shallow first.
    pub bands: Vec<BandView>,
    /// Contours.
    pub contours: Vec<ContourView>,
    /// Deep limit of the littoral zone; none where the whole lake is shallower.
    pub limit: Option<ContourView>,
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
