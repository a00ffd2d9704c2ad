//! A small SVG writer: shapes, lettering with halo, hatching, clipping.

use super::Drawing;
use super::plane::Rect;
use crate::fonts::{Face, Fonts};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// How a shape is inked.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Ink<'a> {
    pub(crate) fill: Option<&'a str>,
    pub(crate) stroke: Option<&'a str>,
    pub(crate) width: f64,
    pub(crate) dash: Option<&'a str>,
    pub(crate) opacity: Option<f64>,
}

impl<'a> Ink<'a> {
    pub(crate) const fn fill(colour: &'a str) -> Self {
        Self { fill: Some(colour), stroke: None, width: 0.0, dash: None, opacity: None }
    }

    pub(crate) const fn line(colour: &'a str, width: f64) -> Self {
        Self { fill: None, stroke: Some(colour), width, dash: None, opacity: None }
    }

    pub(crate) const fn edged(self, colour: &'a str, width: f64) -> Self {
        Self { stroke: Some(colour), width, ..self }
    }

    pub(crate) const fn dashed(self, dash: &'a str) -> Self {
        Self { dash: Some(dash), ..self }
    }

    pub(crate) const fn faint(self, opacity: f64) -> Self {
        Self { opacity: Some(opacity), ..self }
    }
}

/// Where a text hangs on its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Anchor {
    #[default]
    Start,
    Middle,
    End,
}

/// How a text is lettered.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lettering<'a> {
    pub(crate) size: f64,
    pub(crate) face: Face,
    pub(crate) colour: &'a str,
    pub(crate) halo: Option<&'a str>,
    pub(crate) anchor: Anchor,
    pub(crate) upwards: bool,
}

impl<'a> Lettering<'a> {
    pub(crate) const fn new(size: f64, face: Face, colour: &'a str) -> Self {
        Self { size, face, colour, halo: None, anchor: Anchor::Start, upwards: false }
    }

    pub(crate) const fn middle(self) -> Self {
        Self { anchor: Anchor::Middle, ..self }
    }

    pub(crate) const fn end(self) -> Self {
        Self { anchor: Anchor::End, ..self }
    }

    pub(crate) const fn upwards(self) -> Self {
        Self { upwards: true, ..self }
    }

    pub(crate) const fn halo(self, colour: &'a str) -> Self {
        Self { halo: Some(colour), ..self }
    }
}

/// An SVG being written.
pub(crate) struct Svg<'f> {
    fonts: &'f Fonts,
    body: String,
    defs: String,
    width: f64,
    height: f64,
    n_clips: usize,
    missing: BTreeSet<char>,
    pub(crate) remarks: Vec<String>,
}

/// A number with at most two decimals and no trailing zeros.
pub(crate) fn number(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0 + 0.0;
    let text = format!("{rounded:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

impl<'f> Svg<'f> {
    pub(crate) fn new(fonts: &'f Fonts, width: f64, height: f64) -> Self {
        Self {
            fonts,
            body: String::new(),
            defs: String::new(),
            width,
            height,
            n_clips: 0,
            missing: BTreeSet::new(),
            remarks: Vec::new(),
        }
    }

    pub(crate) const fn fonts(&self) -> &'f Fonts {
        self.fonts
    }

    fn ink(&mut self, ink: Ink<'_>) {
        let body = &mut self.body;
        let _ = write!(body, " fill=\"{}\"", ink.fill.unwrap_or("none"));
        if let Some(colour) = ink.stroke {
            let _ = write!(body, " stroke=\"{colour}\" stroke-width=\"{}\"", number(ink.width));
            if let Some(dash) = ink.dash {
                let _ = write!(body, " stroke-dasharray=\"{dash}\"");
            }
        }
        if let Some(opacity) = ink.opacity {
            let _ = write!(body, " opacity=\"{}\"", number(opacity));
        }
        body.push_str("/>\n");
    }

    pub(crate) fn rect(&mut self, x: f64, y: f64, width: f64, height: f64, ink: Ink<'_>) {
        let _ = write!(
            self.body,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"",
            number(x),
            number(y),
            number(width.max(0.0)),
            number(height.max(0.0))
        );
        self.ink(ink);
    }

    pub(crate) fn line(&mut self, from: (f64, f64), to: (f64, f64), ink: Ink<'_>) {
        let _ = write!(
            self.body,
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"",
            number(from.0),
            number(from.1),
            number(to.0),
            number(to.1)
        );
        self.ink(ink);
    }

    pub(crate) fn circle(&mut self, centre: (f64, f64), radius: f64, ink: Ink<'_>) {
        let _ = write!(
            self.body,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"",
            number(centre.0),
            number(centre.1),
            number(radius)
        );
        self.ink(ink);
    }

    /// A path from its `d` attribute; areas are filled even-odd. Empty paths are not written.
    pub(crate) fn path(&mut self, d: &str, ink: Ink<'_>) {
        if d.is_empty() {
            return;
        }
        let _ = write!(
            self.body,
            "<path d=\"{d}\" fill-rule=\"evenodd\" stroke-linejoin=\"round\" stroke-linecap=\"round\""
        );
        self.ink(ink);
    }

    pub(crate) fn polygon(&mut self, points: &[(f64, f64)], ink: Ink<'_>) {
        self.path(&super::plane::path(&[points.to_vec()], true), ink);
    }

    /// A text on its base line. Returns its width.
    pub(crate) fn text(&mut self, place: (f64, f64), text: &str, how: Lettering<'_>) -> f64 {
        let text = self.fonts.printable(text, &mut self.missing);
        if text.trim().is_empty() {
            return 0.0;
        }
        let anchor = match how.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let _ = write!(
            self.body,
            "<text x=\"{}\" y=\"{}\" font-family=\"{}\" font-size=\"{}\" font-weight=\"{}\" \
             text-anchor=\"{anchor}\" fill=\"{}\"",
            number(place.0),
            number(place.1),
            escape(self.fonts.family()),
            number(how.size),
            how.face.weight(),
            how.colour
        );
        if how.face.is_italic() {
            self.body.push_str(" font-style=\"italic\"");
        }
        if how.upwards {
            let (x, y) = (number(place.0), number(place.1));
            let _ = write!(self.body, " transform=\"rotate(-90 {x} {y})\"");
        }
        if let Some(halo) = how.halo {
            let _ = write!(
                self.body,
                " stroke=\"{halo}\" stroke-width=\"{}\" stroke-linejoin=\"round\" paint-order=\"stroke\"",
                number(how.size / 4.0)
            );
        }
        let _ = writeln!(self.body, ">{}</text>", escape(&text));
        self.fonts.width(&text, how.size, how.face)
    }

    /// What is drawn from here to [`Svg::close_clip`] is cut off at the edge of an area.
    pub(crate) fn open_clip(&mut self, d: &str) {
        self.n_clips += 1;
        let id = self.n_clips;
        let _ = writeln!(
            self.defs,
            "<clipPath id=\"c{id}\"><path d=\"{d}\" clip-rule=\"evenodd\"/></clipPath>"
        );
        let _ = writeln!(self.body, "<g clip-path=\"url(#c{id})\">");
    }

    pub(crate) fn close_clip(&mut self) {
        self.body.push_str("</g>\n");
    }

    /// Hatching over an area at 45°, rising to the right or falling.
    pub(crate) fn hatch(&mut self, d: &str, around: Rect, gap: f64, rising: bool, ink: Ink<'_>) {
        let step = gap * std::f64::consts::SQRT_2;
        let (top, bottom) = (around.y, around.bottom());
        // lines stand on multiples of the step, so that neighbouring areas hatch as one
        let (least, most) = if rising {
            (around.x + top, around.right() + bottom)
        } else {
            (around.x - bottom, around.right() - top)
        };
        let mut lines = String::new();
        for index in (least / step).floor() as i64..=(most / step).ceil() as i64 {
            let c = index as f64 * step;
            let (x0, x1) = if rising { (c - bottom, c - top) } else { (c + bottom, c + top) };
            let _ =
                write!(lines, "M{} {}L{} {}", number(x0), number(bottom), number(x1), number(top));
        }
        if !d.is_empty() {
            self.open_clip(d);
            self.path(&lines, ink);
            self.close_clip();
        }
    }

    pub(crate) fn finish(self, description: String) -> Drawing {
        let Self { body, defs, width, height, mut missing, remarks, fonts, .. } = self;
        let description = fonts.printable(&description, &mut missing);
        let (w, h) = (number(width), number(height));
        let defs = if defs.is_empty() { String::new() } else { format!("<defs>\n{defs}</defs>\n") };
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}\" height=\"{h}\" \
             viewBox=\"0 0 {w} {h}\" role=\"img\">\n<title>{}</title>\n{defs}{body}</svg>\n",
            escape(&description)
        );
        Drawing { svg, width, height, description, missing_letters: missing, remarks }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        for (value, want) in [(1.0, "1"), (-0.001, "0"), (12.345_6, "12.35"), (100.0, "100")] {
            assert_eq!(number(value), want);
        }
    }
}
