//! What a receiver brings home: waypoints it marked and the track it drew, with their hours.

use crate::fault::{Fault, Faults};
use crate::text::parse_number;
use crate::xml::{self, Node};
use jiff::Timestamp;

/// A place of a track.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrackPoint {
    /// Degrees east, WGS 84.
    pub longitude: f64,
    /// Degrees north, WGS 84.
    pub latitude: f64,
    /// When, in UTC.
    pub time: Option<Timestamp>,
}

/// A receiver's file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TrackLog {
    /// Waypoints by name.
    pub waypoints: Vec<(String, TrackPoint)>,
    /// The track, cut where the receiver lost its signal or was turned off.
    pub parts: Vec<Vec<TrackPoint>>,
}

/// Reads waypoints and tracks of a GPX 1.0 or 1.1 file with their hours.
///
/// # Errors
/// [`Faults`] naming every place that is not on Earth and every hour that is none.
pub fn read_track(file: &str, bytes: &[u8]) -> Result<TrackLog, Faults> {
    let root = xml::parse(file, bytes)?;
    if root.name != "gpx" {
        return Err(Fault::file(file, "a GPX file, with the element `gpx` outside")
            .found(root.name)
            .hint("export the track from the receiver as GPX")
            .into());
    }
    let mut log = TrackLog::default();
    let mut faults = Faults::default();
    let mut row = 0;
    for node in &root.children {
        match node.name.as_str() {
            "wpt" => {
                row += 1;
                if let Some(point) = point(file, row, node, &mut faults) {
                    let name = node.child("name").map(Node::text).unwrap_or_default();
                    log.waypoints.push((name.to_owned(), point));
                }
            }
            "trk" => {
                for part in node.all("trkseg") {
                    let mut points = Vec::new();
                    for one in part.all("trkpt") {
                        row += 1;
                        points.extend(point(file, row, one, &mut faults));
                    }
                    if !points.is_empty() {
                        log.parts.push(points);
                    }
                }
            }
            _ => {}
        }
    }
    faults.or(())?;
    if log.waypoints.is_empty() && log.parts.is_empty() {
        return Err(Fault::file(file, "waypoints or a track")
            .hint("choose the track or the waypoints when you export from the receiver")
            .into());
    }
    Ok(log)
}

fn point(file: &str, row: usize, node: &Node, faults: &mut Faults) -> Option<TrackPoint> {
    let number = |name: &str| node.attribute(name).and_then(|text| parse_number(text, false));
    let shown = |name: &str| node.attribute(name).unwrap_or("nothing").to_owned();
    let (Some(longitude), Some(latitude)) = (number("lon"), number("lat")) else {
        faults.push(
            Fault::file(file, "`lat` and `lon` in degrees")
                .at(row)
                .field(node.name.as_str())
                .found(format!("lat {}, lon {}", shown("lat"), shown("lon"))),
        );
        return None;
    };
    if !(-180.0..=180.0).contains(&longitude) || !(-90.0..=90.0).contains(&latitude) {
        faults.push(
            Fault::file(file, "a place on Earth")
                .at(row)
                .field(node.name.as_str())
                .found(format!("lat {latitude}, lon {longitude}")),
        );
        return None;
    }
    let time = match node.child("time").map(Node::text).filter(|text| !text.is_empty()) {
        None => None,
        Some(text) => {
            let time = text.parse::<Timestamp>().ok();
            if time.is_none() {
                faults.push(
                    Fault::file(file, "an hour such as `2026-07-14T13:31:02Z`")
                        .at(row)
                        .field("time")
                        .found(text),
                );
                return None;
            }
            time
        }
    };
    Some(TrackPoint { longitude, latitude, time })
}

#[cfg(test)]
mod tests {
    use super::read_track;

    /// Elements as GPX 1.1 (Topografix, 2004) has them.
    #[test]
    fn waypoints_and_tracks_keep_their_hours() {
        let text = r#"<gpx version="1.1" creator="unit" xmlns="http://www.topografix.com/GPX/1/1">
            <wpt lat="44.6" lon="-94.5"><time>2026-07-14T13:31:02Z</time><name>14</name></wpt>
            <trk><trkseg><trkpt lat="44.6" lon="-94.5"><time>2026-07-14T13:31:02Z</time></trkpt>
            <trkpt lat="44.601" lon="-94.5"/></trkseg><trkseg/></trk></gpx>"#;
        let log = read_track("track.gpx", text.as_bytes()).unwrap();
        assert_eq!(log.waypoints[0].0, "14");
        assert_eq!(log.parts.len(), 1);
        assert_eq!(log.parts[0][0].time.unwrap().to_string(), "2026-07-14T13:31:02Z");
        assert_eq!(log.parts[0][1].time, None);
    }

    #[test]
    fn what_is_no_track_is_told_with_its_row() {
        for (text, want) in [
            ("<gpx/>", "waypoints or a track"),
            ("<kml/>", "a GPX file"),
            (r#"<gpx><wpt lat="91" lon="0"/></gpx>"#, "a place on Earth"),
            (r#"<gpx><wpt lat="x" lon="0"/></gpx>"#, "`lat` and `lon`"),
            (r#"<gpx><wpt lat="1" lon="0"><time>noon</time></wpt></gpx>"#, "an hour"),
        ] {
            let faults = read_track("t.gpx", text.as_bytes()).unwrap_err().to_string();
            assert!(faults.contains(want), "{text}: {faults}");
        }
    }
}
