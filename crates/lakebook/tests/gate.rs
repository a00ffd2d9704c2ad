//! Every write goes through one gate: all or nothing, with undo, history and conflicts from the log.
#![allow(clippy::unwrap_used, reason = "helpers of tests may panic as tests do")]

mod common;

use common::*;
use lakebook::{
    BookError, DataSet, DataSetContent, Entity, Keep, KeptBoat, KeptRoute, KeptStop, LakeBook,
    Operation, SheetScan,
};
use survey::{HowSeen, Observation, Rating, Sampling, SiteResult, TaxonId, Throw};

#[test]
fn what_was_written_is_read_back_to_the_last_bit() {
    let (_folder, path) = place();
    drop(full_book(&path));
    let book = LakeBook::open(&path, TestPorts::new("desk")).unwrap();
    assert_eq!(book.lake().unwrap(), lake());
    assert_eq!(book.outline().unwrap(), Some(outline()));
    assert_eq!(book.zones().unwrap(), (0..3).map(zone).collect::<Vec<_>>());
    assert_eq!(book.taxa().unwrap(), taxa());
    assert_eq!(book.sub_areas().unwrap()[0].zone, Some(zone(1).id));
    assert_eq!(book.landmarks().unwrap()[0].name, "town launch");
    let header = survey_header(26);
    assert_eq!(book.treatments().unwrap(), [treatment(0, Some(header.id))]);
    let record = book.record(header.id).unwrap();
    assert_eq!(record.survey, header);
    assert_eq!(&record.scale, survey::scale::RatingScale::by_key("fullness").unwrap());
    let sites: Vec<_> = (0..40).map(|number| site(&header, number)).collect();
    assert_eq!(record.sites, sites);
    let visits: Vec<_> = sites.iter().map(|site| visit(&header, site, &taxa())).collect();
    assert_eq!(record.visits, visits);
    assert_eq!(
        (record.beds.len(), record.shoreline.len(), record.photos.len(), record.vouchers.len()),
        (2, 1, 1, 1)
    );
    assert_eq!(record.beds[0].area, Some(square(-89.41, 43.01, 0.0007)));
}

#[test]
fn a_failed_save_leaves_nothing() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let before = book.change_log(1).unwrap();
    let error = book
        .transact("import", |writer| {
            writer.put_zone(&zone(7))?;
            Err::<(), _>(BookError::other("row 12 is not readable"))
        })
        .unwrap_err();
    assert_eq!(error.to_string(), "row 12 is not readable");
    assert_eq!(book.zones().unwrap().len(), 3);
    assert_eq!(book.change_log(1).unwrap(), before);
    assert!(book.verify().unwrap().ok);
    book.transact("again", |writer| writer.put_zone(&zone(7))).unwrap();
    assert!(book.verify().unwrap().ok, "numbers of events go on without a gap");
}

type Change<'a> = Box<dyn Fn(&mut lakebook::Writer<'_>) -> Result<(), BookError> + 'a>;

/// Each change is refused with its sentence and a hint, and leaves nothing.
fn all_refused(table: &[(&str, Change<'_>)]) {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let events = book.change_log(1_000).unwrap().len();
    for (want, change) in table {
        let error = book.transact(want, |writer| change(writer)).unwrap_err().to_string();
        assert!(error.contains(want), "want {want}: {error}");
        assert!(error.contains("\nhint: "), "{error}");
    }
    assert_eq!(book.change_log(1_000).unwrap().len(), events, "nothing was kept");
}

#[test]
fn codes_and_names_are_given_once() {
    let header = survey_header(26);
    let mut twin_site = site(&header, 90);
    twin_site.code = code("3");
    let mut twin_zone = zone(8);
    twin_zone.code = code("w1");
    let mut twin_survey = survey_header(27);
    twin_survey.name = "2026-Summer".into();
    let mut twin_visit = visit(&header, &site(&header, 5), &taxa());
    twin_visit.id = survey::VisitId(id(77));
    let elsewhere = survey_header(27);
    let mut foreign_visit = visit(&elsewhere, &site(&elsewhere, 0), &taxa());
    foreign_visit.site = site(&header, 39).id;
    all_refused(&[
        ("the survey has site `3` twice", Box::new(|writer| writer.put_site(&twin_site))),
        ("two zones have the code", Box::new(|writer| writer.put_zone(&twin_zone))),
        ("two surveys are called", Box::new(|writer| writer.put_survey(&twin_survey))),
        ("site `5` is visited twice", Box::new(|writer| writer.put_visit(&twin_visit))),
        (
            "its site `39` to another",
            Box::new(|writer| {
                writer.put_survey(&elsewhere)?;
                writer.put_visit(&foreign_visit)
            }),
        ),
    ]);
}

#[test]
fn what_refers_to_nothing_or_is_off_its_scale_is_refused() {
    let header = survey_header(26);
    let with = |throw: Throw| {
        let mut found = visit(&header, &site(&header, 7), &taxa());
        found.result = SiteResult::Sampled(Sampling::new(vec![throw], None).unwrap());
        found
    };
    let stranger = Observation { taxon: TaxonId(id(99)), rating: None, seen: HowSeen::Rake };
    let unknown_taxon = with(Throw { number: 1, total: None, observations: vec![stranger] });
    let off_scale = with(Throw { number: 1, total: Some(Rating(9)), observations: vec![] });
    let mut unknown_scale = survey_header(27);
    unknown_scale.scale = "my own".into();
    let mut off_earth = zone(8);
    off_earth.area = square(289.0, 43.0, 0.1);
    all_refused(&[
        (
            "refers to a taxon that is not in the book",
            Box::new(|writer| writer.put_visit(&unknown_taxon)),
        ),
        (
            "refers to a taxon that is not in the book",
            Box::new(|writer| writer.delete_taxon(taxa()[0].id)),
        ),
        (
            "refers to a site that is not in the book",
            Box::new(|writer| writer.delete_site(site(&header, 3).id)),
        ),
        ("place `9` of the scale", Box::new(|writer| writer.put_visit(&off_scale))),
        ("no rating scale `my own`", Box::new(|writer| writer.put_survey(&unknown_scale))),
        ("longitude `289", Box::new(|writer| writer.put_zone(&off_earth))),
    ]);
}

#[test]
fn codes_may_be_exchanged_within_a_save() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let header = survey_header(26);
    let (mut a, mut b) = (site(&header, 1), site(&header, 2));
    std::mem::swap(&mut a.code, &mut b.code);
    book.transact("renumbered", |writer| writer.put_sites(&[a, b])).unwrap();
    assert!(book.verify().unwrap().ok);
}

#[test]
fn an_unchanged_record_is_no_event() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let before = book.change_log(3).unwrap();
    book.transact("same zone", |writer| writer.put_zone(&zone(0))).unwrap();
    assert_eq!(book.change_log(3).unwrap(), before);
}

#[test]
fn what_was_taken_back_is_made_again_until_something_else_is_saved() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let first = zone(0);
    let named = |name: &str| survey::Zone { name: name.to_owned(), ..zone(0) };
    for name in ["north", "south"] {
        book.transact(&format!("named {name}"), |writer| writer.put_zone(&named(name))).unwrap();
    }
    let name = |book: &LakeBook| {
        book.zones().unwrap().into_iter().find(|one| one.id == first.id).unwrap().name
    };
    let notes = |back: &str, again: Option<&str>| (Some(back.to_owned()), again.map(str::to_owned));
    assert_eq!(book.redo_last().unwrap(), None, "nothing was taken back");
    book.undo_last().unwrap();
    assert_eq!(book.undo_notes().unwrap(), notes("named north", Some("named south")));
    book.undo_last().unwrap();
    assert_eq!(name(&book), first.name);
    // in the order they were made, and each can be taken back once more
    assert_eq!(book.redo_last().unwrap().as_deref(), Some("named north"));
    assert_eq!(book.redo_last().unwrap().as_deref(), Some("named south"));
    assert_eq!((name(&book).as_str(), book.redo_last().unwrap()), ("south", None));
    book.undo_last().unwrap();
    assert_eq!(name(&book), "north");
    assert_eq!(book.redo_last().unwrap().as_deref(), Some("named south"));
    book.undo_last().unwrap();
    book.transact("named west", |writer| writer.put_zone(&named("west"))).unwrap();
    assert_eq!(book.redo_last().unwrap(), None, "something else was saved since");
    book.undo_last().unwrap();
    assert_eq!(name(&book), "north");
    assert_eq!(book.undo_notes().unwrap(), notes("named north", Some("named west")));
}

#[test]
fn undo_takes_back_save_after_save() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let mut renamed = zone(0);
    renamed.name = "East bay".into();
    book.transact("renamed", |writer| {
        writer.put_zone(&renamed)?;
        renamed.name = "North bay".into();
        writer.put_zone(&renamed)?;
        writer.put_zone(&zone(5))?;
        writer.delete_zone(zone(2).id)
    })
    .unwrap();
    assert_eq!(book.undo_last().unwrap().as_deref(), Some("renamed"));
    assert_eq!(book.zones().unwrap(), (0..3).map(zone).collect::<Vec<_>>());
    assert_eq!(book.undo_last().unwrap().as_deref(), Some("finds"));
    assert_eq!(book.undo_last().unwrap().as_deref(), Some("survey of 2026"));
    assert_eq!(book.surveys().unwrap(), []);
    assert_eq!(book.undo_last().unwrap().as_deref(), Some("outline and zones"));
    assert_eq!(book.outline().unwrap(), None);
    assert_eq!(book.undo_last().unwrap(), None, "the making of the book stays");
    assert_eq!(book.lake().unwrap(), lake());
    let verification = book.verify().unwrap();
    assert!(verification.ok, "{:?}", verification.broken);
}

#[test]
fn the_history_of_a_record_tells_who_when_and_what() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let mut renamed = zone(0);
    renamed.name = "East bay".into();
    book.transact("the town renamed it", |writer| writer.put_zone(&renamed)).unwrap();
    book.transact("gone", |writer| writer.delete_zone(zone(0).id)).unwrap();
    let history = book.history(Entity::Zone, &zone(0).id.to_string()).unwrap();
    let told: Vec<_> = history.iter().map(|event| (event.operation, event.note.as_str())).collect();
    assert_eq!(
        told,
        [
            (Operation::Put, "outline and zones"),
            (Operation::Put, "the town renamed it"),
            (Operation::Delete, "gone")
        ]
    );
    assert_eq!(history[1].base_version, Some(history[0].id));
    assert_eq!(history[2].base_version, Some(history[1].id));
    assert!(history.iter().all(|event| event.actor == "Ann" && event.device == "desk"));
    assert!(history[0].at() < history[1].at());
}

#[test]
fn an_edit_from_an_old_version_is_kept_beside_and_shown() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let key = zone(0).id.to_string();
    let seen = book.version(Entity::Zone, &key).unwrap();
    let (mut hers, mut his) = (zone(0), zone(0));
    hers.name = "hers".into();
    his.name = "his".into();
    book.transact("hers", |writer| writer.based_on(seen).put_zone(&hers)).unwrap();
    let conflicts = book
        .transact("his", |writer| {
            writer.based_on(seen).put_zone(&his)?;
            Ok(writer.conflicts())
        })
        .unwrap();
    assert_eq!(conflicts, 1);
    assert_eq!(book.zones().unwrap()[0].name, "hers", "what stands stays");
    let open = book.conflicts().unwrap();
    assert_eq!((open.len(), open[0].other.note.as_str()), (1, "his"));
    assert!(open[0].current.as_ref().unwrap().body.contains("hers"));
    assert!(book.verify().unwrap().ok);
    book.settle(open[0].other.id, Keep::Other, "he was there").unwrap();
    assert_eq!(book.zones().unwrap()[0].name, "his");
    assert_eq!(book.conflicts().unwrap(), []);
    let again = book.settle(open[0].other.id, Keep::Current, "twice").unwrap_err();
    assert!(matches!(again, BookError::Unknown { .. }), "{again}");
    book.rebuild().unwrap();
    assert_eq!(book.zones().unwrap()[0].name, "his");
    assert!(book.verify().unwrap().ok);
}

#[test]
fn data_sets_are_named_by_their_content_and_kept_once() {
    let (_folder, path) = place();
    let mut book = new_book(&path);
    let soundings = DataSet {
        name: "depths.csv".into(),
        unit: "ft".into(),
        crs: "EPSG:26916".into(),
        content: DataSetContent::Soundings(vec![
            (-89.42, 43.01, 3.048),
            (-89.41, 43.02, 0.0),
            (-89.40, 43.03, 1.0 / 3.0),
        ]),
        note: "by boat".into(),
    };
    let line = geo_types::LineString::from(vec![(-89.42, 43.01), (-89.41, 43.02)]);
    let contours = DataSet {
        content: DataSetContent::Contours(vec![
            (geo_types::Geometry::LineString(line), 1.524),
            (square(-89.41, 43.01, 0.01).into(), 3.048),
        ]),
        name: "contours.shp".into(),
        ..soundings.clone()
    };
    let raster = DataSet {
        content: DataSetContent::Raster(vec![0, 159, 146, 150]),
        name: "old map.png".into(),
        ..soundings.clone()
    };
    for set in [&soundings, &contours, &raster] {
        let name = book.put_data_set(set, "depths").unwrap();
        assert_eq!(book.put_data_set(set, "depths again").unwrap(), name);
        assert_eq!(book.load_data_set(&name).unwrap(), set.content);
    }
    let infos = book.data_sets().unwrap();
    let told: Vec<_> =
        infos.iter().map(|one| (one.name.as_str(), one.kind.key(), one.count)).collect();
    assert_eq!(
        told,
        [
            ("depths.csv", "soundings", 3),
            ("contours.shp", "contours", 2),
            ("old map.png", "raster", 4)
        ]
    );
    let sha256 = infos[0].sha256.clone();
    book.transact("wrong lake", |writer| writer.delete_data_set(&sha256)).unwrap();
    assert!(book.load_data_set(&sha256).is_err());
    book.undo_last().unwrap();
    assert_eq!(book.load_data_set(&sha256).unwrap(), soundings.content);
    assert!(book.verify().unwrap().ok);
    let swapped = DataSet {
        content: DataSetContent::Soundings(vec![(-89.4, 43.0, 1.0), (43.01, -93.42, 2.0)]),
        ..soundings
    };
    let error = book.put_data_set(&swapped, "swapped").unwrap_err().to_string();
    assert!(error.contains("soundings 2") && error.contains("latitude `-93.42`"), "{error}");
}

#[test]
fn worked_out_results_are_kept_outside_the_log() {
    let (_folder, path) = place();
    let book = full_book(&path);
    let log = book.change_log(1).unwrap();
    assert_eq!(book.cache_get("depth model abc").unwrap(), None);
    book.cache_put("depth model abc", b"grid").unwrap();
    book.cache_put("depth model abc", b"finer grid").unwrap();
    assert_eq!(book.cache_get("depth model abc").unwrap().as_deref(), Some(&b"finer grid"[..]));
    assert_eq!(book.change_log(1).unwrap(), log);
    let raw = rusqlite::Connection::open(&path).unwrap();
    raw.execute("UPDATE derived SET content = x'00'", []).unwrap();
    assert_eq!(book.cache_get("depth model abc").unwrap(), None, "a damaged result is none");
    book.cache_clear().unwrap();
}

#[test]
fn a_backup_is_a_whole_book_and_overwrites_nothing() {
    let (folder, path) = place();
    let mut book = full_book(&path);
    let copy = folder.path().join("backup.gpkg");
    book.backup(&copy).unwrap();
    let error = book.backup(&copy).unwrap_err();
    assert!(matches!(error, BookError::Exists { .. }), "{error}");
    book.transact("later", |writer| writer.put_zone(&zone(7))).unwrap();
    let restored = LakeBook::open(&copy, TestPorts::new("desk")).unwrap();
    assert!(restored.verify().unwrap().ok);
    assert_eq!(restored.zones().unwrap().len(), 3);
    assert_eq!(restored.surveys().unwrap(), book.surveys().unwrap());
}

#[test]
fn a_deleted_survey_takes_its_records_along() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let header = survey_header(26);
    let refused =
        book.transact("delete", |writer| writer.delete_survey(header.id)).unwrap_err().to_string();
    assert!(refused.contains("treatment"), "a treatment refers to it: {refused}");
    book.transact("delete", |writer| {
        writer.put_treatment(&treatment(0, None))?;
        writer.delete_survey(header.id)
    })
    .unwrap();
    assert_eq!(book.surveys().unwrap(), []);
    assert!(book.verify().unwrap().ok);
    book.undo_last().unwrap();
    assert_eq!(book.record(header.id).unwrap().visits.len(), 40);
    assert!(book.verify().unwrap().ok);
}

#[test]
fn a_route_words_of_a_paper_and_a_sheet_read_back_are_kept_by_the_gate() {
    let (_folder, path) = place();
    let mut book = full_book(&path);
    let survey = book.surveys().unwrap().remove(0);
    let route = KeptRoute {
        survey: survey.id,
        asked: "{\"boats\":2}".into(),
        boats: vec![KeptBoat {
            boat: 1,
            date: "2026-07-14".into(),
            launch: "Launch".into(),
            start: "08:30".into(),
            finish: "11:40".into(),
            length_m: 1_800.5,
            minutes: 190.0,
            stops: vec![KeptStop {
                code: "14".into(),
                arrive: "08:34".into(),
                leave: "08:40".into(),
                way: vec![[-90.5, 44.25], [-90.4875, 44.25]],
            }],
            end: "Launch".into(),
            home: vec![[-90.4875, 44.25], [-90.5, 44.25]],
        }],
        sentence: "one boat, one day, home by 11:40 am".into(),
    };
    let scan = SheetScan {
        id: book.new_id(),
        survey: survey.id,
        sheet: 2,
        sheets: 6,
        sites: vec!["12".into(), "13".into()],
        file_name: "sheet 2.jpg".into(),
        sha256: "00".repeat(32),
        note: String::new(),
    };
    book.transact("papers", |writer| {
        writer.put_route(&route)?;
        writer.put_paper_text("kit", "rake\nrope")?;
        writer.put_sheet_scan(&scan)
    })
    .unwrap();
    let same = |book: &LakeBook| {
        assert_eq!(book.route(survey.id).unwrap().as_ref(), Some(&route));
        assert_eq!(book.paper_text("kit").unwrap().as_deref(), Some("rake\nrope"));
        assert_eq!(book.sheet_scans(survey.id).unwrap(), std::slice::from_ref(&scan));
    };
    same(&book);
    drop(book);
    let mut book = LakeBook::open(&path, TestPorts::new("desk")).unwrap();
    same(&book);
    assert!(book.verify().unwrap().ok);
    book.undo_last().unwrap();
    assert_eq!(book.route(survey.id).unwrap(), None);
    assert_eq!(book.paper_text("kit").unwrap(), None);
    assert!(book.sheet_scans(survey.id).unwrap().is_empty());
    assert!(book.verify().unwrap().ok);
}
