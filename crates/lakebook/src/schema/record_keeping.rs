use super::{Migration, table};

/// Settled finds, second entries, determinations, pictures.
pub(super) const RECORD_KEEPING: Migration = Migration {
    version: 5,
    sql: include_str!("../../migrations/0005_record_keeping.sql"),
    layers: &[],
    tables: &[
        table("settled_find", "Settled finds", "finds of the check a person confirmed, and why"),
        table("second_entry", "Second entries", "the same sheet written up by a second person"),
        table("determination", "Determinations", "who named what was unknown, and how sure"),
    ],
    watched: &[("settled_find", "id"), ("second_entry", "id"), ("determination", "id")],
};
