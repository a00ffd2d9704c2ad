//! Workbooks of before 2007.
#![allow(clippy::unwrap_used, reason = "the helpers of a test may fail it")]

#[path = "made/xls.rs"]
mod xls;

use exchange::{ColumnMap, RecordOptions, read_record_bytes};
use xls::Cell::{Error, Number, Text};

fn options(map: &str) -> RecordOptions<'static> {
    RecordOptions {
        map: ColumnMap::from_toml("map.toml", map).unwrap(),
        ..RecordOptions::default()
    }
}

#[test]
fn an_old_workbook_is_read_with_its_merged_header() {
    let cells = vec![
        (0, 0, Text("Density 1 to 4")),
        (2, 0, Text("site")),
        (2, 1, Text("depth_ft")),
        (2, 2, Text("Chara sp.")),
        (3, 0, Number(1.0)),
        (3, 1, Number(4.5)),
        (3, 2, Number(2.0)),
        (3, 3, Number(5.0)),
        (4, 0, Text("M\u{fc}ller")),
        (4, 1, Text("2-6")),
    ];
    let bytes = xls::write("June", &cells, &[[2, 2, 2, 3]]);
    let table = read_record_bytes("old.xls", &bytes, &options("")).unwrap();
    assert_eq!((table.sheet.as_deref(), table.header_row), (Some("June"), 3));
    assert_eq!(table.rows[0].depth.as_ref().unwrap().value, Some(4.5));
    assert_eq!(
        (table.rows[0].taxa[0].raw.as_str(), table.rows[0].paired[0].raw.as_str()),
        ("2", "5")
    );
    assert_eq!(table.rows[1].site.as_deref(), Some("M\u{fc}ller"));
    assert!(table.warnings[0].contains("rows hidden in it cannot be told"), "{:?}", table.warnings);
}

#[test]
fn a_failed_formula_is_told_with_its_place() {
    let cells =
        vec![(0, 0, Text("site")), (0, 1, Text("depth_m")), (1, 0, Number(7.0)), (1, 1, Error(7))];
    let faults =
        read_record_bytes("old.xls", &xls::write("S", &cells, &[]), &options("")).unwrap_err();
    assert_eq!(
        faults.0[0].to_string(),
        "`old.xls, sheet S` row 2, field `depth_m`: found `#DIV/0!`, expected a value; the formula \
         in this cell failed"
    );
}

#[test]
fn lengths_beyond_the_file_are_refused_before_anyone_follows_them() {
    let cells = vec![(0, 0, Text("site")), (1, 0, Number(7.0))];
    let mut bytes = xls::write("S", &cells, &[]);
    // the size of the workbook's stream, in the second entry of the directory
    bytes[1_024 + 128 + 120..1_024 + 128 + 124].copy_from_slice(&u32::MAX.to_le_bytes());
    let faults = read_record_bytes("old.xls", &bytes, &options("")).unwrap_err();
    assert_eq!(faults.0[0].found.as_deref(), Some("parts longer than the file"));
    // rows of the record of dimensions
    let mut bytes = xls::write("S", &cells, &[]);
    let place = bytes.windows(4).position(|four| four == [0, 2, 14, 0]).unwrap();
    bytes[place + 8..place + 12].copy_from_slice(&u32::MAX.to_le_bytes());
    assert!(read_record_bytes("old.xls", &bytes, &options("")).is_err());
}
