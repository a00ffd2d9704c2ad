use super::*;
use crate::random::Draw;
use crate::stats::assert_close;
use geo_types::{LineString, Polygon};
use survey::scale::CoverBounds;

fn ring(points: &[(f64, f64)]) -> LineString<f64> {
    LineString::from(points.to_vec())
}

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Polygon<f64> {
    let points = [(x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y)];
    Polygon::new(ring(&points), Vec::new())
}

fn lake(polygon: Polygon<f64>) -> MultiPolygon<f64> {
    MultiPolygon::new(vec![polygon])
}

fn zone(code: &str) -> Code {
    Code::new(code).unwrap()
}

fn point(x: f64, y: f64, step: Option<&str>) -> SampledPoint {
    SampledPoint { place: [x, y], found: step.is_some(), step: step.map(str::to_owned) }
}

fn area(extent: Option<AreaEstimate>) -> f64 {
    extent.unwrap().value.square_metres()
}

#[test]
fn water_goes_to_its_nearest_point() {
    // 1,000 m by 400 m; points at 100, 500 and 800 m: borders at 300 and 650 m
    let water = lake(rectangle(0.0, 0.0, 1_000.0, 400.0));
    let zones = [
        (zone("W"), lake(rectangle(-50.0, -50.0, 600.0, 500.0))),
        (zone("N"), lake(rectangle(900.0, 300.0, 100.0, 100.0))),
    ];
    let points =
        [point(100.0, 200.0, Some("2")), point(500.0, 200.0, None), point(800.0, 200.0, Some("1"))];
    let got =
        voronoi_extent(&Water { water: &water, zones: &zones, cells: 40_000 }, &points).unwrap();
    // cells are 3.16 m wide, so borders are true to half of that over 400 m
    assert_close(area(got[0].extent), 400.0 * (300.0 + 350.0), 400.0 * 3.2, "whole lake");
    assert_eq!(
        got[0].by_step.iter().map(|(code, _)| code.as_str()).collect::<Vec<_>>(),
        ["1", "2"]
    );
    assert_close(got[0].by_step[1].1.square_metres(), 400.0 * 300.0, 400.0 * 3.2, "rated 2");
    let west = &got[1];
    assert_close(west.water.square_metres(), 220_000.0, 1e-6, "the zone's own water");
    assert_close(area(west.extent), 400.0 * 300.0, 400.0 * 3.2, "west");
    assert_eq!((west.points, west.found), (2, 1));
    let north = &got[2];
    assert_eq!((north.points, north.extent), (0, None), "nobody sampled there: cannot tell");
    let whole = got[0].extent.unwrap();
    assert!(whole.low < whole.value && whole.value < whole.high);
}

#[test]
fn land_between_a_point_and_the_water_turns_it_away() {
    // two basins 90 m apart over a spit from the north shore that leaves 20 m open in the south
    let shore = [
        (0.0, 0.0),
        (1_000.0, 0.0),
        (1_000.0, 500.0),
        (520.0, 500.0),
        (520.0, 20.0),
        (480.0, 20.0),
        (480.0, 500.0),
        (0.0, 500.0),
        (0.0, 0.0),
    ];
    let water = lake(Polygon::new(ring(&shore), Vec::new()));
    // the west point stands close to the spit, the east point far from it
    let points = [point(450.0, 450.0, Some("3")), point(950.0, 450.0, None)];
    let got = voronoi_extent(&Water { water: &water, zones: &[], cells: 30_000 }, &points).unwrap();
    let west = 480.0 * 500.0;
    let got = area(got[0].extent);
    // straight lines would give the west point all water up to 700 m
    assert!(got < west + 30_000.0 && got > west - 1_000.0, "{got} against {west}");
    let open = lake(rectangle(0.0, 0.0, 1_000.0, 500.0));
    let straight =
        voronoi_extent(&Water { water: &open, zones: &[], cells: 30_000 }, &points).unwrap();
    assert_close(area(straight[0].extent), 700.0 * 500.0, 500.0 * 4.1, "without the spit");
}

#[test]
fn an_island_is_no_water_and_a_pond_out_of_reach_is_said() {
    let island =
        ring(&[(400.0, 100.0), (600.0, 100.0), (600.0, 300.0), (400.0, 300.0), (400.0, 100.0)]);
    let main = Polygon::new(rectangle(0.0, 0.0, 1_000.0, 400.0).exterior().clone(), vec![island]);
    let water = MultiPolygon::new(vec![main, rectangle(2_000.0, 0.0, 100.0, 100.0)]);
    let points =
        [point(100.0, 200.0, Some("1")), point(900.0, 200.0, Some("1")), point(5_000.0, 0.0, None)];
    let got = voronoi_extent(&Water { water: &water, zones: &[], cells: 20_000 }, &points).unwrap();
    assert_close(got[0].water.square_metres(), 370_000.0, 1e-6, "water");
    assert_close(got[0].out_of_reach.square_metres(), 10_000.0, 300.0, "the pond");
    assert_close(area(got[0].extent), 360_000.0, 300.0, "all that can be reached");
    assert_eq!(got[0].outside, 1);
    let high = got[0].extent.unwrap();
    assert!(high.low < high.value, "two points are not certainty");
}

#[test]
fn rated_sub_areas_are_weighted_by_their_area() {
    let part = |zone_code: &str, acres: f64, result| RatedSubArea {
        zone: Some(zone(zone_code)),
        area: SquareMetres::new(acres),
        result,
    };
    let found = |step: &str, low, high| SubAreaResult::Found {
        step: step.to_owned(),
        cover: Some(CoverBounds { low, high }),
    };
    let parts = [
        part("A", 1_000.0, found("b", 0.02, 0.20)),
        part("A", 3_000.0, SubAreaResult::NotFound),
        part("A", 2_000.0, found("d", 0.60, 1.00)),
        part("B", 5_000.0, SubAreaResult::NotLookedAt),
        part("B", 1_000.0, SubAreaResult::NotFound),
        part("C", 700.0, SubAreaResult::NotLookedAt),
    ];
    let got = sub_area_extent(&parts, 3);
    let zone_a = &got[1];
    let extent = zone_a.extent.unwrap();
    assert_close(extent.value.square_metres(), 3_000.0, 1e-9, "counted");
    assert_eq!((extent.low, extent.high), (extent.value, extent.value), "all looked at");
    let covered = zone_a.covered.unwrap();
    assert_close(covered.low.square_metres(), 20.0 + 1_200.0, 1e-9, "lower bounds");
    assert_close(covered.value.square_metres(), 110.0 + 1_600.0, 1e-9, "class middles");
    assert_eq!(zone_a.by_step.len(), 2);
    let zone_b = got[2].extent.unwrap();
    assert_close(zone_b.value.square_metres(), 0.0, 1e-9, "none seen");
    assert!(zone_b.high.square_metres() > 2_000.0, "five sixths of it were not looked at");
    assert_eq!(got[3].extent, None, "nobody looked at zone C");
    // over all: 3,000 of 7,000 seen, 5,700 not seen
    assert_close(area(got[0].extent), 3_000.0 + 5_700.0 * 3.0 / 7.0, 1e-6, "whole");
}

#[test]
fn beds_that_overlap_count_once_and_only_in_the_water() {
    let water = lake(rectangle(0.0, 0.0, 1_000.0, 400.0));
    let beds =
        [lake(rectangle(0.0, 0.0, 100.0, 100.0)), lake(rectangle(50.0, -50.0, 100.0, 100.0))];
    let zones = [(zone("W"), lake(rectangle(0.0, 0.0, 75.0, 400.0)))];
    let got = bed_areas(&beds, &water, &zones);
    assert_close(got[0].amount, 10_000.0 + 5_000.0 - 2_500.0, 1e-6, "union in the water");
    assert_close(got[1].amount, 7_500.0, 1e-6, "in the zone");
    assert_eq!((got[0].drawings, got[1].drawings), (2, 2));
    let shore = [ring(&[(0.0, 0.0), (200.0, 0.0)]), ring(&[(0.0, 0.0), (0.0, 30.0)])];
    let zones = [(zone("W"), lake(rectangle(-10.0, -10.0, 85.0, 400.0)))];
    let got = shore_lengths(&shore, &zones);
    assert_close(got[0].amount, 230.0, 1e-9, "metres of shore");
    assert_close(got[1].amount, 75.0 + 30.0, 1e-6, "in the zone");
}

/// A patch in the west half of a lake, points at random.
fn patchy(points: usize, seed: u64) -> Vec<SampledPoint> {
    let mut draw = Draw::new(seed);
    (0..points)
        .map(|_| {
            let (x, y) = (draw.unit() * 2_000.0, draw.unit() * 1_000.0);
            point(x, y, (x < 800.0).then_some("1"))
        })
        .collect()
}

#[test]
fn mapped_chances_follow_the_patch_and_know_where_they_are_unsure() {
    let water = lake(rectangle(0.0, 0.0, 2_000.0, 1_000.0));
    let of = Water { water: &water, zones: &[], cells: 8_000 };
    let got = kriged_extent(&of, &patchy(200, 5)).unwrap();
    let extent = got.zones[0].2.unwrap();
    assert_close(extent.value.square_metres(), 800_000.0, 60_000.0, "40 % of the lake");
    assert!(extent.low.square_metres() < 800_000.0 && extent.high.square_metres() > 800_000.0);
    let at = |x: f64| {
        let near = got.cells.iter().filter(|cell| (cell.place[0] - x).abs() < 40.0);
        near.clone().map(|cell| cell.chance).sum::<f64>() / near.count() as f64
    };
    assert!(at(300.0) > 0.95 && at(1_600.0) < 0.05, "{} {}", at(300.0), at(1_600.0));
    assert!((0.2..0.8).contains(&at(800.0)));
    assert!(got.variogram.range > 300.0 && got.variogram.nugget < 0.1, "{:?}", got.variogram);
}

#[test]
fn a_sampled_point_is_honoured_without_a_nugget_and_weights_sum_to_one() {
    let variogram = Variogram { nugget: 0.0, partial: 0.25, range: 400.0 };
    let places = [[0.0, 0.0], [100.0, 0.0], [0.0, 150.0], [300.0, 80.0]];
    // written out once with a general solver: numpy 2.4 `linalg.solve` of the ordinary kriging system
    let system = kriging::ordinary(&variogram, &places, &[0, 1, 2, 3], [60.0, 40.0]);
    let expected = [0.315_837_461, 0.467_840_703, 0.180_144_403, 0.036_177_433];
    for (got, expected) in system.iter().zip(expected) {
        assert_close(*got, expected, 1e-6, "weight");
    }
    assert_close(system.iter().sum::<f64>(), 1.0, 1e-12, "sum");
    let exact = kriging::ordinary(&variogram, &places, &[0, 1, 2, 3], [100.0, 0.0]);
    assert_close(exact[1], 1.0, 1e-6, "on a point");
}

#[test]
fn nothing_found_or_everything_found_still_has_an_interval() {
    let water = lake(rectangle(0.0, 0.0, 2_000.0, 1_000.0));
    let of = Water { water: &water, zones: &[], cells: 2_000 };
    for found in [false, true] {
        let points: Vec<SampledPoint> =
            patchy(60, 2).into_iter().map(|one| SampledPoint { found, ..one }).collect();
        let kriged = kriged_extent(&of, &points).unwrap().zones[0].2.unwrap();
        let nearest = voronoi_extent(&of, &points).unwrap()[0].extent.unwrap();
        for got in [kriged, nearest] {
            assert_close(got.value.square_metres(), if found { 2e6 } else { 0.0 }, 1.0, "value");
            assert!(got.high.square_metres() - got.low.square_metres() > 20_000.0, "{got:?}");
        }
    }
}

#[test]
fn areas_that_cannot_be_given_say_why() {
    let water = lake(rectangle(0.0, 0.0, 100.0, 100.0));
    let none = MultiPolygon::new(Vec::new());
    let of = |water| Water { water, zones: &[], cells: 1_000 };
    let far = [point(9e5, 9e5, None)];
    assert_eq!(voronoi_extent(&of(&none), &far), Err(AcresError::NoWater));
    assert_eq!(voronoi_extent(&of(&water), &far), Err(AcresError::NoPoints { points: 1 }));
    assert_eq!(
        kriged_extent(&of(&water), &[point(5.0, 5.0, None)]).unwrap_err(),
        AcresError::TooFewPoints { points: 1, expected: 20 }
    );
}

#[test]
fn a_way_by_water_goes_around_a_spit() {
    // as above: the opening is 20 m wide at y 0 to 20, from x 480 to 520
    let shore = [
        (0.0, 0.0),
        (1_000.0, 0.0),
        (1_000.0, 500.0),
        (520.0, 500.0),
        (520.0, 20.0),
        (480.0, 20.0),
        (480.0, 500.0),
        (0.0, 500.0),
        (0.0, 0.0),
    ];
    let water = lake(Polygon::new(ring(&shore), Vec::new()));
    let ways = Ways::of(&Water { water: &water, zones: &[], cells: 30_000 }).unwrap();
    assert_close(ways.between([100.0, 100.0], [400.0, 500.0 - 1.0]), 499.2, 0.1, "in sight");
    // round both corners of the spit: plane geometry
    let around = (300.0_f64 - 480.0).hypot(420.0 - 20.0) * 2.0 + 40.0;
    let got = ways.between([300.0, 420.0], [700.0, 420.0]);
    assert!(got >= around - 1.0 && got < around * 1.01, "{got} against {around}");
    let back = ways.between([700.0, 420.0], [300.0, 420.0]);
    assert!((got - back).abs() < 0.01 * around, "{got} and {back}");
}

#[test]
fn water_shared_out_once_serves_every_plant() {
    let water = lake(rectangle(0.0, 0.0, 1_000.0, 400.0));
    let places: Vec<[f64; 2]> = (0..40_u32)
        .map(|n| [f64::from(n % 10) * 100.0 + 50.0, f64::from(n / 10) * 100.0 + 50.0])
        .collect();
    let once = Water { water: &water, zones: &[], cells: 10_000 };
    let shared = NearestWater::of(&once, &places).unwrap();
    let mut draw = Draw::new(5);
    for _ in 0..5 {
        let points: Vec<SampledPoint> = places
            .iter()
            .map(|place| point(place[0], place[1], draw.coin().then_some("1")))
            .collect();
        let found: Vec<bool> = points.iter().map(|one| one.found).collect();
        let steps: Vec<Option<&str>> = points.iter().map(|one| one.step.as_deref()).collect();
        assert_eq!(shared.extent(&found, &steps), voronoi_extent(&once, &points).unwrap());
    }
    // squares of 100 m around four points
    assert_close(shared.area_of(&[0, 11, 22, 33]).square_metres(), 40_000.0, 800.0, "four squares");
}
