//! The surveys of a book: headers, sites, check, seal, verify.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{
    AmendmentView, BookView, BrokenView, ConditionsView, CrewView, ScaleView, SealView,
    SiteTaxonView, SiteView, StepView, SurveySitesView, SurveyView, VerifyView,
};
use lakebook::LakeBook;
use std::collections::BTreeMap;
use survey::scale::RatingScale;
use survey::{
    HowSeen, Rating, Site, SiteId, SiteResult, Survey, SurveyId, SurveyRecord, Taxon, TaxonId,
    Visit,
};
use units::{Celsius, Metres, MetresPerSecond};

/// The record of a survey by its name.
///
/// # Errors
/// When there is none; the error lists the known names.
pub fn record_of(book: &LakeBook, name: &str) -> Result<SurveyRecord> {
    let survey = book.survey_by_name(name)?;
    in_site_order(book, survey.id)
}

/// A record with its visits in the order of the sites: the key of a visit is drawn at random, and no
/// sum and no draw may depend on it.
pub(crate) fn in_site_order(book: &LakeBook, survey: SurveyId) -> Result<SurveyRecord> {
    let mut record = book.record(survey)?;
    let places: BTreeMap<SiteId, (u32, usize)> = record
        .sites
        .iter()
        .enumerate()
        .map(|(place, site)| (site.id, (site.rank, place)))
        .collect();
    record.visits.sort_by_key(|visit| places.get(&visit.site).copied());
    Ok(record)
}

/// The book as its first page needs it.
///
/// # Errors
/// When the book cannot be read.
pub fn book_view(book: &LakeBook) -> Result<BookView> {
    let lake = book.lake()?;
    let last = book.change_log(1)?;
    let mut surveys = surveys(book)?;
    surveys.sort_by(|a, b| b.start.cmp(&a.start).then_with(|| b.name.cmp(&a.name)));
    Ok(BookView {
        name: lake.name,
        units: lake.units.key().to_owned(),
        region: lake.region,
        county: lake.county,
        water_body_number: lake.water_body_number,
        file: book
            .path()
            .file_name()
            .map(|name| name.to_string_lossy().into_owned())
            .unwrap_or_default(),
        depth_datum: lake.depth_datum,
        last_write: last.first().map(|event| event.at().to_owned()),
        surveys,
        version: env!("CARGO_PKG_VERSION").to_owned(),
    })
}

/// Every survey, earliest first.
///
/// # Errors
/// When the book cannot be read.
pub fn surveys(book: &LakeBook) -> Result<Vec<SurveyView>> {
    let mut all = book.surveys()?;
    all.sort_by(|a, b| a.start.cmp(&b.start).then_with(|| a.name.cmp(&b.name)));
    all.iter().map(|survey| survey_view(book, survey)).collect()
}

fn survey_view(book: &LakeBook, survey: &Survey) -> Result<SurveyView> {
    let record = book.record(survey.id)?;
    let sampled =
        record.visits.iter().filter(|visit| matches!(visit.result, SiteResult::Sampled(_))).count();
    Ok(SurveyView {
        name: survey.name.clone(),
        purpose: survey.purpose.key().to_owned(),
        method: survey.method.key().to_owned(),
        start: survey.start.map(|date| date.to_string()),
        end: survey.end.map(|date| date.to_string()),
        scale: survey.scale.clone(),
        throws_per_site: survey.throws_per_site,
        depth_cap_m: survey.depth_cap.map(Metres::metres),
        planned: record.sites.iter().filter(|site| site.stands()).count(),
        visited: record.visits.len(),
        sampled,
        seal: survey.seal.as_ref().map(seal_view),
        amendments: amendments(book, &record)?,
        crew: survey
            .crew
            .iter()
            .map(|one| CrewView {
                name: one.name.clone(),
                role: one.role.key().to_owned(),
                identified: one.identified,
            })
            .collect(),
        conditions: survey
            .conditions
            .iter()
            .map(|day| ConditionsView {
                date: day.date.map(|date| date.to_string()),
                air_c: day.air.map(Celsius::celsius),
                water_c: day.water.map(Celsius::celsius),
                weather: day.weather.clone(),
                wind_m_s: day.wind.map(MetresPerSecond::metres_per_second),
                wind_words: day.wind_words.clone(),
                secchi_m: day.secchi.map(Metres::metres),
                water_level_m: day.water_level.map(Metres::metres),
                gear: day.gear.clone(),
            })
            .collect(),
        layout: survey.layout.layout.clone(),
        note: survey.note.clone(),
    })
}

/// Changes made after the seal, the oldest first.
pub(crate) fn amendments(book: &LakeBook, record: &SurveyRecord) -> Result<Vec<AmendmentView>> {
    let by_id = |key: &String| {
        let visit = record.visits.iter().find(|one| one.id.to_string() == *key)?;
        record.sites.iter().find(|site| site.id == visit.site)
    };
    let view = |one: lakebook::Amendment| {
        let mut sites: Vec<&Site> = one.visits.iter().filter_map(by_id).collect();
        sites.sort_by_key(|site| site.rank);
        let sites = sites.into_iter().map(|site| site.code.to_string()).collect();
        AmendmentView { by: one.by, at: one.at, why: one.why, sites }
    };
    Ok(book.amendments(record.survey.id)?.into_iter().map(view).collect())
}

/// A seal.
pub(crate) fn seal_view(seal: &survey::Seal) -> SealView {
    SealView { by: seal.by.clone(), at: seal.at.clone(), sha256: seal.sha256.clone() }
}

/// A scale as its steps.
pub fn scale_view(scale: &RatingScale) -> ScaleView {
    ScaleView {
        key: scale.key.clone(),
        name: scale.name.clone(),
        source: scale.source.clone(),
        steps: scale
            .steps
            .iter()
            .map(|step| StepView {
                code: step.code.clone(),
                name: step.name.clone(),
                measure: step.measure.clone(),
                value: step.value,
                on_rake: step.on_rake,
            })
            .collect(),
    }
}

/// The place of a rating among the steps above zero, from 1.
pub(crate) fn rank(scale: &RatingScale, rating: Rating) -> Option<usize> {
    let place = usize::from(rating.0);
    let step = scale.steps.get(place)?;
    if step.value.unwrap_or(0) == 0 {
        return None;
    }
    let above = |step: &&survey::scale::Step| step.value.is_some_and(|value| value > 0);
    Some(scale.steps[..=place].iter().filter(above).count())
}

/// The sites of a survey with what came of them.
///
/// # Errors
/// When there is no such survey.
pub fn sites_view(book: &LakeBook, name: &str) -> Result<SurveySitesView> {
    let record = record_of(book, name)?;
    let ground = Ground::shore_of(book)?;
    let visits = record.visits_by_site();
    let plants = record.plants();
    let taxa: BTreeMap<TaxonId, &Taxon> =
        record.taxa.iter().map(|taxon| (taxon.id, taxon)).collect();
    let mut sites: Vec<&Site> = record.sites.iter().collect();
    sites.sort_by_key(|site| site.rank);
    let mut views = Vec::with_capacity(sites.len());
    for site in sites {
        let visit = visits.get(&site.id).copied();
        let place = visit.and_then(|visit| visit.actual).map(|fix| fix.position).or(site.planned);
        let at = place.map(|place| ground.project(place)).transpose()?;
        let found = visit.map(|visit| taxa_at(&record, visit, &taxa)).unwrap_or_default();
        views.push(SiteView {
            code: site.code.to_string(),
            zone: site.zone.as_ref().map(ToString::to_string),
            landmark: site.landmark.clone(),
            spare: site.spare,
            dropped: site.dropped.clone(),
            lon: site.planned.map(units::LonLat::longitude),
            lat: site.planned.map(units::LonLat::latitude),
            x: at.map(|at| at.x),
            y: at.map(|at| at.y),
            map_depth_m: site.map_depth.map(Metres::metres),
            depth_m: visit.and_then(|visit| visit.depth).map(Metres::metres),
            sediment: visit.and_then(|visit| visit.sediment).map(|one| one.key().to_owned()),
            outcome: visit.map(|visit| record.outcome(visit, &plants).key().to_owned()),
            total_rating: visit.and_then(|visit| total(&record, visit)),
            species: visit.map_or(0, |visit| species_count(visit, &found)),
            taxa: found,
            note: visit.map(|visit| visit.note.clone()).unwrap_or_default(),
        });
    }
    Ok(SurveySitesView {
        survey: record.survey.name.clone(),
        scale: scale_view(&record.scale),
        sites: views,
    })
}

fn total(record: &SurveyRecord, visit: &Visit) -> Option<f64> {
    let SiteResult::Sampled(sampling) = &visit.result else { return None };
    sampling.throws().iter().filter_map(|throw| record.value_of(throw.total)).reduce(f64::max)
}

fn species_count(visit: &Visit, found: &[SiteTaxonView]) -> usize {
    let named = found.iter().filter(|one| one.seen == HowSeen::Rake.key()).count();
    let SiteResult::Sampled(sampling) = &visit.result else { return 0 };
    sampling.reported().map_or(named, |counts| named.max(usize::from(counts.species)))
}

/// What was found at a visit, each taxon once, with its largest rating.
fn taxa_at(
    record: &SurveyRecord,
    visit: &Visit,
    taxa: &BTreeMap<TaxonId, &Taxon>,
) -> Vec<SiteTaxonView> {
    let SiteResult::Sampled(sampling) = &visit.result else { return Vec::new() };
    let mut found: BTreeMap<TaxonId, (Option<Rating>, HowSeen)> = BTreeMap::new();
    for one in sampling.observations().filter(|one| record.says_present(one.rating)) {
        let seen = if record.on_rake(one) { HowSeen::Rake } else { HowSeen::Visual };
        let entry = found.entry(one.taxon).or_insert((one.rating, seen));
        if seen == HowSeen::Rake && entry.1 != HowSeen::Rake {
            *entry = (one.rating, seen);
        } else if seen == entry.1 {
            entry.0 = entry.0.max(one.rating);
        }
    }
    found
        .into_iter()
        .filter_map(|(id, (rating, seen))| {
            let taxon = taxa.get(&id)?;
            let step = rating.and_then(|rating| record.scale.step_of(rating));
            Some(SiteTaxonView {
                code: taxon.code.to_string(),
                rating: step.map(|step| step.code.clone()),
                value: record.value_of(rating),
                rank: rating.and_then(|rating| rank(&record.scale, rating)),
                seen: seen.key().to_owned(),
            })
        })
        .collect()
}

/// Closes a survey's record.
///
/// # Errors
/// When faults are open and nobody says why it is closed despite them, or it is closed already.
pub fn seal(book: &mut LakeBook, name: &str, by: &str, despite: Option<&str>) -> Result<SealView> {
    let survey = book.survey_by_name(name)?;
    if let Some(seal) = &survey.seal {
        return Err(Error::input(format!(
            "survey `{}` is sealed already, by {} at {}",
            survey.name, seal.by, seal.at
        ))
        .hint("a sealed survey changes only by amendment"));
    }
    let record = book.record(survey.id)?;
    let faults = crate::checking::open_faults(book, &record)?;
    if faults > 0 && despite.is_none() {
        return Err(Error::input(format!("survey `{}` has {faults} open faults", survey.name)).hint(format!(
            "see them with `quillwort check BOOK --survey {}`; confirm those that are right with `quillwort settle`; to close it all the same, say why with `--despite REASON`",
            survey.name
        )));
    }
    if let Some(reason) = despite.filter(|_| faults > 0) {
        let mut noted = survey.clone();
        if !noted.note.is_empty() {
            noted.note.push_str("; ");
        }
        noted.note.push_str(&format!("sealed with {faults} open faults: {reason}"));
        book.transact("noted why it is sealed with open faults", |writer| {
            writer.put_survey(&noted)
        })?;
    }
    book.seal(survey.id, by)?;
    let sealed = book.survey_by_name(name)?;
    let seal = sealed.seal.ok_or_else(|| Error::fault("the seal was not kept"))?;
    Ok(SealView { by: seal.by, at: seal.at, sha256: seal.sha256 })
}

/// Recomputes every seal and the log's chain.
///
/// # Errors
/// When the book cannot be read.
pub fn verify(book: &LakeBook) -> Result<VerifyView> {
    let verification = book.verify()?;
    let labels = if verification.ok { None } else { crate::keeping::Labels::of(book).ok() };
    Ok(VerifyView {
        sealed: verification.sealed,
        ok: verification.ok,
        broken: verification
            .broken
            .into_iter()
            .map(|one| BrokenView {
                what: one.what,
                place: labels
                    .as_ref()
                    .and_then(|labels| labels.place(one.record.as_ref()?))
                    .unwrap_or(one.place),
                expected: one.expected,
                found: one.found,
            })
            .collect(),
    })
}
