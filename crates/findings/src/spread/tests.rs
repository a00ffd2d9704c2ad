use super::*;
use crate::stats::assert_close;
use crate::testing::{rake, record};
use jiff::civil::date;
use survey::{Id, Scope};

/// A line of 60 sites 50 m apart going east; the plant at those between two numbers.
fn line(year: i16, from: usize, to: usize) -> SurveyRecord {
    let mut record = record(&["MYSP"]);
    record.survey.id = SurveyId(Id::v7(9, u128::from(year.unsigned_abs())));
    record.survey.name = year.to_string();
    record.survey.start = Some(date(year, 7, 1));
    for number in 0..60 {
        let there = (from..to).contains(&number);
        rake(&mut record, Some(1.0), if there { &["MYSP 1"] } else { &[] });
        let zone = ["A", "B", "C"][number / 20];
        record.sites.last_mut().unwrap().zone = Some(Code::new(zone).unwrap());
    }
    record
}

#[expect(clippy::unnecessary_wraps, reason = "the shape the question asks for")]
fn east(site: &Site) -> Option<Place> {
    Some([f64::from(site.rank) * 50.0, 0.0])
}

fn ask(from: &SurveyRecord, to: &SurveyRecord) -> Spread {
    let launches =
        [("North ramp".to_owned(), [0.0, 300.0]), ("East ramp".to_owned(), [3_000.0, 0.0])];
    Spread::of(&Question {
        from,
        to,
        taxon: to.taxa[0].id,
        place: &east,
        distance: &straight,
        launches: &launches,
        resamples: 999,
        seed: 6,
    })
}

#[test]
fn a_bed_that_moved_east_has_a_shift_a_bearing_and_its_sites() {
    let got = ask(&line(2020, 5, 15), &line(2024, 15, 29));
    let shift = got.shift.unwrap();
    // middles at numbers 9.5 and 21.5 of 50 m, counted from one
    assert_close(shift.metres.value, 600.0, 1e-9, "metres");
    assert_close(shift.bearing, 90.0, 1e-9, "east");
    assert!(shift.p < 0.01 && shift.metres.low > 400.0 && shift.metres.high < 800.0, "{shift:?}");
    let places = got.places.unwrap();
    assert_eq!((places.gained.len(), places.lost.len(), places.kept.len()), (14, 10, 0));
    assert_eq!(got.zones.gained, [Code::new("B").unwrap()]);
    assert_eq!(got.zones.lost, []);
    assert_eq!(got.nearest_launch.len(), 14);
    let (code, launch, way) = &got.nearest_launch[0];
    assert_eq!((code.as_str(), launch.as_str()), ("16", "North ramp"));
    assert_close(*way, 800.0_f64.hypot(300.0), 1e-9, "metres");
}

#[test]
fn a_bed_that_thinned_out_evenly_has_not_moved() {
    let whole = line(2020, 10, 50);
    let mut thinned = line(2024, 10, 50);
    let bare = line(2024, 0, 0);
    for number in (10..50).filter(|number| number % 3 == 0) {
        thinned.visits[number].result = bare.visits[number].result.clone();
    }
    let shift = ask(&whole, &thinned).shift.unwrap();
    assert!(shift.p > 0.2 && shift.metres.low < 0.0, "{shift:?}");
}

#[test]
fn other_sites_are_compared_as_other_sites() {
    let mut later = line(2024, 15, 29);
    for site in &mut later.sites {
        site.code = Code::new(&format!("N{}", site.code)).unwrap();
    }
    let got = ask(&line(2020, 5, 15), &later);
    assert_eq!(got.places, None);
    assert!(got.shift.unwrap().p < 0.01);
}

#[test]
fn distance_by_water_is_the_callers() {
    let (from, to) = (line(2020, 5, 15), line(2024, 15, 29));
    let around = |a: Place, b: Place| 2.5 * straight(a, b);
    let got = Spread::of(&Question {
        from: &from,
        to: &to,
        taxon: to.taxa[0].id,
        place: &east,
        distance: &around,
        launches: &[],
        resamples: 99,
        seed: 6,
    });
    assert_close(got.shift.unwrap().metres.value, 1_500.0, 1e-9, "around the point");
    assert!(got.nearest_launch.is_empty());
}

#[test]
fn too_few_finds_have_no_middle() {
    let got = ask(&line(2020, 5, 7), &line(2024, 15, 29));
    assert_eq!(got.shift, Err(NoShift::TooFewFinds { from: 2, to: 14 }));
    let mut later = line(2024, 15, 29);
    later.survey.scope = Scope::Only(Vec::new());
    assert_eq!(ask(&line(2020, 5, 15), &later).shift, Err(NoShift::NotLookedFor));
}

#[test]
fn first_finds_stand_with_the_blanks_before_them() {
    let (one, two, three) = (line(2018, 0, 0), line(2020, 15, 19), line(2022, 15, 25));
    let taxon = one.taxa[0].id;
    let got = first_found(&[&three, &one, &two], taxon);
    assert_eq!(got.len(), 2, "zone C never");
    assert_eq!(
        (got[0].zone.clone(), got[0].name.as_str()),
        (Some(Code::new("A").unwrap()), "2020")
    );
    assert_eq!((got[0].sites, got[0].blanks_before), (4, 1));
    assert_eq!((got[1].name.as_str(), got[1].sites, got[1].blanks_before), ("2022", 5, 2));
    let mut blind = line(2018, 0, 0);
    blind.survey.scope = Scope::Only(Vec::new());
    assert_eq!(
        first_found(&[&blind, &two], taxon)[0].blanks_before,
        0,
        "not looked for is no blank"
    );
}
