//! Probability samples of places, spread over the lake.
//!
//! | function | what it draws |
//! |---|---|
//! | [`local_pivotal`] | a sample that repels itself: neighbours compete for one place |
//! | [`tessellation`](tessellation()) | a sample in an order of which every run is spread out |
//! | [`simple_random`] | a plain random sample, the yardstick |
//!
//! All three keep the inclusion probabilities given to them; [`inclusion_probabilities`] makes them.

mod pivotal;
mod probabilities;
mod simple;
mod tessellation;

pub use pivotal::local_pivotal;
pub use probabilities::inclusion_probabilities;
pub use simple::simple_random;
pub use tessellation::tessellation;

pub(crate) use pivotal::local_pivotal_with;
pub(crate) use probabilities::share_out;
pub(crate) use tessellation::tessellation_with;

/// Sums and probabilities nearer to 0 or 1 than this are 0 or 1: rounding, not chance.
pub(crate) const ROUNDING: f64 = 1e-9;

#[cfg(test)]
mod tests;
