//! Is it a lake book? Asked of the bytes before anything is opened for writing.

use crate::error::BookError;
use crate::schema::APPLICATION_ID;
use std::ffi::OsString;
use std::fs;
use std::io::Read as _;
use std::path::{Path, PathBuf};

/// The first 16 bytes of every SQLite file. Source: SQLite file format, section 1.3.
const MAGIC: &[u8; 16] = b"SQLite format 3\0";
/// Length of the file header.
const HEADER: usize = 100;

/// Refuses, with its own sentence each, what cannot be a lake book.
pub(crate) fn recognise(path: &Path) -> Result<(), BookError> {
    let owned = || path.to_owned();
    let unreadable = |source: std::io::Error| match source.kind() {
        std::io::ErrorKind::NotFound => BookError::NotFound { path: owned() },
        _ => BookError::File { path: owned(), source },
    };
    let meta = fs::metadata(path).map_err(unreadable)?;
    if meta.is_dir() {
        return Err(BookError::IsFolder { path: owned() });
    }
    if meta.len() == 0 {
        return Err(BookError::Empty { path: owned() });
    }
    let mut header = Vec::with_capacity(HEADER);
    fs::File::open(path)
        .and_then(|file| file.take(HEADER as u64).read_to_end(&mut header))
        .map_err(unreadable)?;
    let shared = header.len().min(MAGIC.len());
    if header[..shared] != MAGIC[..shared] {
        return Err(BookError::NotADatabase { path: owned() });
    }
    if header.len() < HEADER {
        return Err(BookError::Truncated {
            path: owned(),
            found: meta.len(),
            expected: HEADER as u64,
        });
    }
    let number = |at: usize| {
        u32::from_be_bytes([header[at], header[at + 1], header[at + 2], header[at + 3]])
    };
    let application = number(68);
    if application != APPLICATION_ID {
        return Err(BookError::NotAGeoPackage { path: owned(), found: application });
    }
    let page = match u64::from(u16::from_be_bytes([header[16], header[17]])) {
        1 => 65_536,
        other => other,
    };
    let expected = page * u64::from(number(28));
    // while a log lies beside it the file may still be behind its header
    let log_beside = fs::metadata(beside(path, "-wal")).is_ok_and(|log| log.len() > 0);
    if meta.len() < expected && !log_beside {
        return Err(BookError::Truncated { path: owned(), found: meta.len(), expected });
    }
    Ok(())
}

/// The path with something put behind the file's name.
pub(crate) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = OsString::from(path.as_os_str());
    name.push(ending);
    name.into()
}

/// A free name beside the book for the copy made before a migration.
pub(crate) fn copy_name(path: &Path, version: u32) -> PathBuf {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let named = |ending: String| path.with_file_name(format!("{stem}.form-{version}{ending}.gpkg"));
    let first = named(String::new());
    if !first.exists() {
        return first;
    }
    // a folder holds fewer copies than that
    (2..u32::MAX)
        .map(|number| named(format!("-{number}")))
        .find(|name| !name.exists())
        .unwrap_or(first)
}
