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
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}
