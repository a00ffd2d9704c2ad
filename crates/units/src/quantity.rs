use crate::bounds::{self, OutOfRange};
use crate::{
    CUBIC_METRES_PER_ACRE_FOOT, METRES_PER_FOOT, METRES_PER_MILE, METRES_PER_SURVEY_FOOT,
    SQUARE_METRES_PER_ACRE,
};
use std::ops::{Add, Div, Mul, Neg, Sub};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $getter:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Wraps a finite value given in the unit of the type's name.
            ///
            /// # Panics
            /// When the value is NaN or infinite: such a value is a fault of the program, raw text
            /// goes through the checked constructors.
            pub const fn new(value: f64) -> Self {
                assert!(value.is_finite(), "a quantity is a finite number");
                Self(value)
            }

            /// The value in the unit of the type's name.
            pub const fn $getter(self) -> f64 {
                self.0
            }

            /// The smaller of two.
            pub const fn min(self, other: Self) -> Self {
                if other.0 < self.0 { other } else { self }
            }

            /// The larger of two.
            pub const fn max(self, other: Self) -> Self {
                if other.0 > self.0 { other } else { self }
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self::new(self.0 + other.0)
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self::new(self.0 - other.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self::new(self.0 * factor)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self::new(self.0 / divisor)
            }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
                values.fold(Self(0.0), Add::add)
            }
        }
    };
}

quantity!(
    /// A length or a depth in metres. Depth counts downwards and is never negative in the water.
    Metres,
    metres
);
quantity!(
    /// An area in square metres.
    SquareMetres,
    square_metres
);
quantity!(
    /// A volume in cubic metres.
    CubicMetres,
    cubic_metres
);
quantity!(
    /// A temperature in degrees Celsius.
    Celsius,
    celsius
);
quantity!(
    /// A speed in metres per second.
    MetresPerSecond,
    metres_per_second
);

impl Metres {
    /// From international feet.
    pub const fn from_feet(feet: f64) -> Self {
        Self::new(feet * METRES_PER_FOOT)
    }

    /// From US survey feet.
    pub const fn from_survey_feet(feet: f64) -> Self {
        Self::new(feet * METRES_PER_SURVEY_FOOT)
    }

    /// In international feet.
    pub const fn feet(self) -> f64 {
        self.0 / METRES_PER_FOOT
    }

    /// In statute miles.
    pub const fn miles(self) -> f64 {
        self.0 / METRES_PER_MILE
    }

    /// A depth of water, checked against [`bounds::DEPTH`].
    ///
    /// # Errors
    /// [`OutOfRange`] when negative, deeper than any lake, or not a number.
    pub fn depth(metres: f64) -> Result<Self, OutOfRange> {
        bounds::DEPTH.check(metres).map(Self)
    }
}

impl SquareMetres {
    /// From international acres.
    pub const fn from_acres(acres: f64) -> Self {
        Self::new(acres * SQUARE_METRES_PER_ACRE)
    }

    /// In international acres.
    pub const fn acres(self) -> f64 {
        self.0 / SQUARE_METRES_PER_ACRE
    }

    /// In hectares.
    pub const fn hectares(self) -> f64 {
        self.0 / 10_000.0
    }
}

impl Mul<Metres> for SquareMetres {
    type Output = CubicMetres;
    fn mul(self, depth: Metres) -> CubicMetres {
        CubicMetres::new(self.0 * depth.0)
    }
}

impl Div<SquareMetres> for CubicMetres {
    type Output = Metres;
    fn div(self, area: SquareMetres) -> Metres {
        Metres::new(self.0 / area.0)
    }
}

impl CubicMetres {
    /// From acre-feet.
    pub const fn from_acre_feet(acre_feet: f64) -> Self {
        Self::new(acre_feet * CUBIC_METRES_PER_ACRE_FOOT)
    }

    /// In acre-feet.
    pub const fn acre_feet(self) -> f64 {
        self.0 / CUBIC_METRES_PER_ACRE_FOOT
    }
}

impl Celsius {
    /// From degrees Fahrenheit.
    pub const fn from_fahrenheit(fahrenheit: f64) -> Self {
        Self::new((fahrenheit - 32.0) / 1.8)
    }

    /// In degrees Fahrenheit.
    pub const fn fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
}

impl MetresPerSecond {
    /// From statute miles an hour.
    pub const fn from_miles_per_hour(speed: f64) -> Self {
        Self::new(speed * METRES_PER_MILE / 3_600.0)
    }

    /// In statute miles an hour.
    pub const fn miles_per_hour(self) -> f64 {
        self.0 * 3_600.0 / METRES_PER_MILE
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(got: f64, want: f64, tolerance: f64) {
        assert!((got - want).abs() <= tolerance, "got {got}, want {want}");
    }

    /// Source: NIST Handbook 44 appendix C for foot, acre, acre-foot (values from memory, the
    /// arithmetic recomputed).
    #[test]
    fn nist_handbook_44_unit_table() {
        let table: &[(&str, f64, f64)] = &[
            ("foot", Metres::from_feet(1.0).metres(), 0.3048),
            ("survey foot", Metres::from_survey_feet(1.0).metres(), 0.304_800_609_601_219_2),
            ("survey/international", METRES_PER_SURVEY_FOOT / METRES_PER_FOOT, 1.000_002_000_004),
            ("acre", SquareMetres::from_acres(1.0).square_metres(), 4_046.856_422_4),
            ("acres in a hectare", SquareMetres::new(10_000.0).acres(), 2.471_053_815),
            ("acre-foot", CubicMetres::from_acre_feet(1.0).cubic_metres(), 1_233.481_837_547_52),
        ];
        for (name, got, want) in table {
            assert!((got / want - 1.0).abs() < 1e-9, "{name}: got {got}, want {want}");
        }
        // the two feet part by 1.524 m at two and a half million feet of State Plane easting
        close((Metres::from_survey_feet(2.5e6) - Metres::from_feet(2.5e6)).metres(), 1.524, 0.0005);
    }

    #[test]
    fn acre_feet_are_acres_times_feet() {
        let volume = SquareMetres::from_acres(12.5) * Metres::from_feet(6.4);
        close(volume.acre_feet(), 80.0, 1e-9);
    }

    #[test]
    fn temperatures_meet_at_minus_forty() {
        close(Celsius::from_fahrenheit(-40.0).celsius(), -40.0, 1e-12);
        close(Celsius::new(20.0).fahrenheit(), 68.0, 1e-12);
    }

    #[test]
    fn a_negative_depth_is_refused_with_the_range() {
        let error = Metres::depth(-1.0).unwrap_err();
        assert!(error.to_string().contains("depth"), "{error}");
        assert!(error.to_string().contains('0'), "{error}");
    }
}
