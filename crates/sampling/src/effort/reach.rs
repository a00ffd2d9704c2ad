//! What a number of sites reaches.

use super::answer::{BED_SHAPE, Purpose, Question, bed, occupancy, seen};
use super::normal::{below, two_sided};
use super::{
    EffortError, Pace, bed_grid_spacing, chance_to_find, chance_to_find_finite, hours_on_water,
    margin_of, margin_of_bed_area, power_for_change, power_for_contrast,
};
use units::SquareMetres;

/// What a number of sites reaches: chance, power, or margin.
///
/// # Errors
/// As [`super::answer`].
pub fn reached(question: &Question, sites: usize) -> Result<f64, EffortError> {
    let seen = seen(question)?;
    let confidence = question.confidence;
    let n = sites as f64;
    match question.purpose {
        Purpose::Richness => {
            let one = chance_to_find(occupancy(question)? * seen, sites)?;
            Ok(one.powf(question.species as f64))
        }
        Purpose::Detect => {
            let psi = occupancy(question)?;
            match (question.population, question.patch_area) {
                (Some(places), None) => {
                    let held = ((psi * places as f64).round() as usize).max(1);
                    chance_to_find_finite(places, held, seen, sites)
                }
                _ => chance_to_find(psi * seen, sites),
            }
        }
        Purpose::Estimate => {
            margin_of(occupancy(question)? * seen, sites.max(1), confidence, question.population)
        }
        Purpose::Delineate => {
            let bed = bed(question)?;
            let on_bed = bed.square_metres() / bed_grid_spacing(bed, sites).powi(2);
            margin_of_bed_area(on_bed, confidence, BED_SHAPE, seen)
        }
        Purpose::Change => {
            power_for_change(question.from * seen, question.to * seen, confidence, n)
        }
        Purpose::Treatment => match question.untreated {
            None => power_for_change(question.from * seen, question.to * seen, confidence, n),
            Some((before, after)) => power_for_contrast(
                (question.from * seen, question.to * seen),
                (before * seen, after * seen),
                confidence,
                n,
            ),
        },
    }
}

/// The chance that a number of sites reaches what is asked, for every purpose on one scale: find all species, find
/// the invader, come within the margin, show the change.
///
/// # Formula
/// As [`reached`]; a margin m asked for against the margin mₙ the number gives becomes the chance
/// `2Φ(z·m/mₙ) − 1` to come within m.
/// # Errors
/// As [`super::answer`].
pub fn chance_of(question: &Question, sites: usize) -> Result<f64, EffortError> {
    let value = reached(question, sites)?;
    Ok(match question.purpose {
        Purpose::Estimate | Purpose::Delineate if value > 0.0 => {
            let z = two_sided(question.confidence);
            2.0 * below(z * question.margin / value) - 1.0
        }
        Purpose::Estimate | Purpose::Delineate => 1.0,
        _ => value,
    })
}

/// Hours on the water for a number of sites; those of a bed lie close together.
///
/// # Errors
/// No bed to measure, where one is to be measured.
pub fn hours_of(question: &Question, sites: usize) -> Result<f64, EffortError> {
    let area = match question.purpose {
        Purpose::Delineate => {
            let spacing = bed_grid_spacing(bed(question)?, sites);
            SquareMetres::new(sites as f64 * spacing * spacing)
        }
        _ => question.area,
    };
    hours_on_water(sites, question.throws, area, &Pace::default())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A margin met with the confidence asked for is a chance of that confidence.
    #[test]
    fn the_number_that_gives_the_margin_has_the_chance_asked_for() {
        let area = SquareMetres::from_acres(60.0);
        let question =
            Question { detection: 1.0, throws: 1, ..Question::new(Purpose::Estimate, area) };
        // 96.04 sites give ± 10 points exactly (Cochran 1977); 96 a hair less
        let chance = chance_of(&question, 96).unwrap();
        assert!((chance - 0.95).abs() < 1e-3 && chance < 0.95, "{chance}");
        // four times the sites halve the margin: 2 Φ(2·1.96) − 1
        let chance = chance_of(&question, 4 * 96).unwrap();
        assert!((chance - 0.999_911).abs() < 1e-5, "{chance}");
    }
}
