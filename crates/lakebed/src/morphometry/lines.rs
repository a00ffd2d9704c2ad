//! Straight lines over water: fetch and maximum length.

use crate::outline::Outline;
use geo::{BoundingRect, Rotate};
use geo_types::{Line, MultiLineString, Point, Polygon};
use std::ops::RangeInclusive;
use units::Metres;

/// Degrees between the directions first tried for the maximum length.
const FIRST_STEP: f64 = 1.0;
/// How often the step is divided by five around the best direction.
const REFINEMENTS: usize = 7;

/// The longest straight line over open water in a direction, ended by the first land, islands as
/// well.
///
/// `bearing` is in degrees clockwise from true north; a bearing and its opposite have one fetch.
///
/// # Assumptions
/// The longest line of a direction touches a vertex of the shore, so only lines by a vertex are
/// measured. Lengths are in the plane of the working system, multiplied by its mean scale on the
/// lake.
pub fn fetch(outline: &Outline, bearing: f64) -> Metres {
    let grid_bearing = bearing + outline.convergence();
    Metres::new(longest_towards(outline, grid_bearing, 0.0) * outline.area_scale().sqrt())
}

/// The longest straight line over open water in any direction.
///
/// # Assumptions
/// Directions are tried at every degree, then ever more finely around the best: in a lake of narrow
/// arms the line found may be a little short of the longest.
pub fn max_length(outline: &Outline) -> Metres {
    let hulls: Vec<Polygon<f64>> =
        outline.projected().iter().map(geo::ConvexHull::convex_hull).collect();
    // no line is longer than its piece of water reaches in its direction
    let reach = |bearing: f64| {
        let (east, north) = bearing.to_radians().sin_cos();
        let along = |hull: &Polygon<f64>| {
            let far = hull.exterior().0.iter().map(|at| at.x.mul_add(east, at.y * north));
            let (low, high) = far.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
                (low.min(one), high.max(one))
            });
            high - low
        };
        hulls.iter().map(along).fold(0.0, f64::max)
    };
    let mut best = (0.0, 0.0);
    let mut look = |bearing: f64| {
        if best.1 < reach(bearing) {
            let length = longest_towards(outline, bearing, best.1);
            if best.1 < length {
                best = (bearing, length);
            }
        }
        best.0
    };
    let count = (180.0 / FIRST_STEP) as usize;
    let mut first: Vec<f64> = (0..count).map(|i| i as f64 * FIRST_STEP).collect();
    first.sort_by_cached_key(|bearing| std::cmp::Reverse((reach(*bearing) * 1e3) as u64));
    let mut middle = first.into_iter().fold(0.0, |_, bearing| look(bearing));
    let mut step = FIRST_STEP;
    for _ in 0..REFINEMENTS {
        step /= 5.0;
        middle = (-5..=5)
            .filter(|i| *i != 0)
            .fold(middle, |_, i| look(f64::from(i).mul_add(step, middle)));
    }
    Metres::new(best.1 * outline.area_scale().sqrt())
}

/// An edge of the shore, lower end first.
struct Edge {
    low: (f64, f64),
    high: (f64, f64),
}

/// An edge that the sweep stands on.
struct Active {
    /// Where it crosses the level.
    x: f64,
    low: (f64, f64),
    top: f64,
    slope: f64,
}

impl Active {
    fn of(edge: &Edge) -> Self {
        let slope = (edge.high.0 - edge.low.0) / (edge.high.1 - edge.low.1);
        Self { x: edge.low.0, low: edge.low, top: edge.high.1, slope }
    }
}

/// Brings edges into the order in which they cross a level. Nearly all stand in it already, from
/// the level below.
fn order(active: &mut [Active], y: f64) {
    for edge in active.iter_mut() {
        edge.x = (y - edge.low.1).mul_add(edge.slope, edge.low.0);
    }
    for next in 1..active.len() {
        let mut at = next;
        while 0 < at && active[at].x < active[at - 1].x {
            active.swap(at, at - 1);
            at -= 1;
        }
    }
}

/// The turned lake in strips of equal height, and how far it reaches from west to east in each: no
/// line in a strip is longer.
struct Strips {
    south: f64,
    height: f64,
    reach: Vec<(f64, f64)>,
}

/// Strips a lake is cut into: with these a strip is a few edges high.
const STRIPS: usize = 256;

impl Strips {
    fn of(shores: &MultiLineString<f64>) -> Self {
        let (south, north) =
            shores.bounding_rect().map_or((0.0, 0.0), |extent| (extent.min().y, extent.max().y));
        let height = ((north - south) / STRIPS as f64).max(f64::MIN_POSITIVE);
        let mut strips = Self { south, height, reach: vec![NOTHING; STRIPS] };
        for line in shores.iter().flat_map(geo_types::LineString::lines) {
            let (start, end) = (line.start, line.end);
            let (west, east) = (start.x.min(end.x), start.x.max(end.x));
            let across = strips.across(start.y.min(end.y), start.y.max(end.y));
            for reach in &mut strips.reach[across] {
                *reach = (reach.0.min(west), reach.1.max(east));
            }
        }
        strips
    }

    /// The strips between two levels, and one more on either side against rounding.
    fn across(&self, low: f64, high: f64) -> RangeInclusive<usize> {
        let strip = |y: f64| ((y - self.south) / self.height) as usize;
        strip(low).saturating_sub(1).min(STRIPS - 1)..=(strip(high) + 1).min(STRIPS - 1)
    }

    /// Whether a line longer than this may lie between two levels.
    fn hold(&self, low: f64, high: f64, least: f64) -> bool {
        self.reach[self.across(low, high)].iter().any(|(west, east)| least < east - west)
    }
}

/// The reach of a strip without a shore.
const NOTHING: (f64, f64) = (f64::INFINITY, f64::NEG_INFINITY);

/// Turns the lake so that the direction lies along x and sweeps it from south to north. Strips too
/// narrow for a line longer than `least` are passed over; the answer is not less than it.
fn longest_towards(outline: &Outline, bearing: f64, least: f64) -> f64 {
    let centre = Point::from(outline.extent().center());
    let shores = outline.shores().rotate_around_point(bearing - 90.0, centre);
    let strips = Strips::of(&shores);
    let mut edges: Vec<Edge> = shores
        .iter()
        .flat_map(geo_types::LineString::lines)
        .filter(|line| line.start.y.total_cmp(&line.end.y).is_ne())
        .map(|Line { start, end }| {
            let (low, high) = if start.y < end.y { (start, end) } else { (end, start) };
            Edge { low: (low.x, low.y), high: (high.x, high.y) }
        })
        .filter(|edge| strips.hold(edge.low.1, edge.high.1, least))
        .collect();
    edges.sort_unstable_by(|a, b| a.low.1.total_cmp(&b.low.1));
    // a line just beside a vertex stands for the one that touches it
    let beside = strips.height * STRIPS as f64 * 1e-7;
    let mut levels: Vec<f64> = shores
        .iter()
        .flat_map(|ring| &ring.0[1..])
        .filter(|vertex| strips.hold(vertex.y, vertex.y, least))
        .flat_map(|vertex| [vertex.y - beside, vertex.y + beside])
        .collect();
    levels.sort_unstable_by(f64::total_cmp);
    let mut active: Vec<Active> = Vec::new();
    let mut waiting = edges.iter().peekable();
    let mut longest = least;
    for y in levels {
        active.retain(|edge| y < edge.top);
        while let Some(edge) = waiting.next_if(|edge| edge.low.1 <= y) {
            if y < edge.high.1 {
                active.push(Active::of(edge));
            }
        }
        order(&mut active, y);
        // water lies between the first crossing and the second, the third and the fourth
        for pair in active.chunks_exact(2) {
            longest = longest.max(pair[1].x - pair[0].x);
        }
    }
    longest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_lakes::lake;
    use proptest::prelude::*;

    proptest! {
        /// Against the sweep that passes nothing over.
        #[test]
        fn no_strip_passed_over_holds_a_longer_line(
            radii in prop::collection::vec(80.0..500.0f64, 5..40),
            bearing in 0.0..180.0f64,
            share in 0.0..1.2f64,
        ) {
            let turn = |number: usize, of: usize| {
                (number as f64 / of as f64 * std::f64::consts::TAU).sin_cos()
            };
            let shore: Vec<(f64, f64)> = radii
                .iter()
                .enumerate()
                .map(|(number, radius)| {
                    let (sin, cos) = turn(number, radii.len());
                    (radius * cos, radius * sin)
                })
                .collect();
            let island = (0..6).map(|number| turn(number, 6)).map(|(sin, cos)| (30.0 * cos, 20.0 * sin));
            let outline = lake(&[shore, island.collect()]);
            let whole = longest_towards(&outline, bearing, 0.0);
            let asked = longest_towards(&outline, bearing, share * whole);
            prop_assert!((asked - whole.max(share * whole)).abs() < 1e-9 * whole, "{asked} {whole}");
        }
    }
}
