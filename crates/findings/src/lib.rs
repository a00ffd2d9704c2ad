//! What a survey found, and what may be said about it.
//!
//! [`SurveyFindings::of`] reads one record, [`Comparison::of`] two, [`Trend::of`] a row of them;
//! [`Efficacy::of`] asks whether a treatment worked, [`Spread::of`] where a plant moved, [`acres`]
//! how much water it stands in, [`alerts`] what is new, and [`summary`] says it all in sentences.
//! Each returns plain figures, each with its denominator and its interval, and before them what a
//! reader must know first. The arithmetic stands in [`stats`], one family of methods a file, each with
//! its formula, its source and the published figures it reproduces. Nothing here reads a file or asks
//! for the time; where chance is drawn on, the seed is an argument and stands with the result.

pub mod acres;
pub mod alerts;
pub mod compare;
pub mod efficacy;
mod frequency;
pub mod one;
mod random;
mod sampled;
pub mod shore;
pub mod spread;
pub mod stats;
pub mod summary;
#[cfg(test)]
mod testing;
pub mod trend;

pub use compare::Comparison;
pub use efficacy::Efficacy;
pub use frequency::Frequency;
pub use one::SurveyFindings;
pub use spread::Spread;
pub use trend::Trend;
