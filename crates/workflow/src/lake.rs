//! The lake's measures and its drawing, from the ground the book holds.

mod ask;
mod distance;
mod map;

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{
    DepthErrorView, FetchView, HypsographyRow, IslandView, LakeView, LittoralView, NotTakenView,
    OtherRegressionView, RegressionView, SlopeBandView, SlopeView, ZoneView,
};
use geo_types::MultiPolygon;
use lakebed::{
    ClarityRegression, DepthModel, ErrorMethod, Littoral, Morphometry, Outline, Rule, Slopes,
    fetch, hypsography, littoral_area, max_length, shoreline_development, usual_depths, zone_shape,
    zone_statistics,
};
use lakebook::LakeBook;
use survey::{SubArea, Zone};
use units::{Metres, SquareMetres};

pub use ask::{LakeAsk, LakeRequest, LittoralLimit, keep_littoral};
pub use distance::distance_view;
pub use map::map_view;
pub(crate) use map::{band_depths, bands, geometry_json, label_point, polygons_json};

/// Measures of the whole lake and of its zones.
///
/// # Errors
/// When there is no outline yet.
pub fn lake_view(book: &LakeBook, ground: &Ground, littoral: Littoral) -> Result<LakeView> {
    let request = LakeRequest { littoral, ..LakeRequest::default() };
    lake_view_of(book, ground, &request)
}

/// The rule that suits the depths: cells of a raster, layers between contours, else the grid.
fn rule_of(ground: &Ground, wanted: Option<Rule>) -> Result<Rule> {
    match wanted {
        Some(Rule::RasterCells) if ground.raster.is_none() => {
            Err(Error::input("the rule `raster-cells` needs a lake whose depths are one raster")
                .hint("use `grid`, `frustum` or `trapezoid`"))
        }
        Some(rule) => Ok(rule),
        None if ground.raster.is_some() => Ok(Rule::RasterCells),
        None if !ground.contour_depths.is_empty() => Ok(Rule::Frustum),
        None => Ok(Rule::Grid),
    }
}

/// The rules the depths allow.
fn rules(ground: &Ground) -> Vec<String> {
    let all = [Rule::Grid, Rule::Frustum, Rule::Trapezoid, Rule::RasterCells];
    let fits = |rule: &Rule| *rule != Rule::RasterCells || ground.raster.is_some();
    let known = all.into_iter().filter(|rule| ground.model.is_some() && fits(rule));
    known.map(|rule| rule.key().to_owned()).collect()
}

fn slope_view(slope: &Slopes) -> SlopeView {
    SlopeView {
        mean_percent: slope.mean,
        median_percent: slope.median,
        p95_percent: slope.p95,
        cells: slope.cells,
    }
}

/// The slope between the depths at which the map changes colour.
fn slopes_by_depth(ground: &Ground, model: &DepthModel) -> Vec<SlopeBandView> {
    lakebed::slopes_by_depth(model, &band_depths(ground, model.max_depth()))
        .iter()
        .map(|band| SlopeBandView {
            from_m: band.from.metres(),
            to_m: band.to.map(Metres::metres),
            slope: band.slopes.as_ref().map(slope_view),
        })
        .collect()
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
        rules: rules(ground),
        cell_m: model.map(|model| model.grid().cell().metres()),
        slope: model.and_then(lakebed::slopes).as_ref().map(slope_view),
        slope_by_depth: model.map(|model| slopes_by_depth(ground, model)).unwrap_or_default(),
        datum_distance: model
            .map(|model| distance::datum_distance_view(ground, model))
            .transpose()?
            .flatten(),
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
    let own = ground.littoral();
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
        own_m: [own.min_depth.metres(), own.max_depth.metres()],
        slope: lakebed::littoral_slopes(model, littoral).as_ref().map(slope_view),
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
