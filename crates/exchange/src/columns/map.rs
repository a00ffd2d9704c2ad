//! What a person says about columns, and its TOML.

use super::{Meaning, same_header};
use crate::cells::DateOrder;
use crate::fault::{Fault, Faults};
use std::collections::BTreeMap;
use std::fmt;
use units::LengthUnit;

/// Whether a table holds a row an observation or a row a site.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Form {
    /// One row an observation: a column names the plant.
    Long,
    /// One row a site: a column a plant.
    Wide,
}

impl Form {
    /// The word for it in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Long => "long",
            Self::Wide => "wide",
        }
    }
}

/// How a column map points at a column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ColumnRef {
    /// By its header; case and surrounding space do not matter.
    Header(String),
    /// By its place, from 1 as a person counts.
    Number(usize),
}

impl ColumnRef {
    /// Whether it means this column.
    pub(crate) fn is(&self, index: usize, header: &str) -> bool {
        match self {
            Self::Header(name) => same_header(name, header),
            Self::Number(number) => *number == index + 1,
        }
    }
}

impl fmt::Display for ColumnRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Header(name) => f.write_str(name),
            Self::Number(number) => write!(f, "column {number}"),
        }
    }
}

/// What a person says about the columns of a file, kept as TOML beside it.
///
/// ```toml
/// form = "long"
/// depth_unit = "ft"
/// date_order = "mdy"
/// sheet = "Pre"
/// header_row = 16
/// header_rows = 2
/// ignore = ["photos"]
/// paired = "health"
/// scale_steps = ["TR", "LO", "HI"]
///
/// [columns]
/// site = "PT_"
/// depth = 4
/// # or, where the site is said by several: site = ["transect", "depth"]
///
/// [taxa]
/// "Egeria" = "Egeria densa"
///
/// [pairs]
/// "Egeria vigour" = "Egeria"
///
/// [read_as]
/// "2017-01-04" = "1"
///
/// [only]
/// sheet = "Data 2017 Pre"
/// ```
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ColumnMap {
    /// One row an observation or a site; guessed when not said.
    pub form: Option<Form>,
    /// Unit of depths whose header and cell state none.
    pub depth_unit: Option<LengthUnit>,
    /// Order of day and month in dates with slashes.
    pub date_order: Option<DateOrder>,
    /// Row of the header, of several the first, from 1; guessed when not said.
    pub header_row: Option<usize>,
    /// How many rows the header takes; guessed when not said.
    pub header_rows: Option<usize>,
    /// The sheet of a workbook; the first that looks like a record when not said.
    pub sheet: Option<String>,
    /// What the second column of a pair holds, such as `health`.
    pub paired: Option<String>,
    /// Whether second columns of pairs are left out (`paired = false`).
    pub ignore_paired: bool,
    /// Header, or number from 1, of the second column of a pair → header of the first.
    pub pairs: BTreeMap<String, String>,
    /// A cell as it stands → what is to be read in its place, anywhere below the header.
    pub read_as: BTreeMap<String, String>,
    /// Codes of the file's own scale, the least first, where the codes do not say it themselves.
    pub scale_steps: Vec<String>,
    /// Headers of columns to leave out.
    pub ignore: Vec<String>,
    /// Which column means what.
    pub columns: BTreeMap<Meaning, ColumnRef>,
    /// Headers of the columns that say the site together (`site = ["transect", "depth"]`).
    pub site_of: Vec<String>,
    /// Header of a column of ratings → the plant.
    pub taxa: BTreeMap<String, String>,
    /// Header → the cell a row must have there to be read.
    pub only: BTreeMap<String, String>,
}

impl ColumnMap {
    /// Reads a map; `file` names it in faults.
    ///
    /// # Errors
    /// [`Faults`] for TOML that does not parse and for every key or value that is not known.
    pub fn from_toml(file: &str, text: &str) -> Result<Self, Faults> {
        let root: toml::Table = text.parse().map_err(|error: toml::de::Error| {
            let before = error.span().map_or(0, |span| span.start.min(text.len()));
            let line = text.bytes().take(before).filter(|&b| b == b'\n').count() + 1;
            Fault::file(file, "valid TOML")
                .at(line)
                .found(error.message())
                .hint("a line is written `site = \"header of the column\"`")
        })?;
        let mut reader = MapReader { file, map: Self::default(), faults: Faults::default() };
        for (key, value) in root {
            match (key.as_str(), value) {
                // settings under [columns] are where people put them; no meaning has such a name
                ("columns", toml::Value::Table(columns)) => {
                    for (key, value) in columns {
                        if !reader.setting(&key, &value) {
                            reader.column(&key, &value);
                        }
                    }
                }
                ("taxa", toml::Value::Table(taxa)) => reader.map.taxa = reader.texts("taxa", taxa),
                ("pairs", toml::Value::Table(pairs)) => {
                    reader.map.pairs = reader.texts("pairs", pairs);
                }
                ("read_as", toml::Value::Table(cells)) => {
                    reader.map.read_as = reader.texts("read_as", cells);
                }
                ("only", toml::Value::Table(only)) => reader.map.only = reader.texts("only", only),
                (key, value) => {
                    if !reader.setting(key, &value) {
                        reader.unknown(key);
                    }
                }
            }
        }
        let MapReader { map, faults, .. } = reader;
        faults.or(map)
    }

    /// Whether no more is said than which sheet is meant.
    pub(crate) fn says_nothing_of_columns(&self) -> bool {
        *self == Self { sheet: self.sheet.clone(), ..Self::default() }
    }

    /// What of the map serves a file of the same kind with these headers in lower case, whose
    /// header stands so many rows further down. What is only of one file, its sheet and which of
    /// its rows to read, is left behind, and so is what is said of columns that are not there.
    pub fn for_headers(mut self, headers: &[String], down: isize) -> Self {
        let there = |name: &str| headers.contains(&name.trim().to_lowercase());
        self.sheet = None;
        self.only.clear();
        self.header_row = self.header_row.and_then(|row| row.checked_add_signed(down));
        self.columns.retain(|_, column| match column {
            ColumnRef::Header(name) => there(name),
            ColumnRef::Number(number) => *number <= headers.len(),
        });
        self.taxa.retain(|name, _| there(name));
        self.ignore.retain(|name| there(name));
        if !self.site_of.iter().all(|name| there(name)) {
            self.site_of.clear();
        }
        self
    }

    /// Whether it points at columns by their place, so that it serves only where the columns stand
    /// in the same order.
    pub fn counts_columns(&self) -> bool {
        let number = |name: &String| name.trim().parse::<usize>().is_ok();
        self.columns.values().any(|column| matches!(column, ColumnRef::Number(_)))
            || self.pairs.keys().chain(self.pairs.values()).any(number)
    }

    /// The map as TOML that [`Self::from_toml`] reads back.
    pub fn to_toml(&self) -> String {
        use toml::Value::{Array, Integer, String as Text, Table};
        let mut root = toml::Table::new();
        let mut put = |key: &str, value| root.insert(key.to_owned(), value);
        if let Some(form) = self.form {
            put("form", Text(form.key().to_owned()));
        }
        if let Some(unit) = self.depth_unit {
            let word = if unit == LengthUnit::SurveyFoot { "survey-ft" } else { unit.sign() };
            put("depth_unit", Text(word.to_owned()));
        }
        if let Some(order) = self.date_order {
            put("date_order", Text(order.key().to_owned()));
        }
        if let Some(row) = self.header_row {
            put("header_row", Integer(row as i64));
        }
        if let Some(rows) = self.header_rows {
            put("header_rows", Integer(rows as i64));
        }
        if let Some(sheet) = &self.sheet {
            put("sheet", Text(sheet.clone()));
        }
        if self.ignore_paired {
            put("paired", toml::Value::Boolean(false));
        } else if let Some(paired) = &self.paired {
            put("paired", Text(paired.clone()));
        }
        for (key, texts) in [("ignore", &self.ignore), ("scale_steps", &self.scale_steps)] {
            if !texts.is_empty() {
                put(key, Array(texts.iter().cloned().map(Text).collect()));
            }
        }
        let columns = self.columns.iter().map(|(meaning, column)| {
            let value = match column {
                ColumnRef::Header(name) => Text(name.clone()),
                ColumnRef::Number(number) => Integer(*number as i64),
            };
            (meaning.key().to_owned(), value)
        });
        let mut columns: toml::Table = columns.collect();
        if !self.site_of.is_empty() {
            let parts = self.site_of.iter().cloned().map(Text).collect();
            columns.insert(Meaning::Site.key().to_owned(), Array(parts));
        }
        put("columns", Table(columns));
        let texts = |map: &BTreeMap<String, String>| {
            Table(map.iter().map(|(k, v)| (k.clone(), Text(v.clone()))).collect())
        };
        if !self.taxa.is_empty() {
            put("taxa", texts(&self.taxa));
        }
        for (key, cells) in
            [("pairs", &self.pairs), ("read_as", &self.read_as), ("only", &self.only)]
        {
            if !cells.is_empty() {
                put(key, texts(cells));
            }
        }
        root.to_string()
    }
}

struct MapReader<'a> {
    file: &'a str,
    map: ColumnMap,
    faults: Faults,
}

impl MapReader<'_> {
    fn bad(&mut self, field: &str, found: impl Into<String>, expected: &str) {
        self.faults.push(Fault::file(self.file, expected).field(field).found(found));
    }

    fn unknown(&mut self, key: &str) {
        let known: Vec<&str> = Meaning::keys().collect();
        let fault = Fault::file(
            self.file,
            "one of `form`, `depth_unit`, `date_order`, `sheet`, `header_row`, `header_rows`, \
             `ignore`, `paired`, `scale_steps`, `[columns]`, `[taxa]`, `[pairs]`, `[read_as]`, `[only]`",
        );
        self.faults.push(
            fault
                .field(key)
                .found(key)
                .hint(format!("under `[columns]` stand: {}", known.join(", "))),
        );
    }

    /// Takes a setting; false when the key is none.
    fn setting(&mut self, key: &str, value: &toml::Value) -> bool {
        let text = value.as_str().map(str::to_lowercase);
        let shown = value.to_string();
        match key {
            "form" => match text.as_deref() {
                Some("long") => self.map.form = Some(Form::Long),
                Some("wide") => self.map.form = Some(Form::Wide),
                _ => self.bad(key, shown, "`long` or `wide`"),
            },
            "depth_unit" => match text.as_deref().map(str::parse) {
                Some(Ok(unit)) => self.map.depth_unit = Some(unit),
                _ => self.bad(key, shown, "`ft` or `m`"),
            },
            "date_order" => match text.as_deref().and_then(DateOrder::from_key) {
                Some(order) => self.map.date_order = Some(order),
                None => self.bad(key, shown, "`mdy` (month first) or `dmy` (day first)"),
            },
            "header_row" => match value.as_integer().and_then(|row| usize::try_from(row).ok()) {
                Some(row) if row > 0 => self.map.header_row = Some(row),
                _ => self.bad(key, shown, "the number of the header's row, from 1"),
            },
            "header_rows" => match value.as_integer() {
                Some(rows @ 1..=10) => self.map.header_rows = Some(rows as usize),
                _ => self.bad(key, shown, "how many rows the header takes, 1 to 10"),
            },
            "sheet" => match value.as_str() {
                Some(name) => self.map.sheet = Some(name.to_owned()),
                None => self.bad(key, shown, "the name of a sheet in quotation marks"),
            },
            "paired" => match (value.as_str(), value.as_bool()) {
                (Some(name), _) => self.map.paired = Some(name.to_owned()),
                (None, Some(read)) => self.map.ignore_paired = !read,
                (None, None) => {
                    self.bad(key, shown, "what second columns hold, or `false` to leave them out");
                }
            },
            "scale_steps" => match texts_of(value) {
                Some(steps) if !steps.is_empty() => self.map.scale_steps = steps,
                _ => self.bad(key, shown, "a list of codes, the least first"),
            },
            "ignore" => match (texts_of(value), value.as_str()) {
                (Some(headers), _) => self.map.ignore.extend(headers),
                (None, Some(header)) => self.map.ignore.push(header.to_owned()),
                (None, None) => self.bad(key, shown, "a list of headers"),
            },
            _ => return false,
        }
        true
    }

    fn column(&mut self, key: &str, value: &toml::Value) {
        let Some(meaning) = Meaning::from_key(key) else {
            let known: Vec<&str> = Meaning::keys().collect();
            let expected = format!("one of {}", known.join(", "));
            self.bad("columns", key, &expected);
            return;
        };
        if let (Meaning::Site, Some(parts)) = (meaning, value.as_array()) {
            let headers: Option<Vec<String>> =
                parts.iter().map(|part| part.as_str().map(str::to_owned)).collect();
            match headers.filter(|headers| headers.len() > 1) {
                Some(headers) => self.map.site_of = headers,
                None => self.bad(key, value.to_string(), "two headers or more that say the site"),
            }
            return;
        }
        let number = value.as_integer().and_then(|n| usize::try_from(n).ok()).filter(|n| *n > 0);
        match (value.as_str(), number) {
            (Some(header), _) => {
                self.map.columns.insert(meaning, ColumnRef::Header(header.to_owned()));
            }
            (None, Some(number)) => {
                self.map.columns.insert(meaning, ColumnRef::Number(number));
            }
            (None, None) => {
                self.bad(key, value.to_string(), "the header of a column, or its number from 1");
            }
        }
    }

    fn texts(&mut self, table: &str, entries: toml::Table) -> BTreeMap<String, String> {
        let mut texts = BTreeMap::new();
        for (key, value) in entries {
            match value {
                toml::Value::String(text) => {
                    texts.insert(key, text);
                }
                toml::Value::Integer(number) => {
                    texts.insert(key, number.to_string());
                }
                other => self.bad(table, other.to_string(), "text in quotation marks"),
            }
        }
        texts
    }
}

/// A list of texts; whole numbers stand for themselves.
fn texts_of(value: &toml::Value) -> Option<Vec<String>> {
    let text = |item: &toml::Value| match item {
        toml::Value::String(text) => Some(text.clone()),
        toml::Value::Integer(number) => Some(number.to_string()),
        _ => None,
    };
    value.as_array()?.iter().map(text).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_map_survives_the_round_trip_through_toml() {
        let text = "header_row = 16\n[columns]\nsite = \"PT_\"\ndepth = 4\nignore = [\"health\"]\n\
                    form = \"long\"\ndepth_unit = \"ft\"\ndate_order = \"mdy\"\n\
                    sheet = \"Pre\"\nheader_rows = 2\npaired = \"health\"\n\
                    scale_steps = [\"TR\", 1]\n[taxa]\n\"Egeria\" = \"Egeria densa\"\n[only]\nsheet = \"Data 2017 Pre\"\n\
                    [pairs]\n\"4\" = \"Egeria\"\n[read_as]\n\"2017-01-04\" = \"1/4\"\n";
        let map = ColumnMap::from_toml("map.toml", text).unwrap();
        assert_eq!(map.form, Some(Form::Long));
        assert_eq!(map.columns[&Meaning::Depth], ColumnRef::Number(4));
        assert_eq!(ColumnMap::from_toml("map.toml", &map.to_toml()).unwrap(), map);
        let text = "[columns]\nsite = [\"transect\", \"depth\"]\n";
        let map = ColumnMap::from_toml("map.toml", text).unwrap();
        assert_eq!(map.site_of, ["transect", "depth"]);
        assert_eq!(ColumnMap::from_toml("map.toml", &map.to_toml()).unwrap(), map);
    }

    #[test]
    fn all_faults_of_a_map_are_told_at_once() {
        let text = "form = \"tall\"\ncolour = 1\n[columns]\nsight = \"a\"\nsite = -1\n";
        let faults = ColumnMap::from_toml("map.toml", text).unwrap_err();
        assert_eq!(faults.0.len(), 4, "{faults}");
    }
}
