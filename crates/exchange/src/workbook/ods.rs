//! `.ods` (OASIS OpenDocument 1.2 part 1, chapter 9), by our own reader: it knows hidden rows and
//! merged cells, and a table that breaks off ends it.

use super::{Grid, Merged, Pick, Sheet, Workbook, cell, damaged};
use crate::archive::Archive;
use crate::fault::Faults;
use crate::xml::{self, Node};
use std::collections::BTreeSet;

pub(super) fn read(pick: &Pick<'_>, bytes: &[u8]) -> Result<Workbook, Faults> {
    let file = pick.file;
    let mut archive = Archive::open(file, bytes)?;
    if let Ok(manifest) = archive.read("META-INF/manifest.xml")
        && manifest.windows(15).any(|window| window == b"encryption-data")
    {
        return Err(damaged(file, "a spreadsheet locked with a password"));
    }
    let content = xml::parse(file, &archive.read("content.xml")?)?;
    let everything = content.descendants();
    let hidden_styles: BTreeSet<&str> = everything
        .iter()
        .filter(|node| node.name == "style")
        .filter(|style| {
            style
                .child("table-properties")
                .is_some_and(|properties| properties.attribute("display") == Some("false"))
        })
        .filter_map(|style| style.attribute("name"))
        .collect();
    let tables: Vec<(&Node, &str)> = everything
        .iter()
        .filter(|node| node.name == "spreadsheet")
        .flat_map(|spreadsheet| spreadsheet.all("table"))
        .filter_map(|table| Some((table, table.attribute("name")?)))
        .collect();
    let names: Vec<(String, bool)> = tables
        .iter()
        .map(|(table, name)| {
            let hidden = table.attribute("style-name").is_some_and(|s| hidden_styles.contains(s));
            ((*name).to_owned(), !hidden)
        })
        .collect();
    let mut workbook = Workbook::default();
    for wanted in pick.of(&names)? {
        if let Some((table, name)) = tables.iter().find(|(_, name)| *name == wanted) {
            workbook.sheets.push(sheet(file, name, table)?);
        }
    }
    workbook.names = names;
    Ok(workbook)
}

fn sheet(file: &str, name: &str, table: &Node) -> Result<Sheet, Faults> {
    let mut grid = Grid::new(file, name);
    let (mut hidden, mut merged) = (Vec::new(), Vec::new());
    let mut row = 0_usize;
    for node in rows(table) {
        let times = repeated(node, "number-rows-repeated");
        let holds_anything = node.children.iter().any(|child| !text(child).is_empty());
        if holds_anything {
            for _ in 0..times {
                cells(&mut grid, node, row, &mut merged)?;
                if matches!(node.attribute("visibility"), Some("collapse" | "filter")) {
                    hidden.push(row + 1);
                }
                row += 1;
            }
        } else {
            row = row.saturating_add(times);
        }
    }
    Ok(grid.finish(&hidden, merged))
}

/// Rows may stand in groups and under headings.
fn rows(table: &Node) -> Vec<&Node> {
    let mut found = Vec::new();
    for child in &table.children {
        match child.name.as_str() {
            "table-row" => found.push(child),
            "table-rows" | "table-header-rows" | "table-row-group" => found.extend(rows(child)),
            _ => {}
        }
    }
    found
}

fn repeated(node: &Node, key: &str) -> usize {
    node.attribute(key).and_then(|times| times.parse().ok()).unwrap_or(1)
}

fn cells(
    grid: &mut Grid<'_>,
    node: &Node,
    row: usize,
    merged: &mut Vec<Merged>,
) -> Result<(), Faults> {
    let mut column = 0_usize;
    for child in &node.children {
        let covered = child.name == "covered-table-cell";
        if !covered && child.name != "table-cell" {
            continue;
        }
        let times = repeated(child, "number-columns-repeated");
        let text = text(child);
        // what lies under a merged cell is not shown
        if text.is_empty() || covered {
            column = column.saturating_add(times);
            continue;
        }
        let (down, right) =
            (repeated(child, "number-rows-spanned"), repeated(child, "number-columns-spanned"));
        if down > 1 || right > 1 {
            merged.push(Merged {
                top: row + 1,
                left: column,
                bottom: row.saturating_add(down),
                right: column.saturating_add(right) - 1,
            });
        }
        for _ in 0..times {
            grid.set(row, column, &text)?;
            column += 1;
        }
    }
    Ok(())
}

/// What the cell says. A failed formula says so in the text it shows.
fn text(node: &Node) -> String {
    let shown = || {
        let lines: Vec<String> = node.all("p").map(running).collect();
        lines.join("\n").trim().to_owned()
    };
    let kind = node.attribute("value-type");
    let whole = shown();
    if whole.starts_with('#') && whole.ends_with(['!', '?', 'A']) {
        return whole;
    }
    match kind {
        Some("float" | "currency" | "percentage") => {
            let value = node.attribute("value").and_then(|value| value.parse::<f64>().ok());
            value.filter(|value| value.is_finite()).map_or(whole, cell::number)
        }
        Some("date") => {
            let value = node.attribute("date-value").unwrap_or(&whole);
            value.strip_suffix("T00:00:00").unwrap_or(value).to_owned()
        }
        Some("time") => {
            let value = node.attribute("time-value").unwrap_or_default();
            cell::clock(value).unwrap_or(whole)
        }
        Some("boolean") => {
            cell::boolean(node.attribute("boolean-value") == Some("true")).to_owned()
        }
        Some(_) => node.attribute("string-value").map_or(whole, str::to_owned),
        None if whole.is_empty() => match node.attribute("formula") {
            Some(formula) => {
                format!("={}", formula.trim_start_matches("of:").trim_start_matches('='))
            }
            None => whole,
        },
        None => whole,
    }
}

/// The text of a paragraph with what stands in spans and links inside it.
fn running(paragraph: &Node) -> String {
    let mut text = paragraph.text().to_owned();
    for child in &paragraph.children {
        match child.name.as_str() {
            "s" | "tab" | "line-break" => text.push(' '),
            "annotation" => {}
            _ => text.push_str(&running(child)),
        }
    }
    text
}
