//! The species tables and floristic quality.

use super::Look;
use super::blocks::{Block, Body, Column, Note, Pictures, Section, Table};
use super::cover::{frequency_table, name, plain_name};
use super::input::{FloristicQuality, Origin, SurveyReport, TaxonFinding};
use super::text::{Line, in_table, of_sites, whole};
use crate::words;
use units::decimals;

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
