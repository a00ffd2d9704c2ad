use super::TaxonFindings;
use crate::sampled::SampledSite;
use crate::stats::Confidence;
use crate::stats::accumulation::{Accumulation, accumulation_curve, coverage, extrapolate};
use crate::stats::diversity::{LogBase, Shares};
use crate::stats::floristic::{FloristicQuality, floristic_quality};
use crate::stats::richness::{
    Chao, ChaoForm, Incidence, IncidenceFrequencies, JackknifeError, RichnessEstimate,
    SampleFactor, chao_2, jackknife_2,
};
use std::collections::BTreeSet;
use survey::{Origin, SurveyRecord};

/// Taxa of plants found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RichnessCounts {
    /// On the rake.
    pub rake: usize,
    /// And seen beside it or in a surface bed.
    pub with_visuals: usize,
    /// And on the shore.
    pub with_shoreline: usize,
}

/// Species estimated from how often each was found on the rake.
#[derive(Debug, Clone, PartialEq)]
pub struct EstimatedRichness {
    /// Chao2, classic form.
    pub chao2: Chao,
    /// First-order jackknife, standard error of Heltshe & Forrester (1983).
    pub jackknife1: RichnessEstimate,
    /// Second-order jackknife, standard error of Burnham & Overton (1978); none below three sites.
    pub jackknife2: Option<RichnessEstimate>,
    /// Bootstrap, Smith & van Belle (1984).
    pub bootstrap: RichnessEstimate,
    /// Share of all occurrences in the lake that are of species already found.
    pub coverage: f64,
    /// Species expected at 1, 2, … sites.
    pub accumulation: Vec<Accumulation>,
    /// Species expected at twice the sites, the farthest extrapolation worth reading.
    pub at_twice_the_sites: f64,
    /// In how many sites each species was found; everything above comes from it.
    pub frequencies: IncidenceFrequencies,
}

impl EstimatedRichness {
    /// Species expected after `more` further sites; see [`extrapolate`].
    pub fn expected_after(&self, more: u64) -> Option<f64> {
        extrapolate(&self.frequencies, more).ok()
    }
}

/// Diversity from relative frequencies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Diversity {
    /// `1 − Σp²`.
    pub simpson: f64,
    /// `1/Σp²`.
    pub inverse_simpson: f64,
    /// `−Σ p·ln p`.
    pub shannon: f64,
    /// Shannon over `ln S`; none for a single species.
    pub evenness: Option<f64>,
}

/// Floristic quality of the natives on the rake.
#[derive(Debug, Clone, PartialEq)]
pub struct FloristicFindings {
    /// The figures.
    pub quality: FloristicQuality,
    /// The one table the coefficients were read in.
    pub c_table: String,
    /// Native taxa on the rake without a coefficient, by scientific name.
    pub without_c: Vec<String>,
    /// Taxa on the rake whose origin is not known, left out, by scientific name.
    pub unknown_origin: Vec<String>,
}

/// Why there is no floristic quality.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NoFloristic {
    /// No native taxon with a coefficient came up on the rake.
    NoCoefficients,
    /// Coefficients come from several tables, which do not compare.
    SeveralTables(Vec<String>),
}

pub(super) fn richness_counts(taxa: &[TaxonFindings]) -> RichnessCounts {
    let count = |test: fn(&TaxonFindings) -> bool| {
        taxa.iter().filter(|one| one.taxon.is_plant() && test(one)).count()
    };
    RichnessCounts {
        rake: count(|one| one.sites > 0),
        with_visuals: count(|one| one.sites + one.visuals > 0 || one.in_beds),
        with_shoreline: count(|_| true),
    }
}

pub(super) fn estimated_richness(
    record: &SurveyRecord,
    sites: &[SampledSite<'_>],
) -> Option<EstimatedRichness> {
    let species: Vec<Vec<usize>> = sites
        .iter()
        .map(|site| {
            let plants = site.on_rake.iter().filter(|(taxon, _)| record.taxa[*taxon].is_plant());
            plants.map(|(taxon, _)| *taxon).collect()
        })
        .collect();
    let incidence = Incidence::new(&species);
    let frequencies = incidence.frequencies();
    let level = Confidence::NINETY_FIVE;
    Some(EstimatedRichness {
        chao2: chao_2(frequencies, ChaoForm::Classic, SampleFactor::Applied, level).ok()?,
        jackknife1: incidence.jackknife_1(JackknifeError::HeltsheForrester1983).ok()?,
        jackknife2: jackknife_2(frequencies).ok(),
        bootstrap: incidence.bootstrap().ok()?,
        coverage: coverage(frequencies).ok()?,
        accumulation: accumulation_curve(frequencies, level).ok()?,
        at_twice_the_sites: extrapolate(frequencies, frequencies.sites()).ok()?,
        frequencies: frequencies.clone(),
    })
}

/// # References
/// Relative frequencies, not ratings, enter the index: Hauxwell et al. (2010), PUB-SS-1068 (from
/// memory).
pub(super) fn diversity(taxa: &[TaxonFindings]) -> Option<Diversity> {
    let occurrences: Vec<f64> =
        taxa.iter().filter(|one| one.taxon.is_plant()).map(|one| one.sites as f64).collect();
    let shares = Shares::of(&occurrences).ok()?;
    Some(Diversity {
        simpson: shares.simpson(),
        inverse_simpson: shares.inverse_simpson(),
        shannon: shares.shannon(LogBase::Natural),
        evenness: shares.evenness().ok(),
    })
}

/// Running sum of relative frequencies, commonest first.
pub(super) fn dominance(taxa: &[TaxonFindings]) -> Vec<f64> {
    let mut sum = 0.0;
    let shares = taxa.iter().filter_map(|one| one.relative_frequency).filter(|share| *share > 0.0);
    shares
        .map(|share| {
            sum += share;
            sum
        })
        .collect()
}

pub(super) fn floristic(taxa: &[TaxonFindings]) -> Result<FloristicFindings, NoFloristic> {
    let on_rake = || taxa.iter().filter(|one| one.sites > 0 && one.taxon.is_plant());
    let of = |origin| on_rake().filter(move |one| one.taxon.origin == origin);
    let names = |wanted: &mut dyn Iterator<Item = &TaxonFindings>| {
        wanted.map(|one| one.taxon.scientific_name.clone()).collect::<Vec<_>>()
    };
    let with_c: Vec<&survey::Conservatism> =
        of(Origin::Native).filter_map(|one| one.taxon.conservatism.as_ref()).collect();
    let tables: BTreeSet<&str> = with_c.iter().map(|c| c.table.as_str()).collect();
    if tables.len() > 1 {
        return Err(NoFloristic::SeveralTables(tables.into_iter().map(str::to_owned).collect()));
    }
    let c: Vec<f64> = with_c.iter().map(|c| c.value).collect();
    match (floristic_quality(&c, of(Origin::Introduced).count()), tables.first()) {
        (Ok(quality), Some(table)) => Ok(FloristicFindings {
            quality,
            c_table: (*table).to_owned(),
            without_c: names(
                &mut of(Origin::Native).filter(|one| one.taxon.conservatism.is_none()),
            ),
            unknown_origin: names(&mut of(Origin::Unknown)),
        }),
        _ => Err(NoFloristic::NoCoefficients),
    }
}
