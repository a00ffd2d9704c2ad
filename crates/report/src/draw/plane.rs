//! From projected metres to pixels: fitting, thinning, paths, inside or outside, an inner point.

use super::data::Extent;
use super::svg::number;
use geo_types::{LineString, MultiLineString, MultiPolygon};
use std::fmt::Write as _;

/// A rectangle in pixels, y downwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rect {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

impl Rect {
    pub(crate) const fn right(self) -> f64 {
        self.x + self.width
    }

    pub(crate) const fn bottom(self) -> f64 {
        self.y + self.height
    }

    pub(crate) const fn inset(self, by: f64) -> Self {
        Self {
            x: self.x + by,
            y: self.y + by,
            width: self.width - 2.0 * by,
            height: self.height - 2.0 * by,
        }
    }

    pub(crate) fn holds(self, other: Self) -> bool {
        other.x >= self.x
            && other.y >= self.y
            && other.right() <= self.right()
            && other.bottom() <= self.bottom()
    }

    pub(crate) fn has(self, (x, y): (f64, f64)) -> bool {
        x >= self.x && x <= self.right() && y >= self.y && y <= self.bottom()
    }

    /// Area shared with another rectangle.
    pub(crate) fn overlap(self, other: Self) -> f64 {
        let width = self.right().min(other.right()) - self.x.max(other.x);
        let height = self.bottom().min(other.bottom()) - self.y.max(other.y);
        width.max(0.0) * height.max(0.0)
    }

    pub(crate) fn path(self) -> String {
        format!(
            "M{} {}H{}V{}H{}Z",
            number(self.x),
            number(self.y),
            number(self.right()),
            number(self.bottom()),
            number(self.x)
        )
    }
}

/// The fit of an extent into a rectangle, north up, in the middle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Plane {
    scale: f64,
    x0: f64,
    y0: f64,
}

impl Plane {
    pub(crate) fn fit(extent: Extent, into: Rect) -> Self {
        let scale = (into.width / extent.width()).min(into.height / extent.height());
        let x0 = into.x + (into.width - extent.width() * scale) / 2.0 - extent.min_x * scale;
        let y0 = into.y + (into.height - extent.height() * scale) / 2.0 + extent.max_y * scale;
        Self { scale, x0, y0 }
    }

    /// Pixels to the metre.
    pub(crate) const fn scale(self) -> f64 {
        self.scale
    }

    pub(crate) const fn at(self, x: f64, y: f64) -> (f64, f64) {
        (self.x0 + x * self.scale, self.y0 - y * self.scale)
    }

    pub(crate) const fn back(self, (x, y): (f64, f64)) -> (f64, f64) {
        ((x - self.x0) / self.scale, (self.y0 - y) / self.scale)
    }

    fn thinned(self, line: &LineString<f64>) -> Vec<(f64, f64)> {
        const LEAST: f64 = 0.3;
        let mut points: Vec<(f64, f64)> = Vec::new();
        let n_places = line.0.len();
        for (index, place) in line.coords().enumerate() {
            let point = self.at(place.x, place.y);
            let far = points
                .last()
                .is_none_or(|last| (last.0 - point.0).abs() + (last.1 - point.1).abs() > LEAST);
            if far || index + 1 == n_places {
                points.push(point);
            }
        }
        points
    }

    /// All rings of an area in pixels, thinned to what can be seen. Rings too small to see are left out.
    pub(crate) fn rings(self, area: &MultiPolygon<f64>) -> Vec<Vec<(f64, f64)>> {
        area.iter()
            .flat_map(|polygon| std::iter::once(polygon.exterior()).chain(polygon.interiors()))
            .map(|ring| self.thinned(ring))
            .filter(|ring| ring.len() > 3)
            .collect()
    }

    pub(crate) fn lines(self, lines: &MultiLineString<f64>) -> Vec<Vec<(f64, f64)>> {
        lines.iter().map(|line| self.thinned(line)).filter(|line| line.len() > 1).collect()
    }
}

/// The `d` attribute of some lines or, closed, rings.
pub(crate) fn path(lines: &[Vec<(f64, f64)>], closed: bool) -> String {
    let mut d = String::new();
    for line in lines {
        for (index, (x, y)) in line.iter().enumerate() {
            let _ =
                write!(d, "{}{} {}", if index == 0 { 'M' } else { 'L' }, number(*x), number(*y));
        }
        if closed {
            d.push('Z');
        }
    }
    d
}

/// The rectangle round some lines; a point at the origin for none.
pub(crate) fn bounds(lines: &[Vec<(f64, f64)>]) -> Rect {
    Extent::of(lines.iter().flatten().copied()).map_or(
        Rect { x: 0.0, y: 0.0, width: 0.0, height: 0.0 },
        |extent| Rect {
            x: extent.min_x,
            y: extent.min_y,
            width: extent.width(),
            height: extent.height(),
        },
    )
}

/// Even-odd test.
pub(crate) fn inside(rings: &[Vec<(f64, f64)>], (x, y): (f64, f64)) -> bool {
    let mut odd = false;
    for ring in rings {
        let mut previous = ring[ring.len() - 1];
        for &point in ring {
            if (point.1 > y) != (previous.1 > y)
                && x < (previous.0 - point.0) * (y - point.1) / (previous.1 - point.1) + point.0
            {
                odd = !odd;
            }
            previous = point;
        }
    }
    odd
}

/// Distance from a point to the nearest edge.
pub(crate) fn edge_distance(rings: &[Vec<(f64, f64)>], (x, y): (f64, f64)) -> f64 {
    let mut best = f64::INFINITY;
    for ring in rings {
        for pair in ring.windows(2) {
            let ((ax, ay), (bx, by)) = (pair[0], pair[1]);
            let (dx, dy) = (bx - ax, by - ay);
            let length = dx.mul_add(dx, dy * dy);
            let along = if length > 0.0 {
                (((x - ax) * dx + (y - ay) * dy) / length).clamp(0.0, 1.0)
            } else {
                0.0
            };
            let (ex, ey) = (ax + along * dx - x, ay + along * dy - y);
            best = best.min(ex.mul_add(ex, ey * ey));
        }
    }
    best.sqrt()
}

/// Points inside an area, those farthest from its edge first: places for a code.
pub(crate) fn inner_points(rings: &[Vec<(f64, f64)>], at_most: usize) -> Vec<(f64, f64)> {
    const STEPS: usize = 14;
    let around = bounds(rings);
    let mut points = Vec::new();
    for row in 0..STEPS {
        for column in 0..STEPS {
            let point = (
                around.x + around.width * (column as f64 + 0.5) / STEPS as f64,
                around.y + around.height * (row as f64 + 0.5) / STEPS as f64,
            );
            if inside(rings, point) {
                points.push((edge_distance(rings, point), point));
            }
        }
    }
    points.sort_by(|a, b| b.0.total_cmp(&a.0));
    points.into_iter().take(at_most).map(|(_, point)| point).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        points.iter().copied().chain(points.first().copied()).collect()
    }

    #[test]
    fn a_hole_is_outside() {
        let rings = [
            ring(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]),
            ring(&[(4.0, 4.0), (6.0, 4.0), (6.0, 6.0), (4.0, 6.0)]),
        ];
        assert!(inside(&rings, (2.0, 2.0)));
        assert!(!inside(&rings, (5.0, 5.0)));
        assert!(!inside(&rings, (12.0, 5.0)));
        assert!((edge_distance(&rings, (5.0, 2.0)) - 2.0).abs() < 1e-12);
    }

    #[test]
    fn the_inner_point_of_a_horseshoe_is_in_the_horseshoe() {
        let rings = [ring(&[
            (0.0, 0.0),
            (30.0, 0.0),
            (30.0, 30.0),
            (20.0, 30.0),
            (20.0, 10.0),
            (10.0, 10.0),
            (10.0, 30.0),
            (0.0, 30.0),
        ])];
        let points = inner_points(&rings, 3);
        assert_eq!(points.len(), 3);
        assert!(points.iter().all(|point| inside(&rings, *point)));
    }

    #[test]
    fn north_is_up_and_the_middle_stays_in_the_middle() {
        let extent = Extent { min_x: 100.0, min_y: 200.0, max_x: 300.0, max_y: 300.0 };
        let rect = Rect { x: 10.0, y: 10.0, width: 100.0, height: 100.0 };
        let plane = Plane::fit(extent, rect);
        assert!((plane.scale() - 0.5).abs() < 1e-12);
        let middle = plane.at(200.0, 250.0);
        assert!((middle.0 - 60.0).abs() < 1e-9 && (middle.1 - 60.0).abs() < 1e-9);
        assert!(plane.at(200.0, 300.0).1 < middle.1);
        let back = plane.back(middle);
        assert!((back.0 - 200.0).abs() < 1e-9 && (back.1 - 250.0).abs() < 1e-9);
    }
}
