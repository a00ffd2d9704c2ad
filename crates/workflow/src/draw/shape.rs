//! Shapes between the screen's metres and the book's degrees.

use crate::error::{Error, Result};
use crate::ground::Ground;
use geo::{MapCoords, Validation};
use geo_types::{Coord, LineString, MultiPolygon, Polygon};
use serde_json::{Value, json};
use std::cell::RefCell;
use std::collections::HashMap;
use units::LonLat;

/// Corners nearer to each other than this are one corner. Metres.
pub(super) const REACH: f64 = 0.01;

/// Metres of the working system and the degrees they came from.
#[derive(Debug, Default)]
pub(super) struct Places {
    known: RefCell<HashMap<(u64, u64), Coord<f64>>>,
}

fn bits(at: Coord<f64>) -> (u64, u64) {
    (at.x.to_bits(), at.y.to_bits())
}

impl Places {
    /// Projects a shape of the book and remembers where each corner came from.
    pub(super) fn project(
        &self,
        ground: &Ground,
        shape: &MultiPolygon<f64>,
    ) -> Result<MultiPolygon<f64>> {
        shape.try_map_coords(|at| {
            let place = LonLat::new(at.x, at.y)
                .map_err(|error| Error::fault(format!("a shape in the book: {error}")))?;
            let metres = ground.project(place)?;
            self.known.borrow_mut().insert(bits(metres), at);
            Ok(metres)
        })
    }

    /// Turns a shape back; corners that were there keep their degrees to the last bit.
    pub(super) fn unproject(
        &self,
        ground: &Ground,
        shape: &MultiPolygon<f64>,
    ) -> Result<MultiPolygon<f64>> {
        shape.try_map_coords(|at| match self.known.borrow().get(&bits(at)) {
            Some(known) => Ok(*known),
            None => Ok(lakebed::coord_of(ground.unproject(at)?)),
        })
    }
}

/// A GeoJSON geometry with every digit, so that a corner can be named by its numbers.
pub(super) fn exact_json(shape: &MultiPolygon<f64>) -> Value {
    let ring =
        |ring: &LineString<f64>| -> Value { ring.coords().map(|at| json!([at.x, at.y])).collect() };
    let polygons: Vec<Value> = shape
        .iter()
        .map(|one| std::iter::once(one.exterior()).chain(one.interiors()).map(ring).collect())
        .collect();
    json!({"type": "MultiPolygon", "coordinates": polygons})
}

fn unreadable(why: &str) -> Error {
    Error::input(format!("the shape cannot be read: {why}"))
        .hint("send a GeoJSON Polygon or MultiPolygon in metres of the lake's system")
}

/// Reads an area as drawn and checks that it is one.
pub(super) fn area_of(value: &Value) -> Result<MultiPolygon<f64>> {
    let number = |value: &Value| value.as_f64().filter(|number| number.is_finite());
    let ring = |value: &Value| -> Result<LineString<f64>> {
        let corners = value.as_array().ok_or_else(|| unreadable("a ring is no list"))?;
        let corners = corners
            .iter()
            .map(|at| {
                let x = at.get(0).and_then(number);
                let y = at.get(1).and_then(number);
                x.zip(y)
                    .map(|(x, y)| Coord { x, y })
                    .ok_or_else(|| unreadable("a corner is no place"))
            })
            .collect::<Result<Vec<_>>>()?;
        let mut ring = LineString(corners);
        ring.close();
        if ring.0.len() < 4 {
            return Err(Error::input("an area needs three corners or more")
                .hint("go on drawing, or leave the drawing with Escape"));
        }
        Ok(ring)
    };
    let polygon = |value: &Value| -> Result<Polygon<f64>> {
        let rings = value.as_array().ok_or_else(|| unreadable("an area is no list of rings"))?;
        let mut rings = rings.iter().map(ring).collect::<Result<Vec<_>>>()?.into_iter();
        let shell = rings.next().ok_or_else(|| unreadable("an area without a ring"))?;
        Ok(Polygon::new(shell, rings.collect()))
    };
    let coordinates = &value["coordinates"];
    let shape = match value["type"].as_str() {
        Some("Polygon") => MultiPolygon(vec![polygon(coordinates)?]),
        Some("MultiPolygon") => {
            let all = coordinates.as_array().ok_or_else(|| unreadable("no list of areas"))?;
            MultiPolygon(all.iter().map(polygon).collect::<Result<_>>()?)
        }
        _ => return Err(unreadable("it is neither Polygon nor MultiPolygon")),
    };
    if let Some(error) = shape.validation_errors().into_iter().next() {
        return Err(Error::input(format!("the shape is no clean area: {error}"))
            .hint("its edge crosses itself: move the corners there"));
    }
    Ok(shape)
}

/// A line as drawn.
pub(super) fn line_of(places: &[[f64; 2]]) -> Result<LineString<f64>> {
    if places.len() < 2 || places.iter().flatten().any(|number| !number.is_finite()) {
        return Err(Error::input("a line needs two places or more")
            .hint("click where it begins, and twice where it ends"));
    }
    Ok(places.iter().map(|&[x, y]| Coord { x, y }).collect())
}
