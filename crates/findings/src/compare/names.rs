//! Plants named to the species one time and to the genus another.

use super::change::{Change, LEVEL, Verdict, change_of, has};
use super::pairing::Compared;
use crate::sampled::SampledSite;
use std::collections::BTreeMap;
use survey::{SurveyRecord, Taxon, TaxonId};

/// A taxon that may have been written down under another name: a species under its genus, or a genus
/// whose species were named.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherNames {
    /// The other names, in the order of their keys.
    pub with: Vec<TaxonId>,
    /// Compared sites with one of them and not this one: earlier, later.
    pub sites: (usize, usize),
    /// This taxon and the others together.
    pub together: Change,
    /// As named it rose or fell, and under another reading of the names it would not have: nothing is
    /// said.
    pub withheld: bool,
}

/// What the names leave open for one taxon, before anything is adjusted for the number of taxa.
#[derive(Debug)]
pub(crate) struct Readings {
    names: OtherNames,
    /// Changes that must go the same way as the one as named.
    other: Vec<Change>,
}

/// Whether two taxa on a list may stand for one plant.
pub(crate) fn may_be_one(one: &Taxon, other: &Taxon) -> bool {
    one.may_hold(other) || other.may_hold(one)
}

/// # Formula
/// A species whose genus was also written down lies between two readings: none of the sites with the
/// genus alone had it, or all of them in the survey where they speak against the change. A genus whose
/// species were also written down is read together with them.
///
/// # References
/// Cuffney, Bilger & Haigler (2007), Journal of the North American Benthological Society 26: 286–307, on
/// names of different rank for one organism (from memory).
pub(crate) fn readings(
    taxon: &Taxon,
    found: &BTreeMap<TaxonId, &Taxon>,
    records: (&SurveyRecord, &SurveyRecord),
    compared: &Compared<'_, '_>,
) -> Option<Readings> {
    let with: Vec<TaxonId> = found
        .values()
        .filter(|other| other.id != taxon.id && may_be_one(taxon, other))
        .map(|other| other.id)
        .collect();
    if with.is_empty() {
        return None;
    }
    let (own_from, others_from) = (place(records.0, taxon.id), places(records.0, &with));
    let (own_to, others_to) = (place(records.1, taxon.id), places(records.1, &with));
    let named = |own: Option<usize>| move |site: &SampledSite<'_>| has(site, own);
    let either = |own: Option<usize>, others: Vec<usize>| {
        move |site: &SampledSite<'_>| has(site, own) || any(site, &others)
    };
    let only = |own: Option<usize>, others: Vec<usize>| {
        move |site: &SampledSite<'_>| !has(site, own) && any(site, &others)
    };
    let apart =
        change_of(compared, only(own_from, others_from.clone()), only(own_to, others_to.clone()));
    let sites = (apart.from.k, apart.to.k);
    if sites == (0, 0) {
        return None;
    }
    let together = change_of(
        compared,
        either(own_from, others_from.clone()),
        either(own_to, others_to.clone()),
    );
    let coarse = with.iter().any(|other| found.get(other).is_some_and(|one| taxon.may_hold(one)));
    let other = if coarse {
        vec![together.clone()]
    } else {
        vec![
            change_of(compared, either(own_from, others_from), named(own_to)),
            change_of(compared, named(own_from), either(own_to, others_to)),
        ]
    };
    Some(Readings { names: OtherNames { with, sites, together, withheld: false }, other })
}

impl Readings {
    /// Takes back a verdict that another reading of the names does not bear out. `adjusted` is what the
    /// number of taxa multiplied the p value by.
    pub(crate) fn settle(self, change: &mut Change, adjusted: f64) -> OtherNames {
        let mut names = self.names;
        if matches!(change.verdict, Verdict::Rose | Verdict::Fell) {
            names.withheld = self.other.into_iter().any(|mut reading| {
                let p = reading.p.map_or(1.0, |p| (p * adjusted).min(1.0));
                reading.settle(p);
                p > LEVEL || reading.verdict != change.verdict
            });
        }
        if names.withheld {
            change.verdict = Verdict::CannotTell;
        }
        names
    }
}

fn place(record: &SurveyRecord, id: TaxonId) -> Option<usize> {
    record.taxa.iter().position(|one| one.id == id)
}

pub(crate) fn places(record: &SurveyRecord, ids: &[TaxonId]) -> Vec<usize> {
    ids.iter().filter_map(|id| place(record, *id)).collect()
}

pub(crate) fn any(site: &SampledSite<'_>, places: &[usize]) -> bool {
    places.iter().any(|place| has(site, Some(*place)))
}

#[cfg(test)]
mod tests {
    use crate::compare::{Comparison, TaxonChange, Verdict, Warning};
    use crate::testing::{rake, record};
    use survey::{Rank, SurveyRecord};

    /// Two records of the same sites with a genus and two of its species, in which each pair of notes is
    /// so many times over.
    fn naiads(sites: &[(usize, &[&str], &[&str])]) -> (SurveyRecord, SurveyRecord) {
        let codes = ["NAJAS", "NAFL", "NAGU"];
        let (mut from, mut to) = (record(&codes), record(&codes));
        for (times, first, second) in sites {
            for _ in 0..*times {
                rake(&mut from, Some(1.0), first);
                rake(&mut to, Some(1.0), second);
            }
        }
        for one in [&mut from, &mut to] {
            let names = ["Najas", "Najas flexilis", "Najas guadalupensis"];
            for (taxon, name) in one.taxa.iter_mut().zip(names) {
                name.clone_into(&mut taxon.scientific_name);
            }
            one.taxa[0].rank = Rank::Genus;
        }
        (from, to)
    }

    fn of<'c>(comparison: &'c Comparison, name: &str) -> &'c TaxonChange {
        comparison.taxa.iter().find(|one| one.taxon.scientific_name == name).unwrap()
    }

    fn warned(comparison: &Comparison) -> bool {
        comparison.warnings.iter().any(|one| matches!(one, Warning::Names { .. }))
    }

    #[test]
    fn species_written_down_under_their_genus_did_not_vanish() {
        let (from, to) = naiads(&[
            (18, &["NAFL 1"], &["NAJAS 1"]),
            (9, &["NAGU 2"], &["NAJAS 2"]),
            (13, &[], &[]),
        ]);
        let comparison = Comparison::of(&from, &to);
        for (name, sites) in [("Najas", (27, 0)), ("Najas flexilis", (0, 27))] {
            let one = of(&comparison, name);
            let names = one.names.as_ref().unwrap();
            assert_eq!(one.change.verdict, Verdict::CannotTell, "{name}");
            assert!(names.withheld, "{name}");
            assert_eq!(names.sites, sites, "{name}");
            assert_eq!(
                (names.together.from.k, names.together.to.k),
                (18 + 9 * usize::from(name == "Najas"), 27)
            );
            assert!(one.change.p_adjusted.unwrap() < 0.01, "{name}: the figures stay as they are");
        }
        assert!(warned(&comparison));
    }

    #[test]
    fn a_genus_noted_at_one_site_leaves_a_plain_fall_standing() {
        let (from, to) =
            naiads(&[(25, &["NAFL 1"], &[]), (1, &["NAFL 1"], &["NAJAS 1"]), (14, &[], &[])]);
        let comparison = Comparison::of(&from, &to);
        let one = of(&comparison, "Najas flexilis");
        assert_eq!(one.change.verdict, Verdict::Fell);
        assert_eq!(one.names.as_ref().unwrap().sites, (0, 1));
        assert!(!one.names.as_ref().unwrap().withheld);
        assert!(!warned(&comparison));
    }

    #[test]
    fn two_species_of_one_genus_say_nothing_of_each_other() {
        let (from, to) = naiads(&[(20, &["NAFL 1"], &["NAGU 1"]), (20, &[], &[])]);
        let comparison = Comparison::of(&from, &to);
        assert_eq!(of(&comparison, "Najas flexilis").names, None);
        assert_eq!(of(&comparison, "Najas flexilis").change.verdict, Verdict::Fell);
        assert_eq!(of(&comparison, "Najas guadalupensis").change.verdict, Verdict::Rose);
    }
}
