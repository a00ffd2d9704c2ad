//! Several papers in one file: a page of contents, page numbers throughout, a bookmark for each paper.

use crate::draw::{Depth, MapData, MapStyle, draw_map};
use crate::error::PrintError;
use crate::fonts::Fonts;
use crate::map_page::inside;
use crate::settings::{Palette, Settings};
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
#[derive(Debug, Clone, PartialEq)]
pub struct Packet {
    /// The lake's name.
    pub lake: String,
    /// The survey's name.
    pub survey: String,
    /// A sentence on the day; may be empty.
    pub day: String,
    /// What goes with the papers, one sentence each.
    pub notes: Vec<String>,
    /// The lake with its sites, drawn where the contents leave room.
    pub map: MapData,
}

/// Pixels of the first page taken by heading, notes and foot.
const AROUND: f64 = 200.0;
/// Height of a line of the contents, pixels.
const LINE: f64 = 26.0;

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
    let grown = settings.grown();
    let (width, height) = inside(settings, false);
    let room = height - (AROUND + LINE * (names.len() + 1) as f64) * grown;
    let description =
        format!("Map of {} with its depths and the sites of {}", about.lake, about.survey);
    let data = json!({
        "document": { "title": format!("Packet, {}, {}", about.lake, about.survey) },
        "lake": about.lake,
        "answer": format!(", {}. {}", about.survey, about.day),
        "parts": names,
        "notes": about.notes,
        "scale": grown,
        "printed": format!("printed {}", words::date(settings.printed_on)),
        "pictures": { "lake": { "file": "lake.svg", "alt": description } },
    });
    let ident = format!("packet {} {}", about.lake, about.survey);
    let template = include_str!("templates/packet.typ");
    let style = MapStyle {
        depth: match settings.palette {
            Palette::Colour => Depth::Full,
            Palette::BlackAndWhite => Depth::Lines,
        },
        framed: false,
        landmark_names: true,
        lettering: grown,
        description,
        ..MapStyle::new(settings.palette, settings.units, width, room)
    };
    let pictures = vec![("lake.svg".to_owned(), draw_map(&about.map, &style, fonts)?)];
    let whole = Draft { pictures, ..Draft::new("packet", template, data, ident, settings) };
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
