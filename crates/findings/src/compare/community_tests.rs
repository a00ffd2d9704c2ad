use super::*;
use crate::stats::assert_close;
use crate::stats::community::{Exchange, GroupTestError};
use crate::testing::{rake, record};

/// Ten sites each: earlier all of CEDE and half of POCR, later half of CEDE and all of ELCA.
fn two() -> (SurveyRecord, SurveyRecord) {
    let names = ["CEDE", "POCR", "ELCA"];
    let (mut from, mut to) = (record(&names), record(&names));
    for site in 0..10 {
        let depth = Some(0.5 + 0.1 * f64::from(site));
        rake(&mut from, depth, if site < 5 { &["CEDE 2", "POCR 1"] } else { &["CEDE 2"] });
        rake(&mut to, depth, if site < 5 { &["CEDE 1", "ELCA 3"] } else { &["ELCA 3"] });
    }
    (from, to)
}

#[test]
fn communities_at_the_same_sites_change_places_within_pairs() {
    let (from, to) = two();
    let got = community(&from, &to, CommunityOptions::with_seed(9));
    // frequencies 1, ½, 0 and ½, 0, 1: apart 2, together 3
    assert_close(got.bray_curtis.unwrap(), 2.0 / 3.0, 1e-12, "Bray–Curtis");
    assert_close(got.jaccard.unwrap(), 2.0 / 3.0, 1e-12, "Jaccard");
    let test = got.test.unwrap();
    assert_eq!((test.exchange, test.seed, test.permutations), (Exchange::WithinPairs, 9, 999));
    assert!(got.rated && test.value > 0.5 && test.p < 0.01, "{test:?}");
    let same = community(&from, &from, CommunityOptions::with_seed(9));
    assert_close(same.bray_curtis.unwrap(), 0.0, 1e-12, "itself");
    assert!(same.test.unwrap().p > 0.9);
}

#[test]
fn no_plants_or_one_species_everywhere_leave_nothing_to_tell_apart() {
    let (mut from, mut to) = (record(&["CEDE"]), record(&["CEDE"]));
    for _ in 0..4 {
        rake(&mut from, Some(1.0), &[]);
        rake(&mut to, Some(1.0), &[]);
    }
    let got = community(&from, &to, CommunityOptions::with_seed(1));
    assert_eq!((got.bray_curtis, got.test), (None, Err(GroupTestError::AllAlike)));
    let (mut from, mut to) = (record(&["CEDE"]), record(&["CEDE"]));
    rake(&mut from, Some(1.0), &["CEDE 1"]);
    rake(&mut to, Some(1.0), &["CEDE 1"]);
    let got = community(&from, &to, CommunityOptions::with_seed(1));
    assert_eq!(got.test, Err(GroupTestError::TooFewSites { first: 1, second: 1 }));
    let comparison = Comparison::of(&from, &to);
    assert_eq!(comparison.richness, None, "one site has no curve");
}

#[test]
fn richness_is_compared_on_equal_effort() {
    let (from, mut to) = two();
    for _ in 0..10 {
        rake(&mut to, Some(1.0), &["POCR 1"]);
    }
    for site in &mut to.sites {
        site.code = Code::new(&format!("B{}", site.code)).unwrap();
    }
    let got = Comparison::of(&from, &to).richness.unwrap();
    assert_eq!((got.sites, got.from.found, got.to.found), (10, 2, 3));
    assert_close(got.from.expected.value, 2.0, 1e-12, "all of its own sites");
    // 5, 10 and 10 of 20 sites brought to 10: 3 less the chances of missing each
    let miss = |found: u32| {
        (0..10).map(|i| f64::from(20 - found - i) / f64::from(20 - i)).product::<f64>()
    };
    let expected = 3.0 - miss(5) - 2.0 * miss(10);
    assert_close(got.to.expected.value, expected, 1e-12, "Mao Tau");
    assert!(
        got.difference.low <= got.difference.value && got.difference.value <= got.difference.high
    );
    let names = |taxa: &[survey::TaxonId]| taxa.len();
    assert_eq!((names(&got.gained), names(&got.lost)), (1, 0));
    assert_eq!(got.gained, [to.taxa[2].id]);
}

#[test]
fn nichols_1997_bands_tell_more_than_noise() {
    let (from, mut to) = two();
    let noise = |from: &SurveyRecord, to: &SurveyRecord| -> Vec<(NoiseMeasure, Option<bool>)> {
        Comparison::of(from, to).noise.iter().map(|one| (one.measure, one.beyond)).collect()
    };
    let got = noise(&from, &to);
    assert_eq!(got[0], (NoiseMeasure::MaxPlantDepth, Some(false)));
    assert_eq!(got[1], (NoiseMeasure::OpenShare, Some(false)));
    assert_eq!(got[2], (NoiseMeasure::Species, Some(false)));
    // 2/3, 1/3 both times: the index does not change while the lists do
    assert_eq!(got[3], (NoiseMeasure::Simpson, Some(false)));
    assert_eq!(got[4], (NoiseMeasure::FloralSimilarity, Some(true)), "1 of 3 shared: 0.5");
    assert_eq!(got[5], (NoiseMeasure::CommunitySimilarity, Some(true)));
    // plants 0.8 m deeper are within the band, 0.9 m are not
    for (deeper, beyond) in [(0.8, false), (0.9, true)] {
        let site = to.visits.last_mut().unwrap();
        site.depth = Some(Metres::new(1.4 + deeper));
        assert_eq!(noise(&from, &to)[0].1, Some(beyond), "{deeper}");
    }
    let empty = record(&["CEDE"]);
    assert!(noise(&empty, &to).iter().all(|(_, beyond)| beyond.is_none_or(|beyond| beyond)));
}

#[test]
fn sites_that_gained_and_lost_a_plant_are_named() {
    let (from, to) = two();
    let comparison = Comparison::of(&from, &to);
    let of =
        |name: &str| comparison.taxa.iter().find(|one| one.taxon.scientific_name == name).unwrap();
    let places = of("CEDE").places.clone().unwrap();
    let codes = |list: &[Code]| list.iter().map(Code::to_string).collect::<Vec<_>>();
    assert_eq!(codes(&places.lost), ["6", "7", "8", "9", "10"]);
    assert_eq!(codes(&places.kept), ["1", "2", "3", "4", "5"]);
    assert_eq!(of("ELCA").places.as_ref().unwrap().gained.len(), 10);
    assert_eq!(comparison.any_places.unwrap().kept.len(), 10);
    let rating = of("CEDE").rating.clone().unwrap();
    assert_eq!(rating.effect, Some(OrdinalEffect::RankBiserial(-1.0)));
    let steps: Vec<(&str, usize, usize)> =
        rating.steps.iter().map(|step| (step.code.as_str(), step.from, step.to)).collect();
    assert_eq!(steps, [("0", 0, 5), ("1", 0, 5), ("2", 10, 0), ("3", 0, 0)]);
}

#[test]
fn zones_are_compared_with_themselves() {
    let (mut from, mut to) = two();
    for record in [&mut from, &mut to] {
        for (number, site) in record.sites.iter_mut().enumerate() {
            site.zone = Some(Code::new(if number < 5 { "A" } else { "B" }).unwrap());
        }
    }
    to.sites[9].zone = Some(Code::new("C").unwrap());
    let zones = Comparison::by_zone(&from, &to);
    assert_eq!(zones.iter().map(|(code, _)| code.as_str()).collect::<Vec<_>>(), ["A", "B"]);
    assert_eq!((zones[0].1.to.compared, zones[1].1.to.compared), (5, 4));
    assert_eq!(zones[1].1.taxa.len(), 2);
}
