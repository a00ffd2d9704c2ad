//! Rules that hold for a whole save, so that records may come in any order within it.

use crate::entity::Entity;
use crate::error::BookError;
use crate::read;
use crate::rows::{Key, Stored};
use rusqlite::{Connection, OptionalExtension};
use std::collections::{BTreeMap, BTreeSet};

/// What a save touched, as far as a rule wants to know.
#[derive(Debug, Default)]
pub(crate) struct Touched {
    entities: BTreeSet<Entity>,
    surveys: BTreeSet<Key>,
    steps: BTreeMap<Key, Option<usize>>,
}

/// One code twice among the living, whatever the case.
struct Unique {
    entity: Entity,
    sql: &'static str,
    what: &'static str,
    remedy: &'static str,
}

const UNIQUE: &[Unique] = &[
    Unique {
        entity: Entity::Survey,
        sql: "SELECT name, '' FROM survey GROUP BY lower(name) HAVING count(*) > 1",
        what: "two surveys are called",
        remedy: "give each survey a name of its own, such as `2026-summer`",
    },
    Unique {
        entity: Entity::Taxon,
        sql: "SELECT code, group_concat(scientific_name, '` and `') FROM taxon \
              GROUP BY lower(code) HAVING count(*) > 1",
        what: "two taxa have the code",
        remedy: "give one of them another code",
    },
    Unique {
        entity: Entity::Zone,
        sql: "SELECT code, group_concat(name, '` and `') FROM zone \
              GROUP BY lower(code) HAVING count(*) > 1",
        what: "two zones have the code",
        remedy: "give one of them another code; codes are never reused",
    },
    Unique {
        entity: Entity::SubArea,
        sql: "SELECT code, '' FROM sub_area GROUP BY lower(code) HAVING count(*) > 1",
        what: "two sub-areas have the code",
        remedy: "give one of them another code; codes are never reused",
    },
];

impl Touched {
    pub(crate) fn note<R: Stored>(&mut self, row: &R) {
        self.entities.insert(R::ENTITY);
        if matches!(R::ENTITY, Entity::Site | Entity::Visit)
            && let Some(survey) = row.reference("survey_id")
        {
            self.surveys.insert(survey);
        }
    }

    /// Refuses a rating beyond the end of the survey's scale.
    pub(crate) fn rating(
        &mut self,
        connection: &Connection,
        survey: Key,
        largest: Option<u8>,
    ) -> Result<(), BookError> {
        let Some(largest) = largest else { return Ok(()) };
        let steps = if let Some(known) = self.steps.get(&survey) {
            *known
        } else {
            let scale: Option<String> = connection
                .prepare_cached("SELECT scale_id FROM survey WHERE id = ?1")?
                .query_row([survey], |row| row.get(0))
                .optional()?;
            let steps = match scale {
                Some(scale) => read::scale_steps(connection, &scale)?,
                None => None,
            };
            self.steps.insert(survey, steps);
            steps
        };
        match steps {
            Some(steps) if usize::from(largest) >= steps => Err(BookError::refused(
                format!(
                    "a rating stands at place `{largest}` of the scale, which has {steps} steps \
                     counted from 0"
                ),
                "the rating is from another scale: read it with the survey's own",
            )),
            _ => Ok(()),
        }
    }

    /// Every rule, at the end of a save.
    pub(crate) fn check(&self, connection: &Connection) -> Result<(), BookError> {
        for rule in UNIQUE.iter().filter(|rule| self.entities.contains(&rule.entity)) {
            let twice: Option<(String, String)> = connection
                .prepare_cached(&format!("{} LIMIT 1", rule.sql))?
                .query_row([], |row| Ok((row.get(0)?, row.get(1)?)))
                .optional()?;
            if let Some((code, names)) = twice {
                let names = if names.is_empty() { names } else { format!(": `{names}`") };
                return Err(BookError::refused(
                    format!("{} `{code}`{names}", rule.what),
                    rule.remedy,
                ));
            }
        }
        for survey in &self.surveys {
            check_survey(connection, *survey)?;
        }
        Ok(())
    }
}

fn check_survey(connection: &Connection, survey: Key) -> Result<(), BookError> {
    let code = |sql: &str| -> Result<Option<String>, BookError> {
        Ok(connection.prepare_cached(sql)?.query_row([survey], |row| row.get(0)).optional()?)
    };
    if let Some(code) = code(
        "SELECT code FROM site WHERE survey_id = ?1 GROUP BY lower(code) HAVING count(*) > 1 \
         LIMIT 1",
    )? {
        return Err(BookError::refused(
            format!("the survey has site `{code}` twice"),
            "give each site a code of its own",
        ));
    }
    if let Some(code) = code(
        "SELECT site.code FROM visit JOIN site ON site.id = visit.site_id \
         WHERE visit.survey_id = ?1 GROUP BY visit.site_id HAVING count(*) > 1 LIMIT 1",
    )? {
        return Err(BookError::refused(
            format!("site `{code}` is visited twice in this survey"),
            "keep one visit a site; put a second throw into the same visit",
        ));
    }
    if let Some(code) = code(
        "SELECT site.code FROM visit JOIN site ON site.id = visit.site_id \
         WHERE visit.survey_id = ?1 AND site.survey_id <> ?1 LIMIT 1",
    )? {
        return Err(BookError::refused(
            format!("a visit belongs to this survey, its site `{code}` to another"),
            "record the visit at the site of the same survey",
        ));
    }
    Ok(())
}
