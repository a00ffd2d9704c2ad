//! The field sheet: one page for about fifteen sites, black on white.

mod layout;
mod maps;

use crate::draw::MapData;
use crate::error::{PrintError, no_sites};
use crate::fonts::{Face, Fonts};
use crate::settings::{Palette, Settings};
use crate::world::Draft;
use layout::{legend, legend_room, paginate};
use maps::maps;
use serde_json::{Value, json};
use units::{LonLat, Metres, UnitSystem, decimals};

/// A set of field sheets for one survey.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldSheets {
    /// The lake's name.
    pub lake: String,
    /// The survey's name, as in "summer survey 2026".
    pub survey: String,
    /// Short words for lake and survey, as in `LT 26-S`; a sheet's id is this and its number.
    pub short_id: String,
    /// What the square mark holds before the sheet's number: a key by which the lake book knows this
    /// survey. Letters and digits keep the mark small.
    pub mark: String,
    /// What a row is called: `site`, or `place` in a survey by sub-areas.
    pub row_word: String,
    /// Rake throws at each row, 1 to 3.
    pub throws: u8,
    /// Rows in the order of the boat. Rows next to each other with the same group stay together.
    pub rows: Vec<SheetRow>,
    /// Rows on one sheet, 5 to 15; in large type two fifths fewer.
    pub rows_per_sheet: u8,
    /// The boats' days the rows belong to; empty when the rows are in the order of the plan.
    pub boats: Vec<SheetBoat>,
    /// Blank sheets at the end, for sites added on the water.
    pub spares: u8,
    /// This lake's plants, the commonest first: what does not fit goes on a page of codes.
    pub species: Vec<SheetSpecies>,
    /// The rating scale, least first.
    pub ratings: Vec<CodeWords>,
    /// What to write for a site that was not sampled.
    pub outcomes: Vec<CodeWords>,
    /// Codes for the bottom.
    pub bottoms: Vec<CodeWords>,
    /// Sentences at the foot: life jackets, clean, drain and dry, local rules.
    pub cautions: Vec<String>,
    /// The lake; its `sites` are not read, rows carry their own places.
    pub map: MapData,
}

/// A boat's day, printed at the head of its sheets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetBoat {
    /// The boat, as in "boat 1".
    pub boat: String,
    /// The day, as in "14 July 2026"; may be empty.
    pub date: String,
    /// Its hours and landing, as in "leaves Launch 8:30, home 11:45"; may be empty.
    pub hours: String,
}

/// A line to be filled in.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetRow {
    /// The site's code, written large.
    pub code: String,
    /// The zone's code, written small; may be empty.
    pub zone: String,
    /// The sub-area the row belongs to, in surveys by sub-areas.
    pub group: Option<String>,
    /// The nearest landmark; may be empty.
    pub landmark: String,
    /// The depth on the map, as a check.
    pub planned_depth: Option<Metres>,
    /// Where it lies, projected metres. None when the crew chooses the place within the sub-area.
    pub place: Option<(f64, f64)>,
    /// The way by water from the row before, projected metres; straight when empty.
    pub way: Vec<(f64, f64)>,
    /// Where it lies, degrees.
    pub position: Option<LonLat>,
    /// When the boat comes, as in "9:12"; may be empty.
    pub arrive: String,
    /// The boat's day it belongs to, by its place in [`FieldSheets::boats`].
    pub boat: Option<usize>,
}

/// A plant in the legend.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetSpecies {
    /// The code to write.
    pub code: String,
    /// The name.
    pub name: String,
    /// True when it is introduced here: marked with `!`.
    pub introduced: bool,
}

/// A code and what it means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CodeWords {
    /// The code to write.
    pub code: String,
    /// What it means.
    pub words: String,
}

/// Width in points of a list of words beside the codes: as wide as its longest line wants, within
/// limits, so that the codes keep their room.
fn word_column(list: &[CodeWords], most: f64, fonts: &Fonts) -> f64 {
    let width = |one: &CodeWords| {
        fonts.width(&format!("{} ", one.code), 8.8, Face::Bold)
            + fonts.width(&one.words, 8.8, Face::Plain)
            + 2.0
    };
    list.iter().map(width).fold(92.0, f64::max).min(most)
}

/// Widths in points of the lists of ratings and of outcomes.
fn word_columns(sheets: &FieldSheets, fonts: &Fonts) -> (f64, f64) {
    let outcomes = word_column(&sheets.outcomes, 116.0, fonts);
    // together never wider than they need to be for the codes beside them
    (word_column(&sheets.ratings, 232.0 - outcomes, fonts), outcomes)
}

/// Prints the field sheets of a survey: pure black on white, fit to be photocopied.
///
/// Each sheet has corner squares and a square mark (QR code, the survey's key, the sheet and the count:
/// `KEY/2/6/12+13+14`, the codes of its rows last) so that a photograph of it can be straightened and read back.
///
/// # Errors
/// [`PrintError::NoSites`] without rows, [`PrintError::OutOfRange`] for throws or rows that a sheet has
/// no room for, [`PrintError::NoOutline`] without a shore line, and the typesetter's errors.
pub fn field_sheets(
    sheets: &FieldSheets,
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Draft, PrintError> {
    if sheets.rows.is_empty() {
        return Err(no_sites(&sheets.lake, &sheets.survey, "field sheet"));
    }
    for (what, found, range, expected) in [
        ("throws at a site", sheets.throws, 1..=3, "1 to 3"),
        ("rows on a sheet", sheets.rows_per_sheet, 5..=15, "5 to 15"),
    ] {
        if !range.contains(&found) {
            return Err(PrintError::OutOfRange { what, found: found.to_string(), expected });
        }
    }
    let settings = Settings { palette: Palette::BlackAndWhite, ..settings.clone() };
    let pages = pages_of(sheets, &settings);
    let legend = legend(sheets, &settings, fonts);
    let mut pictures = Vec::new();
    let mut described = serde_json::Map::new();
    let mut sheet_values = Vec::new();
    for (index, rows) in pages.iter().enumerate() {
        let number = index + 1;
        let (near, far) = maps(sheets, rows, &settings, fonts)?;
        for (name, drawing) in [("near", near), ("far", far)] {
            let file = format!("{name}-{number}.svg");
            described.insert(
                format!("{name}-{number}"),
                json!({ "file": file, "alt": drawing.description }),
            );
            pictures.push((file, drawing));
        }
        let mark = mark_text(&sheets.mark, &number.to_string(), pages.len(), rows);
        let id = sheet_id(&sheets.short_id, number, pages.len());
        pictures.push((format!("mark-{number}.svg"), crate::mark::draw(&mark, id.clone())?));
        sheet_values.push(sheet_value(sheets, rows, number, pages.len(), &id, &settings, fonts));
    }
    for index in 0..sheets.spares {
        let value = spare_value(sheets, usize::from(index) + 1, pages.len(), &settings, fonts)?;
        described.extend(value.described);
        pictures.extend(value.pictures);
        sheet_values.push(value.sheet);
    }
    let foot = foot(sheets);
    let room = legend_room(sheets, &settings, fonts);
    let grown = if settings.large { 1.2 } else { 1.0 };
    let lines = |list: &[CodeWords], width| lines_of(list, width, fonts);
    let (rating_column, outcome_column) = word_columns(sheets, fonts);
    let longest =
        lines(&sheets.ratings, rating_column).max(lines(&sheets.outcomes, outcome_column));
    let word_size = (room / longest.max(1.0) - 3.0).clamp(6.6, 8.8 * grown);
    let units = settings.units;
    let example = match (sheets.species.first(), sheets.ratings.last()) {
        (Some(plant), Some(step)) => format!("as: {} {}", plant.code, step.code),
        _ => String::new(),
    };
    let data = json!({
        "document": { "title": format!("Field sheets, {}, {}", sheets.lake, sheets.survey) },
        "question": "What came up?",
        "lake": sheets.lake,
        "survey": sheets.survey,
        "row_word": sheets.row_word,
        "throws": sheets.throws,
        "row_height": row_height(&settings),
        "scale": grown,
        "labels": {
            "air": match units { UnitSystem::Us => "air °F", UnitSystem::Metric => "air °C" },
            "water": match units { UnitSystem::Us => "water °F", UnitSystem::Metric => "water °C" },
            "secchi": format!("Secchi {}", units.depth_unit()),
            "depth": format!("depth {}", units.depth_unit()),
            "example": example,
        },
        "pictures": described,
        "sheets": sheet_values,
        "legend": {
            "size": legend.size,
            "line": legend.line,
            "widths": legend.widths,
            "items": legend.items.iter().map(species_value).collect::<Vec<_>>(),
            "more": legend.spills,
        },
        "ratings": words(&sheets.ratings),
        "outcomes": words(&sheets.outcomes),
        "rating_column": rating_column,
        "outcome_column": outcome_column,
        "word_size": word_size,
        "word_gap": (room / longest.max(1.0) - word_size * 0.72).clamp(1.2, 5.0),
        "foot": foot,
        "code_pages": if legend.spills { code_pages(sheets, &settings) } else { Vec::new() },
    });
    let template = include_str!("../templates/sheet.typ");
    let ident = format!("field sheets {}", sheets.mark);
    Ok(Draft { pictures, ..Draft::new("field sheet", template, data, ident, &settings) })
}

/// How many lines a list of codes with their words takes in a column this wide.
fn lines_of(list: &[CodeWords], width: f64, fonts: &Fonts) -> f64 {
    let of = |one: &CodeWords| {
        let text = format!("{}  {}", one.code, one.words);
        (fonts.width(&text, 8.0, Face::Plain) * 1.06 / width).ceil().max(1.0)
    };
    list.iter().map(of).sum()
}

/// The line at the foot: codes of the bottom and the cautions.
fn foot(sheets: &FieldSheets) -> String {
    let bottoms: Vec<_> =
        sheets.bottoms.iter().map(|code| format!("{} {}", code.code, code.words)).collect();
    let bottoms = if bottoms.is_empty() {
        String::new()
    } else {
        format!("Bottom: {}. ", bottoms.join(", "))
    };
    format!("{bottoms}{}", sheets.cautions.join(" "))
}

fn words(codes: &[CodeWords]) -> Vec<Value> {
    codes.iter().map(|code| json!({ "code": code.code, "words": code.words })).collect()
}

fn species_value(item: &SheetSpecies) -> Value {
    json!({ "code": item.code, "words": item.name, "introduced": item.introduced })
}

/// The rows sheet by sheet.
pub(crate) fn pages_of<'a>(sheets: &'a FieldSheets, settings: &Settings) -> Vec<&'a [SheetRow]> {
    paginate(&sheets.rows, rows_per_sheet(sheets, settings))
}

/// Rows on one sheet: large type has room for two fifths fewer.
fn rows_per_sheet(sheets: &FieldSheets, settings: &Settings) -> usize {
    let rows = usize::from(sheets.rows_per_sheet);
    if settings.large { (rows * 2).div_ceil(3).saturating_sub(1).max(3) } else { rows }
}

/// Height of a row in points.
fn row_height(settings: &Settings) -> f64 {
    if settings.large { 40.5 } else { 27.0 }
}

/// What the square mark holds: key, sheet, number of sheets, the codes of the rows.
fn mark_text(key: &str, sheet: &str, count: usize, rows: &[SheetRow]) -> String {
    let codes: Vec<String> =
        rows.iter().map(|row| row.code.replace('%', "%25").replace('+', "%2B")).collect();
    let text = format!("{key}/{sheet}/{count}/{}", codes.join("+"));
    // more would make the squares too small for a photograph
    if text.len() <= MARK_LENGTH { text } else { format!("{key}/{sheet}/{count}/") }
}

/// Longest text of a mark: version 8 of the code with letters and digits, 49 squares a side.
const MARK_LENGTH: usize = 210;

/// A blank sheet with its pictures.
struct Spare {
    sheet: Value,
    pictures: Vec<(String, crate::draw::Drawing)>,
    described: serde_json::Map<String, Value>,
}

fn spare_value(
    sheets: &FieldSheets,
    number: usize,
    count: usize,
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Spare, PrintError> {
    let id = format!("{} S{number}", sheets.short_id);
    let mark = mark_text(&sheets.mark, &format!("S{number}"), count, &[]);
    let mut pictures = vec![(format!("mark-s{number}.svg"), crate::mark::draw(&mark, id.clone())?)];
    let mut described = serde_json::Map::new();
    let (near, far) = maps(sheets, &[], settings, fonts)?;
    for (name, drawing) in [("near", near), ("far", far)] {
        let file = format!("{name}-s{number}.svg");
        let value = json!({ "file": file, "alt": drawing.description });
        described.insert(format!("{name}-s{number}"), value);
        pictures.push((file, drawing));
    }
    let row = json!({
        "code": "", "zone": "", "group": null, "first": false, "stacked": false, "size": 12.0,
        "landmark": "", "depth": "",
    });
    let rows: Vec<Value> = (0..rows_per_sheet(sheets, settings))
        .map(|index| {
            let mut row = row.clone();
            row["heavy"] = json!(index > 0 && index % 5 == 0);
            row
        })
        .collect();
    let middle =
        if sheets.survey.is_empty() { ".".to_owned() } else { format!(", {}.", sheets.survey) };
    let sheet = json!({
        "id": id,
        "mark": format!("mark-s{number}.svg"),
        "near": format!("near-s{number}"),
        "far": format!("far-s{number}"),
        "subtitle_size": 10.5,
        "subtitle_middle": middle,
        "subtitle_sheet": format!("Spare sheet {number}:"),
        "subtitle_end": format!(" write the {}s yourself.", sheets.row_word),
        "boat": "", "date": "", "hours": "",
        "rows": rows,
    });
    Ok(Spare { sheet, pictures, described })
}

pub(crate) fn sheet_id(short_id: &str, number: usize, count: usize) -> String {
    let digits = count.to_string().len().max(2);
    format!("{short_id} {number:0digits$}")
}

fn sheet_value(
    sheets: &FieldSheets,
    rows: &[SheetRow],
    number: usize,
    count: usize,
    id: &str,
    settings: &Settings,
    fonts: &Fonts,
) -> Value {
    let middle =
        if sheets.survey.is_empty() { ".".to_owned() } else { format!(", {}.", sheets.survey) };
    let sheet = format!("Sheet {number} of {count}:");
    let name = |row: &SheetRow| row.group.clone().unwrap_or_else(|| row.code.clone());
    let (first, last) = (rows.first().map(name), rows.last().map(name));
    let plural = if rows.len() == 1 { "" } else { "s" };
    let order = match (rows.len(), sheets.boats.is_empty()) {
        (1, _) => "",
        (_, true) => ", in the order of the plan",
        (_, false) => ", in boat order",
    };
    let end = match (first, last) {
        (Some(first), Some(last)) if first != last => {
            format!(" {} {}{plural}, {first} to {last}{order}.", rows.len(), sheets.row_word)
        }
        (Some(only), _) => format!(" {} {}{plural}, {only}.", rows.len(), sheets.row_word),
        _ => String::new(),
    };
    let (paper_width, _) = settings.paper.size_pt();
    let room = paper_width - 66.0 - 53.0 - 16.0 - 78.0;
    let length = |size: f64| {
        fonts.width(&sheets.lake, size, Face::Bold)
            + fonts.width(&sheet, size, Face::Bold)
            + fonts.width(&format!("{middle} {end}"), size, Face::Plain)
    };
    let size = if length(12.5) <= room { 12.5 } else { 10.5 };
    // two lines at most: a long survey name gives way
    let spare = 1.86 * room - (length(size) - fonts.width(&middle, size, Face::Plain));
    let middle = fonts.shorten(&middle, size, Face::Plain, spare);
    let digits = settings.units;
    let boat = rows.first().and_then(|row| row.boat).and_then(|boat| sheets.boats.get(boat));
    let grown = if settings.large { 1.25 } else { 1.0 };
    let mut previous: Option<&SheetRow> = None;
    let rows: Vec<_> = rows
        .iter()
        .enumerate()
        .map(|(index, row)| {
            let first = previous.is_none_or(|before| before.group != row.group);
            let grouped = row.group.is_some();
            let heavy = index > 0 && if grouped { first } else { index % 5 == 0 };
            previous = Some(row);
            let large = row.group.as_ref().unwrap_or(&row.code);
            let zone = fonts.width(&row.zone, 9.0, Face::Plain) + 3.5;
            let fits =
                |size: f64, beside: f64| fonts.width(large, size, Face::Bold) + beside <= 45.0;
            let start = grown * if grouped { 12.0 } else { 15.5 };
            let (size, stacked) = if fits(start, if grouped { 0.0 } else { zone }) {
                (start, false)
            } else {
                let steps = [13.0, 12.0, 11.0, 10.0, 9.0, 8.0, 7.0];
                (steps.into_iter().find(|size| fits(*size, 0.0)).unwrap_or(6.0), true)
            };
            json!({
                "code": row.code,
                "zone": fonts.shorten(&row.zone, 9.0, Face::Plain, 46.0),
                "group": row.group,
                "first": first,
                "heavy": heavy,
                "stacked": stacked,
                "size": size,
                "landmark": two_lines(&row.landmark, 8.6, 56.0, fonts),
                "depth": row.planned_depth.map_or_else(String::new, |depth| {
                    let places = usize::from(digits == UnitSystem::Metric);
                    decimals(digits.depth_value(depth), places)
                }),
            })
        })
        .collect();
    json!({
        "id": id,
        "mark": format!("mark-{number}.svg"),
        "near": format!("near-{number}"),
        "far": format!("far-{number}"),
        "subtitle_size": size,
        "subtitle_middle": middle,
        "subtitle_sheet": sheet,
        "subtitle_end": end,
        "boat": boat.map_or("", |boat| boat.boat.as_str()),
        "date": boat.map_or("", |boat| boat.date.as_str()),
        "hours": boat.map_or("", |boat| boat.hours.as_str()),
        "rows": rows,
    })
}

/// A text cut to what two lines of a width hold when lines break between words.
fn two_lines(text: &str, size: f64, width: f64, fonts: &Fonts) -> String {
    let fits = |line: &str| fonts.width(line, size, Face::Italic) <= width;
    let (mut done, mut line) = (String::new(), String::new());
    for word in text.split_whitespace() {
        let word = fonts.shorten(word, size, Face::Italic, width);
        let longer = if line.is_empty() { word.clone() } else { format!("{line} {word}") };
        if fits(&longer) {
            line = longer;
        } else if done.is_empty() {
            done = std::mem::replace(&mut line, word);
        } else {
            line = fonts.shorten(&longer, size, Face::Italic, width);
            break;
        }
    }
    if done.is_empty() { line } else { format!("{done} {line}") }
}

/// All codes, in two columns a page.
fn code_pages(sheets: &FieldSheets, settings: &Settings) -> Vec<Value> {
    let (_, height) = settings.paper.size_pt();
    let line = if settings.large { 20.4 } else { 17.0 };
    let per_column = ((height - 47.0 - 78.0) / line).floor() as usize;
    let all: Vec<_> = sheets.species.iter().map(species_value).collect();
    all.chunks(2 * per_column)
        .map(|page| {
            let column = page.len().div_ceil(2);
            json!([page[..column].to_vec(), page[column..].to_vec()])
        })
        .collect()
}
