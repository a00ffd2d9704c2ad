//! Lake Wingra, Wisconsin, 2022: a point-intercept grid of 543 points whose summary was published.
//!
//! Data: Wisconsin Department of Natural Resources survey of 2022, as published with Gorsky et al.
//! (CC BY 4.0). Published summary of the agency: 423 sampled, 316 with vegetation, 419 no deeper than
//! the deepest plant, 75.42 % of these with plants, 12.0 ft, 1.62 species a littoral site, 2.15 a
//! vegetated site, 1.12 natives, 1.55 natives where native. Names of species were not published.

#![cfg(test)]

mod support;

use findings::SurveyFindings;
use findings::one::{Note, Options};
use std::collections::HashMap;
use support::open_data;
use survey::scale::RatingScale;
use survey::{
    Code, Id, NotSampled, ReportedCounts, Sampling, Site, SiteId, SiteResult, Survey, SurveyId,
    SurveyRecord, Throw, Visit, VisitId,
};
use units::{LonLat, Metres, decimals};

fn rows(path: &std::path::Path) -> Vec<HashMap<String, String>> {
    let text = std::fs::read_to_string(path).unwrap();
    let mut reader = csv::Reader::from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}

fn reason(comment: &str) -> NotSampled {
    match comment {
        "Non-Navigable (Plants)" => NotSampled::NotNavigablePlants,
        "Non-Navigable (Swim Area)" => NotSampled::SwimArea,
        "Temporary Obstacle" => NotSampled::TemporaryObstacle,
        _ => NotSampled::NoInformation,
    }
}

/// One throw with the whole rake rated, and the published counts; a point without a comment was
/// sampled. `with_counts` leaves the counts out.
fn record(with_counts: bool) -> Option<SurveyRecord> {
    let points = rows(&open_data("wingra-wi/DNRsurvey.csv")?);
    let comments = rows(&open_data("wingra-wi/macrophyte_22_rake.csv")?);
    let survey = Survey::new(SurveyId(Id::v7(1, 1)), "2022", "fullness").unwrap();
    let scale = RatingScale::by_key("fullness").unwrap().clone();
    let mut record = SurveyRecord::empty(survey, scale);
    for (number, (point, comment)) in points.iter().zip(&comments).enumerate() {
        let (id, survey) = (SiteId(Id::v7(2, number as u128)), record.survey.id);
        let degrees = |name: &str| point[name].parse::<f64>().unwrap();
        record.sites.push(Site {
            id,
            survey,
            code: Code::new(&point["Site"]).unwrap(),
            planned: Some(LonLat::new(degrees("longitude"), degrees("latitude")).unwrap()),
            map_depth: None,
            zone: None,
            sub_area: None,
            landmark: String::new(),
            rank: number as u32,
            inclusion_probability: None,
            spare: false,
            dropped: None,
        });
        let result = if comment["comments"].is_empty() {
            let count = |name: &str| point[name].parse::<u16>().unwrap();
            let counts = ReportedCounts {
                species: count("TotalSpecies"),
                native: Some(count("TotalSpecies_VegetatedSites_NoExotics")),
            };
            let total = record.scale.read(&point["Rake"]).ok();
            let throw = Throw { number: 1, total, observations: Vec::new() };
            SiteResult::Sampled(Sampling::new(vec![throw], with_counts.then_some(counts)).unwrap())
        } else {
            SiteResult::NotSampled(reason(&comment["comments"]))
        };
        record.visits.push(Visit {
            id: VisitId(Id::v7(3, number as u128)),
            survey,
            site: id,
            actual: None,
            time: None,
            depth: point["Depth_ft"].parse().ok().map(Metres::from_feet),
            sediment: None,
            result,
            observer: String::new(),
            note: String::new(),
        });
    }
    Some(record)
}

#[test]
fn wisconsin_dnr_2022_summary_of_lake_wingra() {
    let Some(record) = record(true) else { return };
    let findings = SurveyFindings::of(&record, &Options::default());
    assert_eq!((findings.sites.planned, findings.sites.visited), (543, 543));
    assert_eq!(findings.sites.sampled, 423);
    assert_eq!(findings.sites.not_sampled[&NotSampled::NotNavigablePlants], 83);
    assert_eq!(findings.sites.not_sampled[&NotSampled::NoInformation], 33);
    assert_eq!(decimals(findings.max_plant_depth.unwrap().feet(), 1), "12.0");
    assert_eq!(findings.littoral_sites, 419);
    // 315 of the sampled points have a species; the 316th of the summary is a point that has a
    // species, no depth and a reason for not being sampled
    assert_eq!(findings.sites.vegetated, 315);
    assert_eq!(findings.frequency_any.littoral.k, 315);
    assert_eq!(decimals(findings.frequency_any.littoral.p.unwrap() * 100.0, 2), "75.18");
    assert_eq!(decimals(316.0 / 419.0 * 100.0, 2), "75.42");
    let means = findings.species_per_site;
    for (mean, four_digits, printed) in [
        (means.littoral, "1.6181", "1.62"),
        (means.vegetated, "2.1524", "2.15"),
        (means.native_littoral, "1.1169", "1.12"),
        (means.native_where_native, "1.5548", "1.55"),
    ] {
        let mean = mean.unwrap().mean;
        assert_eq!(decimals(mean, 4), four_digits);
        assert_eq!(decimals(mean, 2), printed);
    }
    assert_eq!(decimals(findings.total_rating.mean.unwrap(), 4), "2.1672");
    let ratings: Vec<usize> =
        findings.total_rating.distribution.iter().map(|step| step.sites).collect();
    assert_eq!(ratings, [84, 96, 137]);
    assert!(findings.notes.contains(&Note::CountsWithoutNames { sites: 423 }));
    assert!(findings.notes.contains(&Note::RatedWithoutPlants { sites: 5 }));
    assert!(findings.notes.contains(&Note::NotNavigable { sites: 83 }));
}

#[test]
fn wisconsin_dnr_2022_rake_ratings_alone_give_317_vegetated_points() {
    let Some(record) = record(false) else { return };
    let findings = SurveyFindings::of(&record, &Options::default());
    assert_eq!((findings.sites.sampled, findings.sites.vegetated), (423, 317));
    assert_eq!(findings.littoral_sites, 419);
    assert_eq!(findings.species_per_site.vegetated, None);
    assert!(findings.notes.contains(&Note::PlantsNotNamed { sites: 317 }));
}
