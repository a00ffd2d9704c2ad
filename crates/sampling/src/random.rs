//! Draws from a seeded generator whose stream is the same on every platform.

use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64;

/// A stream of random numbers. The conversions are written out here so that a later version of a
/// library cannot change what a stored seed means.
#[derive(Debug, Clone)]
pub(crate) struct Draw(Pcg64);

impl Draw {
    /// The stream of a seed.
    pub(crate) fn new(seed: u64) -> Self {
        Self(Pcg64::seed_from_u64(seed))
    }

    /// One of many independent streams of a seed.
    pub(crate) fn stream(seed: u64, stream: u64) -> Self {
        Self(Pcg64::new(
            u128::from(seed).wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0xDA94_2042_E4DD_58B5,
            u128::from(stream),
        ))
    }

    /// Uniform in [0, 1), 53 bits.
    pub(crate) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0)
    }

    /// Uniform in 0..n by multiplication; the bias is below n / 2⁶⁴.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        ((u128::from(self.0.next_u64()) * n as u128) >> 64) as usize
    }

    /// Sixty-four random bits.
    pub(crate) fn bits(&mut self) -> u64 {
        self.0.next_u64()
    }

    /// True with chance `p`.
    pub(crate) fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }
}
