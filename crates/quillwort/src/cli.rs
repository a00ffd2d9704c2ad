//! What can be typed. Behaviour lives in `commands`.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Keeps a lake's plants on record: map, plan, record, findings, report.
///
/// Without a verb the last lake book opens in the browser.
#[derive(Debug, Parser)]
#[command(name = "quillwort", version, max_term_width = 100)]
pub(crate) struct Cli {
    /// The step to take.
    #[command(subcommand)]
    pub(crate) verb: Option<Verb>,
}

/// The verbs follow the job.
#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// Make the invented lake and open it
    Demo(DemoArgs),
    /// Make a lake book
    New(NewArgs),
    /// Add a shape, depths, places or species to the lake
    Add(AddArgs),
    /// Measures of the lake: area, depth, volume, littoral zone
    Lake(LakeArgs),
    /// Lay the sites of a survey
    Plan(PlanArgs),
    /// How many sites and throws a purpose needs on this lake
    Effort(EffortArgs),
    /// Order of the sites, hours and boats
    Route(RouteArgs),
    /// Print field sheets, the site map or the report
    Print(PrintArgs),
    /// Read a file of records into a survey
    Record(RecordArgs),
    /// What is missing from a survey, and what looks like a slip
    Check(SurveyArgs),
    /// Change visits of a sealed survey, signed and with a reason
    Amend(AmendArgs),
    /// Close a survey's record with a checksum
    Seal(SealArgs),
    /// Recompute every seal and the change log's chain
    Verify(BookArgs),
    /// The surveys of a book
    Surveys(BookArgs),
    /// What one survey says
    Findings(SurveyArgs),
    /// What changed between two surveys
    Compare(CompareArgs),
    /// Write the record in an open format
    Export(ExportArgs),
    /// Copy a book while it is in use
    Backup(BackupArgs),
    /// Open a book, or a folder of them, in the browser
    Serve(ServeArgs),
}

/// `demo`.
#[derive(Debug, Args)]
pub(crate) struct DemoArgs {
    /// Folder for the demo book
    #[arg(long, default_value = "demo-lake")]
    pub(crate) dir: PathBuf,
    /// Only write the book
    #[arg(long)]
    pub(crate) no_serve: bool,
    /// Where to listen
    #[arg(long, default_value = "127.0.0.1:4310")]
    pub(crate) listen: String,
    /// Do not open a browser
    #[arg(long)]
    pub(crate) no_browser: bool,
}

/// `new`.
#[derive(Debug, Args)]
pub(crate) struct NewArgs {
    /// File of the book; `.gpkg` is added when missing
    pub(crate) book: PathBuf,
    /// Name of the lake
    #[arg(long)]
    pub(crate) name: String,
    /// Units people read
    #[arg(long, default_value = "us", value_parser = ["us", "metric"])]
    pub(crate) units: String,
    /// Projected system to compute in, e.g. EPSG:26916; UTM of the lake when not given
    #[arg(long)]
    pub(crate) crs: Option<String>,
    /// State or region, e.g. WI: origins of plants and C values are looked up under it
    #[arg(long, default_value = "")]
    pub(crate) region: String,
    /// County
    #[arg(long, default_value = "")]
    pub(crate) county: String,
    /// The state's number of the water body
    #[arg(long, default_value = "")]
    pub(crate) water_body_number: String,
    /// What the depths count from
    #[arg(long, default_value = "full pool")]
    pub(crate) depth_datum: String,
    /// How species codes are made: 2+2 or 3+3 letters of the scientific name, or initials of the
    /// common name
    #[arg(long, default_value = "2+2", value_parser = ["2+2", "3+3", "initials"])]
    pub(crate) codes: String,
}

/// What `add` takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum AddKind {
    /// Shoreline with islands
    Outline,
    /// Soundings: x, y, depth
    Depths,
    /// Lines or rings of equal depth
    Contours,
    /// Named parts of the lake
    Zones,
    /// Parts of zones
    SubAreas,
    /// Named places, launches, hazards
    Landmarks,
    /// What was treated, where and when
    Treatments,
    /// Names of plants for the lake's list, one a line
    Species,
}

/// `add`.
#[derive(Debug, Args)]
pub(crate) struct AddArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// What the file holds
    pub(crate) kind: AddKind,
    /// The file
    pub(crate) file: PathBuf,
    /// Layer within the file, or the feature to take, by name
    #[arg(long)]
    pub(crate) layer: Option<String>,
    /// System of the file's coordinates, e.g. EPSG:3071, when the file does not say
    #[arg(long)]
    pub(crate) crs: Option<String>,
    /// Unit of the file's depths
    #[arg(long)]
    pub(crate) unit: Option<String>,
    /// Elevation of the water surface, for a raster of bed elevations, in its own unit
    #[arg(long)]
    pub(crate) surface: Option<f64>,
    /// Column that holds the depth
    #[arg(long)]
    pub(crate) depth_column: Option<String>,
    /// Column that holds the code
    #[arg(long)]
    pub(crate) code_column: Option<String>,
    /// Column that holds the name
    #[arg(long)]
    pub(crate) name_column: Option<String>,
    /// Show what would be stored, store nothing
    #[arg(long)]
    pub(crate) preview: bool,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// A verb that reads a book.
#[derive(Debug, Args)]
pub(crate) struct BookArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// A verb that reads a survey.
#[derive(Debug, Args)]
pub(crate) struct SurveyArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `lake`.
#[derive(Debug, Args)]
pub(crate) struct LakeArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Shallow limit of the littoral zone, e.g. 1ft
    #[arg(long)]
    pub(crate) min_depth: Option<String>,
    /// Deep limit of the littoral zone, e.g. 8ft
    #[arg(long)]
    pub(crate) max_depth: Option<String>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `plan`.
#[derive(Debug, Args)]
pub(crate) struct PlanArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey; made when new
    #[arg(long)]
    pub(crate) survey: String,
    /// How to lay the sites
    #[arg(long, value_parser = [
        "point-grid", "sub-areas", "shore-sections", "squares", "balanced", "panel", "given", "again",
    ])]
    pub(crate) layout: String,
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
    #[arg(long)]
    pub(crate) rotation: Option<f64>,
    /// Draws a balanced sample; kept with the plan
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
    /// Spare sites of a balanced sample, in the order they are used
    #[arg(long, default_value_t = 0)]
    pub(crate) spares: usize,
    /// Sample each zone, or each band of depth, for itself
    #[arg(long, value_parser = ["zone", "depth"])]
    pub(crate) strata: Option<String>,
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
    /// System of the file's coordinates
    #[arg(long)]
    pub(crate) crs: Option<String>,
    /// Rating scale: dominance, handful, words, fullness, cover, presence
    #[arg(long)]
    pub(crate) scale: Option<String>,
    /// Rake throws a site
    #[arg(long)]
    pub(crate) throws: Option<u8>,
    /// Why: baseline, pre-treatment, post-treatment, early-detection, delineation, other
    #[arg(long)]
    pub(crate) purpose: Option<String>,
    /// Lay the sites again although some are there and none is visited yet
    #[arg(long)]
    pub(crate) again: bool,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `effort`.
#[derive(Debug, Args)]
pub(crate) struct EffortArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// What for; every purpose in a sentence when not given
    #[arg(long, value_parser = ["richness", "detect", "estimate", "change", "delineate", "treatment"])]
    pub(crate) purpose: Option<String>,
    /// Share of sites where the species grows, 0 to 1
    #[arg(long)]
    pub(crate) occupancy: Option<f64>,
    /// Chance of one throw to bring the plant up where it grows, 0 to 1
    #[arg(long)]
    pub(crate) detection: Option<f64>,
    /// Throws a site
    #[arg(long)]
    pub(crate) throws: Option<u32>,
    /// Confidence, 0 to 1
    #[arg(long)]
    pub(crate) confidence: Option<f64>,
    /// Margin of the frequency, or relative margin of a bed's acreage, 0 to 1
    #[arg(long)]
    pub(crate) margin: Option<f64>,
    /// Share of sites before, 0 to 1
    #[arg(long)]
    pub(crate) from: Option<f64>,
    /// Share of sites after, 0 to 1
    #[arg(long)]
    pub(crate) to: Option<f64>,
    /// Chance to show the change if it is there, 0 to 1
    #[arg(long)]
    pub(crate) power: Option<f64>,
    /// Area of the bed to be found or measured, e.g. 0.5ac
    #[arg(long)]
    pub(crate) patch_area: Option<String>,
    /// A number of sites to judge
    #[arg(long)]
    pub(crate) sites: Option<usize>,
    /// Survey whose pattern of plants the virtual surveys draw from
    #[arg(long)]
    pub(crate) survey: Option<String>,
    /// Shallow limit of the water asked about
    #[arg(long)]
    pub(crate) min_depth: Option<String>,
    /// Deep limit of the water asked about
    #[arg(long)]
    pub(crate) max_depth: Option<String>,
    /// Zones asked about, by code
    #[arg(long, value_delimiter = ',')]
    pub(crate) zones: Vec<String>,
    /// Virtual surveys for each number of sites; 0 for the formula alone
    #[arg(long, default_value_t = 2000)]
    pub(crate) runs: usize,
    /// Draws the virtual surveys
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `route`.
#[derive(Debug, Args)]
pub(crate) struct RouteArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Launch, by name; the lake's only one when not given
    #[arg(long)]
    pub(crate) from: Option<String>,
    /// Where the boats end; back at the launch when not given
    #[arg(long)]
    pub(crate) to: Option<String>,
    /// Boats
    #[arg(long, default_value_t = 1)]
    pub(crate) boats: usize,
    /// Days
    #[arg(long, default_value_t = 1)]
    pub(crate) days: usize,
    /// Speed between sites, e.g. 5mph
    #[arg(long, default_value = "4mph")]
    pub(crate) speed: String,
    /// Minutes a site; from depth and throws when not given
    #[arg(long)]
    pub(crate) minutes_per_site: Option<f64>,
    /// Water the boat needs, e.g. 1ft
    #[arg(long)]
    pub(crate) draft: Option<String>,
    /// The day, ISO; today when not given
    #[arg(long)]
    pub(crate) date: Option<String>,
    /// When the boats leave
    #[arg(long, default_value = "08:30")]
    pub(crate) start: String,
    /// When they have to be back; sunset when not given
    #[arg(long)]
    pub(crate) back_by: Option<String>,
    /// Hours local time is ahead of UTC, e.g. -5; this machine's when not given
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) utc_offset: Option<f64>,
    /// Seconds to search for a better order
    #[arg(long, default_value_t = 2.0)]
    pub(crate) budget: f64,
    /// Draws the search
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// What `print` makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// Field sheets
    Sheets,
    /// Site map
    Map,
    /// Report of a survey
    Report,
}

/// `print`.
#[derive(Debug, Args)]
pub(crate) struct PrintArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// What to print
    pub(crate) what: Paper,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// PDF to write
    #[arg(short, long)]
    pub(crate) output: PathBuf,
    /// Paper
    #[arg(long, default_value = "letter", value_parser = ["letter", "a4"])]
    pub(crate) paper: String,
    /// Black ink only
    #[arg(long)]
    pub(crate) black_and_white: bool,
}

/// `record`.
#[derive(Debug, Args)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch on the command line")]
pub(crate) struct RecordArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Table or workbook, one row a find or one row a site
    pub(crate) file: PathBuf,
    /// Name of the survey; made when new
    #[arg(long)]
    pub(crate) survey: String,
    /// What the columns mean, a TOML file
    #[arg(long)]
    pub(crate) columns: Option<PathBuf>,
    /// Write what the columns were taken for to this file, for next year
    #[arg(long)]
    pub(crate) save_columns: Option<PathBuf>,
    /// Sheet of a workbook
    #[arg(long)]
    pub(crate) sheet: Option<String>,
    /// Show what would be stored, store nothing
    #[arg(long)]
    pub(crate) preview: bool,
    /// Rating scale of the file
    #[arg(long)]
    pub(crate) scale: Option<String>,
    /// Make a scale of the ratings found
    #[arg(long)]
    pub(crate) new_scale: bool,
    /// Take unseen names as new species of the lake
    #[arg(long)]
    pub(crate) new_taxa: bool,
    /// Unit of depths when the column does not say
    #[arg(long)]
    pub(crate) unit: Option<String>,
    /// First day, ISO, when the file has no dates
    #[arg(long)]
    pub(crate) date: Option<String>,
    /// System of x and y columns
    #[arg(long)]
    pub(crate) crs: Option<String>,
    /// Who was there, `name:role`, role rake, recorder, boat or lead; a `*` marks who named plants
    #[arg(long)]
    pub(crate) crew: Vec<String>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `amend`.
#[derive(Debug, Args)]
pub(crate) struct AmendArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Table of the visits as they should read; visits of other sites stay
    pub(crate) file: PathBuf,
    /// Name of the sealed survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Who signs
    #[arg(long)]
    pub(crate) by: String,
    /// Why
    #[arg(long)]
    pub(crate) why: String,
    /// What the columns mean, a TOML file
    #[arg(long)]
    pub(crate) columns: Option<PathBuf>,
    /// Unit of depths when the column does not say
    #[arg(long)]
    pub(crate) unit: Option<String>,
    /// Take unseen names as new species of the lake
    #[arg(long)]
    pub(crate) new_taxa: bool,
}

/// `seal`.
#[derive(Debug, Args)]
pub(crate) struct SealArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Who closes it
    #[arg(long)]
    pub(crate) by: String,
    /// Close it although faults are open, and say why
    #[arg(long)]
    pub(crate) despite: Option<String>,
}

/// `compare`.
#[derive(Debug, Args)]
pub(crate) struct CompareArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Earlier survey
    #[arg(long)]
    pub(crate) from: String,
    /// Later survey
    #[arg(long)]
    pub(crate) to: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `export`.
#[derive(Debug, Args)]
pub(crate) struct ExportArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Format
    #[arg(long = "as", value_parser = ["csv", "geojson", "gpx", "kml"])]
    pub(crate) format: String,
    /// File or folder to write
    #[arg(short, long)]
    pub(crate) output: PathBuf,
    /// Name of the survey; every survey when not given
    #[arg(long)]
    pub(crate) survey: Option<String>,
}

/// `backup`.
#[derive(Debug, Args)]
pub(crate) struct BackupArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Copy to write
    #[arg(short, long)]
    pub(crate) output: PathBuf,
}

/// `serve`.
#[derive(Debug, Args)]
pub(crate) struct ServeArgs {
    /// A book, or a folder that holds books
    pub(crate) book: PathBuf,
    /// Where to listen
    #[arg(long, default_value = "127.0.0.1:4310")]
    pub(crate) listen: String,
    /// Open a browser
    #[arg(long)]
    pub(crate) open: bool,
}
