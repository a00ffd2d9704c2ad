//! `print`, `export`, `backup`.

use super::plan::{day_words, keep_route, plan_route};
use super::{open, read};
use crate::cli::{BackupArgs, DayArgs, ExportArgs, KitArgs, PrintArgs};
use crate::output::{self, Answer};
use crate::ports;
use std::path::Path;
use workflow::export::{BedFormat, ExportFormat};
use workflow::print::{Look, Palette, Paper, PrintKind, PrintRequest};
use workflow::{Error, Result};

pub(crate) fn print(args: &PrintArgs) -> Result<Answer> {
    let kind = PrintKind::from_key(&args.what)
        .ok_or_else(|| Error::input(format!("`{}` is no paper", args.what)))?;
    let ends = |ending| args.output.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending));
    if kind == PrintKind::Packet && !ends("pdf") {
        return packet(args, ends("zip"));
    }
    keep_asked_route(args)?;
    let book = read(&args.book)?;
    let fonts = ui::fonts();
    let request = PrintRequest {
        kind,
        survey: args.survey.as_deref(),
        look: look(args),
        local: ports::local(),
        fonts: &fonts,
    };
    let printed =
        output::while_working("setting the pages", || workflow::print::print(&book, &request))?;
    std::fs::write(&args.output, &printed.pdf).map_err(|error| {
        Error::input(format!("`{}` cannot be written: {error}", args.output.display()))
            .hint("check the folder, or close the file where it is open")
    })?;
    output::say(&format!("printed {} pages to {}", printed.pages, args.output.display()));
    output::warnings(&printed.remarks);
    Ok(Answer::Done)
}

fn cannot_write(path: &Path, error: &std::io::Error) -> Error {
    Error::input(format!("`{}` cannot be written: {error}", path.display()))
        .hint("check the folder, or close the file where it is open")
}

/// All papers of a survey's day in one folder or archive.
fn packet(args: &PrintArgs, as_one: bool) -> Result<Answer> {
    let Some(survey) = &args.survey else {
        return Err(Error::input("a packet is of a survey")
            .hint("say which with `--survey NAME`; `quillwort surveys BOOK` lists them"));
    };
    keep_asked_route(args)?;
    let book = read(&args.book)?;
    let fonts = ui::fonts();
    let files = output::with_steps("setting the pages", |step| {
        workflow::print::packet(&book, survey, look(args), ports::local(), &fonts, step)
    })?;
    if as_one {
        let parts = files.iter().map(|file| (file.name.as_str(), file.bytes.as_slice()));
        let bytes = workflow::print::zip(parts)?;
        std::fs::write(&args.output, bytes).map_err(|error| cannot_write(&args.output, &error))?;
    } else {
        std::fs::create_dir_all(&args.output)
            .map_err(|error| cannot_write(&args.output, &error))?;
        for file in &files {
            let path = args.output.join(&file.name);
            std::fs::write(&path, &file.bytes).map_err(|error| cannot_write(&path, &error))?;
        }
    }
    for file in &files {
        let pages = file.pages.map_or_else(String::new, |pages| format!(", {pages} pages"));
        output::data(&format!("{}{pages}", file.name));
    }
    output::say(&format!(
        "printed {} files to {}; the first holds all papers in order",
        files.len(),
        args.output.display()
    ));
    for file in &files {
        output::warnings(&file.remarks);
    }
    Ok(Answer::Done)
}

pub(crate) fn kit(args: &KitArgs) -> Result<Answer> {
    if args.usual {
        workflow::print::keep_kit_text(&mut open(&args.book)?, "")?;
        output::say("the usual kit list again");
    } else if let Some(file) = &args.file {
        let text = std::fs::read_to_string(file).map_err(|error| {
            Error::input(format!("`{}` cannot be read: {error}", file.display()))
                .hint("give a text file with one thing a line")
        })?;
        workflow::print::keep_kit_text(&mut open(&args.book)?, &text)?;
        output::say(&format!("kept the kit list of {}", file.display()));
    }
    output::data(&workflow::print::kit_text(&read(&args.book)?)?);
    Ok(Answer::Done)
}

fn look(args: &PrintArgs) -> Look {
    Look {
        paper: if args.paper == "a4" { Paper::A4 } else { Paper::Letter },
        palette: if args.black_and_white { Palette::BlackAndWhite } else { Palette::Colour },
        large: args.large,
        spares: args.spares,
    }
}

/// A route asked for with the paper is kept, so that every paper of the day agrees.
fn keep_asked_route(args: &PrintArgs) -> Result<()> {
    let Some(survey) = &args.survey else { return Ok(()) };
    let words = day_words(survey, &args.day);
    if words == day_words(survey, &DayArgs::default()) {
        return Ok(());
    }
    let view = plan_route(&read(&args.book)?, &words)?;
    output::warnings(&view.warnings);
    keep_route(&args.book, &view, &words)
}

pub(crate) fn export(args: &ExportArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let bed = match args.format.as_str() {
        "geotiff" => Some(BedFormat::GeoTiff),
        "contours" => Some(BedFormat::Contours),
        _ => None,
    };
    if let Some(bed) = bed {
        workflow::export::bed_to(&book, bed, &args.output)?;
        output::say(&format!("wrote {}", args.output.display()));
        return Ok(Answer::Done);
    }
    if args.format == "photos" {
        let survey = args.survey.as_deref().ok_or_else(|| {
            Error::input("photos are written a survey at a time").hint("say which with `--survey`")
        })?;
        let written = workflow::export::photos_to(&book, survey, &args.output, args.with_places)?;
        let pictures = written.len() - 1;
        output::say(&format!(
            "wrote {pictures} photos and their list to {}",
            args.output.display()
        ));
        return Ok(Answer::Done);
    }
    let format = match args.format.as_str() {
        "geojson" => ExportFormat::GeoJson,
        "gpx" => ExportFormat::Gpx,
        "kml" => ExportFormat::Kml,
        _ => ExportFormat::Csv,
    };
    let survey = args.survey.as_deref();
    let (paths, warnings) =
        workflow::export::export_to(&book, survey, format, &args.output, args.name_length)?;
    for path in paths {
        output::say(&format!("wrote {}", path.display()));
    }
    output::warnings(&warnings);
    Ok(Answer::Done)
}

pub(crate) fn backup(args: &BackupArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    book.backup(&args.output).map_err(Error::from)?;
    output::say(&format!("copied {} to {}", book.path().display(), args.output.display()));
    Ok(Answer::Done)
}
