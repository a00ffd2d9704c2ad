//! How far the water lies from the nearest depth that was measured.

use super::{bands::builder, cell_ground, deeper_than};
use crate::depth::DepthModel;
use geo::{BooleanOps, orient::Direction, orient::Orient};
use geo_types::MultiPolygon;
use units::{Metres, SquareMetres};

/// How far the cells of the depth model lie from the nearest sounding or contour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DatumDistance {
    /// Mean over the water.
    pub mean: Metres,
    /// Half of the water is nearer.
    pub median: Metres,
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
    let within = |share: f64| {
        let mut seen = 0.0;
        let reached = cells.iter().find(|cell| {
            seen += cell.water;
            share * water <= seen
        });
        reached.unwrap_or(last).to_datum
    };
    Some(DatumDistance {
        mean: Metres::new(mean),
        median: within(0.5),
        p95: within(0.95),
        most: last.to_datum,
        farthest: last.centre,
    })
}

/// The water farther from any sounding or contour than a distance.
#[derive(Debug, Clone, PartialEq)]
pub struct DistanceBand {
    /// The distance.
    pub from: Metres,
    /// The next distance; none for the farthest band.
    pub to: Option<Metres>,
    /// All water at least `from` away, in the working system's metres: bands lie on one another.
    pub shape: MultiPolygon<f64>,
    /// Area of the water from `from` up to `to`, on the ground, from the cells of the grid.
    pub area: SquareMetres,
}

/// Area of the water between each distance to the nearest sounding or contour and the next, from the
/// cells of the grid.
pub fn distance_areas(model: &DepthModel, distances: &[Metres]) -> Vec<SquareMetres> {
    let ground = cell_ground(model);
    let mut areas = vec![0.0; distances.len()];
    for cell in model.grid().cells() {
        if let Some(band) = distances.iter().rposition(|from| *from <= cell.to_datum) {
            areas[band] += cell.water * ground;
        }
    }
    areas.into_iter().map(SquareMetres::new).collect()
}

/// The lake by its distance to the nearest sounding or contour, at distances that rise from nil.
///
/// The lines run between the centres of the cells, as contours do, and are cut at the shore.
pub fn distance_bands(model: &DepthModel, distances: &[Metres]) -> Vec<DistanceBand> {
    let grid = model.grid();
    let areas = distance_areas(model, distances);
    let lake = deeper_than(model, Metres::new(0.0));
    // the shore cuts between two centres, of which one may lie on land
    let columns = grid.columns();
    let centres: Vec<f64> = (0..columns * grid.rows())
        .map(|index| {
            let at = grid.window.centre(index % columns, index / columns);
            model.distance_to_datum(at).metres()
        })
        .collect();
    let shape = |from: Metres| {
        if from <= Metres::new(0.0) {
            return lake.clone();
        }
        let found = builder(grid).contours(&centres, &[from.metres()]).ok();
        let rings = found.and_then(|mut all| all.pop()).map(|one| one.into_inner().0);
        rings.map_or_else(
            || MultiPolygon(vec![]),
            |rings| rings.intersection(&lake).orient(Direction::Default),
        )
    };
    distances
        .iter()
        .enumerate()
        .map(|(index, &from)| DistanceBand {
            from,
            to: distances.get(index + 1).copied(),
            shape: shape(from),
            area: areas[index],
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::depth::{DepthData, DepthOptions};
    use crate::test_lakes::{AT, rectangle};
    use geo::Area;
    use geo_types::Coord;

    #[test]
    fn one_sounding_leaves_the_far_end_far() {
        let lake = rectangle(1_000.0, 200.0);
        let data = DepthData::from_soundings([(AT + Coord { x: 10.0, y: 100.0 }, 5.0)]);
        let model = DepthModel::build(&lake, &data, &DepthOptions::default()).unwrap();
        let far = datum_distance(&model).unwrap();
        assert!((far.most.metres() - 990.0).abs() < 20.0, "{far:?}");
        assert!((far.mean.metres() - 490.0).abs() < 15.0, "{far:?}");
        assert!((far.median.metres() - 490.0).abs() < 15.0, "{far:?}");
    }

    /// A sounding in the middle: within 50 m of it lies a disc of 50 m, beyond 150 m the two ends.
    #[test]
    fn bands_of_distance_are_discs_about_a_sounding() {
        let lake = rectangle(1_000.0, 200.0);
        let data = DepthData::from_soundings([(AT + Coord { x: 500.0, y: 100.0 }, 5.0)]);
        let model = DepthModel::build(&lake, &data, &DepthOptions::default()).unwrap();
        let distances = [0.0, 50.0, 150.0].map(Metres::new);
        let bands = distance_bands(&model, &distances);
        let disc = std::f64::consts::PI * 2_500.0;
        assert!((bands[0].area.square_metres() / disc - 1.0).abs() < 0.02, "{:?}", bands[0].area);
        assert!((bands[1].shape.unsigned_area() - (200_000.0 - disc)).abs() < 0.02 * disc);
        let whole: f64 = bands.iter().map(|band| band.area.square_metres()).sum();
        assert!((whole / lake.area().square_metres() - 1.0).abs() < 1e-6, "{whole}");
        // the two ends: what lies beyond a circle of 150 m in a strip of 200 m
        let half = 10_000.0 * (1.25f64).sqrt() + 22_500.0 * (2.0f64 / 3.0).asin();
        let ends = bands[2].shape.unsigned_area();
        assert!((ends / (200_000.0 - 2.0 * half) - 1.0).abs() < 0.01, "{ends} {half}");
        assert_eq!((bands[1].to, bands[2].to), (Some(distances[2]), None));
    }

    #[test]
    fn no_water_is_farther_than_the_farthest() {
        let lake = rectangle(400.0, 200.0);
        let data = DepthData::from_soundings([(AT + Coord { x: 200.0, y: 100.0 }, 5.0)]);
        let model = DepthModel::build(&lake, &data, &DepthOptions::default()).unwrap();
        let bands = distance_bands(&model, &[Metres::new(0.0), Metres::new(900.0)]);
        assert!(bands[1].shape.0.is_empty());
        assert!(bands[1].area.square_metres().abs() < 1e-9);
    }
}
