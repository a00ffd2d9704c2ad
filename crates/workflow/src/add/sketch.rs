//! The shapes of a file as a picture wants them: few corners, in their order.

use crate::views::AddView;
use exchange::Raster;
use geo_types::{Coord, Geometry, LineString, Point};
use lakebed::{Crs, CrsError};

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

/// The rectangle of a raster, and every so many of its cells that have a depth.
pub(super) fn raster(
    view: &mut AddView,
    raster: &Raster,
    crs: &Crs,
    depth: impl Fn(f64) -> Option<f64>,
) -> Result<(), CrsError> {
    let place = |at: Coord<f64>| {
        let found = crs.native_to_lon_lat(at)?;
        Ok::<_, CrsError>([found.longitude(), found.latitude()])
    };
    let (wide, high) = (raster.width as f64, raster.height as f64);
    let corner = |x: f64, y: f64| Coord {
        x: raster.origin.x + x * raster.cell.0,
        y: raster.origin.y - y * raster.cell.1,
    };
    let corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high), (0.0, 0.0)];
    let rectangle = corners.map(|(x, y)| place(corner(x, y)));
    view.shapes.push(rectangle.into_iter().collect::<Result<_, _>>()?);
    let every = ((raster.width * raster.height) as f64 / MOST as f64).sqrt().ceil().max(1.0);
    let step = every as usize;
    for row in (step / 2..raster.height).step_by(step) {
        for column in (step / 2..raster.width).step_by(step) {
            if let Some(depth) = raster.value(column, row).and_then(&depth) {
                let [x, y] = place(raster.centre(column, row))?;
                view.cells.push([x, y, depth]);
            }
        }
    }
    let middle = corner(0.5 * wide, 0.5 * high);
    let next = Coord { x: middle.x + every * raster.cell.0, y: middle.y + every * raster.cell.1 };
    let ([west, south], [east, north]) = (place(middle)?, place(next)?);
    view.cell_size = Some([(east - west).abs(), (north - south).abs()]);
    Ok(())
}

/// Cells in degrees as cells in metres of a system; what it cannot hold is left out.
pub(super) fn cells_to_metres(view: &mut AddView, crs: &Crs) {
    let place = |x: f64, y: f64| crs.project_geometry(&Point::new(x, y)).ok();
    let first = view.cells.first().copied();
    view.cell_size = first.zip(view.cell_size).and_then(|([x, y, _], [wide, high])| {
        let (from, to) = (place(x, y)?, place(x + wide, y + high)?);
        Some([(to.x() - from.x()).abs(), (to.y() - from.y()).abs()])
    });
    let cells = view.cells.iter().filter_map(|&[x, y, depth]| {
        let at = place(x, y)?;
        Some([at.x(), at.y(), depth])
    });
    view.cells = cells.collect();
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
    fn a_raster_is_sketched_by_its_rectangle_and_some_of_its_cells() {
        let crs = Crs::from_epsg(32_616).expect("UTM zone 16");
        // 400 by 200 cells of 5 m; the western half has no value
        let value = |index: usize| if index % 400 < 200 { f64::NAN } else { (index / 400) as f64 };
        let raster = Raster {
            file: "bed.tif".to_owned(),
            crs: exchange::LayerCrs::Epsg(32_616),
            width: 400,
            height: 200,
            origin: Coord { x: 500_000.0, y: 4_981_000.0 },
            cell: (5.0, 5.0),
            values: (0..80_000).map(value).collect(),
            unit: None,
            single: false,
            warnings: Vec::new(),
        };
        let mut view = AddView::default();
        super::raster(&mut view, &raster, &crs, |value| (value < 150.0).then_some(value))
            .expect("it lies in its zone");
        to_metres(&mut view.shapes, &crs);
        cells_to_metres(&mut view, &crs);
        let [[west, north], _, [east, south], ..] = view.shapes[0][..] else {
            panic!("a rectangle has corners: {:?}", view.shapes)
        };
        for (found, want) in
            [(west, 500_000.0), (north, 4_981_000.0), (east, 502_000.0), (south, 4_980_000.0)]
        {
            assert!((found - want).abs() < 0.01, "{found} {want}");
        }
        // every sixth cell of the eastern half, from the north down to the depth of 150
        assert_eq!(view.cells.len(), 34 * 25);
        assert!(
            view.cells.iter().all(|[x, y, depth]| 501_000.0 < *x
                && (4_981_000.0 - y - 5.0 * depth - 2.5).abs() < 0.01)
        );
        let [wide, high] = view.cell_size.expect("a size");
        assert!((wide - 30.0).abs() < 0.1 && (high - 30.0).abs() < 0.1, "{wide} {high}");
    }

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
