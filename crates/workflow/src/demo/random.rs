//! Repeatable numbers: the demo lake is the same on every machine.

/// SplitMix64 (Steele, Lea and Flood 2014, OOPSLA): one state word, good enough to draw a lake.
#[derive(Debug, Clone)]
pub(super) struct Random(u64);

impl Random {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Evenly from 0 up to, not including, 1.
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// From a normal distribution with mean 0 and standard deviation 1 (Box and Muller 1958).
    pub(super) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.unit()).cos()
    }

    /// True with this probability.
    pub(super) fn chance(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }
}

/// A smooth field over the plane, about −1 to 1: a few waves of random direction and phase.
#[derive(Debug, Clone)]
pub(super) struct Field(Vec<[f64; 4]>);

impl Field {
    /// Waves around a length in metres.
    pub(super) fn new(random: &mut Random, length: f64, waves: usize) -> Self {
        let wave = |random: &mut Random| {
            let turn = std::f64::consts::TAU * random.unit();
            let number = std::f64::consts::TAU / (length * (0.6 + 0.8 * random.unit()));
            let phase = std::f64::consts::TAU * random.unit();
            [number * turn.cos(), number * turn.sin(), phase, 0.6 + 0.8 * random.unit()]
        };
        Self((0..waves).map(|_| wave(random)).collect())
    }

    /// The field at a place.
    pub(super) fn at(&self, x: f64, y: f64) -> f64 {
        let sum: f64 =
            self.0.iter().map(|[kx, ky, phase, size]| size * (kx * x + ky * y + phase).sin()).sum();
        sum / (self.0.len() as f64).sqrt()
    }
}
