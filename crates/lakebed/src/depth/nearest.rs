//! The nearest datum to a place, for very many places.

use geo_types::Coord;

/// Data to a bucket, on average.
const PER_BUCKET: f64 = 2.0;

/// A datum: its place in metres from the local origin, and its depth.
#[derive(Debug, Clone, Copy)]
pub(super) struct Datum {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) depth: f64,
}

/// Data sorted into square buckets that hold about two each.
///
/// For data spread over a lake and queries on a grid this is several times faster than a tree.
#[derive(Debug)]
pub(super) struct Nearest {
    corner: Coord<f64>,
    side: f64,
    columns: usize,
    rows: usize,
    /// Where the data of each bucket begin; one more at the end.
    starts: Vec<u32>,
    data: Vec<Datum>,
}

impl Nearest {
    pub(super) fn new(data: Vec<Datum>) -> Self {
        let low = |get: fn(&Datum) -> f64| data.iter().map(get).fold(f64::INFINITY, f64::min);
        let high = |get: fn(&Datum) -> f64| data.iter().map(get).fold(f64::NEG_INFINITY, f64::max);
        let (west, south) = (low(|datum| datum.x), low(|datum| datum.y));
        let (width, height) = (high(|datum| datum.x) - west, high(|datum| datum.y) - south);
        let area = (width * height).max(width.max(height).powi(2) * 1e-3);
        let side = (PER_BUCKET * area / data.len().max(1) as f64).sqrt().max(1e-3);
        let count = |length: f64| (length / side).max(0.0) as usize + 1;
        let mut nearest = Self {
            corner: Coord { x: west, y: south },
            side,
            columns: count(width),
            rows: count(height),
            starts: vec![],
            data: vec![],
        };
        nearest.sort(&data);
        nearest
    }

    fn sort(&mut self, data: &[Datum]) {
        let buckets: Vec<usize> =
            data.iter().map(|datum| self.bucket_of(datum.x, datum.y)).collect();
        self.starts = vec![0; self.columns * self.rows + 1];
        for &bucket in &buckets {
            self.starts[bucket + 1] += 1;
        }
        for bucket in 1..self.starts.len() {
            self.starts[bucket] += self.starts[bucket - 1];
        }
        let mut next = self.starts.clone();
        self.data = data.to_vec();
        for (datum, bucket) in data.iter().zip(buckets) {
            self.data[next[bucket] as usize] = *datum;
            next[bucket] += 1;
        }
    }

    fn cell_of(&self, x: f64, y: f64) -> (usize, usize) {
        let clamp =
            |offset: f64, count: usize| (offset / self.side).max(0.0).min((count - 1) as f64);
        (
            clamp(x - self.corner.x, self.columns) as usize,
            clamp(y - self.corner.y, self.rows) as usize,
        )
    }

    fn bucket_of(&self, x: f64, y: f64) -> usize {
        let (column, row) = self.cell_of(x, y);
        row * self.columns + column
    }

    /// The nearest datum and the square of its distance.
    pub(super) fn find(&self, x: f64, y: f64) -> Option<(Datum, f64)> {
        let (column, row) = self.cell_of(x, y);
        let mut best: Option<(Datum, f64)> = None;
        for reach in 0..self.columns.max(self.rows) {
            // nothing outside the block looked through so far is nearer than this
            let safe = (reach as f64 - 1.0).max(0.0) * self.side;
            if best.is_some_and(|(_, squared)| 0 < reach && squared <= safe * safe) {
                break;
            }
            self.look_at_ring(column, row, reach, (x, y), &mut best);
        }
        best
    }

    fn look_at_ring(
        &self,
        column: usize,
        row: usize,
        reach: usize,
        at: (f64, f64),
        best: &mut Option<(Datum, f64)>,
    ) {
        let (west, east) = (column.saturating_sub(reach), (column + reach).min(self.columns - 1));
        let (south, north) = (row.saturating_sub(reach), (row + reach).min(self.rows - 1));
        for y in south..=north {
            if y.abs_diff(row) == reach {
                self.look_at(y * self.columns + west, y * self.columns + east, at, best);
                continue;
            }
            if reach <= column {
                self.look_at(y * self.columns + west, y * self.columns + west, at, best);
            }
            if column + reach < self.columns {
                self.look_at(y * self.columns + east, y * self.columns + east, at, best);
            }
        }
    }

    /// Looks through the buckets from one to another of the same row.
    fn look_at(&self, from: usize, to: usize, at: (f64, f64), best: &mut Option<(Datum, f64)>) {
        let data = &self.data[self.starts[from] as usize..self.starts[to + 1] as usize];
        for datum in data {
            let squared = (datum.x - at.0).powi(2) + (datum.y - at.1).powi(2);
            if best.is_none_or(|(_, least)| squared < least) {
                *best = Some((*datum, squared));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Against looking at every datum.
        #[test]
        fn the_nearest_is_the_nearest(
            data in prop::collection::vec((0.0..1_000.0f64, 0.0..300.0f64), 1..200),
            queries in prop::collection::vec((-500.0..1_500.0f64, -500.0..800.0f64), 1..50),
        ) {
            let data: Vec<Datum> = data.into_iter().map(|(x, y)| Datum { x, y, depth: x }).collect();
            let nearest = Nearest::new(data.clone());
            for (x, y) in queries {
                let squared = |datum: &Datum| (datum.x - x).powi(2) + (datum.y - y).powi(2);
                let want = data.iter().map(squared).fold(f64::INFINITY, f64::min);
                let (_, found) = nearest.find(x, y).unwrap();
                prop_assert!((found - want).abs() < 1e-9, "{found} {want}");
            }
        }
    }

    #[test]
    fn data_on_one_line_or_one_place_are_found() {
        let on_line: Vec<Datum> =
            (0..50).map(|i| Datum { x: f64::from(i), y: 7.0, depth: 1.0 }).collect();
        let (datum, squared) = Nearest::new(on_line).find(20.2, 9.0).unwrap();
        assert!((datum.x - 20.0).abs() < 1e-12 && (squared - 4.04).abs() < 1e-9);
        let one = Nearest::new(vec![Datum { x: 5.0, y: 5.0, depth: 2.0 }]);
        assert!((one.find(2.0, 1.0).unwrap().1 - 25.0).abs() < 1e-12);
        assert!(Nearest::new(vec![]).find(0.0, 0.0).is_none());
    }
}
