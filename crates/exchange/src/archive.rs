//! Zips, opened with care: a few kilobytes can hold gigabytes.

use crate::fault::{Fault, Faults};
use crate::kind::FileKind;
use std::io::{Cursor, Read as _};
use zip::ZipArchive;

/// A zip with more than this in it is refused.
const MOST_INFLATED: u64 = 512 * 1024 * 1024;
/// Up to here nobody asks how well the zip is packed.
const UNSUSPICIOUS: u64 = 32 * 1024 * 1024;
/// Tables and maps shrink to a fifth or a thirtieth; deflate ends near a thousandth.
const MOST_SHRUNK: u64 = 200;
/// A zip with more entries than this is refused.
const MOST_ENTRIES: usize = 10_000;

/// A zip whose entries are read one by one against one limit for all.
pub(crate) struct Archive<'a> {
    file: &'a str,
    zip: ZipArchive<Cursor<&'a [u8]>>,
    packed: u64,
    inflated: u64,
}

impl<'a> Archive<'a> {
    /// Reads the directory at its end.
    pub(crate) fn open(file: &'a str, bytes: &'a [u8]) -> Result<Self, Faults> {
        let zip = ZipArchive::new(Cursor::new(bytes)).map_err(|_damage| {
            let kind = FileKind::of(bytes).describe();
            Faults::one(
                Fault::file(file, "a whole file")
                    .found(format!("{kind} that breaks off or is damaged"))
                    .hint("it may not have finished downloading or saving: save or fetch it again"),
            )
        })?;
        if zip.len() > MOST_ENTRIES {
            return Err(Fault::file(file, format!("a zip of at most {MOST_ENTRIES} files"))
                .found(format!("{} files", zip.len()))
                .hint("give the one file that is needed")
                .into());
        }
        Ok(Self { file, zip, packed: bytes.len() as u64, inflated: 0 })
    }

    /// Names of the files in it, with their folders.
    pub(crate) fn names(&self) -> Vec<String> {
        let names = self.zip.file_names().flatten().map(std::borrow::Cow::into_owned);
        names.filter(|name| !name.ends_with('/')).collect()
    }

    /// One file in it.
    pub(crate) fn read(&mut self, name: &str) -> Result<Vec<u8>, Faults> {
        let damaged = |error: String| {
            Faults::one(
                Fault::file(self.file, format!("`{name}` inside it"))
                    .found(error)
                    .hint("the file is damaged: save or fetch it again"),
            )
        };
        let most = self.packed.saturating_mul(MOST_SHRUNK).clamp(UNSUSPICIOUS, MOST_INFLATED);
        let left = most.saturating_sub(self.inflated);
        let entry = self.zip.by_name(name).map_err(|error| damaged(error.to_string()))?;
        let mut bytes = Vec::new();
        // the size the entry states is its own word, so what comes out is counted
        let read = entry.take(left + 1).read_to_end(&mut bytes);
        read.map_err(|error| damaged(error.to_string()))?;
        let length = bytes.len() as u64;
        if length > left {
            let megabytes = most / (1024 * 1024);
            return Err(Fault::file(self.file, format!("at most {megabytes} MB when unzipped"))
                .field(name)
                .found(format!("more than {megabytes} MB"))
                .hint(
                    "so much out of so small a file is no survey and may be made to stop \
                     programs: ask the sender, or copy the rows that are needed into a new file",
                )
                .into());
        }
        self.inflated += length;
        Ok(bytes)
    }
}
