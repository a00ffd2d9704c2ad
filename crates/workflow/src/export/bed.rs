//! The lake's bed in open formats: depths as a raster, contours as lines.

use crate::error::{Error, Result};
use crate::ground::Ground;
use exchange::Value;
use exchange::export::ExportFeature;
use exchange::geotiff_out::{GridOut, to_geotiff};
use geo_types::{Coord, Geometry};
use lakebed::{DepthModel, contour_lines, usual_depths};
use lakebook::LakeBook;
use std::path::Path;
use units::Metres;

/// What of the bed is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BedFormat {
    /// The cells of the depth model, metres downwards, as a GeoTIFF in the working system.
    GeoTiff,
    /// Contours at the depths of the hypsographic table, as GeoJSON lines.
    Contours,
}

/// The bytes of the file.
///
/// # Errors
/// When the book has no outline or no depths, or its working system has no code a GeoTIFF can name.
pub fn bed(book: &LakeBook, format: BedFormat) -> Result<Vec<u8>> {
    let ground = Ground::of(book)?;
    ground.need_outline()?;
    let model = ground.model.as_ref().ok_or_else(|| {
        Error::input(format!("`{}` has no depths yet", ground.lake.name))
            .hint("add them with `quillwort add BOOK depths FILE`")
    })?;
    match format {
        BedFormat::GeoTiff => raster(&ground, model),
        BedFormat::Contours => contours(&ground, model),
    }
}

#[expect(clippy::cast_possible_truncation, reason = "a raster keeps depths in 32 bits")]
fn raster(ground: &Ground, model: &DepthModel) -> Result<Vec<u8>> {
    let epsg = ground.crs.code().and_then(|code| u16::try_from(code).ok()).ok_or_else(|| {
        Error::input(format!("a GeoTIFF cannot name the working system {}", ground.crs.label()))
            .hint("make the book with another system: `quillwort new … --crs EPSG:n`")
    })?;
    let grid = model.grid();
    let (columns, rows) = (grid.columns(), grid.rows());
    let unit = ground.crs.metres_per_unit();
    let (corner, side) = (grid.corner(), grid.cell().metres());
    let values = (0..rows)
        .rev()
        .flat_map(|row| (0..columns).map(move |column| grid.get(column, row)))
        .map(|cell| cell.map(|cell| cell.depth.metres() as f32))
        .collect();
    Ok(to_geotiff(&GridOut {
        epsg,
        corner: Coord { x: corner.x / unit, y: (corner.y + rows as f64 * side) / unit },
        cell: side / unit,
        columns,
        values,
    }))
}

fn contours(ground: &Ground, model: &DepthModel) -> Result<Vec<u8>> {
    let depths: Vec<Metres> = usual_depths(model.max_depth(), ground.lake.units)
        .into_iter()
        .filter(|depth| Metres::new(0.0) < *depth)
        .collect();
    let mut features = Vec::new();
    for set in contour_lines(model, &depths) {
        if set.lines.0.is_empty() {
            continue;
        }
        let lines = ground
            .crs
            .unproject_geometry(&set.lines)
            .map_err(|error| Error::fault(error.to_string()))?;
        let round = |value: f64| Value::Number((value * 1e4).round() / 1e4);
        features.push(ExportFeature {
            name: None,
            geometry: Geometry::MultiLineString(lines),
            properties: vec![
                ("depth_m".to_owned(), round(set.depth.metres())),
                ("depth_ft".to_owned(), round(set.depth.feet())),
            ],
        });
    }
    let name = format!("{}, contours", ground.lake.name);
    Ok(exchange::geojson_out::to_geojson(&name, &features)?.into_bytes())
}

/// Writes the bed to a file.
///
/// # Errors
/// As [`bed`], and when the file cannot be written.
pub fn bed_to(book: &LakeBook, format: BedFormat, path: &Path) -> Result<()> {
    let bytes = bed(book, format)?;
    let cannot = |error: std::io::Error| {
        Error::input(format!("`{}` cannot be written: {error}", path.display()))
            .hint("name a file in a folder that is there, with `-o FILE`")
    };
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        std::fs::create_dir_all(folder).map_err(cannot)?;
    }
    std::fs::write(path, bytes).map_err(cannot)
}
