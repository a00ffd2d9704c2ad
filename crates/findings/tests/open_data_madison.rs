//! Rake casts on transects of the Madison lakes, Wisconsin, 1995–2023: four casts a station.
//!
//! Data: North Temperate Lakes LTER, Macrophyte Biomass – Madison Lakes Area (knb-lter-ntl.24, CC BY
//! 4.0). Expected figures were worked out from the file with scipy 1.17 and statsmodels 0.15.

#![cfg(test)]

mod support;

use findings::Trend;
use findings::stats::occupancy::{Occupancy, Throws, occupancy};
use findings::trend::TrendVerdict;
use std::collections::{BTreeMap, HashMap};
use support::open_data;
use survey::scale::RatingScale;
use survey::{
    Code, Id, Rating, Sampling, Site, SiteId, SiteResult, Survey, SurveyId, SurveyRecord, Throw,
    Visit, VisitId,
};

/// Casts of each station of a lake by year: whether plants came up.
type Stations = BTreeMap<i16, BTreeMap<String, Vec<bool>>>;

fn stations(lake: &str) -> Option<Stations> {
    let path = open_data("ntl-madison-macrophytes/ntl_macrophyte.csv")?;
    let mut reader = csv::Reader::from_path(path).unwrap();
    let mut years = Stations::new();
    for row in reader.deserialize::<HashMap<String, String>>().map(Result::unwrap) {
        let Ok(rating) = row["rake_rating"].parse::<f64>() else { continue };
        if row["lakeid"] == lake {
            let station =
                ["sampledate", "transect", "depth"].map(|name| row[name].as_str()).join("/");
            let year = years.entry(row["year4"].parse().unwrap()).or_default();
            year.entry(station).or_default().push(rating > 0.0);
        }
    }
    Some(years)
}

fn fit(stations: &BTreeMap<String, Vec<bool>>) -> Occupancy {
    let throws: Vec<Throws> = stations
        .values()
        .map(|casts| Throws {
            found: casts.iter().filter(|found| **found).count() as u32,
            thrown: casts.len() as u32,
        })
        .collect();
    occupancy(&throws).unwrap()
}

#[test]
fn madison_casts_say_how_often_one_throw_misses() {
    for (lake, year, sites, psi, p, likelihood) in [
        ("ME", 2004, 101, 0.920_799_858_66, 0.946_083_627_28, -105.819_456_657),
        ("WI", 1996, 63, 0.892_682_648_37, 0.734_310_898_16, -157.648_943_263),
        ("WI", 2010, 29, 1.0, 0.948_275_862_07, -23.613_065_116),
    ] {
        let Some(years) = stations(lake) else { return };
        let got = fit(&years[&year]);
        assert_eq!(got.sites, sites, "{lake} {year}");
        assert!((got.occupancy.value - psi).abs() < 1e-6, "{lake} {year} {got:?}");
        assert!((got.detection.value - p).abs() < 1e-6, "{lake} {year} {got:?}");
        assert!((got.log_likelihood - likelihood).abs() < 1e-6, "{lake} {year} {got:?}");
        assert!(got.occupancy.low < psi && got.occupancy.high >= got.naive);
    }
}

/// A survey of a year with the first of January as its day, so that years are whole.
fn record(year: i16, stations: &BTreeMap<String, Vec<bool>>) -> SurveyRecord {
    let survey = SurveyId(Id::v7(1, u128::from(year.unsigned_abs())));
    let scale = RatingScale::by_key("presence").unwrap().clone();
    let header = Survey::new(survey, &year.to_string(), "presence").unwrap();
    let mut record = SurveyRecord::empty(header, scale);
    record.survey.start = Some(jiff::civil::date(year, 1, 1));
    let there = record.scale.steps.iter().position(|step| step.value == Some(1)).unwrap();
    for (number, (code, casts)) in stations.iter().enumerate() {
        let site = SiteId(Id::v7(2, number as u128));
        record.sites.push(Site {
            id: site,
            survey,
            code: Code::new(code).unwrap(),
            planned: None,
            map_depth: None,
            zone: None,
            sub_area: None,
            landmark: String::new(),
            rank: number as u32,
            inclusion_probability: None,
            spare: false,
            dropped: None,
        });
        let throws = casts.iter().enumerate().map(|(number, found)| Throw {
            number: number as u8 + 1,
            total: found.then_some(Rating(there as u8)),
            observations: Vec::new(),
        });
        record.visits.push(Visit {
            id: VisitId(Id::v7(3, number as u128)),
            survey,
            site,
            actual: None,
            time: None,
            depth: None,
            sediment: None,
            result: SiteResult::Sampled(Sampling::new(throws.collect(), None).unwrap()),
            observer: String::new(),
            note: String::new(),
        });
    }
    record
}

#[test]
fn wingra_1995_2023_stations_with_plants_vary_too_much_to_call_a_trend() {
    let Some(years) = stations("WI") else { return };
    let records: Vec<SurveyRecord> = years.iter().map(|(year, of)| record(*year, of)).collect();
    let all: Vec<&SurveyRecord> = records.iter().collect();
    let trend = Trend::of(&all, None);
    let (found, sites) = trend
        .surveys
        .iter()
        .fold((0, 0), |(k, n), point| (k + point.frequency.k, n + point.frequency.n));
    assert_eq!((trend.surveys.len(), found, sites), (26, 654, 714));
    let model = trend.model.unwrap();
    assert!((model.per_year.value - 0.051_380_857_638).abs() < 1e-9, "{model:?}");
    assert!((model.overdispersion - 88.394_405_831_9 / 24.0).abs() < 1e-6, "{model:?}");
    // Student's t of 24 degrees of freedom, 2.063898562
    let se = (model.per_year.high - model.per_year.value) / 2.063_898_562;
    assert!((se - 0.032_866_848_74).abs() < 1e-8, "{se}");
    assert_eq!(trend.verdict, TrendVerdict::CannotTell);
    let kendall = trend.mann_kendall.unwrap();
    assert!((kendall.slope.value - 0.005_208_333_333).abs() < 1e-9, "{kendall:?}");
    assert!((kendall.slope.high - 0.008_417_508_418).abs() < 1e-9, "{kendall:?}");
    println!("{}", trend.sentence());
}
