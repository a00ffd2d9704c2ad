use super::water::WaterGrid;
use super::{AcresError, AreaEstimate, SampledPoint, Water};
use crate::stats::Confidence;
use crate::stats::Estimate;
use crate::stats::design::{neighbourhoods, score_interval};
use std::collections::BTreeMap;
use survey::Code;
use units::SquareMetres;

/// The extent of a plant in a zone, or in the whole water, from nearest points.
#[derive(Debug, Clone, PartialEq)]
pub struct PointExtent {
    /// The zone; none for the whole water.
    pub zone: Option<Code>,
    /// Water in it.
    pub water: SquareMetres,
    /// Water whose nearest point has the plant; none when no point lies in the zone: cannot tell.
    pub extent: Option<AreaEstimate>,
    /// The same by rating, in the order of the codes; finds without a rating under an empty code.
    pub by_step: Vec<(String, SquareMetres)>,
    /// Points inside.
    pub points: usize,
    /// Of these, with the plant.
    pub found: usize,
    /// Water no way leads to from any point; it is in no figure.
    pub out_of_reach: SquareMetres,
    /// Points that lie in no water and were left out; the same for every zone.
    pub outside: usize,
}

/// Extent from points: all water belongs to its nearest point, going by water.
///
/// # Formula
/// `Σ aᵢyᵢ`, `aᵢ` the water nearest to point `i`. Interval on the logit scale with the local variance
/// `Σ (aᵢ/A)²·n/(n − 1)·(yᵢ − ȳ)²`, `ȳ` over the point and its three nearest; below 8 points, or where near
/// points all agree, Wilson's interval for `(Σa)²/Σa²` points stands in.
/// # Units
/// Square metres. Cells of about `1/cells` of the water; zones have their true area.
/// # Assumptions
/// A point speaks for the water around it. Resampling whole points would count the pattern of the beds as
/// chance and held the truth 99 to 100 times in 100 in our simulations; the local variance holds it about
/// 95 times, and somewhat oftener where many points lie in few smooth beds.
/// # Errors
/// [`AcresError`] without water or without a point in it.
/// # References
/// Nearest-point polygons: Thiessen (1911), Monthly Weather Review 39: 1082–1084; ways through water:
/// Nash et al. (2007), AAAI-07: 1177–1183 (any-angle search); variance: Grafström & Schelin (2014),
/// Scandinavian Journal of Statistics 41: 277–290 (all from memory).
pub fn voronoi_extent(
    water: &Water<'_>,
    points: &[SampledPoint],
) -> Result<Vec<PointExtent>, AcresError> {
    let grid = WaterGrid::of(water)?;
    let cells: Vec<Option<u32>> = points.iter().map(|point| grid.cell(point.place)).collect();
    let wet: Vec<&SampledPoint> = points
        .iter()
        .zip(&cells)
        .filter(|(_, cell)| cell.is_some())
        .map(|(point, _)| point)
        .collect();
    if wet.is_empty() {
        return Err(AcresError::NoPoints { points: points.len() });
    }
    let homes: Vec<u32> = cells.iter().copied().flatten().collect();
    let owners = grid.nearest(&wet.iter().map(|point| point.place).collect::<Vec<_>>());
    let outside = points.len() - wet.len();
    let all: Vec<u32> = (0..grid.middles.len() as u32).collect();
    let one = |zone: Option<Code>, cells: &[u32], area: f64| {
        extent(zone, cells, area, &wet, &homes, &owners, outside)
    };
    let mut extents = vec![one(None, &all, grid.area)];
    for (code, shape) in water.zones {
        let (cells, area) = grid.zone(water, shape);
        extents.push(one(Some(code.clone()), &cells, area));
    }
    Ok(extents)
}

fn extent(
    zone: Option<Code>,
    cells: &[u32],
    area: f64,
    points: &[&SampledPoint],
    homes: &[u32],
    owners: &[Option<u32>],
    outside: usize,
) -> PointExtent {
    let mut counts: BTreeMap<u32, f64> = BTreeMap::new();
    let mut lost = 0.0;
    for cell in cells {
        match owners[*cell as usize] {
            Some(owner) => *counts.entry(owner).or_insert(0.0) += 1.0,
            None => lost += 1.0,
        }
    }
    let all = cells.len() as f64;
    let cell_area = if all > 0.0 { area / all } else { 0.0 };
    let here: Vec<usize> =
        (0..points.len()).filter(|point| cells.binary_search(&homes[*point]).is_ok()).collect();
    let reached = all - lost;
    let mut by_step: BTreeMap<String, f64> = BTreeMap::new();
    for (point, count) in &counts {
        let point = points[*point as usize];
        if point.found {
            *by_step.entry(point.step.clone().unwrap_or_default()).or_insert(0.0) += count;
        }
    }
    let known = !here.is_empty() && reached > 0.0;
    PointExtent {
        zone,
        water: SquareMetres::new(area),
        extent: known
            .then(|| AreaEstimate::of_share(local_share(&counts, points), cell_area * reached)),
        by_step: if known {
            by_step
                .into_iter()
                .map(|(code, count)| (code, SquareMetres::new(count * cell_area)))
                .collect()
        } else {
            Vec::new()
        },
        points: here.len(),
        found: here.iter().filter(|point| points[**point].found).count(),
        out_of_reach: SquareMetres::new(lost * cell_area),
        outside,
    }
}

/// Neighbours that show how restless the ground around a point is, itself included.
const NEAR: usize = 4;

/// Share of the water of points with the plant, its variance from near points.
fn local_share(counts: &BTreeMap<u32, f64>, points: &[&SampledPoint]) -> Estimate {
    let parts: Vec<(f64, bool, [f64; 2])> = counts
        .iter()
        .map(|(point, count)| {
            let point = points[*point as usize];
            (*count, point.found, point.place)
        })
        .collect();
    let total: f64 = parts.iter().map(|(weight, _, _)| weight).sum();
    let value = parts.iter().filter(|part| part.1).map(|part| part.0).sum::<f64>() / total;
    let z = Confidence::NINETY_FIVE.z();
    let places: Vec<[f64; 2]> = parts.iter().map(|part| part.2).collect();
    let variance: f64 = if parts.len() < 2 * NEAR {
        0.0
    } else {
        let near = neighbourhoods(&places);
        parts
            .iter()
            .zip(&near)
            .map(|((weight, found, _), near)| {
                let size = near.len() as f64;
                let mean = near.iter().filter(|other| parts[**other].1).count() as f64 / size;
                let apart = f64::from(*found) - mean;
                (weight / total).powi(2) * size / (size - 1.0) * apart * apart
            })
            .sum()
    };
    let inner = value * (1.0 - value);
    if inner > 1e-9 && variance > 0.0 {
        let middle = (value / (1.0 - value)).ln();
        let reach = z * variance.sqrt() / inner;
        let back = |logit: f64| 1.0 / (1.0 + (-logit).exp());
        return Estimate { value, low: back(middle - reach), high: back(middle + reach) };
    }
    let squares: f64 = parts.iter().map(|part| part.0 * part.0).sum();
    score_interval(value, total * total / squares, z)
}
