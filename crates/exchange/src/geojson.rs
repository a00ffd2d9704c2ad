//! GeoJSON (RFC 7946), and what was called GeoJSON before it.

use crate::fault::{Fault, Faults};
use crate::layer::{Feature, Layer, LayerCrs, ReadOptions, Skipped, Value, degrees_fault, stem};
use crate::text::decode;
use geo_types::{Coord, Geometry};
use serde_json::{Map, Value as Json};

const EXPECTED: &str = "GeoJSON: a FeatureCollection, a Feature or a geometry";

/// Reads a Feature, a FeatureCollection or a bare geometry.
pub(crate) fn read(file: &str, bytes: &[u8], options: &ReadOptions) -> Result<Layer, Faults> {
    let decoded = decode(bytes);
    let root: Json = serde_json::from_str(&decoded.text).map_err(|e| broken(file, &e))?;
    let Json::Object(mut root) = root else {
        return Err(Fault::file(file, EXPECTED).found("a JSON list").into());
    };
    let kind = root.get("type").and_then(Json::as_str).unwrap_or_default().to_owned();
    let name = root.get("name").and_then(Json::as_str).map_or_else(|| stem(file), str::to_owned);
    let mut warnings = decoded.warnings;
    let crs = options.crs.clone().unwrap_or_else(|| stated_crs(&root, &mut warnings));
    let features = match kind.as_str() {
        "FeatureCollection" => match root.get_mut("features").map(Json::take) {
            Some(Json::Array(features)) => features,
            _ => {
                return Err(Fault::file(file, "a list of features").field("features").into());
            }
        },
        "Feature" => vec![Json::Object(root)],
        "Point" | "MultiPoint" | "LineString" | "MultiLineString" | "Polygon" | "MultiPolygon"
        | "GeometryCollection" => {
            let mut feature = Map::new();
            feature.insert("geometry".to_owned(), Json::Object(root));
            vec![Json::Object(feature)]
        }
        "Topology" => {
            return Err(Fault::file(file, EXPECTED)
                .found("TopoJSON")
                .hint("open it in a general GIS program and save it as GeoJSON")
                .into());
        }
        _ => {
            let found = if kind.is_empty() { "JSON without a `type`" } else { kind.as_str() };
            return Err(Fault::file(file, EXPECTED).field("type").found(found).into());
        }
    };

    let mut reader = Reader {
        file,
        check_degrees: !options.unjudged && options.crs.is_none() && crs == LayerCrs::Wgs84,
        features: Vec::with_capacity(features.len()),
        skipped: Vec::new(),
        faults: Faults::default(),
    };
    for (index, feature) in features.into_iter().enumerate() {
        reader.feature(index + 1, feature);
    }
    let Reader { features, skipped, faults, .. } = reader;
    faults.or(Layer { name, file: file.to_owned(), crs, features, skipped, depth: None, warnings })
}

fn broken(file: &str, error: &serde_json::Error) -> Faults {
    let fault = Fault::file(file, "valid JSON").at(error.line());
    if error.is_eof() {
        fault.found("the end of the file").hint(
            "the file breaks off in the middle: it may not have finished downloading or saving",
        )
    } else {
        let text = error.to_string();
        let what = text.split(" at line ").next().unwrap_or_default().to_owned();
        fault
            .found(format!("{what} at character {}", error.column()))
            .hint("the row is the line of the file: save it again from the program it came from")
    }
    .into()
}

/// The `crs` member that GeoJSON had before 2016; without it the file is in WGS 84.
fn stated_crs(root: &Map<String, Json>, warnings: &mut Vec<String>) -> LayerCrs {
    let Some(crs) = root.get("crs").filter(|crs| !crs.is_null()) else {
        return LayerCrs::Wgs84;
    };
    let properties = &crs["properties"];
    let text = match (properties["name"].as_str(), &properties["code"]) {
        (Some(name), _) => name.to_owned(),
        (None, Json::Number(code)) => format!("EPSG:{code}"),
        (None, _) => crs.to_string(),
    };
    let upper = text.to_ascii_uppercase();
    if upper.contains("CRS84") || upper.contains("WGS 84") && !upper.contains("UTM") {
        return LayerCrs::Wgs84;
    }
    let code = upper.contains("EPSG").then(|| upper.rsplit(':').next()).flatten();
    match code.and_then(|code| code.trim().parse::<u32>().ok()) {
        // by the letter of EPSG:4326 latitude comes first, in GeoJSON files it never does
        Some(4326 | 4979) => LayerCrs::Wgs84,
        Some(code) => LayerCrs::Epsg(code),
        None => {
            warnings.push(format!("the file names a reference system `{text}` that is not known"));
            LayerCrs::Unknown
        }
    }
}

struct Reader<'a> {
    file: &'a str,
    check_degrees: bool,
    features: Vec<Feature>,
    skipped: Vec<Skipped>,
    faults: Faults,
}

impl Reader<'_> {
    fn fault(&self, row: usize, expected: impl Into<String>) -> Fault {
        Fault::file(self.file, expected).at(row).field("geometry")
    }

    fn skip(&mut self, row: usize, reason: &str) {
        self.skipped.push(Skipped { row, reason: reason.to_owned() });
    }

    fn feature(&mut self, row: usize, feature: Json) {
        let Json::Object(mut feature) = feature else {
            self.faults
                .push(Fault::file(self.file, "a feature").at(row).found(feature.to_string()));
            return;
        };
        let attributes = attributes(&mut feature);
        let shape = match feature.remove("geometry") {
            None | Some(Json::Null) => return self.skip(row, "it has no geometry"),
            Some(shape) => shape,
        };
        if is_hollow(&shape) {
            return self.skip(row, "its geometry is empty");
        }
        if let Err((found, expected)) = check_positions(&shape) {
            self.faults.push(self.fault(row, expected).found(found));
            return;
        }
        let height = point_height(&shape);
        let geometry = serde_json::from_value::<::geojson::Geometry>(shape)
            .map_err(|error| error.to_string())
            .and_then(|shape| Geometry::<f64>::try_from(shape).map_err(|error| error.to_string()));
        let geometry = match geometry {
            Ok(geometry) => geometry,
            Err(error) => {
                let fault = self.fault(row, "a GeoJSON geometry").found(error);
                self.faults.push(fault);
                return;
            }
        };
        if self.check_degrees {
            let mut worst = None;
            each_coord(&geometry, &mut |c| {
                if worst.is_none() {
                    worst = degrees_fault(c.x, c.y).map(|fault| (c, fault));
                }
            });
            if let Some((c, (expected, hint))) = worst {
                let fault = self.fault(row, expected).found(format!("{}, {}", c.x, c.y)).hint(hint);
                self.faults.push(fault);
                return;
            }
        }
        let mut feature = Feature { geometry, attributes, row };
        if let Some(z) = height
            && feature.attribute("z").is_none()
        {
            feature.attributes.push(("z".to_owned(), Value::Number(z)));
        }
        self.features.push(feature);
    }
}

fn attributes(feature: &mut Map<String, Json>) -> Vec<(String, Value)> {
    let mut attributes = Vec::new();
    if let Some(Json::Object(properties)) = feature.remove("properties") {
        attributes.extend(properties.into_iter().map(|(key, value)| (key, neutral(value))));
    }
    if let Some(id) = feature.remove("id")
        && !attributes.iter().any(|(key, _)| key.eq_ignore_ascii_case("id"))
    {
        attributes.push(("id".to_owned(), neutral(id)));
    }
    attributes
}

fn neutral(value: Json) -> Value {
    match value {
        Json::Null => Value::Null,
        Json::Bool(value) => Value::Bool(value),
        Json::Number(number) => number.as_f64().map_or(Value::Null, Value::Number),
        Json::String(text) => Value::Text(text),
        nested @ (Json::Array(_) | Json::Object(_)) => Value::Text(nested.to_string()),
    }
}

/// A shape with no coordinates at all.
fn is_hollow(shape: &Json) -> bool {
    fn hollow(list: &Json) -> bool {
        list.as_array().is_some_and(|list| list.iter().all(hollow))
    }
    match (shape.get("coordinates"), shape.get("geometries")) {
        (Some(coordinates), _) => hollow(coordinates),
        (None, Some(Json::Array(shapes))) => shapes.iter().all(is_hollow),
        _ => false,
    }
}

/// Positions must be two or more finite numbers, lines two or more positions, rings four or more.
fn check_positions(shape: &Json) -> Result<(), (String, &'static str)> {
    let kind = shape.get("type").and_then(Json::as_str).unwrap_or_default();
    if let Some(shapes) = shape.get("geometries").and_then(Json::as_array) {
        return shapes.iter().try_for_each(check_positions);
    }
    let nesting = match kind {
        "Point" => 0,
        "MultiPoint" | "LineString" => 1,
        "MultiLineString" | "Polygon" => 2,
        "MultiPolygon" => 3,
        _ => return Err((kind.to_owned(), "a type of geometry that GeoJSON has")),
    };
    let least = match kind {
        "LineString" | "MultiLineString" => 2,
        "Polygon" | "MultiPolygon" => 4,
        _ => 0,
    };
    let Some(coordinates) = shape.get("coordinates") else {
        return Err(("no coordinates".to_owned(), "a geometry with coordinates"));
    };
    check_nested(coordinates, nesting, least)
}

fn check_nested(list: &Json, nesting: usize, least: usize) -> Result<(), (String, &'static str)> {
    let short = |list: &Json| list.to_string().chars().take(60).collect::<String>();
    let Some(items) = list.as_array() else {
        return Err((short(list), "a list of coordinates"));
    };
    if nesting == 0 {
        let sound = items.len() >= 2
            && items.iter().take(3).all(|n| n.as_f64().is_some_and(f64::is_finite));
        return if sound {
            Ok(())
        } else {
            Err((short(list), "a position such as `[-89.4, 43.1]`"))
        };
    }
    if nesting == 1 && items.len() < least {
        let expected = if least == 4 {
            "a ring of at least four positions, the last like the first"
        } else {
            "a line of at least two positions"
        };
        return Err((short(list), expected));
    }
    items.iter().try_for_each(|item| check_nested(item, nesting - 1, least))
}

/// The third number of a point.
fn point_height(shape: &Json) -> Option<f64> {
    (shape["type"] == "Point").then(|| shape["coordinates"][2].as_f64()).flatten()
}

/// Visits every coordinate.
pub(crate) fn each_coord(geometry: &Geometry<f64>, visit: &mut impl FnMut(Coord<f64>)) {
    match geometry {
        Geometry::Point(point) => visit(point.0),
        Geometry::MultiPoint(points) => points.0.iter().for_each(|point| visit(point.0)),
        Geometry::Line(line) => {
            visit(line.start);
            visit(line.end);
        }
        Geometry::LineString(line) => line.0.iter().for_each(|&c| visit(c)),
        Geometry::MultiLineString(lines) => {
            lines.0.iter().flat_map(|line| &line.0).for_each(|&c| visit(c));
        }
        Geometry::Polygon(polygon) => each_polygon_coord(polygon, visit),
        Geometry::MultiPolygon(polygons) => {
            polygons.0.iter().for_each(|polygon| each_polygon_coord(polygon, visit));
        }
        Geometry::GeometryCollection(shapes) => {
            shapes.0.iter().for_each(|shape| each_coord(shape, visit));
        }
        Geometry::Rect(rect) => {
            visit(rect.min());
            visit(rect.max());
        }
        Geometry::Triangle(triangle) => triangle.to_array().into_iter().for_each(visit),
    }
}

fn each_polygon_coord(polygon: &geo_types::Polygon<f64>, visit: &mut impl FnMut(Coord<f64>)) {
    polygon.exterior().0.iter().for_each(|&c| visit(c));
    polygon.interiors().iter().flat_map(|ring| &ring.0).for_each(|&c| visit(c));
}
