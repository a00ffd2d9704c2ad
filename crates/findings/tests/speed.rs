//! Findings of a whole state programme in a moment.

#![cfg(test)]

use findings::one::Options;
use findings::{Comparison, SurveyFindings};
use std::time::{Duration, Instant};
use survey::scale::RatingScale;
use survey::{
    Code, GrowthForm, HowSeen, Id, Observation, Origin, Rank, Sampling, Site, SiteId, SiteResult,
    Survey, SurveyId, SurveyRecord, Taxon, TaxonId, Throw, Visit, VisitId,
};
use units::Metres;

/// 1,000 sites, six of 60 taxa at each, moved on by `year`.
fn record(year: usize) -> SurveyRecord {
    let survey = Survey::new(SurveyId(Id::v7(1, year as u128)), &year.to_string(), "fullness");
    let scale = RatingScale::by_key("fullness").unwrap().clone();
    let mut record = SurveyRecord::empty(survey.unwrap(), scale);
    record.taxa = (0..60_u128)
        .map(|number| Taxon {
            id: TaxonId(Id::v7(2, number)),
            code: Code::new(&format!("T{number}")).unwrap(),
            aliases: Vec::new(),
            scientific_name: format!("Planta {number}"),
            common_name: String::new(),
            growth_form: GrowthForm::Submersed,
            origin: Origin::Native,
            rank: Rank::Species,
            listed_noxious: false,
            conservatism: None,
        })
        .collect();
    for number in 0..1_000_usize {
        let id = SiteId(Id::v7(3, number as u128));
        record.sites.push(Site {
            id,
            survey: record.survey.id,
            code: Code::new(&number.to_string()).unwrap(),
            planned: None,
            map_depth: None,
            zone: None,
            sub_area: None,
            landmark: String::new(),
            rank: number as u32,
            inclusion_probability: None,
            spare: false,
        });
        let observations = (0..6)
            .map(|place| Observation {
                taxon: TaxonId(Id::v7(2, ((number * 7 + place * 11 + year) % 60) as u128)),
                rating: record.scale.read(["1", "2", "3"][(number + place) % 3]).ok(),
                seen: HowSeen::Rake,
            })
            .collect();
        let throw = Throw { number: 1, total: None, observations };
        record.visits.push(Visit {
            id: VisitId(Id::v7(4, number as u128)),
            survey: record.survey.id,
            site: id,
            actual: None,
            time: None,
            depth: Some(Metres::new(0.3 + (number % 50) as f64 / 10.0)),
            sediment: None,
            result: SiteResult::Sampled(Sampling::new(vec![throw], None).unwrap()),
            observer: String::new(),
            note: String::new(),
        });
    }
    record
}

#[test]
fn forty_surveys_of_a_thousand_sites_take_less_than_a_second() {
    let records: Vec<SurveyRecord> = (0..40).map(record).collect();
    let start = Instant::now();
    let sites: usize = records
        .iter()
        .map(|record| SurveyFindings::of(record, &Options::default()))
        .map(|findings| findings.taxa.iter().map(|taxon| taxon.sites).sum::<usize>())
        .sum();
    let taken = start.elapsed();
    assert_eq!(sites, 40 * 6_000);
    println!("findings of 40 surveys: {taken:?}");
    assert!(taken < Duration::from_secs(1), "took {taken:?}");
    let start = Instant::now();
    let taxa: usize =
        records.windows(2).map(|pair| Comparison::of(&pair[0], &pair[1]).taxa.len()).sum();
    let taken = start.elapsed();
    assert_eq!(taxa, 39 * 60);
    println!("comparison of 40 surveys: {taken:?}");
    assert!(taken < Duration::from_secs(1), "took {taken:?}");
}
