//! An area cut along a line.

use geo::orient::{Direction, Orient};
use geo::{Area, Contains};
use geo_types::{Coord, LineString, MultiPolygon, Polygon};
use std::collections::HashMap;

/// A line that does not cut an area.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SplitError {
    /// The line has fewer than two places, or crosses itself.
    #[error("the line has fewer than two places or crosses itself")]
    BadLine,
    /// The line does not run through the area from edge to edge.
    #[error("the line does not part the area: it must cross it from edge to edge")]
    PartsNothing,
}

impl SplitError {
    /// What a person can do about it.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::BadLine => "draw it again, without loops",
            Self::PartsNothing => "begin and end the line outside the area",
        }
    }
}

/// A place by its bits.
type Key = (u64, u64);

fn key(at: Coord<f64>) -> Key {
    ((at.x + 0.0).to_bits(), (at.y + 0.0).to_bits())
}

/// Cuts an area along a line and returns its parts, the largest first.
///
/// Every vertex of the area stays where it is to the last bit; where the line meets an edge both
/// parts get the same new vertex. Ends of the line that hang in the area cut nothing. Islands stay
/// holes, or become part of the edge where the line runs into them.
///
/// # Units
/// Metres of the working system.
/// # Errors
/// [`SplitError`].
pub fn split(
    area: &MultiPolygon<f64>,
    line: &LineString<f64>,
) -> Result<Vec<Polygon<f64>>, SplitError> {
    let area = area.orient(Direction::Default);
    let mut net = Net::default();
    let cut = noded(&area, line, &mut net)?;
    net.add_cut(&area, &cut);
    net.prune();
    let parts = net.faces();
    if parts.len() <= area.0.len() {
        return Err(SplitError::PartsNothing);
    }
    Ok(parts)
}

/// Where two segments cross: the share of each, and the place.
fn crossing(a: [Coord<f64>; 2], b: [Coord<f64>; 2]) -> Option<(f64, f64, Coord<f64>)> {
    let (along, over) = (a[1] - a[0], b[1] - b[0]);
    let below = along.x * over.y - along.y * over.x;
    if below.abs() <= 0.0 {
        return None;
    }
    let gap = b[0] - a[0];
    let s = (gap.x * over.y - gap.y * over.x) / below;
    let t = (gap.x * along.y - gap.y * along.x) / below;
    let within = |share: f64| (-1e-12..=1.0 + 1e-12).contains(&share);
    if !(within(s) && within(t)) {
        return None;
    }
    // a vertex that is there already is taken as it is
    let near = |share: f64, ends: [Coord<f64>; 2]| {
        let length = (ends[1] - ends[0]).x.hypot((ends[1] - ends[0]).y);
        if share * length < 1e-6 {
            Some(ends[0])
        } else if (1.0 - share) * length < 1e-6 {
            Some(ends[1])
        } else {
            None
        }
    };
    let at = near(t, b).or_else(|| near(s, a)).unwrap_or(a[0] + along * s);
    Some((s, t, at))
}

fn rings(area: &MultiPolygon<f64>) -> impl Iterator<Item = &LineString<f64>> {
    area.iter().flat_map(|one| std::iter::once(one.exterior()).chain(one.interiors()))
}

/// Adds the edges of the area, broken where the line meets them, and returns the line broken there.
fn noded(
    area: &MultiPolygon<f64>,
    line: &LineString<f64>,
    net: &mut Net,
) -> Result<Vec<Coord<f64>>, SplitError> {
    let steps: Vec<[Coord<f64>; 2]> =
        line.lines().map(|step| [step.start, step.end]).filter(|[a, b]| a != b).collect();
    if steps.is_empty() {
        return Err(SplitError::BadLine);
    }
    for (index, step) in steps.iter().enumerate() {
        for (other, later) in steps.iter().enumerate().skip(index + 1) {
            let joined = other == index + 1 && step[1] == later[0];
            let meets = crossing(*step, *later);
            if meets.is_some_and(|(s, t, _)| !(joined && 1.0 - 1e-9 < s && t < 1e-9)) {
                return Err(SplitError::BadLine);
            }
        }
    }
    let mut broken: Vec<Vec<(f64, Coord<f64>)>> = vec![Vec::new(); steps.len()];
    for ring in rings(area) {
        for edge in ring.lines().map(|edge| [edge.start, edge.end]) {
            let low = |get: fn(Coord<f64>) -> f64| get(edge[0]).min(get(edge[1])) - 1e-6;
            let high = |get: fn(Coord<f64>) -> f64| get(edge[0]).max(get(edge[1])) + 1e-6;
            let mut on_edge: Vec<(f64, Coord<f64>)> = Vec::new();
            for (index, step) in steps.iter().enumerate() {
                let apart = |get: fn(Coord<f64>) -> f64| {
                    get(step[0]).max(get(step[1])) < low(get)
                        || high(get) < get(step[0]).min(get(step[1]))
                };
                if apart(|at| at.x) || apart(|at| at.y) {
                    continue;
                }
                if let Some((s, t, at)) = crossing(*step, edge) {
                    broken[index].push((s, at));
                    on_edge.push((t, at));
                }
            }
            on_edge.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut from = edge[0];
            for at in on_edge.into_iter().map(|(_, at)| at).chain([edge[1]]) {
                net.add(from, at, true);
                from = at;
            }
        }
    }
    let mut cut = Vec::new();
    for (step, mut places) in steps.iter().zip(broken) {
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        let inner = places.into_iter().map(|(_, at)| at);
        for at in std::iter::once(step[0]).chain(inner).chain([step[1]]) {
            if cut.last() != Some(&at) {
                cut.push(at);
            }
        }
    }
    Ok(cut)
}

/// Half-edges between nodes.
#[derive(Debug, Default)]
struct Net {
    nodes: Vec<Coord<f64>>,
    index: HashMap<Key, usize>,
    /// From, to, and whether the area's inside lies to the left.
    halves: Vec<(usize, usize, bool)>,
    gone: Vec<bool>,
}

impl Net {
    fn node(&mut self, at: Coord<f64>) -> usize {
        let next = self.nodes.len();
        let index = *self.index.entry(key(at)).or_insert(next);
        if index == next {
            self.nodes.push(at);
        }
        index
    }

    /// An edge both ways; half-edge `2n` and its twin `2n + 1`.
    fn add(&mut self, from: Coord<f64>, to: Coord<f64>, of_ring: bool) {
        let (from, to) = (self.node(from), self.node(to));
        if from != to {
            self.halves.push((from, to, true));
            self.halves.push((to, from, !of_ring));
            self.gone.extend([false, false]);
        }
    }

    /// The stretches of the line that lie in the area.
    fn add_cut(&mut self, area: &MultiPolygon<f64>, cut: &[Coord<f64>]) {
        let edges: std::collections::HashSet<(usize, usize)> =
            self.halves.iter().map(|&(from, to, _)| (from, to)).collect();
        for step in cut.windows(2) {
            let known = (self.index.get(&key(step[0])), self.index.get(&key(step[1])));
            let along = matches!(known, (Some(a), Some(b)) if edges.contains(&(*a, *b)));
            let middle = (step[0] + step[1]) / 2.0;
            if !along && area.contains(&middle) {
                self.add(step[0], step[1], false);
            }
        }
    }

    /// Takes away ends that hang in the area.
    fn prune(&mut self) {
        let mut degree = vec![0usize; self.nodes.len()];
        for pair in self.halves.chunks(2) {
            degree[pair[0].0] += 1;
            degree[pair[0].1] += 1;
        }
        loop {
            let mut changed = false;
            for edge in 0..self.halves.len() / 2 {
                let (from, to, _) = self.halves[2 * edge];
                if !self.gone[2 * edge] && (degree[from] < 2 || degree[to] < 2) {
                    self.gone[2 * edge] = true;
                    self.gone[2 * edge + 1] = true;
                    degree[from] -= 1;
                    degree[to] -= 1;
                    changed = true;
                }
            }
            if !changed {
                return;
            }
        }
    }

    /// The half-edge that follows each, with the face kept to the left.
    fn next(&self) -> Vec<usize> {
        let mut out: Vec<Vec<usize>> = vec![Vec::new(); self.nodes.len()];
        for (half, &(from, _, _)) in self.halves.iter().enumerate() {
            if !self.gone[half] {
                out[from].push(half);
            }
        }
        let angle = |half: usize| {
            let (from, to, _) = self.halves[half];
            let by = self.nodes[to] - self.nodes[from];
            by.y.atan2(by.x)
        };
        let mut next = vec![usize::MAX; self.halves.len()];
        for around in &mut out {
            around.sort_by(|a, b| angle(*a).total_cmp(&angle(*b)));
            for (place, &half) in around.iter().enumerate() {
                // coming in by the twin, the next way out clockwise
                let before = around[(place + around.len() - 1) % around.len()];
                next[half ^ 1] = before;
            }
        }
        next
    }

    fn faces(&self) -> Vec<Polygon<f64>> {
        let next = self.next();
        let mut seen = self.gone.clone();
        let (mut shells, mut holes) = (Vec::new(), Vec::new());
        for start in 0..self.halves.len() {
            if seen[start] {
                continue;
            }
            let (mut ring, mut inside, mut half) = (Vec::new(), true, start);
            while !seen[half] {
                seen[half] = true;
                let (from, _, left) = self.halves[half];
                inside &= left;
                ring.push(self.nodes[from]);
                half = next[half];
            }
            ring.push(ring[0]);
            let ring = LineString(ring);
            let turn = Polygon::new(ring.clone(), vec![]).signed_area();
            if inside && 0.0 < turn {
                shells.push(Polygon::new(ring, vec![]));
            } else if inside && turn < 0.0 {
                holes.push(ring);
            }
        }
        shells.sort_by(|a, b| b.unsigned_area().total_cmp(&a.unsigned_area()));
        for hole in holes {
            // the smallest shell that holds it
            let home = shells.iter().rposition(|shell| {
                let shell = Polygon::new(shell.exterior().clone(), vec![]);
                hole.lines().any(|edge| shell.contains(&((edge.start + edge.end) / 2.0)))
            });
            if let Some(home) = home {
                shells[home].interiors_push(hole);
            }
        }
        shells
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::{line_string, polygon};
    use proptest::prelude::*;

    fn square() -> MultiPolygon<f64> {
        polygon![(x: 0.0, y: 0.0), (x: 10.0, y: 0.0), (x: 10.0, y: 10.0), (x: 0.0, y: 10.0)].into()
    }

    fn areas(parts: &[Polygon<f64>]) -> Vec<f64> {
        parts.iter().map(Area::unsigned_area).collect()
    }

    #[test]
    fn a_square_cut_by_hand() {
        let parts = split(&square(), &line_string![(x: 3.0, y: -1.0), (x: 3.0, y: 11.0)]).unwrap();
        assert_eq!(areas(&parts), [70.0, 30.0]);
        // through a corner, with a bend
        let bent = line_string![(x: 0.0, y: 0.0), (x: 5.0, y: 5.0), (x: 5.0, y: 12.0)];
        assert_eq!(areas(&split(&square(), &bent).unwrap()), [62.5, 37.5]);
    }

    #[test]
    fn an_island_stays_a_hole_or_becomes_edge() {
        let lake = MultiPolygon(vec![polygon!(
            exterior: [(x: 0.0, y: 0.0), (x: 10.0, y: 0.0), (x: 10.0, y: 10.0), (x: 0.0, y: 10.0)],
            interiors: [[(x: 4.0, y: 4.0), (x: 6.0, y: 4.0), (x: 6.0, y: 6.0), (x: 4.0, y: 6.0)]],
        )]);
        let beside = split(&lake, &line_string![(x: 2.0, y: -1.0), (x: 2.0, y: 11.0)]).unwrap();
        assert_eq!(areas(&beside), [76.0, 20.0]);
        assert_eq!(beside[0].interiors().len(), 1);
        let through = split(&lake, &line_string![(x: 5.0, y: -1.0), (x: 5.0, y: 11.0)]).unwrap();
        assert_eq!(areas(&through), [48.0, 48.0]);
        assert!(through.iter().all(|part| part.interiors().is_empty()));
        // from the shore to the island alone nothing is parted
        let half = split(&lake, &line_string![(x: 5.0, y: -1.0), (x: 5.0, y: 5.0)]);
        assert_eq!(half.unwrap_err(), SplitError::PartsNothing);
        // the island on its own is no part
        let round = line_string![(x: -1.0, y: 5.0), (x: 11.0, y: 5.0)];
        assert_eq!(split(&lake, &round).unwrap().len(), 2);
    }

    #[test]
    fn lines_that_part_nothing_are_refused() {
        for line in [
            line_string![(x: 20.0, y: 0.0), (x: 20.0, y: 10.0)],
            line_string![(x: 2.0, y: 2.0), (x: 8.0, y: 8.0)],
            line_string![(x: -1.0, y: 5.0), (x: 5.0, y: 5.0)],
            // along an edge
            line_string![(x: 0.0, y: -1.0), (x: 0.0, y: 11.0)],
        ] {
            assert_eq!(split(&square(), &line).unwrap_err(), SplitError::PartsNothing, "{line:?}");
        }
        let knot =
            line_string![(x: -1.0, y: 5.0), (x: 8.0, y: 5.0), (x: 8.0, y: 8.0), (x: 5.0, y: 2.0)];
        assert_eq!(split(&square(), &knot).unwrap_err(), SplitError::BadLine);
        assert_eq!(
            split(&square(), &line_string![(x: 1.0, y: 1.0)]).unwrap_err(),
            SplitError::BadLine
        );
    }

    proptest! {
        /// The parts of a ragged lake with an island sum to it, and every vertex of it is a vertex
        /// of a part.
        #[test]
        fn parts_sum_to_the_whole(
            radii in prop::collection::vec(60.0..100.0f64, 8..60),
            angle in 0.0..3.0f64,
            // offset and bend stay within 55 of the middle: a ring of eight corners at 60 or more
            // reaches 60 cos 22.5° = 55.4 everywhere, so the line always runs through the lake
            offset in -35.0..35.0f64,
            bend in -20.0..20.0f64,
        ) {
            let step = std::f64::consts::TAU / radii.len() as f64;
            let ring: Vec<(f64, f64)> = radii
                .iter()
                .enumerate()
                .map(|(i, r)| (r * (step * i as f64).cos(), r * (step * i as f64).sin()))
                .collect();
            let island = vec![(-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0)];
            let lake = MultiPolygon(vec![Polygon::new(ring.clone().into(), vec![island.into()])]);
            let (sin, cos) = angle.sin_cos();
            let at = |along: f64, across: f64| Coord {
                x: cos * along - sin * across,
                y: sin * along + cos * across,
            };
            let line = LineString(vec![at(-200.0, offset), at(0.0, offset + bend), at(200.0, offset)]);
            let parts = split(&lake, &line).unwrap();
            let sum: f64 = areas(&parts).iter().sum();
            let whole = lake.unsigned_area();
            prop_assert!((sum - whole).abs() < 1e-6 * whole, "{sum} {whole}");
            let vertices: std::collections::HashSet<Key> = parts
                .iter()
                .flat_map(|part| part.exterior().0.iter().chain(part.interiors().iter().flat_map(|r| r.0.iter())))
                .map(|at| key(*at))
                .collect();
            for (x, y) in ring {
                let kept = vertices.contains(&key(Coord { x, y }));
                prop_assert!(kept);
            }
            // neighbours share the cut: each new vertex is in two parts
            for part in &parts {
                prop_assert!(geo::Validation::is_valid(part));
            }
        }
    }
}
