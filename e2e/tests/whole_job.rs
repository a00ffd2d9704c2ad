//! The job from an empty folder to a report, as a new user does it.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::too_many_lines,
    clippy::needless_borrows_for_generic_args,
    reason = "a test stops where it must"
)]

mod common;

use common::{Desk, open_data};
use serde_json::Value;

fn close(got: &Value, want: f64, tolerance: f64) {
    let got = got.as_f64().unwrap();
    assert!((got - want).abs() <= tolerance, "got {got}, want {want}");
}

#[test]
fn a_lake_becomes_a_plan_a_record_and_findings() {
    let desk = Desk::with_lake();
    let plan = desk
        .run(&[
            "plan",
            "lake.gpkg",
            "--survey",
            "2026-summer",
            "--layout",
            "point-grid",
            "--spacing",
            "200m",
            "--scale",
            "fullness",
            "--json",
        ])
        .done()
        .json();
    let sites = plan["sites"].as_array().unwrap();
    assert!(sites.len() > 40, "{} sites", sites.len());
    // a sheet typed in: coontail at every site, nothing else
    let mut typed = String::from("site,date,depth_ft,species,rating\n");
    for site in sites {
        let depth = site["depth_m"].as_f64().unwrap() / 0.3048;
        typed.push_str(&format!(
            "{},2026-07-14,{depth:.1},coontail,2\n",
            site["code"].as_str().unwrap()
        ));
    }
    desk.write("typed.csv", typed);
    desk.run(&[
        "record",
        "lake.gpkg",
        "typed.csv",
        "--survey",
        "2026-summer",
        "--crew",
        "A. Marsh:rake*",
    ])
    .done();
    let check = desk.run(&["check", "lake.gpkg", "--survey", "2026-summer"]);
    assert_eq!(check.code, 0, "{}{}", check.out, check.err);
    desk.run(&["seal", "lake.gpkg", "--survey", "2026-summer", "--by", "A. Marsh"]).done();
    desk.run(&["verify", "lake.gpkg"]).done();
    let found =
        desk.run(&["findings", "lake.gpkg", "--survey", "2026-summer", "--json"]).done().json();
    assert_eq!(found["taxa"][0]["code"], "CEDE");
    assert_eq!(found["taxa"][0]["sites"].as_u64(), Some(sites.len() as u64));
    close(&found["frequency_any"]["all"]["p"], 1.0, 0.0);
    // one species everywhere: no diversity at all
    close(&found["simpson"], 0.0, 1e-12);
}

#[test]
fn a_sealed_survey_takes_no_more_records_and_a_changed_book_is_noticed() {
    let desk = Desk::with_lake();
    desk.write("a.csv", "site,date,depth_ft,species,rating\n1,2026-07-14,4,coontail,2\n");
    desk.write("b.csv", "site,date,depth_ft,species,rating\n2,2026-07-14,4,coontail,2\n");
    desk.run(&["record", "lake.gpkg", "a.csv", "--survey", "2026-summer", "--scale", "fullness"])
        .done();
    desk.run(&["seal", "lake.gpkg", "--survey", "2026-summer", "--by", "A. Marsh"]).done();
    let run = desk.run(&["record", "lake.gpkg", "b.csv", "--survey", "2026-summer"]);
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(run.err.contains("sealed"), "{}", run.err);
    let again = desk.run(&["seal", "lake.gpkg", "--survey", "2026-summer", "--by", "B. Reed"]);
    assert_eq!(again.code, 2, "{}", again.err);
}

#[test]
fn a_plan_is_laid_the_same_way_twice_and_keeps_given_numbers() {
    let (one, two) = (Desk::with_lake(), Desk::with_lake());
    let lay = [
        "plan",
        "lake.gpkg",
        "--survey",
        "2026",
        "--layout",
        "point-grid",
        "--spacing",
        "150m",
        "--max-depth",
        "15ft",
        "--json",
    ];
    assert_eq!(one.run(&lay).done().out, two.run(&lay).done().out);
    one.write(
        "points.csv",
        "sampling_point,latitude,longitude\nA7,45.002,-89.998\n12,45.003,-89.996\n",
    );
    let plan = one
        .run(&[
            "plan",
            "lake.gpkg",
            "--survey",
            "agency",
            "--layout",
            "given",
            "points.csv",
            "--json",
        ])
        .done()
        .json();
    let codes: Vec<&str> = plan["sites"]
        .as_array()
        .unwrap()
        .iter()
        .map(|site| site["code"].as_str().unwrap())
        .collect();
    assert_eq!(codes, ["A7", "12"]);
}

#[test]
fn two_surveys_of_the_same_sites_are_compared_pair_by_pair() {
    let desk = Desk::with_lake();
    // 20 sites: milfoil at 14, then at 4 of the same; McNemar with 10 lost and 0 gained
    let survey = |year: u32, count: usize| {
        let mut text = String::from("site,date,depth_ft,species,rating\n");
        for site in 1..=20 {
            let plant = if site <= count { "Eurasian watermilfoil,2" } else { "," };
            text.push_str(&format!("{site},{year}-07-14,5,{plant}\n"));
        }
        text
    };
    desk.write("a.csv", survey(2025, 14));
    desk.write("b.csv", survey(2026, 4));
    for (name, file) in [("2025", "a.csv"), ("2026", "b.csv")] {
        desk.run(&["record", "lake.gpkg", file, "--survey", name, "--scale", "fullness"]).done();
    }
    let compared = desk
        .run(&["compare", "lake.gpkg", "--from", "2025", "--to", "2026", "--json"])
        .done()
        .json();
    assert_eq!(compared["design"], "paired");
    let milfoil = &compared["taxa"][0];
    assert_eq!(milfoil["code"], "MYSP");
    assert_eq!(milfoil["verdict"], "fell");
    close(&milfoil["difference"]["value"], -0.5, 1e-12);
    // mid-p of 10 against 0: 2·(½)¹⁰ less half of it twice over, Fagerland, Lydersen and Laake 2013
    close(&milfoil["p"], 0.5f64.powi(10), 1e-12);
}

/// Source: Wisconsin DNR's summary row for Lake Wingra 2022, quoted with the open data: 423 sites
/// sampled, 419 no deeper than the deepest plant, 12.0 ft, 1.62 species a site, 2.15 where plants
/// grow, 1.12 native, 1.55 native where natives grow. 316 vegetated sites hold one without a depth
/// (363), which has a count and nothing else; without it 315, 75.18 % of 419.
#[test]
fn wisconsin_dnr_2022_lake_wingra_summary() {
    let Some(data) = open_data() else { return };
    let wingra = data.join("wingra-wi");
    let desk = Desk::empty();
    let text = |path: &std::path::Path| path.to_str().unwrap().to_owned();
    desk.run(&["new", "w.gpkg", "--name", "Lake Wingra", "--region", "WI"]).done();
    desk.run(&["add", "w.gpkg", "outline", &text(&wingra.join("outline/yld_study_lakes.shp"))])
        .done();
    desk.run(&[
        "add",
        "w.gpkg",
        "depths",
        &text(&wingra.join("bathymetry.csv")),
        "--crs",
        "EPSG:3071",
        "--unit",
        "m",
    ])
    .done();
    let lake = desk.run(&["lake", "w.gpkg", "--json"]).done().json();
    // gridded figures of the data's own README: 2.33 m mean, 2.93 million m³
    close(&lake["mean_depth_m"], 2.33, 0.01);
    close(&lake["volume_m3"], 2.93e6, 0.01e6);
    desk.run(&[
        "record",
        "w.gpkg",
        &text(&wingra.join("DNRsurvey.csv")),
        "--survey",
        "2022",
        "--scale",
        "fullness",
        "--date",
        "2022-07-15",
    ])
    .done();
    let found = desk.run(&["findings", "w.gpkg", "--survey", "2022", "--json"]).done().json();
    assert_eq!(found["sites"]["planned"], 543);
    assert_eq!(found["sites"]["sampled"], 423);
    assert_eq!(found["sites"]["vegetated"], 315);
    assert_eq!(found["littoral_sites"], 419);
    close(&found["max_plant_depth_m"], 12.0 * 0.3048, 1e-9);
    let per_site = &found["species_per_site"];
    close(&per_site["littoral_mean"], 1.62, 0.005);
    close(&per_site["vegetated_mean"], 2.15, 0.005);
    close(&per_site["native_littoral_mean"], 1.12, 0.005);
    close(&per_site["native_where_native_mean"], 1.55, 0.005);
    close(&found["frequency_any"]["littoral"]["p"], 0.7518, 0.00005);
}

#[test]
fn the_demo_lake_is_the_same_each_time() {
    let (one, two) = (Desk::empty(), Desk::empty());
    for desk in [&one, &two] {
        desk.run(&["demo", "--no-serve", "--dir", "d"]).done();
    }
    for verb in [
        &["lake", "d/lake-tamarin.gpkg", "--json"][..],
        &["findings", "d/lake-tamarin.gpkg", "--survey", "2026-summer", "--json"],
        &[
            "compare",
            "d/lake-tamarin.gpkg",
            "--from",
            "2025-summer",
            "--to",
            "2026-summer",
            "--json",
        ],
    ] {
        assert_eq!(one.run(verb).done().out, two.run(verb).done().out);
    }
    let verified = one.run(&["verify", "d/lake-tamarin.gpkg", "--json"]).done().json();
    assert_eq!((&verified["ok"], &verified["sealed"]), (&Value::Bool(true), &Value::from(3)));
    let lake = one.run(&["lake", "d/lake-tamarin.gpkg", "--json"]).done().json();
    let zones = lake["zones"].as_array().unwrap();
    let protected = zones.iter().filter(|zone| zone["protection"] == "conservation").count();
    assert_eq!((zones.len(), protected), (10, 2));
}

#[test]
fn papers_and_exports_come_out_and_are_read_back() {
    let desk = Desk::empty();
    desk.run(&["demo", "--no-serve", "--dir", "d"]).done();
    let book = "d/lake-tamarin.gpkg";
    for (what, file) in [("sheets", "s.pdf"), ("map", "m.pdf"), ("report", "r.pdf")] {
        desk.run(&["print", book, what, "--survey", "2026-summer", "-o", file]).done();
        let bytes = std::fs::read(desk.path(file)).unwrap();
        assert!(bytes.starts_with(b"%PDF-"), "{what}");
    }
    desk.run(&["export", book, "--as", "csv", "--survey", "2026-summer", "-o", "out.csv"]).done();
    desk.run(&["export", book, "--as", "geojson", "--survey", "2026-summer", "-o", "out.geojson"])
        .done();
    desk.run(&["export", book, "--as", "gpx", "--survey", "2026-summer", "-o", "out.gpx"]).done();
    // the exported table goes into another book and says the same
    desk.run(&["new", "copy.gpkg", "--name", "Lake Tamarin", "--region", "MN"]).done();
    desk.run(&[
        "record",
        "copy.gpkg",
        "out.csv",
        "--survey",
        "2026-summer",
        "--scale",
        "handful",
        "--new-taxa",
    ])
    .done();
    let of = |book: &str| {
        desk.run(&["findings", book, "--survey", "2026-summer", "--json"]).done().json()
    };
    let (ours, theirs) = (of(book), of("copy.gpkg"));
    assert_eq!(ours["sites"]["sampled"], theirs["sites"]["sampled"]);
    assert_eq!(ours["sites"]["vegetated"], theirs["sites"]["vegetated"]);
    assert_eq!(ours["sites"]["not_sampled"], theirs["sites"]["not_sampled"]);
    assert_eq!(ours["richness"]["rake"], theirs["richness"]["rake"]);
    assert_eq!(ours["simpson"], theirs["simpson"]);
    desk.run(&["backup", book, "-o", "copy-of-book.gpkg"]).done();
    desk.run(&["verify", "copy-of-book.gpkg"]).done();
    let again = desk.run(&["backup", book, "-o", "copy-of-book.gpkg"]);
    assert_eq!(again.code, 2, "a backup is never overwritten: {}", again.err);
}

#[test]
fn a_sealed_survey_changes_by_a_signed_amendment_only() {
    let desk = Desk::with_lake();
    desk.write(
        "a.csv",
        "site,date,depth_ft,species,rating\n1,2026-07-14,4,coontail,2\n2,2026-07-14,6,,\n",
    );
    desk.write("b.csv", "site,date,depth_ft,species,rating\n2,2026-07-14,6,coontail,1\n");
    desk.run(&["record", "lake.gpkg", "a.csv", "--survey", "2026-summer", "--scale", "fullness"])
        .done();
    let early = desk.run(&[
        "amend",
        "lake.gpkg",
        "b.csv",
        "--survey",
        "2026-summer",
        "--by",
        "A. Marsh",
        "--why",
        "sheet 2 misread",
    ]);
    assert_eq!(early.code, 2, "an open survey is not amended: {}", early.err);
    desk.run(&["seal", "lake.gpkg", "--survey", "2026-summer", "--by", "A. Marsh"]).done();
    desk.run(&[
        "amend",
        "lake.gpkg",
        "b.csv",
        "--survey",
        "2026-summer",
        "--by",
        "A. Marsh",
        "--why",
        "sheet 2 misread",
    ])
    .done();
    let found =
        desk.run(&["findings", "lake.gpkg", "--survey", "2026-summer", "--json"]).done().json();
    assert_eq!(found["sites"]["vegetated"], 2);
    let surveys = desk.run(&["surveys", "lake.gpkg", "--json"]).done().json();
    assert_eq!(surveys[0]["amendments"][0]["why"], "sheet 2 misread");
    desk.run(&["verify", "lake.gpkg"]).done();
}

#[test]
fn every_layout_lays_its_sites_and_a_route_visits_them_all() {
    let desk = Desk::empty();
    desk.run(&["demo", "--no-serve", "--dir", "d"]).done();
    let book = "d/lake-tamarin.gpkg";
    let layouts: [(&str, &[&str]); 7] = [
        ("sections", &["--layout", "shore-sections", "--length", "200ft"]),
        ("squares", &["--layout", "squares", "--side", "250ft"]),
        ("balanced", &["--layout", "balanced", "--sites", "60", "--spares", "10", "--seed", "3"]),
        ("strata", &["--layout", "balanced", "--sites", "60", "--strata", "zone"]),
        ("panel", &["--layout", "panel", "--sites", "40", "--every-year", "10"]),
        ("acres", &["--layout", "sub-areas", "--area", "1ac"]),
        ("again", &["--layout", "again", "2025-summer"]),
    ];
    for (name, how) in layouts {
        let mut arguments = vec!["plan", book, "--survey", name, "--json"];
        arguments.extend(how);
        let plan = desk.run(&arguments).done().json();
        assert!(plan["sites"].as_array().unwrap().len() >= 40, "{name}: {plan}");
        assert!(plan["balance"].as_f64().is_some(), "{name}");
    }
    // spread-out samples lie far below the balance of simple random ones, near 0.34 in water
    let plan = desk
        .run(&["plan", book, "--survey", "b2", "--layout", "balanced", "--sites", "60", "--json"])
        .done()
        .json();
    assert!(plan["balance"].as_f64().unwrap() < 0.2, "{}", plan["balance"]);
    let route = desk
        .run(&[
            "route",
            book,
            "--survey",
            "again",
            "--date",
            "2026-07-14",
            "--utc-offset",
            "-5",
            "--budget",
            "0.3",
            "--json",
        ])
        .done()
        .json();
    assert_eq!(route["fits"], true);
    assert_eq!(route["boats"][0]["order"].as_array().unwrap().len(), 78);
    let short = desk.run(&[
        "route",
        book,
        "--survey",
        "again",
        "--date",
        "2026-07-14",
        "--utc-offset",
        "-5",
        "--back-by",
        "10:00",
        "--budget",
        "0.3",
        "--json",
    ]);
    assert_eq!(short.code, 1, "a day too short is a no: {}", short.err);
    assert!(!short.json()["over"].as_array().unwrap().is_empty());
}

/// Source: check of the formula by arithmetic: n = ln(1 − 0.95) / ln(1 − 0.05) = 58.4, so 59 sites when
/// a throw never misses (binomial; the rule is in every handbook of search surveys).
#[test]
fn effort_follows_the_formula_and_the_virtual_surveys_agree() {
    let desk = Desk::with_lake();
    let answer = desk
        .run(&[
            "effort",
            "lake.gpkg",
            "--purpose",
            "detect",
            "--occupancy",
            "0.05",
            "--detection",
            "1",
            "--throws",
            "1",
            "--json",
        ])
        .done()
        .json();
    assert_eq!(answer["formula"]["sites"], 59);
    let simulated = &answer["simulation"];
    let at = simulated["sites"].as_array().unwrap().iter().position(|sites| *sites == 59).unwrap();
    // 2,000 runs: three standard errors of 0.95 are 0.015
    close(&simulated["chance"][at], 1.0 - 0.95f64.powi(59), 0.015);
    for bad in [["--occupancy", "1.5"], ["--detection", "0"], ["--confidence", "1"]] {
        let mut arguments = vec!["effort", "lake.gpkg", "--purpose", "detect"];
        arguments.extend(bad);
        let run = desk.run(&arguments);
        assert_eq!(run.code, 2, "{bad:?}: {}", run.out);
        assert!(run.err.contains("hint:"), "{bad:?}: {}", run.err);
    }
}
