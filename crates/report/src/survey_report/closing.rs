//! Conditions and crew, how far the figures can be trusted, and what was recorded at each site.

use super::Look;
use super::blocks::{Block, Body, Column, Note, Section, Table};
use super::input::{HowSeen, SiteOutcome, SurveyReport};
use super::species::codes;
use super::text::Line;
use crate::words;
use units::decimals;

pub(super) fn conditions(report: &SurveyReport, look: &Look<'_>) -> Section {
    let mut days = Table::new(vec![
        Column::left("Day").wide(84.0),
        Column::right("air").wide(40.0),
        Column::right("water").wide(40.0),
        Column::right("Secchi").wide(48.0),
        Column::left("weather"),
        Column::left("water level").wide(84.0),
    ]);
    let dash = || "–".to_owned();
    for day in &report.conditions {
        days.row(vec![
            words::date(day.date).into(),
            day.air.map_or_else(dash, |t| look.units.temperature(t)).into(),
            day.water.map_or_else(dash, |t| look.units.temperature(t)).into(),
            day.secchi.map_or_else(dash, |depth| words::depth(depth, look.units)).into(),
            day.weather.as_str().into(),
            day.water_level.as_str().into(),
        ]);
    }
    let mut crew = Table::new(vec![Column::left("Who"), Column::left("did what")]);
    for member in &report.crew {
        crew.row(vec![member.name.as_str().into(), member.role.as_str().into()]);
    }
    let mut blocks = Vec::new();
    if !report.conditions.is_empty() {
        blocks.push(Block::new("Day by day", Body::Table(days)).notes(vec![Note::on(
            "Secchi",
            "depth at which a white or black-and-white disc is just lost from sight.",
        )]));
    }
    if !report.crew.is_empty() {
        blocks.push(Block::new("Crew", Body::Table(crew)).notes(
            if report.identification.is_empty() {
                Vec::new()
            } else {
                vec![Note::on("Named by", report.identification.as_str())]
            },
        ));
    }
    let days = report.conditions.len() as u64;
    let answer = Line::new()
        .bold(words::count(days, "day", "days"))
        .plain(format!(" on the water, {}.", words::dates(report.dates)));
    Section {
        name: "conditions",
        question: "Who was out, and in what weather?".to_owned(),
        answer,
        blocks,
    }
}

pub(super) fn trust(report: &SurveyReport) -> Section {
    let mut limits: Vec<Line> = report.cautions.iter().map(|text| text.as_str().into()).collect();
    limits.push(
        "Not found is not absent. A plant that grows at few sites, or that a rake slips past, can be \
         missed by every throw."
            .into(),
    );
    limits.push(
        "Frequency is the share of sites, not of the lake's area covered and not the weight of plants."
            .into(),
    );
    limits.push(
        "Compare with another year only where the sites, the rake, the rating scale, the season and \
         the depth limit were the same, or say what differed."
            .into(),
    );
    let mut blocks = vec![Block::new(
        "What limits these figures",
        Body::Text { paragraphs: limits, large: false },
    )];
    let seal = match &report.seal {
        Some(seal) => {
            let mut line = Line::new().plain(format!("Sealed on {}", words::date(seal.date)));
            if !seal.by.is_empty() {
                line = line.plain(format!(" by {}", seal.by));
            }
            vec![
                line.plain("; any later change is listed here as an amendment."),
                Line::new().plain("Checksum (SHA-256) ").bold(grouped(&seal.checksum)),
            ]
        }
        None => vec![Line::new().bold("Draft. ").plain(
            "The record is not sealed yet: figures can still change without a trace in this report.",
        )],
    };
    blocks.push(Block::new("The record behind it", Body::Text { paragraphs: seal, large: false }));
    if !report.amendments.is_empty() {
        let mut table = Table::new(vec![
            Column::left("Day").wide(90.0),
            Column::left("by").wide(90.0),
            Column::left("why"),
        ]);
        for amendment in &report.amendments {
            table.row(vec![
                words::date(amendment.date).into(),
                amendment.by.as_str().into(),
                amendment.reason.as_str().into(),
            ]);
        }
        blocks.push(Block::new("Amendments", Body::Table(table)));
    }
    blocks.push(Block::new("Before you act on it", Body::Text {
        paragraphs: vec![
            "Herbicide is put in the water only by licensed applicators and only under a permit. Ask \
             the agency that manages the lake first."
                .into(),
            "Pulled or cut plants can spread by fragments. Drain, clean and dry boats and gear between \
             waters. Some native plants are protected by law."
                .into(),
        ],
        large: false,
    }));
    Section {
        name: "trust",
        question: "How far can these figures be trusted?".to_owned(),
        answer: Line::new().bold(words::count(report.counts.sampled, "site", "sites")).plain(
            format!(
                ", {} each: read every figure with its interval.",
                words::count(u64::from(report.method.throws), "throw", "throws")
            ),
        ),
        blocks,
    }
}

pub(super) fn appendix(report: &SurveyReport, look: &Look<'_>) -> Section {
    let mut table = Table::new(vec![
        Column::left("Site").wide(40.0),
        Column::left("zone").wide(34.0),
        Column::right("depth").more(look.units.depth_unit()).wide(36.0),
        Column::left("bottom").wide(54.0),
        Column::left("plants and ratings"),
        Column::left("outcome, note").wide(128.0),
    ]);
    for site in &report.sites {
        let mut plants = Line::new();
        for (index, seen) in site.found.iter().enumerate() {
            let Some(taxon) = report.taxa.get(seen.taxon) else { continue };
            let rating = match seen.how {
                HowSeen::Rake { step } if report.scale.steps.len() > 1 => report
                    .scale
                    .steps
                    .get(usize::from(step).saturating_sub(1))
                    .map_or_else(String::new, |step| format!("\u{a0}{}", step.code)),
                HowSeen::Rake { .. } => String::new(),
                HowSeen::Visual => "\u{a0}seen".to_owned(),
            };
            plants = plants
                .plain(if index == 0 { "" } else { ", " })
                .plain(format!("{}{rating}", taxon.code));
        }
        let mut outcome = match &site.outcome {
            SiteOutcome::Sampled { with_plants: false } => "nothing came up".to_owned(),
            SiteOutcome::Sampled { with_plants: true } if site.found.is_empty() => {
                "plants, not named".to_owned()
            }
            SiteOutcome::Sampled { with_plants: true } => String::new(),
            SiteOutcome::NotSampled(reason) => format!("not sampled: {reason}"),
            SiteOutcome::NotVisited => "not visited".to_owned(),
        };
        if !site.note.is_empty() {
            if !outcome.is_empty() {
                outcome.push_str("; ");
            }
            outcome.push_str(&site.note);
        }
        table.row(vec![
            Line::new().bold(&site.code).into(),
            site.zone.as_str().into(),
            site.depth
                .map_or_else(String::new, |depth| decimals(look.units.depth_value(depth), 1))
                .into(),
            site.bottom.as_str().into(),
            plants.into(),
            outcome.into(),
        ]);
    }
    Section {
        name: "sites",
        question: "What was recorded at each site?".to_owned(),
        answer: Line::new()
            .plain("All ")
            .bold(words::count(report.sites.len() as u64, "site", "sites"))
            .plain(", reached or not, in the order of their codes."),
        blocks: vec![
            Block::new("", Body::Table(table))
                .notes(vec![
                    Note {
                        key: None,
                        text: Line::new().bold("Codes ").then(codes(report)).plain("."),
                    },
                    Note { key: None, text: ratings(report) },
                ])
                .wide(),
        ],
    }
}

/// A checksum in groups of eight, so that it can break across lines and be read aloud.
fn grouped(checksum: &str) -> String {
    let letters: Vec<char> = checksum.chars().collect();
    letters.chunks(8).map(|part| part.iter().collect::<String>()).collect::<Vec<_>>().join(" ")
}

fn ratings(report: &SurveyReport) -> Line {
    let mut line = Line::new().bold("Ratings ");
    for (index, step) in report.scale.steps.iter().enumerate() {
        line = line
            .plain(if index == 0 { "" } else { "; " })
            .bold(&step.code)
            .plain(format!(" {}", step.name));
    }
    line.plain(".")
}
