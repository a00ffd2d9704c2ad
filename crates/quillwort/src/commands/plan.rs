//! `plan`, `route`.

use super::{area, metres, open, read};
use crate::cli::{DayArgs, PlanArgs, RouteArgs};
use crate::output::{self, Answer};
use crate::ports;
use crate::table::Table;
use std::path::Path;
use units::{Metres, SquareMetres, UnitSystem, decimals};
use workflow::plan::{PlanAsk, SiteAsk};
use workflow::route::RouteWords;
use workflow::views::{PlanView, RouteView};
use workflow::{Error, Ground, LakeBook, Result};

fn ask(args: &PlanArgs, units: UnitSystem) -> Result<PlanAsk> {
    let layout = args.layout.clone().unwrap_or_default();
    let earlier = (layout == "again")
        .then(|| args.file.as_ref().map(|file| file.to_string_lossy().into_owned()))
        .flatten();
    Ok(PlanAsk {
        survey: args.survey.clone(),
        layout,
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
        scale_reason: args.scale_reason.clone().unwrap_or_default(),
        throws: args.throws,
        purpose: args.purpose.clone(),
        again: args.again,
    })
}

/// What is to be done to a single site, and to which.
fn site_change(args: &PlanArgs) -> Result<Option<(String, SiteAsk)>> {
    let asked = [
        ("move", &args.move_site),
        ("drop", &args.drop_site),
        ("restore", &args.restore_site),
        ("add", &args.add_site),
    ];
    let found = asked.iter().find_map(|(action, code)| Some((*action, code.as_ref()?)));
    let Some((action, code)) = found else { return Ok(None) };
    let place = args.to.as_deref().map(lat_lon).transpose()?;
    let ask = SiteAsk {
        action: action.to_owned(),
        lat: place.map(|place| place.0),
        lon: place.map(|place| place.1),
        use_spare: args.use_spare,
        reason: args.why.clone().unwrap_or_default(),
        by: args.by.clone().unwrap_or_default(),
        ..SiteAsk::default()
    };
    Ok(Some((code.clone(), ask)))
}

/// `44.6023,-94.5019`, latitude first as on a receiver.
pub(super) fn lat_lon(text: &str) -> Result<(f64, f64)> {
    let wrong = || {
        Error::input(format!("`{text}` is no place")).hint(
            "write latitude and longitude in degrees, west negative, such as `44.6023,-94.5019`",
        )
    };
    let (lat, lon) = text.split_once(',').ok_or_else(wrong)?;
    let number = |text: &str| text.trim().parse::<f64>().ok().ok_or_else(wrong);
    let (lat, lon) = (number(lat)?, number(lon)?);
    if lat.abs() > 90.0 && lon.abs() <= 90.0 {
        return Err(Error::input(format!("latitude `{lat}` is beyond the pole"))
            .hint(format!("latitude goes first: `{lon},{lat}`")));
    }
    Ok((lat, lon))
}

pub(crate) fn plan(args: &PlanArgs) -> Result<Answer> {
    let done;
    let view = if let Some((code, ask)) = site_change(args)? {
        let mut book = open(&args.book)?;
        let ground = Ground::of(&book)?;
        let change = ask.change(&ground)?;
        let view = workflow::plan::change_site(
            &mut book,
            &ground,
            &args.survey,
            &code,
            change,
            &ask.reason,
            &ask.by,
        )?;
        done = view.changes.last().map(|change| change.note.clone()).unwrap_or_default();
        view
    } else if args.show {
        let book = read(&args.book)?;
        let view = workflow::plan::planned(&book, &Ground::of(&book)?, &args.survey)?;
        done =
            view.changes.iter().map(|change| change.note.as_str()).collect::<Vec<_>>().join("\n");
        view
    } else if args.preview {
        let book = read(&args.book)?;
        let units = book.lake()?.units;
        let request = ask(args, units)?.request(units)?;
        let view = output::while_working("laying sites", || {
            workflow::plan::preview(&book, &Ground::of(&book)?, &request)
        })?;
        done = format!("would lay {} sites ({})", view.sites.len(), view.layout);
        view
    } else {
        let mut book = open(&args.book)?;
        let units = book.lake()?.units;
        let request = ask(args, units)?.request(units)?;
        let view =
            output::while_working("laying sites", || workflow::plan::plan(&mut book, &request))?;
        done = format!("laid {} sites of {} ({})", view.sites.len(), view.survey, view.layout);
        view
    };
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::data(&sites_text(&view, read(&args.book)?.lake()?.units));
    if !done.is_empty() {
        output::say(&done);
    }
    output::say(&view.sentence);
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

fn sites_text(view: &PlanView, units: UnitSystem) -> String {
    let mut table = Table::new(&["site", "zone", ">depth", ">latitude", ">longitude", ""]);
    for site in &view.sites {
        let state = match &site.dropped {
            Some(why) => format!("dropped: {why}"),
            None if site.spare => "spare".to_owned(),
            None => String::new(),
        };
        table.row(vec![
            site.code.clone(),
            site.zone.clone().unwrap_or_default(),
            site.depth_m.map_or_else(String::new, |depth| units.depth(Metres::new(depth))),
            site.lat.map_or_else(String::new, |value| format!("{value:.5}")),
            site.lon.map_or_else(String::new, |value| format!("{value:.5}")),
            state,
        ]);
    }
    table.text()
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
        try_at: None,
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
    if let Some(file) = &args.matrix {
        let request = day_words(&args.survey, &args.day).read(units, &local)?;
        std::fs::write(file, workflow::route::distances(&book, &request)?).map_err(|error| {
            Error::input(format!("`{}` cannot be written: {error}", file.display()))
                .hint("choose another file")
        })?;
        output::say(&format!("wrote the distances by water to {}", file.display()));
    }
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
