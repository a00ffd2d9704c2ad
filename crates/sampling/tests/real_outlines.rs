//! Layouts on the outlines of real lakes, and on a made one with 68 islands.
//!
//! Data: US EPA, National Lakes Morphometry Dataset (CC0), New Hampshire lakes. The tests need the
//! folder of open data and say so when it is not there.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test stops where something is missing"
)]

#[path = "../../lakebed/tests/support/mod.rs"]
mod support;

use geo::{BooleanOps, Buffer};
use geo_types::{Coord, LineString, MultiPolygon, Polygon};
use sampling::balance::layout_balance;
use sampling::layouts::{
    Balanced, BalancedMethod, GridSize, Layout, Origin, PartialSquares, PointGrid, Rotation,
    ShoreSections, Squares, SubAreaSize, Warning, balanced, point_grid, shore_sections, squares,
    sub_areas_cut,
};
use sampling::{Frame, ZoneArea};
use std::time::Instant;
use survey::Code;
use units::{Metres, SquareMetres};

/// Outlines in metres on a plane that touches the ellipsoid in the middle of each lake.
fn lakes() -> Option<Vec<MultiPolygon<f64>>> {
    let path = support::open_data("nh-lake-outlines/nh_lakes_wgs84.geojson")?;
    let text = std::fs::read_to_string(path).unwrap();
    let collection: geojson::FeatureCollection = text.parse().unwrap();
    Some(
        collection
            .features
            .into_iter()
            .map(|feature| {
                let geometry =
                    geo_types::Geometry::<f64>::try_from(feature.geometry.unwrap()).unwrap();
                match geometry {
                    geo_types::Geometry::Polygon(polygon) => MultiPolygon(vec![polygon]),
                    geo_types::Geometry::MultiPolygon(all) => all,
                    other => panic!("an outline is a polygon, found {other:?}"),
                }
            })
            .map(|lake| in_metres(&lake))
            .collect(),
    )
}

fn in_metres(lake: &MultiPolygon<f64>) -> MultiPolygon<f64> {
    let first = lake.0[0].exterior().0[0];
    let metres = |c: &Coord<f64>| Coord {
        x: 300_000.0 + (c.x - first.x) * 111_320.0 * first.y.to_radians().cos(),
        y: 4_800_000.0 + (c.y - first.y) * 111_132.0,
    };
    let ring = |line: &LineString<f64>| LineString(line.coords().map(metres).collect());
    MultiPolygon(
        lake.iter()
            .map(|part| {
                Polygon::new(ring(part.exterior()), part.interiors().iter().map(ring).collect())
            })
            .collect(),
    )
}

fn n_islands(lake: &MultiPolygon<f64>) -> usize {
    lake.iter().map(|part| part.interiors().len()).sum()
}

fn total(layout: &Layout) -> f64 {
    layout.parts.iter().map(|part| part.area.square_metres()).sum()
}

#[test]
fn sections_tile_the_lake_with_the_most_islands() {
    let Some(lakes) = lakes() else { return };
    check_sections(lakes.into_iter().max_by_key(n_islands).unwrap());
}

/// As large, as indented and with as many islands as the largest lake of the data set: 185 km², 68
/// islands, 5,000 vertices.
#[test]
fn sections_tile_a_large_lake_of_68_islands() {
    let ring = |x: f64, y: f64, r: f64, n: usize, wave: f64| {
        let place = |k: usize| {
            let a = k as f64 / n as f64 * std::f64::consts::TAU;
            let r = r
                * (1.0
                    + wave * (5.0 * a).sin()
                    + 0.5 * wave * (23.0 * a).cos()
                    + 0.1 * wave * (151.0 * a).sin());
            (x + r * a.cos(), y + r * a.sin())
        };
        LineString::from((0..n).map(place).collect::<Vec<_>>())
    };
    let islands = (0..68)
        .map(|k| {
            let (turn, r) = (f64::from(k) * 2.4, 850.0 * f64::from(k + 1).sqrt() * 0.66);
            let size = 40.0 + f64::from(k * 37 % 100);
            ring(310_000.0 + r * turn.cos(), 4_830_000.0 + r * turn.sin(), size, 24, 0.2)
        })
        .collect();
    let shore = ring(310_000.0, 4_830_000.0, 7_600.0, 3_400, 0.2);
    let lake = MultiPolygon(vec![Polygon::new(shore, islands)]);
    assert_eq!(n_islands(&lake), 68);
    check_sections(lake);
}

fn check_sections(lake: MultiPolygon<f64>) {
    let frame = Frame::new(lake).unwrap();
    let plan = ShoreSections {
        length: Metres::from_feet(300.0),
        islands: true,
        corners: vec![],
        offshore: None,
    };
    let start = Instant::now();
    let layout = shore_sections(&frame, None, &plan).unwrap();
    println!("{} sections in {:?}", layout.parts.len(), start.elapsed());
    assert!((total(&layout) / frame.region().area() - 1.0).abs() < 1e-9);
    let without_water =
        layout.parts.len() as f64 / layout.parameter("sections").unwrap().parse::<f64>().unwrap();
    assert!(without_water > 0.99, "share of sections with water {without_water}");
    for (site, part) in layout.sites.iter().zip(&layout.parts) {
        assert_eq!(site.part.as_ref(), Some(&part.code));
        assert!(frame.holds(site.x, site.y), "site {}", site.code);
    }
}

#[test]
fn every_layout_holds_on_every_outline() {
    let Some(lakes) = lakes() else { return };
    let (mut n_checked, mut n_near) = (0, 0);
    for (number, lake) in lakes.into_iter().enumerate().step_by(3) {
        let frame = Frame::new(lake.clone()).unwrap();
        let area = frame.region().area();
        // scraps at the window's edge of the data set are no lakes
        if !(5e3..5e6).contains(&area) {
            continue;
        }
        n_checked += 1;
        let grid = PointGrid {
            size: GridSize::Number(40),
            rotation: Rotation::Degrees(0.0),
            origin: Origin::Middle,
        };
        let points = point_grid(&frame, &grid).unwrap();
        n_near += usize::from(points.sites.len().abs_diff(40) <= 2);
        let warned = |w: &Warning| matches!(w, Warning::NumberNotReached { .. });
        assert_eq!(points.sites.len() == 40, !points.warnings.iter().any(warned));
        assert!(points.sites.iter().all(|site| frame.holds(site.x, site.y)));

        let whole = ZoneArea { code: Code::new("L").unwrap(), polygon: lake.clone() };
        let cut = sub_areas_cut(&frame, &[whole], SubAreaSize::Number(12)).unwrap();
        assert_eq!(cut.parts.len(), 12, "lake {number}");
        assert!((total(&cut) / area - 1.0).abs() < 1e-9, "lake {number}: sub-areas");
        for part in &cut.parts {
            let deviation = part.area.square_metres() * 12.0 / area - 1.0;
            assert!(deviation.abs() < 0.02, "lake {number}, part {}: {deviation}", part.code);
        }

        let side = (area / 30.0).sqrt();
        let plan = Squares {
            side: Metres::new(side),
            rotation: 20.0,
            origin: None,
            partial: PartialSquares::Merge(0.25),
        };
        let tiles = squares(&frame, &lake, &plan).unwrap();
        assert!((total(&tiles) / area - 1.0).abs() < 1e-9, "lake {number}: squares");

        let plan = ShoreSections {
            length: Metres::new(60.0),
            islands: true,
            corners: vec![],
            offshore: None,
        };
        let sections = shore_sections(&frame, None, &plan).unwrap();
        assert!((total(&sections) / area - 1.0).abs() < 1e-9, "lake {number}: sections");
    }
    assert!(n_checked > 100, "{n_checked} outlines checked");
    // a lake as narrow as the spacing takes some numbers only
    assert!(n_near as f64 > 0.95 * f64::from(n_checked), "{n_near} of {n_checked} near the number");
}

/// Balanced designs lie well below simple random sampling on real outlines (Grafström, Lundström &
/// Schelin 2012; Stevens & Olsen 2004). The means are printed.
#[test]
fn balanced_designs_are_better_spread_on_real_outlines() {
    let Some(lakes) = lakes() else { return };
    let some: Vec<Frame<'_>> = lakes
        .into_iter()
        .filter(|lake| n_islands(lake) > 0)
        .take(8)
        .map(|lake| Frame::new(lake).unwrap())
        .collect();
    let mean = |method| {
        let mut sum = 0.0;
        for frame in &some {
            for seed in 0..6 {
                let plan = Balanced { method, n_cells: 2_500, ..Balanced::new(40, seed) };
                let layout = balanced(frame, &plan).unwrap();
                let places: Vec<(f64, f64)> = layout.sites.iter().map(|s| (s.x, s.y)).collect();
                sum += layout_balance(frame, &places, 2_500).unwrap();
            }
        }
        sum / (some.len() * 6) as f64
    };
    let plain = mean(BalancedMethod::SimpleRandom);
    let pivotal = mean(BalancedMethod::LocalPivotal);
    let tiles = mean(BalancedMethod::Tessellation);
    println!(
        "mean balance: simple random {plain:.3}, local pivotal {pivotal:.3}, tessellation {tiles:.3}"
    );
    assert!(pivotal < 0.5 * plain && tiles < 0.7 * plain, "{plain}, {pivotal}, {tiles}");
}

/// One acre a sub-area on a lake of an ordinary shape.
#[test]
fn a_belt_of_a_real_lake_is_cut_into_acres() {
    let Some(lakes) = lakes() else { return };
    let vertices = |lake: &MultiPolygon<f64>| lake.0[0].exterior().0.len();
    let lake = lakes.into_iter().max_by_key(vertices).unwrap();
    let inner = lake.buffer(-45.0);
    let belt = lake.difference(&inner);
    let frame = Frame::new(lake).unwrap();
    let total_area: f64 = sampling::Region::new(&belt).unwrap().area();
    let zone = ZoneArea { code: Code::new("L").unwrap(), polygon: belt };
    let start = Instant::now();
    let layout =
        sub_areas_cut(&frame, &[zone], SubAreaSize::Area(SquareMetres::from_acres(1.0))).unwrap();
    let pieces =
        layout.warnings.iter().filter(|w| matches!(w, Warning::PartInPieces { .. })).count();
    println!("{} acres in {:?}, {pieces} in pieces", layout.parts.len(), start.elapsed());
    assert!((total(&layout) / total_area - 1.0).abs() < 1e-9);
    let n = layout.parts.len() as f64;
    for part in &layout.parts {
        let deviation = part.area.square_metres() * n / total_area - 1.0;
        assert!(deviation.abs() < 0.02, "part {}: {deviation}", part.code);
    }
    assert!((pieces as f64) < 0.05 * n, "{pieces} of {n} parts in pieces");
}
