//! The closed world a paper is set in: templates, pictures, data and fonts in memory, a fixed date,
//! and nothing else. No file is read, no package fetched, no clock asked.

use crate::draw::Drawing;
use crate::error::PrintError;
use crate::fonts::Fonts;
use crate::settings::Settings;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::layout::{Abs, Frame, FrameItem, Point, Transform};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

/// A finished paper.
#[derive(Debug, Clone)]
pub struct Print {
    /// The PDF file: PDF/A-2a (lasting) and PDF/UA-1 (accessible).
    pub pdf: Vec<u8>,
    /// What stands where, page by page; lettering inside pictures is not in it.
    pub pages: Vec<PrintedPage>,
    /// What the reader of the file should know: letters no font has, labels left out for want of room.
    pub remarks: Vec<String>,
}

/// One page of a [`Print`].
#[derive(Debug, Clone, PartialEq)]
pub struct PrintedPage {
    /// Width in points.
    pub width: f64,
    /// Height in points.
    pub height: f64,
    /// The pieces of text in the order they were set.
    pub texts: Vec<PlacedText>,
}

/// A piece of text on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedText {
    /// The letters.
    pub text: String,
    /// Left end of the base line, points from the page's left edge.
    pub x: f64,
    /// Base line, points from the page's top edge.
    pub y: f64,
    /// Width in points.
    pub width: f64,
    /// Size of the letters in points.
    pub size: f64,
}

/// What goes into one paper.
pub(crate) struct Job<'a> {
    /// The word for it in messages.
    pub(crate) paper: &'static str,
    /// The Typst source.
    pub(crate) template: &'static str,
    /// Everything untrusted, as data.
    pub(crate) data: Value,
    /// Pictures by file name.
    pub(crate) pictures: Vec<(String, Drawing)>,
    /// Stable identity of the document.
    pub(crate) ident: String,
    /// Common settings.
    pub(crate) settings: &'a Settings,
}

struct PaperWorld<'a> {
    library: LazyHash<Library>,
    fonts: &'a Fonts,
    main: FileId,
    sources: BTreeMap<&'static str, Source>,
    files: BTreeMap<String, Bytes>,
    today: Datetime,
}

impl World for PaperWorld<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        self.fonts.book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        match id.root() {
            VirtualRoot::Project => self.sources.get(id.vpath().get_without_slash()).cloned(),
            VirtualRoot::Package(_) => None,
        }
        .ok_or(FileError::AccessDenied)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        match id.root() {
            VirtualRoot::Project => self.files.get(id.vpath().get_without_slash()).cloned(),
            VirtualRoot::Package(_) => None,
        }
        .ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.face(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        Some(self.today)
    }
}

const COMMON: &str = include_str!("templates/common.typ");

fn file_id(name: &str) -> Option<FileId> {
    let path = VirtualPath::new(name).ok()?;
    Some(RootedPath::new(VirtualRoot::Project, path).intern())
}

/// A word longer than any line of a table gets soft hyphens, so that it breaks rather than runs off.
fn breakable(text: &str) -> String {
    const LONGEST: usize = 24;
    const EVERY: usize = 12;
    if text.split_whitespace().all(|word| word.chars().count() <= LONGEST) {
        return text.to_owned();
    }
    let with_hyphens = |word: &str| -> String {
        if word.chars().count() <= LONGEST {
            return word.to_owned();
        }
        let letters: Vec<char> = word.chars().collect();
        letters
            .chunks(EVERY)
            .map(|part| part.iter().collect::<String>())
            .collect::<Vec<_>>()
            .join("\u{ad}")
    };
    text.split(' ').map(with_hyphens).collect::<Vec<_>>().join(" ")
}

/// Makes every text of the data printable; keys are ours and stay.
fn clean(value: &mut Value, fonts: &Fonts, missing: &mut BTreeSet<char>) {
    match value {
        Value::String(text) => *text = breakable(&fonts.printable(text, missing)),
        Value::Array(items) => items.iter_mut().for_each(|item| clean(item, fonts, missing)),
        Value::Object(fields) => {
            fields.values_mut().for_each(|field| clean(field, fonts, missing));
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// Sets a paper and turns it into a PDF.
pub(crate) fn print(job: Job<'_>, fonts: &Fonts) -> Result<Print, PrintError> {
    print_with_files(job, Vec::new(), fonts)
}

/// The same with files as they are, photos above all.
pub(crate) fn print_with_files(
    job: Job<'_>,
    more: Vec<(String, Vec<u8>)>,
    fonts: &Fonts,
) -> Result<Print, PrintError> {
    crate::error::check_settings(job.settings)?;
    let Job { paper, template, mut data, pictures, ident, settings } = job;
    let fault = |reason: String| PrintError::Typesetting { paper, reason };

    let date = settings.printed_on;
    let (month, day) = (date.month().unsigned_abs(), date.day().unsigned_abs());
    let today = Datetime::from_ymd_hms(i32::from(date.year()), month, day, 0, 0, 0)
        .ok_or_else(|| fault(format!("`{date}` is no date")))?;

    let mut missing = BTreeSet::new();
    clean(&mut data, fonts, &mut missing);
    data["style"] = serde_json::json!({
        "family": fonts.family(),
        "paper": settings.paper.key(),
        "colour": settings.palette == crate::Palette::Colour,
        "author": fonts.printable(&settings.author, &mut missing),
    });

    let main = file_id("main.typ").ok_or_else(|| fault("no name for the template".to_owned()))?;
    let common = file_id("common.typ").ok_or_else(|| fault("no name for it".to_owned()))?;
    let sources = BTreeMap::from([
        ("main.typ", Source::new(main, template.to_owned())),
        ("common.typ", Source::new(common, COMMON.to_owned())),
    ]);
    let mut remarks = BTreeSet::new();
    let mut files =
        BTreeMap::from([("data.json".to_owned(), Bytes::from_string(data.to_string()))]);
    for (name, drawing) in pictures {
        missing.extend(&drawing.missing_letters);
        remarks.extend(drawing.remarks);
        files.insert(name, Bytes::from_string(drawing.svg));
    }
    files.extend(more.into_iter().map(|(name, bytes)| (name, Bytes::new(bytes))));
    if !missing.is_empty() {
        let letters: String = missing.iter().collect();
        remarks.insert(format!(
            "the fonts lack `{letters}`, printed as □\nhint: hand over a font that has these letters"
        ));
    }

    let world = PaperWorld {
        library: LazyHash::new(<Library as LibraryExt>::default()),
        fonts,
        main,
        sources,
        files,
        today,
    };
    let compiled = typst::compile::<PagedDocument>(&world);
    let explain = |faults: &[SourceDiagnostic]| {
        faults.iter().map(|fault| describe(&world, fault)).collect::<Vec<_>>().join("\n")
    };
    let document = compiled.output.map_err(|faults| fault(explain(&faults)))?;
    if cfg!(debug_assertions) && !compiled.warnings.is_empty() {
        return Err(fault(explain(&compiled.warnings)));
    }
    let standards = PdfStandards::new(&[PdfStandard::A_2a, PdfStandard::Ua_1])
        .map_err(|error| fault(error.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Custom(ident),
        creator: Smart::Custom(Some("Quillwort".to_owned())),
        timestamp: Some(Timestamp::new_utc(today)),
        standards,
        ..PdfOptions::default()
    };
    let pdf = typst_pdf::pdf(&document, &options).map_err(|faults| PrintError::NotLasting {
        paper,
        reason: explain(&faults),
        hint: "look for unusual letters in names and notes".to_owned(),
    })?;
    let pages = document.pages().iter().map(|page| read_page(&page.frame)).collect();
    comemo::evict(4);
    Ok(Print { pdf, pages, remarks: remarks.into_iter().collect() })
}

fn describe(world: &PaperWorld<'_>, fault: &SourceDiagnostic) -> String {
    use typst::WorldExt;
    let line = world.range(fault.span).and_then(|range| {
        let id = fault.span.id()?;
        let source = world.source(id).ok()?;
        let line = source.lines().byte_to_line(range.start)? + 1;
        Some(format!(" ({} line {line})", id.vpath().get_without_slash()))
    });
    let mut text = format!("{}{}", fault.message, line.unwrap_or_default());
    for hint in &fault.hints {
        text.push_str("\nhint: ");
        text.push_str(&hint.v);
    }
    text
}

fn read_page(frame: &Frame) -> PrintedPage {
    let mut texts = Vec::new();
    walk(frame, Transform::identity(), &mut texts);
    PrintedPage { width: frame.width().to_pt(), height: frame.height().to_pt(), texts }
}

fn walk(frame: &Frame, onto_page: Transform, texts: &mut Vec<PlacedText>) {
    for (point, item) in frame.items() {
        match item {
            FrameItem::Group(group) => {
                let inner = onto_page
                    .pre_concat(Transform::translate(point.x, point.y))
                    .pre_concat(group.transform);
                walk(&group.frame, inner, texts);
            }
            FrameItem::Text(text) => {
                let place: Point = point.transform(onto_page);
                let pt = |length: Abs| (length.to_pt() * 100.0).round() / 100.0;
                texts.push(PlacedText {
                    text: text.text.to_string(),
                    x: pt(place.x),
                    y: pt(place.y),
                    width: pt(text.width()),
                    size: pt(text.size),
                });
            }
            FrameItem::Shape(..)
            | FrameItem::Image(..)
            | FrameItem::Link(..)
            | FrameItem::Tag(_) => {}
        }
    }
}
