use super::*;
use crate::ZoneArea;
use geo_types::{LineString, MultiPolygon, Polygon, Rect, coord};
use survey::Code;
use units::SquareMetres;

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> MultiPolygon<f64> {
    Rect::new(coord! { x: x0, y: y0 }, coord! { x: x1, y: y1 }).to_polygon().into()
}

/// A bent lake with an island, 1.31 km².
fn lake() -> MultiPolygon<f64> {
    let shore = [
        (500_000.0, 4_700_000.0),
        (500_900.0, 4_699_850.0),
        (501_600.0, 4_700_300.0),
        (501_150.0, 4_700_600.0),
        (501_300.0, 4_701_100.0),
        (500_600.0, 4_700_750.0),
        (500_100.0, 4_701_200.0),
        (499_800.0, 4_700_500.0),
    ];
    let island = [(500_500.0, 4_700_200.0), (500_760.0, 4_700_260.0), (500_640.0, 4_700_420.0)];
    let ring = |points: &[(f64, f64)]| LineString::from(points.to_vec());
    MultiPolygon(vec![Polygon::new(ring(&shore), vec![ring(&island)])])
}

fn plain(size: GridSize) -> PointGrid {
    PointGrid { size, rotation: Rotation::Degrees(0.0), origin: Origin::Middle }
}

/// Spacing against density, arithmetic (acre 4,046.8564224 m²): m², acres a point, points in 100
/// acres. Published layouts give the same: 65 m is about one point an acre (common practice).
#[test]
fn spacing_and_density_agree() {
    let table: &[(f64, f64, f64, f64)] = &[
        (25.0, 625.0, 0.1544, 647.5),
        (30.0, 900.0, 0.2224, 449.7),
        (40.0, 1_600.0, 0.3954, 252.9),
        (50.0, 2_500.0, 0.6178, 161.9),
        (60.0, 3_600.0, 0.8896, 112.4),
        (65.0, 4_225.0, 1.0440, 95.8),
        (70.0, 4_900.0, 1.2108, 82.6),
        (80.0, 6_400.0, 1.5815, 63.2),
        (100.0, 10_000.0, 2.4711, 40.5),
    ];
    for &(spacing, square, acres, in_hundred) in table {
        // a square of ten by ten points holds exactly a hundred, whatever the origin
        let frame = Frame::new(rect(0.0, 0.0, 10.0 * spacing, 10.0 * spacing)).unwrap();
        for seed in 0..20 {
            let grid = PointGrid {
                origin: Origin::Random { seed },
                ..plain(GridSize::Spacing(Metres::new(spacing)))
            };
            assert_eq!(point_grid(&frame, &grid).unwrap().sites.len(), 100, "{spacing} m");
        }
        let a_point = frame.area() / 100.0;
        assert!((a_point.square_metres() - square).abs() < 1e-9);
        assert!((a_point.acres() - acres).abs() < 5e-5, "{spacing} m: {} acres", a_point.acres());
        assert!((100.0 / a_point.acres() - in_hundred).abs() < 0.05, "{spacing} m");
        let back = spacing_for(SquareMetres::from_acres(100.0 * acres), 100).metres();
        assert!((back / spacing - 1.0).abs() < 5e-4, "{spacing} m: {back}");
    }
    // one point an acre
    assert!((spacing_for(SquareMetres::from_acres(1.0), 1).metres() - 63.615).abs() < 5e-4);
}

/// For a grid with random origin the expected number of points is area / s², whatever the shape.
/// Tolerance: 4 standard errors of the 2,000 counts themselves.
#[test]
fn a_random_origin_gives_area_over_spacing_squared_points_on_average() {
    let frame = Frame::new(lake()).unwrap();
    for (spacing, degrees) in [(70.0, 0.0), (130.0, 0.0), (95.0, 31.0)] {
        let counts: Vec<f64> = (0..2_000)
            .map(|seed| {
                let origin = Origin::Random { seed };
                Lattice::new(&frame, spacing, degrees, origin).count(&frame) as f64
            })
            .collect();
        let n = counts.len() as f64;
        let mean = counts.iter().sum::<f64>() / n;
        let variance = counts.iter().map(|c| (c - mean).powi(2)).sum::<f64>() / (n - 1.0);
        let expected = frame.region().area() / spacing / spacing;
        let tolerance = 4.0 * (variance / n).sqrt();
        assert!(tolerance < 0.01 * expected, "the test must be sharp: {tolerance} of {expected}");
        assert!(
            (mean - expected).abs() < tolerance,
            "{spacing} m turned {degrees}°: mean {mean}, expected {expected} ± {tolerance}"
        );
    }
}

#[test]
fn a_turned_lake_under_a_turned_grid_has_the_turned_points() {
    let frame = Frame::new(lake()).unwrap();
    let at = (500_123.4, 4_700_321.0);
    let grid = |degrees, x, y| PointGrid {
        size: GridSize::Spacing(Metres::new(83.0)),
        rotation: Rotation::Degrees(degrees),
        origin: Origin::At(x, y),
    };
    let straight = point_grid(&frame, &grid(0.0, at.0, at.1)).unwrap();
    for degrees in [17.0_f64, 45.0, 133.0] {
        let (sin, cos) = degrees.to_radians().sin_cos();
        // clockwise about a point near the lake
        let turn = |x: f64, y: f64| {
            let (dx, dy) = (x - 500_700.0, y - 4_700_500.0);
            (500_700.0 + dx * cos + dy * sin, 4_700_500.0 - dx * sin + dy * cos)
        };
        let turned_ring =
            |ring: &LineString<f64>| ring.coords().map(|c| turn(c.x, c.y)).collect::<Vec<_>>();
        let water = &frame.water().0[0];
        let turned = Polygon::new(
            LineString::from(turned_ring(water.exterior())),
            water.interiors().iter().map(|ring| LineString::from(turned_ring(ring))).collect(),
        );
        let turned = Frame::new(turned.into()).unwrap();
        let (x, y) = turn(at.0, at.1);
        let layout = point_grid(&turned, &grid(degrees, x, y)).unwrap();
        assert_eq!(layout.sites.len(), straight.sites.len(), "turned {degrees}°");
        for (a, b) in straight.sites.iter().zip(&layout.sites) {
            let (x, y) = turn(a.x, a.y);
            assert!((x - b.x).hypot(y - b.y) < 1e-6, "site {} turned {degrees}°", a.code);
        }
    }
}

#[test]
fn a_quarter_turn_changes_no_point() {
    let frame = Frame::new(lake()).unwrap();
    let places = |degrees| {
        let grid = PointGrid {
            rotation: Rotation::Degrees(degrees),
            ..plain(GridSize::Spacing(Metres::new(70.0)))
        };
        let layout = point_grid(&frame, &grid).unwrap();
        let mut places: Vec<(i64, i64)> = layout
            .sites
            .iter()
            .map(|s| ((s.x * 1e3).round() as i64, (s.y * 1e3).round() as i64))
            .collect();
        places.sort_unstable();
        places
    };
    for degrees in [90.0, 180.0, -90.0, 360.0] {
        assert_eq!(places(0.0), places(degrees));
    }
}

#[test]
fn no_point_lies_on_an_island() {
    let frame = Frame::new(lake()).unwrap();
    let layout = point_grid(&frame, &plain(GridSize::Spacing(Metres::new(20.0)))).unwrap();
    let island = MultiPolygon::from(Polygon::new(lake().0[0].interiors()[0].clone(), vec![]));
    let island = crate::Region::new(&island).unwrap();
    assert!(layout.sites.iter().all(|site| !island.contains(site.x, site.y)));
    assert!(layout.sites.iter().all(|site| frame.holds(site.x, site.y)));
}

#[test]
fn numbers_run_along_the_rows_from_the_north_west_and_back() {
    let frame = Frame::new(rect(0.0, 0.0, 30.0, 20.0)).unwrap();
    let grid =
        PointGrid { origin: Origin::At(5.0, 5.0), ..plain(GridSize::Spacing(Metres::new(10.0))) };
    let layout = point_grid(&frame, &grid).unwrap();
    let order: Vec<(String, f64, f64)> =
        layout.sites.iter().map(|s| (s.code.to_string(), s.x, s.y)).collect();
    let want = [(5.0, 15.0), (15.0, 15.0), (25.0, 15.0), (25.0, 5.0), (15.0, 5.0), (5.0, 5.0)];
    for (index, (x, y)) in want.into_iter().enumerate() {
        assert_eq!(order[index], ((index + 1).to_string(), x, y));
    }
}

#[test]
fn the_same_call_gives_the_same_layout_and_the_stored_parameters_lay_it_again() {
    let frame = Frame::new(lake()).unwrap();
    let grid = PointGrid {
        size: GridSize::Number(150),
        rotation: Rotation::Degrees(12.5),
        origin: Origin::Random { seed: 20_260_714 },
    };
    let layout = point_grid(&frame, &grid).unwrap();
    assert_eq!(layout, point_grid(&frame, &grid).unwrap());
    assert!(layout.sites.len().abs_diff(150) <= 2, "{}", layout.sites.len());
    let number = |name| layout.parameter(name).unwrap().parse::<f64>().unwrap();
    let again = PointGrid {
        size: GridSize::Spacing(Metres::new(number("spacing_m"))),
        rotation: Rotation::Degrees(number("rotation_deg")),
        origin: Origin::At(number("origin_x_m"), number("origin_y_m")),
    };
    assert_eq!(layout.sites, point_grid(&frame, &again).unwrap().sites);
    let other = PointGrid { origin: Origin::Random { seed: 1 }, ..grid };
    assert_ne!(layout.sites, point_grid(&frame, &other).unwrap().sites);
}

#[test]
fn depth_limits_and_zones_narrow_the_grid() {
    let slope = |x: f64, _: f64| Some(Metres::new(x / 100.0));
    let west = ZoneArea { code: Code::new("W").unwrap(), polygon: rect(0.0, 0.0, 600.0, 400.0) };
    let east = ZoneArea { code: Code::new("E").unwrap(), polygon: rect(600.0, 0.0, 1e3, 400.0) };
    let frame = Frame::new(rect(0.0, 0.0, 1_000.0, 400.0))
        .unwrap()
        .with_zones(&[west, east])
        .unwrap()
        .with_depth(&slope)
        .between_depths(Some(Metres::new(0.5)), Some(Metres::new(5.0)))
        .unwrap();
    let layout = point_grid(&frame, &plain(GridSize::Spacing(Metres::new(20.0)))).unwrap();
    for site in &layout.sites {
        assert!((0.5..=5.0).contains(&site.depth.unwrap().metres()));
        assert_eq!(site.zone.as_ref().unwrap().as_str(), "W");
    }
    assert_eq!(layout.warnings, [Warning::ZoneWithoutSite { code: Code::new("E").unwrap() }]);
    assert_eq!(layout.parameter("most_depth_m"), Some("5"));
}

#[test]
fn impossible_grids_say_what_to_do() {
    let frame = Frame::new(rect(0.0, 0.0, 1_000.0, 400.0)).unwrap();
    let slope = |x: f64, _: f64| Some(Metres::new(x / 100.0));
    let deep = frame
        .clone()
        .with_depth(&slope)
        .between_depths(Some(Metres::new(40.0)), Some(Metres::new(50.0)))
        .unwrap();
    let spacing = |metres| GridSize::Spacing(Metres::new(metres));
    let table: &[(&Frame<'_>, GridSize, &str)] = &[
        (&frame, spacing(5_000.0), "larger than the lake"),
        (&frame, spacing(0.2), "between 1 m and 10000 m"),
        (&frame, GridSize::Number(0), "at least 1"),
        (&frame, GridSize::Number(500_000), "more than the water can hold"),
        (&deep, spacing(50.0), "the water here is 0.0 to 10.0 m deep"),
        (&deep, GridSize::Number(50), "the water here is 0.0 to 10.0 m deep"),
    ];
    for (frame, size, want) in table {
        let error = point_grid(frame, &plain(*size)).unwrap_err().to_string();
        assert!(error.contains(want) && error.contains("hint: "), "{size:?}: {error}");
    }
    let far = PointGrid { origin: Origin::At(500.0, -480.0), ..plain(spacing(900.0)) };
    let error = point_grid(&frame, &far).unwrap_err().to_string();
    assert!(error.contains("no point of a grid"), "{error}");
}

#[test]
fn the_best_rotation_is_at_least_as_well_spread_as_none() {
    let frame = Frame::new(lake()).unwrap();
    let grid = plain(GridSize::Spacing(Metres::new(150.0)));
    let balance = |layout: &Layout| {
        let places: Vec<(f64, f64)> = layout.sites.iter().map(|s| (s.x, s.y)).collect();
        crate::balance::layout_balance(&frame, &places, 4_000).unwrap()
    };
    let straight = point_grid(&frame, &grid).unwrap();
    let best = point_grid(&frame, &PointGrid { rotation: Rotation::Optimised, ..grid }).unwrap();
    assert!(balance(&best) <= balance(&straight));
    let degrees: f64 = best.parameter("rotation_deg").unwrap().parse().unwrap();
    let again =
        point_grid(&frame, &PointGrid { rotation: Rotation::Degrees(degrees), ..grid }).unwrap();
    assert_eq!(best.sites, again.sites);
}

#[test]
fn a_denser_grid_keeps_the_plain_points_and_adds_only_inside_the_areas() {
    let frame = Frame::new(rect(0.0, 0.0, 1_000.0, 400.0)).unwrap();
    let bed =
        ZoneArea { code: Code::new("T1").unwrap(), polygon: rect(300.0, 100.0, 500.0, 300.0) };
    let grid = plain(GridSize::Spacing(Metres::new(50.0)));
    let coarse = point_grid(&frame, &grid).unwrap();
    let fine = point_grid_denser(&frame, &grid, std::slice::from_ref(&bed), 4).unwrap();
    let region = crate::Region::new(&bed.polygon).unwrap();
    let inside = |sites: &[LaidSite]| sites.iter().filter(|s| region.contains(s.x, s.y)).count();
    // every point of the plain grid is there, sixteen times as many in the area
    for site in &coarse.sites {
        assert!(fine.sites.iter().any(|s| (s.x - site.x).hypot(s.y - site.y) < 1e-9));
    }
    assert_eq!(inside(&fine.sites), 16 * inside(&coarse.sites));
    assert_eq!(fine.sites.len() - inside(&fine.sites), coarse.sites.len() - inside(&coarse.sites));
    assert_eq!(fine.parameter("denser_in"), Some("T1"));
    let error = point_grid_denser(&frame, &grid, &[bed], 1).unwrap_err().to_string();
    assert!(error.contains("between 2 and 20"));
}
