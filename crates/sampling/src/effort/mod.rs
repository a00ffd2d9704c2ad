//! How many sites, how many throws: by formula, by rule of thumb, by simulation.
//!
//! [`answer`] takes a [`Question`] (the purpose and what is known) and gives the number of sites by
//! formula beside the rule of thumb, with a plain sentence. [`simulate()`] draws many virtual surveys on
//! this lake and says how often they succeed. The single formulas:
//!
//! | function | question |
//! |---|---|
//! | [`chance_by_throws`] | chance to see a species that is there, by throws |
//! | [`sites_to_find`], [`sites_to_find_finite`] | sites until a species is found |
//! | [`chance_grid_hits_bed`] | chance that a grid puts a point on a bed |
//! | [`sites_for_margin`] | sites for a frequency within a margin |
//! | [`sites_for_change`], [`power_for_change`], [`detectable_change`] | change between two surveys |
//! | [`sites_against_target`] | one survey against a fixed frequency |
//! | [`sites_for_contrast`] | treated water against untreated |
//! | [`sites_for_bed_area`] | acreage of a bed from a grid |
//! | [`still_there`], [`best_visits`] | absence, and visits a site |
//! | [`rule_of_thumb`] | one site an acre |

mod answer;
mod bed;
mod change;
mod contrast;
mod detection;
mod error;
mod find;
mod hours;
mod margin;
mod normal;
mod reach;
mod sentence;
pub mod simulate;

pub use answer::{Answer, FormulaAnswer, Purpose, Question, RuleAnswer, answer, rule_of_thumb};
pub use bed::{bed_grid_spacing, chance_grid_hits_bed, margin_of_bed_area, sites_for_bed_area};
pub use change::{
    detectable_change, power_for_change, sites_against_target, sites_for_change,
    sites_for_change_corrected,
};
pub use contrast::{power_for_contrast, sites_for_contrast};
pub use detection::{best_visits, chance_by_throws, still_there, throws_for_chance};
pub use error::EffortError;
pub use find::{
    chance_to_find, chance_to_find_finite, most_missed, sites_to_find, sites_to_find_all,
    sites_to_find_finite,
};
pub use hours::{Pace, hours_of_tour, hours_on_water};
pub use margin::{margin_of, sites_for_margin};
pub use reach::{chance_of, hours_of, reached};
pub use simulate::{Simulated, Simulation, simulate};
