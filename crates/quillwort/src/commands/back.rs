//! What comes back from the water: tracks and field sheets.

use super::{length, open};
use crate::cli::AddArgs;
use crate::output::{self, Answer};
use crate::ports;
use crate::table::Table;
use units::{Metres, UnitSystem, decimals};
use workflow::track::USUAL_REACH;
use workflow::views::TrackView;
use workflow::{Error, Result};

pub(crate) fn track(args: &AddArgs) -> Result<Answer> {
    let Some(survey) = &args.survey else {
        return Err(Error::input("a track is read against the plan of a survey")
            .hint("say which with `--survey NAME`; `quillwort surveys BOOK` lists them"));
    };
    let mut book = open(&args.book)?;
    let units = book.lake()?.units;
    let within = length(args.within.as_ref(), units)?.unwrap_or(USUAL_REACH);
    let clock = ports::local().utc_offset_minutes;
    let view =
        workflow::track::track_file(&mut book, survey, &args.file, within, args.preview, clock)?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::data(&text(&view, units));
    output::say(&format!(
        "{}: {} points, {} waypoints; the boat came to {} of {} sites",
        view.file,
        view.points,
        view.waypoints,
        view.sites.iter().filter(|site| !site.missed).count(),
        view.sites.len()
    ));
    if !view.missed.is_empty() {
        output::say(&format!("missed: {}", view.missed.join(" ")));
    }
    if view.stored > 0 {
        output::say(&format!("stored where the boat was for {} visits", view.stored));
    }
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

fn text(view: &TrackView, units: UnitSystem) -> String {
    let length = |metres: Option<f64>| {
        metres
            .map_or_else(String::new, |metres| decimals(units.depth_value(Metres::new(metres)), 0))
    };
    let unit = units.depth_unit();
    let mut table = Table::new(&[
        "site",
        "came",
        ">minutes",
        &format!(">off plan, {unit}"),
        &format!(">nearest, {unit}"),
        "",
    ]);
    for site in &view.sites {
        table.row(vec![
            site.code.clone(),
            site.arrive.as_deref().map_or_else(String::new, |time| {
                time.split('T').nth(1).unwrap_or(time).chars().take(5).collect()
            }),
            site.minutes.map_or_else(String::new, |minutes| decimals(minutes, 1)),
            length(site.off_m),
            length(site.nearest_m),
            if site.missed {
                "missed".to_owned()
            } else if site.marked {
                "waypoint".to_owned()
            } else {
                String::new()
            },
        ]);
    }
    table.text()
}

pub(crate) fn sheet(args: &AddArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let view = output::while_working("reading the sheet", || {
        workflow::sheet_scan::file_sheet(&mut book, &args.file, args.preview)
    })?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    let verb = match (view.known, args.preview) {
        (true, _) => "was filed before",
        (false, true) => "would be filed",
        (false, false) => "filed",
    };
    output::data(&format!(
        "{}: {verb}, sheet {} of {} of {}, rows {}",
        view.file,
        view.sheet,
        view.sheets,
        view.survey,
        view.sites.join(" ")
    ));
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}
