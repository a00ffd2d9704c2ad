//! From bytes to rows of cells: encodings, line ends, delimiters, decimal commas.
//!
//! The splitter is our own for two reasons: rows keep the number a spreadsheet shows (blank lines
//! count, a cell with line breaks is one row), and a quotation mark that never closes is a fault
//! with a place, not the silent end of the file. `tests/text.rs` holds it against the `csv` crate.

use crate::columns::ColumnMap;
use crate::fault::{Fault, Faults, file_name};
use crate::kind::FileKind;
use crate::workbook::Merged;
use std::path::Path;

mod sheets;

/// Larger files are refused.
pub const LARGEST_FILE: u64 = 512 * 1024 * 1024;

/// What stands between two cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Delimiter {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// Tab.
    Tab,
    /// `|`
    Pipe,
}

impl Delimiter {
    /// All of them; on equal evidence the earlier wins, because a comma may be a decimal comma.
    const ALL: [Self; 4] = [Self::Tab, Self::Semicolon, Self::Pipe, Self::Comma];

    const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
            Self::Pipe => b'|',
        }
    }

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Comma => "comma",
            Self::Semicolon => "semicolon",
            Self::Tab => "tab",
            Self::Pipe => "pipe",
        }
    }
}

/// Text out of a file's bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decoded {
    /// The text, without byte order mark, line ends as they were.
    pub text: String,
    /// Name of the encoding it was read as.
    pub encoding: &'static str,
    /// What a person should know about how it was read.
    pub warnings: Vec<String>,
}

/// A file, or one sheet of a workbook, as rows of cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// The file's name as faults give it; for a workbook `FILE, sheet NAME`.
    pub file: String,
    /// What stood between cells; for a workbook the tab, as a spreadsheet copies it.
    pub delimiter: Delimiter,
    /// Whether numbers are written `12,5`.
    pub decimal_comma: bool,
    /// Name of the encoding it was read as; for a workbook `workbook`.
    pub encoding: &'static str,
    /// The sheet that was read, where the file is a workbook.
    pub sheet: Option<String>,
    /// Every sheet of the workbook, in order.
    pub sheets: Vec<String>,
    /// Rows that hold something and were left out because they are hidden in the workbook.
    pub hidden_rows: Vec<usize>,
    /// Cells drawn as one.
    pub(crate) merged: Vec<Merged>,
    /// Rows that hold anything; blank rows are left out but counted in [`Row::number`].
    pub rows: Vec<Row>,
    /// What a person should know about how it was read.
    pub warnings: Vec<String>,
}

/// One row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// As a spreadsheet numbers it, from 1.
    pub number: usize,
    /// The cells, trimmed.
    pub cells: Vec<String>,
}

impl Row {
    /// The cell in a column, empty when the row is short.
    pub fn cell(&self, index: usize) -> &str {
        self.cells.get(index).map_or("", String::as_str)
    }
}

impl Table {
    /// Reads a table file: text, or the sheet of a workbook that looks most like a survey record,
    /// else its first.
    ///
    /// # Errors
    /// [`Faults`] when the file is missing, too large, not a table, or breaks off inside quotes.
    pub fn read(path: &Path) -> Result<Self, Faults> {
        Self::read_sheet(path, None)
    }

    /// Reads a table file; of a workbook the sheet of this name.
    ///
    /// # Errors
    /// As [`Self::read`], and when there is no such sheet.
    pub fn read_sheet(path: &Path, sheet: Option<&str>) -> Result<Self, Faults> {
        let bytes = read_bytes(path)?;
        Self::from_bytes_sheet(&file_name(path), &bytes, sheet)
    }

    /// Reads a table out of bytes; `file` names them in faults.
    ///
    /// # Errors
    /// [`Faults`] when the bytes are not a table or break off inside quotes.
    pub fn from_bytes(file: &str, bytes: &[u8]) -> Result<Self, Faults> {
        Self::from_bytes_sheet(file, bytes, None)
    }

    /// Reads a table out of bytes; of a workbook the sheet of this name.
    ///
    /// # Errors
    /// As [`Self::from_bytes`], and when there is no such sheet.
    pub fn from_bytes_sheet(file: &str, bytes: &[u8], sheet: Option<&str>) -> Result<Self, Faults> {
        let map = ColumnMap { sheet: sheet.map(str::to_owned), ..ColumnMap::default() };
        Self::open(file, bytes, &map)
    }

    /// Reads a table with what a person says about its columns in mind.
    pub(crate) fn open(file: &str, bytes: &[u8], map: &ColumnMap) -> Result<Self, Faults> {
        const WANTED: &str = "a table: CSV text, .xlsx, .xls or .ods";
        match FileKind::of(bytes) {
            FileKind::Text | FileKind::Json if !looks_like_json(bytes) => {}
            FileKind::Text => {}
            kind @ (FileKind::Xlsx | FileKind::OldOffice | FileKind::Ods) => {
                return sheets::read(file, kind, bytes, map);
            }
            kind => return Err(kind.fault(file, WANTED).into()),
        }
        if let Some(wanted) = &map.sheet {
            return Err(Fault::file(file, format!("a workbook with a sheet named `{wanted}`"))
                .found("a table saved as text, which has no sheets")
                .hint("leave the sheet out, or give the workbook")
                .into());
        }
        let Decoded { text, encoding, mut warnings } = decode(bytes);
        if text.contains('\0') {
            return Err(FileKind::Binary.fault(file, WANTED).into());
        }
        let ending = file.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase());
        if let Some(ending @ ("xlsx" | "xls" | "ods" | "xlsm")) = ending.as_deref() {
            warnings.push(format!(
                "the file is named .{ending} but holds text; it is read as a table of text"
            ));
        }
        let (declared, body) = separator_line(&text);
        let delimiter = declared.unwrap_or_else(|| detect_delimiter(body));
        let mut rows = split(file, body, delimiter)?;
        if declared.is_some() {
            for row in &mut rows {
                row.number += 1;
            }
        }
        if rows.is_empty() {
            return Err(FileKind::Empty.fault(file, WANTED).into());
        }
        let decimal_comma = detect_decimal_comma(&rows, delimiter);
        Ok(Self {
            file: file.to_owned(),
            delimiter,
            decimal_comma,
            encoding,
            sheet: None,
            sheets: Vec::new(),
            hidden_rows: Vec::new(),
            merged: Vec::new(),
            rows,
            warnings,
        })
    }

    /// A number out of one of this table's cells.
    pub fn number(&self, cell: &str) -> Option<f64> {
        parse_number(cell, self.decimal_comma)
    }
}

/// A whole file, if it is there and not too large.
pub(crate) fn read_bytes(path: &Path) -> Result<Vec<u8>, Faults> {
    let file = file_name(path);
    let unreadable = |error: std::io::Error| {
        let what = match error.kind() {
            std::io::ErrorKind::NotFound => "no such file".to_owned(),
            std::io::ErrorKind::PermissionDenied => "a file this user may not read".to_owned(),
            _ => error.to_string(),
        };
        Faults::one(
            Fault::file(&path.display().to_string(), "a file that can be read")
                .found(what)
                .hint("check the folder and the spelling of the name"),
        )
    };
    let about = std::fs::metadata(path).map_err(unreadable)?;
    if about.is_dir() {
        return Err(Fault::file(&file, "a file")
            .found("a folder")
            .hint("give the file inside it")
            .into());
    }
    if about.len() > LARGEST_FILE {
        return Err(Fault::file(&file, "a file of at most 512 MB")
            .found(format!("{} MB", about.len() / (1024 * 1024)))
            .hint("cut the file to the lake and the columns that are needed")
            .into());
    }
    std::fs::read(path).map_err(unreadable)
}

/// A brace opens both JSON and, rarely, a table; JSON goes on with a quotation mark or closes.
fn looks_like_json(bytes: &[u8]) -> bool {
    let body = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes).trim_ascii_start();
    let next = body.get(1..).map(<[u8]>::trim_ascii_start).and_then(<[u8]>::first);
    matches!(next, None | Some(b'"' | b'}' | b'{' | b'['))
}

/// Reads text by its byte order mark, else as UTF-8 when that fits, else as Windows-1252, which
/// is what spreadsheet programs in the Americas and western Europe save as plain "CSV".
pub fn decode(bytes: &[u8]) -> Decoded {
    if let Some((encoding, length)) = encoding_rs::Encoding::for_bom(bytes) {
        let (text, broken) = encoding.decode_without_bom_handling(&bytes[length..]);
        let mut warnings = Vec::new();
        if broken {
            warnings.push(format!(
                "some characters could not be read as {} and show as `\u{FFFD}`",
                encoding.name()
            ));
        }
        return Decoded { text: text.into_owned(), encoding: encoding.name(), warnings };
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Decoded { text: text.to_owned(), encoding: "UTF-8", warnings: Vec::new() },
        // the last character was cut off: the rest is sound
        Err(error)
            if error.error_len().is_none() && bytes.iter().any(|&b| b >= 0x80) && {
                error.valid_up_to() > 0 && bytes[..error.valid_up_to()].iter().any(|&b| b >= 0x80)
            } =>
        {
            Decoded {
                text: String::from_utf8_lossy(bytes).into_owned(),
                encoding: "UTF-8",
                warnings: vec!["the file breaks off inside its last character".to_owned()],
            }
        }
        Err(_) => {
            let (text, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(bytes);
            Decoded {
                text: text.into_owned(),
                encoding: "Windows-1252",
                warnings: vec![
                    "the text is not UTF-8 and was read as Windows-1252; check accented letters"
                        .to_owned(),
                ],
            }
        }
    }
}

/// `sep=;` in the first line is a spreadsheet's own note of its delimiter.
fn separator_line(text: &str) -> (Option<Delimiter>, &str) {
    let end = text.find(['\r', '\n']).unwrap_or(text.len());
    let line = text[..end].trim_matches('"');
    let mark = line.strip_prefix("sep=").or_else(|| line.strip_prefix("SEP="));
    let found =
        mark.and_then(|mark| Delimiter::ALL.into_iter().find(|d| mark.as_bytes() == [d.byte()]));
    if found.is_none() {
        return (None, text);
    }
    let rest = &text[end..];
    let rest =
        rest.strip_prefix("\r\n").or_else(|| rest.strip_prefix(['\r', '\n'])).unwrap_or(rest);
    (found, rest)
}

/// The delimiter whose count outside quotes is most alike from line to line.
fn detect_delimiter(text: &str) -> Delimiter {
    const LINES: usize = 50;
    let mut counts: Vec<[usize; 4]> = Vec::new();
    let (mut now, mut quoted, mut anything) = ([0; 4], false, false);
    for byte in text.bytes() {
        match byte {
            b'"' => quoted = !quoted,
            b'\r' | b'\n' if !quoted => {
                if anything {
                    counts.push(now);
                }
                if counts.len() == LINES {
                    break;
                }
                (now, anything) = ([0; 4], false);
                continue;
            }
            _ if !quoted => {
                if let Some(index) = Delimiter::ALL.iter().position(|d| d.byte() == byte) {
                    now[index] += 1;
                }
            }
            _ => {}
        }
        anything |= !byte.is_ascii_whitespace();
    }
    if anything && counts.len() < LINES {
        counts.push(now);
    }
    let mut best = (Delimiter::Comma, 0_usize, 0_usize);
    for (index, delimiter) in Delimiter::ALL.into_iter().enumerate() {
        let present = counts.iter().filter(|line| line[index] > 0).count();
        let Some(usual) = most_common(counts.iter().map(|line| line[index]).filter(|&n| n > 0))
        else {
            continue;
        };
        let alike = counts.iter().filter(|line| line[index] == usual).count();
        // a line that has the delimiter at all is evidence too: rows may be ragged
        let score = (2 * alike + present) * 100 / counts.len().max(1);
        if score > best.1 || (score == best.1 && usual > best.2 && delimiter != Delimiter::Comma) {
            best = (delimiter, score, usual);
        }
    }
    best.0
}

fn most_common(values: impl Iterator<Item = usize>) -> Option<usize> {
    let mut tally = std::collections::BTreeMap::new();
    for value in values {
        *tally.entry(value).or_insert(0_usize) += 1;
    }
    tally.into_iter().max_by_key(|&(value, times)| (times, value)).map(|(value, _)| value)
}

/// Splits text into rows after RFC 4180, leniently: any of the three line ends, quotation marks
/// inside an unquoted cell kept as they are, space before an opening mark allowed.
fn split(file: &str, text: &str, delimiter: Delimiter) -> Result<Vec<Row>, Faults> {
    let (bytes, delimiter) = (text.as_bytes(), delimiter.byte());
    let mut rows = Vec::new();
    let mut cells: Vec<String> = Vec::new();
    let mut number = 1;
    let mut width = 0;
    let mut at = 0;
    while at < bytes.len() || !cells.is_empty() {
        let (cell, next) = if let Some(start) = quoted_start(bytes, at) {
            quoted_cell(text, start, delimiter)
                .ok_or_else(|| open_quote(file, number, cells.len(), &text[start..]))?
        } else {
            let end = bytes[at..]
                .iter()
                .position(|&b| b == delimiter || b == b'\n' || b == b'\r')
                .map_or(bytes.len(), |length| at + length);
            (text[at..end].trim().to_owned(), end)
        };
        cells.push(cell);
        if bytes.get(next) == Some(&delimiter) {
            at = next + 1;
            continue;
        }
        if cells.iter().any(|cell| !cell.is_empty()) {
            width = width.max(cells.len());
            rows.push(Row {
                number,
                cells: std::mem::replace(&mut cells, Vec::with_capacity(width)),
            });
        }
        cells.clear();
        number += 1;
        at = match (bytes.get(next), bytes.get(next + 1)) {
            (Some(b'\r'), Some(b'\n')) => next + 2,
            (Some(_), _) => next + 1,
            (None, _) => break,
        };
    }
    Ok(rows)
}

/// Where the text inside the quotes begins, if this cell is quoted.
fn quoted_start(bytes: &[u8], at: usize) -> Option<usize> {
    let spaces = bytes[at..].iter().take_while(|&&b| b == b' ').count();
    (bytes.get(at + spaces) == Some(&b'"')).then_some(at + spaces + 1)
}

/// The cell and where it ends, or nothing when it never does.
fn quoted_cell(text: &str, start: usize, delimiter: u8) -> Option<(String, usize)> {
    let bytes = text.as_bytes();
    let (mut cell, mut from) = (String::new(), start);
    loop {
        let close = from + bytes[from..].iter().position(|&b| b == b'"')?;
        cell.push_str(&text[from..close]);
        if bytes.get(close + 1) == Some(&b'"') {
            cell.push('"');
            from = close + 2;
            continue;
        }
        let end = bytes[close + 1..]
            .iter()
            .position(|&b| b == delimiter || b == b'\n' || b == b'\r')
            .map_or(bytes.len(), |length| close + 1 + length);
        cell.push_str(text[close + 1..end].trim_end());
        return Some((cell.trim().to_owned(), end));
    }
}

fn open_quote(file: &str, row: usize, column: usize, rest: &str) -> Faults {
    Fault::file(file, "a closing quotation mark before the end of the file")
        .at(row)
        .field(format!("column {}", column + 1))
        .found(format!("\"{rest}"))
        .hint(
            "the file breaks off here, or a cell begins with a quotation mark by accident: save \
             it again from the spreadsheet, or remove the mark",
        )
        .into()
}

/// `12,5` or `0,75` but also `1,234`.
fn comma_number(cell: &str) -> Option<(&str, &str)> {
    let cell = cell.trim_start_matches(['-', '+']);
    let (whole, rest) = cell.split_once(',')?;
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    (digits(whole) && digits(rest)).then_some((whole, rest))
}

fn detect_decimal_comma(rows: &[Row], delimiter: Delimiter) -> bool {
    let (mut commas, mut grouped, mut points) = (0_usize, 0_usize, 0_usize);
    for cell in rows.iter().flat_map(|row| &row.cells) {
        if let Some((whole, rest)) = comma_number(cell) {
            commas += 1;
            if rest.len() == 3 && whole.len() <= 3 && !whole.starts_with('0') {
                grouped += 1;
            }
        } else if cell.contains('.') && parse_number(cell, false).is_some() {
            points += 1;
        }
    }
    if commas == 0 || points > 0 {
        false
    } else {
        grouped < commas || delimiter == Delimiter::Semicolon
    }
}

/// A finite number as people and spreadsheets write it; `inf` and `nan` are words, not numbers.
pub fn parse_number(cell: &str, decimal_comma: bool) -> Option<f64> {
    let cell = cell.trim();
    let plain = !cell.is_empty()
        && cell
            .bytes()
            .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-' | b'+' | b'e' | b'E'));
    if plain {
        return finite(cell);
    }
    let mut clean: String = cell
        .chars()
        .filter(|c| !matches!(c, '\u{A0}' | '\u{202F}'))
        .map(|c| if c == '\u{2212}' { '-' } else { c })
        .collect();
    if clean.contains(',') {
        if decimal_comma {
            clean = clean.replace('.', "").replacen(',', ".", 1);
        } else if thousands(&clean) {
            clean = clean.replace(',', "");
        }
    }
    clean
        .bytes()
        .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-' | b'+' | b'e' | b'E'))
        .then(|| finite(&clean))
        .flatten()
}

fn finite(text: &str) -> Option<f64> {
    text.parse().ok().filter(|value: &f64| value.is_finite())
}

/// Commas stand before groups of exactly three digits: `1,234` or `12,345.6`.
fn thousands(text: &str) -> bool {
    let whole = text.trim_start_matches(['-', '+']).split('.').next().unwrap_or_default();
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    (1..=3).contains(&first.len()) && groups.all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_as_people_write_them() {
        let cases = [
            ("12.5", false, Some(12.5)),
            ("12,5", true, Some(12.5)),
            ("12,5", false, None),
            ("1,234.5", false, Some(1_234.5)),
            ("1.234,5", true, Some(1_234.5)),
            ("\u{2212}3", false, Some(-3.0)),
            (" 1e3 ", false, Some(1_000.0)),
            ("inf", false, None),
            ("NaN", false, None),
            ("1e999", false, None),
            ("e", false, None),
            ("", false, None),
            ("12 ft", false, None),
        ];
        for (text, comma, want) in cases {
            assert_eq!(parse_number(text, comma), want, "{text} {comma}");
        }
    }

    #[test]
    fn delimiters_are_found_outside_quotes() {
        let cases = [
            ("a,b,c\n1,2,3\n", Delimiter::Comma),
            ("x;y;tiefe\n1,5;2,5;3,5\n1,5;2,5;3,5\n", Delimiter::Semicolon),
            ("1,5;2,5;3,5\n", Delimiter::Semicolon),
            ("a\tb\n1\t2\n", Delimiter::Tab),
            ("a|b\n1|2\n", Delimiter::Pipe),
            ("\"a;b;c\",d\n\"e;f\",g\n", Delimiter::Comma),
            ("site,comment\n1,here; there\n2,here; and; there\n", Delimiter::Comma),
            ("alone\n1\n", Delimiter::Comma),
        ];
        for (text, want) in cases {
            assert_eq!(detect_delimiter(text), want, "{text:?}");
        }
    }

    #[test]
    fn a_comma_is_decimal_only_when_nothing_speaks_against_it() {
        let cases = [
            ("a;b\n12,5;1\n", true),
            ("a;b\n1,234;1\n", true),
            ("a,b\n\"1,234\",1\n", false),
            ("a,b\n\"12,5\",1\n", true),
            ("a;b\n12,5;1.5\n", false),
            ("a;b\n12;1\n", false),
        ];
        for (text, want) in cases {
            let table = Table::from_bytes("t.csv", text.as_bytes()).unwrap();
            assert_eq!(table.decimal_comma, want, "{text:?}");
        }
    }

    #[test]
    fn rows_are_numbered_as_a_spreadsheet_numbers_them() {
        let text = "a,b\r\n\r\n1,\"two\r\nlines\"\r\n,\r\n3,4";
        let table = Table::from_bytes("t.csv", text.as_bytes()).unwrap();
        let numbers: Vec<usize> = table.rows.iter().map(|row| row.number).collect();
        assert_eq!(numbers, [1, 3, 5]);
        assert_eq!(table.rows[1].cells, ["1", "two\r\nlines"]);
    }
}
