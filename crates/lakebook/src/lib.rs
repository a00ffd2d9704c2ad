//! The lake book: one GeoPackage file that holds a lake, and the one gate every write goes through.
//!
//! A write is an event of the change log; the tables a GIS opens are the fold of that log and can
//! be folded again. Undo, history, amendment, seal and later the merge of two copies all come from
//! the log. The crate reads no clock and draws no random number of its own: both come in through
//! [`Ports`]. It knows nothing of depth models, statistics or file formats. Start with
//! [`LakeBook`], write with [`LakeBook::transact`].
//!
//! # Examples
//! ```
//! # struct Fixed;
//! # impl lakebook::Ports for Fixed {
//! #     fn now_unix_millis(&self) -> u64 { 1_784_041_445_000 }
//! #     fn random(&self) -> u128 { 7 }
//! #     fn device(&self) -> String { "desk".into() }
//! #     fn actor(&self) -> String { "Ann".into() }
//! # }
//! # let lake = survey::Lake {
//! #     name: "Lake Tamarin".into(), water_body_number: String::new(), county: String::new(),
//! #     region: "WI".into(), units: units::UnitSystem::Us, working_epsg: 32616,
//! #     littoral: (units::Metres::from_feet(1.0), units::Metres::from_feet(8.0)),
//! #     depth_datum: "full pool".into(), code_style: survey::short_code::CodeStyle::TwoPlusTwo,
//! # };
//! # let folder = tempfile::tempdir()?;
//! let path = folder.path().join("tamarin.gpkg");
//! let mut book = lakebook::LakeBook::create(&path, &lake, &[], std::sync::Arc::new(Fixed))?;
//! let header = survey::Survey::new(book.new_id().into(), "2026-summer", "fullness")?;
//! book.transact("survey of 2026 planned", |writer| writer.put_survey(&header))?;
//! assert_eq!(book.survey_by_name("2026-Summer")?, header);
//! book.undo_last()?;
//! assert!(book.surveys()?.is_empty());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod background;
mod book;
mod canonical;
mod data_set;
mod depth_grid;
mod entity;
mod error;
mod event;
mod fold;
pub mod foreign;
mod gpb;
mod kept_columns;
mod merge;
mod papers;
mod ports;
mod read;
mod reading;
mod recognise;
mod rows;
mod rules;
mod schema;
mod seal;
mod standing;
mod trust;
mod undo;
mod verify;
mod write;

pub use background::{Background, PlacedPixel};
pub use book::{Amendment, Conflict, Keep, LakeBook, Outline};
pub use canonical::{canonical_json, sha256_hex};
pub use data_set::{DataSet, DataSetContent, DataSetInfo, DataSetKind, LARGEST_LAYER};
pub use depth_grid::{DepthGrid, Surface};
pub use entity::{Entity, Operation};
pub use error::BookError;
pub use event::Event;
pub use kept_columns::KeptColumns;
pub use merge::Merged;
pub use papers::{KeptBoat, KeptRoute, KeptStop, SheetScan};
pub use ports::{IdMaker, Ports, new_id};
pub use standing::Standing;
pub use verify::{Broken, Difference, Verification};
pub use write::Writer;
