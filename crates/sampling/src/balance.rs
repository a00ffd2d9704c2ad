//! How evenly sites are spread over the water.

use crate::frame::Frame;
use rstar::RTree;
use rstar::primitives::GeomWithData;
use units::Metres;

/// Spatial balance of a sample: how unequal the shares are that its sites stand for.
///
/// # Formula
/// `B = (1/n) Σ (vₖ − 1)²`, with `vₖ` the sum of the inclusion probabilities of all places nearer to
/// chosen place k than to any other; a place equally near to several is shared out evenly. The
/// divisor is n, the target is 1 (not the mean of v).
///
/// 0 is perfect; simple random samples lie near 1/3 or more depending on shape (published manuals
/// say "near 1"), balanced ones well below.
/// # References
/// Stevens & Olsen 2004, JASA 99: 262–278; Grafström, Lundström & Schelin 2012, Biometrics 68:
/// 514–520.
/// # Examples
/// ```
/// // four by four places, each with a chance of a quarter; the four of one corner are chosen
/// let places: Vec<(f64, f64)> =
///     (0..16).map(|k| (f64::from(k % 4), f64::from(k / 4))).collect();
/// let balance = sampling::balance::voronoi_balance(&places, &[0.25; 16], &[0, 1, 4, 5]);
/// assert_eq!(balance, Some(0.5625));
/// ```
pub fn voronoi_balance(
    points: &[(f64, f64)],
    probabilities: &[f64],
    chosen: &[usize],
) -> Option<f64> {
    let sites: Vec<(f64, f64)> = chosen.iter().map(|&index| points[index]).collect();
    balance_of(&sites, points, |index| probabilities[index])
}

/// Spatial balance of any sites over the places of a frame, each place with the same chance
/// `n / N`, on about `n_cells` squares. None without sites or water.
pub fn layout_balance(frame: &Frame<'_>, sites: &[(f64, f64)], n_cells: usize) -> Option<f64> {
    let side = (frame.area().square_metres() / n_cells.max(1) as f64).sqrt();
    if side <= 0.0 {
        return None;
    }
    let cells: Vec<(f64, f64)> =
        frame.cells(Metres::new(side)).iter().map(|cell| (cell.x, cell.y)).collect();
    let chance = sites.len() as f64 / cells.len() as f64;
    balance_of(sites, &cells, |_| chance)
}

pub(crate) fn balance_of(
    sites: &[(f64, f64)],
    places: &[(f64, f64)],
    chance: impl Fn(usize) -> f64,
) -> Option<f64> {
    if sites.is_empty() || places.is_empty() {
        return None;
    }
    let entries: Vec<GeomWithData<[f64; 2], usize>> =
        sites.iter().enumerate().map(|(index, &(x, y))| GeomWithData::new([x, y], index)).collect();
    let tree = RTree::bulk_load(entries);
    let mut shares = vec![0.0; sites.len()];
    for (index, &(x, y)) in places.iter().enumerate() {
        let owners = tree.nearest_neighbors(&[x, y]);
        for owner in &owners {
            shares[owner.data] += chance(index) / owners.len() as f64;
        }
    }
    let n = sites.len() as f64;
    Some(shares.iter().map(|share| (share - 1.0).powi(2)).sum::<f64>() / n)
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "sums of quarters are exact")]
mod tests {
    use super::*;

    fn four_by_four() -> Vec<(f64, f64)> {
        (0..16).map(|k| (f64::from(k % 4), f64::from(k / 4))).collect()
    }

    /// Hand cases by the definition of Stevens & Olsen 2004 and Grafström, Lundström & Schelin 2012;
    /// the counts are done by hand.
    #[test]
    fn stevens_olsen_2004_hand_cases() {
        let places = four_by_four();
        let balance = |chosen: &[usize]| voronoi_balance(&places, &[0.25; 16], chosen).unwrap();
        // the same corner of each quadrant; ties shared: 2.25, 3.75, 3.75 and 6.25 places
        assert_eq!(balance(&[0, 2, 8, 10]), 0.128_906_25);
        // a corner block: 1, 3, 3 and 9 places
        assert_eq!(balance(&[0, 1, 4, 5]), 0.562_5);
        // all of them: each owns itself
        let all: Vec<usize> = (0..16).collect();
        assert_eq!(voronoi_balance(&places, &[1.0; 16], &all), Some(0.0));
        assert_eq!(voronoi_balance(&places, &[0.25; 16], &[]), None);
    }

    /// One place in each quadrant so that each owns four.
    #[test]
    fn one_in_each_quadrant_owning_four_is_perfect() {
        let places = four_by_four();
        // the inner corners of the quadrants: 5, 6, 9, 10
        assert_eq!(voronoi_balance(&places, &[0.25; 16], &[5, 6, 9, 10]), Some(0.0));
    }
}
