//! How alike two sets of sites are in what grows at them, and whether that is more than chance.

use crate::random::Draw;
use thiserror::Error;

/// How unlike two sites are: 0 alike, 1 nothing in common.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dissimilarity {
    /// `Σ|a − b| / Σ(a + b)` of amounts.
    BrayCurtis,
    /// `1 − shared/either` of presence.
    Jaccard,
}

impl Dissimilarity {
    /// Between two lists of amounts of the same taxa. Two sites without anything are alike, 0: the
    /// formulas leave that case open, and bare ground is like bare ground.
    ///
    /// # References
    /// Bray & Curtis (1957), Ecological Monographs 27: 325–349; Jaccard (1901) (from memory).
    pub fn between(self, one: &[f64], other: &[f64]) -> f64 {
        let pairs = || one.iter().zip(other);
        let (apart, all) = match self {
            Self::BrayCurtis => (
                pairs().map(|(a, b)| (a - b).abs()).sum::<f64>(),
                pairs().map(|(a, b)| a + b).sum::<f64>(),
            ),
            Self::Jaccard => {
                let here = |v: &f64| *v > 0.0;
                let either = pairs().filter(|(a, b)| here(a) || here(b)).count() as f64;
                let both = pairs().filter(|(a, b)| here(a) && here(b)).count() as f64;
                (either - both, either)
            }
        };
        if all > 0.0 { apart / all } else { 0.0 }
    }
}

/// Statistic that tells two groups of sites apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GroupStatistic {
    /// ANOSIM's R: `(mean rank between − mean rank within) / (M/2)`, `M` pairs of sites; −1 to 1, near 0
    /// when groups are alike. Ranks are mid-ranks.
    AnosimR,
    /// PERMANOVA's pseudo-F: `(SS_total − SS_within)/(SS_within/(n − 2))`, sums of squared distances over
    /// the size of the group.
    PseudoF,
}

/// How sites are dealt out anew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exchange {
    /// Any site may belong to either group.
    Free,
    /// The first half of the list and the second are the same sites in the same order: only the two
    /// visits of a site change places.
    WithinPairs,
}

/// Result of a permutation test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroupTest {
    /// Which statistic.
    pub statistic: GroupStatistic,
    /// Its value.
    pub value: f64,
    /// `(1 + #{as large}) / (1 + permutations)`.
    pub p: f64,
    /// Permutations.
    pub permutations: u32,
    /// Their seed.
    pub seed: u64,
    /// What was exchanged.
    pub exchange: Exchange,
}

/// Why there is no test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum GroupTestError {
    /// A group is too small.
    #[error("groups of `{first}` and `{second}` sites: expected at least 2 each")]
    TooFewSites {
        /// Sites of the first.
        first: usize,
        /// Sites of the second.
        second: usize,
    },
    /// Pairs asked for with groups of different sizes.
    #[error("groups of `{first}` and `{second}` sites are no pairs")]
    NotPaired {
        /// Sites of the first.
        first: usize,
        /// Sites of the second.
        second: usize,
    },
    /// Every site is like every other.
    #[error("all sites are alike: there is nothing to tell apart")]
    AllAlike,
    /// Rows of different lengths.
    #[error("site number `{index}` has `{found}` taxa, the first has `{expected}`")]
    UnevenRows {
        /// Place in the list.
        index: usize,
        /// Taxa in its row.
        found: usize,
        /// Taxa in the first row.
        expected: usize,
    },
}

/// Whether two groups of sites hold different communities.
///
/// # Formula
/// As at [`GroupStatistic`]. Every permutation needs only the sum over pairs within the first group:
/// those within the second follow from the total and the sums of rows. Ranks (doubled) and squared
/// distances (in steps of 2⁻³⁰) are whole numbers, so ties are seen as ties.
/// # Units
/// `rows` are amounts by taxon, the first group before the second.
/// # Assumptions
/// Sites exchangeable between groups when nothing changed. Both statistics also answer to groups that
/// are equally placed but unequally spread.
/// # Errors
/// [`GroupTestError`] when a group has fewer than two sites or all sites are alike.
/// # References
/// Clarke (1993), Australian Journal of Ecology 18: 117–143; Anderson (2001), Austral Ecology 26:
/// 32–46 (both from memory; values agree with scikit-bio 0.7).
pub fn group_test(
    rows: &[Vec<f64>],
    first: usize,
    measure: Dissimilarity,
    statistic: GroupStatistic,
    exchange: Exchange,
    permutations: u32,
    seed: u64,
) -> Result<GroupTest, GroupTestError> {
    let second = rows.len().saturating_sub(first);
    if first < 2 || second < 2 {
        return Err(GroupTestError::TooFewSites { first, second });
    }
    if exchange == Exchange::WithinPairs && first != second {
        return Err(GroupTestError::NotPaired { first, second });
    }
    let expected = rows[0].len();
    if let Some(index) = rows.iter().position(|row| row.len() != expected) {
        return Err(GroupTestError::UnevenRows { index, found: rows[index].len(), expected });
    }
    let weights = Weights::of(rows, measure, statistic)?;
    let mut members: Vec<u32> = (0..first as u32).collect();
    let seen = weights.sum_within(&members);
    let value = weights.value(&members, seen, statistic);
    let mut draw = Draw::new(seed);
    let mut all: Vec<u32> = (0..rows.len() as u32).collect();
    let mut as_large = 0;
    for _ in 0..permutations {
        match exchange {
            Exchange::Free => {
                // the first places of a shuffle are enough
                for place in 0..first {
                    let other = place + draw.below(rows.len() - place);
                    all.swap(place, other);
                }
                members.copy_from_slice(&all[..first]);
                members.sort_unstable();
            }
            Exchange::WithinPairs => {
                for (place, member) in members.iter_mut().enumerate() {
                    *member = (place + if draw.coin() { first } else { 0 }) as u32;
                }
            }
        }
        let within = weights.sum_within(&members);
        as_large += u32::from(weights.value(&members, within, statistic) >= value - 1e-12);
    }
    let p = f64::from(1 + as_large) / f64::from(1 + permutations);
    Ok(GroupTest { statistic, value, p, permutations, seed, exchange })
}

/// Whole-number weights of all pairs: doubled mid-ranks, or squared distances.
struct Weights {
    sites: usize,
    matrix: Vec<u32>,
    rows: Vec<u64>,
    total: u64,
}

/// Steps of squared distance.
const STEPS: f64 = 1_073_741_824.0;

impl Weights {
    fn of(
        rows: &[Vec<f64>],
        measure: Dissimilarity,
        statistic: GroupStatistic,
    ) -> Result<Self, GroupTestError> {
        let sites = rows.len();
        let distances = all_distances(rows, measure);
        if distances.windows(2).all(|pair| (pair[0] - pair[1]).abs() < 1e-12) {
            return Err(GroupTestError::AllAlike);
        }
        let weights = match statistic {
            GroupStatistic::AnosimR => doubled_ranks(&distances),
            GroupStatistic::PseudoF => {
                distances.iter().map(|d| (d * d * STEPS).round() as u32).collect()
            }
        };
        let mut matrix = vec![0_u32; sites * sites];
        let mut next = weights.iter();
        for i in 0..sites {
            for j in 0..i {
                let weight = next.next().copied().unwrap_or(0);
                matrix[i * sites + j] = weight;
                matrix[j * sites + i] = weight;
            }
        }
        let rows: Vec<u64> =
            matrix.chunks(sites).map(|row| row.iter().map(|w| u64::from(*w)).sum()).collect();
        let total = rows.iter().sum::<u64>() / 2;
        Ok(Self { sites, matrix, rows, total })
    }

    /// Sum over all pairs of members, which stand in any order.
    fn sum_within(&self, members: &[u32]) -> u64 {
        let mut sum = 0;
        for (place, one) in members.iter().enumerate() {
            let start = *one as usize * self.sites;
            let row = &self.matrix[start..start + self.sites];
            let (mut a, mut b, mut c, mut d) = (0_u64, 0_u64, 0_u64, 0_u64);
            let (fours, rest) = members[..place].as_chunks::<4>();
            for four in fours {
                a += u64::from(row[four[0] as usize]);
                b += u64::from(row[four[1] as usize]);
                c += u64::from(row[four[2] as usize]);
                d += u64::from(row[four[3] as usize]);
            }
            for other in rest {
                a += u64::from(row[*other as usize]);
            }
            sum += a + b + c + d;
        }
        sum
    }

    fn value(&self, members: &[u32], within: u64, statistic: GroupStatistic) -> f64 {
        let by_rows: u64 = members.iter().map(|one| self.rows[*one as usize]).sum();
        let others = self.total + within - by_rows;
        let (n, m) = (self.sites as f64, members.len() as f64);
        let (within, others, total) = (within as f64, others as f64, self.total as f64);
        match statistic {
            GroupStatistic::AnosimR => {
                let pairs = |size: f64| size * (size - 1.0) / 2.0;
                let inside = (within + others) / (pairs(m) + pairs(n - m));
                let between = (total - within - others) / (m * (n - m));
                // the ranks are doubled
                (between - inside) / pairs(n)
            }
            GroupStatistic::PseudoF => {
                let inside = within / m + others / (n - m);
                (total / n - inside) / (inside / (n - 2.0))
            }
        }
    }
}

/// Distances of every site from the ones before it, in that order.
fn all_distances(rows: &[Vec<f64>], measure: Dissimilarity) -> Vec<f64> {
    let mut distances = Vec::with_capacity(rows.len() * rows.len() / 2);
    match measure {
        Dissimilarity::BrayCurtis => {
            let sums: Vec<f64> = rows.iter().map(|row| row.iter().sum()).collect();
            for (i, one) in rows.iter().enumerate() {
                for (other, sum) in rows[..i].iter().zip(&sums) {
                    let apart: f64 = one.iter().zip(other).map(|(a, b)| (a - b).abs()).sum();
                    let all = sums[i] + sum;
                    distances.push(if all > 0.0 { apart / all } else { 0.0 });
                }
            }
        }
        Dissimilarity::Jaccard => {
            for (i, one) in rows.iter().enumerate() {
                distances.extend(rows[..i].iter().map(|other| measure.between(one, other)));
            }
        }
    }
    distances
}

/// Twice the mid-rank of every value.
fn doubled_ranks(values: &[f64]) -> Vec<u32> {
    let mut order: Vec<u32> = (0..values.len() as u32).collect();
    order.sort_unstable_by(|a, b| values[*a as usize].total_cmp(&values[*b as usize]));
    let mut ranks = vec![0; values.len()];
    let mut start = 0;
    let near = |a: &u32, b: &u32| values[*b as usize] - values[*a as usize] < 1e-12;
    for tie in order.chunk_by(near) {
        let doubled = (2 * start + tie.len() + 1) as u32;
        for one in tie {
            ranks[*one as usize] = doubled;
        }
        start += tie.len();
    }
    ranks
}

#[cfg(test)]
mod tests;
