//! Writing up a survey by hand: what the form needs, and each change it makes as one save.
//!
//! A save touches the one record it is about and nothing else, so that it costs the same in a
//! survey of ten sites and of a thousand. A record someone else changed meanwhile is not written:
//! both versions are handed back.

mod body;
mod header;
mod lists;
mod log;
mod notation;
mod second;
mod visit;
mod written;

pub use header::{HeaderSave, save_header};
pub use lists::{
    add_taxon, add_unknown, delete_bed, delete_shoreline, save_bed, save_shoreline, species_matches,
};
pub use log::{survey_log, undo, visit_log};
pub use notation::throw_words;
pub use second::{choose_entry, delete_second, save_second, second_entries};
pub use visit::{VisitSave, delete_visit, save_visit};
pub use written::{
    SaidOfSite, beds, delete_specimen, save_specimen, shoreline, specimens, visit_of, write_visit,
};

use crate::error::{Error, Result};
use crate::surveys::{scale_view, seal_view};
use crate::views::{EntrySiteView, EntryTaxonView, EntryView, WordView};
use lakebook::{Entity, LakeBook};
use std::collections::{BTreeMap, BTreeSet};
use survey::catalogue::Catalogue;
use survey::scale::RatingScale;
use survey::{CrewRole, NotSampled, Sediment, Site, Survey, SurveyRecord, Taxon, TaxonId};
use units::Metres;

/// All the form needs, in one answer.
///
/// # Errors
/// When there is no such survey.
pub fn entry_view(book: &LakeBook, name: &str) -> Result<EntryView> {
    let survey = book.survey_by_name(name)?;
    let record = book.record(survey.id)?;
    let plants = record.plants();
    let codes = Codes::of(&record.taxa);
    let standing = book.standing_of(survey.id, Entity::Visit)?;
    let sites: BTreeMap<_, _> = record.sites.iter().map(|site| (site.id, site)).collect();
    let mut visits: Vec<_> = record
        .visits
        .iter()
        .filter_map(|visit| {
            let site = sites.get(&visit.site)?;
            let stands = standing.get(&visit.id.to_string())?;
            let outcome = record.outcome(visit, &plants);
            let entry = body::visit_entry(site, visit, stands, outcome, &record.scale, &codes);
            Some((site.rank, entry))
        })
        .collect();
    visits.sort_by_key(|(rank, _)| *rank);
    // a dropped site is shown when somebody was there all the same
    let mut ordered: Vec<&Site> = record
        .sites
        .iter()
        .filter(|site| {
            site.dropped.is_none() || record.visits.iter().any(|visit| visit.site == site.id)
        })
        .collect();
    ordered.sort_by_key(|site| site.rank);
    Ok(EntryView {
        survey: survey.name.clone(),
        units: book.lake()?.units.key().to_owned(),
        seal: survey.seal.as_ref().map(seal_view),
        amendments: crate::surveys::amendments(book, &record)?,
        header: header::header_entry(book, &survey)?,
        scale: scale_view(&record.scale),
        sites: ordered.into_iter().map(site_view).collect(),
        visits: visits.into_iter().map(|(_, visit)| visit).collect(),
        species: species(book, &record)?,
        beds: record.beds.iter().map(|bed| lists::bed_entry(bed, &record, &codes)).collect(),
        shoreline: record
            .shoreline
            .iter()
            .map(|find| lists::shoreline_entry(find, &codes))
            .collect(),
        people: people(book, &record)?,
        zones: book.zones()?.iter().map(|zone| zone.code.to_string()).collect(),
        sediments: words(Sediment::ALL.iter().map(|one| (one.key(), one.words()))),
        // that nobody wrote down why is said by leaving the reason out
        reasons: words(
            NotSampled::ALL
                .iter()
                .filter(|one| **one != NotSampled::NoInformation)
                .map(|one| (one.key(), one.words())),
        ),
        roles: words(CrewRole::ALL.iter().map(|one| (one.key(), one.words()))),
    })
}

fn words<'a>(list: impl Iterator<Item = (&'a str, &'a str)>) -> Vec<WordView> {
    list.map(|(key, words)| WordView { key: key.to_owned(), words: words.to_owned() }).collect()
}

fn site_view(site: &Site) -> EntrySiteView {
    EntrySiteView {
        code: site.code.to_string(),
        landmark: site.landmark.clone(),
        zone: site.zone.as_ref().map(ToString::to_string),
        sub_area: site.sub_area.as_ref().map(ToString::to_string),
        lon: site.planned.map(units::LonLat::longitude),
        lat: site.planned.map(units::LonLat::latitude),
        map_depth_m: site.map_depth.map(Metres::metres),
        spare: site.spare,
        dropped: site.dropped.clone(),
    }
}

/// The lake's list, what was found most often first.
fn species(book: &LakeBook, record: &SurveyRecord) -> Result<Vec<EntryTaxonView>> {
    let found = book.times_found(record.survey.id)?;
    let mut list: Vec<EntryTaxonView> = record
        .taxa
        .iter()
        .map(|taxon| {
            let (here, all) = found.get(&taxon.id).copied().unwrap_or_default();
            taxon_view(taxon, here, all)
        })
        .collect();
    list.sort_by(|a, b| b.found.cmp(&a.found).then_with(|| a.code.cmp(&b.code)));
    Ok(list)
}

fn taxon_view(taxon: &Taxon, found_here: usize, found: usize) -> EntryTaxonView {
    let known = Catalogue::builtin().find(&taxon.scientific_name);
    let mut other_names: Vec<String> = known
        .into_iter()
        .flat_map(survey::catalogue::CatalogueTaxon::names)
        .filter(|name| {
            !name.is_empty() && *name != taxon.scientific_name && *name != taxon.common_name
        })
        .map(str::to_owned)
        .collect();
    other_names.dedup();
    EntryTaxonView {
        code: taxon.code.to_string(),
        aliases: taxon.aliases.iter().map(ToString::to_string).collect(),
        scientific_name: taxon.scientific_name.clone(),
        common_name: taxon.common_name.clone(),
        other_names,
        growth_form: taxon.growth_form.key().to_owned(),
        origin: taxon.origin.key().to_owned(),
        rank: taxon.rank.key().to_owned(),
        listed_noxious: taxon.listed_noxious,
        found_here,
        found,
    }
}

/// Names of people written anywhere in the book's headers and in this record.
fn people(book: &LakeBook, record: &SurveyRecord) -> Result<Vec<String>> {
    let mut names = BTreeSet::new();
    for survey in book.surveys()? {
        names.extend(survey.crew.into_iter().map(|member| member.name));
    }
    names.extend(record.visits.iter().map(|visit| visit.observer.clone()));
    names.remove("");
    Ok(names.into_iter().collect())
}

/// A survey that may be written, and its scale.
pub(crate) fn open_survey(book: &LakeBook, name: &str) -> Result<(Survey, RatingScale)> {
    let survey = book.survey_by_name(name)?;
    if let Some(seal) = &survey.seal {
        return Err(Error::conflict(format!("survey `{}` is sealed, by {}", survey.name, seal.by))
            .hint("a sealed record changes only by amendment: amend the site on its sheet, or use `quillwort amend`"));
    }
    rated(book, survey)
}

/// A sealed survey that is amended, and its scale.
pub(crate) fn sealed_survey(book: &LakeBook, name: &str) -> Result<(Survey, RatingScale)> {
    let survey = book.survey_by_name(name)?;
    if survey.seal.is_none() {
        return Err(Error::conflict(format!("survey `{}` is not sealed", survey.name))
            .hint("nothing is to be amended: write it as usual, without a reason"));
    }
    rated(book, survey)
}

fn rated(book: &LakeBook, survey: Survey) -> Result<(Survey, RatingScale)> {
    let scale = crate::record::scale_of(book, &survey.scale)?;
    Ok((survey, scale))
}

/// Codes of the lake's list, both ways.
pub(crate) struct Codes<'a> {
    taxa: &'a [Taxon],
    by_id: BTreeMap<TaxonId, &'a Taxon>,
}

impl<'a> Codes<'a> {
    pub(crate) fn of(taxa: &'a [Taxon]) -> Self {
        Self { taxa, by_id: taxa.iter().map(|taxon| (taxon.id, taxon)).collect() }
    }

    pub(crate) fn code(&self, id: TaxonId) -> String {
        self.by_id.get(&id).map_or_else(|| id.to_string(), |taxon| taxon.code.to_string())
    }

    /// The taxon of a code, now or before.
    pub(crate) fn read(&self, code: &str) -> Result<TaxonId> {
        let wanted = code.trim();
        let same = |one: &survey::Code| one.as_str().eq_ignore_ascii_case(wanted);
        self.taxa
            .iter()
            .find(|taxon| same(&taxon.code))
            .or_else(|| self.taxa.iter().find(|taxon| taxon.aliases.iter().any(same)))
            .map(|taxon| taxon.id)
            .ok_or_else(|| {
                Error::input(format!(
                    "field `taxon`: no plant on the lake's list has code `{wanted}`"
                ))
                .hint("choose one of the list, or add the plant first")
            })
    }
}
