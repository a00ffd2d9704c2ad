//! Laying the sites of a survey.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::lake::project;
use crate::place;
use crate::views::{PlanView, PlannedSiteView};
use geo_types::{Geometry, coord};
use lakebed::coord_of;
use lakebook::LakeBook;
use sampling::layouts::{
    GivenPoint, GridSize, Layout, Origin, PointGrid, Rotation, given, point_grid, sub_areas_given,
};
use sampling::{DepthAt, Frame, KeepAway, ZoneArea};
use std::path::PathBuf;
use survey::{Code, LandmarkKind, LayoutNote, Method, Purpose, Site, SiteId, Survey, SurveyId};
use units::Metres;

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

/// Sites stay this far from a hazard (common practice: a boat's length and a rake's throw).
const KEEP_AWAY: Metres = Metres::new(15.0);

/// Lays the sites and stores them with everything that lays them again.
///
/// # Errors
/// When the layout cannot be, or the survey has sites already.
pub fn plan(book: &mut LakeBook, request: &PlanRequest) -> Result<PlanView> {
    let ground = Ground::of(book)?;
    let outline = ground.need_outline()?;
    let mut survey = survey_for(book, request)?;
    let (earlier, visited) = match book.surveys()?.iter().any(|one| one.id == survey.id) {
        true => {
            let record = book.record(survey.id)?;
            (record.sites, !record.visits.is_empty())
        }
        false => (Vec::new(), false),
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
    let zones: Vec<ZoneArea> = ground
        .zones
        .iter()
        .map(|zone| {
            Ok(ZoneArea { code: zone.code.clone(), polygon: project(&ground, &zone.area)? })
        })
        .collect::<Result<_>>()?;
    let depth = |x: f64, y: f64| {
        ground.model.as_ref().and_then(|model| model.depth_at(coord! {x: x, y: y}))
    };
    let frame = frame(book, &ground, outline, &zones, &depth, request)?;
    let layout = lay(book, &ground, &frame, request)?;
    survey.method = match request.layout {
        LayoutChoice::SubAreas => Method::SubAreas,
        LayoutChoice::PointGrid { .. } | LayoutChoice::Given(_) => Method::PointIntercept,
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
    Ok(view(&survey, &layout, &sites))
}

/// The survey of that name, or a new one.
fn survey_for(book: &LakeBook, request: &PlanRequest) -> Result<Survey> {
    let known = book
        .surveys()?
        .into_iter()
        .find(|one| one.name.eq_ignore_ascii_case(request.survey.trim()));
    let mut survey = match known {
        Some(survey) => survey,
        None => {
            let scale = request.scale.as_deref().unwrap_or("handful");
            let id = SurveyId(book.new_id());
            Survey::new(id, &request.survey, scale)
                .map_err(|error| Error::input(error.to_string()))?
        }
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

fn frame<'a>(
    book: &LakeBook,
    ground: &Ground,
    outline: &lakebed::Outline,
    zones: &[ZoneArea],
    depth: &'a dyn DepthAt,
    request: &PlanRequest,
) -> Result<Frame<'a>> {
    let wrong = |error: sampling::FrameError| Error::input(error.to_string());
    let mut frame = Frame::new(outline.projected().clone())
        .and_then(|frame| frame.with_zones(zones))
        .map_err(wrong)?;
    if !request.zones.is_empty() {
        let codes = request
            .zones
            .iter()
            .map(|code| Code::new(code).map_err(|error| Error::input(error.to_string())))
            .collect::<Result<Vec<_>>>()?;
        frame = frame.within_zones(&codes).map_err(wrong)?;
    }
    if ground.model.is_some() {
        frame = frame.with_depth(depth);
    }
    frame = frame.between_depths(request.min_depth, request.max_depth).map_err(wrong)?;
    let mut hazards = Vec::new();
    for landmark in book.landmarks()?.iter().filter(|one| one.kind == LandmarkKind::Hazard) {
        let at = ground.project(landmark.position)?;
        hazards.push(KeepAway { x: at.x, y: at.y, distance: KEEP_AWAY });
    }
    Ok(frame.away_from(&hazards))
}

fn lay(
    book: &LakeBook,
    ground: &Ground,
    frame: &Frame<'_>,
    request: &PlanRequest,
) -> Result<Layout> {
    let layout = match &request.layout {
        LayoutChoice::PointGrid { size, rotation } => {
            let size = match size {
                GridChoice::Spacing(spacing) => GridSize::Spacing(*spacing),
                GridChoice::Sites(number) => GridSize::Number(*number),
            };
            let grid =
                PointGrid { size, rotation: Rotation::Degrees(*rotation), origin: Origin::Middle };
            point_grid(frame, &grid)
        }
        LayoutChoice::SubAreas => {
            let parts = book.sub_areas()?;
            if parts.is_empty() {
                return Err(Error::input(format!("`{}` has no sub-areas yet", ground.lake.name))
                    .hint("add them with `quillwort add BOOK sub-areas FILE`"));
            }
            let areas: Vec<ZoneArea> = parts
                .iter()
                .map(|part| {
                    Ok(ZoneArea { code: part.code.clone(), polygon: project(ground, &part.area)? })
                })
                .collect::<Result<_>>()?;
            sub_areas_given(frame, &areas)
        }
        LayoutChoice::Given(path) => {
            given(frame, &given_points(ground, path, request.crs.as_deref())?)
        }
    };
    layout.map_err(|error| Error::input(error.to_string()))
}

/// An agency's points with their numbers.
fn given_points(
    ground: &Ground,
    path: &std::path::Path,
    crs: Option<&str>,
) -> Result<Vec<GivenPoint>> {
    let (layer, crs) = place::read_layer(path, None, crs)?;
    let around = place::surroundings(ground.outline.as_ref(), &ground.lake.region);
    let native: Vec<_> =
        layer.features.iter().flat_map(|feature| place::coordinates(&feature.geometry)).collect();
    place::refuse_strays(&layer.file, &native, &crs, around.as_ref())?;
    let usual = [
        "site",
        "sampling_point",
        "sampling point",
        "point",
        "point_id",
        "point id",
        "code",
        "id",
        "name",
        "pt_",
        "pt_num",
        "pt_no",
        "site_id",
        "number",
        "label",
    ];
    let mut points = Vec::new();
    let mut faults = Vec::new();
    for feature in &layer.features {
        let shape = place::to_lon_lat(&layer.file, &feature.geometry, &crs)?;
        let Geometry::Point(point) = shape else {
            faults.push(format!("`{}` row {} is no point", layer.file, feature.row));
            continue;
        };
        let label = usual
            .iter()
            .filter_map(|name| feature.attribute(name))
            .map(ToString::to_string)
            .find(|text| !text.trim().is_empty());
        let Some(code) = label.as_deref().and_then(|text| Code::new(text).ok()) else {
            faults.push(format!(
                "`{}` row {} has no site number, expected a column `site`",
                layer.file, feature.row
            ));
            continue;
        };
        let lon_lat = units::LonLat::new(point.x(), point.y()).map_err(|error| {
            Error::input(format!("`{}` row {}: {error}", layer.file, feature.row))
        })?;
        let at = ground.project(lon_lat)?;
        points.push(GivenPoint { code, x: at.x, y: at.y });
    }
    if faults.is_empty() {
        Ok(points)
    } else {
        faults.truncate(20);
        Err(Error::input(faults.join("\n"))
            .hint("an agency's numbers are kept, so each point needs one"))
    }
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

fn view(survey: &Survey, layout: &Layout, sites: &[Site]) -> PlanView {
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
        warnings: layout.warnings.iter().map(ToString::to_string).collect(),
    }
}
