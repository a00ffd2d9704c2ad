//! Depths as people bring them: soundings, contours, rasters, in any mix.

use geo_types::{Coord, LineString, Polygon};

/// One depth at one place, as read; it is checked when a model is built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sounding {
    /// Place in the working system's metres.
    pub at: Coord<f64>,
    /// Depth in metres, downwards.
    pub depth: f64,
}

/// One contour as read.
#[derive(Debug, Clone, PartialEq)]
pub struct ContourLine {
    /// The line in the working system's metres.
    pub line: LineString<f64>,
    /// Its depth in metres.
    pub depth: f64,
}

/// Depths of one lake, in the working system's metres.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DepthData {
    /// Soundings, and the cells of rasters as points.
    pub soundings: Vec<Sounding>,
    /// Contours.
    pub contours: Vec<ContourLine>,
}

impl DepthData {
    /// Soundings from places in the working system's metres with depths in metres.
    pub fn from_soundings<I>(soundings: I) -> Self
    where
        I: IntoIterator<Item = (Coord<f64>, f64)>,
    {
        let soundings = soundings.into_iter().map(|(at, depth)| Sounding { at, depth }).collect();
        Self { soundings, contours: Vec::new() }
    }

    /// Adds a contour line.
    pub fn add_contour(&mut self, line: LineString<f64>, depth: f64) {
        self.contours.push(ContourLine { line, depth });
    }

    /// Adds an area whose every shore has the depth: a depth polygon of a digitised lake map.
    pub fn add_contour_polygon(&mut self, polygon: &Polygon<f64>, depth: f64) {
        let rings = std::iter::once(polygon.exterior()).chain(polygon.interiors());
        self.contours.extend(rings.map(|ring| ContourLine { line: ring.clone(), depth }));
    }

    /// Adds a raster of depths, not-a-number where it has no data.
    pub fn add_raster(&mut self, raster: &DepthRaster) {
        self.soundings.extend(raster.cells().map(|(at, depth)| Sounding { at, depth }));
    }

    /// Adds all of another set.
    pub fn merge(&mut self, other: Self) {
        self.soundings.extend(other.soundings);
        self.contours.extend(other.contours);
    }

    /// Whether there is nothing.
    pub fn is_empty(&self) -> bool {
        self.soundings.is_empty() && self.contours.is_empty()
    }
}

/// A raster of depths in the working system, north up.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthRaster {
    /// North-western corner of the north-western cell, in metres.
    pub corner: Coord<f64>,
    /// Width of a cell in metres.
    pub cell_width: f64,
    /// Height of a cell in metres.
    pub cell_height: f64,
    /// Cells in a row.
    pub columns: usize,
    /// Depths in metres, row by row from the north; not-a-number where there is no datum.
    pub depths: Vec<f64>,
}

impl DepthRaster {
    /// Centre and depth of every cell that has a datum.
    pub fn cells(&self) -> impl Iterator<Item = (Coord<f64>, f64)> {
        let columns = self.columns.max(1);
        self.depths.iter().enumerate().filter(|(_, depth)| depth.is_finite()).map(
            move |(index, &depth)| {
                let (column, row) = ((index % columns) as f64, (index / columns) as f64);
                let at = Coord {
                    x: self.corner.x + (column + 0.5) * self.cell_width,
                    y: self.corner.y - (row + 0.5) * self.cell_height,
                };
                (at, depth)
            },
        )
    }

    /// Area of a cell in the plane, square metres.
    pub fn cell_area(&self) -> f64 {
        (self.cell_width * self.cell_height).abs()
    }
}
