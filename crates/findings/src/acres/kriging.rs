use super::variogram::Variogram;
use super::water::WaterGrid;
use super::{AcresError, AreaEstimate, SampledPoint, Water};
use crate::stats::design::score_interval;
use crate::stats::{Confidence, Estimate};
use rstar::RTree;
use rstar::primitives::GeomWithData;
use survey::Code;
use units::SquareMetres;

/// Points that speak for a cell.
const NEIGHBOURS: usize = 12;
/// Nearest points looked through for ones in sight.
const CANDIDATES: usize = 36;
/// Fewest points for a variogram.
const LEAST_POINTS: usize = 20;
/// Cells that stand for all of a zone in the variance.
const STANDING: usize = 500;

/// The chance of a plant in one cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KrigedCell {
    /// Middle of the cell in metres.
    pub place: [f64; 2],
    /// Chance, 0 to 1.
    pub chance: f64,
    /// Standard error of the chance: how unsure the map is there.
    pub error: f64,
}

/// Extent of a plant in a zone, or in the whole water, from mapped chances.
#[derive(Debug, Clone, PartialEq)]
pub struct KrigedExtent {
    /// The whole water first, then the zones: code, water, extent (none without a cell), points inside.
    pub zones: Vec<(Option<Code>, SquareMetres, Option<AreaEstimate>, usize)>,
    /// The map.
    pub cells: Vec<KrigedCell>,
    /// Side of a cell in metres.
    pub cell_side: f64,
    /// The fitted variogram.
    pub variogram: Variogram,
    /// Points that lie in no water and were left out.
    pub outside: usize,
}

/// Extent from points by indicator kriging within the water.
///
/// # Formula
/// Ordinary kriging of 0 and 1 from the 12 nearest points in sight of a cell over water (none in
/// sight: from the nearest by water), clipped to 0..1; the extent is the sum of chances times the area
/// of cells. Its variance is that of the sum of the cells' weights,
/// `C̄(V,V) − 2·Σ λ̄ᵢC̄(xᵢ,V) + Σ λ̄ᵢλ̄ⱼC(xᵢ,xⱼ)`; the interval is taken on the logit scale.
/// # Units
/// Square metres, chances, metres.
/// # Assumptions
/// One variogram everywhere, in straight lines: land breaks what points may speak for a cell, not how
/// alike two places are. The variance takes the variogram as known, so the interval is rather short
/// with few points.
/// # Errors
/// [`AcresError`] without water or with fewer than 20 points in it.
/// # References
/// Journel (1983), Mathematical Geology 15: 445–468; Cressie (1993), Statistics for Spatial Data, ch. 3
/// (both from memory).
pub fn kriged_extent(
    water: &Water<'_>,
    points: &[SampledPoint],
) -> Result<KrigedExtent, AcresError> {
    let grid = WaterGrid::of(water)?;
    let wet: Vec<([f64; 2], f64, u32)> = points
        .iter()
        .filter_map(|point| Some((point.place, f64::from(point.found), grid.cell(point.place)?)))
        .collect();
    if wet.len() < LEAST_POINTS {
        return Err(AcresError::TooFewPoints { points: wet.len(), expected: LEAST_POINTS });
    }
    let places: Vec<[f64; 2]> = wet.iter().map(|(place, _, _)| *place).collect();
    let values: Vec<([f64; 2], f64)> = wet.iter().map(|(place, y, _)| (*place, *y)).collect();
    let variogram = Variogram::fit(&values);
    let tree = RTree::bulk_load(
        places.iter().enumerate().map(|(n, place)| GeomWithData::new(*place, n)).collect(),
    );
    let nearest = grid.nearest(&places);
    let weights: Vec<Vec<(usize, f64)>> = grid
        .middles
        .iter()
        .enumerate()
        .map(|(cell, middle)| {
            let seen: Vec<usize> = tree
                .nearest_neighbor_iter(middle)
                .take(CANDIDATES)
                .map(|one| one.data)
                .filter(|point| grid.sees(places[*point], *middle))
                .take(NEIGHBOURS)
                .collect();
            if seen.is_empty() {
                let owner = nearest[cell].map(|owner| owner as usize);
                return owner.map_or_else(Vec::new, |owner| vec![(owner, 1.0)]);
            }
            let weights = ordinary(&variogram, &places, &seen, *middle);
            seen.into_iter().zip(weights).collect()
        })
        .collect();
    let system =
        System { grid: &grid, places: &places, values: &values, weights: &weights, variogram };
    let all: Vec<u32> = (0..grid.middles.len() as u32).collect();
    let mut zones = Vec::new();
    let homes: Vec<u32> = wet.iter().map(|(_, _, cell)| *cell).collect();
    let inside =
        |cells: &[u32]| homes.iter().filter(|home| cells.binary_search(home).is_ok()).count();
    zones.push((None, SquareMetres::new(grid.area), system.extent(&all, grid.area), homes.len()));
    for (code, shape) in water.zones {
        let (cells, area) = grid.zone(water, shape);
        let extent = system.extent(&cells, area);
        zones.push((Some(code.clone()), SquareMetres::new(area), extent, inside(&cells)));
    }
    Ok(KrigedExtent {
        zones,
        cells: all.iter().filter_map(|cell| system.cell(*cell)).collect(),
        cell_side: grid.step,
        variogram,
        outside: points.len() - wet.len(),
    })
}

fn far(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Weights of ordinary kriging: Cholesky of the covariances, the sum held at one.
pub(super) fn ordinary(
    variogram: &Variogram,
    places: &[[f64; 2]],
    points: &[usize],
    at: [f64; 2],
) -> Vec<f64> {
    let n = points.len();
    let even = || vec![1.0 / n as f64; n];
    if variogram.partial <= 0.0 {
        return even();
    }
    let mut lower = [[0.0_f64; NEIGHBOURS]; NEIGHBOURS];
    for i in 0..n {
        for j in 0..=i {
            let covariance = if i == j {
                // a hair more, so that two points at one place do no harm
                variogram.sill() * (1.0 + 1e-9)
            } else {
                variogram.covariance(far(places[points[i]], places[points[j]]))
            };
            let sum: f64 = (0..j).map(|k| lower[i][k] * lower[j][k]).sum();
            if i == j {
                if covariance - sum <= 0.0 {
                    return even();
                }
                lower[i][i] = (covariance - sum).sqrt();
            } else {
                lower[i][j] = (covariance - sum) / lower[j][j];
            }
        }
    }
    let solve = |mut right: [f64; NEIGHBOURS]| {
        for i in 0..n {
            let sum: f64 = (0..i).map(|k| lower[i][k] * right[k]).sum();
            right[i] = (right[i] - sum) / lower[i][i];
        }
        for i in (0..n).rev() {
            let sum: f64 = (i + 1..n).map(|k| lower[k][i] * right[k]).sum();
            right[i] = (right[i] - sum) / lower[i][i];
        }
        right
    };
    let mut near = [0.0; NEIGHBOURS];
    let mut ones = [0.0; NEIGHBOURS];
    for (i, point) in points.iter().enumerate() {
        near[i] = variogram.covariance(far(places[*point], at));
        ones[i] = 1.0;
    }
    let (simple, unit) = (solve(near), solve(ones));
    let sum = |values: &[f64; NEIGHBOURS]| values[..n].iter().sum::<f64>();
    let lagrange = (1.0 - sum(&simple)) / sum(&unit);
    (0..n).map(|i| simple[i] + lagrange * unit[i]).collect()
}

struct System<'a> {
    grid: &'a WaterGrid,
    places: &'a [[f64; 2]],
    values: &'a [([f64; 2], f64)],
    weights: &'a [Vec<(usize, f64)>],
    variogram: Variogram,
}

impl System<'_> {
    fn chance(&self, cell: u32) -> f64 {
        let weights = &self.weights[cell as usize];
        weights.iter().map(|(point, w)| w * self.values[*point].1).sum::<f64>().clamp(0.0, 1.0)
    }

    fn cell(&self, cell: u32) -> Option<KrigedCell> {
        let weights = &self.weights[cell as usize];
        let place = self.grid.middles[cell as usize];
        let own = self.variogram.partial;
        let mut variance = own;
        for (point, weight) in weights {
            variance -= 2.0 * weight * self.variogram.covariance(far(self.places[*point], place));
            for (other, other_weight) in weights {
                variance += weight * other_weight * self.between(*point, *other);
            }
        }
        (!weights.is_empty()).then(|| KrigedCell {
            place,
            chance: self.chance(cell),
            error: variance.max(0.0).sqrt(),
        })
    }

    fn between(&self, one: usize, other: usize) -> f64 {
        if one == other {
            self.variogram.sill()
        } else {
            self.variogram.covariance(far(self.places[one], self.places[other]))
        }
    }

    fn extent(&self, cells: &[u32], area: f64) -> Option<AreaEstimate> {
        let known: Vec<u32> =
            cells.iter().copied().filter(|cell| !self.weights[*cell as usize].is_empty()).collect();
        if known.is_empty() {
            return None;
        }
        let count = known.len() as f64;
        let share = known.iter().map(|cell| self.chance(*cell)).sum::<f64>() / count;
        let mut mean_weights = vec![0.0; self.places.len()];
        for cell in &known {
            for (point, weight) in &self.weights[*cell as usize] {
                mean_weights[*point] += weight / count;
            }
        }
        let used: Vec<usize> =
            (0..mean_weights.len()).filter(|n| mean_weights[*n] != 0.0).collect();
        let every = known.len().div_ceil(STANDING);
        let standing: Vec<[f64; 2]> =
            known.iter().step_by(every).map(|cell| self.grid.middles[*cell as usize]).collect();
        let average = |at: [f64; 2]| {
            standing.iter().map(|cell| self.variogram.covariance(far(at, *cell))).sum::<f64>()
                / standing.len() as f64
        };
        let within =
            standing.iter().map(|cell| average(*cell)).sum::<f64>() / standing.len() as f64;
        let mut variance = within;
        for one in &used {
            variance -= 2.0 * mean_weights[*one] * average(self.places[*one]);
            for other in &used {
                variance += mean_weights[*one] * mean_weights[*other] * self.between(*one, *other);
            }
        }
        let z = Confidence::NINETY_FIVE.z();
        let inner = share * (1.0 - share);
        let interval = if inner > 1e-9 && variance > 0.0 {
            let middle = (share / (1.0 - share)).ln();
            let reach = z * variance.sqrt() / inner;
            let back = |logit: f64| 1.0 / (1.0 + (-logit).exp());
            Estimate { value: share, low: back(middle - reach), high: back(middle + reach) }
        } else {
            let squares: f64 = used.iter().map(|n| mean_weights[*n].powi(2)).sum();
            score_interval(share, 1.0 / squares, z)
        };
        Some(AreaEstimate::of_share(interval, area * count / cells.len() as f64))
    }
}
