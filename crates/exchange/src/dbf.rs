//! The attribute table of a shapefile (dBASE III and its kin).
//!
//! Our own reader, because a row must stay with its shape: rows marked as deleted keep their
//! place, a cell that overflowed (`****`) or is no number costs that cell and not the file, and
//! text is decoded by the `.cpg` file. `tests/layers.rs` holds it against the `dbase` crate.

use crate::fault::{Fault, Faults};
use crate::layer::Value;
use jiff::civil::Date;

/// Code page 437, upper half; as published by the Unicode Consortium (VENDORS/MICSFT/PC/CP437).
const CP437: &str = "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u{A0}";
/// Code page 850, upper half; as published by the Unicode Consortium (VENDORS/MICSFT/PC/CP850).
const CP850: &str = "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜø£Ø×ƒáíóúñÑªº¿®¬½¼¡«»░▒▓│┤ÁÂÀ©╣║╗╝¢¥┐└┴┬├─┼ãÃ╚╔╩╦╠═╬¤ðÐÊËÈıÍÎÏ┘┌█▄¦Ì▀ÓßÔÒõÕµþÞÚÛÙýÝ¯´\u{AD}±‗¾¶§÷¸°¨·¹³²■\u{A0}";

/// How text is read.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Letters {
    /// By the Encoding Standard.
    Standard(&'static encoding_rs::Encoding),
    /// One of the DOS pages.
    Dos(&'static str),
    /// UTF-8 where a cell is valid UTF-8, else Windows-1252.
    Guess,
}

impl Letters {
    /// By the text of the `.cpg` file, else by the language byte of the table.
    fn of(cpg: Option<&str>, language: u8) -> (Self, Option<String>) {
        if let Some(cpg) = cpg.map(str::trim).filter(|cpg| !cpg.is_empty()) {
            if let Some(encoding) = encoding_rs::Encoding::for_label(cpg.as_bytes()) {
                return (Self::Standard(encoding), None);
            }
            let digits: String = cpg.chars().filter(char::is_ascii_digit).collect();
            return match digits.as_str() {
                "437" => (Self::Dos(CP437), None),
                "850" => (Self::Dos(CP850), None),
                "65001" | "8" => (Self::Standard(encoding_rs::UTF_8), None),
                "88591" => (Self::Standard(encoding_rs::WINDOWS_1252), None),
                _ => match encoding_rs::Encoding::for_label(format!("windows-{digits}").as_bytes())
                {
                    Some(encoding) => (Self::Standard(encoding), None),
                    None => (
                        Self::Guess,
                        Some(format!(
                            "the .cpg file names letters `{cpg}` that are not known; check accents"
                        )),
                    ),
                },
            };
        }
        let letters = match language {
            0x01 => Self::Dos(CP437),
            0x02 => Self::Dos(CP850),
            _ => Self::Guess,
        };
        (letters, None)
    }

    fn decode(self, bytes: &[u8]) -> String {
        match self {
            _ if bytes.is_ascii() => bytes.iter().map(|&b| char::from(b)).collect(),
            Self::Standard(encoding) => encoding.decode_without_bom_handling(bytes).0.into_owned(),
            Self::Dos(page) => bytes
                .iter()
                .map(|&b| match b {
                    0..=127 => char::from(b),
                    _ => page.chars().nth(usize::from(b) - 128).unwrap_or('\u{FFFD}'),
                })
                .collect(),
            Self::Guess => std::str::from_utf8(bytes).map_or_else(
                |_| encoding_rs::WINDOWS_1252.decode_without_bom_handling(bytes).0.into_owned(),
                str::to_owned,
            ),
        }
    }
}

struct Column {
    name: String,
    kind: u8,
    start: usize,
    length: usize,
}

/// A table over its bytes; rows are decoded when asked for.
pub(crate) struct Dbf<'a> {
    columns: Vec<Column>,
    rows: &'a [u8],
    row_length: usize,
    letters: Letters,
    /// How many rows the table has.
    pub(crate) count: usize,
    /// What a person should know.
    pub(crate) warnings: Vec<String>,
}

fn number_at(bytes: &[u8], at: usize, length: usize) -> Option<usize> {
    bytes
        .get(at..at + length)
        .map(|part| part.iter().rev().fold(0_usize, |sum, &b| sum << 8 | usize::from(b)))
}

impl<'a> Dbf<'a> {
    /// Reads the header. `file` names the table in faults.
    pub(crate) fn open(file: &str, bytes: &'a [u8], cpg: Option<&str>) -> Result<Self, Faults> {
        let truncated = |found: String| {
            let fault = Fault::file(file, "a whole attribute table (.dbf)").found(found);
            Faults::one(fault.hint(crate::shapefile::DAMAGED))
        };
        let (Some(count), Some(header), Some(row_length)) =
            (number_at(bytes, 4, 4), number_at(bytes, 8, 2), number_at(bytes, 10, 2))
        else {
            return Err(truncated(format!("{} bytes", bytes.len())));
        };
        if header < 33 || bytes.len() < header || row_length == 0 {
            return Err(truncated("a header that breaks off".to_owned()));
        }
        let present = (bytes.len() - header) / row_length;
        if present < count {
            return Err(truncated(format!("{present} of {count} rows")));
        }
        let (letters, warning) = Letters::of(cpg, bytes[29]);
        let mut dbf = Self {
            columns: Vec::new(),
            rows: &bytes[header..],
            row_length,
            letters,
            count,
            warnings: warning.into_iter().collect(),
        };
        let mut start = 1;
        for field in bytes[32..header].chunks_exact(32) {
            if field[0] == 0x0D {
                break;
            }
            let name = field[..11].split(|&b| b == 0).next().unwrap_or_default();
            let column = Column {
                name: letters.decode(name.trim_ascii()),
                kind: field[11].to_ascii_uppercase(),
                start,
                length: usize::from(field[16]),
            };
            start += column.length;
            if start > row_length {
                return Err(truncated(format!("field `{}` beyond the end of a row", column.name)));
            }
            if matches!(column.kind, b'M' | b'G' | b'P') {
                dbf.warnings.push(format!("long text in field `{}` is not read", column.name));
            }
            dbf.columns.push(column);
        }
        Ok(dbf)
    }

    fn row(&self, index: usize) -> &[u8] {
        self.rows.get(index * self.row_length..(index + 1) * self.row_length).unwrap_or_default()
    }

    /// Whether a row is marked as deleted.
    pub(crate) fn is_deleted(&self, index: usize) -> bool {
        self.row(index).first() == Some(&b'*')
    }

    /// The attributes of a row, from 0.
    pub(crate) fn attributes(&self, index: usize) -> Vec<(String, Value)> {
        let row = self.row(index);
        let cell = |column: &Column| row.get(column.start..column.start + column.length);
        self.columns
            .iter()
            .map(|column| {
                let value =
                    cell(column).map_or(Value::Null, |bytes| self.value(column.kind, bytes));
                (column.name.clone(), value)
            })
            .collect()
    }

    fn value(&self, kind: u8, bytes: &[u8]) -> Value {
        match (kind, bytes) {
            (b'I' | b'+', &[a, b, c, d]) => {
                return Value::Number(f64::from(i32::from_le_bytes([a, b, c, d])));
            }
            (b'O' | b'B', _) if bytes.len() == 8 => {
                let mut eight = [0; 8];
                eight.copy_from_slice(bytes);
                let value = f64::from_le_bytes(eight);
                return if value.is_finite() { Value::Number(value) } else { Value::Null };
            }
            (b'M' | b'G' | b'P', _) => return Value::Null,
            _ => {}
        }
        let text = bytes.split(|&b| b == 0).next().unwrap_or_default().trim_ascii();
        if text.is_empty() {
            return Value::Null;
        }
        match kind {
            b'N' | b'F' => {
                if text.iter().all(|&b| b == b'*') {
                    return Value::Null;
                }
                let text = self.letters.decode(text);
                crate::text::parse_number(&text, true).map_or(Value::Text(text), Value::Number)
            }
            b'L' => match text[0] {
                b'T' | b't' | b'Y' | b'y' => Value::Bool(true),
                b'F' | b'f' | b'N' | b'n' => Value::Bool(false),
                _ => Value::Null,
            },
            b'D' => day(text).map_or(Value::Null, Value::Date),
            _ => Value::Text(self.letters.decode(text)),
        }
    }
}

/// `20220814`.
fn day(text: &[u8]) -> Option<Date> {
    let text = std::str::from_utf8(text).ok()?;
    if text.len() != 8 || !text.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    Date::new(text[..4].parse().ok()?, text[4..6].parse().ok()?, text[6..].parse().ok()?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn code_pages_have_128_letters() {
        assert_eq!((CP437.chars().count(), CP850.chars().count()), (128, 128));
    }

    /// The names are those ESRI and GDAL write into `.cpg` files.
    #[test]
    fn a_cpg_file_decides_the_letters() {
        let cases: [(Option<&str>, u8, &[u8], &str); 9] = [
            (Some("UTF-8"), 0, b"B\xC3\xA4y", "Bäy"),
            (Some("65001"), 0, b"B\xC3\xA4y", "Bäy"),
            (Some("1252\r\n"), 0, b"B\xE4y", "Bäy"),
            (Some("ANSI 1252"), 0, b"B\xE4y", "Bäy"),
            (Some("ISO-8859-1"), 0, b"B\xE4y", "Bäy"),
            (Some("OEM 850"), 0, b"B\x84y", "Bäy"),
            (None, 0x01, b"B\x84y", "Bäy"),
            (None, 0x57, b"B\xE4y", "Bäy"),
            (None, 0, b"B\xC3\xA4y", "Bäy"),
        ];
        for (cpg, language, bytes, want) in cases {
            assert_eq!(Letters::of(cpg, language).0.decode(bytes), want, "{cpg:?} {language}");
        }
    }
}
