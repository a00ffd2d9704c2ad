//! A map layer as neutral features, and the door that picks the reader by content.

use crate::fault::{Fault, Faults, file_name};
use crate::kind::FileKind;
use crate::text::read_bytes;
use crate::{geojson, gpx, kml, nmea, points, shapefile, zipped};
use geo_types::Geometry;
use jiff::civil::Date;
use std::fmt;
use std::path::Path;
use units::LengthUnit;

/// What a file says about its coordinate reference system.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LayerCrs {
    /// Longitude and latitude in WGS 84 degrees.
    Wgs84,
    /// The text of a `.prj` file (well-known text).
    Prj(String),
    /// A code of the EPSG register.
    Epsg(u32),
    /// Nothing: the person must say.
    Unknown,
}

/// One value of an attribute.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Nothing there.
    Null,
    /// Yes or no.
    Bool(bool),
    /// A finite number.
    Number(f64),
    /// Text.
    Text(String),
    /// A day.
    Date(Date),
}

impl Value {
    /// The number, if it is one or reads as one.
    pub fn number(&self) -> Option<f64> {
        match self {
            Self::Number(value) => Some(*value),
            Self::Text(text) => crate::text::parse_number(text, false),
            Self::Null | Self::Bool(_) | Self::Date(_) => None,
        }
    }

    /// Whether nothing is there.
    pub const fn is_null(&self) -> bool {
        matches!(self, Self::Null)
    }
}

impl fmt::Display for Value {
    /// As a person would write it; nothing for [`Value::Null`].
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Null => Ok(()),
            Self::Bool(value) => f.write_str(if *value { "yes" } else { "no" }),
            Self::Number(value) => write!(f, "{value}"),
            Self::Text(text) => f.write_str(text),
            Self::Date(date) => write!(f, "{date}"),
        }
    }
}

/// One feature of a layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Feature {
    /// Its shape, `x` = longitude or easting.
    pub geometry: Geometry<f64>,
    /// Its attributes in the file's order.
    pub attributes: Vec<(String, Value)>,
    /// Row in a table, or number of the feature in the file, from 1.
    pub row: usize,
}

impl Feature {
    /// An attribute by name, ignoring case.
    pub fn attribute(&self, name: &str) -> Option<&Value> {
        self.attributes.iter().find(|(key, _)| key.eq_ignore_ascii_case(name)).map(|(_, v)| v)
    }
}

/// Something that was in the file and is not in the layer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skipped {
    /// Row or number of the feature.
    pub row: usize,
    /// Why.
    pub reason: String,
}

/// Where a layer of points keeps its depths.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DepthField {
    /// Name of the attribute.
    pub name: String,
    /// The unit its name states, if it does.
    pub unit: Option<LengthUnit>,
    /// Whether the name says height (`z`, `elevation`), so that depths may be negative.
    pub upward: bool,
}

/// Features that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// Name given, or told by the file, or the file's own.
    pub name: String,
    /// The file's name.
    pub file: String,
    /// Coordinate reference system.
    pub crs: LayerCrs,
    /// The features.
    pub features: Vec<Feature>,
    /// What was left out, and why.
    pub skipped: Vec<Skipped>,
    /// The attribute that holds depths, where the file shows which.
    pub depth: Option<DepthField>,
    /// What a person should know about how it was read.
    pub warnings: Vec<String>,
}

/// What the person says about a layer before it is read.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ReadOptions {
    /// Name of the layer wanted; a file that has another name for its only layer refuses.
    pub layer: Option<String>,
    /// Coordinate reference system, when the person states it; the file's own word is then not
    /// asked and degrees are not checked.
    pub crs: Option<LayerCrs>,
    /// Degrees that no place on Earth has are read as they stand, for somebody to find out what
    /// slip put them there.
    pub unjudged: bool,
}

/// Reads a map layer: GeoJSON, a shapefile (`.shp`, with `.dbf`, `.prj` and `.cpg` beside it),
/// GPX, KML, KMZ, a zip with a shapefile in it, an NMEA 0183 log of soundings, or a table of points
/// (text or a workbook, whose sheet is then the layer). The content decides, not the name.
///
/// # Errors
/// All [`Faults`] of the file.
pub fn read_layer(path: &Path, options: &ReadOptions) -> Result<Layer, Faults> {
    let bytes = read_bytes(path)?;
    let file = file_name(path);
    match FileKind::of(&bytes) {
        FileKind::Shapefile => {
            let parts = shapefile::Parts::beside(path)?;
            finish(shapefile::read(&file, &bytes, &parts, options)?, options)
        }
        FileKind::Dbase | FileKind::ShapefileIndex if path.with_extension("shp").is_file() => {
            read_layer(&path.with_extension("shp"), options)
        }
        _ => read_layer_bytes(&file, &bytes, options),
    }
}

const WANTED: &str = "a map layer: GeoJSON, a shapefile (zipped or not), GPX, KML, KMZ, an NMEA 0183 log, or \
     a table of points";
const GEOPACKAGE: &str =
    "a layer of a GeoPackage can be added to a lake; here save it as GeoJSON or a table";

/// Reads a map layer out of bytes; `file` names them in faults. A shapefile read this way has no
/// attributes and no reference system.
///
/// # Errors
/// All [`Faults`] of the file.
pub fn read_layer_bytes(file: &str, bytes: &[u8], options: &ReadOptions) -> Result<Layer, Faults> {
    let layer = match FileKind::of(bytes) {
        FileKind::Json => geojson::read(file, bytes, options)?,
        FileKind::Text if file.to_ascii_lowercase().ends_with(".geojson") => {
            let hint = "it is named `.geojson` and holds none: save the layer as GeoJSON again, or name a table `.csv`";
            return Err(FileKind::Text.fault(file, "GeoJSON").hint(hint).into());
        }
        FileKind::Shapefile => shapefile::read(file, bytes, &shapefile::Parts::default(), options)?,
        FileKind::Text | FileKind::Xlsx | FileKind::OldOffice | FileKind::Ods => {
            points::read(file, bytes, options)?
        }
        FileKind::ZippedShapefile => zipped::read_shapefile(file, bytes, options)?,
        FileKind::Kmz => zipped::read_kmz(file, bytes, options)?,
        FileKind::Sqlite => {
            return Err(FileKind::Sqlite.fault(file, WANTED).hint(GEOPACKAGE).into());
        }
        FileKind::Nmea => nmea::read(file, bytes, options)?,
        FileKind::Gpx => gpx::read(file, bytes, options)?,
        FileKind::Kml => kml::read(file, bytes, options)?,
        kind => {
            return Err(kind.fault(file, WANTED).into());
        }
    };
    finish(layer, options)
}

fn finish(layer: Layer, options: &ReadOptions) -> Result<Layer, Faults> {
    if let Some(wanted) = &options.layer
        && !wanted.eq_ignore_ascii_case(&layer.name)
    {
        return Err(Fault::file(&layer.file, format!("a layer named `{wanted}`"))
            .found(layer.name)
            .hint("this kind of file holds one layer: leave `--layer` out")
            .into());
    }
    if layer.features.is_empty() {
        let mut fault = Fault::file(&layer.file, "at least one feature with a geometry");
        if let Some(skipped) = layer.skipped.first() {
            fault = fault.found(format!(
                "{} features left out, the first because: {}",
                layer.skipped.len(),
                skipped.reason
            ));
        }
        return Err(fault.hint("check that the right file was exported").into());
    }
    Ok(layer)
}

/// The file's name without its ending, for a layer that has no other.
pub(crate) fn stem(file: &str) -> String {
    file.rsplit_once('.').map_or(file, |(stem, _)| stem).to_owned()
}

/// What is wrong with a place in degrees, if anything: expected text and hint.
///
/// Beyond 84° there is no lake with plants to survey, and no UTM zone either; such a latitude is
/// a longitude in the wrong place.
pub(crate) fn degrees_fault(longitude: f64, latitude: f64) -> Option<(&'static str, &'static str)> {
    let swapped = latitude.abs() > 84.0 && latitude.abs() <= 180.0 && longitude.abs() <= 90.0;
    if swapped {
        Some((
            "longitude before latitude, and a latitude between -84 and 84 degrees",
            "latitude and longitude are swapped: exchange the two columns or coordinates",
        ))
    } else if longitude.abs() > 180.0 || latitude.abs() > 84.0 {
        Some((
            "longitude between -180 and 180 and latitude between -84 and 84 degrees",
            "these look like metres or feet of a projected map: say which with `--crs EPSG:n`",
        ))
    } else {
        None
    }
}
