//! `plan`, `effort`, `route`.

use super::{area, length, open, read};
use crate::cli::{DayArgs, EffortArgs, PlanArgs, RouteArgs};
use crate::output::{self, Answer};
use crate::ports;
use crate::table::Table;
use units::{Metres, UnitSystem, decimals, percent_whole};
use workflow::effort::{EffortRequest, Purpose};
use workflow::plan::{GridChoice, LayoutChoice, PartChoice, PlanRequest, StrataChoice};
use workflow::route::RouteWords;
use workflow::views::{EffortView, RouteView};
use workflow::{Error, Result};

/// Bands of depth for `--strata depth`: thirds of the usual littoral zone (common practice).
const BANDS: [Metres; 2] = [Metres::from_feet(5.0), Metres::from_feet(10.0)];

fn missing(layout: &str, what: &str, hint: &str) -> Error {
    Error::input(format!("the layout `{layout}` needs {what}")).hint(hint)
}

fn choice(args: &PlanArgs, units: UnitSystem) -> Result<LayoutChoice> {
    let layout = args.layout.as_str();
    let rotation = args.rotation.unwrap_or(0.0);
    let sites =
        || args.sites.ok_or_else(|| missing(layout, "its number of sites", "say `--sites 90`"));
    Ok(match layout {
        "point-grid" => {
            let size = match (length(args.spacing.as_ref(), units)?, args.sites) {
                (Some(spacing), None) => GridChoice::Spacing(spacing),
                (None, Some(sites)) => GridChoice::Sites(sites),
                (Some(_), Some(_)) => {
                    return Err(Error::input("a grid has either a spacing or a number of sites")
                        .hint("leave `--spacing` or `--sites` out"));
                }
                (None, None) => {
                    return Err(missing(
                        layout,
                        "its spacing or its number of sites",
                        "say `--spacing 70m` or `--sites 90`",
                    ));
                }
            };
            LayoutChoice::PointGrid { size, rotation }
        }
        "sub-areas" => match (area(args.area.as_ref(), units)?, args.sites) {
            (Some(area), _) => LayoutChoice::CutSubAreas { size: PartChoice::Area(area) },
            (None, Some(sites)) => LayoutChoice::CutSubAreas { size: PartChoice::Number(sites) },
            (None, None) => LayoutChoice::SubAreas,
        },
        "shore-sections" => LayoutChoice::ShoreSections {
            length: length(args.length.as_ref(), units)?.ok_or_else(|| {
                missing(layout, "the length of a section", "say `--length 200ft`")
            })?,
            offshore: area(args.area.as_ref(), units)?,
            at_landmarks: args.at_landmarks,
        },
        "squares" => LayoutChoice::Squares {
            side: length(args.side.as_ref(), units)?
                .ok_or_else(|| missing(layout, "the side of a square", "say `--side 250ft`"))?,
            rotation,
            merge: args.merge,
        },
        "balanced" => LayoutChoice::Balanced {
            sites: sites()?,
            spares: args.spares,
            strata: match args.strata.as_deref() {
                Some("zone") => StrataChoice::Zones,
                Some(_) => StrataChoice::Depths(BANDS.to_vec()),
                None => StrataChoice::None,
            },
            seed: args.seed,
        },
        "panel" => {
            let sites = sites()?;
            if args.every_year > sites {
                return Err(Error::input(format!(
                    "`{}` sites every year are more than the `{sites}` sites of a year",
                    args.every_year
                ))
                .hint("give `--every-year` at most as many as `--sites`"));
            }
            LayoutChoice::Panel {
                every_year: args.every_year,
                in_turn: sites - args.every_year,
                years: args.years,
                seed: args.seed,
            }
        }
        "again" => match &args.file {
            Some(survey) => LayoutChoice::Again(survey.to_string_lossy().into_owned()),
            None => {
                return Err(missing(
                    layout,
                    "the earlier survey",
                    "say `--layout again 2025-summer`",
                ));
            }
        },
        _ => match &args.file {
            Some(file) => LayoutChoice::Given(file.clone()),
            None => {
                return Err(missing(
                    layout,
                    "the file of the points",
                    "say `--layout given POINTS.csv`",
                ));
            }
        },
    })
}

pub(crate) fn plan(args: &PlanArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let units = book.lake()?.units;
    let purpose = args
        .purpose
        .as_ref()
        .map(|text| text.parse().map_err(|error| Error::input(format!("purpose {error}"))))
        .transpose()?;
    let request = PlanRequest {
        survey: args.survey.clone(),
        layout: choice(args, units)?,
        min_depth: length(args.min_depth.as_ref(), units)?,
        max_depth: length(args.max_depth.as_ref(), units)?,
        zones: args.zones.clone(),
        crs: args.crs.clone(),
        scale: args.scale.clone(),
        throws: args.throws,
        purpose,
        again: args.again,
    };
    let view = output::while_working("laying sites", || workflow::plan::plan(&mut book, &request))?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    let mut table = Table::new(&["site", "zone", ">depth", ">latitude", ">longitude", ""]);
    for site in &view.sites {
        table.row(vec![
            site.code.clone(),
            site.zone.clone().unwrap_or_default(),
            site.depth_m.map_or_else(String::new, |depth| units.depth(Metres::new(depth))),
            site.lat.map_or_else(String::new, |value| format!("{value:.5}")),
            site.lon.map_or_else(String::new, |value| format!("{value:.5}")),
            if site.spare { "spare".to_owned() } else { String::new() },
        ]);
    }
    output::data(&table.text());
    let mut text = format!("laid {} sites of {} ({})", view.sites.len(), view.survey, view.layout);
    if let Some(balance) = view.balance {
        text.push_str(&format!(", spatial balance {} (0 is perfect)", decimals(balance, 3)));
    }
    output::say(&text);
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

fn effort_request(args: &EffortArgs, purpose: Purpose, units: UnitSystem) -> Result<EffortRequest> {
    Ok(EffortRequest {
        occupancy: args.occupancy,
        detection: args.detection,
        throws: args.throws,
        confidence: args.confidence,
        margin: args.margin,
        from: args.from,
        to: args.to,
        power: args.power,
        patch_area: area(args.patch_area.as_ref(), units)?,
        sites: args.sites,
        survey: args.survey.clone(),
        min_depth: length(args.min_depth.as_ref(), units)?,
        max_depth: length(args.max_depth.as_ref(), units)?,
        zones: args.zones.clone(),
        runs: args.runs,
        seed: args.seed,
        ..EffortRequest::new(purpose)
    })
}

pub(crate) fn effort(args: &EffortArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let units = book.lake()?.units;
    let purposes = match &args.purpose {
        Some(text) => vec![workflow::effort::purpose(text)?],
        None => Purpose::ALL.to_vec(),
    };
    let mut answers = Vec::new();
    for purpose in purposes {
        let request = effort_request(args, purpose, units)?;
        answers.push(output::while_working("surveying a virtual lake", || {
            workflow::effort::effort(&book, &request)
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

fn effort_text(view: &EffortView) -> String {
    let mut text = format!("{}\n\n", view.sentence);
    text.push_str(&format!(
        "by formula        {} sites: {}\n                  {}\n",
        view.formula.sites, view.formula.formula, view.formula.source
    ));
    text.push_str(&format!(
        "by rule of thumb  {} sites: {}\n",
        view.rule_of_thumb.sites, view.rule_of_thumb.rule
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

/// The day as typed.
pub(super) fn day_words(survey: &str, args: &DayArgs) -> RouteWords {
    RouteWords {
        survey: survey.to_owned(),
        from: args.from.clone(),
        to: args.to.clone(),
        boats: args.boats,
        days: args.days,
        speed: args.speed.clone(),
        minutes_per_site: args.minutes_per_site,
        draft: args.draft.clone(),
        date: args.date.clone(),
        start: args.start.clone(),
        back_by: args.back_by.clone(),
        rest: args.rest.clone(),
        utc_offset: args.utc_offset,
        first: args.first.clone(),
        last: args.last.clone(),
        early: args.early.clone(),
        cleanest_first: args.cleanest_first.then_some(true),
        budget: args.budget,
        seed: args.seed,
    }
}

pub(crate) fn route(args: &RouteArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let units = book.lake()?.units;
    let request = day_words(&args.survey, &args.day).read(units, &ports::local())?;
    let world = ports::world();
    let view = output::while_working("finding the way", || {
        workflow::route::route(&book, &*world, &request)
    })?;
    if args.json {
        output::json(&view)?;
    } else {
        output::data(&route_text(&view, units));
        output::warnings(&view.warnings);
    }
    Ok(if view.fits { Answer::Done } else { Answer::No })
}

fn route_text(view: &RouteView, units: UnitSystem) -> String {
    let mut text = format!("{}\n\n", view.sentence);
    let mut table =
        Table::new(&["day", ">boat", ">sites", ">way", ">out, minutes", ">back", "order"]);
    for boat in &view.boats {
        table.row(vec![
            boat.date.clone(),
            boat.boat.to_string(),
            boat.order.len().to_string(),
            units.distance(Metres::new(boat.length_m)),
            decimals(boat.minutes, 0),
            boat.finish.clone(),
            boat.order.join(" "),
        ]);
    }
    text.push_str(&table.text());
    if let (Some(rise), Some(set)) = (&view.daylight.rise, &view.daylight.set) {
        text.push_str(&format!("\nlight from {rise} to {set}\n"));
    }
    if !view.over.is_empty() {
        text.push_str(&format!("left over: {}\n", view.over.join(" ")));
    }
    text.push_str("\nLife jackets on. Cold water, wind and lightning decide, not this plan. Clean, drain, dry.\n");
    text
}
