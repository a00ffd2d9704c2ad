use crate::frame::{FrameError, WhyNot};
use std::fmt;
use survey::Code;

/// Sites that cannot be laid.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LayoutError {
    /// The frame itself is at fault.
    #[error(transparent)]
    Frame(#[from] FrameError),
    /// A length, area or number outside its limits.
    #[error("{word} `{found}` is not {expected}\nhint: {hint}")]
    Parameter {
        /// What it is.
        word: &'static str,
        /// What was given.
        found: String,
        /// What is expected.
        expected: String,
        /// What to do.
        hint: &'static str,
    },
    /// The grid is wider than the lake.
    #[error(
        "a spacing of `{spacing:.0}` m is larger than the lake, which is {extent:.0} m across\n\
         hint: choose a spacing well below that; about {suggested:.0} m gives {sites} sites"
    )]
    SpacingTooLarge {
        /// Asked for.
        spacing: f64,
        /// Diagonal of the lake.
        extent: f64,
        /// A spacing that works.
        suggested: f64,
        /// Number of sites it gives, about.
        sites: usize,
    },
    /// No grid point fell into the water.
    #[error(
        "no point of a grid of `{spacing:.0}` m falls where sites may lie ({area:.0} m²)\n\
         hint: choose a smaller spacing, about {suggested:.0} m, or another origin"
    )]
    NoPointFits {
        /// Asked for.
        spacing: f64,
        /// Area where sites may lie, m².
        area: f64,
        /// A spacing that works.
        suggested: f64,
    },
    /// More sites than places.
    #[error(
        "`{asked}` sites are more than the water can hold: {area:.0} m² hold {holds} sites {apart} m \
         apart\n\
         hint: ask for fewer sites, or widen the depths or zones"
    )]
    TooManySites {
        /// Asked for.
        asked: usize,
        /// That fit.
        holds: usize,
        /// Area where sites may lie, m².
        area: f64,
        /// Least distance counted with, m.
        apart: f64,
    },
    /// The depth limits leave no water.
    #[error(
        "no water lies between the depth limits; the water here is {shallowest:.1} to {deepest:.1} m \
         deep\n\
         hint: choose limits inside that range"
    )]
    NoWaterInDepthRange {
        /// Shallowest met, m.
        shallowest: f64,
        /// Deepest met, m.
        deepest: f64,
    },
    /// Zones, hazards and areas taken out leave no water.
    #[error(
        "zones, hazards and areas taken out leave no water for a site\n\
         hint: choose another zone or shorten the distance to keep from hazards"
    )]
    NothingLeft,
    /// One code at several places.
    #[error(
        "site code `{code}` is given for {places} different places: {list}\n\
         hint: every code stands for one place for ever; correct the file so that each place has its \
         own"
    )]
    CodeAtSeveralPlaces {
        /// The code.
        code: Code,
        /// How many places.
        places: usize,
        /// The rows or coordinates.
        list: String,
    },
    /// Several faults of one input.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Several(Vec<Self>),
    /// Nothing was given.
    #[error("no {what} are given\nhint: {hint}")]
    Nothing {
        /// What is missing, plural.
        what: &'static str,
        /// What to do.
        hint: &'static str,
    },
    /// A zone without plant-bearing water.
    #[error(
        "zone `{zone}` has no water within the depths where plants are looked for\n\
         hint: leave the zone out, or widen the depths"
    )]
    NoLittoralWater {
        /// The zone.
        zone: Code,
    },
}

/// What the chair should know of a layout that was laid all the same.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Warning {
    /// A given site lies where the frame has none; it is kept.
    OutsideFrame {
        /// The site.
        code: Code,
        /// Why.
        why: WhyNot,
    },
    /// The same code and place twice; the second is left out.
    GivenTwice {
        /// The site.
        code: Code,
    },
    /// Two codes at one place; both are kept.
    SamePlace {
        /// One.
        code: Code,
        /// The other.
        other: Code,
    },
    /// The number asked for was not reached exactly.
    NumberNotReached {
        /// Asked for.
        asked: usize,
        /// Laid.
        laid: usize,
        /// Why.
        why: &'static str,
    },
    /// A sub-area lies outside the water; it has no site.
    PartOutsideWater {
        /// The part.
        code: Code,
    },
    /// A part is in several pieces.
    PartInPieces {
        /// The part.
        code: Code,
        /// How many.
        pieces: usize,
    },
    /// A shore section owns no littoral water.
    SectionWithoutWater {
        /// The section.
        code: Code,
    },
    /// A sub-area is larger or smaller than its zone's mean by more than 2 %.
    UnequalPart {
        /// The part.
        code: Code,
        /// Deviation in percent.
        percent: f64,
    },
    /// The lake has no depths.
    DepthsNotKnown,
    /// A stratum so small that it got no site.
    StratumWithoutSite {
        /// The stratum.
        stratum: String,
    },
    /// A zone or area holds no site.
    ZoneWithoutSite {
        /// The zone.
        code: Code,
    },
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutsideFrame { code, why } => {
                write!(f, "site `{code}` is {why}; it is kept under its number")
            }
            Self::GivenTwice { code } => {
                write!(f, "site `{code}` is given twice at one place; it is laid once")
            }
            Self::SamePlace { code, other } => {
                write!(f, "sites `{code}` and `{other}` lie at one place; both are kept")
            }
            Self::NumberNotReached { asked, laid, why } => {
                write!(f, "{asked} sites were asked for, {laid} are laid: {why}")
            }
            Self::PartOutsideWater { code } => {
                write!(f, "sub-area `{code}` lies outside the water; it has no site")
            }
            Self::PartInPieces { code, pieces } => {
                write!(f, "part `{code}` is in {pieces} pieces; its site lies in the largest")
            }
            Self::SectionWithoutWater { code } => {
                write!(
                    f,
                    "section `{code}` has no littoral water of its own; it keeps its number and has no site"
                )
            }
            Self::UnequalPart { code, percent } => {
                write!(f, "part `{code}` differs from the mean of its zone by {percent:.1} %")
            }
            Self::DepthsNotKnown => f.write_str(
                "the depths are not known: parts reach to the middle of the lake, their acreage is \
                 not that of plant-bearing water, and sites may fall too deep for plants",
            ),
            Self::StratumWithoutSite { stratum } => {
                write!(f, "stratum `{stratum}` is too small for a site of its own")
            }
            Self::ZoneWithoutSite { code } => write!(f, "zone `{code}` has no site"),
        }
    }
}
