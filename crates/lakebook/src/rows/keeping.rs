//! Settled finds, second entries, determinations, remembered columns.

use super::columns::{Json, Key, date_text};
use super::{Stored, VisitRow, stored};
use crate::error::BookError;
use crate::kept_columns::KeptColumns;
use crate::rows::columns::At;
use survey::check::Settlement;
use survey::{Determination, SecondEntry};

stored! {
    /// A find of the check a person confirmed.
    SettledRow = Settlement in "settled_find" {
        id: Key,
        survey_id: Key,
        find: String,
        said: String,
        reason: String,
        settled_by: String,
        settled_at: String,
    }
}

impl SettledRow {
    pub(crate) fn of(one: &Settlement) -> Self {
        Self {
            id: Key(one.id),
            survey_id: Key(one.survey.0),
            find: one.find.clone(),
            said: one.said.clone(),
            reason: one.reason.clone(),
            settled_by: one.by.clone(),
            settled_at: one.at.clone(),
        }
    }

    pub(crate) fn into_settlement(self) -> Settlement {
        Settlement {
            id: self.id.0,
            survey: self.survey_id.0.into(),
            find: self.find,
            said: self.said,
            reason: self.reason,
            by: self.settled_by,
            at: self.settled_at,
        }
    }
}

stored! {
    /// A second person's entry of a visit.
    SecondEntryRow = SecondEntry in "second_entry" {
        id: Key,
        survey_id: Key,
        site_id: Key,
        entered_by: String,
        visit: Json<VisitRow>,
    }
}

impl SecondEntryRow {
    pub(crate) fn of(one: &SecondEntry) -> Self {
        Self {
            id: Key(one.id),
            survey_id: Key(one.visit.survey.0),
            site_id: Key(one.visit.site.0),
            entered_by: one.by.clone(),
            visit: Json(VisitRow::of(&one.visit)),
        }
    }

    pub(crate) fn into_entry(self) -> Result<SecondEntry, BookError> {
        Ok(SecondEntry { id: self.id.0, by: self.entered_by, visit: self.visit.0.into_visit()? })
    }
}

stored! {
    /// The naming of an unknown.
    DeterminationRow = Determination in "determination" {
        id: Key,
        taxon_id: Key,
        was_code: String,
        was_name: String,
        now_name: String,
        determined_by: String,
        determined_on: Option<String>,
        evidence: String,
        note: String,
    }
}

impl DeterminationRow {
    pub(crate) fn of(one: &Determination) -> Self {
        Self {
            id: Key(one.id),
            taxon_id: Key(one.taxon.0),
            was_code: one.was_code.clone(),
            was_name: one.was_name.clone(),
            now_name: one.now_name.clone(),
            determined_by: one.by.clone(),
            determined_on: date_text(one.on),
            evidence: one.evidence.key().to_owned(),
            note: one.note.clone(),
        }
    }

    pub(crate) fn into_determination(self) -> Result<Determination, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(Determination {
            on: at.parse_some("determined_on", self.determined_on.as_deref())?,
            evidence: at.parse("evidence", &self.evidence)?,
            id: self.id.0,
            taxon: self.taxon_id.0.into(),
            was_code: self.was_code,
            was_name: self.was_name,
            now_name: self.now_name,
            by: self.determined_by,
            note: self.note,
        })
    }
}

stored! {
    /// What the columns of a file mean.
    ColumnMapRow = ColumnMap in "column_map" {
        id: String,
        headers: Json<Vec<String>>,
        plants: Json<Vec<String>>,
        header_row: u32,
        map: String,
        source_file: String,
        survey: String,
        kept_at: String,
    }
}

impl ColumnMapRow {
    pub(crate) fn of(columns: &KeptColumns) -> Self {
        Self {
            id: columns.key(),
            headers: Json(columns.headers.clone()),
            plants: Json(columns.plants.clone()),
            header_row: columns.header_row,
            map: columns.map.clone(),
            source_file: columns.source_file.clone(),
            survey: columns.survey.clone(),
            kept_at: columns.kept_at.clone(),
        }
    }

    pub(crate) fn into_columns(self) -> KeptColumns {
        KeptColumns {
            headers: self.headers.0,
            plants: self.plants.0,
            header_row: self.header_row,
            map: self.map,
            source_file: self.source_file,
            survey: self.survey,
            kept_at: self.kept_at,
        }
    }
}
