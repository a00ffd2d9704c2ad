use super::papers::{Scratch, no_scratch, plain_name};
use super::{BookDesk, desk_error};
use crate::ports;
use server::{DeskError, Download, EntryDesk, NewPhoto, NewSheetPicture};
use workflow::entry::{self, HeaderSave, VisitSave};
use workflow::photos::SentPhoto;
use workflow::sheet_scan::{self, SaidSheet, SentSheet};
use workflow::views::{
    AgreementView, BedEntry, CheckView, ConflictView, EntryTaxonView, EntryView, MergeView,
    PhotoView, ResolutionView, SaveBed, SaveChoice, SaveClock, SaveConflict, SaveDeletion,
    SaveHeader, SaveLogView, SavePhoto, SaveResolution, SaveSettlement, SaveShoreline, SaveTaxon,
    SaveVisit, SecondEntriesView, SentPhotoView, SheetScanView, ShorelineEntry, SpeciesMatchView,
    UndoneView, VisitEntry,
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

    fn settle(&self, survey: &str, save: &SaveSettlement) -> Result<CheckView, DeskError> {
        self.change_by(&save.by, |book| {
            workflow::checking::settle(book, survey, &save.id, &save.reason, &save.by)
        })
    }

    fn merge(&self, name: &str, bytes: &[u8], by: &str) -> Result<MergeView, DeskError> {
        let scratch = Scratch::new().map_err(|error| no_scratch(&error))?;
        let name = plain_name(name);
        let path = scratch.write(name, bytes).map_err(|error| no_scratch(&error))?;
        let merge = |book: &mut workflow::LakeBook| {
            workflow::keeping::merge(book, std::slice::from_ref(&path), &ports::world())
        };
        // a person knows the file by its name, not by where it lies for the moment
        let named = |text: &str| text.replace(&path.display().to_string(), name);
        self.change_by(by, merge).map_err(|error| DeskError {
            message: named(&error.message),
            hint: named(&error.hint),
            ..error
        })
    }

    fn backup(&self) -> Result<Download, DeskError> {
        let scratch = Scratch::new().map_err(|error| no_scratch(&error))?;
        let path = scratch.path("backup.gpkg");
        let file_name = self.answer(|book| {
            book.backup(&path)?;
            let stem = book.path().file_stem().unwrap_or_default().to_string_lossy().into_owned();
            Ok(format!("{stem}-{}.gpkg", ports::local().today))
        })?;
        let bytes = std::fs::read(&path).map_err(|error| no_scratch(&error))?;
        let content_type = "application/geopackage+sqlite3".to_owned();
        Ok(Download { file_name, content_type, bytes })
    }

    fn conflicts(&self) -> Result<Vec<ConflictView>, DeskError> {
        self.answer(workflow::keeping::conflicts)
    }

    fn settle_conflict(&self, save: &SaveConflict) -> Result<(), DeskError> {
        self.change_by(&save.by, |book| {
            workflow::keeping::settle_conflict(book, &save.id, &save.keep)
        })
    }

    fn resolve(&self, save: &SaveResolution) -> Result<ResolutionView, DeskError> {
        self.change_by(&save.by, |book| workflow::keeping::resolve(book, save))
    }

    fn second_entries(&self, survey: &str) -> Result<SecondEntriesView, DeskError> {
        self.answer(|book| entry::second_entries(book, survey))
    }

    fn save_second(
        &self,
        survey: &str,
        site: &str,
        save: &SaveVisit,
    ) -> Result<VisitEntry, DeskError> {
        self.change_by(&save.by, |book| entry::save_second(book, survey, site, save))
    }

    fn choose_entry(&self, survey: &str, site: &str, save: &SaveChoice) -> Result<(), DeskError> {
        self.change_by(&save.by, |book| {
            entry::choose_entry(book, survey, site, &save.keep, &save.boxes)
        })
    }

    fn delete_second(&self, survey: &str, site: &str, by: &str) -> Result<(), DeskError> {
        self.change_by(by, |book| entry::delete_second(book, survey, site))
    }

    fn observers(&self, from: &str, to: &str) -> Result<AgreementView, DeskError> {
        self.answer(|book| workflow::observers::agreement(book, from, to))
    }

    fn photos(&self, survey: &str) -> Result<Vec<PhotoView>, DeskError> {
        self.answer(|book| workflow::photos::photos(book, survey))
    }

    fn save_photo(&self, survey: &str, id: &str, save: &SavePhoto) -> Result<PhotoView, DeskError> {
        self.change_by(&save.by, |book| workflow::photos::save_photo(book, survey, id, save))
    }

    fn add_photo(&self, survey: &str, photo: &NewPhoto) -> Result<SentPhotoView, DeskError> {
        // reading takes longest and needs no turn
        let read = SentPhoto::read(&photo.name, &photo.bytes).map_err(desk_error)?;
        self.change_by(&photo.by, |book| {
            workflow::photos::keep_photo(book, survey, &read, photo.clock_offset_s)
        })
    }

    fn correct_clock(&self, survey: &str, save: &SaveClock) -> Result<Vec<PhotoView>, DeskError> {
        self.change_by(&save.by, |book| workflow::photos::correct_clock(book, survey, save))
    }

    fn delete_photo(&self, survey: &str, id: &str, by: &str) -> Result<(), DeskError> {
        self.change_by(by, |book| workflow::photos::delete_photo(book, survey, id))
    }

    fn sheet_pictures(&self, survey: &str) -> Result<Vec<SheetScanView>, DeskError> {
        self.answer(|book| sheet_scan::sheet_scans(book, survey))
    }

    fn add_sheet_picture(
        &self,
        survey: &str,
        sheet: NewSheetPicture,
    ) -> Result<SheetScanView, DeskError> {
        // reading the mark takes longest and needs no turn
        let sent = SentSheet::read(&sheet.name, sheet.bytes).map_err(desk_error)?;
        let said = sheet.said.map(|(sheet, sheets, sites)| SaidSheet { sheet, sheets, sites });
        self.change_by(&sheet.by, |book| sheet_scan::keep_sheet(book, survey, sent, said))
    }

    fn sheet_picture(&self, survey: &str, sha256: &str) -> Result<Download, DeskError> {
        let (file_name, kind, bytes) =
            self.answer(|book| sheet_scan::sheet_picture(book, survey, sha256))?;
        Ok(Download { file_name, content_type: kind.to_owned(), bytes })
    }

    fn picture(&self, id: &str) -> Result<Download, DeskError> {
        let (file_name, bytes) = self.answer(|book| workflow::photos::picture(book, id))?;
        Ok(Download { file_name, content_type: "image/jpeg".to_owned(), bytes })
    }
}
