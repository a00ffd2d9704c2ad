use geo_types::{LineString, MultiPolygon, Rect, coord};

/// A polygon made ready for many questions "is this point inside?".
///
/// Edges are kept in horizontal bands, so that one question looks at a few edges only.
///
/// # Boundary rule
/// A point exactly on a boundary belongs to the polygon on its right or above it: west and south
/// shores count as inside, east and north shores as outside. Polygons that share an edge therefore
/// share out every point, none twice and none left over. Holes (islands) follow the same rule.
#[derive(Debug, Clone)]
pub struct Region {
    edges: Vec<Edge>,
    band_start: Vec<u32>,
    band_edges: Vec<u32>,
    bounds: Rect<f64>,
    area: f64,
}

/// An edge from its lower to its upper end; level edges are left out.
#[derive(Debug, Clone, Copy)]
struct Edge {
    low: (f64, f64),
    high: (f64, f64),
}

impl Edge {
    fn x_at(&self, y: f64) -> f64 {
        self.low.0 + (y - self.low.1) * ((self.high.0 - self.low.0) / (self.high.1 - self.low.1))
    }
}

impl Region {
    /// Indexes a polygon; none when it has no area.
    pub fn new(polygon: &MultiPolygon<f64>) -> Option<Self> {
        let area = area_of(polygon);
        let bounds = bounds_of(polygon)?;
        if area.is_nan() || area <= 0.0 {
            return None;
        }
        let edges: Vec<Edge> = rings(polygon)
            .flat_map(LineString::lines)
            .filter_map(|line| {
                let (a, b) = (line.start, line.end);
                if a.y < b.y {
                    Some(Edge { low: (a.x, a.y), high: (b.x, b.y) })
                } else if b.y < a.y {
                    Some(Edge { low: (b.x, b.y), high: (a.x, a.y) })
                } else {
                    None
                }
            })
            .collect();
        let n_bands = (edges.len() / 2).clamp(1, 1 << 16);
        let mut region =
            Self { edges, band_start: vec![0; n_bands + 1], band_edges: Vec::new(), bounds, area };
        for edge in &region.edges {
            let (first, last) = (region.band(edge.low.1), region.band(edge.high.1));
            for band in first..=last {
                region.band_start[band + 1] += 1;
            }
        }
        for band in 0..n_bands {
            region.band_start[band + 1] += region.band_start[band];
        }
        let mut next = region.band_start.clone();
        region.band_edges = vec![0; region.band_start[n_bands] as usize];
        for (index, edge) in region.edges.iter().enumerate() {
            let (first, last) = (region.band(edge.low.1), region.band(edge.high.1));
            for place in &mut next[first..=last] {
                region.band_edges[*place as usize] = index as u32;
                *place += 1;
            }
        }
        Some(region)
    }

    fn band(&self, y: f64) -> usize {
        let n_bands = self.band_start.len() - 1;
        let share = (y - self.bounds.min().y) / self.bounds.height();
        ((share * n_bands as f64).max(0.0) as usize).min(n_bands - 1)
    }

    /// True when the point is inside, by the boundary rule above.
    pub fn contains(&self, x: f64, y: f64) -> bool {
        let (low, high) = (self.bounds.min(), self.bounds.max());
        if !(x >= low.x && x <= high.x && y >= low.y && y <= high.y) {
            return false;
        }
        let band = self.band(y);
        let list = self.band_start[band] as usize..self.band_start[band + 1] as usize;
        let crossings = self.band_edges[list]
            .iter()
            .map(|&index| &self.edges[index as usize])
            .filter(|edge| edge.low.1 <= y && y < edge.high.1 && x < edge.x_at(y))
            .count();
        crossings % 2 == 1
    }

    /// The box around it.
    pub fn bounds(&self) -> Rect<f64> {
        self.bounds
    }

    /// Area in square metres, islands taken off.
    pub fn area(&self) -> f64 {
        self.area
    }

    /// Largest extent, the diagonal of its box.
    pub fn extent(&self) -> f64 {
        self.bounds.width().hypot(self.bounds.height())
    }
}

/// All rings, shells and holes.
pub(crate) fn rings(polygon: &MultiPolygon<f64>) -> impl Iterator<Item = &LineString<f64>> {
    polygon.iter().flat_map(|part| std::iter::once(part.exterior()).chain(part.interiors()))
}

fn bounds_of(polygon: &MultiPolygon<f64>) -> Option<Rect<f64>> {
    let mut points = rings(polygon).flat_map(LineString::coords);
    let first = *points.next()?;
    let (low, high) = points.fold((first, first), |(low, high), point| {
        (
            coord! { x: low.x.min(point.x), y: low.y.min(point.y) },
            coord! { x: high.x.max(point.x), y: high.y.max(point.y) },
        )
    });
    Some(Rect::new(low, high))
}

/// Twice the signed area of a ring, positive when it runs anticlockwise; taken about its first
/// vertex so that large coordinates cost no digits.
pub(crate) fn twice_signed_area(ring: &[(f64, f64)]) -> f64 {
    let Some(&(x0, y0)) = ring.first() else { return 0.0 };
    (0..ring.len())
        .map(|i| {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            (a.0 - x0) * (b.1 - y0) - (b.0 - x0) * (a.1 - y0)
        })
        .sum()
}

pub(crate) fn area_of(polygon: &MultiPolygon<f64>) -> f64 {
    let size = |ring: &LineString<f64>| {
        let points: Vec<(f64, f64)> = ring.coords().map(|c| (c.x, c.y)).collect();
        twice_signed_area(&points).abs() / 2.0
    };
    polygon
        .iter()
        .map(|part| size(part.exterior()) - part.interiors().iter().map(size).sum::<f64>())
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::{Polygon, polygon};

    fn lake_with_island() -> MultiPolygon<f64> {
        let island = LineString::from(vec![(4.0, 4.0), (6.0, 4.0), (6.0, 6.0), (4.0, 6.0)]);
        let shore = LineString::from(vec![(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]);
        MultiPolygon(vec![Polygon::new(shore, vec![island])])
    }

    #[test]
    fn islands_are_not_water() {
        let region = Region::new(&lake_with_island()).unwrap();
        assert!((region.area() - 96.0).abs() < 1e-12);
        assert!(region.contains(1.0, 5.0));
        assert!(!region.contains(5.0, 5.0));
        assert!(!region.contains(11.0, 5.0));
    }

    #[test]
    fn neighbours_share_out_every_point_of_their_common_edge() {
        let left = polygon![(x: 0.0, y: 0.0), (x: 5.0, y: 0.3), (x: 5.7, y: 9.1), (x: 0.0, y: 9.0)];
        let right =
            polygon![(x: 5.0, y: 0.3), (x: 12.0, y: 0.0), (x: 12.0, y: 9.0), (x: 5.7, y: 9.1)];
        let left = Region::new(&left.into()).unwrap();
        let right = Region::new(&right.into()).unwrap();
        for step in 0..=1_000 {
            let share = f64::from(step) / 1_000.0;
            let (x, y) = (5.0 + share * 0.7, 0.3 + share * 8.8);
            let owners = usize::from(left.contains(x, y)) + usize::from(right.contains(x, y));
            // the top end of the edge lies on the outer rim and belongs to nobody
            assert!(owners == 1 || share > 0.999, "at {share}: {owners} owners");
        }
    }

    #[test]
    fn a_polygon_without_area_is_no_region() {
        assert!(Region::new(&MultiPolygon(vec![])).is_none());
        let flat = polygon![(x: 0.0, y: 0.0), (x: 5.0, y: 0.0), (x: 2.0, y: 0.0)];
        assert!(Region::new(&flat.into()).is_none());
    }
}
