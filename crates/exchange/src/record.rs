//! A survey record as people keep it in a spreadsheet: a row an observation, or a row a site.

mod guess;
mod header;
mod rows;

use crate::cells::{DateOrder, DepthCell, join_columns};
use crate::columns::{ColumnGuess, ColumnMap, ColumnRef, Form, Meaning};
use crate::fault::{Fault, Faults, file_name};
use crate::layer::Skipped;
use crate::text::{Table, read_bytes};
pub(crate) use guess::header_score;
use guess::{Guesser, infer_order};
use jiff::civil::{Date, Time};
use rows::RowReader;
use std::fmt;
use std::path::Path;

/// What is known before a record is read.
#[derive(Default)]
pub struct RecordOptions<'a> {
    /// What the person says about the columns.
    pub map: ColumnMap,
    /// Whether the lake's list knows this word as a plant.
    pub is_taxon: Option<&'a dyn Fn(&str) -> bool>,
    /// Names nobody has seen are plants: in a table with one row a site, so is every column of
    /// numbers that means nothing else.
    pub new_taxa: bool,
    /// Asked for a map of a file of this shape when the person said nothing of the columns; what
    /// was said of the sheet stays.
    pub recall: Option<Recall<'a>>,
}

/// Gives the column map kept of a file of this shape, if there is one.
pub type Recall<'a> = &'a dyn Fn(&Shape) -> Option<ColumnMap>;

/// What tells files of one kind: their headers, and where they stand.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Shape {
    /// Headers in their order, in lower case, as they are found without a column map.
    pub headers: Vec<String>,
    /// Row of the header, from 1.
    pub row: usize,
}

impl fmt::Debug for RecordOptions<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("RecordOptions")
            .field("map", &self.map)
            .field("new_taxa", &self.new_taxa)
            .finish_non_exhaustive()
    }
}

/// What a cell of ratings says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CellReading {
    /// A code of the survey's scale, as it stood there.
    Rating(String),
    /// Seen, not on the rake (`V`).
    Visual,
    /// A written zero.
    Zero,
    /// Looked for and not found (`NF`).
    NotFound,
    /// Not looked for here (`NL`).
    NotLookedFor,
    /// The site was not reached (`NR`).
    NotReached,
}

impl CellReading {
    /// The code that stands for it in a table; [`Self::of`] reads it back.
    pub fn code(&self) -> &str {
        match self {
            Self::Rating(code) => code,
            Self::Visual => "V",
            Self::Zero => "0",
            Self::NotFound => "NF",
            Self::NotLookedFor => "NL",
            Self::NotReached => "NR",
        }
    }

    /// Reads a cell that is not blank.
    pub fn of(cell: &str) -> Self {
        match cell.trim() {
            "V" | "v" => Self::Visual,
            "NF" => Self::NotFound,
            "NL" => Self::NotLookedFor,
            "NR" => Self::NotReached,
            text if text.parse::<f64>().is_ok_and(|value| value.abs() < f64::MIN_POSITIVE) => {
                Self::Zero
            }
            text => Self::Rating(text.to_owned()),
        }
    }
}

/// A cell under a plant's name in a wide table. Blank cells leave none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TaxonCell {
    /// Column, from 0.
    pub column: usize,
    /// The plant as the header or the map names it.
    pub name: String,
    /// The cell.
    pub raw: String,
    /// What it says.
    pub reading: CellReading,
}

/// A cell in the second column under a plant's name, such as its health. Blank cells leave none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PairedCell {
    /// Column, from 0.
    pub column: usize,
    /// The plant, as in [`TaxonCell::name`].
    pub name: String,
    /// The cell.
    pub raw: String,
}

/// One row of a record; what is blank in the file is `None`.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RecordRow {
    /// Row as a spreadsheet numbers it.
    pub row: usize,
    /// Code of the site.
    pub site: Option<String>,
    /// Day of the visit.
    pub date: Option<Date>,
    /// Time of day.
    pub time: Option<Time>,
    /// Degrees north.
    pub latitude: Option<f64>,
    /// Degrees east.
    pub longitude: Option<f64>,
    /// Easting in a system the person must name.
    pub x: Option<f64>,
    /// Northing in the same system.
    pub y: Option<f64>,
    /// Depth.
    pub depth: Option<DepthCell>,
    /// Bottom sediment, as written.
    pub sediment: Option<String>,
    /// Outcome, as written.
    pub outcome: Option<String>,
    /// Rating of all plants together, as written.
    pub total_rating: Option<String>,
    /// Number of the rake throw.
    pub throw: Option<u32>,
    /// The plant of a long table, as written.
    pub taxon: Option<String>,
    /// Its rating, as written.
    pub rating: Option<String>,
    /// How it was seen, as written.
    pub how_seen: Option<String>,
    /// Free words.
    pub comment: Option<String>,
    /// Landmark near the site.
    pub landmark: Option<String>,
    /// Zone, as written.
    pub zone: Option<String>,
    /// Who was there, as written.
    pub crew: Option<String>,
    /// Cells under plants in a wide table.
    pub taxa: Vec<TaxonCell>,
    /// Cells in the second columns under plants.
    pub paired: Vec<PairedCell>,
    /// The file's own count of species.
    pub species_total: Option<u32>,
    /// The file's own count of native species.
    pub species_native: Option<u32>,
    /// Cells under headers that were not understood: column from 0, cell.
    pub other: Vec<(usize, String)>,
}

/// A record as a neutral table.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordTable {
    /// The file's name as faults give it; for a workbook `FILE, sheet NAME`.
    pub file: String,
    /// The sheet that was read, where the file is a workbook.
    pub sheet: Option<String>,
    /// Every sheet of the workbook, in order.
    pub sheets: Vec<String>,
    /// Rows that hold something and were left out because they are hidden in the workbook.
    pub hidden_rows: usize,
    /// What the second columns under plants hold, where it is said or written in the header.
    pub paired: Option<String>,
    /// A row an observation or a row a site.
    pub form: Form,
    /// Row of the header, as a spreadsheet numbers it; of several lines the most telling one.
    pub header_row: usize,
    /// What a file of the same kind looks like.
    pub shape: Shape,
    /// The map it was read with: as the person said, or as recalled.
    pub map: ColumnMap,
    /// Whether the map was recalled.
    pub recalled: bool,
    /// What each column is taken to mean.
    pub columns: Vec<ColumnGuess>,
    /// The rows.
    pub rows: Vec<RecordRow>,
    /// Rows below the header that hold anything, read or not.
    pub rows_read: usize,
    /// Rows that the map's `[only]` left out.
    pub left_out: usize,
    /// The order of day and month that was used, where it mattered.
    pub date_order: Option<DateOrder>,
    /// What was left out, and why.
    pub skipped: Vec<Skipped>,
    /// What a person should know about how it was read; a row number where there is one.
    pub warnings: Vec<String>,
}

impl RecordTable {
    /// The guesses as a map to keep for next year, on top of the map it was read with.
    pub fn column_map(&self) -> ColumnMap {
        let mut map = self.map.clone();
        map.form = Some(self.form);
        map.date_order = map.date_order.or(self.date_order);
        for guess in &self.columns {
            match (guess.meaning, &guess.taxon) {
                (Meaning::TaxonColumn, Some(taxon)) => {
                    map.taxa.entry(guess.header.clone()).or_insert_with(|| taxon.clone());
                }
                (
                    Meaning::TaxonColumn | Meaning::Paired | Meaning::Ignored | Meaning::Unknown,
                    _,
                ) => {}
                (meaning, _) => {
                    map.columns
                        .entry(meaning)
                        .or_insert_with(|| ColumnRef::Header(guess.header.clone()));
                }
            }
        }
        map
    }
}

/// Reads a survey record from a table file.
///
/// # Errors
/// All [`Faults`] of the file; then nothing of it may be used.
pub fn read_record(path: &Path, options: &RecordOptions<'_>) -> Result<RecordTable, Faults> {
    read_record_bytes(&file_name(path), &read_bytes(path)?, options)
}

/// Reads a survey record out of bytes; `file` names them in faults.
///
/// # Errors
/// All [`Faults`] of the file; then nothing of it may be used.
pub fn read_record_bytes(
    file: &str,
    bytes: &[u8],
    options: &RecordOptions<'_>,
) -> Result<RecordTable, Faults> {
    let (table, faults) = look(file, bytes, options)?;
    faults.or(table)
}

/// Reads what can be read of a record that is looked at and not stored: the table, and the faults
/// of its cells, which are blank in it.
///
/// # Errors
/// [`Faults`] of the file as a whole: no table, no header, no site.
pub fn look_at_record(
    path: &Path,
    options: &RecordOptions<'_>,
) -> Result<(RecordTable, Faults), Faults> {
    look(&file_name(path), &read_bytes(path)?, options)
}

fn look(
    file: &str,
    bytes: &[u8],
    options: &RecordOptions<'_>,
) -> Result<(RecordTable, Faults), Faults> {
    let mut table = Table::open(file, bytes, &options.map)?;
    let shape = shape(&table, options);
    let recalled = options.recall.filter(|_| options.map.says_nothing_of_columns());
    let recalled = recalled.and_then(|recall| recall(&shape));
    let again;
    let (options, recalled) = match recalled {
        Some(map) => {
            let sheet = options.map.sheet.clone();
            again = RecordOptions { map: ColumnMap { sheet, ..map }, ..*options };
            (&again, true)
        }
        None => (options, false),
    };
    let mut header = header::read(&table, options)?;
    let mut faults = Faults::default();
    let mut warnings = table.warnings.clone();
    header::spread_down(&mut table, header.body);
    join_columns(&header.row.cells, &mut table.rows[header.body..]);
    let read_as = header::read_as(&mut table, header.body, options);
    if read_as > 0 {
        warnings.push(format!("{read_as} cells are read as the map's `[read_as]` says"));
    }
    header::join_site(&mut table, &mut header, &options.map)?;
    let rows = &table.rows[header.body..];
    let guesser = Guesser { table: &table, header: &header, rows, options };
    let (form, columns) = guesser.guess(&mut faults, &mut warnings);
    if rows.is_empty() {
        faults.push(
            Fault::file(&table.file, "rows below the header")
                .at(header.row.number)
                .hint("the file may have been saved before it was filled in"),
        );
    }
    if rows.is_empty() {
        return Err(faults);
    }
    let whole = faults.0.len();
    let said = options.map.date_order;
    let date_order = if recalled {
        infer_order(&columns, rows, &mut warnings).or(said)
    } else {
        said.or_else(|| infer_order(&columns, rows, &mut warnings))
    };
    let mut reader = RowReader {
        table: &table,
        columns: &columns,
        map: &options.map,
        date_order,
        faults,
        warnings,
        skipped: Vec::new(),
    };
    let mut read = Vec::with_capacity(rows.len());
    let mut left_out = 0;
    for row in rows {
        if reader.is_left_out(row) {
            left_out += 1;
        } else if let Some(row) = reader.row(row) {
            read.push(row);
        }
    }
    if form == Form::Wide {
        reader.doubled_sites(&read);
    }
    if read.is_empty() && reader.faults.0.is_empty() {
        let mut fault = Fault::file(&table.file, "at least one row of a survey");
        if left_out > 0 {
            fault = fault.found(format!("{left_out} rows, all left out by `[only]`"));
        }
        reader.faults.push(fault);
    }
    let RowReader { faults, warnings, skipped, .. } = reader;
    if whole > 0 || read.is_empty() {
        return Err(faults);
    }
    let rows_read = rows.len();
    let table = RecordTable {
        paired: what_is_paired(&columns, &header.sub, options),
        file: table.file,
        sheet: table.sheet,
        sheets: table.sheets,
        hidden_rows: table.hidden_rows.len(),
        form,
        header_row: header.row.number,
        shape,
        map: options.map.clone(),
        recalled,
        columns,
        rows: read,
        rows_read,
        left_out,
        date_order,
        skipped,
        warnings,
    };
    Ok((table, faults))
}

/// The headers as a reader without any map finds them; none where there is no header.
fn shape(table: &Table, options: &RecordOptions<'_>) -> Shape {
    let plain = RecordOptions { map: ColumnMap::default(), recall: None, ..*options };
    let Ok(header) = header::read(table, &plain) else { return Shape::default() };
    let lower = |cell: &String| cell.trim().to_lowercase();
    let headers = header.row.cells.iter().map(lower).filter(|cell| !cell.is_empty()).collect();
    Shape { headers, row: header.row.number }
}

/// What second columns hold: as the person says, else as the header says of the first of them.
fn what_is_paired(
    columns: &[ColumnGuess],
    sub: &[String],
    options: &RecordOptions<'_>,
) -> Option<String> {
    let first = columns.iter().find(|guess| guess.meaning == Meaning::Paired)?;
    let said = options.map.paired.clone();
    said.or_else(|| sub.get(first.index).filter(|word| !word.is_empty()).cloned())
}
