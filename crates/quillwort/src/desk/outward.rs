use super::BookDesk;
use crate::ports;
use server::{DeskError, Download, OutwardDesk};
use workflow::print::{Look, PrintKind, PrintRequest};

impl OutwardDesk for BookDesk {
    fn print(
        &self,
        survey: Option<&str>,
        kind: PrintKind,
        look: Look,
    ) -> Result<Download, DeskError> {
        self.answer(|book| {
            let fonts = ui::fonts();
            let request =
                PrintRequest { kind, survey, look, printed_on: ports::today(), fonts: &fonts };
            let printed = workflow::print::print(book, &request)?;
            let stem = match survey {
                Some(survey) => survey.to_owned(),
                None => book.lake()?.name,
            };
            Ok(Download {
                file_name: format!("{stem}-{}.pdf", kind.key()),
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
