//! The survey report.

mod input;

pub use input::*;
