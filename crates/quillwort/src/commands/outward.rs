//! `print`, `export`, `backup`.

use super::read;
use crate::cli::{BackupArgs, ExportArgs, PrintArgs};
use crate::output::{self, Answer};
use workflow::{Error, Result};

pub(crate) fn print(args: &PrintArgs) -> Result<Answer> {
    let _ = args;
    Err(Error::fault("later"))
}

pub(crate) fn export(args: &ExportArgs) -> Result<Answer> {
    let _ = args;
    Err(Error::fault("later"))
}

pub(crate) fn backup(args: &BackupArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    book.backup(&args.output)?;
    output::say(&format!("copied {} to {}", book.path().display(), args.output.display()));
    Ok(Answer::Done)
}
