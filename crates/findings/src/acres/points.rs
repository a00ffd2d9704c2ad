use super::water::WaterGrid;
use super::{AcresError, AreaEstimate, SampledPoint, Water};
use crate::random::Draw;
use crate::stats::Confidence;
use crate::stats::Estimate;
use crate::stats::design::score_interval;
use crate::stats::quantile::middle_95;
use std::collections::BTreeMap;
use survey::Code;
use units::SquareMetres;

/// Resamples of points for an interval.
const RESAMPLES: usize = 999;

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
    /// Seed of the resamples.
    pub seed: u64,
}

/// Extent from points: all water belongs to its nearest point, going by water.
///
/// # Formula
/// `Σ aᵢyᵢ`, `aᵢ` the water nearest to point `i`. Interval: points drawn anew with replacement, each
/// with its water, 999 times; the middle 95 % of `Σ aᵢyᵢ/Σ aᵢ`. Where all points agree resampling says
/// nothing, and Wilson's interval for `(Σa)²/Σa²` points stands in.
/// # Units
/// Square metres. Cells of about `1/cells` of the water; zones have their true area.
/// # Assumptions
/// A point speaks for the water around it. On a regular layout the interval is rather too wide.
/// # Errors
/// [`AcresError`] without water or without a point in it.
/// # References
/// Nearest-point polygons: Thiessen (1911), Monthly Weather Review 39: 1082–1084; ways through water:
/// Nash et al. (2007), AAAI-07: 1177–1183 (any-angle search); both from memory.
pub fn voronoi_extent(
    water: &Water<'_>,
    points: &[SampledPoint],
    seed: u64,
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
        extent(zone, cells, area, &wet, &homes, &owners, (outside, seed))
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
    (outside, seed): (usize, u64),
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
    let parts: Vec<(f64, bool)> =
        counts.iter().map(|(point, count)| (*count, points[*point as usize].found)).collect();
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
        extent: known.then(|| AreaEstimate::of_share(share_of(&parts, seed), cell_area * reached)),
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
        seed,
    }
}

/// Share of weights with the plant, parts resampled.
pub(super) fn share_of(parts: &[(f64, bool)], seed: u64) -> Estimate {
    let total: f64 = parts.iter().map(|(weight, _)| weight).sum();
    let with: f64 = parts.iter().filter(|(_, found)| *found).map(|(weight, _)| weight).sum();
    let value = with / total;
    let agree = parts.iter().all(|(_, found)| *found) || parts.iter().all(|(_, found)| !*found);
    if agree {
        let squares: f64 = parts.iter().map(|(weight, _)| weight * weight).sum();
        return score_interval(value, total * total / squares, Confidence::NINETY_FIVE.z());
    }
    let mut draw = Draw::new(seed);
    let mut shares: Vec<f64> = (0..RESAMPLES)
        .map(|_| {
            let (mut all, mut with) = (0.0, 0.0);
            for _ in 0..parts.len() {
                let (weight, found) = parts[draw.below(parts.len())];
                all += weight;
                with += if found { weight } else { 0.0 };
            }
            with / all
        })
        .collect();
    let (low, high) = middle_95(&mut shares).unwrap_or((0.0, 1.0));
    Estimate { value, low: low.min(value), high: high.max(value) }
}
