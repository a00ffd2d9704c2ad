//! Shapefiles: `.shp` by the `shapefile` crate, `.dbf`, `.prj` and `.cpg` beside it.
//!
//! Reference: ESRI Shapefile Technical Description, ESRI white paper, July 1998.

use crate::dbf::Dbf;
use crate::fault::{Fault, Faults};
use crate::geojson::each_coord;
use crate::layer::{Feature, Layer, LayerCrs, ReadOptions, Skipped, Value, degrees_fault, stem};
use crate::rings;
use crate::text::{decode, read_bytes};
use ::shapefile::Shape;
use ::shapefile::record::traits::HasXY;
use geo_types::{Coord, Geometry, LineString, MultiLineString, MultiPoint, Point};
use std::io::Cursor;
use std::path::{Path, PathBuf};

/// The files beside the `.shp`.
#[derive(Debug, Default)]
pub(crate) struct Parts {
    pub(crate) dbf: Option<Vec<u8>>,
    pub(crate) prj: Option<String>,
    pub(crate) cpg: Option<String>,
}

impl Parts {
    /// Looks for them, whatever the case of their endings.
    pub(crate) fn beside(shp: &Path) -> Result<Self, Faults> {
        let mut parts = Self::default();
        let mut faults = Faults::default();
        let mut load = |ending: &str| {
            sibling(shp, ending).and_then(|path| match read_bytes(&path) {
                Ok(bytes) => Some(bytes),
                Err(found) => {
                    faults.0.extend(found.0);
                    None
                }
            })
        };
        parts.dbf = load("dbf");
        parts.prj = load("prj").map(|bytes| decode(&bytes).text.trim().to_owned());
        parts.cpg = load("cpg").map(|bytes| decode(&bytes).text);
        faults.or(parts)
    }
}

pub(crate) fn sibling(shp: &Path, ending: &str) -> Option<PathBuf> {
    let plain = shp.with_extension(ending);
    if plain.is_file() {
        return Some(plain);
    }
    let name = plain.file_name()?.to_str()?;
    let folder = shp.parent().filter(|folder| !folder.as_os_str().is_empty());
    std::fs::read_dir(folder.unwrap_or(Path::new("."))).ok()?.flatten().map(|e| e.path()).find(
        |path| {
            path.file_name().and_then(|n| n.to_str()).is_some_and(|n| n.eq_ignore_ascii_case(name))
        },
    )
}

pub(crate) fn read(
    file: &str,
    bytes: &[u8],
    parts: &Parts,
    options: &ReadOptions,
) -> Result<Layer, Faults> {
    let mut faults = Faults::default();
    let mut warnings = Vec::new();
    if let Err(found) = check_length(file, bytes, &mut warnings) {
        faults.0.extend(found.0);
    }
    let table_name = format!("{}.dbf", stem(file));
    let table =
        match parts.dbf.as_deref().map(|dbf| Dbf::open(&table_name, dbf, parts.cpg.as_deref())) {
            Some(Ok(table)) => Some(table),
            Some(Err(found)) => {
                faults.0.extend(found.0);
                None
            }
            None => {
                warnings
                    .push(format!("no `{table_name}` beside it: shapes come without attributes"));
                None
            }
        };
    faults.or(())?;
    warnings.extend(table.iter().flat_map(|table| table.warnings.clone()));

    let crs = match (&options.crs, &parts.prj) {
        (Some(crs), _) => crs.clone(),
        (None, Some(prj)) if !prj.is_empty() => LayerCrs::Prj(prj.clone()),
        (None, _) => LayerCrs::Unknown,
    };
    let degrees = match &crs {
        LayerCrs::Prj(text) => !options.unjudged && options.crs.is_none() && is_geographic(text),
        _ => false,
    };
    let mut layer = Layer {
        name: stem(file),
        file: file.to_owned(),
        crs,
        features: Vec::new(),
        skipped: Vec::new(),
        depth: None,
        warnings,
    };
    let count = read_shapes(&mut layer, bytes, table.as_ref(), degrees)?;
    match table {
        Some(table) if table.count != count => {
            Err(Fault::file(&table_name, format!("{count} rows, one for each shape"))
                .found(format!("{} rows", table.count))
                .hint("the .shp and the .dbf are not from the same copy: fetch all parts again")
                .into())
        }
        _ => Ok(layer),
    }
}

/// `GEOGCS` (WKT 1) or `GEOGCRS`, `GEODCRS` (WKT 2) with no projection around it.
fn is_geographic(prj: &str) -> bool {
    let upper = prj.trim_start().to_ascii_uppercase();
    ["GEOGCS", "GEOGCRS", "GEODCRS", "GEOGRAPHICCRS"].iter().any(|word| upper.starts_with(word))
}

/// The header holds the length of the file in 16-bit words.
fn check_length(file: &str, bytes: &[u8], warnings: &mut Vec<String>) -> Result<(), Faults> {
    let broken = |found: String| {
        Faults::one(Fault::file(file, "a whole shapefile").found(found).hint(DAMAGED))
    };
    if bytes.len() < 100 {
        return Err(broken(format!("{} bytes, less than its header", bytes.len())));
    }
    let words = u32::from_be_bytes([bytes[24], bytes[25], bytes[26], bytes[27]]);
    let said = u64::from(words) * 2;
    let have = bytes.len() as u64;
    if said > have {
        return Err(broken(format!("{have} of {said} bytes")));
    }
    if said < have {
        warnings.push(format!("{} bytes after the end of the shapes were not read", have - said));
    }
    Ok(())
}

pub(crate) const DAMAGED: &str =
    "the file breaks off or is damaged: copy all parts of the shapefile again";

/// An index (`.shx`) of the records, made by walking their headers. So a record that is longer
/// than its shape cannot put the ones behind it out of step, and the real index is not needed.
fn index(file: &str, bytes: &[u8]) -> Result<Vec<u8>, Faults> {
    const HEADER: usize = 100;
    let word = |at: usize| {
        bytes.get(at..at + 4).map(|b| u32::from_be_bytes([b[0], b[1], b[2], b[3]]) as usize)
    };
    let end = word(24).map_or(0, |words| words.saturating_mul(2)).min(bytes.len());
    let mut index = bytes[..HEADER].to_vec();
    let mut at = HEADER;
    while at < end {
        let row = (index.len() - HEADER) / 8 + 1;
        let next = word(at + 4).map(|words| at + 8 + words.saturating_mul(2));
        let Some(next) = next.filter(|next| *next <= end) else {
            return Err(Fault::file(file, "a whole shape")
                .at(row)
                .found("the end of the file")
                .hint(DAMAGED)
                .into());
        };
        let words = |bytes: usize| ((bytes / 2) as u32).to_be_bytes();
        index.extend(words(at));
        index.extend(words(next - at - 8));
        at = next;
    }
    let length = ((index.len() / 2) as u32).to_be_bytes();
    index[24..28].copy_from_slice(&length);
    Ok(index)
}

/// Fills the layer; returns how many shapes the file holds.
fn read_shapes(
    layer: &mut Layer,
    bytes: &[u8],
    table: Option<&Dbf<'_>>,
    degrees: bool,
) -> Result<usize, Faults> {
    let file = layer.file.clone();
    let damaged = |row: usize, error: &::shapefile::Error| {
        Fault::file(&file, "a shape")
            .at(row)
            .found(error.to_string())
            .hint("the file breaks off or is damaged: copy all parts of the shapefile again")
    };
    let mut faults = Faults::default();
    let index = index(&file, bytes)?;
    let reader = ::shapefile::ShapeReader::with_shx(Cursor::new(bytes), Cursor::new(index));
    let mut reader = match reader {
        Ok(reader) => reader,
        Err(error) => {
            let fault = Fault::file(&file, "a shapefile").found(error.to_string());
            return Err(fault.hint(DAMAGED).into());
        }
    };
    let mut count = 0;
    // one by one through the index: the crate's iterator trusts that a shape fills its record
    while let Some(shape) = reader.read_nth_shape(count) {
        count += 1;
        let shape = match shape {
            Ok(shape) => shape,
            Err(error) => {
                faults.push(damaged(count, &error));
                continue;
            }
        };
        if table.is_some_and(|table| table.is_deleted(count - 1)) {
            layer.skipped.push(Skipped {
                row: count,
                reason: "it is marked as deleted in the attribute table".to_owned(),
            });
            continue;
        }
        let (geometry, height) = match convert(shape) {
            Ok(converted) => converted,
            Err(reason) => {
                layer.skipped.push(Skipped { row: count, reason: reason.to_owned() });
                continue;
            }
        };
        if let Some(fault) = coordinate_fault(&file, count, &geometry, degrees) {
            faults.push(fault);
            continue;
        }
        let mut attributes = table.map(|table| table.attributes(count - 1)).unwrap_or_default();
        if let Some(z) = height
            && !attributes.iter().any(|(name, _)| name.eq_ignore_ascii_case("z"))
        {
            attributes.push(("z".to_owned(), Value::Number(z)));
        }
        layer.features.push(Feature { geometry, attributes, row: count });
    }
    faults.or(count)
}

fn coordinate_fault(
    file: &str,
    row: usize,
    geometry: &Geometry<f64>,
    degrees: bool,
) -> Option<Fault> {
    let mut fault = None;
    each_coord(geometry, &mut |c| {
        if fault.is_some() {
            return;
        }
        let found = format!("{}, {}", c.x, c.y);
        if !(c.x.is_finite() && c.y.is_finite()) {
            fault = Some(Fault::file(file, "coordinates that are numbers").at(row).found(found));
        } else if degrees && let Some((expected, hint)) = degrees_fault(c.x, c.y) {
            fault = Some(Fault::file(file, expected).at(row).found(found).hint(hint));
        }
    });
    fault
}

/// Smaller than this means "no data" in M and Z values (ESRI 1998, page 2).
const NO_DATA: f64 = -1e38;

/// The shape as a geometry, and its height where it has a single one; or why there is none.
fn convert(shape: Shape) -> Result<(Geometry<f64>, Option<f64>), &'static str> {
    let flat = |geometry| Ok((geometry, None));
    match shape {
        Shape::NullShape => Err("it has no geometry"),
        Shape::Point(p) => flat(Point::new(p.x, p.y).into()),
        Shape::PointM(p) => flat(Point::new(p.x, p.y).into()),
        Shape::PointZ(p) => Ok((Point::new(p.x, p.y).into(), level([p.z].into_iter()))),
        Shape::Multipoint(m) => points(m.points(), None),
        Shape::MultipointM(m) => points(m.points(), None),
        Shape::MultipointZ(m) => points(m.points(), level(m.points().iter().map(|p| p.z))),
        Shape::Polyline(line) => lines(line.parts(), None),
        Shape::PolylineM(line) => lines(line.parts(), None),
        Shape::PolylineZ(line) => {
            lines(line.parts(), level(line.parts().iter().flatten().map(|p| p.z)))
        }
        Shape::Polygon(p) => polygons(p.rings().iter().map(|ring| coords(ring.points())), None),
        Shape::PolygonM(p) => polygons(p.rings().iter().map(|ring| coords(ring.points())), None),
        Shape::PolygonZ(p) => polygons(
            p.rings().iter().map(|ring| coords(ring.points())),
            level(p.rings().iter().flat_map(::shapefile::PolygonRing::points).map(|p| p.z)),
        ),
        Shape::Multipatch(_) => Err("surfaces in three dimensions are not read"),
    }
}

type Converted = Result<(Geometry<f64>, Option<f64>), &'static str>;

fn coords<P: HasXY>(points: &[P]) -> LineString<f64> {
    points.iter().map(|p| Coord { x: p.x(), y: p.y() }).collect()
}

/// The one height all vertices share, as on a contour.
fn level(mut heights: impl Iterator<Item = f64>) -> Option<f64> {
    let first = heights.next().filter(|z| z.is_finite() && *z > NO_DATA)?;
    heights.all(|z| z.to_bits() == first.to_bits()).then_some(first)
}

fn points<P: HasXY>(points: &[P], height: Option<f64>) -> Converted {
    if points.is_empty() {
        return Err("its geometry is empty");
    }
    let points: Vec<Point<f64>> = points.iter().map(|p| Point::new(p.x(), p.y())).collect();
    Ok((MultiPoint(points).into(), height))
}

fn lines<P: HasXY>(parts: &[Vec<P>], height: Option<f64>) -> Converted {
    let mut lines: Vec<LineString<f64>> =
        parts.iter().map(|part| coords(part)).filter(|line| line.0.len() > 1).collect();
    match lines.len() {
        0 => Err("its geometry is empty"),
        1 => Ok((lines.remove(0).into(), height)),
        _ => Ok((MultiLineString(lines).into(), height)),
    }
}

fn polygons(rings: impl Iterator<Item = LineString<f64>>, height: Option<f64>) -> Converted {
    let rings: Vec<_> = rings.filter(|ring| ring.0.len() > 3).collect();
    let mut polygons = rings::assemble(rings);
    match polygons.0.len() {
        0 => Err("its geometry is empty"),
        1 => Ok((polygons.0.remove(0).into(), height)),
        _ => Ok((polygons.into(), height)),
    }
}
