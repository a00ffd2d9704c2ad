//! Distances by water: closed forms, properties, a second reckoning by another method, real lakes.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::float_cmp,
    reason = "tests stop at the first surprise, print what they measured and compare exact values"
)]

mod route_support;

use geo::{Distance, Euclidean, Intersects, Length, Relate};
use geo_types::{Coord, Line, LineString, MultiPolygon, Point};
use proptest::prelude::*;
use route_support::{
    at, lake, lakes_with_islands, leg_is_wet, open_data, points_in, ring, sixty_eight_islands,
    square,
};
use sampling::route::{KeepOut, KeepOutReason, Lies, RouteError, WaterDistance};
use std::time::Instant;

fn metres(water: &WaterDistance, a: (f64, f64), b: (f64, f64)) -> f64 {
    let points = [water.place(at(a.0, a.1)), water.place(at(b.0, b.1))];
    let matrix = water.matrix(&points);
    matrix.get(0, 1).unwrap().metres()
}

#[test]
fn straight_in_open_water_and_round_an_island() {
    let water = WaterDistance::new(
        &lake(square(0.0, 0.0, 100.0, 100.0), vec![square(40.0, 20.0, 20.0, 60.0)]),
        &[],
    )
    .unwrap();
    // nothing between: the straight line to the last bit
    assert_eq!(metres(&water, (10.0, 5.0), (90.0, 11.0)), 80.0f64.hypot(6.0));
    // round the island by its south end: 20 m off the line, then 20 m along it, and back
    let expected = 2.0 * 30.0f64.hypot(30.0) + 20.0;
    assert!((metres(&water, (10.0, 50.0), (90.0, 50.0)) - expected).abs() < 1e-12);
    let a = water.place(at(10.0, 49.0));
    let b = water.place(at(90.0, 49.0));
    let way = water.path(&a, &b).unwrap();
    assert_eq!(way, LineString::from(vec![(10.0, 49.0), (40.0, 20.0), (60.0, 20.0), (90.0, 49.0)]));
}

#[test]
fn round_a_round_island_as_a_taut_string() {
    // a regular 360-gon about a circle of radius r; from two points at distance d on opposite sides the
    // string is two tangents and an arc: 2·√(d² − r²) + r·(π − 2·arccos(r/d))
    let (r, d) = (100.0f64, 300.0f64);
    let corners: Vec<(f64, f64)> = (0..360)
        .map(|k| f64::from(k).to_radians())
        .map(|angle| (r * angle.cos(), r * angle.sin()))
        .collect();
    let water = WaterDistance::new(
        &lake(square(-500.0, -500.0, 1_000.0, 1_000.0), vec![ring(&corners)]),
        &[],
    )
    .unwrap();
    let string = 2.0 * (d * d - r * r).sqrt() + r * (std::f64::consts::PI - 2.0 * (r / d).acos());
    let found = metres(&water, (-d, 0.0), (d, 0.0));
    // the polygon lies inside the circle: shorter by at most its relative sagitta, (π/360)²/6
    assert!(found <= string && found > string - string * 2e-5, "{found} against {string}");
}

#[test]
fn a_launch_on_land_goes_to_the_nearest_water_and_says_how_far() {
    let water = WaterDistance::new(
        &lake(square(0.0, 0.0, 100.0, 100.0), vec![square(40.0, 40.0, 20.0, 20.0)]),
        &[],
    )
    .unwrap();
    let launch = water.place(at(50.0, -12.0));
    assert_eq!(launch.lies(), Lies::OnLand);
    assert!((launch.moved().metres() - 12.0).abs() < 0.002, "{:?}", launch.moved());
    assert!(launch.at().y > 0.0 && launch.at().y < 0.002);
    let on_island = water.place(at(43.0, 50.0));
    assert_eq!(on_island.lies(), Lies::OnLand);
    assert!((on_island.moved().metres() - 3.0).abs() < 0.002);
    let afloat = water.place(at(10.0, 10.0));
    assert_eq!((afloat.lies(), afloat.moved().metres()), (Lies::InWater, 0.0));
}

#[test]
fn shallows_and_hazards_are_gone_round() {
    let open = lake(square(0.0, 0.0, 100.0, 100.0), vec![]);
    let bar = KeepOut {
        reason: KeepOutReason::TooShallow,
        area: lake(square(45.0, -10.0, 10.0, 100.0), vec![]),
    };
    let dam = KeepOut {
        reason: KeepOutReason::Hazard,
        area: lake(square(0.0, 90.0, 20.0, 10.0), vec![]),
    };
    let water = WaterDistance::new(&open, &[bar, dam]).unwrap();
    let expected = 2.0 * 35.0f64.hypot(40.0) + 10.0;
    assert!((metres(&water, (10.0, 50.0), (90.0, 50.0)) - expected).abs() < 1e-5);
    assert_eq!(water.place(at(50.0, 20.0)).lies(), Lies::KeptOut(KeepOutReason::TooShallow));
    assert_eq!(water.place(at(5.0, 95.0)).lies(), Lies::KeptOut(KeepOutReason::Hazard));
    assert_eq!(water.place(at(50.0, -5.0)).lies(), Lies::OnLand);
}

#[test]
fn a_bar_across_the_lake_cuts_sites_off() {
    let open = lake(square(0.0, 0.0, 100.0, 100.0), vec![]);
    let bar = KeepOut {
        reason: KeepOutReason::TooShallow,
        area: lake(square(45.0, -10.0, 10.0, 200.0), vec![]),
    };
    let water = WaterDistance::new(&open, &[bar]).unwrap();
    let points: Vec<_> = [(10.0, 10.0), (20.0, 20.0), (80.0, 20.0), (70.0, 90.0)]
        .map(|(x, y)| water.place(at(x, y)))
        .into();
    let matrix = water.matrix(&points);
    assert_eq!(matrix.cut_off(0), vec![2, 3]);
    assert!(matrix.get(2, 3).is_some() && matrix.get(0, 1).is_some());
    assert!(water.path(&points[0], &points[2]).is_none());
}

#[test]
fn a_strait_closed_by_one_common_vertex_is_closed() {
    // two basins that touch at a single point: no boat is without width
    let pinch =
        ring(&[(0.0, 0.0), (50.0, 50.0), (100.0, 0.0), (100.0, 100.0), (50.0, 50.0), (0.0, 100.0)]);
    let water = WaterDistance::new(&lake(pinch, vec![]), &[]).unwrap();
    let points = [water.place(at(10.0, 50.0)), water.place(at(90.0, 50.0))];
    assert_eq!(water.matrix(&points).cut_off(0), vec![1]);
}

#[test]
fn outlines_that_cross_or_overlap_are_joined() {
    // two parts that overlap, two that share an edge, a shore that crosses itself
    let part = |x: f64| lake(square(x, 0.0, 60.0, 100.0), vec![]).0.remove(0);
    for other in [40.0, 60.0] {
        let both = MultiPolygon(vec![part(0.0), part(other)]);
        let water = WaterDistance::new(&both, &[]).unwrap();
        assert!((metres(&water, (10.0, 50.0), (90.0, 50.0)) - 80.0).abs() < 1e-6, "{other}");
    }
    let bow = ring(&[(0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 80.0)]);
    let water = WaterDistance::new(&lake(bow, vec![]), &[]).unwrap();
    assert!((metres(&water, (10.0, 20.0), (10.0, 70.0)) - 50.0).abs() < 1e-6);
    assert_eq!(water.place(at(50.0, 10.0)).lies(), Lies::OnLand);
}

#[test]
fn draft_deeper_than_the_water_and_bad_outlines_are_said() {
    let open = lake(square(0.0, 0.0, 100.0, 100.0), vec![]);
    let all = KeepOut {
        reason: KeepOutReason::TooShallow,
        area: lake(square(-1.0, -1.0, 102.0, 102.0), vec![]),
    };
    let error = WaterDistance::with_draft(&open, &[all], units::Metres::new(3.0)).unwrap_err();
    assert_eq!(error, RouteError::DraftDeeperThanWater { draft: 3.0 });
    assert!(error.to_string().contains("`3.00` m") && error.to_string().contains("hint:"));
    for nothing in [MultiPolygon(vec![]), lake(ring(&[(0.0, 0.0), (1.0, 1.0)]), vec![])] {
        assert_eq!(WaterDistance::new(&nothing, &[]).unwrap_err(), RouteError::NoWater);
    }
    let not_a_number = lake(ring(&[(0.0, 0.0), (f64::NAN, 1.0), (4.0, 4.0)]), vec![]);
    assert_eq!(WaterDistance::new(&not_a_number, &[]).unwrap_err(), RouteError::NoWater);
}

/// A lake of whole metres with up to nine islands, each in its own cell of a grid.
fn any_lake() -> impl Strategy<Value = MultiPolygon<f64>> {
    let shore = prop::collection::vec(330.0..500.0f64, 8..24);
    let islands = prop::collection::vec(prop::collection::vec(15.0..70.0f64, 0..9), 9);
    (shore, islands).prop_map(|(shore, islands)| {
        let star = |radii: &[f64], x: f64, y: f64| {
            let corners: Vec<(f64, f64)> = radii
                .iter()
                .enumerate()
                .map(|(k, radius)| {
                    let angle = std::f64::consts::TAU * k as f64 / radii.len() as f64;
                    ((x + radius * angle.cos()).round(), (y + radius * angle.sin()).round())
                })
                .collect();
            ring(&corners)
        };
        let holes = islands
            .iter()
            .enumerate()
            .filter(|(_, radii)| radii.len() >= 3)
            .map(|(k, radii)| {
                star(radii, 160.0 * (k % 3) as f64 - 160.0, 160.0 * (k / 3) as f64 - 160.0)
            })
            .collect();
        lake(star(&shore, 0.0, 0.0), holes)
    })
}

fn any_points() -> impl Strategy<Value = Vec<(i32, i32)>> {
    prop::collection::vec((-450..450i32, -450..450i32), 12..24)
}

/// The same distances by brute force: every vertex a node, every pair tested against the whole lake by
/// the DE-9IM relation of a general-purpose geometry library, all shortest ways by Floyd and Warshall.
fn by_brute_force(water: &MultiPolygon<f64>, points: &[Coord<f64>]) -> Vec<Vec<f64>> {
    let mut nodes = points.to_vec();
    for part in water {
        for ring in std::iter::once(part.exterior()).chain(part.interiors()) {
            nodes.extend(ring.coords().skip(1));
        }
    }
    let n = nodes.len();
    let mut all = vec![vec![f64::INFINITY; n]; n];
    for i in 0..n {
        all[i][i] = 0.0;
        for j in 0..i {
            if nodes[i] == nodes[j] || water.relate(&Line::new(nodes[i], nodes[j])).is_covers() {
                let length = (nodes[i].x - nodes[j].x).hypot(nodes[i].y - nodes[j].y);
                all[i][j] = length;
                all[j][i] = length;
            }
        }
    }
    for k in 0..n {
        for i in 0..n {
            for j in 0..n {
                all[i][j] = all[i][j].min(all[i][k] + all[k][j]);
            }
        }
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 30, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_distance_is_a_metric_and_its_way_is_wet(outline in any_lake(), spots in any_points()) {
        let water = WaterDistance::new(&outline, &[]).unwrap();
        let points: Vec<_> = spots
            .iter()
            .map(|&(x, y)| water.place(at(f64::from(x), f64::from(y))))
            .collect();
        let matrix = water.matrix(&points);
        let get = |i: usize, j: usize| matrix.get(i, j).unwrap().metres();
        for i in 0..points.len() {
            prop_assert_eq!(get(i, i), 0.0);
            let row = water.distances(&points[i], &points);
            for j in 0..points.len() {
                let straight = (points[i].at().x - points[j].at().x).hypot(points[i].at().y - points[j].at().y);
                prop_assert!(get(i, j) >= straight);
                prop_assert_eq!(get(i, j), get(j, i));
                prop_assert!((row[j].unwrap().metres() - get(i, j)).abs() < 1e-9);
                let leg = Line::new(points[i].at(), points[j].at());
                if outline.relate(&leg).is_covers() && points[i].at() != points[j].at() {
                    prop_assert!((get(i, j) - straight).abs() <= 1e-12 * straight);
                }
                for k in 0..points.len() {
                    prop_assert!(get(i, j) <= get(i, k) + get(k, j) + 1e-9);
                }
                if i < j {
                    let way = water.path(&points[i], &points[j]).unwrap();
                    prop_assert!((Euclidean.length(&way) - get(i, j)).abs() < 1e-9);
                    for leg in way.lines() {
                        prop_assert!(leg_is_wet(&outline, leg.start, leg.end), "{:?}", leg);
                    }
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 10, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn brute_force_finds_the_same(outline in any_lake(), spots in any_points()) {
        let water = WaterDistance::new(&outline, &[]).unwrap();
        let wet: Vec<Coord<f64>> = spots
            .iter()
            .map(|&(x, y)| at(f64::from(x), f64::from(y)))
            .filter(|c| outline.intersects(c))
            .collect();
        let points: Vec<_> = wet.iter().map(|&c| water.place(c)).collect();
        prop_assert!(points.iter().all(|point| point.moved().metres() == 0.0));
        let matrix = water.matrix(&points);
        let expected = by_brute_force(&outline, &wet);
        for i in 0..wet.len() {
            for j in 0..wet.len() {
                let found = matrix.get(i, j).map_or(f64::INFINITY, units::Metres::metres);
                prop_assert!(
                    found == expected[i][j] || (found - expected[i][j]).abs() < 1e-9,
                    "{:?} to {:?}: {} against {}", wet[i], wet[j], found, expected[i][j]
                );
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    /// Shallows along the whole shore, which share its line to the last digit, and hazards laid over one another.
    #[test]
    fn shallows_and_hazards_of_any_kind_leave_water_without_doubt(
        outline in any_lake(),
        share in 0.7..0.98f64,
        hazards in prop::collection::vec((-400..400i32, -400..400i32, 5..90i32), 0..12),
        spots in any_points(),
    ) {
        let shore = outline.0[0].exterior().clone();
        let contour: Vec<(f64, f64)> = shore.coords().map(|c| (share * c.x, share * c.y)).collect();
        let mut keep_out: Vec<KeepOut> = hazards
            .iter()
            .map(|&(x, y, r)| {
                KeepOut::about(at(f64::from(x), f64::from(y)), units::Metres::new(f64::from(r)))
            })
            .collect();
        let reason = KeepOutReason::TooShallow;
        keep_out.push(KeepOut { reason, area: lake(shore, vec![ring(&contour)]) });
        let water = match WaterDistance::new(&outline, &keep_out) {
            Ok(water) => water,
            Err(error) => {
                prop_assert!(matches!(error, RouteError::DraftDeeperThanWater { .. }), "{error}");
                return Ok(());
            }
        };
        let points: Vec<_> = spots
            .iter()
            .map(|&(x, y)| water.place(at(f64::from(x), f64::from(y))))
            .collect();
        for a in &points {
            prop_assert!(outline.intersects(&a.at()), "{:?}", a);
            for b in &points {
                let Some(way) = water.path(a, b) else { continue };
                for &(x, y, r) in &hazards {
                    let centre = Point::new(f64::from(x), f64::from(y));
                    prop_assert!(Euclidean.distance(&centre, &way) > f64::from(r) - 1e-3);
                }
            }
        }
    }
}

#[test]
fn no_way_leaves_the_water_on_any_real_lake_with_islands() {
    let Some(lakes) = lakes_with_islands() else { return };
    let (mut n_lakes, mut n_legs) = (0, 0);
    for real in &lakes {
        let water = WaterDistance::new(&real.water, &[]).unwrap();
        let spots = points_in(&real.water, 18);
        let points: Vec<_> = spots.iter().map(|&c| water.place(c)).collect();
        let matrix = water.matrix(&points);
        for i in 0..points.len() {
            for j in i + 1..points.len() {
                let Some(distance) = matrix.get(i, j) else { continue };
                let way = water.path(&points[i], &points[j]).unwrap();
                let straight = Euclidean.distance(&Point(spots[i]), &Point(spots[j]));
                assert!(distance.metres() >= straight);
                assert!(
                    (Euclidean.length(&way) - distance.metres()).abs() < 1e-6,
                    "lake {}",
                    real.id
                );
                // every pair on small lakes, a part of them on the two largest
                if real.n_islands <= 10 || (i + j) % 5 == 0 {
                    for leg in way.lines() {
                        n_legs += 1;
                        assert!(
                            leg_is_wet(&real.water, leg.start, leg.end),
                            "lake {}: {leg:?}",
                            real.id
                        );
                    }
                }
            }
        }
        n_lakes += 1;
    }
    println!("{n_lakes} lakes with islands, {n_legs} legs in the water");
    assert!(n_lakes > 20 && n_legs > 4_000);
}

/// Aim: 300 sites on an outline with 68 islands under 3 s in a release build. The real one (Winnipesaukee, 185 km²,
/// 68 islands, 5,048 vertices, shoreline development 8.06) where the open data hold it, else one as broken.
#[test]
fn three_hundred_sites_on_sixty_eight_islands() {
    let real = lakes_with_islands()
        .and_then(|lakes| lakes.into_iter().find(|lake| lake.n_islands == 68))
        .map(|lake| lake.water);
    println!("outline with 68 islands: {}", if real.is_some() { "real" } else { "made" });
    let outline = real.unwrap_or_else(sixty_eight_islands);
    let spots = points_in(&outline, 300);
    let start = Instant::now();
    let water = WaterDistance::new(&outline, &[]).unwrap();
    let ready = start.elapsed();
    let points: Vec<_> = spots.iter().map(|&c| water.place(c)).collect();
    let matrix = water.matrix(&points);
    let done = start.elapsed();
    let (capes, legs) = water.size();
    println!(
        "68 islands: {capes} capes, {legs} legs; ready after {:.3} s, 300 × 300 distances after {:.3} s",
        ready.as_secs_f64(),
        done.as_secs_f64()
    );
    assert!(matrix.cut_off(0).is_empty());
    if !cfg!(debug_assertions) {
        assert!(done.as_secs_f64() < 3.0, "{done:?}");
    }
    // straight lines would be too short, and no way is absurd
    let pairs = (0..300).flat_map(|i| (0..i).map(move |j| (i, j)));
    let (by_water, straight) = pairs.fold((0.0, 0.0), |(w, s), (i, j)| {
        let line = (spots[i].x - spots[j].x).hypot(spots[i].y - spots[j].y);
        (w + matrix.get(i, j).unwrap().metres(), s + line)
    });
    println!("longer than straight lines by {:.1} %", 100.0 * (by_water / straight - 1.0));
    assert!(by_water / straight > 1.005 && by_water / straight < 3.0, "{}", by_water / straight);
}

#[test]
fn the_lake_with_shallows_taken_out_still_joins_up() {
    // hazards laid over a real lake: the boolean difference must give rings the mesh accepts
    let Some(lakes) = lakes_with_islands() else { return };
    let real = lakes.iter().find(|lake| lake.n_islands == 4).unwrap();
    let spots = points_in(&real.water, 40);
    let hazards: Vec<KeepOut> =
        spots[..12].iter().map(|&c| KeepOut::about(c, units::Metres::new(30.0))).collect();
    let open = WaterDistance::new(&real.water, &[]).unwrap();
    let water = WaterDistance::new(&real.water, &hazards).unwrap();
    let away: Vec<_> =
        spots[12..].iter().map(|&c| water.place(c)).filter(|p| p.lies() == Lies::InWater).collect();
    assert!(away.len() > 15);
    let kept = water.place(spots[3]);
    assert_eq!(kept.lies(), Lies::KeptOut(KeepOutReason::Hazard));
    let (with, without) = (
        water.matrix(&away),
        open.matrix(&away.iter().map(|p| open.place(p.at())).collect::<Vec<_>>()),
    );
    let mut longer = 0;
    for i in 0..away.len() {
        for j in 0..i {
            let (a, b) = (with.get(i, j).unwrap().metres(), without.get(i, j).unwrap().metres());
            assert!(a > b - 1e-3);
            longer += usize::from(a > b + 1.0);
            let way = water.path(&away[i], &away[j]).unwrap();
            for hazard in &spots[..12] {
                assert!(
                    Euclidean.distance(&Point(*hazard), &way) > 30.0 - 1e-4,
                    "through a hazard"
                );
            }
        }
    }
    assert!(longer > 0);
}

#[test]
fn the_open_data_helper_answers_for_a_file_that_is_not_there() {
    assert!(open_data("no-such-folder/none.csv").is_none());
}
