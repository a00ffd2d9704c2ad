use super::*;

fn place(longitude: f64, latitude: f64) -> LonLat {
    LonLat::new(longitude, latitude).unwrap()
}

fn dms(degrees: f64, minutes: f64, seconds: f64) -> f64 {
    degrees + minutes / 60.0 + seconds / 3600.0
}

fn close(name: &str, got: Coord<f64>, want: (f64, f64), tolerance: f64) {
    assert!(
        (got.x - want.0).abs() <= tolerance && (got.y - want.1).abs() <= tolerance,
        "{name}: got {:.4}, {:.4}, want {}, {}",
        got.x,
        got.y,
        want.0,
        want.1
    );
}

const BRITISH_GRID: &str = "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +a=6377563.396 +rf=299.3249646 +units=m";

/// Source: IOGP Publication 373-07-02 (September 2019), Transverse Mercator example, pp. 54–55.
/// The printed eastings and northings are rounded to a centimetre on the way: tolerance 0.01 m.
#[test]
fn iogp_373_07_02_transverse_mercator() {
    let grid = Crs::from_projection("British grid on its own datum", BRITISH_GRID);
    close("IOGP", grid.project(place(0.5, 50.5)).unwrap(), (577_274.99, 69_740.50), 0.01);
}

/// Source: Ordnance Survey worked example of latitude and longitude to eastings and northings (A guide to
/// coordinate systems in Great Britain; title from memory). Printed to a millimetre.
#[test]
fn ordnance_survey_worked_example() {
    let grid = Crs::from_projection("British grid on its own datum", BRITISH_GRID);
    let point = place(dms(1.0, 43.0, 4.5177), dms(52.0, 39.0, 27.2531));
    let metres = grid.project(point).unwrap();
    close("OS", metres, (651_409.903, 313_177.270), 0.001);
    let back = grid.unproject(metres).unwrap();
    assert!((back.longitude() - point.longitude()).abs() < 1e-11);
    assert!((back.latitude() - point.latitude()).abs() < 1e-11);
}

/// Source: Geocentric Datum of Australia Technical Manual (ICSM), Flinders Peak to Buninyong, zone
/// 55 (values from memory, confirmed with PROJ 9.5.1). Printed to a millimetre.
#[test]
fn gda_technical_manual_flinders_peak_and_buninyong() {
    let zone = Crs::from_epsg(28_355).unwrap();
    for (name, longitude, latitude, want) in [
        (
            "Flinders Peak",
            dms(144.0, 25.0, 29.524_40),
            -dms(37.0, 57.0, 3.720_30),
            (273_741.297, 5_796_489.777),
        ),
        (
            "Buninyong",
            dms(143.0, 55.0, 35.383_90),
            -dms(37.0, 39.0, 10.156_10),
            (228_854.052, 5_828_259.038),
        ),
    ] {
        close(name, zone.project(place(longitude, latitude)).unwrap(), want, 0.001);
    }
}

/// Source: pyproj 3.7.2 on PROJ 9.5.1, WGS 84 / UTM, printed to a millimetre.
#[test]
fn proj_north_american_utm_points() {
    for (latitude, longitude, code, want) in [
        (43.0731, -89.4012, 32_616, (304_510.382, 4_771_730.870)),
        (42.7325, -84.5555, 32_616, (700_114.225, 4_734_007.763)),
        (45.0, -87.0, 32_616, (500_000.0, 4_982_950.400)),
        (44.9537, -93.0900, 32_615, (492_900.913, 4_977_811.017)),
        (dms(43.0, 38.0, 33.24), -dms(79.0, 23.0, 13.7), 32_617, (630_084.311, 4_833_438.549)),
    ] {
        let point = place(longitude, latitude);
        let crs = Crs::utm_for(point);
        assert_eq!(crs.code(), Some(code), "{point}");
        let metres = crs.project(point).unwrap();
        close(&point.to_string(), metres, want, 0.000_6);
        let back = crs.unproject(metres).unwrap();
        assert!((back.longitude() - longitude).abs() < 1e-10);
        assert!((back.latitude() - latitude).abs() < 1e-10);
    }
}

#[test]
fn every_utm_zone_is_in_the_table() {
    for zone in 0..60 {
        for latitude in [-40.0, 40.0] {
            let crs = Crs::utm_for(place(-177.0 + 6.0 * f64::from(zone), latitude));
            let metres = crs.project(place(-177.0 + 6.0 * f64::from(zone), latitude)).unwrap();
            assert!((metres.x - 500_000.0).abs() < 1e-6, "{crs:?}");
            assert!(metres.y > 0.0, "{crs:?}");
        }
    }
    assert_eq!(Crs::utm_for(place(180.0, 1.0)).code(), Some(32_660));
}

/// A .prj as a GIS writes it for the Wisconsin agencies: no EPSG code inside.
const WISCONSIN: &str = r#"PROJCS["NAD_1983_HARN_Transverse_Mercator",GEOGCS["GCS_North_American_1983_HARN",DATUM["D_North_American_1983_HARN",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",520000.0],PARAMETER["False_Northing",-4480000.0],PARAMETER["Central_Meridian",-90.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]"#;
const MINNESOTA_SURVEY_FEET: &str = r#"PROJCS["NAD_1983_StatePlane_Minnesota_South_FIPS_2203_Feet",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",2624666.666666666],PARAMETER["False_Northing",328083.3333333333],PARAMETER["Central_Meridian",-94.0],PARAMETER["Standard_Parallel_1",43.78333333333333],PARAMETER["Standard_Parallel_2",45.21666666666667],PARAMETER["Latitude_Of_Origin",43.0],UNIT["Foot_US",0.3048006096012192]]"#;
const MICHIGAN_FEET: &str = r#"PROJCS["NAD_1983_StatePlane_Michigan_South_FIPS_2113_Feet_Intl",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",13123359.58005249],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-84.36666666666666],PARAMETER["Standard_Parallel_1",42.1],PARAMETER["Standard_Parallel_2",43.66666666666666],PARAMETER["Latitude_Of_Origin",41.5],UNIT["Foot",0.3048]]"#;
const UTM_16: &str = r#"PROJCS["NAD_1983_UTM_Zone_16N",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-87.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]"#;
const WEB_MERCATOR: &str = r#"PROJCS["WGS_1984_Web_Mercator_Auxiliary_Sphere",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Mercator_Auxiliary_Sphere"],PARAMETER["False_Easting",0.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",0.0],PARAMETER["Standard_Parallel_1",0.0],PARAMETER["Auxiliary_Sphere_Type",0.0],UNIT["Meter",1.0]]"#;
const DEGREES: &str = r#"GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]"#;

#[test]
fn prj_files_without_a_code_are_recognised() {
    for (name, text, want) in [
        ("Wisconsin Transverse Mercator", WISCONSIN, 3071),
        ("Minnesota South in survey feet", MINNESOTA_SURVEY_FEET, 26_851),
        ("Michigan South in international feet", MICHIGAN_FEET, 2253),
        ("UTM 16 on NAD83", UTM_16, 26_916),
        ("web map", WEB_MERCATOR, 3857),
        ("degrees on NAD83", DEGREES, 4269),
    ] {
        assert_eq!(Crs::from_prj(text).unwrap().code(), Some(want), "{name}");
    }
}

/// The conic of Minnesota South in US survey feet: x_0 is 800,000 m.
#[test]
fn a_foot_system_works_in_metres() {
    let feet = Crs::from_prj(MINNESOTA_SURVEY_FEET).unwrap();
    assert!((feet.metres_per_unit() / units::METRES_PER_SURVEY_FOOT - 1.0).abs() < 1e-12);
    let origin = place(-94.0, 44.0);
    let metres = feet.project(origin).unwrap();
    let native = feet.lon_lat_to_native(origin).unwrap();
    assert!((metres.x - 800_000.0).abs() < 1e-4, "{metres:?}");
    assert!((native.x - 800_000.0 * 3937.0 / 1200.0).abs() < 1e-3, "{native:?}");
    // a metre is a metre: 0.01 degree of latitude is 1,111 m here, whatever the file's unit
    let north = feet.project(place(-94.0, 44.01)).unwrap();
    assert!((north.y - metres.y - 1_111.1).abs() < 0.5, "{}", north.y - metres.y);
}

#[test]
fn old_datums_are_refused_by_name() {
    let nad27 = r#"PROJCS["NAD27 / Wisconsin Central",GEOGCS["NAD27",DATUM["North_American_Datum_1927",SPHEROID["Clarke 1866",6378206.4,294.9786982138982]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Lambert_Conformal_Conic_2SP"],PARAMETER["standard_parallel_1",45.5],PARAMETER["standard_parallel_2",44.25],PARAMETER["latitude_of_origin",43.8333333333333],PARAMETER["central_meridian",-90],PARAMETER["false_easting",2000000],PARAMETER["false_northing",0],UNIT["US survey foot",0.304800609601219]]"#;
    let ed50 = r#"GEOGCS["ED50",DATUM["European_Datum_1950",SPHEROID["International 1924",6378388,297]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]"#;
    for text in [nad27, ed50] {
        let error = Crs::from_prj(text).unwrap_err();
        assert!(matches!(error, CrsError::DatumNeedsShift { .. }), "{error}");
        assert!(error.hint().contains("shift grid"));
    }
    assert!(matches!(Crs::from_epsg(4267), Err(CrsError::DatumNeedsShift { .. })));
    assert!(matches!(Crs::from_epsg(23_031), Err(CrsError::DatumNeedsShift { .. })));
    assert!(matches!(Crs::from_epsg(1), Err(CrsError::UnknownCode { code: 1 })));
    assert!(matches!(Crs::from_epsg(102_008), Err(CrsError::UnknownCode { .. })));
}

#[test]
fn unreadable_texts_say_why() {
    for (text, want) in [
        ("", "empty"),
        ("PROJCS[\"x\",GEOGCS[\"y\"", "not closed"),
        ("VERT_CS[\"x\"]", "VERT_CS"),
        ("hello", "bracket"),
        ("GEOGCS[\"no datum\"]", "no datum"),
    ] {
        let error = Crs::from_prj(text).unwrap_err();
        assert!(error.to_string().contains(want), "{text}: {error}");
    }
}

#[test]
fn degrees_refuse_to_be_metres() {
    let error = Crs::wgs84().project(place(-89.0, 43.0)).unwrap_err();
    assert!(matches!(error, CrsError::NotProjected { .. }));
}

#[test]
fn a_code_inside_the_text_wins() {
    let text = Crs::from_epsg(26_853).unwrap().wkt().to_owned();
    assert_eq!(Crs::from_prj(&text).unwrap().code(), Some(26_853));
    let compound = format!(r#"COMPD_CS["with heights",{text},VERT_CS["NAVD88 height"]]"#);
    assert_eq!(Crs::from_prj(&compound).unwrap().code(), Some(26_853));
}
