//! Making and opening a lake book.

use crate::error::{Error, Result};
use crate::place::crs_from_words;
use lakebook::{BookError, LakeBook, Ports};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use survey::Lake;
use survey::short_code::CodeStyle;
use units::{Metres, UnitSystem};

/// What a new book is told about its lake.
#[derive(Debug, Clone, Default)]
pub struct NewBook {
    /// Name of the lake.
    pub name: String,
    /// Units people read.
    pub units: UnitSystem,
    /// System to compute in; UTM of the lake when not given.
    pub crs: Option<String>,
    /// State or region.
    pub region: String,
    /// County.
    pub county: String,
    /// The state's number of the water body.
    pub water_body_number: String,
    /// What the depths count from.
    pub depth_datum: String,
    /// How species codes are made.
    pub code_style: Option<CodeStyle>,
}

/// Where plants are looked for unless the user says otherwise: 1–8 ft, common practice.
pub const USUAL_LITTORAL: (Metres, Metres) = (Metres::from_feet(1.0), Metres::from_feet(8.0));

/// The file's name with `.gpkg` when it has no ending.
pub fn book_path(path: &Path) -> PathBuf {
    if path.extension().is_some() { path.to_owned() } else { path.with_extension("gpkg") }
}

/// Makes a lake book.
///
/// # Errors
/// When the file is there already, the lake has no name, or the system is unknown.
pub fn new_book(path: &Path, new: &NewBook, ports: Arc<dyn Ports>) -> Result<LakeBook> {
    let name = new.name.trim();
    if name.is_empty() {
        return Err(
            Error::input("a lake book needs the name of its lake").hint("say it with `--name`")
        );
    }
    let working_epsg = match &new.crs {
        Some(words) => {
            let crs = crs_from_words(words)?;
            if crs.is_geographic() {
                return Err(Error::input(format!(
                    "`{words}` counts in degrees, expected a system in metres or feet"
                ))
                .hint("leave `--crs` out: the UTM zone of the lake is taken"));
            }
            crs.code().unwrap_or(0)
        }
        None => 0,
    };
    let lake = Lake {
        name: name.to_owned(),
        water_body_number: new.water_body_number.clone(),
        county: new.county.clone(),
        region: new.region.trim().to_uppercase(),
        units: new.units,
        working_epsg,
        littoral: USUAL_LITTORAL,
        depth_datum: new.depth_datum.clone(),
        code_style: new.code_style.unwrap_or(CodeStyle::TwoPlusTwo),
    };
    Ok(LakeBook::create(book_path(path), &lake, &[], ports)?)
}

/// Opens a book to write in.
///
/// # Errors
/// When it is no lake book, is damaged, or needs a newer program.
pub fn open_book(path: &Path, ports: Arc<dyn Ports>) -> Result<LakeBook> {
    Ok(LakeBook::open(existing(path), ports)?)
}

/// Opens a book to look into. One of an older form is first brought to the form of this program, a copy of the old
/// one kept beside it.
///
/// # Errors
/// As [`open_book`].
pub fn read_book(path: &Path, ports: Arc<dyn Ports>) -> Result<LakeBook> {
    let path = existing(path);
    match LakeBook::open_read_only(&path, Arc::clone(&ports)) {
        Err(BookError::Older { .. }) => {
            drop(LakeBook::open(&path, Arc::clone(&ports))?);
            Ok(LakeBook::open_read_only(&path, ports)?)
        }
        opened => Ok(opened?),
    }
}

/// `lake` finds `lake.gpkg`.
fn existing(path: &Path) -> PathBuf {
    if path.exists() { path.to_owned() } else { book_path(path) }
}

/// The books in a folder, by name; or the one book given.
///
/// # Errors
/// When the folder holds none.
pub fn books_in(path: &Path) -> Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![existing(path)]);
    }
    let cannot = |error: std::io::Error| {
        Error::input(format!("folder `{}` cannot be read: {error}", path.display()))
    };
    let mut books: Vec<PathBuf> = std::fs::read_dir(path)
        .map_err(cannot)?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "gpkg"))
        .collect();
    books.sort();
    if books.is_empty() {
        return Err(Error::input(format!("folder `{}` holds no lake book", path.display())).hint(
            "make one with `quillwort new`, or look round an invented one with `quillwort demo`",
        ));
    }
    Ok(books)
}
