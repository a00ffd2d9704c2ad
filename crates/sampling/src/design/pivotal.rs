use super::ROUNDING;
use crate::random::Draw;

/// Draws a spatially balanced sample by the local pivotal method.
///
/// A place taken at random and its nearest undecided neighbour compete: one takes the chance of
/// both, up to 1, the other gets the rest. A place whose chance reaches 1 is chosen, one at 0 is out.
/// So chosen places keep a distance from each other. Returns the chosen indices in ascending order.
///
/// # Formula
/// With chances `a`, `b` and `s = a + b`: when `s < 1` the pair becomes `(0, s)` with chance `b/s`
/// and `(s, 0)` otherwise; else `(1, s − 1)` with chance `(1 − b)/(2 − s)` and `(s − 1, 1)`
/// otherwise. Each keeps its expected value, so the share of draws that hold place k is `πₖ`; when
/// `Σπ` is whole, the size of the sample is `Σπ` in every draw.
/// # Assumptions
/// `probabilities` lie in 0..=1 and belong to `points` one by one. Of equally near neighbours one is
/// taken at random.
/// # Speed
/// Places lie in square buckets of about two; the buckets are made anew each time half the places
/// are decided. Each step looks at a few buckets, so the whole is near linear in the number of
/// places.
/// # References
/// Grafström, Lundström & Schelin 2012, Biometrics 68: 514–520 (second variant); Deville & Tillé
/// 1998, Biometrika 85: 89–101 (the pair rule; both from memory).
pub fn local_pivotal(points: &[(f64, f64)], probabilities: &[f64], seed: u64) -> Vec<usize> {
    local_pivotal_with(points, probabilities, &mut Draw::new(seed))
}

#[derive(Debug, Clone, Copy)]
struct Unit {
    x: f64,
    y: f64,
    /// Chance so far; negative once decided.
    chance: f64,
    id: u32,
}

const DECIDED: f64 = -1.0;

pub(crate) fn local_pivotal_with(
    points: &[(f64, f64)],
    probabilities: &[f64],
    draw: &mut Draw,
) -> Vec<usize> {
    let mut chosen = Vec::new();
    let mut units: Vec<Unit> = Vec::with_capacity(points.len());
    for (id, (&(x, y), &chance)) in points.iter().zip(probabilities).enumerate() {
        if chance >= 1.0 - ROUNDING {
            chosen.push(id);
        } else if chance > ROUNDING {
            units.push(Unit { x, y, chance, id: id as u32 });
        }
    }
    let mut left = units.len();
    while left > 1 {
        units.retain(|unit| unit.chance >= 0.0);
        let mut buckets = Buckets::new(std::mem::take(&mut units));
        let stop = if left > 16 { left / 2 } else { 1 };
        while left > stop {
            let one = loop {
                let slot = draw.below(buckets.units.len());
                if buckets.units[slot].chance >= 0.0 {
                    break slot;
                }
            };
            let Some(other) = buckets.nearest(one, draw) else { break };
            let (a, b) = compete(buckets.units[one].chance, buckets.units[other].chance, draw);
            for (slot, chance) in [(one, a), (other, b)] {
                let unit = &mut buckets.units[slot];
                unit.chance = chance;
                if chance <= ROUNDING || chance >= 1.0 - ROUNDING {
                    if chance > 0.5 {
                        chosen.push(unit.id as usize);
                    }
                    unit.chance = DECIDED;
                    left -= 1;
                }
            }
        }
        units = buckets.units;
    }
    if let Some(last) = units.iter().find(|unit| unit.chance >= 0.0)
        && draw.chance(last.chance)
    {
        chosen.push(last.id as usize);
    }
    chosen.sort_unstable();
    chosen
}

fn compete(a: f64, b: f64, draw: &mut Draw) -> (f64, f64) {
    let sum = a + b;
    if sum < 1.0 - ROUNDING {
        if draw.unit() * sum < b { (0.0, sum) } else { (sum, 0.0) }
    } else if sum <= 1.0 + ROUNDING {
        if draw.unit() * sum < b { (0.0, 1.0) } else { (1.0, 0.0) }
    } else if draw.unit() * (2.0 - sum) < 1.0 - b {
        (1.0, sum - 1.0)
    } else {
        (sum - 1.0, 1.0)
    }
}

/// Units sorted into square buckets, row by row.
struct Buckets {
    units: Vec<Unit>,
    start: Vec<u32>,
    n_columns: usize,
    n_rows: usize,
    low: (f64, f64),
    side: f64,
}

impl Buckets {
    fn new(units: Vec<Unit>) -> Self {
        let mut low = (f64::INFINITY, f64::INFINITY);
        let mut high = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        for unit in &units {
            low = (low.0.min(unit.x), low.1.min(unit.y));
            high = (high.0.max(unit.x), high.1.max(unit.y));
        }
        let (width, height) = (high.0 - low.0, high.1 - low.1);
        let longest = width.max(height).max(f64::MIN_POSITIVE);
        let area = if units.len() < 256 {
            (width * height).max(longest * longest / units.len() as f64)
        } else {
            occupied_area(&units, low, longest)
        };
        let side = (2.0 * area / units.len() as f64).sqrt().max(longest / 32_768.0);
        let (n_columns, n_rows) = ((width / side) as usize + 1, (height / side) as usize + 1);
        let mut buckets = Self {
            units: Vec::new(),
            start: vec![0; n_columns * n_rows + 1],
            n_columns,
            n_rows,
            low,
            side,
        };
        let homes: Vec<u32> = units
            .iter()
            .map(|unit| {
                let (column, row) = buckets.home(unit.x, unit.y);
                (row * n_columns + column) as u32
            })
            .collect();
        for &home in &homes {
            buckets.start[home as usize + 1] += 1;
        }
        for bucket in 0..n_columns * n_rows {
            buckets.start[bucket + 1] += buckets.start[bucket];
        }
        let mut next = buckets.start.clone();
        let mut sorted = vec![Unit { x: 0.0, y: 0.0, chance: DECIDED, id: 0 }; units.len()];
        for (unit, home) in units.into_iter().zip(homes) {
            let place = &mut next[home as usize];
            sorted[*place as usize] = unit;
            *place += 1;
        }
        buckets.units = sorted;
        buckets
    }

    fn home(&self, x: f64, y: f64) -> (usize, usize) {
        let column = ((x - self.low.0) / self.side) as usize;
        let row = ((y - self.low.1) / self.side) as usize;
        (column.min(self.n_columns - 1), row.min(self.n_rows - 1))
    }

    /// Nearest undecided unit to the one in `slot`, a random one of those equally near.
    fn nearest(&self, slot: usize, draw: &mut Draw) -> Option<usize> {
        let unit = self.units[slot];
        let (column, row) = self.home(unit.x, unit.y);
        let mut best = Best { square: f64::INFINITY, slot: None, ties: 0 };
        // how far the unit is inside its bucket, from the nearest side
        let inner = {
            let (dx, dy) = (
                unit.x - self.low.0 - column as f64 * self.side,
                unit.y - self.low.1 - row as f64 * self.side,
            );
            dx.min(self.side - dx).min(dy).min(self.side - dy).max(0.0)
        };
        for ring in 0..self.n_columns.max(self.n_rows) {
            let first_row = row.saturating_sub(ring);
            let last_row = (row + ring).min(self.n_rows - 1);
            for r in first_row..=last_row {
                let rim = r + ring == row || r == row + ring;
                let left = column.saturating_sub(ring);
                let right = (column + ring).min(self.n_columns - 1);
                if rim {
                    self.look(slot, &unit, r, left, right, &mut best, draw);
                } else {
                    if column >= ring {
                        self.look(slot, &unit, r, left, left, &mut best, draw);
                    }
                    if column + ring < self.n_columns {
                        self.look(slot, &unit, r, right, right, &mut best, draw);
                    }
                }
            }
            let searched = inner + ring as f64 * self.side;
            if best.square < searched * searched {
                break;
            }
        }
        best.slot
    }

    #[expect(clippy::too_many_arguments, reason = "the inner loop of the whole method")]
    #[inline]
    fn look(
        &self,
        slot: usize,
        unit: &Unit,
        row: usize,
        left: usize,
        right: usize,
        best: &mut Best,
        draw: &mut Draw,
    ) {
        let base = row * self.n_columns;
        let first = self.start[base + left] as usize;
        let last = self.start[base + right + 1] as usize;
        for (other, candidate) in self.units[first..last].iter().enumerate() {
            let square = (candidate.x - unit.x).powi(2) + (candidate.y - unit.y).powi(2);
            if square > best.square || candidate.chance < 0.0 || first + other == slot {
                continue;
            }
            if square < best.square {
                *best = Best { square, slot: Some(first + other), ties: 1 };
            } else {
                best.ties += 1;
                if draw.below(best.ties) == 0 {
                    best.slot = Some(first + other);
                }
            }
        }
    }
}

/// A lake fills a part of its box only: the area of the squares of a coarse raster that hold units.
fn occupied_area(units: &[Unit], low: (f64, f64), longest: f64) -> f64 {
    let coarse = 64.0;
    let mut touched = [false; 65 * 65];
    for unit in units {
        let column = ((unit.x - low.0) / longest * coarse) as usize;
        let row = ((unit.y - low.1) / longest * coarse) as usize;
        touched[row * 65 + column] = true;
    }
    touched.iter().filter(|t| **t).count() as f64 * (longest / coarse).powi(2)
}

struct Best {
    square: f64,
    slot: Option<usize>,
    ties: usize,
}
