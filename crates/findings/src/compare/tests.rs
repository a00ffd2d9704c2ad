use super::*;
use crate::stats::assert_close;
use crate::testing::{rake, record};
use jiff::civil::date;
use survey::{Code, CrewMember, CrewRole, Purpose, Scope};
use units::{LonLat, UnitSystem};

/// Two records of the same sites, in which each pair of notes is `both` and so on times over.
fn same_sites(
    both: usize,
    lost: usize,
    gained: usize,
    neither: usize,
) -> (SurveyRecord, SurveyRecord) {
    let (mut from, mut to) = (record(&["CEDE"]), record(&["CEDE"]));
    for (times, first, second) in
        [(both, true, true), (lost, true, false), (gained, false, true), (neither, false, false)]
    {
        for _ in 0..times {
            rake(&mut from, Some(1.0), if first { &["CEDE 1"] } else { &[] });
            rake(&mut to, Some(1.0), if second { &["CEDE 3"] } else { &[] });
        }
    }
    for one in [&mut from, &mut to] {
        one.survey.crew = vec![crew("Ada")];
        one.survey.start = Some(date(2024, 6, 10));
    }
    (from, to)
}

/// Two records on different sites.
fn different_sites(first: (usize, usize), second: (usize, usize)) -> (SurveyRecord, SurveyRecord) {
    let (mut from, mut to) = same_sites(0, 0, 0, 0);
    for (record, (k, n)) in [(&mut from, first), (&mut to, second)] {
        for site in 0..n {
            rake(record, Some(1.0), if site < k { &["CEDE 2"] } else { &[] });
        }
    }
    for (number, site) in to.sites.iter_mut().enumerate() {
        site.code = Code::new(&format!("B{number}")).unwrap();
    }
    (from, to)
}

fn crew(name: &str) -> CrewMember {
    CrewMember { name: name.to_owned(), role: CrewRole::Lead, identified: true }
}

fn kinds(comparison: &Comparison) -> Vec<&'static str> {
    comparison.warnings.iter().map(Warning::kind).collect()
}

fn only(comparison: &Comparison) -> &Change {
    assert_eq!(comparison.taxa.len(), 1);
    &comparison.taxa[0].change
}

#[test]
fn armitage_1994_counts_as_sites_give_the_paired_test() {
    // Armitage & Berry (1994), p. 127: 20, 12 / 2, 16; mid-P recomputed
    let (from, to) = same_sites(20, 12, 2, 16);
    let comparison = Comparison::of(&from, &to);
    assert_eq!(comparison.design, Design::Paired { pairs: 50 });
    assert_eq!(kinds(&comparison), Vec::<&str>::new());
    let change = only(&comparison);
    assert_eq!((change.from.k, change.from.n, change.to.k), (32, 50, 22));
    assert_eq!(change.test, Some(Test::McNemarMidP));
    assert_close(change.p.unwrap(), 0.007_385_25, 5e-9, "mid-P");
    assert_close(change.p_adjusted.unwrap(), 0.007_385_25, 5e-9, "alone");
    assert_close(change.difference.unwrap().value, -0.2, 1e-12, "difference");
    assert!(change.difference.unwrap().high < 0.0);
    assert_eq!(change.verdict, Verdict::Fell);
    // all plants together are this one plant
    assert_eq!(comparison.any.p, change.p);
    assert_eq!(comparison.any.verdict.words(), "fell");
}

#[test]
fn usgs_2002_pool_12_coontail_on_different_sites_cannot_tell() {
    // UMESC 2002 table 6: 31 of 120 and 12 of 81; p recomputed with scipy
    let (from, to) = different_sites((31, 120), (12, 81));
    let comparison = Comparison::of(&from, &to);
    assert_eq!(comparison.design.key(), "independent");
    let change = only(&comparison);
    assert_eq!(change.test, Some(Test::ChiSquared));
    assert_close(change.p.unwrap(), 0.061_693, 5e-7, "p");
    assert_eq!(change.verdict, Verdict::CannotTell);
    assert_eq!(change.sites, None);
    let detectable = change.detectable.smallest().unwrap();
    assert!(detectable > 31.0 / 120.0 - 12.0 / 81.0, "a change of this size was out of reach");
}

#[test]
fn few_sites_are_tested_exactly() {
    // [[8,2],[1,5]]: scipy manual, two-sided 0.0349650
    let (from, to) = different_sites((8, 10), (1, 6));
    let change = Comparison::of(&from, &to).any;
    assert_eq!(change.test.map(Test::name), Some("Fisher exact"));
    assert_close(change.p.unwrap(), 0.034_965, 5e-7, "p");
    assert_eq!(change.verdict, Verdict::Fell);
}

#[test]
fn only_sites_sampled_both_times_are_paired() {
    let (mut from, mut to) = same_sites(5, 5, 0, 10);
    rake(&mut from, Some(1.0), &["CEDE 1"]);
    to.visits.pop();
    let comparison = Comparison::of(&from, &to);
    assert_eq!(comparison.design, Design::Paired { pairs: 19 });
    assert_eq!((comparison.from.sampled, comparison.from.compared), (21, 19));
    assert_eq!((comparison.to.sampled, comparison.to.compared), (19, 19));
}

#[test]
fn one_code_at_two_places_is_no_pair() {
    let (mut from, mut to) = same_sites(5, 5, 0, 10);
    for (north, record) in [(43.05, &mut from), (43.0504, &mut to)] {
        for site in &mut record.sites {
            site.planned = Some(LonLat::new(-89.4, north).unwrap());
        }
    }
    let comparison = Comparison::of(&from, &to);
    assert_eq!(comparison.design, Design::Independent);
    assert!(comparison.warnings.contains(&Warning::Moved { sites: 20 }), "44 m apart");
    for site in &mut to.sites {
        site.planned = Some(LonLat::new(-89.4, 43.0501).unwrap());
    }
    assert_eq!(Comparison::of(&from, &to).design, Design::Paired { pairs: 20 }, "11 m apart");
}

#[test]
fn a_few_shared_sites_do_not_make_pairs() {
    let (from, mut to) = different_sites((8, 20), (3, 20));
    for site in to.sites.iter_mut().take(9) {
        site.code = Code::new(&site.code.as_str()[1..].replace('0', "20")).unwrap();
    }
    let comparison = Comparison::of(&from, &to);
    assert_eq!(comparison.design, Design::Independent);
    assert!(comparison.warnings.contains(&Warning::FewShared { sites: 9 }));
}

#[test]
fn usgs_1998_depth_cap_restricts_to_the_shared_depth() {
    // Long Term Resource Monitoring: sites to 3.0 m in 1998, later to 2.5 m; the deeper ones dropped
    let (mut from, mut to) = same_sites(0, 0, 0, 0);
    for depth in [1.0, 2.5, 2.8, 3.0] {
        rake(&mut from, Some(depth), &["CEDE 1"]);
    }
    rake(&mut from, None, &["CEDE 1"]);
    (0..4).for_each(|_| rake(&mut to, Some(2.0), &["CEDE 1"]));
    rake(&mut to, None, &[]);
    for (number, site) in to.sites.iter_mut().enumerate() {
        site.code = Code::new(&format!("B{number}")).unwrap();
    }
    from.survey.depth_cap = Some(Metres::new(3.0));
    to.survey.depth_cap = Some(Metres::new(2.5));
    let comparison = Comparison::of(&from, &to);
    assert_eq!(comparison.shared_depth, Some(Metres::new(2.5)));
    // the later survey stopped there by rule, so its site without a depth stays
    assert_eq!((comparison.from.compared, comparison.to.compared), (2, 5));
    let warning = &comparison.warnings[0];
    assert_eq!(*warning, Warning::DepthCap { shared: Metres::new(2.5), too_deep: 2, unknown: 1 });
    assert!(warning.message(UnitSystem::Us).contains("8.2 ft"));
    from.survey.depth_cap = to.survey.depth_cap;
    assert_eq!(Comparison::of(&from, &to).shared_depth, None);
}

#[test]
fn paired_sites_beyond_the_shared_depth_are_left_out() {
    let (mut from, mut to) = same_sites(6, 0, 0, 6);
    rake(&mut from, Some(4.0), &["CEDE 1"]);
    rake(&mut to, None, &[]);
    from.survey.depth_cap = Some(Metres::new(3.0));
    let comparison = Comparison::of(&from, &to);
    assert_eq!(comparison.design, Design::Paired { pairs: 12 });
    assert_eq!(kinds(&comparison), ["depth-cap"]);
}

#[test]
fn scales_of_the_same_steps_are_one_scale_whatever_they_are_called() {
    let (from, mut to) = same_sites(6, 0, 0, 6);
    to.scale.key = "ours-2026".to_owned();
    to.scale.name = "Ours of 2026".to_owned();
    to.scale.source = "typed again".to_owned();
    assert!(!kinds(&Comparison::of(&from, &to)).contains(&"scale"));
    let last = to.scale.steps.len() - 1;
    to.scale.steps[last].code = "other".to_owned();
    assert!(kinds(&Comparison::of(&from, &to)).contains(&"scale"));
}

#[test]
fn what_differs_is_said_first() {
    let (mut from, mut to) = same_sites(6, 0, 0, 6);
    to.scale = survey::scale::RatingScale::by_key("presence").unwrap().clone();
    to.survey.method = survey::Method::Transects;
    to.survey.purpose = Purpose::Delineation;
    to.survey.start = Some(date(2026, 8, 1));
    to.survey.crew = vec![crew("Ada"), crew("Bert")];
    to.survey.throws_per_site = 3;
    to.survey.scope = Scope::Only(Vec::new());
    let comparison = Comparison::of(&from, &to);
    assert_eq!(
        kinds(&comparison),
        ["scale", "method", "purpose", "season", "observers", "throws", "scope"]
    );
    for warning in &comparison.warnings {
        assert!(warning.message(UnitSystem::Metric).ends_with('.'), "{warning:?}");
    }
    assert_eq!(comparison.taxa[0].rating, None);
    assert_eq!(only(&comparison).verdict, Verdict::NotCompared(Withheld::NotLookedFor));
    assert_eq!(only(&comparison).p, None);
    from.survey.start = None;
    from.survey.crew.clear();
    let unknown = kinds(&Comparison::of(&from, &to));
    assert!(unknown.contains(&"no-date") && unknown.contains(&"no-observers"));
}

#[test]
fn before_and_after_a_treatment_are_not_two_purposes() {
    let (mut from, mut to) = same_sites(6, 0, 0, 6);
    from.survey.purpose = Purpose::PreTreatment;
    to.survey.purpose = Purpose::PostTreatment;
    assert_eq!(kinds(&Comparison::of(&from, &to)), Vec::<&str>::new());
    assert_eq!(kinds(&Comparison::of(&to, &from)), ["purpose"]);
}

#[test]
fn the_season_turns_with_the_year_and_knows_leap_days() {
    let table = [
        (date(2024, 6, 10), date(2025, 6, 24), None),
        (date(2024, 6, 10), date(2025, 6, 25), Some(15)),
        (date(2024, 12, 28), date(2025, 1, 4), None),
        (date(2023, 7, 1), date(2024, 7, 15), None),
    ];
    for (first, second, expected) in table {
        let (mut from, mut to) = same_sites(3, 0, 0, 3);
        from.survey.start = Some(first);
        to.survey.start = Some(second);
        let days = Comparison::of(&from, &to).warnings.iter().find_map(|one| match one {
            Warning::Season { days } => Some(*days),
            _ => None,
        });
        assert_eq!(days, expected, "{first} {second}");
    }
}

#[test]
fn curly_leaf_pondweed_after_july_is_said_to_die_back() {
    let name = "Potamogeton crispus";
    let (mut from, mut to) = (record(&[name]), record(&[name]));
    for _ in 0..8 {
        rake(&mut from, Some(1.0), &[]);
        rake(&mut to, Some(1.0), &[]);
    }
    from.survey.start = Some(date(2024, 6, 20));
    to.survey.start = Some(date(2024, 7, 1));
    assert!(!kinds(&Comparison::of(&from, &to)).contains(&"die-back"), "no such plant");
    from.visits.pop();
    from.sites.pop();
    let found = crate::testing::throw(&from, 1, &[]);
    let mut found = found;
    found.observations.push(survey::Observation {
        taxon: from.taxa[0].id,
        rating: None,
        seen: survey::HowSeen::Rake,
    });
    let sampling = survey::Sampling::new(vec![found], None).unwrap();
    crate::testing::visit(&mut from, Some(1.0), survey::SiteResult::Sampled(sampling));
    let comparison = Comparison::of(&from, &to);
    assert!(comparison.warnings.contains(&Warning::DieBack { late: vec![date(2024, 7, 1)] }));
    to.survey.start = Some(date(2024, 6, 30));
    assert!(!kinds(&Comparison::of(&from, &to)).contains(&"die-back"), "before July");
}

#[test]
fn a_survey_without_sites_is_not_compared() {
    let (from, _) = same_sites(4, 0, 0, 4);
    let (_, empty) = same_sites(0, 0, 0, 0);
    let comparison = Comparison::of(&from, &empty);
    assert_eq!(kinds(&comparison), ["nothing-to-compare"]);
    assert_eq!(only(&comparison).verdict, Verdict::NotCompared(Withheld::NoSites));
    assert_eq!(comparison.any.difference, None);
    assert_eq!(comparison.any.detectable.smallest(), None);
}

#[test]
fn many_taxa_share_the_adjustment() {
    let names = ["AAAA", "BBBB", "CCCC"];
    let (mut from, mut to) = (record(&names), record(&names));
    for site in 0..40 {
        // AAAA lost at 12 sites, BBBB at 6, CCCC at one; all at half the sites to begin with
        let first: Vec<&str> = if site < 20 { names.to_vec() } else { Vec::new() };
        let second: Vec<&str> = names
            .iter()
            .zip([12, 6, 1])
            .filter(|(_, lost)| site >= *lost && site < 20)
            .map(|(name, _)| *name)
            .collect();
        rake(&mut from, Some(1.0), &first);
        rake(&mut to, Some(1.0), &second);
    }
    let comparison = Comparison::of(&from, &to);
    let changes: HashMapOf<'_> = comparison
        .taxa
        .iter()
        .map(|one| (one.taxon.scientific_name.as_str(), &one.change))
        .collect();
    // mid-P of a loss at k sites and no gain is 2⁻ᵏ
    for (name, raw, adjusted, verdict) in [
        ("AAAA", 1.0 / 4_096.0, 3.0 / 4_096.0, Verdict::Fell),
        ("BBBB", 1.0 / 64.0, 1.5 / 64.0, Verdict::Fell),
        ("CCCC", 0.5, 0.5, Verdict::CannotTell),
    ] {
        assert_close(changes[name].p.unwrap(), raw, 1e-15, name);
        assert_close(changes[name].p_adjusted.unwrap(), adjusted, 1e-15, name);
        assert_eq!(changes[name].verdict, verdict, "{name}");
    }
    assert_eq!(comparison.any.p_adjusted, None);
}

type HashMapOf<'a> = std::collections::HashMap<&'a str, &'a Change>;

#[test]
fn a_raw_p_below_the_level_may_not_survive_the_number_of_taxa() {
    let names: Vec<String> = (0..12).map(|number| format!("T{number:03}")).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let (mut from, mut to) = (record(&names), record(&names));
    for site in 0..30 {
        rake(&mut from, Some(1.0), if site < 10 { &names } else { &[] });
        // the first taxon is lost at six sites, the others trade one site for another
        let mut second: Vec<&str> =
            if (1..11).contains(&site) { names[1..].to_vec() } else { Vec::new() };
        if (6..10).contains(&site) {
            second.push(names[0]);
        }
        rake(&mut to, Some(1.0), &second);
    }
    let comparison = Comparison::of(&from, &to);
    let lost =
        &comparison.taxa.iter().find(|one| one.taxon.scientific_name == "T000").unwrap().change;
    assert!(lost.p.unwrap() < 0.05 && lost.p_adjusted.unwrap() > 0.05);
    assert_eq!(lost.verdict, Verdict::CannotTell);
}

#[test]
fn ratings_on_one_scale_at_the_same_sites_are_compared() {
    let (from, to) = same_sites(9, 0, 0, 5);
    let rating = Comparison::of(&from, &to).taxa[0].rating.clone().unwrap();
    assert_close(rating.mean_from, 9.0 / 14.0, 1e-12, "mean before");
    assert_close(rating.mean_to, 27.0 / 14.0, 1e-12, "mean after");
    let test = rating.test.unwrap();
    // nine sites up, none down: 2/2⁹
    assert_close(test.p, 2.0 / 512.0, 1e-15, "p");
    assert_eq!((test.changed, test.unchanged, test.exact), (9, 5, true));
}

#[test]
fn a_taxon_found_only_at_sites_left_out_is_not_compared() {
    let (mut from, to) = same_sites(0, 0, 0, 8);
    rake(&mut from, Some(1.0), &["CEDE 1"]);
    let change = only(&Comparison::of(&from, &to)).clone();
    assert_eq!(change.verdict, Verdict::NotCompared(Withheld::OnlyElsewhere));
    assert_eq!((change.p, change.p_adjusted), (None, None));
}
