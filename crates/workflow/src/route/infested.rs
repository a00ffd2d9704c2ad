//! From the least infested water to the most: what the last record says of each planned site.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::print::place_of;
use lakebook::LakeBook;
use survey::{Origin, Site, SiteResult, SurveyRecord};

/// How infested a planned site is held to be.
pub(super) struct Infestation {
    /// 0 none, 1 some, 2 heavy, one a site.
    pub(super) levels: Vec<u8>,
    /// The survey it was read from.
    pub(super) survey: String,
}

/// Level of each site by the nearest sampled site of the last survey with a record that could show
/// it: 0 without an introduced or listed plant, 2 when the rating lies in the upper half of the scale.
///
/// # Errors
/// When no survey of the book has a record.
pub(super) fn infestation(
    book: &LakeBook,
    ground: &Ground,
    planned: &SurveyRecord,
    sites: &[&Site],
) -> Result<Infestation> {
    let mut surveys = book.surveys()?;
    surveys.sort_by_key(|survey| survey.start);
    for survey in surveys.into_iter().rev() {
        if survey.id == planned.survey.id {
            continue;
        }
        let record = book.record(survey.id)?;
        let known = known(ground, &record)?;
        if known.is_empty() {
            continue;
        }
        let mut levels = Vec::new();
        for site in sites {
            let at = site.planned.map(|place| ground.project(place)).transpose()?;
            let nearest = at.and_then(|at| {
                let distance = |(x, y): (f64, f64)| (x - at.x).hypot(y - at.y);
                known.iter().min_by(|a, b| distance(a.0).total_cmp(&distance(b.0)))
            });
            levels.push(nearest.map_or(0, |(_, level)| *level));
        }
        return Ok(Infestation { levels, survey: survey.name });
    }
    Err(Error::input("no survey of the book has a record that says where introduced plants grow")
        .hint("leave `--cleanest-first` out, or record an earlier survey first"))
}

/// Places of the sampled sites with their level.
fn known(ground: &Ground, record: &SurveyRecord) -> Result<Vec<((f64, f64), u8)>> {
    let bad: Vec<_> = record
        .taxa
        .iter()
        .filter(|taxon| taxon.origin == Origin::Introduced || taxon.listed_noxious)
        .collect();
    let middle = record.scale.steps.len().div_ceil(2);
    let visits = record.visits_by_site();
    let mut known = Vec::new();
    for site in &record.sites {
        let Some(visit) = visits.get(&site.id) else { continue };
        if !matches!(visit.result, SiteResult::Sampled(_)) {
            continue;
        }
        let Some(place) = place_of(ground, record, site)? else { continue };
        let level = bad
            .iter()
            .filter_map(|taxon| record.largest_on_rake(visit, taxon.id))
            .map(|rating| match rating {
                Some(rating) if usize::from(rating.0) >= middle => 2,
                _ => 1,
            })
            .max()
            .unwrap_or(0);
        known.push((place, level));
    }
    Ok(known)
}
