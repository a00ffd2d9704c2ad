//! Cut papers: plant cards for the boat and labels for vouchers.

use crate::error::PrintError;
use crate::settings::Settings;
use crate::words;
use crate::world::Draft;
use serde_json::{Value, json};

/// A plant on a card.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantCard {
    /// The code to write.
    pub code: String,
    /// Common name.
    pub name: String,
    /// Scientific name.
    pub scientific: String,
    /// Where it comes from, in a word or two, as in "native" or "introduced".
    pub origin: String,
    /// True when it is introduced or listed: marked with a diamond and a heavy edge.
    pub alert: bool,
    /// How it grows.
    pub growth: String,
    /// Marks to know it by.
    pub marks: Vec<String>,
    /// What it is taken for, and how to tell.
    pub lookalikes: Vec<String>,
    /// Where the marks come from, as in "marks from memory".
    pub source: String,
    /// The user's own photo: the bytes of a JPEG or PNG file.
    pub photo: Option<Vec<u8>>,
    /// Who took the photo and where, in a few words; may be empty.
    pub photo_words: String,
}

/// Cards of a lake's plants.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantCards {
    /// The lake's name.
    pub lake: String,
    /// The plants, in the order of the cards.
    pub cards: Vec<PlantCard>,
}

/// A label that stays with a pressed or preserved specimen. Empty fields are lines to write on.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct VoucherLabel {
    /// Number of the specimen.
    pub number: String,
    /// The plant.
    pub taxon: String,
    /// The site, zone and landmark.
    pub site: String,
    /// The day.
    pub date: String,
    /// Depth of the water, bottom.
    pub depth: String,
    /// Who took it.
    pub collector: String,
    /// Who named it.
    pub named_by: String,
    /// Where it is kept.
    pub kept_at: String,
}

/// Labels for vouchers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VoucherLabels {
    /// The lake's name, with county, state and number of the water body.
    pub lake: String,
    /// The survey's name.
    pub survey: String,
    /// The labels.
    pub labels: Vec<VoucherLabel>,
}

/// Plant cards, four on a page, to be cut and laminated. A photo that is neither JPEG nor PNG is left out and
/// told in the remarks.
///
/// # Errors
/// [`PrintError::Empty`] without plants.
pub fn plant_cards(cards: &PlantCards, settings: &Settings) -> Result<Draft, PrintError> {
    if cards.cards.is_empty() {
        return Err(PrintError::Empty {
            what: "plant cards",
            missing: format!("`{}` has no plants on its list", cards.lake),
            hint: "add them with `quillwort add BOOK species FILE`, or record a survey",
        });
    }
    let mut files = Vec::new();
    let mut left_out = Vec::new();
    let mut values: Vec<Value> = Vec::new();
    for (index, card) in cards.cards.iter().enumerate() {
        let ending = card.photo.as_deref().and_then(picture_ending);
        let file = match (&card.photo, ending) {
            (Some(bytes), Some(ending)) => {
                let name = format!("photo-{index}.{ending}");
                files.push((name.clone(), bytes.clone()));
                name
            }
            (Some(_), None) => {
                left_out.push(card.code.clone());
                String::new()
            }
            (None, _) => String::new(),
        };
        values.push(json!({
            "code": card.code, "name": card.name, "scientific": card.scientific,
            "origin": card.origin, "alert": card.alert, "growth": card.growth,
            "marks": card.marks, "lookalikes": card.lookalikes, "source": card.source,
            "photo": file, "photo_words": card.photo_words,
        }));
    }
    let data = json!({
        "document": { "title": format!("Plant cards, {}", cards.lake) },
        "lake": cards.lake,
        "cards": values,
        "large": settings.large,
        "printed": words::date(settings.printed_on),
    });
    let mut remarks = Vec::new();
    if !left_out.is_empty() {
        remarks.push(format!(
            "photos that are neither JPEG nor PNG are left out: {}",
            left_out.join(", ")
        ));
    }
    let template = include_str!("templates/cards.typ");
    let ident = format!("plant cards {}", cards.lake);
    Ok(Draft { files, remarks, ..Draft::new("plant card", template, data, ident, settings) })
}

/// The ending of a picture's file by its first bytes.
fn picture_ending(bytes: &[u8]) -> Option<&'static str> {
    if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
        Some("jpg")
    } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        Some("png")
    } else {
        None
    }
}

/// Labels for vouchers, ten on a page.
pub fn voucher_labels(labels: &VoucherLabels, settings: &Settings) -> Draft {
    let values: Vec<Value> = labels
        .labels
        .iter()
        .map(|one| {
            json!({
                "number": one.number, "taxon": one.taxon, "site": one.site, "date": one.date,
                "depth": one.depth, "collector": one.collector, "named_by": one.named_by,
                "kept_at": one.kept_at,
            })
        })
        .collect();
    let data = json!({
        "document": { "title": format!("Voucher labels, {}, {}", labels.lake, labels.survey) },
        "lake": labels.lake,
        "survey": labels.survey,
        "labels": values,
    });
    let template = include_str!("templates/labels.typ");
    let ident = format!("voucher labels {} {}", labels.lake, labels.survey);
    Draft::new("voucher label", template, data, ident, settings)
}
