//! Where a picture lies on the lake: a transform from its pixels to the ground, fitted to control
//! points, and which of the points looks mistyped.

mod fit;
mod solve;

use fit::Fit;
use geo_types::{Coord, Polygon};
use std::fmt;
use units::Metres;

/// How pixels become places.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Warp {
    /// Shifted, turned, stretched and sheared; from three points.
    Affine,
    /// A flat map seen at an angle, as in a photograph of it; from four points.
    Projective,
    /// A thin plate bent through every point, for paper that has warped; from six points.
    ///
    /// # References
    /// Bookstein (1989), Principal warps, IEEE Transactions on Pattern Analysis and Machine
    /// Intelligence 11: 567–585.
    ThinPlate,
}

impl Warp {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Affine, Self::Projective, Self::ThinPlate];

    /// Word kept in files and typed at the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Affine => "affine",
            Self::Projective => "projective",
            Self::ThinPlate => "thin-plate",
        }
    }

    /// The one with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.key() == key)
    }

    /// How many points it needs.
    pub const fn least_points(self) -> usize {
        match self {
            Self::Affine => 3,
            Self::Projective => 4,
            Self::ThinPlate => 6,
        }
    }
}

impl fmt::Display for Warp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.key())
    }
}

/// A place found both in the picture and on the ground.
#[derive(Debug, Clone, PartialEq)]
pub struct ControlPoint {
    /// What it is, such as `boat launch`.
    pub name: String,
    /// Pixel, x to the right and y down, from the upper left corner of the picture.
    pub pixel: Coord<f64>,
    /// Place in the working system's metres.
    pub place: Coord<f64>,
}

/// Control points that fix no picture.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum GeoreferenceError {
    /// Too few points for the transform.
    #[error("{warp} needs {least} control points or more, not `{found}`")]
    TooFew {
        /// The transform.
        warp: Warp,
        /// How many it needs.
        least: usize,
        /// How many there are.
        found: usize,
    },
    /// Points on one line, or the same point twice.
    #[error(
        "the control points lie on one line, in the picture or on the ground, or repeat a place"
    )]
    OnOneLine,
    /// A number that is none.
    #[error("control point {number} is not a place")]
    NotANumber {
        /// The point, counted from 1.
        number: usize,
    },
    /// The transform folds the picture over.
    #[error("with these control points the picture would be folded over or turned inside out")]
    Folded,
}

impl GeoreferenceError {
    /// What a person can do about it.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::TooFew { .. } => {
                "find another place that shows in the picture and whose position you know"
            }
            Self::OnOneLine => "choose points in different corners of the picture",
            Self::NotANumber { .. } => "correct its pixel and its position",
            Self::Folded => {
                "check the points: pixels count from the upper left corner, x to the right and y down"
            }
        }
    }
}

/// How far a control point lies from where the rest of the picture puts it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// Between the given place and the one the fitted transform gives; nil for a thin plate.
    pub fitted: Metres,
    /// Between the given place and the one the transform without this point gives; none where too
    /// few points are left.
    pub left_out: Option<Metres>,
}

/// A control point that does not fit the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suspect {
    /// Its index.
    pub index: usize,
    /// How far it lies from where the others put it.
    pub off: Metres,
    /// Root mean square residual of the others without it.
    pub rest: Metres,
    /// Where the others put it, in the working system's metres.
    pub expected: Coord<f64>,
}

/// A picture's place on the ground.
#[derive(Debug, Clone)]
pub struct Georeference {
    warp: Warp,
    points: Vec<ControlPoint>,
    forward: Fit,
    backward: Fit,
    residuals: Vec<Residual>,
    suspect: Option<Suspect>,
}

impl Georeference {
    /// Fits the transform to the points by least squares; a thin plate goes through them all.
    ///
    /// # Units
    /// Pixels and metres of the working system.
    /// # Errors
    /// [`GeoreferenceError`].
    pub fn fit(points: &[ControlPoint], warp: Warp) -> Result<Self, GeoreferenceError> {
        let least = warp.least_points();
        if points.len() < least {
            return Err(GeoreferenceError::TooFew { warp, least, found: points.len() });
        }
        let finite = |at: Coord<f64>| at.x.is_finite() && at.y.is_finite();
        if let Some(bad) =
            points.iter().position(|point| !(finite(point.pixel) && finite(point.place)))
        {
            return Err(GeoreferenceError::NotANumber { number: bad + 1 });
        }
        let there: Vec<_> = points.iter().map(|point| (point.pixel, point.place)).collect();
        let back: Vec<_> = points.iter().map(|point| (point.place, point.pixel)).collect();
        let forward = Fit::new(&there, warp).ok_or(GeoreferenceError::OnOneLine)?;
        let backward = Fit::new(&back, warp).ok_or(GeoreferenceError::OnOneLine)?;
        let residuals = (0..points.len())
            .map(|index| Residual {
                fitted: Metres::new(length(
                    forward.apply(points[index].pixel) - points[index].place,
                )),
                left_out: without(&there, index, warp).map(|fit| {
                    Metres::new(length(fit.apply(points[index].pixel) - points[index].place))
                }),
            })
            .collect();
        let suspect = suspect(&there, warp);
        Ok(Self { warp, points: points.to_vec(), forward, backward, residuals, suspect })
    }

    /// The transform fitted.
    pub const fn warp(&self) -> Warp {
        self.warp
    }

    /// The points it was fitted to.
    pub fn points(&self) -> &[ControlPoint] {
        &self.points
    }

    /// One for each point.
    pub fn residuals(&self) -> &[Residual] {
        &self.residuals
    }

    /// The point that does not fit the others, if there is one.
    pub const fn suspect(&self) -> Option<Suspect> {
        self.suspect
    }

    /// Root mean square of the residuals: as fitted, or for a thin plate with each point left out.
    pub fn root_mean_square(&self) -> Metres {
        let off = |residual: &Residual| match self.warp {
            Warp::ThinPlate => residual.left_out.unwrap_or(residual.fitted).metres(),
            _ => residual.fitted.metres(),
        };
        let squares: f64 = self.residuals.iter().map(|residual| off(residual).powi(2)).sum();
        Metres::new((squares / self.residuals.len() as f64).sqrt())
    }

    /// The place of a pixel in the working system's metres.
    pub fn to_ground(&self, pixel: Coord<f64>) -> Coord<f64> {
        self.forward.apply(pixel)
    }

    /// The pixel of a place, the inverse of [`Georeference::to_ground`] to a thousandth of a pixel.
    pub fn to_pixel(&self, place: Coord<f64>) -> Coord<f64> {
        let mut pixel = self.backward.apply(place);
        // the way back is fitted on its own: a few steps make it the inverse of the way there
        for _ in 0..8 {
            let miss = self.forward.apply(pixel) - place;
            let Some(step) = self.forward.newton(pixel, miss) else { break };
            pixel = pixel - step;
            if length(step) < 1e-3 {
                break;
            }
        }
        pixel
    }

    /// Ground under one pixel in the middle of the control points: metres to the right and down.
    pub fn pixel_size(&self) -> (Metres, Metres) {
        let middle = self.points.iter().fold(Coord::zero(), |sum, point| sum + point.pixel)
            / self.points.len() as f64;
        let here = self.to_ground(middle);
        let right = self.to_ground(middle + Coord { x: 1.0, y: 0.0 }) - here;
        let down = self.to_ground(middle + Coord { x: 0.0, y: 1.0 }) - here;
        (Metres::new(length(right)), Metres::new(length(down)))
    }

    /// How many times longer a pixel is one way than the other, in the middle of the points; 1 for
    /// a scan of a map.
    pub fn stretch(&self) -> f64 {
        let middle = self.points.iter().fold(Coord::zero(), |sum, point| sum + point.pixel)
            / self.points.len() as f64;
        let here = self.to_ground(middle);
        let a = self.to_ground(middle + Coord { x: 1.0, y: 0.0 }) - here;
        let b = self.to_ground(middle + Coord { x: 0.0, y: 1.0 }) - here;
        // singular values of the matrix with columns a and b
        let (sum, product) = (a.x * a.x + a.y * a.y + b.x * b.x + b.y * b.y, cross(a, b));
        let root = (sum * sum - 4.0 * product * product).max(0.0).sqrt();
        (f64::midpoint(sum, root) / (0.5 * (sum - root)).max(f64::MIN_POSITIVE)).sqrt()
    }

    /// The picture's edge on the ground, for a picture of so many pixels.
    ///
    /// # Errors
    /// [`GeoreferenceError::Folded`] when the picture would be mirrored or folded.
    pub fn footprint(&self, width: f64, height: f64) -> Result<Polygon<f64>, GeoreferenceError> {
        const STEPS: usize = 16;
        let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height), (0.0, 0.0)];
        let mut ring = Vec::with_capacity(4 * STEPS + 1);
        for side in corners.windows(2) {
            for step in 0..STEPS {
                let share = step as f64 / STEPS as f64;
                let at = |from: f64, to: f64| share.mul_add(to - from, from);
                ring.push(
                    self.to_ground(Coord {
                        x: at(side[0].0, side[1].0),
                        y: at(side[0].1, side[1].1),
                    }),
                );
            }
        }
        // pixels count down, northings up: what is not mirrored runs clockwise
        for row in 0..=STEPS {
            for column in 0..=STEPS {
                let at = Coord {
                    x: width * column as f64 / STEPS as f64,
                    y: height * row as f64 / STEPS as f64,
                };
                let here = self.to_ground(at);
                let right = self.to_ground(at + Coord { x: 0.5, y: 0.0 }) - here;
                let down = self.to_ground(at + Coord { x: 0.0, y: 0.5 }) - here;
                let turn = cross(right, down);
                if !turn.is_finite() || 0.0 <= turn {
                    return Err(GeoreferenceError::Folded);
                }
            }
        }
        ring.push(ring[0]);
        Ok(Polygon::new(ring.into(), vec![]))
    }
}

fn length(at: Coord<f64>) -> f64 {
    at.x.hypot(at.y)
}

fn cross(a: Coord<f64>, b: Coord<f64>) -> f64 {
    a.x * b.y - a.y * b.x
}

type Pair = (Coord<f64>, Coord<f64>);

fn all_but(pairs: &[Pair], index: usize) -> Vec<Pair> {
    let kept = pairs.iter().enumerate().filter(|(other, _)| *other != index);
    kept.map(|(_, pair)| *pair).collect()
}

/// Root mean square of what a transform leaves.
fn off_by(fit: &Fit, pairs: &[Pair]) -> f64 {
    let squares: f64 =
        pairs.iter().map(|(pixel, place)| length(fit.apply(*pixel) - *place).powi(2)).sum();
    (squares / pairs.len() as f64).sqrt()
}

/// The transform without a point; one that needs fewer points where too few are left for the same.
fn without(pairs: &[Pair], index: usize, warp: Warp) -> Option<Fit> {
    let rest = all_but(pairs, index);
    let warp = if warp.least_points() <= rest.len() { warp } else { Warp::Affine };
    (warp.least_points() <= rest.len()).then(|| Fit::new(&rest, warp)).flatten()
}

/// A point off by so many times the residual of the rest does not fit.
const TIMES_OFF: f64 = 8.0;
/// One off by less than this share of the points' extent may be how the map was drawn.
const SHARE_OFF: f64 = 0.05;
/// The same where the picture is taken at an angle or warped, which a plain transform takes for a mistake.
const SHARE_OFF_BENT: f64 = 0.5;

/// The point without which the rest is best explained by a picture that is only shifted, turned and
/// scaled, or stretched evenly. From four points up; with three any one of them may be the wrong
/// one.
///
/// Where a picture at an angle explains all of six points or more better than a plain one explains all
/// but one, none of them is wrong: the picture is at an angle.
fn suspect(pairs: &[Pair], warp: Warp) -> Option<Suspect> {
    if pairs.len() < 4 {
        return None;
    }
    // few points bend a transform of many parameters to any mistake
    let plain = |rest: &[Pair]| {
        if rest.len() < 5 { Fit::similarity(rest) } else { Fit::new(rest, Warp::Affine) }
    };
    let trial = |index: usize| -> Option<Suspect> {
        let rest = all_but(pairs, index);
        let fit = plain(&rest)?;
        let expected = fit.apply(pairs[index].0);
        Some(Suspect {
            index,
            off: Metres::new(length(expected - pairs[index].1)),
            rest: Metres::new(off_by(&fit, &rest)),
            expected,
        })
    };
    let best = (0..pairs.len())
        .filter_map(trial)
        .min_by(|a, b| a.rest.metres().total_cmp(&b.rest.metres()))?;
    let angle = if pairs.len() < 6 { None } else { Fit::new(pairs, Warp::Projective) };
    if angle.is_some_and(|fit| off_by(&fit, pairs) < best.rest.metres()) {
        return None;
    }
    let others = all_but(pairs, best.index);
    let span = |get: fn(Coord<f64>) -> f64| {
        let values = || others.iter().map(|(_, place)| get(*place));
        values().fold(f64::NEG_INFINITY, f64::max) - values().fold(f64::INFINITY, f64::min)
    };
    let extent = span(|at| at.x).hypot(span(|at| at.y));
    let off = best.off.metres();
    let share = if warp == Warp::Affine { SHARE_OFF } else { SHARE_OFF_BENT };
    (TIMES_OFF * best.rest.metres() < off && share * extent < off).then_some(best)
}

#[cfg(test)]
mod tests;
