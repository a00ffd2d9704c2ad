//! What a file really is, whatever its name says.

use crate::fault::{Fault, Faults};
use crate::text::read_bytes;
use std::path::Path;

/// Kinds of file told apart by their content.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum FileKind {
    /// No bytes at all, or only white space.
    Empty,
    /// Text that may be a table.
    Text,
    /// JSON, so perhaps GeoJSON.
    Json,
    /// The `.shp` part of a shapefile.
    Shapefile,
    /// The `.shx` part of a shapefile.
    ShapefileIndex,
    /// The `.dbf` part of a shapefile.
    Dbase,
    /// An Excel workbook (`.xlsx`).
    Xlsx,
    /// An old Excel workbook (`.xls`) or another old office document.
    OldOffice,
    /// A LibreOffice spreadsheet (`.ods`).
    Ods,
    /// A zip that holds a shapefile.
    ZippedShapefile,
    /// A zipped KML (`.kmz`).
    Kmz,
    /// Any other zip.
    Zip,
    /// PDF.
    Pdf,
    /// A web page.
    Html,
    /// A log of a depth sounder or receiver, NMEA 0183.
    Nmea,
    /// GPX.
    Gpx,
    /// KML.
    Kml,
    /// Other XML.
    Xml,
    /// An SQLite database: a GeoPackage or a lake book.
    Sqlite,
    /// A TIFF: a raster of depths (GeoTIFF) or a picture.
    Tiff,
    /// A picture.
    Picture,
    /// A gzip-compressed file.
    Gzip,
    /// Bytes that are no text and nothing known.
    Binary,
}

impl FileKind {
    /// Looks at the bytes.
    pub fn of(bytes: &[u8]) -> Self {
        let head = &bytes[..bytes.len().min(4_096)];
        if head.starts_with(b"PK\x03\x04") || head.starts_with(b"PK\x05\x06") {
            return zip_kind(bytes);
        }
        let magics: [(&[u8], Self); 13] = [
            (b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", Self::OldOffice),
            (b"%PDF", Self::Pdf),
            (b"SQLite format 3\0", Self::Sqlite),
            (b"\x1F\x8B", Self::Gzip),
            (b"\x89PNG", Self::Picture),
            (b"\xFF\xD8\xFF", Self::Picture),
            (b"II*\0", Self::Tiff),
            (b"MM\0*", Self::Tiff),
            (b"II+\0", Self::Tiff),
            (b"MM\0+", Self::Tiff),
            (b"GIF8", Self::Picture),
            (b"RIFF", Self::Picture),
            (b"\xEF\xBB\xBF%PDF", Self::Pdf),
        ];
        if let Some((_, kind)) = magics.iter().find(|(magic, _)| head.starts_with(magic)) {
            return *kind;
        }
        if head.starts_with(&9994_u32.to_be_bytes()) {
            return shape_kind(bytes);
        }
        text_kind(head)
    }

    /// Looks at the beginning of a file.
    ///
    /// # Errors
    /// [`Faults`] when the file cannot be read.
    pub fn of_file(path: &Path) -> Result<Self, Faults> {
        Ok(Self::of(&read_bytes(path)?))
    }

    /// What it is, with its article.
    pub const fn describe(self) -> &'static str {
        match self {
            Self::Empty => "an empty file",
            Self::Text => "plain text",
            Self::Json => "JSON",
            Self::Shapefile => "a shapefile",
            Self::ShapefileIndex => "the index (.shx) of a shapefile",
            Self::Dbase => "the attribute table (.dbf) of a shapefile",
            Self::Xlsx => "an Excel workbook (.xlsx)",
            Self::OldOffice => "an old Excel workbook (.xls)",
            Self::Ods => "a LibreOffice spreadsheet (.ods)",
            Self::ZippedShapefile => "a zip with a shapefile in it",
            Self::Kmz => "a zipped KML (.kmz)",
            Self::Zip => "a zip",
            Self::Pdf => "a PDF",
            Self::Html => "a web page (HTML)",
            Self::Nmea => "an NMEA 0183 log",
            Self::Gpx => "a GPX file",
            Self::Kml => "a KML file",
            Self::Xml => "an XML file",
            Self::Sqlite => "an SQLite database (GeoPackage)",
            Self::Tiff => "a TIFF (a GeoTIFF raster or a picture)",
            Self::Picture => "a picture",
            Self::Gzip => "a gzip-compressed file",
            Self::Binary => "bytes that are not text",
        }
    }

    /// What to do with it when a table was wanted.
    pub(crate) const fn advice(self) -> &'static str {
        match self {
            Self::Empty => {
                "the file may not have finished downloading or saving: save or fetch it again"
            }
            Self::Xlsx | Self::OldOffice | Self::Ods => {
                "open it in a spreadsheet program and save the sheet as CSV UTF-8"
            }
            Self::Html => {
                "this is often the log-in or error page of a site instead of its data: open it in \
                 a browser, fetch the data itself, or copy the table into a spreadsheet and save \
                 it as CSV"
            }
            Self::Pdf => {
                "tables in a PDF cannot be read: ask the sender for the spreadsheet behind it"
            }
            Self::Zip | Self::Gzip => "unzip first, then give the file inside",
            Self::Shapefile
            | Self::ZippedShapefile
            | Self::Json
            | Self::Sqlite
            | Self::Nmea
            | Self::Gpx
            | Self::Kml
            | Self::Kmz => {
                "this is a map layer, not a table: open it in a general GIS program and save its \
                 attributes as CSV"
            }
            Self::ShapefileIndex | Self::Dbase => "give the .shp file of the same name",
            Self::Tiff => {
                "a GeoTIFF of depths or elevations is read as depths; a picture of a map can lie \
                 under the lake as a background"
            }
            Self::Picture | Self::Xml | Self::Binary | Self::Text => {
                "save the data as CSV UTF-8 or GeoJSON and give that file"
            }
        }
    }

    /// The fault of meeting this kind where `expected` was wanted.
    pub(crate) fn fault(self, file: &str, expected: &str) -> Fault {
        Fault::file(file, expected).found(self.describe()).hint(self.advice())
    }
}

fn contains(haystack: &[u8], needle: &[u8]) -> bool {
    haystack.windows(needle.len()).any(|window| window.eq_ignore_ascii_case(needle))
}

/// Names in a zip stand as plain bytes in its local headers at the front and in the directory at
/// the end.
fn zip_kind(bytes: &[u8]) -> FileKind {
    const LOOK: usize = 64 * 1_024;
    let front = &bytes[..bytes.len().min(LOOK)];
    let back = &bytes[bytes.len().saturating_sub(LOOK)..];
    let has = |needle: &[u8]| contains(front, needle) || contains(back, needle);
    let office = has(b"[Content_Types].xml") && !has(b"word/") && !has(b"ppt/");
    if has(b"xl/workbook") || has(b"xl/worksheets") || has(b"xl/sharedStrings") || office {
        FileKind::Xlsx
    } else if has(b"oasis.opendocument.spreadsheet") {
        FileKind::Ods
    } else if has(b".shp") {
        FileKind::ZippedShapefile
    } else if has(b".kml") {
        FileKind::Kmz
    } else {
        FileKind::Zip
    }
}

/// `.shp` and `.shx` share their header. The index's file length fits whole eight-byte entries
/// whose first offset is always 50 words.
fn shape_kind(bytes: &[u8]) -> FileKind {
    let word = |at: usize| {
        bytes.get(at..at + 4).map(|four| u32::from_be_bytes([four[0], four[1], four[2], four[3]]))
    };
    if word(100) == Some(50) { FileKind::ShapefileIndex } else { FileKind::Shapefile }
}

fn text_kind(head: &[u8]) -> FileKind {
    let wide = head.starts_with(b"\xFF\xFE") || head.starts_with(b"\xFE\xFF");
    if wide {
        return FileKind::Text;
    }
    let body = head.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(head).trim_ascii_start();
    if body.is_empty() {
        return FileKind::Empty;
    }
    if looks_like_dbase(head) {
        return FileKind::Dbase;
    }
    if body.contains(&0) {
        return FileKind::Binary;
    }
    let odd = body.iter().filter(|&&b| b < 9 || (14..27).contains(&b)).count();
    if odd * 50 > body.len() {
        return FileKind::Binary;
    }
    match body[0] {
        b'{' => FileKind::Json,
        b'[' if serde_like_array(body) => FileKind::Json,
        b'<' => {
            if contains(body, b"<gpx") {
                FileKind::Gpx
            } else if contains(body, b"<kml")
                || contains(body, b":kml ")
                || contains(body, b"opengis.net/kml/2")
            {
                FileKind::Kml
            } else if contains(body, b"<html")
                || contains(body, b"<!doctype html")
                || contains(body, b"<table")
            {
                FileKind::Html
            } else {
                FileKind::Xml
            }
        }
        _ if looks_like_nmea(body) => FileKind::Nmea,
        _ => FileKind::Text,
    }
}

/// Most lines hold `$GPGGA,` or `!AIVDM,`, at their beginning or behind a time.
fn looks_like_nmea(body: &[u8]) -> bool {
    let sentence = |line: &[u8]| {
        let start = line.iter().position(|b| matches!(b, b'$' | b'!'))?;
        let comma = line[start..].iter().position(|&b| b == b',')?;
        let address = &line[start + 1..start + comma];
        let like = (4..=6).contains(&address.len())
            && address.iter().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit());
        like.then_some(())
    };
    let lines =
        || body.split(|b| matches!(b, b'\r' | b'\n')).filter(|line| !line.trim_ascii().is_empty());
    let found = lines().take(20).filter(|line| sentence(line).is_some()).count();
    found > 0 && found * 2 > lines().take(20).count()
}

fn serde_like_array(body: &[u8]) -> bool {
    matches!(body[1..].trim_ascii_start().first(), Some(b'{' | b'['))
}

/// dBASE III and its kin: a version byte, a plausible date, a header length that fits fields of 32
/// bytes.
fn looks_like_dbase(head: &[u8]) -> bool {
    if head.len() < 32 || !matches!(head[0], 0x02 | 0x03 | 0x30 | 0x31 | 0x83 | 0x8B | 0xF5) {
        return false;
    }
    let header_length = u16::from_le_bytes([head[8], head[9]]);
    head[2] <= 12 && head[3] <= 31 && header_length >= 33 && head.contains(&0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_told_apart_by_content() {
        let cases: [(&[u8], FileKind); 17] = [
            (b"", FileKind::Empty),
            (b"\xEF\xBB\xBF \r\n", FileKind::Empty),
            (b"site,depth\n1,2\n", FileKind::Text),
            (b"\xFF\xFEs\0i\0", FileKind::Text),
            (b" {\"type\":", FileKind::Json),
            (b"PK\x03\x04....xl/workbook.xml", FileKind::Xlsx),
            (b"PK\x03\x04....Lake.SHP", FileKind::ZippedShapefile),
            (b"PK\x03\x04....notes.txt", FileKind::Zip),
            (b"%PDF-1.7", FileKind::Pdf),
            (b"<!DOCTYPE html><html>", FileKind::Html),
            (b"<?xml version=\"1.0\"?><gpx>", FileKind::Gpx),
            (b"\x00\x00\x27\x0A\0\0", FileKind::Shapefile),
            (b"\x7FELF\0\0\0", FileKind::Binary),
            (b"[note] not json", FileKind::Text),
            (b"\r\n12:00:01 $SDDBT,1.8,f,0.5,M,0.3,F*09\r\n", FileKind::Nmea),
            (b"price\n$5000,1\n", FileKind::Text),
            (b"MM\0*\0\0\0\x08", FileKind::Tiff),
        ];
        for (bytes, want) in cases {
            assert_eq!(FileKind::of(bytes), want, "{bytes:?}");
        }
    }
}
