//! The cells of each row.

use super::header::typed_before_date;
use super::{CellReading, PairedCell, RecordRow, TaxonCell};
use crate::cells::{
    Axis, DateOrder, DateReading, DepthCell, is_blank_word, parse_degrees, parse_depth, read_date,
    read_time,
};
use crate::columns::{ColumnGuess, ColumnMap, Meaning, same_header};
use crate::fault::{Fault, Faults};
use crate::layer::{Skipped, degrees_fault};
use crate::text::{Row, Table};
use jiff::civil::Date;
use std::collections::BTreeMap;

pub(super) struct RowReader<'a> {
    pub(super) table: &'a Table,
    pub(super) columns: &'a [ColumnGuess],
    pub(super) map: &'a ColumnMap,
    pub(super) date_order: Option<DateOrder>,
    pub(super) faults: Faults,
    pub(super) warnings: Vec<String>,
    pub(super) skipped: Vec<Skipped>,
}

impl RowReader<'_> {
    pub(super) fn is_left_out(&self, row: &Row) -> bool {
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
        let fault =
            Fault::file(&self.table.file, expected).at(row.number).field(column.name()).found(cell);
        self.faults.0.push(fault);
        let last = self.faults.0.len() - 1;
        &mut self.faults.0[last]
    }

    pub(super) fn row(&mut self, row: &Row) -> Option<RecordRow> {
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
        if self.is_unusable(row, column, cell) {
            if column.meaning == Meaning::Site {
                read.site = text();
            }
            return;
        }
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
            Meaning::Latitude => read.latitude = self.degrees(row, column, Axis::Latitude),
            Meaning::Longitude => read.longitude = self.degrees(row, column, Axis::Longitude),
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
                read.throw = self.count(row, column, "the number of the throw: `1`, `2`, `3`");
            }
            Meaning::SpeciesTotal => {
                read.species_total = self.count(row, column, "a whole number of species");
            }
            Meaning::SpeciesNative => {
                read.species_native = self.count(row, column, "a whole number of species");
            }
            Meaning::TaxonColumn => read.taxa.push(TaxonCell {
                column: column.index,
                name: column.taxon.clone().unwrap_or_else(|| column.header.clone()),
                raw: cell.to_owned(),
                reading: CellReading::of(cell),
            }),
            Meaning::Paired => read.paired.push(PairedCell {
                column: column.index,
                name: column.taxon.clone().unwrap_or_else(|| column.header.clone()),
                raw: cell.to_owned(),
            }),
            Meaning::Ignored => {}
            Meaning::Unknown => read.other.push((column.index, cell.to_owned())),
        }
    }

    /// Failed formulas, formulas nobody worked out, and ratings or codes that became dates; each
    /// is told.
    fn is_unusable(&mut self, row: &Row, column: &ColumnGuess, cell: &str) -> bool {
        const FAILED: [&str; 7] =
            ["#DIV/0!", "#REF!", "#VALUE!", "#NAME?", "#NUM!", "#NULL!", "#DATA!"];
        let rating =
            matches!(column.meaning, Meaning::TaxonColumn | Meaning::Rating | Meaning::TotalRating);
        let code = self.table.sheet.is_some() && column.meaning == Meaning::Site;
        if matches!(column.meaning, Meaning::Ignored | Meaning::Unknown | Meaning::Comment) {
            return false;
        }
        let workbook = self.table.sheet.is_some();
        if (workbook || rating) && FAILED.contains(&cell) || rating && cell == "#N/A" {
            self.fault(row, column, "a value; the formula in this cell failed").hint =
                Some("mend the formula in the spreadsheet, or clear the cell, and save".to_owned());
            return true;
        }
        if workbook && cell.starts_with('=') {
            self.fault(
                row,
                column,
                "a value; this formula stands there as text or has no saved result",
            )
            .hint = Some(
                "type the value over the formula, or open the file in a spreadsheet program and \
                 save it there"
                    .to_owned(),
            );
            return true;
        }
        if (rating || code)
            && let Some((month_first, day_first)) = typed_before_date(cell)
        {
            let (what, example) =
                if code { ("the code of a site", "the code") } else { ("a rating", "the rating") };
            let either = if month_first == day_first {
                format!("`{month_first}`")
            } else {
                format!("`{month_first}`, or of `{day_first}` where the day comes first")
            };
            let expected = format!("{what}; a spreadsheet has made this day of {either}");
            self.fault(row, column, expected).hint = Some(format!(
                "format the cell as text and type {example} again, or say what it is in the \
                 column map: a line `[read_as]`, under it `\"{cell}\" = \"…\"`"
            ));
            return true;
        }
        false
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

    fn degrees(&mut self, row: &Row, column: &ColumnGuess, axis: Axis) -> Option<f64> {
        let cell = row.cell(column.index);
        if is_blank_word(cell) {
            return None;
        }
        let value = parse_degrees(cell, axis, self.table.decimal_comma);
        if value.is_none() {
            self.fault(
                row,
                column,
                match axis {
                    Axis::Latitude => "a latitude such as `43.05089` or `43 03.053 N`",
                    Axis::Longitude => "a longitude such as `-89.43150` or `89 25.890 W`",
                },
            );
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
    pub(super) fn doubled_sites(&mut self, rows: &[RecordRow]) {
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
