//! Rake surveys of the Sacramento–San Joaquin Delta: two reaches treated with fluridone and two that
//! were not, 2017–2018; points before and after herbicides, 2017 and 2018; ten years of free points.
//!
//! Data: Interagency Ecological Program, Aquatic Vegetation Project Work Team (Apache-2.0). Expected
//! figures were recomputed from the files with the general-purpose libraries named beside them.

#![cfg(test)]

mod support;

use findings::compare::{CommunityOptions, community};
use findings::efficacy::{EfficacyVerdict, Options, Part, Question};
use findings::{Comparison, Efficacy, SurveyFindings, Trend};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::path::Path;
use support::open_data;
use survey::scale::RatingScale;
use survey::{
    Code, GrowthForm, HowSeen, Id, Observation, Origin, Rank, Sampling, Site, SiteId, SiteResult,
    Survey, SurveyId, SurveyRecord, Taxon, TaxonId, Throw, Visit, VisitId,
};
use units::Metres;

type Row = HashMap<String, String>;

fn rows(path: &Path) -> Vec<Row> {
    csv::Reader::from_path(path).unwrap().deserialize().map(Result::unwrap).collect()
}

/// What came up at one point: species with an optional whole-number rating.
#[derive(Default)]
struct Point {
    zone: String,
    depth: Option<f64>,
    found: BTreeMap<String, Option<String>>,
}

fn survey(
    name: &str,
    day: Option<&str>,
    species: &[String],
    points: &BTreeMap<String, Point>,
) -> SurveyRecord {
    let key = name.bytes().fold(1_u128, |key, byte| key * 31 % 1_000_003 + u128::from(byte));
    let scale = RatingScale::numbers("steps", 1, 5).unwrap();
    let survey = Survey::new(SurveyId(Id::v7(1, key)), name, "steps").unwrap();
    let mut record = SurveyRecord::empty(survey, scale);
    record.survey.start = day.map(|day| day.parse::<Date>().unwrap());
    let id = |name: &str| species.iter().position(|one| one == name).unwrap() as u128;
    record.taxa = species
        .iter()
        .map(|name| Taxon {
            id: TaxonId(Id::v7(2, id(name))),
            code: Code::new(name).unwrap(),
            aliases: Vec::new(),
            scientific_name: name.clone(),
            common_name: String::new(),
            growth_form: GrowthForm::Submersed,
            origin: Origin::Native,
            rank: Rank::Species,
            listed_noxious: false,
            conservatism: None,
        })
        .collect();
    for (number, (code, point)) in points.iter().enumerate() {
        let (site, survey) = (SiteId(Id::v7(3, number as u128)), record.survey.id);
        record.sites.push(Site {
            id: site,
            survey,
            code: Code::new(code).unwrap(),
            planned: None,
            map_depth: None,
            zone: Code::new(&point.zone).ok(),
            sub_area: None,
            landmark: String::new(),
            rank: number as u32,
            inclusion_probability: None,
            spare: false,
            dropped: None,
        });
        let observations = point
            .found
            .iter()
            .map(|(name, rating)| Observation {
                taxon: TaxonId(Id::v7(2, id(name))),
                rating: rating.as_ref().and_then(|code| record.scale.read(code).ok()),
                seen: HowSeen::Rake,
            })
            .collect();
        let throw = Throw { number: 1, total: None, observations };
        record.visits.push(Visit {
            id: VisitId(Id::v7(4, number as u128)),
            survey,
            site,
            actual: None,
            time: None,
            depth: point.depth.map(Metres::new),
            sediment: None,
            result: SiteResult::Sampled(Sampling::new(vec![throw], None).unwrap()),
            observer: String::new(),
            note: String::new(),
        });
    }
    record
}

/// Samples of the monthly survey between two days, named by the first.
fn fluridone(data: &[Row], from: &str, to: &str) -> SurveyRecord {
    let species: BTreeSet<String> = data.iter().map(|row| row["species_code"].clone()).collect();
    let mut points: BTreeMap<String, Point> = BTreeMap::new();
    for row in data {
        let day = row["sample_date"].as_str();
        if day < from || day > to {
            continue;
        }
        let point = points.entry(row["sample_id"].clone()).or_default();
        point.zone = row["site"].clone();
        if row["species_incidence"] == "1" {
            let rating = row["species_rake_cover_ordinal"].clone();
            point.found.insert(row["species_code"].clone(), Some(rating));
        }
    }
    let species: Vec<String> = species.into_iter().collect();
    survey(from, Some(from), &species, &points)
}

/// FC was first sampled in April 2018, so that it has no "before" and stands for nothing here.
fn treated_reach(site: &Site) -> Part {
    let zone = site.zone.as_ref().map_or("", Code::as_str);
    Part { treated: matches!(zone, "DI" | "LH"), untreated: zone == "FI" }
}

#[test]
fn delta_fluridone_2017_2018_egeria_cannot_be_said_to_have_gone() {
    let Some(path) = open_data("delta-dsrs-fluridone/dsrs_flatfile.csv") else { return };
    let data = rows(&path);
    let before = fluridone(&data, "2017-05-01", "2017-06-30");
    let after = fluridone(&data, "2018-06-01", "2018-06-30");
    let egeria = before.taxa.iter().find(|one| one.code.as_str() == "EGEDEN").unwrap().id;
    let question = Question {
        before: Some(&before),
        after: &after,
        later: None,
        targets: &[egeria],
        part: &treated_reach,
    };
    let got = Efficacy::of(&question, Options::with_seed(2018)).unwrap();
    let (treated, untreated) = (got.target.treated, got.target.untreated);
    // counted in the file: DI 20/21, 10/12 and LH 6/6, 18/24; FI 7/10, 14/20; a year on DI 20/20,
    // LH 16/20; FI 15/20
    assert_eq!((treated.before.k, treated.before.n), (54, 63));
    assert_eq!((untreated.before.k, untreated.before.n), (21, 30));
    assert_eq!((treated.after.k, treated.after.n), (36, 40));
    assert_eq!((untreated.after.k, untreated.after.n), (15, 20));
    let difference = got.target.difference.unwrap();
    let expected = (36.0 / 40.0 - 54.0 / 63.0) - (15.0 / 20.0 - 21.0 / 30.0);
    assert!((difference.value - expected).abs() < 1e-12);
    assert!(difference.low < 0.0 && difference.high > 0.0);
    assert!(matches!(got.verdict, EfficacyVerdict::CannotTell(_)), "{:?}", got.verdict);
    let share = got.target.control.henderson_tilton.unwrap();
    let by_hand = 1.0 - (36.0 / 40.0) * (21.0 / 30.0) / ((54.0 / 63.0) * (15.0 / 20.0));
    assert!((share.value - by_hand).abs() < 1e-12);
    assert!(share.interval.is_some_and(|limits| limits.low < by_hand && by_hand < limits.high));
    assert!(!treated.same_sites, "sample numbers are never used twice");
    assert!(got.target.density.is_some() && got.target.detectable.unwrap() > 0.2);
}

#[test]
fn delta_fluridone_2017_2018_reaches_are_zones_with_their_published_counts() {
    let Some(path) = open_data("delta-dsrs-fluridone/dsrs_flatfile.csv") else { return };
    let data = rows(&path);
    let all = fluridone(&data, "2017-01-01", "2019-01-01");
    let findings = SurveyFindings::of(&all, &findings::one::Options::default());
    let zones: Vec<usize> = findings.by_zone.iter().map(|zone| zone.sampled).collect();
    // published: DI 250, FC 90, FI 266, LH 270 samples; EGEDEN 745, CERDEM 320, ELOCAN 184 records
    assert_eq!(zones, [250, 90, 266, 270]);
    let records: Vec<(&str, usize)> =
        findings.taxa.iter().map(|one| (one.taxon.code.as_str(), one.sites)).take(3).collect();
    assert_eq!(records, [("EGEDEN", 745), ("CERDEM", 320), ("ELOCAN", 184)]);
    let of_zones: usize = findings.by_zone.iter().map(|zone| zone.taxa[0].frequency.k).sum();
    assert_eq!(of_zones, 745, "zones add up to the lake");
    assert_eq!(findings.sites_without_depth, 876);
    assert!(findings.max_plant_depth.is_none() && findings.by_depth.len() == 1);
}

/// Points of one sheet; the highest whole-number density of each species.
fn sheet(data: &[Row], file: &str, sheet: &str, species: &[String]) -> SurveyRecord {
    let mut points: BTreeMap<String, Point> = BTreeMap::new();
    for row in data.iter().filter(|row| row["file"] == file && row["sheet"] == sheet) {
        let point = points.entry(row["point"].replace(".-", "-")).or_default();
        // depths are in feet by their size; the file does not say
        point.depth = row["depth"].parse::<f64>().ok().map(|feet| feet * 0.3048);
        let name = row["species"].trim();
        if !name.is_empty() && row["density"] != "0" && Code::new(name).is_ok() {
            let density = row["density"].trim_end_matches(".0").to_owned();
            point.found.insert(name.to_owned(), Some(density));
        }
    }
    survey(sheet, None, species, &points)
}

#[test]
fn delta_points_before_and_after_herbicide_2017_are_the_same_points() {
    let Some(path) = open_data("delta-dbw-messy-xlsx/parsed_long_derived.csv") else { return };
    let data = rows(&path);
    let file = "2017-PointSamplingData Sheet2.xlsx";
    let named = data.iter().map(|row| row["species"].trim().to_owned());
    let species: Vec<String> =
        named.filter(|name| Code::new(name).is_ok()).collect::<BTreeSet<_>>().into_iter().collect();
    let before = sheet(&data, file, "2017 Pre", &species);
    let after = sheet(&data, file, "2017 Post", &species);
    let comparison = Comparison::of(&before, &after);
    assert_eq!(comparison.design.key(), "paired");
    let egeria = comparison.taxa.iter().find(|one| one.taxon.code.as_str() == "Egeria").unwrap();
    let sites = egeria.change.sites.unwrap();
    // counted from the file here, not through the library
    let with = |name: &str| -> BTreeSet<String> {
        data.iter()
            .filter(|row| row["file"] == file && row["sheet"] == name)
            .filter(|row| row["species"].trim() == "Egeria" && row["density"] != "0")
            .map(|row| row["point"].replace(".-", "-"))
            .collect()
    };
    let (had, has) = (with("2017 Pre"), with("2017 Post"));
    assert_eq!(sites.both as usize, had.intersection(&has).count());
    let places = egeria.places.as_ref().unwrap();
    assert_eq!((places.gained.len() as u64, places.lost.len() as u64), (sites.gained, sites.lost));
    let steps = &egeria.rating.as_ref().unwrap().steps;
    let pairs: usize = steps.iter().map(|step| step.from).sum();
    assert_eq!(pairs, egeria.rating.as_ref().unwrap().pairs, "every rated pair has one step");
    println!("Egeria, points 2017: {sites:?}, verdict {}", egeria.change.verdict.words());
}

#[test]
fn delta_free_points_2007_2021_trend_over_ten_years() {
    let Some(path) = open_data("delta-cstars-rake/cstars_flatfile.csv") else { return };
    let data = rows(&path);
    let species: BTreeSet<String> = data.iter().map(|row| row["species_code"].clone()).collect();
    let species: Vec<String> = species.into_iter().collect();
    let mut years: BTreeMap<String, BTreeMap<String, Point>> = BTreeMap::new();
    for row in &data {
        let points = years.entry(row["sample_date"][..4].to_owned()).or_default();
        let point = points.entry(row["sample_id"].clone()).or_default();
        if row["species_incidence"] == "1" {
            point.found.insert(row["species_code"].clone(), None);
        }
    }
    let records: Vec<SurveyRecord> = years
        .iter()
        .map(|(year, points)| survey(year, Some(&format!("{year}-10-01")), &species, points))
        .collect();
    let all: Vec<&SurveyRecord> = records.iter().collect();
    let counts: Vec<usize> = records.iter().map(|record| record.visits.len()).collect();
    // published points by year
    assert_eq!(counts, [613, 341, 184, 370, 163, 166, 334, 448, 160, 323]);
    let start = std::time::Instant::now();
    for taxon in &records[0].taxa {
        let trend = Trend::of(&all, Some(taxon.id));
        assert_eq!(trend.surveys.len(), 10);
        println!("{}", trend.sentence());
    }
    println!("15 trends over 3,102 points: {:?}", start.elapsed());
    let egeria = records[0].taxa.iter().find(|one| one.code.as_str() == "EGEDEN").unwrap().id;
    let trend = Trend::of(&all, Some(egeria));
    let found: usize = trend.surveys.iter().map(|point| point.frequency.k).sum();
    assert_eq!(found, 2_216, "published total");
    let model = trend.model.unwrap();
    // years differ far more than a binomial would
    assert!(model.overdispersion > 3.0, "{model:?}");
    let change = community(&records[0], &records[9], CommunityOptions::with_seed(1));
    let test = change.test.unwrap();
    assert_eq!(change.sites, (613, 323));
    assert!((0.0..=1.0).contains(&change.bray_curtis.unwrap()) && test.p < 0.05, "{test:?}");
}
