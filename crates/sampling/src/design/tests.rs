use super::*;
use crate::balance::voronoi_balance;
use crate::random::Draw;

fn grid(side: usize) -> Vec<(f64, f64)> {
    (0..side * side).map(|k| ((k % side) as f64, (k / side) as f64)).collect()
}

fn scattered(number: usize, seed: u64) -> Vec<(f64, f64)> {
    let mut draw = Draw::new(seed);
    (0..number).map(|_| (draw.unit() * 1_000.0, draw.unit() * 600.0)).collect()
}

/// Shares of `runs` draws that hold each place stay within 4.5 binomial standard errors of π
/// (chance that one of 30 places strays: 30 × 7e-6).
fn check_inclusion(method: impl Fn(&[(f64, f64)], &[f64], u64) -> Vec<usize>, runs: u64) {
    let points = scattered(30, 5);
    let weights: Vec<f64> = (0..30).map(|k| 1.0 + f64::from(k % 7)).collect();
    let chances = inclusion_probabilities(&weights, 8);
    let mut held = vec![0_u32; points.len()];
    for run in 0..runs {
        let chosen = method(&points, &chances, run);
        assert_eq!(chosen.len(), 8, "the size is fixed when the chances sum to a whole number");
        for index in chosen {
            held[index] += 1;
        }
    }
    for (index, count) in held.iter().enumerate() {
        let (share, chance) = (f64::from(*count) / runs as f64, chances[index]);
        let error = (chance * (1.0 - chance) / runs as f64).sqrt();
        assert!((share - chance).abs() < 4.5 * error, "place {index}: {share} for {chance}");
    }
}

/// The property proved by Grafström, Lundström & Schelin 2012, over 100,000 draws.
#[test]
fn the_local_pivotal_method_keeps_inclusion_probabilities() {
    check_inclusion(local_pivotal, 100_000);
}

/// The property proved by Stevens & Olsen 2004, over 100,000 draws.
#[test]
fn tessellation_keeps_inclusion_probabilities() {
    check_inclusion(tessellation, 100_000);
}

/// The first places of the reverse hierarchical order are a sample with chances πn/m.
#[test]
fn the_first_of_a_tessellation_keep_inclusion_probabilities() {
    let points = grid(8);
    let (runs, first) = (40_000, 9);
    let mut held = [0_u32; 64];
    for run in 0..runs {
        for &index in tessellation(&points, &[0.25; 64], run).iter().take(first) {
            held[index] += 1;
        }
    }
    let chance = first as f64 / 64.0;
    let error = (chance * (1.0 - chance) / runs as f64).sqrt();
    for (index, count) in held.iter().enumerate() {
        let share = f64::from(*count) / runs as f64;
        assert!((share - chance).abs() < 4.5 * error, "place {index}: {share} for {chance}");
    }
}

fn mean_balance(points: &[(f64, f64)], number: usize, draw: impl Fn(u64) -> Vec<usize>) -> f64 {
    let chances = vec![number as f64 / points.len() as f64; points.len()];
    let runs = 60;
    (0..runs).map(|run| voronoi_balance(points, &chances, &draw(run)).unwrap()).sum::<f64>()
        / runs as f64
}

/// Published behaviour: balanced designs well below simple random sampling (Grafström, Lundström &
/// Schelin 2012; Stevens & Olsen 2004).
#[test]
fn balanced_designs_are_better_spread_than_simple_random() {
    let points = grid(40);
    let chances = vec![50.0 / 1_600.0; 1_600];
    let plain = mean_balance(&points, 50, |seed| simple_random(1_600, 50, seed));
    let pivotal = mean_balance(&points, 50, |seed| local_pivotal(&points, &chances, seed));
    let tiles = mean_balance(&points, 50, |seed| tessellation(&points, &chances, seed));
    assert!(pivotal < 0.5 * plain, "local pivotal {pivotal}, simple random {plain}");
    assert!(tiles < 0.7 * plain, "tessellation {tiles}, simple random {plain}");
}

#[test]
fn every_run_of_a_tessellation_is_spread_out() {
    let points = grid(40);
    let chances = vec![60.0 / 1_600.0; 1_600];
    let plain = mean_balance(&points, 15, |seed| simple_random(1_600, 15, seed));
    for skip in [0, 7, 22, 45] {
        let run = mean_balance(&points, 15, |seed| {
            tessellation(&points, &chances, seed)[skip..skip + 15].to_vec()
        });
        assert!(run < 0.85 * plain, "from {skip}: {run}, simple random {plain}");
    }
}

#[test]
fn the_same_seed_gives_the_same_sample() {
    let points = scattered(3_000, 1);
    let chances = vec![0.02; 3_000];
    assert_eq!(local_pivotal(&points, &chances, 9), local_pivotal(&points, &chances, 9));
    assert_ne!(local_pivotal(&points, &chances, 9), local_pivotal(&points, &chances, 10));
    assert_eq!(tessellation(&points, &chances, 9), tessellation(&points, &chances, 9));
    assert_eq!(simple_random(3_000, 60, 9), simple_random(3_000, 60, 9));
}

#[test]
fn places_on_one_spot_or_one_line_are_no_trouble() {
    let line: Vec<(f64, f64)> = (0..500).map(|k| (f64::from(k), 3.0)).collect();
    assert_eq!(local_pivotal(&line, &[0.1; 500], 1).len(), 50);
    assert_eq!(tessellation(&line, &[0.1; 500], 1).len(), 50);
    let spot = vec![(7.0, 7.0); 100];
    assert_eq!(local_pivotal(&spot, &[0.1; 100], 1).len(), 10);
    assert_eq!(tessellation(&spot, &[0.1; 100], 1).len(), 10);
    assert!(local_pivotal(&[], &[], 1).is_empty());
}

#[test]
fn heavy_places_are_certain_and_the_rest_shares() {
    let chances = inclusion_probabilities(&[100.0, 1.0, 1.0, 1.0, 1.0, 0.0], 3);
    assert_eq!(chances, [1.0, 0.5, 0.5, 0.5, 0.5, 0.0]);
    assert_eq!(inclusion_probabilities(&[1.0, 2.0], 5), [1.0, 1.0]);
}

#[test]
fn shares_are_whole_sum_up_and_keep_their_limits() {
    assert_eq!(share_out(&[5.0, 3.0, 2.0], &[99, 99, 99], 10), [5, 3, 2]);
    assert_eq!(share_out(&[1.0, 1.0, 1.0], &[99, 99, 99], 10), [4, 3, 3]);
    assert_eq!(share_out(&[5.0, 1.0], &[2, 99], 10), [2, 8]);
    assert_eq!(share_out(&[1.0, 1.0], &[2, 3], 10), [2, 3]);
}
