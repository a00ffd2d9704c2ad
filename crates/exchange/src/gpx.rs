//! GPX 1.0 and 1.1: waypoints, routes and tracks.
//!
//! Waypoints become points, routes and tracks lines. Where the points of a track carry a depth, as
//! sounders write it into extensions, each of them becomes a point too.

use crate::fault::{Fault, Faults};
use crate::layer::{
    DepthField, Feature, Layer, LayerCrs, ReadOptions, Skipped, Value, degrees_fault, stem,
};
use crate::text::parse_number;
use crate::xml::{self, Node};
use geo_types::{Coord, Geometry, LineString, MultiLineString, Point};
use units::LengthUnit;

/// Reads every waypoint, route and track of the file.
pub(crate) fn read(file: &str, bytes: &[u8], options: &ReadOptions) -> Result<Layer, Faults> {
    let root = xml::parse(file, bytes)?;
    if root.name != "gpx" {
        return Err(Fault::file(file, "a GPX file, with the element `gpx` outside")
            .found(root.name)
            .into());
    }
    let name = root
        .child("metadata")
        .and_then(|metadata| metadata.child("name"))
        .or_else(|| root.child("name"))
        .map(Node::text)
        .filter(|name| !name.is_empty());
    let mut reader = Reader {
        file,
        row: 0,
        features: Vec::new(),
        skipped: Vec::new(),
        faults: Faults::default(),
        unjudged: options.unjudged,
    };
    for node in &root.children {
        reader.read(node);
    }
    let Reader { features, skipped, faults, .. } = reader;
    let depth = features.iter().any(|feature| feature.attribute("depth").is_some());
    faults.or(Layer {
        name: name.map_or_else(|| stem(file), str::to_owned),
        file: file.to_owned(),
        crs: options.crs.clone().unwrap_or(LayerCrs::Wgs84),
        features,
        skipped,
        depth: depth.then(|| DepthField {
            name: "depth".to_owned(),
            unit: Some(LengthUnit::Metre),
            upward: false,
        }),
        warnings: Vec::new(),
    })
}

struct Reader<'a> {
    file: &'a str,
    row: usize,
    features: Vec<Feature>,
    skipped: Vec<Skipped>,
    faults: Faults,
    unjudged: bool,
}

impl Reader<'_> {
    fn read(&mut self, node: &Node) {
        match node.name.as_str() {
            "wpt" => {
                self.row += 1;
                if let Some(c) = self.place(node) {
                    let attributes = attributes(node);
                    self.features.push(Feature {
                        geometry: Point(c).into(),
                        attributes,
                        row: self.row,
                    });
                }
            }
            "rte" => {
                self.row += 1;
                let line = self.line(node.all("rtept"));
                self.lines(node, vec![line]);
            }
            "trk" => {
                self.row += 1;
                let lines = node.all("trkseg").map(|part| self.line(part.all("trkpt"))).collect();
                self.lines(node, lines);
                for part in node.all("trkseg").flat_map(|part| part.all("trkpt")) {
                    let attributes = attributes(part);
                    let sounding = attributes.iter().any(|(key, _)| key == "depth");
                    // a place that is not on Earth was told with the line
                    if let (true, Some((x, y))) = (sounding, degrees(part)) {
                        let geometry = Point::new(x, y).into();
                        self.features.push(Feature { geometry, attributes, row: self.row });
                    }
                }
            }
            _ => {}
        }
    }

    fn line<'n>(&mut self, points: impl Iterator<Item = &'n Node>) -> LineString<f64> {
        points.filter_map(|point| self.place(point)).collect()
    }

    fn lines(&mut self, node: &Node, lines: Vec<LineString<f64>>) {
        let mut lines: Vec<_> = lines.into_iter().filter(|line| line.0.len() > 1).collect();
        let geometry: Geometry<f64> = match lines.len() {
            0 => {
                let reason = "it has fewer than two points".to_owned();
                self.skipped.push(Skipped { row: self.row, reason });
                return;
            }
            1 => lines.remove(0).into(),
            _ => MultiLineString(lines).into(),
        };
        self.features.push(Feature { geometry, attributes: attributes(node), row: self.row });
    }

    fn place(&mut self, node: &Node) -> Option<Coord<f64>> {
        let shown = |name: &str| node.attribute(name).unwrap_or("nothing").to_owned();
        let found = format!("lat {}, lon {}", shown("lat"), shown("lon"));
        let fault = match degrees(node) {
            None => Fault::file(self.file, "`lat` and `lon` in degrees"),
            Some((x, y)) if self.unjudged => return Some(Coord { x, y }),
            Some((x, y)) => match degrees_fault(x, y) {
                None => return Some(Coord { x, y }),
                Some((expected, hint)) => Fault::file(self.file, expected).hint(hint),
            },
        };
        self.faults.push(fault.at(self.row).field(node.name.as_str()).found(found));
        None
    }
}

fn degrees(node: &Node) -> Option<(f64, f64)> {
    let number = |name: &str| node.attribute(name).and_then(|text| parse_number(text, false));
    number("lon").zip(number("lat"))
}

/// Plain elements inside, and the depth from wherever in the extensions it stands.
fn attributes(node: &Node) -> Vec<(String, Value)> {
    let value = |text: &str| match parse_number(text, false) {
        Some(number) => Value::Number(number),
        None => Value::Text(text.to_owned()),
    };
    let mut attributes: Vec<(String, Value)> = Vec::new();
    let plain = node.children.iter().filter(|child| {
        !matches!(child.name.as_str(), "extensions" | "trkseg" | "trkpt" | "rtept" | "link")
    });
    for child in plain.filter(|child| child.children.is_empty() && !child.text().is_empty()) {
        // a name is a label even when it is a number
        let read = match child.name.as_str() {
            "ele" | "hdop" | "vdop" | "pdop" | "sat" | "magvar" | "geoidheight" => {
                value(child.text())
            }
            _ => Value::Text(child.text().to_owned()),
        };
        attributes.push((child.name.clone(), read));
    }
    for extension in node.all("extensions").flat_map(Node::descendants) {
        let key = extension.name.to_lowercase();
        let known = attributes.iter().any(|(name, _)| *name == key);
        if extension.children.is_empty() && !extension.text().is_empty() && !known {
            attributes.push((key, value(extension.text())));
        }
    }
    attributes
}
