//! What can go wrong with a lake book, in sentences that say what to do.

use std::path::PathBuf;
use survey::ParseIdError;

/// A lake book that cannot be opened, read or written.
///
/// The text is one sentence, then where one helps a line `hint: …`.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum BookError {
    /// No file there.
    #[error("there is no lake book at `{}`\nhint: check the folder and the spelling, or make one with `quillwort new`", path.display())]
    NotFound {
        /// Where it was looked for.
        path: PathBuf,
    },
    /// A folder where a file was expected.
    #[error("`{}` is a folder, expected a lake book\nhint: give the file inside it, its name ends in `.gpkg`", path.display())]
    IsFolder {
        /// The folder.
        path: PathBuf,
    },
    /// A file of no bytes.
    #[error("`{}` is empty, expected a lake book\nhint: the copy failed; fetch the file again or open a backup", path.display())]
    Empty {
        /// The file.
        path: PathBuf,
    },
    /// Not an SQLite file.
    #[error("`{}` is not a lake book: it does not begin as a GeoPackage file does\nhint: a lake book ends in `.gpkg`; to bring in other files use `quillwort add` or `quillwort record`", path.display())]
    NotADatabase {
        /// The file.
        path: PathBuf,
    },
    /// An SQLite file that is no GeoPackage.
    #[error("`{}` is a database but not a GeoPackage (application id `{found:#010x}`)\nhint: give a lake book made by `quillwort new`", path.display())]
    NotAGeoPackage {
        /// The file.
        path: PathBuf,
        /// The application id found.
        found: u32,
    },
    /// A GeoPackage of another program.
    #[error("`{}` is a GeoPackage but no lake book: it has no table `{missing}`\nhint: make a lake book with `quillwort new` and bring the layers in with `quillwort add`", path.display())]
    NotALakeBook {
        /// The file.
        path: PathBuf,
        /// A table every lake book has.
        missing: &'static str,
    },
    /// Shorter than it says it is.
    #[error("`{}` is cut off: it has {found} bytes, expected {expected}\nhint: the copy failed; fetch the file again or open a backup", path.display())]
    Truncated {
        /// The file.
        path: PathBuf,
        /// Its size.
        found: u64,
        /// The size its first page states.
        expected: u64,
    },
    /// Damaged inside.
    #[error("`{}` is damaged: {reason}\nhint: keep the file, open the newest backup", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What was found.
        reason: String,
    },
    /// Made by a newer program.
    #[error("`{}` has book form {found}, written by Quillwort {program}; this program knows up to form {known}\nhint: use Quillwort {program} or newer; nothing was changed", path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its form.
        found: u32,
        /// The newest form known here.
        known: u32,
        /// The program that gave it its form.
        program: String,
    },
    /// Of an older form, and opened for reading only.
    #[error("`{}` has the older book form {found} and must first be brought to form {known}\nhint: open it once for writing; a copy of the old form is kept beside it", path.display())]
    Older {
        /// The file.
        path: PathBuf,
        /// Its form.
        found: u32,
        /// The form needed.
        known: u32,
    },
    /// Cannot be written.
    #[error("`{}` can only be read\nhint: copy it to a folder of your own, or allow writing", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// Another program is writing.
    #[error("another program is writing to `{}`\nhint: wait until it is done or close it, then try again; nothing was changed", path.display())]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// A file that must not be overwritten.
    #[error("`{}` is there already and is not overwritten\nhint: choose another name", path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// A file that cannot be read or written.
    #[error("`{}` cannot be used: {source}\nhint: check the folder, its permissions and the space left", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// The disk is full.
    #[error("there is no room left to write `{}`\nhint: free some space and try again; nothing was changed", path.display())]
    Full {
        /// The file.
        path: PathBuf,
    },
    /// A survey nobody knows.
    #[error("there is no survey `{name}` in this book\nhint: {}", known_names(known))]
    UnknownSurvey {
        /// The name asked for.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
    /// A record nobody knows.
    #[error(
        "there is no {entity} `{id}` in this book\nhint: it may have been deleted; look it up again"
    )]
    Unknown {
        /// What was looked for.
        entity: &'static str,
        /// Its key.
        id: String,
    },
    /// A write to a sealed survey.
    #[error(
        "survey `{survey}` is sealed: {what} cannot be changed\nhint: change it with `quillwort amend`, saying who and why"
    )]
    Sealed {
        /// The survey.
        survey: String,
        /// What was to be changed.
        what: String,
    },
    /// A survey that is not sealed, and should be.
    #[error(
        "survey `{survey}` is not sealed: there is nothing to amend\nhint: edit it as usual, then close it with `quillwort seal`"
    )]
    NotSealed {
        /// The survey.
        survey: String,
    },
    /// A write the rules of the book refuse.
    #[error("{what}\nhint: {remedy}")]
    Refused {
        /// What is wrong, and where.
        what: String,
        /// What to do.
        remedy: String,
    },
    /// A value in a row that cannot be read.
    #[error(
        "table `{table}`, record `{id}`, field `{field}`: found `{found}`, expected {expected}\nhint: another program may have edited the book; `quillwort verify` lists such changes"
    )]
    Row {
        /// The table.
        table: &'static str,
        /// The record's key.
        id: String,
        /// The field.
        field: &'static str,
        /// The value found.
        found: String,
        /// What it should be.
        expected: String,
    },
    /// A number that cannot be kept.
    #[error(
        "{place}: `{found}` is no usable number\nhint: check the file or the calculation it came from"
    )]
    NotFinite {
        /// Where.
        place: String,
        /// The number.
        found: f64,
    },
    /// A step of the caller failed; nothing was written.
    #[error("{source}")]
    Abandoned {
        /// Why.
        source: Box<dyn std::error::Error + Send + Sync>,
    },
    /// The database refused.
    #[error("`{}`: {source}\nhint: nothing was changed; `quillwort verify` says whether the book is whole", path.display())]
    Database {
        /// The file.
        path: PathBuf,
        /// Why.
        source: rusqlite::Error,
    },
    /// A body that cannot be read.
    #[error(
        "the change log's event `{event}` cannot be read: {source}\nhint: `quillwort verify` says whether the book is whole"
    )]
    Body {
        /// The event.
        event: String,
        /// Why.
        source: serde_json::Error,
    },
}

impl BookError {
    /// Wraps a failure of the caller inside [`crate::LakeBook::transact`].
    pub fn other(source: impl Into<Box<dyn std::error::Error + Send + Sync>>) -> Self {
        Self::Abandoned { source: source.into() }
    }

    /// True when the file is at fault, not the database behind it.
    pub const fn is_not_a_book(&self) -> bool {
        matches!(
            self,
            Self::NotFound { .. }
                | Self::IsFolder { .. }
                | Self::Empty { .. }
                | Self::NotADatabase { .. }
                | Self::NotAGeoPackage { .. }
                | Self::NotALakeBook { .. }
                | Self::Truncated { .. }
        )
    }

    pub(crate) fn refused(what: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::Refused { what: what.into(), remedy: remedy.into() }
    }
}

/// The database's failure, before the path of the book is known.
impl From<rusqlite::Error> for BookError {
    fn from(source: rusqlite::Error) -> Self {
        Self::Database { path: PathBuf::new(), source }
    }
}

impl From<ParseIdError> for BookError {
    fn from(error: ParseIdError) -> Self {
        Self::Unknown { entity: "record", id: error.found }
    }
}

impl BookError {
    /// Puts the book's path into a failure of the database and says it in words where there are.
    pub(crate) fn at(self, book: &std::path::Path) -> Self {
        use rusqlite::ErrorCode as Code;
        let Self::Database { source, path } = self else { return self };
        let path = if path.as_os_str().is_empty() { book.to_owned() } else { path };
        match source.sqlite_error_code() {
            Some(Code::DatabaseBusy | Code::DatabaseLocked) => Self::Busy { path },
            Some(Code::ReadOnly) => Self::ReadOnly { path },
            Some(Code::DiskFull) => Self::Full { path },
            Some(Code::DatabaseCorrupt | Code::NotADatabase) => {
                Self::Damaged { path, reason: source.to_string() }
            }
            _ => Self::Database { path, source },
        }
    }
}

fn known_names(known: &[String]) -> String {
    if known.is_empty() {
        "the book has no survey yet; lay one with `quillwort plan`".to_owned()
    } else {
        let names: Vec<String> = known.iter().map(|name| format!("`{name}`")).collect();
        format!("it has {}", names.join(", "))
    }
}
