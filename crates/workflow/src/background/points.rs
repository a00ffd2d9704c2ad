//! Control points that cannot be right: one that the others refuse, one out of the picture, a picture folded over.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::place;
use geo_types::{Coord, MultiPolygon};
use lakebed::{Crs, Georeference, Warp, coord_of};
use lakebook::PlacedPixel;
use units::LonLat;

/// Only a mistake stretches a scan so many times more one way than the other.
const MOST_STRETCH: f64 = 4.0;

/// A distance as a person says it, both ways.
pub(super) fn far(metres: f64) -> String {
    if metres >= 2_000.0 {
        format!("{:.1} km ({:.1} miles)", metres / 1_000.0, metres / units::METRES_PER_MILE)
    } else {
        format!("{metres:.1} m ({:.0} ft)", metres / units::METRES_PER_FOOT)
    }
}

/// Where the picture lies, its points near the lake and in the picture.
pub(super) fn footprint(
    points_file: &str,
    placed: &[PlacedPixel],
    fit: &Georeference,
    (width, height): (u32, u32),
    ground: &Ground,
    crs: &Crs,
) -> Result<MultiPolygon<f64>> {
    let native: Vec<Coord<f64>> = placed.iter().map(|point| coord_of(point.place)).collect();
    let around = place::surroundings(ground.outline.as_ref(), &ground.lake.region);
    place::refuse_strays(points_file, &native, &Crs::wgs84(), around.as_ref())?;
    if let Some(outside) = placed.iter().position(|point| {
        !(0.0..=f64::from(width)).contains(&point.x)
            || !(0.0..=f64::from(height)).contains(&point.y)
    }) {
        let point = &placed[outside];
        return Err(Error::input(format!(
            "`{points_file}`: control point {} `{}` lies at pixel {}, {}, outside the picture of {width} × {height}",
            outside + 1,
            point.name,
            point.x,
            point.y
        ))
        .hint("pixels count from the upper left corner, x to the right and y down"));
    }
    let edge = fit
        .footprint(f64::from(width), f64::from(height))
        .map_err(|error| Error::input(format!("`{points_file}`: {error}")).hint(error.hint()))?;
    crs.unproject_geometry(&MultiPolygon(vec![edge]))
        .map_err(|error| Error::input(error.to_string()).hint(error.hint()))
}

/// Refuses points of which one is plainly mistyped.
pub(super) fn refuse_unfit(file: &str, fit: &Georeference, crs: &Crs) -> Result<()> {
    if let Some(suspect) = fit.suspect() {
        let point = &fit.points()[suspect.index];
        let place = |at| crs.unproject(at).ok();
        let (given, expected) = (place(point.place), place(suspect.expected));
        let words = |place: Option<LonLat>| {
            place.map_or_else(|| "nowhere".to_owned(), |place| place.to_string())
        };
        let hint = given.zip(expected).and_then(|(given, expected)| slip_of(given, expected));
        return Err(Error::input(format!(
            "`{file}`: control point {} `{}` does not fit the others: it lies {} from where they put it\ngiven {}, expected about {}",
            suspect.index + 1,
            point.name,
            far(suspect.off.metres()),
            words(given),
            words(expected)
        ))
        .hint(hint.unwrap_or_else(|| {
            "check its position and its pixel, or leave it out".to_owned()
        })));
    }
    let stretch = fit.stretch();
    if fit.warp() == Warp::Affine && MOST_STRETCH < stretch {
        return Err(Error::input(format!(
            "`{file}`: with these points the picture is stretched {stretch:.0} times more one way than the other, as no scan of a map is"
        ))
        .hint("check the position and the pixel of each point; a fourth point shows which one is wrong"));
    }
    Ok(())
}

/// A position mistyped in a way people mistype.
fn slip_of(given: LonLat, expected: LonLat) -> Option<String> {
    let (x, y) = (given.longitude() - expected.longitude(), given.latitude() - expected.latitude());
    let whole = |by: f64| by.abs() > 0.5 && (by - by.round()).abs() < 0.05;
    let small = |by: f64| by.abs() < 0.05;
    let degrees = |by: f64| {
        let count = by.abs().round();
        format!("{count} degree{}", if count > 1.0 { "s" } else { "" })
    };
    if small(x) && whole(y) {
        Some(format!("its latitude looks mistyped by {}", degrees(y)))
    } else if small(y) && whole(x) {
        Some(format!("its longitude looks mistyped by {}", degrees(x)))
    } else if small(y) && small(given.longitude() + expected.longitude()) {
        Some("its longitude has no minus sign".to_owned())
    } else {
        None
    }
}
