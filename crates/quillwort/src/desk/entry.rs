use super::BookDesk;
use server::{DeskError, EntryDesk};
use workflow::entry::{self, HeaderSave, VisitSave};
use workflow::views::{
    BedEntry, EntryTaxonView, EntryView, SaveBed, SaveDeletion, SaveHeader, SaveLogView,
    SaveShoreline, SaveTaxon, SaveVisit, ShorelineEntry, SpeciesMatchView, UndoneView,
};

impl EntryDesk for BookDesk {
    fn entry(&self, survey: &str) -> Result<EntryView, DeskError> {
        self.answer(|book| entry::entry_view(book, survey))
    }

    fn save_visit(
        &self,
        survey: &str,
        site: &str,
        save: &SaveVisit,
    ) -> Result<VisitSave, DeskError> {
        self.change_by(&save.by, |book| {
            let ground = self.ground(book)?;
            entry::save_visit(book, survey, site, save, &*ground)
        })
    }

    fn delete_visit(
        &self,
        survey: &str,
        site: &str,
        save: &SaveDeletion,
    ) -> Result<VisitSave, DeskError> {
        self.change_by(&save.by, |book| {
            let ground = self.ground(book)?;
            entry::delete_visit(book, survey, site, save, &*ground)
        })
    }

    fn save_header(&self, survey: &str, save: &SaveHeader) -> Result<HeaderSave, DeskError> {
        self.change_by(&save.by, |book| entry::save_header(book, survey, save))
    }

    fn save_bed(&self, survey: &str, save: &SaveBed) -> Result<BedEntry, DeskError> {
        self.change_by(&save.by, |book| entry::save_bed(book, survey, save))
    }

    fn delete_bed(&self, survey: &str, id: &str, save: &SaveDeletion) -> Result<(), DeskError> {
        self.change_by(&save.by, |book| entry::delete_bed(book, survey, id, save))
    }

    fn save_shoreline(
        &self,
        survey: &str,
        save: &SaveShoreline,
    ) -> Result<ShorelineEntry, DeskError> {
        self.change_by(&save.by, |book| entry::save_shoreline(book, survey, save))
    }

    fn delete_shoreline(
        &self,
        survey: &str,
        id: &str,
        save: &SaveDeletion,
    ) -> Result<(), DeskError> {
        self.change_by(&save.by, |book| entry::delete_shoreline(book, survey, id, save))
    }

    fn add_taxon(&self, save: &SaveTaxon) -> Result<EntryTaxonView, DeskError> {
        self.change_by(&save.by, |book| entry::add_taxon(book, save))
    }

    fn add_unknown(&self, by: &str) -> Result<EntryTaxonView, DeskError> {
        self.change_by(by, entry::add_unknown)
    }

    fn species_matches(
        &self,
        typed: &str,
        limit: usize,
    ) -> Result<Vec<SpeciesMatchView>, DeskError> {
        self.answer(|book| entry::species_matches(book, typed, limit))
    }

    fn survey_log(&self, survey: &str, limit: usize) -> Result<Vec<SaveLogView>, DeskError> {
        self.answer(|book| entry::survey_log(book, survey, limit))
    }

    fn visit_log(&self, survey: &str, site: &str) -> Result<Vec<SaveLogView>, DeskError> {
        self.answer(|book| entry::visit_log(book, survey, site))
    }

    fn undo(&self, by: &str) -> Result<UndoneView, DeskError> {
        self.change_by(by, entry::undo)
    }
}
