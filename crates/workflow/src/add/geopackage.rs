//! A layer of a GeoPackage as any other layer.

use crate::error::Result;
use exchange::{DepthField, Feature, Layer, LayerCrs, Skipped, Value};
use lakebook::foreign::{self, ForeignCrs, ForeignValue};
use std::path::Path;
use units::LengthUnit;

/// Headers of depths a table of points would be read by.
const DEPTHS: [(&str, Option<LengthUnit>, bool); 8] = [
    ("depth_m", Some(LengthUnit::Metre), false),
    ("depth_ft", Some(LengthUnit::Foot), false),
    ("depth_cm", Some(LengthUnit::Centimetre), false),
    ("depth", None, false),
    ("contour_ft", Some(LengthUnit::Foot), false),
    ("contour", None, false),
    ("z", None, true),
    ("elevation", None, true),
];

/// Reads a layer of a GeoPackage; the only one when none is named.
pub(crate) fn read(path: &Path, layer: Option<&str>) -> Result<Layer> {
    let found = foreign::read_layer(path, layer)?;
    let features: Vec<Feature> = found
        .features
        .into_iter()
        .map(|(row, geometry, values)| Feature {
            geometry,
            attributes: found.columns.iter().cloned().zip(values.into_iter().map(value)).collect(),
            row,
        })
        .collect();
    let depth = DEPTHS.iter().find_map(|(name, unit, upward)| {
        let column = found.columns.iter().find(|column| column.eq_ignore_ascii_case(name))?;
        Some(DepthField { name: column.clone(), unit: *unit, upward: *upward })
    });
    Ok(Layer {
        name: found.name,
        file: super::file_name(path),
        crs: match found.crs {
            ForeignCrs::Epsg(4326) => LayerCrs::Wgs84,
            ForeignCrs::Epsg(code) => LayerCrs::Epsg(code),
            ForeignCrs::Definition(text) => LayerCrs::Prj(text),
            ForeignCrs::Undefined => LayerCrs::Unknown,
        },
        features,
        skipped: found.skipped.into_iter().map(|(row, reason)| Skipped { row, reason }).collect(),
        depth,
        warnings: Vec::new(),
    })
}

fn value(of: ForeignValue) -> Value {
    match of {
        ForeignValue::Null => Value::Null,
        ForeignValue::Number(number) => Value::Number(number),
        ForeignValue::Text(text) => match text.parse() {
            Ok(date) if text.len() == 10 => Value::Date(date),
            _ => Value::Text(text),
        },
    }
}
