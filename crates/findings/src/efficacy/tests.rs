use super::*;
use crate::stats::assert_close;
use crate::testing::{rake, record};
use jiff::civil::date;
use survey::{Code, Origin};
use units::UnitSystem;

/// Sites 1.. treated, then untreated; each part by both, lost, gained, neither of the target.
fn lake(treated: [usize; 4], untreated: [usize; 4]) -> (SurveyRecord, SurveyRecord) {
    let (mut before, mut after) = (record(&["MYSP", "CEDE"]), record(&["MYSP", "CEDE"]));
    before.taxa[0].origin = Origin::Introduced;
    after.taxa[0].origin = Origin::Introduced;
    for part in [treated, untreated] {
        for (times, first, second) in [
            (part[0], true, true),
            (part[1], true, false),
            (part[2], false, true),
            (part[3], false, false),
        ] {
            for number in 0..times {
                let native = if number % 2 == 0 { "CEDE 1" } else { "CEDE 2" };
                let notes =
                    |there: bool, rating| if there { vec![rating, native] } else { vec![native] };
                rake(&mut before, Some(1.0), &notes(first, "MYSP 3"));
                rake(&mut after, Some(1.0), &notes(second, "MYSP 1"));
            }
        }
    }
    before.survey.start = Some(date(2024, 5, 10));
    after.survey.start = Some(date(2024, 8, 10));
    (before, after)
}

fn number(site: &Site) -> usize {
    site.code.as_str().parse().unwrap()
}

fn up_to(treated: usize) -> impl Fn(&Site) -> Part {
    move |site| Part { treated: number(site) <= treated, untreated: number(site) > treated }
}

fn ask(
    before: Option<&SurveyRecord>,
    after: &SurveyRecord,
    part: &dyn Fn(&Site) -> Part,
) -> Efficacy {
    let targets = [after.taxa[0].id];
    let question = Question { before, after, later: None, targets: &targets, part };
    Efficacy::of(&question, Options { permutations: 499, resamples: 499, ..Options::with_seed(4) })
        .unwrap()
}

fn kinds(efficacy: &Efficacy) -> Vec<&'static str> {
    efficacy.warnings.iter().map(EfficacyWarning::kind).collect()
}

#[test]
fn henderson_1955_treated_fifty_to_five_untreated_forty_to_sixty_worked() {
    // Tb 50, Ta 5 of 100; Cb 40, Ca 60 of 100: 93.333 %
    let (before, after) = lake([5, 45, 0, 50], [40, 0, 20, 40]);
    let got = ask(Some(&before), &after, &up_to(100));
    assert_eq!(got.verdict, EfficacyVerdict::Yes);
    let share = got.target.control.henderson_tilton.unwrap();
    assert_close(share.value, 0.933_333_333, 5e-10, "Henderson–Tilton");
    assert!(share.interval.unwrap().low > 0.8);
    assert_close(got.target.control.abbott.unwrap().value, 1.0 - 5.0 / 60.0, 1e-12, "Abbott");
    assert_close(got.target.difference.unwrap().value, -0.65, 1e-12, "points");
    assert!(got.target.treated.same_sites && got.target.p.unwrap() < 0.01);
    let density = got.target.density.as_ref().unwrap();
    assert_close(density.treated.0, 1.5, 1e-12, "half the sites at 3");
    assert_close(density.treated.1, 0.05, 1e-12, "one in twenty at 1");
    assert!(density.difference.unwrap().high < 0.0);
    // the native stood everywhere both times
    assert_eq!(got.natives.len(), 1);
    assert_close(got.natives[0].effect.difference.unwrap().value, 0.0, 1e-12, "native");
    assert_eq!(kinds(&got), ["season"], "surveys lie 92 days of the year apart");
    assert!(got.survey_warnings.iter().any(|one| one.kind() == "season"));
}

#[test]
fn a_fall_on_both_sides_is_no_effect() {
    let (before, after) = lake([10, 20, 0, 10], [11, 19, 0, 10]);
    let got = ask(Some(&before), &after, &up_to(40));
    assert_eq!(got.verdict, EfficacyVerdict::CannotTell(Untold::WithinChance));
    assert!(got.target.detectable.unwrap() > 0.1, "and says what could have been seen");
    let worth = |fall| {
        let targets = [after.taxa[0].id];
        let part = up_to(40);
        let question = Question {
            before: Some(&before),
            after: &after,
            later: None,
            targets: &targets,
            part: &part,
        };
        let options = Options { worthwhile_fall: Some(fall), ..Options::with_seed(4) };
        Efficacy::of(&question, options).unwrap().verdict
    };
    assert_eq!(worth(0.5), EfficacyVerdict::No(NoEffect::LessThanWorthwhile));
    assert_eq!(worth(0.1), EfficacyVerdict::CannotTell(Untold::WithinChance));
}

#[test]
fn a_rise_beyond_the_untreated_part_did_not_work() {
    let (before, after) = lake([10, 0, 25, 5], [20, 5, 4, 11]);
    let got = ask(Some(&before), &after, &up_to(40));
    assert_eq!(got.verdict, EfficacyVerdict::No(NoEffect::Rose));
    assert!(got.target.control.henderson_tilton.unwrap().value < 0.0, "an increase");
}

#[test]
fn without_before_without_untreated_or_without_the_target_nobody_can_tell() {
    let (before, after) = lake([5, 25, 0, 10], [20, 5, 4, 11]);
    let got = ask(None, &after, &up_to(40));
    assert_eq!(got.verdict, EfficacyVerdict::CannotTell(Untold::NoBefore));
    assert_eq!(kinds(&got), ["no-before"]);
    assert_eq!((got.target.treated.after.k, got.target.treated.before.n), (5, 0));
    assert!(got.target.control.henderson_tilton.is_none() && got.target.difference.is_none());

    let got = ask(Some(&before), &after, &up_to(80));
    assert_eq!(got.verdict, EfficacyVerdict::CannotTell(Untold::NoUntreatedSites));
    assert!(kinds(&got).contains(&"no-untreated"));
    let got = ask(Some(&before), &after, &up_to(0));
    assert_eq!(got.verdict, EfficacyVerdict::CannotTell(Untold::NoTreatedSites));

    let (before, after) = lake([0, 0, 0, 20], [20, 5, 4, 11]);
    let got = ask(Some(&before), &after, &up_to(20));
    assert_eq!(got.verdict, EfficacyVerdict::CannotTell(Untold::NothingBefore));
    assert_eq!(got.verdict.words(), "cannot tell");
    let (before, after) = lake([0, 3, 0, 0], [20, 5, 4, 11]);
    let got = ask(Some(&before), &after, &up_to(3));
    assert_eq!(got.verdict, EfficacyVerdict::CannotTell(Untold::TooFewSites));
    assert!(kinds(&got).contains(&"few-sites"));
}

#[test]
fn sites_in_both_parts_are_left_out_and_said() {
    let (before, after) = lake([5, 25, 0, 10], [20, 5, 4, 11]);
    let part = |site: &Site| Part { treated: number(site) <= 42, untreated: number(site) > 40 };
    let got = ask(Some(&before), &after, &part);
    assert!(got.warnings.contains(&EfficacyWarning::Overlap { sites: 2 }));
    assert_eq!((got.target.treated.after.n, got.target.untreated.after.n), (40, 38));
}

#[test]
fn other_sites_after_than_before_are_compared_as_different_ones() {
    let (before, mut after) = lake([5, 25, 0, 10], [20, 5, 4, 11]);
    for site in &mut after.sites {
        site.code = Code::new(&format!("{}", number(site) + 1_000)).unwrap();
    }
    let part = |site: &Site| {
        let treated = number(site) % 1_000 <= 40;
        Part { treated, untreated: !treated }
    };
    let got = ask(Some(&before), &after, &part);
    assert!(!got.target.treated.same_sites);
    assert_eq!(got.verdict, EfficacyVerdict::Yes);
}

#[test]
fn the_year_after_tells_whether_it_lasted() {
    let (before, after) = lake([5, 25, 0, 10], [20, 5, 4, 11]);
    let (_, mut later) = lake([28, 2, 0, 10], [20, 5, 4, 11]);
    later.survey.start = Some(date(2025, 5, 12));
    let targets = [after.taxa[0].id];
    let part = up_to(40);
    let question = Question {
        before: Some(&before),
        after: &after,
        later: Some(&later),
        targets: &targets,
        part: &part,
    };
    let got = Efficacy::of(&question, Options::with_seed(4)).unwrap();
    assert_eq!(got.verdict, EfficacyVerdict::Yes);
    let lasting = got.persistence.unwrap();
    assert_eq!(lasting.treated.after.k, 28);
    assert!(lasting.difference.unwrap().high > 0.0, "it came back");
}

#[test]
fn questions_that_cannot_be_asked_say_why() {
    let (before, after) = lake([5, 5, 0, 5], [5, 5, 0, 5]);
    let part = up_to(15);
    let verdict = |before, after, targets: &[TaxonId]| {
        let question = Question { before, after, later: None, targets, part: &part };
        Efficacy::of(&question, Options::with_seed(1)).map(|got| got.verdict)
    };
    assert_eq!(verdict(Some(&before), &after, &[]), Err(EfficacyError::NoTarget));
    let stranger = crate::testing::taxon("POCR").id;
    let error = verdict(Some(&before), &after, &[stranger]).unwrap_err();
    assert!(error.to_string().contains("on the list of none"), "{error}");
    let error = verdict(Some(&after), &before, &[after.taxa[0].id]).unwrap_err();
    assert!(matches!(error, EfficacyError::WrongOrder { .. }));
    let got = ask(Some(&before), &after, &part);
    assert!(got.survey_warnings.iter().all(|one| one.message(UnitSystem::Metric).ends_with('.')));
    assert!(got.warnings.iter().all(|one| one.message().ends_with('.')));
}

/// Fifty treated and fifty untreated sites; afterwards the target is written down as its genus at so
/// many of the treated sites where it had stood, and nowhere else in the treated part.
fn written_as_genus(sites: usize) -> (SurveyRecord, SurveyRecord) {
    let codes = ["MYSP", "MYRIO"];
    let (mut before, mut after) = (record(&codes), record(&codes));
    for site in 0..100 {
        let treated = site < 50;
        let stood = site % 50 < 40;
        rake(&mut before, Some(1.0), if stood { &["MYSP 3"] } else { &[] });
        let note: &[&str] = match (stood, treated) {
            (true, false) => &["MYSP 3"],
            (true, true) if site < sites => &["MYRIO 3"],
            _ => &[],
        };
        rake(&mut after, Some(1.0), note);
    }
    for one in [&mut before, &mut after] {
        one.taxa[0].scientific_name = "Myriophyllum spicatum".into();
        one.taxa[0].origin = Origin::Introduced;
        one.taxa[1].scientific_name = "Myriophyllum".into();
        one.taxa[1].origin = Origin::Unknown;
        one.taxa[1].rank = survey::Rank::Genus;
    }
    before.survey.start = Some(date(2024, 6, 1));
    after.survey.start = Some(date(2024, 6, 20));
    (before, after)
}

#[test]
fn a_target_written_down_as_its_genus_afterwards_was_not_treated_away() {
    let (before, mut after) = written_as_genus(36);
    let got = ask(Some(&before), &after, &up_to(50));
    assert_eq!(got.verdict, EfficacyVerdict::CannotTell(Untold::Names));
    assert_eq!(got.target.may_be, [after.taxa[1].id]);
    assert!(got.target.difference.unwrap().high < 0.0, "the figures stay as they are");
    assert!(kinds(&got).contains(&"names"));
    assert!(got.warnings.iter().any(|one| one.message().contains("as Myriophyllum too")));
    // who knows that the genus stands for the natives says so on the list
    after.taxa[1].origin = Origin::Native;
    assert_eq!(ask(Some(&before), &after, &up_to(50)).verdict, EfficacyVerdict::Yes);
    let (before, after) = written_as_genus(3);
    let got = ask(Some(&before), &after, &up_to(50));
    assert_eq!(got.verdict, EfficacyVerdict::Yes, "three such sites do not hide a plain fall");
    assert!(!kinds(&got).contains(&"names"));
}
