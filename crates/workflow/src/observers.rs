//! How far two crews agree on the sites both threw at.

use crate::error::{Error, Result};
use crate::surveys::record_of;
use crate::views::{AgreementTaxonView, AgreementView};
use findings::stats::kappa::{Weighting, kappa};
use lakebook::LakeBook;
use std::collections::{BTreeMap, BTreeSet};
use survey::{SiteResult, SurveyRecord, TaxonId, Visit};

/// Compares two surveys of the same sites by different crews: plant by plant, site by site.
///
/// # Errors
/// When one of them is not there or they share no sampled site.
pub fn agreement(book: &LakeBook, from: &str, to: &str) -> Result<AgreementView> {
    let (one, other) = (record_of(book, from)?, record_of(book, to)?);
    let same_scale = one.scale.same_steps(&other.scale);
    let theirs: BTreeMap<String, &Visit> = sampled(&other).collect();
    let pairs: Vec<(&Visit, &Visit)> = sampled(&one)
        .filter_map(|(code, visit)| theirs.get(&code).map(|twin| (visit, *twin)))
        .collect();
    if pairs.is_empty() {
        return Err(Error::input(format!("`{from}` and `{to}` share no sampled site"))
            .hint("have the second crew throw at sites of the first, under the same site codes"));
    }
    let taxa: BTreeSet<TaxonId> = pairs
        .iter()
        .flat_map(|(a, b)| found(&one, a).into_iter().chain(found(&other, b)))
        .collect();
    let steps = one.scale.steps.len() + 1;
    let mut presence = vec![vec![0.0; 2]; 2];
    let mut ratings = vec![vec![0.0; steps]; steps];
    let mut by_taxon: BTreeMap<TaxonId, [usize; 4]> = BTreeMap::new();
    for (a, b) in &pairs {
        for taxon in &taxa {
            let (mine, yours) = (rating(&one, a, *taxon), rating(&other, b, *taxon));
            presence[usize::from(mine > 0)][usize::from(yours > 0)] += 1.0;
            let cell = 2 * usize::from(mine > 0) + usize::from(yours > 0);
            by_taxon.entry(*taxon).or_default()[cell] += 1;
            if same_scale {
                ratings[mine][yours] += 1.0;
            }
        }
    }
    let compared = pairs.len() * taxa.len();
    let agree = presence[0][0] + presence[1][1];
    let share = (compared > 0).then(|| agree / compared as f64);
    let kappa_presence = kappa(&presence, &Weighting::Unweighted).ok();
    let kappa_rating = if same_scale { kappa(&ratings, &Weighting::Linear).ok() } else { None };
    let figure = |kappa: Option<f64>| {
        kappa.map_or_else(|| "cannot be computed".to_owned(), |kappa| format!("{kappa:.2}"))
    };
    let about_ratings = if same_scale {
        format!("; ratings, kappa with linear weights {}", figure(kappa_rating))
    } else {
        "; the ratings are of different scales and are not compared".to_owned()
    };
    Ok(AgreementView {
        from: one.survey.name.clone(),
        to: other.survey.name.clone(),
        sites: pairs.len(),
        pairs: compared,
        taxa: taxa_view(&one, &by_taxon),
        same_presence: share,
        kappa_presence,
        kappa_rating,
        weighting:
            "found or not: unweighted (Cohen 1960); ratings: linear by steps apart (Cohen 1968)"
                .to_owned(),
        sentence: format!(
            "at {} sites and {} plants both crews say the same of {:.0} % of {compared} pairs, kappa {}{about_ratings}",
            pairs.len(),
            taxa.len(),
            100.0 * share.unwrap_or(0.0),
            figure(kappa_presence)
        ),
    })
}

/// The plants the crews disagree about most come first.
fn taxa_view(
    record: &SurveyRecord,
    by_taxon: &BTreeMap<TaxonId, [usize; 4]>,
) -> Vec<AgreementTaxonView> {
    let mut taxa: Vec<AgreementTaxonView> = record
        .taxa
        .iter()
        .filter_map(|taxon| {
            let [neither, only_to, only_from, both] = *by_taxon.get(&taxon.id)?;
            let name = if taxon.common_name.is_empty() {
                &taxon.scientific_name
            } else {
                &taxon.common_name
            };
            Some(AgreementTaxonView {
                code: taxon.code.to_string(),
                name: name.clone(),
                both,
                only_from,
                only_to,
                neither,
            })
        })
        .collect();
    taxa.sort_by(|a, b| {
        let apart = |one: &AgreementTaxonView| one.only_from + one.only_to;
        apart(b).cmp(&apart(a)).then_with(|| a.code.cmp(&b.code))
    });
    taxa
}

fn sampled(record: &SurveyRecord) -> impl Iterator<Item = (String, &Visit)> {
    let visits = record.visits_by_site();
    record.sites.iter().filter_map(move |site| {
        let visit = *visits.get(&site.id)?;
        matches!(visit.result, SiteResult::Sampled(_))
            .then(|| (site.code.as_str().to_lowercase(), visit))
    })
}

fn found(record: &SurveyRecord, visit: &Visit) -> Vec<TaxonId> {
    let SiteResult::Sampled(sampling) = &visit.result else { return Vec::new() };
    sampling.observations().filter(|one| record.on_rake(one)).map(|one| one.taxon).collect()
}

/// 0 for not on the rake, else the place of the largest rating from 1.
fn rating(record: &SurveyRecord, visit: &Visit, taxon: TaxonId) -> usize {
    match record.largest_on_rake(visit, taxon) {
        None => 0,
        Some(rating) => rating.map_or(1, |rating| usize::from(rating.0) + 1),
    }
}
