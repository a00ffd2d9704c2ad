use jiff::civil::Date;
use units::UnitSystem;

/// The size of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum Paper {
    /// 8½ × 11 inches.
    #[default]
    Letter,
    /// 210 × 297 millimetres.
    A4,
}

impl Paper {
    /// Width and height of the upright page in points (1/72 inch).
    pub const fn size_pt(self) -> (f64, f64) {
        match self {
            Self::Letter => (612.0, 792.0),
            Self::A4 => (595.28, 841.89),
        }
    }

    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::Letter => "us-letter",
            Self::A4 => "a4",
        }
    }
}

/// Whether colour may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum Palette {
    /// Blue for water, green for plants, magenta for what is laid over the map.
    #[default]
    Colour,
    /// Black on white: depth as contours with figures, plants as black discs.
    BlackAndWhite,
}

/// What every paper has in common.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Size of the paper.
    pub paper: Paper,
    /// Colour or black and white. Field sheets are always black and white.
    pub palette: Palette,
    /// Large type, for those who read it in a rocking boat or without their glasses.
    pub large: bool,
    /// Units a person reads.
    pub units: UnitSystem,
    /// The date printed on the paper and kept in the file: handed in, so that the same record gives
    /// the same bytes.
    pub printed_on: Date,
    /// Who made it; goes into the file's metadata. May be empty.
    pub author: String,
}

impl Settings {
    /// How much larger than usual letters are.
    pub(crate) const fn grown(&self) -> f64 {
        if self.large { 1.25 } else { 1.0 }
    }
}
