//! Two surveys.

use super::one::first_line;
use super::{brief, count, estimate, methods, places, warning_view};
use crate::error::Result;
use crate::ground::Ground;
use crate::surveys::record_of;
use crate::views::{
    CommunityView, CompareView, DifferenceView, NoiseBandView, OtherNamesView, RatingChangeView,
    RatingShiftView, RichnessChangeView, SiteGainView, TaxonChangeView, WilcoxonView,
    ZoneChangeView,
};
use findings::Comparison;
use findings::compare::{
    Change, Community, CommunityOptions, Design, NOISE_SOURCE, NoiseBand, NoiseMeasure,
    OrdinalEffect, OtherNames, RatingChange, RichnessChange, TaxonChange, community,
};
use findings::stats::community::Exchange;
use findings::stats::wilcoxon::ZeroRule;
use lakebook::LakeBook;
use std::collections::HashMap;
use survey::{SurveyRecord, Taxon, TaxonId};
use units::{Metres, UnitSystem};

/// Two surveys side by side.
///
/// # Errors
/// When one of them is not there.
pub fn compare_view(book: &LakeBook, from: &str, to: &str, seed: u64) -> Result<CompareView> {
    let (earlier, later) = (record_of(book, from)?, record_of(book, to)?);
    let units = book.lake()?.units;
    let ground = Ground::shore_of(book)?;
    let comparison = Comparison::of(&earlier, &later);
    let mut view = comparison_view(&comparison, units);
    view.community =
        community_view(&community(&earlier, &later, CommunityOptions::with_seed(seed)), seed);
    view.places = site_changes(&comparison, &later, &ground)?;
    view.places_bare = view.pairs.map(|pairs| pairs.saturating_sub(view.places.len()));
    view.by_zone = Comparison::by_zone(&earlier, &later)
        .iter()
        .map(|(zone, one)| ZoneChangeView {
            zone: zone.to_string(),
            design: one.design.key().to_owned(),
            any: change_view(None, &one.any),
            taxa: taxa_view(one),
        })
        .collect();
    Ok(view)
}

fn comparison_view(comparison: &Comparison, units: UnitSystem) -> CompareView {
    let pairs = match comparison.design {
        Design::Paired { pairs } => Some(pairs),
        Design::Independent => None,
    };
    let taxa = taxa_view(comparison);
    CompareView {
        from: brief(&comparison.from),
        to: brief(&comparison.to),
        warnings: comparison.warnings.iter().map(|one| warning_view(one, units)).collect(),
        design: comparison.design.key().to_owned(),
        pairs,
        shared_depth_m: comparison.shared_depth.map(Metres::metres),
        any: change_view(None, &comparison.any),
        sentences: sentences(&taxa),
        taxa,
        community: community_none(),
        richness: comparison.richness.as_ref().map(|one| richness_view(comparison, one)),
        ratings: comparison
            .taxa
            .iter()
            .filter_map(|one| Some(rating_view(&one.taxon, one.rating.as_ref()?)))
            .collect(),
        noise: comparison.noise.iter().map(noise_view).collect(),
        noise_source: NOISE_SOURCE.to_owned(),
        places: Vec::new(),
        places_bare: None,
        by_zone: Vec::new(),
        methods: methods::of_two_surveys(),
    }
}

fn community_none() -> CommunityView {
    CommunityView {
        bray_curtis: None,
        jaccard: None,
        r: None,
        p: None,
        permutations: 0,
        seed: 0,
        within_pairs: false,
        rated: false,
        sites: [0, 0],
        why_not: String::new(),
    }
}

fn community_view(of: &Community, seed: u64) -> CommunityView {
    let test = of.test.as_ref().ok();
    CommunityView {
        bray_curtis: of.bray_curtis,
        jaccard: of.jaccard,
        r: test.map(|one| one.value),
        p: test.map(|one| one.p),
        permutations: test.map_or(0, |one| one.permutations),
        seed,
        within_pairs: test.is_some_and(|one| one.exchange == Exchange::WithinPairs),
        rated: of.rated,
        sites: [of.sites.0, of.sites.1],
        why_not: of.test.as_ref().err().map(first_line).unwrap_or_default(),
    }
}

fn richness_view(comparison: &Comparison, of: &RichnessChange) -> RichnessChangeView {
    let codes = |ids: &[TaxonId]| -> Vec<String> {
        let listed = comparison.taxa.iter().map(|one| &one.taxon);
        let code = |id: &TaxonId| {
            listed.clone().find(|taxon| taxon.id == *id).map(|taxon| taxon.code.to_string())
        };
        ids.iter().filter_map(code).collect()
    };
    RichnessChangeView {
        sites: of.sites,
        found: [of.from.found, of.to.found],
        from: estimate(of.from.expected),
        to: estimate(of.to.expected),
        difference: estimate(of.difference),
        gained: codes(&of.gained),
        lost: codes(&of.lost),
    }
}

fn rating_view(taxon: &Taxon, of: &RatingChange) -> RatingChangeView {
    let (effect, limits, method) = match of.effect {
        Some(OrdinalEffect::RankBiserial(value)) => {
            (Some(value), None, "matched-pairs rank-biserial")
        }
        Some(OrdinalEffect::CliffDelta(one)) => {
            (Some(one.value), Some((one.low, one.high)), "Cliff's delta")
        }
        None => (None, None, ""),
    };
    RatingChangeView {
        code: taxon.code.to_string(),
        pairs: of.pairs,
        mean_from: of.mean_from,
        mean_to: of.mean_to,
        wilcoxon: of.test.as_ref().map(|test| WilcoxonView {
            v: test.positive,
            falls: test.negative,
            changed: test.changed,
            unchanged: test.unchanged,
            zero_rule: match test.zero_rule {
                ZeroRule::Pratt => "pratt",
                ZeroRule::Drop => "wilcoxon",
            }
            .to_owned(),
            exact: test.exact,
            p: test.p,
        }),
        effect,
        effect_low: limits.map(|one| one.0),
        effect_high: limits.map(|one| one.1),
        effect_method: method.to_owned(),
        steps: of
            .steps
            .iter()
            .map(|one| RatingShiftView { code: one.code.clone(), from: one.from, to: one.to })
            .collect(),
    }
}

fn noise_view(of: &NoiseBand) -> NoiseBandView {
    NoiseBandView {
        measure: match of.measure {
            NoiseMeasure::MaxPlantDepth => "max-plant-depth",
            NoiseMeasure::OpenShare => "open-share",
            NoiseMeasure::Species => "species",
            NoiseMeasure::Simpson => "simpson",
            NoiseMeasure::FloralSimilarity => "floral-similarity",
            NoiseMeasure::CommunitySimilarity => "community-similarity",
        }
        .to_owned(),
        words: of.measure.words().to_owned(),
        from: of.from,
        to: of.to,
        change: of.change,
        band: of.band,
        beyond: of.beyond,
    }
}

/// What became of each compared site, sites where nothing was found either time left out.
fn site_changes(
    comparison: &Comparison,
    later: &SurveyRecord,
    ground: &Ground,
) -> Result<Vec<SiteGainView>> {
    let places = places::of_sites(later, ground)?;
    let mut sites: Vec<SiteGainView> = Vec::new();
    let mut index: HashMap<String, usize> = HashMap::new();
    for site in &later.sites {
        let place = places.get(&site.id);
        index.insert(site.code.to_string(), sites.len());
        sites.push(SiteGainView {
            code: site.code.to_string(),
            lon: place.map(|one| one.lon_lat.longitude()),
            lat: place.map(|one| one.lon_lat.latitude()),
            x: place.and_then(|one| one.metres).map(|at| at[0]),
            y: place.and_then(|one| one.metres).map(|at| at[1]),
            gained: Vec::new(),
            lost: Vec::new(),
            kept: Vec::new(),
        });
    }
    let any = comparison.any_places.iter().map(|lists| (super::ANY_PLANT.to_owned(), lists));
    let each = comparison
        .taxa
        .iter()
        .filter_map(|one| Some((one.taxon.code.to_string(), one.places.as_ref()?)));
    for (code, lists) in any.chain(each) {
        let mut put = |at: &survey::Code, list: fn(&mut SiteGainView) -> &mut Vec<String>| {
            if let Some(site) = index.get(at.as_str()) {
                list(&mut sites[*site]).push(code.clone());
            }
        };
        lists.gained.iter().for_each(|at| put(at, |site| &mut site.gained));
        lists.lost.iter().for_each(|at| put(at, |site| &mut site.lost));
        lists.kept.iter().for_each(|at| put(at, |site| &mut site.kept));
    }
    sites.retain(|one| !(one.gained.is_empty() && one.lost.is_empty() && one.kept.is_empty()));
    Ok(sites)
}

fn taxa_view(comparison: &Comparison) -> Vec<TaxonChangeView> {
    let code = |id: &TaxonId| {
        let listed = comparison.taxa.iter().find(|one| one.taxon.id == *id);
        listed.map(|one| one.taxon.code.to_string())
    };
    let names = |of: &OtherNames| OtherNamesView {
        with: of.with.iter().filter_map(code).collect(),
        sites: [of.sites.0, of.sites.1],
        together_from: count(of.together.from),
        together_to: count(of.together.to),
        together: of.together.verdict.words().to_owned(),
        withheld: of.withheld,
    };
    let view = |one: &TaxonChange| TaxonChangeView {
        names: one.names.as_ref().map(names),
        ..change_view(Some(&one.taxon), &one.change)
    };
    comparison.taxa.iter().map(view).collect()
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
        names: None,
    }
}

/// What is said of the taxa together, each figure's reason beside it.
fn sentences(taxa: &[TaxonChangeView]) -> Vec<String> {
    let mut said = Vec::new();
    for (verdict, word) in [("fell", "fell"), ("rose", "rose")] {
        for one in taxa.iter().filter(|one| one.verdict == verdict) {
            let Some(difference) = &one.difference else { continue };
            said.push(format!(
                "{} {word}: from {} of {} to {} of {} sites, {} points ({} to {})",
                capital(spoken(one)),
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
    said.extend(taxa.iter().filter_map(|one| together(taxa, one)).map(|text| capital(&text)));
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

fn spoken(one: &TaxonChangeView) -> &str {
    if one.common_name.is_empty() { &one.scientific_name } else { &one.common_name }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    first + letters.as_str()
}

/// A plant that was not named alike both times, with the names it went by; said once, of the name that
/// takes in most others.
fn together(taxa: &[TaxonChangeView], one: &TaxonChangeView) -> Option<String> {
    let names = one.names.as_ref().filter(|names| names.withheld)?;
    let others: Vec<&TaxonChangeView> =
        taxa.iter().filter(|other| names.with.contains(&other.code)).collect();
    let wider = |other: &&TaxonChangeView| {
        other.names.as_ref().is_some_and(|more| more.withheld && more.with.len() > names.with.len())
    };
    let first_of_two = |other: &&TaxonChangeView| {
        other
            .names
            .as_ref()
            .is_some_and(|more| more.withheld && more.with.len() == names.with.len())
            && other.code < one.code
    };
    if others.iter().any(|other| wider(other) || first_of_two(other)) {
        return None;
    }
    let others: Vec<&str> = others.into_iter().map(spoken).collect();
    Some(format!(
        "{} and {}, not named alike both times, together: {}, {} of {} and then {} of {} sites",
        spoken(one),
        others.join(", "),
        names.together,
        names.together_from.k,
        names.together_from.n,
        names.together_to.k,
        names.together_to.n
    ))
}
