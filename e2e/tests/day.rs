//! The day on the water by the real program: a boat that cannot go, a place no boat reaches, a date without light, a track
//! that is another's, a name too long.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test stops where it must"
)]

mod common;

use common::{Desk, all_refused, refused};

/// The square lake and, 400 m east of it, a pond no water leads to.
const TWO_WATERS: &str = r#"{"type":"Feature","properties":{"name":"Square Lake"},"geometry":{"type":"MultiPolygon","coordinates":[
[[[-90.0,45.0],[-89.98,45.0],[-89.98,45.014],[-90.0,45.014],[-90.0,45.0]]],
[[[-89.975,45.002],[-89.97,45.002],[-89.97,45.006],[-89.975,45.006],[-89.975,45.002]]]]}}"#;

const PLACES: &str = "name,kind,latitude,longitude\n\
    South launch,launch,45.0001,-89.99\n\
    Water tower,landmark,45.012,-89.975\n";

/// Two sites in the lake; the third is in the pond.
const SITES: &str =
    "site,latitude,longitude\n1,45.003,-89.995\n2,45.005,-89.985\n3,45.004,-89.972\n";

fn two_waters() -> Desk {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "Square Lake", "--region", "WI"]).done();
    for (name, text) in [
        ("outline.geojson", TWO_WATERS),
        ("depths.csv", &common::soundings()),
        ("places.csv", PLACES),
        ("sites.csv", SITES),
    ] {
        desk.write(name, text);
    }
    for (what, file) in
        [("outline", "outline.geojson"), ("depths", "depths.csv"), ("landmarks", "places.csv")]
    {
        desk.run(&["add", "lake.gpkg", what, file]).done();
    }
    desk.run(&["plan", "lake.gpkg", "--survey", "2027", "--layout", "given", "sites.csv"]).done();
    desk
}

fn route<'a>(more: &[&'a str]) -> Vec<&'a str> {
    let usual =
        ["route", "lake.gpkg", "--survey", "2027", "--date", "2027-07-14", "--budget", "0.1"];
    [&usual[..], more].concat()
}

#[test]
fn a_day_no_boat_can_go_about_is_refused_with_a_way_out() {
    let desk = two_waters();
    let cases: &[(&[&str], &[&str])] = &[
        (&["--from", "Water tower"], &["launch lies", "m from the nearest water"]),
        (&["--draft", "30ft"], &["no water is left", "draft"]),
        (&["--draft=-1ft"], &["draft", "-1ft"]),
        (&["--speed", "0mph"], &["speed", "above 0"]),
        (&["--speed", "-5mph"], &["speed", "above 0"]),
        (&["--minutes-per-site", "-3"], &["`-3` minutes"]),
        (&["--minutes-per-site", "NaN"], &["minutes"]),
        (&["--boats", "0"], &["`0` boats"]),
        (&["--first", "99"], &["no site `99`"]),
        (&["--first", "1", "--last", "1"], &["first"]),
        (&["--from", "Nowhere"], &["no landmark `Nowhere`", "`South launch`"]),
        (&["--start", "25:00"], &["`25:00` is no time"]),
        (&["--back-by", "06:00"], &["before they leave"]),
    ];
    all_refused(&desk, cases.iter().map(|(arguments, words)| (route(arguments), *words)));
}

#[test]
fn a_site_no_water_leads_to_is_named_and_the_others_are_visited() {
    let desk = two_waters();
    let run = desk.run(&route(&["--json"]));
    assert_eq!(run.code, 1, "a site left over is a no: {}", run.err);
    let told = run.json();
    assert_eq!((&told["fits"], &told["over"]), (&false.into(), &serde_json::json!(["3"])));
    let mut order: Vec<&str> = told["boats"][0]["order"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(serde_json::Value::as_str)
        .collect();
    order.sort_unstable();
    assert_eq!(order, ["1", "2"]);
    let words = desk.run(&route(&[]));
    assert!(words.out.contains("one site cannot be reached"), "{}", words.out);
    assert!(words.err.contains("no water leads from South launch to site 3"), "{}", words.err);

    desk.write("sites.csv", "site,latitude,longitude\n3,45.004,-89.972\n");
    desk.run(&["plan", "lake.gpkg", "--survey", "pond", "--layout", "given", "sites.csv"]).done();
    refused(
        &desk,
        &["route", "lake.gpkg", "--survey", "pond", "--date", "2027-07-14"],
        &["cannot be reached by water", "another launch"],
    );
}

#[test]
fn a_survey_without_places_has_no_route_and_no_track() {
    let desk = two_waters();
    desk.write("r.csv", "site,date,depth_ft,species,rating\n1,2026-07-14,4,coontail,2\n");
    desk.run(&["record", "lake.gpkg", "r.csv", "--survey", "2026", "--scale", "fullness"]).done();
    let words = &["2026", "no sites with a place", "quillwort plan"];
    refused(&desk, &["route", "lake.gpkg", "--survey", "2026"], words);
    desk.write("day.gpx", track("2026"));
    refused(&desk, &["add", "lake.gpkg", "track", "day.gpx", "--survey", "2026"], words);
}

/// At 79° north the sun stays below the horizon from October to February and above it from April to August (the polar
/// circle lies at 90° less the tilt of the axis, 23.4°; Meeus, Astronomical Algorithms, chapter 15).
#[test]
fn a_polar_night_has_no_day_and_a_polar_summer_no_evening() {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "North Water"]).done();
    desk.write(
        "outline.geojson",
        r#"{"type":"Polygon","coordinates":[[[15.0,79.0],[15.05,79.0],[15.05,79.01],[15.0,79.01],[15.0,79.0]]]}"#,
    );
    desk.write("places.csv", "name,kind,latitude,longitude\nHut,launch,79.0001,15.02\n");
    desk.write("sites.csv", "site,latitude,longitude\n1,79.004,15.01\n2,79.006,15.04\n");
    desk.run(&["add", "lake.gpkg", "outline", "outline.geojson"]).done();
    desk.run(&["add", "lake.gpkg", "landmarks", "places.csv"]).done();
    desk.run(&["plan", "lake.gpkg", "--survey", "2027", "--layout", "given", "sites.csv"]).done();
    let on = |date| ["route", "lake.gpkg", "--survey", "2027", "--date", date, "--utc-offset", "1"];
    refused(&desk, &on("2027-12-21"), &["sun does not rise", "another day"]);
    let summer = desk.run(&[&on("2027-06-21")[..], &["--budget", "0.1", "--json"]].concat()).done();
    let told = summer.json();
    assert_eq!(told["fits"], true, "{told:#}");
    assert!(told["daylight"]["rise"].is_null() && told["daylight"]["set"].is_null(), "{told:#}");
    let autumn = desk.run(&[&on("2027-09-23")[..], &["--budget", "0.1", "--json"]].concat()).done();
    // at the equinox day and night are of nearly equal length everywhere
    assert!(autumn.json()["daylight"]["rise"].as_str().unwrap().starts_with("05:"));
}

/// A boat at the first site, at noon of the middle of July.
fn track(year: &str) -> String {
    format!(
        r#"<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>
<trkpt lat="45.003" lon="-89.995"><time>{year}-07-14T17:00:00Z</time></trkpt>
<trkpt lat="45.003" lon="-89.995"><time>{year}-07-14T17:04:00Z</time></trkpt></trkseg></trk></gpx>"#
    )
}

#[test]
fn a_track_of_another_year_or_of_no_year_is_told_apart() {
    let desk = two_waters();
    let add = ["add", "lake.gpkg", "track", "day.gpx", "--survey", "2027"];
    desk.write("day.gpx", track("2019"));
    refused(&desk, &add, &["day.gpx", "2019", "2027", "--survey"]);
    desk.write("day.gpx", &track("2027")[..120]);
    refused(&desk, &add, &["day.gpx"]);
    desk.write("day.gpx", track("2027"));
    let told = desk.run(&[&add[..], &["--json"]].concat()).done().json();
    assert_eq!(told["missed"], serde_json::json!(["2", "3"]));
    assert!((told["sites"][0]["minutes"].as_f64().unwrap() - 4.0).abs() < 0.01, "{told:#}");
}

#[test]
fn names_longer_than_a_receiver_takes_are_shortened_in_plain_sight() {
    let desk = two_waters();
    let export = |length| {
        [
            "export",
            "lake.gpkg",
            "--as",
            "gpx",
            "--survey",
            "2027",
            "-o",
            "gps",
            "--name-length",
            length,
        ]
    };
    refused(&desk, &export("1"), &["name", "--name-length"]);
    let run = desk.run(&export("6")).done();
    assert!(run.err.contains("South launch is "), "{}", run.err);
    let gpx = std::fs::read_to_string(desk.path("gps/2027.gpx")).unwrap();
    let names: Vec<&str> =
        gpx.split("<name>").skip(1).filter_map(|rest| rest.split("</name>").next()).collect();
    assert!(names.contains(&"1") && !names.contains(&"South launch"), "{names:?}");
    assert!(names.iter().all(|name| name.chars().count() <= 6), "{names:?}");
}
