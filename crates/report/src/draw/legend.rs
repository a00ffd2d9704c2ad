//! The legend in the strip under the lake, with the scale bar and north at its right.

use super::data::{LandmarkKind, MapData, Mark};
use super::map::{MapStyle, Painter};
use super::marks::{draw_landmark, draw_mark, mark_radius};
use super::scale;
use super::svg::{Ink, Lettering};
use super::theme::Depth;
use crate::fonts::{Face, Fonts};
use units::decimals;

/// One row of a legend.
#[derive(Debug, Clone, PartialEq)]
pub enum LegendRow {
    /// Marks of sites over their words.
    Marks {
        /// What the marks tell; may be empty.
        title: String,
        /// Mark and word.
        items: Vec<(Mark, String)>,
    },
    /// The depth colours with their figures.
    Depths {
        /// As in "Depth, feet at full pool".
        title: String,
    },
    /// Lines and symbols with their words beside them.
    Signs {
        /// Sign and word.
        items: Vec<(Sign, String)>,
    },
}

/// A sign in a legend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// The limit of plants.
    PlantLimit,
    /// A zone's edge.
    ZoneEdge,
    /// A sub-area's edge.
    SubAreaEdge,
    /// A conservation area.
    Conservation,
    /// A treated bed.
    Treated,
    /// A landmark.
    Landmark,
    /// A launch.
    Launch,
    /// A hazard.
    Hazard,
    /// A contour.
    Contour,
    /// A site.
    Site(Mark),
}

const SIZE: f64 = 12.0;
const PAD: f64 = 14.0;
/// Room for scale bar and north.
pub(super) const SCALE_ROOM: f64 = 165.0;
const SIGN_WIDTH: f64 = 30.0;
const SIGN_ROWS: usize = 3;
const GAP: f64 = 14.0;
const BLOCK_GAP: f64 = 12.0;

/// Puts items of some widths into rows: left end and row of each, and the number of rows.
fn flow(widths: impl Iterator<Item = f64>, room: f64) -> (Vec<(f64, usize)>, usize) {
    let (mut x, mut row) = (0.0, 0);
    let mut places = Vec::new();
    for width in widths {
        if x > 0.0 && x + width > room {
            (x, row) = (0.0, row + 1);
        }
        places.push((x, row));
        x += width;
    }
    (places, row + 1)
}

fn mark_width(mark: Mark, label: &str, fonts: &Fonts) -> f64 {
    fonts.width(label, SIZE, Face::Plain).max(2.0 * mark_radius(mark, 1.0)) + GAP
}

fn sign_width(label: &str, fonts: &Fonts) -> f64 {
    SIGN_WIDTH + 6.0 + fonts.width(label, SIZE, Face::Plain) + GAP
}

/// Widths of the columns of a block of signs, three signs to a column, fewer rows when they are wide.
fn sign_columns(items: &[(Sign, String)], fonts: &Fonts) -> Vec<f64> {
    items
        .chunks(SIGN_ROWS)
        .map(|column| column.iter().map(|(_, label)| sign_width(label, fonts)).fold(0.0, f64::max))
        .collect()
}

fn depth_step(count: usize, room: f64) -> f64 {
    (room / count.max(1) as f64).min(34.0)
}

/// Width and height of one block.
fn block_size(
    row: &LegendRow,
    style: &MapStyle,
    map: &MapData,
    fonts: &Fonts,
    room: f64,
) -> (f64, f64) {
    let titled = |title: &str| fonts.width(title, SIZE, Face::Bold) + GAP;
    match row {
        LegendRow::Marks { title, items } => {
            let widths: Vec<f64> =
                items.iter().map(|(mark, label)| mark_width(*mark, label, fonts)).collect();
            let rows = flow(widths.iter().copied(), room).1;
            let head = if title.is_empty() { 0.0 } else { 18.0 };
            let width = widths.iter().sum::<f64>().max(titled(title)).min(room);
            (width, head + 42.0 * rows as f64)
        }
        LegendRow::Depths { title } => {
            let count = if style.palette == crate::Palette::Colour { map.bands.len() } else { 0 };
            let ramp = depth_step(count, room) * count as f64 + 12.0 + GAP;
            (ramp.max(titled(title)).min(room), if count == 0 { 18.0 } else { 50.0 })
        }
        LegendRow::Signs { items } => {
            let columns = sign_columns(items, fonts);
            let total: f64 = columns.iter().sum();
            if total <= room {
                (total, 20.0 * items.len().min(SIGN_ROWS) as f64)
            } else {
                let rows = flow(items.iter().map(|item| sign_width(&item.1, fonts)), room).1;
                (room, 20.0 * rows as f64)
            }
        }
    }
}

/// Left end and top of each block, and the height of all.
fn blocks(style: &MapStyle, map: &MapData, fonts: &Fonts, room: f64) -> (Vec<(f64, f64)>, f64) {
    let sizes: Vec<_> =
        style.legend.iter().map(|row| block_size(row, style, map, fonts, room)).collect();
    let (places, _) = flow(sizes.iter().map(|size| size.0 + BLOCK_GAP), room + BLOCK_GAP);
    let mut tops: Vec<f64> = vec![0.0];
    for (index, (_, row)) in places.iter().enumerate() {
        if tops.len() < row + 2 {
            tops.resize(row + 2, 0.0);
        }
        tops[row + 1] = tops[row + 1].max(tops[*row] + sizes[index].1 + 6.0);
    }
    let height = tops.last().copied().unwrap_or(0.0);
    (places.into_iter().map(|(x, row)| (x, tops[row])).collect(), height)
}

/// Height of the strip.
pub(super) fn height(style: &MapStyle, map: &MapData, fonts: &Fonts, inner_width: f64) -> f64 {
    if !style.framed {
        return 0.0;
    }
    let room = inner_width - 2.0 * PAD - SCALE_ROOM;
    blocks(style, map, fonts, room).1.max(scale::HEIGHT) + 12.0
}

pub(super) fn draw(painter: &mut Painter<'_>, strip: f64) {
    let fonts = painter.svg.fonts();
    let left = painter.inner.x + PAD;
    let room = painter.inner.width - 2.0 * PAD - SCALE_ROOM;
    let (places, height) = blocks(painter.style, painter.map, fonts, room);
    let start = painter.inner.bottom() - strip + (strip - 12.0 - height).max(0.0) + 4.0;
    for (row, (x, top)) in painter.style.legend.iter().zip(places) {
        let place = (left + x, start + top);
        match row {
            LegendRow::Marks { title, items } => marks(painter, title, items, place, room),
            LegendRow::Depths { title } => depths(painter, title, place, room),
            LegendRow::Signs { items } => signs(painter, items, place, room),
        }
    }
}

fn marks(
    painter: &mut Painter<'_>,
    title: &str,
    items: &[(Mark, String)],
    (left, top): (f64, f64),
    room: f64,
) {
    let (theme, fonts) = (painter.theme, painter.svg.fonts());
    let mut start = top;
    if !title.is_empty() {
        let how = Lettering::new(SIZE, Face::Bold, theme.ink);
        painter.svg.text((left, top + 11.0), title, how);
        start += 18.0;
    }
    let scale = painter.mark_scale();
    let widths = items.iter().map(|(mark, label)| mark_width(*mark, label, fonts));
    let places = flow(widths, room).0;
    for ((mark, label), (x, row)) in items.iter().zip(places) {
        let width = mark_width(*mark, label, fonts) - GAP;
        let y = start + 42.0 * row as f64;
        let centre = left + x + width / 2.0;
        draw_mark(&mut painter.svg, theme, (centre, y + 11.0), *mark, scale);
        let how = Lettering::new(SIZE, Face::Plain, theme.ink).middle();
        painter.svg.text((centre, y + 35.0), label, how);
    }
}

fn depths(painter: &mut Painter<'_>, title: &str, (left, top): (f64, f64), room: f64) {
    let theme = painter.theme;
    let units = painter.style.units;
    let how = Lettering::new(SIZE, Face::Bold, theme.ink);
    painter.svg.text((left, top + 11.0), title, how);
    let bands = &painter.map.bands;
    let count = bands.len();
    if count == 0 {
        return;
    }
    let width = depth_step(count, room);
    let depth =
        if painter.style.depth == Depth::Lines { Depth::Lines } else { painter.style.depth };
    let figure = Lettering::new(SIZE, Face::Plain, theme.ink).middle();
    for (index, band) in bands.iter().enumerate() {
        let x = left + 2.0 + width * index as f64;
        let ink = Ink::fill(theme.water(depth, index, count)).edged(theme.ink, 0.5);
        painter.svg.rect(x, top + 17.0, width, 13.0, ink);
        let value = |metres| decimals(units.depth_value(metres), 0);
        painter.svg.text((x, top + 44.0), &value(band.from), figure);
        if index + 1 == count {
            painter.svg.text((x + width, top + 44.0), &value(band.to), figure);
        }
    }
}

fn signs(painter: &mut Painter<'_>, items: &[(Sign, String)], (left, top): (f64, f64), room: f64) {
    let (theme, fonts) = (painter.theme, painter.svg.fonts());
    let columns = sign_columns(items, fonts);
    let places: Vec<(f64, usize)> = if columns.iter().sum::<f64>() <= room {
        (0..items.len())
            .map(|index| (columns[..index / SIGN_ROWS].iter().sum(), index % SIGN_ROWS))
            .collect()
    } else {
        flow(items.iter().map(|(_, label)| sign_width(label, fonts)), room).0
    };
    for ((sign, label), (x, row)) in items.iter().zip(places) {
        let (x, y) = (left + x, top + 20.0 * row as f64 + 9.0);
        let (from, to) = ((x, y), (x + SIGN_WIDTH, y));
        let middle = (x + SIGN_WIDTH / 2.0, y);
        let svg = &mut painter.svg;
        let area = super::plane::Rect { x, y: y - 6.0, width: SIGN_WIDTH, height: 12.0 };
        match sign {
            Sign::PlantLimit => {
                let ink = Ink::line(theme.limit, 1.3);
                let ink = if theme.is_colour() { ink.faint(0.6) } else { ink.dashed("4 2.5") };
                svg.line(from, to, ink);
            }
            Sign::ZoneEdge => svg.line(from, to, Ink::line(theme.ink, 1.1)),
            Sign::SubAreaEdge => svg.line(from, to, Ink::line(theme.ink, 0.45)),
            Sign::Contour => svg.line(from, to, Ink::line(theme.contour, 0.5)),
            Sign::Conservation => {
                svg.hatch(&area.path(), area, 6.0, true, Ink::line(theme.ink, 0.45));
                let ink = Ink::line(theme.ink, 1.0).dashed("7 2.5 1.5 2.5");
                svg.path(&area.path(), ink);
            }
            Sign::Treated => {
                svg.hatch(&area.path(), area, 6.0, false, Ink::line(theme.accent, 0.5));
                svg.path(&area.path(), Ink::line(theme.accent, 1.6));
            }
            Sign::Landmark => draw_landmark(svg, theme, middle, LandmarkKind::Landmark),
            Sign::Launch => draw_landmark(svg, theme, middle, LandmarkKind::Launch),
            Sign::Hazard => draw_landmark(svg, theme, middle, LandmarkKind::Hazard),
            Sign::Site(mark) => draw_mark(svg, theme, middle, *mark, 1.0),
        }
        let how = Lettering::new(SIZE, Face::Plain, theme.ink);
        svg.text((x + SIGN_WIDTH + 6.0, y + 4.0), label, how);
    }
}
