//! Papers from the book: field sheets, the site map, the report.

mod map;
mod report_input;
mod sheets;

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::surveys::record_of;
use jiff::civil::Date;
use lakebook::LakeBook;
use report::{Fonts, Print, PrintError, Settings};

pub(crate) use map::place_of;
pub use report::{Palette, Paper};

/// What can be printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrintKind {
    /// Field sheets.
    Sheets,
    /// Site map.
    Map,
    /// Report of a survey.
    Report,
}

/// How it is printed.
#[derive(Debug, Clone)]
pub struct PrintRequest<'a> {
    /// What.
    pub kind: PrintKind,
    /// Name of the survey.
    pub survey: &'a str,
    /// Paper.
    pub paper: Paper,
    /// Colour or black ink only.
    pub palette: Palette,
    /// The day on the paper.
    pub printed_on: Date,
    /// The typeface, as files.
    pub fonts: &'a [&'static [u8]],
}

/// A paper: the file and what had to be left out of it.
#[derive(Debug, Clone)]
pub struct Printed {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Its pages.
    pub pages: usize,
    /// What was left out for want of room.
    pub remarks: Vec<String>,
}

impl From<PrintError> for Error {
    fn from(error: PrintError) -> Self {
        let text = error.to_string();
        match text.split_once("\nhint: ") {
            Some((message, hint)) => Self::input(message).hint(hint),
            None => Self::input(text),
        }
    }
}

/// Prints a paper of a survey.
///
/// # Errors
/// When the survey has no sites, the lake no outline, or the typeface is missing.
pub fn print(book: &LakeBook, request: &PrintRequest<'_>) -> Result<Printed> {
    let record = record_of(book, request.survey)?;
    let ground = Ground::of(book)?;
    let fonts = Fonts::new(request.fonts.iter().map(|file| file.to_vec()).collect())?;
    let settings = Settings {
        paper: request.paper,
        palette: request.palette,
        units: ground.lake.units,
        printed_on: request.printed_on,
        author: record.survey.crew.first().map(|one| one.name.clone()).unwrap_or_default(),
    };
    let done: Print = match request.kind {
        PrintKind::Sheets => {
            report::field_sheets(&sheets::field_sheets(book, &ground, &record)?, &settings, &fonts)?
        }
        PrintKind::Map => {
            report::site_map(&map::site_map(book, &ground, &record)?, &settings, &fonts)?
        }
        PrintKind::Report => report::survey_report(
            &report_input::survey_report(book, &ground, &record)?,
            &settings,
            &fonts,
        )?,
    };
    Ok(Printed { pages: done.pages.len(), pdf: done.pdf, remarks: done.remarks })
}

/// A number as the papers count.
fn count(number: usize) -> u64 {
    u64::try_from(number).unwrap_or(u64::MAX)
}
