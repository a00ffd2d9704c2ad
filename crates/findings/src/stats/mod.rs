//! The arithmetic of the findings, one family a file.
//!
//! | question | file |
//! |---|---|
//! | how common, and how sure? | [`interval`] |
//! | did it change, different sites? | [`two_proportions`], [`fisher`] |
//! | did it change, same sites? | [`paired`], [`mcnemar`], [`wilcoxon`] |
//! | many species at once? | [`adjust`] |
//! | what could have been seen? | [`power`], [`detection`] |
//! | how many kinds, how evenly? | [`diversity`], [`richness`], [`accumulation`] |
//! | how good a flora? | [`floristic`] |
//! | did two people rate alike? | [`kappa`] |
//! | how common, with unequal chances of being chosen? | [`design`] |
//! | how common, counting what throws miss? | [`occupancy`] |
//! | are two communities alike? | [`community`] |
//! | how far apart are two sets of ratings? | [`ordinal`] |
//! | is there a trend? | [`logistic`], [`mann_kendall`] |
//! | how much did a treatment take away? | [`percent_control`], [`baci`] |

pub mod accumulation;
pub mod adjust;
pub mod baci;
pub mod community;
pub mod design;
pub mod detection;
pub(crate) mod distribution;
pub mod diversity;
pub mod fisher;
pub mod floristic;
pub mod interval;
pub mod kappa;
pub mod logistic;
pub mod mann_kendall;
pub mod mcnemar;
pub mod occupancy;
pub mod ordinal;
pub mod paired;
pub mod percent_control;
pub mod power;
mod proportion;
pub(crate) mod quantile;
pub mod richness;
pub mod two_proportions;
pub mod wilcoxon;

pub use proportion::{
    Alternative, ChiSquared, Confidence, ConfidenceError, Continuity, Interval, Proportion,
    ProportionError,
};

/// A figure with its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The figure.
    pub value: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
}

/// Whether two figures agree to an absolute tolerance; the tests state theirs at each call.
#[cfg(test)]
pub(crate) fn assert_close(got: f64, want: f64, tolerance: f64, what: &str) {
    assert!(
        (got - want).abs() <= tolerance,
        "{what}: got {got:.12}, the source has {want:.12}, tolerance {tolerance:e}"
    );
}
