//! How steep the bed is.

use crate::depth::DepthModel;
use units::Metres;

/// The slope of the bed over the cells of the depth model, in per cent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slopes {
    /// Mean over the cells.
    pub mean: f64,
    /// Half of the cells are flatter.
    pub median: f64,
    /// 95 of 100 cells are flatter.
    pub p95: f64,
    /// How many cells have eight neighbours in the lake.
    pub cells: usize,
}

/// Slope of every cell whose eight neighbours hold water.
///
/// # Formula
/// Third-order finite differences: with `a … i` the depths around a cell of side `c`,
/// `p = ((c + 2f + i) − (a + 2d + g)) / 8c`, `q = ((g + 2h + i) − (a + 2b + c)) / 8c`, slope `100 · √(p² + q²)`.
/// # Assumptions
/// A slope depends on the side of the cell: over a coarse grid the bed looks flatter.
/// # References
/// Horn (1981), Hill shading and the reflectance map, Proceedings of the IEEE 69: 14–47.
pub fn slopes(model: &DepthModel) -> Option<Slopes> {
    let grid = model.grid();
    let (columns, rows, side) = (grid.columns(), grid.rows(), grid.cell().metres());
    let mut found = Vec::new();
    for row in 1..rows.saturating_sub(1) {
        for column in 1..columns.saturating_sub(1) {
            if let Some(slope) = slope_at(model, column, row, side) {
                found.push(slope);
            }
        }
    }
    if found.is_empty() {
        return None;
    }
    found.sort_by(f64::total_cmp);
    let count = found.len();
    let rank = |share: f64| found[((share * count as f64).ceil() as usize).clamp(1, count) - 1];
    Some(Slopes {
        mean: found.iter().sum::<f64>() / count as f64,
        median: rank(0.5),
        p95: rank(0.95),
        cells: count,
    })
}

fn slope_at(model: &DepthModel, column: usize, row: usize, side: f64) -> Option<f64> {
    let grid = model.grid();
    let mut z = [[0.0; 3]; 3];
    for (y, line) in z.iter_mut().enumerate() {
        for (x, value) in line.iter_mut().enumerate() {
            let index = (row + y - 1) * grid.columns() + column + x - 1;
            if grid.water[index] < 1.0 {
                return None;
            }
            *value = grid.depth[index];
        }
    }
    let east = z[0][2] + 2.0 * z[1][2] + z[2][2] - z[0][0] - 2.0 * z[1][0] - z[2][0];
    let north = z[2][0] + 2.0 * z[2][1] + z[2][2] - z[0][0] - 2.0 * z[0][1] - z[0][2];
    Some(100.0 * east.hypot(north) / (8.0 * side))
}

/// How far the cells of the depth model lie from the nearest sounding or contour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DatumDistance {
    /// Mean over the water.
    pub mean: Metres,
    /// 95 of 100 parts of the water are nearer.
    pub p95: Metres,
    /// The farthest cell.
    pub most: Metres,
    /// Where the farthest cell lies, in the working system's metres.
    pub farthest: geo_types::Coord<f64>,
}

/// Distances to the nearest datum over the lake, cells weighted with their water.
pub fn datum_distance(model: &DepthModel) -> Option<DatumDistance> {
    let mut cells: Vec<_> = model.grid().cells().collect();
    cells.sort_by(|a, b| a.to_datum.metres().total_cmp(&b.to_datum.metres()));
    let water: f64 = cells.iter().map(|cell| cell.water).sum();
    let last = cells.last()?;
    let mean = cells.iter().map(|cell| cell.water * cell.to_datum.metres()).sum::<f64>() / water;
    let mut seen = 0.0;
    let p95 = cells.iter().find(|cell| {
        seen += cell.water;
        0.95 * water <= seen
    });
    Some(DatumDistance {
        mean: Metres::new(mean),
        p95: p95.unwrap_or(last).to_datum,
        most: last.to_datum,
        farthest: last.centre,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::depth::{DepthData, DepthOptions, ShoreRule};
    use crate::test_lakes::{AT, rectangle};
    use geo_types::Coord;

    /// A plane that falls 3 in 100 to the east and 4 in 100 to the north is 5 per cent steep.
    #[test]
    fn a_plane_has_one_slope() {
        let lake = rectangle(1_000.0, 800.0);
        let data = DepthData::from_soundings((0..=50).flat_map(|i| {
            (0..=40).map(move |j| {
                let (x, y) = (f64::from(i) * 19.9 + 1.0, f64::from(j) * 19.9 + 1.0);
                (AT + Coord { x, y }, 0.03 * x + 0.04 * y)
            })
        }));
        let options = DepthOptions { shore: ShoreRule::FromData, ..DepthOptions::default() };
        let model = DepthModel::build(&lake, &data, &options).unwrap();
        let slopes = slopes(&model).unwrap();
        assert!((slopes.median - 5.0).abs() < 0.01, "{slopes:?}");
        assert!((slopes.mean - 5.0).abs() < 0.3, "{slopes:?}");
        let far = datum_distance(&model).unwrap();
        // the middle of a square of 19.9 m lies 14.1 m from its corners
        assert!(far.mean.metres() < 14.1 && far.p95.metres() <= 14.1, "{far:?}");
    }

    #[test]
    fn one_sounding_leaves_the_far_end_far() {
        let lake = rectangle(1_000.0, 200.0);
        let data = DepthData::from_soundings([(AT + Coord { x: 10.0, y: 100.0 }, 5.0)]);
        let model = DepthModel::build(&lake, &data, &DepthOptions::default()).unwrap();
        let far = datum_distance(&model).unwrap();
        assert!((far.most.metres() - 990.0).abs() < 20.0, "{far:?}");
        assert!((far.mean.metres() - 490.0).abs() < 15.0, "{far:?}");
    }
}
