//! Reading: the lake, its surveys, its log.

use crate::book::{Amendment, Conflict, LakeBook, Outline};
use crate::data_set::{self, DataSetContent, DataSetInfo};
use crate::entity::{Entity, Operation};
use crate::error::BookError;
use crate::event::{self, Event, FOLD_ORDER};
use crate::kept_columns::KeptColumns;
use crate::papers::{KeptRoute, SheetScan};
use crate::rows::{ColumnMapRow, DataSetRow, PaperTextRow, RouteRow, SheetScanRow, Stored};
use crate::{read, seal};
use rusqlite::{OptionalExtension, params};
use survey::scale::RatingScale;
use survey::{
    BoardLimit, EventId, Lake, Landmark, PhotoRef, SubArea, Survey, SurveyId, SurveyRecord, Taxon,
    Treatment, Zone,
};

impl LakeBook {
    /// The lake's header.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read; so for every reading function.
    pub fn lake(&self) -> Result<Lake, BookError> {
        self.read(read::lake)
    }

    /// The lake's outline; none before one was brought in.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn outline(&self) -> Result<Option<Outline>, BookError> {
        self.read(read::outline)
    }

    /// Zones by code.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn zones(&self) -> Result<Vec<Zone>, BookError> {
        self.read(read::zones)
    }

    /// Sub-areas by code.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn sub_areas(&self) -> Result<Vec<SubArea>, BookError> {
        self.read(read::sub_areas)
    }

    /// Landmarks by name.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn landmarks(&self) -> Result<Vec<Landmark>, BookError> {
        self.read(read::landmarks)
    }

    /// Pictures under the lake by name.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn backgrounds(&self) -> Result<Vec<crate::Background>, BookError> {
        self.read(read::backgrounds)
    }

    /// The lake's list of taxa by scientific name.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn taxa(&self) -> Result<Vec<Taxon>, BookError> {
        self.read(read::taxa)
    }

    /// The rating scales its surveys use, and the lake's own.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn scales(&self) -> Result<Vec<RatingScale>, BookError> {
        self.read(read::scales)
    }

    /// Surveys by their first day, those without one last.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn surveys(&self) -> Result<Vec<Survey>, BookError> {
        self.read(read::surveys)
    }

    /// A survey by its name, whatever the case.
    ///
    /// # Errors
    /// [`BookError::UnknownSurvey`] with the names there are.
    pub fn survey_by_name(&self, name: &str) -> Result<Survey, BookError> {
        self.read(|connection| read::survey_by_name(connection, name))
    }

    /// The whole record of a survey.
    ///
    /// # Errors
    /// [`BookError::Unknown`] when there is no such survey.
    pub fn record(&self, survey: SurveyId) -> Result<SurveyRecord, BookError> {
        self.snapshot(|connection| read::record(connection, survey))
    }

    /// Limits of the lake board by the day they were adopted.
    ///
    /// # Errors
    /// [`BookError`] when the book cannot be read.
    pub fn board_limits(&self) -> Result<Vec<BoardLimit>, BookError> {
        self.read(read::board_limits)
    }

    /// Treatments by their first day.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn treatments(&self) -> Result<Vec<Treatment>, BookError> {
        self.read(read::treatments)
    }

    /// All photos, those of no visit among them.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn photos(&self) -> Result<Vec<PhotoRef>, BookError> {
        self.read(read::photos)
    }

    /// The route of a survey; none before one is kept.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn route(&self, survey: SurveyId) -> Result<Option<KeptRoute>, BookError> {
        self.read(|connection| {
            Ok(RouteRow::one(connection, &survey.to_string())?.map(RouteRow::into_route))
        })
    }

    /// The lake's own words for a place on a paper; none when it has no own.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn paper_text(&self, place: &str) -> Result<Option<String>, BookError> {
        self.read(|connection| Ok(PaperTextRow::one(connection, place)?.map(|row| row.text)))
    }

    /// Sheets of a survey that were read back, by number.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn sheet_scans(&self, survey: SurveyId) -> Result<Vec<SheetScan>, BookError> {
        self.read(|connection| {
            let of_survey = "WHERE survey_id = ?1 ORDER BY sheet, id";
            let rows = SheetScanRow::select(connection, of_survey, [survey.to_string()])?;
            Ok(rows.into_iter().map(SheetScanRow::into_scan).collect())
        })
    }

    /// What the book remembers of the columns of files, the newest first.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn column_maps(&self) -> Result<Vec<KeptColumns>, BookError> {
        self.read(|connection| {
            let rows = ColumnMapRow::select(connection, "ORDER BY kept_at DESC, fid DESC", [])?;
            Ok(rows.into_iter().map(ColumnMapRow::into_columns).collect())
        })
    }

    /// Data sets in the order brought in.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn data_sets(&self) -> Result<Vec<DataSetInfo>, BookError> {
        self.read(|connection| {
            DataSetRow::select(connection, "ORDER BY created_at, fid", [])?
                .into_iter()
                .map(DataSetRow::into_info)
                .collect()
        })
    }

    /// The content of a data set.
    ///
    /// # Errors
    /// [`BookError::Unknown`]; [`BookError::Damaged`] when the content is not what its name says.
    pub fn load_data_set(&self, sha256: &str) -> Result<DataSetContent, BookError> {
        self.read(|connection| {
            let unknown = || BookError::Unknown { entity: "data set", id: sha256.to_owned() };
            let info = DataSetRow::one(connection, sha256)?.ok_or_else(unknown)?.into_info()?;
            let content: Vec<u8> = connection
                .prepare_cached("SELECT content FROM data_set_content WHERE id = ?1")?
                .query_row([sha256], |row| row.get(0))
                .optional()?
                .ok_or_else(unknown)?;
            if data_set::name_of(&content) != sha256 {
                return Err(BookError::Damaged {
                    path: self.path.clone(),
                    reason: format!("data set `{}` is not what was brought in", info.name),
                });
            }
            data_set::decode(sha256, info.kind, content)
        })
    }

    /// The newest events first.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn change_log(&self, limit: usize) -> Result<Vec<Event>, BookError> {
        self.events("ORDER BY clock DESC, id DESC LIMIT ?1", params![limit as i64])
    }

    /// The newest event of records of some kinds.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn latest(&self, kinds: &[Entity]) -> Result<Option<Event>, BookError> {
        let marks = vec!["?"; kinds.len()].join(", ");
        let found = self.events(
            &format!("WHERE entity IN ({marks}) ORDER BY clock DESC, id DESC LIMIT 1"),
            rusqlite::params_from_iter(kinds),
        )?;
        Ok(found.into_iter().next())
    }

    /// Everything that happened to a record, the oldest first.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn history(&self, entity: Entity, id: &str) -> Result<Vec<Event>, BookError> {
        self.events(
            &format!("WHERE entity_id = ?1 AND entity = ?2 {FOLD_ORDER}"),
            params![id, entity],
        )
    }

    /// The version of a record that stands, to be handed to [`crate::Writer::based_on`].
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn version(&self, entity: Entity, id: &str) -> Result<Option<EventId>, BookError> {
        self.read(|connection| Ok(event::current(connection, entity, id)?.map(|event| event.id)))
    }

    /// Conflicts nobody has settled, the oldest first.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn conflicts(&self) -> Result<Vec<Conflict>, BookError> {
        // an edit made from another that was kept beside speaks for both
        self.events(
            &format!(
                "WHERE id IN (SELECT id FROM conflict WHERE settled = 0) AND id NOT IN ( \
                 SELECT later.base_version FROM change_log AS later JOIN conflict \
                 ON conflict.id = later.id WHERE later.base_version IS NOT NULL) {FOLD_ORDER}"
            ),
            [],
        )?
        .into_iter()
        .map(|other| {
            let current = self.read(|connection| {
                Ok(event::current(connection, other.entity, &other.entity_id)?
                    .filter(|event| event.operation == Operation::Put))
            })?;
            Ok(Conflict { other, current })
        })
        .collect()
    }

    /// Amendments of a survey, the oldest first.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn amendments(&self, survey: SurveyId) -> Result<Vec<Amendment>, BookError> {
        self.read(|connection| {
            // all events of one save have one batch
            let mut visits = connection.prepare_cached(
                "SELECT DISTINCT other.entity_id FROM change_log AS own JOIN change_log AS other \
                 ON other.device = own.device AND other.batch = own.batch \
                 WHERE own.id = ?1 AND other.entity = ?2",
            )?;
            let mut of = |amendment: &str| -> rusqlite::Result<Vec<String>> {
                visits.query_map(params![amendment, Entity::Visit], |row| row.get(0))?.collect()
            };
            Ok(connection
                .prepare_cached(
                    "SELECT amended_by, why, amended_at, sha256_before, sha256_after, id \
                     FROM amendment WHERE survey_id = ?1 ORDER BY id",
                )?
                .query_map([survey.to_string()], |row| {
                    Ok(Amendment {
                        survey,
                        by: row.get(0)?,
                        why: row.get(1)?,
                        at: row.get(2)?,
                        sha256_before: row.get(3)?,
                        sha256_after: row.get(4)?,
                        visits: of(&row.get::<_, String>(5)?)?,
                    })
                })?
                .collect::<Result<_, _>>()?)
        })
    }

    /// The canonical text a survey's seal is taken of: its SHA-256 is the seal's.
    ///
    /// # Errors
    /// [`BookError::Unknown`] when there is no such survey.
    pub fn canonical_record(&self, survey: SurveyId) -> Result<String, BookError> {
        self.snapshot(|connection| seal::canonical_record(connection, &survey.to_string()))
    }
}
