use super::BookDesk;
use server::{DeskError, RecordDesk};
use workflow::views::{CheckView, SurveySitesView, SurveyView};

impl RecordDesk for BookDesk {
    fn surveys(&self) -> Result<Vec<SurveyView>, DeskError> {
        self.answer(|book| {
            let mut surveys = workflow::surveys::surveys(book)?;
            surveys.reverse();
            Ok(surveys)
        })
    }

    fn sites(&self, survey: &str) -> Result<SurveySitesView, DeskError> {
        self.answer(|book| workflow::surveys::sites_view(book, survey))
    }

    fn check(&self, survey: &str) -> Result<Vec<CheckView>, DeskError> {
        self.answer(|book| workflow::checking::check(book, survey))
    }
}
