//! KML 2.2 for globes and phone maps.
//!
//! Reference: OGC 07-147r2 (2008): coordinates are longitude, latitude; shells counter-clockwise.

use crate::export::{ExportFeature, check_degrees, degrees, xml};
use crate::fault::Faults;
use crate::geojson::each_coord;
use crate::geojson_out::wound;
use geo_types::{Coord, Geometry, LineString, Polygon};
use std::fmt::Write as _;

/// A KML document with one placemark a feature.
///
/// # Errors
/// [`Faults`] naming every feature with a coordinate that is not on Earth.
pub fn to_kml(name: &str, features: &[ExportFeature]) -> Result<String, Faults> {
    let mut faults = Faults::default();
    let mut out = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <kml xmlns=\"http://www.opengis.net/kml/2.2\">\n<Document>\n",
    );
    let _ = writeln!(out, "<name>{}</name>", xml(name));
    for feature in features {
        let label = feature.name.as_deref().unwrap_or("");
        let mut wrong = Ok(());
        each_coord(&feature.geometry, &mut |c| {
            if wrong.is_ok() {
                wrong = check_degrees("KML", label, c.x, c.y);
            }
        });
        if let Err(found) = wrong {
            faults.0.extend(found.0);
            continue;
        }
        let _ = write!(out, "<Placemark><name>{}</name><ExtendedData>", xml(label));
        for (key, value) in feature.properties.iter().filter(|(_, value)| !value.is_null()) {
            let _ = write!(
                out,
                "<Data name=\"{}\"><value>{}</value></Data>",
                xml(key),
                xml(&value.to_string())
            );
        }
        out.push_str("</ExtendedData>");
        shape(&mut out, &feature.geometry);
        out.push_str("</Placemark>\n");
    }
    out.push_str("</Document>\n</kml>\n");
    faults.or(out)
}

fn coordinates<'a>(coords: impl IntoIterator<Item = &'a Coord<f64>>) -> String {
    let places: Vec<String> =
        coords.into_iter().map(|c| format!("{},{}", degrees(c.x), degrees(c.y))).collect();
    format!("<coordinates>{}</coordinates>", places.join(" "))
}

fn point(out: &mut String, c: &Coord<f64>) {
    let _ = write!(out, "<Point>{}</Point>", coordinates([c]));
}

fn line(out: &mut String, line: &LineString<f64>) {
    let _ = write!(out, "<LineString>{}</LineString>", coordinates(&line.0));
}

fn polygon(out: &mut String, polygon: &Polygon<f64>) {
    let ring = |out: &mut String, tag: &str, ring: &LineString<f64>| {
        let _ = write!(out, "<{tag}><LinearRing>{}</LinearRing></{tag}>", coordinates(&ring.0));
    };
    out.push_str("<Polygon>");
    ring(out, "outerBoundaryIs", &wound(polygon.exterior(), true));
    for hole in polygon.interiors() {
        ring(out, "innerBoundaryIs", &wound(hole, false));
    }
    out.push_str("</Polygon>");
}

fn shape(out: &mut String, geometry: &Geometry<f64>) {
    match geometry {
        Geometry::Point(one) => point(out, &one.0),
        Geometry::Line(one) => line(out, &LineString(vec![one.start, one.end])),
        Geometry::LineString(one) => line(out, one),
        Geometry::Polygon(one) => polygon(out, one),
        Geometry::Rect(rect) => polygon(out, &rect.to_polygon()),
        Geometry::Triangle(triangle) => polygon(out, &triangle.to_polygon()),
        many => {
            out.push_str("<MultiGeometry>");
            match many {
                Geometry::MultiPoint(points) => points.0.iter().for_each(|p| point(out, &p.0)),
                Geometry::MultiLineString(lines) => lines.0.iter().for_each(|l| line(out, l)),
                Geometry::MultiPolygon(parts) => parts.0.iter().for_each(|p| polygon(out, p)),
                Geometry::GeometryCollection(parts) => parts.0.iter().for_each(|p| shape(out, p)),
                _ => {}
            }
            out.push_str("</MultiGeometry>");
        }
    }
}
