use serde::Serialize;
use utoipa::ToSchema;

/// What adding a file did, or would do.
#[derive(Debug, Clone, Default, Serialize, ToSchema)]
pub struct AddView {
    /// What was added, e.g. `outline`.
    pub kind: String,
    /// Name of the file.
    pub file: String,
    /// True when nothing was stored.
    pub preview: bool,
    /// Reference system of the file, e.g. `EPSG:3071`.
    pub crs: String,
    /// Features or rows read.
    pub read: usize,
    /// Records stored.
    pub stored: usize,
    /// West, south, east, north in degrees.
    pub extent: Option<[f64; 4]>,
    /// The same in metres of the lake's working system, once it has one.
    pub place: Option<[f64; 4]>,
    /// Lines of the file and single places, thinned, when a picture was asked for; in metres of the
    /// lake's working system, or in degrees before it has one.
    pub shapes: Vec<Vec<[f64; 2]>>,
    /// For a raster, when a picture was asked for: middle and depth in metres of every so many cells
    /// under water, places as in `shapes`.
    pub cells: Vec<[f64; 3]>,
    /// How wide and high the ground is that each of them stands for.
    pub cell_size: Option<[f64; 2]>,
    /// Area, for an outline or zones.
    pub area_m2: Option<f64>,
    /// Least and greatest depth.
    pub depth_m: Option<[f64; 2]>,
    /// Left out: feature or row, and why.
    pub skipped: Vec<super::SkippedRowView>,
    /// What the user should know.
    pub warnings: Vec<String>,
    /// For a background: each control point with how well it fits.
    pub control_points: Vec<super::ControlPointView>,
    /// For a background: how pixels become places.
    pub warp: Option<String>,
    /// For a background: root mean square over the control points.
    pub residual_m: Option<f64>,
}
