//! Papers from the book: field sheets, the site map, the report.

mod cards;
mod map;
mod marks;
mod packet;
mod record_input;
mod report_input;
mod sheets;
mod words;

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::route::Local;
use crate::surveys::record_of;
use lakebook::LakeBook;
use report::{Draft, Fonts, Print, PrintError, Settings};
use survey::SurveyRecord;

pub(crate) use map::place_of;
pub use packet::{PacketFile, packet, zip};
pub use report::{Palette, Paper};
pub(crate) use sheets::mark_key;
pub use words::{keep_kit_text, kit_text};

/// What can be printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PrintKind {
    /// Field sheets in the order of the boats.
    Sheets,
    /// The map cut to the sheets: a page for each.
    MapPages,
    /// Site map on one page.
    Map,
    /// Depth map on one page; needs no survey.
    DepthMap,
    /// What to take along, a box to tick for each boat.
    Kit,
    /// Safety, hygiene and the float plan.
    Safety,
    /// Labels for specimens.
    VoucherLabels,
    /// Cards of the lake's plants, to be cut and laminated; needs no survey.
    PlantCards,
    /// One page for the people along the shore; needs no survey.
    ResidentsCard,
    /// Report of a survey.
    Report,
    /// Everything of a survey's record, as it lies under the seal.
    Record,
    /// All papers of the day in one file, with a page of contents.
    Packet,
}

impl PrintKind {
    /// All of them; those of the packet first, in its order.
    pub const ALL: &'static [Self] = &[
        Self::Safety,
        Self::Kit,
        Self::Sheets,
        Self::MapPages,
        Self::Map,
        Self::DepthMap,
        Self::PlantCards,
        Self::VoucherLabels,
        Self::ResidentsCard,
        Self::Report,
        Self::Record,
        Self::Packet,
    ];

    /// The word on the command line and in addresses.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Sheets => "sheets",
            Self::MapPages => "map-pages",
            Self::Map => "map",
            Self::DepthMap => "depth-map",
            Self::Kit => "kit",
            Self::Safety => "safety",
            Self::VoucherLabels => "voucher-labels",
            Self::PlantCards => "plant-cards",
            Self::ResidentsCard => "residents-card",
            Self::Report => "report",
            Self::Record => "record",
            Self::Packet => "packet",
        }
    }

    /// The one with this word.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|one| one.key() == key)
    }

    /// True when the paper is of a survey.
    pub const fn of_survey(self) -> bool {
        !matches!(self, Self::DepthMap | Self::PlantCards | Self::ResidentsCard)
    }
}

/// How a paper looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Look {
    /// Size of the paper.
    pub paper: Paper,
    /// Colour or black ink only.
    pub palette: Palette,
    /// Large type.
    pub large: bool,
    /// Blank field sheets at the end.
    pub spares: u8,
}

/// How it is printed.
#[derive(Debug, Clone)]
pub struct PrintRequest<'a> {
    /// What.
    pub kind: PrintKind,
    /// Name of the survey; none for papers of the lake alone.
    pub survey: Option<&'a str>,
    /// How it looks.
    pub look: Look,
    /// The day on the paper, and its clock.
    pub local: Local,
    /// The typeface, as files.
    pub fonts: &'a [&'static [u8]],
}

/// A paper: the file and what had to be left out of it.
#[derive(Debug, Clone)]
pub struct Printed {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Its pages.
    pub pages: usize,
    /// What was left out for want of room.
    pub remarks: Vec<String>,
}

impl From<PrintError> for Error {
    fn from(error: PrintError) -> Self {
        let text = error.to_string();
        match text.split_once("\nhint: ") {
            Some((message, hint)) => Self::input(message).hint(hint),
            None => Self::input(text),
        }
    }
}

/// Prints a paper.
///
/// # Errors
/// When the survey is not named or has no sites, the lake has no outline, or the typeface is missing.
pub fn print(book: &LakeBook, request: &PrintRequest<'_>) -> Result<Printed> {
    let fonts = Fonts::new(request.fonts.iter().map(|file| file.to_vec()).collect())?;
    let desk = Desk::of(book, request.survey, request.look, request.local, &fonts)?;
    Ok(match request.kind {
        PrintKind::Packet => {
            let (parts, left_out) = packet::parts(&desk, &mut |_, _, _| {})?;
            let mut whole = packet::whole(&desk, parts)?;
            whole.remarks.extend(left_out);
            whole
        }
        kind => desk.draft(kind)?.print(&fonts)?.into(),
    })
}

impl From<Print> for Printed {
    fn from(done: Print) -> Self {
        Self { pages: done.pages.len(), pdf: done.pdf, remarks: done.remarks }
    }
}

/// What every paper is made with.
struct Desk<'a> {
    book: &'a LakeBook,
    ground: Ground,
    record: Option<SurveyRecord>,
    look: Look,
    settings: Settings,
    fonts: &'a Fonts,
    local: Local,
}

impl<'a> Desk<'a> {
    fn of(
        book: &'a LakeBook,
        survey: Option<&str>,
        look: Look,
        local: Local,
        fonts: &'a Fonts,
    ) -> Result<Self> {
        let ground = Ground::of(book)?;
        let record = survey.map(|name| record_of(book, name)).transpose()?;
        let author = record.as_ref().and_then(|record| record.survey.crew.first());
        let settings = Settings {
            paper: look.paper,
            palette: look.palette,
            large: look.large,
            units: ground.lake.units,
            printed_on: local.today,
            author: author.map(|one| one.name.clone()).unwrap_or_default(),
        };
        Ok(Self { book, ground, record, look, settings, fonts, local })
    }

    /// The survey's record, for a paper that is of one.
    fn need_record(&self, kind: PrintKind) -> Result<&SurveyRecord> {
        self.record.as_ref().ok_or_else(|| {
            Error::input(format!("`{}` is of a survey", kind.key()))
                .hint("say which with `--survey NAME`; `quillwort surveys BOOK` lists them")
        })
    }

    fn draft(&self, kind: PrintKind) -> Result<Draft> {
        let Self { book, ground, settings, fonts, .. } = self;
        let record = || self.need_record(kind);
        let sheets = |spares| sheets::field_sheets(book, ground, record()?, spares);
        Ok(match kind {
            PrintKind::Sheets => report::field_sheets(&sheets(self.look.spares)?, settings, fonts)?,
            PrintKind::MapPages => {
                report::map_pages(&sheets(0)?, &map::notes(ground, record()?), settings, fonts)?
            }
            PrintKind::Map => {
                report::site_map(&map::site_map(book, ground, record()?)?, settings, fonts)?
            }
            PrintKind::DepthMap => {
                report::bathymetric_map(&map::bathymetric_map(book, ground)?, settings, fonts)?
            }
            PrintKind::Report => report::survey_report(
                &report_input::survey_report(book, ground, record()?)?,
                settings,
                fonts,
            )?,
            PrintKind::Record => {
                let paper = record_input::record_paper(book, ground, record()?)?;
                report::record_paper(&paper, settings)?
            }
            PrintKind::Kit => {
                report::kit_list(&words::kit_list(book, ground, record()?)?, settings)?
            }
            PrintKind::Safety => {
                let clock = self.local.utc_offset_minutes;
                let page = words::safety_page(book, ground, record()?, clock)?;
                report::safety_page(&page, settings)
            }
            PrintKind::VoucherLabels => {
                report::voucher_labels(&cards::voucher_labels(ground, record()?), settings)
            }
            PrintKind::PlantCards => {
                report::plant_cards(&cards::plant_cards(book, ground)?, settings)?
            }
            PrintKind::ResidentsCard => {
                let card = words::residents_card(book, ground, self.record.as_ref())?;
                report::residents_card(&card, settings)
            }
            PrintKind::Packet => return Err(Error::fault("a packet is no single paper")),
        })
    }
}

/// A number as the papers count.
fn count(number: usize) -> u64 {
    u64::try_from(number).unwrap_or(u64::MAX)
}
