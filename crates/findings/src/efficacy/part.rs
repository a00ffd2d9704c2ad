//! The sites of each part of the lake, paired where they can be.

use super::Part;
use crate::compare::pairing::{Compared, compared_sites};
use crate::compare::rating::rating_at;
use crate::sampled::{Sampled, SampledSite};
use crate::stats::baci::Arm;
use std::collections::BTreeSet;
use survey::{Site, SurveyRecord, TaxonId};

/// Plants taken together.
pub(super) type PlantSet = BTreeSet<TaxonId>;

/// Sites of both surveys by part.
#[derive(Debug)]
pub(super) struct Parts<'r> {
    pub(super) before: Option<&'r SurveyRecord>,
    pub(super) after: &'r SurveyRecord,
    treated: (Sampled<'r>, Sampled<'r>),
    untreated: (Sampled<'r>, Sampled<'r>),
    /// Sampled sites in both parts, left out.
    pub(super) overlap: usize,
}

impl<'r> Parts<'r> {
    pub(super) fn of(
        before: Option<&'r SurveyRecord>,
        after: &'r SurveyRecord,
        part: &dyn Fn(&Site) -> Part,
    ) -> Self {
        let of = |site: &SampledSite<'_>| site.site.map(part).unwrap_or_default();
        let kept = |record: Option<&'r SurveyRecord>, treated: bool| {
            let mut sampled = record.map_or_else(Sampled::none, Sampled::of);
            sampled.sites.retain(|site| {
                let part = of(site);
                part.treated != part.untreated && part.treated == treated
            });
            sampled
        };
        let both = |record: Option<&'r SurveyRecord>| {
            let sampled = record.map_or_else(Sampled::none, Sampled::of);
            sampled.sites.iter().filter(|site| of(site).treated && of(site).untreated).count()
        };
        Self {
            before,
            after,
            treated: (kept(before, true), kept(Some(after), true)),
            untreated: (kept(before, false), kept(Some(after), false)),
            overlap: both(before).max(both(Some(after))),
        }
    }

    fn pair(&self, treated: bool) -> &(Sampled<'r>, Sampled<'r>) {
        if treated { &self.treated } else { &self.untreated }
    }

    /// Presence of any plant of a set, 1 or 0; sets before and after.
    pub(super) fn presence(&self, plants: (&PlantSet, &PlantSet), treated: bool) -> Arm {
        self.values(treated, &|record, site| {
            let plants = if std::ptr::eq(record, self.after) { plants.1 } else { plants.0 };
            let there = site.on_rake.iter().any(|(on, _)| plants.contains(&record.taxa[*on].id));
            Some(f64::from(there))
        })
    }

    /// Largest rating of any plant of a set, zero without one; sites where one was found but not
    /// rated are left out. None unless both surveys used one scale of several steps.
    pub(super) fn density(&self, plants: &PlantSet, treated: bool) -> Option<Arm> {
        let steps = |record: &SurveyRecord| {
            record.scale.steps.iter().filter(|step| step.value.is_some_and(|v| v > 0)).count()
        };
        let before = self.before?;
        (before.scale.same_steps(&self.after.scale) && steps(before) > 1).then(|| {
            self.values(treated, &|record, site| {
                let places = record.taxa.iter().enumerate();
                places
                    .filter(|(_, taxon)| plants.contains(&taxon.id))
                    .map(|(place, _)| rating_at(record, site, Some(place)))
                    .try_fold(0.0_f64, |most, rating| Some(most.max(rating?)))
            })
        })
    }

    fn values(
        &self,
        treated: bool,
        value: &dyn Fn(&SurveyRecord, &SampledSite<'_>) -> Option<f64>,
    ) -> Arm {
        let (first, second) = self.pair(treated);
        let Some(before) = self.before else {
            let after = second.sites.iter().filter_map(|site| value(self.after, site)).collect();
            return Arm::Independent { before: Vec::new(), after };
        };
        match compared_sites(before, self.after, first, second).compared {
            Compared::Paired(pairs) => Arm::Paired(
                pairs
                    .iter()
                    .filter_map(|(one, other)| {
                        Some((value(before, one)?, value(self.after, other)?))
                    })
                    .collect(),
            ),
            Compared::Independent(one, other) => Arm::Independent {
                before: one.iter().filter_map(|site| value(before, site)).collect(),
                after: other.iter().filter_map(|site| value(self.after, site)).collect(),
            },
        }
    }
}
