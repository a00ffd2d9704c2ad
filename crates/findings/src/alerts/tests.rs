use super::*;
use crate::testing::{rake, record};
use jiff::civil::date;
use survey::Scope;

fn survey(year: i16, sites: &[(&str, &[&str])]) -> SurveyRecord {
    let mut record = record(&["MYSP", "CEDE"]);
    record.taxa[0].origin = Origin::Introduced;
    record.survey.start = Some(date(year, 7, 1));
    for (zone, notes) in sites {
        rake(&mut record, Some(1.0), notes);
        record.sites.last_mut().unwrap().zone = Some(Code::new(zone).unwrap());
    }
    record
}

fn kinds(earlier: &[&SurveyRecord], latest: &SurveyRecord) -> Vec<AlertKind> {
    alerts(earlier, latest, &[]).unwrap().into_iter().map(|alert| alert.kind).collect()
}

fn code(text: &str) -> Code {
    Code::new(text).unwrap()
}

#[test]
fn an_invader_is_announced_once_for_the_lake_and_then_by_zone() {
    let blank = survey(2020, &[("A", &["CEDE 1"]), ("B", &[])]);
    let first = survey(2022, &[("A", &["MYSP 1"]), ("B", &[])]);
    let second = survey(2024, &[("A", &["MYSP 2"]), ("B", &["MYSP 1", "CEDE 1"])]);
    assert_eq!(
        kinds(&[&blank], &first),
        [AlertKind::FirstInLake { blanks_before: 1, sites: vec![code("1")], beside_sites: false }]
    );
    assert_eq!(
        kinds(&[&first, &blank], &second),
        [AlertKind::FirstInZone { zone: code("B"), blanks_before: 2, sites: vec![code("2")] }]
    );
    assert_eq!(kinds(&[&blank, &first, &second], &second), []);
    assert_eq!(kinds(&[], &first), [], "the first survey of a lake finds everything anew");
    let alert = &alerts(&[&blank], &first, &[]).unwrap()[0];
    assert_eq!(
        alert.sentence(),
        "First record of MYSP in the lake: at sites 1 (1 earlier survey did not find it)."
    );
}

#[test]
fn a_survey_that_did_not_look_is_no_blank() {
    let mut blind = survey(2020, &[("A", &[])]);
    blind.survey.scope = Scope::Only(vec![blind.taxa[1].id]);
    let found = survey(2022, &[("A", &["MYSP V"])]);
    let got = kinds(&[&blind], &found);
    assert_eq!(
        got,
        [AlertKind::FirstInLake { blanks_before: 0, sites: vec![code("1")], beside_sites: false }],
        "seen beside the rake counts"
    );
}

#[test]
fn only_the_boards_own_limit_is_held_against_a_survey() {
    let latest = survey(2024, &[("A", &["MYSP 3"]), ("A", &[]), ("A", &[]), ("B", &["CEDE 3"])]);
    let policy = |limit, zone| Policy {
        text: "Milfoil shall not exceed ten percent of sites".to_owned(),
        adopted: date(2021, 3, 9),
        taxon: None,
        zone,
        limit,
    };
    let ask = |policy: Policy| alerts(&[], &latest, &[policy]).unwrap();
    let got = ask(policy(Limit::FrequencyAbove(0.10), None));
    assert_eq!(got.len(), 1, "coontail is native");
    let AlertKind::AboveLimit { frequency, certain, .. } = &got[0].kind else { panic!("{got:?}") };
    assert_eq!((frequency.k, frequency.n, *certain), (1, 4, Some(false)));
    let sentence = got[0].sentence();
    assert!(sentence.contains("1 of 4") && sentence.contains("2021-03-09"), "{sentence}");
    assert!(sentence.contains("chance alone"), "{sentence}");
    assert!(
        ask(policy(Limit::FrequencyAbove(0.25), None)).is_empty(),
        "at the limit is not above it"
    );
    assert!(ask(policy(Limit::FrequencyAbove(0.10), Some(code("B")))).is_empty());
    assert_eq!(ask(policy(Limit::RatingAtLeast(3), Some(code("A")))).len(), 1);
    assert!(ask(policy(Limit::SitesAbove(1), None)).is_empty());
    let later = Policy { adopted: date(2025, 1, 1), ..policy(Limit::SitesAbove(0), None) };
    assert!(ask(later).is_empty(), "adopted after the survey");
}

#[test]
fn a_policy_without_words_or_in_percent_is_refused() {
    let policy = Policy {
        text: "  ".to_owned(),
        adopted: date(2021, 3, 9),
        taxon: None,
        zone: None,
        limit: Limit::SitesAbove(3),
    };
    assert_eq!(policy.check(), Err(PolicyError::NoText));
    let percent =
        Policy { text: "x".to_owned(), limit: Limit::FrequencyAbove(10.0), ..policy.clone() };
    assert_eq!(percent.check(), Err(PolicyError::NotAProportion { value: 10.0 }));
    assert!(alerts(&[], &survey(2024, &[]), &[policy]).is_err());
}
