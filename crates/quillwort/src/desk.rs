//! The lake book answering the screens, one file a place.

mod entry;
mod findings;
mod lake;
mod outward;
mod papers;
mod plan;
mod record;
mod shelf;

pub(crate) use shelf::{Folder, NoBook};

use crate::ports;
use server::{DeskError, DeskErrorKind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use units::Metres;
use workflow::{Error, ErrorKind, Ground, LakeBook};

/// One book. The depth model takes a moment to build, so it is kept until the file changes.
pub(crate) struct BookDesk {
    path: PathBuf,
    ground: Mutex<Option<Kept>>,
    /// The same under water at the level that was asked for last.
    risen: Mutex<Option<(Metres, Kept)>>,
    writing: Mutex<()>,
    between: Arc<Between>,
}

/// The ground with the event it was built after.
type Kept = (Option<String>, Arc<Ground>);

/// The book held open while somebody is typing, and written to. Opening it reads its whole form
/// anew, and the last to close it folds its journal into the file; either takes as long as the save
/// itself. So it is closed once saving rests, or another person saves. Every save is on the disk
/// before it is answered.
#[derive(Default)]
struct Between {
    held: Mutex<Option<Held>>,
    saves: AtomicU64,
}

struct Held {
    /// Whose saves it signs.
    by: String,
    book: LakeBook,
    /// The file it is: one that was put in its place meanwhile is another book.
    file: Option<FileId>,
}

/// Tells one file from another of the same name.
type FileId = (u64, u64);

#[cfg(unix)]
fn file_id(path: &Path) -> Option<FileId> {
    use std::os::unix::fs::MetadataExt as _;
    std::fs::metadata(path).ok().map(|meta| (meta.dev(), meta.ino()))
}

/// Elsewhere a file that is open cannot be replaced.
#[cfg(not(unix))]
fn file_id(path: &Path) -> Option<FileId> {
    path.exists().then_some((0, 0))
}

/// Saving rests when nothing was saved for so long.
const REST: Duration = Duration::from_secs(1);

impl Between {
    /// Changes the book in the name of one person, and holds it open until saving rests.
    fn change<T>(
        self: &Arc<Self>,
        path: &Path,
        by: &str,
        change: impl FnOnce(&mut LakeBook) -> workflow::Result<T>,
    ) -> workflow::Result<T> {
        self.saves.fetch_add(1, Ordering::Relaxed);
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        let watched = held.is_some();
        let file = file_id(path);
        let same = |one: &Held| one.by == by && file.is_some() && one.file == file;
        let mut one = match held.take() {
            Some(one) if same(&one) => one,
            // another person's is closed after this one is open, so that nothing is folded between
            _other => Held {
                by: by.to_owned(),
                book: workflow::open_book(path, ports::world_of(by))?,
                file,
            },
        };
        // a change that fails leaves nothing behind, and the book is opened anew after it
        let value = change(&mut one.book)?;
        *held = Some(one);
        drop(held);
        if !watched {
            self.watch();
        }
        Ok(value)
    }

    /// Closes the book once saving rests.
    fn watch(self: &Arc<Self>) {
        let between = Arc::clone(self);
        std::thread::spawn(move || {
            loop {
                let before = between.saves.load(Ordering::Relaxed);
                std::thread::sleep(REST);
                let mut held = between.held.lock().unwrap_or_else(PoisonError::into_inner);
                if held.is_none() || between.saves.load(Ordering::Relaxed) == before {
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
        Self {
            path,
            ground: Mutex::new(None),
            risen: Mutex::new(None),
            writing: Mutex::new(()),
            between: Arc::default(),
        }
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

    /// The ground at a level of the water; a page asks for measures and drawing of the same one.
    fn ground_at(&self, book: &LakeBook, level: Option<Metres>) -> workflow::Result<Arc<Ground>> {
        let Some(level) = level.filter(|level| *level != Metres::new(0.0)) else {
            return self.ground(book);
        };
        let changed = Ground::version(book)?;
        let mut kept = self.risen.lock().unwrap_or_else(PoisonError::into_inner);
        let same = |one: &&(Metres, Kept)| one.0 == level && one.1.0 == changed;
        if let Some((_, (_, ground))) = kept.as_ref().filter(same) {
            return Ok(Arc::clone(ground));
        }
        let ground = Arc::new(Ground::of(book)?.at_level(level)?);
        *kept = Some((level, (changed, Arc::clone(&ground))));
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
        self.between.change(&self.path, by, change).map_err(desk_error)
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

#[cfg(test)]
mod tests {
    use super::*;
    use workflow::entry::add_unknown;
    use workflow::{NewBook, new_book};

    fn made(path: &Path) {
        let lake = NewBook { name: "Lake Tamarin".to_owned(), ..NewBook::default() };
        new_book(path, &lake, ports::world_of("Ann")).expect("a new book");
    }

    /// Who made each save, the oldest first.
    fn signed(path: &Path) -> Vec<String> {
        let book = workflow::read_book(path, ports::world()).expect("the book opens");
        let mut saves = book.saves(10).expect("its saves are read");
        saves.reverse();
        saves.into_iter().map(|save| save[0].actor.clone()).collect()
    }

    #[test]
    fn each_save_is_signed_by_who_makes_it_and_a_refused_one_leaves_the_next_alone() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("tamarin.gpkg");
        made(&path);
        let desk = BookDesk::new(path.clone());
        for by in ["Ann", "Ben", "Ann", "Ann"] {
            desk.change_by(by, add_unknown).expect("kept");
        }
        desk.change_by("Ann", |_| Err::<(), _>(Error::input("no such site"))).expect_err("refused");
        desk.change_by("Ann", add_unknown).expect("kept");
        assert_eq!(signed(&path), ["Ann", "Ann", "Ben", "Ann", "Ann", "Ann"]);
    }

    #[test]
    fn a_copy_is_taken_in_whole_and_what_is_no_copy_changes_nothing() {
        use server::EntryDesk as _;
        let folder = tempfile::tempdir().expect("a folder");
        let [path, other] = ["tamarin.gpkg", "stranger.gpkg"].map(|name| folder.path().join(name));
        made(&path);
        made(&other);
        let desk = BookDesk::new(path.clone());
        let copy = desk.backup().expect("a backup");
        assert!(copy.file_name.starts_with("tamarin-2"), "{}", copy.file_name);
        let before = signed(&path);
        let stranger = std::fs::read(&other).expect("it is there");
        let half = &copy.bytes[..copy.bytes.len() / 2];
        let foul: [(&str, &[u8], &str); 4] = [
            ("notes.gpkg", b"site 14, a lot of coontail".as_slice(), "notes.gpkg"),
            ("empty.gpkg", b"".as_slice(), "empty"),
            ("../half.gpkg", half, "`half.gpkg` is cut off"),
            ("stranger.gpkg", &stranger, "not a copy of this book"),
        ];
        for (name, bytes, says) in foul {
            let error = desk.merge(name, bytes, "Ann").expect_err(name);
            assert!(error.message.contains(says), "{name}: {}", error.message);
            let told = format!("{} {}", error.message, error.hint);
            assert!(!told.contains("quillwort-"), "where it lay for a moment is told: {told}");
            assert_eq!(signed(&path), before, "{name}");
        }
        // somebody writes in the copy
        let theirs = folder.path().join("theirs.gpkg");
        std::fs::write(&theirs, &copy.bytes).expect("written");
        BookDesk::new(theirs.clone()).change_by("Ben", add_unknown).expect("kept");
        let back = BookDesk::new(theirs).backup().expect("a backup").bytes;
        let taken = desk.merge("theirs.gpkg", &back, "Ann").expect("it is a copy");
        assert_eq!((taken.taken, taken.conflicts), (1, 0));
        assert!(signed(&path).contains(&"Ben".to_owned()));
        assert_eq!(desk.merge("theirs.gpkg", &back, "Ann").expect("again").taken, 0);
    }

    #[cfg(unix)]
    #[test]
    fn a_book_put_in_the_place_of_the_one_held_open_takes_the_next_save() {
        let folder = tempfile::tempdir().expect("a folder");
        let [path, other] = ["tamarin.gpkg", "backup.gpkg"].map(|name| folder.path().join(name));
        made(&path);
        made(&other);
        let desk = BookDesk::new(path.clone());
        desk.change_by("Ben", add_unknown).expect("kept");
        // the journal belongs to the file that goes
        for ending in ["-wal", "-shm"] {
            let beside = folder.path().join(format!("tamarin.gpkg{ending}"));
            if beside.exists() {
                std::fs::remove_file(beside).expect("the journal goes with its book");
            }
        }
        std::fs::rename(&other, &path).expect("the backup takes its place");
        desk.change_by("Ben", add_unknown).expect("kept");
        desk.change_by("Ben", add_unknown).expect("kept");
        assert_eq!(signed(&path), ["Ann", "Ben", "Ben"]);
    }
}
