//! `surveys`, `findings`, `compare`.

use super::{one_survey, read};
use crate::cli::{BookArgs, CompareArgs, SurveyArgs};
use crate::output::{self, Answer};
use crate::table::Table;
use units::{Metres, decimals, percent, percent_whole};
use workflow::Result;
use workflow::views::{CompareView, FindingsView, FrequencyView, TaxonChangeView};

pub(crate) fn surveys(args: &BookArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let surveys = workflow::surveys::surveys(&book)?;
    if args.json {
        output::json(&surveys)?;
        return Ok(Answer::Done);
    }
    let mut table = Table::new(&[
        "survey", "from", "to", "method", "scale", ">planned", ">visited", ">sampled", "seal",
    ]);
    for one in &surveys {
        table.row(vec![
            one.name.clone(),
            one.start.clone().unwrap_or_default(),
            one.end.clone().unwrap_or_default(),
            one.method.clone(),
            one.scale.clone(),
            one.planned.to_string(),
            one.visited.to_string(),
            one.sampled.to_string(),
            one.seal
                .as_ref()
                .map(|seal| format!("{} by {}", &seal.at[..10.min(seal.at.len())], seal.by))
                .unwrap_or_default(),
        ]);
    }
    output::data(&table.text());
    Ok(Answer::Done)
}

/// `18 of 89 (20 %, 13–30)`.
fn share(of: &FrequencyView) -> String {
    match (of.p, of.low, of.high) {
        (Some(p), Some(low), Some(high)) => format!(
            "{} of {} ({} %, {}–{})",
            of.k,
            of.n,
            percent(p),
            percent_whole(low),
            percent_whole(high)
        ),
        _ => format!("{} of {}", of.k, of.n),
    }
}

pub(super) fn number(value: Option<f64>, places: usize) -> String {
    value.map_or_else(|| "–".to_owned(), |value| decimals(value, places))
}

/// Points of per cent, whole.
pub(super) fn points(value: f64) -> String {
    decimals(100.0 * value, 0)
}

pub(crate) fn findings(args: &SurveyArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let view = workflow::findings::findings_view(&book, &args.survey)?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    let units = book.lake()?.units;
    output::data(&summary(&view, units));
    let mut table = Table::new(&[
        "code",
        "species",
        "origin",
        ">all sampled",
        ">littoral",
        ">with plants",
        ">relative %",
        ">mean rating",
        ">seen",
        ">deepest",
    ]);
    let cell = |of: &FrequencyView| {
        of.p.map_or_else(|| "–".to_owned(), |p| format!("{} of {} {:>5} %", of.k, of.n, percent(p)))
    };
    for taxon in &view.taxa {
        let name =
            if taxon.common_name.is_empty() { &taxon.scientific_name } else { &taxon.common_name };
        table.row(vec![
            taxon.code.clone(),
            name.clone(),
            taxon.origin.clone(),
            cell(&taxon.frequency.all),
            cell(&taxon.frequency.littoral),
            cell(&taxon.frequency.vegetated),
            taxon.relative_frequency.map_or_else(|| "–".to_owned(), percent),
            number(taxon.mean_rating, 2),
            taxon.visuals.to_string(),
            taxon
                .max_depth_m
                .map_or_else(|| "–".to_owned(), |depth| units.depth(Metres::new(depth))),
        ]);
    }
    if !view.taxa.is_empty() {
        output::data("");
        output::data(&table.text());
    }
    for part in one_survey::parts(&view, units) {
        output::data("");
        output::data(&part);
    }
    output::warnings(&view.notes);
    Ok(Answer::Done)
}

fn summary(view: &FindingsView, units: units::UnitSystem) -> String {
    let mut table = Table::new(&["figure", ">value", "of what"]);
    let mut row =
        |name: &str, value: String, of: &str| table.row(vec![name.into(), value, of.into()]);
    let sites = &view.sites;
    row("sites planned", sites.planned.to_string(), "");
    row("sites visited", sites.visited.to_string(), "");
    row("sites sampled", sites.sampled.to_string(), "");
    for (reason, count) in &sites.not_sampled {
        row("  not sampled", count.to_string(), reason);
    }
    row("sites with plants", sites.vegetated.to_string(), "on the rake");
    row(
        "deepest plant",
        view.max_plant_depth_m
            .map_or_else(|| "–".to_owned(), |depth| units.depth(Metres::new(depth))),
        "on the rake",
    );
    row("any plant", share(&view.frequency_any.all), "all sampled sites; 95 % Wilson");
    row("any plant", share(&view.frequency_any.littoral), "sites no deeper than the deepest plant");
    let per = &view.species_per_site;
    row("species a site", number(per.littoral_mean, 2), "littoral sites");
    row("species a site", number(per.vegetated_mean, 2), "sites with plants");
    row("native species a site", number(per.native_littoral_mean, 2), "littoral sites");
    row(
        "native species a site",
        number(per.native_where_native_mean, 2),
        "sites with native plants",
    );
    let rich = &view.richness;
    row("species on the rake", rich.rake.to_string(), "");
    row("  and only seen", rich.with_visuals.to_string(), "");
    row("  and on the shore", rich.with_shoreline.to_string(), "");
    if let Some(chao) = &rich.chao2 {
        row(
            "species, with those missed",
            format!(
                "{} ({}–{})",
                decimals(chao.value, 1),
                decimals(chao.low, 0),
                decimals(chao.high, 0)
            ),
            "at least; Chao2, 95 %",
        );
    }
    for (name, one) in [("  jackknife 1", &rich.jackknife1), ("  jackknife 2", &rich.jackknife2)] {
        if let Some(one) = one {
            row(
                name,
                format!("{} ± {}", decimals(one.value, 1), decimals(one.se, 1)),
                &format!("standard error of {}", one.method),
            );
        }
    }
    if let Some(coverage) = rich.coverage {
        row(
            "coverage",
            format!("{} %", percent(coverage)),
            "finds in the lake that are of species found",
        );
    }
    row("Simpson 1 − Σp²", number(view.simpson, 3), "relative frequencies");
    if let Some(one) = &view.diversity {
        row("Shannon", number(Some(one.shannon), 3), "relative frequencies, natural logarithm");
        row("inverse Simpson", number(Some(one.inverse_simpson), 2), "relative frequencies");
        row("evenness", number(one.evenness, 3), "Shannon over the logarithm of species");
    }
    if let Some(share) = view.missed_at_most {
        row(
            "not found may stand at",
            format!("{} %", percent(share)),
            "of places at most (95 %), if the rake never misses",
        );
    }
    if let Some(quality) = &view.floristic_quality {
        row("native species with C", quality.n.to_string(), &quality.c_table);
        row("mean C", number(Some(quality.mean_c), 2), "");
        row("floristic quality", number(Some(quality.fqi), 2), "mean C × √n");
    }
    format!("{}, scale {}\n\n{}", view.survey, view.scale, table.text())
}

pub(crate) fn compare(args: &CompareArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let view = workflow::findings::compare_view(
        &book,
        &args.from,
        &args.to,
        workflow::findings::USUAL_SEED,
    )?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::data(&comparison(&view));
    Ok(Answer::Done)
}

fn comparison(view: &CompareView) -> String {
    let mut text = String::new();
    if !view.warnings.is_empty() {
        text.push_str("First, what differs between the two surveys\n");
        for warning in &view.warnings {
            text.push_str(&format!("  {}\n", warning.message));
        }
        text.push('\n');
    }
    let design = match view.pairs {
        Some(pairs) => format!("the same {pairs} sites both times"),
        None => "different sites".to_owned(),
    };
    text.push_str(&format!("{} → {}: {design}\n\n", view.from.survey, view.to.survey));
    let mut table = Table::new(&[
        "code",
        "species",
        ">before",
        ">after",
        ">points",
        ">interval",
        "test",
        ">p",
        ">adjusted",
        ">smallest seen",
        "it says",
    ]);
    for one in std::iter::once(&view.any).chain(&view.taxa) {
        table.row(change_row(one));
    }
    text.push_str(&table.text());
    if !view.sentences.is_empty() {
        text.push('\n');
        for sentence in &view.sentences {
            text.push_str(&format!("{sentence}\n"));
        }
    }
    for part in super::two_surveys::parts(view) {
        text.push_str(&format!("\n{part}"));
    }
    text
}

fn change_row(one: &TaxonChangeView) -> Vec<String> {
    let p = |value: Option<f64>| match value {
        Some(value) if value < 0.0001 => "<0.0001".to_owned(),
        value => number(value, 4),
    };
    vec![
        one.code.clone(),
        if one.common_name.is_empty() {
            one.scientific_name.clone()
        } else {
            one.common_name.clone()
        },
        format!("{} of {}", one.from.k, one.from.n),
        format!("{} of {}", one.to.k, one.to.n),
        one.difference.as_ref().map_or_else(|| "–".to_owned(), |d| points(d.value)),
        one.difference
            .as_ref()
            .map_or_else(|| "–".to_owned(), |d| format!("{} to {}", points(d.low), points(d.high))),
        one.test.clone(),
        p(one.p),
        p(one.p_adjusted),
        one.detectable.map_or_else(|| "–".to_owned(), points),
        one.verdict.clone(),
    ]
}
