use super::*;

fn check(key: &str) -> &'static RatingScale {
    RatingScale::by_key(key).unwrap()
}

#[test]
fn every_built_in_scale_passes_the_checks_of_a_new_one() {
    let keys: Vec<&str> = RatingScale::builtin().iter().map(|scale| scale.key.as_str()).collect();
    assert_eq!(keys, ["dominance", "handful", "words", "fullness", "cover", "presence"]);
    for scale in RatingScale::builtin() {
        let again =
            RatingScale::new(&scale.key, &scale.name, &scale.source, scale.steps.clone()).unwrap();
        assert_eq!(&again, scale);
        assert!(!scale.source.is_empty(), "{}", scale.key);
        assert_eq!(scale.zero(), Some(Rating(0)), "{}", scale.key);
        assert!(scale.steps.iter().all(|step| !step.measure.is_empty()), "{}", scale.key);
    }
}

#[test]
fn every_code_and_name_leads_to_its_own_step() {
    for scale in RatingScale::builtin() {
        for (place, step) in scale.steps.iter().enumerate() {
            for text in [
                step.code.clone(),
                step.code.to_lowercase(),
                format!("  {} ", step.name.to_uppercase()),
            ] {
                assert_eq!(scale.read(&text), Ok(Rating(place as u8)), "{} `{text}`", scale.key);
            }
        }
    }
}

#[test]
fn ratings_are_read_leniently() {
    let table = [
        ("fullness", "3.0", Some("3")),
        ("fullness", "3,00", Some("3")),
        ("fullness", " v ", Some("V")),
        ("fullness", "Visual", Some("V")),
        ("fullness", "0", Some("0")),
        ("fullness", "2.5", None),
        ("fullness", "4", None),
        ("fullness", "", None),
        ("fullness", "T", None),
        ("dominance", "t", Some("T")),
        ("dominance", "Trace", Some("T")),
        ("handful", "medium", Some("M")),
        ("handful", "1", None),
        ("words", "DENSE", Some("D")),
        ("cover", "6", Some("6")),
        ("presence", "x", Some("P")),
        ("presence", "1.0", Some("P")),
        ("presence", "yes", Some("P")),
        ("presence", "0", Some("0")),
        ("presence", "2", None),
    ];
    for (key, text, want) in table {
        let got = check(key).step(text).map(|step| step.code.as_str());
        assert_eq!(got, want, "{key} `{text}`");
    }
}

#[test]
fn an_unknown_rating_lists_the_legal_codes() {
    let error = check("fullness").read(" D ").unwrap_err();
    assert_eq!(
        error.to_string(),
        "rating `D` is not on the scale `rake fullness 1 to 3, with visual`, expected `0`, `1`, `2`, `3` or `V`"
    );
    let percent = RatingScale::numbers("percent", 0, 100).unwrap();
    assert!(percent.read("101").unwrap_err().to_string().ends_with("expected `0` to `100`"));
}

/// Source: Daubenmire class midpoints as given on the Rangelands Gateway's page on the method.
#[test]
fn midpoints_of_the_cover_classes() {
    let middles: Vec<f64> = check("cover")
        .steps
        .iter()
        .filter_map(|step| step.cover)
        .map(|cover| cover.middle() * 100.0)
        .collect();
    for (got, want) in middles.iter().zip([2.5, 15.0, 37.5, 62.5, 85.0, 97.5]) {
        assert!((got - want).abs() < 1e-9, "{got} {want}");
    }
    assert_eq!(middles.len(), 6);
    // classes 2, 2, 3, 6: mean cover 41.25 % (arithmetic on the midpoints above)
    let mean = ["2", "2", "3", "6"]
        .iter()
        .map(|code| check("cover").step(code).unwrap().cover.unwrap().middle())
        .sum::<f64>()
        / 4.0;
    assert!((mean - 0.4125).abs() < 1e-12);
}

/// Source: Hauxwell et al. (2010), steps from memory: a visual is never on the rake.
#[test]
fn a_visual_has_no_number_and_is_not_on_the_rake() {
    let scale = check("fullness");
    let visual = scale.step("V").unwrap();
    assert_eq!((visual.value, visual.on_rake), (None, false));
    let numbers: Vec<_> = scale.steps.iter().map(|step| step.value).collect();
    assert_eq!(numbers, [Some(0), Some(1), Some(2), Some(3), None]);
}

/// Source: common practice.
#[test]
fn no_taxon_is_rated_above_the_whole_rake() {
    let table = [
        ("fullness", "2", "3", true),
        ("fullness", "3", "3", true),
        ("fullness", "3", "2", false),
        ("fullness", "V", "0", true),
        ("fullness", "1", "0", false),
        ("fullness", "1", "V", false),
        ("dominance", "1", "T", false),
        ("dominance", "T", "1", true),
    ];
    for (key, taxon, total, want) in table {
        let scale = check(key);
        let result = scale.within_total(scale.read(taxon).unwrap(), scale.read(total).unwrap());
        assert_eq!(result.is_ok(), want, "{key} {taxon} of {total}");
    }
    let scale = check("dominance");
    let error = scale.within_total(Rating(5), Rating(3)).unwrap_err();
    assert_eq!(
        error.to_string(),
        "rated `4`, more than the whole rake with `2`: the part is never above the whole"
    );
}

#[test]
fn a_faulty_scale_says_everything_that_is_wrong() {
    let steps = vec![
        Step::new("a", "some", "", 2),
        Step::new("A", "more", "", 1),
        Step::new("", "most", "", 3).with_cover(0.9, 0.2),
    ];
    let faults = RatingScale::user_defined("handful", "ours", steps).unwrap_err();
    assert_eq!(
        faults,
        [
            ScaleError::BuiltInKey { key: "handful".into() },
            ScaleError::Repeated { scale: "handful".into(), word: "A".into() },
            ScaleError::NoCode { scale: "handful".into(), place: 3 },
            ScaleError::CoverOutOfOrder { scale: "handful".into(), code: String::new() },
            ScaleError::ValuesFall { scale: "handful".into(), code: "A".into() },
        ]
    );
    for fault in faults {
        let text = fault.to_string();
        assert!(!text.ends_with('.') && text.starts_with(|c: char| !c.is_uppercase()), "{text}");
    }
}

#[test]
fn scales_that_do_not_construct() {
    let one = |steps| RatingScale::new("ours", "ours", "test", steps).unwrap_err();
    let scale = || "ours".to_owned();
    let table = [
        ("nothing at all", one(vec![]), ScaleError::NoSteps { scale: scale() }),
        ("only zero", one(vec![none()]), ScaleError::NoSteps { scale: scale() }),
        (
            "only seen",
            one(vec![Step::seen_only("V", "visual", "")]),
            ScaleError::NoSteps { scale: scale() },
        ),
        (
            "a name that is another's code",
            one(vec![Step::new("1", "2", "", 1), Step::new("2", "two", "", 2)]),
            ScaleError::Repeated { scale: scale(), word: "2".into() },
        ),
        (
            "two zeros",
            one(vec![none(), Step::new("T", "trace", "", 0), Step::new("1", "one", "", 1)]),
            ScaleError::ValuesFall { scale: scale(), code: "T".into() },
        ),
        (
            "on the rake without a number",
            one(vec![
                Step { value: None, ..Step::new("1", "one", "", 1) },
                Step::new("2", "two", "", 2),
            ]),
            ScaleError::ValueMissing { scale: scale(), code: "1".into() },
        ),
        (
            "seen before rated",
            one(vec![Step::seen_only("V", "visual", ""), Step::new("1", "one", "", 1)]),
            ScaleError::SeenNotLast { scale: scale(), code: "1".into() },
        ),
        (
            "overlapping cover",
            one(vec![
                Step::new("1", "one", "", 1).with_cover(0.0, 0.3),
                Step::new("2", "two", "", 2).with_cover(0.2, 0.5),
            ]),
            ScaleError::CoverOutOfOrder { scale: scale(), code: "2".into() },
        ),
    ];
    for (name, faults, want) in table {
        assert_eq!(faults, [want], "{name}");
    }
}

#[test]
fn plain_numbers_make_a_scale() {
    let scale = RatingScale::numbers("import-1", 1, 4).unwrap();
    assert_eq!(scale.codes().collect::<Vec<_>>(), ["1", "2", "3", "4"]);
    assert_eq!(scale.zero(), None);
    assert_eq!(scale.step_of(scale.read("3.0").unwrap()).unwrap().value, Some(3));
    let with_zero = RatingScale::numbers("import-2", 0, 5).unwrap();
    assert_eq!(with_zero.zero(), Some(Rating(0)));
    // one number only is presence written as that number
    assert_eq!(RatingScale::numbers("import-3", 0, 1).unwrap().read("x"), Ok(Rating(1)));
    for (least, most) in [(0, 0), (4, 3), (0, 255)] {
        assert!(RatingScale::numbers("bad", least, most).is_err(), "{least} to {most}");
    }
}

fn none() -> Step {
    Step::new("0", "none", "", 0)
}

#[test]
fn codes_of_a_file_are_ranked() {
    let codes = ["TR", "0.5", "10", "0.1", "10.0"];
    let scale = RatingScale::of_codes("file", codes, &[]).unwrap();
    assert_eq!(scale.codes().collect::<Vec<_>>(), ["0", "TR", "0.1", "0.5", "10"]);
    assert!(scale.read("tr").unwrap() < scale.read("0.1").unwrap());
    let order: Vec<String> = ["lo", "HI"].map(str::to_owned).into();
    let scale = RatingScale::of_codes("file", ["HI", "lo"], &order).unwrap();
    assert_eq!(scale.codes().collect::<Vec<_>>(), ["0", "lo", "HI"]);
    let faults = RatingScale::of_codes("file", ["HI", "1", "lo"], &[]).unwrap_err();
    assert_eq!(
        faults[0].to_string(),
        "the ratings `HI`, `lo` do not say which is more: name all codes, the least first"
    );
}
