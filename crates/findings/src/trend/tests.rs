use super::*;
use crate::stats::assert_close;
use crate::testing::{rake, record, taxon};
use jiff::civil::date;
use survey::scale::RatingScale;
use survey::{Id, Rank, Scope};

fn survey(year: i16, found: usize, sites: usize) -> SurveyRecord {
    let mut record = record(&["CEDE"]);
    record.survey.id = SurveyId(Id::v7(9, u128::from(year.unsigned_abs())));
    record.survey.name = year.to_string();
    record.survey.start = Some(date(year, 1, 1));
    for site in 0..sites {
        rake(&mut record, Some(1.0), if site < found { &["CEDE 1"] } else { &[] });
    }
    record
}

fn of(records: &[SurveyRecord]) -> Trend {
    let all: Vec<&SurveyRecord> = records.iter().collect();
    Trend::of(&all, Some(records[0].taxa[0].id))
}

#[test]
fn six_surveys_agree_with_a_reference_library() {
    // statsmodels 0.15 `GLM(Binomial)`: slope 0.17662126, SE 0.0442301, Pearson 2.69 on 4
    let table = [
        (2010, 12, 100),
        (2011, 15, 98),
        (2012, 11, 102),
        (2014, 22, 110),
        (2015, 19, 95),
        (2017, 33, 104),
    ];
    let mut records: Vec<SurveyRecord> = table.iter().map(|(y, k, n)| survey(*y, *k, *n)).collect();
    records.reverse();
    let trend = of(&records);
    assert_eq!(trend.surveys[0].name, "2010", "the earliest first");
    let model = trend.model.unwrap();
    assert_close(model.per_year.value, 0.176_621_26, 5e-9, "slope");
    assert_close(
        (model.per_year.high - model.per_year.value) / 2.776_445,
        0.044_230_1 * (2.690_820_389_f64 / 4.0).sqrt(),
        5e-7,
        "SE",
    );
    assert_close(model.overdispersion, 2.690_820_389 / 4.0, 1e-8, "Pearson over df");
    assert_eq!(
        (trend.verdict, model.surveys, model.degrees_of_freedom),
        (TrendVerdict::Rising, 6, 4)
    );
    let sentence = of(&records).sentence();
    assert!(
        sentence.starts_with(
            "CEDE became commoner, from 12 % in 2010 to 32 % in 2017 (odds +19 % a year"
        ),
        "{sentence}"
    );
    // 12 rises, 2 falls, and 22 of 110 ties with 19 of 95
    assert_close(trend.mann_kendall.unwrap().s, 10.0, 0.0, "S");
}

#[test]
fn a_change_of_scale_starts_a_new_stretch() {
    // falling within each stretch, though the second lies higher
    let mut records: Vec<SurveyRecord> =
        [(2010, 40), (2011, 32), (2012, 25), (2015, 70), (2016, 61), (2017, 52)]
            .map(|(year, found)| survey(year, found, 100))
            .to_vec();
    assert_eq!(of(&records).verdict, TrendVerdict::CannotTell, "taken as one it hides the fall");
    for later in &mut records[3..] {
        later.scale = RatingScale::by_key("presence").unwrap().clone();
    }
    let trend = of(&records);
    assert_eq!(trend.breaks.len(), 1);
    assert_eq!((trend.breaks[0].what, trend.breaks[0].name.as_str()), (BreakKind::Scale, "2015"));
    assert_eq!(trend.verdict, TrendVerdict::Falling);
    assert_eq!(trend.surveys.iter().map(|one| one.stretch).collect::<Vec<_>>(), [0, 0, 0, 1, 1, 1]);
    assert_close(trend.mann_kendall.unwrap().s, -6.0, 0.0, "within stretches");
}

#[test]
fn surveys_that_vary_more_than_chance_widen_the_interval() {
    let steady: Vec<SurveyRecord> = [(2010, 20), (2012, 30), (2014, 40), (2016, 50), (2018, 60)]
        .map(|(y, k)| survey(y, k, 100))
        .to_vec();
    let restless: Vec<SurveyRecord> = [(2010, 20), (2012, 60), (2014, 15), (2016, 75), (2018, 40)]
        .map(|(y, k)| survey(y, k, 100))
        .to_vec();
    let (one, other) = (of(&steady).model.unwrap(), of(&restless).model.unwrap());
    assert!(other.overdispersion > 10.0, "{other:?}");
    let width = |model: TrendModel| model.per_year.high - model.per_year.low;
    assert!(width(other) > 3.0 * width(one));
    assert_eq!(of(&restless).verdict, TrendVerdict::CannotTell);
    assert!(
        of(&restless).sentence().starts_with("Cannot tell whether CEDE became commoner or rarer")
    );
}

#[test]
fn surveys_that_cannot_take_part_are_named() {
    let mut records: Vec<SurveyRecord> = (2010..2016).map(|year| survey(year, 30, 90)).collect();
    records[1].survey.start = None;
    records[2].survey.scope = Scope::Only(Vec::new());
    records[3].taxa.clear();
    records[3].visits.iter_mut().for_each(|visit| {
        visit.result = survey::SiteResult::NotSampled(survey::NotSampled::Skipped);
    });
    records[4].visits.clear();
    let trend = of(&records);
    let why = |name: &str| trend.surveys.iter().find(|one| one.name == name).unwrap().left_out;
    assert_eq!(why("2010"), None);
    assert_eq!(why("2011"), Some(LeftOut::NoDate));
    assert_eq!(why("2012"), Some(LeftOut::NotLookedFor));
    assert_eq!(why("2013"), Some(LeftOut::NotOnTheList));
    assert_eq!(why("2014"), Some(LeftOut::NoSites));
    assert_eq!(trend.model, Err(NoTrend::TooFewSurveys { surveys: 2 }));
    assert_eq!(trend.verdict.words(), "cannot tell");
    assert!(trend.sentence().contains("at least 3"), "{}", trend.sentence());
}

#[test]
fn never_found_or_everywhere_has_no_slope() {
    let never: Vec<SurveyRecord> = (2010..2015).map(|year| survey(year, 0, 50)).collect();
    assert_eq!(of(&never).model, Err(NoTrend::NeverFound));
    let always: Vec<SurveyRecord> = (2010..2015).map(|year| survey(year, 50, 50)).collect();
    assert_eq!(of(&always).model, Err(NoTrend::Everywhere));
    assert_eq!(of(&always).mann_kendall, Err(MannKendallError::AllTied));
    let late: Vec<SurveyRecord> =
        (2010..2015).map(|year| survey(year, if year > 2013 { 7 } else { 0 }, 50)).collect();
    assert_eq!(of(&late).model, Err(NoTrend::OnlyAtOneEnd));
    assert!(
        of(&late).sentence().starts_with("Cannot tell how CEDE changed: found only at one end")
    );
}

#[test]
fn only_the_depth_all_surveys_reached_is_compared() {
    let mut records: Vec<SurveyRecord> = (2010..2014).map(|year| survey(year, 20, 50)).collect();
    records[0].survey.depth_cap = Some(Metres::new(2.5));
    for record in &mut records[1..] {
        for _ in 0..10 {
            rake(record, Some(2.8), &["CEDE 3"]);
        }
    }
    let trend = of(&records);
    assert_eq!(trend.shared_depth, Some(Metres::new(2.5)));
    assert!(trend.surveys.iter().all(|one| (one.frequency.k, one.frequency.n) == (20, 50)));
}

/// A survey of 100 sites in which a species was named at some and only its genus at others.
fn named_survey(year: i16, species: usize, genus: usize) -> SurveyRecord {
    let mut record = survey(year, 0, 0);
    record.taxa = vec![taxon("NAFL"), taxon("NAJAS")];
    for site in 0..100 {
        let note: &[&str] = match site {
            at if at < species => &["NAFL 1"],
            at if at < species + genus => &["NAJAS 1"],
            _ => &[],
        };
        rake(&mut record, Some(1.0), note);
    }
    record.taxa[0].scientific_name = "Najas flexilis".into();
    record.taxa[1].scientific_name = "Najas".into();
    record.taxa[1].rank = Rank::Genus;
    record
}

#[test]
fn a_species_written_down_under_its_genus_in_later_years_has_no_trend() {
    let years = [2010, 2012, 2014, 2016];
    let table = |genus: [usize; 4]| -> Vec<SurveyRecord> {
        let named = [60, 45, 25, 10];
        years.iter().zip(named).zip(genus).map(|((y, k), g)| named_survey(*y, k, g)).collect()
    };
    assert_eq!(of(&table([0; 4])).verdict, TrendVerdict::Falling);
    let merged = of(&table([0, 15, 35, 50]));
    assert_eq!(merged.verdict, TrendVerdict::CannotTell);
    assert_eq!(merged.may_be, ["Najas"]);
    assert_eq!(merged.surveys[3].named_otherwise, 50);
    let sentence = merged.sentence();
    assert!(sentence.starts_with("Cannot tell") && sentence.contains("as Najas too"), "{sentence}");
    let few = of(&table([0, 1, 0, 1]));
    assert_eq!(few.verdict, TrendVerdict::Falling, "a stray genus does not hide a plain fall");
    assert!(few.may_be.is_empty());
}
