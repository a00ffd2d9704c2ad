//! From depths as measured to depths below the reference level.

use super::AddOptions;
use units::{LengthUnit, Metres, UnitSystem, decimals};

/// What has to be added to a measured depth, in metres, and how it is told.
pub(super) struct Correction {
    pub(super) metres: f64,
    pub(super) words: Vec<String>,
}

impl Correction {
    /// The transducer hangs below the water, so the water is deeper than it measured; water that
    /// stood high on the day made every depth greater than it is below the reference level.
    pub(super) fn of(options: &AddOptions, units: UnitSystem) -> Self {
        let length = |metres: f64| {
            let value = decimals(units.depth_value(Metres::new(metres)), 2);
            format!("{value} {}", units.depth_unit())
        };
        let transducer = options.transducer.unwrap_or(0.0);
        let level = options.water_level.unwrap_or(0.0);
        let mut words = Vec::new();
        if options.transducer.is_some() {
            words
                .push(format!("the transducer hung {} below the water: added", length(transducer)));
        }
        if options.water_level.is_some() {
            let side = if level < 0.0 { "below" } else { "above" };
            words.push(format!(
                "the water stood {} {side} the reference level on the day: {}",
                length(level.abs()),
                if level < 0.0 { "added" } else { "taken off" }
            ));
        }
        Self { metres: transducer - level, words }
    }
}

/// Depths of one file that look to be in another unit than said, by the lake's own size or by the
/// depths that are there already.
pub(super) fn likely_unit(most: f64, known: f64) -> Option<&'static str> {
    let ratio = most / known;
    let near = |factor: f64| (ratio / factor - 1.0).abs() < 0.35;
    if near(100.0) {
        Some("centimetres look to be read as metres: say `--unit cm`")
    } else if near(100.0 * LengthUnit::Foot.metres()) {
        Some("centimetres look to be read as feet: say `--unit cm`")
    } else if near(1.0 / LengthUnit::Foot.metres()) {
        Some("feet look to be read as metres: say `--unit ft`")
    } else if near(LengthUnit::Foot.metres()) {
        Some("metres look to be read as feet: say `--unit m`")
    } else if near(6.0) || near(1.8288) {
        Some("fathoms look to be mixed with feet or metres: say the unit with `--unit`")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_correction_is_told_in_the_lake_s_unit() {
        let options = AddOptions {
            transducer: Some(0.1524),
            water_level: Some(-0.6096),
            ..AddOptions::default()
        };
        let found = Correction::of(&options, UnitSystem::Us);
        assert!((found.metres - 0.762).abs() < 1e-12, "half a foot deeper, two feet lower water");
        assert_eq!(
            found.words,
            [
                "the transducer hung 0.50 ft below the water: added",
                "the water stood 2.00 ft below the reference level on the day: added"
            ]
        );
        let high = AddOptions { water_level: Some(0.3), ..AddOptions::default() };
        let found = Correction::of(&high, UnitSystem::Metric);
        assert!((found.metres + 0.3).abs() < 1e-12);
        assert_eq!(
            found.words,
            ["the water stood 0.30 m above the reference level on the day: taken off"]
        );
        assert!(Correction::of(&AddOptions::default(), UnitSystem::Us).words.is_empty());
    }
}
