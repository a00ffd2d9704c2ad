//! GeoTIFF rasters of depths or of elevations of the bed.
//!
//! References: TIFF 6.0 (Adobe 1992); GeoTIFF 1.1 (OGC 19-008r4, 2019); the tags `GDAL_NODATA`
//! (42113) and `GDAL_METADATA` (42112) as GDAL writes them.

mod keys;

use crate::fault::{Fault, Faults, file_name};
use crate::kind::FileKind;
use crate::layer::{LayerCrs, degrees_fault};
use crate::shapefile::sibling;
use crate::text::{decode, parse_number, read_bytes};
use crate::xml;
use geo_types::Coord;
use keys::{Model, Sampling};
use std::io::Cursor;
use std::path::Path;
use tiff::decoder::{Decoder, DecodingResult};
use tiff::tags::Tag;
use units::LengthUnit;

/// A raster with more cells is refused.
pub const MOST_CELLS: u64 = 25_000_000;
/// Values beyond this stand for "no data" whatever the file says: no lake is that deep.
const BEYOND: f64 = 1e30;

/// A grid of numbers over the lake, north up.
#[derive(Debug, Clone, PartialEq)]
pub struct Raster {
    /// The file's name.
    pub file: String,
    /// Coordinate reference system.
    pub crs: LayerCrs,
    /// Cells in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Outer corner of the first cell: the least `x` and the greatest `y`, in units of `crs`.
    pub origin: Coord<f64>,
    /// Width and height of a cell, both above zero, in units of `crs`.
    pub cell: (f64, f64),
    /// The values row by row from the north, each row from the west; not-a-number where there is
    /// none.
    pub values: Vec<f64>,
    /// Unit of the values, where the file states it.
    pub unit: Option<LengthUnit>,
    /// Whether the values are the file's own numbers of 32 bits: a number compared with them by
    /// other programs is first rounded to 32 bits too.
    pub single: bool,
    /// What a person should know about how it was read.
    pub warnings: Vec<String>,
}

impl Raster {
    /// Centre of a cell; columns from the west and rows from the north, from 0.
    pub fn centre(&self, column: usize, row: usize) -> Coord<f64> {
        Coord {
            x: self.origin.x + (column as f64 + 0.5) * self.cell.0,
            y: self.origin.y - (row as f64 + 0.5) * self.cell.1,
        }
    }

    /// The value of a cell, if it has one.
    pub fn value(&self, column: usize, row: usize) -> Option<f64> {
        if column >= self.width {
            return None;
        }
        let value = self.values.get(row * self.width + column)?;
        value.is_finite().then_some(*value)
    }

    /// Centre and value of every cell that has one.
    pub fn cells(&self) -> impl Iterator<Item = (Coord<f64>, f64)> {
        let width = self.width.max(1);
        self.values
            .iter()
            .enumerate()
            .filter(|(_, value)| value.is_finite())
            .map(move |(index, value)| (self.centre(index % width, index / width), *value))
    }

    /// Area of a cell in square units of `crs`; of no use in degrees.
    pub fn cell_area(&self) -> f64 {
        self.cell.0 * self.cell.1
    }

    /// Least and greatest value.
    pub fn range(&self) -> Option<(f64, f64)> {
        let values = || self.values.iter().copied().filter(|value| value.is_finite());
        values().next()?;
        Some((values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max)))
    }
}

/// Reads a GeoTIFF; a world file (`.tfw`) and a `.prj` beside it say what it does not say itself.
///
/// # Errors
/// All [`Faults`] of the file.
pub fn read_raster(path: &Path) -> Result<Raster, Faults> {
    let beside = |endings: &[&str]| {
        let path = endings.iter().find_map(|ending| sibling(path, ending))?;
        read_bytes(&path).ok().map(|bytes| decode(&bytes).text)
    };
    let world = beside(&["tfw", "tifw", "wld"]);
    read(&file_name(path), &read_bytes(path)?, world.as_deref(), beside(&["prj"]))
}

/// Reads a GeoTIFF out of bytes; `file` names them in faults.
///
/// # Errors
/// All [`Faults`] of the file.
pub fn read_raster_bytes(file: &str, bytes: &[u8]) -> Result<Raster, Faults> {
    read(file, bytes, None, None)
}

fn read(
    file: &str,
    bytes: &[u8],
    world: Option<&str>,
    prj: Option<String>,
) -> Result<Raster, Faults> {
    let kind = FileKind::of(bytes);
    if kind != FileKind::Tiff {
        return Err(kind.fault(file, "a GeoTIFF raster (.tif)").into());
    }
    // a crate that reads TIFFs of all kinds may trip over broken ones
    let read = || read_tiff(file, bytes, world, prj);
    std::panic::catch_unwind(std::panic::AssertUnwindSafe(read))
        .unwrap_or_else(|_| Err(damaged(file, "parts that contradict each other".to_owned())))
}

fn damaged(file: &str, found: String) -> Faults {
    Fault::file(file, "a whole TIFF with LZW, deflate or no compression")
        .found(found)
        .hint(
            "fetch it again; if it is whole, open it in a general GIS program and export it as \
             GeoTIFF with LZW compression",
        )
        .into()
}

fn read_tiff(
    file: &str,
    bytes: &[u8],
    world: Option<&str>,
    prj: Option<String>,
) -> Result<Raster, Faults> {
    let wrong = |error: tiff::TiffError| damaged(file, error.to_string());
    let mut tiff = Decoder::new(Cursor::new(bytes)).map_err(wrong)?;
    let (width, height) = tiff.dimensions().map_err(wrong)?;
    let mut faults = Faults::default();
    let bands = tiff.find_tag_unsigned::<u16>(Tag::SamplesPerPixel).map_err(wrong)?.unwrap_or(1);
    let palette = tiff.find_tag(Tag::ColorMap).map_err(wrong)?.is_some();
    if bands != 1 || palette {
        let found =
            if palette { "a palette of colours".to_owned() } else { format!("{bands} bands") };
        faults.push(Fault::file(file, "one band with a depth or an elevation in each cell").found(found).hint(
            "this looks like a picture: it can lie under the lake as a background; for depths \
             export the raster itself, not its colours",
        ));
    }
    if u64::from(width) * u64::from(height) > MOST_CELLS {
        faults.push(
            Fault::file(file, format!("at most {MOST_CELLS} cells"))
                .found(format!("{width} × {height} cells"))
                .hint("cut the raster to the lake, or make its cells larger, in a general GIS program"),
        );
    }
    let mut warnings = Vec::new();
    let (keys, place) = {
        let mut tags = Tags { tiff: &mut tiff };
        let keys = keys::Keys::read(&mut tags);
        let place = keys.place(file, &mut tags).unwrap_or_else(|| from_world(file, world));
        (keys, place)
    };
    let place = match place {
        Ok(place) => Some(place),
        Err(found) => {
            faults.0.extend(found.0);
            None
        }
    };
    let Some(place) = place.filter(|_| faults.0.is_empty()) else { return Err(faults) };
    let crs = match (keys.crs(), prj) {
        (LayerCrs::Unknown, Some(prj)) if !prj.trim().is_empty() => {
            LayerCrs::Prj(prj.trim().to_owned())
        }
        (crs, _) => crs,
    };
    if crs == LayerCrs::Unknown {
        warnings.push(match &keys.citation {
            Some(name) => format!(
                "its coordinate reference system has no code; it calls it `{name}`: say which it \
                 is with `--crs EPSG:n`"
            ),
            None => {
                "it states no coordinate reference system: say which with `--crs EPSG:n`".to_owned()
            }
        });
    }
    let mut tags = Tags { tiff: &mut tiff };
    let nodata = tags.text(Tag::GdalNodata).and_then(|text| nodata(&text));
    let about = tags.text(Tag::Unknown(42_112)).map(|text| About::read(file, &text));
    let about = about.unwrap_or_default();
    let image = tiff.read_image().map_err(wrong)?;
    let single = about.line.is_none() && matches!(image, DecodingResult::F32(_));
    let mut values = numbers(image, nodata);
    values.resize(width as usize * height as usize, f64::NAN);
    if let Some((scale, offset)) = about.line {
        warnings.push(format!(
            "values are multiplied by {scale} and raised by {offset}, as the file says"
        ));
        for value in &mut values {
            *value = *value * scale + offset;
        }
    }
    let mut raster = Raster {
        file: file.to_owned(),
        crs,
        width: width as usize,
        height: height as usize,
        origin: place.corner,
        cell: (place.cell.0, place.cell.1.abs()),
        values,
        unit: keys.vertical_unit.or(about.unit),
        single,
        warnings,
    };
    if place.cell.1 > 0.0 {
        turn_over(&mut raster);
    }
    check(&keys, &raster)?;
    Ok(raster)
}

/// The first row was the southernmost.
fn turn_over(raster: &mut Raster) {
    let width = raster.width.max(1);
    let rows: Vec<f64> = raster.values.chunks(width).rev().flatten().copied().collect();
    raster.values = rows;
    raster.origin.y += raster.height as f64 * raster.cell.1;
}

fn check(keys: &keys::Keys, raster: &Raster) -> Result<(), Faults> {
    if raster.range().is_none() {
        return Err(Fault::file(&raster.file, "at least one cell with a value")
            .found("no data in any cell")
            .hint("check that the right raster was exported")
            .into());
    }
    let corners = [
        raster.origin,
        Coord {
            x: raster.origin.x + raster.width as f64 * raster.cell.0,
            y: raster.origin.y - raster.height as f64 * raster.cell.1,
        },
    ];
    for corner in corners {
        let found = format!("{}, {}", corner.x, corner.y);
        if !(corner.x.is_finite() && corner.y.is_finite()) {
            return Err(Fault::file(&raster.file, "corners that are numbers").found(found).into());
        }
        if keys.model == Some(Model::Geographic)
            && let Some((expected, hint)) = degrees_fault(corner.x, corner.y)
        {
            return Err(Fault::file(&raster.file, expected).found(found).hint(hint).into());
        }
    }
    Ok(())
}

/// Where the raster lies: outer corner of its first cell, and the cell; its height below zero
/// where rows run south, as they nearly always do.
#[derive(Debug, Clone, Copy)]
struct Place {
    corner: Coord<f64>,
    cell: (f64, f64),
}

/// The six lines of a world file: cell width, two rotations, cell height, centre of the first
/// cell.
fn from_world(file: &str, world: Option<&str>) -> Result<Place, Faults> {
    let lines: Option<Vec<f64>> = world
        .map(|text| text.split_whitespace().map(|line| parse_number(line, false)).collect())
        .unwrap_or_default();
    let Some([width, across, down, height, x, y]) = lines.as_deref() else {
        return Err(Fault::file(file, "a raster that says where it lies")
            .found("neither a position in the file nor a world file (.tfw) beside it")
            .hint(
                "export it again as GeoTIFF, or put the .tfw that came with it into the same \
                 folder; a picture without a position can lie under the lake as a background",
            )
            .into());
    };
    affine(file, [*width, *down, *x, *across, *height, *y], Sampling::Point)
}

/// `x = a·column + b·row + c`, `y = d·column + e·row + f`.
fn affine(file: &str, [a, b, c, d, e, f]: [f64; 6], sampling: Sampling) -> Result<Place, Faults> {
    let straight = b.abs() <= a.abs() * 1e-9 && d.abs() <= e.abs() * 1e-9;
    let sound = [a, e, c, f].iter().all(|n| n.is_finite()) && a > 0.0 && e.abs() > 0.0;
    if !straight || !sound {
        return Err(Fault::file(
            file,
            "a raster whose rows run west to east, with cells of a size",
        )
        .found(format!("cells of {a}, {d} by {b}, {e}"))
        .hint("warp it to a north-up raster in a general GIS program")
        .into());
    }
    let half = if sampling == Sampling::Point { 0.5 } else { 0.0 };
    Ok(Place { corner: Coord { x: c - half * a, y: f - half * e }, cell: (a, e) })
}

/// The number a file gives for "no data": `-9999`, `nan`, `-3.40282299999999995e+38`.
fn nodata(text: &str) -> Option<f64> {
    text.trim_matches(['\0', ' ', '\n', '\r']).parse().ok()
}

/// The values as numbers, "no data" as not-a-number. A `float` is compared as a `float`: programs
/// write its number with more digits than it has, or with fewer.
fn numbers(values: DecodingResult, nodata: Option<f64>) -> Vec<f64> {
    let exact = |value: f64| match nodata {
        Some(none) if value.to_bits() == none.to_bits() || (value - none).abs() < 0.5e-9 => {
            f64::NAN
        }
        _ => value,
    };
    let float = |value: f32| {
        let none = nodata.is_some_and(|none| {
            let none = none as f32;
            (value - none).abs() <= none.abs() * f32::EPSILON
        });
        if none { f64::NAN } else { f64::from(value) }
    };
    let all: Vec<f64> = match values {
        DecodingResult::U8(all) => all.into_iter().map(|v| exact(f64::from(v))).collect(),
        DecodingResult::U16(all) => all.into_iter().map(|v| exact(f64::from(v))).collect(),
        DecodingResult::U32(all) => all.into_iter().map(|v| exact(f64::from(v))).collect(),
        DecodingResult::U64(all) => all.into_iter().map(|v| exact(v as f64)).collect(),
        DecodingResult::I8(all) => all.into_iter().map(|v| exact(f64::from(v))).collect(),
        DecodingResult::I16(all) => all.into_iter().map(|v| exact(f64::from(v))).collect(),
        DecodingResult::I32(all) => all.into_iter().map(|v| exact(f64::from(v))).collect(),
        DecodingResult::I64(all) => all.into_iter().map(|v| exact(v as f64)).collect(),
        DecodingResult::F16(all) => all.into_iter().map(|v| float(v.to_f32())).collect(),
        DecodingResult::F32(all) => all.into_iter().map(float).collect(),
        DecodingResult::F64(all) => all.into_iter().map(exact).collect(),
    };
    all.into_iter().map(|value| if value.abs() < BEYOND { value } else { f64::NAN }).collect()
}

/// What `GDAL_METADATA` says of the values: a line to put them on, and their unit.
#[derive(Debug, Default)]
struct About {
    line: Option<(f64, f64)>,
    unit: Option<LengthUnit>,
}

impl About {
    fn read(file: &str, text: &str) -> Self {
        let Ok(root) = xml::parse(file, text.trim_matches(['\0', ' ', '\n']).as_bytes()) else {
            return Self::default();
        };
        let role = |role: &str| {
            root.all("Item").find(|item| item.attribute("role") == Some(role)).map(xml::Node::text)
        };
        let number = |name: &str| role(name).and_then(|text| parse_number(text, false));
        let (scale, offset) = (number("scale").unwrap_or(1.0), number("offset").unwrap_or(0.0));
        let plain = (scale - 1.0).abs() < f64::EPSILON && offset.abs() < f64::EPSILON;
        Self {
            line: (!plain && scale.abs() > 0.0).then_some((scale, offset)),
            unit: role("unittype").and_then(|unit| unit.parse().ok()),
        }
    }
}

/// Tags of the first image; one that is missing or broken is none.
struct Tags<'a, 'b> {
    tiff: &'a mut Decoder<Cursor<&'b [u8]>>,
}

impl Tags<'_, '_> {
    fn numbers(&mut self, tag: Tag) -> Option<Vec<f64>> {
        self.tiff.get_tag_f64_vec(tag).ok()
    }

    fn words(&mut self, tag: Tag) -> Option<Vec<u16>> {
        self.tiff.get_tag_u16_vec(tag).ok()
    }

    fn text(&mut self, tag: Tag) -> Option<String> {
        self.tiff.get_tag_ascii_string(tag).ok()
    }
}
