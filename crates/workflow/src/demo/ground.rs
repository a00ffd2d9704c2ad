//! The ground of Lake Tamarin: its shore, its island, its bed.

use super::random::{Field, Random};
use geo_types::{Coord, LineString, Polygon};

/// Where the invented lake is put: farmland, so that nothing real is meant.
const ORIGIN: (f64, f64) = (-94.5, 44.6);
/// Metres in a step of the hand-drawn outline.
const STEP: f64 = 1.905;

/// Hand-drawn outer shore, clockwise from the west bay, in steps east and south.
const SHORE: &[(f64, f64)] = &[
    (77.0, 270.0),
    (84.0, 238.0),
    (101.0, 216.0),
    (126.0, 195.0),
    (160.0, 186.0),
    (200.0, 194.0),
    (230.0, 222.0),
    (244.0, 262.0),
    (271.0, 289.0),
    (297.0, 258.0),
    (318.0, 222.0),
    (345.0, 199.0),
    (372.0, 189.0),
    (402.0, 192.0),
    (443.0, 175.0),
    (486.0, 184.0),
    (530.0, 197.0),
    (566.0, 189.0),
    (603.0, 184.0),
    (636.0, 190.0),
    (660.0, 206.0),
    (683.0, 232.0),
    (708.0, 256.0),
    (724.0, 293.0),
    (720.0, 332.0),
    (727.0, 372.0),
    (720.0, 402.0),
    (696.0, 413.0),
    (668.0, 424.0),
    (648.0, 448.0),
    (630.0, 482.0),
    (612.0, 512.0),
    (592.0, 529.0),
    (556.0, 536.0),
    (520.0, 548.0),
    (488.0, 538.0),
    (456.0, 556.0),
    (424.0, 577.0),
    (395.0, 578.0),
    (372.0, 562.0),
    (356.0, 530.0),
    (336.0, 514.0),
    (308.0, 526.0),
    (280.0, 528.0),
    (256.0, 514.0),
    (249.0, 488.0),
    (256.0, 458.0),
    (240.0, 420.0),
    (222.0, 398.0),
    (213.0, 382.0),
    (206.0, 358.0),
    (186.0, 347.0),
    (160.0, 345.0),
    (128.0, 336.0),
    (100.0, 318.0),
    (82.0, 296.0),
];
/// Hand-drawn island.
const ISLAND: &[(f64, f64)] = &[
    (415.0, 287.0),
    (428.0, 278.0),
    (448.0, 275.0),
    (466.0, 266.0),
    (478.0, 270.0),
    (474.0, 282.0),
    (458.0, 290.0),
    (446.0, 302.0),
    (428.0, 312.0),
    (416.0, 304.0),
];

/// A place in the lake's own plane, metres east and north of its middle.
pub(super) type Place = Coord<f64>;

fn place((east, south): (f64, f64)) -> Place {
    Coord { x: (east - 400.0) * STEP, y: (380.0 - south) * STEP }
}

/// Longitude and latitude of a place: a small plane laid on the globe.
pub(super) fn lon_lat(place: Place) -> Coord<f64> {
    let metres_per_degree = 111_131.8;
    let shrink = ORIGIN.1.to_radians().cos() * 1.001_7;
    Coord {
        x: ORIGIN.0 + place.x / (metres_per_degree * shrink),
        y: ORIGIN.1 + place.y / metres_per_degree,
    }
}

/// A closed curve through hand-drawn points (Catmull and Rom 1974), a little ragged.
fn curve(points: &[(f64, f64)], random: &mut Random, raggedness: f64) -> LineString<f64> {
    let n = points.len();
    let at = |index: usize| place(points[index % n]);
    let mut ring = Vec::new();
    for index in 0..n {
        let (a, b, c, d) = (at(index + n - 1), at(index), at(index + 1), at(index + 2));
        for step in 0..8 {
            let t = f64::from(step) / 8.0;
            let mix = |a: f64, b: f64, c: f64, d: f64| {
                0.5 * (2.0 * b
                    + (c - a) * t
                    + (2.0 * a - 5.0 * b + 4.0 * c - d) * t * t
                    + (3.0 * b - a - 3.0 * c + d) * t * t * t)
            };
            let jitter = |random: &mut Random| raggedness * random.normal();
            ring.push(Coord {
                x: mix(a.x, b.x, c.x, d.x) + jitter(random),
                y: mix(a.y, b.y, c.y, d.y) + jitter(random),
            });
        }
    }
    ring.push(ring[0]);
    LineString::new(ring)
}

/// The lake as ground.
#[derive(Debug)]
pub(super) struct Ground {
    /// Shore and island, in the lake's plane.
    pub(super) outline: Polygon<f64>,
    bumps: Field,
}

impl Ground {
    pub(super) fn new(random: &mut Random) -> Self {
        let shore = curve(SHORE, random, 1.3);
        let island = curve(ISLAND, random, 0.8);
        let bumps = Field::new(random, 260.0, 7);
        Self { outline: Polygon::new(shore, vec![island]), bumps }
    }

    /// Distance to the nearest shore, islands' too; negative on land.
    fn offshore(&self, at: Place) -> f64 {
        let rings = std::iter::once(self.outline.exterior()).chain(self.outline.interiors());
        let mut nearest = f64::INFINITY;
        let mut inside = false;
        for line in rings.flat_map(LineString::lines) {
            let (a, b) = (line.start, line.end);
            let (ux, uy) = (b.x - a.x, b.y - a.y);
            let t = (((at.x - a.x) * ux + (at.y - a.y) * uy) / (ux * ux + uy * uy)).clamp(0.0, 1.0);
            nearest = nearest.min((at.x - a.x - t * ux).hypot(at.y - a.y - t * uy));
            if (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / uy * ux {
                inside = !inside;
            }
        }
        if inside { nearest } else { -nearest }
    }

    /// Depth in metres; none on land.
    pub(super) fn depth(&self, at: Place) -> Option<f64> {
        let off = self.offshore(at);
        if off <= 0.0 {
            return None;
        }
        // a shelf, then a basin; the west bay is shallow, the middle of the lake is not
        let basin =
            0.35 + 0.65 / (1.0 + ((at.x - 60.0) / 420.0).powi(4) + ((at.y + 70.0) / 260.0).powi(4));
        let shelf = 3.4 * (1.0 - (-off / 42.0).exp());
        let bowl = 7.6 * basin * (1.0 - (-(off / 150.0).powi(2)).exp());
        let swell = 1.0 + 0.16 * self.bumps.at(at.x, at.y);
        Some(((shelf + bowl) * swell).max(0.1))
    }
}
