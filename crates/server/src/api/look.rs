//! How a print looks, as an address says it.

use crate::desk::Look;
use serde::Deserialize;
use utoipa::{IntoParams, ToSchema};
use workflow::print::{Palette, Paper};

/// How a print looks.
#[derive(Debug, Default, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
#[serde(deny_unknown_fields, default)]
pub(crate) struct LookWords {
    /// The paper; letter when not given.
    paper: PaperWord,
    /// Black ink only.
    black_and_white: bool,
    /// Large type.
    large: bool,
    /// Blank field sheets at the end.
    spares: u8,
}

/// Size of the paper.
#[derive(Debug, Default, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum PaperWord {
    #[default]
    Letter,
    A4,
}

impl LookWords {
    pub(crate) fn look(&self) -> Look {
        Look {
            paper: match self.paper {
                PaperWord::Letter => Paper::Letter,
                PaperWord::A4 => Paper::A4,
            },
            palette: if self.black_and_white { Palette::BlackAndWhite } else { Palette::Colour },
            large: self.large,
            spares: self.spares.min(20),
        }
    }
}
