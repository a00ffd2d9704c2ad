//! Workbooks as sheets of rows: `.xlsx` and `.xls` through `calamine`, `.ods` by our own reader.
//!
//! Cells become the text a person would type for them: numbers with the fifteen digits a
//! spreadsheet keeps, days as `2017-05-16`, times as `09:16:00`, failed formulas as `#REF!`. Where
//! a formula has no stored result its text stands there, with its equals sign.

mod cell;
mod ods;
mod xls;
mod xlsx;

use crate::fault::{Fault, Faults};
use crate::kind::FileKind;
use crate::text::Row;
use std::collections::BTreeMap;

/// A sheet with more rows than this is refused.
pub(crate) const MOST_ROWS: usize = 200_000;
/// A sheet whose rows reach further right than this altogether is refused.
const MOST_CELLS: usize = 5_000_000;

/// A range of cells drawn as one. Rows from 1, columns from 0, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Merged {
    pub(crate) top: usize,
    pub(crate) left: usize,
    pub(crate) bottom: usize,
    pub(crate) right: usize,
}

/// One sheet.
#[derive(Debug, Default)]
pub(crate) struct Sheet {
    pub(crate) name: String,
    /// Rows that hold anything and are not hidden.
    pub(crate) rows: Vec<Row>,
    /// Rows that hold something and are hidden.
    pub(crate) hidden_rows: Vec<usize>,
    pub(crate) merged: Vec<Merged>,
}

/// All sheets of a workbook, or the one wanted.
#[derive(Debug, Default)]
pub(crate) struct Workbook {
    /// Names of all sheets in order, and whether each is shown.
    pub(crate) names: Vec<(String, bool)>,
    /// What was read of them.
    pub(crate) sheets: Vec<Sheet>,
    /// What a person should know about how it was read.
    pub(crate) warnings: Vec<String>,
}

impl Workbook {
    /// Reads the sheet `wanted`, else every sheet that is shown.
    pub(crate) fn read(
        file: &str,
        kind: FileKind,
        bytes: &[u8],
        wanted: Option<&str>,
    ) -> Result<Self, Faults> {
        let pick = Pick { file, wanted };
        match kind {
            FileKind::Ods => ods::read(&pick, bytes),
            FileKind::OldOffice => guarded(file, || xls::read(&pick, bytes)),
            _ => guarded(file, || xlsx::read(&pick, bytes)),
        }
    }
}

/// Which sheets to read.
struct Pick<'a> {
    file: &'a str,
    wanted: Option<&'a str>,
}

impl Pick<'_> {
    /// The sheets to read; a wanted one that is not there is a fault.
    fn of(&self, names: &[(String, bool)]) -> Result<Vec<String>, Faults> {
        let Some(wanted) = self.wanted else {
            let shown = names.iter().filter(|(_, shown)| *shown);
            return Ok(shown.map(|(name, _)| name.clone()).collect());
        };
        let same = |name: &str| name.trim().to_lowercase() == wanted.trim().to_lowercase();
        match names.iter().find(|(name, _)| same(name)) {
            Some((name, _)) => Ok(vec![name.clone()]),
            None => Err(Fault::file(self.file, format!("a sheet named `{wanted}`"))
                .found(list(names.iter().map(|(name, _)| name.as_str())))
                .hint("name one of these sheets; capitals do not matter")
                .into()),
        }
    }
}

/// `A`, `B` and `C`, without the marks that the message puts around all of it.
fn list<'a>(names: impl Iterator<Item = &'a str>) -> String {
    names.collect::<Vec<_>>().join(", ")
}

/// Runs a reader that is not ours. On damaged files it may index past an end; that becomes a
/// fault of the file.
fn guarded(
    file: &str,
    read: impl FnOnce() -> Result<Workbook, Faults>,
) -> Result<Workbook, Faults> {
    std::panic::catch_unwind(std::panic::AssertUnwindSafe(read))
        .unwrap_or_else(|_| Err(damaged(file, "parts that contradict each other")))
}

fn damaged(file: &str, found: impl Into<String>) -> Faults {
    Fault::file(file, "a whole workbook")
        .found(found)
        .hint(
            "open it in a spreadsheet program and save it again as .xlsx, or save the sheet as CSV \
             UTF-8",
        )
        .into()
}

/// Rows under construction, with a limit.
struct Grid<'a> {
    file: &'a str,
    sheet: &'a str,
    rows: BTreeMap<usize, Vec<String>>,
    cells: usize,
}

impl<'a> Grid<'a> {
    const fn new(file: &'a str, sheet: &'a str) -> Self {
        Self { file, sheet, rows: BTreeMap::new(), cells: 0 }
    }

    /// Sets a cell; `row` and `column` from 0. Blank text leaves no trace.
    fn set(&mut self, row: usize, column: usize, text: &str) -> Result<(), Faults> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(());
        }
        let is_new = !self.rows.contains_key(&row);
        let cells = self.rows.entry(row).or_default();
        if column >= cells.len() {
            self.cells += column + 1 - cells.len();
            if self.cells <= MOST_CELLS {
                cells.resize(column + 1, String::new());
            }
        }
        if (is_new && self.rows.len() > MOST_ROWS) || self.cells > MOST_CELLS {
            let label = label(self.file, self.sheet);
            return Err(Fault::file(
                &label,
                format!("at most {MOST_ROWS} rows that hold anything, and {MOST_CELLS} cells"),
            )
            .at(row + 1)
            .found("still more")
            .hint(
                "copy the rows of the survey into a new workbook: a sheet filled down to its \
                     last row by accident looks like this",
            )
            .into());
        }
        if let Some(cell) = self.rows.get_mut(&row).and_then(|cells| cells.get_mut(column)) {
            text.clone_into(cell);
        }
        Ok(())
    }

    /// The sheet, with the rows in `hidden` (from 1, ascending) left out and kept by number.
    fn finish(self, hidden: &[usize], merged: Vec<Merged>) -> Sheet {
        let mut sheet = Sheet { name: self.sheet.to_owned(), merged, ..Sheet::default() };
        for (index, cells) in self.rows {
            let number = index + 1;
            if hidden.binary_search(&number).is_ok() {
                sheet.hidden_rows.push(number);
            } else {
                sheet.rows.push(Row { number, cells });
            }
        }
        sheet
    }
}

/// How faults name a sheet of a workbook.
pub(crate) fn label(file: &str, sheet: &str) -> String {
    format!("{file}, sheet {sheet}")
}
