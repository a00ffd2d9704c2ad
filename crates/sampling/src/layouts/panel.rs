use super::{Balanced, BalancedMethod, Layout, LayoutError, balanced, put};
use crate::design;
use crate::frame::Frame;
use crate::random::Draw;

/// A survey whose sites rotate: some every year, some in turn.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Sites visited every year.
    pub every_year: usize,
    /// Sites visited in turn, each year.
    pub in_turn: usize,
    /// Years until a site in turn comes again.
    pub years: u16,
    /// How the whole set is drawn; its number is replaced.
    pub plan: Balanced,
}

/// Sites in panels: panel 0 is visited every year, panels 1 to `years` in turn. Every panel is
/// spread over the water for itself.
///
/// What is seen every year tells change best, what changes from year to year tells the state best;
/// a rotating panel has some of both. Inclusion probabilities stored are those of one year's
/// sites: `π·(every_year + in_turn) / (all sites)`.
///
/// # Errors
/// As [`balanced`]; fewer than two years; no site in turn.
/// # References
/// McDonald 2003, Environmental Monitoring and Assessment 85: 277–292 (panel designs; from memory).
pub fn panel(frame: &Frame<'_>, panel: &Panel) -> Result<Layout, LayoutError> {
    if panel.years < 2 || panel.in_turn == 0 {
        return Err(LayoutError::Parameter {
            word: "rotation of the panel",
            found: format!("{} sites in turn over {} years", panel.in_turn, panel.years),
            expected: "at least 1 site in turn over at least 2 years".to_owned(),
            hint: "without sites in turn a balanced layout, repeated, is the same",
        });
    }
    let all = panel.every_year + panel.in_turn * usize::from(panel.years);
    let plan = Balanced { number: all, ..panel.plan.clone() };
    let mut layout = balanced(frame, &plan)?;
    let mut draw = Draw::stream(plan.seed, 1);
    let mut left: Vec<usize> = (0..all.min(layout.sites.len())).collect();
    for number in (0..=panel.years).rev() {
        let wanted = if number == 0 { panel.every_year } else { panel.in_turn };
        let places: Vec<(f64, f64)> =
            left.iter().map(|&k| (layout.sites[k].x, layout.sites[k].y)).collect();
        let chosen = if plan.method == BalancedMethod::SimpleRandom {
            design::simple_random(places.len(), wanted, draw.bits())
        } else {
            let chances = vec![wanted as f64 / left.len().max(1) as f64; left.len()];
            design::local_pivotal_with(&places, &chances, &mut draw)
        };
        for &k in &chosen {
            layout.sites[left[k]].panel = Some(number);
        }
        left.retain(|&k| layout.sites[k].panel.is_none());
    }
    let share = (panel.every_year + panel.in_turn) as f64 / all as f64;
    for site in &mut layout.sites {
        site.inclusion_probability = site.inclusion_probability.map(|chance| chance * share);
    }
    "panel".clone_into(&mut layout.name);
    let mut more = Vec::new();
    put(&mut more, "every_year", panel.every_year);
    put(&mut more, "in_turn", panel.in_turn);
    put(&mut more, "years", panel.years);
    layout.parameters.splice(0..0, more);
    Ok(layout)
}

/// The panels visited in a year, counted from 0 for the first: panel 0 and one other.
pub fn panels_of_year(year: u32, years: u16) -> [u16; 2] {
    [0, (year % u32::from(years.max(1))) as u16 + 1]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::balance::layout_balance;
    use geo_types::{MultiPolygon, Rect, coord};

    fn frame() -> Frame<'static> {
        let water: MultiPolygon<f64> =
            Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 900.0, y: 600.0 }).to_polygon().into();
        Frame::new(water).unwrap()
    }

    #[test]
    fn each_year_sees_the_fixed_sites_and_one_panel_in_turn() {
        let plan = Balanced { n_cells: 5_000, ..Balanced::new(0, 11) };
        let layout =
            panel(&frame(), &Panel { every_year: 20, in_turn: 30, years: 4, plan }).unwrap();
        assert_eq!(layout.sites.len(), 20 + 4 * 30);
        for number in 0..=4_u16 {
            let places: Vec<(f64, f64)> = layout
                .sites
                .iter()
                .filter(|site| site.panel == Some(number))
                .map(|site| (site.x, site.y))
                .collect();
            assert_eq!(places.len(), if number == 0 { 20 } else { 30 });
            // each panel is spread out for itself; simple random samples lie near 0.3
            let spread = layout_balance(&frame(), &places, 5_000).unwrap();
            assert!(spread < 0.25, "panel {number}: {spread}");
        }
        assert_eq!(panels_of_year(0, 4), [0, 1]);
        assert_eq!(panels_of_year(3, 4), [0, 4]);
        assert_eq!(panels_of_year(4, 4), [0, 1]);
    }

    #[test]
    fn a_panel_that_does_not_rotate_is_refused() {
        let plan = Balanced::new(0, 11);
        let still = Panel { every_year: 20, in_turn: 0, years: 4, plan };
        assert!(panel(&frame(), &still).unwrap_err().to_string().contains("hint: "));
    }
}
