//! House rules a script can see.

use std::path::{Path, PathBuf};
use std::process::Command;

/// Files under version control with one of these endings.
fn tracked(endings: &[&str]) -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap();
    let output = Command::new("git").args(["ls-files"]).current_dir(root).output().unwrap();
    String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .filter(|line| endings.iter().any(|ending| line.ends_with(ending)))
        .map(|line| root.join(line))
        .filter(|path| path.is_file())
        .collect()
}

#[test]
fn no_source_file_is_longer_than_six_hundred_lines() {
    for path in tracked(&[".rs", ".ts", ".svelte", ".css", ".typ", ".py", ".mjs"]) {
        let text = std::fs::read_to_string(&path).unwrap();
        let generated = text.lines().take(3).any(|line| line.starts_with("// Written by scripts/"));
        let lines = text.lines().count();
        if generated {
            continue;
        }
        assert!(lines <= 600, "{} has {lines} lines: split it", path.display());
    }
}

#[test]
fn every_crate_opens_with_a_paragraph_of_its_own() {
    for path in tracked(&["/src/lib.rs", "/src/main.rs"]) {
        let text = std::fs::read_to_string(&path).unwrap();
        let opening: usize =
            text.lines().take_while(|line| line.starts_with("//!")).map(str::len).sum();
        assert!(opening >= 60, "{} says too little about itself", path.display());
    }
}

#[test]
fn the_pages_under_docs_are_reachable_from_the_first() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap();
    let first = std::fs::read_to_string(root.join("docs/README.md")).unwrap();
    for path in tracked(&[".md"]) {
        let Ok(inside) = path.strip_prefix(root.join("docs")) else { continue };
        let name = inside.to_string_lossy();
        assert!(
            name == "README.md" || first.contains(&*name),
            "docs/README.md does not lead to {name}"
        );
    }
}
