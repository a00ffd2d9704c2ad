use super::DeskError;
use workflow::views::{BookView, LakeView, MapView};

/// The book and its lake.
pub trait LakeDesk: Send + Sync + 'static {
    /// The book as the first page needs it.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn book(&self) -> Result<BookView, DeskError> {
        Err(DeskError::unanswered())
    }

    /// Measures of the lake.
    ///
    /// # Errors
    /// When the book has no outline yet or cannot be read.
    fn lake(&self) -> Result<LakeView, DeskError> {
        Err(DeskError::unanswered())
    }

    /// The lake as a drawing.
    ///
    /// # Errors
    /// When the book has no outline yet or cannot be read.
    fn map(&self) -> Result<MapView, DeskError> {
        Err(DeskError::unanswered())
    }
}
