//! Whatever the bytes, a reader answers.
#![allow(clippy::unwrap_used, reason = "the helpers of a test may fail it")]

use exchange::{
    ColumnMap, FileKind, ReadOptions, RecordOptions, parse_depth, read_layer, read_layer_bytes,
    read_raster_bytes, read_record_bytes,
};
use proptest::prelude::*;
use std::fs;
use std::io::{Cursor, Read as _, Write as _};

#[path = "made/tif.rs"]
#[allow(dead_code, reason = "other tests need more of it")]
mod tif;
#[path = "made/xls.rs"]
mod xls;

fn read_as_everything(bytes: &[u8]) {
    let _ = FileKind::of(bytes);
    if let Err(faults) = read_layer_bytes("any", bytes, &ReadOptions::default()) {
        assert!(!faults.0.is_empty() && !faults.to_string().is_empty());
    }
    if let Err(faults) = read_raster_bytes("any", bytes) {
        assert!(!faults.0.is_empty() && !faults.to_string().is_empty());
    }
    if let Err(faults) = read_record_bytes("any", bytes, &RecordOptions::default()) {
        assert!(!faults.0.is_empty() && !faults.to_string().is_empty());
    }
}

fn hurt(mut bytes: Vec<u8>, cuts: &[(usize, u8)], keep: Option<usize>) -> Vec<u8> {
    for &(at, byte) in cuts {
        let at = at % bytes.len();
        bytes[at] = byte;
    }
    bytes.truncate(keep.map_or(bytes.len(), |keep| keep % (bytes.len() + 1)));
    bytes
}

fn shapefile_bytes() -> (Vec<u8>, Vec<u8>) {
    let folder = tempfile::tempdir().unwrap();
    let shp = folder.path().join("a.shp");
    let table = dbase::TableWriterBuilder::new()
        .add_character_field("NAME".try_into().unwrap(), 9)
        .add_numeric_field("DEPTH".try_into().unwrap(), 8, 2);
    let mut writer = shapefile::Writer::from_path(&shp, table).unwrap();
    for n in 0..3 {
        let x = f64::from(n);
        let line = shapefile::Polyline::with_parts(vec![
            vec![shapefile::Point::new(x, 0.0), shapefile::Point::new(x, 1.0)],
            vec![shapefile::Point::new(x, 2.0), shapefile::Point::new(x, 3.0)],
        ]);
        let mut record = dbase::Record::default();
        record.insert("NAME".to_owned(), dbase::FieldValue::Character(Some("a".to_owned())));
        record.insert("DEPTH".to_owned(), dbase::FieldValue::Numeric(Some(x)));
        writer.write_shape_and_record(&line, &record).unwrap();
    }
    drop(writer);
    (fs::read(&shp).unwrap(), fs::read(shp.with_extension("dbf")).unwrap())
}

static PARTS: std::sync::LazyLock<Vec<(String, Vec<u8>)>> = std::sync::LazyLock::new(xlsx_parts);

/// The parts of a small workbook with a merged header, a day, a formula and a hidden row.
fn xlsx_parts() -> Vec<(String, Vec<u8>)> {
    use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook};
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (column, header) in ["Site", "Date", "Chara sp.", "", "Depth"].iter().enumerate() {
        sheet.write(0, column as u16, *header).unwrap();
    }
    sheet.merge_range(0, 2, 0, 3, "Chara sp.", &Format::new()).unwrap();
    let day = ExcelDateTime::from_ymd(2022, 8, 14).unwrap();
    let format = Format::new().set_num_format("m/d/yyyy");
    for row in 1..4 {
        sheet.write(row, 0, row).unwrap();
        sheet.write_with_format(row, 1, &day, &format).unwrap();
        sheet.write(row, 2, 2).unwrap();
        sheet.write_formula(row, 4, Formula::new("=A2*2").set_result("4")).unwrap();
    }
    sheet.set_row_hidden(2).unwrap();
    let bytes = book.save_to_buffer().unwrap();
    let mut zip = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let names: Vec<String> = zip.file_names().map(|name| name.unwrap().into_owned()).collect();
    names
        .into_iter()
        .map(|name| {
            let mut bytes = Vec::new();
            zip.by_name(&name).unwrap().read_to_end(&mut bytes).unwrap();
            (name, bytes)
        })
        .collect()
}

fn zip_of(parts: &[(String, Vec<u8>)]) -> Vec<u8> {
    let options =
        zip::write::SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        zip.start_file(name, options).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

fn xls_bytes() -> Vec<u8> {
    use xls::Cell::{Error, Number, Text};
    let cells = [
        (0, 0, Text("site")),
        (0, 1, Text("depth_m")),
        (1, 0, Number(7.0)),
        (1, 1, Error(7)),
        (2, 0, Number(8.0)),
    ];
    xls::write("S", &cells, &[[0, 0, 1, 2]])
}

const GEOJSON: &str = r#"{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"EPSG:26916"}},"features":[
{"type":"Feature","properties":{"a":1},"geometry":{"type":"MultiPolygon","coordinates":[[[[0,0],[1,0],[1,1],[0,0]]]]}},
{"type":"Feature","geometry":{"type":"GeometryCollection","geometries":[{"type":"Point","coordinates":[1,2,3]}]}}]}"#;

const GPX: &str = include_str!("fixtures/day_on_the_lake.gpx");
const KML: &str = include_str!("fixtures/places.kml");

const RECORD: &str = "Site,Date,Time,Lat,Long,Depth (ft),Throw,Rake,Chara sp.,Notes\n\
    1,8/14/22,9:05 am,45.1,-89.5,2-6,1,2,V,\"a, b\"\n2,44787,0.5,45.1,-89.5,5' 6\",2,T,0,\n";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        read_as_everything(&bytes);
    }

    #[test]
    fn any_text(text in "\\PC{0,200}") {
        read_as_everything(text.as_bytes());
        let _ = parse_depth(&text, true);
        let _ = parse_depth(&text, false);
        let _ = ColumnMap::from_toml("any", &text);
    }

    #[test]
    fn text_like_a_table(text in "[0-9a-zA-Z,;\t\"'\n\r/:.+~<>é -]{0,300}") {
        read_as_everything(text.as_bytes());
        let header = format!("site,date,time,depth,throw,lat,lon,Chara sp.\n{text}");
        read_as_everything(header.as_bytes());
        let header = format!("x,y,depth\n{text}");
        read_as_everything(header.as_bytes());
    }

    #[test]
    fn hurt_geojson(cuts in prop::collection::vec((any::<usize>(), 32_u8..127), 0..6), keep in any::<usize>()) {
        read_as_everything(&hurt(GEOJSON.as_bytes().to_vec(), &cuts, None));
        read_as_everything(&hurt(GEOJSON.as_bytes().to_vec(), &cuts, Some(keep)));
    }

    #[test]
    fn hurt_xml(cuts in prop::collection::vec((any::<usize>(), 32_u8..127), 0..6), keep in any::<usize>()) {
        for text in [GPX, KML] {
            read_as_everything(&hurt(text.as_bytes().to_vec(), &cuts, None));
            read_as_everything(&hurt(text.as_bytes().to_vec(), &cuts, Some(keep)));
        }
    }

    #[test]
    fn hurt_records(cuts in prop::collection::vec((any::<usize>(), any::<u8>()), 0..6), keep in any::<usize>()) {
        read_as_everything(&hurt(RECORD.as_bytes().to_vec(), &cuts, Some(keep)));
    }

    #[test]
    fn hurt_zips(cuts in prop::collection::vec((any::<usize>(), any::<u8>()), 0..6), keep in prop::option::of(any::<usize>())) {
        read_as_everything(&hurt(zip_of(&PARTS), &cuts, keep));
    }

    #[test]
    fn hurt_parts_of_a_workbook(
        which in any::<usize>(),
        cuts in prop::collection::vec((any::<usize>(), 32_u8..127), 0..6),
        keep in prop::option::of(any::<usize>()),
    ) {
        let mut parts = PARTS.clone();
        let which = which % parts.len();
        let part = std::mem::take(&mut parts[which].1);
        parts[which].1 = hurt(part, &cuts, keep);
        read_as_everything(&zip_of(&parts));
    }

    #[test]
    fn hurt_old_workbooks(cuts in prop::collection::vec((any::<usize>(), any::<u8>()), 0..6), keep in prop::option::of(any::<usize>())) {
        read_as_everything(&hurt(xls_bytes(), &cuts, keep));
    }

    #[test]
    fn hurt_rasters(
        packed in any::<bool>(),
        cuts in prop::collection::vec((any::<usize>(), any::<u8>()), 0..6),
        keep in prop::option::of(any::<usize>()),
    ) {
        let compression =
            if packed { tiff::encoder::Compression::Lzw } else { tiff::encoder::Compression::Uncompressed };
        let geo = tif::Geo { compression, ..tif::Geo::utm() };
        let bytes = tif::floats(3, 2, &[1.0, 2.0, 3.0, 4.0, 5.0, 6.0], &geo);
        let _ = read_raster_bytes("any.tif", &hurt(bytes, &cuts, keep));
    }

    #[test]
    fn hurt_shapefiles(
        shp_cuts in prop::collection::vec((any::<usize>(), any::<u8>()), 0..6),
        dbf_cuts in prop::collection::vec((any::<usize>(), any::<u8>()), 0..6),
        keep in prop::option::of(any::<usize>()),
    ) {
        let (shp, dbf) = shapefile_bytes();
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.shp");
        fs::write(&path, hurt(shp, &shp_cuts, keep)).unwrap();
        fs::write(path.with_extension("dbf"), hurt(dbf, &dbf_cuts, keep)).unwrap();
        let _ = read_layer(&path, &ReadOptions::default());
    }
}

#[test]
fn elements_a_million_deep_are_refused() {
    let deep = format!("<gpx>{}", "<a>".repeat(1_000_000));
    let faults =
        read_layer_bytes("deep.gpx", deep.as_bytes(), &ReadOptions::default()).unwrap_err();
    assert!(faults.to_string().contains("more than 100 elements in each other"), "{faults}");
}
