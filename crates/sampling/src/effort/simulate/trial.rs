//! One virtual survey.

use super::super::normal;
use super::acreage::Acreage;
use super::{Aim, VirtualLake};
use crate::random::Draw;
use std::collections::HashMap;

/// The chances of one simulation made ready: whole numbers to compare random bits with.
#[derive(Debug)]
pub(crate) enum Trial {
    Richness { needed: usize, species: Vec<Vec<u32>> },
    Find { come_up: Vec<u32> },
    Bed { radius: f64, seen: u32, side: f64 },
    Estimate { come_up: Vec<u32>, least: f64, most: f64 },
    Change(Change),
    Acreage { acreage: Acreage, n_sites: usize },
}

/// What one virtual survey came to.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Outcome {
    pub(crate) success: bool,
    /// Entry of the histogram.
    pub(crate) value: usize,
    /// What the value is a share of.
    pub(crate) of: usize,
    /// How far the edge of a bed is off, in whole millimetres so that the order of adding does not matter.
    pub(crate) edge: u64,
}

/// Acreages are kept in so many parts of the true one.
const PARTS: usize = 1_000;

#[derive(Debug)]
pub(crate) struct Change {
    grows: Vec<u32>,
    grows_after: Vec<u32>,
    /// Chance to stay, for a loss; chance to appear where it was not, at each place, for a gain.
    stays: Option<u32>,
    appears: Vec<u32>,
    seen: u32,
    same_sites: bool,
    z: f64,
    alpha: f64,
}

/// A chance as a share of 2³².
fn bits(chance: f64) -> u32 {
    (chance * 4_294_967_296.0).clamp(0.0, 4_294_967_295.0) as u32
}

impl Trial {
    pub(crate) fn new(lake: &VirtualLake, aim: &Aim, throws: u32, n_sites: usize) -> Self {
        let seen = |detection: f64| 1.0 - (1.0 - detection).powi(throws as i32);
        let come_up = |index: usize| -> Vec<u32> {
            let species = &lake.species()[index];
            let seen = seen(species.detection);
            species.chance.iter().map(|chance| bits(chance * seen)).collect()
        };
        match *aim {
            Aim::Richness { share } => {
                // a species with no chance anywhere is none of the lake's
                let there: Vec<usize> = (0..lake.species().len())
                    .filter(|&index| lake.species()[index].frequency() > 0.0)
                    .collect();
                let needed = (share * there.len() as f64 - 1e-9).ceil() as usize;
                Self::Richness { needed, species: there.into_iter().map(come_up).collect() }
            }
            Aim::Find { species } => Self::Find { come_up: come_up(species) },
            Aim::Bed { area, detection } => Self::Bed {
                radius: (area.square_metres() / std::f64::consts::PI).sqrt(),
                seen: bits(seen(detection)),
                side: lake.side(),
            },
            Aim::Acreage { area, margin, detection } => Self::Acreage {
                acreage: Acreage::new(lake, area, margin, seen(detection)),
                n_sites,
            },
            Aim::Estimate { species, margin } => {
                let one = &lake.species()[species];
                let expected = one.frequency() * seen(one.detection);
                Self::Estimate {
                    come_up: come_up(species),
                    least: expected - margin - 1e-12,
                    most: expected + margin + 1e-12,
                }
            }
            Aim::Change { species, ratio, same_sites, confidence } => {
                let one = &lake.species()[species];
                let after = changed(&one.chance, ratio);
                let appears = one
                    .chance
                    .iter()
                    .zip(&after)
                    .map(|(p, q)| bits(if *p < 1.0 { (q - p).max(0.0) / (1.0 - p) } else { 0.0 }))
                    .collect();
                Self::Change(Change {
                    grows: one.chance.iter().map(|chance| bits(*chance)).collect(),
                    grows_after: after.iter().map(|chance| bits(*chance)).collect(),
                    stays: (ratio < 1.0).then(|| bits(ratio)),
                    appears,
                    seen: bits(seen(one.detection)),
                    same_sites,
                    z: normal::two_sided(confidence),
                    alpha: 1.0 - confidence,
                })
            }
        }
    }

    /// Entries the histogram of the estimate needs.
    pub(crate) fn n_values(&self, most_sites: usize) -> usize {
        match self {
            Self::Richness { species, .. } => species.len() + 1,
            Self::Estimate { .. } => most_sites + 1,
            Self::Acreage { .. } => PARTS,
            Self::Find { .. } | Self::Bed { .. } | Self::Change(_) => 0,
        }
    }

    /// Surveys once: success, and the value for the histogram.
    pub(crate) fn survey(
        &self,
        lake: &VirtualLake,
        sites: &[u32],
        again: &[u32],
        draw: &mut Draw,
    ) -> Outcome {
        let (success, value) = match self {
            Self::Acreage { acreage, n_sites } => {
                let measured = acreage.measure(lake, *n_sites, draw);
                return Outcome {
                    success: measured.success,
                    value: (measured.ratio * PARTS as f64).round() as usize,
                    of: PARTS,
                    edge: (measured.edge * 1e3).round() as u64,
                };
            }
            Self::Richness { needed, species } => {
                let found = species.iter().filter(|come_up| any(come_up, sites, draw)).count();
                (found >= *needed, found)
            }
            Self::Find { come_up } => (any(come_up, sites, draw), 0),
            Self::Bed { radius, seen, side } => {
                let places = lake.places();
                let jitter = |draw: &mut Draw| (draw.unit() - 0.5) * side;
                let middle = places[draw.below(places.len())];
                let middle = (middle.0 + jitter(draw), middle.1 + jitter(draw));
                let reach = radius + side;
                let found = sites.iter().any(|&site| {
                    let (x, y) = places[site as usize];
                    if (x - middle.0).abs() > reach || (y - middle.1).abs() > reach {
                        return false;
                    }
                    // the site lies anywhere in the square of its place
                    let (dx, dy) = (x + jitter(draw) - middle.0, y + jitter(draw) - middle.1);
                    dx * dx + dy * dy <= radius * radius && (draw.bits() as u32) < *seen
                });
                (found, 0)
            }
            Self::Estimate { come_up, least, most } => {
                let found = count(come_up, sites, draw);
                let share = found as f64 / sites.len() as f64;
                (share >= *least && share <= *most, found)
            }
            Self::Change(change) => (change.shown(sites, again, draw), 0),
        };
        Outcome { success, value, of: sites.len(), edge: 0 }
    }
}

impl Change {
    fn shown(&self, sites: &[u32], again: &[u32], draw: &mut Draw) -> bool {
        if !self.same_sites {
            let mut seen = |grows: &[u32], sites: &[u32]| {
                sites
                    .iter()
                    .filter(|&&site| {
                        let (one, other) = two(draw);
                        one < grows[site as usize] && other < self.seen
                    })
                    .count() as f64
            };
            let (first, second) = (seen(&self.grows, sites), seen(&self.grows_after, again));
            let (n, m) = (sites.len() as f64, again.len() as f64);
            let pooled = (first + second) / (n + m);
            let error = (pooled * (1.0 - pooled) * (1.0 / n + 1.0 / m)).sqrt();
            return error > 0.0 && (first / n - second / m).abs() > self.z * error;
        }
        let (mut lost, mut gained) = (0, 0);
        for &site in sites {
            let site = site as usize;
            let (one, other) = two(draw);
            let before = one < self.grows[site];
            let after = match (before, self.stays) {
                (true, Some(stays)) => other < stays,
                (true, None) => true,
                (false, Some(_)) => false,
                (false, None) => other < self.appears[site],
            };
            let (one, other) = two(draw);
            match (before && one < self.seen, after && other < self.seen) {
                (true, false) => lost += 1,
                (false, true) => gained += 1,
                _ => {}
            }
        }
        mcnemar_mid_p(lost, gained) < self.alpha
    }
}

/// Chances after a change of the frequency by a ratio: a loss takes from every place alike; a gain adds to the room left
/// at each place alike, so that no chance passes 1.
fn changed(chance: &[f64], ratio: f64) -> Vec<f64> {
    if ratio <= 1.0 {
        return chance.iter().map(|p| p * ratio).collect();
    }
    let mean = chance.iter().sum::<f64>() / chance.len() as f64;
    let room = 1.0 - mean;
    let gain = if room > 0.0 { mean * (ratio - 1.0) / room } else { 0.0 };
    chance.iter().map(|p| (p + gain * (1.0 - p)).min(1.0)).collect()
}

fn two(draw: &mut Draw) -> (u32, u32) {
    let bits = draw.bits();
    (bits as u32, (bits >> 32) as u32)
}

fn any(come_up: &[u32], sites: &[u32], draw: &mut Draw) -> bool {
    let mut pairs = sites.chunks_exact(2);
    for pair in &mut pairs {
        let (one, other) = two(draw);
        if one < come_up[pair[0] as usize] || other < come_up[pair[1] as usize] {
            return true;
        }
    }
    pairs.remainder().iter().any(|&site| two(draw).0 < come_up[site as usize])
}

fn count(come_up: &[u32], sites: &[u32], draw: &mut Draw) -> usize {
    let mut found = 0;
    for pair in sites.chunks(2) {
        let (one, other) = two(draw);
        found += usize::from(one < come_up[pair[0] as usize]);
        if let Some(&second) = pair.get(1) {
            found += usize::from(other < come_up[second as usize]);
        }
    }
    found
}

/// McNemar's mid-p value of two discordant counts, two-sided.
///
/// `2·P(X < k) + P(X = k)`, X binomial with n = b + c and one half, k the smaller count. Fagerland, Lydersen & Laake
/// 2013, BMC Medical Research Methodology 13: 91 (from memory).
pub(crate) fn mcnemar_mid_p(b: usize, c: usize) -> f64 {
    let (n, k) = (b + c, b.min(c));
    if n == 0 {
        return 1.0;
    }
    let mut term = -(n as f64) * std::f64::consts::LN_2;
    let mut below = 0.0;
    for i in 0..k {
        below += term.exp();
        term += ((n - i) as f64 / (i + 1) as f64).ln();
    }
    (2.0 * below + term.exp()).min(1.0)
}

/// Places on a square grid laid at random over the lake.
pub(crate) fn grid_places(lake: &VirtualLake, number: usize, draw: &mut Draw) -> Vec<u32> {
    let index: HashMap<(i64, i64), u32> = lake
        .places()
        .iter()
        .enumerate()
        .map(|(index, &(x, y))| (lake.square(x, y), index as u32))
        .collect();
    let spacing = (lake.area().square_metres() / number as f64).sqrt();
    let (mut low, mut high) =
        ((f64::INFINITY, f64::INFINITY), (f64::NEG_INFINITY, f64::NEG_INFINITY));
    for &(x, y) in lake.places() {
        low = (low.0.min(x), low.1.min(y));
        high = (high.0.max(x), high.1.max(y));
    }
    let half = lake.side() / 2.0;
    let start = (
        low.0 - half + (draw.unit() - 1.0) * spacing,
        low.1 - half + (draw.unit() - 1.0) * spacing,
    );
    let n_columns = ((high.0 + half - start.0) / spacing).ceil() as usize + 1;
    let n_rows = ((high.1 + half - start.1) / spacing).ceil() as usize + 1;
    let mut places = Vec::new();
    for row in 0..n_rows {
        for column in 0..n_columns {
            let (x, y) = (start.0 + column as f64 * spacing, start.1 + row as f64 * spacing);
            if let Some(&place) = index.get(&lake.square(x, y)) {
                places.push(place);
            }
        }
    }
    places
}
