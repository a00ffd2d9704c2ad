//! The edges of a polygon, and where cuts meet them.

use super::snap::Snap;
use crate::region::{Region, twice_signed_area};
use geo_types::LineString;

/// Places nearer than this are one: ten micrometres, well above the rounding of coordinates in
/// metres and far below anything a survey can tell.
pub(crate) const REACH: f64 = 1e-5;

/// An edge of the polygon, water on its left, with the nodes that cuts put on it.
pub(crate) struct Border {
    pub(crate) from: u32,
    pub(crate) to: u32,
    pub(crate) stops: Vec<(f64, u32)>,
}

pub(crate) fn add_ring(
    ring: &LineString<f64>,
    shell: bool,
    nodes: &mut Snap,
    borders: &mut Vec<Border>,
) {
    let mut points: Vec<(f64, f64)> = ring.coords().map(|c| (c.x, c.y)).collect();
    points.pop();
    if points.len() < 3 {
        return;
    }
    if (twice_signed_area(&points) > 0.0) != shell {
        points.reverse();
    }
    // vertices keep their very coordinates; only repeated ones fall together
    let mut ids: Vec<u32> = points.iter().map(|&point| nodes.number(point)).collect();
    ids.dedup();
    while ids.len() > 1 && ids.first() == ids.last() {
        ids.pop();
    }
    for (index, &from) in ids.iter().enumerate() {
        let to = ids[(index + 1) % ids.len()];
        borders.push(Border { from, to, stops: Vec::new() });
    }
}

/// Borders by square of a raster.
pub(crate) struct BorderGrid {
    low: (f64, f64),
    side: (f64, f64),
    n: usize,
    squares: Vec<Vec<u32>>,
}

impl BorderGrid {
    pub(crate) fn new(region: &Region, borders: &[Border], nodes: &Snap) -> Self {
        let n = ((borders.len() as f64).sqrt() as usize).clamp(1, 512);
        let bounds = region.bounds();
        let size = |width: f64| (width / n as f64).max(f64::MIN_POSITIVE);
        let mut grid = Self {
            low: (bounds.min().x, bounds.min().y),
            side: (size(bounds.width()), size(bounds.height())),
            n,
            squares: vec![Vec::new(); n * n],
        };
        for (index, border) in borders.iter().enumerate() {
            let (p, q) = (nodes.place(border.from), nodes.place(border.to));
            grid.over(p, q, |square| square.push(index as u32));
        }
        grid
    }

    fn span(&self, p: (f64, f64), q: (f64, f64)) -> [usize; 4] {
        let place = |value: f64, low: f64, side: f64| {
            (((value - low) / side).max(0.0) as usize).min(self.n - 1)
        };
        [
            place(p.0.min(q.0) - REACH, self.low.0, self.side.0),
            place(p.1.min(q.1) - REACH, self.low.1, self.side.1),
            place(p.0.max(q.0) + REACH, self.low.0, self.side.0),
            place(p.1.max(q.1) + REACH, self.low.1, self.side.1),
        ]
    }

    fn over(&mut self, p: (f64, f64), q: (f64, f64), mut put: impl FnMut(&mut Vec<u32>)) {
        let [x0, y0, x1, y1] = self.span(p, q);
        for row in y0..=y1 {
            for column in x0..=x1 {
                put(&mut self.squares[row * self.n + column]);
            }
        }
    }

    fn near(&self, p: (f64, f64), q: (f64, f64)) -> Vec<u32> {
        let [x0, y0, x1, y1] = self.span(p, q);
        let mut found: Vec<u32> = Vec::new();
        for row in y0..=y1 {
            for column in x0..=x1 {
                found.extend(&self.squares[row * self.n + column]);
            }
        }
        found.sort_unstable();
        found.dedup();
        found
    }

    /// The node of the end of a cut: a vertex or a place on a border where it touches one.
    pub(crate) fn land(&self, place: (f64, f64), nodes: &mut Snap, borders: &mut [Border]) -> u32 {
        let before = nodes.len();
        let node = nodes.number(place);
        if nodes.len() == before {
            return node;
        }
        for index in self.near(place, place) {
            let border = &mut borders[index as usize];
            let (p, q) = (nodes.place(border.from), nodes.place(border.to));
            let (t, distance) = along(place, p, q);
            if distance <= REACH && t > 0.0 && t < 1.0 {
                border.stops.push((t, node));
            }
        }
        node
    }

    /// Nodes along a cut from `a` to `b`: crossings with borders, made where needed.
    pub(crate) fn cross(
        &self,
        a: u32,
        b: u32,
        nodes: &mut Snap,
        borders: &mut [Border],
    ) -> Vec<u32> {
        let (pa, pb) = (nodes.place(a), nodes.place(b));
        let mut stops: Vec<(f64, u32)> = vec![(0.0, a), (1.0, b)];
        for index in self.near(pa, pb) {
            let border = &mut borders[index as usize];
            if border.from != a && border.from != b {
                let (t, distance) = along(nodes.place(border.from), pa, pb);
                if distance <= REACH {
                    stops.push((t, border.from));
                }
            }
            let (p, q) = (nodes.place(border.from), nodes.place(border.to));
            if [border.from, border.to].iter().any(|end| *end == a || *end == b) {
                continue;
            }
            let (side_p, side_q) = (side_of(p, pa, pb), side_of(q, pa, pb));
            let (side_a, side_b) = (side_of(pa, p, q), side_of(pb, p, q));
            let clear = |one: f64, other: f64| {
                one.abs() > REACH && other.abs() > REACH && (one > 0.0) != (other > 0.0)
            };
            if clear(side_p, side_q) && clear(side_a, side_b) {
                let t = side_a / (side_a - side_b);
                let place = (pa.0 + t * (pb.0 - pa.0), pa.1 + t * (pb.1 - pa.1));
                let node = nodes.number(place);
                stops.push((t, node));
                border.stops.push((side_p / (side_p - side_q), node));
            }
        }
        stops.sort_by(|x, y| x.0.total_cmp(&y.0));
        stops.dedup_by_key(|stop| stop.1);
        stops.into_iter().map(|stop| stop.1).collect()
    }
}

/// Signed distance of a point from the line through `a` and `b`, positive on its left.
fn side_of(point: (f64, f64), a: (f64, f64), b: (f64, f64)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    (dx * (point.1 - a.1) - dy * (point.0 - a.0)) / dx.hypot(dy)
}

/// Share of the way along a segment nearest to a point, and the distance.
fn along(point: (f64, f64), a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let square = dx * dx + dy * dy;
    let t = (((point.0 - a.0) * dx + (point.1 - a.1) * dy) / square).clamp(0.0, 1.0);
    (t, (point.0 - a.0 - t * dx).hypot(point.1 - a.1 - t * dy))
}

/// The part of a segment in the box around the region, a tenth wider; its ends stay where they are
/// when they lie inside.
pub(crate) fn clip(segment: &[f64; 4], region: &Region) -> Option<[f64; 4]> {
    let bounds = region.bounds();
    let margin = 0.1 * region.extent();
    let [x0, y0, x1, y1] = *segment;
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for (start, end, low, high) in [
        (x0, x1, bounds.min().x - margin, bounds.max().x + margin),
        (y0, y1, bounds.min().y - margin, bounds.max().y + margin),
    ] {
        let step = end - start;
        if step == 0.0 {
            if start < low || start > high {
                return None;
            }
            continue;
        }
        let (one, other) = ((low - start) / step, (high - start) / step);
        first = first.max(one.min(other));
        last = last.min(one.max(other));
    }
    if first >= last {
        return None;
    }
    let at = |t: f64| (x0 + t * (x1 - x0), y0 + t * (y1 - y0));
    let start = if first > 0.0 { at(first) } else { (x0, y0) };
    let end = if last < 1.0 { at(last) } else { (x1, y1) };
    Some([start.0, start.1, end.0, end.1])
}
