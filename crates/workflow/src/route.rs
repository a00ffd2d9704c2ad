//! The day on the water: which boat goes where, in which order, and when it is back.

use crate::error::{Error, Result, with_hint};
use crate::ground::Ground;
use crate::surveys::record_of;
use crate::views::{BoatView, DaylightView, RouteView};
use geo::BooleanOps;
use geo_types::{Coord, LineString};
use jiff::civil::{Date, Time};
use lakebook::{LakeBook, Ports};
use sampling::route::{
    Budget, Ending, KeepOut, KeepOutReason, RoutePlan, RouteRequest as Request, SiteMinutes,
    WaterDistance, plan_route,
};
use sampling::solar::{Daylight, daylight};
use survey::{Landmark, LandmarkKind, Site};
use units::{LonLat, Metres, MetresPerSecond};

/// What the user asks of a route.
#[derive(Debug, Clone)]
pub struct RouteRequest {
    /// Name of the survey.
    pub survey: String,
    /// Launch, by name; the only launch of the lake when not said.
    pub from: Option<String>,
    /// Where the boats end; back at the launch when not said.
    pub to: Option<String>,
    /// Boats.
    pub boats: usize,
    /// Days.
    pub days: usize,
    /// Speed between sites.
    pub speed: MetresPerSecond,
    /// Minutes a site; from depth and throws when not said.
    pub minutes_per_site: Option<f64>,
    /// Water the boat needs.
    pub draft: Option<Metres>,
    /// The day.
    pub date: Date,
    /// When the boats leave.
    pub start: Time,
    /// When they have to be back; sunset when not said.
    pub back_by: Option<Time>,
    /// Minutes local time is ahead of UTC.
    pub utc_offset_minutes: i32,
    /// Seconds to search for a better order.
    pub budget_seconds: f64,
    /// Draws the search.
    pub seed: u64,
}

/// Boats keep this far from a hazard (common practice).
const CLEAR_OF_HAZARDS: Metres = Metres::new(15.0);
/// A launch may lie this far from water a boat can use, and a boat stop this far from its site.
const REACH: Metres = Metres::new(75.0);
/// Settling, writing, and sorting a throw; the rope goes down and up at a walking hand's pace (common practice).
const USUAL_MINUTES: SiteMinutes = SiteMinutes { settle: 2.0, each_throw: 1.0, each_metre: 0.05 };

/// Plans the day.
///
/// # Errors
/// No launch, no sites, a boat that cannot move, a day without light.
pub fn route(book: &LakeBook, ports: &dyn Ports, request: &RouteRequest) -> Result<RouteView> {
    let record = record_of(book, &request.survey)?;
    let ground = Ground::of(book)?;
    let outline = ground.need_outline()?;
    let landmarks = book.landmarks()?;
    let launch = launch(&landmarks, request.from.as_deref())?;
    let mut warnings = Vec::new();
    let mut sites: Vec<&Site> =
        record.sites.iter().filter(|site| !site.spare && site.planned.is_some()).collect();
    sites.sort_by_key(|site| site.rank);
    if sites.is_empty() {
        return Err(Error::input(format!(
            "survey `{}` has no sites with a place",
            record.survey.name
        ))
        .hint("lay them with `quillwort plan`"));
    }
    let light = daylight(request.date, launch.position, request.utc_offset_minutes)
        .map_err(|error| with_hint(&error))?;
    let (start, end) = hours(request, &light, &mut warnings)?;
    let water = WaterDistance::with_draft(
        outline.projected(),
        &keep_out(&ground, &landmarks, request.draft)?,
        request.draft.unwrap_or(Metres::new(0.0)),
    )
    .map_err(|error| with_hint(&error))?;
    let place = |place: LonLat| ground.project(place);
    let throws = u32::from(record.survey.throws_per_site);
    let minutes = |site: &Site| {
        request.minutes_per_site.unwrap_or_else(|| USUAL_MINUTES.at(site.map_depth, throws))
    };
    let plan = Request {
        launch: place(launch.position)?,
        ending: match &request.to {
            Some(name) => Ending::At(place(named(&landmarks, name)?.position)?),
            None => Ending::AtLaunch,
        },
        sites: sites.iter().filter_map(|site| site.planned).map(place).collect::<Result<_>>()?,
        site_minutes: sites.iter().map(|site| minutes(site)).collect(),
        ranks: Vec::new(),
        priority: Vec::new(),
        first: None,
        last: None,
        boats: request.boats,
        days: request.days,
        speed: request.speed,
        breaks: Vec::new(),
        start,
        end,
        reach: REACH,
        seed: request.seed,
    };
    let until =
        ports.now_unix_millis().saturating_add((request.budget_seconds.max(0.05) * 1_000.0) as u64);
    let mut go_on = || ports.now_unix_millis() < until;
    let found =
        plan_route(&water, &plan, Budget::While(&mut go_on)).map_err(|error| with_hint(&error))?;
    view(&ground, &record.survey.name, &sites, &found, &light, request, warnings)
}

fn named<'a>(landmarks: &'a [Landmark], name: &str) -> Result<&'a Landmark> {
    landmarks.iter().find(|one| one.name.eq_ignore_ascii_case(name.trim())).ok_or_else(|| {
        let known: Vec<String> = landmarks.iter().map(|one| format!("`{}`", one.name)).collect();
        let hint = if known.is_empty() {
            "add launches with `quillwort add BOOK landmarks FILE`".to_owned()
        } else {
            format!("the lake has {}", known.join(", "))
        };
        Error::not_found(format!("there is no landmark `{name}`")).hint(hint)
    })
}

fn launch<'a>(landmarks: &'a [Landmark], from: Option<&str>) -> Result<&'a Landmark> {
    if let Some(name) = from {
        return named(landmarks, name);
    }
    let launches: Vec<&Landmark> =
        landmarks.iter().filter(|one| one.kind == LandmarkKind::Launch).collect();
    match launches.as_slice() {
        [one] => Ok(one),
        [] => Err(Error::input("the lake has no launch yet")
            .hint("add it with `quillwort add BOOK landmarks FILE`, kind `launch`, or say `--from LANDMARK`")),
        several => {
            let names: Vec<String> = several.iter().map(|one| format!("`{}`", one.name)).collect();
            Err(Error::input("the lake has several launches")
                .hint(format!("say which with `--from`: {}", names.join(", "))))
        }
    }
}

/// Hazards, and water shallower than the boat needs.
fn keep_out(
    ground: &Ground,
    landmarks: &[Landmark],
    draft: Option<Metres>,
) -> Result<Vec<KeepOut>> {
    let mut out = Vec::new();
    for hazard in landmarks.iter().filter(|one| one.kind == LandmarkKind::Hazard) {
        out.push(KeepOut::about(ground.project(hazard.position)?, CLEAR_OF_HAZARDS));
    }
    if let (Some(draft), Some(model)) =
        (draft.filter(|draft| *draft > Metres::new(0.0)), &ground.model)
    {
        let deep = lakebed::deeper_than(model, draft);
        let shallow = ground.need_outline()?.projected().difference(&deep);
        out.push(KeepOut { reason: KeepOutReason::TooShallow, area: shallow });
    }
    Ok(out)
}

fn hours(
    request: &RouteRequest,
    light: &Daylight,
    warnings: &mut Vec<String>,
) -> Result<(jiff::civil::DateTime, jiff::civil::DateTime)> {
    let start = request.date.to_datetime(request.start);
    let sunset = match light {
        Daylight::RisesAndSets { rise, set, .. } => {
            if start < *rise {
                warnings.push(format!("the boats leave before sunrise at {}", clock(rise.time())));
            }
            Some(*set)
        }
        Daylight::NeverRises { .. } => {
            return Err(Error::input(format!("the sun does not rise on {}", request.date))
                .hint("choose another day"));
        }
        Daylight::NeverSets { .. } => None,
    };
    let end = match request.back_by {
        Some(time) => request.date.to_datetime(time),
        None => sunset.unwrap_or_else(|| request.date.to_datetime(Time::constant(23, 0, 0, 0))),
    };
    if sunset.is_some_and(|set| end > set) {
        warnings.push("the day ends after sunset".to_owned());
    }
    if end <= start {
        return Err(Error::input("the boats would have to be back before they leave")
            .hint("give `--start` earlier than `--back-by` and than sunset"));
    }
    Ok((start, end))
}

fn clock(time: Time) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}

fn way(ground: &Ground, line: Option<&LineString<f64>>) -> Result<Vec<[f64; 2]>> {
    let round = |value: f64| (value * 1e6).round() / 1e6;
    line.map_or_else(
        || Ok(Vec::new()),
        |line| {
            line.coords()
                .map(|at: &Coord<f64>| {
                    ground
                        .unproject(*at)
                        .map(|place| [round(place.longitude()), round(place.latitude())])
                })
                .collect()
        },
    )
}

fn view(
    ground: &Ground,
    survey: &str,
    sites: &[&Site],
    found: &RoutePlan,
    light: &Daylight,
    request: &RouteRequest,
    mut warnings: Vec<String>,
) -> Result<RouteView> {
    let code = |site: &usize| sites[*site].code.to_string();
    let mut boats = Vec::new();
    let mut length = 0.0;
    let mut over: Vec<String> = found.cut_off.iter().map(code).collect();
    for (day, ways) in found.days.iter().zip(&found.ways) {
        for (boat, line) in day.boats.iter().zip(ways) {
            length += boat.length.metres();
            boats.push(BoatView {
                date: boat.finish.date().to_string(),
                order: boat.order.iter().map(code).collect(),
                length_m: boat.length.metres(),
                minutes: boat.minutes,
                finish: clock(boat.finish.time()),
                way: way(ground, Some(line))?,
            });
        }
    }
    if let Some(last) = found.days.last() {
        over.extend(last.over.iter().map(code));
    }
    if found.launch.moved() > Metres::new(1.0) {
        warnings.push(format!(
            "the launch lies {} from the water a boat can use; the way begins there",
            ground.lake.units.distance(found.launch.moved())
        ));
    }
    if !found.from_beside.is_empty() {
        let codes: Vec<String> = found.from_beside.iter().map(code).collect();
        warnings
            .push(format!("worked from the nearest water a boat can use: {}", codes.join(", ")));
    }
    let (rise, set) = match light {
        Daylight::RisesAndSets { rise, set, .. } => {
            (Some(clock(rise.time())), Some(clock(set.time())))
        }
        _ => (None, None),
    };
    Ok(RouteView {
        survey: survey.to_owned(),
        boats,
        length_m: length,
        fits: found.fits(),
        daylight: DaylightView { rise, set },
        over,
        sentence: found.sentence(),
        seed: request.seed,
        warnings,
    })
}
