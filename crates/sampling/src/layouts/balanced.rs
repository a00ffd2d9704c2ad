use super::{LaidSite, Layout, LayoutError, Warning, put, text_code};
use crate::frame::{Cell, Frame, ZoneArea};
use crate::layouts::point_grid::nothing_fits;
use crate::random::Draw;
use crate::region::Region;
use crate::{balance, design};
use std::collections::BTreeMap;
use survey::Code;
use units::{Metres, bounds};

/// How the sample is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BalancedMethod {
    /// [`design::local_pivotal`]: the best spread.
    LocalPivotal,
    /// [`design::tessellation`]: well spread, and so is every run of its order.
    Tessellation,
    /// [`design::simple_random`]: the yardstick; ignores weights.
    SimpleRandom,
}

impl BalancedMethod {
    /// Word kept with the layout.
    pub const fn key(self) -> &'static str {
        match self {
            Self::LocalPivotal => "local-pivotal",
            Self::Tessellation => "tessellation",
            Self::SimpleRandom => "simple-random",
        }
    }
}

/// Parts of the lake that are sampled each for itself.
#[derive(Debug, Clone, PartialEq)]
pub enum Strata {
    /// The whole frame at once.
    None,
    /// Each zone.
    Zones,
    /// Bands of depth with these limits, shallow first: `[1.5, 3]` gives three bands.
    Depths(Vec<Metres>),
}

/// How many sites each stratum gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Allocation {
    /// In proportion to its weighted area.
    Proportional,
    /// The same number each.
    Equal,
}

/// Where places are more likely to be chosen.
#[derive(Debug, Clone, PartialEq)]
pub enum Weights {
    /// Every place alike.
    Equal,
    /// Times a factor inside each area: treatment areas, water near launches.
    Areas(Vec<(ZoneArea, f64)>),
    /// Times a factor within a distance of places: launches, inlets.
    Near {
        /// The places.
        places: Vec<(f64, f64)>,
        /// Within.
        distance: Metres,
        /// Factor.
        factor: f64,
    },
}

/// What a balanced layout is made from.
#[derive(Debug, Clone, PartialEq)]
pub struct Balanced {
    /// Sites.
    pub number: usize,
    /// Spares, used in order when a site cannot be reached.
    pub spares: usize,
    /// How drawn.
    pub method: BalancedMethod,
    /// Each for itself.
    pub strata: Strata,
    /// How shared out.
    pub allocation: Allocation,
    /// Where denser.
    pub weights: Weights,
    /// Candidate squares, about; 100,000 is plenty.
    pub n_cells: usize,
    /// Stored with the layout.
    pub seed: u64,
}

impl Balanced {
    /// A plain one: local pivotal, no strata, equal weights, no spares.
    pub fn new(number: usize, seed: u64) -> Self {
        Self {
            number,
            spares: 0,
            method: BalancedMethod::LocalPivotal,
            strata: Strata::None,
            allocation: Allocation::Proportional,
            weights: Weights::Equal,
            n_cells: 100_000,
            seed,
        }
    }
}

/// A probability sample of places spread over the water.
///
/// Candidates are the centres of small squares (about `n_cells` of them, none smaller than a metre).
/// Sites are numbered in strips from the north-west, back and forth; spares follow in the order
/// they are to be used. The inclusion probability of each site is that of its square among
/// the main sites, so a site stands for `square / π` of water.
///
/// # Formula
/// In a stratum with `n` sites and `m − n` spares, `m` squares are drawn with chances `π′`
/// proportional to the weights, and `n` of them, again spread out and with equal chances, are
/// the sites: `π = π′·n/m`. Spares are ordered so that each first half is spread out too.
/// # Errors
/// More sites than the water can hold, no water in the frame, zones asked for as strata when the lake
/// has none, depth bands without depths, a factor that is not positive.
pub fn balanced(frame: &Frame<'_>, plan: &Balanced) -> Result<Layout, LayoutError> {
    let wanted = plan.number + plan.spares;
    check(frame, plan)?;
    let area = frame.area().square_metres();
    if area <= 0.0 {
        return Err(nothing_fits(frame, 0.0));
    }
    let least = bounds::SPACING.least;
    let side = (area / plan.n_cells.max(wanted).max(1) as f64).sqrt().max(least);
    let cells = frame.cells(Metres::new(side));
    if wanted > cells.len() {
        return Err(LayoutError::TooManySites {
            asked: wanted,
            holds: cells.len(),
            area,
            apart: side,
        });
    }
    let weights = weights_of(&cells, &plan.weights);
    let strata = strata_of(frame, &cells, &plan.strata);
    let sizes: Vec<f64> = strata
        .values()
        .map(|members| match plan.allocation {
            Allocation::Proportional => members.iter().map(|&cell| weights[cell]).sum(),
            Allocation::Equal => 1.0,
        })
        .collect();
    let room: Vec<usize> = strata.values().map(Vec::len).collect();
    let sites_each = design::share_out(&sizes, &room, plan.number);
    let room: Vec<usize> = room.iter().zip(&sites_each).map(|(all, taken)| all - taken).collect();
    let spares_each = design::share_out(&sizes, &room, plan.spares);

    let mut draw = Draw::new(plan.seed);
    let mut main: Vec<(usize, f64)> = Vec::new();
    let mut spare_lists: Vec<Vec<(usize, f64)>> = Vec::new();
    let mut chances = vec![0.0; cells.len()];
    let mut warnings = Vec::new();
    for (((name, members), &n_sites), &n_spares) in strata.iter().zip(&sites_each).zip(&spares_each)
    {
        if n_sites == 0 {
            warnings.push(Warning::StratumWithoutSite { stratum: name.1.clone() });
        }
        let mut stratum =
            Stratum { cells: &cells, members, weights: &weights, chances: &mut chances };
        let (sites, spares) = stratum.draw(n_sites, n_spares, plan.method, &mut draw);
        main.extend(sites);
        spare_lists.push(spares);
    }
    let places: Vec<(f64, f64)> = main.iter().map(|&(c, _)| (cells[c].x, cells[c].y)).collect();
    let strip = (area / plan.number as f64).sqrt();
    let mut chosen: Vec<(usize, f64, bool)> =
        strips(&places, strip).into_iter().map(|k| (main[k].0, main[k].1, false)).collect();
    // spares of the strata in turn, so that the first few serve all of them
    let longest = spare_lists.iter().map(Vec::len).max().unwrap_or(0);
    for turn in 0..longest {
        for list in &spare_lists {
            chosen.extend(list.get(turn).map(|&(cell, chance)| (cell, chance, true)));
        }
    }
    let sites: Vec<LaidSite> = chosen
        .iter()
        .enumerate()
        .map(|(index, &(cell, chance, spare))| LaidSite {
            code: super::number_code(index + 1),
            x: cells[cell].x,
            y: cells[cell].y,
            zone: cells[cell].zone.and_then(|zone| frame.zone_code(zone)).cloned(),
            part: None,
            depth: cells[cell].depth,
            inclusion_probability: Some(chance),
            spare,
            panel: None,
        })
        .collect();
    warnings.extend(super::point_grid::zones_without_site(frame, &sites));
    let mut parameters = parameters_of(plan, side, cells.len());
    if !matches!(plan.strata, Strata::None) {
        let shares = strata.keys().zip(&sites_each).map(|(name, n)| format!("{}: {n}", name.1));
        put(&mut parameters, "sites_by_stratum", shares.collect::<Vec<_>>().join(", "));
    }
    // about ten thousand cells tell the spread as well as all
    let thin = (cells.len() / 10_000).max(1);
    let some: Vec<(f64, f64)> = cells.iter().step_by(thin).map(|cell| (cell.x, cell.y)).collect();
    let scale = plan.number as f64 / chances.iter().step_by(thin).sum::<f64>();
    let balance = balance::balance_of(&places, &some, |index| chances[index * thin] * scale);
    if let Some(balance) = balance {
        put(&mut parameters, "balance", balance);
    }
    parameters.extend(frame.parameters());
    Ok(Layout { name: "balanced".to_owned(), parameters, sites, parts: Vec::new(), warnings })
}

fn check(frame: &Frame<'_>, plan: &Balanced) -> Result<(), LayoutError> {
    if plan.number == 0 {
        return Err(LayoutError::Parameter {
            word: "number of sites",
            found: "0".to_owned(),
            expected: "at least 1".to_owned(),
            hint: "`quillwort effort BOOK` says how many sites the question needs",
        });
    }
    let area = frame.region().area();
    let least = bounds::SPACING.least;
    if (plan.number + plan.spares) as f64 > area / least / least {
        return Err(LayoutError::TooManySites {
            asked: plan.number + plan.spares,
            holds: (area / least / least) as usize,
            area,
            apart: least,
        });
    }
    let factors: Vec<f64> = match &plan.weights {
        Weights::Equal => Vec::new(),
        Weights::Areas(areas) => areas.iter().map(|(_, factor)| *factor).collect(),
        Weights::Near { factor, .. } => vec![*factor],
    };
    if let Some(factor) = factors.into_iter().find(|f| !(f.is_finite() && *f > 0.0)) {
        return Err(LayoutError::Parameter {
            word: "density factor",
            found: factor.to_string(),
            expected: "a number above 0".to_owned(),
            hint: "3 makes a place three times as likely to be chosen, 0.5 half as likely",
        });
    }
    match &plan.strata {
        Strata::None => Ok(()),
        Strata::Zones if frame.zones().len() > 0 => Ok(()),
        Strata::Zones => Err(LayoutError::Nothing {
            what: "zones",
            hint: "add zones (`quillwort add BOOK zones FILE`), or use depth bands as strata",
        }),
        Strata::Depths(_) if !frame.knows_depth() => {
            Err(LayoutError::Frame(crate::FrameError::DepthUnknown))
        }
        Strata::Depths(limits) => {
            if limits.windows(2).all(|pair| pair[0] < pair[1]) {
                Ok(())
            } else {
                Err(LayoutError::Parameter {
                    word: "limits of the depth bands",
                    found: limits
                        .iter()
                        .map(|d| d.metres().to_string())
                        .collect::<Vec<_>>()
                        .join(", "),
                    expected: "in order from shallow to deep, each once".to_owned(),
                    hint: "give them like `1.5m,3m`: that makes three bands",
                })
            }
        }
    }
}

fn weights_of(cells: &[Cell], weights: &Weights) -> Vec<f64> {
    match weights {
        Weights::Equal => vec![1.0; cells.len()],
        Weights::Areas(areas) => {
            let regions: Vec<(Region, f64)> = areas
                .iter()
                .filter_map(|(area, factor)| Some((Region::new(&area.polygon)?, *factor)))
                .collect();
            let weight = |cell: &Cell| -> f64 {
                let inside = regions.iter().filter(|(region, _)| region.contains(cell.x, cell.y));
                inside.map(|(_, factor)| factor).product()
            };
            cells.iter().map(weight).collect()
        }
        Weights::Near { places, distance, factor } => {
            let near = |cell: &Cell| {
                places.iter().any(|(x, y)| (cell.x - x).hypot(cell.y - y) <= distance.metres())
            };
            cells.iter().map(|cell| if near(cell) { *factor } else { 1.0 }).collect()
        }
    }
}

/// Cells by stratum, in the order of zones or depths.
fn strata_of(
    frame: &Frame<'_>,
    cells: &[Cell],
    strata: &Strata,
) -> BTreeMap<(u32, String), Vec<usize>> {
    let mut by_stratum: BTreeMap<(u32, String), Vec<usize>> = BTreeMap::new();
    for (index, cell) in cells.iter().enumerate() {
        let name = match strata {
            Strata::None => (0, String::new()),
            Strata::Zones => match cell.zone {
                Some(zone) => {
                    (zone, frame.zone_code(zone).map(Code::to_string).unwrap_or_default())
                }
                None => (u32::MAX, "no zone".to_owned()),
            },
            Strata::Depths(limits) => match cell.depth {
                None => (u32::MAX, "depth not known".to_owned()),
                Some(depth) => {
                    let band = limits.iter().filter(|limit| depth > **limit).count();
                    let limit = |k: usize| limits.get(k).map(|d| d.metres());
                    let text = match (band.checked_sub(1).and_then(limit), limit(band)) {
                        (None, Some(most)) => format!("to {most} m"),
                        (Some(least), Some(most)) => format!("{least} to {most} m"),
                        (Some(least), None) => format!("below {least} m"),
                        (None, None) => "any depth".to_owned(),
                    };
                    (band as u32, text)
                }
            },
        };
        by_stratum.entry(name).or_default().push(index);
    }
    by_stratum
}

type Chosen = Vec<(usize, f64)>;

struct Stratum<'s> {
    cells: &'s [Cell],
    members: &'s [usize],
    weights: &'s [f64],
    /// Chance of each cell to become a main site, filled in.
    chances: &'s mut [f64],
}

impl Stratum<'_> {
    fn draw(
        &mut self,
        n_sites: usize,
        n_spares: usize,
        method: BalancedMethod,
        draw: &mut Draw,
    ) -> (Chosen, Chosen) {
        let all = n_sites + n_spares;
        if all == 0 {
            return (Vec::new(), Vec::new());
        }
        let members = self.members;
        let points: Vec<(f64, f64)> =
            members.iter().map(|&m| (self.cells[m].x, self.cells[m].y)).collect();
        let own: Vec<f64> = match method {
            BalancedMethod::SimpleRandom => vec![1.0; members.len()],
            _ => members.iter().map(|&m| self.weights[m]).collect(),
        };
        let chances = design::inclusion_probabilities(&own, all);
        let share = n_sites as f64 / all as f64;
        for (&member, chance) in members.iter().zip(&chances) {
            self.chances[member] = chance * share;
        }
        let order: Vec<usize> = match method {
            BalancedMethod::Tessellation => design::tessellation_with(&points, &chances, draw),
            BalancedMethod::SimpleRandom => design::simple_random(points.len(), all, draw.bits()),
            BalancedMethod::LocalPivotal => {
                let drawn = design::local_pivotal_with(&points, &chances, draw);
                let (mut main, rest) = halve(&points, drawn, n_sites, draw);
                main.extend(ordered(&points, rest, draw));
                main
            }
        };
        let mut chosen: Chosen =
            order.into_iter().map(|k| (members[k], chances[k] * share)).collect();
        let spares = chosen.split_off(n_sites.min(chosen.len()));
        (chosen, spares)
    }
}

/// Splits a sample into `number` that are spread out and the rest.
fn halve(
    points: &[(f64, f64)],
    sample: Vec<usize>,
    number: usize,
    draw: &mut Draw,
) -> (Vec<usize>, Vec<usize>) {
    if number >= sample.len() {
        return (sample, Vec::new());
    }
    let places: Vec<(f64, f64)> = sample.iter().map(|&k| points[k]).collect();
    let chances = vec![number as f64 / sample.len() as f64; sample.len()];
    let chosen = design::local_pivotal_with(&places, &chances, draw);
    let mut taken = vec![false; sample.len()];
    for &k in &chosen {
        taken[k] = true;
    }
    let (mut first, mut rest) = (Vec::new(), Vec::new());
    for (k, id) in sample.into_iter().enumerate() {
        if taken[k] { first.push(id) } else { rest.push(id) }
    }
    (first, rest)
}

/// An order of which the first half, quarter, eighth … are spread out.
fn ordered(points: &[(f64, f64)], sample: Vec<usize>, draw: &mut Draw) -> Vec<usize> {
    if sample.len() < 2 {
        return sample;
    }
    let half = sample.len().div_ceil(2);
    let (first, rest) = halve(points, sample, half, draw);
    let mut order = ordered(points, first, draw);
    order.extend(ordered(points, rest, draw));
    order
}

/// Order of places in strips of a height from the north, back and forth.
pub(crate) fn strips(places: &[(f64, f64)], height: f64) -> Vec<usize> {
    let top = places.iter().map(|place| place.1).fold(f64::NEG_INFINITY, f64::max);
    let strip = |k: usize| ((top - places[k].1) / height) as u64;
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|&a, &b| {
        strip(a).cmp(&strip(b)).then_with(|| {
            let eastward = places[a].0.total_cmp(&places[b].0);
            if strip(a).is_multiple_of(2) { eastward } else { eastward.reverse() }
        })
    });
    order
}

fn parameters_of(plan: &Balanced, side: f64, n_cells: usize) -> Vec<(String, String)> {
    let mut parameters = Vec::new();
    put(&mut parameters, "method", plan.method.key());
    put(&mut parameters, "number", plan.number);
    put(&mut parameters, "spares", plan.spares);
    put(&mut parameters, "seed", plan.seed);
    put(&mut parameters, "cell_side_m", side);
    put(&mut parameters, "cells", n_cells);
    match &plan.strata {
        Strata::None => {}
        Strata::Zones => put(&mut parameters, "strata", "zone"),
        Strata::Depths(limits) => {
            let limits = limits.iter().map(|d| d.metres().to_string()).collect::<Vec<_>>();
            put(&mut parameters, "strata", format!("depth {}", limits.join(",")));
        }
    }
    if !matches!(plan.strata, Strata::None) {
        let word = match plan.allocation {
            Allocation::Proportional => "proportional",
            Allocation::Equal => "equal",
        };
        put(&mut parameters, "allocation", word);
    }
    match &plan.weights {
        Weights::Equal => {}
        Weights::Areas(areas) => {
            for (area, factor) in areas {
                put(
                    &mut parameters,
                    "denser_in",
                    format!("{} × {factor}", text_code(area.code.as_str())),
                );
            }
        }
        Weights::Near { places, distance, factor } => {
            for (x, y) in places {
                let value = format!("{x},{y} within {} m × {factor}", distance.metres());
                put(&mut parameters, "denser_near", value);
            }
        }
    }
    parameters
}

#[cfg(test)]
mod tests;
