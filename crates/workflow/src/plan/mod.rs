//! Laying the sites of a survey.

mod ask;
mod choice;
mod given;
mod lay;
mod sites;
mod stored;
mod view;

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::PlanView;
pub use ask::{PlanAsk, PointAsk};
pub use choice::{
    Denser, GridChoice, GridTurn, LayoutChoice, PartChoice, PlanRequest, StrataChoice,
};
use geo_types::coord;
use lakebook::LakeBook;
pub(crate) use lay::{lay, littoral_frame, littoral_water, zone_areas};
use sampling::DepthAt;
use sampling::balance::layout_balance;
use sampling::layouts::Layout;
pub use sites::{SiteAsk, SiteChange, change_site};
pub use stored::planned;
use survey::{LandmarkKind, LayoutNote, Method, Site, SiteId, Survey, SurveyId};
use units::Metres;
use view::{Laid, laid_view};
pub(crate) use view::{good_way, launch};

/// Candidate squares the balance of a layout is measured on.
const BALANCE_CELLS: usize = 20_000;

/// Depths of the model as the frame wants them.
pub(crate) fn depths(ground: &Ground) -> impl DepthAt {
    |x: f64, y: f64| ground.model.as_ref().and_then(|model| model.depth_at(coord! {x: x, y: y}))
}

/// Lays the sites and keeps nothing: a look at the plan.
///
/// # Errors
/// When the layout cannot be.
pub fn preview(book: &LakeBook, ground: &Ground, request: &PlanRequest) -> Result<PlanView> {
    ground.need_outline()?;
    let survey = match request.survey.trim() {
        "" => {
            let unnamed = PlanRequest { survey: "unnamed".to_owned(), ..request.clone() };
            let survey = survey_for(book, &unnamed)?;
            Survey { name: String::new(), ..survey }
        }
        _ => survey_for(book, request)?,
    };
    let (laid, sites) = laid(book, ground, &survey, request)?;
    laid_view(book, ground, &survey, &laid, &sites, false)
}

/// Lays the sites and stores them with everything that lays them again.
///
/// # Errors
/// When the layout cannot be, or the survey has sites already.
pub fn plan(book: &mut LakeBook, request: &PlanRequest) -> Result<PlanView> {
    let ground = Ground::of(book)?;
    plan_on(book, &ground, request)
}

/// As [`plan`], on ground that is at hand.
///
/// # Errors
/// As [`plan`].
pub fn plan_on(book: &mut LakeBook, ground: &Ground, request: &PlanRequest) -> Result<PlanView> {
    ground.need_outline()?;
    if request.survey.trim().is_empty() {
        return Err(Error::input("the survey has no name")
            .hint("name it after the lake and the season, such as `Tamarin 2026 summer`"));
    }
    let mut survey = survey_for(book, request)?;
    let (earlier, visited) = if book.surveys()?.iter().any(|one| one.id == survey.id) {
        let record = book.record(survey.id)?;
        (record.sites, !record.visits.is_empty())
    } else {
        (Vec::new(), false)
    };
    if let Some(seal) = &survey.seal {
        return Err(Error::input(format!(
            "survey `{}` is sealed, by {} at {}",
            survey.name, seal.by, seal.at
        ))
        .hint("a sealed survey keeps its sites; plan a survey of another name"));
    }
    if !earlier.is_empty() && (visited || !request.again) {
        let error =
            Error::input(format!("survey `{}` has {} sites already", survey.name, earlier.len()));
        return Err(if visited {
            error.hint("its record has begun, so its sites stay; plan a survey of another name")
        } else {
            error.hint("lay them again with `--again`, or plan a survey of another name")
        });
    }
    let (laid, sites) = laid(book, ground, &survey, request)?;
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
        LayoutNote { layout: laid.layout.name.clone(), parameters: laid.layout.parameters.clone() };
    let note = format!("laid {} sites of {} ({})", sites.len(), survey.name, laid.layout.name);
    book.transact(&note, |writer| {
        writer.put_survey(&survey)?;
        for site in &earlier {
            writer.delete_site(site.id)?;
        }
        sites.iter().try_for_each(|site| writer.put_site(site))
    })?;
    laid_view(book, ground, &survey, &laid, &sites, true)
}

/// The layout and its sites.
fn laid(
    book: &LakeBook,
    ground: &Ground,
    survey: &Survey,
    request: &PlanRequest,
) -> Result<(Laid, Vec<Site>)> {
    let zones = zone_areas(ground)?;
    let depth = depths(ground);
    let frame = lay::frame(book, ground, &zones, &depth, request)?;
    let layout = lay(book, ground, &frame, &zones, request)?;
    let places: Vec<(f64, f64)> =
        layout.sites.iter().filter(|site| !site.spare).map(|site| (site.x, site.y)).collect();
    let balance = layout_balance(&frame, &places, BALANCE_CELLS);
    let sites = sites(book, ground, survey, &layout)?;
    Ok((Laid { layout, balance, area: frame.area() }, sites))
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
        let scale = crate::scales::usual(book)?.key;
        let id = SurveyId(book.new_id());
        Survey::new(id, &request.survey, &scale).map_err(|error| Error::input(error.to_string()))?
    };
    if !request.scale_reason.trim().is_empty() {
        request.scale_reason.trim().clone_into(&mut survey.scale_reason);
    }
    if let Some(scale) = &request.scale {
        let scale = crate::record::scale_of(book, scale)?;
        crate::scales::refuse_silent_change(book, &survey, &scale)?;
        survey.scale = scale.key;
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
    let landmarks = landmarks(book, ground)?;
    layout
        .sites
        .iter()
        .enumerate()
        .map(|(rank, laid)| {
            let planned = ground.unproject(coord! {x: laid.x, y: laid.y})?;
            Ok(Site {
                id: SiteId(book.new_id()),
                survey: survey.id,
                code: laid.code.clone(),
                planned: Some(planned),
                map_depth: laid.depth,
                zone: laid.zone.clone(),
                sub_area: laid.part.clone(),
                landmark: landmark_near(&landmarks, laid.x, laid.y),
                rank: u32::try_from(rank).unwrap_or(u32::MAX),
                inclusion_probability: laid.inclusion_probability,
                spare: laid.spare,
                dropped: None,
            })
        })
        .collect()
}

/// Landmarks with their places in metres.
fn landmarks(book: &LakeBook, ground: &Ground) -> Result<Vec<(f64, f64, String)>> {
    book.landmarks()?
        .into_iter()
        .filter(|one| one.kind == LandmarkKind::Landmark)
        .map(|one| {
            let at = ground.project(one.position)?;
            Ok((at.x, at.y, one.name))
        })
        .collect()
}

/// A landmark this near stands for the position (common practice).
const NEAR_LANDMARK: Metres = Metres::new(40.0);

/// Name of the landmark near a place; empty when there is none.
fn landmark_near(landmarks: &[(f64, f64, String)], x: f64, y: f64) -> String {
    landmarks
        .iter()
        .map(|(east, north, name)| ((east - x).hypot(north - y), name))
        .filter(|(away, _)| *away < NEAR_LANDMARK.metres())
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name.clone())
        .unwrap_or_default()
}
