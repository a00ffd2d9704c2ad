//! The lake book answering the screens, one file a place.

mod entry;
mod findings;
mod lake;
mod outward;
mod papers;
mod plan;
mod record;

use crate::ports;
use server::{DeskError, DeskErrorKind};
use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use workflow::{Error, ErrorKind, Ground, LakeBook};

/// One book. The depth model takes a moment to build, so it is kept until the file changes.
pub(crate) struct BookDesk {
    path: PathBuf,
    ground: Mutex<Option<(Option<String>, Arc<Ground>)>>,
    writing: Mutex<()>,
    between: Arc<Between>,
}

/// The book held open while somebody is typing. The last to close a book folds its journal into
/// the file, which takes longer than the save itself: so it is closed once saving rests, not after
/// each save. Every save is on the disk before it is answered, held or not.
#[derive(Default)]
struct Between {
    held: Mutex<Option<LakeBook>>,
    saves: AtomicU64,
}

/// Saving rests when nothing was saved for so long.
const REST: Duration = Duration::from_secs(1);

impl Between {
    /// Holds the book open until saving rests.
    fn hold(self: &Arc<Self>, open: impl FnOnce() -> workflow::Result<LakeBook>) {
        self.saves.fetch_add(1, Ordering::Relaxed);
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        if held.is_some() {
            return;
        }
        // a book that cannot be held is closed after each save: slower, and as safe
        *held = open().ok();
        drop(held);
        let between = Arc::clone(self);
        std::thread::spawn(move || {
            loop {
                let before = between.saves.load(Ordering::Relaxed);
                std::thread::sleep(REST);
                let mut held = between.held.lock().unwrap_or_else(PoisonError::into_inner);
                if between.saves.load(Ordering::Relaxed) == before {
                    *held = None;
                    return;
                }
            }
        });
    }
}

fn desk_error(error: Error) -> DeskError {
    let kind = match error.kind {
        ErrorKind::Input => DeskErrorKind::BadRequest,
        ErrorKind::NotFound => DeskErrorKind::NotFound,
        ErrorKind::Conflict => DeskErrorKind::Conflict,
        ErrorKind::Fault => DeskErrorKind::Internal,
    };
    DeskError { kind, message: error.message, hint: error.hint.unwrap_or_default() }
}

impl BookDesk {
    pub(crate) fn new(path: PathBuf) -> Self {
        Self { path, ground: Mutex::new(None), writing: Mutex::new(()), between: Arc::default() }
    }

    /// The book is opened for each question: another program may write to it in between.
    fn open(&self) -> workflow::Result<LakeBook> {
        workflow::read_book(&self.path, ports::world())
    }

    /// The depth model, built anew only when lake, shore, zones or depths changed.
    fn ground(&self, book: &LakeBook) -> workflow::Result<Arc<Ground>> {
        let changed = Ground::version(book)?;
        let mut kept = self.ground.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, ground)) = kept.as_ref().filter(|(when, _)| *when == changed) {
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

    /// One change, signed by whoever makes it. Changes come one after another: a book has one
    /// writer.
    fn change_by<T>(
        &self,
        by: &str,
        change: impl FnOnce(&mut LakeBook) -> workflow::Result<T>,
    ) -> Result<T, DeskError> {
        let _turn = self.writing.lock().unwrap_or_else(PoisonError::into_inner);
        self.between.hold(|| workflow::open_book(&self.path, ports::world()));
        workflow::open_book(&self.path, ports::world_of(by))
            .and_then(|mut book| change(&mut book))
            .map_err(desk_error)
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
