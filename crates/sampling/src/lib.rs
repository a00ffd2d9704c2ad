//! Where and how often to look: layouts of sites and the effort a question needs.
//!
//! A [`Frame`] says where sites may lie: the water, its zones, the depths that count, what to keep
//! clear of. A layout of [`layouts`] turns it into a [`layouts::Layout`]: numbered sites, the parts they
//! stand for, every parameter (origin, rotation, seed) that lays them again, and warnings. All
//! coordinates are metres in one projected system, x to the east and y to the north.
//!
//! The crate does no I/O, reads no clock and has no randomness of its own: a seed is an argument
//! and is stored with the result, and the same seed gives the same sites on every machine.

pub mod balance;
pub mod design;
pub mod effort;
mod frame;
pub mod layouts;
mod pole;
mod random;
mod region;
pub mod route;
mod shape;
pub mod solar;

pub use frame::{Cell, DepthAt, Frame, FrameError, KeepAway, Place, WhyNot, ZoneArea};
pub use pole::pole_of_inaccessibility;
pub use region::Region;
