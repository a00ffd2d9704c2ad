use super::ChaoForm::{BiasCorrected, Classic};
use super::SampleFactor::{Applied, Omitted};
use super::*;
use crate::stats::assert_close;

/// Tree species on 50 plots of one hectare, Barro Colorado Island, as shipped with the R library
/// vegan 2.6-4 and used in its vignette "diversity-vegan" (Oksanen): plots : species.
const PLOTS_AND_SPECIES: [(u64, usize); 49] = [
    (1, 21),
    (2, 19),
    (3, 10),
    (4, 5),
    (5, 6),
    (6, 3),
    (7, 5),
    (8, 7),
    (9, 6),
    (10, 5),
    (11, 3),
    (12, 6),
    (13, 4),
    (14, 4),
    (15, 2),
    (16, 5),
    (17, 4),
    (18, 8),
    (19, 5),
    (20, 2),
    (21, 3),
    (22, 3),
    (23, 4),
    (24, 1),
    (25, 2),
    (26, 3),
    (27, 4),
    (28, 4),
    (30, 3),
    (31, 5),
    (32, 4),
    (33, 2),
    (34, 2),
    (35, 4),
    (36, 2),
    (37, 3),
    (38, 2),
    (39, 3),
    (40, 2),
    (41, 2),
    (42, 1),
    (43, 3),
    (44, 3),
    (45, 4),
    (46, 4),
    (47, 3),
    (48, 7),
    (49, 5),
    (50, 7),
];

/// Species found on one plot only, plot by plot.
const UNIQUES: [u64; 50] = [
    0, 1, 0, 0, 0, 1, 1, 0, 0, 1, 0, 0, 3, 0, 0, 0, 0, 1, 2, 1, 0, 1, 2, 0, 0, 0, 0, 1, 1, 1, 0, 0,
    0, 0, 0, 0, 1, 0, 0, 0, 2, 0, 0, 0, 0, 0, 1, 0, 0, 0,
];

pub(crate) fn barro_colorado() -> IncidenceFrequencies {
    let counts: Vec<u64> = PLOTS_AND_SPECIES
        .iter()
        .flat_map(|(plots, species)| std::iter::repeat_n(*plots, *species))
        .collect();
    IncidenceFrequencies::new(50, &counts).unwrap()
}

#[test]
fn oksanen_vegan_vignette_chao_and_jackknife() {
    let plots = barro_colorado();
    assert_eq!((plots.observed(), plots.occurrences()), (225, 4_539));
    let level = Confidence::NINETY_FIVE;
    let classic = chao_2(&plots, Classic, Applied, level).unwrap();
    assert_close(classic.value, 236.373_158, 5e-7, "printed 236.3732");
    assert_close(classic.standard_error, 6.543_61, 5e-6, "printed 6.54361");
    let older = chao_2(&plots, Classic, Omitted, level).unwrap();
    assert_close(older.value, 236.605_263, 5e-7, "without the factor");
    let corrected = chao_2(&plots, BiasCorrected, Applied, level).unwrap();
    assert_close(corrected.value, 235.290, 5e-4, "bias-corrected");
    let squares = UNIQUES.iter().map(|r| r * r).sum();
    for (author, error) in [
        (JackknifeError::SmithVanBelle1984, 5.650_522),
        (JackknifeError::HeltsheForrester1983, 4.867_895),
    ] {
        let got = jackknife_1_from(&plots, squares, author).unwrap();
        assert_close(got.value, 245.58, 1e-9, "first order");
        assert_close(got.standard_error, error, 5e-7, &format!("{author:?}"));
    }
    assert_close(jackknife_2(&plots).unwrap().value, 247.872_245, 5e-7, "printed 247.8722");
}

#[test]
fn oksanen_vegan_vignette_bootstrap_value() {
    // where each species stands does not change the value
    let plots = barro_colorado();
    let mut found = vec![Vec::new(); 50];
    for (species, count) in plots.counts().iter().enumerate() {
        (0..*count as usize).for_each(|plot| found[plot].push(species));
    }
    let got = Incidence::new(&found).bootstrap().unwrap();
    assert_close(got.value, 235.686_168, 5e-7, "printed 235.6862");
}

/// Four sites, five species; every one of the 4⁴ resamples is drawn.
#[test]
fn the_bootstrap_error_is_that_of_all_resamples() {
    let found = vec![vec![0, 1], vec![0, 2, 3], vec![0, 1, 4], vec![2]];
    let got = Incidence::new(&found).bootstrap().unwrap();
    let (mut sum, mut squares) = (0.0, 0.0);
    for draw in 0..256_usize {
        let sites = [draw & 3, draw >> 2 & 3, draw >> 4 & 3, draw >> 6 & 3];
        let mut species: Vec<usize> = sites.iter().flat_map(|s| found[*s].clone()).collect();
        species.sort_unstable();
        species.dedup();
        let n = species.len() as f64;
        (sum, squares) = (sum + n, squares + n * n);
    }
    let mean = sum / 256.0;
    assert_close(got.value, 5.0 + (5.0 - mean), 1e-12, "seen plus the mean missed");
    let variance = squares / 256.0 - mean * mean;
    assert_close(got.standard_error, variance.sqrt(), 1e-12, "error");
}

/// Palmer (1990), Ecology 71: 1195–1198, formula: four sites, five species, two of them once.
#[test]
fn palmer_1990_first_order_by_hand() {
    let incidence = Incidence::new(&[vec![0, 1, 2], vec![1, 2], vec![2, 3, 3], vec![2, 4, 1]]);
    // species 0, 3, 4 once: 5 + 3·3/4
    let got = incidence.jackknife_1(JackknifeError::HeltsheForrester1983).unwrap();
    assert_close(got.value, 7.25, 1e-12, "value");
    // uniques 1 0 1 1: (3/4)(3 − 9/4)
    assert_close(got.standard_error, 0.5625_f64.sqrt(), 1e-12, "error");
}

/// The jackknife by its definition: mean of the pseudo-values, their standard error.
#[test]
fn heltshe_forrester_1983_is_the_spread_of_pseudo_values() {
    let found = vec![vec![0, 1, 5], vec![0, 2, 3], vec![0, 1, 4], vec![2, 6, 7], vec![1]];
    let all = Incidence::new(&found);
    let n = found.len() as f64;
    let seen = all.frequencies().observed() as f64;
    let pseudo: Vec<f64> = (0..found.len())
        .map(|left_out| {
            let mut rest = found.clone();
            rest.remove(left_out);
            n * seen - (n - 1.0) * Incidence::new(&rest).frequencies().observed() as f64
        })
        .collect();
    let mean = pseudo.iter().sum::<f64>() / n;
    let variance = pseudo.iter().map(|p| (p - mean).powi(2)).sum::<f64>() / (n * (n - 1.0));
    let got = all.jackknife_1(JackknifeError::HeltsheForrester1983).unwrap();
    assert_close(got.value, mean, 1e-12, "value");
    assert_close(got.standard_error, variance.sqrt(), 1e-12, "error");
}

#[test]
fn the_burnham_overton_error_of_order_one_is_that_of_its_weights() {
    // weights 2 − 1/T and 1: with T 10, Q₁ 4 and 6 more species the variance is 1.9²·4 + 6 − 13.6
    let incidence = IncidenceFrequencies::new(10, &[1, 1, 1, 1, 2, 3, 3, 5, 7, 10]).unwrap();
    let got = jackknife_1_from(&incidence, 4, JackknifeError::BurnhamOverton1978).unwrap();
    assert_close(got.value, 13.6, 1e-12, "value");
    assert_close(got.standard_error, (14.44 + 6.0 - 13.6_f64).sqrt(), 1e-12, "error");
}

#[test]
fn chao_1_of_small_vectors() {
    // spiders and copia vectors: published with the iNEXT vignette and the copia library;
    // the scikit-bio vector: scikit-bio 0.6 tests
    let copia_a = [1, 1, 1, 2, 3, 5, 10, 25];
    let no_doubletons = [1, 1, 1, 1, 3, 5, 10, 25];
    let scikit_bio = [0, 1, 1, 4, 2, 5, 2, 4, 1, 2];
    let rows: [(&[u64], ChaoForm, SampleFactor, f64, f64); 4] = [
        (&copia_a, Classic, Applied, 12.4062, 5e-5),
        (&no_doubletons, Classic, Applied, 13.8723, 5e-5),
        (&scikit_bio, BiasCorrected, Omitted, 9.75, 1e-12),
        (&scikit_bio, Classic, Omitted, 10.5, 1e-12),
    ];
    for (counts, form, factor, expected, tolerance) in rows {
        let got = chao_1(counts, form, factor, Confidence::NINETY_FIVE).unwrap();
        assert_close(got.value, expected, tolerance, &format!("{counts:?} {form:?}"));
        assert!(got.interval.low >= got.observed as f64 && got.interval.high > got.value);
    }
}

#[test]
fn without_singletons_nothing_is_added() {
    let incidence = IncidenceFrequencies::new(40, &[5, 9, 12, 40]).unwrap();
    let got = chao_2(&incidence, Classic, Applied, Confidence::NINETY_FIVE).unwrap();
    assert_close(got.value, 4.0, 0.0, "value");
    assert_close(got.interval.low, 4.0, 0.0, "low");
    assert_eq!(got.form, BiasCorrected);
}

#[test]
fn one_site_and_no_plants_are_refused() {
    let one = Incidence::new(&[vec![0, 1]]);
    let refused = one.jackknife_1(JackknifeError::HeltsheForrester1983).unwrap_err();
    assert_eq!(refused, RichnessError::TooFewSites { sites: 1, expected: 2 });
    let bare = Incidence::new(&[vec![], vec![], vec![]]);
    assert_eq!(jackknife_2(bare.frequencies()), Err(RichnessError::NoPlants));
    assert_eq!(bare.bootstrap(), Err(RichnessError::NoPlants));
    let wrong = IncidenceFrequencies::new(3, &[4]);
    assert_eq!(wrong, Err(RichnessError::MoreThanSites { found: 4, sites: 3 }));
}
