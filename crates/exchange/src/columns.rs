//! What a column means: guessed from its header, overruled by a column map.

mod map;
mod synonyms;

pub use map::{ColumnMap, ColumnRef, Form};

use synonyms::{MEASURE_WORDS, PLANT_WORDS, SYNONYMS};
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
    /// The second column under a plant's name: its health, say, after its rating.
    Paired,
    /// The person said to leave it out.
    Ignored,
    /// Not understood, so not read.
    Unknown,
}

impl Meaning {
    /// The word for it in a column map and in machine-readable output.
    pub fn key(self) -> &'static str {
        match self {
            Self::TaxonColumn => "taxon_column",
            Self::Paired => "paired",
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
            words.split(", ").position(|word| word == normal).map(|rank| (*meaning, rank))
        })
    }
}

/// What is believed about one column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColumnGuess {
    /// Place in the row, from 0.
    pub index: usize,
    /// Its header as it stands in the file; empty for the second column of a pair that has none.
    pub header: String,
    /// What it means.
    pub meaning: Meaning,
    /// The plant, for [`Meaning::TaxonColumn`] and [`Meaning::Paired`].
    pub taxon: Option<String>,
    /// The unit its header states.
    pub unit: Option<LengthUnit>,
}

impl ColumnGuess {
    /// How a message names the column.
    pub(crate) fn name(&self) -> String {
        match (&self.taxon, self.header.as_str()) {
            (Some(taxon), "") => format!("{taxon}, second column"),
            (None, "") => format!("column {}", self.index + 1),
            (_, header) => header.to_owned(),
        }
    }
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

/// Whether a header reads like the name of a plant: two words of a scientific name, or an English
/// word for a water plant.
pub(crate) fn looks_like_taxon(header: &str) -> bool {
    if names_a_measure(header) {
        return false;
    }
    let (normal, _) = normal_header(header);
    let words: Vec<&str> = normal.split(' ').collect();
    let plant = words.iter().any(|word| {
        let one = word.strip_suffix("ies").map(|stem| format!("{stem}y"));
        let one = one.as_deref().unwrap_or_else(|| word.strip_suffix('s').unwrap_or(word));
        PLANT_WORDS.split(' ').any(|plant| plant == one || plant == *word)
    });
    plant || is_binomial(header)
}

/// `Potamogeton crispus`, `Potamogeton_crispus`, `Potamogeton.crispus`,
/// `Myriophyllum spicatum x sibiricum`, `Chara sp.`
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
    let spaced = plant_name(header);
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

/// A name with its words apart, also where a table joined them by `_` or `.`.
pub(crate) fn plant_name(header: &str) -> String {
    let header = header.replace('_', " ");
    if header.contains(' ') { header } else { header.trim_end_matches('.').replace('.', " ") }
}

/// Whether a header names a measure: a weight, a count, a height, a second rating of the rake.
pub(crate) fn names_a_measure(header: &str) -> bool {
    let (normal, _) = normal_header(header);
    normal
        .split(' ')
        .map(|word| word.trim_end_matches(|letter: char| letter.is_ascii_digit()))
        .filter(|word| !word.is_empty())
        .any(|word| word == "rake" || MEASURE_WORDS.split(' ').any(|measure| measure == word))
}

/// Whether two headers are the same to a person.
pub(crate) fn same_header(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

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
            "Abarema.macradenia",
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
        for header in ["rake2", "Rake 2", "RAKE3", "wet wt"] {
            assert!(names_a_measure(header), "{header}");
        }
        assert!(!names_a_measure("Drake's weed"));
        assert!(looks_like_code("CERDEM") && looks_like_code("MYSP2") && !looks_like_code("Pt"));
    }

    #[test]
    fn no_header_means_two_things() {
        let mut seen = BTreeMap::new();
        for (meaning, _, words) in SYNONYMS {
            for word in words.split(", ") {
                assert_eq!(seen.insert(word, meaning), None, "{word}");
                assert_eq!(normal_header(word).0, word);
            }
        }
    }
}
