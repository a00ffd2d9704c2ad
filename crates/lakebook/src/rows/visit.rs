//! Visits with their throws and observations: one event, three tables.

use super::columns::{At, Key, date_time_text};
use super::{Nested, Stored, stored};
use crate::error::BookError;
use crate::gpb::PointColumn;
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use rusqlite::{Connection, Params, params};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::collections::HashMap;
use survey::{
    Fix, HowSeen, Observation, Rating, ReportedCounts, Sampling, SiteResult, Throw, Visit,
};
use units::Metres;

/// The word for a visit whose rake was thrown.
const SAMPLED: &str = "sampled";

stored! {
    /// A visit.
    VisitRow = Visit in "visit" {
        geom: Option<PointColumn>,
        id: Key,
        survey_id: Key,
        site_id: Key,
        accuracy_m: Option<f64>,
        local_time: Option<String>,
        depth_m: Option<f64>,
        sediment: Option<String>,
        result: String,
        reported_species: Option<u16>,
        reported_native_species: Option<u16>,
        observer: String,
        note: String,
    } nested {
        throws: Vec<ThrowRow>,
    }
}

/// A throw.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct ThrowRow {
    pub(crate) number: u8,
    pub(crate) total_rating: Option<u8>,
    pub(crate) observations: Vec<ObservationRow>,
}

/// An observation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct ObservationRow {
    pub(crate) taxon_id: Key,
    pub(crate) rating: Option<u8>,
    pub(crate) seen: Seen,
}

/// How a plant was seen, kept as its word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Seen(pub(crate) HowSeen);

impl Serialize for Seen {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.0.key())
    }
}

impl<'de> Deserialize<'de> for Seen {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(from)?;
        text.parse().map(Self).map_err(serde::de::Error::custom)
    }
}

impl ToSql for Seen {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(ToSqlOutput::Borrowed(self.0.key().into()))
    }
}

impl FromSql for Seen {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        let text = value.as_str()?;
        text.parse().map(Self).map_err(|error| FromSqlError::Other(Box::new(error)))
    }
}

impl Nested for VisitRow {
    fn write_nested(&self, connection: &Connection) -> rusqlite::Result<()> {
        for sql in
            ["DELETE FROM throw WHERE visit_id = ?1", "DELETE FROM observation WHERE visit_id = ?1"]
        {
            connection.prepare_cached(sql)?.execute([self.id])?;
        }
        let key = self.id.to_string();
        let mut throw_sql = connection.prepare_cached(
            "INSERT INTO throw (visit_id, number, total_rating) VALUES (?1, ?2, ?3)",
        )?;
        let mut observation_sql = connection.prepare_cached(
            "INSERT INTO observation (visit_id, throw_number, taxon_id, rating, seen) \
             VALUES (?1, ?2, ?3, ?4, ?5)",
        )?;
        for throw in &self.throws {
            throw_sql.execute(params![key, throw.number, throw.total_rating])?;
            for one in &throw.observations {
                observation_sql.execute(params![
                    key,
                    throw.number,
                    one.taxon_id,
                    one.rating,
                    one.seen
                ])?;
            }
        }
        Ok(())
    }

    fn read_nested(
        rows: &mut [Self],
        connection: &Connection,
        clause: &str,
        parameters: impl Params + Clone,
    ) -> Result<(), BookError> {
        let places: HashMap<Key, usize> =
            rows.iter().enumerate().map(|(index, row)| (row.id, index)).collect();
        // in the order of the index, which is also the order written
        let sql = format!(
            "SELECT visit_id, number, total_rating FROM throw \
             WHERE visit_id IN (SELECT id FROM visit {clause}) ORDER BY visit_id, fid"
        );
        let mut statement = connection.prepare_cached(&sql)?;
        let mut found = statement.query(parameters.clone())?;
        while let Some(row) = found.next()? {
            if let Some(place) = places.get(&row.get(0)?) {
                rows[*place].throws.push(ThrowRow {
                    number: row.get(1)?,
                    total_rating: row.get(2)?,
                    observations: Vec::new(),
                });
            }
        }
        let sql = format!(
            "SELECT visit_id, throw_number, taxon_id, rating, seen FROM observation \
             WHERE visit_id IN (SELECT id FROM visit {clause}) ORDER BY visit_id, fid"
        );
        let mut statement = connection.prepare_cached(&sql)?;
        let mut found = statement.query(parameters)?;
        while let Some(row) = found.next()? {
            let Some(place) = places.get(&row.get(0)?) else { continue };
            let number: u8 = row.get(1)?;
            let one =
                ObservationRow { taxon_id: row.get(2)?, rating: row.get(3)?, seen: row.get(4)? };
            let visit = &mut rows[*place];
            match visit.throws.iter_mut().find(|throw| throw.number == number) {
                Some(throw) => throw.observations.push(one),
                None => {
                    return Err(BookError::Row {
                        table: "observation",
                        id: visit.id.to_string(),
                        field: "throw_number",
                        found: number.to_string(),
                        expected: "the number of a throw of that visit".to_owned(),
                    });
                }
            }
        }
        Ok(())
    }
}

impl VisitRow {
    pub(crate) fn of(visit: &Visit) -> Self {
        let (result, counts, throws) = match &visit.result {
            SiteResult::NotSampled(reason) => (reason.key(), None, &[][..]),
            SiteResult::Sampled(sampling) => (SAMPLED, sampling.reported(), sampling.throws()),
        };
        Self {
            geom: visit.actual.map(|fix| PointColumn(fix.position)),
            id: Key(visit.id.0),
            survey_id: Key(visit.survey.0),
            site_id: Key(visit.site.0),
            accuracy_m: visit.actual.and_then(|fix| fix.accuracy).map(Metres::metres),
            local_time: date_time_text(visit.time),
            depth_m: visit.depth.map(Metres::metres),
            sediment: visit.sediment.map(|one| one.key().to_owned()),
            result: result.to_owned(),
            reported_species: counts.map(|counts| counts.species),
            reported_native_species: counts.and_then(|counts| counts.native),
            observer: visit.observer.clone(),
            note: visit.note.clone(),
            throws: throws.iter().map(ThrowRow::of).collect(),
        }
    }

    /// The largest rating in it, to be held against the scale.
    pub(crate) fn largest_rating(&self) -> Option<u8> {
        self.throws
            .iter()
            .flat_map(|throw| {
                throw.observations.iter().filter_map(|one| one.rating).chain(throw.total_rating)
            })
            .max()
    }

    pub(crate) fn into_visit(self) -> Result<Visit, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        let result = if self.result == SAMPLED {
            let reported = self
                .reported_species
                .map(|species| ReportedCounts { species, native: self.reported_native_species });
            let throws = self.throws.into_iter().map(ThrowRow::into_throw).collect();
            SiteResult::Sampled(
                Sampling::new(throws, reported)
                    .map_err(|error| at.fault("result", &self.result, error))?,
            )
        } else {
            SiteResult::NotSampled(at.parse("result", &self.result)?)
        };
        let accuracy =
            self.accuracy_m.map(|accuracy| at.metres("accuracy_m", accuracy)).transpose()?;
        Ok(Visit {
            time: at.parse_some("local_time", self.local_time.as_deref())?,
            depth: self.depth_m.map(|depth| at.metres("depth_m", depth)).transpose()?,
            sediment: at.parse_some("sediment", self.sediment.as_deref())?,
            id: self.id.0.into(),
            survey: self.survey_id.0.into(),
            site: self.site_id.0.into(),
            actual: self.geom.map(|point| Fix { position: point.0, accuracy }),
            result,
            observer: self.observer,
            note: self.note,
        })
    }
}

impl ThrowRow {
    fn of(throw: &Throw) -> Self {
        Self {
            number: throw.number,
            total_rating: throw.total.map(|rating| rating.0),
            observations: throw
                .observations
                .iter()
                .map(|one| ObservationRow {
                    taxon_id: Key(one.taxon.0),
                    rating: one.rating.map(|rating| rating.0),
                    seen: Seen(one.seen),
                })
                .collect(),
        }
    }

    fn into_throw(self) -> Throw {
        Throw {
            number: self.number,
            total: self.total_rating.map(Rating),
            observations: self
                .observations
                .into_iter()
                .map(|one| Observation {
                    taxon: one.taxon_id.0.into(),
                    rating: one.rating.map(Rating),
                    seen: one.seen.0,
                })
                .collect(),
        }
    }
}
