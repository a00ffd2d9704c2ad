//! Ways to lay the same number of sites, compared by virtual surveys of this lake.

use super::Watch;
use super::virtual_lake::{Plants, lake_of_one};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::plan::{
    LayoutChoice, PartChoice, PlanRequest, depths, good_way, launch, lay, littoral_frame,
    littoral_water, zone_areas,
};
use crate::views::{DesignView, DesignsView};
use geo::{Area, Euclidean, Length};
use lakebook::LakeBook;
use sampling::Frame;
use sampling::effort::simulate::{Aim, Design, Simulation, VirtualLake};
use sampling::effort::{chance_by_throws, simulate};
use units::{Metres, SquareMetres, decimals, percent_whole};

/// Ways to lay sites, to be compared.
#[derive(Debug, Clone)]
pub struct DesignsRequest {
    /// Number of sites each lays.
    pub sites: usize,
    /// Layouts, by the words of the list that can be compared.
    pub layouts: Vec<String>,
    /// Chance of one throw to bring the plant up where it grows.
    pub detection: f64,
    /// Throws a site.
    pub throws: u32,
    /// Area of the bed to be found.
    pub patch_area: SquareMetres,
    /// Species whose frequency is estimated.
    pub species: Option<String>,
    /// Survey whose pattern of plants is drawn from, and whose sites `again` visits.
    pub survey: Option<String>,
    /// Shallow limit of the water.
    pub min_depth: Option<Metres>,
    /// Deep limit.
    pub max_depth: Option<Metres>,
    /// Zones.
    pub zones: Vec<String>,
    /// Virtual surveys of each design.
    pub runs: usize,
    /// Draws them.
    pub seed: u64,
}

/// Layouts that can be compared, each with its words.
const LAYOUTS: [(&str, &str); 8] = [
    ("simple-random", "a random sample"),
    ("balanced", "a spatially balanced sample"),
    ("tessellation", "a sample balanced by random tessellation"),
    ("point-grid", "a square grid with random origin"),
    ("squares", "one site in the middle of each square"),
    ("shore-sections", "one site in each shore section"),
    ("sub-areas", "one site in each of equal sub-areas"),
    ("again", "the last survey's layout again"),
];

impl DesignsRequest {
    /// The usual comparison: at random, balanced, grid and squares; a bed of half an acre; a thousand virtual surveys.
    pub fn new(sites: usize) -> Self {
        Self {
            sites,
            layouts: ["simple-random", "balanced", "point-grid", "squares"]
                .map(str::to_owned)
                .to_vec(),
            detection: 0.63,
            throws: 2,
            patch_area: SquareMetres::from_acres(0.5),
            species: None,
            survey: None,
            min_depth: None,
            max_depth: None,
            zones: Vec::new(),
            runs: 1_000,
            seed: 1,
        }
    }
}

/// Places of the virtual lake.
const PLACES: usize = 4_000;
/// Grids of squares laid at different turns, so that one lucky grid does not stand for all.
const TURNS: u8 = 6;
/// More sites than the order of a boat is worked out for in a comparison.
const MOST_SITES: usize = 2_000;
/// What the estimate must come within to count; the comparison shows the error itself.
const MARGIN: f64 = 0.1;

/// Compares ways to lay the same number of sites on this lake: precision of a frequency, chance to find a bed,
/// spatial balance, hours.
///
/// # Errors
/// A layout nobody knows, no sites, more sites than the water holds, chances outside 0 to 1.
pub fn designs(
    book: &LakeBook,
    ground: &Ground,
    request: &DesignsRequest,
    watch: Watch<'_>,
) -> Result<DesignsView> {
    ground.need_outline()?;
    for layout in &request.layouts {
        if LAYOUTS.iter().all(|(known, _)| known != layout) {
            let known: Vec<&str> = LAYOUTS.iter().map(|(known, _)| *known).collect();
            return Err(Error::input(format!("the layout `{layout}` cannot be compared"))
                .hint(format!("choose of {}", known.join(", "))));
        }
    }
    if !(2..=MOST_SITES).contains(&request.sites) {
        return Err(Error::input(format!("`{}` sites cannot be compared", request.sites))
            .hint(format!("ask for 2 to {MOST_SITES} sites")));
    }
    let plan = PlanRequest {
        min_depth: request.min_depth,
        max_depth: request.max_depth,
        zones: request.zones.clone(),
        ..PlanRequest::new("", LayoutChoice::SubAreas)
    };
    let depth = depths(ground);
    let frame = littoral_frame(book, ground, &depth, &plan)?;
    let plants = Plants::read(book, ground, request.survey.as_deref(), request.species.as_deref())?;
    let (lake, plant) = lake_of_one(ground, &frame, PLACES, &plants, request.detection)?;
    let water = Water { book, ground, frame: &frame, plan: &plan, plants: &plants };
    let mut found = Vec::new();
    let mut warnings = Vec::new();
    for layout in &request.layouts {
        match water.design(layout, request) {
            Ok(design) => found.push(compared(&water, &lake, design, layout, request, watch)?),
            Err(error) => warnings.push(format!("{layout} cannot be laid: {}", error.message)),
        }
    }
    Ok(DesignsView {
        sites: request.sites,
        throws: request.throws,
        runs: request.runs,
        seed: request.seed,
        plant,
        patch_area_m2: request.patch_area.square_metres(),
        sentence: sentence(ground, request, &found),
        designs: found,
        warnings,
    })
}

struct Water<'w> {
    book: &'w LakeBook,
    ground: &'w Ground,
    frame: &'w Frame<'w>,
    plan: &'w PlanRequest,
    plants: &'w Plants,
}

impl Water<'_> {
    fn design(&self, layout: &str, request: &DesignsRequest) -> Result<Design> {
        let sites = request.sites;
        Ok(match layout {
            "simple-random" => Design::SimpleRandom,
            "balanced" => Design::LocalPivotal,
            "tessellation" => Design::Tessellation,
            "point-grid" => Design::Grid,
            "squares" => {
                let side = self.side_for(sites)?;
                let layouts = (0..TURNS)
                    .map(|turn| {
                        self.laid(LayoutChoice::Squares {
                            side,
                            rotation: f64::from(turn) * 90.0 / f64::from(TURNS),
                            merge: Some(0.5),
                        })
                    })
                    .collect::<Result<Vec<_>>>()?;
                Design::Laid { key: layout.to_owned(), layouts }
            }
            "shore-sections" => {
                let outline = self.ground.need_outline()?.projected();
                let shore: f64 = outline
                    .iter()
                    .flat_map(|polygon| {
                        std::iter::once(polygon.exterior()).chain(polygon.interiors())
                    })
                    .map(|ring| Euclidean.length(ring))
                    .sum();
                let choice = LayoutChoice::ShoreSections {
                    length: Metres::new(shore / sites as f64),
                    offshore: None,
                    at_landmarks: false,
                };
                Design::Laid { key: layout.to_owned(), layouts: vec![self.laid(choice)?] }
            }
            "sub-areas" => {
                let choice = LayoutChoice::CutSubAreas { size: PartChoice::Number(sites) };
                Design::Laid { key: layout.to_owned(), layouts: vec![self.laid(choice)?] }
            }
            _ => {
                if self.plants.survey.is_empty() {
                    return Err(Error::input("there is no earlier survey with plants"));
                }
                let choice = LayoutChoice::Again(self.plants.survey.clone());
                Design::Laid { key: layout.to_owned(), layouts: vec![self.laid(choice)?] }
            }
        })
    }

    fn laid(&self, choice: LayoutChoice) -> Result<Vec<(f64, f64)>> {
        let request = PlanRequest { layout: choice, ..self.plan.clone() };
        let zones = zone_areas(self.ground)?;
        let layout = lay(self.book, self.ground, self.frame, &zones, &request)?;
        Ok(layout.sites.iter().map(|site| (site.x, site.y)).collect())
    }

    /// The side of squares that gives about so many parts, found by laying them; merging takes some away.
    fn side_for(&self, sites: usize) -> Result<Metres> {
        let water = littoral_water(self.ground, self.plan)?.unsigned_area();
        let whole = (water / sites as f64).sqrt();
        let (mut short, mut long) = (0.4 * whole, 1.6 * whole);
        let mut best = (usize::MAX, whole);
        for _ in 0..8 {
            let side = f64::midpoint(short, long);
            let choice = LayoutChoice::Squares {
                side: Metres::new(side),
                rotation: 45.0 / f64::from(TURNS),
                merge: Some(0.5),
            };
            let n = self.laid(choice)?.len();
            if n.abs_diff(sites) < best.0 {
                best = (n.abs_diff(sites), side);
            }
            match n.cmp(&sites) {
                std::cmp::Ordering::Equal => break,
                std::cmp::Ordering::Less => long = side,
                std::cmp::Ordering::Greater => short = side,
            }
        }
        Ok(Metres::new(best.1))
    }
}

fn compared(
    water: &Water<'_>,
    lake: &VirtualLake,
    design: Design,
    layout: &str,
    request: &DesignsRequest,
    watch: Watch<'_>,
) -> Result<DesignView> {
    let simulation = Simulation {
        throws: request.throws,
        runs: request.runs,
        threads: 2,
        layouts: (request.runs / 20).clamp(8, 100),
        design,
        ..Simulation::new(
            Aim::Estimate { species: 0, margin: MARGIN },
            vec![request.sites],
            request.seed,
        )
    };
    let places = lake.layout_places(&simulation, request.seed);
    let estimated = simulate(lake, &simulation, watch)?;
    let bed = Aim::Bed { area: request.patch_area, detection: request.detection };
    let searched = simulate(lake, &Simulation { aim: bed, ..simulation }, watch)?;
    let (estimated, searched) = (&estimated.efforts[0], &searched.efforts[0]);
    let spread = estimated.estimate;
    let hours =
        good_way(launch(water.book, water.ground)?, &places, request.throws, water.frame.area())?;
    Ok(DesignView {
        layout: layout.to_owned(),
        words: LAYOUTS
            .iter()
            .find(|(known, _)| *known == layout)
            .map(|(_, words)| (*words).to_owned())
            .unwrap_or_default(),
        sites: estimated.mean_sites,
        error: spread.map_or(f64::NAN, |spread| spread.error),
        margin: spread.map_or(f64::NAN, |spread| {
            let expected =
                spread.truth * chance_by_throws(request.detection, request.throws).unwrap_or(1.0);
            (spread.high - expected).max(expected - spread.low)
        }),
        chance: searched.chance,
        chance_error: searched.chance_error,
        balance: estimated.balance,
        hours,
    })
}

fn sentence(ground: &Ground, request: &DesignsRequest, designs: &[DesignView]) -> String {
    let least =
        |value: fn(&DesignView) -> f64| designs.iter().min_by(|a, b| value(a).total_cmp(&value(b)));
    let (Some(sharpest), Some(surest)) = (least(|one| one.error), least(|one| -one.chance)) else {
        return String::new();
    };
    format!(
        "{} sites, {} throws each: {} gives the frequency best, within {} points on average; {} is the surest to find a \
         bed of {}, {} % of the time.",
        request.sites,
        request.throws,
        sharpest.words,
        decimals(100.0 * sharpest.error, 1),
        surest.words,
        ground.lake.units.area(request.patch_area),
        percent_whole(surest.chance)
    )
}
