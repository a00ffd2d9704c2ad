//! How evenly a community is shared out among its species.

use thiserror::Error;

/// Why there is no index.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum DiversityError {
    /// Nothing was found.
    #[error("no plants were found: diversity is undefined, not zero")]
    NoPlants,
    /// An amount is negative or not a number.
    #[error("amount `{index}` is `{value}`: expected zero or more")]
    NotAnAmount {
        /// Its place, from 0.
        index: usize,
        /// What it is.
        value: f64,
    },
    /// One species leaves nothing to share.
    #[error("only one species was found: evenness is undefined")]
    OneSpecies,
    /// One individual or occurrence has no pair.
    #[error("only one occurrence was counted: no two can be drawn from it")]
    OneOccurrence,
}

/// Base of the logarithm in Shannon's index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LogBase {
    /// Natural logarithm, as lake reports print it.
    Natural,
    /// Base 2, in bits.
    Two,
}

/// Shares of the species that were found; they sum to one. Species not found are left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Shares(Vec<f64>);

impl Shares {
    /// Shares from amounts: occurrences, counts, cover or weight, one a species.
    ///
    /// # Errors
    /// [`DiversityError::NotAnAmount`] for a negative or unreal amount, [`DiversityError::NoPlants`]
    /// when all are zero.
    pub fn of(amounts: &[f64]) -> Result<Self, DiversityError> {
        if let Some(index) = amounts.iter().position(|a| !(a.is_finite() && *a >= 0.0)) {
            return Err(DiversityError::NotAnAmount { index, value: amounts[index] });
        }
        let total: f64 = amounts.iter().sum();
        if total <= 0.0 {
            return Err(DiversityError::NoPlants);
        }
        Ok(Self(amounts.iter().filter(|a| **a > 0.0).map(|a| a / total).collect()))
    }

    /// The shares, in the order of the species found.
    pub fn values(&self) -> &[f64] {
        &self.0
    }

    /// Species found.
    pub fn species(&self) -> usize {
        self.0.len()
    }

    /// Simpson's concentration, the chance that two draws are one species.
    ///
    /// # Formula
    /// `Σp²`.
    fn concentration(&self) -> f64 {
        self.0.iter().map(|p| p * p).sum()
    }

    /// Simpson's index of diversity.
    ///
    /// # Formula
    /// `1 − Σp²`. With `p` the relative frequencies (occurrences of a species over occurrences of
    /// all), this is the index of Wisconsin's lake worksheet.
    /// # Units
    /// Dimensionless, 0 for one species, towards 1 for many even ones.
    /// # References
    /// Simpson (1949), Nature 163: 688; Hauxwell et al. (2010), PUB-SS-1068, Wisconsin DNR (from
    /// memory).
    pub fn simpson(&self) -> f64 {
        1.0 - self.concentration()
    }

    /// Inverse Simpson, the number of equally common species with the same concentration.
    ///
    /// # Formula
    /// `1/Σp²`.
    /// # Units
    /// Species.
    /// # References
    /// Hill (1973), Ecology 54: 427–432 (number of order 2; from memory).
    pub fn inverse_simpson(&self) -> f64 {
        1.0 / self.concentration()
    }

    /// Shannon's index.
    ///
    /// # Formula
    /// `H = −Σ p·log p`.
    /// # Units
    /// Nats or bits, by the base.
    /// # References
    /// Shannon (1948), Bell System Technical Journal 27: 379–423.
    pub fn shannon(&self, base: LogBase) -> f64 {
        let nats = -self.0.iter().map(|p| p * p.ln()).sum::<f64>();
        // one species: −1·ln 1 is −0
        let nats = nats.max(0.0);
        match base {
            LogBase::Natural => nats,
            LogBase::Two => nats / std::f64::consts::LN_2,
        }
    }

    /// Pielou's evenness.
    ///
    /// # Formula
    /// `J = H / ln S`.
    /// # Units
    /// Dimensionless, 1 when all species are equally common.
    /// # Errors
    /// [`DiversityError::OneSpecies`].
    /// # References
    /// Pielou (1966), Journal of Theoretical Biology 13: 131–144 (from memory).
    pub fn evenness(&self) -> Result<f64, DiversityError> {
        if self.species() < 2 {
            return Err(DiversityError::OneSpecies);
        }
        Ok(self.shannon(LogBase::Natural) / (self.species() as f64).ln())
    }
}

/// Simpson's index for draws without replacement.
///
/// # Formula
/// `1 − Σ k(k − 1) / (N(N − 1))`, `N = Σk`.
/// # Units
/// Dimensionless. Counts of individuals or occurrences only, never cover.
/// # Errors
/// [`DiversityError::NoPlants`], [`DiversityError::OneOccurrence`].
/// # References
/// Simpson (1949), Nature 163: 688, the unbiased form.
pub fn simpson_finite(counts: &[u64]) -> Result<f64, DiversityError> {
    let total: u64 = counts.iter().sum();
    match total {
        0 => Err(DiversityError::NoPlants),
        1 => Err(DiversityError::OneOccurrence),
        _ => {
            let pairs = |k: u64| k as f64 * k.saturating_sub(1) as f64;
            let same: f64 = counts.iter().copied().map(pairs).sum();
            Ok(1.0 - same / pairs(total))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;
    use units::decimals;

    /// Occurrences of nine submersed species at 120 sites: UMESC 2002 table 6, Pool 12, contiguous
    /// backwater (coontail, curly, small and longleaf pondweed, sago, stargrass, milfoil,
    /// waternymph, waterweed). Counts recovered from printed frequencies, indices recomputed.
    const POOL_12: [u64; 9] = [31, 1, 1, 8, 13, 6, 6, 1, 1];

    fn shares(counts: &[u64]) -> Shares {
        Shares::of(&counts.iter().map(|k| *k as f64).collect::<Vec<_>>()).unwrap()
    }

    #[test]
    fn usgs_2002_pool_12_relative_frequency_and_diversity() {
        let shares = shares(&POOL_12);
        let printed: Vec<String> = shares.values().iter().map(|p| decimals(p * 100.0, 1)).collect();
        assert_eq!(printed, ["45.6", "1.5", "1.5", "11.8", "19.1", "8.8", "8.8", "1.5", "1.5"]);
        assert_close(shares.simpson(), 0.725_346_0, 5e-8, "Simpson");
        assert_close(shares.inverse_simpson(), 3.640_945, 5e-7, "inverse Simpson");
        assert_close(simpson_finite(&POOL_12).unwrap(), 0.736_172_1, 5e-8, "finite Simpson");
        assert_close(shares.shannon(LogBase::Natural), 1.602_823, 5e-7, "Shannon");
    }

    #[test]
    fn a_species_never_found_changes_nothing() {
        let mut with_celery = POOL_12.to_vec();
        with_celery.push(0);
        assert_eq!(shares(&with_celery), shares(&POOL_12));
    }

    #[test]
    fn small_vectors_of_the_scikit_bio_manual() {
        // scikit-bio 0.6, alpha diversity tests
        let counts = shares(&[0, 1, 1, 4, 2, 5, 2, 4, 1, 2]);
        assert_eq!(counts.species(), 9);
        assert_close(counts.evenness().unwrap(), 0.924_854_905_6, 5e-11, "evenness");
        assert_close(shares(&[1, 0, 2, 5, 2]).simpson(), 0.66, 1e-12, "Simpson");
        let even = shares(&[1, 1, 1, 1, 0]);
        assert_close(even.shannon(LogBase::Two), 2.0, 1e-12, "Shannon, bits");
        assert_close(even.inverse_simpson(), 4.0, 1e-12, "equally common species");
    }

    #[test]
    fn a_lake_without_plants_has_no_diversity() {
        assert_eq!(Shares::of(&[0.0, 0.0]), Err(DiversityError::NoPlants));
        assert_eq!(Shares::of(&[]), Err(DiversityError::NoPlants));
        assert_eq!(simpson_finite(&[]), Err(DiversityError::NoPlants));
    }

    #[test]
    fn one_species_has_diversity_zero_and_no_evenness() {
        let one = shares(&[7]);
        assert_close(one.simpson(), 0.0, 0.0, "Simpson");
        assert_close(one.shannon(LogBase::Natural), 0.0, 0.0, "Shannon");
        assert_eq!(one.evenness(), Err(DiversityError::OneSpecies));
        assert_eq!(simpson_finite(&[1]), Err(DiversityError::OneOccurrence));
    }

    #[test]
    fn an_amount_below_zero_is_named() {
        let error = Shares::of(&[2.0, -1.0]).unwrap_err();
        assert_eq!(error.to_string(), "amount `1` is `-1`: expected zero or more");
        assert!(Shares::of(&[2.0, f64::NAN]).is_err());
    }
}
