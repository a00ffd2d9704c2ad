//! Depth bands and contours, as shapes to draw.

use super::hypsography;
use crate::depth::{DepthModel, Grid};
use contour::ContourBuilder;
use geo::{BooleanOps, orient::Direction, orient::Orient};
use geo_types::{LineString, MultiLineString, MultiPolygon};
use units::{Metres, SquareMetres};

/// The part of a lake between two depths.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthBand {
    /// Upper bound, shallow.
    pub from: Metres,
    /// Lower bound; none for the deepest band.
    pub to: Option<Metres>,
    /// Its shape with holes, in the working system's metres.
    pub shape: MultiPolygon<f64>,
    /// Its area on the ground, from the cells of the grid as in [`hypsography`]; the shape, which
    /// is smoothed between cells, differs a little.
    pub area: SquareMetres,
}

/// All lines of one depth.
#[derive(Debug, Clone, PartialEq)]
pub struct ContourSet {
    /// The depth.
    pub depth: Metres,
    /// Its lines, in the working system's metres.
    pub lines: MultiLineString<f64>,
}

pub(super) fn builder(grid: &Grid) -> ContourBuilder {
    let corner = grid.corner();
    let cell = grid.cell().metres();
    ContourBuilder::new(grid.columns(), grid.rows(), true)
        .x_origin(corner.x)
        .y_origin(corner.y)
        .x_step(cell)
        .y_step(cell)
}

/// The rings around everything at or deeper than a depth, before they are cut at the shore.
fn raw(model: &DepthModel, depth: f64) -> MultiPolygon<f64> {
    let grid = model.grid();
    builder(grid)
        .contours(&grid.centre, &[depth])
        .ok()
        .and_then(|mut contours| contours.pop())
        .map_or_else(|| MultiPolygon(vec![]), |contour| contour.into_inner().0)
}

/// The part of the lake at or deeper than a depth, in the working system's metres.
///
/// At depth nil it is the lake itself, below the reference level what is left of it. The line runs between the centres of the cells; the surface
/// is carried on past the shore first and cut there after, so that no band loses ground to the
/// edge.
pub fn deeper_than(model: &DepthModel, depth: Metres) -> MultiPolygon<f64> {
    let lake = model.outline().projected();
    let low = model.level() < Metres::new(0.0);
    if depth <= Metres::new(0.0) && !low {
        return lake.clone();
    }
    let shape = raw(model, depth.metres().max(0.0));
    if shape.0.is_empty() {
        return shape;
    }
    shape.intersection(lake).orient(Direction::Default)
}

/// The lake cut into bands at the given depths, from the shore down.
///
/// Depths are sorted; those that are nil or deeper than the lake make no band of their own. The
/// bands cover the lake and do not overlap.
pub fn depth_bands(model: &DepthModel, depths: &[Metres]) -> Vec<DepthBand> {
    let mut bounds: Vec<f64> = depths
        .iter()
        .map(|depth| depth.metres())
        .filter(|&depth| 0.0 < depth && depth < model.max_depth().metres())
        .collect();
    bounds.push(0.0);
    bounds.sort_by(f64::total_cmp);
    bounds.dedup();
    let bounds: Vec<Metres> = bounds.into_iter().map(Metres::new).collect();
    let rows = hypsography(model, &bounds);
    let shapes: Vec<MultiPolygon<f64>> =
        bounds.iter().map(|&depth| deeper_than(model, depth)).collect();
    (0..bounds.len())
        .map(|index| {
            let next = shapes.get(index + 1);
            let shape = next.map_or_else(
                || shapes[index].clone(),
                |deeper| shapes[index].difference(deeper).orient(Direction::Default),
            );
            let below = rows.get(index + 1).map_or(SquareMetres::new(0.0), |row| row.area);
            DepthBand {
                from: bounds[index],
                to: bounds.get(index + 1).copied(),
                shape,
                area: rows[index].area - below,
            }
        })
        .collect()
}

/// The contours of a lake at the given depths, cut at the shore. At depth nil it is the shore.
pub fn contour_lines(model: &DepthModel, depths: &[Metres]) -> Vec<ContourSet> {
    let lake = model.outline().projected();
    depths
        .iter()
        .map(|&depth| {
            let lines = if depth <= Metres::new(0.0) {
                model.outline().shores()
            } else {
                let shape = raw(model, depth.metres());
                let rings: Vec<LineString<f64>> = shape
                    .into_iter()
                    .flat_map(|polygon| {
                        let (shell, holes) = polygon.into_inner();
                        std::iter::once(shell).chain(holes)
                    })
                    .collect();
                lake.clip(&MultiLineString(rings), false)
            };
            ContourSet { depth, lines }
        })
        .collect()
}
