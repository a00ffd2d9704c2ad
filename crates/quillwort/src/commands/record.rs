//! `plan`, `record`, `check`, `seal`, `verify`.

use super::{length, open, read, unit};
use crate::cli::{BookArgs, PlanArgs, RecordArgs, SealArgs, SurveyArgs};
use crate::output::{self, Answer};
use crate::table::Table;
use survey::{CrewMember, CrewRole};
use units::Metres;
use workflow::plan::{GridChoice, LayoutChoice, PlanRequest};
use workflow::record::RecordRequest;
use workflow::{Error, Result};

pub(crate) fn plan(args: &PlanArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let units = book.lake()?.units;
    let layout = match args.layout.as_str() {
        "point-grid" => {
            let spacing = length(args.spacing.as_ref(), units)?;
            let size = match (spacing, args.sites) {
                (Some(spacing), None) => GridChoice::Spacing(spacing),
                (None, Some(sites)) => GridChoice::Sites(sites),
                (Some(_), Some(_)) => {
                    return Err(Error::input("a grid has either a spacing or a number of sites")
                        .hint("leave `--spacing` or `--sites` out"));
                }
                (None, None) => {
                    return Err(Error::input(
                        "a point grid needs its spacing or its number of sites",
                    )
                    .hint("say `--spacing 70m` or `--sites 90`"));
                }
            };
            LayoutChoice::PointGrid { size, rotation: args.rotation.unwrap_or(0.0) }
        }
        "sub-areas" => LayoutChoice::SubAreas,
        _ => match &args.file {
            Some(file) => LayoutChoice::Given(file.clone()),
            None => {
                return Err(Error::input("the layout `given` needs the file of the points")
                    .hint("say `--layout given POINTS.csv`"));
            }
        },
    };
    let purpose = args
        .purpose
        .as_ref()
        .map(|text| text.parse().map_err(|error| Error::input(format!("purpose {error}"))))
        .transpose()?;
    let request = PlanRequest {
        survey: args.survey.clone(),
        layout,
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
    let mut table = Table::new(&["site", "zone", ">depth", ">latitude", ">longitude"]);
    for site in &view.sites {
        table.row(vec![
            site.code.clone(),
            site.zone.clone().unwrap_or_default(),
            site.depth_m.map_or_else(String::new, |depth| units.depth(Metres::new(depth))),
            site.lat.map_or_else(String::new, |value| format!("{value:.5}")),
            site.lon.map_or_else(String::new, |value| format!("{value:.5}")),
        ]);
    }
    output::data(&table.text());
    output::say(&format!("laid {} sites of {} ({})", view.sites.len(), view.survey, view.layout));
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

/// `A. Marsh:rake*`: a name, a role, a star for who named the plants.
fn crew_member(text: &str) -> Result<CrewMember> {
    let (text, identified) = match text.trim().strip_suffix('*') {
        Some(text) => (text, true),
        None => (text.trim(), false),
    };
    let (name, role) = text.rsplit_once(':').unwrap_or((text, "other"));
    let role: CrewRole =
        role.parse().map_err(|error| Error::input(format!("crew `{text}`: role {error}")))?;
    if name.trim().is_empty() {
        return Err(
            Error::input(format!("crew `{text}` has no name")).hint("write `A. Marsh:rake`")
        );
    }
    Ok(CrewMember { name: name.trim().to_owned(), role, identified })
}

pub(crate) fn record(args: &RecordArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let date = args
        .date
        .as_ref()
        .map(|text| {
            text.parse().map_err(|_: jiff::Error| {
                Error::input(format!("date `{text}` is not year-month-day"))
                    .hint("write `2026-07-14`")
            })
        })
        .transpose()?;
    let request = RecordRequest {
        survey: args.survey.clone(),
        columns: args.columns.clone(),
        preview: args.preview,
        scale: args.scale.clone(),
        new_scale: args.new_scale,
        new_taxa: args.new_taxa,
        unit: unit(args.unit.as_ref())?,
        date,
        crs: args.crs.clone(),
        crew: args.crew.iter().map(|text| crew_member(text)).collect::<Result<_>>()?,
    };
    let view = output::while_working("reading", || {
        workflow::record::record(&mut book, &args.file, &request)
    })?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    let verb = if view.preview { "would record" } else { "recorded" };
    output::say(&format!(
        "{verb} {} visits with {} observations from {} rows, scale {}",
        view.visits, view.observations, view.rows_read, view.scale
    ));
    if view.preview {
        let mut table = Table::new(&["column", "taken for"]);
        for (header, meaning) in &view.columns {
            table.row(vec![header.clone(), meaning.clone()]);
        }
        output::data(&table.text());
    }
    if view.new_sites > 0 {
        output::say(&format!("{} sites came from the file", view.new_sites));
    }
    for taxon in &view.new_taxa {
        output::say(&format!(
            "new on the list: {} {} {} ({})",
            taxon.code, taxon.scientific_name, taxon.common_name, taxon.origin
        ));
    }
    for (row, reason) in view.skipped.iter().take(10) {
        output::say(&format!("left out: row {row}: {reason}"));
    }
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

pub(crate) fn check(args: &SurveyArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let finds =
        output::while_working("checking", || workflow::surveys::check(&book, &args.survey))?;
    let faults = finds.iter().filter(|find| find.severity == "fault").count();
    if args.json {
        output::json(&finds)?;
    } else {
        let mut table = Table::new(&["", "where", "what", "what to do"]);
        for find in &finds {
            table.row(vec![
                find.severity.clone(),
                find.place.clone(),
                find.message.clone(),
                find.remedy.clone(),
            ]);
        }
        if !finds.is_empty() {
            output::data(&table.text());
        }
        output::say(&format!("{faults} faults, {} doubts", finds.len() - faults));
    }
    Ok(if faults > 0 { Answer::No } else { Answer::Done })
}

pub(crate) fn seal(args: &SealArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let seal = workflow::surveys::seal(&mut book, &args.survey, &args.by, args.despite.as_deref())?;
    output::say(&format!("sealed {} by {}, SHA-256 {}", args.survey, seal.by, seal.sha256));
    Ok(Answer::Done)
}

pub(crate) fn verify(args: &BookArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let view = output::while_working("verifying", || workflow::surveys::verify(&book))?;
    if args.json {
        output::json(&view)?;
    } else if view.ok {
        output::data(&format!(
            "whole: {} sealed surveys as they were closed, change log unbroken",
            view.sealed
        ));
    } else {
        let mut table = Table::new(&["what", "where", "expected", "found"]);
        for one in &view.broken {
            table.row(vec![
                one.what.clone(),
                one.place.clone(),
                one.expected.clone(),
                one.found.clone(),
            ]);
        }
        output::data(&table.text());
        output::say(&format!("{} things are not as they were written", view.broken.len()));
    }
    Ok(if view.ok { Answer::Done } else { Answer::No })
}
