use super::*;
use crate::crs::CrsError;
use geo_types::polygon;

fn working() -> Crs {
    Crs::from_epsg(32_616).unwrap()
}

/// A polygon given in metres from a corner near the middle of UTM zone 16.
fn lake(rings: &[&[(f64, f64)]]) -> MultiPolygon<f64> {
    let ring = |corners: &[(f64, f64)]| {
        LineString::from(
            corners.iter().map(|&(x, y)| (500_000.0 + x, 4_980_000.0 + y)).collect::<Vec<_>>(),
        )
    };
    let metres =
        Polygon::new(ring(rings[0]), rings[1..].iter().map(|corners| ring(corners)).collect());
    working().unproject_geometry(&MultiPolygon(vec![metres])).unwrap()
}

const SQUARE: &[(f64, f64)] = &[(0.0, 0.0), (1_000.0, 0.0), (1_000.0, 1_000.0), (0.0, 1_000.0)];
const ISLAND: &[(f64, f64)] = &[(400.0, 400.0), (600.0, 400.0), (600.0, 600.0), (400.0, 600.0)];

fn faults(lake: &MultiPolygon<f64>) -> Vec<OutlineFault> {
    Outline::new(lake, &working()).unwrap_err().faults
}

/// Source: GeographicLib (geographiclib 2.1) on WGS 84, cell 45–45.01° N, 90–89.99° W.
#[test]
fn geographiclib_cell_of_a_hundredth_degree() {
    let cell = polygon![
        (x: -90.0, y: 45.0), (x: -89.99, y: 45.0), (x: -89.99, y: 45.01), (x: -90.0, y: 45.01),
    ];
    let (outline, _) = Outline::new(&cell.into(), &working()).unwrap();
    assert!((outline.area().square_metres() - 876_163.448).abs() < 0.001);
    assert!((outline.area().acres() - 216.5047).abs() < 0.000_05);
    assert!((outline.perimeter().metres() - 3_799.437).abs() < 0.001);
    // the same corners in the plane of UTM 16
    assert!((outline.planar_area().square_metres() - 876_663.085).abs() < 0.001);
    assert!((outline.area_scale() - 876_163.448 / 876_663.085).abs() < 1e-8);
}

#[test]
fn an_island_is_land_and_adds_its_shore() {
    let (outline, findings) = Outline::new(&lake(&[SQUARE, ISLAND]), &working()).unwrap();
    assert!(findings.is_empty());
    assert_eq!(outline.island_count(), 1);
    assert!((outline.planar_area().square_metres() - 960_000.0).abs() < 1e-3);
    // 0.9996 is the scale of UTM on its central meridian
    assert!((outline.perimeter_outer().metres() - 4_000.0 / 0.9996).abs() < 0.01);
    assert!((outline.perimeter().metres() - 4_800.0 / 0.9996).abs() < 0.01);
    let island = &outline.islands()[0];
    assert!((island.area.square_metres() - 40_000.0 / 0.9996f64.powi(2)).abs() < 0.1);
    let at = |x: f64, y: f64| Coord { x: 500_000.0 + x, y: 4_980_000.0 + y };
    assert!(outline.contains(at(100.0, 100.0)));
    assert!(!outline.contains(at(500.0, 500.0)));
    assert!(!outline.contains(at(-1.0, 500.0)));
    assert!((outline.distance_to_shore(at(500.0, 390.0)).metres() - 10.0).abs() < 1e-6);
    assert!((outline.distance_to_shore(at(3.0, 4.0)).metres() - 3.0).abs() < 1e-6);
}

#[test]
fn a_crossing_shore_is_refused_with_the_place() {
    let bow_tie = lake(&[&[(0.0, 0.0), (1_000.0, 1_000.0), (1_000.0, 0.0), (0.0, 1_000.0)]]);
    let found = faults(&bow_tie);
    let [OutlineFault::SelfCrossing { ring: RingName::Shore { piece: 0 }, places }] = &found[..]
    else {
        panic!("{found:?}");
    };
    let middle = working().project(places[0]).unwrap();
    assert!((middle.x - 500_500.0).abs() < 1e-3 && (middle.y - 4_980_500.0).abs() < 1e-3);
    assert!(
        found[0].to_string().starts_with("the outer shore crosses itself 1 time, first at 44.")
    );
}

#[test]
fn an_eight_that_meets_in_a_vertex_is_refused_and_a_pinched_shore_kept() {
    let eight = lake(&[&[
        (0.0, 0.0),
        (500.0, 500.0),
        (1_000.0, 1_000.0),
        (1_000.0, 0.0),
        (500.0, 500.0),
        (0.0, 1_000.0),
    ]]);
    assert!(matches!(faults(&eight)[..], [OutlineFault::SelfCrossing { .. }]));
    let pinched = lake(&[&[
        (0.0, 0.0),
        (500.0, 500.0),
        (1_000.0, 0.0),
        (1_000.0, 1_000.0),
        (500.0, 500.0),
        (0.0, 1_000.0),
    ]]);
    let (outline, findings) = Outline::new(&pinched, &working()).unwrap();
    assert!((outline.planar_area().square_metres() - 500_000.0).abs() < 1.0);
    assert!(findings[0].to_string().starts_with("the outer shore touches itself"));
}

#[test]
fn islands_in_the_wrong_place_are_refused() {
    let outside = lake(&[SQUARE, &[(2_000.0, 0.0), (2_100.0, 0.0), (2_050.0, 100.0)]]);
    assert!(matches!(faults(&outside)[..], [OutlineFault::IslandOutside { .. }]));
    let across =
        lake(&[SQUARE, &[(900.0, 100.0), (1_100.0, 100.0), (1_100.0, 200.0), (900.0, 200.0)]]);
    assert!(matches!(faults(&across)[0], OutlineFault::RingsCross { .. }));
    let mut piece_on_piece = lake(&[SQUARE]);
    piece_on_piece.0.extend(lake(&[ISLAND]).0);
    assert!(matches!(
        faults(&piece_on_piece)[..],
        [OutlineFault::PiecesOverlap { one: 1, other: 0, .. }]
    ));
}

#[test]
fn an_island_along_the_shore_becomes_land() {
    let peninsula = lake(&[SQUARE, &[(0.0, 400.0), (200.0, 400.0), (200.0, 600.0), (0.0, 600.0)]]);
    let (outline, findings) = Outline::new(&peninsula, &working()).unwrap();
    assert_eq!(outline.island_count(), 0);
    assert!((outline.planar_area().square_metres() - 960_000.0).abs() < 0.01);
    assert!(findings[0].to_string().contains("share a stretch of shore"), "{}", findings[0]);
}

/// A shore straight in degrees is bent in metres: 30 cm in the middle of these 3.9 km of parallel.
#[test]
fn an_island_touches_a_shore_straight_in_degrees() {
    let shore = polygon![
        (x: -90.0, y: 45.0), (x: -89.95, y: 45.0), (x: -89.95, y: 45.01), (x: -90.0, y: 45.01),
    ];
    let with = |corners: &[(f64, f64)]| {
        let island = LineString::from(corners.to_vec());
        let lake = Polygon::new(shore.exterior().clone(), vec![island]);
        Outline::new(&lake.into(), &working()).unwrap()
    };
    let whole = Outline::new(&shore.clone().into(), &working()).unwrap().0.area().square_metres();
    // a triangle half a hundredth high on a hundredth of the parallel, at a point and along a side
    for (base, tip, islands, words) in [
        (45.005, 45.01, 1, "touch at a point"),
        (45.005, 45.0, 1, "touch at a point"),
        (45.01, 45.005, 0, "share a stretch of shore"),
        (45.0, 45.005, 0, "share a stretch of shore"),
    ] {
        let (outline, findings) = with(&[(-89.98, base), (-89.97, base), (-89.975, tip)]);
        assert_eq!(outline.island_count(), islands, "{words}");
        let land = whole - outline.area().square_metres();
        // a fifth of the lake's length, half of its height, half for a triangle
        assert!((land / whole - 0.2 * 0.5 * 0.5).abs() < 3e-4, "{words}: {land}");
        assert_eq!(findings.len(), 1, "{findings:?}");
        assert!(findings[0].to_string().contains(words), "{}", findings[0]);
        let again = Outline::new(outline.lon_lat(), &working()).unwrap().0;
        assert!((again.area() - outline.area()).square_metres().abs() < 1e-3);
    }
}

#[test]
fn repeated_vertices_and_spikes_go_and_are_counted() {
    let rough = lake(&[&[
        (0.0, 0.0),
        (1_000.0, 0.0),
        (1_000.0, 0.0),
        (1_000.0, 1_000.0),
        (1_500.0, 1_000.0),
        (1_000.0, 1_000.0),
        (0.0, 1_000.0),
    ]]);
    let (outline, findings) = Outline::new(&rough, &working()).unwrap();
    assert_eq!(outline.projected().0[0].exterior().0.len(), 5);
    assert!((outline.planar_area().square_metres() - 1e6).abs() < 1e-3);
    assert_eq!(findings[0].to_string(), "3 repeated vertices removed");
}

#[test]
fn what_is_no_lake_is_refused() {
    assert!(matches!(faults(&MultiPolygon(vec![]))[..], [OutlineFault::Empty]));
    let line = lake(&[&[(0.0, 0.0), (1_000.0, 0.0)]]);
    assert!(matches!(faults(&line)[..], [OutlineFault::Empty]));
    let puddle = lake(&[&[(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)]]);
    assert!(matches!(faults(&puddle)[..], [OutlineFault::TooSmall { .. }]));
    let continent = polygon![(x: -100.0, y: 40.0), (x: -80.0, y: 40.0), (x: -80.0, y: 50.0), (x: -100.0, y: 50.0)];
    assert!(matches!(faults(&continent.into())[..], [OutlineFault::TooLarge { .. }]));
    let metres = polygon![(x: 500_000.0, y: 4e6), (x: 501_000.0, y: 4e6), (x: 501_000.0, y: 4.1e6)];
    assert!(matches!(faults(&metres.into())[..], [OutlineFault::NotAPlace { vertex: 1, .. }]));
    let far = Outline::new(&lake(&[SQUARE]), &Crs::from_epsg(32_618).unwrap()).unwrap_err();
    assert!(matches!(far.faults[..], [OutlineFault::Distorted { .. }]), "{far}");
    let degrees = Outline::new(&lake(&[SQUARE]), &Crs::wgs84()).unwrap_err();
    assert!(matches!(degrees.faults[..], [OutlineFault::Crs(CrsError::NotProjected { .. })]));
}

#[test]
fn every_fault_is_reported_at_once() {
    let mut two = lake(&[&[(0.0, 0.0), (1_000.0, 1_000.0), (1_000.0, 0.0), (0.0, 1_000.0)]]);
    two.0.extend(
        lake(&[
            &[(2_000.0, 0.0), (3_000.0, 0.0), (3_000.0, 1_000.0), (2_000.0, 1_000.0)],
            &[(5_000.0, 0.0), (5_100.0, 0.0), (5_050.0, 100.0)],
        ])
        .0,
    );
    let error = Outline::new(&two, &working()).unwrap_err();
    assert_eq!(error.faults.len(), 2, "{error}");
    assert_eq!(error.to_string().matches("hint:").count(), 2);
}
