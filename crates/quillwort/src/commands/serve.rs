//! `serve`, `demo`, and no verb at all.

use crate::cli::{DemoArgs, ServeArgs};
use crate::desk::{Folder, NoBook};
use crate::output::{self, Answer};
use crate::ports;
use server::AppState;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use workflow::{Error, Result};

const USUAL_ADDRESS: &str = "127.0.0.1:4310";

pub(crate) fn serve(args: &ServeArgs) -> Result<Answer> {
    if args.book.is_dir() {
        return open_folder(&args.book, &args.listen, args.open);
    }
    let book = workflow::books_in(&args.book)?.pop().unwrap_or_else(|| args.book.clone());
    open_book(&book, &args.listen, args.open)
}

/// A folder of books: the one changed last at the root, and each under its own address.
fn open_folder(folder: &Path, listen: &str, browser: bool) -> Result<Answer> {
    let mut books =
        if workflow::shelf::holds_books(folder) { workflow::books_in(folder)? } else { Vec::new() };
    let changed = |path: &PathBuf| std::fs::metadata(path).and_then(|meta| meta.modified()).ok();
    books.sort_by_key(changed);
    if books.len() > 1 {
        output::say(&format!(
            "{} books in {}; the one changed last is opened, the Library lists them all",
            books.len(),
            folder.display()
        ));
    }
    let shelf = Folder::new(folder.to_owned());
    if let Some(book) = books.last() {
        return open_desk(book, Some(shelf), listen, browser);
    }
    let log = Arc::new(|line: &str| output::say(line));
    let state = AppState::new(NoBook, log).with_shelf(shelf);
    let ready = format!("the first lake book of {} is begun", folder.display());
    answer_at(state, listen, browser, &ready)
}

/// One book. On this machine alone the books beside it can be opened too; the network gets the one
/// it was given.
fn open_book(book: &Path, listen: &str, browser: bool) -> Result<Answer> {
    let folder = book.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new("."));
    // as the shelf names it, so that both addresses lead to one desk
    let named = book.file_name().map_or_else(|| book.to_owned(), |file| folder.join(file));
    let book = &named;
    let beside = Folder::new(folder.to_owned());
    open_desk(book, is_this_machine(listen).then_some(beside), listen, browser)
}

fn is_this_machine(listen: &str) -> bool {
    let host = listen.rsplit_once(':').map_or(listen, |(host, _)| host);
    ["127.0.0.1", "localhost", "[::1]"].contains(&host)
}

fn open_desk(book: &Path, shelf: Option<Folder>, listen: &str, browser: bool) -> Result<Answer> {
    // a book that cannot be opened is told here, not on a page
    drop(workflow::open_book(book, ports::world())?);
    remember(book);
    let log = Arc::new(|line: &str| output::say(line));
    let state = match shelf {
        Some(shelf) => AppState::of(shelf.desk_of(book), log).with_shelf(shelf),
        None => AppState::of(Folder::new(PathBuf::new()).desk_of(book), log),
    };
    answer_at(state, listen, browser, &format!("{} is open", book.display()))
}

fn answer_at(state: AppState, listen: &str, browser: bool, what: &str) -> Result<Answer> {
    let state = match listen.rsplit_once(':') {
        Some((host, _)) => state.with_host(host),
        None => state,
    };
    let ready = |url: &str| {
        output::data(&format!("{what} at {url}"));
        output::say("stop with Ctrl+C");
        if browser && !open_browser(url) {
            output::say("no browser could be opened here: open the address by hand");
        }
    };
    server::run(listen, state, ready).map_err(|error| {
        Error::input(error.to_string()).hint("choose another address with `--listen 127.0.0.1:0`")
    })?;
    Ok(Answer::Done)
}

/// Opens the system's browser without waiting for it.
fn open_browser(url: &str) -> bool {
    let program = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(target_os = "windows") {
        "explorer"
    } else {
        "xdg-open"
    };
    Command::new(program).arg(url).stdout(Stdio::null()).stderr(Stdio::null()).spawn().is_ok()
}

pub(crate) fn demo(args: &DemoArgs) -> Result<Answer> {
    let book = args.dir.join("lake-tamarin.gpkg");
    if book.exists() {
        output::say(&format!("Lake Tamarin, an invention, is in {} already", args.dir.display()));
    } else {
        output::say("making Lake Tamarin, an invention");
        let say = |step: &str| output::say(&format!("  {step}"));
        let made = workflow::demo::make(&args.dir, ports::world(), &say)?;
        output::say(&format!(
            "made {} with the surveys {}; the files it was made from are in {}",
            made.book.display(),
            made.surveys.join(", "),
            made.files.display()
        ));
    }
    if args.no_serve {
        return Ok(Answer::Done);
    }
    let in_ci = std::env::var_os("CI").is_some();
    open_book(&book, &args.listen, !args.no_browser && !in_ci)
}

/// Where the last book is noted, in the user's own settings folder.
fn note_file() -> Option<PathBuf> {
    let folder = std::env::var_os("XDG_CONFIG_HOME")
        .or_else(|| std::env::var_os("APPDATA"))
        .map(PathBuf::from)
        .or_else(|| std::env::var_os("HOME").map(|home| PathBuf::from(home).join(".config")))?;
    Some(folder.join("quillwort/last-book"))
}

/// Notes the book for the next start; a settings folder that cannot be written is no reason to stop.
fn remember(book: &Path) {
    let Some(file) = note_file() else { return };
    let path = std::path::absolute(book).unwrap_or_else(|_| book.to_owned());
    if let Some(folder) = file.parent() {
        let _ = std::fs::create_dir_all(folder);
    }
    let _ = std::fs::write(file, path.to_string_lossy().as_bytes());
}

/// Where books are kept by who does not say where.
fn home_folder() -> Option<PathBuf> {
    std::env::var_os("HOME")
        .or_else(|| std::env::var_os("USERPROFILE"))
        .map(|home| PathBuf::from(home).join("Quillwort"))
}

/// Opens the book used last; on a machine that has none yet, the folder where the first will lie.
pub(crate) fn last() -> Result<Answer> {
    let last = note_file()
        .and_then(|file| std::fs::read_to_string(file).ok())
        .map(PathBuf::from)
        .filter(|book| book.exists());
    match (last, home_folder()) {
        (Some(book), _) => open_book(&book, USUAL_ADDRESS, true),
        (None, Some(folder)) => open_folder(&folder, USUAL_ADDRESS, true),
        (None, None) => Err(Error::input("no lake book has been opened on this machine yet").hint(
            "look round an invented lake with `quillwort demo`, or make a book with `quillwort new BOOK --name NAME`",
        )),
    }
}
