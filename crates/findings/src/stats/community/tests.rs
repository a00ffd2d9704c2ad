use super::*;
use crate::stats::assert_close;

/// Sixteen sites of six taxa in two groups of eight, made by a rule.
fn made() -> Vec<Vec<f64>> {
    let amount = |i: usize, j: usize| {
        let base = if (i + j).is_multiple_of(3) { 0 } else { (i * 7 + j * 11) % 5 };
        (base + if i >= 8 && j < 2 { 2 } else { 0 }) as f64
    };
    (0..16).map(|i| (0..6).map(|j| amount(i, j)).collect()).collect()
}

fn test(measure: Dissimilarity, statistic: GroupStatistic, permutations: u32) -> GroupTest {
    group_test(&made(), 8, measure, statistic, Exchange::Free, permutations, 42).unwrap()
}

#[test]
fn clarke_1993_and_anderson_2001_agree_with_a_reference_library() {
    // scikit-bio 0.7.4 `anosim`, `permanova` on scipy 1.17 distances of the same table
    use Dissimilarity::{BrayCurtis, Jaccard};
    use GroupStatistic::{AnosimR, PseudoF};
    for (measure, statistic, expected) in [
        (BrayCurtis, AnosimR, -0.034_877_232_142_857_18),
        (BrayCurtis, PseudoF, 0.602_591_074_442_264_6),
        (Jaccard, AnosimR, 0.057_477_678_571_428_57),
        (Jaccard, PseudoF, 1.261_039_795_567_646_2),
    ] {
        let got = test(measure, statistic, 0).value;
        assert_close(got, expected, 1e-8, &format!("{measure:?} {statistic:?}"));
    }
    // p of 9,999 permutations there: 0.5923 and 0.6506
    assert_close(test(BrayCurtis, AnosimR, 9_999).p, 0.5923, 0.02, "R");
    assert_close(test(BrayCurtis, PseudoF, 9_999).p, 0.6506, 0.02, "F");
}

#[test]
fn all_deals_of_six_sites_agree_with_counting() {
    // 20 ways to choose three of six; two of them part the groups wholly
    let rows: Vec<Vec<f64>> =
        [[1.0, 0.0], [1.0, 0.0], [1.0, 0.0], [0.0, 1.0], [0.0, 1.0], [0.0, 1.0]]
            .map(Vec::from)
            .to_vec();
    let of = |exchange| {
        let (measure, statistic) = (Dissimilarity::BrayCurtis, GroupStatistic::AnosimR);
        group_test(&rows, 3, measure, statistic, exchange, 20_000, 1).unwrap()
    };
    let free = of(Exchange::Free);
    assert_close(free.value, 1.0, 1e-12, "wholly apart");
    assert_close(free.p, 0.1, 0.01, "2 of 20");
    // within pairs 8 ways, again two of them
    assert_close(of(Exchange::WithinPairs).p, 0.25, 0.013, "2 of 8");
}

#[test]
fn amounts_by_hand() {
    let between = |m: Dissimilarity| m.between(&[2.0, 0.0, 1.0], &[1.0, 3.0, 0.0]);
    assert_close(between(Dissimilarity::BrayCurtis), 5.0 / 7.0, 1e-12, "Bray–Curtis");
    assert_close(between(Dissimilarity::Jaccard), 2.0 / 3.0, 1e-12, "Jaccard");
    assert_close(Dissimilarity::Jaccard.between(&[0.0], &[0.0]), 0.0, 0.0, "bare and bare");
}

#[test]
fn groups_that_cannot_be_tested_are_refused() {
    let rows = made();
    let of = |rows: &[Vec<f64>], first, exchange| {
        let (measure, statistic) = (Dissimilarity::BrayCurtis, GroupStatistic::AnosimR);
        group_test(rows, first, measure, statistic, exchange, 9, 1).map(|got| got.p)
    };
    let few = GroupTestError::TooFewSites { first: 1, second: 15 };
    assert_eq!(of(&rows, 1, Exchange::Free), Err(few));
    let odd = GroupTestError::NotPaired { first: 6, second: 10 };
    assert_eq!(of(&rows, 6, Exchange::WithinPairs), Err(odd));
    assert_eq!(of(&vec![vec![1.0]; 6], 3, Exchange::Free), Err(GroupTestError::AllAlike));
    let mut ragged = made();
    ragged[4].pop();
    let uneven = GroupTestError::UnevenRows { index: 4, found: 5, expected: 6 };
    assert_eq!(of(&ragged, 8, Exchange::Free), Err(uneven));
}
