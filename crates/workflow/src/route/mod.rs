//! The day on the water: which boat goes where, in which order, and when it is back.

mod infested;
mod kept;
mod table;
mod view;
mod words;

pub use kept::{forget, keep, kept_view, kept_words};
pub(crate) use kept::{in_order, projected};
pub use table::distances;
pub use words::{Local, RouteWords};

use crate::error::{Error, Result, with_hint};
use crate::ground::Ground;
use crate::surveys::record_of;
use crate::views::RouteView;
use geo::BooleanOps;
use geo_types::Coord;
use jiff::civil::{Date, Time};
use lakebook::{LakeBook, Ports};
use sampling::route::{
    Break, Budget, Ending, KeepOut, KeepOutReason, RouteRequest as Request, SiteMinutes,
    WaterDistance, plan_route, ranks,
};
use sampling::solar::{Daylight, daylight};
use survey::{Landmark, LandmarkKind, Site};
use units::{LonLat, Metres, MetresPerSecond};

/// What the user asks of a route, read.
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
    /// A rest: minutes after the start, and minutes long.
    pub rest: Option<(f64, f64)>,
    /// Minutes local time is ahead of UTC; by the lake's state when not said.
    pub utc_offset_minutes: Option<i32>,
    /// The same of this machine.
    pub machine_offset_minutes: i32,
    /// Site to visit first.
    pub first: Option<String>,
    /// Site to visit last.
    pub last: Option<String>,
    /// Sites to visit early and to leave out last.
    pub early: Vec<String>,
    /// From the least infested sites to the most.
    pub cleanest_first: bool,
    /// One site tried at another place of the working system, for a look.
    pub tried: Option<(String, Coord<f64>)>,
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
    let landmarks = book.landmarks()?;
    let launch = launch(&landmarks, request.from.as_deref())?;
    let mut warnings = Vec::new();
    let mut sites: Vec<&Site> =
        record.sites.iter().filter(|site| site.stands() && site.planned.is_some()).collect();
    sites.sort_by_key(|site| site.rank);
    if sites.is_empty() {
        return Err(Error::input(format!(
            "survey `{}` has no sites with a place",
            record.survey.name
        ))
        .hint("lay them with `quillwort plan`"));
    }
    let offset = offset_of(&ground, launch, request, &mut warnings);
    let light =
        daylight(request.date, launch.position, offset).map_err(|error| with_hint(&error))?;
    let (start, end) = hours(request, &light, &mut warnings)?;
    if request.draft.is_some() && ground.model.is_none() {
        warnings.push(
            "the depths of this lake are not known: the way cannot keep to water deep enough for the boat"
                .to_owned(),
        );
    }
    let water = water(&ground, &keep_out(&ground, &landmarks, request.draft)?, request.draft)?;
    let place = |place: LonLat| ground.project(place);
    let throws = u32::from(record.survey.throws_per_site);
    let minutes = |site: &Site| {
        request.minutes_per_site.unwrap_or_else(|| USUAL_MINUTES.at(site.map_depth, throws))
    };
    let priority = early(&sites, request)?;
    let ranked = if request.cleanest_first || !priority.is_empty() {
        let levels = if request.cleanest_first {
            let found = infested::infestation(book, &ground, &record, &sites)?;
            warnings.push(infested_words(&found));
            found.levels
        } else {
            vec![0; sites.len()]
        };
        let early = if priority.is_empty() { vec![false; sites.len()] } else { priority.clone() };
        ranks(&levels, &early).map_err(|error| with_hint(&error))?
    } else {
        Vec::new()
    };
    let plan = Request {
        launch: place(launch.position)?,
        ending: match &request.to {
            Some(name) => Ending::At(place(named(&landmarks, name)?.position)?),
            None => Ending::AtLaunch,
        },
        sites: places(&ground, &sites, request)?,
        site_minutes: sites.iter().map(|site| minutes(site)).collect(),
        ranks: ranked,
        priority,
        first: place_in(&sites, "first", request.first.as_deref())?,
        last: place_in(&sites, "last", request.last.as_deref())?,
        boats: request.boats,
        days: request.days,
        speed: request.speed,
        breaks: request.rest.map(|(after, minutes)| Break { after, minutes }).into_iter().collect(),
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
    let laid = view::Laid {
        ground: &ground,
        survey: &record.survey.name,
        launch: &launch.name,
        sites: &sites,
        found: &found,
        light: &light,
        request,
    };
    view::view(&laid, warnings)
}

/// Where the sites stand, or are tried.
fn places(ground: &Ground, sites: &[&Site], request: &RouteRequest) -> Result<Vec<Coord<f64>>> {
    let mut places = sites
        .iter()
        .filter_map(|site| site.planned)
        .map(|at| ground.project(at))
        .collect::<Result<Vec<_>>>()?;
    if let Some((code, at)) = &request.tried
        && let Some(index) = place_in(sites, "try-at", Some(code))?
    {
        places[index] = *at;
    }
    Ok(places)
}

fn place_in(sites: &[&Site], option: &str, code: Option<&str>) -> Result<Option<usize>> {
    let Some(code) = code else { return Ok(None) };
    let found = sites.iter().position(|site| site.code.as_str().eq_ignore_ascii_case(code.trim()));
    found.map(Some).ok_or_else(|| {
        Error::not_found(format!("there is no site `{code}` for `--{option}`"))
            .hint("the codes are those on the map; `quillwort plan --json` lists them")
    })
}

/// True for each site to be visited early; empty without any.
fn early(sites: &[&Site], request: &RouteRequest) -> Result<Vec<bool>> {
    let mut early = vec![false; if request.early.is_empty() { 0 } else { sites.len() }];
    for code in &request.early {
        if let Some(index) = place_in(sites, "early", Some(code))? {
            early[index] = true;
        }
    }
    Ok(early)
}

fn infested_words(found: &infested::Infestation) -> String {
    #[expect(clippy::naive_bytecount, reason = "a few hundred sites")]
    let count = |level: u8| found.levels.iter().filter(|one| **one == level).count();
    format!(
        "from the least infested water to the most, by {}: {} sites with no introduced plant near, \
         {} with some, {} with much",
        found.survey,
        count(0),
        count(1),
        count(2)
    )
}

/// Minutes of the lake's clock at a place on a day.
pub(crate) fn utc_offset_at(region: &str, place: LonLat, date: Date, machine: i32) -> i32 {
    words::utc_offset(region, place, date, machine).0
}

/// Minutes of the lake's clock, with a word where it is a guess.
fn offset_of(
    ground: &Ground,
    launch: &Landmark,
    request: &RouteRequest,
    warnings: &mut Vec<String>,
) -> i32 {
    if let Some(minutes) = request.utc_offset_minutes {
        return minutes;
    }
    let (minutes, clock) = words::utc_offset(
        &ground.lake.region,
        launch.position,
        request.date,
        request.machine_offset_minutes,
    );
    let hours = f64::from(minutes) / 60.0;
    match clock {
        words::Clock::State | words::Clock::Machine => {}
        words::Clock::Longitude => warnings.push(format!(
            "the lake's clock is taken from its longitude, {hours} hours from UTC without summer time: \
             say it with `--utc-offset`, or give the book its state"
        )),
    }
    minutes
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

fn water(ground: &Ground, keep_out: &[KeepOut], draft: Option<Metres>) -> Result<WaterDistance> {
    let outline = ground.need_outline()?;
    WaterDistance::with_draft(outline.projected(), keep_out, draft.unwrap_or(Metres::new(0.0)))
        .map_err(|error| with_hint(&error))
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

pub(crate) fn clock(time: Time) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}
