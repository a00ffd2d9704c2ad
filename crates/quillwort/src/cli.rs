//! What can be typed. Behaviour lives in `commands`.

mod effort;
mod findings;
pub(crate) mod keeping;
mod lake;
mod outward;
mod plan;
mod record;
mod serve;
pub(crate) mod writing;

use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

pub(crate) use effort::EffortArgs;
pub(crate) use findings::{CompareArgs, EfficacyArgs, LimitArgs, SpreadArgs, TrendArgs};
pub(crate) use lake::{AddArgs, AddKind, LakeArgs, NewArgs};
pub(crate) use outward::{BackupArgs, ExportArgs, KitArgs, PrintArgs};
pub(crate) use plan::{DayArgs, PlanArgs, RouteArgs};
pub(crate) use record::{AmendArgs, RecordArgs, SealArgs};
pub(crate) use serve::{DemoArgs, ServeArgs};

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
#[expect(clippy::large_enum_variant, reason = "one is made in the life of the program")]
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
    /// Print sheets, maps, kit list, safety page, labels, cards, the report, or the whole packet
    Print(PrintArgs),
    /// The kit list: show it, or make it the lake's own
    Kit(KitArgs),
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
    /// Whether a treatment worked, against what was not treated
    Efficacy(EfficacyArgs),
    /// What the lake board calls too much, in its own words
    Limit(LimitArgs),
    /// What became commoner or rarer over the years
    Trend(TrendArgs),
    /// Where a plant moved between two surveys
    Spread(SpreadArgs),
    /// Write the record in an open format
    Export(ExportArgs),
    /// Copy a book while it is in use
    Backup(BackupArgs),
    /// Keep the record true
    #[command(flatten)]
    Keeping(keeping::KeepingVerb),
    /// Write up one thing
    #[command(flatten)]
    Writing(writing::WritingVerb),
    /// Open a book, or a folder of them, in the browser
    Serve(ServeArgs),
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
