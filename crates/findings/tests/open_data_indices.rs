//! Diversity and floristic quality of eight wetland sites, as the agency itself computed them, and
//! richness estimates of small published count vectors.
//!
//! Sources: U.S. Environmental Protection Agency, National Wetland Condition Assessment 2011, test
//! data of the agency's package aquametNWCA (CC0); vectors published with the iNEXT vignette,
//! SpadeR, copia and scikit-bio.

#![cfg(test)]

mod support;

use findings::stats::Confidence;
use findings::stats::diversity::{LogBase, Shares};
use findings::stats::floristic::floristic_quality;
use findings::stats::richness::{ChaoForm, SampleFactor, chao_1};
use std::collections::{BTreeMap, HashMap};
use support::open_data;

fn rows(path: &std::path::Path) -> Vec<HashMap<String, String>> {
    let mut reader = csv::Reader::from_path(path).unwrap();
    reader.deserialize().map(Result::unwrap).collect()
}

/// Site → state, and cover of each species summed over plots.
type Sites = BTreeMap<String, (String, BTreeMap<String, f64>)>;

fn sites(path: &std::path::Path) -> Sites {
    let mut sites = Sites::new();
    for row in rows(path) {
        let site = sites.entry(row["UID"].clone()).or_default();
        site.0.clone_from(&row["STATE"]);
        *site.1.entry(row["USDA_NAME"].clone()).or_default() +=
            row["COVER"].parse::<f64>().unwrap();
    }
    sites
}

/// Half a unit of the last printed digit, a rounding error added.
fn printed_tolerance(printed: &str) -> f64 {
    let places = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
    0.5 * 10_f64.powi(-(places as i32)) + 1e-9
}

#[test]
fn epa_nwca_2011_indices_of_eight_sites_to_the_printed_digit() {
    let folder = "nwca-diversity-reference";
    let (Some(cover), Some(expected), Some(coefficients)) = (
        open_data(&format!("{folder}/sites_plots_species_cover.csv")),
        open_data(&format!("{folder}/expected_metrics_long.csv")),
        open_data("nwca-cvalues/ccNat_2011_by_state.csv"),
    ) else {
        return;
    };
    let coefficients: HashMap<(String, String), f64> = rows(&coefficients)
        .into_iter()
        .filter_map(|row| {
            let c = row["NWCA_CC"].parse().ok()?;
            Some(((row["USDA_NAME"].clone(), row["GEOG_ID"].clone()), c))
        })
        .collect();
    let expected: HashMap<(String, String), String> = rows(&expected)
        .into_iter()
        .map(|row| ((row["UID"].clone(), row["PARAMETER"].clone()), row["RESULT"].clone()))
        .collect();
    let sites = sites(&cover);
    assert_eq!(sites.len(), 8);
    let mut compared = 0;
    for (site, (state, species)) in &sites {
        let amounts: Vec<f64> = species.values().copied().collect();
        let shares = Shares::of(&amounts).unwrap();
        let c: Vec<f64> = species
            .iter()
            .filter(|(_, cover)| **cover > 0.0)
            .filter_map(|(name, _)| coefficients.get(&(name.clone(), state.clone())).copied())
            .collect();
        let quality = floristic_quality(&c, 0).unwrap();
        for (parameter, got) in [
            ("TOTN_SPP", shares.species() as f64),
            ("H_ALL", shares.shannon(LogBase::Natural)),
            ("D_ALL", shares.simpson()),
            ("J_ALL", shares.evenness().unwrap()),
            ("XC_ALL", quality.mean_c),
            ("FQAI_ALL", quality.index),
        ] {
            let printed = &expected[&(site.clone(), parameter.to_owned())];
            let want: f64 = printed.parse().unwrap();
            assert!(
                (got - want).abs() <= printed_tolerance(printed),
                "site {site} {parameter}: got {got}, the agency has {printed}"
            );
            compared += 1;
        }
    }
    assert_eq!(compared, 48);
}

#[test]
fn published_count_vectors_are_reproduced() {
    let Some(path) = open_data("richness-reference/alpha_diversity_reference.csv") else {
        return;
    };
    let mut compared = 0;
    for row in rows(&path) {
        let counts: Vec<u64> =
            row["counts"].split_whitespace().map(|count| count.parse().unwrap()).collect();
        let amounts: Vec<f64> = counts.iter().map(|count| *count as f64).collect();
        let chao =
            |form, factor| chao_1(&counts, form, factor, Confidence::NINETY_FIVE).unwrap().value;
        let shares = Shares::of(&amounts).unwrap();
        let got = match row["metric"].as_str() {
            "chao1 ((n-1)/n form)" => chao(ChaoForm::Classic, SampleFactor::Applied),
            "chao1 bias-corrected" => chao(ChaoForm::BiasCorrected, SampleFactor::Omitted),
            "chao1 classic (no n factor)" => chao(ChaoForm::Classic, SampleFactor::Omitted),
            "pielou evenness (ln)" => shares.evenness().unwrap(),
            "observed richness" => shares.species() as f64,
            "simpson 1-D" => shares.simpson(),
            "shannon (log2)" => shares.shannon(LogBase::Two),
            // indices the program does not print: Margalef, Fisher, Brillouin, Good, 1 − Simpson
            _ => continue,
        };
        let want: f64 = row["published"].parse().unwrap();
        // one figure of the source is cut, not rounded, in its fourth decimal
        let tolerance = printed_tolerance(&row["published"]).max(1.5e-4);
        assert!((got - want).abs() <= tolerance, "{} {}: {got} {want}", row["name"], row["metric"]);
        compared += 1;
    }
    assert_eq!(compared, 12);
}
