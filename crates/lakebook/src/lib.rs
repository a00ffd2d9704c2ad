//! The lake book: one GeoPackage file that holds a lake, and the one gate every write goes through.
//!
//! A write is an event of the change log; the tables a GIS opens are the fold of that log and can
//! be folded again. Undo, history, amendment, seal and later the merge of two copies all come from
//! the log. The crate reads no clock and draws no random number of its own: both come in through
//! [`Ports`]. It knows nothing of depth models, statistics or file formats. Start with
//! [`LakeBook`], write with [`LakeBook::transact`].

mod book;
mod canonical;
mod data_set;
mod entity;
mod error;
mod event;
mod fold;
mod gpb;
mod ports;
mod read;
mod reading;
mod recognise;
mod rows;
mod rules;
mod schema;
mod seal;
mod trust;
mod undo;
mod verify;
mod write;

pub use book::{Amendment, Conflict, Keep, LakeBook, Outline};
pub use canonical::{canonical_json, sha256_hex};
pub use data_set::{DataSet, DataSetContent, DataSetInfo, DataSetKind, LARGEST_LAYER};
pub use entity::{Entity, Operation};
pub use error::BookError;
pub use event::Event;
pub use ports::{IdMaker, Ports, new_id};
pub use verify::{Broken, Difference, Verification};
pub use write::Writer;
