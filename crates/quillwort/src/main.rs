//! The command line of Quillwort: what can be typed, how results are printed, how the program ends.
//!
//! Standard output is data; everything said beside it goes to standard error. The program ends with
//! 0 when it is done, 1 when the answer is "no", 2 when the user has to put something right.

#![expect(clippy::print_stderr, reason = "a command line prints")]

mod cli;
mod commands;
mod desk;
mod output;
mod ports;
mod table;

use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = match cli::Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            let _ = error.print();
            return ExitCode::from(if error.use_stderr() { 2 } else { 0 });
        }
    };
    match commands::run(cli.verb) {
        Ok(answer) => answer.code(),
        Err(error) => {
            eprintln!("quillwort: {}", output::printable(&error.to_string()));
            ExitCode::from(2)
        }
    }
}
