//! The one gate: every write is an event, and the tables follow.

use crate::data_set::{self, DataSet};
use crate::entity::{Entity, Operation};
use crate::error::BookError;
use crate::event::{Appender, Event, current, time_text};
use crate::fold::{self, Touched};
use crate::kept_columns::KeptColumns;
use crate::papers::{KeptRoute, SheetScan};
use crate::ports::{IdMaker, Ports};
use crate::rows::{
    BackgroundRow, BedRow, BoardLimitRow, ColumnMapRow, DataSetRow, DeterminationRow, LakeRow,
    LandmarkRow, OutlineRow, PaperTextRow, PhotoRow, RouteRow, ScaleRow, SecondEntryRow,
    SettledRow, SheetScanRow, ShorelineFindRow, SiteRow, Stored, SubAreaRow, SurveyRow, TaxonRow,
    TreatmentRow, VisitRow, VoucherRow, ZoneRow,
};
use crate::{Background, Outline, read, rules, seal};
use rusqlite::{Connection, params};
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use survey::check::Settlement;
use survey::scale::RatingScale;
use survey::{
    BedId, BoardLimit, BoardLimitId, Determination, EventId, Id, Lake, Landmark, LandmarkId,
    PhotoId, PhotoRef, SecondEntry, ShorelineFind, ShorelineFindId, Site, SiteId, SubArea,
    SubAreaId, SurfaceBed, Survey, SurveyId, SurveyRecord, Taxon, TaxonId, Treatment, TreatmentId,
    Visit, VisitId, Voucher, VoucherId, Zone, ZoneId,
};

mod closing;

/// What an amendment is to change, and for whom it is signed.
#[derive(Debug)]
pub(crate) struct Amending {
    pub(crate) survey: String,
    pub(crate) by: String,
    pub(crate) why: String,
    /// Every sealed survey the changes reach, with its checksum before.
    before: BTreeMap<String, String>,
}

impl Amending {
    pub(crate) fn new(survey: SurveyId, by: &str, why: &str) -> Self {
        Self {
            survey: survey.to_string(),
            by: by.to_owned(),
            why: why.to_owned(),
            before: BTreeMap::new(),
        }
    }
}

/// The version the next write was made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Base {
    /// The one that stands.
    Standing,
    /// The one an editor saw; none for a record that was new to it.
    Seen(Option<EventId>),
}

/// Collects the changes of one save. Made by [`crate::LakeBook::transact`]; either all of it is
/// kept or nothing.
pub struct Writer<'a> {
    pub(crate) connection: &'a Connection,
    pub(crate) log: Appender<'a>,
    ids: &'a IdMaker,
    ports: &'a dyn Ports,
    pub(crate) touched: Touched,
    pub(crate) rules: rules::Touched,
    /// Sealed surveys by key, with their names.
    sealed: BTreeMap<String, String>,
    amending: Option<Amending>,
    base: Base,
    conflicts: usize,
}

impl fmt::Debug for Writer<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Writer")
            .field("events", &self.log.count)
            .field("conflicts", &self.conflicts)
            .finish_non_exhaustive()
    }
}

macro_rules! deletions {
    ($($(#[$doc:meta])* $name:ident($id:ty) = $entity:ident;)+) => {$(
        $(#[$doc])*
        ///
        /// # Errors
        /// [`BookError::Unknown`] when it is not there, [`BookError::Sealed`] when its survey is
        /// sealed.
        pub fn $name(&mut self, id: $id) -> Result<(), BookError> {
            self.delete(Entity::$entity, &id.to_string())
        }
    )+};
}

macro_rules! puts {
    ($($(#[$doc:meta])* $name:ident($type:ty) = $row:ident;)+) => {$(
        $(#[$doc])*
        ///
        /// # Errors
        /// [`BookError::Sealed`] when its survey is sealed, [`BookError::Refused`] when the rules
        /// of the book do not allow it.
        pub fn $name(&mut self, value: &$type) -> Result<(), BookError> {
            self.put_row(&$row::of(value))
        }
    )+};
}

impl<'a> Writer<'a> {
    pub(crate) fn new(
        connection: &'a Connection,
        ids: &'a IdMaker,
        ports: &'a dyn Ports,
        note: &str,
        amending: Option<Amending>,
    ) -> Result<Self, BookError> {
        Ok(Self {
            connection,
            log: Appender::new(connection, ids, ports, note)?,
            ids,
            ports,
            touched: Touched::default(),
            rules: rules::Touched::default(),
            sealed: read::sealed_names(connection)?,
            amending,
            base: Base::Standing,
            conflicts: 0,
        })
    }

    /// A fresh key; keys of one book rise.
    pub fn new_id(&self) -> Id {
        self.ids.next_id(self.ports)
    }

    /// The record of a survey as the changes so far leave it.
    ///
    /// # Errors
    /// [`BookError::Unknown`] when there is no such survey.
    pub fn record(&self, survey: SurveyId) -> Result<SurveyRecord, BookError> {
        read::record(self.connection, survey)
    }

    /// The next put or deletion was made from this version of the record, as an editor saw it. If
    /// another edit came between, it is kept beside the current version as a conflict.
    pub fn based_on(&mut self, version: Option<EventId>) -> &mut Self {
        self.base = Base::Seen(version);
        self
    }

    /// Edits of this save that were kept beside, for a person to settle.
    pub const fn conflicts(&self) -> usize {
        self.conflicts
    }

    /// Writes the lake's header.
    ///
    /// # Errors
    /// [`BookError::Refused`] when a number cannot be kept.
    pub fn put_lake(&mut self, lake: &Lake) -> Result<(), BookError> {
        let book = read::book_id(self.connection)?.unwrap_or_else(|| self.new_id());
        self.put_row(&LakeRow::of(book, lake))
    }

    /// Writes the lake's outline over the one before.
    ///
    /// # Errors
    /// [`BookError::Refused`] when it is empty or not on Earth.
    pub fn put_outline(&mut self, outline: &Outline) -> Result<(), BookError> {
        let book = read::book_id(self.connection)?
            .ok_or(BookError::Unknown { entity: "lake", id: String::new() })?;
        self.put_row(&OutlineRow::of(book, outline))
    }

    puts! {
        /// Writes a zone.
        put_zone(Zone) = ZoneRow;
        /// Writes a sub-area.
        put_sub_area(SubArea) = SubAreaRow;
        /// Writes a landmark.
        put_landmark(Landmark) = LandmarkRow;
        /// Writes a planned site.
        put_site(Site) = SiteRow;
        /// Writes a surface bed.
        put_bed(SurfaceBed) = BedRow;
        /// Writes a shoreline find.
        put_shoreline_find(ShorelineFind) = ShorelineFindRow;
        /// Writes a photo's particulars.
        put_photo(PhotoRef) = PhotoRow;
        /// Writes a voucher.
        put_voucher(Voucher) = VoucherRow;
        /// Keeps what a person said of a find of the check.
        put_settlement(Settlement) = SettledRow;
        /// Keeps a second person's entry of a visit.
        put_second_entry(SecondEntry) = SecondEntryRow;
        /// Keeps who named what was unknown.
        put_determination(Determination) = DeterminationRow;
        /// Writes a treatment.
        put_treatment(Treatment) = TreatmentRow;
        /// Writes a limit of the lake board.
        put_board_limit(BoardLimit) = BoardLimitRow;
        /// Writes the route of a survey over the one before.
        put_route(KeptRoute) = RouteRow;
        /// Writes a sheet read back.
        put_sheet_scan(SheetScan) = SheetScanRow;
        /// Writes a picture's place under the lake.
        put_background(Background) = BackgroundRow;
        /// Writes a taxon of the lake's list. Its scientific name is part of every sealed record
        /// that holds it; the rest may be changed at any time.
        put_taxon(Taxon) = TaxonRow;
    }

    /// Writes the lake's own words for a place on a paper.
    ///
    /// # Errors
    /// [`BookError::Refused`] when they cannot be kept.
    pub fn put_paper_text(&mut self, place: &str, text: &str) -> Result<(), BookError> {
        self.put_row(&PaperTextRow { id: place.to_owned(), text: text.to_owned() })
    }

    /// Goes back to the words a paper has of itself.
    ///
    /// # Errors
    /// [`BookError::Unknown`] when the lake has no words of its own there.
    pub fn delete_paper_text(&mut self, place: &str) -> Result<(), BookError> {
        self.delete(Entity::PaperText, place)
    }

    /// Remembers what the columns of a file mean, over what was remembered of the same shape. When
    /// that was is written here.
    ///
    /// # Errors
    /// [`BookError::Refused`] when it cannot be kept.
    pub fn put_column_map(&mut self, columns: &KeptColumns) -> Result<(), BookError> {
        let kept_at = time_text(self.log.now);
        self.put_row(&ColumnMapRow { kept_at, ..ColumnMapRow::of(columns) })
    }

    /// Forgets the route of a survey; its papers follow the plan again.
    ///
    /// # Errors
    /// [`BookError::Unknown`] when it has none.
    pub fn delete_route(&mut self, survey: SurveyId) -> Result<(), BookError> {
        self.delete(Entity::Route, &survey.to_string())
    }

    /// Writes a rating scale. A scale of a sealed survey cannot be changed.
    ///
    /// # Errors
    /// [`BookError::Sealed`], [`BookError::Refused`].
    pub fn put_scale(&mut self, scale: &RatingScale) -> Result<(), BookError> {
        let row = ScaleRow::of(scale);
        if let Some(fault) = row.step_fault() {
            return Err(BookError::refused(
                format!("scale `{}`: {fault}", scale.key),
                "give cover as a proportion from 0 to 1",
            ));
        }
        self.put_row(&row)
    }

    /// Writes a survey's header. Its scale is taken into the book when it is a built-in one. The
    /// seal is not written here.
    ///
    /// # Errors
    /// [`BookError::Sealed`], [`BookError::Refused`] when the scale is not known.
    pub fn put_survey(&mut self, survey: &Survey) -> Result<(), BookError> {
        if read::scale_steps(self.connection, &survey.scale)?.is_none() {
            let scale = RatingScale::by_key(&survey.scale).ok_or_else(|| {
                BookError::refused(
                    format!(
                        "survey `{}`: there is no rating scale `{}`",
                        survey.name, survey.scale
                    ),
                    "choose a built-in scale, or add the lake's own before the survey",
                )
            })?;
            self.put_scale(scale)?;
        }
        self.put_row(&SurveyRow::of(survey))
    }

    /// Writes planned sites.
    ///
    /// # Errors
    /// As [`Writer::put_site`].
    pub fn put_sites(&mut self, sites: &[Site]) -> Result<(), BookError> {
        sites.iter().try_for_each(|site| self.put_site(site))
    }

    /// Writes a visit with its throws and observations.
    ///
    /// # Errors
    /// [`BookError::Sealed`]; [`BookError::Refused`] for a rating that is not on the survey's
    /// scale.
    pub fn put_visit(&mut self, visit: &Visit) -> Result<(), BookError> {
        let row = VisitRow::of(visit);
        self.rules.rating(self.connection, row.survey_id, row.largest_rating())?;
        self.put_row(&row)
    }

    /// Writes visits.
    ///
    /// # Errors
    /// As [`Writer::put_visit`].
    pub fn put_visits(&mut self, visits: &[Visit]) -> Result<(), BookError> {
        visits.iter().try_for_each(|visit| self.put_visit(visit))
    }

    /// Keeps a data set and gives its SHA-256, its name in the book. The same content twice is
    /// kept once.
    ///
    /// # Errors
    /// [`BookError::Refused`] naming the first point that is not on Earth or has no depth.
    pub fn put_data_set(&mut self, data_set: &DataSet) -> Result<String, BookError> {
        let bytes = data_set::encode(&data_set.content)?;
        let sha256 = data_set::name_of(&bytes);
        if DataSetRow::one(self.connection, &sha256)?.is_some() {
            return Ok(sha256);
        }
        self.connection.execute(
            "INSERT OR IGNORE INTO data_set_content (id, content) VALUES (?1, ?2)",
            params![sha256, bytes],
        )?;
        let row = DataSetRow {
            id: sha256.clone(),
            kind: data_set.content.kind().key().to_owned(),
            source_file: data_set.name.clone(),
            unit: data_set.unit.clone(),
            crs: data_set.crs.clone(),
            count: data_set.content.count() as i64,
            note: data_set.note.clone(),
            created_at: time_text(self.log.now),
        };
        self.put_row(&row)?;
        let reach = data_set::bounds(&data_set.content);
        self.touched.note(DataSetRow::TABLE, reach);
        Ok(sha256)
    }

    deletions! {
        /// Deletes a zone.
        delete_zone(ZoneId) = Zone;
        /// Deletes a sub-area.
        delete_sub_area(SubAreaId) = SubArea;
        /// Deletes a landmark.
        delete_landmark(LandmarkId) = Landmark;
        /// Deletes a taxon nothing refers to.
        delete_taxon(TaxonId) = Taxon;
        /// Deletes a site nobody visited.
        delete_site(SiteId) = Site;
        /// Deletes a visit with its throws and observations.
        delete_visit(VisitId) = Visit;
        /// Deletes a surface bed.
        delete_bed(BedId) = Bed;
        /// Deletes a shoreline find.
        delete_shoreline_find(ShorelineFindId) = ShorelineFind;
        /// Deletes a photo's particulars.
        delete_photo(PhotoId) = Photo;
        /// Deletes a voucher.
        delete_voucher(VoucherId) = Voucher;
        /// Takes a picture away from under the lake; its bytes stay in the book.
        delete_background(Id) = Background;
        /// Deletes a treatment.
        delete_treatment(TreatmentId) = Treatment;
        /// Deletes a limit of the lake board.
        delete_board_limit(BoardLimitId) = BoardLimit;
        /// Opens a settled find again.
        delete_settlement(Id) = Settlement;
        /// Deletes a second entry once it is compared.
        delete_second_entry(Id) = SecondEntry;
    }

    /// Deletes a rating scale no survey uses.
    ///
    /// # Errors
    /// [`BookError::Unknown`].
    pub fn delete_scale(&mut self, key: &str) -> Result<(), BookError> {
        self.delete(Entity::Scale, key)
    }

    /// Deletes a data set; its content stays in the file so that the deletion can be taken back.
    ///
    /// # Errors
    /// [`BookError::Unknown`].
    pub fn delete_data_set(&mut self, sha256: &str) -> Result<(), BookError> {
        self.delete(Entity::DataSet, sha256)
    }

    /// Deletes a survey with its sites, visits, beds, finds, photos and vouchers.
    ///
    /// # Errors
    /// [`BookError::Unknown`], [`BookError::Sealed`]: a sealed survey is never deleted.
    pub fn delete_survey(&mut self, survey: SurveyId) -> Result<(), BookError> {
        let key = survey.to_string();
        if let Some(name) = self.sealed.get(&key) {
            return Err(BookError::Sealed { survey: name.clone(), what: "the survey".to_owned() });
        }
        for (entity, sql) in [
            (
                Entity::Photo,
                "SELECT id FROM photo WHERE survey_id = ?1 \
                 OR visit_id IN (SELECT id FROM visit WHERE survey_id = ?1)",
            ),
            (Entity::SheetScan, "SELECT id FROM sheet_scan WHERE survey_id = ?1"),
            (Entity::Route, "SELECT id FROM route WHERE survey_id = ?1"),
            (Entity::Settlement, "SELECT id FROM settled_find WHERE survey_id = ?1"),
            (Entity::SecondEntry, "SELECT id FROM second_entry WHERE survey_id = ?1"),
            (Entity::Voucher, "SELECT id FROM voucher WHERE survey_id = ?1"),
            (Entity::ShorelineFind, "SELECT id FROM shoreline_find WHERE survey_id = ?1"),
            (Entity::Bed, "SELECT id FROM surface_bed WHERE survey_id = ?1"),
            (Entity::Visit, "SELECT id FROM visit WHERE survey_id = ?1"),
            (Entity::Site, "SELECT id FROM site WHERE survey_id = ?1"),
        ] {
            let ids: Vec<String> = self
                .connection
                .prepare_cached(sql)?
                .query_map([&key], |row| row.get(0))?
                .collect::<Result<_, _>>()?;
            for id in ids {
                self.delete(entity, &id)?;
            }
        }
        self.delete(Entity::Survey, &key)
    }

    /// One record under its key, through the gate.
    pub(crate) fn put_row<R: Stored>(&mut self, row: &R) -> Result<(), BookError> {
        let key = row.key();
        if let Some((field, fault)) = row.fault() {
            return Err(BookError::refused(
                format!("{} `{key}`, field `{field}`: {fault}", R::ENTITY.words()),
                "check the file or the calculation it came from",
            ));
        }
        let standing = current(self.connection, R::ENTITY, &key)?;
        let body = serde_json::to_string(row)
            .map_err(|source| BookError::Body { event: key.clone(), source })?;
        if self.base == Base::Standing
            && standing
                .as_ref()
                .is_some_and(|event| event.operation == Operation::Put && event.body == body)
        {
            return Ok(());
        }
        let before: Option<R> = match &standing {
            Some(event) if event.operation == Operation::Put => Some(fold::read_body(event)?),
            _ => None,
        };
        self.guard(R::ENTITY, &key, before.as_ref(), Some(row))?;
        let event = self.append(R::ENTITY, key, Operation::Put, standing.as_ref(), body)?;
        if event.is_some() {
            self.rules.note(row);
            fold::put_row(self.connection, row, &mut self.touched)?;
        }
        Ok(())
    }

    pub(crate) fn delete(&mut self, entity: Entity, key: &str) -> Result<(), BookError> {
        let standing = current(self.connection, entity, key)?
            .filter(|event| event.operation == Operation::Put)
            .ok_or_else(|| BookError::Unknown { entity: entity.words(), id: key.to_owned() })?;
        fold::with_row!(entity, Row => {
            let before: Row = fold::read_body(&standing)?;
            self.guard(entity, key, Some(&before), None)?;
        }, otherwise {});
        let event = self.append(
            entity,
            key.to_owned(),
            Operation::Delete,
            Some(&standing),
            "null".to_owned(),
        )?;
        if event.is_some() {
            fold::delete_row(self.connection, entity, key, &mut self.touched)?;
        }
        Ok(())
    }

    /// Appends a put or deletion; none when it was kept beside as a conflict.
    fn append(
        &mut self,
        entity: Entity,
        key: String,
        operation: Operation,
        standing: Option<&Event>,
        body: String,
    ) -> Result<Option<Event>, BookError> {
        let version = standing.map(|event| event.id);
        let base = match std::mem::replace(&mut self.base, Base::Standing) {
            Base::Standing => version,
            Base::Seen(seen) => seen,
        };
        let event = self.log.append(entity, key, operation, base, body)?;
        if base == version {
            return Ok(Some(event));
        }
        if standing.is_some_and(|one| fold::says_the_same(one, event.operation, &event.body)) {
            // someone else made the same edit: there is nothing to choose between
            return Ok(None);
        }
        fold::keep_beside(self.connection, &event, version)?;
        self.conflicts += 1;
        Ok(None)
    }

    /// Lets nothing through to a sealed survey, an amendment of it excepted.
    fn guard<R: Stored>(
        &mut self,
        entity: Entity,
        key: &str,
        before: Option<&R>,
        after: Option<&R>,
    ) -> Result<(), BookError> {
        if self.sealed.is_empty() {
            return Ok(());
        }
        let reached = seal::reached(self.connection, entity, key, before, after)?;
        let sealed: BTreeSet<String> =
            reached.surveys.into_iter().filter(|survey| self.sealed.contains_key(survey)).collect();
        for survey in sealed {
            let Some(amending) = &mut self.amending else {
                return Err(BookError::Sealed {
                    survey: self.sealed[&survey].clone(),
                    what: format!("{} `{}`", entity.words(), reached.label),
                });
            };
            // an amendment of one survey reaches others only through what they share: a taxon
            if survey != amending.survey && !reached.shared {
                return Err(BookError::Sealed {
                    survey: self.sealed[&survey].clone(),
                    what: format!("{} `{}`", entity.words(), reached.label),
                });
            }
            if let Entry::Vacant(unread) = amending.before.entry(survey) {
                let sha256 = seal::checksum(self.connection, unread.key())?;
                unread.insert(sha256);
            }
        }
        Ok(())
    }
}

fn to_json<T: serde::Serialize>(body: &T, key: &str) -> Result<String, BookError> {
    serde_json::to_string(body).map_err(|source| BookError::Body { event: key.to_owned(), source })
}
