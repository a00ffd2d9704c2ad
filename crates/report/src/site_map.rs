//! The site map: one page to take along.

use crate::draw::{
    Depth, GridReference, LandmarkKind, LegendRow, MapData, MapStyle, Mark, Sign, ZoneCodes,
    draw_map,
};
use crate::error::{PrintError, no_sites};
use crate::fonts::Fonts;
use crate::settings::{Palette, Settings};
use crate::words;
use crate::world::{Job, Print, print};
use serde_json::json;
use units::UnitSystem;

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

/// Pixels of page taken by the heading, the foot and the air between.
const AROUND: f64 = 122.0;

/// Prints the site map: upright or lying, as suits the lake.
///
/// # Errors
/// [`PrintError::NoSites`] without sites, [`PrintError::NoOutline`] without a shore line, and the
/// typesetter's errors.
pub fn site_map(page: &SiteMap, settings: &Settings, fonts: &Fonts) -> Result<Print, PrintError> {
    let map = &page.map;
    if map.sites.is_empty() {
        return Err(no_sites(&page.lake, &page.survey, "site map"));
    }
    let extent = map.extent().ok_or_else(|| PrintError::NoOutline { lake: page.lake.clone() })?;
    let landscape = extent.width() > 1.1 * extent.height();
    let (short, long) = settings.paper.size_pt();
    let (width, height) = if landscape { (long, short) } else { (short, long) };
    let margin = 2.0 * 15.0 * 72.0 / 25.4;
    let px = |points: f64| (points - margin) / 0.75;
    let style = MapStyle {
        depth: match settings.palette {
            Palette::Colour => Depth::Full,
            Palette::BlackAndWhite => Depth::Lines,
        },
        legend: legend(page, settings),
        site_codes: true,
        zone_codes: ZoneCodes::OnLand,
        landmark_names: true,
        contour_figures: true,
        description: format!(
            "Map of {} with {} sites, depths, zones and landmarks",
            page.lake,
            map.sites.len()
        ),
        ..MapStyle::new(settings.palette, settings.units, px(width), px(height) - AROUND)
    };
    let drawing = draw_map(map, &style, fonts)?;
    let count = map.sites.len();
    let sites = words::count(count as u64, "site", "sites");
    let survey = if page.survey.is_empty() { String::new() } else { format!(", {}", page.survey) };
    let mut notes = page.notes.clone();
    if !page.depth_reference.is_empty() {
        notes.push(format!("Depths below {}.", page.depth_reference));
    }
    match &map.grid {
        GridReference::None => {}
        GridReference::Projected { name } => {
            notes
                .push(format!("Coordinates along the frame: {name}, metres; north is grid north."));
        }
        GridReference::Geographic { datum, .. } => {
            notes.push(format!("Coordinates along the frame: degrees, {datum}."));
        }
    }
    let data = json!({
        "document": { "title": format!("Site map, {}{survey}", page.lake) },
        "question": "Where are the sites?",
        "lake": page.lake,
        "answer": format!("{survey}. {sites}."),
        "landscape": landscape,
        "notes": notes.join(" "),
        "warning": "Not for navigation",
        "printed": format!("printed {}", words::date(settings.printed_on)),
        "pictures": { "map": { "file": "map.svg", "alt": drawing.description } },
    });
    let job = Job {
        paper: "site map",
        template: include_str!("templates/site_map.typ"),
        data,
        pictures: vec![("map.svg".to_owned(), drawing)],
        ident: format!("site map {} {}", page.lake, page.survey),
        settings,
    };
    print(job, fonts)
}

/// Says whether a mark is of one kind.
type Wanted = fn(&Mark) -> bool;

/// Legend rows for the kinds of thing this map has.
fn legend(page: &SiteMap, settings: &Settings) -> Vec<LegendRow> {
    let map = &page.map;
    let unit = match settings.units {
        UnitSystem::Us => "feet",
        UnitSystem::Metric => "metres",
    };
    let mut rows = Vec::new();
    if !map.bands.is_empty() && settings.palette == Palette::Colour {
        rows.push(LegendRow::Depths { title: format!("Depth, {unit}") });
    }
    let mut signs = Vec::new();
    let has = |wanted: Wanted| map.sites.iter().any(|site| wanted(&site.mark));
    let kinds: [(Wanted, Mark, &str); 5] = [
        (|mark| matches!(mark, Mark::Planned), Mark::Planned, "site"),
        (|mark| matches!(mark, Mark::PlannedElsewhere), Mark::PlannedElsewhere, "another day"),
        (
            |mark| matches!(mark, Mark::Found { .. } | Mark::Count(1..)),
            Mark::Found { step: 1, of: 1 },
            "plants found",
        ),
        (|mark| matches!(mark, Mark::NotFound | Mark::Count(0)), Mark::NotFound, "none found"),
        (|mark| matches!(mark, Mark::NotReached), Mark::NotReached, "not reached"),
    ];
    for (wanted, mark, label) in kinds {
        if has(wanted) {
            signs.push((Sign::Site(mark), label.to_owned()));
        }
    }
    if let Some(limit) = &map.plant_limit {
        signs.push((
            Sign::PlantLimit,
            format!("limit of plants, {}", words::depth(limit.depth, settings.units)),
        ));
    }
    if settings.palette == Palette::BlackAndWhite && !map.contours.is_empty() {
        signs.push((Sign::Contour, format!("depth, {unit}")));
    }
    if map.zones.iter().any(|zone| !zone.conservation) {
        signs.push((Sign::ZoneEdge, "zone edge".to_owned()));
    }
    if !map.sub_areas.is_empty() {
        signs.push((Sign::SubAreaEdge, "sub-area edge".to_owned()));
    }
    if map.zones.iter().any(|zone| zone.conservation) {
        signs.push((Sign::Conservation, "conservation area".to_owned()));
    }
    if !map.treated.is_empty() {
        signs.push((Sign::Treated, "treated bed".to_owned()));
    }
    for (kind, sign, label) in [
        (LandmarkKind::Landmark, Sign::Landmark, "landmark"),
        (LandmarkKind::Launch, Sign::Launch, "launch"),
        (LandmarkKind::Hazard, Sign::Hazard, "hazard"),
    ] {
        if map.landmarks.iter().any(|landmark| landmark.kind == kind) {
            signs.push((sign, label.to_owned()));
        }
    }
    if !signs.is_empty() {
        rows.push(LegendRow::Signs { items: signs });
    }
    rows
}
