//! The survey report: a cover anyone can read, then pages that each answer one question with its n,
//! interval and source in the margin, and the whole record at the end.

mod blocks;
mod closing;
mod cover;
mod figures;
mod input;
mod method;
mod species;
mod species_maps;
mod text;

pub use input::*;

use crate::error::{PrintError, no_sites};
use crate::fonts::{Face, Fonts};
use crate::settings::{Palette, Settings};
use crate::words;
use crate::world::Draft;
use blocks::{Pictures, Section};
use jiff::civil::Date;
use serde_json::json;
use units::UnitSystem;

/// Width of the text column of a Letter page in pixels.
const BODY_PX: f64 = 512.0;
/// Gap and margin column together, points.
const MARGIN_PT: f64 = 141.0;

/// How things look in this report.
struct Look<'a> {
    palette: Palette,
    units: UnitSystem,
    printed_on: Date,
    fonts: &'a Fonts,
    page_px: f64,
}

impl Look<'_> {
    /// Width of the text column in pixels.
    fn body_px(&self) -> f64 {
        self.page_px - MARGIN_PT / 0.75
    }
}

/// Width of text and margin together in pixels.
const fn wide_px(look: &Look<'_>) -> f64 {
    look.page_px
}

/// Prints the report of a survey.
///
/// # Errors
/// [`PrintError::NoSites`] without sites, [`PrintError::NoOutline`] without a shore line,
/// [`PrintError::Dangling`] when a site names a species or a rating that the report does not list, and
/// the typesetter's errors.
pub fn survey_report(
    report: &SurveyReport,
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Draft, PrintError> {
    check(report)?;
    let margin = 2.0 * 15.0 * 72.0 / 25.4;
    let look = Look {
        palette: settings.palette,
        units: settings.units,
        printed_on: settings.printed_on,
        fonts,
        page_px: (settings.paper.size_pt().0 - margin) / 0.75,
    };
    let mut pictures = Pictures::default();
    let mut sections: Vec<Section> = vec![
        cover::section(report, &look, &mut pictures)?,
        method::section(report, &look),
        figures::where_we_looked(report, &look, &mut pictures)?,
        figures::plants(report, &look, &mut pictures),
        species::tables(report, &look, &mut pictures),
    ];
    sections.extend(report.floristic.as_ref().map(species::floristic));
    sections.extend(species_maps::maps(report, &look, &mut pictures)?);
    if !report.conditions.is_empty() || !report.crew.is_empty() {
        sections.push(closing::conditions(report, &look));
    }
    sections.push(closing::trust(report));
    sections.push(closing::appendix(report, &look));

    let (pictures, described) = pictures.finish();
    let data = json!({
        "document": { "title": format!("{}, {}", report.lake.name, report.survey) },
        "head": {
            "left": fonts.shorten(
                &format!("{}, aquatic plant survey", report.lake.name),
                9.75,
                Face::Plain,
                look.page_px * 0.75 - 150.0,
            ),
            "right": words::dates(report.dates),
        },
        "foot": foot(report),
        "margin": MARGIN_PT,
        "pictures": described,
        "sections": sections.iter().map(Section::value).collect::<Vec<_>>(),
    });
    let template = include_str!("../templates/report.typ");
    let ident = format!("survey report {}", report.survey_key);
    Ok(Draft { pictures, ..Draft::new("report", template, data, ident, settings) })
}

/// `Lake book record sealed 2 August 2026, checksum 7f3a 91c2 … e04b; no amendments`.
fn foot(report: &SurveyReport) -> String {
    let Some(seal) = &report.seal else {
        return "Draft: the lake book record is not sealed".to_owned();
    };
    let letters: Vec<char> = seal.checksum.chars().collect();
    let part = |range: std::ops::Range<usize>| letters[range].iter().collect::<String>();
    let checksum = if letters.len() > 16 {
        format!("{} {} … {}", part(0..4), part(4..8), part(letters.len() - 4..letters.len()))
    } else {
        seal.checksum.clone()
    };
    let amendments = match report.amendments.len() {
        0 => "no amendments".to_owned(),
        n => words::count(n as u64, "amendment", "amendments"),
    };
    format!("Lake book record sealed {}, checksum {checksum}; {amendments}", words::date(seal.date))
}

fn check(report: &SurveyReport) -> Result<(), PrintError> {
    if report.sites.is_empty() {
        return Err(no_sites(&report.lake.name, &report.survey, "report"));
    }
    for site in &report.sites {
        for seen in &site.found {
            let dangling = |what, found, count| PrintError::Dangling {
                place: format!("site `{}`", site.code),
                what,
                found,
                count,
            };
            if seen.taxon >= report.taxa.len() {
                return Err(dangling("species", seen.taxon, report.taxa.len()));
            }
            if let HowSeen::Rake { step } = seen.how
                && (step == 0 || usize::from(step) > report.scale.steps.len())
            {
                return Err(dangling("rating step", usize::from(step), report.scale.steps.len()));
            }
        }
    }
    Ok(())
}
