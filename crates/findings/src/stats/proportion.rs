use super::distribution::normal_quantile;
use std::fmt;
use thiserror::Error;

/// `k` of `n`: a share whose denominator is never lost and is never zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Proportion {
    successes: u64,
    trials: u64,
}

/// Why two counts are no proportion.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ProportionError {
    /// Nothing was looked at, so no share exists; it is not zero.
    #[error(
        "a share of `0` sites does not exist\nhint: record at least one sampled site, or leave the figure out"
    )]
    NoTrials,
    /// More found than looked at.
    #[error("found at `{successes}` of `{trials}` sites: expected at most `{trials}`")]
    MoreThanTrials {
        /// Sites with the thing.
        successes: u64,
        /// Sites looked at.
        trials: u64,
    },
}

impl Proportion {
    /// `successes` of `trials`.
    ///
    /// # Errors
    /// [`ProportionError`] when nothing was looked at, or more was found than looked at.
    pub const fn new(successes: u64, trials: u64) -> Result<Self, ProportionError> {
        if trials == 0 {
            Err(ProportionError::NoTrials)
        } else if successes > trials {
            Err(ProportionError::MoreThanTrials { successes, trials })
        } else {
            Ok(Self { successes, trials })
        }
    }

    /// The numerator, `k`.
    pub const fn successes(self) -> u64 {
        self.successes
    }

    /// The denominator, `n`.
    pub const fn trials(self) -> u64 {
        self.trials
    }

    /// `n − k`.
    pub const fn failures(self) -> u64 {
        self.trials - self.successes
    }

    /// `k / n`.
    pub fn value(self) -> f64 {
        self.successes as f64 / self.trials as f64
    }
}

impl fmt::Display for Proportion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} of {}", self.successes, self.trials)
    }
}

/// How sure an interval is to hold the truth in the long run: 0.95 for 95 %.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Confidence(f64);

/// A level that is no level.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("confidence `{level}` is not between 0 and 1\nhint: write 95 % as `0.95`")]
pub struct ConfidenceError {
    /// What was given.
    pub level: f64,
}

impl Confidence {
    /// The level of every interval the program prints.
    pub const NINETY_FIVE: Self = Self(0.95);

    /// A level strictly between 0 and 1.
    ///
    /// # Errors
    /// [`ConfidenceError`] for anything else, NaN included.
    pub fn new(level: f64) -> Result<Self, ConfidenceError> {
        if level > 0.0 && level < 1.0 { Ok(Self(level)) } else { Err(ConfidenceError { level }) }
    }

    /// The level itself, 0.95 for 95 %.
    pub const fn level(self) -> f64 {
        self.0
    }

    /// `1 − level`.
    pub fn alpha(self) -> f64 {
        1.0 - self.0
    }

    /// The two-sided standard normal critical value, 1.959964 for 95 %.
    pub fn z(self) -> f64 {
        normal_quantile(0.5 + self.0 / 2.0)
    }
}

/// Two ends of an interval, in the unit of the figure it belongs to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Which departures from the null hypothesis count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alternative {
    /// Either way.
    TwoSided,
    /// Smaller than the null value (for two groups: the first smaller than the second).
    Less,
    /// Greater than the null value (for two groups: the first greater than the second).
    Greater,
}

/// Whether a smooth distribution standing in for counts is moved by half a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Continuity {
    /// With the correction (Yates for chi-squared tests).
    Corrected,
    /// Without.
    Uncorrected,
}

/// A chi-squared statistic and its upper tail.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChiSquared {
    /// `χ²`.
    pub statistic: f64,
    /// Degrees of freedom.
    pub degrees_of_freedom: u32,
    /// Upper tail probability.
    pub p: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_of_nothing_is_refused() {
        assert_eq!(Proportion::new(0, 0), Err(ProportionError::NoTrials));
        assert!(Proportion::new(0, 0).unwrap_err().to_string().contains("does not exist"));
    }

    #[test]
    fn more_found_than_looked_at_is_refused() {
        let error = Proportion::new(8, 7).unwrap_err();
        assert_eq!(error.to_string(), "found at `8` of `7` sites: expected at most `7`");
    }

    #[test]
    fn a_level_in_percent_is_refused() {
        assert!(Confidence::new(95.0).is_err());
        assert!(Confidence::new(f64::NAN).is_err());
    }
}
