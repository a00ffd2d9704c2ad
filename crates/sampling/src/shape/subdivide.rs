//! One polygon and many cuts make faces: a planar subdivision.
//!
//! Each cut runs along two faces, once in each direction, and the polygon's own edges bound the
//! rest. So the faces tile the polygon: what one loses along a cut the other gains, down to the last
//! digit of the sum.

use super::borders::{Border, BorderGrid, REACH, add_ring, clip};
use super::snap::Snap;
use crate::region::{Region, twice_signed_area};
use geo_types::{LineString, MultiPolygon, Polygon};
use std::collections::{HashMap, HashSet};

/// A face before its outline is made.
#[derive(Debug, Clone)]
pub(crate) struct Face {
    /// Which part it belongs to; may be changed before the parts are joined.
    pub(crate) label: usize,
    pub(crate) area: f64,
    /// Faces across cuts and the length shared with each.
    pub(crate) neighbours: Vec<(usize, f64)>,
}

/// A labelled part: its polygon and area.
#[derive(Debug, Clone)]
pub(crate) struct Piece {
    pub(crate) label: usize,
    pub(crate) polygon: MultiPolygon<f64>,
    pub(crate) area: f64,
}

/// Cuts a polygon along segments.
///
/// Cuts may touch each other at their ends only. `label` names the part a place belongs to;
/// `adjust` may change labels of whole faces; faces of one label become one piece, in ascending
/// order of labels.
pub(crate) fn subdivide(
    polygon: &MultiPolygon<f64>,
    cuts: &[[f64; 4]],
    label: impl Fn(f64, f64) -> usize,
    adjust: impl FnOnce(&mut [Face]),
) -> Vec<Piece> {
    let Some(region) = Region::new(polygon) else { return Vec::new() };
    let mut graph = Graph::build(polygon, &region, cuts);
    let mut outlines = graph.outlines();
    let mut faces: Vec<Face> = outlines
        .iter()
        .map(|outline| {
            let (x, y) = outline.inner_point();
            Face { label: label(x, y), area: outline.area(), neighbours: Vec::new() }
        })
        .collect();
    for edge in &graph.edges {
        let Some(twin) = edge.twin else { continue };
        let (one, other) = (edge.face, graph.edges[twin as usize].face);
        if one == other || one == NO_FACE || other == NO_FACE {
            continue;
        }
        let length = graph.length(edge);
        let list = &mut faces[one as usize].neighbours;
        match list.iter_mut().find(|(known, _)| *known == other as usize) {
            Some((_, shared)) => *shared += length,
            None => list.push((other as usize, length)),
        }
    }
    adjust(&mut faces);
    let labels: Vec<usize> = faces.iter().map(|face| face.label).collect();
    if graph.join(&labels) {
        outlines = graph.outlines();
    }
    let mut pieces: Vec<Piece> = Vec::new();
    let mut by_label: Vec<(usize, usize)> = outlines
        .iter()
        .enumerate()
        .map(|(index, outline)| (outline.old_face.map_or(labels[index], |old| labels[old]), index))
        .collect();
    by_label.sort_unstable();
    for (label, index) in by_label {
        let outline = &outlines[index];
        let (polygon, area) = (outline.polygon(), outline.area());
        match pieces.last_mut() {
            Some(piece) if piece.label == label => {
                piece.polygon.0.push(polygon);
                piece.area += area;
            }
            _ => pieces.push(Piece { label, polygon: MultiPolygon(vec![polygon]), area }),
        }
    }
    pieces
}

const NO_FACE: u32 = u32::MAX;

#[derive(Debug, Clone)]
struct HalfEdge {
    from: u32,
    to: u32,
    twin: Option<u32>,
    face: u32,
}

struct Graph {
    nodes: Snap,
    edges: Vec<HalfEdge>,
    /// Labels already given to the faces of a graph that was joined.
    joined: bool,
}

type Ring = Vec<(f64, f64)>;

/// The boundary of one face.
struct Outline {
    shell: Ring,
    holes: Vec<Ring>,
    old_face: Option<usize>,
}

impl Outline {
    fn area(&self) -> f64 {
        let holes: f64 = self.holes.iter().map(|hole| twice_signed_area(hole)).sum();
        0.5 * twice_signed_area(&self.shell) + 0.5 * holes
    }

    fn polygon(&self) -> Polygon<f64> {
        let ring = |points: &Vec<(f64, f64)>| LineString::from(points.clone());
        Polygon::new(ring(&self.shell), self.holes.iter().map(ring).collect())
    }

    /// A point well inside: the middle of the longest level span at a height between two vertices.
    fn inner_point(&self) -> (f64, f64) {
        let mut heights: Vec<f64> = self.shell.iter().map(|point| point.1).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup();
        let mut best = (self.shell[0].0, self.shell[0].1, -1.0);
        let n_gaps = heights.len().saturating_sub(1);
        // the widest gaps between vertices, near the middle first, are the safest
        let mut gaps: Vec<usize> = (0..n_gaps).collect();
        gaps.sort_by(|&a, &b| {
            (heights[b + 1] - heights[b]).total_cmp(&(heights[a + 1] - heights[a]))
        });
        for &gap in gaps.iter().take(3) {
            let y = f64::midpoint(heights[gap], heights[gap + 1]);
            let mut crossings: Vec<f64> = Vec::new();
            for ring in std::iter::once(&self.shell).chain(&self.holes) {
                for (index, a) in ring.iter().enumerate() {
                    let b = ring[(index + 1) % ring.len()];
                    if (a.1 <= y) != (b.1 <= y) {
                        crossings.push(a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0));
                    }
                }
            }
            crossings.sort_by(f64::total_cmp);
            for span in crossings.chunks_exact(2) {
                let roomy = (span[1] - span[0]).min(heights[gap + 1] - heights[gap]);
                if roomy > best.2 {
                    best = (f64::midpoint(span[0], span[1]), y, roomy);
                }
            }
        }
        (best.0, best.1)
    }
}

impl Graph {
    fn build(polygon: &MultiPolygon<f64>, region: &Region, cuts: &[[f64; 4]]) -> Self {
        let mut nodes = Snap::new(REACH);
        let mut borders: Vec<Border> = Vec::new();
        for part in polygon {
            let inner = part.interiors().iter().map(|ring| (ring, false));
            for (ring, shell) in std::iter::once((part.exterior(), true)).chain(inner) {
                add_ring(ring, shell, &mut nodes, &mut borders);
            }
        }
        let grid = BorderGrid::new(region, &borders, &nodes);
        let mut ends: HashMap<(u64, u64), u32> = HashMap::new();
        let mut inside: HashSet<(u32, u32)> = HashSet::new();
        for cut in cuts {
            let Some(cut) = clip(cut, region) else { continue };
            let mut end = |x: f64, y: f64| {
                *ends
                    .entry((x.to_bits(), y.to_bits()))
                    .or_insert_with(|| grid.land((x, y), &mut nodes, &mut borders))
            };
            let (a, b) = (end(cut[0], cut[1]), end(cut[2], cut[3]));
            if a == b {
                continue;
            }
            let stops = grid.cross(a, b, &mut nodes, &mut borders);
            for pair in stops.windows(2) {
                let (p, q) = (nodes.place(pair[0]), nodes.place(pair[1]));
                if pair[0] != pair[1]
                    && region.contains(f64::midpoint(p.0, q.0), f64::midpoint(p.1, q.1))
                {
                    inside.insert((pair[0].min(pair[1]), pair[0].max(pair[1])));
                }
            }
        }
        let mut edges = Vec::new();
        for border in &mut borders {
            border.stops.sort_by(|x, y| x.0.total_cmp(&y.0));
            let mut from = border.from;
            let stops = border.stops.iter().map(|stop| stop.1);
            for to in stops.chain(std::iter::once(border.to)) {
                if to != from {
                    inside.remove(&(from.min(to), from.max(to)));
                    edges.push(HalfEdge { from, to, twin: None, face: NO_FACE });
                    from = to;
                }
            }
        }
        let mut inside: Vec<(u32, u32)> = inside.into_iter().collect();
        inside.sort_unstable();
        for (a, b) in inside {
            let one = edges.len() as u32;
            edges.push(HalfEdge { from: a, to: b, twin: Some(one + 1), face: NO_FACE });
            edges.push(HalfEdge { from: b, to: a, twin: Some(one), face: NO_FACE });
        }
        Self { nodes, edges, joined: false }
    }

    fn length(&self, edge: &HalfEdge) -> f64 {
        let (a, b) = (self.nodes.place(edge.from), self.nodes.place(edge.to));
        (a.0 - b.0).hypot(a.1 - b.1)
    }

    /// Drops the cuts between faces of one label. True when there were any.
    fn join(&mut self, labels: &[usize]) -> bool {
        let label = |face: u32| if face == NO_FACE { usize::MAX } else { labels[face as usize] };
        let keep: Vec<bool> = self
            .edges
            .iter()
            .map(|edge| {
                edge.twin
                    .is_none_or(|twin| label(edge.face) != label(self.edges[twin as usize].face))
            })
            .collect();
        if keep.iter().all(|kept| *kept) {
            return false;
        }
        let mut number = vec![0_u32; keep.len()];
        let mut next = 0;
        for (index, kept) in keep.iter().enumerate() {
            number[index] = next;
            next += u32::from(*kept);
        }
        let mut index = 0;
        self.edges.retain(|_| {
            index += 1;
            keep[index - 1]
        });
        for edge in &mut self.edges {
            edge.twin = edge.twin.map(|twin| number[twin as usize]);
        }
        self.joined = true;
        true
    }

    /// Follows the edges round every face.
    fn outlines(&mut self) -> Vec<Outline> {
        let next = self.successors();
        let old: Vec<u32> = self.edges.iter().map(|edge| edge.face).collect();
        let mut seen = vec![false; self.edges.len()];
        let mut shells: Vec<(Outline, Vec<u32>)> = Vec::new();
        let mut holes: Vec<(Ring, Vec<u32>)> = Vec::new();
        for start in 0..self.edges.len() {
            if seen[start] {
                continue;
            }
            let mut walk = Vec::new();
            let mut edge = start;
            while !seen[edge] {
                seen[edge] = true;
                walk.push(edge as u32);
                edge = next[edge] as usize;
            }
            let points: Vec<(f64, f64)> =
                walk.iter().map(|&e| self.nodes.place(self.edges[e as usize].from)).collect();
            if twice_signed_area(&points) > 0.0 {
                let before = walk.iter().map(|&e| old[e as usize]).find(|face| *face != NO_FACE);
                let old_face = if self.joined { before.map(|face| face as usize) } else { None };
                shells.push((Outline { shell: points, holes: Vec::new(), old_face }, walk));
            } else {
                holes.push((points, walk));
            }
        }
        let boxes: Vec<[f64; 4]> =
            shells.iter().map(|(outline, _)| box_of(&outline.shell)).collect();
        for (index, (_, walk)) in shells.iter().enumerate() {
            for &edge in walk {
                self.edges[edge as usize].face = index as u32;
            }
        }
        let areas: Vec<f64> = shells.iter().map(|(o, _)| twice_signed_area(&o.shell)).collect();
        for (points, walk) in holes {
            let (x, y) = left_of_longest(&points);
            let owner = (0..shells.len())
                .filter(|&k| {
                    let [x0, y0, x1, y1] = boxes[k];
                    x >= x0 && x <= x1 && y >= y0 && y <= y1 && ring_holds(&shells[k].0.shell, x, y)
                })
                .min_by(|&a, &b| areas[a].total_cmp(&areas[b]));
            if let Some(owner) = owner {
                for edge in walk {
                    self.edges[edge as usize].face = owner as u32;
                }
                shells[owner].0.holes.push(points);
            }
        }
        shells.into_iter().map(|(outline, _)| outline).collect()
    }

    /// For each edge the one that follows it round the face on its left.
    fn successors(&self) -> Vec<u32> {
        let mut out: Vec<Vec<(f64, u32)>> = vec![Vec::new(); self.nodes.len()];
        for (index, edge) in self.edges.iter().enumerate() {
            out[edge.from as usize].push((self.angle(edge.from, edge.to), index as u32));
        }
        for list in &mut out {
            list.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        }
        self.edges
            .iter()
            .enumerate()
            .map(|(index, edge)| {
                let list = &out[edge.to as usize];
                // the twin stands in the list; a border's reverse does not, only its direction
                let before = if let Some(twin) = edge.twin {
                    list.iter().position(|(_, e)| *e == twin).unwrap_or(0)
                } else {
                    let back = self.angle(edge.to, edge.from);
                    list.partition_point(|(angle, _)| *angle < back)
                };
                match list.len() {
                    0 => index as u32,
                    n => list[(before + n - 1) % n].1,
                }
            })
            .collect()
    }

    fn angle(&self, from: u32, to: u32) -> f64 {
        let (a, b) = (self.nodes.place(from), self.nodes.place(to));
        (b.1 - a.1).atan2(b.0 - a.0)
    }
}

fn box_of(points: &[(f64, f64)]) -> [f64; 4] {
    let start = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    points
        .iter()
        .fold(start, |[x0, y0, x1, y1], &(x, y)| [x0.min(x), y0.min(y), x1.max(x), y1.max(y)])
}

fn left_of_longest(points: &[(f64, f64)]) -> (f64, f64) {
    let n = points.len();
    let length = |k: usize| {
        let (a, b) = (points[k], points[(k + 1) % n]);
        (a.0 - b.0).hypot(a.1 - b.1)
    };
    let longest = (0..n).max_by(|&a, &b| length(a).total_cmp(&length(b))).unwrap_or(0);
    let (a, b) = (points[longest], points[(longest + 1) % n]);
    let size = length(longest).max(f64::MIN_POSITIVE);
    let offset = (size * 1e-3).min(0.01);
    (
        f64::midpoint(a.0, b.0) - (b.1 - a.1) / size * offset,
        f64::midpoint(a.1, b.1) + (b.0 - a.0) / size * offset,
    )
}

fn ring_holds(ring: &[(f64, f64)], x: f64, y: f64) -> bool {
    let mut inside = false;
    for (index, a) in ring.iter().enumerate() {
        let b = ring[(index + 1) % ring.len()];
        if (a.1 <= y) != (b.1 <= y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0) {
            inside = !inside;
        }
    }
    inside
}

/// Gives small faces that hang apart from the main face of their part to the neighbour they share
/// most boundary with.
pub(crate) fn absorb_slivers(faces: &mut [Face], share: f64) {
    let mut largest: HashMap<usize, f64> = HashMap::new();
    for face in faces.iter() {
        let most = largest.entry(face.label).or_insert(0.0);
        *most = most.max(face.area);
    }
    let mut order: Vec<usize> = (0..faces.len()).collect();
    order.sort_by(|&a, &b| faces[a].area.total_cmp(&faces[b].area).then(a.cmp(&b)));
    for index in order {
        let face = &faces[index];
        if face.area >= share * largest[&face.label] {
            continue;
        }
        let mut shared: HashMap<usize, f64> = HashMap::new();
        for &(neighbour, length) in &face.neighbours {
            *shared.entry(faces[neighbour].label).or_insert(0.0) += length;
        }
        let mut shared: Vec<(usize, f64)> = shared.into_iter().collect();
        shared.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        if let Some(&(label, _)) = shared.first() {
            faces[index].label = label;
        }
    }
}

#[cfg(test)]
mod tests;
