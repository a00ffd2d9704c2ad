//! What the columns of a file mean: said, remembered of a file of the same kind, or guessed.

use super::RecordRequest;
use crate::add::file_name;
use crate::error::{Error, Result};
use crate::species::SpeciesList;
use crate::views::{ColumnReadView, RememberedColumnsView, SheetReadView};
use exchange::{ColumnMap, Faults, Meaning, RecordOptions, RecordTable, Shape};
use lakebook::{KeptColumns, LakeBook};
use std::cell::RefCell;
use std::path::Path;

/// Reads a file; what its columns mean comes from the person, else from the book, else from the
/// headers.
pub(super) fn read(
    book: &LakeBook,
    path: &Path,
    request: &RecordRequest,
    species: &SpeciesList,
) -> Result<(RecordTable, Faults, Option<RememberedColumnsView>)> {
    let map = match &request.columns {
        Some(columns) => {
            let text = std::fs::read_to_string(columns).map_err(|error| {
                Error::input(format!("`{}` cannot be read: {error}", columns.display()))
                    .hint("check the name of the column map")
            })?;
            ColumnMap::from_toml(&file_name(columns), &text)?
        }
        None => ColumnMap::default(),
    };
    let is_taxon = |name: &str| species.find(name).is_some() || SpeciesList::catalogued(name);
    let known = if request.guess_columns { Vec::new() } else { book.column_maps()? };
    let source = RefCell::new(None);
    let recall = |shape: &Shape| {
        let (map, kept) = known.iter().find_map(|kept| recalled(kept, shape, &is_taxon))?;
        source.replace(Some(RememberedColumnsView {
            file: kept.source_file.clone(),
            survey: kept.survey.clone(),
            kept_at: kept.kept_at.clone(),
        }));
        Some(map)
    };
    let map = ColumnMap { sheet: request.sheet.clone().or_else(|| map.sheet.clone()), ..map };
    let options = RecordOptions {
        map,
        is_taxon: Some(&is_taxon),
        new_taxa: request.new_taxa,
        recall: Some(&recall),
    };
    let (table, faults) = exchange::look_at_record(path, &options)?;
    if let Some(file) = &request.save_columns {
        std::fs::write(file, table.column_map().to_toml()).map_err(|error| {
            Error::input(format!("`{}` cannot be written: {error}", file.display()))
                .hint("choose another place with `--save-columns`")
        })?;
    }
    Ok((table, faults, source.take()))
}

/// The map that was kept, when it was kept of a file of this shape: the same headers, in any order,
/// where each year has plants of its own.
fn recalled<'a>(
    kept: &'a KeptColumns,
    shape: &Shape,
    is_taxon: &dyn Fn(&str) -> bool,
) -> Option<(ColumnMap, &'a KeptColumns)> {
    let now = &shape.headers;
    let known = kept.headers.iter().filter(|header| !kept.plants.contains(header));
    let same = known.clone().count() > 0
        && known.clone().all(|header| now.contains(header))
        && now.iter().all(|header| kept.headers.contains(header) || is_taxon(header));
    if !same {
        return None;
    }
    // a map of the book was written by this program; one that cannot be read is not used
    let map = ColumnMap::from_toml(&kept.source_file, &kept.map).ok()?;
    if map.counts_columns() && kept.headers != *now {
        return None;
    }
    let down = shape.row as isize - kept.header_row as isize;
    Some((map.for_headers(now, down), kept))
}

/// What is to be told of a map that was remembered.
pub(super) fn told(remembered: &RememberedColumnsView) -> String {
    format!(
        "the columns are read as those of `{}`, which was recorded into {}; with \
         `--guess-columns` they are guessed anew",
        remembered.file, remembered.survey
    )
}

/// What the book should remember of this file; nothing when it does already.
pub(super) fn to_keep(
    book: &LakeBook,
    table: &RecordTable,
    path: &Path,
    survey: &str,
) -> Result<Option<KeptColumns>> {
    let headers = &table.shape.headers;
    if headers.is_empty() {
        return Ok(None);
    }
    let plants = table
        .columns
        .iter()
        .filter(|guess| matches!(guess.meaning, Meaning::TaxonColumn | Meaning::Paired))
        .map(|guess| guess.header.trim().to_lowercase())
        .filter(|header| headers.contains(header))
        .collect();
    let map = ColumnMap { sheet: None, ..table.column_map() };
    let columns = KeptColumns {
        headers: headers.clone(),
        plants,
        header_row: u32::try_from(table.shape.row).unwrap_or(u32::MAX),
        map: map.to_toml(),
        source_file: file_name(path),
        survey: survey.to_owned(),
        kept_at: String::new(),
    };
    let known = book.column_maps()?;
    let same = |one: &KeptColumns| KeptColumns { kept_at: String::new(), ..one.clone() } == columns;
    Ok((!known.first().is_some_and(same)).then_some(columns))
}

/// The sheets of a file, and what the columns of the one read were taken for.
pub(super) fn sheets(table: &RecordTable) -> Vec<SheetReadView> {
    let read = SheetReadView {
        name: table.sheet.clone().unwrap_or_default(),
        header_row: Some(table.header_row),
        columns: table
            .columns
            .iter()
            .map(|guess| ColumnReadView {
                index: guess.index,
                header: guess.header.clone(),
                meaning: guess.meaning.key().to_owned(),
                taxon: guess.taxon.clone(),
                unit: guess.unit.map(|unit| unit.sign().to_owned()),
            })
            .collect(),
    };
    if table.sheets.is_empty() {
        return vec![read];
    }
    table
        .sheets
        .iter()
        .map(|name| {
            if Some(name) == table.sheet.as_ref() {
                read.clone()
            } else {
                SheetReadView { name: name.clone(), header_row: None, columns: Vec::new() }
            }
        })
        .collect()
}
