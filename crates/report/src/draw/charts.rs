//! Charts: dot and interval, how much lake lies below each depth, sites by depth.

use super::Drawing;
use super::svg::{Anchor, Ink, Lettering, Svg};
use super::theme::{Depth, Theme};
use crate::fonts::{Face, Fonts};
use crate::settings::Palette;
use units::{Metres, SquareMetres, UnitSystem, decimals, with_thousands};

pub(super) const SIZE: f64 = 12.0;

/// The mark of an estimate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DotKind {
    /// Filled disc: native.
    Disc,
    /// Open diamond: introduced.
    Diamond,
    /// Open disc: not settled.
    Ring,
}

/// An estimate with its interval, as shares of one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The estimate.
    pub value: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// The end of the axis for some intervals: the next of 10, 20, 40, 60, 80 and 100 percent.
pub fn share_axis(highest: f64) -> f64 {
    [0.1, 0.2, 0.4, 0.6, 0.8].into_iter().find(|end| highest <= *end).unwrap_or(1.0)
}

fn share_step(axis: f64) -> f64 {
    if axis <= 0.1 {
        0.02
    } else if axis <= 0.2 {
        0.05
    } else if axis <= 0.4 {
        0.1
    } else {
        0.2
    }
}

/// One row of dot and interval, to stand in a table's row: grid lines run from top to bottom so that
/// rows under each other share them.
pub fn dot_row(
    interval: Option<Interval>,
    kind: DotKind,
    axis: f64,
    (width, height): (f64, f64),
    palette: Palette,
    fonts: &Fonts,
) -> Drawing {
    let theme = Theme::of(palette);
    let mut svg = Svg::new(fonts, width, height);
    let pad = 5.0;
    let x = |share: f64| pad + (width - 2.0 * pad) * (share / axis).clamp(0.0, 1.0);
    let step = share_step(axis);
    for tick in 0..=(axis / step).round() as i32 {
        let at = x(f64::from(tick) * step);
        svg.line((at, 0.0), (at, height), Ink::line(theme.hairline, 0.8));
    }
    let middle = height / 2.0;
    let description = interval.map_or_else(
        || "not found".to_owned(),
        |Interval { value, low, high }| {
            svg.line((x(low), middle), (x(high), middle), Ink::line(theme.ink, 1.6));
            let at = x(value);
            match kind {
                DotKind::Disc => svg.circle((at, middle), 4.2, Ink::fill(theme.ink)),
                DotKind::Ring => {
                    let ink = Ink::fill(theme.paper).edged(theme.ink, 1.4);
                    svg.circle((at, middle), 3.8, ink);
                }
                DotKind::Diamond => {
                    let r = 5.6;
                    let corners =
                        [(at, middle - r), (at + r, middle), (at, middle + r), (at - r, middle)];
                    svg.polygon(&corners, Ink::fill(theme.paper).edged(theme.ink, 1.4));
                }
            }
            let percent = units::percent_whole;
            format!("{} %, interval {} to {} %", percent(value), percent(low), percent(high))
        },
    );
    svg.finish(description)
}

/// The axis over rows of [`dot_row`].
pub fn dot_axis(axis: f64, width: f64, palette: Palette, fonts: &Fonts) -> Drawing {
    let theme = Theme::of(palette);
    let (height, pad) = (16.0, 5.0);
    let mut svg = Svg::new(fonts, width, height);
    let step = share_step(axis);
    let ticks = (axis / step).round() as i32;
    for tick in 0..=ticks {
        let x = pad + (width - 2.0 * pad) * f64::from(tick) / f64::from(ticks);
        let label = units::percent_whole(f64::from(tick) * step);
        let half = fonts.width(&label, SIZE, Face::Plain) / 2.0;
        let x = x.clamp(half, width - half);
        let how = Lettering::new(SIZE, Face::Plain, theme.second).middle();
        svg.text((x, 11.5), &label, how);
    }
    svg.finish(format!("axis from 0 to {} percent", units::percent_whole(axis)))
}

/// Round step so that an axis has three to six of them.
pub(super) fn round_step(most: f64) -> f64 {
    let raw = (most / 4.0).max(f64::MIN_POSITIVE);
    let power = 10f64.powf(raw.log10().floor());
    [1.0, 2.0, 2.5, 5.0, 10.0]
        .into_iter()
        .map(|step| step * power)
        .find(|step| *step >= raw * 0.999)
        .unwrap_or(10.0 * power)
}

pub(super) fn tick_label(value: f64, step: f64) -> String {
    with_thousands(value, usize::from(step < 1.0 || (step - step.round()).abs() > 1e-9))
}

/// What the hypsographic curve shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Hypsography<'a> {
    /// Area at or below each depth, from the surface down.
    pub curve: &'a [(Metres, SquareMetres)],
    /// Edges of the depth colours.
    pub steps: &'a [Metres],
    /// A depth to mark, as the limit of plants.
    pub mark: Option<Metres>,
}

/// How much lake lies below each depth: area across, depth down.
pub fn hypsographic_curve(
    chart: &Hypsography<'_>,
    (width, height): (f64, f64),
    palette: Palette,
    units: UnitSystem,
    fonts: &Fonts,
) -> Drawing {
    let theme = Theme::of(palette);
    let mut svg = Svg::new(fonts, width, height);
    let deepest = chart.curve.iter().map(|point| units.depth_value(point.0)).fold(0.0, f64::max);
    let largest = chart.curve.iter().map(|point| units.area_value(point.1)).fold(0.0, f64::max);
    let unit = units.area_unit();
    let description = format!(
        "Area of the lake at or below each depth, {} {unit} at the surface, {} {} at the deepest",
        with_thousands(largest, 0),
        decimals(deepest, 0),
        units.depth_unit()
    );
    if deepest <= 0.0 || largest <= 0.0 {
        return svg.finish(description);
    }
    let (left, top, bottom) = (34.0, 6.0, height - 22.0);
    let right = width - fonts.width(unit, SIZE, Face::Plain) - 14.0;
    let (depth_step, area_step) = (round_step(deepest), round_step(largest));
    let x = |area: f64| left + (right - left) * area / largest;
    let y = |depth: f64| top + (bottom - top) * depth / deepest;

    let mut points: Vec<(f64, f64)> = chart
        .curve
        .iter()
        .map(|(depth, area)| (x(units.area_value(*area)), y(units.depth_value(*depth))))
        .collect();
    points.sort_by(|a, b| a.1.total_cmp(&b.1));
    if theme.is_colour() {
        let mut area = points.clone();
        area.extend([(x(0.0), bottom), (x(0.0), top)]);
        area.push(area[0]);
        let d = super::plane::path(&[area], true);
        svg.open_clip(&d);
        let count = chart.steps.len().saturating_sub(1).max(1);
        svg.rect(
            left,
            top,
            right - left,
            bottom - top,
            Ink::fill(theme.water(Depth::Full, 0, count)),
        );
        for (index, from) in chart.steps.iter().take(count).enumerate().skip(1) {
            let start = y(units.depth_value(*from));
            let ink = Ink::fill(theme.water(Depth::Full, index, count));
            svg.rect(left, start, right - left, (bottom - start).max(0.0), ink);
        }
        svg.close_clip();
    }
    svg.path(&super::plane::path(&[points], false), Ink::line(theme.ink, 2.0));
    let axis = Ink::line(theme.ink, 1.0);
    svg.line((left, top), (left, bottom), axis);
    svg.line((left, bottom), (right, bottom), axis);
    let figure = Lettering::new(SIZE, Face::Plain, theme.second);
    let mut depth = 0.0;
    while depth <= deepest {
        svg.line((left - 4.0, y(depth)), (left, y(depth)), axis);
        let at = (left - 7.0, y(depth) + 4.0);
        svg.text(at, &tick_label(depth, depth_step), figure.end());
        depth += depth_step;
    }
    svg.text((left + 5.0, bottom - 5.0), &format!("{} down", units.depth_unit()), figure);
    let mut area = 0.0;
    while area <= largest {
        svg.line((x(area), bottom), (x(area), bottom + 4.0), axis);
        svg.text((x(area), bottom + 17.0), &tick_label(area, area_step), figure.middle());
        area += area_step;
    }
    svg.text((width - 2.0, bottom + 17.0), unit, figure.end());
    if let Some(mark) = chart.mark {
        mark_depth(&mut svg, chart, mark, (&x, &y), (left, bottom, right), theme, units);
    }
    svg.finish(description)
}

fn mark_depth(
    svg: &mut Svg<'_>,
    chart: &Hypsography<'_>,
    mark: Metres,
    (x, y): (&dyn Fn(f64) -> f64, &dyn Fn(f64) -> f64),
    (left, bottom, right): (f64, f64, f64),
    theme: Theme,
    units: UnitSystem,
) {
    let pair = chart.curve.windows(2).find(|pair| pair[0].0 <= mark && mark <= pair[1].0);
    let Some([(from, more), (to, less)]) = pair else { return };
    let share = if to > from { (mark - *from) / (*to - *from) } else { 0.0 };
    let below = SquareMetres::new(
        more.square_metres() + share * (less.square_metres() - more.square_metres()),
    );
    let (px, py) = (x(units.area_value(below)), y(units.depth_value(mark)));
    let ink = Ink::line(theme.limit, 1.2).dashed("3 2.5");
    svg.line((left, py), (px, py), ink);
    svg.line((px, py), (px, bottom), ink);
    svg.circle((px, py), 4.0, Ink::fill(theme.paper).edged(theme.limit, 1.4));
    let first = format!("{} {} lie", decimals(units.area_value(below), 0), units.area_unit());
    let second = format!("deeper than {}", crate::words::depth(mark, units));
    let how = Lettering::new(SIZE, Face::SemiBold, theme.ink);
    let wide = [&first, &second]
        .iter()
        .map(|line| svg.fonts().width(line, SIZE, Face::SemiBold))
        .fold(0.0, f64::max);
    let at = if px + 10.0 + wide < right + 30.0 { px + 10.0 } else { px - 10.0 - wide };
    let start = (py + 20.0).min(bottom - 22.0);
    for (line, down) in [(first, 0.0), (second, 15.0)] {
        let how = Lettering { anchor: Anchor::Start, ..how }.halo(theme.paper);
        svg.text((at, start + down), &line, how);
    }
}

/// A class of depth with its sites.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DepthClass {
    /// Its shallow edge.
    pub from: Metres,
    /// Its deep edge.
    pub to: Metres,
    /// Sites with plants.
    pub with_plants: u64,
    /// Sites without.
    pub without: u64,
}

/// Sites by depth: with plants filled, without open on top.
pub fn depth_histogram(
    classes: &[DepthClass],
    (width, height): (f64, f64),
    palette: Palette,
    units: UnitSystem,
    fonts: &Fonts,
) -> Drawing {
    let theme = Theme::of(palette);
    let mut svg = Svg::new(fonts, width, height);
    let description = format!(
        "Sites by depth: {}",
        classes
            .iter()
            .map(|class| format!(
                "{} to {} {}: {} with plants, {} without",
                decimals(units.depth_value(class.from), 0),
                decimals(units.depth_value(class.to), 0),
                units.depth_unit(),
                class.with_plants,
                class.without
            ))
            .collect::<Vec<_>>()
            .join("; ")
    );
    let most = classes.iter().map(|class| class.with_plants + class.without).max().unwrap_or(0);
    if most == 0 {
        return svg.finish(description);
    }
    let step = round_step(most as f64).max(1.0);
    let end = (most as f64 / step).ceil() * step;
    let (left, top, bottom, right) = (34.0, 22.0, height - 22.0, width - 22.0);
    let y = |count: f64| bottom - (bottom - top) * count / end;
    let figure = Lettering::new(SIZE, Face::Plain, theme.second);
    let mut count = 0.0;
    while count <= end {
        svg.line((left, y(count)), (right, y(count)), Ink::line(theme.hairline, 0.8));
        svg.text((left - 7.0, y(count) + 4.0), &tick_label(count, step), figure.end());
        count += step;
    }
    svg.text((left - 7.0, 9.0), "sites", figure);
    let wide = (right - left) / classes.len() as f64;
    for (index, class) in classes.iter().enumerate() {
        let x = left + wide * index as f64;
        let (with, without) = (class.with_plants as f64, class.without as f64);
        let bar = wide - 3.0;
        let edge = y(with);
        svg.rect(x + 1.5, edge, bar, bottom - edge, Ink::fill(theme.plant));
        if without > 0.0 {
            let top = y(with + without);
            svg.rect(
                x + 1.5,
                top,
                bar,
                edge - top,
                Ink::fill(theme.paper).edged(theme.second, 0.9),
            );
        }
        let value = |metres| decimals(units.depth_value(metres), 0);
        let every = (26.0 / wide).ceil() as usize;
        if index % every.max(1) == 0 {
            svg.text((x, bottom + 15.0), &value(class.from), figure.middle());
        }
        if index + 1 == classes.len() {
            let text = format!("{} {}", value(class.to), units.depth_unit());
            svg.text((right, bottom + 15.0), &text, figure.middle());
        }
    }
    svg.line((left, bottom), (right, bottom), Ink::line(theme.ink, 1.0));
    svg.finish(description)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn axes_have_round_steps() {
        for (most, want) in
            [(34.0, 10.0), (163.4, 50.0), (9.0, 2.5), (1.0, 0.25), (12_000.0, 5_000.0)]
        {
            assert!((round_step(most) - want).abs() < 1e-9, "{most}: {}", round_step(most));
        }
        assert!((share_axis(0.68) - 0.8).abs() < 1e-12);
        assert!((share_axis(1.0) - 1.0).abs() < 1e-12);
    }
}
