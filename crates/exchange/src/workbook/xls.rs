//! `.xls` (BIFF in a compound file, \[MS-XLS\], \[MS-CFB\]) through `calamine`.

use super::{Grid, Merged, Pick, Workbook, cell, damaged};
use crate::fault::{Fault, Faults};
use calamine::{Reader as _, SheetVisible, Xls};
use std::io::Cursor;

pub(super) fn read(pick: &Pick<'_>, bytes: &[u8]) -> Result<Workbook, Faults> {
    let file = pick.file;
    if has_stream(bytes, "EncryptedPackage") {
        return Err(locked(file));
    }
    if !has_stream(bytes, "Workbook") && !has_stream(bytes, "Book") {
        return Err(Fault::file(file, "a workbook")
            .found("an office document without a workbook in it")
            .hint("give the spreadsheet, or save the table in it as CSV UTF-8")
            .into());
    }
    if states_too_much(bytes) {
        return Err(damaged(file, "parts longer than the file"));
    }
    let mut xls = Xls::new(Cursor::new(bytes)).map_err(|error| match error {
        calamine::XlsError::Password => locked(file),
        error => damaged(file, error.to_string()),
    })?;
    let names: Vec<(String, bool)> = xls
        .sheets_metadata()
        .iter()
        .filter(|sheet| sheet.typ == calamine::SheetType::WorkSheet)
        .map(|sheet| (sheet.name.clone(), sheet.visible == SheetVisible::Visible))
        .collect();
    let mut workbook = Workbook {
        warnings: vec![
            "this is an old .xls: rows hidden in it cannot be told and are read like the others; \
             saved as .xlsx they would be left out"
                .to_owned(),
        ],
        ..Workbook::default()
    };
    for name in pick.of(&names)? {
        let range = xls.worksheet_range(&name).map_err(|error| damaged(file, error.to_string()))?;
        let (top, left) = range.start().unwrap_or_default();
        let mut grid = Grid::new(file, &name);
        for (row, column, value) in range.used_cells() {
            let text = cell::text(value);
            grid.set(top as usize + row, left as usize + column, &text)?;
        }
        let merged = xls.merge_cells_by_sheet_name(&name).unwrap_or_default();
        let merged = merged.iter().map(|range| Merged {
            top: range.start.0 as usize + 1,
            left: range.start.1 as usize,
            bottom: range.end.0 as usize + 1,
            right: range.end.1 as usize,
        });
        workbook.sheets.push(grid.finish(&[], merged.collect()));
    }
    workbook.names = names;
    Ok(workbook)
}

fn locked(file: &str) -> Faults {
    Fault::file(file, "a workbook without a password")
        .found("one locked with a password")
        .hint("open it, remove the password, and save it again")
        .into()
}

/// Entries of the directory are 128 bytes long and lie on multiples of that: a name in UTF-16,
/// at byte 64 its length with the closing zero, at 66 the kind, at 120 the size.
fn entries<'a>(bytes: &'a [u8], name: &str) -> impl Iterator<Item = &'a [u8]> {
    let wide: Vec<u8> = name.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let length = (wide.len() + 2) as u16;
    bytes
        .chunks_exact(128)
        .filter(move |entry| entry.starts_with(&wide) && entry[64..66] == length.to_le_bytes())
}

fn has_stream(bytes: &[u8], name: &str) -> bool {
    entries(bytes, name).any(|entry| entry[66] == 2)
}

/// A length beyond the file would make `calamine` walk in circles, and it makes room for as many
/// cells as the record of dimensions (0x0200, 14 bytes) states.
fn states_too_much(bytes: &[u8]) -> bool {
    /// All cells of the largest sheet of its time: 65,536 rows and 256 columns.
    const MOST: u64 = 65_536 * 256;
    let wide = |b: &[u8]| u64::from(u32::from_le_bytes([b[0], b[1], b[2], b[3]]));
    let dimensions = bytes.windows(18).filter(|window| window.starts_with(&[0, 2, 14, 0]));
    let too_many = dimensions.map(|window| {
        let rows = wide(&window[8..12]).saturating_sub(wide(&window[4..8]));
        rows * u64::from(u16::from_le_bytes([window[14], window[15]]))
    });
    if too_many.max().is_some_and(|cells| cells > MOST) {
        return true;
    }
    ["Workbook", "Book", "Root Entry"].into_iter().flat_map(|name| entries(bytes, name)).any(
        |entry| {
            let size = u32::from_le_bytes([entry[120], entry[121], entry[122], entry[123]]);
            size as usize > bytes.len()
        },
    )
}
