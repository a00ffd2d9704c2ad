//! The measures of a raster of depths as published tables of elevation, area and volume have them:
//! cells times the area of a cell.

use super::{HypsographyRow, Littoral};
use crate::depth::DepthRaster;
use contour::ContourBuilder;
use geo::{Area, orient::Direction, orient::Orient};
use geo_types::{Coord, MultiPolygon};
use units::{CubicMetres, Metres, SquareMetres};

/// What the cells of a raster hold at a level of the water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RasterMeasures {
    /// Cells under water times the area of a cell, in the plane of the raster.
    pub area: SquareMetres,
    /// Depth times the area of a cell, summed over the cells under water.
    pub volume: CubicMetres,
    /// The deepest cell; nil where all is dry.
    pub max_depth: Metres,
    /// How many cells are under water.
    pub cells: usize,
}

/// Measures a raster of depths by its cells.
///
/// # Formula
/// `A = n · c²` over the `n` cells with `zᵢ + l > 0`, `V = c² · Σ (zᵢ + l)`, with `zᵢ` the depth of cell
/// `i` below the reference level, negative on land, `l` the level above it and `c²` the area of a cell.
/// # References
/// The tables of elevation, area and volume of the Central Sands lakes (Wisconsin Department of
/// Natural Resources 2020) follow this rule to their last digit.
pub fn raster_cells(raster: &DepthRaster, level: Metres) -> RasterMeasures {
    let (mut cells, mut sum, mut most) = (0usize, 0.0, 0.0f64);
    for depth in wet(raster, level) {
        cells += 1;
        sum += depth;
        most = most.max(depth);
    }
    let cell = raster.cell_area();
    RasterMeasures {
        area: SquareMetres::new(cells as f64 * cell),
        volume: CubicMetres::new(sum * cell),
        max_depth: Metres::new(most),
        cells,
    }
}

/// A cell is wet when it is deeper than this many metres: depth and level are differences of
/// elevations, and a nanometre is their rounding.
const WET: f64 = 1e-9;

/// Depth at a level of every cell under water.
fn wet(raster: &DepthRaster, level: Metres) -> impl Iterator<Item = f64> {
    let level = level.metres();
    raster.depths.iter().map(move |depth| depth + level).filter(|depth| WET < *depth)
}

/// Area at or deeper than each depth and volume below it, by the cells of a raster; the row at nil
/// counts cells under water.
pub fn raster_hypsography(
    raster: &DepthRaster,
    level: Metres,
    depths: &[Metres],
) -> Vec<HypsographyRow> {
    let cell = raster.cell_area();
    depths
        .iter()
        .map(|&depth| {
            let d = depth.metres();
            let deeper = wet(raster, level).filter(|z| d <= *z);
            let (count, volume) =
                deeper.fold((0usize, 0.0), |(count, volume), z| (count + 1, volume + (z - d)));
            HypsographyRow {
                depth,
                area: SquareMetres::new(count as f64 * cell),
                volume_below: CubicMetres::new(volume * cell),
            }
        })
        .collect()
}

/// Area of the cells whose depth at a level belongs to the littoral zone.
pub fn raster_littoral_area(
    raster: &DepthRaster,
    level: Metres,
    littoral: Littoral,
) -> SquareMetres {
    let held = wet(raster, level).filter(|depth| littoral.holds(Metres::new(*depth)));
    SquareMetres::new(held.count() as f64 * raster.cell_area())
}

/// Height above the water of ground far from it.
const ABOVE_ALL: f64 = -1_000.0;
/// Pools smaller than this share of the largest are puddles.
const PUDDLE: f64 = 0.01;

/// The shore a raster of depths shows: the line of depth nil, drawn between the centres of its
/// cells, in the raster's metres. A cell without a datum lies as high above the water as its wet
/// neighbours lie below, so that the shore runs along its edge. Pools of less than a hundredth of
/// the largest are left out.
pub fn shore_of_raster(raster: &DepthRaster) -> MultiPolygon<f64> {
    const MARGIN: usize = 2;
    let columns = raster.columns.max(1);
    let rows = raster.depths.len() / columns;
    let (wide, high) = (columns + 2 * MARGIN, rows + 2 * MARGIN);
    let mut known = vec![f64::NAN; wide * high];
    for row in 0..rows {
        // contours count rows from the south
        let to = (rows - 1 - row + MARGIN) * wide + MARGIN;
        known[to..to + columns].copy_from_slice(&raster.depths[row * columns..][..columns]);
    }
    let values: Vec<f64> = (0..known.len())
        .map(|index| {
            if known[index].is_finite() {
                return known[index];
            }
            let (x, y) = (index % wide, index / wide);
            let around = (y.saturating_sub(1)..=(y + 1).min(high - 1))
                .flat_map(|y| (x.saturating_sub(1)..=(x + 1).min(wide - 1)).map(move |x| (x, y)));
            let wet: Vec<f64> =
                around.map(|(x, y)| known[y * wide + x]).filter(|value| 0.0 < *value).collect();
            if wet.is_empty() { ABOVE_ALL } else { -wet.iter().sum::<f64>() / wet.len() as f64 }
        })
        .collect();
    let corner = Coord {
        x: raster.corner.x - MARGIN as f64 * raster.cell_width,
        y: raster.corner.y - (rows + MARGIN) as f64 * raster.cell_height,
    };
    let shape = ContourBuilder::new(wide, high, true)
        .x_origin(corner.x)
        .y_origin(corner.y)
        .x_step(raster.cell_width)
        .y_step(raster.cell_height)
        .contours(&values, &[0.0])
        .ok()
        .and_then(|mut contours| contours.pop())
        .map_or_else(|| MultiPolygon(vec![]), |contour| contour.into_inner().0);
    let largest = shape.iter().map(Area::unsigned_area).fold(0.0, f64::max);
    let pools = shape.into_iter().filter(|piece| PUDDLE * largest <= piece.unsigned_area());
    MultiPolygon(pools.collect()).orient(Direction::Default)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A bowl of 4 by 3 cells of 2 m by 5 m, one without a datum.
    fn bowl() -> DepthRaster {
        DepthRaster {
            corner: Coord { x: 100.0, y: 200.0 },
            cell_width: 2.0,
            cell_height: 5.0,
            columns: 4,
            depths: vec![
                -0.5,
                1.0,
                1.0,
                f64::NAN, //
                0.5,
                2.0,
                3.0,
                -0.25, //
                -0.5,
                0.5,
                1.0,
                0.0,
            ],
        }
    }

    /// By hand: seven wet cells of 10 m² hold 9 m of water in all.
    #[test]
    fn cells_times_their_area() {
        let at_reference = raster_cells(&bowl(), Metres::new(0.0));
        assert_eq!(at_reference.cells, 7);
        assert!((at_reference.area.square_metres() - 70.0).abs() < 1e-12);
        assert!((at_reference.volume.cubic_metres() - 90.0).abs() < 1e-12);
        // 0.3 m higher the cell at −0.25 and the one at 0 are wet as well
        let higher = raster_cells(&bowl(), Metres::new(0.3));
        assert_eq!(higher.cells, 9);
        assert!((higher.volume.cubic_metres() - 10.0 * (9.0 + 9.0 * 0.3 - 0.25)).abs() < 1e-9);
        let lower = raster_cells(&bowl(), Metres::new(-1.0));
        assert_eq!((lower.cells, lower.max_depth), (2, Metres::new(2.0)));
        assert_eq!(raster_cells(&bowl(), Metres::new(-9.0)).cells, 0);
    }

    #[test]
    fn hypsography_and_littoral_of_cells() {
        let rows = raster_hypsography(&bowl(), Metres::new(0.0), &[0.0, 1.0, 3.0].map(Metres::new));
        let areas: Vec<f64> = rows.iter().map(|row| row.area.square_metres()).collect();
        assert_eq!(areas, [70.0, 50.0, 10.0]);
        assert!((rows[1].volume_below.cubic_metres() - 30.0).abs() < 1e-12);
        let shallow = Littoral { min_depth: Metres::new(0.5), max_depth: Metres::new(1.0) };
        let area = raster_littoral_area(&bowl(), Metres::new(0.0), shallow).square_metres();
        assert!((area - 50.0).abs() < 1e-12, "{area}");
    }

    #[test]
    fn the_shore_encloses_the_wet_cells() {
        use geo::Contains;
        let shore = shore_of_raster(&bowl());
        assert_eq!(shore.0.len(), 1);
        let area = shore.unsigned_area();
        assert!((40.0..100.0).contains(&area), "{area}");
        // centres of the deepest cell and of a dry one
        assert!(shore.contains(&Coord { x: 105.0, y: 192.5 }));
        assert!(!shore.contains(&Coord { x: 101.0, y: 197.5 }));
    }
}
