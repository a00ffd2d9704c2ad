//! One survey.

use super::groups::{design_view, group_view};
use super::says::{self, Around};
use super::{acres, frequency, groups, methods, places, unstopped};
use crate::error::Result;
use crate::ground::{Ground, year_of};
use crate::surveys::record_of;
use crate::views::{
    AccumulationView, AllLittoral, AllLittoralVegetated, ChaoView, DepthCountView,
    DepthQuartilesView, DetectionView, DiversityView, ExtrapolationView, FindingsView,
    FloristicView, RatingCountView, RichnessEstimateView, RichnessView, SitesCountView,
    SpeciesPerSiteView, TaxonFindingView,
};
use findings::SurveyFindings;
use findings::one::{EstimatedRichness, Options, SiteMean, TaxonDetection, TaxonFindings};
use findings::stats::richness::{ChaoForm, RichnessEstimate};
use lakebook::LakeBook;
use survey::SurveyRecord;
use units::{Metres, UnitSystem};

/// What one survey says.
///
/// # Errors
/// When there is no such survey.
pub fn findings_view(book: &LakeBook, name: &str) -> Result<FindingsView> {
    let record = record_of(book, name)?;
    let ground = ground_for(book, &record)?;
    view_on(book, &ground, &record)
}

/// The same on ground that is built already.
///
/// # Errors
/// When there is no such survey.
pub fn findings_view_on(book: &LakeBook, ground: &Ground, name: &str) -> Result<FindingsView> {
    view_on(book, ground, &record_of(book, name)?)
}

/// The shore, and the depths too where the survey stopped at one by rule.
pub(super) fn ground_for(book: &LakeBook, record: &SurveyRecord) -> Result<Ground> {
    match record.survey.depth_cap {
        Some(_) => Ground::of(book),
        None => Ground::shore_of(book),
    }
}

fn view_on(book: &LakeBook, ground: &Ground, record: &SurveyRecord) -> Result<FindingsView> {
    let units = book.lake()?.units;
    let found = figures(record, units);
    let lake = places::Lake::of(ground, record.survey.depth_cap, year_of(&record.survey))?;
    let around = Around::of(book, record)?;
    let mut view = view_of(record, &found, units);
    view.acres = acres::acres(record, ground, lake.as_ref(), book)?;
    view.acres_water = lake.as_ref().map(|lake| lake.words(units)).unwrap_or_default();
    view.beds = acres::beds(record, ground)?;
    view.shoreline = acres::shoreline(record);
    view.shore = super::shore::on_shore(record, ground)?;
    view.by_stratum = groups::by_stratum(record, units);
    view.board_limits = says::limits(&around);
    let (alerts, summary) = says::says(record, &found, &around, ground, units, book)?;
    view.alerts = alerts;
    view.summary = summary;
    Ok(view)
}

/// The figures of a record, depths counted in whole feet or half metres.
pub(crate) fn figures(record: &SurveyRecord, units: UnitSystem) -> SurveyFindings {
    let depth_step = match units {
        UnitSystem::Us => Metres::from_feet(1.0),
        UnitSystem::Metric => Metres::new(0.5),
    };
    SurveyFindings::of(record, &Options { depth_step })
}

fn mean(of: Option<SiteMean>) -> Option<f64> {
    of.map(|one| one.mean)
}

fn view_of(record: &SurveyRecord, found: &SurveyFindings, units: UnitSystem) -> FindingsView {
    let per_site = &found.species_per_site;
    FindingsView {
        survey: found.name.clone(),
        scale: found.scale.clone(),
        sites: SitesCountView {
            planned: found.sites.planned,
            visited: found.sites.visited,
            sampled: found.sites.sampled,
            vegetated: found.sites.vegetated,
            not_sampled: found
                .sites
                .not_sampled
                .iter()
                .map(|(reason, count)| (reason.key().to_owned(), *count))
                .collect(),
        },
        max_plant_depth_m: found.max_plant_depth.map(Metres::metres),
        littoral_sites: found.littoral_sites,
        sites_without_depth: found.sites_without_depth,
        frequency_any: AllLittoral {
            all: frequency(found.frequency_any.all),
            littoral: frequency(found.frequency_any.littoral),
        },
        species_per_site: SpeciesPerSiteView {
            littoral_mean: mean(per_site.littoral),
            vegetated_mean: mean(per_site.vegetated),
            native_littoral_mean: mean(per_site.native_littoral),
            native_where_native_mean: mean(per_site.native_where_native),
        },
        richness: richness_view(found),
        simpson: found.diversity.as_ref().map(|one| one.simpson),
        diversity: found.diversity.as_ref().map(|one| DiversityView {
            shannon: one.shannon,
            inverse_simpson: one.inverse_simpson,
            simpson: one.simpson,
            evenness: one.evenness,
        }),
        dominance: found.dominance.clone(),
        floristic_quality: found.floristic_quality.as_ref().map(|one| FloristicView {
            n: one.quality.natives,
            mean_c: one.quality.mean_c,
            fqi: one.quality.index,
            c_table: one.c_table.clone(),
            without_c: one.without_c.clone(),
        }),
        taxa: found.taxa.iter().map(taxon_view).collect(),
        missed_at_most: found.missed_at_most,
        detection: found.detection.iter().map(detection_view).collect(),
        acres: Vec::new(),
        acres_water: String::new(),
        beds: Vec::new(),
        shoreline: std::collections::BTreeMap::new(),
        shore: Vec::new(),
        by_zone: found.by_zone.iter().map(|one| group_view(one, units)).collect(),
        by_depth: found.by_depth.iter().map(|one| group_view(one, units)).collect(),
        by_stratum: Vec::new(),
        design_weighted: found.design.as_ref().map(|one| design_view(record, one)),
        alerts: Vec::new(),
        board_limits: Vec::new(),
        summary: Vec::new(),
        notes: found.notes.iter().map(|note| unstopped(&note.message(units))).collect(),
        methods: methods::of_one_survey(),
    }
}

/// Sites an extrapolation is told at, as shares of the sites sampled beyond them.
const BEYOND: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];

fn richness_view(found: &SurveyFindings) -> RichnessView {
    let counts = found.richness;
    let estimated = found.estimated_richness.as_ref();
    let of = |one: RichnessEstimate, method: &str| RichnessEstimateView {
        value: one.value,
        se: one.standard_error,
        method: method.to_owned(),
    };
    RichnessView {
        rake: counts.rake,
        with_visuals: counts.with_visuals,
        with_shoreline: counts.with_shoreline,
        chao2: estimated.map(|one| ChaoView {
            value: one.chao2.value,
            se: one.chao2.standard_error,
            low: one.chao2.interval.low,
            high: one.chao2.interval.high,
            method: match one.chao2.form {
                ChaoForm::Classic => "classic",
                ChaoForm::BiasCorrected => "bias-corrected",
            }
            .to_owned(),
        }),
        jackknife1: estimated.map(|one| of(one.jackknife1, "Heltshe & Forrester (1983)")),
        jackknife2: estimated
            .and_then(|one| one.jackknife2)
            .map(|one| of(one, "Burnham & Overton (1978)")),
        bootstrap: estimated.map(|one| of(one.bootstrap, "Smith & van Belle (1984)")),
        coverage: estimated.map(|one| one.coverage),
        accumulation: estimated.map_or_else(Vec::new, accumulation),
        extrapolation: estimated.map_or_else(Vec::new, extrapolation),
    }
}

fn accumulation(of: &EstimatedRichness) -> Vec<AccumulationView> {
    let point = |one: &findings::stats::accumulation::Accumulation| AccumulationView {
        sites: one.sites,
        value: one.value,
        low: one.interval.low,
        high: one.interval.high,
    };
    of.accumulation.iter().map(point).collect()
}

fn extrapolation(of: &EstimatedRichness) -> Vec<ExtrapolationView> {
    let sites = of.accumulation.len() as u64;
    let mut points: Vec<ExtrapolationView> = BEYOND
        .iter()
        .filter_map(|share| {
            let more = (share * sites as f64).round() as u64;
            let value = of.expected_after(more)?;
            Some(ExtrapolationView { sites: sites + more, value })
        })
        .collect();
    points.dedup_by_key(|one| one.sites);
    points
}

fn detection_view(of: &TaxonDetection) -> DetectionView {
    let fit = of.fit.as_ref().ok();
    DetectionView {
        code: of.code.to_string(),
        occupancy: fit.map(|one| one.occupancy.value),
        occupancy_low: fit.map(|one| one.occupancy.low),
        occupancy_high: fit.map(|one| one.occupancy.high),
        detection: fit.map(|one| one.detection.value),
        detection_low: fit.map(|one| one.detection.low),
        detection_high: fit.map(|one| one.detection.high),
        missed_chance: fit.map(|one| one.missed_at_site),
        throws: fit.map_or(0, |one| one.most_throws),
        naive: fit.map(|one| one.naive),
        sites: fit.map_or(0, |one| one.sites),
        why_not: of.fit.as_ref().err().map(first_line).unwrap_or_default(),
    }
}

/// The reason of an error without its hint.
pub(super) fn first_line(error: impl std::fmt::Display) -> String {
    error.to_string().lines().next().unwrap_or_default().to_owned()
}

fn taxon_view(found: &TaxonFindings) -> TaxonFindingView {
    let taxon = &found.taxon;
    TaxonFindingView {
        code: taxon.code.to_string(),
        scientific_name: taxon.scientific_name.clone(),
        common_name: taxon.common_name.clone(),
        origin: taxon.origin.key().to_owned(),
        growth_form: taxon.growth_form.key().to_owned(),
        is_plant: taxon.is_plant(),
        sites: found.sites,
        visuals: found.visuals,
        frequency: AllLittoralVegetated {
            all: frequency(found.frequency.all),
            littoral: frequency(found.frequency.littoral),
            vegetated: frequency(found.frequency.vegetated),
        },
        relative_frequency: found.relative_frequency,
        mean_rating: found.rating.mean,
        ratings: found
            .rating
            .distribution
            .iter()
            .map(|one| RatingCountView { code: one.code.clone(), sites: one.sites })
            .collect(),
        max_depth_m: found.max_depth.map(Metres::metres),
        depth_quartiles: found.depth_quartiles.map(|one| DepthQuartilesView {
            least_m: one.least.metres(),
            lower_m: one.lower.metres(),
            median_m: one.median.metres(),
            upper_m: one.upper.metres(),
            greatest_m: one.greatest.metres(),
            sites: one.sites,
        }),
        listed_noxious: taxon.listed_noxious,
        looked_for: found.looked_for,
        depths: found
            .depths
            .iter()
            .map(|one| DepthCountView {
                from_m: one.from.metres(),
                to_m: one.to.metres(),
                sampled: one.sampled,
                found: one.found,
            })
            .collect(),
        c: taxon.conservatism.as_ref().map(|one| one.value),
    }
}
