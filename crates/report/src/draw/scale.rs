//! The map's edge as its scale, the scale bar, north, and coordinates along the frame.

use super::data::GridReference;
use super::map::Painter;
use super::plane::Rect;
use super::svg::{Ink, Lettering};
use crate::fonts::Face;
use units::{METRES_PER_FOOT, UnitSystem, decimals, with_thousands};

/// Height of scale bar and north.
pub(super) const HEIGHT: f64 = 54.0;

/// Lengths people read at a glance, in the unit of the system.
const ROUND: [f64; 3] = [1.0, 2.0, 5.0];
const ROUND_EDGE: [f64; 3] = [1.0, 2.5, 5.0];

fn unit(units: UnitSystem) -> (f64, &'static str) {
    match units {
        UnitSystem::Us => (METRES_PER_FOOT, "ft"),
        UnitSystem::Metric => (1.0, "m"),
    }
}

/// The longest round length, in units and pixels, that is no longer than some pixels.
fn round_length(per_unit: f64, at_most: f64, steps: [f64; 3]) -> (f64, f64) {
    (0..6)
        .flat_map(|power| steps.map(|step| step * 10f64.powi(power)))
        .map(|length| (length, length * per_unit))
        .take_while(|(_, pixels)| *pixels <= at_most)
        .last()
        .unwrap_or((1.0, per_unit))
}

impl Painter<'_> {
    pub(super) fn frame(&mut self) {
        let ink = self.theme.ink;
        if !self.style.framed {
            let inner = self.inner;
            self.svg.rect(inner.x, inner.y, inner.width, inner.height, Ink::line(ink, 0.8));
            self.small_scale();
            return;
        }
        let inner = self.inner;
        let outer = inner.inset(-6.5);
        for rect in [inner, outer] {
            self.svg.rect(rect.x, rect.y, rect.width, rect.height, Ink::line(ink, 0.8));
        }
        let (metres, sign) = unit(self.style.units);
        let (bar, pixels) = round_length(metres * self.plane.scale(), 48.0, ROUND_EDGE);
        self.edge_bars(pixels);
        self.scale_bar(metres, sign, bar);
        self.coordinates();
    }

    fn edge_bars(&mut self, pixels: f64) {
        let inner = self.inner;
        let ink = Ink::line(self.theme.ink, 2.2);
        let bars = |length: f64| {
            let mut bars = Vec::new();
            let mut from = 0.0;
            while from < length {
                bars.push((from, (from + pixels).min(length)));
                from += 2.0 * pixels;
            }
            bars
        };
        for (from, to) in bars(inner.width) {
            for y in [inner.y - 3.25, inner.bottom() + 3.25] {
                self.svg.line((inner.x + from, y), (inner.x + to, y), ink);
            }
        }
        for (from, to) in bars(inner.height) {
            for x in [inner.x - 3.25, inner.right() + 3.25] {
                self.svg.line((x, inner.y + from), (x, inner.y + to), ink);
            }
        }
    }

    fn scale_bar(&mut self, metres: f64, sign: &str, edge_bar: f64) {
        let theme = self.theme;
        let (length, pixels) = round_length(metres * self.plane.scale(), 90.0, ROUND);
        let right = self.inner.right() - 58.0;
        let left = right - pixels;
        let y = self.inner.bottom() - 30.0;
        let ink = Ink::line(theme.ink, 1.2);
        self.svg.line((left, y), (right, y), ink);
        for (x, up) in [(left, 5.0), (f64::midpoint(left, right), 3.0), (right, 5.0)] {
            self.svg.line((x, y + 0.6), (x, y - up), ink);
        }
        let how = Lettering::new(12.0, Face::Plain, theme.ink);
        self.svg.text((left, y - 9.0), "0", how.middle());
        let text = format!("{} {sign}", with_thousands(length, 0));
        self.svg.text((right + 12.0, y - 9.0), &text, how.end());
        let note = format!("edge bars {} {sign}", with_thousands(edge_bar, 0));
        let how = Lettering::new(11.5, Face::Plain, theme.second).end();
        self.svg.text((right, y + 17.0), &note, how);

        let x = self.inner.right() - 24.0;
        let foot = self.inner.bottom() - 14.0;
        self.svg.line((x, foot), (x, foot - 30.0), ink);
        self.svg.line((x - 4.0, foot - 24.0), (x, foot - 30.0), ink);
        self.svg.line((x + 4.0, foot - 24.0), (x, foot - 30.0), ink);
        let how = Lettering::new(12.0, Face::Bold, theme.ink).middle();
        self.svg.text((x, foot - 34.0), "N", how);
    }

    /// A scale bar in the corner that is most land.
    fn small_scale(&mut self) {
        let (metres, sign) = unit(self.style.units);
        let (length, pixels) = round_length(metres * self.plane.scale(), 70.0, ROUND);
        let text = format!("{} {sign}", with_thousands(length, 0));
        let size = 11.0;
        let wide = self.svg.fonts().width(&text, size, Face::Plain) + pixels + 8.0;
        let field = self.field.inset(6.0);
        let corners = [
            (field.x, field.bottom() - 12.0),
            (field.right() - wide, field.bottom() - 12.0),
            (field.x, field.y),
            (field.right() - wide, field.y),
        ];
        let rect = corners
            .into_iter()
            .map(|(x, y)| Rect { x, y, width: wide, height: 12.0 })
            .find(|rect| self.obstacles.is_free(*rect) && !self.is_wet(*rect))
            .unwrap_or(Rect { x: corners[0].0, y: corners[0].1, width: wide, height: 12.0 });
        let theme = self.theme;
        self.svg.rect(
            rect.x - 2.0,
            rect.y - 1.0,
            rect.width + 4.0,
            rect.height + 3.0,
            Ink::fill(theme.paper).faint(if theme.is_colour() { 0.0 } else { 1.0 }),
        );
        let y = rect.bottom() - 3.0;
        let ink = Ink::line(theme.ink, 1.1);
        self.svg.line((rect.x, y), (rect.x + pixels, y), ink);
        for x in [rect.x, rect.x + pixels] {
            self.svg.line((x, y + 0.5), (x, y - 4.0), ink);
        }
        let how = Lettering::new(size, Face::Plain, theme.ink);
        self.svg.text((rect.x + pixels + 5.0, y + 1.0), &text, how);
    }

    fn is_wet(&self, rect: Rect) -> bool {
        [
            (rect.x, rect.y),
            (rect.right(), rect.y),
            (rect.x, rect.bottom()),
            (rect.right(), rect.bottom()),
        ]
        .into_iter()
        .any(|corner| super::plane::inside(&self.shore, corner))
    }

    fn coordinates(&mut self) {
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

type Tick = (f64, String);

/// Ticks at multiples of a round step, three to seven of them.
fn ticks(from: f64, to: f64, steps: impl Iterator<Item = (f64, usize)>) -> Vec<(f64, usize)> {
    let (from, to) = (from.min(to), from.max(to));
    let Some((step, places)) = steps.into_iter().find(|(step, _)| (to - from) / step >= 3.0) else {
        return Vec::new();
    };
    ((from / step).ceil() as i64..=(to / step).floor() as i64)
        .map(|index| (index as f64 * step, places))
        .collect()
}

fn metre_ticks(from: f64, to: f64, sign: &str, place: impl Fn(f64) -> f64) -> Vec<Tick> {
    let steps = (0..6).rev().flat_map(|power| [5.0, 2.0, 1.0].map(|s| (s * 10f64.powi(power), 0)));
    ticks(from, to, steps)
        .into_iter()
        .map(|(value, places)| (place(value), format!("{} {sign}", with_thousands(value, places))))
        .collect()
}

fn degree_ticks(
    from: f64,
    to: f64,
    (plus, minus): (char, char),
    place: impl Fn(f64) -> f64,
) -> Vec<Tick> {
    let steps = (0..6_i32).flat_map(|places| {
        [5.0, 2.0, 1.0].map(|s| (s / 10f64.powi(places), usize::try_from(places).unwrap_or(0)))
    });
    ticks(from, to, steps)
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
    fn the_scale_is_a_round_length() {
        assert_eq!(round_length(0.5, 110.0, ROUND), (200.0, 100.0));
        assert_eq!(round_length(0.15, 48.0, ROUND_EDGE), (250.0, 37.5));
    }

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
        assert!(Fit::of(&control[..2]).is_none());
        let in_line = [control[0], (10.0, 10.0, at(-89.4, 43.0)), (20.0, 20.0, at(-89.4, 43.1))];
        assert!(Fit::of(&in_line).is_none());
    }
}
