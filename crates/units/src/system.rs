use crate::format::{decimals, with_thousands};
use crate::{Celsius, CubicMetres, METRES_PER_FOOT, METRES_PER_SURVEY_FOOT, Metres, SquareMetres};
use std::fmt;
use std::str::FromStr;

/// The units a person reads and writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum UnitSystem {
    /// Feet, acres, acre-feet, degrees Fahrenheit.
    #[default]
    Us,
    /// Metres, hectares, cubic metres, degrees Celsius.
    Metric,
}

impl UnitSystem {
    /// Word kept in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Metric => "metric",
        }
    }

    /// `ft` or `m`.
    pub const fn depth_unit(self) -> &'static str {
        match self {
            Self::Us => "ft",
            Self::Metric => "m",
        }
    }

    /// `acres` or `ha`.
    pub const fn area_unit(self) -> &'static str {
        match self {
            Self::Us => "acres",
            Self::Metric => "ha",
        }
    }

    /// The unit a bare depth or length is taken to be in.
    pub const fn length_unit(self) -> LengthUnit {
        match self {
            Self::Us => LengthUnit::Foot,
            Self::Metric => LengthUnit::Metre,
        }
    }

    /// A depth as a bare number in this system.
    pub const fn depth_value(self, depth: Metres) -> f64 {
        match self {
            Self::Us => depth.feet(),
            Self::Metric => depth.metres(),
        }
    }

    /// An area as a bare number in this system.
    pub const fn area_value(self, area: SquareMetres) -> f64 {
        match self {
            Self::Us => area.acres(),
            Self::Metric => area.hectares(),
        }
    }

    /// A depth with its unit, one decimal.
    pub fn depth(self, depth: Metres) -> String {
        format!("{} {}", decimals(self.depth_value(depth), 1), self.depth_unit())
    }

    /// An area with its unit, one decimal under a thousand.
    pub fn area(self, area: SquareMetres) -> String {
        let value = self.area_value(area);
        format!("{} {}", with_thousands(value, usize::from(value < 1_000.0)), self.area_unit())
    }

    /// A volume with its unit.
    pub fn volume(self, volume: CubicMetres) -> String {
        match self {
            Self::Us => format!("{} acre-feet", with_thousands(volume.acre_feet(), 0)),
            Self::Metric => format!("{} m³", with_thousands(volume.cubic_metres(), 0)),
        }
    }

    /// A long distance with its unit: miles or kilometres.
    pub fn distance(self, length: Metres) -> String {
        match self {
            Self::Us => format!("{} mi", decimals(length.miles(), 2)),
            Self::Metric => format!("{} km", decimals(length.metres() / 1_000.0, 2)),
        }
    }

    /// A temperature with its unit, whole degrees.
    pub fn temperature(self, temperature: Celsius) -> String {
        match self {
            Self::Us => format!("{} °F", decimals(temperature.fahrenheit(), 0)),
            Self::Metric => format!("{} °C", decimals(temperature.celsius(), 0)),
        }
    }
}

impl FromStr for UnitSystem {
    type Err = ParseLengthUnitError;
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match text.trim().to_ascii_lowercase().as_str() {
            "us" => Ok(Self::Us),
            "metric" | "si" => Ok(Self::Metric),
            _ => Err(ParseLengthUnitError { found: text.to_owned(), expected: "us or metric" }),
        }
    }
}

/// A unit of length met in files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LengthUnit {
    /// Metre.
    Metre,
    /// International foot.
    Foot,
    /// US survey foot.
    SurveyFoot,
    /// Centimetre.
    Centimetre,
    /// Fathom, six feet.
    Fathom,
}

impl LengthUnit {
    /// Metres in one of it.
    pub const fn metres(self) -> f64 {
        match self {
            Self::Metre => 1.0,
            Self::Foot => METRES_PER_FOOT,
            Self::SurveyFoot => METRES_PER_SURVEY_FOOT,
            Self::Centimetre => 0.01,
            Self::Fathom => 6.0 * METRES_PER_FOOT,
        }
    }

    /// Short sign.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Metre => "m",
            Self::Foot => "ft",
            Self::SurveyFoot => "US survey ft",
            Self::Centimetre => "cm",
            Self::Fathom => "fathom",
        }
    }
}

impl FromStr for LengthUnit {
    type Err = ParseLengthUnitError;
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match text.trim().trim_end_matches('.').to_ascii_lowercase().as_str() {
            "m" | "metre" | "metres" | "meter" | "meters" => Ok(Self::Metre),
            "ft" | "foot" | "feet" | "'" => Ok(Self::Foot),
            "ftus" | "us-ft" | "survey-ft" | "us survey ft" => Ok(Self::SurveyFoot),
            "cm" => Ok(Self::Centimetre),
            "fathom" | "fathoms" | "ftm" => Ok(Self::Fathom),
            _ => Err(ParseLengthUnitError {
                found: text.to_owned(),
                expected: "m, ft, survey-ft, cm or fathom",
            }),
        }
    }
}

/// A unit nobody here knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParseLengthUnitError {
    /// The text found.
    pub found: String,
    /// The words known.
    pub expected: &'static str,
}

impl fmt::Display for ParseLengthUnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "unit `{}` is not one of {}", self.found, self.expected)
    }
}

impl std::error::Error for ParseLengthUnitError {}

/// A length or an area that could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParseLengthError {
    /// The text found.
    pub found: String,
    /// An example of what would do.
    pub expected: &'static str,
}

impl fmt::Display for ParseLengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}` is not a measure such as {}", self.found, self.expected)
    }
}

impl std::error::Error for ParseLengthError {}

fn split_number(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+')))
        .unwrap_or(text.len());
    let number: f64 = text[..end].parse().ok()?;
    number.is_finite().then(|| (number, text[end..].trim()))
}

/// Reads `70m`, `250 ft` or a bare number in `default`.
///
/// # Errors
/// [`ParseLengthError`] when the text has no number or an unknown unit.
pub fn parse_length(text: &str, default: LengthUnit) -> Result<Metres, ParseLengthError> {
    let error = || ParseLengthError { found: text.to_owned(), expected: "`70m` or `250ft`" };
    let (number, sign) = split_number(text).ok_or_else(error)?;
    let unit = if sign.is_empty() { default } else { sign.parse().ok().ok_or_else(error)? };
    Ok(Metres::new(number * unit.metres()))
}

/// Reads `1.2ac`, `0.5ha`, `900m2` or a bare number of acres or hectares.
///
/// # Errors
/// [`ParseLengthError`] when the text has no number or an unknown unit.
pub fn parse_area(text: &str, default: UnitSystem) -> Result<SquareMetres, ParseLengthError> {
    let error = || ParseLengthError { found: text.to_owned(), expected: "`1.2ac` or `0.5ha`" };
    let (number, sign) = split_number(text).ok_or_else(error)?;
    match (sign.to_ascii_lowercase().as_str(), default) {
        ("ac" | "acre" | "acres", _) | ("", UnitSystem::Us) => Ok(SquareMetres::from_acres(number)),
        ("ha", _) | ("", UnitSystem::Metric) => Ok(SquareMetres::new(number * 10_000.0)),
        ("m2" | "m²", _) => Ok(SquareMetres::new(number)),
        _ => Err(error()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_with_and_without_a_unit() {
        for (text, want) in
            [("70m", 70.0), ("250 ft", 76.2), ("10", 3.048), ("1.5 fathom", 2.743_2)]
        {
            let got = parse_length(text, LengthUnit::Foot).unwrap().metres();
            assert!((got - want).abs() < 1e-12, "{text}: got {got}, want {want}");
        }
        assert!(parse_length("seventy", LengthUnit::Foot).is_err());
        assert!(parse_length("70 parsec", LengthUnit::Foot).is_err());
    }

    #[test]
    fn areas_are_read_with_and_without_a_unit() {
        for (text, want) in [("1ac", 4_046.856_422_4), ("0.5ha", 5_000.0), ("2", 8_093.712_844_8)] {
            let got = parse_area(text, UnitSystem::Us).unwrap().square_metres();
            assert!((got - want).abs() < 1e-9, "{text}: got {got}, want {want}");
        }
    }

    #[test]
    fn each_system_writes_its_own_units() {
        let depth = Metres::from_feet(12.0);
        assert_eq!(UnitSystem::Us.depth(depth), "12.0 ft");
        assert_eq!(UnitSystem::Metric.depth(depth), "3.7 m");
        assert_eq!(UnitSystem::Us.area(SquareMetres::from_acres(1_234.4)), "1,234 acres");
    }
}
