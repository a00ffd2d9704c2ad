//! When the sun rises and sets at a lake, so that a day on the water ends before dark.
//!
//! The sun's place comes from the low-accuracy solar coordinates of Meeus (0.01° in longitude), the
//! crossing of the horizon from the altitude of the sun's centre; that is the method of the public
//! solar calculator of the US National Oceanic and Atmospheric Administration (NOAA). The result
//! holds for a flat horizon at the height of the water: a hill or a wood to the west ends the light
//! earlier, and refraction varies by a minute or so from day to day.

use jiff::civil::{Date, DateTime};
use jiff::{SignedDuration, ToSpan, Unit};
use units::LonLat;

/// Altitude of the sun's centre at rise and set in degrees: 34′ of refraction and 16′ of half-diameter
/// below the level horizon. Source: Explanatory Supplement to the Astronomical Almanac (1992), section
/// 9.311; the US Naval Observatory uses the same.
pub const HORIZON: f64 = -50.0 / 60.0;

/// What the sun does at a place on a date.
///
/// Times are civil times at the offset that was asked for. On a day beside the polar day or night
/// one of rise and set may fall after midnight, on the neighbouring date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Daylight {
    /// It rises and sets.
    RisesAndSets {
        /// Upper edge of the sun comes up.
        rise: DateTime,
        /// Sun highest.
        noon: DateTime,
        /// Upper edge of the sun goes down.
        set: DateTime,
    },
    /// Polar day: it stays up from one midnight of the sun to the next.
    NeverSets {
        /// Sun highest.
        noon: DateTime,
    },
    /// Polar night: it stays down.
    NeverRises {
        /// Sun nearest to the horizon.
        noon: DateTime,
    },
}

impl Daylight {
    /// How long the sun is up.
    pub fn length(&self) -> SignedDuration {
        match self {
            Self::RisesAndSets { rise, set, .. } => set.duration_since(*rise),
            Self::NeverSets { .. } => SignedDuration::from_hours(24),
            Self::NeverRises { .. } => SignedDuration::ZERO,
        }
    }

    /// True when the sun is up at a civil time of the same offset.
    pub fn is_light(&self, at: DateTime) -> bool {
        match self {
            Self::RisesAndSets { rise, set, .. } => *rise <= at && at <= *set,
            Self::NeverSets { .. } => true,
            Self::NeverRises { .. } => false,
        }
    }
}

/// A date or clock the sun cannot be reckoned for.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SolarError {
    /// The series are good for a few centuries about 2000.
    #[error(
        "the year `{year}` is too far off to reckon the sun, which works from 1800 to 2200\n\
         hint: look at the date, which is written year-month-day"
    )]
    Year {
        /// As given.
        year: i16,
    },
    /// No clock on Earth is set so.
    #[error(
        "the clock is `{minutes}` minutes from UTC, no clock on Earth is more than 14 hours off\n\
         hint: give the offset in minutes, west negative: -300 for UTC-5, -240 in its summer time"
    )]
    Offset {
        /// As given.
        minutes: i32,
    },
}

/// Sunrise, noon and sunset at a place on a date, in the civil time of a clock `offset_minutes` ahead
/// of UTC (negative west of Greenwich; 0 gives UTC).
///
/// # Formula
/// The sun's altitude `h` is `sin h = sin φ sin δ + cos φ cos δ cos H`, with latitude `φ`, declination
/// `δ` and hour angle `H = (t + E + 4λ) / 4 − 180°`, `t` minutes of UTC since midnight, `E` equation of time in
/// minutes, `λ` longitude east. Rise and set are where `h` passes [`HORIZON`], found by halving the
/// time between the sun's midnights and its noon to a tenth of a second, with `δ` and `E` taken at that time.
/// # Units
/// Times rounded to the second. Accuracy about a minute between 72° north and south, less near the poles.
/// # Errors
/// [`SolarError`] for a year or an offset that cannot be.
/// # References
/// Meeus (1998), Astronomical Algorithms, 2nd ed., chapters 25 (solar coordinates) and 28 (equation of time);
/// NOAA Global Monitoring Laboratory, Solar Calculation Details. The coefficients are from memory and held by
/// Meeus's worked examples 25.a and 28.a and by almanac tables in the tests.
/// # Examples
/// 60° N on the meridian of Greenwich, longest day of 2019 (US Naval Observatory: 02:36 to 21:28):
/// ```
/// use jiff::civil::date;
/// use sampling::solar::{Daylight, daylight};
///
/// let place = units::LonLat::new(0.0, 60.0)?;
/// let Daylight::RisesAndSets { rise, set, .. } = daylight(date(2019, 6, 21), place, 0)? else { panic!() };
/// assert_eq!((rise.hour(), set.hour()), (2, 21));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn daylight(date: Date, place: LonLat, offset_minutes: i32) -> Result<Daylight, SolarError> {
    if !(1800..=2200).contains(&date.year()) {
        return Err(SolarError::Year { year: date.year() });
    }
    if offset_minutes.abs() > 14 * 60 {
        return Err(SolarError::Offset { minutes: offset_minutes });
    }
    // minutes of UTC counted from midnight UTC of the civil date
    let sky = Sky { midnight: julian_day(date), place };
    let noon = sky.noon(f64::from(offset_minutes));
    let clock = |minutes: f64| civil(date, minutes + f64::from(offset_minutes));
    let up_at_noon = sky.altitude(noon) > HORIZON;
    let rise = sky.crossing(noon - 720.0, noon);
    let set = sky.crossing(noon + 720.0, noon);
    Ok(match (rise, set) {
        (None, None) if up_at_noon => Daylight::NeverSets { noon: clock(noon) },
        (None, None) => Daylight::NeverRises { noon: clock(noon) },
        // the first or the last night of the polar day: light from or until the sun's midnight
        (rise, set) => Daylight::RisesAndSets {
            rise: clock(rise.unwrap_or(noon - 720.0)),
            noon: clock(noon),
            set: clock(set.unwrap_or(noon + 720.0)),
        },
    })
}

/// The sun's declination in degrees and the equation of time (apparent less mean) in minutes at a
/// Julian day.
///
/// # References
/// Meeus (1998), chapters 25 and 28, equation 28.3.
pub fn declination_and_equation_of_time(julian_day: f64) -> (f64, f64) {
    let t = (julian_day - 2_451_545.0) / 36_525.0;
    let mean_longitude = (280.466_46 + t * (36_000.769_83 + t * 0.000_303_2)).rem_euclid(360.0);
    let anomaly = (357.529_11 + t * (35_999.050_29 - t * 0.000_153_7)).to_radians();
    let eccentricity = 0.016_708_634 - t * (0.000_042_037 + t * 0.000_000_126_7);
    let centre = anomaly.sin() * (1.914_602 - t * (0.004_817 + t * 0.000_014))
        + (2.0 * anomaly).sin() * (0.019_993 - t * 0.000_101)
        + (3.0 * anomaly).sin() * 0.000_289;
    let node = (125.04 - 1_934.136 * t).to_radians();
    let longitude = (mean_longitude + centre - 0.005_69 - 0.004_78 * node.sin()).to_radians();
    let seconds = 21.448 - t * (46.815 + t * (0.000_59 - t * 0.001_813));
    let mean_obliquity = 23.0 + (26.0 + seconds / 60.0) / 60.0;
    let obliquity = (mean_obliquity + 0.002_56 * node.cos()).to_radians();

    let declination = (obliquity.sin() * longitude.sin()).asin().to_degrees();
    let y = (obliquity / 2.0).tan().powi(2);
    let l = mean_longitude.to_radians();
    let equation = y * (2.0 * l).sin() - 2.0 * eccentricity * anomaly.sin()
        + 4.0 * eccentricity * y * anomaly.sin() * (2.0 * l).cos()
        - 0.5 * y * y * (4.0 * l).sin()
        - 1.25 * eccentricity * eccentricity * (2.0 * anomaly).sin();
    (declination, equation.to_degrees() * 4.0)
}

/// Julian day at midnight UTC of a date. Source: 2000 January 1, 12 h is 2 451 545.0 (Meeus 1998, chapter 7).
fn julian_day(date: Date) -> f64 {
    let epoch = jiff::civil::date(2000, 1, 1);
    let days = date.duration_since(epoch).as_hours() / 24;
    2_451_544.5 + days as f64
}

struct Sky {
    midnight: f64,
    place: LonLat,
}

impl Sky {
    fn sun(&self, minutes: f64) -> (f64, f64) {
        declination_and_equation_of_time(self.midnight + minutes / 1_440.0)
    }

    /// The noon of the sun nearest to noon of a clock `offset` minutes ahead of UTC.
    fn noon(&self, offset: f64) -> f64 {
        let clock_noon = 720.0 - offset;
        let mut noon = 720.0 - 4.0 * self.place.longitude();
        noon += 1_440.0 * ((clock_noon - noon) / 1_440.0).round();
        let day = noon;
        for _ in 0..3 {
            noon = day - self.sun(noon).1;
        }
        noon
    }

    /// Altitude of the sun's centre in degrees, without refraction.
    fn altitude(&self, minutes: f64) -> f64 {
        let (declination, equation) = self.sun(minutes);
        let hour_angle = (minutes + equation + 4.0 * self.place.longitude()) / 4.0 - 180.0;
        let (latitude, declination) =
            (self.place.latitude().to_radians(), declination.to_radians());
        (latitude.sin() * declination.sin()
            + latitude.cos() * declination.cos() * hour_angle.to_radians().cos())
        .clamp(-1.0, 1.0)
        .asin()
        .to_degrees()
    }

    /// When the sun passes the horizon between a midnight (before or after) and the noon beside it.
    fn crossing(&self, midnight: f64, noon: f64) -> Option<f64> {
        let (mut down, mut up) = (midnight, noon);
        if self.altitude(down) > HORIZON || self.altitude(up) <= HORIZON {
            return None;
        }
        while (up - down).abs() > 0.1 / 60.0 {
            let middle = f64::midpoint(down, up);
            if self.altitude(middle) > HORIZON {
                up = middle;
            } else {
                down = middle;
            }
        }
        Some(f64::midpoint(down, up))
    }
}

fn civil(date: Date, minutes: f64) -> DateTime {
    let seconds = (minutes * 60.0).round() as i64;
    let time = date.at(0, 0, 0, 0).saturating_add(seconds.seconds());
    time.round(Unit::Second).unwrap_or(time)
}
