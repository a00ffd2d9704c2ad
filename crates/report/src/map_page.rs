//! Pages that are a map with a question over it and its notes below: sites, depths, the way of a boat.

use crate::draw::{Drawing, GridReference, LandmarkKind, LegendRow, MapData, Mark, Sign};
use crate::settings::{Palette, Settings};
use crate::words;
use crate::world::Draft;
use serde_json::{Value, json};
use units::UnitSystem;

/// Points of a page taken by its margins, in both directions.
pub(crate) const MARGIN: f64 = 2.0 * 15.0 * 72.0 / 25.4;

/// One page.
pub(crate) struct MapPage {
    pub(crate) question: String,
    /// What follows the lake's name.
    pub(crate) answer: String,
    pub(crate) drawing: Drawing,
    /// Columns of small text under the map, each a list of cells; may be empty.
    pub(crate) stops: Vec<Vec<String>>,
    pub(crate) notes: Vec<String>,
}

/// The pages as one paper.
pub(crate) struct MapPages {
    pub(crate) title: String,
    pub(crate) lake: String,
    pub(crate) landscape: bool,
    pub(crate) paper: &'static str,
    pub(crate) ident: String,
    pub(crate) stop_heads: Vec<String>,
    pub(crate) pages: Vec<MapPage>,
}

/// Width and height in pixels inside the margins, upright or lying.
pub(crate) fn inside(settings: &Settings, landscape: bool) -> (f64, f64) {
    let (short, long) = settings.paper.size_pt();
    let (width, height) = if landscape { (long, short) } else { (short, long) };
    ((width - MARGIN) / 0.75, (height - MARGIN) / 0.75)
}

/// Columns of the list under a map: places in large letters need the whole width.
pub(crate) fn stop_columns(settings: &Settings) -> usize {
    if settings.large { 1 } else { 2 }
}

pub(crate) fn draft_of(pages: MapPages, settings: &Settings) -> Draft {
    let mut pictures = Vec::new();
    let mut described = serde_json::Map::new();
    let mut values: Vec<Value> = Vec::new();
    for (index, page) in pages.pages.into_iter().enumerate() {
        let (name, file) = (format!("map-{index}"), format!("map-{index}.svg"));
        described.insert(name.clone(), json!({ "file": file, "alt": page.drawing.description }));
        pictures.push((file, page.drawing));
        values.push(json!({
            "question": page.question,
            "answer": page.answer,
            "picture": name,
            "stops": page.stops,
            "notes": page.notes.join(" "),
        }));
    }
    let data = json!({
        "document": { "title": pages.title },
        "lake": pages.lake,
        "landscape": pages.landscape,
        "pages": values,
        "stop_heads": pages.stop_heads,
        "stop_columns": stop_columns(settings),
        "scale": settings.grown(),
        "warning": "Not for navigation",
        "printed": format!("printed {}", words::date(settings.printed_on)),
        "pictures": described,
    });
    let template = include_str!("templates/map_page.typ");
    Draft { pictures, ..Draft::new(pages.paper, template, data, pages.ident, settings) }
}

/// Sentences on where depths and coordinates count from.
pub(crate) fn reference_notes(
    notes: &[String],
    depth_reference: &str,
    map: &MapData,
) -> Vec<String> {
    let mut notes = notes.to_vec();
    if !depth_reference.is_empty() {
        notes.push(format!("Depths below {depth_reference}."));
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
    notes
}

/// Says whether a mark is of one kind.
type Wanted = fn(&Mark) -> bool;

/// Legend rows for the kinds of thing a map has.
pub(crate) fn legend(map: &MapData, settings: &Settings) -> Vec<LegendRow> {
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
        (|mark| matches!(mark, Mark::PlannedElsewhere), Mark::PlannedElsewhere, "on another sheet"),
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
