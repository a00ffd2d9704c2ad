//! The same measures for a part of the lake.

use super::Littoral;
use crate::coverage::{Window, coverage};
use crate::crs::CrsError;
use crate::depth::DepthModel;
use geo::orient::{Direction, Orient};
use geo::{BooleanOps, BoundingRect, Geodesic, GeodesicArea, Length};
use geo_types::{Coord, MultiPolygon};
use units::{CubicMetres, Metres, SquareMetres};

/// The measures of a zone's water.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneStatistics {
    /// The part of the zone that is water of the lake, in the working system's metres.
    pub water: MultiPolygon<f64>,
    /// Its area on the ellipsoid.
    pub area: SquareMetres,
    /// The part of the area whose depth is littoral.
    pub littoral_area: SquareMetres,
    /// Volume over area; none where the zone holds no water.
    pub mean_depth: Option<Metres>,
    /// Depth of the deepest cell; none where the zone holds no water.
    pub max_depth: Option<Metres>,
    /// Volume of its water.
    pub volume: CubicMetres,
    /// Length on the ellipsoid of the lake's shore within the zone, islands' as well.
    pub shore: Metres,
}

/// Measures the water of a zone given in the working system's metres.
///
/// What of the zone lies on land counts for nothing. Cells that the zone cuts count with the share
/// it covers, exactly, at the mean depth of the cell.
///
/// # Errors
/// [`CrsError::OutOfReach`] for a zone that the working system cannot turn back into longitude and
/// latitude.
pub fn zone_statistics(
    model: &DepthModel,
    zone: &MultiPolygon<f64>,
    littoral: Littoral,
) -> Result<ZoneStatistics, CrsError> {
    let outline = model.outline();
    let water = outline.projected().intersection(zone).orient(Direction::Default);
    let area = outline.crs().unproject_geometry(&water)?.geodesic_area_unsigned();
    let shore = zone.clip(&outline.shores(), false);
    let shore: f64 =
        outline.crs().unproject_geometry(&shore)?.iter().map(|line| Geodesic.length(line)).sum();
    let sums = sum_cells(model, &water, littoral);
    let share = |part: f64| if 0.0 < sums.area { part / sums.area } else { 0.0 };
    let wet = if 0.0 < sums.dry { sums.area / (sums.area + sums.dry) } else { 1.0 };
    let (area, shore) = (SquareMetres::new(area * wet), Metres::new(shore));
    let wet = 0.0 < sums.area;
    let mean = Metres::new(share(sums.volume));
    Ok(ZoneStatistics {
        area,
        littoral_area: area * share(sums.littoral),
        mean_depth: wet.then_some(mean),
        max_depth: wet.then(|| Metres::new(sums.deepest)),
        volume: area * mean,
        shore,
        water,
    })
}

#[derive(Default)]
struct Sums {
    area: f64,
    /// What a lower level laid dry.
    dry: f64,
    littoral: f64,
    volume: f64,
    deepest: f64,
}

fn sum_cells(model: &DepthModel, water: &MultiPolygon<f64>, littoral: Littoral) -> Sums {
    let mut sums = Sums::default();
    let grid = model.grid();
    let Some(extent) = water.bounding_rect() else {
        return sums;
    };
    let clamp = |at: Coord<f64>| grid.window.cell_at(at);
    let (Some(low), Some(high)) = (clamp(extent.min()), clamp(extent.max())) else {
        return sums;
    };
    let part = Window {
        corner: grid.window.point(low.0 as f64, low.1 as f64),
        cell: grid.window.cell,
        columns: high.0 - low.0 + 1,
        rows: high.1 - low.1 + 1,
    };
    for (index, share) in coverage(water, &part).into_iter().enumerate() {
        if share <= 0.0 {
            continue;
        }
        let (column, row) = (low.0 + index % part.columns, low.1 + index / part.columns);
        if grid.water[row * grid.window.columns + column] <= 0.0 && model.level().metres() < 0.0 {
            sums.dry += share;
            continue;
        }
        let depth = grid.depth[row * grid.window.columns + column];
        sums.area += share;
        sums.volume += share * depth;
        sums.deepest = sums.deepest.max(depth);
        if littoral.holds(Metres::new(depth)) {
            sums.littoral += share;
        }
    }
    sums
}
