//! The end of a save, and what closes a record: seal, amendment, the settling of a conflict.

use super::{Amending, Writer, to_json};
use crate::entity::{Entity, Operation};
use crate::error::BookError;
use crate::event::{Event, current, time_text};
use crate::fold::{self, AmendBody, SealBody};
use crate::seal;
use survey::SurveyId;

impl Writer<'_> {
    /// Seals a survey; the record as it stands gets its checksum.
    pub(crate) fn seal(&mut self, survey: SurveyId, by: &str) -> Result<String, BookError> {
        let key = survey.to_string();
        let header = current(self.connection, Entity::Survey, &key)?
            .filter(|event| event.operation == Operation::Put)
            .ok_or_else(|| BookError::Unknown { entity: "survey", id: key.clone() })?;
        if let Some(name) = self.sealed.get(&key) {
            return Err(BookError::refused(
                format!("survey `{name}` is sealed already"),
                "check it with `quillwort verify`; change it with `quillwort amend`",
            ));
        }
        if by.trim().is_empty() {
            return Err(BookError::refused(
                "a seal needs the name of the person who closes the record",
                "give it with `--by`",
            ));
        }
        let body = SealBody {
            by: by.trim().to_owned(),
            at: time_text(self.log.now),
            sha256: seal::checksum(self.connection, &key)?,
        };
        let text = to_json(&body, &key)?;
        self.log.append(Entity::Survey, key.clone(), Operation::Seal, Some(header.id), text)?;
        fold::apply_seal(self.connection, &key, &body, &mut self.touched)?;
        Ok(body.sha256)
    }

    /// Settles a conflict; the kept event's body becomes current when `other` is kept.
    pub(crate) fn settle(&mut self, conflict: &Event, keep_other: bool) -> Result<(), BookError> {
        let key = conflict.id.to_string();
        let body = if keep_other { "{\"kept\":\"other\"}" } else { "{\"kept\":\"current\"}" };
        self.log.append(Entity::Conflict, key.clone(), Operation::Settle, None, body.to_owned())?;
        fold::apply_settled(self.connection, &key)?;
        if keep_other {
            self.restore(conflict.entity, &conflict.entity_id, Some(conflict))?;
        }
        Ok(())
    }

    /// Brings a record to the state an event left it in; none means it was not there.
    pub(crate) fn restore(
        &mut self,
        entity: Entity,
        key: &str,
        to: Option<&Event>,
    ) -> Result<(), BookError> {
        match to {
            Some(event) if event.operation == Operation::Put => {
                fold::with_row!(entity, Row => {
                    let row: Row = fold::read_body(event)?;
                    self.put_row(&row)
                }, otherwise Ok(()))
            }
            _ => {
                let standing = current(self.connection, entity, key)?;
                if standing.is_some_and(|event| event.operation == Operation::Put) {
                    self.delete(entity, key)?;
                }
                Ok(())
            }
        }
    }

    /// Checks the rules that hold for a whole save, signs amendments, tells GIS programs.
    pub(crate) fn finish(mut self) -> Result<usize, BookError> {
        self.rules.check(self.connection)?;
        if let Some(amending) = self.amending.take() {
            self.sign(amending)?;
        }
        if self.log.count > 0 {
            self.touched.note("change_log", None);
            if self.conflicts > 0 {
                self.touched.note("conflict", None);
            }
            self.touched.write(self.connection, &time_text(self.log.now))?;
        }
        Ok(self.log.count)
    }

    fn sign(&mut self, amending: Amending) -> Result<(), BookError> {
        let Amending { survey: _, by, why, before } = amending;
        let mut signed = 0;
        for (survey, sha256_before) in before {
            let sha256_after = seal::checksum(self.connection, &survey)?;
            if sha256_after == sha256_before {
                continue;
            }
            let body = AmendBody {
                by: by.clone(),
                why: why.clone(),
                at: time_text(self.log.now),
                sha256_before,
                sha256_after,
            };
            let header = current(self.connection, Entity::Survey, &survey)?.map(|one| one.id);
            let text = to_json(&body, &survey)?;
            let event = self.log.append(Entity::Survey, survey, Operation::Amend, header, text)?;
            fold::apply_amendment(self.connection, &event, &body, &mut self.touched)?;
            signed += 1;
        }
        if signed == 0 {
            return Err(BookError::refused(
                "the amendment changes nothing in the sealed record",
                "say what is to be changed, or leave the record as it is",
            ));
        }
        Ok(())
    }
}
