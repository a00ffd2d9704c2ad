//! Mends the flats that a triangulation leaves where all three corners lie on one contour.

use super::surface::{Constrained, Kind, Vertex};
use crate::outline::Outline;
use geo_types::Coord;
use spade::Triangulation;
use spade::handles::{FaceHandle, InnerTag};
use std::collections::{BTreeMap, BTreeSet};

type Face<'a> = FaceHandle<'a, InnerTag, Vertex, (), spade::CdtEdge<()>, ()>;
type Flats<'a> = BTreeMap<usize, Face<'a>>;

/// New vertices for the flats of a triangulation.
///
/// A triangle with all corners on one contour, or all on the shore, has no slope: a bend of the
/// contour would be a terrace and a bay without soundings dry. Flats that hang together are mended
/// as one. At the middle of every edge between two of its triangles, which runs along the axis of
/// the flat, a vertex is put in.
///
/// # Formula
/// `depth = d ± min(s · r / 2, c / 2)`, with `d` the depth of the contour, `s` the mean slope of the bed
/// around the flat, `r` the distance of the axis from the contour (half the edge), `c` the step to
/// the next contour or to the deepest neighbour: a parabola that leaves the contour with the slope
/// found outside and lies level on the axis. The sign is the side of the contour on which the flat
/// lies.
///
/// # Assumptions
/// Where nothing deeper is known, as within the innermost contour without a sounding, the flat
/// stays: the model is never deeper than the deepest datum.
pub(super) fn mend(
    triangulation: &Constrained,
    outline: &Outline,
    origin: Coord<f64>,
    least: f64,
) -> Vec<Vertex> {
    let faces: Vec<Face<'_>> = triangulation.inner_faces().collect();
    let is_water = |face: &Face<'_>| {
        let centre = face.center();
        outline.contains(Coord { x: centre.x + origin.x, y: centre.y + origin.y })
    };
    let flat: BTreeMap<usize, Face<'_>> = faces
        .iter()
        .filter(|face| is_flat(**face) && is_water(face))
        .map(|face| (face.index(), *face))
        .collect();
    let levels = levels(triangulation);
    let mut seen = BTreeSet::new();
    let mut vertices = Vec::new();
    for (&index, &face) in &flat {
        if seen.insert(index) {
            let region = grow(face, &flat, &mut seen);
            vertices.extend(fill(&region, &flat, &levels, least));
        }
    }
    vertices
}

fn on_line(vertex: &Vertex) -> bool {
    matches!(vertex.kind, Kind::Contour(_) | Kind::Shore)
}

fn is_flat(face: Face<'_>) -> bool {
    let [a, b, c] = face.vertices().map(|vertex| *vertex.data());
    let level = (a.depth - b.depth).abs() < 1e-9 && (b.depth - c.depth).abs() < 1e-9;
    level && [a, b, c].iter().all(on_line)
}

/// The depths of the contours, each once, in order.
fn levels(triangulation: &Constrained) -> Vec<f64> {
    let mut levels: Vec<f64> = triangulation
        .vertices()
        .filter(|vertex| matches!(vertex.data().kind, Kind::Contour(_)))
        .map(|vertex| vertex.data().depth)
        .collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    levels
}

/// All flat triangles that hang together with one, no contour between.
fn grow<'a>(start: Face<'a>, flat: &Flats<'a>, seen: &mut BTreeSet<usize>) -> Vec<Face<'a>> {
    let mut region = Vec::new();
    let mut waiting = vec![start];
    while let Some(face) = waiting.pop() {
        region.push(face);
        let open = face.adjacent_edges().into_iter().filter(|edge| !edge.is_constraint_edge());
        for next in open.filter_map(|edge| edge.rev().face().as_inner()) {
            if flat.contains_key(&next.index()) && seen.insert(next.index()) {
                waiting.push(next);
            }
        }
    }
    region
}

/// What lies around a flat.
#[derive(Default)]
struct Rim {
    length: f64,
    slope: f64,
    /// Length of rim that says deeper, less length that says shallower.
    side: f64,
    deepest: Option<f64>,
    shallowest: Option<f64>,
}

fn fill(region: &[Face<'_>], flat: &Flats<'_>, levels: &[f64], least: f64) -> Vec<Vertex> {
    let Some(depth) = region.first().map(|face| face.vertices()[0].data().depth) else {
        return vec![];
    };
    let rim = rim(region, flat, depth);
    if rim.length <= 0.0 || rim.side.abs() < 1e-12 {
        return vec![];
    }
    let deeper = 0.0 < rim.side;
    let next = if deeper {
        let level = levels.iter().copied().find(|level| depth + 1e-9 < *level);
        level.into_iter().chain(rim.deepest).reduce(f64::min)
    } else {
        let level = levels.iter().copied().rev().find(|level| *level < depth - 1e-9);
        level.or(Some(0.0)).into_iter().chain(rim.shallowest).reduce(f64::max)
    };
    let Some(most) = next.map(|next| 0.5 * (next - depth).abs()) else {
        return vec![];
    };
    let slope = rim.slope / rim.length;
    let at = |x: f64, y: f64, reach: f64| {
        let step = (0.5 * slope * reach).min(most);
        let depth = if deeper { depth + step } else { depth - step };
        Vertex { x, y, depth, kind: Kind::Mended }
    };
    let mut vertices = Vec::new();
    for face in region {
        for edge in face.adjacent_edges() {
            let inner = !edge.is_constraint_edge()
                && edge
                    .rev()
                    .face()
                    .as_inner()
                    .is_some_and(|next| flat.contains_key(&next.index()));
            // each inner edge is met from both sides: take it once
            let [from, to] = edge.vertices();
            let reach = 0.5 * edge.length_2().sqrt();
            if inner && from.index() < to.index() && least < reach {
                let (a, b) = (from.data(), to.data());
                vertices.push(at(0.5 * (a.x + b.x), 0.5 * (a.y + b.y), reach));
            }
        }
    }
    if let ([face], true) = (region, vertices.is_empty()) {
        let longest =
            face.adjacent_edges().map(|edge| edge.length_2()).into_iter().fold(0.0, f64::max);
        let reach = face.area() / longest.sqrt();
        if least < reach {
            let centre = face.center();
            vertices.push(at(centre.x, centre.y, reach));
        }
    }
    vertices
}

fn rim(region: &[Face<'_>], flat: &Flats<'_>, depth: f64) -> Rim {
    let mut rim = Rim::default();
    for edge in region.iter().flat_map(Face::adjacent_edges) {
        let Some(neighbour) = edge.rev().face().as_inner() else {
            continue;
        };
        if flat.contains_key(&neighbour.index()) {
            continue;
        }
        let across = edge.is_constraint_edge();
        let [a, b] = edge.vertices().map(|vertex| *vertex.data());
        let Some(third) = edge.rev().opposite_vertex().map(|vertex| *vertex.data()) else {
            continue;
        };
        // beyond the shore is land, whose triangles tell nothing of the bed
        if a.kind == Kind::Shore && b.kind == Kind::Shore && across {
            continue;
        }
        let length = edge.length_2().sqrt();
        let height = 2.0 * neighbour.area() / length;
        if height <= 0.0 || (third.depth - depth).abs() < 1e-12 {
            continue;
        }
        let down = if across { depth - third.depth } else { third.depth - depth };
        rim.length += length;
        rim.slope += length * (third.depth - depth).abs() / height;
        rim.side += length * down.signum();
        if !across && depth < third.depth {
            rim.deepest = Some(rim.deepest.map_or(third.depth, |most| most.max(third.depth)));
        } else if !across {
            rim.shallowest =
                Some(rim.shallowest.map_or(third.depth, |least| least.min(third.depth)));
        }
    }
    rim
}
