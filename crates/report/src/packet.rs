//! Several papers in one file: a page of contents, page numbers throughout, a bookmark for each paper.

use crate::error::PrintError;
use crate::fonts::Fonts;
use crate::settings::Settings;
use crate::words;
use crate::world::{Draft, Print, set};
use serde_json::{Value, json};

/// A paper of the packet.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its name in the contents, as in "Field sheets".
    pub name: String,
    /// What it is for, in a few words.
    pub about: String,
    /// The paper.
    pub draft: Draft,
}

/// What the page of contents says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packet {
    /// The lake's name.
    pub lake: String,
    /// The survey's name.
    pub survey: String,
    /// A sentence on the day; may be empty.
    pub day: String,
    /// What goes with the papers, one sentence each.
    pub notes: Vec<String>,
}

/// Sets papers one after the other behind a page of contents. Each looks as it does by itself; the number of
/// its page in the packet stands below it.
///
/// # Errors
/// [`PrintError::Empty`] without papers, and the typesetter's errors.
pub fn packet(
    about: &Packet,
    parts: Vec<Part>,
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Print, PrintError> {
    if parts.is_empty() {
        return Err(PrintError::Empty {
            what: "a packet",
            missing: format!("there is no paper for `{}`", about.survey),
            hint: "lay the sites first",
        });
    }
    let names: Vec<Value> =
        parts.iter().map(|part| json!({ "name": part.name, "about": part.about })).collect();
    let data = json!({
        "document": { "title": format!("Packet, {}, {}", about.lake, about.survey) },
        "lake": about.lake,
        "answer": format!(", {}. {}", about.survey, about.day),
        "parts": names,
        "notes": about.notes,
        "scale": settings.grown(),
        "printed": format!("printed {}", words::date(settings.printed_on)),
    });
    let ident = format!("packet {} {}", about.lake, about.survey);
    let template = include_str!("templates/packet.typ");
    let whole = Draft::new("packet", template, data, ident, settings);
    let drafts = parts
        .into_iter()
        .map(|part| {
            let mut draft = part.draft;
            draft.data["part"] = json!(part.name);
            draft
        })
        .collect();
    set(whole, drafts, fonts)
}
