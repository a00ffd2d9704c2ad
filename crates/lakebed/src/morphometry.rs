//! The measures of a lake: area, volume, depth, shore, and how they hang together.

mod bands;
mod clarity;
mod distance;
mod lines;
mod raster_cells;
mod rules;
mod slope;
mod zones;

use crate::depth::DepthModel;
use std::f64::consts::PI;
use units::{CubicMetres, Metres, SquareMetres, UnitSystem};

pub use bands::{ContourSet, DepthBand, contour_lines, deeper_than, depth_bands};
pub use clarity::{ClarityRegression, UnknownRegression};
pub use distance::{DatumDistance, DistanceBand, datum_distance, distance_areas, distance_bands};
pub use lines::{fetch, max_length};
pub use raster_cells::{
    RasterMeasures, raster_cells, raster_hypsography, raster_littoral_area, shore_of_raster,
};
pub use rules::{MorphometryError, Rule, volume_of_areas};
pub use slope::{SlopeBand, Slopes, littoral_slopes, slopes, slopes_by_depth};
pub use zones::{ZoneShape, ZoneStatistics, zone_shape, zone_statistics};

/// Shoreline development: the length of the shore against that of a circle of the same area.
///
/// # Formula
/// `D = L / (2 · √(π · A))`, with `L` the length of all shores, islands' as well, and `A` the area of the water.
/// A circle has 1, a square `2/√π` = 1.128.
/// # Assumptions
/// `L` grows with the detail of the map, `D` with it: values from maps of different detail do not compare
/// (Seekell et al. 2022, Geophysical Research Letters 49(10)).
/// # References
/// Hutchinson (1957), A Treatise on Limnology I (from memory); Lin, Water and Wastewater
/// Calculations Manual.
/// # Examples
/// ```
/// use units::{Metres, SquareMetres};
/// let square = lakebed::shoreline_development(Metres::new(4_000.0), SquareMetres::new(1e6));
/// assert!((square - 1.128_379).abs() < 1e-6);
/// ```
pub fn shoreline_development(shore: Metres, area: SquareMetres) -> f64 {
    shore.metres() / (2.0 * (PI * area.square_metres()).sqrt())
}

/// Relative depth: the maximum depth in per cent of the diameter of a circle of the lake's area.
///
/// # Formula
/// `z_r = 50 · z_m · √π / √A`, with `z_m` the maximum depth and `A` the area.
/// # References
/// Hutchinson (1957), A Treatise on Limnology I; Wetzel (2001), Limnology, 3rd ed. (both from
/// memory).
/// # Examples
/// ```
/// use units::{Metres, SquareMetres};
/// // a round lake 1,000 m across and 20 m deep
/// let area = SquareMetres::new(std::f64::consts::PI * 500.0 * 500.0);
/// assert!((lakebed::relative_depth(Metres::new(20.0), area) - 2.0).abs() < 1e-12);
/// ```
pub fn relative_depth(max_depth: Metres, area: SquareMetres) -> f64 {
    50.0 * max_depth.metres() * PI.sqrt() / area.square_metres().sqrt()
}

/// A row of a hypsography.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HypsographyRow {
    /// The depth.
    pub depth: Metres,
    /// Area of the lake at or deeper than it.
    pub area: SquareMetres,
    /// Volume of the water below it.
    pub volume_below: CubicMetres,
}

/// The area at or deeper than each depth and the volume below it.
///
/// # Formula
/// `A(d) = Σ wᵢ · c²` over cells with `zᵢ ≥ d`; `V(d) = Σ wᵢ · c² · max(zᵢ − d, 0)`, with `wᵢ` the share of
/// cell `i` that is water, `zᵢ` its mean depth and `c²` the area of a cell on the ground
/// ([`crate::Outline::area_scale`]). `A(0)` is the lake's area and `V(0)` its volume, exactly.
pub fn hypsography(model: &DepthModel, depths: &[Metres]) -> Vec<HypsographyRow> {
    let grid = model.grid();
    let ground = cell_ground(model);
    depths
        .iter()
        .map(|&depth| {
            let d = depth.metres();
            let (mut area, mut volume) = (0.0, 0.0);
            for (&z, &water) in grid.depth.iter().zip(&grid.water) {
                if d <= z {
                    area += water;
                    volume += water * (z - d);
                }
            }
            HypsographyRow {
                depth,
                area: SquareMetres::new(area * ground),
                volume_below: CubicMetres::new(volume * ground),
            }
        })
        .collect()
}

/// Depths from nil to the deepest at a step a person would choose, at most about 25.
///
/// One foot, two, five, ten …, or a tenth of a metre, a fifth, a half, one …
pub fn usual_depths(max_depth: Metres, units: UnitSystem) -> Vec<Metres> {
    let unit = units.length_unit().metres();
    let deepest = max_depth.metres() / unit;
    let steps: &[f64] = match units {
        UnitSystem::Us => &[1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0],
        UnitSystem::Metric => &[0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0],
    };
    let step = steps.iter().copied().find(|step| deepest / step <= 25.0);
    let step = step.unwrap_or(100.0);
    let count = (deepest / step).floor() as usize;
    (0..=count).map(|i| Metres::new(i as f64 * step * unit)).collect()
}

/// Ground under a whole cell, square metres.
pub(crate) fn cell_ground(model: &DepthModel) -> f64 {
    let cell = model.grid().cell().metres();
    cell * cell * model.outline().area_scale()
}

/// A range of depths that counts as the littoral zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Littoral {
    /// Shallowest depth of it.
    pub min_depth: Metres,
    /// Deepest depth of it.
    pub max_depth: Metres,
}

impl Default for Littoral {
    /// One to eight feet. Common practice.
    fn default() -> Self {
        Self { min_depth: Metres::from_feet(1.0), max_depth: Metres::from_feet(8.0) }
    }
}

impl Littoral {
    /// From the shore down to a depth.
    pub const fn down_to(max_depth: Metres) -> Self {
        Self { min_depth: Metres::new(0.0), max_depth }
    }

    /// Whether a depth belongs to it, both ends included.
    pub fn holds(&self, depth: Metres) -> bool {
        self.min_depth <= depth && depth <= self.max_depth
    }
}

/// Area of the lake whose depth belongs to the littoral zone, from the cells of the grid.
pub fn littoral_area(model: &DepthModel, littoral: Littoral) -> SquareMetres {
    let cells = model.grid().cells().filter(|cell| littoral.holds(cell.depth));
    SquareMetres::new(cells.map(|cell| cell.water).sum::<f64>() * cell_ground(model))
}

/// The measures of one lake.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Morphometry {
    /// Area of the water on the ellipsoid.
    pub area: SquareMetres,
    /// Length of all shores, islands' as well.
    pub perimeter: Metres,
    /// Length of the outer shore.
    pub perimeter_outer: Metres,
    /// How many islands.
    pub island_count: usize,
    /// See [`shoreline_development`].
    pub shoreline_development: f64,
    /// See [`max_length`].
    pub max_length: Metres,
    /// The deepest datum.
    pub max_depth: Metres,
    /// Volume over area.
    pub mean_depth: Metres,
    /// Volume of the water.
    pub volume: CubicMetres,
    /// How the volume was found.
    pub rule: Rule,
    /// See [`relative_depth`], per cent.
    pub relative_depth: f64,
}

impl Morphometry {
    /// Measures a lake; the volume by the rule, on the areas at [`usual_depths`] where the rule
    /// needs some.
    pub fn of(model: &DepthModel, rule: Rule) -> Self {
        Self::with_layers(model, rule, &usual_depths(model.max_depth(), UnitSystem::Us))
    }

    /// Measures a lake; the volume by the rule, on the areas at these depths where the rule needs
    /// some, as between the contours a lake map shows. Depths beyond the deepest are left out.
    pub fn with_layers(model: &DepthModel, rule: Rule, depths: &[Metres]) -> Self {
        let outline = model.outline();
        let area = outline.area();
        let volume = match rule {
            // a model knows nothing of the raster it was made from: its own cells stand for it
            Rule::Grid | Rule::RasterCells => {
                hypsography(model, &[Metres::new(0.0)])[0].volume_below
            }
            Rule::Frustum | Rule::Trapezoid => {
                let nil = Metres::new(0.0);
                let within = |depth: &Metres| nil < *depth && *depth <= model.max_depth();
                let mut layers: Vec<Metres> = depths.iter().copied().filter(within).collect();
                layers.push(nil);
                layers.sort_by(|a, b| a.metres().total_cmp(&b.metres()));
                layers.dedup_by(|a, b| (a.metres() - b.metres()).abs() < 1e-6);
                let rows = hypsography(model, &layers);
                let mut areas: Vec<_> = rows.iter().map(|row| (row.depth, row.area)).collect();
                if areas.last().is_none_or(|(depth, _)| *depth < model.max_depth()) {
                    areas.push((model.max_depth(), SquareMetres::new(0.0)));
                }
                // the areas of a model never grow with depth
                volume_of_areas(&areas, rule).unwrap_or_default()
            }
        };
        Self {
            area,
            perimeter: outline.perimeter(),
            perimeter_outer: outline.perimeter_outer(),
            island_count: outline.island_count(),
            shoreline_development: shoreline_development(outline.perimeter(), area),
            max_length: max_length(outline),
            max_depth: model.max_depth(),
            mean_depth: volume / area,
            volume,
            rule,
            relative_depth: relative_depth(model.max_depth(), area),
        }
    }
}

#[cfg(test)]
mod tests;
