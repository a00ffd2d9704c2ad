//! Survey records: what is understood of a spreadsheet, and what is refused how.
#![allow(clippy::unwrap_used, clippy::panic, reason = "the helpers of a test may fail it")]

use exchange::{
    CellReading, ColumnMap, DateOrder, Faults, Form, Meaning, RecordOptions, RecordTable,
    read_record, read_record_bytes,
};
use jiff::civil::{date, time};
use std::path::PathBuf;
use units::LengthUnit;

fn fixture(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures").join(name)
}

fn with_map(name: &str, map: &str) -> Result<RecordTable, Faults> {
    let map = ColumnMap::from_toml("map.toml", map).unwrap();
    read_record(&fixture(name), &RecordOptions { map, ..RecordOptions::default() })
}

fn read(name: &str) -> RecordTable {
    with_map(name, "").unwrap_or_else(|faults| panic!("{name}: {faults}"))
}

fn refused(name: &str, map: &str) -> Vec<String> {
    let faults = with_map(name, map).expect_err(name);
    faults.0.iter().map(ToString::to_string).collect()
}

fn meanings(table: &RecordTable) -> Vec<&'static str> {
    table.columns.iter().map(|guess| guess.meaning.key()).collect()
}

#[test]
fn a_wide_table_from_a_european_spreadsheet() {
    let table = read("bom_crlf_semicolon_decimal_comma.csv");
    assert_eq!((table.form, table.header_row), (Form::Wide, 1));
    assert_eq!(
        meanings(&table),
        [
            "site",
            "unknown",
            "date",
            "latitude",
            "longitude",
            "depth",
            "total_rating",
            "taxon_column",
            "taxon_column",
            "comment",
        ]
    );
    let first = &table.rows[0];
    assert_eq!((first.row, first.site.as_deref()), (2, Some("1")));
    assert_eq!(first.date, Some(date(2022, 8, 14)));
    assert_eq!((first.latitude, first.longitude), (Some(45.123_45), Some(-89.543_21)));
    let depth = first.depth.as_ref().unwrap();
    assert_eq!((depth.value, depth.unit), (Some(1.5), Some(LengthUnit::Metre)));
    let cells: Vec<Vec<(&str, &CellReading)>> = table
        .rows
        .iter()
        .map(|row| row.taxa.iter().map(|cell| (cell.name.as_str(), &cell.reading)).collect())
        .collect();
    let rating = CellReading::Rating("2".to_owned());
    assert_eq!(
        cells,
        [
            vec![("Potamogeton crispus", &rating)],
            vec![("Potamogeton crispus", &CellReading::Zero), ("Chara sp.", &CellReading::Zero)],
            vec![("Chara sp.", &CellReading::Visual)],
        ]
    );
    assert_eq!(table.rows[1].comment.as_deref(), Some("Müller; his dock"));
    assert_eq!(table.rows[2].depth, None);
}

#[test]
fn a_long_table_with_throws() {
    let table = read("long_with_throws.csv");
    assert_eq!(table.form, Form::Long);
    assert_eq!(
        meanings(&table),
        ["site", "throw", "taxon", "rating", "how_seen", "total_rating", "comment", "crew",]
    );
    let seen: Vec<_> = table
        .rows
        .iter()
        .map(|r| (r.site.as_deref(), r.throw, r.taxon.as_deref(), r.rating.as_deref()))
        .collect();
    assert_eq!(
        seen,
        [
            (Some("1"), Some(1), Some("Chara sp."), Some("2")),
            (Some("1"), Some(1), Some("Najas flexilis"), Some("1")),
            (Some("1"), Some(2), Some("Chara sp."), Some("0")),
            (Some("2"), Some(1), None, None),
        ]
    );
}

#[test]
fn a_legend_above_the_header_and_a_row_of_totals_below_are_left_out() {
    let table = read("legend_above_header.csv");
    assert_eq!(table.header_row, 5);
    assert_eq!(table.rows.len(), 2);
    assert_eq!(table.rows[1].taxa[0].name, "Water lily");
    assert_eq!(
        (table.skipped[0].row, table.skipped[0].reason.as_str()),
        (8, "a row of totals, not a site")
    );
}

#[test]
fn depths_in_words_become_numbers_with_a_warning() {
    let table = read("depth_words.csv");
    let depths: Vec<_> =
        table.rows.iter().map(|row| row.depth.as_ref().and_then(|d| d.value.zip(d.unit))).collect();
    let foot = |value| Some((value, LengthUnit::Foot));
    assert_eq!(
        depths,
        [foot(4.0), foot(5.0), foot(5.0), None, None, Some((1.5, LengthUnit::Metre)), None, None,]
    );
    assert_eq!(
        table.warnings,
        [
            "row 2: depth `2-6`: read as 4 (middle of the range 2 to 6)",
            "row 3: depth `~5 ft`: read as 5 (about)",
            "row 8: depth `deep`: no depth is read (not a depth)",
            "row 9: depth `2-Jun`: no depth is read (not a depth: a spreadsheet may have turned a range such as `2-6` into a date)",
        ]
    );
}

#[test]
fn serial_numbers_of_spreadsheets_are_days_and_times() {
    let table = read("excel_serial_dates.csv");
    for row in &table.rows {
        assert_eq!((row.date, row.time), (Some(date(2022, 8, 14)), Some(time(10, 30, 0, 0))));
    }
}

#[test]
fn a_column_called_species_full_of_numbers_is_a_count() {
    let table = read("species_count_column.csv");
    assert_eq!(meanings(&table), ["site", "species_total", "species_native", "total_rating"]);
    assert_eq!((table.rows[0].species_total, table.rows[0].species_native), (Some(3), Some(2)));
}

#[test]
fn dates_prove_their_own_order_where_they_can() {
    let table = read("dates_that_prove_their_order.csv");
    assert_eq!(table.date_order, Some(DateOrder::DayFirst));
    assert_eq!(table.rows[0].date, Some(date(2022, 4, 3)));
    assert_eq!(
        table.warnings,
        ["dates are read as day/month/year, because `25/4/2022` in row 3 can only be that",]
    );
    let table = with_map("ambiguous_dates.csv", "date_order = \"mdy\"").unwrap();
    assert_eq!(table.rows[0].date, Some(date(2022, 3, 4)));
}

#[test]
fn broken_records_are_refused_with_every_fault_at_once() {
    let cases: [(&str, &str, &[&str]); 7] = [
        (
            "ambiguous_dates.csv",
            "",
            &[
                "`ambiguous_dates.csv` row 2, field `date`: found `3/4/2022`, expected a date with one reading; this is 2022-03-04 with the month first and 2022-04-03 with the day first",
                "`ambiguous_dates.csv` row 4, field `date`: found `6/7/2022`, expected a date with one reading; this is 2022-06-07 with the month first and 2022-07-06 with the day first",
            ],
        ),
        (
            "many_faults.csv",
            "",
            &[
                "`many_faults.csv` row 3, field `Date`: found `someday`, expected a date such as `2022-08-14`",
                "`many_faults.csv` row 4, field `Time`: found `quarter past`, expected a time of day such as `9:16` or `2:05 pm`",
                "`many_faults.csv` row 5, field `Latitude`: found `north`, expected a latitude such as `43.05089` or `43 03.053 N`",
                "`many_faults.csv` row 6, field `Latitude`: found `-89.5`, expected longitude before latitude, and a latitude between -84 and 84 degrees",
                "`many_faults.csv` row 7, field `Depth_ft`: found `-4`, expected a depth at or below the surface, as a number from 0",
                "`many_faults.csv` row 8, field `Throw`: found `first`, expected the number of the throw: `1`, `2`, `3`",
                "`many_faults.csv` row 9, field `Site`: found nothing, expected the code of the site",
                "`many_faults.csv` row 11: found `10 cells, among the last surplus`, expected 9 cells, as many as headers",
                "`many_faults.csv` row 12, field `Longitude`: found nothing, expected a longitude beside the other coordinate",
                "`many_faults.csv` row 10, field `Site`: found `1`, expected one row for a site; row 2 has it already",
            ],
        ),
        (
            "no_site_column.csv",
            "",
            &[
                "`no_site_column.csv` row 1: found `nummer, depth_ft, rake`, expected a column with the code of the site, or columns with its position",
            ],
        ),
        (
            "latitude_without_longitude.csv",
            "",
            &[
                "`latitude_without_longitude.csv` row 1: found `lat, depth_ft, rake`, expected a column with the code of the site, or columns with its position",
                "`latitude_without_longitude.csv` row 1: found `lat, depth_ft, rake`, expected a column for longitude beside the one for latitude",
            ],
        ),
        (
            "depth_words.csv",
            "form = \"long\"\nheader_row = 1\n[columns]\nrating = \"density\"",
            &[
                "`depth_words.csv` row 1: found `site, depth_ft, rake`, expected a column `density`, as the column map says",
                "`depth_words.csv` row 1: found `site, depth_ft, rake`, expected a column that names the plant",
            ],
        ),
        (
            "legend_above_header.csv",
            "header_row = 4",
            &["`legend_above_header.csv` row 4: found `a blank row`, expected a header"],
        ),
        (
            "unclosed_quote.csv",
            "",
            &[
                "`unclosed_quote.csv` row 4, field `column 3`: found `\"broke off he `, expected a closing quotation mark before the end of the file",
            ],
        ),
    ];
    for (name, map, want) in cases {
        assert_eq!(refused(name, map), want, "{name}");
    }
}

#[test]
fn a_map_names_ignores_and_picks() {
    let text = b"Nr,Tiefe,Kraut,Blatt,Health\n1,4,2,pre,9\n1,5,3,post,9\n2,6,,pre,9\n";
    let map = "ignore = [\"health\"]\ndepth_unit = \"ft\"\n[columns]\nsite = \"NR\"\ndepth = 2\n\
               [taxa]\nKraut = \"Elodea canadensis\"\n[only]\nBlatt = \"Pre\"\n";
    let map = ColumnMap::from_toml("map.toml", map).unwrap();
    let options = RecordOptions { map: map.clone(), ..RecordOptions::default() };
    let table = read_record_bytes("t.csv", text, &options).unwrap();
    assert_eq!((table.rows.len(), table.rows_read, table.left_out), (2, 3, 1));
    let depth = table.rows[1].depth.as_ref().unwrap();
    assert_eq!((depth.value, depth.unit), (Some(6.0), Some(LengthUnit::Foot)));
    assert_eq!(table.rows[0].taxa[0].name, "Elodea canadensis");
    assert_eq!(table.rows[0].other, [(3, "pre".to_owned())]);
    assert_eq!(table.columns[4].meaning, Meaning::Ignored);
    // what was understood, saved for next year, reads the same
    let saved = ColumnMap::from_toml("map.toml", &table.column_map().to_toml()).unwrap();
    let again =
        read_record_bytes("t.csv", text, &RecordOptions { map: saved, ..RecordOptions::default() });
    assert_eq!(again.unwrap().rows, table.rows);
}

#[test]
fn the_lakes_own_list_decides_about_odd_headers() {
    let text = b"site,XYZ plant bed,photo\n1,2,9\n";
    let table = read_record_bytes("t.csv", text, &RecordOptions::default()).unwrap();
    assert_eq!(table.columns[1].meaning, Meaning::Unknown);
    assert!(
        table.warnings[0].contains("`XYZ plant bed` is not understood"),
        "{:?}",
        table.warnings
    );
    let known = |header: &str| header == "XYZ plant bed";
    let options = RecordOptions { is_taxon: Some(&known), ..RecordOptions::default() };
    let table = read_record_bytes("t.csv", text, &options).unwrap();
    assert_eq!(table.columns[1].meaning, Meaning::TaxonColumn);
}

#[test]
fn other_encodings_read_the_same() {
    let text = "site;comment;rake\n1;Müllers Bucht;2\n";
    let utf16: Vec<u8> =
        "\u{FEFF}".chars().chain(text.chars()).flat_map(|c| (c as u16).to_le_bytes()).collect();
    let utf16_big: Vec<u8> =
        "\u{FEFF}".chars().chain(text.chars()).flat_map(|c| (c as u16).to_be_bytes()).collect();
    // all of these letters are the same number in Unicode and in Windows-1252
    let western: Vec<u8> = text.chars().map(|c| c as u8).collect();
    let mac_lines = text.replace('\n', "\r").into_bytes();
    let declared = format!("sep=;\n{text}").into_bytes();
    for bytes in [text.as_bytes().to_vec(), utf16, utf16_big, western, mac_lines, declared] {
        let table = read_record_bytes("t.csv", &bytes, &RecordOptions::default()).unwrap();
        assert_eq!(table.rows[0].comment.as_deref(), Some("Müllers Bucht"));
    }
}

#[test]
fn names_nobody_has_seen_are_plants_when_the_person_says_so() {
    let text = b"plot,Abarema.macradenia,sp4,nobody,entry,count,pH,year4\n\
        1,0,3,,1,9,7.1,2003\n2,12,0,2,2,9,7.2,2003\n3,1,0,0,3,9,7.3,2003\n4,0,0,0,4,9,7.0,2003\n\
        5,0,1,0,5,9,7.1,2003\n6,0,0,1,6,9,7.4,2003\n";
    let plants = |new_taxa| {
        let options = RecordOptions { new_taxa, ..RecordOptions::default() };
        let table = read_record_bytes("t.csv", text, &options).unwrap();
        assert_eq!(table.columns[0].meaning, Meaning::Site);
        table.columns.into_iter().filter_map(|guess| guess.taxon).collect::<Vec<_>>()
    };
    assert_eq!(plants(false), ["Abarema macradenia"]);
    // a running number, a measure, fractions and a year are no plants even then
    assert_eq!(plants(true), ["Abarema macradenia", "sp4", "nobody"]);
}

#[test]
fn of_two_columns_that_look_like_the_site_the_one_that_tells_rows_apart_is() {
    let text = b"site,sample_id,species,rating\nDI,D1,CERDEM,1\nDI,D1,ELOCAN,0\nDI,D2,CERDEM,2\n";
    let table = read_record_bytes("t.csv", text, &RecordOptions::default()).unwrap();
    assert_eq!(meanings(&table), ["zone", "site", "taxon", "rating"]);
    assert_eq!(
        table.warnings,
        [
            "`sample_id` is read as the site, because `site` is the same on many rows; that is read as the zone"
        ]
    );
    let once = b"site,sample_id,species,rating\n1,D1,CERDEM,1\n1,D1,ELOCAN,0\n2,D2,CERDEM,2\n";
    let table = read_record_bytes("t.csv", once, &RecordOptions::default()).unwrap();
    assert_eq!(meanings(&table), ["site", "unknown", "taxon", "rating"]);
}

#[test]
fn a_long_table_that_lists_every_plant_everywhere_needs_a_word_on_what_was_found() {
    let mut with =
        "station,species,sav_incidence,species_incidence,species_cover_ordinal\n".to_owned();
    let mut without = "station,species\n".to_owned();
    for site in 1..=3 {
        for (place, plant) in ["CERDEM", "ELOCAN", "POTCRI"].iter().enumerate() {
            let found = usize::from(place + 1 == site);
            with += &format!("{site},{plant},1,{found},{}\n", found * 3);
            without += &format!("{site},{plant}\n");
        }
    }
    let table = read_record_bytes("t.csv", with.as_bytes(), &RecordOptions::default()).unwrap();
    assert_eq!(meanings(&table), ["site", "taxon", "unknown", "unknown", "rating"]);
    assert_eq!(table.warnings[0], "`species_cover_ordinal` is read as the rating of the plant");
    let faults = read_record_bytes("t.csv", without.as_bytes(), &RecordOptions::default());
    let said = faults.unwrap_err().to_string();
    assert!(said.contains("expected a column that says how much of the plant was found"), "{said}");
}

#[test]
fn several_columns_may_say_the_site_together() {
    let text = b"transect,depth,rep,rake_rating\n8,2.5,1,0\n8,2.5,2,3\n8,3,1,1\n";
    let map =
        ColumnMap::from_toml("m.toml", "[columns]\nsite = [\"transect\", \"Depth\"]\n").unwrap();
    let options = RecordOptions { map, ..RecordOptions::default() };
    let table = read_record_bytes("t.csv", text, &options).unwrap();
    let read: Vec<_> = table
        .rows
        .iter()
        .map(|row| (row.site.as_deref().unwrap(), row.throw.unwrap(), row.total_rating.as_deref()))
        .collect();
    assert_eq!(read, [("8-2.5", 1, Some("0")), ("8-2.5", 2, Some("3")), ("8-3", 1, Some("1"))]);
    let map =
        ColumnMap::from_toml("m.toml", "[columns]\nsite = [\"transect\", \"bay\"]\n").unwrap();
    let options = RecordOptions { map, ..RecordOptions::default() };
    let faults = read_record_bytes("t.csv", text, &options).unwrap_err().to_string();
    assert!(faults.contains("expected a column `bay`"), "{faults}");
}

#[test]
fn a_header_nobody_knows_among_plants_is_a_plant_when_its_cells_are_like_theirs() {
    let text =
        b"site,Coontail,,CLP,,weight,note,Naiads,,Photo\n1,1,2,2,5,3,a,0,,7\n2,,,1,4,2,b,2,3,8\n";
    let table = read_record_bytes("t.csv", text, &RecordOptions::default()).unwrap();
    assert_eq!(
        meanings(&table),
        [
            "site",
            "taxon_column",
            "paired",
            "taxon_column",
            "paired",
            "unknown",
            "comment",
            "taxon_column",
            "paired",
            "unknown",
        ]
    );
}
