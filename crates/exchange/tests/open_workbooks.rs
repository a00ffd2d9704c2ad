//! Real workbooks of rake sampling in the Sacramento-San Joaquin Delta, against a reading of them
//! by other means. They are not part of the project; without them these tests are skipped.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "the helpers of a test may fail it"
)]

#[path = "../../findings/tests/support/mod.rs"]
mod support;

use exchange::text::Table;
use exchange::{CellReading, ColumnMap, Form, RecordOptions, RecordTable, read_record};
use std::collections::{BTreeMap, BTreeSet};
use support::open_data;

const FOLDER: &str = "delta-dbw-messy-xlsx";

/// Header of the column of sites and, in the later sheets, the rating of the whole rake.
const EARLY: &str = "[columns]\nsite = \"WYPT\"\n";
const LATE: &str = "[columns]\nsite = \"WYPT\"\ntotal_rating = \"% Rake Full\"\n";
const TAXA: [(&str, &[&str]); 13] = [
    ("Egeria", &["Egeria"]),
    ("CLP", &["CLP"]),
    ("Coontail", &["Coontail"]),
    ("EU Milfoil", &["EU Milfoil"]),
    ("Fanwort", &["Fanwort"]),
    ("Sago PW", &["Sago PW"]),
    ("Richardsons PW", &["Richardsons PW", "Richard sons PW"]),
    ("Threadleaf PW", &["Threadleaf PW", "Thread leaf PW"]),
    ("American PW", &["American PW"]),
    ("Other Native PW", &["Other Native PW"]),
    ("Elodea", &["Elodea"]),
    ("Naiads", &["Naiads"]),
    ("Other", &[]),
];

struct Sheet {
    file: &'static str,
    name: &'static str,
    map: &'static str,
    /// Rows that name a site.
    sites: usize,
    /// What the other reading has and this one has not, and the reverse: site, plant, rating.
    only_there: &'static [(&'static str, &'static str, &'static str)],
    only_here: &'static [(&'static str, &'static str, &'static str)],
}

const SHEETS: [Sheet; 7] = [
    Sheet {
        file: "2017-PointSampling-12weekSites-filled.xlsx",
        name: "Data Sheet 2017",
        map: EARLY,
        sites: 115,
        only_there: &[],
        only_here: &[],
    },
    Sheet {
        file: "2017-PointSamplingData Sheet2.xlsx",
        name: "2017 Pre",
        map: EARLY,
        sites: 395,
        only_there: &[],
        only_here: &[],
    },
    Sheet {
        file: "2017-PointSamplingData Sheet2.xlsx",
        name: "2017 Post",
        map: "[columns]\nsite = \"WYPT\"\n[read_as]\n\"2017-01-04\" = \"1/4\"\n",
        sites: 395,
        only_there: &[("14-8", "Fanwort", "2017-01-04 00:00:00")],
        only_here: &[("14-8", "Fanwort", "1/4")],
    },
    Sheet {
        file: "2017-PointSamplingData Sheet2.xlsx",
        name: "2017 Phase 3",
        map: EARLY,
        sites: 5,
        only_there: &[],
        only_here: &[],
    },
    Sheet {
        file: "2019_NewSites_PointSamplingDataSheet.xlsx",
        name: "Data Sheet 2015",
        map: LATE,
        sites: 220,
        only_there: &[],
        only_here: &[],
    },
    Sheet {
        file: "2019_NewSites_PointSamplingDataSheet1.xlsx",
        name: "Data Sheet 2015",
        map: LATE,
        sites: 225,
        only_there: &[],
        only_here: &[],
    },
    Sheet {
        file: "2020_NewSites_PointSampling-Pre.xlsx",
        name: "Data Sheet 2015",
        map: LATE,
        sites: 170,
        only_there: &[],
        only_here: &[],
    },
];

fn is_plant(header: &str) -> bool {
    TAXA.iter().any(|(_, headers)| headers.contains(&header))
}

fn read(sheet: &Sheet, map: &str) -> Option<RecordTable> {
    let path = open_data(&format!("{FOLDER}/{}", sheet.file))?;
    let text = format!("sheet = \"{}\"\npaired = \"health\"\n{map}", sheet.name);
    let map = ColumnMap::from_toml("map.toml", &text).unwrap();
    let options = RecordOptions { map, is_taxon: Some(&is_plant), ..RecordOptions::default() };
    let name = format!("{} {}", sheet.file, sheet.name);
    Some(read_record(&path, &options).unwrap_or_else(|faults| panic!("{name}: {faults}")))
}

type Found = BTreeSet<(String, String, String, String)>;

/// Site, plant, rating and health of everything found.
fn found(table: &RecordTable) -> Found {
    let mut found = Found::new();
    for row in &table.rows {
        for cell in row.taxa.iter().filter(|cell| cell.reading != CellReading::Zero) {
            let health = row.paired.iter().find(|pair| pair.name == cell.name);
            found.insert((
                row.site.clone().unwrap(),
                cell.name.clone(),
                cell.raw.clone(),
                health.map(|pair| pair.raw.clone()).unwrap_or_default(),
            ));
        }
    }
    found
}

fn others(reference: &Table, sheet: &Sheet) -> Found {
    let number =
        |cell: &str| cell.parse::<f64>().map_or_else(|_| cell.to_owned(), |n| n.to_string());
    let rows = reference.rows.iter().filter(|row| {
        row.cell(0) == sheet.file && row.cell(1) == sheet.name && !row.cell(5).is_empty()
    });
    rows.map(|row| {
        (row.cell(3).to_owned(), row.cell(5).to_owned(), number(row.cell(6)), number(row.cell(7)))
    })
    .collect()
}

/// Depth at each site, where the other reading has a number.
fn depths(reference: &Table, sheet: &Sheet) -> BTreeMap<String, f64> {
    let rows =
        reference.rows.iter().filter(|row| row.cell(0) == sheet.file && row.cell(1) == sheet.name);
    rows.filter_map(|row| Some((row.cell(3).to_owned(), row.cell(4).parse().ok()?))).collect()
}

/// Differences: the rating that a spreadsheet made a day of is read as the map says, not kept as a
/// day. The three workbooks of 2018 in the reference are not in the collection.
#[test]
fn every_sheet_is_read_as_the_other_reading_has_it() {
    let Some(path) = open_data(&format!("{FOLDER}/parsed_long_derived.csv")) else { return };
    let reference = Table::read(&path).unwrap();
    for sheet in &SHEETS {
        let name = format!("{} {}", sheet.file, sheet.name);
        let Some(table) = read(sheet, sheet.map) else { continue };
        assert_eq!(table.form, Form::Wide, "{name}");
        assert_eq!(table.sheet.as_deref(), Some(sheet.name));
        assert_eq!(table.rows.len(), sheet.sites, "{name}");
        assert_eq!(table.paired.as_deref(), Some("health"));
        let (ours, theirs) = (found(&table), others(&reference, sheet));
        let three = |one: &Found, other: &Found| -> Vec<(String, String, String)> {
            one.difference(other).map(|(a, b, c, _)| (a.clone(), b.clone(), c.clone())).collect()
        };
        let told = |list: &[(&str, &str, &str)]| -> Vec<(String, String, String)> {
            list.iter().map(|(a, b, c)| ((*a).into(), (*b).into(), (*c).into())).collect()
        };
        assert_eq!(three(&theirs, &ours), told(sheet.only_there), "{name}: only there");
        assert_eq!(three(&ours, &theirs), told(sheet.only_here), "{name}: only here");
        assert!(!ours.is_empty());
        for (site, depth) in depths(&reference, sheet) {
            let row = table.rows.iter().find(|row| row.site.as_deref() == Some(&site)).unwrap();
            assert_eq!(row.depth.as_ref().and_then(|d| d.value), Some(depth), "{name} {site}");
        }
    }
}

#[test]
fn a_rating_that_became_a_day_is_refused_with_both_readings() {
    let Some(path) = open_data(&format!("{FOLDER}/2017-PointSamplingData Sheet2.xlsx")) else {
        return;
    };
    let map = ColumnMap::from_toml("map.toml", &format!("sheet = \"2017 post\"\n{EARLY}")).unwrap();
    let options = RecordOptions { map, is_taxon: Some(&is_plant), ..RecordOptions::default() };
    let faults = read_record(&path, &options).unwrap_err();
    assert_eq!(
        faults.to_string(),
        "`2017-PointSamplingData Sheet2.xlsx, sheet 2017 Post` row 49, field `Fanwort`: found \
         `2017-01-04`, expected a rating; a spreadsheet has made this day of `1/4`, or of `4/1` \
         where the day comes first\n\
         hint: format the cell as text and type the rating again, or say what it is in the column \
         map: a line `[read_as]`, under it `\"2017-01-04\" = \"…\"`"
    );
}

#[test]
fn without_a_name_the_first_sheet_is_read_and_the_others_are_told() {
    let Some(path) = open_data(&format!("{FOLDER}/2017-PointSamplingData Sheet2.xlsx")) else {
        return;
    };
    let table = Table::read(&path).unwrap();
    assert_eq!(table.sheets, ["2017 Pre", "2017 Post", "2017 Phase 3"]);
    assert_eq!(table.sheet.as_deref(), Some("2017 Pre"));
    assert_eq!(
        table.warnings,
        [
            "several sheets look like a record: `2017 Pre`, `2017 Post`, `2017 Phase 3`; the first is \
          read, another must be named"
        ]
    );
    let faults = Table::read_sheet(&path, Some("Pre")).unwrap_err();
    assert_eq!(
        faults.0[0].to_string(),
        "`2017-PointSamplingData Sheet2.xlsx`: found `2017 Pre, 2017 Post, 2017 Phase 3`, expected \
         a sheet named `Pre`"
    );
}
