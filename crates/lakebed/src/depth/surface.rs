//! The surface between the data: a triangulation, read linearly or by natural neighbours.

use super::Method;
use crate::coverage::Window;
use geo_types::Coord;
use spade::handles::FixedVertexHandle;
use spade::{
    ConstrainedDelaunayTriangulation, DelaunayTriangulation, FloatTriangulation, HasPosition,
    Point2, PositionInTriangulation, Triangulation,
};
use std::collections::HashMap;

/// What a vertex of the triangulation stands for. The order says who wins a place that two claim.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// A sounding.
    Sounding,
    /// A vertex of a contour, by its number.
    Contour(u32),
    /// A vertex of the shore.
    Shore,
    /// Put in to mend a flat.
    Mended,
}

/// A depth at a place, in metres from the surface's own origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Vertex {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) depth: f64,
    pub(super) kind: Kind,
}

impl HasPosition for Vertex {
    type Scalar = f64;

    fn position(&self) -> Point2<f64> {
        Point2::new(self.x, self.y)
    }
}

pub(super) type Constrained = ConstrainedDelaunayTriangulation<Vertex>;
pub(super) type Delaunay = DelaunayTriangulation<Vertex>;

/// To a hundredth of a millimetre, so that rounding does not make two vertices of one; −0 becomes
/// 0.
fn snap(metres: f64) -> f64 {
    (metres * 1e5).round() / 1e5 + 0.0
}

/// Vertices, each place once, and the lines between them that no triangle may cross.
#[derive(Debug, Default, Clone)]
pub(super) struct Network {
    pub(super) vertices: Vec<Vertex>,
    pub(super) edges: Vec<[usize; 2]>,
    /// Vertices that contours of different depth share.
    pub(super) clashes: Vec<usize>,
    places: HashMap<(u64, u64), usize>,
}

impl Network {
    /// Adds a vertex, or finds the one that is there; the stronger kind keeps the depth.
    pub(super) fn add(&mut self, vertex: Vertex) -> usize {
        let vertex = Vertex { x: snap(vertex.x), y: snap(vertex.y), ..vertex };
        let key = (vertex.x.to_bits(), vertex.y.to_bits());
        let next = self.vertices.len();
        let index = *self.places.entry(key).or_insert(next);
        if index == next {
            self.vertices.push(vertex);
            return index;
        }
        let there = self.vertices[index];
        if let (Kind::Contour(_), Kind::Contour(_)) = (vertex.kind, there.kind) {
            if 1e-9 < (vertex.depth - there.depth).abs() {
                self.clashes.push(index);
            }
        } else if vertex.kind < there.kind {
            self.vertices[index] = vertex;
        }
        index
    }

    /// Adds a line of vertices and holds its segments.
    pub(super) fn add_line(&mut self, line: impl Iterator<Item = Vertex>) {
        let mut last = None;
        for vertex in line {
            let index = self.add(vertex);
            if let Some(from) = last.filter(|&from| from != index) {
                self.edges.push([from, index]);
            }
            last = Some(index);
        }
    }

    /// The triangulation that holds all lines, and the segments that had to give way to another.
    pub(super) fn constrained(&self) -> Option<(Constrained, Vec<[usize; 2]>)> {
        let mut conflicts = Vec::new();
        let (vertices, edges) = (self.vertices.clone(), self.edges.clone());
        Constrained::try_bulk_load_cdt(vertices, edges, |edge| conflicts.push(edge))
            .ok()
            .map(|triangulation| (triangulation, conflicts))
    }

    /// The triangulation of the vertices alone.
    pub(super) fn delaunay(&self) -> Option<Delaunay> {
        Delaunay::bulk_load(self.vertices.clone()).ok()
    }
}

/// A triangulation and how it is read between its vertices.
#[derive(Debug)]
pub(super) enum Surface {
    Linear(Constrained),
    NaturalNeighbour(Delaunay),
}

impl Surface {
    pub(super) const fn method(&self) -> Method {
        match self {
            Self::Linear(_) => Method::Linear,
            Self::NaturalNeighbour(_) => Method::NaturalNeighbour,
        }
    }

    /// Calls `visit` with a reader that keeps its buffers between places near each other.
    pub(super) fn with_reader<T>(
        &self,
        visit: impl FnOnce(&dyn Fn(f64, f64) -> Option<f64>) -> T,
    ) -> T {
        match self {
            Self::Linear(triangulation) => {
                let barycentric = triangulation.barycentric();
                visit(&|x, y| {
                    barycentric.interpolate(|vertex| vertex.data().depth, Point2::new(x, y))
                })
            }
            Self::NaturalNeighbour(triangulation) => {
                let natural = triangulation.natural_neighbor();
                visit(&|x, y| natural.interpolate(|vertex| vertex.data().depth, Point2::new(x, y)))
            }
        }
    }

    /// The depths at the centres of the wanted cells of a window, whose corner counts from the
    /// surface's own origin; not a number where a cell is not wanted or lies outside.
    pub(super) fn at_centres(&self, window: &Window, wanted: &[bool]) -> Vec<f64> {
        let mut depths = match self {
            Self::Linear(triangulation) => triangle_by_triangle(triangulation, window, wanted),
            Self::NaturalNeighbour(_) => vec![f64::NAN; window.len()],
        };
        self.with_reader(|read| {
            for row in 0..window.rows {
                for step in 0..window.columns {
                    // there and back, so that a search never has to cross the lake
                    let column = if row % 2 == 0 { step } else { window.columns - 1 - step };
                    let index = row * window.columns + column;
                    if wanted[index] && depths[index].is_nan() {
                        let Coord { x, y } = window.centre(column, row);
                        depths[index] = read(x, y).unwrap_or(f64::NAN);
                    }
                }
            }
        });
        depths
    }

    /// The depth at a place; none outside the triangulation.
    pub(super) fn depth(&self, x: f64, y: f64) -> Option<f64> {
        self.with_reader(|read| read(x, y))
    }
}

/// Lays every triangle on the cells whose centres it holds: no centre has to be searched for.
///
/// A centre on an edge may escape both triangles by a rounding; it stays without a number.
fn triangle_by_triangle(triangulation: &Constrained, window: &Window, wanted: &[bool]) -> Vec<f64> {
    let mut depths = vec![f64::NAN; window.len()];
    // cells whose centres lie between two places along one axis
    let between = |low: f64, high: f64, from: f64, count: usize| {
        let cells = |at: f64| (at - from) / window.cell - 0.5;
        let first = cells(low).ceil().max(0.0) as usize;
        let past = (cells(high).floor() + 1.0).clamp(0.0, count as f64) as usize;
        first..past
    };
    for face in triangulation.inner_faces() {
        let [a, b, c] = face.vertices().map(|vertex| *vertex.data());
        let (low_x, high_x) = (a.x.min(b.x).min(c.x), a.x.max(b.x).max(c.x));
        let (low_y, high_y) = (a.y.min(b.y).min(c.y), a.y.max(b.y).max(c.y));
        let columns = between(low_x, high_x, window.corner.x, window.columns);
        for row in between(low_y, high_y, window.corner.y, window.rows) {
            for column in columns.clone() {
                let index = row * window.columns + column;
                if !wanted[index] {
                    continue;
                }
                let Coord { x, y } = window.centre(column, row);
                let side = |from: &Vertex, to: &Vertex| {
                    (to.x - from.x) * (y - from.y) - (to.y - from.y) * (x - from.x)
                };
                // twice the areas of the triangles opposite the corners; corners run to the left
                let shares = [side(&b, &c), side(&c, &a), side(&a, &b)];
                let whole: f64 = shares.iter().sum();
                if shares.iter().all(|share| 0.0 <= *share) && 0.0 < whole {
                    depths[index] =
                        (shares[0] * a.depth + shares[1] * b.depth + shares[2] * c.depth) / whole;
                }
            }
        }
    }
    depths
}

/// Position on a curve that visits a square quarter by quarter, so that a walk from one vertex of a
/// triangulation to the next is short.
pub(super) fn along_curve(x: u32, y: u32) -> u64 {
    let (x, y) = (u64::from(x), u64::from(y));
    (0..32).fold(0, |key, bit| key | (x >> bit & 1) << (2 * bit) | (y >> bit & 1) << (2 * bit + 1))
}

/// The handle of the vertex at a place.
pub(super) fn vertex_at<T>(triangulation: &T, x: f64, y: f64) -> Option<FixedVertexHandle>
where
    T: Triangulation<Vertex = Vertex>,
{
    match triangulation.locate(Point2::new(x, y)) {
        PositionInTriangulation::OnVertex(handle) => Some(handle),
        _ => None,
    }
}
