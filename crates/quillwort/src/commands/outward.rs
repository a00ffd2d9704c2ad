//! `print`, `export`, `backup`.

use super::plan::{day_words, keep_route, plan_route};
use super::read;
use crate::cli::{BackupArgs, DayArgs, ExportArgs, PrintArgs};
use crate::output::{self, Answer};
use crate::ports;
use workflow::export::ExportFormat;
use workflow::print::{Look, Palette, Paper, PrintKind, PrintRequest};
use workflow::{Error, Result};

pub(crate) fn print(args: &PrintArgs) -> Result<Answer> {
    let kind = PrintKind::from_key(&args.what)
        .ok_or_else(|| Error::input(format!("`{}` is no paper", args.what)))?;
    keep_asked_route(args)?;
    let book = read(&args.book)?;
    let fonts = ui::fonts();
    let request = PrintRequest {
        kind,
        survey: args.survey.as_deref(),
        look: look(args),
        printed_on: ports::today(),
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
    let format = match args.format.as_str() {
        "geojson" => ExportFormat::GeoJson,
        "gpx" => ExportFormat::Gpx,
        "kml" => ExportFormat::Kml,
        _ => ExportFormat::Csv,
    };
    for path in workflow::export::export_to(&book, args.survey.as_deref(), format, &args.output)? {
        output::say(&format!("wrote {}", path.display()));
    }
    Ok(Answer::Done)
}

pub(crate) fn backup(args: &BackupArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    book.backup(&args.output).map_err(Error::from)?;
    output::say(&format!("copied {} to {}", book.path().display(), args.output.display()));
    Ok(Answer::Done)
}
