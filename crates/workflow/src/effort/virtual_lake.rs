//! The lake the virtual surveys go to.

use super::{EffortRequest, Purpose};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::surveys::record_of;
use lakebook::LakeBook;
use sampling::effort::simulate::{Habitat, Pattern, VirtualLake};
use sampling::effort::{Question, chance_by_throws};
use survey::{SiteResult, SurveyRecord, TaxonId};
use units::{Metres, decimals, percent_whole};

/// A species of a survey: where it came up.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub(super) code: String,
    /// East, north, found or not.
    pub(super) sites: Vec<(f64, f64, bool)>,
}

impl Found {
    /// Share of sites where it came up.
    pub(super) fn share(&self) -> f64 {
        let found = self.sites.iter().filter(|(_, _, found)| *found).count();
        found as f64 / self.sites.len().max(1) as f64
    }

    fn pattern(&self, plants: &Plants, detection: f64) -> Pattern {
        Pattern {
            name: self.code.clone(),
            sites: self.sites.clone(),
            throws: plants.throws,
            detection,
        }
    }
}

/// What the last survey knows of the plants.
#[derive(Debug, Clone, Default)]
pub(super) struct Plants {
    /// Its name; empty when there is none.
    pub(super) survey: String,
    /// Throws a site.
    pub(super) throws: u32,
    /// Plants that came up.
    pub(super) found: Vec<Found>,
    /// The species asked for.
    pub(super) species: Option<Found>,
}

impl Plants {
    /// Reads what the question needs of the last survey, or of the one asked for.
    pub(super) fn of(book: &LakeBook, ground: &Ground, request: &EffortRequest) -> Result<Self> {
        let wanted = request.purpose == Purpose::Richness || request.species.is_some();
        if !wanted {
            if let Some(name) = &request.survey {
                // a wrong name is said, also where the purpose draws from no survey
                record_of(book, name)?;
            }
            return Ok(Self::default());
        }
        Self::read(book, ground, request.survey.as_deref(), request.species.as_deref())
    }

    /// All plants of the last survey with named plants, or of the one asked for.
    pub(super) fn read(
        book: &LakeBook,
        ground: &Ground,
        survey: Option<&str>,
        species: Option<&str>,
    ) -> Result<Self> {
        let Some(record) = pattern_record(book, survey)? else {
            return match species {
                None => Ok(Self::default()),
                Some(species) => Err(Error::not_found(format!(
                    "no survey of this book has named plants, so nothing is known of `{species}`"
                ))
                .hint("leave the species out, or say where it grows with `--best-depth`")),
            };
        };
        let mut plants = Self {
            survey: record.survey.name.clone(),
            throws: u32::from(record.survey.throws_per_site),
            ..Self::default()
        };
        for taxon in record.taxa.iter().filter(|taxon| taxon.is_plant()) {
            let sites = pattern_sites(ground, &record, taxon.id)?;
            if sites.iter().any(|(_, _, found)| *found) {
                plants.found.push(Found { code: taxon.code.to_string(), sites });
            }
        }
        if let Some(species) = species {
            let same = |found: &&Found| found.code.eq_ignore_ascii_case(species.trim());
            plants.species = Some(plants.found.iter().find(same).cloned().ok_or_else(|| {
                let known: Vec<&str> =
                    plants.found.iter().map(|found| found.code.as_str()).collect();
                Error::not_found(format!("`{species}` was not found in {}", plants.survey))
                    .hint(format!("choose of {}", known.join(", ")))
            })?);
        }
        Ok(plants)
    }

    /// Share of places where the species asked for grows: the share of sites where it came up over the chance to
    /// come up, at most 0.99.
    pub(super) fn frequency(&self, detection: f64) -> Option<f64> {
        let species = self.species.as_ref()?;
        let seen = chance_by_throws(detection, self.throws.max(1)).ok()?;
        Some((species.share() / seen).min(0.99))
    }

    /// The plant whose frequency is nearest to one half, the hardest to estimate.
    pub(super) fn nearest_half(&self) -> Option<&Found> {
        let from_half = |found: &Found| (found.share() - 0.5).abs();
        self.found.iter().min_by(|a, b| from_half(a).total_cmp(&from_half(b)))
    }
}

/// The last survey with named plants, or the one asked for.
fn pattern_record(book: &LakeBook, name: Option<&str>) -> Result<Option<SurveyRecord>> {
    if let Some(name) = name {
        return record_of(book, name).map(Some);
    }
    let mut surveys = book.surveys()?;
    surveys.sort_by_key(|survey| survey.start);
    for survey in surveys.iter().rev() {
        let record = book.record(survey.id)?;
        let named = record.visits.iter().any(|visit| {
            record.taxa.iter().any(|taxon| record.largest_on_rake(visit, taxon.id).is_some())
        });
        if named {
            return Ok(Some(record));
        }
    }
    Ok(None)
}

/// The virtual lake of a question, and in words what grows in it: the last survey's own pattern, else a habitat by
/// depth, else one species spread evenly.
pub(super) fn virtual_lake(
    ground: &Ground,
    frame: &sampling::Frame<'_>,
    places: usize,
    request: &EffortRequest,
    question: &Question,
    plants: &Plants,
) -> Result<(VirtualLake, String)> {
    let mut lake = VirtualLake::new(frame, places)?;
    let detection = question.detection;
    let share = match request.purpose {
        Purpose::Change | Purpose::Treatment => question.from,
        _ => question.occupancy,
    };
    if request.purpose == Purpose::Richness && !plants.found.is_empty() {
        for found in &plants.found {
            lake = lake.with_pattern(&found.pattern(plants, detection))?;
        }
        let words = format!("{} species where {} found them", plants.found.len(), plants.survey);
        return Ok((lake, words));
    }
    if request.purpose == Purpose::Richness {
        for number in 0..question.species {
            lake = lake.with_even(&format!("S{number}"), share, detection)?;
        }
        let words = format!(
            "{} species, each at {} of places at random",
            question.species,
            decimals(share, 2)
        );
        return Ok((lake, words));
    }
    if question.patch_area.is_some() && request.purpose != Purpose::Estimate {
        let lake = lake.with_even("species", share, detection)?;
        let words = match request.purpose {
            Purpose::Delineate => "one bed twice as long as wide, anywhere in this water",
            _ => "one round bed, anywhere in this water",
        };
        return Ok((lake, words.to_owned()));
    }
    if let Some((best, spread)) = request.habitat {
        let habitat = Habitat { name: "species".to_owned(), most: 1.0, best, spread, detection };
        let lake = lake.with_habitat_at(&habitat, share)?;
        let words = format!(
            "one species at {} % of places, most at {} and fewer {} shallower or deeper",
            percent_whole(share),
            ground.lake.units.depth(best),
            ground.lake.units.depth(spread)
        );
        return Ok((lake, words));
    }
    if let Some(species) = &plants.species {
        let lake = lake.with_pattern(&species.pattern(plants, detection))?;
        let words = format!("{} where {} found it", species.code, plants.survey);
        return Ok((lake, words));
    }
    let words = format!("one species at {} of places at random", decimals(share, 2));
    Ok((lake.with_even("species", share, detection)?, words))
}

/// A lake with one plant for the comparison of designs: that of the last survey whose frequency is nearest to one
/// half, else one at the middle of the littoral depths, else one spread evenly.
pub(super) fn lake_of_one(
    ground: &Ground,
    frame: &sampling::Frame<'_>,
    places: usize,
    plants: &Plants,
    detection: f64,
) -> Result<(VirtualLake, String)> {
    let lake = VirtualLake::new(frame, places)?;
    if let Some(found) = plants.species.as_ref().or_else(|| plants.nearest_half()) {
        let words = format!("{} where {} found it", found.code, plants.survey);
        return Ok((lake.with_pattern(&found.pattern(plants, detection))?, words));
    }
    if ground.model.is_some() {
        let littoral = ground.littoral();
        let (least, most) = (littoral.min_depth.metres(), littoral.max_depth.metres());
        let habitat = Habitat {
            name: "plant".to_owned(),
            most: 0.8,
            best: Metres::new(f64::midpoint(least, most)),
            spread: Metres::new((most - least) / 4.0),
            detection,
        };
        let words = format!("one plant, most at {}", ground.lake.units.depth(habitat.best));
        return Ok((lake.with_habitat(&habitat)?, words));
    }
    Ok((lake.with_even("plant", 0.5, detection)?, "one plant at half of the places".to_owned()))
}

fn pattern_sites(
    ground: &Ground,
    record: &SurveyRecord,
    taxon: TaxonId,
) -> Result<Vec<(f64, f64, bool)>> {
    let visits = record.visits_by_site();
    let mut sites = Vec::new();
    for site in &record.sites {
        let Some(visit) = visits.get(&site.id) else { continue };
        if !matches!(visit.result, SiteResult::Sampled(_)) {
            continue;
        }
        let Some(place) = visit.actual.map(|fix| fix.position).or(site.planned) else { continue };
        let at = ground.project(place)?;
        sites.push((at.x, at.y, record.largest_on_rake(visit, taxon).is_some()));
    }
    Ok(sites)
}
