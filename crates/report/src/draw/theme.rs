//! Colours of maps and charts. Green is plants, blue is water, magenta is what is laid over the map.

use crate::settings::Palette;

/// ColorBrewer Blues, 2nd to 8th of nine (Brewer and Harrower, 2003, colorbrewer2.org).
const BLUES: [&str; 7] =
    ["#DEEBF7", "#C6DBEF", "#9ECAE1", "#6BAED6", "#4292C6", "#2171B5", "#08519C"];
/// Quiet water, for maps whose subject is something else.
const QUIET: [&str; 4] = ["#F4F8FC", "#EAF2F9", "#DEEBF7", "#D3E4F3"];

/// How strongly depth is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Depth {
    /// Depth is the subject.
    Full,
    /// Something else is.
    #[default]
    Quiet,
    /// Contours only, the water stays white.
    Lines,
}

/// The inks of a picture.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Theme {
    palette: Palette,
    pub(crate) land: &'static str,
    pub(crate) paper: &'static str,
    pub(crate) ink: &'static str,
    pub(crate) second: &'static str,
    pub(crate) accent: &'static str,
    pub(crate) plant: &'static str,
    pub(crate) hairline: &'static str,
    pub(crate) contour: &'static str,
    pub(crate) limit: &'static str,
}

impl Theme {
    pub(crate) const fn of(palette: Palette) -> Self {
        match palette {
            Palette::Colour => Self {
                palette,
                land: "#F4EDDD",
                paper: "#FFFFFF",
                ink: "#1F2529",
                second: "#4C5459",
                accent: "#9C1458",
                plant: "#14634B",
                hairline: "#D6CDBB",
                contour: "#08306B",
                limit: "#08306B",
            },
            Palette::BlackAndWhite => Self {
                palette,
                land: "#FFFFFF",
                paper: "#FFFFFF",
                ink: "#000000",
                second: "#000000",
                accent: "#000000",
                plant: "#000000",
                hairline: "#9A9A9A",
                contour: "#000000",
                limit: "#000000",
            },
        }
    }

    pub(crate) const fn is_colour(self) -> bool {
        matches!(self.palette, Palette::Colour)
    }

    /// Colour of band `index` of `count`, light is shallow. With more bands than colours the colours
    /// are spread over them.
    pub(crate) fn water(self, depth: Depth, index: usize, count: usize) -> &'static str {
        if !self.is_colour() || depth == Depth::Lines {
            return "#FFFFFF";
        }
        let ramp: &[&'static str] = if depth == Depth::Full { &BLUES } else { &QUIET };
        let step = if count <= ramp.len() || depth == Depth::Quiet {
            index.min(ramp.len() - 1)
        } else {
            index * (ramp.len() - 1) / (count - 1)
        };
        ramp[step]
    }

    /// Ink and halo of a figure standing on band `index` of `count`.
    pub(crate) fn on_water(
        self,
        depth: Depth,
        index: usize,
        count: usize,
    ) -> (&'static str, &'static str) {
        let ground = self.water(depth, index, count);
        match BLUES.iter().position(|colour| *colour == ground) {
            Some(3) => ("#08306B", ground),
            Some(step) if step > 3 => ("#FFFFFF", "#2171B5"),
            _ => (self.ink, ground),
        }
    }
}

/// Radii of rating discs for a scale of `of` steps: area rises evenly from a trace to dense.
pub(crate) fn rating_radius(step: u8, of: u8) -> f64 {
    const FOUR: [f64; 4] = [2.7, 4.3, 6.3, 8.6];
    let step = step.clamp(1, of.max(1));
    match of {
        0 | 1 => 5.0,
        4 => FOUR[usize::from(step) - 1],
        _ => {
            let (least, most) = (FOUR[0] * FOUR[0], FOUR[3] * FOUR[3]);
            let share = f64::from(step - 1) / f64::from(of - 1);
            (least + share * (most - least)).sqrt()
        }
    }
}

/// Radius of a disc for a count: area in proportion.
pub(crate) fn count_radius(count: u32) -> f64 {
    3.25 * f64::from(count).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_bands_than_colours_still_run_from_light_to_dark() {
        let theme = Theme::of(Palette::Colour);
        for count in 1..20 {
            let colours: Vec<_> = (0..count)
                .map(|index| theme.water(Depth::Full, index, count))
                .map(|colour| BLUES.iter().position(|blue| *blue == colour).unwrap())
                .collect();
            assert!(colours.is_sorted(), "{count} bands: {colours:?}");
            assert_eq!(colours[0], 0);
        }
    }

    #[test]
    fn a_higher_rating_is_never_a_smaller_disc() {
        for of in 1..=10 {
            let radii: Vec<_> = (1..=of).map(|step| rating_radius(step, of)).collect();
            assert!(radii.is_sorted(), "{of} steps: {radii:?}");
        }
        let areas = (count_radius(4) / count_radius(1)).powi(2);
        assert!((areas - 4.0).abs() < 1e-12, "four kinds have four times the area of one");
    }
}
