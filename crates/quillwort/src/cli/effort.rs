//! How many sites and throws.

use clap::Args;
use std::path::PathBuf;

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
    /// Compare ways to lay `--sites`, separated by commas: simple-random, balanced, tessellation, point-grid,
    /// squares, shore-sections, sub-areas, again (the last survey's sites)
    #[arg(long, value_delimiter = ',', conflicts_with = "purpose")]
    pub(crate) layouts: Vec<String>,
    /// Numbers of sites the virtual surveys try, e.g. 30,60,90; those around the formula's when not given
    #[arg(long, value_delimiter = ',')]
    pub(crate) numbers: Vec<String>,
    /// Species of the last survey, by code: the virtual surveys find it where that survey did
    #[arg(long)]
    pub(crate) species: Option<String>,
    /// Depth the species likes best, e.g. 6ft
    #[arg(long, requires = "depth_spread")]
    pub(crate) best_depth: Option<String>,
    /// How far it strays from that depth (standard deviation), e.g. 3ft
    #[arg(long, requires = "best_depth")]
    pub(crate) depth_spread: Option<String>,
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
    /// Virtual surveys for each number of sites, 2000 when not given; 0 for the formula alone
    #[arg(long)]
    pub(crate) runs: Option<usize>,
    /// Draws the virtual surveys
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}
