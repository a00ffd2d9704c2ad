//! The map of sites, and the figures of the whole lake.

use super::blocks::{Block, Body, Column, Note, Pictures, Section, Table};
use super::input::{Mean, SiteOutcome, SurveyReport};
use super::text::{Line, interval, percent, whole};
use super::{Look, wide_px};
use crate::draw::{
    DepthClass, GridReference, Hypsography, LegendRow, MapData, MapStyle, Mark, Sign, SiteMark,
    ZoneCodes, depth_histogram, draw_map, hypsographic_curve,
};
use crate::error::PrintError;
use crate::words;
use units::{Metres, UnitSystem, decimals};

pub(super) fn where_we_looked(
    report: &SurveyReport,
    look: &Look<'_>,
    pictures: &mut Pictures,
) -> Result<Section, PrintError> {
    let sites: Vec<SiteMark> = report
        .sites
        .iter()
        .map(|site| SiteMark {
            code: site.code.clone(),
            x: site.x,
            y: site.y,
            mark: match &site.outcome {
                SiteOutcome::Sampled { with_plants: false } => Mark::NotFound,
                SiteOutcome::Sampled { with_plants: true } => Mark::Found { step: 1, of: 4 },
                SiteOutcome::NotSampled(_) => Mark::NotReached,
                SiteOutcome::NotVisited => Mark::PlannedElsewhere,
            },
        })
        .collect();
    let has = |mark: Mark| sites.iter().any(|site| site.mark == mark);
    let kinds = [
        (Mark::Found { step: 1, of: 4 }, "plants found"),
        (Mark::NotFound, "sampled, none found"),
        (Mark::NotReached, "not sampled"),
        (Mark::PlannedElsewhere, "not visited"),
    ];
    let mut signs: Vec<(Sign, String)> = kinds
        .iter()
        .filter(|(mark, _)| has(*mark))
        .map(|(mark, word)| (Sign::Site(*mark), (*word).to_owned()))
        .collect();
    signs.extend(area_signs(&report.map, look.units));
    let map = MapData { sites, sub_areas: Vec::new(), deepest: None, ..report.map.clone() };
    let style = MapStyle {
        legend: vec![LegendRow::Signs { items: signs }],
        site_codes: true,
        zone_codes: ZoneCodes::OnLand,
        landmark_names: true,
        description: format!("Map of the sites in {} with their codes", report.lake.name),
        ..MapStyle::new(look.palette, look.units, wide_px(look), 760.0)
    };
    let picture = pictures.add(draw_map(&map, &style, look.fonts)?);
    let mut notes = vec![Note::on(
        "Codes",
        Line::new().plain("are the same in the table on page\u{a0}").page_of("sites").plain("."),
    )];
    match &report.map.grid {
        GridReference::None => {}
        GridReference::Projected { name } => {
            notes.push(Note::on("Frame", format!("metres, {name}; north is grid north.")));
        }
        GridReference::Geographic { datum, .. } => {
            notes.push(Note::on("Frame", format!("degrees, {datum}.")));
        }
    }
    notes.push(Note::on("Not for navigation.", ""));
    let answer = Line::new()
        .bold(words::count(report.sites.len() as u64, "site", "sites"))
        .plain(format!(", of which {} were sampled.", whole(report.counts.sampled)));
    Ok(Section {
        name: "map",
        question: "Where did we look?".to_owned(),
        answer,
        blocks: vec![Block::new("", Body::Picture(picture)).notes(notes).wide()],
    })
}

/// Signs for areas and landmarks that a map has.
pub(super) fn area_signs(map: &MapData, units: UnitSystem) -> Vec<(Sign, String)> {
    let mut signs = Vec::new();
    if let Some(limit) = &map.plant_limit {
        signs.push((Sign::PlantLimit, words::depth(limit.depth, units)));
    }
    if map.zones.iter().any(|zone| zone.conservation) {
        signs.push((Sign::Conservation, "conservation area".to_owned()));
    }
    if !map.treated.is_empty() {
        signs.push((Sign::Treated, "treated bed".to_owned()));
    }
    signs
}

fn mean_row(table: &mut Table, what: &str, mean: Option<Mean>) {
    let Some(mean) = mean else { return };
    let error = mean.se.map_or_else(|| "–".to_owned(), |se| format!("± {}", decimals(se, 2)));
    table.row(vec![what.into(), decimals(mean.mean, 2).into(), error.into(), whole(mean.n).into()]);
}

fn figures_table(report: &SurveyReport, units: UnitSystem) -> Table {
    let mut table = Table::new(vec![
        Column::left("Measure"),
        Column::right("value").wide(66.0),
        Column::right("interval").wide(66.0),
        Column::right("n").wide(44.0),
    ]);
    let dash = || "–".to_owned();
    for (what, frequency) in [
        ("sites with plants, of all sampled", &report.any_plant.all),
        ("sites with plants, of littoral sites", &report.any_plant.littoral),
    ] {
        if let Some(frequency) = frequency {
            table.row(vec![
                what.into(),
                percent(frequency.p).into(),
                format!("{}\u{a0}%", interval(frequency)).into(),
                whole(frequency.n).into(),
            ]);
        }
    }
    let depth = report.max_plant_depth.map_or_else(dash, |depth| words::depth(depth, units));
    table.row(vec![
        "maximum depth of plants".into(),
        depth.into(),
        dash().into(),
        whole(report.counts.vegetated).into(),
    ]);
    let per_site = &report.species_per_site;
    mean_row(&mut table, "species a site, littoral sites", per_site.littoral);
    mean_row(&mut table, "species a site, sites with plants", per_site.vegetated);
    mean_row(&mut table, "native species a site, littoral sites", per_site.native_littoral);
    mean_row(&mut table, "native species a site, where native", per_site.native_where_native);
    for (what, n) in [
        ("species on the rake", report.richness.rake),
        ("species with visuals", report.richness.with_visuals),
        ("species with shoreline finds", report.richness.with_shoreline),
    ] {
        table.row(vec![what.into(), whole(n).into(), dash().into(), dash().into()]);
    }
    if let Some(simpson) = report.simpson {
        table.row(vec![
            "Simpson's diversity, 1 − Σp²".into(),
            decimals(simpson, 2).into(),
            dash().into(),
            dash().into(),
        ]);
    }
    if let Some(quality) = &report.floristic {
        table.row(vec![
            "floristic quality, mean C × √N".into(),
            decimals(quality.fqi, 1).into(),
            dash().into(),
            whole(quality.n).into(),
        ]);
    }
    table
}

pub(super) fn plants(report: &SurveyReport, look: &Look<'_>, pictures: &mut Pictures) -> Section {
    let units = look.units;
    let table = figures_table(report, units);
    let mut blocks = vec![Block::new("The survey in figures", Body::Table(table)).notes(vec![
        Note::on("Proportions", "Wilson interval, 95 %. Means stand without one."),
        Note::on(
            "Littoral sites",
            format!(
                "sampled sites no deeper than the deepest plant: {}.",
                whole(report.littoral_sites)
            ),
        ),
        Note::on(
            "Simpson",
            "p is a species' share of all occurrences: 0 is one kind only, near 1 is many kinds evenly.",
        ),
    ])];
    if let Some(histogram) = histogram(report, look, pictures) {
        blocks.push(histogram);
    }
    blocks.extend(hypsography(report, look, pictures));
    let answer = match (&report.any_plant.all, report.max_plant_depth) {
        (Some(frequency), Some(depth)) => Line::new()
            .plain("Plants grow at ")
            .bold(super::text::of_sites(frequency))
            .plain(format!(", down to {}.", words::depth(depth, units))),
        _ => Line::new().plain("No plant came up at any of the sites sampled."),
    };
    Section {
        name: "plants",
        question: "How much of the lake has plants?".to_owned(),
        answer,
        blocks,
    }
}

fn hypsography(report: &SurveyReport, look: &Look<'_>, pictures: &mut Pictures) -> Option<Block> {
    if report.lake.hypsography.len() < 2 {
        return None;
    }
    let mut steps: Vec<Metres> = report.map.bands.iter().map(|band| band.from).collect();
    steps.extend(report.map.bands.last().map(|band| band.to));
    let chart = Hypsography {
        curve: &report.lake.hypsography,
        steps: &steps,
        mark: report.max_plant_depth,
    };
    let size = (look.body_px(), 190.0);
    let drawing = hypsographic_curve(&chart, size, look.palette, look.units, look.fonts);
    let picture = Body::Picture(pictures.add(drawing));
    let notes = vec![Note::on(
        "Marked",
        "the maximum depth of plants in this survey; shallower water is where plants were found to grow.",
    )];
    Some(Block::new("How much lake lies below each depth", picture).notes(notes))
}

/// Sites by depth in classes of two feet or half a metre, wider where the lake is deep.
fn histogram(report: &SurveyReport, look: &Look<'_>, pictures: &mut Pictures) -> Option<Block> {
    let sampled: Vec<(Metres, bool)> = report
        .sites
        .iter()
        .filter_map(|site| match site.outcome {
            SiteOutcome::Sampled { with_plants } => Some((site.depth?, with_plants)),
            SiteOutcome::NotSampled(_) | SiteOutcome::NotVisited => None,
        })
        .collect();
    let deepest = sampled.iter().map(|site| site.0).fold(Metres::default(), Metres::max);
    let sizes = match look.units {
        UnitSystem::Us => [1.0, 2.0, 5.0, 10.0].map(Metres::from_feet),
        UnitSystem::Metric => [0.5, 1.0, 2.0, 5.0].map(Metres::new),
    };
    let size = sizes.into_iter().find(|size| deepest / *size <= 20.0).unwrap_or(sizes[3]);
    let count = ((deepest / size) - 1e-9).ceil().max(1.0) as usize;
    if deepest <= Metres::default() || count > 60 {
        return None;
    }
    let mut classes: Vec<DepthClass> = (0..count)
        .map(|index| DepthClass {
            from: size * index as f64,
            to: size * (index + 1) as f64,
            with_plants: 0,
            without: 0,
        })
        .collect();
    for (depth, has_plants) in &sampled {
        let index = ((*depth / size + 1e-9) as usize).min(count - 1);
        if *has_plants {
            classes[index].with_plants += 1;
        } else {
            classes[index].without += 1;
        }
    }
    let drawing =
        depth_histogram(&classes, (look.body_px(), 170.0), look.palette, look.units, look.fonts);
    let without_depth =
        report.counts.sampled as usize - sampled.len().min(report.counts.sampled as usize);
    let mut notes =
        vec![Note::on("Bars", "filled: sites with plants; open: sampled, nothing came up.")];
    if without_depth > 0 {
        notes.push(Note::on(
            "Left out",
            format!("{} without a depth.", words::count(without_depth as u64, "site", "sites")),
        ));
    }
    let picture = Body::Picture(pictures.add(drawing));
    Some(Block::new("At which depths", picture).notes(notes))
}
