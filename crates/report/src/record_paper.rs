//! The record of a survey on paper: everything that was written down, as it lies under the seal.

use crate::error::PrintError;
use crate::settings::Settings;
use crate::words;
use crate::world::Draft;
use serde_json::{Value, json};

/// What was written of one site.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RecordedSite {
    /// Code of the site.
    pub code: String,
    /// Where it is: zone, landmark, position.
    pub place: Vec<String>,
    /// Day and time, and who wrote it.
    pub when: Vec<String>,
    /// Depth measured, and what the map says.
    pub depth: Vec<String>,
    /// The bottom.
    pub bottom: String,
    /// A line for each throw; why it was not sampled, when it was not.
    pub throws: Vec<String>,
    /// Remark.
    pub note: String,
}

/// A table of the paper.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RecordTable {
    /// What it holds.
    pub title: String,
    /// What the reader should know of it; may be empty.
    pub about: String,
    /// Heads of the columns, and the part of the width each takes.
    pub columns: Vec<(String, u8)>,
    /// Rows, a cell a column.
    pub rows: Vec<Vec<String>>,
    /// What is said when it has no rows.
    pub none: String,
}

/// The seal of the record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecordSeal {
    /// Who closed it.
    pub by: String,
    /// When, as people read it.
    pub at: String,
    /// SHA-256, hexadecimal.
    pub sha256: String,
}

/// Everything of a survey's record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecordPaper {
    /// The lake's name, with county, state and number of the water body.
    pub lake: String,
    /// The survey's name.
    pub survey: String,
    /// What the survey came to, in a sentence.
    pub answer: String,
    /// Names and values of the header.
    pub header: Vec<(String, String)>,
    /// Tables that stand before the sites: days, crew.
    pub before: Vec<RecordTable>,
    /// What a site is called, as in "site" or "square".
    pub row_word: String,
    /// The sites in the order of the plan.
    pub sites: Vec<RecordedSite>,
    /// Tables that stand behind the sites: beds, shore, unknowns, amendments, codes.
    pub behind: Vec<RecordTable>,
    /// The seal; none while the record is open.
    pub seal: Option<RecordSeal>,
}

/// The record of a survey, ready to be set.
///
/// # Errors
/// [`PrintError::Empty`] when nothing was written down.
pub fn record_paper(paper: &RecordPaper, settings: &Settings) -> Result<Draft, PrintError> {
    if paper.sites.is_empty() {
        return Err(PrintError::Empty {
            what: "pages of the record",
            missing: format!("survey `{}` has no sites", paper.survey),
            hint: "record it first (`quillwort record`)",
        });
    }
    let sites: Vec<Value> = paper
        .sites
        .iter()
        .map(|one| {
            json!([
                [one.code],
                one.place,
                one.when,
                one.depth,
                [one.bottom],
                one.throws,
                [one.note]
            ])
        })
        .collect();
    let title = format!("Record of {}, {}", paper.survey, paper.lake);
    let data = json!({
        "document": { "title": title },
        "lake": paper.lake,
        "survey": paper.survey,
        "answer": paper.answer,
        "header": paper.header,
        "before": paper.before.iter().map(table).collect::<Vec<_>>(),
        "row_word": words::sentence(&paper.row_word),
        "sites": sites,
        "behind": paper.behind.iter().map(table).collect::<Vec<_>>(),
        "seal": paper.seal.as_ref().map(|seal| json!({
            "by": seal.by,
            "at": seal.at,
            // in groups of eight, so that it can be read aloud
            "sha256": groups(&seal.sha256),
            "short": seal.sha256.get(..12).unwrap_or(&seal.sha256),
        })),
        "scale": if settings.large { 1.2 } else { 1.0 },
        "printed": format!("printed {}", words::date(settings.printed_on)),
    });
    let ident = format!("record {} {}", paper.lake, paper.survey);
    Ok(Draft::new("record", include_str!("templates/record.typ"), data, ident, settings))
}

fn table(one: &RecordTable) -> Value {
    json!({
        "title": one.title,
        "about": one.about,
        "heads": one.columns.iter().map(|(head, _)| head).collect::<Vec<_>>(),
        "parts": one.columns.iter().map(|(_, part)| part).collect::<Vec<_>>(),
        "rows": one.rows,
        "none": one.none,
    })
}

fn groups(sha256: &str) -> String {
    let letters: Vec<char> = sha256.chars().collect();
    letters.chunks(8).map(|eight| eight.iter().collect::<String>()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::groups;

    #[test]
    fn a_checksum_is_set_in_eights() {
        assert_eq!(groups("0123456789abcdef01"), "01234567 89abcdef 01");
    }
}
