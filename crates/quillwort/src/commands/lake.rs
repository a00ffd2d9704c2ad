//! `new`, `add`, `lake`.

use super::{length, open, read, unit};
use crate::cli::{AddArgs, AddKind, LakeArgs, NewArgs};
use crate::output::{self, Answer};
use crate::ports;
use crate::table::Table;
use units::{CubicMetres, LengthUnit, Metres, SquareMetres, UnitSystem, decimals};
use workflow::add::{AddKind as Kind, AddOptions};
use workflow::background::BackgroundOptions;
use workflow::views::{LakeView, ZoneView};
use workflow::{Error, Ground, LakeAsk, NewBook, Result};

pub(crate) fn new(args: &NewArgs) -> Result<Answer> {
    let new = NewBook {
        name: args.name.clone(),
        units: args.units.parse().unwrap_or_default(),
        crs: args.crs.clone(),
        region: args.region.clone(),
        county: args.county.clone(),
        water_body_number: args.water_body_number.clone(),
        depth_datum: args.depth_datum.clone(),
        code_style: args.codes.parse().ok(),
    };
    let book = workflow::new_book(&args.book, &new, ports::world())?;
    output::say(&format!(
        "made {} for {}\nnext: quillwort add {} outline FILE",
        book.path().display(),
        new.name,
        book.path().display()
    ));
    Ok(Answer::Done)
}

/// What a file is to the lake; none for pictures under it and what comes back from the water.
fn kind(kind: AddKind) -> Option<Kind> {
    Some(match kind {
        AddKind::Outline => Kind::Outline,
        AddKind::Depths => Kind::Depths,
        AddKind::Contours => Kind::Contours,
        AddKind::Zones => Kind::Zones,
        AddKind::SubAreas => Kind::SubAreas,
        AddKind::Landmarks => Kind::Landmarks,
        AddKind::Treatments => Kind::Treatments,
        AddKind::Species => Kind::Species,
        AddKind::Background | AddKind::Track | AddKind::Sheet => return None,
    })
}

/// A length that may be negative, in the lake's unit when none is said.
fn signed(text: Option<&String>, default: LengthUnit, option: &str) -> Result<Option<f64>> {
    text.map(|text| {
        units::parse_length(text, default)
            .map(Metres::metres)
            .map_err(|error| Error::input(error.to_string()).hint(format!("correct `{option}`")))
    })
    .transpose()
}

fn background(args: &AddArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let points = args.points.clone().ok_or_else(|| {
        Error::input("a background needs control points").hint(
            "give `--points POINTS.csv` with columns name, pixel_x, pixel_y, longitude, latitude; three places or more that show in the picture",
        )
    })?;
    let options = BackgroundOptions {
        points,
        crs: args.crs.clone(),
        warp: args.warp.clone(),
        page: args.page,
        name: args.name.clone(),
        preview: args.preview,
    };
    let view = output::while_working("placing the picture", || {
        workflow::background::add_background(&mut book, &args.file, &options)
    })?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    let units = book.lake()?.units;
    let length = |metres: f64| units.depth(Metres::new(metres));
    let verb = if view.preview { "would put" } else { "put" };
    output::say(&format!(
        "{verb} {} under the lake by {} control points, {}: fits them to {}",
        view.file,
        view.control_points.len(),
        view.warp.as_deref().unwrap_or(""),
        length(view.residual_m.unwrap_or(0.0))
    ));
    let mut table = Table::new(&["point", ">pixel x", ">pixel y", ">off", ">off, left out"]);
    for point in &view.control_points {
        table.row(vec![
            point.name.clone(),
            decimals(point.pixel[0], 0),
            decimals(point.pixel[1], 0),
            length(point.residual_m),
            point.left_out_m.map_or_else(String::new, length),
        ]);
    }
    output::say(table.text().trim_end());
    output::say(&place_line(view.extent));
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

/// Where something falls, west to east and south to north.
fn place_line(extent: Option<[f64; 4]>) -> String {
    let Some([west, south, east, north]) = extent else { return String::new() };
    let side = |value: f64, plus: &str, minus: &str| {
        format!("{:.5}° {}", value.abs(), if value < 0.0 { minus } else { plus })
    };
    format!(
        "falls between {} and {}, {} and {}",
        side(west, "E", "W"),
        side(east, "E", "W"),
        side(south, "N", "S"),
        side(north, "N", "S")
    )
}

pub(crate) fn add(args: &AddArgs) -> Result<Answer> {
    let Some(kind) = kind(args.kind) else {
        return match args.kind {
            AddKind::Sheet => super::back::sheet(args),
            AddKind::Track => super::back::track(args),
            _ => background(args),
        };
    };
    let mut book = open(&args.book)?;
    let lake_unit = book.lake()?.units.length_unit();
    let options = AddOptions {
        layer: args.layer.clone(),
        crs: args.crs.clone(),
        unit: unit(args.unit.as_ref())?,
        depth_column: args.depth_column.clone(),
        code_column: args.code_column.clone(),
        name_column: args.name_column.clone(),
        surface: args.surface,
        transducer: signed(args.transducer.as_ref(), lake_unit, "--transducer")?,
        water_level: signed(args.water_level.as_ref(), lake_unit, "--water-level")?,
        fix: args.fix,
        on: args.on.clone(),
        preview: args.preview,
        sketch: false,
    };
    let view = output::while_working("reading", || {
        workflow::add::add(&mut book, kind, &args.file, &options)
    })?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    let units = book.lake()?.units;
    let verb = if view.preview { "would add" } else { "added" };
    let count = if view.preview { view.read - view.skipped.len() } else { view.stored };
    let mut text =
        format!("{verb} {} from {}: {count} of {} read", view.kind, view.file, view.read);
    if !view.crs.is_empty() {
        text.push_str(&format!(", {}", view.crs));
    }
    if let Some(area) = view.area_m2 {
        text.push_str(&format!(", {}", units.area(SquareMetres::new(area))));
    }
    if let Some([least, most]) = view.depth_m {
        let value = |metres| decimals(units.depth_value(Metres::new(metres)), 1);
        text.push_str(&format!(", {} to {} {}", value(least), value(most), units.depth_unit()));
    }
    output::say(&text);
    if view.preview && view.extent.is_some() {
        output::say(&place_line(view.extent));
    }
    for one in view.skipped.iter().take(10) {
        output::say(&format!("left out: row {}: {}", one.row, one.reason));
    }
    if view.skipped.len() > 10 {
        output::say(&format!("left out: {} more", view.skipped.len() - 10));
    }
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

pub(crate) fn lake(args: &LakeArgs) -> Result<Answer> {
    if args.keep {
        let mut book = open(&args.book)?;
        let asked = asked(args, book.lake()?.units)?;
        workflow::keep_littoral(&mut book, &asked)?;
    }
    let book = read(&args.book)?;
    let (ground, view) = output::while_working("measuring the lake", || {
        let ground = Ground::of(&book)?;
        let mut asked = asked(args, ground.lake.units)?;
        if args.keep {
            // they are the lake's own by now
            asked = LakeAsk { min_depth: None, max_depth: None, secchi: None, ..asked };
        }
        let request = asked.request(ground.littoral())?;
        let ground = match asked.level {
            Some(level) => ground.at_level(level)?,
            None => ground,
        };
        let view = workflow::lake_view_of(&book, &ground, &request)?;
        Ok::<_, Error>((ground, view))
    })?;
    if args.json {
        output::json(&view)?;
    } else {
        output::data(&text(&view, ground.lake.units));
        output::warnings(&view.remarks);
        if view.max_depth_m.is_none() {
            output::say("note: no depths yet; add them with `quillwort add BOOK depths FILE`");
        }
    }
    Ok(Answer::Done)
}

fn asked(args: &LakeArgs, units: UnitSystem) -> Result<LakeAsk> {
    let level = signed(args.level.as_ref(), LengthUnit::Metre, "--level")?;
    Ok(LakeAsk {
        level: level.map(Metres::new),
        rule: args.rule.clone(),
        min_depth: length(args.min_depth.as_ref(), units)?,
        max_depth: length(args.max_depth.as_ref(), units)?,
        secchi: length(args.secchi.as_ref(), units)?,
        regression: args.regression.clone(),
        year: args.year,
    })
}

/// What may be done in a zone and since when it is one.
fn rule_words(zone: &ZoneView) -> String {
    let mut words = Vec::new();
    if zone.protection != "none" {
        words.push(zone.protection.clone());
    }
    if !zone.rule.is_empty() {
        words.push(zone.rule.clone());
    }
    if let Some(since) = zone.since {
        words.push(format!("since {since}"));
    }
    if let Some(until) = zone.until {
        words.push(format!("until {until}"));
    }
    words.join(", ")
}

#[expect(clippy::too_many_lines, reason = "a page of lines, one after another")]
fn text(view: &LakeView, units: UnitSystem) -> String {
    let depth = |metres: f64| units.depth(Metres::new(metres));
    let mut text = format!("{}, {}\n\n", view.name, view.crs);
    let mut table = Table::new(&["measure", ">value", "how"]);
    let mut row = |name: &str, value: String, how: &str| {
        table.row(vec![name.into(), value, how.into()]);
    };
    if view.level_m.abs() > 0.0 {
        let side = if view.level_m < 0.0 { "below" } else { "above" };
        row("water level", depth(view.level_m.abs()), &format!("{side} the reference level"));
    }
    let of_cells = view.rule.as_deref() == Some("raster-cells");
    let how = if of_cells {
        "raster-cells: cells under water × area of a cell"
    } else if view.level_m < 0.0 {
        "cells of the depth model under water"
    } else {
        "on the ellipsoid, islands left out"
    };
    row("area", units.area(SquareMetres::new(view.area_m2)), how);
    row("shore", units.distance(Metres::new(view.perimeter_m)), "islands' shores included");
    row("islands", view.island_count.to_string(), "");
    row(
        "shoreline development",
        decimals(view.shoreline_development, 2),
        "shore against a circle of the same area",
    );
    if let Some(length) = view.max_length_m {
        row("longest reach", units.distance(Metres::new(length)), "straight over water");
    }
    if let (Some(most), Some(mean), Some(volume)) =
        (view.max_depth_m, view.mean_depth_m, view.volume_m3)
    {
        row("greatest depth", depth(most), "deepest datum");
        row("mean depth", depth(mean), "volume by area");
        let rule = format!("rule: {}", view.rule.as_deref().unwrap_or(""));
        row("volume", units.volume(CubicMetres::new(volume)), &rule);
    }
    if let Some(littoral) = &view.littoral {
        let mut how = format!("{} to {}", depth(littoral.min_depth_m), depth(littoral.max_depth_m));
        if littoral.limit == "chosen" {
            how.push_str(", chosen");
        }
        row("littoral zone", units.area(SquareMetres::new(littoral.area_m2)), &how);
    }
    if let Some(littoral) = view.littoral.as_ref().filter(|one| one.secchi_m.is_some()) {
        let source = littoral.regression.as_ref().map_or("", |one| one.source.as_str());
        row(
            "limit of plants",
            depth(littoral.max_depth_m),
            &format!("from Secchi depth {}: {source}", depth(littoral.secchi_m.unwrap_or(0.0))),
        );
        let mut spread: Vec<String> = littoral
            .other_regressions
            .iter()
            .map(|one| format!("{} gives {}", one.key, depth(one.limit_m)))
            .collect();
        if let Some(upper) = littoral.upper_limit_m {
            spread.insert(0, format!("at most {} was observed", depth(upper)));
        }
        row("", String::new(), &spread.join("; "));
    }
    if let Some(slope) = &view.slope {
        let percent = |value: f64| format!("{} %", decimals(value, 1));
        row(
            "slope of the bed",
            percent(slope.mean_percent),
            &format!(
                "mean; half is flatter than {}, 95 in 100 than {}",
                percent(slope.median_percent),
                percent(slope.p95_percent)
            ),
        );
    }
    if let Some(far) = &view.datum_distance {
        row(
            "nearest depth measured",
            depth(far.mean_m),
            &format!(
                "mean distance; half the water within {}, 95 in 100 within {}, the farthest {}",
                depth(far.median_m),
                depth(far.p95_m),
                depth(far.most_m)
            ),
        );
    }
    if let Some(error) = &view.error {
        let how = format!(
            "{}, {}; 95 in 100 within {}{}",
            error.method,
            view.interpolation.as_deref().unwrap_or(""),
            depth(error.p95_m),
            view.interpolation_not_taken.as_ref().map_or_else(String::new, |one| {
                format!("; {} would be off by {}", one.method, depth(one.mean_m))
            })
        );
        row("depth model off by", depth(error.mean_m), &how);
    }
    text.push_str(&table.text());
    if !view.hypsography.is_empty() {
        let mut table = Table::new(&[">depth", ">area deeper", ">volume below"]);
        for step in &view.hypsography {
            table.row(vec![
                depth(step.depth_m),
                units.area(SquareMetres::new(step.area_m2)),
                units.volume(CubicMetres::new(step.volume_below_m3)),
            ]);
        }
        text.push('\n');
        text.push_str(&table.text());
    }
    if !view.zones.is_empty() {
        let mut table = Table::new(&[
            "zone",
            "name",
            ">area",
            ">littoral",
            ">shore",
            ">mean depth",
            ">volume",
            ">sub-areas",
            "rule",
        ]);
        for zone in &view.zones {
            let area = |value: Option<f64>| {
                value.map_or_else(String::new, |area| units.area(SquareMetres::new(area)))
            };
            table.row(vec![
                zone.code.clone(),
                zone.name.clone(),
                area(Some(zone.area_m2)),
                area(zone.littoral_area_m2),
                zone.shore_m.map_or_else(String::new, |shore| units.distance(Metres::new(shore))),
                zone.mean_depth_m.map_or_else(String::new, depth),
                zone.volume_m3
                    .map_or_else(String::new, |volume| units.volume(CubicMetres::new(volume))),
                zone.sub_areas.to_string(),
                rule_words(zone),
            ]);
        }
        text.push('\n');
        text.push_str(&table.text());
    }
    text
}
