//! How results reach the terminal.

use serde::Serialize;
use std::io::IsTerminal;
use workflow::effort::Watch;

/// How a verb ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Answer {
    /// Done, or yes.
    Done,
    /// The answer is no.
    No,
}

impl Answer {
    pub(crate) fn code(self) -> std::process::ExitCode {
        match self {
            Self::Done => std::process::ExitCode::SUCCESS,
            Self::No => std::process::ExitCode::FAILURE,
        }
    }
}

/// Prints a value as JSON with stable keys.
pub(crate) fn json(value: &impl Serialize) -> workflow::Result<()> {
    let text = serde_json::to_string_pretty(value)
        .map_err(|error| workflow::Error::fault(error.to_string()))?;
    data(&text);
    Ok(())
}

/// Prints data; a reader that has gone away is no error.
pub(crate) fn data(text: &str) {
    use std::io::Write;
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(text.as_bytes());
    if !text.ends_with('\n') {
        let _ = out.write_all(b"\n");
    }
}

/// Says something beside the data.
pub(crate) fn say(text: &str) {
    eprintln!("{}", printable(text));
}

/// Text without control characters that would change the terminal.
pub(crate) fn printable(text: &str) -> String {
    text.chars().map(|c| if c.is_control() && c != '\n' { '\u{fffd}' } else { c }).collect()
}

/// Warnings, one a line, beside the data.
pub(crate) fn warnings(warnings: &[String]) {
    for warning in warnings {
        say(&format!("note: {warning}"));
    }
}

/// A moving sign while something long runs; nothing when the output is not a terminal.
pub(crate) fn while_working<T>(what: &str, work: impl FnOnce() -> T) -> T {
    if !std::io::stderr().is_terminal() {
        return work();
    }
    let bar = indicatif::ProgressBar::new_spinner();
    bar.set_message(what.to_owned());
    bar.enable_steady_tick(std::time::Duration::from_millis(120));
    let done = work();
    bar.finish_and_clear();
    done
}

/// A bar that fills while virtual surveys run; nothing when the output is not a terminal. Ctrl-C ends the program:
/// such work only reads, so nothing is left behind.
pub(crate) fn with_progress<T>(what: &str, work: impl FnOnce(Watch<'_>) -> T) -> T {
    if !std::io::stderr().is_terminal() {
        return work(Watch::default());
    }
    let bar = indicatif::ProgressBar::new(1);
    if let Ok(style) = indicatif::ProgressStyle::with_template("{msg} {bar:30} {percent} % {eta}") {
        bar.set_style(style);
    }
    bar.set_message(what.to_owned());
    let progress = |done: usize, total: usize| {
        bar.set_length(total as u64);
        bar.set_position(done as u64);
    };
    let done = work(Watch { progress: Some(&progress), cancel: None });
    bar.finish_and_clear();
    done
}

/// Steps of something long: number, count, name; nothing when the output is not a terminal.
pub(crate) fn with_steps<T>(
    what: &str,
    work: impl FnOnce(&mut dyn FnMut(usize, usize, &str)) -> T,
) -> T {
    if !std::io::stderr().is_terminal() {
        return work(&mut |_, _, _| {});
    }
    let bar = indicatif::ProgressBar::new(1);
    bar.set_message(what.to_owned());
    bar.enable_steady_tick(std::time::Duration::from_millis(120));
    let done = work(&mut |number, count, name| {
        bar.set_length(count as u64);
        bar.set_position(number as u64);
        bar.set_message(format!("{what}: {name}"));
    });
    bar.finish_and_clear();
    done
}
