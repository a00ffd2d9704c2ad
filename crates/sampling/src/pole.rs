use crate::region::{Region, area_of, rings};
use geo_types::MultiPolygon;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// The inner point of a polygon that lies farthest from every edge, and that distance.
///
/// It is where the label of a part is written and where its one site lies: as far from shore and
/// neighbours as the shape allows, and inside for certain.
///
/// # Formula
/// Branch and bound on squares: a square with centre `c`, half side `h` cannot hold a point farther
/// from the edge than `d(c) + h·√2`; squares that cannot beat the best point by more than
/// `precision` are dropped.
/// # Units
/// Metres. Precision is 1/200 of the shorter side of the box around the polygon.
/// # References
/// Garcia-Castellanos & Lombardo 2007, Scottish Geographical Journal 123: 227–233 (the notion; from
/// memory).
pub fn pole_of_inaccessibility(polygon: &MultiPolygon<f64>) -> Option<(f64, f64, f64)> {
    // the largest part carries the point
    let part = polygon.iter().max_by(|a, b| {
        let size = |p: &geo_types::Polygon<f64>| area_of(&MultiPolygon(vec![p.clone()]));
        size(a).total_cmp(&size(b))
    })?;
    let part = MultiPolygon(vec![part.clone()]);
    let region = Region::new(&part)?;
    let segments: Vec<[f64; 4]> = rings(&part)
        .flat_map(geo_types::LineString::lines)
        .map(|line| [line.start.x, line.start.y, line.end.x, line.end.y])
        .collect();
    let measure = |x: f64, y: f64| {
        let far = segments.iter().map(|s| square_to_segment(x, y, s)).fold(f64::INFINITY, f64::min);
        if region.contains(x, y) { far.sqrt() } else { -far.sqrt() }
    };
    let bounds = region.bounds();
    let side = bounds.width().min(bounds.height());
    let precision = side / 200.0;
    let square = |x: f64, y: f64, half: f64| {
        let distance = measure(x, y);
        Square { x, y, half, distance, reach: distance + half * std::f64::consts::SQRT_2 }
    };
    let mut queue = BinaryHeap::new();
    let n_columns = (bounds.width() / side).ceil().clamp(1.0, 64.0) as usize;
    let n_rows = (bounds.height() / side).ceil().clamp(1.0, 64.0) as usize;
    let step = (bounds.width() / n_columns as f64).max(bounds.height() / n_rows as f64);
    for column in 0..n_columns {
        for row in 0..n_rows {
            let x = bounds.min().x + (column as f64 + 0.5) * bounds.width() / n_columns as f64;
            let y = bounds.min().y + (row as f64 + 0.5) * bounds.height() / n_rows as f64;
            queue.push(square(x, y, step / 2.0));
        }
    }
    let mut best = (f64::NAN, f64::NAN, 0.0_f64);
    while let Some(top) = queue.pop() {
        if top.distance > best.2 {
            best = (top.x, top.y, top.distance);
        }
        if top.reach - best.2 <= precision.min(best.2 * 0.1).max(side * 1e-9) {
            continue;
        }
        let half = top.half / 2.0;
        for (dx, dy) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
            queue.push(square(top.x + dx * half, top.y + dy * half, half));
        }
    }
    best.0.is_finite().then_some(best)
}

struct Square {
    x: f64,
    y: f64,
    half: f64,
    distance: f64,
    reach: f64,
}

impl PartialEq for Square {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Square {}
impl PartialOrd for Square {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Square {
    fn cmp(&self, other: &Self) -> Ordering {
        self.reach
            .total_cmp(&other.reach)
            .then(other.x.total_cmp(&self.x))
            .then(other.y.total_cmp(&self.y))
    }
}

/// Square of the distance from a point to a segment.
pub(crate) fn square_to_segment(x: f64, y: f64, [ax, ay, bx, by]: &[f64; 4]) -> f64 {
    let (dx, dy) = (bx - ax, by - ay);
    let length = dx * dx + dy * dy;
    let t =
        if length > 0.0 { (((x - ax) * dx + (y - ay) * dy) / length).clamp(0.0, 1.0) } else { 0.0 };
    let (ex, ey) = (x - ax - t * dx, y - ay - t * dy);
    ex * ex + ey * ey
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::{LineString, Polygon, polygon};

    #[test]
    fn the_pole_of_a_rectangle_lies_half_its_width_from_the_sides() {
        let shape =
            polygon![(x: 0.0, y: 0.0), (x: 30.0, y: 0.0), (x: 30.0, y: 10.0), (x: 0.0, y: 10.0)];
        let (_, y, distance) = pole_of_inaccessibility(&shape.into()).unwrap();
        assert!((distance - 5.0).abs() <= 0.06 && (y - 5.0).abs() <= 0.06, "{distance} at y {y}");
    }

    #[test]
    fn the_pole_of_a_bent_part_is_inside_though_its_centroid_is_not() {
        let bend = polygon![
            (x: 0.0, y: 0.0), (x: 100.0, y: 0.0), (x: 100.0, y: 10.0), (x: 10.0, y: 10.0),
            (x: 10.0, y: 100.0), (x: 0.0, y: 100.0)
        ];
        let bend = MultiPolygon::from(bend);
        let (x, y, distance) = pole_of_inaccessibility(&bend).unwrap();
        assert!(Region::new(&bend).unwrap().contains(x, y));
        // the largest circle sits in the corner: r + r·√2 = 10·√2
        assert!((distance - 10.0 * (2.0 - 2.0_f64.sqrt())).abs() < 0.55, "{distance}");
    }

    #[test]
    fn the_pole_keeps_off_an_island() {
        let island = LineString::from(vec![(4.0, 4.0), (6.0, 4.0), (6.0, 6.0), (4.0, 6.0)]);
        let shore = LineString::from(vec![(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]);
        let lake = MultiPolygon(vec![Polygon::new(shore, vec![island])]);
        let (x, y, distance) = pole_of_inaccessibility(&lake).unwrap();
        assert!(!(4.0..=6.0).contains(&x) || !(4.0..=6.0).contains(&y));
        assert!(distance > 2.0);
    }
}
