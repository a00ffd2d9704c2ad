//! Laying the sites of a survey.

mod given;
mod lay;

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{PlanPartView, PlanView, PlannedSiteView};
use geo_types::coord;
use lakebed::coord_of;
use lakebook::LakeBook;
pub(crate) use lay::littoral_frame;
use lay::{frame, lay, zone_areas};
use sampling::balance::layout_balance;
use sampling::layouts::Layout;
use std::path::PathBuf;
use survey::{LandmarkKind, LayoutNote, Method, Purpose, Site, SiteId, Survey, SurveyId};
use units::{Metres, SquareMetres};

/// How to lay the sites.
#[derive(Debug, Clone, PartialEq)]
pub enum LayoutChoice {
    /// A square grid of points.
    PointGrid {
        /// Distance between points, or how many.
        size: GridChoice,
        /// Clockwise turn in degrees.
        rotation: f64,
    },
    /// One site in each sub-area of the book.
    SubAreas,
    /// Zones cut into parts, a site in each.
    CutSubAreas {
        /// How many parts, or how large.
        size: PartChoice,
    },
    /// Sections of shore, each with the littoral water nearest to it.
    ShoreSections {
        /// Length of a section.
        length: Metres,
        /// Cut the water beyond into parts of this area.
        offshore: Option<SquareMetres>,
        /// Corners fall on landmarks.
        at_landmarks: bool,
    },
    /// Squares of a grid.
    Squares {
        /// Side of a square.
        side: Metres,
        /// Clockwise turn in degrees.
        rotation: f64,
        /// Partial squares smaller than this share join a neighbour; kept when none.
        merge: Option<f64>,
    },
    /// A spatially balanced probability sample.
    Balanced {
        /// How many.
        sites: usize,
        /// Spares in order.
        spares: usize,
        /// Sampled each for itself.
        strata: StrataChoice,
        /// Draws the sample.
        seed: u64,
    },
    /// Some sites every year, some in turn.
    Panel {
        /// Visited every year.
        every_year: usize,
        /// Visited in a year, taking turns.
        in_turn: usize,
        /// Years until the turn is round.
        years: u16,
        /// Draws the sample.
        seed: u64,
    },
    /// The sites of an earlier survey again.
    Again(String),
    /// Points of a file, numbers kept.
    Given(PathBuf),
}

/// How close the points of a grid lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GridChoice {
    /// This far apart.
    Spacing(Metres),
    /// As near to this many as a spacing can give.
    Sites(usize),
}

/// How many parts, or how large.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PartChoice {
    /// Over all zones, shared out by area.
    Number(usize),
    /// Of about this area.
    Area(SquareMetres),
}

/// Parts of the lake sampled each for itself.
#[derive(Debug, Clone, PartialEq)]
pub enum StrataChoice {
    /// The whole frame at once.
    None,
    /// Each zone.
    Zones,
    /// Bands of depth with these limits.
    Depths(Vec<Metres>),
}

/// What the user asks of a plan.
#[derive(Debug, Clone)]
pub struct PlanRequest {
    /// Name of the survey; made when new.
    pub survey: String,
    /// How to lay the sites.
    pub layout: LayoutChoice,
    /// Shallowest water to lay sites in.
    pub min_depth: Option<Metres>,
    /// Deepest water to lay sites in.
    pub max_depth: Option<Metres>,
    /// Zones to lay sites in; all when empty.
    pub zones: Vec<String>,
    /// System of the file's coordinates.
    pub crs: Option<String>,
    /// Rating scale.
    pub scale: Option<String>,
    /// Rake throws a site.
    pub throws: Option<u8>,
    /// Why.
    pub purpose: Option<Purpose>,
    /// Lay the sites again, as long as none is visited.
    pub again: bool,
}

/// Candidate squares the balance of a layout is measured on.
const BALANCE_CELLS: usize = 20_000;

/// Lays the sites and stores them with everything that lays them again.
///
/// # Errors
/// When the layout cannot be, or the survey has sites already.
pub fn plan(book: &mut LakeBook, request: &PlanRequest) -> Result<PlanView> {
    let ground = Ground::of(book)?;
    ground.need_outline()?;
    let mut survey = survey_for(book, request)?;
    let (earlier, visited) = if book.surveys()?.iter().any(|one| one.id == survey.id) {
        let record = book.record(survey.id)?;
        (record.sites, !record.visits.is_empty())
    } else {
        (Vec::new(), false)
    };
    if !earlier.is_empty() && (visited || !request.again) {
        let error =
            Error::input(format!("survey `{}` has {} sites already", survey.name, earlier.len()));
        return Err(if visited {
            error.hint("its record has begun, so its sites stay; plan a survey of another name")
        } else {
            error.hint("lay them again with `--again`, or plan a survey of another name")
        });
    }
    let zones = zone_areas(&ground)?;
    let depth = |x: f64, y: f64| {
        ground.model.as_ref().and_then(|model| model.depth_at(coord! {x: x, y: y}))
    };
    let frame = frame(book, &ground, &zones, &depth, request)?;
    let layout = lay(book, &ground, &frame, &zones, request)?;
    let places: Vec<(f64, f64)> =
        layout.sites.iter().filter(|site| !site.spare).map(|site| (site.x, site.y)).collect();
    let balance = layout_balance(&frame, &places, BALANCE_CELLS);
    survey.method = match request.layout {
        LayoutChoice::SubAreas
        | LayoutChoice::CutSubAreas { .. }
        | LayoutChoice::Squares { .. } => Method::SubAreas,
        LayoutChoice::ShoreSections { .. } => Method::ShoreSections,
        _ => Method::PointIntercept,
    };
    if let Some(limit) = request.max_depth {
        survey.depth_cap = Some(limit);
    }
    survey.layout =
        LayoutNote { layout: layout.name.clone(), parameters: layout.parameters.clone() };
    let sites = sites(book, &ground, &survey, &layout)?;
    let note = format!("laid {} sites of {} ({})", sites.len(), survey.name, layout.name);
    book.transact(&note, |writer| {
        writer.put_survey(&survey)?;
        for site in &earlier {
            writer.delete_site(site.id)?;
        }
        sites.iter().try_for_each(|site| writer.put_site(site))
    })?;
    Ok(view(&survey, &layout, &sites, balance))
}

/// The survey of that name, or a new one.
fn survey_for(book: &LakeBook, request: &PlanRequest) -> Result<Survey> {
    let known = book
        .surveys()?
        .into_iter()
        .find(|one| one.name.eq_ignore_ascii_case(request.survey.trim()));
    let mut survey = if let Some(survey) = known {
        survey
    } else {
        let scale = request.scale.as_deref().unwrap_or("handful");
        let id = SurveyId(book.new_id());
        Survey::new(id, &request.survey, scale).map_err(|error| Error::input(error.to_string()))?
    };
    if let Some(scale) = &request.scale {
        survey.scale.clone_from(&crate::record::scale_of(book, scale)?.key);
    }
    if let Some(throws) = request.throws {
        if !(1..=9).contains(&throws) {
            return Err(
                Error::input(format!("`{throws}` throws a site")).hint("one to three are usual")
            );
        }
        survey.throws_per_site = throws;
    }
    if let Some(purpose) = request.purpose {
        survey.purpose = purpose;
    }
    Ok(survey)
}

fn sites(book: &LakeBook, ground: &Ground, survey: &Survey, layout: &Layout) -> Result<Vec<Site>> {
    let landmarks: Vec<_> = book
        .landmarks()?
        .into_iter()
        .filter(|one| one.kind == LandmarkKind::Landmark)
        .map(|one| Ok((ground.project(one.position)?, one.name)))
        .collect::<Result<_>>()?;
    layout
        .sites
        .iter()
        .enumerate()
        .map(|(rank, laid)| {
            let planned = ground.unproject(coord! {x: laid.x, y: laid.y})?;
            let near = landmarks
                .iter()
                .map(|(at, name)| ((at.x - laid.x).hypot(at.y - laid.y), name))
                .filter(|(away, _)| *away < 40.0)
                .min_by(|a, b| a.0.total_cmp(&b.0));
            Ok(Site {
                id: SiteId(book.new_id()),
                survey: survey.id,
                code: laid.code.clone(),
                planned: Some(planned),
                map_depth: laid.depth,
                zone: laid.zone.clone(),
                sub_area: laid.part.clone(),
                landmark: near.map(|(_, name)| name.clone()).unwrap_or_default(),
                rank: u32::try_from(rank).unwrap_or(u32::MAX),
                inclusion_probability: laid.inclusion_probability,
                spare: laid.spare,
            })
        })
        .collect()
}

fn view(survey: &Survey, layout: &Layout, sites: &[Site], balance: Option<f64>) -> PlanView {
    PlanView {
        survey: survey.name.clone(),
        layout: layout.name.clone(),
        parameters: layout.parameters.clone(),
        sites: sites
            .iter()
            .map(|site| PlannedSiteView {
                code: site.code.to_string(),
                lon: site.planned.map(|at| coord_of(at).x),
                lat: site.planned.map(|at| coord_of(at).y),
                zone: site.zone.as_ref().map(ToString::to_string),
                depth_m: site.map_depth.map(Metres::metres),
                inclusion_probability: site.inclusion_probability,
                spare: site.spare,
            })
            .collect(),
        parts: layout
            .parts
            .iter()
            .map(|part| PlanPartView {
                code: part.code.to_string(),
                area_m2: part.area.square_metres(),
            })
            .collect(),
        balance,
        warnings: layout.warnings.iter().map(ToString::to_string).collect(),
    }
}
