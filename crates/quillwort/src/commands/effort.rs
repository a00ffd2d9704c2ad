//! `effort`.

use super::{area, metres, read};
use crate::cli::EffortArgs;
use crate::output::{self, Answer};
use crate::table::Table;
use units::{SquareMetres, UnitSystem, decimals, percent, percent_whole};
use workflow::effort::{DesignsAsk, EffortAsk, Purpose};
use workflow::views::{DesignsView, EffortView};
use workflow::{Ground, LakeBook, Result};

/// Virtual surveys when nothing is said.
const RUNS: usize = 2_000;

fn joined(words: &[String]) -> Option<String> {
    (!words.is_empty()).then(|| words.join(","))
}

fn ask(args: &EffortArgs, purpose: &str, units: UnitSystem) -> Result<EffortAsk> {
    Ok(EffortAsk {
        purpose: purpose.to_owned(),
        occupancy: args.occupancy,
        detection: args.detection,
        throws: args.throws,
        confidence: args.confidence,
        margin: args.margin,
        from: args.from,
        to: args.to,
        power: args.power,
        patch_area_m2: area(args.patch_area.as_ref(), units)?.map(SquareMetres::square_metres),
        sites: args.sites,
        numbers: joined(&args.numbers),
        species: args.species.clone(),
        best_depth_m: metres(args.best_depth.as_ref(), units)?,
        depth_spread_m: metres(args.depth_spread.as_ref(), units)?,
        survey: args.survey.clone(),
        min_depth_m: metres(args.min_depth.as_ref(), units)?,
        max_depth_m: metres(args.max_depth.as_ref(), units)?,
        zones: joined(&args.zones),
        runs: Some(args.runs.unwrap_or(RUNS)),
        seed: Some(args.seed),
    })
}

pub(crate) fn effort(args: &EffortArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    if !args.layouts.is_empty() {
        return designs(args, &book);
    }
    let units = book.lake()?.units;
    let purposes: Vec<&str> = match &args.purpose {
        Some(text) => vec![text],
        None => Purpose::ALL.iter().map(|purpose| purpose.key()).collect(),
    };
    let ground = Ground::of(&book)?;
    let mut answers = Vec::new();
    for purpose in purposes {
        let request = ask(args, purpose, units)?.request()?;
        answers.push(output::with_progress("surveying a virtual lake", |watch| {
            workflow::effort::effort_on(&book, &ground, &request, watch)
        })?);
    }
    match (answers.as_slice(), args.json) {
        ([one], true) => output::json(one)?,
        (several, true) => output::json(&several)?,
        ([one], false) => output::data(&effort_text(one)),
        (several, false) => {
            for one in several {
                output::data(&format!("{}: {}", one.purpose, one.sentence));
            }
        }
    }
    if let Some(first) = answers.first() {
        output::warnings(&first.warnings);
    }
    Ok(Answer::Done)
}

fn designs(args: &EffortArgs, book: &LakeBook) -> Result<Answer> {
    let units = book.lake()?.units;
    let request = DesignsAsk {
        sites: args.sites,
        layouts: joined(&args.layouts),
        detection: args.detection,
        throws: args.throws,
        patch_area_m2: area(args.patch_area.as_ref(), units)?.map(SquareMetres::square_metres),
        species: args.species.clone(),
        survey: args.survey.clone(),
        min_depth_m: metres(args.min_depth.as_ref(), units)?,
        max_depth_m: metres(args.max_depth.as_ref(), units)?,
        zones: joined(&args.zones),
        runs: Some(args.runs.unwrap_or(RUNS)),
        seed: Some(args.seed),
    }
    .request()?;
    let ground = Ground::of(book)?;
    let view = output::with_progress("surveying a virtual lake", |watch| {
        workflow::effort::designs(book, &ground, &request, watch)
    })?;
    if args.json {
        output::json(&view)?;
    } else {
        output::data(&designs_text(&view));
    }
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

fn designs_text(view: &DesignsView) -> String {
    let mut table = Table::new(&[
        "layout",
        ">sites",
        ">off by, points",
        ">95 % within",
        ">finds the bed",
        ">balance",
        ">hours",
    ]);
    for one in &view.designs {
        table.row(vec![
            one.layout.clone(),
            decimals(one.sites, 0),
            decimals(100.0 * one.error, 1),
            format!("± {}", decimals(100.0 * one.margin, 1)),
            format!("{} %", percent(one.chance)),
            decimals(one.balance, 2),
            decimals(one.hours, 1),
        ]);
    }
    format!(
        "{}\n\n{}\n{} virtual surveys of each, {}; seed {}\n",
        view.sentence,
        table.text(),
        view.runs,
        view.plant,
        view.seed
    )
}

fn effort_text(view: &EffortView) -> String {
    let mut text = format!("{}\n\n", view.sentence);
    text.push_str(&format!(
        "by formula        {} sites, {} hours: {}\n                  {}\n",
        view.formula.sites,
        decimals(view.formula.hours, 1),
        view.formula.formula,
        view.formula.source
    ));
    text.push_str(&format!(
        "by rule of thumb  {} sites, {} hours: {}\n",
        view.rule_of_thumb.sites,
        decimals(view.rule_of_thumb.hours, 1),
        view.rule_of_thumb.rule
    ));
    if let Some(simulation) = &view.simulation {
        text.push_str(&format!(
            "by simulation     {} virtual surveys for each number, {}; seed {}\n\n",
            simulation.runs, simulation.plants, simulation.seed
        ));
        let mut table = Table::new(&[">sites", ">reaches it", ">hours"]);
        for ((sites, chance), hours) in
            simulation.sites.iter().zip(&simulation.chance).zip(&simulation.hours)
        {
            table.row(vec![
                sites.to_string(),
                format!("{} %", percent_whole(*chance)),
                decimals(*hours, 1),
            ]);
        }
        text.push_str(&table.text());
    }
    text
}
