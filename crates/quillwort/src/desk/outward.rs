use super::BookDesk;
use crate::ports;
use server::{DeskError, Download, OutwardDesk};
use workflow::print::{Palette, Paper, PrintKind, PrintRequest};

impl OutwardDesk for BookDesk {
    fn print(&self, survey: &str, kind: server::PrintKind) -> Result<Download, DeskError> {
        let what = match kind {
            server::PrintKind::Sheets => PrintKind::Sheets,
            server::PrintKind::Map => PrintKind::Map,
            server::PrintKind::Report => PrintKind::Report,
        };
        self.answer(|book| {
            let printed = workflow::print::print(
                book,
                &PrintRequest {
                    kind: what,
                    survey,
                    paper: Paper::Letter,
                    palette: Palette::Colour,
                    printed_on: ports::today(),
                    fonts: &ui::fonts(),
                },
            )?;
            Ok(Download {
                file_name: format!("{survey}-{}.pdf", kind.key()),
                content_type: "application/pdf".to_owned(),
                bytes: printed.pdf,
            })
        })
    }

    fn export(&self, survey: &str, format: server::ExportFormat) -> Result<Download, DeskError> {
        use workflow::export::ExportFormat;
        let (what, content_type) = match format {
            server::ExportFormat::Csv => (ExportFormat::Csv, "text/csv; charset=utf-8"),
            server::ExportFormat::GeoJson => (ExportFormat::GeoJson, "application/geo+json"),
            server::ExportFormat::Gpx => (ExportFormat::Gpx, "application/gpx+xml"),
        };
        self.answer(|book| {
            let mut files = workflow::export::export(book, survey, what)?;
            let file = files.swap_remove(0);
            Ok(Download {
                file_name: file.name,
                content_type: content_type.to_owned(),
                bytes: file.text.into_bytes(),
            })
        })
    }
}
