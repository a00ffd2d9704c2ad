/// How unlike points are at a distance: `γ(h) = nugget + partial·(1 − e^(−3h/range))`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Variogram {
    /// Unlikeness of points at one place: patchiness finer than the points, and throws that miss.
    pub nugget: f64,
    /// What distance adds.
    pub partial: f64,
    /// Distance in metres at which 95 % of it is reached.
    pub range: f64,
}

/// Classes of distance.
const LAGS: usize = 15;

impl Variogram {
    /// Fits the exponential form to zeros and ones.
    ///
    /// # Formula
    /// Mean of `½(yᵢ − yⱼ)²` in 15 classes of distance up to a third of the greatest; for each of 60
    /// ranges the two amounts by least squares weighted with the pairs, none below zero; the range
    /// with the least rest.
    /// # References
    /// Cressie (1993), Statistics for Spatial Data, section 2.6 (from memory).
    pub(super) fn fit(points: &[([f64; 2], f64)]) -> Self {
        let far = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
        let bound = |axis: usize| {
            let values = points.iter().map(|(place, _)| place[axis]);
            values.clone().fold(f64::MIN, f64::max) - values.fold(f64::MAX, f64::min)
        };
        let reach = bound(0).hypot(bound(1)) / 3.0;
        let mut sums = [(0.0, 0.0, 0.0); LAGS];
        for (number, (place, value)) in points.iter().enumerate() {
            for (other, other_value) in &points[..number] {
                let h = far(*place, *other);
                if h < reach {
                    let sum = &mut sums[((h / reach * LAGS as f64) as usize).min(LAGS - 1)];
                    sum.0 += 1.0;
                    sum.1 += h;
                    sum.2 += (value - other_value).powi(2) / 2.0;
                }
            }
        }
        let lags: Vec<(f64, f64, f64)> = sums
            .iter()
            .filter(|(pairs, _, _)| *pairs > 0.0)
            .map(|(pairs, h, gamma)| (*pairs, h / pairs, gamma / pairs))
            .collect();
        let mean = points.iter().map(|(_, value)| value).sum::<f64>() / points.len() as f64;
        let mut best = (
            f64::INFINITY,
            Self { nugget: mean * (1.0 - mean), partial: 0.0, range: reach.max(1.0) },
        );
        for step in 0..60 {
            let range = reach.max(1.0) * 0.02 * 1.12_f64.powi(step);
            let (rest, fitted) = amounts(&lags, range);
            if rest < best.0 * (1.0 - 1e-9) {
                best = (rest, fitted);
            }
        }
        best.1
    }

    /// Covariance of two different places.
    pub(super) fn covariance(&self, distance: f64) -> f64 {
        self.partial * (-3.0 * distance / self.range).exp()
    }

    /// Variance of one point.
    pub(super) fn sill(&self) -> f64 {
        self.nugget + self.partial
    }
}

/// Nugget and partial sill for a range, and the weighted rest.
fn amounts(lags: &[(f64, f64, f64)], range: f64) -> (f64, Variogram) {
    let shape = |h: f64| 1.0 - (-3.0 * h / range).exp();
    let (mut w, mut wf, mut wff, mut wg, mut wfg) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (pairs, h, gamma) in lags {
        let f = shape(*h);
        w += pairs;
        wf += pairs * f;
        wff += pairs * f * f;
        wg += pairs * gamma;
        wfg += pairs * f * gamma;
    }
    let determinant = w * wff - wf * wf;
    let (mut nugget, mut partial) = if determinant > 1e-12 * w * wff {
        ((wg * wff - wf * wfg) / determinant, (w * wfg - wf * wg) / determinant)
    } else {
        (wg / w, 0.0)
    };
    if nugget < 0.0 {
        (nugget, partial) = (0.0, wfg / wff);
    }
    if partial < 0.0 {
        (nugget, partial) = (wg / w, 0.0);
    }
    let rest = lags
        .iter()
        .map(|(pairs, h, gamma)| pairs * (gamma - nugget - partial * shape(*h)).powi(2))
        .sum();
    (rest, Variogram { nugget, partial, range })
}
