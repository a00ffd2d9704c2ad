//! What makes an outline no lake.

use super::RingName;
use crate::crs::CrsError;
use std::fmt;
use units::{LonLat, SquareMetres};

/// Smallest water anyone surveys by boat. Common practice: a fortieth of an acre.
pub(super) const LEAST_AREA: SquareMetres = SquareMetres::new(100.0);
/// Largest lake by area is the Caspian, 371,000 km² (from memory); more is a wrong layer or unit.
pub(super) const MOST_AREA: SquareMetres = SquareMetres::new(4.0e11);
/// One fault of an outline.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OutlineFault {
    /// There is no ring with three corners.
    #[error("the outline has no ring of at least three corners")]
    Empty,
    /// A vertex is not a place on Earth.
    #[error("vertex {vertex} of {ring} is `{x}, {y}`, which is not a longitude and latitude")]
    NotAPlace {
        /// The ring.
        ring: RingName,
        /// The vertex, counted from 1.
        vertex: usize,
        /// First number.
        x: f64,
        /// Second number.
        y: f64,
    },
    /// A ring crosses itself.
    #[error("{ring} crosses itself {} time{}, first at {}", places.len(), plural(places.len()), first(places))]
    SelfCrossing {
        /// The ring.
        ring: RingName,
        /// Where.
        places: Vec<LonLat>,
    },
    /// Two rings cross each other.
    #[error("{one} and {other} cross each other {} time{}, first at {}", places.len(), plural(places.len()), first(places))]
    RingsCross {
        /// One ring.
        one: RingName,
        /// The other.
        other: RingName,
        /// Where.
        places: Vec<LonLat>,
    },
    /// An island that lies outside its lake.
    #[error("{ring} lies outside the shore of its lake, at {place}")]
    IslandOutside {
        /// The island.
        ring: RingName,
        /// Where.
        place: LonLat,
    },
    /// A piece that lies on another piece: often an island given as a polygon of its own.
    #[error("piece {one} of the outline lies on piece {other}, at {place}", one = one + 1, other = other + 1)]
    PiecesOverlap {
        /// One piece, from 0.
        one: usize,
        /// The other, from 0.
        other: usize,
        /// Where.
        place: LonLat,
    },
    /// Too small for a lake.
    #[error("the outline holds `{:.1}` square metres, less than {:.0}", area.square_metres(), LEAST_AREA.square_metres())]
    TooSmall {
        /// What it holds.
        area: SquareMetres,
    },
    /// Too large for a lake.
    #[error("the outline holds `{:.0}` square kilometres, more than any lake", area.square_metres() / 1e6)]
    TooLarge {
        /// What it holds.
        area: SquareMetres,
    },
    /// The working system does not fit the place.
    #[error("`{crs}` changes areas by {percent:.1} % here")]
    Distorted {
        /// The system.
        crs: String,
        /// By how much.
        percent: f64,
    },
    /// The working system cannot hold the outline.
    #[error(transparent)]
    Crs(#[from] CrsError),
}

pub(super) fn plural(count: usize) -> &'static str {
    if count == 1 { "" } else { "s" }
}

fn first(places: &[LonLat]) -> String {
    places.first().map_or_else(String::new, ToString::to_string)
}

impl OutlineFault {
    /// What a person can do about it.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::Empty => {
                "choose the layer that holds the lake as an area, not as lines or points"
            }
            Self::NotAPlace { .. } => {
                "check the file's coordinate reference system and the order of its axes"
            }
            Self::SelfCrossing { .. } | Self::RingsCross { .. } => {
                "move the vertices at that place in a GIS so that the shore no longer crosses"
            }
            Self::IslandOutside { .. } => "delete the island, or give it as a lake of its own",
            Self::PiecesOverlap { .. } => {
                "cut an island out of the lake as a hole; join pieces of water that overlap"
            }
            Self::TooSmall { .. } => {
                "check the unit: feet read as metres or degrees make a lake shrink"
            }
            Self::TooLarge { .. } => "choose the lake alone, not the whole layer; check the unit",
            Self::Distorted { .. } => "leave the system out to get the UTM zone of the lake",
            Self::Crs(error) => error.hint(),
        }
    }

    /// Where on the map, when it is a place.
    pub fn place(&self) -> Option<LonLat> {
        match self {
            Self::SelfCrossing { places, .. } | Self::RingsCross { places, .. } => {
                places.first().copied()
            }
            Self::IslandOutside { place, .. } | Self::PiecesOverlap { place, .. } => Some(*place),
            _ => None,
        }
    }
}

/// An outline that cannot be a lake, with all that is wrong with it at once.
#[derive(Debug, Clone, PartialEq)]
pub struct OutlineError {
    /// Every fault found, in the order of the rings.
    pub faults: Vec<OutlineFault>,
}

impl fmt::Display for OutlineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.faults.iter().enumerate() {
            if index > 0 {
                writeln!(f)?;
            }
            write!(f, "{fault}\nhint: {}", fault.hint())?;
        }
        Ok(())
    }
}

impl std::error::Error for OutlineError {}

impl<T: Into<OutlineFault>> From<T> for OutlineError {
    fn from(fault: T) -> Self {
        Self { faults: vec![fault.into()] }
    }
}
