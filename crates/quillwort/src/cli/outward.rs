//! Papers, files, copies.

use clap::{Args, ValueEnum};
use std::path::PathBuf;

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
