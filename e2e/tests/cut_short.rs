//! The program killed in the middle, and a disk that is full: the book opens, it verifies, and
//! what was being done is there whole or not at all.

#![cfg(unix)]
#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

mod common;

use common::{Desk, program};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// A table of so many sites with five plants each.
fn table(sites: usize) -> String {
    let plants =
        ["Chara", "Elodea canadensis", "Najas flexilis", "Vallisneria americana", "Lemna minor"];
    let mut text = String::from("site,date,depth_ft,species,rating,latitude,longitude\n");
    for site in 1..=sites {
        let (row, column) = (site / 60, site % 60);
        let (y, x) = (45.001 + row as f64 * 0.000_2, -89.998 + column as f64 * 0.000_2);
        for plant in plants {
            text.push_str(&format!("{site},2026-07-14,4,{plant},1,{y:.5},{x:.5}\n"));
        }
    }
    text
}

/// Kills the program after a part of the time it takes when it is left alone.
fn killed(desk: &Desk, arguments: &[&str], after: Duration) {
    let mut child = Command::new(program())
        .args(arguments)
        .current_dir(desk.folder.path())
        .env("XDG_CONFIG_HOME", desk.folder.path())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(after);
    // on Unix this is signal 9; a child that has ended already is no fault
    let _ = child.kill();
    child.wait().unwrap();
}

fn whole(desk: &Desk, book: &str) {
    let verify = desk.run(&["verify", book, "--json"]).done().json();
    assert_eq!(verify["ok"], true, "{verify}");
}

fn surveys(desk: &Desk, book: &str) -> Vec<(String, u64, bool)> {
    let list = desk.run(&["surveys", book, "--json"]).done().json();
    list.as_array()
        .unwrap()
        .iter()
        .map(|one| {
            let name = one["name"].as_str().unwrap().to_owned();
            (name, one["visited"].as_u64().unwrap(), !one["seal"].is_null())
        })
        .collect()
}

/// A copy of a book to work on, so that each kill begins from the same state.
fn fresh(desk: &Desk, from: &str, to: &str) {
    for ending in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(desk.path(&format!("{to}{ending}")));
    }
    std::fs::copy(desk.path(from), desk.path(to)).unwrap();
}

fn timed(desk: &Desk, arguments: &[&str]) -> Duration {
    let start = Instant::now();
    desk.run(arguments).done();
    start.elapsed()
}

const PARTS: [f64; 5] = [0.15, 0.4, 0.6, 0.8, 0.95];

#[test]
fn kill_9_during_an_import_leaves_all_of_it_or_nothing() {
    let desk = Desk::with_lake();
    desk.write("sites.csv", table(900));
    fresh(&desk, "lake.gpkg", "try.gpkg");
    let record = ["record", "try.gpkg", "sites.csv", "--survey", "2026", "--scale", "fullness"];
    let alone = timed(&desk, &record);
    for part in PARTS {
        fresh(&desk, "lake.gpkg", "try.gpkg");
        killed(&desk, &record, alone.mul_f64(part));
        whole(&desk, "try.gpkg");
        let there = surveys(&desk, "try.gpkg");
        assert!(
            there.is_empty() || there == [("2026".to_owned(), 900, false)],
            "after {part} of the time: {there:?}"
        );
        if there.is_empty() {
            desk.run(&record).done();
        }
    }
}

#[test]
fn kill_9_during_a_seal_leaves_the_survey_open_or_sealed() {
    let desk = Desk::with_lake();
    desk.write("sites.csv", table(300));
    desk.run(&["record", "lake.gpkg", "sites.csv", "--survey", "2026", "--scale", "fullness"])
        .done();
    fresh(&desk, "lake.gpkg", "try.gpkg");
    let seal =
        ["seal", "try.gpkg", "--survey", "2026", "--by", "Ann", "--despite", "an invented record"];
    let alone = timed(&desk, &seal);
    for part in PARTS {
        fresh(&desk, "lake.gpkg", "try.gpkg");
        killed(&desk, &seal, alone.mul_f64(part));
        whole(&desk, "try.gpkg");
        let there = surveys(&desk, "try.gpkg");
        assert_eq!((there.len(), there[0].1), (1, 300));
    }
}

#[test]
fn kill_9_during_a_merge_leaves_the_book_as_it_was_or_merged() {
    let desk = Desk::with_lake();
    desk.run(&["backup", "lake.gpkg", "-o", "other.gpkg"]).done();
    desk.write("sites.csv", table(400));
    desk.run(&[
        "record",
        "lake.gpkg",
        "sites.csv",
        "--survey",
        "2026-early",
        "--scale",
        "fullness",
    ])
    .done();
    desk.run(&[
        "record",
        "other.gpkg",
        "sites.csv",
        "--survey",
        "2026-late",
        "--scale",
        "fullness",
    ])
    .done();
    fresh(&desk, "lake.gpkg", "try.gpkg");
    let merge = ["merge", "try.gpkg", "other.gpkg"];
    let alone = timed(&desk, &merge);
    let merged = surveys(&desk, "try.gpkg");
    assert_eq!(merged.len(), 2, "{merged:?}");
    for part in PARTS {
        fresh(&desk, "lake.gpkg", "try.gpkg");
        killed(&desk, &merge, alone.mul_f64(part));
        whole(&desk, "try.gpkg");
        let there = surveys(&desk, "try.gpkg");
        assert!(there.len() == 1 || there == merged, "after {part} of the time: {there:?}");
        desk.run(&merge).done();
        assert_eq!(surveys(&desk, "try.gpkg"), merged, "merged again it is whole");
        whole(&desk, "other.gpkg");
    }
}

/// A limit on the size of files stands for a disk that is full: the write fails in the same place.
#[test]
fn a_full_disk_during_an_import_is_told_and_changes_nothing() {
    let desk = Desk::with_lake();
    desk.write("sites.csv", table(900));
    let before = desk.state();
    let size = std::fs::metadata(desk.path("lake.gpkg")).unwrap().len();
    for extra in [64 * 1024, 512 * 1024] {
        let blocks = (size + extra) / 512;
        let line = format!(
            "trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" record lake.gpkg sites.csv --survey 2026 --scale fullness"
        );
        let run = Command::new("sh")
            .args(["-c", &line])
            .arg(program())
            .current_dir(desk.folder.path())
            .env("XDG_CONFIG_HOME", desk.folder.path())
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&run.stderr);
        assert_ne!(run.status.code(), Some(0), "{said}");
        assert!(run.status.code().is_some(), "the program ends by itself: {said}");
        assert!(said.contains("lake.gpkg") || said.contains("room"), "{said}");
        assert_eq!(desk.state(), before, "after a limit of {blocks} blocks");
    }
    desk.run(&["record", "lake.gpkg", "sites.csv", "--survey", "2026", "--scale", "fullness"])
        .done();
    whole(&desk, "lake.gpkg");
}
