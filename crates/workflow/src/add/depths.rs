use super::water::{Correction, likely_unit};
use super::{AddOptions, FaultList, Placed, file_name, read_placed};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::AddView;
use geo_types::Geometry;
use lakebook::{DataSet, DataSetContent, LakeBook};
use std::path::Path;
use units::{LengthUnit, UnitSystem, bounds};

/// Headers of depths that say their unit themselves are preferred by the reader; these are not.
const DEPTH_NAMES: &[&str] =
    &["depth", "depth_ft", "depth_m", "z", "contour", "contour_ft", "elev_ft"];

struct Depths {
    values: Vec<Option<f64>>,
    unit: LengthUnit,
    /// Heights below a datum at 0 were turned into depths.
    turned: bool,
}

/// The column of depths, its unit, and a depth for each feature in metres.
fn depths_of(placed: &Placed, options: &AddOptions, lake_units: UnitSystem) -> Result<Depths> {
    let layer = &placed.layer;
    let named = options.depth_column.as_deref();
    let found = layer
        .depth
        .as_ref()
        .filter(|field| named.is_none_or(|name| name.eq_ignore_ascii_case(&field.name)));
    let column = named
        .map(str::to_owned)
        .or_else(|| found.map(|field| field.name.clone()))
        .or_else(|| {
            let first = layer.features.first()?;
            DEPTH_NAMES
                .iter()
                .find(|name| first.attribute(name).is_some())
                .map(|name| (*name).to_owned())
        })
        .ok_or_else(|| {
            let known: Vec<String> = layer
                .features
                .first()
                .map(|feature| {
                    feature.attributes.iter().map(|(name, _)| format!("`{name}`")).collect()
                })
                .unwrap_or_default();
            let message = format!("`{}` has no column that looks like a depth", layer.file);
            Error::input(message).hint(if known.is_empty() {
                "it says nothing of its shapes but where they are: export it with the column of the depths".to_owned()
            } else {
                format!("say which with `--depth-column`; it has {}", known.join(", "))
            })
        })?;
    let unit = options.unit.or_else(|| found.and_then(|field| field.unit)).or_else(|| {
        let name = column.to_ascii_lowercase();
        (name.ends_with("_ft") || name.contains("feet"))
            .then_some(LengthUnit::Foot)
            .or_else(|| (name.ends_with("_m") || name.contains("met")).then_some(LengthUnit::Metre))
    });
    let Some(unit) = unit else {
        return Err(Error::input(format!(
            "`{}` does not say the unit of its depths (column `{column}`)",
            layer.file
        ))
        .hint(format!(
            "say it with `--unit {}` or the other one",
            lake_units.length_unit().sign()
        )));
    };
    let mut faults = FaultList::default();
    let raw: Vec<Option<f64>> = layer
        .features
        .iter()
        .map(|feature| {
            let value = feature.attribute(&column)?;
            let number = value.number();
            if number.is_none() && !value.is_null() && !value.to_string().trim().is_empty() {
                faults.push(
                    format!(
                        "`{}` row {}, field `{column}`: found `{value}`, expected a depth as a number",
                        layer.file, feature.row
                    ),
                    "correct the rows, or delete them",
                );
            }
            number
        })
        .collect();
    faults.close()?;
    let known: Vec<f64> = raw.iter().flatten().copied().collect();
    if known.is_empty() {
        return Err(Error::input(format!("`{}` has no depth in column `{column}`", layer.file))
            .hint("choose another column with `--depth-column`"));
    }
    let negative = known.iter().filter(|value| **value < 0.0).count();
    let upward = found.is_some_and(|field| field.upward);
    let turned =
        negative * 10 > known.len() * 9 && (upward || known.iter().all(|value| *value <= 0.0));
    let sign = if turned { -1.0 } else { 1.0 };
    let add = Correction::of(options, lake_units).metres;
    let values = raw
        .into_iter()
        .map(|value| value.map(|value| sign * value * unit.metres() + add))
        .collect();
    Ok(Depths { values, unit, turned })
}

/// Refuses depths no lake has, and depths that look to be in another unit than said.
fn refuse_implausible(file: &str, depths: &Depths, ground: &Ground) -> Result<()> {
    let most = depths.values.iter().flatten().copied().fold(0.0, f64::max);
    if bounds::DEPTH.check(most).is_err() {
        return Err(Error::input(format!(
            "`{file}`: the greatest depth is {most:.0} m, deeper than any lake"
        ))
        .hint("check the unit, and that the column holds depths and not elevations"));
    }
    if let Some(model) = &ground.model {
        let known = model.max_depth().metres();
        let ratio = most / known;
        if ratio > 2.5 || (ratio < 0.4 && depths.values.len() > 500) {
            return Err(Error::input(format!(
                "`{file}`: the greatest depth is {most:.1} m, but the depths already in the book reach {known:.1} m"
            ))
            .hint(likely_unit(most, known).unwrap_or(
                "units look to be mixed: say the unit of this file with `--unit ft`, `m` or `cm`",
            )));
        }
    }
    Ok(())
}

fn finish(
    book: &mut LakeBook,
    path: &Path,
    options: &AddOptions,
    placed: &Placed,
    depths: &Depths,
    content: DataSetContent,
) -> Result<AddView> {
    let mut view = placed.view(options);
    view.stored = content.count();
    let known = || depths.values.iter().flatten().copied();
    view.depth_m =
        Some([known().fold(f64::INFINITY, f64::min), known().fold(f64::NEG_INFINITY, f64::max)]);
    if depths.turned {
        view.warnings
            .push("the file counts upwards; its heights below 0 were taken as depths".to_owned());
    }
    let corrections = Correction::of(options, book.lake()?.units).words;
    let set = DataSet {
        name: file_name(path),
        unit: depths.unit.sign().to_owned(),
        crs: placed.crs.label(),
        content,
        note: corrections.join("; "),
    };
    view.warnings.extend(corrections);
    // what cannot become a model is refused now, not at the next look at the lake
    let ground = Ground::with_candidate(book, &set)?;
    if let Some(model) = &ground.model {
        view.warnings.extend(model.findings().iter().map(ToString::to_string));
    }
    if !options.preview {
        let note = format!("added {} depths from {}", view.stored, set.name);
        book.put_data_set(&set, &note)?;
    }
    Ok(view)
}

/// Points with a depth each.
pub(super) fn soundings(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let mut placed = read_placed(book, path, options, true)?;
    let ground = Ground::of(book)?;
    ground.need_outline()?;
    let depths = depths_of(&placed, options, ground.lake.units)?;
    refuse_implausible(&placed.layer.file, &depths, &ground)?;
    let mut points = Vec::with_capacity(placed.shapes.len());
    for ((shape, depth), feature) in
        placed.shapes.iter().zip(&depths.values).zip(&placed.layer.features)
    {
        match (shape, depth) {
            (Geometry::Point(at), Some(depth)) => points.push((at.x(), at.y(), *depth)),
            (Geometry::MultiPoint(many), Some(depth)) => {
                points.extend(many.iter().map(|at| (at.x(), at.y(), *depth)));
            }
            (_, None) => placed
                .layer
                .skipped
                .push(exchange::Skipped { row: feature.row, reason: "no depth".to_owned() }),
            _ => {
                return Err(Error::input(format!(
                    "`{}` holds lines or areas, expected points",
                    placed.layer.file
                ))
                .hint("lines and rings of equal depth go in with `add BOOK contours FILE`"));
            }
        }
    }
    // what has no depth is counted among what was left out
    let mut known = depths.values.iter().map(Option::is_some);
    placed.layer.features.retain(|_| known.next().unwrap_or(true));
    finish(book, path, options, &placed, &depths, DataSetContent::Soundings(points))
}

/// Lines or rings of one depth each.
pub(super) fn contours(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let placed = read_placed(book, path, options, true)?;
    let ground = Ground::of(book)?;
    ground.need_outline()?;
    let depths = depths_of(&placed, options, ground.lake.units)?;
    refuse_implausible(&placed.layer.file, &depths, &ground)?;
    let mut faults = FaultList::default();
    let mut lines = Vec::new();
    for ((shape, depth), feature) in
        placed.shapes.iter().zip(&depths.values).zip(&placed.layer.features)
    {
        let place = format!("`{}` feature {}", placed.layer.file, feature.row);
        match (shape, depth) {
            (Geometry::Point(_) | Geometry::MultiPoint(_), _) => faults.push(
                format!("{place} is a point, expected a line or ring of equal depth"),
                "points with depths go in with `add BOOK depths FILE`",
            ),
            (_, None) => faults.push(
                format!("{place} has no depth"),
                "give each contour its depth, or choose the column with `--depth-column`",
            ),
            (shape, Some(depth)) => lines.push((shape.clone(), *depth)),
        }
    }
    faults.close()?;
    finish(book, path, options, &placed, &depths, DataSetContent::Contours(lines))
}
