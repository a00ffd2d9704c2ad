//! Small records for tests, written as a sheet would be.

use survey::{
    Code, GrowthForm, HowSeen, Id, NotSampled, Observation, Origin, Rank, ReportedCounts, Sampling,
    Site, SiteId, SiteResult, SurveyId, SurveyRecord, Taxon, TaxonId, Throw, Visit, VisitId,
};
use survey::{Survey, scale::RatingScale};
use units::Metres;

/// A record on the fullness scale (1, 2, 3, V) with no sites and these species, all native and
/// submersed. Taxa with one name have one key in every record.
pub(crate) fn record(species: &[&str]) -> SurveyRecord {
    let survey = Survey::new(SurveyId(Id::v7(1, 1)), "2026-summer", "fullness").unwrap();
    let scale = RatingScale::by_key("fullness").unwrap().clone();
    let mut record = SurveyRecord::empty(survey, scale);
    record.taxa = species.iter().map(|name| taxon(name)).collect();
    record
}

pub(crate) fn taxon(name: &str) -> Taxon {
    let key = name.bytes().fold(7_u128, |key, byte| key * 131 % 1_000_003 + u128::from(byte));
    Taxon {
        id: TaxonId(Id::v7(2, key)),
        code: Code::new(name).unwrap(),
        aliases: Vec::new(),
        scientific_name: name.to_owned(),
        common_name: String::new(),
        growth_form: GrowthForm::Submersed,
        origin: Origin::Native,
        rank: Rank::Species,
        listed_noxious: false,
        conservatism: None,
    }
}

/// Adds a site and its visit; the site's code is its number in the plan.
pub(crate) fn visit(record: &mut SurveyRecord, depth: Option<f64>, result: SiteResult) {
    let number = record.sites.len() + 1;
    let survey = record.survey.id;
    let site = SiteId(Id::v7(3, number as u128));
    record.sites.push(Site {
        id: site,
        survey,
        code: Code::new(&number.to_string()).unwrap(),
        planned: None,
        map_depth: None,
        zone: None,
        sub_area: None,
        landmark: String::new(),
        rank: number as u32,
        inclusion_probability: None,
        spare: false,
        dropped: None,
    });
    record.visits.push(Visit {
        id: VisitId(Id::v7(4, number as u128)),
        survey,
        site,
        actual: None,
        time: None,
        depth: depth.map(Metres::new),
        sediment: None,
        result,
        observer: String::new(),
        note: String::new(),
    });
}

/// One throw from notes such as `CEDE 2`, `POCR V`, `NAFL` (found, not rated) or `= 3` (whole rake).
pub(crate) fn throw(record: &SurveyRecord, number: u8, notes: &[&str]) -> Throw {
    let mut throw = Throw { number, total: None, observations: Vec::new() };
    for note in notes {
        let (name, code) = note.split_once(' ').unwrap_or((note, ""));
        let rating = (!code.is_empty()).then(|| record.scale.read(code).unwrap());
        if name == "=" {
            throw.total = rating;
            continue;
        }
        let taxon = record.taxa.iter().find(|one| one.scientific_name == name).unwrap().id;
        let seen = if code == "V" { HowSeen::Visual } else { HowSeen::Rake };
        throw.observations.push(Observation { taxon, rating, seen });
    }
    throw
}

/// Adds a site sampled with one throw.
pub(crate) fn rake(record: &mut SurveyRecord, depth: Option<f64>, notes: &[&str]) {
    let throws = vec![throw(record, 1, notes)];
    visit(record, depth, SiteResult::Sampled(Sampling::new(throws, None).unwrap()));
}

/// Adds a site for which only counts were published.
pub(crate) fn counted(record: &mut SurveyRecord, depth: f64, species: u16, native: u16) {
    let counts = ReportedCounts { species, native: Some(native) };
    let sampling = Sampling::new(Vec::new(), Some(counts)).unwrap();
    visit(record, Some(depth), SiteResult::Sampled(sampling));
}

/// Adds a site nobody sampled.
pub(crate) fn missed(record: &mut SurveyRecord, why: NotSampled) {
    visit(record, None, SiteResult::NotSampled(why));
}
