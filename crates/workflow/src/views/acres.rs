use super::EstimateView;
use serde::Serialize;
use utoipa::ToSchema;

/// How much water a taxon stands in.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AcresView {
    /// Code of the taxon; `any` for all plants together.
    pub code: String,
    /// Code of the zone; none for the whole.
    pub zone: Option<String>,
    /// Water it stands in; none when no point lies there: cannot tell.
    pub area_m2: Option<f64>,
    /// Lower limit.
    pub low_m2: Option<f64>,
    /// Upper limit.
    pub high_m2: Option<f64>,
    /// `nearest points` or `sub-areas`.
    pub method: String,
    /// Water of the zone, or area of its sub-areas.
    pub water_m2: f64,
    /// Points or sub-areas looked at.
    pub looked_at: usize,
    /// Of these, with the taxon.
    pub found: usize,
    /// The same by rating.
    pub by_rating: Vec<RatingAreaView>,
    /// Area covered by the plant itself, where the scale says what cover a step stands for.
    pub covered_m2: Option<EstimateView>,
}

/// Area under one rating.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RatingAreaView {
    /// Code of the step; empty for finds without a rating.
    pub code: String,
    /// Area.
    pub area_m2: f64,
}

/// Surface beds as drawn.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BedsView {
    /// Code of the taxon.
    pub code: String,
    /// Code of the zone; none over all.
    pub zone: Option<String>,
    /// Area of beds with a drawn edge, overlaps counted once.
    pub area_m2: f64,
    /// Drawings that reach into it.
    pub drawings: usize,
    /// Beds noted without an edge, in no area; over all only.
    pub not_drawn: usize,
}

/// A taxon on the shore.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ShoreView {
    /// Code of the taxon.
    pub code: String,
    /// Code of the zone; none over all.
    pub zone: Option<String>,
    /// Places on the shore with it.
    pub places: usize,
    /// Of these without a position, in no length.
    pub not_placed: usize,
    /// Shortest stretch of shore that holds all its places there, metres; 0 for one place alone, none
    /// without an outline or a position.
    pub stretch_m: Option<f64>,
    /// Length of the shore there; none without an outline.
    pub shore_m: Option<f64>,
}

/// A map of the chance of a taxon over the water.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ExtentView {
    /// Survey.
    pub survey: String,
    /// Code of the taxon; `any` for all plants together.
    pub code: String,
    /// What it is called.
    pub name: String,
    /// `indicator kriging`, or `nearest points` where there are too few points for it.
    pub method: String,
    /// Why it was not kriged; empty when it was.
    pub why_not: String,
    /// Which water it covers: all of it, or to the depth sites were laid to.
    pub water: String,
    /// System of the coordinates, `EPSG:n`.
    pub crs: String,
    /// Side of a cell.
    pub cell_side_m: f64,
    /// Cells as `[x, y, chance, standard error of the chance]`, their middles in metres of the working
    /// system; empty when not kriged.
    pub cells: Vec<[f64; 4]>,
    /// Fitted variogram; none when not kriged.
    pub variogram: Option<VariogramView>,
    /// Extent, whole lake first, then by zone.
    pub zones: Vec<AcresView>,
    /// The points the map rests on.
    pub points: Vec<ExtentPointView>,
    /// Points that lie in no water, left out.
    pub outside: usize,
    /// Anchor in `docs/methods.md`.
    pub anchor: String,
}

/// How unlike points are at a distance: `nugget + partial·(1 − e^(−3h/range))`.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct VariogramView {
    /// Unlikeness at one place.
    pub nugget: f64,
    /// What distance adds.
    pub partial: f64,
    /// Distance at which 95 % of it is reached.
    pub range_m: f64,
}

/// A sampled point.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ExtentPointView {
    /// Code of the site.
    pub code: String,
    /// East.
    pub x: f64,
    /// North.
    pub y: f64,
    /// Whether the taxon came up there.
    pub found: bool,
    /// Code of its rating, when rated.
    pub rating: Option<String>,
}
