//! The lake's shore: pieces of water with islands, checked once and then trusted.

mod fault;
mod rings;

use crate::crs::Crs;
use crate::finding::Finding;
use fault::{LEAST_AREA, MOST_AREA, plural};
use geo::indexed::IntervalTreeMultiPolygon;
use geo::orient::{Direction, Orient};
use geo::{
    Area, BooleanOps, BoundingRect, Contains, CoordinatePosition, Geodesic, GeodesicArea, Length,
};
use geo_types::{Coord, LineString, MultiLineString, MultiPolygon, Polygon, Rect};
use rings::{Meeting, Segment};
use rstar::{PointDistance, RTree};
use std::fmt;
use std::sync::Arc;
use units::{LonLat, Metres, SquareMetres};

pub use fault::{OutlineError, OutlineFault};
pub use rings::RingName;

/// A working system that swells or shrinks areas more than this is the wrong one for the lake.
const MOST_DISTORTION: f64 = 0.01;

/// An island of a lake.
#[derive(Debug, Clone, PartialEq)]
pub struct Island {
    /// Its ground, in longitude and latitude.
    pub lon_lat: Polygon<f64>,
    /// Its area on the ellipsoid.
    pub area: SquareMetres,
    /// Its shore's length on the ellipsoid.
    pub perimeter: Metres,
}

struct Inner {
    crs: Crs,
    lon_lat: MultiPolygon<f64>,
    projected: MultiPolygon<f64>,
    area: SquareMetres,
    perimeter_outer: Metres,
    perimeter: Metres,
    planar_area: f64,
    extent: Rect<f64>,
    water: IntervalTreeMultiPolygon<f64>,
    shore: RTree<Segment>,
}

/// The validated outline of a lake, in longitude and latitude and in the working system's metres.
///
/// Shores run counter-clockwise, islands clockwise; no vertex is repeated; no two rings cross. It
/// is cheap to clone.
#[derive(Clone)]
pub struct Outline {
    inner: Arc<Inner>,
}

impl Outline {
    /// Checks an outline given in longitude and latitude and measures it.
    ///
    /// Repaired and reported: repeated vertices and spikes, rings that are no area, an island that
    /// shares a stretch of shore with the lake or with another island (it becomes part of the
    /// land). Reported and kept: several pieces of water, a shore that touches itself, an island
    /// that touches the shore or another island at a point.
    ///
    /// # Errors
    /// [`OutlineError`] with every [`OutlineFault`] found.
    ///
    /// # Examples
    /// ```
    /// use geo_types::polygon;
    /// use lakebed::{Crs, Outline};
    /// let pond = polygon![
    ///     (x: -90.0, y: 45.0), (x: -89.99, y: 45.0), (x: -89.99, y: 45.01), (x: -90.0, y: 45.01),
    /// ];
    /// let utm = Crs::from_epsg(32_616).unwrap();
    /// let (outline, findings) = Outline::new(&pond.into(), &utm).unwrap();
    /// assert!(findings.is_empty());
    /// assert!((outline.area().acres() - 216.5047).abs() < 1e-3);
    /// ```
    pub fn new(
        lon_lat: &MultiPolygon<f64>,
        crs: &Crs,
    ) -> Result<(Self, Vec<Finding>), OutlineError> {
        let mut findings = Vec::new();
        refuse_non_places(lon_lat)?;
        let cleaned = clean(lon_lat, &mut findings);
        if cleaned.0.is_empty() {
            return Err(OutlineFault::Empty.into());
        }
        let cleaned = rings::knot(cleaned).orient(Direction::Default);
        let area = SquareMetres::new(cleaned.geodesic_area_unsigned());
        if area > MOST_AREA {
            return Err(OutlineFault::TooLarge { area }.into());
        }
        let projected = crs.project_geometry(&cleaned)?;
        let sharing = check_rings(&projected, crs, &mut findings)?;
        let (lon_lat, projected) = if sharing {
            let mended = mend(&projected);
            (crs.unproject_geometry(&mended)?, mended)
        } else {
            (cleaned, projected)
        };
        let outline = Self::measure(lon_lat, projected, crs)?;
        let pieces = outline.lon_lat().0.len();
        if pieces > 1 {
            findings.push(
                Finding::warning(format!("the outline is in {pieces} pieces of water"))
                    .hint("nothing to do when the lake has several basins; otherwise choose the one lake")
                    .times(pieces),
            );
        }
        Ok((outline, findings))
    }

    fn measure(
        lon_lat: MultiPolygon<f64>,
        projected: MultiPolygon<f64>,
        crs: &Crs,
    ) -> Result<Self, OutlineError> {
        let area = SquareMetres::new(lon_lat.geodesic_area_unsigned());
        if area < LEAST_AREA {
            return Err(OutlineFault::TooSmall { area }.into());
        }
        let planar_area = projected.unsigned_area();
        let distortion = planar_area / area.square_metres() - 1.0;
        if distortion.abs() > MOST_DISTORTION {
            let percent = 100.0 * distortion;
            return Err(OutlineFault::Distorted { crs: crs.label(), percent }.into());
        }
        let length = |ring: &LineString<f64>| Geodesic.length(ring);
        let outer: f64 = lon_lat.iter().map(|piece| length(piece.exterior())).sum();
        let islands: f64 = lon_lat.iter().flat_map(Polygon::interiors).map(length).sum();
        let rings: Vec<&LineString<f64>> = all_rings(&projected).map(|(_, ring)| ring).collect();
        let extent = projected.bounding_rect().ok_or(OutlineFault::Empty)?;
        let inner = Inner {
            crs: crs.clone(),
            area,
            perimeter_outer: Metres::new(outer),
            perimeter: Metres::new(outer + islands),
            planar_area,
            extent,
            water: IntervalTreeMultiPolygon::new(&projected),
            shore: rings::segments(&rings),
            lon_lat,
            projected,
        };
        Ok(Self { inner: Arc::new(inner) })
    }

    /// The working system.
    pub fn crs(&self) -> &Crs {
        &self.inner.crs
    }

    /// The outline in longitude and latitude.
    pub fn lon_lat(&self) -> &MultiPolygon<f64> {
        &self.inner.lon_lat
    }

    /// The outline in the working system's metres.
    pub fn projected(&self) -> &MultiPolygon<f64> {
        &self.inner.projected
    }

    /// The water's area on the WGS 84 ellipsoid, islands left out.
    ///
    /// # References
    /// Karney (2013), Algorithms for geodesics, Journal of Geodesy 87: 43–55.
    pub fn area(&self) -> SquareMetres {
        self.inner.area
    }

    /// The water's area in the plane of the working system.
    pub fn planar_area(&self) -> SquareMetres {
        SquareMetres::new(self.inner.planar_area)
    }

    /// Square metres of ground in a square metre of the working system's plane.
    ///
    /// Every area and volume that is measured in the plane is multiplied by it, so that parts
    /// always sum to the ellipsoidal area of the lake.
    pub fn area_scale(&self) -> f64 {
        self.inner.area.square_metres() / self.inner.planar_area
    }

    /// Length of all shores on the WGS 84 ellipsoid, those of the islands with them.
    pub fn perimeter(&self) -> Metres {
        self.inner.perimeter
    }

    /// Length of the outer shore alone on the WGS 84 ellipsoid.
    pub fn perimeter_outer(&self) -> Metres {
        self.inner.perimeter_outer
    }

    /// How many islands.
    pub fn island_count(&self) -> usize {
        self.inner.lon_lat.iter().map(|piece| piece.interiors().len()).sum()
    }

    /// The islands in the order of the outline.
    pub fn islands(&self) -> Vec<Island> {
        let rings = self.inner.lon_lat.iter().flat_map(Polygon::interiors);
        rings
            .map(|ring| {
                let ground = Polygon::new(ring.clone(), vec![]).orient(Direction::Default);
                Island {
                    area: SquareMetres::new(ground.geodesic_area_unsigned()),
                    perimeter: Metres::new(Geodesic.length(ring)),
                    lon_lat: ground,
                }
            })
            .collect()
    }

    /// How many separate pieces of water.
    pub fn piece_count(&self) -> usize {
        self.inner.lon_lat.0.len()
    }

    /// The smallest upright rectangle around the lake, in metres.
    pub fn extent(&self) -> Rect<f64> {
        self.inner.extent
    }

    /// The smallest rectangle around the lake in longitude and latitude.
    pub fn extent_lon_lat(&self) -> Rect<f64> {
        let whole = self.inner.lon_lat.bounding_rect();
        whole.unwrap_or_else(|| Rect::new(Coord::zero(), Coord::zero()))
    }

    /// Degrees from grid north to true north at the middle of the lake, clockwise.
    ///
    /// Up on a map drawn in the working system is grid north; in UTM the two part by less than
    /// three degrees.
    pub fn convergence(&self) -> f64 {
        const STEP: f64 = 1e-4;
        let middle = self.extent_lon_lat().center();
        let at = |latitude: f64| {
            let place = LonLat::new(middle.x, latitude).ok()?;
            self.crs().project(place).ok()
        };
        let north = if middle.y < 89.0 { STEP } else { -STEP };
        at(middle.y).zip(at(middle.y + north)).map_or(0.0, |(from, to)| {
            let along = (to - from) * north.signum();
            along.x.atan2(along.y).to_degrees()
        })
    }

    /// Whether a place in the working system's metres is water of this lake.
    pub fn contains(&self, metres: Coord<f64>) -> bool {
        self.inner.water.contains(&metres)
    }

    /// Whether a place is water of this lake; false as well for a place the working system cannot
    /// hold.
    pub fn contains_lon_lat(&self, place: LonLat) -> bool {
        self.crs().project(place).is_ok_and(|metres| self.contains(metres))
    }

    /// Distance in the plane from a place to the nearest shore, on water as on land.
    pub fn distance_to_shore(&self, metres: Coord<f64>) -> Metres {
        let point = [metres.x, metres.y];
        let nearest = self.inner.shore.nearest_neighbor(&point);
        Metres::new(nearest.map_or(0.0, |segment| segment.distance_2(&point).sqrt()))
    }

    /// The place on the shore nearest to a place.
    pub fn nearest_shore(&self, metres: Coord<f64>) -> Coord<f64> {
        let point = [metres.x, metres.y];
        self.inner.shore.nearest_neighbor(&point).map_or(metres, |segment| {
            let [x, y] = segment.geom().nearest_point(&point);
            Coord { x, y }
        })
    }

    /// All shores as closed lines in metres: the outer ones first, each followed by its islands.
    pub fn shores(&self) -> MultiLineString<f64> {
        MultiLineString(all_rings(&self.inner.projected).map(|(_, ring)| ring.clone()).collect())
    }
}

impl fmt::Debug for Outline {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Outline")
            .field("crs", &self.inner.crs)
            .field("area", &self.inner.area)
            .field("islands", &self.island_count())
            .finish_non_exhaustive()
    }
}

fn all_rings(water: &MultiPolygon<f64>) -> impl Iterator<Item = (RingName, &LineString<f64>)> {
    water.iter().enumerate().flat_map(|(piece, polygon)| {
        let islands = polygon.interiors().iter().enumerate();
        std::iter::once((RingName::Shore { piece }, polygon.exterior()))
            .chain(islands.map(move |(island, ring)| (RingName::Island { piece, island }, ring)))
    })
}

fn refuse_non_places(lon_lat: &MultiPolygon<f64>) -> Result<(), OutlineError> {
    let faults: Vec<OutlineFault> = all_rings(lon_lat)
        .filter_map(|(ring, line)| {
            let bad = line.0.iter().position(|coord| LonLat::new(coord.x, coord.y).is_err())?;
            let Coord { x, y } = line.0[bad];
            Some(OutlineFault::NotAPlace { ring, vertex: bad + 1, x, y })
        })
        .collect();
    if faults.is_empty() { Ok(()) } else { Err(OutlineError { faults }) }
}

fn clean(lon_lat: &MultiPolygon<f64>, findings: &mut Vec<Finding>) -> MultiPolygon<f64> {
    let (mut removed, mut dropped) = (0, 0);
    let mut ring = |line: &LineString<f64>| {
        let (kept, gone) = rings::clean(line);
        removed += gone;
        dropped += usize::from(kept.is_none());
        kept
    };
    let pieces: Vec<Polygon<f64>> = lon_lat
        .iter()
        .filter_map(|piece| {
            let shore = ring(piece.exterior())?;
            Some(Polygon::new(shore, piece.interiors().iter().filter_map(&mut ring).collect()))
        })
        .collect();
    if dropped > 0 {
        findings.push(
            Finding::warning(format!("{dropped} ring{} without an area left out", plural(dropped)))
                .times(dropped),
        );
    } else if removed > 0 {
        findings.push(
            Finding::note(format!("{removed} repeated {} removed", vertices(removed)))
                .times(removed),
        );
    }
    MultiPolygon(pieces)
}

fn vertices(count: usize) -> &'static str {
    if count == 1 { "vertex" } else { "vertices" }
}

/// Finds every crossing; returns whether rings share a stretch of shore and need mending.
fn check_rings(
    projected: &MultiPolygon<f64>,
    crs: &Crs,
    findings: &mut Vec<Finding>,
) -> Result<bool, OutlineError> {
    let named: Vec<(RingName, &LineString<f64>)> = all_rings(projected).collect();
    let lines: Vec<&LineString<f64>> = named.iter().map(|(_, ring)| *ring).collect();
    let meetings = rings::meetings(&lines, &rings::segments(&lines));
    let mut faults = Vec::new();
    let mut sharing = false;
    for group in meetings.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
        let (one, other) = (group[0].0, group[0].1);
        let crossings: Vec<LonLat> = group
            .iter()
            .filter(|(_, _, meeting)| is_crossing(*meeting, one == other, lines[one]))
            .filter_map(|(_, _, meeting)| crs.unproject(meeting.place()).ok())
            .collect();
        let shared = group.iter().find(|(_, _, meeting)| matches!(meeting, Meeting::Sharing(_)));
        let place = crs.unproject(group[0].2.place()).ok();
        if !crossings.is_empty() {
            faults.push(if one == other {
                OutlineFault::SelfCrossing { ring: named[one].0, places: crossings }
            } else {
                OutlineFault::RingsCross {
                    one: named[one].0,
                    other: named[other].0,
                    places: crossings,
                }
            });
        } else if one == other {
            findings.push(
                Finding::note(format!("{} touches itself", named[one].0))
                    .at(place)
                    .times(group.len()),
            );
        } else if shared.is_some() {
            sharing = true;
            findings.push(
                Finding::warning(format!(
                    "{} and {} share a stretch of shore; the water between was kept, the land joined",
                    named[one].0, named[other].0
                ))
                .hint("check on the map that the island is where it should be")
                .at(place),
            );
        } else {
            findings.push(
                Finding::note(format!("{} and {} touch at a point", named[one].0, named[other].0))
                    .at(place)
                    .times(group.len()),
            );
        }
    }
    faults.extend(misplaced(projected, crs));
    if faults.is_empty() { Ok(sharing) } else { Err(OutlineError { faults }) }
}

fn is_crossing(meeting: Meeting, same_ring: bool, ring: &LineString<f64>) -> bool {
    match meeting {
        Meeting::Crossing(_) => true,
        Meeting::Sharing(_) => false,
        Meeting::Touching(place) => same_ring && rings::is_eight(ring, place),
    }
}

/// Islands outside their lake, and pieces that lie on one another.
fn misplaced(projected: &MultiPolygon<f64>, crs: &Crs) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    for (piece, polygon) in projected.iter().enumerate() {
        let shell = Polygon::new(polygon.exterior().clone(), vec![]);
        for (island, ring) in polygon.interiors().iter().enumerate() {
            if let Some((place, -1)) = side_of(ring, &shell)
                && let Ok(place) = crs.unproject(place)
            {
                let ring = RingName::Island { piece, island };
                faults.push(OutlineFault::IslandOutside { ring, place });
            }
        }
        for (other, neighbour) in projected.iter().enumerate().filter(|&(other, _)| other != piece)
        {
            if let Some((place, 1)) = side_of(polygon.exterior(), neighbour)
                && let Ok(place) = crs.unproject(place)
            {
                faults.push(OutlineFault::PiecesOverlap { one: piece, other, place });
            }
        }
    }
    faults
}

/// On which side of a polygon's boundary a ring that does not cross it lies, with the vertex that
/// tells.
fn side_of(ring: &LineString<f64>, polygon: &Polygon<f64>) -> Option<(Coord<f64>, i8)> {
    ring.0.iter().map(|&coord| (coord, position(polygon, coord))).find(|&(_, side)| side != 0)
}

/// 1 inside, 0 on the boundary, −1 outside.
fn position(polygon: &Polygon<f64>, coord: Coord<f64>) -> i8 {
    use geo::coordinate_position::CoordPos;
    match polygon.coordinate_position(&coord) {
        CoordPos::Inside => 1,
        CoordPos::OnBoundary => 0,
        CoordPos::Outside => -1,
    }
}

/// Cuts all islands out of all pieces anew, which joins what shares a stretch of shore.
fn mend(projected: &MultiPolygon<f64>) -> MultiPolygon<f64> {
    let shells = MultiPolygon(
        projected.iter().map(|p| Polygon::new(p.exterior().clone(), vec![])).collect(),
    );
    let islands = projected.iter().flat_map(Polygon::interiors);
    let land: Vec<Polygon<f64>> =
        islands.map(|ring| Polygon::new(ring.clone(), vec![]).orient(Direction::Default)).collect();
    let land = geo::unary_union(&land);
    shells.difference(&land).orient(Direction::Default)
}

#[cfg(test)]
mod tests;
