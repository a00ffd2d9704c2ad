//! The lake's shape.

mod crs;
mod finding;
mod outline;
mod slip;

pub use crs::{Crs, CrsError, coord_of};
pub use finding::{Finding, Severity};
pub use outline::{Island, Outline, OutlineError, OutlineFault, RingName};
pub use slip::{Diagnosis, Slip, Surroundings, diagnose, strays};
