//! What it says.

use clap::Args;
use std::path::PathBuf;

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
    /// Seed of the permutations
    #[arg(long, default_value_t = workflow::findings::USUAL_SEED)]
    pub(crate) seed: u64,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `efficacy`.
#[derive(Debug, Args)]
pub(crate) struct EfficacyArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Treatments, `T1,T2` or by name
    #[arg(long, value_delimiter = ',', required = true)]
    pub(crate) treatment: Vec<String>,
    /// Survey before; the last one before the treatment when left out
    #[arg(long)]
    pub(crate) before: Option<String>,
    /// Survey after; the first one after the treatment when left out
    #[arg(long)]
    pub(crate) after: Option<String>,
    /// Survey a year on, to see whether it lasted
    #[arg(long)]
    pub(crate) later: Option<String>,
    /// Zones the untreated sites are taken from; everywhere outside treatments when left out
    #[arg(long, value_delimiter = ',')]
    pub(crate) control: Vec<String>,
    /// Plants it was meant for; introduced plants found when left out
    #[arg(long, value_delimiter = ',')]
    pub(crate) target: Vec<String>,
    /// Smallest fall that would be called a success, such as `20%`
    #[arg(long)]
    pub(crate) worthwhile: Option<String>,
    /// Seed of permutations and resamples
    #[arg(long, default_value_t = workflow::findings::USUAL_SEED)]
    pub(crate) seed: u64,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `limit`.
#[derive(Debug, Args)]
pub(crate) struct LimitArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// The sentence the board adopted
    #[arg(long, requires = "adopted")]
    pub(crate) text: Option<String>,
    /// Day it was adopted, ISO; surveys before it are not held against it
    #[arg(long, requires = "text")]
    pub(crate) adopted: Option<String>,
    /// Too much is a share of the sampled sites above this, such as `10%`
    #[arg(long, requires = "text", group = "much")]
    pub(crate) above: Option<String>,
    /// Too much is more sites than this
    #[arg(long, requires = "text", group = "much")]
    pub(crate) more_than: Option<u32>,
    /// Too much is a rating of this number or more at any site
    #[arg(long, requires = "text", group = "much")]
    pub(crate) rating: Option<u8>,
    /// The plant; every introduced plant, one by one, when left out
    #[arg(long, requires = "text")]
    pub(crate) taxon: Option<String>,
    /// The zone; the whole lake when left out
    #[arg(long, requires = "text")]
    pub(crate) zone: Option<String>,
    /// Take off the limit of this number
    #[arg(long, conflicts_with = "text")]
    pub(crate) remove: Option<usize>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `trend`.
#[derive(Debug, Args)]
pub(crate) struct TrendArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Code or name of the plant, `any` for all together; every plant in brief when left out
    #[arg(long)]
    pub(crate) taxon: Option<String>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `spread`.
#[derive(Debug, Args)]
pub(crate) struct SpreadArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Code or name of the plant
    #[arg(long)]
    pub(crate) taxon: String,
    /// Earlier survey
    #[arg(long)]
    pub(crate) from: String,
    /// Later survey
    #[arg(long)]
    pub(crate) to: String,
    /// Seed of resamples and permutations
    #[arg(long, default_value_t = workflow::findings::USUAL_SEED)]
    pub(crate) seed: u64,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}
