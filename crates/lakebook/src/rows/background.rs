//! A scanned map and where it lies.

use super::columns::{At, Json, Key};
use super::{Stored, stored};
use crate::background::{Background, PlacedPixel};
use crate::error::BookError;
use crate::gpb::AreaColumn;
use serde::{Deserialize, Serialize};
use units::LonLat;

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct PixelJson {
    name: String,
    x: f64,
    y: f64,
    longitude: f64,
    latitude: f64,
}

stored! {
    /// A picture under the lake.
    BackgroundRow = Background in "background" {
        geom: AreaColumn,
        id: Key,
        name: String,
        data_set_id: String,
        width_px: u32,
        height_px: u32,
        warp: String,
        control_points: Json<Vec<PixelJson>>,
        residual_m: f64,
        note: String,
    }
}

impl BackgroundRow {
    pub(crate) fn of(background: &Background) -> Self {
        Self {
            geom: AreaColumn(background.footprint.clone()),
            id: Key(background.id),
            name: background.name.clone(),
            data_set_id: background.data_set.clone(),
            width_px: background.width,
            height_px: background.height,
            warp: background.warp.clone(),
            control_points: Json(
                background
                    .points
                    .iter()
                    .map(|point| PixelJson {
                        name: point.name.clone(),
                        x: point.x,
                        y: point.y,
                        longitude: point.place.longitude(),
                        latitude: point.place.latitude(),
                    })
                    .collect(),
            ),
            residual_m: background.residual_m,
            note: background.note.clone(),
        }
    }

    pub(crate) fn into_background(self) -> Result<Background, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        let points = self.control_points.0.iter().map(|point| {
            let place = LonLat::new(point.longitude, point.latitude)
                .map_err(|error| at.fault("control_points", &point.name, error))?;
            Ok(PlacedPixel { name: point.name.clone(), x: point.x, y: point.y, place })
        });
        Ok(Background {
            points: points.collect::<Result<_, BookError>>()?,
            residual_m: at.metres("residual_m", self.residual_m)?.metres(),
            id: self.id.0,
            name: self.name,
            data_set: self.data_set_id,
            width: self.width_px,
            height: self.height_px,
            warp: self.warp,
            footprint: self.geom.0,
            note: self.note,
        })
    }
}
