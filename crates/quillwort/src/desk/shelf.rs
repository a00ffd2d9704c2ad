//! The books of a folder, each with its desk.

use super::{BookDesk, desk_error};
use crate::ports;
use server::{
    Desk, DeskError, EntryDesk, FindingsDesk, LakeDesk, OutwardDesk, PapersDesk, PlanDesk,
    RecordDesk, Shelf,
};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use workflow::shelf::{self, NewLakeAsk};
use workflow::views::{BookView, ShelfBookView, ShelfView};

/// A folder of books. A book has one desk, whichever address it is asked under.
#[derive(Clone)]
pub(crate) struct Folder {
    path: PathBuf,
    desks: Arc<Mutex<BTreeMap<PathBuf, Arc<BookDesk>>>>,
}

impl Folder {
    pub(crate) fn new(path: PathBuf) -> Self {
        Self { path, desks: Arc::default() }
    }

    /// The desk of a book in this folder.
    pub(crate) fn desk_of(&self, book: &Path) -> Arc<BookDesk> {
        let mut desks = self.desks.lock().unwrap_or_else(PoisonError::into_inner);
        let made = || Arc::new(BookDesk::new(book.to_owned()));
        Arc::clone(desks.entry(book.to_owned()).or_insert_with(made))
    }
}

impl Shelf for Folder {
    fn books(&self) -> Result<ShelfView, DeskError> {
        shelf::shelf_view(&self.path, &ports::world()).map_err(desk_error)
    }

    fn begin(&self, ask: &NewLakeAsk) -> Result<ShelfBookView, DeskError> {
        shelf::begin_book(&self.path, ask, ports::world()).map_err(desk_error)
    }

    fn desk(&self, file: &str) -> Result<Arc<dyn Desk>, DeskError> {
        let book = shelf::book_of_shelf(&self.path, file).map_err(desk_error)?;
        Ok(self.desk_of(&book))
    }
}

/// At the root of a folder without books: every question is answered with the way to the first one.
pub(crate) struct NoBook;

impl LakeDesk for NoBook {
    fn book(&self) -> Result<BookView, DeskError> {
        Err(DeskError::not_found("there is no lake book here yet", "begin with a new lake"))
    }
}

impl PlanDesk for NoBook {}
impl RecordDesk for NoBook {}
impl EntryDesk for NoBook {}
impl PapersDesk for NoBook {}
impl FindingsDesk for NoBook {}
impl OutwardDesk for NoBook {}
