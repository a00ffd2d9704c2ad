use super::pairing::Compared;
use crate::sampled::SampledSite;
use crate::stats::accumulation::accumulation_curve;
use crate::stats::richness::Incidence;
use crate::stats::{Confidence, Estimate};
use std::collections::BTreeSet;
use survey::{Scope, SurveyRecord, TaxonId};

/// Species of two surveys brought to the same number of sites.
#[derive(Debug, Clone, PartialEq)]
pub struct RichnessChange {
    /// Sites both are brought to: those of the smaller survey.
    pub sites: usize,
    /// Earlier.
    pub from: RichnessSide,
    /// Later.
    pub to: RichnessSide,
    /// Later less earlier on equal effort, with an interval from both variances.
    pub difference: Estimate,
    /// Taxa found at compared sites of the later survey only, in the order of its list.
    pub gained: Vec<TaxonId>,
    /// Of the earlier only.
    pub lost: Vec<TaxonId>,
}

/// One survey's species.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RichnessSide {
    /// Found at the compared sites.
    pub found: usize,
    /// Expected at the number of sites both are brought to.
    pub expected: Estimate,
}

impl RichnessChange {
    /// # Formula
    /// The exact accumulation curve of each survey at the smaller number of sites.
    /// # References
    /// Colwell, Mao & Chang (2004), Ecology 85: 2717–2727 (from memory).
    pub(super) fn of(
        from: &SurveyRecord,
        to: &SurveyRecord,
        compared: &Compared<'_, '_>,
    ) -> Option<Self> {
        if from.survey.scope != Scope::WholeCommunity || to.survey.scope != Scope::WholeCommunity {
            return None;
        }
        let (first, second): (Vec<&SampledSite<'_>>, Vec<&SampledSite<'_>>) = match compared {
            Compared::Paired(pairs) => pairs.iter().copied().unzip(),
            Compared::Independent(one, other) => (one.clone(), other.clone()),
        };
        let sites = first.len().min(second.len());
        let (one, other) = (side(from, &first, sites)?, side(to, &second, sites)?);
        let value = other.expected.value - one.expected.value;
        let reach = |a: f64, b: f64| a.hypot(b);
        let found = |record: &SurveyRecord, sites: &[&SampledSite<'_>]| -> BTreeSet<TaxonId> {
            plants(record, sites).into_iter().flatten().map(|place| record.taxa[place].id).collect()
        };
        let (had, has) = (found(from, &first), found(to, &second));
        Some(Self {
            sites,
            from: one,
            to: other,
            difference: Estimate {
                value,
                low: value
                    - reach(
                        other.expected.value - other.expected.low,
                        one.expected.high - one.expected.value,
                    ),
                high: value
                    + reach(
                        other.expected.high - other.expected.value,
                        one.expected.value - one.expected.low,
                    ),
            },
            gained: to
                .taxa
                .iter()
                .map(|t| t.id)
                .filter(|id| has.contains(id) && !had.contains(id))
                .collect(),
            lost: from
                .taxa
                .iter()
                .map(|t| t.id)
                .filter(|id| had.contains(id) && !has.contains(id))
                .collect(),
        })
    }
}

/// Places of the plants on the rake at each site.
fn plants(record: &SurveyRecord, sites: &[&SampledSite<'_>]) -> Vec<Vec<usize>> {
    let named = |site: &&SampledSite<'_>| {
        let places = site.on_rake.iter().map(|(place, _)| *place);
        places.filter(|place| record.taxa[*place].is_plant()).collect()
    };
    sites.iter().map(named).collect()
}

fn side(record: &SurveyRecord, sites: &[&SampledSite<'_>], at: usize) -> Option<RichnessSide> {
    if sites.iter().any(|site| site.counted_only || site.species.is_none()) {
        return None;
    }
    let incidence = Incidence::new(&plants(record, sites));
    let curve = accumulation_curve(incidence.frequencies(), Confidence::NINETY_FIVE).ok()?;
    let point = curve.get(at.checked_sub(1)?)?;
    Some(RichnessSide {
        found: incidence.frequencies().observed() as usize,
        expected: Estimate {
            value: point.value,
            low: point.interval.low,
            high: point.interval.high,
        },
    })
}
