use super::pairing::Compared;
use crate::sampled::SampledSite;
use crate::stats::diversity::Shares;
use std::collections::BTreeMap;
use survey::{SurveyRecord, TaxonId};
use units::Metres;

/// Where the bands come from.
pub const NOISE_SOURCE: &str = "Nichols (1997): 46 Wisconsin lakes surveyed on two dates of one season. \
     Changes larger than these exceed what season and sampling did there.";

/// A change beside what ordinary noise does, for context; it is no test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NoiseBand {
    /// What is measured.
    pub measure: NoiseMeasure,
    /// Earlier; none for a similarity, or when not known.
    pub from: Option<f64>,
    /// Later.
    pub to: Option<f64>,
    /// Later less earlier, or the similarity; none when not known.
    pub change: Option<f64>,
    /// The band: a change beyond ± this, or a similarity below it, is more than ordinary noise.
    pub band: f64,
    /// Whether it is; none when the change is not known.
    pub beyond: Option<bool>,
}

/// What Nichols (1997) gives a band for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoiseMeasure {
    /// Greatest depth with plants, metres.
    MaxPlantDepth,
    /// Share of littoral sites without plants.
    OpenShare,
    /// Species on the rake.
    Species,
    /// Simpson's index, `1 − Σp²` of relative frequencies.
    Simpson,
    /// Similarity of the species lists, `2w/(a + b)` (Sørensen).
    FloralSimilarity,
    /// Similarity of the communities: shared relative frequency, `Σ min(p, q)`.
    CommunitySimilarity,
}

impl NoiseMeasure {
    /// The band of Nichols (1997).
    pub const fn band(self) -> f64 {
        match self {
            Self::MaxPlantDepth => 0.8,
            Self::OpenShare => 0.13,
            Self::Species => 4.0,
            Self::Simpson => 0.04,
            Self::FloralSimilarity | Self::CommunitySimilarity => 0.70,
        }
    }

    /// What it is called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::MaxPlantDepth => "greatest depth with plants",
            Self::OpenShare => "share of littoral sites without plants",
            Self::Species => "species on the rake",
            Self::Simpson => "Simpson diversity",
            Self::FloralSimilarity => "similarity of species lists",
            Self::CommunitySimilarity => "similarity of communities",
        }
    }
}

/// What one survey says of each measure.
struct Side {
    depth: Option<f64>,
    open: Option<f64>,
    occurrences: BTreeMap<TaxonId, f64>,
}

impl Side {
    fn of(record: &SurveyRecord, sites: &[&SampledSite<'_>]) -> Self {
        let limit = sites
            .iter()
            .filter(|site| site.plants)
            .filter_map(|site| site.depth)
            .reduce(Metres::max);
        let littoral: Vec<_> = sites
            .iter()
            .filter(|site| limit.is_some_and(|most| site.depth.is_some_and(|d| d <= most)))
            .collect();
        let bare = littoral.iter().filter(|site| !site.plants).count();
        let mut occurrences = BTreeMap::new();
        for (place, _) in sites.iter().flat_map(|site| &site.on_rake) {
            if record.taxa[*place].is_plant() {
                *occurrences.entry(record.taxa[*place].id).or_insert(0.0) += 1.0;
            }
        }
        Self {
            depth: limit.map(Metres::metres),
            open: (!littoral.is_empty()).then(|| bare as f64 / littoral.len() as f64),
            occurrences,
        }
    }

    fn simpson(&self) -> Option<f64> {
        let counts: Vec<f64> = self.occurrences.values().copied().collect();
        Shares::of(&counts).ok().map(|shares| shares.simpson())
    }

    fn share(&self, taxon: TaxonId) -> f64 {
        let all: f64 = self.occurrences.values().sum();
        self.occurrences.get(&taxon).map_or(0.0, |count| count / all)
    }
}

pub(super) fn bands(
    from: &SurveyRecord,
    to: &SurveyRecord,
    compared: &Compared<'_, '_>,
) -> Vec<NoiseBand> {
    let (first, second): (Vec<&SampledSite<'_>>, Vec<&SampledSite<'_>>) = match compared {
        Compared::Paired(pairs) => pairs.iter().copied().unzip(),
        Compared::Independent(one, other) => (one.clone(), other.clone()),
    };
    let (one, other) = (Side::of(from, &first), Side::of(to, &second));
    let sampled = !first.is_empty() && !second.is_empty();
    let change = |measure: NoiseMeasure, from: Option<f64>, to: Option<f64>| {
        let change = to.zip(from).map(|(to, from)| to - from);
        // a change of exactly the band is within it, whatever the rounding
        let beyond = change.map(|change| change.abs() > measure.band() + 1e-9);
        NoiseBand { measure, from, to, change, band: measure.band(), beyond }
    };
    let similar = |measure: NoiseMeasure, similarity: Option<f64>| NoiseBand {
        measure,
        from: None,
        to: None,
        change: similarity,
        band: measure.band(),
        beyond: similarity.map(|similarity| similarity < measure.band() - 1e-9),
    };
    let (a, b) = (one.occurrences.len(), other.occurrences.len());
    let shared = || one.occurrences.keys().filter(|taxon| other.occurrences.contains_key(taxon));
    let floral = (a + b > 0).then(|| 2.0 * shared().count() as f64 / (a + b) as f64);
    let community = (a > 0 && b > 0)
        .then(|| shared().map(|taxon| one.share(*taxon).min(other.share(*taxon))).sum());
    let species = |count: usize| sampled.then_some(count as f64);
    vec![
        change(NoiseMeasure::MaxPlantDepth, one.depth, other.depth),
        change(NoiseMeasure::OpenShare, one.open, other.open),
        change(NoiseMeasure::Species, species(a), species(b)),
        change(NoiseMeasure::Simpson, one.simpson(), other.simpson()),
        similar(NoiseMeasure::FloralSimilarity, floral),
        similar(NoiseMeasure::CommunitySimilarity, community),
    ]
}
