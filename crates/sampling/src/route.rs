//! The day on the water: distances by water, the order of the sites, boats and hours.

mod error;
mod graph;
mod matrix;
mod mesh;
mod sight;
mod water;

pub use error::RouteError;
pub use matrix::Matrix;
pub use water::{KeepOut, KeepOutReason, Lies, WaterDistance, WaterPoint};
