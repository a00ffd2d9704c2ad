//! The books of a folder, and how a new one begins there.

use crate::book::{NewBook, books_in, new_book};
use crate::error::{Error, Result};
use crate::views::{ShelfBookView, ShelfView};
use lakebook::{BookError, LakeBook, Ports};
use serde::Deserialize;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use units::UnitSystem;
use utoipa::ToSchema;

/// A lake that gets a book.
#[derive(Debug, Clone, Deserialize, ToSchema)]
pub struct NewLakeAsk {
    /// Name of the lake.
    pub name: String,
    /// State or region code; may be empty.
    #[serde(default)]
    pub region: String,
    /// County; may be empty.
    #[serde(default)]
    pub county: String,
    /// `us` or `metric`; `us` when left out.
    #[serde(default)]
    pub units: Option<String>,
}

/// Every lake book of a folder by name; one that cannot be opened is listed with the reason.
///
/// # Errors
/// When the folder cannot be read.
pub fn shelf_view(folder: &Path, ports: &Arc<dyn Ports>) -> Result<ShelfView> {
    let books = if holds_books(folder) { books_in(folder)? } else { Vec::new() };
    Ok(ShelfView {
        folder: Some(file_of(folder)),
        books: books.iter().map(|path| on_shelf(path, ports)).collect(),
    })
}

/// Whether a folder has a lake book in it.
pub fn holds_books(folder: &Path) -> bool {
    books_in(folder).is_ok_and(|books| !books.is_empty())
}

/// Makes a book for a lake in a folder, which is made too when it is not there. The file is named
/// after the lake.
///
/// # Errors
/// When the lake has no name, the units are unknown, or the folder has a book of that name.
pub fn begin_book(folder: &Path, ask: &NewLakeAsk, ports: Arc<dyn Ports>) -> Result<ShelfBookView> {
    let units = match ask.units.as_deref() {
        None => UnitSystem::default(),
        Some(word) => word.parse().map_err(|_unknown| {
            Error::input(format!("`{word}` are no units")).hint("write `us` or `metric`")
        })?,
    };
    let name = ask.name.trim();
    if name.is_empty() {
        return Err(
            Error::input("the lake has no name yet").hint("write the name people call it by")
        );
    }
    let path = folder.join(file_name(name));
    if path.exists() {
        return Err(Error::conflict(format!("there is a book `{}` already", file_of(&path)))
            .hint("open that one, or give this lake a name that tells the two apart, such as `Long Lake, Vilas County`"));
    }
    std::fs::create_dir_all(folder).map_err(|error| {
        Error::input(format!("folder `{}` cannot be made: {error}", file_of(folder)))
    })?;
    let new = NewBook {
        name: name.to_owned(),
        units,
        region: ask.region.clone(),
        county: ask.county.trim().to_owned(),
        ..NewBook::default()
    };
    drop(new_book(&path, &new, Arc::clone(&ports))?);
    Ok(on_shelf(&path, &ports))
}

/// The book of a folder with this file name, and no other file.
///
/// # Errors
/// When the folder has none of that name.
pub fn book_of_shelf(folder: &Path, file: &str) -> Result<PathBuf> {
    books_in(folder).unwrap_or_default().into_iter().find(|path| file_of(path) == file).ok_or_else(
        || {
            Error::not_found(format!("no lake book `{file}`"))
                .hint("go back to the first page: it lists the books there are")
        },
    )
}

fn file_of(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

/// `Lake Wingra, Madison` → `lake-wingra-madison.gpkg`.
fn file_name(lake: &str) -> String {
    let mut stem = String::new();
    for letter in lake.to_lowercase().chars() {
        if letter.is_alphanumeric() {
            stem.push(letter);
        } else if !stem.is_empty() && !stem.ends_with('-') {
            stem.push('-');
        }
    }
    let stem = stem.trim_end_matches('-');
    format!("{}.gpkg", if stem.is_empty() { "lake" } else { stem })
}

fn on_shelf(path: &Path, ports: &Arc<dyn Ports>) -> ShelfBookView {
    let file = file_of(path);
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let nameless = |problem: String| ShelfBookView {
        file: file.clone(),
        name: stem.clone(),
        problem,
        ..ShelfBookView::default()
    };
    let book = match LakeBook::open_read_only(path, Arc::clone(ports)) {
        Ok(book) => book,
        // it is brought to the present form when it is opened, not when it is listed
        Err(BookError::Older { .. }) => return nameless(String::new()),
        Err(error) => return nameless(error.to_string()),
    };
    let told = || -> Result<ShelfBookView> {
        let lake = book.lake()?;
        Ok(ShelfBookView {
            file: file.clone(),
            name: lake.name,
            region: lake.region,
            surveys: book.surveys()?.len(),
            last_write: book.change_log(1)?.first().map(|event| event.at().to_owned()),
            problem: String::new(),
        })
    };
    told().unwrap_or_else(|error| nameless(error.message))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_named_after_its_lake() {
        for (lake, expected) in [
            ("Lake Wingra", "lake-wingra.gpkg"),
            ("  Long Lake (Vilas Co.) ", "long-lake-vilas-co.gpkg"),
            ("Étang d'Or", "étang-d-or.gpkg"),
            ("../../etc", "etc.gpkg"),
            ("!!", "lake.gpkg"),
        ] {
            assert_eq!(file_name(lake), expected, "{lake}");
        }
    }
}
