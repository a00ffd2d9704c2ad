//! Layers of GeoPackages that other programs made, read and never written.
//!
//! # References
//! OGC 12-128r19 (GeoPackage 1.4): clauses 1.1.2 (reference systems), 1.1.3 (contents), 2.1
//! (features).

use crate::error::BookError;
use crate::gpb::{geometry_of, height_of};
use geo_types::Geometry;
use rusqlite::types::ValueRef;
use rusqlite::{Connection, OpenFlags};
use std::path::Path;

/// A value of an attribute.
#[derive(Debug, Clone, PartialEq)]
pub enum ForeignValue {
    /// Nothing there.
    Null,
    /// A number.
    Number(f64),
    /// Text; a date stands as it is kept, year first.
    Text(String),
}

/// What a GeoPackage says of a layer's reference system.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ForeignCrs {
    /// A code of the EPSG register.
    Epsg(u32),
    /// Well-known text alone.
    Definition(String),
    /// Undefined, by its own word.
    Undefined,
}

/// A feature: its row in the layer, its geometry, its attributes in the order of the columns.
pub type ForeignFeature = (usize, Geometry<f64>, Vec<ForeignValue>);

/// A layer of features.
#[derive(Debug, Clone, PartialEq)]
pub struct ForeignLayer {
    /// Its name.
    pub name: String,
    /// Its reference system.
    pub crs: ForeignCrs,
    /// Names of its attributes; `z` besides for the heights of its points and level lines.
    pub columns: Vec<String>,
    /// Its features, in the order of their keys.
    pub features: Vec<ForeignFeature>,
    /// Rows left out, and why.
    pub skipped: Vec<(usize, String)>,
}

/// Names of the layers of features of a GeoPackage.
///
/// # Errors
/// When it cannot be opened or is no GeoPackage.
pub fn layers(path: &Path) -> Result<Vec<String>, BookError> {
    let connection = open(path)?;
    let names = || -> rusqlite::Result<Vec<String>> {
        connection
            .prepare(
                "SELECT g.table_name FROM gpkg_geometry_columns AS g JOIN gpkg_contents AS c \
                 ON c.table_name = g.table_name WHERE c.data_type = 'features' \
                 ORDER BY g.table_name",
            )?
            .query_map([], |row| row.get(0))?
            .collect()
    };
    names().map_err(|error| damaged(path, &error))
}

fn open(path: &Path) -> Result<Connection, BookError> {
    Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY)
        .map_err(|error| damaged(path, &error))
}

fn damaged(path: &Path, error: &rusqlite::Error) -> BookError {
    BookError::refused(
        format!("`{}` cannot be read as a GeoPackage: {error}", path.display()),
        "open it in a general GIS program and save the layer again, or save it as GeoJSON",
    )
}

/// Reads a layer; the only one when none is named.
///
/// # Errors
/// [`BookError::Refused`] with the names there are.
pub fn read_layer(path: &Path, wanted: Option<&str>) -> Result<ForeignLayer, BookError> {
    let known = layers(path)?;
    let list = || known.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ");
    let file = path.display();
    let name = match wanted {
        Some(wanted) => {
            known.iter().find(|name| name.eq_ignore_ascii_case(wanted)).ok_or_else(|| {
                BookError::refused(
                    format!("`{file}` has no layer `{wanted}`"),
                    format!("choose one with `--layer`: {}", list()),
                )
            })?
        }
        None if known.len() == 1 => &known[0],
        None if known.is_empty() => {
            return Err(BookError::refused(
                format!("`{file}` has no layer with a geometry"),
                "save the layer anew in a general GIS program",
            ));
        }
        None => {
            return Err(BookError::refused(
                format!("`{file}` has {} layers", known.len()),
                format!("choose one with `--layer`: {}", list()),
            ));
        }
    };
    let connection = open(path)?;
    read(&connection, name).map_err(|error| damaged(path, &error))
}

/// A name as SQL takes it, whatever is in it.
fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}

fn read(connection: &Connection, name: &str) -> rusqlite::Result<ForeignLayer> {
    let (geometry, srs): (String, i64) = connection.query_row(
        "SELECT column_name, srs_id FROM gpkg_geometry_columns WHERE table_name = ?1",
        [name],
        |row| Ok((row.get(0)?, row.get(1)?)),
    )?;
    let crs = connection.query_row(
        "SELECT organization, organization_coordsys_id, definition FROM gpkg_spatial_ref_sys \
         WHERE srs_id = ?1",
        [srs],
        |row| {
            let (organization, code): (String, i64) = (row.get(0)?, row.get(1)?);
            let definition: String = row.get(2)?;
            Ok(match u32::try_from(code) {
                Ok(code) if organization.eq_ignore_ascii_case("EPSG") => ForeignCrs::Epsg(code),
                _ if definition.trim().is_empty() || definition == "undefined" => {
                    ForeignCrs::Undefined
                }
                _ => ForeignCrs::Definition(definition),
            })
        },
    )?;
    let mut statement = connection.prepare(&format!("SELECT * FROM {}", quoted(name)))?;
    let all: Vec<String> = statement.column_names().map(str::to_owned).collect();
    let at = all.iter().position(|column| column.eq_ignore_ascii_case(&geometry)).unwrap_or(0);
    let mut layer = ForeignLayer {
        name: name.to_owned(),
        crs,
        columns: all.iter().enumerate().filter(|(i, _)| *i != at).map(|(_, c)| c.clone()).collect(),
        features: Vec::new(),
        skipped: Vec::new(),
    };
    let mut rows = statement.query([])?;
    let mut number = 0;
    let mut heights = Vec::new();
    while let Some(row) = rows.next()? {
        number += 1;
        let shape = match row.get_ref(at)? {
            ValueRef::Blob(blob) => geometry_of(blob).map_err(|error| error.to_string()),
            _ => Err("no geometry".to_owned()),
        };
        match shape {
            Ok(shape) => {
                let values = (0..all.len()).filter(|index| *index != at);
                let values = values.map(|index| row.get_ref(index).map(value));
                layer.features.push((number, shape, values.collect::<Result<_, _>>()?));
                heights.push(row.get_ref(at)?.as_blob().ok().and_then(height_of));
            }
            Err(why) => layer.skipped.push((number, why)),
        }
    }
    let named = layer.columns.iter().any(|column| column.eq_ignore_ascii_case("z"));
    if !named && heights.iter().any(Option::is_some) {
        layer.columns.push("z".to_owned());
        for ((_, _, values), height) in layer.features.iter_mut().zip(heights) {
            values.push(height.map_or(ForeignValue::Null, ForeignValue::Number));
        }
    }
    Ok(layer)
}

fn value(of: ValueRef<'_>) -> ForeignValue {
    match of {
        ValueRef::Integer(number) => ForeignValue::Number(number as f64),
        ValueRef::Real(number) if number.is_finite() => ForeignValue::Number(number),
        ValueRef::Null | ValueRef::Real(_) => ForeignValue::Null,
        ValueRef::Text(text) => ForeignValue::Text(String::from_utf8_lossy(text).into_owned()),
        ValueRef::Blob(blob) => ForeignValue::Text(format!("{} bytes", blob.len())),
    }
}
