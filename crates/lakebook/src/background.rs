//! A scanned map under the lake, as the book keeps it.

use geo_types::MultiPolygon;
use survey::Id;
use units::LonLat;

/// A pixel whose place on the ground is known.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPixel {
    /// What it is, such as `boat launch`.
    pub name: String,
    /// From the left edge of the picture.
    pub x: f64,
    /// From its upper edge.
    pub y: f64,
    /// Where it is.
    pub place: LonLat,
}

/// A picture that lies under the lake.
#[derive(Debug, Clone, PartialEq)]
pub struct Background {
    /// Key.
    pub id: Id,
    /// Name people call it by.
    pub name: String,
    /// SHA-256 of the picture's bytes: the data set that holds them.
    pub data_set: String,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// How pixels become places: `affine`, `projective`, `thin-plate`.
    pub warp: String,
    /// What fixes it to the ground.
    pub points: Vec<PlacedPixel>,
    /// Root mean square over the control points, metres.
    pub residual_m: f64,
    /// Its edge in longitude and latitude.
    pub footprint: MultiPolygon<f64>,
    /// Remark.
    pub note: String,
}
