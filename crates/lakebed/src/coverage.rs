//! How much of each cell of a grid an area covers, exactly.

use geo_types::{Coord, LineString, MultiPolygon, Polygon};

/// A window of square cells, columns to the east and rows to the north.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Window {
    /// South-western corner.
    pub(crate) corner: Coord<f64>,
    /// Side of a cell.
    pub(crate) cell: f64,
    pub(crate) columns: usize,
    pub(crate) rows: usize,
}

impl Window {
    pub(crate) const fn len(&self) -> usize {
        self.columns * self.rows
    }

    pub(crate) fn centre(&self, column: usize, row: usize) -> Coord<f64> {
        self.point(column as f64 + 0.5, row as f64 + 0.5)
    }

    /// A point given in cells from the corner.
    pub(crate) fn point(&self, x: f64, y: f64) -> Coord<f64> {
        Coord { x: self.corner.x + x * self.cell, y: self.corner.y + y * self.cell }
    }

    /// The cell that holds a point.
    pub(crate) fn cell_at(&self, at: Coord<f64>) -> Option<(usize, usize)> {
        let x = (at.x - self.corner.x) / self.cell;
        let y = (at.y - self.corner.y) / self.cell;
        let inside = 0.0 <= x && 0.0 <= y && x < self.columns as f64 && y < self.rows as f64;
        inside.then_some((x as usize, y as usize))
    }
}

/// The share of every cell that lies in the area, row by row from the south-west.
///
/// # Formula
/// Green's theorem cell by cell: an edge adds to each row it passes its rise in that row, split
/// between the cell it passes and all cells east of it; a running sum along the row then gives the
/// covered share. The sum over all cells times the cell area is the area of the polygons up to
/// rounding.
///
/// # Assumptions
/// Shores run counter-clockwise and islands clockwise. Parts outside the window to the west, south
/// or north still count correctly for the cells inside.
pub(crate) fn coverage(area: &MultiPolygon<f64>, window: &Window) -> Vec<f64> {
    let mut sums = vec![0.0; (window.columns + 2) * window.rows];
    for ring in area.iter().flat_map(rings) {
        for line in ring.lines() {
            let to_cells = |Coord { x, y }: Coord<f64>| {
                ((x - window.corner.x) / window.cell, (y - window.corner.y) / window.cell)
            };
            add_edge(&mut sums, window, to_cells(line.start), to_cells(line.end));
        }
    }
    let stride = window.columns + 2;
    let mut shares = Vec::with_capacity(window.len());
    for row in 0..window.rows {
        let mut total = 0.0;
        for column in 0..window.columns {
            total += sums[row * stride + column];
            let share: f64 = if total < 1e-9 { 0.0 } else { total };
            shares.push(if share > 1.0 - 1e-9 { 1.0 } else { share });
        }
    }
    shares
}

fn rings(polygon: &Polygon<f64>) -> impl Iterator<Item = &LineString<f64>> {
    std::iter::once(polygon.exterior()).chain(polygon.interiors())
}

fn add_edge(sums: &mut [f64], window: &Window, from: (f64, f64), to: (f64, f64)) {
    // water lies to the left of an edge: one that runs south opens the water to its east
    let (sign, (x0, y0), (x1, y1)) = if from.1 < to.1 { (-1.0, from, to) } else { (1.0, to, from) };
    if y1 - y0 <= 0.0 || y1 <= 0.0 || window.rows as f64 <= y0 {
        return;
    }
    let slope = (x1 - x0) / (y1 - y0);
    let (first, last) = (y0.max(0.0) as usize, y1.min(window.rows as f64).ceil() as usize);
    for row in first..last {
        let low = y0.max(row as f64);
        let high = y1.min(row as f64 + 1.0);
        if low < high {
            let (a, b) = ((low - y0).mul_add(slope, x0), (high - y0).mul_add(slope, x0));
            add_in_row(sums, window, row, sign * (high - low), a.min(b), a.max(b));
        }
    }
}

/// Adds a rise that spreads evenly over `west..east` of one row.
fn add_in_row(sums: &mut [f64], window: &Window, row: usize, rise: f64, west: f64, east: f64) {
    let limit = window.columns as f64;
    let row_sums = &mut sums[row * (window.columns + 2)..][..window.columns + 2];
    if limit <= west {
        return;
    }
    if east <= 0.0 {
        row_sums[0] += rise;
        return;
    }
    if east - west < 1e-12 || west.floor() + 1.0 >= east {
        let column = west.max(0.0).floor();
        let middle = 0.5 * (west.max(0.0) + east) - column;
        add_at(row_sums, column as usize, rise, middle.clamp(0.0, 1.0));
        return;
    }
    let per_cell = rise / (east - west);
    if west < 0.0 {
        row_sums[0] += -west * per_cell;
    }
    let mut at = west.max(0.0);
    while at < east.min(limit) {
        let next = (at.floor() + 1.0).min(east);
        let column = at.floor();
        add_at(row_sums, column as usize, (next - at) * per_cell, 0.5 * (at + next) - column);
        at = next;
    }
}

/// A rise that crosses a cell at `middle` of its width covers the part east of it, and all cells
/// beyond.
fn add_at(row_sums: &mut [f64], column: usize, rise: f64, middle: f64) {
    row_sums[column] += rise * (1.0 - middle);
    row_sums[column + 1] += rise * middle;
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::Area;
    use geo::orient::{Direction, Orient};
    use geo_types::polygon;
    use proptest::prelude::*;

    fn window(columns: usize, rows: usize) -> Window {
        Window { corner: Coord { x: 0.0, y: 0.0 }, cell: 1.0, columns, rows }
    }

    /// A triangle with an island, worked by hand.
    #[test]
    fn shares_of_a_triangle() {
        let triangle = polygon![(x: 0.0, y: 0.0), (x: 2.0, y: 0.0), (x: 0.0, y: 2.0)];
        let shares = coverage(&triangle.into(), &window(2, 2));
        assert_eq!(shares, [1.0, 0.5, 0.5, 0.0]);
        let ring = polygon!(
            exterior: [(x: 0.0, y: 0.0), (x: 3.0, y: 0.0), (x: 3.0, y: 3.0), (x: 0.0, y: 3.0)],
            interiors: [[(x: 1.0, y: 1.0), (x: 2.0, y: 1.0), (x: 2.0, y: 1.5), (x: 1.0, y: 1.5)]],
        );
        let shares = coverage(&MultiPolygon(vec![ring.orient(Direction::Default)]), &window(3, 3));
        assert_eq!(shares, [1.0, 1.0, 1.0, 1.0, 0.5, 1.0, 1.0, 1.0, 1.0]);
    }

    proptest! {
        /// Star-shaped lakes of any size and place: the cells sum to the polygon's area.
        #[test]
        fn cells_sum_to_the_area(
            radii in prop::collection::vec(2.0..45.0f64, 5..40),
            x in 48.0..52.0f64,
            y in 48.0..52.0f64,
        ) {
            let step = std::f64::consts::TAU / radii.len() as f64;
            let ring: Vec<(f64, f64)> = radii
                .iter()
                .enumerate()
                .map(|(i, r)| (x + r * (step * i as f64).cos(), y + r * (step * i as f64).sin()))
                .collect();
            let lake = Polygon::new(ring.into(), vec![]).orient(Direction::Default);
            let area = lake.unsigned_area();
            let shares = coverage(&lake.into(), &window(100, 100));
            let sum: f64 = shares.iter().sum();
            prop_assert!((sum - area).abs() < 1e-6 * area, "{sum} {area}");
            prop_assert!(shares.iter().all(|share| (0.0..=1.0).contains(share)));
        }

        /// A window that cuts the lake on all sides sees just what lies within it.
        #[test]
        fn a_window_inside_the_lake(west in -30.0..-1.0f64, south in -30.0..-1.0f64, size in 20.0..60.0f64) {
            let lake = Polygon::new(
                vec![(west, south), (west + size, south), (west + size, south + size), (west, south + size)].into(),
                vec![],
            );
            let inside = |low: f64| (low + size).clamp(0.0, 10.0) - low.clamp(0.0, 10.0);
            let sum: f64 = coverage(&lake.into(), &window(10, 10)).iter().sum();
            prop_assert!((sum - inside(west) * inside(south)).abs() < 1e-9);
        }
    }
}
