//! The program in the browser.

use clap::Args;
use std::path::PathBuf;

/// `demo`.
#[derive(Debug, Args)]
pub(crate) struct DemoArgs {
    /// Folder for the demo book
    #[arg(long, default_value = "demo-lake")]
    pub(crate) dir: PathBuf,
    /// Only write the book
    #[arg(long)]
    pub(crate) no_serve: bool,
    /// Where to listen
    #[arg(long, default_value = "127.0.0.1:4310")]
    pub(crate) listen: String,
    /// Do not open a browser
    #[arg(long)]
    pub(crate) no_browser: bool,
}

/// `serve`.
#[derive(Debug, Args)]
pub(crate) struct ServeArgs {
    /// A book, or a folder for books; in a folder new lakes can be begun on screen
    pub(crate) book: PathBuf,
    /// Where to listen
    #[arg(long, default_value = "127.0.0.1:4310")]
    pub(crate) listen: String,
    /// Open a browser
    #[arg(long)]
    pub(crate) open: bool,
}
