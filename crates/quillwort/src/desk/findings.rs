use super::BookDesk;
use server::{DeskError, FindingsDesk};
use workflow::findings::{self, EfficacyRequest, USUAL_SEED};
use workflow::views::{
    CompareView, EfficacyView, ExtentView, FindingsView, SpreadView, TreatmentView, TrendView,
    TrendsView,
};

impl FindingsDesk for BookDesk {
    fn findings(&self, survey: &str) -> Result<FindingsView, DeskError> {
        self.answer(|book| findings::findings_view_on(book, &*self.ground(book)?, survey))
    }

    fn compare(&self, from: &str, to: &str) -> Result<CompareView, DeskError> {
        self.answer(|book| findings::compare_view(book, from, to, USUAL_SEED))
    }

    fn extent(&self, survey: &str, taxon: &str) -> Result<ExtentView, DeskError> {
        self.answer(|book| findings::extent_view_on(book, &*self.ground(book)?, survey, taxon))
    }

    fn treatments(&self) -> Result<Vec<TreatmentView>, DeskError> {
        self.answer(findings::treatments_view)
    }

    fn efficacy(&self, request: &EfficacyRequest) -> Result<EfficacyView, DeskError> {
        self.answer(|book| findings::efficacy_view(book, request))
    }

    fn trend(&self, taxon: &str) -> Result<TrendView, DeskError> {
        self.answer(|book| findings::trend_view(book, taxon))
    }

    fn trends(&self) -> Result<TrendsView, DeskError> {
        self.answer(findings::trends_view)
    }

    fn spread(&self, taxon: &str, from: &str, to: &str) -> Result<SpreadView, DeskError> {
        self.answer(|book| findings::spread_view(book, taxon, from, to, USUAL_SEED))
    }
}
