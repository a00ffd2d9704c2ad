//! Map layers out of GeoJSON and tables of points: what is read, and what is refused how.
#![allow(clippy::panic, reason = "the helpers of a test may fail it")]

use exchange::{Layer, LayerCrs, ReadOptions, Value, read_layer, read_layer_bytes};
use geo_types::Geometry;
use std::path::PathBuf;
use units::LengthUnit;

fn fixture(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures").join(name)
}

fn read(name: &str) -> Layer {
    read_layer(&fixture(name), &ReadOptions::default()).unwrap_or_else(|f| panic!("{name}: {f}"))
}

/// Every fault of the file as one line, hints left out.
fn refused(name: &str) -> Vec<String> {
    let faults = read_layer(&fixture(name), &ReadOptions::default()).expect_err(name);
    faults.0.iter().map(ToString::to_string).collect()
}

#[test]
fn null_and_empty_geometries_are_left_out_and_told() {
    let layer = read("null_and_empty_geometry.geojson");
    assert_eq!((layer.name.as_str(), &layer.crs), ("ponds", &LayerCrs::Wgs84));
    let skipped: Vec<_> = layer.skipped.iter().map(|s| (s.row, s.reason.as_str())).collect();
    assert_eq!(skipped, [(1, "it has no geometry"), (2, "its geometry is empty")]);
    let [feature] = &layer.features[..] else { panic!("{layer:?}") };
    assert_eq!(feature.row, 3);
    assert_eq!(feature.attribute("NAME"), Some(&Value::Text("found".to_owned())));
    assert_eq!(feature.attribute("deep"), Some(&Value::Bool(true)));
    assert_eq!(feature.attribute("area").and_then(Value::number), Some(12.5));
    assert_eq!(feature.attribute("id").and_then(Value::number), Some(7.0));
    let Geometry::Polygon(polygon) = &feature.geometry else { panic!("{feature:?}") };
    assert_eq!((polygon.exterior().0.len(), polygon.interiors().len()), (5, 1));
}

#[test]
fn the_crs_member_of_old_geojson_is_read() {
    let layer = read("legacy_crs.geojson");
    assert_eq!(layer.crs, LayerCrs::Epsg(3071));
    assert_eq!(layer.features[0].attribute("z").and_then(Value::number), Some(-1.5));
    let layer = read("legacy_crs84.geojson");
    assert_eq!(layer.crs, LayerCrs::Wgs84);
    assert!(matches!(layer.features[0].geometry, Geometry::LineString(_)));
}

#[test]
fn a_stated_reference_system_overrules_the_check_for_degrees() {
    let options = ReadOptions { crs: Some(LayerCrs::Epsg(3071)), ..ReadOptions::default() };
    let layer = read_layer(&fixture("metres_without_crs.geojson"), &options).unwrap();
    assert_eq!(layer.crs, LayerCrs::Epsg(3071));
}

#[test]
fn broken_layers_are_refused_with_every_fault_at_once() {
    let cases: [(&str, &[&str]); 13] = [
        (
            "truncated.geojson",
            &["`truncated.geojson` row 4: found `the end of the file`, expected valid JSON"],
        ),
        (
            "bad_comma.geojson",
            &[
                "`bad_comma.geojson` row 2: found `trailing comma at character 30`, expected valid JSON",
            ],
        ),
        (
            "topojson.geojson",
            &[
                "`topojson.geojson`: found `TopoJSON`, expected GeoJSON: a FeatureCollection, a Feature or a geometry",
            ],
        ),
        (
            "swapped.geojson",
            &[
                "`swapped.geojson` row 1, field `geometry`: found `45.1, -89.5`, expected longitude before latitude, and a latitude between -84 and 84 degrees",
                "`swapped.geojson` row 2, field `geometry`: found `45.2, -121.5`, expected longitude before latitude, and a latitude between -84 and 84 degrees",
            ],
        ),
        (
            "metres_without_crs.geojson",
            &[
                "`metres_without_crs.geojson` row 1, field `geometry`: found `566486.06, 286372.01`, expected longitude between -180 and 180 and latitude between -84 and 84 degrees",
            ],
        ),
        (
            "short_ring_and_bad_position.geojson",
            &[
                "`short_ring_and_bad_position.geojson` row 1, field `geometry`: found `[[-89.5,45.1],[-89.4,45.1],[-89.5,45.1]]`, expected a ring of at least four positions, the last like the first",
                "`short_ring_and_bad_position.geojson` row 2, field `geometry`: found `[\"west\",45.1]`, expected a position such as `[-89.4, 43.1]`",
                "`short_ring_and_bad_position.geojson` row 3, field `geometry`: found `Circle`, expected a type of geometry that GeoJSON has",
                "`short_ring_and_bad_position.geojson` row 4, field `geometry`: found `[-89.5]`, expected a position such as `[-89.4, 43.1]`",
            ],
        ),
        (
            "points_with_faults.csv",
            &[
                "`points_with_faults.csv` row 3, field `latitude`: found `-89.5`, expected longitude before latitude, and a latitude between -84 and 84 degrees",
                "`points_with_faults.csv` row 4, field `longitude`: found `west`, expected a longitude such as `-89.43150` or `89 25.890 W`",
                "`points_with_faults.csv` row 5, field `depth`: found `bottomless`, expected a depth such as `6.5`, at most 1700 m",
                "`points_with_faults.csv` row 6: found `4 cells, the last of them 4`, expected 3 cells, as many as headers",
            ],
        ),
        (
            "points_no_position.csv",
            &[
                "`points_no_position.csv` row 1: found `name, depth`, expected columns for the position: `longitude` and `latitude`, or `x` and `y`",
            ],
        ),
        (
            "truncated.gpx",
            &["`truncated.gpx` row 4: found `the end of the file`, expected well-formed XML"],
        ),
        (
            "positions_wrong.gpx",
            &[
                "`positions_wrong.gpx` row 1, field `wpt`: found `lat -89.5, lon 45.1`, expected longitude before latitude, and a latitude between -84 and 84 degrees",
                "`positions_wrong.gpx` row 2, field `wpt`: found `lat nothing, lon -89.5`, expected `lat` and `lon` in degrees",
            ],
        ),
        (
            "coordinates_wrong.kml",
            &[
                "`coordinates_wrong.kml` row 1, field `coordinates`: found `-89.5;45.1`, expected places such as `-89.4,43.1`, with spaces between them",
                "`coordinates_wrong.kml` row 2, field `coordinates`: found `3 positions`, expected a ring of at least four positions, the last like the first",
            ],
        ),
        (
            "mismatched.kml",
            &[
                "`mismatched.kml` row 3: found `ill-formed document: expected `</name>`, but `</Placemark>` …`, expected well-formed XML",
            ],
        ),
        (
            "unclosed_quote.csv",
            &[
                "`unclosed_quote.csv` row 4, field `column 3`: found `\"broke off he `, expected a closing quotation mark before the end of the file",
            ],
        ),
    ];
    for (name, want) in cases {
        assert_eq!(refused(name), want, "{name}");
    }
}

#[test]
fn points_are_read_by_place_when_there_is_no_header() {
    let layer = read("points_without_header.csv");
    assert_eq!(layer.crs, LayerCrs::Unknown);
    assert_eq!(layer.features.len(), 2);
    assert_eq!(layer.features[1].attribute("depth").and_then(Value::number), Some(2.5));
    assert!(layer.warnings[0].contains("no header"), "{:?}", layer.warnings);
}

#[test]
fn depths_carry_the_unit_of_their_header_and_codes_keep_their_zeros() {
    let layer = read("points_depth_in_feet.csv");
    let depth = layer.depth.as_ref().unwrap();
    assert_eq!((depth.name.as_str(), depth.unit), ("Depth in feet", Some(LengthUnit::Foot)));
    let depths: Vec<Option<f64>> = layer
        .features
        .iter()
        .map(|f| f.attribute("Depth in feet").and_then(Value::number))
        .collect();
    assert_eq!(depths, [Some(12.0), Some(5.0), Some(2.0 / 0.3048), None]);
    assert_eq!(layer.features[0].attribute("Point ID"), Some(&Value::Text("007".to_owned())));
    assert_eq!(layer.features[0].geometry, geo_types::Point::new(-89.5, 45.1).into());
    assert_eq!((layer.skipped[0].row, layer.skipped[0].reason.as_str()), (5, "it has no position"));
}

#[test]
fn semicolons_and_decimal_commas_make_the_same_points() {
    let layer = read("points_semicolon_decimal_comma.csv");
    assert_eq!(layer.features[0].geometry, geo_types::Point::new(566_486.06, 286_372.01).into());
    let depth = layer.depth.as_ref().unwrap();
    assert!(depth.upward && depth.unit.is_none());
    assert_eq!(layer.features[1].attribute("z").and_then(Value::number), Some(-2.5));
}

#[test]
fn degrees_and_minutes_may_stand_in_columns_of_their_own() {
    let told = refused("degrees_in_their_own_columns.csv");
    assert_eq!(
        told,
        [
            "`degrees_in_their_own_columns.csv` row 3, field `lat_deg`: found `45 66.5`, expected a latitude such as `43.05089` or `43 03.053 N`"
        ]
    );
    let text = std::fs::read_to_string(fixture("degrees_in_their_own_columns.csv")).unwrap();
    let text = text.replace("66.5", "7.5");
    let layer = read_layer_bytes("a.csv", text.as_bytes(), &ReadOptions::default()).unwrap();
    let at = geo_types::Point::try_from(layer.features[0].geometry.clone()).unwrap();
    assert!((at.y() - (45.0 + 6.5 / 60.0)).abs() < 1e-12);
    assert!((at.x() + 89.0 + 30.25 / 60.0).abs() < 1e-12);
}

#[test]
fn a_file_that_is_something_else_is_called_by_its_name() {
    let cases: [(&str, &[u8], &str, &str); 10] = [
        ("a.csv", b"", "an empty file", "again"),
        (
            "a.csv",
            b"PK\x03\x04 xl/workbook.xml",
            "an Excel workbook (.xlsx) that breaks off or is damaged",
            "again",
        ),
        (
            "lake.zip",
            b"PK\x03\x04 lake.shp",
            "a zip with a shapefile in it that breaks off or is damaged",
            "again",
        ),
        (
            "a.kmz",
            b"PK\x03\x04 doc.kml",
            "a zipped KML (.kmz) that breaks off or is damaged",
            "again",
        ),
        ("a.zip", b"PK\x03\x04 notes.txt", "a zip", "unzip first"),
        ("a.csv", b"<html><body>Sign in</body></html>", "a web page (HTML)", "log-in"),
        ("a.csv", b"%PDF-1.4", "a PDF", "spreadsheet behind it"),
        ("a.xml", b"<?xml version=\"1.0\"?>\n<lakes></lakes>", "an XML file", "GeoJSON"),
        (
            "a.shx",
            b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1",
            "an office document without a workbook in it",
            "CSV",
        ),
        ("book.gpkg", b"SQLite format 3\0", "an SQLite database (GeoPackage)", "as GeoJSON"),
    ];
    for (name, bytes, found, hint) in cases {
        let faults = read_layer_bytes(name, bytes, &ReadOptions::default()).unwrap_err();
        assert_eq!(faults.0[0].found.as_deref(), Some(found), "{name}");
        assert!(faults.0[0].hint.as_deref().unwrap().contains(hint), "{faults}");
    }
}

#[test]
fn a_missing_file_and_a_folder_are_told_apart() {
    let missing = refused("no_such_file.geojson");
    assert!(missing[0].ends_with("found `no such file`, expected a file that can be read"));
    let faults = read_layer(&fixture(""), &ReadOptions::default()).unwrap_err();
    assert_eq!(faults.0[0].found.as_deref(), Some("a folder"));
}

#[test]
fn the_only_layer_answers_to_its_own_name() {
    let named = |name: &str| ReadOptions { layer: Some(name.to_owned()), ..ReadOptions::default() };
    let path = fixture("null_and_empty_geometry.geojson");
    assert!(read_layer(&path, &named("Ponds")).is_ok());
    let faults = read_layer(&path, &named("lakes")).unwrap_err();
    assert_eq!(faults.0[0].expected, "a layer named `lakes`");
}

#[test]
fn waypoints_routes_and_tracks_of_a_gpx_file() {
    let layer = read("day_on_the_lake.gpx");
    assert_eq!((layer.name.as_str(), &layer.crs), ("Day 1 & 2", &LayerCrs::Wgs84));
    let text =
        |index: usize, key: &str| layer.features[index].attribute(key).map(ToString::to_string);
    assert_eq!(layer.features[0].geometry, geo_types::Point::new(-89.5, 45.1).into());
    assert_eq!(text(0, "name").as_deref(), Some("007"));
    assert_eq!(text(0, "desc").as_deref(), Some("by the <old> pier, caf\u{e9}"));
    assert!(matches!(&layer.features[1].geometry, Geometry::LineString(line) if line.0.len() == 2));
    assert!(
        matches!(&layer.features[2].geometry, Geometry::MultiLineString(lines) if lines.0.len() == 2)
    );
    // the soundings of the track, behind it
    assert_eq!(layer.depth.as_ref().unwrap().unit, Some(LengthUnit::Metre));
    let depths: Vec<_> =
        layer.features[3..].iter().map(|f| f.attribute("depth").and_then(Value::number)).collect();
    assert_eq!(depths, [Some(2.5), Some(3.5)]);
    assert_eq!(
        (layer.skipped[0].row, layer.skipped[0].reason.as_str()),
        (4, "it has fewer than two points")
    );
}

#[test]
fn placemarks_of_a_kml_file() {
    let layer = read("places.kml");
    assert_eq!(layer.name, "Tamarin");
    let kinds: Vec<&str> = layer
        .features
        .iter()
        .map(|feature| match &feature.geometry {
            Geometry::Point(_) => "point",
            Geometry::Polygon(polygon) if polygon.interiors().len() == 1 => "holed",
            Geometry::MultiPoint(points) if points.0.len() == 2 => "points",
            Geometry::GeometryCollection(parts) if parts.0.len() == 2 => "mixed",
            _ => "other",
        })
        .collect();
    assert_eq!(kinds, ["point", "holed", "points", "mixed"]);
    assert_eq!(layer.features[0].attribute("depth").and_then(Value::number), Some(3.5));
    assert_eq!(layer.features[1].attribute("code"), Some(&Value::Text("W3".to_owned())));
    assert_eq!((layer.skipped[0].row, layer.skipped[0].reason.as_str()), (5, "it has no geometry"));
}
