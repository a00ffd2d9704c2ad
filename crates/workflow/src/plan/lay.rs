use super::given::given_points;
use super::{GridChoice, GridTurn, LayoutChoice, PartChoice, PlanRequest, StrataChoice};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::lake::project;
use crate::surveys::record_of;
use geo::{Area, BooleanOps};
use geo_types::MultiPolygon;
use lakebed::deeper_than;
use lakebook::LakeBook;
use sampling::layouts::{
    Allocation, Balanced, BalancedMethod, GivenPoint, GridSize, Layout, Origin, Panel,
    PartialSquares, PointGrid, Rotation, ShoreSections, Squares, Strata, SubAreaSize, Weights,
    balanced, given, given_again, panel, point_grid, point_grid_denser, shore_sections, squares,
    sub_areas_cut, sub_areas_given,
};
use sampling::{DepthAt, Frame, KeepAway, ZoneArea};
use survey::{Code, LandmarkKind};
use units::Metres;

/// Sites stay this far from a hazard (common practice: a boat's length and a rake's throw).
const KEEP_AWAY: Metres = Metres::new(15.0);
/// Crumbs of a zone's water smaller than this belong to nobody, square metres.
const CRUMB: f64 = 100.0;

/// Zones of the lake as the layouts want them.
pub(crate) fn zone_areas(ground: &Ground) -> Result<Vec<ZoneArea>> {
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
    let distance = request.keep_away.unwrap_or(KEEP_AWAY);
    if !(distance.metres() >= 0.0 && distance.metres().is_finite()) {
        return Err(Error::input(format!("a distance of `{}` m from hazards", distance.metres()))
            .hint("give it with its unit, such as `50ft`; 0 keeps no distance"));
    }
    let mut hazards = Vec::new();
    for landmark in book.landmarks()?.iter().filter(|one| one.kind == LandmarkKind::Hazard) {
        let at = ground.project(landmark.position)?;
        hazards.push(KeepAway { x: at.x, y: at.y, distance });
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
pub(crate) fn littoral_water(ground: &Ground, request: &PlanRequest) -> Result<MultiPolygon<f64>> {
    let outline = ground.need_outline()?;
    let Some(model) = &ground.model else {
        return within_zones(ground, outline.projected(), &request.zones);
    };
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
    let water = within_zones(ground, &water, &request.zones)?;
    if water.unsigned_area() <= 0.0 {
        return Err(Error::input("no water lies between these depths")
            .hint("widen `--min-depth` and `--max-depth`"));
    }
    Ok(water)
}

/// The part of some water that lies in the zones asked for; all of it when none is.
fn within_zones(
    ground: &Ground,
    water: &MultiPolygon<f64>,
    zones: &[String],
) -> Result<MultiPolygon<f64>> {
    if zones.is_empty() {
        return Ok(water.clone());
    }
    let wanted = codes(zones)?;
    let mut chosen = MultiPolygon::new(Vec::new());
    for zone in zone_areas(ground)?.iter().filter(|zone| wanted.contains(&zone.code)) {
        chosen = chosen.union(&zone.polygon);
    }
    let mut within = water.intersection(&chosen);
    within.0.retain(|piece| piece.unsigned_area() > CRUMB);
    Ok(within)
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
#[expect(clippy::too_many_lines, reason = "one arm a layout")]
pub(crate) fn lay(
    book: &LakeBook,
    ground: &Ground,
    frame: &Frame<'_>,
    zones: &[ZoneArea],
    request: &PlanRequest,
) -> Result<Layout> {
    let closer = closer(book, ground, request)?;
    let denser_fits = matches!(
        request.layout,
        LayoutChoice::PointGrid { .. } | LayoutChoice::Balanced { .. } | LayoutChoice::Panel { .. }
    );
    if !closer.is_empty() && !denser_fits {
        return Err(Error::input("only a point grid or a balanced sample can be denser in places")
            .hint(
                "choose one of these layouts, or lay the treatment areas as a survey of their own",
            ));
    }
    Ok(match &request.layout {
        LayoutChoice::PointGrid { size, rotation, seed } => {
            let size = match size {
                GridChoice::Spacing(spacing) => GridSize::Spacing(*spacing),
                GridChoice::Sites(number) => GridSize::Number(*number),
            };
            let rotation = match rotation {
                GridTurn::Degrees(degrees) => Rotation::Degrees(*degrees),
                GridTurn::Best => Rotation::Optimised,
            };
            let origin = seed.map_or(Origin::Middle, |seed| Origin::Random { seed });
            let grid = PointGrid { size, rotation, origin };
            match grid_divisor(&closer)? {
                None => point_grid(frame, &grid)?,
                Some(divisor) => {
                    let areas: Vec<ZoneArea> = closer.into_iter().map(|(area, _)| area).collect();
                    point_grid_denser(frame, &grid, &areas, divisor)?
                }
            }
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
            // without depths the sections own all the water, and the layout says what is lost
            let littoral = (ground.model.is_some() || !request.zones.is_empty()).then_some(&water);
            shore_sections(frame, littoral, &plan)?
        }
        LayoutChoice::Squares { side, rotation, merge } => {
            let partial = merge.map_or(PartialSquares::Keep, PartialSquares::Merge);
            let plan = Squares { side: *side, rotation: *rotation, origin: None, partial };
            squares(frame, &littoral_water(ground, request)?, &plan)?
        }
        LayoutChoice::Balanced { sites, spares, strata, equal_strata, tessellation, seed } => {
            let mut plan = Balanced {
                spares: *spares,
                strata: strata_of(strata),
                weights: weights(closer),
                ..Balanced::new(*sites, *seed)
            };
            if *equal_strata {
                plan.allocation = Allocation::Equal;
            }
            if *tessellation {
                plan.method = BalancedMethod::Tessellation;
            }
            balanced(frame, &plan)?
        }
        LayoutChoice::Panel { every_year, in_turn, years, seed } => {
            let plan = Panel {
                every_year: *every_year,
                in_turn: *in_turn,
                years: *years,
                plan: Balanced {
                    weights: weights(closer),
                    ..Balanced::new(*every_year + *in_turn, *seed)
                },
            };
            panel(frame, &plan)?
        }
        LayoutChoice::Given(path) => {
            given(frame, &given_points(ground, path, request.crs.as_deref())?)?
        }
        LayoutChoice::Points(points) => {
            let points: Vec<GivenPoint> = points
                .iter()
                .map(|(code, place)| {
                    let at = ground.project(*place)?;
                    Ok(GivenPoint { code: code.clone(), x: at.x, y: at.y })
                })
                .collect::<Result<_>>()?;
            given(frame, &points)?
        }
        LayoutChoice::Again(earlier) => {
            let record = record_of(book, earlier)?;
            let mut sites: Vec<_> = record.sites.iter().filter(|site| site.stands()).collect();
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

/// Near a launch, when nothing else is said (common practice: plants arrive with boats and trailers).
const NEAR_LAUNCH: Metres = Metres::new(100.0);

/// Where sites lie closer, and how many times.
fn closer(book: &LakeBook, ground: &Ground, request: &PlanRequest) -> Result<Vec<(ZoneArea, f64)>> {
    let mut closer = Vec::new();
    let denser = &request.denser;
    let none =
        |what: &str, hint: &str| Err(Error::input(format!("the book has no {what}")).hint(hint));
    if let Some(factor) = denser.in_treatments {
        for (number, treatment) in book.treatments()?.iter().enumerate() {
            let code = Code::new(&format!("T{}", number + 1))
                .map_err(|error| Error::fault(error.to_string()))?;
            closer.push((ZoneArea { code, polygon: project(ground, &treatment.area)? }, factor));
        }
        if closer.is_empty() {
            return none("treatment areas", "add them with `quillwort add BOOK treatments FILE`");
        }
    }
    if let Some(factor) = denser.near_launches {
        let distance = denser.within.unwrap_or(NEAR_LAUNCH).metres();
        if !(distance.is_finite() && distance > 0.0) {
            return Err(Error::input(format!("within `{distance}` m of a launch"))
                .hint("give a distance above 0 with its unit, such as `300ft`"));
        }
        let before = closer.len();
        for landmark in book.landmarks()?.iter().filter(|one| one.kind == LandmarkKind::Launch) {
            let at = ground.project(landmark.position)?;
            let code = Code::new(&format!("L{}", closer.len() - before + 1))
                .map_err(|error| Error::fault(error.to_string()))?;
            closer.push((ZoneArea { code, polygon: circle((at.x, at.y), distance) }, factor));
        }
        if closer.len() == before {
            return none("launches", "add them with `quillwort add BOOK landmarks FILE`");
        }
    }
    Ok(closer)
}

/// A circle as a polygon of 64 corners on it.
fn circle((x, y): (f64, f64), radius: f64) -> MultiPolygon<f64> {
    let ring: Vec<(f64, f64)> = (0..64)
        .map(|k| {
            let (sin, cos) = (f64::from(k) / 64.0 * std::f64::consts::TAU).sin_cos();
            (x + radius * cos, y + radius * sin)
        })
        .collect();
    geo_types::Polygon::new(ring.into(), Vec::new()).into()
}

/// How many times a grid's spacing is divided where it is denser: the root of how many times as many.
fn grid_divisor(closer: &[(ZoneArea, f64)]) -> Result<Option<u32>> {
    let Some(most) = closer.iter().map(|(_, factor)| *factor).reduce(f64::max) else {
        return Ok(None);
    };
    let divisor = most.sqrt().round();
    let alike = closer.iter().all(|(_, factor)| (factor - divisor * divisor).abs() < 1e-9);
    if alike && (2.0..=20.0).contains(&divisor) {
        return Ok(Some(divisor as u32));
    }
    Err(Error::input(format!("a grid cannot be `{most}` times as dense in some places"))
        .hint("4, 9 or 16 times halve the spacing, or divide it by three or four, the same everywhere; a balanced sample takes any number"))
}

fn weights(closer: Vec<(ZoneArea, f64)>) -> Weights {
    if closer.is_empty() { Weights::Equal } else { Weights::Areas(closer) }
}

fn strata_of(choice: &StrataChoice) -> Strata {
    match choice {
        StrataChoice::None => Strata::None,
        StrataChoice::Zones => Strata::Zones,
        StrataChoice::Depths(limits) => Strata::Depths(limits.clone()),
    }
}
