//! Shapefiles written by the `shapefile` and `dbase` crates and then hurt.
//!
//! Reference for the bytes: ESRI Shapefile Technical Description, ESRI white paper, July 1998.
#![allow(clippy::unwrap_used, clippy::panic, reason = "the helpers of a test may fail it")]

use dbase::{FieldValue, Record, TableWriterBuilder};
use exchange::{Layer, LayerCrs, ReadOptions, Value, read_layer};
use geo_types::{Geometry, MultiPolygon};
use shapefile::{Point, PointZ, Polygon, PolygonRing, Shape, ShapeWriter};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

struct Written {
    _folder: TempDir,
    shp: PathBuf,
}

fn squares() -> Vec<Polygon> {
    let ring = |x: f64, side: f64| {
        vec![
            Point::new(x, x),
            Point::new(x, x + side),
            Point::new(x + side, x + side),
            Point::new(x + side, x),
            Point::new(x, x),
        ]
    };
    vec![
        Polygon::with_rings(vec![
            PolygonRing::Outer(ring(0.0, 10.0)),
            PolygonRing::Inner(ring(3.0, 4.0)),
            PolygonRing::Outer(ring(4.0, 1.0)),
        ]),
        Polygon::new(PolygonRing::Outer(ring(20.0, 5.0))),
    ]
}

/// Two polygons, the first with an island and a pond on it, and a table of two rows.
fn written() -> Written {
    let folder = tempfile::tempdir().unwrap();
    let shp = folder.path().join("ponds.shp");
    ShapeWriter::from_path(&shp).unwrap().write_shapes(&squares()).unwrap();
    let mut table = TableWriterBuilder::new()
        .add_character_field("NAME".try_into().unwrap(), 20)
        .add_numeric_field("DEPTH".try_into().unwrap(), 10, 3)
        .add_logical_field("DEEP".try_into().unwrap())
        .add_date_field("SEEN".try_into().unwrap())
        .build_with_file_dest(shp.with_extension("dbf"))
        .unwrap();
    for (name, depth) in [("Bäy", Some(2.5)), ("Far", None)] {
        let mut record = Record::default();
        record.insert("NAME".to_owned(), FieldValue::Character(Some(name.to_owned())));
        record.insert("DEPTH".to_owned(), FieldValue::Numeric(depth));
        record.insert("DEEP".to_owned(), FieldValue::Logical(Some(true)));
        let day = dbase::Date::new(14, 8, 2022).unwrap();
        record.insert("SEEN".to_owned(), FieldValue::Date(Some(day)));
        table.write_record(&record).unwrap();
    }
    drop(table);
    Written { _folder: folder, shp }
}

fn read(shp: &Path) -> Layer {
    read_layer(shp, &ReadOptions::default()).unwrap_or_else(|faults| panic!("{faults}"))
}

fn refused(shp: &Path) -> String {
    read_layer(shp, &ReadOptions::default()).unwrap_err().to_string()
}

/// Changes one of the files in place.
fn hurt(shp: &Path, ending: &str, change: impl FnOnce(&mut Vec<u8>)) {
    let path = shp.with_extension(ending);
    let mut bytes = fs::read(&path).unwrap();
    change(&mut bytes);
    fs::write(path, bytes).unwrap();
}

#[test]
fn polygons_keep_their_holes_and_rows_their_attributes() {
    let files = written();
    fs::write(files.shp.with_extension("PRJ"), "GEOGCS[\"GCS_WGS_1984\"]\n").unwrap();
    let layer = read(&files.shp);
    assert_eq!(layer.name, "ponds");
    assert_eq!(layer.crs, LayerCrs::Prj("GEOGCS[\"GCS_WGS_1984\"]".to_owned()));
    let Geometry::MultiPolygon(MultiPolygon(parts)) = &layer.features[0].geometry else {
        panic!("{layer:?}")
    };
    let holes: Vec<usize> = parts.iter().map(|part| part.interiors().len()).collect();
    assert_eq!(holes, [1, 0]);
    let first = &layer.features[0];
    assert_eq!(first.attribute("name"), Some(&Value::Text("Bäy".to_owned())));
    assert_eq!(first.attribute("DEPTH"), Some(&Value::Number(2.5)));
    assert_eq!(first.attribute("DEEP"), Some(&Value::Bool(true)));
    assert_eq!(first.attribute("SEEN"), Some(&Value::Date(jiff::civil::date(2022, 8, 14))));
    assert_eq!(layer.features[1].attribute("DEPTH"), Some(&Value::Null));
}

#[test]
fn without_prj_the_reference_system_is_unknown_and_without_dbf_a_warning_says_so() {
    let files = written();
    fs::remove_file(files.shp.with_extension("dbf")).unwrap();
    let layer = read(&files.shp);
    assert_eq!(layer.crs, LayerCrs::Unknown);
    assert!(layer.features[0].attributes.is_empty());
    assert!(layer.warnings[0].contains("no `ponds.dbf`"), "{:?}", layer.warnings);
}

#[test]
fn letters_follow_the_cpg_file() {
    let files = written();
    // "Bäy" in code page 850
    hurt(&files.shp, "dbf", |bytes| {
        let at = bytes.windows(4).position(|four| four == "Bäy".as_bytes()).unwrap();
        bytes[at..at + 4].copy_from_slice(b"B\x84y ");
    });
    fs::write(files.shp.with_extension("cpg"), "850").unwrap();
    assert_eq!(
        read(&files.shp).features[0].attribute("NAME"),
        Some(&Value::Text("Bäy".to_owned()))
    );
}

#[test]
fn a_row_marked_as_deleted_takes_its_shape_with_it_and_the_others_stay_in_step() {
    let files = written();
    hurt(&files.shp, "dbf", |bytes| {
        let header = usize::from(u16::from_le_bytes([bytes[8], bytes[9]]));
        bytes[header] = b'*';
    });
    let layer = read(&files.shp);
    assert_eq!(layer.skipped[0].reason, "it is marked as deleted in the attribute table");
    assert_eq!(layer.features[0].row, 2);
    assert_eq!(layer.features[0].attribute("NAME"), Some(&Value::Text("Far".to_owned())));
}

#[test]
fn a_cell_that_is_no_number_costs_only_itself() {
    let files = written();
    hurt(&files.shp, "dbf", |bytes| {
        let at = bytes.windows(5).position(|five| five == b"2.500").unwrap();
        bytes[at..at + 5].copy_from_slice(b"*****");
    });
    assert_eq!(read(&files.shp).features[0].attribute("DEPTH"), Some(&Value::Null));
}

#[test]
fn files_that_break_off_are_refused_with_both_faults() {
    let files = written();
    hurt(&files.shp, "shp", |bytes| bytes.truncate(200));
    hurt(&files.shp, "dbf", |bytes| bytes.truncate(bytes.len() - 30));
    let length = {
        let bytes = fs::read(&files.shp).unwrap();
        u32::from_be_bytes([bytes[24], bytes[25], bytes[26], bytes[27]]) * 2
    };
    assert_eq!(
        refused(&files.shp),
        format!(
            "`ponds.shp`: found `200 of {length} bytes`, expected a whole shapefile\n\
             `ponds.dbf`: found `1 of 2 rows`, expected a whole attribute table (.dbf)\n\
             hint: the file breaks off or is damaged: copy all parts of the shapefile again"
        )
    );
}

#[test]
fn a_table_of_another_copy_is_refused() {
    let files = written();
    ShapeWriter::from_path(&files.shp).unwrap().write_shapes(&squares()[..1]).unwrap();
    assert!(
        refused(&files.shp)
            .starts_with("`ponds.dbf`: found `2 rows`, expected 1 rows, one for each shape"),
        "{}",
        refused(&files.shp)
    );
}

#[test]
fn null_shapes_are_left_out_and_heights_are_kept() {
    let folder = tempfile::tempdir().unwrap();
    let shp = folder.path().join("soundings.shp");
    let points = [(1.0, 2.0, -3.5), (4.0, 5.0, -6.5)].map(|(x, y, z)| PointZ::new(x, y, z, 0.0));
    ShapeWriter::from_path(&shp).unwrap().write_shapes(&points).unwrap();
    // the first record becomes a null shape of the same length: type 0 (ESRI 1998, page 6)
    hurt(&shp, "shp", |bytes| bytes[108..112].copy_from_slice(&0_i32.to_le_bytes()));
    let layer = read(&shp);
    assert_eq!((layer.skipped[0].row, layer.skipped[0].reason.as_str()), (1, "it has no geometry"));
    assert_eq!(layer.features[0].geometry, geo_types::Point::new(4.0, 5.0).into());
    assert_eq!(layer.features[0].attribute("z"), Some(&Value::Number(-6.5)));
}

#[test]
fn metres_in_a_file_that_says_degrees_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let shp = folder.path().join("points.shp");
    let points = [Point::new(566_486.0, 286_372.0)];
    ShapeWriter::from_path(&shp).unwrap().write_shapes(&points).unwrap();
    fs::write(shp.with_extension("prj"), "GEOGCS[\"GCS_WGS_1984\"]").unwrap();
    assert!(refused(&shp).contains("row 1: found `566486, 286372`"), "{}", refused(&shp));
}

#[test]
fn the_dbf_beside_a_shp_leads_to_it() {
    let files = written();
    assert_eq!(read(&files.shp.with_extension("dbf")).features.len(), 2);
    assert_eq!(read(&files.shp.with_extension("shx")).features.len(), 2);
}

/// Every attribute as the `dbase` crate reads it.
#[test]
fn attributes_agree_with_the_dbase_crate() {
    let files = written();
    let layer = read(&files.shp);
    let records = dbase::read(files.shp.with_extension("dbf")).unwrap();
    assert_eq!(records.len(), layer.features.len());
    for (record, feature) in records.into_iter().zip(&layer.features) {
        for (name, value) in record {
            let ours = feature.attribute(&name).unwrap();
            let theirs = match value {
                FieldValue::Character(Some(text)) => Value::Text(text),
                FieldValue::Numeric(Some(number)) => Value::Number(number),
                FieldValue::Logical(Some(yes)) => Value::Bool(yes),
                FieldValue::Date(Some(d)) => {
                    Value::Date(jiff::civil::date(d.year() as i16, d.month() as i8, d.day() as i8))
                }
                _ => Value::Null,
            };
            assert_eq!(*ours, theirs, "{name}");
        }
    }
    let shapes = shapefile::read_shapes(&files.shp).unwrap();
    assert!(shapes.iter().all(|shape| matches!(shape, Shape::Polygon(_))));
    assert_eq!(shapes.len(), layer.features.len());
}
