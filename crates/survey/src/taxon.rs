use crate::catalogue::Catalogue;
use crate::{Code, TaxonId};
use std::fmt;
use std::str::FromStr;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $key:literal, $word:literal;)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$vdoc])* $variant,)+ }

        impl $name {
            /// All of them, in the order people list them.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The word kept in files.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key,)+ }
            }

            /// The words a person reads.
            pub const fn words(self) -> &'static str {
                match self { $(Self::$variant => $word,)+ }
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(self.words())
            }
        }

        impl FromStr for $name {
            type Err = $crate::taxon::UnknownWord;
            /// Reads the key or the words, whatever the case.
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                let wanted = text.trim();
                Self::ALL
                    .iter()
                    .copied()
                    .find(|one| one.key().eq_ignore_ascii_case(wanted) || one.words().eq_ignore_ascii_case(wanted))
                    .ok_or_else(|| $crate::taxon::UnknownWord {
                        found: wanted.to_owned(),
                        known: Self::ALL.iter().map(|one| one.key()).collect(),
                    })
            }
        }
    };
}
pub(crate) use words;

/// A word that is not one of a fixed list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownWord {
    /// The word found.
    pub found: String,
    /// The words known.
    pub known: Vec<&'static str>,
}

impl fmt::Display for UnknownWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}` is not one of {}", self.found, self.known.join(", "))
    }
}

impl std::error::Error for UnknownWord {}

words! {
    /// How a plant grows in or by the water.
    GrowthForm {
        /// Rooted or loose, under the surface.
        Submersed = "submersed", "submersed";
        /// Rooted, leaves on the surface.
        FloatingLeaf = "floating-leaf", "floating-leaf";
        /// Not rooted, on the surface.
        FreeFloating = "free-floating", "free-floating";
        /// Rooted, standing out of the water.
        Emergent = "emergent", "emergent";
        /// A large alga that looks like a plant: muskgrass, stonewort. Counts as a plant.
        Macroalga = "macroalga", "macroalga";
        /// An aquatic moss or liverwort.
        Moss = "moss", "moss";
        /// Filamentous algae: rated apart, never in a statistic of plants.
        FilamentousAlga = "filamentous-alga", "filamentous algae";
        /// Not known.
        Unknown = "unknown", "unknown";
    }
}

words! {
    /// Where a plant comes from, as held for this lake's region.
    Origin {
        /// Native to the region.
        Native = "native", "native";
        /// Brought to the region by people.
        Introduced = "introduced", "introduced";
        /// Not known, or not settled below the genus.
        Unknown = "unknown", "origin unknown";
    }
}

words! {
    /// How finely a taxon is named.
    Rank {
        /// A species.
        Species = "species", "species";
        /// A genus, the species not told.
        Genus = "genus", "genus";
        /// A hybrid.
        Hybrid = "hybrid", "hybrid";
        /// Several species kept under one name.
        Aggregate = "aggregate", "aggregate";
        /// Not yet named; resolved later.
        Unidentified = "unidentified", "not yet identified";
    }
}

/// A coefficient of conservatism with the table it was read in: without its table it means nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Conservatism {
    /// 0 to 10.
    pub value: f64,
    /// Name, version and region of the table.
    pub table: String,
}

/// A taxon on one lake's list.
#[derive(Debug, Clone, PartialEq)]
pub struct Taxon {
    /// Key.
    pub id: TaxonId,
    /// Short code on sheets and maps, unique in the lake.
    pub code: Code,
    /// Codes it had before.
    pub aliases: Vec<Code>,
    /// Scientific name without author.
    pub scientific_name: String,
    /// Common name; may be empty.
    pub common_name: String,
    /// How it grows.
    pub growth_form: GrowthForm,
    /// Where it comes from, in this lake's region.
    pub origin: Origin,
    /// How finely it is named.
    pub rank: Rank,
    /// Listed noxious in this lake's state, as the user set it.
    pub listed_noxious: bool,
    /// Coefficient of conservatism, when a table has one.
    pub conservatism: Option<Conservatism>,
}

impl Taxon {
    /// True when it counts in statistics of plants; filamentous algae do not (common practice).
    pub fn is_plant(&self) -> bool {
        self.growth_form != GrowthForm::FilamentousAlga
    }

    /// Whether a plant written down under this coarser name may have been that finer one: a genus may hold
    /// its species, hybrids and aggregates, an aggregate the species whose name it begins with, and either
    /// those whose old names begin with it ([`Catalogue`]). One that is listed as native is not one that is
    /// listed as introduced.
    pub fn may_hold(&self, finer: &Self) -> bool {
        let begins = |name: &str, words: usize| -> Vec<String> {
            name.split_whitespace().take(words).map(str::to_lowercase).collect()
        };
        let alike = |words| {
            let own = begins(&self.scientific_name, words);
            let under = |name: &str| own == begins(name, words);
            own.len() == words
                && (under(&finer.scientific_name)
                    || Catalogue::builtin()
                        .find(&finer.scientific_name)
                        .is_some_and(|known| known.old_names.iter().any(|old| under(old))))
        };
        if let (Origin::Native, Origin::Introduced) | (Origin::Introduced, Origin::Native) =
            (self.origin, finer.origin)
        {
            return false;
        }
        match (self.rank, finer.rank) {
            (Rank::Genus, Rank::Species | Rank::Hybrid | Rank::Aggregate) => alike(1),
            (Rank::Aggregate, Rank::Species) => alike(2),
            _ => false,
        }
    }

    /// The name a person would say: common, else scientific.
    pub fn spoken_name(&self) -> &str {
        if self.common_name.is_empty() { &self.scientific_name } else { &self.common_name }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Id;

    fn named(name: &str, rank: Rank) -> Taxon {
        Taxon {
            id: TaxonId(Id::v7(1, 1)),
            code: Code::new("X").unwrap(),
            aliases: Vec::new(),
            scientific_name: name.to_owned(),
            common_name: String::new(),
            growth_form: GrowthForm::Submersed,
            origin: Origin::Native,
            rank,
            listed_noxious: false,
            conservatism: None,
        }
    }

    #[test]
    fn a_coarser_name_may_hold_the_finer_ones_that_begin_alike() {
        let table = [
            ("Najas", Rank::Genus, "Najas flexilis", Rank::Species, true),
            ("Najas sp.", Rank::Genus, "najas guadalupensis", Rank::Species, true),
            ("Myriophyllum", Rank::Genus, "Myriophyllum spicatum x sibiricum", Rank::Hybrid, true),
            // P. pectinatus until the genus was divided (Haynes & Hellquist 2000, Flora of North America 22, from memory)
            ("Potamogeton", Rank::Genus, "Stuckenia pectinata", Rank::Species, true),
            ("Stuckenia", Rank::Genus, "Potamogeton crispus", Rank::Species, false),
            ("Najas flexilis", Rank::Species, "Najas", Rank::Genus, false),
            ("Najas", Rank::Genus, "Najas", Rank::Genus, false),
            (
                "Potamogeton pusillus agg.",
                Rank::Aggregate,
                "Potamogeton pusillus",
                Rank::Species,
                true,
            ),
            (
                "Potamogeton pusillus agg.",
                Rank::Aggregate,
                "Potamogeton natans",
                Rank::Species,
                false,
            ),
            ("", Rank::Genus, "", Rank::Species, false),
        ];
        for (coarse, rank, fine, fine_rank, holds) in table {
            assert_eq!(
                named(coarse, rank).may_hold(&named(fine, fine_rank)),
                holds,
                "{coarse} and {fine}"
            );
        }
        let native = named("Potamogeton", Rank::Genus);
        let mut introduced = named("Potamogeton crispus", Rank::Species);
        assert!(native.may_hold(&introduced));
        introduced.origin = Origin::Introduced;
        assert!(!native.may_hold(&introduced), "the list says the genus stands for natives");
    }
}
