//! The kinds of values a column holds.

use crate::error::BookError;
use crate::gpb::{AreaColumn, Bounds, PointColumn};
use jiff::civil::{Date, DateTime, Time};
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;
use survey::{Code, Id};
use units::{LonLat, Metres};

/// What every value of a column can say of itself.
pub(crate) trait Column {
    fn bounds(&self) -> Option<Bounds> {
        None
    }
    /// Why it cannot be kept.
    fn fault(&self) -> Option<String> {
        None
    }
    /// The record it refers to.
    fn reference(&self) -> Option<Key> {
        None
    }
    /// What a person reads.
    fn text(&self) -> Option<&str> {
        None
    }
}

macro_rules! plain_columns {
    ($($type:ty),+) => {$(impl Column for $type {})+};
}
plain_columns!(i64, u8, u16, u32, i16, bool);

impl Column for Key {
    fn reference(&self) -> Option<Key> {
        Some(*self)
    }
}

impl Column for String {
    fn text(&self) -> Option<&str> {
        Some(self)
    }
}

impl Column for f64 {
    fn fault(&self) -> Option<String> {
        (!self.is_finite()).then(|| format!("`{self}` is no usable number"))
    }
}

impl<T: Column> Column for Option<T> {
    fn bounds(&self) -> Option<Bounds> {
        self.as_ref().and_then(Column::bounds)
    }
    fn fault(&self) -> Option<String> {
        self.as_ref().and_then(Column::fault)
    }
    fn reference(&self) -> Option<Key> {
        self.as_ref().and_then(Column::reference)
    }
    fn text(&self) -> Option<&str> {
        self.as_ref().and_then(Column::text)
    }
}

impl<T> Column for Json<T> {}

impl Column for PointColumn {
    fn bounds(&self) -> Option<Bounds> {
        Some(Self::bounds(self))
    }
}

impl Column for AreaColumn {
    fn bounds(&self) -> Option<Bounds> {
        Self::bounds(self)
    }
    fn fault(&self) -> Option<String> {
        if self.0.0.is_empty() {
            return Some("the outline is empty".to_owned());
        }
        let rings =
            self.0.iter().flat_map(|one| std::iter::once(one.exterior()).chain(one.interiors()));
        rings
            .flat_map(geo_types::LineString::coords)
            .find_map(|at| LonLat::new(at.x, at.y).err().map(|error| error.to_string()))
    }
}

/// A record's key, text in the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Key(pub(crate) Id);

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl<T: Into<Id>> From<T> for Key {
    fn from(id: T) -> Self {
        Self(id.into())
    }
}

impl ToSql for Key {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(self.to_string().into())
    }
}

impl FromSql for Key {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        let text = value.as_str()?;
        quick_id(text.as_bytes())
            .map(Self)
            .ok_or_else(|| FromSqlError::Other("a record's key".into()))
    }
}

/// Reads a key without allocating: 240,000 of them are read when a large book is loaded.
fn quick_id(text: &[u8]) -> Option<Id> {
    if text.len() != 36 {
        return None;
    }
    let mut bits = 0_u128;
    for (index, byte) in text.iter().enumerate() {
        if matches!(index, 8 | 13 | 18 | 23) {
            if *byte != b'-' {
                return None;
            }
            continue;
        }
        let digit = match byte {
            b'0'..=b'9' => byte - b'0',
            b'a'..=b'f' => byte - b'a' + 10,
            b'A'..=b'F' => byte - b'A' + 10,
            _ => return None,
        };
        bits = bits << 4 | u128::from(digit);
    }
    Some(Id::from_bits(bits))
}

impl Serialize for Key {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Key {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(from)?;
        text.parse().map(Self).map_err(serde::de::Error::custom)
    }
}

/// A column of JSON text; plain JSON in the log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub(crate) struct Json<T>(pub(crate) T);

impl<T: Serialize> ToSql for Json<T> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        serde_json::to_string(&self.0)
            .map(Into::into)
            .map_err(|error| rusqlite::Error::ToSqlConversionFailure(Box::new(error)))
    }
}

impl<T: DeserializeOwned> FromSql for Json<T> {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        serde_json::from_str(value.as_str()?)
            .map(Self)
            .map_err(|error| FromSqlError::Other(Box::new(error)))
    }
}

/// A value as a person would see it, cut to a line.
pub(crate) fn shown(value: ValueRef<'_>) -> String {
    match value {
        ValueRef::Null => "nothing".to_owned(),
        ValueRef::Integer(number) => number.to_string(),
        ValueRef::Real(number) => number.to_string(),
        ValueRef::Text(text) => String::from_utf8_lossy(text).chars().take(60).collect(),
        ValueRef::Blob(blob) => format!("{} bytes", blob.len()),
    }
}

/// A place in the book, for the errors of what is read there.
#[derive(Clone, Copy)]
pub(crate) struct At<'a> {
    pub(crate) table: &'static str,
    pub(crate) id: &'a dyn fmt::Display,
}

impl At<'_> {
    pub(crate) fn fault(
        &self,
        field: &'static str,
        found: &dyn fmt::Display,
        expected: impl fmt::Display,
    ) -> BookError {
        BookError::Row {
            table: self.table,
            id: self.id.to_string(),
            field,
            found: found.to_string(),
            expected: expected.to_string(),
        }
    }

    /// A word of a fixed list, a date, a key: anything that reads from text.
    pub(crate) fn parse<T>(&self, field: &'static str, text: &str) -> Result<T, BookError>
    where
        T: FromStr,
        T::Err: fmt::Display,
    {
        text.parse().map_err(|error| self.fault(field, &text, error))
    }

    pub(crate) fn parse_some<T>(
        &self,
        field: &'static str,
        text: Option<&str>,
    ) -> Result<Option<T>, BookError>
    where
        T: FromStr,
        T::Err: fmt::Display,
    {
        text.map(|text| self.parse(field, text)).transpose()
    }

    pub(crate) fn code(&self, field: &'static str, text: &str) -> Result<Code, BookError> {
        Code::new(text).map_err(|error| self.fault(field, &text, error))
    }

    pub(crate) fn metres(&self, field: &'static str, value: f64) -> Result<Metres, BookError> {
        if value.is_finite() {
            Ok(Metres::new(value))
        } else {
            Err(self.fault(field, &value, "a number of metres"))
        }
    }
}

pub(crate) fn date_text(date: Option<Date>) -> Option<String> {
    date.map(|date| date.to_string())
}

pub(crate) fn time_text(time: Option<Time>) -> Option<String> {
    time.map(|time| time.to_string())
}

pub(crate) fn date_time_text(time: Option<DateTime>) -> Option<String> {
    time.map(|time| time.to_string())
}
