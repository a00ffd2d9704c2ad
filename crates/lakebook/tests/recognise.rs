//! What is no lake book is said to be so, one sentence a kind, and is not touched.
#![allow(clippy::unwrap_used, reason = "helpers of tests may panic as tests do")]

mod common;

use common::{TestPorts, full_book, lake, place, taxa};
use lakebook::{BookError, LakeBook};
use std::path::Path;

fn refusal(path: &Path) -> String {
    let before = std::fs::read(path).ok();
    let error = LakeBook::open(path, TestPorts::new("desk")).unwrap_err().to_string();
    let reading = LakeBook::open_read_only(path, TestPorts::new("desk")).unwrap_err().to_string();
    assert_eq!(error, reading, "both ways of opening say the same");
    assert_eq!(std::fs::read(path).ok(), before, "{} was touched", path.display());
    assert!(error.contains(&path.display().to_string()), "the path is named: {error}");
    assert!(error.contains("\nhint: "), "what to do is said: {error}");
    error
}

#[test]
fn each_kind_of_wrong_file_has_its_own_sentence() {
    let (folder, book) = place();
    full_book(&book);
    let whole = std::fs::read(&book).unwrap();
    let file = |name: &str, bytes: &[u8]| {
        let path = folder.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        path
    };
    let sql = |name: &str, statements: &str| {
        let path = folder.path().join(name);
        rusqlite::Connection::open(&path).unwrap().execute_batch(statements).unwrap();
        path
    };
    let table = [
        (folder.path().join("no-such.gpkg"), "there is no lake book"),
        (folder.path().to_owned(), "is a folder"),
        (file("empty.gpkg", b""), "is empty"),
        (file("notes.gpkg", b"site,depth\n1,4.5\n"), "does not begin as a GeoPackage"),
        (file("zip.gpkg", b"PK\x03\x04rest of a spreadsheet"), "does not begin as a GeoPackage"),
        (file("header.gpkg", &whole[..60]), "is cut off: it has 60 bytes"),
        (file("half.gpkg", &whole[..whole.len() / 2]), "is cut off"),
        (sql("plain.gpkg", "CREATE TABLE lake (id)"), "a database but not a GeoPackage"),
        (
            sql("other.gpkg", "PRAGMA application_id = 1196444487; CREATE TABLE roads (fid)"),
            "is a GeoPackage but no lake book",
        ),
    ];
    for (path, want) in table {
        let error = refusal(&path);
        assert!(error.contains(want), "{}: {error}", path.display());
    }
}

#[test]
fn a_damaged_book_is_called_damaged() {
    let (_folder, path) = place();
    full_book(&path);
    let mut bytes = std::fs::read(&path).unwrap();
    // the second page and all behind it
    for byte in &mut bytes[4096..] {
        *byte ^= 0x5a;
    }
    std::fs::write(&path, bytes).unwrap();
    let error = match LakeBook::open(&path, TestPorts::new("desk")) {
        Err(error) => error,
        Ok(book) => book.verify().unwrap_err(),
    };
    assert!(matches!(error, BookError::Damaged { .. }), "{error}");
}

#[test]
fn a_new_book_never_overwrites_a_file() {
    let (_folder, path) = place();
    std::fs::write(&path, b"precious").unwrap();
    let error = LakeBook::create(&path, &lake(), &taxa(), TestPorts::new("desk")).unwrap_err();
    assert!(matches!(error, BookError::Exists { .. }), "{error}");
    assert_eq!(std::fs::read(&path).unwrap(), b"precious");
}

#[test]
fn a_book_that_cannot_be_made_leaves_no_file() {
    let (folder, _) = place();
    let path = folder.path().join("no-such-folder").join("tamarin.gpkg");
    let error = LakeBook::create(&path, &lake(), &[], TestPorts::new("desk")).unwrap_err();
    assert!(matches!(error, BookError::File { .. }), "{error}");
    let mut twice = taxa();
    twice[1].code = twice[0].code.clone();
    let path = folder.path().join("tamarin.gpkg");
    let error = LakeBook::create(&path, &lake(), &twice, TestPorts::new("desk")).unwrap_err();
    assert!(error.to_string().contains("two taxa have the code `TA0`"), "{error}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn a_write_protected_book_is_read_but_not_written() {
    let (_folder, path) = place();
    full_book(&path);
    let mut rights = std::fs::metadata(&path).unwrap().permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(&path, rights).unwrap();
    let error = LakeBook::open(&path, TestPorts::new("desk")).unwrap_err();
    assert!(matches!(error, BookError::ReadOnly { .. }), "{error}");
    let mut book = LakeBook::open_read_only(&path, TestPorts::new("desk")).unwrap();
    assert_eq!(book.surveys().unwrap().len(), 1);
    let error = book.transact("a zone", |writer| writer.put_zone(&common::zone(9))).unwrap_err();
    assert!(matches!(error, BookError::ReadOnly { .. }), "{error}");
}

#[test]
fn reading_leaves_nothing_beside_the_book() {
    let (folder, path) = place();
    drop(full_book(&path));
    let before = std::fs::read(&path).unwrap();
    let mut book = LakeBook::open_read_only(&path, TestPorts::new("desk")).unwrap();
    assert_eq!(book.record(common::survey_header(26).id).unwrap().visits.len(), 40);
    assert!(book.verify().unwrap().ok);
    let error = book.rebuild().unwrap_err();
    assert!(matches!(error, BookError::ReadOnly { .. }), "{error}");
    let error = book.cache_put("key", b"value").unwrap_err();
    assert!(matches!(error, BookError::ReadOnly { .. }), "{error}");
    drop(book);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn a_second_writing_program_gets_a_clear_sentence() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let other = rusqlite::Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let error = book.transact("a zone", |writer| writer.put_zone(&common::zone(9))).unwrap_err();
    assert!(error.to_string().starts_with("another program is writing to"), "{error}");
    other.execute_batch("ROLLBACK").unwrap();
    book.transact("a zone", |writer| writer.put_zone(&common::zone(9))).unwrap();
}

#[test]
fn an_unknown_survey_lists_the_known_ones() {
    let (_folder, path) = place();
    let book = full_book(&path);
    assert_eq!(book.survey_by_name(" 2026-SUMMER ").unwrap().name, "2026-summer");
    let error = book.survey_by_name("2025").unwrap_err().to_string();
    assert!(error.contains("`2025`") && error.contains("`2026-summer`"), "{error}");
}
