//! Whatever map of a lake a volunteer has: what is wrong with it is named, what can be mended is
//! mended and said.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test stops where it must"
)]

mod common;

use common::Desk;

const HEAD: &str = "longitude,latitude,depth_m\n";

/// Adds a file that must be refused, with these words, and nothing changed.
fn refused(desk: &Desk, arguments: &[&str], says: &[&str]) {
    let before = desk.state();
    let run = desk.run(arguments);
    assert_eq!(run.code, 2, "{arguments:?}: {}{}", run.out, run.err);
    for word in says.iter().chain(&["hint:"]) {
        assert!(run.err.contains(word), "{arguments:?}: no `{word}` in\n{}", run.err);
    }
    assert_eq!(before, desk.state(), "{arguments:?} changed the book");
}

/// Adds a file that must be taken, with these words said.
fn taken(desk: &Desk, arguments: &[&str], says: &[&str]) -> String {
    let run = desk.run(arguments).done();
    let told = format!("{}{}", run.out, run.err);
    for word in says {
        assert!(told.contains(word), "{arguments:?}: no `{word}` in\n{told}");
    }
    told
}

fn number(desk: &Desk, arguments: &[&str], key: &str) -> f64 {
    let json = desk.run(arguments).done().json();
    json[key].as_f64().unwrap_or_else(|| panic!("{key} in {json}"))
}

/// A line of GeoJSON with a depth in feet.
fn line(places: &[(f64, f64)], properties: &str) -> String {
    let list: Vec<String> = places.iter().map(|(x, y)| format!("[{x},{y}]")).collect();
    format!(
        r#"{{"type":"Feature","properties":{properties},"geometry":{{"type":"LineString","coordinates":[{}]}}}}"#,
        list.join(",")
    )
}

fn collection(features: &[String]) -> String {
    format!(r#"{{"type":"FeatureCollection","features":[{}]}}"#, features.join(","))
}

#[test]
fn depths_in_another_unit_or_turned_over_are_noticed() {
    let desk = Desk::with_lake();
    // the lake is 6 m deep: 580 are centimetres
    desk.write("cm.csv", format!("{HEAD}-89.99,45.0065,580\n-89.9905,45.0066,560\n"));
    refused(&desk, &["add", "lake.gpkg", "depths", "cm.csv"], &["centimetres", "--unit cm"]);
    taken(
        &desk,
        &["add", "lake.gpkg", "depths", "cm.csv", "--unit", "cm", "--preview"],
        &["falls between"],
    );
    // two books: in one all is turned over, in the other most
    desk.write("up.csv", format!("{HEAD}-89.99,45.0065,-5.8\n-89.9905,45.0066,-5.6\n"));
    taken(&desk, &["add", "lake.gpkg", "depths", "up.csv", "--preview"], &["taken as depths"]);
    let fresh = Desk::empty();
    fresh.run(&["new", "lake.gpkg", "--name", "Square Lake", "--region", "WI"]).done();
    fresh.write("outline.geojson", common::OUTLINE);
    fresh.run(&["add", "lake.gpkg", "outline", "outline.geojson"]).done();
    fresh.write(
        "mixed.csv",
        format!("{HEAD}-89.985,45.003,-5.8\n-89.9852,45.0031,-5.6\n-89.9848,45.0029,2\n"),
    );
    refused(&fresh, &["add", "lake.gpkg", "depths", "mixed.csv"], &["negative", "2 of 3"]);
}

#[test]
fn soundings_on_land_and_soundings_that_disagree_are_told() {
    let desk = Desk::with_lake();
    // on the island, and just off the shore
    desk.write(
        "land.csv",
        format!("{HEAD}-89.9905,45.007,3\n-89.999,45.0145,3\n-89.985,45.003,2.2\n"),
    );
    taken(
        &desk,
        &["add", "lake.gpkg", "depths", "land.csv", "--preview"],
        &["on land", "left out"],
    );
    desk.write("twice.csv", format!("{HEAD}-89.9852,45.0031,2.0\n-89.9852,45.0031,4.5\n"));
    taken(
        &desk,
        &["add", "lake.gpkg", "depths", "twice.csv", "--preview"],
        &["repeat a place", "disagree by up to 2.50 m"],
    );
    let only = Desk::empty();
    only.run(&["new", "lake.gpkg", "--name", "Square Lake", "--region", "WI"]).done();
    only.write("outline.geojson", common::OUTLINE);
    only.run(&["add", "lake.gpkg", "outline", "outline.geojson"]).done();
    only.write("land.csv", format!("{HEAD}-89.9905,45.007,3\n-89.9995,45.0145,3\n"));
    refused(
        &only,
        &["add", "lake.gpkg", "depths", "land.csv"],
        &["none of the 2 depths lies in the lake"],
    );
}

#[test]
fn contours_that_cross_or_have_no_depth() {
    let desk = Desk::with_lake();
    let across = [(-89.998, 45.003), (-89.984, 45.003)];
    let down = [(-89.990, 45.001), (-89.990, 45.005)];
    let crossing =
        collection(&[line(&across, r#"{"depth_ft":5}"#), line(&down, r#"{"depth_ft":10}"#)]);
    desk.write("crossing.geojson", crossing);
    taken(&desk, &["add", "lake.gpkg", "contours", "crossing.geojson", "--preview"], &["cross"]);
    let bare = collection(&[line(&across, r#"{"depth_ft":5}"#), line(&down, "{}")]);
    desk.write("bare.geojson", bare);
    refused(&desk, &["add", "lake.gpkg", "contours", "bare.geojson"], &["feature 2", "no depth"]);
}

#[test]
fn outlines_in_pieces_and_islands_at_the_shore() {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "Square Lake", "--region", "WI"]).done();
    let square = |west: f64, south: f64, side: f64| {
        format!(
            "[[{west},{south}],[{e},{south}],[{e},{n}],[{west},{n}],[{west},{south}]]",
            e = west + side,
            n = south + side
        )
    };
    let pieces = format!(
        r#"{{"type":"Feature","properties":{{}},"geometry":{{"type":"MultiPolygon","coordinates":[[{}],[{}]]}}}}"#,
        square(-90.0, 45.0, 0.01),
        square(-89.98, 45.0, 0.01)
    );
    desk.write("pieces.geojson", pieces);
    desk.run(&["add", "lake.gpkg", "outline", "pieces.geojson"]).done();
    let two = number(&desk, &["lake", "lake.gpkg", "--json"], "area_m2");
    // geographiclib 2.1: a cell of 0.01° at 45° N has 876,157 m²
    assert!((two / (2.0 * 876_157.0) - 1.0).abs() < 1e-3, "{two}");
    let island = r#"{"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[
        [[-90.0,45.0],[-89.98,45.0],[-89.98,45.014],[-90.0,45.014],[-90.0,45.0]],
        [[-90.0,45.004],[-89.996,45.004],[-89.996,45.008],[-90.0,45.008],[-90.0,45.004]]]}}"#;
    desk.write("island.geojson", island);
    taken(
        &desk,
        &["add", "lake.gpkg", "outline", "island.geojson", "--preview"],
        &["share a stretch of shore", "the land joined"],
    );
    // at a point between two corners of the shore
    let touching = island
        .replace("[-90.0,45.004],[-89.996,45.004]", "[-90.0,45.006],[-89.996,45.004]")
        .replace(
            "[-89.996,45.008],[-90.0,45.008],[-90.0,45.004]",
            "[-89.996,45.008],[-90.0,45.006]",
        );
    desk.write("touching.geojson", touching);
    taken(
        &desk,
        &["add", "lake.gpkg", "outline", "touching.geojson"],
        &["island 1 touch at a point"],
    );
    let json = desk.run(&["lake", "lake.gpkg", "--json"]).done().json();
    assert_eq!(json["island_count"], 1);
    let across = island.replace("[-90.0,45.004]", "[-90.001,45.004]");
    desk.write("across.geojson", across);
    refused(
        &desk,
        &["add", "lake.gpkg", "outline", "across.geojson", "--preview"],
        &["the outer shore and island 1 cross each other"],
    );
}

#[test]
fn positions_in_more_or_fewer_columns_than_two() {
    let desk = Desk::with_lake();
    for (name, table) in [
        ("a.csv", "Lat,N/S,Lon,E/W,Depth_ft\n45.0065,N,89.99,W,17\n45.0066,N,89.9905,W,18\n"),
        (
            "b.tsv",
            "Latitude\t\tLongitude\t\tDepth (ft)\n45 00.39\tN\t89 59.4\tW\t17\n45 00.396\tN\t89 59.43\tW\t18\n",
        ),
        (
            "c.csv",
            "lat_dir,lat_deg,lat_min,lon_dir,lon_deg,lon_min,depth_ft\nN,45,0.39,W,89,59.4,17\nN,45,0.396,W,89,59.43,18\n",
        ),
        (
            "d.csv",
            "name,position,depth_ft\na,\"45.0065, -89.99\",17\nb,45 00.396 N 89 59.43 W,18\n",
        ),
        ("e.csv", "WKT,depth_ft\n\"POINT (-89.99 45.0065)\",17\nPOINT Z (-89.9905 45.0066 0),18\n"),
    ] {
        desk.write(name, table);
        taken(
            &desk,
            &["add", "lake.gpkg", "depths", name, "--preview"],
            &["2 of 2 read", "89.99050° W and 89.99000° W", "45.00650° N and 45.00660° N"],
        );
    }
}

#[test]
fn a_zone_has_area_and_shore_before_there_are_depths() {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "Square Lake", "--region", "WI"]).done();
    desk.write("outline.geojson", common::OUTLINE);
    desk.run(&["add", "lake.gpkg", "outline", "outline.geojson"]).done();
    // a part in the west, drawn a good way onto the land
    let zone = r#"{"type":"Feature","properties":{"code":"W"},"geometry":{"type":"Polygon","coordinates":[
        [[-90.003,44.998],[-89.993,44.998],[-89.993,45.016],[-90.003,45.016],[-90.003,44.998]]]}}"#;
    desk.write("zone.geojson", zone);
    desk.run(&["add", "lake.gpkg", "zones", "zone.geojson"]).done();
    let zones = desk.run(&["lake", "lake.gpkg", "--json"]).done().json()["zones"].take();
    // pyproj 3.7.2 on WGS 84: 0.007° by 0.014° at 45° N, and three sides of it
    let (area, shore) =
        (zones[0]["area_m2"].as_f64().unwrap(), zones[0]["shore_m"].as_f64().unwrap());
    assert!((area / 858_610.6 - 1.0).abs() < 1e-4, "{area}");
    assert!((shore / 2_659.568 - 1.0).abs() < 1e-4, "{shore}");
    assert!(zones[0]["volume_m3"].is_null());
}

#[test]
fn a_slip_is_named_with_its_place_and_corrected_when_asked() {
    for (name, rows, slip) in [
        ("minus", "89.99,45.0065,5.1\n89.9905,45.0066,5.3\n", "minus"),
        // 89.99 is no latitude of a lake: read all the same, since one slip explains it
        ("swapped", "45.0065,-89.99,5.1\n45.0066,-89.9905,5.3\n", "swapped"),
        ("both", "45.0065,89.99,5.1\n45.0066,89.9905,5.3\n", "swapped and a minus"),
        ("together", "-8959.4,4500.39,5.1\n-8959.43,4500.396,5.3\n", "run together"),
        // 89° 59.4′ W, 45° 00.39′ N
        ("minutes", "-89.594,45.0039,5.1\n-89.5943,45.00396,5.3\n", "degrees and minutes"),
    ] {
        let desk = Desk::with_lake();
        desk.write("d.csv", format!("{HEAD}{rows}"));
        refused(&desk, &["add", "lake.gpkg", "depths", "d.csv"], &[slip, "it falls", "--fix"]);
        refused(&desk, &["add", "lake.gpkg", "depths", "d.csv", "--preview"], &[slip]);
        let told = taken(
            &desk,
            &["add", "lake.gpkg", "depths", "d.csv", "--fix"],
            &["corrected on the way in"],
        );
        assert!(told.contains("2 of 2 read"), "{name}: {told}");
    }
    // eastings of the neighbouring zone
    let desk = Desk::with_lake();
    desk.write("utm.csv", "x,y,depth_m\n736900,4987900,5.1\n736850,4987910,5.3\n");
    refused(
        &desk,
        &["add", "lake.gpkg", "depths", "utm.csv", "--crs", "EPSG:32617"],
        &["EPSG:32615", "--fix"],
    );
    taken(
        &desk,
        &["add", "lake.gpkg", "depths", "utm.csv", "--crs", "EPSG:32617", "--fix"],
        &["corrected on the way in", "EPSG:32615"],
    );
    // one slip in a file of good rows is the row's own: the reader says which
    let desk = Desk::with_lake();
    desk.write("d.csv", format!("{HEAD}-89.99,45.0065,5.1\n-89.99,450.065,5.1\n"));
    refused(&desk, &["add", "lake.gpkg", "depths", "d.csv", "--fix"], &["row 3", "450.065"]);
    // feet of the state's plane said to be its metres; the numbers by pyproj 3.7.2
    let desk = Desk::with_lake();
    desk.write("feet.csv", "x,y,depth_m\n1971090.34,427695.14,5.1\n1970961.01,427731.58,5.3\n");
    let metres = ["add", "lake.gpkg", "depths", "feet.csv", "--crs", "EPSG:32153"];
    refused(&desk, &metres, &["feet", "--fix"]);
    taken(&desk, &[&metres[..], &["--fix"]].concat(), &["corrected on the way in"]);
}

#[test]
fn water_level_and_transducer_are_brought_to_the_reference() {
    let desk = Desk::with_lake();
    let before = number(&desk, &["lake", "lake.gpkg", "--json"], "max_depth_m");
    desk.write("d.csv", format!("{HEAD}-89.99,45.0042,6.5\n"));
    taken(
        &desk,
        &["add", "lake.gpkg", "depths", "d.csv", "--transducer", "0.3m", "--water-level", "0.5m"],
        &["transducer", "reference level"],
    );
    let after = number(&desk, &["lake", "lake.gpkg", "--json"], "max_depth_m");
    assert!(before < 6.1 && (after - 6.3).abs() < 1e-9, "{before} {after}");
}

#[test]
fn rules_and_levels_are_named() {
    let desk = Desk::with_lake();
    let at = |more: &[&str]| {
        let mut arguments = vec!["lake", "lake.gpkg", "--json"];
        arguments.extend(more);
        desk.run(&arguments).done().json()
    };
    let volume = |more: &[&str]| at(more)["volume_m3"].as_f64().unwrap();
    let grid = volume(&[]);
    for rule in ["frustum", "trapezoid"] {
        let json = at(&["--rule", rule]);
        assert_eq!(json["rule"], rule);
        let by_rule = json["volume_m3"].as_f64().unwrap();
        assert!((by_rule / grid - 1.0).abs() < 0.02, "{rule}: {by_rule} {grid}");
    }
    // a metre less water: the volume below a metre, as the hypsography has it
    let low = at(&["--level", "-1"]);
    assert!((low["level_m"].as_f64().unwrap() + 1.0).abs() < 1e-12);
    let (area, mean) = (low["area_m2"].as_f64().unwrap(), low["mean_depth_m"].as_f64().unwrap());
    let lost = grid - low["volume_m3"].as_f64().unwrap();
    let whole = at(&[])["area_m2"].as_f64().unwrap();
    // between the areas before and after there is a metre
    assert!(area < lost && lost < whole, "{area} {lost} {whole}");
    assert!((mean * area / low["volume_m3"].as_f64().unwrap() - 1.0).abs() < 1e-9);
    let run = desk.run(&["lake", "lake.gpkg", "--rule", "raster-cells"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("one raster"), "{}", run.err);
    for (level, word) in [("-99", "dry"), ("400", "higher than a lake rises")] {
        let run = desk.run(&["lake", "lake.gpkg", "--level", level]);
        assert_eq!(run.code, 2, "{level}");
        assert!(run.err.contains(word) && run.err.contains("hint:"), "{}", run.err);
    }
}

#[test]
fn what_is_left_out_of_a_file_is_named_by_row_and_reason() {
    let desk = Desk::with_lake();
    desk.write("gaps.csv", format!("{HEAD}-89.99,45.0065,5.8\n-89.9905,45.0066,\n"));
    let preview = ["add", "lake.gpkg", "depths", "gaps.csv", "--preview", "--json"];
    let skipped = desk.run(&preview).done().json()["skipped"].take();
    assert_eq!(skipped.as_array().unwrap().len(), 1, "{skipped}");
    assert_eq!(skipped[0]["row"], 3, "{skipped}");
    assert!(skipped[0]["reason"].as_str().unwrap().contains("depth"), "{skipped}");
}

#[test]
fn the_limit_of_plants_follows_secchi_by_a_named_regression() {
    let desk = Desk::with_lake();
    let json = desk.run(&["lake", "lake.gpkg", "--secchi", "10ft", "--json"]).done().json();
    let littoral = &json["littoral"];
    // Caffrey, Hoyer and Canfield (2007): 10 ft of sight give 13.98 ft
    let limit = littoral["max_depth_m"].as_f64().unwrap() / 0.3048;
    assert!((limit - 13.98).abs() < 0.005, "{limit}");
    assert_eq!(littoral["regression"]["key"], "caffrey-2007");
    assert_eq!(littoral["limit"], "secchi");
    assert!(
        littoral["upper_limit_m"].as_f64().unwrap() > littoral["max_depth_m"].as_f64().unwrap()
    );
    let text = desk
        .run(&["lake", "lake.gpkg", "--secchi", "10ft", "--regression", "canfield-1985"])
        .done()
        .out;
    assert!(text.contains("Canfield et al. 1985") && text.contains("caffrey-2007 gives"), "{text}");
}

#[test]
fn a_littoral_zone_is_kept_when_asked() {
    let desk = Desk::with_lake();
    refused(&desk, &["lake", "lake.gpkg", "--keep"], &["no limit"]);
    let keep =
        ["lake", "lake.gpkg", "--min-depth", "0ft", "--max-depth", "12ft", "--keep", "--json"];
    let kept = desk.run(&keep).done().json();
    let json = desk.run(&["lake", "lake.gpkg", "--json"]).done().json();
    assert_eq!(kept["littoral"], json["littoral"]);
    let limit = json["littoral"]["max_depth_m"].as_f64().unwrap() / 0.3048;
    assert!((limit - 12.0).abs() < 1e-9, "{limit}");
    assert_eq!(json["littoral"]["limit"], "depth-range");
}

#[test]
fn layers_of_a_geopackage_are_read_by_name() {
    let desk = Desk::with_lake();
    let zones = r#"{"type":"Feature","properties":{"code":"W1","since":2020,"rule":"no motors above 5 mph"},"geometry":{"type":"Polygon","coordinates":[
        [[-90.0,45.0],[-89.99,45.0],[-89.99,45.014],[-90.0,45.014],[-90.0,45.0]]]}}"#;
    desk.write("zones.geojson", zones);
    desk.run(&["add", "lake.gpkg", "zones", "zones.geojson"]).done();
    desk.run(&["new", "copy.gpkg", "--name", "Square Lake", "--region", "WI"]).done();
    desk.run(&["add", "copy.gpkg", "outline", "lake.gpkg", "--layer", "lake_outline"]).done();
    let run = desk.run(&["add", "copy.gpkg", "depths", "lake.gpkg"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("`sounding`") && run.err.contains("--layer"), "{}", run.err);
    desk.run(&["add", "copy.gpkg", "depths", "lake.gpkg", "--layer", "sounding"]).done();
    desk.run(&["add", "copy.gpkg", "zones", "lake.gpkg", "--layer", "zone"]).done();
    let one = desk.run(&["lake", "lake.gpkg", "--json"]).done().json();
    let other = desk.run(&["lake", "copy.gpkg", "--json"]).done().json();
    for key in ["area_m2", "volume_m3", "max_depth_m", "soundings"] {
        assert_eq!(one[key], other[key], "{key}");
    }
    assert_eq!(other["zones"][0]["rule"], "no motors above 5 mph");
    // a zone of 2020 is none of 2019
    let before = desk.run(&["lake", "lake.gpkg", "--year", "2019", "--json"]).done().json();
    assert_eq!(before["zones"].as_array().unwrap().len(), 0);
}

#[test]
fn a_survey_keeps_the_zones_of_its_year() {
    let desk = Desk::with_lake();
    let half = |code: &str, since: &str, west: f64, east: f64| {
        format!(
            r#"{{"type":"Feature","properties":{{"code":"{code}"{since}}},"geometry":{{"type":"Polygon","coordinates":[
            [[{west},45.0],[{east},45.0],[{east},45.014],[{west},45.014],[{west},45.0]]]}}}}"#
        )
    };
    let zones = [half("W", "", -90.0, -89.99), half("E", r#","since":2015"#, -89.99, -89.98)];
    desk.write("zones.geojson", collection(&zones));
    desk.run(&["add", "lake.gpkg", "zones", "zones.geojson"]).done();
    for (year, zones) in [("2012", vec!["W"]), ("2020", vec!["E", "W"])] {
        let mut table = "site,date,longitude,latitude,depth_ft,species,rating\n".to_owned();
        for site in 0..12 {
            let (x, y) = (-89.998 + 0.0015 * f64::from(site), 45.003 + 0.0002 * f64::from(site));
            table.push_str(&format!("{site},{year}-07-14,{x:.5},{y:.5},6,coontail,2\n"));
        }
        desk.write("sites.csv", table);
        let survey = ["--survey", year];
        let scale = ["--scale", "fullness", "--new-taxa"];
        desk.run(&[&["record", "lake.gpkg", "sites.csv"], &survey[..], &scale].concat()).done();
        let json =
            desk.run(&[&["findings", "lake.gpkg", "--json"], &survey[..]].concat()).done().json();
        let mut found: Vec<&str> = json["acres"]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(|one| one["zone"].as_str())
            .collect();
        found.sort_unstable();
        found.dedup();
        assert_eq!(found, zones, "{year}");
    }
}

/// A TIFF of 4-byte floats, 4 by 3 cells of 0.001°, without a word on its system.
/// Source: TIFF 6.0 (Adobe 1992), section 2; GeoTIFF 1.1 tags 33550 and 33922.
fn raster_without_system() -> Vec<u8> {
    let values: [f32; 12] = [1.0, 2.0, 3.0, 2.0, 1.0, 3.0, 4.0, 3.0, 1.0, 2.0, 2.0, 1.0];
    let mut data = Vec::new();
    for value in values {
        data.extend(value.to_le_bytes());
    }
    let scale = [10.0f64, 10.0, 0.0];
    let tie = [0.0f64, 0.0, 0.0, 736_000.0, 4_988_000.0, 0.0];
    let entries: u32 = 12;
    let first = 8u32;
    let after = first + 2 + entries * 12 + 4;
    let (scale_at, tie_at, data_at) = (after, after + 24, after + 24 + 48);
    let mut tif: Vec<u8> = vec![b'I', b'I', 42, 0];
    tif.extend(first.to_le_bytes());
    tif.extend((entries as u16).to_le_bytes());
    let mut entry = |tag: u16, kind: u16, count: u32, value: u32| {
        tif.extend(tag.to_le_bytes());
        tif.extend(kind.to_le_bytes());
        tif.extend(count.to_le_bytes());
        tif.extend(value.to_le_bytes());
    };
    for (tag, kind, count, value) in [
        (256, 3, 1, 4),
        (257, 3, 1, 3),
        (258, 3, 1, 32),
        (259, 3, 1, 1),
        (262, 3, 1, 1),
        (273, 4, 1, data_at),
        (277, 3, 1, 1),
        (278, 3, 1, 3),
        (279, 4, 1, 48),
        (339, 3, 1, 3),
        (33_550, 12, 3, scale_at),
        (33_922, 12, 6, tie_at),
    ] {
        entry(tag, kind, count, value);
    }
    tif.extend(0u32.to_le_bytes());
    scale.iter().chain(&tie).for_each(|number| tif.extend(number.to_le_bytes()));
    tif.extend(data);
    tif
}

#[test]
fn a_raster_without_a_system_is_asked_for_it() {
    let desk = Desk::with_lake();
    desk.write("depths.tif", raster_without_system());
    refused(&desk, &["add", "lake.gpkg", "depths", "depths.tif"], &["reference system", "--crs"]);
}

#[test]
fn a_log_with_bad_checksums_counts_them() {
    let desk = Desk::with_lake();
    // Source: NMEA 0183, checksum as the exclusive or of all between `$` and `*`
    let sum =
        |body: &str| format!("${body}*{:02X}\r\n", body.bytes().fold(0, |sum, byte| sum ^ byte));
    let mut log = String::new();
    for step in 0..6 {
        let time = format!("12000{step}.00");
        log.push_str(&sum(&format!(
            "GPGGA,{time},4500.{:04},N,08959.5000,W,1,08,0.9,0.0,M,0.0,M,,",
            3000 + 100 * step
        )));
        log.push_str(&sum("SDDBT,13.1,f,4.0,M,2.2,F"));
    }
    log.push_str("$SDDBT,99.9,f,30.4,M,16.6,F*00\r\n");
    desk.write("sonar.log", &log);
    taken(&desk, &["add", "lake.gpkg", "depths", "sonar.log", "--preview"], &["checksum"]);
    // left on for the road home, no reason to lose the lake
    let mut on_the_road = log.clone();
    for step in 6..9 {
        on_the_road.push_str(&sum(&format!(
            "GPGGA,12000{step}.00,4520.0000,N,08930.0000,W,1,08,0.9,0.0,M,0.0,M,,"
        )));
        on_the_road.push_str(&sum("SDDBT,2.0,f,0.6,M,0.3,F"));
    }
    desk.write("road.log", on_the_road);
    taken(
        &desk,
        &["add", "lake.gpkg", "depths", "road.log", "--preview"],
        &["it was logged away from the lake", "6 of "],
    );
}
