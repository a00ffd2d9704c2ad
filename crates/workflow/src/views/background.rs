use serde::Serialize;
use utoipa::ToSchema;

/// A control point and how well it fits.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ControlPointView {
    /// What it is.
    pub name: String,
    /// Pixel, x to the right and y down from the upper left corner.
    pub pixel: [f64; 2],
    /// Place in metres of the working system.
    pub place: [f64; 2],
    /// Between the place given and the one the transform gives.
    pub residual_m: f64,
    /// The same with the transform fitted without this point; none where too few are left.
    pub left_out_m: Option<f64>,
    /// It does not fit the others at all.
    pub suspect: bool,
}

/// A picture under the lake.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BackgroundView {
    /// Key.
    pub id: String,
    /// Name.
    pub name: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
    /// Pixels across and down.
    pub size: [u32; 2],
    /// `affine`, `projective` or `thin-plate`.
    pub warp: String,
    /// System of the places, `EPSG:n`.
    pub crs: String,
    /// West, south, east, north of the picture drawn north up.
    pub extent: [f64; 4],
    /// Root mean square over the control points.
    pub residual_m: f64,
    /// What fixes it to the ground.
    pub control_points: Vec<ControlPointView>,
}
