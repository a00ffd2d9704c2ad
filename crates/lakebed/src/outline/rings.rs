//! The rings of an outline: cleaning them, and finding where they cross.

use geo::BoundingRect;
use geo::line_intersection::{LineIntersection, line_intersection};
use geo_types::{Coord, Line, LineString, MultiPolygon, Polygon};
use rstar::primitives::{GeomWithData, Line as TreeLine};
use rstar::{AABB, RTree};

/// Which ring of which piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RingName {
    /// The outer shore of a piece of water, counted from 0.
    Shore {
        /// The piece.
        piece: usize,
    },
    /// An island's shore, counted from 0 within its piece.
    Island {
        /// The piece.
        piece: usize,
        /// The island.
        island: usize,
    },
}

impl std::fmt::Display for RingName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Shore { piece: 0 } => f.write_str("the outer shore"),
            Self::Shore { piece } => write!(f, "the outer shore of piece {}", piece + 1),
            Self::Island { piece: 0, island } => write!(f, "island {}", island + 1),
            Self::Island { piece, island } => {
                write!(f, "island {} of piece {}", island + 1, piece + 1)
            }
        }
    }
}

/// A ring without repeated vertices and spikes, and how many vertices went.
///
/// Returns none when fewer than three corners are left.
pub(super) fn clean(ring: &LineString<f64>) -> (Option<LineString<f64>>, usize) {
    let mut kept: Vec<Coord<f64>> = Vec::with_capacity(ring.0.len());
    let closed = ring.0.first() == ring.0.last() && ring.0.len() > 1;
    let corners = if closed { &ring.0[..ring.0.len() - 1] } else { &ring.0[..] };
    for &coord in corners {
        push_without_spike(&mut kept, coord);
    }
    // the seam is a corner like any other
    while kept.len() > 2 {
        let (first, second) = (kept[0], kept[1]);
        let (last, last_but_one) = (kept[kept.len() - 1], kept[kept.len() - 2]);
        if last == first || last_but_one == first {
            kept.pop();
        } else if last == second {
            kept.remove(0);
        } else {
            break;
        }
    }
    let removed = corners.len() - kept.len();
    if kept.len() < 3 {
        return (None, removed);
    }
    kept.push(kept[0]);
    (Some(LineString(kept)), removed)
}

fn push_without_spike(kept: &mut Vec<Coord<f64>>, coord: Coord<f64>) {
    if kept.last() == Some(&coord) {
        return;
    }
    if kept.len() > 1 && kept[kept.len() - 2] == coord {
        kept.pop();
        return;
    }
    kept.push(coord);
}

/// Distance below which a vertex lies on a shore: what is drawn as touching is stored so rounded.
const TOUCHING: f64 = 0.01;
/// Metres in a degree of latitude, near enough for a centimetre.
const METRES_PER_DEGREE: f64 = 111_132.0;

/// Gives rings in longitude and latitude a vertex wherever a vertex of another ring lies on them.
///
/// A projection bends the straight line between two vertices. Without a vertex of its own at that
/// place a shore would part from an island that touches it, or run through it by a hair.
pub(super) fn knot(water: MultiPolygon<f64>) -> MultiPolygon<f64> {
    let rings: Vec<&LineString<f64>> =
        water.iter().flat_map(|p| std::iter::once(p.exterior()).chain(p.interiors())).collect();
    let Some(middle) = water.bounding_rect().map(geo_types::Rect::center) else { return water };
    if rings.len() < 2 {
        return water;
    }
    let metres = |at: Coord<f64>| Coord {
        x: (at.x - middle.x) * METRES_PER_DEGREE * middle.y.to_radians().cos(),
        y: (at.y - middle.y) * METRES_PER_DEGREE,
    };
    let flat: Vec<LineString<f64>> =
        rings.iter().map(|ring| ring.0.iter().map(|at| metres(*at)).collect()).collect();
    let index = segments(&flat.iter().collect::<Vec<_>>());
    let mut knots: Vec<(usize, usize, f64, Coord<f64>)> = Vec::new();
    for (ring, line) in rings.iter().enumerate() {
        for (&coord, at) in line.0.iter().zip(&flat[ring].0).skip(1) {
            for on in index.locate_within_distance([at.x, at.y], TOUCHING * TOUCHING) {
                let (other, place) = (on.data.0 as usize, on.data.1 as usize);
                let ends = &rings[other].0[place..=place + 1];
                if other != ring && !ends.contains(&coord) {
                    let [x, y] = on.geom().from;
                    knots.push((other, place, (at.x - x).hypot(at.y - y), coord));
                }
            }
        }
    }
    if knots.is_empty() {
        return water;
    }
    knots.sort_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2)));
    let mut number = 0;
    let mut knots = knots.into_iter().peekable();
    let mut knotted = |ring: &LineString<f64>| {
        let mut coords = Vec::with_capacity(ring.0.len() + 1);
        for (place, coord) in ring.0.iter().enumerate() {
            coords.push(*coord);
            while let Some(knot) = knots.next_if(|knot| (knot.0, knot.1) == (number, place)) {
                coords.push(knot.3);
            }
        }
        coords.dedup();
        number += 1;
        LineString(coords)
    };
    MultiPolygon(
        water
            .iter()
            .map(|piece| {
                let shore = knotted(piece.exterior());
                Polygon::new(shore, piece.interiors().iter().map(&mut knotted).collect())
            })
            .collect(),
    )
}

/// A segment of shore with the ring it belongs to and its place in it.
pub(super) type Segment = GeomWithData<TreeLine<[f64; 2]>, (u32, u32)>;

/// All segments of all rings, in an index.
pub(super) fn segments(rings: &[&LineString<f64>]) -> RTree<Segment> {
    let all = rings.iter().enumerate().flat_map(|(ring, line)| {
        line.lines().enumerate().map(move |(place, Line { start, end })| {
            GeomWithData::new(
                TreeLine::new([start.x, start.y], [end.x, end.y]),
                (ring as u32, place as u32),
            )
        })
    });
    RTree::bulk_load(all.collect())
}

/// How two rings, or one ring with itself, meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Meeting {
    /// They cross.
    Crossing(Coord<f64>),
    /// They share a stretch of shore.
    Sharing(Coord<f64>),
    /// They touch in a point.
    Touching(Coord<f64>),
}

impl Meeting {
    pub(super) const fn place(self) -> Coord<f64> {
        match self {
            Self::Crossing(place) | Self::Sharing(place) | Self::Touching(place) => place,
        }
    }
}

/// Every meeting of segments that are not neighbours in a ring: first ring, second ring, how.
///
/// Work: each segment is compared only with those whose boxes overlap its own, so a lake's outline
/// costs near `n log n`.
pub(super) fn meetings(
    rings: &[&LineString<f64>],
    index: &RTree<Segment>,
) -> Vec<(usize, usize, Meeting)> {
    let mut found = Vec::new();
    for (ring, line) in rings.iter().enumerate() {
        let length = line.0.len() - 1;
        for (place, segment) in line.lines().enumerate() {
            let envelope = AABB::from_corners(
                [segment.start.x, segment.start.y],
                [segment.end.x, segment.end.y],
            );
            for other in index.locate_in_envelope_intersecting(&envelope) {
                let (other_ring, other_place) = (other.data.0 as usize, other.data.1 as usize);
                if (other_ring, other_place) <= (ring, place) {
                    continue;
                }
                let neighbours = ring == other_ring
                    && (other_place == place + 1 || (place == 0 && other_place == length - 1));
                let [from, to] = [other.geom().from, other.geom().to];
                let other_line =
                    Line::new(Coord { x: from[0], y: from[1] }, Coord { x: to[0], y: to[1] });
                if let Some(meeting) = meeting(segment, other_line, neighbours) {
                    found.push((ring, other_ring, meeting));
                }
            }
        }
    }
    found.sort_by(|a, b| {
        let (p, q) = (a.2.place(), b.2.place());
        (a.0, a.1).cmp(&(b.0, b.1)).then(p.x.total_cmp(&q.x)).then(p.y.total_cmp(&q.y))
    });
    found
}

fn meeting(one: Line<f64>, other: Line<f64>, neighbours: bool) -> Option<Meeting> {
    match line_intersection(one, other)? {
        LineIntersection::SinglePoint { .. } if neighbours => None,
        LineIntersection::SinglePoint { intersection, is_proper: true } => {
            Some(Meeting::Crossing(intersection))
        }
        LineIntersection::SinglePoint { intersection, is_proper: false } => {
            Some(Meeting::Touching(intersection))
        }
        LineIntersection::Collinear { intersection } => Some(Meeting::Sharing(intersection.start)),
    }
}

/// Whether a ring that touches itself in `place` runs through itself there, as an eight does.
///
/// Two loops part at the touching point. Turning the same way they are a pinched shore; turning
/// opposite ways with one inside the other they are a shore with an island drawn in one stroke;
/// turning opposite ways side by side they are an eight.
pub(super) fn is_eight(ring: &LineString<f64>, place: Coord<f64>) -> bool {
    use geo::{Area, Contains};
    let near = |coord: &Coord<f64>| (coord.x - place.x).hypot(coord.y - place.y) < 1e-6;
    let corners = &ring.0[..ring.0.len() - 1];
    let visits: Vec<usize> = (0..corners.len()).filter(|&i| near(&corners[i])).collect();
    let [first, second, ..] = visits[..] else {
        return false;
    };
    let inner: LineString<f64> = corners[first..second].to_vec().into();
    let outer: LineString<f64> =
        corners[second..].iter().chain(&corners[..first]).copied().collect::<Vec<_>>().into();
    let (inner, outer) = (Polygon::new(inner, vec![]), Polygon::new(outer, vec![]));
    let opposite = inner.signed_area() * outer.signed_area() < 0.0;
    let holds = |big: &Polygon<f64>, small: &Polygon<f64>| {
        small.exterior().0.iter().any(|coord| big.contains(coord))
    };
    opposite && !holds(&inner, &outer) && !holds(&outer, &inner)
}
