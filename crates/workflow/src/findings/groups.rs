//! Parts of a survey: zones, depths, strata, weights.

use super::{code_of, count, frequency};
use crate::views::{
    GroupTaxonView, GroupView, WeightedEstimateView, WeightedTaxonView, WeightedView,
};
use findings::one::{DesignFindings, GroupFindings, GroupKey};
use findings::stats::design::{DesignEstimate, VarianceMethod};
use survey::{Site, SurveyRecord};
use units::{Metres, UnitSystem, decimals};

pub(super) fn group_view(of: &GroupFindings, units: UnitSystem) -> GroupView {
    let (key, from, to) = match &of.key {
        GroupKey::Zone(code) => (code.to_string(), None, None),
        GroupKey::Stratum(name) => (name.clone(), None, None),
        GroupKey::NoZone | GroupKey::NoDepth => (String::new(), None, None),
        GroupKey::Depth { from, to } => {
            let value = |depth: Metres| {
                let value = units.depth_value(depth);
                decimals(value, usize::from((value - value.round()).abs() > 1e-6))
            };
            let key = format!("{}–{} {}", value(*from), value(*to), units.depth_unit());
            (key, Some(from.metres()), Some(to.metres()))
        }
    };
    GroupView {
        key,
        from_m: from,
        to_m: to,
        planned: of.planned,
        sampled: of.sampled,
        not_sampled: of
            .not_sampled
            .iter()
            .map(|(reason, count)| (reason.key().to_owned(), *count))
            .collect(),
        frequency_any: frequency(of.frequency_any),
        species_per_site: of.species_per_site.map(|one| one.mean),
        richness: of.richness,
        taxa: of
            .taxa
            .iter()
            .map(|one| GroupTaxonView {
                code: one.code.to_string(),
                frequency: count(one.frequency),
                mean_rating: one.rating.mean,
            })
            .collect(),
    }
}

/// Strata the layout was drawn in, by what it wrote down of them, shallow first.
pub(super) fn by_stratum(record: &SurveyRecord, units: UnitSystem) -> Vec<GroupView> {
    let strata = record
        .survey
        .layout
        .parameters
        .iter()
        .find(|(name, _)| name == "strata")
        .map(|(_, value)| value.as_str());
    let of_zone = |site: &Site| site.zone.as_ref().map(ToString::to_string);
    match strata {
        Some("zone") => findings::one::by_stratum(record, &of_zone)
            .iter()
            .map(|one| group_view(one, units))
            .collect(),
        Some(words) => {
            let Some(limits) = words.strip_prefix("depth ") else { return Vec::new() };
            let limits: Vec<Metres> = limits
                .split(',')
                .filter_map(|limit| limit.trim().parse().ok().map(Metres::new))
                .collect();
            // a number in front keeps the bands in order of depth
            let of_depth = |site: &Site| {
                let depth = site.map_depth?;
                Some(limits.iter().filter(|limit| depth > **limit).count().to_string())
            };
            let mut views: Vec<GroupView> = findings::one::by_stratum(record, &of_depth)
                .iter()
                .map(|one| band_view(one, &limits, units))
                .collect();
            views.sort_by(|a, b| a.from_m.unwrap_or(0.0).total_cmp(&b.from_m.unwrap_or(0.0)));
            views
        }
        None => Vec::new(),
    }
}

/// A band of depth between two limits of the layout, by its number.
fn band_view(of: &GroupFindings, limits: &[Metres], units: UnitSystem) -> GroupView {
    let mut view = group_view(of, units);
    let band: usize = view.key.parse().unwrap_or(0);
    let (above, below) = (band.checked_sub(1).and_then(|k| limits.get(k)), limits.get(band));
    view.from_m = above.map(|limit| limit.metres());
    view.to_m = below.map(|limit| limit.metres());
    view.key = match (above, below) {
        (None, Some(most)) => format!("to {}", units.depth(*most)),
        (Some(least), Some(most)) => format!("{} to {}", units.depth(*least), units.depth(*most)),
        (Some(least), None) => format!("below {}", units.depth(*least)),
        (None, None) => "any depth".to_owned(),
    };
    view
}

pub(super) fn design_view(record: &SurveyRecord, of: &DesignFindings) -> WeightedView {
    WeightedView {
        any: design_estimate(&of.any),
        taxa: of
            .taxa
            .iter()
            .map(|(id, one)| WeightedTaxonView {
                code: code_of(&record.taxa, *id),
                estimate: design_estimate(one),
            })
            .collect(),
        left_out: of.left_out,
    }
}

fn design_estimate(of: &DesignEstimate) -> WeightedEstimateView {
    WeightedEstimateView {
        value: of.mean.value,
        se: of.se,
        low: of.mean.low,
        high: of.mean.high,
        total: of.total,
        total_se: of.total_se,
        places: of.places,
        sites: of.sites,
        variance: match of.method {
            VarianceMethod::LocalMean => "local mean",
            VarianceMethod::WithReplacement => "with replacement",
        }
        .to_owned(),
    }
}
