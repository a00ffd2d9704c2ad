use crate::error::Result;
use crate::ground::Ground;
use crate::lake::{bands, project};
use geo::Simplify;
use geo_types::coord;
use jiff::civil::Date;
use lakebook::LakeBook;
use report::draw::{
    Contour, DepthBand, GridReference, LandmarkKind, LandmarkMark, MapData, Mark, SiteMark,
    SubAreaShape, TreatedBed, ZoneShape,
};
use report::site_map::{BathymetricMap, SiteMap};
use survey::{Protection, Site, SiteResult, SurveyRecord};
use units::{Metres, SquareMetres};

/// Bends smaller than this do not show on paper, metres.
const FINEST_BEND: f64 = 0.5;

/// The lake as a map without sites.
pub(super) fn map_data(book: &LakeBook, ground: &Ground, record: &SurveyRecord) -> Result<MapData> {
    let mut map = lake_data(book, ground, record.survey.end.or(record.survey.start))?;
    map.plant_limit = record.survey.depth_cap.and_then(|depth| {
        let model = ground.model.as_ref()?;
        let set = lakebed::contour_lines(model, &[depth]).into_iter().next()?;
        Some(Contour { depth: set.depth, lines: set.lines.simplify(FINEST_BEND) })
    });
    Ok(map)
}

/// The lake as a map without sites; of a day, with the zones of its year and without beds treated after it.
fn lake_data(book: &LakeBook, ground: &Ground, until: Option<Date>) -> Result<MapData> {
    let outline = ground.need_outline()?;
    let (bands, contours) = bands(ground);
    let deepest = ground.model.as_ref().map(|model| {
        let at = model.deepest();
        (at.x, at.y, model.max_depth())
    });
    let last = ground.model.as_ref().map_or(Metres::new(0.0), lakebed::DepthModel::max_depth);
    let mut zones = Vec::new();
    for zone in ground.zones_of(until.map(Date::year)) {
        zones.push(ZoneShape {
            code: zone.code.to_string(),
            name: zone.name.clone(),
            area: project(ground, &zone.area)?.simplify(FINEST_BEND),
            conservation: zone.protection == Protection::Conservation,
        });
    }
    let mut sub_areas = Vec::new();
    for part in book.sub_areas()? {
        sub_areas.push(SubAreaShape {
            code: part.code.to_string(),
            area: project(ground, &part.area)?.simplify(FINEST_BEND),
        });
    }
    let mut treated = Vec::new();
    for treatment in book.treatments()? {
        // beds treated after this survey are no part of its picture
        if until.is_some_and(|until| treatment.dates.0 > until) {
            continue;
        }
        let area = project(ground, &treatment.area)?;
        let size = geo::Area::unsigned_area(&area) * outline.area_scale();
        treated.push(TreatedBed { name: treatment.name, size: SquareMetres::new(size), area });
    }
    let mut landmarks = Vec::new();
    for landmark in book.landmarks()? {
        let at = ground.project(landmark.position)?;
        landmarks.push(LandmarkMark {
            name: landmark.name,
            kind: match landmark.kind {
                survey::LandmarkKind::Landmark => LandmarkKind::Landmark,
                survey::LandmarkKind::Launch => LandmarkKind::Launch,
                survey::LandmarkKind::Hazard => LandmarkKind::Hazard,
            },
            x: at.x,
            y: at.y,
        });
    }
    Ok(MapData {
        title: ground.lake.name.clone(),
        outline: outline.projected().simplify(0.2),
        bands: bands
            .into_iter()
            .map(|band| DepthBand {
                from: band.from,
                to: band.to.unwrap_or_else(|| last.max(band.from)),
                area: band.shape.simplify(FINEST_BEND),
            })
            .collect(),
        contours: contours
            .into_iter()
            .map(|set| Contour { depth: set.depth, lines: set.lines.simplify(FINEST_BEND) })
            .collect(),
        plant_limit: None,
        deepest,
        zones,
        sub_areas,
        treated,
        landmarks,
        sites: Vec::new(),
        grid: grid(ground)?,
    })
}

/// Latitude and longitude along the frame.
fn grid(ground: &Ground) -> Result<GridReference> {
    let extent = ground.need_outline()?.extent();
    let (low, high) = (extent.min(), extent.max());
    let mut control = Vec::new();
    for (x, y) in [(low.x, low.y), (high.x, low.y), (low.x, high.y), (high.x, high.y)] {
        control.push((x, y, ground.unproject(coord! {x: x, y: y})?));
    }
    Ok(GridReference::Geographic { control, datum: "WGS 84".to_owned() })
}

/// Where a site is drawn: where the boat was, else where it was planned.
pub(crate) fn place_of(
    ground: &Ground,
    record: &SurveyRecord,
    site: &Site,
) -> Result<Option<(f64, f64)>> {
    let visit = record.visits.iter().find(|visit| visit.site == site.id);
    let place = visit.and_then(|visit| visit.actual).map(|fix| fix.position).or(site.planned);
    place.map(|place| ground.project(place).map(|at| (at.x, at.y))).transpose()
}

/// Sites in the order of the plan.
pub(super) fn in_order(record: &SurveyRecord) -> Vec<&Site> {
    let mut sites: Vec<&Site> = record.sites.iter().filter(|site| site.stands()).collect();
    sites.sort_by_key(|site| site.rank);
    sites
}

pub(super) fn site_map(book: &LakeBook, ground: &Ground, record: &SurveyRecord) -> Result<SiteMap> {
    let mut map = map_data(book, ground, record)?;
    let visits = record.visits_by_site();
    for site in in_order(record) {
        let Some((x, y)) = place_of(ground, record, site)? else { continue };
        let mark = match visits.get(&site.id).map(|visit| &visit.result) {
            Some(SiteResult::NotSampled(_)) => Mark::NotReached,
            _ => Mark::Planned,
        };
        map.sites.push(SiteMark { code: site.code.to_string(), x, y, mark });
    }
    Ok(SiteMap {
        lake: ground.lake.name.clone(),
        survey: record.survey.name.clone(),
        map,
        depth_reference: ground.lake.depth_datum.clone(),
        notes: notes(ground, record),
    })
}

/// Where the map's figures come from, one sentence each.
pub(super) fn notes(ground: &Ground, record: &SurveyRecord) -> Vec<String> {
    let mut notes = lake_notes(ground);
    if !record.survey.layout.layout.is_empty() {
        notes.push(format!("Sites laid as {}.", record.survey.layout.layout));
    }
    notes
}

fn lake_notes(ground: &Ground) -> Vec<String> {
    let mut notes = vec![format!("Computed in {} ({}).", ground.crs.name(), ground.crs.label())];
    if let Some(source) = &ground.depth_source {
        notes.push(format!("Depths from {source}."));
    }
    notes
}

/// The depths alone: no zones, no beds, no sites.
pub(super) fn bathymetric_map(book: &LakeBook, ground: &Ground) -> Result<BathymetricMap> {
    let outline = ground.need_outline()?;
    let mut map = lake_data(book, ground, None)?;
    map.zones.clear();
    map.sub_areas.clear();
    map.treated.clear();
    let units = ground.lake.units;
    let mut answer = format!(". {}", units.area(outline.area()));
    if let Some(model) = &ground.model {
        answer.push_str(&format!(", greatest depth {}", units.depth(model.max_depth())));
    }
    answer.push('.');
    let mut notes = lake_notes(ground);
    notes.push(
        "Water levels, weeds and drifting wood are not on this map: keep a look-out.".to_owned(),
    );
    Ok(BathymetricMap {
        lake: ground.lake.name.clone(),
        answer,
        map,
        depth_reference: ground.lake.depth_datum.clone(),
        notes,
    })
}
