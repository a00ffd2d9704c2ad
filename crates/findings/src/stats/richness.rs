//! How many species there are, the ones not found included.

use super::distribution::normal_quantile;
use super::{Confidence, Interval};
use thiserror::Error;

/// In how many of the sampled sites each species was found; species never found are left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IncidenceFrequencies {
    sites: u64,
    counts: Vec<u64>,
}

/// Which species were found at which sites.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Incidence {
    frequencies: IncidenceFrequencies,
    /// For each species found, the sites it was found at, in order.
    places: Vec<Vec<usize>>,
}

/// Why there is no estimate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum RichnessError {
    /// Too few sites.
    #[error("`{sites}` sampled sites are too few: expected at least `{expected}`")]
    TooFewSites {
        /// Sites given.
        sites: u64,
        /// Sites needed.
        expected: u64,
    },
    /// Nothing was found.
    #[error("no plants were found: the number of species cannot be estimated")]
    NoPlants,
    /// A species at more sites than there are.
    #[error("a species at `{found}` of `{sites}` sites: expected at most `{sites}`")]
    MoreThanSites {
        /// Sites with the species.
        found: u64,
        /// Sites sampled.
        sites: u64,
    },
}

/// Form of Chao's lower bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChaoForm {
    /// `S + a·Q₁²/(2Q₂)`; when no species was found exactly twice, the bias-corrected form.
    Classic,
    /// `S + a·Q₁(Q₁ − 1)/(2(Q₂ + 1))`.
    BiasCorrected,
}

/// The factor `a` of Chao's lower bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SampleFactor {
    /// `a = (T − 1)/T`, `T` the sites (or individuals).
    Applied,
    /// `a = 1`, as in older programs.
    Omitted,
}

/// Chao's lower bound of the number of species.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chao {
    /// Species seen.
    pub observed: u64,
    /// Lower bound of all species.
    pub value: f64,
    /// Standard error.
    pub standard_error: f64,
    /// Interval on the log scale, never below the number seen.
    pub interval: Interval,
    /// Form used.
    pub form: ChaoForm,
}

/// Whose standard error of a jackknife.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JackknifeError {
    /// Heltshe & Forrester (1983): `((T−1)/T)(Σr² − Q₁²/T)`.
    HeltsheForrester1983,
    /// Smith & van Belle (1984) as the R library vegan has it: `((T−1)/T)(Σr² − Q₁/T)`.
    SmithVanBelle1984,
    /// Burnham & Overton (1978): from the counts alone; the only one for the second order.
    BurnhamOverton1978,
}

/// A jackknife or bootstrap estimate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RichnessEstimate {
    /// Species estimated.
    pub value: f64,
    /// Standard error.
    pub standard_error: f64,
}

impl IncidenceFrequencies {
    /// Frequencies over `sites` sampled sites; zeros are dropped.
    ///
    /// # Errors
    /// [`RichnessError::MoreThanSites`].
    pub fn new(sites: u64, counts: &[u64]) -> Result<Self, RichnessError> {
        match counts.iter().find(|found| **found > sites) {
            Some(found) => Err(RichnessError::MoreThanSites { found: *found, sites }),
            None => Ok(Self { sites, counts: counts.iter().copied().filter(|k| *k > 0).collect() }),
        }
    }

    /// Sampled sites, `T`.
    pub const fn sites(&self) -> u64 {
        self.sites
    }

    /// Species seen, `S`.
    pub fn observed(&self) -> u64 {
        self.counts.len() as u64
    }

    /// Sites of each species seen.
    pub fn counts(&self) -> &[u64] {
        &self.counts
    }

    /// Species found at exactly `sites` sites, `Q`.
    pub fn found_at_exactly(&self, sites: u64) -> u64 {
        self.counts.iter().filter(|count| **count == sites).count() as u64
    }

    /// Occurrences in all, `U`.
    pub fn occurrences(&self) -> u64 {
        self.counts.iter().sum()
    }

    pub(crate) fn need(&self, expected: u64) -> Result<(), RichnessError> {
        if self.sites < expected {
            Err(RichnessError::TooFewSites { sites: self.sites, expected })
        } else if self.counts.is_empty() {
            Err(RichnessError::NoPlants)
        } else {
            Ok(())
        }
    }
}

impl Incidence {
    /// From the species numbers found at each sampled site; a number may repeat within a site.
    pub fn new(species_at_sites: &[Vec<usize>]) -> Self {
        let species = species_at_sites.iter().flatten().max().map_or(0, |most| most + 1);
        let mut places = vec![Vec::new(); species];
        for (site, found) in species_at_sites.iter().enumerate() {
            for one in found {
                if places[*one].last() != Some(&site) {
                    places[*one].push(site);
                }
            }
        }
        places.retain(|sites| !sites.is_empty());
        let counts = places.iter().map(|sites| sites.len() as u64).collect();
        let sites = species_at_sites.len() as u64;
        Self { frequencies: IncidenceFrequencies { sites, counts }, places }
    }

    /// The frequencies alone.
    pub const fn frequencies(&self) -> &IncidenceFrequencies {
        &self.frequencies
    }

    /// How many species each site alone has, for sites that have any.
    fn uniques(&self) -> Vec<u64> {
        let mut uniques = vec![0; self.frequencies.sites as usize];
        for sites in self.places.iter().filter(|sites| sites.len() == 1) {
            uniques[sites[0]] += 1;
        }
        uniques
    }

    /// First-order jackknife with the standard error of a named author.
    ///
    /// # Formula
    /// `S + Q₁·(T − 1)/T`; standard errors as at [`JackknifeError`], `r` the uniques of each site.
    /// # Units
    /// Species.
    /// # Assumptions
    /// Closed community, sites exchangeable. Low when many species are rare: read as a lower bound.
    /// # Errors
    /// [`RichnessError`] below two sites or without plants.
    /// # References
    /// Heltshe & Forrester (1983), Biometrics 39: 1–11; Smith & van Belle (1984), Biometrics 40:
    /// 119–129 (attribution of that form from memory).
    pub fn jackknife_1(&self, error: JackknifeError) -> Result<RichnessEstimate, RichnessError> {
        let squares: u64 = self.uniques().iter().map(|r| r * r).sum();
        jackknife_1_from(&self.frequencies, squares, error)
    }

    /// Bootstrap estimate of the number of species.
    ///
    /// # Formula
    /// `S + Σ(1 − fᵢ/T)ᵀ`; variance `Σ qᵢ(1 − qᵢ) + 2·Σ_{i<j} (q_ij − qᵢqⱼ)`, `qᵢ = (1 − fᵢ/T)ᵀ`,
    /// `q_ij = (N_ij/T)ᵀ`, `N_ij` the sites with neither.
    /// # Units
    /// Species.
    /// # Errors
    /// [`RichnessError`] without a site or without plants.
    /// # References
    /// Smith & van Belle (1984), Biometrics 40: 119–129 (variance from memory; checked by counting
    /// all resamples).
    pub fn bootstrap(&self) -> Result<RichnessEstimate, RichnessError> {
        self.frequencies.need(1)?;
        let sites = self.frequencies.sites as usize;
        let draws = sites as f64;
        let missed = |without: usize| (without as f64 / draws).powf(draws);
        let q: Vec<f64> = self.places.iter().map(|here| missed(sites - here.len())).collect();
        let mut variance: f64 = q.iter().map(|q| q * (1.0 - q)).sum();
        let bits: Vec<Vec<u64>> = self.places.iter().map(|here| bit_set(here, sites)).collect();
        for i in 0..bits.len() {
            for j in 0..i {
                let either: u32 =
                    bits[i].iter().zip(&bits[j]).map(|(a, b)| (a | b).count_ones()).sum();
                variance += 2.0 * (missed(sites - either as usize) - q[i] * q[j]);
            }
        }
        Ok(RichnessEstimate {
            value: self.frequencies.observed() as f64 + q.iter().sum::<f64>(),
            standard_error: variance.max(0.0).sqrt(),
        })
    }
}

fn bit_set(places: &[usize], sites: usize) -> Vec<u64> {
    let mut bits = vec![0; sites.div_ceil(64)];
    for place in places {
        bits[place / 64] |= 1 << (place % 64);
    }
    bits
}

fn jackknife_1_from(
    incidence: &IncidenceFrequencies,
    squared_uniques: u64,
    error: JackknifeError,
) -> Result<RichnessEstimate, RichnessError> {
    incidence.need(2)?;
    let t = incidence.sites as f64;
    let once = incidence.found_at_exactly(1) as f64;
    let value = incidence.observed() as f64 + once * (t - 1.0) / t;
    let squares = squared_uniques as f64;
    let variance = match error {
        JackknifeError::HeltsheForrester1983 => (t - 1.0) / t * (squares - once * once / t),
        JackknifeError::SmithVanBelle1984 => (t - 1.0) / t * (squares - once / t),
        JackknifeError::BurnhamOverton1978 => {
            let a1 = 1.0 + (t - 1.0) / t;
            let rest = incidence.observed() as f64 - once;
            a1 * a1 * once + rest - value
        }
    };
    Ok(RichnessEstimate { value, standard_error: variance.max(0.0).sqrt() })
}

/// Second-order jackknife, standard error of Burnham & Overton.
///
/// # Formula
/// `S + Q₁(2T − 3)/T − Q₂(T − 2)²/(T(T − 1))`; written as `Σ aₖQₖ`, variance `Σ aₖ²Qₖ − value`.
/// # Units
/// Species.
/// # Assumptions
/// Closed community, sites exchangeable.
/// # Errors
/// [`RichnessError`] below three sites or without plants.
/// # References
/// Smith & van Belle (1984), Biometrics 40: 119–129 (value); Burnham & Overton (1978), Biometrika
/// 65: 625–633 (variance; from memory).
pub fn jackknife_2(incidence: &IncidenceFrequencies) -> Result<RichnessEstimate, RichnessError> {
    incidence.need(3)?;
    let t = incidence.sites as f64;
    let (once, twice) =
        (incidence.found_at_exactly(1) as f64, incidence.found_at_exactly(2) as f64);
    let a1 = 1.0 + (2.0 * t - 3.0) / t;
    let a2 = 1.0 - (t - 2.0) * (t - 2.0) / (t * (t - 1.0));
    let rest = incidence.observed() as f64 - once - twice;
    let value = a1 * once + a2 * twice + rest;
    let variance = a1 * a1 * once + a2 * a2 * twice + rest - value;
    Ok(RichnessEstimate { value, standard_error: variance.max(0.0).sqrt() })
}

/// Chao's lower bound from the sites each species was found at (Chao2).
///
/// # Formula
/// As at [`ChaoForm`], `Q₁` and `Q₂` the species found at exactly one and two sites. Variance of the
/// classic form `Q₂(a·k²/2 + a²·k³ + a²·k⁴/4)`, `k = Q₁/Q₂`. Interval `S + D/K` to `S + D·K`,
/// `D = value − S`, `K = exp(z·√(ln(1 + variance/D²)))`.
/// # Units
/// Species.
/// # Assumptions
/// Closed community, sites exchangeable.
/// # Errors
/// [`RichnessError`] below two sites or without plants.
/// # References
/// Chao (1987), Biometrics 43: 783–791; variances of the other forms after Colwell, EstimateS user's
/// guide, appendix B (from memory).
pub fn chao_2(
    incidence: &IncidenceFrequencies,
    form: ChaoForm,
    factor: SampleFactor,
    level: Confidence,
) -> Result<Chao, RichnessError> {
    incidence.need(2)?;
    Ok(chao(incidence.sites, &incidence.counts, form, factor, level))
}

/// The same bound from the individuals counted of each species (Chao1).
///
/// # Errors
/// [`RichnessError::NoPlants`] when fewer than two individuals were counted.
/// # References
/// Chao (1984), Scandinavian Journal of Statistics 11: 265–270.
pub fn chao_1(
    individuals: &[u64],
    form: ChaoForm,
    factor: SampleFactor,
    level: Confidence,
) -> Result<Chao, RichnessError> {
    let found: Vec<u64> = individuals.iter().copied().filter(|k| *k > 0).collect();
    let total: u64 = found.iter().sum();
    if total < 2 {
        return Err(RichnessError::NoPlants);
    }
    Ok(chao(total, &found, form, factor, level))
}

fn chao(
    sample: u64,
    counts: &[u64],
    form: ChaoForm,
    factor: SampleFactor,
    level: Confidence,
) -> Chao {
    let exactly = |k: u64| counts.iter().filter(|count| **count == k).count() as f64;
    let (once, twice, seen) = (exactly(1), exactly(2), counts.len() as f64);
    let a = match factor {
        SampleFactor::Applied => (sample - 1) as f64 / sample as f64,
        SampleFactor::Omitted => 1.0,
    };
    let classic = form == ChaoForm::Classic && twice > 0.0;
    let unseen = if classic {
        a * once * once / (2.0 * twice)
    } else {
        a * once * (once - 1.0).max(0.0) / (2.0 * (twice + 1.0))
    };
    let occurrences: u64 = counts.iter().sum();
    let variance = if once < 1.0 {
        let kept = (-(occurrences as f64) / seen).exp();
        seen * kept * (1.0 - kept)
    } else if classic {
        let k = once / twice;
        twice * (a * k * k / 2.0 + a * a * k.powi(3) + a * a * k.powi(4) / 4.0)
    } else if twice > 0.0 {
        let more = twice + 1.0;
        a * once * (once - 1.0) / (2.0 * more)
            + a * a * once * (2.0 * once - 1.0).powi(2) / (4.0 * more * more)
            + a * a * once * once * twice * (once - 1.0).powi(2) / (4.0 * more.powi(4))
    } else {
        a * once * (once - 1.0) / 2.0 + a * a * once * (2.0 * once - 1.0).powi(2) / 4.0
            - a * a * once.powi(4) / (4.0 * (seen + unseen))
    }
    .max(0.0);
    let z = normal_quantile(0.5 + level.level() / 2.0);
    let interval = if unseen > 0.0 {
        let spread = (z * (variance / (unseen * unseen)).ln_1p().sqrt()).exp();
        Interval { low: seen + unseen / spread, high: seen + unseen * spread }
    } else {
        Interval { low: seen, high: seen + z * variance.sqrt() }
    };
    Chao {
        observed: counts.len() as u64,
        value: seen + unseen,
        standard_error: variance.sqrt(),
        interval,
        form: if classic { ChaoForm::Classic } else { ChaoForm::BiasCorrected },
    }
}

#[cfg(test)]
pub(crate) mod tests;
