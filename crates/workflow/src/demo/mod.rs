//! Lake Tamarin, an invention: a lake that exists nowhere, with plants that behave as plants do.
//!
//! Everything comes out of a fixed seed, so two demo books hold the same lake. The lake is written
//! as ordinary files first and goes into its book by the same steps a user takes.

mod files;
mod ground;
mod make;
mod plants;
mod random;

pub use make::{DemoMade, make};
