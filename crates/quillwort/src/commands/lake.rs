//! `new`, `add`, `lake`.

use super::{length, open, read, unit};
use crate::cli::{AddArgs, AddKind, LakeArgs, NewArgs};
use crate::output::{self, Answer};
use crate::ports;
use crate::table::Table;
use units::{CubicMetres, Metres, SquareMetres, UnitSystem, decimals};
use workflow::add::{AddKind as Kind, AddOptions};
use workflow::views::LakeView;
use workflow::{Error, Ground, Littoral, NewBook, Result};

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

fn kind(kind: AddKind) -> Kind {
    match kind {
        AddKind::Outline => Kind::Outline,
        AddKind::Depths => Kind::Depths,
        AddKind::Contours => Kind::Contours,
        AddKind::Zones => Kind::Zones,
        AddKind::SubAreas => Kind::SubAreas,
        AddKind::Landmarks => Kind::Landmarks,
        AddKind::Treatments => Kind::Treatments,
        AddKind::Species => Kind::Species,
    }
}

pub(crate) fn add(args: &AddArgs) -> Result<Answer> {
    let mut book = open(&args.book)?;
    let options = AddOptions {
        layer: args.layer.clone(),
        crs: args.crs.clone(),
        unit: unit(args.unit.as_ref())?,
        depth_column: args.depth_column.clone(),
        code_column: args.code_column.clone(),
        name_column: args.name_column.clone(),
        surface: args.surface,
        preview: args.preview,
    };
    let view = output::while_working("reading", || {
        workflow::add::add(&mut book, kind(args.kind), &args.file, &options)
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
    for (row, reason) in view.skipped.iter().take(10) {
        output::say(&format!("left out: row {row}: {reason}"));
    }
    if view.skipped.len() > 10 {
        output::say(&format!("left out: {} more", view.skipped.len() - 10));
    }
    output::warnings(&view.warnings);
    Ok(Answer::Done)
}

pub(crate) fn lake(args: &LakeArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let (ground, view) = output::while_working("measuring the lake", || {
        let ground = Ground::of(&book)?;
        let units = ground.lake.units;
        let mut littoral = ground.littoral();
        littoral.min_depth = length(args.min_depth.as_ref(), units)?.unwrap_or(littoral.min_depth);
        littoral.max_depth = length(args.max_depth.as_ref(), units)?.unwrap_or(littoral.max_depth);
        check_limits(littoral)?;
        let view = workflow::lake_view(&book, &ground, littoral)?;
        Ok::<_, Error>((ground, view))
    })?;
    if args.json {
        output::json(&view)?;
    } else {
        output::data(&text(&view, ground.lake.units));
        if view.max_depth_m.is_none() {
            output::say("note: no depths yet; add them with `quillwort add BOOK depths FILE`");
        }
    }
    Ok(Answer::Done)
}

fn check_limits(littoral: Littoral) -> Result<()> {
    if littoral.min_depth < littoral.max_depth && littoral.min_depth >= Metres::new(0.0) {
        return Ok(());
    }
    Err(Error::input("the shallow limit of the littoral zone is not above its deep limit")
        .hint("give `--min-depth` smaller than `--max-depth`"))
}

fn text(view: &LakeView, units: UnitSystem) -> String {
    let depth = |metres: f64| units.depth(Metres::new(metres));
    let mut text = format!("{}, {}\n\n", view.name, view.crs);
    let mut table = Table::new(&["measure", ">value", "how"]);
    let mut row = |name: &str, value: String, how: &str| {
        table.row(vec![name.into(), value, how.into()]);
    };
    row("area", units.area(SquareMetres::new(view.area_m2)), "on the ellipsoid, islands left out");
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
        let how = format!("{} to {}", depth(littoral.min_depth_m), depth(littoral.max_depth_m));
        row("littoral zone", units.area(SquareMetres::new(littoral.area_m2)), &how);
    }
    if let Some(error) = &view.error {
        let how = format!(
            "{}, {}; 95 in 100 within {}",
            error.method,
            view.interpolation.as_deref().unwrap_or(""),
            depth(error.p95_m)
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
            ">mean depth",
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
                zone.mean_depth_m.map_or_else(String::new, depth),
                zone.sub_areas.to_string(),
                if zone.protection == "none" { String::new() } else { zone.protection.clone() },
            ]);
        }
        text.push('\n');
        text.push_str(&table.text());
    }
    text
}
