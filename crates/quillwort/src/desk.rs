//! The lake book answering the screens, one file a place.

mod findings;
mod lake;
mod outward;
mod plan;
mod record;

use crate::ports;
use server::{DeskError, DeskErrorKind};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;
use workflow::{Error, ErrorKind, Ground, LakeBook};

/// One book. The depth model takes a moment to build, so it is kept until the file changes.
pub(crate) struct BookDesk {
    path: PathBuf,
    ground: Mutex<Option<(SystemTime, Arc<Ground>)>>,
    writing: Mutex<()>,
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
        Self { path, ground: Mutex::new(None), writing: Mutex::new(()) }
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

    /// One change. Changes come one after another: a book has one writer.
    fn change<T>(
        &self,
        change: impl FnOnce(&mut LakeBook) -> workflow::Result<T>,
    ) -> Result<T, DeskError> {
        let _turn = self.writing.lock().unwrap_or_else(PoisonError::into_inner);
        workflow::open_book(&self.path, ports::world())
            .and_then(|mut book| change(&mut book))
            .map_err(desk_error)
    }
}
