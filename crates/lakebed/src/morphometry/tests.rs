use super::*;
use crate::depth::{DepthData, DepthOptions};
use crate::outline::Outline;
use crate::test_lakes::{AT, lake, rectangle, ring, round, sunflower};
use geo::{Area, Euclidean, Length};
use geo_types::{Coord, MultiPolygon, Polygon};

const RADIUS: f64 = 500.0;
const DEPTH: f64 = 10.0;

/// UTM shrinks lengths by 0.9996 on its central meridian, where these lakes lie.
const SCALE: f64 = 0.9996;

/// A round lake whose bed is a cone, 10 m deep in the middle.
fn cone() -> DepthModel {
    let radius = |at: Coord<f64>| (at - AT).x.hypot((at - AT).y);
    let soundings =
        sunflower(0.995 * RADIUS, 4_000).map(|at| (at, DEPTH * (1.0 - radius(at) / RADIUS)));
    let data = DepthData::from_soundings(soundings.chain([(AT, DEPTH)]));
    DepthModel::build(&round(RADIUS), &data, &DepthOptions::default()).unwrap()
}

fn near(name: &str, got: f64, want: f64, share: f64) {
    assert!((got / want - 1.0).abs() < share, "{name}: got {got}, want {want}");
}

/// A cone: volume a third of area times depth, area at depth `d` by the square of `1 − d/z`.
#[test]
fn a_cone_has_the_measures_of_a_cone() {
    let model = cone();
    let lake = Morphometry::of(&model, Rule::Grid);
    let area = PI * (RADIUS / SCALE).powi(2);
    near("area", lake.area.square_metres(), area, 1e-4);
    near("volume", lake.volume.cubic_metres(), area * DEPTH / 3.0, 2e-3);
    near("mean depth", lake.mean_depth.metres(), DEPTH / 3.0, 2e-3);
    near("development", lake.shoreline_development, 1.0, 1e-4);
    near("relative depth", lake.relative_depth, 100.0 * DEPTH * SCALE / (2.0 * RADIUS), 1e-4);
    near("length", lake.max_length.metres(), 2.0 * RADIUS / SCALE, 1e-4);
    assert!((lake.max_depth.metres() - DEPTH).abs() < 1e-12);
    for row in hypsography(&model, &[0.0, 1.0, 2.5, 5.0, 8.0].map(Metres::new)) {
        let left = 1.0 - row.depth.metres() / DEPTH;
        near("area below", row.area.square_metres(), area * left.powi(2), 5e-3);
        near(
            "volume below",
            row.volume_below.cubic_metres(),
            area * DEPTH * left.powi(3) / 3.0,
            1.5e-2,
        );
    }
    // truncated cones are exact on a cone, prisms of the mean area too large
    let frustum = Morphometry::of(&model, Rule::Frustum);
    let trapezoid = Morphometry::of(&model, Rule::Trapezoid);
    near("frustum", frustum.volume.cubic_metres(), area * DEPTH / 3.0, 3e-3);
    assert!(frustum.volume < trapezoid.volume);
    assert_eq!((frustum.rule.key(), trapezoid.rule.key()), ("frustum", "trapezoid"));
}

#[test]
fn the_grid_has_the_area_of_the_lake_to_the_last_digits() {
    let model = cone();
    let rows = hypsography(&model, &[Metres::new(0.0)]);
    near("area", rows[0].area.square_metres(), model.outline().area().square_metres(), 1e-9);
}

#[test]
fn bands_cover_the_lake_and_do_not_overlap() {
    let model = cone();
    let depths: Vec<Metres> = [2.0, 4.0, 6.0, 8.0, 20.0, 0.0].map(Metres::new).to_vec();
    let bands = depth_bands(&model, &depths);
    assert_eq!(bands.len(), 5);
    let planar = model.outline().planar_area().square_metres();
    let sum: f64 = bands.iter().map(|band| band.shape.unsigned_area()).sum();
    assert!((sum - planar).abs() < 0.1, "{sum} {planar}");
    let sum: f64 = bands.iter().map(|band| band.area.square_metres()).sum();
    near("cells", sum, model.outline().area().square_metres(), 1e-9);
    for band in &bands {
        let shape = band.shape.unsigned_area() * model.outline().area_scale();
        near("shape against cells", shape, band.area.square_metres(), 5e-3);
        let (from, to) = (band.from.metres(), band.to.map_or(DEPTH, Metres::metres));
        let ring =
            PI * (RADIUS / SCALE / DEPTH).powi(2) * ((DEPTH - from).powi(2) - (DEPTH - to).powi(2));
        near("shape against the cone", shape, ring, 5e-3);
    }
    // every band but the deepest is a ring with one hole
    assert!(
        bands[..4]
            .iter()
            .all(|band| band.shape.0.len() == 1 && band.shape.0[0].interiors().len() == 1)
    );
    assert_eq!(bands[4].to, None);
    assert!(bands[4].shape.0[0].interiors().is_empty());
}

#[test]
fn contours_of_a_cone_are_circles() {
    let model = cone();
    for set in contour_lines(&model, &[0.0, 2.5, 5.0, 7.5].map(Metres::new)) {
        let radius = RADIUS * (1.0 - set.depth.metres() / DEPTH);
        near("contour", Euclidean.length(&set.lines), 2.0 * PI * radius, 5e-3);
        for at in set.lines.iter().flatten() {
            let found = (*at - AT).x.hypot((*at - AT).y);
            assert!((found - radius).abs() < 2.5, "{} m: {found} {radius}", set.depth.metres());
        }
    }
    assert!(contour_lines(&model, &[Metres::new(11.0)])[0].lines.0.is_empty());
    assert!(deeper_than(&model, Metres::new(11.0)).0.is_empty());
}

#[test]
fn littoral_zones_are_ranges_of_depth() {
    let model = cone();
    let area = |from: f64, to: f64| {
        PI * (RADIUS / SCALE / DEPTH).powi(2) * ((DEPTH - from).powi(2) - (DEPTH - to).powi(2))
    };
    let (foot, eight) = (Metres::from_feet(1.0).metres(), Metres::from_feet(8.0).metres());
    near(
        "1 to 8 feet",
        littoral_area(&model, Littoral::default()).square_metres(),
        area(foot, eight),
        5e-3,
    );
    let down = littoral_area(&model, Littoral::down_to(Metres::new(4.0)));
    near("down to 4 m", down.square_metres(), area(0.0, 4.0), 5e-3);
}

#[test]
fn zones_share_out_the_lake() {
    let model = cone();
    let half = |west: f64, east: f64| -> MultiPolygon<f64> {
        let corners = [(west, -600.0), (east, -600.0), (east, 600.0), (west, 600.0)];
        let ring: Vec<Coord<f64>> = corners.iter().map(|&(x, y)| AT + Coord { x, y }).collect();
        Polygon::new(ring.into(), vec![]).into()
    };
    let measure =
        |zone: &MultiPolygon<f64>| zone_statistics(&model, zone, Littoral::default()).unwrap();
    let (west, east) = (measure(&half(-600.0, 0.0)), measure(&half(0.0, 600.0)));
    let whole = Morphometry::of(&model, Rule::Grid);
    near("areas", (west.area + east.area).square_metres(), whole.area.square_metres(), 1e-7);
    near("volumes", (west.volume + east.volume).cubic_metres(), whole.volume.cubic_metres(), 1e-6);
    near("shores", (west.shore + east.shore).metres(), whole.perimeter.metres(), 1e-6);
    near("halves", west.area.square_metres(), east.area.square_metres(), 1e-6);
    let littoral = littoral_area(&model, Littoral::default());
    near(
        "littoral",
        (west.littoral_area + east.littoral_area).square_metres(),
        littoral.square_metres(),
        1e-6,
    );
    near("mean depth", west.mean_depth.unwrap().metres(), DEPTH / 3.0, 5e-3);
    let on_land = measure(&half(550.0, 600.0));
    assert_eq!((on_land.mean_depth, on_land.max_depth), (None, None));
    assert!(on_land.area.square_metres().abs() < 1e-9 && on_land.water.0.is_empty());
}

/// A zone that lies within a single cell still has its area and the depth there.
#[test]
fn a_zone_smaller_than_a_cell_counts() {
    let model = cone();
    let corners = ring(100.0, 0.0, 0.5, 40).into_iter().map(|(x, y)| AT + Coord { x, y });
    let zone = Polygon::new(corners.collect::<Vec<_>>().into(), vec![]).into();
    let found = zone_statistics(&model, &zone, Littoral::default()).unwrap();
    near("area", found.area.square_metres(), zone.unsigned_area() / SCALE.powi(2), 1e-4);
    assert!((found.mean_depth.unwrap().metres() - 8.0).abs() < 0.1);
}

/// Source: shapely (planar): the L of corners 0,0 4,0 4,2 2,2 2,4 0,4 has area 12 and perimeter 16.
/// Here a unit is 100 m.
#[test]
fn shapely_l_shape() {
    let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0)];
    let big: Vec<(f64, f64)> = corners.iter().map(|&(x, y)| (100.0 * x, 100.0 * y)).collect();
    let mut turned = big.clone();
    turned.reverse();
    for ring in [big, turned] {
        let outline = lake(&[ring]);
        assert!((outline.planar_area().square_metres() - 120_000.0).abs() < 1e-3);
        assert!((outline.perimeter().metres() - 1_600.0 / SCALE).abs() < 0.01);
        assert_fetch(
            &outline,
            &[(0.0, 400.0), (90.0, 400.0), (270.0, 400.0), (45.0, 200.0 * 2f64.sqrt())],
        );
    }
}

fn assert_fetch(outline: &Outline, wanted: &[(f64, f64)]) {
    for &(bearing, want) in wanted {
        // the lakes lie on the central meridian's eastern side, by a hair: grid and true north
        // agree
        let found = fetch(outline, bearing).metres() * SCALE;
        assert!((found - want).abs() < 0.05, "{bearing}: {found} {want}");
    }
}

#[test]
fn fetch_ends_at_islands() {
    assert_fetch(&rectangle(300.0, 400.0), &[(0.0, 400.0), (90.0, 300.0), (180.0, 400.0)]);
    let blocked = lake(&[
        vec![(0.0, 0.0), (300.0, 0.0), (300.0, 400.0), (0.0, 400.0)],
        vec![(100.0, 0.1), (200.0, 0.1), (200.0, 399.9), (100.0, 399.9)],
    ]);
    assert!((max_length(&blocked).metres() * SCALE - 100f64.hypot(400.0)).abs() < 0.5);
    let diagonal = max_length(&rectangle(300.0, 400.0)).metres() * SCALE;
    assert!((diagonal - 500.0).abs() < 0.01, "{diagonal}");
}

/// Source: handbook definition, as in Seekell et al. (2022), Geophysical Research Letters 49(10): a circle is 1 exactly, a square 2/√π.
#[test]
fn shoreline_development_of_circle_and_square() {
    let circle = shoreline_development(Metres::new(2.0 * PI * 100.0), SquareMetres::new(PI * 1e4));
    assert!((circle - 1.0).abs() < 1e-12);
    let square = rectangle(1_000.0, 1_000.0);
    let development = shoreline_development(square.perimeter(), square.area());
    assert!((development - 2.0 / PI.sqrt()).abs() < 1e-6, "{development}");
}

#[test]
fn usual_depths_are_round_and_few() {
    let feet = usual_depths(Metres::from_feet(13.1), UnitSystem::Us);
    assert_eq!(feet.len(), 14);
    assert!((feet[13].feet() - 13.0).abs() < 1e-9);
    let metres = usual_depths(Metres::new(64.0), UnitSystem::Metric);
    assert_eq!(metres.len(), 13);
    assert!((metres[12].metres() - 60.0).abs() < 1e-9);
    assert_eq!(usual_depths(Metres::new(0.0), UnitSystem::Us).len(), 1);
}
