use super::{DeskError, Download};
use workflow::entry::{HeaderSave, VisitSave};
use workflow::views::{
    AgreementView, BedEntry, CheckView, ConflictView, EntryTaxonView, EntryView, MergeView,
    PhotoView, ResolutionView, SaveBed, SaveChoice, SaveClock, SaveConflict, SaveDeletion,
    SaveHeader, SaveLogView, SavePhoto, SaveResolution, SaveSettlement, SaveShoreline, SaveTaxon,
    SaveVisit, SecondEntriesView, SentPhotoView, SheetScanView, ShorelineEntry, SpeciesMatchView,
    UndoneView, VisitEntry,
};

/// A picture of a field sheet as it is sent.
#[derive(Debug, Clone, Default)]
pub struct NewSheetPicture {
    /// Name of its file.
    pub name: String,
    /// Its content.
    pub bytes: Vec<u8>,
    /// Number of the sheet, said by a person, with that of all sheets and the rows of it; used
    /// where the mark cannot be read.
    pub said: Option<(u32, u32, Vec<String>)>,
    /// Who sends it.
    pub by: String,
}

/// A photo as it is sent.
#[derive(Debug, Clone, Default)]
pub struct NewPhoto {
    /// Name of its file.
    pub name: String,
    /// Its content.
    pub bytes: Vec<u8>,
    /// Seconds the camera's clock is ahead.
    pub clock_offset_s: i64,
    /// Who sends it.
    pub by: String,
}

/// Writing up a survey by hand.
pub trait EntryDesk: Send + Sync + 'static {
    /// All that the form of a survey needs.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn entry(&self, survey: &str) -> Result<EntryView, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// Keeps a visit.
    ///
    /// # Errors
    /// When the survey is sealed, the site unknown, or a field cannot be read.
    fn save_visit(
        &self,
        survey: &str,
        site: &str,
        save: &SaveVisit,
    ) -> Result<VisitSave, DeskError> {
        let _ = (survey, site, save);
        Err(DeskError::unanswered())
    }

    /// Deletes a visit.
    ///
    /// # Errors
    /// When the survey is sealed, or nothing is written for the site.
    fn delete_visit(
        &self,
        survey: &str,
        site: &str,
        save: &SaveDeletion,
    ) -> Result<VisitSave, DeskError> {
        let _ = (survey, site, save);
        Err(DeskError::unanswered())
    }

    /// Keeps the header.
    ///
    /// # Errors
    /// When the survey is sealed or a field cannot be read.
    fn save_header(&self, survey: &str, save: &SaveHeader) -> Result<HeaderSave, DeskError> {
        let _ = (survey, save);
        Err(DeskError::unanswered())
    }

    /// Keeps a surface bed.
    ///
    /// # Errors
    /// When the survey is sealed or a field cannot be read.
    fn save_bed(&self, survey: &str, save: &SaveBed) -> Result<BedEntry, DeskError> {
        let _ = (survey, save);
        Err(DeskError::unanswered())
    }

    /// Deletes a surface bed.
    ///
    /// # Errors
    /// When the survey is sealed or has no such bed.
    fn delete_bed(&self, survey: &str, id: &str, save: &SaveDeletion) -> Result<(), DeskError> {
        let _ = (survey, id, save);
        Err(DeskError::unanswered())
    }

    /// Keeps a shoreline find.
    ///
    /// # Errors
    /// When the survey is sealed or a field cannot be read.
    fn save_shoreline(
        &self,
        survey: &str,
        save: &SaveShoreline,
    ) -> Result<ShorelineEntry, DeskError> {
        let _ = (survey, save);
        Err(DeskError::unanswered())
    }

    /// Deletes a shoreline find.
    ///
    /// # Errors
    /// When the survey is sealed or has no such find.
    fn delete_shoreline(
        &self,
        survey: &str,
        id: &str,
        save: &SaveDeletion,
    ) -> Result<(), DeskError> {
        let _ = (survey, id, save);
        Err(DeskError::unanswered())
    }

    /// Puts a plant on the lake's list.
    ///
    /// # Errors
    /// When the name is empty or the code taken.
    fn add_taxon(&self, save: &SaveTaxon) -> Result<EntryTaxonView, DeskError> {
        let _ = save;
        Err(DeskError::unanswered())
    }

    /// Puts the next numbered unknown on the lake's list.
    ///
    /// # Errors
    /// When the book cannot be written.
    fn add_unknown(&self, by: &str) -> Result<EntryTaxonView, DeskError> {
        let _ = by;
        Err(DeskError::unanswered())
    }

    /// Plants that fit what was typed.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn species_matches(
        &self,
        typed: &str,
        limit: usize,
    ) -> Result<Vec<SpeciesMatchView>, DeskError> {
        let _ = (typed, limit);
        Err(DeskError::unanswered())
    }

    /// The newest saves that touched a survey.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn survey_log(&self, survey: &str, limit: usize) -> Result<Vec<SaveLogView>, DeskError> {
        let _ = (survey, limit);
        Err(DeskError::unanswered())
    }

    /// Everything that happened to one site's visit.
    ///
    /// # Errors
    /// When there is no such survey or site.
    fn visit_log(&self, survey: &str, site: &str) -> Result<Vec<SaveLogView>, DeskError> {
        let _ = (survey, site);
        Err(DeskError::unanswered())
    }

    /// Takes back the last save.
    ///
    /// # Errors
    /// When it signs a sealed record, or the record was changed since.
    fn undo(&self, by: &str) -> Result<UndoneView, DeskError> {
        let _ = by;
        Err(DeskError::unanswered())
    }

    /// Confirms a find of the check, or opens it again.
    ///
    /// # Errors
    /// When there is no such find or the survey is sealed.
    fn settle(&self, survey: &str, save: &SaveSettlement) -> Result<CheckView, DeskError> {
        let _ = (survey, save);
        Err(DeskError::unanswered())
    }

    /// Takes in another copy of this book, sent as a file.
    ///
    /// # Errors
    /// When it is no copy of this book, or damaged; then nothing is taken in.
    fn merge(&self, name: &str, bytes: &[u8], by: &str) -> Result<MergeView, DeskError> {
        let _ = (name, bytes, by);
        Err(DeskError::unanswered())
    }

    /// The whole book as one file, taken while it is open.
    ///
    /// # Errors
    /// When the book cannot be read or the disk is full.
    fn backup(&self) -> Result<Download, DeskError> {
        Err(DeskError::unanswered())
    }

    /// Edits that contradict each other.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn conflicts(&self) -> Result<Vec<ConflictView>, DeskError> {
        Err(DeskError::unanswered())
    }

    /// Settles a conflict.
    ///
    /// # Errors
    /// When there is no such conflict.
    fn settle_conflict(&self, save: &SaveConflict) -> Result<(), DeskError> {
        let _ = save;
        Err(DeskError::unanswered())
    }

    /// Names an unknown everywhere at once.
    ///
    /// # Errors
    /// When there is no such unknown or name.
    fn resolve(&self, save: &SaveResolution) -> Result<ResolutionView, DeskError> {
        let _ = save;
        Err(DeskError::unanswered())
    }

    /// Where two people's entries differ.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn second_entries(&self, survey: &str) -> Result<SecondEntriesView, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// Keeps a second person's entry of a site.
    ///
    /// # Errors
    /// When the survey is sealed or a field cannot be read.
    fn save_second(
        &self,
        survey: &str,
        site: &str,
        save: &SaveVisit,
    ) -> Result<VisitEntry, DeskError> {
        let _ = (survey, site, save);
        Err(DeskError::unanswered())
    }

    /// Chooses one of two entries.
    ///
    /// # Errors
    /// When there is no second entry.
    fn choose_entry(&self, survey: &str, site: &str, save: &SaveChoice) -> Result<(), DeskError> {
        let _ = (survey, site, save);
        Err(DeskError::unanswered())
    }

    /// Deletes a second entry.
    ///
    /// # Errors
    /// When there is none, or the survey is sealed.
    fn delete_second(&self, survey: &str, site: &str, by: &str) -> Result<(), DeskError> {
        let _ = (survey, site, by);
        Err(DeskError::unanswered())
    }

    /// How far two crews agree on the sites both threw at.
    ///
    /// # Errors
    /// When one of the surveys is not there or they share no sampled site.
    fn observers(&self, from: &str, to: &str) -> Result<AgreementView, DeskError> {
        let _ = (from, to);
        Err(DeskError::unanswered())
    }

    /// The photos of a survey.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn photos(&self, survey: &str) -> Result<Vec<PhotoView>, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// Says what a photo shows.
    ///
    /// # Errors
    /// When there is no such photo.
    fn save_photo(&self, survey: &str, id: &str, save: &SavePhoto) -> Result<PhotoView, DeskError> {
        let _ = (survey, id, save);
        Err(DeskError::unanswered())
    }

    /// Keeps a photo sent by itself, at the visit it was taken at.
    ///
    /// # Errors
    /// When it cannot be read, or the survey is sealed.
    fn add_photo(&self, survey: &str, photo: &NewPhoto) -> Result<SentPhotoView, DeskError> {
        let _ = (survey, photo);
        Err(DeskError::unanswered())
    }

    /// Puts the clock of a camera right.
    ///
    /// # Errors
    /// When there is no such photo, or the time cannot be read.
    fn correct_clock(&self, survey: &str, save: &SaveClock) -> Result<Vec<PhotoView>, DeskError> {
        let _ = (survey, save);
        Err(DeskError::unanswered())
    }

    /// Takes a photo out of a survey.
    ///
    /// # Errors
    /// When there is no such photo.
    fn delete_photo(&self, survey: &str, id: &str, by: &str) -> Result<(), DeskError> {
        let _ = (survey, id, by);
        Err(DeskError::unanswered())
    }

    /// The pictures of a survey's field sheets.
    ///
    /// # Errors
    /// When there is no survey of that name.
    fn sheet_pictures(&self, survey: &str) -> Result<Vec<SheetScanView>, DeskError> {
        let _ = survey;
        Err(DeskError::unanswered())
    }

    /// Files a picture of a field sheet.
    ///
    /// # Errors
    /// When it shows no mark and nobody says which sheet it is.
    fn add_sheet_picture(
        &self,
        survey: &str,
        sheet: NewSheetPicture,
    ) -> Result<SheetScanView, DeskError> {
        let _ = (survey, sheet);
        Err(DeskError::unanswered())
    }

    /// The picture of a field sheet.
    ///
    /// # Errors
    /// When the survey has no such picture.
    fn sheet_picture(&self, survey: &str, sha256: &str) -> Result<Download, DeskError> {
        let _ = (survey, sha256);
        Err(DeskError::unanswered())
    }

    /// The picture of a photo.
    ///
    /// # Errors
    /// When the book keeps no such picture.
    fn picture(&self, id: &str) -> Result<Download, DeskError> {
        let _ = id;
        Err(DeskError::unanswered())
    }
}
