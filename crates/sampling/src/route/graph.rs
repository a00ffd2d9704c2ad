use super::mesh::{Mesh, NONE, side};
use super::sight::{View, look};
use geo::kernels::Orientation;
use geo_types::Coord;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// The points of the shore where a shortest way may turn, and the straight legs between them.
///
/// Only capes count (reflex vertices of the water), and only legs that touch the shore at both ends without cutting
/// into it: a shortest way bends nowhere else (Lozano-Pérez and Wesley 1979, Communications of the ACM 22: 560–570).
#[derive(Debug, Clone)]
pub(crate) struct Graph {
    /// Where each cape lies.
    pub at: Vec<Coord<f64>>,
    /// Cape of a fan, `NONE` where the shore does not jut out.
    cape_of_fan: Vec<u32>,
    fan_of_cape: Vec<u32>,
    start: Vec<u32>,
    legs: Vec<(u32, f64)>,
}

/// A cape in sight, and how far it is.
pub(crate) type Seen = (u32, f64);

impl Graph {
    pub(crate) fn new(mesh: &Mesh) -> Self {
        let mut graph = Self {
            at: Vec::new(),
            cape_of_fan: vec![NONE; mesh.fans.len()],
            fan_of_cape: Vec::new(),
            start: Vec::new(),
            legs: Vec::new(),
        };
        for (number, fan) in mesh.fans.iter().enumerate().filter(|(_, fan)| fan.reflex) {
            graph.cape_of_fan[number] = graph.at.len() as u32;
            graph.fan_of_cape.push(number as u32);
            graph.at.push(mesh.points[fan.point as usize]);
        }
        let mut pairs: Vec<(u32, u32)> = Vec::new();
        for cape in 0..graph.at.len() as u32 {
            let fan = graph.fan_of_cape[cape as usize];
            let about = &mesh.fans[fan as usize].triangles;
            let here = graph.at[cape as usize];
            graph.capes_in_sight(mesh, here, about, &mut |other| {
                let there = graph.at[other as usize];
                if other != cape && touches(mesh, fan, there) {
                    pairs.push((cape.min(other), cape.max(other)));
                }
            });
        }
        pairs.sort_unstable();
        pairs.dedup();
        let mut degree = vec![0u32; graph.at.len() + 1];
        for &(a, b) in &pairs {
            degree[a as usize + 1] += 1;
            degree[b as usize + 1] += 1;
        }
        for cape in 0..graph.at.len() {
            degree[cape + 1] += degree[cape];
        }
        let mut next = degree.clone();
        graph.start = degree;
        graph.legs = vec![(0, 0.0); 2 * pairs.len()];
        for &(a, b) in &pairs {
            let length = distance(graph.at[a as usize], graph.at[b as usize]);
            for (from, to) in [(a, b), (b, a)] {
                graph.legs[next[from as usize] as usize] = (to, length);
                next[from as usize] += 1;
            }
        }
        graph
    }

    /// Calls `found` for each cape in sight at which the line of sight touches the shore; one cape may
    /// be reported twice.
    fn capes_in_sight(
        &self,
        mesh: &Mesh,
        here: Coord<f64>,
        about: &[u32],
        found: &mut impl FnMut(u32),
    ) {
        let mut report = |triangle: u32, k: usize| {
            let fan = mesh.fan_of[triangle as usize][k];
            let cape = self.cape_of_fan[fan as usize];
            if cape != NONE && touches(mesh, fan, here) {
                found(cape);
            }
        };
        look(mesh, here, about, &mut |view: &View| match view.corner {
            None => (0..3).for_each(|k| report(view.triangle, k)),
            Some(k) => {
                if view.shows(mesh.corners(view.triangle)[k]) {
                    report(view.triangle, k);
                }
            }
        });
    }

    /// The capes a boat at a place may head for first, in order of their numbers.
    pub(crate) fn first_capes(&self, mesh: &Mesh, here: Coord<f64>, about: &[u32]) -> Vec<Seen> {
        let mut capes: Vec<u32> = Vec::new();
        self.capes_in_sight(mesh, here, about, &mut |cape| capes.push(cape));
        capes.sort_unstable();
        capes.dedup();
        capes.into_iter().map(|cape| (cape, distance(here, self.at[cape as usize]))).collect()
    }

    /// Distance of every cape from a place that sees `first`, and the cape before each on the way.
    ///
    /// Source: Dijkstra (1959), Numerische Mathematik 1: 269–271.
    pub(crate) fn spread(&self, first: &[Seen], distances: &mut Vec<f64>, before: &mut Vec<u32>) {
        distances.clear();
        distances.resize(self.at.len(), f64::INFINITY);
        before.clear();
        before.resize(self.at.len(), NONE);
        let mut open = BinaryHeap::new();
        for &(cape, length) in first {
            if length < distances[cape as usize] {
                distances[cape as usize] = length;
                open.push(Reverse((Key(length), cape)));
            }
        }
        while let Some(Reverse((Key(length), cape))) = open.pop() {
            if length > distances[cape as usize] {
                continue;
            }
            let legs = self.start[cape as usize] as usize..self.start[cape as usize + 1] as usize;
            for &(next, leg) in &self.legs[legs] {
                let total = length + leg;
                if total < distances[next as usize] {
                    distances[next as usize] = total;
                    before[next as usize] = cape;
                    open.push(Reverse((Key(total), next)));
                }
            }
        }
    }

    pub(crate) fn n_legs(&self) -> usize {
        self.legs.len() / 2
    }
}

/// True when a straight leg from `there` to the fan's vertex leaves both its shores on one hand, so
/// that a boat may turn round the vertex at its end.
fn touches(mesh: &Mesh, fan: u32, there: Coord<f64>) -> bool {
    let fan = &mesh.fans[fan as usize];
    let [here, first, last] = [fan.point, fan.first, fan.last].map(|p| mesh.points[p as usize]);
    let (a, b) = (side(there, here, first), side(there, here, last));
    a == Orientation::Collinear || b == Orientation::Collinear || a == b
}

pub(crate) fn distance(a: Coord<f64>, b: Coord<f64>) -> f64 {
    (a.x - b.x).hypot(a.y - b.y)
}

/// Metres in the queue; never NaN.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Key(f64);

impl Eq for Key {}

impl PartialOrd for Key {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Key {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}
