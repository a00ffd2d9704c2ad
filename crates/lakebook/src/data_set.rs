//! Bulk data that never changes: soundings, contours, rasters, named by the SHA-256 of what they
//! hold.

use crate::canonical::sha256_hex;
use crate::error::BookError;
use crate::gpb::{self, Bounds, geometry_blob, geometry_of};
use geo_types::{Coord, Geometry};
use units::LonLat;

/// Soundings beyond this many are kept whole but not shown as a layer of their own: a GIS draws
/// them from the depth model.
pub const LARGEST_LAYER: usize = 200_000;

/// What a data set holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DataSetKind {
    /// Depths at points.
    Soundings,
    /// Lines or polygons of one depth each.
    Contours,
    /// A picture as the bytes of its file, or a raster of depths as [`crate::DepthGrid`].
    Raster,
}

impl DataSetKind {
    /// The word kept in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Soundings => "soundings",
            Self::Contours => "contours",
            Self::Raster => "raster",
        }
    }

    pub(crate) fn from_key(key: &str) -> Option<Self> {
        [Self::Soundings, Self::Contours, Self::Raster].into_iter().find(|one| one.key() == key)
    }
}

/// The content of a data set, in degrees of EPSG:4326 and metres.
#[derive(Debug, Clone, PartialEq)]
pub enum DataSetContent {
    /// Longitude, latitude, depth in metres.
    Soundings(Vec<(f64, f64, f64)>),
    /// Lines or polygons in longitude and latitude, and their depth in metres.
    Contours(Vec<(Geometry<f64>, f64)>),
    /// The bytes of a picture's file, or of a [`crate::DepthGrid`].
    Raster(Vec<u8>),
}

/// A data set to be kept.
#[derive(Debug, Clone, PartialEq)]
pub struct DataSet {
    /// Name of the file it came from.
    pub name: String,
    /// Unit of the depths as the file gave them, e.g. `ft`.
    pub unit: String,
    /// Reference system of the file, e.g. `EPSG:26916`.
    pub crs: String,
    /// The content.
    pub content: DataSetContent,
    /// Remark.
    pub note: String,
}

/// What is known of a data set without its content.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DataSetInfo {
    /// SHA-256 of the content, hexadecimal: its name in the book.
    pub sha256: String,
    /// What it holds.
    pub kind: DataSetKind,
    /// Name of the file it came from.
    pub name: String,
    /// Unit of the depths as the file gave them.
    pub unit: String,
    /// Reference system of the file.
    pub crs: String,
    /// Points, lines or polygons; bytes of a raster.
    pub count: usize,
    /// Remark.
    pub note: String,
    /// When it was brought in, RFC 3339 in UTC.
    pub created_at: String,
}

impl DataSetContent {
    /// What it is.
    pub const fn kind(&self) -> DataSetKind {
        match self {
            Self::Soundings(_) => DataSetKind::Soundings,
            Self::Contours(_) => DataSetKind::Contours,
            Self::Raster(_) => DataSetKind::Raster,
        }
    }

    /// Points, lines or polygons; bytes of a raster.
    pub const fn count(&self) -> usize {
        match self {
            Self::Soundings(points) => points.len(),
            Self::Contours(contours) => contours.len(),
            Self::Raster(bytes) => bytes.len(),
        }
    }
}

/// The bytes kept: for soundings 24 bytes a point (longitude, latitude, depth), for contours a
/// depth, a length and a geometry blob each; all little-endian.
///
/// # Errors
/// [`BookError::Refused`] naming the first point that is not on Earth or whose depth is no number.
pub(crate) fn encode(content: &DataSetContent) -> Result<Vec<u8>, BookError> {
    let refuse = |index: usize, why: String| {
        BookError::refused(
            format!("{} {}: {why}", content.kind().key(), index + 1),
            "check the reference system, the order of the coordinates and the unit of the file",
        )
    };
    let check = |index: usize, longitude: f64, latitude: f64, depth: f64| {
        LonLat::new(longitude, latitude).map_err(|error| refuse(index, error.to_string()))?;
        if depth.is_finite() {
            Ok(())
        } else {
            Err(refuse(index, format!("depth `{depth}` is no usable number")))
        }
    };
    match content {
        DataSetContent::Soundings(points) => {
            let mut bytes = Vec::with_capacity(points.len() * 24);
            for (index, (longitude, latitude, depth)) in points.iter().enumerate() {
                check(index, *longitude, *latitude, *depth)?;
                for number in [longitude, latitude, depth] {
                    bytes.extend_from_slice(&number.to_le_bytes());
                }
            }
            Ok(bytes)
        }
        DataSetContent::Contours(contours) => {
            let mut bytes = Vec::new();
            for (index, (geometry, depth)) in contours.iter().enumerate() {
                for (longitude, latitude) in coordinates(geometry) {
                    check(index, longitude, latitude, *depth)?;
                }
                let blob = geometry_blob(geometry)?;
                bytes.extend_from_slice(&depth.to_le_bytes());
                bytes.extend_from_slice(&(blob.len() as u64).to_le_bytes());
                bytes.extend_from_slice(&blob);
            }
            Ok(bytes)
        }
        DataSetContent::Raster(bytes) => Ok(bytes.clone()),
    }
}

/// Reads what [`encode`] wrote.
pub(crate) fn decode(
    sha256: &str,
    kind: DataSetKind,
    bytes: Vec<u8>,
) -> Result<DataSetContent, BookError> {
    let damaged = || BookError::Row {
        table: "data_set_content",
        id: sha256.to_owned(),
        field: "content",
        found: format!("{} bytes", bytes.len()),
        expected: format!("whole {}", kind.key()),
    };
    let number = |at: usize| -> Option<[u8; 8]> { bytes.get(at..at + 8)?.try_into().ok() };
    match kind {
        DataSetKind::Raster => Ok(DataSetContent::Raster(bytes)),
        DataSetKind::Soundings => {
            if !bytes.len().is_multiple_of(24) {
                return Err(damaged());
            }
            let float = |chunk: &[u8], at: usize| {
                let mut eight = [0; 8];
                eight.copy_from_slice(&chunk[at..at + 8]);
                f64::from_le_bytes(eight)
            };
            Ok(DataSetContent::Soundings(
                bytes
                    .chunks_exact(24)
                    .map(|point| (float(point, 0), float(point, 8), float(point, 16)))
                    .collect(),
            ))
        }
        DataSetKind::Contours => {
            let mut contours = Vec::new();
            let mut at = 0;
            while at < bytes.len() {
                let (Some(depth), Some(length)) = (number(at), number(at + 8)) else {
                    return Err(damaged());
                };
                let length = u64::from_le_bytes(length) as usize;
                let blob = bytes.get(at + 16..(at + 16).saturating_add(length));
                let geometry = blob.and_then(|blob| geometry_of(blob).ok()).ok_or_else(damaged)?;
                contours.push((geometry, f64::from_le_bytes(depth)));
                at += 16 + length;
            }
            Ok(DataSetContent::Contours(contours))
        }
    }
}

/// The name of a content.
pub(crate) fn name_of(bytes: &[u8]) -> String {
    sha256_hex(bytes)
}

/// How far a content reaches; none for a raster, whose bytes are not looked into.
pub(crate) fn bounds(content: &DataSetContent) -> Option<Bounds> {
    let all: Vec<(f64, f64)> = match content {
        DataSetContent::Soundings(points) => points.iter().map(|(x, y, _)| (*x, *y)).collect(),
        DataSetContent::Contours(contours) => {
            contours.iter().flat_map(|(geometry, _)| coordinates(geometry)).collect()
        }
        DataSetContent::Raster(_) => Vec::new(),
    };
    gpb::bounds(all.into_iter().map(|(x, y)| Coord { x, y }))
}

/// Every vertex of a geometry.
pub(crate) fn coordinates(geometry: &Geometry<f64>) -> Vec<(f64, f64)> {
    let line = |line: &geo_types::LineString<f64>| -> Vec<(f64, f64)> {
        line.coords().map(|at| (at.x, at.y)).collect()
    };
    let polygon = |one: &geo_types::Polygon<f64>| -> Vec<(f64, f64)> {
        std::iter::once(one.exterior()).chain(one.interiors()).flat_map(line).collect()
    };
    match geometry {
        Geometry::Point(point) => vec![(point.x(), point.y())],
        Geometry::Line(one) => vec![(one.start.x, one.start.y), (one.end.x, one.end.y)],
        Geometry::LineString(one) => line(one),
        Geometry::Polygon(one) => polygon(one),
        Geometry::MultiPoint(points) => points.iter().map(|at| (at.x(), at.y())).collect(),
        Geometry::MultiLineString(lines) => lines.iter().flat_map(line).collect(),
        Geometry::MultiPolygon(polygons) => polygons.iter().flat_map(polygon).collect(),
        Geometry::GeometryCollection(all) => all.iter().flat_map(coordinates).collect(),
        Geometry::Rect(one) => polygon(&one.to_polygon()),
        Geometry::Triangle(one) => polygon(&one.to_polygon()),
    }
}
