//! How often the 95 % intervals of fitted and resampled figures hold the truth, and how often the
//! permutation test cries wolf, on simulated lakes with a fixed seed.
//!
//! The table is printed. Every row must keep to 93–97 % but for the ones named below with the reason. With
//! 500 to 1,500 lakes a share is itself known to about one to two points only.

#![cfg(test)]

#[path = "support/table.rs"]
mod table_in_docs;

use findings::acres::{SampledPoint, Water, kriged_extent, voronoi_extent};
use findings::stats::baci::{Arm, percent_control, permutation_p};
use findings::stats::logistic::{Group, fit};
use findings::stats::occupancy::{Throws, occupancy};
use findings::stats::ordinal::cliff_delta;
use geo_types::{MultiPolygon, Polygon};
use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64;
use std::collections::BTreeSet;
use table_in_docs::Share;

const LAKES: u32 = 1_500;
const SIZES: [usize; 3] = [20, 60, 200];

struct Draw(Pcg64);

impl Draw {
    fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / 9_007_199_254_740_992.0
    }

    fn count(&mut self, sites: usize, p: f64) -> usize {
        (0..sites).filter(|_| self.unit() < p).count()
    }

    fn presence(&mut self, sites: usize, p: f64) -> Vec<f64> {
        (0..sites).map(|_| f64::from(self.unit() < p)).collect()
    }
}

/// Share of lakes in which something holds; lakes that give no figure are left out.
fn share(seed: u64, lakes: u32, mut holds: impl FnMut(&mut Draw) -> Option<bool>) -> f64 {
    let mut draw = Draw(Pcg64::seed_from_u64(seed));
    let told: Vec<bool> = (0..lakes).filter_map(|_| holds(&mut draw)).collect();
    told.iter().filter(|held| **held).count() as f64 / told.len() as f64
}

fn arms(draw: &mut Draw, sites: usize, [tb, ta, cb, ca]: [f64; 4]) -> (Arm, Arm) {
    let mut arm = |before, after| Arm::Independent {
        before: draw.presence(sites, before),
        after: draw.presence(sites, after),
    };
    let treated = arm(tb, ta);
    (treated, arm(cb, ca))
}

fn control(sites: usize, chances: [f64; 4]) -> f64 {
    let [tb, ta, cb, ca] = chances;
    share(1, 500, |draw| {
        let (treated, untreated) = arms(draw, sites, chances);
        let got = percent_control(&treated, &untreated, 399, draw.0.next_u64());
        let limits = got.henderson_tilton?.interval?;
        Some((limits.low..=limits.high).contains(&(1.0 - ta * cb / (tb * ca))))
    })
}

/// Share of lakes without an effect in which the permutation test finds one at 5 %.
fn alarms(sites: usize, chances: [f64; 4]) -> f64 {
    share(2, LAKES, |draw| {
        let (treated, untreated) = arms(draw, sites, chances);
        Some(permutation_p(&treated, &untreated, 199, draw.0.next_u64()).ok()? <= 0.05)
    })
}

fn occupied(sites: usize, psi: f64, p: f64) -> f64 {
    share(3, LAKES, |draw| {
        let throws: Vec<Throws> = (0..sites)
            .map(|_| {
                let there = draw.unit() < psi;
                let found = draw.count(2, p) as u32;
                Throws { found: if there { found } else { 0 }, thrown: 2 }
            })
            .collect();
        let got = occupancy(&throws).ok()?.occupancy;
        Some((got.low..=got.high).contains(&psi))
    })
}

/// The slope over seven surveys, as the trend takes it: quasi-binomial, Student's t of 5.
fn slope(sites: usize, spread: f64) -> f64 {
    const T_5: f64 = 2.570_582;
    share(4, LAKES, |draw| {
        let groups: Vec<Group> = (0..7)
            .map(|year| {
                let wobble: f64 = (0..12).map(|_| draw.unit()).sum::<f64>() - 6.0;
                let logit = -0.6 + 0.15 * f64::from(year - 3) + spread * wobble;
                let p = 1.0 / (1.0 + (-logit).exp());
                let found = draw.count(sites, p) as f64;
                Group { found, sites: sites as f64, columns: vec![1.0, f64::from(year - 3)] }
            })
            .collect();
        let got = fit(&groups).ok()?;
        let reach = T_5 * got.standard_errors[1] * got.overdispersion()?.sqrt();
        Some((got.coefficients[1] - 0.15).abs() <= reach)
    })
}

fn delta(sites: usize) -> f64 {
    // ratings 0 to 3 in two surveys; P(later higher) − P(later lower) is 0.3275
    let (earlier, later) = ([0.5, 0.7, 0.9, 1.0], [0.25, 0.5, 0.75, 1.0]);
    let mass = |of: [f64; 4], k: usize| of[k] - if k > 0 { of[k - 1] } else { 0.0 };
    let truth: f64 = (0..4)
        .flat_map(|i| (0..4).map(move |j| (i, j)))
        .map(|(i, j)| {
            let sign = f64::from(i8::from(j > i) - i8::from(j < i));
            sign * mass(earlier, i) * mass(later, j)
        })
        .sum();
    share(5, LAKES, |draw| {
        let mut of = |chances: [f64; 4]| -> Vec<f64> {
            (0..sites)
                .map(|_| {
                    let number = draw.unit();
                    chances.iter().filter(|chance| number >= **chance).count() as f64
                })
                .collect()
        };
        let (one, other) = (of(earlier), of(later));
        let got = cliff_delta(&one, &other)?;
        Some((got.low..=got.high).contains(&truth))
    })
}

/// A lake 2 km by 1 km with a plant in three round beds; points at random.
fn area(sites: usize, kriged: bool) -> f64 {
    const BEDS: [(f64, f64, f64); 3] =
        [(500.0, 500.0, 350.0), (1_300.0, 250.0, 200.0), (1_700.0, 750.0, 220.0)];
    let corners = vec![(0.0, 0.0), (2_000.0, 0.0), (2_000.0, 1_000.0), (0.0, 1_000.0)];
    let lake = MultiPolygon::new(vec![Polygon::new(corners.into(), Vec::new())]);
    let water = Water { water: &lake, zones: &[], cells: 800 };
    let truth: f64 = BEDS.iter().map(|(_, _, r)| std::f64::consts::PI * r * r).sum();
    share(6, 1_000, |draw| {
        let points: Vec<SampledPoint> = (0..sites)
            .map(|_| {
                let (x, y) = (draw.unit() * 2_000.0, draw.unit() * 1_000.0);
                let found = BEDS.iter().any(|(cx, cy, r)| (x - cx).hypot(y - cy) < *r);
                SampledPoint { place: [x, y], found, step: None }
            })
            .collect();
        let got = if kriged {
            kriged_extent(&water, &points).ok()?.zones[0].2?
        } else {
            voronoi_extent(&water, &points).ok()?[0].extent?
        };
        Some((got.low.square_metres()..=got.high.square_metres()).contains(&truth))
    })
}

#[test]
fn intervals_of_models_hold_the_truth_about_as_often_as_they_say() {
    let (mut names, mut shares) = (Vec::new(), Vec::new());
    for sites in SIZES {
        let mut add = |method, share: Share| {
            names.push((method, sites));
            shares.push(share);
        };
        let fewer = move || control(sites, [0.5, 0.2, 0.5, 0.4]);
        add("Henderson–Tilton, half to a fifth", Box::new(fewer));
        add("occupancy, psi 0.4 p 0.6, two throws", Box::new(move || occupied(sites, 0.4, 0.6)));
        add("trend, binomial", Box::new(move || slope(sites, 0.0)));
        add("trend, surveys that vary", Box::new(move || slope(sites, 0.4)));
        add("Cliff's delta", Box::new(move || delta(sites)));
        add("area by nearest points", Box::new(move || area(sites, false)));
        add("area by kriging", Box::new(move || area(sites, true)));
    }
    let rows: Vec<(&str, usize, f64)> = names
        .into_iter()
        .zip(table_in_docs::computed(&shares))
        .map(|((method, sites), share)| (method, sites, share))
        .collect();
    let mut text = String::from("| method | sites | covered % | remark |\n|---|---|---|---|\n");
    for (method, sites, share) in &rows {
        let (percent, remark) = (share * 100.0, table_in_docs::remark(*share));
        text.push_str(&format!("| {method} | {sites} | {percent:.1} | {remark} |\n"));
    }
    println!("{text}");
    table_in_docs::stands_in_docs("models", &text);
    let odd: BTreeSet<(&str, usize)> = rows
        .iter()
        .filter(|(_, _, share)| !(0.93..=0.97).contains(share))
        .map(|(method, sites, _)| (*method, *sites))
        .collect();
    assert_eq!(odd, BTreeSet::from(NAMED));
}

// too often: 200 points know three round beds better than near points, or a variogram, would have it
const NAMED: [(&str, usize); 2] = [("area by kriging", 200), ("area by nearest points", 200)];

#[test]
fn the_permutation_test_finds_nothing_where_nothing_is_about_one_time_in_twenty() {
    for (chances, sites) in
        [([0.5, 0.3, 0.5, 0.3], 20), ([0.3, 0.3, 0.6, 0.6], 20), ([0.3, 0.3, 0.6, 0.6], 100)]
    {
        let share = alarms(sites, chances);
        println!("{chances:?}, {sites} sites: {:.1} % alarms", share * 100.0);
        assert!((0.03..=0.07).contains(&share), "{share}");
    }
}
