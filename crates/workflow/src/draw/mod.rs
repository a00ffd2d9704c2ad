//! The lake drawn by hand: outline, islands, zones, sub-areas, places, contours, each change one
//! save with a note, so that it can be taken back.
//!
//! Shapes come and go in metres of the working system. A corner that nobody moved keeps its
//! longitude and latitude to the last bit: the place it had before is looked up, not computed back.

mod change;
mod corner;
mod islands;
mod parting;
mod places;
mod shape;
mod view;

pub use change::{delete_area, put_area, put_outline};
pub use corner::change_corner;
pub use islands::{add_island, fill_island};
pub use parting::split_area;
pub use places::{delete_contours, delete_landmark, put_landmark, redo, trace_contours, undo};
pub use view::{check_seen, draw_view, measure, place_view};

use serde::Deserialize;
use utoipa::ToSchema;

/// A place to be told both ways.
#[derive(Debug, Clone, Copy)]
pub enum PlaceAsk {
    /// East and north in metres of the working system.
    Metres(f64, f64),
    /// Degrees, WGS 84.
    Degrees {
        /// East.
        longitude: f64,
        /// North.
        latitude: f64,
    },
}

/// A zone or a sub-area as drawn.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct AreaAsk {
    /// `zone` or `sub-area`.
    pub kind: String,
    /// Its code.
    pub code: String,
    /// Its name.
    #[serde(default)]
    pub name: String,
    /// `none` or `conservation`.
    #[serde(default)]
    pub protection: String,
    /// What may be done there, in words.
    #[serde(default)]
    pub rule: String,
    /// Year it was first used.
    #[serde(default)]
    pub since: Option<i16>,
    /// Year it was last used.
    #[serde(default)]
    pub until: Option<i16>,
    /// Code of the zone a sub-area belongs to; the zone it lies in when not said.
    #[serde(default)]
    pub zone: Option<String>,
    /// GeoJSON geometry in metres of the working system; the one it has when not said.
    #[schema(value_type = Option<Object>)]
    #[serde(default)]
    pub geometry: Option<serde_json::Value>,
    /// The version the editor saw; an edit made from an older one is refused.
    #[serde(default)]
    pub version: Option<String>,
}

/// A geometry alone.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct GeometryAsk {
    /// GeoJSON geometry in metres of the working system.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
    /// Code of the area it belongs to, when it is there already.
    #[serde(default)]
    pub code: Option<String>,
    /// Longitude and latitude of a place on the lake, for the first outline of one without a scanned
    /// map: the metres are those of the UTM zone there.
    #[serde(default)]
    pub near: Option<[f64; 2]>,
}

/// An area to be parted by a line.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct SplitAsk {
    /// The line, `[x, y]` in metres of the working system.
    pub line: Vec<[f64; 2]>,
    /// Code of the part cut off; the next free one when not said.
    #[serde(default)]
    pub code: Option<String>,
    /// Surveys made before keep the zone whole; so when not said.
    #[serde(default)]
    pub keep_past: Option<bool>,
}

/// A corner to be moved, put in or taken out, in every shape that has it.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct CornerAsk {
    /// `move`, `insert` or `delete`.
    pub action: String,
    /// The corner, or for `insert` the place on an edge.
    pub at: [f64; 2],
    /// Where it moves, or where the new corner goes.
    #[serde(default)]
    pub to: Option<[f64; 2]>,
    /// `areas`, the zones and sub-areas, or `outline`; both when not said.
    #[serde(default)]
    pub of: Option<String>,
}

/// The save to be taken back, as the page knows it.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct UndoAsk {
    /// Its note.
    pub note: String,
}

/// A place on or by the lake.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct LandmarkAsk {
    /// Its name.
    pub name: String,
    /// `landmark`, `launch` or `hazard`.
    pub kind: String,
    /// Where, `[x, y]` in metres of the working system.
    pub at: [f64; 2],
}

/// A contour as traced.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct TracedContour {
    /// Its depth.
    pub depth_m: f64,
    /// The line, `[x, y]` in metres of the working system.
    pub line: Vec<[f64; 2]>,
}

/// Contours as traced, to be data.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct ContoursAsk {
    /// What they are called among the depths.
    pub name: String,
    /// The contours.
    pub contours: Vec<TracedContour>,
}
