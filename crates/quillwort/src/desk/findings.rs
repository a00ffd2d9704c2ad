use super::BookDesk;
use server::{DeskError, FindingsDesk};
use workflow::views::{CompareView, FindingsView};

impl FindingsDesk for BookDesk {
    fn findings(&self, survey: &str) -> Result<FindingsView, DeskError> {
        self.answer(|book| workflow::findings::findings_view(book, survey))
    }

    fn compare(&self, from: &str, to: &str) -> Result<CompareView, DeskError> {
        self.answer(|book| workflow::findings::compare_view(book, from, to))
    }
}
