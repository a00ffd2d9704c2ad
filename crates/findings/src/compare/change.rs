use super::names::{OtherNames, Readings, readings};
use super::pairing::Compared;
use super::rating::{RatingChange, rating_change};
use crate::Frequency;
use crate::sampled::{Sampled, SampledSite};
use crate::stats::paired::{self, PairedSites};
use crate::stats::power::{
    Detectable, Goal, detectable_on_different_sites, detectable_on_same_sites,
};
use crate::stats::{Alternative, Confidence, Continuity, fisher, mcnemar, two_proportions};
use std::collections::{BTreeMap, HashMap, HashSet};
use survey::{Code, SurveyRecord, Taxon, TaxonId};

/// Level at which a change is called one.
pub(crate) const LEVEL: f64 = 0.05;
/// Smallest expected count for a chi-squared test (Cochran 1954, Biometrics 10: 417–451; from
/// memory).
const LEAST_EXPECTED: f64 = 5.0;

/// What one taxon, or all plants together, did.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// Earlier.
    pub from: Frequency,
    /// Later.
    pub to: Frequency,
    /// Later minus earlier; none when one side has no site.
    pub difference: Option<Difference>,
    /// How the sites went; none when the sites are different ones.
    pub sites: Option<PairedSites>,
    /// The test; none when nothing was tested.
    pub test: Option<Test>,
    /// Its two-sided p value.
    pub p: Option<f64>,
    /// Adjusted for the number of taxa tested, Benjamini–Hochberg; none for all plants together.
    pub p_adjusted: Option<f64>,
    /// Smallest changes this design shows 8 times in 10 at two-sided 5 %.
    pub detectable: Detectable,
    /// What may be said.
    pub verdict: Verdict,
}

/// One taxon's change.
#[derive(Debug, Clone, PartialEq)]
pub struct TaxonChange {
    /// The taxon, as on the later survey's list where it is there.
    pub taxon: Taxon,
    /// In frequency.
    pub change: Change,
    /// In rating; only where both surveys used one scale of several steps.
    pub rating: Option<RatingChange>,
    /// Which sites gained it, lost it and kept it, for a map; none when the sites are different ones.
    pub places: Option<SiteLists>,
    /// What its name leaves open; none when no other name could mean it.
    pub names: Option<OtherNames>,
}

/// Sites by what became of a plant there.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SiteLists {
    /// Found the second time only.
    pub gained: Vec<Code>,
    /// Found the first time only.
    pub lost: Vec<Code>,
    /// Found both times.
    pub kept: Vec<Code>,
}

/// A difference of frequencies with its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// Later minus earlier.
    pub value: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
}

/// The test used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Test {
    /// Same sites.
    McNemarMidP,
    /// Different sites: two proportions, Pearson's chi-squared without correction.
    ChiSquared,
    /// Different sites, an expected count below five.
    FisherExact,
}

impl Test {
    /// The name as printed.
    pub const fn name(self) -> &'static str {
        match self {
            Self::McNemarMidP => "McNemar mid-p",
            Self::ChiSquared => "chi-squared",
            Self::FisherExact => "Fisher exact",
        }
    }
}

/// What may be said of a change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Up, adjusted p at most 0.05.
    Rose,
    /// Down, adjusted p at most 0.05.
    Fell,
    /// Compared, and the sites do not show a change either way.
    CannotTell,
    /// Not compared.
    NotCompared(Withheld),
}

/// Why a taxon was not compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Withheld {
    /// A survey has no site to compare.
    NoSites,
    /// It was not looked for in one of the surveys.
    NotLookedFor,
    /// It came up only at sites that are left out.
    OnlyElsewhere,
}

impl Verdict {
    /// `rose`, `fell`, `cannot tell` or `not compared`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Rose => "rose",
            Self::Fell => "fell",
            Self::CannotTell => "cannot tell",
            Self::NotCompared(_) => "not compared",
        }
    }
}

impl Change {
    fn withheld(from: Frequency, to: Frequency, why: Withheld) -> Self {
        Self {
            from,
            to,
            difference: None,
            sites: None,
            test: None,
            p: None,
            p_adjusted: None,
            detectable: Detectable { rise: None, fall: None },
            verdict: Verdict::NotCompared(why),
        }
    }

    /// Sets the verdict from a p value.
    pub(crate) fn settle(&mut self, p: f64) {
        self.verdict = match self.difference {
            Some(difference) if p <= LEVEL && difference.value > 0.0 => Verdict::Rose,
            Some(difference) if p <= LEVEL && difference.value < 0.0 => Verdict::Fell,
            _ => Verdict::CannotTell,
        };
    }

    fn same_sites(sites: PairedSites) -> Self {
        let total = sites.total() as usize;
        let from = Frequency::of((sites.both + sites.lost) as usize, total);
        let to = Frequency::of((sites.both + sites.gained) as usize, total);
        let Ok(limits) = paired::difference_interval(sites, Confidence::NINETY_FIVE) else {
            return Self::withheld(from, to, Withheld::NoSites);
        };
        let value = (sites.gained as f64 - sites.lost as f64) / total as f64;
        let p = mcnemar::p_value(sites.gained, sites.lost, mcnemar::McNemar::MidP);
        let mut change = Self {
            difference: Some(Difference { value, low: limits.low, high: limits.high }),
            sites: Some(sites),
            test: Some(Test::McNemarMidP),
            p: Some(p),
            detectable: detectable_on_same_sites(sites, Goal::USUAL),
            ..Self::withheld(from, to, Withheld::NoSites)
        };
        change.settle(p);
        change
    }

    fn different_sites(from: Frequency, to: Frequency) -> Self {
        let (Some(first), Some(second)) = (from.proportion(), to.proportion()) else {
            return Self::withheld(from, to, Withheld::NoSites);
        };
        let limits = two_proportions::difference_interval(first, second, Confidence::NINETY_FIVE);
        let few = two_proportions::smallest_expected_count(first, second) < LEAST_EXPECTED;
        // Fisher's test and the corrected power belong together: Casagrande, Pike & Smith (1978)
        let (test, p, continuity) = if few {
            let p = fisher::fisher_exact(first, second, Alternative::TwoSided);
            (Test::FisherExact, p, Continuity::Corrected)
        } else {
            let plain = Continuity::Uncorrected;
            (Test::ChiSquared, two_proportions::pearson_chi_squared(first, second, plain).p, plain)
        };
        let mut change = Self {
            difference: Some(Difference {
                value: second.value() - first.value(),
                low: limits.low,
                high: limits.high,
            }),
            test: Some(test),
            p: Some(p),
            detectable: detectable_on_different_sites(
                first,
                second.trials(),
                Goal::USUAL,
                continuity,
            ),
            ..Self::withheld(from, to, Withheld::NoSites)
        };
        change.settle(p);
        change
    }
}

/// Change of a property of sites.
pub(crate) fn change_of(
    compared: &Compared<'_, '_>,
    earlier: impl Fn(&SampledSite<'_>) -> bool,
    later: impl Fn(&SampledSite<'_>) -> bool,
) -> Change {
    match compared {
        Compared::Paired(pairs) => {
            let mut sites = PairedSites::default();
            for (one, other) in pairs {
                sites.count(earlier(one), later(other));
            }
            Change::same_sites(sites)
        }
        Compared::Independent(from, to) => {
            let found = from.iter().filter(|site| earlier(site)).count();
            let found_later = to.iter().filter(|site| later(site)).count();
            Change::different_sites(
                Frequency::of(found, from.len()),
                Frequency::of(found_later, to.len()),
            )
        }
    }
}

pub(crate) fn any_plant(compared: &Compared<'_, '_>) -> Change {
    change_of(compared, |site| site.plants, |site| site.plants)
}

pub(crate) fn taxa(
    from: &SurveyRecord,
    to: &SurveyRecord,
    sampled: (&Sampled<'_>, &Sampled<'_>),
    compared: &Compared<'_, '_>,
) -> Vec<(TaxonChange, Option<Readings>)> {
    let mut found = found_anywhere(from, sampled.0);
    found.extend(found_anywhere(to, sampled.1));
    let places = |record: &SurveyRecord| -> HashMap<TaxonId, usize> {
        record.taxa.iter().enumerate().map(|(place, taxon)| (taxon.id, place)).collect()
    };
    let (places_from, places_to) = (places(from), places(to));
    // the later list names a taxon that both have
    let listed: BTreeMap<TaxonId, &Taxon> =
        from.taxa.iter().chain(&to.taxa).map(|taxon| (taxon.id, taxon)).collect();
    let rateable = from.scale.same_steps(&to.scale)
        && from.scale.steps.iter().filter(|step| step.value.is_some_and(|v| v > 0)).count() > 1;
    let found: BTreeMap<TaxonId, &Taxon> =
        listed.into_iter().filter(|(id, _)| found.contains(id)).collect();
    found
        .values()
        .map(|&taxon| {
            let here = places_from.get(&taxon.id).copied();
            let there = places_to.get(&taxon.id).copied();
            let on = |place: Option<usize>| move |site: &SampledSite<'_>| has(site, place);
            let mut change = change_of(compared, on(here), on(there));
            let looked_for = from.survey.scope.covers(taxon.id) && to.survey.scope.covers(taxon.id);
            if !looked_for {
                change = Change::withheld(change.from, change.to, Withheld::NotLookedFor);
            } else if change.from.k + change.to.k == 0 && change.p.is_some() {
                change = Change::withheld(change.from, change.to, Withheld::OnlyElsewhere);
            }
            let rating = (rateable && change.p.is_some())
                .then(|| rating_change(from, to, compared, (here, there)))
                .flatten();
            let places = change.p.and_then(|_| site_lists(compared, on(here), on(there)));
            let open = change.p.and_then(|_| readings(taxon, &found, (from, to), compared));
            (TaxonChange { taxon: taxon.clone(), change, rating, places, names: None }, open)
        })
        .collect()
}

pub(crate) fn has(site: &SampledSite<'_>, place: Option<usize>) -> bool {
    place.is_some_and(|place| site.on_rake.binary_search_by_key(&place, |(on, _)| *on).is_ok())
}

/// Taxa that came up on any rake of a survey.
pub(crate) fn found_anywhere(record: &SurveyRecord, sampled: &Sampled<'_>) -> HashSet<TaxonId> {
    let on_rakes = sampled.sites.iter().flat_map(|site| &site.on_rake);
    on_rakes.map(|(place, _)| record.taxa[*place].id).collect()
}

/// Sites by what became of a property there.
pub(crate) fn site_lists(
    compared: &Compared<'_, '_>,
    earlier: impl Fn(&SampledSite<'_>) -> bool,
    later: impl Fn(&SampledSite<'_>) -> bool,
) -> Option<SiteLists> {
    let Compared::Paired(pairs) = compared else { return None };
    let mut lists = SiteLists::default();
    for (one, other) in pairs {
        let Some(site) = other.site else { continue };
        let list = match (earlier(one), later(other)) {
            (true, true) => &mut lists.kept,
            (true, false) => &mut lists.lost,
            (false, true) => &mut lists.gained,
            (false, false) => continue,
        };
        list.push(site.code.clone());
    }
    Some(lists)
}
