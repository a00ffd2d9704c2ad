use super::SurveyFindings;
use super::community::NoFloristic;
use crate::sampled::Sampled;
use survey::{NotSampled, Rank, Scope, SurveyRecord};
use units::{Metres, UnitSystem};

/// Something a reader of the findings must know before the figures.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Note {
    /// No site was sampled.
    NoSiteSampled,
    /// No plant came up on the rake anywhere.
    NoPlants {
        /// Sites sampled.
        sampled: usize,
    },
    /// Plants on the rake, but no depth measured at any of those sites.
    NoPlantDepth,
    /// Sampled sites without a depth.
    SitesWithoutDepth {
        /// Such sites.
        sites: usize,
        /// Of these, with plants.
        vegetated: usize,
    },
    /// Plants grew at the deepest sampled site, so their limit may lie deeper.
    LimitNotReached {
        /// Depth of the deepest plant and of the deepest sampled site.
        depth: Metres,
    },
    /// Plants kept the boat from sites: usually the densest beds.
    NotNavigable {
        /// Such sites.
        sites: usize,
    },
    /// Only counts of species were published, no names.
    CountsWithoutNames {
        /// Such sites.
        sites: usize,
    },
    /// The rake was rated with plants that nobody named.
    PlantsNotNamed {
        /// Such sites.
        sites: usize,
    },
    /// The rake was rated above zero though no plant is on record.
    RatedWithoutPlants {
        /// Such sites.
        sites: usize,
    },
    /// Taxa named to the genus only or not yet named.
    NamedLoosely {
        /// Such taxa on the rake.
        taxa: usize,
    },
    /// Observations of taxa that are not on the lake's list.
    NotOnTheList {
        /// Such observations.
        observations: usize,
    },
    /// Only some taxa were looked for.
    LimitedScope {
        /// Taxa looked for.
        taxa: usize,
        /// Taxa found beside them.
        others_found: usize,
    },
    /// No native taxon with a coefficient of conservatism.
    NoCoefficients,
    /// Coefficients of several tables, which do not compare.
    SeveralTables {
        /// The tables.
        tables: Vec<String>,
    },
}

impl Note {
    /// The note in a sentence, depths in the units of the reader.
    pub fn message(&self, units: UnitSystem) -> String {
        match self {
            Self::NoSiteSampled => {
                "No site was sampled, so nothing can be said about plants.".to_owned()
            }
            Self::NoPlants { sampled } => format!(
                "No plant came up on the rake (sites sampled: {sampled}): the depth limit, \
                 relative frequencies and diversity are undefined, not zero."
            ),
            Self::NoPlantDepth => "No depth was measured where plants came up, so there is no \
                 depth limit and no littoral figure."
                .to_owned(),
            Self::SitesWithoutDepth { sites, vegetated } => format!(
                "Sampled sites without a depth: {sites} ({vegetated} with plants). They are in no \
                 littoral figure."
            ),
            Self::LimitNotReached { depth } => format!(
                "Plants grew at the deepest sampled site ({}): they may grow deeper.",
                units.depth(*depth)
            ),
            Self::NotNavigable { sites } => format!(
                "Sites the boat could not reach because of plants: {sites}. They are in no \
                 denominator and are usually the densest beds, so frequencies are likely too low."
            ),
            Self::CountsWithoutNames { sites } => format!(
                "Sites where only the number of species is known, not their names: {sites}. They \
                 count as without any named species."
            ),
            Self::PlantsNotNamed { sites } => format!(
                "Sites where the rake held plants that were not named: {sites}. They count as \
                 vegetated and as without any named species; species per site leaves them out."
            ),
            Self::RatedWithoutPlants { sites } => format!(
                "Sites where the rake was rated above zero though no plant is on record: {sites}. \
                 They count as without plants."
            ),
            Self::NamedLoosely { taxa } => format!(
                "Taxa named to the genus only or not yet named: {taxa}. A species may be counted \
                 twice."
            ),
            Self::NotOnTheList { observations } => format!(
                "Observations of taxa that are not on the lake's list: {observations}. They are \
                 left out."
            ),
            Self::LimitedScope { taxa, others_found } => format!(
                "Taxa looked for: {taxa}, no others (others that turned up: {others_found}). \
                 Richness, diversity and floristic quality do not describe the community."
            ),
            Self::NoCoefficients => {
                "No native taxon with a coefficient of conservatism came up on \
                 the rake: floristic quality is undefined."
                    .to_owned()
            }
            Self::SeveralTables { tables } => format!(
                "The coefficients of conservatism come from {} tables, which do not compare ({}): \
                 choose one for the lake's list.",
                tables.len(),
                tables.join("; ")
            ),
        }
    }
}

pub(super) fn notes(
    record: &SurveyRecord,
    sampled: &Sampled<'_>,
    findings: &SurveyFindings,
    no_floristic: Option<NoFloristic>,
) -> Vec<Note> {
    let sites = &sampled.sites;
    if sites.is_empty() {
        return vec![Note::NoSiteSampled];
    }
    let count = |test: &dyn Fn(&crate::sampled::SampledSite<'_>) -> bool| {
        sites.iter().filter(|site| test(site)).count()
    };
    let some = |count: usize, note: fn(usize) -> Note| (count > 0).then(|| note(count));
    let vegetated = findings.sites.vegetated;
    let deepest = sites.iter().filter_map(|site| site.depth).reduce(Metres::max);
    let loosely = findings
        .taxa
        .iter()
        .filter(|one| one.sites > 0 && matches!(one.taxon.rank, Rank::Genus | Rank::Unidentified))
        .count();
    [
        (vegetated == 0).then_some(Note::NoPlants { sampled: sites.len() }),
        (vegetated > 0 && findings.max_plant_depth.is_none()).then_some(Note::NoPlantDepth),
        (findings.sites_without_depth > 0).then(|| Note::SitesWithoutDepth {
            sites: findings.sites_without_depth,
            vegetated: count(&|site| site.depth.is_none() && site.plants),
        }),
        findings
            .max_plant_depth
            .filter(|limit| deepest.is_some_and(|deepest| deepest <= *limit))
            .map(|depth| Note::LimitNotReached { depth }),
        some(
            sampled.passed_over.get(&NotSampled::NotNavigablePlants).copied().unwrap_or(0),
            |sites| Note::NotNavigable { sites },
        ),
        some(count(&|site| site.counted_only), |sites| Note::CountsWithoutNames { sites }),
        some(count(&|site| site.species.is_none()), |sites| Note::PlantsNotNamed { sites }),
        some(count(&|site| site.rated_without_plants), |sites| Note::RatedWithoutPlants { sites }),
        some(loosely, |taxa| Note::NamedLoosely { taxa }),
        some(sampled.unlisted, |observations| Note::NotOnTheList { observations }),
        match &record.survey.scope {
            Scope::WholeCommunity => None,
            Scope::Only(taxa) => Some(Note::LimitedScope {
                taxa: taxa.len(),
                others_found: findings.taxa.iter().filter(|one| !one.looked_for).count(),
            }),
        },
        // without plants there is nothing to miss a coefficient for
        no_floristic.filter(|_| vegetated > 0).map(|why| match why {
            NoFloristic::NoCoefficients => Note::NoCoefficients,
            NoFloristic::SeveralTables(tables) => Note::SeveralTables { tables },
        }),
    ]
    .into_iter()
    .flatten()
    .collect()
}
