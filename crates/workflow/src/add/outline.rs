use super::{AddOptions, Placed, areas, file_name, read_placed};
use crate::error::{Error, Result};
use crate::views::AddView;
use exchange::{Feature, Value};
use geo_types::MultiPolygon;
use lakebed::{Crs, Outline};
use lakebook::LakeBook;
use std::path::Path;
use units::LonLat;

/// Words that tell a lake from its neighbours in a county's file.
fn names(feature: &Feature) -> Vec<String> {
    feature
        .attributes
        .iter()
        .filter_map(|(_, value)| match value {
            Value::Text(text) => Some(text.trim().to_owned()),
            _ => None,
        })
        .filter(|text| !text.is_empty())
        .collect()
}

/// Lower case, without the words that mean only "lake".
fn plain(name: &str) -> String {
    name.split(|c: char| !c.is_alphanumeric())
        .map(str::to_lowercase)
        .filter(|word| !["lake", "lk", "pond", ""].contains(&word.as_str()))
        .collect::<Vec<_>>()
        .join(" ")
}

/// The features that are the lake: the only one, the one named, or the one that bears its name.
fn choose(placed: &Placed, lake: &str, wanted: Option<&str>) -> Result<Vec<usize>> {
    let file = &placed.layer.file;
    let areal: Vec<usize> =
        (0..placed.shapes.len()).filter(|&index| areas(&placed.shapes[index]).is_some()).collect();
    if areal.is_empty() {
        return Err(Error::input(format!(
            "`{file}` holds no area, expected a shoreline as a polygon"
        ))
        .hint("close the shoreline in a GIS, or choose the file that holds the lake as an area"));
    }
    let bears = |index: usize, name: &str| {
        names(&placed.layer.features[index]).iter().any(|one| plain(one) == plain(name))
    };
    if let Some(wanted) = wanted {
        let found: Vec<usize> =
            areal.iter().copied().filter(|&index| bears(index, wanted)).collect();
        if found.is_empty() {
            return Err(Error::input(format!("`{file}` holds no area named `{wanted}`"))
                .hint(format!("it holds {}", list(placed, &areal))));
        }
        return Ok(found);
    }
    if areal.len() == 1 {
        return Ok(areal);
    }
    let found: Vec<usize> = areal.iter().copied().filter(|&index| bears(index, lake)).collect();
    if found.is_empty() {
        return Err(Error::input(format!(
            "`{file}` holds {} areas and none is named `{lake}`",
            areal.len()
        ))
        .hint(format!("choose one with `--layer NAME`: {}", list(placed, &areal))));
    }
    Ok(found)
}

fn list(placed: &Placed, areal: &[usize]) -> String {
    let mut all: Vec<String> = areal
        .iter()
        .filter_map(|&index| names(&placed.layer.features[index]).into_iter().next())
        .map(|name| format!("`{name}`"))
        .collect();
    all.dedup();
    if all.is_empty() {
        return "areas without names".to_owned();
    }
    let rest = all.len().saturating_sub(12);
    all.truncate(12);
    if rest > 0 {
        all.push(format!("and {rest} more"));
    }
    all.join(", ")
}

/// A shore drawn as a line, or walked around with a receiver, is an area once its ends meet: the gap
/// may be this share of the line's length.
const GAP: f64 = 0.02;

/// Closes lines into areas in a file that holds no area.
fn close_lines(placed: &mut Placed) {
    use geo::{Geodesic, Length};
    use geo_types::{Geometry, Line, LineString, Polygon};
    if placed.shapes.iter().any(|shape| areas(shape).is_some()) {
        return;
    }
    let mut closed = 0usize;
    for shape in &mut placed.shapes {
        let line: &LineString<f64> = match shape {
            Geometry::LineString(line) => line,
            Geometry::MultiLineString(lines) if lines.0.len() == 1 => &lines.0[0],
            _ => continue,
        };
        let (Some(first), Some(last)) = (line.0.first(), line.0.last()) else { continue };
        let gap = Geodesic.length(&Line::new(*first, *last));
        if line.0.len() > 3 && gap <= GAP * Geodesic.length(line) {
            *shape = Geometry::Polygon(Polygon::new(line.clone(), vec![]));
            closed += 1;
        }
    }
    if closed > 0 {
        placed.layer.warnings.push(
            "the file holds lines and no area: those whose ends meet were taken as shores"
                .to_owned(),
        );
    }
}

/// Stores the shoreline, and the working system when the book has none yet.
pub(super) fn add(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let mut placed = read_placed(book, path, options, false)?;
    close_lines(&mut placed);
    let mut lake = book.lake()?;
    let wanted =
        options.layer.as_deref().filter(|name| !name.eq_ignore_ascii_case(&placed.layer.name));
    let chosen = choose(&placed, &lake.name, wanted)?;
    let area = MultiPolygon(
        chosen
            .iter()
            .filter_map(|&index| areas(&placed.shapes[index]))
            .flat_map(|many| many.0)
            .collect(),
    );
    let crs = if lake.working_epsg == 0 {
        let middle = geo::BoundingRect::bounding_rect(&area).map(geo_types::Rect::center);
        let place = middle.and_then(|at| LonLat::new(at.x, at.y).ok());
        place.map_or_else(Crs::wgs84, Crs::utm_for)
    } else {
        Crs::from_epsg(lake.working_epsg)
            .map_err(|error| Error::input(error.to_string()).hint(error.hint()))?
    };
    let (outline, findings) = Outline::new(&area, &crs)
        .map_err(|error| Error::input(format!("`{}`: {error}", file_name(path))))?;
    let mut view = placed.view(options);
    view.stored = 1;
    view.area_m2 = Some(outline.area().square_metres());
    view.warnings.extend(findings.iter().map(ToString::to_string));
    let extent = outline.extent_lon_lat();
    view.extent = Some([extent.min().x, extent.min().y, extent.max().x, extent.max().y]);
    if placed.shapes.len() > chosen.len() {
        view.warnings.push(format!(
            "{} other features of the file were left out",
            placed.shapes.len() - chosen.len()
        ));
    }
    if options.preview {
        return Ok(view);
    }
    lake.working_epsg = crs.code().unwrap_or(0);
    let bytes = std::fs::read(path).unwrap_or_default();
    let stored = lakebook::Outline {
        area: outline.lon_lat().clone(),
        source_file: file_name(path),
        sha256: lakebook::sha256_hex(&bytes),
        note: format!("read as {}", placed.crs.label()),
    };
    book.transact(&format!("added the outline from {}", file_name(path)), |writer| {
        writer.put_lake(&lake)?;
        writer.put_outline(&stored)
    })?;
    Ok(view)
}
