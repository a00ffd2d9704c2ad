//! The form of the file: migrations, the registration of layers, and what every connection needs.

use crate::error::BookError;
use geopackage_core::ddl;
use geopackage_core::geometry::{blob_is_empty, blob_xy_envelope};
use geopackage_core::triggers;
use rusqlite::functions::FunctionFlags;
use rusqlite::{Connection, params};
use std::path::Path;
use std::time::Duration;

/// `GPKG` in the file's header. Source: OGC 12-128r19 (GeoPackage 1.4), requirement 2.
pub(crate) const APPLICATION_ID: u32 = 0x4750_4B47;
/// GeoPackage 1.4.0. Source: OGC 12-128r19, requirement 2. It is not ours to count with.
const USER_VERSION: u32 = 10_400;
/// How long to wait for another program to finish its write.
const PATIENCE: Duration = Duration::from_secs(3);
/// Statements kept ready: a visit alone needs about ten.
const READY_STATEMENTS: usize = 200;

/// One step from one book form to the next.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Migration {
    /// The form it leads to.
    pub(crate) version: u32,
    /// Its statements.
    pub(crate) sql: &'static str,
    /// Layers with a geometry it registers.
    pub(crate) layers: &'static [Layer],
    /// Tables without one it registers.
    pub(crate) tables: &'static [Table],
    /// Tables whose rows are the fold of the log, with the column that names the record.
    pub(crate) watched: &'static [(&'static str, &'static str)],
}

/// A layer a GIS can draw.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Layer {
    pub(crate) name: &'static str,
    kind: &'static str,
    /// What a person reads.
    title: &'static str,
    description: &'static str,
    /// False for a view, which cannot have a spatial index of its own.
    indexed: bool,
}

/// A table without geometry.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Table {
    name: &'static str,
    title: &'static str,
    description: &'static str,
}

const fn layer(
    name: &'static str,
    kind: &'static str,
    title: &'static str,
    description: &'static str,
) -> Layer {
    Layer { name, kind, title, description, indexed: true }
}

const fn table(name: &'static str, title: &'static str, description: &'static str) -> Table {
    Table { name, title, description }
}

/// Every migration, the oldest first.
pub(crate) const MIGRATIONS: &[Migration] = &[
    Migration {
        version: 1,
        sql: include_str!("../migrations/0001_first_book.sql"),
        layers: &[
            layer(
                "lake_outline",
                "MULTIPOLYGON",
                "Lake outline",
                "outline of the lake with islands",
            ),
            layer("zone", "MULTIPOLYGON", "Zones", "named parts of the lake"),
            layer("sub_area", "MULTIPOLYGON", "Sub-areas", "parts of zones, about an acre each"),
            layer("landmark", "POINT", "Landmarks", "launches, landmarks, hazards"),
            layer("site", "POINT", "Sites", "where each survey means to throw the rake"),
            layer("visit", "POINT", "Visits", "where the boat was, and what was measured there"),
            layer("surface_bed", "MULTIPOLYGON", "Surface beds", "beds seen at the surface"),
            layer("shoreline_find", "POINT", "Shoreline finds", "plants found on the shore"),
            layer("treatment", "MULTIPOLYGON", "Treatments", "what was done to plants, and where"),
            layer("sounding", "POINT", "Soundings", "measured depths in metres"),
            layer("depth_contour", "GEOMETRY", "Depth contours", "lines of equal depth in metres"),
            Layer {
                name: "site_result",
                kind: "POINT",
                title: "Results by site",
                description: "each site of each survey with its outcome, depth and taxa",
                indexed: false,
            },
        ],
        tables: &[
            table("lake", "Lake", "the lake's header"),
            table("taxon", "Taxa", "the lake's list of taxa"),
            table("rating_scale", "Rating scales", "scales the surveys use"),
            table("rating_step", "Rating steps", "the steps of each scale"),
            table("survey", "Surveys", "headers of the surveys"),
            table("amendment", "Amendments", "changes to sealed surveys: who, when, why"),
            table("throw", "Rake throws", "throws of each visit with the rating of the whole rake"),
            table("observation", "Observations", "taxa on each throw with their rating"),
            table("photo", "Photos", "photos by name and SHA-256"),
            table("voucher", "Vouchers", "specimens kept"),
            table("data_set", "Data sets", "soundings, contours and rasters by SHA-256"),
            table("conflict", "Conflicts", "edits kept beside the current version"),
            table("change_log", "Change log", "every change ever made to the book"),
        ],
        watched: &[
            ("lake", "id"),
            ("lake_outline", "id"),
            ("zone", "id"),
            ("sub_area", "id"),
            ("landmark", "id"),
            ("taxon", "id"),
            ("rating_scale", "id"),
            ("rating_step", "scale_id"),
            ("survey", "id"),
            ("amendment", "id"),
            ("site", "id"),
            ("visit", "id"),
            ("throw", "visit_id"),
            ("observation", "visit_id"),
            ("surface_bed", "id"),
            ("shoreline_find", "id"),
            ("photo", "id"),
            ("voucher", "id"),
            ("treatment", "id"),
            ("data_set", "id"),
            ("sounding", "data_set_id"),
            ("depth_contour", "data_set_id"),
            ("conflict", "id"),
        ],
    },
    Migration {
        version: 2,
        sql: include_str!("../migrations/0002_papers.sql"),
        layers: &[],
        tables: &[
            table("route", "Routes", "the way of each boat through a survey's sites"),
            table("paper_text", "Words on papers", "the lake's own words on kit lists and cards"),
            table(
                "sheet_scan",
                "Sheets read back",
                "pictures of field sheets, filed by survey and site",
            ),
        ],
        watched: &[("route", "id"), ("paper_text", "id"), ("sheet_scan", "id")],
    },
    Migration {
        version: 3,
        sql: include_str!("../migrations/0003_dropped_sites.sql"),
        layers: &[],
        tables: &[],
        watched: &[],
    },
    Migration {
        version: 4,
        sql: include_str!("../migrations/0004_board_limits.sql"),
        layers: &[],
        tables: &[table(
            "board_limit",
            "Limits of the board",
            "what the lake board calls too much",
        )],
        watched: &[("board_limit", "id")],
    },
    record_keeping::RECORD_KEEPING,
    Migration {
        version: 6,
        sql: include_str!("../migrations/0006_backgrounds.sql"),
        layers: &[layer(
            "background",
            "MULTIPOLYGON",
            "Backgrounds",
            "scanned maps under the lake",
        )],
        tables: &[],
        watched: &[("background", "id")],
    },
    Migration {
        version: 7,
        sql: include_str!("../migrations/0007_columns_and_scales.sql"),
        layers: &[],
        tables: &[table("column_map", "Column maps", "what the columns of files of records mean")],
        watched: &[("column_map", "id")],
    },
];

/// The newest form in a list of migrations.
pub(crate) fn newest(migrations: &[Migration]) -> u32 {
    migrations.last().map_or(0, |one| one.version)
}

/// What a connection needs before it may read or write a book.
pub(crate) fn prepare(connection: &Connection, writable: bool) -> rusqlite::Result<()> {
    connection.busy_timeout(PATIENCE)?;
    connection.set_prepared_statement_cache_capacity(READY_STATEMENTS);
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "cache_size", -64_000)?;
    if writable {
        connection.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(()))?;
        connection.pragma_update(None, "synchronous", "FULL")?;
    }
    add_functions(connection)
}

/// The functions the spatial index's triggers call, on every connection.
/// Source: OGC 12-128r19 (GeoPackage 1.4), annex F.3.
fn add_functions(connection: &Connection) -> rusqlite::Result<()> {
    let flags = FunctionFlags::SQLITE_UTF8
        | FunctionFlags::SQLITE_DETERMINISTIC
        | FunctionFlags::SQLITE_INNOCUOUS;
    let failed = |error| rusqlite::Error::UserFunctionError(Box::new(error));
    // the envelope is west, east, south, north
    for (name, place) in [("ST_MinX", 0), ("ST_MaxX", 1), ("ST_MinY", 2), ("ST_MaxY", 3)] {
        connection.create_scalar_function(name, 1, flags, move |context| {
            let blob = context.get_raw(0).as_blob_or_null()?;
            blob.map(blob_xy_envelope)
                .transpose()
                .map(|envelope| envelope.flatten().map(|edges| edges[place]))
                .map_err(failed)
        })?;
    }
    connection.create_scalar_function("ST_IsEmpty", 1, flags, move |context| {
        let blob = context.get_raw(0).as_blob_or_null()?;
        blob.map(blob_is_empty).transpose().map_err(failed)
    })
}

/// Makes an empty GeoPackage of a new file.
pub(crate) fn create_geopackage(connection: &Connection) -> Result<(), BookError> {
    connection.pragma_update(None, "application_id", APPLICATION_ID)?;
    connection.pragma_update(None, "user_version", USER_VERSION)?;
    for sql in [
        ddl::CREATE_GPKG_SPATIAL_REF_SYS,
        ddl::CREATE_GPKG_CONTENTS,
        ddl::CREATE_GPKG_GEOMETRY_COLUMNS,
        ddl::CREATE_GPKG_EXTENSIONS,
    ] {
        connection.execute_batch(sql)?;
    }
    // required rows: OGC 12-128r19, requirement 11
    let mut insert = connection.prepare(
        "INSERT INTO gpkg_spatial_ref_sys (srs_name, srs_id, organization, \
         organization_coordsys_id, definition, description) VALUES (?1, ?2, ?3, ?2, ?4, ?5)",
    )?;
    insert.execute(params![
        "WGS 84 geodetic",
        crate::gpb::EPSG,
        "EPSG",
        crs_definitions::EPSG_4326.wkt,
        "longitude and latitude in decimal degrees on the WGS 84 ellipsoid"
    ])?;
    for (name, id, words) in [
        ("Undefined Cartesian SRS", -1, "undefined Cartesian coordinate reference system"),
        ("Undefined geographic SRS", 0, "undefined geographic coordinate reference system"),
    ] {
        insert.execute(params![name, id, "NONE", "undefined", words])?;
    }
    Ok(())
}

/// Brings a book from one form to the newest of a list, inside the caller's transaction.
pub(crate) fn migrate(
    connection: &Connection,
    from: u32,
    migrations: &[Migration],
    at: &str,
) -> Result<(), BookError> {
    for migration in migrations.iter().filter(|one| one.version > from) {
        connection.execute_batch(migration.sql)?;
        for layer in migration.layers {
            register_layer(connection, layer, at)?;
        }
        for table in migration.tables {
            connection.execute(
                "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, \
                 last_change) VALUES (?1, 'attributes', ?2, ?3, ?4)",
                params![table.name, table.title, table.description, at],
            )?;
        }
        for (table, key) in migration.watched {
            watch(connection, table, key)?;
        }
        connection.execute(
            "INSERT INTO schema_version (version, applied_at, program) VALUES (?1, ?2, ?3)",
            params![migration.version, at, env!("CARGO_PKG_VERSION")],
        )?;
    }
    Ok(())
}

fn register_layer(connection: &Connection, layer: &Layer, at: &str) -> Result<(), BookError> {
    connection.execute(
        "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, last_change, \
         srs_id) VALUES (?1, 'features', ?2, ?3, ?4, ?5)",
        params![layer.name, layer.title, layer.description, at, crate::gpb::EPSG],
    )?;
    connection.execute(
        "INSERT INTO gpkg_geometry_columns (table_name, column_name, geometry_type_name, srs_id, \
         z, m) VALUES (?1, 'geom', ?2, ?3, 0, 0)",
        params![layer.name, layer.kind, crate::gpb::EPSG],
    )?;
    if layer.indexed {
        let format = |error: geopackage_core::Error| BookError::other(error.to_string());
        connection.execute_batch(
            &triggers::create_rtree_table_sql(layer.name, "geom").map_err(format)?,
        )?;
        for sql in triggers::create_triggers_sql(layer.name, "geom", "fid").map_err(format)? {
            connection.execute_batch(&sql)?;
        }
        connection.execute(
            "INSERT INTO gpkg_extensions (table_name, column_name, extension_name, definition, \
             scope) VALUES (?1, 'geom', ?2, ?3, ?4)",
            params![
                layer.name,
                triggers::EXTENSION_NAME,
                triggers::EXTENSION_DEFINITION,
                triggers::EXTENSION_SCOPE
            ],
        )?;
    }
    Ok(())
}

/// Notes what another program does to a table while the gate is closed.
fn watch(connection: &Connection, table: &str, key: &str) -> rusqlite::Result<()> {
    for (event, row, word) in
        [("INSERT", "NEW", "added"), ("UPDATE", "NEW", "changed"), ("DELETE", "OLD", "deleted")]
    {
        connection.execute_batch(&format!(
            "CREATE TRIGGER {table}_{word}_elsewhere AFTER {event} ON {table} \
             WHEN (SELECT open FROM write_gate) = 0 \
             BEGIN INSERT INTO edited_elsewhere (table_name, row_key, what) \
             VALUES ('{table}', {row}.{key}, '{word}'); END"
        ))?;
    }
    Ok(())
}

/// The form of a book and the program that gave it that form.
pub(crate) fn version(connection: &Connection) -> rusqlite::Result<(u32, String)> {
    connection.query_row(
        "SELECT version, program FROM schema_version ORDER BY version DESC LIMIT 1",
        [],
        |row| Ok((row.get(0)?, row.get(1)?)),
    )
}

/// The whole book as one file of its own, everything written so far in it.
pub(crate) fn copy_to(connection: &Connection, path: &Path) -> Result<(), BookError> {
    if path.exists() {
        return Err(BookError::Exists { path: path.to_owned() });
    }
    let text = path.to_str().ok_or_else(|| {
        BookError::refused(
            format!("`{}` cannot be used as a file name", path.display()),
            "use letters, digits and dashes",
        )
    })?;
    // a connection that only looks may still copy: the copy is another file
    let looks_only: bool = connection.pragma_query_value(None, "query_only", |row| row.get(0))?;
    if looks_only {
        connection.pragma_update(None, "query_only", false)?;
    }
    let copied = connection.execute("VACUUM INTO ?1", [text]);
    if looks_only {
        connection.pragma_update(None, "query_only", true)?;
    }
    copied.map(drop).map_err(|error| {
        // a half-made copy would be taken for a backup
        let _ = std::fs::remove_file(path);
        BookError::from(error).at(path)
    })
}

mod record_keeping;
#[cfg(test)]
mod tests;
