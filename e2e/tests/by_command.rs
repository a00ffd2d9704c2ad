//! An open survey written up by command, one thing at a time, and its record on paper.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops where it fails and says what it met"
)]

mod common;

use common::{Desk, Run};

const TABLE: &str = "site,date,depth_ft,species,rating,latitude,longitude
1,2026-07-14,4,Chara,1,45.0020,-89.9980
2,2026-07-14,5,Chara,2,45.0020,-89.9970
3,2026-07-14,6,Unknown 1,1,45.0020,-89.9960
";

fn recorded(table: &str) -> (Desk, Run) {
    let desk = Desk::with_lake();
    desk.write("r.csv", table);
    let words = ["--survey", "2026", "--scale", "fullness", "--new-taxa", "--crew", "Ann:rake*"];
    let run = desk.run(&[&["record", "lake.gpkg", "r.csv"][..], &words].concat()).done();
    (desk, run)
}

fn on(desk: &Desk, verb: &str, more: &[&str]) -> Run {
    desk.run(&[&[verb, "lake.gpkg", "--survey", "2026"][..], more].concat())
}

#[test]
fn a_plant_that_should_not_be_here_is_told_with_what_to_do() {
    let with = format!("{TABLE}4,2026-07-14,4,Myriophyllum spicatum,1,45.0030,-89.9980\n");
    let (desk, first) = recorded(&with);
    for word in ["new to this lake", "Myriophyllum spicatum", "specimen", "photograph", "tell"] {
        assert!(first.err.contains(word), "no `{word}` in {}", first.err);
    }
    assert!(!first.err.contains("Chara (Chara)"), "{}", first.err);
    // another survey that finds it again is no news
    desk.write("next.csv", with.replace("2026-07", "2027-07"));
    let next = ["record", "lake.gpkg", "next.csv", "--survey", "2027", "--preview", "--json"];
    assert_eq!(desk.run(&next).done().json()["alerts"], serde_json::json!([]));
}

#[test]
fn a_site_is_written_up_as_the_sheet_has_it_and_can_be_put_right() {
    let (desk, _) = recorded(TABLE);
    let code = on(&desk, "visit", &["--site", "1", "--json"]).done().json();
    let chara = code["visit"]["throws"][0]["observations"][0]["taxon"].as_str().unwrap().to_owned();
    let throw = format!("1: {chara} 3, UN-1 v, = 3");
    let saved = on(
        &desk,
        "visit",
        &["--site", "2", "--throw", &throw, "--throw", "2: -", "--depth", "1.5m", "--json"],
    );
    let saved = saved.done().json();
    let visit = &saved["saved"]["visit"];
    assert_eq!(visit["depth_m"], 1.5);
    assert_eq!(visit["note"], "[throw 2 not made]");
    assert_eq!(visit["throws"].as_array().unwrap().len(), 1);
    assert_eq!(visit["throws"][0]["total"], "3");
    assert_eq!(visit["throws"][0]["observations"][1]["rating"], "V");
    // the throw was made after all, and came up bare
    let text = on(&desk, "visit", &["--site", "2", "--throw", "2: 0"]).done();
    assert!(text.out.contains("2: 0") && !text.out.contains("not made"), "{}", text.out);
    let dock = on(&desk, "visit", &["--site", "3", "--not-sampled", "dock-or-structure"]).done();
    assert!(dock.out.contains("dock-or-structure"), "{}", dock.out);
    on(&desk, "visit", &["--site", "1", "--delete"]).done();
    let none = on(&desk, "visit", &["--site", "1"]).done();
    assert!(none.out.contains("nothing is written for site 1"), "{}", none.out);
    for (more, says) in [
        (&["--site", "2", "--throw", "1: XQZV 2"][..], "XQZV"),
        (&["--site", "2", "--throw", "1: UN-1 9"][..], "no step `9`"),
        (&["--site", "99", "--depth", "4ft"][..], "99"),
        (&["--site", "2", "--depth", "deep"][..], "deep"),
        (&["--site", "2", "--bottom", "cheese"][..], "cheese"),
    ] {
        let run = on(&desk, "visit", more);
        assert!(run.code == 2 && run.err.contains(says), "{more:?}: {}", run.err);
    }
}

#[test]
fn a_find_on_the_shore_is_written_down_listed_changed_and_taken_out() {
    let (desk, _) = recorded(TABLE);
    let nameless = on(&desk, "shoreline", &["--note", "at the landing"]);
    assert!(nameless.code == 2 && nameless.err.contains("which plant"), "{}", nameless.err);
    let find = ["--plant", "UN-1", "--at", "45.0021,-89.9979", "--note", "washed up", "--json"];
    let saved = on(&desk, "shoreline", &find).done().json();
    let key = saved[0]["id"].as_str().unwrap();
    on(&desk, "shoreline", &["--key", key, "--note", "rooted after all"]).done();
    let listed = on(&desk, "shoreline", &["--json"]).done().json();
    assert_eq!(listed.as_array().unwrap().len(), 1);
    let kept = &listed[0]["find"];
    assert_eq!((&kept["taxon"], &kept["note"]), (&"UN-1".into(), &"rooted after all".into()));
    assert_eq!((&kept["lat"], &kept["lon"]), (&45.0021.into(), &(-89.9979).into()));
    let text = on(&desk, "shoreline", &[]).done().out;
    assert!(text.contains("45.00210") && text.contains("rooted after all"), "{text}");
    // in the lists of plants, in no frequency
    let found = on(&desk, "findings", &["--json"]).done().json();
    assert_eq!(found["sites"]["sampled"], 3);
    for (more, says) in [
        (&["--plant", "XQZV"][..], "XQZV"),
        (&["--plant", "UN-1", "--at", "89.9979"][..], "no place"),
        (&["--key", "nothing", "--note", "x", "--plant", "UN-1"][..], "id"),
    ] {
        let run = on(&desk, "shoreline", more);
        assert!(run.code == 2 && run.err.contains(says), "{more:?}: {}", run.err);
    }
    on(&desk, "shoreline", &["--delete", key]).done();
    assert_eq!(on(&desk, "shoreline", &["--json"]).done().json(), serde_json::json!([]));
    assert_eq!(on(&desk, "shoreline", &["--delete", key]).code, 2);
    on(&desk, "seal", &["--by", "Ann", "--despite", "written up for a test"]).done();
    let late = on(&desk, "shoreline", &["--plant", "UN-1"]);
    assert!(late.code == 2 && late.err.contains("sealed"), "{}", late.err);
}

#[test]
fn beds_and_specimens_are_written_down_listed_changed_and_taken_out() {
    let (desk, _) = recorded(TABLE);
    let bed = on(
        &desk,
        "bed",
        &[
            "--plants",
            "UN-1",
            "--rating",
            "3",
            "--site",
            "2",
            "--note",
            "as wide as a dock",
            "--json",
        ],
    );
    let key = bed.done().json()[0]["id"].as_str().unwrap().to_owned();
    on(&desk, "bed", &["--key", &key, "--rating", "2"]).done();
    let beds = on(&desk, "bed", &["--json"]).done().json();
    assert_eq!(beds.as_array().unwrap().len(), 1);
    let bed = &beds[0]["bed"];
    assert_eq!((&bed["rating"], &bed["note"]), (&"2".into(), &"as wide as a dock".into()));
    on(&desk, "bed", &["--delete", &key]).done();
    assert_eq!(on(&desk, "bed", &["--json"]).done().json(), serde_json::json!([]));
    let refused = on(&desk, "bed", &["--delete", &key]);
    assert_eq!(refused.code, 2, "{}", refused.err);

    let number = "SL26-V01";
    let kept = ["--number", number, "--plant", "UN-1", "--site", "3", "--collector", "Ann"];
    on(&desk, "specimen", &[&kept[..], &["--kept-at", "the town hall"]].concat()).done();
    on(&desk, "specimen", &["--number", number, "--confirmed-by", "a botanist"]).done();
    let all = on(&desk, "specimen", &["--json"]).done().json();
    assert_eq!(all.as_array().unwrap().len(), 1);
    assert_eq!(all[0]["kept_at"], "the town hall");
    assert_eq!(all[0]["confirmed_by"], "a botanist");
    let nameless = on(&desk, "specimen", &["--number", "SL26-V02"]);
    assert!(nameless.code == 2 && nameless.err.contains("which plant"), "{}", nameless.err);

    on(&desk, "seal", &["--by", "Ann", "--despite", "written up for a test"]).done();
    for verb in ["bed", "specimen"] {
        let more: &[&str] =
            if verb == "bed" { &["--note", "late"] } else { &["--number", number, "--delete"] };
        let late = on(&desk, verb, more);
        assert!(late.code == 2 && late.err.contains("sealed"), "{}", late.err);
    }
    let paper = on(&desk, "print", &["-o", "record.pdf"]);
    assert_eq!(paper.code, 2, "{}", paper.err);
    desk.run(&["print", "lake.gpkg", "record", "--survey", "2026", "-o", "record.pdf"]).done();
    assert!(std::fs::read(desk.path("record.pdf")).unwrap().starts_with(b"%PDF-"));
    assert_eq!(desk.run(&["verify", "lake.gpkg", "--json"]).done().json()["ok"], true);
}
