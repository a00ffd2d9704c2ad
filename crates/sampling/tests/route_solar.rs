//! The sun's times against almanac tables and textbook examples.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::float_cmp,
    reason = "tests stop at the first surprise, print what they measured and compare exact values"
)]

use jiff::civil::{Date, DateTime, date};
use sampling::solar::{Daylight, SolarError, daylight, declination_and_equation_of_time};
use units::LonLat;

fn place(latitude: f64, longitude: f64) -> LonLat {
    LonLat::new(longitude, latitude).unwrap()
}

fn rise_and_set(day: Date, at: LonLat, offset: i32) -> (DateTime, DateTime) {
    match daylight(day, at, offset).unwrap() {
        Daylight::RisesAndSets { rise, set, .. } => (rise, set),
        other => panic!("{day}: expected rise and set, found {other:?}"),
    }
}

/// Minutes between a time found and a clock time `hhmm` of a table.
fn minutes_off(found: DateTime, day: Date, hhmm: i16) -> f64 {
    let expected = day.at((hhmm / 100) as i8, (hhmm % 100) as i8, 0, 0);
    found.duration_since(expected).as_secs_f64() / 60.0
}

/// Place, latitude, longitude, minutes from UTC; then date, rise and set as hour and minute.
type Table = (&'static str, f64, f64, i32, &'static [(Date, i16, i16)]);

/// Source: US Naval Observatory, Astronomical Applications Department, "Rise and Set for the Sun", yearly
/// tables for the places named (status R: read in copies of the tables).
const ALMANAC: &[Table] = &[
    (
        "Fredonia, Arizona, W112 31 N36 57, 7 h west, 2023",
        36.0 + 57.0 / 60.0,
        -(112.0 + 31.0 / 60.0),
        -420,
        &[
            (date(2023, 1, 1), 743, 1724),
            (date(2023, 2, 10), 724, 1805),
            (date(2023, 3, 20), 634, 1842),
            (date(2023, 5, 15), 522, 1931),
            (date(2023, 6, 21), 511, 1953),
            (date(2023, 7, 31), 535, 1938),
            (date(2023, 9, 23), 619, 1826),
            (date(2023, 11, 3), 656, 1731),
            (date(2023, 12, 22), 740, 1717),
        ],
    ),
    (
        "Toronto, W079 25 N43 40, 4 h west, April 2001",
        43.0 + 40.0 / 60.0,
        -(79.0 + 25.0 / 60.0),
        -240,
        &[
            (date(2001, 4, 1), 659, 1945),
            (date(2001, 4, 8), 647, 1953),
            (date(2001, 4, 15), 635, 2001),
            (date(2001, 4, 22), 623, 2010),
            (date(2001, 4, 30), 611, 2019),
        ],
    ),
    (
        "Birmingham, Alabama, W86 48.6 N33 31.8, 6 h west, November 2013",
        33.53,
        -86.81,
        -360,
        &[
            (date(2013, 11, 17), 621, 1643),
            (date(2013, 11, 19), 623, 1642),
            (date(2013, 11, 21), 625, 1642),
        ],
    ),
    (
        "N60 00 E000 00, universal time, 2019",
        60.0,
        0.0,
        0,
        &[
            (date(2019, 1, 1), 902, 1505),
            (date(2019, 3, 20), 603, 1814),
            (date(2019, 6, 21), 236, 2128),
            (date(2019, 9, 1), 454, 1905),
            (date(2019, 12, 31), 903, 1503),
        ],
    ),
    (
        "N80 00 E000 00, universal time, 2019",
        80.0,
        0.0,
        0,
        &[(date(2019, 3, 1), 902, 1525), (date(2019, 9, 23), 533, 1808)],
    ),
];

#[test]
fn the_naval_observatorys_tables_within_two_minutes() {
    let mut worst = 0.0f64;
    for &(name, latitude, longitude, offset, days) in ALMANAC {
        for &(day, rise, set) in days {
            let found = rise_and_set(day, place(latitude, longitude), offset);
            for (found, expected) in [(found.0, rise), (found.1, set)] {
                let off = minutes_off(found, day, expected);
                worst = worst.max(off.abs());
                assert!(off.abs() <= 2.0, "{name}, {day}: {expected} against {found}");
            }
        }
    }
    println!("worst difference from the tables {worst:.2} minutes");
    // the tables are rounded to the minute; more than a minute off would be a fault of ours
    assert!(worst <= 1.0, "{worst}");
}

/// Same source, S60 W150 in universal time, where the local day lies across midnight UTC: the date asked
/// for is that of the clock there (10 hours west), so the evening falls on the next date of UTC.
#[test]
fn the_local_date_counts_not_that_of_greenwich() {
    let lake = place(-60.0, -150.0);
    let (rise, set) = rise_and_set(date(2019, 7, 10), lake, -600);
    // table: 10 July rise 18:55 UT; 11 July set 01:16 UT
    assert!(minutes_off(rise, date(2019, 7, 10), 855).abs() <= 1.0, "{rise}");
    assert!(minutes_off(set, date(2019, 7, 10), 1516).abs() <= 1.0, "{set}");
}

/// Same source, N80: marked `****` continuously above and `----` continuously below the horizon.
#[test]
fn polar_day_and_polar_night_are_states_of_their_own() {
    let ice = place(80.0, 0.0);
    for day in [date(2019, 4, 14), date(2019, 6, 21), date(2019, 8, 29)] {
        assert!(matches!(daylight(day, ice, 0).unwrap(), Daylight::NeverSets { .. }), "{day}");
    }
    for day in [date(2019, 1, 1), date(2019, 2, 20), date(2019, 10, 22), date(2019, 12, 31)] {
        assert!(matches!(daylight(day, ice, 0).unwrap(), Daylight::NeverRises { .. }), "{day}");
    }
    for day in [date(2019, 2, 21), date(2019, 4, 12), date(2019, 8, 31), date(2019, 10, 21)] {
        assert!(matches!(daylight(day, ice, 0).unwrap(), Daylight::RisesAndSets { .. }), "{day}");
    }
}

/// Reda and Andreas (2004), Solar Energy 76: 577–589, worked example: 2003 October 17, 39.742476° N,
/// 105.1786° W, 7 h west: sunrise 06:12:43, transit 11:46:05 (status M, from memory; its sunset is left out, for
/// the two halves of the day as remembered do not agree with each other).
#[test]
fn reda_andreas_2004_worked_example() {
    let golden = place(39.742_476, -105.178_6);
    let day = date(2003, 10, 17);
    let Daylight::RisesAndSets { rise, noon, .. } = daylight(day, golden, -420).unwrap() else {
        panic!("the sun rises there");
    };
    for (found, expected) in [(rise, day.at(6, 12, 43, 0)), (noon, day.at(11, 46, 5, 0))] {
        let off = found.duration_since(expected).as_secs().abs();
        assert!(off <= 20, "{found} against {expected}");
    }
}

/// Meeus (1998), examples 25.a and 28.a: 1992 October 13, 0 h: δ = −7.78507°, E = +13 m 42.6 s (status M, from
/// memory). The example counts dynamical time; the minute between it and UTC moves neither in these digits.
#[test]
fn meeus_1998_examples_25a_and_28a() {
    let (declination, equation) = declination_and_equation_of_time(2_448_908.5);
    assert!((declination + 7.785_07).abs() < 1e-4, "{declination}");
    assert!((equation - (13.0 + 42.6 / 60.0)).abs() < 0.02, "{equation}");
}

#[test]
fn one_moment_whatever_the_clock() {
    let lake = place(43.07, -89.4);
    let day = date(2025, 7, 4);
    let (rise, set) = rise_and_set(day, lake, 0);
    for offset in [-300, -360] {
        let (rise_there, set_there) = rise_and_set(day, lake, offset);
        let shift = jiff::SignedDuration::from_mins(i64::from(offset));
        assert_eq!(rise_there.duration_since(rise), shift);
        // asked in UTC, the evening of 4 July in Wisconsin is already the 5th, 01:40
        assert_eq!(set_there.duration_since(set), shift);
    }
    assert_eq!(set.date(), date(2025, 7, 5));
}

#[test]
fn the_seasons_mirror_each_other_across_the_equator() {
    // day lengths half a year apart, north and south: the sun's path differs a little, not by more
    for latitude in [10.0, 30.0, 45.0, 60.0] {
        let north = daylight(date(2025, 6, 21), place(latitude, 0.0), 0).unwrap().length();
        let south = daylight(date(2025, 12, 21), place(-latitude, 0.0), 0).unwrap().length();
        assert!((north.as_secs() - south.as_secs()).abs() < 60, "{latitude}");
        let winter = daylight(date(2025, 12, 21), place(latitude, 0.0), 0).unwrap().length();
        assert!(winter < north, "{latitude}");
    }
    // on the equator the day is always a few minutes over 12 h, by refraction and the half-diameter
    for month in 1..=12 {
        let length = daylight(date(2025, month, 15), place(0.0, -60.0), -240).unwrap().length();
        assert!((length.as_secs() - (12 * 3_600 + 7 * 60)).abs() < 60, "{month}: {length:?}");
    }
}

#[test]
fn noon_lies_between_and_light_is_light() {
    let lake = place(44.0, -72.0);
    let day = daylight(date(2025, 8, 2), lake, -240).unwrap();
    let Daylight::RisesAndSets { rise, noon, set } = day else { panic!("{day:?}") };
    assert!(rise < noon && noon < set);
    assert!(day.is_light(noon) && !day.is_light(date(2025, 8, 2).at(22, 0, 0, 0)));
    assert_eq!(day.length(), set.duration_since(rise));
}

#[test]
fn impossible_dates_and_clocks_are_refused() {
    let lake = place(44.0, -72.0);
    let year = daylight(date(25, 8, 2), lake, -240).unwrap_err();
    assert_eq!(year, SolarError::Year { year: 25 });
    assert!(year.to_string().contains("hint:"));
    let clock = daylight(date(2025, 8, 2), lake, -4_000).unwrap_err();
    assert_eq!(clock, SolarError::Offset { minutes: -4_000 });
}
