//! A sealed survey changes only by amendment, and any other change is found.
#![allow(clippy::unwrap_used, reason = "helpers of tests may panic as tests do")]

mod common;

use common::*;
use lakebook::{BookError, LakeBook, sha256_hex};
use std::path::Path;
use survey::{SiteResult, VoucherId};

fn sealed_book(path: &Path) -> (LakeBook, survey::SurveyId, String) {
    let mut book = full_book(path);
    let survey = survey_header(26).id;
    let sha256 = book.seal(survey, "A. Heron").unwrap();
    (book, survey, sha256)
}

#[test]
fn the_seal_is_the_checksum_of_the_canonical_text() {
    let (_folder, path) = place();
    let (book, survey, sha256) = sealed_book(&path);
    let text = book.canonical_record(survey).unwrap();
    assert_eq!(sha256_hex(text.as_bytes()), sha256);
    assert!(!text.contains(": ") && text.starts_with("{\"beds\":["), "{}", &text[..40]);
    let seal = book.record(survey).unwrap().survey.seal.unwrap();
    assert_eq!((seal.by.as_str(), seal.sha256), ("A. Heron", sha256));
    let verification = book.verify().unwrap();
    assert_eq!((verification.sealed, verification.ok), (1, true), "{:?}", verification.broken);
}

type Change<'a> = Box<dyn Fn(&mut lakebook::Writer<'_>) -> Result<(), BookError> + 'a>;

#[test]
fn edits_of_a_sealed_survey_are_refused_and_point_to_amend() {
    let (_folder, path) = place();
    let (mut book, survey, sha256) = sealed_book(&path);
    let header = survey_header(26);
    let site_1 = site(&header, 1);
    let mut moved = visit(&header, &site_1, &taxa());
    moved.note = "changed".into();
    let mut renamed = taxa()[0].clone();
    renamed.scientific_name = "Plantus novus".into();
    let mut scale = survey::scale::RatingScale::by_key("fullness").unwrap().clone();
    scale.name = "another".into();
    let mut titled = header.clone();
    titled.note = "changed".into();
    let table: [(&str, Change<'_>); 9] = [
        ("visit", Box::new(|writer| writer.put_visit(&moved))),
        ("new site", Box::new(|writer| writer.put_site(&site(&survey_header(26), 90)))),
        ("header", Box::new(|writer| writer.put_survey(&titled))),
        ("deleted visit", Box::new(|writer| writer.delete_visit(moved.id))),
        ("deleted survey", Box::new(|writer| writer.delete_survey(survey))),
        ("deleted voucher", Box::new(|writer| writer.delete_voucher(VoucherId(id(5_300))))),
        ("deleted photo", Box::new(|writer| writer.delete_photo(survey::PhotoId(id(5_200))))),
        ("renamed taxon", Box::new(|writer| writer.put_taxon(&renamed))),
        ("scale", Box::new(|writer| writer.put_scale(&scale))),
    ];
    for (name, change) in table {
        let error = book.transact(name, |writer| change(writer)).unwrap_err();
        assert!(matches!(error, BookError::Sealed { .. }), "{name}: {error}");
        assert!(error.to_string().contains("amend"), "{name}: {error}");
    }
    let again = book.seal(survey, "B. Loon").unwrap_err().to_string();
    assert!(again.contains("sealed already"), "{again}");
    let undone = book.undo_last().unwrap_err().to_string();
    assert!(undone.contains("cannot be taken back"), "{undone}");
    // what is the lake's and not the record's stays free
    let mut recoded = taxa()[0].clone();
    recoded.code = code("NEW");
    recoded.listed_noxious = true;
    book.transact("new code", |writer| writer.put_taxon(&recoded)).unwrap();
    book.transact("a zone", |writer| writer.put_zone(&zone(9))).unwrap();
    book.transact("next year", |writer| put_survey(writer, &survey_header(27), &taxa()[1..], 5))
        .unwrap();
    assert!(book.verify().unwrap().ok);
    assert_eq!(book.record(survey).unwrap().survey.seal.unwrap().sha256, sha256);
}

#[test]
fn an_amendment_is_signed_and_shown() {
    let (_folder, path) = place();
    let (mut book, survey, before) = sealed_book(&path);
    let header = survey_header(26);
    let mut corrected = visit(&header, &site(&header, 1), &taxa());
    corrected.depth = Some(units::Metres::from_feet(6.0));
    let bare = book.amend(survey, " ", "no reason", |_| Ok(())).unwrap_err().to_string();
    assert!(bare.contains("name of the person"), "{bare}");
    let idle = book.amend(survey, "B. Loon", "nothing", |_| Ok(())).unwrap_err().to_string();
    assert!(idle.contains("changes nothing"), "{idle}");
    book.amend(survey, "B. Loon", "sheet misread", |writer| writer.put_visit(&corrected)).unwrap();
    let amendments = book.amendments(survey).unwrap();
    assert_eq!(amendments.len(), 1);
    let one = &amendments[0];
    assert_eq!((one.by.as_str(), one.why.as_str()), ("B. Loon", "sheet misread"));
    let record = book.record(survey).unwrap();
    let seal = record.survey.seal.unwrap();
    assert_eq!(one.sha256_before, before);
    assert_eq!(one.sha256_after, seal.sha256);
    assert_eq!(seal.by, "A. Heron", "who sealed it stays");
    assert!(record.visits.contains(&corrected));
    assert!(book.verify().unwrap().ok);
    book.rebuild().unwrap();
    assert!(book.verify().unwrap().ok);
    assert_eq!(book.amendments(survey).unwrap(), amendments);
}

#[test]
fn an_unknown_plant_named_later_amends_every_sealed_survey_that_holds_it() {
    let (_folder, path) = place();
    let (mut book, first, _) = sealed_book(&path);
    let second = survey_header(27);
    book.transact("next year", |writer| put_survey(writer, &second, &taxa(), 9)).unwrap();
    book.seal(second.id, "A. Heron").unwrap();
    let mut named = taxa()[0].clone();
    named.scientific_name = "Plantus verus".into();
    book.amend(first, "Dr. Sedge", "named from the voucher", |writer| writer.put_taxon(&named))
        .unwrap();
    for survey in [first, second.id] {
        assert_eq!(book.amendments(survey).unwrap()[0].why, "named from the voucher");
    }
    assert!(book.verify().unwrap().ok);
    let foreign = book
        .amend(first, "B. Loon", "slip", |writer| writer.put_site(&site(&second, 60)))
        .unwrap_err();
    assert!(matches!(foreign, BookError::Sealed { .. }), "{foreign}");
    let open = survey_header(28);
    book.transact("open", |writer| put_survey(writer, &open, &taxa(), 2)).unwrap();
    let error = book.amend(open.id, "B. Loon", "slip", |_| Ok(())).unwrap_err();
    assert!(matches!(error, BookError::NotSealed { .. }), "{error}");
}

/// One cell of every kind changed by another hand; what verify must say.
#[test]
fn one_tampered_cell_is_caught() {
    let table = [
        ("UPDATE visit SET depth_m = depth_m + 1e-9 WHERE fid = 3", "seal"),
        ("UPDATE observation SET rating = 1 WHERE fid = 2", "seal"),
        ("UPDATE site SET code = 'X' WHERE fid = 3", "seal"),
        ("DELETE FROM observation WHERE fid = 5", "seal"),
        ("UPDATE rating_step SET value = 2 WHERE place = 1", "seal"),
        ("UPDATE taxon SET scientific_name = 'Other' WHERE fid = 1", "seal"),
        ("UPDATE taxon SET growth_form = 'emergent' WHERE fid = 1", "record"),
        ("UPDATE survey SET seal_sha256 = seal_by", "record"),
        ("UPDATE survey SET seal_by = NULL, seal_at = NULL, seal_sha256 = NULL", "record"),
        ("UPDATE zone SET name = 'mine' WHERE fid = 1", "record"),
        (
            "DROP TRIGGER change_log_is_never_changed; UPDATE change_log SET note = 'x' WHERE fid = 4",
            "change log",
        ),
        (
            "DROP TRIGGER change_log_is_never_changed; \
             UPDATE change_log SET body = replace(body, 'West', 'East') WHERE entity = 'zone'",
            "change log",
        ),
        (
            "DROP TRIGGER change_log_is_never_cut; DELETE FROM change_log WHERE fid = 20",
            "change log",
        ),
    ];
    for (sql, want) in table {
        let (_folder, path) = place();
        let (book, ..) = sealed_book(&path);
        drop(book);
        let raw = gis(&path);
        raw.execute_batch(sql).unwrap();
        drop(raw);
        let book = LakeBook::open(&path, TestPorts::new("desk")).unwrap();
        let verification = book.verify().unwrap();
        assert!(!verification.ok, "{sql}");
        assert!(
            verification.broken.iter().any(|one| one.what == want),
            "{sql}: {:?}",
            verification.broken
        );
    }
}

#[test]
fn one_tampered_byte_of_the_file_is_caught() {
    let (_folder, path) = place();
    let (book, ..) = sealed_book(&path);
    let backup = path.with_extension("copy.gpkg");
    book.backup(&backup).unwrap();
    drop(book);
    let mut bytes = std::fs::read(&backup).unwrap();
    let needle = b"row 3\tof the";
    let places: Vec<usize> = (0..bytes.len() - needle.len())
        .filter(|at| &bytes[*at..*at + needle.len()] == needle)
        .collect();
    assert!(!places.is_empty(), "the note lies in the table of visits");
    // one byte in each place: all but one of them are left over in the unused part of a page
    for at in &places {
        bytes[at + 4] = b'4';
    }
    std::fs::write(&backup, bytes).unwrap();
    let verification = LakeBook::open(&backup, TestPorts::new("desk")).unwrap().verify().unwrap();
    assert!(!verification.ok, "changed at {places:?}");
    let seal = verification.broken.iter().find(|one| one.what == "seal").unwrap();
    assert_eq!(seal.place, "survey `2026-summer`");
    assert_ne!(seal.expected, seal.found);
}

#[test]
fn a_sealed_visit_that_was_not_sampled_stays_so() {
    let (_folder, path) = place();
    let (book, survey, _) = sealed_book(&path);
    let record = book.record(survey).unwrap();
    let not_sampled = record
        .visits
        .iter()
        .filter(|visit| matches!(visit.result, SiteResult::NotSampled(_)))
        .count();
    assert_eq!(not_sampled, 4, "sites 8, 17, 26 and 35 of 40");
}
