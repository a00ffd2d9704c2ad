//! How the lake is asked for in an address.

use crate::error::ApiError;
use axum::http::StatusCode;
use serde::Deserialize;
use utoipa::IntoParams;
use workflow::{LakeAsk, Metres};

/// How the lake is looked at; what is not said is as the book has it.
#[derive(Debug, Default, Deserialize, IntoParams)]
pub(crate) struct LakeWords {
    /// Level of the water above the reference, metres, negative below.
    level_m: Option<f64>,
    /// How area and volume are found: `grid`, `frustum`, `trapezoid`, `raster-cells`.
    rule: Option<String>,
    /// Shallow limit of the littoral zone, metres.
    min_depth_m: Option<f64>,
    /// Deep limit of the littoral zone, metres.
    max_depth_m: Option<f64>,
    /// Secchi depth the deep limit is reckoned from, metres.
    secchi_m: Option<f64>,
    /// Regression of plants' greatest depth on Secchi depth: `caffrey-2007`, `canfield-1985`,
    /// `chambers-kalff-1985`.
    regression: Option<String>,
    /// Zones of this year; those in use when not said.
    year: Option<i16>,
}

impl LakeWords {
    pub(crate) fn ask(self) -> Result<LakeAsk, ApiError> {
        let length = |name, value| Ok::<_, ApiError>(finite(name, value)?.map(Metres::new));
        let some = |text: Option<String>| text.filter(|text| !text.trim().is_empty());
        Ok(LakeAsk {
            level: length("level_m", self.level_m)?,
            rule: some(self.rule),
            min_depth: length("min_depth_m", self.min_depth_m)?,
            max_depth: length("max_depth_m", self.max_depth_m)?,
            secchi: length("secchi_m", self.secchi_m)?,
            regression: some(self.regression),
            year: self.year,
        })
    }
}

/// A number of the address that is one: `NaN` and `inf` can be written too.
pub(crate) fn finite(name: &str, value: Option<f64>) -> Result<Option<f64>, ApiError> {
    match value {
        Some(value) if !value.is_finite() => {
            let message = format!("`{name}` is `{value}`, which is no length");
            Err(ApiError::refuse(StatusCode::BAD_REQUEST, &message, "give metres as a number"))
        }
        value => Ok(value),
    }
}
