use super::EffortError;
use super::error::{above_zero, open, positive};
use super::normal::two_sided;
use units::{Metres, SquareMetres};

/// Chance that a square grid of points, laid at random, has one or more points on a round bed.
///
/// # Formula
/// With radius `r` and spacing `s`: `πr²/s²` while `r ≤ s/2`; `(πr² − 4·seg)/s²` up to `r = s/√2`, with
/// `seg = r²·acos(s/2r) − (s/2)·√(r² − s²/4)` the part of the circle beyond one side of the square; 1 above.
/// # Errors
/// An area or spacing that is not above 0.
/// # References
/// Geometry; Gilbert 1987, Statistical Methods for Environmental Pollution Monitoring, chapter 10 (hot
/// spots; from memory).
pub fn chance_grid_hits_bed(bed: SquareMetres, spacing: Metres) -> Result<f64, EffortError> {
    let area = above_zero("area of the bed", bed.square_metres())?;
    let s = above_zero("spacing", spacing.metres())?;
    let r = (area / std::f64::consts::PI).sqrt();
    if r <= s / 2.0 {
        return Ok(area / (s * s));
    }
    if r >= s / std::f64::consts::SQRT_2 {
        return Ok(1.0);
    }
    let half = s / 2.0;
    let beyond = r * r * (half / r).acos() - half * (r * r - half * half).sqrt();
    Ok((area - 4.0 * beyond) / (s * s))
}

/// Constant of the variance of a count of grid points.
const GRID_CONSTANT: f64 = 0.0724;

/// Points that must fall on a bed so that its acreage, points with the plant × spacing² ÷ `seen`, is known within a
/// relative margin, before rounding up.
///
/// `shape` is perimeter / √area: 3.545 for a circle, 4 for a square, 4.24 for a rectangle twice as
/// long as wide. `seen` is the chance that the plant comes up at a point of the bed.
///
/// # Formula
/// `CV² = 0.0724·shape·n^(−3/2) + (1 − seen)/(seen·n)`, solved for `CV = m/z`; with `seen` 1
/// `n = (0.0724·shape·z²/m²)^(2/3)`.
/// # Assumptions
/// Square grid with random origin; the chance to come up is known and the same all over the bed.
/// # Errors
/// A margin or confidence outside 0..1; a shape below that of a circle; no chance to come up.
/// # References
/// Gundersen & Jensen 1987, Journal of Microscopy 147: 229–263, after Matérn 1985 (from memory; the
/// constant is confirmed by simulation in the tests).
pub fn sites_for_bed_area(
    margin: f64,
    confidence: f64,
    shape: f64,
    seen: f64,
) -> Result<f64, EffortError> {
    let margin = open("margin", margin)?;
    let z = two_sided(open("confidence", confidence)?);
    let (shape, seen) = (checked_shape(shape)?, positive("chance to come up", seen)?);
    let square = |n: f64| variation_squared(n, shape, seen);
    let wanted = (margin / z).powi(2);
    let (mut few, mut many) = ((GRID_CONSTANT * shape / wanted).powf(2.0 / 3.0), 1.0);
    while square(many) > wanted {
        many *= 2.0;
    }
    // missed plants only add to what the grid alone needs
    if seen >= 1.0 {
        return Ok(few);
    }
    for _ in 0..200 {
        let middle = f64::midpoint(few, many);
        if square(middle) > wanted {
            few = middle;
        } else {
            many = middle;
        }
    }
    Ok(many)
}

/// Square of the relative standard error of an acreage from so many points on the bed.
fn variation_squared(points: f64, shape: f64, seen: f64) -> f64 {
    GRID_CONSTANT * shape * points.powf(-1.5) + (1.0 - seen) / (seen * points)
}

/// Spacing of a grid of `sites` points that covers a bed twice as long as wide and one spacing around it, metres.
///
/// # Formula
/// `(w/s + 2)(2w/s + 2) = n`, `w = √(A/2)`, solved for s.
pub fn bed_grid_spacing(bed: SquareMetres, sites: usize) -> f64 {
    let k = (-6.0 + (36.0 - 8.0 * (4.0 - sites as f64)).max(0.0).sqrt()) / 4.0;
    (bed.square_metres() / 2.0).sqrt() / k.max(0.1)
}

/// Relative margin of the acreage of a bed that holds so many grid points.
///
/// # Errors
/// As [`sites_for_bed_area`].
pub fn margin_of_bed_area(
    points: f64,
    confidence: f64,
    shape: f64,
    seen: f64,
) -> Result<f64, EffortError> {
    let z = two_sided(open("confidence", confidence)?);
    let points = above_zero("points on the bed", points)?;
    let (shape, seen) = (checked_shape(shape)?, positive("chance to come up", seen)?);
    Ok(z * variation_squared(points, shape, seen).sqrt())
}

fn checked_shape(shape: f64) -> Result<f64, EffortError> {
    let circle = 2.0 * std::f64::consts::PI.sqrt();
    if shape.is_finite() && shape >= circle - 1e-9 {
        return Ok(shape);
    }
    Err(EffortError::Input {
        word: "shape (perimeter over root of area)",
        found: shape,
        expected: "at least 3.545, that of a circle",
        hint: "4.2 suits a bed twice as long as wide",
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Draw;

    /// Gilbert 1987, chapter 10: a circular hot spot is missed with a chance of 0.1 when radius over
    /// spacing is 0.56 (from memory, to two digits).
    #[test]
    fn gilbert_1987_circular_hot_spot() {
        let bed = |r: f64| SquareMetres::new(std::f64::consts::PI * r * r);
        let missed = 1.0 - chance_grid_hits_bed(bed(0.56), Metres::new(1.0)).unwrap();
        assert!((missed - 0.1).abs() < 0.01, "{missed}");
        // continuous at both joints
        for r in [0.5, 0.5_f64.sqrt()] {
            let near = |d: f64| chance_grid_hits_bed(bed(r + d), Metres::new(1.0)).unwrap();
            assert!((near(1e-7) - near(-1e-7)).abs() < 1e-5);
        }
        assert!(chance_grid_hits_bed(bed(0.8), Metres::new(1.0)).unwrap() >= 1.0);
    }

    /// The chance against 200,000 grids laid at random (4.5 standard errors).
    #[test]
    fn the_chance_to_hit_agrees_with_grids_laid_at_random() {
        let mut draw = Draw::new(3);
        for r in [0.3, 0.55, 0.65_f64] {
            let runs = 200_000;
            let mut hits = 0;
            for _ in 0..runs {
                let (x, y) = (draw.unit(), draw.unit());
                let nearest = (x.min(1.0 - x)).hypot(y.min(1.0 - y));
                hits += u32::from(nearest <= r);
            }
            let share = f64::from(hits) / f64::from(runs);
            let bed = SquareMetres::new(std::f64::consts::PI * r * r);
            let chance = chance_grid_hits_bed(bed, Metres::new(1.0)).unwrap();
            let error = (chance * (1.0 - chance) / f64::from(runs)).sqrt();
            assert!((share - chance).abs() < 4.5 * error, "r {r}: {share} for {chance}");
        }
    }

    /// Spread of the count of grid points on ellipses laid at random, against the formula (Gundersen & Jensen
    /// 1987). Sizes vary by a third either way, since a single size resonates with the grid.
    #[test]
    fn gundersen_jensen_1987_spread_of_a_grid_count() {
        let mut draw = Draw::new(8);
        for (ratio, middle) in [(1.0, 20.0), (2.0, 30.0), (3.0, 60.0_f64)] {
            let runs = 8_000;
            let mut over = 0.0;
            for _ in 0..runs {
                let points = middle * (0.67 + 0.66 * draw.unit());
                let b = (points / std::f64::consts::PI / ratio).sqrt();
                let a = b * ratio;
                // perimeter after Ramanujan 1914
                let h = ((a - b) / (a + b)).powi(2);
                let root = (4.0 - 3.0 * h).sqrt();
                let perimeter = std::f64::consts::PI * (a + b) * (1.0 + 3.0 * h / (10.0 + root));
                let (u, v) = (draw.unit(), draw.unit());
                let (sin, cos) = (draw.unit() * std::f64::consts::TAU).sin_cos();
                let reach = a.ceil() as i32 + 1;
                let mut count = 0.0;
                for i in -reach..=reach {
                    for j in -reach..=reach {
                        let (x, y) = (f64::from(i) + u, f64::from(j) + v);
                        let (p, q) = (x * cos + y * sin, y * cos - x * sin);
                        count += f64::from(u8::from((p / a).powi(2) + (q / b).powi(2) < 1.0));
                    }
                }
                let formula = margin_of_bed_area(points, 0.95, perimeter / points.sqrt(), 1.0)
                    .unwrap()
                    / 1.959_964;
                over += ((count / points - 1.0) / formula).powi(2) / f64::from(runs);
            }
            assert!((over - 1.0).abs() < 0.08, "{ratio}: variance over formula {over}");
        }
    }

    #[test]
    fn points_and_margin_are_inverse() {
        for seen in [1.0, 0.86, 0.4] {
            let points = sites_for_bed_area(0.10, 0.95, 4.24, seen).unwrap();
            assert!((margin_of_bed_area(points, 0.95, 4.24, seen).unwrap() - 0.10).abs() < 1e-9);
        }
        assert!(sites_for_bed_area(0.1, 0.95, 2.0, 1.0).is_err());
        assert!(sites_for_bed_area(0.1, 0.95, 4.0, 0.0).is_err());
    }
}
