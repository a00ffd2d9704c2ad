//! Routes, words on papers, sheets read back.

use super::columns::{Json, Key};
use super::stored;
use crate::papers::{KeptBoat, KeptRoute, SheetScan};

stored! {
    /// A route.
    RouteRow = Route in "route" {
        id: Key,
        survey_id: Key,
        asked: String,
        boats: Json<Vec<KeptBoat>>,
        sentence: String,
    }
}

impl RouteRow {
    pub(crate) fn of(route: &KeptRoute) -> Self {
        Self {
            id: Key(route.survey.0),
            survey_id: Key(route.survey.0),
            asked: route.asked.clone(),
            boats: Json(route.boats.clone()),
            sentence: route.sentence.clone(),
        }
    }

    pub(crate) fn into_route(self) -> KeptRoute {
        KeptRoute {
            survey: self.survey_id.0.into(),
            asked: self.asked,
            boats: self.boats.0,
            sentence: self.sentence,
        }
    }
}

stored! {
    /// The lake's own words for a place on a paper.
    PaperTextRow = PaperText in "paper_text" {
        id: String,
        text: String,
    }
}

stored! {
    /// A sheet read back.
    SheetScanRow = SheetScan in "sheet_scan" {
        id: Key,
        survey_id: Key,
        sheet: u32,
        sheets: u32,
        sites: Json<Vec<String>>,
        file_name: String,
        sha256: String,
        note: String,
    }
}

impl SheetScanRow {
    pub(crate) fn of(scan: &SheetScan) -> Self {
        Self {
            id: Key(scan.id),
            survey_id: Key(scan.survey.0),
            sheet: scan.sheet,
            sheets: scan.sheets,
            sites: Json(scan.sites.clone()),
            file_name: scan.file_name.clone(),
            sha256: scan.sha256.clone(),
            note: scan.note.clone(),
        }
    }

    pub(crate) fn into_scan(self) -> SheetScan {
        SheetScan {
            id: self.id.0,
            survey: self.survey_id.0.into(),
            sheet: self.sheet,
            sheets: self.sheets,
            sites: self.sites.0,
            file_name: self.file_name,
            sha256: self.sha256,
            note: self.note,
        }
    }
}
