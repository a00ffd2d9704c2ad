//! `settle`, `merge`, `conflicts`, `resolve`, `observers`, `second-entry`, `history`, `scale`, `photos`.

use super::{open, read};
use crate::cli::keeping::{
    ConflictsArgs, HistoryArgs, KeepingVerb, MergeArgs, ObserversArgs, PhotosArgs, ResolveArgs,
    ScaleArgs, SecondEntryArgs, SettleArgs,
};
use crate::output::{self, Answer};
use crate::ports;
use crate::table::Table;
use workflow::Result;
use workflow::views::SaveResolution;

pub(super) fn run(verb: &KeepingVerb) -> Result<Answer> {
    match verb {
        KeepingVerb::Settle(args) => settle(args),
        KeepingVerb::Merge(args) => merge(args),
        KeepingVerb::Conflicts(args) => conflicts(args),
        KeepingVerb::Resolve(args) => resolve(args),
        KeepingVerb::Observers(args) => observers(args),
        KeepingVerb::SecondEntry(args) => second_entry(args),
        KeepingVerb::History(args) => history(args),
        KeepingVerb::Scale(args) => scale(args),
        KeepingVerb::Photos(args) => photos(args),
    }
}

fn settle(args: &SettleArgs) -> Result<Answer> {
    let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
    let find =
        workflow::checking::settle(&mut book, &args.survey, &args.find, &args.reason, &args.by)?;
    output::say(&match &find.reason {
        Some(reason) => format!("confirmed {}: {reason}", find.id),
        None => format!("opened {} again", find.id),
    });
    Ok(Answer::Done)
}

fn merge(args: &MergeArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let view = output::while_working("merging", || {
        workflow::keeping::merge(&mut book, &args.others, &ports::world())
    })?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::say(&format!("took in {} changes", view.taken));
    view.renamed.iter().for_each(|line| output::say(line));
    if view.conflicts > 0 {
        output::say(&format!(
            "{} edits contradict others and were kept beside: see them with `quillwort conflicts {}`",
            view.conflicts,
            args.book.display()
        ));
    }
    Ok(Answer::Done)
}

fn conflicts(args: &ConflictsArgs) -> Result<Answer> {
    if let (Some(id), Some(keep)) = (&args.settle, &args.keep) {
        let mut book = open(&args.book)?;
        workflow::keeping::settle_conflict(&mut book, id, keep)?;
        output::say(&format!("settled: the {keep} edit is kept"));
        return Ok(Answer::Done);
    }
    let book = read(&args.book)?;
    let list = workflow::keeping::conflicts(&book)?;
    if args.json {
        output::json(&list)?;
    } else if list.is_empty() {
        output::data("no edits contradict each other");
    } else {
        let mut table = Table::new(&["key", "record", "field", "stands", "kept beside", "by"]);
        for one in &list {
            for field in &one.fields {
                table.row(vec![
                    one.id.clone(),
                    one.what.clone(),
                    field.field.clone(),
                    field.current.clone(),
                    field.other.clone(),
                    one.other_by.clone(),
                ]);
            }
        }
        output::data(&table.text());
    }
    Ok(if list.is_empty() { Answer::Done } else { Answer::No })
}

fn resolve(args: &ResolveArgs) -> Result<Answer> {
    let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
    let save = SaveResolution {
        by: args.by.clone(),
        code: args.code.clone(),
        name: args.name.clone(),
        evidence: args.evidence.clone(),
        on: args.on.clone(),
        note: args.note.clone(),
    };
    let view = workflow::keeping::resolve(&mut book, &save)?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::say(&format!(
        "{} is {} ({}) in {} places",
        view.was, view.name, view.code, view.places
    ));
    if !view.amended.is_empty() {
        output::say(&format!("amended, signed by {}: {}", args.by, view.amended.join(", ")));
    }
    Ok(Answer::Done)
}

fn observers(args: &ObserversArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let view = workflow::observers::agreement(&book, &args.from, &args.to)?;
    if args.json {
        output::json(&view)?;
    } else {
        output::data(&view.sentence);
        output::say(&view.weighting);
    }
    Ok(Answer::Done)
}

fn second_entry(args: &SecondEntryArgs) -> Result<Answer> {
    if let (Some(site), Some(keep)) = (&args.site, &args.keep) {
        let mut book = open(&args.book)?;
        workflow::entry::choose_entry(&mut book, &args.survey, site, keep, &args.boxes)?;
        if args.boxes.is_empty() {
            output::say(&format!("site {site}: the {keep} entry is right"));
        } else {
            let boxes = args.boxes.join(", ");
            output::say(&format!("site {site}: {boxes} as in the {keep} entry"));
        }
        return Ok(Answer::Done);
    }
    let book = read(&args.book)?;
    let view = workflow::entry::second_entries(&book, &args.survey)?;
    if args.json {
        output::json(&view)?;
    } else {
        let mut table = Table::new(&["site", "field", "first", "second", "second by"]);
        for one in &view.different {
            for field in &one.fields {
                table.row(vec![
                    one.site.clone(),
                    field.field.clone(),
                    field.current.clone(),
                    field.other.clone(),
                    one.second_by.clone(),
                ]);
            }
        }
        if !view.different.is_empty() {
            output::data(&table.text());
        }
        output::say(&format!(
            "{} sites entered twice, {} alike, {} different",
            view.entered,
            view.same,
            view.different.len()
        ));
    }
    Ok(if view.different.is_empty() { Answer::Done } else { Answer::No })
}

fn history(args: &HistoryArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let saves = match &args.site {
        Some(site) => workflow::entry::visit_log(&book, &args.survey, site)?,
        None => workflow::entry::survey_log(&book, &args.survey, args.limit)?,
    };
    if args.json {
        output::json(&saves)?;
        return Ok(Answer::Done);
    }
    let mut table = Table::new(&["when", "who", "what"]);
    for save in saves.iter().take(args.limit) {
        table.row(vec![save.at.clone(), save.by.clone(), save.note.clone()]);
    }
    output::data(&table.text());
    Ok(Answer::Done)
}

fn photos(args: &PhotosArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let request = workflow::photos::PhotoRequest {
        survey: args.survey.clone(),
        clock_offset_s: args.clock_offset,
        known: args.known.clone(),
    };
    let view = output::while_working("reading the photos", || {
        workflow::photos::add_photos(&mut book, &args.folder, &request)
    })?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::say(&format!(
        "kept {} photos, {} of them at a visit, {} already in the book",
        view.kept, view.matched, view.known
    ));
    output::warnings(&view.left_out);
    Ok(Answer::Done)
}

fn scale(args: &ScaleArgs) -> Result<Answer> {
    let view = match &args.reason {
        None => workflow::scales::stand(&read(&args.book)?, &args.survey)?,
        Some(reason) => {
            let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
            let to = match &args.to {
                Some(to) => to.clone(),
                None => book.survey_by_name(&args.survey)?.scale,
            };
            workflow::scales::change(&mut book, &args.survey, &to, reason)?
        }
    };
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::data(&format!("{}: {} ({})", view.survey, view.scale.key, view.scale.name));
    if let Some(before) = view.programme.as_ref().filter(|_| view.differs) {
        output::data(&format!("the survey before, {}: {}", before.survey, before.scale));
        let reason = if view.reason.is_empty() { "nobody says why" } else { &view.reason };
        output::data(&format!("why it changed: {reason}"));
    }
    let mut table = Table::new(&["it could be rated on", "codes it would lack"]);
    for one in view.choices.iter().filter(|one| one.key != view.scale.key) {
        table.row(vec![one.key.clone(), one.lacks.join(", ")]);
    }
    if !view.sealed {
        output::data(&table.text());
    }
    Ok(Answer::Done)
}
