//! The water cut into square cells, and ways through it.

use super::{AcresError, Water};
use geo::{Area, BooleanOps, BoundingRect};
use geo_types::MultiPolygon;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// The eight neighbours of a cell.
const AROUND: [(i64, i64); 8] =
    [(-1, -1), (0, -1), (1, -1), (-1, 0), (1, 0), (-1, 1), (0, 1), (1, 1)];

/// Cells of the water in rows; `cells` lists those whose middle is water.
#[derive(Debug)]
pub(super) struct WaterGrid {
    origin: [f64; 2],
    pub(super) step: f64,
    columns: usize,
    rows: usize,
    /// Number of the cell among the wet ones.
    number: Vec<Option<u32>>,
    /// Middle of each wet cell.
    pub(super) middles: Vec<[f64; 2]>,
    /// Place in the rows of each wet cell.
    places: Vec<u32>,
    /// Area of the water over that of the wet cells.
    pub(super) cell_area: f64,
    pub(super) area: f64,
}

impl WaterGrid {
    pub(super) fn of(water: &Water<'_>) -> Result<Self, AcresError> {
        let area = water.water.unsigned_area();
        let bounds = water.water.bounding_rect().ok_or(AcresError::NoWater)?;
        if !(area > 0.0 && area.is_finite()) {
            return Err(AcresError::NoWater);
        }
        let step = (area / water.cells.clamp(100, 1_000_000) as f64).sqrt();
        let columns = (bounds.width() / step).ceil() as usize + 2;
        let rows = (bounds.height() / step).ceil() as usize + 2;
        let origin = [bounds.min().x - step, bounds.min().y - step];
        let mut grid = Self {
            origin,
            step,
            columns,
            rows,
            number: vec![None; columns * rows],
            middles: Vec::new(),
            places: Vec::new(),
            cell_area: 0.0,
            area,
        };
        for place in grid.inside(water.water) {
            grid.number[place] = Some(grid.middles.len() as u32);
            grid.middles.push(grid.middle(place));
            grid.places.push(place as u32);
        }
        if grid.middles.is_empty() {
            return Err(AcresError::NoWater);
        }
        grid.cell_area = area / grid.middles.len() as f64;
        Ok(grid)
    }

    fn middle(&self, place: usize) -> [f64; 2] {
        let (row, column) = (place / self.columns, place % self.columns);
        [
            self.origin[0] + (column as f64 + 0.5) * self.step,
            self.origin[1] + (row as f64 + 0.5) * self.step,
        ]
    }

    /// Places whose middle lies in a shape, row by row: crossings of its rings, filled in turn.
    fn inside(&self, shape: &MultiPolygon<f64>) -> Vec<usize> {
        let mut crossings: Vec<Vec<f64>> = vec![Vec::new(); self.rows];
        let rings = shape
            .iter()
            .flat_map(|polygon| std::iter::once(polygon.exterior()).chain(polygon.interiors()));
        for line in rings.flat_map(geo_types::LineString::lines) {
            let (low, high) = if line.start.y <= line.end.y {
                (line.start, line.end)
            } else {
                (line.end, line.start)
            };
            let row = |y: f64| (y - self.origin[1]) / self.step - 0.5;
            let first = row(low.y).ceil().max(0.0) as usize;
            for (row, crossings) in crossings.iter_mut().enumerate().skip(first) {
                let y = self.origin[1] + (row as f64 + 0.5) * self.step;
                if y < low.y {
                    continue;
                }
                if y >= high.y {
                    break;
                }
                crossings.push(low.x + (y - low.y) / (high.y - low.y) * (high.x - low.x));
            }
        }
        let mut found = Vec::new();
        for (row, crossings) in crossings.iter_mut().enumerate() {
            crossings.sort_by(f64::total_cmp);
            for pair in crossings.chunks_exact(2) {
                let column =
                    |x: f64| ((x - self.origin[0]) / self.step - 0.5).ceil().max(0.0) as usize;
                let (from, to) = (column(pair[0]), column(pair[1]).min(self.columns));
                found.extend((from..to).map(|column| row * self.columns + column));
            }
        }
        found
    }

    /// Wet cells in a zone, and the area of the water there.
    pub(super) fn zone(&self, water: &Water<'_>, zone: &MultiPolygon<f64>) -> (Vec<u32>, f64) {
        let cells = self.inside(zone).into_iter().filter_map(|place| self.number[place]).collect();
        (cells, water.water.intersection(zone).unsigned_area())
    }

    /// The wet cell of a place; the nearest within three cells of the shore.
    pub(super) fn cell(&self, at: [f64; 2]) -> Option<u32> {
        let column = ((at[0] - self.origin[0]) / self.step).floor();
        let row = ((at[1] - self.origin[1]) / self.step).floor();
        let wet = |dx: i64, dy: i64| {
            let (x, y) = (column as i64 + dx, row as i64 + dy);
            let inside =
                (0..self.columns as i64).contains(&x) && (0..self.rows as i64).contains(&y);
            inside.then(|| self.number[y as usize * self.columns + x as usize]).flatten()
        };
        wet(0, 0).or_else(|| {
            let around = (-3..=3).flat_map(|dy| (-3..=3).map(move |dx| (dx, dy)));
            around
                .filter_map(|(dx, dy)| wet(dx, dy))
                .min_by(|a, b| self.far(at, *a).total_cmp(&self.far(at, *b)))
        })
    }

    pub(super) fn far(&self, at: [f64; 2], cell: u32) -> f64 {
        let middle = self.middles[cell as usize];
        (at[0] - middle[0]).hypot(at[1] - middle[1])
    }

    /// Whether the straight line between two places keeps to the water, as the cells show it.
    pub(super) fn sees(&self, from: [f64; 2], to: [f64; 2]) -> bool {
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let pieces = (dx.hypot(dy) / self.step * 2.0).ceil().max(1.0);
        (1..pieces as usize).all(|piece| {
            let share = piece as f64 / pieces;
            let column = (from[0] + share * dx - self.origin[0]) / self.step;
            let row = (from[1] + share * dy - self.origin[1]) / self.step;
            if column < 0.0
                || row < 0.0
                || column as usize >= self.columns
                || row as usize >= self.rows
            {
                return false;
            }
            self.number[row as usize * self.columns + column as usize].is_some()
        })
    }

    /// The nearest of several places by water, for every wet cell; none where no way leads.
    ///
    /// Dijkstra's search from all places at once over the eight neighbours, in which a cell goes
    /// straight from the last turn of its neighbour's way when it can see it.
    pub(super) fn nearest(&self, places: &[[f64; 2]]) -> Vec<Option<u32>> {
        let mut owner: Vec<Option<u32>> = vec![None; self.middles.len()];
        let mut best = vec![f64::INFINITY; self.middles.len()];
        // last turn: where, and the way up to it
        let mut turn: Vec<([f64; 2], f64)> = vec![([0.0; 2], 0.0); self.middles.len()];
        let mut queue = BinaryHeap::new();
        for (number, place) in places.iter().enumerate() {
            if let Some(cell) = self.cell(*place) {
                let way = self.far(*place, cell);
                if way < best[cell as usize] {
                    best[cell as usize] = way;
                    turn[cell as usize] = (*place, 0.0);
                    owner[cell as usize] = Some(number as u32);
                    queue.push(Reached { way, cell });
                }
            }
        }
        while let Some(Reached { way, cell }) = queue.pop() {
            let from = cell as usize;
            if way > best[from] {
                continue;
            }
            for next in self.neighbours(self.places[from]) {
                let (corner, before) = turn[from];
                let straight = before + self.far(corner, next);
                let (way, corner) = if straight >= best[next as usize] {
                    continue;
                } else if self.sees(corner, self.middles[next as usize]) {
                    (straight, (corner, before))
                } else {
                    let here = self.middles[from];
                    (best[from] + self.far(here, next), (here, best[from]))
                };
                if way < best[next as usize] {
                    best[next as usize] = way;
                    turn[next as usize] = corner;
                    owner[next as usize] = owner[from];
                    queue.push(Reached { way, cell: next });
                }
            }
        }
        owner
    }

    /// Wet neighbours; diagonally only where both cells beside the corner are wet.
    fn neighbours(&self, place: u32) -> impl Iterator<Item = u32> {
        let (row, column) = (place as usize / self.columns, place as usize % self.columns);
        let wet = move |dx: i64, dy: i64| {
            let (x, y) = (column as i64 + dx, row as i64 + dy);
            self.number.get(y as usize * self.columns + x as usize).copied().flatten()
        };
        AROUND.into_iter().filter_map(move |(dx, dy)| {
            let open = dx == 0 || dy == 0 || (wet(dx, 0).is_some() && wet(0, dy).is_some());
            wet(dx, dy).filter(|_| open)
        })
    }
}

/// A cell in the queue, the shortest way first.
struct Reached {
    way: f64,
    cell: u32,
}

impl PartialEq for Reached {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Reached {}

impl PartialOrd for Reached {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Reached {
    fn cmp(&self, other: &Self) -> Ordering {
        other.way.total_cmp(&self.way).then_with(|| other.cell.cmp(&self.cell))
    }
}

/// Ways through the water between any two places.
#[derive(Debug)]
pub struct Ways(WaterGrid);

impl Ways {
    /// Cuts the water into cells, about as many as it says.
    ///
    /// # Errors
    /// [`AcresError::NoWater`].
    pub fn of(water: &Water<'_>) -> Result<Self, AcresError> {
        WaterGrid::of(water).map(Self)
    }

    /// Metres by water between two places: straight where the line keeps to the water, else around
    /// the land, to about a cell. A place on land counts from the nearest water within three cells;
    /// where no way leads, the straight line stands in.
    pub fn between(&self, one: [f64; 2], other: [f64; 2]) -> f64 {
        let straight = (one[0] - other[0]).hypot(one[1] - other[1]);
        let grid = &self.0;
        let (Some(start), Some(end)) = (grid.cell(one), grid.cell(other)) else { return straight };
        if straight < grid.step || grid.sees(one, other) {
            return straight;
        }
        let mut best = vec![f64::INFINITY; grid.middles.len()];
        let mut turn: Vec<([f64; 2], f64)> = vec![(one, 0.0); grid.middles.len()];
        best[start as usize] = grid.far(one, start);
        let mut queue = BinaryHeap::from([Reached { way: best[start as usize], cell: start }]);
        while let Some(Reached { way, cell }) = queue.pop() {
            if cell == end {
                let (corner, before) = turn[cell as usize];
                let last = before + (corner[0] - other[0]).hypot(corner[1] - other[1]);
                return if grid.sees(corner, other) { last } else { way + grid.far(other, end) };
            }
            if way > best[cell as usize] {
                continue;
            }
            for next in grid.neighbours(grid.places[cell as usize]) {
                let (corner, before) = turn[cell as usize];
                let direct = before + grid.far(corner, next);
                if direct >= best[next as usize] {
                    continue;
                }
                let (way, corner) = if grid.sees(corner, grid.middles[next as usize]) {
                    (direct, (corner, before))
                } else {
                    let here = grid.middles[cell as usize];
                    (way + grid.far(here, next), (here, way))
                };
                if way < best[next as usize] {
                    best[next as usize] = way;
                    turn[next as usize] = corner;
                    queue.push(Reached { way, cell: next });
                }
            }
        }
        straight
    }
}
