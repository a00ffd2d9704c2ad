//! Which sheet of a workbook is the table.

use super::{Delimiter, Row, Table, comma_number};
use crate::columns::ColumnMap;
use crate::fault::{Fault, Faults};
use crate::kind::FileKind;
use crate::record::header_score;
use crate::workbook::{Sheet, Workbook, label};

/// So far down a header is looked for.
const LOOK: usize = 40;

/// The sheet the person named; else the first that looks like a survey record; else the first
/// that holds anything.
pub(super) fn read(
    file: &str,
    kind: FileKind,
    bytes: &[u8],
    map: &ColumnMap,
) -> Result<Table, Faults> {
    let Workbook { names, sheets, mut warnings } =
        Workbook::read(file, kind, bytes, map.sheet.as_deref())?;
    let scores: Vec<usize> = sheets.iter().map(|sheet| score(sheet, map)).collect();
    let like: Vec<&str> = sheets
        .iter()
        .zip(&scores)
        .filter(|(_, score)| **score > 1)
        .map(|(sheet, _)| sheet.name.as_str())
        .collect();
    if like.len() > 1 {
        warnings.push(format!(
            "several sheets look like a record: {}; the first is read, another must be named",
            like.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
        ));
    }
    let chosen = scores
        .iter()
        .position(|score| *score > 1)
        .or_else(|| sheets.iter().position(|sheet| !sheet.rows.is_empty()));
    let Some(sheet) = chosen.and_then(|index| sheets.into_iter().nth(index)) else {
        let names: Vec<&str> = names.iter().map(|(name, _)| name.as_str()).collect();
        return Err(Fault::file(file, "a sheet with a table on it")
            .found(format!("nothing on the sheets that are shown ({})", names.join(", ")))
            .hint("a hidden sheet can be read by naming it")
            .into());
    };
    if sheet.rows.is_empty() {
        return Err(Fault::file(&label(file, &sheet.name), "rows that are not hidden")
            .found("an empty sheet")
            .hint("name another sheet, or show the hidden rows and save")
            .into());
    }
    if let Some(first) = sheet.hidden_rows.first() {
        warnings.push(format!(
            "{} hidden rows are not read, the first of them row {first}; show them in the \
             spreadsheet if they belong to the record",
            sheet.hidden_rows.len()
        ));
    }
    Ok(Table {
        file: label(file, &sheet.name),
        delimiter: Delimiter::Tab,
        decimal_comma: decimal_comma(&sheet.rows),
        encoding: "workbook",
        sheet: Some(sheet.name),
        sheets: names.into_iter().map(|(name, _)| name).collect(),
        hidden_rows: sheet.hidden_rows,
        merged: sheet.merged,
        rows: sheet.rows,
        warnings,
    })
}

fn score(sheet: &Sheet, map: &ColumnMap) -> usize {
    sheet.rows.iter().take(LOOK).map(|row| header_score(row, map)).max().unwrap_or(0)
}

/// Numbers that are numbers have a point by now, so only numbers stored as text can have a comma.
fn decimal_comma(rows: &[Row]) -> bool {
    let (mut commas, mut grouped) = (0_usize, 0_usize);
    for cell in rows.iter().flat_map(|row| &row.cells) {
        if let Some((whole, rest)) = comma_number(cell) {
            commas += 1;
            grouped += usize::from(rest.len() == 3 && whole.len() <= 3);
        }
    }
    grouped < commas
}
