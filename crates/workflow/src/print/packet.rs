//! The packet: every paper of a survey's day, and the files for GPS units and phones.

use super::{Desk, Look, PrintKind, Printed, map, words};
use crate::error::{Error, Result};
use crate::export::{ExportFormat, export};
use crate::route::Local;
use lakebook::LakeBook;
use report::{Draft, Fonts, Packet, Part};

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

/// Makes the whole packet of a survey: all papers but the report and the record in one file and each by itself, and GPX, KML and CSV of
/// its sites. `progress` is told each step before it is done: its number, how many there are, its name.
///
/// # Errors
/// As [`print()`](super::print()) and [`export()`]; a paper the lake has no matter for (no depths, no plants) is left
/// out and told in the remarks of the first file.
pub fn packet(
    book: &LakeBook,
    survey: &str,
    look: Look,
    local: Local,
    fonts: &[&'static [u8]],
    progress: &mut dyn FnMut(usize, usize, &str),
) -> Result<Vec<PacketFile>> {
    let fonts = Fonts::new(fonts.iter().map(|file| file.to_vec()).collect())?;
    let desk = Desk::of(book, Some(survey), look, local, &fonts)?;
    let (parts, left_out) = parts(&desk, progress)?;
    progress(STEPS - 1, STEPS, "packet");
    let whole = whole(&desk, parts.clone())?;
    let mut files = vec![PacketFile {
        name: "packet.pdf".to_owned(),
        pages: Some(whole.pages),
        bytes: whole.pdf,
        remarks: left_out,
    }];
    for (kind, draft) in parts {
        let number = 1 + PAPERS.iter().position(|(one, ..)| *one == kind).unwrap_or(0);
        let done: Printed = draft.print(&fonts)?.into();
        files.push(PacketFile {
            name: format!("{number:02}-{}.pdf", kind.key()),
            pages: Some(done.pages),
            bytes: done.pdf,
            remarks: done.remarks,
        });
    }
    progress(STEPS, STEPS, "gps");
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
    Ok(files)
}

/// The papers of a packet in its order, with their names and what they are for.
const PAPERS: [(PrintKind, &str, &str); 9] = [
    (PrintKind::Safety, "Safety page", "float plan for someone on shore, cautions, hygiene"),
    (PrintKind::Kit, "Kit list", "what to load, a box to tick for each boat"),
    (PrintKind::Sheets, "Field sheets", "in the order of the boats; waterproof paper"),
    (PrintKind::MapPages, "Maps of the sheets", "one for each sheet, its own sites large"),
    (PrintKind::Map, "Site map", "all sites on one page"),
    (PrintKind::DepthMap, "Depth map", "contours, hazards and launches"),
    (PrintKind::PlantCards, "Plant cards", "to cut and laminate, for the boat"),
    (PrintKind::VoucherLabels, "Voucher labels", "to cut, for bags and specimens"),
    (PrintKind::ResidentsCard, "Card for residents", "one page to hand out along the shore"),
];

/// Steps of a packet: its papers, the one file, the files for GPS units.
const STEPS: usize = PAPERS.len() + 2;

type Drafts = Vec<(PrintKind, Draft)>;

/// The papers ready to be set, and what was left out for want of matter.
pub(super) fn parts(
    desk: &Desk<'_>,
    progress: &mut dyn FnMut(usize, usize, &str),
) -> Result<(Drafts, Vec<String>)> {
    let mut drafts = Vec::new();
    let mut left_out = Vec::new();
    desk.need_record(PrintKind::Packet)?;
    for (index, (kind, ..)) in PAPERS.into_iter().enumerate() {
        progress(index + 1, STEPS, kind.key());
        match desk.draft(kind) {
            Ok(draft) => drafts.push((kind, draft)),
            Err(error) if !kind.of_survey() => {
                left_out.push(format!("{} is left out: {}", kind.key(), error.message));
            }
            Err(error) => return Err(error),
        }
    }
    Ok((drafts, left_out))
}

/// All of them in one file.
pub(super) fn whole(desk: &Desk<'_>, drafts: Drafts) -> Result<Printed> {
    let parts = drafts
        .into_iter()
        .filter_map(|(kind, draft)| {
            let (_, name, about) = PAPERS.iter().find(|(one, ..)| *one == kind)?;
            Some(Part { name: (*name).to_owned(), about: (*about).to_owned(), draft })
        })
        .collect();
    let record = desk.need_record(PrintKind::Packet)?;
    let mut lake = map::site_map(desk.book, &desk.ground, record)?.map;
    lake.treated.clear();
    lake.sub_areas.clear();
    let about = Packet {
        lake: desk.ground.lake.name.clone(),
        survey: record.survey.name.clone(),
        day: words::day(desk.book, record)?,
        notes: vec![
            "The GPS file holds the same sites under the same numbers, in the same order."
                .to_owned(),
            "Leave the safety page with someone on shore.".to_owned(),
        ],
        map: lake,
    };
    Ok(report::packet(&about, parts, &desk.settings, desk.fonts)?.into())
}

/// Files of a packet as one archive.
///
/// # Errors
/// When it cannot be written.
pub fn zip<'a>(files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> Result<Vec<u8>> {
    exchange::zip_out::to_zip(files).map_err(|reason| Error::fault(format!("an archive: {reason}")))
}
