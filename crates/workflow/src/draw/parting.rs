//! Areas parted by a line.

use super::SplitAsk;
use super::change::{code_of, last_surveyed, told, zone_by_id};
use super::shape::{Places, line_of};
use crate::error::{Error, Result};
use crate::ground::Ground;
use geo::{Area, BooleanOps};
use geo_types::{Coord, MultiPolygon, Polygon};
use lakebook::LakeBook;
use survey::{Code, SubArea, SubAreaId, Zone, ZoneId};

/// The next free code of a family from a letter on: `W3` gives `W3b`, `W3c` and so on.
fn free_code(base: &Code, first: char, taken: &[String]) -> Result<Code> {
    (first..='z')
        .map(|letter| format!("{base}{letter}"))
        .find(|code| !is_taken(taken, code))
        .ok_or_else(|| Error::input("no code is free").hint("name the new part with a code"))
        .and_then(|code| code_of(&code))
}

fn is_taken(taken: &[String], code: &str) -> bool {
    taken.iter().any(|known| known.eq_ignore_ascii_case(code))
}

/// Parts a zone or a sub-area by a line. The largest part keeps the code; corners where the line
/// meets an edge are put into the neighbours as well, so that shared edges stay shared, and each
/// sub-area goes to the part that holds most of it.
///
/// A zone that surveys were made in stays as it was for them, unless `keep_past` says otherwise: it
/// ends with the last of these years, and its parts, all with codes of their own, begin with the
/// next.
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
    // surveys of the years up to this one keep the zone whole
    let last = match zone {
        Some(zone) if ask.keep_past != Some(false) => last_surveyed(book, zone)?,
        _ => None,
    };
    let mut taken: Vec<String> = ground.zones.iter().map(|zone| zone.code.to_string()).collect();
    taken.extend(parts_there.iter().map(|part| part.code.to_string()));
    let codes = part_codes(base, parts.len(), ask.code.as_deref(), last.is_some(), taken)?;
    let shapes: Vec<MultiPolygon<f64>> =
        parts.iter().map(|piece| MultiPolygon(vec![piece.clone()])).collect();
    let areas =
        shapes.iter().map(|shape| places.unproject(ground, shape)).collect::<Result<Vec<_>>>()?;
    let corners = new_corners(&shape, &parts);
    let neighbours = with_corners(ground, &places, &corners, id)?;
    let list: Vec<&str> = codes.iter().map(Code::as_str).collect();
    let note = match last {
        Some(year) => {
            format!("split {base} into {}; surveys up to {year} keep {base} whole", list.join(", "))
        }
        None => format!("split {base} into {}", list.join(", ")),
    };
    let ids: Vec<_> = areas.iter().map(|_| book.new_id()).collect();
    let zone_ids: Vec<ZoneId> = (0..areas.len())
        .map(|index| match zone {
            Some(zone) if index == 0 && last.is_none() => zone.id,
            _ => ZoneId(ids[index]),
        })
        .collect();
    let rehomed = match zone {
        Some(zone) => rehomed(ground, &parts_there, zone, &shapes, &zone_ids)?,
        None => Vec::new(),
    };
    Ok(book.transact(&note, |writer| {
        if let (Some(zone), Some(year)) = (zone, last) {
            writer.put_zone(&Zone { until: Some(year), ..zone.clone() })?;
        }
        for (index, (code, area)) in codes.iter().zip(&areas).enumerate() {
            match (zone, part) {
                (Some(zone), _) => writer.put_zone(&Zone {
                    id: zone_ids[index],
                    code: code.clone(),
                    area: area.clone(),
                    name: if index == 0 { zone.name.clone() } else { String::new() },
                    since: last.map_or(zone.since, |year| Some(year.saturating_add(1))),
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
        rehomed.iter().try_for_each(|part| writer.put_sub_area(part))?;
        neighbours.iter().try_for_each(|zone| writer.put_zone(zone))
    })?)
}

/// The codes of the parts, the largest first: it keeps the code of the whole, unless that stays the
/// code of the whole in the record.
fn part_codes(
    base: &Code,
    count: usize,
    wanted: Option<&str>,
    all_new: bool,
    mut taken: Vec<String>,
) -> Result<Vec<Code>> {
    let mut codes = Vec::new();
    for index in 0..count {
        let code = match (wanted, index) {
            (_, 0) if !all_new => base.clone(),
            (Some(code), 1) => {
                let code = code_of(code)?;
                if is_taken(&taken, code.as_str()) {
                    return Err(Error::input(format!("the code `{code}` is taken"))
                        .hint("give the new part another code"));
                }
                code
            }
            _ => free_code(base, if all_new { 'a' } else { 'b' }, &taken)?,
        };
        taken.push(code.to_string());
        codes.push(code);
    }
    Ok(codes)
}

/// The sub-areas of a zone that come into another part of it, each where most of it lies.
fn rehomed(
    ground: &Ground,
    parts: &[SubArea],
    zone: &Zone,
    shapes: &[MultiPolygon<f64>],
    ids: &[ZoneId],
) -> Result<Vec<SubArea>> {
    let mut moved = Vec::new();
    for part in parts.iter().filter(|part| part.zone == Some(zone.id)) {
        let shape = crate::lake::project(ground, &part.area)?;
        let shares: Vec<f64> =
            shapes.iter().map(|piece| piece.intersection(&shape).unsigned_area()).collect();
        let most = (0..shares.len()).max_by(|a, b| shares[*a].total_cmp(&shares[*b]));
        let home = most.map(|index| ids[index]);
        if home != part.zone {
            moved.push(SubArea { zone: home, ..part.clone() });
        }
    }
    Ok(moved)
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
            Err(error) => {
                let names: Vec<String> = others.iter().map(|zone| zone.code.to_string()).collect();
                return Err(told(&error, &names));
            }
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
