//! A table of points: soundings, sites, landmarks.

use crate::cells::{Axis, is_blank_word, join_columns, parse_degrees, parse_depth};
use crate::columns::{Meaning, normal_header};
use crate::fault::{Fault, Faults};
use crate::kind::FileKind;
use crate::layer::{
    DepthField, Feature, Layer, LayerCrs, ReadOptions, Skipped, Value, degrees_fault, stem,
};
use crate::text::{Row, Table};
use geo_types::Point;
use units::{LengthUnit, bounds};

const EXPECTED: &str = "columns for the position: `longitude` and `latitude`, or `x` and `y`";

/// Headers of depth in a table of soundings, beyond those of a survey record.
const DEPTHS: [&str; 10] = [
    "depth measured",
    "measured depth",
    "corrected depth",
    "bottom depth",
    "d",
    "soundings",
    "depths",
    "dep",
    "mean depth",
    "fathoms",
];
/// Headers of a height above something.
const HEIGHTS: [&str; 6] =
    ["z", "elevation", "elev", "altitude", "bottom elevation", "bed elevation"];

struct Plan {
    x: usize,
    y: usize,
    degrees: bool,
    depth: Option<(usize, DepthField)>,
    names: Vec<String>,
    body: usize,
}

/// Reads points by header, or by place (x, y, then depth) when there is none.
pub(crate) fn read(file: &str, bytes: &[u8], options: &ReadOptions) -> Result<Layer, Faults> {
    // the layers of a workbook are its sheets
    let is_text = FileKind::of(bytes) == FileKind::Text;
    let sheet = options.layer.as_deref().filter(|_| !is_text);
    let mut table = Table::from_bytes_sheet(file, bytes, sheet)?;
    drop_remarks(&mut table);
    split_at_spaces(&mut table);
    split_positions(&mut table);
    if let [header, rows @ ..] = table.rows.as_mut_slice() {
        join_columns(&header.cells, rows);
    }
    let mut warnings = table.warnings.clone();
    let plan = plan(&table, &mut warnings)?;
    let crs = match (&options.crs, plan.degrees) {
        (Some(crs), _) => crs.clone(),
        (None, true) => LayerCrs::Wgs84,
        (None, false) => LayerCrs::Unknown,
    };
    let rows = &table.rows[plan.body..];
    if crs == LayerCrs::Unknown && rows.iter().all(|row| like_degrees(&table, &plan, row)) {
        warnings.push(
            "the positions look like degrees; if they are, say so with `--crs EPSG:4326`"
                .to_owned(),
        );
    }
    let mut layer = Layer {
        name: table.sheet.clone().unwrap_or_else(|| stem(file)),
        file: table.file.clone(),
        crs,
        features: Vec::with_capacity(rows.len()),
        skipped: Vec::new(),
        depth: plan.depth.as_ref().map(|(_, field)| field.clone()),
        warnings,
    };
    let check = plan.degrees && options.crs.is_none() && !options.unjudged;
    let mut faults = Faults::default();
    for row in rows {
        match feature(&table, &plan, row, check) {
            Ok(Some(feature)) => layer.features.push(feature),
            Ok(None) => layer
                .skipped
                .push(Skipped { row: row.number, reason: "it has no position".to_owned() }),
            Err(found) => faults.0.extend(found),
        }
    }
    faults.or(layer)
}

/// Lines in front of a table that begin with `#` or `//` are remarks, unless they name the columns.
fn drop_remarks(table: &mut Table) {
    while table.rows.len() > 1 {
        let cells = &mut table.rows[0].cells;
        let Some(rest) = cells
            .first()
            .and_then(|cell| cell.strip_prefix('#').or_else(|| cell.strip_prefix("//")))
            .map(|rest| rest.trim().to_owned())
        else {
            return;
        };
        let words = std::iter::once(rest.as_str()).chain(cells.iter().skip(1).map(String::as_str));
        let named = words.flat_map(str::split_whitespace).any(|word| {
            let meaning = Meaning::of_header(&normal_header(word).0).map(|(meaning, _)| meaning);
            matches!(meaning, Some(Meaning::Longitude | Meaning::X))
        });
        if named {
            cells[0] = rest;
            return;
        }
        table.rows.remove(0);
    }
}

/// Columns with nothing but spaces between them: every row is one cell of as many words, all of
/// them numbers below the first row.
fn split_at_spaces(table: &mut Table) {
    let words = |row: &Row| row.cells[0].split_whitespace().count();
    let single = table.rows.iter().all(|row| row.cells.len() == 1);
    let Some(width) = table.rows.last().filter(|_| single).map(words).filter(|n| *n > 1) else {
        return;
    };
    let numeric = |row: &Row| {
        words(row) == width
            && row.cells[0].split_whitespace().all(|word| table.number(word).is_some())
    };
    let header = usize::from(!numeric(&table.rows[0]));
    if words(&table.rows[0]) != width || !table.rows[header..].iter().all(numeric) {
        return;
    }
    for row in &mut table.rows {
        row.cells = row.cells[0].split_whitespace().map(str::to_owned).collect();
    }
}

/// Headers of a column that holds latitude and longitude together.
const POSITIONS: [&str; 17] = [
    "position",
    "coordinates",
    "coordinate",
    "coords",
    "location",
    "gps",
    "gps position",
    "gps coordinates",
    "gps location",
    "lat lon",
    "lat long",
    "lat lng",
    "latlon",
    "latlong",
    "latitude longitude",
    "wkt",
    "geometry",
];

/// Where no other column holds a position, one with both numbers in a cell becomes two.
fn split_positions(table: &mut Table) {
    let Some(first) = table.rows.first() else { return };
    let normal: Vec<String> = first.cells.iter().map(|cell| normal_header(cell).0).collect();
    let placed = |words: &String| {
        let meaning = Meaning::of_header(words).map(|(meaning, _)| meaning);
        matches!(meaning, Some(Meaning::Longitude | Meaning::X))
    };
    if normal.iter().any(placed) {
        return;
    }
    let comma = table.decimal_comma;
    let both = |row: &Row, index: usize| {
        let cell = row.cell(index);
        if cell.is_empty() { Some((String::new(), String::new())) } else { two_of(cell, comma) }
    };
    let found = (0..normal.len()).find(|&index| {
        POSITIONS.contains(&normal[index].as_str())
            && table.rows[1..].iter().all(|row| both(row, index).is_some())
    });
    let Some(index) = found else { return };
    for (number, row) in table.rows.iter_mut().enumerate() {
        let parts = if number == 0 {
            Some(("latitude".to_owned(), "longitude".to_owned()))
        } else {
            both(row, index)
        };
        if let (Some((latitude, longitude)), true) = (parts, index < row.cells.len()) {
            row.cells[index] = latitude;
            row.cells.insert(index + 1, longitude);
        }
    }
}

/// Latitude and longitude of `45.0031, -89.9852`, `45 00.19 N 89 59.11 W` and
/// `POINT (-89.9852 45.0031)`.
fn two_of(cell: &str, decimal_comma: bool) -> Option<(String, String)> {
    let degrees = |text: &str, axis| parse_degrees(text, axis, decimal_comma).is_some();
    let fit = |(latitude, longitude): (&str, &str)| {
        let (latitude, longitude) = (latitude.trim(), longitude.trim());
        (degrees(latitude, Axis::Latitude) && degrees(longitude, Axis::Longitude))
            .then(|| (latitude.to_owned(), longitude.to_owned()))
    };
    let upper = cell.to_uppercase();
    if upper.starts_with("POINT") {
        let inner = cell.split_once('(')?.1.trim_end_matches(')');
        let mut words = inner.split_whitespace();
        let (longitude, latitude) = (words.next()?, words.next()?);
        return fit((latitude, longitude));
    }
    let behind_letter = upper
        .find(['N', 'S'])
        .filter(|&at| 0 < at && upper.len() == cell.len() && cell.is_char_boundary(at + 1))
        .map(|at| cell.split_at(at + 1));
    let at_space = cell.trim().split_once(char::is_whitespace);
    [cell.split_once(';'), cell.split_once(','), behind_letter, at_space]
        .into_iter()
        .flatten()
        .find_map(fit)
}

fn like_degrees(table: &Table, plan: &Plan, row: &Row) -> bool {
    let within = |index: usize, most: f64| {
        table.number(row.cell(index)).is_none_or(|value| value.abs() <= most)
    };
    within(plan.x, 180.0) && within(plan.y, 90.0)
}

fn plan(table: &Table, warnings: &mut Vec<String>) -> Result<Plan, Faults> {
    let first = &table.rows[0];
    let numeric = |index: usize| table.number(first.cell(index)).is_some();
    if numeric(0) && numeric(1) {
        return Ok(plan_by_place(table, first, warnings));
    }
    let headers: Vec<(String, Option<LengthUnit>)> =
        first.cells.iter().map(|cell| normal_header(cell)).collect();
    let find = |meaning: Meaning| {
        headers
            .iter()
            .enumerate()
            .filter_map(|(index, (words, _))| {
                let (found, rank) = Meaning::of_header(words)?;
                (found == meaning).then_some((rank, index))
            })
            .min()
            .map(|(_, index)| index)
    };
    let degrees = find(Meaning::Longitude).zip(find(Meaning::Latitude));
    let plane = find(Meaning::X).zip(find(Meaning::Y));
    let Some((x, y)) = degrees.or(plane) else {
        let found = first.cells.join(", ");
        return Err(Fault::file(&table.file, EXPECTED)
            .at(first.number)
            .found(found)
            .hint("give the two columns one of these headers, in the first row of the file")
            .into());
    };
    let known = find(Meaning::Depth).map(|index| (index, false));
    let by = |words: &[&str]| headers.iter().position(|(name, _)| words.contains(&name.as_str()));
    let depth = known
        .or_else(|| by(&DEPTHS).map(|index| (index, false)))
        .or_else(|| by(&HEIGHTS).map(|index| (index, true)))
        .map(|(index, upward)| {
            let name = first.cell(index).to_owned();
            let unit = if headers[index].0 == "fathoms" {
                Some(LengthUnit::Fathom)
            } else {
                headers[index].1
            };
            (index, DepthField { name, unit, upward })
        });
    Ok(Plan { x, y, degrees: degrees.is_some(), depth, names: first.cells.clone(), body: 1 })
}

fn plan_by_place(table: &Table, first: &Row, warnings: &mut Vec<String>) -> Plan {
    let width = table.rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
    let mut names = vec!["x".to_owned(), "y".to_owned()];
    names.extend(
        (2..width).map(|n| if n == 2 { "depth".to_owned() } else { format!("column {}", n + 1) }),
    );
    let read_as = if width > 2 { "x, y and depth" } else { "x and y" };
    warnings.push(format!("row {} is no header: the columns are read as {read_as}", first.number));
    let depth = (width > 2)
        .then(|| (2, DepthField { name: "depth".to_owned(), unit: None, upward: false }));
    Plan { x: 0, y: 1, degrees: false, depth, names, body: 0 }
}

fn feature(
    table: &Table,
    plan: &Plan,
    row: &Row,
    check_degrees: bool,
) -> Result<Option<Feature>, Vec<Fault>> {
    let file = table.file.as_str();
    let header = |index: usize| plan.names.get(index).map_or("", String::as_str);
    if is_blank_word(row.cell(plan.x)) && is_blank_word(row.cell(plan.y)) {
        return Ok(None);
    }
    let mut faults = Vec::new();
    let mut coordinate = |index: usize, axis: Axis| {
        let cell = row.cell(index);
        let value = if plan.degrees {
            parse_degrees(cell, axis, table.decimal_comma)
        } else {
            table.number(cell)
        };
        if value.is_none() {
            let expected = match (plan.degrees, axis) {
                (true, Axis::Latitude) => "a latitude such as `43.05089` or `43 03.053 N`",
                (true, Axis::Longitude) => "a longitude such as `-89.43150` or `89 25.890 W`",
                (false, _) => "a number such as `566486.06`",
            };
            let fault = Fault::file(file, expected).at(row.number);
            faults.push(fault.field(header(index)).found(cell));
        }
        value.unwrap_or(0.0)
    };
    let x = coordinate(plan.x, Axis::Longitude);
    let y = coordinate(plan.y, Axis::Latitude);
    if faults.is_empty()
        && check_degrees
        && let Some((expected, hint)) = degrees_fault(x, y)
    {
        let (field, found) = if y.abs() > 84.0 { (plan.y, y) } else { (plan.x, x) };
        faults.push(
            Fault::file(file, expected)
                .at(row.number)
                .field(header(field))
                .found(found.to_string())
                .hint(hint),
        );
    }
    let mut attributes = Vec::with_capacity(plan.names.len().saturating_sub(2));
    for (index, name) in plan.names.iter().enumerate() {
        if index == plan.x || index == plan.y {
            continue;
        }
        let cell = row.cell(index);
        let value = match &plan.depth {
            Some((depth, field)) if *depth == index => match depth_value(table, cell, field) {
                Ok(value) => value,
                Err(expected) => {
                    let fault = Fault::file(file, expected);
                    faults.push(fault.at(row.number).field(name.clone()).found(cell));
                    continue;
                }
            },
            _ => neutral(table, cell),
        };
        attributes.push((name.clone(), value));
    }
    if let Some(extra) =
        row.cells.get(plan.names.len()..).and_then(|rest| rest.iter().find(|cell| !cell.is_empty()))
    {
        faults.push(
            Fault::file(file, format!("{} cells, as many as headers", plan.names.len()))
                .at(row.number)
                .found(format!("{} cells, the last of them {extra}", row.cells.len()))
                .hint("a comma inside a cell needs quotation marks around the cell"),
        );
    }
    if faults.is_empty() {
        Ok(Some(Feature { geometry: Point::new(x, y).into(), attributes, row: row.number }))
    } else {
        Err(faults)
    }
}

/// Depth in the unit of the column; a cell that states another unit is converted.
fn depth_value(table: &Table, cell: &str, field: &DepthField) -> Result<Value, String> {
    if let Some(value) = table.number(cell) {
        return Ok(Value::Number(value));
    }
    let read = parse_depth(cell, table.decimal_comma);
    match (read.value, read.unit, field.unit) {
        (Some(value), None, _) => Ok(Value::Number(value)),
        (Some(value), Some(unit), Some(column)) => {
            Ok(Value::Number(value * unit.metres() / column.metres()))
        }
        (Some(_), Some(_), None) => {
            Err("a plain number, with the unit in the header such as `depth_ft`".to_owned())
        }
        (None, _, _) if is_blank_word(cell) => Ok(Value::Null),
        (None, _, _) => Err(format!(
            "a depth such as `6.5`, at most {} {}",
            bounds::DEPTH.most,
            bounds::DEPTH.unit
        )),
    }
}

/// A number where the cell is one; `007` is a code.
fn neutral(table: &Table, cell: &str) -> Value {
    if cell.is_empty() {
        return Value::Null;
    }
    let digits = cell.trim_start_matches(['-', '+']);
    let code = digits.len() > 1 && digits.starts_with('0') && !digits.contains(['.', ',']);
    match table.number(cell) {
        Some(value) if !code => Value::Number(value),
        _ => Value::Text(cell.to_owned()),
    }
}
