use crate::stats::interval::{IntervalMethod, interval, standard_error};
use crate::stats::{Confidence, Proportion};

/// Frequency of occurrence: `k` of `n` sites, with its standard error and its 95 % interval.
///
/// # Units
/// Proportions. All four are `None` when `n` is 0: nothing was looked at, which is not zero. The
/// standard error is also `None` for a single site.
/// # References
/// Wilson interval: Newcombe (1998), Statistics in Medicine 17: 857–872; standard error with `n − 1`
/// as in the tables of the U.S. Geological Survey's Long Term Resource Monitoring (2002).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frequency {
    /// Sites where found.
    pub k: usize,
    /// Sites looked at.
    pub n: usize,
    /// `k / n`.
    pub p: Option<f64>,
    /// Standard error.
    pub se: Option<f64>,
    /// Lower limit.
    pub low: Option<f64>,
    /// Upper limit.
    pub high: Option<f64>,
}

impl Frequency {
    /// `k` of `n`; more than `n` counts as `n`.
    pub fn of(k: usize, n: usize) -> Self {
        let k = k.min(n);
        let Ok(share) = Proportion::new(k as u64, n as u64) else {
            return Self { k, n, p: None, se: None, low: None, high: None };
        };
        let limits = interval(share, IntervalMethod::Wilson, Confidence::NINETY_FIVE);
        Self {
            k,
            n,
            p: Some(share.value()),
            se: standard_error(share),
            low: Some(limits.low),
            high: Some(limits.high),
        }
    }

    /// The share as a proportion; none when nothing was looked at.
    pub fn proportion(self) -> Option<Proportion> {
        Proportion::new(self.k as u64, self.n as u64).ok()
    }
}
