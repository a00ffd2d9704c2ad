//! Many virtual surveys on several threads.

use super::super::{EffortError, bed_grid_spacing, hours_on_water};
use super::trial::{Outcome, Trial, grid_places};
use super::{Aim, Design, Simulated, SimulatedEffort, Simulation, Spread, VirtualLake, check_aim};
use crate::balance::balance_of;
use crate::design::{local_pivotal_with, simple_random, tessellation_with};
use crate::random::Draw;
use std::fmt;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use units::{Metres, SquareMetres};

/// Tells how far a simulation is, and lets a person stop it.
#[derive(Clone, Copy, Default)]
pub struct Watch<'w> {
    /// Called now and then with virtual surveys done and all of them.
    pub progress: Option<&'w (dyn Fn(usize, usize) + Sync)>,
    /// Set it to stop.
    pub cancel: Option<&'w AtomicBool>,
}

impl fmt::Debug for Watch<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Watch")
            .field("progress", &self.progress.is_some())
            .field("cancel", &self.cancel)
            .finish()
    }
}

impl Watch<'_> {
    fn stopped(&self) -> bool {
        self.cancel.is_some_and(|flag| flag.load(Ordering::Relaxed))
    }
}

/// Virtual surveys a thread takes at a time; each such lot has a random stream of its own.
const LOT: usize = 100;
/// Places the balance of a design is measured on.
const BALANCE_LAYOUTS: usize = 8;

/// Surveys a virtual lake many times for each number of sites.
///
/// # Assumptions
/// Whether a species grows at one place does not depend on its neighbours beyond what the pattern of
/// chances says; throws are independent; nobody misnames a plant. Each number of sites has its layouts,
/// used in turn; the plants fall anew in every survey.
/// # Errors
/// Nothing to simulate, more sites than places, chances outside their limits; [`EffortError::Cancelled`] when
/// stopped: nothing is kept.
pub fn simulate(
    lake: &VirtualLake,
    simulation: &Simulation,
    watch: Watch<'_>,
) -> Result<Simulated, EffortError> {
    check(lake, simulation)?;
    let n_lots = simulation.runs.div_ceil(LOT);
    let total = simulation.sites.len() * simulation.runs;
    let done = AtomicUsize::new(0);
    let cancelled = || EffortError::Cancelled { done: done.load(Ordering::Relaxed), total };
    let mut efforts = Vec::new();
    for (number, &n_sites) in simulation.sites.iter().enumerate() {
        let trial = Trial::new(lake, &simulation.aim, simulation.throws, n_sites);
        let mut layouts = Vec::new();
        let wanted = match &simulation.design {
            Design::Laid { layouts, .. } => layouts.len(),
            // a bed is measured by a grid of its own
            _ if matches!(simulation.aim, Aim::Acreage { .. }) => 1,
            _ => simulation.layouts.clamp(1, simulation.runs.max(2)),
        };
        for k in 0..wanted {
            if watch.stopped() {
                return Err(cancelled());
            }
            let stream = (number as u64) << 32 | k as u64;
            let mut draw = Draw::stream(simulation.seed, stream << 1);
            let layout = match &simulation.design {
                Design::Laid { layouts, .. } => lake.nearest_places(&layouts[k]),
                design => lay(lake, design, n_sites, &mut draw),
            };
            if !layout.is_empty() {
                layouts.push(layout);
            }
        }
        let most_sites = layouts.iter().map(Vec::len).max().unwrap_or(0);
        if most_sites == 0 {
            return Err(EffortError::NothingToSimulate {
                what: "grid point that falls into the water",
                hint: "ask for more sites",
            });
        }
        let next = AtomicUsize::new(0);
        let sum = Mutex::new(Tally::new(trial.n_values(most_sites)));
        let work = || {
            let mut tally = Tally::new(trial.n_values(most_sites));
            loop {
                let lot = next.fetch_add(1, Ordering::Relaxed);
                if lot >= n_lots || watch.stopped() {
                    break;
                }
                let stream = (number as u64) << 32 | lot as u64;
                let mut draw = Draw::stream(simulation.seed, stream << 1 | 1);
                let last = ((lot + 1) * LOT).min(simulation.runs);
                for run in lot * LOT..last {
                    let sites = &layouts[run % layouts.len()];
                    let again = &layouts[(run + layouts.len() / 2) % layouts.len()];
                    tally.add(trial.survey(lake, sites, again, &mut draw));
                }
                let so_far = done.fetch_add(last - lot * LOT, Ordering::Relaxed) + last - lot * LOT;
                if let Some(progress) = watch.progress {
                    progress(so_far, total);
                }
            }
            if let Ok(mut sum) = sum.lock() {
                sum.merge(&tally);
            }
        };
        std::thread::scope(|scope| {
            for _ in 1..simulation.threads.max(1) {
                scope.spawn(work);
            }
            work();
        });
        if watch.stopped() {
            return Err(cancelled());
        }
        let tally = sum.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
        efforts.push(summarise(lake, simulation, n_sites, &layouts, &tally)?);
    }
    Ok(Simulated { simulation: simulation.clone(), efforts })
}

/// Simulates several designs side by side with all else equal: precision, chance, balance and hours of
/// each.
///
/// # Errors
/// As [`simulate`].
pub fn compare_designs(
    lake: &VirtualLake,
    simulation: &Simulation,
    designs: &[Design],
    watch: Watch<'_>,
) -> Result<Vec<Simulated>, EffortError> {
    designs
        .iter()
        .map(|design| {
            simulate(lake, &Simulation { design: design.clone(), ..simulation.clone() }, watch)
        })
        .collect()
}

fn check(lake: &VirtualLake, simulation: &Simulation) -> Result<(), EffortError> {
    let nothing = |what, hint| Err(EffortError::NothingToSimulate { what, hint });
    if simulation.runs == 0 {
        return nothing("virtual surveys", "ask for at least 1,000 runs");
    }
    if simulation.throws == 0 {
        return nothing("throws", "ask for 1 to 3 throws a site");
    }
    if simulation.sites.is_empty() || simulation.sites.contains(&0) {
        return nothing("sites", "give one or more numbers of sites, each at least 1");
    }
    if let Some(most) = simulation.sites.iter().find(|n| **n > lake.places().len()) {
        return Err(EffortError::OutOfReach {
            what: format!(
                "`{most}` sites are more than the {} places of the virtual lake",
                lake.places().len()
            ),
            hint: "ask for fewer sites or more places",
        });
    }
    check_aim(lake, &simulation.aim)
}

impl VirtualLake {
    /// One layout of a design as the virtual surveys draw it: the first of the first number of sites.
    pub fn layout_places(&self, simulation: &Simulation, seed: u64) -> Vec<(f64, f64)> {
        let number = simulation.sites.first().copied().unwrap_or(0).min(self.places().len());
        match &simulation.design {
            Design::Laid { layouts, .. } => layouts.first().cloned().unwrap_or_default(),
            design => {
                let mut draw = Draw::stream(seed, 0);
                let chosen = lay(self, design, number, &mut draw);
                chosen.into_iter().map(|index| self.places()[index as usize]).collect()
            }
        }
    }
}

/// Indices of the places of one layout.
fn lay(lake: &VirtualLake, design: &Design, number: usize, draw: &mut Draw) -> Vec<u32> {
    let places = lake.places();
    let chances = || vec![number as f64 / places.len() as f64; places.len()];
    let chosen = match design {
        Design::SimpleRandom => simple_random(places.len(), number, draw.bits()),
        Design::LocalPivotal => local_pivotal_with(places, &chances(), draw),
        Design::Tessellation => tessellation_with(places, &chances(), draw),
        Design::Grid => return grid_places(lake, number, draw),
        Design::Laid { .. } => return Vec::new(),
    };
    chosen.into_iter().map(|index| index as u32).collect()
}

/// Counts of one simulation; whole numbers only, so that the order of adding does not matter.
#[derive(Debug, Clone)]
struct Tally {
    runs: u64,
    successes: u64,
    /// Sum of the faults of edges, millimetres.
    edges: u64,
    /// How often each value was met, for layouts of each size.
    values: std::collections::BTreeMap<(usize, usize), u64>,
    keep: bool,
}

impl Tally {
    fn new(n_values: usize) -> Self {
        Self {
            runs: 0,
            successes: 0,
            edges: 0,
            values: std::collections::BTreeMap::new(),
            keep: n_values > 0,
        }
    }

    fn add(&mut self, outcome: Outcome) {
        self.runs += 1;
        self.successes += u64::from(outcome.success);
        self.edges += outcome.edge;
        if self.keep {
            *self.values.entry((outcome.value, outcome.of)).or_insert(0) += 1;
        }
    }

    fn merge(&mut self, other: &Self) {
        self.runs += other.runs;
        self.successes += other.successes;
        self.edges += other.edges;
        for (key, count) in &other.values {
            *self.values.entry(*key).or_insert(0) += count;
        }
    }
}

fn summarise(
    lake: &VirtualLake,
    simulation: &Simulation,
    n_sites: usize,
    layouts: &[Vec<u32>],
    tally: &Tally,
) -> Result<SimulatedEffort, EffortError> {
    let chance = tally.successes as f64 / tally.runs as f64;
    let places = lake.places();
    let some = &layouts[..layouts.len().min(BALANCE_LAYOUTS)];
    let balance = some
        .iter()
        .filter_map(|layout| {
            let sites: Vec<(f64, f64)> = layout.iter().map(|&k| places[k as usize]).collect();
            balance_of(&sites, places, |_| sites.len() as f64 / places.len() as f64)
        })
        .sum::<f64>()
        / some.len() as f64;
    let estimate = match simulation.aim {
        Aim::Estimate { species, .. } => {
            let one = &lake.species()[species];
            let expected =
                one.frequency() * (1.0 - (1.0 - one.detection).powi(simulation.throws as i32));
            Some(spread(tally, one.frequency(), expected, |value, n| value as f64 / n as f64))
        }
        Aim::Richness { .. } => {
            let there = lake.species().iter().filter(|one| one.frequency() > 0.0).count() as f64;
            Some(spread(tally, there, there, |value, _| value as f64))
        }
        Aim::Acreage { .. } => Some(spread(tally, 1.0, 1.0, |value, n| value as f64 / n as f64)),
        Aim::Find { .. } | Aim::Bed { .. } | Aim::Change { .. } => None,
    };
    let area = match simulation.aim {
        Aim::Acreage { area, .. } => {
            SquareMetres::new(n_sites as f64 * bed_grid_spacing(area, n_sites).powi(2))
        }
        _ => lake.area(),
    };
    Ok(SimulatedEffort {
        sites: n_sites,
        mean_sites: layouts.iter().map(Vec::len).sum::<usize>() as f64 / layouts.len() as f64,
        chance,
        chance_error: (chance * (1.0 - chance) / tally.runs as f64).sqrt(),
        estimate,
        edge: matches!(simulation.aim, Aim::Acreage { .. })
            .then(|| Metres::new(tally.edges as f64 / tally.runs as f64 / 1e3)),
        balance,
        hours: hours_on_water(n_sites, simulation.throws, area, &simulation.pace)?,
    })
}

fn spread(tally: &Tally, truth: f64, expected: f64, value: impl Fn(usize, usize) -> f64) -> Spread {
    let mut values: Vec<(f64, u64)> =
        tally.values.iter().map(|(&(v, n), &count)| (value(v, n), count)).collect();
    values.sort_by(|a, b| a.0.total_cmp(&b.0));
    let runs = tally.runs as f64;
    let mean = values.iter().map(|(v, count)| v * *count as f64).sum::<f64>() / runs;
    let square = values.iter().map(|(v, count)| (v - mean).powi(2) * *count as f64).sum::<f64>();
    let at = |share: f64| {
        let mut passed = 0;
        values
            .iter()
            .find(|(_, count)| {
                passed += count;
                passed as f64 >= share * runs
            })
            .or(values.last())
            .map_or(f64::NAN, |(v, _)| *v)
    };
    Spread {
        truth,
        mean,
        deviation: (square / (runs - 1.0).max(1.0)).sqrt(),
        low: at(0.025),
        high: at(0.975),
        error: (square / runs + (mean - expected).powi(2)).sqrt(),
    }
}
