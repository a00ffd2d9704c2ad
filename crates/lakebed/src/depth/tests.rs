use super::*;
use crate::test_lakes::{AT, lake, rectangle, ring, round, sunflower};

const RADIUS: f64 = 500.0;
const DEPTH: f64 = 10.0;

fn from_centre(at: Coord<f64>) -> f64 {
    (at - AT).x.hypot((at - AT).y)
}

fn cone(at: Coord<f64>) -> f64 {
    DEPTH * (1.0 - from_centre(at) / RADIUS)
}

fn bowl(at: Coord<f64>) -> f64 {
    DEPTH * (1.0 - (from_centre(at) / RADIUS).powi(2))
}

fn soundings(count: usize, bed: fn(Coord<f64>) -> f64) -> DepthData {
    DepthData::from_soundings(sunflower(0.98 * RADIUS, count).map(|at| (at, bed(at))))
}

fn build(outline: &Outline, data: &DepthData, method: Method) -> DepthModel {
    DepthModel::build(outline, data, &DepthOptions { method, ..DepthOptions::default() }).unwrap()
}

/// A cone is a plane on every ray: between the soundings the model must be within a foot of it.
#[test]
fn both_methods_follow_a_cone_and_a_bowl() {
    let outline = round(RADIUS);
    for (name, bed) in [("cone", cone as fn(Coord<f64>) -> f64), ("bowl", bowl)] {
        for method in [Method::Linear, Method::NaturalNeighbour] {
            let model = build(&outline, &soundings(2_000, bed), method);
            assert_eq!(model.method(), method);
            for at in sunflower(0.97 * RADIUS, 777) {
                let depth = model.depth_at(at).unwrap().metres();
                assert!((depth - bed(at)).abs() < 0.15, "{name} {method}: {depth} {}", bed(at));
            }
            let error = model.error().unwrap();
            assert_eq!(error.method, ErrorMethod::LeaveOneOut);
            assert!(error.mean.metres() < 0.05 && error.mean < error.p95, "{name}: {error:?}");
        }
    }
}

#[test]
fn the_method_with_the_smaller_error_is_taken_and_the_other_shown() {
    // waves of half a metre: natural neighbours average over more soundings than a triangle has
    let rocking = |at: Coord<f64>| bowl(at) + 0.5 * (1_000.0 * at.x).sin();
    for (bed, want) in
        [(bowl as fn(Coord<f64>) -> f64, Method::Linear), (rocking, Method::NaturalNeighbour)]
    {
        let model = build(&round(RADIUS), &soundings(300, bed), Method::Auto);
        let (rejected, error) = model.rejected().unwrap();
        assert_ne!(rejected, model.method());
        assert!(model.error().unwrap().mean <= error.mean);
        assert_eq!(model.method(), want);
        // the errors shown are those of the methods asked for alone
        assert_eq!(build(&round(RADIUS), &soundings(300, bed), rejected).error(), Some(error));
    }
}

/// On a bed that is one plane both methods are exact up to rounding, except where the shore is no
/// part of the plane.
#[test]
fn a_plane_is_met_exactly() {
    let outline = rectangle(1_000.0, 1_000.0);
    let plane = |at: Coord<f64>| 2.0 + 0.004 * (at.x - AT.x);
    let inside = sunflower(480.0, 1_500).map(|at| at + Coord { x: 500.0, y: 500.0 });
    let data = DepthData::from_soundings(inside.map(|at| (at, plane(at))));
    for method in [Method::Linear, Method::NaturalNeighbour] {
        let model = build(&outline, &data, method);
        for at in sunflower(400.0, 333).map(|at| at + Coord { x: 500.0, y: 500.0 }) {
            let depth = model.depth_at(at).unwrap().metres();
            assert!((depth - plane(at)).abs() < 1e-6, "{method}: {depth} {}", plane(at));
        }
    }
}

/// The grid is laid triangle by triangle; a place asked for alone is searched for.
#[test]
fn the_grid_holds_what_the_surface_says_at_its_centres() {
    let mut data = soundings(500, bowl);
    let contour = ring(0.0, 0.0, 0.5 * RADIUS, 40).into_iter().map(|(x, y)| AT + Coord { x, y });
    data.add_contour(contour.collect::<Vec<_>>().into(), 7.5);
    for method in [Method::Linear, Method::NaturalNeighbour] {
        let model = build(&round(RADIUS), &data, method);
        let whole: Vec<Cell> = model.grid().cells().filter(|cell| 1.0 <= cell.water).collect();
        assert!(1_000 < whole.len());
        for cell in whole {
            let (of_cell, of_place) = (cell.depth.metres(), model.depth_at(cell.centre).unwrap());
            assert!((of_cell - of_place.metres()).abs() < 1e-9, "{method} {:?}", cell.centre);
        }
    }
}

#[test]
fn islands_and_shore_are_dry_and_land_has_no_depth() {
    let outline = lake(&[ring(0.0, 0.0, RADIUS, 360), ring(100.0, 0.0, 50.0, 36)]);
    let data = DepthData::from_soundings(
        sunflower(450.0, 800)
            .filter(|at| from_centre(*at - Coord { x: 100.0, y: 0.0 }) > 70.0)
            .map(|at| (at, 5.0)),
    );
    let model = build(&outline, &data, Method::Linear);
    let at = |x: f64, y: f64| AT + Coord { x, y };
    assert_eq!(model.depth_at(at(100.0, 0.0)), None);
    assert_eq!(model.depth_at(at(600.0, 0.0)), None);
    assert!(model.depth_at(at(499.5, 0.0)).unwrap().metres() < 0.2);
    assert!(model.depth_at(at(151.0, 0.0)).unwrap().metres() < 1.0);
    assert!((model.depth_at(at(-200.0, 0.0)).unwrap().metres() - 5.0).abs() < 1e-9);
    assert_eq!(model.shore_rule(), ShoreRule::Zero);
}

#[test]
fn distance_to_the_nearest_datum_is_kept() {
    let outline = round(RADIUS);
    let model = build(&outline, &DepthData::from_soundings([(AT, 8.0)]), Method::Auto);
    let at = AT + Coord { x: 30.0, y: 40.0 };
    assert!((model.distance_to_datum(at).metres() - 50.0).abs() < 1e-9);
    for cell in model.grid().cells() {
        assert!((cell.to_datum.metres() - from_centre(cell.centre)).abs() < 1e-3);
    }
    // one sounding and the shore are a cone
    assert!((model.depth_at(at).unwrap().metres() - 8.0 * 0.9).abs() < 0.01);
    assert!(model.error().is_some_and(|error| error.trials == 1));
}

/// The contour of 2 m runs round the whole rectangle, that of 4 m only round its western half.
fn half_and_half() -> (Outline, DepthData) {
    let outline = rectangle(2_000.0, 600.0);
    let loop_of = |west: f64, south: f64, east: f64, north: f64| -> LineString<f64> {
        [(west, south), (east, south), (east, north), (west, north), (west, south)]
            .map(|(x, y)| AT + Coord { x, y })
            .to_vec()
            .into()
    };
    let mut data = DepthData::default();
    data.add_contour(loop_of(100.0, 100.0, 1_900.0, 500.0), 2.0);
    data.add_contour(loop_of(200.0, 200.0, 800.0, 400.0), 4.0);
    (outline, data)
}

#[test]
fn a_flat_along_a_contour_is_mended_within_bounds() {
    let (outline, data) = half_and_half();
    let model = build(&outline, &data, Method::Auto);
    assert!(0 < model.mended_count());
    let depth = |x: f64, y: f64| model.depth_at(AT + Coord { x, y }).unwrap().metres();
    // half-way up the slope of the shore
    assert!((depth(1_000.0, 50.0) - 1.0).abs() < 0.05);
    // in the eastern half, where every corner lies on the contour of 2 m, the bed goes on down
    let middle = depth(1_500.0, 300.0);
    assert!(2.3 < middle && middle <= 3.0, "{middle}");
    // within the innermost contour nothing deeper is known
    assert!((depth(500.0, 300.0) - 4.0).abs() < 1e-9);
    assert!((model.max_depth().metres() - 4.0).abs() < 1e-12);
    assert_eq!(model.error().unwrap().method, ErrorMethod::LeaveOneContourOut);
}

/// A narrow bay, every corner of whose triangles lies on the shore.
#[test]
fn a_bay_without_soundings_is_not_dry() {
    let outline = lake(&[vec![
        (0.0, 0.0),
        (1_000.0, 0.0),
        (1_000.0, 450.0),
        (1_400.0, 450.0),
        (1_400.0, 550.0),
        (1_000.0, 550.0),
        (1_000.0, 1_000.0),
        (0.0, 1_000.0),
    ]]);
    let middle = Coord { x: 500.0, y: 500.0 };
    let data = DepthData::from_soundings(
        sunflower(440.0, 600).map(|at| (at + middle, 0.02 * (480.0 - from_centre(at)))),
    );
    let model = build(&outline, &data, Method::Linear);
    let depth = model.depth_at(AT + Coord { x: 1_200.0, y: 500.0 }).unwrap().metres();
    assert!(0.05 < depth && depth < 2.0, "{depth}");
}

#[test]
fn a_fitted_surface_keeps_its_depth_at_the_shore() {
    let outline = rectangle(500.0, 500.0);
    let lattice = (0..10_000).map(|i| {
        AT + Coord { x: 2.5 + 5.0 * f64::from(i % 100), y: 2.5 + 5.0 * f64::from(i / 100) }
    });
    let model =
        build(&outline, &DepthData::from_soundings(lattice.map(|at| (at, 3.0))), Method::Auto);
    assert_eq!(model.shore_rule(), ShoreRule::FromData);
    assert!((model.depth_at(AT + Coord { x: 0.5, y: 250.0 }).unwrap().metres() - 3.0).abs() < 1e-9);
    let pit = DepthOptions { shore: ShoreRule::Zero, ..DepthOptions::default() };
    let lattice = (0..10_000).map(|i| {
        AT + Coord { x: 2.5 + 5.0 * f64::from(i % 100), y: 2.5 + 5.0 * f64::from(i / 100) }
    });
    let model =
        DepthModel::build(&outline, &DepthData::from_soundings(lattice.map(|at| (at, 3.0))), &pit)
            .unwrap();
    assert!(model.depth_at(AT + Coord { x: 0.5, y: 250.0 }).unwrap().metres() < 1.0);
}

#[test]
fn everything_done_to_the_data_is_said() {
    let outline = round(RADIUS);
    let mut data = soundings(200, cone);
    let first = data.soundings[0];
    data.soundings.push(Sounding { depth: first.depth + 1.0, ..first });
    data.soundings.push(Sounding { at: AT + Coord { x: 900.0, y: 0.0 }, depth: 3.0 });
    data.soundings.push(Sounding { at: AT + Coord { x: 490.0, y: 0.0 }, depth: -0.2 });
    let model = build(&outline, &data, Method::Linear);
    let said: Vec<String> = model.findings().iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(said[0].starts_with("1 of 203 soundings lie on land"), "{}", said[0]);
    assert!(
        said[1].starts_with("1 of 202 soundings are above the water, up to 0.20 m"),
        "{}",
        said[1]
    );
    assert!(
        said[2].starts_with(
            "1 soundings repeat a place and were averaged; they disagree by up to 1.00 m"
        ),
        "{}",
        said[2]
    );
    assert!((model.max_depth().metres() - (first.depth + 0.5)).abs() < 1e-9);
    assert!((model.depth_at(first.at).unwrap().metres() - (first.depth + 0.5)).abs() < 1e-9);
}

#[test]
fn depths_that_cannot_be_are_refused() {
    let outline = round(RADIUS);
    let refuse = |depths: &[f64]| {
        let data =
            DepthData::from_soundings(sunflower(400.0, depths.len()).zip(depths.iter().copied()));
        DepthModel::build(&outline, &data, &DepthOptions::default()).unwrap_err()
    };
    assert_eq!(refuse(&[]), DepthError::NoData);
    let error = refuse(&[1.0, f64::NAN, 2.0, f64::INFINITY]);
    assert!(matches!(error, DepthError::NotANumber { what: "sounding", number: 2, count: 2, .. }));
    assert_eq!(refuse(&[2_000.0, 1.0]), DepthError::TooDeep { found: 2_000.0 });
    let flipped = refuse(&[-3.0, -4.0, 0.5]);
    assert_eq!(flipped, DepthError::MostlyNegative { negative: 2, total: 3, example: -3.0 });
    assert!(flipped.hint().contains("sign"));
    let elsewhere = DepthData::from_soundings([(AT * 0.5, 3.0)]);
    let error = DepthModel::build(&outline, &elsewhere, &DepthOptions::default()).unwrap_err();
    assert_eq!(error, DepthError::NothingInTheLake { total: 1 });
    let options = DepthOptions { cell: Some(Metres::new(0.01)), ..DepthOptions::default() };
    let error = DepthModel::build(&outline, &soundings(10, cone), &options).unwrap_err();
    assert!(matches!(error, DepthError::BadCell { .. }));
}

#[test]
fn a_depth_in_centimetres_is_noticed() {
    let data = DepthData::from_soundings(sunflower(400.0, 50).map(|at| (at, 100.0 * cone(at))));
    let model = build(&round(RADIUS), &data, Method::Linear);
    assert!(model.findings()[0].to_string().contains("check the unit"), "{:?}", model.findings());
}

#[test]
fn contours_that_cross_are_noticed_with_the_place() {
    let outline = rectangle(1_000.0, 1_000.0);
    let line = |corners: &[(f64, f64)]| -> LineString<f64> {
        corners.iter().map(|&(x, y)| AT + Coord { x, y }).collect::<Vec<_>>().into()
    };
    // between two vertices, and in a vertex that both have
    let crossing: &[(f64, f64)] = &[(100.0, 893.0), (900.0, 110.0)];
    let sharing: &[(f64, f64)] = &[(100.0, 890.0), (300.0, 300.0), (900.0, 110.0)];
    for other in [crossing, sharing] {
        let mut data = DepthData::default();
        data.add_contour(line(&[(100.0, 100.0), (300.0, 300.0), (900.0, 900.0)]), 2.0);
        data.add_contour(line(other), 4.0);
        let model = build(&outline, &data, Method::Linear);
        let finding = &model.findings()[0];
        assert!(finding.message.contains("cross"), "{finding}");
        let place = outline.crs().project(finding.place.unwrap()).unwrap();
        assert!(from_centre(place - Coord { x: 400.0, y: 400.0 }) < 200.0);
    }
}

#[test]
fn the_same_data_in_another_order_make_the_same_model() {
    let outline = round(RADIUS);
    let data = soundings(500, bowl);
    let mut turned = data.clone();
    turned.soundings.reverse();
    let (one, other) =
        (build(&outline, &data, Method::Auto), build(&outline, &turned, Method::Auto));
    assert_eq!(one.grid().depth, other.grid().depth);
    assert_eq!(one.error(), other.error());
}

#[test]
fn a_raster_is_read_from_its_north_western_corner() {
    let raster = DepthRaster {
        corner: Coord { x: 100.0, y: 200.0 },
        cell_width: 10.0,
        cell_height: 20.0,
        columns: 2,
        depths: vec![1.0, 2.0, f64::NAN, 4.0],
    };
    let cells: Vec<_> = raster.cells().map(|(at, depth)| (at.x, at.y, depth)).collect();
    assert_eq!(cells, [(105.0, 190.0, 1.0), (115.0, 190.0, 2.0), (115.0, 170.0, 4.0)]);
    assert!((raster.cell_area() - 200.0).abs() < 1e-12);
}

/// A server hands one model to many threads.
#[test]
fn a_model_may_be_shared_between_threads() {
    fn shared<T: Send + Sync>(_: &T) {}
    shared(&build(&round(RADIUS), &soundings(10, cone), Method::Auto));
}
