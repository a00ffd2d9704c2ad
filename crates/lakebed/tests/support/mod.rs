//! Where these tests look for open data.

use std::path::PathBuf;

/// A file of real, open data, or none with a line said about it.
///
/// The folder is the environment variable `QUILLWORT_OPEN_DATA`, else one beside the workspace.
pub(crate) fn open_data(name: &str) -> Option<PathBuf> {
    let folder = std::env::var_os("QUILLWORT_OPEN_DATA").map_or_else(
        || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../../shared/data"),
        PathBuf::from,
    );
    let path = folder.join(name);
    if path.exists() {
        Some(path)
    } else {
        println!("skipped: open data file {name} is not there (set QUILLWORT_OPEN_DATA)");
        None
    }
}
