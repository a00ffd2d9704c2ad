use super::{AddOptions, FaultList, Placed, areas, file_name, read_placed, text_of};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::lake::project;
use crate::views::AddView;
use geo::{Area, BooleanOps, Validation};
use geo_types::MultiPolygon;
use lakebook::LakeBook;
use std::path::Path;
use survey::{
    Code, Protection, SubArea, SubAreaId, Treatment, TreatmentId, TreatmentMethod, Zone, ZoneId,
};
use units::{SquareMetres, UnitSystem};

const CODES: &[&str] = &["code", "zone", "id", "zone_code", "zone_id", "sub_area", "label", "name"];
const NAMES: &[&str] = &["name", "zone_name", "label", "title"];

/// A shape of the file, checked: it is an area, its rings do not cross, it lies in the lake.
struct Shape {
    index: usize,
    row: usize,
    area: MultiPolygon<f64>,
    projected: MultiPolygon<f64>,
}

/// Shapes may stick out over the shore: they are drawn by hand. This share must lie in the lake.
const LEAST_IN_LAKE: f64 = 0.5;

fn shapes(
    placed: &Placed,
    ground: &Ground,
    what: &str,
    faults: &mut FaultList,
) -> Result<Vec<Shape>> {
    let outline = ground.need_outline()?;
    let mut found = Vec::new();
    for (index, geometry) in placed.shapes.iter().enumerate() {
        let row = placed.layer.features[index].row;
        let place = format!("`{}` feature {row}", placed.layer.file);
        let Some(area) = areas(geometry) else {
            faults.push(
                format!("{place} has no area, expected a {what} as a polygon"),
                "draw it as a closed polygon in a GIS",
            );
            continue;
        };
        let projected = project(ground, &area)?;
        if let Some(error) = projected.validation_errors().into_iter().next() {
            faults.push(
                format!("{place}: the ring is not a clean polygon: {error}"),
                "its edge crosses itself or touches itself: move the vertices there in a GIS",
            );
            continue;
        }
        let whole = projected.unsigned_area();
        let wet = outline.projected().intersection(&projected).unsigned_area();
        if whole <= 0.0 || wet < LEAST_IN_LAKE * whole {
            faults.push(
                format!(
                    "{place}: only {:.0} % of the {what} lies in the lake",
                    if whole > 0.0 { 100.0 * wet / whole } else { 0.0 }
                ),
                "check that the file is of this lake, and its reference system",
            );
            continue;
        }
        found.push(Shape { index, row, area, projected });
    }
    Ok(found)
}

/// Pairs of shapes that lie on each other by more than a thousandth of the smaller.
fn overlaps(shapes: &[Shape], label: impl Fn(&Shape) -> String) -> Vec<String> {
    let mut found = Vec::new();
    for (index, one) in shapes.iter().enumerate() {
        for other in &shapes[index + 1..] {
            let shared = one.projected.intersection(&other.projected).unsigned_area();
            let smaller = one.projected.unsigned_area().min(other.projected.unsigned_area());
            if shared > 0.001 * smaller {
                found.push(format!(
                    "`{}` and `{}` overlap by {}",
                    label(one),
                    label(other),
                    UnitSystem::Us.area(SquareMetres::new(shared))
                ));
            }
        }
    }
    found
}

fn code(
    placed: &Placed,
    shape: &Shape,
    options: &AddOptions,
    faults: &mut FaultList,
) -> Option<Code> {
    let feature = &placed.layer.features[shape.index];
    let text = text_of(feature, options.code_column.as_deref(), CODES);
    let Some(text) = text else {
        faults.push(
            format!("`{}` feature {} has no code", placed.layer.file, shape.row),
            "give each polygon a column `code`, or name its column with `--code-column`",
        );
        return None;
    };
    match Code::new(&text) {
        Ok(code) => Some(code),
        Err(error) => {
            faults.push(
                format!("`{}` feature {}: {error}", placed.layer.file, shape.row),
                "shorten it",
            );
            None
        }
    }
}

fn refuse_doubles(codes: &[Code], file: &str, faults: &mut FaultList) {
    let mut sorted: Vec<String> = codes.iter().map(|code| code.as_str().to_lowercase()).collect();
    sorted.sort();
    sorted.dedup_by(|a, b| {
        let same = a == b;
        if same {
            faults.push(
                format!("`{file}`: code `{a}` is there twice"),
                "give each polygon its own code",
            );
        }
        same
    });
}

/// Whether a cell answers a question, such as whether an area is protected, and states no rule.
fn is_yes_or_no(text: &str) -> bool {
    ["1", "0", "yes", "no", "true", "false", "y", "n", "none", "conservation"]
        .contains(&text.trim().to_lowercase().as_str())
}

/// Named parts of the lake.
pub(super) fn zones(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let placed = read_placed(book, path, options, true)?;
    let ground = Ground::shore_of(book)?;
    let mut faults = FaultList::default();
    let shapes = shapes(&placed, &ground, "zone", &mut faults)?;
    let mut zones = Vec::new();
    for shape in &shapes {
        let feature = &placed.layer.features[shape.index];
        let Some(code) = code(&placed, shape, options, &mut faults) else { continue };
        let protection = match text_of(feature, None, &["protection", "rule", "conservation"]) {
            Some(text) if ["1", "yes", "true", "y"].contains(&text.to_lowercase().as_str()) => {
                Protection::Conservation
            }
            Some(text) if text.to_lowercase().contains("conserv") => Protection::Conservation,
            _ => Protection::None,
        };
        let since = text_of(feature, None, &["since", "year"]).and_then(|text| text.parse().ok());
        let until = text_of(feature, None, &["until"]).and_then(|text| text.parse().ok());
        let rule = text_of(feature, None, &["rule", "rules", "restriction"])
            .filter(|text| !is_yes_or_no(text))
            .unwrap_or_default();
        let known = ground.zones.iter().find(|zone| zone.code == code);
        zones.push(Zone {
            id: known.map_or_else(|| ZoneId(book.new_id()), |zone| zone.id),
            name: text_of(feature, options.name_column.as_deref(), NAMES)
                .filter(|name| name != code.as_str())
                .unwrap_or_default(),
            code,
            area: shape.area.clone(),
            protection,
            since,
            until,
            rule,
        });
    }
    let codes: Vec<Code> = zones.iter().map(|zone| zone.code.clone()).collect();
    refuse_doubles(&codes, &placed.layer.file, &mut faults);
    faults.close()?;
    let mut view = placed.view(options);
    view.stored = zones.len();
    view.area_m2 = Some(shapes.iter().map(|shape| shape.projected.unsigned_area()).sum());
    view.warnings.extend(overlaps(&shapes, |shape| {
        shapes
            .iter()
            .position(|one| one.index == shape.index)
            .map_or_else(String::new, |at| codes[at].to_string())
    }));
    if !options.preview {
        let note = format!("added {} zones from {}", zones.len(), file_name(path));
        book.transact(&note, |writer| zones.iter().try_for_each(|zone| writer.put_zone(zone)))?;
    }
    Ok(view)
}

/// Parts of zones.
pub(super) fn sub_areas(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let placed = read_placed(book, path, options, true)?;
    let ground = Ground::shore_of(book)?;
    let mut faults = FaultList::default();
    let shapes = shapes(&placed, &ground, "sub-area", &mut faults)?;
    let known = book.sub_areas()?;
    let zone_shapes: Vec<(ZoneId, Code, MultiPolygon<f64>)> = ground
        .zones
        .iter()
        .map(|zone| Ok((zone.id, zone.code.clone(), project(&ground, &zone.area)?)))
        .collect::<Result<_>>()?;
    let mut parts = Vec::new();
    for shape in &shapes {
        let feature = &placed.layer.features[shape.index];
        let usual = ["code", "sub_area", "sub_area_code", "id", "label", "name"];
        let text = text_of(feature, options.code_column.as_deref(), &usual);
        let Some(code) = text.as_deref().and_then(|text| Code::new(text).ok()) else {
            faults.push(
                format!("`{}` feature {} has no code", placed.layer.file, shape.row),
                "give each polygon a column `code`, or name its column with `--code-column`",
            );
            continue;
        };
        let named = text_of(feature, None, &["zone", "zone_code"]);
        let zone = match &named {
            Some(name) => {
                let zone = zone_shapes
                    .iter()
                    .find(|(_, code, _)| code.as_str().eq_ignore_ascii_case(name));
                if zone.is_none() {
                    faults.push(
                        format!(
                            "`{}` feature {}, field `zone`: found `{name}`, expected a zone of this lake",
                            placed.layer.file, shape.row
                        ),
                        "add the zones first with `add BOOK zones FILE`, or correct the code",
                    );
                }
                zone.map(|(id, _, _)| *id)
            }
            None => zone_shapes
                .iter()
                .map(|(id, _, area)| (*id, area.intersection(&shape.projected).unsigned_area()))
                .max_by(|a, b| a.1.total_cmp(&b.1))
                .filter(|(_, shared)| *shared > 0.5 * shape.projected.unsigned_area())
                .map(|(id, _)| id),
        };
        parts.push(SubArea {
            id: known
                .iter()
                .find(|part| part.code == code)
                .map_or_else(|| SubAreaId(book.new_id()), |part| part.id),
            zone,
            code,
            area: shape.area.clone(),
        });
    }
    let codes: Vec<Code> = parts.iter().map(|part| part.code.clone()).collect();
    refuse_doubles(&codes, &placed.layer.file, &mut faults);
    faults.close()?;
    let mut view = placed.view(options);
    view.stored = parts.len();
    view.area_m2 = Some(shapes.iter().map(|shape| shape.projected.unsigned_area()).sum());
    if !options.preview {
        let note = format!("added {} sub-areas from {}", parts.len(), file_name(path));
        book.transact(&note, |writer| parts.iter().try_for_each(|part| writer.put_sub_area(part)))?;
    }
    Ok(view)
}

/// What was treated, where and when.
pub(super) fn treatments(
    book: &mut LakeBook,
    path: &Path,
    options: &AddOptions,
) -> Result<AddView> {
    let placed = read_placed(book, path, options, true)?;
    let ground = Ground::shore_of(book)?;
    let mut faults = FaultList::default();
    let shapes = shapes(&placed, &ground, "treatment", &mut faults)?;
    let mut treatments = Vec::new();
    for shape in &shapes {
        let feature = &placed.layer.features[shape.index];
        let place = format!("`{}` feature {}", placed.layer.file, shape.row);
        let date =
            |usual: &[&str]| text_of(feature, None, usual).and_then(|text| text.parse().ok());
        let Some(start) = date(&["start", "date", "start_date"]) else {
            faults.push(
                format!("{place} has no day, expected a column `start` such as `2026-05-16`"),
                "write the first day of the treatment as year-month-day",
            );
            continue;
        };
        let method =
            text_of(feature, None, &["method", "type"]).unwrap_or_else(|| "other".to_owned());
        let Ok(method) = method.parse::<TreatmentMethod>() else {
            let keys: Vec<&str> = TreatmentMethod::ALL.iter().map(|one| one.key()).collect();
            faults.push(
                format!(
                    "{place}, field `method`: found `{method}`, expected one of {}",
                    keys.join(", ")
                ),
                "correct the method",
            );
            continue;
        };
        let end = date(&["end", "end_date"]).unwrap_or(start);
        let acres =
            text_of(feature, None, &["acres", "area_acres"]).and_then(|text| text.parse().ok());
        treatments.push(Treatment {
            id: TreatmentId(book.new_id()),
            name: text_of(feature, options.name_column.as_deref(), NAMES)
                .unwrap_or_else(|| format!("treatment of {start}")),
            method,
            dates: (start, end.max(start)),
            area: shape.area.clone(),
            reported_area: acres.map(SquareMetres::from_acres),
            by: text_of(feature, None, &["by", "applicator"]).unwrap_or_default(),
            before: None,
            note: text_of(feature, None, &["note", "comment"]).unwrap_or_default(),
        });
    }
    faults.close()?;
    if treatments.is_empty() {
        return Err(Error::input(format!("`{}` holds no treatment", placed.layer.file)));
    }
    let mut view = placed.view(options);
    view.stored = treatments.len();
    view.area_m2 = Some(shapes.iter().map(|shape| shape.projected.unsigned_area()).sum());
    if !options.preview {
        let note = format!("added {} treatments from {}", treatments.len(), file_name(path));
        book.transact(&note, |writer| {
            treatments.iter().try_for_each(|one| writer.put_treatment(one))
        })?;
    }
    Ok(view)
}
