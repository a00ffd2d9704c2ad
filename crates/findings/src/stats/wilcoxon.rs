//! Wilcoxon's signed-rank test for ratings at the same sites.

use super::distribution::{normal_lower_tail, normal_upper_tail};
use super::{Alternative, Continuity};
use thiserror::Error;

/// What is done with sites whose rating did not change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ZeroRule {
    /// Dropped before ranking (Wilcoxon 1945).
    Drop,
    /// Ranked with the others, then dropped (Pratt 1959): the rule for rake ratings, of which many
    /// do not change.
    Pratt,
}

/// Where the p value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NullDistribution {
    /// Every assignment of signs to the ranks seen, ties included; up to [`MOST_EXACT`] sites.
    Exact,
    /// Normal, with the variance of the ranks as tied.
    Normal(Continuity),
    /// Exact up to 50 changed sites, else normal without correction.
    BySize,
}

/// Most changed sites for which all assignments of signs are counted.
pub const MOST_EXACT: usize = 200;

/// Result of the test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SignedRank {
    /// Sum of the ranks of positive differences, `V`.
    pub positive: f64,
    /// Sum of the ranks of negative differences.
    pub negative: f64,
    /// Sites that changed.
    pub changed: usize,
    /// Sites that did not.
    pub unchanged: usize,
    /// Rule followed for those.
    pub zero_rule: ZeroRule,
    /// Whether all assignments of signs were counted.
    pub exact: bool,
    /// p value.
    pub p: f64,
}

/// Why there is no test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum SignedRankError {
    /// Not one site changed.
    #[error("none of the `{sites}` sites changed: there is nothing to rank")]
    NothingChanged {
        /// Sites compared.
        sites: usize,
    },
    /// A difference is not a number.
    #[error("difference `{index}` is not a finite number\nhint: leave out sites without a rating")]
    NotFinite {
        /// Its place, from 0.
        index: usize,
    },
    /// Too many for counting.
    #[error(
        "`{changed}` changed sites are too many to count every assignment of signs\nhint: use the normal approximation above `{MOST_EXACT}`"
    )]
    TooManyForExact {
        /// Sites that changed.
        changed: usize,
    },
}

/// Wilcoxon's signed-rank test that differences are symmetric about zero.
///
/// # Formula
/// `V = Σ rᵢ` over positive differences, `rᵢ` the mid-ranks of `|dᵢ|`. Exact: `V` under all `2ᵐ`
/// assignments of signs to the ranks as tied. Normal: mean `½Σrᵢ`, variance `¼Σrᵢ²` (which holds
/// the correction for ties and, under Pratt's rule, for zeros).
/// # Units
/// Differences are steps of one rating scale. [`Alternative::Greater`] means the differences lie
/// above zero.
/// # Assumptions
/// The same sites both times; steps of the scale may be ordered by size, which is more than
/// "ordinal" promises: read beside the table of ratings.
/// # Errors
/// [`SignedRankError`] when nothing changed, a value is not a number or an exact test is too large.
/// # References
/// Wilcoxon (1945), Biometrics Bulletin 1: 80–83; Pratt (1959), JASA 54: 655–667; Hollander & Wolfe
/// (1973), Nonparametric Statistical Methods, p. 29.
pub fn signed_rank(
    differences: &[f64],
    zero_rule: ZeroRule,
    alternative: Alternative,
    distribution: NullDistribution,
) -> Result<SignedRank, SignedRankError> {
    if let Some(index) = differences.iter().position(|d| !d.is_finite()) {
        return Err(SignedRankError::NotFinite { index });
    }
    let ranked = doubled_ranks(differences, zero_rule);
    let changed = ranked.len();
    if changed == 0 {
        return Err(SignedRankError::NothingChanged { sites: differences.len() });
    }
    let positive: usize = ranked.iter().filter(|(up, _)| *up).map(|(_, rank)| rank).sum();
    let total: usize = ranked.iter().map(|(_, rank)| rank).sum();
    let (exact, continuity) = match distribution {
        NullDistribution::Exact if changed > MOST_EXACT => {
            return Err(SignedRankError::TooManyForExact { changed });
        }
        NullDistribution::Exact => (true, Continuity::Uncorrected),
        NullDistribution::Normal(continuity) => (false, continuity),
        NullDistribution::BySize => (changed <= 50, Continuity::Uncorrected),
    };
    let ranks: Vec<usize> = ranked.iter().map(|(_, rank)| *rank).collect();
    let p = if exact {
        exact_p(&ranks, positive, alternative)
    } else {
        normal_p(&ranks, positive, alternative, continuity)
    };
    Ok(SignedRank {
        positive: positive as f64 / 2.0,
        negative: (total - positive) as f64 / 2.0,
        changed,
        unchanged: differences.len() - changed,
        zero_rule,
        exact,
        p,
    })
}

/// Sign and twice the mid-rank (a whole number) of every difference that is not zero.
fn doubled_ranks(differences: &[f64], zero_rule: ZeroRule) -> Vec<(bool, usize)> {
    let mut sorted: Vec<f64> = differences.to_vec();
    if zero_rule == ZeroRule::Drop {
        sorted.retain(|d| d.abs() > 0.0);
    }
    sorted.sort_by(|a, b| a.abs().total_cmp(&b.abs()));
    let mut ranked = Vec::with_capacity(sorted.len());
    let mut start = 0;
    for tie in sorted.chunk_by(|a, b| a.abs().total_cmp(&b.abs()).is_eq()) {
        // ranks start+1 ..= start+len, twice their mean
        let doubled = 2 * start + tie.len() + 1;
        ranked.extend(tie.iter().filter(|d| d.abs() > 0.0).map(|d| (*d > 0.0, doubled)));
        start += tie.len();
    }
    ranked
}

fn exact_p(ranks: &[usize], positive: usize, alternative: Alternative) -> f64 {
    let total: usize = ranks.iter().sum();
    let mut masses = vec![0.0; total + 1];
    masses[0] = 1.0;
    let mut reached = 0;
    for rank in ranks {
        // each rank is added or not, with even chances
        for sum in (0..=reached).rev() {
            let half = masses[sum] / 2.0;
            masses[sum] = half;
            masses[sum + rank] += half;
        }
        reached += rank;
    }
    let low: f64 = masses[..=positive].iter().sum();
    let high: f64 = masses[positive..].iter().rev().sum();
    match alternative {
        Alternative::TwoSided => (2.0 * low.min(high)).min(1.0),
        Alternative::Less => low.min(1.0),
        Alternative::Greater => high.min(1.0),
    }
}

fn normal_p(
    ranks: &[usize],
    positive: usize,
    alternative: Alternative,
    continuity: Continuity,
) -> f64 {
    // everything in doubled ranks: the factor leaves z as it is
    let total: usize = ranks.iter().sum();
    let deviation = positive as f64 - total as f64 / 2.0;
    let spread = ranks.iter().map(|rank| (rank * rank) as f64).sum::<f64>().sqrt() / 2.0;
    let half_step = match continuity {
        Continuity::Corrected => 1.0,
        Continuity::Uncorrected => 0.0,
    };
    match alternative {
        Alternative::TwoSided => {
            let z = (deviation.abs() - half_step).max(0.0) / spread;
            2.0 * normal_upper_tail(z)
        }
        Alternative::Less => normal_lower_tail((deviation + half_step) / spread),
        Alternative::Greater => normal_upper_tail((deviation - half_step) / spread),
    }
}

#[cfg(test)]
mod tests {
    use super::Alternative::{Greater, Less, TwoSided};
    use super::*;
    use crate::stats::assert_close;

    /// Nine patients; Hollander & Wolfe (1973), p. 29.
    const BEFORE: [f64; 9] = [1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30];
    #[expect(clippy::approx_constant, reason = "the eighth patient's score, not pi")]
    const AFTER: [f64; 9] = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29];

    #[test]
    fn hollander_wolfe_1973_nine_patients() {
        let fall: Vec<f64> = BEFORE.iter().zip(AFTER).map(|(b, a)| b - a).collect();
        let test = |alternative| {
            signed_rank(&fall, ZeroRule::Drop, alternative, NullDistribution::Exact).unwrap()
        };
        assert_close(test(Greater).positive, 40.0, 0.0, "V");
        assert_close(test(Greater).p, 5.0 / 256.0, 1e-15, "one-sided");
        assert_close(test(TwoSided).p, 0.039_062_5, 1e-15, "two-sided");
    }

    /// Every assignment of signs, one by one.
    fn by_enumeration(differences: &[f64], zero_rule: ZeroRule) -> f64 {
        let ranked = doubled_ranks(differences, zero_rule);
        let seen: usize = ranked.iter().filter(|(up, _)| *up).map(|(_, r)| r).sum();
        let (mut low, mut high) = (0_u32, 0_u32);
        for signs in 0..1_u32 << ranked.len() {
            let sum: usize = ranked
                .iter()
                .enumerate()
                .filter(|(i, _)| signs >> i & 1 == 1)
                .map(|(_, r)| r.1)
                .sum();
            low += u32::from(sum <= seen);
            high += u32::from(sum >= seen);
        }
        (2.0 * f64::from(low.min(high)) / f64::from(1_u32 << ranked.len())).min(1.0)
    }

    #[test]
    fn tied_ratings_agree_with_every_assignment_of_signs() {
        let changes = [1.0, 1.0, -1.0, 2.0, 0.0, 0.0, 1.0, -2.0, 3.0, 1.0, 1.0, 0.0, 2.0, -1.0];
        for rule in [ZeroRule::Drop, ZeroRule::Pratt] {
            let got = signed_rank(&changes, rule, TwoSided, NullDistribution::Exact).unwrap();
            assert_close(got.p, by_enumeration(&changes, rule), 1e-12, &format!("{rule:?}"));
            assert_eq!((got.changed, got.unchanged), (11, 3));
        }
    }

    #[test]
    fn zeros_raise_the_ranks_under_pratts_rule_only() {
        // |d| 0 0 1 2: dropped, ranks are 1 2; with Pratt they are 3 4
        let changes = [0.0, 2.0, 0.0, -1.0];
        let test = |rule| signed_rank(&changes, rule, TwoSided, NullDistribution::Exact).unwrap();
        assert_close(test(ZeroRule::Drop).positive, 2.0, 0.0, "dropped");
        assert_close(test(ZeroRule::Pratt).positive, 4.0, 0.0, "Pratt");
        assert_close(test(ZeroRule::Pratt).negative, 3.0, 0.0, "Pratt");
    }

    #[test]
    fn the_normal_variance_is_the_handbook_one_with_ties() {
        // n(n+1)(2n+1)/24 − Σ(t³ − t)/48: Hollander & Wolfe (1973), ch. 3
        let changes = [1.0, 1.0, 1.0, -2.0, 2.0, 3.0, -4.0, 5.0];
        let (n, tied) = (8.0_f64, (27.0 - 3.0) + (8.0 - 2.0));
        let variance = n * (n + 1.0) * (2.0 * n + 1.0) / 24.0 - tied / 48.0;
        let got = signed_rank(
            &changes,
            ZeroRule::Drop,
            Less,
            NullDistribution::Normal(Continuity::Corrected),
        )
        .unwrap();
        let z = (got.positive - n * (n + 1.0) / 4.0 + 0.5) / variance.sqrt();
        assert_close(got.p, normal_lower_tail(z), 1e-14, "p");
    }

    #[test]
    fn both_distributions_meet_when_sites_are_many() {
        let changes: Vec<f64> =
            (1..=150).map(|i| f64::from(i % 4 + 1) * if i % 5 < 2 { -1.0 } else { 1.0 }).collect();
        let test = |how| signed_rank(&changes, ZeroRule::Pratt, TwoSided, how).unwrap().p;
        let (exact, normal) =
            (test(NullDistribution::Exact), test(NullDistribution::Normal(Continuity::Corrected)));
        assert!((exact / normal - 1.0).abs() < 0.05, "{exact} {normal}");
        assert_close(test(NullDistribution::BySize), normal, normal * 0.05, "by size");
    }

    #[test]
    fn a_test_of_nothing_is_refused_with_a_reason() {
        let test = |d: &[f64]| signed_rank(d, ZeroRule::Pratt, TwoSided, NullDistribution::BySize);
        assert_eq!(test(&[0.0, -0.0]), Err(SignedRankError::NothingChanged { sites: 2 }));
        assert_eq!(test(&[]), Err(SignedRankError::NothingChanged { sites: 0 }));
        assert_eq!(test(&[1.0, f64::NAN]), Err(SignedRankError::NotFinite { index: 1 }));
        assert_eq!(
            signed_rank(&[1.0; 201], ZeroRule::Drop, TwoSided, NullDistribution::Exact),
            Err(SignedRankError::TooManyForExact { changed: 201 })
        );
    }
}
