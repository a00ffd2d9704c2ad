//! What is there twice after a merge though it may be there only once.

use crate::entity::Entity;
use crate::error::BookError;
use crate::rows::{SiteRow, Stored, SubAreaRow, SurveyRow, TaxonRow, ZoneRow};
use crate::write::Writer;
use rusqlite::Connection;
use std::collections::{BTreeMap, BTreeSet};

/// Events of the later of two visits to one site.
pub(super) fn second_visits(connection: &Connection) -> Result<BTreeSet<String>, BookError> {
    let sites: Vec<String> = connection
        .prepare("SELECT site_id FROM visit GROUP BY site_id HAVING count(*) > 1")?
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    let mut aside = BTreeSet::new();
    for site in sites {
        let visits: Vec<String> = connection
            .prepare_cached("SELECT id FROM visit WHERE site_id = ?1")?
            .query_map([site], |row| row.get(0))?
            .collect::<Result<_, _>>()?;
        let mut in_order = Vec::new();
        for visit in visits {
            in_order.push((made(connection, Entity::Visit, &visit)?, visit));
        }
        in_order.sort();
        for (_, visit) in in_order.into_iter().skip(1) {
            let events: Vec<String> = connection
                .prepare_cached(
                    "SELECT id FROM change_log WHERE entity = 'visit' AND entity_id = ?1 \
                     AND id NOT IN (SELECT id FROM conflict)",
                )?
                .query_map([visit], |row| row.get(0))?
                .collect::<Result<_, _>>()?;
            aside.extend(events);
        }
    }
    Ok(aside)
}

/// When a record was made: clock and key of its first event.
fn made(connection: &Connection, entity: Entity, key: &str) -> Result<(String, String), BookError> {
    Ok(connection
        .prepare_cached(
            "SELECT clock, id FROM change_log WHERE entity = ?1 AND entity_id = ?2 \
             ORDER BY clock, id LIMIT 1",
        )?
        .query_row(rusqlite::params![entity, key], |row| Ok((row.get(0)?, row.get(1)?)))?)
}

/// Gives the later of two records with one code or name a second one.
pub(super) fn rename(writer: &mut Writer<'_>) -> Result<Vec<String>, BookError> {
    let mut said = Vec::new();
    rename_rows::<SurveyRow>(
        writer,
        &mut said,
        |_| String::new(),
        |row| &mut row.name,
        |name, number| format!("{name} ({number})"),
    )?;
    let dash = |code: &str, number: usize| format!("{code}-{number}");
    let whole = |_: &_| String::new();
    rename_rows::<ZoneRow>(writer, &mut said, whole, |row| &mut row.code, dash)?;
    let whole = |_: &_| String::new();
    rename_rows::<SubAreaRow>(writer, &mut said, whole, |row| &mut row.code, dash)?;
    let of_survey = |row: &SiteRow| row.survey_id.to_string();
    rename_rows::<SiteRow>(writer, &mut said, of_survey, |row| &mut row.code, dash)?;
    let whole = |_: &_| String::new();
    rename_rows::<TaxonRow>(writer, &mut said, whole, |row| &mut row.code, dash)?;
    Ok(said)
}

fn rename_rows<R: Stored>(
    writer: &mut Writer<'_>,
    said: &mut Vec<String>,
    within: impl Fn(&R) -> String,
    label: impl Fn(&mut R) -> &mut String,
    second: impl Fn(&str, usize) -> String,
) -> Result<(), BookError> {
    let mut groups: BTreeMap<(String, String), Vec<R>> = BTreeMap::new();
    let mut taken: BTreeSet<(String, String)> = BTreeSet::new();
    for mut row in R::all(writer.connection)? {
        let slot = (within(&row), label(&mut row).to_lowercase());
        taken.insert(slot.clone());
        groups.entry(slot).or_default().push(row);
    }
    for ((place, _), rows) in groups.into_iter().filter(|(_, rows)| rows.len() > 1) {
        let mut in_order = Vec::new();
        for row in rows {
            in_order.push((made(writer.connection, R::ENTITY, &row.key())?, row));
        }
        in_order.sort_by(|a, b| a.0.cmp(&b.0));
        for (_, mut row) in in_order.into_iter().skip(1) {
            let old = label(&mut row).clone();
            let new = (2..=usize::MAX)
                .map(|number| second(&old, number))
                .find(|new| !taken.contains(&(place.clone(), new.to_lowercase())))
                .unwrap_or_else(|| old.clone());
            taken.insert((place.clone(), new.to_lowercase()));
            said.push(format!("{} `{old}` of the other copy is now `{new}`", R::ENTITY.words()));
            label(&mut row).clone_from(&new);
            writer.put_row(&row)?;
        }
    }
    Ok(())
}
