//! Is the book what its log says it is? Seals, the log's chain, its numbers, the tables.

use crate::canonical::sha256_hex;
use crate::data_set::{DataSetContent, DataSetKind, LARGEST_LAYER, decode};
use crate::entity::Entity;
use crate::error::BookError;
use crate::event::{COLUMNS, Event, NO_CHAIN};
use crate::fold::{self, AmendBody, LogState, SealBody};
use crate::gpb::{geometry_of, point_of};
use crate::rows::{DataSetRow, Key, Stored};
use crate::seal;
use rusqlite::Connection;
use serde_json::Value;
use std::collections::BTreeMap;

/// What `verify` came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verification {
    /// Sealed surveys checked.
    pub sealed: usize,
    /// True when nothing is broken.
    pub ok: bool,
    /// Everything that is.
    pub broken: Vec<Broken>,
}

/// One thing that is not as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Broken {
    /// What was checked, e.g. `seal`.
    pub what: String,
    /// Where: a survey, an event, a record.
    pub place: String,
    /// The record and its field, when it is about one.
    pub record: Option<(Entity, String, Option<String>)>,
    /// What should be there.
    pub expected: String,
    /// What is there.
    pub found: String,
}

/// A record whose table row is not what the log says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Kind of record.
    pub entity: Entity,
    /// Its key.
    pub id: String,
    /// The field; none when the whole record is missing or was added.
    pub field: Option<String>,
    /// What the log says; none when the log does not know the record.
    pub in_log: Option<String>,
    /// What the table says; none when the record is not in the table.
    pub in_table: Option<String>,
}

/// How much of a value is shown.
const SHOWN: usize = 80;

fn shown(value: &Value) -> String {
    let text = match value {
        Value::Null => "nothing".to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    if text.chars().count() > SHOWN {
        let start: String = text.chars().take(SHOWN).collect();
        // what differs may lie behind the cut: its checksum tells the two apart
        format!("{start}… (SHA-256 {})", &sha256_hex(text.as_bytes())[..12])
    } else {
        text
    }
}

/// Every seal, the chain, the numbers, the tables.
pub(crate) fn verify(connection: &Connection) -> Result<Verification, BookError> {
    let mut broken = Vec::new();
    chain(connection, &mut broken)?;
    let mut sealed = 0;
    match LogState::read(connection) {
        Ok(state) => {
            sealed = seals(connection, &state, &mut broken)?;
            for one in differences(connection, &state)? {
                broken.push(Broken {
                    what: "record".to_owned(),
                    place: place(&one),
                    record: Some((one.entity, one.id.clone(), one.field.clone())),
                    expected: one.in_log.unwrap_or_else(|| "nothing".to_owned()),
                    found: one.in_table.unwrap_or_else(|| "nothing".to_owned()),
                });
            }
            data_sets(connection, &mut broken)?;
            pictures(connection, &mut broken)?;
        }
        Err(error @ BookError::Body { .. }) => broken.push(Broken {
            what: "change log".to_owned(),
            place: "body of an event".to_owned(),
            record: None,
            expected: "a record".to_owned(),
            found: error.to_string(),
        }),
        Err(error) => return Err(error),
    }
    Ok(Verification { sealed, ok: broken.is_empty(), broken })
}

fn place(difference: &Difference) -> String {
    let field =
        difference.field.as_ref().map_or_else(String::new, |field| format!(", field `{field}`"));
    format!("{} `{}`{field}", difference.entity.words(), difference.id)
}

/// What is wrong with a log by itself, before anything of it is believed.
pub(crate) fn broken_chain(connection: &Connection) -> Result<Vec<Broken>, BookError> {
    let mut broken = Vec::new();
    chain(connection, &mut broken)?;
    Ok(broken)
}

/// Each device's events: numbered without a gap, each chained to the one before.
fn chain(connection: &Connection, broken: &mut Vec<Broken>) -> Result<(), BookError> {
    let mut statement = connection
        .prepare(&format!("SELECT {COLUMNS} FROM change_log ORDER BY device, device_seq"))?;
    let mut rows = statement.query([])?;
    let mut last: Option<(String, u64, String)> = None;
    while let Some(row) = rows.next()? {
        let event = match Event::from_row(row) {
            Ok(event) => event,
            Err(error) => {
                broken.push(Broken {
                    what: "change log".to_owned(),
                    place: format!("event {}", row.get::<_, i64>(2).unwrap_or_default()),
                    record: None,
                    expected: "an event as it was written".to_owned(),
                    found: error.to_string(),
                });
                last = None;
                continue;
            }
        };
        let (number, before) = match &last {
            Some((device, number, chain)) if *device == event.device => (*number, chain.as_str()),
            _ => (0, NO_CHAIN),
        };
        let place = format!("event {} of device `{}`", event.device_seq, event.device);
        if event.device_seq == number + 1 {
            let expected = event.chained(before)?;
            if expected != event.chain {
                broken.push(Broken {
                    what: "change log".to_owned(),
                    place,
                    record: None,
                    expected,
                    found: event.chain.clone(),
                });
            }
        } else {
            broken.push(Broken {
                what: "change log".to_owned(),
                place,
                record: None,
                expected: format!("event {}", number + 1),
                found: format!("event {}", event.device_seq),
            });
        }
        last = Some((event.device, event.device_seq, event.chain));
    }
    Ok(())
}

fn seals(
    connection: &Connection,
    state: &LogState,
    broken: &mut Vec<Broken>,
) -> Result<usize, BookError> {
    for (survey, seal) in &state.seals {
        let name: String = state
            .living
            .get(&(Entity::Survey, survey.clone()))
            .and_then(|event| serde_json::from_str::<Value>(&event.body).ok())
            .and_then(|body| body.get("name").and_then(Value::as_str).map(str::to_owned))
            .unwrap_or_else(|| survey.clone());
        let found = match seal::checksum(connection, survey) {
            Ok(found) => found,
            Err(error @ (BookError::Row { .. } | BookError::Unknown { .. })) => error.to_string(),
            Err(error) => return Err(error),
        };
        if found != seal.sha256 {
            broken.push(Broken {
                what: "seal".to_owned(),
                place: format!("survey `{name}`"),
                record: None,
                expected: seal.sha256.clone(),
                found,
            });
        }
    }
    Ok(state.seals.len())
}

/// Each amendment starts from the checksum the one before left.
fn amendments_in_order(state: &LogState) -> BTreeMap<&str, Vec<&AmendBody>> {
    let mut by_survey: BTreeMap<&str, Vec<&AmendBody>> = BTreeMap::new();
    for (survey, body) in state.amendments.values() {
        by_survey.entry(survey).or_default().push(body);
    }
    by_survey
}

fn data_sets(connection: &Connection, broken: &mut Vec<Broken>) -> Result<(), BookError> {
    let mut statement = connection.prepare(
        "SELECT data_set.id, data_set.source_file, content FROM data_set \
         LEFT JOIN data_set_content ON data_set_content.id = data_set.id",
    )?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (expected, name): (String, String) = (row.get(0)?, row.get(1)?);
        let content = row.get_ref(2)?.as_blob_or_null().unwrap_or_default();
        let found = content.map_or_else(|| "nothing".to_owned(), sha256_hex);
        if found != expected {
            broken.push(Broken {
                what: "data set".to_owned(),
                place: format!("data set `{name}`"),
                record: None,
                expected,
                found,
            });
        }
    }
    Ok(())
}

/// Each picture the book keeps against its checksum. A photo named only, without its picture, is
/// no fault.
fn pictures(connection: &Connection, broken: &mut Vec<Broken>) -> Result<(), BookError> {
    let mut statement = connection.prepare(
        "SELECT photo_content.id, content, photo.file_name FROM photo_content \
         LEFT JOIN photo ON photo.sha256 = photo_content.id GROUP BY photo_content.id",
    )?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (expected, name): (String, Option<String>) = (row.get(0)?, row.get(2)?);
        let found = sha256_hex(row.get_ref(1)?.as_blob().unwrap_or_default());
        if found != expected {
            broken.push(Broken {
                what: "picture".to_owned(),
                place: format!("photo `{}`", name.unwrap_or_else(|| "deleted".to_owned())),
                record: None,
                expected,
                found,
            });
        }
    }
    Ok(())
}

/// Every record whose row is not what the log says, and every row the log does not know.
pub(crate) fn differences(
    connection: &Connection,
    state: &LogState,
) -> Result<Vec<Difference>, BookError> {
    let mut found = Vec::new();
    for entity in Entity::ALL {
        fold::with_row!(entity, Row => {
            compare::<Row>(connection, state, &mut found)?;
        }, otherwise {});
    }
    compare_seals(connection, state, &mut found)?;
    compare_amendments(connection, state, &mut found)?;
    compare_conflicts(connection, state, &mut found)?;
    compare_layers(connection, &mut found)?;
    compare_strays(connection, &mut found)?;
    Ok(found)
}

fn compare<R: Stored>(
    connection: &Connection,
    state: &LogState,
    found: &mut Vec<Difference>,
) -> Result<(), BookError> {
    let rows = match R::all(connection) {
        Ok(rows) => rows,
        Err(BookError::Row { id, field, found: in_table, expected, .. }) => {
            found.push(Difference {
                entity: R::ENTITY,
                id,
                field: Some(field.to_owned()),
                in_log: Some(expected),
                in_table: Some(in_table),
            });
            return Ok(());
        }
        Err(error) => return Err(error),
    };
    let mut in_table: BTreeMap<String, R> = rows.into_iter().map(|row| (row.key(), row)).collect();
    let first = (R::ENTITY, String::new());
    for ((_, key), event) in
        state.living.range(first..).take_while(|((entity, _), _)| *entity == R::ENTITY)
    {
        let in_log: R = fold::read_body(event)?;
        match in_table.remove(key) {
            None => found.push(Difference {
                entity: R::ENTITY,
                id: key.clone(),
                field: None,
                in_log: Some(shown(&json_of(&in_log))),
                in_table: None,
            }),
            Some(row) if row == in_log => {}
            Some(row) => fields(R::ENTITY, key, &json_of(&in_log), &json_of(&row), found),
        }
    }
    for (key, row) in in_table {
        found.push(Difference {
            entity: R::ENTITY,
            id: key,
            field: None,
            in_log: None,
            in_table: Some(shown(&json_of(&row))),
        });
    }
    Ok(())
}

fn json_of<T: serde::Serialize>(row: &T) -> Value {
    serde_json::to_value(row).unwrap_or(Value::Null)
}

fn fields(entity: Entity, key: &str, log: &Value, table: &Value, found: &mut Vec<Difference>) {
    let (Value::Object(log), Value::Object(table)) = (log, table) else { return };
    for (field, in_log) in log {
        let in_table = table.get(field).unwrap_or(&Value::Null);
        if in_log != in_table {
            found.push(Difference {
                entity,
                id: key.to_owned(),
                field: Some(field.clone()),
                in_log: Some(shown(in_log)),
                in_table: Some(shown(in_table)),
            });
        }
    }
}

fn compare_seals(
    connection: &Connection,
    state: &LogState,
    found: &mut Vec<Difference>,
) -> Result<(), BookError> {
    let mut statement =
        connection.prepare("SELECT id, seal_by, seal_at, seal_sha256 FROM survey ORDER BY id")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let survey: String = row.get(0)?;
        let in_table: [Option<String>; 3] = [row.get(1)?, row.get(2)?, row.get(3)?];
        let in_log = match state.seals.get(&survey) {
            Some(SealBody { by, at, sha256 }) => {
                [Some(by.clone()), Some(at.clone()), Some(sha256.clone())]
            }
            None => [None, None, None],
        };
        for (field, (log, table)) in
            ["seal_by", "seal_at", "seal_sha256"].iter().zip(in_log.into_iter().zip(in_table))
        {
            if log != table {
                found.push(Difference {
                    entity: Entity::Survey,
                    id: survey.clone(),
                    field: Some((*field).to_owned()),
                    in_log: Some(log.unwrap_or_else(|| "nothing".to_owned())),
                    in_table: Some(table.unwrap_or_else(|| "nothing".to_owned())),
                });
            }
        }
    }
    Ok(())
}

fn compare_amendments(
    connection: &Connection,
    state: &LogState,
    found: &mut Vec<Difference>,
) -> Result<(), BookError> {
    let mut statement = connection.prepare(
        "SELECT id, survey_id, amended_by, why, amended_at, sha256_before, sha256_after \
         FROM amendment",
    )?;
    let in_table: BTreeMap<Key, (String, AmendBody)> = statement
        .query_map([], |row| {
            Ok((
                row.get(0)?,
                (
                    row.get(1)?,
                    AmendBody {
                        by: row.get(2)?,
                        why: row.get(3)?,
                        at: row.get(4)?,
                        sha256_before: row.get(5)?,
                        sha256_after: row.get(6)?,
                    },
                ),
            ))
        })?
        .collect::<Result<_, _>>()?;
    side_by_side(&state.amendments, &in_table, "amendment", found);
    for (survey, bodies) in amendments_in_order(state) {
        for pair in bodies.windows(2) {
            if pair[0].sha256_after != pair[1].sha256_before {
                found.push(Difference {
                    entity: Entity::Survey,
                    id: survey.to_owned(),
                    field: Some("amendment".to_owned()),
                    in_log: Some(pair[0].sha256_after.clone()),
                    in_table: Some(pair[1].sha256_before.clone()),
                });
            }
        }
    }
    Ok(())
}

fn compare_conflicts(
    connection: &Connection,
    state: &LogState,
    found: &mut Vec<Difference>,
) -> Result<(), BookError> {
    let in_table: BTreeMap<Key, bool> = connection
        .prepare("SELECT id, settled FROM conflict")?
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?;
    side_by_side(&state.conflicts, &in_table, "conflict", found);
    Ok(())
}

fn side_by_side<T: PartialEq + std::fmt::Debug>(
    log: &BTreeMap<Key, T>,
    table: &BTreeMap<Key, T>,
    field: &str,
    found: &mut Vec<Difference>,
) {
    let keys: std::collections::BTreeSet<&Key> = log.keys().chain(table.keys()).collect();
    for key in keys {
        let (in_log, in_table) = (log.get(key), table.get(key));
        if in_log != in_table {
            let text = |value: Option<&T>| value.map(|value| format!("{value:?}"));
            found.push(Difference {
                entity: Entity::Conflict,
                id: key.to_string(),
                field: Some(field.to_owned()),
                in_log: text(in_log),
                in_table: text(in_table),
            });
        }
    }
}

/// The layers of soundings and contours against the content they were drawn from.
fn compare_layers(connection: &Connection, found: &mut Vec<Difference>) -> Result<(), BookError> {
    for set in DataSetRow::all(connection)? {
        let Some(kind) = DataSetKind::from_key(&set.kind) else { continue };
        let content: Option<Vec<u8>> = connection
            .prepare_cached("SELECT content FROM data_set_content WHERE id = ?1")?
            .query_map([&set.id], |row| row.get(0))?
            .next()
            .transpose()?;
        let Some(content) = content else { continue };
        let same = match decode(&set.id, kind, content) {
            Ok(DataSetContent::Soundings(points)) if points.len() <= LARGEST_LAYER => {
                let mut statement = connection.prepare_cached(
                    "SELECT geom, depth_m FROM sounding WHERE data_set_id = ?1 ORDER BY fid",
                )?;
                let rows: Vec<(f64, f64, f64)> = statement
                    .query_map([&set.id], |row| {
                        let (x, y) = row
                            .get_ref(0)?
                            .as_blob()
                            .ok()
                            .and_then(|blob| point_of(blob).ok())
                            .unwrap_or((f64::NAN, f64::NAN));
                        Ok((x, y, row.get(1)?))
                    })?
                    .collect::<Result<_, _>>()?;
                rows == points
            }
            Ok(DataSetContent::Contours(contours)) => {
                let mut statement = connection.prepare_cached(
                    "SELECT geom, depth_m FROM depth_contour WHERE data_set_id = ?1 ORDER BY fid",
                )?;
                let rows: Vec<(Option<geo_types::Geometry<f64>>, f64)> = statement
                    .query_map([&set.id], |row| {
                        let geometry =
                            row.get_ref(0)?.as_blob().ok().and_then(|blob| geometry_of(blob).ok());
                        Ok((geometry, row.get(1)?))
                    })?
                    .collect::<Result<_, _>>()?;
                rows.len() == contours.len()
                    && rows.iter().zip(&contours).all(|(row, kept)| {
                        row.0.as_ref() == Some(&kept.0) && row.1.to_bits() == kept.1.to_bits()
                    })
            }
            // the content itself is checked against its name
            Ok(DataSetContent::Soundings(_) | DataSetContent::Raster(_)) | Err(_) => true,
        };
        if !same {
            found.push(Difference {
                entity: Entity::DataSet,
                id: set.id.clone(),
                field: Some("layer".to_owned()),
                in_log: Some(format!("{} as brought in from `{}`", set.kind, set.source_file)),
                in_table: Some("edited".to_owned()),
            });
        }
    }
    Ok(())
}

/// Rows below a record that is not there.
fn compare_strays(connection: &Connection, found: &mut Vec<Difference>) -> Result<(), BookError> {
    for (entity, table, column, parent) in [
        (Entity::Visit, "throw", "visit_id", "visit"),
        (Entity::Visit, "observation", "visit_id", "visit"),
        (Entity::Scale, "rating_step", "scale_id", "rating_scale"),
        (Entity::DataSet, "sounding", "data_set_id", "data_set"),
        (Entity::DataSet, "depth_contour", "data_set_id", "data_set"),
    ] {
        let mut statement = connection.prepare(&format!(
            "SELECT DISTINCT {column} FROM {table} WHERE {column} NOT IN (SELECT id FROM {parent})"
        ))?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            found.push(Difference {
                entity,
                id: row.get(0)?,
                field: Some(table.to_owned()),
                in_log: None,
                in_table: Some(format!("rows of a {parent} that is not there")),
            });
        }
    }
    Ok(())
}
