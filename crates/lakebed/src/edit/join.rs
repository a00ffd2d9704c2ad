//! A new shape beside those that are there: what lies on them to the reach of a hand takes their
//! places to the last bit, so that the edge between them is one.

use super::share::{EditError, foot, insert_vertex, near, rings_of};
use geo::{BoundingRect, Validation};
use geo_types::{Coord, LineString, MultiPolygon, Polygon};

/// A drawn shape made one with its neighbours.
#[derive(Debug, Clone, PartialEq)]
pub struct Joined {
    /// The shape, with the corners of its neighbours where they lie on its edge.
    pub shape: MultiPolygon<f64>,
    /// The neighbours that got a corner of it put into an edge, with their indices.
    pub changed: Vec<(usize, MultiPolygon<f64>)>,
}

/// Joins a drawn shape to its neighbours.
///
/// A corner within `reach` of a corner of a neighbour, or of a shape in `fixed`, is that corner. One
/// within `reach` of a neighbour's edge is put into it. Corners of both kinds of shapes that lie on an
/// edge of the drawn shape are put into it. Shapes in `fixed` stay as they are.
///
/// # Units
/// Metres of the working system.
/// # Errors
/// [`EditError::CrossesItself`] when the shape is no clean area any more; it is number 1 then, the
/// neighbours follow.
pub fn join(
    drawn: &MultiPolygon<f64>,
    neighbours: &[MultiPolygon<f64>],
    fixed: &[MultiPolygon<f64>],
    reach: f64,
) -> Result<Joined, EditError> {
    let around = || neighbours.iter().chain(fixed);
    let ring = |ring: &LineString<f64>| {
        let taken: Vec<Coord<f64>> =
            ring.0.iter().map(|at| corner_at(around(), *at, reach).unwrap_or(*at)).collect();
        let mut corners: Vec<Coord<f64>> = Vec::with_capacity(taken.len());
        for pair in taken.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            corners.push(from);
            let mut between: Vec<Coord<f64>> = around()
                .filter(|shape| reaches(shape, from, to, reach))
                .flat_map(rings_of)
                .flat_map(|ring| ring.0.iter().copied())
                .filter(|at| {
                    !near(*at, from, reach)
                        && !near(*at, to, reach)
                        && near(foot(geo_types::Line::new(from, to), *at), *at, reach)
                })
                .collect();
            between.sort_by(|a, b| far(from, *a).total_cmp(&far(from, *b)));
            for at in between {
                if corners.last().is_some_and(|last| !near(*last, at, reach)) {
                    corners.push(at);
                }
            }
        }
        let mut line = LineString(corners);
        line.close();
        line.0.dedup();
        line
    };
    let shape = MultiPolygon(
        drawn
            .iter()
            .map(|one| {
                Polygon::new(ring(one.exterior()), one.interiors().iter().map(ring).collect())
            })
            .collect(),
    );
    if let Some(why) = shape.validation_errors().into_iter().next() {
        return Err(EditError::CrossesItself { number: 1, why: why.to_string() });
    }
    let mut edited = neighbours.to_vec();
    let mut touched = vec![false; edited.len()];
    for at in rings_of(&shape).flat_map(|ring| ring.0.iter().copied()) {
        match insert_vertex(&edited, at, reach) {
            Ok(changed) => {
                for (index, shape) in changed {
                    edited[index] = shape;
                    touched[index] = true;
                }
            }
            Err(EditError::NoEdge) => {}
            Err(EditError::CrossesItself { number, why }) => {
                return Err(EditError::CrossesItself { number: number + 1, why });
            }
            Err(error) => return Err(error),
        }
    }
    let changed =
        edited.into_iter().enumerate().filter(|(index, _)| touched[*index]).collect::<Vec<_>>();
    Ok(Joined { shape, changed })
}

fn far(a: Coord<f64>, b: Coord<f64>) -> f64 {
    (a.x - b.x).hypot(a.y - b.y)
}

/// The nearest corner within reach.
fn corner_at<'a>(
    shapes: impl Iterator<Item = &'a MultiPolygon<f64>>,
    at: Coord<f64>,
    reach: f64,
) -> Option<Coord<f64>> {
    shapes
        .filter(|shape| reaches(shape, at, at, reach))
        .flat_map(rings_of)
        .flat_map(|ring| ring.0.iter().copied())
        .filter(|corner| near(*corner, at, reach))
        .min_by(|a, b| far(*a, at).total_cmp(&far(*b, at)))
}

/// Whether the frame of a shape comes within reach of the frame of an edge.
fn reaches(shape: &MultiPolygon<f64>, from: Coord<f64>, to: Coord<f64>, reach: f64) -> bool {
    shape.bounding_rect().is_some_and(|rect| {
        rect.min().x - reach <= from.x.max(to.x)
            && from.x.min(to.x) <= rect.max().x + reach
            && rect.min().y - reach <= from.y.max(to.y)
            && from.y.min(to.y) <= rect.max().y + reach
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{Area, BooleanOps};
    use geo_types::polygon;

    fn area(ring: &[(f64, f64)]) -> MultiPolygon<f64> {
        MultiPolygon(vec![Polygon::new(ring.to_vec().into(), vec![])])
    }

    fn corners(shape: &MultiPolygon<f64>) -> Vec<(f64, f64)> {
        shape.0[0].exterior().0.iter().map(|at| (at.x, at.y)).collect()
    }

    /// 3 m and 7 m up an edge that leans: no binary fraction lies on it.
    #[test]
    fn corners_on_an_edge_are_put_into_it_and_no_sliver_is_left() {
        let west = area(&[(0.1, 0.2), (10.3, 0.7), (11.1, 10.9), (0.4, 10.3)]);
        let on = |share: f64| Coord { x: 10.3 + share * 0.8, y: 0.7 + share * 10.2 };
        let (low, high) = (on(0.3), on(0.7));
        let east = area(&[(low.x, low.y), (20.0, 3.0), (20.0, 8.0), (high.x, high.y)]);
        let joined = join(&east, std::slice::from_ref(&west), &[], 0.01).unwrap();
        assert_eq!(joined.shape, east, "no corner of the other lies on its edges");
        let [(0, changed)] = joined.changed.as_slice() else { panic!("{:?}", joined.changed) };
        for at in [low, high] {
            assert!(corners(changed).contains(&(at.x, at.y)), "{at:?}");
        }
        assert!(changed.intersection(&joined.shape).unsigned_area() < 1e-9);
        assert!((changed.unsigned_area() - west.unsigned_area()).abs() < 1e-9);
    }

    #[test]
    fn a_corner_of_the_neighbour_on_the_drawn_edge_is_put_into_it() {
        let west = area(&[(0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (10.0, 10.0), (0.0, 10.0)]);
        // 4 mm off the corners: a corner within reach is that corner
        let east = area(&[(10.004, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.003)]);
        let joined = join(&east, std::slice::from_ref(&west), &[], 0.01).unwrap();
        assert_eq!(
            corners(&joined.shape),
            [(10.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0), (10.0, 5.0), (10.0, 0.0)]
        );
        assert_eq!(joined.changed, []);
    }

    #[test]
    fn a_shape_that_is_fixed_gives_corners_and_takes_none() {
        let shore: MultiPolygon<f64> =
            polygon![(x: 0.0, y: 0.0), (x: 9.0, y: 0.0), (x: 9.0, y: 9.0), (x: 0.0, y: 9.0)].into();
        let zone = area(&[(0.005, 0.0), (4.0, 0.0), (4.0, 4.0)]);
        let joined = join(&zone, &[], std::slice::from_ref(&shore), 0.01).unwrap();
        assert_eq!(corners(&joined.shape)[0], (0.0, 0.0));
        assert_eq!(joined.changed, []);
    }
}
