//! `visit`, `bed`, `shoreline`, `specimen`.

use super::plan::lat_lon;
use super::{metres, read, record};
use crate::cli::writing::{BedArgs, ShorelineArgs, SpecimenArgs, VisitArgs, WritingVerb};
use crate::output::{self, Answer};
use crate::ports;
use crate::table::Table;
use units::Metres;
use workflow::entry::{self, SaidOfSite, VisitSave};
use workflow::views::{
    BedBody, BedEntry, SaveBed, SaveDeletion, SaveShoreline, SaveSpecimen, SavedVisit,
    ShorelineBody, ShorelineEntry, SpecimenView, VisitEntry,
};
use workflow::{Error, LakeBook, Result};

pub(super) fn run(verb: &WritingVerb) -> Result<Answer> {
    match verb {
        WritingVerb::Visit(args) => visit(args),
        WritingVerb::Bed(args) => bed(args),
        WritingVerb::Shoreline(args) => shoreline(args),
        WritingVerb::Specimen(args) => specimen(args),
    }
}

fn visit(args: &VisitArgs) -> Result<Answer> {
    let said = SaidOfSite {
        by: args.by.clone(),
        time: args.time.clone(),
        depth_m: None,
        bottom: args.bottom.clone(),
        throws: args.throws.clone(),
        not_sampled: args.not_sampled.clone(),
        observer: args.observer.clone(),
        note: args.note.clone(),
    };
    let silent = said.throws.is_empty()
        && [&said.time, &said.bottom, &said.not_sampled, &said.observer, &said.note, &args.depth]
            .iter()
            .all(|one| one.is_none());
    if silent && !args.delete {
        let book = read(&args.book)?;
        let entry = entry::visit_of(&book, &args.survey, &args.site)?;
        if args.json {
            output::json(&entry)?;
        } else {
            match &entry {
                Some(entry) => show(&book, entry)?,
                None => output::data(&format!("nothing is written for site {}", args.site)),
            }
        }
        return Ok(Answer::Done);
    }
    let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
    let ground = workflow::Ground::of(&book)?;
    let saved = if args.delete {
        let before = entry::visit_of(&book, &args.survey, &args.site)?;
        let deletion =
            SaveDeletion { by: args.by.clone(), base_version: before.map(|entry| entry.version) };
        entry::delete_visit(&mut book, &args.survey, &args.site, &deletion, &ground)?
    } else {
        let depth_m = metres(args.depth.as_ref(), book.lake()?.units)?;
        let said = SaidOfSite { depth_m, ..said };
        entry::write_visit(&mut book, &args.survey, &args.site, &said, &ground)?
    };
    let saved = match saved {
        VisitSave::Saved(saved) => *saved,
        VisitSave::Conflict(conflict) => {
            return Err(Error::conflict(conflict.message.clone()).hint(conflict.hint.clone()));
        }
    };
    told(&book, args, &saved)?;
    Ok(Answer::Done)
}

fn told(book: &LakeBook, args: &VisitArgs, saved: &SavedVisit) -> Result<()> {
    if args.json {
        return output::json(saved);
    }
    match &saved.saved {
        Some(entry) => show(book, entry)?,
        None => output::say(&format!("site {} is no longer written up", args.site)),
    }
    for find in saved.finds.iter().filter(|find| !find.settled) {
        output::say(&format!("{}: {}", find.message, find.remedy));
    }
    record::alerts(&saved.alerts);
    Ok(())
}

fn show(book: &LakeBook, entry: &VisitEntry) -> Result<()> {
    let units = book.lake()?.units;
    let visit = &entry.visit;
    let parts = [
        Some(format!("site {}", entry.site)),
        visit.time.clone(),
        visit.depth_m.map(|depth| units.depth(Metres::new(depth))),
        visit.sediment.clone(),
        Some(visit.observer.clone()),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().filter(|part| !part.is_empty()).collect();
    output::data(&parts.join(", "));
    for throw in &visit.throws {
        output::data(&format!("  {}", entry::throw_words(throw)));
    }
    if visit.throws.is_empty() {
        output::data(&format!("  {}", entry.outcome));
    }
    if !visit.note.is_empty() {
        output::data(&format!("  {}", visit.note));
    }
    Ok(())
}

fn bed(args: &BedArgs) -> Result<Answer> {
    if let Some(key) = &args.delete {
        let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
        let deletion = SaveDeletion { by: args.by.clone(), base_version: None };
        entry::delete_bed(&mut book, &args.survey, key, &deletion)?;
        output::say("the bed is taken out");
        return Ok(Answer::Done);
    }
    let silent = args.plants.is_empty()
        && [&args.rating, &args.site, &args.note, &args.key].iter().all(|one| one.is_none());
    let list = if silent {
        entry::beds(&read(&args.book)?, &args.survey)?
    } else {
        let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
        let before = match &args.key {
            Some(key) => {
                let known = entry::beds(&book, &args.survey)?;
                known.into_iter().find(|one| one.id == key.trim()).map(|one| one.bed)
            }
            None => None,
        };
        let before = before.unwrap_or_default();
        let plants: Vec<String> = args.plants.iter().map(|code| code.trim().to_owned()).collect();
        let bed = BedBody {
            taxa: if plants.is_empty() { before.taxa } else { plants },
            rating: args.rating.clone().or(before.rating),
            site: args.site.clone().or(before.site),
            note: args.note.clone().unwrap_or(before.note),
        };
        let save = SaveBed { by: args.by.clone(), id: args.key.clone(), bed };
        vec![entry::save_bed(&mut book, &args.survey, &save)?]
    };
    if args.json {
        output::json(&list)?;
    } else if list.is_empty() {
        output::data("no bed at the surface is written down");
    } else {
        output::data(&bed_table(&list).text());
    }
    Ok(Answer::Done)
}

fn bed_table(list: &[BedEntry]) -> Table {
    let mut table = Table::new(&["key", "plants", "rating", "site", "remark"]);
    for one in list {
        table.row(vec![
            one.id.clone(),
            one.bed.taxa.join(", "),
            one.bed.rating.clone().unwrap_or_default(),
            one.bed.site.clone().unwrap_or_default(),
            one.bed.note.clone(),
        ]);
    }
    table
}

fn shoreline(args: &ShorelineArgs) -> Result<Answer> {
    if let Some(key) = &args.delete {
        let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
        let deletion = SaveDeletion { by: args.by.clone(), base_version: None };
        entry::delete_shoreline(&mut book, &args.survey, key, &deletion)?;
        output::say("the shoreline find is taken out");
        return Ok(Answer::Done);
    }
    let silent =
        [&args.plant, &args.at, &args.zone, &args.note, &args.key].iter().all(|one| one.is_none());
    let list = if silent {
        entry::shoreline(&read(&args.book)?, &args.survey)?
    } else {
        let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
        let save = shoreline_said(&book, args)?;
        vec![entry::save_shoreline(&mut book, &args.survey, &save)?]
    };
    if args.json {
        output::json(&list)?;
    } else if list.is_empty() {
        output::data("no find on the shore is written down");
    } else {
        output::data(&shoreline_table(&list).text());
    }
    Ok(Answer::Done)
}

/// A find as it is to stand: what is not said stays as it was.
fn shoreline_said(book: &LakeBook, args: &ShorelineArgs) -> Result<SaveShoreline> {
    let known = entry::shoreline(book, &args.survey)?;
    let of = |key: &String| known.into_iter().find(|one| one.id == key.trim());
    let before = args.key.as_ref().and_then(of).map(|one| one.find).unwrap_or_default();
    let taxon = args.plant.as_ref().map_or(before.taxon, |code| code.trim().to_owned());
    if taxon.is_empty() {
        return Err(Error::input("nothing says which plant stood there")
            .hint("name it by its code with `--plant`; an unknown has one too, such as `UN-1`"));
    }
    let place = args.at.as_deref().map(lat_lon).transpose()?;
    let find = ShorelineBody {
        taxon,
        lon: place.map(|(_, lon)| lon).or(before.lon),
        lat: place.map(|(lat, _)| lat).or(before.lat),
        zone: args.zone.clone().or(before.zone),
        note: args.note.clone().unwrap_or(before.note),
    };
    Ok(SaveShoreline { by: args.by.clone(), id: args.key.clone(), find })
}

fn shoreline_table(list: &[ShorelineEntry]) -> Table {
    let mut table = Table::new(&["key", "plant", "latitude", "longitude", "zone", "remark"]);
    let degrees = |one: Option<f64>| one.map_or_else(String::new, |one| format!("{one:.5}"));
    for one in list {
        table.row(vec![
            one.id.clone(),
            one.find.taxon.clone(),
            degrees(one.find.lat),
            degrees(one.find.lon),
            one.find.zone.clone().unwrap_or_default(),
            one.find.note.clone(),
        ]);
    }
    table
}

fn specimen(args: &SpecimenArgs) -> Result<Answer> {
    let list = match &args.number {
        None => entry::specimens(&read(&args.book)?, &args.survey)?,
        Some(number) => {
            let mut book = workflow::open_book(&args.book, ports::world_of(&args.by))?;
            if args.delete {
                entry::delete_specimen(&mut book, &args.survey, number)?;
                output::say(&format!("specimen {number} is taken out"));
                return Ok(Answer::Done);
            }
            let save = SaveSpecimen {
                number: number.clone(),
                taxon: args.plant.clone(),
                site: args.site.clone(),
                collector: args.collector.clone(),
                date: args.date.clone(),
                kept_at: args.kept_at.clone(),
                confirmed_by: args.confirmed_by.clone(),
            };
            vec![entry::save_specimen(&mut book, &args.survey, &save)?]
        }
    };
    if args.json {
        output::json(&list)?;
    } else if list.is_empty() {
        output::data("no specimen is written down");
    } else {
        output::data(&specimen_table(&list).text());
    }
    Ok(Answer::Done)
}

fn specimen_table(list: &[SpecimenView]) -> Table {
    let mut table =
        Table::new(&["number", "plant", "site", "taken by", "day", "kept at", "confirmed by"]);
    for one in list {
        table.row(vec![
            one.number.clone(),
            one.taxon.clone(),
            one.site.clone().unwrap_or_default(),
            one.collector.clone(),
            one.date.clone().unwrap_or_default(),
            one.kept_at.clone(),
            one.confirmed_by.clone(),
        ]);
    }
    table
}
