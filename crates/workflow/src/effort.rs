//! How many sites, how many throws: by formula, by rule of thumb, by virtual surveys on this lake.

use crate::error::{Error, Result, with_hint};
use crate::ground::Ground;
use crate::plan::{LayoutChoice, PlanRequest, littoral_frame};
use crate::surveys::record_of;
use crate::views::{EffortView, FormulaView, RuleOfThumbView, SimulationView};
use geo_types::coord;
use lakebook::LakeBook;
use sampling::effort::simulate::{Aim, Design, Pattern, Simulated, Simulation, VirtualLake, Watch};
use sampling::effort::{Answer, Question, answer, simulate};
use std::collections::BTreeMap;
use std::path::PathBuf;
use survey::{SiteResult, SurveyRecord, TaxonId};
use units::{Metres, SquareMetres};

pub use sampling::effort::Purpose;

/// What the user asks; what is not said takes the usual value of the purpose.
#[derive(Debug, Clone)]
pub struct EffortRequest {
    /// What for.
    pub purpose: Purpose,
    /// Share of sites where the species grows.
    pub occupancy: Option<f64>,
    /// Chance of one throw to bring the plant up where it grows.
    pub detection: Option<f64>,
    /// Throws a site.
    pub throws: Option<u32>,
    /// Confidence.
    pub confidence: Option<f64>,
    /// Margin.
    pub margin: Option<f64>,
    /// Share of sites before.
    pub from: Option<f64>,
    /// Share of sites after.
    pub to: Option<f64>,
    /// Chance to show the change.
    pub power: Option<f64>,
    /// Area of a bed.
    pub patch_area: Option<SquareMetres>,
    /// A number of sites to judge.
    pub sites: Option<usize>,
    /// Survey whose pattern of plants the virtual surveys draw from; the last one when not said.
    pub survey: Option<String>,
    /// Shallow limit of the water asked about; the lake's littoral limit when not said.
    pub min_depth: Option<Metres>,
    /// Deep limit.
    pub max_depth: Option<Metres>,
    /// Zones asked about.
    pub zones: Vec<String>,
    /// Virtual surveys for each number of sites; none for formula alone.
    pub runs: usize,
    /// Draws them.
    pub seed: u64,
}

impl EffortRequest {
    /// The usual question of a purpose.
    pub fn new(purpose: Purpose) -> Self {
        Self {
            purpose,
            occupancy: None,
            detection: None,
            throws: None,
            confidence: None,
            margin: None,
            from: None,
            to: None,
            power: None,
            patch_area: None,
            sites: None,
            survey: None,
            min_depth: None,
            max_depth: None,
            zones: Vec::new(),
            runs: 2_000,
            seed: 1,
        }
    }
}

/// Places the virtual lake is made of.
const PLACES: usize = 5_000;
/// Share of the lake's species a survey should find to know its plants (common practice).
const ENOUGH_SPECIES: f64 = 0.9;

/// Answers how many sites a purpose needs on this lake.
///
/// # Errors
/// Impossible targets, chances outside 0 to 1, a lake without an outline.
pub fn effort(book: &LakeBook, request: &EffortRequest) -> Result<EffortView> {
    let ground = Ground::of(book)?;
    ground.need_outline()?;
    let plan = plan_request(request);
    let depth = |x: f64, y: f64| {
        ground.model.as_ref().and_then(|model| model.depth_at(coord! {x: x, y: y}))
    };
    let frame = littoral_frame(book, &ground, &depth, &plan)?;
    let question = question(request, frame.area(), &ground);
    let found = answer(&question).map_err(|error| with_hint(&error))?;
    let mut warnings = Vec::new();
    if ground.model.is_none() {
        warnings.push(
            "the lake has no depths, so the whole of it counts; add depths to ask about the littoral zone alone"
                .to_owned(),
        );
    }
    let mut sentence = found.sentence.clone();
    let simulation = if request.runs == 0 || request.purpose == Purpose::Delineate {
        // virtual surveys find beds; they do not draw edges
        None
    } else {
        let (lake, plants) = virtual_lake(book, &ground, &frame, request, &question)?;
        let simulation = Simulation {
            throws: question.throws,
            runs: request.runs,
            threads: 2,
            design: Design::LocalPivotal,
            ..Simulation::new(
                aim(request, &question),
                numbers(&found, request, lake.places().len()),
                request.seed,
            )
        };
        let simulated =
            simulate(&lake, &simulation, Watch::default()).map_err(|error| with_hint(&error))?;
        let judged = request.sites.unwrap_or(found.formula.sites);
        if let Some(words) = simulated.sentence(judged, ground.lake.units) {
            sentence = format!("{sentence} {words}");
        }
        Some(simulation_view(&simulated, plants))
    };
    Ok(EffortView {
        purpose: request.purpose.key().to_owned(),
        inputs: inputs(&question),
        formula: FormulaView {
            sites: found.formula.sites,
            formula: found.formula.formula.to_owned(),
            source: found.formula.source.to_owned(),
            grid_sites: found.formula.grid_sites,
            spacing_m: found.spacing.metres(),
        },
        rule_of_thumb: RuleOfThumbView {
            sites: found.rule_of_thumb.sites,
            rule: found.rule_of_thumb.rule.to_owned(),
            reaches: found.rule_reaches,
        },
        simulation,
        sentence,
        warnings,
    })
}

fn plan_request(request: &EffortRequest) -> PlanRequest {
    PlanRequest {
        survey: String::new(),
        layout: LayoutChoice::Given(PathBuf::new()),
        min_depth: request.min_depth,
        max_depth: request.max_depth,
        zones: request.zones.clone(),
        crs: None,
        scale: None,
        throws: None,
        purpose: None,
        again: false,
    }
}

fn question(request: &EffortRequest, area: SquareMetres, ground: &Ground) -> Question {
    let usual = Question::new(request.purpose, area);
    Question {
        occupancy: request.occupancy.unwrap_or(usual.occupancy),
        detection: request.detection.unwrap_or(usual.detection),
        throws: request.throws.unwrap_or(usual.throws),
        confidence: request.confidence.unwrap_or(usual.confidence),
        margin: request.margin.unwrap_or(usual.margin),
        from: request.from.unwrap_or(usual.from),
        to: request.to.unwrap_or(usual.to),
        power: request.power.unwrap_or(usual.power),
        patch_area: request.patch_area.or(match request.purpose {
            // an acre is the usual sub-area, and about the smallest bed anybody treats (common practice)
            Purpose::Delineate => Some(SquareMetres::from_acres(1.0)),
            _ => None,
        }),
        sites: request.sites,
        units: ground.lake.units,
        ..usual
    }
}

fn inputs(question: &Question) -> BTreeMap<String, f64> {
    let mut inputs: BTreeMap<String, f64> = [
        ("area_m2", question.area.square_metres()),
        ("detection", question.detection),
        ("throws", f64::from(question.throws)),
        ("confidence", question.confidence),
    ]
    .into_iter()
    .map(|(name, value)| (name.to_owned(), value))
    .collect();
    let mut put = |name: &str, value: f64| {
        inputs.insert(name.to_owned(), value);
    };
    match question.purpose {
        Purpose::Richness => {
            put("occupancy", question.occupancy);
            put("species", question.species as f64);
        }
        Purpose::Detect => put("occupancy", question.occupancy),
        Purpose::Estimate => {
            put("occupancy", question.occupancy);
            put("margin", question.margin);
        }
        Purpose::Delineate => put("margin", question.margin),
        Purpose::Change | Purpose::Treatment => {
            put("from", question.from);
            put("to", question.to);
            put("power", question.power);
        }
    }
    if let Some(area) = question.patch_area {
        put("patch_area_m2", area.square_metres());
    }
    inputs
}

/// Numbers of sites to try: around the formula's, the rule's, and the one asked about.
fn numbers(found: &Answer, request: &EffortRequest, most: usize) -> Vec<usize> {
    let formula = found.formula.sites as f64;
    let mut numbers: Vec<usize> = [0.25, 0.5, 0.75, 1.0, 1.5, 2.0]
        .iter()
        .map(|times| (times * formula).round() as usize)
        .chain([found.rule_of_thumb.sites])
        .chain(request.sites)
        .map(|sites| sites.clamp(2, most.min(2_000)))
        .collect();
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}

fn aim(request: &EffortRequest, question: &Question) -> Aim {
    match request.purpose {
        Purpose::Richness => Aim::Richness { share: ENOUGH_SPECIES },
        Purpose::Detect | Purpose::Delineate => match question.patch_area {
            Some(area) => Aim::Bed { area, detection: question.detection },
            None => Aim::Find { species: 0 },
        },
        Purpose::Estimate => Aim::Estimate { species: 0, margin: question.margin },
        Purpose::Change | Purpose::Treatment => Aim::Change {
            species: 0,
            ratio: question.to / question.from,
            same_sites: false,
            confidence: question.confidence,
        },
    }
}

/// The last survey with named plants, or the one asked for.
fn pattern_record(book: &LakeBook, name: Option<&str>) -> Result<Option<SurveyRecord>> {
    if let Some(name) = name {
        return record_of(book, name).map(Some);
    }
    let mut surveys = book.surveys()?;
    surveys.sort_by_key(|survey| survey.start);
    for survey in surveys.iter().rev() {
        let record = book.record(survey.id)?;
        let named = record.visits.iter().any(|visit| {
            record.taxa.iter().any(|taxon| record.largest_on_rake(visit, taxon.id).is_some())
        });
        if named {
            return Ok(Some(record));
        }
    }
    Ok(None)
}

/// The lake the virtual surveys go to: the last survey's own pattern for its species, else one species
/// spread evenly.
fn virtual_lake(
    book: &LakeBook,
    ground: &Ground,
    frame: &sampling::Frame<'_>,
    request: &EffortRequest,
    question: &Question,
) -> Result<(VirtualLake, String)> {
    let mut lake = VirtualLake::new(frame, PLACES).map_err(|error| with_hint(&error))?;
    let wrong = |error: sampling::effort::EffortError| with_hint(&error);
    match request.purpose {
        Purpose::Richness => {
            if let Some(record) = pattern_record(book, request.survey.as_deref())? {
                let name = record.survey.name.clone();
                let mut count = 0;
                for taxon in record.taxa.iter().filter(|taxon| taxon.is_plant()) {
                    let sites = pattern_sites(ground, &record, taxon.id)?;
                    if sites.iter().any(|(_, _, found)| *found) {
                        let pattern = Pattern {
                            name: taxon.code.to_string(),
                            sites,
                            throws: u32::from(record.survey.throws_per_site),
                            detection: question.detection,
                        };
                        lake = lake.with_pattern(&pattern).map_err(wrong)?;
                        count += 1;
                    }
                }
                if count > 0 {
                    return Ok((lake, format!("{count} species where {name} found them")));
                }
            }
            for number in 0..question.species {
                lake = lake
                    .with_even(&format!("S{number}"), question.occupancy, question.detection)
                    .map_err(wrong)?;
            }
            let words = format!(
                "{} species, each at {} of places at random",
                question.species,
                units::decimals(question.occupancy, 2)
            );
            Ok((lake, words))
        }
        purpose => {
            let share = match purpose {
                Purpose::Change | Purpose::Treatment => question.from,
                _ => question.occupancy,
            };
            let words = match question.patch_area {
                Some(_) if purpose != Purpose::Estimate => {
                    "one round bed, anywhere in this water".to_owned()
                }
                _ => format!("one species at {} of places at random", units::decimals(share, 2)),
            };
            Ok((lake.with_even("species", share, question.detection).map_err(wrong)?, words))
        }
    }
}

fn pattern_sites(
    ground: &Ground,
    record: &SurveyRecord,
    taxon: TaxonId,
) -> Result<Vec<(f64, f64, bool)>> {
    let visits = record.visits_by_site();
    let mut sites = Vec::new();
    for site in &record.sites {
        let Some(visit) = visits.get(&site.id) else { continue };
        if !matches!(visit.result, SiteResult::Sampled(_)) {
            continue;
        }
        let Some(place) = visit.actual.map(|fix| fix.position).or(site.planned) else { continue };
        let at = ground.project(place)?;
        sites.push((at.x, at.y, record.largest_on_rake(visit, taxon).is_some()));
    }
    Ok(sites)
}

fn simulation_view(simulated: &Simulated, plants: String) -> SimulationView {
    let efforts = &simulated.efforts;
    SimulationView {
        runs: simulated.simulation.runs,
        seed: simulated.simulation.seed,
        design: "spatially balanced".to_owned(),
        plants,
        sites: efforts.iter().map(|one| one.sites).collect(),
        chance: efforts.iter().map(|one| one.chance).collect(),
        hours: efforts.iter().map(|one| one.hours).collect(),
        low: efforts.iter().map(|one| one.estimate.map(|spread| spread.low)).collect(),
        high: efforts.iter().map(|one| one.estimate.map(|spread| spread.high)).collect(),
    }
}

/// Reads a purpose as typed.
///
/// # Errors
/// When it is none of the six.
pub fn purpose(text: &str) -> Result<Purpose> {
    text.parse().map_err(|error: sampling::effort::EffortError| with_hint(&error))
}

impl From<sampling::effort::EffortError> for Error {
    fn from(error: sampling::effort::EffortError) -> Self {
        with_hint(&error)
    }
}
