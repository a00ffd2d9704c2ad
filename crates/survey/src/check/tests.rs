use super::*;
use crate::scale::RatingScale;
use crate::{
    Code, Conditions, Fix, GrowthForm, HowSeen, Observation, Origin, Rank, Rating, Sampling, Site,
    SiteId, SiteResult, Survey, Taxon, Throw, Visit, VisitId,
};
use jiff::civil::{Date, date, datetime};

/// A flat map: 3 m everywhere, 10 m at most, a degree is 100 km.
struct Flat;

impl LakeMap for Flat {
    fn depth_at(&self, _: LonLat) -> Option<Metres> {
        Some(Metres::new(3.0))
    }
    fn deepest(&self) -> Option<Metres> {
        Some(Metres::new(10.0))
    }
    fn distance(&self, from: LonLat, to: LonLat) -> Metres {
        let (dx, dy) = (from.longitude() - to.longitude(), from.latitude() - to.latitude());
        Metres::new((dx * dx + dy * dy).sqrt() * 100_000.0)
    }
}

fn place(number: u32) -> LonLat {
    LonLat::new(-90.0 + f64::from(number) * 0.01, 45.0).unwrap()
}

fn plant(number: u128, form: GrowthForm) -> Taxon {
    Taxon {
        id: TaxonId(Id::v7(9, number)),
        code: Code::new(&format!("P{number}")).unwrap(),
        aliases: Vec::new(),
        scientific_name: format!("Planta {number}"),
        common_name: String::new(),
        growth_form: form,
        origin: Origin::Native,
        rank: Rank::Species,
        listed_noxious: false,
        conservatism: None,
    }
}

/// A survey of a day with so many sites, all of them bare and in order.
fn record(sites: u32) -> SurveyRecord {
    let day: Date = date(2026, 7, 14);
    let mut survey = Survey::new(SurveyId(Id::v7(1, 1)), "2026", "fullness").unwrap();
    survey.set_dates(day, day).unwrap();
    survey.crew.push(crate::CrewMember {
        name: "Ann".into(),
        role: crate::CrewRole::Rake,
        identified: true,
    });
    survey.conditions.push(Conditions {
        date: Some(day),
        secchi: Some(Metres::new(2.0)),
        ..Conditions::default()
    });
    let scale = RatingScale::by_key("fullness").unwrap().clone();
    let zero = scale.zero();
    let mut record = SurveyRecord::empty(survey, scale);
    for number in 0..sites {
        let site = Site {
            id: SiteId(Id::v7(2, u128::from(number))),
            survey: record.survey.id,
            code: Code::new(&(number + 1).to_string()).unwrap(),
            planned: Some(place(number)),
            map_depth: None,
            zone: None,
            sub_area: None,
            landmark: String::new(),
            rank: number,
            inclusion_probability: None,
            spare: false,
            dropped: None,
        };
        let throw = Throw { number: 1, total: zero, observations: Vec::new() };
        record.visits.push(Visit {
            id: VisitId::of_site(site.id),
            survey: record.survey.id,
            site: site.id,
            actual: Some(Fix { position: place(number), accuracy: None }),
            time: Some(
                datetime(2026, 7, 14, 9, 0, 0, 0)
                    + jiff::Span::new().minutes(i64::from(number) * 5),
            ),
            depth: Some(Metres::new(3.0)),
            sediment: None,
            result: SiteResult::Sampled(Sampling::new(vec![throw], None).unwrap()),
            observer: "Ann".into(),
            note: String::new(),
        });
        record.sites.push(site);
    }
    record
}

fn with_plant(record: &mut SurveyRecord, site: usize, taxon: &Taxon, total: u8, rating: u8) {
    let observations =
        vec![Observation { taxon: taxon.id, rating: Some(Rating(rating)), seen: HowSeen::Rake }];
    let throw = Throw { number: 1, total: Some(Rating(total)), observations };
    record.visits[site].result = SiteResult::Sampled(Sampling::new(vec![throw], None).unwrap());
    if !record.taxa.iter().any(|one| one.id == taxon.id) {
        record.taxa.push(taxon.clone());
    }
}

fn ids(record: &SurveyRecord, history: &History) -> Vec<String> {
    check(record, &Flat, history).iter().map(CheckFinding::id).collect()
}

#[test]
fn a_complete_record_has_nothing_to_ask() {
    assert_eq!(ids(&record(5), &History::default()), Vec::<String>::new());
}

#[test]
fn each_slip_is_found_where_it_is_and_nowhere_else() {
    type Slip = (&'static str, fn(&mut SurveyRecord));
    let slips: [Slip; 14] = [
        ("no-visit:3", |record| drop(record.visits.remove(2))),
        ("missing-depth:2", |record| record.visits[1].depth = None),
        ("deeper-than-lake:2", |record| record.visits[1].depth = Some(Metres::new(30.0))),
        ("depth-off-map:2", |record| record.visits[1].depth = Some(Metres::new(0.4))),
        ("far-from-plan:1", |record| {
            record.visits[0].actual =
                Some(Fix { position: LonLat::new(-90.0, 45.001).unwrap(), accuracy: None });
        }),
        ("date-outside-survey:4", |record| {
            record.visits[3].time = Some(datetime(2026, 6, 14, 9, 15, 0, 0));
        }),
        ("missing-crew:header", |record| record.survey.crew.clear()),
        ("missing-identifier:header", |record| record.survey.crew[0].identified = false),
        ("missing-conditions:header", |record| record.survey.conditions.clear()),
        ("missing-secchi:header:2026-07-14", |record| record.survey.conditions[0].secchi = None),
        ("one-person-two-names:crew:ann", |record| record.visits[2].observer = "ann ".into()),
        ("rating-above-total:2:1", |record| {
            with_plant(record, 1, &plant(1, GrowthForm::Submersed), 1, 2);
        }),
        ("deep-for-its-form:2:P2", |record| {
            with_plant(record, 1, &plant(2, GrowthForm::Emergent), 1, 1);
        }),
        ("throws-missing:1", |record| {
            record.survey.throws_per_site = 2;
            record.visits.truncate(1);
            record.sites.truncate(1);
        }),
    ];
    for (expected, slip) in slips {
        let mut record = record(5);
        slip(&mut record);
        assert_eq!(ids(&record, &History::default()), [expected], "{expected}");
        let finds = check(&record, &Flat, &History::default());
        assert!(!why(finds[0].kind).is_empty(), "{expected} says why it matters");
    }
}

#[test]
fn the_days_water_level_moves_the_expected_depth() {
    let mut record = record(2);
    record.visits[0].depth = Some(Metres::new(5.0));
    assert_eq!(ids(&record, &History::default()), ["depth-off-map:1"]);
    record.survey.conditions[0].water_level = Some(Metres::new(1.5));
    let finds = ids(&record, &History::default());
    assert_eq!(finds, Vec::<String>::new(), "4.5 m are expected, site 2 is within 5 ft of it");
}

#[test]
fn a_boat_that_flies_is_asked_about_and_two_boats_are_not_one() {
    let mut record = record(3);
    record.visits[1].time = Some(datetime(2026, 7, 14, 9, 0, 0, 0));
    assert!(ids(&record, &History::default()).contains(&"same-time:2:1".to_owned()));
    record.visits[1].observer = "Ben".into();
    assert_eq!(ids(&record, &History::default()), Vec::<String>::new());
    record.visits[1].observer = "Ann".into();
    record.visits[1].actual = Some(Fix { position: place(9), accuracy: None });
    record.visits[1].time = Some(datetime(2026, 7, 14, 9, 5, 0, 0));
    record.visits[0].time = Some(datetime(2026, 7, 14, 9, 4, 30, 0));
    let found = ids(&record, &History::default());
    assert!(found.contains(&"too-fast:2:1".to_owned()), "{found:?}");
}

#[test]
fn a_plant_of_no_earlier_survey_and_a_plant_too_deep_are_doubts() {
    let (old, new) = (plant(1, GrowthForm::Submersed), plant(2, GrowthForm::Submersed));
    let mut before = record(12);
    for site in 0..12 {
        with_plant(&mut before, site, &old, 1, 1);
        before.visits[site].depth = Some(Metres::new(1.0));
    }
    let mut history = History::default();
    history.add(&before);
    let mut now = record(3);
    with_plant(&mut now, 0, &old, 1, 1);
    with_plant(&mut now, 1, &new, 1, 1);
    assert_eq!(ids(&now, &history), ["deeper-than-known:1:P1", "first-record:P2"]);
}

#[test]
fn plants_are_held_against_the_season_of_the_north() {
    let mut curly = plant(1, GrowthForm::Submersed);
    curly.scientific_name = "Potamogeton crispus".into();
    let on = |day: Date, west: f64, north: f64| {
        let mut record = record(2);
        with_plant(&mut record, 0, &curly, 1, 1);
        record.survey.set_dates(day, day).unwrap();
        record.survey.conditions[0].date = Some(day);
        for visit in &mut record.visits {
            visit.time = visit.time.map(|time| day.to_datetime(time.time()));
        }
        for site in &mut record.sites {
            site.planned = site.planned.map(|_| LonLat::new(west, north).unwrap());
        }
        let mut found = ids(&record, &History::default());
        found.retain(|id| id.starts_with("outside-season") || id.starts_with("late-for"));
        found
    };
    for (day, north, want) in [
        (date(2026, 7, 14), 45.0, vec![]),
        (date(2026, 8, 10), 45.0, vec!["late-for-its-kind:P1"]),
        (date(2026, 5, 10), 45.0, vec!["outside-season:header"]),
        (date(2026, 10, 10), 45.0, vec!["outside-season:header"]),
        (date(2026, 5, 10), 30.0, vec![]),
        (date(2026, 8, 10), 30.0, vec![]),
    ] {
        assert_eq!(on(day, -90.0, north), want, "{day} at {north}");
    }
}

#[test]
fn a_settled_find_opens_again_when_it_says_something_else() {
    let mut record = record(2);
    record.visits[0].depth = Some(Metres::new(6.0));
    let find = check(&record, &Flat, &History::default()).remove(0);
    let settled = Settlement {
        id: Id::v7(1, 1),
        survey: record.survey.id,
        find: find.id(),
        said: find.message.clone(),
        reason: "sounded twice".into(),
        by: "Ann".into(),
        at: String::new(),
    };
    assert!(settled.settles(&find));
    record.visits[0].depth = Some(Metres::new(7.0));
    assert!(!settled.settles(&check(&record, &Flat, &History::default())[0]));
}
