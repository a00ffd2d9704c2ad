use super::BookDesk;
use crate::ports;
use server::{DeskError, PlanDesk};
use workflow::route::RouteWords;
use workflow::views::RouteView;

impl PlanDesk for BookDesk {
    fn route(&self, words: &RouteWords) -> Result<RouteView, DeskError> {
        self.answer(|book| {
            let request = words.read(book.lake()?.units, &ports::local())?;
            workflow::route::route(book, &*ports::world(), &request)
        })
    }
}
