//! The header of a survey.

use super::columns::{At, Json, Key, date_text, time_text};
use super::{Stored, stored};
use crate::error::BookError;
use serde::{Deserialize, Serialize};
use survey::{Conditions, CrewMember, LayoutNote, Scope, Seal, Survey};
use units::{Celsius, Metres, MetresPerSecond};

stored! {
    /// A survey without its seal: the seal is an event of its own.
    SurveyRow = Survey in "survey" {
        id: Key,
        name: String,
        purpose: String,
        method: String,
        protocol: String,
        start_date: Option<String>,
        end_date: Option<String>,
        scale_id: String,
        /// Left out when empty, so that records sealed before it existed keep their checksum.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        scale_reason: String,
        throws_per_site: u8,
        depth_cap_m: Option<f64>,
        looked_for: Json<Option<Vec<Key>>>,
        crew: Json<Vec<CrewRow>>,
        conditions: Json<Vec<ConditionsRow>>,
        layout: String,
        layout_parameters: Json<Vec<(String, String)>>,
        note: String,
    }
}

/// A person of the crew.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct CrewRow {
    name: String,
    role: String,
    identified: bool,
}

/// A day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct ConditionsRow {
    date: Option<String>,
    start: Option<String>,
    end: Option<String>,
    air_c: Option<f64>,
    water_c: Option<f64>,
    weather: String,
    wind_m_s: Option<f64>,
    wind_words: String,
    secchi_m: Option<f64>,
    water_level_m: Option<f64>,
    gear: String,
}

impl ConditionsRow {
    fn of(day: &Conditions) -> Self {
        Self {
            date: date_text(day.date),
            start: time_text(day.start),
            end: time_text(day.end),
            air_c: day.air.map(Celsius::celsius),
            water_c: day.water.map(Celsius::celsius),
            weather: day.weather.clone(),
            wind_m_s: day.wind.map(MetresPerSecond::metres_per_second),
            wind_words: day.wind_words.clone(),
            secchi_m: day.secchi.map(Metres::metres),
            water_level_m: day.water_level.map(Metres::metres),
            gear: day.gear.clone(),
        }
    }

    fn into_conditions(self, at: At<'_>) -> Result<Conditions, BookError> {
        // JSON holds no infinity, so these numbers are finite
        Ok(Conditions {
            date: at.parse_some("conditions", self.date.as_deref())?,
            start: at.parse_some("conditions", self.start.as_deref())?,
            end: at.parse_some("conditions", self.end.as_deref())?,
            air: self.air_c.map(Celsius::new),
            water: self.water_c.map(Celsius::new),
            weather: self.weather,
            wind: self.wind_m_s.map(MetresPerSecond::new),
            wind_words: self.wind_words,
            secchi: self.secchi_m.map(Metres::new),
            water_level: self.water_level_m.map(Metres::new),
            gear: self.gear,
        })
    }
}

impl SurveyRow {
    pub(crate) fn of(survey: &Survey) -> Self {
        Self {
            id: Key(survey.id.0),
            name: survey.name.clone(),
            purpose: survey.purpose.key().to_owned(),
            method: survey.method.key().to_owned(),
            protocol: survey.protocol.clone(),
            start_date: date_text(survey.start),
            end_date: date_text(survey.end),
            scale_id: survey.scale.clone(),
            scale_reason: survey.scale_reason.clone(),
            throws_per_site: survey.throws_per_site,
            depth_cap_m: survey.depth_cap.map(Metres::metres),
            looked_for: Json(match &survey.scope {
                Scope::WholeCommunity => None,
                Scope::Only(taxa) => Some(taxa.iter().map(|taxon| Key(taxon.0)).collect()),
            }),
            crew: Json(
                survey
                    .crew
                    .iter()
                    .map(|member| CrewRow {
                        name: member.name.clone(),
                        role: member.role.key().to_owned(),
                        identified: member.identified,
                    })
                    .collect(),
            ),
            conditions: Json(survey.conditions.iter().map(ConditionsRow::of).collect()),
            layout: survey.layout.layout.clone(),
            layout_parameters: Json(survey.layout.parameters.clone()),
            note: survey.note.clone(),
        }
    }

    pub(crate) fn into_survey(self, seal: Option<Seal>) -> Result<Survey, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        let mut survey = Survey::new(self.id.0.into(), &self.name, &self.scale_id)
            .map_err(|error| at.fault("name", &self.name, error))?;
        survey.purpose = at.parse("purpose", &self.purpose)?;
        survey.method = at.parse("method", &self.method)?;
        survey.protocol = self.protocol;
        survey.scale_reason = self.scale_reason;
        survey.start = at.parse_some("start_date", self.start_date.as_deref())?;
        survey.end = at.parse_some("end_date", self.end_date.as_deref())?;
        survey.throws_per_site = self.throws_per_site;
        survey.depth_cap = self.depth_cap_m.map(|cap| at.metres("depth_cap_m", cap)).transpose()?;
        survey.scope = match self.looked_for.0 {
            None => Scope::WholeCommunity,
            Some(taxa) => Scope::Only(taxa.into_iter().map(|key| key.0.into()).collect()),
        };
        survey.crew = self
            .crew
            .0
            .into_iter()
            .map(|member| {
                Ok(CrewMember {
                    role: at.parse("crew", &member.role)?,
                    name: member.name,
                    identified: member.identified,
                })
            })
            .collect::<Result<_, BookError>>()?;
        survey.conditions = self
            .conditions
            .0
            .into_iter()
            .map(|day| day.into_conditions(at))
            .collect::<Result<_, BookError>>()?;
        survey.layout = LayoutNote { layout: self.layout, parameters: self.layout_parameters.0 };
        survey.note = self.note;
        survey.seal = seal;
        Ok(survey)
    }
}
