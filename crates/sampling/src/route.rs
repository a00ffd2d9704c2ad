//! The day on the water: distances by water, the order of the sites, boats and hours.
//!
//! [`WaterDistance`] measures round islands, capes, shallows and hazards; [`shortest_tour`] orders points;
//! [`plan_day`] shares them out among boats and sets the hours. [`plan_route`] does all three and draws the ways: start
//! reading there. Daylight comes from [`crate::solar`].
//!
//! The module has no clock: how long the search may take is a count or a question put to the caller
//! ([`Budget`]). The same seed and count give the same plan on every machine.

mod day;
mod error;
mod fleet;
mod graph;
mod lin_kernighan;
mod matrix;
mod mesh;
mod pace;
mod plan;
mod sight;
mod tour;
mod water;

pub use day::{BoatDay, DayPlan, DayRules, Stop, fewest_days, plan_day, plan_days, sentence};
pub use error::RouteError;
pub use lin_kernighan::Budget;
pub use matrix::Matrix;
pub use pace::{Break, SiteMinutes};
pub use plan::{Ending, RoutePlan, RouteRequest, plan_route};
pub use tour::{Finish, Tour, TourRules, ranks, shortest_tour};
pub use water::{KeepOut, KeepOutReason, Lies, WaterDistance, WaterPoint};
