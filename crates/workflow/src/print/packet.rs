//! The packet: every paper of a survey's day, and the files for GPS units and phones.

use super::{Look, PrintKind, PrintRequest, print};
use crate::error::{Error, Result};
use crate::export::{ExportFormat, export};
use crate::route::Local;
use lakebook::LakeBook;

/// One file of the packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PacketFile {
    /// Its name, without a folder; a number in front keeps the order.
    pub name: String,
    /// Its pages; none for files that are not printed.
    pub pages: Option<usize>,
    /// Its content.
    pub bytes: Vec<u8>,
    /// What the user should know of it.
    pub remarks: Vec<String>,
}

/// Makes the whole packet of a survey: all papers but the report, and GPX, KML and CSV of its sites.
/// `progress` is told each paper before it is set: its number, how many there are, its name.
///
/// # Errors
/// As [`print()`] and [`export()`]; a paper the lake has no matter for (no depths, no plants) is left out
/// and told in the remarks of the first file.
pub fn packet(
    book: &LakeBook,
    survey: &str,
    look: Look,
    local: Local,
    fonts: &[&'static [u8]],
    progress: &mut dyn FnMut(usize, usize, &str),
) -> Result<Vec<PacketFile>> {
    let kinds: Vec<PrintKind> =
        PrintKind::ALL.iter().copied().filter(|kind| *kind != PrintKind::Report).collect();
    let mut files: Vec<PacketFile> = Vec::new();
    let mut left_out = Vec::new();
    for (index, kind) in kinds.iter().enumerate() {
        progress(index + 1, kinds.len() + 1, kind.key());
        let request = PrintRequest { kind: *kind, survey: Some(survey), look, local, fonts };
        match print(book, &request) {
            Ok(done) => files.push(PacketFile {
                name: format!("{:02}-{}.pdf", index + 1, kind.key()),
                pages: Some(done.pages),
                bytes: done.pdf,
                remarks: done.remarks,
            }),
            Err(error) if !kind.of_survey() => {
                left_out.push(format!("{} is left out: {}", kind.key(), error.message));
            }
            Err(error) => return Err(error),
        }
    }
    progress(kinds.len() + 1, kinds.len() + 1, "gps");
    for format in [ExportFormat::Gpx, ExportFormat::Kml, ExportFormat::Csv] {
        for file in export(book, survey, format)?.into_iter().take(1) {
            files.push(PacketFile {
                name: format!("sites.{}", format.key()),
                pages: None,
                bytes: file.text.into_bytes(),
                remarks: Vec::new(),
            });
        }
    }
    if let Some(first) = files.first_mut() {
        first.remarks.extend(left_out);
    }
    Ok(files)
}

/// Files of a packet as one archive.
///
/// # Errors
/// When it cannot be written.
pub fn zip<'a>(files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> Result<Vec<u8>> {
    exchange::zip_out::to_zip(files).map_err(|reason| Error::fault(format!("an archive: {reason}")))
}
