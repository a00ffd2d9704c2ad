//! Sites, effort, route.

use clap::Args;
use std::path::PathBuf;

/// `plan`.
#[derive(Debug, Args)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch on the command line")]
pub(crate) struct PlanArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey; made when new
    #[arg(long)]
    pub(crate) survey: String,
    /// How to lay the sites
    #[arg(long, value_parser = [
        "point-grid", "sub-areas", "shore-sections", "squares", "balanced", "panel", "given", "again",
    ], required_unless_present_any = ["move_site", "drop_site", "restore_site", "add_site", "show"])]
    pub(crate) layout: Option<String>,
    /// File of points for `given`, their numbers are kept; earlier survey for `again`
    pub(crate) file: Option<PathBuf>,
    /// Distance between points, e.g. 70m
    #[arg(long)]
    pub(crate) spacing: Option<String>,
    /// Number of sites: points, parts, or sites of a sample
    #[arg(long)]
    pub(crate) sites: Option<usize>,
    /// Length of a shore section, e.g. 200ft
    #[arg(long)]
    pub(crate) length: Option<String>,
    /// Side of a square, e.g. 250ft
    #[arg(long)]
    pub(crate) side: Option<String>,
    /// Area of a part, e.g. 1ac; for shore sections, of the parts beyond them
    #[arg(long)]
    pub(crate) area: Option<String>,
    /// Partial squares smaller than this share of a square join a neighbour, e.g. 0.5
    #[arg(long)]
    pub(crate) merge: Option<f64>,
    /// Section corners fall on landmarks
    #[arg(long)]
    pub(crate) at_landmarks: bool,
    /// Turn of the grid, degrees clockwise
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) rotation: Option<f64>,
    /// Turn the grid so that its points are spread best
    #[arg(long)]
    pub(crate) best_rotation: bool,
    /// Draw the origin of the grid with the seed; else it starts in the middle of the lake
    #[arg(long)]
    pub(crate) random_origin: bool,
    /// Draws a balanced sample or the origin of a grid; kept with the plan
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
    /// Spare sites of a balanced sample, in the order they are used
    #[arg(long, default_value_t = 0)]
    pub(crate) spares: usize,
    /// Sample each zone, or each band of depth, for itself
    #[arg(long, value_parser = ["zone", "depth"])]
    pub(crate) strata: Option<String>,
    /// Limits of the bands of depth for `--strata depth`, e.g. 5ft,10ft
    #[arg(long, value_delimiter = ',')]
    pub(crate) depth_limits: Vec<String>,
    /// The same number of sites to each stratum, not in proportion to its water
    #[arg(long)]
    pub(crate) equal_strata: bool,
    /// Spread the sample by random tessellation: every run of its order is spread out too
    #[arg(long)]
    pub(crate) tessellation: bool,
    /// Of a panel's sites, those visited every year
    #[arg(long, default_value_t = 0)]
    pub(crate) every_year: usize,
    /// Years until a panel's turn is round
    #[arg(long, default_value_t = 3)]
    pub(crate) years: u16,
    /// Shallowest water to lay sites in, e.g. 1ft
    #[arg(long)]
    pub(crate) min_depth: Option<String>,
    /// Deepest water to lay sites in, e.g. 15ft
    #[arg(long)]
    pub(crate) max_depth: Option<String>,
    /// Zones to lay sites in, by code
    #[arg(long, value_delimiter = ',')]
    pub(crate) zones: Vec<String>,
    /// Distance to keep from hazards, e.g. 100ft; 15 m when not given
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) keep_away: Option<String>,
    /// So many times as many sites inside treatment areas, e.g. 4
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) denser_in_treatments: Option<f64>,
    /// So many times as many sites near launches, where plants arrive, e.g. 4
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) denser_near_launches: Option<f64>,
    /// How near a launch, e.g. 300ft
    #[arg(long)]
    pub(crate) denser_within: Option<String>,
    /// System of the file's coordinates
    #[arg(long)]
    pub(crate) crs: Option<String>,
    /// Rating scale: dominance, handful, words, fullness, cover, presence
    #[arg(long)]
    pub(crate) scale: Option<String>,
    /// Why it is another scale than the surveys before were rated on
    #[arg(long)]
    pub(crate) scale_reason: Option<String>,
    /// Rake throws a site
    #[arg(long)]
    pub(crate) throws: Option<u8>,
    /// Why: baseline, pre-treatment, post-treatment, early-detection, delineation, other
    #[arg(long)]
    pub(crate) purpose: Option<String>,
    /// Lay the sites again although some are there and none is visited yet
    #[arg(long)]
    pub(crate) again: bool,
    /// Show the plan, store nothing
    #[arg(long)]
    pub(crate) preview: bool,
    /// Show the plan that is kept, with what was changed by hand
    #[arg(long, conflicts_with = "layout")]
    pub(crate) show: bool,
    /// Move a site, by code, to the place given by `--to`
    #[arg(long, value_name = "SITE", requires_all = ["to", "why", "by"], group = "change")]
    pub(crate) move_site: Option<String>,
    /// Drop a site, by code; it stays on record and its number is never used again
    #[arg(long, value_name = "SITE", requires_all = ["why", "by"], group = "change")]
    pub(crate) drop_site: Option<String>,
    /// Take a dropped site back into the plan
    #[arg(long, value_name = "SITE", requires_all = ["why", "by"], group = "change")]
    pub(crate) restore_site: Option<String>,
    /// Add a site at `--to` under this code; the next number when none is given
    #[arg(long, value_name = "SITE", num_args = 0..=1, default_missing_value = "new", requires_all = ["to", "why", "by"], group = "change")]
    pub(crate) add_site: Option<String>,
    /// Where to: latitude and longitude in degrees, e.g. 44.6023,-94.5019
    #[arg(long, value_name = "LAT,LON", allow_hyphen_values = true)]
    pub(crate) to: Option<String>,
    /// With `--drop-site`: the first spare takes its place
    #[arg(long, requires = "drop_site")]
    pub(crate) use_spare: bool,
    /// Why a site is changed; kept with the change
    #[arg(long)]
    pub(crate) why: Option<String>,
    /// Who decided it; kept with the change
    #[arg(long)]
    pub(crate) by: Option<String>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `route`.
#[derive(Debug, Args)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch on the command line")]
pub(crate) struct RouteArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// How it is to be gone about
    #[command(flatten)]
    pub(crate) day: DayArgs,
    /// Keep it: sheets, GPS files and the page follow it from now on
    #[arg(long)]
    pub(crate) keep: bool,
    /// Show the kept one
    #[arg(long, conflicts_with_all = ["keep", "forget"])]
    pub(crate) kept: bool,
    /// Forget the kept one: the papers follow the plan again
    #[arg(long, conflicts_with = "keep")]
    pub(crate) forget: bool,
    /// Also write the distances by water between launch and sites, in metres, to this CSV file
    #[arg(long, value_name = "FILE", conflicts_with_all = ["kept", "forget"])]
    pub(crate) matrix: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// A day on the water, as `route` and the papers take it.
#[derive(Debug, Default, Args)]
pub(crate) struct DayArgs {
    /// Launch, by name; the lake's only one when not given
    #[arg(long)]
    pub(crate) from: Option<String>,
    /// Where the boats end; back at the launch when not given
    #[arg(long)]
    pub(crate) to: Option<String>,
    /// Boats [default: 1]
    #[arg(long)]
    pub(crate) boats: Option<usize>,
    /// Days [default: 1]
    #[arg(long)]
    pub(crate) days: Option<usize>,
    /// Speed between sites, e.g. 5mph [default: 4mph]
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) speed: Option<String>,
    /// Minutes a site; from depth and throws when not given
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) minutes_per_site: Option<f64>,
    /// Water the boat needs, e.g. 1ft
    #[arg(long)]
    pub(crate) draft: Option<String>,
    /// The first day, ISO; today when not given
    #[arg(long)]
    pub(crate) date: Option<String>,
    /// When the boats leave [default: 08:30]
    #[arg(long)]
    pub(crate) start: Option<String>,
    /// When they have to be back; sunset when not given
    #[arg(long)]
    pub(crate) back_by: Option<String>,
    /// A rest, when and how many minutes, e.g. 12:00/30
    #[arg(long)]
    pub(crate) rest: Option<String>,
    /// Site to visit first
    #[arg(long, value_name = "SITE")]
    pub(crate) first: Option<String>,
    /// Site to visit last
    #[arg(long, value_name = "SITE")]
    pub(crate) last: Option<String>,
    /// Sites to visit early and to leave out last, e.g. 12,13
    #[arg(long, value_name = "SITES")]
    pub(crate) early: Option<String>,
    /// From the least infested sites to the most, by the last survey with a record
    #[arg(long)]
    pub(crate) cleanest_first: bool,
    /// Hours local time is ahead of UTC, e.g. -5; from the lake's state, else this machine's
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) utc_offset: Option<f64>,
    /// Seconds to search for a better order [default: 2]
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) budget: Option<f64>,
    /// Draws the search [default: 1]
    #[arg(long)]
    pub(crate) seed: Option<u64>,
}
