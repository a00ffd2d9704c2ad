//! A program killed in the middle of a write leaves the book as it was before.
#![allow(clippy::unwrap_used, reason = "helpers of tests may panic as tests do")]

mod common;

use common::*;
use lakebook::{BookError, LakeBook};
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const BOOK: &str = "QUILLWORT_TEST_BOOK";

/// Run as a program of its own by the test below; writes until it is killed.
#[test]
#[ignore = "the other half of the test below, which starts and kills it"]
fn writes_until_killed() {
    let Some(path) = std::env::var_os(BOOK).map(PathBuf::from) else { return };
    let mut book = LakeBook::open(&path, TestPorts::new("desk")).unwrap();
    let header = survey_header(30);
    book.transact("import", |writer| {
        put_survey(writer, &header, &taxa(), 3_000)?;
        std::fs::write(path.with_extension("ready"), b"").map_err(BookError::other)?;
        loop {
            // more and more of the same, so that pages reach the disk before the commit
            for number in 0..3_000 {
                let mut site = site(&header, number);
                site.landmark.push_str(&writer.new_id().to_string());
                writer.put_site(&site)?;
            }
        }
    })
    .unwrap_or_else(|error: BookError| panic!("{error}"));
}

#[test]
fn kill_9_during_an_import_leaves_a_book_that_opens_and_verifies() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    book.seal(survey_header(26).id, "A. Heron").unwrap();
    let (log, record) = (book.change_log(5).unwrap(), book.record(survey_header(26).id).unwrap());
    drop(book);
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--ignored", "--exact", "writes_until_killed"])
        .env(BOOK, &path)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let start = Instant::now();
    while !path.with_extension("ready").exists() {
        assert!(start.elapsed() < Duration::from_mins(2), "the import never got going");
        assert!(child.try_wait().unwrap().is_none(), "the import ended by itself");
        std::thread::sleep(Duration::from_millis(20));
    }
    std::thread::sleep(Duration::from_millis(300));
    child.kill().unwrap();
    child.wait().unwrap();
    let mut book = LakeBook::open(&path, TestPorts::new("desk")).unwrap();
    let verification = book.verify().unwrap();
    assert!(verification.ok, "{:?}", verification.broken);
    assert_eq!(book.change_log(5).unwrap(), log);
    assert_eq!(book.record(survey_header(26).id).unwrap(), record);
    book.transact("again", |writer| put_survey(writer, &survey_header(30), &taxa(), 5)).unwrap();
    assert!(book.verify().unwrap().ok);
}
