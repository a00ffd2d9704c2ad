//! What a map of the lake needs of its geometry: the frame, round grid lines, fewer vertices.

use crate::outline::Outline;
use geo::{Area, SimplifyVwPreserve};
use geo_types::{Coord, MultiLineString, MultiPolygon, Polygon, Rect};
use units::Metres;

/// The rectangle of the working system that a map shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    extent: Rect<f64>,
}

impl Frame {
    /// The lake and a margin around it.
    pub fn of(outline: &Outline, margin: Metres) -> Self {
        let extent = outline.extent();
        let grow = Coord { x: margin.metres(), y: margin.metres() };
        Self { extent: Rect::new(extent.min() - grow, extent.max() + grow) }
    }

    /// The rectangle in the working system's metres.
    pub fn extent(&self) -> Rect<f64> {
        self.extent
    }

    /// Widened about its middle on one pair of sides until width over height is `aspect`.
    pub fn with_aspect(&self, aspect: f64) -> Self {
        let (width, height) = (self.extent.width(), self.extent.height());
        let width = width.max(height * aspect);
        let half = Coord { x: 0.5 * width, y: 0.5 * width / aspect };
        let middle = self.extent.center();
        Self { extent: Rect::new(middle - half, middle + half) }
    }

    /// A place as shares of the frame: from the left edge, and from the top edge downwards, as a
    /// page counts.
    pub fn shares(&self, at: Coord<f64>) -> (f64, f64) {
        let (min, max) = (self.extent.min(), self.extent.max());
        ((at.x - min.x) / self.extent.width(), (max.y - at.y) / self.extent.height())
    }

    /// Round eastings and northings to draw as a grid, at most `most` of each, and the step between
    /// them.
    pub fn grid_lines(&self, most: usize) -> GridLines {
        let longest = self.extent.width().max(self.extent.height());
        let step = round_step(longest / most.max(1) as f64);
        let lines = |low: f64, high: f64| -> Vec<f64> {
            let (first, last) = ((low / step).ceil() as i64, (high / step).floor() as i64);
            (first..=last).map(|i| i as f64 * step).collect()
        };
        let (min, max) = (self.extent.min(), self.extent.max());
        GridLines {
            step: Metres::new(step),
            eastings: lines(min.x, max.x),
            northings: lines(min.y, max.y),
        }
    }
}

/// Where to draw the lines of a grid, in the working system's metres.
#[derive(Debug, Clone, PartialEq)]
pub struct GridLines {
    /// Between two lines.
    pub step: Metres,
    /// From west to east.
    pub eastings: Vec<f64>,
    /// From south to north.
    pub northings: Vec<f64>,
}

/// The smallest of 1, 2, 5, 10, 20 … that is not less.
fn round_step(least: f64) -> f64 {
    let decade = 10f64.powf(least.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().find(|step| least <= step * decade * (1.0 + 1e-9));
    step.unwrap_or(10.0) * decade
}

/// A shape with fewer vertices, for drawing only: nothing is measured on it.
///
/// Vertices go whose triangle with their neighbours is smaller than half the square of the
/// tolerance, none where the shore would come to cross itself; islands smaller than the square of
/// the tolerance go altogether.
///
/// # References
/// Visvalingam and Whyatt (1993), Line generalisation by repeated elimination of points, The
/// Cartographic Journal 30: 46–51.
pub fn simplified(shape: &MultiPolygon<f64>, tolerance: Metres) -> MultiPolygon<f64> {
    let least = tolerance.metres().powi(2);
    let visible = |ring: &geo_types::LineString<f64>| {
        least <= Polygon::new(ring.clone(), vec![]).unsigned_area()
    };
    let pieces = shape.iter().filter(|piece| visible(piece.exterior())).map(|piece| {
        let islands = piece.interiors().iter().filter(|ring| visible(ring)).cloned().collect();
        Polygon::new(piece.exterior().clone(), islands).simplify_vw_preserve(0.5 * least)
    });
    MultiPolygon(pieces.collect())
}

/// Lines with fewer vertices, for drawing only; see [`simplified`].
pub fn simplified_lines(lines: &MultiLineString<f64>, tolerance: Metres) -> MultiLineString<f64> {
    lines.simplify_vw_preserve(0.5 * tolerance.metres().powi(2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_lakes::{rectangle, round};

    #[test]
    fn a_frame_counts_from_the_top_left() {
        let lake = rectangle(1_000.0, 400.0);
        let frame = Frame::of(&lake, Metres::new(100.0));
        let corner = lake.extent().min();
        let shares = frame.shares(corner);
        assert!((shares.0 - 100.0 / 1_200.0).abs() < 1e-9, "{shares:?}");
        assert!((shares.1 - 500.0 / 600.0).abs() < 1e-9, "{shares:?}");
        let square = frame.with_aspect(1.0).extent();
        assert!(
            (square.width() - 1_200.0).abs() < 1e-6 && (square.height() - 1_200.0).abs() < 1e-6
        );
        assert!((frame.with_aspect(4.0).extent().width() - 2_400.0).abs() < 1e-6);
    }

    #[test]
    fn grid_lines_are_round_and_few() {
        let lake = rectangle(1_000.0, 400.0);
        let lines = Frame::of(&lake, Metres::new(0.0)).grid_lines(5);
        assert!((lines.step.metres() - 200.0).abs() < 1e-9);
        assert!(lines.eastings.len() <= 6 && lines.northings.len() <= 3);
        assert!(lines.eastings.iter().all(|x| (x / 200.0).fract().abs() < 1e-9));
        for (least, want) in [(1.0, 1.0), (1.1, 2.0), (2.1, 5.0), (51.0, 100.0), (0.3, 0.5)] {
            assert!((round_step(least) - want).abs() < 1e-9, "{least}");
        }
    }

    #[test]
    fn a_circle_keeps_its_shape_with_fewer_corners() {
        let lake = round(500.0);
        let few = simplified(lake.projected(), Metres::new(5.0));
        let corners = few.0[0].exterior().0.len();
        assert!(corners < 200, "{corners}");
        let area = lake.projected().unsigned_area();
        assert!((few.unsigned_area() / area - 1.0).abs() < 0.01);
        assert!(simplified(lake.projected(), Metres::new(2_000.0)).0.is_empty());
    }
}
