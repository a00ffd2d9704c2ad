//! Workbooks made here: what is understood of them, and what is refused how.
#![allow(clippy::unwrap_used, clippy::panic, reason = "the helpers of a test may fail it")]

use exchange::text::Table;
use exchange::{
    CellReading, ColumnMap, Faults, Form, Meaning, ReadOptions, RecordOptions, RecordTable,
    read_layer_bytes, read_record_bytes,
};
use jiff::civil::{date, time};
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook, Worksheet};
use std::io::{Cursor, Write as _};
use zip::CompressionMethod::{Deflated, Stored};
use zip::write::SimpleFileOptions;

fn workbook(fill: impl FnOnce(&mut Workbook)) -> Vec<u8> {
    let mut workbook = Workbook::new();
    fill(&mut workbook);
    workbook.save_to_buffer().unwrap()
}

/// One sheet of texts; blank ones are left out.
fn sheet(rows: &[&[&str]]) -> Vec<u8> {
    workbook(|book| texts(book.add_worksheet(), rows))
}

fn texts(sheet: &mut Worksheet, rows: &[&[&str]]) {
    for (row, cells) in rows.iter().enumerate() {
        for (column, text) in cells.iter().enumerate().filter(|(_, text)| !text.is_empty()) {
            let (row, column) = (row as u32, column as u16);
            match text.parse::<f64>() {
                Ok(number) => sheet.write(row, column, number).unwrap(),
                Err(_) => sheet.write(row, column, *text).unwrap(),
            };
        }
    }
}

fn read_with(bytes: &[u8], map: &str) -> Result<RecordTable, Faults> {
    let map = ColumnMap::from_toml("map.toml", map).unwrap();
    read_record_bytes("book.xlsx", bytes, &RecordOptions { map, ..RecordOptions::default() })
}

fn read(bytes: &[u8]) -> RecordTable {
    read_with(bytes, "").unwrap_or_else(|faults| panic!("{faults}"))
}

fn meanings(table: &RecordTable) -> Vec<&'static str> {
    table.columns.iter().map(|guess| guess.meaning.key()).collect()
}

/// A zip of stored and deflated files.
fn zip_of(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        // the kind of a spreadsheet stands first and as it is (OpenDocument 1.2, part 3, 3.3)
        let method = if *name == "mimetype" { Stored } else { Deflated };
        let options = SimpleFileOptions::default().compression_method(method);
        zip.start_file(*name, options).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

#[test]
fn a_merged_header_with_pairs_and_a_legend_above() {
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet();
        texts(
            sheet,
            &[
                &["Density scale"],
                &["Rating", "Range"],
                &["1", "1-25"],
                &[],
                &["Date", "Site", "", "", "", "", "Depth (ft)", "Notes"],
                &["", "1", "2", "5", "", "", "6.5"],
                &["", "2", "TR", "3", "0", "", "2-6", "soft"],
            ],
        );
        let plain = Format::new();
        sheet.merge_range(4, 2, 4, 3, "Chara sp.", &plain).unwrap();
        sheet.merge_range(4, 4, 4, 5, "Najas flexilis", &plain).unwrap();
        // the day is drawn over both rows
        sheet.merge_range(5, 0, 6, 0, "", &plain).unwrap();
        let day = ExcelDateTime::from_ymd(2022, 8, 14).unwrap();
        let format = Format::new().set_num_format("m/d/yyyy");
        sheet.write_with_format(5, 0, &day, &format).unwrap();
    });
    let table = read_with(&bytes, "paired = \"health\"").unwrap();
    assert_eq!((table.form, table.header_row), (Form::Wide, 5));
    assert_eq!(
        meanings(&table),
        ["date", "site", "taxon_column", "paired", "taxon_column", "paired", "depth", "comment"]
    );
    assert_eq!(table.columns[3].taxon.as_deref(), Some("Chara sp."));
    assert_eq!(
        (table.sheet.as_deref(), table.sheets.as_slice()),
        (Some("Sheet1"), &["Sheet1".to_owned()][..])
    );
    for row in &table.rows {
        assert_eq!(row.date, Some(date(2022, 8, 14)), "row {}", row.row);
    }
    let second = &table.rows[1];
    let ratings: Vec<_> =
        second.taxa.iter().map(|cell| (cell.name.as_str(), &cell.reading)).collect();
    assert_eq!(
        ratings,
        [
            ("Chara sp.", &CellReading::Rating("TR".to_owned())),
            ("Najas flexilis", &CellReading::Zero),
        ]
    );
    assert_eq!(second.paired.len(), 1);
    assert_eq!((second.paired[0].name.as_str(), second.paired[0].raw.as_str()), ("Chara sp.", "3"));
    // without the word for them, and left out
    assert_eq!(read(&bytes).paired, None);
    let without = read_with(&bytes, "paired = false").unwrap();
    assert!(without.rows.iter().all(|row| row.paired.is_empty()));
}

#[test]
fn headers_of_two_lines() {
    // names of plants under one heading; the rest reaches down
    let plain = Format::new();
    let under = workbook(|book| {
        let sheet = book.add_worksheet();
        texts(
            sheet,
            &[
                &["", "", "", ""],
                &["", "", "Chara sp.", "Elodea canadensis", "Nitella sp."],
                &["1", "4", "2", "", "1"],
            ],
        );
        sheet.merge_range(0, 0, 1, 0, "Site", &plain).unwrap();
        sheet.merge_range(0, 1, 1, 1, "Depth ft", &plain).unwrap();
        sheet.merge_range(0, 2, 0, 4, "Rake rating", &plain).unwrap();
    });
    let table = read(&under);
    assert_eq!(meanings(&table), ["site", "depth", "taxon_column", "taxon_column", "taxon_column"]);
    assert_eq!(table.columns[3].header, "Elodea canadensis");
    assert_eq!((table.rows.len(), table.rows[0].row), (1, 3));

    // what is measured under each name
    let measured = workbook(|book| {
        let sheet = book.add_worksheet();
        texts(
            sheet,
            &[
                &["Site", "Depth", "", "", "", ""],
                &["", "ft", "Density", "Health", "Density", "Health"],
                &["1", "4", "2", "5", "1", "4"],
            ],
        );
        sheet.merge_range(0, 2, 0, 3, "Chara sp.", &plain).unwrap();
        sheet.merge_range(0, 4, 0, 5, "Nitella sp.", &plain).unwrap();
    });
    let table = read(&measured);
    assert_eq!(
        meanings(&table),
        ["site", "depth", "taxon_column", "paired", "taxon_column", "paired"]
    );
    assert_eq!(table.columns[1].unit, Some(units::LengthUnit::Foot));
    assert_eq!(table.paired.as_deref(), Some("Health"));

    // the names above, everything else below
    let above = workbook(|book| {
        let sheet = book.add_worksheet();
        texts(
            sheet,
            &[
                &[],
                &["Site", "Depth_ft", "Date", "Density", "Health", "Density", "Health"],
                &["1", "4", "2022-08-14", "2", "5", "1", "4"],
            ],
        );
        sheet.merge_range(0, 3, 0, 4, "Chara sp.", &plain).unwrap();
        sheet.merge_range(0, 5, 0, 6, "Nitella sp.", &plain).unwrap();
    });
    let table = read(&above);
    assert_eq!(
        meanings(&table),
        ["site", "depth", "date", "taxon_column", "paired", "taxon_column", "paired"]
    );
    assert_eq!(table.rows[0].paired[1].name, "Nitella sp.");
}

#[test]
fn a_second_column_may_be_named_by_the_map() {
    let bytes = sheet(&[&["site", "Chara sp.", "vigour of it"], &["1", "2", "5"], &["2", "", ""]]);
    let table = read_with(&bytes, "[pairs]\n\"Vigour of it\" = \"Chara sp.\"\n").unwrap();
    assert_eq!(table.columns[2].meaning, Meaning::Paired);
    assert_eq!(table.rows[0].paired[0].raw, "5");
    let faults = read_with(&bytes, "[pairs]\n\"3\" = \"Nitella\"\n").unwrap_err();
    assert_eq!(
        faults.to_string(),
        "`book.xlsx, sheet Sheet1` row 1: found `site, Chara sp., vigour of it`, expected a column \
         `Nitella`, as the map's `[pairs]` says"
    );
}

#[test]
fn the_sheet_that_looks_like_a_record_is_read_unless_another_is_named() {
    let bytes = workbook(|book| {
        texts(book.add_worksheet().set_name("Read me").unwrap(), &[&["Our lake", "2022"]]);
        texts(
            book.add_worksheet().set_name("June").unwrap(),
            &[&["site", "depth_ft", "rake"], &["1", "4", "2"]],
        );
        let hidden = book.add_worksheet().set_name("Draft").unwrap().set_hidden(true);
        texts(hidden, &[&["site", "depth_ft", "rake"], &["9", "9", "1"]]);
    });
    let table = read(&bytes);
    assert_eq!(table.sheet.as_deref(), Some("June"));
    assert_eq!(table.sheets, ["Read me", "June", "Draft"]);
    assert!(table.warnings.is_empty(), "{:?}", table.warnings);
    let draft = read_with(&bytes, "sheet = \"draft\"").unwrap();
    assert_eq!(draft.rows[0].site.as_deref(), Some("9"));
    let faults = read_record_bytes(
        "t.csv",
        b"site,rake\n1,2\n",
        &RecordOptions {
            map: ColumnMap { sheet: Some("June".to_owned()), ..ColumnMap::default() },
            ..RecordOptions::default()
        },
    )
    .unwrap_err();
    assert!(faults.to_string().contains("has no sheets"), "{faults}");
}

#[test]
fn days_times_numbers_and_words_in_cells() {
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet();
        texts(
            sheet,
            &[
                &["site", "date", "time", "depth_ft", "Chara sp.", "notes"],
                &["1", "", "", "", "", ""],
                &["2", "8/14/2022", "9:16 am", "", "", "=twice"],
            ],
        );
        let format = Format::new().set_num_format("yyyy-mm-dd hh:mm");
        let at = ExcelDateTime::parse_from_str("2022-08-14T10:30:00").unwrap();
        sheet.write_with_format(1, 1, &at, &format).unwrap();
        let clock = Format::new().set_num_format("hh:mm");
        sheet.write_with_format(1, 2, 0.437_5, &clock).unwrap();
        sheet.write(1, 3, 0.1 + 0.2).unwrap();
        sheet.write_formula(1, 4, Formula::new("=1+1").set_result("2")).unwrap();
        // a number stored as text
        sheet.write_string(2, 3, "6.5").unwrap();
        sheet.write_string(2, 4, "1/2").unwrap();
    });
    let table = read(&bytes);
    let (first, second) = (&table.rows[0], &table.rows[1]);
    assert_eq!((first.date, first.time), (Some(date(2022, 8, 14)), Some(time(10, 30, 0, 0))));
    assert_eq!(first.depth.as_ref().unwrap().raw, "0.3");
    assert_eq!(first.taxa[0].raw, "2");
    assert_eq!((second.date, second.time), (Some(date(2022, 8, 14)), Some(time(9, 16, 0, 0))));
    assert_eq!(second.depth.as_ref().unwrap().value, Some(6.5));
    assert_eq!(second.taxa[0].reading, CellReading::Rating("1/2".to_owned()));
    assert_eq!(second.comment.as_deref(), Some("=twice"));
}

#[test]
fn hidden_rows_are_left_out_and_told() {
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet().set_name("Sites").unwrap();
        let rows: [&[&str]; 4] =
            [&["site", "depth_ft", "Chara"], &["1", "4", "2"], &["2", "5", "1"], &["3", "6", "1"]];
        texts(sheet, &rows);
        sheet.set_row_hidden(2).unwrap();
    });
    let table = read_with(&bytes, "").unwrap();
    let sites: Vec<_> = table.rows.iter().map(|row| row.site.as_deref().unwrap()).collect();
    assert_eq!(sites, ["1", "3"]);
    let told = table.warnings.join("\n");
    assert!(told.contains("1 hidden row") && told.contains("row 3"), "{told}");
    // nothing but hidden rows is no table
    let all = workbook(|book| {
        let sheet = book.add_worksheet();
        texts(sheet, &[&["site", "Chara"], &["1", "2"]]);
        sheet.set_row_hidden(0).unwrap();
        sheet.set_row_hidden(1).unwrap();
    });
    let refused = read_with(&all, "").unwrap_err().to_string();
    assert!(refused.contains("hidden"), "{refused}");
}

#[test]
fn broken_cells_are_told_with_sheet_row_and_header_all_at_once() {
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet().set_name("Sites").unwrap();
        texts(
            sheet,
            &[
                &["site", "date", "depth_ft", "Chara sp."],
                &["1", "2022-08-14", "", "2"],
                &["2", "2022-08-14", "4", ""],
                &["3", "someday", "4", ""],
                &["", "2022-08-14", "4", "1"],
            ],
        );
        sheet.write_formula(1, 2, Formula::new("=1/0").set_result("#DIV/0!")).unwrap();
        let day = ExcelDateTime::from_ymd(2022, 1, 4).unwrap();
        let format = Format::new().set_num_format("d-mmm");
        sheet.write_with_format(2, 3, &day, &format).unwrap();
        let day = ExcelDateTime::from_ymd(2022, 8, 1).unwrap();
        sheet.write_with_format(5, 0, &day, &format).unwrap();
        sheet.write(5, 3, 1).unwrap();
    });
    let faults = read_with(&bytes, "").unwrap_err();
    let told: Vec<String> = faults.0.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "`book.xlsx, sheet Sites` row 2, field `depth_ft`: found `#DIV/0!`, expected a value; the formula in this cell failed",
            "`book.xlsx, sheet Sites` row 3, field `Chara sp.`: found `2022-01-04`, expected a rating; a spreadsheet has made this day of `1/4`, or of `4/1` where the day comes first",
            "`book.xlsx, sheet Sites` row 4, field `date`: found `someday`, expected a date such as `2022-08-14`",
            "`book.xlsx, sheet Sites` row 5, field `site`: found nothing, expected the code of the site",
            "`book.xlsx, sheet Sites` row 6, field `site`: found `2022-08-01`, expected the code of a site; a spreadsheet has made this day of `8/1`, or of `1/8` where the day comes first",
        ]
    );
}

/// A program that writes formulas without working them out leaves no result.
#[test]
fn a_formula_without_a_result_is_told() {
    let bytes = sheet(&[&["site", "depth_ft"], &["1", "4"], &["2", "5"]]);
    let mut zip = zip::ZipArchive::new(Cursor::new(&bytes)).unwrap();
    let names: Vec<String> = zip.file_names().map(|name| name.unwrap().into_owned()).collect();
    let parts: Vec<(String, Vec<u8>)> = names
        .into_iter()
        .map(|name| {
            let mut text = String::new();
            std::io::Read::read_to_string(&mut zip.by_name(&name).unwrap(), &mut text).unwrap();
            let text = text.replace("<v>5</v>", "<f>B2+1</f>");
            (name, text.into_bytes())
        })
        .collect();
    let files: Vec<(&str, &[u8])> =
        parts.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
    let faults = read_with(&zip_of(&files), "").unwrap_err();
    assert_eq!(
        faults.to_string(),
        "`book.xlsx, sheet Sheet1` row 3, field `depth_ft`: found `=B2+1`, expected a value; this \
         formula stands there as text or has no saved result\n\
         hint: type the value over the formula, or open the file in a spreadsheet program and save \
         it there"
    );
}

#[test]
fn hidden_rows_are_left_out_and_counted() {
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet();
        texts(sheet, &[&["site", "rake"], &["1", "1"], &["2", "2"], &["3", "3"], &["4", "1"]]);
        sheet.set_row_hidden(2).unwrap();
        sheet.set_row_hidden(3).unwrap();
    });
    let table = read(&bytes);
    let rows: Vec<usize> = table.rows.iter().map(|row| row.row).collect();
    assert_eq!((rows, table.hidden_rows), (vec![2, 5], 2));
    assert!(table.warnings[0].starts_with("2 hidden rows are not read, the first of them row 3"));
}

#[test]
fn points_and_lists_come_out_of_workbooks() {
    let bytes = sheet(&[&["x", "y", "depth_ft"], &["566486.1", "286372", "4.5"]]);
    let layer = read_layer_bytes("book.xlsx", &bytes, &ReadOptions::default()).unwrap();
    assert_eq!((layer.name.as_str(), layer.features.len()), ("Sheet1", 1));
    assert_eq!(layer.features[0].attribute("depth_ft").unwrap().number(), Some(4.5));
    let list = sheet(&[&["species"], &["Chara sp."], &["Nitella sp."]]);
    let table = Table::from_bytes("list.xlsx", &list).unwrap();
    assert_eq!(table.rows[2].cells, ["Nitella sp."]);
}

const ODS: &str = r#"<?xml version="1.0"?><office:document-content xmlns:office="o" xmlns:table="t"
 xmlns:text="x" xmlns:style="s"><office:automatic-styles>
<style:style style:name="ta2"><style:table-properties table:display="false"/></style:style>
</office:automatic-styles><office:body><office:spreadsheet>
<table:table table:name="Old" table:style-name="ta2"><table:table-row><table:table-cell
 office:value-type="string"><text:p>site</text:p></table:table-cell></table:table-row></table:table>
<table:table table:name="June"><table:table-row table:number-rows-repeated="2"><table:table-cell
 table:number-columns-repeated="1024"/></table:table-row>
<table:table-row><table:table-cell office:value-type="string"><text:p>Site</text:p></table:table-cell>
<table:table-cell office:value-type="string"><text:p>Date</text:p></table:table-cell>
<table:table-cell office:value-type="string"><text:p>Depth (m)</text:p></table:table-cell>
<table:table-cell table:number-columns-spanned="2" office:value-type="string"><text:p>Chara
 sp.</text:p></table:table-cell><table:covered-table-cell/></table:table-row>
<table:table-row><table:table-cell office:value-type="float" office:value="1"><text:p>1</text:p></table:table-cell>
<table:table-cell office:value-type="date" office:date-value="2022-08-14T10:30:00"><text:p>x</text:p></table:table-cell>
<table:table-cell office:value-type="float" office:value="1.25"><text:p>1,25</text:p></table:table-cell>
<table:table-cell office:value-type="string"><text:p>T<text:span>R</text:span></text:p></table:table-cell>
<table:table-cell office:value-type="float" office:value="5"><text:p>5</text:p></table:table-cell></table:table-row>
<table:table-row table:visibility="collapse"><table:table-cell office:value-type="float" office:value="2"/></table:table-row>
<table:table-row><table:table-cell office:value-type="float" office:value="3"/><table:table-cell/>
<table:table-cell office:value-type="string"><text:p>#DIV/0!</text:p></table:table-cell></table:table-row>
<table:table-row table:number-rows-repeated="1048571"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>
</table:table></office:spreadsheet></office:body></office:document-content>"#;

fn ods(content: &str) -> Vec<u8> {
    zip_of(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"),
        ("content.xml", content.as_bytes()),
    ])
}

/// OpenDocument 1.2, part 1, chapter 9 (tables).
#[test]
fn an_opendocument_spreadsheet_is_read_like_the_others() {
    let faults = read_with(&ods(ODS), "").unwrap_err();
    assert_eq!(
        faults.0[0].to_string(),
        "`book.xlsx, sheet June` row 6, field `Depth (m)`: found `#DIV/0!`, expected a value; the \
         formula in this cell failed"
    );
    let table = read(&ods(&ODS.replace("#DIV/0!", "2.5")));
    assert_eq!((table.header_row, table.hidden_rows), (3, 1));
    assert_eq!(table.sheets, ["Old", "June"]);
    assert_eq!(meanings(&table), ["site", "date", "depth", "taxon_column", "paired"]);
    let first = &table.rows[0];
    assert_eq!((first.row, first.site.as_deref()), (4, Some("1")));
    assert_eq!((first.date, first.time), (Some(date(2022, 8, 14)), Some(time(10, 30, 0, 0))));
    assert_eq!(first.depth.as_ref().unwrap().value, Some(1.25));
    assert_eq!((first.taxa[0].raw.as_str(), first.paired[0].raw.as_str()), ("TR", "5"));
    assert_eq!(table.rows[1].site.as_deref(), Some("3"));
    // a table that breaks off ends with a fault, not in a circle
    let cut = &ODS[..ODS.len() - 300];
    assert!(read_with(&ods(cut), "").unwrap_err().to_string().contains("well-formed XML"));
}

#[test]
fn what_is_no_workbook_or_too_much_of_one_is_refused_in_a_sentence() {
    let web = b"<html><table><tr><td>site</td></tr></table></html>";
    let big_row = |text: &str| {
        let content = format!(
            "<d><office:spreadsheet xmlns:office=\"o\"><table name=\"A\">{text}</table></office:spreadsheet></d>"
        );
        ods(&content)
    };
    let filled = r#"<table-row number-rows-repeated="1048576"><table-cell value-type="float" value="1"/></table-row>"#;
    let wide = r#"<table-row number-rows-repeated="400"><table-cell number-columns-repeated="16383"/><table-cell value-type="float" value="1"/></table-row>"#;
    let zeros = vec![b' '; 40 * 1024 * 1024];
    let bomb = zip_of(&[
        ("xl/workbook.xml", b"<a/>"),
        ("xl/_rels/workbook.xml.rels", b"<a/>"),
        ("xl/worksheets/sheet1.xml", &zeros),
    ]);
    let mut cut = sheet(&[&["site", "rake"], &["1", "2"]]);
    cut.truncate(cut.len() / 2);
    let locked: Vec<u8> = {
        let mut bytes = vec![0_u8; 1_024];
        bytes[..8].copy_from_slice(b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1");
        let name: Vec<u8> = "EncryptedPackage".encode_utf16().flat_map(u16::to_le_bytes).collect();
        bytes[512..512 + name.len()].copy_from_slice(&name);
        bytes[512 + 64] = name.len() as u8 + 2;
        bytes[512 + 66] = 2;
        bytes
    };
    let cases: [(&[u8], &str); 8] = [
        (
            web,
            "`book.xlsx`: found `a web page (HTML)`, expected a table: CSV text, .xlsx, .xls or .ods",
        ),
        (
            &big_row(filled),
            "`book.xlsx, sheet A` row 200001: found `still more`, expected at most 200000 rows that hold anything, and 5000000 cells",
        ),
        (
            &big_row(wide),
            "`book.xlsx, sheet A` row 306: found `still more`, expected at most 200000 rows that hold anything, and 5000000 cells",
        ),
        (
            &bomb,
            "`book.xlsx`, field `xl/worksheets/sheet1.xml`: found `more than 32 MB`, expected at most 32 MB when unzipped",
        ),
        (
            &cut,
            "`book.xlsx`: found `an Excel workbook (.xlsx) that breaks off or is damaged`, expected a whole file",
        ),
        (
            &locked,
            "`book.xlsx`: found `one locked with a password`, expected a workbook without a password",
        ),
        (
            &workbook(|book| {
                book.add_worksheet();
            }),
            "`book.xlsx`: found `nothing on the sheets that are shown (Sheet1)`, expected a sheet with a table on it",
        ),
        (
            &zip_of(&[("xl/workbook.bin", b"x")]),
            "`book.xlsx`: found `a binary workbook (.xlsb)`, expected a whole workbook",
        ),
    ];
    for (bytes, want) in cases {
        let faults = read_with(bytes, "").expect_err(want);
        let told = faults.0[0].to_string();
        assert!(told.starts_with(want), "{told}");
        assert!(faults.0[0].hint.is_some(), "{told}");
    }
    // text under the name of a workbook is read as text
    let table = read_with(b"site,rake\n1,2\n", "").unwrap();
    assert_eq!(
        table.warnings,
        ["the file is named .xlsx but holds text; it is read as a table of text"]
    );
}

/// As many rows as a state programme has in a year.
#[test]
fn ten_thousand_rows() {
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet();
        let mut headers = vec!["site".to_owned(), "depth_ft".to_owned(), "rake".to_owned()];
        headers.extend((0..25).map(|n| format!("PLANT{n}")));
        sheet.write_row(0, 0, headers).unwrap();
        for row in 1..=10_000_u32 {
            sheet.write(row, 0, row).unwrap();
            sheet.write(row, 1, f64::from(row % 150) / 10.0).unwrap();
            for column in 2..28_u16 {
                sheet.write(row, column, (row + u32::from(column)) % 4).unwrap();
            }
        }
    });
    let table = read(&bytes);
    assert_eq!((table.rows.len(), table.columns.len()), (10_000, 28));
    assert_eq!(table.rows[9_999].taxa[24].raw, ((10_000 + 27) % 4).to_string());
}
