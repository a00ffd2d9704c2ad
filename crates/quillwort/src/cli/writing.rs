//! Writing up a survey one thing at a time.

use clap::{Args, Subcommand};
use std::path::PathBuf;

/// Verbs that write one thing of an open survey.
#[derive(Debug, Subcommand)]
pub(crate) enum WritingVerb {
    /// What is written of one site: show it, or write it up
    Visit(VisitArgs),
    /// Beds seen at the surface: list them, or write one down
    Bed(BedArgs),
    /// Plants found washed up or growing on the shore: list them, or write one down
    Shoreline(ShorelineArgs),
    /// Specimens kept: list them, or write one down
    Specimen(SpecimenArgs),
}

/// `visit`.
#[derive(Debug, Args)]
pub(crate) struct VisitArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Code of the site
    #[arg(long)]
    pub(crate) site: String,
    /// A throw as on the sheet, `1: CEDE M, POCR T V, = D`; `2: 0` came up bare, `3: -` was not made
    #[arg(long = "throw")]
    pub(crate) throws: Vec<String>,
    /// Depth measured, such as `6.5ft`
    #[arg(long)]
    pub(crate) depth: Option<String>,
    /// Local time, `2026-07-14T09:15`
    #[arg(long)]
    pub(crate) time: Option<String>,
    /// Bottom, such as `muck`
    #[arg(long)]
    pub(crate) bottom: Option<String>,
    /// Why it was not sampled, such as `too-deep` or `not-navigable-plants`
    #[arg(long, conflicts_with = "throws")]
    pub(crate) not_sampled: Option<String>,
    /// Who wrote the sheet
    #[arg(long)]
    pub(crate) observer: Option<String>,
    /// Remark
    #[arg(long)]
    pub(crate) note: Option<String>,
    /// Take out what is written of the site
    #[arg(long, conflicts_with_all = ["throws", "depth", "time", "bottom", "not_sampled", "observer", "note"])]
    pub(crate) delete: bool,
    /// Who is writing
    #[arg(long, default_value = "")]
    pub(crate) by: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `bed`.
#[derive(Debug, Args)]
pub(crate) struct BedArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Codes of what grows in it, parted by commas
    #[arg(long, value_delimiter = ',')]
    pub(crate) plants: Vec<String>,
    /// How dense, a code of the survey's scale
    #[arg(long)]
    pub(crate) rating: Option<String>,
    /// Code of the site it was noted at
    #[arg(long)]
    pub(crate) site: Option<String>,
    /// Remark
    #[arg(long)]
    pub(crate) note: Option<String>,
    /// Key of the bed to change, as the list gives it
    #[arg(long)]
    pub(crate) key: Option<String>,
    /// Key of the bed to take out
    #[arg(long, conflicts_with_all = ["plants", "rating", "site", "note", "key"])]
    pub(crate) delete: Option<String>,
    /// Who is writing
    #[arg(long, default_value = "")]
    pub(crate) by: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `shoreline`.
#[derive(Debug, Args)]
pub(crate) struct ShorelineArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Code of the plant
    #[arg(long)]
    pub(crate) plant: Option<String>,
    /// Where it stood: latitude, longitude in degrees
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// Code of the zone, when that is all that is known
    #[arg(long)]
    pub(crate) zone: Option<String>,
    /// Remark
    #[arg(long)]
    pub(crate) note: Option<String>,
    /// Key of the find to change, as the list gives it
    #[arg(long)]
    pub(crate) key: Option<String>,
    /// Key of the find to take out
    #[arg(long, conflicts_with_all = ["plant", "at", "zone", "note", "key"])]
    pub(crate) delete: Option<String>,
    /// Who is writing
    #[arg(long, default_value = "")]
    pub(crate) by: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `specimen`.
#[derive(Debug, Args)]
pub(crate) struct SpecimenArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Name of the survey
    #[arg(long)]
    pub(crate) survey: String,
    /// Number on its label; one that is written already is changed
    #[arg(long)]
    pub(crate) number: Option<String>,
    /// Code of the plant, an unknown's too
    #[arg(long, requires = "number")]
    pub(crate) plant: Option<String>,
    /// Code of the site it came from
    #[arg(long, requires = "number")]
    pub(crate) site: Option<String>,
    /// Who took it
    #[arg(long, requires = "number")]
    pub(crate) collector: Option<String>,
    /// The day, `2026-07-14`; that of the visit when not said
    #[arg(long, requires = "number")]
    pub(crate) date: Option<String>,
    /// Where it is kept
    #[arg(long, requires = "number")]
    pub(crate) kept_at: Option<String>,
    /// Who confirmed the name, and how
    #[arg(long, requires = "number")]
    pub(crate) confirmed_by: Option<String>,
    /// Take it out of the record
    #[arg(long, requires = "number")]
    pub(crate) delete: bool,
    /// Who is writing
    #[arg(long, default_value = "")]
    pub(crate) by: String,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}
