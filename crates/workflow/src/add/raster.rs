use super::{AddOptions, file_name};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::place;
use crate::views::AddView;
use exchange::{FileKind, LayerCrs};
use geo_types::Coord;
use lakebed::Crs;
use lakebook::{DataSet, DataSetContent, LakeBook};
use std::path::Path;
use units::LengthUnit;

/// Cells beyond this many make a book nobody can copy to a stick.
const MOST_CELLS: usize = 2_000_000;

/// True when the file is a raster.
pub(super) fn is_raster(path: &Path) -> Result<bool> {
    Ok(FileKind::of_file(path)? == FileKind::Tiff)
}

/// A raster of depths, or of the bed's elevation when the level of the water is said.
pub(super) fn add(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let raster = exchange::read_raster(path)?;
    let ground = Ground::of(book)?;
    ground.need_outline()?;
    let crs = match (&options.crs, &raster.crs) {
        (Some(words), _) => place::crs_from_words(words)?,
        (None, LayerCrs::Wgs84) => Crs::wgs84(),
        (None, LayerCrs::Epsg(code)) => {
            Crs::from_epsg(*code).map_err(|error| told(&raster.file, &error))?
        }
        (None, LayerCrs::Prj(text)) => {
            Crs::from_prj(text).map_err(|error| told(&raster.file, &error))?
        }
        (None, LayerCrs::Unknown) => {
            return Err(Error::input(format!(
                "`{}` does not say its reference system",
                raster.file
            ))
            .hint("say it with `--crs EPSG:n`"));
        }
    };
    let unit = options.unit.or(raster.unit).unwrap_or(LengthUnit::Metre);
    let values: Vec<(Coord<f64>, f64)> = raster.cells().collect();
    if values.is_empty() {
        return Err(Error::input(format!("`{}` has no cell with a value", raster.file))
            .hint("the file may hold nothing but its no-data value; export it again"));
    }
    if values.len() > MOST_CELLS {
        return Err(Error::input(format!(
            "`{}` has {} cells, more than {MOST_CELLS}",
            raster.file,
            values.len()
        ))
        .hint("cut it to the lake, or make its cells larger, in a GIS"));
    }
    let least = values.iter().map(|(_, value)| *value).fold(f64::INFINITY, f64::min);
    let most = values.iter().map(|(_, value)| *value).fold(f64::NEG_INFINITY, f64::max);
    if options.surface.is_none() && least > 0.5 * most && least * unit.metres() > 10.0 {
        return Err(Error::input(format!(
            "`{}` holds values from {least:.1} to {most:.1}, which look like elevations and not depths",
            raster.file
        ))
        .hint("say the elevation of the water with `--surface`, in the same unit"));
    }
    let depth =
        |value: f64| unit.metres() * options.surface.map_or(value, |surface| surface - value);
    let native: Vec<Coord<f64>> = values.iter().map(|(at, _)| *at).collect();
    let around = place::surroundings(ground.outline.as_ref(), &ground.lake.region);
    place::refuse_strays(&raster.file, &native, &crs, around.as_ref())?;
    let mut points = Vec::with_capacity(values.len());
    for (at, value) in &values {
        // land in a raster of elevations stands above the water
        let depth = depth(*value);
        if depth < 0.0 && options.surface.is_some() {
            continue;
        }
        let place = crs.native_to_lon_lat(*at).map_err(|error| told(&raster.file, &error))?;
        points.push((place.longitude(), place.latitude(), depth));
    }
    let mut view = AddView {
        crs: crs.label(),
        read: values.len(),
        stored: points.len(),
        depth_m: points.iter().map(|(_, _, depth)| *depth).fold(None, |range, depth| match range {
            None => Some([depth, depth]),
            Some([low, high]) => Some([f64::min(low, depth), f64::max(high, depth)]),
        }),
        warnings: raster.warnings.clone(),
        ..AddView::default()
    };
    let note = options
        .surface
        .map(|surface| format!("bed elevations below a water surface at {surface} {}", unit.sign()))
        .unwrap_or_default();
    let set = DataSet {
        name: file_name(path),
        unit: unit.sign().to_owned(),
        crs: crs.label(),
        content: DataSetContent::Soundings(points),
        note,
    };
    let candidate = Ground::with_candidate(book, &set)?;
    if let Some(model) = &candidate.model {
        view.warnings.extend(model.findings().iter().map(ToString::to_string));
    }
    if !options.preview {
        book.put_data_set(&set, &format!("added {} cells of {}", view.stored, set.name))?;
    }
    Ok(view)
}

fn told(file: &str, error: &lakebed::CrsError) -> Error {
    Error::input(format!("`{file}`: {error}")).hint(error.hint())
}
