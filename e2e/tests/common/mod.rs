//! A lake book in a folder of its own and the real program to work on it.

#![allow(dead_code, reason = "each test file uses a part of it")]
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::needless_borrows_for_generic_args,
    reason = "a test stops where it must and says what it left out"
)]

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

/// The program named in `QUILLWORT`, else built now if nobody did.
pub(crate) fn program() -> PathBuf {
    static BUILT: std::sync::OnceLock<PathBuf> = std::sync::OnceLock::new();
    BUILT
        .get_or_init(|| {
            if let Some(given) = std::env::var_os("QUILLWORT") {
                return given.into();
            }
            let status = Command::new(env!("CARGO"))
                .args(["build", "--quiet", "--package", "quillwort"])
                .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
                .status()
                .unwrap();
            assert!(status.success(), "the program does not build");
            let mut folder = std::env::current_exe().unwrap();
            folder.pop();
            folder.pop();
            folder.join(format!("quillwort{}", std::env::consts::EXE_SUFFIX))
        })
        .clone()
}

/// What a run printed and how it ended.
#[derive(Debug)]
pub(crate) struct Run {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Run {
    fn of(output: &Output) -> Self {
        Self {
            code: output.status.code().unwrap_or(-1),
            out: String::from_utf8_lossy(&output.stdout).into_owned(),
            err: String::from_utf8_lossy(&output.stderr).into_owned(),
        }
    }

    /// The run must have ended well.
    pub(crate) fn done(self) -> Self {
        assert_eq!(self.code, 0, "{}\n{}", self.out, self.err);
        self
    }

    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {}", self.out))
    }
}

/// A folder with a lake in it.
pub(crate) struct Desk {
    pub(crate) folder: TempDir,
}

/// A square lake a mile wide in an invented place, one island in it.
pub(crate) const OUTLINE: &str = r#"{"type":"FeatureCollection","features":[{"type":"Feature",
"properties":{"name":"Square Lake"},"geometry":{"type":"Polygon","coordinates":[
[[-90.0,45.0],[-89.98,45.0],[-89.98,45.014],[-90.0,45.014],[-90.0,45.0]],
[[-89.992,45.006],[-89.992,45.008],[-89.989,45.008],[-89.989,45.006],[-89.992,45.006]]]}}]}"#;

/// Depths of a bowl, in feet, deepest 20.
pub(crate) fn soundings() -> String {
    let mut text = String::from("longitude,latitude,depth_ft\n");
    for column in 1..20 {
        for row in 1..14 {
            let (x, y) = (f64::from(column) / 20.0, f64::from(row) / 14.0);
            let depth = 20.0 * (4.0 * x * (1.0 - x)) * (4.0 * y * (1.0 - y));
            text.push_str(&format!("{:.5},{:.5},{depth:.1}\n", -90.0 + 0.02 * x, 45.0 + 0.014 * y));
        }
    }
    text
}

impl Desk {
    pub(crate) fn empty() -> Self {
        Self { folder: TempDir::new().unwrap() }
    }

    /// A book with outline and depths.
    pub(crate) fn with_lake() -> Self {
        let desk = Self::empty();
        desk.run(&["new", "lake.gpkg", "--name", "Square Lake", "--region", "WI"]).done();
        desk.write("outline.geojson", OUTLINE);
        desk.write("depths.csv", &soundings());
        desk.run(&["add", "lake.gpkg", "outline", "outline.geojson"]).done();
        desk.run(&["add", "lake.gpkg", "depths", "depths.csv"]).done();
        desk
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn write(&self, name: &str, text: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        std::fs::write(&path, text).unwrap();
        path
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Run {
        let output = Command::new(program())
            .args(arguments)
            .current_dir(self.folder.path())
            .env("XDG_CONFIG_HOME", self.folder.path())
            .output()
            .unwrap();
        Run::of(&output)
    }

    /// Everything a reader can see of the book, to tell whether anything changed.
    pub(crate) fn state(&self) -> String {
        let mut text = self.run(&["surveys", "lake.gpkg", "--json"]).out;
        text.push_str(&self.run(&["lake", "lake.gpkg", "--json"]).out);
        text.push_str(&self.run(&["verify", "lake.gpkg", "--json"]).out);
        text
    }
}

/// A command that has to be refused: in these words, with a way out, and with the book as it was.
pub(crate) fn refused(desk: &Desk, arguments: &[&str], words: &[&str]) {
    all_refused(desk, [(arguments.to_vec(), words)]);
}

/// Commands that have to be refused each; after all of them the book is as it was.
pub(crate) fn all_refused<'a>(
    desk: &Desk,
    cases: impl IntoIterator<Item = (Vec<&'a str>, &'a [&'a str])>,
) {
    let before = desk.state();
    for (arguments, words) in cases {
        let run = desk.run(&arguments);
        assert_eq!(run.code, 2, "{arguments:?}: {}{}", run.out, run.err);
        for word in words {
            assert!(run.err.contains(word), "{arguments:?}: no `{word}` in\n{}", run.err);
        }
        assert!(run.err.contains("hint:"), "{arguments:?}: {}", run.err);
        assert!(!run.err.contains("panicked"), "{arguments:?}: {}", run.err);
    }
    assert_eq!(before, desk.state(), "the book changed");
}

/// The folder of open data, when it is here.
pub(crate) fn open_data() -> Option<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap();
    let folder = std::env::var_os("QUILLWORT_OPEN_DATA")
        .map_or_else(|| root.join("../shared/data"), PathBuf::from);
    if folder.is_dir() {
        return Some(folder);
    }
    println!("skipped: the open data are not in {}", folder.display());
    None
}
