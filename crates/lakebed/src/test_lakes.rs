//! Lakes of known measure for the tests of this crate, in UTM zone 16 near its central meridian.

use crate::crs::Crs;
use crate::outline::Outline;
use geo_types::{Coord, LineString, MultiPolygon, Polygon};

/// South-western corner of the rectangles, centre of the circles.
pub(crate) const AT: Coord<f64> = Coord { x: 500_000.0, y: 4_980_000.0 };

/// A lake from rings in metres from [`AT`], the first the shore, the others islands.
pub(crate) fn lake(rings: &[Vec<(f64, f64)>]) -> Outline {
    let crs = Crs::from_epsg(32_616).unwrap();
    let ring = |corners: &Vec<(f64, f64)>| -> LineString<f64> {
        corners.iter().map(|&(x, y)| AT + Coord { x, y }).collect::<Vec<_>>().into()
    };
    let polygon = Polygon::new(ring(&rings[0]), rings[1..].iter().map(ring).collect());
    let lon_lat = crs.unproject_geometry(&MultiPolygon(vec![polygon])).unwrap();
    Outline::new(&lon_lat, &crs).unwrap().0
}

/// A rectangle with its south-western corner in [`AT`].
pub(crate) fn rectangle(width: f64, height: f64) -> Outline {
    lake(&[vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]])
}

/// A circle of 720 corners around [`AT`].
pub(crate) fn round(radius: f64) -> Outline {
    lake(&[ring(0.0, 0.0, radius, 720)])
}

/// Corners of a regular polygon.
pub(crate) fn ring(x: f64, y: f64, radius: f64, corners: usize) -> Vec<(f64, f64)> {
    let step = std::f64::consts::TAU / corners as f64;
    (0..corners)
        .map(|i| (step * i as f64).sin_cos())
        .map(|(sin, cos)| (x + radius * cos, y + radius * sin))
        .collect()
}

/// Places spread evenly over a circle around [`AT`] without a lattice: the seeds of a sunflower.
pub(crate) fn sunflower(radius: f64, count: usize) -> impl Iterator<Item = Coord<f64>> {
    const GOLDEN_ANGLE: f64 = 2.399_963_229_728_653;
    (0..count).map(move |i| {
        let r = radius * ((i as f64 + 0.5) / count as f64).sqrt();
        let (sin, cos) = (GOLDEN_ANGLE * i as f64).sin_cos();
        AT + Coord { x: r * cos, y: r * sin }
    })
}
