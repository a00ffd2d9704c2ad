//! Layouts: ways to turn a [`Frame`] into numbered sites.
//!
//! | layout | for |
//! |---|---|
//! | [`point_grid`] | points at equal spacing |
//! | [`sub_areas_given`] | one site in each sub-area of the lake |
//! | [`sub_areas_cut`] | sub-areas of equal size, cut from each zone's littoral water |
//! | [`shore_sections`](shore_sections()) | the shore in sections of a given length |
//! | [`squares`](squares()) | squares of a given side |
//! | [`given`](given()) | an agency's points, numbers kept |
//! | [`given_again`] | the sites of an earlier survey |
//! | [`point_grid_denser`] | a grid with a finer grid inside treatment areas |
//! | [`balanced`](balanced()) | a probability sample spread over the water, with spares |
//! | [`panel`](panel()) | some sites every year, some in turn |
//!
//! Every layout stores what lays it again, numbers its sites once, and reports what it could not do
//! as a [`Warning`] instead of leaving it out.

mod balanced;
mod error;
mod given;
mod panel;
mod parts;
mod point_grid;
mod shore_sections;
mod squares;
mod sub_areas_cut;
mod sub_areas_given;

pub use balanced::{Allocation, Balanced, BalancedMethod, Strata, Weights, balanced};
pub use error::{LayoutError, Warning};
pub use given::{GivenPoint, given, given_again};
pub use panel::{Panel, panel, panels_of_year};
pub use point_grid::{
    GridSize, Origin, PointGrid, Rotation, point_grid, point_grid_denser, spacing_for,
};
pub use shore_sections::{ShoreSections, shore_sections};
pub use squares::{PartialSquares, Squares, squares};
pub use sub_areas_cut::{SubAreaSize, sub_areas_cut};
pub use sub_areas_given::sub_areas_given;

use crate::frame::Frame;
use geo_types::MultiPolygon;
use survey::Code;
use units::{Metres, SquareMetres};

/// Sites laid out, and all that lays them again.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Name of the layout, e.g. `point-grid`.
    pub name: String,
    /// Every parameter in a fixed order, SI units in the names; includes the seed when one was used.
    pub parameters: Vec<(String, String)>,
    /// Sites in the order of their numbers; spares last, in the order they are to be used.
    pub sites: Vec<LaidSite>,
    /// The parts the sites stand for; empty for layouts of points.
    pub parts: Vec<Part>,
    /// What the chair should know.
    pub warnings: Vec<Warning>,
}

impl Layout {
    /// A parameter by name.
    pub fn parameter(&self, name: &str) -> Option<&str> {
        self.parameters.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }

    /// Sites that are not spare.
    pub fn n_sites(&self) -> usize {
        self.sites.iter().filter(|site| !site.spare).count()
    }
}

/// A site as laid.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidSite {
    /// Its number or code, never changed later.
    pub code: Code,
    /// East.
    pub x: f64,
    /// North.
    pub y: f64,
    /// Code of the zone it lies in.
    pub zone: Option<Code>,
    /// Code of the part it stands for.
    pub part: Option<Code>,
    /// Depth there, where known.
    pub depth: Option<Metres>,
    /// Chance the place had of being chosen, for a probability sample.
    pub inclusion_probability: Option<f64>,
    /// Kept in reserve for a site that cannot be reached.
    pub spare: bool,
    /// Number of its panel in a rotating survey: 0 every year, 1, 2 … in turn.
    pub panel: Option<u16>,
}

/// A piece of water a site stands for.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its code.
    pub code: Code,
    /// The zone it belongs to.
    pub zone: Option<Code>,
    /// Its outline.
    pub polygon: MultiPolygon<f64>,
    /// Its area.
    pub area: SquareMetres,
    /// Length of its shore, for shore sections.
    pub shore: Option<Metres>,
}

/// The code of the nth site, from 1, without leading zeros.
pub(crate) fn number_code(number: usize) -> Code {
    text_code(&number.to_string())
}

/// A code from text the program made itself.
pub(crate) fn text_code(text: &str) -> Code {
    Code::new(text).expect("made from codes and numbers, never empty nor too long")
}

/// A site at a place of the frame.
pub(crate) fn site_at(frame: &Frame<'_>, code: Code, x: f64, y: f64) -> LaidSite {
    let place = frame.describe(x, y);
    LaidSite {
        code,
        x,
        y,
        zone: place.zone,
        part: None,
        depth: place.depth,
        inclusion_probability: None,
        spare: false,
        panel: None,
    }
}

/// Appends a parameter.
pub(crate) fn put(parameters: &mut Vec<(String, String)>, name: &str, value: impl ToString) {
    parameters.push((name.to_owned(), value.to_string()));
}
