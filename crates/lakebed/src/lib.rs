//! The lake's shape: where its shore runs, how deep it is, and what follows from both.
//!
//! Everything here is arithmetic on what the caller hands in. The crate opens no file, asks no
//! clock, draws no random number and knows nothing of surveys. Quantities that leave it carry their
//! unit in the type; places are either [`units::LonLat`] or coordinates in metres of the working
//! system, which each function says.
//!
//! Read in this order: [`Crs`] (what the numbers of a file mean), [`Outline`] (the shore, checked
//! once), [`DepthModel`] (the bed between the soundings), [`Morphometry`] (the measures).
//!
//! # Catalogue
//!
//! ## Positions
//! - [`Crs`] a system by EPSG code or .prj text; datums far from WGS 84 are refused with the reason
//! - [`diagnose`] names the slip that put positions outside the lake's [`Surroundings`]
//! - [`strays`] the positions that lie outside
//!
//! ## Shore
//! - [`Outline`] pieces of water with islands, in both systems; area and shore length on the ellipsoid
//! - [`fetch`], [`max_length`] straight lines over open water
//! - [`shoreline_development`] the shore against that of a circle
//!
//! ## Depth
//! - [`DepthData`] soundings, contours and rasters, in any mix
//! - [`DepthModel`] one surface from them, linear or by natural neighbours, with its error
//! - [`Grid`] the same on square cells, the shore's exactly
//!
//! ## Measures
//! - [`Morphometry`] all of them; [`Rule`] says how the volume was found
//! - [`hypsography`] area at or deeper, volume below; [`volume_of_areas`] from a table of contours
//! - [`littoral_area`] within a range of depths; [`zone_statistics`] the same for a part of the lake
//! - [`ClarityRegression`] the deep limit of plants from Secchi depth
//! - [`raster_cells`] the measures of a raster by its cells, as published tables have them
//! - [`slopes`], [`slopes_by_depth`] how steep the bed is; [`datum_distance`], [`distance_bands`] how far from what
//!   was measured
//! - [`depth_bands`], [`deeper_than`], [`contour_lines`] shapes to draw
//!
//! ## Maps
//! - [`Georeference`] where a scanned map lies, from control points, and which of them is off
//! - [`Frame`] the rectangle a map shows, with round grid lines
//! - [`simplified`], [`simplified_lines`] fewer vertices, for drawing only
//!
//! ## Editing
//! - [`split`] an area by a line; [`move_vertex`], [`insert_vertex`], [`delete_vertex`] in all areas that share it
//! - [`join`] corners to the edges of their neighbours; [`flags`] overlaps, gaps and parts out of the lake
//!
//! Things noticed on the way to a result that stands are [`Finding`]s; what cannot stand is an
//! error with a `hint()`.

mod coverage;
mod crs;
mod depth;
mod edit;
mod finding;
mod frame;
mod georeference;
mod morphometry;
mod outline;
mod slip;
#[cfg(test)]
mod test_lakes;

pub use crs::{Crs, CrsError, coord_of};
pub use depth::{
    Cell, ContourLine, DepthData, DepthError, DepthModel, DepthModelError, DepthOptions,
    DepthRaster, ErrorMethod, Grid, Method, ShoreRule, Sounding,
};
pub use edit::{
    EditError, Joined, NamedArea, ShapeFlag, SplitError, delete_vertex, flags, insert_vertex, join,
    move_vertex, split,
};
pub use finding::{Finding, Severity};
pub use frame::{Frame, GridLines, simplified, simplified_lines};
pub use georeference::{ControlPoint, Georeference, GeoreferenceError, Residual, Suspect, Warp};
pub use morphometry::{
    ClarityRegression, ContourSet, DatumDistance, DepthBand, DistanceBand, HypsographyRow,
    Littoral, Morphometry, MorphometryError, RasterMeasures, Rule, SlopeBand, Slopes,
    UnknownRegression, ZoneShape, ZoneStatistics, contour_lines, datum_distance, deeper_than,
    depth_bands, distance_areas, distance_bands, fetch, hypsography, littoral_area,
    littoral_slopes, max_length, raster_cells, raster_hypsography, raster_littoral_area,
    relative_depth, shore_of_raster, shoreline_development, slopes, slopes_by_depth, usual_depths,
    volume_of_areas, zone_shape, zone_statistics,
};
pub use outline::{Island, Outline, OutlineError, OutlineFault, RingName};
pub use slip::{Diagnosis, Slip, Surroundings, diagnose, strays};

/// Does two things on two cores, where there are two.
pub(crate) fn at_once<A, B: Send>(
    one: impl FnOnce() -> A,
    other: impl FnOnce() -> B + Send,
) -> (A, B) {
    std::thread::scope(|scope| {
        let other = scope.spawn(other);
        let one = one();
        (one, other.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
    })
}
