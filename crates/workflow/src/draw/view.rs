//! What there is to draw on, and what a shape would measure.

use super::shape::{Places, area_of, exact_json};
use super::{GeometryAsk, PlaceAsk};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{
    DrawView, DrawnAreaView, DrawnContourView, DrawnLandmarkView, FlagView, MeasureView, PlaceView,
};
use geo::{Area, BooleanOps, BoundingRect, Intersects};
use geo_types::{Coord, MultiPolygon, Polygon};
use lakebed::{NamedArea, ShapeFlag, zone_shape, zone_statistics};
use lakebook::{DataSetContent, DataSetKind, Entity, LakeBook};
use survey::Zone;
use units::{LonLat, Metres};

/// What the drawing is made of.
const DRAWN: [Entity; 6] = [
    Entity::Outline,
    Entity::Zone,
    Entity::SubArea,
    Entity::Landmark,
    Entity::DataSet,
    Entity::Background,
];

/// The drawing as it stands: another one after each change to it.
fn version_of(book: &LakeBook) -> Result<String> {
    Ok(book.latest(&DRAWN)?.map_or_else(String::new, |event| event.id.to_string()))
}

/// Refuses a change made from a drawing that no longer stands.
///
/// # Errors
/// When the drawing was changed since `seen`.
pub fn check_seen(book: &LakeBook, seen: Option<&str>) -> Result<()> {
    let Some(seen) = seen else { return Ok(()) };
    let latest = book.latest(&DRAWN)?;
    if latest.as_ref().is_none_or(|event| event.id.to_string() == seen) {
        return Ok(());
    }
    let what = latest.map_or_else(String::new, |event| format!(": {}", event.note));
    Err(Error::conflict(format!("the drawing was changed elsewhere meanwhile{what}")).hint(
        "the page shows it now, and what you had begun is still there: look, then keep it again",
    ))
}

/// The water of an area: what of it is neither land nor island.
fn water_of(shape: &MultiPolygon<f64>, lake: Option<&MultiPolygon<f64>>, whole: bool) -> f64 {
    let Some(lake) = lake else { return shape.unsigned_area() };
    let frame = shape.bounding_rect();
    // a sub-area lies in its zone: only an island makes it less
    let island = lake.iter().flat_map(Polygon::interiors).any(|ring| {
        ring.bounding_rect().zip(frame).is_some_and(|(one, other)| one.intersects(&other))
    });
    if whole || island { shape.intersection(lake).unsigned_area() } else { shape.unsigned_area() }
}

/// Everything that can be drawn, with all its corners.
///
/// # Errors
/// When the book cannot be read.
pub fn draw_view(book: &LakeBook, ground: &Ground) -> Result<DrawView> {
    let places = Places::default();
    let version = |entity: Entity, id: String| -> Result<String> {
        Ok(book.version(entity, &id)?.map_or_else(String::new, |version| version.to_string()))
    };
    let scale = ground.outline.as_ref().map_or(1.0, lakebed::Outline::area_scale);
    let lake = ground.outline.as_ref().map(lakebed::Outline::projected);
    let zones: Vec<Zone> =
        ground.zones.iter().filter(|zone| zone.until.is_none()).cloned().collect();
    let mut areas = Vec::new();
    let mut named = Vec::new();
    for zone in &zones {
        let shape = places.project(ground, &zone.area)?;
        areas.push(DrawnAreaView {
            id: zone.id.to_string(),
            kind: "zone".to_owned(),
            code: zone.code.to_string(),
            name: zone.name.clone(),
            protection: zone.protection.key().to_owned(),
            rule: zone.rule.clone(),
            since: zone.since,
            zone: None,
            area_m2: water_of(&shape, lake, true) * scale,
            version: version(Entity::Zone, zone.id.to_string())?,
            geometry: exact_json(&shape),
        });
        named.push(NamedArea { code: zone.code.to_string(), shape });
    }
    for part in book.sub_areas()? {
        let shape = places.project(ground, &part.area)?;
        areas.push(DrawnAreaView {
            id: part.id.to_string(),
            kind: "sub-area".to_owned(),
            code: part.code.to_string(),
            name: String::new(),
            protection: "none".to_owned(),
            rule: String::new(),
            since: None,
            zone: zones
                .iter()
                .find(|zone| Some(zone.id) == part.zone)
                .map(|zone| zone.code.to_string()),
            area_m2: water_of(&shape, lake, false) * scale,
            version: version(Entity::SubArea, part.id.to_string())?,
            geometry: exact_json(&shape),
        });
    }
    let mut landmarks = Vec::new();
    for landmark in book.landmarks()? {
        let at = ground.project(landmark.position)?;
        landmarks.push(DrawnLandmarkView {
            id: landmark.id.to_string(),
            name: landmark.name,
            kind: landmark.kind.key().to_owned(),
            at: [at.x, at.y],
        });
    }
    let outline = match book.outline()? {
        Some(shore) => Some(exact_json(&places.project(ground, &shore.area)?)),
        None => None,
    };
    let flags = ground
        .outline
        .as_ref()
        .map(|outline| lakebed::flags(outline.projected(), &named))
        .unwrap_or_default();
    let backgrounds = crate::background::backgrounds(book, ground)?;
    let (last_change, next_redo) = book.undo_notes()?;
    let extent = ground
        .outline
        .as_ref()
        .map(|outline| {
            let extent = outline.extent();
            [extent.min().x, extent.min().y, extent.max().x, extent.max().y]
        })
        .or_else(|| backgrounds.first().map(|one| one.extent));
    Ok(DrawView {
        crs: ground.crs.label(),
        extent,
        outline,
        areas,
        landmarks,
        flags: flags.iter().map(|flag| flag_view(flag, scale)).collect(),
        backgrounds,
        contours: contours(book, ground)?,
        last_change,
        next_redo,
        version: version_of(book)?,
        surveyed: book.surveys()?.iter().filter_map(crate::ground::year_of).max(),
    })
}

/// Every contour among the depths.
fn contours(book: &LakeBook, ground: &Ground) -> Result<Vec<DrawnContourView>> {
    let mut all = Vec::new();
    for info in book.data_sets()?.into_iter().filter(|one| one.kind == DataSetKind::Contours) {
        let DataSetContent::Contours(lines) = book.load_data_set(&info.sha256)? else { continue };
        for (line, depth_m) in lines {
            let placed = ground
                .crs
                .project_geometry(&line)
                .map_err(|error| Error::fault(format!("contours `{}`: {error}", info.name)))?;
            all.push(DrawnContourView {
                data_set: info.sha256.clone(),
                source: info.name.clone(),
                of: info.count,
                depth_m,
                geometry: crate::lake::geometry_json(&placed),
            });
        }
    }
    Ok(all)
}

/// A place of the drawing in degrees, or degrees as a place of the drawing. A lake without shore
/// or scanned map has no drawing yet: its places are those of the UTM zone there.
///
/// # Errors
/// When it is nowhere on Earth.
pub fn place_view(ground: &Ground, at: PlaceAsk) -> Result<PlaceView> {
    let told = |error: lakebed::CrsError| Error::input(error.to_string()).hint(error.hint());
    let place = match at {
        PlaceAsk::Metres(x, y) => ground.unproject(Coord { x, y })?,
        PlaceAsk::Degrees { longitude, latitude } => {
            LonLat::new(longitude, latitude).map_err(|error| {
                Error::input(error.to_string())
                    .hint("latitude first, then longitude; west is negative")
            })?
        }
    };
    let metres = if ground.crs.is_geographic() {
        lakebed::Crs::utm_for(place).project(place).map_err(told)?
    } else {
        ground.project(place)?
    };
    Ok(PlaceView {
        longitude: place.longitude(),
        latitude: place.latitude(),
        x: metres.x,
        y: metres.y,
    })
}

fn flag_view(flag: &ShapeFlag, scale: f64) -> FlagView {
    let (kind, codes, area) = match flag {
        ShapeFlag::Overlap { one, other, area, .. } => {
            ("overlap", vec![one.clone(), other.clone()], area)
        }
        ShapeFlag::Gap { beside, area, .. } => ("gap", beside.clone(), area),
        ShapeFlag::OutOfLake { code, area, .. } => ("out-of-lake", vec![code.clone()], area),
        _ => ("other", Vec::new(), &units::SquareMetres::new(0.0)),
    };
    FlagView {
        kind: kind.to_owned(),
        codes,
        area_m2: area.square_metres() * scale,
        at: [flag.at().x, flag.at().y],
    }
}

/// What a shape would measure as a zone, and what would be wrong with it. Nothing is kept.
///
/// # Errors
/// When it is no clean area, or the lake has no outline yet.
pub fn measure(ground: &Ground, ask: &GeometryAsk) -> Result<MeasureView> {
    let shape = area_of(&ask.geometry)?;
    let Some(outline) = &ground.outline else {
        return Ok(MeasureView {
            area_m2: shape.unsigned_area(),
            littoral_area_m2: None,
            shore_m: None,
            mean_depth_m: None,
            volume_m3: None,
            flags: Vec::new(),
        });
    };
    let measured = ground
        .model
        .as_ref()
        .map(|model| zone_statistics(model, &shape, ground.littoral()))
        .transpose()
        .map_err(|error| Error::input(format!("the shape: {error}")).hint(error.hint()))?;
    let zone = zone_shape(outline, &shape)
        .map_err(|error| Error::input(format!("the shape: {error}")).hint(error.hint()))?;
    let scale = outline.area_scale();
    let mine = ask.code.clone().unwrap_or_else(|| "this shape".to_owned());
    let mut named = vec![NamedArea { code: mine.clone(), shape: shape.clone() }];
    for zone in ground.zones.iter().filter(|zone| zone.until.is_none()) {
        if zone.code.as_str() != mine {
            let shape = crate::lake::project(ground, &zone.area)?;
            named.push(NamedArea { code: zone.code.to_string(), shape });
        }
    }
    let flags = lakebed::flags(outline.projected(), &named);
    Ok(MeasureView {
        area_m2: measured.as_ref().map_or(zone.area, |one| one.area).square_metres(),
        littoral_area_m2: measured.as_ref().map(|one| one.littoral_area.square_metres()),
        shore_m: Some(zone.shore.metres()),
        mean_depth_m: measured.as_ref().and_then(|one| one.mean_depth).map(Metres::metres),
        volume_m3: measured.as_ref().map(|one| one.volume.cubic_metres()),
        flags: flags
            .iter()
            .map(|flag| flag_view(flag, scale))
            .filter(|flag| flag.codes.contains(&mine))
            .collect(),
    })
}
