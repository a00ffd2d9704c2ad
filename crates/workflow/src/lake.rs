//! The lake's measures and its drawing, from the ground the book holds.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{
    BandView, ContourView, DepthErrorView, FetchView, HypsographyRow, IslandView, LakeView,
    LandmarkView, LittoralView, MapView, ShapeView, ZoneView,
};
use geo::{Area, InteriorPoint, Simplify};
use geo_types::{Geometry, MultiPolygon, coord};
use lakebed::{
    DepthModel, ErrorMethod, Littoral, Morphometry, Outline, Rule, contour_lines, depth_bands,
    fetch, hypsography, littoral_area, max_length, shoreline_development, usual_depths,
    zone_statistics,
};
use lakebook::LakeBook;
use survey::{LandmarkKind, Protection, SubArea, Zone};
use units::Metres;

/// Lines on screen and paper lose bends smaller than this.
const FINEST_BEND: f64 = 0.5;

/// Measures of the whole lake and of its zones.
///
/// # Errors
/// When there is no outline yet.
pub fn lake_view(book: &LakeBook, ground: &Ground, littoral: Littoral) -> Result<LakeView> {
    let outline = ground.need_outline()?;
    let model = ground.model.as_ref();
    let sub_areas = book.sub_areas()?;
    let zones = ground
        .zones
        .iter()
        .map(|zone| zone_view(ground, outline, zone, &sub_areas, littoral))
        .collect::<Result<_>>()?;
    let measures = model.map(|model| Morphometry::of(model, Rule::Grid));
    let metres = |bearing| fetch(outline, bearing).metres();
    Ok(LakeView {
        name: ground.lake.name.clone(),
        area_m2: outline.area().square_metres(),
        perimeter_m: outline.perimeter().metres(),
        perimeter_outer_m: outline.perimeter_outer().metres(),
        island_count: outline.island_count(),
        islands: outline
            .islands()
            .iter()
            .map(|island| IslandView {
                area_m2: island.area.square_metres(),
                perimeter_m: island.perimeter.metres(),
            })
            .collect(),
        shoreline_development: shoreline_development(outline.perimeter(), outline.area()),
        max_length_m: Some(max_length(outline).metres()),
        fetch_m: Some(FetchView {
            n: metres(0.0),
            ne: metres(45.0),
            e: metres(90.0),
            se: metres(135.0),
        }),
        max_depth_m: measures.map(|one| one.max_depth.metres()),
        mean_depth_m: measures.map(|one| one.mean_depth.metres()),
        volume_m3: measures.map(|one| one.volume.cubic_metres()),
        relative_depth: measures.map(|one| one.relative_depth),
        rule: measures.map(|one| one.rule.key().to_owned()),
        interpolation: model.map(|model| model.method().to_string()),
        soundings: ground.soundings,
        depth_source: ground.depth_source.clone(),
        error: model.and_then(DepthModel::error).map(|error| DepthErrorView {
            method: match error.method {
                ErrorMethod::LeaveOneContourOut => "leave-one-contour-out",
                _ => "leave-one-out",
            }
            .to_owned(),
            mean_m: error.mean.metres(),
            p95_m: error.p95.metres(),
        }),
        hypsography: model.map(|model| hypsographic_table(ground, model)).unwrap_or_default(),
        littoral: model.map(|model| LittoralView {
            min_depth_m: littoral.min_depth.metres(),
            max_depth_m: littoral.max_depth.metres(),
            area_m2: littoral_area(model, littoral).square_metres(),
        }),
        zones,
        crs: ground.crs.label(),
    })
}

fn hypsographic_table(ground: &Ground, model: &DepthModel) -> Vec<HypsographyRow> {
    let mut depths = usual_depths(model.max_depth(), ground.lake.units);
    if depths.last().is_none_or(|last| *last < model.max_depth()) {
        depths.push(model.max_depth());
    }
    hypsography(model, &depths)
        .iter()
        .map(|row| HypsographyRow {
            depth_m: row.depth.metres(),
            area_m2: row.area.square_metres(),
            volume_below_m3: row.volume_below.cubic_metres(),
        })
        .collect()
}

fn zone_view(
    ground: &Ground,
    outline: &Outline,
    zone: &Zone,
    sub_areas: &[SubArea],
    littoral: Littoral,
) -> Result<ZoneView> {
    let projected = project(ground, &zone.area)?;
    let measured = ground
        .model
        .as_ref()
        .map(|model| zone_statistics(model, &projected, littoral))
        .transpose()
        .map_err(|error| Error::fault(format!("zone `{}`: {error}", zone.code)))?;
    let area = measured.as_ref().map_or_else(
        || projected.unsigned_area() / outline.area_scale(),
        |one| one.area.square_metres(),
    );
    Ok(ZoneView {
        code: zone.code.to_string(),
        name: zone.name.clone(),
        area_m2: area,
        littoral_area_m2: measured.as_ref().map(|one| one.littoral_area.square_metres()),
        shore_m: measured.as_ref().map(|one| one.shore.metres()),
        mean_depth_m: measured.as_ref().and_then(|one| one.mean_depth).map(Metres::metres),
        volume_m3: measured.as_ref().map(|one| one.volume.cubic_metres()),
        sub_areas: sub_areas.iter().filter(|part| part.zone == Some(zone.id)).count(),
        protection: zone.protection.key().to_owned(),
    })
}

/// A polygon in metres of the working system.
pub(crate) fn project(ground: &Ground, area: &MultiPolygon<f64>) -> Result<MultiPolygon<f64>> {
    ground
        .crs
        .project_geometry(area)
        .map_err(|error| Error::fault(format!("a shape in the book: {error}")))
}

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
pub(crate) fn bands(ground: &Ground) -> (Vec<lakebed::DepthBand>, Vec<lakebed::ContourSet>) {
    let Some(model) = &ground.model else { return (Vec::new(), Vec::new()) };
    let depths = band_depths(ground, model.max_depth());
    (depth_bands(model, &depths), contour_lines(model, &depths[1..]))
}

/// The lake as a drawing, in metres of the working system.
///
/// # Errors
/// When there is no outline yet.
pub fn map_view(book: &LakeBook, ground: &Ground) -> Result<MapView> {
    let outline = ground.need_outline()?;
    let extent = outline.extent();
    let (bands, contours) = bands(ground);
    let zones = book.zones()?;
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
        contours: contours
            .iter()
            .map(|set| ContourView {
                depth_m: set.depth.metres(),
                geometry: geometry_json(&Geometry::MultiLineString(
                    set.lines.simplify(FINEST_BEND),
                )),
            })
            .collect(),
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

/// A GeoJSON geometry with centimetres.
fn geometry_json(geometry: &Geometry<f64>) -> serde_json::Value {
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
        _ => Value::Null,
    }
}
