//! Crate arrows run one way. A new arrow is a decision written in ARCHITECTURE.md and here.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// What each crate may depend on, in the order of the layers.
const ALLOWED: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("survey", &["units"]),
    ("lakebed", &["units", "survey"]),
    ("sampling", &["units", "survey", "lakebed"]),
    ("findings", &["units", "survey", "lakebed"]),
    ("lakebook", &["units", "survey", "lakebed", "sampling", "findings"]),
    ("exchange", &["units", "survey", "lakebed", "sampling", "findings"]),
    ("report", &["units", "survey", "lakebed", "sampling", "findings"]),
    (
        "workflow",
        &["units", "survey", "lakebed", "sampling", "findings", "lakebook", "exchange", "report"],
    ),
    ("ui", &[]),
    ("server", &["workflow", "ui"]),
    ("quillwort", &["units", "survey", "workflow", "server", "ui"]),
];

/// Crates that do no I/O take no clock, no async runtime and no serialiser.
const PURE: &[&str] = &["units", "survey", "lakebed", "sampling", "findings"];
const NOT_IN_PURE: &[&str] =
    &["serde", "serde_json", "tokio", "axum", "rusqlite", "tracing", "log", "clap", "csv"];

/// Third-party crates that belong to one of ours alone.
const OWNED: &[(&str, &[&str])] = &[
    ("rusqlite", &["lakebook"]),
    ("tokio", &["server"]),
    ("axum", &["server"]),
    ("clap", &["quillwort"]),
    ("typst", &["report"]),
];

fn dependencies() -> BTreeMap<String, BTreeSet<String>> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--no-deps", "--offline"])
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
        .output()
        .unwrap();
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    metadata["packages"]
        .as_array()
        .unwrap()
        .iter()
        .map(|package| {
            let normal = package["dependencies"].as_array().unwrap().iter();
            let names = normal.filter(|one| one["kind"].is_null()).map(|one| text(&one["name"]));
            (text(&package["name"]), names.collect())
        })
        .collect()
}

#[test]
fn every_crate_arrow_runs_downwards() {
    let all = dependencies();
    let ours: BTreeSet<&str> = all.keys().map(String::as_str).collect();
    for (name, depends_on) in &all {
        let Some((_, allowed)) = ALLOWED.iter().find(|(known, _)| known == name) else {
            assert!(
                ["xtask", "benches", "e2e"].contains(&name.as_str()),
                "crate {name} has no row in the table of arrows"
            );
            continue;
        };
        for wanted in depends_on.iter().filter(|one| ours.contains(one.as_str())) {
            assert!(
                allowed.contains(&wanted.as_str()),
                "{name} must not depend on {wanted}; allowed: {allowed:?}"
            );
        }
    }
    for (name, _) in ALLOWED {
        assert!(ours.contains(name), "the table names {name}, which is no crate");
    }
}

#[test]
fn pure_crates_stay_pure() {
    let all = dependencies();
    for name in PURE {
        for banned in NOT_IN_PURE {
            assert!(!all[*name].contains(*banned), "{name} is pure and must not use {banned}");
        }
    }
}

#[test]
fn the_store_the_server_and_the_printer_keep_their_libraries_to_themselves() {
    let all = dependencies();
    for (library, owners) in OWNED {
        for (name, depends_on) in &all {
            let owner = owners.contains(&name.as_str());
            assert!(
                owner || !depends_on.contains(*library),
                "{library} belongs to {owners:?}, not {name}"
            );
        }
    }
}
