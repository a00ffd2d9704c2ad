//! A record kept true by the real program: finds confirmed, unknowns named, copies merged, photos.

#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

mod common;

use common::Desk;

const SITES: &str = "site,date,time,depth_ft,species,rating,latitude,longitude,observer
1,2026-07-14,09:00,4,Chara,1,45.0020,-89.9980,Ann
2,2026-07-14,09:10,,Unknown 1,2,45.0020,-89.9970,Ann
3,2026-07-14,09:20,5,Unknown 1,1,45.0020,-89.9960,Ann
";

fn recorded() -> Desk {
    let desk = Desk::with_lake();
    desk.write("sites.csv", SITES);
    desk.run(&[
        "record",
        "lake.gpkg",
        "sites.csv",
        "--survey",
        "2026",
        "--scale",
        "fullness",
        "--new-taxa",
        "--crew",
        "Ann:rake*",
    ])
    .done();
    desk
}

fn finds(desk: &Desk) -> Vec<serde_json::Value> {
    desk.run(&["check", "lake.gpkg", "--survey", "2026", "--json"])
        .json()
        .as_array()
        .unwrap()
        .clone()
}

#[test]
fn a_find_is_confirmed_with_a_reason_and_no_longer_stands_in_the_way_of_the_seal() {
    let desk = recorded();
    let open = finds(&desk);
    let find = open.iter().find(|one| one["id"] == "missing-depth:2").unwrap();
    assert_eq!((&find["severity"], &find["settled"]), (&"fault".into(), &false.into()));
    assert!(!find["why"].as_str().unwrap().is_empty());
    let refused = desk.run(&["seal", "lake.gpkg", "--survey", "2026", "--by", "Ann"]);
    assert_eq!(refused.code, 2, "{}", refused.err);
    let bare = desk.run(&["settle", "lake.gpkg", "--survey", "2026", "--find", "missing-depth:2"]);
    assert!(bare.err.contains("a find is confirmed with a reason"), "{}", bare.err);
    desk.run(&[
        "settle",
        "lake.gpkg",
        "--survey",
        "2026",
        "--find",
        "missing-depth:2",
        "--reason",
        "the pole was lost",
        "--by",
        "Ann",
    ])
    .done();
    let find = finds(&desk).into_iter().find(|one| one["id"] == "missing-depth:2").unwrap();
    assert_eq!((&find["settled"], &find["settled_by"]), (&true.into(), &"Ann".into()));
    desk.run(&["seal", "lake.gpkg", "--survey", "2026", "--by", "Ann"]).done();
    let verify = desk.run(&["verify", "lake.gpkg", "--json"]).done().json();
    assert_eq!((&verify["sealed"], &verify["ok"]), (&1.into(), &true.into()));
    let late = desk.run(&["settle", "lake.gpkg", "--survey", "2026", "--find", "missing-depth:2"]);
    assert!(late.code == 2 && late.err.contains("sealed"), "{}", late.err);
}

#[test]
fn an_unknown_is_named_everywhere_at_once_also_in_a_sealed_survey() {
    let desk = recorded();
    let code = finds(&desk)
        .into_iter()
        .find(|one| one["kind"] == "not-yet-named")
        .map(|one| one["where"].as_str().unwrap().to_owned())
        .unwrap();
    desk.run(&["seal", "lake.gpkg", "--survey", "2026", "--by", "Ann", "--despite", "a test"])
        .done();
    let named = desk
        .run(&[
            "resolve",
            "lake.gpkg",
            &code,
            "--as",
            "Najas flexilis",
            "--by",
            "Dr. Reed",
            "--evidence",
            "specimen",
            "--on",
            "2026-08-01",
            "--json",
        ])
        .done()
        .json();
    assert_eq!(named["places"], 2);
    assert_eq!(named["amended"], serde_json::json!(["2026"]));
    desk.run(&["export", "lake.gpkg", "--as", "csv", "-o", "out"]).done();
    let table = std::fs::read_to_string(desk.path("out/2026-observations.csv")).unwrap();
    assert!(table.contains("Najas flexilis") && !table.contains("Unknown 1"), "{table}");
    desk.run(&["verify", "lake.gpkg"]).done();
    let again = desk.run(&[
        "resolve",
        "lake.gpkg",
        &code,
        "--as",
        "Chara",
        "--by",
        "x",
        "--evidence",
        "photo",
    ]);
    assert_eq!(again.code, 2, "{}{}", again.out, again.err);
}

#[test]
fn two_copies_come_together_and_contradictions_are_chosen_by_key() {
    let desk = recorded();
    desk.run(&["backup", "lake.gpkg", "-o", "copy.gpkg"]).done();
    for (book, file, depth) in [("lake.gpkg", "a.csv", "6"), ("copy.gpkg", "b.csv", "7")] {
        let other = desk.run(&["surveys", book, "--json"]).done();
        assert!(other.out.contains("2026"));
        desk.write(file, format!("site,depth_ft,species,rating\n9,{depth},Chara,1\n"));
        desk.run(&[
            "record",
            book,
            file,
            "--survey",
            "later",
            "--scale",
            "fullness",
            "--date",
            "2026-08-01",
        ])
        .done();
    }
    let merged = desk.run(&["merge", "lake.gpkg", "copy.gpkg", "--json"]).done().json();
    assert!(merged["taken"].as_u64().unwrap() > 0);
    assert_eq!(merged["renamed"].as_array().unwrap().len(), 1, "{merged}");
    let names = desk.run(&["surveys", "lake.gpkg", "--json"]).done();
    assert!(names.out.contains("later (2)"), "{}", names.out);
    let again = desk.run(&["merge", "lake.gpkg", "copy.gpkg", "--json"]).done().json();
    assert_eq!(again["taken"], 0);
    desk.run(&["verify", "lake.gpkg"]).done();
    let stranger = desk.run(&["new", "other.gpkg", "--name", "Other"]);
    stranger.done();
    let refused = desk.run(&["merge", "lake.gpkg", "other.gpkg"]);
    assert!(
        refused.code == 2 && refused.err.contains("not a copy of this book"),
        "{}",
        refused.err
    );
}

#[test]
fn a_tampered_record_is_named_by_its_site_and_not_by_a_key() {
    let desk = recorded();
    desk.run(&["seal", "lake.gpkg", "--survey", "2026", "--by", "Ann", "--despite", "a test"])
        .done();
    // one letter of an observer's name, behind the program's back
    let path = desk.path("lake.gpkg");
    let mut bytes = std::fs::read(&path).unwrap();
    let from: Vec<usize> = bytes
        .windows(10)
        .enumerate()
        .filter(|(_, window)| window == b"sampledAnn")
        .map(|(place, _)| place)
        .collect();
    assert!(!from.is_empty(), "the row of a visit is in the file");
    bytes[from[0] + 9] = b'm';
    std::fs::write(&path, bytes).unwrap();
    let verify = desk.run(&["verify", "lake.gpkg", "--json"]);
    assert_eq!(verify.code, 1);
    let json = verify.json();
    let places: Vec<&str> = json["broken"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["where"].as_str().unwrap())
        .collect();
    assert!(places.iter().any(|place| place.contains("visit of site")), "{places:?}");
    assert!(places.contains(&"survey `2026`"), "{places:?}");
}

/// What two people wrote of one site stands side by side as the sheet writes it, in the book's units.
#[test]
fn a_contradiction_is_told_as_the_sheet_writes_it() {
    let desk = Desk::with_lake();
    let file = "site,latitude,longitude,date,depth_ft,species,rating\n1,45.005,-89.99,2026-07-14,6,coontail,T\n";
    desk.write("r.csv", file);
    desk.run(&["record", "lake.gpkg", "r.csv", "--survey", "2026", "--scale", "handful"]).done();
    std::fs::copy(desk.path("lake.gpkg"), desk.path("copy.gpkg")).unwrap();
    let visit = |book: &str, by: &str, depth: &str, throws: &[&str]| {
        let mut line =
            vec!["visit", book, "--survey", "2026", "--site", "1", "--by", by, "--depth", depth];
        for throw in throws {
            line.extend(["--throw", throw]);
        }
        desk.run(&line).done();
    };
    visit("lake.gpkg", "Ann", "6.5ft", &["1: CEDE M, = D"]);
    visit("copy.gpkg", "Ben", "7ft", &["1: CEDE S", "2: 0"]);
    desk.run(&["merge", "lake.gpkg", "copy.gpkg"]).done();
    let told = desk.run(&["conflicts", "lake.gpkg", "--json"]);
    assert_eq!(told.code, 1, "{}", told.err);
    let told = told.json();
    assert_eq!(told[0]["what"], "visit of site 1 of 2026");
    let field = |name: &str| {
        let fields = told[0]["fields"].as_array().unwrap();
        let found = fields.iter().find(|one| one["field"] == name);
        let found = found.unwrap_or_else(|| panic!("no {name} in {told}"));
        (found["current"].as_str().unwrap().to_owned(), found["other"].as_str().unwrap().to_owned())
    };
    assert_eq!(field("depth"), ("6.5 ft".to_owned(), "7.0 ft".to_owned()));
    assert_eq!(field("throws"), ("1: CEDE M, = D".to_owned(), "1: CEDE S; 2: 0".to_owned()));
}
