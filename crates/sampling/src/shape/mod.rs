//! Cutting water into parts without gap or overlap.

pub(crate) mod bisect;
mod borders;
pub(crate) mod shore;
mod snap;
pub(crate) mod subdivide;
