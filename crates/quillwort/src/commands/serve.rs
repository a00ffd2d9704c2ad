//! `serve`, `demo`, and no verb at all.

use crate::cli::{DemoArgs, ServeArgs};
use crate::output::Answer;
use workflow::{Error, Result};

pub(crate) fn serve(args: &ServeArgs) -> Result<Answer> {
    let _ = args;
    Err(Error::fault("later"))
}
pub(crate) fn demo(args: &DemoArgs) -> Result<Answer> {
    let _ = args;
    Err(Error::fault("later"))
}
pub(crate) fn last() -> Result<Answer> {
    Err(Error::fault("later"))
}
