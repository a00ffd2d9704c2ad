//! Papers of words: the kit list, the safety page with the float plan, the residents' card.

use crate::error::PrintError;
use crate::settings::Settings;
use crate::words;
use crate::world::Draft;
use serde_json::{Value, json};

/// A heading with its lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// The heading.
    pub title: String,
    /// One thing each.
    pub lines: Vec<String>,
}

/// What to take along: a box to tick for each boat.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KitList {
    /// The lake's name.
    pub lake: String,
    /// The survey's name.
    pub survey: String,
    /// A sentence on the day, as in "14 July 2026, 2 boats, home by 11:45 am"; may be empty.
    pub day: String,
    /// Things by group.
    pub groups: Vec<Section>,
    /// Boats: one column of boxes each, 1 to 4.
    pub boats: usize,
    /// Where the list comes from, one sentence.
    pub source: String,
}

/// One boat's line of the float plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FloatPlan {
    /// The boat, as in "boat 1".
    pub boat: String,
    /// The day.
    pub date: String,
    /// Where it leaves.
    pub launch: String,
    /// When it leaves.
    pub leaves: String,
    /// Where it goes, as in "38 sites: 69 to 38".
    pub sites: String,
    /// When it is back by the plan.
    pub home: String,
    /// When those on shore call for help.
    pub call_at: String,
}

/// Safety and hygiene, with the float plan that stays on shore.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SafetyPage {
    /// The lake's name.
    pub lake: String,
    /// The survey's name.
    pub survey: String,
    /// The light, as in "light from 5:46 am to 9:01 pm"; may be empty.
    pub light: String,
    /// The boats' days; empty when no route is kept.
    pub plans: Vec<FloatPlan>,
    /// Cautions by heading.
    pub sections: Vec<Section>,
    /// The sentence that defers to local rules.
    pub rules: String,
}

/// A plant on the residents' card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ResidentPlant {
    /// Common name.
    pub name: String,
    /// Scientific name.
    pub scientific: String,
    /// Marks to know it by, in one or two sentences; may be empty.
    pub marks: String,
    /// What it is good for, or what to do, in one sentence; may be empty.
    pub note: String,
}

/// One page for the people along the shore.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ResidentsCard {
    /// The lake's name.
    pub lake: String,
    /// A sentence on what is known, with its survey; may be empty.
    pub answer: String,
    /// Introduced plants found or watched for.
    pub introduced: Vec<ResidentPlant>,
    /// Native plants most met.
    pub natives: Vec<ResidentPlant>,
    /// What to do and what not, by heading.
    pub sections: Vec<Section>,
    /// Where the marks come from, one sentence.
    pub source: String,
}

fn sections(all: &[Section]) -> Vec<Value> {
    all.iter().map(|one| json!({ "title": one.title, "lines": one.lines })).collect()
}

fn draft(paper: &'static str, ident: String, data: Value, settings: &Settings) -> Draft {
    Draft::new(paper, include_str!("templates/handout.typ"), data, ident, settings)
}

fn printed(settings: &Settings) -> String {
    format!("printed {}", words::date(settings.printed_on))
}

/// The kit list.
///
/// # Errors
/// [`PrintError::OutOfRange`] for more boats than columns.
pub fn kit_list(list: &KitList, settings: &Settings) -> Result<Draft, PrintError> {
    if !(1..=4).contains(&list.boats) {
        return Err(PrintError::OutOfRange {
            what: "number of boats",
            found: list.boats.to_string(),
            expected: "1 to 4",
        });
    }
    let data = json!({
        "document": { "title": format!("Kit list, {}, {}", list.lake, list.survey) },
        "kind": "kit",
        "question": "Is everything on board?",
        "lake": list.lake,
        "answer": format!(", {}. {}", list.survey, list.day),
        "groups": sections(&list.groups),
        "boats": list.boats,
        "scale": settings.grown(),
        "foot": list.source,
        "printed": printed(settings),
    });
    Ok(draft("kit list", format!("kit list {} {}", list.lake, list.survey), data, settings))
}

/// Safety and hygiene with the float plan.
pub fn safety_page(page: &SafetyPage, settings: &Settings) -> Draft {
    let plans: Vec<Value> = page
        .plans
        .iter()
        .map(|one| {
            json!([one.boat, one.date, one.launch, one.leaves, one.sites, one.home, one.call_at])
        })
        .collect();
    let data = json!({
        "document": { "title": format!("Safety and float plan, {}, {}", page.lake, page.survey) },
        "kind": "safety",
        "question": "Who knows where you are?",
        "lake": page.lake,
        "answer": format!(", {}. {}", page.survey, page.light),
        "plans": plans,
        "sections": sections(&page.sections),
        "scale": settings.grown(),
        "foot": page.rules,
        "printed": printed(settings),
    });
    draft("safety page", format!("safety {} {}", page.lake, page.survey), data, settings)
}

/// The residents' card.
pub fn residents_card(card: &ResidentsCard, settings: &Settings) -> Draft {
    let plants = |all: &[ResidentPlant]| -> Vec<Value> {
        all.iter()
            .map(|one| {
                json!({
                    "name": one.name, "scientific": one.scientific,
                    "marks": one.marks, "note": one.note,
                })
            })
            .collect()
    };
    let data = json!({
        "document": { "title": format!("What is that plant? {}", card.lake) },
        "kind": "residents",
        "question": "What is that plant off my dock?",
        "lake": card.lake,
        "answer": format!(". {}", card.answer),
        "introduced": plants(&card.introduced),
        "natives": plants(&card.natives),
        "sections": sections(&card.sections),
        "scale": settings.grown(),
        "foot": card.source,
        "printed": printed(settings),
    });
    draft("residents' card", format!("residents {}", card.lake), data, settings)
}
