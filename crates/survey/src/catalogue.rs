//! The built-in catalogue of water plants: names old and new, growth form, origin by region,
//! coefficients of conservatism by table and region.
//!
//! The catalogue proposes, the lake's list decides: nothing here is a determination, and most of
//! its names and forms are from memory (`data/README.md` says which). A name that fits two taxa
//! finds none, because a wrong match is worse than a question. Start with [`Catalogue::builtin`].

mod distance;
mod names;
mod region;
mod table;

pub use region::{REGIONS, Region};

use crate::{Conservatism, GrowthForm, Origin, Rank};
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// A taxon the catalogue knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CatalogueTaxon {
    /// Accepted name, without author.
    pub scientific_name: &'static str,
    /// The common name that is printed; no two taxa share one.
    pub common_name: &'static str,
    /// Other common names; two taxa may share one.
    pub other_names: Vec<&'static str>,
    /// Family.
    pub family: &'static str,
    /// How it mostly grows.
    pub growth_form: GrowthForm,
    /// How it also grows.
    pub second_form: Option<GrowthForm>,
    /// How finely it is named.
    pub rank: Rank,
    /// Old names and other spellings.
    pub old_names: Vec<&'static str>,
    /// A word for the person with the plant in hand; may be empty.
    pub note: &'static str,
    /// Where name and form come from.
    pub provenance: &'static str,
}

impl CatalogueTaxon {
    /// Every name it is known by: scientific, common, other common, old.
    pub fn names(&self) -> impl Iterator<Item = &'static str> {
        [self.scientific_name, self.common_name]
            .into_iter()
            .chain(self.other_names.iter().copied())
            .chain(self.old_names.iter().copied())
    }
}

/// Where a taxon comes from in a region, and who says so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OriginFact {
    /// Native, introduced or not known.
    pub origin: Origin,
    /// The list of noxious weeds it stands on, such as `federal noxious weed`; empty for none. Only
    /// the federal list is held: a state's own list is for the user to look up.
    pub listed: &'static str,
    /// The region the fact is about: the state asked for, or `US`.
    pub region: &'static str,
    /// Who says so.
    pub source: &'static str,
}

/// A table of coefficients of conservatism.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ConservatismTable {
    /// Key.
    pub key: &'static str,
    /// Name, as it is printed beside every figure that rests on it.
    pub name: &'static str,
    /// Version.
    pub version: &'static str,
    /// Where it was published.
    pub source: &'static str,
}

/// The tables held. Public domain: work of the US government.
pub const CONSERVATISM_TABLES: [ConservatismTable; 2] = [
    ConservatismTable {
        key: "nwca-2011-state",
        name: "US EPA National Wetland Condition Assessment 2011, C values by state",
        version: "2011",
        source: "US EPA, data of the package aquametNWCA, ccNat, commit d4978c7c",
    },
    ConservatismTable {
        key: "nwca-2016-region",
        name: "US EPA National Wetland Condition Assessment 2016, C values by region",
        version: "2016",
        source: "US EPA, data of the package aquametNWCA, C values of 2016, commit d4978c7c",
    },
];

/// A coefficient of conservatism as one table has it for one region.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CValue {
    /// 0 to 10.
    pub value: u8,
    /// The table.
    pub table: &'static ConservatismTable,
    /// State or region of the table.
    pub region: &'static str,
    /// The old name the table has it under; empty when under its accepted name.
    pub listed_as: &'static str,
}

impl From<CValue> for Conservatism {
    fn from(one: CValue) -> Self {
        Self { value: f64::from(one.value), table: format!("{}, {}", one.table.name, one.region) }
    }
}

/// A name the catalogue has that is close to one it has not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Suggestion<'c> {
    /// The taxon.
    pub taxon: &'c CatalogueTaxon,
    /// The name of it that is close.
    pub name: &'static str,
    /// Slips of the pen between the two, after case and punctuation are set aside.
    pub slips: usize,
}

/// The catalogue.
#[derive(Debug)]
pub struct Catalogue {
    taxa: Vec<CatalogueTaxon>,
    /// From a folded name to the taxa that bear it.
    by_name: BTreeMap<String, Vec<usize>>,
    origins: BTreeMap<(usize, &'static str), OriginFact>,
    /// By taxon, place of the table, region.
    conservatism: BTreeMap<(usize, usize, &'static str), CValue>,
}

impl Catalogue {
    /// The catalogue that comes with the program, read once.
    pub fn builtin() -> &'static Self {
        static CATALOGUE: OnceLock<Catalogue> = OnceLock::new();
        CATALOGUE.get_or_init(table::read)
    }

    /// All taxa, by scientific name.
    pub fn taxa(&self) -> &[CatalogueTaxon] {
        &self.taxa
    }

    /// The one taxon with this scientific, common or old name, whatever case and punctuation.
    ///
    /// `sp.`, `spp.` and `species` after a genus are set aside; `×` is `x`, `subsp.` is `ssp.`.
    /// None when no taxon or more than one bears the name; see [`Catalogue::find_all`].
    pub fn find(&self, name: &str) -> Option<&CatalogueTaxon> {
        match self.places(name) {
            [place] => Some(&self.taxa[*place]),
            _ => None,
        }
    }

    /// Every taxon with this name: `clasping-leaf pondweed` is said of two.
    pub fn find_all(&self, name: &str) -> Vec<&CatalogueTaxon> {
        self.places(name).iter().map(|place| &self.taxa[*place]).collect()
    }

    /// Up to `most` taxa whose names are close to this one, the closest first: other spellings, the
    /// genus by its first letter (`P. crispus`), slips of the pen, the beginning of a name, and
    /// names that hold every long word of it.
    pub fn suggest(&self, name: &str, most: usize) -> Vec<Suggestion<'_>> {
        let wanted = Wanted::new(name);
        let mut close: Vec<(Reason, Suggestion<'_>)> = self
            .taxa
            .iter()
            .filter_map(|taxon| {
                let (reason, slips, name) = taxon
                    .names()
                    .filter_map(|one| {
                        wanted.reason(one).map(|(reason, slips)| (reason, slips, one))
                    })
                    .min_by_key(|(reason, slips, _)| (*reason, *slips))?;
                Some((reason, Suggestion { taxon, name, slips }))
            })
            .collect();
        // the sort is stable: equals stay in the order of the catalogue
        close.sort_by_key(|(reason, one)| (*reason, one.slips));
        close.into_iter().take(most).map(|(_, one)| one).collect()
    }

    /// Where a taxon comes from in a region: the state's own fact, else the general one for the US.
    /// None for a name the catalogue does not have; the region may be `WI`, `us-wi` or `Wisconsin`.
    pub fn origin(&self, scientific_name: &str, region: &str) -> Option<OriginFact> {
        let place = self.place(scientific_name)?;
        region::state(region)
            .and_then(|state| self.origins.get(&(place, state)))
            .or_else(|| self.origins.get(&(place, region::GENERAL)))
            .copied()
    }

    /// The coefficient of conservatism of a taxon in one table.
    ///
    /// `region` is a state or a region of the table. A state the table parts into regions (`NY`
    /// into `NY_GLHL` and others) gives none: ask for the region. None too where the table has no
    /// number: its rows are what was met, not a flora, so a gap says nothing.
    pub fn conservatism(&self, scientific_name: &str, region: &str, table: &str) -> Option<CValue> {
        let place = self.place(scientific_name)?;
        let table = table_place(table)?;
        let trimmed = region.trim().to_ascii_uppercase();
        let region = region::state(region).unwrap_or(&trimmed);
        self.conservatism
            .range((place, table, "")..(place, table + 1, ""))
            .find(|((_, _, one), _)| *one == region)
            .map(|(_, value)| *value)
    }

    /// The states or regions a table knows, in order.
    pub fn conservatism_regions(&self, table: &str) -> Vec<&'static str> {
        let Some(table) = table_place(table) else { return Vec::new() };
        let mut regions: Vec<&'static str> = self
            .conservatism
            .keys()
            .filter(|(_, one, _)| *one == table)
            .map(|(_, _, region)| *region)
            .collect();
        regions.sort_unstable();
        regions.dedup();
        regions
    }

    /// The regions origins are known for: the US in general and the states.
    pub fn regions(&self) -> &'static [Region] {
        &REGIONS
    }

    fn place(&self, name: &str) -> Option<usize> {
        match self.places(name) {
            [place] => Some(*place),
            _ => None,
        }
    }

    fn places(&self, name: &str) -> &[usize] {
        let by = |key: &str| self.by_name.get(key).map(Vec::as_slice);
        if let Some(found) = by(&names::folded(name)) {
            return found;
        }
        match names::genus_of(name).as_deref().and_then(by) {
            Some(found) if found.iter().all(|place| self.taxa[*place].is_told_coarsely()) => found,
            _ => &[],
        }
    }
}

/// Why a name is close, the best reason first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Reason {
    Same,
    Abbreviated,
    Slips,
    Begins,
    HoldsWords,
}

/// A name somebody looks for.
struct Wanted {
    key: String,
    abbreviated: Option<(char, String)>,
    words: Vec<String>,
    /// Slips forgiven: one in four letters.
    forgiven: usize,
}

impl Wanted {
    fn new(name: &str) -> Self {
        let key = names::folded(name);
        let forgiven = (key.chars().count() / 4).max(1);
        let words = names::telling_words(name);
        Self { key, abbreviated: names::abbreviated(name), words, forgiven }
    }

    /// Why a name of the catalogue is close to this one, if it is, and how many slips apart.
    fn reason(&self, name: &str) -> Option<(Reason, usize)> {
        if self.key.is_empty() {
            return None;
        }
        let key = names::folded(name);
        let slips = distance::slips(&self.key, &key, self.forgiven);
        if slips == Some(0) {
            return Some((Reason::Same, 0));
        }
        let abbreviated = self.abbreviated.as_ref();
        if let Some(slips) =
            abbreviated.and_then(|(letter, rest)| names::abbreviates(name, *letter, rest))
        {
            return Some((Reason::Abbreviated, slips));
        }
        if let Some(slips) = slips {
            return Some((Reason::Slips, slips));
        }
        let longer = key.chars().count().abs_diff(self.key.chars().count());
        if self.key.len() >= 3 && key.starts_with(&self.key) {
            return Some((Reason::Begins, longer));
        }
        let holds = !self.words.is_empty() && self.words.iter().all(|word| key.contains(word));
        holds.then_some((Reason::HoldsWords, longer))
    }
}

impl CatalogueTaxon {
    fn is_told_coarsely(&self) -> bool {
        matches!(self.rank, Rank::Genus | Rank::Aggregate)
    }
}

fn table_place(key: &str) -> Option<usize> {
    CONSERVATISM_TABLES.iter().position(|table| table.key.eq_ignore_ascii_case(key.trim()))
}

#[cfg(test)]
mod tests;
