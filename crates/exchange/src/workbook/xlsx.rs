//! `.xlsx` (ECMA-376). Cells come through `calamine`; hidden rows and merged cells are looked up
//! in the sheet's own XML, which is unzipped once before, against a limit.

use super::{Grid, Merged, Pick, Sheet, Workbook, cell, damaged};
use crate::archive::Archive;
use crate::fault::Faults;
use crate::xml;
use calamine::{Data, Reader as _, SheetVisible, Xlsx};
use std::collections::BTreeMap;
use std::io::Cursor;

pub(super) fn read(pick: &Pick<'_>, bytes: &[u8]) -> Result<Workbook, Faults> {
    let file = pick.file;
    let mut archive = Archive::open(file, bytes)?;
    let parts = archive.names();
    if parts.iter().any(|name| name.ends_with("workbook.bin")) {
        return Err(damaged(file, "a binary workbook (.xlsb)"));
    }
    let places = places(file, &mut archive, &parts)?;
    let mut looks = BTreeMap::new();
    let is_text = |name: &&String| {
        let ending = name.rsplit('.').next().unwrap_or_default();
        ["xml", "rels"].iter().any(|text| ending.eq_ignore_ascii_case(text))
    };
    for part in parts.iter().filter(is_text) {
        // everything calamine may unzip has then been unzipped once within the limit
        let xml = archive.read(part)?;
        if part.ends_with("sharedStrings.xml") && states_too_many_strings(&xml) {
            return Err(damaged(file, "more strings stated than there is room for"));
        }
        if places.values().any(|place| place == part) {
            looks.insert(part.clone(), Look::at(&xml));
        }
    }
    let wrong = |error: &calamine::XlsxError| match error {
        calamine::XlsxError::Password => damaged(file, "a workbook locked with a password"),
        error => damaged(file, error.to_string()),
    };
    let mut xlsx = Xlsx::new(Cursor::new(bytes)).map_err(|error| wrong(&error))?;
    let names: Vec<(String, bool)> = xlsx
        .sheets_metadata()
        .iter()
        .filter(|sheet| sheet.typ == calamine::SheetType::WorkSheet)
        .map(|sheet| (sheet.name.clone(), sheet.visible == SheetVisible::Visible))
        .collect();
    let mut workbook = Workbook::default();
    for name in pick.of(&names)? {
        let none = Look::default();
        let look = places.get(&name).and_then(|place| looks.get(place)).unwrap_or(&none);
        let sheet = sheet(&mut xlsx, file, &name, look, &wrong)?;
        workbook.sheets.push(sheet);
    }
    workbook.names = names;
    Ok(workbook)
}

fn sheet(
    xlsx: &mut Xlsx<Cursor<&[u8]>>,
    file: &str,
    name: &str,
    look: &Look,
    wrong: &impl Fn(&calamine::XlsxError) -> Faults,
) -> Result<Sheet, Faults> {
    let mut cells = xlsx.worksheet_cells_reader(name).map_err(|error| wrong(&error))?;
    let mut grid = Grid::new(file, name);
    while let Some(record) =
        cells.next_cell_with_formula_metadata().map_err(|error| wrong(&error))?
    {
        let value = Data::from(record.value);
        let mut text = cell::text(&value);
        // a formula may well give empty text; then that is stored as its result
        if value == Data::Empty
            && let Some(formula) = record.formula
        {
            use calamine::XlsxFormulaMetadata as Formula;
            text = match formula {
                Formula::Normal { formula } | Formula::Shared { formula, .. } => {
                    format!("={formula}")
                }
                _ => "=…".to_owned(),
            };
        }
        grid.set(record.pos.0 as usize, record.pos.1 as usize, &text)?;
    }
    Ok(grid.finish(&look.hidden, look.merged.clone()))
}

/// Name of each sheet and where it lies in the zip.
fn places(
    file: &str,
    archive: &mut Archive<'_>,
    parts: &[String],
) -> Result<BTreeMap<String, String>, Faults> {
    let ends = |end: &str| parts.iter().find(|name| name.ends_with(end));
    let (Some(book), Some(relations)) = (ends("workbook.xml"), ends("workbook.xml.rels")) else {
        return Err(damaged(file, "no list of sheets"));
    };
    let folder = book.rsplit_once('/').map_or("", |(folder, _)| folder);
    let relations = xml::parse(file, &archive.read(relations)?)?;
    let targets: BTreeMap<&str, String> = relations
        .descendants()
        .into_iter()
        .filter_map(|node| {
            let target = node.attribute("Target")?;
            let place = match target.strip_prefix('/') {
                Some(whole) => whole.to_owned(),
                None if folder.is_empty() => target.to_owned(),
                None => format!("{folder}/{target}"),
            };
            Some((node.attribute("Id")?, place))
        })
        .collect();
    let book = xml::parse(file, &archive.read(book)?)?;
    Ok(book
        .descendants()
        .into_iter()
        .filter(|node| node.name == "sheet")
        .filter_map(|node| {
            Some((node.attribute("name")?.to_owned(), targets.get(node.attribute("id")?)?.clone()))
        })
        .collect())
}

/// `calamine` makes room for as many strings as the part states; each takes at least ten bytes.
fn states_too_many_strings(xml: &[u8]) -> bool {
    let head = String::from_utf8_lossy(&xml[..xml.len().min(4_096)]);
    let stated = head.split("uniqueCount=\"").nth(1).and_then(|rest| rest.split('"').next());
    stated.and_then(|count| count.parse::<f64>().ok()).is_some_and(|n| n > xml.len() as f64)
}

/// What a sheet's XML says beside its cells.
#[derive(Debug, Default)]
struct Look {
    /// From 1, ascending.
    hidden: Vec<usize>,
    merged: Vec<Merged>,
}

impl Look {
    /// Finds `<row … hidden="1">` and `<mergeCell ref="A1:B2"/>`. A `<` inside text is always
    /// written as a reference, so a plain look at the bytes is enough.
    fn at(xml: &[u8]) -> Self {
        const MOST_MERGED: usize = 20_000;
        let mut look = Self::default();
        let mut row = 0;
        let mut rest = xml;
        while let Some(start) = rest.iter().position(|&b| b == b'<') {
            rest = &rest[start + 1..];
            let Some(length) = rest.iter().position(|&b| b == b'>') else { break };
            let tag = &rest[..length];
            rest = &rest[length..];
            let name = tag.split(|b| matches!(b, b' ' | b'\t' | b'\r' | b'\n' | b'/')).next();
            let name = name.unwrap_or_default();
            let name = name.rsplit(|&b| b == b':').next().unwrap_or_default();
            match name {
                b"row" => {
                    row = attribute(tag, " r=").and_then(|r| r.parse().ok()).unwrap_or(row + 1);
                    if matches!(attribute(tag, " hidden="), Some("1" | "true")) {
                        look.hidden.push(row);
                    }
                }
                b"mergeCell" if look.merged.len() < MOST_MERGED => {
                    look.merged.extend(attribute(tag, " ref=").and_then(range));
                }
                _ => {}
            }
        }
        look.hidden.sort_unstable();
        look
    }
}

fn attribute<'a>(tag: &'a [u8], key: &str) -> Option<&'a str> {
    let tag = std::str::from_utf8(tag).ok()?;
    let value = &tag[tag.find(key)? + key.len()..];
    let quote = value.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    value[1..].split(quote).next()
}

/// `A1:B2`.
fn range(text: &str) -> Option<Merged> {
    let (from, to) = text.split_once(':')?;
    let ((top, left), (bottom, right)) = (address(from)?, address(to)?);
    (top <= bottom && left <= right).then_some(Merged { top, left, bottom, right })
}

/// Row from 1, column from 0.
fn address(text: &str) -> Option<(usize, usize)> {
    let letters = text.bytes().take_while(u8::is_ascii_uppercase).count();
    let (letters, row) = text.split_at(letters);
    if letters.is_empty() || letters.len() > 3 {
        return None;
    }
    let column = letters.bytes().fold(0, |sum, b| sum * 26 + usize::from(b - b'A') + 1);
    Some((row.parse().ok()?, column - 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hidden_rows_and_merged_cells_are_found() {
        let xml = br#"<x:row r="3" spans="1:2" hidden="1"><x:c r="A3"/></x:row><row/><row
            hidden='true'/><mergeCells><mergeCell ref="C16:D17"/><mergeCell ref="AA1:AB1"/>"#;
        let look = Look::at(xml);
        assert_eq!(look.hidden, [3, 5]);
        assert_eq!(
            look.merged,
            [
                Merged { top: 16, left: 2, bottom: 17, right: 3 },
                Merged { top: 1, left: 26, bottom: 1, right: 27 },
            ]
        );
    }
}
