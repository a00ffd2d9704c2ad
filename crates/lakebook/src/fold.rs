//! The tables are the fold of the change log: applying an event, and folding all of them again.

use crate::entity::{Entity, Operation};
use crate::error::BookError;
use crate::event::{COLUMNS, Event, FOLD_ORDER};
use crate::gpb::Bounds;
use crate::rows::{Key, Stored, SurveyRow};
use rusqlite::{Connection, params};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, HashMap, HashSet};
use survey::EventId;

/// Runs a body with `$row` standing for the row struct of an entity.
macro_rules! with_row {
    ($entity:expr, $row:ident => $body:expr, otherwise $other:expr) => {{
        use $crate::entity::Entity as E;
        match $entity {
            E::Lake => {
                type $row = $crate::rows::LakeRow;
                $body
            }
            E::Outline => {
                type $row = $crate::rows::OutlineRow;
                $body
            }
            E::Taxon => {
                type $row = $crate::rows::TaxonRow;
                $body
            }
            E::Scale => {
                type $row = $crate::rows::ScaleRow;
                $body
            }
            E::Zone => {
                type $row = $crate::rows::ZoneRow;
                $body
            }
            E::SubArea => {
                type $row = $crate::rows::SubAreaRow;
                $body
            }
            E::Landmark => {
                type $row = $crate::rows::LandmarkRow;
                $body
            }
            E::Survey => {
                type $row = $crate::rows::SurveyRow;
                $body
            }
            E::Site => {
                type $row = $crate::rows::SiteRow;
                $body
            }
            E::Visit => {
                type $row = $crate::rows::VisitRow;
                $body
            }
            E::Bed => {
                type $row = $crate::rows::BedRow;
                $body
            }
            E::ShorelineFind => {
                type $row = $crate::rows::ShorelineFindRow;
                $body
            }
            E::Photo => {
                type $row = $crate::rows::PhotoRow;
                $body
            }
            E::Voucher => {
                type $row = $crate::rows::VoucherRow;
                $body
            }
            E::Background => {
                type $row = $crate::rows::BackgroundRow;
                $body
            }
            E::Treatment => {
                type $row = $crate::rows::TreatmentRow;
                $body
            }
            E::DataSet => {
                type $row = $crate::rows::DataSetRow;
                $body
            }
            E::Route => {
                type $row = $crate::rows::RouteRow;
                $body
            }
            E::PaperText => {
                type $row = $crate::rows::PaperTextRow;
                $body
            }
            E::SheetScan => {
                type $row = $crate::rows::SheetScanRow;
                $body
            }
            E::ColumnMap => {
                type $row = $crate::rows::ColumnMapRow;
                $body
            }
            E::BoardLimit => {
                type $row = $crate::rows::BoardLimitRow;
                $body
            }
            E::Settlement => {
                type $row = $crate::rows::SettledRow;
                $body
            }
            E::SecondEntry => {
                type $row = $crate::rows::SecondEntryRow;
                $body
            }
            E::Determination => {
                type $row = $crate::rows::DeterminationRow;
                $body
            }
            E::Conflict | E::Batch => $other,
        }
    }};
}
pub(crate) use with_row;

/// Which tables a save touched, and how far the new geometry reaches.
#[derive(Debug, Default)]
pub(crate) struct Touched(BTreeMap<&'static str, Option<Bounds>>);

impl Touched {
    pub(crate) fn note(&mut self, table: &'static str, bounds: Option<Bounds>) {
        let known = self.0.entry(table).or_default();
        *known = match (*known, bounds) {
            (Some(a), Some(b)) => {
                Some([a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])])
            }
            (known, new) => known.or(new),
        };
    }

    /// Tells GIS programs when each layer last changed and how far it reaches.
    pub(crate) fn write(&self, connection: &Connection, at: &str) -> rusqlite::Result<()> {
        let mut time = connection
            .prepare_cached("UPDATE gpkg_contents SET last_change = ?2 WHERE table_name = ?1")?;
        let mut reach = connection.prepare_cached(
            "UPDATE gpkg_contents SET min_x = min(coalesce(min_x, ?2), ?2), \
             min_y = min(coalesce(min_y, ?3), ?3), max_x = max(coalesce(max_x, ?4), ?4), \
             max_y = max(coalesce(max_y, ?5), ?5) WHERE table_name = ?1",
        )?;
        for (table, bounds) in &self.0 {
            let names: &[&str] = match *table {
                "site" => &["site", "site_result"],
                "data_set" => &["data_set", "sounding", "depth_contour"],
                other => &[other],
            };
            for name in names {
                time.execute(params![name, at])?;
                if let Some([west, south, east, north]) = bounds {
                    reach.execute(params![name, west, south, east, north])?;
                }
            }
        }
        Ok(())
    }
}

/// The body of a seal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct SealBody {
    pub(crate) by: String,
    pub(crate) at: String,
    pub(crate) sha256: String,
}

/// The body of an amendment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct AmendBody {
    pub(crate) by: String,
    pub(crate) why: String,
    pub(crate) at: String,
    pub(crate) sha256_before: String,
    pub(crate) sha256_after: String,
}

pub(crate) fn read_body<T: serde::de::DeserializeOwned>(event: &Event) -> Result<T, BookError> {
    serde_json::from_str(&event.body)
        .map_err(|source| BookError::Body { event: event.id.to_string(), source })
}

/// Puts a row under its key.
pub(crate) fn put_row<R: Stored>(
    connection: &Connection,
    row: &R,
    touched: &mut Touched,
) -> Result<(), BookError> {
    row.upsert(connection)?;
    touched.note(R::TABLE, row.bounds());
    Ok(())
}

/// Takes a row away; rows below it go with it.
pub(crate) fn delete_row(
    connection: &Connection,
    entity: Entity,
    key: &str,
    touched: &mut Touched,
) -> Result<(), BookError> {
    if entity == Entity::DataSet {
        for layer in ["sounding", "depth_contour"] {
            connection
                .prepare_cached(&format!("DELETE FROM {layer} WHERE data_set_id = ?1"))?
                .execute([key])?;
        }
    }
    if let Some(table) = entity.table() {
        connection.prepare_cached(&format!("DELETE FROM {table} WHERE id = ?1"))?.execute([key])?;
        touched.note(table, None);
    }
    Ok(())
}

/// Keeps an event beside the version that stood when it came.
pub(crate) fn keep_beside(
    connection: &Connection,
    event: &Event,
    current: Option<EventId>,
) -> Result<(), BookError> {
    connection
        .prepare_cached(
            "INSERT INTO conflict (id, entity, entity_id, current_version) \
             VALUES (?1, ?2, ?3, ?4)",
        )?
        .execute(params![
            event.id.to_string(),
            event.entity,
            event.entity_id,
            current.map(|version| version.to_string())
        ])?;
    Ok(())
}

pub(crate) fn apply_seal(
    connection: &Connection,
    survey: &str,
    seal: &SealBody,
    touched: &mut Touched,
) -> Result<(), BookError> {
    connection
        .prepare_cached(
            "UPDATE survey SET seal_by = ?2, seal_at = ?3, seal_sha256 = ?4 WHERE id = ?1",
        )?
        .execute(params![survey, seal.by, seal.at, seal.sha256])?;
    touched.note(SurveyRow::TABLE, None);
    Ok(())
}

pub(crate) fn apply_amendment(
    connection: &Connection,
    event: &Event,
    body: &AmendBody,
    touched: &mut Touched,
) -> Result<(), BookError> {
    connection
        .prepare_cached("UPDATE survey SET seal_sha256 = ?2 WHERE id = ?1")?
        .execute(params![event.entity_id, body.sha256_after])?;
    insert_amendment(connection, &event.id.to_string(), &event.entity_id, body)?;
    touched.note("amendment", None);
    Ok(())
}

fn insert_amendment(
    connection: &Connection,
    event: &str,
    survey: &str,
    body: &AmendBody,
) -> Result<(), BookError> {
    connection
        .prepare_cached(
            "INSERT INTO amendment (id, survey_id, amended_by, why, amended_at, sha256_before, \
             sha256_after) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        )?
        .execute(params![
            event,
            survey,
            body.by,
            body.why,
            body.at,
            body.sha256_before,
            body.sha256_after
        ])?;
    Ok(())
}

pub(crate) fn apply_settled(connection: &Connection, conflict: &str) -> Result<(), BookError> {
    connection.execute("UPDATE conflict SET settled = 1 WHERE id = ?1", [conflict])?;
    Ok(())
}

/// Versions of records as a fold goes along.
#[derive(Debug, Default)]
struct Versions {
    current: HashMap<(Entity, String), EventId>,
    /// Events that say what stood already, with the event they repeat.
    same: HashMap<EventId, EventId>,
}

impl Versions {
    /// True when the event is made from the current version, which it then replaces; false when it
    /// says what stands already. Else the current version, beside which it is kept.
    fn take(
        &mut self,
        connection: &Connection,
        event: &Event,
    ) -> Result<Result<bool, Option<EventId>>, BookError> {
        let slot = (event.entity, event.entity_id.clone());
        let current = self.current.get(&slot).copied();
        let base = event.base_version.map(|base| self.same.get(&base).copied().unwrap_or(base));
        // what the columns of a file meant is no statement about the lake: the later one stands
        if current == base || event.entity == Entity::ColumnMap {
            self.current.insert(slot, event.id);
            return Ok(Ok(true));
        }
        if let Some(id) = current
            && says_the_same(&crate::event::by_id(connection, id)?, event.operation, &event.body)
        {
            self.same.insert(event.id, id);
            return Ok(Ok(false));
        }
        Ok(Err(current))
    }
}

/// True for an edit that leaves a record as another edit left it.
pub(crate) fn says_the_same(standing: &Event, operation: Operation, body: &str) -> bool {
    standing.operation == operation && standing.body == body
}

/// Hands every event to a function, in the order of the fold.
pub(crate) fn each_event(
    connection: &Connection,
    mut visit: impl FnMut(Event) -> Result<(), BookError>,
) -> Result<(), BookError> {
    let mut statement =
        connection.prepare(&format!("SELECT {COLUMNS} FROM change_log {FOLD_ORDER}"))?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        visit(Event::from_row(row)?)?;
    }
    Ok(())
}

/// Empties every folded table and folds the log again, inside the caller's transaction.
pub(crate) fn refold(connection: &Connection, at: &str) -> Result<(), BookError> {
    for migration in crate::schema::MIGRATIONS {
        for (table, _) in migration.watched.iter().rev() {
            connection.execute(&format!("DELETE FROM {table}"), [])?;
        }
    }
    let mut touched = Touched::default();
    apply(connection, &LogState::default(), &LogState::read(connection)?, &mut touched)?;
    connection.execute("DELETE FROM edited_elsewhere", [])?;
    touched.write(connection, at)?;
    Ok(())
}

/// Brings the tables from one state of the log to another.
pub(crate) fn apply(
    connection: &Connection,
    before: &LogState,
    after: &LogState,
    touched: &mut Touched,
) -> Result<(), BookError> {
    for (entity, key) in before.living.keys() {
        if !after.living.contains_key(&(*entity, key.clone())) {
            delete_row(connection, *entity, key, touched)?;
        }
    }
    for (slot, event) in &after.living {
        if before.living.get(slot).is_some_and(|one| one.body == event.body) {
            continue;
        }
        with_row!(event.entity, Row => {
            let row: Row = read_body(event)?;
            put_row(connection, &row, touched)?;
        }, otherwise {});
    }
    for survey in before.seals.keys().filter(|survey| !after.seals.contains_key(*survey)) {
        connection.execute(
            "UPDATE survey SET seal_by = NULL, seal_at = NULL, seal_sha256 = NULL WHERE id = ?1",
            [survey],
        )?;
        touched.note(SurveyRow::TABLE, None);
    }
    for (survey, seal) in &after.seals {
        if before.seals.get(survey) != Some(seal) {
            apply_seal(connection, survey, seal, touched)?;
        }
    }
    if before.amendments != after.amendments {
        connection.execute("DELETE FROM amendment", [])?;
        for (event, (survey, body)) in &after.amendments {
            insert_amendment(connection, &event.to_string(), survey, body)?;
        }
        touched.note("amendment", None);
    }
    if before.conflicts != after.conflicts {
        connection.execute("DELETE FROM conflict", [])?;
        let mut insert = connection.prepare_cached(
            "INSERT INTO conflict (id, entity, entity_id, current_version, settled) \
             VALUES (?1, ?2, ?3, ?4, ?5)",
        )?;
        for (event, settled) in &after.conflicts {
            let Some((entity, key, current)) = after.beside.get(event) else { continue };
            let current = current.map(|version| version.to_string());
            insert.execute(params![event, entity, key, current, settled])?;
        }
        touched.note("conflict", None);
    }
    Ok(())
}

/// What the log says each living record is: its event and its body.
pub(crate) type Living = BTreeMap<(Entity, String), Event>;

/// What is living, sealed, amended and in conflict by the log alone.
#[derive(Debug, Default)]
pub(crate) struct LogState {
    pub(crate) living: Living,
    /// By survey: who, when, checksum as it now must be.
    pub(crate) seals: BTreeMap<String, SealBody>,
    /// By event: survey and amendment.
    pub(crate) amendments: BTreeMap<Key, (String, AmendBody)>,
    /// By event: whether settled.
    pub(crate) conflicts: BTreeMap<Key, bool>,
    /// By event kept beside: its record, and what stood when it came.
    pub(crate) beside: BTreeMap<Key, (Entity, String, Option<EventId>)>,
}

/// Events a merge put aside: edits of one copy to what the other had sealed, and the like.
fn set_aside(connection: &Connection) -> Result<HashSet<String>, BookError> {
    Ok(connection
        .prepare_cached(
            "SELECT entity_id FROM change_log WHERE entity = 'conflict' AND operation = 'put'",
        )?
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?)
}

impl LogState {
    pub(crate) fn read(connection: &Connection) -> Result<Self, BookError> {
        let (mut state, mut versions) = (Self::default(), Versions::default());
        let set_aside = set_aside(connection)?;
        each_event(connection, |event| {
            if event.entity == Entity::Conflict && event.operation == Operation::Put {
                return Ok(());
            }
            if !set_aside.is_empty() && set_aside.contains(&event.id.to_string()) {
                let slot = (event.entity, event.entity_id.clone());
                let current = versions.current.get(&slot).copied();
                state.keep_beside(&event, current);
                return Ok(());
            }
            state.take(connection, event, &mut versions)
        })?;
        Ok(state)
    }

    fn keep_beside(&mut self, event: &Event, current: Option<EventId>) {
        let key = Key(event.id.0);
        self.conflicts.insert(key, false);
        self.beside.insert(key, (event.entity, event.entity_id.clone(), current));
    }

    fn take(
        &mut self,
        connection: &Connection,
        event: Event,
        versions: &mut Versions,
    ) -> Result<(), BookError> {
        match event.operation {
            Operation::Put | Operation::Delete => {
                let deleted = event.operation == Operation::Delete;
                match versions.take(connection, &event)? {
                    Err(current) => self.keep_beside(&event, current),
                    Ok(false) => {}
                    Ok(true) if deleted => {
                        self.living.remove(&(event.entity, event.entity_id));
                    }
                    Ok(true) => {
                        self.living.insert((event.entity, event.entity_id.clone()), event);
                    }
                }
            }
            Operation::Seal => {
                self.seals.insert(event.entity_id.clone(), read_body(&event)?);
            }
            Operation::Amend => {
                let body: AmendBody = read_body(&event)?;
                if let Some(seal) = self.seals.get_mut(&event.entity_id) {
                    seal.sha256.clone_from(&body.sha256_after);
                }
                self.amendments.insert(Key(event.id.0), (event.entity_id, body));
            }
            Operation::Settle => {
                if let Ok(id) = event.entity_id.parse() {
                    self.conflicts.insert(Key(id), true);
                }
            }
            Operation::Undo => {}
        }
        Ok(())
    }
}
