//! Two copies of a book edited apart, brought together: the union of their logs, folded again.
//!
//! Nothing is lost. An edit made from a version that is no longer current is kept beside it; so is
//! every edit of one copy to a survey the other had closed, and the second of two visits to one
//! site. What must be unique and is there twice gets a second name. Which copy is merged into
//! which makes no difference to the record.

mod apart;
mod take_in;
mod twice;

use crate::book::{LakeBook, in_transaction};
use crate::entity::{Entity, Operation};
use crate::error::BookError;
use crate::event::time_text;
use crate::fold::{self, LogState, Touched};
use crate::write::Writer;
use crate::{read, verify};
use rusqlite::{Connection, OptionalExtension};
use std::collections::BTreeSet;

/// What a merge did.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Merged {
    /// Changes the other copy had and this one had not.
    pub taken: usize,
    /// Edits kept beside since, for a person to choose.
    pub conflicts: usize,
    /// What was there twice and got a second name, in words.
    pub renamed: Vec<String>,
}

/// How often references may be mended: each round brings back what one deletion took away.
const ROUNDS: usize = 8;

impl LakeBook {
    /// Takes in another copy of this book; the other is only read.
    ///
    /// # Errors
    /// [`BookError::Refused`] when the other is of another lake or its log is damaged.
    pub fn merge(&mut self, other: &Self) -> Result<Merged, BookError> {
        let name = other.path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let (own, theirs) = (self.read(read::book_id)?, other.read(read::book_id)?);
        if own != theirs {
            return Err(BookError::refused(
                format!("`{name}` is not a copy of this book: it began as another one"),
                "record its surveys into this book from an export instead",
            ));
        }
        let broken = other.read(verify::broken_chain)?;
        if let Some(first) = broken.first() {
            return Err(BookError::refused(
                format!("`{name}` is damaged: {}, {}", first.what, first.place),
                "run `quillwort verify` on it, and merge a backup of it instead",
            ));
        }
        let before_conflicts = self.conflicts()?.len();
        let path = self.path.clone();
        let (ids, ports) = (&self.ids, &*self.ports);
        let note = format!("merged {name}");
        let mut merged =
            in_transaction(&mut self.connection, &path, self.writable, |connection| {
                let before = LogState::read(connection)?;
                let own = take_in::ids(connection)?;
                let taken = take_in::take_in(connection, &other.connection)?;
                if taken.is_empty() {
                    return Ok((Merged::default(), false));
                }
                take_in::contents(connection, &other.connection)?;
                let theirs = take_in::ids(&other.connection)?;
                let only_own: Vec<_> = own.difference(&theirs).cloned().collect();
                let aside = apart::to_set_aside(connection, &other.connection, &only_own, &taken)?;
                let mut writer = Writer::new(connection, ids, ports, &note, None)?;
                set_aside(&mut writer, &aside)?;
                let mut state = LogState::read(connection)?;
                let mut touched = Touched::default();
                fold::apply(connection, &before, &state, &mut touched)?;
                // two visits of one site, and deletions of what the other copy still speaks of
                for _ in 0..ROUNDS {
                    let mut aside = twice::second_visits(connection)?;
                    aside.extend(deleted_parents(connection)?);
                    if aside.is_empty() {
                        break;
                    }
                    set_aside(&mut writer, &aside)?;
                    let after = LogState::read(connection)?;
                    fold::apply(connection, &state, &after, &mut touched)?;
                    state = after;
                }
                let now = writer.log.now;
                let mut writer = Writer::new(connection, ids, ports, &note, None)?;
                let renamed = twice::rename(&mut writer)?;
                writer.finish()?;
                touched.note("change_log", None);
                touched.write(connection, &time_text(now))?;
                Ok((Merged { taken: taken.len(), conflicts: 0, renamed }, true))
            })?;
        merged.conflicts = self.conflicts()?.len().saturating_sub(before_conflicts);
        Ok(merged)
    }
}

/// Notes in the log that events are kept beside and not followed.
fn set_aside(writer: &mut Writer<'_>, events: &BTreeSet<String>) -> Result<(), BookError> {
    for event in events {
        let why = "{\"kept\":\"beside\"}".to_owned();
        writer.log.append(Entity::Conflict, event.clone(), Operation::Put, None, why)?;
    }
    Ok(())
}

/// Deletions of records that living ones still refer to: one copy deleted what the other used.
fn deleted_parents(connection: &Connection) -> Result<BTreeSet<String>, BookError> {
    let mut aside = BTreeSet::new();
    let dangling: Vec<(String, i64, String, i64)> = connection
        .prepare("PRAGMA foreign_key_check")?
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?)))?
        .collect::<Result<_, _>>()?;
    for (table, row, parent, number) in dangling {
        let column: String = connection.query_row(
            "SELECT \"from\" FROM pragma_foreign_key_list(?1) WHERE id = ?2",
            rusqlite::params![table, number],
            |found| found.get(0),
        )?;
        let missing: String = connection.query_row(
            &format!("SELECT {column} FROM {table} WHERE rowid = ?1"),
            [row],
            |found| found.get(0),
        )?;
        let Some(entity) = Entity::ALL.iter().find(|one| one.table() == Some(parent.as_str()))
        else {
            continue;
        };
        let deletion: Option<String> = connection
            .query_row(
                "SELECT id FROM change_log WHERE entity = ?1 AND entity_id = ?2 \
                 AND operation = 'delete' AND id NOT IN (SELECT id FROM conflict) \
                 ORDER BY clock DESC, id DESC LIMIT 1",
                rusqlite::params![entity, missing],
                |found| found.get(0),
            )
            .optional()?;
        aside.extend(deletion);
    }
    Ok(aside)
}
