//! Positions that land outside the lake's surroundings, and the slip that most likely put them
//! there.

use crate::crs::{Crs, candidates};
use crate::outline::Outline;
use geo_types::{Coord, Rect};
use std::fmt;
use units::{LonLat, METRES_PER_FOOT, Metres};

/// A slip explains a file when it brings this share of the stray positions home.
const ENOUGH: f64 = 0.9;
/// The two readings of `45.1234` as minutes and as seconds lie within a mile of each other. Minutes
/// are commoner, but their decimals all stay under 60 by chance in only one of 160 files of five
/// positions.
const ENOUGH_FOR_SECONDS: usize = 5;
/// Metres in a degree of latitude, near enough for a margin.
const METRES_PER_DEGREE: f64 = 111_132.0;

/// The rectangle of land and water in which a lake's data are expected.
#[derive(Debug, Clone, PartialEq)]
pub struct Surroundings {
    lon_lat: Rect<f64>,
}

impl Surroundings {
    /// The lake's extent and half as much again on every side, at least one kilometre.
    ///
    /// Common practice: a launch, a benchmark or a house may lie outside, a town seldom.
    pub fn of(outline: &Outline) -> Self {
        let extent = outline.extent();
        let margin = (0.5 * extent.width().max(extent.height())).max(1_000.0);
        Self::around(outline.extent_lon_lat(), Metres::new(margin))
    }

    /// A rectangle in longitude and latitude and a margin around it.
    pub fn around(lon_lat: Rect<f64>, margin: Metres) -> Self {
        let up = margin.metres() / METRES_PER_DEGREE;
        let middle = lon_lat.center().y.to_radians().cos().max(0.01);
        let grow = Coord { x: up / middle, y: up };
        Self { lon_lat: Rect::new(lon_lat.min() - grow, lon_lat.max() + grow) }
    }

    /// Whether a place lies in the rectangle.
    pub fn holds(&self, place: LonLat) -> bool {
        let (min, max) = (self.lon_lat.min(), self.lon_lat.max());
        (min.x..=max.x).contains(&place.longitude()) && (min.y..=max.y).contains(&place.latitude())
    }

    /// The middle of the rectangle.
    pub fn centre(&self) -> Option<LonLat> {
        let Coord { x, y } = self.lon_lat.center();
        LonLat::new(x, y).ok()
    }
}

/// A slip people make with positions.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Slip {
    /// Latitude in the longitude's column, northing in the easting's.
    SwappedAxes,
    /// A western longitude or a southern latitude without its minus.
    MissingMinus,
    /// Both of these.
    SwappedAxesAndMissingMinus,
    /// Degrees and minutes written as `45.12345`, meaning 45° 12.345′.
    MinutesReadAsDecimals,
    /// Degrees, minutes and seconds written as `45.12345`, meaning 45° 12′ 34.5″.
    SecondsReadAsDecimals,
    /// Degrees and minutes run together as `4512.345`, meaning 45° 12.345′.
    MinutesRunTogether,
    /// Feet in a system that is in metres.
    FeetReadAsMetres,
    /// Metres in a system that is in feet.
    MetresReadAsFeet,
    /// Numbers of another system.
    OtherSystem {
        /// The system in which they fall on the lake.
        crs: Crs,
    },
}

impl Slip {
    /// The place a position would have without the slip; none where it is no such slip.
    ///
    /// `native` are the numbers as they stand in the file and `read_as` the system they were taken
    /// to be in.
    pub fn correct(&self, native: Coord<f64>, read_as: &Crs) -> Option<LonLat> {
        let at = |coord: Coord<f64>| read_as.native_to_lon_lat(coord).ok();
        let swapped = Coord { x: native.y, y: native.x };
        let west = |Coord { x, y }: Coord<f64>| LonLat::new(-x.abs(), y).ok();
        match self {
            Self::SwappedAxes => at(swapped),
            Self::MissingMinus if native.x > 0.0 => west(native),
            Self::MissingMinus => LonLat::new(native.x, -native.y.abs()).ok(),
            Self::SwappedAxesAndMissingMinus => west(swapped).filter(|_| native.y > 0.0),
            Self::MinutesReadAsDecimals => both(native, minutes),
            Self::SecondsReadAsDecimals => both(native, seconds),
            Self::MinutesRunTogether => both(native, run_together),
            Self::FeetReadAsMetres => at(native * METRES_PER_FOOT),
            Self::MetresReadAsFeet => at(native / METRES_PER_FOOT),
            Self::OtherSystem { crs } => crs.native_to_lon_lat(native).ok(),
        }
    }

    /// What a person can do about it.
    pub fn hint(&self) -> String {
        match self {
            Self::SwappedAxes => "swap the two columns".to_owned(),
            Self::MissingMinus => "write western longitudes with a minus sign".to_owned(),
            Self::SwappedAxesAndMissingMinus => {
                "swap the two columns and write western longitudes with a minus sign".to_owned()
            }
            Self::MinutesReadAsDecimals => {
                "write degrees and minutes with a space, such as `45 12.345`".to_owned()
            }
            Self::SecondsReadAsDecimals => {
                "write degrees, minutes and seconds with spaces, such as `45 12 34.5`".to_owned()
            }
            Self::MinutesRunTogether => {
                "write degrees and minutes with a space, `45 12.345` for `4512.345`".to_owned()
            }
            Self::FeetReadAsMetres => {
                "name the system that is in feet, or convert to metres".to_owned()
            }
            Self::MetresReadAsFeet => {
                "name the system that is in metres, or convert to feet".to_owned()
            }
            Self::OtherSystem { crs } => format!("add `--crs {}`", crs.label()),
        }
    }
}

impl fmt::Display for Slip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::SwappedAxes => f.write_str("the two axes look swapped"),
            Self::MissingMinus => f.write_str("a minus sign looks to be missing"),
            Self::SwappedAxesAndMissingMinus => {
                f.write_str("the two axes look swapped and a minus sign looks to be missing")
            }
            Self::MinutesReadAsDecimals => {
                f.write_str("degrees and minutes look to be written as decimal degrees")
            }
            Self::SecondsReadAsDecimals => {
                f.write_str("degrees, minutes and seconds look to be written as decimal degrees")
            }
            Self::MinutesRunTogether => f.write_str("degrees and minutes look to be run together"),
            Self::FeetReadAsMetres => f.write_str("the numbers look to be feet, not metres"),
            Self::MetresReadAsFeet => f.write_str("the numbers look to be metres, not feet"),
            Self::OtherSystem { crs } => {
                write!(f, "the numbers fit {} ({})", crs.name(), crs.label())
            }
        }
    }
}

/// What is likely wrong with positions that lie outside the lake's surroundings.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnosis {
    /// The slip.
    pub slip: Slip,
    /// How many positions there are.
    pub total: usize,
    /// Where the stray ones would lie without the slip: index of the position and its place.
    pub corrected: Vec<(usize, LonLat)>,
    /// Indices of stray positions the slip does not explain.
    pub unexplained: Vec<usize>,
}

impl fmt::Display for Diagnosis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let stray = self.corrected.len() + self.unexplained.len();
        let verb = if stray == 1 { "lies" } else { "lie" };
        write!(
            f,
            "{stray} of {} positions {verb} outside the lake's surroundings: {}",
            self.total, self.slip
        )?;
        if let Some((index, place)) = self.corrected.first() {
            write!(f, "; position {} would be {place}", index + 1)?;
        }
        Ok(())
    }
}

/// Indices of the positions that lie outside the surroundings, or nowhere.
pub fn strays(native: &[Coord<f64>], read_as: &Crs, around: &Surroundings) -> Vec<usize> {
    let home = |coord: Coord<f64>| read_as.native_to_lon_lat(coord).is_ok_and(|p| around.holds(p));
    (0..native.len()).filter(|&index| !home(native[index])).collect()
}

/// Names the slip that most likely put positions outside a lake's surroundings.
///
/// Every slip is tried on the stray positions: the one that brings most of them home is named,
/// provided it explains nine in ten. Ties go to the simpler slip, in the order of [`Slip`].
///
/// `native` are numbers as they stand in the file, x or longitude first, and `read_as` the system they
/// were taken to be in.
///
/// Returns none when nothing is stray, or when no single slip explains the strays.
pub fn diagnose(native: &[Coord<f64>], read_as: &Crs, around: &Surroundings) -> Option<Diagnosis> {
    let stray = strays(native, read_as, around);
    if stray.is_empty() {
        return None;
    }
    let numbers: Vec<(usize, Coord<f64>)> = stray.iter().map(|&i| (i, native[i])).collect();
    let mut best: Option<(Slip, Vec<(usize, LonLat)>)> = None;
    for slip in slips(read_as, stray.len()) {
        let corrected = homecoming(&numbers, around, &|coord| slip.correct(coord, read_as));
        if best.as_ref().is_none_or(|(_, most)| most.len() < corrected.len()) {
            best = Some((slip, corrected));
        }
    }
    let enough = (ENOUGH * stray.len() as f64).ceil() as usize;
    let (slip, corrected) = best
        .filter(|(_, corrected)| enough <= corrected.len())
        .or_else(|| other_system(&numbers, around, enough))?;
    let unexplained =
        stray.into_iter().filter(|index| corrected.iter().all(|(at, _)| at != index)).collect();
    Some(Diagnosis { slip, total: native.len(), corrected, unexplained })
}

fn homecoming(
    numbers: &[(usize, Coord<f64>)],
    around: &Surroundings,
    correct: &dyn Fn(Coord<f64>) -> Option<LonLat>,
) -> Vec<(usize, LonLat)> {
    numbers
        .iter()
        .filter_map(|&(index, coord)| {
            correct(coord).filter(|&place| around.holds(place)).map(|place| (index, place))
        })
        .collect()
}

/// The slips to try, the simpler first.
fn slips(read_as: &Crs, strays: usize) -> Vec<Slip> {
    if !read_as.is_geographic() {
        return vec![Slip::SwappedAxes, Slip::FeetReadAsMetres, Slip::MetresReadAsFeet];
    }
    let mut readings = [Slip::MinutesReadAsDecimals, Slip::SecondsReadAsDecimals];
    if ENOUGH_FOR_SECONDS <= strays {
        readings.reverse();
    }
    let mut all = vec![Slip::SwappedAxes, Slip::MissingMinus, Slip::SwappedAxesAndMissingMinus];
    all.extend(readings);
    all.push(Slip::MinutesRunTogether);
    all
}

fn both(coord: Coord<f64>, read: fn(f64) -> Option<f64>) -> Option<LonLat> {
    LonLat::new(read(coord.x)?, read(coord.y)?).ok()
}

/// 45.12345 as 45° 12.345′.
fn minutes(value: f64) -> Option<f64> {
    let (degrees, rest) = (value.abs().trunc(), value.abs().fract() * 100.0);
    (rest < 60.0).then(|| (degrees + rest / 60.0).copysign(value))
}

/// 45.12345 as 45° 12′ 34.5″.
fn seconds(value: f64) -> Option<f64> {
    let (degrees, rest) = (value.abs().trunc(), value.abs().fract() * 100.0);
    let (minutes, seconds) = (rest.trunc(), rest.fract() * 100.0);
    (minutes < 60.0 && seconds < 60.0)
        .then(|| (degrees + minutes / 60.0 + seconds / 3_600.0).copysign(value))
}

/// 4512.345 as 45° 12.345′.
fn run_together(value: f64) -> Option<f64> {
    let (degrees, rest) = ((value.abs() / 100.0).trunc(), value.abs() % 100.0);
    (rest < 60.0).then(|| (degrees + rest / 60.0).copysign(value))
}

/// The first known system in which the strays fall on the lake.
fn other_system(
    numbers: &[(usize, Coord<f64>)],
    around: &Surroundings,
    enough: usize,
) -> Option<(Slip, Vec<(usize, LonLat)>)> {
    let utm = Crs::utm_for(around.centre()?).code()?;
    let codes = [4326, utm, utm - 1, utm + 1, 3857].into_iter().chain(candidates());
    codes.filter_map(|code| Crs::from_epsg(code).ok()).find_map(|crs| {
        let correct = |coord: Coord<f64>| crs.native_to_lon_lat(coord).ok();
        // most systems are out at the first position already
        correct(numbers.first()?.1)
            .filter(|&place| around.holds(place) || enough < numbers.len())?;
        let corrected = homecoming(numbers, around, &correct);
        (enough <= corrected.len()).then_some((Slip::OtherSystem { crs }, corrected))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{Distance, Geodesic, Point};

    /// A lake in western Wisconsin.
    fn around() -> Surroundings {
        let rect = Rect::new(Coord { x: -91.25, y: 45.18 }, Coord { x: -91.20, y: 45.22 });
        Surroundings::around(rect, Metres::new(1_000.0))
    }

    const AT: Coord<f64> = Coord { x: -91.220_75, y: 45.205_75 };

    fn slip_of(coord: Coord<f64>, read_as: &Crs) -> Option<Slip> {
        diagnose(&[coord], read_as, &around()).map(|diagnosis| {
            assert_eq!(diagnosis.corrected.len(), 1);
            assert!(around().holds(diagnosis.corrected[0].1));
            diagnosis.slip
        })
    }

    #[test]
    fn each_slip_of_degrees_is_named() {
        let wgs84 = Crs::wgs84();
        for (name, x, y, want) in [
            ("at home", AT.x, AT.y, None),
            ("swapped", AT.y, AT.x, Some(Slip::SwappedAxes)),
            ("no minus", -AT.x, AT.y, Some(Slip::MissingMinus)),
            ("swapped, no minus", AT.y, -AT.x, Some(Slip::SwappedAxesAndMissingMinus)),
            // 91° 13.245′ W, 45° 12.345′ N
            ("minutes", -91.132_45, 45.123_45, Some(Slip::MinutesReadAsDecimals)),
            ("run together", -9_113.245, 4_512.345, Some(Slip::MinutesRunTogether)),
            ("another continent", 10.0, 60.0, None),
        ] {
            assert_eq!(slip_of(Coord { x, y }, &wgs84), want, "{name}");
        }
    }

    /// 91° 13′ 10″ W, 45° 12′ 20″ N and on to the north-east.
    #[test]
    fn seconds_show_by_never_reaching_sixty() {
        let numbers: Vec<Coord<f64>> = (0..5)
            .map(|i| f64::from(i) * 0.0008)
            .map(|step| Coord { x: -91.1310 - step, y: 45.1220 + step })
            .collect();
        let diagnosis = diagnose(&numbers, &Crs::wgs84(), &around()).unwrap();
        assert_eq!(diagnosis.slip, Slip::SecondsReadAsDecimals);
        let minutes: Vec<Coord<f64>> = (0..5)
            .map(|i| f64::from(i) * 0.0022)
            .map(|step| Coord { x: -91.1310 - step, y: 45.1220 + step })
            .collect();
        let diagnosis = diagnose(&minutes, &Crs::wgs84(), &around()).unwrap();
        assert_eq!(diagnosis.slip, Slip::MinutesReadAsDecimals);
    }

    #[test]
    fn each_slip_of_projected_numbers_is_named() {
        let place = LonLat::new(AT.x, AT.y).unwrap();
        let in_system = |code: u32| Crs::from_epsg(code).unwrap().lon_lat_to_native(place).unwrap();
        let wisconsin = Crs::from_epsg(3071).unwrap();
        let utm = in_system(32_615);
        for (name, numbers, read_as, want) in [
            ("feet", in_system(3071) / METRES_PER_FOOT, 3071, Slip::FeetReadAsMetres),
            ("swapped", Coord { x: utm.y, y: utm.x }, 32_615, Slip::SwappedAxes),
            ("degrees", AT, 3071, Slip::OtherSystem { crs: Crs::wgs84() }),
            (
                "UTM as degrees",
                utm,
                4326,
                Slip::OtherSystem { crs: Crs::from_epsg(32_615).unwrap() },
            ),
            ("wrong zone", utm, 32_616, Slip::OtherSystem { crs: Crs::from_epsg(32_615).unwrap() }),
            (
                "State Plane in survey feet as degrees",
                in_system(2288),
                4326,
                Slip::OtherSystem { crs: Crs::from_epsg(2288).unwrap() },
            ),
        ] {
            let read_as = Crs::from_epsg(read_as).unwrap();
            assert_eq!(slip_of(numbers, &read_as), Some(want), "{name}");
        }
        assert_eq!(slip_of(in_system(3071), &wisconsin), None);
    }

    #[test]
    fn a_few_odd_positions_are_left_unexplained() {
        let mut numbers = vec![Coord { x: -AT.x, y: AT.y }; 19];
        numbers.push(Coord { x: 3.0, y: 4.0 });
        numbers.push(AT);
        let diagnosis = diagnose(&numbers, &Crs::wgs84(), &around()).unwrap();
        assert_eq!(diagnosis.slip, Slip::MissingMinus);
        assert_eq!(diagnosis.unexplained, [19]);
        assert_eq!(
            diagnosis.to_string(),
            "20 of 21 positions lie outside the lake's surroundings: a minus sign looks to be missing; position 1 would be 45.20575° N, 91.22075° W"
        );
        // half and half is no one slip
        assert!(
            diagnose(
                &[Coord { x: -AT.x, y: AT.y }, Coord { x: 3.0, y: 4.0 }],
                &Crs::wgs84(),
                &around()
            )
            .is_none()
        );
    }

    /// Source: geographiclib 2.1 on WGS 84. 45° 12.345′ read as 45.12345° is 9,146 m off, 45° 12′
    /// 34.5″ read as 45.12345° 9,572 m: the correction must move a position by just that.
    #[test]
    fn geographiclib_cost_of_minutes_and_seconds() {
        let read = Point::new(-91.0, 45.123_45);
        for (right, want) in [(minutes(45.123_45), 9_146.0), (seconds(45.123_45), 9_572.0)] {
            let metres = Geodesic.distance(read, Point::new(-91.0, right.unwrap()));
            assert!((metres - want).abs() < 0.5, "{metres}");
        }
    }
}
