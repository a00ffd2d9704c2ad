//! Two copies of a book edited apart come together: nothing is lost, the order does not matter,
//! and what people contradicted each other in is laid before a person.
#![allow(clippy::unwrap_used, clippy::panic, reason = "helpers of tests may panic as tests do")]

mod common;

use common::*;
use lakebook::{BookError, Keep, KeptColumns, LakeBook, Operation};
use proptest::prelude::*;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::time::Instant;
use survey::{ShorelineFind, ShorelineFindId, Survey, SurveyId, TaxonId};
use units::Metres;

/// One edit of a person.
#[derive(Debug, Clone)]
enum Edit {
    Depth(u32, u32),
    Remark(u32),
    Unvisit(u32),
    Visit(u32),
    Taxon(u32),
    DropTaxon,
    Find(u32),
    NewSurvey(u32),
    Header(u32),
    Seal,
    Amend(u32),
    Columns(u32),
}

fn edits() -> impl Strategy<Value = Vec<Edit>> {
    let one = prop_oneof![
        4 => (0..6u32, 1..9u32).prop_map(|(site, depth)| Edit::Depth(site, depth)),
        2 => (0..6u32).prop_map(Edit::Remark),
        2 => (0..6u32).prop_map(Edit::Unvisit),
        2 => (0..6u32).prop_map(Edit::Visit),
        2 => (0..3u32).prop_map(Edit::Taxon),
        1 => Just(Edit::DropTaxon),
        2 => (0..4u32).prop_map(Edit::Find),
        2 => (0..2u32).prop_map(Edit::NewSurvey),
        1 => (0..3u32).prop_map(Edit::Header),
        1 => Just(Edit::Seal),
        1 => (0..6u32).prop_map(Edit::Amend),
        1 => (0..3u32).prop_map(Edit::Columns),
    ];
    proptest::collection::vec(one, 0..8)
}

/// Does an edit; one the rules of the book refuse is not done.
fn apply(book: &mut LakeBook, edit: &Edit) {
    let header = survey_header(26);
    let id = book.new_id();
    let taxa = taxa();
    let the_visit = |site: u32| visit(&header, &common::site(&header, site), &taxa);
    let done = match edit {
        Edit::Depth(site, depth) => book.transact("depth", |writer| {
            let mut visit = the_visit(*site);
            visit.depth = Some(Metres::new(f64::from(*depth)));
            writer.put_visit(&visit)
        }),
        Edit::Remark(site) => book.transact("remark", |writer| {
            let mut visit = the_visit(*site);
            visit.note = format!("seen by {id}");
            writer.put_visit(&visit)
        }),
        Edit::Unvisit(site) => {
            book.transact("not visited", |writer| writer.delete_visit(the_visit(*site).id))
        }
        Edit::Visit(site) => {
            book.transact("visited", |writer| {
                let mut visit = the_visit(*site);
                // a second person writes up a site nobody had written up
                visit.id = survey::VisitId(id);
                writer.put_visit(&visit)
            })
        }
        Edit::Taxon(number) => book.transact("plant", |writer| {
            let mut taxon = taxon(50 + u128::from(*number));
            taxon.id = TaxonId(id);
            writer.put_taxon(&taxon)
        }),
        Edit::DropTaxon => book.transact("plant gone", |writer| writer.delete_taxon(taxon(90).id)),
        Edit::Find(number) => book.transact("find", |writer| {
            writer.put_shoreline_find(&ShorelineFind {
                id: ShorelineFindId(id),
                survey: header.id,
                taxon: if *number == 0 { taxon(90).id } else { taxa[*number as usize % 3].id },
                position: None,
                zone: None,
                note: String::new(),
            })
        }),
        Edit::NewSurvey(number) => book.transact("survey", |writer| {
            let name = format!("extra {number}");
            writer.put_survey(&Survey::new(SurveyId(id), &name, "fullness").unwrap())
        }),
        Edit::Header(number) => book.transact("header", |writer| {
            let mut header = header.clone();
            header.note = format!("note {number}");
            writer.put_survey(&header)
        }),
        Edit::Seal => book.seal(header.id, "Ann").map(drop),
        Edit::Amend(site) => book.amend(header.id, "Ann", "misread", |writer| {
            let mut visit = the_visit(*site);
            visit.depth = Some(Metres::new(4.25));
            writer.put_visit(&visit)
        }),
        Edit::Columns(number) => book.transact("columns", |writer| {
            let headers = vec!["site".to_owned(), "rake".to_owned()];
            writer.put_column_map(&KeptColumns {
                headers,
                plants: Vec::new(),
                header_row: number + 1,
                map: String::new(),
                source_file: format!("{number}.csv"),
                survey: header.name.clone(),
                kept_at: String::new(),
            })
        }),
    };
    match done {
        Ok(())
        | Err(
            BookError::Sealed { .. }
            | BookError::Refused { .. }
            | BookError::NotSealed { .. }
            | BookError::Unknown { .. },
        ) => {}
        Err(error) => panic!("{edit:?}: {error}"),
    }
}

/// Everything the tables say, without the numbers a table gives its rows.
fn tables(path: &Path) -> Vec<String> {
    let connection = gis(path);
    let names: Vec<String> = connection
        .prepare("SELECT name FROM sqlite_master WHERE type = 'table' AND name IN (\
                  'lake','lake_outline','zone','sub_area','landmark','taxon','rating_scale','survey',\
                  'amendment','site','visit','throw','observation','surface_bed','shoreline_find',\
                  'photo','voucher','treatment','conflict','settled_find','column_map') ORDER BY name")
        .unwrap()
        .query_map([], |row| row.get(0))
        .unwrap()
        .map(Result::unwrap)
        .collect();
    let mut lines = Vec::new();
    for name in names {
        let mut statement = connection.prepare(&format!("SELECT * FROM {name}")).unwrap();
        let columns: Vec<String> = statement.column_names().map(str::to_owned).collect();
        let mut rows = statement.query([]).unwrap();
        while let Some(row) = rows.next().unwrap() {
            let mut line = name.clone();
            for (place, column) in columns.iter().enumerate() {
                if column != "fid" {
                    line += &format!(" {column}={:?}", row.get_ref(place).unwrap());
                }
            }
            lines.push(line);
        }
    }
    lines.sort();
    lines
}

fn ids(book: &LakeBook) -> BTreeSet<String> {
    book.change_log(1_000_000).unwrap().iter().map(|event| event.id.to_string()).collect()
}

/// A book and a copy of it, each edited on.
fn pair(folder: &Path, devices: [&'static str; 2], edits: [&[Edit]; 2]) -> [PathBuf; 2] {
    let paths = [folder.join("a.gpkg"), folder.join("b.gpkg")];
    let mut book = new_book(&paths[0]);
    book.transact("survey", |writer| {
        writer.put_taxon(&taxon(90))?;
        put_survey(writer, &survey_header(26), &taxa(), 6)
    })
    .unwrap();
    book.backup(&paths[1]).unwrap();
    drop(book);
    for side in 0..2 {
        let mut book = LakeBook::open(&paths[side], TestPorts::new(devices[side])).unwrap();
        for edit in edits[side] {
            apply(&mut book, edit);
        }
    }
    paths
}

fn copy(from: &Path, to: &str) -> PathBuf {
    let to = from.with_file_name(to);
    LakeBook::open(from, TestPorts::new("desk")).unwrap().backup(&to).unwrap();
    to
}

fn merge(into: &Path, other: &Path, device: &'static str) -> lakebook::Merged {
    let mut book = LakeBook::open(into, TestPorts::new(device)).unwrap();
    let other = LakeBook::open(other, TestPorts::new(device)).unwrap();
    let merged = book.merge(&other).unwrap();
    let verification = book.verify().unwrap();
    assert!(verification.ok, "{:#?}", verification.broken);
    merged
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Common practice of replicated logs: union is commutative and idempotent and loses nothing.
    #[test]
    fn merging_is_commutative_idempotent_and_loses_nothing(
        ours in edits(),
        theirs in edits(),
        one_device in any::<bool>(),
    ) {
        let folder = tempfile::tempdir().unwrap();
        let devices = if one_device { ["desk", "desk"] } else { ["desk", "laptop"] };
        let [a, b] = pair(folder.path(), devices, [&ours, &theirs]);
        let (a_only, b_only) = (copy(&a, "a-copy.gpkg"), copy(&b, "b-copy.gpkg"));
        merge(&a, &b_only, devices[0]);
        merge(&b, &a_only, devices[1]);
        prop_assert_eq!(tables(&a), tables(&b), "a with b is b with a");
        let merged = LakeBook::open(&a, TestPorts::new("desk")).unwrap();
        let kept = ids(&merged);
        for path in [&a_only, &b_only] {
            let before = LakeBook::open(path, TestPorts::new("desk")).unwrap();
            prop_assert!(ids(&before).is_subset(&kept), "an event is lost");
        }
        drop(merged);
        let once = tables(&a);
        prop_assert_eq!(merge(&a, &b_only, devices[0]).taken, 0, "what is there is not taken again");
        prop_assert_eq!(&tables(&a), &once);
        merge(&a, &b, devices[0]);
        prop_assert_eq!(&tables(&a), &once, "the other's own notes of the merge change nothing");
        let mut rebuilt = LakeBook::open(&a, TestPorts::new("desk")).unwrap();
        rebuilt.rebuild().unwrap();
        drop(rebuilt);
        prop_assert_eq!(&tables(&a), &once, "the tables are the fold of the log");
    }
}

#[test]
fn two_depths_for_one_site_are_laid_before_a_person_and_either_can_be_kept() {
    let folder = tempfile::tempdir().unwrap();
    let edits = [[Edit::Depth(1, 3), Edit::Depth(1, 4)], [Edit::Depth(1, 7), Edit::Depth(1, 8)]];
    let [a, b] = pair(folder.path(), ["desk", "laptop"], [&edits[0], &edits[1]]);
    assert_eq!(merge(&a, &b, "desk").conflicts, 1, "one record, one question");
    let mut book = LakeBook::open(&a, TestPorts::new("desk")).unwrap();
    let conflict = book.conflicts().unwrap().remove(0);
    assert!(conflict.other.body.contains("8.0") || conflict.other.body.contains("4.0"));
    book.settle(conflict.other.id, Keep::Other, "read again from the sheet").unwrap();
    assert!(book.conflicts().unwrap().is_empty());
    assert!(book.verify().unwrap().ok);
}

#[test]
fn what_columns_meant_is_nothing_to_contradict_in() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] =
        pair(folder.path(), ["desk", "laptop"], [&[Edit::Columns(0)], &[Edit::Columns(2)]]);
    assert_eq!(merge(&a, &b, "desk").conflicts, 0);
    let book = LakeBook::open(&a, TestPorts::new("desk")).unwrap();
    assert_eq!(book.column_maps().unwrap().len(), 1);
}

#[test]
fn one_edit_made_twice_is_no_contradiction() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] =
        pair(folder.path(), ["desk", "laptop"], [&[Edit::Depth(1, 3)], &[Edit::Depth(1, 3)]]);
    let merged = merge(&a, &b, "desk");
    assert_eq!((merged.taken, merged.conflicts), (1, 0));
}

#[test]
fn edits_to_a_survey_the_other_copy_sealed_stay_beside_the_seal() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = pair(folder.path(), ["desk", "laptop"], [&[Edit::Depth(1, 3)], &[Edit::Seal]]);
    assert_eq!(merge(&a, &b, "desk").conflicts, 1);
    let book = LakeBook::open(&a, TestPorts::new("desk")).unwrap();
    assert!(book.survey_by_name(&survey_header(26).name).unwrap().seal.is_some());
    assert_eq!(book.verify().unwrap().sealed, 1);
}

#[test]
fn another_lakes_book_and_a_damaged_one_are_refused_and_change_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = pair(folder.path(), ["desk", "laptop"], [&[], &[Edit::Depth(1, 3)]]);
    let stranger = folder.path().join("other.gpkg");
    drop(new_book(&stranger));
    let before = tables(&a);
    let mut book = LakeBook::open(&a, TestPorts::new("desk")).unwrap();
    let other = LakeBook::open(&stranger, TestPorts::new("desk")).unwrap();
    let error = book.merge(&other).unwrap_err().to_string();
    assert!(error.contains("`other.gpkg` is not a copy of this book"), "{error}");
    let tampered = gis(&b);
    tampered
        .execute_batch(
            "DROP TRIGGER change_log_is_never_changed; \
             UPDATE change_log SET actor = 'Eve' WHERE device = 'laptop'",
        )
        .unwrap();
    drop(tampered);
    let other = LakeBook::open(&b, TestPorts::new("desk")).unwrap();
    let error = book.merge(&other).unwrap_err().to_string();
    assert!(error.contains("`b.gpkg` is damaged"), "{error}");
    drop(book);
    assert_eq!(tables(&a), before);
}

/// Two copies with 40,000 observations each of their own. The limit holds for an optimised build;
/// the figure is printed for any.
#[test]
fn two_copies_of_forty_thousand_observations_each_come_together() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = pair(folder.path(), ["desk", "laptop"], [&[], &[]]);
    for (path, device, first) in [(&a, "desk", 40), (&b, "laptop", 60)] {
        let mut book = LakeBook::open(path, TestPorts::new(device)).unwrap();
        for number in first..first + 10 {
            let mut header = survey_header(number);
            header.name = format!("survey {number}");
            book.transact("survey", |writer| put_survey(writer, &header, &taxa(), 860)).unwrap();
        }
    }
    let mut book = LakeBook::open(&a, TestPorts::new("desk")).unwrap();
    let other = LakeBook::open(&b, TestPorts::new("laptop")).unwrap();
    let start = Instant::now();
    let merged = book.merge(&other).unwrap();
    let took = start.elapsed();
    let observations: i64 =
        gis(&a).query_row("SELECT count(*) FROM observation", [], |row| row.get(0)).unwrap();
    println!(
        "{} changes, {observations} observations together, merged in {took:.2?}",
        merged.taken
    );
    assert!(observations >= 80_000, "{observations}");
    assert_eq!(merged.conflicts, 0);
    assert!(book.verify().unwrap().ok);
    assert!(cfg!(debug_assertions) || took.as_secs_f64() < 3.0, "{took:?}");
    assert!(book.change_log(1).unwrap()[0].operation == Operation::Put);
}
