//! Coordinates along the frame: metres of the map, or latitude and longitude.

use super::data::GridReference;
use super::map::Painter;
use super::plane::Rect;
use super::svg::{Ink, Lettering};
use crate::fonts::Face;
use units::{decimals, with_thousands};

impl Painter<'_> {
    pub(super) fn coordinates(&mut self) {
        let inner = self.inner;
        let corner = |x, y| self.plane.back((x, y));
        let (south_west, north_east) =
            (corner(inner.x, inner.bottom()), corner(inner.right(), inner.y));
        let (east, north): (Vec<Tick>, Vec<Tick>) = match &self.map.grid {
            GridReference::None => return,
            GridReference::Projected { .. } => (
                metre_ticks(south_west.0, north_east.0, "E", |x| self.plane.at(x, 0.0).0),
                metre_ticks(south_west.1, north_east.1, "N", |y| self.plane.at(0.0, y).1),
            ),
            GridReference::Geographic { control, .. } => {
                let Some(fit) = Fit::of(control) else { return };
                let (west, east) =
                    (fit.lon(south_west.0, south_west.1), fit.lon(north_east.0, south_west.1));
                let (south, north) =
                    (fit.lat(south_west.0, south_west.1), fit.lat(south_west.0, north_east.1));
                (
                    degree_ticks(west, east, ('E', 'W'), |lon| {
                        self.plane.at(fit.x_of_lon(lon, south_west.1), 0.0).0
                    }),
                    degree_ticks(south, north, ('N', 'S'), |lat| {
                        self.plane.at(0.0, fit.y_of_lat(lat, south_west.0)).1
                    }),
                )
            }
        };
        self.crosses(south_west, north_east);
        let ink = Ink::line(self.theme.ink, 0.8);
        let how = Lettering::new(10.5, Face::Plain, self.theme.second).middle();
        for (x, label) in east {
            self.svg.line((x, inner.bottom()), (x, inner.bottom() - 6.0), ink);
            let half = self.svg.fonts().width(&label, 10.5, Face::Plain) / 2.0;
            if x - half > inner.x && x + half < inner.right() {
                self.svg.text((x, inner.bottom() + 18.0), &label, how);
            }
        }
        for (y, label) in north {
            self.svg.line((inner.x, y), (inner.x + 6.0, y), ink);
            let half = self.svg.fonts().width(&label, 10.5, Face::Plain) / 2.0;
            if y - half > inner.y && y + half < inner.bottom() {
                self.svg.text((inner.x - 11.0, y), &label, how.upwards());
            }
        }
    }
}

/// Half the length of a cross, and of the paper left free around it.
const ARM: f64 = 5.0;
const FREE: f64 = 1.5;

impl Painter<'_> {
    /// On a map without sites a cross where each meridian with a tick meets each such parallel, so that
    /// a scan of it can be laid back on the Earth; none where a word or a mark stands.
    fn crosses(&mut self, south_west: (f64, f64), north_east: (f64, f64)) {
        let GridReference::Geographic { control, .. } = &self.map.grid else { return };
        let Some(fit) = Fit::of(control).filter(|_| self.map.sites.is_empty()) else { return };
        let field = self.field;
        let corners = [
            (field.x, field.y),
            (field.right(), field.y),
            (field.x, field.bottom()),
            (field.right(), field.bottom()),
        ]
        .map(|at| self.plane.back(at));
        let span = |value: &dyn Fn(f64, f64) -> f64| {
            corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                let found = value(at.0, at.1);
                (low.min(found), high.max(found))
            })
        };
        let (west, east) = span(&|x, y| fit.lon(x, y));
        let (south, north) = span(&|x, y| fit.lat(x, y));
        let paper = Ink::line(self.theme.paper, 0.8 + 2.0 * FREE);
        let ink = Ink::line(self.theme.ink, 0.8);
        // the steps of the ticks, over the whole of a map that is turned against north
        let (Some(lon_step), Some(lat_step)) = (
            step_of(fit.lon(south_west.0, south_west.1), fit.lon(north_east.0, south_west.1)),
            step_of(fit.lat(south_west.0, south_west.1), fit.lat(south_west.0, north_east.1)),
        ) else {
            return;
        };
        for (lon, _) in multiples(west, east, lon_step) {
            for (lat, _) in multiples(south, north, lat_step) {
                let Some((x, y)) = fit.place(lon, lat) else { continue };
                let (x, y) = self.plane.at(x, y);
                let (x_0, y_0, size) = (x - ARM - FREE, y - ARM - FREE, 2.0 * (ARM + FREE));
                if !self.obstacles.is_free(Rect { x: x_0, y: y_0, width: size, height: size }) {
                    continue;
                }
                for (ink, arm) in [(paper, ARM + FREE), (ink, ARM)] {
                    self.svg.line((x - arm, y), (x + arm, y), ink);
                    self.svg.line((x, y - arm), (x, y + arm), ink);
                }
            }
        }
    }
}

type Tick = (f64, String);

/// Ticks at multiples of a round step, three to seven of them.
fn ticks(from: f64, to: f64, steps: impl Iterator<Item = (f64, usize)>) -> Vec<(f64, usize)> {
    let wide = |(step, _): &(f64, usize)| (to - from).abs() / step >= 3.0;
    steps.into_iter().find(wide).map_or_else(Vec::new, |step| multiples(from, to, step).collect())
}

/// The multiples of a step from one value to another.
fn multiples(
    from: f64,
    to: f64,
    (step, places): (f64, usize),
) -> impl Iterator<Item = (f64, usize)> {
    let (from, to) = (from.min(to), from.max(to));
    ((from / step).ceil() as i64..=(to / step).floor() as i64)
        .map(move |index| (index as f64 * step, places))
}

fn metre_ticks(from: f64, to: f64, sign: &str, place: impl Fn(f64) -> f64) -> Vec<Tick> {
    let steps = (0..6).rev().flat_map(|power| [5.0, 2.0, 1.0].map(|s| (s * 10f64.powi(power), 0)));
    ticks(from, to, steps)
        .into_iter()
        .map(|(value, places)| (place(value), format!("{} {sign}", with_thousands(value, places))))
        .collect()
}

/// The round step of the ticks from one value to another.
fn step_of(from: f64, to: f64) -> Option<(f64, usize)> {
    degree_steps().find(|(step, _)| (to - from).abs() / step >= 3.0)
}

fn degree_steps() -> impl Iterator<Item = (f64, usize)> {
    (0..6_i32).flat_map(|places| {
        [5.0, 2.0, 1.0].map(|s| (s / 10f64.powi(places), usize::try_from(places).unwrap_or(0)))
    })
}

fn degree_ticks(
    from: f64,
    to: f64,
    (plus, minus): (char, char),
    place: impl Fn(f64) -> f64,
) -> Vec<Tick> {
    ticks(from, to, degree_steps())
        .into_iter()
        .map(|(value, places)| {
            let sign = if value < 0.0 { minus } else { plus };
            (place(value), format!("{}° {sign}", decimals(value.abs(), places)))
        })
        .collect()
}

/// Longitude and latitude as planes over x and y, by least squares.
struct Fit {
    middle: (f64, f64),
    lon: [f64; 3],
    lat: [f64; 3],
}

impl Fit {
    fn of(control: &[(f64, f64, units::LonLat)]) -> Option<Self> {
        let n = control.len() as f64;
        let middle = (
            control.iter().map(|place| place.0).sum::<f64>() / n,
            control.iter().map(|place| place.1).sum::<f64>() / n,
        );
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for (x, y, _) in control {
            let (x, y) = (x - middle.0, y - middle.1);
            (xx, xy, yy) = (xx + x * x, xy + x * y, yy + y * y);
        }
        let determinant = xx * yy - xy * xy;
        if control.len() < 3 || determinant <= 1e-9 * (xx + yy).powi(2) {
            return None;
        }
        let plane = |value: fn(&units::LonLat) -> f64| {
            let mean = control.iter().map(|place| value(&place.2)).sum::<f64>() / n;
            let (mut xv, mut yv) = (0.0, 0.0);
            for (x, y, place) in control {
                let v = value(place) - mean;
                xv += (x - middle.0) * v;
                yv += (y - middle.1) * v;
            }
            [mean, (xv * yy - yv * xy) / determinant, (yv * xx - xv * xy) / determinant]
        };
        Some(Self { middle, lon: plane(|p| p.longitude()), lat: plane(|p| p.latitude()) })
    }

    fn value(&self, plane: [f64; 3], x: f64, y: f64) -> f64 {
        plane[0] + plane[1] * (x - self.middle.0) + plane[2] * (y - self.middle.1)
    }

    fn lon(&self, x: f64, y: f64) -> f64 {
        self.value(self.lon, x, y)
    }

    fn lat(&self, x: f64, y: f64) -> f64 {
        self.value(self.lat, x, y)
    }

    /// Where a meridian meets a parallel.
    fn place(&self, lon: f64, lat: f64) -> Option<(f64, f64)> {
        let ([lon_0, a, b], [lat_0, c, d]) = (self.lon, self.lat);
        let determinant = a * d - b * c;
        let (east, north) = (lon - lon_0, lat - lat_0);
        (determinant != 0.0).then(|| {
            (
                self.middle.0 + (east * d - north * b) / determinant,
                self.middle.1 + (north * a - east * c) / determinant,
            )
        })
    }

    /// Where a meridian crosses the line of constant y.
    fn x_of_lon(&self, lon: f64, y: f64) -> f64 {
        self.middle.0 + (lon - self.lon[0] - self.lon[2] * (y - self.middle.1)) / self.lon[1]
    }

    /// Where a parallel crosses the line of constant x.
    fn y_of_lat(&self, lat: f64, x: f64) -> f64 {
        self.middle.1 + (lat - self.lat[0] - self.lat[1] * (x - self.middle.0)) / self.lat[2]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::LonLat;

    #[test]
    fn ticks_are_round_and_inside() {
        let found = metre_ticks(304_120.0, 305_480.0, "E", |x| x);
        let labels: Vec<_> = found.iter().map(|tick| tick.1.as_str()).collect();
        assert_eq!(
            labels,
            [
                "304,200 E",
                "304,400 E",
                "304,600 E",
                "304,800 E",
                "305,000 E",
                "305,200 E",
                "305,400 E"
            ]
        );
        let found = degree_ticks(-89.4304, -89.4001, ('E', 'W'), |x| x);
        let labels: Vec<_> = found.iter().map(|tick| tick.1.as_str()).collect();
        assert_eq!(labels, ["89.43° W", "89.42° W", "89.41° W"]);
    }

    #[test]
    fn a_plane_through_the_corners_gives_the_corners_back() {
        let at = |lon, lat| LonLat::new(lon, lat).unwrap();
        let control = [
            (0.0, 0.0, at(-89.43, 43.00)),
            (1_000.0, 0.0, at(-89.42, 43.001)),
            (0.0, 1_000.0, at(-89.431, 43.01)),
        ];
        let fit = Fit::of(&control).unwrap();
        for (x, y, place) in &control {
            assert!((fit.lon(*x, *y) - place.longitude()).abs() < 1e-9);
            assert!((fit.lat(*x, *y) - place.latitude()).abs() < 1e-9);
        }
        assert!((fit.x_of_lon(-89.425, 0.0) - 500.0).abs() < 1e-6);
        let (x, y) = fit.place(-89.42, 43.001).unwrap();
        assert!((x - 1_000.0).abs() < 1e-6 && y.abs() < 1e-6);
        assert!(Fit::of(&control[..2]).is_none());
        let in_line = [control[0], (10.0, 10.0, at(-89.4, 43.0)), (20.0, 20.0, at(-89.4, 43.1))];
        assert!(Fit::of(&in_line).is_none());
    }
}
