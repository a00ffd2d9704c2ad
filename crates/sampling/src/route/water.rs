use super::graph::{Graph, Seen, distance};
use super::mesh::{Mesh, open_water};
use super::sight::look;
use super::{Matrix, RouteError};
use geo_types::{Coord, LineString, MultiPolygon, Polygon};
use units::Metres;

/// Why a boat keeps out of an area.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeepOutReason {
    /// A dam, a swimming area, a wreck, rocks.
    Hazard,
    /// Water shallower than the boat's draft.
    TooShallow,
}

/// An area of the lake a boat keeps out of, in metres of the working system.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepOut {
    /// Why.
    pub reason: KeepOutReason,
    /// Where.
    pub area: MultiPolygon<f64>,
}

impl KeepOut {
    /// A hazard to keep a distance from: a polygon of 32 sides about the circle, so that no way comes nearer and
    /// none is sent more than half a per cent farther off.
    pub fn about(place: Coord<f64>, distance: Metres) -> Self {
        let step = std::f64::consts::PI / 16.0;
        let radius = distance.metres() / (step / 2.0).cos();
        let ring = (0..32)
            .map(|k| f64::from(k) * step)
            .map(|angle| (place.x + radius * angle.cos(), place.y + radius * angle.sin()))
            .collect();
        let area = MultiPolygon(vec![Polygon::new(ring, Vec::new())]);
        Self { reason: KeepOutReason::Hazard, area }
    }
}

/// Where a point lies that a boat is to come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// In water a boat can use.
    InWater,
    /// On shore, on an island or off the lake.
    OnLand,
    /// In an area to keep out of.
    KeptOut(KeepOutReason),
}

/// A point a boat can come to: the point asked for, or the nearest water to it.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterPoint {
    at: Coord<f64>,
    moved: Metres,
    lies: Lies,
    about: Vec<u32>,
}

impl WaterPoint {
    /// Where the boat stops.
    pub fn at(&self) -> Coord<f64> {
        self.at
    }

    /// How far that is from the point asked for; 0 in the water.
    pub fn moved(&self) -> Metres {
        self.moved
    }

    /// Where the point asked for lies.
    pub fn lies(&self) -> Lies {
        self.lies
    }
}

/// Distances a boat travels on a lake: the shortest way by water, round islands, capes and shallows.
///
/// Coordinates are metres in one projected system. The way is exact for the outline given, which is not simplified:
/// it touches the shore at capes, and whoever steers keeps off them.
///
/// # Formula
/// Straight line where nothing lies between, else the shortest chain of straight legs over capes: the lake is
/// triangulated (Delaunay, held to the shore line), each cape looks through the triangles at the capes it
/// sees, and distances spread over these legs. Therefore never shorter than the straight line, equal to it in open
/// water, the same both ways, and never longer than by way of a third point.
/// # References
/// Lozano-Pérez and Wesley (1979), Communications of the ACM 22: 560–570 (visibility graph); de Berg, Cheong, van Kreveld,
/// Overmars (2008), Computational Geometry, 3rd ed., chapter 15; Dijkstra (1959), Numerische Mathematik 1: 269–271.
/// # Examples
/// Round a square island of 20 m in the middle of a pond, from one side to the other:
/// ```
/// use geo_types::{Coord, polygon};
/// use sampling::route::WaterDistance;
///
/// let pond = polygon!(
///     exterior: [(x: 0.0, y: 0.0), (x: 100.0, y: 0.0), (x: 100.0, y: 100.0), (x: 0.0, y: 100.0)],
///     interiors: [[(x: 40.0, y: 40.0), (x: 60.0, y: 40.0), (x: 60.0, y: 60.0), (x: 40.0, y: 60.0)]],
/// );
/// let water = WaterDistance::new(&pond.into(), &[])?;
/// let points = [(10.0, 50.0), (90.0, 50.0)].map(|(x, y)| water.place(Coord { x, y }));
/// let way = water.matrix(&points).get(0, 1).unwrap();
/// // 30 m along and 10 m across to the first corner, 20 m along the island, and the same again
/// assert!((way.metres() - (2.0 * 1_000f64.sqrt() + 20.0)).abs() < 1e-9);
/// # Ok::<(), sampling::route::RouteError>(())
/// ```
#[derive(Debug, Clone)]
pub struct WaterDistance {
    mesh: Mesh,
    graph: Graph,
    lake: Option<Mesh>,
    keep_out: Vec<(KeepOutReason, Option<Mesh>)>,
}

impl WaterDistance {
    /// Makes the water of a lake ready for many questions; islands are holes of the polygon.
    ///
    /// # Errors
    /// [`RouteError::NoWater`], [`RouteError::TangledShore`]; [`RouteError::DraftDeeperThanWater`] (with a draft of 0 m, use
    /// [`Self::with_draft`] to name it) when the areas to keep out of take all water.
    pub fn new(lake: &MultiPolygon<f64>, keep_out: &[KeepOut]) -> Result<Self, RouteError> {
        Self::with_draft(lake, keep_out, Metres::new(0.0))
    }

    /// The same, for a boat of a known draft. The draft only names the boat in an error: the water too shallow for it
    /// comes as areas to keep out of, from the depth model.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn with_draft(
        lake: &MultiPolygon<f64>,
        keep_out: &[KeepOut],
        draft: Metres,
    ) -> Result<Self, RouteError> {
        let whole = Mesh::new(lake)?;
        if keep_out.is_empty() {
            let graph = Graph::new(&whole);
            return Ok(Self { mesh: whole, graph, lake: None, keep_out: Vec::new() });
        }
        let areas: Vec<&MultiPolygon<f64>> = keep_out.iter().map(|out| &out.area).collect();
        let mesh = Mesh::new(&open_water(lake, &areas)).map_err(|error| match error {
            RouteError::NoWater => RouteError::DraftDeeperThanWater { draft: draft.metres() },
            other => other,
        })?;
        let graph = Graph::new(&mesh);
        let keep_out = keep_out.iter().map(|out| (out.reason, Mesh::new(&out.area).ok())).collect();
        Ok(Self { mesh, graph, lake: Some(whole), keep_out })
    }

    /// Takes a point to the water: where it is, or to the nearest water when it lies on land or where the
    /// boat cannot go. The distance is said, whether it is too far is for the caller to judge.
    pub fn place(&self, point: Coord<f64>) -> WaterPoint {
        let about = self.mesh.locate(point);
        if !about.is_empty() {
            return WaterPoint { at: point, moved: Metres::new(0.0), lies: Lies::InWater, about };
        }
        let on_lake = self.lake.as_ref().is_some_and(|lake| !lake.locate(point).is_empty());
        let lies = self
            .keep_out
            .iter()
            .find(|(_, area)| {
                on_lake && area.as_ref().is_some_and(|area| !area.locate(point).is_empty())
            })
            .map_or(Lies::OnLand, |(reason, _)| Lies::KeptOut(*reason));
        let (at, triangle) = self.mesh.nearest_water(point);
        WaterPoint { at, moved: Metres::new(distance(at, point)), lies, about: vec![triangle] }
    }

    /// Distances between all pairs.
    pub fn matrix(&self, points: &[WaterPoint]) -> Matrix {
        let n = points.len();
        let mut matrix = Matrix::from_fn(n, |_, _| None);
        let first: Vec<Vec<Seen>> = points.iter().map(|point| self.first_capes(point)).collect();
        let in_triangle = Self::by_triangle(points);
        let (mut spread, mut before) = (Vec::new(), Vec::new());
        for i in 0..n {
            self.graph.spread(&first[i], &mut spread, &mut before);
            for (j, capes) in first.iter().enumerate().skip(i + 1) {
                if let Some((_, length)) = best_cape(capes, &spread) {
                    // a sum of roundings may fall short of the straight line by its last digit
                    matrix.set(i, j, length.max(distance(points[i].at, points[j].at)));
                }
            }
            for j in self.points_in_sight(&points[i], points, &in_triangle) {
                if j > i {
                    matrix.set(i, j, distance(points[i].at, points[j].at));
                }
            }
        }
        matrix
    }

    /// Distances from one point to others: what changes when a site is dragged.
    pub fn distances(&self, from: &WaterPoint, to: &[WaterPoint]) -> Vec<Option<Metres>> {
        let (mut spread, mut before) = (Vec::new(), Vec::new());
        self.graph.spread(&self.first_capes(from), &mut spread, &mut before);
        let mut found: Vec<Option<Metres>> = to
            .iter()
            .map(|point| {
                let (_, length) = best_cape(&self.first_capes(point), &spread)?;
                Some(Metres::new(length.max(distance(from.at, point.at))))
            })
            .collect();
        for j in self.points_in_sight(from, to, &Self::by_triangle(to)) {
            found[j] = Some(Metres::new(distance(from.at, to[j].at)));
        }
        found
    }

    /// The shortest way; none when no water joins the two.
    pub fn path(&self, from: &WaterPoint, to: &WaterPoint) -> Option<LineString<f64>> {
        let one = std::slice::from_ref(to);
        if !self.points_in_sight(from, one, &Self::by_triangle(one)).is_empty() {
            return Some(LineString::new(vec![from.at, to.at]));
        }
        let (mut spread, mut before) = (Vec::new(), Vec::new());
        self.graph.spread(&self.first_capes(from), &mut spread, &mut before);
        let (mut cape, _) = best_cape(&self.first_capes(to), &spread)?;
        let mut way = vec![to.at];
        loop {
            way.push(self.graph.at[cape as usize]);
            let previous = before[cape as usize];
            if previous == super::mesh::NONE {
                break;
            }
            cape = previous;
        }
        way.push(from.at);
        way.reverse();
        way.dedup();
        Some(LineString::new(way))
    }

    /// The way through stops in order; none when a leg has no water.
    pub fn route(&self, stops: &[&WaterPoint]) -> Option<LineString<f64>> {
        let mut way: Vec<Coord<f64>> = stops.first().map(|stop| stop.at).into_iter().collect();
        for leg in stops.windows(2) {
            way.extend(self.path(leg[0], leg[1])?.0.into_iter().skip(1));
        }
        Some(LineString::new(way))
    }

    /// Capes of the outline and straight legs between them, for the curious and for benchmarks.
    pub fn size(&self) -> (usize, usize) {
        (self.graph.at.len(), self.graph.n_legs())
    }

    fn first_capes(&self, point: &WaterPoint) -> Vec<Seen> {
        self.graph.first_capes(&self.mesh, point.at, &point.about)
    }

    /// Which points lie in each triangle, as pairs in order of the triangle.
    fn by_triangle(points: &[WaterPoint]) -> Vec<(u32, usize)> {
        let mut pairs: Vec<(u32, usize)> = points
            .iter()
            .enumerate()
            .flat_map(|(j, point)| point.about.iter().map(move |&triangle| (triangle, j)))
            .collect();
        pairs.sort_unstable();
        pairs
    }

    fn points_in_sight(
        &self,
        from: &WaterPoint,
        points: &[WaterPoint],
        in_triangle: &[(u32, usize)],
    ) -> Vec<usize> {
        let mut seen = Vec::new();
        look(&self.mesh, from.at, &from.about, &mut |view| {
            let start = in_triangle.partition_point(|&(triangle, _)| triangle < view.triangle);
            let here = in_triangle[start..].iter().take_while(|pair| pair.0 == view.triangle);
            seen.extend(here.map(|pair| pair.1).filter(|&j| view.shows(points[j].at)));
        });
        seen.sort_unstable();
        seen.dedup();
        seen
    }
}

/// The last cape on the shortest way to a place that sees `capes`, and the length of that way.
fn best_cape(capes: &[Seen], spread: &[f64]) -> Option<Seen> {
    capes
        .iter()
        .map(|&(cape, leg)| (cape, spread[cape as usize] + leg))
        .filter(|(_, length)| length.is_finite())
        .min_by(|a, b| a.1.total_cmp(&b.1))
}
