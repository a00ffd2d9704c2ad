//! A survey record as people keep it in a spreadsheet: a row an observation, or a row a site.

use crate::cells::{
    DateOrder, DateReading, DepthCell, forced_order, is_blank_word, parse_depth, read_date,
    read_time,
};
use crate::columns::{
    ColumnGuess, ColumnMap, ColumnRef, Form, Meaning, looks_like_code, looks_like_taxon,
    normal_header, same_header,
};
use crate::fault::{Fault, Faults, file_name};
use crate::layer::{Skipped, degrees_fault};
use crate::text::{Row, Table, read_bytes};
use jiff::civil::{Date, Time};
use std::collections::BTreeMap;
use std::fmt;
use std::path::Path;

/// What is known before a record is read.
#[derive(Default)]
pub struct RecordOptions<'a> {
    /// What the person says about the columns.
    pub map: ColumnMap,
    /// Whether the lake's list knows this word as a plant.
    pub is_taxon: Option<&'a dyn Fn(&str) -> bool>,
}

impl fmt::Debug for RecordOptions<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("RecordOptions").field("map", &self.map).finish_non_exhaustive()
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
    /// The file's name.
    pub file: String,
    /// A row an observation or a row a site.
    pub form: Form,
    /// Row of the header, as a spreadsheet numbers it.
    pub header_row: usize,
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
    /// The guesses as a map to keep for next year, on top of what the person said.
    pub fn column_map(&self, said: &ColumnMap) -> ColumnMap {
        let mut map = said.clone();
        map.form = Some(self.form);
        map.date_order = map.date_order.or(self.date_order);
        for guess in &self.columns {
            match (guess.meaning, &guess.taxon) {
                (Meaning::TaxonColumn, Some(taxon)) => {
                    map.taxa.entry(guess.header.clone()).or_insert_with(|| taxon.clone());
                }
                (Meaning::TaxonColumn | Meaning::Ignored | Meaning::Unknown, _) => {}
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
    let table = Table::from_bytes(file, bytes)?;
    let header = find_header(&table, options)?;
    let mut faults = Faults::default();
    let mut warnings = table.warnings.clone();
    let rows = &table.rows[header + 1..];
    let guesser = Guesser { table: &table, header: &table.rows[header], rows, options };
    let (form, columns) = guesser.guess(&mut faults, &mut warnings);
    if rows.is_empty() {
        faults.push(
            Fault::file(file, "rows below the header")
                .at(table.rows[header].number)
                .hint("the file may have been saved before it was filled in"),
        );
    }
    let date_order = options.map.date_order.or_else(|| infer_order(&columns, rows, &mut warnings));
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
        let mut fault = Fault::file(file, "at least one row of a survey");
        if left_out > 0 {
            fault = fault.found(format!("{left_out} rows, all left out by `[only]`"));
        }
        reader.faults.push(fault);
    }
    let RowReader { faults, warnings, skipped, .. } = reader;
    faults.or(RecordTable {
        file: file.to_owned(),
        form,
        header_row: table.rows[header].number,
        columns,
        rows: read,
        rows_read: rows.len(),
        left_out,
        date_order,
        skipped,
        warnings,
    })
}

/// The header is the row the map says, else the first, unless a legend stands above the table and
/// a later row is understood better.
fn find_header(table: &Table, options: &RecordOptions<'_>) -> Result<usize, Faults> {
    const LOOK: usize = 40;
    if let Some(number) = options.map.header_row {
        return table.rows.iter().position(|row| row.number == number).ok_or_else(|| {
            Fault::file(&table.file, "a header").at(number).found("a blank row").into()
        });
    }
    let score = |row: &Row| {
        let mut meanings: Vec<Meaning> = row
            .cells
            .iter()
            .enumerate()
            .filter_map(|(index, cell)| {
                let said = options.map.columns.iter().find(|(_, column)| {
                    matches!(column, ColumnRef::Header(_)) && column.is(index, cell)
                });
                said.map(|(meaning, _)| *meaning)
                    .or_else(|| Meaning::of_header(&normal_header(cell).0).map(|(m, _)| m))
            })
            .collect();
        meanings.sort_unstable();
        meanings.dedup();
        meanings.len()
    };
    let first = score(&table.rows[0]);
    if first >= 2 {
        return Ok(0);
    }
    let best = table.rows.iter().take(LOOK).enumerate().rev().max_by_key(|(_, row)| score(row));
    Ok(best.filter(|(_, row)| score(row) > first.max(1)).map_or(0, |(index, _)| index))
}

struct Guesser<'a> {
    table: &'a Table,
    header: &'a Row,
    rows: &'a [Row],
    options: &'a RecordOptions<'a>,
}

impl Guesser<'_> {
    fn guess(&self, faults: &mut Faults, warnings: &mut Vec<String>) -> (Form, Vec<ColumnGuess>) {
        let map = &self.options.map;
        let mut columns: Vec<ColumnGuess> = self
            .header
            .cells
            .iter()
            .enumerate()
            .map(|(index, header)| ColumnGuess {
                index,
                header: header.clone(),
                meaning: Meaning::Unknown,
                taxon: None,
                unit: normal_header(header).1,
            })
            .collect();
        self.take_from_map(&mut columns, faults);
        self.take_from_headers(&mut columns, warnings);
        let form = map.form.unwrap_or_else(|| self.form(&mut columns));
        self.settle_ratings(form, &mut columns);
        if form == Form::Wide {
            self.take_taxa(&mut columns);
        }
        for guess in &columns {
            if guess.meaning == Meaning::Unknown && self.has_cells(guess.index) {
                let header = if guess.header.is_empty() {
                    format!("number {} (no header)", guess.index + 1)
                } else {
                    format!("`{}`", guess.header)
                };
                warnings.push(format!("column {header} is not understood and not read"));
            }
        }
        self.check(form, &columns, faults);
        (form, columns)
    }

    fn has_cells(&self, index: usize) -> bool {
        self.rows.iter().any(|row| !row.cell(index).is_empty())
    }

    fn fault(&self, expected: impl Into<String>) -> Fault {
        Fault::file(&self.table.file, expected).at(self.header.number)
    }

    /// What the person said comes first; a column that is not there is a fault.
    fn take_from_map(&self, columns: &mut [ColumnGuess], faults: &mut Faults) {
        let map = &self.options.map;
        let headers = self.header.cells.join(", ");
        let mut missing = |wanted: String| {
            faults.push(
                self.fault(format!("a column `{wanted}`, as the column map says")).found(&headers),
            );
        };
        for header in &map.ignore {
            for guess in columns.iter_mut().filter(|guess| same_header(&guess.header, header)) {
                guess.meaning = Meaning::Ignored;
            }
        }
        for (meaning, column) in &map.columns {
            match columns.iter_mut().find(|guess| column.is(guess.index, &guess.header)) {
                Some(guess) => guess.meaning = *meaning,
                None => missing(column.to_string()),
            }
        }
        for (header, taxon) in &map.taxa {
            match columns.iter_mut().find(|guess| same_header(&guess.header, header)) {
                Some(guess) => {
                    guess.meaning = Meaning::TaxonColumn;
                    guess.taxon = Some(taxon.clone());
                }
                None => missing(header.clone()),
            }
        }
        for header in map.only.keys() {
            if !columns.iter().any(|guess| same_header(&guess.header, header)) {
                missing(header.clone());
            }
        }
    }

    /// For each meaning the most telling header wins; comments may stand in several columns.
    fn take_from_headers(&self, columns: &mut [ColumnGuess], warnings: &mut Vec<String>) {
        let is_open = |guess: &ColumnGuess| guess.meaning == Meaning::Unknown;
        let mut candidates: BTreeMap<Meaning, Vec<(usize, usize)>> = BTreeMap::new();
        for guess in columns.iter().filter(|guess| is_open(guess)) {
            if let Some((meaning, rank)) = Meaning::of_header(&normal_header(&guess.header).0) {
                candidates.entry(meaning).or_default().push((rank, guess.index));
            }
        }
        for (meaning, mut found) in candidates {
            if columns.iter().any(|guess| guess.meaning == meaning) {
                continue;
            }
            found.sort_unstable();
            let many = meaning == Meaning::Comment;
            for &(_, index) in found.iter().take(if many { found.len() } else { 1 }) {
                columns[index].meaning = meaning;
            }
            if found.len() > 1 && !many {
                let (read, left) = (found[0].1, found[1].1);
                warnings.push(format!(
                    "columns `{}` and `{}` both look like {}: the first is read",
                    columns[read].header,
                    columns[left].header,
                    meaning.key()
                ));
            }
        }
    }

    /// A column that names the plant makes a long table. A column `species` full of whole numbers
    /// is a count.
    fn form(&self, columns: &mut [ColumnGuess]) -> Form {
        let Some(guess) = columns.iter_mut().find(|guess| guess.meaning == Meaning::Taxon) else {
            return Form::Wide;
        };
        let mut cells = self.rows.iter().map(|row| row.cell(guess.index)).filter(|c| !c.is_empty());
        let said = self.options.map.columns.contains_key(&Meaning::Taxon);
        let counts =
            cells.clone().next().is_some() && cells.all(|cell| cell.parse::<u32>().is_ok());
        if counts && !said {
            guess.meaning = Meaning::SpeciesTotal;
            Form::Wide
        } else {
            Form::Long
        }
    }

    /// A rating in a wide table is of everything; in a long table, with no other, of the plant.
    fn settle_ratings(&self, form: Form, columns: &mut [ColumnGuess]) {
        let said = &self.options.map.columns;
        let has = |columns: &[ColumnGuess], meaning| columns.iter().any(|g| g.meaning == meaning);
        let (from, to) = match form {
            Form::Wide => (Meaning::Rating, Meaning::TotalRating),
            Form::Long => (Meaning::TotalRating, Meaning::Rating),
        };
        let total = |guess: &ColumnGuess| {
            let words = normal_header(&guess.header).0;
            words.contains("total") || words.contains("overall")
        };
        if has(columns, to) || said.contains_key(&from) {
            return;
        }
        if let Some(guess) = columns.iter_mut().find(|guess| guess.meaning == from)
            && (form == Form::Wide || !total(guess))
        {
            guess.meaning = to;
        }
    }

    fn take_taxa(&self, columns: &mut [ColumnGuess]) {
        for guess in columns.iter_mut().filter(|guess| guess.meaning == Meaning::Unknown) {
            let header = guess.header.as_str();
            if header.is_empty() {
                continue;
            }
            let known = self.options.is_taxon.is_some_and(|is_taxon| is_taxon(header));
            let code = looks_like_code(header) && self.cells_like_ratings(guess.index);
            if known || looks_like_taxon(header) || code {
                guess.meaning = Meaning::TaxonColumn;
                guess.taxon = Some(header.replace('_', " "));
            }
        }
    }

    /// A rating is short.
    fn cells_like_ratings(&self, index: usize) -> bool {
        self.rows.iter().all(|row| row.cell(index).chars().count() <= 4)
    }

    fn check(&self, form: Form, columns: &[ColumnGuess], faults: &mut Faults) {
        let has = |meaning| columns.iter().any(|guess| guess.meaning == meaning);
        let placed =
            has(Meaning::Latitude) && has(Meaning::Longitude) || has(Meaning::X) && has(Meaning::Y);
        let headers = self.header.cells.join(", ");
        if !has(Meaning::Site) && !placed {
            faults.push(
                self.fault("a column with the code of the site, or columns with its position")
                    .found(&headers)
                    .hint(
                        "name the column in a map: a file with the lines `[columns]` and \
                         `site = \"HEADER\"`, given with `--columns MAP.toml`",
                    ),
            );
        }
        for (one, other) in [
            (Meaning::Latitude, Meaning::Longitude),
            (Meaning::Longitude, Meaning::Latitude),
            (Meaning::X, Meaning::Y),
            (Meaning::Y, Meaning::X),
        ] {
            if has(one) && !has(other) {
                let expected =
                    format!("a column for {} beside the one for {}", other.key(), one.key());
                faults.push(self.fault(expected).found(&headers));
            }
        }
        if form == Form::Long && !has(Meaning::Taxon) {
            faults.push(
                self.fault("a column that names the plant")
                    .found(&headers)
                    .hint("name it with `taxon = \"HEADER\"`, or say `form = \"wide\"`"),
            );
        }
    }
}

/// The order of day and month that the dates of the file themselves prove.
fn infer_order(
    columns: &[ColumnGuess],
    rows: &[Row],
    warnings: &mut Vec<String>,
) -> Option<DateOrder> {
    let column = columns.iter().find(|guess| guess.meaning == Meaning::Date)?;
    let mut proof: BTreeMap<&str, (DateOrder, &Row)> = BTreeMap::new();
    for row in rows {
        if let Some(order) = forced_order(row.cell(column.index)) {
            proof.entry(order.key()).or_insert((order, row));
        }
    }
    let mut proofs = proof.into_values();
    let (Some((order, row)), None) = (proofs.next(), proofs.next()) else { return None };
    let ambiguous = rows
        .iter()
        .any(|row| matches!(read_date(row.cell(column.index), None), DateReading::Either(..)));
    if ambiguous {
        let words = match order {
            DateOrder::MonthFirst => "month/day/year",
            DateOrder::DayFirst => "day/month/year",
        };
        warnings.push(format!(
            "dates are read as {words}, because `{}` in row {} can only be that",
            row.cell(column.index),
            row.number
        ));
    }
    Some(order)
}

struct RowReader<'a> {
    table: &'a Table,
    columns: &'a [ColumnGuess],
    map: &'a ColumnMap,
    date_order: Option<DateOrder>,
    faults: Faults,
    warnings: Vec<String>,
    skipped: Vec<Skipped>,
}

impl RowReader<'_> {
    fn is_left_out(&self, row: &Row) -> bool {
        self.map.only.iter().any(|(header, wanted)| {
            self.columns
                .iter()
                .find(|guess| same_header(&guess.header, header))
                .is_some_and(|guess| !same_header(row.cell(guess.index), wanted))
        })
    }

    fn fault(
        &mut self,
        row: &Row,
        column: &ColumnGuess,
        expected: impl Into<String>,
    ) -> &mut Fault {
        let cell = row.cell(column.index);
        let fault = Fault::file(&self.table.file, expected)
            .at(row.number)
            .field(&column.header)
            .found(cell);
        self.faults.0.push(fault);
        let last = self.faults.0.len() - 1;
        &mut self.faults.0[last]
    }

    fn row(&mut self, row: &Row) -> Option<RecordRow> {
        let mut read = RecordRow { row: row.number, ..RecordRow::default() };
        let mut anything = false;
        let columns = self.columns;
        for column in columns {
            let cell = row.cell(column.index);
            if cell.is_empty() {
                continue;
            }
            anything |= !matches!(column.meaning, Meaning::Ignored | Meaning::Unknown);
            self.cell(row, column, cell, &mut read);
        }
        let extra = row.cells.get(self.columns.len()..).unwrap_or_default();
        if let Some(cell) = extra.iter().find(|cell| !cell.is_empty()) {
            self.faults.push(
                Fault::file(
                    &self.table.file,
                    format!("{} cells, as many as headers", self.columns.len()),
                )
                .at(row.number)
                .found(format!("{} cells, among the last {cell}", row.cells.len()))
                .hint("a comma inside a cell needs quotation marks around the cell"),
            );
        }
        if !anything {
            self.skip(row, "nothing in the columns that are read");
            return None;
        }
        if read.site.as_deref().is_some_and(is_sum_word) {
            self.skip(row, "a row of totals, not a site");
            return None;
        }
        self.check_place(row, &read);
        if read.site.is_none() && read.longitude.is_none() && read.x.is_none() {
            // where a column for sites is, a row without is a fault, told in `check_place`
            self.skip(row, "it has neither a site nor a position");
            return None;
        }
        Some(read)
    }

    fn skip(&mut self, row: &Row, reason: &str) {
        self.skipped.push(Skipped { row: row.number, reason: reason.to_owned() });
    }

    fn cell(&mut self, row: &Row, column: &ColumnGuess, cell: &str, read: &mut RecordRow) {
        let text = || Some(cell.to_owned());
        match column.meaning {
            Meaning::Site => read.site = text(),
            Meaning::Sediment => read.sediment = text(),
            Meaning::Outcome => read.outcome = text(),
            Meaning::TotalRating => read.total_rating = text(),
            Meaning::Taxon => read.taxon = text(),
            Meaning::Rating => read.rating = text(),
            Meaning::HowSeen => read.how_seen = text(),
            Meaning::Landmark => read.landmark = text(),
            Meaning::Zone => read.zone = text(),
            Meaning::Crew => read.crew = text(),
            Meaning::Comment => {
                read.comment = match read.comment.take() {
                    Some(before) => Some(format!("{before}; {cell}")),
                    None => text(),
                };
            }
            Meaning::Latitude => read.latitude = self.number(row, column, "`43.05089`"),
            Meaning::Longitude => read.longitude = self.number(row, column, "`-89.43150`"),
            Meaning::X => read.x = self.number(row, column, "`566486.06`"),
            Meaning::Y => read.y = self.number(row, column, "`286372.01`"),
            Meaning::Depth => read.depth = self.depth(row, column, cell),
            Meaning::Date => self.date(row, column, cell, read),
            Meaning::Time if is_blank_word(cell) => {}
            Meaning::Time => match read_time(cell) {
                Some(time) => read.time = Some(time),
                None => {
                    self.fault(row, column, "a time of day such as `9:16` or `2:05 pm`");
                }
            },
            Meaning::Throw => {
                read.throw = self.count(row, column, "the number of the throw: `1`, `2`, `3`")
            }
            Meaning::SpeciesTotal => {
                read.species_total = self.count(row, column, "a whole number of species")
            }
            Meaning::SpeciesNative => {
                read.species_native = self.count(row, column, "a whole number of species")
            }
            Meaning::TaxonColumn => read.taxa.push(TaxonCell {
                column: column.index,
                name: column.taxon.clone().unwrap_or_else(|| column.header.clone()),
                raw: cell.to_owned(),
                reading: CellReading::of(cell),
            }),
            Meaning::Ignored => {}
            Meaning::Unknown => read.other.push((column.index, cell.to_owned())),
        }
    }

    fn number(&mut self, row: &Row, column: &ColumnGuess, example: &str) -> Option<f64> {
        let cell = row.cell(column.index);
        if is_blank_word(cell) {
            return None;
        }
        let value = self.table.number(cell);
        if value.is_none() {
            self.fault(row, column, format!("a number such as {example}"));
        }
        value
    }

    fn count(&mut self, row: &Row, column: &ColumnGuess, expected: &str) -> Option<u32> {
        let cell = row.cell(column.index);
        if is_blank_word(cell) {
            return None;
        }
        let whole = self.table.number(cell).filter(|n| (0.0..1e9).contains(n) && n.fract() <= 0.0);
        if whole.is_none() {
            self.fault(row, column, expected);
        }
        whole.map(|value| value as u32)
    }

    fn depth(&mut self, row: &Row, column: &ColumnGuess, cell: &str) -> Option<DepthCell> {
        if is_blank_word(cell) {
            return None;
        }
        let mut depth = parse_depth(cell, self.table.decimal_comma);
        depth.unit = depth.unit.or(column.unit).or(self.map.depth_unit);
        match (depth.value, &depth.note) {
            (Some(value), _) if value < 0.0 => {
                self.fault(row, column, "a depth at or below the surface, as a number from 0")
                    .hint = Some("write depths without a minus sign".to_owned());
            }
            (value, Some(note)) => {
                let what =
                    value.map_or_else(|| "no depth is read".to_owned(), |v| format!("read as {v}"));
                self.warnings.push(format!("row {}: depth `{cell}`: {what} ({note})", row.number));
            }
            (_, None) => {}
        }
        Some(depth)
    }

    fn date(&mut self, row: &Row, column: &ColumnGuess, cell: &str, read: &mut RecordRow) {
        if is_blank_word(cell) {
            return;
        }
        match read_date(cell, self.date_order) {
            DateReading::Day(date, time) => {
                read.date = Some(date);
                read.time = read.time.or(time);
            }
            DateReading::Either(month_first, day_first) => {
                let expected = format!(
                    "a date with one reading; this is {month_first} with the month first and \
                     {day_first} with the day first"
                );
                self.fault(row, column, expected).hint = Some(
                    "say which with `date_order = \"mdy\"` or `date_order = \"dmy\"` in the \
                     column map"
                        .to_owned(),
                );
            }
            DateReading::No => {
                self.fault(row, column, "a date such as `2022-08-14`");
            }
        }
    }

    /// A row must say where it is, and on Earth.
    fn check_place(&mut self, row: &Row, read: &RecordRow) {
        let columns = self.columns;
        let column = |meaning| columns.iter().find(|guess| guess.meaning == meaning);
        match (read.longitude, read.latitude) {
            (Some(longitude), Some(latitude)) => {
                if let Some((expected, hint)) = degrees_fault(longitude, latitude)
                    && let (Some(x), Some(y)) =
                        (column(Meaning::Longitude), column(Meaning::Latitude))
                {
                    let wrong = if latitude.abs() > 84.0 { y } else { x };
                    self.fault(row, wrong, expected).hint = Some(hint.to_owned());
                }
            }
            (None, None) => {}
            (one, _) => {
                let missing = if one.is_some() { Meaning::Latitude } else { Meaning::Longitude };
                if let Some(column) = column(missing)
                    && is_blank_word(row.cell(column.index))
                {
                    self.fault(
                        row,
                        column,
                        format!("a {} beside the other coordinate", missing.key()),
                    );
                }
            }
        }
        if read.site.is_none()
            && let Some(column) = column(Meaning::Site)
        {
            self.fault(row, column, "the code of the site");
        }
    }

    /// Two rows for one site on one day with one throw cannot both be meant.
    fn doubled_sites(&mut self, rows: &[RecordRow]) {
        let Some(column) = self.columns.iter().find(|guess| guess.meaning == Meaning::Site) else {
            return;
        };
        let mut first: BTreeMap<(&str, Option<Date>, Option<u32>), usize> = BTreeMap::new();
        for row in rows {
            let Some(site) = row.site.as_deref() else { continue };
            match first.get(&(site, row.date, row.throw)) {
                None => {
                    first.insert((site, row.date, row.throw), row.row);
                }
                Some(earlier) => self.faults.push(
                    Fault::file(
                        &self.table.file,
                        format!("one row for a site; row {earlier} has it already"),
                    )
                    .at(row.row)
                    .field(&column.header)
                    .found(site)
                    .hint("for several throws at a site add a column `throw` with 1, 2, 3"),
                ),
            }
        }
    }
}

fn is_sum_word(site: &str) -> bool {
    matches!(
        site.to_lowercase().trim_end_matches(':'),
        "total" | "totals" | "sum" | "mean" | "average" | "count" | "grand total"
    )
}
