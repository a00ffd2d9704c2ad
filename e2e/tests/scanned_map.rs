//! From a scanned map alone to a depth model, zones and the littoral acreage: the map is placed by
//! control points, its lines are traced in pixels, and the lake is there.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test stops where it must"
)]

mod common;

use common::Desk;
use image::{Rgb, RgbImage};
use std::f64::consts::TAU;

/// The map: a lake of 20 ft, a bowl `20 · (1 − r²)` feet over an oval of 1,400 by 900 m, drawn at 2 m a
/// pixel and scanned a little askew.
const HALF: (f64, f64) = (700.0, 450.0);
const DEEPEST_FT: f64 = 20.0;
/// Metres in a degree at 45° N on WGS 84. Source: geographiclib 2.1.
const DEGREE: (f64, f64) = (78_846.8, 111_131.8);
const CENTRE: (f64, f64) = (-91.2, 45.0);

/// The pixel of a place in metres east and north of the lake's centre.
fn pixel(x: f64, y: f64) -> (f64, f64) {
    let (sin, cos) = 2f64.to_radians().sin_cos();
    let (x, y) = (x / 2.0, y / 2.0);
    (500.0 + cos * x - sin * y, 400.0 - (sin * x + cos * y))
}

fn degrees(x: f64, y: f64) -> (f64, f64) {
    (CENTRE.0 + x / DEGREE.0, CENTRE.1 + y / DEGREE.1)
}

/// An oval at a share of the lake's half axes, in pixels, as a hand traces it: a pixel off here and
/// there.
fn traced(share: f64) -> Vec<(f64, f64)> {
    (0..90)
        .map(|step| {
            let angle = TAU * f64::from(step) / 90.0;
            let (x, y) = pixel(share * HALF.0 * angle.cos(), share * HALF.1 * angle.sin());
            (x + 0.7 * (17.0 * angle).sin(), y + 0.7 * (11.0 * angle).cos())
        })
        .collect()
}

/// Depth to share of the half axes: `d = 20 · (1 − r²)`.
fn share_at(depth_ft: f64) -> f64 {
    (1.0 - depth_ft / DEEPEST_FT).sqrt()
}

fn json_ring(places: &[(f64, f64)]) -> String {
    let mut list: Vec<String> = places.iter().map(|(x, y)| format!("[{x:.2},{y:.2}]")).collect();
    list.push(list[0].clone());
    format!("[{}]", list.join(","))
}

fn feature(kind: &str, coordinates: &str, properties: &str) -> String {
    format!(
        r#"{{"type":"Feature","properties":{properties},"geometry":{{"type":"{kind}","coordinates":{coordinates}}}}}"#
    )
}

fn collection(features: &[String]) -> String {
    format!(r#"{{"type":"FeatureCollection","features":[{}]}}"#, features.join(","))
}

/// The scan: the shore and the lines of depth in ink on paper.
fn scan(desk: &Desk) {
    let mut paper = RgbImage::from_pixel(1_000, 800, Rgb([250, 247, 240]));
    for depth in [0.0, 5.0, 10.0, 15.0, 18.0] {
        for step in 0..40_000 {
            let angle = TAU * f64::from(step) / 40_000.0;
            let share = share_at(depth);
            let (x, y) = pixel(share * HALF.0 * angle.cos(), share * HALF.1 * angle.sin());
            paper.put_pixel(x as u32, y as u32, Rgb([30, 30, 40]));
        }
    }
    paper.save(desk.path("scan.png")).unwrap();
}

fn points(rows: &[(&str, f64, f64)], wrong: Option<(usize, f64)>) -> String {
    let mut text = String::from("name,pixel_x,pixel_y,longitude,latitude\n");
    for (index, (name, x, y)) in rows.iter().enumerate() {
        let (column, row) = pixel(*x, *y);
        let (longitude, mut latitude) = degrees(*x, *y);
        if let Some((_, by)) = wrong.filter(|(which, _)| *which == index) {
            latitude += by;
        }
        // read off the scan to the pixel
        text.push_str(&format!("{name},{column:.0},{row:.0},{longitude:.6},{latitude:.6}\n"));
    }
    text
}

const KNOWN: [(&str, f64, f64); 5] = [
    ("launch", -690.0, -60.0),
    ("dam", 700.0, 20.0),
    ("north bridge", 100.0, 450.0),
    ("church", 500.0, -420.0),
    ("south road", -450.0, -380.0),
];

#[test]
fn a_scanned_map_alone_gives_depths_zones_and_littoral_acres() {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "Oval Lake", "--region", "WI"]).done();
    scan(&desk);
    desk.write("points.csv", points(&KNOWN, None));
    let placed = desk
        .run(&["add", "lake.gpkg", "background", "scan.png", "--points", "points.csv", "--json"])
        .done()
        .json();
    assert_eq!(placed["warp"], "affine");
    let residual = placed["residual_m"].as_f64().unwrap();
    assert!(residual < 2.0, "{residual}");
    assert!(placed["control_points"][0]["left_out_m"].as_f64().unwrap() < 4.0);
    // the shore, the contours and two zones, in pixels of the scan
    let shore = feature("Polygon", &format!("[{}]", json_ring(&traced(1.0))), "{}");
    desk.write("shore.geojson", collection(&[shore]));
    desk.run(&["add", "lake.gpkg", "outline", "shore.geojson", "--on", "scan.png"]).done();
    let contours: Vec<String> = [5.0, 10.0, 15.0, 18.0]
        .iter()
        .map(|depth| {
            let ring = json_ring(&traced(share_at(*depth)));
            feature("LineString", &ring, &format!(r#"{{"depth_ft":{depth}}}"#))
        })
        .collect();
    desk.write("contours.geojson", collection(&contours));
    desk.run(&["add", "lake.gpkg", "contours", "contours.geojson", "--on", "scan.png"]).done();
    let half = |from: f64, to: f64, code: &str| {
        let corners: Vec<(f64, f64)> = [(from, -500.0), (to, -500.0), (to, 500.0), (from, 500.0)]
            .iter()
            .map(|(x, y)| pixel(*x, *y))
            .collect();
        feature(
            "Polygon",
            &format!("[{}]", json_ring(&corners)),
            &format!(r#"{{"code":"{code}"}}"#),
        )
    };
    desk.write("zones.geojson", collection(&[half(-720.0, 0.0, "W"), half(0.0, 720.0, "E")]));
    desk.run(&["add", "lake.gpkg", "zones", "zones.geojson", "--on", "scan.png"]).done();
    let lake = desk.run(&["lake", "lake.gpkg", "--json"]).done().json();
    let value = |key: &str| lake[key].as_f64().unwrap();
    // an oval has π·a·b; from 1 to 8 ft of the bowl lie 7/20 of it; the bowl holds half of depth × area
    let area = TAU / 2.0 * HALF.0 * HALF.1;
    assert!((value("area_m2") / area - 1.0).abs() < 0.01, "{}", value("area_m2"));
    assert_eq!(lake["rule"], "frustum");
    let volume = 0.5 * area * DEEPEST_FT * 0.3048;
    assert!((value("volume_m3") / volume - 1.0).abs() < 0.03, "{} {volume}", value("volume_m3"));
    let littoral = lake["littoral"]["area_m2"].as_f64().unwrap();
    assert!((littoral / (0.35 * area) - 1.0).abs() < 0.05, "{littoral} {}", 0.35 * area);
    let zones = lake["zones"].as_array().unwrap();
    assert_eq!(zones.len(), 2);
    for zone in zones {
        let area_share = zone["area_m2"].as_f64().unwrap() / area;
        assert!((area_share - 0.5).abs() < 0.01, "{zone}");
        let share = zone["littoral_area_m2"].as_f64().unwrap() / littoral;
        assert!((share - 0.5).abs() < 0.02, "{zone}");
    }
    desk.run(&["verify", "lake.gpkg"]).done();
    // the picture is kept once, whole, by its checksum; it is no depth
    assert_eq!(lake["depth_source"], "contours.geojson (4 contours)");
}

#[test]
fn a_control_point_mistyped_by_a_degree_is_named() {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "Oval Lake", "--region", "WI"]).done();
    scan(&desk);
    for (rows, which) in [(&KNOWN[..], 3), (&KNOWN[..4], 1)] {
        desk.write("points.csv", points(rows, Some((which, 1.0))));
        let run =
            desk.run(&["add", "lake.gpkg", "background", "scan.png", "--points", "points.csv"]);
        assert_eq!(run.code, 2, "{}{}", run.out, run.err);
        for word in [rows[which].0, "miles", "latitude looks mistyped by 1 degree"] {
            assert!(run.err.contains(word), "no `{word}` in {}", run.err);
        }
    }
    // with three nobody can say which, but something is plainly wrong
    desk.write("points.csv", points(&KNOWN[..3], Some((1, 1.0))));
    let run = desk.run(&["add", "lake.gpkg", "background", "scan.png", "--points", "points.csv"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("stretched") && run.err.contains("fourth point"), "{}", run.err);
}

#[test]
fn pictures_and_points_that_are_no_use_are_refused() {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "Oval Lake", "--region", "WI"]).done();
    scan(&desk);
    let good = points(&KNOWN, None);
    desk.write("good.csv", &good);
    desk.write("two.csv", points(&KNOWN[..2], None));
    desk.write(
        "no_pixels.csv",
        "name,longitude,latitude\na,-91.2,45\nb,-91.21,45\nc,-91.2,45.01\n",
    );
    desk.write("beyond.csv", good.replacen("launch,", "launch,9", 1));
    desk.write("map.txt", "not a picture");
    desk.write("cut.png", &std::fs::read(desk.path("scan.png")).unwrap()[..600]);
    for (file, table, more, says) in [
        ("scan.png", "two.csv", None, "3 control points"),
        ("scan.png", "no_pixels.csv", None, "pixel_x"),
        ("scan.png", "good.csv", Some("thin-plate"), "6 control points"),
        ("map.txt", "good.csv", None, "PNG"),
        ("cut.png", "good.csv", None, "cut.png"),
        ("nowhere.png", "good.csv", None, "nowhere.png"),
    ] {
        let mut arguments = vec!["add", "lake.gpkg", "background", file, "--points", table];
        if let Some(warp) = more {
            arguments.extend(["--warp", warp]);
        }
        let run = desk.run(&arguments);
        assert_eq!(run.code, 2, "{file} {table}: {}{}", run.out, run.err);
        assert!(run.err.contains(says), "{file} {table}: no `{says}` in {}", run.err);
        assert!(run.err.contains("hint:"), "{file} {table}: {}", run.err);
    }
    let run = desk.run(&["add", "lake.gpkg", "background", "scan.png"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("--points"), "{}", run.err);
}
