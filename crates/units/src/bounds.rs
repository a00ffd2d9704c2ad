//! One table of what a value may be: name, human word, unit, least, most, source.
//!
//! Every range error in Quillwort comes out of this table with one wording. The screens take their
//! hints from the same rows.

use std::fmt;

/// A row of the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bound {
    /// The word a person knows the value by.
    pub word: &'static str,
    /// The unit the limits are in.
    pub unit: &'static str,
    /// Smallest legal value.
    pub least: f64,
    /// Largest legal value.
    pub most: f64,
    /// Why these limits.
    pub source: &'static str,
}

/// Depth of water.
pub const DEPTH: Bound = Bound {
    word: "depth",
    unit: "m",
    least: 0.0,
    most: 1_700.0,
    source: "deepest lake on Earth, Baikal, 1,642 m",
};
/// Geographic latitude.
pub const LATITUDE: Bound =
    Bound { word: "latitude", unit: "degrees", least: -90.0, most: 90.0, source: "definition" };
/// Geographic longitude.
pub const LONGITUDE: Bound =
    Bound { word: "longitude", unit: "degrees", least: -180.0, most: 180.0, source: "definition" };
/// Air temperature during a survey.
pub const AIR_TEMPERATURE: Bound = Bound {
    word: "air temperature",
    unit: "°C",
    least: -30.0,
    most: 55.0,
    source: "common practice: nobody surveys outside it",
};
/// Water temperature during a survey.
pub const WATER_TEMPERATURE: Bound = Bound {
    word: "water temperature",
    unit: "°C",
    least: -1.0,
    most: 45.0,
    source: "common practice: open fresh water",
};
/// Secchi depth.
pub const SECCHI: Bound = Bound {
    word: "Secchi depth",
    unit: "m",
    least: 0.0,
    most: 50.0,
    source: "clearest lakes known stay under 50 m",
};
/// Wind speed during a survey.
pub const WIND: Bound = Bound {
    word: "wind speed",
    unit: "m/s",
    least: 0.0,
    most: 40.0,
    source: "common practice: hurricane force begins at 33 m/s",
};
/// Accuracy of a position fix.
pub const POSITION_ACCURACY: Bound = Bound {
    word: "position accuracy",
    unit: "m",
    least: 0.0,
    most: 1_000.0,
    source: "common practice: a worse fix is no fix",
};
/// A proportion.
pub const PROPORTION: Bound =
    Bound { word: "proportion", unit: "", least: 0.0, most: 1.0, source: "definition" };
/// Coefficient of conservatism.
pub const CONSERVATISM: Bound = Bound {
    word: "coefficient of conservatism",
    unit: "",
    least: 0.0,
    most: 10.0,
    source: "Swink and Wilhelm 1994; every later table keeps 0 to 10 (from memory)",
};
/// Spacing of a point grid.
pub const SPACING: Bound = Bound {
    word: "spacing",
    unit: "m",
    least: 1.0,
    most: 10_000.0,
    source: "common practice: a rake throw covers about a metre",
};

impl Bound {
    /// Hands the value back when it is a number within the limits.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise.
    pub fn check(&self, value: f64) -> Result<f64, OutOfRange> {
        if value.is_finite() && value >= self.least && value <= self.most {
            Ok(value)
        } else {
            Err(OutOfRange { bound: *self, found: value })
        }
    }
}

/// A value outside its legal range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// The row it broke.
    pub bound: Bound,
    /// The value found.
    pub found: f64,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Bound { word, unit, least, most, .. } = self.bound;
        let space = if unit.is_empty() { "" } else { " " };
        write!(f, "{word} `{}` is not between {least} and {most}{space}{unit}", self.found)
    }
}

impl std::error::Error for OutOfRange {}
