//! How often the 95 % intervals hold the truth, on simulated lakes with a fixed seed.
//!
//! The table is printed. Every row must keep to 93–97 %, but for the ones named below with the reason:
//! all but one of them hold the truth too often, where a handful of finds leaves few values a count can
//! take. The one that holds it too seldom is the contrast of means for a rare plant at 20 sites a part; for
//! presence the contrast of frequencies is the one to read there. "Sites" are per survey, and per part for
//! the contrast of before and after, treated and untreated (BACI).

#![cfg(test)]

#[path = "support/table.rs"]
mod table_in_docs;

use findings::stats::baci::{Arm, frequency_contrast, log_odds_contrast, mean_contrast};
use findings::stats::design::{DesignSite, design_estimate};
use findings::stats::interval::{IntervalMethod, interval};
use findings::stats::paired::{PairedSites, difference_interval};
use findings::stats::{Confidence, Proportion};
use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64;
use std::collections::BTreeSet;
use table_in_docs::Share;

const LAKES: u32 = 5_000;
const SIZES: [usize; 3] = [20, 60, 200];

struct Draw(Pcg64);

impl Draw {
    fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / 9_007_199_254_740_992.0
    }

    fn there(&mut self, chance: f64) -> bool {
        self.unit() < chance
    }

    /// Two visits of a site: first, then kept with a chance, else drawn anew.
    fn pair(&mut self, first: f64, second: f64, keep: f64) -> (bool, bool) {
        // one number for both visits when kept, so that the margins stay as they are
        let number = self.unit();
        let other = if self.there(keep) { number } else { self.unit() };
        (number < first, other < second)
    }
}

/// Share of lakes whose interval holds the truth.
fn covered(seed: u64, mut holds: impl FnMut(&mut Draw) -> bool) -> f64 {
    let mut draw = Draw(Pcg64::seed_from_u64(seed));
    let held = (0..LAKES).filter(|_| holds(&mut draw)).count();
    held as f64 / f64::from(LAKES)
}

struct Row {
    method: &'static str,
    case: String,
    sites: usize,
    share: f64,
}

fn wilson(sites: usize, p: f64) -> f64 {
    covered(sites as u64, |draw| {
        let found = (0..sites).filter(|_| draw.there(p)).count();
        let share = Proportion::new(found as u64, sites as u64).unwrap();
        let got = interval(share, IntervalMethod::Wilson, Confidence::NINETY_FIVE);
        got.low <= p && p <= got.high
    })
}

fn paired(sites: usize, first: f64, second: f64, keep: f64) -> f64 {
    covered(sites as u64 + 1, |draw| {
        let mut table = PairedSites::default();
        for _ in 0..sites {
            let (a, b) = draw.pair(first, second, keep);
            table.count(a, b);
        }
        let got = difference_interval(table, Confidence::NINETY_FIVE).unwrap();
        (got.low..=got.high).contains(&(second - first))
    })
}

/// Both parts with `sites` sites each, the same sites both times or others.
fn arms(draw: &mut Draw, sites: usize, chances: [f64; 4], same: bool) -> (Arm, Arm) {
    let mut arm = |before: f64, after: f64| {
        if same {
            let pair = |draw: &mut Draw| {
                let (a, b) = draw.pair(before, after, 0.5);
                (f64::from(a), f64::from(b))
            };
            Arm::Paired((0..sites).map(|_| pair(draw)).collect())
        } else {
            let mut of = |p: f64| (0..sites).map(|_| f64::from(draw.there(p))).collect();
            Arm::Independent { before: of(before), after: of(after) }
        }
    };
    let treated = arm(chances[0], chances[1]);
    (treated, arm(chances[2], chances[3]))
}

fn contrast(sites: usize, chances: [f64; 4], same: bool, scale: &str) -> f64 {
    let [tb, ta, cb, ca] = chances;
    let logit = |p: f64| (p / (1.0 - p)).ln();
    covered(sites as u64 + 2, |draw| {
        let (treated, untreated) = arms(draw, sites, chances, same);
        let (got, truth) = match scale {
            "logit" => (
                log_odds_contrast(&treated, &untreated),
                logit(ta) - logit(tb) - (logit(ca) - logit(cb)),
            ),
            "mean" => (mean_contrast(&treated, &untreated), (ta - tb) - (ca - cb)),
            _ => (frequency_contrast(&treated, &untreated), (ta - tb) - (ca - cb)),
        };
        let got = got.unwrap();
        got.low <= truth && truth <= got.high
    })
}

/// A lake in which the plant thins out from west to east; the west has twice the chance to be chosen.
fn hajek(sites: usize, level: f64, places: bool) -> f64 {
    let chance = |x: f64| level * (1.5 - x);
    covered(sites as u64 + 3, |draw| {
        let sample: Vec<DesignSite> = (0..sites)
            .map(|_| {
                // two thirds of the sites in the west half
                let west = draw.there(2.0 / 3.0);
                let x = draw.unit() / 2.0 + if west { 0.0 } else { 0.5 };
                DesignSite {
                    value: f64::from(draw.there(chance(x))),
                    inclusion_probability: if west { 0.02 } else { 0.01 },
                    place: places.then(|| [x * 2_000.0, draw.unit() * 1_000.0]),
                }
            })
            .collect();
        let got = design_estimate(&sample).unwrap().mean;
        (got.low..=got.high).contains(&level)
    })
}

fn table() -> Vec<Row> {
    let (mut rows, mut shares) = (Vec::new(), Vec::new());
    for sites in SIZES {
        let mut add = |method, case: String, share: Share| {
            rows.push(Row { method, case, sites, share: f64::NAN });
            shares.push(share);
        };
        for p in [0.02, 0.1, 0.3, 0.5] {
            add("Wilson", format!("p {p}"), Box::new(move || wilson(sites, p)));
        }
        for (first, second, keep) in
            [(0.5, 0.3, 0.5), (0.3, 0.3, 0.7), (0.4, 0.2, 0.0), (0.1, 0.02, 0.0)]
        {
            let case = format!("{first} to {second}, kept {keep}");
            let share = move || paired(sites, first, second, keep);
            add("paired difference", case, Box::new(share));
        }
        for same in [true, false] {
            for chances in [[0.5, 0.2, 0.5, 0.4], [0.4, 0.4, 0.3, 0.3], [0.1, 0.02, 0.1, 0.1]] {
                let kind = if same { "same sites" } else { "other sites" };
                let case = format!("{chances:?} {kind}");
                for (method, scale) in
                    [("BACI difference", ""), ("BACI logit", "logit"), ("BACI mean", "mean")]
                {
                    let share = move || contrast(sites, chances, same, scale);
                    add(method, case.clone(), Box::new(share));
                }
            }
        }
        for level in [0.1, 0.3, 0.5] {
            for places in [true, false] {
                let kind = if places { "local variance" } else { "with replacement" };
                let case = format!("mean {level}, {kind}");
                add("Hájek", case, Box::new(move || hajek(sites, level, places)));
            }
        }
    }
    for (row, share) in rows.iter_mut().zip(table_in_docs::computed(&shares)) {
        row.share = share;
    }
    rows
}

#[test]
fn ninety_five_percent_intervals_hold_the_truth_as_often_as_they_say() {
    let rows = table();
    let mut text =
        String::from("| method | case | sites | covered % | remark |\n|---|---|---|---|---|\n");
    for row in &rows {
        let Row { method, case, sites, share } = row;
        let (percent, remark) = (share * 100.0, table_in_docs::remark(*share));
        text.push_str(&format!("| {method} | {case} | {sites} | {percent:.1} | {remark} |\n"));
    }
    println!("{text}");
    table_in_docs::stands_in_docs("shares", &text);
    let odd: BTreeSet<(&str, &str, usize, Side)> = rows
        .iter()
        .filter_map(|row| {
            let side = match row.share {
                share if share < 0.93 => Side::TooSeldom,
                share if share > 0.97 => Side::TooOften,
                _ => return None,
            };
            Some((row.method, row.case.as_str(), row.sites, side))
        })
        .collect();
    assert_eq!(odd, BTreeSet::from(NAMED));
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Side {
    TooSeldom,
    TooOften,
}

const RARE_SAME: &str = "[0.1, 0.02, 0.1, 0.1] same sites";
const RARE_OTHER: &str = "[0.1, 0.02, 0.1, 0.1] other sites";

/// Rows that do not keep to 93–97 %.
const NAMED: [(&str, &str, usize, Side); 12] = [
    // counts of 6 in 20 jump over the ends of the interval
    ("Wilson", "p 0.3", 20, Side::TooOften),
    // three sites in 20 change at all, and the correlation is corrected towards none
    ("paired difference", "0.3 to 0.3, kept 0.7", 20, Side::TooOften),
    // a plant at two sites before and none after
    ("paired difference", "0.1 to 0.02, kept 0", 20, Side::TooOften),
    ("BACI difference", RARE_SAME, 20, Side::TooOften),
    ("BACI difference", RARE_SAME, 60, Side::TooOften),
    ("BACI difference", RARE_OTHER, 20, Side::TooOften),
    ("BACI logit", RARE_SAME, 20, Side::TooOften),
    ("BACI logit", RARE_OTHER, 20, Side::TooOften),
    // the spread of two finds is itself seldom seen
    ("BACI mean", RARE_SAME, 20, Side::TooSeldom),
    // two to three finds of unequal weight, and Student's t on top
    ("Hájek", "mean 0.1, local variance", 20, Side::TooOften),
    ("Hájek", "mean 0.1, with replacement", 20, Side::TooOften),
    ("Hájek", "mean 0.5, with replacement", 20, Side::TooOften),
];
