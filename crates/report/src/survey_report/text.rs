//! Text as runs of words with a weight: what a person typed stays data all the way to the typesetter.

use super::Frequency;
use serde_json::{Value, json};
use units::{percent_whole, with_thousands};

/// A line of text made of runs.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Line(Vec<(Style, String)>);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Style {
    Plain,
    Bold,
    Italic,
    /// The key of a margin note.
    Key,
    /// The page of a section, by its name.
    Page,
    /// A new line.
    Break,
}

impl Line {
    pub(super) fn new() -> Self {
        Self::default()
    }

    fn with(mut self, style: Style, text: impl Into<String>) -> Self {
        let text = text.into();
        if !text.is_empty() {
            self.0.push((style, text));
        }
        self
    }

    pub(super) fn plain(self, text: impl Into<String>) -> Self {
        self.with(Style::Plain, text)
    }

    pub(super) fn bold(self, text: impl Into<String>) -> Self {
        self.with(Style::Bold, text)
    }

    pub(super) fn italic(self, text: impl Into<String>) -> Self {
        self.with(Style::Italic, text)
    }

    pub(super) fn key(self, key: usize) -> Self {
        self.with(Style::Key, key.to_string())
    }

    pub(super) fn page_of(self, section: &str) -> Self {
        self.with(Style::Page, section)
    }

    pub(super) fn new_line(self) -> Self {
        self.with(Style::Break, " ")
    }

    pub(super) fn then(mut self, other: Self) -> Self {
        self.0.extend(other.0);
        self
    }

    pub(super) fn value(&self) -> Value {
        self.0
            .iter()
            .map(|(style, text)| {
                let style = match style {
                    Style::Plain => "plain",
                    Style::Bold => "bold",
                    Style::Italic => "italic",
                    Style::Key => "key",
                    Style::Page => "page",
                    Style::Break => "break",
                };
                json!([style, text])
            })
            .collect()
    }
}

impl From<&str> for Line {
    fn from(text: &str) -> Self {
        Self::new().plain(text)
    }
}

impl From<String> for Line {
    fn from(text: String) -> Self {
        Self::new().plain(text)
    }
}

/// A whole number with thousands set apart.
pub(super) fn whole(n: u64) -> String {
    with_thousands(n as f64, 0)
}

/// `20 %`.
pub(super) fn percent(share: f64) -> String {
    format!("{}\u{a0}%", percent_whole(share))
}

/// `13–30`.
pub(super) fn interval(frequency: &Frequency) -> String {
    format!("{}–{}", percent_whole(frequency.low), percent_whole(frequency.high))
}

/// `18 of 89 sites (20 %, 13–30 %)`.
pub(super) fn of_sites(frequency: &Frequency) -> String {
    format!(
        "{} of {} {} ({}, {}\u{a0}%)",
        whole(frequency.k),
        whole(frequency.n),
        if frequency.n == 1 { "site" } else { "sites" },
        percent(frequency.p),
        interval(frequency)
    )
}

/// `58 (48–68)`, or a dash.
pub(super) fn in_table(frequency: Option<&Frequency>) -> String {
    frequency.map_or_else(
        || "–".to_owned(),
        |frequency| format!("{} ({})", percent_whole(frequency.p), interval(frequency)),
    )
}
