use super::RouteError;
use geo::bool_ops::FillRule;
use geo::kernels::{Kernel, Orientation, RobustKernel};
use geo::orient::Direction;
use geo::{Area, BooleanOps, Euclidean, Length, Orient};
use geo_types::{Coord, LineString, MultiPolygon};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation as _};
use std::collections::HashMap;

/// Mean width in metres below which a piece of water is an artefact.
const NARROWEST: f64 = 0.1;

/// No triangle, no corner.
pub(crate) const NONE: u32 = u32::MAX;

/// On which side of the line from `a` to `b` a point lies, exactly.
///
/// Source: Shewchuk (1997), Discrete & Computational Geometry 18: 305–363.
pub(crate) fn side(a: Coord<f64>, b: Coord<f64>, point: Coord<f64>) -> Orientation {
    RobustKernel::orient2d(a, b, point)
}

/// The water cut into triangles whose corners are the vertices of the shore line and no others.
///
/// Two triangles are neighbours when they share an edge that is not shore. All questions about sight are
/// asked of original vertices with an exact predicate, so no rounding opens a gap in the shore or closes a strait.
#[derive(Debug, Clone)]
pub(crate) struct Mesh {
    pub points: Vec<Coord<f64>>,
    /// Corners of each triangle, anticlockwise, as indices into `points`.
    pub triangles: Vec<[u32; 3]>,
    /// The triangle across the edge that faces each corner, `NONE` at the shore.
    pub neighbours: Vec<[u32; 3]>,
    /// The fan each corner belongs to.
    pub fan_of: Vec<[u32; 3]>,
    pub fans: Vec<Fan>,
    shore: Vec<ShoreEdge>,
    index: RTree<GeomWithData<Rectangle<[f64; 2]>, u32>>,
}

/// The water about one vertex of the shore, from shore to shore.
///
/// A vertex where shores touch has a fan on each side; no boat passes between them there.
#[derive(Debug, Clone)]
pub(crate) struct Fan {
    pub point: u32,
    /// Shore neighbours, the fan lies anticlockwise from the first to the last.
    pub first: u32,
    pub last: u32,
    /// True where the land juts out: a shortest way may turn here.
    pub reflex: bool,
    /// Triangles of the fan.
    pub triangles: Vec<u32>,
}

#[derive(Debug, Clone, Copy)]
struct ShoreEdge {
    from: Coord<f64>,
    to: Coord<f64>,
    triangle: u32,
}

impl Mesh {
    pub(crate) fn new(water: &MultiPolygon<f64>) -> Result<Self, RouteError> {
        let finite = rings(water)
            .flat_map(LineString::coords)
            .all(|c| c.x.is_finite() && c.y.is_finite() && c.x.abs() < 1e12 && c.y.abs() < 1e12);
        if !finite || water.unsigned_area() <= 0.0 {
            return Err(RouteError::NoWater);
        }
        if let Some(mesh) = Self::cut(water) {
            return Ok(mesh);
        }
        // rings that cross or share edges: join them into clean ones and try once more
        let clean = water
            .orient(Direction::Default)
            .union_with_fill_rule(&MultiPolygon(Vec::new()), FillRule::NonZero);
        Self::cut(&clean).ok_or(RouteError::TangledShore)
    }

    /// None when the rings do not bound an area without doubt.
    fn cut(water: &MultiPolygon<f64>) -> Option<Self> {
        let (vertices, edges) = vertices_and_edges(water);
        let mut conflict = false;
        let net: ConstrainedDelaunayTriangulation<Point2<f64>> =
            ConstrainedDelaunayTriangulation::try_bulk_load_cdt(
                vertices.iter().map(|c| Point2::new(c.x, c.y)).collect(),
                edges,
                |_| conflict = true,
            )
            .ok()?;
        if conflict || net.num_vertices() != vertices.len() {
            return None;
        }
        let wet = wet_faces(&net);
        let mut number = vec![NONE; wet.len()];
        let mut count = 0;
        for (face, &is_wet) in wet.iter().enumerate() {
            if is_wet {
                number[face] = count;
                count += 1;
            }
        }
        let (mut triangles, mut neighbours, mut shore) = (Vec::new(), Vec::new(), Vec::new());
        let mut area = 0.0;
        for face in net.inner_faces().filter(|face| wet[face.index()]) {
            let edges = face.adjacent_edges();
            let corners = edges.map(|edge| edge.from().index() as u32);
            let mut across = [NONE; 3];
            for k in 0..3 {
                let edge = edges[(k + 1) % 3];
                if edge.is_constraint_edge() {
                    shore.push(ShoreEdge {
                        from: vertices[edge.from().index()],
                        to: vertices[edge.to().index()],
                        triangle: number[face.index()],
                    });
                } else {
                    across[k] = number[edge.rev().face().fix().index()];
                }
            }
            let [a, b, c] = corners.map(|corner| vertices[corner as usize]);
            area += ((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)) / 2.0;
            triangles.push(corners);
            neighbours.push(across);
        }
        let expected = water.unsigned_area();
        if triangles.is_empty() || (area - expected).abs() > 1e-7 * expected {
            return None;
        }
        let (fan_of, fans) = fans(&vertices, &triangles, &neighbours);
        let index = RTree::bulk_load(
            triangles
                .iter()
                .enumerate()
                .map(|(t, corners)| {
                    let [a, b, c] = corners.map(|corner| {
                        let at = vertices[corner as usize];
                        [at.x, at.y]
                    });
                    let bounds = AABB::from_points(&[a, b, c]);
                    GeomWithData::new(Rectangle::from_aabb(bounds), t as u32)
                })
                .collect(),
        );
        Some(Self { points: vertices, triangles, neighbours, fan_of, fans, shore, index })
    }

    pub(crate) fn corners(&self, triangle: u32) -> [Coord<f64>; 3] {
        self.triangles[triangle as usize].map(|corner| self.points[corner as usize])
    }

    /// The triangles a point lies in: one, or several on an edge or a vertex; none on land.
    pub(crate) fn locate(&self, at: Coord<f64>) -> Vec<u32> {
        let mut found: Vec<u32> = self
            .index
            .locate_all_at_point(&[at.x, at.y])
            .map(|hit| hit.data)
            .filter(|&triangle| {
                let [a, b, c] = self.corners(triangle);
                [(a, b), (b, c), (c, a)]
                    .iter()
                    .all(|&(from, to)| side(from, to, at) != Orientation::Clockwise)
            })
            .collect();
        found.sort_unstable();
        found
    }

    /// The place in the water nearest to a point on land, a millimetre off the shore so that it is in
    /// the water for certain; with the triangle it lies in.
    pub(crate) fn nearest_water(&self, at: Coord<f64>) -> (Coord<f64>, u32) {
        let mut best = (f64::INFINITY, at, 0);
        for edge in &self.shore {
            let along = Coord { x: edge.to.x - edge.from.x, y: edge.to.y - edge.from.y };
            let off = Coord { x: at.x - edge.from.x, y: at.y - edge.from.y };
            let length_squared = along.x * along.x + along.y * along.y;
            let share = ((off.x * along.x + off.y * along.y) / length_squared).clamp(0.0, 1.0);
            let foot = Coord { x: edge.from.x + share * along.x, y: edge.from.y + share * along.y };
            let distance = (at.x - foot.x).hypot(at.y - foot.y);
            if distance < best.0 {
                best = (distance, foot, edge.triangle);
            }
        }
        let (_, foot, triangle) = best;
        let [a, b, c] = self.corners(triangle);
        let middle = Coord { x: (a.x + b.x + c.x) / 3.0, y: (a.y + b.y + c.y) / 3.0 };
        let way = Coord { x: middle.x - foot.x, y: middle.y - foot.y };
        let share = (0.001 / way.x.hypot(way.y)).min(0.5);
        (Coord { x: foot.x + share * way.x, y: foot.y + share * way.y }, triangle)
    }
}

fn rings(polygons: &MultiPolygon<f64>) -> impl Iterator<Item = &LineString<f64>> {
    polygons.iter().flat_map(|part| std::iter::once(part.exterior()).chain(part.interiors()))
}

/// Vertices without doubles, and the shore edges between them; an edge that runs twice cancels out.
fn vertices_and_edges(water: &MultiPolygon<f64>) -> (Vec<Coord<f64>>, Vec<[usize; 2]>) {
    let mut vertices: Vec<Coord<f64>> = Vec::new();
    let mut known: HashMap<[u64; 2], usize> = HashMap::new();
    let mut edges: Vec<[usize; 2]> = Vec::new();
    for ring in rings(water) {
        let numbers: Vec<usize> = ring
            .coords()
            .map(|c| {
                // adding zero turns -0 into 0, which the map would take for another number
                let at = Coord { x: tiny_to_zero(c.x), y: tiny_to_zero(c.y) };
                *known.entry([at.x.to_bits(), at.y.to_bits()]).or_insert_with(|| {
                    vertices.push(at);
                    vertices.len() - 1
                })
            })
            .collect();
        for pair in numbers.windows(2) {
            if pair[0] != pair[1] {
                edges.push([pair[0].min(pair[1]), pair[0].max(pair[1])]);
            }
        }
        if let (Some(&first), Some(&last)) = (numbers.first(), numbers.last())
            && first != last
        {
            edges.push([first.min(last), first.max(last)]);
        }
    }
    edges.sort_unstable();
    let single = edges
        .chunk_by(|a, b| a == b)
        .filter(|same| same.len() % 2 == 1)
        .map(|same| same[0])
        .collect();
    (vertices, single)
}

/// The triangulation refuses numbers below 2⁻¹⁴².
fn tiny_to_zero(value: f64) -> f64 {
    if value.abs() < 1e-30 { 0.0 } else { value }
}

/// Faces with an odd number of shore lines between them and the outside.
fn wet_faces(net: &ConstrainedDelaunayTriangulation<Point2<f64>>) -> Vec<bool> {
    let mut wet: Vec<Option<bool>> = vec![None; net.num_all_faces()];
    let mut open: Vec<_> = net
        .convex_hull()
        .flat_map(|edge| [edge, edge.rev()])
        .filter(|edge| !edge.is_outer_edge())
        .map(|edge| (edge.face().fix(), edge.is_constraint_edge()))
        .collect();
    while let Some((face, is_wet)) = open.pop() {
        let Some(inner) = net.face(face).as_inner() else { continue };
        if wet[face.index()].replace(is_wet).is_some() {
            continue;
        }
        for edge in inner.adjacent_edges() {
            let next = edge.rev().face();
            if wet[next.index()].is_none() {
                open.push((next.fix(), is_wet != edge.is_constraint_edge()));
            }
        }
    }
    wet.into_iter().map(|wet| wet.unwrap_or(false)).collect()
}

fn fans(
    points: &[Coord<f64>],
    triangles: &[[u32; 3]],
    neighbours: &[[u32; 3]],
) -> (Vec<[u32; 3]>, Vec<Fan>) {
    let corner_of = |triangle: u32, point: u32| {
        triangles[triangle as usize].iter().position(|&p| p == point).unwrap_or(0)
    };
    let mut fan_of = vec![[NONE; 3]; triangles.len()];
    let mut fans = Vec::new();
    for t in 0..triangles.len() {
        for k in 0..3 {
            if fan_of[t][k] != NONE {
                continue;
            }
            let point = triangles[t][k];
            // turn clockwise to the shore, then gather anticlockwise
            let (mut start, mut at) = (t as u32, k);
            loop {
                let before = neighbours[start as usize][(at + 2) % 3];
                if before == NONE || before == t as u32 {
                    break;
                }
                (start, at) = (before, corner_of(before, point));
            }
            let first = triangles[start as usize][(at + 1) % 3];
            let mut gathered = Vec::new();
            let last = loop {
                gathered.push(start);
                fan_of[start as usize][at] = fans.len() as u32;
                let next = neighbours[start as usize][(at + 1) % 3];
                if next == NONE || fan_of[next as usize][corner_of(next, point)] != NONE {
                    break triangles[start as usize][(at + 2) % 3];
                }
                (start, at) = (next, corner_of(next, point));
            };
            let [here, from, to] = [point, first, last].map(|number| points[number as usize]);
            let reflex = match side(here, from, to) {
                Orientation::Clockwise => true,
                Orientation::CounterClockwise => false,
                // straight on, or a spit without width that the water goes round
                Orientation::Collinear => {
                    (from.x - here.x) * (to.x - here.x) + (from.y - here.y) * (to.y - here.y) > 0.0
                }
            };
            fans.push(Fan { point, first, last, reflex, triangles: gathered });
        }
    }
    (fan_of, fans)
}

/// Water less the places to keep out of, in one operation: all rings are then rounded to one and the same fine
/// grid, so that shallows along the shore leave no film of water between them and the shore line. Pieces narrower than
/// a hand, which rounding may still leave, are no water for a boat.
pub(crate) fn open_water(
    lake: &MultiPolygon<f64>,
    keep_out: &[&MultiPolygon<f64>],
) -> MultiPolygon<f64> {
    let areas: MultiPolygon<f64> = keep_out.iter().flat_map(|area| area.iter().cloned()).collect();
    let (lake, areas) = (lake.orient(Direction::Default), areas.orient(Direction::Default));
    // shores run one way, islands the other: areas that overlap count once
    lake.difference_with_fill_rule(&areas, FillRule::NonZero)
        .into_iter()
        .filter(|piece| {
            let shore: f64 = std::iter::once(piece.exterior())
                .chain(piece.interiors())
                .map(|ring| Euclidean.length(ring))
                .sum();
            2.0 * piece.unsigned_area() > NARROWEST * shore
        })
        .collect()
}
