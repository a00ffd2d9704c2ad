//! The bed between the soundings: one surface from whatever depths there are.

mod choose;
mod clean;
mod data;
mod flats;
mod grid;
mod nearest;
mod surface;
mod validate;

use crate::at_once;
use crate::finding::Finding;
use crate::outline::Outline;
use clean::CleanData;
use geo::{Densify, Euclidean};
use geo_types::{Coord, LineString};
use nearest::{Datum, Nearest};
use spade::Triangulation;
use std::fmt;
use surface::{Kind, Network, Surface, Vertex};
use units::Metres;

pub use data::{ContourLine, DepthData, DepthRaster, Sounding};
pub use grid::{Cell, Grid};
pub use validate::{DepthModelError, ErrorMethod};

/// How depths between the data are found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Method {
    /// The one of the two that predicts left-out soundings better; linear where there is nothing to
    /// try it on.
    #[default]
    Auto,
    /// Plane triangles between the data, no triangle across a shore or a contour.
    Linear,
    /// Natural neighbours: every datum counts by the ground it would lose to the place.
    ///
    /// # References
    /// Sibson (1981), A brief description of natural neighbour interpolation, in Barnett (ed.),
    /// Interpreting Multivariate Data, 21–36.
    NaturalNeighbour,
}

impl fmt::Display for Method {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Auto => "chosen by error",
            Self::Linear => "linear",
            Self::NaturalNeighbour => "natural neighbour",
        })
    }
}

/// What the depth is along the shore.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ShoreRule {
    /// From the data when they are a fitted surface that covers the lake, else nil.
    #[default]
    Auto,
    /// Nil along every shore, islands as well.
    Zero,
    /// That of the nearest datum: for a surface that someone has fitted already, steep shores and
    /// walls.
    FromData,
}

/// Choices for a depth model. The defaults suit nearly every lake.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DepthOptions {
    /// How depths between the data are found.
    pub method: Method,
    /// What the depth is along the shore.
    pub shore: ShoreRule,
    /// Side of a cell of the grid; chosen from the lake's size and the data's spacing when none.
    pub cell: Option<Metres>,
    /// Most cells in the rectangle around the lake when the side is chosen.
    pub most_cells: usize,
}

impl Default for DepthOptions {
    fn default() -> Self {
        Self { method: Method::Auto, shore: ShoreRule::Auto, cell: None, most_cells: 160_000 }
    }
}

/// Depths that cannot become a model.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DepthError {
    /// Nothing was given.
    #[error("there are no depths")]
    NoData,
    /// All of it lies outside the lake.
    #[error("none of the {total} depths lies in the lake")]
    NothingInTheLake {
        /// How many soundings and contours.
        total: usize,
    },
    /// A depth or a place that is no number.
    #[error(
        "{what} {number} has a depth `{found}` or a position that is not a number; {count} such in all"
    )]
    NotANumber {
        /// `sounding` or `contour`.
        what: &'static str,
        /// The first, counted from 1.
        number: usize,
        /// How many.
        count: usize,
        /// Depth of the first.
        found: f64,
    },
    /// Deeper than any lake on Earth.
    #[error("the deepest depth is `{found}` m; no lake is deeper than {:.0} m", units::bounds::DEPTH.most)]
    TooDeep {
        /// The depth.
        found: f64,
    },
    /// Most depths are negative.
    #[error(
        "{negative} of {total} depths are negative, the first `{example}` m; depth counts downwards from the water"
    )]
    MostlyNegative {
        /// How many.
        negative: usize,
        /// Of how many.
        total: usize,
        /// The first.
        example: f64,
    },
    /// Places so odd that no triangulation exists.
    #[error("the depths cannot be triangulated")]
    NoTriangulation,
    /// A cell size that makes no grid.
    #[error(
        "a cell of `{cell}` m makes a grid of {cells} cells, which is not between 1 and {MOST_CELLS}"
    )]
    BadCell {
        /// Side of a cell.
        cell: f64,
        /// How many cells that would be.
        cells: f64,
    },
}

/// A grid with more cells fills the memory of an old laptop.
const MOST_CELLS: usize = 20_000_000;

impl DepthError {
    /// What a person can do about it.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::NoData => "add soundings, contours or a raster of depths first",
            Self::NothingInTheLake { .. } => {
                "check the coordinate reference system of the depths, and that they are of this lake"
            }
            Self::NotANumber { .. } => "delete the row, or give its depth",
            Self::TooDeep { .. } => {
                "check the unit: feet, centimetres or elevations read as metres look like this"
            }
            Self::MostlyNegative { .. } => {
                "give the column's sign the other way round, or for elevations the level of the water surface"
            }
            Self::NoTriangulation => "check the positions of the depths",
            Self::BadCell { .. } => "leave the cell size out to have it chosen",
        }
    }
}

/// The data of a model by place, and its local origin.
pub(crate) struct Datums {
    origin: Coord<f64>,
    deepest: f64,
    nearest: Nearest,
}

impl Datums {
    const fn origin(&self) -> Coord<f64> {
        self.origin
    }

    const fn deepest(&self) -> f64 {
        self.deepest
    }

    fn local(&self, at: Coord<f64>) -> Coord<f64> {
        at - self.origin
    }

    /// Depth of the nearest datum and the distance to it.
    fn nearest(&self, at: Coord<f64>) -> (f64, f64) {
        let Coord { x, y } = self.local(at);
        self.nearest.find(x, y).map_or((0.0, 0.0), |(datum, squared)| (datum.depth, squared.sqrt()))
    }

    fn distance(&self, at: Coord<f64>) -> f64 {
        self.nearest(at).1
    }

    fn nearest_depth(&self, at: Coord<f64>) -> f64 {
        self.nearest(at).0
    }
}

/// The bed of a lake as a surface and as a grid.
pub struct DepthModel {
    outline: Outline,
    surface: Surface,
    grid: Grid,
    datums: Datums,
    shore: ShoreRule,
    max_depth: Metres,
    deepest: Coord<f64>,
    error: Option<DepthModelError>,
    rejected: Option<(Method, DepthModelError)>,
    mended: usize,
    findings: Vec<Finding>,
    level: f64,
}

impl DepthModel {
    /// Builds the surface between the data and the shore and reads it on a grid.
    ///
    /// Soundings outside the lake are left out, soundings that repeat a place averaged, depths
    /// above the water taken as nil; each is a finding. The shore and the islands have depth nil,
    /// unless the data are a fitted surface that covers the lake ([`ShoreRule`]). Lines that no
    /// triangle may cross are the shore and the contours; triangles that a bend of a contour leaves
    /// level are mended with a parabola across. With [`Method::Auto`] up to 2,000 soundings, evenly
    /// spread, are left out one at a time, and the method with the smaller mean absolute error is
    /// taken; on a tie the linear one.
    ///
    /// # Units
    /// Places in the working system's metres, depths in metres downwards.
    /// # Errors
    /// [`DepthError`].
    pub fn build(
        outline: &Outline,
        data: &DepthData,
        options: &DepthOptions,
    ) -> Result<Self, DepthError> {
        let mut findings = Vec::new();
        let clean = clean::clean(outline, data, &mut findings)?;
        let size =
            clean.soundings.len() + clean.contours.iter().map(|c| c.line.0.len()).sum::<usize>();
        let cell = options
            .cell
            .map_or_else(|| grid::cell_size(outline, size, options.most_cells), Metres::metres);
        refuse_bad_cell(outline, cell)?;
        let shore = shore_rule(outline, &clean, options.shore, &mut findings);
        let origin = outline.extent().min();
        let (deepest, max_depth) = deepest(&clean);
        warn_if_steep(outline, max_depth, &mut findings);
        let datums = datums(&clean, origin, cell, max_depth);
        let mut network = network(outline, &clean, &datums, shore, cell);
        // neither triangulation needs the other before the flats are mended
        let to_compare = options.method != Method::Linear && !clean.soundings.is_empty();
        let (constrained, mut delaunay) =
            at_once(|| network.constrained(), || to_compare.then(|| network.delaunay()).flatten());
        let (mut triangulation, conflicts) = constrained.ok_or(DepthError::NoTriangulation)?;
        report_conflicts(&network, &conflicts, outline, &mut findings);
        let patches = flats::mend(&triangulation, outline, origin, 0.5 * cell);
        let mended = patches.len();
        for patch in patches {
            network.add(patch);
            triangulation.insert(patch).ok().ok_or(DepthError::NoTriangulation)?;
            if let Some(delaunay) = &mut delaunay {
                delaunay.insert(patch).ok().ok_or(DepthError::NoTriangulation)?;
            }
        }
        let chosen = choose::choose(&network, triangulation, delaunay, options.method)?;
        let window = grid::window(outline, cell);
        let grid = grid::evaluate(outline, &chosen.surface, &datums, window, shore);
        Ok(Self {
            outline: outline.clone(),
            surface: chosen.surface,
            grid,
            datums,
            shore,
            max_depth: Metres::new(max_depth),
            deepest,
            error: chosen.error,
            rejected: chosen.rejected,
            mended,
            findings,
            level: 0.0,
        })
    }

    /// The same bed under water at another level, metres above the reference, negative below.
    ///
    /// Cells that fall dry hold no water. The shore is not carried outwards: above the reference
    /// the lake keeps its outline, as if its shore were a wall, and its area comes out too small.
    pub fn at_level(mut self, level: Metres) -> Self {
        let rise = level.metres();
        for (depth, water) in self.grid.depth.iter_mut().zip(&mut self.grid.water) {
            *depth += rise;
            if *depth <= 0.0 {
                *depth = 0.0;
                *water = if rise < 0.0 { 0.0 } else { *water };
            }
        }
        self.grid.centre.iter_mut().for_each(|depth| *depth += rise);
        self.max_depth = Metres::new((self.max_depth.metres() + rise).max(0.0));
        self.level += rise;
        self
    }

    /// Level of the water above the reference the depths count from.
    pub fn level(&self) -> Metres {
        Metres::new(self.level)
    }

    /// The outline the model was built for.
    pub fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The grid on which the model is measured and drawn.
    pub fn grid(&self) -> &Grid {
        &self.grid
    }

    /// The method taken: linear or natural neighbour, never [`Method::Auto`].
    pub fn method(&self) -> Method {
        self.surface.method()
    }

    /// What was taken as the depth along the shore, never [`ShoreRule::Auto`].
    pub fn shore_rule(&self) -> ShoreRule {
        self.shore
    }

    /// The error of the method taken; none where there were too few data to leave one out.
    pub fn error(&self) -> Option<DepthModelError> {
        self.error
    }

    /// The method that was tried and not taken, with its error.
    pub fn rejected(&self) -> Option<(Method, DepthModelError)> {
        self.rejected
    }

    /// How many vertices were put in to mend flats along contours.
    pub fn mended_count(&self) -> usize {
        self.mended
    }

    /// What was noticed about the data.
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// The deepest datum in the lake. The model is nowhere deeper.
    pub fn max_depth(&self) -> Metres {
        self.max_depth
    }

    /// Where the deepest datum lies, in the working system's metres.
    pub fn deepest(&self) -> Coord<f64> {
        self.deepest
    }

    /// The depth at a place in the working system's metres; none on land.
    pub fn depth_at(&self, at: Coord<f64>) -> Option<Metres> {
        if !self.outline.contains(at) {
            return None;
        }
        let Coord { x, y } = self.datums.local(at);
        let depth = self.surface.depth(x, y).unwrap_or_else(|| self.datums.nearest_depth(at));
        let depth = depth.max(0.0) + self.level;
        let dry = self.level < 0.0 && depth <= 0.0;
        (!dry).then(|| Metres::new(depth.clamp(0.0, self.max_depth.metres())))
    }

    /// Distance in the plane to the nearest sounding or contour; the shore does not count.
    pub fn distance_to_datum(&self, at: Coord<f64>) -> Metres {
        Metres::new(self.datums.distance(at))
    }
}

impl fmt::Debug for DepthModel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("DepthModel")
            .field("outline", &self.outline)
            .field("method", &self.method())
            .field("max_depth", &self.max_depth)
            .field("error", &self.error)
            .finish_non_exhaustive()
    }
}

fn refuse_bad_cell(outline: &Outline, cell: f64) -> Result<(), DepthError> {
    let extent = outline.extent();
    let cells = extent.width() / cell * (extent.height() / cell);
    if (1.0..=MOST_CELLS as f64).contains(&cells) {
        Ok(())
    } else {
        Err(DepthError::BadCell { cell, cells })
    }
}

/// The first of the deepest data and its depth.
fn deepest(clean: &CleanData) -> (Coord<f64>, f64) {
    let soundings = clean.soundings.iter().map(|sounding| (sounding.at, sounding.depth));
    let contours = clean.contours.iter().map(|contour| (contour.line.0[0], contour.depth));
    soundings
        .chain(contours)
        .fold((Coord::zero(), -1.0), |most, datum| if most.1 < datum.1 { datum } else { most })
}

/// Deepest depth over diameter above which a wrong unit is likelier than such a lake: relative depth is under
/// 2 % in most lakes and over 4 % in small deep ones (Wetzel 2001, Limnology, 3rd ed., from memory).
const MOST_RELATIVE_DEPTH: f64 = 0.2;

fn warn_if_steep(outline: &Outline, max_depth: f64, findings: &mut Vec<Finding>) {
    let diameter = 2.0 * (outline.area().square_metres() / std::f64::consts::PI).sqrt();
    if MOST_RELATIVE_DEPTH < max_depth / diameter {
        findings.push(
            Finding::warning(format!(
                "the deepest depth is {max_depth:.1} m in a lake {diameter:.0} m across"
            ))
            .hint(
                "check the unit of the depths: feet or centimetres read as metres look like this",
            ),
        );
    }
}

/// Share of the lake's area that a lattice must cover to count as a fitted surface.
const COVERING: f64 = 0.9;

/// Decides whether the data are a fitted surface that covers the lake to its shore.
fn shore_rule(
    outline: &Outline,
    clean: &CleanData,
    wanted: ShoreRule,
    findings: &mut Vec<Finding>,
) -> ShoreRule {
    if wanted != ShoreRule::Auto {
        return wanted;
    }
    let covers = lattice_step(clean).is_some_and(|step| {
        let covered = clean.soundings.len() as f64 * step * step;
        COVERING * outline.planar_area().square_metres() < covered
    });
    if covers {
        findings.push(Finding::note(
            "the soundings are a fitted surface that covers the lake; the depth along the shore is theirs",
        ));
        ShoreRule::FromData
    } else {
        ShoreRule::Zero
    }
}

/// The spacing of soundings that lie on a square lattice.
fn lattice_step(clean: &CleanData) -> Option<f64> {
    let places: Vec<Coord<f64>> = clean.soundings.iter().map(|sounding| sounding.at).collect();
    if places.len() < 100 {
        return None;
    }
    let stride = places.len().div_ceil(500);
    let mut steps: Vec<f64> =
        (0..places.len()).step_by(stride).map(|index| to_nearest_other(&places, index)).collect();
    steps.sort_by(f64::total_cmp);
    let median = *steps.get(steps.len() / 2)?;
    let alike = steps.iter().filter(|step| (*step / median - 1.0).abs() < 0.01).count();
    (0.95 * steps.len() as f64 <= alike as f64).then_some(median)
}

/// Distance from one of some places, in order from west to east, to the nearest of the others.
fn to_nearest_other(places: &[Coord<f64>], index: usize) -> f64 {
    let from = places[index];
    let nearer = |best: f64, at: &Coord<f64>| best.min((at.x - from.x).hypot(at.y - from.y));
    let search = |best: f64, side: &mut dyn Iterator<Item = &Coord<f64>>| {
        let mut best = best;
        for at in side {
            if best <= (at.x - from.x).abs() {
                break;
            }
            best = nearer(best, at);
        }
        best
    };
    let eastward = search(f64::INFINITY, &mut places[index + 1..].iter());
    search(eastward, &mut places[..index].iter().rev())
}

fn densified(line: &LineString<f64>, step: f64) -> LineString<f64> {
    Euclidean.densify(line, step)
}

fn datums(clean: &CleanData, origin: Coord<f64>, cell: f64, deepest: f64) -> Datums {
    let datum = |at: Coord<f64>, depth: f64| {
        let Coord { x, y } = at - origin;
        Datum { x, y, depth }
    };
    let soundings = clean.soundings.iter().map(|sounding| datum(sounding.at, sounding.depth));
    let contours = clean.contours.iter().flat_map(|contour| {
        let line = densified(&contour.line, 2.0 * cell);
        line.0.into_iter().map(move |at| datum(at, contour.depth))
    });
    Datums { origin, deepest, nearest: Nearest::new(soundings.chain(contours).collect()) }
}

/// At most about this many vertices along all shores.
const MOST_SHORE_VERTICES: f64 = 20_000.0;

fn network(
    outline: &Outline,
    clean: &CleanData,
    datums: &Datums,
    shore: ShoreRule,
    cell: f64,
) -> Network {
    let vertex = |at: Coord<f64>, depth: f64, kind: Kind| {
        let Coord { x, y } = datums.local(at);
        Vertex { x, y, depth, kind }
    };
    let mut network = Network::default();
    let step = (2.0 * cell).max(outline.perimeter().metres() / MOST_SHORE_VERTICES);
    for ring in outline.shores() {
        network.add_line(densified(&ring, step).0.into_iter().map(|at| {
            let depth = if shore == ShoreRule::FromData { datums.nearest_depth(at) } else { 0.0 };
            vertex(at, depth, Kind::Shore)
        }));
    }
    for (number, contour) in clean.contours.iter().enumerate() {
        let kind = Kind::Contour(number as u32);
        let line = densified(&contour.line, step.max(4.0 * cell));
        network.add_line(line.0.into_iter().map(|at| vertex(at, contour.depth, kind)));
    }
    for sounding in &clean.soundings {
        network.add(vertex(sounding.at, sounding.depth, Kind::Sounding));
    }
    network
}

/// Reports contours of different depth that cross.
fn report_conflicts(
    network: &Network,
    conflicts: &[[usize; 2]],
    outline: &Outline,
    findings: &mut Vec<Finding>,
) {
    let contour = |index: usize| matches!(network.vertices[index].kind, Kind::Contour(_));
    let segments = conflicts.iter().filter(|[from, to]| contour(*from) && contour(*to));
    let mut crossing = segments.map(|&[from, _]| from).chain(network.clashes.iter().copied());
    if let Some(from) = crossing.next() {
        let count = 1 + crossing.count();
        let Vertex { x, y, .. } = network.vertices[from];
        let at = outline.extent().min() + Coord { x, y };
        findings.push(
            Finding::warning(format!(
                "contours cross each other or the shore in {count} place{}; one gave way there",
                if count == 1 { "" } else { "s" }
            ))
            .hint("look at the contours on the map and mend the one that is wrong")
            .at(outline.crs().unproject(at).ok())
            .times(count),
        );
    }
}

#[cfg(test)]
mod tests;
