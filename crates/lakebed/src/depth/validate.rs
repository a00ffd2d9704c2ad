//! How far the surface is from a datum it has not seen.

use super::surface::{Constrained, Delaunay, Kind, Network, Vertex, along_curve, vertex_at};
use spade::handles::FixedVertexHandle;
use spade::{FloatTriangulation, Point2, Triangulation};
use units::Metres;

/// At most this many data are left out, one at a time.
const MOST_TRIALS: usize = 2_000;
/// At most this many contours are left out, one at a time.
const MOST_CONTOURS: usize = 40;

/// How an error was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum ErrorMethod {
    /// Every datum tried was taken out alone and predicted from all others.
    LeaveOneOut,
    /// Every contour tried was taken out whole and predicted from all others: more than the error
    /// between contours, for those stay in their place.
    LeaveOneContourOut,
}

/// How far the surface was from data it had not seen.
///
/// # Assumptions
/// Data lie as densely where no one sounded as where the trials lie. Soundings along a boat's track
/// have near neighbours on the track, so between tracks the error is larger: see the distance to
/// the nearest datum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DepthModelError {
    /// How it was found.
    pub method: ErrorMethod,
    /// Mean of the absolute differences.
    pub mean: Metres,
    /// 95th percentile of the absolute differences, nearest rank.
    pub p95: Metres,
    /// Mean difference, predicted less true: positive when the model is too deep.
    pub bias: Metres,
    /// How many data were predicted.
    pub trials: usize,
}

fn summary(method: ErrorMethod, differences: &[f64]) -> Option<DepthModelError> {
    if differences.is_empty() {
        return None;
    }
    let count = differences.len() as f64;
    let mut absolute: Vec<f64> = differences.iter().map(|difference| difference.abs()).collect();
    absolute.sort_by(f64::total_cmp);
    let rank = (0.95 * count).ceil() as usize;
    Some(DepthModelError {
        method,
        mean: Metres::new(absolute.iter().sum::<f64>() / count),
        p95: Metres::new(absolute[rank.max(1) - 1]),
        bias: Metres::new(differences.iter().sum::<f64>() / count),
        trials: differences.len(),
    })
}

/// An evenly spread choice of the soundings, the same each time, neighbours after one another.
fn trials(network: &Network) -> Vec<Vertex> {
    let soundings: Vec<Vertex> =
        network.vertices.iter().copied().filter(|vertex| vertex.kind == Kind::Sounding).collect();
    let step = soundings.len().div_ceil(MOST_TRIALS).max(1);
    let mut trials: Vec<Vertex> = soundings.into_iter().step_by(step).collect();
    let widest = trials.iter().map(|vertex| vertex.x.max(vertex.y)).fold(1.0, f64::max);
    let step = |metres: f64| (metres / widest * f64::from(u16::MAX)) as u32;
    trials.sort_by_cached_key(|vertex| along_curve(step(vertex.x), step(vertex.y)));
    trials
}

/// Takes each trial out of a triangulation, predicts its depth without it, and puts it back.
///
/// The triangulation ends as it was, but for ties between points on one circle.
fn leave_one_out<T>(
    network: &Network,
    triangulation: &mut T,
    removable: impl Fn(&T, FixedVertexHandle) -> bool,
    predict: impl Fn(&T, Point2<f64>) -> Option<f64>,
) -> Option<DepthModelError>
where
    T: Triangulation<Vertex = Vertex>,
{
    let mut differences = Vec::new();
    for vertex in trials(network) {
        let Some(handle) = vertex_at(triangulation, vertex.x, vertex.y) else {
            continue;
        };
        if !removable(triangulation, handle) {
            continue;
        }
        let at = Point2::new(vertex.x, vertex.y);
        let near = triangulation.vertex(handle).out_edge().map(|edge| edge.to().fix());
        let taken = triangulation.remove(handle);
        if let Some(near) = near {
            // a search begins at the vertex found last; after a removal that would be anywhere. The
            // last vertex of all has moved into the gap.
            let moved = near.index() == triangulation.num_vertices();
            triangulation.locate_with_hint(at, if moved { handle } else { near });
        }
        if let Some(predicted) = predict(triangulation, at) {
            differences.push(predicted - vertex.depth);
        }
        triangulation.insert(taken).ok()?;
    }
    summary(ErrorMethod::LeaveOneOut, &differences)
}

/// Leave-one-out error of the linear surface. A sounding that lies on a contour or the shore is no
/// trial: taking it out would take a piece of the line.
#[expect(
    clippy::redundant_closure_for_method_calls,
    reason = "the method's own path runs through the internals of the triangulation"
)]
pub(super) fn linear(
    network: &Network,
    triangulation: &mut Constrained,
) -> Option<DepthModelError> {
    leave_one_out(
        network,
        triangulation,
        |all, handle| !all.vertex(handle).out_edges().any(|edge| edge.is_constraint_edge()),
        |rest, at| rest.barycentric().interpolate(|other| other.data().depth, at),
    )
}

/// Leave-one-out error of the natural-neighbour surface.
pub(super) fn natural(network: &Network, triangulation: &mut Delaunay) -> Option<DepthModelError> {
    leave_one_out(
        network,
        triangulation,
        |_, _| true,
        |rest, at| rest.natural_neighbor().interpolate(|other| other.data().depth, at),
    )
}

/// Error of the linear surface at contours it has not seen; what was mended is left out as well.
pub(super) fn contours(network: &Network) -> Option<DepthModelError> {
    let mut numbers: Vec<u32> = network
        .vertices
        .iter()
        .filter_map(|vertex| match vertex.kind {
            Kind::Contour(number) => Some(number),
            _ => None,
        })
        .collect();
    numbers.dedup();
    numbers.sort_unstable();
    numbers.dedup();
    let step = numbers.len().div_ceil(MOST_CONTOURS).max(1);
    let differences: Vec<f64> = numbers
        .into_iter()
        .step_by(step)
        .filter_map(|number| without_contour(network, number))
        .flatten()
        .collect();
    summary(ErrorMethod::LeaveOneContourOut, &differences)
}

fn without_contour(network: &Network, number: u32) -> Option<Vec<f64>> {
    let out = |vertex: &Vertex| vertex.kind == Kind::Contour(number);
    let mut rest = Network::default();
    let kept: Vec<Option<usize>> = network
        .vertices
        .iter()
        .map(|vertex| {
            let keep = !out(vertex) && vertex.kind != Kind::Mended;
            keep.then(|| rest.add(*vertex))
        })
        .collect();
    rest.edges =
        network.edges.iter().filter_map(|&[from, to]| Some([kept[from]?, kept[to]?])).collect();
    let (triangulation, _) = rest.constrained()?;
    let barycentric = triangulation.barycentric();
    let vertices: Vec<&Vertex> = network.vertices.iter().filter(|vertex| out(vertex)).collect();
    let step = vertices.len().div_ceil(50).max(1);
    let differences = vertices.into_iter().step_by(step).filter_map(|vertex| {
        let at = Point2::new(vertex.x, vertex.y);
        Some(barycentric.interpolate(|other| other.data().depth, at)? - vertex.depth)
    });
    Some(differences.collect())
}
