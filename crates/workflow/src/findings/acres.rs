//! How much water a plant stands in, and a map of where.

use super::one::first_line;
use super::places::{self, Lake};
use super::{ANY_PLANT, methods, taxon_of};
use crate::error::Result;
use crate::ground::{Ground, year_of};
use crate::surveys::record_of;
use crate::views::{
    AcresView, BedsView, EstimateView, ExtentPointView, ExtentView, RatingAreaView, VariogramView,
};
use findings::acres::{
    AreaEstimate, NearestWater, PointExtent, RatedSubArea, SampledPoint, SubAreaExtent,
    SubAreaResult, USUAL_CELLS, bed_areas, kriged_extent, sub_area_extent,
};
use lakebook::LakeBook;
use std::collections::BTreeMap;
use survey::{
    Code, HowSeen, Method, Rating, SiteResult, SubArea, SurveyRecord, Taxon, TaxonId, Visit,
};
use units::SquareMetres;

/// Cells of a map of chances: enough for a screen.
const MAP_CELLS: usize = 8_000;
const NEAREST: &str = "nearest points";
const SUB_AREAS: &str = "sub-areas";

/// What came up at a sampled visit: none not found, else the code of the largest rating.
type Find = Option<Option<String>>;

/// What came up of a taxon, or of all plants, at a sampled visit.
fn find(
    record: &SurveyRecord,
    visit: &Visit,
    taxon: Option<TaxonId>,
    plants: &BTreeMap<TaxonId, bool>,
) -> Find {
    let code = |rating: Option<Rating>| {
        rating.and_then(|rating| record.scale.step_of(rating)).map(|step| step.code.clone())
    };
    if let Some(taxon) = taxon {
        return record.largest_on_rake(visit, taxon).map(code);
    }
    let SiteResult::Sampled(sampling) = &visit.result else { return None };
    let total = sampling.throws().iter().filter_map(|throw| throw.total).max();
    record.has_plants(visit, plants).then(|| code(total))
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "as a filter of an iterator gives it")]
fn sampled(visit: &&Visit) -> bool {
    matches!(visit.result, SiteResult::Sampled(_))
}

/// Whether a taxon came up on any rake.
pub(super) fn found_on_rake(record: &SurveyRecord, taxon: TaxonId) -> bool {
    record.visits.iter().any(|visit| record.largest_on_rake(visit, taxon).is_some())
}

/// Taxa that came up on the rake, plants or not, in the order of the list; all plants first.
fn on_rake(record: &SurveyRecord) -> Vec<(String, Option<TaxonId>)> {
    let taxa = record.taxa.iter().filter(|taxon| found_on_rake(record, taxon.id));
    std::iter::once((ANY_PLANT.to_owned(), None))
        .chain(taxa.map(|taxon| (taxon.code.to_string(), Some(taxon.id))))
        .collect()
}

/// Extent of every taxon found: by rated sub-areas where the survey was made by them, else by nearest
/// points. Empty without an outline or without places.
pub(super) fn acres(
    record: &SurveyRecord,
    ground: &Ground,
    lake: Option<&Lake>,
    book: &LakeBook,
) -> Result<Vec<AcresView>> {
    let parts =
        if record.survey.method == Method::SubAreas { book.sub_areas()? } else { Vec::new() };
    if !parts.is_empty() {
        return by_sub_areas(record, ground, lake, &parts);
    }
    let Some(lake) = lake else { return Ok(Vec::new()) };
    let places = places::of_sites(record, ground)?;
    let visits: Vec<(&Visit, [f64; 2])> = record
        .visits
        .iter()
        .filter(sampled)
        .filter_map(|visit| Some((visit, places.get(&visit.site)?.metres?)))
        .collect();
    let points: Vec<[f64; 2]> = visits.iter().map(|(_, place)| *place).collect();
    let Ok(water) = NearestWater::of(&lake.cut(USUAL_CELLS), &points) else {
        return Ok(Vec::new());
    };
    let plants = record.plants();
    let mut views = Vec::new();
    for (code, taxon) in on_rake(record) {
        let finds: Vec<Find> =
            visits.iter().map(|(visit, _)| find(record, visit, taxon, &plants)).collect();
        let found: Vec<bool> = finds.iter().map(Option::is_some).collect();
        let steps: Vec<Option<&str>> =
            finds.iter().map(|find| find.as_ref().and_then(Option::as_deref)).collect();
        let extents = water.extent(&found, &steps);
        views.extend(extents.iter().map(|extent| point_view(&code, extent, lake.scale)));
    }
    Ok(views)
}

fn point_view(code: &str, of: &PointExtent, scale: f64) -> AcresView {
    let (area, low, high) = limits(of.extent, scale);
    AcresView {
        code: code.to_owned(),
        zone: of.zone.as_ref().map(ToString::to_string),
        area_m2: area,
        low_m2: low,
        high_m2: high,
        method: NEAREST.to_owned(),
        water_m2: of.water.square_metres() * scale,
        looked_at: of.points,
        found: of.found,
        by_rating: ratings(&of.by_step, scale),
        covered_m2: None,
    }
}

fn limits(of: Option<AreaEstimate>, scale: f64) -> (Option<f64>, Option<f64>, Option<f64>) {
    let area =
        |part: fn(AreaEstimate) -> SquareMetres| of.map(|one| part(one).square_metres() * scale);
    (area(|one| one.value), area(|one| one.low), area(|one| one.high))
}

fn ratings(of: &[(String, SquareMetres)], scale: f64) -> Vec<RatingAreaView> {
    let view = |(code, area): &(String, SquareMetres)| RatingAreaView {
        code: code.clone(),
        area_m2: area.square_metres() * scale,
    };
    of.iter().map(view).collect()
}

/// Extent from sub-areas a crew rated; those planned and not looked at stay unknown.
fn by_sub_areas(
    record: &SurveyRecord,
    ground: &Ground,
    lake: Option<&Lake>,
    parts: &[SubArea],
) -> Result<Vec<AcresView>> {
    use geo::Area;
    let scale = lake.map_or(1.0, |lake| lake.scale);
    let visits = record.visits_by_site();
    let zone_code = |part: &SubArea| {
        let zone = ground.zones.iter().find(|zone| Some(zone.id) == part.zone);
        zone.map(|zone| zone.code.clone())
    };
    let mut planned: Vec<(f64, Option<Code>, Option<&Visit>)> = Vec::new();
    for site in record.sites.iter().filter(|site| site.stands()) {
        let Some(part) = parts.iter().find(|part| Some(&part.code) == site.sub_area.as_ref())
        else {
            continue;
        };
        let area = crate::lake::project(ground, &part.area)?.unsigned_area();
        planned.push((area, zone_code(part), visits.get(&site.id).copied()));
    }
    let plants = record.plants();
    let mut views = Vec::new();
    for (code, taxon) in on_rake(record) {
        let looked_for = taxon.is_none_or(|id| record.survey.scope.covers(id));
        let rated: Vec<RatedSubArea> = planned
            .iter()
            .map(|(area, zone, visit)| RatedSubArea {
                zone: zone.clone(),
                area: SquareMetres::new(*area),
                result: match visit.filter(|visit| sampled(visit) && looked_for) {
                    None => SubAreaResult::NotLookedAt,
                    Some(visit) => match find(record, visit, taxon, &plants) {
                        None => SubAreaResult::NotFound,
                        Some(step) => SubAreaResult::Found {
                            cover: step
                                .as_deref()
                                .and_then(|code| record.scale.step(code))
                                .and_then(|step| step.cover),
                            step: step.unwrap_or_default(),
                        },
                    },
                },
            })
            .collect();
        let extents = sub_area_extent(&rated, super::USUAL_SEED);
        views.extend(extents.iter().map(|extent| sub_area_view(&code, extent, scale)));
    }
    Ok(views)
}

fn sub_area_view(code: &str, of: &SubAreaExtent, scale: f64) -> AcresView {
    let (area, low, high) = limits(of.extent, scale);
    AcresView {
        code: code.to_owned(),
        zone: of.zone.as_ref().map(ToString::to_string),
        area_m2: area,
        low_m2: low,
        high_m2: high,
        method: SUB_AREAS.to_owned(),
        water_m2: of.area.square_metres() * scale,
        looked_at: of.sub_areas,
        found: of.found,
        by_rating: ratings(&of.by_step, scale),
        covered_m2: of.covered.map(|one| EstimateView {
            value: one.value.square_metres() * scale,
            low: one.low.square_metres() * scale,
            high: one.high.square_metres() * scale,
        }),
    }
}

/// Beds with a drawn edge, by taxon and zone; those without an edge are counted.
pub(super) fn beds(record: &SurveyRecord, ground: &Ground) -> Result<Vec<BedsView>> {
    let lake = Lake::of(ground, None, year_of(&record.survey))?;
    let mut views = Vec::new();
    for taxon in &record.taxa {
        let beds = || record.beds.iter().filter(|bed| bed.taxa.contains(&taxon.id));
        if beds().next().is_none() {
            continue;
        }
        let drawn = beds()
            .filter_map(|bed| bed.area.as_ref())
            .map(|area| crate::lake::project(ground, area))
            .collect::<Result<Vec<_>>>()?;
        let not_drawn = beds().count() - drawn.len();
        let view = |zone: Option<String>, area_m2: f64, drawings: usize| BedsView {
            code: taxon.code.to_string(),
            not_drawn: if zone.is_none() { not_drawn } else { 0 },
            zone,
            area_m2,
            drawings,
        };
        match lake.as_ref().filter(|_| !drawn.is_empty()) {
            None => views.push(view(None, 0.0, 0)),
            Some(lake) => {
                views.extend(bed_areas(&drawn, &lake.water, &lake.zones).iter().map(|one| {
                    let zone = one.zone.as_ref().map(ToString::to_string);
                    view(zone, one.amount * lake.scale, one.drawings)
                }));
            }
        }
    }
    Ok(views)
}

/// Places on the shore with a taxon, by code.
pub(super) fn shoreline(record: &SurveyRecord) -> BTreeMap<String, usize> {
    let mut counts = BTreeMap::new();
    let at_sites = record.visits.iter().filter_map(|visit| match &visit.result {
        SiteResult::Sampled(sampling) => Some(sampling),
        SiteResult::NotSampled(_) => None,
    });
    let seen = at_sites
        .flat_map(survey::Sampling::observations)
        .filter(|one| one.seen == HowSeen::Shoreline && record.says_present(one.rating))
        .map(|one| one.taxon);
    for taxon in seen.chain(record.shoreline.iter().map(|find| find.taxon)) {
        *counts.entry(super::code_of(&record.taxa, taxon)).or_insert(0) += 1;
    }
    counts
}

/// A map of the chance of a taxon, by its code or name, or of any plant (`any`).
///
/// # Errors
/// When there is no such survey or taxon, or no outline yet.
pub fn extent_view(book: &LakeBook, name: &str, taxon: &str) -> Result<ExtentView> {
    let record = record_of(book, name)?;
    let taxon = taxon_of(book, taxon)?;
    let ground = super::one::ground_for(book, &record)?;
    extent_of(book, &ground, &record, taxon.as_ref())
}

/// The same on ground that is built already.
///
/// # Errors
/// As [`extent_view`].
pub fn extent_view_on(
    book: &LakeBook,
    ground: &Ground,
    name: &str,
    taxon: &str,
) -> Result<ExtentView> {
    let record = record_of(book, name)?;
    let taxon = taxon_of(book, taxon)?;
    extent_of(book, ground, &record, taxon.as_ref())
}

fn extent_of(
    book: &LakeBook,
    ground: &Ground,
    record: &SurveyRecord,
    taxon: Option<&Taxon>,
) -> Result<ExtentView> {
    let id = taxon.map(|taxon| taxon.id);
    let lake = Lake::needed(ground, record.survey.depth_cap, year_of(&record.survey))?;
    let places = places::of_sites(record, ground)?;
    let codes: BTreeMap<_, _> = record.sites.iter().map(|site| (site.id, &site.code)).collect();
    let plants = record.plants();
    let mut points = Vec::new();
    let mut views = Vec::new();
    for visit in record.visits.iter().filter(sampled) {
        let Some(place) = places.get(&visit.site).and_then(|place| place.metres) else { continue };
        let step = find(record, visit, id, &plants);
        views.push(ExtentPointView {
            code: codes.get(&visit.site).map(ToString::to_string).unwrap_or_default(),
            x: place[0],
            y: place[1],
            found: step.is_some(),
            rating: step.clone().flatten(),
        });
        points.push(SampledPoint { place, found: step.is_some(), step: step.flatten() });
    }
    let code = taxon.map_or_else(|| ANY_PLANT.to_owned(), |taxon| taxon.code.to_string());
    let mut view = ExtentView {
        survey: record.survey.name.clone(),
        name: taxon.map_or("any plant", Taxon::spoken_name).to_owned(),
        method: "indicator kriging".to_owned(),
        why_not: String::new(),
        water: lake.words(book.lake()?.units),
        crs: ground.crs.label(),
        cell_side_m: 0.0,
        cells: Vec::new(),
        variogram: None,
        zones: Vec::new(),
        points: views,
        outside: 0,
        anchor: methods::CHANCES.to_owned(),
        code,
    };
    match kriged_extent(&lake.cut(MAP_CELLS), &points) {
        Ok(kriged) => {
            let round = |value: f64, places: i32| {
                let factor = 10f64.powi(places);
                (value * factor).round() / factor
            };
            view.cell_side_m = kriged.cell_side;
            view.outside = kriged.outside;
            view.variogram = Some(VariogramView {
                nugget: kriged.variogram.nugget,
                partial: kriged.variogram.partial,
                range_m: kriged.variogram.range,
            });
            view.cells = kriged
                .cells
                .iter()
                .map(|cell| {
                    let [x, y] = cell.place;
                    [round(x, 1), round(y, 1), round(cell.chance, 4), round(cell.error, 4)]
                })
                .collect();
            view.zones = kriged
                .zones
                .iter()
                .map(|(zone, water, extent, inside)| {
                    let (area, low, high) = limits(*extent, lake.scale);
                    AcresView {
                        code: view.code.clone(),
                        zone: zone.as_ref().map(ToString::to_string),
                        area_m2: area,
                        low_m2: low,
                        high_m2: high,
                        method: view.method.clone(),
                        water_m2: water.square_metres() * lake.scale,
                        looked_at: *inside,
                        found: 0,
                        by_rating: Vec::new(),
                        covered_m2: None,
                    }
                })
                .collect();
            // counted from nearest points, which know the zones of the points
            if let Ok(counts) = findings::acres::voronoi_extent(&lake.cut(MAP_CELLS), &points) {
                for (zone, count) in view.zones.iter_mut().zip(&counts) {
                    zone.found = count.found;
                }
            }
        }
        Err(why) => {
            NEAREST.clone_into(&mut view.method);
            methods::ACRES.clone_into(&mut view.anchor);
            view.why_not = first_line(why);
            if let Ok(extents) = findings::acres::voronoi_extent(&lake.cut(USUAL_CELLS), &points) {
                view.zones =
                    extents.iter().map(|one| point_view(&view.code, one, lake.scale)).collect();
            }
        }
    }
    Ok(view)
}
