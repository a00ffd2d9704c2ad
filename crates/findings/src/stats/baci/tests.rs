use super::*;
use crate::stats::assert_close;

/// A part of the lake by counts: both, lost, gained, neither.
fn pairs(both: usize, lost: usize, gained: usize, neither: usize) -> Arm {
    let of = |times, pair| std::iter::repeat_n(pair, times);
    Arm::Paired(
        of(both, (1.0, 1.0))
            .chain(of(lost, (1.0, 0.0)))
            .chain(of(gained, (0.0, 1.0)))
            .chain(of(neither, (0.0, 0.0)))
            .collect(),
    )
}

/// A part of the lake by `k` of `n` before and after.
fn surveys(before: (usize, usize), after: (usize, usize)) -> Arm {
    let of = |(k, n): (usize, usize)| (0..n).map(|i| f64::from(i < k)).collect();
    Arm::Independent { before: of(before), after: of(after) }
}

/// Treated 50 % → 10 %, untreated 40 % → 30 %, of 100 sites each: a constructed case.
fn constructed() -> (Arm, Arm) {
    (surveys((50, 100), (10, 100)), surveys((40, 100), (30, 100)))
}

#[test]
fn stewart_oaten_1986_design_thirty_points() {
    let (treated, untreated) = constructed();
    let got = frequency_contrast(&treated, &untreated).unwrap();
    assert_close(got.value, -0.30, 1e-12, "points");
    assert!(got.high < 0.0 && got.low > -0.5, "{got:?}");
    let mean = mean_contrast(&treated, &untreated).unwrap();
    assert_close(mean.value, -0.30, 1e-12, "the same as means");
    // Σ p(1 − p)/(n − 1) by hand
    let se = ((0.25 + 0.09 + 0.24 + 0.21) / 99.0_f64).sqrt();
    assert_close(mean.high - mean.value, 1.966 * se, 0.002 * se, "reach of Student's t");
}

#[test]
fn henderson_1955_share_with_interval() {
    let (treated, untreated) = constructed();
    let got = percent_control(&treated, &untreated, 2_000, 5);
    let share = got.henderson_tilton.unwrap();
    assert_close(share.value, 0.733_333_333_333, 1e-12, "control");
    let limits = share.interval.unwrap();
    // delta method on the log scale: SE² = Σ (1 − p)/(p·n)
    let se = (0.01_f64 + 0.09 + 0.015 + 0.7 / 30.0).sqrt();
    let (low, high) = (1.0 - 0.266_67 * (1.96 * se).exp(), 1.0 - 0.266_67 * (-1.96 * se).exp());
    assert_close(limits.low, low, 0.06, "low, near the one on the log scale");
    assert_close(limits.high, high, 0.06, "high, near the one on the log scale");
    assert_close(got.abbott.unwrap().value, 1.0 - 10.0 / 30.0, 1e-12, "Abbott");
    assert_eq!(got, percent_control(&treated, &untreated, 2_000, 5), "one seed, one answer");
}

#[test]
fn agresti_2002_ratio_of_odds_ratios() {
    let (treated, untreated) = constructed();
    let got = log_odds_contrast(&treated, &untreated).unwrap();
    let logit = |k: f64| ((k + 0.5) / (100.5 - k)).ln();
    let expected = logit(10.0) - logit(50.0) - (logit(30.0) - logit(40.0));
    assert_close(got.value, expected, 1e-12, "by hand");
    assert!(got.low < expected && got.high < 0.0);
}

#[test]
fn sites_that_keep_their_state_sharpen_the_contrast() {
    // margins 20 of 40 → 8 of 40 and 20 → 18; steady pairs or restless ones
    let steady = frequency_contrast(&pairs(8, 12, 0, 20), &pairs(17, 3, 1, 19)).unwrap();
    let restless = frequency_contrast(&pairs(3, 17, 5, 15), &pairs(8, 12, 10, 10)).unwrap();
    assert_close(steady.value, restless.value, 1e-12, "one difference");
    assert!(steady.high - steady.low < 0.8 * (restless.high - restless.low));
    let steady = log_odds_contrast(&pairs(8, 12, 0, 20), &pairs(17, 3, 1, 19)).unwrap();
    let restless = log_odds_contrast(&pairs(3, 17, 5, 15), &pairs(8, 12, 10, 10)).unwrap();
    assert!(steady.high - steady.low < restless.high - restless.low);
}

#[test]
fn dealing_out_changes_agrees_with_every_deal() {
    // 4 treated, 3 untreated: all 35 ways to choose who was treated
    let treated = [(1.0, 0.0), (1.0, 0.0), (1.0, 0.0), (1.0, 1.0)];
    let untreated = [(1.0, 1.0), (0.0, 1.0), (1.0, 0.0)];
    let changes: Vec<f64> = treated.iter().chain(&untreated).map(|(b, a)| a - b).collect();
    let split = |mask: u32| {
        let (mut one, mut other) = (Vec::new(), Vec::new());
        for (i, change) in changes.iter().enumerate() {
            if mask >> i & 1 == 1 { one.push(*change) } else { other.push(*change) }
        }
        studentised(&[(&one, 1.0), (&other, -1.0)])
    };
    let seen = split(0b000_1111);
    let all: Vec<f64> = (0..1_u32 << 7).filter(|mask| mask.count_ones() == 4).map(split).collect();
    assert_eq!(all.len(), 35);
    let exact = all.iter().filter(|t| **t >= seen - 1e-9).count() as f64 / 35.0;
    let (t, c) = (Arm::Paired(treated.to_vec()), Arm::Paired(untreated.to_vec()));
    let got = permutation_p(&t, &c, 20_000, 11).unwrap();
    assert_close(got, exact, 0.012, "four Monte Carlo errors");
}

#[test]
fn residuals_are_what_least_squares_leaves() {
    // unequal numbers; the residuals must sum to zero within each part and within each time
    let cells = [vec![1.0, 0.0, 1.0], vec![0.0, 0.0], vec![1.0, 1.0, 1.0, 0.0], vec![0.0]];
    let rest = additive_residuals([&cells[0], &cells[1], &cells[2], &cells[3]]);
    let sum = |range: std::ops::Range<usize>| rest[range].iter().sum::<f64>();
    assert_close(sum(0..5), 0.0, 1e-12, "treated");
    assert_close(sum(5..10), 0.0, 1e-12, "untreated");
    assert_close(sum(0..3) + sum(5..9), 0.0, 1e-12, "before");
    assert_close(sum(3..5) + sum(9..10), 0.0, 1e-12, "after");
}

#[test]
fn no_change_anywhere_has_no_effect_and_nothing_to_detect() {
    let still = pairs(10, 0, 0, 10);
    assert_close(permutation_p(&still, &still, 99, 1).unwrap(), 1.0, 0.0, "p");
    assert_eq!(detectable_contrast(&still, &still, Goal::USUAL), None);
    assert_close(frequency_contrast(&still, &still).unwrap().value, 0.0, 0.0, "difference");
}

#[test]
fn all_gone_has_a_share_but_no_resampled_interval() {
    let got = percent_control(&pairs(0, 20, 0, 0), &pairs(15, 2, 1, 2), 500, 3);
    let share = got.henderson_tilton.unwrap();
    assert_close(share.value, 1.0, 0.0, "control");
    assert_eq!(share.interval, None);
}

#[test]
fn nothing_untreated_is_undefined_and_a_part_without_sites_is_refused() {
    let got = percent_control(&pairs(5, 5, 0, 0), &pairs(0, 4, 0, 6), 200, 3);
    assert_eq!((got.abbott, got.henderson_tilton), (None, None));
    let none = Arm::Paired(Vec::new());
    assert_eq!(frequency_contrast(&pairs(1, 0, 0, 0), &none), Err(BaciError::NoSites));
    let one = pairs(1, 0, 0, 0);
    assert_eq!(mean_contrast(&one, &one), Err(BaciError::TooFewSites { sites: 1 }));
    let rated = Arm::Paired(vec![(2.0, 1.0), (3.0, 0.0)]);
    assert_eq!(frequency_contrast(&rated, &rated), Err(BaciError::NotPresence));
}
