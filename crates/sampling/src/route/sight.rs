use super::mesh::{Mesh, NONE, side};
use geo::kernels::Orientation;
use geo_types::Coord;

/// What can be seen from a place: the part of a triangle between two lines of sight.
#[derive(Debug, Clone, Copy)]
pub(crate) struct View {
    /// The triangle looked into.
    pub triangle: u32,
    /// The corner seen last, facing the edge looked through; none in the triangles about the place itself.
    pub corner: Option<usize>,
    apex: Coord<f64>,
    right: Coord<f64>,
    left: Coord<f64>,
}

impl View {
    /// True when a point of the triangle lies between the lines of sight or on one of them.
    pub(crate) fn shows(&self, point: Coord<f64>) -> bool {
        self.corner.is_none()
            || (side(self.apex, self.right, point) != Orientation::Clockwise
                && side(self.apex, self.left, point) != Orientation::CounterClockwise)
    }
}

/// Calls `see` for every triangle, or part of one, in sight of a place.
///
/// The view is widened triangle by triangle through edges that are water and narrowed by the shore,
/// so the work grows with what is seen, not with the lake. `about` are the triangles the place lies in, or
/// those of the fan when it is a vertex of the shore. A line that only touches a vertex is not blocked by it.
///
/// # References
/// Bungiu, Hemmer, Hershberger, Huang, Kröller (2014), Efficient computation of visibility polygons,
/// 30th European Workshop on Computational Geometry (triangular expansion).
pub(crate) fn look(mesh: &Mesh, apex: Coord<f64>, about: &[u32], see: &mut impl FnMut(&View)) {
    let mut open: Vec<View> = Vec::new();
    for &triangle in about {
        see(&View { triangle, corner: None, apex, right: apex, left: apex });
        for k in 0..3 {
            let next = mesh.neighbours[triangle as usize][k];
            // the triangles about the place are all looked into in full
            if next != NONE && !about.contains(&next) {
                let corners = mesh.corners(triangle);
                let (right, left) = (corners[(k + 1) % 3], corners[(k + 2) % 3]);
                if side(apex, right, left) == Orientation::CounterClockwise {
                    open.push(through(mesh, triangle, next, apex, right, left));
                }
            }
        }
    }
    while let Some(view) = open.pop() {
        see(&view);
        let Some(k) = view.corner else { continue };
        let corners = mesh.corners(view.triangle);
        let far = corners[k];
        let from_right = side(apex, view.right, far);
        let from_left = side(apex, view.left, far);
        // the edges run from the right end of the one looked through to the far corner, and on to its left end
        let past_right = mesh.neighbours[view.triangle as usize][(k + 1) % 3];
        if past_right != NONE && from_right == Orientation::CounterClockwise {
            let left = if from_left == Orientation::Clockwise { far } else { view.left };
            open.push(through(mesh, view.triangle, past_right, apex, view.right, left));
        }
        let past_left = mesh.neighbours[view.triangle as usize][(k + 2) % 3];
        if past_left != NONE && from_left == Orientation::Clockwise {
            let right = if from_right == Orientation::CounterClockwise { far } else { view.right };
            open.push(through(mesh, view.triangle, past_left, apex, right, view.left));
        }
    }
}

fn through(
    mesh: &Mesh,
    from: u32,
    to: u32,
    apex: Coord<f64>,
    right: Coord<f64>,
    left: Coord<f64>,
) -> View {
    let corner = mesh.neighbours[to as usize].iter().position(|&back| back == from);
    View { triangle: to, corner, apex, right, left }
}
