//! What two edits of one record say differently, as a person reads it.

use super::Labels;
use crate::entry::throw_words;
use crate::views::{ConflictFieldView, ObservationBody, ThrowBody};
use lakebook::Event;
use serde::Deserialize;
use serde_json::Value;
use survey::Taxon;
use survey::scale::RatingScale;
use units::{Metres, UnitSystem};

/// A throw as a body keeps it: plants by key, ratings by their place on the scale.
#[derive(Debug, Deserialize)]
struct KeptThrow {
    number: u8,
    total_rating: Option<usize>,
    observations: Vec<KeptFind>,
}

#[derive(Debug, Deserialize)]
struct KeptFind {
    taxon_id: String,
    rating: Option<usize>,
    seen: String,
}

/// Words for the values of one record.
struct Words<'a> {
    taxa: &'a [Taxon],
    scale: Option<&'a RatingScale>,
    units: UnitSystem,
}

/// The fields in which two edits differ; that one is there and the other not, where one took the record
/// out.
pub(super) fn fields(
    current: Option<&Event>,
    other: &Event,
    names: &Labels,
    units: UnitSystem,
) -> Vec<ConflictFieldView> {
    let body = |event: &Event| serde_json::from_str(&event.body).unwrap_or(Value::Null);
    let (standing, beside) = (current.map_or(Value::Null, body), body(other));
    let (Value::Object(standing), Value::Object(beside)) = (&standing, &beside) else {
        let whole = |value: &Value| if value.is_null() { "not there" } else { "there" }.to_owned();
        return vec![ConflictFieldView {
            field: "record".to_owned(),
            current: whole(&standing),
            other: whole(&beside),
        }];
    };
    let survey = beside.get("survey_id").and_then(Value::as_str);
    let record = names.records.iter().find(|one| Some(&*one.survey.id.to_string()) == survey);
    let words = Words { taxa: &names.taxa, scale: record.map(|one| &one.scale), units };
    beside
        .iter()
        .filter(|(field, value)| standing.get(*field) != Some(value))
        .map(|(field, value)| ConflictFieldView {
            field: spoken(field),
            current: words.of(field, standing.get(field).unwrap_or(&Value::Null)),
            other: words.of(field, value),
        })
        .collect()
}

/// A field by the name a person gives it; its unit stands with the value.
fn spoken(field: &str) -> String {
    match field {
        "geom" => "position".to_owned(),
        "local_time" => "time".to_owned(),
        _ => field.trim_end_matches("_m").replace('_', " "),
    }
}

impl Words<'_> {
    fn of(&self, field: &str, value: &Value) -> String {
        match (field, value) {
            ("throws", Value::Array(_)) => self.throws(value).unwrap_or_else(|| self.plain(value)),
            ("geom", Value::Array(at)) => match at.as_slice() {
                [Value::Number(east), Value::Number(north)] => format!("{north}, {east}"),
                _ => self.plain(value),
            },
            (field, Value::Number(number)) if field.ends_with("_m") => number
                .as_f64()
                .map_or_else(String::new, |metres| self.units.depth(Metres::new(metres))),
            _ => self.plain(value),
        }
    }

    /// As the sheet writes them.
    fn throws(&self, value: &Value) -> Option<String> {
        let scale = self.scale?;
        let step = |place: usize| scale.steps.get(place).map(|step| step.code.clone());
        let kept = Vec::<KeptThrow>::deserialize(value).ok()?;
        let lines: Vec<String> = kept
            .into_iter()
            .map(|throw| {
                throw_words(&ThrowBody {
                    number: throw.number,
                    total: throw.total_rating.and_then(step),
                    observations: throw
                        .observations
                        .into_iter()
                        .map(|one| ObservationBody {
                            taxon: self.code(&one.taxon_id),
                            rating: one.rating.and_then(step),
                            seen: Some(one.seen),
                        })
                        .collect(),
                })
            })
            .collect();
        Some(if lines.is_empty() { "none".to_owned() } else { lines.join("; ") })
    }

    /// The code of a plant for its key, any other text as it is.
    fn code(&self, text: &str) -> String {
        let taxon = self.taxa.iter().find(|taxon| taxon.id.to_string() == text);
        taxon.map_or_else(|| text.to_owned(), |taxon| taxon.code.to_string())
    }

    fn plain(&self, value: &Value) -> String {
        match value {
            Value::Null => "nothing".to_owned(),
            Value::String(text) if text.is_empty() => "nothing".to_owned(),
            Value::String(text) => self.code(text),
            Value::Array(list) => {
                list.iter().map(|one| self.plain(one)).collect::<Vec<_>>().join("; ")
            }
            Value::Object(fields) => fields
                .iter()
                .filter(|(_, value)| !value.is_null())
                .map(|(field, value)| format!("{} {}", spoken(field), self.of(field, value)))
                .collect::<Vec<_>>()
                .join(", "),
            other => other.to_string(),
        }
    }
}
