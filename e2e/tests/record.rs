//! A file of records into a survey, year after year, by the real program.

#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

mod common;

use common::{Desk, Run};

/// Two plants, their ratings, and a column that only a person can explain.
const FIRST: &str = "stop,deep,Chara,weedy mess
1,4,1,2
2,5,0,1
3,6,,3
";
/// A year on: another plant, other order, the same odd words.
const NEXT: &str = "Deep,stop,weedy mess,Chara,Najas flexilis
4,1,2,1,1
5,2,1,,3
";
const MAP: &str = "[columns]\nsite = \"stop\"\ndepth = \"deep\"\n[taxa]\n\"weedy mess\" = \"Filamentous algae\"\n";

fn record(desk: &Desk, file: &str, survey: &str, more: &[&str]) -> Run {
    let mut words = vec!["record", "lake.gpkg", file, "--survey", survey, "--new-taxa", "--json"];
    words.extend(["--scale", "fullness"]);
    words.extend(more);
    desk.run(&words)
}

fn meanings(ran: &Run) -> Vec<(String, String)> {
    let view = ran.json();
    let columns = view["sheets"][0]["columns"].as_array().unwrap().clone();
    let text = |value: &serde_json::Value| value.as_str().unwrap_or_default().to_owned();
    columns.iter().map(|one| (text(&one["header"]), text(&one["meaning"]))).collect()
}

#[test]
fn what_the_columns_mean_is_remembered_for_next_years_file_of_the_same_kind() {
    let desk = Desk::with_lake();
    desk.write("first.csv", FIRST);
    desk.write("next.csv", NEXT);
    desk.write("map.toml", MAP);
    let first =
        record(&desk, "first.csv", "2025", &["--columns", "map.toml", "--date", "2025-07-14"]);
    assert!(first.json()["remembered"].is_null(), "{}", first.out);
    let next = record(&desk, "next.csv", "2026", &["--date", "2026-07-14", "--preview"]);
    let view = next.json();
    assert_eq!(view["remembered"]["file"], "first.csv");
    assert_eq!(view["remembered"]["survey"], "2025");
    assert!(view["warnings"].to_string().contains("read as those of `first.csv`"), "{view}");
    let read = meanings(&next);
    let want = [
        ("Deep", "depth"),
        ("stop", "site"),
        ("weedy mess", "taxon_column"),
        ("Chara", "taxon_column"),
        ("Najas flexilis", "taxon_column"),
    ];
    assert_eq!(read, want.map(|(header, meaning)| (header.to_owned(), meaning.to_owned())));
    assert_eq!(view["sheets"][0]["columns"][2]["taxon"], "Filamentous algae");
    // and can be told otherwise
    let fresh = record(
        &desk,
        "next.csv",
        "2026",
        &["--date", "2026-07-14", "--preview", "--guess-columns"],
    );
    assert_eq!(fresh.code, 2, "{}", fresh.out);
    assert!(fresh.err.contains("a column with the code of the site"), "{}", fresh.err);
    // a file of another kind is not read like it
    desk.write("other.csv", "site,depth_ft,stop,Chara\n1,4,a,1\n2,5,b,2\n");
    let other = record(&desk, "other.csv", "2026", &["--date", "2026-07-14", "--preview"]);
    assert!(other.json()["remembered"].is_null(), "{}", other.out);
}

#[test]
fn another_scale_needs_a_reason_and_the_break_is_told_in_every_comparison() {
    let desk = Desk::with_lake();
    for (survey, day, scale) in
        [("2024", "2024-07-10", "fullness"), ("2025", "2025-07-10", "numbers-0-5")]
    {
        let file = format!("{survey}.csv");
        let five = if survey == "2025" { 5 } else { 3 };
        desk.write(&file, format!("site,depth_ft,Chara\n1,4,1\n2,5,{five}\n3,6,0\n4,7,2\n"));
        let scale = if survey == "2025" { vec!["--new-scale"] } else { vec!["--scale", scale] };
        let mut words =
            vec!["record", "lake.gpkg", &file, "--survey", survey, "--date", day, "--new-taxa"];
        words.extend(scale);
        desk.run(&words).done();
    }
    let find = |desk: &Desk| {
        let finds = desk.run(&["check", "lake.gpkg", "--survey", "2025", "--json"]).json();
        finds.as_array().unwrap().iter().any(|one| one["kind"] == "scale-changed")
    };
    assert!(find(&desk));
    let stand = desk.run(&["scale", "lake.gpkg", "--survey", "2025", "--json"]).json();
    assert_eq!(
        (&stand["differs"], &stand["programme"]["scale"]),
        (&true.into(), &"fullness".into())
    );
    // the codes written do not all stand on the other scale
    let refused = desk.run(&[
        "scale",
        "lake.gpkg",
        "--survey",
        "2025",
        "--to",
        "fullness",
        "--reason",
        "as before",
    ]);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("`5`"), "{}", refused.err);
    let silent = desk.run(&["scale", "lake.gpkg", "--survey", "2025", "--reason", " "]);
    assert_eq!(silent.code, 2, "{}", silent.err);
    let why = "the county asks for five steps";
    desk.run(&["scale", "lake.gpkg", "--survey", "2025", "--reason", why, "--by", "Ann"]).done();
    assert!(!find(&desk));
    let compared =
        desk.run(&["compare", "lake.gpkg", "--from", "2024", "--to", "2025", "--json"]).json();
    assert!(compared["warnings"].to_string().contains(why), "{}", compared["warnings"]);
    let text = desk.run(&["compare", "lake.gpkg", "--from", "2024", "--to", "2025"]);
    assert!(text.out.replace('\n', " ").contains(why) || text.err.contains(why), "{}", text.out);
    let trend = desk.run(&["trend", "lake.gpkg", "--taxon", "any", "--json"]).json();
    assert_eq!(trend["breaks"][0]["reason"], why, "{trend}");
    // the next survey begins on the scale of the last, or with a reason of its own
    let lay = ["plan", "lake.gpkg", "--layout", "balanced", "--sites", "5", "--survey"];
    let plan = |survey, more: &[&str]| desk.run(&[&lay[..], &[survey], more].concat());
    let silent = plan("2026", &["--scale", "words"]);
    assert_eq!(silent.code, 2, "{}", silent.out);
    assert!(silent.err.contains("2025") && silent.err.contains("reason"), "{}", silent.err);
    plan("2026", &["--scale", "words", "--scale-reason", "a new county"]).done();
    plan("2027", &[]).done();
    let scale = |survey| {
        let stand = desk.run(&["scale", "lake.gpkg", "--survey", survey, "--json"]).json();
        (stand["differs"].clone(), stand["reason"].as_str().unwrap().to_owned())
    };
    assert_eq!(scale("2026"), (true.into(), "a new county".to_owned()));
    assert_eq!(scale("2027"), (false.into(), String::new()));
}

#[test]
fn rows_of_a_site_nobody_planned_are_kept_and_the_site_is_named() {
    let desk = Desk::with_lake();
    let lay = ["plan", "lake.gpkg", "--layout", "balanced", "--sites", "3", "--survey", "2026"];
    desk.run(&lay).done();
    desk.write("r.csv", "site,depth_ft,Chara\n1,4,T\n2,5,0\nI7,6,S\n");
    let more = ["--survey", "2026", "--date", "2026-07-14", "--new-taxa"];
    let words = [&["record", "lake.gpkg", "r.csv"][..], &more].concat();
    let looked = desk.run(&[&words[..], &["--preview", "--json"]].concat()).done().json();
    assert_eq!((&looked["visits"], &looked["new_sites"]), (&3.into(), &1.into()));
    assert_eq!(looked["unplanned"], serde_json::json!(["I7"]));
    let kept = desk.run(&words).done();
    assert!(kept.err.contains("I7") && kept.err.contains("misread"), "{}", kept.err);
    let there = desk.run(&["visit", "lake.gpkg", "--survey", "2026", "--site", "I7", "--json"]);
    let visit = &there.done().json()["visit"];
    assert_eq!(visit["throws"][0]["observations"][0]["rating"], "S", "{visit}");
    // a survey without a plan has no sites to compare with
    let open = [&words[..3], &["--survey", "open", "--scale", "handful", "--json"], &more[2..]];
    assert_eq!(desk.run(&open.concat()).done().json()["unplanned"], serde_json::json!([]));
}

#[test]
fn a_survey_on_the_wrong_scale_is_put_on_the_right_one_with_its_ratings_as_written() {
    let desk = Desk::with_lake();
    desk.write("a.csv", "site,depth_ft,Chara\n1,4,1\n2,5,3\n3,6,2\n");
    desk.run(&[
        "record",
        "lake.gpkg",
        "a.csv",
        "--survey",
        "2025",
        "--date",
        "2025-07-10",
        "--new-taxa",
        "--scale",
        "dominance",
    ])
    .done();
    desk.run(&[
        "scale",
        "lake.gpkg",
        "--survey",
        "2025",
        "--to",
        "fullness",
        "--reason",
        "the sheet says fullness",
    ])
    .done();
    let out = ["export", "lake.gpkg", "--as", "csv", "--survey", "2025", "-o", "out.csv"];
    desk.run(&out).done();
    let text = std::fs::read_to_string(desk.path("out.csv")).unwrap();
    let mut lines = text.lines().map(|line| line.split(',').map(str::to_owned).collect::<Vec<_>>());
    let head = lines.next().unwrap();
    let place = |name: &str| head.iter().position(|one| one == name).unwrap();
    let (site, rating) = (place("site"), place("Chara"));
    let read: Vec<_> = lines.map(|row| (row[site].clone(), row[rating].clone())).collect();
    let want = [("1", "1"), ("2", "3"), ("3", "2")];
    assert_eq!(read, want.map(|(site, rating)| (site.to_owned(), rating.to_owned())));
    desk.run(&["verify", "lake.gpkg"]).done();
}
