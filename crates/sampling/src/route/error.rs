use units::Metres;

/// Why there is no route.
///
/// Points are named by their place in the list that was handed over, counted from 0; the caller knows
/// their codes.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RouteError {
    /// No polygon, one without area, or coordinates that are not numbers.
    #[error(
        "the lake has no outline with water inside\n\
         hint: add the shore line first (`quillwort add BOOK outline FILE`)"
    )]
    NoWater,
    /// Shore lines cross in a way that leaves open what is water.
    #[error(
        "the shore line crosses itself or an island, so that it is not clear what is water\n\
         hint: look at the outline on the map, draw the crossing anew and add it again"
    )]
    TangledShore,
    /// Shallows and hazards take all the water.
    #[error(
        "no water is left: all of it is too shallow for a boat that draws `{draft:.2}` m or lies in a hazard\n\
         hint: look at the draft and its unit (feet or metres), or take a smaller boat"
    )]
    DraftDeeperThanWater {
        /// The boat's draft in metres.
        draft: f64,
    },
    /// Nothing to visit.
    #[error(
        "there is no site to visit\nhint: lay the sites first (`quillwort plan BOOK --survey S`)"
    )]
    NoSites,
    /// An index that names no point.
    #[error("there is no point number `{index}` among the `{n_points}` given")]
    NoSuchPoint {
        /// As given.
        index: usize,
        /// How many there are.
        n_points: usize,
    },
    /// A point that no boat reaches from the start.
    #[error(
        "`{n_cut_off}` of the sites cannot be reached by water from the launch\n\
         hint: take another launch or boat for them, or look for a gap in the shallows or under a bridge \
         that the outline shows as closed"
    )]
    CutOff {
        /// How many.
        n_cut_off: usize,
        /// Their places in the list.
        points: Vec<usize>,
    },
    /// A list with one value a point has another length.
    #[error("`{found}` values were given for `{expected}` points, one each is expected")]
    WrongLength {
        /// Points.
        expected: usize,
        /// Values.
        found: usize,
    },
    /// The same site is to be first and last, or the launch is.
    #[error(
        "point `{index}` cannot be both the start or the end and a site to visit first or last\n\
         hint: choose one of the two"
    )]
    TwoPlaces {
        /// The point.
        index: usize,
    },
    /// A boat that does not move.
    #[error(
        "the boat's speed is `{found}` m/s, a speed above 0 is expected\n\
         hint: give it with its unit, such as `5mph` or `8km/h`"
    )]
    Speed {
        /// As given.
        found: f64,
    },
    /// Minutes or hours that cannot be.
    #[error("`{found}` minutes are given for {what}, a number of minutes from 0 up is expected")]
    Minutes {
        /// What they are for.
        what: &'static str,
        /// As given.
        found: f64,
    },
    /// No boat.
    #[error("the plan has no boat\nhint: at least one boat is needed (`--boats 1`)")]
    NoBoat,
    /// The day ends before it starts.
    #[error(
        "the day ends at `{end}`, not after its start at `{start}`\n\
         hint: give the start in 24-hour time, such as `08:30`, and look at the date: near the poles the sun may not rise"
    )]
    DayTooShort {
        /// Start of the day.
        start: jiff::civil::DateTime,
        /// Its end.
        end: jiff::civil::DateTime,
    },
    /// A launch so far from the water that it cannot be meant.
    #[error(
        "the launch lies `{distance:.0}` m from the nearest water a boat can use, at most `{limit:.0}` m are allowed\n\
         hint: look at its coordinates (longitude and latitude swapped?) or give a landmark on the shore"
    )]
    LaunchOnLand {
        /// Metres to the water.
        distance: f64,
        /// Metres allowed.
        limit: f64,
    },
}

impl RouteError {
    pub(crate) fn launch_on_land(distance: Metres, limit: Metres) -> Self {
        Self::LaunchOnLand { distance: distance.metres(), limit: limit.metres() }
    }
}
