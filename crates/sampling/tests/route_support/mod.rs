//! Lakes for the route tests.
#![allow(dead_code, reason = "each test file uses a part")]

#[path = "../../../findings/tests/support/mod.rs"]
mod support;

pub(crate) use support::open_data;

use geo_types::{Coord, LineString, MultiPolygon, Polygon};

/// A ring from corner pairs.
pub(crate) fn ring(corners: &[(f64, f64)]) -> LineString<f64> {
    let mut ring = LineString::from(corners.to_vec());
    ring.close();
    ring
}

/// A box.
pub(crate) fn square(x: f64, y: f64, width: f64, height: f64) -> LineString<f64> {
    ring(&[(x, y), (x + width, y), (x + width, y + height), (x, y + height)])
}

pub(crate) fn lake(shore: LineString<f64>, islands: Vec<LineString<f64>>) -> MultiPolygon<f64> {
    MultiPolygon(vec![Polygon::new(shore, islands)])
}

pub(crate) fn at(x: f64, y: f64) -> Coord<f64> {
    Coord { x, y }
}

/// A lake of the open outlines, in metres of a local plane (equirectangular about its middle).
#[derive(Debug)]
pub(crate) struct RealLake {
    pub id: i64,
    pub n_islands: usize,
    pub water: MultiPolygon<f64>,
}

/// Open outlines of New Hampshire lakes (US EPA, National Lakes Morphometry, CC0), those with islands.
pub(crate) fn lakes_with_islands() -> Option<Vec<RealLake>> {
    let path = open_data("nh-lake-outlines/nh_lakes_wgs84.geojson")?;
    let text = std::fs::read_to_string(path).unwrap();
    let collection: geojson::FeatureCollection =
        text.parse::<geojson::GeoJson>().unwrap().try_into().unwrap();
    let lakes = collection.features.into_iter().map(|feature| {
        let id = feature.property("COMID").and_then(geojson::JsonValue::as_f64).unwrap() as i64;
        let geometry: geo_types::Geometry<f64> = feature.geometry.unwrap().try_into().unwrap();
        let degrees = match geometry {
            geo_types::Geometry::Polygon(polygon) => MultiPolygon(vec![polygon]),
            geo_types::Geometry::MultiPolygon(polygons) => polygons,
            other => panic!("{other:?}"),
        };
        let n_islands = degrees.iter().map(|part| part.interiors().len()).sum();
        RealLake { id, n_islands, water: to_plane(&degrees) }
    });
    Some(lakes.filter(|lake| lake.n_islands > 0).collect())
}

fn to_plane(degrees: &MultiPolygon<f64>) -> MultiPolygon<f64> {
    use geo::{BoundingRect, MapCoords};
    let middle = degrees.bounding_rect().unwrap().center();
    let metres = 6_371_008.8_f64.to_radians();
    let squeeze = middle.y.to_radians().cos();
    degrees.map_coords(|c| Coord {
        x: (c.x - middle.x) * metres * squeeze,
        y: (c.y - middle.y) * metres,
    })
}

/// A broken shore by midpoint displacement: eight corners, every other one drawn in to `bays` of the radius; each
/// halving moves the middle of an edge in or out by a share, drawn from a fixed sequence.
fn broken_ring(radius: f64, bays: f64, halvings: u32, share: f64, seed: u32) -> LineString<f64> {
    let mut state = seed;
    let mut draw = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state >> 8) / f64::from(1u32 << 24) - 0.5
    };
    let mut radii: Vec<f64> = (0..8).map(|k| if k % 2 == 0 { 1.0 } else { bays }).collect();
    let mut size = share;
    for _ in 0..halvings {
        radii = (0..radii.len())
            .flat_map(|k| {
                let (a, b) = (radii[k], radii[(k + 1) % radii.len()]);
                [a, f64::midpoint(a, b) * (1.0 + size * draw())]
            })
            .collect();
        size *= 0.75;
    }
    let corners: Vec<(f64, f64)> = radii
        .iter()
        .enumerate()
        .map(|(k, r)| (r * radius, std::f64::consts::TAU * k as f64 / radii.len() as f64))
        .map(|(r, angle)| (r * angle.cos(), r * angle.sin()))
        .collect();
    ring(&corners)
}

/// A made lake as broken as a large real one: 68 islands, about 5,000 vertices, 15 km across.
pub(crate) fn sixty_eight_islands() -> MultiPolygon<f64> {
    let shore = broken_ring(9_000.0, 0.48, 8, 0.3, 1);
    let islands = (0..121)
        .map(|k| (k, 770.0 * f64::from(k % 11 - 5), 770.0 * f64::from(k / 11 - 5)))
        .filter(|(_, x, y)| x.hypot(*y) < 3_650.0)
        .take(68)
        .map(|(k, x, y)| {
            let radius = [290.0, 280.0, 270.0, 40.0, 275.0][k as usize % 5];
            // long and narrow, lying this way and that
            let (wide, high) = if k % 2 == 0 { (0.3, 1.2) } else { (1.2, 0.3) };
            let mut island = broken_ring(radius, 1.0, 3, 0.2, 7 * k as u32 + 3);
            for corner in island.coords_mut() {
                *corner = Coord { x: x + wide * corner.x, y: y + high * corner.y };
            }
            island
        })
        .collect();
    lake(shore, islands)
}

/// Points spread evenly in the water: a shifted grid of the box (Halton numbers), those on land left out.
pub(crate) fn points_in(water: &MultiPolygon<f64>, n: usize) -> Vec<Coord<f64>> {
    use geo::{BoundingRect, Contains};
    let bounds = water.bounding_rect().unwrap();
    let halton = |mut i: usize, base: usize| {
        let (mut share, mut value) = (1.0, 0.0);
        while i > 0 {
            share /= base as f64;
            value += share * (i % base) as f64;
            i /= base;
        }
        value
    };
    (1..)
        .map(|i| Coord {
            x: bounds.min().x + bounds.width() * halton(i, 2),
            y: bounds.min().y + bounds.height() * halton(i, 3),
        })
        .filter(|c| water.contains(c))
        .take(n)
        .collect()
}

/// True when a straight leg stays in the water: it properly crosses no shore edge, and its middle
/// parts are wet or on the shore to a micrometre.
pub(crate) fn leg_is_wet(water: &MultiPolygon<f64>, from: Coord<f64>, to: Coord<f64>) -> bool {
    use geo::kernels::{Kernel, Orientation, RobustKernel};
    use geo::{Distance, Euclidean, Intersects};
    use geo_types::Point;
    let opposite = |a: Orientation, b: Orientation| {
        a != Orientation::Collinear && b != Orientation::Collinear && a != b
    };
    let rings = water.iter().flat_map(|p| std::iter::once(p.exterior()).chain(p.interiors()));
    for edge in rings.flat_map(LineString::lines) {
        let side = RobustKernel::orient2d;
        if opposite(side(from, to, edge.start), side(from, to, edge.end))
            && opposite(side(edge.start, edge.end, from), side(edge.start, edge.end, to))
        {
            return false;
        }
    }
    [0.03, 0.25, 0.5, 0.75, 0.97].iter().all(|share| {
        let point =
            Coord { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
        water.intersects(&point) || Euclidean.distance(&Point(point), water) < 1e-6
    })
}
