//! Quantities with their units in the type, and the one table of legal ranges.
//!
//! Inside Quillwort every length is in metres, every area in square metres, every volume in cubic
//! metres and every temperature in degrees Celsius. Feet, acres and degrees Fahrenheit exist only
//! where a person reads or writes. This crate refuses to know anything about lakes: start with
//! [`Metres`] and [`bounds`].

pub mod bounds;
mod format;
mod position;
mod quantity;
mod system;

pub use bounds::{Bound, OutOfRange};
pub use format::{decimals, percent, percent_whole, with_thousands};
pub use position::LonLat;
pub use quantity::{Celsius, CubicMetres, Metres, MetresPerSecond, SquareMetres};
pub use system::{
    LengthUnit, ParseLengthError, ParseLengthUnitError, UnitSystem, parse_area, parse_length,
};

/// International foot in metres, exact. Source: NIST Handbook 44 (2023), appendix C.
pub const METRES_PER_FOOT: f64 = 0.3048;
/// US survey foot in metres, retired at the end of 2022; old State Plane files still use it.
/// Source: NIST Handbook 44, appendix C.
pub const METRES_PER_SURVEY_FOOT: f64 = 1200.0 / 3937.0;
/// International acre, 43,560 square feet. Source: NIST Handbook 44, appendix C.
pub const SQUARE_METRES_PER_ACRE: f64 = 43_560.0 * METRES_PER_FOOT * METRES_PER_FOOT;
/// Acre-foot in cubic metres.
pub const CUBIC_METRES_PER_ACRE_FOOT: f64 = SQUARE_METRES_PER_ACRE * METRES_PER_FOOT;
/// Statute mile in metres, 5,280 feet.
pub const METRES_PER_MILE: f64 = 5_280.0 * METRES_PER_FOOT;
