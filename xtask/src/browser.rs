//! The real program on the demo lake, opened in a real browser.

use crate::run::Suite;
use crate::tools;
use anyhow::{Context, Result, bail};
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// Ends the server however the tests end.
struct Server(Child);

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Builds, makes the demo lake, serves it on a free port, runs the browser tests.
pub(crate) fn browser(suite: &mut Suite) -> Result<()> {
    let Some(chromium) = tools::chromium(suite)? else {
        bail!(
            "no Chromium was found and none could be installed\nhint: install Chromium, or set CHROMIUM to its path, then run this again"
        );
    };
    tools::npm_install(suite, "web")?;
    tools::npm_install(suite, "e2e/browser")?;
    let program = suite.program()?;
    let folder = suite.root.join("target/browser-demo");
    if folder.exists() {
        std::fs::remove_dir_all(&folder).context("could not clear the last demo lake")?;
    }
    let made = suite.step(
        "Browser: make the demo lake",
        ".",
        Command::new(&program).args(["demo", "--no-serve", "--dir"]).arg(&folder),
    )?;
    if !made {
        bail!("the demo lake could not be made");
    }
    let (server, address) = serve(&program, &folder)?;
    let (timed, together): (Vec<_>, Vec<_>) =
        test_files(&suite.root.join("e2e/browser"))?.into_iter().partition(|name| name == TIMED);
    for (what, at_once, files) in
        [("Browser: tests", "2", together), ("Browser: the test that keeps time", "1", timed)]
    {
        suite.step(
            what,
            "e2e/browser",
            Command::new("node")
                .args(["--test", &format!("--test-concurrency={at_once}")])
                .args(files)
                .env("QUILLWORT_URL", &address)
                .env("QUILLWORT", &program)
                .env("QUILLWORT_DEMO", folder.join("lake-tamarin.gpkg"))
                .env("QUILLWORT_CHROMIUM", &chromium)
                .env("QUILLWORT_SHOTS", suite.root.join("target/screens")),
        )?;
    }
    drop(server);
    Ok(())
}

/// Measures how long a key takes to the book, so nothing else runs beside it. The others read the
/// demo lake or write in books of their own, and run two at a time.
const TIMED: &str = "record.test.mjs";

fn test_files(folder: &Path) -> Result<Vec<String>> {
    let mut names = Vec::new();
    for entry in std::fs::read_dir(folder).context("the browser tests are not there")? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        if name.ends_with(".test.mjs") {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

fn serve(program: &Path, folder: &Path) -> Result<(Server, String)> {
    let mut child = Command::new(program)
        .arg("serve")
        .arg(folder)
        .args(["--listen", "127.0.0.1:0"])
        .stdout(Stdio::piped())
        .spawn()
        .context("could not start the server")?;
    let output = child.stdout.take().context("the server has an output")?;
    let server = Server(child);
    for line in BufReader::new(output).lines() {
        let line = line.context("the server's output could not be read")?;
        if let Some(start) = line.find("http://") {
            let address = line[start..].split_whitespace().next().unwrap_or_default();
            return Ok((server, address.trim_end_matches('/').to_owned()));
        }
    }
    bail!("the server ended without saying where it listens")
}
