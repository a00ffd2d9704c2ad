use super::ROUNDING;
use crate::random::Draw;

/// Draws a spatially balanced sample by generalised random tessellation, in reverse hierarchical
/// order: every run of consecutive places is itself spread over the lake, so that the first may be
/// the sites and the following ones spares, used in order.
///
/// The box around the places is quartered again and again, the four quarters of each square in an
/// order of their own drawn at random. Places in that order form a line on which each has the length
/// of its chance; every unit of length, from a random start, chooses one.
///
/// # Formula
/// Line positions `Cₖ = Σ_{j≤k} πⱼ`, start `u` uniform in [0, 1): place k is chosen when a number
/// `u + m` (m whole) lies in `[Cₖ₋₁, Cₖ)`. Order: the m-th of n chosen gets the four-based digits
/// of its place on the line, counted from a random one, read backwards.
/// # Assumptions
/// `probabilities` lie in 0..=1; for a sample of fixed size their sum is whole.
/// # References
/// Stevens & Olsen 2004, Journal of the American Statistical Association 99: 262–278 (from memory).
pub fn tessellation(points: &[(f64, f64)], probabilities: &[f64], seed: u64) -> Vec<usize> {
    tessellation_with(points, probabilities, &mut Draw::new(seed))
}

/// Most quarterings: 4²⁶ squares.
const MOST_LEVELS: u32 = 26;

pub(crate) fn tessellation_with(
    points: &[(f64, f64)],
    probabilities: &[f64],
    draw: &mut Draw,
) -> Vec<usize> {
    let mut low = (f64::INFINITY, f64::INFINITY);
    let mut high = (f64::NEG_INFINITY, f64::NEG_INFINITY);
    for &(x, y) in points {
        low = (low.0.min(x), low.1.min(y));
        high = (high.0.max(x), high.1.max(y));
    }
    // the box is up to twice the lake and lies at random around it, so that no quartering line has
    // a place of its own
    let extent = (high.0 - low.0).max(high.1 - low.1).max(f64::MIN_POSITIVE);
    let side = extent * (1.0 + draw.unit()) * (1.0 + 1e-9);
    let slack = side - extent;
    let corner = (low.0 - draw.unit() * slack, low.1 - draw.unit() * slack);
    let key = draw.bits();
    // four thousand squares for each place tell the cells of a lake apart
    let levels = (points.len().max(1).ilog2() / 2 + 7).min(MOST_LEVELS);
    let scale = f64::from(1_u32 << levels) / side;
    let mut line: Vec<(u64, u32)> = points
        .iter()
        .enumerate()
        .filter(|(id, _)| probabilities[*id] > 0.0)
        .map(|(id, &(x, y))| {
            let column = ((x - corner.0) * scale) as u64;
            let row = ((y - corner.1) * scale) as u64;
            (address(column, row, levels, key), id as u32)
        })
        .collect();
    line.sort_unstable();
    let mut chosen = Vec::new();
    let mut next = draw.unit();
    let mut sum = 0.0;
    for (_, id) in line {
        sum += probabilities[id as usize];
        if next < sum - ROUNDING {
            chosen.push(id as usize);
            next += 1.0;
        }
    }
    // a whole sum a rounding short of its last number
    reverse_hierarchical(&chosen, draw)
}

/// Address of a square: at each level the quarter's rank in that square's own random order.
fn address(column: u64, row: u64, levels: u32, key: u64) -> u64 {
    let mut address = 0_u64;
    let mut path = 1_u64;
    for level in (0..levels).rev() {
        let quarter = ((column >> level) & 1) | (((row >> level) & 1) << 1);
        address = (address << 2) | rank_in_permutation(mix(path ^ key), quarter);
        path = (path << 2) | quarter;
    }
    address
}

/// Rank of `item` in one of the 24 orders of four, chosen by the bits.
fn rank_in_permutation(bits: u64, item: u64) -> u64 {
    let mut order = [0_u64, 1, 2, 3];
    let choice = ((u128::from(bits) * 24) >> 64) as usize;
    order.swap(3, choice % 4);
    order.swap(2, (choice / 4) % 3);
    order.swap(1, choice / 12);
    order.iter().position(|entry| *entry == item).unwrap_or(0) as u64
}

/// The finaliser of the splitmix64 generator: every bit depends on every bit.
fn mix(mut z: u64) -> u64 {
    z = z.wrapping_add(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

/// Orders places that lie along a line so that each run of the result is spread along the line.
pub(crate) fn reverse_hierarchical(line: &[usize], draw: &mut Draw) -> Vec<usize> {
    let n = line.len();
    if n < 2 {
        return line.to_vec();
    }
    let levels = {
        let mut levels = 0;
        while 4_usize.pow(levels) < n {
            levels += 1;
        }
        levels
    };
    let turn = draw.below(n);
    let mut order: Vec<(u64, usize)> = (0..n)
        .map(|rank| {
            // ranks spread over the whole address range, counted from a random one
            let place = ((rank + turn) % n) as u64 * 4_u64.pow(levels) / n as u64;
            let backwards = (0..levels)
                .fold(0, |reversed, level| (reversed << 2) | ((place >> (2 * level)) & 3));
            (backwards, line[rank])
        })
        .collect();
    order.sort_unstable();
    order.into_iter().map(|(_, id)| id).collect()
}
