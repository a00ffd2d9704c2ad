//! `print`, `export`, `backup`.

use super::read;
use crate::cli::{BackupArgs, ExportArgs, Paper, PrintArgs};
use crate::output::{self, Answer};
use crate::ports;
use workflow::export::ExportFormat;
use workflow::print::{Palette, PrintKind, PrintRequest};
use workflow::{Error, Result};

pub(crate) fn print(args: &PrintArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let request = PrintRequest {
        kind: match args.what {
            Paper::Sheets => PrintKind::Sheets,
            Paper::Map => PrintKind::Map,
            Paper::Report => PrintKind::Report,
        },
        survey: &args.survey,
        paper: if args.paper == "a4" {
            workflow::print::Paper::A4
        } else {
            workflow::print::Paper::Letter
        },
        palette: if args.black_and_white { Palette::BlackAndWhite } else { Palette::Colour },
        printed_on: ports::today(),
        fonts: &ui::fonts(),
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
