use super::parts::Collected;
use super::{Layout, LayoutError, Warning, number_code, put, text_code};
use crate::frame::Frame;
use crate::region::{Region, area_of};
use crate::shape::bisect::equal_parts;
use crate::shape::shore::{Arc, ShoreRing, share_by_shore, shore_rings};
use geo::BooleanOps;
use geo_types::MultiPolygon;
use units::{Metres, SquareMetres, bounds};

/// What shore sections are made from.
#[derive(Debug, Clone, PartialEq)]
pub struct ShoreSections {
    /// Length of shore, 100 to 300 ft usual (common practice); each ring is divided evenly by the
    /// nearest whole number of sections.
    pub length: Metres,
    /// Islands have sections of their own.
    pub islands: bool,
    /// Places, e.g. landmarks, whose nearest points of shore become corners of sections.
    pub corners: Vec<(f64, f64)>,
    /// Water beyond the littoral zone in parts of about this area; none leaves it out.
    pub offshore: Option<SquareMetres>,
}

/// More sections than any crew will ever visit; a slip of units gets here.
const MOST_SECTIONS: f64 = 50_000.0;
/// Samples along a section.
const SAMPLES: f64 = 8.0;

/// The shoreline in sections, each owning the littoral water nearest to it, with one site each.
///
/// Numbered clockwise along the main shore from its north-western point, then island by island;
/// offshore parts are O1, O2 … Without a littoral zone (depths not known) the sections own all the
/// water, and a warning says what is lost. The sections tile the littoral zone; no offshore part
/// is more than rounding larger than another.
///
/// # Errors
/// A length out of range or longer than the shore, no shore.
pub fn shore_sections(
    frame: &Frame<'_>,
    littoral: Option<&MultiPolygon<f64>>,
    plan: &ShoreSections,
) -> Result<Layout, LayoutError> {
    let all_rings = shore_rings(frame.water());
    let rings: Vec<ShoreRing> =
        all_rings.into_iter().filter(|ring| plan.islands || !ring.island).collect();
    let length = plan.length.metres();
    let total: f64 = rings.iter().map(ShoreRing::length).sum();
    check_length(length, &rings, total)?;
    let area = littoral.unwrap_or(frame.water());
    if Region::new(area).is_none() {
        return Err(LayoutError::NothingLeft);
    }
    let arcs = sections(&rings, length, &plan.corners);
    let pieces = share_by_shore(area, &rings, &arcs, length / SAMPLES);
    let mut parts = Collected::default();
    let mut next = pieces.into_iter().peekable();
    for (index, arc) in arcs.iter().enumerate() {
        let code = number_code(index + 1);
        match next.next_if(|piece| piece.label == index) {
            Some(piece) => {
                let shore = Some(Metres::new(arc.to - arc.from));
                parts.add(frame, code, None, piece.polygon, piece.area, shore);
            }
            None => parts.warnings.push(Warning::SectionWithoutWater { code }),
        }
    }
    if littoral.is_none() {
        parts.warnings.push(Warning::DepthsNotKnown);
    }
    let mut parameters = Vec::new();
    put(&mut parameters, "length_m", length);
    put(&mut parameters, "sections", arcs.len());
    put(&mut parameters, "islands", plan.islands);
    for (x, y) in &plan.corners {
        put(&mut parameters, "corner", format!("{x},{y}"));
    }
    if let (Some(size), Some(littoral)) = (plan.offshore, littoral) {
        put(&mut parameters, "offshore_m2", size.square_metres());
        add_offshore(frame, littoral, size.square_metres(), &mut parts)?;
    }
    parameters.extend(frame.parameters());
    let Collected { sites, parts, warnings } = parts;
    Ok(Layout { name: "shore-sections".to_owned(), parameters, sites, parts, warnings })
}

fn check_length(length: f64, rings: &[ShoreRing], total: f64) -> Result<(), LayoutError> {
    let longest = rings.iter().map(ShoreRing::length).fold(0.0, f64::max);
    let expected = if bounds::SPACING.check(length).is_err() {
        format!("between {} m and {} m", bounds::SPACING.least, bounds::SPACING.most)
    } else if length > longest {
        format!("shorter than the shore, which is {longest:.0} m round")
    } else if total / length > MOST_SECTIONS {
        format!("long enough for at most {MOST_SECTIONS:.0} sections on {total:.0} m of shore")
    } else {
        return Ok(());
    };
    Err(LayoutError::Parameter {
        word: "length of the sections",
        found: format!("{length} m"),
        expected,
        hint: "give it with its unit, e.g. `200ft`; 100 to 300 ft is usual",
    })
}

/// Sections of every ring, corners at the places wished.
fn sections(rings: &[ShoreRing], length: f64, corners: &[(f64, f64)]) -> Vec<Arc> {
    let mut fixed: Vec<Vec<f64>> = vec![Vec::new(); rings.len()];
    for &(x, y) in corners {
        let nearest = rings
            .iter()
            .enumerate()
            .map(|(ring, shore)| (ring, shore.nearest(x, y)))
            .min_by(|a, b| a.1.1.total_cmp(&b.1.1));
        if let Some((ring, (way, _))) = nearest {
            fixed[ring].push(way);
        }
    }
    let mut arcs = Vec::new();
    for (ring, (shore, fixed)) in rings.iter().zip(&mut fixed).enumerate() {
        fixed.sort_by(f64::total_cmp);
        // two landmarks within a quarter of a section are one corner
        fixed.dedup_by(|later, before| *later - *before < 0.25 * length);
        if fixed.is_empty() {
            fixed.push(0.0);
        }
        for (k, &from) in fixed.iter().enumerate() {
            let to = fixed.get(k + 1).copied().unwrap_or(fixed[0] + shore.length());
            let n = ((to - from) / length).round().max(1.0);
            for part in 0..n as usize {
                let way = |k: usize| from + (to - from) * k as f64 / n;
                arcs.push(Arc { ring, from: way(part), to: way(part + 1), label: arcs.len() });
            }
        }
    }
    arcs
}

fn add_offshore(
    frame: &Frame<'_>,
    littoral: &MultiPolygon<f64>,
    size: f64,
    parts: &mut Collected,
) -> Result<(), LayoutError> {
    if !(size.is_finite() && size >= 1.0) {
        return Err(LayoutError::Parameter {
            word: "area of the offshore parts",
            found: format!("{size} m²"),
            expected: "at least 1 m²".to_owned(),
            hint: "give it with its unit, e.g. `10ac`",
        });
    }
    let beyond = frame.water().difference(littoral);
    let mut number = 0;
    for basin in beyond {
        let basin = MultiPolygon(vec![basin]);
        let area = area_of(&basin);
        // scraps between two digitisings of one line are no water
        if area < 0.05 * size {
            continue;
        }
        let n = (area / size).round().max(1.0) as usize;
        for polygon in equal_parts(&basin, n) {
            number += 1;
            let area = area_of(&polygon);
            parts.add(frame, text_code(&format!("O{number}")), None, polygon, area, None);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
