//! The lake as a drawing.

use super::project;
use crate::error::Result;
use crate::ground::Ground;
use crate::views::{BandView, ContourView, LandmarkView, MapView, ShapeView};
use geo::{Area, InteriorPoint, Simplify};
use geo_types::{Geometry, MultiPolygon, coord};
use lakebed::{ContourSet, DepthBand, DepthModel, Littoral, contour_lines, depth_bands};
use lakebook::LakeBook;
use survey::{LandmarkKind, Protection, Zone};
use units::Metres;

/// Lines on screen and paper lose bends smaller than this.
pub(super) const FINEST_BEND: f64 = 0.5;

/// Depths where bands change colour: whole fives of feet, or twos of metres, at most seven.
pub(crate) fn band_depths(ground: &Ground, deepest: Metres) -> Vec<Metres> {
    let (unit, steps): (f64, &[f64]) = match ground.lake.units {
        units::UnitSystem::Us => {
            (units::METRES_PER_FOOT, &[1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0])
        }
        units::UnitSystem::Metric => (1.0, &[0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0]),
    };
    let step = steps
        .iter()
        .copied()
        .find(|step| deepest.metres() / (step * unit) <= 8.0)
        .unwrap_or(steps[steps.len() - 1]);
    let mut depths = vec![Metres::new(0.0)];
    let mut next = step;
    while next * unit < deepest.metres() && depths.len() < 7 {
        depths.push(Metres::new(next * unit));
        next += step;
    }
    depths
}

/// Bands and contours between them, in metres of the working system.
pub(crate) fn bands(ground: &Ground) -> (Vec<DepthBand>, Vec<ContourSet>) {
    let Some(model) = &ground.model else { return (Vec::new(), Vec::new()) };
    let depths = band_depths(ground, model.max_depth());
    (depth_bands(model, &depths), contour_lines(model, &depths[1..]))
}

/// The lake as a drawing, in metres of the working system.
///
/// # Errors
/// When there is no outline yet.
pub fn map_view(book: &LakeBook, ground: &Ground, littoral: Littoral) -> Result<MapView> {
    let outline = ground.need_outline()?;
    let extent = outline.extent();
    let (bands, contours) = bands(ground);
    let zones: Vec<Zone> = book.zones()?.into_iter().filter(|zone| zone.until.is_none()).collect();
    let zone_code =
        |id| zones.iter().find(|zone| Some(zone.id) == id).map(|zone| zone.code.to_string());
    let mut zone_shapes = Vec::new();
    for zone in &zones {
        let shape = project(ground, &zone.area)?;
        zone_shapes.push(shape_view(zone.code.as_str(), &zone.name, None, zone.protection, &shape));
    }
    let mut part_shapes = Vec::new();
    for part in book.sub_areas()? {
        let shape = project(ground, &part.area)?;
        part_shapes.push(shape_view(
            part.code.as_str(),
            "",
            zone_code(part.zone),
            Protection::None,
            &shape,
        ));
    }
    let mut treatments = Vec::new();
    for (index, treatment) in book.treatments()?.iter().enumerate() {
        let shape = project(ground, &treatment.area)?;
        let code = format!("T{}", index + 1);
        treatments.push(shape_view(&code, &treatment.name, None, Protection::None, &shape));
    }
    let mut landmarks = Vec::new();
    for landmark in book.landmarks()? {
        let at = ground.project(landmark.position)?;
        landmarks.push(LandmarkView {
            name: landmark.name,
            kind: match landmark.kind {
                LandmarkKind::Landmark => "landmark",
                LandmarkKind::Launch => "launch",
                LandmarkKind::Hazard => "hazard",
            }
            .to_owned(),
            x: at.x,
            y: at.y,
        });
    }
    Ok(MapView {
        crs: ground.crs.label(),
        level_m: ground.model.as_ref().map_or(0.0, |model| model.level().metres()),
        limit: ground.model.as_ref().and_then(|model| limit_line(model, littoral)),
        extent: [extent.min().x, extent.min().y, extent.max().x, extent.max().y],
        outline: polygons_json(&outline.projected().simplify(0.2)),
        bands: bands
            .iter()
            .map(|band| BandView {
                from_m: band.from.metres(),
                to_m: band.to.map(Metres::metres),
                geometry: polygons_json(&band.shape.simplify(FINEST_BEND)),
            })
            .collect(),
        contours: contours.iter().map(contour_view).collect(),
        zones: zone_shapes,
        sub_areas: part_shapes,
        treatments,
        landmarks,
        deepest: ground.model.as_ref().map(|model| {
            let at = model.deepest();
            [at.x, at.y, model.max_depth().metres()]
        }),
    })
}

/// The deep limit of the littoral zone as a line; none where the whole lake is shallower.
fn limit_line(model: &DepthModel, littoral: Littoral) -> Option<ContourView> {
    let limit = littoral.max_depth;
    let within = Metres::new(0.0) < limit && limit < model.max_depth();
    within.then(|| contour_lines(model, &[limit]).pop()).flatten().map(|set| contour_view(&set))
}

fn contour_view(set: &ContourSet) -> ContourView {
    ContourView {
        depth_m: set.depth.metres(),
        geometry: geometry_json(&Geometry::MultiLineString(set.lines.simplify(FINEST_BEND))),
    }
}

fn shape_view(
    code: &str,
    name: &str,
    zone: Option<String>,
    protection: Protection,
    shape: &MultiPolygon<f64>,
) -> ShapeView {
    let label = label_point(shape);
    ShapeView {
        code: code.to_owned(),
        name: name.to_owned(),
        zone,
        protection: protection.key().to_owned(),
        label: [label.x, label.y],
        geometry: polygons_json(&shape.simplify(0.2)),
    }
}

/// A point well inside a shape, for its label.
pub(crate) fn label_point(shape: &MultiPolygon<f64>) -> geo_types::Coord<f64> {
    let largest = shape.iter().max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()));
    largest
        .and_then(|polygon| {
            sampling::pole_of_inaccessibility(&MultiPolygon(vec![polygon.clone()]))
                .map(|(x, y, _)| coord! {x: x, y: y})
                .or_else(|| polygon.interior_point().map(|point| point.0))
        })
        .unwrap_or_default()
}

pub(crate) fn polygons_json(shape: &MultiPolygon<f64>) -> serde_json::Value {
    geometry_json(&Geometry::MultiPolygon(shape.clone()))
}

/// A GeoJSON geometry with centimetres: lines and polygons, one or many, are written as many.
pub(crate) fn geometry_json(geometry: &Geometry<f64>) -> serde_json::Value {
    use serde_json::{Value, json};
    let place = |at: &geo_types::Coord<f64>| -> Value {
        let round = |value: f64| (value * 100.0).round() / 100.0;
        json!([round(at.x), round(at.y)])
    };
    let line = |line: &geo_types::LineString<f64>| -> Value { line.coords().map(place).collect() };
    match geometry {
        Geometry::MultiLineString(lines) => {
            json!({"type": "MultiLineString", "coordinates": lines.iter().map(line).collect::<Vec<_>>()})
        }
        Geometry::MultiPolygon(polygons) => {
            let polygon = |polygon: &geo_types::Polygon<f64>| -> Value {
                std::iter::once(polygon.exterior()).chain(polygon.interiors()).map(line).collect()
            };
            json!({"type": "MultiPolygon", "coordinates": polygons.iter().map(polygon).collect::<Vec<_>>()})
        }
        Geometry::LineString(one) => {
            json!({"type": "MultiLineString", "coordinates": [line(one)]})
        }
        Geometry::Polygon(one) => {
            geometry_json(&Geometry::MultiPolygon(MultiPolygon::new(vec![one.clone()])))
        }
        _ => Value::Null,
    }
}
