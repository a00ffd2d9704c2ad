//! The lake book answering the screens.

use crate::ports;
use server::{Desk, DeskError, DeskErrorKind, Download};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;
use workflow::print::{Palette, Paper, PrintKind, PrintRequest};
use workflow::views::{
    BookView, CheckView, CompareView, FindingsView, LakeView, MapView, SurveySitesView, SurveyView,
};
use workflow::{Error, ErrorKind, Ground, LakeBook};

/// One book. The depth model takes a moment to build, so it is kept until the file changes.
pub(crate) struct BookDesk {
    path: PathBuf,
    ground: Mutex<Option<(SystemTime, Arc<Ground>)>>,
}

fn desk_error(error: Error) -> DeskError {
    let kind = match error.kind {
        ErrorKind::Input => DeskErrorKind::BadRequest,
        ErrorKind::NotFound => DeskErrorKind::NotFound,
        ErrorKind::Fault => DeskErrorKind::Internal,
    };
    DeskError { kind, message: error.message, hint: error.hint.unwrap_or_default() }
}

impl BookDesk {
    pub(crate) fn new(path: PathBuf) -> Self {
        Self { path, ground: Mutex::new(None) }
    }

    /// The book is opened for each question: another program may write to it in between.
    fn open(&self) -> workflow::Result<LakeBook> {
        workflow::read_book(&self.path, ports::world())
    }

    /// The newest of the book and its write-ahead log.
    fn changed(&self) -> SystemTime {
        let mut log = self.path.clone().into_os_string();
        log.push("-wal");
        let when =
            |path: &std::path::Path| std::fs::metadata(path).and_then(|meta| meta.modified()).ok();
        when(&self.path).max(when(log.as_ref())).unwrap_or(SystemTime::UNIX_EPOCH)
    }

    fn ground(&self, book: &LakeBook) -> workflow::Result<Arc<Ground>> {
        let changed = self.changed();
        let mut kept = self.ground.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((when, ground)) = kept.as_ref().filter(|(when, _)| *when == changed) {
            let _ = when;
            return Ok(Arc::clone(ground));
        }
        let ground = Arc::new(Ground::of(book)?);
        *kept = Some((changed, Arc::clone(&ground)));
        Ok(ground)
    }

    fn answer<T>(
        &self,
        question: impl FnOnce(&LakeBook) -> workflow::Result<T>,
    ) -> Result<T, DeskError> {
        self.open().and_then(|book| question(&book)).map_err(desk_error)
    }
}

impl Desk for BookDesk {
    fn book(&self) -> Result<BookView, DeskError> {
        self.answer(workflow::surveys::book_view)
    }

    fn lake(&self) -> Result<LakeView, DeskError> {
        self.answer(|book| {
            let ground = self.ground(book)?;
            workflow::lake_view(book, &ground, ground.littoral())
        })
    }

    fn map(&self) -> Result<MapView, DeskError> {
        self.answer(|book| workflow::map_view(book, &*self.ground(book)?))
    }

    fn surveys(&self) -> Result<Vec<SurveyView>, DeskError> {
        self.answer(|book| {
            let mut surveys = workflow::surveys::surveys(book)?;
            surveys.reverse();
            Ok(surveys)
        })
    }

    fn sites(&self, survey: &str) -> Result<SurveySitesView, DeskError> {
        self.answer(|book| workflow::surveys::sites_view(book, survey))
    }

    fn findings(&self, survey: &str) -> Result<FindingsView, DeskError> {
        self.answer(|book| workflow::findings::findings_view(book, survey))
    }

    fn check(&self, survey: &str) -> Result<Vec<CheckView>, DeskError> {
        self.answer(|book| workflow::surveys::check(book, survey))
    }

    fn compare(&self, from: &str, to: &str) -> Result<CompareView, DeskError> {
        self.answer(|book| workflow::findings::compare_view(book, from, to))
    }

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
