//! `trend`, `spread`.

use super::findings::number;
use super::read;
use crate::cli::{SpreadArgs, TrendArgs};
use crate::output::{self, Answer};
use crate::table::Table;
use units::{Metres, SquareMetres, UnitSystem, decimals, percent, percent_whole};
use workflow::Result;
use workflow::views::{SpreadSiteView, SpreadView, TrendView};

pub(crate) fn trend(args: &TrendArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let Some(taxon) = &args.taxon else {
        let view = workflow::findings::trends_view(&book)?;
        if args.json {
            output::json(&view)?;
        } else {
            output::data(&brief(&view.taxa));
            output::warnings(&view.notes);
        }
        return Ok(Answer::Done);
    };
    let view = workflow::findings::trend_view(&book, taxon)?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::data(&one(&view));
    Ok(Answer::Done)
}

/// Percent a year from a ratio of odds.
fn yearly(ratio: f64) -> String {
    let change = (ratio - 1.0) * 100.0;
    if change > 1_000.0 { "more than 1000".to_owned() } else { decimals(change, 0) }
}

fn brief(all: &[TrendView]) -> String {
    let mut table = Table::new(&[
        "code",
        "plant",
        ">first %",
        ">last %",
        ">surveys",
        ">odds % a year",
        ">interval",
        ">p",
        ">order p",
        "it says",
    ]);
    for view in all {
        let used: Vec<_> = view.surveys.iter().filter(|one| one.left_out.is_empty()).collect();
        let share = |at: Option<&&workflow::views::TrendPointView>| {
            at.and_then(|one| one.p).map_or_else(|| "–".to_owned(), percent)
        };
        let odds = view.odds_ratio.as_ref();
        table.row(vec![
            view.code.clone(),
            view.name.clone(),
            share(used.first()),
            share(used.last()),
            used.len().to_string(),
            odds.map_or_else(|| "–".to_owned(), |one| yearly(one.value)),
            odds.map_or_else(
                || "–".to_owned(),
                |one| format!("{} to {}", yearly(one.low), yearly(one.high)),
            ),
            number(view.per_year.as_ref().map(|one| one.p), 4),
            number(view.mann_kendall.as_ref().map(|one| one.p), 4),
            view.verdict.clone(),
        ]);
    }
    table.text()
}

fn one(view: &TrendView) -> String {
    let mut text = format!("{}\n\n{}\n\n", view.name, view.sentence);
    let mut table =
        Table::new(&["survey", "date", ">found", ">%", ">interval", ">fitted %", "remark"]);
    for point in &view.surveys {
        table.row(vec![
            point.survey.clone(),
            point.date.clone().unwrap_or_default(),
            format!("{} of {}", point.k, point.n),
            point.p.map_or_else(|| "–".to_owned(), percent),
            point.low.zip(point.high).map_or_else(
                || "–".to_owned(),
                |(low, high)| format!("{}–{}", percent_whole(low), percent_whole(high)),
            ),
            point.fitted.map_or_else(|| "–".to_owned(), percent),
            if point.left_out.is_empty() {
                String::new()
            } else {
                format!("left out: {}", point.left_out)
            },
        ]);
    }
    text.push_str(&table.text());
    for one in &view.breaks {
        text.push_str(&format!("{}\n", one.message));
    }
    text.push('\n');
    match (&view.per_year, &view.odds_ratio) {
        (Some(per_year), Some(odds)) => text.push_str(&format!(
            "{}: odds {} % a year, 95 % interval {} to {}, p {}; {} surveys, overdispersion {}\n",
            view.model,
            yearly(odds.value),
            yearly(odds.low),
            yearly(odds.high),
            number(Some(per_year.p), 4),
            view.surveys_used,
            number(view.overdispersion, 2)
        )),
        _ => text.push_str(&format!("{}: {}\n", view.model, view.why_not)),
    }
    match &view.mann_kendall {
        Some(order) => text.push_str(&format!(
            "order of the years (Mann–Kendall): S {}, p {}; Sen's slope {} points a year, 95 % \
             interval {} to {}\n",
            decimals(order.s, 0),
            number(Some(order.p), 4),
            decimals(100.0 * order.sens_slope, 1),
            decimals(100.0 * order.sens_slope_low, 1),
            decimals(100.0 * order.sens_slope_high, 1)
        )),
        None => text.push_str(&format!(
            "order of the years (Mann–Kendall): {}\n",
            view.mann_kendall_why_not
        )),
    }
    text
}

pub(crate) fn spread(args: &SpreadArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let view =
        workflow::findings::spread_view(&book, &args.taxon, &args.from, &args.to, args.seed)?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    let units = book.lake()?.units;
    output::data(&moved(&view, units));
    Ok(Answer::Done)
}

fn moved(view: &SpreadView, units: UnitSystem) -> String {
    let mut text = format!("{}: {} → {}\n\n", view.name, view.from.survey, view.to.survey);
    if !view.warnings.is_empty() {
        text.push_str("First, what differs between the two surveys\n");
        for one in &view.warnings {
            text.push_str(&format!("  {}\n", one.message));
        }
        text.push('\n');
    }
    text.push_str(&format!("{}\n\n", view.sentence));
    let mut table = Table::new(&["figure", ">value", "of what"]);
    if let Some(shift) = &view.shift_m {
        let length = |metres: f64| units.depth(Metres::new(metres));
        table.row(vec![
            "shift of the middle".into(),
            length(shift.value),
            format!(
                "to the {} by water; 95 % interval {} to {}, p {}",
                view.direction,
                length(shift.low),
                length(shift.high),
                number(Some(shift.p), 4)
            ),
        ]);
    }
    if let Some(along) = &view.along_shore {
        let length = |metres: f64| units.depth(Metres::new(metres));
        table.row(vec![
            "  along the shore".into(),
            length(along.shore_m),
            format!(
                "{} round the lake; the middles lie {} and {} off the shore",
                along.way,
                length(along.from_off_m),
                length(along.to_off_m)
            ),
        ]);
    }
    let area = |value: Option<f64>| {
        value.map_or_else(|| "–".to_owned(), |one| units.area(SquareMetres::new(one)))
    };
    let rows = [
        ("gained", &view.gained, view.gained_m2),
        ("lost", &view.lost, view.lost_m2),
        ("kept", &view.kept, None),
    ];
    for (word, sites, water) in rows {
        let codes: Vec<&str> = sites.iter().map(|one| one.code.as_str()).collect();
        table.row(vec![format!("sites {word}"), sites.len().to_string(), codes.join(" ")]);
        if water.is_some() {
            table.row(vec![format!("  water nearest to sites {word}"), area(water), String::new()]);
        }
    }
    for (word, zones) in [("gained", &view.zones_gained), ("lost", &view.zones_lost)] {
        if !zones.is_empty() {
            table.row(vec![format!("zones {word}"), zones.len().to_string(), zones.join(" ")]);
        }
    }
    text.push_str(&table.text());
    if let Some(nearest) = nearest_launch(&view.gained) {
        text.push_str(&format!(
            "\nThe site gained nearest to a launch is {}: {} from {}\n",
            nearest.code,
            nearest.launch_m.map_or_else(String::new, |way| units.depth(Metres::new(way))),
            nearest.nearest_launch.clone().unwrap_or_default()
        ));
    }
    if !view.first_found.is_empty() {
        text.push_str("\nFirst found\n");
        let mut table =
            Table::new(&["zone", "survey", "date", ">sites", ">surveys without it before"]);
        for one in &view.first_found {
            table.row(vec![
                one.zone.clone().unwrap_or_else(|| "no zone".to_owned()),
                one.survey.clone(),
                one.date.clone().unwrap_or_default(),
                one.sites.to_string(),
                one.blanks_before.to_string(),
            ]);
        }
        text.push_str(&table.text());
    }
    text.push_str(&format!(
        "\n{} resamples and permutations, seed {}; method: docs/methods.md#where-it-moved\n",
        view.resamples, view.seed
    ));
    text
}

fn nearest_launch(sites: &[SpreadSiteView]) -> Option<&SpreadSiteView> {
    sites
        .iter()
        .filter(|one| one.launch_m.is_some())
        .min_by(|a, b| a.launch_m.unwrap_or(f64::MAX).total_cmp(&b.launch_m.unwrap_or(f64::MAX)))
}
