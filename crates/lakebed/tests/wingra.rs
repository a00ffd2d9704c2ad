//! Lake Wingra, Wisconsin: outline, digitised contours and a fitted surface of 50,262 depths.
//!
//! Source: North Temperate Lakes LTER and Wisconsin DNR, as published with Gorsky et al. 2025 (CC
//! BY 4.0).
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test stops where something is missing"
)]

mod support;

use geo::Area;
use geo_types::{Coord, MultiPolygon, Polygon};
use lakebed::{
    Crs, DepthData, DepthModel, DepthOptions, ErrorMethod, Method, Morphometry, Outline, Rule,
    ShoreRule, depth_bands, hypsography, usual_depths,
};
use shapefile::dbase::FieldValue;
use shapefile::{PolygonRing, Shape};
use support::open_data;
use units::{Metres, UnitSystem};

/// The system of the Wisconsin files.
fn wisconsin() -> Crs {
    Crs::from_epsg(3071).unwrap()
}

/// A shape's polygons: every outer ring with the inner rings that follow it.
fn polygons(shape: Shape) -> Vec<Polygon<f64>> {
    let Shape::Polygon(shape) = shape else {
        return vec![];
    };
    let mut polygons: Vec<Polygon<f64>> = Vec::new();
    for ring in shape.rings() {
        let line = ring.points().iter().map(|point| (point.x, point.y)).collect::<Vec<_>>().into();
        match (ring, polygons.last_mut()) {
            (PolygonRing::Inner(_), Some(polygon)) => polygon.interiors_push(line),
            _ => polygons.push(Polygon::new(line, vec![])),
        }
    }
    polygons
}

/// The outline of Lake Wingra in the metres of EPSG:3071.
fn wingra_outline() -> Option<MultiPolygon<f64>> {
    let path = open_data("wingra-wi/outline/yld_study_lakes.shp")?;
    let mut reader = shapefile::Reader::from_path(path).unwrap();
    let lakes = reader.iter_shapes_and_records().filter_map(Result::ok);
    Some(MultiPolygon(lakes.flat_map(|(shape, _)| polygons(shape)).collect()))
}

/// The 50,262 depths of Lake Wingra.
fn wingra_depths() -> Option<DepthData> {
    let path = open_data("wingra-wi/bathymetry.csv")?;
    let mut reader = csv::Reader::from_path(path).unwrap();
    Some(DepthData::from_soundings(reader.records().map(|row| {
        let row = row.unwrap();
        let number = |i: usize| row[i].parse::<f64>().unwrap();
        (Coord { x: number(0), y: number(1) }, number(2))
    })))
}

/// The digitised depth polygons of Lake Wingra: shape and depth in feet.
fn wingra_contours() -> Option<Vec<(Polygon<f64>, f64)>> {
    let path = open_data("wingra-wi/bathymetry-contours/wingra-contours-all.shp")?;
    let mut reader = shapefile::Reader::from_path(path).unwrap();
    let mut contours = Vec::new();
    for (shape, record) in reader.iter_shapes_and_records().filter_map(Result::ok) {
        let depth = record.into_iter().find(|(name, _)| name == "Depth_ft");
        let Some((_, FieldValue::Numeric(Some(depth)))) = depth else {
            panic!("a contour without a depth");
        };
        contours.extend(polygons(shape).into_iter().map(|polygon| (polygon, depth)));
    }
    Some(contours)
}

fn outline() -> Option<Outline> {
    let crs = wisconsin();
    let lon_lat = crs.native_geometry_to_lon_lat(&wingra_outline()?).unwrap();
    let (outline, findings) = Outline::new(&lon_lat, &crs).unwrap();
    assert!(findings.is_empty(), "{findings:?}");
    Some(outline)
}

/// Source: the drawn polygon holds 1,256,739 m² in the plane of EPSG:3071; the scale of that
/// projection makes it 0.07 % more on the ellipsoid.
#[test]
fn the_outline_has_the_area_of_the_drawn_polygon() {
    let Some(outline) = outline() else { return };
    assert!((outline.planar_area().square_metres() - 1_256_739.0).abs() < 0.5);
    assert!((outline.area_scale() - 1.000_745).abs() < 1e-5, "{}", outline.area_scale());
    assert_eq!((outline.piece_count(), outline.island_count()), (1, 0));
}

/// Source: the fitted surface itself: 125.7 ha in cells of 25 m², mean 2.33 m, 2.93 million m³
/// (cells above the water counted as nil). The model's grid has other cells: within 0.1 %.
#[test]
fn the_surface_has_its_published_volume() {
    let (Some(outline), Some(data)) = (outline(), wingra_depths()) else { return };
    let cells = data.soundings.len() as f64;
    let volume: f64 = data.soundings.iter().map(|cell| 25.0 * cell.depth.max(0.0)).sum();
    let mean = volume / (25.0 * cells);
    assert_eq!(data.soundings.len(), 50_262);
    assert_eq!(units::decimals(25.0 * cells / 1e4, 1), "125.7");
    assert_eq!(units::decimals(mean, 2), "2.33");
    assert_eq!(units::decimals(volume / 1e6, 2), "2.93");

    let model = DepthModel::build(&outline, &data, &DepthOptions::default()).unwrap();
    assert_eq!(model.shore_rule(), ShoreRule::FromData);
    let lake = Morphometry::of(&model, Rule::Grid);
    let planar = lake.volume.cubic_metres() / outline.area_scale();
    assert!((planar / volume - 1.0).abs() < 1e-3, "{planar} {volume}");
    assert!((lake.mean_depth.metres() / mean - 1.0).abs() < 1e-3, "{:?}", lake.mean_depth);
    let deepest = data.soundings.iter().map(|cell| cell.depth).fold(0.0, f64::max);
    assert!((lake.max_depth.metres() - deepest).abs() < 1e-12);
    // a smooth surface is met better by natural neighbours, and by either to a few millimetres
    assert_eq!(model.method(), Method::NaturalNeighbour);
    let error = model.error().unwrap();
    assert_eq!(error.method, ErrorMethod::LeaveOneOut);
    assert!(error.mean.metres() < 0.001 && 1_900 < error.trials, "{error:?}");
}

#[test]
fn bands_of_the_surface_sum_to_the_lake() {
    let (Some(outline), Some(data)) = (outline(), wingra_depths()) else { return };
    let model = DepthModel::build(&outline, &data, &DepthOptions::default()).unwrap();
    let depths = usual_depths(model.max_depth(), UnitSystem::Us);
    let bands = depth_bands(&model, &depths);
    assert_eq!(bands.len(), 14);
    let sum: f64 = bands.iter().map(|band| band.shape.unsigned_area()).sum();
    let planar = outline.planar_area().square_metres();
    assert!((sum - planar).abs() < 0.1, "{sum} {planar}");
    for band in &bands {
        let shape = band.shape.unsigned_area() * outline.area_scale();
        assert!((shape / band.area.square_metres() - 1.0).abs() < 0.005, "{:?}", band.from);
    }
}

/// The cells of the fitted surface at or deeper than a depth, counted without any model.
#[test]
fn hypsography_agrees_with_the_cells_of_the_surface() {
    let (Some(outline), Some(data)) = (outline(), wingra_depths()) else { return };
    let model = DepthModel::build(&outline, &data, &DepthOptions::default()).unwrap();
    for feet in [2.0, 5.0, 8.0, 11.0, 12.5] {
        let depth = Metres::from_feet(feet);
        let count = data.soundings.iter().filter(|cell| depth.metres() <= cell.depth).count();
        let row = hypsography(&model, &[depth])[0];
        let planar = row.area.square_metres() / outline.area_scale();
        let want = 25.0 * count as f64;
        assert!((planar - want).abs() < 0.002 * 1_256_739.0, "{feet} ft: {planar} {want}");
    }
}

/// From the five contours of the state's lake map alone, against the surface fitted by others to
/// the same lake from more: the differences are shown and bounded, not hidden.
#[test]
fn contours_alone_come_near_the_surface() {
    let (Some(outline), Some(contours), Some(surface)) =
        (outline(), wingra_contours(), wingra_depths())
    else {
        return;
    };
    let mut data = DepthData::default();
    for (polygon, feet) in &contours {
        data.add_contour_polygon(polygon, Metres::from_feet(*feet).metres());
    }
    let model = DepthModel::build(&outline, &data, &DepthOptions::default()).unwrap();
    assert!(0 < model.mended_count());
    assert!((model.max_depth().feet() - 12.0).abs() < 1e-9);
    let mut differences: Vec<f64> = surface
        .soundings
        .iter()
        .filter_map(|cell| Some((model.depth_at(cell.at)?.metres() - cell.depth.max(0.0)).abs()))
        .collect();
    differences.sort_by(f64::total_cmp);
    let mean = differences.iter().sum::<f64>() / differences.len() as f64;
    let p95 = differences[differences.len() * 95 / 100];
    println!("contours against surface: mean {mean:.3} m, 95th percentile {p95:.3} m");
    assert!(mean < 0.45 && p95 < 1.2, "{mean} {p95}");
    // every step of two feet holds water, none is lost to flats
    let rows = hypsography(&model, &usual_depths(model.max_depth(), UnitSystem::Us));
    assert!(rows.windows(2).all(|pair| pair[1].area < pair[0].area));
}
