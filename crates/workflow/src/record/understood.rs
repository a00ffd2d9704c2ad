//! Visits as they were understood from a file, for a person to read before they are stored.

use super::resolve::Resolved;
use crate::views::UnderstoodView;
use std::collections::BTreeMap;
use survey::scale::RatingScale;
use survey::{HowSeen, Observation, Rating, Site, SiteId, SiteResult, Taxon, TaxonId, Throw};

/// More than this nobody reads before storing.
const MOST: usize = 2_000;

/// The visits in the order of the file.
pub(super) fn understood(
    resolved: &Resolved,
    sites: &[Site],
    scale: &RatingScale,
    taxa: &[Taxon],
) -> Vec<UnderstoodView> {
    let sites: BTreeMap<SiteId, &Site> =
        sites.iter().chain(&resolved.new_sites).map(|site| (site.id, site)).collect();
    let taxa: BTreeMap<TaxonId, &Taxon> = taxa.iter().map(|taxon| (taxon.id, taxon)).collect();
    let code = |rating: Rating| scale.step_of(rating).map(|step| step.code.as_str());
    let find = |one: &Observation| {
        let taxon = taxa.get(&one.taxon).map_or("?", |taxon| taxon.code.as_str());
        let seen = if one.seen == HowSeen::Rake { "" } else { "seen" };
        let said = one.rating.and_then(code).unwrap_or(seen);
        format!("{taxon} {said}").trim_end().to_owned()
    };
    let throw = |throw: &Throw| {
        let finds: Vec<String> = throw.observations.iter().map(find).collect();
        match throw.total.and_then(code) {
            _ if finds.is_empty() => "0".to_owned(),
            Some(total) => format!("= {total}  {}", finds.join("  ")),
            None => finds.join("  "),
        }
    };
    let visits = resolved.visits.iter().take(MOST);
    visits
        .map(|visit| {
            let (not_sampled, throws) = match &visit.result {
                SiteResult::NotSampled(reason) => (Some(reason.key().to_owned()), Vec::new()),
                SiteResult::Sampled(sampling) => {
                    (None, sampling.throws().iter().map(throw).collect())
                }
            };
            UnderstoodView {
                site: sites.get(&visit.site).map_or_else(String::new, |site| site.code.to_string()),
                time: visit.time.map(|time| time.to_string()),
                depth_m: visit.depth.map(units::Metres::metres),
                sediment: visit.sediment.map(|sediment| sediment.key().to_owned()),
                not_sampled,
                throws,
                note: visit.note.clone(),
            }
        })
        .collect()
}

impl Resolved {
    /// Codes of sites that a survey with laid sites did not have.
    pub(super) fn unplanned(&self, sites: &[Site]) -> Vec<String> {
        if sites.iter().all(|site| site.planned.is_none()) {
            return Vec::new();
        }
        self.new_sites.iter().map(|site| site.code.to_string()).collect()
    }
}
