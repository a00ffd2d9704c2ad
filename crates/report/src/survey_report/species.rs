//! The species tables, floristic quality, and where each species grows.

use super::blocks::{Block, Body, Cell, Column, Note, Pictures, Section, Table};
use super::cover::{frequency_table, name, plain_name};
use super::figures::area_signs;
use super::input::{
    FloristicQuality, HowSeen, Origin, ReportSite, SiteOutcome, SpeciesMaps, SurveyReport,
    TaxonFinding,
};
use super::text::{Line, in_table, of_sites, percent, whole};
use super::{Look, wide_px};
use crate::draw::{
    DepthStrip, GridReference, LegendRow, MapData, MapStyle, Mark, SiteMark, ZoneCodes,
    depth_strip, draw_map,
};
use crate::error::PrintError;
use crate::words;
use units::{Metres, decimals};

/// With more species than this, native ones share pages.
const MOST_SINGLE: usize = 6;
const TO_A_PAGE: usize = 6;

pub(super) fn tables(report: &SurveyReport, look: &Look<'_>, pictures: &mut Pictures) -> Section {
    let all: Vec<&TaxonFinding> = report.taxa.iter().collect();
    let (table, _) = frequency_table(&all, look, pictures, 132.0, report.counts.sampled);
    let unsettled = all.iter().any(|taxon| taxon.origin == Origin::Unsettled);
    let mut marks = "Disc: native. Open diamond: introduced.".to_owned();
    if unsettled {
        marks.push_str(" Ring: not settled, such as a name for several species.");
    }
    let first = Block::new("How often each came up", Body::Table(table)).notes(vec![
        Note::on(
            "Intervals",
            format!(
                "Wilson, 95 %. n = {} sampled. A site counts once however many throws held the plant.",
                words::count(report.counts.sampled, "site", "sites")
            ),
        ),
        Note::on("Marks", marks),
    ]);
    let n_introduced =
        report.taxa.iter().filter(|t| t.origin == Origin::Introduced && t.sites > 0).count();
    let mut answer =
        Line::new().bold(words::count(report.richness.rake, "kind of plant", "kinds of plant"));
    answer = answer.plain(match n_introduced {
        0 => " on the rake, none of them introduced.".to_owned(),
        n => format!(" on the rake, {} of them introduced.", whole(n as u64)),
    });
    if let Some(taxon) = report.taxa.first()
        && let Some(frequency) = &taxon.all
    {
        answer = answer
            .plain(format!(" {} is the commonest, at ", words::sentence(plain_name(taxon))))
            .bold(of_sites(frequency))
            .plain(".");
    }
    Section {
        name: "species",
        question: "What lives here, and how common is it?".to_owned(),
        answer,
        blocks: if report.taxa.is_empty() {
            Vec::new()
        } else {
            vec![first, full_table(report, look)]
        },
    }
}

fn full_table(report: &SurveyReport, look: &Look<'_>) -> Block {
    let n = |frequency: fn(&TaxonFinding) -> Option<&super::Frequency>| {
        report.taxa.iter().find_map(|taxon| frequency(taxon)).map_or(0, |f| f.n)
    };
    let (all, littoral, vegetated) =
        (n(|t| t.all.as_ref()), n(|t| t.littoral.as_ref()), n(|t| t.vegetated.as_ref()));
    let headed =
        |what: &str, n: u64| Column::right(what).more(format!("n = {}", whole(n))).wide(64.0);
    let mut table = Table::new(vec![
        Column::left("Code").wide(38.0),
        Column::left("Species"),
        headed("% of all", all),
        headed("% of littoral", littoral),
        headed("% of veget.", vegetated),
        Column::right("relative").more("%").wide(42.0),
        Column::right("mean").more("rating").wide(38.0),
        Column::right("only").more("seen").wide(32.0),
        Column::right("deepest").more(look.units.depth_unit()).wide(42.0),
    ]);
    for taxon in &report.taxa {
        let mut words = Line::new().plain(&taxon.common_name);
        if taxon.common_name != taxon.scientific_name {
            words = words.new_line().italic(&taxon.scientific_name);
        }
        if taxon.listed_noxious {
            words = words.plain(", listed noxious");
        }
        let dash = || "–".to_owned();
        table.row(vec![
            Line::new().bold(&taxon.code).into(),
            words.into(),
            in_table(taxon.all.as_ref()).into(),
            in_table(taxon.littoral.as_ref()).into(),
            in_table(taxon.vegetated.as_ref()).into(),
            taxon.relative.map_or_else(dash, |share| decimals(100.0 * share, 1)).into(),
            taxon.mean_rating.map_or_else(dash, |mean| decimals(mean, 1)).into(),
            whole(taxon.visuals).into(),
            taxon
                .max_depth
                .map_or_else(dash, |depth| decimals(look.units.depth_value(depth), 1))
                .into(),
        ]);
    }
    Block::new("The same, with every denominator", Body::Table(table))
        .notes(vec![
            Note::on("In brackets", "the 95 % interval (Wilson)."),
            Note::on("Littoral", "sites no deeper than the deepest plant of any kind."),
            Note::on("Vegetated", "sites with any plant on the rake."),
            Note::on("Relative", "share of all occurrences; sums to 100."),
            Note::on("Mean rating", format!("where found, on the scale “{}”.", report.scale.name)),
            Note::on("Only seen", "sites where it was seen but not on the rake; in no percentage."),
        ])
        .wide()
}

pub(super) fn floristic(quality: &FloristicQuality) -> Section {
    let mut table = Table::new(vec![
        Column::left("Species"),
        Column::right("C").wide(28.0),
        Column::left("remark").wide(120.0),
    ]);
    for row in &quality.rows {
        let words = if row.common_name.is_empty() || row.common_name == row.scientific_name {
            Line::new().italic(&row.scientific_name)
        } else {
            Line::new().plain(&row.common_name).plain(" ").italic(&row.scientific_name)
        };
        table.row(vec![
            words.into(),
            row.c
                .map_or_else(|| "–".to_owned(), |c| decimals(c, usize::from(c.fract() != 0.0)))
                .into(),
            row.note.as_str().into(),
        ]);
    }
    table.total = vec![
        format!(
            "{} with a value, mean",
            words::count(quality.n, "native species", "native species")
        )
        .into(),
        decimals(quality.mean_c, 2).into(),
        format!("FQI {}", decimals(quality.fqi, 1)).into(),
    ];
    Section {
        name: "floristic",
        question: "How particular are these plants?".to_owned(),
        answer: Line::new()
            .plain("Floristic quality is ")
            .bold(decimals(quality.fqi, 1))
            .plain(format!(
                ", from {} with a mean C of {}.",
                words::count(quality.n, "native species", "native species"),
                decimals(quality.mean_c, 2)
            )),
        blocks: vec![Block::new("Coefficients of conservatism", Body::Table(table)).notes(vec![
            Note::on(
                "C",
                "runs from 0, a plant that lives anywhere, to 10, one that keeps to undisturbed waters.",
            ),
            Note::on("FQI", "is mean C × √N, N native species with a value."),
            Note::on("Table", format!("{}.", quality.c_table)),
            Note::on(
                "Compare",
                "only lakes of one region, surveyed with like effort: more throws find more species and raise it.",
            ),
        ])],
    }
}

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
                SiteOutcome::Sampled => {
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
    let answer = answer.plain(".").key(1);
    Ok(Section {
        name: "maps",
        question: format!("Where is {}?", plain_name(taxon)),
        answer,
        blocks,
    })
}

fn strip(report: &SurveyReport, index: usize) -> Option<DepthStrip> {
    let of = report.scale.steps.len().clamp(1, 255) as u8;
    let sampled: Vec<(&ReportSite, Metres)> = report
        .sites
        .iter()
        .filter(|site| site.outcome == SiteOutcome::Sampled)
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
            .filter(|site| site.zone == zone.code && site.outcome == SiteOutcome::Sampled)
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

pub(super) fn codes(report: &SurveyReport) -> Line {
    let mut line = Line::new();
    for (index, taxon) in report.taxa.iter().enumerate() {
        line = line
            .plain(if index == 0 { "" } else { "; " })
            .bold(&taxon.code)
            .plain(" ")
            .then(name(taxon));
    }
    line
}
