//! What came up, and closing it.

use clap::Args;
use std::path::PathBuf;

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
    /// Guess what the columns mean, though the book remembers a file of the same kind
    #[arg(long, conflicts_with = "columns")]
    pub(crate) guess_columns: bool,
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
    /// Why it is another scale than the surveys before were rated on
    #[arg(long)]
    pub(crate) scale_reason: Option<String>,
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
