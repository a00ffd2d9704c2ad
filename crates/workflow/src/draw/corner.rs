//! Corners that several shapes share.

use super::CornerAsk;
use super::change::told;
use super::shape::{Places, REACH};
use crate::error::{Error, Result};
use crate::ground::Ground;
use geo_types::{Coord, MultiPolygon};
use lakebed::EditError;
use lakebook::LakeBook;
use survey::{SubArea, Zone};

/// Moves, puts in or takes out a corner in every shape that has it.
///
/// # Errors
/// When no shape has it, or an edge would cross another.
pub fn change_corner(book: &mut LakeBook, ground: &Ground, ask: &CornerAsk) -> Result<()> {
    let at = Coord { x: ask.at[0], y: ask.at[1] };
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
    let names: Vec<String> = zones
        .iter()
        .map(|zone| zone.code.to_string())
        .chain(parts.iter().map(|part| part.code.to_string()))
        .take(areas)
        .chain(["the shore".to_owned()])
        .collect();
    let changed = edited(&shapes, areas, at, ask)?.map_err(|error| told(&error, &names))?;
    let mut changed_zones = Vec::new();
    let mut changed_parts = Vec::new();
    let mut changed_shore = None;
    let mut codes = Vec::new();
    for (index, shape) in changed {
        let area = places.unproject(ground, &shape)?;
        codes.push(names[index].as_str());
        if index < zones.len().min(areas) {
            changed_zones.push(Zone { area, ..zones[index].clone() });
        } else if index < areas {
            changed_parts.push(SubArea { area, ..parts[index - zones.len()].clone() });
        } else {
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

type Edited = Result<Vec<(usize, MultiPolygon<f64>)>, EditError>;

/// The shapes that a change to a corner leaves otherwise, with their indices. Of `shapes` the first
/// `areas` are zones and sub-areas, what follows is the shore.
fn edited(
    shapes: &[MultiPolygon<f64>],
    areas: usize,
    at: Coord<f64>,
    ask: &CornerAsk,
) -> Result<Edited> {
    let to = ask.to.map(|[x, y]| Coord { x, y });
    let mut now = shapes.to_vec();
    let done = match ask.action.as_str() {
        // a corner drawn out of an edge is put in, then moved
        "insert" => put(&mut now, |now| lakebed::insert_vertex(now, at, REACH))
            .and_then(|()| to.map_or(Ok(()), |to| moved(&mut now, areas, at, to))),
        "move" => moved(&mut now, areas, at, to.unwrap_or(at)),
        "delete" => put(&mut now, |now| lakebed::delete_vertex(now, at, REACH)),
        other => {
            return Err(Error::input(format!("`{other}` is nothing that can be done to a corner"))
                .hint("one of `move`, `insert`, `delete`"));
        }
    };
    Ok(done.map(|()| {
        now.into_iter().enumerate().filter(|(index, shape)| *shape != shapes[*index]).collect()
    }))
}

fn put(
    shapes: &mut [MultiPolygon<f64>],
    edit: impl FnOnce(&[MultiPolygon<f64>]) -> Edited,
) -> Result<(), EditError> {
    for (index, shape) in edit(shapes)? {
        shapes[index] = shape;
    }
    Ok(())
}

/// Moves a corner in every shape that has it, and in every area whose edge runs through it; where it
/// comes to lie on the edge of another area, that gets the corner too.
fn moved(
    shapes: &mut [MultiPolygon<f64>],
    areas: usize,
    from: Coord<f64>,
    to: Coord<f64>,
) -> Result<(), EditError> {
    let into_edges =
        |shapes: &mut [MultiPolygon<f64>], at| match put(&mut shapes[..areas], |areas| {
            lakebed::insert_vertex(areas, at, REACH)
        }) {
            Err(EditError::NoEdge) => Ok(()),
            other => other,
        };
    into_edges(shapes, from)?;
    put(shapes, |shapes| lakebed::move_vertex(shapes, from, to, REACH))?;
    into_edges(shapes, to)
}
