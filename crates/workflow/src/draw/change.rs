//! Each change to the drawing is one save.

use super::shape::{Places, REACH, area_of, line_of};
use super::{AreaAsk, CornerAsk, GeometryAsk, SplitAsk};
use crate::error::{Error, Result};
use crate::ground::Ground;
use geo::{Area, BooleanOps, Contains};
use geo_types::{Coord, MultiPolygon, Polygon};
use lakebed::Crs;
use lakebook::{Entity, LakeBook};
use survey::{Code, Protection, SubArea, SubAreaId, Zone, ZoneId};

fn told(error: &lakebed::EditError) -> Error {
    Error::input(error.to_string()).hint(error.hint())
}

fn code_of(text: &str) -> Result<Code> {
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
    let (crs, area) = placed_outline(book, ground, &drawn)?;
    store_outline(book, &crs, &area, "drew the outline")
}

/// The system and the degrees of an outline as drawn.
fn placed_outline(
    book: &LakeBook,
    ground: &Ground,
    drawn: &MultiPolygon<f64>,
) -> Result<(Crs, MultiPolygon<f64>)> {
    if ground.crs.is_geographic() {
        return Err(Error::input("the lake has neither a shore nor a scanned map to draw on")
            .hint("put a map under it with `quillwort add BOOK background FILE --points POINTS.csv`, or add an outline"));
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

fn store_outline(
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

/// Cuts an island out of the water.
///
/// # Errors
/// When there is no outline, or the island is not in its water.
pub fn add_island(book: &mut LakeBook, ground: &Ground, ask: &GeometryAsk) -> Result<()> {
    let island = area_of(&ask.geometry)?;
    let (places, water) = water(book, ground)?;
    if water.intersection(&island).unsigned_area() < 0.5 * island.unsigned_area() {
        return Err(Error::input("the island does not lie in the water of the lake")
            .hint("draw it within the shore"));
    }
    places.project(ground, &ground.need_outline()?.lon_lat().clone())?;
    let left = water.difference(&island);
    let area = places.unproject(ground, &left)?;
    store_outline(book, &ground.crs, &area, "drew an island")
}

/// Fills the island at a place: it becomes water.
///
/// # Errors
/// When there is no island there.
pub fn fill_island(book: &mut LakeBook, ground: &Ground, at: [f64; 2]) -> Result<()> {
    let (places, water) = water(book, ground)?;
    let at = Coord { x: at[0], y: at[1] };
    let mut filled = 0;
    let left = MultiPolygon(
        water
            .iter()
            .map(|piece| {
                let kept = piece.interiors().iter().filter(|ring| {
                    let hit = Polygon::new((*ring).clone(), vec![]).contains(&at);
                    filled += usize::from(hit);
                    !hit
                });
                Polygon::new(piece.exterior().clone(), kept.cloned().collect())
            })
            .collect(),
    );
    if filled == 0 {
        return Err(Error::not_found("there is no island at this place")
            .hint("pick a place within the island's shore"));
    }
    let area = places.unproject(ground, &left)?;
    store_outline(book, &ground.crs, &area, "took an island away")
}

fn water(book: &LakeBook, ground: &Ground) -> Result<(Places, MultiPolygon<f64>)> {
    ground.need_outline()?;
    let places = Places::default();
    let shore = book.outline()?.ok_or_else(|| Error::fault("the outline is gone"))?;
    let water = places.project(ground, &shore.area)?;
    Ok((places, water))
}

/// Refuses an edit made from a version that no longer stands.
fn check_version(book: &LakeBook, entity: Entity, id: &str, seen: Option<&String>) -> Result<()> {
    let Some(seen) = seen else { return Ok(()) };
    let stands = book.version(entity, id)?.map(|version| version.to_string());
    if stands.as_ref() == Some(seen) {
        return Ok(());
    }
    Err(Error::input("this shape was changed by someone else in the meantime")
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
    let places = Places::default();
    let mut all = Vec::new();
    for zone in &ground.zones {
        all.push((zone.id.to_string(), places.project(ground, &zone.area)?));
    }
    for part in book.sub_areas()? {
        places.project(ground, &part.area)?;
    }
    if let Some(shore) = book.outline()? {
        places.project(ground, &shore.area)?;
    }
    let drawn = ask.geometry.as_ref().map(area_of).transpose()?;
    let area = drawn.as_ref().map(|drawn| places.unproject(ground, drawn)).transpose()?;
    let need =
        || Error::input("a new area needs a shape").hint("draw it on the map, or type its corners");
    if ask.kind == "sub-area" {
        return put_sub_area(book, ground, id, ask, (code, drawn, area));
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
        area: area.or_else(|| known.map(|zone| zone.area.clone())).ok_or_else(need)?,
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
    Ok(book.transact(&note, |writer| writer.put_zone(&zone))?)
}

type Drawn = (Code, Option<MultiPolygon<f64>>, Option<MultiPolygon<f64>>);

fn put_sub_area(
    book: &mut LakeBook,
    ground: &Ground,
    id: Option<&str>,
    ask: &AreaAsk,
    (code, drawn, area): Drawn,
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
        (None, Some(drawn)) => most_shared(ground, drawn)?,
        (None, None) => known.and_then(|part| part.zone),
    };
    let part = SubArea {
        id: known.map_or_else(|| SubAreaId(book.new_id()), |part| part.id),
        zone,
        area: area.or_else(|| known.map(|part| part.area.clone())).ok_or_else(|| {
            Error::input("a new area needs a shape").hint("draw it on the map, or type its corners")
        })?,
        code,
    };
    let verb = if known.is_some() { "changed" } else { "drew" };
    let note = format!("{verb} sub-area {}", part.code);
    Ok(book.transact(&note, |writer| writer.put_sub_area(&part))?)
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

fn zone_by_id<'a>(ground: &'a Ground, id: &str) -> Result<&'a Zone> {
    ground
        .zones
        .iter()
        .find(|zone| zone.id.to_string() == id)
        .ok_or_else(|| Error::not_found("there is no such zone").hint("look at the map again"))
}

/// Deletes a zone or a sub-area by its key. Surveys that name it keep its code.
///
/// # Errors
/// When it is not there.
pub fn delete_area(book: &mut LakeBook, ground: &Ground, id: &str) -> Result<()> {
    if let Ok(zone) = zone_by_id(ground, id) {
        let note = format!("deleted zone {}", zone.code);
        let mut parts = book.sub_areas()?;
        parts.retain(|part| part.zone == Some(zone.id));
        return Ok(book.transact(&note, |writer| {
            // its sub-areas stay, on their own
            for part in &mut parts {
                part.zone = None;
                writer.put_sub_area(part)?;
            }
            writer.delete_zone(zone.id)
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

/// The next free code of a family: `W3` gives `W3b`, `W3c` and so on.
fn free_code(base: &Code, taken: &[String]) -> Result<Code> {
    ('b'..='z')
        .map(|letter| format!("{base}{letter}"))
        .find(|code| !taken.iter().any(|known| known.eq_ignore_ascii_case(code)))
        .ok_or_else(|| Error::input("no code is free").hint("name the new part with a code"))
        .and_then(|code| code_of(&code))
}

/// Parts a zone or a sub-area by a line. The largest part keeps the code; corners where the line
/// meets an edge are put into the neighbours as well, so that shared edges stay shared.
///
/// # Errors
/// When the line does not cross it from edge to edge.
pub fn split_area(book: &mut LakeBook, ground: &Ground, id: &str, ask: &SplitAsk) -> Result<()> {
    let line = line_of(&ask.line)?;
    let parts_there = book.sub_areas()?;
    let places = Places::default();
    let zone = zone_by_id(ground, id).ok();
    let part = parts_there.iter().find(|part| part.id.to_string() == id);
    let (area, base) = match (zone, part) {
        (Some(zone), _) => (&zone.area, &zone.code),
        (None, Some(part)) => (&part.area, &part.code),
        (None, None) => return Err(Error::not_found("there is no such zone or sub-area")),
    };
    let shape = places.project(ground, area)?;
    let parts = lakebed::split(&shape, &line)
        .map_err(|error| Error::input(error.to_string()).hint(error.hint()))?;
    let mut taken: Vec<String> = ground.zones.iter().map(|zone| zone.code.to_string()).collect();
    taken.extend(parts_there.iter().map(|part| part.code.to_string()));
    let mut areas = Vec::new();
    for (index, piece) in parts.iter().enumerate() {
        let code = match (&ask.code, index) {
            (_, 0) => base.clone(),
            (Some(code), 1) => code_of(code)?,
            _ => free_code(base, &taken)?,
        };
        if index > 0 && taken.iter().any(|known| known.eq_ignore_ascii_case(code.as_str())) {
            return Err(Error::input(format!("the code `{code}` is taken"))
                .hint("give the new part another code"));
        }
        taken.push(code.to_string());
        areas.push((code, places.unproject(ground, &MultiPolygon(vec![piece.clone()]))?));
    }
    let corners = new_corners(&shape, &parts);
    let neighbours = with_corners(ground, &places, &corners, id)?;
    let list: Vec<&str> = areas.iter().map(|(code, _)| code.as_str()).collect();
    let note = format!("split {base} into {}", list.join(", "));
    let ids: Vec<_> = areas.iter().map(|_| book.new_id()).collect();
    Ok(book.transact(&note, |writer| {
        for (index, (code, area)) in areas.iter().enumerate() {
            match (zone, part) {
                (Some(zone), _) => writer.put_zone(&Zone {
                    id: if index == 0 { zone.id } else { ZoneId(ids[index]) },
                    code: code.clone(),
                    area: area.clone(),
                    name: if index == 0 { zone.name.clone() } else { String::new() },
                    ..zone.clone()
                })?,
                (None, Some(part)) => writer.put_sub_area(&SubArea {
                    id: if index == 0 { part.id } else { SubAreaId(ids[index]) },
                    code: code.clone(),
                    area: area.clone(),
                    zone: part.zone,
                })?,
                (None, None) => {}
            }
        }
        neighbours.iter().try_for_each(|zone| writer.put_zone(zone))
    })?)
}

/// Corners of the parts that the whole did not have and that lie on its edge.
fn new_corners(whole: &MultiPolygon<f64>, parts: &[Polygon<f64>]) -> Vec<Coord<f64>> {
    use geo::coordinate_position::{CoordPos, CoordinatePosition};
    let rings = |polygon: &Polygon<f64>| -> Vec<Coord<f64>> {
        let all = std::iter::once(polygon.exterior()).chain(polygon.interiors());
        all.flat_map(|ring| ring.0.clone()).collect()
    };
    let old: Vec<Coord<f64>> = whole.iter().flat_map(rings).collect();
    let mut found: Vec<Coord<f64>> = Vec::new();
    for at in parts.iter().flat_map(rings) {
        let inner = whole.coordinate_position(&at) == CoordPos::Inside;
        let near = |shape: &MultiPolygon<f64>| {
            use geo::{Distance, Euclidean};
            let edges = shape.iter().flat_map(|one| {
                std::iter::once(one.exterior()).chain(one.interiors()).cloned().collect::<Vec<_>>()
            });
            edges.into_iter().any(|ring| Euclidean.distance(&ring, &geo_types::Point(at)) < 1e-3)
        };
        if !old.contains(&at) && !found.contains(&at) && (!inner || near(whole)) {
            found.push(at);
        }
    }
    found
}

/// The other zones with corners put in where they share the edge.
fn with_corners(
    ground: &Ground,
    places: &Places,
    corners: &[Coord<f64>],
    except: &str,
) -> Result<Vec<Zone>> {
    let others: Vec<&Zone> = ground
        .zones
        .iter()
        .filter(|zone| zone.until.is_none() && zone.id.to_string() != except)
        .collect();
    let mut shapes =
        others.iter().map(|zone| places.project(ground, &zone.area)).collect::<Result<Vec<_>>>()?;
    let mut touched = vec![false; shapes.len()];
    for corner in corners {
        match lakebed::insert_vertex(&shapes, *corner, 1e-3) {
            Ok(changed) => {
                for (index, shape) in changed {
                    shapes[index] = shape;
                    touched[index] = true;
                }
            }
            Err(lakebed::EditError::NoEdge) => {}
            Err(error) => return Err(told(&error)),
        }
    }
    others
        .into_iter()
        .zip(shapes)
        .zip(touched)
        .filter(|(_, touched)| *touched)
        .map(|((zone, shape), _)| {
            Ok(Zone { area: places.unproject(ground, &shape)?, ..zone.clone() })
        })
        .collect()
}

/// Moves, puts in or takes out a corner in every shape that has it.
///
/// # Errors
/// When no shape has it, or an edge would cross another.
pub fn change_corner(book: &mut LakeBook, ground: &Ground, ask: &CornerAsk) -> Result<()> {
    let at = Coord { x: ask.at[0], y: ask.at[1] };
    let to = ask.to.map_or(at, |[x, y]| Coord { x, y });
    let places = Places::default();
    let zones: Vec<Zone> =
        ground.zones.iter().filter(|zone| zone.until.is_none()).cloned().collect();
    let parts = book.sub_areas()?;
    let shore = book.outline()?;
    let of = ask.of.as_deref().unwrap_or("all");
    let mut shapes = Vec::new();
    if of != "outline" {
        for area in zones.iter().map(|one| &one.area).chain(parts.iter().map(|one| &one.area)) {
            shapes.push(places.project(ground, area)?);
        }
    }
    let areas = shapes.len();
    if of != "areas"
        && let Some(shore) = &shore
    {
        shapes.push(places.project(ground, &shore.area)?);
    }
    let changed = match ask.action.as_str() {
        "move" => lakebed::move_vertex(&shapes, at, to, REACH),
        "insert" => lakebed::insert_vertex(&shapes, at, REACH).and_then(|changed| {
            if ask.to.is_none() {
                return Ok(changed);
            }
            // a corner drawn out of an edge: put in, then moved
            let mut edited = shapes.clone();
            for (index, shape) in changed {
                edited[index] = shape;
            }
            lakebed::move_vertex(&edited, at, to, REACH)
        }),
        "delete" => lakebed::delete_vertex(&shapes, at, REACH),
        other => {
            return Err(Error::input(format!("`{other}` is nothing that can be done to a corner"))
                .hint("one of `move`, `insert`, `delete`"));
        }
    }
    .map_err(|error| told(&error))?;
    let mut changed_zones = Vec::new();
    let mut changed_parts = Vec::new();
    let mut changed_shore = None;
    let mut codes = Vec::new();
    for (index, shape) in changed {
        let area = places.unproject(ground, &shape)?;
        if index < zones.len().min(areas) {
            codes.push(zones[index].code.to_string());
            changed_zones.push(Zone { area, ..zones[index].clone() });
        } else if index < areas {
            let part = &parts[index - zones.len()];
            codes.push(part.code.to_string());
            changed_parts.push(SubArea { area, ..part.clone() });
        } else {
            codes.push("the shore".to_owned());
            changed_shore = Some(area);
        }
    }
    let verb = match ask.action.as_str() {
        "move" => "moved",
        "insert" => "put in",
        _ => "took out",
    };
    let note = format!("{verb} a corner of {}", codes.join(", "));
    let outline = match changed_shore {
        Some(area) => {
            let (outline, _) = lakebed::Outline::new(&area, &ground.crs).map_err(|error| {
                Error::input(format!("the outline: {error}")).hint("move the corner less far")
            })?;
            let before = shore.ok_or_else(|| Error::fault("the outline is gone"))?;
            Some(lakebook::Outline { area: outline.lon_lat().clone(), ..before })
        }
        None => None,
    };
    Ok(book.transact(&note, |writer| {
        changed_zones.iter().try_for_each(|zone| writer.put_zone(zone))?;
        changed_parts.iter().try_for_each(|part| writer.put_sub_area(part))?;
        outline.iter().try_for_each(|outline| writer.put_outline(outline))
    })?)
}
