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
    /// What to print; map-pages is a map for each sheet, packet all papers of the day and the GPS files
    #[arg(value_parser = clap::builder::PossibleValuesParser::new(
        PrintKind::ALL.iter().map(|one| one.key())
    ))]
    pub(crate) what: String,
    /// Name of the survey; the depth map, plant cards and the residents' card need none
    #[arg(long)]
    pub(crate) survey: Option<String>,
    /// PDF to write; of a packet also a folder or a `.zip`, for each paper by itself too
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
    /// Format; `geotiff` is the depth model, `contours` its lines as GeoJSON, `photos` the pictures
    #[arg(long = "as", value_parser = ["csv", "geojson", "gpx", "kml", "geotiff", "contours", "photos"])]
    pub(crate) format: String,
    /// File or folder to write
    #[arg(short, long)]
    pub(crate) output: PathBuf,
    /// Name of the survey; every survey when not given
    #[arg(long)]
    pub(crate) survey: Option<String>,
    /// Letters the GPS unit takes in a name, often 6 or 10; longer names are shortened
    #[arg(long)]
    pub(crate) name_length: Option<usize>,
    /// Write beside each photo where it was taken; the pictures themselves never say
    #[arg(long)]
    pub(crate) with_places: bool,
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

/// `kit`.
#[derive(Debug, Args)]
pub(crate) struct KitArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Text file with the lake's own list: one thing a line, `#` begins a group
    pub(crate) file: Option<PathBuf>,
    /// Go back to the usual list
    #[arg(long, conflicts_with = "file")]
    pub(crate) usual: bool,
}
