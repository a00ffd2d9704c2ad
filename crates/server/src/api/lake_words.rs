//! How the lake is asked for in an address.

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
    pub(crate) fn ask(self) -> LakeAsk {
        let some = |text: Option<String>| text.filter(|text| !text.trim().is_empty());
        LakeAsk {
            level: self.level_m.map(Metres::new),
            rule: some(self.rule),
            min_depth: self.min_depth_m.map(Metres::new),
            max_depth: self.max_depth_m.map(Metres::new),
            secchi: self.secchi_m.map(Metres::new),
            regression: some(self.regression),
            year: self.year,
        }
    }
}
