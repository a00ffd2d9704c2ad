//! What an editor needs before it writes: one record, its version, who wrote it last.

use crate::book::LakeBook;
use crate::entity::Entity;
use crate::error::BookError;
use crate::event::{self, COLUMNS, Event};
use crate::rows::{
    BedRow, DeterminationRow, SecondEntryRow, SettledRow, ShorelineFindRow, SiteRow, Stored,
    SurveyRow, TaxonRow, VisitRow, VoucherRow,
};
use crate::write::Writer;
use rusqlite::{OptionalExtension, params};
use std::collections::BTreeMap;
use survey::check::Settlement;
use survey::{
    BedId, Determination, SecondEntry, ShorelineFind, ShorelineFindId, Site, SiteId, SurfaceBed,
    SurveyId, TaxonId, Visit, Voucher,
};

/// The version of a record that stands, with who wrote it and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// The event that made it.
    pub version: survey::EventId,
    /// Who wrote it.
    pub actor: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
}

impl From<Event> for Standing {
    fn from(event: Event) -> Self {
        Self { version: event.id, at: event.at().to_owned(), actor: event.actor }
    }
}

impl LakeBook {
    /// What stands of a survey's records of one kind, by their keys.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn standing_of(
        &self,
        survey: SurveyId,
        entity: Entity,
    ) -> Result<BTreeMap<String, Standing>, BookError> {
        let (table, of) = match entity {
            Entity::Survey => (SurveyRow::TABLE, "id"),
            Entity::Visit => (VisitRow::TABLE, "survey_id"),
            Entity::Bed => (BedRow::TABLE, "survey_id"),
            Entity::ShorelineFind => (ShorelineFindRow::TABLE, "survey_id"),
            Entity::Site => (SiteRow::TABLE, "survey_id"),
            Entity::Voucher => (VoucherRow::TABLE, "survey_id"),
            _ => return Ok(BTreeMap::new()),
        };
        let clause = format!(
            "WHERE entity = ?2 AND entity_id IN (SELECT id FROM {table} WHERE {of} = ?1) \
             AND operation IN ('put', 'delete') AND id NOT IN (SELECT id FROM conflict) \
             ORDER BY clock, id"
        );
        let events = self.events(&clause, params![survey.to_string(), entity])?;
        // later ones take the place of earlier ones
        Ok(events.into_iter().map(|event| (event.entity_id.clone(), event.into())).collect())
    }

    /// A survey's site by its code, whatever the case.
    ///
    /// # Errors
    /// [`BookError::Unknown`] when the survey has no such site.
    pub fn site_by_code(&self, survey: SurveyId, code: &str) -> Result<Site, BookError> {
        self.read(|connection| {
            SiteRow::select(
                connection,
                "WHERE survey_id = ?1 AND lower(code) = lower(?2)",
                params![survey.to_string(), code.trim()],
            )?
            .pop()
            .ok_or_else(|| BookError::Unknown { entity: "site", id: code.trim().to_owned() })?
            .into_site()
        })
    }

    /// The visit of a site; none when nobody went.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn visit_of(&self, site: SiteId) -> Result<Option<Visit>, BookError> {
        self.read(|connection| {
            VisitRow::select(connection, "WHERE site_id = ?1", [site.to_string()])?
                .pop()
                .map(VisitRow::into_visit)
                .transpose()
        })
    }

    /// The event that made a record what it is; none when it is not there.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn current(&self, entity: Entity, id: &str) -> Result<Option<Event>, BookError> {
        self.read(|connection| {
            Ok(event::current(connection, entity, id)?
                .filter(|event| event.operation == crate::Operation::Put))
        })
    }

    /// A surface bed.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn bed(&self, bed: BedId) -> Result<Option<SurfaceBed>, BookError> {
        self.read(|connection| Ok(BedRow::one(connection, &bed.to_string())?.map(BedRow::into_bed)))
    }

    /// A shoreline find.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn shoreline_find(
        &self,
        find: ShorelineFindId,
    ) -> Result<Option<ShorelineFind>, BookError> {
        self.read(|connection| {
            ShorelineFindRow::one(connection, &find.to_string())?
                .map(ShorelineFindRow::into_find)
                .transpose()
        })
    }

    /// Finds of a survey's check that were confirmed.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn settlements(&self, survey: SurveyId) -> Result<Vec<Settlement>, BookError> {
        self.read(|connection| {
            let rows = SettledRow::select(
                connection,
                "WHERE survey_id = ?1 ORDER BY id",
                [survey.to_string()],
            )?;
            Ok(rows.into_iter().map(SettledRow::into_settlement).collect())
        })
    }

    /// Second entries of a survey.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn second_entries(&self, survey: SurveyId) -> Result<Vec<SecondEntry>, BookError> {
        self.read(|connection| {
            SecondEntryRow::select(
                connection,
                "WHERE survey_id = ?1 ORDER BY id",
                [survey.to_string()],
            )?
            .into_iter()
            .map(SecondEntryRow::into_entry)
            .collect()
        })
    }

    /// Who named what was unknown, the oldest first.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn determinations(&self) -> Result<Vec<Determination>, BookError> {
        self.read(|connection| {
            DeterminationRow::all(connection)?
                .into_iter()
                .map(DeterminationRow::into_determination)
                .collect()
        })
    }

    /// A picture by its SHA-256; none when the book keeps no such.
    ///
    /// # Errors
    /// [`BookError::Damaged`] when it is not what was brought in.
    pub fn picture(&self, sha256: &str) -> Result<Option<Vec<u8>>, BookError> {
        let content: Option<Vec<u8>> = self.read(|connection| {
            Ok(connection
                .prepare_cached("SELECT content FROM photo_content WHERE id = ?1")?
                .query_row([sha256], |row| row.get(0))
                .optional()?)
        })?;
        if content.as_ref().is_some_and(|content| crate::sha256_hex(content) != sha256) {
            return Err(BookError::Damaged {
                path: self.path.clone(),
                reason: "a picture is not what was brought in".to_owned(),
            });
        }
        Ok(content)
    }

    /// All vouchers of the book, by survey and number.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn vouchers(&self) -> Result<Vec<Voucher>, BookError> {
        self.read(|connection| {
            VoucherRow::select(connection, "ORDER BY survey_id, number, id", [])?
                .into_iter()
                .map(VoucherRow::into_voucher)
                .collect()
        })
    }

    /// At how many visits each taxon was recorded, in this survey and in all.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn times_found(
        &self,
        survey: SurveyId,
    ) -> Result<BTreeMap<TaxonId, (usize, usize)>, BookError> {
        self.read(|connection| {
            let mut statement = connection.prepare_cached(
                "SELECT taxon_id, \
                        count(DISTINCT CASE WHEN visit.survey_id = ?1 THEN visit.id END), \
                        count(DISTINCT visit.id) \
                 FROM observation JOIN visit ON visit.id = observation.visit_id \
                 GROUP BY taxon_id",
            )?;
            let mut rows = statement.query([survey.to_string()])?;
            let mut found = BTreeMap::new();
            while let Some(row) = rows.next()? {
                let taxon: crate::rows::Key = row.get(0)?;
                let count = |at| row.get::<_, i64>(at).map(|count| count as usize);
                found.insert(TaxonId(taxon.0), (count(1)?, count(2)?));
            }
            Ok(found)
        })
    }

    /// The newest event that speaks of one of these kinds of record; what was worked out from
    /// them is good as long as it stays the same.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn last_event_of(&self, kinds: &[Entity]) -> Result<Option<String>, BookError> {
        let words: Vec<String> = kinds.iter().map(|kind| format!("'{}'", kind.key())).collect();
        self.read(|connection| {
            let sql =
                format!("SELECT max(id) FROM change_log WHERE entity IN ({})", words.join(", "));
            Ok(connection.query_row(&sql, [], |row| row.get(0))?)
        })
    }
}

impl Writer<'_> {
    /// Keeps a picture and gives its SHA-256, its name in the book; the same one twice is kept once.
    ///
    /// # Errors
    /// [`BookError`] when it cannot be written.
    pub fn put_picture(&mut self, picture: &[u8]) -> Result<String, BookError> {
        let sha256 = crate::sha256_hex(picture);
        self.connection.execute(
            "INSERT OR IGNORE INTO photo_content (id, content) VALUES (?1, ?2)",
            params![sha256, picture],
        )?;
        Ok(sha256)
    }

    /// Who is writing.
    pub fn actor(&self) -> String {
        self.log.actor().to_owned()
    }

    /// When this save is made, RFC 3339 in UTC.
    pub fn now(&self) -> String {
        event::time_text(self.log.now)
    }

    /// What stands of a record as the changes so far leave it; none when it is not there.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn standing(&self, entity: Entity, id: &str) -> Result<Option<Event>, BookError> {
        Ok(event::current(self.connection, entity, id)?
            .filter(|event| event.operation == crate::Operation::Put))
    }

    /// The taxon under a key.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn taxon(&self, id: TaxonId) -> Result<Option<survey::Taxon>, BookError> {
        TaxonRow::one(self.connection, &id.to_string())?.map(TaxonRow::into_taxon).transpose()
    }
}

/// The events of a save, oldest first.
impl LakeBook {
    /// The newest saves, newest first, each with its events.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn saves(&self, limit: usize) -> Result<Vec<Vec<Event>>, BookError> {
        let firsts = self.events(
            "WHERE device_seq = batch ORDER BY clock DESC, id DESC LIMIT ?1",
            params![limit as i64],
        )?;
        let sql = format!(
            "SELECT {COLUMNS} FROM change_log WHERE device = ?1 AND device_seq >= ?2 \
             AND batch = ?2 ORDER BY device_seq"
        );
        self.read(|connection| {
            let mut statement = connection.prepare_cached(&sql)?;
            firsts
                .iter()
                .map(|first| {
                    Ok(statement
                        .query_map(params![first.device, first.batch as i64], Event::from_row)?
                        .collect::<Result<Vec<_>, _>>()?)
                })
                .collect()
        })
    }
}
