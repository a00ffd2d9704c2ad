//! Where a file's numbers fall: its reference system found, its places checked against the lake.

use crate::error::{Error, Result};
use exchange::{FileKind, Layer, LayerCrs, ReadOptions};
use geo_types::{Coord, Geometry, Rect, coord};
use lakebed::{Crs, Outline, Surroundings, diagnose, strays};
use std::path::Path;
use units::Metres;

/// Reads what a user types for a reference system: `EPSG:3071`, `epsg 3071` or `3071`.
///
/// # Errors
/// When it is no number, or a system nobody here can compute in.
pub(crate) fn crs_from_words(text: &str) -> Result<Crs> {
    let digits = text.trim().to_ascii_lowercase();
    let digits = digits.strip_prefix("epsg").unwrap_or(&digits).trim_start_matches([':', ' ']);
    let code: u32 = digits.parse().ok().ok_or_else(|| {
        Error::input(format!("reference system `{text}` is not an EPSG code"))
            .hint("write it as `EPSG:3071`; the file's origin usually names it")
    })?;
    Crs::from_epsg(code).map_err(|error| Error::input(error.to_string()).hint(error.hint()))
}

/// Reads a layer, with the system the user named.
///
/// # Errors
/// All faults of the file at once, or an unknown system.
pub(crate) fn read_layer(
    path: &Path,
    layer: Option<&str>,
    crs: Option<&str>,
) -> Result<(Layer, Crs)> {
    read_layer_as(path, layer, crs, false)
}

/// A file of positions no place on Earth has, as when the two axes are swapped, read as it stands
/// when one slip explains where they are.
///
/// # Errors
/// With the reader's own words where none does.
pub(crate) fn read_slipped(
    path: &Path,
    layer: Option<&str>,
    crs: Option<&str>,
    around: Option<&Surroundings>,
) -> Result<(Layer, Crs)> {
    read_layer(path, layer, crs).or_else(|refusal| {
        let Some(around) = around else { return Err(refusal) };
        match read_layer_as(path, layer, crs, true) {
            Ok((layer, crs)) => {
                let native: Vec<_> =
                    layer.features.iter().flat_map(|one| coordinates(&one.geometry)).collect();
                let explained = diagnose(&native, &crs, around)
                    .is_some_and(|diagnosis| diagnosis.unexplained.is_empty());
                if explained { Ok((layer, crs)) } else { Err(refusal) }
            }
            Err(_) => Err(refusal),
        }
    })
}

fn read_layer_as(
    path: &Path,
    layer: Option<&str>,
    crs: Option<&str>,
    unjudged: bool,
) -> Result<(Layer, Crs)> {
    let named = crs.map(crs_from_words).transpose()?;
    let options = ReadOptions {
        layer: layer.map(str::to_owned),
        crs: named.as_ref().and_then(Crs::code).map(LayerCrs::Epsg),
        unjudged,
    };
    let read = match FileKind::of_file(path)? {
        FileKind::Sqlite => crate::add::geopackage::read(path, layer)?,
        _ => exchange::read_layer(path, &options)?,
    };
    let crs = match named {
        Some(crs) => crs,
        None => layer_crs(&read)?,
    };
    Ok((read, crs))
}

fn layer_crs(layer: &Layer) -> Result<Crs> {
    let say = |error: lakebed::CrsError| {
        Error::input(format!("`{}`: {error}", layer.file)).hint(error.hint())
    };
    match &layer.crs {
        LayerCrs::Wgs84 => Ok(Crs::wgs84()),
        LayerCrs::Epsg(code) => Crs::from_epsg(*code).map_err(say),
        LayerCrs::Prj(text) => Crs::from_prj(text).map_err(say),
        LayerCrs::Unknown => {
            let degrees = layer
                .features
                .iter()
                .flat_map(|feature| coordinates(&feature.geometry))
                .all(|at| at.x.abs() <= 180.0 && at.y.abs() <= 180.0);
            if degrees {
                return Ok(Crs::wgs84());
            }
            Err(Error::input(format!(
                "`{}` does not say in which reference system its coordinates are",
                layer.file
            ))
            .hint("say it with `--crs EPSG:n`; a shapefile's `.prj` file, when kept beside it, says it too"))
        }
    }
}

/// Every coordinate of a geometry.
pub(crate) fn coordinates(geometry: &Geometry<f64>) -> Vec<Coord<f64>> {
    use geo_types::Geometry as G;
    let line = |line: &geo_types::LineString<f64>| line.0.clone();
    let polygon = |polygon: &geo_types::Polygon<f64>| -> Vec<Coord<f64>> {
        std::iter::once(polygon.exterior()).chain(polygon.interiors()).flat_map(line).collect()
    };
    match geometry {
        G::Point(point) => vec![point.0],
        G::Line(line) => vec![line.start, line.end],
        G::LineString(one) => line(one),
        G::Polygon(one) => polygon(one),
        G::MultiPoint(points) => points.iter().map(|point| point.0).collect(),
        G::MultiLineString(lines) => lines.iter().flat_map(line).collect(),
        G::MultiPolygon(polygons) => polygons.iter().flat_map(polygon).collect(),
        G::GeometryCollection(all) => all.iter().flat_map(coordinates).collect(),
        G::Rect(rect) => polygon(&rect.to_polygon()),
        G::Triangle(triangle) => polygon(&triangle.to_polygon()),
    }
}

/// Where data of the lake may lie: around its outline, else in North America when its region is a
/// state there, else anywhere.
pub(crate) fn surroundings(outline: Option<&Outline>, region: &str) -> Option<Surroundings> {
    match outline {
        Some(outline) => Some(Surroundings::of(outline)),
        None if region.len() == 2 => {
            let continent = Rect::new(coord! {x: -180.0, y: 15.0}, coord! {x: -52.0, y: 72.0});
            Some(Surroundings::around(continent, Metres::new(1.0)))
        }
        None => None,
    }
}

/// A slip that is corrected on the way in, and how it is told.
pub(crate) struct Mended {
    slip: lakebed::Slip,
    /// What was done.
    pub(crate) words: String,
}

impl Mended {
    /// A geometry in longitude and latitude, its stray positions corrected.
    ///
    /// # Errors
    /// For a position that neither the file's system nor the correction brings to Earth.
    pub(crate) fn mend(
        &self,
        file: &str,
        geometry: &Geometry<f64>,
        crs: &Crs,
        around: Option<&Surroundings>,
    ) -> Result<Geometry<f64>> {
        use geo::MapCoords;
        geometry.try_map_coords(|at| {
            let read = crs.native_to_lon_lat(at).ok();
            let home = read.filter(|place| around.is_none_or(|around| around.holds(*place)));
            let place = home.or_else(|| self.slip.correct(at, crs)).or(read);
            place.map(lakebed::coord_of).ok_or_else(|| {
                Error::input(format!("`{file}`: `{}, {}` is nowhere on Earth", at.x, at.y))
                    .hint("correct the position, or delete it")
            })
        })
    }
}

/// Where numbers fall, in words: the middle, and how far from the lake.
fn falls(native: &[Coord<f64>], crs: &Crs, around: &Surroundings) -> String {
    use geo::{Distance, Geodesic, Point};
    let places: Vec<_> = native.iter().filter_map(|at| crs.native_to_lon_lat(*at).ok()).collect();
    let Some(first) = places.first() else { return "it falls nowhere on Earth".to_owned() };
    let count = places.len() as f64;
    let sum =
        places.iter().map(|place| lakebed::coord_of(*place)).fold(Coord::zero(), |a, b| a + b);
    let middle = units::LonLat::new(sum.x / count, sum.y / count).unwrap_or(*first);
    let far = around.centre().map(|centre| {
        let point = |place| Point(lakebed::coord_of(place));
        Geodesic.distance(point(middle), point(centre)) / 1_000.0
    });
    match far {
        Some(far) => format!("it falls around {middle}, {far:.0} km from the lake"),
        None => format!("it falls around {middle}"),
    }
}

/// Looks at coordinates that land outside the lake's surroundings: refuses them and names the likely
/// slip, or hands it out to be corrected.
///
/// # Errors
/// With the corrected place when one slip explains it.
pub(crate) fn slip(
    file: &str,
    native: &[Coord<f64>],
    crs: &Crs,
    around: Option<&Surroundings>,
    fix: bool,
) -> Result<Option<Mended>> {
    let Some(around) = around else { return Ok(None) };
    let Some(diagnosis) = diagnose(native, crs, around) else {
        return refuse_strays(file, native, crs, Some(around)).map(|()| None);
    };
    if fix {
        let words = format!("corrected on the way in: {diagnosis}");
        return Ok(Some(Mended { slip: diagnosis.slip, words }));
    }
    Err(Error::input(format!("`{file}`: {diagnosis}\n{}", falls(native, crs, around))).hint(
        format!("{}, or add `--fix` to have it corrected on the way in", diagnosis.slip.hint()),
    ))
}

/// Refuses coordinates that land outside the lake's surroundings, and names the likely slip.
///
/// # Errors
/// With the corrected place when one slip explains it.
pub(crate) fn refuse_strays(
    file: &str,
    native: &[Coord<f64>],
    crs: &Crs,
    around: Option<&Surroundings>,
) -> Result<()> {
    let Some(around) = around else { return Ok(()) };
    if let Some(diagnosis) = diagnose(native, crs, around) {
        return Err(Error::input(format!("`{file}`: {diagnosis}")).hint(diagnosis.slip.hint()));
    }
    let stray = strays(native, crs, around);
    // a launch far away or a landmark on the horizon is no reason to refuse a whole file
    if stray.len() * 10 <= native.len() && native.len() > 10 {
        return Ok(());
    }
    refuse_far(file, native, crs, &stray)
}

/// Leaves the points of a log out that it wrote away from the lake.
///
/// # Errors
/// When all of them are.
pub(crate) fn leave_out_far(
    layer: &mut Layer,
    native: &[Coord<f64>],
    crs: &Crs,
    around: Option<&Surroundings>,
) -> Result<()> {
    let Some(around) = around else { return Ok(()) };
    let stray = strays(native, crs, around);
    if stray.len() == native.len() {
        return refuse_far(&layer.file, native, crs, &stray);
    }
    let mut index = 0;
    let skipped = &mut layer.skipped;
    layer.features.retain(|feature| {
        let far = stray.binary_search(&index).is_ok();
        index += 1;
        if far {
            let reason = "it was logged away from the lake".to_owned();
            skipped.push(exchange::Skipped { row: feature.row, reason });
        }
        !far
    });
    Ok(())
}

fn refuse_far(file: &str, native: &[Coord<f64>], crs: &Crs, stray: &[usize]) -> Result<()> {
    let Some(&first) = stray.first() else { return Ok(()) };
    let at = native[first];
    let place = crs.native_to_lon_lat(at).map_or_else(
        |_| "which is nowhere on Earth".to_owned(),
        |place| format!("which is {place}"),
    );
    Err(Error::input(format!(
        "`{file}`: {} of {} positions lie outside the lake's surroundings, the first `{}, {}`, {place}",
        stray.len(),
        native.len(),
        at.x,
        at.y
    ))
    .hint("check that the file is of this lake, and name its system with `--crs EPSG:n`"))
}

/// A geometry of the file in longitude and latitude.
///
/// # Errors
/// When the system cannot hold it.
pub(crate) fn to_lon_lat(file: &str, geometry: &Geometry<f64>, crs: &Crs) -> Result<Geometry<f64>> {
    crs.native_geometry_to_lon_lat(geometry)
        .map_err(|error| Error::input(format!("`{file}`: {error}")).hint(error.hint()))
}
