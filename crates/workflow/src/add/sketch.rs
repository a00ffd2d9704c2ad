//! The shapes of a file as a picture wants them: few corners, in their order.

use geo_types::{Coord, Geometry, LineString, Point};
use lakebed::Crs;

/// Corners a picture of a file has at most.
const MOST: usize = 3_000;

/// Lines of the shapes and their single places, thinned to what a picture can show.
pub(super) fn thinned(shapes: &[Geometry<f64>]) -> Vec<Vec<[f64; 2]>> {
    let (mut lines, mut points) = (Vec::new(), Vec::new());
    for shape in shapes {
        take(shape, &mut lines, &mut points);
    }
    let corners = points.len() + lines.iter().map(|line| line.0.len()).sum::<usize>();
    let every = corners.div_ceil(MOST).max(1);
    let lines = lines.iter().map(|line| {
        let last = line.0.len().saturating_sub(1);
        let kept = line.0.iter().enumerate().filter(|(i, _)| i % every == 0 || *i == last);
        kept.map(|(_, at)| [at.x, at.y]).collect()
    });
    lines.chain(points.iter().step_by(every).map(|at| vec![[at.x, at.y]])).collect()
}

/// Degrees as metres of a system; what it cannot hold is left out.
pub(super) fn to_metres(shapes: &mut Vec<Vec<[f64; 2]>>, crs: &Crs) {
    let place = |[x, y]: [f64; 2]| crs.project_geometry(&Point::new(x, y)).ok();
    for line in shapes.iter_mut() {
        *line = line.iter().filter_map(|at| place(*at)).map(|at| [at.x(), at.y()]).collect();
    }
    shapes.retain(|line| !line.is_empty());
}

fn take(shape: &Geometry<f64>, lines: &mut Vec<LineString<f64>>, points: &mut Vec<Coord<f64>>) {
    let mut rings = |polygon: &geo_types::Polygon<f64>| {
        lines.push(polygon.exterior().clone());
        lines.extend(polygon.interiors().iter().cloned());
    };
    match shape {
        Geometry::Point(point) => points.push(point.0),
        Geometry::MultiPoint(many) => points.extend(many.iter().map(|point| point.0)),
        Geometry::Line(line) => lines.push(LineString::from(vec![line.start, line.end])),
        Geometry::LineString(line) => lines.push(line.clone()),
        Geometry::MultiLineString(many) => lines.extend(many.iter().cloned()),
        Geometry::Polygon(polygon) => rings(polygon),
        Geometry::MultiPolygon(many) => many.iter().for_each(rings),
        Geometry::Rect(rect) => rings(&rect.to_polygon()),
        Geometry::Triangle(triangle) => rings(&triangle.to_polygon()),
        Geometry::GeometryCollection(all) => all.iter().for_each(|one| take(one, lines, points)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::Polygon;

    #[test]
    fn a_sketch_keeps_rings_whole_and_thins_points() {
        let square: LineString<f64> =
            [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (0.0, 0.0)].into_iter().collect();
        let hole: LineString<f64> =
            [(0.2, 0.2), (0.4, 0.2), (0.4, 0.4), (0.2, 0.2)].into_iter().collect();
        let shapes = [Geometry::Polygon(Polygon::new(square, vec![hole]))];
        let found = thinned(&shapes);
        assert_eq!(found.iter().map(Vec::len).collect::<Vec<_>>(), [5, 4]);
        assert!(found[0][2].iter().all(|number| (number - 1.0).abs() < 1e-12));
        let many: Vec<_> =
            (0..10_000).map(|i| Geometry::Point(Point::new(f64::from(i) / 1e4, 0.0))).collect();
        let thin = thinned(&many);
        assert!(thin.len() <= MOST && thin.len() > MOST / 2, "{}", thin.len());
    }
}
