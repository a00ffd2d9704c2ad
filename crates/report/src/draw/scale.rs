//! The map's edge as its scale, the scale bar, and north.

use super::map::Painter;
use super::plane::Rect;
use super::svg::{Ink, Lettering};
use crate::fonts::Face;
use units::{METRES_PER_FOOT, UnitSystem, with_thousands};

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
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_scale_is_a_round_length() {
        assert_eq!(round_length(0.5, 110.0, ROUND), (200.0, 100.0));
        assert_eq!(round_length(0.15, 48.0, ROUND_EDGE), (250.0, 37.5));
    }
}
