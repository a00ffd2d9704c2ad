//! `record`, `check`, `seal`, `verify`.

use super::{open, read, unit};
use crate::cli::{AmendArgs, BookArgs, RecordArgs, SealArgs, SurveyArgs};
use crate::output::{self, Answer};
use crate::table::Table;
use survey::{CrewMember, CrewRole};
use workflow::record::RecordRequest;
use workflow::views::{PlantAlertView, ScaleBreakView};
use workflow::{Error, Result};

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
            text.parse().ok().ok_or_else(|| {
                Error::input(format!("date `{text}` is not year-month-day"))
                    .hint("write `2026-07-14`")
            })
        })
        .transpose()?;
    let request = RecordRequest {
        survey: args.survey.clone(),
        columns: args.columns.clone(),
        sheet: args.sheet.clone(),
        guess_columns: args.guess_columns,
        save_columns: args.save_columns.clone(),
        amend: None,
        preview: args.preview,
        scale: args.scale.clone(),
        scale_reason: args.scale_reason.clone().unwrap_or_default(),
        new_scale: args.new_scale,
        new_taxa: args.new_taxa,
        unit: unit(args.unit.as_ref())?,
        date,
        crs: args.crs.clone(),
        crew: args.crew.iter().map(|text| crew_member(text)).collect::<Result<_>>()?,
    };
    let view = output::while_working("reading", || {
        if args.preview {
            workflow::record::look(&mut book, &args.file, &request)
        } else {
            workflow::record::record(&mut book, &args.file, &request)
        }
    })?;
    let answer = if view.faults > 0 { Answer::No } else { Answer::Done };
    if args.json {
        output::json(&view)?;
        return Ok(answer);
    }
    let verb = if view.preview { "would record" } else { "recorded" };
    output::say(&format!(
        "{verb} {} visits with {} observations from {} rows, scale {}",
        view.visits, view.observations, view.rows_read, view.scale
    ));
    if view.preview {
        let mut table = Table::new(&["column", "taken for"]);
        for column in view.sheets.iter().flat_map(|sheet| &sheet.columns) {
            table.row(vec![column.header.clone(), column.meaning.clone()]);
        }
        output::data(&table.text());
    }
    if !view.unplanned.is_empty() {
        output::say(&format!(
            "sites that no plan has, written all the same: {}; look for a misread code",
            view.unplanned.join(", ")
        ));
    } else if view.new_sites > 0 {
        output::say(&format!("{} sites came from the file", view.new_sites));
    }
    for taxon in &view.new_taxa {
        output::say(&format!(
            "new on the list: {} {} {} ({})",
            taxon.code, taxon.scientific_name, taxon.common_name, taxon.origin
        ));
    }
    for one in view.skipped.iter().take(10) {
        output::say(&format!("left out: row {}: {}", one.row, one.reason));
    }
    let silent = view.scale_break.as_ref().and_then(ScaleBreakView::told);
    output::warnings(&silent.into_iter().chain(view.warnings).collect::<Vec<_>>());
    alerts(&view.alerts);
    Ok(answer)
}

/// Plants that ask for an act at once; what to do is the same for all of them.
pub(super) fn alerts(all: &[PlantAlertView]) {
    for one in all {
        output::say(&format!("new to this lake: {} {}", one.taxon, one.message));
    }
    for step in all.first().into_iter().flat_map(|one| &one.steps) {
        output::say(&format!("  {step}"));
    }
}

pub(crate) fn amend(args: &AmendArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let request = RecordRequest {
        survey: args.survey.clone(),
        columns: args.columns.clone(),
        unit: unit(args.unit.as_ref())?,
        new_taxa: args.new_taxa,
        amend: Some((args.by.clone(), args.why.clone())),
        ..RecordRequest::default()
    };
    let view = output::while_working("reading", || {
        workflow::record::record(&mut book, &args.file, &request)
    })?;
    output::say(&format!(
        "amended {} visits of {}, signed by {}: {}",
        view.visits, view.survey, args.by, args.why
    ));
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

pub(crate) fn check(args: &SurveyArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let finds =
        output::while_working("checking", || workflow::checking::check(&book, &args.survey))?;
    let open = || finds.iter().filter(|find| !find.settled);
    let faults = open().filter(|find| find.severity == "fault").count();
    let doubts = open().count() - faults;
    if args.json {
        output::json(&finds)?;
    } else {
        let mut table = Table::new(&["", "where", "what", "what to do"]);
        for find in open() {
            table.row(vec![
                find.severity.clone(),
                find.place.clone(),
                find.message.clone(),
                find.remedy.clone(),
            ]);
        }
        if faults + doubts > 0 {
            output::data(&table.text());
        }
        let settled = finds.len() - faults - doubts;
        let settled = if settled > 0 { format!(", {settled} confirmed") } else { String::new() };
        output::say(&format!("{faults} faults, {doubts} doubts{settled}"));
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
