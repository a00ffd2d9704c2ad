use crate::settings::Settings;

/// Why a paper could not be made.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PrintError {
    /// No font was handed over, or none of the files is a font.
    #[error(
        "none of the {files} font files handed over can be read, nothing can be printed\n\
         hint: build the user interface once, the letters come with it"
    )]
    NoFonts {
        /// How many files were handed over.
        files: usize,
    },
    /// The plan has no sites.
    #[error(
        "survey `{survey}` of `{lake}` has no sites, there is nothing to print on a {paper}\n\
         hint: lay the sites first (`quillwort plan`)"
    )]
    NoSites {
        /// The lake's name.
        lake: String,
        /// The survey's name.
        survey: String,
        /// The kind of paper asked for: sheet, map or report.
        paper: &'static str,
    },
    /// The lake has no outline, or one without extent.
    #[error(
        "`{lake}` has no outline, there is no map to draw\n\
         hint: give the shore line first (`quillwort add BOOK outline FILE`)"
    )]
    NoOutline {
        /// The lake's name.
        lake: String,
    },
    /// There is nothing to put on the paper.
    #[error("{missing}, there are no {what} to print\nhint: {hint}")]
    Empty {
        /// The paper.
        what: &'static str,
        /// What is missing.
        missing: String,
        /// What to do.
        hint: &'static str,
    },
    /// The lake has no depths.
    #[error(
        "`{lake}` has no depths, there is no depth map to draw\n\
         hint: add soundings or contours first (`quillwort add BOOK depths FILE`)"
    )]
    NoDepths {
        /// The lake's name.
        lake: String,
    },
    /// A number in the request is outside what the paper has room for.
    #[error("{what} is `{found}`, a sheet takes {expected}")]
    OutOfRange {
        /// The word a person uses for it.
        what: &'static str,
        /// The value found.
        found: String,
        /// What would do.
        expected: &'static str,
    },
    /// Two parts of the request do not fit together.
    #[error("{place} names {what} `{found}`, but there are only {count}")]
    Dangling {
        /// Where the reference stands.
        place: String,
        /// What is referred to.
        what: &'static str,
        /// The reference.
        found: usize,
        /// How many there are.
        count: usize,
    },
    /// A text has letters that cannot be set and carried into a lasting PDF.
    #[error("the {paper} cannot be kept as a lasting PDF: {reason}\nhint: {hint}")]
    NotLasting {
        /// The kind of paper.
        paper: &'static str,
        /// What the exporter said.
        reason: String,
        /// What may help.
        hint: String,
    },
    /// The typesetter refused one of our own templates: a fault of the program.
    #[error("the {paper} could not be set: {reason}")]
    Typesetting {
        /// The kind of paper.
        paper: &'static str,
        /// What the typesetter said, one line for each fault.
        reason: String,
    },
}

impl PrintError {
    /// True when the request, not the program, is at fault.
    pub const fn is_input(&self) -> bool {
        !matches!(self, Self::Typesetting { .. } | Self::NotLasting { .. })
    }
}

pub(crate) fn no_sites(lake: &str, survey: &str, paper: &'static str) -> PrintError {
    PrintError::NoSites { lake: lake.to_owned(), survey: survey.to_owned(), paper }
}

/// Checks what every paper needs of its settings.
pub(crate) fn check_settings(settings: &Settings) -> Result<(), PrintError> {
    if settings.printed_on.year() < 1 {
        return Err(PrintError::OutOfRange {
            what: "the date of printing",
            found: settings.printed_on.to_string(),
            expected: "a date after the year 0",
        });
    }
    Ok(())
}
