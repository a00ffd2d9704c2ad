//! Tables a person reads in a terminal: aligned columns, one rule under the head, nothing else.

use std::fmt::Write as _;

/// How a column stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Align {
    Left,
    Right,
}

/// Rows under named columns.
#[derive(Debug)]
pub(crate) struct Table {
    head: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

fn width(text: &str) -> usize {
    text.chars().count()
}

impl Table {
    /// A table with these columns; a name that starts with `>` stands to the right.
    pub(crate) fn new(head: &[&str]) -> Self {
        let head = head
            .iter()
            .map(|name| match name.strip_prefix('>') {
                Some(name) => (name.to_owned(), Align::Right),
                None => ((*name).to_owned(), Align::Left),
            })
            .collect();
        Self { head, rows: Vec::new() }
    }

    /// Adds a row.
    pub(crate) fn row(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    /// The whole table as text with a line end after each row.
    pub(crate) fn text(&self) -> String {
        let widths: Vec<usize> = self
            .head
            .iter()
            .enumerate()
            .map(|(column, (name, _))| {
                let cells = self.rows.iter().map(|row| row.get(column).map_or(0, |c| width(c)));
                cells.chain([width(name)]).max().unwrap_or(0)
            })
            .collect();
        let mut text = String::new();
        let names: Vec<&str> = self.head.iter().map(|(name, _)| name.as_str()).collect();
        self.line(&mut text, &names, &widths);
        let _ =
            writeln!(text, "{}", "─".repeat(widths.iter().sum::<usize>() + 2 * (widths.len() - 1)));
        for row in &self.rows {
            let cells: Vec<&str> = row.iter().map(String::as_str).collect();
            self.line(&mut text, &cells, &widths);
        }
        text
    }

    fn line(&self, text: &mut String, cells: &[&str], widths: &[usize]) {
        let mut line = String::new();
        for (column, ((_, align), wide)) in self.head.iter().zip(widths).enumerate() {
            let cell = cells.get(column).copied().unwrap_or_default();
            let blank = " ".repeat(wide - width(cell));
            if column > 0 {
                line.push_str("  ");
            }
            match align {
                Align::Left => line.extend([cell, &blank]),
                Align::Right => line.extend([blank.as_str(), cell]),
            }
        }
        let _ = writeln!(text, "{}", line.trim_end());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_whatever_the_letters() {
        let mut table = Table::new(&["zone", ">acres"]);
        table.row(vec!["W1 Wéstbay".into(), "18.3".into()]);
        table.row(vec!["E".into(), "115.3".into()]);
        let want = "zone        acres\n─────────────────\nW1 Wéstbay   18.3\nE           115.3\n";
        assert_eq!(table.text(), want);
    }
}
