//! Several books behind one server: which there are, and the way to each.

use crate::api;
use crate::desk::{Desk, DeskError};
use crate::error::ApiError;
use crate::screens;
use crate::state::AppState;
use axum::Router;
use axum::extract::{Request, State};
use axum::http::Uri;
use axum::http::uri::PathAndQuery;
use axum::response::{IntoResponse, Response};
use percent_encoding::percent_decode_str;
use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, Mutex, PoisonError};
use tower::ServiceExt;
use workflow::shelf::NewLakeAsk;
use workflow::views::{ShelfBookView, ShelfView};

/// The lake books of a folder. Methods may block; they run on threads of their own.
pub trait Shelf: Send + Sync + 'static {
    /// Every book there is.
    ///
    /// # Errors
    /// When the folder cannot be read.
    fn books(&self) -> Result<ShelfView, DeskError>;

    /// Makes a book for a lake.
    ///
    /// # Errors
    /// When the lake has no name or there is a book of that name.
    fn begin(&self, ask: &NewLakeAsk) -> Result<ShelfBookView, DeskError>;

    /// The desk of the book with this file name.
    ///
    /// # Errors
    /// When there is none.
    fn desk(&self, file: &str) -> Result<Arc<dyn Desk>, DeskError>;
}

/// A shelf with the routes of each book that was asked for.
pub(crate) struct Shelved {
    shelf: Box<dyn Shelf>,
    routers: Mutex<HashMap<String, Router>>,
}

impl fmt::Debug for Shelved {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Shelved").finish_non_exhaustive()
    }
}

impl Shelved {
    pub(crate) fn new(shelf: impl Shelf) -> Self {
        Self { shelf: Box::new(shelf), routers: Mutex::default() }
    }

    pub(crate) fn shelf(&self) -> &dyn Shelf {
        self.shelf.as_ref()
    }

    fn router(&self, file: &str, app: &AppState) -> Result<Router, DeskError> {
        let mut routers = self.routers.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(router) = routers.get(file) {
            return Ok(router.clone());
        }
        let state = app.at(self.shelf.desk(file)?);
        let router =
            Router::new().nest("/api", api::routes()).fallback(screens::file).with_state(state);
        routers.insert(file.to_owned(), router.clone());
        Ok(router)
    }
}

/// Answers below `/books/FILE` for that book of the shelf what the root answers for its own, and
/// elsewhere with the screens.
///
/// As a fallback and not as a route: the parts of a route's address would be handed on, and the
/// book's own routes take theirs by their number.
pub(crate) async fn book_or_screen(State(app): State<AppState>, mut request: Request) -> Response {
    let Some(file) = book_of(request.uri().path()) else { return screens::file(request).await };
    let found = {
        let app = app.clone();
        app.clone()
            .away(move || {
                let none =
                    || DeskError::not_found("this server has one book", "open its first page");
                app.shelf().ok_or_else(none)?.router(&file, &app)
            })
            .await
    };
    match (found, below(request.uri())) {
        (Ok(router), Some(uri)) => {
            *request.uri_mut() = uri;
            router.oneshot(request).await.into_response()
        }
        (Err(error), _) => error.into_response(),
        (Ok(_), None) => ApiError::new(
            DeskError::bad_request("this address cannot be read", "open the first page"),
            |_| {},
        )
        .into_response(),
    }
}

/// `/books/a%20b.gpkg/lake` → `a b.gpkg`.
fn book_of(path: &str) -> Option<String> {
    let file = path.strip_prefix("/books/")?.split('/').next().filter(|file| !file.is_empty())?;
    Some(percent_decode_str(file).decode_utf8_lossy().into_owned())
}

/// `/books/FILE/lake?zone=W1` → `/lake?zone=W1`.
fn below(uri: &Uri) -> Option<Uri> {
    let path = uri.path().splitn(4, '/').nth(3).unwrap_or_default();
    let text = match uri.query() {
        Some(query) => format!("/{path}?{query}"),
        None => format!("/{path}"),
    };
    let mut parts = uri.clone().into_parts();
    parts.path_and_query = Some(text.parse::<PathAndQuery>().ok()?);
    Uri::from_parts(parts).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_book_is_named_in_its_address() {
        assert_eq!(book_of("/books/a%20b.gpkg/lake").unwrap(), "a b.gpkg");
        assert_eq!(book_of("/books/a.gpkg").unwrap(), "a.gpkg");
        assert_eq!(book_of("/books/"), None);
        assert_eq!(book_of("/lake"), None);
    }

    #[test]
    fn the_way_below_a_book_is_the_way_at_the_root() {
        for (given, expected) in [
            ("/books/a.gpkg", "/"),
            ("/books/a.gpkg/", "/"),
            ("/books/a.gpkg/lake?zone=W%201", "/lake?zone=W%201"),
            ("/books/a%20b.gpkg/api/surveys/June%202026/sites", "/api/surveys/June%202026/sites"),
        ] {
            assert_eq!(below(&given.parse().unwrap()).unwrap().to_string(), expected);
        }
    }
}
