//! One step after another, each named before it runs, all counted at the end.

use crate::tools;
use anyhow::{Context, Result, bail};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};
use std::time::Instant;

/// The steps of one run.
#[derive(Debug)]
pub(crate) struct Suite {
    pub(crate) root: PathBuf,
    passed: usize,
    failed: Vec<String>,
    /// Where the steps keep their temporary files.
    scratch: PathBuf,
    /// Whether this run has built the program.
    built: bool,
}

impl Suite {
    pub(crate) fn new() -> Result<Self> {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"))
            .parent()
            .context("xtask lies in the workspace")?
            .to_path_buf();
        let scratch = tools::scratch();
        println!("temporary files: {}", scratch.display());
        Ok(Self { root, passed: 0, failed: Vec::new(), scratch, built: false })
    }

    /// Runs a command in a folder of the workspace; a failure is counted, the run goes on.
    pub(crate) fn step(&mut self, what: &str, folder: &str, command: &mut Command) -> Result<bool> {
        println!("\n── {what}");
        let started = Instant::now();
        let status = command
            .current_dir(self.root.join(folder))
            .env("TMPDIR", &self.scratch)
            .status()
            .with_context(|| format!("{what}: could not start {command:?}"))?;
        let seconds = started.elapsed().as_secs_f64();
        println!(
            "── {what}: {} ({seconds:.0} s)",
            if status.success() { "done" } else { "FAILED" }
        );
        self.count(what, status.success());
        Ok(status.success())
    }

    /// The program to test, built now unless this run has built it already.
    pub(crate) fn program(&mut self) -> Result<PathBuf> {
        let program = tools::program(&self.root, "debug");
        if !self.built {
            let mut build = cargo(&["build", "--package", "quillwort"]);
            self.built = self.step("Build the program", ".", &mut build)?;
        }
        if !self.built {
            bail!("the program does not build, so it cannot be tested");
        }
        Ok(program)
    }

    pub(crate) fn count(&mut self, what: &str, passed: bool) {
        if passed {
            self.passed += 1;
        } else {
            self.failed.push(what.to_owned());
        }
    }

    pub(crate) fn close(self) -> ExitCode {
        println!();
        for what in &self.failed {
            println!("failed: {what}");
        }
        println!("steps: {} passed, {} failed", self.passed, self.failed.len());
        if self.failed.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
    }
}

fn cargo(arguments: &[&str]) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(arguments);
    command
}

/// Format, lints, tests, documentation.
pub(crate) fn rust(suite: &mut Suite) -> Result<()> {
    suite.step("Rust: format", ".", &mut cargo(&["fmt", "--all", "--check"]))?;
    suite.step(
        "Rust: lints",
        ".",
        &mut cargo(&["clippy", "--workspace", "--all-targets", "--", "--deny", "warnings"]),
    )?;
    // the program together with the tests: on its own it would have other features of its libraries, and all
    // of them would be built twice
    let built = suite.step(
        "Rust: build",
        ".",
        &mut cargo(&["build", "--workspace", "--lib", "--bins", "--tests", "--examples"]),
    )?;
    let mut tests = cargo(&["test", "--workspace", "--no-fail-fast"]);
    if built {
        tests.env("QUILLWORT", tools::program(&suite.root, "debug"));
    }
    suite.built = built;
    suite.step("Rust: tests", ".", &mut tests)?;
    suite.step(
        "Rust: documentation",
        ".",
        cargo(&["doc", "--workspace", "--no-deps"]).env("RUSTDOCFLAGS", "--deny warnings"),
    )?;
    Ok(())
}

/// Types, lints, tests and size of the screens.
pub(crate) fn web(suite: &mut Suite) -> Result<()> {
    tools::npm_install(suite, "web")?;
    suite.step("Web: types and lints", "web", Command::new("npm").args(["run", "check"]))?;
    suite.step("Web: tests", "web", Command::new("npm").arg("test"))?;
    Ok(())
}

/// The figures recomputed by other people's libraries.
pub(crate) fn checks(suite: &mut Suite) -> Result<()> {
    let python = tools::python(suite)?;
    let program = suite.program()?;
    suite.step(
        "Checks: Python reference libraries",
        "checks",
        Command::new(python)
            .args(["-m", "pytest", "-q", "-p", "no:cacheprovider", "-n", "2", "--dist", "loadfile"])
            .env("QUILLWORT", program),
    )?;
    Ok(())
}

/// The speed figures.
pub(crate) fn bench(suite: &mut Suite) -> Result<()> {
    suite.step("Bench: inner loops", ".", &mut cargo(&["bench", "--package", "benches"]))?;
    suite.step(
        "Bench: build the program",
        ".",
        &mut cargo(&["build", "--release", "--package", "quillwort"]),
    )?;
    let python = tools::python(suite)?;
    suite.step(
        "Bench: whole commands",
        "benches",
        Command::new(python)
            .arg("commands.py")
            .env("QUILLWORT", tools::program(&suite.root, "release")),
    )?;
    Ok(())
}
