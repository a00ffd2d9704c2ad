//! The same measures for a part of the lake.

use super::Littoral;
use crate::coverage::{Window, coverage};
use crate::crs::CrsError;
use crate::depth::DepthModel;
use crate::outline::Outline;
use geo::orient::{Direction, Orient};
use geo::{
    BooleanOps, BoundingRect, Distance, Euclidean, Geodesic, GeodesicArea, Length, LinesIter, Point,
};
use geo_types::{Coord, Line, LineString, MultiLineString, MultiPolygon};
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

/// The water of a zone, without its depth.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneShape {
    /// The part of the zone that is water of the lake, in the working system's metres.
    pub water: MultiPolygon<f64>,
    /// Its area on the ellipsoid.
    pub area: SquareMetres,
    /// Length on the ellipsoid of the lake's shore within the zone, islands' as well.
    pub shore: Metres,
}

/// Measures what of a zone, given in the working system's metres, is water of the lake.
///
/// # Errors
/// As [`zone_statistics`].
pub fn zone_shape(outline: &Outline, zone: &MultiPolygon<f64>) -> Result<ZoneShape, CrsError> {
    let water = outline.projected().intersection(zone).orient(Direction::Default);
    let area = outline.crs().unproject_geometry(&water)?.geodesic_area_unsigned();
    let shore = MultiLineString(shore_of(&water, &outline.shores()));
    let shore: f64 =
        outline.crs().unproject_geometry(&shore)?.iter().map(|line| Geodesic.length(line)).sum();
    Ok(ZoneShape { water, area: SquareMetres::new(area), shore: Metres::new(shore) })
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
    let ZoneShape { water, area, shore } = zone_shape(model.outline(), zone)?;
    let sums = sum_cells(model, &water, littoral);
    let share = |part: f64| if 0.0 < sums.area { part / sums.area } else { 0.0 };
    let wet = if 0.0 < sums.dry { sums.area / (sums.area + sums.dry) } else { 1.0 };
    let area = area * wet;
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

/// An edge of a zone this near the shore is the shore: a zone drawn along it, or cut at it, is off by
/// the rounding of its file, and never by more than a hand can draw.
const ON_SHORE: f64 = 0.25;

/// The edges of a zone's water that are the lake's shore: their ends and middle lie on it.
fn shore_of(water: &MultiPolygon<f64>, shores: &MultiLineString<f64>) -> Vec<LineString<f64>> {
    let Some(extent) = water.bounding_rect() else { return Vec::new() };
    let (low, high) = (extent.min(), extent.max());
    let near = |a: f64, b: f64, least: f64, most: f64| {
        a.min(b) - ON_SHORE <= most && least <= a.max(b) + ON_SHORE
    };
    let shore: Vec<Line<f64>> = shores
        .lines_iter()
        .filter(|line| {
            near(line.start.x, line.end.x, low.x, high.x)
                && near(line.start.y, line.end.y, low.y, high.y)
        })
        .collect();
    let on_shore = |at: Coord<f64>| {
        shore.iter().any(|line| {
            near(line.start.x, line.end.x, at.x, at.x)
                && near(line.start.y, line.end.y, at.y, at.y)
                && Euclidean.distance(&Point(at), line) <= ON_SHORE
        })
    };
    water
        .lines_iter()
        .filter(|line| {
            let middle = (line.start + line.end) / 2.0;
            [line.start, middle, line.end].into_iter().all(on_shore)
        })
        .map(|line| LineString(vec![line.start, line.end]))
        .collect()
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
