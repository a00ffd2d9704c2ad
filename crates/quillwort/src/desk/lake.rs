use super::BookDesk;
use server::{DeskError, LakeDesk};
use workflow::views::{BookView, LakeView, MapView};

impl LakeDesk for BookDesk {
    fn book(&self) -> Result<BookView, DeskError> {
        self.answer(workflow::surveys::book_view)
    }

    fn lake(&self) -> Result<LakeView, DeskError> {
        self.answer(|book| {
            let ground = self.ground(book)?;
            workflow::lake_view(book, &ground, ground.littoral())
        })
    }

    fn map(&self) -> Result<MapView, DeskError> {
        self.answer(|book| workflow::map_view(book, &*self.ground(book)?))
    }
}
