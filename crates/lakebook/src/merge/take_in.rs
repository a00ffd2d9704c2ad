//! The events of another copy, appended to this one's log.

use crate::error::BookError;
use crate::event::{COLUMNS, Event, NO_CHAIN, insert_event};
use crate::rows::Key;
use rusqlite::{Connection, params};
use std::collections::{BTreeSet, HashMap};

/// Keys of every event of a log.
pub(super) fn ids(connection: &Connection) -> Result<BTreeSet<String>, BookError> {
    Ok(connection
        .prepare("SELECT id FROM change_log")?
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?)
}

/// The end of a device's log.
#[derive(Debug, Clone)]
struct End {
    number: u64,
    chain: String,
}

/// Appends every event the other log has and this one has not, and gives them.
///
/// A device's log may have forked: a copy was restored, or one file was edited in two places under
/// one name. Then the other's branch goes on under a name of its own, made from its first event, so
/// that it is the same whenever it is met again.
pub(super) fn take_in(
    connection: &Connection,
    other: &Connection,
) -> Result<Vec<Event>, BookError> {
    let mut places: HashMap<String, (String, u64)> = HashMap::new();
    let mut ends: HashMap<String, End> = HashMap::new();
    let mut statement = connection.prepare(
        "SELECT id, device, device_seq, chain FROM change_log ORDER BY device, device_seq",
    )?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (id, device, number): (String, String, i64) = (row.get(0)?, row.get(1)?, row.get(2)?);
        ends.insert(device.clone(), End { number: number as u64, chain: row.get(3)? });
        places.insert(id, (device, number as u64));
    }
    let mut taken = Vec::new();
    let mut statement =
        other.prepare(&format!("SELECT {COLUMNS} FROM change_log ORDER BY device, device_seq"))?;
    let mut rows = statement.query([])?;
    // of the device being read: its name, the chain before the next event, the branch if any
    let mut device = String::new();
    let mut before = NO_CHAIN.to_owned();
    let mut branch: Option<String> = None;
    let mut batches: HashMap<u64, u64> = HashMap::new();
    while let Some(row) = rows.next()? {
        let event = Event::from_row(row)?;
        if event.device != device {
            device.clone_from(&event.device);
            NO_CHAIN.clone_into(&mut before);
            branch = None;
            batches.clear();
        }
        let chain = event.chain.clone();
        let place = places.get(&event.id.to_string());
        let same_place = place
            .is_some_and(|(device, number)| *device == event.device && *number == event.device_seq);
        if !same_place && branch.is_none() {
            let end = ends.get(&event.device);
            let follows = match end {
                Some(end) => end.number + 1 == event.device_seq && end.chain == before,
                None => event.device_seq == 1,
            };
            if !follows || place.is_some() {
                let bits = event.id.0.bits() as u32;
                branch = Some(format!("{}/{bits:08x}", event.device));
            }
        }
        if place.is_none() {
            let appended = match &branch {
                None => event,
                Some(name) => on_branch(event, name, &ends, &mut batches)?,
            };
            ends.insert(
                appended.device.clone(),
                End { number: appended.device_seq, chain: appended.chain.clone() },
            );
            insert_event(connection, &appended)?;
            taken.push(appended);
        }
        before = chain;
    }
    Ok(taken)
}

fn on_branch(
    mut event: Event,
    name: &str,
    ends: &HashMap<String, End>,
    batches: &mut HashMap<u64, u64>,
) -> Result<Event, BookError> {
    let end = ends.get(name);
    name.clone_into(&mut event.device);
    event.device_seq = end.map_or(1, |end| end.number + 1);
    event.batch = *batches.entry(event.batch).or_insert(event.device_seq);
    event.chain = event.chained(end.map_or(NO_CHAIN, |end| &end.chain))?;
    Ok(event)
}

/// Bulk data and pictures the other copy holds and this one does not.
pub(super) fn contents(connection: &Connection, other: &Connection) -> Result<(), BookError> {
    for table in ["data_set_content", "photo_content"] {
        let mut insert = connection
            .prepare(&format!("INSERT OR IGNORE INTO {table} (id, content) VALUES (?1, ?2)"))?;
        let mut known =
            connection.prepare(&format!("SELECT EXISTS (SELECT 1 FROM {table} WHERE id = ?1)"))?;
        let mut names = other.prepare(&format!("SELECT id FROM {table}"))?;
        let names: Vec<String> =
            names.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
        for name in names {
            if known.query_row([&name], |row| row.get::<_, bool>(0))? {
                continue;
            }
            let content: Vec<u8> = other.query_row(
                &format!("SELECT content FROM {table} WHERE id = ?1"),
                [&name],
                |row| row.get(0),
            )?;
            insert.execute(params![name, content])?;
        }
    }
    Ok(())
}

/// The survey an event is about, from its body or from what it deletes.
pub(super) fn field_of(
    connection: &Connection,
    event: &Event,
    field: &str,
) -> Result<Option<Key>, BookError> {
    let read = |body: &str| -> Option<Key> {
        let body: serde_json::Value = serde_json::from_str(body).ok()?;
        body.get(field)?.as_str()?.parse().ok().map(Key)
    };
    if let Some(found) = read(&event.body) {
        return Ok(Some(found));
    }
    let Some(base) = event.base_version else { return Ok(None) };
    let body: Option<String> = rusqlite::OptionalExtension::optional(connection.query_row(
        "SELECT body FROM change_log WHERE id = ?1",
        [base.to_string()],
        |row| row.get(0),
    ))?;
    Ok(body.as_deref().and_then(read))
}
