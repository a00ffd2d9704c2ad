use super::*;
use proptest::prelude::*;

const AT: Coord<f64> = Coord { x: 500_000.0, y: 4_980_000.0 };

/// A scan of 2,000 by 1,500 pixels at 1.5 m a pixel, turned by 3°.
fn scan(pixel: Coord<f64>) -> Coord<f64> {
    let (sin, cos) = 3f64.to_radians().sin_cos();
    let (x, y) = (1.5 * pixel.x, -1.5 * pixel.y);
    AT + Coord { x: cos * x - sin * y, y: sin * x + cos * y }
}

/// The same scan, photographed at an angle.
fn photo(pixel: Coord<f64>) -> Coord<f64> {
    let below = 1.0 + 1e-4 * pixel.x + 5e-5 * pixel.y;
    AT + Coord { x: 1.5 * pixel.x, y: -1.4 * pixel.y } / below
}

fn points(pixels: &[(f64, f64)], place: impl Fn(Coord<f64>) -> Coord<f64>) -> Vec<ControlPoint> {
    pixels
        .iter()
        .enumerate()
        .map(|(i, &(x, y))| ControlPoint {
            name: format!("{}", i + 1),
            pixel: Coord { x, y },
            place: place(Coord { x, y }),
        })
        .collect()
}

const CORNERS: [(f64, f64); 4] =
    [(50.0, 60.0), (1_900.0, 80.0), (1_850.0, 1_400.0), (90.0, 1_380.0)];
const MANY: [(f64, f64); 8] = [
    (50.0, 60.0),
    (1_900.0, 80.0),
    (1_850.0, 1_400.0),
    (90.0, 1_380.0),
    (1_000.0, 40.0),
    (1_020.0, 1_450.0),
    (900.0, 700.0),
    (1_500.0, 600.0),
];

#[test]
fn each_transform_finds_what_made_the_picture() {
    let probe = Coord { x: 700.0, y: 900.0 };
    for (warp, pixels, place) in [
        (Warp::Affine, &CORNERS[..3], scan as fn(Coord<f64>) -> Coord<f64>),
        (Warp::Affine, &MANY[..], scan),
        (Warp::Projective, &CORNERS[..], photo),
        (Warp::Projective, &MANY[..], photo),
        (Warp::ThinPlate, &MANY[..], scan),
    ] {
        let fit = Georeference::fit(&points(pixels, place), warp).unwrap();
        let off = length(fit.to_ground(probe) - place(probe));
        assert!(off < 1e-5, "{warp}: {off}");
        let back = length(fit.to_pixel(place(probe)) - probe);
        assert!(back < 1e-3, "{warp}: {back}");
        assert!(fit.root_mean_square().metres() < 1e-5);
        assert!(fit.suspect().is_none(), "{warp}");
    }
}

#[test]
fn a_thin_plate_goes_through_every_point() {
    let mut bent = points(&MANY, scan);
    bent[6].place.x += 12.0;
    bent[7].place.y -= 9.0;
    let fit = Georeference::fit(&bent, Warp::ThinPlate).unwrap();
    for (point, residual) in bent.iter().zip(fit.residuals()) {
        assert!(residual.fitted.metres() < 1e-6);
        assert!(length(fit.to_ground(point.pixel) - point.place) < 1e-6);
        assert!(length(fit.to_pixel(point.place) - point.pixel) < 1e-2);
    }
    // the bend shows where the points are left out
    assert!(fit.root_mean_square().metres() > 5.0);
    assert!(fit.footprint(2_000.0, 1_500.0).is_ok());
}

/// Residuals of an affine fit through the four corners of a square, one moved by (4, 0): by hand
/// each corner is off by 1 m.
#[test]
fn residuals_of_a_square_worked_by_hand() {
    let mut square = points(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)], |pixel| Coord {
        x: pixel.x,
        y: -pixel.y,
    });
    square[2].place.x += 4.0;
    let fit = Georeference::fit(&square, Warp::Affine).unwrap();
    for residual in fit.residuals() {
        assert!((residual.fitted.metres() - 1.0).abs() < 1e-9, "{residual:?}");
        // three corners put the fourth 4 m away
        assert!((residual.left_out.unwrap().metres() - 4.0).abs() < 1e-9);
    }
    assert!((fit.root_mean_square().metres() - 1.0).abs() < 1e-9);
}

#[test]
fn a_point_mistyped_by_a_degree_is_the_suspect() {
    for pixels in [&CORNERS[..], &MANY[..]] {
        for wrong in 0..pixels.len() {
            for by in [Coord { x: 0.0, y: 111_132.0 }, Coord { x: -78_000.0, y: 0.0 }] {
                let mut typed = points(pixels, |pixel| {
                    // what a person reads off a map is a little off
                    scan(pixel) + Coord { x: (pixel.x * 7.0).sin(), y: (pixel.y * 5.0).cos() }
                });
                typed[wrong].place = typed[wrong].place + by;
                let fit = Georeference::fit(&typed, Warp::Affine).unwrap();
                let suspect = fit.suspect().unwrap();
                assert_eq!(suspect.index, wrong);
                let off = length(by);
                assert!((suspect.off.metres() / off - 1.0).abs() < 0.01, "{suspect:?}");
                assert!(length(suspect.expected - scan(typed[wrong].pixel)) < 10.0);
            }
        }
    }
}

/// Ground that runs away from the eye, almost twice as far off on one side as on the other.
#[test]
fn a_picture_at_an_angle_is_no_mistake_but_a_mistake_in_it_is_one() {
    let steep = |pixel: Coord<f64>| {
        let below = 1.0 - 2e-4 * pixel.x - 1e-4 * pixel.y;
        AT + Coord { x: 0.8 * pixel.x, y: -0.7 * pixel.y } / below
    };
    for count in [6, 8] {
        let right = points(&MANY[..count], steep);
        for warp in [Warp::Affine, Warp::Projective] {
            let fit = Georeference::fit(&right, warp).unwrap();
            assert_eq!(fit.suspect(), None, "{warp}, {count} points");
        }
        for index in 0..count {
            let mut wrong = right.clone();
            wrong[index].place.y += 111_000.0;
            let fit = Georeference::fit(&wrong, Warp::Projective).unwrap();
            assert_eq!(fit.suspect().unwrap().index, index, "{count} points");
        }
    }
}

#[test]
fn three_points_hide_a_mistake_but_not_its_stretch() {
    let mut typed = points(&CORNERS[..3], scan);
    assert!((Georeference::fit(&typed, Warp::Affine).unwrap().stretch() - 1.0).abs() < 1e-6);
    typed[1].place.y += 111_132.0;
    let fit = Georeference::fit(&typed, Warp::Affine).unwrap();
    assert!(fit.suspect().is_none());
    assert!(fit.stretch() > 10.0, "{}", fit.stretch());
}

#[test]
fn points_that_fix_nothing_are_refused() {
    let line = points(&[(0.0, 0.0), (10.0, 10.0), (20.0, 20.0)], scan);
    assert_eq!(Georeference::fit(&line, Warp::Affine).unwrap_err(), GeoreferenceError::OnOneLine);
    let twice = points(&[(0.0, 0.0), (0.0, 0.0), (0.0, 0.0)], scan);
    assert_eq!(Georeference::fit(&twice, Warp::Affine).unwrap_err(), GeoreferenceError::OnOneLine);
    let few = Georeference::fit(&points(&CORNERS, scan), Warp::ThinPlate).unwrap_err();
    assert_eq!(few, GeoreferenceError::TooFew { warp: Warp::ThinPlate, least: 6, found: 4 });
    let mut odd = points(&CORNERS, scan);
    odd[3].pixel.x = f64::NAN;
    assert_eq!(
        Georeference::fit(&odd, Warp::Affine).unwrap_err(),
        GeoreferenceError::NotANumber { number: 4 }
    );
    // y counted upwards mirrors the picture
    let mirrored = points(&CORNERS, |pixel| AT + pixel);
    let fit = Georeference::fit(&mirrored, Warp::Affine).unwrap();
    assert_eq!(fit.footprint(2_000.0, 1_500.0).unwrap_err(), GeoreferenceError::Folded);
}

proptest! {
    /// Any affine picture is found from any four points that are not on one line.
    #[test]
    fn there_and_back(
        a in 0.5..3.0f64, b in -0.4..0.4f64, d in -0.4..0.4f64, e in 0.5..3.0f64,
        x in 0.0..2_000.0f64, y in 0.0..1_500.0f64,
    ) {
        let place = |at: Coord<f64>| AT + Coord { x: a * at.x + b * at.y, y: d * at.x - e * at.y };
        for warp in [Warp::Affine, Warp::Projective, Warp::ThinPlate] {
            let fit = Georeference::fit(&points(&MANY, place), warp).unwrap();
            let pixel = Coord { x, y };
            prop_assert!(length(fit.to_ground(pixel) - place(pixel)) < 1e-4);
            prop_assert!(length(fit.to_pixel(place(pixel)) - pixel) < 1e-3);
        }
    }
}
