//! GeoTIFF rasters: small ones made here, and real ones with published figures.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "the helpers of a test may fail it"
)]

#[path = "../../findings/tests/support/mod.rs"]
mod support;
#[path = "made/tif.rs"]
mod tif;

use exchange::{LayerCrs, Raster, read_raster, read_raster_bytes};
use geo_types::coord;
use support::open_data;
use tif::Geo;
use tiff::encoder::Compression;
use units::LengthUnit;

fn read(bytes: &[u8]) -> Raster {
    read_raster_bytes("bed.tif", bytes).unwrap_or_else(|faults| panic!("{faults}"))
}

fn refused(bytes: &[u8]) -> String {
    read_raster_bytes("bed.tif", bytes).unwrap_err().to_string()
}

const VALUES: [f32; 6] = [1.5, 2.5, f32::MIN, 4.5, 5.5, 6.5];

#[test]
fn every_compression_gives_the_same_cells() {
    let balanced = tiff::encoder::DeflateLevel::Balanced;
    for compression in [Compression::Uncompressed, Compression::Lzw, Compression::Deflate(balanced)]
    {
        let geo = Geo { compression, nodata: Some("-3.40282e+38"), ..Geo::utm() };
        let raster = read(&tif::floats(3, 2, &VALUES, &geo));
        assert_eq!((raster.width, raster.height, raster.cell), (3, 2, (10.0, 10.0)));
        assert_eq!(raster.crs, LayerCrs::Epsg(32_616));
        assert_eq!(raster.origin, coord! { x: 300_000.0, y: 4_770_000.0 });
        assert_eq!((raster.value(0, 0), raster.value(2, 0)), (Some(1.5), None));
        assert_eq!((raster.value(3, 0), raster.value(0, 2)), (None, None));
        assert_eq!(raster.range(), Some((1.5, 6.5)));
        assert_eq!(raster.cells().count(), 5);
        assert_eq!(raster.centre(1, 1), coord! { x: 300_015.0, y: 4_769_985.0 });
        assert!(raster.warnings.is_empty(), "{:?}", raster.warnings);
    }
    let geo =
        Geo { compression: Compression::Lzw, predicted: true, nodata: Some("-9999"), ..Geo::utm() };
    let raster = read(&tif::whole(3, 2, &[1, -2, -9_999, 4, 5, 6], &geo));
    assert_eq!(
        raster.cells().map(|(_, value)| value).collect::<Vec<_>>(),
        [1.0, -2.0, 4.0, 5.0, 6.0]
    );
}

/// OGC 19-008r4, 7.1.1.2 (point or area), B.6 (matrix).
#[test]
fn the_place_comes_from_a_tie_point_a_matrix_or_a_world_file() {
    let at = |geo: &Geo| read(&tif::floats(3, 2, &VALUES, geo)).origin;
    let area = at(&Geo::utm());
    let mut point = Geo::utm();
    point.keys[1][3] = 2;
    assert_eq!(at(&point), coord! { x: area.x - 5.0, y: area.y + 5.0 });
    let mut inner = Geo::utm();
    inner.tie = Some([1.0, 1.0, 0.0, 300_010.0, 4_769_990.0, 0.0]);
    assert_eq!(at(&inner), area);
    let matrix = Geo {
        scale: None,
        tie: None,
        matrix: Some([
            10.0,
            0.0,
            0.0,
            300_000.0,
            0.0,
            -10.0,
            0.0,
            4_770_000.0,
            0.0,
            0.0,
            0.0,
            0.0,
            0.0,
            0.0,
            0.0,
            1.0,
        ]),
        ..Geo::utm()
    };
    assert_eq!(at(&matrix), area);
    // rows from the south
    let mut south = matrix.clone();
    south.matrix.as_mut().unwrap()[5] = 10.0;
    let raster = read(&tif::floats(3, 2, &VALUES, &south));
    assert_eq!(raster.origin, coord! { x: 300_000.0, y: 4_770_020.0 });
    assert_eq!((raster.value(0, 0), raster.value(0, 1)), (Some(4.5), Some(1.5)));
    // turned
    let mut turned = matrix;
    turned.matrix.as_mut().unwrap()[1] = 3.0;
    assert!(refused(&tif::floats(3, 2, &VALUES, &turned)).contains("rows run west to east"));

    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bed.tif");
    let bare = Geo { scale: None, tie: None, keys: Vec::new(), ..Geo::utm() };
    std::fs::write(&path, tif::floats(3, 2, &VALUES, &bare)).unwrap();
    let faults = read_raster(&path).unwrap_err();
    assert!(faults.to_string().contains("world file (.tfw)"), "{faults}");
    std::fs::write(path.with_extension("TFW"), "10\n0\n0\n-10\n300005\n4769995\n").unwrap();
    let raster = read_raster(&path).unwrap();
    assert_eq!((raster.origin, &raster.crs), (area, &LayerCrs::Unknown));
    assert!(raster.warnings[0].contains("states no coordinate reference system"));
    std::fs::write(path.with_extension("prj"), "PROJCS[\"a\"]").unwrap();
    assert_eq!(read_raster(&path).unwrap().crs, LayerCrs::Prj("PROJCS[\"a\"]".to_owned()));
}

#[test]
fn the_system_comes_from_the_keys() {
    let crs = |keys: &[[u16; 4]], tie: [f64; 2], ascii: Option<&str>| {
        let geo = Geo {
            scale: Some([0.001, 0.001, 0.0]),
            tie: Some([0.0, 0.0, 0.0, tie[0], tie[1], 0.0]),
            keys: keys.to_vec(),
            ascii: ascii.map(str::to_owned),
            ..Geo::default()
        };
        read(&tif::floats(3, 2, &VALUES, &geo))
    };
    let geographic = [[1_024, 0, 1, 2], [2_048, 0, 1, 4_269]];
    assert_eq!(crs(&geographic, [-89.5, 45.1], None).crs, LayerCrs::Epsg(4_269));
    let wgs84 = [[1_024, 0, 1, 2], [2_048, 0, 1, 4_326], [4_099, 0, 1, 9_003]];
    let raster = crs(&wgs84, [-89.5, 45.1], None);
    assert_eq!((raster.crs, raster.unit), (LayerCrs::Wgs84, Some(LengthUnit::SurveyFoot)));
    let own = [[1_024, 0, 1, 1], [1_026, 34_737, 13, 0], [3_072, 0, 1, 32_767]];
    let raster = crs(&own, [-89.5, 45.1], Some("County grid 7|"));
    assert_eq!(raster.crs, LayerCrs::Unknown);
    assert!(raster.warnings[0].contains("`County grid 7`"), "{:?}", raster.warnings);
    // longitude and latitude exchanged
    let bytes = tif::floats(
        3,
        2,
        &VALUES,
        &Geo {
            scale: Some([0.001, 0.001, 0.0]),
            tie: Some([0.0, 0.0, 0.0, 45.1, -89.5, 0.0]),
            keys: geographic.to_vec(),
            ..Geo::default()
        },
    );
    assert!(refused(&bytes).contains("swapped"));
}

/// `scale`, `offset` and `unittype` as GDAL stores them.
#[test]
fn packed_values_are_unpacked() {
    let metadata = "<GDALMetadata><Item name=\"SCALE\" sample=\"0\" role=\"scale\">0.01</Item>\
                    <Item name=\"OFFSET\" sample=\"0\" role=\"offset\">100</Item>\
                    <Item name=\"UNITTYPE\" sample=\"0\" role=\"unittype\">ft</Item></GDALMetadata>";
    let geo = Geo { metadata: Some(metadata), nodata: Some("65535"), ..Geo::utm() };
    let raster = read(&tif::unsigned(2, 1, &[250, 65_535], &geo));
    assert!((raster.values[0] - 102.5).abs() < 1e-12 && raster.values[1].is_nan());
    assert_eq!(raster.unit, Some(LengthUnit::Foot));
    assert!(raster.warnings[0].contains("multiplied by 0.01"));
}

#[test]
fn what_is_no_depth_raster_is_refused_in_a_sentence() {
    let none = Geo { nodata: Some("nan"), ..Geo::utm() };
    let mut cut = tif::floats(3, 2, &VALUES, &Geo::utm());
    cut.truncate(40);
    let cases: [(Vec<u8>, &str); 5] = [
        (b"site,depth\n1,2\n".to_vec(), "found `plain text`, expected a GeoTIFF raster (.tif)"),
        (tif::colours(1, 1, &[1, 2, 3], &Geo::utm()), "found `3 bands`, expected one band"),
        (tif::floats(1, 1, &[f32::NAN], &none), "found `no data in any cell`"),
        (cut, "expected a whole TIFF"),
        (
            tif::floats(1, 1, &[1.0], &Geo { scale: Some([0.0, 10.0, 0.0]), ..Geo::utm() }),
            "cells of a size",
        ),
    ];
    for (bytes, want) in cases {
        let told = refused(&bytes);
        assert!(told.contains(want) && told.contains("\nhint: "), "{told}");
    }
}

/// Lake Wingra (NTL-LTER): 208 by 106 cells of 10 m in UTM zone 16 north, deepest 5.75 m.
#[test]
fn wingra() {
    let Some(path) = open_data("wingra-wi/wingra_bathy_rast.tif") else { return };
    let raster = read_raster(&path).unwrap();
    assert_eq!((raster.width, raster.height, raster.cell), (208, 106, (10.0, 10.0)));
    assert_eq!(raster.crs, LayerCrs::Epsg(32_616));
    let (least, most) = raster.range().unwrap();
    assert!((most - 5.75).abs() < 0.01 && least > -1.0, "{least} {most}");
    // the outline drawn of the lake is 1,256,739 m²
    let area = raster.cells().count() as f64 * raster.cell_area();
    assert!((area / 1_256_739.0 - 1.0).abs() < 0.01, "{area}");
}

/// Area and volume of the Wisconsin Department of Natural Resources' tables of elevation, area and
/// volume (4 September 2020): cells below the stage times the area of a cell.
#[test]
fn published_areas_and_volumes() {
    for (file, stage, area, volume) in [
        ("long_raster.tif", 336.804, 258_946.591_5, 705_011.148_3),
        ("pfl_raster.tif", 337.108_8, 222_782.381, 723_620.259_2),
    ] {
        let Some(path) = open_data(&format!("wi-central-sands-bathymetry/{file}")) else { return };
        let raster = read_raster(&path).unwrap();
        assert!(
            matches!(&raster.crs, LayerCrs::Prj(text)
                if text.starts_with("PROJCS[\"NAD_1983_HARN_Transverse_Mercator\"")),
            "{:?}",
            raster.crs
        );
        let below: Vec<f64> =
            raster.cells().map(|(_, bed)| stage - bed).filter(|depth| *depth > 0.0).collect();
        let got = below.len() as f64 * raster.cell_area();
        assert!((got - area).abs() < 0.001, "{file}: {got}");
        let got = below.iter().sum::<f64>() * raster.cell_area();
        assert!((got / volume - 1.0).abs() < 1e-5, "{file}: {got}");
    }
}
