//! Whoever answers: one lake book, one trait a place of the screens, one method a question.
//!
//! Methods may block; they run on threads of their own. A method that is not overridden says that
//! this desk does not answer it.

mod entry;
mod error;
mod findings;
mod lake;
mod outward;
mod papers;
mod plan;
mod record;

pub use entry::{EntryDesk, NewPhoto, NewSheetPicture};
pub use error::{DeskError, DeskErrorKind};
pub use findings::FindingsDesk;
pub use lake::{DrawChange, LakeDesk, NewBackground, NewFile};
pub use outward::{Download, ExportFormat, Look, OutwardDesk, PrintKind};
pub use papers::{PapersDesk, RecordFile, RecordedFile};
pub use plan::{PlanDesk, TrackFile};
pub use record::RecordDesk;

/// A desk that has every place.
pub trait Desk:
    LakeDesk + PlanDesk + RecordDesk + EntryDesk + PapersDesk + FindingsDesk + OutwardDesk
{
}

impl<T> Desk for T where
    T: LakeDesk + PlanDesk + RecordDesk + EntryDesk + PapersDesk + FindingsDesk + OutwardDesk
{
}
