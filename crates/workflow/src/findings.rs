//! What surveys say, as views.

use crate::error::Result;
use crate::surveys::record_of;
use crate::views::{
    AllLittoral, AllLittoralVegetated, CompareView, CountView, DepthCountView, DifferenceView,
    FindingsView, FloristicView, FrequencyView, RatingCountView, RichnessView, SitesCountView,
    SpeciesPerSiteView, SurveyBriefRef, TaxonChangeView, TaxonFindingView, WarningView,
};
use findings::compare::{Change, ComparedSurvey, Design};
use findings::one::{Options, SiteMean, TaxonFindings};
use findings::{Comparison, Frequency, SurveyFindings};
use lakebook::LakeBook;
use survey::{SurveyRecord, Taxon};
use units::{Metres, UnitSystem};

/// What one survey says.
///
/// # Errors
/// When there is no such survey.
pub fn findings_view(book: &LakeBook, name: &str) -> Result<FindingsView> {
    let record = record_of(book, name)?;
    let units = book.lake()?.units;
    Ok(view_of(&record, &figures(&record, units), units))
}

/// The figures of a record, depths counted in whole feet or half metres.
pub(crate) fn figures(record: &SurveyRecord, units: UnitSystem) -> SurveyFindings {
    let depth_step = match units {
        UnitSystem::Us => Metres::from_feet(1.0),
        UnitSystem::Metric => Metres::new(0.5),
    };
    SurveyFindings::of(record, &Options { depth_step })
}

fn frequency(of: Frequency) -> FrequencyView {
    FrequencyView { k: of.k, n: of.n, p: of.p, se: of.se, low: of.low, high: of.high }
}

/// A message without its full stop: whoever shows it ends the sentence.
fn unstopped(text: &str) -> String {
    text.trim_end_matches('.').to_owned()
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
        richness: RichnessView {
            rake: found.richness.rake,
            with_visuals: found.richness.with_visuals,
            with_shoreline: found.richness.with_shoreline,
        },
        simpson: found.diversity.as_ref().map(|one| one.simpson),
        floristic_quality: found.floristic_quality.as_ref().map(|one| FloristicView {
            n: one.quality.natives,
            mean_c: one.quality.mean_c,
            fqi: one.quality.index,
            c_table: one.c_table.clone(),
            without_c: one.without_c.clone(),
        }),
        taxa: found.taxa.iter().map(|one| taxon_view(record, one)).collect(),
        notes: found.notes.iter().map(|note| unstopped(&note.message(units))).collect(),
    }
}

fn taxon_view(_record: &SurveyRecord, found: &TaxonFindings) -> TaxonFindingView {
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

/// Two surveys side by side.
///
/// # Errors
/// When one of them is not there.
pub fn compare_view(book: &LakeBook, from: &str, to: &str) -> Result<CompareView> {
    let (earlier, later) = (record_of(book, from)?, record_of(book, to)?);
    let units = book.lake()?.units;
    let comparison = Comparison::of(&earlier, &later);
    Ok(comparison_view(&comparison, units))
}

fn comparison_view(comparison: &Comparison, units: UnitSystem) -> CompareView {
    let pairs = match comparison.design {
        Design::Paired { pairs } => Some(pairs),
        Design::Independent => None,
    };
    let taxa: Vec<TaxonChangeView> =
        comparison.taxa.iter().map(|one| change_view(Some(&one.taxon), &one.change)).collect();
    CompareView {
        from: brief(&comparison.from),
        to: brief(&comparison.to),
        warnings: comparison
            .warnings
            .iter()
            .map(|one| WarningView {
                kind: one.kind().to_owned(),
                message: unstopped(&one.message(units)),
            })
            .collect(),
        design: comparison.design.key().to_owned(),
        pairs,
        shared_depth_m: comparison.shared_depth.map(Metres::metres),
        any: change_view(None, &comparison.any),
        sentences: sentences(&taxa),
        taxa,
    }
}

fn brief(of: &ComparedSurvey) -> SurveyBriefRef {
    SurveyBriefRef {
        survey: of.name.clone(),
        start: of.start.map(|date| date.to_string()),
        scale: of.scale.clone(),
        sampled: of.sampled,
    }
}

fn count(of: Frequency) -> CountView {
    CountView { k: of.k, n: of.n, p: of.p, low: of.low, high: of.high }
}

fn change_view(taxon: Option<&Taxon>, change: &Change) -> TaxonChangeView {
    TaxonChangeView {
        code: taxon.map_or_else(|| "any".to_owned(), |taxon| taxon.code.to_string()),
        scientific_name: taxon.map(|taxon| taxon.scientific_name.clone()).unwrap_or_default(),
        common_name: taxon
            .map_or_else(|| "any plant".to_owned(), |taxon| taxon.common_name.clone()),
        origin: taxon.map(|taxon| taxon.origin.key().to_owned()).unwrap_or_default(),
        from: count(change.from),
        to: count(change.to),
        difference: change.difference.map(|one| DifferenceView {
            value: one.value,
            low: one.low,
            high: one.high,
        }),
        lost: change.sites.map(|sites| sites.lost),
        gained: change.sites.map(|sites| sites.gained),
        test: change.test.map(|test| test.name().to_owned()).unwrap_or_default(),
        p: change.p,
        p_adjusted: change.p_adjusted,
        detectable: change.detectable.smallest(),
        verdict: change.verdict.words().to_owned(),
    }
}

/// What is said of the taxa together, each figure's reason beside it.
fn sentences(taxa: &[TaxonChangeView]) -> Vec<String> {
    let name = |one: &TaxonChangeView| {
        let name = if one.common_name.is_empty() { &one.scientific_name } else { &one.common_name };
        let mut letters = name.chars();
        let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
        first + letters.as_str()
    };
    let mut said = Vec::new();
    for (verdict, word) in [("fell", "fell"), ("rose", "rose")] {
        for one in taxa.iter().filter(|one| one.verdict == verdict) {
            let Some(difference) = &one.difference else { continue };
            said.push(format!(
                "{} {word}: from {} of {} to {} of {} sites, {} points ({} to {})",
                name(one),
                one.from.k,
                one.from.n,
                one.to.k,
                one.to.n,
                units::decimals(100.0 * difference.value, 0),
                units::decimals(100.0 * difference.low, 0),
                units::decimals(100.0 * difference.high, 0)
            ));
        }
    }
    let silent: Vec<&TaxonChangeView> =
        taxa.iter().filter(|one| one.verdict == "cannot tell").collect();
    if !silent.is_empty() {
        let most = silent.iter().filter_map(|one| one.detectable).fold(0.0, f64::max);
        let mut text = format!("Cannot tell for {} of {} species", silent.len(), taxa.len());
        if most > 0.0 {
            text.push_str(&format!(
                ": a change of up to {} points could have gone unseen",
                units::decimals(100.0 * most, 0)
            ));
        }
        said.push(text);
    }
    said
}
