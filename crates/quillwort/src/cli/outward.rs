//! Papers, files, copies.

use super::DayArgs;
use clap::Args;
use std::path::PathBuf;
use workflow::print::PrintKind;

/// `print`.
#[derive(Debug, Args)]
pub(crate) struct PrintArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// What to print: sheets, map-pages (a map for each sheet), map, depth-map or report
    #[arg(value_parser = clap::builder::PossibleValuesParser::new(
        PrintKind::ALL.iter().map(|one| one.key())
    ))]
    pub(crate) what: String,
    /// Name of the survey; a depth map needs none
    #[arg(long)]
    pub(crate) survey: Option<String>,
    /// PDF to write
    #[arg(short, long)]
    pub(crate) output: PathBuf,
    /// Paper
    #[arg(long, default_value = "letter", value_parser = ["letter", "a4"])]
    pub(crate) paper: String,
    /// Black ink only
    #[arg(long)]
    pub(crate) black_and_white: bool,
    /// Large type
    #[arg(long)]
    pub(crate) large: bool,
    /// Blank field sheets at the end
    #[arg(long, default_value_t = 0, value_parser = clap::value_parser!(u8).range(0..=20))]
    pub(crate) spares: u8,
    /// How the day is to be gone about: with any of these the route is planned anew and kept
    #[command(flatten)]
    pub(crate) day: DayArgs,
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
