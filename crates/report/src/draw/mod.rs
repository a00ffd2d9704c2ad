//! The drawing layer: maps and charts as SVG, the same for screen and print.
//!
//! Sizes are CSS pixels (96 to the inch); in print a pixel is 0.75 points.

mod charts;
mod data;
mod grid;
mod labels;
mod legend;
mod lettering;
mod map;
mod marks;
mod plane;
mod scale;
mod strip;
mod svg;
mod theme;

pub use charts::{
    DepthClass, DotKind, Hypsography, Interval, depth_histogram, dot_axis, dot_row,
    hypsographic_curve, share_axis,
};
pub use data::{
    Contour, DepthBand, Extent, GridReference, LandmarkKind, LandmarkMark, MapData, Mark, SiteMark,
    SubAreaShape, TreatedBed, ZoneShape,
};
pub use legend::{LegendRow, Sign};
pub use map::{MapStyle, ZoneCodes, draw_map};
pub use strip::{DepthStrip, depth_strip};
pub use theme::Depth;

/// A picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// SVG 1.1 text.
    pub svg: String,
    /// Width in CSS pixels (96 to the inch).
    pub width: f64,
    /// Height in CSS pixels.
    pub height: f64,
    /// What it shows, in words, for those who cannot see it.
    pub description: String,
    /// Letters that no font has, drawn as □.
    pub missing_letters: std::collections::BTreeSet<char>,
    /// What was left out for want of room.
    pub remarks: Vec<String>,
}
