//! Opening, reading and writing one lake book.

use crate::data_set::DataSet;
use crate::error::BookError;
use crate::event::{self, COLUMNS, Event, time_text};
use crate::ports::{IdMaker, Ports};
use crate::recognise::{beside, copy_name, recognise};
use crate::schema::{self, MIGRATIONS, Migration};
use crate::write::{Amending, Writer};
use crate::{read, undo};
use geo_types::MultiPolygon;
use rusqlite::{Connection, OpenFlags, OptionalExtension, Transaction, TransactionBehavior};
use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use survey::{EventId, Id, Lake, SurveyId, Taxon};

/// The lake's outline and where it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Shore and islands in longitude and latitude.
    pub area: MultiPolygon<f64>,
    /// Name of the file it came from.
    pub source_file: String,
    /// SHA-256 of that file, hexadecimal.
    pub sha256: String,
    /// Remark.
    pub note: String,
}

/// A signed change to a sealed survey.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Amendment {
    /// The survey.
    pub survey: SurveyId,
    /// Who signed it.
    pub by: String,
    /// Why.
    pub why: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// SHA-256 of the record before.
    pub sha256_before: String,
    /// SHA-256 of the record after.
    pub sha256_after: String,
    /// Visits written or deleted by it, by key.
    pub visits: Vec<String>,
}

/// An edit that was made from a version no longer current, and what stands instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conflict {
    /// The edit that was kept beside.
    pub other: Event,
    /// What stands; none when the record is not there.
    pub current: Option<Event>,
}

/// How a person settles a conflict.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// What stands.
    Current,
    /// The edit that was kept beside.
    Other,
}

/// One lake's book.
pub struct LakeBook {
    pub(crate) connection: Connection,
    pub(crate) path: PathBuf,
    pub(crate) ports: Arc<dyn Ports>,
    pub(crate) ids: IdMaker,
    pub(crate) writable: bool,
}

impl fmt::Debug for LakeBook {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("LakeBook")
            .field("path", &self.path)
            .field("writable", &self.writable)
            .finish_non_exhaustive()
    }
}

impl LakeBook {
    /// Makes a new book with the lake's header and its list of taxa, and opens it.
    ///
    /// # Errors
    /// [`BookError::Exists`] when the path is taken; [`BookError::File`] when it cannot be made.
    pub fn create(
        path: impl AsRef<Path>,
        lake: &Lake,
        taxa: &[Taxon],
        ports: Arc<dyn Ports>,
    ) -> Result<Self, BookError> {
        let path = path.as_ref();
        if path.exists() {
            return Err(BookError::Exists { path: path.to_owned() });
        }
        // made under another name first, so that a half-made file is never taken for a book
        let part = beside(path, &format!(".{}.part", event::random_text(&*ports)));
        let made = Self::make(&part, lake, taxa, Arc::clone(&ports));
        let placed = made.and_then(|()| {
            std::fs::rename(&part, path)
                .map_err(|source| BookError::File { path: path.to_owned(), source })
        });
        if let Err(error) = placed {
            for ending in ["", "-wal", "-shm", "-journal"] {
                // what is left of a failed beginning; the failure itself is reported
                let _ = std::fs::remove_file(beside(&part, ending));
            }
            return Err(error.at(path));
        }
        Self::open(path, ports)
    }

    fn make(
        part: &Path,
        lake: &Lake,
        taxa: &[Taxon],
        ports: Arc<dyn Ports>,
    ) -> Result<(), BookError> {
        std::fs::File::create_new(part)
            .map_err(|source| BookError::File { path: part.to_owned(), source })?;
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut connection = Connection::open_with_flags(part, flags)?;
        schema::prepare(&connection, true)?;
        let at = time_text(ports.now_unix_millis());
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        schema::create_geopackage(&transaction)?;
        schema::migrate(&transaction, 0, MIGRATIONS, &at)?;
        transaction.commit()?;
        let mut book = Self {
            connection,
            path: part.to_owned(),
            ports,
            ids: IdMaker::default(),
            writable: true,
        };
        book.transact(&format!("new lake book of {}", lake.name), |writer| {
            writer.put_lake(lake)?;
            taxa.iter().try_for_each(|taxon| writer.put_taxon(taxon))
        })?;
        book.connection.close().map_err(|(_, error)| error)?;
        Ok(())
    }

    /// Opens a book for reading and writing. A book of an older form is first copied beside itself
    /// and then brought to the form of this program.
    ///
    /// # Errors
    /// One [`BookError`] for each way a file can fail to be a lake book.
    pub fn open(path: impl AsRef<Path>, ports: Arc<dyn Ports>) -> Result<Self, BookError> {
        Self::open_with(path.as_ref(), ports, MIGRATIONS)
    }

    pub(crate) fn open_with(
        path: &Path,
        ports: Arc<dyn Ports>,
        migrations: &[Migration],
    ) -> Result<Self, BookError> {
        recognise(path)?;
        let read_only = || BookError::ReadOnly { path: path.to_owned() };
        if std::fs::metadata(path).is_ok_and(|meta| meta.permissions().readonly()) {
            return Err(read_only());
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let at_path = |error: rusqlite::Error| BookError::from(error).at(path);
        let mut connection = Connection::open_with_flags(path, flags).map_err(at_path)?;
        if connection.is_readonly(rusqlite::MAIN_DB).map_err(at_path)? {
            return Err(read_only());
        }
        known_tables(&connection, path)?;
        let (found, known) = form(&connection, path, migrations)?;
        schema::prepare(&connection, true).map_err(at_path)?;
        if found < known {
            schema::copy_to(&connection, &copy_name(path, found))?;
            let at = time_text(ports.now_unix_millis());
            let transaction = connection
                .transaction_with_behavior(TransactionBehavior::Immediate)
                .map_err(at_path)?;
            schema::migrate(&transaction, found, migrations, &at).map_err(|one| one.at(path))?;
            transaction.commit().map_err(at_path)?;
        }
        let ids = event::ids_after(&connection, &ports.device()).map_err(|one| one.at(path))?;
        Ok(Self { connection, path: path.to_owned(), ports, ids, writable: true })
    }

    /// Opens a book for reading only, also where nothing can be written beside it.
    ///
    /// # Errors
    /// As [`LakeBook::open`]; [`BookError::Older`] for a book that must first be migrated.
    pub fn open_read_only(
        path: impl AsRef<Path>,
        ports: Arc<dyn Ports>,
    ) -> Result<Self, BookError> {
        let path = path.as_ref();
        recognise(path)?;
        let at_path = |error: rusqlite::Error| BookError::from(error).at(path);
        let connection = read_only_connection(path).map_err(at_path)?;
        known_tables(&connection, path)?;
        let (found, known) = form(&connection, path, MIGRATIONS)?;
        if found < known {
            return Err(BookError::Older { path: path.to_owned(), found, known });
        }
        schema::prepare(&connection, false).map_err(at_path)?;
        let ids = event::ids_after(&connection, &ports.device()).map_err(|one| one.at(path))?;
        Ok(Self { connection, path: path.to_owned(), ports, ids, writable: false })
    }

    /// Where the book lies.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// True when it can be written.
    pub const fn is_writable(&self) -> bool {
        self.writable
    }

    /// A fresh key; keys of one book rise.
    pub fn new_id(&self) -> Id {
        self.ids.next_id(&*self.ports)
    }

    /// Collects changes and keeps all of them or none, under one note a person can read.
    ///
    /// # Errors
    /// Whatever the changes give; [`BookError::Busy`] when another program is writing,
    /// [`BookError::ReadOnly`], [`BookError::Full`].
    pub fn transact<T>(
        &mut self,
        note: &str,
        change: impl FnOnce(&mut Writer<'_>) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        self.write(note, None, change)
    }

    fn write<T>(
        &mut self,
        note: &str,
        amending: Option<Amending>,
        change: impl FnOnce(&mut Writer<'_>) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        let path = self.path.clone();
        let (ids, ports) = (&self.ids, &*self.ports);
        in_transaction(&mut self.connection, &path, self.writable, |transaction| {
            let mut writer = Writer::new(transaction, ids, ports, note, amending)?;
            let value = change(&mut writer)?;
            let events = writer.finish()?;
            Ok((value, events > 0))
        })
    }

    /// Changes a sealed survey, signed and with a reason. Only the survey named can be changed; a
    /// taxon's new name reaches every sealed survey that holds it, and each is amended.
    ///
    /// # Errors
    /// [`BookError::NotSealed`]; [`BookError::Refused`] without a name or a reason, or when
    /// nothing changes.
    pub fn amend<T>(
        &mut self,
        survey: SurveyId,
        by: &str,
        why: &str,
        change: impl FnOnce(&mut Writer<'_>) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        let header = read::surveys(&self.connection)
            .map_err(|error| error.at(&self.path))?
            .into_iter()
            .find(|one| one.id == survey)
            .ok_or_else(|| BookError::Unknown { entity: "survey", id: survey.to_string() })?;
        if header.seal.is_none() {
            return Err(BookError::NotSealed { survey: header.name });
        }
        let (by, why) = (by.trim(), why.trim());
        if by.is_empty() || why.is_empty() {
            return Err(BookError::refused(
                "an amendment needs the name of the person who signs it and a reason",
                "give both; they are shown wherever the record is",
            ));
        }
        let note = format!("amendment of {} by {by}: {why}", header.name);
        self.write(&note, Some(Amending::new(survey, by, why)), change)
    }

    /// Closes a survey's record and gives the SHA-256 of its canonical text.
    ///
    /// # Errors
    /// [`BookError::Unknown`]; [`BookError::Refused`] when it is sealed already or `by` is empty.
    pub fn seal(&mut self, survey: SurveyId, by: &str) -> Result<String, BookError> {
        self.transact(&format!("sealed by {}", by.trim()), |writer| writer.seal(survey, by))
    }

    /// Keeps a data set and gives its SHA-256, its name in the book.
    ///
    /// # Errors
    /// [`BookError::Refused`] naming the first point that cannot be kept.
    pub fn put_data_set(&mut self, data_set: &DataSet, note: &str) -> Result<String, BookError> {
        self.transact(note, |writer| writer.put_data_set(data_set))
    }

    /// Takes back the last save that was not taken back yet, and gives its note; none when there
    /// is nothing left. The making of the book is not taken back.
    ///
    /// # Errors
    /// [`BookError::Refused`] for a seal or an amendment, or when a record was changed since.
    pub fn undo_last(&mut self) -> Result<Option<String>, BookError> {
        let Some(batch) =
            undo::last_batch(&self.connection).map_err(|error| error.at(&self.path))?
        else {
            return Ok(None);
        };
        let note = batch[0].note.clone();
        self.transact(&format!("undo: {note}"), |writer| undo::undo(writer, &batch))?;
        Ok(Some(note))
    }

    /// Makes the save again that was taken back last, and gives its note; none when nothing was
    /// taken back, or something else was saved since.
    ///
    /// # Errors
    /// [`BookError::Refused`] when the record does not hold with it any more.
    pub fn redo_last(&mut self) -> Result<Option<String>, BookError> {
        let found = undo::last_undone(&self.connection).map_err(|error| error.at(&self.path))?;
        let Some((back, batch)) = found else { return Ok(None) };
        let note = batch[0].note.clone();
        self.transact(&note, |writer| undo::redo(writer, back, &batch))?;
        Ok(Some(note))
    }

    /// Notes of the save [`LakeBook::undo_last`] would take back and of the one
    /// [`LakeBook::redo_last`] would make again.
    ///
    /// # Errors
    /// When the book cannot be read.
    pub fn undo_notes(&self) -> Result<(Option<String>, Option<String>), BookError> {
        let note = |batch: Vec<Event>| batch.into_iter().next().map(|event| event.note);
        let back = undo::last_batch(&self.connection).map_err(|error| error.at(&self.path))?;
        let again = undo::last_undone(&self.connection).map_err(|error| error.at(&self.path))?;
        Ok((back.and_then(note), again.and_then(|(_, batch)| note(batch))))
    }

    /// Settles a conflict.
    ///
    /// # Errors
    /// [`BookError::Unknown`] when there is no such open conflict.
    pub fn settle(&mut self, other: EventId, keep: Keep, note: &str) -> Result<(), BookError> {
        self.transact(note, |writer| {
            let open: Option<bool> = writer
                .connection
                .query_row(
                    "SELECT settled FROM conflict WHERE id = ?1",
                    [other.to_string()],
                    |row| row.get(0),
                )
                .optional()?;
            if open != Some(false) {
                return Err(BookError::Unknown { entity: "open conflict", id: other.to_string() });
            }
            let event = event::by_id(writer.connection, other)?;
            writer.settle(&event, keep == Keep::Other)
        })
    }

    pub(crate) fn read<T>(
        &self,
        read: impl FnOnce(&Connection) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        read(&self.connection).map_err(|error| error.at(&self.path))
    }

    /// Reads with one view of the book, whatever another program writes meanwhile.
    pub(crate) fn snapshot<T>(
        &self,
        read: impl FnOnce(&Connection) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        self.read(|connection| read(&*connection.unchecked_transaction()?))
    }

    pub(crate) fn events(
        &self,
        clause: &str,
        parameters: impl rusqlite::Params,
    ) -> Result<Vec<Event>, BookError> {
        self.read(|connection| {
            Ok(connection
                .prepare_cached(&format!("SELECT {COLUMNS} FROM change_log {clause}"))?
                .query_map(parameters, Event::from_row)?
                .collect::<Result<_, _>>()?)
        })
    }
}

/// Runs a change in one IMMEDIATE transaction with the gate open; nothing is kept when it fails
/// or says that nothing changed.
pub(crate) fn in_transaction<T>(
    connection: &mut Connection,
    path: &Path,
    writable: bool,
    change: impl FnOnce(&Transaction<'_>) -> Result<(T, bool), BookError>,
) -> Result<T, BookError> {
    if !writable {
        return Err(BookError::ReadOnly { path: path.to_owned() });
    }
    let run = || -> Result<T, BookError> {
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        transaction.execute("UPDATE write_gate SET open = 1", [])?;
        let (value, changed) = change(&transaction)?;
        if changed {
            transaction.execute("UPDATE write_gate SET open = 0", [])?;
            // a failed COMMIT leaves the transaction open, so that the culprit can be looked for
            if let Err(error) = transaction.execute_batch("COMMIT") {
                return Err(dangling(&transaction)?.unwrap_or_else(|| error.into()));
            }
        }
        Ok(value)
    };
    run().map_err(|error| error.at(path))
}

/// The first record that refers to one that is not there.
fn dangling(connection: &Connection) -> Result<Option<BookError>, BookError> {
    let found: Option<(String, String)> = connection
        .query_row("PRAGMA foreign_key_check", [], |row| Ok((row.get(0)?, row.get(2)?)))
        .optional()?;
    Ok(found.map(|(table, parent)| {
        let words = |table: &str| table.replace('_', " ");
        BookError::refused(
            format!(
                "table {}: a record refers to a {} that is not in the book",
                words(&table),
                words(&parent)
            ),
            format!(
                "add the {} in the same save, or first delete or change what refers to it",
                words(&parent)
            ),
        )
    }))
}

/// Refuses a GeoPackage that lacks what every lake book has.
fn known_tables(connection: &Connection, path: &Path) -> Result<(), BookError> {
    // GeoPackage's own tables are not asked for: a book may have been edited by a GIS
    for missing in ["schema_version", "change_log", "lake"] {
        let there: bool = connection
            .query_row(
                "SELECT EXISTS (SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?1)",
                [missing],
                |row| row.get(0),
            )
            .map_err(|error| BookError::from(error).at(path))?;
        if !there {
            return Err(BookError::NotALakeBook { path: path.to_owned(), missing });
        }
    }
    Ok(())
}

/// The book's form and the newest one known; a newer book is refused.
fn form(
    connection: &Connection,
    path: &Path,
    migrations: &[Migration],
) -> Result<(u32, u32), BookError> {
    let (found, program) =
        schema::version(connection).map_err(|error| BookError::from(error).at(path))?;
    let known = schema::newest(migrations);
    if found > known {
        return Err(BookError::Newer { path: path.to_owned(), found, known, program });
    }
    Ok((found, known))
}

/// A connection that writes nothing, also on a medium where no log can be kept beside the file.
fn read_only_connection(path: &Path) -> rusqlite::Result<Connection> {
    let shared = OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let readable = |connection: &Connection| {
        connection.query_row("SELECT count(*) FROM sqlite_master", [], |row| row.get::<_, i64>(0))
    };
    let locked = std::fs::metadata(path).is_ok_and(|meta| meta.permissions().readonly());
    if !locked {
        // only a connection that could write tidies the log beside the file away when it closes
        let connection =
            Connection::open_with_flags(path, shared | OpenFlags::SQLITE_OPEN_READ_WRITE)?;
        if !connection.is_readonly(rusqlite::MAIN_DB)? && readable(&connection).is_ok() {
            connection.pragma_update(None, "query_only", true)?;
            return Ok(connection);
        }
    }
    let flags = shared | OpenFlags::SQLITE_OPEN_READ_ONLY;
    let connection = Connection::open_with_flags(path, flags)?;
    match readable(&connection) {
        Ok(_) => Ok(connection),
        Err(error) => {
            if error.sqlite_error_code() != Some(rusqlite::ErrorCode::CannotOpen)
                || beside(path, "-wal").exists()
            {
                return Err(error);
            }
            let escaped =
                path.to_string_lossy().replace('%', "%25").replace('?', "%3f").replace('#', "%23");
            Connection::open_with_flags(
                format!("file:{escaped}?immutable=1"),
                flags | OpenFlags::SQLITE_OPEN_URI,
            )
        }
    }
}
