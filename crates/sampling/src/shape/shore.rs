//! The shoreline as a way to walk along, and the water nearest to each stretch of it.

use super::subdivide::{Piece, absorb_slivers, subdivide};
use crate::region::{rings, twice_signed_area};
use geo_types::MultiPolygon;
use rstar::RTree;
use rstar::primitives::GeomWithData;
use spade::{DelaunayTriangulation, HasPosition, Point2, Triangulation};

/// A ring of shore, clockwise on the map, starting at its north-western vertex.
#[derive(Debug, Clone)]
pub(crate) struct ShoreRing {
    points: Vec<(f64, f64)>,
    /// Way from the start to each vertex, and round to the start again.
    way: Vec<f64>,
    pub(crate) island: bool,
}

impl ShoreRing {
    /// Once round.
    pub(crate) fn length(&self) -> f64 {
        self.way.last().copied().unwrap_or(0.0)
    }

    /// The place at a way from the start.
    pub(crate) fn at(&self, way: f64) -> (f64, f64) {
        let way = way.rem_euclid(self.length());
        let n = self.points.len();
        let index = self.way.partition_point(|passed| *passed <= way).clamp(1, n) - 1;
        let (a, b) = (self.points[index], self.points[(index + 1) % n]);
        let span = self.way[index + 1] - self.way[index];
        let t = if span > 0.0 { (way - self.way[index]) / span } else { 0.0 };
        (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1))
    }

    /// Way to the point of the ring nearest to a place, and the distance.
    pub(crate) fn nearest(&self, x: f64, y: f64) -> (f64, f64) {
        let n = self.points.len();
        let mut best = (0.0, f64::INFINITY);
        for index in 0..n {
            let (a, b) = (self.points[index], self.points[(index + 1) % n]);
            let (dx, dy) = (b.0 - a.0, b.1 - a.1);
            let square = dx * dx + dy * dy;
            let t = if square > 0.0 {
                (((x - a.0) * dx + (y - a.1) * dy) / square).clamp(0.0, 1.0)
            } else {
                0.0
            };
            let distance = (x - a.0 - t * dx).hypot(y - a.1 - t * dy);
            if distance < best.1 {
                best = (self.way[index] + t * square.sqrt(), distance);
            }
        }
        best
    }
}

/// The rings of a lake, main shores before islands, islands from the north.
pub(crate) fn shore_rings(water: &MultiPolygon<f64>) -> Vec<ShoreRing> {
    let mut all: Vec<ShoreRing> = Vec::new();
    for part in water {
        let n_before = all.len();
        for (index, ring) in rings(&MultiPolygon(vec![part.clone()])).enumerate() {
            let mut points: Vec<(f64, f64)> = ring.coords().map(|c| (c.x, c.y)).collect();
            points.pop();
            points.dedup();
            if points.len() < 3 {
                continue;
            }
            if twice_signed_area(&points) > 0.0 {
                points.reverse();
            }
            let north_west = |k: usize| points[k].1 - points[k].0;
            let start = (0..points.len())
                .max_by(|&a, &b| north_west(a).total_cmp(&north_west(b)))
                .unwrap_or(0);
            points.rotate_left(start);
            let mut way = vec![0.0];
            for k in 0..points.len() {
                let (a, b) = (points[k], points[(k + 1) % points.len()]);
                way.push(way[k] + (a.0 - b.0).hypot(a.1 - b.1));
            }
            all.push(ShoreRing { points, way, island: index > 0 });
        }
        debug_assert!(all.len() > n_before || part.exterior().0.len() < 4);
    }
    all.sort_by(|a, b| a.island.cmp(&b.island).then(b.points[0].1.total_cmp(&a.points[0].1)));
    all
}

/// A stretch of shore and the part it belongs to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Arc {
    pub(crate) ring: usize,
    /// Way to its start.
    pub(crate) from: f64,
    /// Way to its end, past `from`; may pass the start of the ring.
    pub(crate) to: f64,
    pub(crate) label: usize,
}

/// Shares a polygon out among stretches of shore: each gets the water nearest to it.
///
/// # Formula
/// Each stretch is beset with samples about `step` apart, those next to a corner equally far from it
/// on both sides; the water of a stretch is the union of its samples' Voronoi cells. Pieces that
/// hang apart and are small (a sample seen across a spit narrower than the step) go to the
/// neighbour they share most boundary with. The parts tile the polygon.
pub(crate) fn share_by_shore(
    polygon: &MultiPolygon<f64>,
    rings: &[ShoreRing],
    arcs: &[Arc],
    step: f64,
) -> Vec<Piece> {
    let samples = samples_of(rings, arcs, step);
    if samples.is_empty() {
        return Vec::new();
    }
    let cuts: Vec<[f64; 4]> = voronoi(&samples);
    let tree = RTree::bulk_load(
        samples.iter().map(|s| GeomWithData::new([s.x, s.y], s.label)).collect::<Vec<_>>(),
    );
    let label = |x: f64, y: f64| tree.nearest_neighbor(&[x, y]).map_or(0, |sample| sample.data);
    subdivide(polygon, &cuts, label, |faces| absorb_slivers(faces, 0.1))
}

#[derive(Debug, Clone, Copy)]
struct Sample {
    x: f64,
    y: f64,
    label: usize,
}

impl HasPosition for Sample {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        Point2::new(self.x, self.y)
    }
}

fn samples_of(rings: &[ShoreRing], arcs: &[Arc], step: f64) -> Vec<Sample> {
    let count = |arc: &Arc| ((arc.to - arc.from) / step).ceil().max(2.0);
    // one distance from every corner of a ring, half of the closest step on it
    let mut from_corner = vec![f64::INFINITY; rings.len()];
    for arc in arcs {
        let half = (arc.to - arc.from) / count(arc) / 2.0;
        from_corner[arc.ring] = from_corner[arc.ring].min(half);
    }
    let mut samples = Vec::new();
    for arc in arcs.iter().filter(|arc| arc.to > arc.from) {
        let n = count(arc);
        let edge = from_corner[arc.ring];
        let inner = (arc.to - arc.from - 2.0 * edge) / (n - 1.0);
        for k in 0..n as usize {
            let (x, y) = rings[arc.ring].at(arc.from + edge + k as f64 * inner);
            samples.push(Sample { x, y, label: arc.label });
        }
    }
    samples
}

/// Edges of the Voronoi diagram between samples of different labels.
fn voronoi(samples: &[Sample]) -> Vec<[f64; 4]> {
    let mut low = (f64::INFINITY, f64::INFINITY);
    let mut high = (f64::NEG_INFINITY, f64::NEG_INFINITY);
    for sample in samples {
        low = (low.0.min(sample.x), low.1.min(sample.y));
        high = (high.0.max(sample.x), high.1.max(sample.y));
    }
    // four far samples close every cell that matters
    let reach = 20.0 * (high.0 - low.0).max(high.1 - low.1).max(1.0);
    let middle = (f64::midpoint(low.0, high.0), f64::midpoint(low.1, high.1));
    let mut all = samples.to_vec();
    for (dx, dy) in [(-1.0, -0.9), (1.1, -1.0), (1.0, 1.05), (-0.95, 1.0)] {
        let far = Sample { x: middle.0 + dx * reach, y: middle.1 + dy * reach, label: usize::MAX };
        all.push(far);
    }
    let Ok(triangulation) = DelaunayTriangulation::<Sample>::bulk_load(all) else {
        return Vec::new();
    };
    triangulation
        .undirected_edges()
        .filter_map(|edge| {
            let [a, b] = edge.vertices().map(|vertex| vertex.data().label);
            if a == b || a == usize::MAX || b == usize::MAX {
                return None;
            }
            let directed = edge.as_directed();
            let left = directed.face().as_inner()?.circumcenter();
            let right = directed.rev().face().as_inner()?.circumcenter();
            Some([left.x, left.y, right.x, right.y])
        })
        .filter(|cut| cut.iter().all(|value| value.is_finite()))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::region::area_of;
    use geo_types::{LineString, Polygon, Rect, coord};

    #[test]
    fn a_ring_is_walked_clockwise_from_the_north_west() {
        let lake: MultiPolygon<f64> =
            Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 100.0, y: 50.0 }).to_polygon().into();
        let rings = shore_rings(&lake);
        assert_eq!(rings.len(), 1);
        assert!((rings[0].length() - 300.0).abs() < 1e-12);
        assert_eq!(rings[0].at(0.0), (0.0, 50.0));
        assert_eq!(rings[0].at(60.0), (60.0, 50.0));
        assert_eq!(rings[0].at(125.0), (100.0, 25.0));
        assert_eq!(rings[0].at(-10.0), (0.0, 40.0));
        let (way, distance) = rings[0].nearest(60.0, 58.0);
        assert!((way - 60.0).abs() < 1e-12 && (distance - 8.0).abs() < 1e-12);
    }

    #[test]
    fn each_side_of_a_square_owns_its_quarter() {
        let lake: MultiPolygon<f64> =
            Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 80.0, y: 80.0 }).to_polygon().into();
        let rings = shore_rings(&lake);
        let arcs: Vec<Arc> = (0..4_u8)
            .map(|k| f64::from(k) * 80.0)
            .enumerate()
            .map(|(label, from)| Arc { ring: 0, from, to: from + 80.0, label })
            .collect();
        let pieces = share_by_shore(&lake, &rings, &arcs, 10.0);
        assert_eq!(pieces.len(), 4);
        for piece in &pieces {
            // a triangle from the side to the middle
            assert!((piece.area - 1_600.0).abs() < 1e-6, "{}", piece.area);
        }
    }

    #[test]
    fn an_island_owns_the_water_around_it() {
        let island = LineString::from(vec![(45.0, 45.0), (55.0, 45.0), (55.0, 55.0), (45.0, 55.0)]);
        let shore = LineString::from(vec![(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]);
        let lake = MultiPolygon(vec![Polygon::new(shore, vec![island])]);
        let rings = shore_rings(&lake);
        assert!(!rings[0].island && rings[1].island);
        let arcs: Vec<Arc> = (0..2)
            .map(|ring| Arc { ring, from: 0.0, to: rings[ring].length(), label: ring })
            .collect();
        let pieces = share_by_shore(&lake, &rings, &arcs, 1.0);
        assert_eq!(pieces.len(), 2);
        let sum: f64 = pieces.iter().map(|piece| piece.area).sum();
        assert!((sum / area_of(&lake) - 1.0).abs() < 1e-12);
        // half way between island and shore: straight middles 22.5 m out, parabolas at the corners
        assert_eq!(pieces[0].polygon.0[0].interiors().len(), 1);
        assert!(pieces[1].area > 2_000.0 && pieces[1].area < 55.0 * 55.0 - 100.0);
    }
}
