//! The map cut to the sheets: a page for each field sheet, its sites in the order of the boat.

use crate::draw::{Depth, Extent, MapData, MapStyle, Mark, SiteMark, ZoneCodes, draw_map};
use crate::error::{PrintError, no_sites};
use crate::fonts::Fonts;
use crate::map_page::{MapPage, MapPages, draft_of, inside, legend, reference_notes, stop_columns};
use crate::settings::{Palette, Settings};
use crate::sheet::{FieldSheets, SheetRow, pages_of, sheet_id};
use crate::words;
use crate::world::Draft;
use units::LonLat;

/// Pixels of page taken by heading, foot and air.
const AROUND: f64 = 130.0;
/// And by letters one time larger.
const LARGER: f64 = 100.0;
/// Height of a line of the list of sites, pixels.
const LINE: f64 = 19.0;

/// Prints one map page for each field sheet: the same sites in the same order, larger, with the depths
/// about them and where each site lies.
///
/// # Errors
/// As [`crate::field_sheets`].
pub fn map_pages(
    sheets: &FieldSheets,
    notes: &[String],
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Draft, PrintError> {
    if sheets.rows.is_empty() {
        return Err(no_sites(&sheets.lake, &sheets.survey, "map"));
    }
    let lake =
        sheets.map.extent().ok_or_else(|| PrintError::NoOutline { lake: sheets.lake.clone() })?;
    let parts = pages_of(sheets, settings);
    let count = parts.len();
    let mut pages = Vec::new();
    for (index, rows) in parts.into_iter().enumerate() {
        let number = index + 1;
        let stops: Vec<Vec<String>> = rows.iter().map(|row| stop(row, settings)).collect();
        let grown = settings.grown();
        let lines = stops.len().div_ceil(stop_columns(settings)) as f64 + 1.5;
        let around = AROUND + LARGER * (grown - 1.0) + lines * LINE * grown;
        let (width, height) = inside(settings, false);
        let map = one_map(sheets, rows);
        let mut style = MapStyle {
            depth: match settings.palette {
                Palette::Colour => Depth::Quiet,
                Palette::BlackAndWhite => Depth::Lines,
            },
            site_codes: true,
            landmark_names: true,
            contour_figures: true,
            zone_codes: ZoneCodes::None,
            route: route(rows),
            lettering: grown,
            description: format!(
                "Map of the {} {}s of sheet {number}{}",
                rows.len(),
                sheets.row_word,
                if route(rows).is_empty() { "" } else { " joined in boat order" }
            ),
            ..MapStyle::new(settings.palette, settings.units, width, height - around)
        };
        style.legend = legend(&map, settings);
        // the legend keeps its own strip; what is left has this shape
        let shape = width / (style.max_height - 90.0).max(100.0);
        style.window = window(rows, lake, shape);
        let boat = rows.first().and_then(|row| row.boat).and_then(|boat| sheets.boats.get(boat));
        let hours = boat.map_or_else(String::new, |boat| {
            if boat.date.is_empty() {
                String::new()
            } else {
                format!(" {}, {}.", boat.date, boat.boat)
            }
        });
        pages.push(MapPage {
            question: "Where next?".to_owned(),
            answer: format!(
                ", {}. Map {number} of {count}, goes with sheet {}.{hours}",
                sheets.survey,
                sheet_id(&sheets.short_id, number, count)
            ),
            drawing: draw_map(&map, &style, fonts)?,
            stops,
            notes: reference_notes(notes, "", &map),
        });
    }
    let degrees = ["latitude", "longitude"];
    let pages = MapPages {
        title: format!("Maps of the sheets, {}, {}", sheets.lake, sheets.survey),
        lake: sheets.lake.clone(),
        landscape: false,
        paper: "map",
        ident: format!("maps {}", sheets.mark),
        stop_heads: [sheets.row_word.as_str(), "about", "depth", degrees[0], degrees[1]]
            .map(str::to_owned)
            .to_vec(),
        pages,
    };
    Ok(draft_of(pages, settings))
}

/// Degrees and decimal minutes, as older receivers show them: `44° 35.123′ N`.
fn minutes(value: f64, (plus, minus): (char, char)) -> String {
    let thousandths = (value.abs() * 60_000.0).round();
    let whole = (thousandths / 60_000.0).floor();
    let left = (thousandths - whole * 60_000.0) / 1_000.0;
    let half = if value < 0.0 { minus } else { plus };
    format!("{whole:.0}° {left:06.3}′ {half}")
}

fn stop(row: &SheetRow, settings: &Settings) -> Vec<String> {
    let place = |place: Option<LonLat>, of: fn(LonLat) -> f64, signs| {
        place.map_or_else(String::new, |place| minutes(of(place), signs))
    };
    vec![
        row.code.clone(),
        row.arrive.clone(),
        row.planned_depth.map_or_else(String::new, |depth| words::depth(depth, settings.units)),
        place(row.position, LonLat::latitude, ('N', 'S')),
        place(row.position, LonLat::longitude, ('E', 'W')),
    ]
}

/// The way through the rows, from the first on; none where no boat has one, for a line from site to site could
/// cross land.
pub(crate) fn route(rows: &[SheetRow]) -> Vec<(f64, f64)> {
    if rows.iter().all(|row| row.boat.is_none()) {
        return Vec::new();
    }
    let mut route: Vec<(f64, f64)> = Vec::new();
    for row in rows.iter().filter(|row| row.place.is_some()) {
        // the way to the first row of a sheet begins on the sheet before
        if !route.is_empty() && !row.way.is_empty() {
            route.extend(&row.way);
        } else {
            route.extend(row.place);
        }
    }
    route
}

fn one_map(sheets: &FieldSheets, rows: &[SheetRow]) -> MapData {
    let mut map = sheets.map.clone();
    map.treated.clear();
    map.deepest = None;
    if rows.iter().all(|row| row.group.is_none()) {
        map.sub_areas.clear();
    }
    let is_here = |row: &SheetRow| rows.iter().any(|other| std::ptr::eq(row, other));
    for row in &sheets.rows {
        let Some((x, y)) = row.place else { continue };
        let here = is_here(row);
        map.sites.push(SiteMark {
            code: if here { row.code.clone() } else { String::new() },
            x,
            y,
            mark: if here { Mark::Planned } else { Mark::PlannedElsewhere },
        });
    }
    map
}

/// The part of the lake about the rows, with air; none without places.
fn window(rows: &[SheetRow], lake: Extent, shape: f64) -> Option<Extent> {
    let places = Extent::of(rows.iter().filter_map(|row| row.place))?;
    let least = lake.width().max(lake.height()) / 6.0;
    let wide = (places.width() * 1.3).max(places.height() * 1.3 * shape).max(least);
    let high = wide / shape;
    let (x, y) =
        (f64::midpoint(places.min_x, places.max_x), f64::midpoint(places.min_y, places.max_y));
    Some(Extent {
        min_x: x - wide / 2.0,
        max_x: x + wide / 2.0,
        min_y: y - high / 2.0,
        max_y: y + high / 2.0,
    })
}

#[cfg(test)]
mod tests {
    use super::minutes;

    #[test]
    fn degrees_are_written_with_decimal_minutes_and_carry_over() {
        for (value, want) in [
            (44.585_383, "44° 35.123′ N"),
            (-44.5, "44° 30.000′ S"),
            (44.999_999_9, "45° 00.000′ N"),
            (0.0, "0° 00.000′ N"),
        ] {
            assert_eq!(minutes(value, ('N', 'S')), want);
        }
    }
}
