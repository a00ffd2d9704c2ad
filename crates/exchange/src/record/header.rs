//! A header of one line or several, with cells drawn as one.

use super::RecordOptions;
use super::guess::{find_header, header_score};
use crate::cells::{DateReading, read_date};
use crate::columns::{
    ColumnMap, Meaning, looks_like_code, looks_like_taxon, normal_header, same_header,
};
use crate::fault::{Fault, Faults};
use crate::text::{Row, Table};
use units::LengthUnit;

/// What stands in the line under or over the names of plants.
const SUB_WORDS: [&str; 20] = [
    "density",
    "health",
    "vigor",
    "vigour",
    "condition",
    "rating",
    "rake",
    "cover",
    "percent",
    "abundance",
    "height",
    "biomass",
    "count",
    "live",
    "dead",
    "percent cover",
    "density rating",
    "health rating",
    "rake rating",
    "rake density",
];

/// The header as one row, whatever it took.
#[derive(Debug)]
pub(super) struct Header {
    /// One cell a column; the number is that of the line with the most telling words.
    pub(super) row: Row,
    /// For a column without a header of its own, the one whose header reaches over it.
    pub(super) continues: Vec<Option<usize>>,
    /// `density`, `health`: what stands with the name of a plant in another line.
    pub(super) sub: Vec<String>,
    /// Where in the table's rows the records begin.
    pub(super) body: usize,
}

/// Finds the header and puts its lines together.
pub(super) fn read(table: &Table, options: &RecordOptions<'_>) -> Result<Header, Faults> {
    let found = find_header(table, options)?;
    let lines = Lines { table, options };
    let (first, last) = lines.extent(found);
    let base = (first..=last)
        .rev()
        .max_by_key(|index| header_score(&table.rows[*index], &options.map))
        .unwrap_or(found);
    Ok(lines.compose(first, base, last))
}

struct Lines<'a> {
    table: &'a Table,
    options: &'a RecordOptions<'a>,
}

/// One column of the header.
#[derive(Default)]
struct Head {
    text: String,
    sub: String,
    continues: Option<usize>,
}

impl Lines<'_> {
    /// First and last line of the header, as indices of the table's rows.
    fn extent(&self, found: usize) -> (usize, usize) {
        let map = &self.options.map;
        let up = if map.header_row.is_some() { 0 } else { self.groups_above(found) };
        let wanted = map.header_rows.map(|rows| rows - 1);
        let up = wanted.map_or(up, |wanted| up.min(wanted));
        let down = match wanted {
            Some(wanted) => wanted - up,
            None => self.words_below(found),
        };
        let first = self.table.rows[found].number - up;
        let last = self.table.rows[found].number + down;
        let within = |row: &Row| (first..=last).contains(&row.number);
        let rows = &self.table.rows;
        let from = rows.iter().position(within).unwrap_or(found);
        (from, rows.iter().rposition(within).unwrap_or(found))
    }

    /// How many lines above group the columns: every cell in them reaches over several columns
    /// or down into the header.
    fn groups_above(&self, found: usize) -> usize {
        let mut count = 0;
        while count < 3 && count < found {
            let below = &self.table.rows[found - count];
            let row = &self.table.rows[found - count - 1];
            let reaches = |column: usize| {
                self.table.merged.iter().any(|range| {
                    let here = range.top == row.number && range.left == column;
                    let names = (range.left..=range.right).filter(|c| !below.cell(*c).is_empty());
                    here && (range.bottom > row.number || names.count() > 1)
                })
            };
            let mut cells =
                row.cells.iter().enumerate().filter(|(_, cell)| !cell.is_empty()).peekable();
            let groups = cells.peek().is_some() && cells.all(|(column, _)| reaches(column));
            if row.number + 1 != below.number || !groups {
                break;
            }
            count += 1;
        }
        count
    }

    /// How many lines below belong to the header: a cell of it reaches down into them, or they
    /// hold nothing but units, names of plants and words such as `density`.
    fn words_below(&self, found: usize) -> usize {
        let mut count = 0;
        while count < 3 {
            let (above, Some(row)) =
                (&self.table.rows[found + count], self.table.rows.get(found + count + 1))
            else {
                break;
            };
            let reached = self.table.merged.iter().any(|range| {
                range.top <= above.number && range.bottom >= row.number && range.left == range.right
            });
            let filled = || row.cells.iter().enumerate().filter(|(_, cell)| !cell.is_empty());
            let words = filled().count() > 1
                && filled().all(|(column, cell)| self.is_word(found, column, cell));
            if row.number != above.number + 1 || !(reached || words) {
                break;
            }
            count += 1;
        }
        count
    }

    fn is_word(&self, found: usize, column: usize, cell: &str) -> bool {
        let over = Meaning::of_header(&normal_header(self.table.rows[found].cell(column)).0);
        let unit = cell.trim_matches(['(', ')']).parse::<LengthUnit>().is_ok();
        match over.map(|(meaning, _)| meaning) {
            Some(Meaning::Depth) => unit,
            Some(_) => false,
            None => is_sub_word(cell) || unit || self.is_name(cell),
        }
    }

    fn is_name(&self, cell: &str) -> bool {
        looks_like_taxon(cell)
            || looks_like_code(cell)
            || self.options.map.taxa.keys().any(|taxon| same_header(taxon, cell))
            || self.options.is_taxon.is_some_and(|is_taxon| is_taxon(cell))
    }

    /// The text at a place, and the column it comes from when it reaches there from the left.
    fn at(&self, index: usize, column: usize) -> (&str, Option<usize>) {
        let row = &self.table.rows[index];
        if !row.cell(column).is_empty() {
            return (row.cell(column), None);
        }
        let range = self.table.merged.iter().find(|range| {
            (range.top..=range.bottom).contains(&row.number)
                && (range.left..=range.right).contains(&column)
        });
        let Some(range) = range else { return ("", None) };
        let from = self.table.rows.iter().find(|row| row.number == range.top);
        (from.map_or("", |row| row.cell(range.left)), (range.left < column).then_some(range.left))
    }

    fn compose(&self, first: usize, base: usize, last: usize) -> Header {
        let rows = &self.table.rows;
        let widest = if self.table.sheet.is_some() { rows.len() } else { last + 1 };
        let width = rows[first..widest].iter().map(|row| row.cells.len()).max().unwrap_or(0);
        let heads: Vec<Head> =
            (0..width).map(|column| self.head(column, first, base, last)).collect();
        Header {
            row: Row {
                number: rows[base].number,
                cells: heads.iter().map(|head| head.text.clone()).collect(),
            },
            continues: heads.iter().map(|head| head.continues).collect(),
            sub: heads.into_iter().map(|head| head.sub).collect(),
            body: last + 1,
        }
    }

    fn head(&self, column: usize, first: usize, base: usize, last: usize) -> Head {
        let own = self.table.rows[base].cell(column);
        let (spread, left) = self.at(base, column);
        let above =
            (first..base).rev().map(|row| self.at(row, column)).find(|(t, _)| !t.is_empty());
        let below = (base + 1..=last)
            .map(|row| self.table.rows[row].cell(column))
            .find(|text| !text.is_empty() && *text != own)
            .unwrap_or_default();
        let wide = self.table.merged.iter().any(|range| {
            range.top == self.table.rows[base].number
                && range.left < range.right
                && (range.left..=range.right).contains(&column)
        });
        // a word such as `density` under the name of a plant
        if let Some((group, from)) = above
            && is_sub_word(own)
            && group != own
        {
            let text = if from.is_some() { String::new() } else { group.to_owned() };
            return Head { text, sub: own.to_owned(), continues: from };
        }
        // a name under a heading that reaches over several
        if !below.is_empty() && !is_sub_word(below) && (wide || own.is_empty()) {
            return Head { text: below.to_owned(), ..Head::default() };
        }
        if own.is_empty() && left.is_none() {
            let text = if spread.is_empty() { above.map_or("", |(text, _)| text) } else { spread };
            return Head { text: text.to_owned(), sub: below.to_owned(), continues: None };
        }
        // a unit in a line of its own belongs to the header
        let unit = below.trim_matches(['(', ')']);
        let text = if !own.is_empty() && unit.parse::<LengthUnit>().is_ok() {
            format!("{own} ({unit})")
        } else {
            own.to_owned()
        };
        Head { text, sub: below.to_owned(), continues: left }
    }
}

fn is_sub_word(text: &str) -> bool {
    SUB_WORDS.contains(&normal_header(text).0.as_str())
}

/// A cell drawn over several rows of records stands in each of them.
pub(super) fn spread_down(table: &mut Table, body: usize) {
    const MOST: usize = 1_000_000;
    let Some(start) = table.rows.get(body).map(|row| row.number) else { return };
    let mut filled = 0;
    for index in 0..table.merged.len() {
        let range = table.merged[index];
        if range.top < start || range.top == range.bottom {
            continue;
        }
        let from = table.rows.partition_point(|row| row.number < range.top);
        let Some(text) = table.rows.get(from).map(|row| row.cell(range.left).to_owned()) else {
            continue;
        };
        for row in table.rows[from..].iter_mut().take_while(|row| row.number <= range.bottom) {
            filled += 1;
            if row.cells.len() <= range.left {
                row.cells.resize(range.left + 1, String::new());
            }
            if row.cells[range.left].is_empty() {
                row.cells[range.left].clone_from(&text);
            }
        }
        if filled > MOST {
            return;
        }
    }
}

/// Puts the cells that say the site together into one more column, `8-2.5` for transect 8 at 2.5.
pub(super) fn join_site(
    table: &mut Table,
    header: &mut Header,
    map: &ColumnMap,
) -> Result<(), Faults> {
    if map.site_of.is_empty() {
        return Ok(());
    }
    let place = |wanted: &String| {
        let found = header.row.cells.iter().position(|cell| same_header(cell, wanted));
        found.ok_or_else(|| -> Faults {
            Fault::file(&table.file, format!("a column `{wanted}`, as the column map says"))
                .at(header.row.number)
                .found(header.row.cells.join(", "))
                .into()
        })
    };
    let places: Vec<usize> = map.site_of.iter().map(place).collect::<Result<_, Faults>>()?;
    let width = header.row.cells.len();
    header.row.cells.push(map.site_of.join(" + "));
    header.continues.push(None);
    header.sub.push(String::new());
    for row in &mut table.rows[header.body..] {
        if row.cells.len() > width {
            // one cell too many is told with the row; the site must not hide it
            continue;
        }
        let parts: Vec<&str> = places.iter().map(|place| row.cell(*place)).collect();
        let site =
            if parts.iter().any(|part| part.is_empty()) { String::new() } else { parts.join("-") };
        row.cells.resize(width, String::new());
        row.cells.push(site);
    }
    Ok(())
}

/// Puts what the person says in the place of what stands in a cell; returns how often.
pub(super) fn read_as(table: &mut Table, body: usize, options: &RecordOptions<'_>) -> usize {
    let map = &options.map.read_as;
    if map.is_empty() {
        return 0;
    }
    let mut count = 0;
    for cell in table.rows[body..].iter_mut().flat_map(|row| &mut row.cells) {
        // of a day with a time, messages show the day
        let day = cell.split_once('T').filter(|(_, time)| time.contains(':')).map(|(day, _)| day);
        let is =
            |from: &str| same_header(from, cell) || day.is_some_and(|day| same_header(from, day));
        if let Some((_, text)) = map.iter().find(|(from, _)| is(from)) {
            text.trim().clone_into(cell);
            count += 1;
        }
    }
    count
}

/// What may have been typed where a spreadsheet shows a day: `1/4`, and `4/1` where the day
/// comes first.
pub(super) fn typed_before_date(cell: &str) -> Option<(String, String)> {
    const MONTHS: &str = "jan feb mar apr may jun jul aug sep oct nov dec";
    let separated = cell.contains(['-', '/', '.', ' ']);
    let digits = cell.bytes().filter(u8::is_ascii_digit).count();
    if !separated || digits == 0 {
        return None;
    }
    let (month, day) = match read_date(cell, None) {
        DateReading::Day(date, _) | DateReading::Either(date, _) => (date.month(), date.day()),
        DateReading::No => {
            // 4-Jan
            let (one, other) = cell.split_once('-')?;
            let (day, month) = if other.len() == 3 { (one, other) } else { (other, one) };
            let month = MONTHS.split(' ').position(|name| month.eq_ignore_ascii_case(name))? + 1;
            (month as i8, day.parse().ok().filter(|day| (1..=31).contains(day))?)
        }
    };
    Some((format!("{month}/{day}"), format!("{day}/{month}")))
}
