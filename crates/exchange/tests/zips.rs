//! Map layers in zips.
#![allow(clippy::unwrap_used, reason = "the helpers of a test may fail it")]

use exchange::{LayerCrs, ReadOptions, Value, read_layer_bytes};
use std::io::{Cursor, Write as _};
use zip::write::SimpleFileOptions;

fn zip_of(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        zip.start_file(*name, SimpleFileOptions::default()).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// The parts of a shapefile of one point with a name.
fn parts(name: &str) -> (Vec<u8>, Vec<u8>) {
    let folder = tempfile::tempdir().unwrap();
    let shp = folder.path().join("a.shp");
    let table =
        dbase::TableWriterBuilder::new().add_character_field("NAME".try_into().unwrap(), 20);
    let mut writer = shapefile::Writer::from_path(&shp, table).unwrap();
    let mut record = dbase::Record::default();
    record.insert("NAME".to_owned(), dbase::FieldValue::Character(Some(name.to_owned())));
    writer.write_shape_and_record(&shapefile::Point::new(-89.5, 45.1), &record).unwrap();
    drop(writer);
    (std::fs::read(&shp).unwrap(), std::fs::read(shp.with_extension("dbf")).unwrap())
}

fn layer(name: &str) -> ReadOptions {
    ReadOptions { layer: Some(name.to_owned()), ..ReadOptions::default() }
}

const PRJ: &[u8] = b"GEOGCS[\"GCS_WGS_1984\"]";

#[test]
fn a_zipped_shapefile_is_read_with_its_parts() {
    let (shp, dbf) = parts("B\u{e4}y");
    let bytes = zip_of(&[
        ("lake/Bay.SHP", &shp),
        ("lake/bay.dbf", &dbf),
        ("lake/bay.prj", PRJ),
        ("lake/bay.cpg", b"UTF-8"),
        ("__MACOSX/lake/._Bay.shp", b"no shape"),
    ]);
    let read = read_layer_bytes("lake.zip", &bytes, &ReadOptions::default()).unwrap();
    assert_eq!((read.name.as_str(), read.file.as_str()), ("Bay", "lake.zip, Bay.SHP"));
    assert!(matches!(&read.crs, LayerCrs::Prj(text) if text.starts_with("GEOGCS")));
    assert_eq!(read.features[0].attribute("NAME"), Some(&Value::Text("B\u{e4}y".to_owned())));
    let faults = read_layer_bytes("lake.zip", &bytes, &layer("pond")).unwrap_err();
    assert_eq!(
        faults.to_string(),
        "`lake.zip`: found `Bay`, expected a layer named `pond`\nhint: name one of these with \
         `--layer`"
    );
}

#[test]
fn of_several_shapefiles_one_must_be_named() {
    let ((one, one_dbf), (two, two_dbf)) = (parts("one"), parts("two"));
    let bytes = zip_of(&[
        ("one.shp", &one),
        ("one.dbf", &one_dbf),
        ("two.shp", &two),
        ("two.dbf", &two_dbf),
    ]);
    let faults = read_layer_bytes("lake.zip", &bytes, &ReadOptions::default()).unwrap_err();
    assert_eq!(
        faults.0[0].to_string(),
        "`lake.zip`: found `one, two`, expected one layer in the zip, or the name of the one to read"
    );
    let read = read_layer_bytes("lake.zip", &bytes, &layer("TWO")).unwrap();
    assert_eq!(read.features[0].attribute("NAME"), Some(&Value::Text("two".to_owned())));
}

#[test]
fn a_kmz_is_read_as_its_kml() {
    let kml = include_bytes!("fixtures/places.kml");
    let plain = read_layer_bytes("places.kml", kml, &ReadOptions::default()).unwrap();
    let bytes = zip_of(&[("files/photo.kml", b"<kml/>"), ("doc.kml", kml)]);
    let zipped = read_layer_bytes("places.kmz", &bytes, &ReadOptions::default()).unwrap();
    assert_eq!(zipped.features, plain.features);
    assert_eq!(
        zipped.warnings.last().map(String::as_str),
        Some("of several KML files in it `doc.kml` is read")
    );
}

#[test]
fn a_map_that_grows_out_of_all_measure_is_refused() {
    let huge = vec![b' '; 40 * 1024 * 1024];
    let bytes = zip_of(&[("doc.kml", &huge)]);
    let faults = read_layer_bytes("places.kmz", &bytes, &ReadOptions::default()).unwrap_err();
    assert_eq!(faults.0[0].expected, "at most 32 MB when unzipped");
}
