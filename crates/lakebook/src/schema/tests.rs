use super::*;
use crate::{BookError, LakeBook, Ports};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use survey::short_code::CodeStyle;
use units::{Metres, UnitSystem};

#[derive(Default)]
struct Counted(AtomicU64);

impl Ports for Counted {
    fn now_unix_millis(&self) -> u64 {
        1_784_041_445_000 + self.0.fetch_add(1, Ordering::Relaxed)
    }
    fn random(&self) -> u128 {
        u128::from(self.0.fetch_add(1, Ordering::Relaxed))
    }
    fn device(&self) -> String {
        "desk".into()
    }
    fn actor(&self) -> String {
        "Ann".into()
    }
}

const NEWEST: u32 = MIGRATIONS.len() as u32;

/// The migrations, and one more as the next form of the book could have it.
fn next() -> Vec<Migration> {
    let one = Migration {
        version: NEWEST + 1,
        sql: "ALTER TABLE voucher ADD COLUMN grown_at TEXT;",
        layers: &[],
        tables: &[],
        watched: &[],
    };
    MIGRATIONS.iter().copied().chain([one]).collect()
}

fn book() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tamarin.gpkg");
    let lake = survey::Lake {
        name: "Lake Tamarin".into(),
        water_body_number: String::new(),
        county: String::new(),
        region: "WI".into(),
        units: UnitSystem::Us,
        working_epsg: 32616,
        littoral: (Metres::from_feet(1.0), Metres::from_feet(8.0)),
        depth_datum: "full pool".into(),
        code_style: CodeStyle::TwoPlusTwo,
    };
    LakeBook::create(&path, &lake, &[], Arc::new(Counted::default())).unwrap();
    (folder, path)
}

fn ports() -> Arc<Counted> {
    Arc::new(Counted::default())
}

#[test]
fn migrations_are_numbered_without_a_gap_and_say_what_they_do() {
    for (migration, number) in MIGRATIONS.iter().zip(1..) {
        assert_eq!(migration.version, number);
        assert!(migration.sql.starts_with(&format!("-- {number:04}: ")), "{number}");
    }
}

#[test]
fn before_a_migration_the_book_is_copied_beside_itself() {
    let (folder, path) = book();
    let book = LakeBook::open_with(&path, ports(), &next()).unwrap();
    assert_eq!(version(&book.connection).unwrap().0, NEWEST + 1);
    book.connection.execute_batch("SELECT grown_at FROM voucher").unwrap();
    drop(book);
    let copy = folder.path().join(format!("tamarin.form-{NEWEST}.gpkg"));
    let old = LakeBook::open(&copy, ports()).unwrap();
    assert_eq!(version(&old.connection).unwrap().0, NEWEST);
    assert!(old.verify().unwrap().ok);
    // opened again there is nothing to migrate and nothing to copy
    drop(LakeBook::open_with(&path, ports(), &next()).unwrap());
    let mut names: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| !name.contains(".gpkg-"))
        .collect();
    names.sort();
    assert_eq!(names, [format!("tamarin.form-{NEWEST}.gpkg"), "tamarin.gpkg".to_owned()]);
}

#[test]
fn an_older_program_refuses_a_newer_book_and_names_the_version_it_needs() {
    let (_folder, path) = book();
    drop(LakeBook::open_with(&path, ports(), &next()).unwrap());
    let raw = Connection::open(&path).unwrap();
    raw.execute("UPDATE schema_version SET program = '7.3.0' WHERE version = ?1", [NEWEST + 1])
        .unwrap();
    raw.close().unwrap();
    let before = std::fs::read(&path).unwrap();
    let error = LakeBook::open(&path, ports()).unwrap_err();
    assert!(
        matches!(error, BookError::Newer { found, known: NEWEST, .. } if found == NEWEST + 1),
        "{error}"
    );
    assert!(error.to_string().contains("use Quillwort 7.3.0 or newer"), "{error}");
    assert_eq!(std::fs::read(&path).unwrap(), before, "the newer book is untouched");
}

#[test]
fn a_failed_migration_leaves_the_old_book() {
    let (_folder, path) = book();
    let mut broken = next();
    if let Some(last) = broken.last_mut() {
        last.sql = "ALTER TABLE voucher ADD COLUMN grown_at TEXT; SELECT no_such FROM voucher;";
    }
    LakeBook::open_with(&path, ports(), &broken).unwrap_err();
    let book = LakeBook::open(&path, ports()).unwrap();
    assert_eq!(version(&book.connection).unwrap().0, NEWEST);
    assert!(book.connection.execute_batch("SELECT grown_at FROM voucher").is_err());
    assert!(book.verify().unwrap().ok);
}

#[test]
fn a_book_of_an_older_form_opens_for_reading_only_after_migration() {
    let (_folder, path) = book();
    let raw = Connection::open(&path).unwrap();
    raw.execute_batch(
        "DELETE FROM schema_version WHERE version > 1; UPDATE schema_version SET version = 0",
    )
    .unwrap();
    drop(raw);
    let error = LakeBook::open_read_only(&path, ports()).unwrap_err();
    assert!(matches!(error, BookError::Older { found: 0, known: NEWEST, .. }), "{error}");
}
