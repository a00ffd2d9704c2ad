//! Waypoints and routes for a GPS receiver: GPX 1.1.
//!
//! Reference: GPX 1.1 schema (Topografix, 2004): positions are WGS 84, elements of a waypoint come
//! in the order name, desc, sym.

use crate::export::{check_degrees, degrees, xml};
use crate::fault::Faults;
use std::fmt::Write as _;

/// A place to go to.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Waypoint {
    /// Short name, as it shows on the receiver.
    pub name: String,
    /// Degrees east, WGS 84.
    pub longitude: f64,
    /// Degrees north, WGS 84.
    pub latitude: f64,
    /// A line about it.
    pub description: String,
    /// Name of the symbol the receiver shows; receivers know `Flag, Blue` or `Anchor`.
    pub symbol: String,
}

/// Waypoints in an order to go.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Route {
    /// Its name.
    pub name: String,
    /// Its stops.
    pub stops: Vec<Waypoint>,
}

/// A GPX file of waypoints and routes.
///
/// # Errors
/// [`Faults`] naming every place that is not on Earth.
pub fn to_gpx(name: &str, waypoints: &[Waypoint], routes: &[Route]) -> Result<String, Faults> {
    let mut faults = Faults::default();
    for place in waypoints.iter().chain(routes.iter().flat_map(|route| &route.stops)) {
        if let Err(found) = check_degrees("GPX", &place.name, place.longitude, place.latitude) {
            faults.0.extend(found.0);
        }
    }
    faults.or(())?;
    let mut out = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <gpx version=\"1.1\" creator=\"Quillwort\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n",
    );
    let _ = writeln!(out, "  <metadata><name>{}</name></metadata>", xml(name));
    for place in waypoints {
        point(&mut out, "  ", "wpt", place);
    }
    for route in routes {
        let _ = writeln!(out, "  <rte>\n    <name>{}</name>", xml(&route.name));
        for stop in &route.stops {
            point(&mut out, "    ", "rtept", stop);
        }
        out.push_str("  </rte>\n");
    }
    out.push_str("</gpx>\n");
    Ok(out)
}

fn point(out: &mut String, indent: &str, tag: &str, place: &Waypoint) {
    // the schema wants a longitude below 180
    let longitude =
        if degrees(place.longitude) < 180.0 { degrees(place.longitude) } else { -180.0 };
    let _ = write!(
        out,
        "{indent}<{tag} lat=\"{}\" lon=\"{longitude}\"><name>{}</name>",
        degrees(place.latitude),
        xml(&place.name)
    );
    if !place.description.is_empty() {
        let _ = write!(out, "<desc>{}</desc>", xml(&place.description));
    }
    if !place.symbol.is_empty() {
        let _ = write!(out, "<sym>{}</sym>", xml(&place.symbol));
    }
    let _ = writeln!(out, "</{tag}>");
}
