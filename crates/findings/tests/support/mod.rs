//! Where the open data lie that some tests read. They are not part of the project.

use std::path::{Path, PathBuf};

/// The file `name` of the open data, or `None` with a line that says the test was skipped.
///
/// The folder is the environment variable `QUILLWORT_OPEN_DATA`, else one beside the workspace.
pub(crate) fn open_data(name: &str) -> Option<PathBuf> {
    let folder = std::env::var_os("QUILLWORT_OPEN_DATA").map_or_else(
        || Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../shared/data"),
        PathBuf::from,
    );
    let path = folder.join(name);
    if path.is_file() {
        Some(path)
    } else {
        println!("skipped: open data file {name} is not there (set QUILLWORT_OPEN_DATA)");
        None
    }
}
