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
            let request = PrintRequest { kind, survey, look, local: ports::local(), fonts: &fonts };
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

    fn packet(&self, survey: &str, look: Look) -> Result<Download, DeskError> {
        self.answer(|book| {
            let (fonts, local) = (ui::fonts(), ports::local());
            let quiet = &mut |_: usize, _: usize, _: &str| {};
            let files = workflow::print::packet(book, survey, look, local, &fonts, quiet)?;
            let parts = files.iter().map(|file| (file.name.as_str(), file.bytes.as_slice()));
            Ok(Download {
                file_name: format!("{survey}-packet.zip"),
                content_type: "application/zip".to_owned(),
                bytes: workflow::print::zip(parts)?,
            })
        })
    }

    fn kit(&self) -> Result<String, DeskError> {
        self.answer(workflow::print::kit_text)
    }

    fn keep_kit(&self, text: &str) -> Result<String, DeskError> {
        self.change(|book| {
            workflow::print::keep_kit_text(book, text)?;
            workflow::print::kit_text(book)
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
