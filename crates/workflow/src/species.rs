//! The lake's list of species: who is who, and what a new one is called for short.

use survey::catalogue::{CONSERVATISM_TABLES, Catalogue, CatalogueTaxon};
use survey::short_code::{CodeStyle, propose};
use survey::{Code, Conservatism, GrowthForm, Id, Lake, Origin, Rank, Taxon, TaxonId};

/// The lake's list while names are being looked up and added.
#[derive(Debug, Clone)]
pub struct SpeciesList {
    region: String,
    style: CodeStyle,
    taxa: Vec<Taxon>,
    added: Vec<usize>,
}

/// What a name stands for.
#[derive(Debug, Clone, PartialEq)]
pub enum Lookup {
    /// On the lake's list.
    Listed(TaxonId),
    /// Not on it, with what it might have meant.
    Unknown {
        /// Names that look like it, nearest first, each with what to write.
        suggestions: Vec<String>,
    },
}

/// Letters and digits in lower case: spelling that does not matter left out.
pub(crate) fn plain(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// `CERDEM`, `EWM`: a file's own code for a plant, to be kept.
fn is_code(name: &str) -> bool {
    let name = name.trim();
    (2..=survey::short_code::LONGEST).contains(&name.len())
        && name.starts_with(|c: char| c.is_ascii_uppercase())
        && name.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit())
}

impl SpeciesList {
    /// The list of a lake.
    pub fn new(lake: &Lake, taxa: Vec<Taxon>) -> Self {
        Self { region: lake.region.clone(), style: lake.code_style, taxa, added: Vec::new() }
    }

    /// True for a scientific, common or old name the catalogue knows.
    pub fn catalogued(name: &str) -> bool {
        Catalogue::builtin().find(name).is_some()
    }

    /// Everything on the list, added ones last.
    pub fn taxa(&self) -> &[Taxon] {
        &self.taxa
    }

    /// What was added since the list was made.
    pub fn added(&self) -> impl Iterator<Item = &Taxon> {
        self.added.iter().map(|&index| &self.taxa[index])
    }

    /// A name on the list: code, former code, scientific, common or old name.
    pub fn find(&self, name: &str) -> Option<&Taxon> {
        let wanted = plain(name);
        if wanted.is_empty() {
            return None;
        }
        let by_code = self.taxa.iter().find(|taxon| {
            std::iter::once(&taxon.code)
                .chain(&taxon.aliases)
                .any(|code| plain(code.as_str()) == wanted)
        });
        let by_name = || {
            self.taxa.iter().find(|taxon| {
                plain(&taxon.scientific_name) == wanted || plain(&taxon.common_name) == wanted
            })
        };
        let by_catalogue = || {
            let known = Catalogue::builtin().find(name)?;
            self.taxa
                .iter()
                .find(|taxon| plain(&taxon.scientific_name) == plain(known.scientific_name))
        };
        by_code.or_else(by_name).or_else(by_catalogue)
    }

    /// A name on the list, or what it might have meant.
    pub fn lookup(&self, name: &str) -> Lookup {
        if let Some(taxon) = self.find(name) {
            return Lookup::Listed(taxon.id);
        }
        let mut suggestions = Vec::new();
        let catalogue = Catalogue::builtin();
        let coded = catalogue.taxa().iter().filter(|taxon| {
            is_code(name)
                && CodeStyle::ALL.iter().any(|style| {
                    let code = propose(*style, taxon.scientific_name, taxon.common_name, |_| false);
                    code.eq_ignore_ascii_case(name.trim())
                })
        });
        let near = catalogue.suggest(name, 3).into_iter().map(|suggestion| suggestion.taxon);
        for known in coded.chain(near).take(3) {
            let scientific = known.scientific_name;
            match self.taxa.iter().find(|taxon| taxon.scientific_name == scientific) {
                Some(taxon) => suggestions.push(format!("{} {}", taxon.code, taxon.spoken_name())),
                None => suggestions.push(scientific.to_owned()),
            }
        }
        Lookup::Unknown { suggestions }
    }

    /// Puts a name on the list, from the catalogue when it is there, else as it stands.
    pub fn add(&mut self, name: &str, id: TaxonId) -> TaxonId {
        if let Some(taxon) = self.find(name) {
            return taxon.id;
        }
        let known = Catalogue::builtin().find(name);
        let mut taxon = match known {
            Some(known) => self.listed_from(known),
            None => Self::bare(name, id),
        };
        let code = if known.is_none() && is_code(name) && !self.taken(name) {
            name.trim().to_owned()
        } else {
            propose(self.style, &taxon.scientific_name, &taxon.common_name, |code: &str| {
                self.taken(code)
            })
        };
        if let Ok(code) = Code::new(&code) {
            taxon.code = code;
        }
        let id = taxon.id;
        self.added.push(self.taxa.len());
        self.taxa.push(taxon);
        id
    }

    fn taken(&self, code: &str) -> bool {
        self.taxa.iter().any(|taxon| {
            std::iter::once(&taxon.code)
                .chain(&taxon.aliases)
                .any(|one| one.as_str().eq_ignore_ascii_case(code))
        })
    }

    fn listed_from(&self, known: &CatalogueTaxon) -> Taxon {
        let catalogue = Catalogue::builtin();
        let region = if self.region.is_empty() { "US" } else { &self.region };
        let fact = catalogue.origin(known.scientific_name, region);
        // one table for the whole list, the one that holds most of the region's water plants, and no
        // genus: the tables rate a genus over all wetlands
        let held = |key: &str| {
            let has = |one: &&CatalogueTaxon| {
                matches!(one.rank, Rank::Species | Rank::Aggregate)
                    && catalogue.conservatism(one.scientific_name, region, key).is_some()
            };
            catalogue.taxa().iter().filter(has).count()
        };
        let table = CONSERVATISM_TABLES.iter().max_by_key(|table| held(table.key));
        let value = table
            .filter(|_| matches!(known.rank, Rank::Species | Rank::Aggregate))
            .and_then(|table| catalogue.conservatism(known.scientific_name, region, table.key));
        Taxon {
            id: named_key(known.scientific_name),
            code: placeholder(),
            aliases: Vec::new(),
            scientific_name: known.scientific_name.to_owned(),
            common_name: known.common_name.to_owned(),
            growth_form: known.growth_form,
            origin: fact.as_ref().map_or(Origin::Unknown, |fact| fact.origin),
            rank: known.rank,
            listed_noxious: fact.as_ref().is_some_and(|fact| !fact.listed.is_empty()),
            conservatism: value.map(Conservatism::from),
        }
    }

    fn bare(name: &str, id: TaxonId) -> Taxon {
        let words = name.split_whitespace().count();
        let lower = name.to_lowercase();
        let rank = if lower.contains("unk") {
            Rank::Unidentified
        } else if is_code(name) {
            Rank::Species
        } else if words == 1 || lower.ends_with("sp.") || lower.ends_with("spp.") {
            Rank::Genus
        } else {
            Rank::Species
        };
        let growth_form =
            if lower.contains("alga") { GrowthForm::FilamentousAlga } else { GrowthForm::Unknown };
        Taxon {
            id,
            code: placeholder(),
            aliases: Vec::new(),
            scientific_name: name.trim().to_owned(),
            common_name: String::new(),
            growth_form,
            origin: Origin::Unknown,
            rank,
            listed_noxious: false,
            conservatism: None,
        }
    }
}

/// The key of a plant of the catalogue, the same in every copy of the book.
fn named_key(scientific_name: &str) -> TaxonId {
    let digest = lakebook::sha256_hex(format!("taxon {scientific_name}").as_bytes());
    let bits = digest.get(..32).and_then(|half| u128::from_str_radix(half, 16).ok());
    TaxonId(Id::named(bits.unwrap_or_default()))
}

/// Stands until the code is proposed.
#[expect(clippy::expect_used, reason = "a literal that is a code")]
fn placeholder() -> Code {
    Code::new("?").expect("one letter is a code")
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::Id;

    fn list() -> SpeciesList {
        SpeciesList {
            region: String::new(),
            style: CodeStyle::TwoPlusTwo,
            taxa: Vec::new(),
            added: Vec::new(),
        }
    }

    #[test]
    fn the_code_a_file_uses_stays_the_code() {
        let mut list = list();
        for (number, name) in ["EGEDEN", "EWM", "Ceratophyllum demersum"].iter().enumerate() {
            list.add(name, TaxonId(Id::from_bits(number as u128)));
        }
        let codes: Vec<String> = list.taxa().iter().map(|taxon| taxon.code.to_string()).collect();
        assert_eq!(codes, ["EGEDEN", "EWM", "CEDE"]);
    }

    #[test]
    fn a_code_nobody_listed_is_asked_about_by_name() {
        for (code, meant) in [("CERDEM", "Ceratophyllum demersum"), ("ELCA", "Elodea canadensis")] {
            let Lookup::Unknown { suggestions } = list().lookup(code) else {
                unreachable!("the list is empty")
            };
            assert!(suggestions.iter().any(|name| name == meant), "{code}: {suggestions:?}");
        }
    }
}
