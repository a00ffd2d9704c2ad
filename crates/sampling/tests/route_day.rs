//! Boats, hours and what does not fit.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::float_cmp,
    reason = "tests stop at the first surprise, print what they measured and compare exact values"
)]

mod route_support;

use geo::{Euclidean, Length};
use jiff::civil::{DateTime, date};
use proptest::prelude::*;
use route_support::{at, lake, lakes_with_islands, leg_is_wet, points_in, square};
use sampling::route::{
    Break, Budget, DayPlan, DayRules, Ending, Finish, KeepOut, KeepOutReason, Matrix, RouteError,
    RouteRequest, TourRules, WaterDistance, fewest_days, plan_day, plan_days, plan_route, ranks,
    sentence,
};
use units::{Metres, MetresPerSecond};

const MORNING: DateTime = date(2025, 8, 2).at(8, 30, 0, 0);
const EVENING: DateTime = date(2025, 8, 2).at(18, 0, 0, 0);

fn plane(points: &[(f64, f64)]) -> Matrix {
    Matrix::from_fn(points.len(), |i, j| {
        Some(Metres::new((points[i].0 - points[j].0).hypot(points[i].1 - points[j].1)))
    })
}

fn rules(n: usize, boats: usize) -> DayRules {
    DayRules {
        tour: TourRules { seed: 3, ..TourRules::default() },
        boats,
        speed: MetresPerSecond::new(2.0),
        site_minutes: vec![5.0; n],
        priority: Vec::new(),
        breaks: Vec::new(),
        start: MORNING,
        end: EVENING,
    }
}

/// A launch in the middle of a grid of sites 100 m apart.
fn grid(side: i32) -> Vec<(f64, f64)> {
    let middle = 50.0 * f64::from(side - 1);
    let sites =
        (0..side * side).map(|k| (100.0 * f64::from(k % side), 100.0 * f64::from(k / side)));
    std::iter::once((middle + 7.0, middle - 11.0)).chain(sites).collect()
}

/// What any plan has to obey: every site once or over, minutes that add up, hours that follow.
fn is_sound(plan: &DayPlan, matrix: &Matrix, rules: &DayRules) {
    let n = matrix.len();
    let mut seen: Vec<usize> =
        plan.boats.iter().flat_map(|boat| boat.order.clone()).chain(plan.over.clone()).collect();
    seen.sort_unstable();
    let ends = [
        Some(rules.tour.start),
        match rules.tour.finish {
            Finish::At(p) => Some(p),
            _ => None,
        },
    ];
    let sites: Vec<usize> = (0..n).filter(|p| !ends.contains(&Some(*p))).collect();
    assert_eq!(seen, sites);
    assert_eq!(plan.fits, plan.over.is_empty());
    for boat in &plan.boats {
        if boat.order.is_empty() {
            assert_eq!((boat.minutes, boat.finish), (0.0, rules.start));
            continue;
        }
        let mut way = vec![rules.tour.start];
        way.extend(&boat.order);
        match rules.tour.finish {
            Finish::AtStart => way.push(rules.tour.start),
            Finish::At(p) => way.push(p),
            Finish::Anywhere => {}
        }
        let metres = matrix.length_of(&way).unwrap().metres();
        assert!((metres - boat.length.metres()).abs() < 1e-6);
        let stay: f64 = boat.order.iter().map(|&site| rules.site_minutes[site]).sum();
        let work = metres / rules.speed.metres_per_second() / 60.0 + stay;
        let rest: f64 = {
            let mut clock = work;
            let mut total = 0.0;
            for pause in &rules.breaks {
                if clock > pause.after {
                    clock += pause.minutes;
                    total += pause.minutes;
                }
            }
            total
        };
        assert!((boat.minutes - work - rest).abs() < 1e-6);
        let out = boat.finish.duration_since(rules.start).as_secs_f64() / 60.0;
        assert!((out - boat.minutes).abs() < 0.001);
        assert!(boat.finish <= rules.end, "{} is after the day's end", boat.finish);
        assert_eq!(boat.stops.len(), boat.order.len());
        let mut clock = rules.start;
        for (stop, site) in boat.stops.iter().zip(&boat.order) {
            assert_eq!(stop.point, *site);
            assert!(clock <= stop.arrive && stop.arrive <= stop.leave && stop.leave <= boat.finish);
            clock = stop.leave;
        }
    }
}

#[test]
fn one_boat_along_a_line_by_hand() {
    // 600 m out and 600 m back at 2 m/s are 10 minutes, three sites of 5 minutes are 15
    let matrix = plane(&[(0.0, 0.0), (200.0, 0.0), (600.0, 0.0), (400.0, 0.0)]);
    let plan = plan_day(&matrix, &rules(4, 1), Budget::Kicks(100)).unwrap();
    is_sound(&plan, &matrix, &rules(4, 1));
    let boat = &plan.boats[0];
    assert!((boat.minutes - 25.0).abs() < 1e-9 && (boat.length.metres() - 1_200.0).abs() < 1e-9);
    assert_eq!(boat.finish, date(2025, 8, 2).at(8, 55, 0, 0));
    assert_eq!(sentence(std::slice::from_ref(&plan)), "one boat, one day, home by 8:55 am");
}

#[test]
fn two_boats_share_two_arms_of_a_lake() {
    // two clusters on opposite sides: each boat takes one, and neither waits for the other
    let mut points = vec![(0.0, 0.0)];
    for k in 0..10 {
        points.push((1_000.0 + 10.0 * f64::from(k), 0.0));
        points.push((-1_000.0 - 10.0 * f64::from(k), 0.0));
    }
    let matrix = plane(&points);
    let plan = plan_day(&matrix, &rules(21, 2), Budget::Kicks(2_000)).unwrap();
    is_sound(&plan, &matrix, &rules(21, 2));
    for boat in &plan.boats {
        assert_eq!(boat.order.len(), 10);
        // 1,090 m out and back at 2 m/s, and ten sites
        assert!((boat.minutes - (2_180.0 / 120.0 + 50.0)).abs() < 1e-6, "{}", boat.minutes);
    }
    assert_eq!(sentence(std::slice::from_ref(&plan)), "two boats, one day, home by 9:40 am");
}

#[test]
fn shares_are_balanced_and_near_what_is_possible() {
    for (side, boats) in [(12, 2), (12, 3), (14, 5)] {
        let points = grid(side);
        let (n, matrix) = (points.len(), plane(&points));
        let mut rules = rules(n, boats);
        rules.end = date(2025, 8, 3).at(8, 0, 0, 0);
        let one = plan_day(&matrix, &DayRules { boats: 1, ..rules.clone() }, Budget::Kicks(4_000))
            .unwrap();
        let plan = plan_day(&matrix, &rules, Budget::Kicks(4_000)).unwrap();
        is_sound(&plan, &matrix, &rules);
        let minutes: Vec<f64> = plan.boats.iter().map(|boat| boat.minutes).collect();
        let longest = minutes.iter().copied().fold(0.0, f64::max);
        // no share can beat an equal part of the shortest single tour
        let least = one.boats[0].minutes / boats as f64;
        println!("{} sites, {boats} boats: {longest:.1} minutes, bound {least:.1}", n - 1);
        assert!(longest >= least - 1e-9 || one.boats[0].minutes > minutes.iter().sum::<f64>());
        assert!(longest <= 1.05 * least, "{longest} against {least}");
        let shortest = minutes.iter().copied().fold(f64::INFINITY, f64::min);
        assert!(longest - shortest <= 6.0, "{minutes:?}");
    }
}

#[test]
fn breaks_and_their_hours() {
    let matrix = plane(&grid(5));
    let mut rules = rules(26, 1);
    let without = plan_day(&matrix, &rules, Budget::Kicks(500)).unwrap();
    rules.breaks =
        vec![Break { after: 60.0, minutes: 20.0 }, Break { after: 600.0, minutes: 45.0 }];
    let with = plan_day(&matrix, &rules, Budget::Kicks(500)).unwrap();
    is_sound(&with, &matrix, &rules);
    // the first is taken, for the second the boat is home too early
    assert!((with.boats[0].minutes - without.boats[0].minutes - 20.0).abs() < 1e-6);
}

#[test]
fn a_day_too_short_says_how_many_sites_are_over() {
    let points = grid(10);
    let matrix = plane(&points);
    let mut rules = rules(101, 1);
    rules.end = date(2025, 8, 2).at(12, 30, 0, 0);
    rules.priority = (0..101).map(|site| site >= 91).collect();
    let plan = plan_day(&matrix, &rules, Budget::Kicks(3_000)).unwrap();
    is_sound(&plan, &matrix, &rules);
    assert!(!plan.fits);
    assert_eq!(
        sentence(std::slice::from_ref(&plan)),
        format!("does not fit: {} sites over", plan.over.len())
    );
    // priority sites are kept
    assert!(plan.over.iter().all(|&site| site < 91), "{:?}", plan.over);
    // 240 minutes hold at most 240 / 5 sites, and at least those of the nearest with 100 m between each: 240 / (5 + 100/120)
    let done = 100 - plan.over.len();
    println!("{done} of 100 sites in four hours");
    assert!((38..48).contains(&done), "{done}");
    // none of those over would fit as the plan stands
    let left = 240.0 - plan.boats[0].minutes;
    let way: Vec<usize> =
        std::iter::once(0).chain(plan.boats[0].order.clone()).chain([0]).collect();
    for &site in &plan.over {
        let detour = way
            .windows(2)
            .map(|leg| {
                let metres = |a, b| matrix.get(a, b).unwrap().metres();
                metres(leg[0], site) + metres(site, leg[1]) - metres(leg[0], leg[1])
            })
            .fold(f64::INFINITY, f64::min);
        assert!(detour / 120.0 + 5.0 > left, "{site} would fit");
    }
}

#[test]
fn more_days_until_it_fits() {
    let points = grid(10);
    let matrix = plane(&points);
    let mut rules = rules(101, 1);
    rules.end = date(2025, 8, 2).at(12, 30, 0, 0);
    let plan = fewest_days(&matrix, &rules, 6, 1_500).unwrap();
    // 100 sites of 5 minutes and 10 km at 2 m/s are 583 minutes: three days of 240
    assert_eq!(plan.len(), 3);
    assert!(plan.iter().all(|day| day.fits));
    let mut seen: Vec<usize> = plan.iter().flat_map(|day| day.boats[0].order.clone()).collect();
    seen.sort_unstable();
    assert_eq!(seen, (1..101).collect::<Vec<_>>());
    for (day, plan) in plan.iter().enumerate() {
        let stop = plan.boats[0].stops[0];
        assert_eq!(stop.arrive.date(), date(2025, 8, 2 + day as i8));
        assert!(plan.boats[0].minutes <= 240.0);
    }
    let two = plan_days(&matrix, &rules, 2, Budget::Kicks(1_500)).unwrap();
    assert!(two[0].fits && !two[1].fits);
}

#[test]
fn each_boat_goes_from_clean_to_infested() {
    let points = grid(9);
    let matrix = plane(&points);
    let mut rules = rules(82, 3);
    // infested from the west
    let levels: Vec<u8> =
        points.iter().map(|p| if p.0 < 250.0 { 2 } else { u8::from(p.0 < 500.0) }).collect();
    rules.tour.ranks = ranks(&levels, &[false; 82]).unwrap();
    let plan = plan_day(&matrix, &rules, Budget::Kicks(2_000)).unwrap();
    is_sound(&plan, &matrix, &rules);
    for boat in &plan.boats {
        assert!(
            boat.order.windows(2).all(|pair| levels[pair[0]] <= levels[pair[1]]),
            "{:?}",
            boat.order
        );
    }
}

#[test]
fn more_boats_than_sites_and_other_endings() {
    let matrix = plane(&[(0.0, 0.0), (100.0, 0.0), (0.0, 100.0), (300.0, 0.0)]);
    let plan = plan_day(&matrix, &rules(4, 5), Budget::Kicks(200)).unwrap();
    is_sound(&plan, &matrix, &rules(4, 5));
    assert_eq!(plan.boats.iter().filter(|boat| boat.order.is_empty()).count(), 2);
    let mut to = rules(4, 1);
    to.tour.finish = Finish::At(3);
    let plan = plan_day(&matrix, &to, Budget::Kicks(200)).unwrap();
    is_sound(&plan, &matrix, &to);
    assert_eq!(plan.boats[0].order, vec![2, 1]);
    let mut out = rules(4, 2);
    out.tour.finish = Finish::Anywhere;
    let plan = plan_day(&matrix, &out, Budget::Kicks(200)).unwrap();
    is_sound(&plan, &matrix, &out);
}

#[test]
fn impossible_days_are_said() {
    let matrix = plane(&[(0.0, 0.0), (100.0, 0.0)]);
    let ask = |change: &dyn Fn(&mut DayRules)| {
        let mut rules = rules(2, 1);
        change(&mut rules);
        plan_day(&matrix, &rules, Budget::Kicks(1)).unwrap_err()
    };
    assert_eq!(ask(&|r| r.speed = MetresPerSecond::new(0.0)), RouteError::Speed { found: 0.0 });
    assert_eq!(ask(&|r| r.boats = 0), RouteError::NoBoat);
    assert!(matches!(ask(&|r| r.end = MORNING), RouteError::DayTooShort { .. }));
    assert!(matches!(ask(&|r| r.site_minutes[1] = -1.0), RouteError::Minutes { .. }));
    assert!(matches!(ask(&|r| r.site_minutes[1] = f64::NAN), RouteError::Minutes { .. }));
    assert!(matches!(
        ask(&|r| r.breaks = vec![Break { after: 5.0, minutes: -3.0 }]),
        RouteError::Minutes { .. }
    ));
    assert_eq!(
        ask(&|r| r.site_minutes = vec![5.0; 7]),
        RouteError::WrongLength { expected: 2, found: 7 }
    );
    let messages = [
        ask(&|r| r.speed = MetresPerSecond::new(0.0)).to_string(),
        ask(&|r| r.boats = 0).to_string(),
        ask(&|r| r.end = MORNING).to_string(),
    ];
    assert!(messages.iter().all(|message| message.contains("\nhint: ")));
}

fn request(sites: Vec<geo_types::Coord<f64>>, launch: (f64, f64)) -> RouteRequest {
    RouteRequest {
        launch: at(launch.0, launch.1),
        ending: Ending::AtLaunch,
        site_minutes: vec![4.0; sites.len()],
        sites,
        ranks: Vec::new(),
        priority: Vec::new(),
        first: None,
        last: None,
        boats: 1,
        days: 1,
        speed: MetresPerSecond::from_miles_per_hour(5.0),
        breaks: vec![Break { after: 180.0, minutes: 30.0 }],
        start: MORNING,
        end: EVENING,
        reach: Metres::new(50.0),
        seed: 11,
    }
}

#[test]
fn a_route_by_water_names_what_is_cut_off_and_what_is_worked_from_beside() {
    let open = lake(square(0.0, 0.0, 1_000.0, 1_000.0), vec![square(400.0, 300.0, 200.0, 400.0)]);
    let bar = KeepOut {
        reason: KeepOutReason::TooShallow,
        area: lake(square(-10.0, 900.0, 1_020.0, 20.0), vec![]),
    };
    let shoal = KeepOut {
        reason: KeepOutReason::TooShallow,
        area: lake(square(100.0, 100.0, 40.0, 40.0), vec![]),
    };
    let water = WaterDistance::new(&open, &[bar, shoal]).unwrap();
    let sites = vec![
        at(200.0, 500.0),
        at(800.0, 500.0),
        at(500.0, 950.0), // behind the bar
        at(115.0, 120.0), // on the shoal, 15 m from its edge
        at(500.0, 500.0), // on the island, 100 m from the water
        at(700.0, 200.0),
    ];
    let mut asked = request(sites, (500.0, -20.0));
    let plan = plan_route(&water, &asked, Budget::Kicks(300)).unwrap();
    assert_eq!(plan.cut_off, vec![2, 4]);
    assert_eq!(plan.from_beside, vec![3]);
    assert!((plan.stops[3].moved().metres() - 15.0).abs() < 0.01);
    assert!(!plan.fits() && plan.days[0].fits);
    assert!(plan.sentence().ends_with("; 2 sites cannot be reached"), "{}", plan.sentence());
    let mut order = plan.days[0].boats[0].order.clone();
    let way = &plan.ways[0][0];
    assert!((Euclidean.length(way) - plan.days[0].boats[0].length.metres()).abs() < 1e-6);
    assert_eq!((way.0[0], way.0[way.0.len() - 1]), (plan.launch.at(), plan.launch.at()));
    order.sort_unstable();
    assert_eq!(order, vec![0, 1, 3, 5]);

    asked.first = Some(1);
    asked.last = Some(5);
    asked.ending = Ending::At(at(1_010.0, 100.0));
    let plan = plan_route(&water, &asked, Budget::Kicks(300)).unwrap();
    let order = &plan.days[0].boats[0].order;
    assert_eq!((order[0], order[order.len() - 1]), (1, 5));
    assert_eq!(plan.ways[0][0].0.last(), Some(&plan.landing.as_ref().unwrap().at()));

    asked.launch = at(500.0, -400.0);
    let error = plan_route(&water, &asked, Budget::Kicks(1)).unwrap_err();
    assert!(matches!(error, RouteError::LaunchOnLand { .. }));
    assert!(error.to_string().contains("`400` m"), "{error}");
    asked.launch = at(500.0, 960.0);
    asked.ending = Ending::AtLaunch;
    (asked.first, asked.last) = (None, None);
    asked.sites.remove(2);
    asked.site_minutes.pop();
    let error = plan_route(&water, &asked, Budget::Kicks(1)).unwrap_err();
    assert!(matches!(error, RouteError::CutOff { n_cut_off: 5, .. }));
    asked.sites.clear();
    asked.site_minutes.clear();
    assert_eq!(plan_route(&water, &asked, Budget::Kicks(1)).unwrap_err(), RouteError::NoSites);
}

#[test]
fn planned_ways_stay_in_the_water_of_real_lakes() {
    let Some(lakes) = lakes_with_islands() else { return };
    let mut n_legs = 0;
    for real in lakes.iter().filter(|lake| lake.n_islands > 1) {
        let water = WaterDistance::new(&real.water, &[]).unwrap();
        let mut spots = points_in(&real.water, 41);
        let launch = spots.pop().unwrap();
        let mut asked = request(spots, (launch.x, launch.y));
        asked.boats = 2;
        let plan = plan_route(&water, &asked, Budget::Kicks(200)).unwrap();
        assert_eq!(plan_route(&water, &asked, Budget::Kicks(200)).unwrap(), plan, "same seed");
        for way in plan.ways.iter().flatten() {
            for leg in way.lines() {
                assert!(leg_is_wet(&real.water, leg.start, leg.end), "lake {}", real.id);
                n_legs += 1;
            }
        }
    }
    println!("{n_legs} legs in the water");
    assert!(n_legs > 300);
}

/// A plan for three boats is ready in seconds, and one told to stop at once still is a plan.
#[test]
fn a_large_plan_keeps_to_its_budget() {
    let points = grid(17);
    let matrix = plane(&points);
    let rules = rules(290, 3);
    let start = std::time::Instant::now();
    let plan = plan_day(&matrix, &rules, Budget::Kicks(3_000)).unwrap();
    println!(
        "289 sites, 3 boats: {:.2} s, {}",
        start.elapsed().as_secs_f64(),
        sentence(std::slice::from_ref(&plan))
    );
    is_sound(&plan, &matrix, &rules);
    let start = std::time::Instant::now();
    let limit = std::time::Duration::from_millis(300);
    let mut time_left = || start.elapsed() < limit;
    let hasty = plan_day(&matrix, &rules, Budget::While(&mut time_left)).unwrap();
    is_sound(&hasty, &matrix, &rules);
    if !cfg!(debug_assertions) {
        assert!(start.elapsed().as_secs_f64() < 1.0, "{:?}", start.elapsed());
    }
    let home = |plan: &DayPlan| plan.home().unwrap().duration_since(MORNING).as_secs_f64();
    assert!(home(&hasty) <= 1.15 * home(&plan));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_plan_is_sound(
        points in prop::collection::vec((0.0..3_000.0f64, 0.0..3_000.0f64), 3..40),
        boats in 1..5usize,
        minutes in 0.0..15.0f64,
        hours in 1..9i64,
        levels in prop::collection::vec(0..3u32, 40),
        kind in 0..3usize,
    ) {
        let matrix = plane(&points);
        let n = points.len();
        let mut rules = rules(n, boats);
        rules.site_minutes = vec![minutes; n];
        rules.tour.ranks = levels[..n].to_vec();
        rules.tour.finish = [Finish::AtStart, Finish::At(1), Finish::Anywhere][kind];
        rules.end = MORNING.saturating_add(jiff::SignedDuration::from_hours(hours));
        rules.breaks = vec![Break { after: 100.0, minutes: 15.0 }];
        let plan = plan_day(&matrix, &rules, Budget::Kicks(300)).unwrap();
        is_sound(&plan, &matrix, &rules);
        for boat in &plan.boats {
            prop_assert!(boat.order.windows(2).all(|p| levels[p[0]] <= levels[p[1]]));
        }
    }
}
