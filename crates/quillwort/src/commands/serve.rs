//! `serve`, `demo`, and no verb at all.

use crate::cli::{DemoArgs, ServeArgs};
use crate::desk::BookDesk;
use crate::output::{self, Answer};
use crate::ports;
use server::AppState;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use workflow::{Error, Result};

const USUAL_ADDRESS: &str = "127.0.0.1:4310";

pub(crate) fn serve(args: &ServeArgs) -> Result<Answer> {
    let book = one_book(&args.book)?;
    open_desk(book, &args.listen, args.open)
}

/// The book given, or the newest of a folder.
fn one_book(path: &Path) -> Result<PathBuf> {
    let mut books = workflow::books_in(path)?;
    if books.len() > 1 {
        let changed =
            |path: &PathBuf| std::fs::metadata(path).and_then(|meta| meta.modified()).ok();
        books.sort_by_key(changed);
        output::say(&format!(
            "{} books in {}; the one changed last is opened",
            books.len(),
            path.display()
        ));
    }
    books.pop().ok_or_else(|| Error::input(format!("no lake book in `{}`", path.display())))
}

fn open_desk(book: PathBuf, listen: &str, browser: bool) -> Result<Answer> {
    // a book that cannot be opened is told here, not on a page
    drop(workflow::open_book(&book, ports::world())?);
    remember(&book);
    let log = Arc::new(|line: &str| output::say(line));
    let state = AppState::new(BookDesk::new(book.clone()), log);
    let state = match listen.rsplit_once(':') {
        Some((host, _)) => state.with_host(host),
        None => state,
    };
    let ready = |url: &str| {
        output::data(&format!("{} is open at {url}", book.display()));
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
    open_desk(book, &args.listen, !args.no_browser && !in_ci)
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

/// Opens the book used last.
pub(crate) fn last() -> Result<Answer> {
    let last = note_file()
        .and_then(|file| std::fs::read_to_string(file).ok())
        .map(PathBuf::from)
        .filter(|book| book.exists());
    match last {
        Some(book) => open_desk(book, USUAL_ADDRESS, true),
        None => Err(Error::input("no lake book has been opened on this machine yet").hint(
            "look round an invented lake with `quillwort demo`, or make a book with `quillwort new BOOK --name NAME`",
        )),
    }
}
