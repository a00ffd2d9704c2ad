//! How much a treatment took away, as a share of what would have stood there.

use thiserror::Error;

/// Why a control figure does not exist.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum ControlError {
    /// A divisor is zero: nothing was there to be controlled.
    #[error(
        "`{which}` is zero: the share taken away is undefined\nhint: compare the plain differences instead"
    )]
    Zero {
        /// The amount at fault.
        which: &'static str,
    },
    /// An amount is negative or not a number.
    #[error("`{which}` is `{value}`: expected an amount of zero or more")]
    NotAnAmount {
        /// The amount at fault.
        which: &'static str,
        /// What it is.
        value: f64,
    },
}

/// Amounts before and after, in treated and untreated parts of the lake.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeforeAfter {
    /// Treated part, before.
    pub treated_before: f64,
    /// Treated part, after.
    pub treated_after: f64,
    /// Untreated part, before.
    pub untreated_before: f64,
    /// Untreated part, after.
    pub untreated_after: f64,
}

/// Share taken away, from the amounts after treatment alone.
///
/// # Formula
/// `1 − T/C`, `T` in the treated part, `C` in the untreated.
/// # Units
/// A proportion; negative means more in the treated part.
/// # Assumptions
/// Both parts were alike before.
/// # Errors
/// [`ControlError`] when the untreated amount is zero or an amount is negative.
/// # References
/// Abbott (1925), Journal of Economic Entomology 18: 265–267.
pub fn abbott(treated: f64, untreated: f64) -> Result<f64, ControlError> {
    let treated = amount("treated, after", treated)?;
    Ok(1.0 - treated / divisor("untreated, after", untreated)?)
}

/// Share taken away, allowing for a difference before and for what happened anyway.
///
/// # Formula
/// `1 − (Tₐ·C_b)/(T_b·Cₐ)`. On the log scale this is the before-after-control-impact contrast:
/// `ln(1 − result) = (ln Tₐ − ln T_b) − (ln Cₐ − ln C_b)`.
/// # Units
/// A proportion; negative means an increase relative to the untreated part.
/// # Errors
/// [`ControlError`] when the treated amount before or the untreated after is zero.
/// # References
/// Henderson & Tilton (1955), Journal of Economic Entomology 48: 157–161.
pub fn henderson_tilton(amounts: BeforeAfter) -> Result<f64, ControlError> {
    let treated_after = amount("treated, after", amounts.treated_after)?;
    let untreated_before = amount("untreated, before", amounts.untreated_before)?;
    let before = divisor("treated, before", amounts.treated_before)?;
    let after = divisor("untreated, after", amounts.untreated_after)?;
    Ok(1.0 - treated_after * untreated_before / (before * after))
}

/// Change in the treated part beyond the change in the untreated.
///
/// # Formula
/// `(Tₐ − T_b) − (Cₐ − C_b)`.
/// # Units
/// That of the amounts.
/// # References
/// Stewart-Oaten, Murdoch & Parker (1986), Ecology 67: 929–940 (design; from memory).
pub fn before_after_control_impact(amounts: BeforeAfter) -> f64 {
    (amounts.treated_after - amounts.treated_before)
        - (amounts.untreated_after - amounts.untreated_before)
}

fn amount(which: &'static str, value: f64) -> Result<f64, ControlError> {
    if value >= 0.0 && value.is_finite() {
        Ok(value)
    } else {
        Err(ControlError::NotAnAmount { which, value })
    }
}

fn divisor(which: &'static str, value: f64) -> Result<f64, ControlError> {
    let value = amount(which, value)?;
    if value > 0.0 { Ok(value) } else { Err(ControlError::Zero { which }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::assert_close;

    /// Treated 50 → 10, untreated 40 → 30: a constructed case.
    const CASE: BeforeAfter = BeforeAfter {
        treated_before: 50.0,
        treated_after: 10.0,
        untreated_before: 40.0,
        untreated_after: 30.0,
    };

    #[test]
    fn abbott_1925() {
        assert_close(abbott(20.0, 100.0).unwrap(), 0.8, 1e-15, "control");
        assert_close(abbott(120.0, 100.0).unwrap(), -0.2, 1e-15, "an increase");
    }

    #[test]
    fn henderson_tilton_1955() {
        let published = BeforeAfter {
            treated_before: 50.0,
            treated_after: 5.0,
            untreated_before: 40.0,
            untreated_after: 60.0,
        };
        assert_close(henderson_tilton(published).unwrap(), 0.933_333_333_333, 1e-12, "control");
        let got = henderson_tilton(CASE).unwrap();
        assert_close(got, 0.733_333_333_333, 1e-12, "control");
        let log_contrast = (10.0_f64.ln() - 50.0_f64.ln()) - (30.0_f64.ln() - 40.0_f64.ln());
        assert_close((1.0 - got).ln(), log_contrast, 1e-12, "log contrast");
    }

    #[test]
    fn stewart_oaten_1986_design_difference_of_differences() {
        assert_close(before_after_control_impact(CASE), -30.0, 1e-12, "points");
    }

    #[test]
    fn nothing_before_or_nothing_untreated_is_undefined() {
        let bare = BeforeAfter { treated_before: 0.0, ..CASE };
        assert_eq!(henderson_tilton(bare), Err(ControlError::Zero { which: "treated, before" }));
        assert_eq!(abbott(3.0, 0.0), Err(ControlError::Zero { which: "untreated, after" }));
        assert!(matches!(abbott(-1.0, 5.0), Err(ControlError::NotAnAmount { .. })));
        assert!(matches!(abbott(f64::NAN, 5.0), Err(ControlError::NotAnAmount { .. })));
    }
}
