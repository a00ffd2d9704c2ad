use super::water::Correction;
use super::{AddOptions, file_name, sketch};
use crate::error::{Error, Result};
use crate::ground::{Ground, in_metres};
use crate::place;
use crate::views::AddView;
use exchange::{FileKind, LayerCrs};
use geo_types::Coord;
use lakebed::Crs;
use lakebook::{DataSet, DataSetContent, DepthGrid, LakeBook, Surface};
use std::path::Path;
use survey::Lake;
use units::{LengthUnit, LonLat};

/// Cells beyond this many make a book nobody can copy to a stick.
const MOST_CELLS: usize = 2_000_000;

/// True when the file is a raster.
pub(super) fn is_raster(path: &Path) -> Result<bool> {
    Ok(FileKind::of_file(path)? == FileKind::Tiff)
}

/// A raster of depths, or of the bed's elevation when the level of the water is said.
#[expect(clippy::too_many_lines, reason = "one step after another, each told in its line")]
pub(super) fn add(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let raster = exchange::read_raster(path)?;
    let ground = Ground::shore_of(book)?;
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
    let said = options.unit.or(raster.unit);
    let unit = said.unwrap_or(LengthUnit::Metre);
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
    let correction = Correction::of(options, ground.lake.units);
    let turned = options.surface.is_none() && most <= 0.0 && least < 0.0;
    let depth = |value: f64| {
        let value = if turned { -value } else { value };
        unit.metres() * options.surface.map_or(value, |surface| surface - value) + correction.metres
    };
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
    if let Some(surface) = options.surface.filter(|_| points.is_empty()) {
        let sign = unit.sign();
        return Err(Error::input(format!(
            "`{}`: no cell lies below a water surface at {surface} {sign}; the cells go from {least:.1} to {most:.1} {sign}",
            raster.file
        ))
        .hint("say the elevation of the water with `--surface` and the raster's unit with `--unit ft` or `m`, both as its origin gives them"));
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
    if options.sketch {
        let wet = |depth: f64| options.surface.is_none() || 0.0 <= depth;
        sketch::raster(&mut view, &raster, &crs, |value| {
            Some(depth(value)).filter(|one| wet(*one))
        })
        .map_err(|error| told(&raster.file, &error))?;
    }
    if turned {
        view.warnings
            .push("the raster counts upwards; its heights below 0 were taken as depths".to_owned());
    }
    if said.is_none() && crs.metres_per_unit() < 0.5 {
        view.warnings.push(
            "the cells are taken as metres; when they are feet, as the raster's plane is, add `--unit ft`"
                .to_owned(),
        );
    }
    let dry = values.len() - points.len();
    if dry > 0 {
        view.warnings.push(format!("{dry} cells stand above the water and are left out"));
    }
    view.extent = extent(&points);
    view.warnings.extend(correction.words.iter().cloned());
    let surface = options.surface.map(|surface| {
        format!("bed elevations below a water surface at {surface} {}", unit.sign())
    });
    let content = match crs.code().filter(|_| !crs.is_geographic()) {
        Some(epsg) => DataSetContent::Raster(
            DepthGrid {
                epsg,
                corner: (raster.origin.x, raster.origin.y),
                cell: raster.cell,
                columns: raster.width as u32,
                depths: raster.values.iter().map(|value| depth(*value)).collect(),
                surface: options.surface.filter(|_| raster.single).map(|surface| Surface {
                    elevation: surface + correction.metres / unit.metres(),
                    metres_per_unit: unit.metres(),
                }),
            }
            .to_bytes(),
        ),
        // cells of a system without a code, or in degrees, are points and no more
        None => DataSetContent::Soundings(points),
    };
    let set = DataSet {
        name: file_name(path),
        unit: unit.sign().to_owned(),
        crs: crs.label(),
        content,
        note: surface.into_iter().chain(correction.words).collect::<Vec<_>>().join("; "),
    };
    let shore = match (&ground.outline, &set.content) {
        (None, DataSetContent::Raster(bytes)) => Some(shore_of(book, bytes, &set.name, &crs)?),
        (None, _) => {
            ground.need_outline()?;
            None
        }
        _ => None,
    };
    let Some((lake, outline, area)) = shore else {
        let candidate = Ground::with_candidate(book, &set)?;
        if let Some(model) = &candidate.model {
            view.warnings.extend(model.findings().iter().map(ToString::to_string));
        }
        if !options.preview {
            book.put_data_set(&set, &format!("added {} cells of {}", view.stored, set.name))?;
        }
        return Ok(view);
    };
    view.area_m2 = Some(area);
    view.warnings.push(
        "the lake had no outline: its shore was taken from the raster, along depth 0".to_owned(),
    );
    if !options.preview {
        book.transact(
            &format!("added {} cells of {}, and its shore", view.stored, set.name),
            |writer| {
                writer.put_lake(&lake)?;
                writer.put_outline(&outline)?;
                writer.put_data_set(&set).map(|_| ())
            },
        )?;
    }
    Ok(view)
}

fn extent(points: &[(f64, f64, f64)]) -> Option<[f64; 4]> {
    points.iter().fold(None, |extent, (x, y, _)| {
        let [west, south, east, north] = extent.unwrap_or([*x, *y, *x, *y]);
        Some([west.min(*x), south.min(*y), east.max(*x), north.max(*y)])
    })
}

/// The shore a raster shows, with the lake's header that goes with it and the area.
fn shore_of(
    book: &LakeBook,
    bytes: &[u8],
    name: &str,
    own: &Crs,
) -> Result<(Lake, lakebook::Outline, f64)> {
    let nothing = || {
        Error::input(format!("`{name}` shows no water, so no shore"))
            .hint("check the level of the water given with `--surface`, or add an outline first")
    };
    let raster = DepthGrid::from_bytes(bytes).and_then(in_metres).ok_or_else(nothing)?;
    let shape = lakebed::shore_of_raster(&raster.depths);
    let area = own.unproject_geometry(&shape).map_err(|error| told(name, &error))?;
    let middle = geo::BoundingRect::bounding_rect(&area).ok_or_else(nothing)?.center();
    let mut lake = book.lake()?;
    let crs = if lake.working_epsg == 0 {
        LonLat::new(middle.x, middle.y).map_or_else(|_| Crs::wgs84(), Crs::utm_for)
    } else {
        Crs::from_epsg(lake.working_epsg).map_err(|error| told(name, &error))?
    };
    let (outline, _) = lakebed::Outline::new(&area, &crs)
        .map_err(|error| Error::input(format!("`{name}`: the shore of the raster: {error}")))?;
    lake.working_epsg = crs.code().unwrap_or(0);
    let stored = lakebook::Outline {
        area: outline.lon_lat().clone(),
        source_file: name.to_owned(),
        sha256: lakebook::sha256_hex(bytes),
        note: "the line of depth 0 of the raster".to_owned(),
    };
    Ok((lake, stored, outline.area().square_metres()))
}

fn told(file: &str, error: &lakebed::CrsError) -> Error {
    Error::input(format!("`{file}`: {error}")).hint(error.hint())
}
