//! The track of the day against the plan: where the boat really was, how long, and what was missed.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::route::utc_offset_at;
use crate::surveys::record_of;
use crate::views::{TrackSiteView, TrackView};
use exchange::track::{TrackLog, TrackPoint, read_track};
use geo::Simplify;
use geo_types::{Coord, LineString};
use jiff::civil::DateTime;
use jiff::{SignedDuration, Timestamp};
use lakebook::LakeBook;
use std::collections::BTreeSet;
use std::path::Path;
use survey::{Fix, Site, SurveyRecord, Visit};
use units::{LonLat, Metres};

/// How a track is read against a plan.
#[derive(Debug, Clone)]
pub struct TrackRequest<'a> {
    /// Name of the survey.
    pub survey: &'a str,
    /// Name of the file.
    pub file: &'a str,
    /// Its bytes.
    pub bytes: &'a [u8],
    /// A boat this near to a site is at it.
    pub within: Metres,
    /// Minutes this machine's clock is ahead of UTC on a day.
    pub machine_offset: fn(jiff::civil::Date) -> i32,
}

/// A boat at anchor swings, a receiver wanders: as near as this is at the site (common practice).
pub const USUAL_REACH: Metres = Metres::new(30.0);
/// A longer gap between two points is a receiver that was off, not a boat that stayed.
const LONGEST_GAP: f64 = 300.0;

/// Bends of the boat's way smaller than this do not show on a map, metres.
const FINEST_BEND: f64 = 1.0;

/// Reads a track against a survey's plan. Visits that have no position of their own get the boat's, unless the record is
/// sealed.
///
/// # Errors
/// When the file is no track, or one of another year, or the survey has no sites with a place.
pub fn track(book: &mut LakeBook, request: &TrackRequest<'_>) -> Result<TrackView> {
    let (mut view, visits) = against(book, request)?;
    if visits.is_empty() {
        return Ok(view);
    }
    let note = format!("positions of {} visits of {} from a track", visits.len(), view.survey);
    book.transact(&note, |writer| writer.put_visits(&visits))?;
    view.stored = visits.len();
    view.without_position = 0;
    Ok(view)
}

/// The same without writing anything.
///
/// # Errors
/// As [`track`].
pub fn preview(book: &LakeBook, request: &TrackRequest<'_>) -> Result<TrackView> {
    Ok(against(book, request)?.0)
}

/// What a track says, and the visits with the positions they would get.
fn against(book: &LakeBook, request: &TrackRequest<'_>) -> Result<(TrackView, Vec<Visit>)> {
    let record = record_of(book, request.survey)?;
    if record.sites.iter().all(|site| site.planned.is_none()) {
        return Err(Error::input(format!(
            "survey `{}` has no sites with a place",
            record.survey.name
        ))
        .hint("lay them with `quillwort plan`"));
    }
    let within = request.within.metres();
    if !(within.is_finite() && within > 0.0) {
        return Err(
            Error::input(format!("a reach of `{within}` metres")).hint("give `--within 30m`")
        );
    }
    let log = read_track(request.file, request.bytes)?;
    check_year(book, &record, &log, request.file)?;
    let ground = Ground::shore_of(book)?;
    let mut day = Day::of(&ground, &log, request)?;
    for site in &record.sites {
        if let Some(place) = site.planned {
            day.sites.push((site.id, ground.project(place)?));
        }
    }
    let mut warnings = Vec::new();
    if day.parts.iter().flatten().all(|(_, time)| time.is_none()) && !log.parts.is_empty() {
        warnings.push("the track has no hours: how long the boat stayed cannot be told".to_owned());
    }
    let mut sites = Vec::new();
    let mut planned: Vec<&Site> =
        record.sites.iter().filter(|site| site.planned.is_some()).collect();
    planned.sort_by_key(|site| site.rank);
    for site in &planned {
        sites.push(day.at(site, within));
    }
    let missed: Vec<String> = planned
        .iter()
        .zip(&sites)
        .filter(|(site, at)| at.missed && !site.spare)
        .map(|(site, _)| site.code.to_string())
        .collect();
    if sites.iter().all(|site| site.missed) {
        warnings.push(
            "the boat came near no site: check that the track is of this lake and this survey"
                .to_owned(),
        );
    }
    let visits = positions(&record, &planned, &sites, &mut warnings)?;
    for site in &mut sites {
        if let (Some(lon), Some(lat)) = (site.lon, site.lat) {
            let place = LonLat::new(lon, lat).map_err(|error| Error::input(error.to_string()))?;
            let at = ground.project(place)?;
            (site.x, site.y) = (Some(centimetres(at.x)), Some(centimetres(at.y)));
        }
    }
    let times: Vec<Timestamp> = day.times().collect();
    let shown = |time: Option<&Timestamp>| time.map(|time| day.local(*time).to_string());
    let view = TrackView {
        survey: record.survey.name.clone(),
        file: request.file.to_owned(),
        points: log.parts.iter().map(Vec::len).sum(),
        waypoints: log.waypoints.len(),
        start: shown(times.iter().min()),
        end: shown(times.iter().max()),
        within_m: within,
        sites,
        missed,
        stored: 0,
        without_position: visits.len(),
        ways: day.ways(),
        warnings,
    };
    Ok((view, visits))
}

fn centimetres(metres: f64) -> f64 {
    (metres * 100.0).round() / 100.0
}

/// The same from a file.
///
/// # Errors
/// As [`track`], and when the file cannot be read.
pub fn track_file(
    book: &mut LakeBook,
    survey: &str,
    path: &Path,
    within: Metres,
    preview: bool,
    machine_offset: fn(jiff::civil::Date) -> i32,
) -> Result<TrackView> {
    let bytes = std::fs::read(path).map_err(|error| {
        Error::input(format!("`{}` cannot be read: {error}", path.display()))
            .hint("check the name of the file")
    })?;
    let file = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let request = TrackRequest { survey, file: &file, bytes: &bytes, within, machine_offset };
    if preview { self::preview(book, &request) } else { track(book, &request) }
}

/// Years a survey was or will be on the water: its own days, those of its route, four digits in its name.
fn years(book: &LakeBook, record: &SurveyRecord) -> Result<BTreeSet<i16>> {
    let mut years: BTreeSet<i16> = [record.survey.start, record.survey.end]
        .into_iter()
        .flatten()
        .map(jiff::civil::Date::year)
        .collect();
    if years.is_empty() {
        let route = book.route(record.survey.id)?;
        years.extend(route.iter().flat_map(|route| &route.boats).filter_map(|boat| {
            boat.date.parse::<jiff::civil::Date>().ok().map(jiff::civil::Date::year)
        }));
    }
    if years.is_empty() {
        let name = &record.survey.name;
        years.extend(
            name.split(|c: char| !c.is_ascii_digit())
                .filter(|word| word.len() == 4)
                .filter_map(|word| word.parse::<i16>().ok()),
        );
    }
    Ok(years)
}

fn check_year(book: &LakeBook, record: &SurveyRecord, log: &TrackLog, file: &str) -> Result<()> {
    let years = years(book, record)?;
    let points = log.parts.iter().flatten().chain(log.waypoints.iter().map(|(_, point)| point));
    let found: BTreeSet<i16> = points
        .filter_map(|point| point.time)
        .map(|time| jiff::tz::TimeZone::UTC.to_datetime(time).year())
        .collect();
    if years.is_empty() || found.is_empty() || found.iter().any(|year| years.contains(year)) {
        return Ok(());
    }
    let list =
        |all: &BTreeSet<i16>| all.iter().map(ToString::to_string).collect::<Vec<_>>().join(" and ");
    Err(Error::input(format!(
        "`{file}` is a track of {}, survey `{}` is of {}",
        list(&found),
        record.survey.name,
        list(&years)
    ))
    .hint(
        "choose the track of the survey's days, or name the survey it belongs to with `--survey`",
    ))
}

/// A day's track in metres.
struct Day {
    offset_minutes: i32,
    parts: Vec<Vec<(Coord<f64>, Option<Timestamp>)>>,
    places: Vec<Vec<LonLat>>,
    waypoints: Vec<(String, Coord<f64>, LonLat, Option<Timestamp>)>,
    sites: Vec<(survey::SiteId, Coord<f64>)>,
}

/// Distance from a point to the piece between two others.
fn to_piece(at: Coord<f64>, a: Coord<f64>, b: Coord<f64>) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    let share = if square > 0.0 {
        (((at.x - a.x) * dx + (at.y - a.y) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (at.x - a.x - share * dx).hypot(at.y - a.y - share * dy)
}

fn lon_lat(point: &TrackPoint) -> Result<LonLat> {
    LonLat::new(point.longitude, point.latitude).map_err(|error| Error::input(error.to_string()))
}

impl Day {
    fn of(ground: &Ground, log: &TrackLog, request: &TrackRequest<'_>) -> Result<Self> {
        let mut parts = Vec::new();
        let mut places = Vec::new();
        for part in &log.parts {
            let at: Vec<LonLat> = part.iter().map(lon_lat).collect::<Result<_>>()?;
            let mut line = Vec::new();
            for (point, place) in part.iter().zip(&at) {
                line.push((ground.project(*place)?, point.time));
            }
            parts.push(line);
            places.push(at);
        }
        let mut waypoints = Vec::new();
        for (name, point) in &log.waypoints {
            let place = lon_lat(point)?;
            waypoints.push((name.trim().to_owned(), ground.project(place)?, place, point.time));
        }
        let all = || log.parts.iter().flatten().chain(log.waypoints.iter().map(|one| &one.1));
        let first = all().find_map(|point| point.time.map(|time| (time, point)));
        let offset_minutes = match first {
            Some((time, point)) => {
                let date = jiff::tz::TimeZone::UTC.to_datetime(time).date();
                let here = (request.machine_offset)(date);
                utc_offset_at(&ground.lake.region, lon_lat(point)?, date, here)
            }
            None => 0,
        };
        Ok(Self { offset_minutes, parts, places, waypoints, sites: Vec::new() })
    }

    fn times(&self) -> impl Iterator<Item = Timestamp> {
        let track = self.parts.iter().flatten().filter_map(|(_, time)| *time);
        track.chain(self.waypoints.iter().filter_map(|one| one.3))
    }

    /// The boat's way on the map, a line for each stretch the receiver was on.
    fn ways(&self) -> Vec<Vec<[f64; 2]>> {
        let line = |part: &Vec<(Coord<f64>, Option<Timestamp>)>| {
            let line: LineString<f64> = part.iter().map(|(at, _)| *at).collect();
            let simple = line.simplify(FINEST_BEND);
            simple.coords().map(|at| [centimetres(at.x), centimetres(at.y)]).collect()
        };
        self.parts.iter().map(line).collect()
    }

    fn local(&self, time: Timestamp) -> DateTime {
        let shifted = time
            .saturating_add(SignedDuration::from_mins(i64::from(self.offset_minutes)))
            .unwrap_or(time);
        let seconds = jiff::tz::TimeZone::UTC.to_datetime(shifted);
        seconds.round(jiff::Unit::Second).unwrap_or(seconds)
    }

    /// What the track says of a site.
    fn at(&self, site: &Site, within: f64) -> TrackSiteView {
        let code = site.code.to_string();
        let mut view = TrackSiteView {
            code: code.clone(),
            nearest_m: None,
            off_m: None,
            lon: None,
            lat: None,
            x: None,
            y: None,
            arrive: None,
            minutes: None,
            marked: false,
            missed: true,
        };
        let Some(at) = self.site_place(site) else { return view };
        let distance = |other: Coord<f64>| (other.x - at.x).hypot(other.y - at.y);
        let mut nearest = f64::INFINITY;
        let (mut seconds, mut timed) = (0.0, false);
        let mut sum = (0.0, 0.0, 0.0);
        let mut arrive: Option<Timestamp> = None;
        let mut nearest_place: Option<LonLat> = None;
        for (part, places) in self.parts.iter().zip(&self.places) {
            for (index, ((point, time), place)) in part.iter().zip(places).enumerate() {
                let here = distance(*point);
                let mut closest = here;
                if let Some((next, next_time)) = part.get(index + 1) {
                    closest = closest.min(to_piece(at, *point, *next));
                    if let (Some(a), Some(b)) = (time, next_time)
                        && here <= within
                        && distance(*next) <= within
                    {
                        let gap = b.duration_since(*a).as_secs_f64();
                        if (0.0..=LONGEST_GAP).contains(&gap) {
                            seconds += gap;
                            timed = true;
                        }
                    }
                }
                if closest < nearest {
                    nearest = closest;
                }
                if here <= within {
                    sum.0 += place.longitude();
                    sum.1 += place.latitude();
                    sum.2 += 1.0;
                    if let Some(time) = time {
                        arrive = Some(arrive.map_or(*time, |known| known.min(*time)));
                    }
                } else if closest <= within && nearest_place.is_none() {
                    nearest_place = Some(*place);
                }
            }
        }
        let mark = self.waypoints.iter().find(|one| one.0.eq_ignore_ascii_case(&code));
        let mean = (sum.2 > 0.0).then(|| LonLat::new(sum.0 / sum.2, sum.1 / sum.2).ok()).flatten();
        // a waypoint the crew marked says more than where the boat swung
        let place = mark.map(|one| one.2).or(mean).or(nearest_place);
        if let Some((_, point, _, time)) = mark {
            view.marked = true;
            nearest = nearest.min(distance(*point));
            view.off_m = Some(distance(*point));
            arrive = arrive.or(*time);
        } else if let Some(mean) = mean {
            view.off_m = metres_between(site, mean);
        }
        view.nearest_m = nearest.is_finite().then_some(nearest);
        view.missed = !(view.marked || nearest <= within);
        if !view.missed {
            view.lon = place.map(LonLat::longitude);
            view.lat = place.map(LonLat::latitude);
            view.arrive = arrive.map(|time| self.local(time).to_string());
            view.minutes = timed.then_some(seconds / 60.0);
        }
        view
    }

    fn site_place(&self, site: &Site) -> Option<Coord<f64>> {
        self.sites.iter().find(|one| one.0 == site.id).map(|one| one.1)
    }
}

/// Metres between a site's plan and a place, on a sphere of the mean radius.
fn metres_between(site: &Site, place: LonLat) -> Option<f64> {
    let plan = site.planned?;
    let (a, b) = (plan.latitude().to_radians(), place.latitude().to_radians());
    let dx = (place.longitude() - plan.longitude()).to_radians() * f64::midpoint(a, b).cos();
    Some(dx.hypot(b - a) * 6_371_008.8)
}

/// Visits that have no position of their own, with the boat's; none when the record is sealed.
fn positions(
    record: &SurveyRecord,
    planned: &[&Site],
    sites: &[TrackSiteView],
    warnings: &mut Vec<String>,
) -> Result<Vec<Visit>> {
    let mut changed = Vec::new();
    for (site, at) in planned.iter().zip(sites) {
        let (Some(lon), Some(lat)) = (at.lon, at.lat) else { continue };
        let Some(visit) = record.visits.iter().find(|visit| visit.site == site.id) else {
            continue;
        };
        if visit.actual.is_some() {
            continue;
        }
        let mut visit = visit.clone();
        let position = LonLat::new(lon, lat).map_err(|error| Error::input(error.to_string()))?;
        visit.actual = Some(Fix { position, accuracy: None });
        if visit.time.is_none() {
            visit.time = at.arrive.as_deref().and_then(|text| text.parse().ok());
        }
        changed.push(visit);
    }
    if !changed.is_empty() && record.survey.seal.is_some() {
        warnings.push(format!(
            "the record is sealed: the positions of {} visits are shown and not stored",
            changed.len()
        ));
        changed.clear();
    }
    Ok(changed)
}
