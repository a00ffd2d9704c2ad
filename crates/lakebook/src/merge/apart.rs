//! What one copy did to a survey the other had closed.

use super::take_in::field_of;
use crate::entity::{Entity, Operation};
use crate::error::BookError;
use crate::event::{Event, by_id};
use crate::seal::surveys_with_taxon;
use rusqlite::Connection;
use std::collections::{BTreeMap, BTreeSet};

/// Events of one side that touch a survey.
#[derive(Debug, Default)]
struct Side {
    /// Every event that reaches it.
    reaching: Vec<String>,
    /// Clock and key of the first seal or amendment of it.
    closed: Option<(String, String)>,
}

/// The events to keep beside: of each survey that one copy sealed or amended while the other
/// changed it, the changes of the other. When both closed it, the earlier one stands.
pub(super) fn to_set_aside(
    connection: &Connection,
    other: &Connection,
    only_own: &[String],
    taken: &[Event],
) -> Result<BTreeSet<String>, BookError> {
    let mut surveys: BTreeMap<String, [Side; 2]> = BTreeMap::new();
    let any_seal = |connection: &Connection| -> rusqlite::Result<bool> {
        connection.query_row(
            "SELECT EXISTS (SELECT 1 FROM change_log WHERE operation = 'seal')",
            [],
            |row| row.get(0),
        )
    };
    if !any_seal(connection)? {
        return Ok(BTreeSet::new());
    }
    for id in only_own {
        let Ok(id) = id.parse() else { continue };
        note(connection, other, &by_id(connection, id)?, 0, &mut surveys)?;
    }
    for event in taken {
        note(connection, other, event, 1, &mut surveys)?;
    }
    let mut aside = BTreeSet::new();
    for [own, theirs] in surveys.into_values() {
        let loser = match (&own.closed, &theirs.closed) {
            (None, None) => continue,
            (Some(_), None) => theirs,
            (None, Some(_)) => own,
            (Some(a), Some(b)) => {
                if a <= b {
                    theirs
                } else {
                    own
                }
            }
        };
        aside.extend(loser.reaching);
    }
    Ok(aside)
}

fn note(
    connection: &Connection,
    other: &Connection,
    event: &Event,
    side: usize,
    surveys: &mut BTreeMap<String, [Side; 2]>,
) -> Result<(), BookError> {
    for survey in reached(connection, other, event)? {
        let side = &mut surveys.entry(survey).or_default()[side];
        side.reaching.push(event.id.to_string());
        if matches!(event.operation, Operation::Seal | Operation::Amend) {
            let when = (event.clock.clone(), event.id.to_string());
            side.closed = Some(side.closed.take().map_or(when.clone(), |first| first.min(when)));
        }
    }
    Ok(())
}

/// The surveys whose record an event changes.
fn reached(
    connection: &Connection,
    other: &Connection,
    event: &Event,
) -> Result<BTreeSet<String>, BookError> {
    let mut found = BTreeSet::new();
    match event.entity {
        Entity::Survey => {
            found.insert(event.entity_id.clone());
        }
        Entity::Site
        | Entity::Visit
        | Entity::Bed
        | Entity::ShorelineFind
        | Entity::Voucher
        | Entity::Settlement
        | Entity::Photo => {
            found.extend(field_of(connection, event, "survey_id")?.map(|key| key.to_string()));
            if let Some(visit) = field_of(connection, event, "visit_id")? {
                for book in [connection, other] {
                    let survey: Option<String> =
                        rusqlite::OptionalExtension::optional(book.query_row(
                            "SELECT survey_id FROM visit WHERE id = ?1",
                            [visit],
                            |row| row.get(0),
                        ))?;
                    found.extend(survey);
                }
            }
        }
        Entity::Taxon if event.base_version.is_some() => {
            let name = |event: &Event| -> Option<String> {
                let body: serde_json::Value = serde_json::from_str(&event.body).ok()?;
                Some(body.get("scientific_name")?.as_str()?.to_owned())
            };
            let before = event.base_version.map(|base| by_id(connection, base)).transpose()?;
            if before.as_ref().and_then(name) != name(event) {
                for book in [connection, other] {
                    found.extend(surveys_with_taxon(book, &event.entity_id)?);
                }
            }
        }
        _ => {}
    }
    Ok(found)
}
