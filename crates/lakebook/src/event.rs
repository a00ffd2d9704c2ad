//! Events: the change log, its clock, its chain.

use crate::canonical::{hex, sha256_hex};
use crate::entity::{Entity, Operation};
use crate::error::BookError;
use crate::ports::{IdMaker, Ports};
use jiff::Timestamp;
use rusqlite::{Connection, OptionalExtension, Row, params};
use serde::Serialize;
use survey::EventId;

/// One event of the change log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// Key.
    pub id: EventId,
    /// The device that made it.
    pub device: String,
    /// Its number among the events of that device, from 1 without a gap.
    pub device_seq: u64,
    /// Hybrid logical clock: RFC 3339 time in UTC, `+`, a counter. Sorts as text.
    pub clock: String,
    /// Who wrote it.
    pub actor: String,
    /// Kind of record.
    pub entity: Entity,
    /// The record's key.
    pub entity_id: String,
    /// What was done.
    pub operation: Operation,
    /// The version it was made from; none for a new record.
    pub base_version: Option<EventId>,
    /// The record after the event, JSON.
    pub body: String,
    /// What a person reads.
    pub note: String,
    /// The `device_seq` of the first event of the same save.
    pub batch: u64,
    /// SHA-256 over the chain of the device's event before and over this event.
    pub chain: String,
}

pub(crate) const COLUMNS: &str = "id, device, device_seq, clock, actor, entity, entity_id, \
     operation, base_version, body, note, batch, chain";

impl Event {
    pub(crate) fn from_row(row: &Row<'_>) -> rusqlite::Result<Self> {
        let base: Option<crate::rows::Key> = row.get(8)?;
        Ok(Self {
            id: EventId(row.get::<_, crate::rows::Key>(0)?.0),
            device: row.get(1)?,
            device_seq: row.get::<_, i64>(2)? as u64,
            clock: row.get(3)?,
            actor: row.get(4)?,
            entity: row.get(5)?,
            entity_id: row.get(6)?,
            operation: row.get(7)?,
            base_version: base.map(|key| EventId(key.0)),
            body: row.get(9)?,
            note: row.get(10)?,
            batch: row.get::<_, i64>(11)? as u64,
            chain: row.get(12)?,
        })
    }

    /// When it was written, RFC 3339 in UTC.
    pub fn at(&self) -> &str {
        self.clock.split('+').next().unwrap_or(&self.clock)
    }

    /// What the chain must be after this event.
    pub(crate) fn chained(&self, before: &str) -> Result<String, BookError> {
        #[derive(Serialize)]
        struct Link<'a>(
            &'a str,
            String,
            &'a str,
            u64,
            &'a str,
            &'a str,
            &'a str,
            &'a str,
            &'a str,
            Option<String>,
            &'a str,
            &'a str,
            u64,
        );
        let link = Link(
            before,
            self.id.to_string(),
            &self.device,
            self.device_seq,
            &self.clock,
            &self.actor,
            self.entity.key(),
            &self.entity_id,
            self.operation.key(),
            self.base_version.map(|version| version.to_string()),
            &self.body,
            &self.note,
            self.batch,
        );
        let text = serde_json::to_vec(&link)
            .map_err(|source| BookError::Body { event: self.id.to_string(), source })?;
        Ok(sha256_hex(&text))
    }
}

/// RFC 3339 in UTC to the millisecond.
pub(crate) fn time_text(unix_millis: u64) -> String {
    Timestamp::from_millisecond(unix_millis as i64)
        .unwrap_or(Timestamp::MAX)
        .strftime("%Y-%m-%dT%H:%M:%S.%3fZ")
        .to_string()
}

/// A hybrid logical clock: the wall clock, and a counter where that stands still or steps back.
///
/// # References
/// Kulkarni, Demirbas, Madappa, Avva and Leone (2014), Logical physical clocks, OPODIS 2014.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Clock {
    millis: u64,
    counter: u32,
}

impl Clock {
    const MOST: u32 = 99_999;

    /// The next tick after `last`.
    pub(crate) fn after(last: Option<Self>, now: u64) -> Self {
        match last {
            Some(last) if last.millis >= now => {
                if last.counter == Self::MOST {
                    Self { millis: last.millis + 1, counter: 0 }
                } else {
                    Self { millis: last.millis, counter: last.counter + 1 }
                }
            }
            _ => Self { millis: now, counter: 0 },
        }
    }

    pub(crate) fn text(self) -> String {
        format!("{}+{:05}", time_text(self.millis), self.counter)
    }

    pub(crate) fn parse(text: &str) -> Option<Self> {
        let (time, counter) = text.split_once('+')?;
        let millis = time.parse::<Timestamp>().ok()?.as_millisecond();
        Some(Self { millis: u64::try_from(millis).ok()?, counter: counter.parse().ok()? })
    }
}

/// Appends the events of one save.
pub(crate) struct Appender<'a> {
    connection: &'a Connection,
    ids: &'a IdMaker,
    ports: &'a dyn Ports,
    device: String,
    actor: String,
    note: String,
    pub(crate) now: u64,
    clock: Option<Clock>,
    seq: u64,
    chain: String,
    batch: u64,
    pub(crate) count: usize,
}

/// The chain before a device's first event.
pub(crate) const NO_CHAIN: &str = "";

impl<'a> Appender<'a> {
    pub(crate) fn new(
        connection: &'a Connection,
        ids: &'a IdMaker,
        ports: &'a dyn Ports,
        note: &str,
    ) -> Result<Self, BookError> {
        let device = ports.device();
        let last: Option<(u64, String)> = connection
            .prepare_cached(
                "SELECT device_seq, chain FROM change_log WHERE device = ?1 \
                 ORDER BY device_seq DESC LIMIT 1",
            )?
            .query_row([&device], |row| Ok((row.get::<_, i64>(0)? as u64, row.get(1)?)))
            .optional()?;
        let clock: Option<String> = connection
            .prepare_cached("SELECT max(clock) FROM change_log")?
            .query_row([], |row| row.get(0))?;
        let (seq, chain) = last.unwrap_or((0, NO_CHAIN.to_owned()));
        Ok(Self {
            connection,
            ids,
            ports,
            device,
            actor: ports.actor(),
            note: note.to_owned(),
            now: ports.now_unix_millis(),
            clock: clock.as_deref().and_then(Clock::parse),
            seq,
            chain,
            batch: seq + 1,
            count: 0,
        })
    }

    /// Who is writing.
    pub(crate) fn actor(&self) -> &str {
        &self.actor
    }

    pub(crate) fn append(
        &mut self,
        entity: Entity,
        entity_id: String,
        operation: Operation,
        base_version: Option<EventId>,
        body: String,
    ) -> Result<Event, BookError> {
        let clock = Clock::after(self.clock, self.now);
        self.clock = Some(clock);
        self.seq += 1;
        self.count += 1;
        let mut event = Event {
            id: EventId(self.ids.next_id(self.ports)),
            device: self.device.clone(),
            device_seq: self.seq,
            clock: clock.text(),
            actor: self.actor.clone(),
            entity,
            entity_id,
            operation,
            base_version,
            body,
            note: self.note.clone(),
            batch: self.batch,
            chain: String::new(),
        };
        event.chain = event.chained(&self.chain)?;
        self.chain.clone_from(&event.chain);
        insert_event(self.connection, &event)?;
        Ok(event)
    }
}

/// Writes an event as it stands.
pub(crate) fn insert_event(connection: &Connection, event: &Event) -> Result<(), BookError> {
    connection
        .prepare_cached(
            "INSERT INTO change_log (id, device, device_seq, clock, actor, entity, entity_id, \
             operation, base_version, body, note, batch, chain) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)",
        )?
        .execute(params![
            event.id.to_string(),
            event.device,
            event.device_seq as i64,
            event.clock,
            event.actor,
            event.entity,
            event.entity_id,
            event.operation,
            event.base_version.map(|version| version.to_string()),
            event.body,
            event.note,
            event.batch as i64,
            event.chain
        ])?;
    Ok(())
}

/// The order of the fold, the same in every copy of a book: by clock, then by key. A device's own
/// events keep their order in it, because its clock rises with each.
pub(crate) const FOLD_ORDER: &str = "ORDER BY clock, id";

/// The current version of a record: the last put or deletion that is no conflict.
pub(crate) fn current(
    connection: &Connection,
    entity: Entity,
    entity_id: &str,
) -> Result<Option<Event>, BookError> {
    let sql = format!(
        "SELECT {COLUMNS} FROM change_log WHERE entity_id = ?1 AND entity = ?2 \
         AND operation IN ('put', 'delete') AND id NOT IN (SELECT id FROM conflict) \
         ORDER BY clock DESC, id DESC LIMIT 1"
    );
    Ok(connection
        .prepare_cached(&sql)?
        .query_row(params![entity_id, entity], Event::from_row)
        .optional()?)
}

/// An event by its key.
pub(crate) fn by_id(connection: &Connection, id: EventId) -> Result<Event, BookError> {
    connection
        .prepare_cached(&format!("SELECT {COLUMNS} FROM change_log WHERE id = ?1"))?
        .query_row([id.to_string()], Event::from_row)
        .optional()?
        .ok_or_else(|| BookError::Unknown { entity: "event", id: id.to_string() })
}

/// Keys that go on after the last event of this device, whatever its clock says meanwhile.
pub(crate) fn ids_after(connection: &Connection, device: &str) -> Result<IdMaker, BookError> {
    let last: Option<crate::rows::Key> = connection
        .query_row(
            "SELECT id FROM change_log WHERE device = ?1 ORDER BY device_seq DESC LIMIT 1",
            [device],
            |row| row.get(0),
        )
        .optional()?;
    Ok(last.map_or_else(IdMaker::default, |key| IdMaker::after(key.0)))
}

/// Random bits as text, for names of files that must not meet.
pub(crate) fn random_text(ports: &dyn Ports) -> String {
    hex(&ports.random().to_be_bytes()[8..])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: Kulkarni et al. (2014): the clock never falls behind the wall and never repeats.
    #[test]
    fn the_clock_rises_when_the_wall_clock_stands_or_steps_back() {
        let mut last = None;
        let mut texts = Vec::new();
        for now in [10, 10, 9, 11, 3, 12] {
            let next = Clock::after(last, now);
            assert!(Some(next) > last && next.millis >= now);
            assert_eq!(Clock::parse(&next.text()), Some(next));
            texts.push(next.text());
            last = Some(next);
        }
        assert!(texts.is_sorted(), "{texts:?}");
        let full = Clock { millis: 5, counter: Clock::MOST };
        assert_eq!(Clock::after(Some(full), 5), Clock { millis: 6, counter: 0 });
    }

    #[test]
    fn times_are_written_to_the_millisecond() {
        assert_eq!(time_text(1_784_041_445_123), "2026-07-14T15:04:05.123Z");
    }
}
