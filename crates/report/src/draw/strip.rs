//! The depth strip of one species: discs above the line where it was found, rings below where it was
//! looked for and not found.

use super::Drawing;
use super::charts::{SIZE, round_step, tick_label};
use super::data::Mark;
use super::marks::mark_radius;
use super::svg::{Ink, Lettering, Svg};
use super::theme::Theme;
use crate::fonts::{Face, Fonts};
use crate::settings::Palette;
use units::{Metres, UnitSystem};

/// What a depth strip shows.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthStrip {
    /// Depth and rating of the sites with the species.
    pub found: Vec<(Metres, Mark)>,
    /// Depths of the sites without.
    pub not_found: Vec<Metres>,
    /// The end of the axis.
    pub deepest: Metres,
}

/// Stacks of discs higher than this become bars.
const MOST_ABOVE: f64 = 80.0;
const MOST_BELOW: f64 = 58.0;
const RING: f64 = 2.2;

fn sites(n: usize) -> String {
    crate::words::count(n as u64, "site", "sites")
}

/// Draws a depth strip. Where discs would be too small to see, bars stand for them.
pub fn depth_strip(
    strip: &DepthStrip,
    width: f64,
    palette: Palette,
    units: UnitSystem,
    fonts: &Fonts,
) -> Drawing {
    let theme = Theme::of(palette);
    let whole = match units {
        UnitSystem::Us => 1.0,
        UnitSystem::Metric => 0.5,
    };
    let deepest = ((units.depth_value(strip.deepest) / whole - 1e-6).ceil() * whole).max(whole);
    let step = round_step(deepest);
    let label =
        format!("{} {}", tick_label((deepest / step).floor() * step, step), units.depth_unit());
    let (left, right) = (10.0, width - 14.0 - fonts.width(&label, SIZE, Face::Plain) / 4.0);
    let n_bins = ((right - left) / 11.0).floor().max(1.0) as usize;
    let bin_of = |depth: Metres| {
        let share = (units.depth_value(depth) / deepest).clamp(0.0, 1.0);
        ((share * n_bins as f64) as usize).min(n_bins - 1)
    };
    let mut above: Vec<Vec<Mark>> = vec![Vec::new(); n_bins];
    let mut below = vec![0_usize; n_bins];
    for (depth, mark) in &strip.found {
        above[bin_of(*depth)].push(*mark);
    }
    for depth in &strip.not_found {
        below[bin_of(*depth)] += 1;
    }
    for stack in &mut above {
        stack.sort_by(|a, b| mark_radius(*b, 1.0).total_cmp(&mark_radius(*a, 1.0)));
    }
    let natural = 0.85;
    let stack_height =
        |stack: &Vec<Mark>| stack.iter().map(|mark| 2.0 * mark_radius(*mark, natural)).sum::<f64>();
    let highest = above.iter().map(stack_height).fold(0.0, f64::max);
    let most_below = below.iter().copied().max().unwrap_or(0);
    let ring_gap = (MOST_BELOW / most_below.max(1) as f64).min(2.0 * RING + 1.0);
    let as_bars = highest > 1.6 * MOST_ABOVE || ring_gap < 2.6;
    let squeeze = (MOST_ABOVE / highest.max(1.0)).min(1.0);
    let up = if as_bars { MOST_ABOVE + 16.0 } else { highest.min(MOST_ABOVE) } + 6.0;
    let down = if as_bars { MOST_BELOW } else { ring_gap * most_below as f64 } + 8.0;
    let height = up + down + 24.0;
    let mut svg = Svg::new(fonts, width, height);
    let x = |bin: usize| left + (right - left) * (bin as f64 + 0.5) / n_bins as f64;
    if as_bars {
        // one scale for both sides, so that heights above and below compare
        let most_above = above.iter().map(Vec::len).max().unwrap_or(0);
        let a_site =
            (MOST_ABOVE / most_above.max(1) as f64).min(MOST_BELOW / most_below.max(1) as f64);
        let bar = (right - left) / n_bins as f64 - 1.5;
        let scale =
            format!("tallest bar: {} above, {} below", sites(most_above), sites(most_below));
        svg.text((left, 11.0), &scale, Lettering::new(SIZE, Face::Plain, theme.second));
        for bin in 0..n_bins {
            let (found, missed) = (a_site * above[bin].len() as f64, a_site * below[bin] as f64);
            svg.rect(x(bin) - bar / 2.0, up - found, bar, found, Ink::fill(theme.plant));
            if missed > 0.0 {
                let ink = Ink::fill(theme.paper).edged(theme.second, 0.8);
                svg.rect(x(bin) - bar / 2.0, up, bar, missed, ink);
            }
        }
    } else {
        for (bin, stack) in above.iter().enumerate() {
            let mut y = up - 1.0;
            for mark in stack {
                let radius = mark_radius(*mark, natural) * squeeze;
                y -= radius;
                svg.circle((x(bin), y), radius, Ink::fill(theme.plant).edged(theme.paper, 0.4));
                y -= radius;
            }
        }
        let ring = RING.min(ring_gap / 2.0 - 0.2);
        for (bin, count) in below.iter().enumerate() {
            for index in 0..*count {
                let y = up + 4.0 + ring_gap * (index as f64 + 0.5) - RING / 2.0;
                let ink = Ink::fill(theme.paper).edged(theme.second, 0.8);
                svg.circle((x(bin), y), ring, ink);
            }
        }
    }
    svg.line((left - 6.0, up), (right + 6.0, up), Ink::line(theme.ink, 1.0));
    let base = up + down;
    let figure = Lettering::new(SIZE, Face::Plain, theme.second).middle();
    let mut depth = 0.0;
    while depth <= deepest + 1e-9 {
        let at = left + (right - left) * depth / deepest;
        svg.line((at, base), (at, base + 4.0), Ink::line(theme.ink, 1.0));
        let last = depth + step > deepest + 1e-9;
        let text = tick_label(depth, step);
        let text = if last { format!("{text} {}", units.depth_unit()) } else { text };
        svg.text((at, base + 17.0), &text, figure);
        depth += step;
    }
    svg.finish(format!(
        "Depths of {} sites with it and {} without, down to {}",
        strip.found.len(),
        strip.not_found.len(),
        crate::words::depth(strip.deepest, units)
    ))
}
