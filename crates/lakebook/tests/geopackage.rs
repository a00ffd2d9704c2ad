//! The file is a GeoPackage that a general GIS opens.
#![allow(clippy::unwrap_used, reason = "helpers of tests may panic as tests do")]

mod common;

use common::*;
use rusqlite::Connection;
use std::collections::BTreeMap;

/// Source: OGC 12-128r19 (GeoPackage 1.4): requirements 2 (application id and version), 10 and 11
/// (reference systems), 13 (contents), 21 and 22 (geometry columns), annex F.3 (spatial index).
#[test]
fn the_container_follows_ogc_12_128r19() {
    let (_folder, path) = place();
    drop(full_book(&path));
    let connection = Connection::open(&path).unwrap();
    let pragma = |name: &str| -> i64 {
        connection.pragma_query_value(None, name, |row| row.get(0)).unwrap()
    };
    assert_eq!(pragma("application_id"), 0x4750_4B47, "GPKG");
    assert_eq!(pragma("user_version"), 10_400);
    let whole: String =
        connection.query_row("PRAGMA integrity_check", [], |row| row.get(0)).unwrap();
    assert_eq!(whole, "ok");
    let systems: Vec<(i64, String)> = connection
        .prepare("SELECT srs_id, organization FROM gpkg_spatial_ref_sys ORDER BY srs_id")
        .unwrap()
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    assert_eq!(systems, [(-1, "NONE".into()), (0, "NONE".into()), (4326, "EPSG".into())]);
    let strict: i64 = connection
        .query_row("SELECT count(*) FROM pragma_table_list WHERE strict", [], |row| row.get(0))
        .unwrap();
    assert_eq!(strict, 0, "older readers refuse a file with STRICT tables");
    let orphans: i64 = connection
        .query_row(
            "SELECT count(*) FROM gpkg_contents WHERE table_name NOT IN \
             (SELECT name FROM sqlite_master) \
             OR (data_type = 'features' AND table_name NOT IN \
                 (SELECT table_name FROM gpkg_geometry_columns WHERE srs_id = 4326))",
            [],
            |row| row.get(0),
        )
        .unwrap();
    assert_eq!(orphans, 0);
    let late: i64 = connection
        .query_row(
            "SELECT count(*) FROM gpkg_contents WHERE last_change NOT GLOB \
             '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9].[0-9][0-9][0-9]Z'",
            [],
            |row| row.get(0),
        )
        .unwrap();
    assert_eq!(late, 0, "last_change is UTC with fractional seconds");
}

#[test]
fn the_layer_of_results_says_what_the_record_says() {
    let (_folder, path) = place();
    let book = full_book(&path);
    let record = book.record(survey_header(26).id).unwrap();
    let plants = record.plants();
    let codes: BTreeMap<_, _> =
        record.sites.iter().map(|site| (site.id, site.code.to_string())).collect();
    let said: BTreeMap<String, String> = record
        .visits
        .iter()
        .map(|visit| (codes[&visit.site].clone(), record.outcome(visit, &plants).key().to_owned()))
        .collect();
    let shown: BTreeMap<String, String> = Connection::open(&path)
        .unwrap()
        .prepare("SELECT code, outcome FROM site_result WHERE survey = '2026-summer'")
        .unwrap()
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    assert_eq!(shown, said);
    assert!(said.values().any(|one| one == "sampled-without-plants"));
    assert!(said.values().any(|one| one == "sampled-with-plants"));
}
