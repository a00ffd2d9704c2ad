//! How common a plant is when the rake does not always find it: occupancy from repeated throws.

use super::{Confidence, Estimate};
use thiserror::Error;

/// What the throws at one site gave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Throws {
    /// Throws that brought it up.
    pub found: u32,
    /// Throws made.
    pub thrown: u32,
}

/// Why there is no estimate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum OccupancyError {
    /// Nothing was thrown.
    #[error("no site has a rake throw")]
    NoThrows,
    /// More found than thrown.
    #[error("found on `{found}` of `{thrown}` throws: expected at most `{thrown}`")]
    MoreThanThrown {
        /// Throws with it.
        found: u32,
        /// Throws made.
        thrown: u32,
    },
    /// One throw a site cannot tell rare from hard to find.
    #[error(
        "no site has two throws: a rare plant and one that is hard to find look alike\nhint: throw the rake at least twice at some sites"
    )]
    NotRepeated,
    /// Never found: its detection is unknown.
    #[error("never found: the chance that a throw finds it cannot be told from these throws")]
    NeverFound,
}

/// A fitted model.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Occupancy {
    /// Share of sites it stands at, `ψ`.
    pub occupancy: Estimate,
    /// Standard error of `ψ`; none at the edge, where the curvature says nothing.
    pub occupancy_se: Option<f64>,
    /// Chance that one throw finds it where it stands, `p`.
    pub detection: Estimate,
    /// Standard error of `p`; none at the edge.
    pub detection_se: Option<f64>,
    /// Share of sites where it was found, for comparison.
    pub naive: f64,
    /// Sites.
    pub sites: usize,
    /// Largest number of throws at a site.
    pub most_throws: u32,
    /// Chance that a site which has it showed none, at that number of throws.
    pub missed_at_site: f64,
    /// Chance that a plant with this occupancy and detection is missed at every site.
    pub missed_everywhere: f64,
    /// Log likelihood at the estimate.
    pub log_likelihood: f64,
}

/// Sites with equal results taken together, with their number.
#[derive(Debug)]
struct Tally(Vec<(Throws, f64)>);

impl Tally {
    fn of(sites: &[Throws]) -> Self {
        let mut sorted = sites.to_vec();
        sorted.sort_unstable();
        Self(sorted.chunk_by(|a, b| a == b).map(|same| (same[0], same.len() as f64)).collect())
    }

    fn log_likelihood(&self, psi: f64, p: f64) -> f64 {
        let term = |throws: Throws| {
            let (found, blank) = (f64::from(throws.found), f64::from(throws.thrown - throws.found));
            let here = psi * p.powf(found) * (1.0 - p).powf(blank);
            if throws.found > 0 { here.ln() } else { (here + 1.0 - psi).ln() }
        };
        // a count of zero times minus infinity is nothing
        self.0.iter().map(|(throws, sites)| sites * term(*throws)).sum()
    }

    /// One step of the EM algorithm: sites that have it for sure or by chance.
    fn better(&self, psi: f64, p: f64, fixed: Fixed) -> (f64, f64) {
        let (mut there, mut found, mut thrown, mut sites) = (0.0, 0.0, 0.0, 0.0);
        for (throws, number) in &self.0 {
            let chance = if throws.found > 0 {
                1.0
            } else {
                let missed = psi * (1.0 - p).powf(f64::from(throws.thrown));
                if missed > 0.0 { missed / (missed + 1.0 - psi) } else { 0.0 }
            };
            there += number * chance;
            found += number * f64::from(throws.found);
            thrown += number * chance * f64::from(throws.thrown);
            sites += number;
        }
        match fixed {
            Fixed::Nothing => (there / sites, found / thrown),
            Fixed::Occupancy => (psi, found / thrown),
            Fixed::Detection => (there / sites, p),
        }
    }

    /// Climbs to the top, squaring the step of the EM algorithm when that helps.
    fn climb(&self, start: (f64, f64), fixed: Fixed) -> (f64, f64) {
        let inside = |v: f64| v.clamp(1e-12, 1.0 - 1e-12);
        let mut at = start;
        let mut height = self.log_likelihood(at.0, at.1);
        for _ in 0..2_000 {
            let one = self.better(at.0, at.1, fixed);
            let two = self.better(one.0, one.1, fixed);
            // squared extrapolation (Varadhan & Roland 2008)
            let r = (one.0 - at.0, one.1 - at.1);
            let v = (two.0 - one.0 - r.0, two.1 - one.1 - r.1);
            let (long, bend) = (r.0.hypot(r.1), v.0.hypot(v.1));
            let mut next = two;
            if bend > 1e-300 {
                let step = (long / bend).max(1.0);
                let far = |x: f64, r: f64, v: f64| inside(x + 2.0 * step * r + step * step * v);
                let jump = (far(at.0, r.0, v.0), far(at.1, r.1, v.1));
                let jump = match fixed {
                    Fixed::Nothing => jump,
                    Fixed::Occupancy => (at.0, jump.1),
                    Fixed::Detection => (jump.0, at.1),
                };
                if self.log_likelihood(jump.0, jump.1) > self.log_likelihood(two.0, two.1) {
                    next = jump;
                }
            }
            let higher = self.log_likelihood(next.0, next.1);
            let moved = (next.0 - at.0).abs().max((next.1 - at.1).abs());
            at = next;
            if moved < 1e-12 && higher - height < 1e-12 {
                break;
            }
            height = higher;
        }
        at
    }

    /// Ends of the profile likelihood interval of one of the two.
    fn profile(&self, best: (f64, f64), fixed: Fixed, level: Confidence) -> (f64, f64) {
        let top = self.log_likelihood(best.0, best.1);
        let allowed = level.z().powi(2) / 2.0;
        let drop = |value: f64| {
            let start = match fixed {
                Fixed::Occupancy => (value, best.1),
                _ => (best.0.max(1e-6), value),
            };
            let at = self.climb(start, fixed);
            top - self.log_likelihood(at.0, at.1)
        };
        let middle = match fixed {
            Fixed::Occupancy => best.0,
            _ => best.1,
        };
        let end = |outer: f64| {
            if drop(outer) <= allowed {
                return outer;
            }
            let (mut inside, mut outside) = (middle, outer);
            for _ in 0..40 {
                let half = f64::midpoint(inside, outside);
                if drop(half) <= allowed { inside = half } else { outside = half }
            }
            f64::midpoint(inside, outside)
        };
        (end(1e-9), end(1.0 - 1e-9))
    }

    /// Inverse of the observed information at an inner maximum.
    fn standard_errors(&self, psi: f64, p: f64) -> Option<(f64, f64)> {
        if psi > 1.0 - 1e-7 || p > 1.0 - 1e-7 || psi < 1e-9 || p < 1e-9 {
            return None;
        }
        let (mut aa, mut ab, mut bb) = (0.0, 0.0, 0.0);
        for (throws, number) in &self.0 {
            let (found, thrown) = (f64::from(throws.found), f64::from(throws.thrown));
            if throws.found > 0 {
                aa += number / (psi * psi);
                bb += number * (found / (p * p) + (thrown - found) / (1.0 - p).powi(2));
            } else {
                // L = ψ·q + 1 − ψ with q = (1 − p)ᴷ
                let q = (1.0 - p).powf(thrown);
                let dq = -thrown * (1.0 - p).powf(thrown - 1.0);
                let ddq = thrown * (thrown - 1.0) * (1.0 - p).powf(thrown - 2.0);
                let l = psi * q + 1.0 - psi;
                aa += number * ((q - 1.0) / l).powi(2);
                ab += number * ((q - 1.0) * psi * dq / (l * l) - dq / l);
                bb += number * ((psi * dq / l).powi(2) - psi * ddq / l);
            }
        }
        let determinant = aa * bb - ab * ab;
        (determinant > 0.0 && aa > 0.0)
            .then(|| ((bb / determinant).sqrt(), (aa / determinant).sqrt()))
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fixed {
    Nothing,
    Occupancy,
    Detection,
}

/// Single-season occupancy with one `ψ` and one `p`, throws standing for visits.
///
/// # Formula
/// Likelihood of a site with `d` of `K` throws: `ψ·pᵈ(1 − p)^(K−d)`, plus `1 − ψ` when `d = 0`.
/// Maximum by the EM algorithm; standard errors from the observed information; intervals from the
/// profile likelihood: all values whose likelihood is within `χ²₁(0.95)/2` of the top.
/// # Units
/// Probabilities.
/// # Assumptions
/// A plant stays where it is between throws; throws find independently, everywhere alike. Where sites
/// differ in how easily a plant is found, `ψ` comes out too low.
/// # Errors
/// [`OccupancyError`] when no site was thrown at twice or the plant was never found.
/// # References
/// MacKenzie et al. (2002), Ecology 83: 2248–2255; EM: Dempster, Laird & Rubin (1977) (from memory).
pub fn occupancy(sites: &[Throws]) -> Result<Occupancy, OccupancyError> {
    if let Some(odd) = sites.iter().find(|site| site.found > site.thrown) {
        return Err(OccupancyError::MoreThanThrown { found: odd.found, thrown: odd.thrown });
    }
    let thrown: Vec<Throws> = sites.iter().copied().filter(|site| site.thrown > 0).collect();
    let most_throws =
        thrown.iter().map(|site| site.thrown).max().ok_or(OccupancyError::NoThrows)?;
    if most_throws < 2 {
        return Err(OccupancyError::NotRepeated);
    }
    let with = thrown.iter().filter(|site| site.found > 0).count();
    if with == 0 {
        return Err(OccupancyError::NeverFound);
    }
    let naive = with as f64 / thrown.len() as f64;
    let tally = Tally::of(&thrown);
    let best = tally.climb((f64::midpoint(naive, 1.0), 0.5), Fixed::Nothing);
    let (psi, p) = best;
    let level = Confidence::NINETY_FIVE;
    let errors = tally.standard_errors(psi, p);
    let of = |value: f64, (low, high): (f64, f64)| Estimate {
        value,
        low: low.min(value),
        high: high.max(value),
    };
    let missed = |site: &Throws| (1.0 - p).powf(f64::from(site.thrown));
    Ok(Occupancy {
        occupancy: of(psi, tally.profile(best, Fixed::Occupancy, level)),
        occupancy_se: errors.map(|(psi, _)| psi),
        detection: of(p, tally.profile(best, Fixed::Detection, level)),
        detection_se: errors.map(|(_, p)| p),
        naive,
        sites: thrown.len(),
        most_throws,
        missed_at_site: (1.0 - p).powf(f64::from(most_throws)),
        missed_everywhere: thrown.iter().map(|site| 1.0 - psi * (1.0 - missed(site))).product(),
        log_likelihood: tally.log_likelihood(psi, p),
    })
}

/// Chance that `sites` sites of `throws` throws miss a plant that stands at a share of them.
///
/// # Formula
/// `(1 − ψ(1 − (1 − p)ᴷ))ⁿ`.
/// # Units
/// A probability; arguments outside 0..1 are taken as the nearest end.
/// # References
/// McArdle (1990), Oikos 57: 276–277 (from memory).
pub fn missed_everywhere(occupancy: f64, detection: f64, throws: u32, sites: usize) -> f64 {
    let (psi, p) = (occupancy.clamp(0.0, 1.0), detection.clamp(0.0, 1.0));
    (1.0 - psi * (1.0 - (1.0 - p).powf(f64::from(throws)))).powf(sites as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Draw;
    use crate::stats::assert_close;

    fn sites(of: &[(u32, u32, usize)]) -> Vec<Throws> {
        of.iter()
            .flat_map(|(found, thrown, times)| {
                std::iter::repeat_n(Throws { found: *found, thrown: *thrown }, *times)
            })
            .collect()
    }

    #[test]
    fn mackenzie_2002_two_throws_have_a_closed_form() {
        // with two throws at every site: p = 2·n₂/(n₁ + 2·n₂), ψ = (n₁ + 2·n₂)²/(4·n₂·N)
        let (n1, n2, none) = (24_usize, 36_usize, 60_usize);
        let got = occupancy(&sites(&[(1, 2, n1), (2, 2, n2), (0, 2, none)])).unwrap();
        let (once, twice) = (n1 as f64, n2 as f64);
        assert_close(got.detection.value, 2.0 * twice / (once + 2.0 * twice), 1e-9, "p");
        let psi = (once + 2.0 * twice).powi(2) / (4.0 * twice * 120.0);
        assert_close(got.occupancy.value, psi, 1e-9, "psi");
        assert_close(got.naive, 0.5, 1e-12, "naive");
        assert_close(got.missed_at_site, 0.25 * 0.25, 1e-9, "p is three quarters");
    }

    #[test]
    fn the_curvature_agrees_with_differences_of_the_likelihood() {
        let data = sites(&[(1, 3, 14), (2, 3, 9), (3, 3, 4), (0, 3, 50), (0, 1, 6), (1, 2, 3)]);
        let got = occupancy(&data).unwrap();
        let tally = Tally::of(&data);
        let (x, y, h) = (got.occupancy.value, got.detection.value, 1e-4);
        let at = |a: f64, b: f64| tally.log_likelihood(x + a * h, y + b * h);
        let xx = -(at(1.0, 0.0) - 2.0 * at(0.0, 0.0) + at(-1.0, 0.0)) / (h * h);
        let yy = -(at(0.0, 1.0) - 2.0 * at(0.0, 0.0) + at(0.0, -1.0)) / (h * h);
        let xy = -(at(1.0, 1.0) - at(1.0, -1.0) - at(-1.0, 1.0) + at(-1.0, -1.0)) / (4.0 * h * h);
        let determinant = xx * yy - xy * xy;
        assert_close(got.occupancy_se.unwrap(), (yy / determinant).sqrt(), 1e-5, "psi");
        assert_close(got.detection_se.unwrap(), (xx / determinant).sqrt(), 1e-5, "p");
        // ends of the profile lie where the likelihood has dropped by 1.920729
        let end = tally.climb((got.occupancy.low, 0.5), Fixed::Occupancy);
        let drop = got.log_likelihood - tally.log_likelihood(end.0, end.1);
        assert_close(drop, 1.920_729, 1e-4, "drop");
    }

    #[test]
    fn found_by_every_throw_is_found_where_it_is() {
        let got = occupancy(&sites(&[(2, 2, 30), (0, 2, 70)])).unwrap();
        assert_close(got.occupancy.value, 0.3, 1e-6, "psi");
        assert!(got.detection.value > 1.0 - 1e-6 && got.detection.low > 0.9);
        assert_eq!(got.detection_se, None);
        assert_close(got.missed_at_site, 0.0, 1e-9, "missed");
    }

    #[test]
    fn hard_to_find_may_stand_everywhere() {
        // one of two throws now and then and never both: everything up to every site is as likely
        let got = occupancy(&sites(&[(1, 2, 20), (0, 2, 30)])).unwrap();
        assert!(got.occupancy.value > 0.999 && got.occupancy.high > 0.999, "{got:?}");
        assert!(got.occupancy.low > 0.4 && got.detection.value < 0.21);
    }

    #[test]
    fn simulated_lakes_come_out_as_they_were_made() {
        let (psi, p, mut draw) = (0.4, 0.5, Draw::new(17));
        let (mut covered, mut sum, lakes) = (0, 0.0, 300);
        for _ in 0..lakes {
            let data: Vec<Throws> = (0..150)
                .map(|_| {
                    let there = draw.unit() < psi;
                    let found = (0..3).filter(|_| draw.unit() < p && there).count() as u32;
                    Throws { found, thrown: 3 }
                })
                .collect();
            let got = occupancy(&data).unwrap();
            sum += got.occupancy.value;
            covered += i32::from(got.occupancy.low <= psi && psi <= got.occupancy.high);
        }
        assert_close(sum / f64::from(lakes), psi, 0.01, "mean");
        let covered = f64::from(covered) / f64::from(lakes);
        assert!((0.915..=0.985).contains(&covered), "covered {covered}");
    }

    #[test]
    fn throws_that_cannot_tell_are_refused() {
        assert_eq!(occupancy(&[]), Err(OccupancyError::NoThrows));
        assert_eq!(occupancy(&sites(&[(1, 1, 5), (0, 1, 9)])), Err(OccupancyError::NotRepeated));
        assert_eq!(occupancy(&sites(&[(0, 2, 9)])), Err(OccupancyError::NeverFound));
        let odd = occupancy(&sites(&[(3, 2, 1)]));
        assert_eq!(odd, Err(OccupancyError::MoreThanThrown { found: 3, thrown: 2 }));
        // 0.63 found by one throw, twenty sites, a tenth of them occupied (Bajcz et al. 2024)
        assert_close(missed_everywhere(0.1, 0.63, 1, 20), 0.937_f64.powi(20), 1e-12, "missed");
    }
}
