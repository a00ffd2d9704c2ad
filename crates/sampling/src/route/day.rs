use super::fleet::{Fleet, Meter};
use super::lin_kernighan::Budget;
use super::pace::{Break, Breaks, check};
use super::tour::{Finish, TourRules};
use super::{Matrix, RouteError};
use jiff::civil::DateTime;
use jiff::{SignedDuration, ToSpan};
use units::{Metres, MetresPerSecond};

/// A day on the water: boats, hours and pace.
#[derive(Debug, Clone, PartialEq)]
pub struct DayRules {
    /// Start, end and order of the sites. With several boats the first site comes first, and the last
    /// one last, in the boat that has it.
    pub tour: TourRules,
    /// How many boats work side by side.
    pub boats: usize,
    /// Their speed between sites.
    pub speed: MetresPerSecond,
    /// Minutes at each point of the matrix; those of start and end are not looked at.
    pub site_minutes: Vec<f64>,
    /// Sites that are left out last when the day is too short; empty when all are alike.
    pub priority: Vec<bool>,
    /// Rests.
    pub breaks: Vec<Break>,
    /// When the boats leave.
    pub start: DateTime,
    /// When they have to be back: a set hour, or sunset less a margin.
    pub end: DateTime,
}

/// A site on a boat's way and its hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// The point of the matrix.
    pub point: usize,
    /// When the boat comes.
    pub arrive: DateTime,
    /// When it leaves.
    pub leave: DateTime,
}

/// What one boat does in a day.
#[derive(Debug, Clone, PartialEq)]
pub struct BoatDay {
    /// The sites in order.
    pub order: Vec<usize>,
    /// The same with their hours.
    pub stops: Vec<Stop>,
    /// Way from the start through the sites to the end.
    pub length: Metres,
    /// Minutes from leaving to coming back, breaks included; 0 for a boat without sites.
    pub minutes: f64,
    /// When it is back.
    pub finish: DateTime,
}

/// A day's plan.
#[derive(Debug, Clone, PartialEq)]
pub struct DayPlan {
    /// One a boat.
    pub boats: Vec<BoatDay>,
    /// True when no site is over.
    pub fits: bool,
    /// Sites for which there is no time, in order of their numbers.
    pub over: Vec<usize>,
}

impl DayPlan {
    /// Length of all ways.
    pub fn length(&self) -> Metres {
        self.boats.iter().map(|boat| boat.length).sum()
    }

    /// When the last boat is back; none without boats.
    pub fn home(&self) -> Option<DateTime> {
        self.boats.iter().map(|boat| boat.finish).max()
    }

    fn has_work(&self) -> bool {
        self.boats.iter().any(|boat| !boat.order.is_empty())
    }
}

/// A plan in a sentence: `two boats, one day, home by 3:40 pm`, or `does not fit: 14 sites over`.
///
/// The hour is the latest of all days, rounded up to five minutes: a promise to those on shore.
pub fn sentence(days: &[DayPlan]) -> String {
    let count = |n: usize, one: &str, many: &str| {
        let word = ["no", "one", "two", "three", "four", "five", "six"].get(n);
        let number = word.map_or_else(|| n.to_string(), |&word| word.to_owned());
        format!("{number} {}", if n == 1 { one } else { many })
    };
    let n_over: usize = days.iter().map(|day| day.over.len()).sum();
    if n_over > 0 {
        return format!(
            "does not fit: {n_over} {} over",
            if n_over == 1 { "site" } else { "sites" }
        );
    }
    let at_work = |day: &DayPlan| day.boats.iter().filter(|boat| !boat.order.is_empty()).count();
    let n_boats = days.iter().map(at_work).max().unwrap_or(0);
    let n_days = days.iter().filter(|day| day.has_work()).count();
    let minutes = |home: DateTime| {
        let late = home.second() > 0 || home.subsec_nanosecond() > 0;
        i64::from(home.hour()) * 60 + i64::from(home.minute()) + i64::from(late)
    };
    let latest = days
        .iter()
        .filter(|day| day.has_work())
        .filter_map(|day| day.home().map(minutes))
        .max()
        .map_or(0, |minutes| (minutes + 4) / 5 * 5);
    let half = if latest / 60 % 24 < 12 { "am" } else { "pm" };
    format!(
        "{}, {}, home by {}:{:02} {half}",
        count(n_boats, "boat", "boats"),
        count(n_days, "day", "days"),
        (latest / 60 + 11) % 12 + 1,
        latest % 60
    )
}

/// Plans a day: shares the sites out among the boats so that the last is back as early as can be, each from
/// the start through its sites to the end; what does not fit is said site by site.
///
/// # Formula
/// Minutes of a boat = way / speed + Σ minutes at its sites + breaks that begin before it is back. Least
/// is the longest of the boats, then the sum. When the day is too short the number of priority sites over is
/// least, then the number of sites over.
/// # Assumptions
/// Calm water and a steady speed; leave a margin for wind, waves and a fouled motor. Near-optimal: a
/// plan of one or two sites fewer over may exist.
/// # Errors
/// [`RouteError::NoBoat`], [`RouteError::Speed`], [`RouteError::Minutes`], [`RouteError::WrongLength`],
/// [`RouteError::DayTooShort`], and those of [`super::shortest_tour`].
pub fn plan_day(
    matrix: &Matrix,
    rules: &DayRules,
    budget: Budget<'_>,
) -> Result<DayPlan, RouteError> {
    let mut days = plan_days(matrix, rules, 1, budget)?;
    days.pop().ok_or(RouteError::NoSites)
}

/// Plans several days of the same hours, one date after another, balanced over all of them. Sites that do not fit
/// even so are over on the last day. Where ranks are given, the parts of lowest rank are gone to first.
///
/// # Errors
/// As [`plan_day`].
pub fn plan_days(
    matrix: &Matrix,
    rules: &DayRules,
    n_days: usize,
    budget: Budget<'_>,
) -> Result<Vec<DayPlan>, RouteError> {
    let breaks = checked(matrix, rules, n_days)?;
    let available = rules.end.duration_since(rules.start).as_secs_f64() / 60.0;
    let fleet = Fleet::new(
        matrix,
        &rules.tour,
        1.0 / (60.0 * rules.speed.metres_per_second()),
        &rules.site_minutes,
        &rules.priority,
        (rules.boats * n_days, breaks.room(available)),
    );
    let share = fleet.share(&mut Meter::new(budget))?;
    let mut routes = share.routes;
    let rank = |route: &Vec<usize>| {
        route.iter().filter_map(|&site| rules.tour.ranks.get(site)).copied().max().unwrap_or(0)
    };
    // empty ones last, so that a day less is seen as such
    routes.sort_by_key(|route| (route.is_empty(), rank(route)));
    let mut over = share.over;
    over.sort_unstable();
    let days = routes.chunks(rules.boats).enumerate().map(|(day, routes)| {
        let start = rules.start.saturating_add((day as i64).days());
        let boats = routes.iter().map(|route| boat_day(&fleet, &breaks, start, route)).collect();
        let over = if day + 1 == n_days { std::mem::take(&mut over) } else { Vec::new() };
        DayPlan { boats, fits: over.is_empty(), over }
    });
    Ok(days.collect())
}

/// The fewest days, up to `most`, in which all sites fit; their plan, or that of `most` days with the sites over.
///
/// # Errors
/// As [`plan_day`].
pub fn fewest_days(
    matrix: &Matrix,
    rules: &DayRules,
    most: usize,
    kicks_a_try: u64,
) -> Result<Vec<DayPlan>, RouteError> {
    let breaks = checked(matrix, rules, most)?;
    let available = rules.end.duration_since(rules.start).as_secs_f64() / 60.0;
    let room = breaks.room(available) * rules.boats as f64;
    let least: f64 = (0..matrix.len())
        .filter(|&point| point != rules.tour.start && rules.tour.finish != Finish::At(point))
        .map(|site| rules.site_minutes[site])
        .sum();
    let first = if room > 0.0 { ((least / room).ceil() as usize).clamp(1, most) } else { most };
    for n_days in first..most {
        let plan = plan_days(matrix, rules, n_days, Budget::Kicks(kicks_a_try))?;
        if plan.iter().all(|day| day.fits) {
            return Ok(plan);
        }
    }
    plan_days(matrix, rules, most, Budget::Kicks(kicks_a_try))
}

fn checked(matrix: &Matrix, rules: &DayRules, n_days: usize) -> Result<Breaks, RouteError> {
    if rules.boats == 0 || n_days == 0 {
        return Err(RouteError::NoBoat);
    }
    let speed = rules.speed.metres_per_second();
    if speed <= 0.0 {
        return Err(RouteError::Speed { found: speed });
    }
    let n = matrix.len();
    if rules.site_minutes.len() != n {
        return Err(RouteError::WrongLength { expected: n, found: rules.site_minutes.len() });
    }
    if !rules.priority.is_empty() && rules.priority.len() != n {
        return Err(RouteError::WrongLength { expected: n, found: rules.priority.len() });
    }
    for &minutes in &rules.site_minutes {
        check("a site", minutes)?;
    }
    if rules.end <= rules.start {
        return Err(RouteError::DayTooShort { start: rules.start, end: rules.end });
    }
    Breaks::new(&rules.breaks)
}

fn boat_day(fleet: &Fleet<'_>, breaks: &Breaks, start: DateTime, route: &[usize]) -> BoatDay {
    let clock = |work: f64| {
        let millis = (breaks.elapsed(work) * 60_000.0).round() as i64;
        start.saturating_add(SignedDuration::from_millis(millis))
    };
    let mut work = 0.0;
    let mut here = fleet.rules.start;
    let mut stops = Vec::with_capacity(route.len());
    for &point in route {
        work += fleet.matrix.metres(here, point) * fleet.minutes_a_metre;
        let arrive = clock(work);
        work += fleet.site_minutes[point];
        stops.push(Stop { point, arrive, leave: clock(work) });
        here = point;
    }
    let work = fleet.work(route);
    BoatDay {
        order: route.to_vec(),
        stops,
        length: Metres::new(fleet.metres(route)),
        minutes: breaks.elapsed(work),
        finish: clock(work),
    }
}
