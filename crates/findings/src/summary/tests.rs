use super::*;
use crate::one::Options;
use crate::testing::{rake, record};
use survey::SurveyRecord;

fn made(with: usize, sites: usize) -> SurveyRecord {
    let mut record = record(&["CEDE", "MYSP"]);
    record.taxa[0].common_name = "coontail".to_owned();
    record.taxa[1].origin = Origin::Introduced;
    for site in 0..sites {
        let notes: &[&str] = match site {
            _ if site < with / 2 => &["CEDE 2", "MYSP 1"],
            _ if site < with => &["CEDE 2"],
            _ => &[],
        };
        rake(&mut record, Some(1.5), notes);
    }
    record
}

fn texts(findings: &Everything<'_>) -> Vec<String> {
    summary(findings, UnitSystem::Metric).into_iter().map(|one| one.text).collect()
}

#[test]
fn what_is_here_is_said_with_its_figures() {
    let findings = SurveyFindings::of(&made(31, 120), &Options::default());
    let everything = Everything { survey: Some(&findings), ..Everything::default() };
    let said = summary(&everything, UnitSystem::Metric);
    // USGS 2002, Pool 12: 31 of 120, 25.8 %; Wilson limits 18.8 to 34.3 %
    assert_eq!(said[0].text, "Plants came up at 26 % (31 of 120 sites, 95 % interval 19 to 34 %).");
    let figure = &said[0].figures[0];
    assert!((figure.value - 31.0 / 120.0).abs() < 1e-12 && figure.low.is_some());
    let texts: Vec<&str> = said.iter().map(|one| one.text.as_str()).collect();
    assert!(texts.iter().any(|text| text.starts_with("Coontail came up at 26 %")), "{texts:?}");
    assert!(texts.iter().any(|text| text.starts_with("MYSP (introduced) came up at 13 %")));
    assert!(
        texts.iter().any(|text| text.contains("2 kinds of plants came up, 1 of them introduced"))
    );
    assert!(
        texts.last().unwrap().contains("may still stand at up to 2.5 % of places"),
        "{texts:?}"
    );
    assert!(said.iter().all(|one| !one.cannot_tell && one.text.ends_with('.')));
}

#[test]
fn change_and_no_change_are_told_apart_and_what_could_have_shown_is_said() {
    let (from, to) = (made(60, 120), made(20, 120));
    let comparison = Comparison::of(&from, &to);
    let everything = Everything { comparison: Some(&comparison), ..Everything::default() };
    let said = texts(&everything);
    assert!(said[0].starts_with("Plant growth became rarer between"), "{said:?}");
    assert!(said[0].contains("50 to 17 %, difference −33 points"), "{said:?}");
    let comparison = Comparison::of(&made(60, 120), &made(58, 120));
    let everything = Everything { comparison: Some(&comparison), ..Everything::default() };
    let said = summary(&everything, UnitSystem::Metric);
    assert!(said[0].cannot_tell && said[0].text.contains("cannot tell whether they changed"));
    assert!(said[0].text.contains("could not have shown"), "{}", said[0].text);
}

#[test]
fn nothing_sampled_and_nothing_compared_cannot_tell() {
    let none = made(0, 0);
    let findings = SurveyFindings::of(&none, &Options::default());
    let comparison = Comparison::of(&none, &made(5, 10));
    let everything = Everything {
        survey: Some(&findings),
        comparison: Some(&comparison),
        ..Everything::default()
    };
    let said = summary(&everything, UnitSystem::Metric);
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said.iter().all(|one| one.cannot_tell));
    assert!(summary(&Everything::default(), UnitSystem::Metric).is_empty());
}

#[test]
fn a_treatment_is_answered_with_its_reason() {
    use crate::efficacy::{Options, Part, Question};
    let (before, after) = (made(60, 120), made(20, 120));
    let targets = [before.taxa[1].id];
    let answer = |before: Option<&SurveyRecord>| {
        let part = |site: &survey::Site| Part {
            treated: site.rank.is_multiple_of(2),
            untreated: site.rank % 2 == 1,
        };
        let question =
            Question { before, after: &after, later: None, targets: &targets, part: &part };
        Efficacy::of(&question, Options::with_seed(3)).unwrap()
    };
    let both = answer(Some(&before));
    let said =
        summary(&Everything { efficacy: Some(&both), ..Everything::default() }, UnitSystem::Metric);
    // both halves fell alike
    assert!(
        said[0]
            .text
            .starts_with("Cannot tell whether the treatment worked. The change is no larger")
    );
    assert!(said[0].cannot_tell && said[0].figures.iter().any(|one| one.name == "detectable"));
    let without = answer(None);
    let said = texts(&Everything { efficacy: Some(&without), ..Everything::default() });
    assert!(said[0].contains("no survey from before"), "{said:?}");
}
