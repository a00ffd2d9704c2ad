//! Floristic quality: how picky the native plants are about the places they live in.

use thiserror::Error;
use units::{OutOfRange, bounds};

/// Figures of floristic quality.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FloristicQuality {
    /// Native species with a coefficient, `N`.
    pub natives: usize,
    /// Sum of their coefficients.
    pub sum_c: f64,
    /// Mean coefficient of conservatism, `C̄`.
    pub mean_c: f64,
    /// Floristic quality index, `C̄·√N`.
    pub index: f64,
    /// Mean with introduced species counted as 0.
    pub all_species_mean_c: f64,
    /// Index with introduced species counted as 0.
    pub all_species_index: f64,
    /// Adjusted index, per cent of the best possible.
    pub adjusted_index: f64,
}

/// Why there is no floristic quality.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum FloristicError {
    /// No native species with a coefficient.
    #[error(
        "no native species with a coefficient of conservatism was found: floristic quality is undefined"
    )]
    NoNatives,
    /// A coefficient outside 0..10.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// Floristic quality of a list of species.
///
/// # Formula
/// `FQI = C̄·√N = ΣC/√N` over native species. With `N_t` all species, introduced ones as 0:
/// `C̄_t = ΣC/N_t`, `FQI_t = ΣC/√N_t`, adjusted `100·(C̄/10)·√(N/N_t)`.
/// # Units
/// Coefficients 0 to 10, from one named table: tables differ by region and may not be mixed.
/// # Assumptions
/// The list is complete for the effort; the index rises with the area searched, the mean hardly
/// does (Bourdaghs, Johnston & Regal 2006, Wetlands 26: 718–735).
/// # Errors
/// [`FloristicError`] without a native species with a coefficient, or for one outside 0..10.
/// # References
/// Nichols (1999), Lake and Reservoir Management 15: 133–141; adjusted index Miller & Wardrop
/// (2006), Ecological Indicators 6: 313–326 (from memory).
pub fn floristic_quality(
    native_c: &[f64],
    introduced: usize,
) -> Result<FloristicQuality, FloristicError> {
    for c in native_c {
        bounds::CONSERVATISM.check(*c)?;
    }
    let natives = native_c.len();
    if natives == 0 {
        return Err(FloristicError::NoNatives);
    }
    let (n, all) = (natives as f64, (natives + introduced) as f64);
    let sum_c: f64 = native_c.iter().sum();
    let mean_c = sum_c / n;
    Ok(FloristicQuality {
        natives,
        sum_c,
        mean_c,
        index: mean_c * n.sqrt(),
        all_species_mean_c: sum_c / all,
        all_species_index: sum_c / all.sqrt(),
        adjusted_index: 100.0 * (mean_c / 10.0) * (n / all).sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    #[test]
    fn constructed_case_of_twelve_natives_and_two_introduced() {
        // coefficients from memory, arithmetic by hand: sum 62
        let c = [3.0, 7.0, 3.0, 6.0, 4.0, 7.0, 6.0, 6.0, 6.0, 3.0, 6.0, 5.0];
        let alone = floristic_quality(&c, 0).unwrap();
        assert_eq!(alone.natives, 12);
        assert_close(alone.sum_c, 62.0, 0.0, "sum");
        assert_close(alone.mean_c, 5.1667, 5e-5, "mean");
        assert_close(alone.index, 17.8979, 5e-5, "FQI");
        let invaded = floristic_quality(&c, 2).unwrap();
        assert_close(invaded.index, alone.index, 0.0, "native FQI unchanged");
        assert_close(invaded.all_species_mean_c, 4.4286, 5e-5, "mean of all");
        assert_close(invaded.all_species_index, 16.5702, 5e-5, "FQI of all");
        assert_close(invaded.adjusted_index, 47.834, 5e-4, "adjusted");
    }

    #[test]
    fn constructed_case_of_twenty_one_natives() {
        let c = [
            7.0, 7.0, 5.0, 3.0, 8.0, 10.0, 6.0, 7.0, 6.0, 6.0, 9.0, 7.0, 7.0, 8.0, 8.0, 6.0, 9.0,
            5.0, 10.0, 7.0, 6.0,
        ];
        let got = floristic_quality(&c, 0).unwrap();
        assert_close(got.sum_c, 147.0, 0.0, "sum");
        assert_close(got.mean_c, 7.0, 1e-12, "mean");
        assert_close(got.index, 32.0780, 5e-5, "FQI");
    }

    #[test]
    fn nichols_1999_quoted_medians_need_not_satisfy_the_formula() {
        // medians of N, mean C and FQI are quoted as 13, 6.7, 24.3: the identity gives 24.16
        assert_close(6.7 * 13.0_f64.sqrt(), 24.16, 5e-3, "identity from rounded medians");
    }

    #[test]
    fn only_introduced_species_have_no_floristic_quality() {
        assert_eq!(floristic_quality(&[], 4), Err(FloristicError::NoNatives));
        assert!(matches!(floristic_quality(&[11.0], 0), Err(FloristicError::OutOfRange(_))));
    }
}
