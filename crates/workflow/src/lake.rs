//! The lake's measures and its drawing, from the ground the book holds.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{
    BandView, ContourView, DatumDistanceView, DepthErrorView, FetchView, HypsographyRow,
    IslandView, LakeView, LandmarkView, LittoralView, MapView, NotTakenView, OtherRegressionView,
    RegressionView, ShapeView, SlopeView, ZoneView,
};
use geo::{Area, InteriorPoint, Simplify};
use geo_types::{Geometry, MultiPolygon, coord};
use lakebed::{
    ClarityRegression, DepthModel, ErrorMethod, Littoral, Morphometry, Outline, Rule,
    contour_lines, depth_bands, fetch, hypsography, littoral_area, max_length,
    shoreline_development, usual_depths, zone_shape, zone_statistics,
};
use lakebook::LakeBook;
use survey::{LandmarkKind, Protection, SubArea, Zone};
use units::{Metres, SquareMetres};

/// Lines on screen and paper lose bends smaller than this.
const FINEST_BEND: f64 = 0.5;

/// Measures of the whole lake and of its zones.
///
/// # Errors
/// When there is no outline yet.
pub fn lake_view(book: &LakeBook, ground: &Ground, littoral: Littoral) -> Result<LakeView> {
    let request = LakeRequest { littoral, ..LakeRequest::default() };
    lake_view_of(book, ground, &request)
}

/// Where the deep limit of the littoral zone comes from.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum LittoralLimit {
    /// The lake's own range of depths.
    #[default]
    Range,
    /// Chosen for this question.
    Chosen,
    /// Reckoned from Secchi depth.
    Secchi(Metres, ClarityRegression),
}

/// What is asked of a lake.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LakeRequest {
    /// The littoral zone.
    pub littoral: Littoral,
    /// Where its deep limit comes from.
    pub limit: LittoralLimit,
    /// How area and volume are found; by the depths there are when not said.
    pub rule: Option<Rule>,
    /// Zones of this year; those in use when not said.
    pub year: Option<i16>,
}

/// The rule that suits the depths: cells of a raster, layers between contours, else the grid.
fn rule_of(ground: &Ground, wanted: Option<Rule>) -> Result<Rule> {
    match wanted {
        Some(Rule::RasterCells) if ground.raster.is_none() => {
            Err(Error::input("the rule `raster-cells` needs a lake whose depths are one raster")
                .hint("use `--rule grid`, `frustum` or `trapezoid`"))
        }
        Some(rule) => Ok(rule),
        None if ground.raster.is_some() => Ok(Rule::RasterCells),
        None if !ground.contour_depths.is_empty() => Ok(Rule::Frustum),
        None => Ok(Rule::Grid),
    }
}

/// Area, volume and greatest depth by a rule.
struct Water {
    area: f64,
    volume: f64,
    max_depth: f64,
    rule: Rule,
}

fn water(ground: &Ground, model: &DepthModel, rule: Rule) -> Water {
    if let (Rule::RasterCells, Some(raster)) = (rule, &ground.raster) {
        let cells = lakebed::raster_cells(&raster.depths, raster.level(model.level()));
        return Water {
            area: cells.area.square_metres(),
            volume: cells.volume.cubic_metres(),
            max_depth: cells.max_depth.metres(),
            rule,
        };
    }
    let shifted: Vec<Metres> =
        ground.contour_depths.iter().map(|depth| *depth + model.level()).collect();
    let measures = if shifted.is_empty() {
        Morphometry::of(model, rule)
    } else {
        Morphometry::with_layers(model, rule, &shifted)
    };
    let below = model.level() < Metres::new(0.0);
    let area = if below { hypsography(model, &[Metres::new(0.0)])[0].area } else { measures.area };
    Water {
        area: area.square_metres(),
        volume: measures.volume.cubic_metres(),
        max_depth: measures.max_depth.metres(),
        rule,
    }
}

/// The shore at the model's level: that of the outline, or below the reference level what the
/// model says of it.
fn shore_at(ground: &Ground, outline: &Outline) -> Result<(Option<Outline>, Vec<String>)> {
    let Some(model) = &ground.model else { return Ok((None, Vec::new())) };
    let level = model.level().metres();
    if level < 0.0 {
        let left = lakebed::deeper_than(model, Metres::new(0.0));
        let lon_lat = outline
            .crs()
            .unproject_geometry(&left)
            .map_err(|error| Error::fault(error.to_string()))?;
        return Ok(match Outline::new(&lon_lat, outline.crs()) {
            Ok((shore, _)) => (Some(shore), Vec::new()),
            Err(_) => (
                None,
                vec!["the shore at this level is too broken to be measured; length and fetch are those of the reference level".to_owned()],
            ),
        });
    }
    let walls = 0.0 < level && ground.raster.is_none();
    Ok((
        None,
        if walls {
            vec!["above the reference level the shore is taken as a wall: the area is that of the reference level".to_owned()]
        } else {
            Vec::new()
        },
    ))
}

/// Measures of the whole lake and of its zones, as asked.
///
/// # Errors
/// When there is no outline yet, or the rule does not suit the depths.
pub fn lake_view_of(book: &LakeBook, ground: &Ground, request: &LakeRequest) -> Result<LakeView> {
    let littoral = request.littoral;
    let reference = ground.need_outline()?;
    let model = ground.model.as_ref();
    let (lowered, mut remarks) = shore_at(ground, reference)?;
    let outline = lowered.as_ref().unwrap_or(reference);
    let sub_areas = book.sub_areas()?;
    let zones = ground
        .zones_of(request.year)
        .map(|zone| zone_view(ground, reference, zone, &sub_areas, littoral))
        .collect::<Result<_>>()?;
    let rule = rule_of(ground, request.rule)?;
    let measures = model.map(|model| water(ground, model, rule));
    let area = measures.as_ref().map_or(outline.area().square_metres(), |one| one.area);
    if let Some(model) = model {
        remarks.extend(model.findings().iter().map(ToString::to_string));
    }
    let metres = |bearing| fetch(outline, bearing).metres();
    Ok(LakeView {
        name: ground.lake.name.clone(),
        area_m2: area,
        level_m: model.map_or(0.0, |model| model.level().metres()),
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
        shoreline_development: shoreline_development(outline.perimeter(), SquareMetres::new(area)),
        max_length_m: Some(max_length(outline).metres()),
        fetch_m: Some(FetchView {
            n: metres(0.0),
            ne: metres(45.0),
            e: metres(90.0),
            se: metres(135.0),
        }),
        max_depth_m: measures.as_ref().map(|one| one.max_depth),
        mean_depth_m: measures
            .as_ref()
            .map(|one| if one.area > 0.0 { one.volume / one.area } else { 0.0 }),
        volume_m3: measures.as_ref().map(|one| one.volume),
        relative_depth: measures.as_ref().filter(|one| one.area > 0.0).map(|one| {
            lakebed::relative_depth(Metres::new(one.max_depth), SquareMetres::new(one.area))
        }),
        rule: measures.as_ref().map(|one| one.rule.key().to_owned()),
        interpolation: model.map(|model| model.method().to_string()),
        interpolation_not_taken: model.and_then(DepthModel::rejected).map(|(method, error)| {
            NotTakenView { method: method.to_string(), mean_m: error.mean.metres() }
        }),
        slope: model.and_then(lakebed::slopes).map(|slope| SlopeView {
            mean_percent: slope.mean,
            median_percent: slope.median,
            p95_percent: slope.p95,
        }),
        datum_distance: model.and_then(lakebed::datum_distance).map(|far| DatumDistanceView {
            mean_m: far.mean.metres(),
            p95_m: far.p95.metres(),
            most_m: far.most.metres(),
            farthest: [far.farthest.x, far.farthest.y],
        }),
        remarks,
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
        hypsography: model.map(|model| hypsographic_table(ground, model, rule)).unwrap_or_default(),
        littoral: model.map(|model| littoral_view(ground, model, request, rule)),
        zones,
        crs: ground.crs.label(),
    })
}

fn littoral_view(
    ground: &Ground,
    model: &DepthModel,
    request: &LakeRequest,
    rule: Rule,
) -> LittoralView {
    let littoral = request.littoral;
    let area = match (rule, &ground.raster) {
        (Rule::RasterCells, Some(raster)) => {
            lakebed::raster_littoral_area(&raster.depths, raster.level(model.level()), littoral)
        }
        _ => littoral_area(model, littoral),
    };
    let secchi = match request.limit {
        LittoralLimit::Secchi(secchi, regression) => Some((secchi, regression)),
        _ => None,
    };
    LittoralView {
        min_depth_m: littoral.min_depth.metres(),
        max_depth_m: littoral.max_depth.metres(),
        area_m2: area.square_metres(),
        limit: match request.limit {
            LittoralLimit::Range => "depth-range",
            LittoralLimit::Chosen => "chosen",
            LittoralLimit::Secchi(..) => "secchi",
        }
        .to_owned(),
        secchi_m: secchi.map(|(secchi, _)| secchi.metres()),
        regression: secchi.map(|(_, rule)| RegressionView {
            key: rule.key().to_owned(),
            source: rule.citation().to_owned(),
        }),
        upper_limit_m: secchi
            .and_then(|(secchi, rule)| rule.upper_limit(secchi))
            .map(Metres::metres),
        other_regressions: secchi
            .map(|(secchi, taken)| {
                ClarityRegression::ALL
                    .into_iter()
                    .filter(|rule| *rule != taken)
                    .map(|rule| OtherRegressionView {
                        key: rule.key().to_owned(),
                        limit_m: rule.limit(secchi).metres(),
                    })
                    .collect()
            })
            .unwrap_or_default(),
    }
}

fn hypsographic_table(ground: &Ground, model: &DepthModel, rule: Rule) -> Vec<HypsographyRow> {
    let mut depths = usual_depths(model.max_depth(), ground.lake.units);
    if depths.last().is_none_or(|last| *last < model.max_depth()) {
        depths.push(model.max_depth());
    }
    let rows = match (rule, &ground.raster) {
        (Rule::RasterCells, Some(raster)) => {
            lakebed::raster_hypsography(&raster.depths, raster.level(model.level()), &depths)
        }
        _ => hypsography(model, &depths),
    };
    rows.iter()
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
    let fault = |error| Error::fault(format!("zone `{}`: {error}", zone.code));
    let measured = ground
        .model
        .as_ref()
        .map(|model| zone_statistics(model, &projected, littoral))
        .transpose()
        .map_err(fault)?;
    let (area, shore) = if let Some(one) = &measured {
        (one.area, one.shore)
    } else {
        let shape = zone_shape(outline, &projected).map_err(fault)?;
        (shape.area, shape.shore)
    };
    Ok(ZoneView {
        code: zone.code.to_string(),
        name: zone.name.clone(),
        area_m2: area.square_metres(),
        littoral_area_m2: measured.as_ref().map(|one| one.littoral_area.square_metres()),
        shore_m: Some(shore.metres()),
        mean_depth_m: measured.as_ref().and_then(|one| one.mean_depth).map(Metres::metres),
        volume_m3: measured.as_ref().map(|one| one.volume.cubic_metres()),
        sub_areas: sub_areas.iter().filter(|part| part.zone == Some(zone.id)).count(),
        protection: zone.protection.key().to_owned(),
        rule: zone.rule.clone(),
        since: zone.since,
        until: zone.until,
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
