//! Tasks of a developer, without any tool that is not already there: `cargo xtask test` installs
//! what the tests need and runs all of them, the way continuous integration does.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "a task talks to the terminal")]

#[cfg(test)]
mod arrows;
mod browser;
mod run;
#[cfg(test)]
mod tidy;
mod tools;

use anyhow::Result;
use run::Suite;
use std::process::ExitCode;

const HELP: &str = "\
cargo xtask test     install what the tests need, run everything, end with one line of counts
cargo xtask rust     format, lints, tests and documentation of the Rust code
cargo xtask web      types, lints and tests of the screens
cargo xtask checks   the same figures recomputed by general-purpose Python libraries
cargo xtask browser  the real program in a real browser
cargo xtask bench    the speed figures, as ratios to a reference where there is one
";

fn main() -> ExitCode {
    let task = std::env::args().nth(1).unwrap_or_default();
    match dispatch(&task) {
        Ok(code) => code,
        Err(error) => {
            eprintln!("xtask: {error:#}");
            ExitCode::from(2)
        }
    }
}

fn dispatch(task: &str) -> Result<ExitCode> {
    let mut suite = Suite::new()?;
    match task {
        "test" => {
            tools::need_node(&mut suite)?;
            let ahead = tools::Ahead::start(&suite);
            run::web(&mut suite)?;
            run::rust(&mut suite)?;
            ahead.done();
            run::checks(&mut suite)?;
            browser::browser(&mut suite)?;
        }
        "rust" => run::rust(&mut suite)?,
        "web" => {
            tools::need_node(&mut suite)?;
            run::web(&mut suite)?;
        }
        "checks" => run::checks(&mut suite)?,
        "browser" => {
            tools::need_node(&mut suite)?;
            browser::browser(&mut suite)?;
        }
        "bench" => run::bench(&mut suite)?,
        _ => {
            print!("{HELP}");
            return Ok(ExitCode::from(if task.is_empty() { 0 } else { 2 }));
        }
    }
    Ok(suite.close())
}
