//! Logs of depth sounders.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "the helpers of a test may fail it"
)]

#[path = "../../findings/tests/support/mod.rs"]
mod support;

use exchange::{Faults, Layer, LayerCrs, ReadOptions, Value, read_layer, read_layer_bytes};
use geo_types::Point;
use proptest::prelude::*;
use support::open_data;

/// Sentences with their checksums (IEC 61162-1: exclusive or of what stands between `$` and `*`).
fn log(sentences: &[&str]) -> String {
    let line = |sentence: &&str| {
        let sum = sentence.bytes().fold(0, |sum, byte| sum ^ byte);
        format!("${sentence}*{sum:02X}\r\n")
    };
    sentences.iter().map(line).collect()
}

fn read(text: &str) -> Result<Layer, Faults> {
    read_layer_bytes("day.log", text.as_bytes(), &ReadOptions::default())
}

fn place(layer: &Layer, index: usize) -> Point<f64> {
    Point::try_from(layer.features[index].geometry.clone()).unwrap()
}

fn depths(layer: &Layer) -> Vec<f64> {
    layer.features.iter().filter_map(|f| f.attribute("depth")?.number()).collect()
}

fn text(layer: &Layer, index: usize, key: &str) -> String {
    layer.features[index].attribute(key).map(ToString::to_string).unwrap_or_default()
}

#[test]
fn depths_lie_where_the_boat_was_at_their_moment() {
    let text_of = log(&[
        "GPRMC,235958,A,4500.0000,N,08930.0000,W,0.0,0.0,140822,,,A",
        "SDDBT,,f,2.00,M,,F",
        "SDDBT,,f,3.00,M,,F",
        "GPGGA,000000,4500.0100,N,08930.0200,W,1,08,1.0,300,M,,M,,",
        "SDDBT,,f,4.00,M,,F",
        "GPGLL,4500.0200,N,08930.0400,W,000002,A,A",
    ]);
    let layer = read(&text_of).unwrap();
    assert_eq!(layer.crs, LayerCrs::Wgs84);
    assert_eq!(depths(&layer), [2.0, 3.0, 4.0]);
    assert_eq!(layer.features[1].row, 3);
    // two depths in two seconds: the second lies halfway
    for (index, minutes) in [(0, 0.0), (1, 0.005), (2, 0.01)] {
        let at = place(&layer, index);
        assert!((at.y() - (45.0 + minutes / 60.0)).abs() < 1e-9, "{index}: {at:?}");
        assert!((at.x() + (89.5 + 2.0 * minutes / 60.0)).abs() < 1e-9, "{index}: {at:?}");
    }
    // the day is told before midnight
    let moments: Vec<String> = (0..3).map(|index| text(&layer, index, "time")).collect();
    assert_eq!(moments, ["2022-08-14T23:59:58Z", "2022-08-14T23:59:59Z", "2022-08-15T00:00:00Z"]);
    assert_eq!(
        layer.warnings,
        ["depths are from the transducer: add how deep it hung below the surface"]
    );
}

#[test]
fn garbled_lines_lost_bottoms_and_long_gaps_are_left_out_and_told() {
    let good = log(&[
        "GPGLL,4500.0000,N,08930.0000,W,120000,A,A",
        "SDDPT,2.0,0.4",
        "SDDBT,0.0,f,0.0,M,0.0,F",
        "GPGLL,4500.0100,N,08930.0000,W,120001,A,A",
        "GPZDA,121500,14,08,2022,,",
        "SDDPT,3.0,0.4",
        "GPVTG,,,,,,,,",
        "GPGLL,4500.0100,N,08930.0000,W,123000,A,A",
        "GPGLL,4500.0100,N,08930.0000,W,123001,V,N",
    ]);
    let mut lines: Vec<String> = good.lines().map(str::to_owned).collect();
    lines[0].replace_range(8..9, "6");
    lines.push("$SDDBT,1.0,f".to_owned());
    lines.push("!AIVDM,1,1,1,,13aI8e?P00PGpU:NR6s00?vT2000,0,0*1C".to_owned());
    lines.push("end of log".to_owned());
    let layer = read(&lines.join("\n")).unwrap_err();
    // the only fix near the first depth was the garbled one; the later ones came at once
    assert!(layer.to_string().contains("2 depths, none of them near a valid position"), "{layer}");
    lines[0] = good.lines().next().unwrap().to_owned();
    let layer = read(&lines.join("\n")).unwrap();
    assert_eq!(depths(&layer), [2.4]);
    assert_eq!(text(&layer, 0, "measured_from"), "surface");
    let skipped: Vec<(usize, &str)> =
        layer.skipped.iter().map(|one| (one.row, one.reason.as_str())).collect();
    assert_eq!(
        skipped,
        [
            (3, "no depth: the sounder had lost the bottom"),
            (6, "no position within 10 seconds of it"),
            (10, "it has no checksum: it was cut off"),
            (12, "no NMEA sentence begins in it"),
        ]
    );
    assert_eq!(
        layer.warnings,
        [
            "the depth of the transducer, 0.4 m as the log states it, is added: depths are from the surface",
            "1 garbled lines are left out",
            "2 sentences of other kinds are passed over: AIS 1, VTG 1",
        ]
    );
}

#[test]
fn logs_that_cannot_be_used_say_what_is_missing() {
    let fix = "GPGLL,4500.0000,N,08930.0000,W,120000,A,A";
    let cases = [
        (log(&[fix, "IIHDT,,T"]), "found `none, but HDT`, expected sentences with a depth"),
        (log(&[fix, "SDDBT,,f,,M,,F"]), "found `1 depth sentences without a depth`"),
        (log(&["SDDBT,,f,2.0,M,,F", "SDDBT,,f,2.1,M,,F"]), "found `2 depths, none of them near"),
        (
            log(&["SDDBT,,f,2.0,M,,F", "GPGLL,4500.0,N,08930.0,W,,A,A"]),
            "found `1 depths, and positions without a time`",
        ),
        (
            log(&[fix, "SDDBT,,f,2.0,M,,F"]).replace('5', "6").replace("2.0", "3.0"),
            "2 of 2 lines garbled",
        ),
    ];
    for (bytes, want) in cases {
        let told = read(&bytes).unwrap_err().to_string();
        assert!(told.contains(want) && told.contains("\nhint: "), "{told}");
    }
    // an old log has no checksums at all
    let bare = "$GPGLL,4500.0000,N,08930.0000,W,120000\n$SDDBT,6.6,f,2.0,M,,F\n";
    assert_eq!(read(bare).unwrap().features.len(), 1);
}

/// Depths of 6.96 to 32.79 m, each with its time before and its position behind it.
#[test]
fn a_day_under_sail() {
    let Some(path) = open_data("nmea-logs/plaka-first20000.log") else { return };
    let layer = read_layer(&path, &ReadOptions::default()).unwrap();
    assert_eq!((layer.features.len(), layer.skipped.len()), (1_250, 0));
    let depths = depths(&layer);
    let (least, most) = (
        depths.iter().copied().fold(f64::INFINITY, f64::min),
        depths.iter().copied().fold(0.0, f64::max),
    );
    assert_eq!((least, most), (6.96, 32.79));
    // its own position, told two sentences later with the same time
    assert_eq!(text(&layer, 0, "time"), "09:55:59");
    let at = place(&layer, 0);
    assert!((at.y() - (60.0 + 5.071 / 60.0)).abs() < 1e-12);
    assert!((at.x() - (23.0 + 32.346 / 60.0)).abs() < 1e-12);
    assert!(layer.warnings.iter().any(|w| w.contains("HDT 2500")), "{:?}", layer.warnings);
}

#[test]
fn a_boat_at_its_berth_among_ships() {
    let Some(path) = open_data("nmea-logs/gofree-merrimac.log") else { return };
    let layer = read_layer(&path, &ReadOptions::default()).unwrap();
    // 142 times DBT and DPT: the second states 0.5 m to the water line
    assert_eq!(layer.features.len(), 142);
    assert!(depths(&layer).iter().all(|depth| (1.0..1.15).contains(depth)), "{:?}", depths(&layer));
    assert_eq!(text(&layer, 0, "time"), "2014-04-16T19:57:19Z");
    assert!(layer.warnings.iter().any(|w| w.contains("AIS 1507")), "{:?}", layer.warnings);
    assert!(layer.warnings.iter().any(|w| w.starts_with("142 depths from another point")));

    // one letter in a hundred changed: each hurt line is told, none is read
    let mut bytes = std::fs::read(&path).unwrap();
    let hurt = bytes.iter_mut().filter(|b| b.is_ascii_digit()).step_by(400);
    hurt.for_each(|byte| *byte = if *byte == b'9' { b'8' } else { *byte + 1 });
    let hurt = read_layer_bytes("hurt.log", &bytes, &ReadOptions::default()).unwrap();
    assert!(!hurt.skipped.is_empty() && hurt.features.len() <= 142);
    let sound: Vec<&Value> = layer.features.iter().filter_map(|f| f.attribute("depth")).collect();
    for feature in &hurt.features {
        assert!(sound.contains(&feature.attribute("depth").unwrap()));
    }

    let Some(path) = open_data("nmea-logs/n2kd-183-merrimac.log") else { return };
    let faults = read_layer(&path, &ReadOptions::default()).unwrap_err();
    assert_eq!(faults.0[0].found.as_deref(), Some("24 depths, none of them near a valid position"));
}

proptest! {
    #[test]
    fn whatever_the_lines_a_log_is_answered(
        lines in prop::collection::vec("\\$(GP|SD|II)(GGA|RMC|GLL|ZDA|DBT|DPT|DBS),[0-9.,NSEWAVfMF-]{0,60}", 1..12),
        checked in any::<bool>(),
    ) {
        let bodies: Vec<&str> = lines.iter().map(|line| &line[1..]).collect();
        let text = if checked { log(&bodies) } else { lines.join("\n") };
        if let Err(faults) = read(&text) {
            prop_assert!(!faults.to_string().is_empty());
        }
    }
}
