//! Along the shore: how far two places lie apart, which way round, and the stretch that holds some.

use crate::spread::Place;
use geo_types::{LineString, MultiPolygon};

/// The shores of a lake, its own and those of its islands, to be walked in metres.
#[derive(Debug, Clone)]
pub struct Shore {
    rings: Vec<Ring>,
}

#[derive(Debug, Clone)]
struct Ring {
    points: Vec<Place>,
    /// Metres from the first point to each.
    along: Vec<f64>,
    /// Drawn clockwise, east to the right and north up.
    clockwise: bool,
    island: bool,
}

/// A place on a shore.
#[derive(Debug, Clone, Copy, PartialEq)]
struct OnShore {
    ring: usize,
    along: f64,
    off: f64,
}

/// A way along the lake's own shore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AlongShore {
    /// Metres, the shorter way round.
    pub metres: f64,
    /// Whether it goes round the lake clockwise.
    pub clockwise: bool,
    /// Metres from the first place to the shore, and from the second.
    pub off: (f64, f64),
}

impl Ring {
    fn of(line: &LineString<f64>, island: bool) -> Option<Self> {
        let points: Vec<Place> = line.coords().map(|one| [one.x, one.y]).collect();
        let mut along = vec![0.0];
        let mut twice_area = 0.0;
        for pair in points.windows(2) {
            let (one, other) = (pair[0], pair[1]);
            along.push(along[along.len() - 1] + (other[0] - one[0]).hypot(other[1] - one[1]));
            // from the first point, so that large coordinates lose no digits
            let start = points[0];
            twice_area += (one[0] - start[0]) * (other[1] - start[1])
                - (other[0] - start[0]) * (one[1] - start[1]);
        }
        let ring = Self { points, along, clockwise: twice_area < 0.0, island };
        (ring.length() > 0.0).then_some(ring)
    }

    fn length(&self) -> f64 {
        self.along.last().copied().unwrap_or(0.0)
    }

    /// Metres along and off, of the nearest point.
    fn nearest(&self, place: Place) -> Option<(f64, f64)> {
        self.points
            .windows(2)
            .zip(&self.along)
            .map(|(pair, start)| {
                let (from, to) = (pair[0], pair[1]);
                let (east, north) = (to[0] - from[0], to[1] - from[1]);
                let square = east * east + north * north;
                let inner = (place[0] - from[0]) * east + (place[1] - from[1]) * north;
                let part = if square > 0.0 { (inner / square).clamp(0.0, 1.0) } else { 0.0 };
                let off =
                    (place[0] - from[0] - part * east).hypot(place[1] - from[1] - part * north);
                (start + part * square.sqrt(), off)
            })
            .min_by(|one, other| one.1.total_cmp(&other.1))
    }
}

impl Shore {
    /// Of the water, in metres.
    pub fn of(water: &MultiPolygon<f64>) -> Self {
        let rings = water
            .iter()
            .flat_map(|part| {
                let own = Ring::of(part.exterior(), false);
                own.into_iter().chain(part.interiors().iter().filter_map(|one| Ring::of(one, true)))
            })
            .collect();
        Self { rings }
    }

    /// The lines of all shores, to be cut by zones.
    pub fn lines(water: &MultiPolygon<f64>) -> Vec<LineString<f64>> {
        water
            .iter()
            .flat_map(|part| std::iter::once(part.exterior()).chain(part.interiors()))
            .cloned()
            .collect()
    }

    fn nearest(&self, place: Place, islands: bool) -> Option<OnShore> {
        self.rings
            .iter()
            .enumerate()
            .filter(|(_, ring)| islands || !ring.island)
            .filter_map(|(ring, line)| {
                let (along, off) = line.nearest(place)?;
                Some(OnShore { ring, along, off })
            })
            .min_by(|one, other| one.off.total_cmp(&other.off))
    }

    /// The way along the lake's own shore between the points of it nearest to two places; none where
    /// these lie on the shores of two waters, or nothing is moved.
    ///
    /// # Formula
    /// `d = (s₂ − s₁) mod L`, `s` the metres along the shore and `L` its length; the way is the shorter
    /// of `d` and `L − d`.
    /// # Units
    /// Metres.
    /// # Assumptions
    /// Islands are left out. The farther a place lies from the shore, the less its nearest point says:
    /// both distances are given.
    /// # References
    /// Linear referencing; common practice.
    pub fn way(&self, from: Place, to: Place) -> Option<AlongShore> {
        let (one, other) = (self.nearest(from, false)?, self.nearest(to, false)?);
        if one.ring != other.ring {
            return None;
        }
        let ring = &self.rings[one.ring];
        let length = ring.length();
        let onward = (other.along - one.along).rem_euclid(length);
        let metres = onward.min(length - onward);
        (metres > 0.0).then_some(AlongShore {
            metres,
            clockwise: (onward <= length - onward) == ring.clockwise,
            off: (one.off, other.off),
        })
    }

    /// Metres of the shortest stretch of shore that holds places, each at its nearest point; stretches of
    /// several shores are added. One place alone is 0.
    ///
    /// # Formula
    /// A shore's length less the longest gap between neighbouring places on it.
    /// # Units
    /// Metres.
    /// # Assumptions
    /// Between the places the plant need not stand, and beyond them it may.
    /// # References
    /// Common practice.
    pub fn stretch(&self, places: &[Place]) -> f64 {
        let mut on: Vec<Vec<f64>> = vec![Vec::new(); self.rings.len()];
        for at in places.iter().filter_map(|place| self.nearest(*place, true)) {
            on[at.ring].push(at.along);
        }
        on.iter_mut()
            .zip(&self.rings)
            .filter(|(along, _)| !along.is_empty())
            .map(|(along, ring)| {
                along.sort_by(f64::total_cmp);
                let round = along[0] + ring.length() - along[along.len() - 1];
                let gap = along.windows(2).map(|pair| pair[1] - pair[0]).fold(round, f64::max);
                ring.length() - gap
            })
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::polygon;

    /// 100 m wide and 50 m high, with an island of 10 by 10 m.
    fn lake(turned: bool) -> Shore {
        let mut water = polygon!(
            exterior: [(x: 0.0, y: 0.0), (x: 100.0, y: 0.0), (x: 100.0, y: 50.0), (x: 0.0, y: 50.0)],
            interiors: [[(x: 40.0, y: 20.0), (x: 50.0, y: 20.0), (x: 50.0, y: 30.0), (x: 40.0, y: 30.0)]],
        );
        if turned {
            water.exterior_mut(|ring| ring.0.reverse());
        }
        Shore::of(&MultiPolygon::new(vec![water]))
    }

    #[test]
    fn a_way_is_the_shorter_one_and_says_which_way_round_however_the_shore_was_drawn() {
        for turned in [false, true] {
            let shore = lake(turned);
            // from the middle of the south shore to the middle of the east shore: against the clock
            let way = shore.way([50.0, 2.0], [97.0, 25.0]).unwrap();
            assert!((way.metres - 75.0).abs() < 1e-9, "{way:?}");
            assert!(!way.clockwise);
            assert!((way.off.0 - 2.0).abs() < 1e-9 && (way.off.1 - 3.0).abs() < 1e-9);
            let back = shore.way([97.0, 25.0], [50.0, 2.0]).unwrap();
            assert!(back.clockwise && (back.metres - 75.0).abs() < 1e-9);
            // across the corner where the ring begins
            let corner = shore.way([10.0, 0.0], [0.0, 10.0]).unwrap();
            assert!(corner.clockwise && (corner.metres - 20.0).abs() < 1e-9, "{corner:?}");
        }
        assert_eq!(
            lake(false).way([50.0, 2.0], [50.0, 1.0]),
            None,
            "nothing moved along the shore"
        );
    }

    #[test]
    fn a_stretch_holds_all_places_and_leaves_out_the_longest_gap() {
        let shore = lake(false);
        assert!(shore.stretch(&[]).abs() < 1e-9);
        assert!(shore.stretch(&[[20.0, 0.0]]).abs() < 1e-9);
        let three = [[10.0, 0.0], [30.0, 0.0], [0.0, 10.0]];
        assert!((shore.stretch(&three) - 40.0).abs() < 1e-9, "over the corner where it begins");
        // two on the island, 10 m apart, are a stretch of their own
        let island = [[40.0, 20.0], [50.0, 20.0], [10.0, 0.0], [30.0, 0.0]];
        assert!((shore.stretch(&island) - 30.0).abs() < 1e-9);
    }
}
