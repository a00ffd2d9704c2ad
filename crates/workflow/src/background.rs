//! Scanned maps under the lake: placed by control points, shown warped, traced over.

mod points;

use self::points::{far, footprint, refuse_unfit};
use crate::add::{Placed, file_name};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::place;
use crate::views::{AddView, BackgroundView, ControlPointView};
use exchange::{Feature, Layer, LayerCrs, Picture, PictureFile, ReadOptions};
use geo::MapCoords;
use geo_types::{Coord, Geometry};
use lakebed::{ControlPoint, Crs, Georeference, Warp};
use lakebook::{Background, DataSet, DataSetContent, LakeBook, PlacedPixel};
use std::path::{Path, PathBuf};
use survey::Id;
use units::LonLat;

/// What the user says about a picture.
#[derive(Debug, Clone, Default)]
pub struct BackgroundOptions {
    /// Table of control points: name, `pixel_x`, `pixel_y`, and a position.
    pub points: PathBuf,
    /// System of the positions, when they are no degrees.
    pub crs: Option<String>,
    /// How pixels become places; `affine` when not said.
    pub warp: Option<String>,
    /// Page of a PDF, from 1.
    pub page: usize,
    /// Name; the file's when not said.
    pub name: Option<String>,
    /// Store nothing.
    pub preview: bool,
}

/// Headers of a pixel's place in the picture.
const PIXEL_X: [&str; 6] = ["pixel_x", "px", "image_x", "column", "col", "pixel x"];
const PIXEL_Y: [&str; 6] = ["pixel_y", "py", "image_y", "row", "line", "pixel y"];
const NAMES: [&str; 5] = ["name", "point", "place", "label", "id"];

/// Puts a picture under the lake.
///
/// # Errors
/// When the picture or the points cannot be read, when the points fix nothing, or when one of them
/// does not fit the others; nothing is stored then.
pub fn add_background(
    book: &mut LakeBook,
    path: &Path,
    options: &BackgroundOptions,
) -> Result<AddView> {
    let file = exchange::read_picture(path, options.page.max(1))?;
    let layer = place::read_layer(&options.points, None, options.crs.as_deref())?;
    put(book, &file_name(path), file, layer, options)
}

/// Puts a picture under the lake whose bytes and control points come from elsewhere than files;
/// `points` is a table as text.
///
/// # Errors
/// As [`add_background`].
pub fn add_picture(
    book: &mut LakeBook,
    name: &str,
    bytes: &[u8],
    points: &str,
    options: &BackgroundOptions,
) -> Result<AddView> {
    let file = exchange::read_picture_bytes(name, bytes, options.page.max(1))?;
    let read = ReadOptions::default();
    let layer = exchange::read_layer_bytes("control points", points.as_bytes(), &read)?;
    put(book, name, file, (layer, Crs::wgs84()), options)
}

/// A picture, or a page of a PDF, as PNG.
///
/// # Errors
/// When it cannot be read.
pub fn as_png(name: &str, bytes: &[u8], page: usize) -> Result<Vec<u8>> {
    let file = exchange::read_picture_bytes(name, bytes, page.max(1))?;
    Ok(match file.media_type {
        "image/png" => file.bytes,
        _ => file.picture.to_png()?,
    })
}

fn put(
    book: &mut LakeBook,
    file_name: &str,
    file: PictureFile,
    points: (Layer, Crs),
    options: &BackgroundOptions,
) -> Result<AddView> {
    let points_name = points.0.file.clone();
    let placed = read_points(points)?;
    let ground = Ground::shore_of(book)?;
    let crs = working(&ground, placed.first().map(|point| point.place));
    let warp = warp_of(options.warp.as_deref())?;
    let points_file = points_name;
    let fit = fit(&points_file, &placed, warp, &crs)?;
    let unfit = refuse_unfit(&points_file, &fit, &crs);
    let doubt = match unfit {
        // a preview tells which point it is and goes on
        Err(error) if options.preview => Some(error),
        other => other.map(|()| None)?,
    };
    let (width, height) = (file.picture.width, file.picture.height);
    // what one wild point does to the rest says less than which point it is
    let (footprint, doubt) =
        match (footprint(&points_file, &placed, &fit, (width, height), &ground, &crs), doubt) {
            (Err(_), Some(doubt)) => return Err(doubt),
            (found, doubt) => (found?, doubt),
        };
    let name = options.name.clone().unwrap_or_else(|| file_name.to_owned());
    let known = book.backgrounds()?.into_iter().find(|one| one.name == name);
    let mut view = AddView {
        kind: "background".to_owned(),
        file: file_name.to_owned(),
        preview: options.preview,
        crs: crs.label(),
        read: placed.len(),
        stored: usize::from(!options.preview),
        extent: geo::BoundingRect::bounding_rect(&footprint)
            .map(|rect| [rect.min().x, rect.min().y, rect.max().x, rect.max().y]),
        control_points: point_views(&fit),
        warp: Some(warp.key().to_owned()),
        residual_m: Some(fit.root_mean_square().metres()),
        ..AddView::default()
    };
    view.warnings = remarks(&fit, &placed, &crs, file.pages, options.page.max(1));
    if options.preview {
        view.place = crs
            .project_geometry(&footprint)
            .ok()
            .and_then(|edge| geo::BoundingRect::bounding_rect(&edge))
            .map(|rect| [rect.min().x, rect.min().y, rect.max().x, rect.max().y]);
        if let Some(doubt) = doubt {
            let hint = doubt.hint.map_or_else(String::new, |hint| format!(": {hint}"));
            view.warnings.insert(0, format!("{}{hint}", doubt.message));
        }
        return Ok(view);
    }
    let set = DataSet {
        name: file_name.to_owned(),
        unit: String::new(),
        crs: crs.label(),
        content: DataSetContent::Raster(file.bytes),
        note: format!("picture {}", file.media_type),
    };
    let mut background = Background {
        id: known.map_or_else(|| book.new_id(), |one| one.id),
        name: name.clone(),
        data_set: String::new(),
        width,
        height,
        warp: warp.key().to_owned(),
        points: placed,
        residual_m: fit.root_mean_square().metres(),
        footprint,
        note: String::new(),
    };
    book.transact(&format!("put {name} under the lake"), |writer| {
        background.data_set = writer.put_data_set(&set)?;
        writer.put_background(&background)
    })?;
    Ok(view)
}

/// The system pictures are placed in: the lake's, or the UTM zone of a place when it has no shore
/// yet.
fn working(ground: &Ground, place: Option<LonLat>) -> Crs {
    if ground.crs.is_geographic() {
        place.map_or_else(|| ground.crs.clone(), Crs::utm_for)
    } else {
        ground.crs.clone()
    }
}

fn warp_of(word: Option<&str>) -> Result<Warp> {
    let Some(word) = word else { return Ok(Warp::Affine) };
    Warp::from_key(word.trim()).ok_or_else(|| {
        Error::input(format!("the transform `{word}` is not known"))
            .hint("one of `affine`, `projective`, `thin-plate`")
    })
}

/// Reads control points: pixels by their headers, positions as in any table of points.
fn read_points((layer, crs): (Layer, Crs)) -> Result<Vec<PlacedPixel>> {
    let file = layer.file.clone();
    if let Some(skipped) = layer.skipped.first() {
        return Err(Error::input(format!("`{file}` row {}: {}", skipped.row, skipped.reason))
            .hint("a control point needs its pixel and its position"));
    }
    let number = |feature: &Feature, names: &[&str]| {
        names.iter().find_map(|name| feature.attribute(name)).and_then(exchange::Value::number)
    };
    layer
        .features
        .iter()
        .enumerate()
        .map(|(index, feature)| {
            let Geometry::Point(point) = feature.geometry else {
                return Err(Error::input(format!("`{file}` row {} is no point", feature.row)));
            };
            let pixel = number(feature, &PIXEL_X).zip(number(feature, &PIXEL_Y));
            let (x, y) = pixel.ok_or_else(|| {
                Error::input(format!("`{file}` row {} has no pixel", feature.row)).hint(
                    "name the columns `pixel_x` and `pixel_y`, counted from the upper left corner",
                )
            })?;
            let place = crs.native_to_lon_lat(point.0).map_err(|error| {
                Error::input(format!("`{file}` row {}: {error}", feature.row)).hint(error.hint())
            })?;
            let name = NAMES
                .iter()
                .find_map(|name| feature.attribute(name))
                .map(|value| value.to_string().trim().to_owned())
                .filter(|name| !name.is_empty())
                .unwrap_or_else(|| (index + 1).to_string());
            Ok(PlacedPixel { name, x, y, place })
        })
        .collect()
}

fn fit(file: &str, placed: &[PlacedPixel], warp: Warp, crs: &Crs) -> Result<Georeference> {
    let points = placed
        .iter()
        .map(|point| {
            let place = crs.project(point.place).map_err(|error| {
                Error::input(format!("`{file}`, `{}`: {error}", point.name)).hint(error.hint())
            })?;
            Ok(ControlPoint {
                name: point.name.clone(),
                pixel: Coord { x: point.x, y: point.y },
                place,
            })
        })
        .collect::<Result<Vec<_>>>()?;
    Georeference::fit(&points, warp)
        .map_err(|error| Error::input(format!("`{file}`: {error}")).hint(error.hint()))
}

fn point_views(fit: &Georeference) -> Vec<ControlPointView> {
    let suspect = fit.suspect().map(|one| one.index);
    fit.points()
        .iter()
        .zip(fit.residuals())
        .enumerate()
        .map(|(index, (point, residual))| ControlPointView {
            suspect: suspect == Some(index),
            name: point.name.clone(),
            pixel: [point.pixel.x, point.pixel.y],
            place: [point.place.x, point.place.y],
            residual_m: residual.fitted.metres(),
            left_out_m: residual.left_out.map(units::Metres::metres),
        })
        .collect()
}

fn remarks(
    fit: &Georeference,
    placed: &[PlacedPixel],
    crs: &Crs,
    pages: usize,
    page: usize,
) -> Vec<String> {
    let mut remarks = Vec::new();
    if 1 < pages {
        remarks.push(format!("page {page} of {pages} was taken"));
    }
    if fit.residuals().iter().all(|residual| residual.left_out.is_none()) {
        remarks.push(
            "three points fix the picture exactly and cannot show a mistake: add a fourth"
                .to_owned(),
        );
    }
    let (across, down) = fit.pixel_size();
    if fit.warp() == Warp::Affine && 1.15 < fit.stretch() {
        remarks.push(format!(
            "a pixel covers {:.2} m one way and {:.2} m the other, as no flat scan does: check the points",
            across.metres(),
            down.metres()
        ));
    }
    let worst = fit
        .residuals()
        .iter()
        .enumerate()
        .filter_map(|(index, one)| one.left_out.map(|off| (index, off.metres())))
        .max_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((index, off)) = worst {
        remarks.push(format!(
            "the point that fits the others least is {} `{}`: they put it {} away",
            index + 1,
            fit.points()[index].name,
            far(off)
        ));
    }
    let other = [Warp::Affine, Warp::Projective, Warp::ThinPlate]
        .into_iter()
        .filter(|warp| *warp != fit.warp() && warp.least_points() < placed.len())
        .filter_map(|warp| {
            let other = self::fit("", placed, warp, crs).ok()?;
            Some((warp, left_out(&other)?))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1));
    if let (Some((warp, theirs)), Some(ours)) = (other, left_out(fit))
        && theirs < 0.6 * ours
        && 1.0 < ours
    {
        remarks.push(format!(
            "with `--warp {warp}` points left out would be off by {} instead of {}",
            far(theirs),
            far(ours)
        ));
    }
    remarks
}

/// Root mean square over the points, each left out.
fn left_out(fit: &Georeference) -> Option<f64> {
    let off: Option<Vec<f64>> =
        fit.residuals().iter().map(|one| one.left_out.map(units::Metres::metres)).collect();
    let off = off?;
    Some((off.iter().map(|off| off * off).sum::<f64>() / off.len() as f64).sqrt())
}

fn georeference(background: &Background, crs: &Crs) -> Result<Georeference> {
    let warp = Warp::from_key(&background.warp).ok_or_else(|| {
        Error::fault(format!("background `{}`: transform `{}`", background.name, background.warp))
    })?;
    fit(&background.name, &background.points, warp, crs)
}

fn named(book: &LakeBook, name: &str) -> Result<Background> {
    let all = book.backgrounds()?;
    let known: Vec<String> = all.iter().map(|one| format!("`{}`", one.name)).collect();
    all.into_iter()
        .find(|one| one.name.eq_ignore_ascii_case(name) || one.id.to_string() == name)
        .ok_or_else(|| {
            Error::not_found(format!("no background `{name}`")).hint(if known.is_empty() {
                "put one under the lake with `quillwort add BOOK background FILE --points POINTS.csv`"
                    .to_owned()
            } else {
                format!("there are {}", known.join(", "))
            })
        })
}

/// Every picture under the lake, in metres of the working system.
///
/// # Errors
/// When the book cannot be read.
pub fn backgrounds(book: &LakeBook, ground: &Ground) -> Result<Vec<BackgroundView>> {
    book.backgrounds()?
        .into_iter()
        .map(|one| {
            let crs = working(ground, one.points.first().map(|point| point.place));
            let fit = georeference(&one, &crs)?;
            let edge = crs
                .project_geometry(&one.footprint)
                .map_err(|error| Error::fault(error.to_string()))?;
            let extent = geo::BoundingRect::bounding_rect(&edge)
                .ok_or_else(|| Error::fault(format!("background `{}` has no edge", one.name)))?;
            Ok(BackgroundView {
                id: one.id.to_string(),
                name: one.name.clone(),
                sha256: one.data_set.clone(),
                size: [one.width, one.height],
                warp: one.warp.clone(),
                crs: crs.label(),
                extent: [extent.min().x, extent.min().y, extent.max().x, extent.max().y],
                residual_m: one.residual_m,
                control_points: point_views(&fit),
            })
        })
        .collect()
}

/// The bytes of a picture as they were added, with their media type.
///
/// # Errors
/// When there is no background of that name or key.
pub fn picture(book: &LakeBook, name: &str) -> Result<(Vec<u8>, &'static str)> {
    let background = named(book, name)?;
    match book.load_data_set(&background.data_set)? {
        DataSetContent::Raster(bytes) => {
            let media = if bytes.starts_with(b"\x89PNG") { "image/png" } else { "image/jpeg" };
            Ok((bytes, media))
        }
        _ => Err(Error::fault(format!("background `{}` is no picture", background.name))),
    }
}

/// Longest side of a picture drawn for the screen.
const LONGEST_SIDE: f64 = 2_400.0;
/// The transform is worked out at every so many pixels and straight between.
const STRIDE: usize = 16;

/// A picture drawn north up, as it lies on the extent of its [`BackgroundView`], as PNG; see-through
/// where the picture does not reach.
///
/// # Errors
/// When there is no background of that name or key.
pub fn drawn_north_up(book: &LakeBook, ground: &Ground, name: &str) -> Result<Vec<u8>> {
    let background = named(book, name)?;
    let (bytes, _) = picture(book, name)?;
    let source = exchange::read_picture_bytes(&background.name, &bytes, 1)?.picture;
    let crs = working(ground, background.points.first().map(|point| point.place));
    let fit = georeference(&background, &crs)?;
    let edge = crs
        .project_geometry(&background.footprint)
        .map_err(|error| Error::fault(error.to_string()))?;
    let extent = geo::BoundingRect::bounding_rect(&edge)
        .ok_or_else(|| Error::fault(format!("background `{}` has no edge", background.name)))?;
    let (across, down) = fit.pixel_size();
    let finest = across.metres().min(down.metres());
    let step = finest.max(extent.width().max(extent.height()) / LONGEST_SIDE);
    let (width, height) = (
        (extent.width() / step).ceil().max(1.0) as usize,
        (extent.height() / step).ceil().max(1.0) as usize,
    );
    let knots = |count: usize| count.div_ceil(STRIDE) + 1;
    let (columns, rows) = (knots(width), knots(height));
    let mut lattice = Vec::with_capacity(columns * rows);
    for row in 0..rows {
        for column in 0..columns {
            let (x, y) = ((column * STRIDE) as f64, (row * STRIDE) as f64);
            lattice.push(
                fit.to_pixel(Coord { x: extent.min().x + x * step, y: extent.max().y - y * step }),
            );
        }
    }
    let mut rgba = Vec::with_capacity(4 * width * height);
    for row in 0..height {
        for column in 0..width {
            let at = between(&lattice, columns, column, row);
            rgba.extend_from_slice(&source.sample(at.x, at.y).unwrap_or([0; 4]));
        }
    }
    let picture = Picture { width: width as u32, height: height as u32, rgba };
    Ok(picture.to_png()?)
}

/// The source's pixel for the middle of a pixel drawn, from the four knots around it.
fn between(lattice: &[Coord<f64>], columns: usize, column: usize, row: usize) -> Coord<f64> {
    let (left, top) = (column / STRIDE, row / STRIDE);
    let share = |at: usize| ((at % STRIDE) as f64 + 0.5) / STRIDE as f64;
    let (across, down) = (share(column), share(row));
    let knot = |x: usize, y: usize| lattice[(top + y) * columns + left + x];
    let upper = knot(0, 0) * (1.0 - across) + knot(1, 0) * across;
    let lower = knot(0, 1) * (1.0 - across) + knot(1, 1) * across;
    upper * (1.0 - down) + lower * down
}

/// Takes a picture away from under the lake.
///
/// # Errors
/// When there is no background of that name or key.
pub fn remove_background(book: &mut LakeBook, name: &str) -> Result<()> {
    let background = named(book, name)?;
    let id: Id = background.id;
    Ok(book.transact(&format!("took {} away from under the lake", background.name), |writer| {
        writer.delete_background(id)
    })?)
}

/// Reads a file whose coordinates are pixels of a background: shapes traced in a drawing program or
/// a GIS over the unplaced picture.
pub(crate) fn read_traced(
    book: &LakeBook,
    ground: &Ground,
    path: &Path,
    name: &str,
) -> Result<Placed> {
    let background = named(book, name)?;
    let crs = working(ground, background.points.first().map(|point| point.place));
    let fit = georeference(&background, &crs)?;
    // pixels are no degrees: naming a system keeps the reader from checking
    let options = ReadOptions { crs: crs.code().map(LayerCrs::Epsg), ..ReadOptions::default() };
    let mut layer = exchange::read_layer(path, &options)?;
    let all: Vec<Coord<f64>> =
        layer.features.iter().flat_map(|one| place::coordinates(&one.geometry)).collect();
    // a GIS counts rows of an unplaced picture down from nil
    let down = if all.iter().all(|at| at.y <= 0.0) { -1.0 } else { 1.0 };
    let (width, height) = (f64::from(background.width), f64::from(background.height));
    let off = |at: &Coord<f64>| {
        !((-0.5 * width..=1.5 * width).contains(&at.x)
            && (-0.5 * height..=1.5 * height).contains(&(down * at.y)))
    };
    if let Some(at) = all.iter().find(|at| off(at)) {
        return Err(Error::input(format!(
            "`{}`: `{}, {}` is no pixel of `{}`, which has {width} × {height}",
            layer.file, at.x, at.y, background.name
        ))
        .hint("trace over the picture in pixels, x to the right and y down; without `--on` the coordinates are taken as places"));
    }
    let shapes = layer
        .features
        .iter()
        .map(|feature| {
            let ground =
                feature.geometry.map_coords(|at| fit.to_ground(Coord { x: at.x, y: down * at.y }));
            crs.unproject_geometry(&ground)
                .map_err(|error| Error::input(error.to_string()).hint(error.hint()))
        })
        .collect::<Result<Vec<_>>>()?;
    layer.warnings.push(format!(
        "traced over `{}`, which fits its control points to {}",
        background.name,
        far(background.residual_m)
    ));
    Ok(Placed { layer, crs, shapes })
}
