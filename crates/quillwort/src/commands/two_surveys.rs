//! The parts of `compare` that follow its table.

use super::findings::number;
use crate::table::Table;
use units::decimals;
use workflow::views::{CompareView, EstimateView};

/// Tables and sentences, each with its title; parts without anything in them are left out.
pub(super) fn parts(view: &CompareView) -> Vec<String> {
    [richness(view), ratings(view), Some(community(view)), noise(view)]
        .into_iter()
        .flatten()
        .collect()
}

fn richness(view: &CompareView) -> Option<String> {
    let of = view.richness.as_ref()?;
    let with = |one: &EstimateView| {
        format!("{} ({}–{})", decimals(one.value, 1), decimals(one.low, 1), decimals(one.high, 1))
    };
    let list = |codes: &[String]| {
        if codes.is_empty() { "none".to_owned() } else { codes.join(" ") }
    };
    Some(format!(
        "Species on equal effort, {} sites each: {} before, {} after; difference {} (95 % interval \
         {} to {})\n  found later only: {}\n  found earlier only: {}\n",
        of.sites,
        with(&of.from),
        with(&of.to),
        decimals(of.difference.value, 1),
        decimals(of.difference.low, 1),
        decimals(of.difference.high, 1),
        list(&of.gained),
        list(&of.lost)
    ))
}

fn ratings(view: &CompareView) -> Option<String> {
    if view.ratings.is_empty() {
        return None;
    }
    let mut table = Table::new(&[
        "code",
        ">mean before",
        ">mean after",
        ">changed",
        ">same",
        ">p",
        ">effect",
        "effect is",
    ]);
    for one in &view.ratings {
        let test = one.wilcoxon.as_ref();
        let dash = || "–".to_owned();
        table.row(vec![
            one.code.clone(),
            decimals(one.mean_from, 2),
            decimals(one.mean_to, 2),
            test.map_or_else(dash, |one| one.changed.to_string()),
            test.map_or_else(dash, |one| one.unchanged.to_string()),
            number(test.map(|one| one.p), 4),
            number(one.effect, 2),
            one.effect_method.clone(),
        ]);
    }
    Some(format!(
        "Ratings, sites without the plant rated zero (Wilcoxon's signed-rank test, unchanged sites by \
         Pratt's rule)\n{}",
        table.text()
    ))
}

fn community(view: &CompareView) -> String {
    let of = &view.community;
    let test = match (of.r, of.p) {
        (Some(r), Some(p)) => format!(
            "ANOSIM R {}, p {} ({} permutations {}, seed {})",
            decimals(r, 3),
            number(Some(p), 3),
            of.permutations,
            if of.within_pairs { "within sites" } else { "of all sites" },
            of.seed
        ),
        _ => format!("no test: {}", of.why_not),
    };
    format!(
        "As communities, 0 alike to 1: Bray–Curtis {}, Jaccard {}; {test}\n",
        number(of.bray_curtis, 3),
        number(of.jaccard, 3)
    )
}

fn noise(view: &CompareView) -> Option<String> {
    if view.noise.iter().all(|one| one.change.is_none()) {
        return None;
    }
    let mut table = Table::new(&["measure", ">before", ">after", ">change", ">band", "it is"]);
    for one in &view.noise {
        table.row(vec![
            one.words.clone(),
            number(one.from, 2),
            number(one.to, 2),
            number(one.change, 2),
            decimals(one.band, 2),
            match one.beyond {
                Some(true) => "more than ordinary noise",
                Some(false) => "within ordinary noise",
                None => "not known",
            }
            .to_owned(),
        ]);
    }
    Some(format!("For context, no test. {}\n{}", view.noise_source, table.text()))
}
