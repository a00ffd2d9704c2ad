//! Field sheets that come back as pictures: filed to survey and sites by their mark, kept as evidence.

use crate::error::{Error, Result};
use crate::print::mark_key;
use crate::views::SheetScanView;
use exchange::sheet_mark::{SheetMark, read_marks};
use lakebook::{DataSet, DataSetContent, LakeBook, SheetScan};
use std::path::Path;

/// Files a picture of a field sheet. Nothing is typed from it: it stands beside what was.
///
/// # Errors
/// When the file is no JPEG or PNG picture, shows no mark of ours, or the mark of another book.
pub fn file_sheet(book: &mut LakeBook, path: &Path, preview: bool) -> Result<SheetScanView> {
    let shown = path.display();
    let bytes = std::fs::read(path).map_err(|error| {
        Error::input(format!("`{shown}` cannot be read: {error}"))
            .hint("check the name of the file")
    })?;
    let file_name =
        path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let shown = shown.to_string();
    let mark = mark_of(&shown, &texts_of(&shown, &bytes)?)?;
    file(book, &file_name, bytes, mark, preview)
}

/// A picture of a field sheet as it is sent: read before the book is asked to write.
#[derive(Debug, Clone)]
pub struct SentSheet {
    name: String,
    bytes: Vec<u8>,
    mark: std::result::Result<SheetMark, Error>,
}

/// Which sheet a picture shows, said by a person because its mark cannot be read.
#[derive(Debug, Clone)]
pub struct SaidSheet {
    /// Number of the sheet.
    pub sheet: u32,
    /// Number of sheets.
    pub sheets: u32,
    /// Codes of its rows, from the top.
    pub sites: Vec<String>,
}

impl SentSheet {
    /// Reads the mark.
    ///
    /// # Errors
    /// When it is no JPEG or PNG picture.
    pub fn read(name: &str, bytes: Vec<u8>) -> Result<Self> {
        let mark = mark_of(name, &texts_of(name, &bytes)?);
        Ok(Self { name: name.to_owned(), bytes, mark })
    }
}

/// Files a picture that was sent: by its mark, or where that cannot be read as it is said.
///
/// # Errors
/// When it shows no mark and nobody says which sheet it is, or the mark of another book.
pub fn keep_sheet(
    book: &mut LakeBook,
    survey: &str,
    sent: SentSheet,
    said: Option<SaidSheet>,
) -> Result<SheetScanView> {
    let mark = match (sent.mark, said) {
        (Ok(mark), _) => mark,
        (Err(error), None) => return Err(error),
        (Err(_), Some(said)) => SheetMark {
            key: mark_key(book.survey_by_name(survey)?.id),
            sheet: said.sheet.to_string(),
            sheets: said.sheets,
            sites: said.sites,
        },
    };
    file(book, &sent.name, sent.bytes, mark, false)
}

/// The picture of a sheet with its kind.
///
/// # Errors
/// When the survey has no such picture.
pub fn sheet_picture(
    book: &LakeBook,
    survey: &str,
    sha256: &str,
) -> Result<(String, &'static str, Vec<u8>)> {
    let survey = book.survey_by_name(survey)?;
    let missing = || Error::not_found(format!("survey `{}` has no such sheet", survey.name));
    let scan = book
        .sheet_scans(survey.id)?
        .into_iter()
        .find(|scan| scan.sha256 == sha256.trim())
        .ok_or_else(missing)?;
    let DataSetContent::Raster(bytes) = book.load_data_set(&scan.sha256)? else {
        return Err(missing());
    };
    let kind = content_type(&bytes).ok_or_else(missing)?;
    Ok((scan.file_name, kind, bytes))
}

fn content_type(bytes: &[u8]) -> Option<&'static str> {
    match bytes {
        [0xff, 0xd8, 0xff, ..] => Some("image/jpeg"),
        [0x89, b'P', b'N', b'G', ..] => Some("image/png"),
        _ => None,
    }
}

/// What the square marks of a picture say.
fn texts_of(shown: &str, bytes: &[u8]) -> Result<Vec<String>> {
    read_marks(bytes).map_err(|reason| {
        Error::input(format!("`{shown}`: {reason}")).hint(
            "give a photo or a scan as JPEG or PNG; a PDF of a scanner is saved as pictures first",
        )
    })
}

/// The one mark of a field sheet among them.
fn mark_of(shown: &str, texts: &[String]) -> Result<SheetMark> {
    let marks: Vec<SheetMark> = texts.iter().filter_map(|text| SheetMark::read(text)).collect();
    match marks.as_slice() {
        [one] => Ok(one.clone()),
        [] if texts.is_empty() => Err(Error::input(format!(
            "`{shown}` shows no mark of a field sheet"
        ))
        .hint(
            "photograph the whole sheet straight from above, in even light, with the square at its \
                 upper right sharp",
        )),
        [] => Err(Error::input(format!("`{shown}` shows a mark that is none of a field sheet"))
            .hint("photograph a sheet printed by `quillwort print BOOK sheets`")),
        several => Err(Error::input(format!("`{shown}` shows {} sheets at once", several.len()))
            .hint("photograph one sheet at a time")),
    }
}

fn file(
    book: &mut LakeBook,
    file_name: &str,
    bytes: Vec<u8>,
    mark: SheetMark,
    preview: bool,
) -> Result<SheetScanView> {
    let survey = book
        .surveys()?
        .into_iter()
        .find(|survey| mark_key(survey.id) == mark.key.to_uppercase())
        .ok_or_else(|| {
            Error::not_found(format!(
                "`{file_name}` is a sheet of a survey this book does not hold"
            ))
            .hint("open the book the sheet was printed from")
        })?;
    let record = book.record(survey.id)?;
    let mut warnings = Vec::new();
    let gone: Vec<&String> = mark
        .sites
        .iter()
        .filter(|code| record.sites.iter().all(|site| site.code.as_str() != code.as_str()))
        .collect();
    if !gone.is_empty() {
        let codes: Vec<&str> = gone.iter().map(|code| code.as_str()).collect();
        warnings.push(format!("the plan no longer has these rows of it: {}", codes.join(", ")));
    }
    if mark.sites.is_empty() {
        warnings.push("a spare sheet: its rows are those the crew wrote on it".to_owned());
    }
    let sha256 = lakebook::sha256_hex(&bytes);
    let known = book.sheet_scans(survey.id)?.iter().any(|scan| scan.sha256 == sha256);
    if !known && !preview {
        let spare = mark.sheet.starts_with('S');
        let number = mark.sheet.trim_start_matches('S').parse().unwrap_or(0);
        let scan = SheetScan {
            id: book.new_id(),
            survey: survey.id,
            sheet: number,
            sheets: mark.sheets,
            sites: mark.sites.clone(),
            file_name: file_name.to_owned(),
            sha256: sha256.clone(),
            note: if spare { "spare sheet".to_owned() } else { String::new() },
        };
        let picture = DataSet {
            name: file_name.to_owned(),
            unit: String::new(),
            crs: String::new(),
            content: DataSetContent::Raster(bytes),
            note: format!("field sheet {} of {}", mark.sheet, survey.name),
        };
        let note = format!("sheet {} of {} read back", mark.sheet, survey.name);
        book.transact(&note, |writer| {
            writer.put_data_set(&picture)?;
            writer.put_sheet_scan(&scan)
        })?;
    }
    Ok(SheetScanView {
        survey: survey.name,
        sheet: mark.sheet,
        sheets: mark.sheets,
        sites: mark.sites,
        file: file_name.to_owned(),
        sha256,
        known,
        warnings,
    })
}

/// The sheets of a survey that were read back, by number.
///
/// # Errors
/// When there is no such survey.
pub fn sheet_scans(book: &LakeBook, survey: &str) -> Result<Vec<SheetScanView>> {
    let survey = book.survey_by_name(survey)?;
    Ok(book
        .sheet_scans(survey.id)?
        .into_iter()
        .map(|scan| SheetScanView {
            survey: survey.name.clone(),
            sheet: if scan.note == "spare sheet" {
                format!("S{}", scan.sheet)
            } else {
                scan.sheet.to_string()
            },
            sheets: scan.sheets,
            sites: scan.sites,
            file: scan.file_name,
            sha256: scan.sha256,
            known: true,
            warnings: Vec::new(),
        })
        .collect())
}
