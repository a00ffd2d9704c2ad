//! What is written is what the formats' own standards and other readers want.
#![allow(clippy::unwrap_used, reason = "the helpers of a test may fail it")]

use exchange::csv_out;
use exchange::export::{
    CELL_CODES, ExportFeature, ExportObservation, ExportShoreFind, ExportSite, ExportSurvey,
    ExportTaxon,
};
use exchange::geojson_out::to_geojson;
use exchange::gpx_out::{Route, Waypoint, to_gpx};
use exchange::kml_out::to_kml;
use exchange::{
    CellReading, Form, Layer, ReadOptions, RecordOptions, Value, read_layer_bytes,
    read_record_bytes,
};
use geo_types::{Coord, Geometry, LineString, Point, Polygon};
use jiff::civil::{date, time};
use proptest::prelude::*;
use units::Metres;

fn survey() -> ExportSurvey {
    let taxon = |code: &str, scientific: &str, common: &str| ExportTaxon {
        code: code.to_owned(),
        scientific_name: scientific.to_owned(),
        common_name: common.to_owned(),
    };
    let seen = |code: &str, rating: &str| ExportObservation {
        code: code.to_owned(),
        throw: Some(1),
        reading: CellReading::of(rating),
        how_seen: "rake".to_owned(),
    };
    ExportSurvey {
        shore: vec![ExportShoreFind {
            code: "SW".to_owned(),
            longitude: Some(-92.5),
            latitude: Some(45.25),
            zone: "E1".to_owned(),
            comment: "washed up, \"fresh\"".to_owned(),
        }],
        name: "Summer 2022".to_owned(),
        taxa: vec![
            taxon("CW", "Potamogeton crispus", "curly-leaf pondweed"),
            taxon("SW", "Chara sp.", "stonewort"),
        ],
        sites: vec![
            ExportSite {
                code: "1".to_owned(),
                longitude: Some(-89.543_210_04),
                latitude: Some(45.1),
                date: Some(date(2022, 8, 14)),
                time: Some(time(9, 5, 0, 0)),
                depth: Some(Metres::from_feet(12.0)),
                outcome: "sampled_with_plants".to_owned(),
                total_rating: "2".to_owned(),
                comment: "by the \"old\" pier, left\nof the dam".to_owned(),
                cells: vec![CellReading::of("2"), CellReading::Zero],
                observations: vec![seen("CW", "2"), seen("SW", "0")],
                ..ExportSite::default()
            },
            ExportSite {
                code: "2".to_owned(),
                outcome: "too_deep".to_owned(),
                cells: vec![CellReading::NotReached, CellReading::NotLookedFor],
                ..ExportSite::default()
            },
        ],
    }
}

/// RFC 4180 section 2: CRLF, quotation marks doubled, line breaks inside quotes.
#[test]
fn the_wide_table_to_the_letter() {
    assert_eq!(
        csv_out::wide(&survey()),
        "site,zone,landmark,date,time,latitude,longitude,depth_m,sediment,outcome,total_rating,crew,comment,Potamogeton crispus,Chara sp.\r\n\
         1,,,2022-08-14,09:05:00,45.1,-89.54321,3.6576,,sampled_with_plants,2,,\"by the \"\"old\"\" pier, left\nof the dam\",2,0\r\n\
         2,,,,,,,,,too_deep,,,,NR,NL\r\n"
    );
}

#[test]
fn the_long_table_keeps_sites_without_observations() {
    let text = csv_out::long(&survey());
    let table = read_record_bytes("t.csv", text.as_bytes(), &RecordOptions::default()).unwrap();
    assert_eq!(table.form, Form::Long);
    let rows: Vec<_> = table
        .rows
        .iter()
        .map(|r| (r.site.as_deref(), r.taxon.as_deref(), r.rating.as_deref(), r.outcome.as_deref()))
        .collect();
    assert_eq!(
        rows,
        [
            (Some("1"), Some("Potamogeton crispus"), Some("2"), Some("sampled_with_plants")),
            (Some("1"), Some("Chara sp."), Some("0"), Some("sampled_with_plants")),
            (Some("2"), None, None, Some("too_deep")),
        ]
    );
}

#[test]
fn the_four_kinds_of_nothing_have_four_codes() {
    for (code, _) in CELL_CODES {
        let reading = CellReading::of(code);
        assert!(!matches!(reading, CellReading::Rating(_)), "{code}");
        assert_eq!(reading.code(), code);
    }
}

fn clean_text() -> impl Strategy<Value = String> {
    "[A-Za-z0-9äøé ,;\"'\n|.-]{0,24}".prop_map(|text| text.trim().to_owned())
}

fn reading() -> impl Strategy<Value = CellReading> {
    prop_oneof![
        prop::sample::select(vec!["1", "2", "3", "T", "dense"]).prop_map(CellReading::of),
        Just(CellReading::Visual),
        Just(CellReading::Zero),
        Just(CellReading::NotFound),
        Just(CellReading::NotLookedFor),
        Just(CellReading::NotReached),
    ]
}

prop_compose! {
    fn site(index: usize, n_taxa: usize)(
        longitude in -180.0..180.0_f64,
        latitude in -84.0..84.0_f64,
        day in 1_i8..28,
        minute in 0_i8..60,
        depth in prop::option::of(0.0..60.0_f64),
        sediment in clean_text(),
        comment in clean_text(),
        cells in prop::collection::vec(reading(), n_taxa),
    ) -> ExportSite {
        let round = |value: f64, digits: f64| (value * digits).round() / digits;
        ExportSite {
            code: format!("S{index}"),
            longitude: Some(round(longitude, 1e7)),
            latitude: Some(round(latitude, 1e7)),
            date: Some(date(2022, 8, day)),
            time: Some(time(9, minute, 0, 0)),
            depth: depth.map(|d| Metres::new(round(d, 1e4))),
            sediment,
            comment,
            cells,
            ..ExportSite::default()
        }
    }
}

fn surveys() -> impl Strategy<Value = ExportSurvey> {
    (1_usize..4, 1_usize..6).prop_flat_map(|(n_taxa, n_sites)| {
        let sites: Vec<_> = (0..n_sites).map(|index| site(index, n_taxa)).collect();
        sites.prop_map(move |sites| ExportSurvey {
            shore: Vec::new(),
            name: "any".to_owned(),
            taxa: ["Elodea canadensis", "Najas flexilis", "Chara sp."][..n_taxa]
                .iter()
                .map(|name| ExportTaxon {
                    scientific_name: (*name).to_owned(),
                    ..ExportTaxon::default()
                })
                .collect(),
            sites,
        })
    })
}

proptest! {
    #[test]
    fn a_wide_table_comes_back_as_it_was_written(survey in surveys()) {
        let text = csv_out::wide(&survey);
        let table = read_record_bytes("t.csv", text.as_bytes(), &RecordOptions::default()).unwrap();
        prop_assert_eq!(table.rows.len(), survey.sites.len());
        for (row, site) in table.rows.iter().zip(&survey.sites) {
            prop_assert_eq!(row.site.as_deref(), Some(site.code.as_str()));
            prop_assert_eq!((row.longitude, row.latitude), (site.longitude, site.latitude));
            prop_assert_eq!((row.date, row.time), (site.date, site.time));
            prop_assert_eq!(row.depth.as_ref().and_then(|d| d.value), site.depth.map(Metres::metres));
            prop_assert_eq!(row.sediment.as_deref().unwrap_or(""), &site.sediment);
            prop_assert_eq!(row.comment.as_deref().unwrap_or(""), &site.comment);
            let cells: Vec<_> = row.taxa.iter().map(|cell| cell.reading.clone()).collect();
            prop_assert_eq!(&cells, &site.cells);
            let names: Vec<_> = row.taxa.iter().map(|cell| cell.name.clone()).collect();
            let taxa: Vec<_> = survey.taxa.iter().map(|t| t.scientific_name.clone()).collect();
            prop_assert_eq!(names, taxa);
        }
    }
}

fn ring(points: &[(f64, f64)]) -> LineString<f64> {
    points.iter().map(|&(x, y)| Coord { x, y }).collect()
}

/// A lake with an island, both the wrong way round for RFC 7946.
fn lake() -> ExportFeature {
    let shell = ring(&[(0.0, 0.0), (0.0, 4.0), (4.0, 4.0), (4.0, 0.0), (0.0, 0.0)]);
    let hole = ring(&[(1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0), (1.0, 1.0)]);
    ExportFeature {
        name: Some("Tamarin & \"sons\" <lake>".to_owned()),
        geometry: Polygon::new(shell, vec![hole]).into(),
        properties: vec![
            ("area_m2".to_owned(), Value::Number(12.5)),
            ("note".to_owned(), Value::Text("a \"quoted\" line\nand another".to_owned())),
            ("seen".to_owned(), Value::Date(date(2022, 8, 14))),
            ("depth".to_owned(), Value::Number(f64::NAN)),
        ],
    }
}

fn again(text: &str) -> Layer {
    read_layer_bytes("t.geojson", text.as_bytes(), &ReadOptions::default()).unwrap()
}

/// RFC 7946: section 3.1.6 winding, section 4 no `crs`, section 11.2 precision.
#[test]
fn geojson_keeps_to_rfc_7946() {
    let place = ExportFeature {
        name: None,
        geometry: Point::new(-89.123_456_789, -0.000_000_001).into(),
        properties: Vec::new(),
    };
    let text = to_geojson("lake", &[lake(), place]).unwrap();
    assert!(!text.contains("crs"));
    assert!(text.contains("[-89.1234568,0]"), "{text}");
    // the shell counter-clockwise, the hole clockwise
    assert!(
        text.contains("[[[0,0],[4,0],[4,4],[0,4],[0,0]],[[1,1],[1,2],[2,2],[2,1],[1,1]]]"),
        "{text}"
    );
    let parsed: geojson::FeatureCollection =
        text.parse::<geojson::GeoJson>().unwrap().try_into().unwrap();
    let properties = parsed.features[0].properties.as_ref().unwrap();
    assert_eq!(properties["note"], "a \"quoted\" line\nand another");
    assert!(properties["depth"].is_null());
    let layer = again(&text);
    assert_eq!(layer.name, "lake");
    assert!(
        matches!(&layer.features[0].geometry, Geometry::Polygon(p) if p.interiors().len() == 1)
    );
}

#[test]
fn positions_that_are_not_degrees_are_not_written() {
    let wrong = ExportFeature {
        name: Some("12".to_owned()),
        geometry: Point::new(566_486.0, 286_372.0).into(),
        properties: Vec::new(),
    };
    for faults in [
        to_geojson("a", &[wrong.clone(), wrong.clone()]).unwrap_err(),
        to_kml("a", &[wrong.clone(), wrong]).unwrap_err(),
    ] {
        assert_eq!(faults.0.len(), 2);
        assert_eq!(faults.0[0].field.as_deref(), Some("12"));
    }
    let far = Waypoint { longitude: f64::NAN, ..Waypoint::default() };
    assert!(to_gpx("a", &[far], &[]).is_err());
}

#[test]
fn sites_become_points_with_their_record() {
    let features = survey().features();
    assert_eq!(features.len(), 1);
    let layer = again(&to_geojson("sites", &features).unwrap());
    let site = &layer.features[0];
    assert_eq!(site.attribute("depth_m"), Some(&Value::Number(3.6576)));
    assert_eq!(site.attribute("Potamogeton crispus"), Some(&Value::Text("2".to_owned())));
    assert_eq!(site.attribute("zone"), Some(&Value::Null));
}

/// GPX 1.1 schema: `wpt` and `rtept` with `lat`, `lon`, then name, desc, sym.
#[test]
fn gpx_holds_waypoints_and_a_route() {
    let place = Waypoint {
        name: "14 & up".to_owned(),
        longitude: 180.0,
        latitude: 45.123_456_78,
        description: "deep <12 ft".to_owned(),
        symbol: "Flag, Blue".to_owned(),
    };
    let route = Route { name: "day 1".to_owned(), stops: vec![place.clone()] };
    assert_eq!(
        to_gpx("Tamarin", &[place], &[route]).unwrap(),
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <gpx version=\"1.1\" creator=\"Quillwort\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n\
         \x20 <metadata><name>Tamarin</name></metadata>\n\
         \x20 <wpt lat=\"45.1234568\" lon=\"-180\"><name>14 &amp; up</name><desc>deep &lt;12 ft</desc><sym>Flag, Blue</sym></wpt>\n\
         \x20 <rte>\n\
         \x20   <name>day 1</name>\n\
         \x20   <rtept lat=\"45.1234568\" lon=\"-180\"><name>14 &amp; up</name><desc>deep &lt;12 ft</desc><sym>Flag, Blue</sym></rtept>\n\
         \x20 </rte>\n\
         </gpx>\n"
    );
}

/// OGC 07-147r2, section 10: coordinates are longitude,latitude.
#[test]
fn kml_holds_shapes_and_their_attributes() {
    let text = to_kml("lake", &[lake()]).unwrap();
    assert!(text.contains("<name>Tamarin &amp; &quot;sons&quot; &lt;lake&gt;</name>"), "{text}");
    assert!(text.contains("<Data name=\"area_m2\"><value>12.5</value></Data>"), "{text}");
    assert!(
        text.contains(
            "<innerBoundaryIs><LinearRing><coordinates>1,1 1,2 2,2 2,1 1,1</coordinates></LinearRing></innerBoundaryIs>"
        ),
        "{text}"
    );
}

#[test]
fn gpx_and_kml_come_back_as_they_were_written() {
    let place = Waypoint {
        name: "14 & \"up\"".to_owned(),
        longitude: -89.5,
        latitude: 45.1,
        description: "<deep>".to_owned(),
        symbol: String::new(),
    };
    let text = to_gpx("Tamarin", std::slice::from_ref(&place), &[]).unwrap();
    let layer = again(&text);
    assert_eq!(layer.name, "Tamarin");
    assert_eq!(layer.features[0].geometry, Point::new(-89.5, 45.1).into());
    assert_eq!(layer.features[0].attribute("name"), Some(&Value::Text(place.name)));
    assert_eq!(layer.features[0].attribute("desc"), Some(&Value::Text(place.description)));

    let layer = again(&to_kml("lake", &[lake()]).unwrap());
    let feature = &layer.features[0];
    assert_eq!(feature.attribute("name").map(ToString::to_string), lake().name);
    assert_eq!(feature.attribute("area_m2"), Some(&Value::Number(12.5)));
    assert!(matches!(&feature.geometry, Geometry::Polygon(p) if p.interiors().len() == 1));
}

#[test]
fn plants_on_the_shore_have_a_table_and_points_of_their_own() {
    let survey = survey();
    assert_eq!(
        csv_out::shore(&survey),
        "taxon,taxon_code,common_name,zone,latitude,longitude,comment\r\n\
         Chara sp.,SW,stonewort,E1,45.25,-92.5,\"washed up, \"\"fresh\"\"\"\r\n"
    );
    let points = survey.shore_features();
    assert_eq!(points.len(), 1);
    assert!(survey.features().iter().all(|one| one.geometry != points[0].geometry));
}
