//! The readers on real open data. They are not part of the project; without them these tests are
//! skipped and say so.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "the helpers of a test may fail it"
)]

#[path = "../../findings/tests/support/mod.rs"]
mod support;

use exchange::{
    ColumnMap, DepthCell, Form, Layer, LayerCrs, Meaning, ReadOptions, RecordOptions, RecordTable,
    Value, read_layer, read_record,
};
use geo_types::{Coord, Geometry, LineString, Polygon};
use support::open_data;
use units::LengthUnit;

fn layer(name: &str) -> Option<Layer> {
    let path = open_data(name)?;
    Some(read_layer(&path, &ReadOptions::default()).unwrap_or_else(|f| panic!("{name}: {f}")))
}

fn record(name: &str, map: &str) -> Option<RecordTable> {
    let path = open_data(name)?;
    let map = ColumnMap::from_toml("map.toml", map).unwrap();
    let options = RecordOptions { map, ..RecordOptions::default() };
    Some(read_record(&path, &options).unwrap_or_else(|f| panic!("{name}: {f}")))
}

fn ring_area(ring: &LineString<f64>) -> f64 {
    let shifted: Vec<Coord<f64>> = ring.0.iter().map(|c| *c - ring.0[0]).collect();
    shifted.windows(2).map(|w| w[0].x * w[1].y - w[1].x * w[0].y).sum::<f64>().abs() / 2.0
}

fn polygon_area(polygon: &Polygon<f64>) -> f64 {
    ring_area(polygon.exterior()) - polygon.interiors().iter().map(ring_area).sum::<f64>()
}

fn area(geometry: &Geometry<f64>) -> f64 {
    match geometry {
        Geometry::Polygon(polygon) => polygon_area(polygon),
        Geometry::MultiPolygon(polygons) => polygons.0.iter().map(polygon_area).sum(),
        _ => 0.0,
    }
}

/// The outline has a null geometry behind the lake; its drawn area is 1,256,739 m² (NTL-LTER, study lakes).
#[test]
fn wingra_outline() {
    let Some(layer) = layer("wingra-wi/outline/yld_study_lakes.shp") else { return };
    assert!(
        matches!(&layer.crs, LayerCrs::Prj(text) if text.starts_with("PROJCS[\"NAD_1983_HARN"))
    );
    assert_eq!((layer.skipped[0].row, layer.skipped[0].reason.as_str()), (2, "it has no geometry"));
    let lake = layer
        .features
        .iter()
        .find(|f| f.attribute("LAKE_NAME") == Some(&Value::Text("Lake Wingra".to_owned())))
        .unwrap();
    assert_eq!(lake.attribute("AREA").and_then(Value::number), Some(1_360_882.922));
    assert!((area(&lake.geometry) - 1_256_739.0).abs() < 1.0, "{}", area(&lake.geometry));
}

/// Eleven polygons; the border is 1,457,481 m² (NTL-LTER digitising of the state lake map).
#[test]
fn wingra_contours() {
    let Some(layer) = layer("wingra-wi/bathymetry-contours/wingra-contours-all.shp") else {
        return;
    };
    assert_eq!(layer.features.len(), 11);
    let mut depths: Vec<f64> =
        layer.features.iter().filter_map(|f| f.attribute("Depth_ft")?.number()).collect();
    depths.dedup();
    assert_eq!(depths, [0.0, 2.0, 3.0, 6.0, 12.0]);
    let border = layer.features.iter().map(|f| area(&f.geometry)).fold(0.0, f64::max);
    assert!((border - 1_457_481.0).abs() < 1.0, "{border}");
}

#[test]
fn wingra_depths() {
    let Some(path) = open_data("wingra-wi/bathymetry.csv") else { return };
    let layer = read_layer(&path, &ReadOptions::default()).unwrap();
    assert_eq!((layer.features.len(), layer.skipped.len()), (50_262, 0));
    assert_eq!(layer.crs, LayerCrs::Unknown);
    let depth = layer.depth.as_ref().unwrap();
    assert_eq!((depth.name.as_str(), depth.unit, depth.upward), ("depth", None, false));
    let Some(layer) = self::layer("wingra-wi/depth_dnr.csv") else { return };
    assert_eq!((layer.features.len(), &layer.crs), (543, &LayerCrs::Wgs84));
    assert_eq!(layer.depth.unwrap().unit, Some(LengthUnit::Foot));
}

/// What the published columns of the state's survey of 2022 allow.
#[test]
fn wingra_survey() {
    let Some(table) = record("wingra-wi/DNRsurvey.csv", "") else { return };
    assert_eq!((table.form, table.rows.len()), (Form::Wide, 543));
    let meanings: Vec<&str> = table.columns.iter().map(|guess| guess.meaning.key()).collect();
    assert_eq!(
        meanings,
        [
            "species_total",
            "unknown",
            "species_native",
            "site",
            "latitude",
            "longitude",
            "depth",
            "sediment",
            "total_rating",
            "taxon_column",
        ]
    );
    assert_eq!(table.columns[6].unit, Some(LengthUnit::Foot));
    assert_eq!(table.columns[9].taxon.as_deref(), Some("Filamentous algae"));
    let with = |test: &dyn Fn(&exchange::RecordRow) -> bool| {
        table.rows.iter().filter(|row| test(row)).count()
    };
    // 315 sampled rows name a species and one without a depth does; 317 have a rating above 0
    assert_eq!(with(&|row| row.species_total > Some(0) && row.depth.is_some()), 315);
    assert_eq!(with(&|row| row.species_total > Some(0)), 316);
    assert_eq!(with(&|row| row.total_rating.as_deref().is_some_and(|r| r != "0")), 317);
    let depth = |cell: &DepthCell| cell.value;
    assert_eq!(with(&|row| row.depth.as_ref().and_then(depth).is_some()), 423);

    let Some(rake) =
        record("wingra-wi/macrophyte_22_rake.csv", "[columns]\noutcome = \"comments\"\n")
    else {
        return;
    };
    let reasons =
        |word: &str| rake.rows.iter().filter(|row| row.outcome.as_deref() == Some(word)).count();
    assert_eq!(
        [
            "Non-Navigable (Plants)",
            "No Information",
            "Temporary Obstacle",
            "Non-Navigable (Swim Area)"
        ]
        .map(reasons),
        [83, 33, 2, 2]
    );
}

#[test]
fn delta_points() {
    for (name, count, field) in [
        ("All2020RakePoints", 425, "Pt_No"),
        ("RakePoints_All2019", 680, "Pt_No"),
        ("RandomPoints_all", 395, "PT_"),
    ] {
        let Some(layer) = layer(&format!("delta-dbw-messy-xlsx/{name}.shp")) else { return };
        assert_eq!(layer.features.len(), count, "{name}");
        assert!(layer.features.iter().all(|f| f.attribute(field).is_some()), "{name}");
        assert!(layer.skipped.is_empty() && layer.warnings.is_empty(), "{layer:?}");
    }
}

#[test]
fn delta_long_table() {
    const NAME: &str = "delta-dbw-messy-xlsx/parsed_long_derived.csv";
    let Some(path) = open_data(NAME) else { return };
    // one sheet has a rating that a spreadsheet made a date of, another a date that is none
    let faults = read_record(&path, &RecordOptions::default()).unwrap_err();
    let found: Vec<_> = faults.0.iter().map(|f| (f.row, f.found.as_deref())).collect();
    assert_eq!(found, [(Some(771), Some("2017-01-04 00:00:00")), (Some(3_149), Some("46/18"))]);

    let Some(pre) = record(NAME, "[only]\nsheet = \"2017 Pre\"\n") else { return };
    assert_eq!((pre.form, pre.rows.len(), pre.left_out), (Form::Long, 590, 4_049 - 590));
    let found: Vec<Meaning> = pre.columns.iter().map(|guess| guess.meaning).collect();
    assert_eq!(
        found,
        [
            Meaning::Unknown,
            Meaning::Unknown,
            Meaning::Date,
            Meaning::Site,
            Meaning::Depth,
            Meaning::Taxon,
            Meaning::Rating,
            Meaning::Unknown,
            Meaning::Longitude,
            Meaning::Latitude,
        ]
    );
    let map = "[only]\nsheet = \"2017 Post\"\n[read_as]\n\"2017-01-04 00:00:00\" = \"1\"\n";
    let post = record(NAME, map).unwrap();
    assert_eq!(post.rows.len(), 491);
}

#[test]
fn new_hampshire_outlines() {
    let Some(layer) = layer("nh-lake-outlines/nh_lakes_wgs84.geojson") else { return };
    assert_eq!((layer.features.len(), &layer.crs), (478, &LayerCrs::Wgs84));
    assert!(layer.skipped.is_empty());
    // the file states the holes of each lake
    for feature in &layer.features {
        let holes: usize = match &feature.geometry {
            Geometry::Polygon(polygon) => polygon.interiors().len(),
            Geometry::MultiPolygon(parts) => parts.0.iter().map(|p| p.interiors().len()).sum(),
            other => panic!("{other:?}"),
        };
        let stated = feature.attribute("n_holes").and_then(Value::number).unwrap();
        assert_eq!(holes, stated as usize, "feature {}", feature.row);
    }
}

#[test]
fn madison_rake_throws() {
    let map = "form = \"wide\"\n[columns]\nsite = \"transect\"\n[only]\nlakeid = \"WI\"\n";
    let Some(path) = open_data("ntl-madison-macrophytes/ntl_macrophyte.csv") else { return };
    let map = ColumnMap::from_toml("map.toml", map).unwrap();
    let faults = read_record(&path, &RecordOptions { map, ..RecordOptions::default() });
    // a transect holds several depths, so one row a site is not enough: that must be said
    match faults {
        Ok(table) => assert!(table.rows.iter().all(|row| row.total_rating.is_some())),
        Err(faults) => assert!(faults.0[0].expected.starts_with("one row for a site"), "{faults}"),
    }
}

/// Files of many programs: every waypoint, route and track is read or told as left out.
#[test]
fn gpx_samples() {
    for name in [
        "around-visnjan-with-car",
        "cerknicko-jezero-without-elevations",
        "cerknicko-jezero",
        "cerknicko-without-times",
        "gpx_with_garmin_extension",
        "korita-zbevnica",
        "route",
        "track-with-empty-segment",
        "unicode_with_bom",
        "unicode_with_bom_noencoding",
    ] {
        let file = format!("gpx-samples/{name}.gpx");
        let Some(path) = open_data(&file) else { return };
        let text = String::from_utf8_lossy(&std::fs::read(path).unwrap()).into_owned();
        let elements: usize =
            ["<wpt ", "<rte>", "<trk>"].map(|tag| text.matches(tag).count()).iter().sum();
        let layer = layer(&file).unwrap();
        let soundings = layer.features.iter().filter(|f| f.attribute("depth").is_some()).count();
        assert_eq!(layer.features.len() - soundings + layer.skipped.len(), elements, "{name}");
    }
}
