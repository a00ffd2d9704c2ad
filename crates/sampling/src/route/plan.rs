use super::RouteError;
use super::day::{BoatDay, DayPlan, DayRules, plan_days, sentence};
use super::lin_kernighan::Budget;
use super::pace::Break;
use super::tour::{Finish, TourRules};
use super::water::{Lies, WaterDistance, WaterPoint};
use geo_types::{Coord, LineString};
use jiff::civil::DateTime;
use units::{Metres, MetresPerSecond};

/// Where the boats end their day, as a place.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Ending {
    /// Back at the launch.
    #[default]
    AtLaunch,
    /// At another landing.
    At(Coord<f64>),
    /// At the last site.
    Anywhere,
}

/// Everything a route is planned from. Sites are named by their place in `sites`; lists with one value a site may be
/// empty where all sites are alike, except the minutes.
#[derive(Debug, Clone, PartialEq)]
pub struct RouteRequest {
    /// The launch, in metres of the working system; on shore is usual.
    pub launch: Coord<f64>,
    /// Where the day ends.
    pub ending: Ending,
    /// The sites.
    pub sites: Vec<Coord<f64>>,
    /// Minutes at each site.
    pub site_minutes: Vec<f64>,
    /// Rank of each site, lower first; see [`super::ranks`].
    pub ranks: Vec<u32>,
    /// Sites that are left out last.
    pub priority: Vec<bool>,
    /// Site to visit first.
    pub first: Option<usize>,
    /// Site to visit last.
    pub last: Option<usize>,
    /// Boats.
    pub boats: usize,
    /// Days of the same hours, one date after another.
    pub days: usize,
    /// Speed between sites.
    pub speed: MetresPerSecond,
    /// Rests.
    pub breaks: Vec<Break>,
    /// When the boats leave on the first day.
    pub start: DateTime,
    /// When they have to be back that day.
    pub end: DateTime,
    /// How far the launch may lie from water a boat can use, and how far a boat may stop from its site.
    pub reach: Metres,
    /// Seed of the search, kept with the result.
    pub seed: u64,
}

/// A planned route; sites are named by their place in the request.
#[derive(Debug, Clone, PartialEq)]
pub struct RoutePlan {
    /// Where the boats leave, and how far that is from the launch given.
    pub launch: WaterPoint,
    /// The other landing, where there is one.
    pub landing: Option<WaterPoint>,
    /// Where a boat stops for each site.
    pub stops: Vec<WaterPoint>,
    /// Sites no boat reaches from the launch, or only from farther off than the reach; they are in no order.
    pub cut_off: Vec<usize>,
    /// Sites that lie on land, in a hazard or in water too shallow, and are worked from the nearest water within reach.
    pub from_beside: Vec<usize>,
    /// The days.
    pub days: Vec<DayPlan>,
    /// The way of each boat on each day, from the launch to the end; empty for a boat without sites.
    pub ways: Vec<Vec<LineString<f64>>>,
    /// The same leg by leg: one line for each stop, from the place before it, and one for the way to the end.
    pub legs: Vec<Vec<Vec<LineString<f64>>>>,
    /// Seed the search was given.
    pub seed: u64,
}

impl RoutePlan {
    /// The plan in a sentence, sites cut off included.
    pub fn sentence(&self) -> String {
        let days = sentence(&self.days);
        match self.cut_off.len() {
            0 => days,
            1 => format!("{days}; one site cannot be reached"),
            n => format!("{days}; {n} sites cannot be reached"),
        }
    }

    /// True when every site is in some boat's order.
    pub fn fits(&self) -> bool {
        self.cut_off.is_empty() && self.days.iter().all(|day| day.fits)
    }
}

/// Plans the way of the boats by water: takes launch and sites to the water, measures between them, shares
/// them out, sets the hours and draws the ways.
///
/// Sites cut off do not stop the plan, they are listed; a plan in which all are is an error.
/// # Errors
/// [`RouteError::NoSites`], [`RouteError::LaunchOnLand`], [`RouteError::CutOff`] when no site can be reached, and those
/// of [`super::plan_day`].
pub fn plan_route(
    water: &WaterDistance,
    request: &RouteRequest,
    budget: Budget<'_>,
) -> Result<RoutePlan, RouteError> {
    let n_sites = request.sites.len();
    if n_sites == 0 {
        return Err(RouteError::NoSites);
    }
    check_lengths(request)?;
    let at_shore = |place: Coord<f64>| {
        let point = water.place(place);
        if point.moved() > request.reach {
            return Err(RouteError::launch_on_land(point.moved(), request.reach));
        }
        Ok(point)
    };
    let launch = at_shore(request.launch)?;
    let landing = match request.ending {
        Ending::At(place) => Some(at_shore(place)?),
        Ending::AtLaunch | Ending::Anywhere => None,
    };
    let stops: Vec<WaterPoint> = request.sites.iter().map(|&site| water.place(site)).collect();

    // points of the matrix: launch, landing, then the sites within reach
    let from_launch = water.distances(&launch, &stops);
    let is_open = |site: usize| from_launch[site].is_some() && stops[site].moved() <= request.reach;
    let (open, cut_off): (Vec<usize>, Vec<usize>) = (0..n_sites).partition(|&site| is_open(site));
    if open.is_empty() {
        return Err(RouteError::CutOff { n_cut_off: n_sites, points: cut_off });
    }
    let mut points = vec![launch.clone()];
    points.extend(landing.clone());
    let n_ends = points.len();
    points.extend(open.iter().map(|&site| stops[site].clone()));
    let matrix = water.matrix(&points);

    let rules = rules(request, &open, n_ends);
    let days = plan_days(&matrix, &rules, request.days, budget)?;
    let legs: Vec<Vec<Vec<LineString<f64>>>> = days
        .iter()
        .map(|day| {
            day.boats.iter().map(|boat| legs(water, &points, boat, &request.ending)).collect()
        })
        .collect();
    let ways = legs.iter().map(|day| day.iter().map(|boat| joined(boat)).collect()).collect();
    let days = days.into_iter().map(|day| by_site(day, &open, n_ends)).collect();
    let from_beside =
        open.iter().copied().filter(|&site| stops[site].lies() != Lies::InWater).collect();
    Ok(RoutePlan {
        launch,
        landing,
        stops,
        cut_off,
        from_beside,
        days,
        ways,
        legs,
        seed: request.seed,
    })
}

fn check_lengths(request: &RouteRequest) -> Result<(), RouteError> {
    let expected = request.sites.len();
    let lengths = [
        (request.site_minutes.len(), false),
        (request.ranks.len(), true),
        (request.priority.len(), true),
    ];
    for (found, may_be_empty) in lengths {
        if found != expected && !(may_be_empty && found == 0) {
            return Err(RouteError::WrongLength { expected, found });
        }
    }
    for index in [request.first, request.last].into_iter().flatten() {
        if index >= expected {
            return Err(RouteError::NoSuchPoint { index, n_points: expected });
        }
    }
    Ok(())
}

/// The request in points of the matrix.
fn rules(request: &RouteRequest, open: &[usize], n_ends: usize) -> DayRules {
    let point = |site: Option<usize>| {
        site.and_then(|site| open.iter().position(|&s| s == site)).map(|k| k + n_ends)
    };
    DayRules {
        tour: TourRules {
            start: 0,
            finish: match request.ending {
                Ending::AtLaunch => Finish::AtStart,
                Ending::At(_) => Finish::At(1),
                Ending::Anywhere => Finish::Anywhere,
            },
            first: point(request.first),
            last: point(request.last),
            ranks: spread(&request.ranks, 0, open, n_ends),
            seed: request.seed,
        },
        boats: request.boats,
        speed: request.speed,
        site_minutes: spread(&request.site_minutes, 0.0, open, n_ends),
        priority: spread(&request.priority, false, open, n_ends),
        breaks: request.breaks.clone(),
        start: request.start,
        end: request.end,
    }
}

/// One value a site as one value a point; an empty list stays empty.
fn spread<T: Copy>(values: &[T], at_ends: T, open: &[usize], n_ends: usize) -> Vec<T> {
    if values.is_empty() {
        return Vec::new();
    }
    let sites = open.iter().map(|&site| values[site]);
    std::iter::repeat_n(at_ends, n_ends).chain(sites).collect()
}

fn legs(
    water: &WaterDistance,
    points: &[WaterPoint],
    boat: &BoatDay,
    ending: &Ending,
) -> Vec<LineString<f64>> {
    if boat.order.is_empty() {
        return Vec::new();
    }
    let mut stops = vec![&points[0]];
    stops.extend(boat.order.iter().map(|&point| &points[point]));
    match ending {
        Ending::AtLaunch => stops.push(&points[0]),
        Ending::At(_) => stops.push(&points[1]),
        Ending::Anywhere => {}
    }
    // every leg has a distance in the matrix, hence a way
    let leg = |pair: &[&WaterPoint]| water.path(pair[0], pair[1]);
    stops.windows(2).filter_map(leg).collect()
}

/// The legs as one line.
fn joined(legs: &[LineString<f64>]) -> LineString<f64> {
    let first = legs.first().and_then(|leg| leg.0.first()).copied();
    let rest = legs.iter().flat_map(|leg| leg.0.iter().skip(1)).copied();
    LineString::new(first.into_iter().chain(rest).collect())
}

fn by_site(mut day: DayPlan, open: &[usize], n_ends: usize) -> DayPlan {
    let site = |point: usize| open[point - n_ends];
    for boat in &mut day.boats {
        boat.order.iter_mut().for_each(|point| *point = site(*point));
        boat.stops.iter_mut().for_each(|stop| stop.point = site(stop.point));
    }
    day.over.iter_mut().for_each(|point| *point = site(*point));
    day
}
