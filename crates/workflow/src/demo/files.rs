//! Lake Tamarin as the ordinary files a lake district would have.

use super::ground::{Ground, Place, lon_lat};
use super::random::Random;
use geo_types::{Coord, LineString, MultiPolygon, Polygon};
use serde_json::{Value, json};
use std::fmt::Write as _;
use units::METRES_PER_FOOT;

fn ring(line: &LineString<f64>, convert: impl Fn(Place) -> Coord<f64>) -> Value {
    let rounded = |value: f64| (value * 1e7).round() / 1e7;
    line.coords()
        .map(|place| {
            let at = convert(*place);
            json!([rounded(at.x), rounded(at.y)])
        })
        .collect()
}

fn rings(polygon: &Polygon<f64>, convert: impl Fn(Place) -> Coord<f64> + Copy) -> Value {
    std::iter::once(polygon.exterior())
        .chain(polygon.interiors())
        .map(|line| ring(line, convert))
        .collect()
}

fn feature(geometry: Value, properties: Value) -> Value {
    json!({"type": "Feature", "geometry": geometry, "properties": properties})
}

fn collection(features: Vec<Value>) -> String {
    let mut text = json!({"type": "FeatureCollection", "features": features}).to_string();
    text.push('\n');
    text
}

/// The shore with its island.
pub(super) fn outline(ground: &Ground) -> String {
    let geometry = json!({"type": "Polygon", "coordinates": rings(&ground.outline, lon_lat)});
    collection(vec![feature(geometry, json!({"name": "Lake Tamarin"}))])
}

/// A day of sonar: lines 24 m apart, a sounding each 12 m, good to a hand's breadth.
pub(super) fn soundings(ground: &Ground, random: &mut Random) -> String {
    let mut text = String::from("longitude,latitude,depth_ft\n");
    let mut y = -420.0;
    while y < 420.0 {
        let mut x = -640.0;
        while x < 640.0 {
            let at = Coord { x: x + 1.5 * random.normal(), y: y + 1.5 * random.normal() };
            if let Some(depth) = ground.depth(at) {
                let place = lon_lat(at);
                let feet = (depth + 0.06 * random.normal()).max(0.1) / METRES_PER_FOOT;
                let _ = writeln!(text, "{:.6},{:.6},{feet:.1}", place.x, place.y);
            }
            x += 12.0;
        }
        y += 24.0;
    }
    text
}

/// Code, name, protection, and a point on the shore the zone gathers round.
pub(super) const ZONES: &[(&str, &str, &str, (f64, f64))] = &[
    ("W1", "West bay", "none", (-470.0, 195.0)),
    ("W2", "Southwest shore", "none", (-265.0, -60.0)),
    ("N1", "North point", "none", (-110.0, 285.0)),
    ("M1", "Island shoal", "none", (60.0, 215.0)),
    ("N2", "North shore", "none", (285.0, 300.0)),
    ("E1", "Inlet flats", "conservation", (550.0, 170.0)),
    ("E2", "Culvert marsh", "conservation", (540.0, 10.0)),
    ("S1", "South shore", "none", (390.0, -190.0)),
    ("S2", "Dam reach", "none", (190.0, -300.0)),
    ("S3", "Launch cove", "none", (-150.0, -270.0)),
];

/// Polygons in longitude and latitude with their properties.
pub(super) fn shapes(shapes: &[(MultiPolygon<f64>, Value)]) -> String {
    let features = shapes
        .iter()
        .map(|(area, properties)| {
            let coordinates: Value = area.iter().map(|one| rings(one, |at| at)).collect();
            feature(json!({"type": "MultiPolygon", "coordinates": coordinates}), properties.clone())
        })
        .collect();
    collection(features)
}

const LANDMARKS: &[(&str, &str, (f64, f64))] = &[
    ("Launch", "launch", (-122.0, -255.5)),
    ("twin pines", "landmark", (-573.0, 309.0)),
    ("boathouse", "landmark", (-246.0, 178.0)),
    ("flagpole", "landmark", (82.0, 393.0)),
    ("culvert", "landmark", (619.0, 165.0)),
    ("dam", "landmark", (368.0, -286.0)),
    ("old dock", "landmark", (-357.0, -4.0)),
    ("rock pile", "hazard", (300.0, 205.0)),
];

/// Named places.
pub(super) fn landmarks() -> String {
    let features = LANDMARKS
        .iter()
        .map(|(name, kind, (x, y))| {
            let at = lon_lat(Coord { x: *x, y: *y });
            let rounded = |value: f64| (value * 1e6).round() / 1e6;
            feature(
                json!({"type": "Point", "coordinates": [rounded(at.x), rounded(at.y)]}),
                json!({"name": name, "kind": kind}),
            )
        })
        .collect();
    collection(features)
}
