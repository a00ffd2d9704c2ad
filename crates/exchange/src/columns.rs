//! What a column means: guessed from its header, overruled by a column map.

use crate::cells::DateOrder;
use crate::fault::{Fault, Faults};
use std::collections::BTreeMap;
use std::fmt;
use units::LengthUnit;

/// What a column of a survey record can mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Meaning {
    /// Code of the site.
    Site,
    /// Day of the visit.
    Date,
    /// Time of day of the visit.
    Time,
    /// Degrees north.
    Latitude,
    /// Degrees east.
    Longitude,
    /// Easting in a projected system.
    X,
    /// Northing in a projected system.
    Y,
    /// Depth of water.
    Depth,
    /// Bottom sediment.
    Sediment,
    /// Whether the site was sampled, and why not.
    Outcome,
    /// Rating of everything on the rake together.
    TotalRating,
    /// Number of the rake throw.
    Throw,
    /// The plant, in a table with one row an observation.
    Taxon,
    /// Rating of that plant.
    Rating,
    /// On the rake, seen from the boat, or on the shore.
    HowSeen,
    /// Free words.
    Comment,
    /// A landmark near the site.
    Landmark,
    /// Zone of the lake.
    Zone,
    /// Who was in the boat.
    Crew,
    /// The file's own count of species at the site.
    SpeciesTotal,
    /// The file's own count of native species at the site.
    SpeciesNative,
    /// The header names a plant and the cells are its ratings.
    TaxonColumn,
    /// The person said to leave it out.
    Ignored,
    /// Not understood, so not read.
    Unknown,
}

/// Meaning, its key in files, and the headers it is known by, most telling first. Headers stand
/// in the normal form of [`normal_header`].
const SYNONYMS: [(Meaning, &str, &[&str]); 21] = [
    (
        Meaning::Site,
        "site",
        &[
            "site",
            "site id",
            "siteid",
            "site code",
            "site no",
            "site number",
            "site num",
            "sampling point",
            "sample point",
            "sampling site",
            "sample site",
            "sampling point id",
            "point",
            "point id",
            "pointid",
            "point no",
            "point number",
            "point num",
            "pt",
            "pt id",
            "ptid",
            "pt no",
            "pt num",
            "point code",
            "point name",
            "gps point",
            "waypoint",
            "station",
            "station id",
            "station no",
            "sites",
            "points",
            "site name",
            "sample id",
            "sampleid",
        ],
    ),
    (
        Meaning::Date,
        "date",
        &[
            "date",
            "survey date",
            "sample date",
            "sampledate",
            "sampling date",
            "visit date",
            "date sampled",
            "date of survey",
        ],
    ),
    (
        Meaning::Time,
        "time",
        &["time", "time of day", "visit time", "sample time", "start time", "clock"],
    ),
    (
        Meaning::Latitude,
        "latitude",
        &["latitude", "lat", "gps latitude", "gps lat", "point latitude", "actual latitude"],
    ),
    (
        Meaning::Longitude,
        "longitude",
        &[
            "longitude",
            "lon",
            "long",
            "lng",
            "gps longitude",
            "gps lon",
            "gps long",
            "point longitude",
            "actual longitude",
        ],
    ),
    (
        Meaning::X,
        "x",
        &[
            "x",
            "easting",
            "east",
            "utm x",
            "utm easting",
            "utm e",
            "x coord",
            "x coordinate",
            "xcoord",
            "point x",
            "x utm",
        ],
    ),
    (
        Meaning::Y,
        "y",
        &[
            "y",
            "northing",
            "north",
            "utm y",
            "utm northing",
            "utm n",
            "y coord",
            "y coordinate",
            "ycoord",
            "point y",
            "y utm",
        ],
    ),
    (
        Meaning::Depth,
        "depth",
        &[
            "depth",
            "water depth",
            "depth of water",
            "site depth",
            "sample depth",
            "depth at site",
            "sounding",
            "sounding depth",
            "total depth",
        ],
    ),
    (
        Meaning::Sediment,
        "sediment",
        &[
            "sediment",
            "sediment type",
            "dominant sediment type",
            "dominant sediment",
            "substrate",
            "substrate type",
            "dominant substrate",
            "bottom",
            "bottom type",
            "bottom substrate",
            "bottom sediment",
        ],
    ),
    (
        Meaning::Outcome,
        "outcome",
        &[
            "outcome",
            "visit outcome",
            "site outcome",
            "reason",
            "not sampled",
            "reason not sampled",
            "not sampled reason",
            "non sampled reason",
            "why not sampled",
            "site status",
            "status",
        ],
    ),
    (
        Meaning::TotalRating,
        "total_rating",
        &[
            "total rating",
            "total rake rating",
            "total rake fullness",
            "total rake",
            "overall rating",
            "overall rake fullness",
            "total rake fullness rating",
            "total density",
            "total abundance",
            "rake fullness total",
            "rake fullness",
            "rake fullness rating",
            "rake total",
            "rake",
        ],
    ),
    (
        Meaning::Throw,
        "throw",
        &[
            "throw",
            "throw no",
            "throw number",
            "rake throw",
            "toss",
            "toss no",
            "rake toss",
            "rep",
            "replicate",
        ],
    ),
    (
        Meaning::Taxon,
        "taxon",
        &[
            "taxon",
            "species",
            "scientific name",
            "taxon name",
            "species name",
            "plant species",
            "taxon code",
            "species code",
            "common name",
            "plant",
            "plant name",
            "taxa",
            "code",
        ],
    ),
    (
        Meaning::Rating,
        "rating",
        &[
            "rating",
            "species rating",
            "taxon rating",
            "rake rating",
            "density",
            "density rating",
            "rake density",
            "abundance",
            "abundance rating",
            "score",
            "dominance",
            "cover class",
            "cover",
            "rake score",
        ],
    ),
    (
        Meaning::HowSeen,
        "how_seen",
        &["how seen", "how found", "seen", "visual", "found by", "observed by eye"],
    ),
    (Meaning::Comment, "comment", &["comment", "comments", "note", "notes", "remark", "remarks"]),
    (Meaning::Landmark, "landmark", &["landmark", "landmarks", "nearest landmark"]),
    (
        Meaning::Zone,
        "zone",
        &["zone", "zone id", "zone code", "zone name", "sub area", "subarea", "section"],
    ),
    (
        Meaning::Crew,
        "crew",
        &[
            "crew",
            "observer",
            "observers",
            "surveyor",
            "surveyors",
            "recorder",
            "sampled by",
            "sampler",
            "samplers",
            "recorded by",
            "identified by",
        ],
    ),
    (
        Meaning::SpeciesTotal,
        "species_total",
        &[
            "total species",
            "species total",
            "species count",
            "number of species",
            "species richness",
            "richness",
            "total number of species",
            "n species",
            "no of species",
            "num species",
        ],
    ),
    (
        Meaning::SpeciesNative,
        "species_native",
        &[
            "native species",
            "total native species",
            "total natives",
            "number of native species",
            "natives",
            "native species count",
            "total species no exotics",
            "total species vegetated sites no exotics",
            "species no exotics",
        ],
    ),
];

impl Meaning {
    /// The word for it in a column map and in machine-readable output.
    pub fn key(self) -> &'static str {
        match self {
            Self::TaxonColumn => "taxon_column",
            Self::Ignored => "ignored",
            Self::Unknown => "unknown",
            _ => SYNONYMS
                .iter()
                .find(|(meaning, _, _)| *meaning == self)
                .map_or("unknown", |(_, key, _)| key),
        }
    }

    /// The meaning a column map calls by this word.
    pub fn from_key(key: &str) -> Option<Self> {
        SYNONYMS.iter().find(|(_, known, _)| *known == key).map(|(meaning, _, _)| *meaning)
    }

    /// Every word a column map may use.
    pub fn keys() -> impl Iterator<Item = &'static str> {
        SYNONYMS.iter().map(|(_, key, _)| *key)
    }

    /// The meaning of a header and how telling it is: 0 the most.
    pub(crate) fn of_header(normal: &str) -> Option<(Self, usize)> {
        SYNONYMS.iter().find_map(|(meaning, _, words)| {
            words.iter().position(|word| *word == normal).map(|rank| (*meaning, rank))
        })
    }
}

/// What is believed about one column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColumnGuess {
    /// Place in the row, from 0.
    pub index: usize,
    /// Its header as it stands in the file.
    pub header: String,
    /// What it means.
    pub meaning: Meaning,
    /// The plant, for [`Meaning::TaxonColumn`].
    pub taxon: Option<String>,
    /// The unit its header states.
    pub unit: Option<LengthUnit>,
}

/// A header in words: lower case, one space between, `CamelCase` and `snake_case` taken apart, what
/// stands in brackets and a unit or datum at the end removed; and the unit.
///
/// `Depth_ft`, `depth (ft)`, `Depth, in feet` and `DEPTH [FT]` all become `depth` in feet.
pub(crate) fn normal_header(header: &str) -> (String, Option<LengthUnit>) {
    let mut words = String::new();
    let mut bracket = String::new();
    let mut nesting = 0_usize;
    let mut before = ' ';
    for c in header.chars() {
        match c {
            '(' | '[' | '{' => {
                nesting += 1;
                words.push(' ');
            }
            ')' | ']' | '}' => nesting = nesting.saturating_sub(1),
            _ if nesting > 0 => bracket.push(c),
            _ => {
                if c.is_uppercase() && before.is_lowercase() {
                    words.push(' ');
                }
                if c.is_alphanumeric() {
                    words.extend(c.to_lowercase());
                } else {
                    words.push(' ');
                }
            }
        }
        before = c;
    }
    let mut words: Vec<&str> = words.split_whitespace().collect();
    let mut unit = bracket.trim().trim_start_matches("in ").parse::<LengthUnit>().ok();
    while words.len() > 1 {
        let last = words[words.len() - 1];
        if matches!(last, "wgs84" | "wgs" | "nad83" | "dd" | "deg" | "degrees" | "decimal") {
            words.pop();
        } else if unit.is_none() && words[0] != "utm" && last.parse::<LengthUnit>().is_ok() {
            unit = last.parse().ok();
            words.pop();
        } else if words.len() > 1 && last == "in" && unit.is_some() {
            words.pop();
        } else {
            break;
        }
    }
    (words.join(" "), unit)
}

/// Words in English names of water plants.
const PLANT_WORDS: [&str; 44] = [
    "algae",
    "alga",
    "arrowhead",
    "bladderwort",
    "bulrush",
    "burreed",
    "buttercup",
    "cattail",
    "celery",
    "chara",
    "coontail",
    "crowfoot",
    "duckweed",
    "eelgrass",
    "elodea",
    "fanwort",
    "frogbit",
    "hornwort",
    "hydrilla",
    "lily",
    "lotus",
    "milfoil",
    "moss",
    "muskgrass",
    "naiad",
    "nitella",
    "pickerelweed",
    "pondweed",
    "quillwort",
    "rush",
    "spatterdock",
    "spikerush",
    "starwort",
    "stargrass",
    "stonewort",
    "waterlily",
    "watermeal",
    "watermilfoil",
    "watershield",
    "waterweed",
    "weed",
    "wort",
    "mannagrass",
    "cress",
];
/// A header with one of these is a measurement of plants, not the name of one.
const MEASURE_WORDS: [&str; 12] = [
    "wt", "weight", "mass", "biomass", "count", "total", "height", "health", "percent", "pct",
    "wet", "dry",
];

/// Whether a header reads like the name of a plant: two words of a scientific name, or an English
/// word for a water plant.
pub(crate) fn looks_like_taxon(header: &str) -> bool {
    let (normal, _) = normal_header(header);
    let words: Vec<&str> = normal.split(' ').collect();
    if words.iter().any(|word| MEASURE_WORDS.contains(word)) {
        return false;
    }
    let plant = words.iter().any(|word| {
        let one = word.strip_suffix("ies").map(|stem| format!("{stem}y"));
        let one = one.as_deref().unwrap_or_else(|| word.strip_suffix('s').unwrap_or(word));
        PLANT_WORDS.contains(&one) || PLANT_WORDS.contains(word)
    });
    plant || is_binomial(header)
}

/// `Potamogeton crispus`, `Potamogeton_crispus`, `Myriophyllum spicatum x sibiricum`, `Chara sp.`
fn is_binomial(header: &str) -> bool {
    const GENUS_ENDINGS: [&str; 7] = ["um", "us", "a", "is", "es", "on", "as"];
    /// Genera of water plants that end otherwise.
    const GENERA: [&str; 8] = [
        "Nuphar",
        "Carex",
        "Bidens",
        "Elatine",
        "Callitriche",
        "Hydrocotyle",
        "Nelumbo",
        "Isoëtes",
    ];
    const EPITHET_ENDINGS: [&str; 11] =
        ["um", "us", "a", "is", "es", "i", "ense", "ale", "ans", "ens", "or"];
    let spaced = header.replace('_', " ");
    let mut words = spaced.split_whitespace();
    let (Some(genus), Some(epithet)) = (words.next(), words.next()) else { return false };
    let name_like = genus.len() > 3
        && genus.starts_with(|c: char| c.is_ascii_uppercase())
        && genus.chars().skip(1).all(char::is_lowercase);
    let genus_like = GENERA.contains(&genus)
        || name_like && GENUS_ENDINGS.iter().any(|ending| genus.ends_with(ending));
    let epithet_like = epithet.chars().all(|c| c.is_lowercase() || c == '-')
        && EPITHET_ENDINGS.iter().any(|ending| epithet.ends_with(ending));
    let open = matches!(epithet, "sp" | "sp." | "spp" | "spp." | "x" | "×");
    name_like && open || genus_like && epithet_like
}

/// `CERDEM`, `MYSP2`: four to eight capitals and digits that begin with a letter.
pub(crate) fn looks_like_code(header: &str) -> bool {
    (4..=8).contains(&header.len())
        && header.starts_with(|c: char| c.is_ascii_uppercase())
        && header.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit())
}

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

pub(crate) fn same_header(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// What a person says about the columns of a file, kept as TOML beside it.
///
/// ```toml
/// form = "long"
/// depth_unit = "ft"
/// date_order = "mdy"
/// header_row = 16
/// ignore = ["health"]
///
/// [columns]
/// site = "PT_"
/// depth = 4
///
/// [taxa]
/// "Egeria" = "Egeria densa"
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
    /// Row of the header, from 1; guessed when not said.
    pub header_row: Option<usize>,
    /// Headers of columns to leave out.
    pub ignore: Vec<String>,
    /// Which column means what.
    pub columns: BTreeMap<Meaning, ColumnRef>,
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
        if !self.ignore.is_empty() {
            put("ignore", Array(self.ignore.iter().cloned().map(Text).collect()));
        }
        let columns = self.columns.iter().map(|(meaning, column)| {
            let value = match column {
                ColumnRef::Header(name) => Text(name.clone()),
                ColumnRef::Number(number) => Integer(*number as i64),
            };
            (meaning.key().to_owned(), value)
        });
        put("columns", Table(columns.collect()));
        let texts = |map: &BTreeMap<String, String>| {
            Table(map.iter().map(|(k, v)| (k.clone(), Text(v.clone()))).collect())
        };
        if !self.taxa.is_empty() {
            put("taxa", texts(&self.taxa));
        }
        if !self.only.is_empty() {
            put("only", texts(&self.only));
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
            "one of `form`, `depth_unit`, `date_order`, `header_row`, `ignore`, `[columns]`, \
             `[taxa]`, `[only]`",
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
            "ignore" => {
                let headers = value.as_array().map(|list| {
                    list.iter().map(|v| v.as_str().map(str::to_owned)).collect::<Option<Vec<_>>>()
                });
                match (headers.flatten(), value.as_str()) {
                    (Some(headers), _) => self.map.ignore.extend(headers),
                    (None, Some(header)) => self.map.ignore.push(header.to_owned()),
                    (None, None) => self.bad(key, shown, "a list of headers"),
                }
            }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headers_come_down_to_words_and_units() {
        let cases = [
            ("Depth_ft", "depth", Some(LengthUnit::Foot)),
            ("depth (ft)", "depth", Some(LengthUnit::Foot)),
            ("Depth, in feet", "depth", Some(LengthUnit::Foot)),
            ("DEPTH [M]", "depth", Some(LengthUnit::Metre)),
            ("depth_m", "depth", Some(LengthUnit::Metre)),
            ("PT_", "pt", None),
            ("TotalSpecies_VegetatedSites", "total species vegetated sites", None),
            ("latitude_wgs84", "latitude", None),
            ("Dominant sediment type (M=muck, S=Sand)", "dominant sediment type", None),
            ("M", "m", None),
        ];
        for (header, words, unit) in cases {
            assert_eq!(normal_header(header), (words.to_owned(), unit), "{header}");
        }
    }

    #[test]
    fn plants_are_told_from_other_headers() {
        for header in [
            "Filamentous algae",
            "Potamogeton crispus",
            "Chara sp.",
            "Egeria_densa",
            "water lilies",
            "Eurasian watermilfoil",
            "Najas flexilis",
            "Brasenia schreberi",
            "Nuphar variegata",
            "Lemna minor",
            "Stuckenia pectinata",
            "Vallisneria americana",
            "Potamogeton natans",
            "Myriophyllum x something",
        ] {
            assert!(looks_like_taxon(header), "{header}");
        }
        for header in [
            "fil_algae_wt",
            "Rake",
            "TotalSpecies",
            "Data sheet",
            "Photo taken",
            "rake2",
            "Zone area",
            "Sample number",
        ] {
            assert!(!looks_like_taxon(header), "{header}");
        }
        assert!(looks_like_code("CERDEM") && looks_like_code("MYSP2") && !looks_like_code("Pt"));
    }

    #[test]
    fn no_header_means_two_things() {
        let mut seen = BTreeMap::new();
        for (meaning, _, words) in SYNONYMS {
            for word in words {
                assert_eq!(seen.insert(*word, meaning), None, "{word}");
                assert_eq!(normal_header(word).0, *word);
            }
        }
    }

    #[test]
    fn a_map_survives_the_round_trip_through_toml() {
        let text = "header_row = 16\n[columns]\nsite = \"PT_\"\ndepth = 4\nignore = [\"health\"]\n\
                    form = \"long\"\ndepth_unit = \"ft\"\ndate_order = \"mdy\"\n\
                    [taxa]\n\"Egeria\" = \"Egeria densa\"\n[only]\nsheet = \"Data 2017 Pre\"\n";
        let map = ColumnMap::from_toml("map.toml", text).unwrap();
        assert_eq!(map.form, Some(Form::Long));
        assert_eq!(map.columns[&Meaning::Depth], ColumnRef::Number(4));
        assert_eq!(ColumnMap::from_toml("map.toml", &map.to_toml()).unwrap(), map);
    }

    #[test]
    fn all_faults_of_a_map_are_told_at_once() {
        let text = "form = \"tall\"\ncolour = 1\n[columns]\nsight = \"a\"\nsite = -1\n";
        let faults = ColumnMap::from_toml("map.toml", text).unwrap_err();
        assert_eq!(faults.0.len(), 4, "{faults}");
    }
}
