//! The regular grid on which a depth model is measured and drawn.

use super::surface::{Surface, along_curve};
use super::{Datums, ShoreRule};
use crate::at_once;
use crate::coverage::{Window, coverage};
use crate::outline::Outline;
use geo_types::Coord;
use units::Metres;

/// Cells between the lake and the edge of the grid.
const MARGIN: usize = 3;
/// A cell on the shore is read at this many places a side.
const SIDE: usize = 4;

/// Depths on square cells, columns to the east and rows to the north.
///
/// A cell that the shore cuts counts with the share of it that is water, exactly, and with the mean
/// depth of that share; the water of all cells is the water of the outline to the last digits.
#[derive(Debug, Clone)]
pub struct Grid {
    pub(crate) window: Window,
    /// Depth at the centre, carried on past the shore for contouring.
    pub(crate) centre: Vec<f64>,
    /// Mean depth of the water in the cell.
    pub(crate) depth: Vec<f64>,
    /// Share of the cell that is water.
    pub(crate) water: Vec<f64>,
    /// Distance from the centre to the nearest datum.
    pub(crate) to_datum: Vec<f32>,
}

/// One cell of a grid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Its centre in the working system's metres.
    pub centre: Coord<f64>,
    /// Mean depth of its water.
    pub depth: Metres,
    /// Share of it that is water, over 0 to 1.
    pub water: f64,
    /// Distance from its centre to the nearest datum.
    pub to_datum: Metres,
}

impl Grid {
    /// Side of a cell in the plane of the working system.
    pub fn cell(&self) -> Metres {
        Metres::new(self.window.cell)
    }

    /// Cells from west to east.
    pub fn columns(&self) -> usize {
        self.window.columns
    }

    /// Cells from south to north.
    pub fn rows(&self) -> usize {
        self.window.rows
    }

    /// South-western corner in the working system's metres.
    pub fn corner(&self) -> Coord<f64> {
        self.window.corner
    }

    /// A cell by column and row from the south-west; none where it has no water or is outside.
    pub fn get(&self, column: usize, row: usize) -> Option<Cell> {
        if self.window.columns <= column || self.window.rows <= row {
            return None;
        }
        let index = row * self.window.columns + column;
        (0.0 < self.water[index]).then(|| Cell {
            centre: self.window.centre(column, row),
            depth: Metres::new(self.depth[index]),
            water: self.water[index],
            to_datum: Metres::new(f64::from(self.to_datum[index])),
        })
    }

    /// Every cell with water, row by row from the south-west.
    pub fn cells(&self) -> impl Iterator<Item = Cell> {
        let columns = self.window.columns;
        (0..self.window.len()).filter_map(move |index| self.get(index % columns, index / columns))
    }
}

/// Side of a cell: as small as the limit on cells allows, but not much smaller than the data tell.
pub(super) fn cell_size(outline: &Outline, data: usize, most_cells: usize) -> f64 {
    let extent = outline.extent();
    let box_area = extent.width() * extent.height();
    let finest = (box_area / most_cells.max(100) as f64).sqrt();
    let spacing = (outline.planar_area().square_metres() / data.max(1) as f64).sqrt();
    let coarsest = (4.0 * box_area / most_cells.max(100) as f64).sqrt();
    round_up((0.25 * spacing).clamp(finest, coarsest).max(0.1))
}

/// Up to two significant digits.
fn round_up(value: f64) -> f64 {
    let unit = 10f64.powf(value.log10().floor() - 1.0);
    (value / unit - 1e-9).ceil() * unit
}

pub(super) fn window(outline: &Outline, cell: f64) -> Window {
    let extent = outline.extent();
    let margin = MARGIN as f64 * cell;
    let corner = Coord { x: extent.min().x - margin, y: extent.min().y - margin };
    let cells = |length: f64| (length / cell).ceil() as usize + 2 * MARGIN;
    Window { corner, cell, columns: cells(extent.width()), rows: cells(extent.height()) }
}

/// Reads a surface on a grid.
pub(super) fn evaluate(
    outline: &Outline,
    surface: &Surface,
    datums: &Datums,
    window: Window,
    shore: ShoreRule,
) -> Grid {
    let water = coverage(outline.projected(), &window);
    let origin = datums.origin();
    let limit = datums.deepest();
    let middle = |index: usize| window.centre(index % window.columns, index / window.columns);
    let wet: Vec<usize> = (0..window.len()).filter(|index| 0.0 < water[*index]).collect();
    let mut in_water = vec![false; window.len()];
    for &index in &wet {
        in_water[index] = 1.0 <= water[index] || outline.contains(middle(index));
    }
    let local = Window { corner: window.corner - origin, ..window };
    let (mut centre, nearest) = at_once(
        || surface.at_centres(&local, &in_water),
        || wet.iter().map(|index| datums.nearest(middle(*index))).collect::<Vec<_>>(),
    );
    let mut depth = vec![0.0; window.len()];
    let mut to_datum = vec![0.0f32; window.len()];
    surface.with_reader(|read| {
        let read = |at: Coord<f64>| {
            let found = read(at.x - origin.x, at.y - origin.y);
            found.filter(|d| d.is_finite()).map(|d| d.clamp(0.0, limit))
        };
        let mut on_shore = Vec::new();
        for (&index, &(nearest_depth, distance)) in wet.iter().zip(&nearest) {
            to_datum[index] = distance as f32;
            if in_water[index] {
                let found = centre[index];
                centre[index] =
                    if found.is_finite() { found.clamp(0.0, limit) } else { nearest_depth };
            }
            if 1.0 <= water[index] {
                depth[index] = centre[index];
            } else {
                depth[index] = if shore == ShoreRule::FromData { nearest_depth } else { 0.0 };
                on_shore.push(index);
            }
        }
        for index in side_by_side(on_shore, &window) {
            let cell = (index % window.columns, index / window.columns);
            if let Some(found) = shore_cell(outline, &window, cell, &read) {
                depth[index] = found;
            }
        }
        carry_past_shore(outline, &window, shore, &mut centre, &read);
    });
    Grid { window, centre, depth, water, to_datum }
}

/// Cells in an order in which each lies near the one before, so that a search never has to cross the lake.
fn side_by_side(mut cells: Vec<usize>, window: &Window) -> Vec<usize> {
    cells.sort_by_cached_key(|index| {
        along_curve((index % window.columns) as u32, (index / window.columns) as u32)
    });
    cells
}

/// Mean depth of the water in a cell that the shore cuts, over a small lattice of places.
fn shore_cell(
    outline: &Outline,
    window: &Window,
    (column, row): (usize, usize),
    read: &dyn Fn(Coord<f64>) -> Option<f64>,
) -> Option<f64> {
    let step = 1.0 / SIDE as f64;
    let (mut sum, mut count) = (0.0, 0u32);
    for i in 0..SIDE * SIDE {
        let x = column as f64 + (0.5 + (i % SIDE) as f64) * step;
        let y = row as f64 + (0.5 + (i / SIDE) as f64) * step;
        let at = window.point(x, y);
        if outline.contains(at)
            && let Some(depth) = read(at)
        {
            sum += depth;
            count += 1;
        }
    }
    (0 < count).then(|| sum / f64::from(count))
}

/// Gives the centres next to the lake a value that makes the contours meet the shore where they
/// should.
///
/// With the shore at depth 0 the bed is mirrored in it, upside down, so that it passes through 0 on
/// the shore. With a shore that takes its depth from the data, the depth at the shore goes on.
/// Farther out the nearest value is carried on for a cell and the rest lies above all.
fn carry_past_shore(
    outline: &Outline,
    window: &Window,
    shore: ShoreRule,
    centre: &mut [f64],
    read: &dyn Fn(Coord<f64>) -> Option<f64>,
) {
    for _ in 0..2 {
        let known = centre.to_vec();
        let place = |index: usize| (index % window.columns, index / window.columns);
        let unknown = (0..window.len()).filter(|index| known[*index].is_nan());
        let reached = unknown.filter(|index| beside(window, &known, place(*index)).is_some());
        for index in side_by_side(reached.collect(), window) {
            let (column, row) = place(index);
            let found = mirrored(outline, window.centre(column, row), shore, read);
            let mean = || beside(window, &known, (column, row));
            centre[index] = found.or_else(mean).unwrap_or(f64::NAN);
        }
    }
    for value in centre.iter_mut().filter(|value| value.is_nan()) {
        *value = ABOVE_ALL;
    }
}

/// Height above the water, as a negative depth, of ground far from the lake.
const ABOVE_ALL: f64 = -1_000.0;

/// Mean of the known values in the eight cells around.
fn beside(window: &Window, known: &[f64], (column, row): (usize, usize)) -> Option<f64> {
    let (mut sum, mut count) = (0.0, 0u32);
    for y in row.saturating_sub(1)..=(row + 1).min(window.rows - 1) {
        for x in column.saturating_sub(1)..=(column + 1).min(window.columns - 1) {
            let value = known[y * window.columns + x];
            if !value.is_nan() {
                sum += value;
                count += 1;
            }
        }
    }
    (0 < count).then(|| sum / f64::from(count))
}

fn mirrored(
    outline: &Outline,
    at: Coord<f64>,
    shore: ShoreRule,
    read: &dyn Fn(Coord<f64>) -> Option<f64>,
) -> Option<f64> {
    let on_shore = outline.nearest_shore(at);
    if shore == ShoreRule::FromData {
        return read(on_shore);
    }
    let mirror = on_shore * 2.0 - at;
    let depth = if outline.contains(mirror) { read(mirror)? } else { 0.0 };
    Some(-depth.max(1e-6))
}
