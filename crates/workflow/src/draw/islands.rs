//! Islands: cut out of the water, and made water again.

use super::GeometryAsk;
use super::change::store_outline;
use super::shape::{Places, REACH, area_of};
use crate::error::{Error, Result};
use crate::ground::Ground;
use geo::orient::Direction;
use geo::{Area, BooleanOps, Contains, Distance, Euclidean, Intersects, Orient};
use geo_types::{Coord, LineString, MultiPolygon, Polygon};
use lakebook::LakeBook;
use units::SquareMetres;

/// Less than this is how exactly a hand draws. Square metres.
const A_LITTLE: f64 = 1.0;

/// Cuts an island out of the water; one that lies on others becomes one with them. Every corner of
/// the shore stays where it is to the last bit.
///
/// # Errors
/// When there is no outline, or the island reaches over the shore, or lies on land as a whole.
pub fn add_island(book: &mut LakeBook, ground: &Ground, ask: &GeometryAsk) -> Result<()> {
    let island = area_of(&ask.geometry)?;
    let (places, water) = water(book, ground)?;
    let scale = ground.need_outline()?.area_scale();
    let lake = water.iter().position(|piece| {
        let beyond = island.difference(&filled(piece)).unsigned_area();
        beyond < A_LITTLE.min(0.5 * island.unsigned_area())
    });
    let Some(index) = lake else {
        let beyond: f64 = {
            let lakes = MultiPolygon(water.iter().map(filled).collect());
            island.difference(&lakes).unsigned_area() * scale
        };
        let words = ground.lake.units.area(SquareMetres::new(beyond));
        return Err(Error::input(format!("the island reaches over the shore, by {words}"))
            .hint("draw it within the water; where the shore itself is wrong, move its corners"));
    };
    let piece = &water.0[index];
    if near_ring(piece.exterior(), &island) {
        return Err(Error::input("the island touches the shore, so it is no island")
            .hint("leave water all round it, or move the corners of the shore instead"));
    }
    let (met, apart): (Vec<_>, Vec<_>) =
        piece.interiors().iter().cloned().partition(|ring| near_ring(ring, &island));
    let on_land =
        piece.interiors().iter().any(|ring| Polygon::new(ring.clone(), vec![]).contains(&island));
    if on_land {
        return Err(Error::input("all of this island lies on one that is there already")
            .hint("move the corners of that island, or delete it and draw it again"));
    }
    let mut left = water.clone();
    let note = if met.is_empty() {
        let mut rings = apart;
        rings.extend(island.iter().map(|one| one.exterior().clone()));
        left.0[index] = Polygon::new(piece.exterior().clone(), rings);
        "drew an island".to_owned()
    } else {
        let count = met.len();
        let grounds = met.into_iter().map(|ring| MultiPolygon(vec![Polygon::new(ring, vec![])]));
        // rings of islands run the other way
        let all: Vec<MultiPolygon<f64>> =
            grounds.chain([island]).map(|one| one.orient(Direction::Default)).collect();
        let joined = geo::unary_union(all.iter());
        // the corners of before take their places again, which the union rounds
        let joined = lakebed::join(&joined, &[], std::slice::from_ref(&water), REACH)
            .map_err(|error| Error::input(error.to_string()).hint(error.hint()))?
            .shape;
        let mut rings = apart;
        for one in joined {
            let (shell, ponds) = one.into_inner();
            rings.push(shell);
            left.0.extend(ponds.into_iter().map(|pond| Polygon::new(pond, vec![])));
        }
        left.0[index] = Polygon::new(piece.exterior().clone(), rings);
        match count {
            1 => "drew an island, joined to the one it lies on".to_owned(),
            many => format!("drew an island, joined to the {many} it lies on"),
        }
    };
    let area = places.unproject(ground, &left)?;
    store_outline(book, &ground.crs, &area, &note)
}

/// Fills the island at a place: it becomes water.
///
/// # Errors
/// When there is no island there.
pub fn fill_island(book: &mut LakeBook, ground: &Ground, at: [f64; 2]) -> Result<()> {
    let (places, water) = water(book, ground)?;
    let at = Coord { x: at[0], y: at[1] };
    let mut count = 0;
    let left = MultiPolygon(
        water
            .iter()
            .map(|piece| {
                let kept = piece.interiors().iter().filter(|ring| {
                    let hit = Polygon::new((*ring).clone(), vec![]).contains(&at);
                    count += usize::from(hit);
                    !hit
                });
                Polygon::new(piece.exterior().clone(), kept.cloned().collect())
            })
            .collect(),
    );
    if count == 0 {
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

/// A lake with its islands under water.
fn filled(piece: &Polygon<f64>) -> Polygon<f64> {
    Polygon::new(piece.exterior().clone(), vec![])
}

/// Whether a shore and an island meet.
fn near_ring(ring: &LineString<f64>, island: &MultiPolygon<f64>) -> bool {
    island
        .iter()
        .any(|one| ring.intersects(one) || Euclidean.distance(ring, one.exterior()) < REACH)
}
