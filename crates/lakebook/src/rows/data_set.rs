//! Immutable data sets: what the log knows of them, and their layers for a GIS.

use super::{Nested, Stored, stored};
use crate::data_set::{DataSetContent, DataSetInfo, DataSetKind, LARGEST_LAYER, decode};
use crate::error::BookError;
use crate::gpb::{geometry_blob, point_blob};
use rusqlite::{Connection, OptionalExtension, params};

stored! {
    /// A data set without its content.
    DataSetRow = DataSet in "data_set" {
        id: String,
        kind: String,
        source_file: String,
        unit: String,
        crs: String,
        count: i64,
        note: String,
        created_at: String,
    } nested {}
}

impl Nested for DataSetRow {
    /// Fills the layer from the content, which lies beside the log under the same SHA-256.
    fn write_nested(&self, connection: &Connection) -> rusqlite::Result<()> {
        let layer = match self.kind.as_str() {
            "soundings" => "sounding",
            "contours" => "depth_contour",
            _ => return Ok(()),
        };
        connection.execute(&format!("DELETE FROM {layer} WHERE data_set_id = ?1"), [&self.id])?;
        let content: Option<Vec<u8>> = connection
            .query_row("SELECT content FROM data_set_content WHERE id = ?1", [&self.id], |row| {
                row.get(0)
            })
            .optional()?;
        let Some(content) = content else { return Ok(()) };
        let failed = |error: BookError| rusqlite::Error::ToSqlConversionFailure(Box::new(error));
        let Some(kind) = DataSetKind::from_key(&self.kind) else { return Ok(()) };
        let mut insert = connection.prepare_cached(&format!(
            "INSERT INTO {layer} (geom, data_set_id, depth_m) VALUES (?1, ?2, ?3)"
        ))?;
        match decode(&self.id, kind, content).map_err(failed)? {
            DataSetContent::Soundings(points) if points.len() <= LARGEST_LAYER => {
                for (longitude, latitude, depth) in points {
                    insert.execute(params![point_blob(longitude, latitude), self.id, depth])?;
                }
            }
            DataSetContent::Contours(contours) => {
                for (geometry, depth) in contours {
                    insert.execute(params![geometry_blob(&geometry)?, self.id, depth])?;
                }
            }
            DataSetContent::Soundings(_) | DataSetContent::Raster(_) => {}
        }
        Ok(())
    }
}

impl DataSetRow {
    pub(crate) fn into_info(self) -> Result<DataSetInfo, BookError> {
        let kind = DataSetKind::from_key(&self.kind).ok_or_else(|| BookError::Row {
            table: Self::TABLE,
            id: self.id.clone(),
            field: "kind",
            found: self.kind.clone(),
            expected: "soundings, contours or raster".to_owned(),
        })?;
        Ok(DataSetInfo {
            sha256: self.id,
            kind,
            name: self.source_file,
            unit: self.unit,
            crs: self.crs,
            count: self.count as usize,
            note: self.note,
            created_at: self.created_at,
        })
    }
}
