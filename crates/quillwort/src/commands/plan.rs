//! `plan`, `route`.

use super::{area, metres, open, read};
use crate::cli::{DayArgs, PlanArgs, RouteArgs};
use crate::output::{self, Answer};
use crate::ports;
use crate::table::Table;
use std::path::Path;
use units::{Metres, SquareMetres, UnitSystem, decimals};
use workflow::plan::PlanAsk;
use workflow::route::RouteWords;
use workflow::views::RouteView;
use workflow::{Ground, LakeBook, Result};

fn ask(args: &PlanArgs, units: UnitSystem) -> Result<PlanAsk> {
    let earlier = (args.layout == "again")
        .then(|| args.file.as_ref().map(|file| file.to_string_lossy().into_owned()))
        .flatten();
    Ok(PlanAsk {
        survey: args.survey.clone(),
        layout: args.layout.clone(),
        sites: args.sites,
        spacing_m: metres(args.spacing.as_ref(), units)?,
        length_m: metres(args.length.as_ref(), units)?,
        side_m: metres(args.side.as_ref(), units)?,
        area_m2: area(args.area.as_ref(), units)?.map(SquareMetres::square_metres),
        merge: args.merge,
        at_landmarks: args.at_landmarks,
        rotation_deg: args.rotation,
        best_rotation: args.best_rotation,
        random_origin: args.random_origin,
        seed: Some(args.seed),
        spares: args.spares,
        strata: args.strata.clone(),
        depth_limits_m: args
            .depth_limits
            .iter()
            .filter_map(|text| metres(Some(text), units).transpose())
            .collect::<Result<_>>()?,
        equal_strata: args.equal_strata,
        tessellation: args.tessellation,
        every_year: args.every_year,
        years: Some(args.years),
        earlier,
        points: Vec::new(),
        file: args.file.clone(),
        crs: args.crs.clone(),
        min_depth_m: metres(args.min_depth.as_ref(), units)?,
        max_depth_m: metres(args.max_depth.as_ref(), units)?,
        zones: args.zones.clone(),
        keep_away_m: metres(args.keep_away.as_ref(), units)?,
        denser_in_treatments: args.denser_in_treatments,
        denser_near_launches: args.denser_near_launches,
        denser_within_m: metres(args.denser_within.as_ref(), units)?,
        scale: args.scale.clone(),
        throws: args.throws,
        purpose: args.purpose.clone(),
        again: args.again,
    })
}

pub(crate) fn plan(args: &PlanArgs) -> Result<Answer> {
    let view = if args.preview {
        let book = read(&args.book)?;
        let units = book.lake()?.units;
        let request = ask(args, units)?.request(units)?;
        output::while_working("laying sites", || {
            workflow::plan::preview(&book, &Ground::of(&book)?, &request)
        })?
    } else {
        let mut book = open(&args.book)?;
        let units = book.lake()?.units;
        let request = ask(args, units)?.request(units)?;
        output::while_working("laying sites", || workflow::plan::plan(&mut book, &request))?
    };
    let units = read(&args.book)?.lake()?.units;
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
    let kept = if view.stored { "laid" } else { "would lay" };
    output::say(&format!("{kept} {} sites of {} ({})", view.sites.len(), view.survey, view.layout));
    output::say(&view.sentence);
    output::warnings(&view.warnings);
    Ok(Answer::Done)
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
    if args.forget {
        workflow::route::forget(&mut open(&args.book)?, &args.survey)?;
        output::say(&format!("forgot the route of {}", args.survey));
        return Ok(Answer::Done);
    }
    let book = read(&args.book)?;
    let units = book.lake()?.units;
    let local = ports::local();
    let view = if args.kept {
        workflow::route::kept_view(&book, &args.survey, local.utc_offset_minutes)?
    } else {
        plan_route(&book, &day_words(&args.survey, &args.day))?
    };
    drop(book);
    if args.keep {
        keep_route(&args.book, &view, &day_words(&args.survey, &args.day))?;
    }
    if args.json {
        output::json(&view)?;
    } else {
        output::data(&route_text(&view, units));
        output::warnings(&view.warnings);
    }
    Ok(if view.fits { Answer::Done } else { Answer::No })
}

/// Plans a route from words.
pub(super) fn plan_route(book: &LakeBook, words: &RouteWords) -> Result<RouteView> {
    let request = words.read(book.lake()?.units, &ports::local())?;
    let world = ports::world();
    output::while_working("finding the way", || workflow::route::route(book, &*world, &request))
}

/// Keeps a route; its papers follow it from now on.
pub(super) fn keep_route(path: &Path, view: &RouteView, words: &RouteWords) -> Result<()> {
    workflow::route::keep(&mut open(path)?, view, &words.filled(ports::today()))?;
    output::say(&format!("kept the route of {}: {}", view.survey, view.sentence));
    Ok(())
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
