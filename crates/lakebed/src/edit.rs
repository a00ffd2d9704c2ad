//! Editing the shapes of a lake: splitting an area by a line, moving a vertex that several areas
//! share, joining a new area to its neighbours, and what is wrong between the areas afterwards.
//!
//! All of it is arithmetic on shapes in the working system's metres; nothing is kept here. Areas
//! that share an edge share its vertices to the last bit, and stay so.

mod flags;
mod join;
mod share;
mod split;

pub use flags::{NamedArea, ShapeFlag, flags};
pub use join::{Joined, join};
pub use share::{EditError, delete_vertex, insert_vertex, move_vertex};
pub use split::{SplitError, split};
