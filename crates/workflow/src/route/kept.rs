//! The route a survey keeps: sheets, GPS files and the page follow it.

use super::view::{leg_view, way};
use super::{RouteView, RouteWords};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::surveys::record_of;
use crate::views::{BoatView, DaylightView, LegView, StopView};
use geo_types::{Coord, LineString};
use jiff::civil::Date;
use lakebook::{KeptBoat, KeptRoute, KeptStop, LakeBook};
use sampling::solar::Daylight;
use survey::{Site, SurveyRecord};
use units::LonLat;

/// Keeps a route as planned; the one before is replaced.
///
/// # Errors
/// When there is no such survey or the book cannot be written.
pub fn keep(book: &mut LakeBook, view: &RouteView, words: &RouteWords) -> Result<()> {
    let survey = book.survey_by_name(&view.survey)?;
    let ground = Ground::shore_of(book)?;
    let degrees = |line: &[[f64; 2]]| -> Vec<[f64; 2]> {
        let line = LineString::from(line.iter().map(|[x, y]| (*x, *y)).collect::<Vec<_>>());
        way(&ground, &line).unwrap_or_default()
    };
    let asked =
        serde_json::to_string(words).map_err(|error| Error::fault(format!("a route: {error}")))?;
    let boats = view
        .boats
        .iter()
        .filter(|boat| !boat.order.is_empty())
        .map(|boat| KeptBoat {
            boat: boat.boat,
            date: boat.date.clone(),
            launch: view.launch.clone(),
            start: boat.start.clone(),
            finish: boat.finish.clone(),
            length_m: boat.length_m,
            minutes: boat.minutes,
            stops: boat
                .stops
                .iter()
                .zip(&boat.legs)
                .map(|(stop, leg)| KeptStop {
                    code: stop.code.clone(),
                    arrive: stop.arrive.clone(),
                    leave: stop.leave.clone(),
                    way: degrees(&leg.line),
                })
                .collect(),
            end: boat.legs.last().map(|leg| leg.to.clone()).unwrap_or_default(),
            home: boat.legs.last().map(|leg| degrees(&leg.line)).unwrap_or_default(),
        })
        .collect();
    let route = KeptRoute { survey: survey.id, asked, boats, sentence: view.sentence.clone() };
    let note = format!("route of {}: {}", survey.name, view.sentence);
    book.transact(&note, |writer| writer.put_route(&route))?;
    Ok(())
}

/// Forgets the route of a survey: its papers follow the plan again.
///
/// # Errors
/// When there is no such survey, or no route of it.
pub fn forget(book: &mut LakeBook, survey: &str) -> Result<()> {
    let survey = book.survey_by_name(survey)?;
    if book.route(survey.id)?.is_none() {
        return Err(none_kept(&survey.name));
    }
    book.transact(&format!("route of {} forgotten", survey.name), |writer| {
        writer.delete_route(survey.id)
    })?;
    Ok(())
}

fn none_kept(survey: &str) -> Error {
    Error::not_found(format!("survey `{survey}` keeps no route"))
        .hint(format!("plan one and keep it with `quillwort route BOOK --survey {survey} --keep`"))
}

/// The words a kept route was asked in.
///
/// # Errors
/// When there is no such survey, or no route of it.
pub fn kept_words(book: &LakeBook, survey: &str) -> Result<RouteWords> {
    let survey = book.survey_by_name(survey)?;
    let route = book.route(survey.id)?.ok_or_else(|| none_kept(&survey.name))?;
    read_words(&route)
}

fn read_words(route: &KeptRoute) -> Result<RouteWords> {
    serde_json::from_str(&route.asked)
        .map_err(|error| Error::fault(format!("the words of a kept route: {error}")))
}

/// The kept route as a view, its ways drawn again.
///
/// # Errors
/// When there is no such survey, or no route of it.
pub fn kept_view(
    book: &LakeBook,
    survey: &str,
    machine_offset: fn(Date) -> i32,
) -> Result<RouteView> {
    let record = record_of(book, survey)?;
    let route = book.route(record.survey.id)?.ok_or_else(|| none_kept(&record.survey.name))?;
    let words = read_words(&route)?;
    let ground = Ground::shore_of(book)?;
    let metres_a_minute = words.speed_or_usual(ground.lake.units)?.metres_per_second() * 60.0;
    let boats = route
        .boats
        .iter()
        .map(|boat| boat_view(&ground, boat, metres_a_minute))
        .collect::<Result<_>>()?;
    let mut warnings = Vec::new();
    let (over, gone) = left_over(&record, &route);
    if !gone.is_empty() {
        warnings.push(format!(
            "the plan no longer has these sites of the route: {}; plan the route again",
            gone.join(", ")
        ));
    }
    Ok(RouteView {
        survey: record.survey.name.clone(),
        launch: route.boats.first().map(|boat| boat.launch.clone()).unwrap_or_default(),
        length_m: route.boats.iter().map(|boat| boat.length_m).sum(),
        fits: over.is_empty(),
        daylight: daylight_of(&ground, &route, &words, machine_offset),
        over,
        sentence: route.sentence.clone(),
        seed: words.seed.unwrap_or(1),
        warnings,
        boats,
    })
}

/// Sites of the plan no boat goes to, and sites of the route the plan does not have.
fn left_over(record: &SurveyRecord, route: &KeptRoute) -> (Vec<String>, Vec<String>) {
    let stops = || route.boats.iter().flat_map(|boat| &boat.stops).map(|stop| stop.code.as_str());
    let over = record
        .sites
        .iter()
        .filter(|site| site.stands() && site.planned.is_some())
        .filter(|site| stops().all(|code| code != site.code.as_str()))
        .map(|site| site.code.to_string())
        .collect();
    let gone = stops()
        .filter(|code| record.sites.iter().all(|site| site.code.as_str() != *code))
        .map(str::to_owned)
        .collect();
    (over, gone)
}

fn boat_view(ground: &Ground, boat: &KeptBoat, metres_a_minute: f64) -> Result<BoatView> {
    let mut legs: Vec<LegView> = Vec::new();
    let mut way: Vec<[f64; 2]> = Vec::new();
    let mut from = boat.launch.as_str();
    let lines = boat.stops.iter().map(|stop| (stop.code.as_str(), &stop.way));
    for (to, line) in lines.chain([(boat.end.as_str(), &boat.home)]) {
        let path = LineString::new(projected(ground, line)?);
        legs.push(leg_view(from, to, &path, metres_a_minute));
        way.extend(line.iter().skip(usize::from(!way.is_empty())));
        from = to;
    }
    Ok(BoatView {
        boat: boat.boat,
        date: boat.date.clone(),
        start: boat.start.clone(),
        order: boat.stops.iter().map(|stop| stop.code.clone()).collect(),
        length_m: boat.length_m,
        minutes: boat.minutes,
        finish: boat.finish.clone(),
        stops: boat
            .stops
            .iter()
            .map(|stop| StopView {
                code: stop.code.clone(),
                arrive: stop.arrive.clone(),
                leave: stop.leave.clone(),
            })
            .collect(),
        legs,
        way,
    })
}

/// A kept line in metres of the working system.
pub(crate) fn projected(ground: &Ground, line: &[[f64; 2]]) -> Result<Vec<Coord<f64>>> {
    line.iter()
        .map(|[longitude, latitude]| {
            let place = LonLat::new(*longitude, *latitude)
                .map_err(|error| Error::fault(format!("a kept route: {error}")))?;
            ground.project(place)
        })
        .collect()
}

fn daylight_of(
    ground: &Ground,
    route: &KeptRoute,
    words: &RouteWords,
    machine_offset: fn(Date) -> i32,
) -> DaylightView {
    let none = DaylightView { rise: None, set: None };
    let Some(boat) = route.boats.first() else { return none };
    let place = boat.home.last().and_then(|[x, y]| LonLat::new(*x, *y).ok());
    let (Ok(date), Some(place)) = (boat.date.parse::<Date>(), place) else { return none };
    let offset = match words.utc_offset {
        Some(hours) => (hours * 60.0).round() as i32,
        None => super::words::utc_offset(&ground.lake.region, place, date, machine_offset(date)).0,
    };
    match sampling::solar::daylight(date, place, offset) {
        Ok(Daylight::RisesAndSets { rise, set, .. }) => DaylightView {
            rise: Some(super::clock(rise.time())),
            set: Some(super::clock(set.time())),
        },
        _ => none,
    }
}

/// A survey's sites in the order of its papers: boat by boat along the kept route, then those no boat
/// goes to; all in one part in the order of the plan when no route is kept.
pub(crate) struct InOrder<'a> {
    /// The boats' parts.
    pub(crate) parts: Vec<Part<'a>>,
}

/// The sites of one boat's day.
pub(crate) struct Part<'a> {
    /// The boat and its day; none for sites in the order of the plan and those no boat goes to.
    pub(crate) boat: Option<KeptBoat>,
    /// The sites.
    pub(crate) sites: Vec<&'a Site>,
}

/// See [`InOrder`].
pub(crate) fn in_order<'a>(book: &LakeBook, record: &'a SurveyRecord) -> Result<InOrder<'a>> {
    let mut planned: Vec<&Site> = record.sites.iter().filter(|site| site.stands()).collect();
    planned.sort_by_key(|site| site.rank);
    let Some(route) = book.route(record.survey.id)? else {
        let parts = vec![Part { boat: None, sites: planned }];
        return Ok(InOrder { parts });
    };
    let mut parts = Vec::new();
    for boat in route.boats {
        let sites: Vec<&Site> = boat
            .stops
            .iter()
            .filter_map(|stop| planned.iter().find(|site| site.code.as_str() == stop.code))
            .copied()
            .collect();
        if !sites.is_empty() {
            parts.push(Part { boat: Some(boat), sites });
        }
    }
    let taken: Vec<&str> =
        parts.iter().flat_map(|part| &part.sites).map(|site| site.code.as_str()).collect();
    let rest: Vec<&Site> =
        planned.iter().copied().filter(|site| !taken.contains(&site.code.as_str())).collect();
    if !rest.is_empty() {
        parts.push(Part { boat: None, sites: rest });
    }
    Ok(InOrder { parts })
}
