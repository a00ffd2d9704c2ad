//! One transform of the plane, fitted to pairs of places.

use super::solve::{least_squares, solve};
use super::{Pair, Warp};
use geo_types::Coord;

/// Shift and scale that bring places to about the unit square, so that the equations stay well
/// conditioned.
#[derive(Debug, Clone, Copy)]
struct Frame {
    middle: Coord<f64>,
    scale: f64,
}

impl Frame {
    fn of(places: impl Iterator<Item = Coord<f64>> + Clone) -> Option<Self> {
        let count = places.clone().count() as f64;
        let middle = places.clone().fold(Coord::zero(), |sum, at| sum + at) / count;
        let scale = places.map(|at| (at.x - middle.x).hypot(at.y - middle.y)).sum::<f64>() / count;
        (scale > 0.0 && scale.is_finite()).then_some(Self { middle, scale })
    }

    fn into(self, at: Coord<f64>) -> Coord<f64> {
        (at - self.middle) / self.scale
    }

    fn out(self, at: Coord<f64>) -> Coord<f64> {
        at * self.scale + self.middle
    }
}

#[derive(Debug, Clone)]
enum Form {
    /// `x' = a·x + b·y + c` and the same for y'.
    Affine([[f64; 2]; 3]),
    /// `x' = (h₀x + h₁y + h₂) / (h₆x + h₇y + 1)` and so on.
    Projective([f64; 8]),
    /// `f(p) = a₀ + a₁x + a₂y + Σ wᵢ · r² · ln r²`.
    ThinPlate { knots: Vec<Coord<f64>>, weights: Vec<[f64; 2]>, plane: [[f64; 2]; 3] },
}

#[derive(Debug, Clone)]
pub(super) struct Fit {
    from: Frame,
    to: Frame,
    form: Form,
}

impl Fit {
    /// Fits a transform; none where the places lie on one line.
    pub(super) fn new(pairs: &[Pair], warp: Warp) -> Option<Self> {
        let (from, to, local) = framed(pairs)?;
        let form = match warp {
            Warp::Affine => affine(&local)?,
            Warp::Projective => projective(&local)?,
            Warp::ThinPlate => thin_plate(&local)?,
        };
        Some(Self { from, to, form })
    }

    /// Shift, turn and one scale, pixels counted down; none where all places are one.
    pub(super) fn similarity(pairs: &[Pair]) -> Option<Self> {
        let (from, to, local) = framed(pairs)?;
        // x' = a·x + b·y + c, y' = b·x − a·y + d: the y of a pixel runs down
        let mut rows = Vec::new();
        let mut right = Vec::new();
        for (pixel, place) in &local {
            rows.push(vec![pixel.x, pixel.y, 1.0, 0.0]);
            right.push([place.x]);
            rows.push(vec![-pixel.y, pixel.x, 0.0, 1.0]);
            right.push([place.y]);
        }
        let found = least_squares(&rows, &right)?;
        let (a, b, c, d) = (found[0][0], found[1][0], found[2][0], found[3][0]);
        Some(Self { from, to, form: Form::Affine([[a, b], [b, -a], [c, d]]) })
    }

    pub(super) fn apply(&self, at: Coord<f64>) -> Coord<f64> {
        self.to.out(self.form.apply(self.from.into(at)))
    }

    /// The step that undoes a miss near a place, by the slope of the transform there.
    pub(super) fn newton(&self, at: Coord<f64>, miss: Coord<f64>) -> Option<Coord<f64>> {
        let step = 1e-4 * self.from.scale;
        let slope = |by: Coord<f64>| (self.apply(at + by) - self.apply(at - by)) / (2.0 * step);
        let along = slope(Coord { x: step, y: 0.0 });
        let down = slope(Coord { x: 0.0, y: step });
        let area = along.x * down.y - along.y * down.x;
        let by = Coord {
            x: (miss.x * down.y - miss.y * down.x) / area,
            y: (along.x * miss.y - along.y * miss.x) / area,
        };
        (by.x.is_finite() && by.y.is_finite()).then_some(by)
    }
}

fn framed(pairs: &[Pair]) -> Option<(Frame, Frame, Vec<Pair>)> {
    let from = Frame::of(pairs.iter().map(|(pixel, _)| *pixel))?;
    let to = Frame::of(pairs.iter().map(|(_, place)| *place))?;
    let local = pairs.iter().map(|(pixel, place)| (from.into(*pixel), to.into(*place))).collect();
    Some((from, to, local))
}

impl Form {
    fn apply(&self, at: Coord<f64>) -> Coord<f64> {
        match self {
            Self::Affine([a, b, c]) => {
                Coord { x: a[0] * at.x + b[0] * at.y + c[0], y: a[1] * at.x + b[1] * at.y + c[1] }
            }
            Self::Projective(h) => {
                let below = h[6] * at.x + h[7] * at.y + 1.0;
                Coord {
                    x: (h[0] * at.x + h[1] * at.y + h[2]) / below,
                    y: (h[3] * at.x + h[4] * at.y + h[5]) / below,
                }
            }
            Self::ThinPlate { knots, weights, plane } => {
                let mut sum = [0, 1]
                    .map(|side| plane[0][side] + plane[1][side] * at.x + plane[2][side] * at.y);
                for (knot, weight) in knots.iter().zip(weights) {
                    let bend = bend(*knot, at);
                    sum[0] += weight[0] * bend;
                    sum[1] += weight[1] * bend;
                }
                Coord { x: sum[0], y: sum[1] }
            }
        }
    }
}

fn affine(local: &[Pair]) -> Option<Form> {
    let rows: Vec<Vec<f64>> = local.iter().map(|(pixel, _)| vec![pixel.x, pixel.y, 1.0]).collect();
    let right: Vec<[f64; 2]> = local.iter().map(|(_, place)| [place.x, place.y]).collect();
    let found = least_squares(&rows, &right)?;
    let form = [found[0], found[1], found[2]];
    // places on one line leave the picture without an area
    let area = form[0][0] * form[1][1] - form[0][1] * form[1][0];
    (1e-9 < area.abs()).then_some(Form::Affine(form))
}

fn projective(local: &[Pair]) -> Option<Form> {
    affine(local)?;
    let mut rows = Vec::with_capacity(2 * local.len());
    let mut right = Vec::with_capacity(2 * local.len());
    for (Coord { x, y }, place) in local {
        let (u, v) = (place.x, place.y);
        rows.push(vec![*x, *y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y]);
        right.push([u]);
        rows.push(vec![0.0, 0.0, 0.0, *x, *y, 1.0, -v * x, -v * y]);
        right.push([v]);
    }
    let found = least_squares(&rows, &right)?;
    let mut h = [0.0; 8];
    for (value, row) in h.iter_mut().zip(&found) {
        *value = row[0];
    }
    Some(Form::Projective(h))
}

/// `r² · ln r²` between two places.
fn bend(knot: Coord<f64>, at: Coord<f64>) -> f64 {
    let squared = (knot.x - at.x).powi(2) + (knot.y - at.y).powi(2);
    if squared <= 0.0 { 0.0 } else { squared * squared.ln() }
}

fn thin_plate(local: &[Pair]) -> Option<Form> {
    affine(local)?;
    let count = local.len();
    let mut rows = vec![vec![0.0; count + 3]; count + 3];
    let mut right = vec![[0.0; 2]; count + 3];
    for (i, (pixel, place)) in local.iter().enumerate() {
        for (j, (other, _)) in local.iter().enumerate() {
            rows[i][j] = bend(*pixel, *other);
        }
        for (side, value) in [1.0, pixel.x, pixel.y].into_iter().enumerate() {
            rows[i][count + side] = value;
            rows[count + side][i] = value;
        }
        right[i] = [place.x, place.y];
    }
    let found = solve(rows, right)?;
    Some(Form::ThinPlate {
        knots: local.iter().map(|(pixel, _)| *pixel).collect(),
        weights: found[..count].to_vec(),
        plane: [found[count], found[count + 1], found[count + 2]],
    })
}
