//! Virtual surveys on a virtual lake.
//!
//! A [`VirtualLake`] knows for each of many places how likely each species grows there, from its
//! habitat by depth or from the pattern of the last survey. [`simulate`] surveys it thousands of times:
//! each time the plants fall anew, the sites of a design are visited, the rake is thrown, and what comes up
//! is judged as the [`Aim`] says. The result is the same for one seed whatever the number of threads.

mod acreage;
mod lake;
mod run;
mod trial;

pub use lake::{Habitat, Pattern, VirtualLake, VirtualSpecies};
pub use run::{Watch, compare_designs, simulate};

use super::{EffortError, Pace};
use units::{Metres, SquareMetres, UnitSystem};

/// How the sites of virtual surveys lie.
#[derive(Debug, Clone, PartialEq)]
pub enum Design {
    /// At random.
    SimpleRandom,
    /// Spread out by the local pivotal method.
    LocalPivotal,
    /// Spread out by random tessellation.
    Tessellation,
    /// On a square grid with random origin; the number of sites varies a little.
    Grid,
    /// As laid by somebody else: the middles of squares, shore sections, the sites of an earlier survey. The
    /// number of sites asked for plays no part.
    Laid {
        /// Word kept with the result.
        key: String,
        /// One or more layouts, taken in turn: east and north of each site.
        layouts: Vec<Vec<(f64, f64)>>,
    },
}

impl Design {
    /// Word kept with the result.
    pub fn key(&self) -> &str {
        match self {
            Self::SimpleRandom => "simple-random",
            Self::LocalPivotal => "local-pivotal",
            Self::Tessellation => "tessellation",
            Self::Grid => "point-grid",
            Self::Laid { key, .. } => key,
        }
    }
}

/// What a virtual survey must reach to count as a success.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Aim {
    /// Find at least this share of the lake's species.
    Richness {
        /// Share, e.g. 0.9.
        share: f64,
    },
    /// Find one species at least once.
    Find {
        /// Index of the species.
        species: usize,
    },
    /// Find a round bed that lies anywhere.
    Bed {
        /// Its area; near the shore less of it is in the water.
        area: SquareMetres,
        /// Chance of one throw to bring the plant up inside the bed.
        detection: f64,
    },
    /// Measure a bed that lies anywhere, by a grid on and around it with random origin and turn. The design plays no
    /// part. The bed is about twice as long as wide, with a wavy edge; near the shore less of it is in the water.
    Acreage {
        /// Its area.
        area: SquareMetres,
        /// Relative margin of the acreage.
        margin: f64,
        /// Chance of one throw to bring the plant up inside the bed; the acreage is corrected for what is missed.
        detection: f64,
    },
    /// Estimate the share of sites where a species comes up within ± a margin of its expected value.
    Estimate {
        /// Index of the species.
        species: usize,
        /// Margin, as a share.
        margin: f64,
    },
    /// Show a change between two surveys.
    Change {
        /// Index of the species.
        species: usize,
        /// Its frequency in the second survey over that in the first; below 1 a loss.
        ratio: f64,
        /// The second survey goes back to the same sites and plants stay where they were as far as
        /// the change allows; judged by McNemar's mid-p test. Else new sites, judged by the two-proportion test.
        same_sites: bool,
        /// Confidence of the test.
        confidence: f64,
    },
}

/// Layouts drawn for each number of sites.
const LAYOUTS: usize = 100;

/// What is simulated.
#[derive(Debug, Clone, PartialEq)]
pub struct Simulation {
    /// Numbers of sites to try.
    pub sites: Vec<usize>,
    /// Throws a site.
    pub throws: u32,
    /// Virtual surveys for each number.
    pub runs: usize,
    /// Stored with the result.
    pub seed: u64,
    /// Threads; the result does not depend on it.
    pub threads: usize,
    /// How the sites lie.
    pub design: Design,
    /// Layouts drawn for each number of sites; the virtual surveys take them in turn.
    pub layouts: usize,
    /// What counts as success.
    pub aim: Aim,
    /// How fast the crew works.
    pub pace: Pace,
}

impl Simulation {
    /// 2,000 runs over a hundred layouts, two throws, spread-out sites, the usual pace.
    pub fn new(aim: Aim, sites: Vec<usize>, seed: u64) -> Self {
        Self {
            sites,
            throws: 2,
            runs: 2_000,
            seed,
            threads: 1,
            design: Design::LocalPivotal,
            layouts: LAYOUTS,
            aim,
            pace: Pace::default(),
        }
    }
}

/// How a quantity spreads over the virtual surveys.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Its value in the lake: share of places with the species, number of species.
    pub truth: f64,
    /// Mean over the surveys; below the truth by what the rake misses.
    pub mean: f64,
    /// Standard deviation.
    pub deviation: f64,
    /// 2.5 % of the surveys lie below.
    pub low: f64,
    /// 2.5 % of the surveys lie above.
    pub high: f64,
    /// Root of the mean square distance of the estimate from the mean over all places.
    pub error: f64,
}

/// The result for one number of sites.
#[derive(Debug, Clone, PartialEq)]
pub struct SimulatedEffort {
    /// Sites.
    pub sites: usize,
    /// Sites of a layout on average: a grid has sometimes more, sometimes fewer than asked for.
    pub mean_sites: f64,
    /// Share of virtual surveys that reached the aim.
    pub chance: f64,
    /// Monte Carlo standard error of that share.
    pub chance_error: f64,
    /// Distribution of the estimate: share of sites with the species, number of species found.
    pub estimate: Option<Spread>,
    /// How far the edge of a bed as drawn lies from the true one on average, where a bed is measured.
    pub edge: Option<Metres>,
    /// Mean spatial balance of the design.
    pub balance: f64,
    /// Hours on the water, both surveys of a change counted once each.
    pub hours: f64,
}

/// The result of a simulation.
#[derive(Debug, Clone, PartialEq)]
pub struct Simulated {
    /// What was simulated.
    pub simulation: Simulation,
    /// One for each number of sites.
    pub efforts: Vec<SimulatedEffort>,
}

impl Simulated {
    /// Fewest sites of those tried that reach a chance.
    pub fn fewest(&self, chance: f64) -> Option<&SimulatedEffort> {
        self.efforts
            .iter()
            .filter(|effort| effort.chance >= chance)
            .min_by_key(|effort| effort.sites)
    }

    /// What counts as a success, to follow "chance".
    pub fn aim_words(&self, units: UnitSystem) -> String {
        match self.simulation.aim {
            Aim::Richness { share } => {
                format!("to find {} of the species", percent(share))
            }
            Aim::Find { .. } => "to find the species".to_owned(),
            Aim::Bed { area, .. } => format!("to find a bed of {}", units.area(area)),
            Aim::Acreage { margin, .. } => {
                format!("to come within {:.0} % of the acreage", margin * 100.0)
            }
            Aim::Estimate { margin, .. } => {
                format!("to come within {:.0} points of the frequency", margin * 100.0)
            }
            Aim::Change { ratio, .. } if ratio < 1.0 => {
                format!("to show a loss of {}", percent(1.0 - ratio))
            }
            Aim::Change { ratio, .. } => format!("to show an increase of {}", percent(ratio - 1.0)),
        }
    }

    /// A plain sentence for one number of sites, beside the next larger one tried.
    ///
    /// `60 sites, 2 throws each: 93 % chance to find a bed of 0.5 acres; about 6 hours; 90 sites would
    /// give 98 %.`
    pub fn sentence(&self, sites: usize, units: UnitSystem) -> Option<String> {
        let effort = self.efforts.iter().find(|effort| effort.sites == sites)?;
        let next =
            self.efforts.iter().filter(|other| other.sites > sites).min_by_key(|other| other.sites);
        let what = self.aim_words(units);
        let throws = match self.simulation.throws {
            1 => "1 throw each".to_owned(),
            n => format!("{n} throws each"),
        };
        let each = if matches!(self.simulation.aim, Aim::Change { .. }) { " a survey" } else { "" };
        let site_word = if sites == 1 { "site" } else { "sites" };
        let mut text = format!(
            "{sites} {site_word}, {throws}: {} chance {what}; about {}{each}",
            simulated(effort.chance),
            hours(effort.hours)
        );
        if let Some(edge) = effort.edge {
            text.push_str(&format!(
                "; the edge as drawn is off by {} on average",
                units.depth(edge)
            ));
        }
        if let Some(next) = next {
            let more = format!("; {} sites would give {}", next.sites, simulated(next.chance));
            text.push_str(&more);
        }
        text.push('.');
        Some(text)
    }
}

/// A share as a percentage that never says 100 % for less than all of it.
pub(crate) fn percent(share: f64) -> String {
    let whole = (share * 100.0).round();
    if share < 1.0 && whole >= 100.0 {
        return "more than 99 %".to_owned();
    }
    if share > 0.0 && whole < 1.0 {
        return "less than 1 %".to_owned();
    }
    format!("{whole:.0} %")
}

/// A share of virtual surveys: all of so many is no certainty.
fn simulated(share: f64) -> String {
    if share >= 1.0 { "more than 99 %".to_owned() } else { percent(share) }
}

pub(crate) fn hours(value: f64) -> String {
    if value < 1.5 { "an hour".to_owned() } else { format!("{value:.0} hours") }
}

fn check_aim(lake: &VirtualLake, aim: &Aim) -> Result<(), EffortError> {
    use super::error::{above_zero, open, positive};
    let known = |species: usize| {
        if species < lake.species().len() {
            Ok(())
        } else {
            Err(EffortError::NothingToSimulate {
                what: "such species",
                hint: "choose one of the species of the virtual lake",
            })
        }
    };
    match *aim {
        Aim::Richness { share } => {
            positive("share of the species", share)?;
            known(0)
        }
        Aim::Find { species } => known(species),
        Aim::Bed { area, detection } => {
            above_zero("area of the bed", area.square_metres())?;
            positive("chance of one throw", detection)?;
            Ok(())
        }
        Aim::Acreage { area, margin, detection } => {
            above_zero("area of the bed", area.square_metres())?;
            open("margin", margin)?;
            positive("chance of one throw", detection)?;
            Ok(())
        }
        Aim::Estimate { species, margin } => {
            open("margin", margin)?;
            known(species)
        }
        Aim::Change { species, ratio, confidence, .. } => {
            above_zero("ratio of the frequencies", ratio)?;
            open("confidence", confidence)?;
            known(species)?;
            let from = lake.species()[species].frequency();
            if (ratio - 1.0).abs() < 1e-9 {
                return Err(EffortError::NoChange { from, to: from });
            }
            if from * ratio > 1.0 {
                return Err(EffortError::OutOfReach {
                    what: format!(
                        "a frequency of {from:.2} cannot grow {ratio} times, to more than 1"
                    ),
                    hint: "give a smaller increase",
                });
            }
            Ok(())
        }
    }
}

#[cfg(test)]
mod tests;
