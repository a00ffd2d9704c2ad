use units::Metres;

/// Distances by water between points, the same there and back.
///
/// A pair no boat can pass between has no distance, which is not a large one.
#[derive(Debug, Clone, PartialEq)]
pub struct Matrix {
    n: usize,
    metres: Vec<f64>,
}

impl Matrix {
    /// A matrix from a function of two different points, asked for each pair once.
    pub fn from_fn(n: usize, mut distance: impl FnMut(usize, usize) -> Option<Metres>) -> Self {
        let mut matrix = Self { n, metres: vec![0.0; n * n] };
        for i in 0..n {
            for j in i + 1..n {
                matrix.set(i, j, distance(i, j).map_or(f64::INFINITY, Metres::metres));
            }
        }
        matrix
    }

    pub(crate) fn set(&mut self, i: usize, j: usize, metres: f64) {
        self.metres[i * self.n + j] = metres;
        self.metres[j * self.n + i] = metres;
    }

    /// How many points.
    pub fn len(&self) -> usize {
        self.n
    }

    /// True without points.
    pub fn is_empty(&self) -> bool {
        self.n == 0
    }

    /// Distance between two points; none when no water joins them or there is no such point.
    pub fn get(&self, i: usize, j: usize) -> Option<Metres> {
        if i >= self.n || j >= self.n {
            return None;
        }
        let metres = self.metres[i * self.n + j];
        metres.is_finite().then(|| Metres::new(metres))
    }

    /// Metres, infinite where no water joins the two.
    pub(crate) fn metres(&self, i: usize, j: usize) -> f64 {
        self.metres[i * self.n + j]
    }

    /// The points that cannot be reached from one of them.
    pub fn cut_off(&self, from: usize) -> Vec<usize> {
        (0..self.n).filter(|&j| self.get(from, j).is_none()).collect()
    }

    /// The matrix of some of the points, in the order given.
    ///
    /// # Panics
    /// When an index names no point.
    pub fn subset(&self, points: &[usize]) -> Self {
        let n = points.len();
        let mut metres = Vec::with_capacity(n * n);
        for &i in points {
            metres.extend(points.iter().map(|&j| self.metres(i, j)));
        }
        Self { n, metres }
    }

    /// Length of a way through points in the order given; none when a leg has no water.
    pub fn length_of(&self, order: &[usize]) -> Option<Metres> {
        order.windows(2).map(|leg| self.get(leg[0], leg[1])).sum()
    }
}
