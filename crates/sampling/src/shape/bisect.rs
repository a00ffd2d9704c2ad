//! Equal parts by straight cuts.

use super::subdivide::subdivide;
use crate::region::{Region, twice_signed_area};
use geo_types::{LineString, MultiPolygon};

/// Directions tried for each cut, 10° apart.
const DIRECTIONS: u32 = 18;

/// Cuts a polygon into `n` parts of equal area.
///
/// # Formula
/// Halved again and again (an odd count in proportion), each time by the straight line of eighteen
/// directions that runs through the least water; a line that crosses several arms counts as half
/// again as long for each arm. The line's place is found by bisection on the area on one side,
/// `Σ ∫ v du` over the pieces of edge with `u < c`: the cut itself adds nothing, for there
/// `du = 0`.
pub(crate) fn equal_parts(polygon: &MultiPolygon<f64>, n: usize) -> Vec<MultiPolygon<f64>> {
    if n < 2 {
        return vec![polygon.clone()];
    }
    let first = n / 2;
    let Some(cut) = best_cut(polygon, first as f64 / n as f64) else {
        return vec![polygon.clone()];
    };
    let side = |x: f64, y: f64| usize::from(cut.across(x, y) >= cut.offset);
    let halves = subdivide(polygon, &[cut.segment(polygon)], side, |_| {});
    let [one, other] = halves.as_slice() else { return vec![polygon.clone()] };
    let mut parts = equal_parts(&one.polygon, first);
    parts.extend(equal_parts(&other.polygon, n - first));
    parts
}

/// The line `x·cos + y·sin = offset`, coordinates counted from an origin near the polygon.
#[derive(Debug, Clone, Copy)]
struct Cut {
    origin: (f64, f64),
    normal: (f64, f64),
    offset: f64,
}

impl Cut {
    fn across(&self, x: f64, y: f64) -> f64 {
        (x - self.origin.0) * self.normal.0 + (y - self.origin.1) * self.normal.1
    }

    fn along(&self, x: f64, y: f64) -> f64 {
        (y - self.origin.1) * self.normal.0 - (x - self.origin.0) * self.normal.1
    }

    fn segment(&self, polygon: &MultiPolygon<f64>) -> [f64; 4] {
        let reach = Region::new(polygon).map_or(1.0, |region| 2.0 * region.extent());
        let (x, y) = (
            self.origin.0 + self.offset * self.normal.0,
            self.origin.1 + self.offset * self.normal.1,
        );
        [
            x + reach * self.normal.1,
            y - reach * self.normal.0,
            x - reach * self.normal.1,
            y + reach * self.normal.0,
        ]
    }
}

fn best_cut(polygon: &MultiPolygon<f64>, share: f64) -> Option<Cut> {
    let rings = oriented(polygon);
    let origin = *rings.first()?.first()?;
    let mut best: Option<(f64, Cut)> = None;
    for step in 0..DIRECTIONS {
        let angle = f64::from(step) * std::f64::consts::PI / f64::from(DIRECTIONS);
        let mut cut = Cut { origin, normal: (angle.cos(), angle.sin()), offset: 0.0 };
        let edges: Vec<[f64; 4]> = rings
            .iter()
            .flat_map(|ring| {
                (0..ring.len()).map(|k| {
                    let (a, b) = (ring[k], ring[(k + 1) % ring.len()]);
                    [
                        cut.across(a.0, a.1),
                        cut.along(a.0, a.1),
                        cut.across(b.0, b.1),
                        cut.along(b.0, b.1),
                    ]
                })
            })
            .collect();
        let mut low = edges.iter().map(|edge| edge[0]).fold(f64::INFINITY, f64::min);
        let mut high = edges.iter().map(|edge| edge[0]).fold(f64::NEG_INFINITY, f64::max);
        let target = share * area_below(&edges, f64::INFINITY);
        for _ in 0..64 {
            let middle = f64::midpoint(low, high);
            if area_below(&edges, middle) < target {
                low = middle;
            } else {
                high = middle;
            }
        }
        cut.offset = f64::midpoint(low, high);
        let mut crossings: Vec<f64> = edges
            .iter()
            .filter(|[u1, _, u2, _]| (*u1 < cut.offset) != (*u2 < cut.offset))
            .map(|[u1, v1, u2, v2]| v1 + (cut.offset - u1) / (u2 - u1) * (v2 - v1))
            .collect();
        crossings.sort_by(f64::total_cmp);
        let spans = crossings.chunks_exact(2);
        let arms = spans.len().max(1);
        let length: f64 = spans.map(|span| span[1] - span[0]).sum();
        let cost = length * (1.0 + 0.5 * (arms - 1) as f64);
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, cut));
        }
    }
    best.map(|(_, cut)| cut)
}

/// Area with `u < limit`: the integral of −v du over the edges' pieces there.
fn area_below(edges: &[[f64; 4]], limit: f64) -> f64 {
    edges
        .iter()
        .map(|&[u1, v1, u2, v2]| {
            if u1 >= limit && u2 >= limit {
                return 0.0;
            }
            let at = |u: f64| v1 + (u - u1) / (u2 - u1) * (v2 - v1);
            let (a, va) = if u1 > limit { (limit, at(limit)) } else { (u1, v1) };
            let (b, vb) = if u2 > limit { (limit, at(limit)) } else { (u2, v2) };
            -(b - a) * f64::midpoint(va, vb)
        })
        .sum()
}

/// Rings without their closing vertex, shells anticlockwise and holes clockwise.
fn oriented(polygon: &MultiPolygon<f64>) -> Vec<Vec<(f64, f64)>> {
    let ring = |ring: &LineString<f64>, shell: bool| {
        let mut points: Vec<(f64, f64)> = ring.coords().map(|c| (c.x, c.y)).collect();
        points.pop();
        if (twice_signed_area(&points) > 0.0) != shell {
            points.reverse();
        }
        points
    };
    polygon
        .iter()
        .flat_map(|part| {
            std::iter::once(ring(part.exterior(), true))
                .chain(part.interiors().iter().map(|hole| ring(hole, false)))
                .collect::<Vec<_>>()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::region::area_of;
    use geo_types::{Polygon, Rect, coord};

    #[test]
    fn a_strip_is_cut_across() {
        let strip: MultiPolygon<f64> =
            Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 700.0, y: 40.0 }).to_polygon().into();
        let parts = equal_parts(&strip, 7);
        assert_eq!(parts.len(), 7);
        for part in &parts {
            assert!((area_of(part) - 4_000.0).abs() < 1e-6);
            let bounds = Region::new(part).unwrap().bounds();
            assert!((bounds.width() - 100.0).abs() < 1e-6, "a slice a hundred metres long");
        }
    }

    #[test]
    fn a_ring_of_water_falls_into_equal_parts() {
        let circle = |r: f64| {
            LineString::from(
                (0..120)
                    .map(|k| f64::from(k) / 120.0 * std::f64::consts::TAU)
                    .map(|a| (5e5 + r * a.cos(), 4.7e6 + r * a.sin()))
                    .collect::<Vec<_>>(),
            )
        };
        let ring = MultiPolygon(vec![Polygon::new(circle(300.0), vec![circle(240.0)])]);
        let total = area_of(&ring);
        for n in [2, 5, 12, 31] {
            let parts = equal_parts(&ring, n);
            assert_eq!(parts.len(), n);
            let sum: f64 = parts.iter().map(area_of).sum();
            assert!((sum / total - 1.0).abs() < 1e-12);
            for part in &parts {
                assert!((area_of(part) / total * n as f64 - 1.0).abs() < 1e-6);
            }
        }
    }
}
