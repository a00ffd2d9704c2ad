//! Where each species grows: a page each, or six to a page.

use super::blocks::{Block, Body, Cell, Column, Note, Pictures, Section, Table};
use super::cover::plain_name;
use super::figures::area_signs;
use super::input::{
    HowSeen, Origin, ReportSite, SiteOutcome, SpeciesMaps, SurveyReport, TaxonFinding,
};
use super::text::{Line, of_sites, percent, whole};
use super::{Look, wide_px};
use crate::draw::{
    DepthStrip, GridReference, LegendRow, MapData, MapStyle, Mark, SiteMark, ZoneCodes,
    depth_strip, draw_map,
};
use crate::error::PrintError;
use crate::words;
use units::Metres;

/// With more species than this, native ones share pages.
const MOST_SINGLE: usize = 6;
const TO_A_PAGE: usize = 6;

/// What one species has to show at each site.
fn species_marks(report: &SurveyReport, index: usize) -> Vec<SiteMark> {
    let of = report.scale.steps.len().clamp(1, 255) as u8;
    report
        .sites
        .iter()
        .filter_map(|site| {
            let mark = match &site.outcome {
                SiteOutcome::NotVisited => return None,
                SiteOutcome::NotSampled(_) => Mark::NotReached,
                SiteOutcome::Sampled { .. } => {
                    step_at(site, index).map_or(Mark::NotFound, |step| Mark::Found { step, of })
                }
            };
            Some(SiteMark { code: site.code.clone(), x: site.x, y: site.y, mark })
        })
        .collect()
}

/// Step of the scale on the rake, none when it was not on it.
fn step_at(site: &ReportSite, index: usize) -> Option<u8> {
    site.found
        .iter()
        .filter(|seen| seen.taxon == index)
        .filter_map(|seen| match seen.how {
            HowSeen::Rake { step } => Some(step),
            HowSeen::Visual => None,
        })
        .max()
}

pub(super) fn maps(
    report: &SurveyReport,
    look: &Look<'_>,
    pictures: &mut Pictures,
) -> Result<Vec<Section>, PrintError> {
    let found: Vec<usize> =
        (0..report.taxa.len()).filter(|index| report.taxa[*index].sites > 0).collect();
    let alone = |index: &usize| match report.species_maps {
        SpeciesMaps::OnePage => true,
        SpeciesMaps::SixToAPage => false,
        SpeciesMaps::Automatic => {
            found.len() <= MOST_SINGLE || report.taxa[*index].origin == Origin::Introduced
        }
    };
    let (single, shared): (Vec<usize>, Vec<usize>) = found.iter().copied().partition(alone);
    let mut sections = Vec::new();
    for index in &single {
        sections.push(one_species(report, *index, look, pictures)?);
    }
    for (page, part) in shared.chunks(TO_A_PAGE).enumerate() {
        let mut items = Vec::new();
        for index in part {
            let taxon = &report.taxa[*index];
            let map = MapData { sites: species_marks(report, *index), ..quiet(&report.map) };
            let style = MapStyle {
                framed: false,
                description: format!("Map of {}", plain_name(taxon)),
                ..MapStyle::new(look.palette, look.units, wide_px(look) / 2.0 - 12.0, 226.0)
            };
            let picture = pictures.add(draw_map(&map, &style, look.fonts)?);
            let share = taxon.all.as_ref().map_or_else(String::new, |f| {
                format!(", {} of {} sites ({})", whole(f.k), whole(f.n), percent(f.p))
            });
            let caption = Line::new().bold(words::sentence(plain_name(taxon))).plain(share);
            items.push((picture, caption));
        }
        let names: Vec<String> =
            part.iter().map(|index| plain_name(&report.taxa[*index]).to_owned()).collect();
        let question = match (page, sections.is_empty() && shared.len() <= TO_A_PAGE) {
            (_, true) => "Where does each grow?".to_owned(),
            (0, _) if !single.is_empty() => "Where do the others grow?".to_owned(),
            (0, _) => "Where do they grow?".to_owned(),
            _ => "And where do these grow?".to_owned(),
        };
        let steps: Vec<String> = report.scale.steps.iter().map(|step| step.name.clone()).collect();
        let size = if steps.len() > 1 {
            format!("larger discs are higher ratings ({}).", steps.join(", "))
        } else {
            "a disc is a site with it.".to_owned()
        };
        sections.push(Section {
            name: "maps",
            question,
            answer: Line::new().plain(format!("{}.", words::sentence(&words::list(&names)))),
            blocks: vec![
                Block::new("", Body::Pictures { across: 2, items })
                    .notes(vec![
                        Note::on("Discs", size),
                        Note::on("Rings", "looked for, not found; not found is not absent."),
                        Note::on("Crosses", "no rake thrown."),
                    ])
                    .wide(),
            ],
        });
    }
    Ok(sections)
}

/// The lake without what is not this picture's subject.
fn quiet(map: &MapData) -> MapData {
    MapData {
        sites: Vec::new(),
        treated: Vec::new(),
        sub_areas: Vec::new(),
        landmarks: Vec::new(),
        zones: Vec::new(),
        contours: Vec::new(),
        deepest: None,
        grid: GridReference::None,
        ..map.clone()
    }
}

fn one_species(
    report: &SurveyReport,
    index: usize,
    look: &Look<'_>,
    pictures: &mut Pictures,
) -> Result<Section, PrintError> {
    let taxon = &report.taxa[index];
    let of = report.scale.steps.len().clamp(1, 255) as u8;
    let mut items: Vec<(Mark, String)> = report
        .scale
        .steps
        .iter()
        .zip(1_u8..)
        .map(|(step, number)| (Mark::Found { step: number, of }, step.name.clone()))
        .collect();
    items.push((Mark::NotFound, "not found".to_owned()));
    if report.counts.not_sampled.iter().any(|reason| reason.1 > 0) {
        items.push((Mark::NotReached, "not sampled".to_owned()));
    }
    let mut legend = vec![LegendRow::Marks { title: "rating at the site".to_owned(), items }];
    let signs = area_signs(&report.map, look.units);
    if !signs.is_empty() {
        legend.push(LegendRow::Signs { items: signs });
    }
    let map = MapData {
        sites: species_marks(report, index),
        sub_areas: Vec::new(),
        deepest: None,
        grid: GridReference::None,
        ..report.map.clone()
    };
    let style = MapStyle {
        legend,
        zone_codes: ZoneCodes::OnLand,
        landmark_names: true,
        description: format!("Map of {}: {}", report.lake.name, plain_name(taxon)),
        ..MapStyle::new(look.palette, look.units, wide_px(look), 385.0)
    };
    let picture = pictures.add(draw_map(&map, &style, look.fonts)?);

    let mut blocks = vec![Block::new("", Body::Picture(picture)).wide()];
    let mut notes = notes(report, taxon);
    if let Some(strip) = strip(report, index) {
        let drawing = depth_strip(&strip, look.body_px(), look.palette, look.units, look.fonts);
        let deepest = taxon.max_depth.map_or_else(String::new, |depth| {
            format!(" Deepest find {}.", words::depth(depth, look.units))
        });
        notes.insert(
            1,
            Note::keyed(
                2,
                Line::new().plain(format!(
                    "Above the line: found. Below: looked for, not found.{deepest}"
                )),
            ),
        );
        let heading = Line::new().plain("How deep it grows").key(2);
        blocks.push(Block::new(heading, Body::Picture(pictures.add(drawing))).notes(notes));
    } else if let Some(first) = blocks.first_mut() {
        first.notes = notes;
    }
    if !report.zones.is_empty() {
        blocks.push(zone_table(report, index, look));
    }
    Ok(Section {
        name: "maps",
        question: format!("Where is {}?", plain_name(taxon)),
        answer: answer(report, taxon),
        blocks,
    })
}

fn answer(report: &SurveyReport, taxon: &TaxonFinding) -> Line {
    let mut answer = Line::new();
    if !taxon.common_name.is_empty() && taxon.common_name != taxon.scientific_name {
        answer = answer.italic(&taxon.scientific_name).plain(", ");
    }
    answer = answer.plain(match taxon.origin {
        Origin::Native => "native here.",
        Origin::Introduced => "introduced here.",
        Origin::Unsettled => "origin not settled.",
    });
    if taxon.listed_noxious {
        answer = answer.plain(" Listed noxious.");
    }
    if let Some(frequency) = &taxon.all {
        answer = answer.plain(" At ").bold(of_sites(frequency));
    }
    let most = taxon.ratings.iter().enumerate().max_by_key(|(index, n)| (**n, usize::MAX - index));
    if let Some((step, _)) = most.filter(|(_, n)| **n > 0)
        && report.scale.steps.len() > 1
        && let Some(step) = report.scale.steps.get(step)
    {
        answer = answer.plain(format!(", most often {}", step.name));
    }
    answer.plain(".").key(1)
}

fn notes(report: &SurveyReport, taxon: &TaxonFinding) -> Vec<Note> {
    let n = report.counts.sampled;
    let mut notes = vec![
        Note::keyed(
            1,
            Line::new().bold(format!("n = {}", whole(n))).plain(format!(
                " sampled, {} each. Interval: Wilson, 95 %.",
                words::count(u64::from(report.method.throws), "throw", "throws")
            )),
        ),
        Note::on("Not found is not absent.", "A throw can miss a plant that grows there."),
    ];
    notes.extend(taxon.notes.iter().map(|note| Note { key: None, text: note.as_str().into() }));
    if taxon.visuals > 0 {
        notes.push(Note::on(
            "Only seen",
            format!(
                "at {}; not on the map and in no percentage.",
                words::count(taxon.visuals, "more site", "more sites")
            ),
        ));
    }
    notes
}

fn strip(report: &SurveyReport, index: usize) -> Option<DepthStrip> {
    let of = report.scale.steps.len().clamp(1, 255) as u8;
    let sampled: Vec<(&ReportSite, Metres)> = report
        .sites
        .iter()
        .filter(|site| matches!(site.outcome, SiteOutcome::Sampled { .. }))
        .filter_map(|site| Some((site, site.depth?)))
        .collect();
    let deepest = sampled.iter().map(|site| site.1).fold(Metres::default(), Metres::max);
    if deepest <= Metres::default() {
        return None;
    }
    let mut strip = DepthStrip { found: Vec::new(), not_found: Vec::new(), deepest };
    for (site, depth) in sampled {
        match step_at(site, index) {
            Some(step) => strip.found.push((depth, Mark::Found { step, of })),
            None => strip.not_found.push(depth),
        }
    }
    Some(strip)
}

fn zone_table(report: &SurveyReport, index: usize, look: &Look<'_>) -> Block {
    let mut table = Table::new(vec![
        Column::left("Zone").wide(34.0),
        Column::left(""),
        Column::right(look.units.area_unit()).wide(50.0),
        Column::right("sampled").wide(50.0),
        Column::right("found").wide(44.0),
    ]);
    let (mut sampled_total, mut found_total, mut area_total) = (0, 0, 0.0);
    let area = |value: f64| units::with_thousands(value, usize::from(value < 1_000.0));
    for zone in &report.zones {
        let sampled: Vec<&ReportSite> = report
            .sites
            .iter()
            .filter(|site| {
                site.zone == zone.code && matches!(site.outcome, SiteOutcome::Sampled { .. })
            })
            .collect();
        let found = sampled.iter().filter(|site| step_at(site, index).is_some()).count() as u64;
        let size = look.units.area_value(zone.area);
        sampled_total += sampled.len() as u64;
        found_total += found;
        area_total += size;
        let cells: Vec<Cell> = vec![
            Line::new().bold(&zone.code).into(),
            zone.name.as_str().into(),
            area(size).into(),
            whole(sampled.len() as u64).into(),
            whole(found).into(),
        ];
        table.row(cells);
    }
    table.total = vec![
        "".into(),
        "all zones".into(),
        area(area_total).into(),
        whole(sampled_total).into(),
        whole(found_total).into(),
    ];
    Block::new("Zone by zone", Body::Table(table))
        .notes(vec![Note::on("Few sites", "in one zone say little about that zone alone.")])
}
