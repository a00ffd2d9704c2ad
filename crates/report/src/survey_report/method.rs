//! How the survey was done, what became of the sites, and the lake itself.

use super::Look;
use super::blocks::{Block, Body, Column, Note, Section, Table};
use super::input::SurveyReport;
use super::text::{Line, whole};
use crate::words;

pub(super) fn section(report: &SurveyReport, look: &Look<'_>) -> Section {
    let counts = &report.counts;
    let answer = Line::new()
        .plain("On ")
        .plain(words::dates(report.dates))
        .plain(" we sampled ")
        .bold(format!(
            "{} of {}",
            whole(counts.sampled),
            words::count(counts.planned, "site", "sites")
        ))
        .plain(" that were planned.");
    Section {
        name: "method",
        question: "How did we look?".to_owned(),
        answer,
        blocks: vec![paragraphs(report), sites(report), scale(report), lake(report, look)],
    }
}

fn paragraphs(report: &SurveyReport) -> Block {
    let method = &report.method;
    let mut sentences = vec![words::stop(&format!("Sites: {}", method.layout))];
    if !method.gear.is_empty() {
        sentences.push(words::stop(&format!("Thrown: {}", method.gear)));
    }
    let throws = words::count(u64::from(method.throws), "throw", "throws");
    sentences.push(if method.combined.is_empty() || method.throws < 2 {
        format!("At each site {throws}.")
    } else {
        words::stop(&format!("At each site {throws}; {}", method.combined))
    });
    let mut paragraphs = vec![Line::from(sentences.join(" "))];
    paragraphs.extend(method.notes.iter().map(|note| Line::from(note.as_str())));
    Block::text(paragraphs)
}

fn sites(report: &SurveyReport) -> Block {
    let counts = &report.counts;
    let mut table = Table::new(vec![Column::left("Sites"), Column::right("number").wide(70.0)]);
    let mut line = |name: Line, n: u64| table.row(vec![name.into(), whole(n).into()]);
    line("planned".into(), counts.planned);
    line(Line::new().bold("sampled"), counts.sampled);
    line("  with plants".into(), counts.vegetated);
    line("  without plants".into(), counts.sampled.saturating_sub(counts.vegetated));
    for (reason, n) in &counts.not_sampled {
        line(format!("visited, not sampled: {reason}").into(), *n);
    }
    let unvisited = counts.planned.saturating_sub(counts.visited);
    if unvisited > 0 {
        line("not visited".into(), unvisited);
    }
    let visited = format!("{}: sampled and not sampled together.", whole(counts.visited));
    Block::new("What became of the sites", Body::Table(table)).notes(vec![
        Note::on(
            "Sampled",
            "counts in every figure below. A site that could not be sampled is left out; it is not a \
             site without plants.",
        ),
        Note::on("Visited", visited),
    ])
}

fn scale(report: &SurveyReport) -> Block {
    let mut table = Table::new(vec![
        Column::left("Code").wide(40.0),
        Column::left("Rating").wide(90.0),
        Column::left("in the hand"),
    ]);
    for step in &report.scale.steps {
        table.row(vec![
            Line::new().bold(&step.code).into(),
            step.name.as_str().into(),
            step.measure.as_str().into(),
        ]);
    }
    let about = format!("{} Ratings are steps, not weights.", words::stop(&report.scale.name));
    Block::new("How much is how much", Body::Table(table)).notes(vec![Note::on("Scale", about)])
}

fn lake(report: &SurveyReport, look: &Look<'_>) -> Block {
    let lake = &report.lake;
    let depth = |depth| words::depth(depth, look.units);
    let mut table = Table::new(vec![Column::left("The lake"), Column::right("").wide(110.0)]);
    let mut line = |what: String, value: String| table.row(vec![what.into(), value.into()]);
    line("area".to_owned(), look.units.area(lake.area));
    if let Some(greatest) = lake.max_depth {
        line("greatest depth".to_owned(), depth(greatest));
    }
    if let Some(mean) = lake.mean_depth {
        line("mean depth".to_owned(), depth(mean));
    }
    if let Some((area, limit)) = lake.littoral {
        line(format!("shallower than {}", depth(limit)), look.units.area(area));
    }
    let mut notes = Vec::new();
    if !lake.place.is_empty() {
        notes.push(Note::on("Where", words::stop(&lake.place)));
    }
    if !lake.depth_reference.is_empty() {
        notes.push(Note::on("Depths", words::stop(&format!("below {}", lake.depth_reference))));
    }
    if !lake.coordinates.is_empty() {
        let measured = format!("measured in {}, not on the page.", lake.coordinates);
        notes.push(Note::on("Areas", measured));
    }
    Block::new("The lake in figures", Body::Table(table)).notes(notes)
}
