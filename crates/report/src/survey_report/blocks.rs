//! What a page is made of: a question, its answer, and blocks with notes in the margin.

use super::text::Line;
use crate::draw::Drawing;
use serde_json::{Map, Value, json};

/// A section: it starts a page.
pub(super) struct Section {
    /// Name for references from other pages.
    pub(super) name: &'static str,
    pub(super) question: String,
    pub(super) answer: Line,
    pub(super) blocks: Vec<Block>,
}

/// A note in the margin.
pub(super) struct Note {
    /// Its number, when a sentence refers to it.
    pub(super) key: Option<usize>,
    pub(super) text: Line,
}

impl Note {
    pub(super) fn keyed(key: usize, text: Line) -> Self {
        Self { key: Some(key), text }
    }

    /// A note that begins with its subject.
    pub(super) fn on(subject: &str, text: impl Into<Line>) -> Self {
        Self { key: None, text: Line::new().bold(subject).plain(" ").then(text.into()) }
    }
}

/// Part of a page.
pub(super) struct Block {
    pub(super) heading: Line,
    pub(super) body: Body,
    pub(super) notes: Vec<Note>,
    /// Over the margin too; notes then stand below.
    pub(super) wide: bool,
}

pub(super) enum Body {
    /// Paragraphs; the summary is set larger.
    Text { paragraphs: Vec<Line>, large: bool },
    /// A picture by name.
    Picture(String),
    /// Pictures in rows, each with a caption.
    Pictures { across: usize, items: Vec<(String, Line)> },
    /// A table.
    Table(Table),
    /// Several blocks that share the margin's notes; their own notes are not shown.
    Stack(Vec<Block>),
}

#[derive(Default)]
pub(super) struct Table {
    pub(super) columns: Vec<Column>,
    pub(super) rows: Vec<Vec<Cell>>,
    /// A last row in bold.
    pub(super) total: Vec<Cell>,
}

#[derive(Clone)]
pub(super) struct Column {
    pub(super) head: Line,
    /// A second line of the head.
    pub(super) more: String,
    /// Width in points; none shares what is left.
    pub(super) width: Option<f64>,
    pub(super) align: &'static str,
    /// A picture in the head, under the words.
    pub(super) picture: Option<String>,
}

pub(super) enum Cell {
    Words(Line),
    Picture(String),
}

impl Column {
    pub(super) fn left(head: &str) -> Self {
        Self { head: head.into(), more: String::new(), width: None, align: "left", picture: None }
    }

    pub(super) fn right(head: &str) -> Self {
        Self { align: "right", ..Self::left(head) }
    }

    pub(super) fn wide(self, points: f64) -> Self {
        Self { width: Some(points), ..self }
    }

    pub(super) fn more(self, more: impl Into<String>) -> Self {
        Self { more: more.into(), ..self }
    }

    pub(super) fn under(self, picture: String) -> Self {
        Self { picture: Some(picture), ..self }
    }
}

impl<T: Into<Line>> From<T> for Cell {
    fn from(text: T) -> Self {
        Self::Words(text.into())
    }
}

impl Table {
    pub(super) fn new(columns: Vec<Column>) -> Self {
        Self { columns, ..Self::default() }
    }

    pub(super) fn row(&mut self, cells: Vec<Cell>) {
        debug_assert_eq!(cells.len(), self.columns.len(), "a row has a cell for each column");
        self.rows.push(cells);
    }
}

impl Block {
    pub(super) fn new(heading: impl Into<Line>, body: Body) -> Self {
        Self { heading: heading.into(), body, notes: Vec::new(), wide: false }
    }

    pub(super) fn text(paragraphs: Vec<Line>) -> Self {
        Self::new("", Body::Text { paragraphs, large: false })
    }

    pub(super) fn notes(self, notes: Vec<Note>) -> Self {
        Self { notes, ..self }
    }

    pub(super) fn wide(self) -> Self {
        Self { wide: true, ..self }
    }
}

/// Pictures gathered for the typesetter.
#[derive(Default)]
pub(super) struct Pictures {
    files: Vec<(String, Drawing)>,
    described: Map<String, Value>,
}

impl Pictures {
    /// Keeps a picture and gives its name.
    pub(super) fn add(&mut self, drawing: Drawing) -> String {
        let name = format!("picture-{}", self.files.len() + 1);
        let file = format!("{name}.svg");
        self.described.insert(
            name.clone(),
            json!({ "file": file, "alt": drawing.description, "width": drawing.width }),
        );
        self.files.push((file, drawing));
        name
    }

    pub(super) fn finish(self) -> (Vec<(String, Drawing)>, Value) {
        (self.files, Value::Object(self.described))
    }
}

fn cell_value(cell: &Cell) -> Value {
    match cell {
        Cell::Words(line) => json!({ "words": line.value() }),
        Cell::Picture(name) => json!({ "picture": name }),
    }
}

fn body_value(body: &Body) -> Value {
    match body {
        Body::Text { paragraphs, large } => json!({
            "kind": "text",
            "large": large,
            "paragraphs": paragraphs.iter().map(Line::value).collect::<Vec<_>>(),
        }),
        Body::Stack(blocks) => json!({
            "kind": "stack",
            "blocks": blocks
                .iter()
                .map(|block| {
                    json!({ "heading": block.heading.value(), "body": body_value(&block.body) })
                })
                .collect::<Vec<_>>(),
        }),
        Body::Picture(name) => json!({ "kind": "picture", "name": name }),
        Body::Pictures { across, items } => json!({
            "kind": "pictures",
            "across": across,
            "items": items
                .iter()
                .map(|(name, caption)| json!({ "name": name, "caption": caption.value() }))
                .collect::<Vec<_>>(),
        }),
        Body::Table(table) => json!({
            "kind": "table",
            "columns": table
                .columns
                .iter()
                .map(|column| json!({
                    "head": column.head.value(),
                    "more": column.more,
                    "width": column.width,
                    "align": column.align,
                    "picture": column.picture,
                }))
                .collect::<Vec<_>>(),
            "rows": table
                .rows
                .iter()
                .map(|row| row.iter().map(cell_value).collect::<Vec<_>>())
                .collect::<Vec<_>>(),
            "total": table.total.iter().map(cell_value).collect::<Vec<_>>(),
        }),
    }
}

impl Section {
    pub(super) fn value(&self) -> Value {
        json!({
            "name": self.name,
            "question": self.question,
            "answer": self.answer.value(),
            "blocks": self
                .blocks
                .iter()
                .map(|block| json!({
                    "heading": block.heading.value(),
                    "body": body_value(&block.body),
                    "notes": block
                        .notes
                        .iter()
                        .map(|note| json!({ "key": note.key, "text": note.text.value() }))
                        .collect::<Vec<_>>(),
                    "wide": block.wide,
                }))
                .collect::<Vec<_>>(),
        })
    }
}
