//! What a survey found, and what may be said about it.
//!
//! [`SurveyFindings::of`] reads one record, [`Comparison::of`] two. Both return plain figures, each
//! with its denominator and its interval, and before them what a reader must know first. The
//! arithmetic stands in [`stats`], one family of methods a file, each with its formula, its source
//! and the published figures it reproduces. Nothing here reads a file, asks for the time or draws a
//! random number of its own.

pub mod compare;
pub mod efficacy;
mod frequency;
pub mod one;
mod random;
mod sampled;
pub mod stats;
#[cfg(test)]
mod testing;
pub mod trend;

pub use compare::Comparison;
pub use efficacy::Efficacy;
pub use frequency::Frequency;
pub use one::SurveyFindings;
pub use trend::Trend;
