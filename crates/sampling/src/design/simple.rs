use crate::random::Draw;

/// A simple random sample of `number` of `n_units` places without replacement, in random order.
///
/// Asks for no more than there are. Same seed, same sample.
pub fn simple_random(n_units: usize, number: usize, seed: u64) -> Vec<usize> {
    let mut draw = Draw::new(seed);
    let mut order: Vec<usize> = (0..n_units).collect();
    let number = number.min(n_units);
    for place in 0..number {
        order.swap(place, place + draw.below(n_units - place));
    }
    order.truncate(number);
    order
}
