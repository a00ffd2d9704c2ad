//! The lake as a map: its style, its layout and its layers.

use super::Drawing;
use super::data::{Extent, GridReference, MapData};
use super::labels::Obstacles;
use super::legend::{self, LegendRow};
use super::plane::{Plane, Rect, bounds, path};
use super::svg::{Ink, Svg};
use super::theme::{Depth, Theme};
use crate::error::PrintError;
use crate::fonts::Fonts;
use crate::settings::Palette;
use units::UnitSystem;

/// How a map is drawn.
#[expect(
    clippy::struct_excessive_bools,
    reason = "each says whether one kind of lettering is wanted"
)]
#[derive(Debug, Clone, PartialEq)]
pub struct MapStyle {
    /// Colour or black and white.
    pub palette: Palette,
    /// Units of the scale and of depths.
    pub units: UnitSystem,
    /// Width in pixels.
    pub width: f64,
    /// Height in pixels that a framed map does not exceed and an unframed one has.
    pub max_height: f64,
    /// How strongly depth is shown.
    pub depth: Depth,
    /// The part of the lake to show; all of it by default.
    pub window: Option<Extent>,
    /// A framed map has the scale edge, the scale bar, north and a legend; one without has a plain
    /// line round it and a small scale bar.
    pub framed: bool,
    /// The legend, in the strip under the lake.
    pub legend: Vec<LegendRow>,
    /// Write the sites' codes.
    pub site_codes: bool,
    /// Write the zones' codes, and where: on the water, or on land beside it when data stand there.
    pub zone_codes: ZoneCodes,
    /// Write names of landmarks.
    pub landmark_names: bool,
    /// Write the figures of contours.
    pub contour_figures: bool,
    /// A line through places in order, projected metres.
    pub route: Vec<(f64, f64)>,
    /// How much larger than usual the lettering is.
    pub lettering: f64,
    /// What the picture shows, in words.
    pub description: String,
}

/// Where zones carry their code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ZoneCodes {
    /// Nowhere.
    #[default]
    None,
    /// In the middle of the zone.
    OnWater,
    /// On land beside it.
    OnLand,
}

impl MapStyle {
    /// A framed map of a width, with nothing written on it.
    pub fn new(palette: Palette, units: UnitSystem, width: f64, max_height: f64) -> Self {
        Self {
            palette,
            units,
            width,
            max_height,
            depth: Depth::Quiet,
            window: None,
            framed: true,
            legend: Vec::new(),
            site_codes: false,
            zone_codes: ZoneCodes::None,
            landmark_names: false,
            contour_figures: false,
            route: Vec::new(),
            lettering: 1.0,
            description: String::new(),
        }
    }
}

/// A map being drawn.
pub(super) struct Painter<'a> {
    pub(super) svg: Svg<'a>,
    pub(super) map: &'a MapData,
    pub(super) style: &'a MapStyle,
    pub(super) theme: Theme,
    pub(super) plane: Plane,
    /// Inside of the frame.
    pub(super) inner: Rect,
    /// Where the lake may be: the inside without the legend's strip.
    pub(super) field: Rect,
    pub(super) shore: Vec<Vec<(f64, f64)>>,
    pub(super) obstacles: Obstacles,
}

/// Draws a map of the lake.
///
/// The lake fills the width where the height allows; what does not fit of labels is left out and told
/// in the drawing's remarks.
///
/// # Errors
/// [`PrintError::NoOutline`] when the lake has no outline with extent.
pub fn draw_map(map: &MapData, style: &MapStyle, fonts: &Fonts) -> Result<Drawing, PrintError> {
    let no_outline = || PrintError::NoOutline { lake: map.title.clone() };
    let extent = style.window.or_else(|| map.extent_with_sites()).ok_or_else(no_outline)?;
    if map.outline.0.is_empty() || extent.width() <= 0.0 || extent.height() <= 0.0 {
        return Err(no_outline());
    }

    let has_grid = style.framed && map.grid != GridReference::None;
    let margin = if has_grid { 16.0 } else { 0.0 };
    let edge = if style.framed { 7.0 } else { 0.5 };
    let padding = match (style.framed, style.window) {
        (true, _) if style.landmark_names || style.zone_codes == ZoneCodes::OnLand => 34.0,
        (true, _) => 18.0,
        (false, Some(_)) => 0.0,
        (false, None) => 10.0,
    };
    let theme = Theme::of(style.palette);
    let inner_width = style.width - margin - 2.0 * edge;
    let strip = legend::height(style, map, fonts, inner_width);
    let free_width = (inner_width - 2.0 * padding).max(10.0);
    let most_height = (style.max_height - margin - 2.0 * edge - 2.0 * padding - strip).max(10.0);
    let natural = free_width * extent.height() / extent.width();
    let lake_height = if style.framed { natural.min(most_height) } else { most_height };
    let inner = Rect {
        x: margin + edge,
        y: edge,
        width: inner_width,
        height: lake_height + 2.0 * padding + strip,
    };
    let field = Rect { height: inner.height - strip, ..inner };
    let plane = Plane::fit(extent, field.inset(padding));
    let height = inner.bottom() + edge + margin;

    let shore = plane.rings(&map.outline);
    let mut painter = Painter {
        svg: Svg::new(fonts, style.width, height),
        map,
        style,
        theme,
        plane,
        inner,
        field,
        obstacles: Obstacles::new(field.inset(4.0), shore.clone()),
        shore,
    };
    painter.svg.rect(inner.x, inner.y, inner.width, inner.height, Ink::fill(theme.land));
    painter.in_frame(Painter::water);
    painter.in_frame(Painter::areas);
    painter.in_frame(Painter::shore_line);
    painter.marks();
    painter.frame();
    if style.framed {
        if style.window.is_some() && strip > 0.0 {
            // the lake goes on below: say that it is cut
            let (left, right, y) = (inner.x, inner.x + inner.width, field.bottom());
            painter.svg.line((left, y), (right, y), Ink::line(theme.ink, 0.75));
        }
        legend::draw(&mut painter, strip);
    }
    let description = if style.description.is_empty() {
        format!("Map of {}", map.title)
    } else {
        style.description.clone()
    };
    Ok(painter.svg.finish(description))
}

impl Painter<'_> {
    /// Draws a layer cut off at the frame, so that a window into the lake ends there.
    fn in_frame(&mut self, layer: fn(&mut Self)) {
        if self.style.window.is_none() {
            layer(self);
            return;
        }
        let field = self.field.path();
        self.svg.open_clip(&field);
        layer(self);
        self.svg.close_clip();
    }

    fn water(&mut self) {
        let (theme, depth) = (self.theme, self.style.depth);
        let count = self.map.bands.len();
        let outline = path(&self.shore, true);
        self.svg.path(&outline, Ink::fill(theme.water(depth, 0, count.max(1))));
        if theme.is_colour() && depth != Depth::Lines {
            for (index, band) in self.map.bands.iter().enumerate() {
                let colour = theme.water(depth, index, count);
                let d = path(&self.plane.rings(&band.area), true);
                self.svg.path(&d, Ink::fill(colour).edged(colour, 0.3));
            }
        }
        let width = if depth == Depth::Quiet { 0.4 } else { 0.5 };
        let mut ink = Ink::line(theme.contour, width);
        if theme.is_colour() {
            ink = ink.faint(if depth == Depth::Quiet { 0.45 } else { 0.6 });
        }
        for contour in &self.map.contours {
            let d = path(&self.plane.lines(&contour.lines), false);
            self.svg.path(&d, ink);
        }
        if let Some(limit) = &self.map.plant_limit {
            let d = path(&self.plane.lines(&limit.lines), false);
            let ink = Ink::line(theme.limit, if self.style.framed { 1.3 } else { 0.8 });
            let ink = if theme.is_colour() { ink.faint(0.6) } else { ink.dashed("4 2.5") };
            self.svg.path(&d, ink);
        }
    }

    fn areas(&mut self) {
        let theme = self.theme;
        for sub_area in &self.map.sub_areas {
            let d = path(&self.plane.rings(&sub_area.area), true);
            let ink = Ink::line(theme.ink, 0.45);
            self.svg.path(&d, if theme.is_colour() { ink.faint(0.45) } else { ink });
        }
        let edge = if self.style.depth == Depth::Quiet { 0.5 } else { 1.1 };
        for zone in &self.map.zones {
            let rings = self.plane.rings(&zone.area);
            let d = path(&rings, true);
            if zone.conservation {
                let gap = if self.style.framed { 6.0 } else { 4.0 };
                self.svg.hatch(&d, bounds(&rings), gap, true, Ink::line(theme.ink, 0.45));
                let ink = Ink::line(theme.ink, 1.1).dashed("7 2.5 1.5 2.5");
                self.svg.path(&d, ink);
            } else if self.style.framed {
                self.svg.path(&d, Ink::line(theme.ink, edge));
            }
        }
        for bed in &self.map.treated {
            let rings = self.plane.rings(&bed.area);
            let d = path(&rings, true);
            self.svg.hatch(&d, bounds(&rings), 6.0, false, Ink::line(theme.accent, 0.5));
            self.svg.path(&d, Ink::line(theme.accent, 1.7));
        }
    }

    fn shore_line(&mut self) {
        let d = path(&self.shore, true);
        let width = if self.style.framed { 1.4 } else { 1.2 };
        self.svg.path(&d, Ink::line(self.theme.ink, width));
        let route: Vec<_> = self.style.route.iter().map(|&(x, y)| self.plane.at(x, y)).collect();
        if route.len() > 1 {
            let ink = Ink::line(self.theme.accent, 1.0);
            self.svg.path(&path(&[route], false), ink);
        }
    }
}
