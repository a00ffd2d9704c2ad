//! The steps of the job as functions: what the command line and the server both do.
//!
//! Every step takes an open lake book, settles names and units, calls the crates that know, and
//! hands out a view or an [`Error`] a person can act on. Nothing here prints. Start with
//! [`new_book`], then [`add::add`], [`plan::plan`], [`record::record`], [`findings::findings_view`].

pub mod add;
mod alerts;
pub mod background;
mod book;
pub mod checking;
pub mod demo;
pub mod draw;
pub mod effort;
pub mod entry;
mod error;
pub mod export;
pub mod findings;
mod ground;
pub mod keeping;
mod lake;
pub mod limit;
pub mod observers;
pub mod photos;
mod place;
pub mod plan;
pub mod print;
pub mod record;
pub mod route;
pub mod scales;
pub mod sheet_scan;
pub mod shelf;
pub mod species;
pub mod surveys;
pub mod track;
pub mod views;

pub use book::{NewBook, USUAL_LITTORAL, book_path, books_in, new_book, open_book, read_book};
pub use error::{Error, ErrorKind, Result};
pub use ground::Ground;
pub use lake::{
    LakeAsk, LakeRequest, LittoralLimit, distance_view, keep_littoral, lake_view, lake_view_of,
    map_view,
};
pub use lakebed::{ClarityRegression, Littoral, Rule};
pub use lakebook::{LakeBook, Ports};
pub use units::Metres;
