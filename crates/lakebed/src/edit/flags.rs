//! What is wrong between the areas of a lake.

use geo::orient::Direction;
use geo::{
    Area, BooleanOps, BoundingRect, CoordsIter, Distance, Euclidean, InteriorPoint, Intersects,
    Length, Orient,
};
use geo_types::{Coord, MultiPolygon, Polygon, Rect};
use std::collections::HashMap;
use units::SquareMetres;

/// An area under its code, in the working system's metres.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedArea {
    /// Its code.
    pub code: String,
    /// Its shape.
    pub shape: MultiPolygon<f64>,
}

/// Something between two areas, or an area and the lake, that is seldom meant.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum ShapeFlag {
    /// Two areas lie on each other.
    Overlap {
        /// One.
        one: String,
        /// The other.
        other: String,
        /// What both hold.
        area: SquareMetres,
        /// A place in it.
        at: Coord<f64>,
    },
    /// Water between areas that belongs to none, narrow or small.
    Gap {
        /// The areas beside it.
        beside: Vec<String>,
        /// The water.
        area: SquareMetres,
        /// A place in it.
        at: Coord<f64>,
    },
    /// A part of an area lies on land or off the lake.
    OutOfLake {
        /// The area.
        code: String,
        /// The part.
        area: SquareMetres,
        /// A place in it.
        at: Coord<f64>,
    },
}

impl ShapeFlag {
    /// Where it is, in the working system's metres.
    pub const fn at(&self) -> Coord<f64> {
        match self {
            Self::Overlap { at, .. } | Self::Gap { at, .. } | Self::OutOfLake { at, .. } => *at,
        }
    }
}

/// Less than this is the rounding of coordinates. Square metres.
const ROUNDING: f64 = 1.0;
/// A gap narrower than this on average is seldom meant. Metres; common practice.
const NARROW: f64 = 10.0;
/// Half the side of a dot on a corner that areas share. Metres.
const DOT: f64 = 0.005;

fn place(shape: &MultiPolygon<f64>) -> Coord<f64> {
    let largest = shape.iter().max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()));
    largest.and_then(InteriorPoint::interior_point).map_or_else(Coord::zero, |point| point.0)
}

fn apart(one: &MultiPolygon<f64>, other: &MultiPolygon<f64>) -> bool {
    match (one.bounding_rect(), other.bounding_rect()) {
        (Some(one), Some(other)) => !one.intersects(&other),
        _ => true,
    }
}

/// Looks at areas within a lake: overlaps of more than a square metre, slivers of water between
/// them, parts outside the lake.
///
/// An area drawn over the shore on purpose is flagged as well: its acreage counts water only, so
/// nothing is lost by it. One drawn over an island is as it should be. Water wider than ten metres on average that no area claims is taken as
/// meant.
///
/// # Units
/// Metres of the working system; areas are of its plane.
pub fn flags(lake: &MultiPolygon<f64>, areas: &[NamedArea]) -> Vec<ShapeFlag> {
    let mut found = Vec::new();
    for (index, one) in areas.iter().enumerate() {
        for other in &areas[index + 1..] {
            if apart(&one.shape, &other.shape) {
                continue;
            }
            let shared = one.shape.intersection(&other.shape);
            let area = shared.unsigned_area();
            if ROUNDING < area {
                found.push(ShapeFlag::Overlap {
                    one: one.code.clone(),
                    other: other.code.clone(),
                    area: SquareMetres::new(area),
                    at: place(&shared),
                });
            }
        }
    }
    let ashore = MultiPolygon(
        lake.iter().map(|piece| Polygon::new(piece.exterior().clone(), vec![])).collect(),
    );
    for one in areas {
        let dry = one.shape.difference(&ashore);
        let area = dry.unsigned_area();
        if ROUNDING < area {
            found.push(ShapeFlag::OutOfLake {
                code: one.code.clone(),
                area: SquareMetres::new(area),
                at: place(&dry),
            });
        }
    }
    found.extend(gaps(lake, areas));
    found
}

fn gaps(lake: &MultiPolygon<f64>, areas: &[NamedArea]) -> Vec<ShapeFlag> {
    if areas.len() < 2 {
        return Vec::new();
    }
    // where areas meet in a corner only, the water between them and the water around them would be
    // one shape: a dot on the corner keeps them apart
    let dots = shared_corners(areas).into_iter().map(|at| dot(at).into());
    // a union takes rings that run against each other from each other
    let shapes: Vec<MultiPolygon<f64>> = areas
        .iter()
        .map(|one| one.shape.clone())
        .chain(dots)
        .map(|shape| shape.orient(Direction::Default))
        .collect();
    let covered = geo::unary_union(&shapes);
    let free = lake.difference(&covered);
    free.iter()
        .filter(|piece| ROUNDING < piece.unsigned_area() && is_narrow(piece))
        .filter_map(|piece| {
            let beside: Vec<String> = areas
                .iter()
                .filter(|one| touches(&one.shape, piece))
                .map(|one| one.code.clone())
                .collect();
            (2 <= beside.len()).then(|| ShapeFlag::Gap {
                beside,
                area: SquareMetres::new(piece.unsigned_area()),
                at: place(&MultiPolygon(vec![piece.clone()])),
            })
        })
        .collect()
}

/// Corners that more than one area has.
fn shared_corners(areas: &[NamedArea]) -> Vec<Coord<f64>> {
    let mut first: HashMap<(u64, u64), usize> = HashMap::new();
    let mut shared = Vec::new();
    for (index, one) in areas.iter().enumerate() {
        for at in one.shape.coords_iter() {
            if *first.entry((at.x.to_bits(), at.y.to_bits())).or_insert(index) != index {
                shared.push(at);
            }
        }
    }
    shared
}

fn dot(at: Coord<f64>) -> Polygon<f64> {
    let by = Coord { x: DOT, y: DOT };
    Rect::new(at - by, at + by).to_polygon()
}

/// Twice the area over the length of the edge is the mean width of a sliver.
fn is_narrow(piece: &Polygon<f64>) -> bool {
    let edge = Euclidean.length(piece.exterior());
    2.0 * piece.unsigned_area() / edge.max(1e-9) < NARROW
}

/// Nearer than this an area lies beside a piece of water: the pieces come out of a grid of their own, and
/// their edges lie a hair off those they were cut along. Metres.
const BESIDE: f64 = 0.01;

fn touches(shape: &MultiPolygon<f64>, piece: &Polygon<f64>) -> bool {
    let (Some(extent), Some(around)) = (piece.bounding_rect(), shape.bounding_rect()) else {
        return false;
    };
    let by = Coord { x: BESIDE, y: BESIDE };
    Rect::new(extent.min() - by, extent.max() + by).intersects(&around)
        && Euclidean.distance(shape, piece) < BESIDE
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::polygon;

    fn rectangle(code: &str, west: f64, south: f64, east: f64, north: f64) -> NamedArea {
        NamedArea {
            code: code.to_owned(),
            shape: polygon![
                (x: west, y: south), (x: east, y: south), (x: east, y: north), (x: west, y: north)
            ]
            .into(),
        }
    }

    #[test]
    fn overlap_gap_and_land_by_hand() {
        let lake = rectangle("", 0.0, 0.0, 300.0, 100.0).shape;
        let areas = [
            rectangle("W1", 0.0, 0.0, 100.0, 100.0),
            // 2 m over W1
            rectangle("W2", 98.0, 0.0, 150.0, 100.0),
            // 3 m of water between W2 and W3, 10 m on land
            rectangle("W3", 153.0, -10.0, 200.0, 100.0),
        ];
        let found = flags(&lake, &areas);
        let words: Vec<String> = found
            .iter()
            .map(|flag| match flag {
                ShapeFlag::Overlap { one, other, area, .. } => {
                    format!("{one} on {other}: {:.0}", area.square_metres())
                }
                ShapeFlag::Gap { beside, area, .. } => {
                    format!("between {}: {:.0}", beside.join(" and "), area.square_metres())
                }
                ShapeFlag::OutOfLake { code, area, .. } => {
                    format!("{code} on land: {:.0}", area.square_metres())
                }
            })
            .collect();
        assert_eq!(words, ["W1 on W2: 200", "W3 on land: 470", "between W2 and W3: 300"]);
        for (flag, x) in found.iter().zip([98.0..=100.0, 153.0..=200.0, 150.0..=153.0]) {
            assert!(x.contains(&flag.at().x), "{flag:?}");
        }
    }

    /// The ends of the edge are shared, the edge between is not: half of 8 m by 40 m. The coordinates are
    /// not round, as none is that was degrees before.
    #[test]
    fn a_gap_between_shared_corners_is_found_wherever_it_lies() {
        for step in 0..40 {
            let (x, y) = (
                381_000.288_361_897_2 + 0.337_1 * f64::from(step),
                4_939_590.848_463_761 + 0.211_7 * f64::from(step),
            );
            let at = |dx: f64, dy: f64| Coord { x: x + dx, y: y + dy };
            let area = |code: &str, ring: Vec<Coord<f64>>| NamedArea {
                code: code.to_owned(),
                shape: Polygon::new(ring.into(), vec![]).into(),
            };
            let (low, high) = (at(0.0, -20.0), at(0.0, 20.0));
            // one runs clockwise, the other against it, as hands draw
            let areas = [
                area("W1", vec![at(-30.0, -20.0), at(-30.0, 20.0), high, low]),
                area("W2", vec![low, at(30.0, -20.0), at(30.0, 20.0), high, at(8.0, 0.0)]),
            ];
            let lake = rectangle("", 380_700.0, 4_939_300.0, 381_400.0, 4_939_900.0).shape;
            let found = flags(&lake, &areas);
            let [ShapeFlag::Gap { beside, area, .. }] = found.as_slice() else {
                panic!("{step}: {found:?}")
            };
            assert_eq!(beside, &["W1", "W2"]);
            assert!((area.square_metres() - 160.0).abs() < 0.5, "{area:?}");
        }
    }

    #[test]
    fn an_island_in_an_area_is_no_fault() {
        let lake = polygon!(
            exterior: [(x: 0.0, y: 0.0), (x: 300.0, y: 0.0), (x: 300.0, y: 100.0), (x: 0.0, y: 100.0)],
            interiors: [[(x: 40.0, y: 40.0), (x: 60.0, y: 40.0), (x: 60.0, y: 60.0)]],
        );
        let areas = [rectangle("W1", 0.0, 0.0, 100.0, 100.0)];
        assert_eq!(flags(&lake.into(), &areas), []);
    }

    #[test]
    fn neighbours_that_share_an_edge_are_clean() {
        let lake = rectangle("", 0.0, 0.0, 300.0, 100.0).shape;
        let areas =
            [rectangle("W1", 0.0, 0.0, 100.0, 100.0), rectangle("W2", 100.0, 0.0, 200.0, 100.0)];
        assert_eq!(flags(&lake, &areas), []);
    }
}
