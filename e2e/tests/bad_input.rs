//! Files as people really have them: each bad one gets one clear message and changes nothing.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::too_many_lines,
    clippy::needless_borrows_for_generic_args,
    reason = "a test stops where it must"
)]

mod common;

use common::Desk;

/// A bad file, the command that meets it, and words its message must have.
struct Case {
    name: &'static str,
    file: &'static str,
    content: Vec<u8>,
    command: &'static [&'static str],
    says: &'static [&'static str],
}

fn case(
    name: &'static str,
    file: &'static str,
    content: impl Into<Vec<u8>>,
    command: &'static [&'static str],
    says: &'static [&'static str],
) -> Case {
    Case { name, file, content: content.into(), command, says }
}

const DEPTHS: &[&str] = &["add", "lake.gpkg", "depths"];
const ZONES: &[&str] = &["add", "lake.gpkg", "zones"];
const OUTLINE: &[&str] = &["add", "lake.gpkg", "outline"];
const RECORD: &[&str] = &["record", "lake.gpkg"];

/// Runs a case on a fresh book with a lake, and holds it to its words and to having changed nothing.
fn refused(case: &Case) {
    let desk = Desk::with_lake();
    let before = desk.state();
    desk.write(case.file, &case.content);
    let mut arguments: Vec<&str> = case.command.to_vec();
    arguments.push(case.file);
    if case.command == RECORD {
        arguments.extend(["--survey", "2026-summer", "--scale", "fullness"]);
    }
    let run = desk.run(&arguments);
    assert_eq!(run.code, 2, "{}: ended with {}\n{}{}", case.name, run.code, run.out, run.err);
    for word in case.says {
        assert!(run.err.contains(word), "{}: no `{word}` in\n{}", case.name, run.err);
    }
    assert!(run.err.contains("hint:"), "{}: no hint in\n{}", case.name, run.err);
    assert!(!run.err.contains("panicked"), "{}: {}", case.name, run.err);
    assert_eq!(before, desk.state(), "{}: the book changed", case.name);
}

fn ring(points: &[(f64, f64)], properties: &str) -> String {
    let list: Vec<String> = points.iter().map(|(x, y)| format!("[{x},{y}]")).collect();
    format!(
        r#"{{"type":"Feature","properties":{properties},"geometry":{{"type":"Polygon","coordinates":[[{}]]}}}}"#,
        list.join(",")
    )
}

#[test]
fn map_files_that_are_no_use_are_refused_whole() {
    let crossing = ring(
        &[
            (-89.998, 45.001),
            (-89.99, 45.005),
            (-89.99, 45.001),
            (-89.998, 45.005),
            (-89.998, 45.001),
        ],
        r#"{"code":"A"}"#,
    );
    let elsewhere =
        ring(&[(-89.9, 45.1), (-89.89, 45.1), (-89.89, 45.11), (-89.9, 45.1)], r#"{"code":"A"}"#);
    let beside = ring(
        &[
            (-89.9775, 45.0),
            (-89.975, 45.0),
            (-89.975, 45.005),
            (-89.9775, 45.005),
            (-89.9775, 45.0),
        ],
        r#"{"code":"A"}"#,
    );
    let no_code =
        ring(&[(-89.998, 45.001), (-89.99, 45.001), (-89.99, 45.005), (-89.998, 45.001)], "{}");
    let cases = [
        case("empty", "d.csv", "", DEPTHS, &["d.csv"]),
        case("binary", "d.csv", b"PK\x03\x04rest of a zip".to_vec(), DEPTHS, &["d.csv", "zip"]),
        case(
            "truncated json",
            "o.geojson",
            &common::OUTLINE.as_bytes()[..150],
            OUTLINE,
            &["o.geojson"],
        ),
        case("header only", "d.csv", "longitude,latitude,depth_ft\n", DEPTHS, &["d.csv"]),
        case(
            "no depth column",
            "d.csv",
            "longitude,latitude,colour\n-89.99,45.005,blue\n",
            DEPTHS,
            &["d.csv"],
        ),
        case(
            "depth in words",
            "d.csv",
            "longitude,latitude,depth_ft\n-89.99,45.005,deep\n-89.99,45.004,4\n",
            DEPTHS,
            &["d.csv", "row 2", "depth_ft", "deep"],
        ),
        case(
            "unit unsaid",
            "d.csv",
            "longitude,latitude,depth\n-89.99,45.005,4\n",
            DEPTHS,
            &["--unit"],
        ),
        case(
            "swapped",
            "d.csv",
            "longitude,latitude,depth_ft\n45.005,-89.99,4\n45.004,-89.99,4\n",
            DEPTHS,
            &["swap"],
        ),
        case(
            "missing minus",
            "d.csv",
            "longitude,latitude,depth_ft\n89.99,45.005,4\n89.99,45.004,5\n",
            DEPTHS,
            &["minus"],
        ),
        case(
            "projected as degrees",
            "d.csv",
            "x,y,depth_ft\n560000,310000,4\n560010,310000,4\n",
            DEPTHS,
            &["--crs"],
        ),
        case(
            "feet as metres",
            "d.csv",
            "longitude,latitude,depth_m\n-89.99,45.007,20\n-89.991,45.007,19\n",
            DEPTHS,
            &["feet"],
        ),
        case("zone crosses itself", "z.geojson", crossing, ZONES, &["z.geojson", "crosses"]),
        case("zone elsewhere", "z.geojson", elsewhere, ZONES, &["z.geojson"]),
        case(
            "zone outside the shore",
            "z.geojson",
            beside,
            ZONES,
            &["z.geojson", "lies in the lake"],
        ),
        case("zone without a code", "z.geojson", no_code, ZONES, &["code"]),
        case(
            "points as an outline",
            "o.geojson",
            r#"{"type":"Point","coordinates":[-89.99,45.0]}"#,
            OUTLINE,
            &["polygon"],
        ),
    ];
    cases.iter().for_each(refused);
}

#[test]
fn records_with_a_slip_are_refused_with_row_field_and_value() {
    let head = "site,date,latitude,longitude,depth_ft,species,rating\n";
    let file = |rows: &str| format!("{head}{rows}");
    let cases = [
        case(
            "unknown species",
            "r.csv",
            file("1,2026-07-14,45.002,-89.998,4,XQZV,2\n"),
            RECORD,
            &["r.csv", "row 2", "XQZV", "--new-taxa"],
        ),
        case(
            "other scale",
            "r.csv",
            file("1,2026-07-14,45.002,-89.998,4,coontail,D\n"),
            RECORD,
            &["row 2", "rating", "`D`", "fullness"],
        ),
        case(
            "two faults",
            "r.csv",
            file(
                "1,2026-07-14,45.002,-89.998,4,coontail,9\n2,2026-07-14,45.002,-89.997,4,coontail,8\n",
            ),
            RECORD,
            &["row 2", "row 3"],
        ),
        case(
            "deeper than the lake",
            "r.csv",
            file("1,2026-07-14,45.002,-89.998,400,coontail,2\n"),
            RECORD,
            &["row 2", "depth", "400", "19.6 ft"],
        ),
        case(
            "another year",
            "r.csv",
            file("1,2019-07-14,45.002,-89.998,4,coontail,2\n"),
            RECORD,
            &["2019", "2026"],
        ),
        case(
            "duplicate species",
            "r.csv",
            file(
                "1,2026-07-14,45.002,-89.998,4,coontail,2\n1,2026-07-14,45.002,-89.998,4,coontail,1\n",
            ),
            RECORD,
            &["row 3", "species"],
        ),
        case(
            "two depths",
            "r.csv",
            file(
                "1,2026-07-14,45.002,-89.998,4,coontail,2\n1,2026-07-14,45.002,-89.998,7,Chara,1\n",
            ),
            RECORD,
            &["row 3", "depth"],
        ),
        case(
            "swapped positions",
            "r.csv",
            file("1,2026-07-14,-89.998,45.002,4,coontail,2\n"),
            RECORD,
            &["swap"],
        ),
        case(
            "no minus",
            "r.csv",
            file("1,2026-07-14,45.002,89.998,4,coontail,2\n"),
            RECORD,
            &["minus"],
        ),
        case(
            "no site",
            "r.csv",
            file(",2026-07-14,45.002,-89.998,4,coontail,2\n"),
            RECORD,
            &["row 2", "site"],
        ),
        case(
            "negative depth",
            "r.csv",
            file("1,2026-07-14,45.002,-89.998,-4,coontail,2\n"),
            RECORD,
            &["row 2", "depth"],
        ),
        case(
            "wide, a site twice",
            "r.csv",
            "site,depth_ft,coontail\n1,4,2\n1,4,1\n",
            RECORD,
            &["row 3", "site"],
        ),
        case(
            "outcome nobody knows",
            "r.csv",
            "site,depth_ft,species,rating,outcome\n1,4,,,weather\n",
            RECORD,
            &["row 2", "outcome", "weather"],
        ),
        case("empty", "r.csv", "", RECORD, &["r.csv"]),
        case("a picture", "r.csv", b"\x89PNG\r\n\x1a\n....".to_vec(), RECORD, &["r.csv"]),
    ];
    cases.iter().for_each(refused);
}

#[test]
fn a_preview_shows_the_file_with_what_would_be_refused_and_stores_nothing() {
    let desk = Desk::with_lake();
    let before = desk.state();
    desk.write(
        "r.csv",
        "site,date,depth_ft,species,rating\n1,2026-07-14,4,coontail,2\n2,2026-07-14,lots,coontail,9\n3,soon,5,coontail,1\n",
    );
    let run = desk.run(&[
        "record",
        "lake.gpkg",
        "r.csv",
        "--survey",
        "2026",
        "--scale",
        "fullness",
        "--preview",
        "--json",
    ]);
    assert_eq!(run.code, 1, "{}", run.err);
    let view = run.json();
    let refused = |row: u64, word: &str| {
        view["skipped"]
            .as_array()
            .unwrap()
            .iter()
            .any(|one| one["row"] == row && one["reason"].as_str().unwrap().contains(word))
    };
    assert!(refused(3, "rating") && refused(4, "soon"), "{view}");
    assert_eq!(view["rows_read"], 3);
    assert_eq!(before, desk.state());
}

#[test]
fn two_years_of_the_same_new_codes_are_one_scale() {
    let desk = Desk::with_lake();
    for year in ["2025", "2026"] {
        let file = format!("{year}.csv");
        desk.write(
            &file,
            format!("site,date,depth_ft,coontail\n1,{year}-07-14,4,2\n2,{year}-07-14,5,3\n"),
        );
        desk.run(&["record", "lake.gpkg", &file, "--survey", year, "--new-scale"]).done();
    }
    let list = desk.run(&["surveys", "lake.gpkg", "--json"]).done().json();
    assert_eq!(list[0]["scale"], list[1]["scale"], "{list}");
}

#[test]
fn positions_without_a_site_are_numbered() {
    let desk = Desk::with_lake();
    desk.write(
        "r.csv",
        "latitude,longitude,depth_ft,coontail\n45.002,-89.998,4,2\n45.003,-89.998,5,0\n",
    );
    desk.run(&["record", "lake.gpkg", "r.csv", "--survey", "2026", "--scale", "fullness"]).done();
    let found = desk.run(&["findings", "lake.gpkg", "--survey", "2026", "--json"]).done().json();
    assert_eq!((&found["sites"]["sampled"], &found["sites"]["vegetated"]), (&2.into(), &1.into()));
}

#[test]
fn windows_and_european_files_are_read_as_they_are() {
    let desk = Desk::with_lake();
    let text = "\u{feff}site;date;depth_ft;species;rating\r\n1;2026-07-14;4,5;coontail;2\r\n2;2026-07-14;12,0;;\r\n";
    desk.write("r.csv", text);
    desk.run(&["record", "lake.gpkg", "r.csv", "--survey", "2026-summer", "--scale", "fullness"])
        .done();
    let found =
        desk.run(&["findings", "lake.gpkg", "--survey", "2026-summer", "--json"]).done().json();
    assert_eq!(found["sites"]["sampled"], 2);
    assert_eq!(found["sites"]["vegetated"], 1);
    let depth = found["max_plant_depth_m"].as_f64().unwrap();
    assert!((depth - 4.5 * 0.3048).abs() < 1e-12, "{depth}");
}

#[test]
fn books_that_are_none_are_named_for_what_they_are() {
    let desk = Desk::empty();
    desk.write("words.gpkg", "not a book");
    desk.write("empty.gpkg", "");
    std::fs::create_dir(desk.path("folder.gpkg")).unwrap();
    for (book, says) in [
        ("nowhere.gpkg", "no lake book"),
        ("words.gpkg", "not a lake book"),
        ("empty.gpkg", "is empty"),
        ("folder.gpkg", "folder"),
    ] {
        let run = desk.run(&["surveys", book]);
        assert_eq!(run.code, 2, "{book}: {}", run.err);
        assert!(run.err.contains(says), "{book}: {}", run.err);
        assert!(run.err.contains("hint:"), "{book}: {}", run.err);
    }
}

#[test]
fn names_that_are_not_there_are_answered_with_those_that_are() {
    let desk = Desk::with_lake();
    desk.write("r.csv", "site,date,depth_ft,species,rating\n1,2026-07-14,4,coontail,2\n");
    desk.run(&["record", "lake.gpkg", "r.csv", "--survey", "2026-summer", "--scale", "fullness"])
        .done();
    let run = desk.run(&["findings", "lake.gpkg", "--survey", "2062-summer"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("2026-summer"), "{}", run.err);
    let run = desk.run(&["add", "lake.gpkg", "depths", "depths.csv", "--crs", "EPSG:99999"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("99999"), "{}", run.err);
}

#[test]
fn na_in_a_column_of_species_is_no_plant() {
    let desk = Desk::with_lake();
    desk.write(
        "r.csv",
        "site,date,depth_ft,species,rating\n1,2026-07-14,4,coontail,2\n2,2026-07-14,6,NA,0\n",
    );
    let run = desk
        .run(&["record", "lake.gpkg", "r.csv", "--survey", "2026", "--new-scale", "--json"])
        .done();
    let named = run.json();
    let named: Vec<&str> = named["new_taxa"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|taxon| taxon["scientific_name"].as_str())
        .collect();
    assert_eq!(named, ["Ceratophyllum demersum"]);
    let found = desk.run(&["findings", "lake.gpkg", "--survey", "2026", "--json"]).done().json();
    assert_eq!((&found["sites"]["sampled"], &found["sites"]["vegetated"]), (&2.into(), &1.into()));
}
