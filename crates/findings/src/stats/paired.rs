//! The same sites visited twice: the four ways a site can go, and the difference they make.

use super::interval::{IntervalMethod, interval};
use super::{Confidence, Interval, Proportion, ProportionError};

/// Sites sampled in both surveys, by what was found at each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PairedSites {
    /// Found both times.
    pub both: u64,
    /// Found the first time only.
    pub lost: u64,
    /// Found the second time only.
    pub gained: u64,
    /// Found neither time.
    pub neither: u64,
}

impl PairedSites {
    /// Adds one site.
    pub fn count(&mut self, first: bool, second: bool) {
        match (first, second) {
            (true, true) => self.both += 1,
            (true, false) => self.lost += 1,
            (false, true) => self.gained += 1,
            (false, false) => self.neither += 1,
        }
    }

    /// Sites in all.
    pub const fn total(self) -> u64 {
        self.both + self.lost + self.gained + self.neither
    }

    /// Frequency the first time.
    ///
    /// # Errors
    /// [`ProportionError::NoTrials`] when no site was sampled twice.
    pub const fn first(self) -> Result<Proportion, ProportionError> {
        Proportion::new(self.both + self.lost, self.total())
    }

    /// Frequency the second time.
    ///
    /// # Errors
    /// [`ProportionError::NoTrials`] when no site was sampled twice.
    pub const fn second(self) -> Result<Proportion, ProportionError> {
        Proportion::new(self.both + self.gained, self.total())
    }
}

/// The interval for the difference `second − first` on the same sites.
///
/// # Formula
/// With Wilson limits `l, u` of each frequency and `φ` the correlation of the two visits:
/// low `d − √((p₂−l₂)² − 2φ(p₂−l₂)(u₁−p₁) + (u₁−p₁)²)`,
/// high `d + √((u₂−p₂)² − 2φ(u₂−p₂)(p₁−l₁) + (p₁−l₁)²)`, `d = (gained − lost)/n`.
/// `φ = C/√(product of the four margins)`, `B = both·neither − gained·lost`, `C = B − n/2` when
/// `B > n/2`, 0 when `0 ≤ B ≤ n/2`, `B` when negative; `φ = 0` when a margin is empty.
/// # Units
/// A difference of proportions, −1 to 1.
/// # Assumptions
/// The same sites both times; sites independent of one another.
/// # Errors
/// [`ProportionError::NoTrials`] when no site was sampled twice.
/// # References
/// Newcombe (1998), Statistics in Medicine 17: 2635–2650, method 10.
pub fn difference_interval(
    sites: PairedSites,
    level: Confidence,
) -> Result<Interval, ProportionError> {
    let (first, second) = (sites.first()?, sites.second()?);
    let (p1, p2) = (first.value(), second.value());
    let one = interval(first, IntervalMethod::Wilson, level);
    let two = interval(second, IntervalMethod::Wilson, level);
    let phi = corrected_correlation(sites, first, second);
    let combine = |a: f64, b: f64| (a * a - 2.0 * phi * a * b + b * b).max(0.0).sqrt();
    let difference = (sites.gained as f64 - sites.lost as f64) / sites.total() as f64;
    Ok(Interval {
        low: difference - combine(p2 - two.low, one.high - p1),
        high: difference + combine(two.high - p2, p1 - one.low),
    })
}

fn corrected_correlation(sites: PairedSites, first: Proportion, second: Proportion) -> f64 {
    let margins = first.successes() as f64
        * first.failures() as f64
        * second.successes() as f64
        * second.failures() as f64;
    if margins <= 0.0 {
        return 0.0;
    }
    let agreement =
        sites.both as f64 * sites.neither as f64 - sites.gained as f64 * sites.lost as f64;
    let half = sites.total() as f64 / 2.0;
    let corrected = if agreement > 0.0 { (agreement - half).max(0.0) } else { agreement };
    corrected / margins.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::{assert_close, two_proportions};

    fn sites(both: u64, lost: u64, gained: u64, neither: u64) -> PairedSites {
        PairedSites { both, lost, gained, neither }
    }

    #[test]
    fn fagerland_2014_square_and_add_interval() {
        // Fagerland, Lydersen & Laake (2014), Statistics in Medicine 33: 2850–2875, two examples.
        // Cavo et al. 2012: interval as printed by the authors' R package contingencytables;
        // Bentur et al. 2009: printed interval from memory, to three decimals.
        let rows = [
            ("Cavo", sites(59, 6, 16, 80), 0.0621, (0.0046, 0.1186), 5e-5),
            ("Bentur", sites(1, 1, 7, 12), 0.2857, (0.026, 0.507), 5e-4),
        ];
        for (name, table, difference, (low, high), tolerance) in rows {
            let value = table.second().unwrap().value() - table.first().unwrap().value();
            assert_close(value, difference, 5e-5, name);
            let got = difference_interval(table, Confidence::NINETY_FIVE).unwrap();
            assert_close(got.low, low, tolerance, name);
            assert_close(got.high, high, tolerance, name);
        }
    }

    #[test]
    fn newcombe_1998_paired_difference() {
        // Statistics in Medicine 17: 2635–2650, method 10 on 36, 12, 2, 0; figures from memory
        let got = difference_interval(sites(36, 12, 2, 0), Confidence::NINETY_FIVE).unwrap();
        assert_close(got.low, -0.3404, 5e-5, "low");
        assert_close(got.high, -0.0569, 5e-5, "high");
    }

    #[test]
    fn visits_that_do_not_correlate_give_the_independent_interval() {
        // both·neither = gained·lost, so phi is 0 and the two methods are one formula
        let table = sites(6, 18, 14, 42);
        let paired = difference_interval(table, Confidence::NINETY_FIVE).unwrap();
        let independent = two_proportions::difference_interval(
            table.first().unwrap(),
            table.second().unwrap(),
            Confidence::NINETY_FIVE,
        );
        assert_close(paired.low, independent.low, 1e-15, "low");
        assert_close(paired.high, independent.high, 1e-15, "high");
    }

    #[test]
    fn sites_that_keep_their_state_narrow_the_interval() {
        let steady = difference_interval(sites(30, 2, 4, 64), Confidence::NINETY_FIVE).unwrap();
        let restless = difference_interval(sites(12, 20, 22, 46), Confidence::NINETY_FIVE).unwrap();
        assert!(steady.high - steady.low < 0.6 * (restless.high - restless.low));
    }

    #[test]
    fn no_shared_site_has_no_difference() {
        let error = difference_interval(PairedSites::default(), Confidence::NINETY_FIVE);
        assert_eq!(error, Err(ProportionError::NoTrials));
    }
}
