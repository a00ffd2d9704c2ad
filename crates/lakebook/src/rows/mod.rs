//! Rows as kept: the one visible place where the trade's types become columns and JSON, and back.
//!
//! Each row struct has one field a column, under the column's name; the same names are the keys of
//! the change log's body. The trade's types themselves are not serialisable.

mod background;
mod columns;
mod data_set;
mod finds;
mod keeping;
mod lake;
mod papers;
mod site;
mod survey;
mod taxon;
mod visit;

pub(crate) use background::BackgroundRow;
pub(crate) use columns::{Column, Key};
pub(crate) use data_set::DataSetRow;
pub(crate) use finds::{BedRow, PhotoRow, ShorelineFindRow, VoucherRow};
pub(crate) use keeping::{ColumnMapRow, DeterminationRow, SecondEntryRow, SettledRow};
pub(crate) use lake::{
    BoardLimitRow, LakeRow, LandmarkRow, OutlineRow, SubAreaRow, TreatmentRow, ZoneRow,
};
pub(crate) use papers::{PaperTextRow, RouteRow, SheetScanRow};
pub(crate) use site::SiteRow;
pub(crate) use survey::SurveyRow;
pub(crate) use taxon::{ScaleRow, TaxonRow};
pub(crate) use visit::VisitRow;

use crate::entity::Entity;
use crate::error::BookError;
use crate::gpb::Bounds;
use rusqlite::{Connection, Params};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// A record that is one row of one table, with or without rows of its own below it.
pub(crate) trait Stored: Serialize + DeserializeOwned + PartialEq + Sized {
    /// Its kind.
    const ENTITY: Entity;
    /// Its table.
    const TABLE: &'static str;

    /// Its key.
    fn key(&self) -> String;
    /// Bounds of its geometry.
    fn bounds(&self) -> Option<Bounds>;
    /// The first field that cannot be kept, and why.
    fn fault(&self) -> Option<(&'static str, String)>;
    /// The record a column refers to.
    fn reference(&self, column: &str) -> Option<Key>;
    /// The text of a column.
    fn text(&self, column: &str) -> Option<&str>;
    /// Writes it over whatever stands under its key.
    fn upsert(&self, connection: &Connection) -> rusqlite::Result<()>;
    /// `SELECT` of its columns with a clause after the table.
    fn select(
        connection: &Connection,
        clause: &str,
        parameters: impl Params + Clone,
    ) -> Result<Vec<Self>, BookError>;

    /// All of them, in the order of their keys.
    fn all(connection: &Connection) -> Result<Vec<Self>, BookError> {
        Self::select(connection, "ORDER BY id", [])
    }

    /// The one with this key.
    fn one(connection: &Connection, key: &str) -> Result<Option<Self>, BookError> {
        Ok(Self::select(connection, "WHERE id = ?1", [key])?.pop())
    }
}

/// Rows below a row, such as the throws of a visit.
pub(crate) trait Nested: Sized {
    /// Replaces the rows below.
    fn write_nested(&self, _connection: &Connection) -> rusqlite::Result<()> {
        Ok(())
    }
    /// Fills in the rows below of rows selected with the same clause.
    fn read_nested(
        _rows: &mut [Self],
        _connection: &Connection,
        _clause: &str,
        _parameters: impl Params + Clone,
    ) -> Result<(), BookError> {
        Ok(())
    }
}

/// Defines a row struct from one list of columns.
macro_rules! stored {
    ($(#[$doc:meta])* $row:ident = $entity:ident in $table:literal {
        $($(#[$field_doc:meta])* $field:ident: $type:ty,)+
    } $(nested { $($nested:ident: $nested_type:ty,)* })?) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
        pub(crate) struct $row {
            $($(#[$field_doc])* pub(crate) $field: $type,)+
            $($(pub(crate) $nested: $nested_type,)*)?
        }

        impl $crate::rows::Stored for $row {
            const ENTITY: $crate::entity::Entity = $crate::entity::Entity::$entity;
            const TABLE: &'static str = $table;

            fn key(&self) -> String {
                self.id.to_string()
            }

            fn bounds(&self) -> Option<$crate::gpb::Bounds> {
                None$(.or_else(|| $crate::rows::Column::bounds(&self.$field)))+
            }

            fn fault(&self) -> Option<(&'static str, String)> {
                $(if let Some(fault) = $crate::rows::Column::fault(&self.$field) {
                    return Some((stringify!($field), fault));
                })+
                None
            }

            fn reference(&self, column: &str) -> Option<$crate::rows::Key> {
                match column {
                    $(stringify!($field) => $crate::rows::Column::reference(&self.$field),)+
                    _ => None,
                }
            }

            fn text(&self, column: &str) -> Option<&str> {
                match column {
                    $(stringify!($field) => $crate::rows::Column::text(&self.$field),)+
                    _ => None,
                }
            }

            fn upsert(&self, connection: &rusqlite::Connection) -> rusqlite::Result<()> {
                static SQL: std::sync::LazyLock<String> =
                    std::sync::LazyLock::new(|| $crate::rows::upsert_sql($table, &[$(stringify!($field)),+]));
                connection.prepare_cached(&SQL)?.execute(rusqlite::params![$(self.$field),+])?;
                $crate::rows::Nested::write_nested(self, connection)
            }

            fn select(
                connection: &rusqlite::Connection,
                clause: &str,
                parameters: impl rusqlite::Params + Clone,
            ) -> Result<Vec<Self>, $crate::error::BookError> {
                let columns: &[&'static str] = &[$(stringify!($field)),+];
                let sql = format!("SELECT {} FROM {} {clause}", columns.join(", "), $table);
                let mut statement = connection.prepare_cached(&sql)?;
                let mut found = statement.query(parameters.clone())?;
                let mut rows: Vec<Self> = Vec::new();
                while let Some(row) = found.next()? {
                    let mut index = 0;
                    rows.push(Self {
                        $($field: {
                            let at = index;
                            index += 1;
                            $crate::rows::get(row, at, $table, columns)?
                        },)+
                        $($($nested: Default::default(),)*)?
                    });
                    let _ = index;
                }
                drop(found);
                $crate::rows::Nested::read_nested(&mut rows, connection, clause, parameters)?;
                Ok(rows)
            }
        }

        $crate::rows::stored!(@plain $row $([$($nested)*])?);
    };
    (@plain $row:ident) => { impl $crate::rows::Nested for $row {} };
    (@plain $row:ident [$($nested:ident)*]) => {};
}
use stored;

fn upsert_sql(table: &str, columns: &[&str]) -> String {
    let marks: Vec<String> = (1..=columns.len()).map(|number| format!("?{number}")).collect();
    let set: Vec<String> = columns
        .iter()
        .filter(|column| **column != "id")
        .map(|column| format!("{column} = excluded.{column}"))
        .collect();
    format!(
        "INSERT INTO {table} ({}) VALUES ({}) ON CONFLICT (id) DO UPDATE SET {}",
        columns.join(", "),
        marks.join(", "),
        set.join(", ")
    )
}

/// A column of a row; a value that does not fit is named with table, record and field.
fn get<T: rusqlite::types::FromSql>(
    row: &rusqlite::Row<'_>,
    index: usize,
    table: &'static str,
    columns: &[&'static str],
) -> Result<T, BookError> {
    row.get(index).map_err(|error| BookError::Row {
        table,
        id: columns
            .iter()
            .position(|column| *column == "id")
            .and_then(|at| row.get::<_, String>(at).ok())
            .unwrap_or_default(),
        field: columns.get(index).copied().unwrap_or_default(),
        found: row.get_ref(index).map_or_else(|_| String::new(), |value| columns::shown(value)),
        expected: expectation(&error),
    })
}

fn expectation(error: &rusqlite::Error) -> String {
    match error {
        rusqlite::Error::FromSqlConversionFailure(_, _, source) => source.to_string(),
        rusqlite::Error::InvalidColumnType(..) => "a value of another kind".to_owned(),
        other => other.to_string(),
    }
}
