//! Our splitter against the `csv` crate, the reference reader of RFC 4180.

use exchange::text::{Table, decode};
use proptest::prelude::*;

fn cells() -> impl Strategy<Value = Vec<Vec<String>>> {
    let cell = "[a-z0-9\"',;|\t\r\n é-]{0,8}".prop_map(|text: String| text.trim().to_owned());
    (1_usize..6).prop_flat_map(move |width| {
        prop::collection::vec(prop::collection::vec(cell.clone(), width), 1..8)
    })
}

proptest! {
    #[test]
    fn rows_written_by_the_csv_crate_are_read_as_it_reads_them(rows in cells()) {
        // the first row settles the delimiter for both
        let mut rows = rows;
        for (index, cell) in rows[0].iter_mut().enumerate() {
            *cell = format!("column{index}");
        }
        prop_assume!(rows[0].len() > 1);
        let mut writer = csv::Writer::from_writer(Vec::new());
        for row in &rows {
            writer.write_record(row).unwrap();
        }
        let bytes = [b"sep=,\n".to_vec(), writer.into_inner().unwrap()].concat();
        let table = Table::from_bytes("t.csv", &bytes).unwrap();
        let mut reader =
            csv::ReaderBuilder::new().has_headers(false).from_reader(&bytes[b"sep=,\n".len()..]);
        let theirs: Vec<Vec<String>> = reader
            .records()
            .map(|row| row.unwrap().iter().map(str::to_owned).collect())
            .filter(|row: &Vec<String>| row.iter().any(|cell| !cell.is_empty()))
            .collect();
        let ours: Vec<Vec<String>> = table.rows.into_iter().map(|row| row.cells).collect();
        prop_assert_eq!(ours, theirs);
    }

    #[test]
    fn any_text_survives_utf8_and_both_kinds_of_utf16(text in "[^\u{FEFF}]{1,40}") {
        let with_mark = format!("\u{FEFF}{text}");
        prop_assert_eq!(&decode(with_mark.as_bytes()).text, &text);
        let little: Vec<u8> = with_mark.encode_utf16().flat_map(u16::to_le_bytes).collect();
        let big: Vec<u8> = with_mark.encode_utf16().flat_map(u16::to_be_bytes).collect();
        prop_assert_eq!(&decode(&little).text, &text);
        prop_assert_eq!(&decode(&big).text, &text);
    }
}

/// The letters in which Windows-1252 differs from ISO 8859-1 (WHATWG Encoding Standard, index
/// windows-1252).
#[test]
fn bytes_that_are_not_utf8_are_western_windows_text() {
    let decoded = decode(b"5\x92 6\x94 \x96 M\xFCller \x80");
    assert_eq!(decoded.text, "5’ 6” – Müller €");
    assert_eq!(decoded.encoding, "Windows-1252");
    assert!(decoded.warnings[0].contains("Windows-1252"));
}
