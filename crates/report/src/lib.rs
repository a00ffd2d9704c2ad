//! Papers: field sheets, the site map and the survey report, and the drawing layer under them.
//!
//! This crate is handed finished figures and gives back a PDF or an SVG. It computes no statistic,
//! reads no file and asks no clock; whatever a person typed reaches the typesetter as data, never as
//! source. The pictures are in [`draw`], the papers in [`sheet`], [`mod@site_map`] and [`mod@survey_report`].

pub mod cards;
pub mod draw;
mod error;
mod fonts;
pub mod handout;
mod map_page;
mod map_pages;
mod mark;
mod packet;
pub mod record_paper;
mod settings;
pub mod sheet;
pub mod site_map;
pub mod survey_report;
mod words;
mod world;

pub use cards::{plant_cards, voucher_labels};
pub use error::PrintError;
pub use fonts::{Face, Fonts};
pub use handout::{kit_list, residents_card, safety_page};
pub use map_pages::map_pages;
pub use packet::{Packet, Part, packet};
pub use record_paper::record_paper;
pub use settings::{Palette, Paper, Settings};
pub use sheet::field_sheets;
pub use site_map::{bathymetric_map, site_map};
pub use survey_report::survey_report;
pub use world::{Draft, PlacedText, Print, PrintedPage};
