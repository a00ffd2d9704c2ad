//! Volume from the areas at successive depths.

use std::fmt;
use units::{CubicMetres, Metres, SquareMetres};

/// How a volume is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum Rule {
    /// Depth times area, summed over the cells of the depth model.
    #[default]
    Grid,
    /// Layers between contours as truncated cones: `V = Σ h/3 · (A₁ + A₂ + √(A₁·A₂))`.
    ///
    /// # References
    /// Taube (2000), chapter 12 in Manual of Fisheries Survey Methods II, Michigan DNR Fisheries
    /// Special Report 25, method 1; Lin, Water and Wastewater Calculations Manual, lake
    /// morphometry.
    Frustum,
    /// Layers between contours as prisms of the mean area: `V = Σ h/2 · (A₁ + A₂)`.
    Trapezoid,
    /// Cells of a raster under water times the area of a cell, in the plane of the raster; see
    /// [`crate::raster_cells`].
    RasterCells,
}

impl Rule {
    /// Word kept in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Grid => "grid",
            Self::Frustum => "frustum",
            Self::Trapezoid => "trapezoid",
            Self::RasterCells => "raster-cells",
        }
    }
}

impl fmt::Display for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.key())
    }
}

impl std::str::FromStr for Rule {
    type Err = MorphometryError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        [Self::Grid, Self::Frustum, Self::Trapezoid, Self::RasterCells]
            .into_iter()
            .find(|rule| rule.key() == text.trim())
            .ok_or_else(|| MorphometryError::UnknownRule { found: text.to_owned() })
    }
}

/// A table of areas that is none.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MorphometryError {
    /// Fewer than two depths.
    #[error("a volume needs the areas at two depths or more, not `{found}`")]
    TooFew {
        /// How many.
        found: usize,
    },
    /// Depths that do not go down.
    #[error("the depth in row {row}, `{found}` m, is not deeper than the one before")]
    NotDeeper {
        /// The row, counted from 1.
        row: usize,
        /// Its depth.
        found: f64,
    },
    /// Areas that grow with depth, or are negative.
    #[error("the area in row {row}, `{found}` m², is larger than the one above it or negative")]
    NotSmaller {
        /// The row, counted from 1.
        row: usize,
        /// Its area.
        found: f64,
    },
    /// The grid rule needs a model, not a table.
    #[error(
        "the rules `grid` and `raster-cells` need a depth model; a table of areas has `frustum` and `trapezoid`"
    )]
    NeedsModel,
    /// A word that names no rule.
    #[error("the rule `{found}` is not one of grid, frustum, trapezoid, raster-cells")]
    UnknownRule {
        /// The word.
        found: String,
    },
}

/// Volume from the areas at successive depths, shallowest first.
///
/// # Formula
/// [`Rule::Frustum`] or [`Rule::Trapezoid`], summed over the layers.
/// # Errors
/// [`MorphometryError::TooFew`], [`MorphometryError::NotDeeper`], [`MorphometryError::NotSmaller`],
/// [`MorphometryError::NeedsModel`] for [`Rule::Grid`].
pub fn volume_of_areas(
    areas: &[(Metres, SquareMetres)],
    rule: Rule,
) -> Result<CubicMetres, MorphometryError> {
    if areas.len() < 2 {
        return Err(MorphometryError::TooFew { found: areas.len() });
    }
    if areas[0].1 < SquareMetres::new(0.0) {
        return Err(MorphometryError::NotSmaller { row: 1, found: areas[0].1.square_metres() });
    }
    let mut volume = 0.0;
    for (index, layer) in areas.windows(2).enumerate() {
        let [(top, above), (bottom, below)] = [layer[0], layer[1]];
        let row = index + 2;
        if bottom <= top {
            return Err(MorphometryError::NotDeeper { row, found: bottom.metres() });
        }
        if above < below || below < SquareMetres::new(0.0) {
            return Err(MorphometryError::NotSmaller { row, found: below.square_metres() });
        }
        let height = (bottom - top).metres();
        let (a, b) = (above.square_metres(), below.square_metres());
        volume += match rule {
            Rule::Grid | Rule::RasterCells => return Err(MorphometryError::NeedsModel),
            Rule::Frustum => height / 3.0 * (a + b + (a * b).sqrt()),
            Rule::Trapezoid => height / 2.0 * (a + b),
        };
    }
    Ok(CubicMetres::new(volume))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn acres_by_foot(acres: &[f64]) -> Vec<(Metres, SquareMetres)> {
        let rows = acres.iter().enumerate();
        rows.map(|(i, &a)| (Metres::from_feet(i as f64), SquareMetres::from_acres(a))).collect()
    }

    /// Source: Lin, Water and Wastewater Calculations Manual, lake morphometry example (also
    /// Mathematics and Statistics for the Environment, example 20.1): 510 acres, contours of one
    /// foot, 8.60 miles of shore.
    ///
    /// Printed is 6823/3 = 2,274 acre-feet. The layers as printed sum to 6864.1921, so the formula
    /// gives 2,288.064: the published sum is 0.6 % short.
    #[test]
    fn lin_lake_volume() {
        let areas = acres_by_foot(&[
            510.0, 460.0, 420.0, 332.0, 274.0, 201.0, 140.0, 110.0, 75.0, 30.0, 1.0,
        ]);
        let frustum = volume_of_areas(&areas, Rule::Frustum).unwrap().acre_feet();
        assert!((frustum - 2_288.064).abs() < 0.000_6, "{frustum}");
        assert!((frustum / 2_274.0 - 1.0).abs() < 0.01);
        let trapezoid = volume_of_areas(&areas, Rule::Trapezoid).unwrap().acre_feet();
        assert!((trapezoid - 2_297.5).abs() < 1e-9, "{trapezoid}");
        let shore = Metres::new(8.60 * units::METRES_PER_MILE);
        let area = SquareMetres::from_acres(510.0);
        let development = super::super::shoreline_development(shore, area);
        assert!((development - 2.717_68).abs() < 0.000_01, "{development}");
        assert!((frustum / 510.0 - 4.486).abs() < 0.000_5);
    }

    /// Source: Taube (2000), Manual of Fisheries Survey Methods II, chapter 12, method 1: a layer
    /// is
    /// `h/3 · (A₁ + A₂ + √(A₁·A₂))`. A cone of base 9 and height 2 cut at its middle: 6 · 7/8.
    #[test]
    fn taube_2000_method_1() {
        let layer = [
            (Metres::new(0.0), SquareMetres::new(9.0)),
            (Metres::new(1.0), SquareMetres::new(9.0 / 4.0)),
        ];
        let volume = volume_of_areas(&layer, Rule::Frustum).unwrap().cubic_metres();
        assert!((volume - 5.25).abs() < 1e-12);
    }

    /// Source: Water on the Web, Grindstone Lake, Minnesota, morphometry page. Areas in hectares at
    /// 0 to 6 m and volumes of the layers in 10⁵ m³. The published volumes were smoothed by a
    /// regression: within 0.5 %.
    #[test]
    fn water_on_the_web_grindstone_layers() {
        let hectares = [216.0, 215.0, 212.0, 206.0, 201.0, 196.0, 191.0];
        let published = [21.638, 21.378, 20.895, 20.375, 19.855, 19.336];
        let computed = [21.5500, 21.3498, 20.8993, 20.3495, 19.8495, 19.3495];
        for (i, pair) in hectares.windows(2).enumerate() {
            let layer = [
                (Metres::new(i as f64), SquareMetres::new(pair[0] * 1e4)),
                (Metres::new(i as f64 + 1.0), SquareMetres::new(pair[1] * 1e4)),
            ];
            let volume = volume_of_areas(&layer, Rule::Frustum).unwrap().cubic_metres() / 1e5;
            assert!((volume - computed[i]).abs() < 0.000_06, "layer {i}: {volume}");
            assert!((volume / published[i] - 1.0).abs() < 0.005, "layer {i}: {volume}");
        }
    }

    /// Source: Water on the Web, Grindstone Lake. The printed 2 m layers sum to 468.193 · 10⁵ m³,
    /// for one row says 34.031 where the 1 m layers give 17.776 + 17.256; mended, the sum is the
    /// printed 46.9 · 10⁶.
    #[test]
    fn water_on_the_web_grindstone_misprint() {
        let mended: f64 = 468.193 - 34.031 + (17.776 + 17.256);
        assert!((mended - 469.194).abs() < 1e-9);
        assert_eq!(units::decimals(mended / 10.0, 1), "46.9");
        assert_eq!(units::decimals(468.193 / 10.0, 1), "46.8");
    }

    #[test]
    fn tables_that_are_none_are_refused() {
        let m = Metres::new;
        let a = SquareMetres::new;
        let refuse =
            |rows: &[(Metres, SquareMetres)]| volume_of_areas(rows, Rule::Frustum).unwrap_err();
        assert_eq!(refuse(&[(m(0.0), a(1.0))]), MorphometryError::TooFew { found: 1 });
        assert!(matches!(
            refuse(&[(m(0.0), a(9.0)), (m(0.0), a(8.0))]),
            MorphometryError::NotDeeper { row: 2, .. }
        ));
        assert!(matches!(
            refuse(&[(m(0.0), a(9.0)), (m(1.0), a(8.0)), (m(2.0), a(8.5))]),
            MorphometryError::NotSmaller { row: 3, .. }
        ));
        let grid = volume_of_areas(&[(m(0.0), a(9.0)), (m(1.0), a(8.0))], Rule::Grid);
        assert_eq!(grid.unwrap_err(), MorphometryError::NeedsModel);
        assert_eq!("frustum".parse::<Rule>().unwrap(), Rule::Frustum);
        assert!("cone".parse::<Rule>().unwrap_err().to_string().contains("`cone`"));
    }
}
