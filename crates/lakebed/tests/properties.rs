//! What must hold for every lake and every set of soundings.
#![allow(clippy::unwrap_used, reason = "a test stops where something is missing")]

use geo::Area;
use geo_types::{Coord, LineString, MultiPolygon, Polygon};
use lakebed::{
    Crs, DepthData, DepthModel, DepthOptions, Method, Outline, depth_bands, hypsography,
};
use proptest::prelude::*;
use std::f64::consts::TAU;
use units::Metres;

const AT: Coord<f64> = Coord { x: 480_000.0, y: 4_900_000.0 };

fn crs() -> Crs {
    Crs::from_epsg(32_616).unwrap()
}

/// A star-shaped ring: one radius a corner.
fn star(radii: &[f64]) -> LineString<f64> {
    let step = TAU / radii.len() as f64;
    let corner = |(i, radius): (usize, &f64)| {
        let (sin, cos) = (step * i as f64).sin_cos();
        AT + Coord { x: radius * cos, y: radius * sin }
    };
    radii.iter().enumerate().map(corner).collect::<Vec<_>>().into()
}

fn lake(shore: LineString<f64>, islands: Vec<LineString<f64>>) -> MultiPolygon<f64> {
    crs().unproject_geometry(&MultiPolygon(vec![Polygon::new(shore, islands)])).unwrap()
}

fn reversed(line: &LineString<f64>) -> LineString<f64> {
    LineString(line.0.iter().rev().copied().collect())
}

prop_compose! {
    fn radii()(radii in prop::collection::vec(200.0..900.0f64, 6..30)) -> Vec<f64> { radii }
}

prop_compose! {
    /// Soundings by angle, share of the radius and depth.
    fn soundings()(all in prop::collection::vec((0.0..TAU, 0.05..0.95f64, 0.0..30.0f64), 5..120))
        -> Vec<(Coord<f64>, f64)> {
        all.into_iter()
            .map(|(angle, share, depth)| {
                let (sin, cos) = angle.sin_cos();
                (AT + Coord { x: 900.0 * share * cos, y: 900.0 * share * sin }, depth)
            })
            .collect()
    }
}

fn options(method: Method) -> DepthOptions {
    DepthOptions { method, most_cells: 10_000, ..DepthOptions::default() }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn area_does_not_depend_on_where_and_which_way_a_ring_runs(radii in radii(), turn in 0usize..30) {
        let shore = star(&radii);
        let island = star(&[50.0, 80.0, 60.0, 90.0]);
        let mut turned = shore.clone();
        let by = turn % turned.0.len();
        turned.0.rotate_left(by);
        let plain = lake(shore, vec![island.clone()]);
        let other = lake(reversed(&turned), vec![reversed(&island)]);
        let (one, _) = Outline::new(&plain, &crs()).unwrap();
        let (two, _) = Outline::new(&other, &crs()).unwrap();
        let ratio = one.area() / two.area();
        prop_assert!((ratio - 1.0).abs() < 1e-11, "{ratio}");
        prop_assert!((one.perimeter() / two.perimeter() - 1.0).abs() < 1e-11);
        prop_assert_eq!(one.island_count(), 1);
        prop_assert!((one.planar_area().square_metres() - one.projected().signed_area()).abs() < 1e-3);
    }

    #[test]
    fn a_model_keeps_its_promises(radii in radii(), soundings in soundings(), natural in any::<bool>()) {
        let (outline, _) = Outline::new(&lake(star(&radii), vec![]), &crs()).unwrap();
        let method = if natural { Method::NaturalNeighbour } else { Method::Linear };
        let data = DepthData::from_soundings(soundings.clone());
        let Ok(model) = DepthModel::build(&outline, &data, &options(method)) else {
            // all soundings fell on land
            prop_assert!(soundings.iter().all(|(at, _)| !outline.contains(*at)));
            return Ok(());
        };
        let inside = soundings.iter().filter(|(at, _)| outline.contains(*at));
        let deepest = inside.map(|(_, depth)| *depth).fold(0.0, f64::max);
        prop_assert!((model.max_depth().metres() - deepest).abs() < 1e-12);

        // every depth is within the data, and the grid is the lake
        let mut area = 0.0;
        for cell in model.grid().cells() {
            prop_assert!(0.0 <= cell.depth.metres() && cell.depth.metres() <= deepest);
            area += cell.water;
        }
        let cell = model.grid().cell().metres();
        let planar = outline.planar_area().square_metres();
        prop_assert!((area * cell * cell / planar - 1.0).abs() < 1e-9);

        // the hypsography never rises, and ends with nothing
        let depths: Vec<Metres> = (0..=30).map(|i| Metres::new(f64::from(i))).collect();
        let rows = hypsography(&model, &depths);
        for pair in rows.windows(2) {
            prop_assert!(pair[1].area <= pair[0].area && pair[1].volume_below <= pair[0].volume_below);
            // what lies between two depths is at least the lower area thick, at most the upper
            let layer = (pair[0].volume_below - pair[1].volume_below).cubic_metres();
            prop_assert!(layer <= pair[0].area.square_metres() * (1.0 + 1e-9));
            prop_assert!(pair[1].area.square_metres() * (1.0 - 1e-9) <= layer);
        }
        prop_assert!((rows[0].area / outline.area() - 1.0).abs() < 1e-9);

        // the bands are the lake
        let bands = depth_bands(&model, &[2.0, 5.0, 10.0, 15.0, 20.0].map(Metres::new));
        let sum: f64 = bands.iter().map(|band| band.shape.unsigned_area()).sum();
        prop_assert!((sum / planar - 1.0).abs() < 1e-6, "{sum} {planar}");
    }

    #[test]
    fn a_place_survives_the_way_there_and_back(longitude in -93.0..-81.0f64, latitude in 40.0..49.0f64) {
        let place = units::LonLat::new(longitude, latitude).unwrap();
        for code in [32_616, 3071, 26_916, 2253, 26_851] {
            let crs = Crs::from_epsg(code).unwrap();
            let back = crs.unproject(crs.project(place).unwrap()).unwrap();
            prop_assert!((back.longitude() - longitude).abs() < 1e-9, "{code}");
            prop_assert!((back.latitude() - latitude).abs() < 1e-9, "{code}");
        }
    }
}
