//! How many sites, how many throws: by formula, by rule of thumb, by virtual surveys on this lake.

mod ask;
mod designs;
mod virtual_lake;

use crate::error::{Error, Result, with_hint};
use crate::ground::Ground;
use crate::plan::{LayoutChoice, PlanRequest, depths, littoral_frame};
use crate::views::{
    CurveView, EffortView, FormulaView, JudgedView, RuleOfThumbView, SimulationView,
};
pub use ask::{DesignsAsk, EffortAsk};
pub use designs::{DesignsRequest, designs};
use lakebook::LakeBook;
use sampling::effort::simulate::{Aim, Design, Simulated, Simulation};
use sampling::effort::{Answer, Question, answer, chance_of, hours_of, reached, simulate};
use std::collections::BTreeMap;
use units::{Metres, SquareMetres};
use virtual_lake::{Plants, virtual_lake};

pub use sampling::effort::Purpose;
pub use sampling::effort::simulate::Watch;

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
    /// Numbers of sites the virtual surveys try; those around the formula's when empty.
    pub numbers: Vec<usize>,
    /// Species whose pattern in the last survey the virtual surveys draw from, by code.
    pub species: Option<String>,
    /// Depth the species likes best, and the standard deviation of the depths it grows at.
    pub habitat: Option<(Metres, Metres)>,
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
            numbers: Vec::new(),
            species: None,
            habitat: None,
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
/// The same for a quick look, while somebody moves a slider.
const QUICK_PLACES: usize = 2_000;
/// Fewer virtual surveys than this are a quick look.
const QUICK: usize = 1_000;
/// More virtual surveys than anybody waits for.
const MOST_RUNS: usize = 1_000_000;
/// A bed to be measured, when nothing is said: an acre is the usual sub-area, and about the smallest bed anybody
/// treats (common practice).
const USUAL_BED: SquareMetres = SquareMetres::from_acres(1.0);
/// Numbers of sites of the curve.
const CURVE: usize = 48;
/// Share of the lake's species a survey should find to know its plants (common practice).
const ENOUGH_SPECIES: f64 = 0.9;

/// Answers how many sites a purpose needs on this lake.
///
/// # Errors
/// Impossible targets, chances outside 0 to 1, a lake without an outline.
pub fn effort(book: &LakeBook, request: &EffortRequest) -> Result<EffortView> {
    effort_on(book, &Ground::of(book)?, request, Watch::default())
}

/// As [`effort`], on ground that is at hand, telling how far it is and stopping when told to.
///
/// # Errors
/// As [`effort`], and when it was stopped.
pub fn effort_on(
    book: &LakeBook,
    ground: &Ground,
    request: &EffortRequest,
    watch: Watch<'_>,
) -> Result<EffortView> {
    ground.need_outline()?;
    if request.runs > MOST_RUNS {
        return Err(Error::input(format!("`{}` virtual surveys", request.runs))
            .hint(format!("ask for at most {MOST_RUNS}; 2000 are usual")));
    }
    let plants = Plants::of(book, ground, request)?;
    let plan = plan_request(request);
    let depth = depths(ground);
    let frame = littoral_frame(book, ground, &depth, &plan)?;
    let question = question(request, &plants, frame.area(), ground);
    let found = answer(&question)?;
    let hours = |sites: usize| hours_of(&question, sites);
    let mut warnings = Vec::new();
    if ground.model.is_none() {
        warnings.push(
            "the lake has no depths, so the whole of it counts; add depths to ask about the littoral zone alone"
                .to_owned(),
        );
    }
    let mut sentence = found.sentence.clone();
    let simulation = if request.runs == 0 {
        None
    } else {
        let places = if request.runs < QUICK { QUICK_PLACES } else { PLACES };
        let (lake, words) = virtual_lake(ground, &frame, places, request, &question, &plants)?;
        let simulation = Simulation {
            throws: question.throws,
            runs: request.runs,
            threads: 2,
            design: Design::LocalPivotal,
            layouts: (request.runs / 20).clamp(8, 100),
            ..Simulation::new(
                aim(request, &question),
                numbers(&found, request, lake.places().len()),
                request.seed,
            )
        };
        let simulated = simulate(&lake, &simulation, watch)?;
        let judged = request.sites.unwrap_or(found.formula.sites);
        if let Some(words) = simulated.sentence(judged, ground.lake.units) {
            sentence = format!("{sentence} {words}");
        }
        Some(simulation_view(&simulated, words, ground.lake.units))
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
            hours: hours(found.formula.sites)?,
        },
        rule_of_thumb: RuleOfThumbView {
            sites: found.rule_of_thumb.sites,
            rule: found.rule_of_thumb.rule.to_owned(),
            reaches: found.rule_reaches,
            hours: hours(found.rule_of_thumb.sites)?,
        },
        judged: request
            .sites
            .map(|sites| -> Result<JudgedView> {
                Ok(JudgedView {
                    sites,
                    reaches: reached(&question, sites)?,
                    chance: chance_of(&question, sites)?,
                    hours: hours(sites)?,
                })
            })
            .transpose()?,
        simulation,
        curve: curve(&found, request)?,
        sentence,
        warnings,
    })
}

/// What many numbers of sites reach, up to twice the largest that matters.
fn curve(found: &Answer, request: &EffortRequest) -> Result<CurveView> {
    let question = &found.question;
    let most = found
        .formula
        .sites
        .max(found.rule_of_thumb.sites)
        .max(request.sites.unwrap_or(0))
        .saturating_mul(2)
        .max(20);
    let mut sites: Vec<usize> = (1..=CURVE)
        .map(|step| (most as f64 * step as f64 / CURVE as f64).round().max(2.0) as usize)
        .chain([found.formula.sites, found.rule_of_thumb.sites])
        .chain(request.sites)
        .filter(|sites| *sites >= 2)
        .collect();
    sites.sort_unstable();
    sites.dedup();
    let mut curve = CurveView {
        chance: Vec::with_capacity(sites.len()),
        margin: Vec::new(),
        hours: Vec::with_capacity(sites.len()),
        sites: Vec::new(),
    };
    let has_margin = matches!(request.purpose, Purpose::Estimate | Purpose::Delineate);
    for &number in &sites {
        curve.chance.push(chance_of(question, number)?);
        curve.hours.push(hours_of(question, number)?);
        if has_margin {
            curve.margin.push(reached(question, number)?);
        }
    }
    curve.sites = sites;
    Ok(curve)
}

fn plan_request(request: &EffortRequest) -> PlanRequest {
    PlanRequest {
        min_depth: request.min_depth,
        max_depth: request.max_depth,
        zones: request.zones.clone(),
        ..PlanRequest::new("", LayoutChoice::SubAreas)
    }
}

fn question(
    request: &EffortRequest,
    plants: &Plants,
    area: SquareMetres,
    ground: &Ground,
) -> Question {
    let usual = Question::new(request.purpose, area);
    // a species of the last survey grows where it was found, and where the rake missed it
    let grows = plants.frequency(request.detection.unwrap_or(usual.detection));
    let from = request.from.or(grows).unwrap_or(usual.from);
    Question {
        occupancy: request.occupancy.or(grows).unwrap_or(usual.occupancy),
        detection: request.detection.unwrap_or(usual.detection),
        throws: request.throws.unwrap_or(usual.throws),
        confidence: request.confidence.unwrap_or(usual.confidence),
        margin: request.margin.unwrap_or(usual.margin),
        from,
        to: request.to.unwrap_or(if grows.is_some() {
            from * usual.to / usual.from
        } else {
            usual.to
        }),
        power: request.power.unwrap_or(usual.power),
        patch_area: request.patch_area.or(match request.purpose {
            Purpose::Delineate => Some(USUAL_BED),
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

/// Numbers of sites to try: those asked for, else around the formula's and the rule's; and the one asked about.
fn numbers(found: &Answer, request: &EffortRequest, most: usize) -> Vec<usize> {
    let formula = found.formula.sites as f64;
    let around = [0.25, 0.5, 0.75, 1.0, 1.5, 2.0].map(|times| (times * formula).round() as usize);
    let usual = around.into_iter().chain([found.rule_of_thumb.sites]);
    let mut numbers: Vec<usize> =
        if request.numbers.is_empty() { usual.collect() } else { request.numbers.clone() };
    numbers.push(found.formula.sites);
    let mut numbers: Vec<usize> = numbers
        .into_iter()
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
        Purpose::Delineate => Aim::Acreage {
            area: question.patch_area.unwrap_or(USUAL_BED),
            margin: question.margin,
            detection: question.detection,
        },
        Purpose::Detect => match question.patch_area {
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

fn simulation_view(
    simulated: &Simulated,
    plants: String,
    units: units::UnitSystem,
) -> SimulationView {
    let efforts = &simulated.efforts;
    SimulationView {
        runs: simulated.simulation.runs,
        seed: simulated.simulation.seed,
        design: match simulated.simulation.aim {
            Aim::Acreage { .. } => "a grid on and around the bed".to_owned(),
            _ => "spatially balanced".to_owned(),
        },
        plants,
        sites: efforts.iter().map(|one| one.sites).collect(),
        chance: efforts.iter().map(|one| one.chance).collect(),
        chance_error: efforts.iter().map(|one| one.chance_error).collect(),
        aim: simulated.aim_words(units),
        hours: efforts.iter().map(|one| one.hours).collect(),
        edge_m: efforts.iter().map(|one| one.edge.map(Metres::metres)).collect(),
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
