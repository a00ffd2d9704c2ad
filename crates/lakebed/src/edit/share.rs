//! Vertices that several areas share.

use geo::{Closest, ClosestPoint, Validation};
use geo_types::{Coord, Line, LineString, MultiPolygon, Point};

/// An edit that would leave a shape that is none.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum EditError {
    /// No shape has a vertex there.
    #[error("no shape has a corner at this place")]
    NoVertex,
    /// No shape has an edge there.
    #[error("no shape has an edge at this place")]
    NoEdge,
    /// A ring would have fewer than three corners.
    #[error("a shape would be left with fewer than three corners")]
    TooFewCorners,
    /// An edge would cross another of the same shape.
    #[error("the edge of shape {number} would cross itself: {why}")]
    CrossesItself {
        /// The shape, counted from 1.
        number: usize,
        /// What the check of the shape says.
        why: String,
    },
}

impl EditError {
    /// What a person can do about it.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::NoVertex | Self::NoEdge => "point nearer to the shape, or zoom in",
            Self::TooFewCorners => "delete the whole shape instead",
            Self::CrossesItself { .. } => "move the corner less far, or move its neighbours first",
        }
    }
}

fn rings_mut(shape: &mut MultiPolygon<f64>, mut edit: impl FnMut(&mut LineString<f64>)) {
    for polygon in &mut shape.0 {
        polygon.exterior_mut(|ring| edit(ring));
        polygon.interiors_mut(|rings| rings.iter_mut().for_each(&mut edit));
    }
}

pub(super) fn near(a: Coord<f64>, b: Coord<f64>, reach: f64) -> bool {
    (a.x - b.x).hypot(a.y - b.y) <= reach
}

/// Every ring of a shape.
pub(super) fn rings_of(shape: &MultiPolygon<f64>) -> impl Iterator<Item = &LineString<f64>> {
    shape.iter().flat_map(|one| std::iter::once(one.exterior()).chain(one.interiors()))
}

/// Moves a corner in every shape that has it, so that edges shared stay shared.
///
/// Corners within `reach` of `from` are one corner. Returns the changed shapes with their indices.
///
/// # Units
/// Metres of the working system.
/// # Errors
/// [`EditError`]; nothing is changed then.
pub fn move_vertex(
    shapes: &[MultiPolygon<f64>],
    from: Coord<f64>,
    to: Coord<f64>,
    reach: f64,
) -> Result<Vec<(usize, MultiPolygon<f64>)>, EditError> {
    let mut changed = Vec::new();
    for (index, shape) in shapes.iter().enumerate() {
        let mut moved = shape.clone();
        let mut count = 0;
        rings_mut(&mut moved, |ring| {
            for at in &mut ring.0 {
                if near(*at, from, reach) {
                    *at = to;
                    count += 1;
                }
            }
        });
        if 0 < count {
            check(index, &moved)?;
            changed.push((index, moved));
        }
    }
    if changed.is_empty() { Err(EditError::NoVertex) } else { Ok(changed) }
}

/// Puts a corner into every edge that runs within `reach` of a place, so that edges shared stay
/// shared.
///
/// # Errors
/// [`EditError`].
pub fn insert_vertex(
    shapes: &[MultiPolygon<f64>],
    at: Coord<f64>,
    reach: f64,
) -> Result<Vec<(usize, MultiPolygon<f64>)>, EditError> {
    let mut changed = Vec::new();
    for (index, shape) in shapes.iter().enumerate() {
        let mut edited = shape.clone();
        let mut count = 0;
        rings_mut(&mut edited, |ring| {
            let mut corners = Vec::with_capacity(ring.0.len() + 1);
            for edge in ring.lines() {
                corners.push(edge.start);
                let ends = near(edge.start, at, reach) || near(edge.end, at, reach);
                if !ends && near(foot(edge, at), at, reach) {
                    corners.push(at);
                    count += 1;
                }
            }
            corners.push(corners[0]);
            if 0 < count {
                ring.0 = corners;
            }
        });
        if 0 < count {
            check(index, &edited)?;
            changed.push((index, edited));
        }
    }
    if changed.is_empty() { Err(EditError::NoEdge) } else { Ok(changed) }
}

/// Takes a corner out of every shape that has it.
///
/// # Errors
/// [`EditError`]; nothing is changed then.
pub fn delete_vertex(
    shapes: &[MultiPolygon<f64>],
    at: Coord<f64>,
    reach: f64,
) -> Result<Vec<(usize, MultiPolygon<f64>)>, EditError> {
    let mut changed = Vec::new();
    for (index, shape) in shapes.iter().enumerate() {
        let mut edited = shape.clone();
        let (mut count, mut small) = (0, false);
        rings_mut(&mut edited, |ring| {
            let closed = ring.0.len();
            let kept: Vec<Coord<f64>> = ring.0[..closed.saturating_sub(1)]
                .iter()
                .copied()
                .filter(|corner| !near(*corner, at, reach))
                .collect();
            if kept.len() + 1 == closed {
                return;
            }
            count += 1;
            small |= kept.len() < 3;
            ring.0 = kept;
            ring.close();
        });
        if small {
            return Err(EditError::TooFewCorners);
        }
        if 0 < count {
            check(index, &edited)?;
            changed.push((index, edited));
        }
    }
    if changed.is_empty() { Err(EditError::NoVertex) } else { Ok(changed) }
}

fn check(index: usize, shape: &MultiPolygon<f64>) -> Result<(), EditError> {
    match shape.validation_errors().into_iter().next() {
        None => Ok(()),
        Some(why) => Err(EditError::CrossesItself { number: index + 1, why: why.to_string() }),
    }
}

pub(super) fn foot(edge: Line<f64>, at: Coord<f64>) -> Coord<f64> {
    match edge.closest_point(&Point(at)) {
        Closest::Intersection(found) | Closest::SinglePoint(found) => found.0,
        Closest::Indeterminate => edge.start,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{Area, BooleanOps};
    use geo_types::{Polygon, polygon};
    use proptest::prelude::*;

    /// Two squares side by side.
    fn two() -> Vec<MultiPolygon<f64>> {
        vec![
            polygon![(x: 0.0, y: 0.0), (x: 10.0, y: 0.0), (x: 10.0, y: 10.0), (x: 0.0, y: 10.0)]
                .into(),
            polygon![(x: 10.0, y: 0.0), (x: 20.0, y: 0.0), (x: 20.0, y: 10.0), (x: 10.0, y: 10.0)]
                .into(),
        ]
    }

    fn put(shapes: &mut [MultiPolygon<f64>], changed: Vec<(usize, MultiPolygon<f64>)>) {
        for (index, shape) in changed {
            shapes[index] = shape;
        }
    }

    #[test]
    fn a_shared_corner_moves_in_both() {
        let mut shapes = two();
        let (from, to) = (Coord { x: 10.0, y: 10.0 }, Coord { x: 12.0, y: 9.0 });
        let changed = move_vertex(&shapes, from, to, 0.01).unwrap();
        assert_eq!(changed.len(), 2);
        put(&mut shapes, changed);
        assert!(shapes[0].intersection(&shapes[1]).unsigned_area() < 1e-9);
        assert!((shapes[0].unsigned_area() - 105.0).abs() < 1e-9);
        assert_eq!(
            move_vertex(&shapes, Coord { x: 55.0, y: 1.0 }, to, 0.01).unwrap_err(),
            EditError::NoVertex
        );
    }

    #[test]
    fn a_corner_may_not_cross_an_edge() {
        let shapes = two();
        let error = move_vertex(&shapes, Coord { x: 0.0, y: 0.0 }, Coord { x: 30.0, y: 4.0 }, 0.01);
        assert!(matches!(error, Err(EditError::CrossesItself { number: 1, .. })), "{error:?}");
    }

    #[test]
    fn a_corner_put_into_a_shared_edge_is_in_both_and_can_go_again() {
        let mut shapes = two();
        let at = Coord { x: 10.0, y: 4.0 };
        let changed = insert_vertex(&shapes, at, 0.01).unwrap();
        assert_eq!(changed.len(), 2);
        put(&mut shapes, changed);
        let changed = move_vertex(&shapes, at, Coord { x: 11.0, y: 4.0 }, 0.01).unwrap();
        assert_eq!(changed.len(), 2);
        let changed = delete_vertex(&shapes, at, 0.01).unwrap();
        assert_eq!(changed.len(), 2);
        put(&mut shapes, changed);
        assert_eq!(shapes.iter().map(Area::unsigned_area).sum::<f64>().to_bits(), 200f64.to_bits());
        let triangle = vec![MultiPolygon(vec![
            polygon![(x: 0.0, y: 0.0), (x: 1.0, y: 0.0), (x: 0.0, y: 1.0)],
        ])];
        assert_eq!(
            delete_vertex(&triangle, Coord { x: 0.0, y: 0.0 }, 0.01).unwrap_err(),
            EditError::TooFewCorners
        );
        assert_eq!(
            insert_vertex(&shapes, Coord { x: 5.0, y: 5.0 }, 0.01).unwrap_err(),
            EditError::NoEdge
        );
    }

    proptest! {
        /// A mosaic of zones stays a mosaic, whichever of its inner corners moves.
        #[test]
        fn a_mosaic_stays_a_mosaic(
            column in 1..4usize, row in 1..4usize, x in -0.45..0.45f64, y in -0.45..0.45f64,
        ) {
            let at = |i: usize, j: usize| Coord { x: i as f64, y: j as f64 };
            let mut shapes: Vec<MultiPolygon<f64>> = (0..16)
                .map(|n| {
                    let (i, j) = (n % 4, n / 4);
                    let ring = vec![at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1), at(i, j)];
                    Polygon::new(ring.into(), vec![]).into()
                })
                .collect();
            let from = at(column, row);
            let changed = move_vertex(&shapes, from, from + Coord { x, y }, 1e-3).unwrap();
            prop_assert_eq!(changed.len(), 4);
            put(&mut shapes, changed);
            let sum: f64 = shapes.iter().map(Area::unsigned_area).sum();
            prop_assert!((sum - 16.0).abs() < 1e-9);
            let union = geo::unary_union(shapes.iter());
            prop_assert!((union.unsigned_area() - 16.0).abs() < 1e-6);
        }
    }
}
