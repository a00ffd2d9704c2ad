//! Copies brought together, conflicts settled, unknowns named.

mod differing;

use crate::error::{Error, Result};
use crate::species::SpeciesList;
use crate::views::{ConflictView, MergeView, ResolutionView, SaveResolution};
use jiff::civil::Date;
use lakebook::{Entity, Event, Keep, LakeBook, Ports, Writer};
use serde_json::Value;
use std::path::PathBuf;
use std::sync::Arc;
use survey::{Determination, Evidence, Rank, SiteResult, SurveyRecord, Taxon, TaxonId};

/// Takes other copies of a book in.
///
/// # Errors
/// When one is no copy of this book or is damaged; those before it are in.
pub fn merge(book: &mut LakeBook, others: &[PathBuf], ports: &Arc<dyn Ports>) -> Result<MergeView> {
    let mut view = MergeView { taken: 0, conflicts: 0, renamed: Vec::new() };
    for path in others {
        let other = crate::read_book(path, Arc::clone(ports))?;
        let merged = book.merge(&other)?;
        view.taken += merged.taken;
        view.conflicts += merged.conflicts;
        view.renamed.extend(merged.renamed);
    }
    Ok(view)
}

/// Edits that contradict each other, for a person to choose.
///
/// # Errors
/// When the book cannot be read.
pub fn conflicts(book: &LakeBook) -> Result<Vec<ConflictView>> {
    let names = Labels::of(book)?;
    let units = book.lake()?.units;
    Ok(book
        .conflicts()?
        .into_iter()
        .map(|conflict| {
            let current = conflict.current.as_ref();
            ConflictView {
                id: conflict.other.id.to_string(),
                what: names.label(&conflict.other, current),
                other_by: conflict.other.actor.clone(),
                other_at: conflict.other.at().to_owned(),
                current_by: current.map(|event| event.actor.clone()).unwrap_or_default(),
                current_at: current.map(|event| event.at().to_owned()).unwrap_or_default(),
                fields: differing::fields(current, &conflict.other, &names, units),
            }
        })
        .collect())
}

/// Settles a conflict.
///
/// # Errors
/// When there is no such open conflict, the word is unknown, or the survey is sealed.
pub fn settle_conflict(book: &mut LakeBook, id: &str, keep: &str) -> Result<()> {
    let keep = match keep.trim() {
        "current" => Keep::Current,
        "other" => Keep::Other,
        word => {
            return Err(Error::input(format!("`{word}` is neither `current` nor `other`"))
                .hint("`current` keeps what stands, `other` takes the edit kept beside"));
        }
    };
    let event = id.trim().parse().map_err(|_error| {
        Error::input(format!("`{}` is no key of a conflict", id.trim()))
            .hint("`quillwort conflicts` lists them")
    })?;
    let words = if keep == Keep::Current { "what stood" } else { "the other edit" };
    Ok(book.settle(event, keep, &format!("conflict settled: {words} is kept"))?)
}

/// Words for the records of a book.
pub(crate) struct Labels {
    records: Vec<SurveyRecord>,
    taxa: Vec<Taxon>,
}

impl Labels {
    pub(crate) fn of(book: &LakeBook) -> Result<Self> {
        let records =
            book.surveys()?.iter().map(|one| book.record(one.id)).collect::<Result<_, _>>()?;
        Ok(Self { records, taxa: book.taxa()? })
    }

    /// A record in words, from its key alone.
    pub(crate) fn record(&self, entity: Entity, id: &str) -> Option<String> {
        for record in &self.records {
            let name = &record.survey.name;
            let site = |wanted: survey::SiteId| {
                record.sites.iter().find(|site| site.id == wanted).map(|site| site.code.to_string())
            };
            let found = match entity {
                Entity::Survey => {
                    (record.survey.id.to_string() == id).then(|| format!("header of survey {name}"))
                }
                Entity::Site => record
                    .sites
                    .iter()
                    .find(|site| site.id.to_string() == id)
                    .map(|site| format!("site {} of {name}", site.code)),
                Entity::Visit => record
                    .visits
                    .iter()
                    .find(|visit| visit.id.to_string() == id)
                    .map(|visit| {
                        format!("visit of site {} of {name}", site(visit.site).unwrap_or_default())
                    })
                    .or_else(|| {
                        record
                            .sites
                            .iter()
                            .find(|one| survey::VisitId::of_site(one.id).to_string() == id)
                            .map(|one| format!("visit of site {} of {name}", one.code))
                    }),
                Entity::Bed => record
                    .beds
                    .iter()
                    .find(|bed| bed.id.to_string() == id)
                    .map(|_| format!("a surface bed of {name}")),
                Entity::ShorelineFind => record
                    .shoreline
                    .iter()
                    .find(|find| find.id.to_string() == id)
                    .map(|_| format!("a shoreline find of {name}")),
                Entity::Voucher => record
                    .vouchers
                    .iter()
                    .find(|voucher| voucher.id.to_string() == id)
                    .map(|voucher| format!("voucher {} of {name}", voucher.number)),
                Entity::Photo => record
                    .photos
                    .iter()
                    .find(|photo| photo.id.to_string() == id)
                    .map(|photo| format!("photo {} of {name}", photo.file_name)),
                _ => None,
            };
            if found.is_some() {
                return found;
            }
        }
        if entity == Entity::Taxon {
            let taxon = self.taxa.iter().find(|taxon| taxon.id.to_string() == id)?;
            return Some(format!("plant {} ({})", taxon.code, taxon.scientific_name));
        }
        None
    }

    /// The place of something broken in words; none when the record is not known any more.
    pub(crate) fn place(
        &self,
        (entity, id, field): &(Entity, String, Option<String>),
    ) -> Option<String> {
        let known = self.record(*entity, id)?;
        Some(match field {
            Some(field) => format!("{known}, field `{field}`"),
            None => known,
        })
    }

    fn label(&self, event: &Event, current: Option<&Event>) -> String {
        if let Some(known) = self.record(event.entity, &event.entity_id) {
            return known;
        }
        let body = |event: &Event| serde_json::from_str::<Value>(&event.body).ok();
        let field = |event: &Event, name: &str| Some(body(event)?.get(name)?.as_str()?.to_owned());
        for event in std::iter::once(event).chain(current) {
            if let Some(site) = field(event, "site_id")
                && let Some(site) = self.record(Entity::Site, &site)
            {
                return format!("{} of {site}", event.entity.words());
            }
            if let Some(name) = field(event, "code").or_else(|| field(event, "name")) {
                return format!("{} {name}", event.entity.words());
            }
        }
        event.entity.words().to_owned()
    }
}

/// Names an unknown everywhere at once, and keeps who did, when and on what evidence.
///
/// A plant that is not on the lake's list yet takes the unknown's place on it; one that is takes
/// over every visit, bed, find, photo and specimen. Sealed surveys are amended, signed by the same
/// person.
///
/// # Errors
/// When the code is of no unknown, the name or the evidence is not understood, or a sealed survey
/// would have to hold one plant twice.
pub fn resolve(book: &mut LakeBook, save: &SaveResolution) -> Result<ResolutionView> {
    let lake = book.lake()?;
    let mut list = SpeciesList::new(&lake, book.taxa()?);
    let unknown = list
        .taxa()
        .iter()
        .find(|taxon| taxon.code.as_str().eq_ignore_ascii_case(save.code.trim()))
        .cloned()
        .ok_or_else(|| {
            Error::not_found(format!("no plant on the lake's list has code `{}`", save.code.trim()))
        })?;
    if unknown.rank != Rank::Unidentified {
        return Err(Error::input(format!(
            "`{}` is {}, not an unknown",
            unknown.code, unknown.scientific_name
        ))
        .hint("a wrong name is corrected at each visit, or by amendment"));
    }
    let (evidence, on) = grounds(save)?;
    let fresh = TaxonId(book.new_id());
    let named = name_for(&mut list, &unknown, &save.name, fresh)?;
    let records: Vec<SurveyRecord> =
        book.surveys()?.iter().map(|one| book.record(one.id)).collect::<Result<_, _>>()?;
    let holding: Vec<&SurveyRecord> =
        records.iter().filter(|record| places(record, unknown.id) > 0).collect();
    let count = holding.iter().map(|record| places(record, unknown.id)).sum();
    let key = book.new_id();
    let determination = Determination {
        id: key,
        taxon: named.id,
        was_code: unknown.code.to_string(),
        was_name: unknown.scientific_name.clone(),
        now_name: named.scientific_name.clone(),
        by: save.by.trim().to_owned(),
        on,
        evidence,
        note: save.note.trim().to_owned(),
    };
    let note = format!("{} named {} by {}", unknown.code, named.scientific_name, save.by.trim());
    let why = format!("{} named {} from {}", unknown.code, named.scientific_name, evidence.words());
    let sealed: Vec<&SurveyRecord> =
        holding.iter().copied().filter(|record| record.survey.seal.is_some()).collect();
    let change = |writer: &mut Writer<'_>, of: &[&SurveyRecord]| {
        if named.id == unknown.id {
            writer.put_taxon(&named)?;
        } else {
            of.iter().try_for_each(|record| repoint(writer, record, unknown.id, named.id))?;
        }
        Ok(())
    };
    if named.id == unknown.id {
        // one record of the list: a single amendment reaches every sealed survey that holds it
        match sealed.first() {
            Some(first) => book.amend(first.survey.id, &save.by, &why, |writer| {
                change(writer, &holding)?;
                writer.put_determination(&determination)
            })?,
            None => book.transact(&note, |writer| {
                change(writer, &holding)?;
                writer.put_determination(&determination)
            })?,
        }
    } else {
        for record in &sealed {
            book.amend(record.survey.id, &save.by, &why, |writer| change(writer, &[record]))?;
        }
        let open: Vec<&SurveyRecord> =
            holding.iter().copied().filter(|record| record.survey.seal.is_none()).collect();
        book.transact(&note, |writer| {
            change(writer, &open)?;
            writer.delete_taxon(unknown.id)?;
            writer.put_determination(&determination)
        })?;
    }
    Ok(ResolutionView {
        was: unknown.code.to_string(),
        code: named.code.to_string(),
        name: named.scientific_name.clone(),
        places: count,
        amended: sealed.iter().map(|record| record.survey.name.clone()).collect(),
    })
}

/// On what evidence, and when.
fn grounds(save: &SaveResolution) -> Result<(Evidence, Option<Date>)> {
    if save.by.trim().is_empty() {
        return Err(Error::input("who named it must be said")
            .hint("give your name (`--by` on the command line)"));
    }
    let evidence = save
        .evidence
        .parse::<Evidence>()
        .map_err(|error| Error::input(format!("evidence: {error}")))?;
    let on = save
        .on
        .as_deref()
        .map(|day| {
            day.parse::<Date>().map_err(|_error| {
                Error::input(format!("`{day}` is no day")).hint("write `2026-07-14`")
            })
        })
        .transpose()?;
    Ok((evidence, on))
}

/// The taxon an unknown turns into: one of the list, or a new one in the unknown's own record.
fn name_for(list: &mut SpeciesList, unknown: &Taxon, name: &str, fresh: TaxonId) -> Result<Taxon> {
    let known = list.find(name).cloned();
    let named = known.or_else(|| {
        let added = list.add(name, fresh);
        list.taxa().iter().find(|taxon| taxon.id == added).cloned().map(|taxon| {
            let mut aliases = unknown.aliases.clone();
            aliases.push(unknown.code.clone());
            // the unknown's own record gets the name: nothing has to be written anew
            Taxon { id: unknown.id, aliases, ..taxon }
        })
    });
    let named = named.ok_or_else(|| Error::fault("the name is not on the list"))?;
    if named.rank == Rank::Unidentified {
        return Err(Error::input(format!("`{}` is no name of a plant", name.trim())));
    }
    Ok(named)
}

/// Visits, beds, finds, photos and specimens of a survey that name a taxon.
fn places(record: &SurveyRecord, taxon: TaxonId) -> usize {
    let visits = record.visits.iter().filter(|visit| match &visit.result {
        SiteResult::Sampled(sampling) => sampling.observations().any(|one| one.taxon == taxon),
        SiteResult::NotSampled(_) => false,
    });
    visits.count()
        + record.beds.iter().filter(|bed| bed.taxa.contains(&taxon)).count()
        + record.shoreline.iter().filter(|find| find.taxon == taxon).count()
        + record.photos.iter().filter(|photo| photo.taxon == Some(taxon)).count()
        + record.vouchers.iter().filter(|voucher| voucher.taxon == taxon).count()
}

/// Writes one taxon for another all over a survey. Where a throw held both, the larger rating
/// stays.
fn repoint(
    writer: &mut Writer<'_>,
    record: &SurveyRecord,
    from: TaxonId,
    to: TaxonId,
) -> std::result::Result<(), lakebook::BookError> {
    for visit in &record.visits {
        let SiteResult::Sampled(sampling) = &visit.result else { continue };
        if !sampling.observations().any(|one| one.taxon == from) {
            continue;
        }
        let mut throws = sampling.throws().to_vec();
        for throw in &mut throws {
            let mut kept: Vec<survey::Observation> = Vec::new();
            for mut one in std::mem::take(&mut throw.observations) {
                if one.taxon == from {
                    one.taxon = to;
                }
                match kept.iter_mut().find(|k| k.taxon == one.taxon && k.seen == one.seen) {
                    Some(there) => there.rating = there.rating.max(one.rating),
                    None => kept.push(one),
                }
            }
            throw.observations = kept;
        }
        let Ok(sampling) = survey::Sampling::new(throws, sampling.reported()) else { continue };
        writer
            .put_visit(&survey::Visit { result: SiteResult::Sampled(sampling), ..visit.clone() })?;
    }
    for bed in record.beds.iter().filter(|bed| bed.taxa.contains(&from)) {
        let mut bed = bed.clone();
        bed.taxa.iter_mut().filter(|one| **one == from).for_each(|one| *one = to);
        bed.taxa.dedup();
        writer.put_bed(&bed)?;
    }
    for find in record.shoreline.iter().filter(|find| find.taxon == from) {
        writer.put_shoreline_find(&survey::ShorelineFind { taxon: to, ..find.clone() })?;
    }
    for photo in record.photos.iter().filter(|photo| photo.taxon == Some(from)) {
        writer.put_photo(&survey::PhotoRef { taxon: Some(to), ..photo.clone() })?;
    }
    for voucher in record.vouchers.iter().filter(|voucher| voucher.taxon == from) {
        writer.put_voucher(&survey::Voucher { taxon: to, ..voucher.clone() })?;
    }
    Ok(())
}
