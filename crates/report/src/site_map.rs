//! The site map and the depth map: one page to take along.

use crate::draw::{Depth, MapData, MapStyle, ZoneCodes, draw_map};
use crate::error::{PrintError, no_sites};
use crate::fonts::Fonts;
use crate::map_page::{MapPage, MapPages, draft_of, inside, legend, reference_notes};
use crate::settings::{Palette, Settings};
use crate::words;
use crate::world::Draft;

/// A one-page map of the sites.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteMap {
    /// The lake's name.
    pub lake: String,
    /// The survey's name; may be empty for a map without a survey.
    pub survey: String,
    /// The lake, with its sites marked [`crate::draw::Mark::Planned`] or as they were found.
    pub map: MapData,
    /// What depths are measured from, as in "full pool, 812.4 ft".
    pub depth_reference: String,
    /// Notes on sources and accuracy, one sentence each.
    pub notes: Vec<String>,
}

/// A one-page map of the depths.
#[derive(Debug, Clone, PartialEq)]
pub struct BathymetricMap {
    /// The lake's name.
    pub lake: String,
    /// What the map says, after the lake's name: area, greatest and mean depth.
    pub answer: String,
    /// The lake with its depth bands and contours, without sites.
    pub map: MapData,
    /// What depths are measured from.
    pub depth_reference: String,
    /// Notes on sources and accuracy, one sentence each.
    pub notes: Vec<String>,
}

/// Pixels of page taken by the heading, the foot and the air between.
const AROUND: f64 = 122.0;
/// And by letters one time larger.
const LARGER: f64 = 100.0;

/// Prints the site map: upright or lying, as suits the lake.
///
/// # Errors
/// [`PrintError::NoSites`] without sites, [`PrintError::NoOutline`] without a shore line, and the
/// typesetter's errors.
pub fn site_map(page: &SiteMap, settings: &Settings, fonts: &Fonts) -> Result<Draft, PrintError> {
    if page.map.sites.is_empty() {
        return Err(no_sites(&page.lake, &page.survey, "site map"));
    }
    let count = page.map.sites.len();
    let sites = words::count(count as u64, "site", "sites");
    let survey = if page.survey.is_empty() { String::new() } else { format!(", {}", page.survey) };
    let whole = Whole {
        map: &page.map,
        lake: &page.lake,
        question: "Where are the sites?",
        answer: format!("{survey}. {sites}."),
        title: format!("Site map, {}{survey}", page.lake),
        description: format!(
            "Map of {} with {count} sites, depths, zones and landmarks",
            page.lake
        ),
        depth_reference: &page.depth_reference,
        notes: &page.notes,
        paper: "site map",
        ident: format!("site map {} {}", page.lake, page.survey),
        zone_codes: ZoneCodes::OnLand,
    };
    whole.draft(settings, fonts)
}

/// Prints the depth map: contours with figures, bands, hazards and launches. It needs no survey.
///
/// # Errors
/// [`PrintError::NoOutline`] without a shore line, [`PrintError::NoDepths`] without contours, and the
/// typesetter's errors.
pub fn bathymetric_map(
    page: &BathymetricMap,
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Draft, PrintError> {
    if page.map.extent().is_some() && page.map.contours.is_empty() {
        return Err(PrintError::NoDepths { lake: page.lake.clone() });
    }
    let whole = Whole {
        map: &page.map,
        lake: &page.lake,
        question: "How deep, and where?",
        answer: page.answer.clone(),
        title: format!("Depth map, {}", page.lake),
        description: format!("Map of the depths of {} with contours", page.lake),
        depth_reference: &page.depth_reference,
        notes: &page.notes,
        paper: "depth map",
        ident: format!("depth map {}", page.lake),
        zone_codes: ZoneCodes::None,
    };
    whole.draft(settings, fonts)
}

/// A page with the whole lake.
struct Whole<'a> {
    map: &'a MapData,
    lake: &'a str,
    question: &'static str,
    answer: String,
    title: String,
    description: String,
    depth_reference: &'a str,
    notes: &'a [String],
    paper: &'static str,
    ident: String,
    zone_codes: ZoneCodes,
}

impl Whole<'_> {
    fn draft(self, settings: &Settings, fonts: &Fonts) -> Result<Draft, PrintError> {
        let extent = self
            .map
            .extent()
            .ok_or_else(|| PrintError::NoOutline { lake: self.lake.to_owned() })?;
        let landscape = extent.width() > 1.1 * extent.height();
        let (width, height) = inside(settings, landscape);
        let mut style = MapStyle {
            depth: match settings.palette {
                Palette::Colour => Depth::Full,
                Palette::BlackAndWhite => Depth::Lines,
            },
            site_codes: true,
            zone_codes: self.zone_codes,
            landmark_names: true,
            contour_figures: true,
            lettering: settings.grown(),
            description: self.description,
            ..MapStyle::new(settings.palette, settings.units, width, height - AROUND)
        };
        style.max_height -= LARGER * (settings.grown() - 1.0);
        style.legend = legend(self.map, settings);
        let pages = MapPages {
            title: self.title,
            lake: self.lake.to_owned(),
            landscape,
            paper: self.paper,
            ident: self.ident,
            stop_heads: Vec::new(),
            pages: vec![MapPage {
                question: self.question.to_owned(),
                answer: self.answer,
                drawing: draw_map(self.map, &style, fonts)?,
                stops: Vec::new(),
                notes: reference_notes(self.notes, self.depth_reference, self.map),
            }],
        };
        Ok(draft_of(pages, settings))
    }
}
