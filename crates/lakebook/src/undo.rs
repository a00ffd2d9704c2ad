//! Taking back a save, and taking over what another program did: both are new events.

use crate::entity::{Entity, Operation};
use crate::error::BookError;
use crate::event::{COLUMNS, Event, by_id, current};
use crate::fold;
use crate::rows::Stored;
use crate::write::Writer;
use rusqlite::{Connection, OptionalExtension, params};
use std::collections::BTreeMap;

/// The events of the last save that can be taken back, in the order written. Saves that were
/// taken back, and the takings-back themselves, are passed over; the first save of a book made it.
pub(crate) fn last_batch(connection: &Connection) -> Result<Option<Vec<Event>>, BookError> {
    let batch: Option<(String, i64)> = connection
        .prepare_cached(
            "SELECT device, batch FROM change_log AS first WHERE device_seq = batch \
             AND clock > (SELECT min(clock) FROM change_log) \
             AND NOT EXISTS (SELECT 1 FROM change_log AS undone \
                             WHERE undone.entity_id = first.id AND undone.entity = 'save') \
             AND entity <> 'save' ORDER BY clock DESC LIMIT 1",
        )?
        .query_row([], |row| Ok((row.get(0)?, row.get(1)?)))
        .optional()?;
    batch.map(|(device, batch)| events_of(connection, &device, batch)).transpose()
}

/// The events of one save, in the order written.
fn events_of(connection: &Connection, device: &str, batch: i64) -> Result<Vec<Event>, BookError> {
    let events = connection
        .prepare_cached(&format!(
            "SELECT {COLUMNS} FROM change_log WHERE device = ?1 AND device_seq >= ?2 \
             AND batch = ?2 ORDER BY device_seq"
        ))?
        .query_map(params![device, batch], Event::from_row)?
        .collect::<Result<Vec<_>, _>>()?;
    Ok(events)
}

/// The last taking-back that nothing but other takings-back and makings-again came after, and the
/// events of the save it took back.
pub(crate) fn last_undone(
    connection: &Connection,
) -> Result<Option<(String, Vec<Event>)>, BookError> {
    let undone: Option<(String, String, i64)> = connection
        .prepare_cached(
            "SELECT back.id, first.device, first.batch FROM change_log AS back \
             JOIN change_log AS first ON first.id = back.entity_id \
             WHERE back.device_seq = back.batch AND back.entity = 'save' \
             AND NOT EXISTS (SELECT 1 FROM change_log AS again \
                             WHERE again.entity_id = back.id AND again.entity = 'save') \
             AND NOT EXISTS (SELECT 1 FROM change_log AS later \
                             WHERE later.device_seq = later.batch AND later.entity <> 'save' \
                             AND later.clock > back.clock \
                             AND NOT EXISTS (SELECT 1 FROM change_log AS sign \
                                             WHERE sign.device = later.device \
                                             AND sign.batch = later.batch \
                                             AND sign.entity = 'save')) \
             ORDER BY back.clock DESC LIMIT 1",
        )?
        .query_row([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))
        .optional()?;
    let Some((back, device, batch)) = undone else { return Ok(None) };
    Ok(Some((back, events_of(connection, &device, batch)?)))
}

/// Brings every record of a save that was taken back to what the save made of it.
pub(crate) fn redo(
    writer: &mut Writer<'_>,
    back: String,
    batch: &[Event],
) -> Result<(), BookError> {
    let mut last: BTreeMap<(Entity, &str), &Event> = BTreeMap::new();
    let mut order = Vec::new();
    for event in batch.iter().filter(|event| event.entity != Entity::Batch) {
        let slot = (event.entity, event.entity_id.as_str());
        if last.insert(slot, event).is_none() {
            order.push(slot);
        }
    }
    for (entity, key) in order {
        writer.restore(entity, key, Some(last[&(entity, key)]))?;
    }
    // written last, so that the save is one of records and can be taken back itself
    writer.log.append(Entity::Batch, back, Operation::Undo, None, "null".to_owned())?;
    Ok(())
}

/// Brings every record of a save back to what it was before.
pub(crate) fn undo(writer: &mut Writer<'_>, batch: &[Event]) -> Result<(), BookError> {
    let refuse = |why: &str, remedy: &str| {
        let note = batch.first().map_or("", |event| event.note.as_str());
        Err(BookError::refused(format!("`{note}` cannot be taken back: {why}"), remedy))
    };
    for event in batch {
        match event.operation {
            Operation::Seal | Operation::Amend => {
                return refuse(
                    "it signs a sealed record",
                    "a sealed record changes only with `quillwort amend`",
                );
            }
            Operation::Settle => {
                return refuse("it settles a conflict", "edit the record instead");
            }
            Operation::Put if event.entity == Entity::Conflict => {
                return refuse("it brings two copies of the book together", "settle the conflicts");
            }
            Operation::Put | Operation::Delete | Operation::Undo => {}
        }
    }
    // the first event of a record tells what it was before, the last what it must still be
    let mut records: BTreeMap<(Entity, &str), (&Event, &Event)> = BTreeMap::new();
    let mut order = Vec::new();
    for event in batch.iter().filter(|event| event.entity != Entity::Batch) {
        let kept_beside: bool = writer
            .connection
            .prepare_cached("SELECT EXISTS (SELECT 1 FROM conflict WHERE id = ?1)")?
            .query_row([event.id.to_string()], |row| row.get(0))?;
        if kept_beside {
            continue;
        }
        let slot = (event.entity, event.entity_id.as_str());
        records.entry(slot).and_modify(|(_, last)| *last = event).or_insert_with(|| {
            order.push(slot);
            (event, event)
        });
    }
    if let Some(first) = batch.first() {
        // written first, so that the save of the undo is known by it
        writer.log.append(
            Entity::Batch,
            first.id.to_string(),
            Operation::Undo,
            None,
            "null".to_owned(),
        )?;
    }
    for (entity, key) in order.into_iter().rev() {
        let (first, last) = records[&(entity, key)];
        // an earlier undo may have brought the same state back under a new version
        let standing = current(writer.connection, entity, key)?;
        let same = |event: &Event| event.operation == last.operation && event.body == last.body;
        if !standing.as_ref().is_some_and(same) {
            return refuse(
                &format!("{} `{key}` was changed since", entity.words()),
                "take back the later change first, or edit the record",
            );
        }
        let before = first.base_version.map(|version| by_id(writer.connection, version));
        writer.restore(entity, key, before.transpose()?.as_ref())?;
    }
    Ok(())
}

impl Writer<'_> {
    /// Makes an event of what a table says of a record.
    pub(crate) fn take_over(&mut self, entity: Entity, key: &str) -> Result<(), BookError> {
        fold::with_row!(entity, Row => {
            match Row::one(self.connection, key)? {
                Some(row) => self.put_row(&row),
                None => self.delete(entity, key),
            }
        }, otherwise Ok(()))
    }
}
