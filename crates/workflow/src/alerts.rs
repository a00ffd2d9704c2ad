//! A plant that should not be here: said at once, with what to do.

use crate::error::Result;
use crate::views::PlantAlertView;
use lakebook::LakeBook;
use std::collections::BTreeSet;
use survey::scale::RatingScale;
use survey::{Origin, SiteResult, SurveyId, Taxon, TaxonId, Visit};

/// What to do when an introduced or listed plant is met for the first time.
///
/// The first three are common practice for any first record; whom to tell is the state's to say.
const STEPS: [&str; 5] = [
    "keep a specimen: rinse it, press it or keep it cool and wet in a labelled bag",
    "photograph it with a ruler beside it, close up and where it grew",
    "write down the site, the position and how much there was",
    "tell the state's aquatic invasive species contact before anything is pulled or treated",
    "clean rake, rope and boat before the next site: a fragment is enough to plant it elsewhere",
];

/// Introduced or listed plants among these that no other survey of this lake holds.
pub(crate) fn plant_alerts(
    book: &LakeBook,
    survey: SurveyId,
    found: &BTreeSet<TaxonId>,
    taxa: &[Taxon],
) -> Result<Vec<PlantAlertView>> {
    let suspects: Vec<&Taxon> = taxa
        .iter()
        .filter(|taxon| taxon.listed_noxious || taxon.origin == Origin::Introduced)
        .filter(|taxon| found.contains(&taxon.id))
        .collect();
    if suspects.is_empty() {
        return Ok(Vec::new());
    }
    let times = book.times_found(survey)?;
    Ok(suspects
        .into_iter()
        .filter(|taxon| {
            let (here, all) = times.get(&taxon.id).copied().unwrap_or_default();
            all == here
        })
        .map(|taxon| PlantAlertView {
            taxon: taxon.code.to_string(),
            message: format!(
                "{} ({}) is {} and in no earlier survey of this lake",
                taxon.spoken_name(),
                taxon.scientific_name,
                if taxon.listed_noxious { "listed noxious" } else { "introduced" }
            ),
            steps: STEPS.iter().map(|step| (*step).to_owned()).collect(),
        })
        .collect())
}

/// What came up at visits, or was seen beside the rake.
pub(crate) fn found_at<'a>(
    visits: impl IntoIterator<Item = &'a Visit>,
    scale: &RatingScale,
) -> BTreeSet<TaxonId> {
    let mut found = BTreeSet::new();
    for visit in visits {
        let SiteResult::Sampled(sampling) = &visit.result else { continue };
        // a zero was written down because it was looked for and not there
        let zero = |rating| scale.step_of(rating).is_some_and(|step| step.value == Some(0));
        let there = sampling.observations().filter(|one| !one.rating.is_some_and(zero));
        found.extend(there.map(|one| one.taxon));
    }
    found
}
