//! KML 2.x placemarks: points, lines, polygons and mixtures.
//!
//! Reference: OGC 07-147r2 (2008). Coordinates are longitude, latitude and perhaps altitude.

use crate::fault::{Fault, Faults};
use crate::layer::{Feature, Layer, LayerCrs, ReadOptions, Skipped, Value, degrees_fault, stem};
use crate::text::parse_number;
use crate::xml::{self, Node};
use geo_types::{
    Coord, Geometry, GeometryCollection, LineString, MultiLineString, MultiPoint, MultiPolygon,
    Point, Polygon,
};

/// Reads every placemark of the file, whatever folder it is in.
pub(crate) fn read(file: &str, bytes: &[u8], options: &ReadOptions) -> Result<Layer, Faults> {
    let root = xml::parse(file, bytes)?;
    let everything = root.descendants();
    let name = everything
        .iter()
        .find(|node| node.name == "Document")
        .and_then(|document| document.child("name"))
        .map(|name| name.text().to_owned())
        .filter(|name| !name.is_empty());
    let mut layer = Layer {
        name: name.unwrap_or_else(|| stem(file)),
        file: file.to_owned(),
        crs: options.crs.clone().unwrap_or(LayerCrs::Wgs84),
        features: Vec::new(),
        skipped: Vec::new(),
        depth: None,
        warnings: Vec::new(),
    };
    if everything.iter().any(|node| node.name == "NetworkLink") {
        layer.warnings.push("links to other places in the file are not followed".to_owned());
    }
    let mut faults = Faults::default();
    for (index, placemark) in everything.iter().filter(|node| node.name == "Placemark").enumerate()
    {
        let row = index + 1;
        let mut shapes = Vec::new();
        let read = placemark
            .children
            .iter()
            .try_for_each(|node| shape(node, options.unjudged, &mut shapes));
        match read {
            Err(wrong) => {
                let (expected, found, hint) = *wrong;
                let mut fault =
                    Fault::file(file, expected).at(row).field("coordinates").found(found);
                fault.hint = hint.map(str::to_owned);
                faults.push(fault);
            }
            Ok(()) => match together(shapes) {
                Some(geometry) => {
                    let mut attributes = attributes(placemark);
                    if let Some(z) = height(placemark)
                        && !attributes.iter().any(|(name, _)| name.eq_ignore_ascii_case("z"))
                    {
                        attributes.push(("z".to_owned(), Value::Number(z)));
                    }
                    layer.features.push(Feature { geometry, attributes, row });
                }
                None => {
                    layer.skipped.push(Skipped { row, reason: "it has no geometry".to_owned() });
                }
            },
        }
    }
    faults.or(layer)
}

/// Expected, found, hint.
type Wrong = Box<(&'static str, String, Option<&'static str>)>;

/// Adds the shape of an element, if it is one.
fn shape(node: &Node, unjudged: bool, shapes: &mut Vec<Geometry<f64>>) -> Result<(), Wrong> {
    match node.name.as_str() {
        "Point" => {
            if let Some(c) = coordinates(node, unjudged)?.first() {
                shapes.push(Point(*c).into());
            }
        }
        "LineString" | "LinearRing" => {
            let line = coordinates(node, unjudged)?;
            if line.len() > 1 {
                shapes.push(LineString(line).into());
            }
        }
        "Polygon" => {
            let rings = |name: &'static str| node.all(name).flat_map(|edge| edge.all("LinearRing"));
            let Some(shell) = rings("outerBoundaryIs").next() else { return Ok(()) };
            let holes: Vec<_> = rings("innerBoundaryIs")
                .map(|node| ring(node, unjudged))
                .collect::<Result<_, _>>()?;
            shapes.push(Polygon::new(ring(shell, unjudged)?, holes).into());
        }
        "MultiGeometry" => {
            node.children.iter().try_for_each(|part| shape(part, unjudged, shapes))?;
        }
        _ => {}
    }
    Ok(())
}

/// The height all places of a placemark share, when it is not nil.
fn height(placemark: &Node) -> Option<f64> {
    let all = placemark.descendants();
    let mut heights = all
        .iter()
        .filter(|node| node.name == "coordinates")
        .flat_map(|node| node.text().split_whitespace())
        .map(|place| place.split(',').nth(2).and_then(|z| parse_number(z, false)));
    let first = heights.next()??;
    let same = |z: Option<f64>| z.is_some_and(|z| (z - first).abs() < 1e-9);
    (first.abs() > 0.0 && heights.all(same)).then_some(first)
}

fn ring(node: &Node, unjudged: bool) -> Result<LineString<f64>, Wrong> {
    let ring = coordinates(node, unjudged)?;
    if ring.len() < 4 {
        let expected = "a ring of at least four positions, the last like the first";
        return Err(Box::new((expected, format!("{} positions", ring.len()), None)));
    }
    Ok(LineString(ring))
}

fn coordinates(node: &Node, unjudged: bool) -> Result<Vec<Coord<f64>>, Wrong> {
    let Some(list) = node.child("coordinates") else { return Ok(Vec::new()) };
    list.text()
        .split_whitespace()
        .map(|place| {
            let mut numbers = place.split(',').map(|part| parse_number(part, false));
            let (Some(Some(x)), Some(Some(y))) = (numbers.next(), numbers.next()) else {
                let expected = "places such as `-89.4,43.1`, with spaces between them";
                return Err(Box::new((expected, place.to_owned(), None)) as Wrong);
            };
            match degrees_fault(x, y).filter(|_| !unjudged) {
                Some((expected, hint)) => {
                    Err(Box::new((expected, place.to_owned(), Some(hint))) as Wrong)
                }
                None => Ok(Coord { x, y }),
            }
        })
        .collect()
}

/// One geometry out of several: of one kind where they are of one kind.
fn together(mut shapes: Vec<Geometry<f64>>) -> Option<Geometry<f64>> {
    if shapes.len() < 2 {
        return shapes.pop();
    }
    let points = shapes.iter().map(|s| Point::try_from(s.clone()).ok()).collect::<Option<Vec<_>>>();
    if let Some(points) = points {
        return Some(MultiPoint(points).into());
    }
    let lines =
        shapes.iter().map(|s| LineString::try_from(s.clone()).ok()).collect::<Option<Vec<_>>>();
    if let Some(lines) = lines {
        return Some(MultiLineString(lines).into());
    }
    let polygons =
        shapes.iter().map(|s| Polygon::try_from(s.clone()).ok()).collect::<Option<Vec<_>>>();
    match polygons {
        Some(polygons) => Some(MultiPolygon(polygons).into()),
        None => Some(Geometry::GeometryCollection(GeometryCollection(shapes))),
    }
}

fn attributes(placemark: &Node) -> Vec<(String, Value)> {
    let text = |node: &Node| Value::Text(node.text().to_owned());
    let mut attributes: Vec<(String, Value)> = ["name", "description"]
        .iter()
        .filter_map(|key| Some(((*key).to_owned(), text(placemark.child(key)?))))
        .collect();
    for node in placemark.all("ExtendedData").flat_map(Node::descendants) {
        let value = match node.name.as_str() {
            "Data" => node.child("value"),
            "SimpleData" => Some(node),
            _ => None,
        };
        if let (Some(key), Some(value)) = (node.attribute("name"), value) {
            let value = match parse_number(value.text(), false) {
                Some(number) => Value::Number(number),
                None => text(value),
            };
            attributes.push((key.to_owned(), value));
        }
    }
    attributes
}
