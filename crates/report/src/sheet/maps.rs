//! The two maps of a sheet: its sites in the order of the boat, and where in the lake that is.

use super::{FieldSheets, SheetRow};
use crate::draw::{
    Depth, Drawing, Extent, LandmarkKind, MapData, MapStyle, Mark, SiteMark, ZoneCodes, draw_map,
};
use crate::error::PrintError;
use crate::fonts::Fonts;
use crate::settings::{Palette, Settings};

/// Height of the two maps in pixels.
const MAP_HEIGHT: f64 = 131.0 / 0.75;

/// The map of this sheet's rows, and the one that shows where that is.
pub(super) fn maps(
    sheets: &FieldSheets,
    rows: &[SheetRow],
    settings: &Settings,
    fonts: &Fonts,
) -> Result<(Drawing, Drawing), PrintError> {
    let lake =
        sheets.map.extent().ok_or_else(|| PrintError::NoOutline { lake: sheets.lake.clone() })?;
    let (paper_width, _) = settings.paper.size_pt();
    let width = (paper_width - 66.0 - 162.0 - 20.0) / 2.0 / 0.75;
    let here: Vec<(f64, f64)> = rows.iter().filter_map(|row| row.place).collect();
    let mark = |row: &SheetRow, mark| {
        row.place.map(|(x, y)| SiteMark {
            code: row.group.clone().unwrap_or_else(|| row.code.clone()),
            x,
            y,
            mark,
        })
    };
    let is_here = |row: &SheetRow| rows.iter().any(|other| std::ptr::eq(row, other));
    let elsewhere = sheets.rows.iter().filter(|row| !is_here(row));
    let mut sites: Vec<SiteMark> =
        elsewhere.filter_map(|row| mark(row, Mark::PlannedElsewhere)).collect();
    let mut seen: Option<&str> = None;
    for row in rows {
        if let Some(mut site) = mark(row, Mark::Planned) {
            // a group is named once
            if row.group.is_some() && row.group.as_deref() == seen {
                site.code = String::new();
            }
            seen = row.group.as_deref();
            sites.push(site);
        }
    }
    for site in &mut sites {
        if site.mark == Mark::PlannedElsewhere {
            site.code = String::new();
        }
    }
    let window = Extent::of(here.iter().copied()).map(|extent| window(extent, lake, width));
    let base = MapStyle {
        framed: false,
        depth: Depth::Lines,
        route: crate::map_pages::route(rows),
        ..MapStyle::new(Palette::BlackAndWhite, settings.units, width, MAP_HEIGHT)
    };
    let zones = |map: &MapData| {
        let mut map = map.clone();
        map.treated.clear();
        if rows.iter().all(|row| row.group.is_none()) {
            map.sub_areas.clear();
        }
        map.deepest = None;
        map
    };
    let near_map = MapData { sites: sites.clone(), ..zones(&sheets.map) };
    let near = MapStyle {
        window: Some(window.unwrap_or_else(|| lake.grown(lake.width() * 0.04))),
        site_codes: true,
        landmark_names: true,
        zone_codes: ZoneCodes::None,
        description: if rows.is_empty() {
            format!("Map of {} with its landmarks", sheets.lake)
        } else {
            let joined = if base.route.is_empty() { "" } else { " joined in boat order" };
            format!("Map of this sheet's {} {}s{joined}", rows.len(), sheets.row_word)
        },
        ..base.clone()
    };
    let far_map = MapData {
        sites,
        sub_areas: Vec::new(),
        contours: Vec::new(),
        landmarks: sheets
            .map
            .landmarks
            .iter()
            .filter(|landmark| landmark.kind == LandmarkKind::Launch)
            .cloned()
            .collect(),
        ..zones(&sheets.map)
    };
    let far = MapStyle {
        landmark_names: true,
        description: format!("Map of {} that shows where this sheet's sites are", sheets.lake),
        ..base
    };
    Ok((draw_map(&near_map, &near, fonts)?, draw_map(&far_map, &far, fonts)?))
}

/// The part of the lake round some places, in the shape of the picture, a fifth of air about them.
fn window(places: Extent, lake: Extent, width: f64) -> Extent {
    let shape = (width - 1.0) / (MAP_HEIGHT - 1.0);
    let least = lake.width().max(lake.height()) / 8.0;
    let most = (lake.width() * 1.08).max(lake.height() * 1.08 * shape);
    let wide = (places.width() * 1.4).max(places.height() * 1.4 * shape).max(least).min(most);
    let high = wide / shape;
    let (x, y) =
        (f64::midpoint(places.min_x, places.max_x), f64::midpoint(places.min_y, places.max_y));
    Extent {
        min_x: x - wide / 2.0,
        max_x: x + wide / 2.0,
        min_y: y - high / 2.0,
        max_y: y + high / 2.0,
    }
}
