//! Rings into polygons: which ring is a hole of which.

use geo_types::{Coord, LineString, MultiPolygon, Polygon};

/// Twice the signed area, positive when counter-clockwise. The first vertex is the origin, so
/// large coordinates do not cost digits.
pub(crate) fn doubled_area(ring: &[Coord<f64>]) -> f64 {
    let Some(origin) = ring.first() else { return 0.0 };
    ring.windows(2)
        .map(|pair| {
            let (a, b) = (pair[0] - *origin, pair[1] - *origin);
            a.x * b.y - b.x * a.y
        })
        .sum()
}

struct Measured {
    line: LineString<f64>,
    area: f64,
    low: Coord<f64>,
    high: Coord<f64>,
}

/// Polygons out of loose rings, whatever way round they run: a ring inside an even number of
/// others is a shell, inside an odd number a hole of the smallest ring around it.
///
/// A lake with an island with a pond comes out as two polygons. Shapefiles promise clockwise
/// shells, but many programs break the promise; nesting cannot be broken.
pub(crate) fn assemble(rings: Vec<LineString<f64>>) -> MultiPolygon<f64> {
    let mut rings: Vec<Measured> = rings
        .into_iter()
        .map(|line| {
            let area = doubled_area(&line.0).abs();
            let mut low = Coord { x: f64::INFINITY, y: f64::INFINITY };
            let mut high = Coord { x: f64::NEG_INFINITY, y: f64::NEG_INFINITY };
            for c in &line.0 {
                low = Coord { x: low.x.min(c.x), y: low.y.min(c.y) };
                high = Coord { x: high.x.max(c.x), y: high.y.max(c.y) };
            }
            Measured { line, area, low, high }
        })
        .collect();
    // the sort is stable, so equal rings keep the file's order
    rings.sort_by(|a, b| b.area.total_cmp(&a.area));

    // for each ring, the rings around it; only larger ones can be
    let mut depth = vec![0_usize; rings.len()];
    let mut parent: Vec<Option<usize>> = vec![None; rings.len()];
    for inner in 0..rings.len() {
        for outer in (0..inner).rev() {
            if encloses(&rings[outer], &rings[inner]) {
                depth[inner] = depth[outer] + 1;
                parent[inner] = Some(outer);
                break;
            }
        }
    }
    let mut polygon_of: Vec<Option<usize>> = vec![None; rings.len()];
    let mut polygons: Vec<(LineString<f64>, Vec<LineString<f64>>)> = Vec::new();
    for (index, ring) in rings.into_iter().enumerate() {
        match parent[index].and_then(|outer| polygon_of[outer]) {
            Some(polygon) if depth[index] % 2 == 1 => {
                let (_, holes) = &mut polygons[polygon];
                holes.push(ring.line);
            }
            _ => {
                polygon_of[index] = Some(polygons.len());
                polygons.push((ring.line, Vec::new()));
            }
        }
    }
    MultiPolygon(polygons.into_iter().map(|(shell, holes)| Polygon::new(shell, holes)).collect())
}

/// Whether most vertices of `inner` that are not on `outer` lie inside it. Rings of one polygon
/// may touch but not cross, so any vertex off the boundary would do; a vote forgives small
/// digitising slips.
fn encloses(outer: &Measured, inner: &Measured) -> bool {
    let within = outer.low.x <= inner.low.x
        && outer.low.y <= inner.low.y
        && outer.high.x >= inner.high.x
        && outer.high.y >= inner.high.y;
    if !within || outer.area <= inner.area {
        return false;
    }
    let (mut inside, mut outside) = (0_usize, 0_usize);
    for &vertex in &inner.line.0 {
        match side(vertex, &outer.line.0) {
            Side::Inside => inside += 1,
            Side::Outside => outside += 1,
            Side::On => {}
        }
        if inside + outside >= 15 {
            break;
        }
    }
    if inside + outside == 0 {
        // every vertex lies on the larger ring: ask the middles of the edges
        return inner.line.0.windows(2).any(|pair| {
            let middle = (pair[0] + pair[1]) / 2.0;
            matches!(side(middle, &outer.line.0), Side::Inside)
        });
    }
    inside > outside
}

enum Side {
    Inside,
    Outside,
    On,
}

/// Ray casting with an exact test for a point on a vertex or a level edge.
fn side(point: Coord<f64>, ring: &[Coord<f64>]) -> Side {
    let mut inside = false;
    for pair in ring.windows(2) {
        let (a, b) = (pair[0] - point, pair[1] - point);
        let cross = a.x * b.y - b.x * a.y;
        let between = a.x * b.x + a.y * b.y <= 0.0;
        if cross == 0.0 && between {
            return Side::On;
        }
        if (a.y > 0.0) != (b.y > 0.0) && (cross > 0.0) == (b.y > a.y) {
            inside = !inside;
        }
    }
    if inside { Side::Inside } else { Side::Outside }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, side: f64, clockwise: bool) -> LineString<f64> {
        let mut ring = vec![(x, y), (x + side, y), (x + side, y + side), (x, y + side), (x, y)];
        if clockwise {
            ring.reverse();
        }
        ring.into()
    }

    #[test]
    fn a_pond_on_an_island_in_a_lake_is_a_polygon_of_its_own_whatever_the_winding() {
        for clockwise in [true, false] {
            let rings = vec![
                square(4.0, 4.0, 2.0, clockwise),
                square(0.0, 0.0, 10.0, clockwise),
                square(3.0, 3.0, 4.0, clockwise),
                square(20.0, 0.0, 5.0, clockwise),
            ];
            let polygons = assemble(rings).0;
            let shape: Vec<(f64, usize)> = polygons
                .iter()
                .map(|p| (doubled_area(&p.exterior().0).abs() / 2.0, p.interiors().len()))
                .collect();
            assert_eq!(shape, [(100.0, 1), (25.0, 0), (4.0, 0)]);
        }
    }

    #[test]
    fn a_hole_that_touches_its_shell_is_still_a_hole() {
        let hole: LineString<f64> = vec![(0.0, 5.0), (4.0, 4.0), (4.0, 6.0), (0.0, 5.0)].into();
        let polygons = assemble(vec![square(0.0, 0.0, 10.0, true), hole]).0;
        assert_eq!(polygons.len(), 1);
        assert_eq!(polygons[0].interiors().len(), 1);
    }
}
