use serde::Serialize;
use utoipa::ToSchema;

/// A plan: as laid, or as it would be laid.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PlanView {
    /// Survey; empty for a look at a plan that is not kept.
    pub survey: String,
    /// True once it is kept in the book.
    pub stored: bool,
    /// Layout.
    pub layout: String,
    /// Everything that lays it again: seed, origin, turn, limits.
    pub parameters: Vec<ParameterView>,
    /// Sites in the order of the plan; spares last, in the order they are used.
    pub sites: Vec<PlannedSiteView>,
    /// Parts the sites stand for; empty for layouts of points.
    pub parts: Vec<PlanPartView>,
    /// Sites that are neither spare nor dropped.
    pub count: usize,
    /// Spares.
    pub spares: usize,
    /// Sites by zone, in the order of the zones; sites in no zone last.
    pub by_zone: Vec<ZoneCountView>,
    /// Sites by band of the map's depths, shallow first; sites of unknown depth last.
    pub by_depth: Vec<PlanDepthView>,
    /// Voronoi balance of the sites, 0 is perfect; simple random samples lie near 0.34.
    pub balance: Option<f64>,
    /// Water the sites may lie in.
    pub area_m2: f64,
    /// Hours on the water for one crew: launching, sites, throws, and a good way between them in straight lines.
    pub hours: f64,
    /// The plan in a sentence.
    pub sentence: String,
    /// What was changed by hand since it was laid, oldest first.
    pub changes: Vec<SiteChangeView>,
    /// What the user should know.
    pub warnings: Vec<String>,
}

/// A parameter of a layout.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ParameterView {
    /// Name, with the SI unit where it has one.
    pub name: String,
    /// Value.
    pub value: String,
}

/// A piece of water a site stands for.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PlanPartView {
    /// Code.
    pub code: String,
    /// Zone.
    pub zone: Option<String>,
    /// Area.
    pub area_m2: f64,
    /// Length of its shore, for shore sections.
    pub shore_m: Option<f64>,
    /// GeoJSON geometry in metres of the working system, as on the map.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
}

/// A planned site.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PlannedSiteView {
    /// Code.
    pub code: String,
    /// Longitude.
    pub lon: Option<f64>,
    /// Latitude.
    pub lat: Option<f64>,
    /// East in the working system, as on the map.
    pub x: Option<f64>,
    /// North in the working system.
    pub y: Option<f64>,
    /// Zone.
    pub zone: Option<String>,
    /// Part it stands for.
    pub part: Option<String>,
    /// Nearest landmark, when it stands for the position.
    pub landmark: String,
    /// Depth by the map.
    pub depth_m: Option<f64>,
    /// Chance of being chosen.
    pub inclusion_probability: Option<f64>,
    /// Kept in reserve.
    pub spare: bool,
    /// Why it was dropped and by whom; none for a site that stands.
    pub dropped: Option<String>,
    /// Visited, so it can no longer be changed.
    pub visited: bool,
    /// Panel of a rotating survey: 0 every year, 1, 2 … in turn.
    pub panel: Option<u16>,
}

/// Sites of a zone.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ZoneCountView {
    /// Code; none for water in no zone.
    pub zone: Option<String>,
    /// Sites that are neither spare nor dropped.
    pub sites: usize,
}

/// Sites of a band of depth.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PlanDepthView {
    /// Shallow side; none where the depth is not known.
    pub from_m: Option<f64>,
    /// Deep side; none for the deepest band.
    pub to_m: Option<f64>,
    /// Sites that are neither spare nor dropped.
    pub sites: usize,
}

/// A change to a planned site.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SiteChangeView {
    /// Code of the site.
    pub code: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// Who was at the keyboard.
    pub actor: String,
    /// What was done, by whom and why.
    pub note: String,
}
