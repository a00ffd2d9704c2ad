//! The parts of `findings` that follow its two tables.

use super::findings::number;
use crate::table::Table;
use units::{Metres, SquareMetres, UnitSystem, percent, percent_whole};
use workflow::views::{AcresView, FindingsView, GroupView};

/// Tables and sentences, each with its title; parts without anything in them are left out.
pub(super) fn parts(view: &FindingsView, units: UnitSystem) -> Vec<String> {
    [
        zones("By zone", &view.by_zone),
        zones("By depth", &view.by_depth),
        zones("By stratum of the layout", &view.by_stratum),
        weighted(view),
        acres(view, units),
        beds(view, units),
        detection(view),
        depths(view, units),
        limits(view),
        sentences(view),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn dash() -> String {
    "–".to_owned()
}

fn zones(title: &str, groups: &[GroupView]) -> Option<String> {
    if groups.len() < 2 {
        return None;
    }
    let mut table = Table::new(&[
        "part",
        ">planned",
        ">sampled",
        ">with plants %",
        ">interval",
        ">species a site",
        ">species",
        "commonest",
    ]);
    for one in groups {
        let any = &one.frequency_any;
        table.row(vec![
            if one.key.is_empty() { "none".to_owned() } else { one.key.clone() },
            one.planned.map_or_else(dash, |count| count.to_string()),
            one.sampled.to_string(),
            any.p.map_or_else(dash, percent),
            any.low.zip(any.high).map_or_else(dash, |(low, high)| {
                format!("{}–{}", percent_whole(low), percent_whole(high))
            }),
            number(one.species_per_site, 2),
            if one.sampled > 0 { one.richness.to_string() } else { dash() },
            one.taxa.iter().take(3).map(|one| one.code.as_str()).collect::<Vec<_>>().join(" "),
        ]);
    }
    Some(format!("{title}\n{}", table.text()))
}

fn weighted(view: &FindingsView) -> Option<String> {
    let design = view.design_weighted.as_ref()?;
    let mut table = Table::new(&["code", ">share %", ">interval", ">standard error %", ">sites"]);
    let any = std::iter::once(("any", &design.any));
    for (code, one) in any.chain(design.taxa.iter().map(|one| (one.code.as_str(), &one.estimate))) {
        table.row(vec![
            code.to_owned(),
            percent(one.value),
            format!("{}–{}", percent_whole(one.low), percent_whole(one.high)),
            percent(one.se),
            one.sites.to_string(),
        ]);
    }
    Some(format!(
        "With the weights of the layout (variance: {})\n{}",
        design.any.variance,
        table.text()
    ))
}

/// `12.3 acres (8.1–17.0)`.
fn area(one: &AcresView, units: UnitSystem) -> String {
    let value = |of: Option<f64>| {
        of.map_or_else(dash, |area| units::decimals(units.area_value(SquareMetres::new(area)), 1))
    };
    match one.area_m2 {
        None => "cannot tell".to_owned(),
        Some(_) => {
            format!("{} ({}–{})", value(one.area_m2), value(one.low_m2), value(one.high_m2))
        }
    }
}

fn acres(view: &FindingsView, units: UnitSystem) -> Option<String> {
    let whole: Vec<&AcresView> = view.acres.iter().filter(|one| one.zone.is_none()).collect();
    let method = &whole.first()?.method;
    let mut table =
        Table::new(&["code", &format!(">{} with it", units.area_unit()), ">found", "where most"]);
    for one in whole {
        let mut zones: Vec<&AcresView> = view
            .acres
            .iter()
            .filter(|zone| zone.code == one.code && zone.zone.is_some())
            .filter(|zone| zone.area_m2.is_some_and(|area| area > 0.0))
            .collect();
        zones.sort_by(|a, b| b.area_m2.unwrap_or(0.0).total_cmp(&a.area_m2.unwrap_or(0.0)));
        let most: Vec<String> = zones
            .iter()
            .take(3)
            .map(|zone| {
                let area = SquareMetres::new(zone.area_m2.unwrap_or(0.0));
                format!("{} {}", zone.zone.clone().unwrap_or_default(), units.area(area))
            })
            .collect();
        table.row(vec![
            one.code.clone(),
            area(one, units),
            format!("{} of {}", one.found, one.looked_at),
            most.join(", "),
        ]);
    }
    Some(format!("Extent, from {method}, 95 % interval; {}\n{}", view.acres_water, table.text()))
}

fn beds(view: &FindingsView, units: UnitSystem) -> Option<String> {
    if view.beds.is_empty() && view.shoreline.is_empty() {
        return None;
    }
    let mut text = String::from("Surface beds and the shore, in no other figure\n");
    for one in view.beds.iter().filter(|one| one.zone.is_none()) {
        let mut said = Vec::new();
        if one.drawings > 0 {
            let area = units.area(SquareMetres::new(one.area_m2));
            said.push(format!("{area} in {} drawn", one.drawings));
        }
        if one.not_drawn > 0 {
            said.push(format!("{} without an edge, in no area", one.not_drawn));
        }
        text.push_str(&format!("  {} beds: {}\n", one.code, said.join(", ")));
    }
    for one in view.shore.iter().filter(|one| one.zone.is_none()) {
        text.push_str(&format!("  {} on the shore: places {}", one.code, one.places));
        let length = |metres: f64| units.distance(Metres::new(metres));
        match (one.stretch_m, one.shore_m) {
            (Some(stretch), Some(shore)) if one.places - one.not_placed > 1 => {
                let (stretch, shore) = (length(stretch), length(shore));
                text.push_str(&format!(", within {stretch} of {shore} of shore"));
            }
            _ => {}
        }
        let zones: Vec<String> = view
            .shore
            .iter()
            .filter(|other| other.code == one.code)
            .filter_map(|other| Some(format!("{} {}", other.zone.as_ref()?, other.places)))
            .collect();
        if !zones.is_empty() {
            text.push_str(&format!("; by zone {}", zones.join(", ")));
        }
        text.push('\n');
    }
    Some(text)
}

fn detection(view: &FindingsView) -> Option<String> {
    let told: Vec<_> = view.detection.iter().filter(|one| one.detection.is_some()).collect();
    if told.is_empty() {
        let why = view.detection.first().map(|one| one.why_not.as_str())?;
        return Some(format!("Detection: cannot tell, {why}\n"));
    }
    let mut table = Table::new(&[
        "code",
        ">found at %",
        ">stands at %",
        ">interval",
        ">one throw finds it %",
        ">interval",
        ">missed at a site %",
    ]);
    let range = |low: Option<f64>, high: Option<f64>| {
        low.zip(high).map_or_else(dash, |(low, high)| {
            format!("{}–{}", percent_whole(low), percent_whole(high))
        })
    };
    for one in &told {
        table.row(vec![
            one.code.clone(),
            one.naive.map_or_else(dash, percent),
            one.occupancy.map_or_else(dash, percent),
            range(one.occupancy_low, one.occupancy_high),
            one.detection.map_or_else(dash, percent),
            range(one.detection_low, one.detection_high),
            one.missed_chance.map_or_else(dash, percent),
        ]);
    }
    Some(format!(
        "Occupancy and detection, from up to {} throws a site\n{}",
        told.iter().map(|one| one.throws).max().unwrap_or(0),
        table.text()
    ))
}

fn depths(view: &FindingsView, units: UnitSystem) -> Option<String> {
    let known: Vec<_> =
        view.taxa.iter().filter_map(|one| Some((one, one.depth_quartiles.as_ref()?))).collect();
    if known.is_empty() {
        return None;
    }
    let mut table = Table::new(&[
        "code",
        ">shallowest",
        ">quarter",
        ">half",
        ">three quarters",
        ">deepest",
        ">sites",
    ]);
    let depth = |metres: f64| units.depth(Metres::new(metres));
    for (taxon, one) in known {
        table.row(vec![
            taxon.code.clone(),
            depth(one.least_m),
            depth(one.lower_m),
            depth(one.median_m),
            depth(one.upper_m),
            depth(one.greatest_m),
            one.sites.to_string(),
        ]);
    }
    Some(format!("Depth where found, in quarters of the sites\n{}", table.text()))
}

fn limits(view: &FindingsView) -> Option<String> {
    if view.board_limits.is_empty() {
        return None;
    }
    let mut text = String::from("The lake board's written limits\n");
    for one in &view.board_limits {
        text.push_str(&format!(
            "  {}. {} {}: {}, adopted {}\n",
            one.number,
            one.taxon.as_deref().unwrap_or("any introduced plant"),
            one.words,
            one.text,
            one.adopted
        ));
    }
    Some(text)
}

fn sentences(view: &FindingsView) -> Option<String> {
    if view.summary.is_empty() {
        return None;
    }
    let mut text = String::from("In words\n");
    let mut question = "";
    for one in &view.summary {
        if one.question != question {
            question = &one.question;
            text.push_str(&format!("  {question}\n"));
        }
        text.push_str(&format!("    {}\n", one.sentence));
    }
    Some(text)
}
