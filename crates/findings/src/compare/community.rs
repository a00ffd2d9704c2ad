use super::pairing::{Compared, compared_sites};
use super::rating::rating_at;
use crate::sampled::{Sampled, SampledSite};
use crate::stats::community::{
    Dissimilarity, Exchange, GroupStatistic, GroupTest, GroupTestError, group_test,
};
use std::collections::{BTreeSet, HashMap};
use survey::{SurveyRecord, TaxonId};

/// How two communities are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CommunityOptions {
    /// What the permutation test goes by. Bray–Curtis takes ratings where both surveys used one scale
    /// of several steps, else presence.
    pub measure: Dissimilarity,
    /// Its statistic.
    pub statistic: GroupStatistic,
    /// Permutations.
    pub permutations: u32,
    /// Their seed, stored with the result.
    pub seed: u64,
}

impl CommunityOptions {
    /// ANOSIM's R on Bray–Curtis with 999 permutations of a seed.
    pub const fn with_seed(seed: u64) -> Self {
        Self {
            measure: Dissimilarity::BrayCurtis,
            statistic: GroupStatistic::AnosimR,
            permutations: 999,
            seed,
        }
    }
}

/// How alike two surveys are as communities.
#[derive(Debug, Clone, PartialEq)]
pub struct Community {
    /// Bray–Curtis dissimilarity of frequencies over the compared sites, 0 alike to 1; none without
    /// plants on either side.
    pub bray_curtis: Option<f64>,
    /// Jaccard dissimilarity of the species lists.
    pub jaccard: Option<f64>,
    /// Sites compared: earlier, later.
    pub sites: (usize, usize),
    /// True when ratings entered the test, false for presence alone.
    pub rated: bool,
    /// The permutation test over sites, or why there is none. Same sites change places within pairs.
    pub test: Result<GroupTest, GroupTestError>,
}

/// Compares two surveys as communities of plants on the rake.
///
/// # Assumptions
/// Sites as compared by [`super::Comparison::of`]; taxa looked for in only one survey are left out. A
/// find without a rating counts as the lowest step above zero.
pub fn community(from: &SurveyRecord, to: &SurveyRecord, options: CommunityOptions) -> Community {
    let (first, second) = (Sampled::of(from), Sampled::of(to));
    let (one, other, exchange) = match compared_sites(from, to, &first, &second).compared {
        Compared::Paired(pairs) => {
            let (one, other): (Vec<_>, Vec<_>) = pairs.into_iter().unzip();
            (one, other, Exchange::WithinPairs)
        }
        Compared::Independent(one, other) => (one, other, Exchange::Free),
    };
    let taxa = shared_taxa(from, to, &one, &other);
    let steps = from.scale.steps.iter().filter(|step| step.value.is_some_and(|v| v > 0)).count();
    let rated = from.scale.same_steps(&to.scale)
        && steps > 1
        && options.measure == Dissimilarity::BrayCurtis;
    let mut rows = amounts(from, &one, &taxa, rated);
    rows.extend(amounts(to, &other, &taxa, rated));
    let frequency = |rows: &[Vec<f64>]| -> Vec<f64> {
        let found = |taxon: usize| rows.iter().filter(|row| row[taxon] > 0.0).count() as f64;
        (0..taxa.len()).map(|taxon| found(taxon) / rows.len() as f64).collect()
    };
    let (had, has) = rows.split_at(one.len());
    let known = !taxa.is_empty() && !one.is_empty() && !other.is_empty();
    let of =
        |measure: Dissimilarity| known.then(|| measure.between(&frequency(had), &frequency(has)));
    Community {
        bray_curtis: of(Dissimilarity::BrayCurtis),
        jaccard: of(Dissimilarity::Jaccard),
        sites: (one.len(), other.len()),
        rated,
        test: group_test(
            &rows,
            one.len(),
            options.measure,
            options.statistic,
            exchange,
            options.permutations,
            options.seed,
        ),
    }
}

/// Plants on the rake at compared sites that both surveys looked for.
fn shared_taxa(
    from: &SurveyRecord,
    to: &SurveyRecord,
    one: &[&SampledSite<'_>],
    other: &[&SampledSite<'_>],
) -> Vec<TaxonId> {
    let found = |record: &SurveyRecord, sites: &[&SampledSite<'_>]| -> BTreeSet<TaxonId> {
        let on_rakes =
            sites.iter().flat_map(|site| &site.on_rake).map(|(place, _)| &record.taxa[*place]);
        on_rakes.filter(|taxon| taxon.is_plant()).map(|taxon| taxon.id).collect()
    };
    let mut all = found(from, one);
    all.extend(found(to, other));
    all.into_iter()
        .filter(|taxon| from.survey.scope.covers(*taxon) && to.survey.scope.covers(*taxon))
        .collect()
}

fn amounts(
    record: &SurveyRecord,
    sites: &[&SampledSite<'_>],
    taxa: &[TaxonId],
    rated: bool,
) -> Vec<Vec<f64>> {
    let columns: HashMap<TaxonId, usize> =
        taxa.iter().enumerate().map(|(column, taxon)| (*taxon, column)).collect();
    let row = |site: &&SampledSite<'_>| {
        let mut row = vec![0.0; taxa.len()];
        for (place, _) in &site.on_rake {
            if let Some(column) = columns.get(&record.taxa[*place].id) {
                let rating = rating_at(record, site, Some(*place)).filter(|value| *value > 0.0);
                row[*column] = if rated { rating.unwrap_or(1.0) } else { 1.0 };
            }
        }
        row
    };
    sites.iter().map(row).collect()
}
