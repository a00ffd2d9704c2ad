//! The whole record of one survey and the questions every later step asks of it.

use crate::scale::RatingScale;
use crate::{
    HowSeen, Observation, Outcome, PhotoRef, Rating, ShorelineFind, Site, SiteId, SiteResult,
    SurfaceBed, Survey, Taxon, TaxonId, Visit, Voucher,
};
use std::collections::BTreeMap;

/// One survey with its scale, its sites, and all that was recorded.
#[derive(Debug, Clone, PartialEq)]
pub struct SurveyRecord {
    /// Header.
    pub survey: Survey,
    /// The one scale.
    pub scale: RatingScale,
    /// Planned sites in the order of the plan.
    pub sites: Vec<Site>,
    /// Visits; at most one a site.
    pub visits: Vec<Visit>,
    /// The lake's list of taxa.
    pub taxa: Vec<Taxon>,
    /// Beds seen at the surface.
    pub beds: Vec<SurfaceBed>,
    /// Plants found on the shore.
    pub shoreline: Vec<ShorelineFind>,
    /// Photos.
    pub photos: Vec<PhotoRef>,
    /// Specimens.
    pub vouchers: Vec<Voucher>,
}

impl RatingScale {
    /// The step a rating stands for.
    pub fn step_of(&self, rating: Rating) -> Option<&crate::scale::Step> {
        self.steps.get(usize::from(rating.0))
    }
}

impl SurveyRecord {
    /// A record with a header and a scale and nothing else.
    pub fn empty(survey: Survey, scale: RatingScale) -> Self {
        Self {
            survey,
            scale,
            sites: Vec::new(),
            visits: Vec::new(),
            taxa: Vec::new(),
            beds: Vec::new(),
            shoreline: Vec::new(),
            photos: Vec::new(),
            vouchers: Vec::new(),
        }
    }

    /// True when a rating says that something was there: every step but a zero.
    pub fn says_present(&self, rating: Option<Rating>) -> bool {
        rating.is_none_or(|Rating(step)| {
            self.scale.steps.get(usize::from(step)).is_none_or(|step| step.value != Some(0))
        })
    }

    /// The number of a rating in statistics; none for a visual step or an unrated find.
    pub fn value_of(&self, rating: Option<Rating>) -> Option<f64> {
        rating
            .and_then(|Rating(step)| self.scale.steps.get(usize::from(step)))
            .and_then(|step| step.value)
            .map(f64::from)
    }

    /// True for an observation of a taxon that came up on the rake.
    ///
    /// A step of the scale that stands for a plant seen beside the rake never counts as on it.
    pub fn on_rake(&self, observation: &Observation) -> bool {
        observation.seen == HowSeen::Rake
            && self.says_present(observation.rating)
            && observation.rating.is_none_or(|Rating(step)| {
                self.scale.steps.get(usize::from(step)).is_none_or(|step| step.on_rake)
            })
    }

    /// True when a plant came up on the rake. Names decide, or published counts; the rating of the
    /// whole rake decides only where neither was written, because algae fill a rake too.
    pub fn has_plants(&self, visit: &Visit, plants: &BTreeMap<TaxonId, bool>) -> bool {
        let SiteResult::Sampled(sampling) = &visit.result else { return false };
        let mut named = sampling.observations().filter(|one| self.on_rake(one)).peekable();
        if named.peek().is_some() {
            return named.any(|one| plants.get(&one.taxon).copied().unwrap_or(true));
        }
        if let Some(counts) = sampling.reported() {
            return counts.species > 0;
        }
        sampling.throws().iter().any(|throw| {
            throw.total.is_some() && self.value_of(throw.total).is_some_and(|v| v > 0.0)
        })
    }

    /// Which taxa of the list are plants, for [`SurveyRecord::has_plants`].
    pub fn plants(&self) -> BTreeMap<TaxonId, bool> {
        self.taxa.iter().map(|taxon| (taxon.id, taxon.is_plant())).collect()
    }

    /// The coded outcome of a visit. "With plants" is never said of a visit without any.
    pub fn outcome(&self, visit: &Visit, plants: &BTreeMap<TaxonId, bool>) -> Outcome {
        match &visit.result {
            SiteResult::NotSampled(reason) => (*reason).into(),
            SiteResult::Sampled(_) if self.has_plants(visit, plants) => Outcome::SampledWithPlants,
            SiteResult::Sampled(_) => Outcome::SampledWithoutPlants,
        }
    }

    /// Visits by site.
    pub fn visits_by_site(&self) -> BTreeMap<SiteId, &Visit> {
        self.visits.iter().map(|visit| (visit.site, visit)).collect()
    }

    /// The largest rating of a taxon over the throws of a visit, on the rake; the outer option
    /// says whether it was found, the inner whether it was rated.
    pub fn largest_on_rake(&self, visit: &Visit, taxon: TaxonId) -> Option<Option<Rating>> {
        let SiteResult::Sampled(sampling) = &visit.result else { return None };
        sampling
            .observations()
            .filter(|one| one.taxon == taxon && self.on_rake(one))
            .map(|one| one.rating)
            .max()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Code, Id, NotSampled, Sampling, SamplingError, SurveyId, Throw, VisitId};

    fn record() -> SurveyRecord {
        let survey = Survey::new(SurveyId(Id::v7(1, 1)), "2026-summer", "fullness").unwrap();
        SurveyRecord::empty(survey, RatingScale::by_key("fullness").unwrap().clone())
    }

    fn taxon(number: u128, growth_form: crate::GrowthForm) -> Taxon {
        Taxon {
            id: TaxonId(Id::v7(1, number)),
            code: Code::new(&format!("T{number}")).unwrap(),
            aliases: Vec::new(),
            scientific_name: format!("Plantus {number}"),
            common_name: String::new(),
            growth_form,
            origin: crate::Origin::Native,
            rank: crate::Rank::Species,
            listed_noxious: false,
            conservatism: None,
        }
    }

    fn visit(result: SiteResult) -> Visit {
        Visit {
            id: VisitId(Id::v7(1, 7)),
            survey: SurveyId(Id::v7(1, 1)),
            site: SiteId(Id::v7(1, 2)),
            actual: None,
            time: None,
            depth: None,
            sediment: None,
            result,
            observer: String::new(),
            note: String::new(),
        }
    }

    fn throw(total: Option<Rating>, observations: Vec<Observation>) -> SiteResult {
        SiteResult::Sampled(
            Sampling::new(vec![Throw { number: 1, total, observations }], None).unwrap(),
        )
    }

    #[test]
    fn a_sampled_site_without_a_throw_does_not_construct() {
        assert_eq!(Sampling::new(Vec::new(), None), Err(SamplingError::NoThrow));
    }

    #[test]
    fn the_outcome_follows_from_what_came_up() {
        let mut record = record();
        record.taxa = vec![
            taxon(1, crate::GrowthForm::Submersed),
            taxon(2, crate::GrowthForm::FilamentousAlga),
        ];
        let plants = record.plants();
        let seen =
            |index: usize, seen| Observation { taxon: record.taxa[index].id, rating: None, seen };
        let fullness = |code: &str| record.scale.read(code).unwrap();
        let table = [
            ("bare rake", throw(None, vec![]), Outcome::SampledWithoutPlants),
            ("a plant", throw(None, vec![seen(0, HowSeen::Rake)]), Outcome::SampledWithPlants),
            (
                "only seen",
                throw(None, vec![seen(0, HowSeen::Visual)]),
                Outcome::SampledWithoutPlants,
            ),
            (
                "only algae",
                throw(None, vec![seen(1, HowSeen::Rake)]),
                Outcome::SampledWithoutPlants,
            ),
            (
                "algae fill the rake",
                throw(Some(fullness("2")), vec![seen(1, HowSeen::Rake)]),
                Outcome::SampledWithoutPlants,
            ),
            ("total rated", throw(Some(fullness("2")), vec![]), Outcome::SampledWithPlants),
            ("dock", SiteResult::NotSampled(NotSampled::DockOrStructure), Outcome::DockOrStructure),
        ];
        for (name, result, want) in table {
            assert_eq!(record.outcome(&visit(result), &plants), want, "{name}");
        }
    }

    #[test]
    fn only_two_outcomes_enter_a_denominator() {
        let sampled = Outcome::ALL.iter().filter(|one| one.is_sampled()).count();
        assert_eq!((sampled, Outcome::ALL.len()), (2, 10));
    }
}
