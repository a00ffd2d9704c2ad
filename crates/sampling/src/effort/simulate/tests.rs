use super::super::{
    chance_by_throws, chance_to_find, power_for_change, sites_for_change, sites_for_margin,
};
use super::trial::mcnemar_mid_p;
use super::*;
use crate::frame::Frame;
use geo_types::{MultiPolygon, Rect, coord};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use units::Metres;

fn frame() -> Frame<'static> {
    let water: MultiPolygon<f64> =
        Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 800.0, y: 500.0 }).to_polygon().into();
    Frame::new(water).unwrap()
}

fn even(frequency: f64, detection: f64) -> VirtualLake {
    VirtualLake::new(&frame(), 4_000).unwrap().with_even("invader", frequency, detection).unwrap()
}

fn plain(aim: Aim, sites: Vec<usize>, runs: usize) -> Simulation {
    Simulation { runs, design: Design::SimpleRandom, ..Simulation::new(aim, sites, 42) }
}

/// A share of runs and the chance it estimates, 4.5 Monte Carlo standard errors apart at most.
fn agrees(effort: &SimulatedEffort, want: f64, runs: usize) {
    let error = (want * (1.0 - want) / runs as f64).sqrt();
    assert!(
        (effort.chance - want).abs() < 4.5 * error,
        "{} sites: simulated {}, formula {want} ± {error}",
        effort.sites,
        effort.chance
    );
}

#[test]
fn the_simulated_chance_to_find_agrees_with_the_formula() {
    let runs = 20_000;
    for (throws, detection) in [(1, 0.38), (2, 0.63), (3, 0.5)] {
        let simulation =
            Simulation { throws, ..plain(Aim::Find { species: 0 }, vec![10, 40, 90], runs) };
        let result = simulate(&even(0.03, detection), &simulation, Watch::default()).unwrap();
        let p = 0.03 * chance_by_throws(detection, throws).unwrap();
        for effort in &result.efforts {
            agrees(effort, chance_to_find(p, effort.sites).unwrap(), runs);
        }
    }
}

/// The number by formula gives the power by formula, judged by the same test on new sites (Fleiss 1981). The normal
/// approximation itself is off by about a point here.
#[test]
fn the_simulated_power_agrees_with_the_formula() {
    let runs = 10_000;
    let n = sites_for_change(0.5, 0.3, 0.95, 0.8).unwrap().ceil() as usize;
    let aim = Aim::Change { species: 0, ratio: 0.6, same_sites: false, confidence: 0.95 };
    let simulation = Simulation { throws: 1, ..plain(aim, vec![n], runs) };
    let result = simulate(&even(0.5, 1.0), &simulation, Watch::default()).unwrap();
    let formula = power_for_change(0.5, 0.3, 0.95, n as f64).unwrap();
    assert!((result.efforts[0].chance - formula).abs() < 0.02, "{}", result.efforts[0].chance);
    // gains as well
    let up = Aim::Change { species: 0, ratio: 5.0 / 3.0, same_sites: false, confidence: 0.95 };
    let simulation = Simulation { throws: 1, ..plain(up, vec![n], runs) };
    let result = simulate(&even(0.3, 1.0), &simulation, Watch::default()).unwrap();
    assert!((result.efforts[0].chance - formula).abs() < 0.02, "{}", result.efforts[0].chance);
}

#[test]
fn going_back_to_the_same_sites_shows_more() {
    let run = |same_sites| {
        let aim = Aim::Change { species: 0, ratio: 0.7, same_sites, confidence: 0.95 };
        let result =
            simulate(&even(0.5, 0.9), &plain(aim, vec![80], 4_000), Watch::default()).unwrap();
        result.efforts[0].chance
    };
    assert!(run(true) > run(false) + 0.1, "{} against {}", run(true), run(false));
}

/// Share of surveys whose estimate lies within the margin, against the confidence the formula promises (Cochran 1977). Counts are
/// whole, so the share lies within a few points of it.
#[test]
fn the_simulated_margin_agrees_with_the_formula() {
    let n = sites_for_margin(0.5, 0.1, 0.95, None).unwrap();
    let aim = Aim::Estimate { species: 0, margin: 0.1 };
    let simulation = Simulation { throws: 1, ..plain(aim, vec![n], 10_000) };
    let result = simulate(&even(0.5, 1.0), &simulation, Watch::default()).unwrap();
    let effort = &result.efforts[0];
    assert!((effort.chance - 0.95).abs() < 0.02, "{}", effort.chance);
    let spread = effort.estimate.unwrap();
    let error = (0.25 / n as f64).sqrt();
    assert!((spread.mean - 0.5).abs() < 4.5 * error / 100.0, "{spread:?}");
    assert!((spread.deviation / error - 1.0).abs() < 0.05, "{spread:?}");
    assert!((spread.low - (0.5 - 1.96 * error)).abs() < 0.02);
}

/// Random sites on a round bed: 1 − (1 − a/A)^n, the bed kept off the shore by its size only.
#[test]
fn a_bed_is_found_as_often_as_its_share_of_the_water_says() {
    let runs = 20_000;
    // 0.4 % of the water: radius 22.6 m on a side of 500 and 800 m; near the shore part of it is lost
    let area = SquareMetres::new(1_600.0);
    let aim = Aim::Bed { area, detection: 1.0 };
    let simulation = Simulation { throws: 1, ..plain(aim, vec![50, 150], runs) };
    let result = simulate(&even(0.1, 1.0), &simulation, Watch::default()).unwrap();
    let r = (1_600.0 / std::f64::consts::PI).sqrt();
    // mean share of the bed in the water: each side loses 4r³/3 ÷ (its own length …) per metre
    let lost = (4.0 / 3.0) * r.powi(3) / 2.0 / (std::f64::consts::PI * r * r);
    let in_water = (1.0 - 2.0 * lost / 800.0) * (1.0 - 2.0 * lost / 500.0);
    for effort in &result.efforts {
        let want = chance_to_find(in_water * 1_600.0 / 400_000.0, effort.sites).unwrap();
        assert!((effort.chance - want).abs() < 0.02, "{} for {want}", effort.chance);
    }
    // a grid of the same number finds more
    let aim = Aim::Bed { area: SquareMetres::new(4_000.0), detection: 1.0 };
    let random = plain(aim, vec![90], 4_000);
    let grid = Simulation { design: Design::Grid, ..random.clone() };
    let chance =
        |s: &Simulation| simulate(&even(0.1, 1.0), s, Watch::default()).unwrap().efforts[0].chance;
    assert!(chance(&grid) > chance(&random) + 0.1);
}

#[test]
fn spread_out_sites_estimate_a_patchy_species_more_precisely() {
    let slope = |x: f64, _: f64| Some(Metres::new(x / 100.0));
    let frame = frame().with_depth(&slope);
    let habitat = Habitat {
        name: "shallow".to_owned(),
        most: 1.0,
        best: Metres::new(0.0),
        spread: Metres::new(1.5),
        detection: 1.0,
    };
    let lake = VirtualLake::new(&frame, 3_000).unwrap().with_habitat(&habitat).unwrap();
    let aim = Aim::Estimate { species: 0, margin: 0.05 };
    let simulation = Simulation::new(aim, vec![60], 5);
    let designs = [Design::SimpleRandom, Design::LocalPivotal, Design::Grid];
    let all = compare_designs(&lake, &simulation, &designs, Watch::default()).unwrap();
    let [random, balanced, grid] = [0, 1, 2].map(|k| all[k].efforts[0].clone());
    let deviation = |effort: &SimulatedEffort| effort.estimate.unwrap().deviation;
    assert!(deviation(&balanced) < 0.85 * deviation(&random));
    assert!(deviation(&grid) < 0.9 * deviation(&random));
    assert!(balanced.balance < 0.5 * random.balance);
    assert!(balanced.chance > random.chance);
}

#[test]
fn the_last_surveys_pattern_comes_back() {
    // found in the west only, by two throws of 0.5 each: three of four
    let sites: Vec<(f64, f64, bool)> = (0..40)
        .flat_map(|column| (0..25).map(move |row| (f64::from(column), f64::from(row))))
        .enumerate()
        .map(|(k, (column, row))| {
            (column * 20.0 + 10.0, row * 20.0 + 10.0, column < 20.0 && k % 4 != 0)
        })
        .collect();
    let pattern = Pattern { name: "west".to_owned(), sites, throws: 2, detection: 0.5 };
    let lake = VirtualLake::new(&frame(), 2_000).unwrap().with_pattern(&pattern).unwrap();
    let species = &lake.species()[0];
    // ¾ of the west found over 0.75 seen: it grows all over the west
    assert!((species.frequency() - 0.5).abs() < 0.03, "{}", species.frequency());
    for (place, chance) in lake.places().iter().zip(&species.chance) {
        if place.0 > 500.0 {
            assert!(*chance < 1e-9);
        } else if place.0 < 300.0 {
            assert!(*chance > 0.6, "{chance} at {place:?}");
        }
    }
}

#[test]
fn richness_counts_the_species_found() {
    let mut lake = VirtualLake::new(&frame(), 2_000).unwrap();
    for (k, frequency) in [0.5, 0.3, 0.1, 0.05, 0.02, 0.0].into_iter().enumerate() {
        lake = lake.with_even(&format!("species {k}"), frequency, 0.7).unwrap();
    }
    let aim = Aim::Richness { share: 1.0 };
    let result = simulate(&lake, &plain(aim, vec![20, 200], 8_000), Watch::default()).unwrap();
    let seen = chance_by_throws(0.7, 2).unwrap();
    for effort in &result.efforts {
        let each =
            [0.5, 0.3, 0.1, 0.05, 0.02].map(|f| chance_to_find(f * seen, effort.sites).unwrap());
        agrees(effort, each.iter().product(), 8_000);
        let spread = effort.estimate.unwrap();
        // the species of no chance is none of the lake's
        assert!((spread.truth - 5.0).abs() < 1e-12);
        assert!((spread.mean - each.iter().sum::<f64>()).abs() < 0.05, "{spread:?}");
    }
    assert!(result.efforts[1].chance > result.efforts[0].chance);
}

#[test]
fn the_result_is_the_same_whatever_the_number_of_threads() {
    let aim = Aim::Estimate { species: 0, margin: 0.08 };
    let one = Simulation { runs: 1_050, ..Simulation::new(aim, vec![30, 77], 9) };
    let lake = even(0.3, 0.6);
    let result = simulate(&lake, &one, Watch::default()).unwrap();
    for threads in [2, 3, 7] {
        let many = Simulation { threads, ..one.clone() };
        assert_eq!(simulate(&lake, &many, Watch::default()).unwrap().efforts, result.efforts);
    }
    let other = Simulation { seed: 10, ..one };
    assert_ne!(simulate(&lake, &other, Watch::default()).unwrap().efforts, result.efforts);
}

#[test]
fn progress_is_told_and_a_person_can_stop_it() {
    let lake = even(0.3, 0.6);
    let simulation =
        Simulation { threads: 2, ..plain(Aim::Find { species: 0 }, vec![20, 40], 3_000) };
    let told = Mutex::new(Vec::new());
    let progress = |done: usize, total: usize| told.lock().unwrap().push((done, total));
    simulate(&lake, &simulation, Watch { progress: Some(&progress), cancel: None }).unwrap();
    let told = told.into_inner().unwrap();
    assert_eq!(told.iter().map(|t| t.0).max(), Some(6_000));
    assert!(told.iter().all(|t| t.1 == 6_000));
    let stop = AtomicBool::new(false);
    let calls = AtomicUsize::new(0);
    let halfway = |_: usize, _: usize| {
        if calls.fetch_add(1, Ordering::Relaxed) == 10 {
            stop.store(true, Ordering::Relaxed);
        }
    };
    let watch = Watch { progress: Some(&halfway), cancel: Some(&stop) };
    let error = simulate(&lake, &simulation, watch).unwrap_err();
    assert!(matches!(error, EffortError::Cancelled { done, total: 6_000 } if done < 6_000));
}

#[test]
fn a_sentence_says_chance_hours_and_what_more_would_give() {
    let aim = Aim::Bed { area: SquareMetres::from_acres(0.5), detection: 0.63 };
    let simulation = Simulation::new(aim, vec![60, 90], 1);
    let result = simulate(&even(0.2, 0.63), &simulation, Watch::default()).unwrap();
    let text = result.sentence(60, UnitSystem::Us).unwrap();
    assert!(text.starts_with("60 sites, 2 throws each: "), "{text}");
    assert!(text.contains("chance to find a bed of 0.5 acres; about "), "{text}");
    assert!(text.contains("; 90 sites would give "), "{text}");
    assert!(result.sentence(61, UnitSystem::Us).is_none());
    assert!(result.fewest(0.0).is_some_and(|effort| effort.sites == 60));
    assert_eq!(percent(0.9999), "more than 99 %");
    assert_eq!(percent(0.001), "less than 1 %");
}

/// Fagerland, Lydersen & Laake 2013: mid-p is twice the tail less the point (arithmetic by hand).
#[test]
fn mcnemar_mid_p_by_hand() {
    // 1 of 5: 2·P(0) + P(1) = 2/32 + 5/32
    assert!((mcnemar_mid_p(1, 4) - 7.0 / 32.0).abs() < 1e-14);
    assert!((mcnemar_mid_p(4, 1) - 7.0 / 32.0).abs() < 1e-14);
    assert!((mcnemar_mid_p(0, 6) - 1.0 / 64.0).abs() < 1e-14);
    assert!((mcnemar_mid_p(3, 3) - 1.0).abs() < 1e-12);
    assert!((mcnemar_mid_p(0, 0) - 1.0).abs() < 1e-14);
}

#[test]
fn impossible_simulations_say_what_to_do() {
    let lake = even(0.5, 0.6);
    let find = Aim::Find { species: 0 };
    let change = |ratio| Aim::Change { species: 0, ratio, same_sites: true, confidence: 0.95 };
    let table = [
        plain(find, vec![], 100),
        plain(find, vec![0], 100),
        plain(find, vec![10], 0),
        Simulation { throws: 0, ..plain(find, vec![10], 100) },
        plain(find, vec![1_000_000], 100),
        plain(Aim::Find { species: 7 }, vec![10], 100),
        plain(change(1.0), vec![10], 100),
        plain(change(3.0), vec![10], 100),
        plain(Aim::Estimate { species: 0, margin: 0.0 }, vec![10], 100),
    ];
    for simulation in table {
        let error = simulate(&lake, &simulation, Watch::default()).unwrap_err().to_string();
        assert!(error.contains("hint: "), "{error}");
    }
    assert!(VirtualLake::new(&frame(), 100).unwrap().with_even("x", 1.5, 0.5).is_err());
}

/// The spread of the acreage agrees with the formula (Gundersen & Jensen 1987, with the throws that miss added) on beds
/// clear of the shore; the wavy edge is a little longer than the formula's, so a tenth either way is allowed.
#[test]
fn gundersen_jensen_1987_the_simulated_acreage_spreads_as_the_formula_says() {
    use super::super::{bed_grid_spacing, margin_of_bed_area};
    let water: MultiPolygon<f64> =
        Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 9_000.0, y: 6_000.0 }).to_polygon().into();
    let lake = VirtualLake::new(&Frame::new(water).unwrap(), 4_000).unwrap();
    let bed = SquareMetres::from_acres(1.0);
    for (detection, throws) in [(1.0, 1), (0.63, 2), (0.4, 1)] {
        let aim = Aim::Acreage { area: bed, margin: 0.2, detection };
        let simulation = Simulation { throws, ..plain(aim, vec![20, 45, 100], 4_000) };
        let result = simulate(&lake, &simulation, Watch::default()).unwrap();
        let seen = chance_by_throws(detection, throws).unwrap();
        let mut edges = Vec::new();
        for effort in &result.efforts {
            let on_bed = bed.square_metres() / bed_grid_spacing(bed, effort.sites).powi(2);
            let z = 1.959_964;
            let formula = margin_of_bed_area(on_bed, 0.95, 4.3, seen).unwrap() / z;
            let spread = effort.estimate.unwrap();
            assert!((spread.mean - 1.0).abs() < 0.02, "{detection}: mean {}", spread.mean);
            let ratio = spread.deviation / formula;
            assert!((0.88..1.12).contains(&ratio), "{detection}, {} points: {ratio}", effort.sites);
            edges.push(effort.edge.unwrap().metres());
        }
        // a closer grid draws the edge nearer to where it is
        assert!(edges.windows(2).all(|pair| pair[1] < pair[0]), "{edges:?}");
    }
}

/// Near the shore a bed is smaller than asked for, and the grid still measures what is in the water.
#[test]
fn a_bed_cut_by_the_shore_is_measured_without_bias() {
    let aim = Aim::Acreage { area: SquareMetres::new(40_000.0), margin: 0.2, detection: 0.63 };
    let result =
        simulate(&even(0.5, 0.63), &plain(aim, vec![60], 4_000), Watch::default()).unwrap();
    let spread = result.efforts[0].estimate.unwrap();
    assert!((spread.mean - 1.0).abs() < 0.03, "{}", spread.mean);
}
