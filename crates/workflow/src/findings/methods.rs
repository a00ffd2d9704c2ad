//! Where `docs/methods.md` explains a figure.

use std::collections::BTreeMap;

fn anchors(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
    pairs.iter().map(|(key, anchor)| ((*key).to_owned(), (*anchor).to_owned())).collect()
}

pub(super) const ALERTS: &str = "alerts";
pub(super) const CHANCES: &str = "a-map-of-chances";
pub(super) const ACRES: &str = "acres";

pub(super) fn of_one_survey() -> BTreeMap<String, String> {
    anchors(&[
        ("sites", "sites-and-their-outcome"),
        ("max_plant_depth_m", "deepest-plant-and-littoral-sites"),
        ("littoral_sites", "deepest-plant-and-littoral-sites"),
        ("frequency_any", "frequency-of-occurrence"),
        ("frequency", "frequency-of-occurrence"),
        ("relative_frequency", "relative-frequency"),
        ("species_per_site", "species-a-site"),
        ("mean_rating", "ratings"),
        ("richness", "species-found"),
        ("chao2", "species-that-were-missed"),
        ("jackknife1", "species-that-were-missed"),
        ("jackknife2", "species-that-were-missed"),
        ("bootstrap", "species-that-were-missed"),
        ("accumulation", "how-species-add-up"),
        ("extrapolation", "how-species-add-up"),
        ("coverage", "how-species-add-up"),
        ("simpson", "simpsons-index"),
        ("diversity", "diversity-and-evenness"),
        ("dominance", "dominance"),
        ("floristic_quality", "floristic-quality"),
        ("depth_quartiles", "depth-in-quarters"),
        ("missed_at_most", "not-found"),
        ("detection", "detection"),
        ("acres", ACRES),
        ("beds", "beds-and-shore"),
        ("shoreline", "beds-and-shore"),
        ("shore", "beds-and-shore"),
        ("by_zone", "by-zone-depth-and-stratum"),
        ("by_depth", "by-zone-depth-and-stratum"),
        ("by_stratum", "by-zone-depth-and-stratum"),
        ("design_weighted", "unequal-chances"),
        ("alerts", ALERTS),
        ("summary", "the-summary"),
    ])
}

pub(super) fn of_two_surveys() -> BTreeMap<String, String> {
    anchors(&[
        ("design", "which-sites"),
        ("difference_paired", "difference-and-its-interval-same-sites"),
        ("difference_independent", "difference-interval-and-test-different-sites"),
        ("McNemar mid-p", "mcnemars-test-mid-p"),
        ("chi-squared", "difference-interval-and-test-different-sites"),
        ("Fisher exact", "difference-interval-and-test-different-sites"),
        ("p_adjusted", "many-species-at-once"),
        ("verdict", "what-it-says"),
        ("detectable", "smallest-change-this-could-have-shown"),
        ("community", "communities"),
        ("richness", "species-on-equal-effort"),
        ("ratings", "ratings-of-two-surveys"),
        ("noise", "more-than-ordinary-noise"),
        ("places", "which-sites"),
        ("by_zone", "which-sites"),
    ])
}

pub(super) fn of_efficacy() -> BTreeMap<String, String> {
    anchors(&[
        ("estimate", "did-it-work"),
        ("estimate_logit", "did-it-work"),
        ("p", "did-it-work"),
        ("abbott", "percent-control"),
        ("henderson_tilton", "percent-control"),
        ("density", "did-it-work"),
        ("detectable", "did-it-work"),
        ("verdict", "did-it-work"),
        ("p_adjusted", "many-species-at-once"),
    ])
}

pub(super) fn of_trend() -> BTreeMap<String, String> {
    anchors(&[
        ("per_year", "trend"),
        ("odds_ratio", "trend"),
        ("verdict", "trend"),
        ("detectable", "trend"),
        ("breaks", "trend"),
        ("mann_kendall", "order-of-the-years"),
    ])
}

pub(super) fn of_spread() -> BTreeMap<String, String> {
    anchors(&[
        ("shift_m", "where-it-moved"),
        ("bearing_deg", "where-it-moved"),
        ("gained", "where-it-moved"),
        ("gained_m2", ACRES),
        ("first_found", "where-it-moved"),
    ])
}

/// Every anchor there is.
#[cfg(test)]
pub(super) fn all() -> std::collections::BTreeSet<String> {
    [of_one_survey(), of_two_surveys(), of_efficacy(), of_trend(), of_spread()]
        .into_iter()
        .flat_map(BTreeMap::into_values)
        .chain([ALERTS, CHANCES, ACRES].map(str::to_owned))
        .collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    /// A heading as an anchor: small letters, digits and hyphens.
    fn anchor(heading: &str) -> String {
        let kept = heading.trim().to_lowercase();
        kept.chars()
            .filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-'))
            .map(|c| if c == ' ' { '-' } else { c })
            .collect()
    }

    #[test]
    fn every_anchor_is_a_heading_of_the_methods() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/methods.md");
        let text = std::fs::read_to_string(path).unwrap();
        let headings: BTreeSet<String> = text
            .lines()
            .filter_map(|line| line.strip_prefix("## ").or_else(|| line.strip_prefix("### ")))
            .map(anchor)
            .collect();
        let missing: Vec<String> = super::all().difference(&headings).cloned().collect();
        assert!(missing.is_empty(), "{missing:?} in {headings:?}");
    }
}
