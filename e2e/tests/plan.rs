//! The plan by the real program: layouts, sites changed by hand, designs, and questions that cannot be answered.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::too_many_lines,
    reason = "a test stops where it must"
)]

mod common;

use common::{Desk, OUTLINE, all_refused, refused};
use serde_json::Value;

/// Two zones side by side over the square lake, and one in the deep middle.
const ZONES: &str = r#"{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"code":"W"},"geometry":{"type":"Polygon","coordinates":[
[[-90.001,44.999],[-89.99,44.999],[-89.99,45.015],[-90.001,45.015],[-90.001,44.999]]]}},
{"type":"Feature","properties":{"code":"E"},"geometry":{"type":"Polygon","coordinates":[
[[-89.99,44.999],[-89.979,44.999],[-89.979,45.015],[-89.99,45.015],[-89.99,44.999]]]}},
{"type":"Feature","properties":{"code":"MID"},"geometry":{"type":"Polygon","coordinates":[
[[-89.9945,45.006],[-89.9925,45.006],[-89.9925,45.0085],[-89.9945,45.0085],[-89.9945,45.006]]]}}]}"#;

const PLACES: &str = r#"{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"South launch","kind":"launch"},"geometry":{"type":"Point","coordinates":[-89.99,45.0001]}},
{"type":"Feature","properties":{"name":"Weir","kind":"hazard"},"geometry":{"type":"Point","coordinates":[-89.981,45.012]}}]}"#;

fn lake() -> Desk {
    let desk = Desk::with_lake();
    desk.write("zones.geojson", ZONES);
    desk.run(&["add", "lake.gpkg", "zones", "zones.geojson"]).done();
    desk.write("places.geojson", PLACES);
    desk.run(&["add", "lake.gpkg", "landmarks", "places.geojson"]).done();
    desk
}

fn bare() -> Desk {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "Square Lake", "--region", "WI"]).done();
    desk.write("outline.geojson", OUTLINE);
    desk.run(&["add", "lake.gpkg", "outline", "outline.geojson"]).done();
    desk
}

fn plan<'a>(more: &[&'a str]) -> Vec<&'a str> {
    let mut arguments = vec!["plan", "lake.gpkg", "--survey", "2027"];
    arguments.extend(more);
    arguments
}

#[test]
fn a_plan_that_cannot_be_laid_is_refused_with_a_way_out() {
    let desk = lake();
    let cases: &[(&[&str], &[&str])] = &[
        (&["--layout", "balanced", "--sites", "90000000"], &["more than the water can hold"]),
        (&["--layout", "balanced", "--sites", "0"], &["number of sites"]),
        (&["--layout", "point-grid", "--spacing", "9000m"], &["larger than the lake"]),
        (&["--layout", "point-grid", "--spacing", "70bananas"], &["70bananas"]),
        (&["--layout", "point-grid", "--spacing", "70m", "--sites", "9"], &["either"]),
        (&["--layout", "squares", "--side", "9000m"], &["side of the squares"]),
        (&["--layout", "squares", "--side", "90m", "--zones", "MID"], &["no water"]),
        (&["--layout", "sub-areas", "--area", "1ac", "--zones", "MID"], &[]),
        (&["--layout", "balanced", "--sites", "9", "--zones", "Q"], &["`Q`", "`E`, `MID`, `W`"]),
        (&["--layout", "shore-sections", "--length", "90000m"], &["length of the sections"]),
        (
            &["--layout", "balanced", "--sites", "9", "--min-depth", "8ft", "--max-depth", "3ft"],
            &["depth limits"],
        ),
        (&["--layout", "balanced", "--sites", "9", "--min-depth", "90ft"], &["no water"]),
        (&["--layout", "balanced", "--sites", "9", "--keep-away", "-3m"], &[]),
        (&["--layout", "balanced", "--sites", "9", "--denser-near-launches", "-2"], &["density"]),
        (
            &["--layout", "balanced", "--sites", "9", "--denser-in-treatments", "4"],
            &["no treatment areas"],
        ),
        (&["--layout", "squares", "--side", "90m", "--denser-near-launches", "4"], &["denser"]),
        (&["--layout", "point-grid", "--spacing", "90m", "--denser-near-launches", "5"], &["`5`"]),
        (&["--layout", "panel", "--sites", "9", "--every-year", "10"], &["10"]),
        (&["--layout", "again", "1999"], &["1999"]),
        (&["--layout", "balanced", "--sites", "9", "--throws", "0"], &["throws"]),
    ];
    all_refused(&desk, cases.iter().map(|(arguments, words)| (plan(arguments), *words)));
    // a bare number is in the book's unit: 70 ft is a fine spacing
    desk.run(&plan(&["--layout", "point-grid", "--spacing", "70", "--preview"])).done();
}

#[test]
fn an_effort_that_makes_no_sense_is_refused_with_a_way_out() {
    let desk = lake();
    let cases: &[(&[&str], &[&str])] = &[
        (&["change", "--from", "0.3", "--to", "0.3"], &["no change"]),
        (&["change", "--from", "1.2"], &["1.2"]),
        (&["estimate", "--margin", "0"], &["margin"]),
        (&["estimate", "--occupancy", "50"], &["`50`"]),
        (&["detect", "--detection", "0"], &["`0`"]),
        (&["detect", "--throws", "0"], &["throws"]),
        (&["detect", "--confidence", "1"], &["confidence"]),
        (&["detect", "--patch-area", "9000ac"], &["larger than the water"]),
        (&["detect", "--patch-area", "0ac"], &["area of the bed"]),
        (&["delineate", "--margin", "2"], &["margin"]),
        (&["treatment", "--power", "1.5"], &["power"]),
        (&["richness", "--survey", "1999"], &["1999"]),
        (&["estimate", "--species", "NONE"], &["NONE"]),
        (&["estimate", "--zones", "Q"], &["`Q`"]),
        (&["estimate", "--numbers", "ten"], &["`ten`"]),
        (&["estimate", "--best-depth", "90ft", "--depth-spread", "1ft"], &["depths"]),
    ];
    let effort = ["effort", "lake.gpkg", "--runs", "100", "--purpose"];
    all_refused(&desk, cases.iter().map(|(more, words)| ([&effort[..], *more].concat(), *words)));
    let designs = ["effort", "lake.gpkg", "--sites", "40", "--layouts", "star"];
    refused(&desk, &designs, &["`star`", "balanced"]);
    refused(&desk, &["effort", "lake.gpkg", "--layouts", "balanced"], &["number of sites"]);
}

/// What is lost without depths is said, and what works without them is offered.
#[test]
fn a_lake_without_depths_is_offered_squares_or_shore_sections() {
    let desk = bare();
    refused(
        &desk,
        &plan(&["--layout", "balanced", "--sites", "9", "--max-depth", "8ft"]),
        &["depths of this lake are not known", "squares or shore sections", "littoral area"],
    );
    let squares = desk.run(&plan(&["--layout", "squares", "--side", "200m", "--preview"])).done();
    assert!(squares.err.contains("would lay"), "{}", squares.err);
    let sections =
        desk.run(&plan(&["--layout", "shore-sections", "--length", "200m", "--preview"])).done();
    assert!(sections.err.contains("depths"), "{}", sections.err);
    let effort = desk.run(&["effort", "lake.gpkg", "--purpose", "estimate", "--runs", "0"]).done();
    assert!(effort.err.contains("no depths"), "{}", effort.err);
}

fn sites(plan: &Value) -> Vec<(String, Option<String>, bool)> {
    let all = plan["sites"].as_array().unwrap();
    all.iter()
        .map(|site| {
            (
                site["code"].as_str().unwrap().to_owned(),
                site["dropped"].as_str().map(str::to_owned),
                site["spare"].as_bool().unwrap(),
            )
        })
        .collect()
}

#[test]
fn a_site_is_moved_dropped_and_added_with_a_reason_that_stays() {
    let desk = lake();
    let lay = plan(&[
        "--layout", "balanced", "--sites", "12", "--spares", "3", "--zones", "W,E", "--json",
    ]);
    let laid = desk.run(&lay).done().json();
    assert_eq!((laid["count"].as_u64(), laid["spares"].as_u64()), (Some(12), Some(3)));

    let drop = ["--drop-site", "4", "--use-spare", "--why", "a dock stands there", "--by", "Ann"];
    let dropped = desk.run(&plan(&[&drop[..], &["--json"]].concat())).done().json();
    assert_eq!((dropped["count"].as_u64(), dropped["spares"].as_u64()), (Some(12), Some(2)));
    let of = |plan: &Value, code: &str| {
        sites(plan).into_iter().find(|(known, ..)| known == code).unwrap()
    };
    assert_eq!(of(&dropped, "4").1.as_deref(), Some("a dock stands there (Ann)"));
    // the first spare takes the place under its own number
    assert!(!of(&dropped, "13").2 && of(&dropped, "14").2);

    let to = ["--to", "45.0030,-89.9850", "--why", "nearer to the inlet", "--by", "Ann", "--json"];
    let moved = desk.run(&plan(&[&["--move-site", "5"], &to[..]].concat())).done().json();
    let five = moved["sites"].as_array().unwrap().iter().find(|site| site["code"] == "5").unwrap();
    assert!((five["lat"].as_f64().unwrap() - 45.003).abs() < 1e-9);
    assert_eq!(five["zone"], "E");

    let added = desk.run(&plan(&[&["--add-site"], &to[..]].concat())).done().json();
    // numbers go on after the spares
    assert_eq!(of(&added, "16"), ("16".to_owned(), None, false));
    let notes: Vec<&str> = added["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|change| change["note"].as_str().unwrap())
        .collect();
    assert_eq!(notes.len(), 3, "{notes:?}");
    assert!(notes[0].contains("site 4 of 2027 dropped, spare 13 in its place"), "{notes:?}");
    assert!(notes[1].contains("by Ann: nearer to the inlet"), "{notes:?}");

    for (arguments, word) in [
        (&["--add-site", "4"][..], "was dropped"),
        (&["--add-site", "7"], "is in the plan"),
        (&["--move-site", "4"], "was dropped"),
        (&["--move-site", "99"], "no site `99`"),
    ] {
        refused(&desk, &plan(&[arguments, &to[..6]].concat()), &[word]);
    }
    let land = ["--to", "45.007,-89.990", "--why", "w", "--by", "b"];
    refused(&desk, &plan(&[&["--move-site", "5"], &land[..]].concat()), &["on land"]);
    let swapped = ["--to", "-90,45", "--why", "w", "--by", "b"];
    refused(&desk, &plan(&[&["--move-site", "5"], &swapped[..]].concat()), &[]);

    // sheets, route and GPS file leave the dropped site out
    desk.run(&["export", "lake.gpkg", "--as", "gpx", "--survey", "2027", "-o", "gps"]).done();
    let gpx = std::fs::read_to_string(desk.path("gps/2027.gpx")).unwrap();
    assert!(!gpx.contains("<name>4</name>") && gpx.contains("<name>16</name>"), "{gpx}");
    assert!(desk.run(&["verify", "lake.gpkg"]).done().out.contains("unbroken"));

    let records = "site,date,depth_ft,total\n5,2027-07-02,6,0\n";
    desk.write("records.csv", records);
    let record = ["record", "lake.gpkg", "records.csv", "--survey", "2027"];
    desk.run(&record).done();
    let visited = ["--drop-site", "5", "--why", "w", "--by", "b"];
    refused(&desk, &plan(&visited), &["site `5` of 2027 is visited"]);
    desk.run(&["seal", "lake.gpkg", "--survey", "2027", "--by", "Ann", "--despite", "a trial"])
        .done();
    let sealed = ["--drop-site", "6", "--why", "w", "--by", "b"];
    refused(&desk, &plan(&sealed), &["is sealed, by Ann"]);
}

/// A spatially balanced sample is spread out at least four times as evenly as one at random (Grafström, Lundström &
/// Schelin 2012, Biometrics 68: 514-520, report ratios of this order), and its hours are a working day's.
#[test]
fn designs_are_compared_on_this_lake() {
    let desk = lake();
    let view = desk
        .run(&[
            "effort",
            "lake.gpkg",
            "--sites",
            "50",
            "--layouts",
            "simple-random,balanced,point-grid,squares,shore-sections,sub-areas",
            "--runs",
            "400",
            "--json",
        ])
        .done()
        .json();
    let designs = view["designs"].as_array().unwrap();
    assert_eq!(designs.len(), 6, "{view:#}");
    let value = |layout: &str, key: &str| {
        let one = designs.iter().find(|one| one["layout"] == layout).unwrap();
        one[key].as_f64().unwrap()
    };
    assert!(value("simple-random", "balance") > 3.0 * value("balanced", "balance"), "{view:#}");
    for layout in ["balanced", "point-grid", "squares", "sub-areas"] {
        assert!((value(layout, "sites") - 50.0).abs() <= 8.0, "{layout}: {view:#}");
        assert!((2.0..12.0).contains(&value(layout, "hours")), "{view:#}");
    }
    // plants follow depth here: spread-out sites catch it, sites in the middle of each part lie too deep
    assert!(value("balanced", "error") < 1.05 * value("simple-random", "error"), "{view:#}");
    assert!(view["sentence"].as_str().unwrap().starts_with("50 sites, 2 throws each"));
}

/// Near launches and away from hazards: four times the chance inside the circle, none within the distance to keep.
#[test]
fn sites_lie_denser_near_launches_and_keep_clear_of_hazards() {
    let desk = lake();
    let common = ["--layout", "balanced", "--sites", "120", "--preview", "--json"];
    let denser = ["--denser-near-launches", "4", "--denser-within", "300m", "--keep-away", "200m"];
    let plain = desk.run(&plan(&common)).done().json();
    let view = desk.run(&plan(&[&common[..], &denser[..]].concat())).done().json();
    let near = |view: &Value, lon: f64, lat: f64, metres: f64| {
        let all = view["sites"].as_array().unwrap();
        all.iter()
            .filter(|site| {
                let east =
                    (site["lon"].as_f64().unwrap() - lon) * 111_320.0 * lat.to_radians().cos();
                let north = (site["lat"].as_f64().unwrap() - lat) * 111_132.0;
                east.hypot(north) < metres
            })
            .count()
    };
    let (before, after) =
        (near(&plain, -89.99, 45.0001, 300.0), near(&view, -89.99, 45.0001, 300.0));
    assert!(after >= 3 * before && after > 0, "{before} and {after} near the launch");
    assert!(near(&plain, -89.981, 45.012, 200.0) > 0);
    assert_eq!(near(&view, -89.981, 45.012, 199.0), 0);
    let chances: Vec<f64> = view["sites"]
        .as_array()
        .unwrap()
        .iter()
        .map(|site| site["inclusion_probability"].as_f64().unwrap())
        .collect();
    let (least, most) =
        chances.iter().fold((f64::MAX, 0.0_f64), |(a, b), c| (a.min(*c), b.max(*c)));
    assert!((most / least - 4.0).abs() < 1e-9, "{least} {most}");
}
