//! Frequencies from sites that had unequal chances of being chosen.

use super::distribution::student_two_sided;
use super::{Confidence, Estimate};
use thiserror::Error;

/// One sampled site of a probability sample.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DesignSite {
    /// What was found: 1 or 0 for presence, or an amount.
    pub value: f64,
    /// Chance that the layout chose this site, above 0 and at most 1.
    pub inclusion_probability: f64,
    /// Where, in metres of any one projected system; none when not known.
    pub place: Option<[f64; 2]>,
}

/// Where the variance comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VarianceMethod {
    /// From the differences between near sites: right for spatially balanced layouts.
    LocalMean,
    /// As if sites were drawn with replacement: right or too large.
    WithReplacement,
}

/// What a probability sample says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DesignEstimate {
    /// Mean or share over all places that could have been chosen (Hájek).
    pub mean: Estimate,
    /// Its standard error.
    pub se: f64,
    /// Total over them (Horvitz–Thompson): places with the plant, when values are presence.
    pub total: f64,
    /// Standard error of the total.
    pub total_se: f64,
    /// Places there are, as the sample has it: the sum of `1/π`.
    pub places: f64,
    /// Sites.
    pub sites: usize,
    /// Where the variances come from.
    pub method: VarianceMethod,
}

/// Why there is no estimate.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum DesignError {
    /// Too few sites.
    #[error("`{sites}` sites have a chance of being chosen on record: expected at least 2")]
    TooFewSites {
        /// Sites.
        sites: usize,
    },
    /// A chance that is none.
    #[error(
        "inclusion probability `{value}` of site number `{index}` is not above 0 and at most 1\nhint: take it from the layout that chose the sites"
    )]
    NotAChance {
        /// Place in the list, from 0.
        index: usize,
        /// What it is.
        value: f64,
    },
    /// A value that is no number.
    #[error("the value of site number `{index}` is not a finite number")]
    NotFinite {
        /// Place in the list, from 0.
        index: usize,
    },
}

/// Sites in a neighbourhood, itself included (Stevens & Olsen 2003 take at least four).
const NEIGHBOURS: usize = 4;

/// Mean and total of a probability sample with design weights.
///
/// # Formula
/// Total `Σ y/π`, mean `Σ (y/π) / Σ (1/π)`. Variance `Σ n_D/(n_D − 1)·(zᵢ − z̄_D)²` with
/// `z = y/π` for the total and `z = (y − mean)/(π·Σ1/π)` for the mean, `D` the site and its three
/// nearest (the mean of neighbours equally near is not broken up: ties are all taken). Without places,
/// or below 8 sites, `D` is the whole sample. Interval for a mean of zeros and ones: Wilson's with the
/// effective sample size `p(1 − p)/SE²`, shrunk by Student's t; else mean ± t·SE.
/// # Units
/// Those of the values.
/// # Assumptions
/// Inclusion probabilities as the layout had them; sites not reached are missing at random.
/// # Errors
/// [`DesignError`] below two sites or with an impossible chance.
/// # References
/// Horvitz & Thompson (1952), JASA 47: 663–685; Hájek (1971); local variance: Stevens & Olsen (2003),
/// Environmetrics 14: 593–610, in the simpler form of Grafström & Schelin (2014), Scandinavian Journal
/// of Statistics 41: 277–290; interval: Korn & Graubard (1998), Survey Methodology 24: 193–201 (all
/// from memory).
pub fn design_estimate(sites: &[DesignSite]) -> Result<DesignEstimate, DesignError> {
    for (index, site) in sites.iter().enumerate() {
        let value = site.inclusion_probability;
        if !(value > 0.0 && value <= 1.0) {
            return Err(DesignError::NotAChance { index, value });
        }
        if !site.value.is_finite() {
            return Err(DesignError::NotFinite { index });
        }
    }
    let n = sites.len();
    if n < 2 {
        return Err(DesignError::TooFewSites { sites: n });
    }
    let places: f64 = sites.iter().map(|site| 1.0 / site.inclusion_probability).sum();
    let total: f64 = sites.iter().map(|site| site.value / site.inclusion_probability).sum();
    let mean = total / places;
    let points: Option<Vec<[f64; 2]>> = sites.iter().map(|site| site.place).collect();
    let points = points.filter(|_| n >= 2 * NEIGHBOURS);
    let method =
        if points.is_some() { VarianceMethod::LocalMean } else { VarianceMethod::WithReplacement };
    let near = points.map_or_else(Vec::new, |points| neighbourhoods(&points));
    let error = |z: &dyn Fn(&DesignSite) -> f64| {
        let z: Vec<f64> = sites.iter().map(z).collect();
        variance(&z, &near).max(0.0).sqrt()
    };
    let total_se = error(&|site| site.value / site.inclusion_probability);
    let se = error(&|site| (site.value - mean) / (site.inclusion_probability * places));
    let squares: f64 = sites.iter().map(|site| site.inclusion_probability.powi(-2)).sum();
    let presence =
        sites.iter().all(|site| site.value.abs() < 1e-12 || (site.value - 1.0).abs() < 1e-12);
    let t = student_two_sided(Confidence::NINETY_FIVE.alpha(), n as f64 - 1.0);
    let mean = if presence {
        // as many sites as weights of this unevenness are worth (Kish), when nothing varies
        let spread = mean * (1.0 - mean);
        let kish = places * places / squares;
        let worth = if se > 0.0 && spread > 0.0 { spread / (se * se) } else { kish };
        let z = Confidence::NINETY_FIVE.z();
        score_interval(mean, worth.min(n as f64) * (z / t).powi(2), z)
    } else {
        Estimate { value: mean, low: mean - t * se, high: mean + t * se }
    };
    Ok(DesignEstimate { mean, se, total, total_se, places, sites: n, method })
}

/// Wilson's interval for a share of `n` sites, `n` no whole number.
pub(crate) fn score_interval(p: f64, n: f64, z: f64) -> Estimate {
    let centre = (p * n + z * z / 2.0) / (n + z * z);
    let reach = z / (n + z * z) * (n * p * (1.0 - p) + z * z / 4.0).sqrt();
    Estimate {
        value: p,
        low: (centre - reach).max(0.0).min(p),
        high: (centre + reach).min(1.0).max(p),
    }
}

/// Each site with its nearest, ties taken.
pub(crate) fn neighbourhoods(points: &[[f64; 2]]) -> Vec<Vec<usize>> {
    let far = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).powi(2) + (a[1] - b[1]).powi(2);
    points
        .iter()
        .map(|here| {
            let mut by_distance: Vec<f64> = points.iter().map(|one| far(*here, *one)).collect();
            let rank = NEIGHBOURS - 1;
            let (_, limit, _) = by_distance.select_nth_unstable_by(rank, f64::total_cmp);
            let limit = *limit * (1.0 + 1e-9);
            (0..points.len()).filter(|other| far(*here, points[*other]) <= limit).collect()
        })
        .collect()
}

fn variance(z: &[f64], near: &[Vec<usize>]) -> f64 {
    let n = z.len() as f64;
    if near.is_empty() {
        let mean = z.iter().sum::<f64>() / n;
        return n / (n - 1.0) * z.iter().map(|one| (one - mean).powi(2)).sum::<f64>();
    }
    z.iter()
        .zip(near)
        .map(|(one, near)| {
            let size = near.len() as f64;
            let mean = near.iter().map(|other| z[*other]).sum::<f64>() / size;
            size / (size - 1.0) * (one - mean).powi(2)
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Draw;
    use crate::stats::assert_close;

    fn site(value: f64, chance: f64) -> DesignSite {
        DesignSite { value, inclusion_probability: chance, place: None }
    }

    #[test]
    fn horvitz_1952_total_and_hajek_mean_by_hand() {
        // y/π = 10, 0, 4, 2.5; 1/π = 10, 5, 4, 2.5
        let sites = [site(1.0, 0.1), site(0.0, 0.2), site(1.0, 0.25), site(1.0, 0.4)];
        let got = design_estimate(&sites).unwrap();
        assert_close(got.total, 16.5, 1e-12, "total");
        assert_close(got.places, 21.5, 1e-12, "places");
        assert_close(got.mean.value, 16.5 / 21.5, 1e-12, "mean");
        // with replacement: n/(n−1) Σ (z − z̄)², z̄ = 4.125
        let by_hand = 4.0 / 3.0
            * (5.875_f64.powi(2) + 4.125_f64.powi(2) + 0.125_f64.powi(2) + 1.625_f64.powi(2));
        assert_close(got.total_se, by_hand.sqrt(), 1e-12, "SE of the total");
        assert_eq!(got.method, VarianceMethod::WithReplacement);
    }

    #[test]
    fn equal_chances_give_the_usual_frequency_and_error() {
        // USGS 2002 table 6: 31 of 120, printed SE 4.0 %
        let sites: Vec<DesignSite> = (0..120).map(|i| site(f64::from(i < 31), 0.05)).collect();
        let got = design_estimate(&sites).unwrap();
        assert_close(got.mean.value, 31.0 / 120.0, 1e-12, "mean");
        assert_close(got.se, 0.040_0, 1.5e-4, "SE");
        assert_close(got.mean.low, 0.187, 0.003, "near Wilson's");
        assert_close(got.mean.high, 0.344, 0.003, "near Wilson's");
    }

    #[test]
    fn sites_along_a_slope_vary_less_than_their_neighbours_show_at_random() {
        let sites: Vec<DesignSite> = (0..100)
            .map(|i| DesignSite {
                value: f64::from(i) / 100.0,
                inclusion_probability: 0.1,
                place: Some([f64::from(i) * 30.0, 0.0]),
            })
            .collect();
        let local = design_estimate(&sites).unwrap();
        assert_eq!(local.method, VarianceMethod::LocalMean);
        let blind: Vec<DesignSite> =
            sites.iter().map(|s| DesignSite { place: None, ..*s }).collect();
        let plain = design_estimate(&blind).unwrap();
        assert_close(local.mean.value, plain.mean.value, 1e-12, "mean");
        assert!(local.se < plain.se / 8.0, "{} {}", local.se, plain.se);
    }

    #[test]
    fn the_local_variance_is_unbiased_for_places_at_random() {
        // independent values at random places: the variance of a total is n·σ²/π²
        let mut draw = Draw::new(3);
        let (lakes, n) = (400, 40);
        let sum: f64 = (0..lakes)
            .map(|_| {
                let sites: Vec<DesignSite> = (0..n)
                    .map(|_| DesignSite {
                        value: draw.unit(),
                        inclusion_probability: 0.5,
                        place: Some([draw.unit(), draw.unit()]),
                    })
                    .collect();
                design_estimate(&sites).unwrap().total_se.powi(2)
            })
            .sum();
        let expected = 40.0 / 12.0 * 4.0;
        assert_close(sum / f64::from(lakes) / expected, 1.0, 0.04, "ratio");
    }

    #[test]
    fn found_nowhere_has_an_upper_limit_all_the_same() {
        let sites: Vec<DesignSite> = (0..50).map(|_| site(0.0, 0.1)).collect();
        let got = design_estimate(&sites).unwrap();
        // Wilson 0/50 is 0.0713; Student's t widens it a little
        assert_close(got.mean.high, 0.0747, 5e-4, "high");
        assert_close(got.mean.low, 0.0, 0.0, "low");
    }

    #[test]
    fn impossible_chances_are_refused() {
        assert_eq!(design_estimate(&[site(1.0, 0.5)]), Err(DesignError::TooFewSites { sites: 1 }));
        let got = design_estimate(&[site(1.0, 0.5), site(0.0, 0.0)]);
        assert_eq!(got, Err(DesignError::NotAChance { index: 1, value: 0.0 }));
        assert!(design_estimate(&[site(1.0, 1.5), site(0.0, 0.5)]).is_err());
        let got = design_estimate(&[site(f64::NAN, 0.5), site(0.0, 0.5)]);
        assert_eq!(got, Err(DesignError::NotFinite { index: 0 }));
    }
}
