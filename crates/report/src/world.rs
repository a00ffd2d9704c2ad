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

/// A paper ready to be set: by itself with [`Draft::print`], or with others in [`crate::packet()`].
#[derive(Debug, Clone)]
pub struct Draft {
    /// The word for it in messages.
    pub(crate) paper: &'static str,
    /// The Typst source.
    pub(crate) template: &'static str,
    /// Everything untrusted, as data.
    pub(crate) data: Value,
    /// Pictures by file name.
    pub(crate) pictures: Vec<(String, Drawing)>,
    /// Files as they are by name, photos above all.
    pub(crate) files: Vec<(String, Vec<u8>)>,
    /// Stable identity of the document.
    pub(crate) ident: String,
    /// Common settings.
    pub(crate) settings: Settings,
    /// What the reader should know before it is set.
    pub(crate) remarks: Vec<String>,
}

impl Draft {
    /// A paper of words alone.
    pub(crate) fn new(
        paper: &'static str,
        template: &'static str,
        data: Value,
        ident: String,
        settings: &Settings,
    ) -> Self {
        Self {
            paper,
            template,
            data,
            pictures: Vec::new(),
            files: Vec::new(),
            ident,
            settings: settings.clone(),
            remarks: Vec::new(),
        }
    }

    /// Sets the paper and turns it into a PDF.
    ///
    /// # Errors
    /// [`PrintError::OutOfRange`] for settings no paper has, and the typesetter's errors.
    pub fn print(self, fonts: &Fonts) -> Result<Print, PrintError> {
        set(self, Vec::new(), fonts)
    }
}

struct PaperWorld<'a> {
    library: LazyHash<Library>,
    fonts: &'a Fonts,
    main: FileId,
    sources: BTreeMap<String, Source>,
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

/// Sources, files and remarks of the papers of one print.
struct Stock<'a> {
    fonts: &'a Fonts,
    sources: BTreeMap<String, Source>,
    files: BTreeMap<String, Bytes>,
    missing: BTreeSet<char>,
    remarks: BTreeSet<String>,
}

impl Stock<'_> {
    /// Takes in a paper under a folder of its own; `packet` when it is a part of one.
    fn take_in(&mut self, folder: &str, draft: Draft, packet: bool) -> Result<(), PrintError> {
        let Draft { paper, template, mut data, pictures, files, settings, remarks, .. } = draft;
        clean(&mut data, self.fonts, &mut self.missing);
        data["style"] = serde_json::json!({
            "family": self.fonts.family(),
            "paper": settings.paper.key(),
            "colour": settings.palette == crate::Palette::Colour,
            "author": self.fonts.printable(&settings.author, &mut self.missing),
            "packet": packet,
        });
        for (name, text) in [("main.typ", template), ("common.typ", COMMON)] {
            let path = format!("{folder}{name}");
            let id = file_id(&path).ok_or_else(|| PrintError::Typesetting {
                paper,
                reason: format!("no name for `{path}`"),
            })?;
            self.sources.insert(path, Source::new(id, text.to_owned()));
        }
        self.remarks.extend(remarks);
        self.files.insert(format!("{folder}data.json"), Bytes::from_string(data.to_string()));
        for (name, drawing) in pictures {
            self.missing.extend(&drawing.missing_letters);
            self.remarks.extend(drawing.remarks);
            self.files.insert(format!("{folder}{name}"), Bytes::from_string(drawing.svg));
        }
        for (name, bytes) in files {
            self.files.insert(format!("{folder}{name}"), Bytes::new(bytes));
        }
        Ok(())
    }
}

/// Sets a paper, and with it those it includes: the first of `parts` as `part-0/main.typ`, and so on.
pub(crate) fn set(whole: Draft, parts: Vec<Draft>, fonts: &Fonts) -> Result<Print, PrintError> {
    crate::error::check_settings(&whole.settings)?;
    let (paper, ident) = (whole.paper, whole.ident.clone());
    let fault = |reason: String| PrintError::Typesetting { paper, reason };
    let date = whole.settings.printed_on;
    let (month, day) = (date.month().unsigned_abs(), date.day().unsigned_abs());
    let today = Datetime::from_ymd_hms(i32::from(date.year()), month, day, 0, 0, 0)
        .ok_or_else(|| fault(format!("`{date}` is no date")))?;
    let main = file_id("main.typ").ok_or_else(|| fault("no name for the template".to_owned()))?;
    let mut stock = Stock {
        fonts,
        sources: BTreeMap::new(),
        files: BTreeMap::new(),
        missing: BTreeSet::new(),
        remarks: BTreeSet::new(),
    };
    stock.take_in("", whole, false)?;
    for (index, part) in parts.into_iter().enumerate() {
        stock.take_in(&format!("part-{index}/"), part, true)?;
    }
    let Stock { sources, files, missing, mut remarks, .. } = stock;
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
