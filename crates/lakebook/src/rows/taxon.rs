//! Taxa and rating scales.

use super::columns::{At, Column, Json, Key};
use super::{Nested, Stored, stored};
use crate::error::BookError;
use rusqlite::{Connection, Params, params};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use survey::scale::{CoverBounds, RatingScale, Step};
use survey::{Conservatism, Taxon};

stored! {
    /// A taxon.
    TaxonRow = Taxon in "taxon" {
        id: Key,
        code: String,
        aliases: Json<Vec<String>>,
        scientific_name: String,
        common_name: String,
        growth_form: String,
        origin: String,
        rank: String,
        listed_noxious: bool,
        conservatism: Option<f64>,
        conservatism_table: Option<String>,
    }
}

impl TaxonRow {
    pub(crate) fn of(taxon: &Taxon) -> Self {
        Self {
            id: Key(taxon.id.0),
            code: taxon.code.to_string(),
            aliases: Json(taxon.aliases.iter().map(ToString::to_string).collect()),
            scientific_name: taxon.scientific_name.clone(),
            common_name: taxon.common_name.clone(),
            growth_form: taxon.growth_form.key().to_owned(),
            origin: taxon.origin.key().to_owned(),
            rank: taxon.rank.key().to_owned(),
            listed_noxious: taxon.listed_noxious,
            conservatism: taxon.conservatism.as_ref().map(|one| one.value),
            conservatism_table: taxon.conservatism.as_ref().map(|one| one.table.clone()),
        }
    }

    pub(crate) fn into_taxon(self) -> Result<Taxon, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(Taxon {
            code: at.code("code", &self.code)?,
            aliases: self
                .aliases
                .0
                .iter()
                .map(|alias| at.code("aliases", alias))
                .collect::<Result<_, _>>()?,
            growth_form: at.parse("growth_form", &self.growth_form)?,
            origin: at.parse("origin", &self.origin)?,
            rank: at.parse("rank", &self.rank)?,
            conservatism: match (self.conservatism, self.conservatism_table) {
                (Some(value), Some(table)) => Some(Conservatism { value, table }),
                _ => None,
            },
            id: self.id.0.into(),
            scientific_name: self.scientific_name,
            common_name: self.common_name,
            listed_noxious: self.listed_noxious,
        })
    }
}

stored! {
    /// A scale; its key is a word, not a UUID.
    ScaleRow = Scale in "rating_scale" {
        id: String,
        name: String,
        source: String,
    } nested {
        steps: Vec<StepRow>,
    }
}

/// A step of a scale.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct StepRow {
    pub(crate) code: String,
    pub(crate) name: String,
    pub(crate) measure: String,
    pub(crate) value: Option<u8>,
    pub(crate) cover_from: Option<f64>,
    pub(crate) cover_to: Option<f64>,
    pub(crate) on_rake: bool,
}

impl Nested for ScaleRow {
    fn write_nested(&self, connection: &Connection) -> rusqlite::Result<()> {
        connection
            .prepare_cached("DELETE FROM rating_step WHERE scale_id = ?1")?
            .execute([&self.id])?;
        let mut insert = connection.prepare_cached(
            "INSERT INTO rating_step (scale_id, place, code, name, measure, value, cover_from, \
             cover_to, on_rake) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
        )?;
        for (place, step) in (0_i64..).zip(&self.steps) {
            insert.execute(params![
                self.id,
                place,
                step.code,
                step.name,
                step.measure,
                step.value,
                step.cover_from,
                step.cover_to,
                step.on_rake
            ])?;
        }
        Ok(())
    }

    fn read_nested(
        rows: &mut [Self],
        connection: &Connection,
        clause: &str,
        parameters: impl Params + Clone,
    ) -> Result<(), BookError> {
        let by_key: BTreeMap<String, usize> =
            rows.iter().enumerate().map(|(index, row)| (row.id.clone(), index)).collect();
        let sql = format!(
            "SELECT scale_id, code, name, measure, value, cover_from, cover_to, on_rake \
             FROM rating_step WHERE scale_id IN (SELECT id FROM rating_scale {clause}) \
             ORDER BY scale_id, place"
        );
        let mut statement = connection.prepare_cached(&sql)?;
        let mut found = statement.query(parameters)?;
        while let Some(row) = found.next()? {
            let scale: String = row.get(0)?;
            if let Some(index) = by_key.get(&scale) {
                rows[*index].steps.push(StepRow {
                    code: row.get(1)?,
                    name: row.get(2)?,
                    measure: row.get(3)?,
                    value: row.get(4)?,
                    cover_from: row.get(5)?,
                    cover_to: row.get(6)?,
                    on_rake: row.get(7)?,
                });
            }
        }
        Ok(())
    }
}

impl ScaleRow {
    pub(crate) fn of(scale: &RatingScale) -> Self {
        Self {
            id: scale.key.clone(),
            name: scale.name.clone(),
            source: scale.source.clone(),
            steps: scale
                .steps
                .iter()
                .map(|step| StepRow {
                    code: step.code.clone(),
                    name: step.name.clone(),
                    measure: step.measure.clone(),
                    value: step.value,
                    cover_from: step.cover.map(|cover| cover.low),
                    cover_to: step.cover.map(|cover| cover.high),
                    on_rake: step.on_rake,
                })
                .collect(),
        }
    }

    /// Why a step cannot be kept.
    pub(crate) fn step_fault(&self) -> Option<String> {
        self.steps.iter().find_map(|step| step.cover_from.fault().or_else(|| step.cover_to.fault()))
    }

    pub(crate) fn into_scale(self) -> RatingScale {
        RatingScale {
            key: self.id,
            name: self.name,
            source: self.source,
            steps: self
                .steps
                .into_iter()
                .map(|step| Step {
                    code: step.code,
                    name: step.name,
                    measure: step.measure,
                    value: step.value,
                    cover: match (step.cover_from, step.cover_to) {
                        (Some(low), Some(high)) => Some(CoverBounds { low, high }),
                        _ => None,
                    },
                    on_rake: step.on_rake,
                })
                .collect(),
        }
    }
}
