//! How much water a plant stands in: from rated sub-areas, from points, from beds, along the shore.
//!
//! Everything here is in metres of one projected system. [`sub_area_extent`] counts what crews rated
//! part by part; [`voronoi_extent`] gives every drop of water to its nearest point by water, not across
//! land; [`kriged_extent`] estimates the chance of the plant cell by cell, with a map of how sure it is;
//! [`bed_areas`] and [`shore_lengths`] measure what was drawn, and are never added to the others.

mod beds;
mod kriging;
mod points;
mod sub_areas;
mod variogram;
mod water;

pub use beds::{DrawnExtent, bed_areas, shore_lengths};
pub use kriging::{KrigedCell, KrigedExtent, kriged_extent};
pub use points::{NearestWater, PointExtent, voronoi_extent};
pub use sub_areas::{RatedSubArea, SubAreaExtent, SubAreaResult, sub_area_extent};
pub use variogram::Variogram;
pub use water::Ways;

use crate::stats::Estimate;
use geo_types::MultiPolygon;
use survey::Code;
use thiserror::Error;
use units::SquareMetres;

/// An area with its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AreaEstimate {
    /// The area.
    pub value: SquareMetres,
    /// Lower limit.
    pub low: SquareMetres,
    /// Upper limit.
    pub high: SquareMetres,
}

impl AreaEstimate {
    fn of_share(share: Estimate, whole: f64) -> Self {
        let area = |share: f64| SquareMetres::new(share.clamp(0.0, 1.0) * whole);
        Self { value: area(share.value), low: area(share.low), high: area(share.high) }
    }
}

/// A sampled point.
#[derive(Debug, Clone, PartialEq)]
pub struct SampledPoint {
    /// East and north in metres.
    pub place: [f64; 2],
    /// Whether the plant came up on the rake.
    pub found: bool,
    /// Code of its rating, when rated.
    pub step: Option<String>,
}

/// The lake and its parts in metres.
#[derive(Debug, Clone, Copy)]
pub struct Water<'a> {
    /// The water, islands as holes.
    pub water: &'a MultiPolygon<f64>,
    /// Zones to report one by one, beside the whole.
    pub zones: &'a [(Code, MultiPolygon<f64>)],
    /// Square cells to cut the water into, about; 20,000 unless there is reason for another number.
    pub cells: usize,
}

/// Cells unless another number is asked for.
pub const USUAL_CELLS: usize = 20_000;

/// Why no area can be given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum AcresError {
    /// The polygon holds no water.
    #[error("the outline of the water has no area\nhint: add the lake's outline first")]
    NoWater,
    /// No point lies in the water.
    #[error(
        "none of the `{points}` points lies in the water\nhint: check that points and outline use one coordinate system"
    )]
    NoPoints {
        /// Points given.
        points: usize,
    },
    /// Too few points for a variogram.
    #[error(
        "`{points}` points in the water are too few to map chances: expected at least `{expected}`\nhint: use areas of nearest points instead"
    )]
    TooFewPoints {
        /// Points in the water.
        points: usize,
        /// Least.
        expected: usize,
    },
}

#[cfg(test)]
mod tests;
