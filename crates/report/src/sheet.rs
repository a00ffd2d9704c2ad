//! The field sheet: one page for about fifteen sites, black on white.

use crate::draw::MapData;
use units::Metres;

/// A set of field sheets for one survey.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldSheets {
    /// The lake's name.
    pub lake: String,
    /// The survey's name, as in "summer survey 2026".
    pub survey: String,
    /// Short words for lake and survey, as in `LT 26-S`; a sheet's id is this and its number.
    pub short_id: String,
    /// What the square mark holds before the sheet's number: a key by which the lake book knows this
    /// survey. Letters and digits keep the mark small.
    pub mark: String,
    /// What a row is called: `site`, or `place` in a survey by sub-areas.
    pub row_word: String,
    /// Rake throws at each row, 1 to 3.
    pub throws: u8,
    /// Rows in the order of the boat. Rows next to each other with the same group stay together.
    pub rows: Vec<SheetRow>,
    /// Rows on one sheet, 5 to 15.
    pub rows_per_sheet: u8,
    /// This lake's plants, the commonest first: what does not fit goes on a page of codes.
    pub species: Vec<SheetSpecies>,
    /// The rating scale, least first.
    pub ratings: Vec<CodeWords>,
    /// What to write for a site that was not sampled.
    pub outcomes: Vec<CodeWords>,
    /// Codes for the bottom.
    pub bottoms: Vec<CodeWords>,
    /// Sentences at the foot: life jackets, clean, drain and dry, local rules.
    pub cautions: Vec<String>,
    /// The lake; its `sites` are not read, rows carry their own places.
    pub map: MapData,
}

/// A line to be filled in.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetRow {
    /// The site's code, written large.
    pub code: String,
    /// The zone's code, written small; may be empty.
    pub zone: String,
    /// The sub-area the row belongs to, in surveys by sub-areas.
    pub group: Option<String>,
    /// The nearest landmark; may be empty.
    pub landmark: String,
    /// The depth on the map, as a check.
    pub planned_depth: Option<Metres>,
    /// Where it lies, projected metres. None when the crew chooses the place within the sub-area.
    pub place: Option<(f64, f64)>,
}

/// A plant in the legend.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetSpecies {
    /// The code to write.
    pub code: String,
    /// The name.
    pub name: String,
    /// True when it is introduced here: marked with `!`.
    pub introduced: bool,
}

/// A code and what it means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CodeWords {
    /// The code to write.
    pub code: String,
    /// What it means.
    pub words: String,
}
