//! Which rows go on which sheet, and how the legend is fitted under them.

use super::{FieldSheets, SheetRow, SheetSpecies};
use crate::fonts::{Face, Fonts};
use crate::settings::Settings;

/// Splits rows into sheets. A group stays on one sheet when it fits on one.
pub(super) fn paginate(rows: &[SheetRow], per_sheet: usize) -> Vec<&[SheetRow]> {
    let mut sheets = Vec::new();
    let (mut start, mut end) = (0, 0);
    while end < rows.len() {
        let group = rows[end].group.as_deref();
        // each boat has sheets of its own
        if end > start && rows[end].boat != rows[start].boat {
            sheets.push(&rows[start..end]);
            start = end;
        }
        let run = group.map_or(1, |_| {
            rows[end..]
                .iter()
                .take_while(|row| row.group.as_deref() == group && row.boat == rows[end].boat)
                .count()
        });
        let used = end - start;
        if used + run <= per_sheet {
            end += run;
        } else if used > 0 {
            sheets.push(&rows[start..end]);
            start = end;
        } else {
            end += per_sheet;
            sheets.push(&rows[start..end]);
            start = end;
        }
    }
    if end > start {
        sheets.push(&rows[start..end]);
    }
    sheets
}

/// The legend under the rows.
pub(super) struct Legend {
    /// Size of the letters in points.
    pub(super) size: f64,
    /// Distance of lines in points.
    pub(super) line: f64,
    /// Widths of the columns in points.
    pub(super) widths: Vec<f64>,
    /// Those that fit, names cut where they must be.
    pub(super) items: Vec<SheetSpecies>,
    /// True when the rest, or a full name, needs a page of codes.
    pub(super) spills: bool,
}

/// Height in points for the lines of the legend: the page without margins, heading, maps, rows, gaps,
/// the legend's own heading and the foot.
pub(super) fn legend_room(sheets: &FieldSheets, settings: &Settings, fonts: &Fonts) -> f64 {
    let (width, height) = settings.paper.size_pt();
    let rows = super::rows_per_sheet(sheets, settings) as f64 * super::row_height(settings);
    let foot = fonts.width(&super::foot(sheets), 8.2, Face::Plain) / (width - 66.0 - 182.0);
    let foot = 1.0 + 9.6 * foot.ceil().max(1.0);
    height - 45.0 - 53.0 - 131.0 - 25.0 - 20.0 - rows - 19.0 - foot
}

const COLUMN_GAP: f64 = 8.0;

fn item_width(item: &SheetSpecies, size: f64, fonts: &Fonts) -> f64 {
    let mark = if item.introduced { fonts.width(" !", size, Face::Bold) } else { 0.0 };
    let code = fonts.width(&format!("{} ", item.code), size, Face::Bold);
    code + fonts.width(&item.name, size, Face::Plain) + mark + 1.0
}

pub(super) fn legend(sheets: &FieldSheets, settings: &Settings, fonts: &Fonts) -> Legend {
    let (width, _) = settings.paper.size_pt();
    let (ratings, outcomes) = super::word_columns(sheets, fonts);
    let room = width - 66.0 - ratings - outcomes - 20.0;
    let height = legend_room(sheets, settings, fonts);
    let species = &sheets.species;
    let sizes = [(8.8, 15.0), (8.6, 13.0), (8.2, 11.6), (7.6, 10.4), (7.0, 9.4)];
    let large = [(10.6, 14.4), (10.2, 13.2), (9.6, 12.2)];
    let sizes = if settings.large { large.as_slice() } else { sizes.as_slice() };
    for &(size, line) in sizes {
        let rows = (height / line).floor().max(1.0) as usize;
        let columns = species.len().div_ceil(rows).max(2);
        let per_column = species.len().div_ceil(columns).max(1);
        let widths: Vec<f64> = species
            .chunks(per_column)
            .map(|column| {
                column.iter().map(|item| item_width(item, size, fonts)).fold(0.0, f64::max)
            })
            .collect();
        let total = widths.iter().sum::<f64>() + COLUMN_GAP * (widths.len() as f64 - 1.0);
        if total <= room {
            return Legend { size, line, widths, items: species.clone(), spills: false };
        }
    }
    let (size, line) = if settings.large { (9.2, 12.0) } else { (7.6, 10.4) };
    let rows = (height / line).floor().max(1.0) as usize;
    let column = (room - 2.0 * COLUMN_GAP) / 3.0;
    let items: Vec<_> = species
        .iter()
        .take(rows * 3)
        .map(|item| {
            let nameless = SheetSpecies { name: String::new(), ..item.clone() };
            let spare = column - item_width(&nameless, size, fonts);
            SheetSpecies {
                name: fonts.shorten(&item.name, size, Face::Plain, spare),
                ..item.clone()
            }
        })
        .collect();
    Legend { size, line, widths: vec![column; 3], items, spills: true }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(groups: &[(Option<&str>, usize)]) -> Vec<SheetRow> {
        groups
            .iter()
            .flat_map(|(group, count)| (0..*count).map(move |_| *group))
            .enumerate()
            .map(|(index, group)| SheetRow {
                code: (index + 1).to_string(),
                zone: String::new(),
                group: group.map(str::to_owned),
                landmark: String::new(),
                planned_depth: None,
                place: None,
                way: Vec::new(),
                position: None,
                arrive: String::new(),
                boat: None,
            })
            .collect()
    }

    #[test]
    fn every_row_is_on_exactly_one_sheet_in_order() {
        for (groups, want) in [
            (vec![(None, 1)], vec![1]),
            (vec![(None, 15)], vec![15]),
            (vec![(None, 16)], vec![15, 1]),
            (vec![(None, 1_000)], [vec![15; 66], vec![10]].concat()),
            (vec![(Some("A"), 6), (Some("B"), 6), (Some("C"), 6)], vec![12, 6]),
            (vec![(Some("A"), 20), (Some("B"), 3)], vec![15, 8]),
            (vec![(None, 14), (Some("A"), 2)], vec![14, 2]),
        ] {
            let rows = rows(&groups);
            let sheets = paginate(&rows, 15);
            let sizes: Vec<_> = sheets.iter().map(|sheet| sheet.len()).collect();
            assert_eq!(sizes, want, "{groups:?}");
            let codes: Vec<_> = sheets.iter().flat_map(|sheet| sheet.iter()).collect();
            assert!(codes.iter().zip(&rows).all(|(a, b)| **a == *b));
        }
    }
}
