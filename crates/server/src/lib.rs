//! The lake book over HTTP: what the screens ask, answered from a [`Desk`].
//!
//! A server may have a [`Shelf`], the books of a folder: each answers below `/books/FILE` as the one at the root does.
//!
//! Nothing is computed here. A handler puts one question or one change to the desk and hands out the
//! view it gets; changes are taken from this server's own pages only; [`router`] works without a socket, [`serve`] binds one, on this machine
//! alone unless told otherwise. Start reading at [`Desk`], then `api/`, one file a resource.

mod api;
mod blocking;
mod desk;
mod error;
mod guard;
mod listen;
mod openapi;
mod screens;
mod shelf;
mod state;

pub use blocking::run;
pub use desk::{
    Desk, DeskError, DeskErrorKind, Download, DrawChange, EntryDesk, ExportFormat, FindingsDesk,
    LakeDesk, Look, NewBackground, NewFile, NewPhoto, NewSheetPicture, OutwardDesk, PapersDesk,
    PlanDesk, PrintKind, RecordDesk, RecordFile, RecordedFile, TrackFile,
};
pub use error::ErrorBody;
pub use listen::{ListenError, Listener, serve};
pub use openapi::openapi;
pub use shelf::Shelf;
pub use state::{AppState, Log};

use axum::Router;
use axum::middleware::{from_fn, from_fn_with_state};

/// Every route, the screens and the guards around them.
pub fn router(state: AppState) -> Router {
    Router::new()
        .nest("/api", api::routes())
        .fallback(shelf::book_or_screen)
        .layer(from_fn(guard::own_pages))
        .layer(from_fn(guard::headers))
        .layer(from_fn_with_state(state.clone(), guard::host))
        .with_state(state)
}
