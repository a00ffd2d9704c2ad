//! What ratings did between two surveys on one scale.

use super::pairing::Compared;
use crate::sampled::SampledSite;
use crate::stats::ordinal::{cliff_delta, rank_biserial};
use crate::stats::wilcoxon::{NullDistribution, SignedRank, ZeroRule, signed_rank};
use crate::stats::{Alternative, Estimate};
use survey::SurveyRecord;

/// Change of a taxon's rating, sites without it rated zero.
#[derive(Debug, Clone, PartialEq)]
pub struct RatingChange {
    /// Pairs rated both times; zero when the sites are different ones.
    pub pairs: usize,
    /// Mean earlier.
    pub mean_from: f64,
    /// Mean later.
    pub mean_to: f64,
    /// Wilcoxon's signed-rank test, unchanged sites by Pratt's rule; none when none changed or the
    /// sites are different ones.
    pub test: Option<SignedRank>,
    /// How far apart the ratings are, without taking steps for amounts.
    pub effect: Option<OrdinalEffect>,
    /// Sites by step, zero first.
    pub steps: Vec<RatingShift>,
}

/// An effect on ratings between −1 and 1, 0 for none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OrdinalEffect {
    /// Same sites: share of the ranks that rose less the share that fell (Kerby 2014).
    RankBiserial(f64),
    /// Different sites: chance that a later site is rated higher less the chance that it is rated
    /// lower, Cliff's delta.
    CliffDelta(Estimate),
}

/// Sites with one rating in both surveys.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RatingShift {
    /// Code of the step; empty for sites without the plant where the scale has no zero.
    pub code: String,
    /// Earlier.
    pub from: usize,
    /// Later.
    pub to: usize,
}

/// The number of a taxon's rating at a site, zero without it; none when found but not rated.
pub(crate) fn rating_at(
    record: &SurveyRecord,
    site: &SampledSite<'_>,
    place: Option<usize>,
) -> Option<f64> {
    let found = place
        .and_then(|place| site.on_rake.binary_search_by_key(&place, |(on, _)| *on).ok())
        .map(|index| site.on_rake[index].1);
    match found {
        None => Some(0.0),
        Some(rating) => record.value_of(rating),
    }
}

pub(super) fn rating_change(
    from: &SurveyRecord,
    to: &SurveyRecord,
    compared: &Compared<'_, '_>,
    places: (Option<usize>, Option<usize>),
) -> Option<RatingChange> {
    let (earlier, later, paired): (Vec<f64>, Vec<f64>, bool) = match compared {
        Compared::Paired(pairs) => {
            let rated = pairs.iter().filter_map(|(one, other)| {
                Some((rating_at(from, one, places.0)?, rating_at(to, other, places.1)?))
            });
            let (earlier, later) = rated.unzip();
            (earlier, later, true)
        }
        Compared::Independent(one, other) => (
            one.iter().filter_map(|site| rating_at(from, site, places.0)).collect(),
            other.iter().filter_map(|site| rating_at(to, site, places.1)).collect(),
            false,
        ),
    };
    if earlier.is_empty() || later.is_empty() {
        return None;
    }
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    let test = if paired {
        let differences: Vec<f64> = earlier.iter().zip(&later).map(|(b, a)| a - b).collect();
        let how = NullDistribution::BySize;
        signed_rank(&differences, ZeroRule::Pratt, Alternative::TwoSided, how).ok()
    } else {
        None
    };
    let effect = if paired {
        test.as_ref().map(|test| OrdinalEffect::RankBiserial(rank_biserial(test)))
    } else {
        cliff_delta(&earlier, &later).map(OrdinalEffect::CliffDelta)
    };
    Some(RatingChange {
        pairs: if paired { earlier.len() } else { 0 },
        mean_from: mean(&earlier),
        mean_to: mean(&later),
        test,
        effect,
        steps: rating_shifts(from, &earlier, &later),
    })
}

/// Sites by the number of the step, steps that share a number together under the first code.
fn rating_shifts(record: &SurveyRecord, earlier: &[f64], later: &[f64]) -> Vec<RatingShift> {
    let zero = record.scale.zero().and_then(|zero| record.scale.step_of(zero));
    let mut steps = vec![(0, zero.map_or_else(String::new, |step| step.code.clone()))];
    for step in &record.scale.steps {
        if let Some(value) = step.value
            && steps.iter().all(|(known, _)| *known != value)
        {
            steps.push((value, step.code.clone()));
        }
    }
    let count = |values: &[f64], step: u8| {
        values.iter().filter(|value| (**value - f64::from(step)).abs() < 1e-9).count()
    };
    steps
        .into_iter()
        .map(|(value, code)| RatingShift {
            code,
            from: count(earlier, value),
            to: count(later, value),
        })
        .collect()
}
