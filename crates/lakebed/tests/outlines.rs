//! Published outlines of New Hampshire lakes against their published measures.
//!
//! Source: US EPA, National Lakes Morphometry (examples of the packages lakemorpho and quickmapr,
//! CC0); Hollister and Stachelek (2017), F1000Research 6: 1718.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test stops where something is missing"
)]

mod support;

use geo::{Euclidean, Length};
use geo_types::{Geometry, MultiPolygon};
use lakebed::{Crs, Outline, fetch, max_length, shoreline_development};
use std::collections::BTreeMap;
use support::open_data;
use units::Metres;

/// The projection the published lengths were measured in: they depend on it, areas do not.
const ALBERS: &str = r#"PROJCS["Albers of the lower 48",GEOGCS["NAD83",DATUM["North_American_Datum_1983",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Albers_Conic_Equal_Area"],PARAMETER["standard_parallel_1",20],PARAMETER["standard_parallel_2",60],PARAMETER["latitude_of_center",40],PARAMETER["longitude_of_center",-96],PARAMETER["false_easting",0],PARAMETER["false_northing",0],UNIT["metre",1]]"#;

struct Published {
    numbers: BTreeMap<String, f64>,
    whole: bool,
    outline: Outline,
}

impl Published {
    fn get(&self, name: &str) -> f64 {
        self.numbers[name]
    }

    fn planar_shore(&self) -> Metres {
        Metres::new(Euclidean.length(&self.outline.shores()))
    }

    /// Towards the projection's north, which parts from true north by 16 degrees here.
    fn grid_fetch(&self, bearing: f64) -> f64 {
        fetch(&self.outline, bearing - self.outline.convergence()).metres()
    }
}

fn lakes(file: &str) -> Option<Vec<Published>> {
    let text = std::fs::read_to_string(open_data(file)?).unwrap();
    let Ok(geojson::GeoJson::FeatureCollection(all)) = text.parse() else {
        panic!("{file} is no feature collection");
    };
    let crs = Crs::from_prj(ALBERS).unwrap();
    let lake = |feature: geojson::Feature| {
        let properties = feature.properties.unwrap_or_default();
        let polygons = match Geometry::<f64>::try_from(feature.geometry.unwrap()).unwrap() {
            Geometry::Polygon(polygon) => MultiPolygon(vec![polygon]),
            Geometry::MultiPolygon(polygons) => polygons,
            other => panic!("{other:?} is no lake"),
        };
        let (outline, _) = Outline::new(&polygons, &crs).unwrap();
        let whole = properties.get("outline_matches_published").is_none_or(|value| value == true);
        let numbers = properties
            .into_iter()
            .filter_map(|(key, value)| Some((key, value.as_f64()?)))
            .collect();
        Published { numbers, whole, outline }
    };
    Some(all.features.into_iter().map(lake).collect())
}

fn near(name: &str, got: f64, want: f64, share: f64) {
    assert!((got / want - 1.0).abs() < share, "{name}: got {got}, want {want}");
}

/// Source: Hollister and Stachelek (2017): area 16,453,180 m², shore 45,991.38 m, shoreline
/// development 3.198502; on the ellipsoid (pyproj 3.7.2) 16,453,183 m² and 45,342.07 m.
#[test]
fn hollister_stachelek_2017_sunapee() {
    let Some(lakes) = lakes("lake-sunapee-outline/sunapee_wgs84.geojson") else { return };
    let sunapee = &lakes[0];
    let outline = &sunapee.outline;
    assert_eq!(outline.island_count(), 1);
    near("area", outline.planar_area().square_metres(), 16_453_180.447, 3e-7);
    near("shore", sunapee.planar_shore().metres(), 45_991.382_5, 1e-6);
    let development = shoreline_development(sunapee.planar_shore(), outline.planar_area());
    near("development", development, 3.198_501_8, 1e-6);
    near("outer shore", Euclidean.length(outline.projected().0[0].exterior()), 44_054.87, 1e-6);
    near("area on the ellipsoid", outline.area().square_metres(), 16_453_183.0, 1e-7);
    near("shore on the ellipsoid", outline.perimeter().metres(), 45_342.07, 1e-6);
    let islands: f64 = outline.islands().iter().map(|island| island.perimeter.metres()).sum();
    near("sum of shores", outline.perimeter_outer().metres() + islands, 45_342.07, 1e-6);
}

/// Of 478 lakes 465 were published whole. Coordinates are rounded to a ten-millionth of a degree,
/// which a pond of a hectare feels in the fifth digit.
#[test]
fn national_lakes_morphometry_areas_and_shores() {
    let Some(lakes) = lakes("nh-lake-outlines/nh_lakes_wgs84.geojson") else { return };
    let mut tested = 0;
    for lake in lakes.iter().filter(|lake| lake.whole) {
        let name = format!("lake {}", lake.get("COMID"));
        near(&name, lake.outline.planar_area().square_metres(), lake.get("SurfaceAre"), 1e-4);
        near(&name, lake.planar_shore().metres(), lake.get("ShorelineL"), 1e-4);
        let development = shoreline_development(lake.planar_shore(), lake.outline.planar_area());
        near(&name, development, lake.get("ShorelineD"), 1e-4);
        tested += 1;
    }
    assert_eq!(tested, 465);
}

#[test]
fn national_lakes_morphometry_islands_and_pieces() {
    let Some(lakes) = lakes("nh-lake-outlines/nh_lakes_wgs84.geojson") else { return };
    for lake in &lakes {
        assert_eq!(lake.outline.island_count(), lake.get("n_holes") as usize);
        assert_eq!(lake.outline.piece_count(), lake.get("n_parts") as usize);
    }
    let islands: usize = lakes.iter().map(|lake| lake.outline.island_count()).sum();
    assert_eq!((lakes.len(), islands), (478, 38));
}

/// The area on the ellipsoid beside that of GeographicLib.
#[test]
fn geographiclib_areas_of_the_same_lakes() {
    let Some(lakes) = lakes("nh-lake-outlines/nh_lakes_wgs84.geojson") else { return };
    let Some(path) = open_data("nh-lake-outlines/nh_lakes_attributes_and_check.csv") else {
        return;
    };
    let mut reader = csv::Reader::from_path(path).unwrap();
    let headers = reader.headers().unwrap().clone();
    let column = |name: &str| headers.iter().position(|header| header == name).unwrap();
    let (id, area, perimeter) =
        (column("COMID"), column("geodesic_area_m2"), column("geodesic_perimeter_m"));
    let expected: BTreeMap<i64, (f64, f64)> = reader
        .records()
        .map(|row| {
            let row = row.unwrap();
            let number = |i: usize| row[i].parse::<f64>().unwrap();
            (number(id) as i64, (number(area), number(perimeter)))
        })
        .collect();
    for lake in &lakes {
        let (area, perimeter) = expected[&(lake.get("COMID") as i64)];
        // printed to a tenth of a square metre and a centimetre
        assert!((lake.outline.area().square_metres() - area).abs() < 0.06, "{area}");
        assert!((lake.outline.perimeter().metres() - perimeter).abs() < 0.006, "{perimeter}");
    }
}

/// The published fetches were searched on a few dozen parallel lines, ours by every vertex of the
/// shore: never shorter, and in half of the lakes longer by less than half a per cent.
#[test]
fn national_lakes_morphometry_fetch() {
    let Some(lakes) = lakes("nh-lake-outlines/nh_lakes_wgs84.geojson") else { return };
    for (bearing, column) in [(0.0, "FetchN"), (90.0, "FetchE")] {
        let mut ratios: Vec<f64> = lakes
            .iter()
            .filter(|lake| lake.whole)
            .map(|lake| lake.grid_fetch(bearing) / lake.get(column))
            .collect();
        ratios.sort_by(f64::total_cmp);
        assert!(0.999_8 < ratios[0], "{column}: {}", ratios[0]);
        assert!(ratios[ratios.len() / 2] < 1.005, "{column}: {}", ratios[ratios.len() / 2]);
    }
    for lake in lakes.iter().filter(|lake| lake.whole) {
        let length = max_length(&lake.outline).metres();
        assert!(0.999_8 < length / lake.get("MaxLength"), "lake {}", lake.get("COMID"));
    }
}
