//! Trust: verifying, folding again, backing up, and what other programs changed.

use crate::book::{LakeBook, in_transaction};
use crate::canonical::sha256_hex;
use crate::entity::Entity;
use crate::error::BookError;
use crate::event::time_text;
use crate::fold::{self, LogState};
use crate::schema;
use crate::verify::{self, Difference, Verification};
use rusqlite::{OptionalExtension, params};
use std::collections::BTreeSet;
use std::path::Path;

impl LakeBook {
    /// Recomputes every seal, the log's chain and numbers, every data set's checksum, and holds
    /// the tables against the log.
    ///
    /// # Errors
    /// [`BookError`] when the file cannot be read at all.
    pub fn verify(&self) -> Result<Verification, BookError> {
        self.snapshot(verify::verify)
    }

    /// True when another program has changed a table since this one last wrote. Quick: the book
    /// notes such changes as they happen.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn was_edited_elsewhere(&self) -> Result<bool, BookError> {
        self.read(|connection| {
            Ok(connection.query_row(
                "SELECT EXISTS (SELECT 1 FROM edited_elsewhere)",
                [],
                |row| row.get(0),
            )?)
        })
    }

    /// Every difference between the tables and the log.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn edited_elsewhere(&self) -> Result<Vec<Difference>, BookError> {
        self.snapshot(|connection| verify::differences(connection, &LogState::read(connection)?))
    }

    /// Takes another program's edits over as events, all those given. The same rules hold as for
    /// every write: a sealed survey is not changed this way.
    ///
    /// # Errors
    /// [`BookError::Sealed`], [`BookError::Refused`], [`BookError::Row`] for a value that cannot
    /// be read.
    pub fn take_over(&mut self, edits: &[Difference], note: &str) -> Result<(), BookError> {
        let records: BTreeSet<(Entity, String)> =
            edits.iter().map(|edit| (edit.entity, edit.id.clone())).collect();
        self.transact(note, |writer| {
            for (entity, id) in &records {
                writer.take_over(*entity, id)?;
            }
            Ok(())
        })?;
        if self.edited_elsewhere()?.is_empty() {
            self.forget_edits()?;
        }
        Ok(())
    }

    fn forget_edits(&mut self) -> Result<(), BookError> {
        let path = self.path.clone();
        in_transaction(&mut self.connection, &path, self.writable, |transaction| {
            transaction.execute("DELETE FROM edited_elsewhere", [])?;
            Ok(((), true))
        })
    }

    /// Drops every folded table's rows and folds the log again. Edits of other programs are gone
    /// after it; the log keeps everything this program wrote.
    ///
    /// # Errors
    /// [`BookError::Body`] when the log itself was damaged.
    pub fn rebuild(&mut self) -> Result<(), BookError> {
        let path = self.path.clone();
        let at = time_text(self.ports.now_unix_millis());
        in_transaction(&mut self.connection, &path, self.writable, |transaction| {
            fold::refold(transaction, &at)?;
            Ok(((), true))
        })
    }

    /// Copies the whole book into one new file while it is open.
    ///
    /// # Errors
    /// [`BookError::Exists`] when the file is there already.
    pub fn backup(&self, to: impl AsRef<Path>) -> Result<(), BookError> {
        schema::copy_to(&self.connection, to.as_ref())
    }

    /// A worked-out result kept under this key; none when there is none or it is damaged. The key
    /// must name all it was worked out from.
    ///
    /// # Errors
    /// As [`LakeBook::lake`].
    pub fn cache_get(&self, key: &str) -> Result<Option<Vec<u8>>, BookError> {
        self.read(|connection| {
            let kept: Option<(String, Vec<u8>)> = connection
                .prepare_cached("SELECT sha256, content FROM derived WHERE key = ?1")?
                .query_row([key], |row| Ok((row.get(0)?, row.get(1)?)))
                .optional()?;
            Ok(kept
                .and_then(|(sha256, content)| (sha256_hex(&content) == sha256).then_some(content)))
        })
    }

    /// Keeps a worked-out result. It is no part of the record and no event.
    ///
    /// # Errors
    /// [`BookError::ReadOnly`], [`BookError::Busy`].
    pub fn cache_put(&self, key: &str, content: &[u8]) -> Result<(), BookError> {
        if !self.writable {
            return Err(BookError::ReadOnly { path: self.path.clone() });
        }
        self.read(|connection| {
            connection.execute(
                "INSERT INTO derived (key, sha256, content) VALUES (?1, ?2, ?3) \
                 ON CONFLICT (key) DO UPDATE SET sha256 = excluded.sha256, \
                 content = excluded.content",
                params![key, sha256_hex(content), content],
            )?;
            Ok(())
        })
    }

    /// Drops every worked-out result.
    ///
    /// # Errors
    /// [`BookError::ReadOnly`], [`BookError::Busy`].
    pub fn cache_clear(&self) -> Result<(), BookError> {
        self.read(|connection| {
            connection.execute("DELETE FROM derived", [])?;
            Ok(())
        })
    }
}
