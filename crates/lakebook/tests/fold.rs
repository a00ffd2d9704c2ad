//! The tables are the fold of the log, whatever was written.
#![allow(clippy::unwrap_used, reason = "helpers of tests may panic as tests do")]

mod common;

use common::*;
use lakebook::{DataSet, DataSetContent, Difference, Entity, LakeBook};
use proptest::prelude::*;
use rusqlite::Connection;
use rusqlite::types::Value;
use std::collections::BTreeMap;
use std::path::Path;

/// Every table, its rows sorted, without the integer keys that mean nothing.
fn dump(path: &Path) -> BTreeMap<String, Vec<String>> {
    let connection = Connection::open(path).unwrap();
    let tables: Vec<String> = connection
        .prepare(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' \
             AND name NOT LIKE 'rtree_%' AND name NOT LIKE 'gpkg_%'",
        )
        .unwrap()
        .query_map([], |row| row.get(0))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    let mut all = BTreeMap::new();
    for table in tables {
        let mut statement = connection.prepare(&format!("SELECT * FROM {table}")).unwrap();
        let columns: Vec<String> = statement.column_names().map(str::to_owned).collect();
        let mut rows: Vec<String> = statement
            .query_map([], |row| {
                let cells: Result<Vec<String>, _> = columns
                    .iter()
                    .enumerate()
                    .filter(|(_, name)| *name != "fid")
                    .map(|(at, _)| row.get::<_, Value>(at).map(|value| format!("{value:?}")))
                    .collect();
                Ok(cells?.join("|"))
            })
            .unwrap()
            .collect::<Result<_, _>>()
            .unwrap();
        rows.sort();
        all.insert(table, rows);
    }
    // the spatial index against the geometry it indexes
    for layer in ["zone", "site", "visit", "sounding"] {
        let count: i64 = connection
            .query_row(&format!("SELECT count(*) FROM rtree_{layer}_geom"), [], |row| row.get(0))
            .unwrap();
        all.insert(format!("index of {layer}"), vec![count.to_string()]);
    }
    all
}

#[test]
fn a_rebuilt_book_equals_the_one_before() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let soundings = (0..500).map(|n| (-89.4 - f64::from(n) / 1e4, 43.0, f64::from(n))).collect();
    book.put_data_set(
        &DataSet {
            name: "depths.csv".into(),
            unit: "m".into(),
            crs: "EPSG:4326".into(),
            content: DataSetContent::Soundings(soundings),
            note: String::new(),
        },
        "depths",
    )
    .unwrap();
    book.seal(survey_header(26).id, "A. Heron").unwrap();
    book.transact("gone", |writer| writer.delete_zone(zone(0).id)).unwrap();
    let before = dump(&path);
    assert!(before["observation"].len() > 100 && before["sounding"].len() == 500);
    book.rebuild().unwrap();
    assert_eq!(dump(&path), before);
}

#[derive(Debug, Clone)]
enum Step {
    Zone(u8, u8),
    NoZone(u8),
    Site(u8, u8),
    Visit(u8, u8),
    NoVisit(u8),
    OldVersion(u8, u8),
    Taxon(u8, u8),
    Undo,
    NextSave,
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        (0..4_u8, any::<u8>()).prop_map(|(key, word)| Step::Zone(key, word)),
        (0..4_u8).prop_map(Step::NoZone),
        (0..5_u8, any::<u8>()).prop_map(|(key, word)| Step::Site(key, word)),
        (0..5_u8, any::<u8>()).prop_map(|(key, word)| Step::Visit(key, word)),
        (0..5_u8).prop_map(Step::NoVisit),
        (0..4_u8, any::<u8>()).prop_map(|(key, word)| Step::OldVersion(key, word)),
        (0..8_u8, any::<u8>()).prop_map(|(key, word)| Step::Taxon(key, word)),
        Just(Step::Undo),
        Just(Step::NextSave),
    ]
}

/// Applies a step; a refusal is part of the game, a broken book is not.
fn apply(book: &mut LakeBook, step: &Step) {
    let header = survey_header(26);
    let _ = book.transact("a step", |writer| match *step {
        Step::Zone(key, word) => {
            let mut zone = zone(key.into());
            zone.name = format!("name {word}");
            writer.put_zone(&zone)
        }
        Step::NoZone(key) => writer.delete_zone(zone(key.into()).id),
        Step::Site(key, word) => {
            let mut site = site(&header, key.into());
            site.landmark = format!("oak {word}");
            site.map_depth = Some(units::Metres::new(f64::from(word) / 7.0));
            writer.put_site(&site)
        }
        Step::Visit(key, word) => {
            let mut site = site(&header, key.into());
            site.rank = word.into();
            writer.put_visit(&visit(&header, &site, &taxa()))
        }
        Step::NoVisit(key) => {
            let site = site(&header, key.into());
            writer.delete_visit(visit(&header, &site, &taxa()).id)
        }
        Step::OldVersion(key, word) => {
            let mut zone = zone(key.into());
            zone.name = format!("old {word}");
            writer.based_on(None).put_zone(&zone)
        }
        Step::Taxon(key, word) => {
            let mut taxon = taxon(key.into());
            taxon.common_name = format!("called {word}");
            writer.put_taxon(&taxon)
        }
        Step::Undo | Step::NextSave => Ok(()),
    });
    if matches!(step, Step::Undo) {
        let _ = book.undo_last();
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn any_sequence_of_writes_folds_to_the_same_tables(
        steps in prop::collection::vec(step(), 1..25)
    ) {
        let (_folder, path) = place();
        let mut book = new_book(&path);
        book.transact("survey", |writer| writer.put_survey(&survey_header(26))).unwrap();
        for step in &steps {
            apply(&mut book, step);
        }
        let verification = book.verify().unwrap();
        prop_assert!(verification.ok, "{:?}", verification.broken);
        let before = dump(&path);
        book.rebuild().unwrap();
        prop_assert_eq!(dump(&path), before);
    }
}

fn edited(path: &Path) -> (LakeBook, Vec<Difference>) {
    let moved = geopackage_core::geometry::encode_gpb(
        &geo_types::Geometry::MultiPolygon(square(-89.41, 43.01, 0.009)),
        4326,
    )
    .unwrap()
    .0;
    let raw = gis(path);
    raw.execute("UPDATE zone SET geom = ?1 WHERE code = 'W0'", [moved]).unwrap();
    raw.execute("UPDATE zone SET name = 'Mallard cove' WHERE code = 'W0'", []).unwrap();
    raw.execute("DELETE FROM landmark", []).unwrap();
    drop(raw);
    let book = LakeBook::open(path, TestPorts::new("desk")).unwrap();
    let edits = book.edited_elsewhere().unwrap();
    (book, edits)
}

#[test]
fn an_edit_by_another_program_is_noticed_on_opening() {
    let (_folder, path) = place();
    let book = full_book(&path);
    assert!(!book.was_edited_elsewhere().unwrap());
    assert_eq!(book.edited_elsewhere().unwrap(), []);
    drop(book);
    let (book, edits) = edited(&path);
    assert!(book.was_edited_elsewhere().unwrap());
    let told: Vec<_> = edits
        .iter()
        .map(|edit| (edit.entity, edit.field.as_deref(), edit.in_table.as_deref().is_some()))
        .collect();
    assert_eq!(
        told,
        [
            (Entity::Zone, Some("geom"), true),
            (Entity::Zone, Some("name"), true),
            (Entity::Landmark, None, false)
        ]
    );
    assert_eq!(edits[1].in_log.as_deref(), Some("West bay 0"));
    assert_eq!(edits[1].in_table.as_deref(), Some("Mallard cove"));
}

#[test]
fn an_edit_by_another_program_can_be_put_back() {
    let (_folder, path) = place();
    drop(full_book(&path));
    let before = dump(&path);
    let (mut book, _) = edited(&path);
    book.rebuild().unwrap();
    assert_eq!(book.edited_elsewhere().unwrap(), []);
    assert!(!book.was_edited_elsewhere().unwrap());
    assert_eq!(dump(&path), before);
}

#[test]
fn an_edit_by_another_program_can_be_taken_over_as_an_event() {
    let (_folder, path) = place();
    drop(full_book(&path));
    let (mut book, edits) = edited(&path);
    book.take_over(&edits, "drawn in the GIS").unwrap();
    assert!(!book.was_edited_elsewhere().unwrap());
    assert!(book.verify().unwrap().ok);
    assert_eq!(book.zones().unwrap()[0].name, "Mallard cove");
    assert_eq!(book.zones().unwrap()[0].area, square(-89.41, 43.01, 0.009));
    assert_eq!(book.landmarks().unwrap(), []);
    book.rebuild().unwrap();
    assert_eq!(book.zones().unwrap()[0].name, "Mallard cove");
    assert_eq!(book.change_log(1).unwrap()[0].note, "drawn in the GIS");
}

#[test]
fn an_edit_of_a_sealed_record_is_not_taken_over() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    book.seal(survey_header(26).id, "A. Heron").unwrap();
    drop(book);
    let raw = gis(&path);
    raw.execute("UPDATE taxon SET scientific_name = 'Other' WHERE code = 'TA0'", []).unwrap();
    raw.execute("UPDATE visit SET note = 'x' WHERE fid = 1", []).unwrap();
    drop(raw);
    let mut book = LakeBook::open(&path, TestPorts::new("desk")).unwrap();
    for edit in book.edited_elsewhere().unwrap() {
        let error = book.take_over(std::slice::from_ref(&edit), "mine").unwrap_err();
        assert!(matches!(error, lakebook::BookError::Sealed { .. }), "{edit:?}: {error}");
    }
    assert_eq!(book.edited_elsewhere().unwrap().len(), 2, "both still stand out");
}
