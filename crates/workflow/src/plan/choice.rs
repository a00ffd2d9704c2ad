//! What can be asked of a plan.

use std::path::PathBuf;
use survey::{Code, Purpose};
use units::{LonLat, Metres, SquareMetres};

/// How to lay the sites.
#[derive(Debug, Clone, PartialEq)]
pub enum LayoutChoice {
    /// A square grid of points.
    PointGrid {
        /// Distance between points, or how many.
        size: GridChoice,
        /// Which way turned.
        rotation: GridTurn,
        /// Draws the origin; the middle of the box around the water when none.
        seed: Option<u64>,
    },
    /// One site in each sub-area of the book.
    SubAreas,
    /// Zones cut into parts, a site in each.
    CutSubAreas {
        /// How many parts, or how large.
        size: PartChoice,
    },
    /// Sections of shore, each with the littoral water nearest to it.
    ShoreSections {
        /// Length of a section.
        length: Metres,
        /// Cut the water beyond into parts of this area.
        offshore: Option<SquareMetres>,
        /// Corners fall on landmarks.
        at_landmarks: bool,
    },
    /// Squares of a grid.
    Squares {
        /// Side of a square.
        side: Metres,
        /// Clockwise turn in degrees.
        rotation: f64,
        /// Partial squares smaller than this share join a neighbour; kept when none.
        merge: Option<f64>,
    },
    /// A spatially balanced probability sample.
    Balanced {
        /// How many.
        sites: usize,
        /// Spares in order.
        spares: usize,
        /// Sampled each for itself.
        strata: StrataChoice,
        /// The same number to each stratum, not in proportion to its water.
        equal_strata: bool,
        /// Spread by random tessellation, not by the local pivotal method.
        tessellation: bool,
        /// Draws the sample.
        seed: u64,
    },
    /// Some sites every year, some in turn.
    Panel {
        /// Visited every year.
        every_year: usize,
        /// Visited in a year, taking turns.
        in_turn: usize,
        /// Years until the turn is round.
        years: u16,
        /// Draws the sample.
        seed: u64,
    },
    /// The sites of an earlier survey again.
    Again(String),
    /// Points of a file, numbers kept.
    Given(PathBuf),
    /// Points with their numbers.
    Points(Vec<(Code, LonLat)>),
}

/// Which way a grid is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GridTurn {
    /// Clockwise, in degrees.
    Degrees(f64),
    /// The turn whose points are spread best.
    Best,
}

/// Where sites lie closer.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Denser {
    /// So many times as likely, or as many, inside treatment areas.
    pub in_treatments: Option<f64>,
    /// So many times as likely, or as many, near launches.
    pub near_launches: Option<f64>,
    /// How near.
    pub within: Option<Metres>,
}

/// How close the points of a grid lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GridChoice {
    /// This far apart.
    Spacing(Metres),
    /// As near to this many as a spacing can give.
    Sites(usize),
}

/// How many parts, or how large.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PartChoice {
    /// Over all zones, shared out by area.
    Number(usize),
    /// Of about this area.
    Area(SquareMetres),
}

/// Parts of the lake sampled each for itself.
#[derive(Debug, Clone, PartialEq)]
pub enum StrataChoice {
    /// The whole frame at once.
    None,
    /// Each zone.
    Zones,
    /// Bands of depth with these limits.
    Depths(Vec<Metres>),
}

/// What the user asks of a plan.
#[derive(Debug, Clone)]
pub struct PlanRequest {
    /// Name of the survey; made when new.
    pub survey: String,
    /// How to lay the sites.
    pub layout: LayoutChoice,
    /// Shallowest water to lay sites in.
    pub min_depth: Option<Metres>,
    /// Deepest water to lay sites in.
    pub max_depth: Option<Metres>,
    /// Zones to lay sites in; all when empty.
    pub zones: Vec<String>,
    /// Distance to keep from hazards; the usual one when not said.
    pub keep_away: Option<Metres>,
    /// Where sites lie closer.
    pub denser: Denser,
    /// System of the file's coordinates.
    pub crs: Option<String>,
    /// Rating scale.
    pub scale: Option<String>,
    /// Why it is another scale than the surveys before were rated on.
    pub scale_reason: String,
    /// Rake throws a site.
    pub throws: Option<u8>,
    /// Why.
    pub purpose: Option<Purpose>,
    /// Lay the sites again, as long as none is visited.
    pub again: bool,
}

impl PlanRequest {
    /// A plan of a layout without any limits.
    pub fn new(survey: &str, layout: LayoutChoice) -> Self {
        Self {
            survey: survey.to_owned(),
            layout,
            min_depth: None,
            max_depth: None,
            zones: Vec::new(),
            keep_away: None,
            denser: Denser::default(),
            crs: None,
            scale: None,
            scale_reason: String::new(),
            throws: None,
            purpose: None,
            again: false,
        }
    }
}
