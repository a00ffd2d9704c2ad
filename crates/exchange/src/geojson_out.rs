//! GeoJSON after RFC 7946: WGS 84, longitude first, shells counter-clockwise, holes clockwise,
//! seven decimals, no `crs` member.

use crate::export::{ExportFeature, check_degrees, degrees};
use crate::fault::Faults;
use crate::geojson::each_coord;
use crate::layer::Value;
use crate::rings::doubled_area;
use geo_types::{Coord, Geometry, LineString, Polygon};
use std::fmt::Write as _;

/// A FeatureCollection; `name` is a foreign member that general GIS programs show as the layer.
///
/// # Errors
/// [`Faults`] naming every feature with a coordinate that is not on Earth.
pub fn to_geojson(name: &str, features: &[ExportFeature]) -> Result<String, Faults> {
    let mut faults = Faults::default();
    for feature in features {
        let mut wrong = Ok(());
        each_coord(&feature.geometry, &mut |c| {
            if wrong.is_ok() {
                wrong = check_degrees("GeoJSON", feature.name.as_deref().unwrap_or(""), c.x, c.y);
            }
        });
        if let Err(found) = wrong {
            faults.0.extend(found.0);
        }
    }
    faults.or(())?;
    let mut out =
        format!("{{\"type\":\"FeatureCollection\",\"name\":{},\"features\":[", text(name));
    for (index, feature) in features.iter().enumerate() {
        out.push_str(if index == 0 { "\n" } else { ",\n" });
        out.push_str("{\"type\":\"Feature\",\"properties\":{");
        for (place, (key, value)) in feature.properties.iter().enumerate() {
            let comma = if place == 0 { "" } else { "," };
            let _ = write!(out, "{comma}{}:{}", text(key), json(value));
        }
        out.push_str("},\"geometry\":");
        shape(&mut out, &feature.geometry);
        out.push('}');
    }
    out.push_str("\n]}\n");
    Ok(out)
}

fn text(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

fn json(value: &Value) -> String {
    match value {
        Value::Bool(value) => value.to_string(),
        Value::Number(value) if value.is_finite() => value.to_string(),
        Value::Null | Value::Number(_) => "null".to_owned(),
        Value::Text(value) => text(value),
        Value::Date(date) => text(&date.to_string()),
    }
}

fn position(c: Coord<f64>) -> String {
    format!("[{},{}]", degrees(c.x), degrees(c.y))
}

fn list<T>(items: impl IntoIterator<Item = T>, write: impl Fn(T) -> String) -> String {
    let items: Vec<String> = items.into_iter().map(write).collect();
    format!("[{}]", items.join(","))
}

fn line(line: &LineString<f64>) -> String {
    list(&line.0, |c| position(*c))
}

fn polygon(polygon: &Polygon<f64>) -> String {
    let rings = std::iter::once((polygon.exterior(), true))
        .chain(polygon.interiors().iter().map(|ring| (ring, false)));
    list(rings, |(ring, shell)| line(&wound(ring, shell)))
}

/// The ring counter-clockwise, or clockwise.
pub(crate) fn wound(ring: &LineString<f64>, counter_clockwise: bool) -> LineString<f64> {
    let mut ring = ring.clone();
    if (doubled_area(&ring.0) < 0.0) == counter_clockwise {
        ring.0.reverse();
    }
    ring
}

fn shape(out: &mut String, geometry: &Geometry<f64>) {
    let (kind, coordinates) = match geometry {
        Geometry::Point(point) => ("Point", position(point.0)),
        Geometry::MultiPoint(points) => ("MultiPoint", list(&points.0, |p| position(p.0))),
        Geometry::Line(one) => ("LineString", list([one.start, one.end], position)),
        Geometry::LineString(one) => ("LineString", line(one)),
        Geometry::MultiLineString(lines) => ("MultiLineString", list(&lines.0, line)),
        Geometry::Polygon(one) => ("Polygon", polygon(one)),
        Geometry::MultiPolygon(polygons) => ("MultiPolygon", list(&polygons.0, polygon)),
        Geometry::Rect(rect) => ("Polygon", polygon(&rect.to_polygon())),
        Geometry::Triangle(triangle) => ("Polygon", polygon(&triangle.to_polygon())),
        Geometry::GeometryCollection(shapes) => {
            out.push_str("{\"type\":\"GeometryCollection\",\"geometries\":[");
            for (index, part) in shapes.0.iter().enumerate() {
                if index > 0 {
                    out.push(',');
                }
                shape(out, part);
            }
            out.push_str("]}");
            return;
        }
    };
    let _ = write!(out, "{{\"type\":\"{kind}\",\"coordinates\":{coordinates}}}");
}
