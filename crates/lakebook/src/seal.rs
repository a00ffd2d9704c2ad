//! Seals: the canonical text of a survey's record, and what a change reaches of it.

use crate::canonical::{canonical_json, sha256_hex};
use crate::entity::Entity;
use crate::error::BookError;
use crate::rows::{
    BedRow, Key, PhotoRow, ScaleRow, SettledRow, ShorelineFindRow, SiteRow, Stored, SurveyRow,
    TaxonRow, VisitRow, VoucherRow,
};
use rusqlite::{Connection, OptionalExtension};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// The form of the sealed text, so that a later one can be told from it.
const FORM: u32 = 1;

/// The record of one survey as rows.
struct Record {
    survey: SurveyRow,
    sites: Vec<SiteRow>,
    visits: Vec<VisitRow>,
    beds: Vec<BedRow>,
    finds: Vec<ShorelineFindRow>,
    photos: Vec<PhotoRow>,
    vouchers: Vec<VoucherRow>,
    settled: Vec<SettledRow>,
}

impl Record {
    fn read(connection: &Connection, survey: &str) -> Result<Self, BookError> {
        let of_survey = "WHERE survey_id = ?1 ORDER BY id";
        Ok(Self {
            survey: SurveyRow::one(connection, survey)?
                .ok_or_else(|| BookError::Unknown { entity: "survey", id: survey.to_owned() })?,
            sites: SiteRow::select(connection, of_survey, [survey])?,
            visits: VisitRow::select(connection, of_survey, [survey])?,
            beds: BedRow::select(connection, of_survey, [survey])?,
            finds: ShorelineFindRow::select(connection, of_survey, [survey])?,
            photos: PhotoRow::select(
                connection,
                "WHERE visit_id IN (SELECT id FROM visit WHERE survey_id = ?1) OR survey_id = ?1 \
                 ORDER BY id",
                [survey],
            )?,
            vouchers: VoucherRow::select(connection, of_survey, [survey])?,
            settled: SettledRow::select(connection, of_survey, [survey])?,
        })
    }

    /// Every taxon the record speaks of.
    fn taxa(&self) -> BTreeSet<Key> {
        let observed = self.visits.iter().flat_map(|visit| {
            visit.throws.iter().flat_map(|throw| throw.observations.iter().map(|one| one.taxon_id))
        });
        observed
            .chain(self.beds.iter().flat_map(|bed| bed.taxa.0.iter().copied()))
            .chain(self.finds.iter().map(|find| find.taxon_id))
            .chain(self.photos.iter().filter_map(|photo| photo.taxon_id))
            .chain(self.vouchers.iter().map(|voucher| voucher.taxon_id))
            .chain(self.survey.looked_for.0.iter().flatten().copied())
            .collect()
    }
}

/// The text a seal is taken of: the header without the seal, the scale, and all that was planned
/// and recorded, each list in the order of its keys. Of a taxon the scientific name belongs to the
/// record; its code, origin and coefficient are the lake's and may change.
pub(crate) fn canonical_record(connection: &Connection, survey: &str) -> Result<String, BookError> {
    let record = Record::read(connection, survey)?;
    let scale = ScaleRow::one(connection, &record.survey.scale_id)?;
    let mut taxa = Vec::new();
    for key in record.taxa() {
        let taxon = TaxonRow::one(connection, &key.to_string())?;
        let name = taxon.map(|taxon| taxon.scientific_name);
        taxa.push(json!({ "id": key, "scientific_name": name }));
    }
    let value = |result: Result<Value, serde_json::Error>| {
        result.map_err(|source| BookError::Body { event: survey.to_owned(), source })
    };
    let mut text = json!({
        "form": FORM,
        "survey": value(serde_json::to_value(&record.survey))?,
        "scale": value(serde_json::to_value(&scale))?,
        "sites": value(serde_json::to_value(&record.sites))?,
        "visits": value(serde_json::to_value(&record.visits))?,
        "taxa": taxa,
        "beds": value(serde_json::to_value(&record.beds))?,
        "shoreline_finds": value(serde_json::to_value(&record.finds))?,
        "photos": value(serde_json::to_value(&record.photos))?,
        "vouchers": value(serde_json::to_value(&record.vouchers))?,
    });
    // left out when there is none, so that a record sealed before finds could be settled keeps
    // its checksum
    if !record.settled.is_empty() {
        text["settled_finds"] = value(serde_json::to_value(&record.settled))?;
    }
    Ok(canonical_json(&text))
}

/// SHA-256 of the canonical text.
pub(crate) fn checksum(connection: &Connection, survey: &str) -> Result<String, BookError> {
    Ok(sha256_hex(canonical_record(connection, survey)?.as_bytes()))
}

/// What a change reaches.
pub(crate) struct Reached {
    /// Surveys whose record it is part of.
    pub(crate) surveys: BTreeSet<String>,
    /// What a person calls it.
    pub(crate) label: String,
    /// True for what several surveys share, a taxon or a scale.
    pub(crate) shared: bool,
}

/// Which surveys' records a put or a deletion changes.
pub(crate) fn reached<R: Stored>(
    connection: &Connection,
    entity: Entity,
    key: &str,
    before: Option<&R>,
    after: Option<&R>,
) -> Result<Reached, BookError> {
    let both = || [before, after].into_iter().flatten();
    let references =
        |column: &str| both().filter_map(|row| row.reference(column)).collect::<BTreeSet<Key>>();
    let strings = |sql: &str, key: &str| -> Result<Vec<String>, BookError> {
        Ok(connection
            .prepare_cached(sql)?
            .query_map([key], |row| row.get(0))?
            .collect::<Result<_, _>>()?)
    };
    let label = both()
        .find_map(|row| {
            row.text("code").or_else(|| row.text("name")).or_else(|| row.text("number"))
        })
        .map(str::to_owned);
    let mut surveys = BTreeSet::new();
    let mut label = label.unwrap_or_else(|| key.to_owned());
    let mut shared = false;
    match entity {
        Entity::Survey => {
            surveys.insert(key.to_owned());
        }
        Entity::Site
        | Entity::Visit
        | Entity::Bed
        | Entity::ShorelineFind
        | Entity::Voucher
        | Entity::Settlement => {
            surveys.extend(references("survey_id").iter().map(ToString::to_string));
            if entity == Entity::Visit
                && let Some(site) = references("site_id").first()
            {
                let code: Option<String> = connection
                    .prepare_cached("SELECT code FROM site WHERE id = ?1")?
                    .query_row([site], |row| row.get(0))
                    .optional()?;
                label = code.map_or(label, |code| format!("of site {code}"));
            }
        }
        Entity::Photo => {
            surveys.extend(references("survey_id").iter().map(ToString::to_string));
            for visit in references("visit_id") {
                surveys.extend(strings(
                    "SELECT survey_id FROM visit WHERE id = ?1",
                    &visit.to_string(),
                )?);
            }
        }
        Entity::Scale => {
            shared = true;
            if before.is_some() && before != after {
                surveys.extend(strings("SELECT id FROM survey WHERE scale_id = ?1", key)?);
            }
        }
        Entity::Taxon => {
            shared = true;
            let name = |row: Option<&R>| {
                row.and_then(|row| row.text("scientific_name")).map(str::to_owned)
            };
            if before.is_some() && name(before) != name(after) {
                surveys.extend(surveys_with_taxon(connection, key)?);
            }
        }
        Entity::Lake
        | Entity::Outline
        | Entity::Zone
        | Entity::SubArea
        | Entity::Landmark
        | Entity::Treatment
        | Entity::Background
        | Entity::DataSet
        | Entity::Route
        | Entity::PaperText
        | Entity::SheetScan
        | Entity::ColumnMap
        | Entity::BoardLimit
        | Entity::SecondEntry
        | Entity::Determination
        | Entity::Conflict
        | Entity::Batch => {}
    }
    Ok(Reached { surveys, label, shared })
}

/// Sealed surveys whose record speaks of a taxon.
pub(crate) fn surveys_with_taxon(
    connection: &Connection,
    taxon: &str,
) -> Result<Vec<String>, BookError> {
    let sql = "SELECT id FROM survey WHERE seal_sha256 IS NOT NULL AND ( \
        instr(looked_for, ?1) > 0 \
        OR EXISTS (SELECT 1 FROM observation JOIN visit ON visit.id = observation.visit_id \
                   WHERE observation.taxon_id = ?1 AND visit.survey_id = survey.id) \
        OR EXISTS (SELECT 1 FROM surface_bed WHERE survey_id = survey.id AND instr(taxa, ?1) > 0) \
        OR EXISTS (SELECT 1 FROM shoreline_find WHERE survey_id = survey.id AND taxon_id = ?1) \
        OR EXISTS (SELECT 1 FROM voucher WHERE survey_id = survey.id AND taxon_id = ?1) \
        OR EXISTS (SELECT 1 FROM photo JOIN visit ON visit.id = photo.visit_id \
                   WHERE photo.taxon_id = ?1 AND visit.survey_id = survey.id))";
    Ok(connection
        .prepare_cached(sql)?
        .query_map([taxon], |row| row.get(0))?
        .collect::<Result<_, _>>()?)
}
