//! How steep the bed is.

use super::Littoral;
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
    summary(sloped(model).map(|(_, slope)| slope).collect())
}

/// The slope of the bed where its depth belongs to the littoral zone.
pub fn littoral_slopes(model: &DepthModel, littoral: Littoral) -> Option<Slopes> {
    let within = sloped(model).filter(|(depth, _)| littoral.holds(Metres::new(*depth)));
    summary(within.map(|(_, slope)| slope).collect())
}

/// The slope of the bed between two depths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlopeBand {
    /// Upper bound, shallow; it belongs to the band.
    pub from: Metres,
    /// Lower bound; none for the deepest band.
    pub to: Option<Metres>,
    /// None where no cell has eight neighbours in the lake.
    pub slopes: Option<Slopes>,
}

/// The slope of the bed between each depth and the next, from the first down to the deepest.
pub fn slopes_by_depth(model: &DepthModel, depths: &[Metres]) -> Vec<SlopeBand> {
    let mut parts: Vec<Vec<f64>> = vec![Vec::new(); depths.len()];
    for (depth, slope) in sloped(model) {
        if let Some(band) = depths.iter().rposition(|from| from.metres() <= depth) {
            parts[band].push(slope);
        }
    }
    let bounds = depths.iter().enumerate().map(|(i, from)| (*from, depths.get(i + 1).copied()));
    bounds
        .zip(parts)
        .map(|((from, to), found)| SlopeBand { from, to, slopes: summary(found) })
        .collect()
}

/// Depth and slope of every cell whose eight neighbours hold water.
fn sloped(model: &DepthModel) -> impl Iterator<Item = (f64, f64)> {
    let grid = model.grid();
    let (columns, rows, side) = (grid.columns(), grid.rows(), grid.cell().metres());
    (1..rows.saturating_sub(1)).flat_map(move |row| {
        (1..columns.saturating_sub(1)).filter_map(move |column| {
            let slope = slope_at(model, column, row, side)?;
            Some((grid.depth[row * columns + column], slope))
        })
    })
}

fn summary(mut found: Vec<f64>) -> Option<Slopes> {
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
        let littoral = Littoral { min_depth: Metres::new(10.0), max_depth: Metres::new(30.0) };
        let within = littoral_slopes(&model, littoral).unwrap();
        assert!((within.median - 5.0).abs() < 0.01, "{within:?}");
        assert!(0 < within.cells && within.cells < slopes.cells);
        let bounds = [0.0, 20.0, 40.0, 90.0].map(Metres::new);
        let bands = slopes_by_depth(&model, &bounds);
        assert_eq!(
            bands.iter().map(|band| band.to).collect::<Vec<_>>(),
            [Some(bounds[1]), Some(bounds[2]), Some(bounds[3]), None]
        );
        let cells = |band: &SlopeBand| band.slopes.map_or(0, |one| one.cells);
        assert_eq!(bands.iter().map(cells).sum::<usize>(), slopes.cells, "no cell is lost");
        assert!(bands[3].slopes.is_none(), "no place of the lake is so deep");
        assert!((bands[1].slopes.unwrap().mean - 5.0).abs() < 0.05);
    }
}
