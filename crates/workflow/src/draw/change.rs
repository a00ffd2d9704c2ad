//! Each change to the drawing is one save.

use super::shape::{Places, REACH, area_of};
use super::{AreaAsk, GeometryAsk};
use crate::error::{Error, Result};
use crate::ground::Ground;
use geo::{Area, BooleanOps};
use geo_types::MultiPolygon;
use lakebed::Crs;
use lakebook::{Entity, LakeBook};
use survey::{Code, Protection, SubArea, SubAreaId, Zone, ZoneId};

/// An edit that cannot be, with the shape called by its name.
pub(super) fn told(error: &lakebed::EditError, names: &[String]) -> Error {
    let message = match error {
        lakebed::EditError::CrossesItself { number, .. } => match names.get(number - 1) {
            Some(name) => format!("the edge of {name} would cross itself"),
            None => error.to_string(),
        },
        other => other.to_string(),
    };
    Error::input(message).hint(error.hint())
}

pub(super) fn code_of(text: &str) -> Result<Code> {
    Code::new(text.trim()).map_err(|error| {
        Error::input(format!("code `{text}`: {error}")).hint("give it a short code such as `W3`")
    })
}

/// Writes an outline; the water in it stays as it is drawn.
///
/// # Errors
/// When it is no clean outline.
pub fn put_outline(book: &mut LakeBook, ground: &Ground, ask: &GeometryAsk) -> Result<()> {
    let drawn = area_of(&ask.geometry)?;
    let (crs, area) = placed_outline(book, ground, &drawn, ask.near)?;
    store_outline(book, &crs, &area, "drew the outline")
}

/// The system and the degrees of an outline as drawn.
fn placed_outline(
    book: &LakeBook,
    ground: &Ground,
    drawn: &MultiPolygon<f64>,
    near: Option<[f64; 2]>,
) -> Result<(Crs, MultiPolygon<f64>)> {
    if ground.crs.is_geographic() {
        let [longitude, latitude] = near.ok_or_else(|| {
            Error::input("nobody knows yet where on Earth this lake lies").hint(
                "put a scanned map beneath it, or type a corner of its shore as latitude and longitude",
            )
        })?;
        let place = units::LonLat::new(longitude, latitude).map_err(|error| {
            Error::input(error.to_string()).hint("latitude first, then longitude; west is negative")
        })?;
        let crs = Crs::utm_for(place);
        let area = crs
            .unproject_geometry(drawn)
            .map_err(|error| Error::input(error.to_string()).hint(error.hint()))?;
        return Ok((crs, area));
    }
    let places = Places::default();
    if let Some(shore) = book.outline()? {
        places.project(ground, &shore.area)?;
    }
    for zone in &ground.zones {
        places.project(ground, &zone.area)?;
    }
    Ok((ground.crs.clone(), places.unproject(ground, drawn)?))
}

pub(super) fn store_outline(
    book: &mut LakeBook,
    crs: &Crs,
    area: &MultiPolygon<f64>,
    note: &str,
) -> Result<()> {
    let (outline, _) = lakebed::Outline::new(area, crs).map_err(|error| {
        Error::input(format!("the outline: {error}")).hint("move the corners named")
    })?;
    let mut lake = book.lake()?;
    lake.working_epsg = crs.code().unwrap_or(lake.working_epsg);
    let text = format!("{:?}", outline.lon_lat());
    let stored = lakebook::Outline {
        area: outline.lon_lat().clone(),
        source_file: "drawn".to_owned(),
        sha256: lakebook::sha256_hex(text.as_bytes()),
        note: format!("drawn in {}", crs.label()),
    };
    Ok(book.transact(note, |writer| {
        writer.put_lake(&lake)?;
        writer.put_outline(&stored)
    })?)
}

/// Refuses an edit made from a version that no longer stands.
fn check_version(book: &LakeBook, entity: Entity, id: &str, seen: Option<&String>) -> Result<()> {
    let Some(seen) = seen else { return Ok(()) };
    let stands = book.version(entity, id)?.map(|version| version.to_string());
    if stands.as_ref() == Some(seen) {
        return Ok(());
    }
    Err(Error::conflict("this shape was changed by someone else in the meantime")
        .hint("look at the map again and repeat the change; nothing of it was stored"))
}

/// Writes a zone or a sub-area: a new one without `id`, else over the one that is there.
///
/// # Errors
/// When the shape is no area, the code is taken, or someone else changed it in the meantime.
pub fn put_area(
    book: &mut LakeBook,
    ground: &Ground,
    id: Option<&str>,
    ask: &AreaAsk,
) -> Result<()> {
    let code = code_of(&ask.code)?;
    let drawn = match &ask.geometry {
        Some(geometry) => Some(beside_others(book, ground, id, &area_of(geometry)?)?),
        None => None,
    };
    let need =
        || Error::input("a new area needs a shape").hint("draw it on the map, or type its corners");
    if ask.kind == "sub-area" {
        return put_sub_area(book, ground, id, ask, code, drawn);
    }
    if ask.kind != "zone" {
        return Err(Error::input(format!("`{}` is neither a zone nor a sub-area", ask.kind))
            .hint("say `zone` or `sub-area`"));
    }
    let known = match id {
        Some(id) => Some(zone_by_id(ground, id)?),
        None => None,
    };
    let taken = ground
        .zones
        .iter()
        .find(|zone| zone.code == code && Some(zone.id) != known.map(|known| known.id));
    if taken.is_some() {
        return Err(Error::input(format!("the code `{code}` is another zone's"))
            .hint("give it another code; the code of a zone that is gone is not used again"));
    }
    if let Some(known) = known {
        check_version(book, Entity::Zone, &known.id.to_string(), ask.version.as_ref())?;
    }
    let zone = Zone {
        id: known.map_or_else(|| ZoneId(book.new_id()), |zone| zone.id),
        name: ask.name.trim().to_owned(),
        area: match &drawn {
            Some(drawn) => drawn.area.clone(),
            None => known.map(|zone| zone.area.clone()).ok_or_else(need)?,
        },
        protection: if ask.protection == "conservation" {
            Protection::Conservation
        } else {
            Protection::None
        },
        since: ask.since,
        until: ask.until,
        rule: ask.rule.trim().to_owned(),
        code,
    };
    let verb = if known.is_some() { "changed" } else { "drew" };
    let note = format!("{verb} zone {}", zone.code);
    Ok(book.transact(&note, |writer| {
        writer.put_zone(&zone)?;
        drawn.iter().try_for_each(|drawn| drawn.put_neighbours(writer))
    })?)
}

/// A shape as drawn, one with its neighbours.
struct Drawn {
    /// In metres of the working system.
    shape: MultiPolygon<f64>,
    /// In degrees.
    area: MultiPolygon<f64>,
    /// Zones that got a corner of it.
    zones: Vec<Zone>,
    /// Sub-areas that got a corner of it.
    parts: Vec<SubArea>,
}

impl Drawn {
    fn put_neighbours(&self, writer: &mut lakebook::Writer<'_>) -> Result<(), lakebook::BookError> {
        self.zones.iter().try_for_each(|zone| writer.put_zone(zone))?;
        self.parts.iter().try_for_each(|part| writer.put_sub_area(part))
    }
}

/// Makes a drawn shape one with what lies beside it: the zones, the sub-areas and the shore, which
/// itself stays as it is.
fn beside_others(
    book: &LakeBook,
    ground: &Ground,
    id: Option<&str>,
    drawn: &MultiPolygon<f64>,
) -> Result<Drawn> {
    let places = Places::default();
    let other = |key: String| id != Some(key.as_str());
    let zones: Vec<&Zone> = ground
        .zones
        .iter()
        .filter(|zone| zone.until.is_none() && other(zone.id.to_string()))
        .collect();
    let parts: Vec<SubArea> =
        book.sub_areas()?.into_iter().filter(|part| other(part.id.to_string())).collect();
    let areas = zones.iter().map(|zone| &zone.area).chain(parts.iter().map(|part| &part.area));
    let beside = areas.map(|area| places.project(ground, area)).collect::<Result<Vec<_>>>()?;
    let shore = match book.outline()? {
        Some(shore) => vec![places.project(ground, &shore.area)?],
        None => Vec::new(),
    };
    if let Some(known) = ground.zones.iter().find(|zone| !other(zone.id.to_string())) {
        places.project(ground, &known.area)?;
    }
    let joined = lakebed::join(drawn, &beside, &shore, REACH).map_err(|error| {
        let codes = zones.iter().map(|zone| zone.code.to_string());
        let codes = codes.chain(parts.iter().map(|part| part.code.to_string()));
        let names: Vec<String> = std::iter::once("the shape".to_owned()).chain(codes).collect();
        told(&error, &names)
    })?;
    let mut made = Drawn {
        area: places.unproject(ground, &joined.shape)?,
        shape: joined.shape,
        zones: Vec::new(),
        parts: Vec::new(),
    };
    for (index, shape) in joined.changed {
        let area = places.unproject(ground, &shape)?;
        match zones.get(index) {
            Some(zone) => made.zones.push(Zone { area, ..(*zone).clone() }),
            None => made.parts.push(SubArea { area, ..parts[index - zones.len()].clone() }),
        }
    }
    Ok(made)
}

fn put_sub_area(
    book: &mut LakeBook,
    ground: &Ground,
    id: Option<&str>,
    ask: &AreaAsk,
    code: Code,
    drawn: Option<Drawn>,
) -> Result<()> {
    let parts = book.sub_areas()?;
    let known = match id {
        Some(id) => Some(
            parts
                .iter()
                .find(|part| part.id.to_string() == id)
                .ok_or_else(|| Error::not_found("there is no such sub-area"))?,
        ),
        None => None,
    };
    if parts.iter().any(|part| part.code == code && Some(part.id) != known.map(|known| known.id)) {
        return Err(Error::input(format!("the code `{code}` is another sub-area's"))
            .hint("give it another code"));
    }
    if let Some(known) = known {
        check_version(book, Entity::SubArea, &known.id.to_string(), ask.version.as_ref())?;
    }
    let zone = match (&ask.zone, &drawn) {
        (Some(code), _) => Some(
            ground
                .zones
                .iter()
                .find(|zone| zone.code.as_str().eq_ignore_ascii_case(code))
                .ok_or_else(|| Error::not_found(format!("no zone `{code}`")))?
                .id,
        ),
        (None, Some(drawn)) => most_shared(ground, &drawn.shape)?,
        (None, None) => known.and_then(|part| part.zone),
    };
    let part = SubArea {
        id: known.map_or_else(|| SubAreaId(book.new_id()), |part| part.id),
        zone,
        area: match &drawn {
            Some(drawn) => drawn.area.clone(),
            None => known.map(|part| part.area.clone()).ok_or_else(|| {
                Error::input("a new area needs a shape")
                    .hint("draw it on the map, or type its corners")
            })?,
        },
        code,
    };
    let verb = if known.is_some() { "changed" } else { "drew" };
    let note = format!("{verb} sub-area {}", part.code);
    Ok(book.transact(&note, |writer| {
        writer.put_sub_area(&part)?;
        drawn.iter().try_for_each(|drawn| drawn.put_neighbours(writer))
    })?)
}

/// The zone that holds more than half of a shape.
fn most_shared(ground: &Ground, drawn: &MultiPolygon<f64>) -> Result<Option<ZoneId>> {
    let mut best: Option<(ZoneId, f64)> = None;
    for zone in ground.zones.iter().filter(|zone| zone.until.is_none()) {
        let shape = crate::lake::project(ground, &zone.area)?;
        let shared = shape.intersection(drawn).unsigned_area();
        if best.is_none_or(|(_, most)| most < shared) {
            best = Some((zone.id, shared));
        }
    }
    let half = 0.5 * drawn.unsigned_area();
    Ok(best.filter(|(_, shared)| half < *shared).map(|(id, _)| id))
}

pub(super) fn zone_by_id<'a>(ground: &'a Ground, id: &str) -> Result<&'a Zone> {
    ground
        .zones
        .iter()
        .find(|zone| zone.id.to_string() == id)
        .ok_or_else(|| Error::not_found("there is no such zone").hint("look at the map again"))
}

/// The last year in which a survey was made while a zone was in use; none when none was.
pub(super) fn last_surveyed(book: &LakeBook, zone: &Zone) -> Result<Option<i16>> {
    let surveys = book.surveys()?;
    Ok(surveys.iter().filter_map(crate::ground::year_of).filter(|year| zone.in_use(*year)).max())
}

/// Deletes a zone or a sub-area by its key. A zone that surveys were made in stays as it was for
/// them and ends with the last of these years, unless it goes for good.
///
/// # Errors
/// When it is not there.
pub fn delete_area(book: &mut LakeBook, ground: &Ground, id: &str, for_good: bool) -> Result<()> {
    if let Ok(zone) = zone_by_id(ground, id) {
        let last = if for_good { None } else { last_surveyed(book, zone)? };
        let note = match last {
            Some(year) => {
                format!("deleted zone {}; surveys up to {year} keep it", zone.code)
            }
            None => format!("deleted zone {}", zone.code),
        };
        let mut parts = book.sub_areas()?;
        parts.retain(|part| part.zone == Some(zone.id));
        return Ok(book.transact(&note, |writer| {
            // its sub-areas stay, on their own
            for part in &mut parts {
                part.zone = None;
                writer.put_sub_area(part)?;
            }
            match last {
                Some(_) => writer.put_zone(&Zone { until: last, ..zone.clone() }),
                None => writer.delete_zone(zone.id),
            }
        })?);
    }
    let parts = book.sub_areas()?;
    let part = parts
        .iter()
        .find(|part| part.id.to_string() == id)
        .ok_or_else(|| Error::not_found("there is no such zone or sub-area"))?;
    let note = format!("deleted sub-area {}", part.code);
    Ok(book.transact(&note, |writer| writer.delete_sub_area(part.id))?)
}
