use super::given::given_points;
use super::{GridChoice, LayoutChoice, PartChoice, PlanRequest, StrataChoice};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::lake::project;
use crate::surveys::record_of;
use geo::{Area, BooleanOps};
use geo_types::MultiPolygon;
use lakebed::deeper_than;
use lakebook::LakeBook;
use sampling::layouts::{
    Balanced, GivenPoint, GridSize, Layout, Origin, Panel, PartialSquares, PointGrid, Rotation,
    ShoreSections, Squares, Strata, SubAreaSize, balanced, given, given_again, panel, point_grid,
    shore_sections, squares, sub_areas_cut, sub_areas_given,
};
use sampling::{DepthAt, Frame, KeepAway, ZoneArea};
use survey::{Code, LandmarkKind};
use units::Metres;

/// Sites stay this far from a hazard (common practice: a boat's length and a rake's throw).
const KEEP_AWAY: Metres = Metres::new(15.0);
/// Crumbs of a zone's water smaller than this belong to nobody, square metres.
const CRUMB: f64 = 100.0;

/// Zones of the lake as the layouts want them.
pub(super) fn zone_areas(ground: &Ground) -> Result<Vec<ZoneArea>> {
    ground
        .zones
        .iter()
        .map(|zone| Ok(ZoneArea { code: zone.code.clone(), polygon: project(ground, &zone.area)? }))
        .collect()
}

/// Where sites may lie: the water, the depths and zones asked for, clear of hazards.
pub(super) fn frame<'a>(
    book: &LakeBook,
    ground: &Ground,
    zones: &[ZoneArea],
    depth: &'a dyn DepthAt,
    request: &PlanRequest,
) -> Result<Frame<'a>> {
    let outline = ground.need_outline()?;
    let mut frame = Frame::new(outline.projected().clone())?.with_zones(zones)?;
    if !request.zones.is_empty() {
        frame = frame.within_zones(&codes(&request.zones)?)?;
    }
    if ground.model.is_some() {
        frame = frame.with_depth(depth);
    }
    frame = frame.between_depths(request.min_depth, request.max_depth)?;
    let mut hazards = Vec::new();
    for landmark in book.landmarks()?.iter().filter(|one| one.kind == LandmarkKind::Hazard) {
        let at = ground.project(landmark.position)?;
        hazards.push(KeepAway { x: at.x, y: at.y, distance: KEEP_AWAY });
    }
    Ok(frame.away_from(&hazards))
}

fn codes(texts: &[String]) -> Result<Vec<Code>> {
    texts
        .iter()
        .map(|code| Code::new(code).map_err(|error| Error::input(error.to_string())))
        .collect()
}

/// The water between the depths asked for, else the lake's littoral limits; all of it without depths.
pub(super) fn littoral_water(ground: &Ground, request: &PlanRequest) -> Result<MultiPolygon<f64>> {
    let outline = ground.need_outline()?;
    let Some(model) = &ground.model else { return Ok(outline.projected().clone()) };
    let usual = ground.littoral();
    let (least, most) = (
        request.min_depth.unwrap_or(usual.min_depth),
        request.max_depth.unwrap_or(usual.max_depth),
    );
    let shallow = outline.projected().difference(&deeper_than(model, most));
    let water = if least > Metres::new(0.0) {
        shallow.intersection(&deeper_than(model, least))
    } else {
        shallow
    };
    if water.unsigned_area() <= 0.0 {
        return Err(Error::input("no water lies between these depths")
            .hint("widen `--min-depth` and `--max-depth`"));
    }
    Ok(water)
}

/// The littoral water of each zone asked for; the whole of it as zone `L` in a lake without zones.
pub(super) fn littoral_by_zone(
    ground: &Ground,
    zones: &[ZoneArea],
    request: &PlanRequest,
) -> Result<Vec<ZoneArea>> {
    let water = littoral_water(ground, request)?;
    if zones.is_empty() {
        let code = Code::new("L").map_err(|error| Error::fault(error.to_string()))?;
        return Ok(vec![ZoneArea { code, polygon: water }]);
    }
    let wanted = codes(&request.zones)?;
    if let Some(unknown) = wanted.iter().find(|code| zones.iter().all(|zone| zone.code != **code)) {
        let known: Vec<&str> = zones.iter().map(|zone| zone.code.as_str()).collect();
        return Err(Error::input(format!("there is no zone `{unknown}`"))
            .hint(format!("choose of {}", known.join(", "))));
    }
    Ok(zones
        .iter()
        .filter(|zone| wanted.is_empty() || wanted.contains(&zone.code))
        .map(|zone| {
            let mut polygon = water.intersection(&zone.polygon);
            polygon.0.retain(|piece| piece.unsigned_area() > CRUMB);
            ZoneArea { code: zone.code.clone(), polygon }
        })
        .filter(|zone| zone.polygon.unsigned_area() > CRUMB)
        .collect())
}

/// The frame of a question about effort: the lake's littoral limits where none are asked for.
pub(crate) fn littoral_frame<'a>(
    book: &LakeBook,
    ground: &Ground,
    depth: &'a dyn DepthAt,
    request: &PlanRequest,
) -> Result<Frame<'a>> {
    let mut request = request.clone();
    if ground.model.is_some() {
        let usual = ground.littoral();
        request.min_depth = request.min_depth.or(Some(usual.min_depth));
        request.max_depth = request.max_depth.or(Some(usual.max_depth));
    }
    frame(book, ground, &zone_areas(ground)?, depth, &request)
}

/// Lays the sites.
pub(super) fn lay(
    book: &LakeBook,
    ground: &Ground,
    frame: &Frame<'_>,
    zones: &[ZoneArea],
    request: &PlanRequest,
) -> Result<Layout> {
    Ok(match &request.layout {
        LayoutChoice::PointGrid { size, rotation } => {
            let size = match size {
                GridChoice::Spacing(spacing) => GridSize::Spacing(*spacing),
                GridChoice::Sites(number) => GridSize::Number(*number),
            };
            let grid =
                PointGrid { size, rotation: Rotation::Degrees(*rotation), origin: Origin::Middle };
            point_grid(frame, &grid)?
        }
        LayoutChoice::SubAreas => {
            let parts = book.sub_areas()?;
            if parts.is_empty() {
                return Err(Error::input(format!("`{}` has no sub-areas yet", ground.lake.name)).hint(
                    "add them with `quillwort add BOOK sub-areas FILE`, or have the zones cut with `--area 1ac` or `--sites N`",
                ));
            }
            let areas: Vec<ZoneArea> = parts
                .iter()
                .map(|part| {
                    Ok(ZoneArea { code: part.code.clone(), polygon: project(ground, &part.area)? })
                })
                .collect::<Result<_>>()?;
            sub_areas_given(frame, &areas)?
        }
        LayoutChoice::CutSubAreas { size } => {
            let size = match size {
                PartChoice::Number(number) => SubAreaSize::NumberInAll(*number),
                PartChoice::Area(area) => SubAreaSize::Area(*area),
            };
            sub_areas_cut(frame, &littoral_by_zone(ground, zones, request)?, size)?
        }
        LayoutChoice::ShoreSections { length, offshore, at_landmarks } => {
            let mut corners = Vec::new();
            if *at_landmarks {
                for landmark in
                    book.landmarks()?.iter().filter(|one| one.kind == LandmarkKind::Landmark)
                {
                    let at = ground.project(landmark.position)?;
                    corners.push((at.x, at.y));
                }
            }
            let plan =
                ShoreSections { length: *length, islands: true, corners, offshore: *offshore };
            let water = littoral_water(ground, request)?;
            shore_sections(frame, Some(&water), &plan)?
        }
        LayoutChoice::Squares { side, rotation, merge } => {
            let partial = merge.map_or(PartialSquares::Keep, PartialSquares::Merge);
            let plan = Squares { side: *side, rotation: *rotation, origin: None, partial };
            squares(frame, &littoral_water(ground, request)?, &plan)?
        }
        LayoutChoice::Balanced { sites, spares, strata, seed } => {
            let plan = Balanced {
                spares: *spares,
                strata: strata_of(strata),
                ..Balanced::new(*sites, *seed)
            };
            balanced(frame, &plan)?
        }
        LayoutChoice::Panel { every_year, in_turn, years, seed } => {
            let plan = Panel {
                every_year: *every_year,
                in_turn: *in_turn,
                years: *years,
                plan: Balanced::new(*every_year + *in_turn, *seed),
            };
            panel(frame, &plan)?
        }
        LayoutChoice::Given(path) => {
            given(frame, &given_points(ground, path, request.crs.as_deref())?)?
        }
        LayoutChoice::Again(earlier) => {
            let record = record_of(book, earlier)?;
            let mut sites: Vec<_> = record.sites.iter().filter(|site| !site.spare).collect();
            sites.sort_by_key(|site| site.rank);
            let mut points = Vec::new();
            for site in sites {
                let Some(place) = site.planned else { continue };
                let at = ground.project(place)?;
                points.push(GivenPoint { code: site.code.clone(), x: at.x, y: at.y });
            }
            given_again(frame, &record.survey.name, &points)?
        }
    })
}

fn strata_of(choice: &StrataChoice) -> Strata {
    match choice {
        StrataChoice::None => Strata::None,
        StrataChoice::Zones => Strata::Zones,
        StrataChoice::Depths(limits) => Strata::Depths(limits.clone()),
    }
}
