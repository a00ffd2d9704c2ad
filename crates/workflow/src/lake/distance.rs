//! The lake by its distance to the nearest depth that was measured.

use super::map::{FINEST_BEND, polygons_json};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{DatumDistanceView, DistanceAreaView, DistanceBandView, DistanceView};
use geo::Simplify;
use lakebed::{DepthModel, datum_distance, distance_areas, distance_bands};
use units::Metres;

/// How many distances after nil the bands begin at.
const MOST_STEPS: usize = 4;

/// How far half of the water, most of it and the farthest place lie from a depth.
pub(super) fn datum_distance_view(
    ground: &Ground,
    model: &DepthModel,
) -> Result<Option<DatumDistanceView>> {
    let Some(far) = datum_distance(model) else { return Ok(None) };
    let place = ground.unproject(far.farthest)?;
    let distances = distances(ground, far.most);
    let areas = distance_areas(model, &distances);
    Ok(Some(DatumDistanceView {
        mean_m: far.mean.metres(),
        median_m: far.median.metres(),
        p95_m: far.p95.metres(),
        most_m: far.most.metres(),
        farthest: [far.farthest.x, far.farthest.y],
        farthest_lon_lat: [place.longitude(), place.latitude()],
        bands: distances
            .iter()
            .zip(areas)
            .enumerate()
            .map(|(index, (from, area))| DistanceAreaView {
                from_m: from.metres(),
                to_m: distances.get(index + 1).map(|to| to.metres()),
                area_m2: area.square_metres(),
            })
            .collect(),
    }))
}

/// Where the water lies near a sounding or contour and where far from any.
///
/// # Errors
/// When there are no depths yet.
pub fn distance_view(ground: &Ground) -> Result<DistanceView> {
    ground.need_outline()?;
    let model = ground.model.as_ref();
    let far = model.and_then(|model| Some((model, datum_distance(model)?)));
    let Some((model, far)) = far else {
        return Err(Error::not_found(format!(
            "`{}` has no depths yet, so nothing is near to one or far from it",
            ground.lake.name
        ))
        .hint("add depths first"));
    };
    let distances = distances(ground, far.most);
    let beyond = distances[1..].iter().find(|at| far.p95 <= **at).or(distances.last());
    Ok(DistanceView {
        beyond_m: beyond.map_or(0.0, |at| at.metres()),
        bands: distance_bands(model, &distances)
            .iter()
            .map(|band| DistanceBandView {
                from_m: band.from.metres(),
                to_m: band.to.map(Metres::metres),
                geometry: polygons_json(&band.shape.simplify(FINEST_BEND)),
            })
            .collect(),
    })
}

/// Nil and round distances up to the farthest, in the lake's unit.
fn distances(ground: &Ground, most: Metres) -> Vec<Metres> {
    let unit = ground.lake.units.length_unit().metres();
    let steps = steps(most.metres() / unit).into_iter();
    std::iter::once(Metres::new(0.0)).chain(steps.map(|at| Metres::new(at * unit))).collect()
}

/// The greatest of 1, 2, 5, 10, 20, 50 … below a number, rising.
fn steps(most: f64) -> Vec<f64> {
    let all = (-1..6).flat_map(|power| [1.0, 2.0, 5.0].map(|digit| digit * 10f64.powi(power)));
    let below: Vec<f64> = all.filter(|step| *step < most).collect();
    below[below.len().saturating_sub(MOST_STEPS)..].to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_below_the_most() {
        for (most, want) in [
            (312.0, [20.0, 50.0, 100.0, 200.0]),
            (50.0, [2.0, 5.0, 10.0, 20.0]),
            (7.0, [0.5, 1.0, 2.0, 5.0]),
        ] {
            let found = steps(most);
            assert!(found.iter().zip(want).all(|(a, b)| (a - b).abs() < 1e-9), "{found:?}");
            assert_eq!(found.len(), want.len());
        }
        assert!(steps(0.0).is_empty());
    }
}
