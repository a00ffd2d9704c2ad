use statrs::distribution::{ContinuousCDF, Normal};

fn standard() -> Normal {
    Normal::standard()
}

/// z with a share `p` of the standard normal below it.
pub(crate) fn quantile(p: f64) -> f64 {
    standard().inverse_cdf(p)
}

/// Share of the standard normal below z.
pub(crate) fn below(z: f64) -> f64 {
    standard().cdf(z)
}

/// z of a two-sided confidence, 1.96 for 0.95.
pub(crate) fn two_sided(confidence: f64) -> f64 {
    quantile(f64::midpoint(1.0, confidence))
}
