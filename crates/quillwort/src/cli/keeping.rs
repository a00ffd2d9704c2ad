//! Keeping a record true: finds settled, copies merged, unknowns named.

use clap::{Args, Subcommand};
use std::path::PathBuf;

/// Verbs that keep the record true.
#[derive(Debug, Subcommand)]
pub(crate) enum KeepingVerb {
    /// Confirm a find of the check, with a reason, or open it again
    Settle(SettleArgs),
    /// Take other copies of a book in
    Merge(MergeArgs),
    /// Edits that contradict each other: list them, or choose
    Conflicts(ConflictsArgs),
    /// Name an unknown plant everywhere at once
    Resolve(ResolveArgs),
    /// How far two crews agree on sites both threw at
    Observers(ObserversArgs),
    /// Where a second person's entry of a survey differs: list it, or choose
    SecondEntry(SecondEntryArgs),
    /// Who changed what in a survey
    History(HistoryArgs),
    /// What a survey is rated on; another scale needs a reason
    Scale(ScaleArgs),
    /// Bring photos of a survey into the book, each to its visit
    Photos(PhotosArgs),
}

/// `settle`.
#[derive(Debug, Args)]
pub(crate) struct SettleArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Name of the find, as `check --json` gives it, such as `depth-off-map:14`
    #[arg(long)]
    pub(crate) find: String,
    /// Why it is right as it is; left out, the find is opened again
    #[arg(long, default_value = "")]
    pub(crate) reason: String,
    /// Who says so
    #[arg(long, default_value = "")]
    pub(crate) by: String,
}

/// `merge`.
#[derive(Debug, Args)]
pub(crate) struct MergeArgs {
    /// The book that takes in
    pub(crate) book: PathBuf,
    /// Copies of it that were edited apart
    #[arg(required = true)]
    pub(crate) others: Vec<PathBuf>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `conflicts`.
#[derive(Debug, Args)]
pub(crate) struct ConflictsArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Settle the conflict of this key
    #[arg(long, requires = "keep")]
    pub(crate) settle: Option<String>,
    /// Keep what stands, or the other edit
    #[arg(long, value_parser = ["current", "other"])]
    pub(crate) keep: Option<String>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `resolve`.
#[derive(Debug, Args)]
pub(crate) struct ResolveArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Code of the unknown
    pub(crate) code: String,
    /// What it is: scientific or common name, or a code of the lake's list
    #[arg(long = "as")]
    pub(crate) name: String,
    /// Who named it
    #[arg(long)]
    pub(crate) by: String,
    /// What the name rests on
    #[arg(long, value_parser = ["photo", "specimen", "expert", "dna"])]
    pub(crate) evidence: String,
    /// The day it was named, ISO
    #[arg(long)]
    pub(crate) on: Option<String>,
    /// Remark
    #[arg(long, default_value = "")]
    pub(crate) note: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `observers`.
#[derive(Debug, Args)]
pub(crate) struct ObserversArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// The survey of the one crew
    #[arg(long)]
    pub(crate) from: String,
    /// The survey of the other crew, at sites of the same codes
    #[arg(long)]
    pub(crate) to: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `second-entry`.
#[derive(Debug, Args)]
pub(crate) struct SecondEntryArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Choose at this site
    #[arg(long, requires = "keep")]
    pub(crate) site: Option<String>,
    /// Which entry is right
    #[arg(long, value_parser = ["first", "second"])]
    pub(crate) keep: Option<String>,
    /// Only in this box of the sheet, such as `depth` or `throw 1`; may be given several times
    #[arg(long = "box", requires = "keep")]
    pub(crate) boxes: Vec<String>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `history`.
#[derive(Debug, Args)]
pub(crate) struct HistoryArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Only what happened to this site's visit
    #[arg(long)]
    pub(crate) site: Option<String>,
    /// At most so many saves
    #[arg(long, default_value_t = 50)]
    pub(crate) limit: usize,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `scale`.
#[derive(Debug, Args)]
pub(crate) struct ScaleArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Rate it on this scale; ratings already written are read on it as they stand
    #[arg(long, requires = "reason")]
    pub(crate) to: Option<String>,
    /// Why it is another scale than the surveys before were rated on
    #[arg(long)]
    pub(crate) reason: Option<String>,
    /// Who says so
    #[arg(long, default_value = "")]
    pub(crate) by: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `photos`.
#[derive(Debug, Args)]
pub(crate) struct PhotosArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Folder of photos; they are read and left as they are
    pub(crate) folder: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Seconds the camera's clock is ahead of the watch (behind: negative)
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) clock_offset: Option<i64>,
    /// A photo whose true time is known, `FILE=2026-07-14T09:15:00`, to put the clock right
    #[arg(long)]
    pub(crate) known: Option<String>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}
